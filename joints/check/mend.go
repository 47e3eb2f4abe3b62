package check

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// LargerLegs is the remedy of legs under least: the leg to lay, or, where the
// edge of a member is too low for it, no remedy and the reason.
func (f *Facts) LargerLegs(w *joints.Weld, least geometry.Length) (mend, note string) {
	for i := range w.Feet {
		if foot := &w.Feet[i]; foot.EdgeRemaining.Present && foot.Leg+foot.EdgeRemaining.Value < f.RoundUp(least)*(1-slack) {
			return "", "the edge of the " + f.Name(w, i) + " is too low for a leg of " + f.ShowAtLeast(least)
		}
	}
	return "a leg of at least " + f.ShowAtLeast(least) + " on both members", ""
}

// reach is how far beyond the corner across the gap a leg must end at least.
const reach = 1.1

// ShorterLegs is the remedy of legs over most, or, where a leg that short would
// not reach across the gap, no remedy and the reason.
func (f *Facts) ShorterLegs(w *joints.Weld, most geometry.Length) (mend, note string) {
	if f.RoundDown(most) <= reach*Corner(w) || f.RoundDown(most) < geometry.Length(joints.LegRange.Min) {
		return "", "no leg of at most " + f.Show(most) + " reaches across the gap"
	}
	return "legs of at most " + f.ShowAtMost(most), ""
}

// closer is the remedy of a gap over most. Under a skewed member cut square the
// gap is mostly a wedge, which only another cut closes; and an edge comes down
// with the gap, so that a leg may have to follow.
func (f *Facts) closer(w *joints.Weld, most geometry.Length) string {
	return f.CloserGap(w, f.RoundDown(most), f.ShowAtMost(most))
}

// CloserGap is the remedy of a gap over most, which is printed as shown. It is
// empty where the gap is the wedge under a prepared member: a cut to fit would
// take the preparation away.
func (f *Facts) CloserGap(w *joints.Weld, most geometry.Length, shown string) string {
	mend := "a gap of at most " + shown
	for i := range f.Section.Measures {
		if m := &f.Section.Measures[i]; strings.HasSuffix(m.Name, "wedge gap") && m.Value == float64(w.Gap) {
			for j := range f.Section.Welds {
				if f.Section.Welds[j].Kind == joints.GrooveWeld {
					return ""
				}
			}
			mend += " with the end of the " + f.Name(w, 1) + " cut to fit the " + f.Name(w, 0)
			break
		}
	}
	edge := w.Feet[1]
	if w.Feet[0].OnEdge && edge.OnEdge {
		return mend + ", with the legs to fit" // the outside of a corner closes with its gap
	}
	if down := w.Gap - most; edge.EdgeRemaining.Present && edge.EdgeRemaining.Value < down {
		mend += " and a leg of at most " + f.ShowAtMost(edge.Leg+edge.EdgeRemaining.Value-down) + " on the edge of the " + f.Name(w, 1)
	}
	return mend
}

// Corner is how far along its surface the corner of the abutting member stands
// from the intersection of the surfaces, across the gap: the part of the leg on
// that member that bridges the gap.
func Corner(w *joints.Weld) geometry.Length {
	return geometry.Length(w.RootCorner.Dist(w.JointRoot))
}

// LegForThroat is the leg of an equal fillet in the place of w whose effective
// throat is a, the gap and a face hollow by so much counted, and no penetration.
func LegForThroat(w *joints.Weld, a, hollow geometry.Length) geometry.Length {
	return (a+hollow)/geometry.Length((w.Dihedral/2).Cos()) + Corner(w)
}

// GapForThroat is the gap at which the effective throat of w, with its legs as
// they are, has shrunk to a. Present only for a flat or convex face without
// proven penetration, where the throat is the distance from the corner of the
// abutting member to the chord.
func GapForThroat(w *joints.Weld, a geometry.Length) joints.Opt {
	if w.Kind != joints.FilletWeld || w.Convexity < 0 || w.Proven {
		return joints.Opt{}
	}
	z0, z1, sin := float64(w.Feet[0].Leg), float64(w.Feet[1].Leg), w.Dihedral.Sin()
	chord := math.Sqrt(z0*z0 + z1*z1 - 2*z0*z1*w.Dihedral.Cos())
	// Distance from a point at s along surface 1 to the chord: (z1 − s)·z0·sin ψ/chord.
	s := z1 - float64(a)*chord/(z0*sin)
	if s < 0 {
		return joints.Opt{}
	}
	return joints.Some(geometry.Length(s * sin))
}
