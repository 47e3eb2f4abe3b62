package compare

import (
	"errors"
	"fmt"
	"math"
	"slices"
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
	// Metrics are drawn as bars in this order, the first ones that fit, after the
	// one that ranks. What is the same in all is said in a note, and what rises
	// and falls with a bar before it comes last.
	Metrics []compare.Metric
	// Heading and Number letter a metric: its title with the unit, a value.
	Heading func(compare.Metric) string
	Number  func(compare.Metric, float64) string
	// Remark stands under the name of an alternative; nil says nothing.
	Remark func(*compare.Row) string
	// Notes stand under the columns, for the metrics that are shown.
	Notes func(shown []compare.Metric) []string
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
	mostBars  = 8
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
	known    []compare.Metric // that have a bar somewhere, as they are wanted
	alike    []compare.Metric // that are the same in all
	top      float64          // of the columns
	arrangement
}

// settle shortens the sections and orders the metrics.
func (s *sheet) settle() {
	for i := range s.c.Rows {
		var shortened *joints.Section
		if sec := s.c.Rows[i].Section; sec != nil {
			shortened = crop(sec)
		}
		s.sections = append(s.sections, shortened)
	}
	s.top = s.frame.Max.Y - inside - s.o.Style.TitleHeight*leading
	s.most = map[compare.Metric]float64{}
	var later []compare.Metric
	for _, m := range s.o.Metrics {
		for i := range s.c.Rows {
			if v := s.value(i, m); v != nil {
				s.most[m] = math.Max(s.most[m], *v)
			}
		}
		switch {
		case s.most[m] == 0:
		case m == s.c.By:
			s.known = append(s.known, m)
		case s.same(m):
			s.alike = append(s.alike, m)
		case slices.ContainsFunc(s.known, func(k compare.Metric) bool { return s.follows(m, k) }):
			later = append(later, m)
		default:
			s.known = append(s.known, m)
		}
	}
	s.known = append(s.known, later...)
}

// shares are the values of a metric over the largest; NaN where there is none.
func (s *sheet) shares(m compare.Metric) []float64 {
	out := make([]float64, len(s.c.Rows))
	for i := range out {
		out[i] = math.NaN()
		if v := s.value(i, m); v != nil {
			out[i] = *v / s.most[m]
		}
	}
	return out
}

// unseen is the difference of bars that the eye does not see, in shares.
const unseen = 0.005

// same reports whether all alternatives that can be made have the same of a
// metric.
func (s *sheet) same(m compare.Metric) bool {
	made := 0
	for i, v := range s.shares(m) {
		if s.c.Rows[i].Values == nil {
			continue
		}
		if made++; !(v >= 1-1e-9) {
			return false
		}
	}
	return made > 1
}

// follows reports whether the bars of two metrics look the same.
func (s *sheet) follows(m, other compare.Metric) bool {
	a, b := s.shares(m), s.shares(other)
	for i := range a {
		if math.IsNaN(a[i]) != math.IsNaN(b[i]) || math.Abs(a[i]-b[i]) > unseen {
			return false
		}
	}
	return true
}

// notesFor are the notes under the columns with these metrics drawn.
func (s *sheet) notesFor(bars []compare.Metric) []string {
	style := &s.o.Style
	var texts []string
	if s.o.Notes != nil {
		texts = s.o.Notes(append(slices.Clone(bars), s.alike...))
	}
	alike := make([]string, 0, len(s.alike))
	for _, m := range s.alike {
		alike = append(alike, s.o.Heading(m)+": "+s.o.Number(m, s.most[m]))
	}
	if len(alike) > 0 {
		texts = append([]string{"The same in all: " + strings.Join(alike, "; ") + "."}, texts...)
	}
	out := make([]string, 0, len(texts))
	for _, n := range texts {
		out = append(out, wrap(style.Numbers.Marked(n), render.FaceRegular, style.SmallHeight, s.frame.Width()-2*inside, mostWhy)...)
	}
	return out
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
	y := s.low() - style.SmallHeight*leading
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
		// The first members of a row stand on one line.
		below, above := s.extent(s.scale)
		base := middle.Y - (above-below)/2
		origin := geometry.Point{X: middle.X - k.Box.Centre().X, Y: base - footing(&k)}
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
