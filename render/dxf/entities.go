package dxf

import (
	"iter"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

const (
	// meet is the distance in mm under which the ends of two edges are one.
	meet = 1e-6
	// largestRadius in mm at full size; the few flatter arcs are polylines with
	// a bulge, because programs place a far centre badly.
	largestRadius = 1e4
	// pitch of the lines of notes in heights of a capital (ISO 3098 type B,
	// upper and lower case with accents; secondary, reference tables).
	pitch = 1.9
)

// entities collects the entities and what the tables must know of them.
type entities struct {
	file

	places []place
	box    geometry.Box // of everything written
	used   map[render.Layer]bool
	types  []lineType
	layer  cadLayer // of what is written now

	contour []geometry.Edge // the one at hand, its room used again
}

// on writes to a layer, which is used where anything came of it.
func (e *entities) on(layer render.Layer, write func()) {
	before := len(e.data)
	e.layer = layerOf(layer)
	write()
	if len(e.data) > before {
		e.used[layer] = true
	}
}

func (e *entities) item(d *render.Drawing, it *render.Item, sheet bool) {
	n := it.View
	if n == render.NoView {
		n = len(d.Views)
		if !sheet {
			return
		}
	}
	p := &e.places[n]
	if it.Path != nil {
		e.path(it.Path, p)
		return
	}
	t := *it.Text
	if it.Role == titleRole && it.View != render.NoView {
		// The scale in a title is that of the paper.
		t.Content = d.Views[it.View].Name
	}
	e.lettering(&t, p)
}

// titleRole is the role of the heading of a view.
const titleRole = "title"

// paper is the ink that leaves no mark.
var paper = render.Ink{R: 255, G: 255, B: 255}

func marks(s *render.Stroke) bool    { return s != nil && s.Ink != paper }
func filled(i *render.Ink) bool      { return i != nil && *i != paper }
func visible(p *render.Path) bool    { return marks(p.Stroke) || filled(p.Fill) }
func arrowhead(p *render.Path) bool  { return p.Fill != nil && *p.Fill == render.Black }
func apart(a, b geometry.Point) bool { return a.Dist(b) > meet }
func straight(e *geometry.Edge) bool { return e.Kind() == geometry.LineEdge }
func centreOf(e *geometry.Edge) geometry.Point {
	c, _ := e.Centre()
	return c
}

func (e *entities) path(p *render.Path, at *place) {
	if !visible(p) {
		return
	}
	pen := continuous
	if marks(p.Stroke) {
		pen = e.lineType(p.Stroke.Dash, at.scale)
	}
	// An area is closed, the pen line around it only where the path is.
	closed := p.Closed || !marks(p.Stroke)
	for c := range e.contours(p.Edges, closed, at) {
		switch {
		case arrowhead(p) && triangle(c):
			e.solid(c)
			if !marks(p.Stroke) {
				continue
			}
		case !marks(p.Stroke):
			if circle(c) {
				e.circle(pen, c)
			} else {
				e.polyline(pen, c, true)
			}
			continue
		}
		e.stroke(pen, c)
	}
}

// contours parts a path where it breaks, brings it to full size and closes
// what is closed. Edges of no length are gone. A contour serves until the next.
func (e *entities) contours(edges []geometry.Edge, closed bool, at *place) iter.Seq[[]geometry.Edge] {
	return func(yield func([]geometry.Edge) bool) {
		c := e.contour[:0]
		finish := func() bool {
			if len(c) == 0 {
				return true
			}
			if end, start := c[len(c)-1].End(), c[0].Start(); closed && apart(end, start) {
				c = append(c, geometry.Line(end, start))
			}
			e.contour = c
			goOn := yield(c)
			c = c[:0]
			return goOn
		}
		for i := range edges {
			if i > 0 && edges[i].Start() != edges[i-1].End() && apart(at.point(edges[i].Start()), at.point(edges[i-1].End())) && !finish() {
				return
			}
			if g := at.edge(edges[i]); g.Length() > meet {
				c = append(c, g)
			}
		}
		finish()
	}
}

func triangle(c []geometry.Edge) bool {
	return len(c) == 3 && straight(&c[0]) && straight(&c[1]) && straight(&c[2]) && !apart(c[2].End(), c[0].Start())
}

// circle tells whether a contour is one full turn about one centre.
func circle(c []geometry.Edge) bool {
	var turn geometry.Angle
	for i := range c {
		if c[i].Kind() != geometry.ArcEdge || apart(centreOf(&c[i]), centreOf(&c[0])) {
			return false
		}
		turn += c[i].Sweep()
	}
	return !apart(c[0].Start(), c[len(c)-1].End()) && (turn > geometry.Angle(6) || turn < -6)
}

// stroke draws a contour edge by edge; curves in a row are one polyline.
func (e *entities) stroke(pen string, c []geometry.Edge) {
	if circle(c) {
		e.circle(pen, c)
		return
	}
	for i := 0; i < len(c); i++ {
		switch c[i].Kind() {
		case geometry.LineEdge:
			e.line(pen, &c[i])
		case geometry.ArcEdge:
			if c[i].Radius() > largestRadius {
				e.polyline(pen, c[i:i+1], false)
			} else {
				e.arc(pen, &c[i])
			}
		case geometry.QuadEdge:
			end := i + 1
			for end < len(c) && c[end].Kind() == geometry.QuadEdge {
				end++
			}
			e.polyline(pen, c[i:end], false)
			i = end - 1
		}
	}
}

// begin opens an entity.
func (e *entities) begin(kind string, pen string) {
	e.text(0, kind)
	e.text(8, e.layer.name)
	if pen != continuous {
		e.text(6, pen)
	}
}

func (e *entities) line(pen string, g *geometry.Edge) {
	e.box = e.box.Expand(g.Start()).Expand(g.End())
	e.begin("LINE", pen)
	e.point(10, g.Start())
	e.point(11, g.End())
}

// arc writes an arc, which the format runs counter-clockwise from its first
// angle to its second.
func (e *entities) arc(pen string, g *geometry.Edge) {
	e.box = e.box.Union(g.Bounds())
	c := centreOf(g)
	from, to := g.Start(), g.End()
	if g.Sweep() < 0 {
		from, to = to, from
	}
	e.begin("ARC", pen)
	e.point(10, c)
	e.real(40, g.Radius())
	e.angle(50, from.Sub(c).Angle())
	e.angle(51, to.Sub(c).Angle())
}

func (e *entities) circle(pen string, c []geometry.Edge) {
	for i := range c {
		e.box = e.box.Union(c[i].Bounds())
	}
	e.begin("CIRCLE", pen)
	e.point(10, centreOf(&c[0]))
	e.real(40, c[0].Radius())
}

func (e *entities) solid(c []geometry.Edge) {
	e.begin("SOLID", continuous)
	for i := range c {
		e.box = e.box.Expand(c[i].Start())
		e.point(10+i, c[i].Start())
	}
	// The fourth corner of a triangle is its third.
	e.point(13, c[2].Start())
}

// polyline writes a contour as one polyline, arcs as bulges, curves flattened.
// A closed one does not repeat its first vertex.
func (e *entities) polyline(pen string, c []geometry.Edge, closed bool) {
	flags := 0
	if closed {
		flags = 1
	}
	e.begin("POLYLINE", pen)
	e.integer(66, 1) // vertices follow
	e.point(10, geometry.Point{})
	e.integer(70, flags)
	for i := range c {
		g := &c[i]
		e.box = e.box.Union(g.Bounds())
		switch g.Kind() {
		case geometry.QuadEdge:
			for _, p := range g.Flatten(FlattenTolerance) {
				e.vertex(p, 0)
			}
		case geometry.ArcEdge:
			// The bulge is the tangent of a quarter of the sweep, positive
			// counter-clockwise: the sagitta over half the chord.
			e.vertex(g.Start(), 2*g.Sagitta()/g.Start().Dist(g.End()))
		case geometry.LineEdge:
			e.vertex(g.Start(), 0)
		}
	}
	if !closed {
		e.vertex(c[len(c)-1].End(), 0)
	}
	e.text(0, "SEQEND")
	e.text(8, e.layer.name)
}

func (e *entities) vertex(p geometry.Point, bulge float64) {
	e.text(0, "VERTEX")
	e.text(8, e.layer.name)
	e.point(10, p)
	if bulge != 0 {
		e.real(42, bulge)
	}
}

// lettering writes a text, in pieces where it is too long for the format, each
// fitted between the ends it has on paper.
func (e *entities) lettering(t *render.Text, at *place) {
	if blank(t.Content) || !(t.Height/at.scale > meet) {
		return
	}
	origin, along := t.Origin(), geometry.Polar(1, t.Angle)
	corners := t.Box(0)
	for _, c := range corners {
		e.box = e.box.Expand(at.point(c))
	}
	from := 0.0
	for _, piece := range pieces(t.Content) {
		to := lettering.Measure(t.Content[:piece.end], t.Face, t.Height)
		a, b := at.point(origin.Add(along.Scale(from))), at.point(origin.Add(along.Scale(to)))
		from = to
		e.begin("TEXT", continuous)
		e.point(10, a)
		e.real(40, t.Height/at.scale)
		e.text(1, piece.code)
		e.angle(50, t.Angle)
		if apart(a, b) {
			e.integer(72, fit)
			e.point(11, b)
		}
	}
}

// fit is the horizontal justification of a TEXT between two points.
const fit = 5

// notes letters lines under everything that stands on the file.
func (e *entities) notes(lines []string) {
	if e.box.Empty() {
		return
	}
	at := place{scale: e.places[0].scale}
	left, under := e.box.Min.X*at.scale, e.box.Min.Y*at.scale-gutter
	e.on(render.LayerText, func() {
		for i, line := range lines {
			e.lettering(&render.Text{
				At: geometry.Point{X: left, Y: under - float64(i)*pitch*noteHeight}, Height: noteHeight, Content: line,
			}, &at)
		}
	})
}
