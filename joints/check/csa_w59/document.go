// Package csaw59 holds the smallest fillet legs of CSA W59, from memory alone. They
// are compared and marked, and never fail a joint.
package csaw59

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Document is CSA W59 as far as it is remembered.
var Document = check.Document{
	ID:    "csa-w59/minimum-leg",
	Title: "CSA W59, smallest legs from memory",
	Scope: []string{"steel"},
	Rules: []check.Rule{minimumLeg},
}

// Minimum size of fillets: 3, 5, 6, 8 mm at 6, 12, 20 mm and over, from memory,
// unverified. The standard is metric; its inch column is not on file and the
// metric values stand in its place.
var table = clause.LegTable{
	Name: "table of minimum fillet sizes",
	Steps: []clause.Step{
		{UpTo: check.Pair(6, 6/25.4), Leg: check.Pair(3, 3/25.4)},
		{UpTo: check.Pair(12, 12/25.4), Leg: check.Pair(5, 5/25.4)},
		{UpTo: check.Pair(20, 20/25.4), Leg: check.Pair(6, 6/25.4)},
		{Leg: check.Pair(8, 8/25.4)},
	},
	Basis: func(*check.Facts) (clause.Basis, string) {
		return clause.NotKnown, "which part the table is entered with is not on file"
	},
}

var minimumLeg = check.Rule{
	ID:         "csa-w59/minimum-leg/leg",
	Title:      "Smallest leg, from memory",
	Source:     check.Source{Document: "CSA W59", Edition: "not on file", Clause: "minimum size of fillet welds"},
	Provenance: check.Memory,
	Read:       "from memory, unverified",
	Doc: "The shorter leg against the least size by thickness. Whether the thinner or the thicker part counts is not on file: " +
		"a leg is judged only where both say the same.",
	Values: values(),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return table.Check(f, w) })
	},
}

// values prints the metric steps alone.
func values() check.Table {
	return check.Table{Columns: []string{"part that counts, up to", "smallest leg"},
		Rows: [][]string{{"6 mm", "3 mm"}, {"12 mm", "5 mm"}, {"20 mm", "6 mm"}, {"over", "8 mm"}}}
}
