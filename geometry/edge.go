package geometry

import "math"

// EdgeKind tells straight edges, arcs and quadratic curves apart.
type EdgeKind uint8

// The kinds of edge. The zero Edge is a straight edge from the origin to the
// origin, which no outline accepts.
const (
	LineEdge EdgeKind = iota
	ArcEdge
	QuadEdge
)

// String returns line, arc or quad.
func (k EdgeKind) String() string {
	switch k {
	case LineEdge:
		return "line"
	case ArcEdge:
		return "arc"
	case QuadEdge:
		return "quad"
	}
	return "edge?"
}

// Edge is one directed piece of an outline. It is a small comparable value.
//
//nolint:recvcheck // exported methods take a value; inner loops do not copy it
type Edge struct {
	a, b Point
	c    Point   // control point of a quad
	s    float64 // sagitta of an arc
	kind EdgeKind
}

// Line returns the straight edge from a to b.
func Line(a, b Point) Edge { return Edge{a: a, b: b} }

// Arc returns the circular arc from a to b that stands sagitta mm high over its
// chord. Positive bulges to the right of a→b, outward on a counter-clockwise
// outline, and turns counter-clockwise. More than half the chord gives the
// major arc. Zero gives the straight edge.
func Arc(a, b Point, sagitta float64) Edge {
	if sagitta == 0 {
		return Line(a, b)
	}
	return Edge{a: a, b: b, s: sagitta, kind: ArcEdge}
}

// ArcCentre returns the arc from a to b about a centre, counter-clockwise or
// clockwise. A centre not equally far from both ends is moved along the chord
// until it is.
func ArcCentre(a, b, centre Point, ccw bool) Edge {
	m := a.Lerp(b, 0.5)
	h := a.Dist(b) / 2
	// d is how far the centre lies from the chord on the side that makes the
	// arc a minor one.
	d := centre.Sub(m).Dot(b.Sub(a).Perp().Unit())
	if !ccw {
		d = -d
	}
	r := math.Hypot(h, d)
	s := r - d
	if d > 0 {
		s = h * h / (r + d)
	}
	if !ccw {
		s = -s
	}
	return Arc(a, b, s)
}

// Quad returns the quadratic Bézier curve from a to b with control point ctrl.
// A parabola of height r over a level chord has ctrl 2·r above mid-chord.
func Quad(a, ctrl, b Point) Edge { return Edge{a: a, b: b, c: ctrl, kind: QuadEdge} }

// Kind returns the kind of the edge.
func (e Edge) Kind() EdgeKind { return e.kind }

// Start returns the first point.
func (e Edge) Start() Point { return e.a }

// End returns the last point.
func (e Edge) End() Point { return e.b }

// Control returns the control point of a quad, mid-chord for other kinds.
func (e Edge) Control() Point {
	if e.kind == QuadEdge {
		return e.c
	}
	return e.a.Lerp(e.b, 0.5)
}

// Sagitta returns the signed height of an arc over its chord, 0 for other kinds.
func (e Edge) Sagitta() float64 { return e.s }

// At returns the point at parameter t in 0…1: by length on a line, by angle on
// an arc, by the Bézier parameter on a quad. t = 0 and 1 give the exact ends.
func (e Edge) At(t float64) Point {
	switch {
	case t == 0:
		return e.a
	case t == 1:
		return e.b
	case e.kind == ArcEdge:
		return e.arcAt(t)
	case e.kind == QuadEdge:
		u := 1 - t
		return e.a.Scale(u * u).Add(e.c.Scale(2 * u * t)).Add(e.b.Scale(t * t))
	}
	return e.a.Lerp(e.b, t)
}

// Tangent returns the unit direction of travel at t. Where a quad stands still
// it is the direction of the chord.
func (e Edge) Tangent(t float64) Point {
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		return e.b.Sub(e.a).Rotate(Angle((t - 0.5)) * e.Sweep()).Unit()
	case QuadEdge:
		bv, av := e.quadBasis()
		d := bv.Add(av.Scale(t))
		if d.Norm() > 1e-15*(bv.Norm()+av.Norm()) {
			return d.Unit()
		}
	}
	return e.b.Sub(e.a).Unit()
}

// Length returns the length of the edge in mm.
func (e Edge) Length() float64 {
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		return e.arcLength()
	case QuadEdge:
		return e.quadLength()
	}
	return e.a.Dist(e.b)
}

// Bounds returns the smallest box around the edge.
func (e Edge) Bounds() Box {
	box := BoxOf(e.a, e.b)
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		return e.arcBounds(box)
	case QuadEdge:
		return e.quadBounds(box)
	}
	return box
}

// looseBounds is a box around the edge that costs no trigonometry; it may be
// larger than Bounds.
func (e *Edge) looseBounds() Box {
	box := Box{e.a, e.b}
	if e.a.X > e.b.X {
		box.Min.X, box.Max.X = e.b.X, e.a.X
	}
	if e.a.Y > e.b.Y {
		box.Min.Y, box.Max.Y = e.b.Y, e.a.Y
	}
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		return e.arcLooseBounds(box)
	case QuadEdge:
		return box.Expand(e.c)
	}
	return box
}

// Reverse returns the edge travelled the other way.
func (e Edge) Reverse() Edge {
	e.a, e.b, e.s = e.b, e.a, -e.s
	return e
}

// Transform returns the image of the edge.
func (e Edge) Transform(t Transform) Edge {
	if !t.set {
		return e
	}
	e.a, e.b = t.Apply(e.a), t.Apply(e.b)
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		e.s *= t.Factor()
		if t.mirror {
			e.s = -e.s
		}
	case QuadEdge:
		e.c = t.Apply(e.c)
	}
	return e
}

// Nearest returns the point of the edge nearest to p and its parameter.
func (e Edge) Nearest(p Point) (q Point, t float64) {
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		return e.arcNearest(p)
	case QuadEdge:
		return e.quadNearest(p)
	}
	d := e.b.Sub(e.a)
	n := d.Dot(d)
	if n == 0 {
		return e.a, 0
	}
	t = p.Sub(e.a).Dot(d) / n
	if !(t > 0) {
		return e.a, 0
	}
	if t >= 1 {
		return e.b, 1
	}
	return e.a.Lerp(e.b, t), t
}

// Distance returns the distance from p to the edge.
func (e Edge) Distance(p Point) float64 {
	q, _ := e.Nearest(p)
	return q.Dist(p)
}

// Split returns the parts before and after t. t is clamped to 0…1; a part of
// no length is then an edge that no outline accepts.
func (e Edge) Split(t float64) (Edge, Edge) {
	t = min(max(t, 0), 1)
	p := e.At(t)
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		return e.arcSplit(t, p)
	case QuadEdge:
		return Quad(e.a, e.a.Lerp(e.c, t), p), Quad(p, e.c.Lerp(e.b, t), e.b)
	}
	return Line(e.a, p), Line(p, e.b)
}

// Numbers returns what defines the edge, for writers: a line gives x, y of both
// ends; an arc adds the sagitta; a quad puts the control point between the ends.
func (e Edge) Numbers() []float64 {
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		return []float64{e.a.X, e.a.Y, e.b.X, e.b.Y, e.s}
	case QuadEdge:
		return []float64{e.a.X, e.a.Y, e.c.X, e.c.Y, e.b.X, e.b.Y}
	}
	return []float64{e.a.X, e.a.Y, e.b.X, e.b.Y}
}

func (e *Edge) isFinite() bool {
	return e.a.IsFinite() && e.b.IsFinite() && e.c.IsFinite() && finite(e.s)
}
