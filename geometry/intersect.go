package geometry

import (
	"math"
	"slices"
)

// Crossing is a common point of two edges and the parameter of each there.
type Crossing struct {
	P      Point
	TA, TB float64
}

// Intersect returns the common points of two edges in the order of a. A touch
// within Coincident counts. Edges that overlap along a stretch are reported by
// the ends of the stretch.
func Intersect(a, b Edge) []Crossing {
	if !a.isFinite() || !b.isFinite() || !a.looseBounds().near(b.looseBounds()) {
		return nil
	}
	var buf [16]Point
	cand := meet(&a, &b, buf[:0])
	cand = append(cand, a.a, a.b, b.a, b.b)
	var out []Crossing
	for _, p := range cand {
		qa, ta := a.Nearest(p)
		qb, tb := b.Nearest(p)
		if !(qa.Dist(p) <= Coincident && qb.Dist(p) <= Coincident) {
			continue
		}
		c := Crossing{p, ta, tb}
		if !slices.ContainsFunc(out, func(o Crossing) bool { return o.P.Dist(c.P) <= 2*Coincident }) {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(x, y Crossing) int {
		switch {
		case x.TA < y.TA:
			return -1
		case x.TA > y.TA:
			return 1
		}
		return 0
	})
	return out
}

// meet appends candidate points; the caller judges them by distance.
func meet(a, b *Edge, dst []Point) []Point {
	fa, fb := a.straightened(), b.straightened()
	switch {
	case fa.kind == QuadEdge && fb.kind == QuadEdge:
		return meetQuads(&fa, &fb, dst)
	case fa.kind == QuadEdge:
		return meetQuadRound(&fa, &fb, dst)
	case fb.kind == QuadEdge:
		return meetQuadRound(&fb, &fa, dst)
	case fa.kind == LineEdge && fb.kind == LineEdge:
		u, v := fa.b.Sub(fa.a), fb.b.Sub(fb.a)
		if det := u.Cross(v); det != 0 {
			dst = append(dst, fa.a.Add(u.Scale(fb.a.Sub(fa.a).Cross(v)/det)))
		}
		return dst
	case fa.kind == LineEdge:
		return meetLineArc(fa.a, fa.b.Sub(fa.a), &fb, dst)
	case fb.kind == LineEdge:
		return meetLineArc(fb.a, fb.b.Sub(fb.a), &fa, dst)
	}
	return meetArcs(&fa, &fb, dst)
}

// straightened returns the chord for a quad that is straight.
func (e *Edge) straightened() Edge {
	if e.kind == QuadEdge {
		if flat, folded := e.quadFlat(); flat && !folded {
			return Line(e.a, e.b)
		}
	}
	return *e
}

// lineArcParams returns the parameters s at which p + s·dir meets the full
// circle of an arc. A near miss or a shallow cut within Coincident is one
// touch.
func lineArcParams(p, dir Point, arc *Edge) (s0, s1 float64, n int) {
	f := arc.frame()
	q := f.local(p)
	h := math.Sqrt(f.h2)
	d := Point{dir.Dot(f.e) / f.h2, f.e.Cross(dir) / f.h2}
	// k(|q + s·d|² − 1) − (1 − k²)(q + s·d)·η = 0; the gradient on the circle
	// is 1 + k².
	w := 1 - f.k*f.k
	a := f.k * d.Dot(d)
	b := 2*f.k*q.Dot(d) - w*d.Y
	c := f.k*(q.Dot(q)-1) - w*q.Y
	if a != 0 {
		s := -b / (2 * a)
		if miss := (c + s*b/2) / (1 + f.k*f.k) * h; math.Abs(miss) <= Coincident && finite(s) {
			return s, 0, 1
		}
	}
	return quadratic(a, b, c)
}

func meetLineArc(p, dir Point, arc *Edge, dst []Point) []Point {
	s0, s1, n := lineArcParams(p, dir, arc)
	if n > 0 {
		dst = append(dst, p.Add(dir.Scale(s0)))
	}
	if n > 1 {
		dst = append(dst, p.Add(dir.Scale(s1)))
	}
	return dst
}

// circle is κ/2·|Q|² + g·Q + c about the origin o: the distance from a circle
// or line to first order, negative to the left.
type circle struct {
	k, c float64
	g    Point
}

func (e *Edge) circleAbout(o Point) circle {
	if e.kind == LineEdge {
		g := e.b.Sub(e.a).Unit().Perp().Scale(-1)
		return circle{0, -g.Dot(e.a.Sub(o)), g}
	}
	f := e.frame()
	h := math.Sqrt(f.h2)
	u := f.k * f.k
	m := f.m.Sub(o)
	k := 2 * f.k / (h * (1 + u))
	g := f.e.Perp().Scale(-(1 - u) / ((1 + u) * h))
	return circle{k, k/2*m.Dot(m) - g.Dot(m) - f.k*h/(1+u), g.Sub(m.Scale(k))}
}

// meetArcs cuts the more curved circle with the radical line of both.
func meetArcs(a, b *Edge, dst []Point) []Point {
	o := a.a.Lerp(a.b, 0.5)
	ca, cb := a.circleAbout(o), b.circleAbout(o)
	arc := a
	if math.Abs(cb.k) > math.Abs(ca.k) {
		arc = b
	}
	g := ca.g.Scale(cb.k).Sub(cb.g.Scale(ca.k))
	n2 := g.Dot(g)
	if n2 == 0 {
		return dst
	}
	foot := o.Add(g.Scale(-(cb.k*ca.c - ca.k*cb.c) / n2))
	return meetLineArc(foot, g.Perp().Unit(), arc, dst)
}

// meetQuadRound puts the quad into the equation of the circle: a quartic, or a
// quadratic for a line.
func meetQuadRound(quad, round *Edge, dst []Point) []Point {
	f := round.circleAbout(quad.a)
	bv, av := quad.quadBasis()
	c := poly{
		f.c,
		2 * f.g.Dot(bv),
		2*f.k*bv.Dot(bv) + f.g.Dot(av),
		2 * f.k * av.Dot(bv),
		f.k / 2 * av.Dot(av),
	}
	return quad.pointsAt(c, dst)
}

// meetQuads puts quad b into the implicit equation 2η + ξ² = 1 of quad a.
func meetQuads(a, b *Edge, dst []Point) []Point {
	m, e1, e2, det := a.quadFrame()
	if det == 0 {
		return dst
	}
	lin := func(v Point) (xi, eta float64) { return v.Cross(e2) / det, e1.Cross(v) / det }
	bv, av := b.quadBasis()
	x0, y0 := lin(b.a.Sub(m))
	x1, y1 := lin(bv.Scale(2))
	x2, y2 := lin(av)
	return b.pointsAt(poly{
		2*y0 + x0*x0 - 1,
		2*y1 + 2*x0*x1,
		2*y2 + x1*x1 + 2*x0*x2,
		2 * x1 * x2,
		x2 * x2,
	}, dst)
}

func (e *Edge) pointsAt(c poly, dst []Point) []Point {
	var buf [16]float64
	for _, t := range c.roots(4, buf[:0]) {
		dst = append(dst, e.At(t))
	}
	return dst
}

// IntersectLine returns, in rising order, the parameters s at which the
// infinite line p + s·dir meets the edge; dir need not have length 1, and none
// are returned if it has no length. A straight edge along the line gives the
// parameters of its ends.
func IntersectLine(e Edge, p, dir Point) []float64 {
	if !e.isFinite() || !p.IsFinite() || !dir.IsFinite() {
		return nil
	}
	s := e.lineParams(p, dir, nil)
	sortSmall(s)
	return s
}

// lineParams appends the parameters in no particular order.
func (e *Edge) lineParams(p, dir Point, dst []float64) []float64 {
	n2 := dir.Dot(dir)
	if n2 == 0 {
		return dst
	}
	n := math.Sqrt(n2)
	first := len(dst)
	push := func(s float64) {
		for _, o := range dst[first:] {
			if math.Abs(o-s)*n <= 2*Coincident {
				return
			}
		}
		dst = append(dst, s)
	}
	along := func(q Point) float64 { return q.Sub(p).Dot(dir) / n2 }
	da, db := dir.Cross(e.a.Sub(p))/n, dir.Cross(e.b.Sub(p))/n
	// Ends on the line first, so that the same vertex gives the same number
	// for both its edges.
	if math.Abs(da) <= Coincident {
		push(along(e.a))
	}
	if math.Abs(db) <= Coincident {
		push(along(e.b))
	}
	flat := e.straightened()
	switch flat.kind {
	case LineEdge:
		if da*db < 0 && math.Abs(da) > Coincident && math.Abs(db) > Coincident {
			push(along(e.a.Lerp(e.b, da/(da-db))))
		}
	case ArcEdge:
		s0, s1, k := lineArcParams(p, dir, e)
		f := e.frame()
		for i, s := range [2]float64{s0, s1} {
			if i >= k {
				break
			}
			if t := f.turn(f.local(p.Add(dir.Scale(s)))); t >= 0 && t <= 1 {
				push(s)
			}
		}
	case QuadEdge:
		bv, av := e.quadBasis()
		c := poly{da, 2 * dir.Cross(bv) / n, dir.Cross(av) / n}
		var buf [8]float64
		for _, t := range c.roots(2, buf[:0]) {
			if math.Abs(c.at(2, t)) <= Coincident {
				push(along(e.At(t)))
			}
		}
	}
	return dst
}
