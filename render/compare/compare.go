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
	// Notes stand under the columns.
	Notes []string
}

// ErrNothing is returned for a comparison without an alternative that can be
// drawn.
var ErrNothing = errors.New("compare: no alternative can be drawn")

// The sizes of a sheet, mm. Borders are those of the traveler: 20 mm at the
// filing edge, 10 mm elsewhere (ISO 5457, secondary).
const (
	filing   = 20.0
	border   = 10.0
	inside   = 4.0 // between the frame and what is in it
	air      = 1.5 // between a section and the frame of its column
	gutter   = 3.0 // between columns
	rankHigh = 8.0 // the strip of the rank
	barHigh  = 4.0
	rowHigh  = 11.5 // of a metric
	mostCols = 5
	mostBars = 5
	leastCol = 40.0 // width
	leastFig = 45.0 // height of the sections
	leading  = 1.6
	mostName = 3 // lines
	mostWhy  = 6
)

// Draw draws the rows in the order of the comparison on as many sheets as it
// takes, all at one scale.
func Draw(c *compare.Comparison, o Options) ([]*render.Drawing, error) {
	s := sheet{c: c, o: &o, frame: geometry.Box{Min: geometry.Point{X: filing, Y: border}, Max: geometry.Point{X: o.Page.Width - border, Y: o.Page.Height - border}}}
	if len(c.Rows) == 0 || !(s.frame.Width() > 2*leastCol && s.frame.Height() > 2*leastFig) {
		return nil, ErrNothing
	}
	cols := min(len(c.Rows), mostCols, int(s.frame.Width()/leastCol))
	count := (len(c.Rows) + cols - 1) / cols
	// As even as can be: 4 and 3, not 6 and 1.
	cols = (len(c.Rows) + count - 1) / count
	s.width = (s.frame.Width() - 2*inside - float64(cols-1)*gutter) / float64(cols)
	s.settle()
	if err := s.fit(); err != nil {
		return nil, err
	}
	var out []*render.Drawing
	for first := 0; first < len(c.Rows); first += cols {
		out = append(out, s.draw(first, min(first+cols, len(c.Rows)), count))
	}
	return out, nil
}

// sheet is the layout that all sheets of a comparison share.
type sheet struct {
	c        *compare.Comparison
	o        *Options
	frame    geometry.Box
	width    float64 // of a column
	metrics  []compare.Metric
	sections []*joints.Section // shortened; nil where there is none
	most     map[compare.Metric]float64
	names    [][]string
	whys     [][]string
	notes    []string
	scale    float64

	// Levels from the top: of the strip of ranks, of the names, of the
	// sections, of the bars, and the bottom of the columns.
	top, nameTop, figTop, figLow, low float64
}

// settle wraps the texts and shares out the height.
func (s *sheet) settle() {
	style := &s.o.Style
	small := style.SmallHeight
	lines, why := 0, 0
	for i := range s.c.Rows {
		r := &s.c.Rows[i]
		name := wrap(r.Name, render.FaceBold, style.TextHeight, s.width-2*inside, mostName)
		reason := wrap(strings.Join(r.Excluded, "; "), render.FaceRegular, small, s.width-2*inside, mostWhy)
		if r.Name == s.c.Reference {
			reason = append([]string{"reference"}, reason...)
		}
		if r.Section != nil {
			s.sections = append(s.sections, crop(r.Section))
		} else {
			s.sections = append(s.sections, nil)
		}
		s.names, s.whys = append(s.names, name), append(s.whys, reason)
		lines, why = max(lines, len(name)), max(why, len(reason))
	}
	for _, n := range s.o.Notes {
		s.notes = append(s.notes, wrap(n, render.FaceRegular, small, s.frame.Width()-2*inside, mostWhy)...)
	}
	s.top = s.frame.Max.Y - inside - style.TitleHeight*leading
	s.low = s.frame.Min.Y + inside + float64(len(s.notes))*small*leading
	s.nameTop = s.top - rankHigh
	s.figTop = s.nameTop - 2 - float64(lines)*style.TextHeight*leading - float64(why)*small*leading
	s.most = map[compare.Metric]float64{}
	room := int((s.figTop - s.low - leastFig) / rowHigh)
	for _, m := range s.o.Metrics {
		if len(s.metrics) == min(room, mostBars) {
			break
		}
		most := 0.0
		for i := range s.c.Rows {
			if v := s.value(i, m); v != nil {
				most = math.Max(most, *v)
			}
		}
		if most > 0 {
			s.metrics, s.most[m] = append(s.metrics, m), most
		}
	}
	s.figLow = s.low + 2 + float64(len(s.metrics))*rowHigh
}

func (s *sheet) value(row int, m compare.Metric) *float64 {
	v := s.c.Rows[row].Values
	if v == nil {
		return nil
	}
	return v.Of(m)
}

// fit finds the largest standard scale at which every section fits its column.
func (s *sheet) fit() error {
	found := false
	for _, sec := range s.sections {
		found = found || sec != nil
	}
	if !found {
		return ErrNothing
	}
	for _, scale := range render.Scales {
		fits := true
		for _, sec := range s.sections {
			if sec != nil && fits {
				k := s.o.Style.Sketch(sec, scale)
				fits = k.Box.Width() <= s.width-2*air && k.Box.Height() <= s.figTop-s.figLow-2*inside
			}
		}
		if fits {
			s.scale = scale
			return nil
		}
	}
	return fmt.Errorf("%w: a section does not fit at %s", ErrNothing, render.ScaleText(render.Scales[len(render.Scales)-1]))
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
		scale += ", sheet " + strconv.Itoa(first/(max(end-first, 1))+1) + " of " + strconv.Itoa(count)
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
		s.column(d, p, i, left+float64(i-first)*(s.width+gutter))
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
	}
	return b.String()
}

// column draws one alternative.
func (s *sheet) column(d *render.Drawing, p *pen, i int, x float64) {
	style := &s.o.Style
	r := &s.c.Rows[i]
	box := geometry.Box{Min: geometry.Point{X: x, Y: s.low}, Max: geometry.Point{X: x + s.width, Y: s.top}}
	role := "column " + strconv.Itoa(i+1)
	frame := style.NarrowLine()
	if r.Rank == 1 {
		frame = &render.Stroke{Width: 1.2}
	}
	p.rect(role, render.LayerFrame, box, frame, nil)
	strip := geometry.Box{Min: geometry.Point{X: x, Y: s.nameTop}, Max: box.Max}
	p.line(role, render.LayerFrame, style.NarrowLine(), strip.Min, geometry.Point{X: strip.Max.X, Y: strip.Min.Y})
	rank := strconv.Itoa(r.Rank)
	switch r.Rank {
	case 1:
		rank += ", best"
	case 0:
		rank = "out"
	}
	label := render.Text{At: geometry.Point{X: x + s.width/2, Y: strip.Min.Y + (rankHigh-style.TextHeight)/2}, Height: style.TextHeight,
		Align: render.AlignCentre, Face: render.FaceBold, Content: rank}
	if r.Rank == 0 {
		p.lining(role, strip, [][4]geometry.Point{label.Box(1.5)}, style)
	}
	p.items = append(p.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: "rank", Text: &label})
	y := s.nameTop - 2
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
	middle := geometry.Point{X: x + s.width/2, Y: (s.figTop + s.figLow) / 2}
	if sec := s.sections[i]; sec != nil {
		k := style.Sketch(sec, s.scale)
		origin := middle.Sub(k.Box.Centre())
		d.Views = append(d.Views, render.View{Name: r.Name, Scale: s.scale, Origin: origin})
		d.Items = append(d.Items, layout.Move(k.Items(len(d.Views)-1, nil), origin)...)
	} else {
		p.text("no section", middle.X, middle.Y, style.TextHeight, render.AlignCentre, render.FaceRegular, "no section")
	}
	for n, m := range s.metrics {
		s.bar(p, i, m, x, s.figLow-float64(n)*rowHigh)
	}
}

// bar draws one metric of a column: heading, bar from zero, number behind it.
func (s *sheet) bar(p *pen, i int, m compare.Metric, x, top float64) {
	style := &s.o.Style
	small := style.SmallHeight
	for _, line := range wrap(s.o.Heading(m), render.FaceRegular, small, s.width-2*inside, 1) {
		p.text("metric", x+inside, top-small, small, render.AlignLeft, render.FaceRegular, line)
	}
	v := s.value(i, m)
	low := top - small - 1.8 - barHigh
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
		case r.Rank == 1:
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
