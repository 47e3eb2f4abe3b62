package geometry

import "math"

// An arc is handled in the frame of its chord, in units of half the chord:
// ends at (∓1, 0), middle at (0, −k) with ordinate positive to the left of
// travel and k the bulge, the tangent of a quarter of the sweep. On the circle
//
//	k(ξ² + η² − 1) − (1 − k²)η = 0
//
// which stays an ordinary line when k goes to 0.

// bulge returns 2·sagitta/chord = tan(sweep/4).
func (e *Edge) bulge() float64 { return 2 * e.s / e.a.Dist(e.b) }

// Sweep returns the signed turn of an arc, counter-clockwise positive, 0 for
// other kinds.
func (e Edge) Sweep() Angle {
	if e.kind != ArcEdge {
		return 0
	}
	return Angle(4 * math.Atan(e.bulge()))
}

// Radius returns the radius of an arc, +Inf for other kinds.
func (e Edge) Radius() float64 {
	if e.kind != ArcEdge {
		return math.Inf(1)
	}
	h := e.a.Dist(e.b) / 2
	k := e.s / h
	return h * (1 + k*k) / (2 * math.Abs(k))
}

// Centre returns the centre of an arc; ok is false for other kinds.
func (e Edge) Centre() (c Point, ok bool) {
	if e.kind != ArcEdge {
		return Point{}, false
	}
	k := e.bulge()
	return e.a.Lerp(e.b, 0.5).Add(e.b.Sub(e.a).Perp().Scale((1 - k*k) / (4 * k))), true
}

func (e *Edge) arcAt(t float64) Point {
	k := e.bulge()
	sweep := 4 * math.Atan(k)
	ratio := t // of the chord to t against the whole chord
	if math.Abs(k) > flatBulge {
		ratio = math.Sin(t*sweep/2) * (1 + k*k) / (2 * k)
	}
	return e.a.Add(e.b.Sub(e.a).Rotate(Angle((t - 1) * sweep / 2)).Scale(ratio))
}

func (e *Edge) arcLength() float64 {
	k := e.bulge()
	r := 1.0
	if math.Abs(k) > flatBulge {
		r = (1 + k*k) * math.Atan(k) / k
	}
	return e.a.Dist(e.b) * r
}

func (e *Edge) arcSplit(t float64, p Point) (Edge, Edge) {
	sweep := 4 * math.Atan(e.bulge())
	return Arc(e.a, p, e.a.Dist(p)/2*math.Tan(t*sweep/4)),
		Arc(p, e.b, p.Dist(e.b)/2*math.Tan((1-t)*sweep/4))
}

func (e *Edge) arcBounds(box Box) Box {
	sweep := 4 * math.Atan(e.bulge())
	if sweep == 0 || math.IsNaN(sweep) {
		return box
	}
	// The tangent turns evenly from start to end; an extreme stands where it
	// is along an axis.
	d := e.b.Sub(e.a)
	first := math.Atan2(d.Y, d.X) - sweep/2
	lo, hi := min(first, first+sweep), max(first, first+sweep)
	for n := math.Ceil(lo / (math.Pi / 2)); n*math.Pi/2 < hi; n++ {
		if t := (n*math.Pi/2 - first) / sweep; t > 0 && t < 1 {
			box = box.Expand(e.arcAt(t))
		}
	}
	return box
}

func (e *Edge) arcLooseBounds(box Box) Box {
	d := e.b.Sub(e.a)
	c := math.Sqrt(d.Dot(d))
	if math.Abs(e.s) <= c/2 {
		v := d.Perp().Scale(-e.s / c)
		return box.Expand(e.a.Add(v)).Expand(e.b.Add(v))
	}
	// A major arc stays within its diameter of the chord.
	return box.Grow(math.Abs(e.s) + c*c/math.Abs(e.s))
}

// chordFrame places points in the frame of an arc's chord.
type chordFrame struct {
	m, e  Point // mid-chord and half chord
	h2, k float64
}

func (e *Edge) frame() chordFrame {
	h := e.b.Sub(e.a).Scale(0.5)
	h2 := h.Dot(h)
	return chordFrame{e.a.Lerp(e.b, 0.5), h, h2, e.s / math.Sqrt(h2)}
}

func (f *chordFrame) local(p Point) Point {
	q := p.Sub(f.m)
	return Point{q.Dot(f.e) / f.h2, f.e.Cross(q) / f.h2}
}

// inside reports whether the point with local coordinates q is in the disc.
func (f *chordFrame) inside(q Point) bool {
	v := f.k*(q.Dot(q)-1) - (1-f.k*f.k)*q.Y
	return (v < 0) == (f.k > 0)
}

// turn returns the parameter of the arc in whose direction from the centre q
// lies, in about −∞…∞; the arc itself is 0…1.
func (f *chordFrame) turn(q Point) float64 {
	k := math.Abs(f.k)
	half := 2 * math.Atan(k)
	if k < flatBulge {
		return (q.X + 1) / 2
	}
	psi := math.Atan2(2*k*q.X, 1-k*k-2*f.k*q.Y)
	return (psi/half + 1) / 2
}

func (e *Edge) arcNearest(p Point) (Point, float64) {
	f := e.frame()
	t := f.turn(f.local(p))
	if t > 0 && t < 1 {
		return e.arcAt(t), t
	}
	if p.Dist(e.b) < p.Dist(e.a) {
		return e.b, 1
	}
	return e.a, 0
}
