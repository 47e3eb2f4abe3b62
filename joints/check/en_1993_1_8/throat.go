package en199318

import (
	"math"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// 4.5.2: a ≥ 3 mm, the height of the largest inscribed triangle; deep
// penetration counts only on a procedure test. From memory, unverified.
const smallest = geometry.Length(3)

func leastThroat(prefix string) check.Rule {
	return check.Rule{
		ID:         prefix + "throat",
		Title:      "Smallest throat of a fillet",
		Source:     source("4.5.2"),
		Provenance: check.Memory,
		Read:       fromMind,
		Doc:        "The effective throat against 3 mm. Penetration counts only where a procedure test proves it.",
		Values:     check.Table{Columns: []string{"smallest throat"}, Rows: [][]string{{"3 mm"}}},
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return f.Fillets(to, func(w *joints.Weld) check.Finding { return clause.Throat(f, w, smallest, "") })
		},
	}
}

// National annex DIN EN 1993-1-8/NA: a ≥ √t_max − 0.5 with both in mm, and 5 mm
// from 30 mm on; commonly bounded by 0.7·t_min. From memory, unverified.
const (
	annexLess     = 0.5
	annexHeavy    = geometry.Length(30)
	annexSmallest = 5
	annexShare    = 0.7
)

func annex(clause string) check.Source {
	return check.Source{Document: "DIN EN 1993-1-8/NA", Edition: "not on file", Clause: clause}
}

var annexThroat = check.Rule{
	ID:         "en-1993-1-8/DE/NA-throat",
	Title:      "Smallest throat by the thicker part, German annex",
	Source:     annex("to 4.5.2"),
	Provenance: check.Memory,
	Read:       fromMind,
	Doc:        "The effective throat against the square root of the thicker part's thickness, less a half, both in mm; from 30 mm on not under 5 mm.",
	Values: check.Table{Columns: []string{"thicker part", "smallest throat, mm"}, Rows: [][]string{
		{"any", "√t_max − 0.5"}, {"from 30 mm", "√t_max − 0.5, at least 5"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding {
			t := f.Thicker(w)
			least := max(0, math.Sqrt(float64(t))-annexLess)
			if t >= annexHeavy {
				least = max(least, annexSmallest)
			}
			asks := f.Name(w, 0)
			if f.Thickness(w.Feet[1].Member) > f.Thickness(w.Feet[0].Member) {
				asks = f.Name(w, 1)
			}
			return clause.Throat(f, w, geometry.Length(least), asks,
				check.Step{Symbols: "a_min = √t_max − 0.5, t in mm, not under 5 mm from 30 mm on", Numbers: "t_max = " + f.Show(t), Result: "a_min = " + f.Show(geometry.Length(least))})
		})
	},
}

var annexLargest = check.Rule{
	ID:         "en-1993-1-8/DE/NA-largest-throat",
	Title:      "Largest throat by the thinner part",
	Source:     annex("usual upper bound, no clause on file"),
	Provenance: check.Memory,
	Read:       fromMind,
	Doc:        "The effective throat against 0.7 of the thinner part's thickness.",
	Values:     check.Table{Columns: []string{"largest throat"}, Rows: [][]string{{"0.7 × thinner part"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding {
			t := f.Thinner(w)
			most := annexShare * t
			finding := check.Compare(float64(w.EffectiveThroat), check.AtMost, float64(most), joints.UnitMM)
			if !f.Brief {
				finding.Step("a_max = 0.7·t_min", "t_min = "+f.Show(t), "a_max = "+f.Show(most))
				finding.Step("a ≤ a_max", f.Show(w.EffectiveThroat)+" ≤ "+f.Show(most), string(finding.Verdict))
			}
			if w.Proven {
				finding.AddNote("the proven penetration is part of the throat, so that the leg alone does not bound it")
				return finding
			}
			leg := check.LegForThroat(w, most, 0)
			finding.LegAtMost(leg, "")
			if finding.Verdict == check.NotMet {
				clause.Shorter(f, w, leg, &finding)
			}
			return finding
		})
	},
}
