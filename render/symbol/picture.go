package symbol

import (
	"fay/geometry"
	"fay/render"
)

// move shifts everything drawn so far.
func (d *drafter) move(by geometry.Point) {
	p := &d.out
	for _, list := range [][]render.Segment{p.Carrier, p.Dashed, p.Bars} {
		for i := range list {
			list[i] = render.Segment{A: list[i].A.Add(by), B: list[i].B.Add(by)}
		}
	}
	t := geometry.Translate(by)
	for _, list := range append([][]geometry.Edge{p.Circle, p.Strokes}, p.Filled...) {
		for i := range list {
			list[i] = list[i].Transform(t)
		}
	}
	for i := range p.Texts {
		p.Texts[i].At = p.Texts[i].At.Add(by)
	}
}

// finish draws the arrow and takes the box.
func (d *drafter) finish() {
	p := &d.out
	p.Box = p.bounds()
	p.knee = d.knee
	line := len(p.Carrier)
	p.Carrier, p.Head = d.s.pointer(p.Carrier, d.st, d.place.Tip, d.knee)
	p.arrow = len(p.Carrier) - line
}

// pointer appends the arrow line from a knee to a tip and gives its head.
func (s *Symbol) pointer(list []render.Segment, st *render.Style, tip, knee geometry.Point) ([]render.Segment, [3]geometry.Point) {
	last := knee
	if s.Broken() {
		last = tip.Add(s.kink(knee.Y - tip.Y))
		list = append(list, render.Segment{A: knee, B: last})
	}
	u := tip.Sub(last).Unit()
	back := tip.Sub(u.Scale(st.ArrowLength))
	side := u.Perp().Scale(st.ArrowWidth / 2)
	return append(list, render.Segment{A: last, B: tip}), [3]geometry.Point{tip, back.Add(side), back.Sub(side)}
}

// bounds is the box about everything drawn so far.
func (p *Picture) bounds() geometry.Box {
	b := geometry.EmptyBox()
	for _, s := range p.segments() {
		b = b.Union(geometry.BoxOf(s.A, s.B))
	}
	for _, e := range p.curves() {
		b = b.Union(e.Bounds())
	}
	for i := range p.Texts {
		box := p.Texts[i].Box(0)
		b = b.Union(geometry.BoxOf(box[:]...))
	}
	return b
}

// Broken tells whether the arrow has a break: in AWS A2.4, where one member is
// prepared.
func (s *Symbol) Broken() bool { return s.System == AWS && s.Arrow.Prepared != "" }

// kink is where an arrow breaks, seen from its tip, so that its last piece
// points at the member to be prepared. Its lie against the level is ours.
func (s *Symbol) kink(rise float64) geometry.Point {
	away := -1.0 // of the kink from the tip
	if s.Arrow.Toward.X < 0 {
		away = 1
	}
	up := 1.0
	if rise < 0 {
		up = -1
	}
	return pt(away*kinkLong*kinkTurn.Cos(), up*kinkLong*kinkTurn.Sin())
}

// segments are the straight narrow lines.
func (p *Picture) segments() []render.Segment {
	out := make([]render.Segment, 0, len(p.Carrier)+len(p.Dashed)+len(p.Bars))
	return append(append(append(out, p.Carrier...), p.Dashed...), p.Bars...)
}

// curves are all other strokes.
func (p *Picture) curves() []geometry.Edge {
	out := append(append([]geometry.Edge(nil), p.Strokes...), p.Circle...)
	for _, f := range p.Filled {
		out = append(out, f...)
	}
	return out
}

// Mark takes the symbol apart as a dimension is, for a layout that tests each
// part against everything else on the paper. It is not for drawing.
func (p *Picture) Mark() render.Mark {
	m := render.Mark{Role: p.Role, Lines: p.segments(), Arcs: p.curves(), Heads: [][3]geometry.Point{p.Head}, Texts: p.Texts}
	for i := range p.Texts {
		line := p.Texts[i].Line()
		low, high := line.Ink()
		m.Extents = append(m.Extents, render.Extent{Width: line.Width, Below: -low, Above: high})
	}
	return m
}

// MarkAt is [Picture.Mark], into m, of the same symbol with its arrow's tip and
// its knee, both on paper, elsewhere: to the same side of the tip and, as a
// rise, with the same sign.
func (p *Picture) MarkAt(m *render.Mark, st *render.Style, mark *render.Mark, tip, knee geometry.Point) {
	by := knee.Sub(p.knee)
	m.Reset(mark.Role)
	rest := len(p.Carrier) - p.arrow
	for i, s := range mark.Lines {
		if i < rest || i >= len(p.Carrier) {
			m.Lines = append(m.Lines, render.Segment{A: s.A.Add(by), B: s.B.Add(by)})
		}
	}
	var head [3]geometry.Point
	m.Extension, head = p.symbol.pointer(m.Extension, st, tip, knee)
	m.Heads = append(m.Heads, head)
	t := geometry.Translate(by)
	for _, e := range mark.Arcs {
		m.Arcs = append(m.Arcs, e.Transform(t))
	}
	for i := range mark.Texts {
		text := mark.Texts[i]
		text.At = text.At.Add(by)
		m.Texts = append(m.Texts, text)
		m.Extents = append(m.Extents, mark.Extents[i])
	}
}

// Items draws the symbol in a view of the sheet, or for the sheet itself with
// render.NoView.
func (p *Picture) Items(st *render.Style, view int) []render.Item {
	items := make([]render.Item, 0, 6+len(p.Texts)+len(p.Filled))
	stroke := func(edges []geometry.Edge, pen *render.Stroke) {
		if len(edges) > 0 {
			items = append(items, render.Item{Layer: render.LayerSymbol, View: view, Role: p.Role, Path: &render.Path{Edges: edges, Stroke: pen}})
		}
	}
	fill := func(edges []geometry.Edge) {
		ink := render.Black
		items = append(items, render.Item{Layer: render.LayerSymbol, View: view, Role: p.Role, Path: &render.Path{Edges: edges, Closed: true, Fill: &ink}})
	}
	stroke(append(straight(p.Carrier), p.Circle...), st.NarrowLine())
	stroke(straight(p.Bars), st.NarrowLine())
	for _, s := range p.Dashed {
		stroke(straight([]render.Segment{s}), &render.Stroke{Width: st.Narrow, Dash: dashes})
	}
	stroke(p.Strokes, &render.Stroke{Width: sizes(st).pen})
	for _, f := range p.Filled {
		fill(f)
	}
	h := p.Head
	fill([]geometry.Edge{geometry.Line(h[0], h[1]), geometry.Line(h[1], h[2]), geometry.Line(h[2], h[0])})
	for i := range p.Texts {
		items = append(items, render.Item{Layer: render.LayerText, View: view, Role: p.Role, Text: &p.Texts[i]})
	}
	return items
}

func straight(list []render.Segment) []geometry.Edge {
	out := make([]geometry.Edge, len(list))
	for i, s := range list {
		out[i] = geometry.Line(s.A, s.B)
	}
	return out
}
