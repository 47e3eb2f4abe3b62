package compare

import (
	"strings"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// pen collects items of the sheet.
type pen struct{ items []render.Item }

func (p *pen) path(role string, layer render.Layer, path render.Path) {
	p.items = append(p.items, render.Item{Layer: layer, View: render.NoView, Role: role, Path: &path})
}

func (p *pen) line(role string, layer render.Layer, stroke *render.Stroke, a, b geometry.Point) {
	p.path(role, layer, render.Path{Edges: []geometry.Edge{geometry.Line(a, b)}, Stroke: stroke})
}

func (p *pen) rect(role string, layer render.Layer, b geometry.Box, stroke *render.Stroke, fill *render.Ink) {
	p.path(role, layer, render.Path{Edges: rectangle(b), Closed: true, Stroke: stroke, Fill: fill})
}

func rectangle(b geometry.Box) []geometry.Edge {
	c := [4]geometry.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}
	edges := make([]geometry.Edge, 4)
	for i := range c {
		edges[i] = geometry.Line(c[i], c[(i+1)%4])
	}
	return edges
}

// lining lines a box, but for the boxes of texts.
func (p *pen) lining(role string, b geometry.Box, texts [][4]geometry.Point, style *render.Style) {
	o, err := geometry.NewOutline(rectangle(b)...)
	if err != nil {
		return // too thin for a line
	}
	const pitch = 1.6
	lines := render.Hatch(o, render.Hatching{Angle: 45 * geometry.Degree, Pitch: pitch}, nil, texts)
	if len(lines) > 0 {
		p.path(role, render.LayerPlot, render.Path{Edges: lines, Stroke: style.NarrowLine()})
	}
}

func (p *pen) text(role string, x, y, height float64, align render.Align, face render.Face, content string) {
	p.items = append(p.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: role,
		Text: &render.Text{At: geometry.Point{X: x, Y: y}, Height: height, Align: align, Face: face, Content: content}})
}

// wrap breaks a text into at most so many lines; what does not fit ends in an
// ellipsis.
func wrap(text string, face render.Face, height, width float64, most int) []string {
	lines := lettering.Wrap(text, face, height, width)
	if len(lines) > most {
		lines[most-1], _ = lettering.Clip(strings.Join(lines[most-1:], " "), face, height, width)
		lines = lines[:most]
	}
	return lines
}
