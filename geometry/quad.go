package geometry

import "math"

// A quad is P(t) = a + 2Bt + At² with B = c − a and A = a − 2c + b, so that
// P'(t) = 2(B + At).

func (e *Edge) quadBasis() (bv, av Point) {
	bv = e.c.Sub(e.a)
	return bv, e.b.Sub(e.c).Sub(bv)
}

// quadLength integrates |P'| in closed form. With p and q the parts of B + At
// along and across A, r its size, w = |A|:
//
//	L = [ p·r + q²·asinh(p/q) ]₀¹ / w
//
// Both differences are rewritten so that w divides out before it can cancel.
func (e *Edge) quadLength() float64 {
	bv, av := e.quadBasis()
	w := av.Norm()
	if w == 0 {
		return 2 * bv.Norm()
	}
	dir := av.Unit()
	p0, q := bv.Dot(dir), math.Abs(bv.Cross(dir))
	p1 := p0 + w
	r0, r1 := math.Hypot(p0, q), math.Hypot(p1, q)
	sum := r0 + r1
	if sum == 0 {
		return 0
	}
	first := sum/2 + (p0+p1)*((p0+p1)/(2*sum))
	if q == 0 {
		if p0*p1 < 0 { // there and back along one line
			return (p0*p0 + p1*p1) / w
		}
		return first
	}
	// z = sinh(asinh(p1/q) − asinh(p0/q)) / w
	var z float64
	if p0*p1 >= 0 {
		z = (1 + (q*q+p0*p0+p1*p1)/(r0*r1+p0*p1)) / sum
	} else {
		z = (1 + (r0*r1-p0*p1)/(q*q)) / sum
	}
	d := z // asinh(z·w)/w
	if w*z > 1e-8 {
		d = math.Asinh(z*w) / w
	}
	return first + q*q*d
}

func (e *Edge) quadBounds(box Box) Box {
	bv, av := e.quadBasis()
	for _, t := range [2]float64{-bv.X / av.X, -bv.Y / av.Y} {
		if t > 0 && t < 1 {
			box = box.Expand(e.At(t))
		}
	}
	return box
}

// quadNearest solves (P − p)·P' = 0, a cubic in t.
func (e *Edge) quadNearest(p Point) (Point, float64) {
	bv, av := e.quadBasis()
	d := e.a.Sub(p)
	cubic := poly{d.Dot(bv), 2*bv.Dot(bv) + av.Dot(d), 3 * av.Dot(bv), av.Dot(av)}
	best, bt := e.a, 0.0
	bd := p.Dist(e.a)
	if q := p.Dist(e.b); q < bd {
		best, bt, bd = e.b, 1, q
	}
	var buf [8]float64
	for _, t := range cubic.roots(3, buf[:0]) {
		q := e.At(t)
		if r := p.Dist(q); r < bd {
			best, bt, bd = q, t, r
		}
	}
	return best, bt
}

// quadFlat reports whether the control point lies on the chord, and whether the
// curve then runs past its own ends.
func (e *Edge) quadFlat() (flat, folded bool) {
	d := e.b.Sub(e.a)
	v := e.c.Sub(e.a)
	if math.Abs(d.Cross(v)) > 2*Coincident*d.Norm() {
		return false, false
	}
	along := v.Dot(d)
	return true, along < 0 || along > d.Dot(d)
}

// quadFrame places points in the affine frame mid-chord + ξ·(half chord) +
// η·(control − mid-chord), where the curve is η = (1 − ξ²)/2.
func (e *Edge) quadFrame() (m, e1, e2 Point, det float64) {
	m = e.a.Lerp(e.b, 0.5)
	e1 = e.b.Sub(e.a).Scale(0.5)
	e2 = e.c.Sub(m)
	return m, e1, e2, e1.Cross(e2)
}
