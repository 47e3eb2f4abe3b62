package aisc36016

import (
	"fay/joints/check"
	"fay/joints/check/clause"
)

// J2.2b, least length of a segment of an intermittent fillet: 1½ in (38 mm).
// Read in scribd.com/document/380231435 (primary).
var leastSegment = check.Pair(38, 1.5)

var intermittent = check.Rule{
	ID:         "aisc-360-16/J2.2b-intermittent",
	Title:      "Smallest segment of an intermittent fillet",
	Source:     source("J2.2b, intermittent fillet welds"),
	Provenance: check.Primary,
	Read:       readJ2,
	Doc:        "The length of one segment against the printed least length. Four times the leg is asked for besides, by J2.2b-length.",
	Values:     check.Table{Columns: []string{"smallest segment"}, Rows: [][]string{{leastSegment.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return clause.MinimumSegment(f, to, leastSegment)
	},
}
