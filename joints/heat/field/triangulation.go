package field

import "math"

// tri is a triangle: corners counter-clockwise; across[i] is the neighbour
// opposite corner i, or none; fixed[i] says that the side opposite corner i is
// part of an outline and must stay. reg is the region it belongs to.
type tri struct {
	v      [3]int32
	across [3]int32
	fixed  [3]bool
	reg    int32
}

const none = -1

// number makes a short number of a count or index; the node limit keeps all of
// them far below 2^31.
func number(i int) int32 {
	return int32(i) //nolint:gosec // bounded by mostNodes
}

// triangulation is a constrained Delaunay triangulation that grows point by
// point.
type triangulation struct {
	p    []gp
	t    []tri
	at   []int32 // one triangle at each point
	last int32   // where the last search ended
	work [][2]int32
	// touched collects triangles that changed, for the refinement; nil when
	// nobody asks.
	touched *[]int32
}

// outer is the number of points of the triangle around everything.
const outer = 3

func newTriangulation() *triangulation {
	const d = gridSpan
	tr := &triangulation{
		p:  []gp{{-4 * d, -4 * d}, {12 * d, -4 * d}, {-4 * d, 12 * d}},
		t:  []tri{{v: [3]int32{0, 1, 2}, across: [3]int32{none, none, none}, reg: none}},
		at: []int32{0, 0, 0},
	}
	return tr
}

func (tr *triangulation) touch(t int32) {
	if tr.touched != nil {
		*tr.touched = append(*tr.touched, t)
	}
}

// locate finds the triangle that holds p by walking towards it from the last
// one found. side is the side p lies on, or none.
func (tr *triangulation) locate(p gp) (t, side int32) {
	t = tr.last
	for range 4*len(tr.t) + 16 {
		cur := &tr.t[t]
		side = none
		next := int32(none)
		for i := range int32(3) {
			o := orient(tr.p[cur.v[(i+1)%3]], tr.p[cur.v[(i+2)%3]], p)
			if o < 0 && cur.across[i] != none {
				next = cur.across[i]
				break
			}
			if o == 0 {
				side = i
			}
		}
		if next == none {
			tr.last = t
			return t, side
		}
		t = next
	}
	return tr.scan(p)
}

// scan is the search that cannot fail, for the rare walk that goes in circles.
func (tr *triangulation) scan(p gp) (t, side int32) {
	for i := range tr.t {
		side, inside := int32(none), true
		for j := range int32(3) {
			o := orient(tr.p[tr.t[i].v[(j+1)%3]], tr.p[tr.t[i].v[(j+2)%3]], p)
			if o < 0 {
				inside = false
				break
			}
			if o == 0 {
				side = j
			}
		}
		if inside {
			tr.last = number(i)
			return number(i), side
		}
	}
	return tr.last, none
}

// insert adds p and returns its number; a point already there is returned as
// it is.
func (tr *triangulation) insert(p gp) int32 {
	t, side := tr.locate(p)
	for _, v := range tr.t[t].v {
		if tr.p[v] == p {
			return v
		}
	}
	if side != none {
		return tr.splitSide(t, side, p)
	}
	v := tr.newPoint(p, t)
	o := tr.t[t]
	t1, t2 := number(len(tr.t)), number(len(tr.t)+1)
	tr.t = append(tr.t, tri{}, tri{})
	tr.set(t, [3]int32{v, o.v[0], o.v[1]}, [3]int32{o.across[2], t1, t2}, [3]bool{o.fixed[2], false, false}, o.reg)
	tr.set(t1, [3]int32{v, o.v[1], o.v[2]}, [3]int32{o.across[0], t2, t}, [3]bool{o.fixed[0], false, false}, o.reg)
	tr.set(t2, [3]int32{v, o.v[2], o.v[0]}, [3]int32{o.across[1], t, t1}, [3]bool{o.fixed[1], false, false}, o.reg)
	tr.relink(o.across[0], t, t1)
	tr.relink(o.across[1], t, t2)
	tr.work = append(tr.work[:0], [2]int32{t, v}, [2]int32{t1, v}, [2]int32{t2, v})
	tr.legalize()
	return v
}

func (tr *triangulation) newPoint(p gp, t int32) int32 {
	tr.p = append(tr.p, p)
	tr.at = append(tr.at, t)
	return number(len(tr.p) - 1)
}

func (tr *triangulation) set(t int32, v, across [3]int32, fixed [3]bool, reg int32) {
	tr.t[t] = tri{v: v, across: across, fixed: fixed, reg: reg}
	for _, c := range v {
		tr.at[c] = t
	}
	tr.touch(t)
}

func (tr *triangulation) relink(t, from, to int32) {
	if t == none {
		return
	}
	for i := range tr.t[t].across {
		if tr.t[t].across[i] == from {
			tr.t[t].across[i] = to
		}
	}
}

func (tr *triangulation) sideTo(t, neighbour int32) int32 {
	for i := range int32(3) {
		if tr.t[t].across[i] == neighbour {
			return i
		}
	}
	return none
}

// canSplit reports whether the side may be divided at p without turning a
// triangle over; p may lie off the side by the rounding to the grid.
func (tr *triangulation) canSplit(t, side int32, p gp) bool {
	for range 2 {
		c := &tr.t[t]
		a, b, o := tr.p[c.v[(side+1)%3]], tr.p[c.v[(side+2)%3]], tr.p[c.v[side]]
		if orient(a, p, o) <= 0 || orient(p, b, o) <= 0 {
			return false
		}
		n := c.across[side]
		if n == none {
			return true
		}
		t, side = n, tr.sideTo(n, t)
	}
	return true
}

// splitSide divides a side, and the triangles on both its sides, at p.
func (tr *triangulation) splitSide(t, side int32, p gp) int32 {
	v := tr.newPoint(p, t)
	o := tr.t[t]
	i, j, k := side, (side+1)%3, (side+2)%3
	n := o.across[i]
	t1 := number(len(tr.t))
	tr.t = append(tr.t, tri{})
	n1 := int32(none)
	if n != none {
		n1 = number(len(tr.t))
		tr.t = append(tr.t, tri{})
	}
	f := o.fixed[i]
	// o = (c, a, b): becomes (v, c, a) and (v, b, c).
	c, a, b := o.v[i], o.v[j], o.v[k]
	tr.set(t, [3]int32{v, c, a}, [3]int32{o.across[k], n, t1}, [3]bool{o.fixed[k], f, false}, o.reg)
	tr.set(t1, [3]int32{v, b, c}, [3]int32{o.across[j], t, n1}, [3]bool{o.fixed[j], false, f}, o.reg)
	tr.relink(o.across[j], t, t1)
	tr.work = append(tr.work[:0], [2]int32{t, v}, [2]int32{t1, v})
	if n != none {
		m := tr.t[n]
		q := tr.sideTo(n, t)
		qj, qk := (q+1)%3, (q+2)%3
		// m = (d, b, a): becomes (v, a, d) beside t and (v, d, b) beside t1.
		d := m.v[q]
		tr.set(n, [3]int32{v, a, d}, [3]int32{m.across[qj], n1, t}, [3]bool{m.fixed[qj], false, f}, m.reg)
		tr.set(n1, [3]int32{v, d, b}, [3]int32{m.across[qk], t1, n}, [3]bool{m.fixed[qk], f, false}, m.reg)
		tr.relink(m.across[qk], n, n1)
		tr.work = append(tr.work, [2]int32{n, v}, [2]int32{n1, v})
	}
	tr.legalize()
	return v
}

// legalize flips sides opposite new points until the triangulation is Delaunay
// again.
func (tr *triangulation) legalize() {
	for len(tr.work) > 0 {
		w := tr.work[len(tr.work)-1]
		tr.work = tr.work[:len(tr.work)-1]
		t, v := w[0], w[1]
		i := tr.corner(t, v)
		if i == none || tr.t[t].fixed[i] {
			continue
		}
		n := tr.t[t].across[i]
		if n == none {
			continue
		}
		c := &tr.t[t]
		q := tr.t[n].v[tr.sideTo(n, t)]
		if !inCircle(tr.p[c.v[0]], tr.p[c.v[1]], tr.p[c.v[2]], tr.p[q]) {
			continue
		}
		tr.flip(t, i)
		tr.work = append(tr.work, [2]int32{t, v}, [2]int32{n, v})
	}
}

func (tr *triangulation) corner(t, v int32) int32 {
	for i := range int32(3) {
		if tr.t[t].v[i] == v {
			return i
		}
	}
	return none
}

// flip turns the diagonal of the quadrilateral made of t and its neighbour
// opposite corner i.
func (tr *triangulation) flip(t, i int32) {
	n := tr.t[t].across[i]
	o, m := tr.t[t], tr.t[n]
	j := tr.sideTo(n, t)
	p, a, b, q := o.v[i], o.v[(i+1)%3], o.v[(i+2)%3], m.v[j]
	i1, i2, j1, j2 := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
	tr.set(t, [3]int32{p, a, q}, [3]int32{m.across[j1], n, o.across[i2]}, [3]bool{m.fixed[j1], false, o.fixed[i2]}, o.reg)
	tr.set(n, [3]int32{p, q, b}, [3]int32{m.across[j2], o.across[i1], t}, [3]bool{m.fixed[j2], o.fixed[i1], false}, m.reg)
	tr.relink(m.across[j1], n, t)
	tr.relink(o.across[i1], t, n)
}

// around calls f with every triangle at v and the corner v has in it, until f
// returns false. Inner points only: every point here is inner, because of the
// outer triangle.
func (tr *triangulation) around(v int32, f func(t, corner int32) bool) {
	start := tr.at[v]
	t := start
	for range len(tr.t) + 1 {
		i := tr.corner(t, v)
		if i == none || !f(t, i) {
			return
		}
		t = tr.t[t].across[(i+1)%3]
		if t == start || t == none {
			return
		}
	}
}

// side finds the side from a to b as a triangle and the corner opposite.
func (tr *triangulation) side(a, b int32) (t, opposite int32, ok bool) {
	tr.around(a, func(s, i int32) bool {
		switch b {
		case tr.t[s].v[(i+1)%3]:
			t, opposite, ok = s, (i+2)%3, true
		case tr.t[s].v[(i+2)%3]:
			t, opposite, ok = s, (i+1)%3, true
		}
		return !ok
	})
	return t, opposite, ok
}

func (tr *triangulation) fix(t, i int32) {
	tr.t[t].fixed[i] = true
	if n := tr.t[t].across[i]; n != none {
		tr.t[n].fixed[tr.sideTo(n, t)] = true
	}
}

// constrain makes the straight line from a to b a chain of fixed sides.
func (tr *triangulation) constrain(a, b int32) bool {
	for range len(tr.p) + 1 {
		if a == b {
			return true
		}
		if t, i, ok := tr.side(a, b); ok {
			tr.fix(t, i)
			return true
		}
		next, ok := tr.constrainTo(a, b)
		if !ok {
			return false
		}
		a = next
	}
	return false
}

// constrainTo clears the way from a towards b up to the first point on it, and
// returns that point.
func (tr *triangulation) constrainTo(a, b int32) (int32, bool) {
	pa, pb := tr.p[a], tr.p[b]
	var queue [][2]int32
	t, via := int32(none), int32(none)
	tr.around(a, func(s, i int32) bool {
		l, r := tr.t[s].v[(i+1)%3], tr.t[s].v[(i+2)%3]
		ol, or := orient(pa, pb, tr.p[l]), orient(pa, pb, tr.p[r])
		if ol == 0 && tr.ahead(pa, pb, tr.p[l]) {
			via = l
			return false
		}
		if or == 0 && tr.ahead(pa, pb, tr.p[r]) {
			via = r
			return false
		}
		if ol < 0 && or > 0 {
			t = s
			queue = append(queue, [2]int32{l, r})
			return false
		}
		return true
	})
	if via != none {
		s, i, ok := tr.side(a, via)
		if ok {
			tr.fix(s, i)
		}
		return via, ok
	}
	if t == none {
		return a, false
	}
	end := b
	for {
		last := queue[len(queue)-1]
		_, i, ok := tr.sideIn(t, last)
		if !ok || tr.t[t].fixed[i] {
			return a, false // two outlines cross: the arrangement forbids it
		}
		n := tr.t[t].across[i]
		if n == none {
			return a, false
		}
		o := tr.t[n].v[tr.sideTo(n, t)]
		if o == b {
			break
		}
		switch s := orient(pa, pb, tr.p[o]); {
		case s == 0:
			end = o
		case s < 0:
			queue = append(queue, [2]int32{o, last[1]})
		default:
			queue = append(queue, [2]int32{last[0], o})
		}
		if end == o {
			break
		}
		t = n
	}
	return end, tr.clear(a, end, queue)
}

func (tr *triangulation) ahead(a, b, p gp) bool {
	return (b.x-a.x)*(p.x-a.x)+(b.y-a.y)*(p.y-a.y) > 0
}

func (tr *triangulation) sideIn(t int32, ends [2]int32) (int32, int32, bool) {
	for i := range int32(3) {
		x, y := tr.t[t].v[(i+1)%3], tr.t[t].v[(i+2)%3]
		if (x == ends[0] && y == ends[1]) || (x == ends[1] && y == ends[0]) {
			return t, i, true
		}
	}
	return none, none, false
}

// clear flips the sides in queue, which cross the line from a to b, until none
// does, then fixes the line and restores the Delaunay property beside it.
func (tr *triangulation) clear(a, b int32, queue [][2]int32) bool {
	pa, pb := tr.p[a], tr.p[b]
	var fresh [][2]int32
	limit := 64 * (len(queue) + 4) * (len(queue) + 4)
	for n := 0; len(queue) > 0; n++ {
		if n > limit {
			return false
		}
		e := queue[0]
		queue = queue[1:]
		t, i, ok := tr.side(e[0], e[1])
		if !ok {
			continue
		}
		m := tr.t[t].across[i]
		p, q := tr.t[t].v[i], tr.t[m].v[tr.sideTo(m, t)]
		l, r := tr.t[t].v[(i+1)%3], tr.t[t].v[(i+2)%3]
		if orient(tr.p[p], tr.p[l], tr.p[q]) <= 0 || orient(tr.p[p], tr.p[q], tr.p[r]) <= 0 {
			queue = append(queue, e) // not convex yet
			continue
		}
		tr.flip(t, i)
		op, oq := orient(pa, pb, tr.p[p]), orient(pa, pb, tr.p[q])
		if (op < 0 && oq > 0) || (op > 0 && oq < 0) {
			queue = append(queue, [2]int32{p, q})
		} else {
			fresh = append(fresh, [2]int32{p, q})
		}
	}
	t, i, ok := tr.side(a, b)
	if !ok {
		return false
	}
	tr.fix(t, i)
	for range len(fresh) + 1 {
		flipped := false
		for k, e := range fresh {
			t, i, ok := tr.side(e[0], e[1])
			if !ok || tr.t[t].fixed[i] {
				continue
			}
			m := tr.t[t].across[i]
			p, q := tr.t[t].v[i], tr.t[m].v[tr.sideTo(m, t)]
			c := tr.t[t].v
			if inCircle(tr.p[c[0]], tr.p[c[1]], tr.p[c[2]], tr.p[q]) {
				tr.flip(t, i)
				fresh[k] = [2]int32{p, q}
				flipped = true
			}
		}
		if !flipped {
			break
		}
	}
	return true
}

// circumcentre returns the centre, rounded to the grid, and the radius in grid
// steps of the circle through t, and its shortest side.
func (tr *triangulation) circumcentre(t int32) (c gp, radius, shortest float64) {
	v := tr.t[t].v
	a, b, d := tr.p[v[0]], tr.p[v[1]], tr.p[v[2]]
	bx, by := float64(b.x-a.x), float64(b.y-a.y)
	cx, cy := float64(d.x-a.x), float64(d.y-a.y)
	b2, c2 := bx*bx+by*by, cx*cx+cy*cy
	den := 2 * float64(orient(a, b, d))
	ux, uy := (cy*b2-by*c2)/den, (bx*c2-cx*b2)/den
	radius = math.Hypot(ux, uy)
	shortest = math.Sqrt(min(b2, c2, float64(dist2(b, d))))
	// A needle's centre may lie anywhere; the caller walks there and stops at
	// the first outline, so bounding it loses nothing.
	const far = 2 * gridSpan
	ux, uy = max(-far, min(far, ux)), max(-far, min(far, uy))
	return gp{a.x + int64(math.Round(ux)), a.y + int64(math.Round(uy))}, radius, shortest
}
