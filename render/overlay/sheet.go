package overlay

import (
	"errors"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/macro"
	"fay/render"
	"fay/render/lettering"
)

// Line is a label with its value, both printed as they are.
type Line struct{ Label, Value string }

// Sheet is what an overlay shows.
type Sheet struct {
	Section  *joints.Section
	Report   *macro.Report
	Title    string
	Heads    []Line // sample, weld, day, …
	Cautions []string
	Foot     string // at the lower right, e.g. the digest
}

// Page is a sheet of paper, mm.
type Page struct{ Width, Height float64 }

// The pages, upright.
var (
	A4     = Page{210, 297}
	Letter = Page{8.5 * 25.4, 11 * 25.4}
)

// Borders: 20 mm at the filing edge, 10 mm elsewhere (ISO 5457, secondary).
const (
	filing   = 20.0
	border   = 10.0
	pad      = 4.0
	row      = 4.6 // of a table, with its hairline
	pitch    = 4.0 // of the lines of a paragraph
	leastRow = 90.0
)

// ErrNothing is returned for a sheet without a section or a report.
var ErrNothing = errors.New("overlay: a section and a report are needed")

// pen draws tables and text down the sheet.
type pen struct {
	style       *render.Style
	items       []render.Item
	left, right float64
	role        string
}

func (p *pen) text(x, y, height float64, align render.Align, face render.Face, content string) {
	if content == "" {
		return
	}
	p.items = append(p.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: p.role,
		Text: &render.Text{At: geometry.Point{X: x, Y: y}, Height: height, Align: align, Face: face, Content: content}})
}

func (p *pen) line(width, x0, y0, x1, y1 float64) {
	p.items = append(p.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: p.role, Path: &render.Path{
		Stroke: &render.Stroke{Width: width}, Edges: []geometry.Edge{geometry.Line(geometry.Point{X: x0, Y: y0}, geometry.Point{X: x1, Y: y1})}}})
}

func (p *pen) rect(width float64, b geometry.Box) {
	p.line(width, b.Min.X, b.Min.Y, b.Max.X, b.Min.Y)
	p.line(width, b.Max.X, b.Min.Y, b.Max.X, b.Max.Y)
	p.line(width, b.Max.X, b.Max.Y, b.Min.X, b.Max.Y)
	p.line(width, b.Min.X, b.Max.Y, b.Min.X, b.Min.Y)
}

// cut shortens a text to a width.
func cut(text string, face render.Face, height, width float64) string {
	text, _ = lettering.Clip(text, face, height, width)
	return text
}

// Draw draws the sheet. Everything is on it: where the notes are many, the view
// is smaller. The error is ErrNothing.
func Draw(s *Sheet, style *render.Style, page Page) (*render.Drawing, error) {
	if s.Section == nil || s.Report == nil {
		return nil, ErrNothing
	}
	frame := geometry.Box{Min: geometry.Point{X: filing, Y: border}, Max: geometry.Point{X: page.Width - border, Y: page.Height - border}}
	p := &pen{style: style, left: frame.Min.X + pad, right: frame.Max.X - pad, role: "frame"}
	p.rect(style.FrameLine().Width, frame)
	top := p.heading(s, frame.Max.Y-pad)
	bottom := p.below(s, frame.Min.Y+pad, top-leastRow)
	window := geometry.Box{Min: geometry.Point{X: p.left, Y: bottom + pad + row}, Max: geometry.Point{X: p.right, Y: top - 2}}
	v := newView(s, style, window)
	p.legend(v, bottom+pad)
	v.draw()
	p.role = "window"
	p.rect(style.Narrow, window)
	d := &render.Drawing{Width: page.Width, Height: page.Height, Title: s.Title, Description: describe(s, v.scale), Language: style.Language.Tag(),
		Views: []render.View{{Name: "overlay", Scale: v.scale, Origin: v.at(geometry.Point{})}}}
	d.Items = slices.Concat(v.items, p.items)
	return d, nil
}

func describe(s *Sheet, scale float64) string {
	return s.Title + ". Section as measured over the plan, scale " + render.ScaleText(scale) + ". " + string(s.Report.Verdict) + "."
}

// heading sets the title and what the record says of itself; it returns the
// height it ends at.
func (p *pen) heading(s *Sheet, top float64) float64 {
	p.role = "heading"
	st := p.style
	verdict := "verdict: " + st.Word("verdict."+string(s.Report.Verdict))
	wide := lettering.Measure(verdict, render.FaceBold, st.TextHeight)
	y := top - st.TitleHeight
	p.text(p.left, y, st.TitleHeight, render.AlignLeft, render.FaceBold, cut(s.Title, render.FaceBold, st.TitleHeight, p.right-p.left-wide-8))
	p.text(p.right, y, st.TextHeight, render.AlignRight, render.FaceBold, verdict)
	y -= 3.5
	h := st.SmallHeight
	x := p.left
	y -= h
	for _, l := range s.Heads {
		if l.Value == "" {
			continue
		}
		text := cut(l.Label+": "+l.Value, render.FaceRegular, h, p.right-p.left)
		wide := lettering.Measure(text, render.FaceRegular, h)
		if x > p.left && x+wide > p.right {
			x, y = p.left, y-pitch
		}
		p.text(x, y, h, render.AlignLeft, render.FaceRegular, text)
		x += wide + 5
	}
	return y - 2
}

// columns of the item table: their right ends as shares of the width.
var columns = [...]float64{0.30, 0.42, 0.60, 0.72, 0.84, 1}

// below sets table, notes and cautions on the foot of the sheet, up to most; it
// returns the height they reach to.
func (p *pen) below(s *Sheet, bottom, most float64) float64 {
	h := p.style.SmallHeight
	width := p.right - p.left
	type line struct {
		text string
		face render.Face
		gap  float64 // over it
	}
	var lines []line
	add := func(mark, text string, face render.Face) {
		for i, l := range lettering.Wrap(p.style.Numbers.Marked(text), face, h, width-5) {
			gap := 0.0
			if i == 0 {
				gap = 0.8
				l = mark + l
			}
			lines = append(lines, line{l, face, gap})
		}
	}
	for i := range s.Report.Flags {
		add("✗ ", s.Report.Flags[i].Text, render.FaceBold)
	}
	for i := range s.Report.Findings {
		if f := &s.Report.Findings[i]; f.Verdict == check.NotMet {
			add("✗ ", f.Title+" ["+f.Source.Document+" "+f.Source.Clause+", "+string(f.Provenance)+"]", render.FaceRegular)
		}
	}
	for _, n := range s.Report.Notes {
		add("", n, render.FaceRegular)
	}
	for _, c := range s.Cautions {
		add("! ", c, render.FaceRegular)
	}
	table := float64(len(s.Report.Items)+1)*row + 3
	room := most - bottom - table - pitch
	high := 0.0
	for i := range lines {
		step := pitch + lines[i].gap
		if high+step > room {
			lines = append(lines[:i], line{"… the rest is in the report", render.FaceRegular, 0})
			high += pitch
			break
		}
		high += step
	}
	p.role = "foot"
	y := bottom
	p.text(p.right, y, h, render.AlignRight, render.FaceRegular, cut(s.Foot, render.FaceRegular, h, width))
	y += pitch + 1 + high
	top := y + table
	p.role = "notes"
	for i := range lines {
		y -= pitch + lines[i].gap
		p.text(p.left, y+1, h, render.AlignLeft, lines[i].face, lines[i].text)
	}
	p.table(s, top)
	return top
}

// table lists the items from top down.
func (p *pen) table(s *Sheet, top float64) {
	p.role = "table:items"
	unit := p.style.Numbers.Name()
	y := top - row
	p.cells(y, render.FaceBold, "measured on the section, "+unit, "planned", "allowed", "measured", "difference", "verdict")
	p.line(0.35, p.left, y-0.3, p.right, y-0.3)
	for i := range s.Report.Items {
		it := &s.Report.Items[i]
		y -= row
		name := it.Name
		if it.Member != "" {
			name += ", " + it.Member
		}
		if it.Unit == joints.UnitMM2 {
			name += ", " + unit + "²"
		}
		number := func(v *float64) string {
			if v == nil {
				return "–"
			}
			return p.style.Numbers.Value(*v, it.Unit)
		}
		difference := "–"
		if it.Difference != nil {
			difference = signed(p.style, *it.Difference, it.Unit)
		}
		face := render.FaceRegular
		if it.Verdict == check.NotMet {
			face = render.FaceBold
		}
		p.cells(y, face, name, number(it.Planned), p.allowed(it), number(it.Measured), difference, p.style.Word("verdict."+string(it.Verdict)))
		p.line(0.18, p.left, y-0.3, p.right, y-0.3)
	}
}

// allowed letters the limits of an item.
func (p *pen) allowed(it *macro.Item) string {
	number := func(v float64) string { return p.style.Numbers.Value(v, it.Unit) }
	switch {
	case it.Low != nil && it.High != nil:
		return number(*it.Low) + " to " + number(*it.High)
	case it.Low != nil:
		return "≥ " + number(*it.Low)
	case it.High != nil:
		return "≤ " + number(*it.High)
	case len(it.Rules) > 0:
		return "by rule"
	}
	return "–"
}

func (p *pen) cells(y float64, face render.Face, texts ...string) {
	h := p.style.SmallHeight
	width := p.right - p.left
	from := 0.0
	for i, t := range texts {
		t = cut(t, face, h, (columns[i]-from)*width-2)
		if i == 0 {
			p.text(p.left, y+1, h, render.AlignLeft, face, t)
		} else {
			p.text(p.left+columns[i]*width, y+1, h, render.AlignRight, face, t)
		}
		from = columns[i]
	}
}

// legend says which line is what and at which scale, on one line of lettering.
func (p *pen) legend(v *view, y float64) {
	p.role = "legend"
	h := p.style.SmallHeight
	x := p.left
	set := func(text string, stroke *render.Stroke) {
		const stretch = 16.0
		from, to := geometry.Point{X: x, Y: y + h/2}, geometry.Point{X: x + stretch, Y: y + h/2}
		p.items = append(p.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: p.role, Path: &render.Path{Edges: []geometry.Edge{geometry.Line(from, to)}, Stroke: stroke}})
		p.text(to.X+2, y, h, render.AlignLeft, render.FaceRegular, text)
		x = to.X + 8 + lettering.Measure(text, render.FaceRegular, h)
	}
	measured := "measured"
	if o := v.report.Outline; o != nil && o.Recovered {
		measured += ", fitted to points"
	}
	set(measured, p.style.WideLine())
	set("planned", p.style.FormerLine())
	p.text(p.right, y, h, render.AlignRight, render.FaceRegular, p.style.Word("scale")+" "+render.ScaleText(v.scale))
}

func words(id string) string { return strings.ReplaceAll(id, "-", " ") }
