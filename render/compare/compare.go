package compare

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/compare"
	"fay/render"
	"fay/render/layout"
	"fay/render/lettering"
	"fay/render/plot"
)

// Options are the choices of a sheet.
type Options struct {
	Style render.Style
	Page  plot.Page
	Title string
	// Metrics are drawn as bars in this order, the first ones that fit.
	Metrics []compare.Metric
	// Heading and Number letter a metric: its title with the unit, a value.
	Heading func(compare.Metric) string
	Number  func(compare.Metric, float64) string
	// Remark stands under the name of an alternative; nil says nothing.
	Remark func(*compare.Row) string
	// Notes stand under the columns.
	Notes []string
}

// ErrNothing is returned for a comparison without an alternative that can be
// drawn.
var ErrNothing = errors.New("compare: no alternative can be drawn")

// The sizes of a sheet, mm. Borders are those of the traveler: 20 mm at the
// filing edge, 10 mm elsewhere (ISO 5457, secondary).
const (
	filing    = 20.0
	border    = 10.0
	inside    = 4.0 // between the frame and what is in it
	air       = 1.5 // between a section and the frame of its column
	gutter    = 3.0 // between columns, and between rows of them
	rankHigh  = 7.0 // the strip of the rank
	barHigh   = 2.5
	rowHigh   = 7.4 // of a metric, at least
	mostPitch = 11.0
	mostBars  = 5
	leading   = 1.6
	mostName  = 5 // lines
	mostWhy   = 6
)

// Draw draws the rows in the order of the comparison on as few sheets as take
// sections that can be read, all at one scale.
func Draw(c *compare.Comparison, o Options) ([]*render.Drawing, error) {
	s := sheet{c: c, o: &o, frame: geometry.Box{Min: geometry.Point{X: filing, Y: border}, Max: geometry.Point{X: o.Page.Width - border, Y: o.Page.Height - border}}}
	s.settle()
	if err := s.fit(); err != nil {
		return nil, err
	}
	per := s.cols * s.rows
	var out []*render.Drawing
	for first := 0; first < len(c.Rows); first += per {
		out = append(out, s.draw(first, min(first+per, len(c.Rows)), (len(c.Rows)+per-1)/per))
	}
	return out, nil
}

// sheet is what all sheets of a comparison share.
type sheet struct {
	c        *compare.Comparison
	o        *Options
	frame    geometry.Box
	sections []*joints.Section // shortened; nil where there is none
	most     map[compare.Metric]float64
	known    []compare.Metric // that have a bar somewhere
	notes    []string
	top, low float64 // of the columns
	arrangement
}

// settle shortens the sections and wraps the notes.
func (s *sheet) settle() {
	style := &s.o.Style
	for i := range s.c.Rows {
		var shortened *joints.Section
		if sec := s.c.Rows[i].Section; sec != nil {
			shortened = crop(sec)
		}
		s.sections = append(s.sections, shortened)
	}
	for _, n := range s.o.Notes {
		s.notes = append(s.notes, wrap(style.Numbers.Marked(n), render.FaceRegular, style.SmallHeight, s.frame.Width()-2*inside, mostWhy)...)
	}
	s.top = s.frame.Max.Y - inside - style.TitleHeight*leading
	s.low = s.frame.Min.Y + inside + float64(len(s.notes))*style.SmallHeight*leading
	s.most = map[compare.Metric]float64{}
	for _, m := range s.o.Metrics {
		most := 0.0
		for i := range s.c.Rows {
			if v := s.value(i, m); v != nil {
				most = math.Max(most, *v)
			}
		}
		if most > 0 {
			s.known, s.most[m] = append(s.known, m), most
		}
	}
}

func (s *sheet) value(row int, m compare.Metric) *float64 {
	v := s.c.Rows[row].Values
	if v == nil {
		return nil
	}
	return v.Of(m)
}

// draw draws the columns from first to before end.
func (s *sheet) draw(first, end, count int) *render.Drawing {
	style := &s.o.Style
	d := &render.Drawing{Width: s.o.Page.Width, Height: s.o.Page.Height, Title: s.o.Title, Description: s.description(first, end), Language: style.Language.Tag()}
	p := &pen{}
	p.rect("frame", render.LayerFrame, s.frame, style.FrameLine(), nil)
	left, right := s.frame.Min.X+inside, s.frame.Max.X-inside
	base := s.frame.Max.Y - inside - style.TitleHeight
	scale := "sections " + render.ScaleText(s.scale)
	if count > 1 {
		scale += ", sheet " + strconv.Itoa(first/(s.cols*s.rows)+1) + " of " + strconv.Itoa(count)
	}
	p.text("scale", right, base, style.TextHeight, render.AlignRight, render.FaceRegular, scale)
	room := right - left - lettering.Measure(scale, render.FaceRegular, style.TextHeight) - inside
	for _, line := range wrap(s.o.Title, render.FaceBold, style.TitleHeight, room, 1) {
		p.text("title", left, base, style.TitleHeight, render.AlignLeft, render.FaceBold, line)
	}
	y := s.low - style.SmallHeight*leading
	for _, n := range s.notes {
		p.text("note", left, y, style.SmallHeight, render.AlignLeft, render.FaceRegular, n)
		y -= style.SmallHeight * leading
	}
	for i := first; i < end; i++ {
		s.column(d, p, i, s.cell((i-first)%s.cols, (i-first)/s.cols))
	}
	d.Items = append(d.Items, p.items...)
	return d
}

// description is what a screen reader says.
func (s *sheet) description(first, end int) string {
	var b strings.Builder
	b.WriteString(s.o.Title + ".")
	for i := first; i < end; i++ {
		r := &s.c.Rows[i]
		switch {
		case r.Rank > 0:
			fmt.Fprintf(&b, " %d: %s.", r.Rank, r.Name)
		default:
			fmt.Fprintf(&b, " Out: %s, %s.", r.Name, strings.Join(r.Excluded, "; "))
		}
		if len(r.NotMet) > 0 {
			fmt.Fprintf(&b, " Does not meet %s.", strings.Join(r.NotMet, ", "))
		}
	}
	return b.String()
}

// column draws one alternative into its cell.
func (s *sheet) column(d *render.Drawing, p *pen, i int, box geometry.Box) {
	style := &s.o.Style
	r := &s.c.Rows[i]
	x := box.Min.X
	role := "column " + strconv.Itoa(i+1)
	frame := style.NarrowLine()
	if r.Best {
		frame = &render.Stroke{Width: 1.2}
	}
	p.rect(role, render.LayerFrame, box, frame, nil)
	strip := geometry.Box{Min: geometry.Point{X: x, Y: box.Max.Y - rankHigh}, Max: box.Max}
	p.line(role, render.LayerFrame, style.NarrowLine(), strip.Min, geometry.Point{X: strip.Max.X, Y: strip.Min.Y})
	label := render.Text{At: geometry.Point{X: x + s.width/2, Y: strip.Min.Y + (rankHigh-style.TextHeight)/2}, Height: style.TextHeight,
		Align: render.AlignCentre, Face: render.FaceBold, Content: rankText(r)}
	if r.Rank == 0 || len(r.NotMet) > 0 {
		p.lining(role, strip, [][4]geometry.Point{label.Box(1.5)}, style)
	}
	p.items = append(p.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: "rank", Text: &label})
	y := strip.Min.Y - 2
	for _, line := range s.names[i] {
		y -= style.TextHeight
		p.text("name", x+inside, y, style.TextHeight, render.AlignLeft, render.FaceBold, line)
		y -= style.TextHeight * (leading - 1)
	}
	for _, line := range s.whys[i] {
		y -= style.SmallHeight
		p.text("reason", x+inside, y, style.SmallHeight, render.AlignLeft, render.FaceRegular, line)
		y -= style.SmallHeight * (leading - 1)
	}
	bars := box.Min.Y + 2 + float64(len(s.metrics))*s.pitch
	middle := geometry.Point{X: x + s.width/2, Y: (box.Max.Y - s.head + bars) / 2}
	if sec := s.sections[i]; sec != nil {
		k := style.Sketch(sec, s.scale)
		origin := middle.Sub(k.Box.Centre())
		d.Views = append(d.Views, render.View{Name: r.Name, Scale: s.scale, Origin: origin})
		d.Items = append(d.Items, layout.Move(k.Items(len(d.Views)-1, nil), origin)...)
	} else {
		p.text("no section", middle.X, middle.Y, style.TextHeight, render.AlignCentre, render.FaceRegular, "no section")
	}
	for n, m := range s.metrics {
		s.bar(p, i, m, x, bars-float64(n)*s.pitch)
	}
}

// rankText is what the strip of a column says. What does not meet a check is
// never the best.
func rankText(r *compare.Row) string {
	text := strconv.Itoa(r.Rank)
	switch {
	case r.Rank == 0:
		text = "out"
	case r.Best:
		text += ", best"
	}
	if len(r.NotMet) > 0 {
		text += ", not met"
	}
	return text
}

// bar draws one metric of a column: heading, bar from zero, number behind it.
func (s *sheet) bar(p *pen, i int, m compare.Metric, x, top float64) {
	style := &s.o.Style
	small := style.SmallHeight
	for _, line := range wrap(s.o.Heading(m), render.FaceRegular, small, s.width-2*inside, 1) {
		p.text("metric", x+inside, top-small, small, render.AlignLeft, render.FaceRegular, line)
	}
	v := s.value(i, m)
	low := top - small - 1 - barHigh
	if v == nil {
		p.text("number", x+inside, low+(barHigh-small)/2, small, render.AlignLeft, render.FaceRegular, "–")
		return
	}
	text := s.o.Number(m, *v)
	widest := 0.0
	for k := range s.c.Rows {
		if w := s.value(k, m); w != nil {
			widest = math.Max(widest, lettering.Measure(s.o.Number(m, *w), render.FaceRegular, small))
		}
	}
	room := s.width - 2*inside - widest - 2
	long := math.Max(room, 1) * *v / s.most[m]
	r := &s.c.Rows[i]
	if long > 0.1 {
		b := geometry.Box{Min: geometry.Point{X: x + inside, Y: low}, Max: geometry.Point{X: x + inside + long, Y: low + barHigh}}
		pen := style.NarrowLine()
		var fill *render.Ink
		switch {
		case r.Best:
			fill = &best
		case r.Rank > 1:
			fill = &grey
		}
		p.rect("bar", render.LayerPlot, b, pen, fill)
		if r.Rank == 0 {
			p.lining("bar", b, nil, style)
		}
	}
	p.text("number", x+inside+long+1.5, low+(barHigh-small)/2, small, render.AlignLeft, render.FaceRegular, text)
}

// The fills of bars: dark for the best one, light for the others; those that
// are out are lined.
var (
	best = render.Ink{R: 70, G: 70, B: 70}
	grey = render.Ink{R: 205, G: 205, B: 205}
)
