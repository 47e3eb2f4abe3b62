package geometry

import (
	"math"
	"slices"
)

// HalfPlane is the set of points q with (q − P)·N ≥ 0. N need not have length
// 1; an N of no length is no half plane and keeps everything.
type HalfPlane struct{ P, N Point }

// Contains reports whether q lies in the half plane.
func (h HalfPlane) Contains(q Point) bool { return q.Sub(h.P).Dot(h.N) >= 0 }

// Complement returns the half plane on the other side of the same line.
func (h HalfPlane) Complement() HalfPlane { return HalfPlane{h.P, h.N.Scale(-1)} }

// Cut returns the part of the outline inside the half plane: several outlines
// where the line cuts it apart, none where nothing of it is inside. Arcs stay
// arcs and quads stay quads, and the direction of travel is kept. Points within
// Coincident of the line count as on it; parts no thicker than that are dropped.
// A half plane that is not finite keeps nothing.
func (o Outline) Cut(h HalfPlane) []Outline {
	if len(o.edges) == 0 || !h.P.IsFinite() || !h.N.IsFinite() {
		return nil
	}
	n := h.N.Unit()
	if n == (Point{}) {
		return []Outline{o}
	}
	c := cutter{p: h.P, n: n, d: Point{n.Y, -n.X}}
	cw := o.Area() < 0
	if cw {
		o = o.Reverse()
	}
	c.split(o)
	if !slices.Contains(c.side, above) {
		return nil
	}
	var out []Outline
	if !slices.ContainsFunc(c.side, func(s side) bool { return s != above }) && !c.anyNotch() {
		out = []Outline{o}
	} else {
		out = c.join()
	}
	if cw {
		for i := range out {
			out[i] = out[i].Reverse()
		}
	}
	return out
}

type side int8

const (
	below side = iota - 1
	onLine
	above
)

// cutter cuts a counter-clockwise outline along the line through p. What is
// kept lies on the side of n, which is the left of direction d; so every closing
// edge along the line runs in direction d.
type cutter struct {
	p, n, d Point
	pieces  []Edge
	side    []side
}

func (c *cutter) height(q Point) float64 { return q.Sub(c.p).Dot(c.n) }

// split parts every edge at the line and says on which side each piece lies.
func (c *cutter) split(o Outline) {
	var buf [16]float64
	most := len(o.edges) + 4 // a line rarely cuts more edges
	c.pieces, c.side = make([]Edge, 0, most), make([]side, 0, most)
	for i := range o.edges {
		e := o.edges[i]
		at := e.heightRoots(c, buf[:0])
		sortSmall(at)
		// Parameters are rescaled as pieces come off the front.
		done := 0.0
		rest := e
		for _, t := range at {
			if !(t > done) || !(t < 1) {
				continue
			}
			head, tail := rest.Split((t - done) / (1 - done))
			if head.Length() <= 2*Coincident || tail.Length() <= 2*Coincident {
				continue
			}
			c.push(head)
			rest, done = tail, t
		}
		c.push(rest)
	}
}

func (c *cutter) push(e Edge) {
	c.pieces = append(c.pieces, e)
	// The middle decides, or for a piece with an end well off the line the
	// farther of its ends: rounding at the other cannot change the side.
	h := c.height(e.At(0.5))
	for _, q := range [2]Point{e.a, e.b} {
		if v := c.height(q); math.Abs(v) > math.Abs(h) {
			h = v
		}
	}
	switch {
	case h > Coincident:
		c.side = append(c.side, above)
	case h < -Coincident:
		c.side = append(c.side, below)
	default:
		c.side = append(c.side, onLine)
	}
}

// heightRoots appends the parameters at which the edge meets the line.
func (e *Edge) heightRoots(c *cutter, dst []float64) []float64 {
	ha, hb := c.height(e.a), c.height(e.b)
	switch flat := e.straightened(); flat.kind {
	case LineEdge:
		if ha*hb < 0 {
			_, t := e.Nearest(e.a.Lerp(e.b, ha/(ha-hb)))
			dst = append(dst, t)
		}
	case ArcEdge:
		s0, s1, k := lineArcParams(c.p, c.d, e)
		f := e.frame()
		for i, s := range [2]float64{s0, s1} {
			if i < k {
				dst = append(dst, f.turn(f.local(c.p.Add(c.d.Scale(s)))))
			}
		}
	case QuadEdge:
		bv, av := e.quadBasis()
		q := poly{ha, 2 * c.n.Dot(bv), c.n.Dot(av)}
		var buf [8]float64
		for _, t := range q.roots(2, buf[:0]) {
			if math.Abs(q.at(2, t)) <= Coincident {
				dst = append(dst, t)
			}
		}
	}
	return dst
}

// notch reports whether the outline, all above the line on both sides of the
// joint between pieces i−1 and i, touches the line there with its inside
// below: what is above is then two parts that only meet at the point.
func (c *cutter) notch(i int) bool {
	n := len(c.pieces)
	in, out := c.pieces[(i+n-1)%n].Reverse(), c.pieces[i]
	if math.Abs(c.height(out.a)) > Coincident {
		return false
	}
	u, ku := in.leaving()
	v, kv := out.leaving()
	switch w := v.Cross(u); {
	case math.Abs(w) > 1e-9:
		return w < 0
	case v.Dot(u) > 0: // a cusp: inside it if the edge that comes in lies left
		return ku < kv
	}
	return v.Dot(c.d) < 0
}

func (c *cutter) anyNotch() bool {
	for i := range c.pieces {
		if c.notch(i) {
			return true
		}
	}
	return false
}

// chain is a run of kept pieces that starts and ends on the line.
type chain struct {
	first, count int
	next         int // chain that follows along the line
	used         bool
}

func (c *cutter) chains() []chain {
	n := len(c.pieces)
	starts := func(i int) bool {
		return c.side[i] == above && (c.side[(i+n-1)%n] != above || c.notch(i))
	}
	var out []chain
	for i := range n {
		if !starts(i) {
			continue
		}
		ch := chain{first: i, count: 1, next: -1}
		for j := (i + 1) % n; j != i && c.side[j] == above && !starts(j); j = (j + 1) % n {
			ch.count++
		}
		out = append(out, ch)
	}
	return out
}

// join closes the chains along the line. Going along d the ends of chains and
// the starts of chains take turns, because the outline does not cross itself.
func (c *cutter) join() []Outline {
	chains := c.chains()
	n := len(c.pieces)
	type stop struct {
		at    float64
		chain int
		end   bool
	}
	stops := make([]stop, 0, 2*len(chains))
	for i, ch := range chains {
		last := c.pieces[(ch.first+ch.count-1)%n]
		stops = append(stops,
			stop{c.pieces[ch.first].a.Sub(c.p).Dot(c.d), i, false},
			stop{last.b.Sub(c.p).Dot(c.d), i, true})
	}
	// At one point a start goes before an end: that is a notch, and each end
	// there belongs to the start farther on.
	slices.SortStableFunc(stops, func(x, y stop) int {
		switch {
		case x.at < y.at:
			return -1
		case x.at > y.at:
			return 1
		case x.end == y.end:
			return 0
		case y.end:
			return -1
		}
		return 1
	})
	open := -1
	var spareEnds, spareStarts []int
	for _, s := range stops {
		switch {
		case s.end && open >= 0:
			spareEnds = append(spareEnds, open)
			open = s.chain
		case s.end:
			open = s.chain
		case open >= 0:
			chains[open].next = s.chain
			open = -1
		default:
			spareStarts = append(spareStarts, s.chain)
		}
	}
	if open >= 0 {
		spareEnds = append(spareEnds, open)
	}
	// Left over are only ends and starts that rounding put in the wrong order
	// at one point.
	for i, e := range spareEnds {
		if i < len(spareStarts) {
			chains[e].next = spareStarts[i]
		}
	}
	return c.rings(chains)
}

func (c *cutter) rings(chains []chain) []Outline {
	var out []Outline
	n := len(c.pieces)
	for i := range chains {
		if chains[i].used {
			continue
		}
		var ring []Edge
		for j := i; j >= 0 && !chains[j].used; j = chains[j].next {
			ch := &chains[j]
			ch.used = true
			for k := range ch.count {
				ring = append(ring, c.pieces[(ch.first+k)%n])
			}
			if ch.next >= 0 {
				ring = closeGap(ring, c.pieces[chains[ch.next].first].a)
			}
		}
		if len(ring) < 2 {
			continue
		}
		ring = c.tidy(ring)
		if kept := (Outline{ring}); len(ring) >= 2 && kept.Area() > Coincident*kept.Perimeter() {
			out = append(out, kept)
		}
	}
	return out
}

// closeGap runs the ring straight on to p.
func closeGap(ring []Edge, p Point) []Edge {
	last := &ring[len(ring)-1]
	if last.b == p {
		return ring
	}
	if last.b.Dist(p) <= Coincident {
		last.b = p
		return ring
	}
	return append(ring, Line(last.b, p))
}

// tidy makes the ring watertight after closeGap moved an end.
func (c *cutter) tidy(ring []Edge) []Edge {
	n := len(ring)
	for i := range ring {
		ring[(i+1)%n].a = ring[i].b
	}
	return slices.DeleteFunc(ring, func(e Edge) bool { return e.a == e.b })
}
