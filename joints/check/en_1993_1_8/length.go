package en199318

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// 4.5.1: welds shorter than the larger of 30 mm and 6·a carry nothing, from
// memory, unverified.
const (
	shortest        = geometry.Length(30)
	throatsPerShort = 6
)

func leastLength(prefix string) check.Rule {
	return check.Rule{
		ID:         prefix + "length",
		Title:      "Smallest length that carries load",
		Source:     source("4.5.1"),
		Provenance: check.Memory,
		Read:       fromMind,
		Doc:        "The length of one run against six times the effective throat, and against 30 mm where that is more.",
		Values:     check.Table{Columns: []string{"smallest length"}, Rows: [][]string{{"6·a"}, {"30 mm"}}},
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return f.Fillets(to, func(w *joints.Weld) check.Finding {
				run := f.RunLength()
				if !run.Present {
					return check.Unknown("the length of the weld is not given")
				}
				least := max(shortest, throatsPerShort*w.EffectiveThroat)
				finding := check.Compare(float64(run.Value), check.AtLeast, float64(least), joints.UnitMM)
				if !f.Brief {
					finding.Step("L_min = max("+f.Show(shortest)+", 6·a)", "a = "+f.Show(w.EffectiveThroat), "L_min = "+f.Show(least))
					finding.Step("L ≥ L_min", f.Show(run.Value)+" ≥ "+f.Show(least), string(finding.Verdict))
				}
				if finding.Verdict == check.NotMet {
					finding.Mend = "a length of at least " + f.ShowAtLeast(least)
				}
				return finding
			})
		},
	}
}
