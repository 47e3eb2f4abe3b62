package awsd11

import (
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Transition of unequal thickness in cyclically loaded butt joints: 1 in 2½,
// from memory, unverified.
const cyclicSlope = 2.5

var cyclicTransition = check.Rule{
	ID:         "aws-d1.1-reported/cyclic/transition",
	Title:      "Transition of unequal butting parts, cyclic loading",
	Source:     source("transition of thickness, cyclically loaded butt joints"),
	Provenance: check.Memory,
	Read:       fromMind,
	Doc:        "The run of the taper over the height of the step, against 2½, on every side where a member stands proud.",
	Values:     check.Table{Columns: []string{"run over rise, at least"}, Rows: [][]string{{"2.5"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return clause.Transition(f, to, cyclicSlope, nil)
	},
}
