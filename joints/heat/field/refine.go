package field

import (
	"math"

	"fay/geometry"
)

// Shape limits of the refinement. Triangles are divided until their sides suit
// the wanted size and no angle is very sharp.
const (
	// sizeFactor: circumradius over wanted side above which a triangle is too
	// large; 1/√3 would be the equilateral triangle of exactly that side.
	sizeFactor = 0.72
	// shapeFactor: circumradius over shortest side above which a triangle is
	// too sharp, 21°.
	shapeFactor = 1.4
	// sideFloor: no side is divided once it is shorter than this part of the
	// wanted size, so that sharp corners of an outline come to an end.
	sideFloor = 0.45
)

// refiner turns a triangulation of the outlines into a mesh of wanted sizes.
type refiner struct {
	*triangulation
	g       grid
	regions []Region
	size    Sizing
	limit   int
	queue   badQueue
	stack   []int32
	mark    []int32
	stamp   int32
	changed []int32
}

// wanted is the wanted side at p in grid steps, for a region.
func (r *refiner) wanted(p geometry.Point, reg int32) float64 {
	h := math.Inf(1)
	if len(r.size.Focus) == 0 {
		h = r.size.Min
	}
	for i := range r.size.Focus {
		f := &r.size.Focus[i]
		h = min(h, r.size.Min+r.size.Grow*segmentDistance(p, f[0], f[1]))
	}
	if reg >= 0 && r.regions[reg].Cap > 0 {
		h = min(h, max(r.regions[reg].Cap, r.size.Min/4))
	}
	return h / r.g.step
}

func segmentDistance(p, a, b geometry.Point) float64 {
	d := b.Sub(a)
	l2 := d.Dot(d)
	if l2 == 0 {
		return p.Dist(a)
	}
	t := max(0, min(1, p.Sub(a).Dot(d)/l2))
	return p.Dist(a.Add(d.Scale(t)))
}

// label gives every triangle its region: triangles not parted by an outline
// belong together, and the largest of them tells where they lie.
func (r *refiner) label() {
	mark := make([]bool, len(r.t))
	var group, todo []int32
	for s := range r.t {
		if mark[s] {
			continue
		}
		group, todo = group[:0], append(todo[:0], number(s))
		mark[s] = true
		best, largest := number(s), int64(-1)
		for len(todo) > 0 {
			t := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			group = append(group, t)
			c := &r.t[t]
			if area := orient(r.p[c.v[0]], r.p[c.v[1]], r.p[c.v[2]]); area > largest {
				best, largest = t, area
			}
			for i := range 3 {
				if n := c.across[i]; n != none && !c.fixed[i] && !mark[n] {
					mark[n] = true
					todo = append(todo, n)
				}
			}
		}
		reg := r.regionAt(r.centroid(best))
		for _, t := range group {
			r.t[t].reg = reg
		}
	}
}

func (r *refiner) centroid(t int32) geometry.Point {
	v := r.t[t].v
	a, b, c := r.g.from(r.p[v[0]]), r.g.from(r.p[v[1]]), r.g.from(r.p[v[2]])
	return geometry.Point{X: (a.X + b.X + c.X) / 3, Y: (a.Y + b.Y + c.Y) / 3}
}

func (r *refiner) regionAt(p geometry.Point) int32 {
	for i := range r.regions {
		if insidePolygon(r.regions[i].Outline, p) {
			return number(i)
		}
	}
	return none
}

func insidePolygon(poly []geometry.Point, p geometry.Point) bool {
	in := false
	j := len(poly) - 1
	for i, q := range poly {
		if o := poly[j]; (q.Y > p.Y) != (o.Y > p.Y) && p.X < (o.X-q.X)*(p.Y-q.Y)/(o.Y-q.Y)+q.X {
			in = !in
		}
		j = i
	}
	return in
}

// divideSides cuts the outlines into sides of the wanted sizes.
func (r *refiner) divideSides(segs [][2]int32) bool {
	for _, s := range segs {
		t, i, ok := r.side(s[0], s[1])
		if !ok {
			continue
		}
		regs := [2]int32{r.t[t].reg, none}
		if n := r.t[t].across[i]; n != none {
			regs[1] = r.t[n].reg
		}
		if regs[0] < 0 && regs[1] < 0 {
			continue
		}
		a, b := r.p[s[0]], r.p[s[1]]
		length := math.Sqrt(float64(dist2(a, b)))
		at := func(f float64) gp {
			return gp{a.x + int64(math.Round(f*float64(b.x-a.x))), a.y + int64(math.Round(f*float64(b.y-a.y)))}
		}
		density := func(f float64) float64 {
			p := r.g.from(at(f))
			h := math.Inf(1)
			for _, reg := range regs {
				if reg >= 0 {
					h = min(h, r.wanted(p, reg))
				}
			}
			return length / h
		}
		// Number of sides along the outline: integral of 1/size, on a grid
		// finer than any side wanted on it.
		k := int(max(8, min(400, 4*length/(r.size.Min/r.g.step))))
		sum := make([]float64, k+1)
		prev := density(0)
		for j := 1; j <= k; j++ {
			next := density(float64(j) / float64(k))
			sum[j] = sum[j-1] + (prev+next)/2/float64(k)
			prev = next
		}
		n := int(math.Ceil(sum[k] - 0.2))
		if len(r.p)+n > r.limit {
			return false
		}
		from := s[0]
		j := 1
		for m := 1; m < n; m++ {
			want := sum[k] * float64(m) / float64(n)
			for sum[j] < want {
				j++
			}
			f := (float64(j-1) + (want-sum[j-1])/(sum[j]-sum[j-1])) / float64(k)
			t, i, ok := r.side(from, s[1])
			if !ok || !r.canSplit(t, i, at(f)) {
				continue
			}
			from = r.splitSide(t, i, at(f))
		}
	}
	return len(r.p) <= r.limit
}

type bad struct {
	t        int32
	v        [3]int32
	priority float64
}

type badQueue []bad

// push and pop keep a heap with the worst triangle at its head.
func (q *badQueue) push(b bad) {
	h := append(*q, b)
	for i := len(h) - 1; i > 0; {
		up := (i - 1) / 2
		if h[up].priority >= h[i].priority {
			break
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
	*q = h
}

func (q *badQueue) pop() bad {
	h := *q
	top := h[0]
	last := len(h) - 1
	h[0] = h[last]
	h = h[:last]
	for i := 0; ; {
		worst := i
		for c := 2*i + 1; c <= 2*i+2 && c < last; c++ {
			if h[c].priority > h[worst].priority {
				worst = c
			}
		}
		if worst == i {
			break
		}
		h[i], h[worst] = h[worst], h[i]
		i = worst
	}
	*q = h
	return top
}

// judge queues a triangle that is too large or too sharp.
func (r *refiner) judge(t int32) {
	c := &r.t[t]
	if c.reg < 0 {
		return
	}
	_, radius, shortest := r.circumcentre(t)
	h := r.wanted(r.centroid(t), c.reg)
	size := radius / (sizeFactor * h)
	shape := 0.0
	if shortest > sideFloor*h {
		shape = radius / (shapeFactor * shortest)
	}
	if worst := max(size, shape); worst > 1 {
		r.queue.push(bad{t, c.v, worst})
	}
}

// refine divides bad triangles, worst first. It reports false when the node
// limit is reached.
func (r *refiner) refine() bool {
	for t := range r.t {
		r.judge(number(t))
	}
	r.changed = r.changed[:0]
	r.touched = &r.changed
	for len(r.queue) > 0 {
		b := r.queue.pop()
		if r.t[b.t].v != b.v {
			continue
		}
		if len(r.p) > r.limit {
			return false
		}
		r.improve(b)
		for _, t := range r.changed {
			r.judge(t)
		}
		r.changed = r.changed[:0]
	}
	return true
}

// improve adds the centre of the circle through a bad triangle, or divides the
// outline that stands in its way.
func (r *refiner) improve(b bad) {
	c, _, _ := r.circumcentre(b.t)
	t, blocked := r.walk(b.t, c)
	if blocked != none {
		if r.halve(t, blocked) && r.t[b.t].v == b.v {
			r.queue.push(b)
		}
		return
	}
	// Sides of the outline whose own circle would hold the new point are
	// divided instead: the point would make a sharp triangle on them.
	r.stamp++
	r.stack = append(r.stack[:0], t)
	r.visit(t)
	split := false
	for len(r.stack) > 0 {
		s := r.stack[len(r.stack)-1]
		r.stack = r.stack[:len(r.stack)-1]
		cur := r.t[s]
		for i := range int32(3) {
			if cur.fixed[i] {
				p, q := r.p[cur.v[(i+1)%3]], r.p[cur.v[(i+2)%3]]
				if (p.x-c.x)*(q.x-c.x)+(p.y-c.y)*(q.y-c.y) < 0 {
					if r.halve(s, i) {
						split = true
						break
					}
					return
				}
				continue
			}
			n := cur.across[i]
			if n == none || r.visited(n) {
				continue
			}
			v := r.t[n].v
			if inCircle(r.p[v[0]], r.p[v[1]], r.p[v[2]], c) {
				r.visit(n)
				r.stack = append(r.stack, n)
			}
		}
		if split {
			if r.t[b.t].v == b.v {
				r.queue.push(b)
			}
			return
		}
	}
	for _, v := range r.t[t].v {
		if r.p[v] == c {
			return
		}
	}
	r.last = t
	r.insert(c)
}

func (r *refiner) visit(t int32) {
	for len(r.mark) < len(r.t) {
		r.mark = append(r.mark, 0)
	}
	r.mark[t] = r.stamp
}

func (r *refiner) visited(t int32) bool { return int(t) < len(r.mark) && r.mark[t] == r.stamp }

// walk goes from t towards c and stops at the first outline in the way; then
// blocked is the corner opposite that side.
func (r *refiner) walk(t int32, c gp) (at, blocked int32) {
	from := int32(none)
	for range len(r.t) + 16 {
		cur := &r.t[t]
		next, side := int32(none), int32(none)
		for i := range int32(3) {
			if cur.across[i] == from && from != none {
				continue
			}
			if orient(r.p[cur.v[(i+1)%3]], r.p[cur.v[(i+2)%3]], c) < 0 {
				next, side = cur.across[i], i
				break
			}
		}
		if side == none {
			return t, none
		}
		if cur.fixed[side] || next == none {
			return t, side
		}
		from, t = t, next
	}
	return t, 0
}

// halve divides a side of an outline in the middle unless it is short already.
func (r *refiner) halve(t, i int32) bool {
	c := &r.t[t]
	if !c.fixed[i] {
		return false
	}
	a, b := r.p[c.v[(i+1)%3]], r.p[c.v[(i+2)%3]]
	m := gp{(a.x + b.x) / 2, (a.y + b.y) / 2}
	h := r.wanted(r.g.from(m), c.reg)
	if math.Sqrt(float64(dist2(a, b))) < 2*sideFloor*h || !r.canSplit(t, i, m) {
		return false
	}
	r.splitSide(t, i, m)
	return true
}
