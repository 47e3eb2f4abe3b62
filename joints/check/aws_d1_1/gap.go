package awsd11

import (
	"fay/joints"
	"fay/joints/check"
)

// Assembly clause for fillet welds, reported at
// app.aws.org/forum/topic_show.pl?pid=287661 and ?tid=20460 (secondary): up to
// 1/16 in (2 mm) the leg stays, above that it grows by the gap or the throat is
// proved; 3/16 in (5 mm) at most, or 5/16 in (8 mm) for material of 3 in (75 mm)
// and more with backing. The millimetres are from memory.
var (
	gapFree  = check.Pair(2, 1.0/16)
	gapMost  = check.Pair(5, 3.0/16)
	gapHeavy = check.Pair(8, 5.0/16)
	heavy    = check.Pair(75, 3)
)

const (
	gapClause = "assembly, gaps of fillet welds"
	read      = "app.aws.org/forum/topic_show.pl?pid=287661 and ?tid=20460"
)

var gapMaximum = check.Rule{
	ID:         "aws-d1.1-reported/gap-maximum",
	Title:      "Largest gap under a fillet",
	Source:     source(gapClause),
	Provenance: check.Secondary,
	Read:       read,
	Doc:        "The gap between the members at the weld against the widest that a fillet may bridge.",
	Values: check.Table{Columns: []string{"material", "largest gap"}, Rows: [][]string{
		{"any", gapMost.String()}, {"from " + heavy.String() + ", with backing", gapHeavy.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding {
			most := widest(f, w)
			finding := check.Compare(float64(w.Gap), check.AtMost, float64(most.Of(f)), joints.UnitMM)
			if !f.Brief {
				finding.Step("g ≤ g_max", f.Show(w.Gap)+" ≤ "+most.Show(f), string(finding.Verdict))
			}
			finding.GapAtMost(most.Of(f))
			if finding.Verdict == check.NotMet {
				finding.Mend = f.CloserGap(w, most.Of(f), most.Show(f))
				if finding.Mend == "" {
					finding.AddNote(check.Wedge)
				}
			}
			return finding
		})
	},
}

var gapAllowance = check.Rule{
	ID:         "aws-d1.1-reported/gap",
	Title:      "Leg increased by the gap",
	Source:     source(gapClause),
	Provenance: check.Secondary,
	Read:       read,
	Doc: "Up to the free gap the leg stays as it is. Above it, the shorter leg against the leg the drawing asks for plus the gap; " +
		"where the drawing's leg is not stated, nothing can be told. Proving the throat instead is left to the shop.",
	Values: check.Table{
		Columns: []string{"gap", "leg"},
		Rows: [][]string{
			{"up to " + gapFree.String(), "as on the drawing"},
			{"over " + gapFree.String() + " up to " + gapMost.String(), "as on the drawing + gap, or throat proved"},
		},
	},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return checkAllowance(f, w) })
	},
}

func checkAllowance(f *check.Facts, w *joints.Weld) check.Finding {
	free := check.Compare(float64(w.Gap), check.AtMost, float64(gapFree.Of(f)), joints.UnitMM)
	free.GapAtMost(gapFree.Of(f))
	if !f.Brief {
		free.Step("g ≤ g_free", f.Show(w.Gap)+" ≤ "+gapFree.Show(f), string(free.Verdict))
	}
	switch {
	case free.Verdict == check.Met:
		return free
	case !f.DrawingLeg.Present:
		finding := check.Unknown("the leg must be the drawing's leg + " + f.ShowAtLeast(w.Gap) + ", and the drawing's leg is not stated")
		if !f.Brief {
			finding.Step("g > g_free", f.Show(w.Gap)+" > "+gapFree.Show(f), "z_min = z_drawing + "+f.Show(w.Gap))
		}
		return finding
	}
	leg := min(w.Feet[0].Leg, w.Feet[1].Leg)
	least := f.DrawingLeg.Value + w.Gap
	finding := check.Compare(float64(leg), check.AtLeast, float64(least), joints.UnitMM)
	if !f.Brief {
		finding.Step("z_min = z_drawing + g for g > g_free",
			f.Show(f.DrawingLeg.Value)+" + "+f.Show(w.Gap)+" for "+f.Show(w.Gap)+" > "+gapFree.Show(f), "z_min = "+f.Show(least))
		finding.Step("z = min(z_"+f.Name(w, 0)+", z_"+f.Name(w, 1)+") ≥ z_min", f.Show(leg)+" ≥ "+f.Show(least), string(finding.Verdict))
	}
	finding.LegAtLeast(least, "")
	finding.GapAtMost(max(gapFree.Of(f), leg-f.DrawingLeg.Value))
	if finding.Verdict == check.NotMet {
		larger, note := f.LargerLegs(w, least)
		finding.Mend = f.CloserGap(w, gapFree.Of(f), gapFree.Show(f))
		switch {
		case note != "":
			finding.AddNote(note)
		case finding.Mend == "":
			finding.Mend = larger
		default:
			finding.Mend = larger + ", or " + finding.Mend
		}
		finding.AddNote("or prove the throat")
	}
	if most := widest(f, w); w.Gap > most.Of(f) {
		finding.AddNote("the gap is wider than the rule goes: " + most.Show(f))
	}
	return finding
}

// widest is the widest gap that a fillet may bridge in this joint.
func widest(f *check.Facts, w *joints.Weld) check.Printed {
	if f.Section.Backing != nil && f.Thinner(w) >= heavy.Of(f)*(1-1e-9) {
		return gapHeavy
	}
	return gapMost
}
