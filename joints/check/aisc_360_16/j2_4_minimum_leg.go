package aisc36016

import (
	"fmt"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Table J2.4, minimum size of fillet welds, by the thinner part joined. Read in
// scribd.com/document/380231435 and 123dok.com …11940603 (primary); the same
// steps in Structural Steel Designer's Handbook, table 5.6 (secondary).
var tableJ24 = []struct{ upTo, leg check.Printed }{
	{check.Pair(6, 1.0/4), check.Pair(3, 1.0/8)},
	{check.Pair(13, 1.0/2), check.Pair(5, 3.0/16)},
	{check.Pair(19, 3.0/4), check.Pair(6, 1.0/4)},
	{check.Printed{}, check.Pair(8, 5.0/16)}, // everything thicker
}

var minimumLeg = check.Rule{
	ID:         "aisc-360-16/J2.4",
	Title:      "Smallest leg by the thinner part",
	Source:     source("Table J2.4"),
	Provenance: check.Primary,
	Read:       readJ2 + "; 123dok.com …11940603",
	Doc: "The shorter leg against the least size for the thinner of the two parts joined; a single pass must lay it. " +
		"A step of the table ends at the larger of the two printed values, so that 6.35 mm (1/4 in) plate is not over 6 mm " +
		"and 13 mm plate is not over 1/2 in.",
	Values: minimumLegValues(),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return checkMinimumLeg(f, w) })
	},
}

func minimumLegValues() check.Table {
	t := check.Table{Columns: []string{"thinner part, up to", "smallest leg"}}
	for _, row := range tableJ24 {
		upTo := "over"
		if row.upTo != (check.Printed{}) {
			upTo = row.upTo.String()
		}
		t.Rows = append(t.Rows, []string{upTo, row.leg.String()})
	}
	return t
}

// stepJ24 returns the row of the table for a thickness.
func stepJ24(t geometry.Length) int {
	for i, row := range tableJ24 {
		if t <= row.upTo.Larger()*(1+1e-9) {
			return i
		}
	}
	return len(tableJ24) - 1
}

func checkMinimumLeg(f *check.Facts, w *joints.Weld) check.Finding {
	thin := f.Thinner(w)
	i := stepJ24(thin)
	row := tableJ24[i]
	leg := shorterLeg(w).Leg
	finding := check.Compare(float64(leg), check.AtLeast, float64(row.leg.Of(f)), joints.UnitMM)

	if !f.Brief {
		finding.Step("t = min(t_"+f.Name(w, 0)+", t_"+f.Name(w, 1)+")",
			"min("+f.Show(f.Thickness(w.Feet[0].Member))+", "+f.Show(f.Thickness(w.Feet[1].Member))+")", "t = "+f.Show(thin))
		finding.Step("z_min(t), Table J2.4", "t = "+f.Show(thin), "z_min = "+row.leg.Show(f)+" for "+rangeJ24(i))
		finding.Step("z = min(z_"+f.Name(w, 0)+", z_"+f.Name(w, 1)+") ≥ z_min",
			f.Show(leg)+" ≥ "+row.leg.Show(f), string(finding.Verdict))
	}

	finding.LegAtLeast(row.leg.Of(f), f.Name(w, thinnerFoot(f, w)))
	if w.Dihedral != 90*geometry.Degree {
		finding.AddNote("legs are measured along the members; a gauge reads less on a skewed joint")
	}
	if finding.Verdict != check.NotMet {
		return finding
	}
	for j := range w.Feet {
		if foot := &w.Feet[j]; foot.OnEdge && edgeLimit(f, f.Thickness(foot.Member))+standing(w, j) < row.leg.Of(f) {
			finding.AddNote(fmt.Sprintf("no leg meets this and J2.2b: the edge of the %s carries %s at most",
				f.Name(w, j), f.ShowAtMost(edgeLimit(f, f.Thickness(foot.Member))+standing(w, j))))
			return finding
		}
	}
	clause.Larger(f, w, row.leg.Of(f), &finding)
	return finding
}

// thinnerFoot returns the foot on the thinner part, the abutting one of equals.
func thinnerFoot(f *check.Facts, w *joints.Weld) int {
	if f.Thickness(w.Feet[0].Member) < f.Thickness(w.Feet[1].Member) {
		return 0
	}
	return 1
}

func rangeJ24(i int) string {
	switch {
	case i == 0:
		return "t ≤ " + tableJ24[0].upTo.String()
	case tableJ24[i].upTo == check.Printed{}:
		return "t > " + tableJ24[i-1].upTo.String()
	}
	return tableJ24[i-1].upTo.String() + " < t ≤ " + tableJ24[i].upTo.String()
}
