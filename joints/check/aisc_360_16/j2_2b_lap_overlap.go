package aisc36016

import (
	"fay/joints"
	"fay/joints/check"
)

// J2.2b, lap joints: overlap of five times the thinner part and not under 1 in
// (25 mm). Read at 123dok.com …11940603 (primary).
const thicknessesPerOverlap = 5

var leastOverlap = check.Pair(25, 1)

var lapOverlap = check.Rule{
	ID:         "aisc-360-16/J2.2b-lap",
	Title:      "Smallest overlap of a lap joint",
	Source:     source("J2.2b, lap joints"),
	Provenance: check.Primary,
	Read:       "extract at 123dok.com …11940603, edition not shown",
	Doc:        "The overlap against five times the thinner plate, and against the printed least overlap where that is more.",
	Values:     check.Table{Columns: []string{"smallest overlap"}, Rows: [][]string{{"5 × thinner part"}, {leastOverlap.String()}}},
	Check:      checkOverlap,
}

func checkOverlap(f *check.Facts, to []check.Finding) []check.Finding {
	if !f.Section.Overlap.Present {
		return append(to, check.Inapplicable("the members do not overlap"))
	}
	overlap, thin := f.Section.Overlap.Value, f.Thickness(f.Section.ThinnerMember())
	least := max(thicknessesPerOverlap*thin, leastOverlap.Of(f))
	finding := check.Compare(float64(overlap), check.AtLeast, float64(least), joints.UnitMM)
	if !f.Brief {
		finding.Step("l_min = max(5·t, "+leastOverlap.Show(f)+")",
			"max(5 · "+f.Show(thin)+", "+leastOverlap.Show(f)+")", "l_min = "+f.Show(least))
		finding.Step("l ≥ l_min", f.Show(overlap)+" ≥ "+f.Show(least), string(finding.Verdict))
	}
	if finding.Verdict == check.NotMet {
		finding.Mend = "an overlap of at least " + f.ShowAtLeast(least)
	}
	return append(to, finding)
}
