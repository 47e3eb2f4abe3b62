package cli

import (
	"bytes"
	"strconv"
	"strings"

	"fay/joints"
	"fay/joints/check"
	"fay/joints/macro"
	"fay/joints/result"
)

// macroFacts are the facts of the joint that a record is held against. A section
// does not show the length of its seam.
func (j *job) macroFacts() check.Facts {
	return check.Facts{Section: &j.doc.Section, Families: j.families(), Units: j.bare, Converted: j.converted()}
}

// printMacro prints the reports.
func printMacro(w *bytes.Buffer, f format, all []evaluated) error {
	switch f {
	case asJSON:
		return result.WriteJSON(w, macroResult(all))
	case asCSV:
		return macroCSV(w, all)
	}
	for i := range all {
		if i > 0 {
			printf(w, "\n")
		}
		all[i].print(w, f)
	}
	tail(w, f, nil, macroCautions(all))
	return nil
}

// plus prints a value with its sign.
func (q quantities) plus(v float64, unit joints.Unit) string {
	text := q.value(v, unit)
	if v > 0 && text != q.value(0, unit) {
		return "+" + text
	}
	return text
}

// allowed prints the limits of an item.
func (q quantities) allowed(it *macro.Item) string {
	switch {
	case it.Low != nil && it.High != nil:
		return q.value(*it.Low, it.Unit) + " to " + q.value(*it.High, it.Unit)
	case it.Low != nil:
		return "≥ " + q.value(*it.Low, it.Unit)
	case it.High != nil:
		return "≤ " + q.value(*it.High, it.Unit)
	case len(it.Rules) > 0:
		return "by rule"
	}
	return ""
}

// print prints one report for people.
func (e *evaluated) print(w *bytes.Buffer, f format) {
	j, r := e.job, &e.report
	q := j.quantities()
	if f == asMD {
		printf(w, "# %s\n\n", j.doc.Section.Title)
	} else {
		printf(w, "%s\n", j.doc.Section.Title)
	}
	printf(w, "%s\n", strings.Join(j.given(q), ", "))
	heading(w, f, e.headline(q)+": "+string(r.Verdict))
	t := table{heads: []string{"item", "planned", "allowed", "measured", "difference", "verdict", "rules"}}
	for i := range r.Items {
		it := &r.Items[i]
		number := func(v *float64) string {
			if v == nil {
				return ""
			}
			return q.value(*v, it.Unit)
		}
		name, difference := it.Name, ""
		if it.Member != "" {
			name += ", " + it.Member
		}
		if it.Difference != nil {
			difference = q.plus(*it.Difference, it.Unit)
		}
		t.add(name, number(it.Planned), q.allowed(it), number(it.Measured), difference, string(it.Verdict), strings.Join(it.Rules, " "))
	}
	t.in(f, w)
	for i := range r.Flags {
		printFlag(w, f, &r.Flags[i])
	}
	for i := range r.Findings {
		printFinding(w, f, &r.Findings[i])
	}
	notes := []string{}
	for i := range r.Items {
		it := &r.Items[i]
		name := strings.TrimSpace(it.Name + " " + it.Member)
		if it.Note != "" && it.Measured != nil {
			notes = append(notes, name+": "+it.Note)
		}
	}
	notes = append(notes, bases(r.Items)...)
	notes = append(notes, r.Notes...)
	tail(w, f, append(notes, j.allNotes()...), nil)
}

// bases tells where limits come from, each source once.
func bases(items []macro.Item) []string {
	var order []string
	names := map[string][]string{}
	for i := range items {
		it := &items[i]
		if it.Basis == "" || it.Measured == nil {
			continue
		}
		if names[it.Basis] == nil {
			order = append(order, it.Basis)
		}
		names[it.Basis] = append(names[it.Basis], strings.TrimSpace(it.Name+" "+it.Member))
	}
	out := make([]string, len(order))
	for i, b := range order {
		out[i] = strings.Join(names[b], ", ") + " allowed by " + b
	}
	return out
}

// headline names the sample.
func (e *evaluated) headline(q quantities) string {
	rec := e.report.Record
	parts := []string{"Sample " + rec.Sample, e.report.Weld.ID + " weld"}
	if rec.Position.Present {
		parts = append(parts, q.length(float64(rec.Position.Value))+" along the seam")
	}
	for _, v := range []string{e.date, rec.Inspector} {
		if v != "" {
			parts = append(parts, v)
		}
	}
	if rec.Etchant != "" {
		parts = append(parts, "etched with "+rec.Etchant)
	}
	return strings.Join(parts, ", ")
}

func printFlag(w *bytes.Buffer, f format, flag *macro.Flag) {
	bullet := "  "
	if f == asMD {
		bullet = "- "
		printf(w, "\n**%s**\n\n", flag.Text)
	} else {
		printf(w, "\n%s\n", flag.Text)
	}
	for _, s := range flag.Steps {
		printf(w, "%s%s → %s → %s\n", bullet, s.Symbols, s.Numbers, s.Result)
	}
}

// macroCSV prints the items of all reports for spreadsheets, in the units of
// the model.
func macroCSV(w *bytes.Buffer, all []evaluated) error {
	t := table{heads: []string{
		"date", "joint", "sample", "weld", "position_mm", "item", "member", "unit", "planned", "low", "high", "measured", "difference", "verdict",
		"basis", "rules", "note", "digest",
	}}
	for i := range all {
		e := &all[i]
		rec := e.report.Record
		position := ""
		if rec.Position.Present {
			v := float64(rec.Position.Value)
			position = plain(&v)
		}
		for k := range e.report.Items {
			it := &e.report.Items[k]
			t.add(e.date, e.job.doc.Section.Title, rec.Sample, e.report.Weld.ID, position, it.ID, it.Member, string(it.Unit), plain(it.Planned),
				plain(it.Low), plain(it.High), plain(it.Measured), plain(it.Difference), string(it.Verdict), it.Basis, strings.Join(it.Rules, " "), it.Note,
				e.job.doc.Digest)
		}
	}
	return t.csv(w)
}

// historyItems are the items that a history shows side by side, where they
// were measured.
var historyItems = []string{"leg-a", "leg-b", "throat", "penetration", "convexity", "undercut", "gap", "cap-height", "root-height", "hi-lo"}

// printHistory prints the records of a log by joint and weld.
func printHistory(w *bytes.Buffer, f format, list []macro.History, q quantities) {
	for i := range list {
		h := &list[i]
		if i > 0 {
			printf(w, "\n")
		}
		title := historyTitle(h)
		if f == asMD {
			printf(w, "# %s\n\n", title)
		} else {
			printf(w, "%s\n", title)
		}
		t := table{heads: []string{"date", "sample", "position"}}
		var shown []string
		for _, id := range historyItems {
			for k := range h.Trends {
				if h.Trends[k].Item == id {
					shown = append(shown, id)
					t.heads = append(t.heads, macroWords(id))
				}
			}
		}
		t.heads = append(t.heads, "verdict")
		for k := range h.Entries {
			e := &h.Entries[k]
			row := make([]string, 0, len(t.heads))
			row = append(row, e.Date, e.Sample, "")
			if v, err := strconv.ParseFloat(e.Position, 64); err == nil {
				row[2] = q.length(v)
			}
			for _, id := range shown {
				cell := ""
				if it, ok := e.Item(id); ok {
					if cell = q.value(it.Measured, joints.UnitMM); it.Verdict == check.NotMet {
						cell += " ✗"
					}
				}
				row = append(row, cell)
			}
			t.add(append(row, string(e.Verdict))...)
		}
		t.in(f, w)
		printTrends(w, f, h, q)
	}
}

func printTrends(w *bytes.Buffer, f format, h *macro.History, q quantities) {
	heading(w, f, "Trend")
	t := table{heads: []string{"item", "records", "mean", "least", "largest", "change", "margin", "not met"}}
	for k := range h.Trends {
		r := &h.Trends[k]
		change, margin := "", ""
		if r.Change != nil {
			change = q.plus(*r.Change, r.Unit)
		}
		if r.Margin != nil {
			margin = q.value(*r.Margin, r.Unit)
		}
		t.add(macroWords(r.Item), strconv.Itoa(r.Count), q.value(r.Mean, r.Unit), q.value(r.Least, r.Unit), q.value(r.Largest, r.Unit),
			change, margin, strconv.Itoa(r.NotMet))
	}
	t.in(f, w)
	notes := []string{"change is from the earlier half of the records to the later one, mean to mean; margin is the smallest distance to a limit"}
	if len(h.Digests) > 1 {
		notes = append(notes, "the joint was planned in "+strconv.Itoa(len(h.Digests))+" versions; limits are those of each record's own")
	}
	tail(w, f, notes, nil)
}

// historyTitle names the joint and weld of a history.
func historyTitle(h *macro.History) string {
	title := h.Joint
	if h.Part != "" {
		title += ", " + h.Part
	}
	return title + ", " + h.Weld + " weld"
}

func macroWords(id string) string {
	if id == "hi-lo" {
		return id
	}
	return strings.ReplaceAll(id, "-", " ")
}
