package rendertest

import (
	"fmt"

	"fay/geometry"
	"fay/render"
)

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

// Sample is a small drawing with one of everything a writer must handle: filled
// and stroked paths, all kinds of edges, dashes, tints, every layer, turned,
// aligned and cleared texts, characters of both fonts.
func Sample() *render.Drawing {
	d := &render.Drawing{
		Width: 148, Height: 105,
		Title:       "Sample <tee> & friends",
		Description: "A fillet weld in section, with one of everything.",
		Language:    "en",
		Views:       []render.View{{Name: "section", Scale: 5, Origin: pt(40, 40)}},
	}
	s := sampler{d: d}
	s.section()
	s.dimensions()
	s.lettering()
	return d
}

type sampler struct{ d *render.Drawing }

func (s sampler) path(layer render.Layer, role string, p render.Path) {
	s.d.Items = append(s.d.Items, render.Item{Layer: layer, View: 0, Role: role, Path: &p})
}

func (s sampler) text(role string, t render.Text) {
	s.d.Items = append(s.d.Items, render.Item{Layer: render.LayerText, View: render.NoView, Role: role, Text: &t})
}

func (s sampler) line(layer render.Layer, role string, width float64, dash []float64, pts ...geometry.Point) {
	s.path(layer, role, render.Path{Edges: chain(pts...), Stroke: &render.Stroke{Width: width, Dash: dash}})
}

func chain(pts ...geometry.Point) []geometry.Edge {
	var edges []geometry.Edge
	for i := 1; i < len(pts); i++ {
		edges = append(edges, geometry.Line(pts[i-1], pts[i]))
	}
	return edges
}

func loop(pts ...geometry.Point) []geometry.Edge { return chain(append(pts, pts[0])...) }

// section draws a tee: two members with lining, the weld as a tint with a
// convex face, the fusion line, a break, the inscribed triangle, the root.
func (s sampler) section() {
	wide := &render.Stroke{Width: 0.5}
	s.path(render.LayerMember, "member:base", render.Path{Edges: loop(pt(15, 20), pt(85, 20), pt(85, 40), pt(15, 40)), Closed: true, Stroke: wide})
	s.path(render.LayerMember, "member:stem", render.Path{Edges: loop(pt(40, 40), pt(55, 40), pt(55, 75), pt(40, 75)), Closed: true, Stroke: wide})
	for i := range 14 {
		x := 15 + 5*float64(i)
		s.line(render.LayerHatch, "hatch:base", 0.18, nil, pt(x, 20), pt(min(x+20, 85), 20+min(20, 85-x)))
	}
	for i := range 7 {
		y := 40 + 5*float64(i)
		s.line(render.LayerHatch, "hatch:stem", 0.18, nil, pt(40, min(y+5, 75)), pt(55, max(y-10, 40)))
	}
	toeA, root, toeB := pt(80, 40), pt(55, 40), pt(55, 65)
	weld := []geometry.Edge{geometry.Line(toeB, root), geometry.Line(root, toeA), geometry.Arc(toeA, toeB, 3)}
	s.path(render.LayerTint, "tint:weld", render.Path{Edges: weld, Closed: true, Fill: &render.Ink{R: 222, G: 214, B: 200}})
	s.path(render.LayerWeld, "weld:arrow", render.Path{Edges: weld, Closed: true, Stroke: &render.Stroke{Width: 0.7}})
	s.path(render.LayerFusion, "fusion:arrow", render.Path{
		Edges:  []geometry.Edge{geometry.Quad(toeB, pt(48, 34), pt(56, 36)), geometry.Quad(pt(56, 36), pt(66, 34), toeA)},
		Stroke: &render.Stroke{Width: 0.25, Dash: []float64{2, 0.7}, Ink: render.Ink{R: 150, G: 60, B: 20}},
	})
	s.line(render.LayerTriangle, "triangle:arrow", 0.18, []float64{6, 1, 0.5, 1, 0.5, 1}, toeA, toeB, root, toeA)
	// A full circle is two arcs of half a turn; a major arc has a sagitta beyond
	// its half chord.
	s.path(render.LayerTriangle, "root:arrow", render.Path{
		Edges:  []geometry.Edge{geometry.Arc(pt(54, 40), pt(56, 40), 1), geometry.Arc(pt(56, 40), pt(54, 40), 1)},
		Closed: true, Stroke: &render.Stroke{Width: 0.25}, Fill: &render.Ink{R: 255, G: 255, B: 255},
	})
	s.path(render.LayerPreparation, "edge:other", render.Path{
		Edges: []geometry.Edge{geometry.Arc(pt(20, 80), pt(26, 80), 8)}, Stroke: &render.Stroke{Width: 0.35},
	})
	s.path(render.LayerBreak, "break:stem", render.Path{
		Edges: []geometry.Edge{geometry.Quad(pt(38, 75), pt(44, 79), pt(47.5, 75)), geometry.Quad(pt(47.5, 75), pt(51, 71), pt(57, 75))}, Stroke: &render.Stroke{Width: 0.25},
	})
}

func (s sampler) dimensions() {
	arrow := func(tip, along geometry.Point) {
		side := along.Perp().Scale(0.3)
		back := tip.Add(along.Scale(2.5))
		s.path(render.LayerDimension, "dimension:leg", render.Path{Edges: loop(tip, back.Add(side), back.Sub(side)), Closed: true, Fill: &render.Black})
	}
	s.line(render.LayerDimension, "dimension:leg", 0.25, nil, pt(55, 38), pt(55, 12))
	s.line(render.LayerDimension, "dimension:leg", 0.25, nil, pt(80, 38), pt(80, 12))
	s.line(render.LayerDimension, "dimension:leg", 0.25, nil, pt(55, 14), pt(80, 14))
	arrow(pt(55, 14), pt(1, 0))
	arrow(pt(80, 14), pt(-1, 0))
	s.text("dimension:leg", render.Text{At: pt(67.5, 15), Height: 3.5, Align: render.AlignCentre, Content: "5 ±0.5"})
	s.text("dimension:leg", render.Text{At: pt(50, 57), Height: 3.5, Align: render.AlignCentre, Angle: 90 * geometry.Degree, Content: "⌀12 ≤ 60°", Halo: 0.8})
	s.text("dimension:throat", render.Text{At: pt(62, 51), Height: 2.5, Align: render.AlignRight, Angle: -45 * geometry.Degree, Content: "a = 3.54", Halo: 0.5})
	s.line(render.LayerSymbol, "symbol:arrow", 0.35, nil, pt(70, 54), pt(85, 66), pt(110, 66))
	s.line(render.LayerPlot, "plot:bar", 1, nil, pt(95, 25), pt(135, 25))
}

func (s sampler) lettering() {
	s.line(render.LayerFrame, "frame", 0.7, nil, pt(5, 5), pt(143, 5), pt(143, 100), pt(5, 100), pt(5, 5))
	rows := []struct {
		height  float64
		face    render.Face
		content string
	}{
		{5, render.FaceBold, "Davit foot, tee"},
		{3.5, render.FaceRegular, "Base 8 mm 5083 · stem 3 mm 6082"},
		{2.5, render.FaceRegular, `± ≤ ≥ ° ⌀ √ × ψ α β ² ³ · – — µ ≈ ½ → − …`},
		{2.5, render.FaceBold, `1-1/4" AVATo fi ffl 0.3–0.8 mm (60°) [B8]`},
		{2.5, render.FaceRegular, "Zażółć gęślą jaźń, Ångström, Привет, שלום 12"},
	}
	for i, r := range rows {
		s.text(fmt.Sprintf("row:%d", i), render.Text{At: pt(60, 94-6*float64(i)), Height: r.height, Face: r.face, Content: r.content})
	}
}
