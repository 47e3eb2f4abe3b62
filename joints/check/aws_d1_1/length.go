package awsd11

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Clauses 2.4.2.3 and 2.4.2.4 of the 2010 edition, read in a page scan, scribd
// 338173238 (primary): 4 × leg or else a quarter of the length as the leg;
// segments of 1½ in (38 mm); the reduction of end-loaded welds.
var leastSegment = check.Pair(38, 1.5)

var effectiveLength = check.Rule{
	ID:         "aws-d1.1-reported/length",
	Title:      "Smallest effective length",
	Source:     source2010("2.4.2.3"),
	Provenance: check.Primary,
	Read:       page2010,
	Doc:        "The length of one run against four times the longer leg. A shorter weld counts with a quarter of its length as its leg.",
	Values:     check.Table{Columns: []string{"smallest length"}, Rows: [][]string{{"4 × leg"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return clause.MinimumLength(f, w) })
	},
}

var intermittent = check.Rule{
	ID:         "aws-d1.1-reported/intermittent",
	Title:      "Smallest segment of an intermittent fillet",
	Source:     source2010("2.4.2.4"),
	Provenance: check.Primary,
	Read:       page2010,
	Doc:        "The length of one segment against the printed least length.",
	Values:     check.Table{Columns: []string{"smallest segment"}, Rows: [][]string{{leastSegment.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return clause.MinimumSegment(f, to, leastSegment)
	},
}

var endLoaded = check.Rule{
	ID:         "aws-d1.1-reported/end-loaded",
	Title:      "Length that counts of an end-loaded fillet",
	Source:     source2010("2.4.2, end-loaded fillet welds"),
	Provenance: check.Primary,
	Read:       page2010,
	Doc: "The length of one run against a hundred times the shorter leg. A longer weld is no fault: " +
		"less than its length counts when it is loaded at its ends, and the finding says how much.",
	Values: clause.EndLoadedValues(),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return clause.EndLoaded(f, w) })
	},
}
