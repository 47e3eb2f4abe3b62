package cli

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints/compare"
	"fay/joints/jointfile"
	"fay/render"
	"fay/render/plot"
)

// verdict is the result in sentences.
func (b *breakEven) verdict() []string {
	out := make([]string, 0, len(b.Crossings))
	told := map[float64]bool{} // stretches, by their beginnings
	for _, c := range b.Crossings {
		below, above := b.names(c.FirstBelow)
		if c.To > c.At {
			told[c.At] = true
			out = append(out, fmt.Sprintf("%s = %s to %s: below it %s takes less, above it %s; between, both come to the same", b.name, b.show(c.At), b.show(c.To), below, above))
			continue
		}
		line := fmt.Sprintf("%s = %s: below it %s takes less, above it %s", b.name, b.show(c.At), below, above)
		if c.Jump {
			line += " (a step: the two never come to the same)"
		}
		out = append(out, line)
	}
	var alike []string
	for _, e := range b.Equal {
		if !told[e.From] {
			alike = append(alike, b.show(e.From)+" to "+b.show(e.To))
		}
	}
	if len(out) > 0 {
		if len(alike) > 0 {
			out = append(out, "both come to the same from "+strings.Join(alike, ", "))
		}
		return out
	}
	for _, s := range b.Samples {
		if d := s.A - s.B; d != 0 && !math.IsNaN(d) {
			below, above := b.names(d < 0)
			if len(alike) > 0 {
				return []string{fmt.Sprintf("no break-even from %s to %s: %s never takes more than %s; both come to the same from %s",
					b.show(b.lo), b.show(b.hi), below, above, strings.Join(alike, ", "))}
			}
			return []string{fmt.Sprintf("no break-even from %s to %s: %s takes less wherever both can be made", b.show(b.lo), b.show(b.hi), below)}
		}
	}
	return []string{"both come to the same everywhere"}
}

func (b *breakEven) print(w *bytes.Buffer, f format) {
	title := "Break-even by " + b.title()
	bullet := ""
	if f == asMD {
		printf(w, "# %s\n\n", title)
		bullet = "- "
	} else {
		printf(w, "%s\n\n", title)
	}
	for _, line := range b.verdict() {
		printf(w, "%s%s\n", bullet, line)
	}
	printf(w, "\n")
	t := table{heads: []string{b.name, b.set.list[0].name, b.set.list[1].name, "second over first"}}
	const every = 8
	for i := 0; i < len(b.Samples); i += every {
		s := b.Samples[i]
		cell := func(v float64) string {
			if math.IsNaN(v) {
				return "–"
			}
			return strings.TrimSpace(significant(v) + " " + b.unit)
		}
		over := ""
		if s.A != 0 && !math.IsNaN(s.A+s.B) {
			over = fmt.Sprintf("%+.0f %%", (s.B/s.A-1)*100)
		}
		t.add(b.show(s.At), cell(s.A), cell(s.B), over)
	}
	t.in(f, w)
	block(w, f, "Cost, at your own prices", b.costLines())
	block(w, f, "Taken", b.takenLines())
	notes := slices.Clone(b.set.notes)
	if b.memory {
		notes = append(notes, memoryMark+": "+memoryNote)
	}
	if b.Unmade != "" {
		notes = append([]string{"–: " + b.Unmade}, notes...)
	}
	tail(w, f, notes, []string{breakEvenCaution})
}

// title is the metric, with the mark of numbers from memory.
func (b *breakEven) title() string {
	if b.memory {
		return b.metric.Title() + " " + memoryMark
	}
	return b.metric.Title()
}

// takenLines say what the numbers are reckoned from, over all of the range.
func (b *breakEven) takenLines() []string {
	var of sayings
	for i := range b.taken {
		for k := range b.taken[i] {
			of.add(b.set.list[i].name, takenText(b.set.quantities(), &b.taken[i][k]))
		}
	}
	return of.lines(len(b.taken))
}

// costLines say what the costs hold, where they are compared.
func (b *breakEven) costLines() []string {
	if b.metric != compare.Cost {
		return nil
	}
	return b.set.costLines(&b.sample)
}

func (b *breakEven) csv(w *bytes.Buffer) error {
	t := table{heads: []string{b.name, b.set.list[0].name, b.set.list[1].name}}
	for _, s := range b.Samples {
		cell := func(v float64) string {
			if math.IsNaN(v) {
				return ""
			}
			return plain(&v)
		}
		t.add(plain(&s.At), cell(s.A), cell(s.B))
	}
	return t.csv(w)
}

// plotNotes are the verdict and what the numbers rest on.
func (b *breakEven) plotNotes(style *render.Style) []string {
	notes := append(b.verdict(), b.costLines()...)
	if b.memory {
		notes = append(notes, memoryMark+": "+memoryNote)
	}
	for i := range notes {
		notes[i] = style.Numbers.Marked(notes[i])
	}
	return append(notes, breakEvenCaution)
}

// draw plots both curves with their crossings.
func (b *breakEven) draw() (*render.Drawing, error) {
	options := b.set.sheetOptions()
	style := options.Style()
	l := plot.Lines{
		Sheet: plot.Sheet{Title: "Break-even by " + b.metric.Title(), Subtitle: b.set.list[0].name + " against " + b.set.list[1].name,
			Notes: b.plotNotes(&style)},
		X: plot.Axis{Label: b.name}, Y: plot.Axis{Label: b.title(), Unit: b.unit, Zero: true},
	}
	scale := 1.0
	switch {
	case b.syn.Form == jointfile.LengthForm && b.syn.Bare == geometry.UnitInch:
		l.X.Unit, scale = "in", 1/float64(geometry.Inch)
	case b.syn.Form == jointfile.LengthForm:
		l.X.Unit = "mm"
	case b.syn.Form == jointfile.AngleForm:
		l.X.Unit = "°"
	}
	for i := range 2 {
		c := plot.Curve{Label: style.Numbers.Marked(b.set.list[i].name)}
		for _, p := range b.Points(i) {
			c.Points = append(c.Points, geometry.Point{X: p[0] * scale, Y: p[1]})
		}
		l.Curves = append(l.Curves, c)
	}
	for _, c := range b.Crossings {
		l.Limits = append(l.Limits, plot.Limit{Label: style.Numbers.Marked(b.show(c.At)), At: c.At * scale})
		if c.To > c.At {
			l.Limits = append(l.Limits, plot.Limit{Label: style.Numbers.Marked(b.show(c.To)), At: c.To * scale})
		}
	}
	d, err := l.Draw(&style, b.set.page())
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return d, nil
}
