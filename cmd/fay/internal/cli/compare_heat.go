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

// rootArc is the arc power that melts the root of the weld that asks for most,
// by the closed form, each weld with those before it laid. Where it cannot be
// told it says why.
func (s *set) rootArc(j *job) (*heat.Spread, string) {
	h, err := j.heating(nil)
	if err != nil {
		return nil, noHeat(err)
	}
	var most *heat.Spread
	welds := j.doc.Section.Welds
	for i := range welds {
		if welds[i].Kind == joints.PlugWeld {
			continue
		}
		h.in.Weld = welds[i].ID
		answer, err := heat.Answer(h.in)
		if err != nil {
			return nil, noHeat(h.refused(err))
		}
		if arc := answer.Root.Arc; most == nil || arc.Nominal > most.Nominal {
			most = &arc
		}
		for _, c := range answer.Cautions {
			if !slices.Contains(s.heat, c) {
				s.heat = append(s.heat, c)
			}
		}
		h.in.Done = append(h.in.Done, welds[i].ID)
	}
	if most == nil {
		return nil, "a plug or slot is no seam: the arc does not travel along it"
	}
	return most, ""
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
		out = append(out, "arc to melt the root: of the weld that asks for most, at the nominal efficiency of the arc, and over the range of efficiency (closed form; `fay heat` says more)")
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
