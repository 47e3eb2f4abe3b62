package en199318

import (
	"strconv"

	"fay/joints"
	"fay/joints/check"
)

// 4.3.2.1: fusion faces at 60° to 120°, reported at
// bls-lasertechnology.de/kehlnaht (secondary). What applies outside, under 60°
// as a partial-penetration butt weld, over 120° by testing, is from memory.
const leastFusion, mostFusion = 60, 120

func fusionAngle(prefix string) check.Rule {
	return check.Rule{
		ID:         prefix + "angle",
		Title:      "Angle between the fusion faces of a fillet",
		Source:     source("4.3.2.1"),
		Provenance: check.Secondary,
		Read:       "bls-lasertechnology.de/kehlnaht; what applies outside the range " + fromMind,
		Doc: "The angle between the members on the weld's side, from 60° to 120°. Under 60° the weld counts as a butt weld of partial " +
			"penetration, over 120° its resistance is found by testing (both from memory).",
		Values: check.Table{Columns: []string{"angle"}, Rows: [][]string{{"60° to 120°"}}},
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return f.Fillets(to, func(w *joints.Weld) check.Finding {
				finding := check.Within(w.Dihedral.Degrees(), leastFusion, mostFusion, joints.UnitDegree)
				if !f.Brief {
					finding.Step("60° ≤ ψ ≤ 120°", "ψ = "+strconv.FormatFloat(w.Dihedral.Degrees(), 'g', 5, 64)+"°", string(finding.Verdict))
				}
				if finding.Verdict == check.NotMet {
					if w.Dihedral.Degrees() < leastFusion {
						finding.AddNote("treat it as a butt weld of partial penetration (from memory)")
					} else {
						finding.AddNote("its resistance is found by testing (from memory)")
					}
				}
				return finding
			})
		},
	}
}
