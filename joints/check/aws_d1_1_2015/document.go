// Package awsd112015 holds what was read in AWS D1.1:2015: the notes of the
// prequalified joint details.
package awsd112015

import (
	"fay/joints"
	"fay/joints/check"
)

// Document is AWS D1.1:2015 for prequalified joints.
var Document = check.Document{
	ID:    "aws-d1.1-2015/prequalified",
	Title: "AWS D1.1:2015, prequalified joints",
	Scope: []string{"steel"},
	Rules: []check.Rule{reinforcingFillet},
}

// Figure 3.3, notes: grooves in T and corner joints are reinforced with fillets
// of t1/4 that need not exceed 3/8 in (10 mm). Read in
// vi.scribd.com/document/348481887 (primary).
const parts = 4

var filletMost = check.Pair(10, 3.0/8)

var reinforcingFillet = check.Rule{
	ID:         "aws-d1.1-2015/prequalified/reinforcing-fillet",
	Title:      "Reinforcing fillet on a groove in a T or corner joint",
	Source:     check.Source{Document: "AWS D1.1", Edition: "2015", Clause: "Fig. 3.3, notes"},
	Provenance: check.Primary,
	Read:       "vi.scribd.com/document/348481887",
	Doc: "The shorter leg of the fillet on the groove against a quarter of the prepared, abutting member's thickness, " +
		"and not more than the printed size.",
	Values: check.Table{Columns: []string{"smallest leg"}, Rows: [][]string{{"t1/4, need not exceed " + filletMost.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Each(to, func(w *joints.Weld) check.Finding {
			if f.Butts() || w.Dihedral == 0 {
				return check.Inapplicable("speaks of grooves in T and corner joints")
			}
			t := f.Thickness(w.Feet[1].Member)
			least := min(t/parts, filletMost.Of(f))
			leg := min(w.Feet[0].Leg, w.Feet[1].Leg) // 0 where the groove is flush
			finding := check.Compare(float64(leg), check.AtLeast, float64(least), joints.UnitMM)
			if !f.Brief {
				finding.Step("z_min = min(t_"+f.Name(w, 1)+"/4, "+filletMost.Show(f)+")", "t_"+f.Name(w, 1)+" = "+f.Show(t), "z_min = "+f.Show(least))
				finding.Step("z ≥ z_min", f.Show(leg)+" ≥ "+f.Show(least), string(finding.Verdict))
			}
			if finding.Verdict == check.NotMet {
				finding.Mend = "a reinforcing fillet with legs of at least " + f.ShowAtLeast(least)
			}
			return finding
		}, joints.GrooveWeld)
	},
}
