package geometry

import "math"

// tangentReach is the distance from a joint of two curves within which their
// tangency cannot be told from a crossing: a double root is known only to the
// square root of the rounding error.
var tangentReach = math.Sqrt(Coincident)

// junctionCrosses takes two edges that leave one point and reports a second
// point they share, or the point itself if they overlap there. If closed, their
// far ends are joined too and do not count. The common root is divided out
// analytically: edges that meet in a tangent, such as a fillet radius and its
// flank, would otherwise show a second one beside it.
func junctionCrosses(a, b Edge, closed bool) (Point, bool) {
	a, b = a.straightened(), b.straightened()
	switch {
	case a.kind == LineEdge && b.kind == LineEdge:
		return a.a, foldsBack(a.b.Sub(a.a), b.b.Sub(b.a))
	case a.kind == QuadEdge && b.kind == QuadEdge:
		if part(&a, &b) {
			return Point{}, false
		}
		return junctionQuads(a, b, closed)
	case a.kind == QuadEdge:
		return junctionQuad(a, b, closed)
	case b.kind == QuadEdge:
		return junctionQuad(b, a, closed)
	}
	return junctionRound(a, b, closed)
}

// foldsBack reports whether two vectors from one point lie along each other: the
// end of the shorter within Coincident of the longer.
func foldsBack(u, v Point) bool {
	w := u.Cross(v)
	return u.Dot(v) > 0 && w*w <= Coincident*Coincident*max(u.Dot(u), v.Dot(v))
}

// leaving returns the unit tangent and the signed curvature (left positive) at
// the start of the edge.
func (e *Edge) leaving() (t Point, curvature float64) {
	d := e.b.Sub(e.a)
	switch e.kind {
	case LineEdge:
		return d.Scale(1 / math.Sqrt(d.Dot(d))), 0
	case QuadEdge:
		bv, av := e.quadBasis()
		r := bv.Norm()
		if r <= Coincident { // no curvature to speak of: the end control is the start
			return d.Unit(), 0
		}
		return bv.Scale(1 / r), bv.Cross(av) / (2 * r * r * r)
	case ArcEdge:
	}
	c := math.Sqrt(d.Dot(d))
	k := 2 * e.s / c
	u := k * k
	// The tangent is the chord turned back by half the sweep, tan(¼ sweep) = k.
	cos, sin := (1-u)/(1+u), 2*k/(1+u)
	d = d.Scale(1 / c)
	return Point{cos*d.X + sin*d.Y, cos*d.Y - sin*d.X}, 4 * k / (c * (1 + u))
}

// junctionRound handles lines and arcs. Inversion about the common point turns
// both into straight lines n·w = κ/2, n the left normal: their meeting point w
// is the image of the second common point.
func junctionRound(a, b Edge, closed bool) (Point, bool) {
	ta, ka := a.leaving()
	tb, kb := b.leaving()
	na, nb := ta.Perp(), tb.Perp()
	det := na.Cross(nb)
	v := nb.Scale(ka).Sub(na.Scale(kb)) // w = −v⊥/(2·det)
	reach := max(a.a.Dist(a.b), b.a.Dist(b.b))
	if v.Norm()*reach <= 4*Coincident/reach && math.Abs(det)*reach <= Coincident {
		// The same line or circle: back over itself. Once round and on shows
		// at the next joint, which lies on the first arc.
		return a.a, ta.Dot(tb) > 0
	}
	n2 := v.Dot(v)
	if n2 == 0 {
		return Point{}, false
	}
	q := a.a.Add(v.Perp().Scale(-2 * det / n2))
	if closed { // q is the far end: two circles have no third common point
		return Point{}, false
	}
	if b.kind == LineEdge { // the cheaper test first
		a, b = b, a
	}
	return q, q.Dist(a.a) > Coincident && a.leadsTo(q) && b.leadsTo(q)
}

// leadsTo reports whether a point of the edge's line or circle lies on the edge
// itself, within Coincident.
func (e *Edge) leadsTo(q Point) bool { return e.Distance(q) <= Coincident }

// junctionQuad handles a quad and a line or arc. With the common point as
// origin the round edge is κ|Q|² = 2n·Q and the quad Q = t(2B + At); one t
// divides out and leaves a cubic.
func junctionQuad(quad, round Edge, closed bool) (Point, bool) {
	t, k := round.leaving()
	n := t.Perp()
	bv, av := quad.quadBasis()
	if u, v := n.Dot(bv), n.Dot(quad.b.Sub(quad.a)); round.kind == LineEdge && (u > Coincident && v > Coincident || u < -Coincident && v < -Coincident) {
		return Point{}, false // the hull of the quad stays on one side of the line
	}
	c := poly{
		-4 * n.Dot(bv),
		4*k*bv.Dot(bv) - 2*n.Dot(av),
		4 * k * av.Dot(bv),
		k * av.Dot(av),
	}
	var buf [8]float64
	far := func(q Point) bool {
		return q.Dist(quad.a) > Coincident && !(closed && q.Dist(quad.b) <= tangentReach)
	}
	for _, r := range append(c.roots(3, buf[:0]), 1) {
		if q := quad.At(r); far(q) && round.Distance(q) <= Coincident {
			return q, true
		}
	}
	q := round.b
	return q, far(q) && quad.Distance(q) <= Coincident
}

// part reports whether two quads leave their common start to different sides of
// a line through it, as the waves of a break line do: they meet nowhere else. A
// point of a quad lies to a side as surely as its control points, so that what is
// far enough to be told from the start is far from the other quad too.
func part(a, b *Edge) bool {
	const slope = 0.01 // against the line, of the way to each control point
	n := b.b.Sub(a.b)
	aside := func(v Point, side float64) bool {
		d := side * v.Dot(n)
		return d > 0 && d*d > slope*slope*v.Dot(v)*n.Dot(n)
	}
	u, v := a.b.Sub(a.a), b.b.Sub(a.a)
	const least = 1e4 * Coincident // of quads that are more than a speck
	return u.Dot(u) > least*least && v.Dot(v) > least*least &&
		aside(u, -1) && aside(a.c.Sub(a.a), -1) && aside(v, 1) && aside(b.c.Sub(a.a), 1)
}

// junctionQuads handles two quads by their general intersection, leaving out
// the neighbourhood of the joints.
func junctionQuads(a, b Edge, closed bool) (Point, bool) {
	for _, h := range Intersect(a, b) {
		if h.P.Dist(a.a) > tangentReach && !(closed && h.P.Dist(a.b) <= tangentReach) {
			return h.P, true
		}
	}
	return a.a, a.Distance(b.At(0.25)) <= Coincident && a.Distance(b.At(0.5)) <= Coincident
}
