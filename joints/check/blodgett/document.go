// Package blodgett holds two rules for fillets on T joints from trade books:
// O. W. Blodgett's full-strength double fillet and the small fillets that only
// have to hold a stiffener.
package blodgett

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// The two demands that a plan may make of a fillet.
var (
	FullStrength = check.Document{
		ID:    "blodgett/full-strength",
		Title: "Blodgett, full-strength fillets",
		Scope: []string{"steel"},
		Rules: []check.Rule{fullStrength},
	}
	Rigidity = check.Document{
		ID:    "blodgett/rigidity",
		Title: "fillets for rigidity only",
		Scope: []string{"steel"},
		Rules: []check.Rule{rigidity},
	}
)

// Design of Weldments p. 6.2-7 as quoted at eng-tips qid=23184 and at
// materialwelding.com (secondary): double fillet 0.75·t of the thinner part, one
// side only double the leg.
const (
	legDouble = 0.75
	legSingle = 1.5
)

var fullStrength = check.Rule{
	ID:         "blodgett/full-strength/leg",
	Title:      "Leg that makes fillets as strong as the thinner plate",
	Source:     check.Source{Document: "O. W. Blodgett, Design of Weldments", Clause: "p. 6.2-7, rule of thumb"},
	Provenance: check.Secondary,
	Read:       "eng-tips qid=23184; materialwelding.com",
	Doc: "The shorter leg against three quarters of the thinner part where both sides are welded, so that the two throats add up to 1.06 t, " +
		"and against one and a half times it where one side is.",
	Values: check.Table{Columns: []string{"welded", "smallest leg"}, Rows: [][]string{
		{"both sides", "0.75 × thinner part"}, {"one side", "1.5 × thinner part"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		sides := 0
		for i := range f.Section.Welds {
			if f.Section.Welds[i].Kind == joints.FilletWeld {
				sides++
			}
		}
		return fillets(f, to, func(w *joints.Weld) check.Finding {
			factor, text := legSingle, "1.5"
			if sides > 1 {
				factor, text = legDouble, "0.75"
			}
			t := f.Thinner(w)
			least := geometry.Length(factor) * t
			leg := min(w.Feet[0].Leg, w.Feet[1].Leg)
			finding := check.Compare(float64(leg), check.AtLeast, float64(least), joints.UnitMM)
			if !f.Brief {
				finding.Step("z_min = "+text+"·t", text+" · "+f.Show(t), "z_min = "+f.Show(least))
				finding.Step("z = min(z_"+f.Name(w, 0)+", z_"+f.Name(w, 1)+") ≥ z_min", f.Show(leg)+" ≥ "+f.Show(least), string(finding.Verdict))
			}
			finding.LegAtLeast(least, thin(f, w))
			if finding.Verdict == check.NotMet {
				clause.Larger(f, w, least, &finding)
			}
			return finding
		})
	},
}

// Stiffness only: leg ¼ to ⅜ of the plate, materialwelding.com (secondary).
const rigidLeast, rigidMost = 1.0 / 4, 3.0 / 8

var rigidity = check.Rule{
	ID:         "blodgett/rigidity/leg",
	Title:      "Leg of fillets for rigidity only",
	Source:     check.Source{Document: "materialwelding.com", Clause: "rigidity fillets"},
	Provenance: check.Secondary,
	Read:       "materialwelding.com",
	Doc:        "Both legs against a quarter to three eighths of the thinner part: what holds a plate in place and carries no calculated load.",
	Values:     check.Table{Columns: []string{"leg"}, Rows: [][]string{{"1/4 to 3/8 × thinner part"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return fillets(f, to, func(w *joints.Weld) check.Finding {
			t := f.Thinner(w)
			least, most := rigidLeast*t, rigidMost*t
			short, long := min(w.Feet[0].Leg, w.Feet[1].Leg), max(w.Feet[0].Leg, w.Feet[1].Leg)
			leg := short
			if float64(long) > float64(most)*(1+1e-9) && float64(short) >= float64(least)*(1-1e-9) {
				leg = long
			}
			finding := check.Within(float64(leg), float64(least), float64(most), joints.UnitMM)
			if !f.Brief {
				finding.Step("t/4 ≤ z ≤ 3·t/8", "t = "+f.Show(t), f.Show(least)+" ≤ z ≤ "+f.Show(most))
				finding.Step("z in this range", "z_"+f.Name(w, 0)+" = "+f.Show(w.Feet[0].Leg)+", z_"+f.Name(w, 1)+" = "+f.Show(w.Feet[1].Leg), string(finding.Verdict))
			}
			finding.LegAtLeast(least, thin(f, w))
			finding.LegAtMost(most, "")
			switch {
			case finding.Verdict != check.NotMet:
			case leg == short && float64(short) < float64(least):
				clause.Larger(f, w, least, &finding)
				if long > most {
					finding.Mend = "" // the other leg is too long
					finding.AddNote("one leg is under the range and one over it")
				}
			default:
				clause.Shorter(f, w, most, &finding)
			}
			return finding
		})
	},
}

// fillets leaves out laps: the rules are for plates standing on others.
func fillets(f *check.Facts, to []check.Finding, rule func(*joints.Weld) check.Finding) []check.Finding {
	return f.Fillets(to, func(w *joints.Weld) check.Finding {
		if w.Feet[0].OnEdge || w.Feet[1].OnEdge {
			return check.Inapplicable("the fillet stands on the edge of a plate")
		}
		return rule(w)
	})
}

func thin(f *check.Facts, w *joints.Weld) string {
	if f.Thickness(w.Feet[0].Member) < f.Thickness(w.Feet[1].Member) {
		return f.Name(w, 0)
	}
	return f.Name(w, 1)
}
