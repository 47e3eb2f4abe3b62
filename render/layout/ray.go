package layout

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/render"
)

// ray is what a line meets that runs on from a point of the part: an extension
// line out to a level, a leader in one direction. Of many candidates that differ
// in length and text it tells, without drawing them, what their lines cost at
// least.
type ray struct {
	known bool
	free  float64 // how far it may run before it breaks a rule, mm
	// meets and inside, where it lies in the part, are its parts of the lists of
	// the rays.
	meets, inside span
}

type span struct{ from, to int }

// rays are those of one task.
type rays struct {
	list   []ray
	meets  []meeting
	inside []stretch
}

// meeting is what it costs to run further than some distance, mm.
type meeting struct{ at, cost float64 }

// stretch is a part of a ray.
type stretch struct{ from, to float64 }

func (r *rays) reset() { r.list, r.meets, r.inside = r.list[:0], r.meets[:0], r.inside[:0] }

// atLeast is about what a candidate costs at least beside its place, forbidden
// or more where it breaks a rule for sure. It is hopeless where those after it in
// its chain do the same.
func (p *placer) atLeast(t *task, k *candidate, c *chain) (cost float64, hopeless bool) {
	switch t.form {
	case linear:
		if c.lines < 0 {
			st := &p.stacks[k.group]
			a, b := st.foot(t.a, k.x), st.foot(t.b, k.x)
			c.bare = [2]bool{p.onOutline(a), p.onOutline(b)}
			c.lines = p.dimensioned(t, k, st, a, b)
		}
		return c.lines, c.lines >= forbidden
	case angular:
		return 0, false
	case leader, inline, welding:
	}
	cost = p.led(t, k)
	if cost >= forbidden {
		return cost, true
	}
	s, at := p.shapeOf(t, k)
	box := geometry.Box{Min: s.box.Min.Add(at), Max: s.box.Max.Add(at)}
	if !p.holds(box) {
		return forbidden, false
	}
	return cost + costGrowth*p.growth(box), false
}

// led is what the line costs that leads to a text.
func (p *placer) led(t *task, k *candidate) float64 {
	switch {
	case t.form == leader:
		at := t.targets[k.group]
		r := p.ray(len(leaderAngles)*int(k.group)+int(k.angle), at, leaderDirections[k.angle], line, t.end == render.EndDot)
		return p.leads(r, k.x)
	case t.form == welding && t.symbol.Broken():
		return 0 // its arrow is not one ray
	case t.form == welding:
		at := t.place(k.group)
		length := at.Knee.Norm()
		r := p.ray(int(k.group)%(4*len(t.tips)*len(slants)), at.Tip, at.Knee.Scale(1/length), extension, false)
		return p.run(r, length) + costExtLength*length
	case k.angle > 0:
		r := p.ray(int(k.angle), t.a.Lerp(t.b, 0.5), leaderDirections[k.angle-1], line, false)
		return p.leads(r, k.x)
	}
	r, length := p.ray(0, t.a, t.b.Sub(t.a).Unit(), line, false), t.a.Dist(t.b)
	return p.leads(r, length+k.x)
}

// dimensioned is what the dimension line from a to b costs, at a level, and its
// extension lines.
func (p *placer) dimensioned(t *task, k *candidate, st *stack, a, b geometry.Point) float64 {
	total := p.extended(t, k, st)
	if total >= forbidden || a == b {
		return total
	}
	s := newStroke(a, b, line)
	p.about(s.box)
	return total + costGrowth*p.growth(s.box) + p.strokeCost(&s, nil, nil)
}

// extended is what the extension lines of a dimension cost.
func (p *placer) extended(t *task, k *candidate, st *stack) float64 {
	total := 0.0
	for i, from := range [2]geometry.Point{t.a, t.b} {
		gap := p.style.ExtensionGap
		if length := (k.x - from.Dot(st.n)) / st.e.Dot(st.n); length > gap {
			r := p.ray(2*int(k.group)+i, from.Add(st.e.Scale(gap)), st.e, extension, false)
			if !p.lies(r, length-gap) { // else the edge does for an extension line
				total += p.run(r, length-gap) + costExtLength*(length-gap)
			}
		}
	}
	return total
}

// run is what a ray costs that is so long.
func (p *placer) run(r *ray, length float64) float64 {
	if length > r.free {
		return forbidden
	}
	total := 0.0
	for _, m := range p.rays.meets[r.meets.from:r.meets.to] {
		if m.at < length {
			total += m.cost
		}
	}
	return total
}

// lies tells whether a point of a ray lies in the part, or for an extension
// line on an edge of it.
func (p *placer) lies(r *ray, at float64) bool {
	for _, s := range p.rays.inside[r.inside.from:r.inside.to] {
		if at > s.from && at < s.to {
			return true
		}
	}
	return false
}

// leads is what a leader costs that runs so far and bends there.
func (p *placer) leads(r *ray, length float64) float64 {
	if p.lies(r, length) {
		return p.run(r, length) + costElbowInside
	}
	return p.run(r, length)
}

// ray follows a line that starts at a point, once for each key. A leader with a
// dot starts inside a member and must leave it.
func (p *placer) ray(key int, from, dir geometry.Point, kind strokeKind, dot bool) *ray {
	for key >= len(p.rays.list) {
		p.rays.list = append(p.rays.list, ray{})
	}
	r := &p.rays.list[key]
	if r.known {
		return r
	}
	const far = 80 // longer lines are rare
	*r = ray{known: true, free: math.Inf(1)}
	whole := newStroke(from, from.Add(dir.Scale(far)), kind)
	if !p.limit.Empty() {
		r.free = exit(from.X, dir.X, p.limit.Min.X, p.limit.Max.X, exit(from.Y, dir.Y, p.limit.Min.Y, p.limit.Max.Y, r.free))
	}
	for i := range p.halos {
		if at, ok := p.halos[i].entered(&whole); ok {
			r.free = min(r.free, far*at)
		}
	}
	r.meets.from, r.inside.from = len(p.rays.meets), len(p.rays.inside)
	for i := range p.strokes {
		o := &p.strokes[i]
		// How far either end lies beside the ray.
		a, b := dir.Cross(o.a.Sub(from)), dir.Cross(o.b.Sub(from))
		if kind == extension && o.kind == outline && math.Abs(a) < hair && math.Abs(b) < hair {
			p.onEdge(from, dir, o)
		}
		if a*b >= 0 {
			continue
		}
		if at, cost := meet(&whole, dir, o); cost > 0 {
			if dot && o.kind == outline {
				cost = costExtOutline
			}
			p.rays.meets = append(p.rays.meets, meeting{at, cost})
		}
	}
	if kind == line {
		for i := range p.regions {
			p.through(&p.regions[i], &whole, far, dot)
		}
	}
	r.meets.to, r.inside.to = len(p.rays.meets), len(p.rays.inside)
	return r
}

// hair is how far beside an edge a line still lies on it, mm.
const hair = 0.05

// onEdge lists where a ray runs along an edge of the part.
func (p *placer) onEdge(start, dir geometry.Point, o *stroke) {
	from, to := dir.Dot(o.a.Sub(start)), dir.Dot(o.b.Sub(start))
	p.rays.inside = append(p.rays.inside, stretch{min(from, to) - hair, max(from, to) + hair})
}

// exit is how far a ray runs until it leaves a range, or most.
func exit(from, dir, lo, hi, most float64) float64 {
	switch {
	case dir > 0:
		return min(most, (hi-from)/dir)
	case dir < 0:
		return min(most, (lo-from)/dir)
	}
	return most
}

// meet is where a ray meets a stroke, and what that costs; see pair.
func meet(whole *stroke, dir geometry.Point, o *stroke) (at, cost float64) {
	const end = 0.15 // mm
	e, w := o.b.Sub(o.a), o.a.Sub(whole.a)
	length := math.Sqrt(e.Dot(e))
	cross := dir.Cross(e)
	if length < 1e-9 || math.Abs(cross) < 1e-3*length {
		return 0, 0
	}
	at, r := w.Cross(e)/cross, w.Cross(dir)/cross*length
	if at < end || r < end || length-r < end {
		return 0, 0
	}
	return at + end, crossing(whole.kind, o.kind)
}

// through lists where a ray lies in a region, and what a name's leader costs
// there that comes from another one.
func (p *placer) through(r *region, whole *stroke, far float64, dot bool) {
	if !r.box.Overlaps(whole.box) {
		return
	}
	in := p.crossings(r, whole.a, whole.b)
	from := 0.0
	if dot && !in && len(p.cuts) > 0 {
		p.rays.meets = append(p.rays.meets, meeting{far*p.cuts[0] + 1, costStrange})
	}
	for _, t := range p.cuts {
		if in {
			p.rays.inside = append(p.rays.inside, stretch{from, far * t})
		}
		in, from = !in, far*t
	}
	if in {
		p.rays.inside = append(p.rays.inside, stretch{from, far})
	}
}

// crossings lists in cuts, in order, where a segment crosses the border of a
// region, as parts of its length; in tells whether it starts inside.
func (c *scene) crossings(r *region, a, b geometry.Point) (in bool) {
	d := b.Sub(a)
	cuts := c.cuts[:0]
	from := r.points[len(r.points)-1].Sub(a)
	side := d.Cross(from) > 0
	for _, p := range r.points {
		to := p.Sub(a)
		if next := d.Cross(to) > 0; next != side {
			// The border passes the line of the segment, at t of its length.
			e := to.Sub(from)
			t := from.Cross(e) / d.Cross(e)
			switch {
			case t <= 0:
				in = !in
			case t < 1:
				cuts = append(cuts, t)
			}
			side = next
		}
		from = to
	}
	slices.Sort(cuts)
	c.cuts = cuts
	return in
}
