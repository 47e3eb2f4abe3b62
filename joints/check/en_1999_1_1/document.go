// Package en199911 holds rules for fillet welds in aluminium from EN 1999-1-1,
// 8.6.3, from memory, and its least thickness from a report.
package en199911

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Document is EN 1999-1-1 as far as it is on file.
var Document = check.Document{
	ID:    "en-1999-1-1/recommended",
	Title: "EN 1999-1-1",
	Scope: []string{"aluminium"},
	Rules: []check.Rule{thickness, length},
}

func source(clause string) check.Source {
	return check.Source{Document: "EN 1999-1-1", Edition: "not on file", Clause: clause}
}

// Welded parts of 1.5 mm and more, reported in the scope at stadlar.is
// (secondary).
const thinnest = geometry.Length(1.5)

var thickness = check.Rule{
	ID:         "en-1999-1-1/recommended/thickness",
	Title:      "Smallest thickness of welded parts",
	Source:     source("scope"),
	Provenance: check.Secondary,
	Read:       "stadlar.is, text of the scope",
	Doc:        "The thinner member against the least thickness that the document speaks of.",
	Values:     check.Table{Columns: []string{"thinnest part"}, Rows: [][]string{{"1.5 mm"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		t := f.Thickness(f.Section.ThinnerMember())
		finding := check.Compare(float64(t), check.AtLeast, float64(thinnest), joints.UnitMM)
		if !f.Brief {
			finding.Step("t_min ≥ 1.5 mm", f.Show(t)+" ≥ "+f.Show(thinnest), string(finding.Verdict))
		}
		if finding.Verdict == check.NotMet {
			finding.AddNote("the document does not speak of sheet this thin")
		}
		return append(to, finding)
	},
}

// 8.6.3: the full length counts from 8·a to 100·a; shorter welds are not
// counted. From memory, unverified.
const throatsLeast, throatsMost = 8, 100

var length = check.Rule{
	ID:         "en-1999-1-1/recommended/length",
	Title:      "Length that counts of a fillet in aluminium",
	Source:     source("8.6.3"),
	Provenance: check.Memory,
	Read:       "from memory, unverified",
	Doc:        "The length of one run against 8 times the effective throat; up to 100 times it counts in full.",
	Values:     check.Table{Columns: []string{"length", "what counts"}, Rows: [][]string{{"under 8·a", "nothing"}, {"8·a to 100·a", "the whole length"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding {
			run := f.RunLength()
			if !run.Present {
				return check.Unknown("the length of the weld is not given")
			}
			a := w.EffectiveThroat
			finding := check.Compare(float64(run.Value), check.AtLeast, float64(throatsLeast*a), joints.UnitMM)
			if !f.Brief {
				finding.Step("L_min = 8·a", "8 · "+f.Show(a), "L_min = "+f.Show(throatsLeast*a))
				finding.Step("L ≥ L_min", f.Show(run.Value)+" ≥ "+f.Show(throatsLeast*a), string(finding.Verdict))
			}
			if finding.Verdict == check.NotMet {
				finding.Mend = "a length of at least " + f.ShowAtLeast(throatsLeast*a)
			}
			if run.Value > throatsMost*a {
				finding.AddNote("over 100·a = " + f.Show(throatsMost*a) + " it may not count in full")
			}
			return finding
		})
	},
}
