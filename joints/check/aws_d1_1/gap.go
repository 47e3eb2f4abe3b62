package awsd11

import (
	"slices"

	"fay/joints"
	"fay/joints/check"
)

// Assembly clause for fillet welds, reported at
// app.aws.org/forum/topic_show.pl?pid=287661 and ?tid=20460 (secondary): up to
// 1/16 in (2 mm) the leg stays, above that it grows by the gap or the throat is
// proved; 3/16 in (5 mm) at most. The wider limit of 5/16 in (8 mm) for
// material of 3 in (75 mm) and more with backing lies beyond the gaps that a
// joint takes.
var (
	gapFree = check.Pair(2, 1.0/16)
	gapMost = check.Pair(5, 3.0/16)
)

const (
	clause = "assembly, gaps of fillet welds"
	read   = "app.aws.org/forum/topic_show.pl?pid=287661 and ?tid=20460"
)

var gapMaximum = check.Rule{
	ID:         "aws-d1.1-reported/gap-maximum",
	Title:      "Largest gap under a fillet",
	Source:     source(clause),
	Provenance: check.Secondary,
	Read:       read,
	Doc:        "The gap between the members at the weld against the widest that a fillet may bridge.",
	Values:     check.Table{Columns: []string{"largest gap"}, Rows: [][]string{{gapMost.String()}}},
	Check: func(f *check.Facts) []check.Finding {
		return f.Fillets(func(w *joints.Weld) check.Finding {
			finding := check.Compare(float64(w.Gap), check.AtMost, float64(gapMost.Of(f)), joints.UnitMM)
			finding.Step("g ≤ g_max", f.Show(w.Gap)+" ≤ "+gapMost.Show(f), string(finding.Verdict))
			if finding.Verdict == check.NotMet {
				finding.Mend = closerGap(f, w, gapMost)
			}
			return finding
		})
	},
}

var gapAllowance = check.Rule{
	ID:         "aws-d1.1-reported/gap",
	Title:      "Leg increased by the gap",
	Source:     source(clause),
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
	Check: func(f *check.Facts) []check.Finding {
		return f.Fillets(func(w *joints.Weld) check.Finding { return checkAllowance(f, w) })
	},
}

func checkAllowance(f *check.Facts, w *joints.Weld) check.Finding {
	free := check.Compare(float64(w.Gap), check.AtMost, float64(gapFree.Of(f)), joints.UnitMM)
	free.Step("g ≤ g_free", f.Show(w.Gap)+" ≤ "+gapFree.Show(f), string(free.Verdict))
	switch {
	case free.Verdict == check.Met:
		return free
	case !f.DrawingLeg.Present:
		finding := check.Unknown("the leg must be the drawing's leg + " + f.ShowAtLeast(w.Gap) + ", and the drawing's leg is not stated")
		finding.Step("g > g_free", f.Show(w.Gap)+" > "+gapFree.Show(f), "z_min = z_drawing + "+f.Show(w.Gap))
		return finding
	}
	leg := min(w.Feet[0].Leg, w.Feet[1].Leg)
	least := f.DrawingLeg.Value + w.Gap
	finding := check.Compare(float64(leg), check.AtLeast, float64(least), joints.UnitMM)
	finding.Step("z_min = z_drawing + g for g > g_free",
		f.Show(f.DrawingLeg.Value)+" + "+f.Show(w.Gap)+" for "+f.Show(w.Gap)+" > "+gapFree.Show(f), "z_min = "+f.Show(least))
	finding.Step("z = min(z_"+f.Name(w, 0)+", z_"+f.Name(w, 1)+") ≥ z_min", f.Show(leg)+" ≥ "+f.Show(least), string(finding.Verdict))
	if finding.Verdict == check.NotMet {
		finding.Mend = closerGap(f, w, gapFree)
		if edge := w.Feet[1]; edge.EdgeRemaining.Present && edge.Leg+edge.EdgeRemaining.Value < f.RoundUp(least) {
			finding.AddNote("the edge of the " + f.Name(w, 1) + " is too low for a leg of " + f.ShowAtLeast(least))
		} else {
			finding.Mend = "a leg of at least " + f.ShowAtLeast(least) + " on both members, or " + finding.Mend
		}
		finding.AddNote("or prove the throat")
	}
	if w.Gap > gapMost.Of(f) {
		finding.AddNote("the gap is wider than the rule goes: " + gapMost.Show(f))
	}
	return finding
}

// closerGap is the remedy of a gap over most. Under a skewed member cut square
// the gap is mostly a wedge, which only another cut closes; and an edge comes
// down with the gap, so that a leg may have to follow.
func closerGap(f *check.Facts, w *joints.Weld, most check.Printed) string {
	mend := "a gap of at most " + most.Show(f)
	isWedge := func(m joints.Measure) bool { return m.Name == "wedge gap" && m.Value == float64(w.Gap) }
	if slices.ContainsFunc(f.Section.Measures, isWedge) {
		mend += " with the end of the " + f.Name(w, 1) + " cut to fit the " + f.Name(w, 0)
	}
	edge := w.Feet[1]
	if down := w.Gap - most.Of(f); edge.EdgeRemaining.Present && edge.EdgeRemaining.Value < down {
		mend += " and a leg of at most " + f.ShowAtMost(edge.Leg+edge.EdgeRemaining.Value-down) + " on the edge of the " + f.Name(w, 1)
	}
	return mend
}
