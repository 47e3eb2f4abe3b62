package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fay/joints/compare"
)

// columns are the metrics that are known of some alternative.
func columns(c *compare.Comparison) []compare.Metric {
	var out []compare.Metric
	for _, m := range compare.Metrics() {
		for i := range c.Rows {
			if v := c.Rows[i].Values; v != nil && v.Of(m) != nil {
				out = append(out, m)
				break
			}
		}
	}
	return out
}

// metricUnit is the unit of a metric in the comparison.
func metricUnit(m compare.Metric, c *compare.Comparison) string {
	switch {
	case m == compare.Cost:
		return c.Currency + m.Unit()
	case m == compare.Rods && wired(c):
		return "m/m"
	}
	return m.Unit()
}

// wired reports whether the alternatives are filled from wire.
func wired(c *compare.Comparison) bool {
	for i := range c.Rows {
		if v := c.Rows[i].Values; v != nil && v.Wire != nil {
			return true
		}
	}
	return false
}

func metricTitle(m compare.Metric, c *compare.Comparison) string {
	if m == compare.Rods && wired(c) {
		return "wire"
	}
	return m.Title()
}

// print prints the table for people.
func (s *set) print(w *bytes.Buffer, f format, c *compare.Comparison) {
	title := "Comparison by " + metricTitle(c.By, c) + ", reference " + c.Reference
	if f == asMD {
		printf(w, "# %s\n\n", title)
	} else {
		printf(w, "%s\n\n", title)
	}
	metrics := columns(c)
	checked, grooved := checkedRows(c), groovedRows(c)
	t := table{heads: []string{"", "alternative"}}
	if checked {
		t.heads = append(t.heads, "checks")
	}
	for _, m := range metrics {
		t.heads = append(t.heads, metricHead(m, c, memoryMark))
	}
	if grooved {
		t.heads = append(t.heads, "penetration")
	}
	for i := range c.Rows {
		r := &c.Rows[i]
		rank := "–"
		if r.Rank > 0 {
			rank = strconv.Itoa(r.Rank)
		}
		cells := make([]string, 0, len(t.heads))
		cells = append(cells, rank, r.Name)
		if checked {
			cells = append(cells, checkWord(r))
		}
		for _, m := range metrics {
			cells = append(cells, cell(r, m))
		}
		if grooved {
			cells = append(cells, penetrationText(r, s.length))
		}
		t.add(cells...)
	}
	t.in(f, w)
	s.remarks(w, f, c)
	notes := s.notes
	if slices.ContainsFunc(metrics, func(m compare.Metric) bool { return remembered(c, m) }) {
		notes = append(slices.Clone(notes), memoryMark+": "+memoryNote)
	}
	tail(w, f, notes, s.cautions(c))
}

// checkedRows reports whether anything was checked.
func checkedRows(c *compare.Comparison) bool {
	return slices.ContainsFunc(c.Rows, func(r compare.Row) bool { return r.MeetsChecks != nil })
}

// groovedRows reports whether a row has groove welds.
func groovedRows(c *compare.Comparison) bool {
	return slices.ContainsFunc(c.Rows, func(r compare.Row) bool { return r.Penetration != "" })
}

// checkWord says whether the checks are met.
func checkWord(r *compare.Row) string {
	switch {
	case r.MeetsChecks == nil:
		return ""
	case *r.MeetsChecks:
		return "met"
	}
	return "NOT MET"
}

// penetrationText says how far groove welds reach, and over which height of
// edge that is left as it is.
func penetrationText(r *compare.Row, length func(mm float64) string) string {
	text := string(r.Penetration)
	if r.RootFaceMM > 0 {
		text += ", root face " + length(r.RootFaceMM)
	}
	return text
}

// quantities prints numbers in the units of the first joint.
func (s *set) quantities() quantities {
	j := job{settings: s.settings}
	j.doc.Units = s.units
	return j.quantities()
}

// length prints a length in the units of the first joint.
func (s *set) length(mm float64) string { return s.quantities().length(mm) }

// metricText prints the value of a metric; of powers no more than three digits
// are known.
func metricText(m compare.Metric, v float64) string {
	if m == compare.RootPower {
		return strings.TrimSuffix(watts(v), " W")
	}
	return significant(v)
}

// cell prints a metric with how far it is from the reference.
func cell(r *compare.Row, m compare.Metric) string {
	switch {
	case r.Values == nil:
		return ""
	case r.Values.Of(m) == nil && m == compare.RootPower:
		return notAvailable
	case r.Values.Of(m) == nil:
		return ""
	}
	text := metricText(m, *r.Values.Of(m))
	if m == compare.Cost && len(r.NotPriced) > 0 {
		text += " " + incompleteCost
	}
	if rel := r.Relative.Of(m); rel != nil && *rel != 0 && m != compare.NotMet {
		text += fmt.Sprintf(" (%+.0f %%)", *rel*100)
	}
	if m == compare.RootPower {
		text += ", " + metricText(m, *r.Values.RootLow) + " to " + metricText(m, *r.Values.RootHigh)
	}
	return text
}

// block prints lines under a heading; nothing where there are none.
func block(w *bytes.Buffer, f format, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	bullet := "  "
	if f == asMD {
		bullet = "- "
	}
	heading(w, f, title)
	for _, l := range lines {
		printf(w, "%s%s\n", bullet, l)
	}
}

// remarks say why alternatives are out, what is not met, and where
// preparations come from.
func (s *set) remarks(w *bytes.Buffer, f format, c *compare.Comparison) {
	block := func(title string, lines []string) { block(w, f, title, lines) }
	var out, unmet, notes []string
	for i := range c.Rows {
		r := &c.Rows[i]
		if len(r.Excluded) > 0 {
			out = append(out, r.Name+": "+strings.Join(r.Excluded, "; "))
		}
		if len(r.NotMet) > 0 {
			unmet = append(unmet, r.Name+": "+strings.Join(r.NotMet, ", "))
		}
		if r.Note != "" {
			notes = append(notes, r.Name+": "+r.Note)
		}
	}
	block("Out of the ranking", out)
	block("Findings not met", unmet)
	block("Full penetration not on file", s.unproven(c))
	block("Cost, at your own prices", s.costLines(c))
	block("Taken", s.takenLines(c))
	block("Heat", heatRemarks(c))
	block("Where they are from", notes)
	block("Left out", s.left)
	if slices.ContainsFunc(c.Rows, func(r compare.Row) bool { return len(r.Throats) > 1 }) {
		block("Throats", []string{"effective throat: of all welds between two members together, and of the weakest pair of members"})
	}
	var rules []string
	shown := columns(c)
	for _, r := range c.Rules {
		if !slices.Contains(shown, r.Metric) {
			continue
		}
		text := fmt.Sprintf("%s: %s (%s) [%s]", r.Title, r.Formula, r.Source, r.Provenance)
		if r.Scope != "" {
			text += "; " + r.Scope
		}
		rules = append(rules, text)
	}
	block("Estimates", rules)
}

// compareCSV writes one row an alternative: values, then fractions over the
// reference.
func compareCSV(w *bytes.Buffer, c *compare.Comparison) error {
	metrics := columns(c)
	t := table{heads: []string{"rank", "alternative"}}
	for _, m := range metrics {
		t.heads = append(t.heads, string(m))
	}
	for _, m := range metrics {
		t.heads = append(t.heads, string(m)+"_over_reference")
	}
	heat := slices.Contains(metrics, compare.RootPower)
	if heat {
		t.heads = append(t.heads, "root-power_low", "root-power_high")
	}
	t.heads = append(t.heads, "heat", "excluded", "findings_not_met", "note", "penetration", "root_face_mm", "best", "meets_checks", "not_priced", "from_memory", "root_face_not_on_file")
	for i := range c.Rows {
		r := &c.Rows[i]
		rank := ""
		if r.Rank > 0 {
			rank = strconv.Itoa(r.Rank)
		}
		cells := []string{rank, r.Name}
		for _, v := range []*compare.Values{r.Values, r.Relative} {
			for _, m := range metrics {
				text := ""
				if v != nil {
					text = plain(v.Of(m))
				}
				cells = append(cells, text)
			}
		}
		if v := r.Values; heat && v != nil {
			cells = append(cells, plain(v.RootLow), plain(v.RootHigh))
		} else if heat {
			cells = append(cells, "", "")
		}
		meets := ""
		if r.MeetsChecks != nil {
			meets = strconv.FormatBool(*r.MeetsChecks)
		}
		t.add(append(cells, heatWord(r), strings.Join(r.Excluded, "; "), strings.Join(r.NotMet, " "), r.Note,
			string(r.Penetration), plain(some(r.RootFaceMM)), strconv.FormatBool(r.Best), meets,
			strings.Join(r.NotPriced, "; "), metricWords(r.FromMemory), strconv.FormatBool(r.NotOnFile))...)
	}
	return t.csv(w)
}

// metricWords lists metrics by their ids.
func metricWords(list []compare.Metric) string {
	words := make([]string, len(list))
	for i := range list {
		words[i] = string(list[i])
	}
	return strings.Join(words, " ")
}
