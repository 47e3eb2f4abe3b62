package geometry

import (
	"math"
	"slices"
)

// Moments are second moments of area in mm⁴: Ixx = ∫y² dA, Iyy = ∫x² dA,
// Ixy = ∫xy dA. Those of a clockwise outline are negative, like its area.
type Moments struct{ Ixx, Iyy, Ixy float64 }

// sums are the integrals over an area of 1, x, y, y², x², xy.
type sums struct{ a, x, y, yy, xx, xy float64 }

// A curved edge is its chord plus the segment between chord and curve. A
// segment is given in a frame m + ξ·e1 + η·e2 in which ∫ξ and ∫ξη vanish, with
// det the area of the frame's parallelogram, positive where the segment adds to
// a counter-clockwise outline.
type segment struct {
	m, e1, e2    Point
	det          float64
	one, eta     float64 // ∫1, ∫η
	xixi, etaeta float64 // ∫ξ², ∫η²
}

// Coefficients of a circular segment over a chord from −1 to 1, as power series
// in u = bulge²: area = k·f(u)/2, ∫η = u·g(u), ∫ξ² = k·q(u), ∫η² = k³·p(u).
// They come from expanding the closed forms in circularSegment; the leading
// terms 8/3, 8/15, 4/15, 32/105 are those of the parabola.
var (
	seriesF, seriesG, seriesQ, seriesP = segmentSeries()
)

const seriesTerms = 22

func segmentSeries() (f, g, q, p [seriesTerms]float64) {
	coef := func(m int) float64 {
		n := float64(m)
		c := 8 / ((2*n + 3) * (2*n + 1) * (2*n - 1))
		if m%2 == 0 {
			c = -c
		}
		return c
	}
	for m := range f {
		f[m] = coef(m)
		g[m] = (coef(m) - coef(m+1)) / 4
		if m == 0 {
			q[m] = 4.0 / 15
		} else {
			q[m] = (coef(m+1) + 2*coef(m) + coef(m-1)) / 32
		}
		p[m] = (5*coef(m+2) - 6*coef(m+1) + 5*coef(m)) / 32
	}
	return f, g, q, p
}

func horner(c []float64, u float64) float64 {
	v := 0.0
	for _, a := range slices.Backward(c) {
		v = v*u + a
	}
	return v
}

// segmentArea returns the area between the arc of bulge k and its chord for a
// half chord of 1: k·f/2 with f = [(1+k²)²·atan(k)/k − (1−k²)]/k².
func segmentArea(k float64) float64 {
	u := k * k
	if u < areaSeriesBulge2 {
		return k / 2 * horner(seriesF[:11], u)
	}
	return ((1+u)*(1+u)*math.Atan(k) - k*(1-u)) / (2 * u)
}

// circularSegment returns the integrals for a half chord of 1.
func circularSegment(k float64) (one, eta, xixi, etaeta float64) {
	u := k * k
	one = segmentArea(k)
	if u < seriesBulge2 {
		return one, u * horner(seriesG[:], u), k * horner(seriesQ[:], u), k * u * horner(seriesP[:], u)
	}
	// About the centre the integrals are the textbook ones; d is the distance
	// of the centre behind the chord, r the radius.
	d, r := (1-u)/(2*k), (1+u)/(2*k)
	eta = 2.0/3 - d*one
	xixi = r*r*one/4 - d/6
	etaeta = one*(r*r/4+d*d) - 5.0/6*d
	return one, eta, xixi, etaeta
}

// segmentOf returns the segment of a curved edge.
func (e *Edge) segmentOf() segment {
	s := segment{m: e.a.Lerp(e.b, 0.5), e1: e.b.Sub(e.a).Scale(0.5)}
	if e.kind == ArcEdge {
		s.e2 = Point{s.e1.Y, -s.e1.X}
		s.det = s.e1.Dot(s.e1)
		s.one, s.eta, s.xixi, s.etaeta = circularSegment(e.s / math.Sqrt(s.det))
		return s
	}
	s.e2 = e.c.Sub(s.m)
	s.det = s.e2.Cross(s.e1)
	s.one, s.eta, s.xixi, s.etaeta = 2.0/3, 2.0/15, 2.0/15, 4.0/105
	return s
}

// segmentAreaOf returns the signed area between the edge and its chord.
func (e *Edge) segmentAreaOf() float64 {
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		d := e.b.Sub(e.a)
		h := math.Sqrt(d.Dot(d)) / 2
		return h * h * segmentArea(e.s/h)
	case QuadEdge:
		return e.c.Sub(e.a).Cross(e.b.Sub(e.a)) / 3
	}
	return 0
}

// add adds the triangle from the origin over the chord and the segment beyond
// it, coordinates taken relative to ref.
func (s *sums) add(e *Edge, ref Point) {
	p, q := e.a.Sub(ref), e.b.Sub(ref)
	w := p.Cross(q)
	s.a += w / 2
	s.x += w * (p.X + q.X) / 6
	s.y += w * (p.Y + q.Y) / 6
	s.yy += w * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
	s.xx += w * (p.X*p.X + p.X*q.X + q.X*q.X) / 12
	s.xy += w * (p.X*(2*p.Y+q.Y) + q.X*(p.Y+2*q.Y)) / 24
	if e.kind == LineEdge {
		return
	}
	g := e.segmentOf()
	m := g.m.Sub(ref)
	one, eta := g.det*g.one, g.det*g.eta
	xx, ee := g.det*g.xixi, g.det*g.etaeta
	s.a += one
	s.x += m.X*one + g.e2.X*eta
	s.y += m.Y*one + g.e2.Y*eta
	s.xx += m.X*m.X*one + 2*m.X*g.e2.X*eta + g.e1.X*g.e1.X*xx + g.e2.X*g.e2.X*ee
	s.yy += m.Y*m.Y*one + 2*m.Y*g.e2.Y*eta + g.e1.Y*g.e1.Y*xx + g.e2.Y*g.e2.Y*ee
	s.xy += m.X*m.Y*one + (m.X*g.e2.Y+m.Y*g.e2.X)*eta + g.e1.X*g.e1.Y*xx + g.e2.X*g.e2.Y*ee
}

// Area returns ½∮(x dy − y dx) along a chain of edges in mm², exact per edge.
// For a closed chain that is its area, counter-clockwise positive; an open one
// gives the area swept from the origin.
func Area(edges ...Edge) float64 {
	area := 0.0
	for i := range edges {
		e := &edges[i]
		area += e.a.Cross(e.b)/2 + e.segmentAreaOf()
	}
	return area
}

// Area returns the signed area in mm², counter-clockwise positive.
func (o Outline) Area() float64 {
	area := 0.0
	for i := range o.edges {
		e := &o.edges[i]
		ref := o.edges[0].a
		area += e.a.Sub(ref).Cross(e.b.Sub(ref)) / 2
		if e.kind != LineEdge {
			area += e.segmentAreaOf()
		}
	}
	return area
}

// sums returns the integrals about ref, gathered about the outline's first
// point so that a far origin costs no digits until the shift.
func (o Outline) sums() (s sums, ref Point) {
	if len(o.edges) == 0 {
		return sums{}, Point{}
	}
	ref = o.edges[0].a
	for i := range o.edges {
		s.add(&o.edges[i], ref)
	}
	return s, ref
}

// Centroid returns the centre of area; the origin for the zero Outline.
func (o Outline) Centroid() Point {
	s, ref := o.sums()
	if s.a == 0 {
		return ref
	}
	return Point{ref.X + s.x/s.a, ref.Y + s.y/s.a}
}

// SecondMoments returns the second moments about axes through the centroid.
func (o Outline) SecondMoments() Moments {
	s, _ := o.sums()
	if s.a == 0 {
		return Moments{}
	}
	return Moments{Ixx: s.yy - s.y*s.y/s.a, Iyy: s.xx - s.x*s.x/s.a, Ixy: s.xy - s.x*s.y/s.a}
}

// MomentsAbout returns the second moments about axes through p.
func (o Outline) MomentsAbout(p Point) Moments {
	var s sums
	for i := range o.edges {
		s.add(&o.edges[i], p)
	}
	return Moments{Ixx: s.yy, Iyy: s.xx, Ixy: s.xy}
}
