package aisc36016

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// J2.2b, least effective length: 4 × leg, or else the size counted is a quarter
// of the length. Read in scribd.com/document/380231435 (primary); the same in
// AWS D1.1:2010 2.4.2.3, scribd.com/document/338173238.
var effectiveLength = check.Rule{
	ID:         "aisc-360-16/J2.2b-length",
	Title:      "Smallest effective length",
	Source:     source("J2.2b, minimum length"),
	Provenance: check.Primary,
	Read:       readJ2,
	Doc:        "The length of one run against four times the longer leg. A shorter weld counts with a quarter of its length as its leg.",
	Values:     check.Table{Columns: []string{"smallest length"}, Rows: [][]string{{"4 × leg"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return clause.MinimumLength(f, w) })
	},
}
