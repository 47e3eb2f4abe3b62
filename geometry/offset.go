package geometry

import "math"

// OffsetEdge returns the outline with edge i moved outward by d mm (inward if d
// is negative) and its neighbours, which must be straight, lengthened or
// shortened to meet it. A straight edge moves in parallel, an arc keeps its
// centre. The index counts round. The error is an [*OutlineError].
func (o Outline) OffsetEdge(i int, d float64) (Outline, error) {
	n := len(o.edges)
	if n < 3 {
		return Outline{}, &OutlineError{Code: OutlineTooFew, Edge: i, Other: i}
	}
	i = ((i % n) + n) % n
	prev, e, next := o.edges[(i+n-1)%n], o.edges[i], o.edges[(i+1)%n]
	fail := func(code OutlineCode, edge int, at Point) (Outline, error) {
		return Outline{}, &OutlineError{Code: code, Edge: edge, Other: edge, At: at}
	}
	switch {
	case !finite(d):
		return fail(OutlineNotFinite, i, e.a)
	case e.kind == QuadEdge:
		return fail(OutlineBadEdge, i, e.a)
	case prev.kind != LineEdge:
		return fail(OutlineNeighbour, (i+n-1)%n, e.a)
	case next.kind != LineEdge:
		return fail(OutlineNeighbour, (i+1)%n, e.b)
	}
	right := d // how far to the right of travel
	if o.Area() < 0 {
		right = -d
	}
	moved, ok := e.shifted(right, prev, next)
	if !ok {
		return fail(OutlineNoMeet, i, e.a)
	}
	// A neighbour turned round means the edge went past its far end.
	if moved.a.Sub(prev.a).Dot(prev.b.Sub(prev.a)) <= 0 {
		return fail(OutlineNoMeet, (i+n-1)%n, prev.a)
	}
	if next.b.Sub(moved.b).Dot(next.b.Sub(next.a)) <= 0 {
		return fail(OutlineNoMeet, (i+1)%n, next.b)
	}
	edges := o.Edges()
	edges[(i+n-1)%n].b = moved.a
	edges[i] = moved
	edges[(i+1)%n].a = moved.b
	return adopt(edges)
}

// shifted moves a line or arc to the right and ends it on the lines of its
// neighbours.
func (e *Edge) shifted(right float64, prev, next Edge) (Edge, bool) {
	if e.kind == LineEdge {
		v := e.b.Sub(e.a)
		p := e.a.Add(v.Perp().Unit().Scale(-right))
		a, oka := meetLines(p, v, prev.a, prev.b.Sub(prev.a))
		b, okb := meetLines(p, v, next.a, next.b.Sub(next.a))
		if !oka || !okb || b.Sub(a).Dot(v) <= 0 {
			return Edge{}, false
		}
		return Line(a, b), true
	}
	centre, _ := e.Centre()
	r := e.Radius() + math.Copysign(1, e.s)*right
	if !(r > Coincident) {
		return Edge{}, false
	}
	a, oka := meetCircle(centre, r, prev, e.a)
	b, okb := meetCircle(centre, r, next, e.b)
	if !oka || !okb || a.Dist(b) <= Coincident {
		return Edge{}, false
	}
	return ArcCentre(a, b, centre, e.s > 0), true
}

func meetLines(p, u, q, v Point) (Point, bool) {
	det := u.Cross(v)
	if math.Abs(det) <= 1e-12*u.Norm()*v.Norm() {
		return Point{}, false
	}
	return p.Add(u.Scale(q.Sub(p).Cross(v) / det)), true
}

// meetCircle returns the point of the line's extension on the circle nearest
// to where the old end was.
func meetCircle(centre Point, r float64, line Edge, old Point) (Point, bool) {
	d := line.b.Sub(line.a).Unit()
	v := line.a.Sub(centre)
	s0, s1, n := quadratic(1, 2*v.Dot(d), v.Dot(v)-r*r)
	if n == 0 {
		return Point{}, false
	}
	p := line.a.Add(d.Scale(s0))
	if q := line.a.Add(d.Scale(s1)); n > 1 && q.Dist(old) < p.Dist(old) {
		p = q
	}
	return p, true
}
