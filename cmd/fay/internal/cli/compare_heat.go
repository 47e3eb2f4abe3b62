package cli

import (
	"fmt"
	"slices"
	"strings"

	"fay/joints"
	"fay/joints/compare"
	"fay/joints/heat"
	"fay/joints/jointfile"
)

const notAvailable = "not available"

// rootArc finds the arc power that melts the root of the weld that asks for
// most, by the closed form, each weld with those before it laid and the arc at
// the bottom of its groove. Where it cannot be told it says why.
func (s *set) rootArc(option *compare.Option, j *job) {
	h, err := j.heating(nil)
	if err != nil {
		option.NoRootArc = noHeat(err)
		return
	}
	section := &j.doc.Section
	var most *heat.Spread
	for i := range section.Welds {
		w := &section.Welds[i]
		if w.Kind == joints.PlugWeld {
			continue
		}
		h.in.Weld, h.in.Reach = w.ID, compare.RootReach(section, w)
		answer, err := heat.Answer(h.in)
		if err != nil {
			option.NoRootArc = noHeat(h.refused(err))
			return
		}
		if arc := answer.Root.Arc; most == nil || arc.Nominal > most.Nominal {
			most = &arc
		}
		option.RootArcFromMemory = option.RootArcFromMemory || fromMemory(answer.Basis)
		for _, c := range answer.Cautions {
			s.heat.add(option.Name, c)
		}
		h.in.Done = append(h.in.Done, w.ID)
	}
	if most == nil {
		option.NoRootArc = "a plug or slot is no seam: the arc does not travel along it"
		return
	}
	s.heated++
	option.RootArc = most
}

// noHeat says in one line why the heat is not known.
func noHeat(err error) string {
	var fields []string
	rule := ""
	for _, f := range jointfile.AsFaults(err) {
		if rule == "" {
			rule = f.Rule
		}
		if f.Rule == rule && !slices.Contains(fields, f.Field) {
			fields = append(fields, f.Field)
		}
	}
	if rule == "" {
		return unfitReason(err)
	}
	return strings.Join(fields, ", ") + ": " + rule
}

// heatWord tells a spreadsheet whether the heat is known.
func heatWord(r *compare.Row) string {
	if r.NoHeat != "" {
		return notAvailable + ": " + r.NoHeat
	}
	return ""
}

// heatRemarks say what the power of the arc is, and of whom it is not known.
func heatRemarks(c *compare.Comparison) []string {
	var out, reasons []string
	names := map[string][]string{}
	for i := range c.Rows {
		r := &c.Rows[i]
		if r.NoHeat == "" {
			continue
		}
		if names[r.NoHeat] == nil {
			reasons = append(reasons, r.NoHeat)
		}
		names[r.NoHeat] = append(names[r.NoHeat], r.Name)
	}
	if slices.Contains(columns(c), compare.RootPower) {
		out = append(out, "arc to melt the root: of the weld that asks for most, at the nominal efficiency of the arc, and over the range of efficiency; in a groove the arc stands at its bottom and melts through the root face, or all of a square edge (closed form; `fay heat` says more)")
	}
	for _, reason := range reasons {
		who := strings.Join(names[reason], ", ")
		if len(names[reason]) == len(c.Rows) {
			who = "all"
		}
		out = append(out, fmt.Sprintf("%s for %s: %s", notAvailable, who, reason))
	}
	return out
}
