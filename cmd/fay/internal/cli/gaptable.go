package cli

import (
	"maps"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/fitup"
	"fay/render/sheet"
)

// gapTables are the tables of openings that the bench lays its legs by, one for
// each opening of the joint, and each up to where a rule on gaps ends. A joint
// whose openings cannot be stepped through has none.
func (j *job) gapTables(findings []check.Finding) []sheet.GapTable {
	kind, ok := joints.LookupKind(j.doc.Section.Kind)
	if !ok {
		return nil
	}
	rules := j.gapRules(findings)
	var list []sheet.GapTable
	for _, name := range fitup.Parameters(kind) {
		planned, widest := j.opening(name)
		openings := fitup.BenchOpenings(planned, widest, j.doc.Units)
		var ends []geometry.Length // of rules, between the openings
		for i := range findings {
			if g := findings[i].LargestGap; g != nil && geometry.Length(*g) > planned {
				if end := floored(geometry.Length(*g), j.doc.Units); !slices.Contains(openings, end) {
					ends = append(ends, end)
				}
			}
		}
		table, ok, err := fitup.NewTable(j.doc.Input, fitup.Spec{Units: j.doc.Units, Parameter: name, Openings: slices.Concat(openings, ends)})
		if !ok || err != nil {
			continue
		}
		g := sheet.GapTable{Table: table}
		j.endAtRules(&g, rules, ends)
		list = append(list, g)
	}
	return list
}

// opening is an opening as planned, and the widest that its tolerance lets
// through.
func (j *job) opening(name string) (planned, widest geometry.Length) {
	v := j.doc.Input.Values[name]
	planned = geometry.Length(v.Number)
	widest = planned
	if v.Tolerance != nil {
		widest += geometry.Length(v.Tolerance.Plus)
	}
	return planned, widest
}

// floored takes a gap down to what a sheet prints, so that none is allowed by
// rounding.
func floored(g geometry.Length, units geometry.Unit) geometry.Length {
	grid := geometry.Length(0.01)
	if units == geometry.UnitInch {
		grid = geometry.Inch / 1000
	}
	const noise = 1e-6 // of a step
	return geometry.Length(math.Floor(float64(g/grid)+noise)) * grid
}

// gapRules are the rules of the chosen documents that end a gap, without
// documents that have none.
func (j *job) gapRules(findings []check.Finding) []check.Document {
	chosen, err := documents.Select(j.documents())
	if err != nil {
		return nil
	}
	ends := func(r check.Rule) bool {
		return slices.ContainsFunc(findings, func(f check.Finding) bool { return f.Rule == r.ID && f.LargestGap != nil })
	}
	for i := range chosen {
		chosen[i].Rules = slices.DeleteFunc(slices.Clone(chosen[i].Rules), func(r check.Rule) bool { return !ends(r) })
	}
	return slices.DeleteFunc(chosen, func(d check.Document) bool { return len(d.Rules) == 0 })
}

// endAtRules checks the joint with the opening and the legs of each line, and
// ends the table before the first that does not meet a rule. The ends of rules
// that larger legs satisfy need no line.
func (j *job) endAtRules(g *sheet.GapTable, rules []check.Document, ends []geometry.Length) {
	rows := g.Rows
	end := len(rows)
	for i := range rows {
		if failed := j.gapFinding(g, &rows[i], rules); failed != nil {
			end = i
			g.Rule = failed.Rule
			limit := g.Planned
			if i > 0 {
				limit = rows[i-1].Opening
			} else if failed.LargestGap != nil {
				limit = floored(geometry.Length(*failed.LargestGap), j.doc.Units)
			}
			g.Limit = joints.Some(limit)
			break
		}
	}
	kept := rows[:0]
	for i := range rows[:end] {
		r := rows[i]
		if !r.Nominal && i < end-1 && slices.Contains(ends, r.Opening) && len(kept) > 0 {
			continue
		}
		kept = append(kept, r)
	}
	if len(kept) == 0 {
		kept = rows[:1] // the plan itself, for all that a rule says
	}
	g.Rows = kept
}

// gapFinding is the first finding that the opening and the legs of a line do not
// meet; nil where all are met or the line makes no joint.
func (j *job) gapFinding(g *sheet.GapTable, row *fitup.Row, rules []check.Document) *check.Finding {
	if len(rules) == 0 {
		return nil
	}
	in := j.doc.Input
	in.Values = maps.Clone(in.Values)
	if in.Values == nil {
		in.Values = map[string]joints.Value{}
	}
	in.Values[g.Parameter] = joints.Value{Text: "given", Number: float64(row.Opening)}
	in.Welds = maps.Clone(in.Welds)
	for _, w := range row.Welds {
		if !w.Lay[0].Present {
			continue
		}
		values := maps.Clone(in.Welds[w.Weld])
		delete(values, "throat")
		delete(values, "gauge-leg")
		legs := []float64{float64(w.Lay[0].Value), float64(w.Lay[1].Value)}
		values["leg"] = joints.Value{Text: "given", Number: legs[0], List: legs}
		in.Welds[w.Weld] = values
	}
	section, err := joints.BuildBrief(in)
	if err != nil {
		return nil
	}
	facts := *j.facts()
	facts.Section, facts.Brief = &section, true
	findings := check.Run(&facts, rules)
	for i := range findings {
		if f := &findings[i]; f.Verdict == check.NotMet && f.LargestGap != nil {
			return f
		}
	}
	return nil
}
