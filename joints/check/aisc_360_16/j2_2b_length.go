package aisc36016

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// J2.2b, least effective length: 4 × leg, or else the size counted is a quarter
// of the length. Read in scribd.com/document/380231435 (primary); the same in
// AWS D1.1:2010 2.4.2.3, scribd.com/document/338173238.
const legsPerLength = 4

var effectiveLength = check.Rule{
	ID:         "aisc-360-16/J2.2b-length",
	Title:      "Smallest effective length",
	Source:     source("J2.2b, minimum length"),
	Provenance: check.Primary,
	Read:       readJ2,
	Doc:        "The length of one run against four times the longer leg. A shorter weld counts with a quarter of its length as its leg.",
	Values:     check.Table{Columns: []string{"smallest length"}, Rows: [][]string{{"4 × leg"}}},
	Check: func(f *check.Facts) []check.Finding {
		return f.Fillets(func(w *joints.Weld) check.Finding { return checkLength(f, w) })
	},
}

func checkLength(f *check.Facts, w *joints.Weld) check.Finding {
	run := f.RunLength()
	if !run.Present {
		return check.Unknown("the length of the weld is not given")
	}
	leg := max(w.Feet[0].Leg, w.Feet[1].Leg)
	least := legsPerLength * leg
	finding := check.Compare(float64(run.Value), check.AtLeast, float64(least), joints.UnitMM)
	finding.Step("L_min = 4·z", "4 · "+f.Show(leg), "L_min = "+f.Show(least))
	finding.Step("L ≥ L_min", f.Show(run.Value)+" ≥ "+f.Show(least), string(finding.Verdict))
	if finding.Verdict == check.NotMet {
		finding.Mend = "a length of at least " + f.ShowAtLeast(least)
		finding.AddNote("as it is, the weld counts with a leg of " + f.ShowAtMost(geometry.Length(run.Value)/legsPerLength))
	}
	return finding
}
