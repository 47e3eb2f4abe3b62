// Package europe holds transition slopes of unequal butt joints that European
// rules use, from memory: 1 in 4 for fatigue details, 1 in 3 in hull and pressure
// rules.
package europe

import (
	"strconv"

	"fay/joints/check"
	"fay/joints/check/clause"
)

// Documents with one slope each, from memory, unverified.
var (
	Fatigue  = document("europe-transition/1-in-4", 4, "fatigue details")
	Pressure = document("europe-transition/1-in-3", 3, "hull and pressure rules")
)

func document(id string, slope float64, use string) check.Document {
	n := strconv.FormatFloat(slope, 'f', -1, 64)
	return check.Document{
		ID:    id,
		Title: "European transitions of 1 in " + n + ", " + use,
		Rules: []check.Rule{{
			ID:         id + "/slope",
			Title:      "Transition of unequal butting parts, 1 in " + n,
			Source:     check.Source{Document: "European " + use, Edition: "not on file", Clause: "transition of thickness"},
			Provenance: check.Memory,
			Read:       "from memory, unverified",
			Doc:        "The run of the taper over the height of the step, against " + n + ", on every side where a member stands proud.",
			Values:     check.Table{Columns: []string{"run over rise, at least"}, Rows: [][]string{{n}}},
			Check:      func(f *check.Facts, to []check.Finding) []check.Finding { return clause.Transition(f, to, slope, nil) },
		}},
	}
}
