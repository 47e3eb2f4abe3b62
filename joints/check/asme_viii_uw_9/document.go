// Package uw9 holds the taper of unequal thickness of ASME section VIII, UW-9,
// from memory.
package uw9

import (
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Document is ASME section VIII, UW-9.
var Document = check.Document{
	ID:    "asme-viii/UW-9",
	Title: "ASME section VIII, UW-9",
	Scope: []string{"steel", "stainless", "nickel"},
	Rules: []check.Rule{taper},
}

// UW-9: taper of three times the offset where the difference of thickness
// exceeds the lesser of a quarter of the thinner part and 1/8 in. From memory,
// unverified; 1/8 in is taken over into mm exactly.
const (
	slope = 3
	share = 4
)

var free = check.Pair(3.175, 1.0/8)

var taper = check.Rule{
	ID:         "asme-viii/UW-9/taper",
	Title:      "Taper between unequal thicknesses, pressure vessels",
	Source:     check.Source{Document: "ASME BPVC section VIII", Edition: "not on file", Clause: "UW-9"},
	Provenance: check.Memory,
	Read:       "from memory, unverified",
	Doc:        "The run of the taper over the height of the step, against 3, where the step is more than a quarter of the thinner part or 1/8 in.",
	Values: check.Table{Columns: []string{"step", "run over rise, at least"}, Rows: [][]string{
		{"up to the lesser of t/4 and 1/8 in", "none"}, {"over", "3"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return clause.Transition(f, to, slope, func(t clause.Taper) string {
			thin := f.Thickness(f.Section.ThinnerMember())
			if most := min(thin/share, free.Of(f)); t.Step <= most*(1+1e-9) {
				return "a step of " + f.Show(t.Step) + " needs no taper"
			}
			return ""
		})
	},
}
