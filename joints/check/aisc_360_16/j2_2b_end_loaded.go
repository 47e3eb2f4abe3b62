package aisc36016

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// J2.2b, end-loaded fillets: up to 100 legs the whole length counts, from there
// to 300 legs β = 1.2 − 0.002·L/w of it, beyond that 180 legs. Read in
// scribd.com/document/380231435 and, as AWS D1.1:2010, in
// scribd.com/document/338173238 (primary).
var endLoaded = check.Rule{
	ID:         "aisc-360-16/J2.2b-end-loaded",
	Title:      "Length that counts of an end-loaded fillet",
	Source:     source("J2.2b, end-loaded fillet welds"),
	Provenance: check.Primary,
	Read:       readJ2,
	Doc: "The length of one run against a hundred times the shorter leg. A longer weld is no fault: " +
		"less than its length counts when it is loaded at its ends, and the finding says how much.",
	Values: clause.EndLoadedValues(),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return clause.EndLoaded(f, w) })
	},
}
