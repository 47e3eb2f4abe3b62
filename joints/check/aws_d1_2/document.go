// Package awsd12 holds the smallest fillet legs of AWS D1.2, from memory alone. They
// are compared and marked, and never fail a joint.
package awsd12

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Document is AWS D1.2 as far as it is remembered.
var Document = check.Document{
	ID:    "aws-d1.2/minimum-leg",
	Title: "AWS D1.2, smallest legs from memory",
	Scope: []string{"aluminium"},
	Rules: []check.Rule{minimumLeg},
}

// Minimum size of fillets in aluminium: legs of 1/8, 3/16, 1/4 and 5/16 in, as in
// the table for steel, from memory with low confidence, unverified. The
// millimetres beside them, and the thicknesses that the steps end at, are taken
// over from there too.
var table = clause.LegTable{
	Name: "table of minimum fillet sizes",
	Steps: []clause.Step{
		{UpTo: check.Pair(6, 1.0/4), Leg: check.Pair(3, 1.0/8)},
		{UpTo: check.Pair(13, 1.0/2), Leg: check.Pair(5, 3.0/16)},
		{UpTo: check.Pair(19, 3.0/4), Leg: check.Pair(6, 1.0/4)},
		{Leg: check.Pair(8, 5.0/16)},
	},
	Basis: func(*check.Facts) (clause.Basis, string) {
		return clause.NotKnown, "which part the table is entered with is not on file"
	},
}

var minimumLeg = check.Rule{
	ID:         "aws-d1.2/minimum-leg/leg",
	Title:      "Smallest leg, from memory",
	Source:     check.Source{Document: "AWS D1.2", Edition: "not on file", Clause: "minimum size of fillet welds"},
	Provenance: check.Memory,
	Read:       "from memory, unverified, low confidence",
	Doc: "The shorter leg against the least size by thickness. Whether the thinner or the thicker part counts is not on file: " +
		"a leg is judged only where both say the same.",
	Values: table.Values("part that counts"),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return table.Check(f, w) })
	},
}
