package layout

import (
	"math"

	"fay/geometry"
	"fay/render"
	"fay/render/symbol"
)

// linear lists the ways to dimension a straight distance: on the outward side
// or the other, extension lines square or along the neighbouring surface,
// stacked further and further out, the text in five places.
func (p *placer) linear(t *task) {
	d := t.b.Sub(t.a)
	if d.Norm() < 1e-9 {
		return
	}
	u := d.Unit()
	n := u.Perp()
	other := 12.0
	switch {
	case t.own:
		other = 160
	case t.outward == (geometry.Point{}):
		other = 1
	case t.eitherSide:
		other = 3
	}
	if t.outward != (geometry.Point{}) {
		if math.Abs(u.Dot(t.outward)) > 1e-6 {
			// The points are staggered: the distance is taken square to outward.
			u = t.outward.Perp().Scale(-1)
			n = t.outward
		}
		if n.Dot(t.outward) < 0 {
			n = n.Scale(-1)
		}
	}
	p.stack(t, u, n, n, 0)
	p.stack(t, u, n.Scale(-1), n.Scale(-1), other)
	if e := t.along; e.Dot(n) > 0.3 && e.Dot(n) < 0.999 {
		p.stack(t, u, n, e, 3)
	}
}

// textCost is the price of the places of a text, in the order of
// render.TextPlace.
var textCost = [...]float64{
	render.TextInside: 0, render.TextAfter: 3, render.TextBefore: 3.4,
	render.TextAfterRight: 4, render.TextAfterLeft: 4.4, render.TextBeforeRight: 5, render.TextBeforeLeft: 5.4,
}

// stack adds candidates with the dimension line on the n side, extension lines
// along e.
func (p *placer) stack(t *task, u, n, e geometry.Point, base float64) {
	const rows = 7
	en := e.Dot(n)
	// s runs along the dimension line, e taken out.
	skew := e.Dot(u) / en
	at := func(x geometry.Point) float64 { return x.Dot(u) - x.Dot(n)*skew }
	lo, hi := min(at(t.a), at(t.b)), max(at(t.a), at(t.b))
	ground := max(t.a.Dot(n), t.b.Dot(n))
	for i := range p.outlines() {
		s := &p.strokes[i]
		ground = max(ground, highest(s, at, n, lo+0.05, hi-0.05))
	}
	first := ground + p.style.FirstOffset
	if en < 0.999 {
		first = ground + 0.8*p.style.FirstOffset
	}
	p.stacks = append(p.stacks, stack{u, n, e})
	group := int16(len(p.stacks) - 1) //nolint:gosec // three at most
	// Long texts are easier to read level than along an upright line.
	long := 0.0
	if math.Abs(u.X) < 0.7 {
		long = 0.12 * t.text.Width
	}
	add := func(level, cost float64) {
		from := len(p.buf)
		for place, c := range textCost {
			if place == int(render.TextAfter) || place == int(render.TextBefore) {
				c += long
			}
			p.buf = append(p.buf, candidate{cost: cost + c, x: level, group: group, angle: int16(place)})
		}
		p.listed(from)
	}
	for i := range p.levels {
		k := &p.levels[i]
		if k.n == n && k.x > first-2 && k.x < first+rows*p.style.NextOffset {
			add(k.x, base-0.5+1.5*max(0, (k.x-first)/p.style.NextOffset))
		}
	}
	for row := range rows {
		add(first+float64(row)*p.style.NextOffset, base+2*float64(row))
	}
	// In the open between the feature and what lies behind it.
	own := max(t.a.Dot(n), t.b.Dot(n)) + p.style.FirstOffset
	for row := 0; row < 3 && own < first-4; row++ {
		if !p.buried(t, &p.stacks[group], own) {
			add(own, base+1+2*float64(row))
		}
		own += p.style.NextOffset
	}
	if en > 0.999 {
		p.inner(t, n, ground, group, base)
	}
}

// buried tells whether a dimension line at a level would run inside the part.
func (p *placer) buried(t *task, st *stack, level float64) bool {
	a, b := st.foot(t.a, level), st.foot(t.b, level)
	for _, at := range [...]float64{0.1, 0.5, 0.9} {
		x := a.Lerp(b, at)
		for i := range p.regions {
			if p.regions[i].contains(x) {
				return true
			}
		}
	}
	return false
}

// inner adds places beside a small feature deep in the part: the dimension line
// stands near it and runs on out of the part to its text.
func (p *placer) inner(t *task, n geometry.Point, ground float64, group int16, base float64) {
	const near, deep = 5.0, 8.0
	own := max(t.a.Dot(n), t.b.Dot(n))
	if ground-own < deep || t.a.Dist(t.b) > 2*p.style.ArrowLength {
		return
	}
	st := &p.stacks[group]
	for _, off := range [...]float64{near, near + 4, near + 9} {
		level := own + off
		if level > ground-2 {
			return
		}
		a, b := st.foot(t.a, level), st.foot(t.b, level)
		ends := [2]geometry.Point{a, b}
		if v, _ := render.Reading(b.Sub(a)); v.Dot(b.Sub(a)) < 0 {
			ends = [2]geometry.Point{b, a}
		}
		d := ends[1].Sub(ends[0]).Unit()
		before := len(p.buf)
		for place := render.TextAfter; place < render.TextPlace(render.TextPlaces); place++ {
			from, dir := ends[1], d
			if place == render.TextBefore || place == render.TextBeforeLeft || place == render.TextBeforeRight {
				from, dir = ends[0], d.Scale(-1)
			}
			lead := p.out(from, dir) - p.style.ArrowLength
			if lead > 30 {
				continue
			}
			p.buf = append(p.buf, candidate{cost: base + 2 + textCost[place] + 0.1*off, x: level, group: group, angle: int16(place), lead: max(0, lead)})
		}
		p.listed(before)
	}
}

// out is how far it is from a point along a direction to where the part ends.
func (p *placer) out(from, dir geometry.Point) float64 {
	far := 0.0
	for i := range p.outlines() {
		s := &p.strokes[i]
		e := s.b.Sub(s.a)
		k := dir.Cross(e)
		if k == 0 {
			continue
		}
		w := s.a.Sub(from)
		if r := w.Cross(dir) / k; r < 0 || r > 1 {
			continue
		}
		far = max(far, w.Cross(e)/k)
	}
	return far
}

// highest is the largest n·x of the part of a stroke whose s lies in lo…hi.
func highest(s *stroke, at func(geometry.Point) float64, n geometry.Point, lo, hi float64) float64 {
	a, b := at(s.a), at(s.b)
	x, y := s.a.Dot(n), s.b.Dot(n)
	if a > b {
		a, b, x, y = b, a, y, x
	}
	if b <= lo || a >= hi || hi <= lo {
		return math.Inf(-1)
	}
	if b-a < 1e-9 {
		return max(x, y)
	}
	slope := (y - x) / (b - a)
	if a < lo {
		x += (lo - a) * slope
	}
	if b > hi {
		y -= (b - hi) * slope
	}
	return max(x, y)
}

func (p *placer) onOutline(x geometry.Point) bool {
	for i := range p.outlines() {
		s := &p.strokes[i]
		if s.box.Grow(0.05).Contains(x) && geometry.Line(s.a, s.b).Distance(x) < 0.05 {
			return true
		}
	}
	return false
}

// sides are the directions of an angle's sides, the first less than the second
// and less than half a turn apart.
func (t *task) sides() (from, to geometry.Angle) {
	from, to = t.a.Angle(), t.b.Angle()
	for to < from {
		to += 2 * math.Pi
	}
	if to-from > math.Pi {
		return to - 2*math.Pi, from
	}
	return from, to
}

// arcPlaces are the places of the text of an angle, see render.Angular.At.
var arcPlaces = [...]float64{0.5, 0.35, 0.65, 0.2, 0.8, 2, -1}

// angular lists arcs of rising radius with the text on the arc or beyond it.
func (p *placer) angular(t *task) {
	from, to := t.sides()
	p.reach = [2]float64{p.reachOf(t.v, from), p.reachOf(t.v, to)}
	// Beyond what stands between the sides, and only for want of room inside.
	const inside = 9.0
	least := max(14, p.depth(t.v, from, to)+0.7*p.style.FirstOffset)
	add := func(radius, cost float64) {
		from := len(p.buf)
		for j := range arcPlaces {
			p.buf = append(p.buf, candidate{cost: cost + 0.7*float64(j), x: radius, angle: int16(j)})
		}
		p.listed(from)
	}
	for i := range 7 {
		add(least+float64(i)*p.style.NextOffset, 2.4*float64(i))
	}
	for r := 14.0; r < least-4; r += p.style.NextOffset {
		add(r, inside)
	}
}

// depth is how far the part reaches from v strictly between two directions.
func (p *placer) depth(v geometry.Point, from, to geometry.Angle) float64 {
	a, b := geometry.Polar(1, from), geometry.Polar(1, to)
	const hair = 0.2
	far := 0.0
	for i := range p.outlines() {
		s := &p.strokes[i]
		for _, q := range [2]geometry.Point{s.a, s.b} {
			if w := q.Sub(v); a.Cross(w) > hair && w.Cross(b) > hair {
				far = max(far, w.Norm())
			}
		}
	}
	return far
}

// reachOf is how far from v an edge of the part runs in a direction.
func (p *placer) reachOf(v geometry.Point, a geometry.Angle) float64 {
	dir := geometry.Polar(1, a)
	far := 0.0
	for i := range p.outlines() {
		s := &p.strokes[i]
		for _, q := range [2]geometry.Point{s.a, s.b} {
			if w := q.Sub(v); math.Abs(w.Cross(dir)) < 0.05 {
				far = max(far, w.Dot(dir))
			}
		}
	}
	return far
}

// inline lists the lengths to which a dimension line runs on to its text.
func (p *placer) inline(t *task) {
	u := t.b.Sub(t.a).Unit()
	if u == (geometry.Point{}) {
		return
	}
	for _, right := range [...]bool{true, false} {
		cost := 0.0
		if right != (u.X >= 0) {
			cost = 10
		}
		p.stepped(candidate{cost: cost, right: right}, 0.25, runs)
	}
	const bent = 14
	for j, deg := range leaderAngles {
		right := math.Abs(deg) < 90
		p.lengths(candidate{cost: bent + 0.8*float64(j/4), angle: int16(j + 1), right: right}, 3, bentLengths)
	}
}

// lengths adds a candidate with several lengths, and each with its text to the
// other side at an extra cost.
func (p *placer) lengths(k candidate, other float64, lengths []float64) {
	const per = 0.3
	p.stepped(k, per, lengths)
	k.cost, k.right = k.cost+other, !k.right
	p.stepped(k, per, lengths)
}

// The lengths of what leads to a text, mm: of a line that runs on, of one that
// leads out from its middle, and of leaders.
var (
	runs          = []float64{6, 8, 10, 13, 16, 20, 25, 31, 38, 46, 55}
	bentLengths   = []float64{9, 14, 20, 28, 38, 50, 64}
	leaderLengths = []float64{5.5, 9, 14, 20, 28, 38, 50}
)

// leaderAngles are the directions of leaders in degrees: oblique, and none
// along section lining. Better ones come first, in fours.
var leaderAngles = [...]float64{60, 120, -60, -120, 72, 108, -72, -108, 30, 150, -30, -150, 20, 160, -20, -160}

// leaderDirections are the unit vectors of leaderAngles.
var leaderDirections = func() (out [len(leaderAngles)]geometry.Point) {
	for i, deg := range leaderAngles {
		out[i] = geometry.Polar(1, geometry.Angle(deg)*geometry.Degree)
	}
	return out
}()

func (p *placer) leader(t *task) {
	for i := range t.targets {
		for j := range leaderAngles {
			dir := leaderDirections[j]
			if t.round && dir.Dot(t.targets[i].Sub(t.v)) < 0 {
				continue // it would run through the circle
			}
			cost := 0.8*float64(j/4) + 2*float64(i)
			if t.outward.Dot(dir) < 0 {
				cost += 4
			}
			p.lengths(candidate{cost: cost, group: int16(i), angle: int16(j), right: dir.X >= 0}, 2, leaderLengths)
		}
	}
}

// rises are the heights of a reference line over the tip of its arrow, mm, and
// slants how far the knee moves along it, as a part of the rise.
var (
	rises  = []float64{12, 17, 23, 30, 38, 48, 60, 74}
	slants = [...]float64{0, 0.6, -0.3, 1.3}
)

// welding lists the places of a welding symbol: above and below its tip, to
// either side, near and far, at 60° or flatter.
func (p *placer) welding(t *task) {
	for j := range slants {
		if j > 1 && t.symbol.Arrow.Prepared != "" {
			break // a break does not show on such a flat arrow
		}
		for k := range 4 * len(t.tips) {
			group := int16(4*len(t.tips)*j + k) //nolint:gosec // some hundred at most
			rise, left := t.rise(group)
			cost := 2 + 3*float64(j) + 2*float64(k/4)
			if rise < 0 {
				cost += 1.5
			}
			if left {
				cost++
			}
			if out := t.outward; out != (geometry.Point{}) {
				if along := t.symbol.Knee(rise, left).Unit().Dot(out); along < 0.2 {
					cost += 25 * (0.2 - along)
				}
			}
			p.chains = append(p.chains, chain{count: len(rises), first: candidate{cost: cost, group: group}, steps: rises, per: 0.2,
				stride: int16(4 * len(t.tips) * len(slants))}) //nolint:gosec // some hundred at most
		}
	}
}

// rise reads the place of a symbol off its number.
func (t *task) rise(group int16) (rise float64, left bool) {
	rise = rises[int(group)/(4*len(t.tips)*len(slants))]
	if group&2 != 0 {
		rise = -rise
	}
	return rise, group&1 != 0
}

// picture draws a symbol at a place.
func (t *task) picture(s *render.Style, k candidate) symbol.Picture {
	return t.symbol.Layout(s, t.place(k.group))
}

func (t *task) place(group int16) symbol.Place {
	rise, left := t.rise(group)
	knee := t.symbol.Knee(rise, left)
	shift := slants[int(group)/(4*len(t.tips))%len(slants)] * math.Abs(rise)
	if left {
		shift = -shift
	}
	knee.X += shift
	return symbol.Place{Tip: t.tips[int(group)/4%len(t.tips)], Knee: knee, Left: left}
}
