package awsd11

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Table 5.7, 5.8 or 7.7 by edition, minimum size of fillets: 3, 5, 6, 8 mm to
// 6, 12, 20 mm and over; low-hydrogen processes by the thinner part, others by
// the thicker part; it need not exceed the thinner part. The steps in inches
// are reported in scribd 464172122 (secondary), the first also at
// app.aws.org pid=289063; a Kobelco extract, scribd 473849428, prints 6 mm for
// over 12.7 to 19.0 mm. The millimetre steps 12 and 20 and which processes are
// low-hydrogen are from memory.
var legTable = clause.LegTable{
	Name: "table of minimum fillet sizes",
	Steps: []clause.Step{
		{UpTo: check.Pair(6, 1.0/4), Leg: check.Pair(3, 1.0/8)},
		{UpTo: check.Pair(12, 1.0/2), Leg: check.Pair(5, 3.0/16)},
		{UpTo: check.Pair(20, 3.0/4), Leg: check.Pair(6, 1.0/4)},
		{Leg: check.Pair(8, 5.0/16)},
	},
	Basis: func(f *check.Facts) (clause.Basis, string) {
		switch f.Process {
		case "":
			return clause.NotKnown, "by the thinner part for low-hydrogen processes only, and the process is not stated"
		case "smaw":
			return clause.NotKnown, "by the thinner part for low-hydrogen electrodes only, and the electrode is not stated"
		}
		return clause.Thinner, ""
	},
	Capped: true,
}

var minimumLeg = check.Rule{
	ID:         "aws-d1.1-reported/minimum-leg",
	Title:      "Smallest leg, low-hydrogen or not",
	Source:     source("table 5.7, 5.8 or 7.7 by edition"),
	Provenance: check.Secondary,
	Read:       "scribd 464172122, app.aws.org pid=289063; the steps of 12 and 20 mm " + fromMind,
	Doc: "The shorter leg against the least size for the thinner part with a low-hydrogen process, for the thicker part with others; " +
		"never more than the thinner part is thick. Where the process does not settle it, only a leg that fails, or meets, both ways is judged.",
	Values: legTable.Values("part that counts"),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return legTable.Check(f, w) })
	},
}

// Cyclic loading: leg ≥ 3/16 in (5 mm), confirmed at app.aws.org pid=289063 and
// in scribd 464172122 (secondary).
var cyclicFloor = check.Pair(5, 3.0/16)

var cyclicLeg = check.Rule{
	ID:         "aws-d1.1-reported/cyclic/leg",
	Title:      "Smallest leg under cyclic loading",
	Source:     source("table of minimum fillet sizes, note on cyclic loading"),
	Provenance: check.Secondary,
	Read:       "app.aws.org pid=289063; scribd 464172122",
	Doc:        "The shorter leg against one least size, whatever the plates.",
	Values:     check.Table{Columns: []string{"smallest leg"}, Rows: [][]string{{cyclicFloor.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding {
			leg, least := min(w.Feet[0].Leg, w.Feet[1].Leg), cyclicFloor.Of(f)
			finding := check.Compare(float64(leg), check.AtLeast, float64(least), joints.UnitMM)
			if !f.Brief {
				finding.Step("z = min(z_"+f.Name(w, 0)+", z_"+f.Name(w, 1)+") ≥ z_min", f.Show(leg)+" ≥ "+cyclicFloor.Show(f), string(finding.Verdict))
			}
			finding.LegAtLeast(least, "")
			if finding.Verdict == check.NotMet {
				clause.Larger(f, w, least, &finding)
			}
			return finding
		})
	},
}
