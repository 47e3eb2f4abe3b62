package geometry

import "math"

// Location says where a point lies against an outline.
type Location uint8

// The zero Location is Outside.
const (
	Outside Location = iota
	OnBoundary
	Inside
)

// String returns outside, on boundary or inside.
func (l Location) String() string {
	switch l {
	case Outside:
		return "outside"
	case OnBoundary:
		return "on boundary"
	case Inside:
		return "inside"
	}
	return "location?"
}

// Locate reports whether p lies inside, outside, or within Coincident of the
// boundary. A point that is not finite lies outside.
func (o Outline) Locate(p Point) Location {
	if !p.IsFinite() {
		return Outside
	}
	box := EmptyBox()
	for i := range o.edges {
		e := &o.edges[i]
		b := e.looseBounds()
		box = box.Union(b)
		if b.Grow(Coincident).Contains(p) && e.Distance(p) <= Coincident {
			return OnBoundary
		}
	}
	if !box.Contains(p) || o.winding(p) == 0 {
		return Outside
	}
	return Inside
}

// winding counts the turns of the outline round p: the angles its chords
// subtend, and a whole turn for every segment that holds p. Side of the chord
// and angle come from the same product, so a point on a chord is counted once.
func (o Outline) winding(p Point) int {
	turn, whole := 0.0, 0
	for i := range o.edges {
		e := &o.edges[i]
		u, v := e.a.Sub(p), e.b.Sub(p)
		side := u.Cross(v)
		if side == 0 {
			side = 0 // −0 would turn atan2 round
		}
		turn += math.Atan2(side, u.Dot(v))
		switch e.kind {
		case LineEdge:
		case ArcEdge:
			right := side < 0
			if right == (e.s > 0) {
				f := e.frame()
				if f.inside(f.local(p)) {
					whole += wholeTurn(right)
				}
			}
		case QuadEdge:
			m, e1, e2, det := e.quadFrame()
			right := side < 0
			if det != 0 && right == (det < 0) {
				q := p.Sub(m)
				xi, eta := q.Cross(e2)/det, e1.Cross(q)/det
				if 2*eta < 1-xi*xi {
					whole += wholeTurn(right)
				}
			}
		}
	}
	return int(math.Round(turn/(2*math.Pi))) + whole
}

func wholeTurn(right bool) int {
	if right {
		return 1
	}
	return -1
}

// Nearest returns the boundary point nearest to p, the index of its edge and
// its parameter there. The zero Outline gives index −1.
func (o Outline) Nearest(p Point) (q Point, edge int, t float64) {
	edge = -1
	best := math.Inf(1)
	for i := range o.edges {
		r, u := o.edges[i].Nearest(p)
		if d := r.Dist(p); d < best || edge < 0 {
			best, q, edge, t = d, r, i, u
		}
	}
	return q, edge, t
}

// Distance returns the distance from p to the boundary, never negative; +Inf
// for the zero Outline.
func (o Outline) Distance(p Point) float64 {
	q, i, _ := o.Nearest(p)
	if i < 0 {
		return math.Inf(1)
	}
	return q.Dist(p)
}

// OutlineCrossing is a common point of two outlines: the edge of each and the
// parameter on it.
type OutlineCrossing struct {
	P            Point
	EdgeA, EdgeB int
	TA, TB       float64
}

// Intersections returns the common points of two boundaries in the order of o.
// A crossing at a vertex is reported once, at the edge that ends or begins
// there first.
func (o Outline) Intersections(other Outline) []OutlineCrossing {
	var out []OutlineCrossing
	for i := range o.edges {
		for j := range other.edges {
			for _, c := range Intersect(o.edges[i], other.edges[j]) {
				out = appendCrossing(out, OutlineCrossing{c.P, i, j, c.TA, c.TB})
			}
		}
	}
	return out
}

func appendCrossing(out []OutlineCrossing, c OutlineCrossing) []OutlineCrossing {
	for _, o := range out {
		if o.P.Dist(c.P) <= 2*Coincident {
			return out
		}
	}
	at := len(out)
	for at > 0 && out[at-1].EdgeA == c.EdgeA && out[at-1].TA > c.TA {
		at--
	}
	out = append(out, c)
	copy(out[at+1:], out[at:])
	out[at] = c
	return out
}
