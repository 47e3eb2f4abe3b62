package superseded

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Smallest fillet by the thicker part. Inches from memory, unverified. The
// metric form 3, 5, 6, 8 (to 38), 10 (to 57), 13 mm is published at
// blog.projectmaterials.com (secondary), labelled there as D1.1 and B31.3; its
// first steps, 6, 13 and 19 mm, and everything over 150 mm are not in the
// report and stand here from memory.
var table = clause.LegTable{
	Name: "superseded table by the thicker part",
	Steps: []clause.Step{
		{UpTo: check.Pair(6, 1.0/4), Leg: check.Pair(3, 1.0/8)},
		{UpTo: check.Pair(13, 1.0/2), Leg: check.Pair(5, 3.0/16)},
		{UpTo: check.Pair(19, 3.0/4), Leg: check.Pair(6, 1.0/4)},
		{UpTo: check.Pair(38, 1.5), Leg: check.Pair(8, 5.0/16)},
		{UpTo: check.Pair(57, 2.25), Leg: check.Pair(10, 3.0/8)},
		{UpTo: check.Pair(150, 6), Leg: check.Pair(13, 1.0/2)},
		{Leg: check.Pair(16, 5.0/8)},
	},
	Basis: clause.By(clause.Thicker),
}

var thickerPart = check.Rule{
	ID:         "superseded/minimum-leg/thicker-part",
	Title:      "Smallest leg by the thicker part, superseded",
	Source:     check.Source{Document: "AWS, AISC and Blodgett", Edition: "superseded editions", Clause: "minimum size of fillet welds"},
	Provenance: check.Secondary,
	Read:       "blog.projectmaterials.com for the legs in mm; inches, and parts over 150 mm, from memory, unverified",
	Doc: "The shorter leg against the least size for the thicker of the two parts. Superseded: today's tables take the thinner part " +
		"with low-hydrogen processes. The metric column is a report; the inch column is from memory and fails no joint by itself.",
	Values: table.Values("thicker part"),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding {
			finding := table.Check(f, w)
			if f.Inches() || f.Thicker(w) > table.Steps[len(table.Steps)-2].UpTo.Larger() {
				finding.Provenance = check.Memory
			}
			if finding.Required != nil && *finding.Required > float64(f.Thinner(w)) {
				finding.AddNote("that the leg need not exceed the thinner part is not in the report")
			}
			return finding
		})
	},
}
