package plot

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// Page is a sheet, mm.
type Page struct{ Width, Height float64 }

// The sheets. Half sheets lie on their long side.
var (
	A4              = Page{297, 210}
	A4Portrait      = Page{210, 297}
	Letter          = Page{11 * inch, 8.5 * inch}
	LetterPortrait  = Page{8.5 * inch, 11 * inch}
	HalfA4          = Page{210, 148}
	HalfLetter      = Page{8.5 * inch, 5.5 * inch}
	errNothing      = errors.New("plot: there is nothing to draw")
	errNotFinite    = errors.New("plot: a number is not finite")
	errTooSmall     = errors.New("plot: the box is too small for the diagram")
	errWrongWayAxis = errors.New("plot: an axis ends before it begins")
)

const inch = 25.4

// Sheet is what stands round a diagram on a sheet of its own.
type Sheet struct {
	Title    string
	Subtitle string
	// Notes stand under the diagram, wrapped to its width.
	Notes []string
	// Foot stands at the lower right, e.g. a digest.
	Foot string
}

// The borders of a sheet, as those of the traveler: 20 mm at the filing edge,
// 10 mm elsewhere (ISO 5457, secondary), and the room inside the frame.
const (
	filing = 20.0
	border = 10.0
	inside = 5.0
)

// leading is the distance of base lines, as a part of the capital height.
const leading = 1.7

// begin draws frame, title and notes, and gives the box left for the diagram.
func (s *Sheet) begin(style *render.Style, page Page) (*render.Drawing, geometry.Box, error) {
	frame := geometry.Box{Min: geometry.Point{X: filing, Y: border}, Max: geometry.Point{X: page.Width - border, Y: page.Height - border}}
	d := &render.Drawing{Width: page.Width, Height: page.Height, Title: s.Title, Description: s.description(), Language: style.Language.Tag()}
	if !(page.Width > 100 && page.Height > 80) || math.IsInf(page.Width+page.Height, 0) {
		return nil, frame, errTooSmall
	}
	c := &canvas{style: style}
	c.rect("frame", render.LayerFrame, frame, style.FrameLine(), nil)
	left, right := frame.Min.X+inside, frame.Max.X-inside
	top := frame.Max.Y - inside
	for i, part := range [2]string{s.Title, s.Subtitle} {
		height, face := style.TitleHeight, render.FaceBold
		if i == 1 {
			height, face = style.TextHeight, render.FaceRegular
		}
		for _, line := range lettering.Wrap(style.Numbers.Marked(part), face, height, right-left) {
			top -= height
			c.text("title", render.Text{At: geometry.Point{X: left, Y: top}, Height: height, Face: face, Content: line})
			top -= height * (leading - 1)
		}
	}
	bottom := frame.Min.Y + inside
	height := style.SmallHeight
	if s.Foot != "" {
		c.text("foot", render.Text{At: geometry.Point{X: right, Y: bottom}, Height: height, Align: render.AlignRight, Content: s.Foot})
		bottom += height * leading
	}
	var lines []string
	for _, n := range s.Notes {
		lines = append(lines, lettering.Wrap(style.Numbers.Marked(n), render.FaceRegular, height, right-left)...)
	}
	for _, line := range slices.Backward(lines) {
		c.text("note", render.Text{At: geometry.Point{X: left, Y: bottom}, Height: height, Content: line})
		bottom += height * leading
	}
	d.Items = c.items
	return d, geometry.Box{Min: geometry.Point{X: left, Y: bottom + height/2}, Max: geometry.Point{X: right, Y: top - height}}, nil
}

// description is what a screen reader says.
func (s *Sheet) description() string {
	parts := make([]string, 0, 2+len(s.Notes))
	for _, p := range append([]string{s.Title, s.Subtitle}, s.Notes...) {
		if p != "" {
			parts = append(parts, strings.TrimSuffix(p, "."))
		}
	}
	return strings.Join(parts, ". ") + "."
}

// canvas collects items.
type canvas struct {
	style *render.Style
	items []render.Item
}

func (c *canvas) path(role string, layer render.Layer, p render.Path) {
	c.items = append(c.items, render.Item{Layer: layer, View: render.NoView, Role: role, Path: &p})
}

func (c *canvas) line(role string, layer render.Layer, pen *render.Stroke, pts ...geometry.Point) {
	edges := make([]geometry.Edge, 0, len(pts))
	for i := 1; i < len(pts); i++ {
		if pts[i] != pts[i-1] {
			edges = append(edges, geometry.Line(pts[i-1], pts[i]))
		}
	}
	if len(edges) > 0 {
		c.path(role, layer, render.Path{Edges: edges, Stroke: pen})
	}
}

func (c *canvas) rect(role string, layer render.Layer, b geometry.Box, pen *render.Stroke, fill *render.Ink) {
	p := corners(b)
	edges := make([]geometry.Edge, 4)
	for i := range p {
		edges[i] = geometry.Line(p[i], p[(i+1)%4])
	}
	c.path(role, layer, render.Path{Edges: edges, Closed: true, Stroke: pen, Fill: fill})
}

// circle is two arcs of half a turn.
func (c *canvas) circle(role string, at geometry.Point, r float64, pen *render.Stroke, fill *render.Ink) {
	a, b := at.Sub(geometry.Point{X: r}), at.Add(geometry.Point{X: r})
	c.path(role, render.LayerPlot, render.Path{
		Edges: []geometry.Edge{geometry.Arc(a, b, r), geometry.Arc(b, a, r)}, Closed: true, Stroke: pen, Fill: fill})
}

func (c *canvas) text(role string, t render.Text) {
	c.items = append(c.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: role, Text: &t})
}

func corners(b geometry.Box) [4]geometry.Point {
	return [4]geometry.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}
}

// number letters a number of an axis with so many decimals.
func number(style *render.Style, v float64, decimals int) string {
	n := style.Numbers
	n.Unit, n.Denominator, n.Decimals, n.Fixed = geometry.UnitMM, 0, decimals, true
	if math.Abs(v) < 0.5*math.Pow(10, -float64(decimals)) {
		v = 0
	}
	return n.Length(v)
}

func finite(vs ...float64) error {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: %g", errNotFinite, v)
		}
	}
	return nil
}

var white = render.Ink{R: 255, G: 255, B: 255}

// pale is the ink of the grid: there for the eye that looks for it.
var pale = render.Ink{R: 190, G: 190, B: 190}
