package iso58172014

import (
	"fmt"
	"math"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// No. 512, excessive asymmetry of a fillet: difference of the legs
// h ≤ base + factor·a, a the throat. Level D read in EN 25817:1992, scribd
// 445864602; level C in a sheet, scribd 253871562; level B in scribd 99588384
// and pdfcoffee …limits-for-imperfections-iso-5817 (all secondary).
var asymmetryLimits = []limit{
	{LevelB, 1.5, 0.15, 0},
	{LevelC, 2, 0.15, 0},
	{LevelD, 2, 0.2, 0},
}

func asymmetry(l Level) check.Rule {
	row := at(asymmetryLimits, l)
	formula := fmt.Sprintf("h_max = %v mm + %v·a", row.base, row.factor)
	return check.Rule{
		ID:         ruleID(l, "512"),
		Title:      "Excessive asymmetry of a fillet, level " + string(l),
		Source:     source(l, "512"),
		Provenance: check.Secondary,
		Read:       "EN 25817:1992 (scribd 445864602), sheets for levels B and C (scribd 99588384, 253871562); the 2014 edition's row was not seen",
		Doc: "The difference of the two legs against a limit that grows with the theoretical throat. " +
			"The row is meant for legs that came out unequal, not for unequal legs asked for on the drawing.",
		Values: check.Table{
			Columns: []string{"level", "largest difference of legs h, mm"},
			Rows:    [][]string{{string(l), fmt.Sprintf("%v + %v·a", row.base, row.factor)}},
		},
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return fillets(f, to, func(w *joints.Weld) check.Finding { return checkAsymmetry(f, w, row, formula) })
		},
	}
}

func checkAsymmetry(f *check.Facts, w *joints.Weld, row limit, formula string) check.Finding {
	legs, made := [2]geometry.Length{w.Feet[0].Leg, w.Feet[1].Leg}, false
	if m, ok := f.Measured[w.ID]; ok {
		for i := range legs {
			if m.Legs[i].Present {
				legs[i], made = m.Legs[i].Value, true
			}
		}
	}
	long, short := 0, 1
	if legs[1] > legs[0] {
		long, short = 1, 0
	}
	h := legs[long] - legs[short]
	most := geometry.Length(row.of(float64(w.TheoreticalThroat)))
	finding := check.Compare(float64(h), check.AtMost, float64(most), joints.UnitMM)
	if !f.Brief {
		finding.Step("h = |z_"+f.Name(w, 0)+" − z_"+f.Name(w, 1)+"|",
			"|"+f.Show(legs[0])+" − "+f.Show(legs[1])+"|", "h = "+f.Show(h))
		finding.Step(formula, "a = "+f.Show(w.TheoreticalThroat), "h_max = "+f.Show(most))
		finding.Step("h ≤ h_max", f.Show(h)+" ≤ "+f.Show(most), string(finding.Verdict))
	}
	switch {
	case made:
		finding.AddNote("measured")
	case finding.Verdict == check.NotMet:
		finding.Mend = evenLegs(f, w, long, row)
	}
	if finding.Verdict == check.NotMet {
		finding.AddNote("does not apply where the drawing asks for unequal legs")
	}
	return finding
}

// evenLegs is the remedy: a shorter long leg or, where a gap makes that too
// short to reach the abutting member, a longer short one. The throat is
// taken low, as that of the flat triangle less the whole of a concave rise.
func evenLegs(f *check.Facts, w *joints.Weld, long int, row limit) string {
	short := 1 - long
	hollow := max(0, -float64(w.Convexity))
	sin, cos := math.Sin(float64(w.Dihedral)), math.Cos(float64(w.Dihedral))
	meets := func(a, b float64) bool {
		throat := a * b * sin / math.Sqrt(a*a+b*b-2*a*b*cos)
		return a-b <= row.of(max(0, throat-hollow))
	}
	z := float64(w.Feet[short].Leg)
	largest := turning(z, float64(w.Feet[long].Leg), func(leg float64) bool { return meets(leg, z) })
	if long == 0 || largest > reach*w.RootCorner.Dist(w.JointRoot) {
		return "a leg of at most " + f.ShowAtMost(geometry.Length(largest)) + " on the " + f.Name(w, long)
	}
	z = float64(w.Feet[long].Leg)
	smallest := turning(z, float64(w.Feet[short].Leg), func(leg float64) bool { return meets(z, leg) })
	return "a leg of at least " + f.ShowAtLeast(geometry.Length(smallest)) + " on the " + f.Name(w, short)
}

// reach is how far beyond the corner across the gap a leg must end at least, as
// a multiple: enough to stay beyond it when rounded down.
const reach = 1.25

// turning is the last value on the way from yes, where ok holds, to no, where
// it does not.
func turning(yes, no float64, ok func(float64) bool) float64 {
	for range 45 {
		if mid := (yes + no) / 2; ok(mid) {
			yes = mid
		} else {
			no = mid
		}
	}
	return yes
}
