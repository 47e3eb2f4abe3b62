// Package jbt7949 holds limits for the size of welds from JB/T 7949-1999:
// tolerances of legs and heights of caps.
package jbt7949

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Group is the group of processes that the tolerances are given for.
type Group string

// The groups: manual and gas-shielded arc, and submerged arc.
const (
	Arc          Group = "arc"
	SubmergedArc Group = "saw"
)

// Document returns JB/T 7949-1999 for a group of processes.
func Document(g Group) check.Document {
	return check.Document{
		ID:    "jb-t-7949-1999/" + string(g),
		Title: "JB/T 7949-1999, " + map[Group]string{Arc: "manual and gas-shielded arc", SubmergedArc: "submerged arc"}[g],
		Scope: []string{"steel"},
		Rules: []check.Rule{legs(g), capHeight(g)},
	}
}

func source(clause string) check.Source {
	return check.Source{Document: "JB/T 7949", Edition: "1999", Clause: clause}
}

// Table 3, extract (primary): a leg may exceed its nominal size by 3 mm, 4 mm
// with submerged arc, under 12 mm; by 4 and 5 mm from there on.
const wideFrom = geometry.Length(12)

var legOver = map[Group][2]geometry.Length{Arc: {3, 4}, SubmergedArc: {4, 5}}

func legs(g Group) check.Rule {
	show := func(i int) string { return check.Limit{Base: float64(legOver[g][i])}.String() + " mm" }
	return check.Rule{
		ID:         "jb-t-7949-1999/" + string(g) + "/leg",
		Title:      "Leg over its nominal size",
		Source:     source("Table 3"),
		Provenance: check.Primary,
		Read:       "extract of JB/T 7949-1999",
		Doc:        "How much a measured leg exceeds the planned one, against a tolerance by the planned size. A plan has no departure.",
		Values: check.Table{Columns: []string{"nominal leg", "over it, at most"}, Rows: [][]string{
			{"under 12 mm", show(0)}, {"from 12 mm", show(1)}}},
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return f.Fillets(to, func(w *joints.Weld) check.Finding { return checkLegs(f, w, g) })
		},
	}
}

func checkLegs(f *check.Facts, w *joints.Weld, g Group) check.Finding {
	m, ok := f.Measured[w.ID]
	if !ok {
		return check.Inapplicable("a plan has the legs it plans")
	}
	worst, found := check.Finding{}, false
	for i := range m.Legs {
		if !m.Legs[i].Present {
			continue
		}
		nominal, made := w.Feet[i].Leg, m.Legs[i].Value
		most := legOver[g][0]
		if nominal >= wideFrom {
			most = legOver[g][1]
		}
		finding := check.Compare(float64(max(0, made-nominal)), check.AtMost, float64(most), joints.UnitMM)
		if !f.Brief {
			finding.Step("h = z_measured − z", f.Show(made)+" − "+f.Show(nominal), "h = "+f.Show(max(0, made-nominal))+" on the "+f.Name(w, i))
			finding.Step("h ≤ h_max", f.Show(max(0, made-nominal))+" ≤ "+f.Show(most), string(finding.Verdict))
		}
		if finding.Verdict == check.NotMet {
			finding.AddNote("the leg on the " + f.Name(w, i) + " is " + f.Show(made-nominal) + " over its size")
		}
		if !found || finding.Verdict == check.NotMet && worst.Verdict != check.NotMet {
			worst, found = finding, true
		}
	}
	if !found {
		return check.Unknown("no leg was measured")
	}
	return worst
}

// Cap height, extract (primary): fusion arc 0 to 3 mm in the flat position, 0 to
// 4 mm in others; submerged arc 0 to 3 mm.
const capFlat, capOther = geometry.Length(3), geometry.Length(4)

func capHeight(g Group) check.Rule {
	values := check.Table{Columns: []string{"position", "cap height"}, Rows: [][]string{{"flat", "0 to 3 mm"}, {"others", "0 to 4 mm"}}}
	if g == SubmergedArc {
		values = check.Table{Columns: []string{"cap height"}, Rows: [][]string{{"0 to 3 mm"}}}
	}
	return check.Rule{
		ID:         "jb-t-7949-1999/" + string(g) + "/cap",
		Title:      "Height of a groove's cap",
		Source:     source("cap height of butt welds"),
		Provenance: check.Primary,
		Read:       "extract of JB/T 7949-1999",
		Doc:        "The height of the cap, planned or measured, against a limit by the position. Where the position is not stated, heights between the two limits cannot be told.",
		Values:     values,
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return f.Each(to, func(w *joints.Weld) check.Finding { return checkCap(f, w, g) }, joints.GrooveWeld)
		},
	}
}

func checkCap(f *check.Facts, w *joints.Weld, g Group) check.Finding {
	r := check.CapHeight.Read(f, w)
	if r.Verdict != "" {
		return check.Finding{Verdict: r.Verdict, Note: r.Note}
	}
	most := capFlat
	if g == Arc {
		switch {
		case f.Position != "" && f.Position != check.Flat:
			most = capOther
		case f.Position == "" && geometry.Length(r.Value) > capFlat*(1+1e-9):
			if geometry.Length(r.Value) <= capOther*(1+1e-9) {
				return check.Unknown("the position is not stated: " + f.Show(capFlat) + " at most flat, " + f.Show(capOther) + " in others")
			}
			most = capOther
		}
	}
	finding := check.Compare(r.Value, check.AtMost, float64(most), joints.UnitMM)
	if !f.Brief {
		finding.Step("h ≤ h_max", f.Show(geometry.Length(r.Value))+" ≤ "+f.Show(most), string(finding.Verdict))
	}
	if finding.Verdict == check.NotMet {
		if f.Position == "" {
			most = capFlat // sure to be enough
		}
		finding.Mend = "a cap of at most " + f.ShowAtMost(most)
	}
	return finding
}
