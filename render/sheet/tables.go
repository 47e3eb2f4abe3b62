package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/render"
	"fay/render/layout"
	"fay/render/lettering"
)

// blocks are all tables of the job in the order of their use at the bench,
// made for a column width.
func (c *composer) blocks(width float64) []block {
	narrow := c.spacing.columns > 0
	list := make([]block, 0, 8+len(c.job.FitUp))
	add := func(b block) {
		if len(b.rows) > 0 {
			list = append(list, b)
		}
	}
	add(c.once(setting{what: "welds", width: width, narrow: narrow}, c.weldTable))
	add(c.once(setting{what: "fitup", width: width}, c.fitUp))
	for i := range c.job.FitUp {
		legs := setting{what: "legs", number: i, width: width, narrow: narrow, lines: c.spacing.legs}
		add(c.once(legs, func(width float64) block { return c.legsByGap(width, &c.job.FitUp[i]) }))
	}
	add(c.once(setting{what: "materials", width: width}, c.materials))
	add(c.once(setting{what: "filler", width: width}, c.filler))
	add(c.once(setting{what: "passes", width: width, narrow: narrow}, c.passes))
	add(c.once(setting{what: "heat", width: width}, c.heat))
	add(c.once(setting{what: "findings", width: width}, c.findings))
	// Notes come last, because cutting the others short adds to them.
	add(c.noteList(width))
	return list
}

// setting is all that the rows of a block of a job depend on.
type setting struct {
	what   string
	number int // of several of a kind
	width  float64
	narrow bool // words are shortened
	lines  int  // there may be
	text   string
}

// made is a block with the texts that were cut short for it.
type made struct {
	block block
	cut   []string
}

// once sets a block, unless its rows have been set before: sheets are tried in
// several spacings, and with other notes.
func (c *composer) once(s setting, set func(width float64) block) block {
	m, ok := c.made[s]
	if !ok {
		noted := c.notes
		c.notes = nil
		m.block = set(s.width)
		m.cut, c.notes = c.notes, noted
		c.made[s] = m
	}
	for _, text := range m.cut {
		c.overflow("", text)
	}
	m.block.spacing = c.spacing
	return m.block
}

// weldRows are the measures of a weld that the table lists, in order.
var weldRows = []string{
	"leg", "gauge leg", "theoretical throat", "effective throat", "actual throat", "convexity", "concavity",
	"penetration", "edge remaining", "root opening", "cap width", "cap height", "root width", "root height",
	"area", "deposited area",
}

// weldTable lists the numbers of every weld, a column each; two like welds
// share one.
func (c *composer) weldTable(width float64) block {
	sec := c.job.Section
	welds := make([]string, 0, len(sec.Welds))
	heads := []string{""}
	alike := layout.Alike(sec)
	for i := range sec.Welds {
		if alike && i > 0 {
			break
		}
		w := &sec.Welds[i]
		welds = append(welds, w.ID)
		if alike {
			heads = append(heads, c.word("weld.both"))
		} else {
			heads = append(heads, c.side(strings.TrimPrefix(w.ID, lowerStem)))
		}
	}
	b := block{spacing: c.spacing, title: c.word("table.welds") + ", " + c.style.Numbers.Name()}
	// More than two welds stand two by two, one pair under the other, those of
	// the two stems of a cross apart.
	for len(welds) > 0 {
		n := min(2, len(welds))
		stem := ""
		if len(sec.Welds) > 2 {
			stem = c.stemOf(welds[0])
			if n == 2 && c.stemOf(welds[1]) != stem {
				n = 1
			}
		}
		lines := append([][]string{append([]string{stem}, heads[1:n+1]...)}, c.weldLines(welds[:n])...)
		welds, heads = welds[n:], heads[n:]
		if len(welds) == 0 {
			lines = append(lines, c.totals(n, len(sec.Welds) > 1 && !alike)...)
		}
		head, rows := c.grid(width, lines)
		if b.head == nil {
			b.head = head
		} else {
			b.rows = append(b.rows, *head)
		}
		b.rows = append(b.rows, rows...)
	}
	return b
}

// stemOf names the stem of a cross that a weld lies at.
func (c *composer) stemOf(weld string) string {
	if strings.HasPrefix(weld, lowerStem) {
		return c.word("member.lower")
	}
	return c.word("member.upper")
}

// weldLines are the lines of the table for some of the welds.
func (c *composer) weldLines(welds []string) [][]string {
	sec := c.job.Section
	var lines [][]string
	for _, name := range weldRows {
		if name == "deposited area" && allDeposited(sec) {
			continue
		}
		var group [][]string
		for _, member := range membersOf(sec, name, welds) {
			if row, ok := c.weldRow(name, member, welds); ok {
				group = append(group, row)
			}
		}
		// Two members with the same values need one line.
		if len(group) == 2 && slices.Equal(group[0][1:], group[1][1:]) && name == "leg" {
			group[0][0] = c.word("legs")
			group = group[:1]
		}
		lines = append(lines, group...)
	}
	return lines
}

// totals are the areas of all welds, under the last of so many columns.
func (c *composer) totals(columns int, several bool) [][]string {
	sec := c.job.Section
	var lines [][]string
	for i := range sec.Measures {
		m := &sec.Measures[i]
		if !several || m.Name == "deposited area" && allDeposited(sec) || m.Weld != "" || m.Member != "" || m.Unit != joints.UnitMM2 {
			continue
		}
		texts := make([]string, columns+1)
		texts[0], texts[columns] = c.word("total")+" "+c.word("measure."+m.Name)+", "+c.areaUnit(), c.style.Numbers.Value(m.Value, m.Unit)
		lines = append(lines, texts)
	}
	return lines
}

// side is what a column of a weld is headed with: the word side goes where
// columns are narrow.
func (c *composer) side(id string) string {
	text := c.word("weld." + id)
	if c.spacing.columns > 0 || len(c.job.Section.Welds) > 2 {
		return strings.TrimSuffix(text, " side")
	}
	return text
}

// allDeposited tells whether no weld melts any base metal, so that all of its
// area is filler.
func allDeposited(sec *joints.Section) bool {
	for i := range sec.Welds {
		if w := &sec.Welds[i]; math.Abs(w.Area-w.DepositedArea) > 1e-9*w.Area {
			return false
		}
	}
	return true
}

func (c *composer) areaUnit() string { return c.style.Numbers.Name() + "²" }

// membersOf lists the members a measure is taken on, in order of appearance;
// one empty name where it is not taken on members.
func membersOf(sec *joints.Section, name string, welds []string) []string {
	var names []string
	for i := range sec.Measures {
		m := &sec.Measures[i]
		if m.Name != name || !slices.Contains(welds, m.Weld) || slices.Contains(names, m.Member) {
			continue
		}
		names = append(names, m.Member)
	}
	return names
}

// weldRow is one measure over all welds; ok is false where it says nothing.
func (c *composer) weldRow(name, member string, welds []string) ([]string, bool) {
	sec := c.job.Section
	label := c.word("measure." + name)
	if member != "" {
		label += ", " + c.word("member."+member)
	}
	texts := make([]string, len(welds)+1)
	said := false
	for i, id := range welds {
		w, _ := sec.Weld(id)
		texts[i+1] = "–"
		for k := range sec.Measures {
			m := &sec.Measures[k]
			if m.Name != name || m.Weld != id || m.Member != member {
				continue
			}
			// A gauge reads the leg itself on a square joint.
			if name == "gauge leg" && w != nil && w.Dihedral == 90*geometry.Degree {
				continue
			}
			if m.Unit == joints.UnitMM2 {
				label = c.word("measure."+name) + ", " + c.areaUnit()
				if name == "area" && allDeposited(sec) {
					label = c.word("area.deposited") + ", " + c.areaUnit()
				}
			}
			texts[i+1] = c.style.Numbers.Toleranced(m.Value, m.Unit, m.Tolerance)
			said = true
		}
	}
	texts[0] = label
	return texts, said
}

// materials lists the members with a place for the number of the heat or lot.
func (c *composer) materials(width float64) block {
	b := block{spacing: c.spacing, title: c.word("table.materials")}
	if len(c.job.Materials) == 0 {
		return b
	}
	lines := [][]string{{"", "", c.word("lot")}}
	h, used := c.style.SmallHeight, lettering.Measure(c.word("lot"), render.FaceBold, c.style.SmallHeight)
	for _, l := range c.job.Materials {
		if lettering.Measure(l.Label+l.Value, render.FaceRegular, h)+used+3*cellGap > width {
			return c.pairs(b.title, c.job.Materials, width) // long names need the room of the box
		}
		lines = append(lines, []string{l.Label, l.Value, ""})
	}
	head, rows := c.lined(width, lines, lotBox)
	b.head = head
	for _, r := range rows {
		b.rows = append(b.rows, c.boxed(r, lotBox))
	}
	return b
}

func (c *composer) filler(width float64) block {
	return c.pairs(c.word("table.filler"), c.job.Filler, width)
}

func (c *composer) heat(width float64) block {
	return c.pairs(c.word("table.heat"), c.job.Heat, width)
}

func (c *composer) pairs(title string, lines []Line, width float64) block {
	b := block{spacing: c.spacing, title: title}
	for _, l := range lines {
		b.rows = append(b.rows, c.pair(width, l))
	}
	return b
}

// findings tells what is not met in full and counts the rest.
func (c *composer) findings(width float64) block {
	b := block{spacing: c.spacing, title: c.word("table.findings")}
	if len(c.job.Findings) == 0 {
		return b
	}
	count := map[check.Verdict]int{}
	for i := range c.job.Findings {
		f := &c.job.Findings[i]
		count[f.Verdict]++
		if f.Verdict == check.NotMet {
			b.rows = append(b.rows, c.finding(width, f))
		}
	}
	b.rows = append([]row{c.paragraph(width, "", c.summary(count)+c.checked())}, b.rows...)
	return b
}

// checked names the documents behind the findings in sentences, by themselves
// those that are not written for a metal of the joint and those that say nothing
// of it.
func (c *composer) checked() string {
	var heads []string
	titles := map[string][]string{}
	for _, d := range c.job.Checked {
		head := c.word("checked")
		switch {
		case d.Idle:
			head = c.word("idle")
		case d.NotFor != "":
			head = c.word("not.for") + " " + d.NotFor
		}
		if titles[head] == nil {
			heads = append(heads, head)
		}
		titles[head] = append(titles[head], d.Title)
	}
	var text strings.Builder
	for _, head := range heads {
		text.WriteString(" " + head + ": " + strings.Join(titles[head], "; ") + ".")
	}
	return text.String()
}

// summary counts the verdicts in a sentence: 4 checks met, none failed; 2 do
// not apply.
func (c *composer) summary(count map[check.Verdict]int) string {
	of := func(n int) string {
		if n == 1 {
			return "1 " + c.word("check")
		}
		return strconv.Itoa(n) + " " + c.word("checks")
	}
	var parts []string
	met, failed := count[check.Met], count[check.NotMet]
	switch {
	case failed > 0 && met > 0:
		parts = append(parts, of(failed)+" "+c.word("summary.failed")+", "+strconv.Itoa(met)+" "+c.word("summary.met"))
	case failed > 0:
		parts = append(parts, of(failed)+" "+c.word("summary.failed"))
	case met > 0:
		parts = append(parts, of(met)+" "+c.word("summary.met")+", "+c.word("summary.none"))
	}
	if n := count[check.CannotTell]; n > 0 {
		parts = append(parts, strconv.Itoa(n)+" "+c.word("summary.cannot tell"))
	}
	switch n := count[check.NotApplicable]; {
	case n > 0 && len(parts) == 0:
		return c.word("summary.nothing")
	case n == 1:
		parts = append(parts, "1 "+c.word("summary.one no"))
	case n > 1:
		parts = append(parts, strconv.Itoa(n)+" "+c.word("summary.no"))
	}
	return strings.Join(parts, "; ") + "."
}

func (c *composer) finding(width float64, f *check.Finding) row {
	n := c.style.Numbers
	text := f.Title
	if f.Weld != "" {
		text += " (" + c.word("weld."+f.Weld) + ")"
	}
	if f.Provided != nil && f.Required != nil {
		text += ": " + n.Value(*f.Provided, f.Unit) + ", " + c.word("needs") + " " + string(f.Operator) + " " + n.Value(*f.Required, f.Unit) + c.unitOf(f.Unit)
	}
	if f.Mend != "" {
		text += "; " + f.Mend
	}
	source := strings.TrimSpace(f.Source.Document + " " + f.Source.Clause)
	if source != "" {
		text += " [" + source
		if f.Provenance == check.Memory {
			text += ", " + c.word("memory")
		}
		text += "]"
	}
	return c.paragraph(width, "✗", text)
}

func (c *composer) unitOf(u joints.Unit) string {
	if u == joints.UnitMM {
		return " " + c.style.Numbers.Name()
	}
	if u == joints.UnitMM2 {
		return " " + c.areaUnit()
	}
	return "" // angles and percentages carry theirs
}

// noteList prints the job's notes, the section's, measures that found no place
// on the drawing, and texts that were cut short elsewhere.
func (c *composer) noteList(width float64) block {
	b := block{spacing: c.spacing, title: c.word("table.notes")}
	notes := append(append([]string{}, c.job.Section.Notes...), c.job.Notes...)
	for i := range c.unplaced {
		m := &c.unplaced[i]
		text := c.word("measure." + m.Name)
		if m.Member != "" {
			text += ", " + c.word("member."+m.Member)
		}
		if m.Weld != "" {
			text += ", " + c.word("weld."+m.Weld)
		}
		notes = append(notes, c.word("unplaced")+": "+text+" "+c.style.Dimension(m.Value, m.Unit, m.Tolerance))
	}
	if text := c.aboutSymbols(); !c.closing {
		notes = append(notes, text)
	}
	notes = append(notes, c.notes...)
	for _, text := range notes {
		if strings.TrimSpace(text) != "" {
			b.rows = append(b.rows, c.paragraph(width, strconv.Itoa(len(b.rows)+1), text))
		}
	}
	return b
}

// overflow keeps a text that was cut short for the notes.
func (c *composer) overflow(label, text string) {
	if label != "" && label != text {
		text = label + ": " + text
	}
	if !slices.Contains(c.notes, text) {
		c.notes = append(c.notes, text)
	}
}
