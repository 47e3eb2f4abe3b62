package layout

import (
	"sync"

	"fay/geometry"
	"fay/render"
	"fay/render/symbol"
)

// form says which builder a candidate is for.
type form uint8

const (
	linear form = iota
	angular
	inline
	leader
	welding // symbol
)

// candidate is one way to draw a task, as few numbers as tell it apart from
// the others: most are sorted and never built.
type candidate struct {
	cost  float64
	x     float64 // level of a dimension line, radius, run or length of a leader
	group int16   // stack or target
	angle int16   // of a leader, or place of a text
	lead  float64 // how much further out a text stands
	right bool    // side of the shoulder
}

// stack is one side to which a linear dimension can be led out.
type stack struct{ u, n, e geometry.Point }

func (k *stack) foot(x geometry.Point, level float64) geometry.Point {
	return x.Add(k.e.Scale((level - x.Dot(k.n)) / k.e.Dot(k.n)))
}

// task is one thing to place.
type task struct {
	role    string
	text    render.Label
	sub     render.Label // second line of a label
	named   render.Label // text with the name of what is measured
	form    form
	a, b, v geometry.Point // on paper
	outward geometry.Point
	along   geometry.Point // another way to lead extension lines out
	radius  bool
	// round tells that the targets lie on a circle about v.
	round bool
	// eitherSide tells that the distance may as well be dimensioned on the
	// side away from outward: a gap runs through.
	eitherSide bool
	// own tells that the distance belongs on its outward side: a leg is
	// dimensioned on the side of its weld, not among the other one's.
	own     bool
	end     render.LeaderEnd
	targets []geometry.Point // of leaders, the best first
	height  float64          // of the text of a leader, 0 for that of dimensions
	measure int              // index into the section's measures, or −1
	rank    float64          // tasks are placed in rising rank
	// symbol is a welding symbol with the tip of its arrow at one of tips, the
	// best first; drawn keeps it drawn to each side, above and below.
	symbol *symbol.Symbol
	tips   []geometry.Point
	drawn  *[4]drawnSymbol
}

type drawnSymbol struct {
	picture symbol.Picture
	mark    render.Mark
	shape   shape
}

// scratch is memory for the candidates of one task, used again for the next.
type scratch struct {
	buf    []candidate
	chains []chain
	queue  []queued
	stacks []stack
	rays   rays
	shapes [2]shape // of a label to the left and to the right
}

// scratches hand the memory of one figure to the next.
var scratches = sync.Pool{New: func() any { return new(scratch) }}

// placer places tasks on a scene.
type placer struct {
	*scene
	style  *render.Style
	search *search
	fixed  fixed
	reach  [2]float64
	*scratch
	// levels of the dimension lines placed so far, to line others up with.
	levels []level
	// mark is built again and again.
	mark render.Mark
}

// level is where a dimension line lies: n·x of its points.
type level struct {
	n geometry.Point
	x float64
}

// worstSymbol is the cost from which a welding symbol is better said elsewhere:
// it would stand in the part.
const worstSymbol = 300

// lacking is the cost of a thing without a place.
const lacking = 1000.0

// placed is where a task came to stand.
type placed struct {
	ok   bool
	mark render.Mark
	cost float64
	// base is the price of the place itself, whatever else is on the paper.
	base   float64
	form   form
	chosen candidate
	level  level // of a dimension line; n is zero without one
	box    geometry.Box
	// makeshift tells that a dimension had to become a label.
	makeshift bool
}

// place finds the cheapest candidate of a task. It is not ok where every one
// breaks a rule.
func (p *placer) place(t *task) placed {
	p.list(t)
	r := p.best(t)
	if !r.ok && t.form == linear {
		// A dimension without any room becomes a label.
		fallback := *t
		fallback.text = t.named
		fallback.form, fallback.targets, fallback.end = leader, []geometry.Point{t.a.Lerp(t.b, 0.5)}, render.EndArrow
		p.list(&fallback)
		r = p.best(&fallback)
		r.base += costFallback
		r.cost += costFallback
		r.makeshift = true
	}
	if !r.ok || t.symbol != nil && r.cost > worstSymbol {
		return placed{cost: lacking}
	}
	r.cost = min(r.cost, lacking)
	return r
}

// put adds what was placed to the paper.
func (p *placer) put(r *placed) {
	if !r.ok {
		return
	}
	p.add(&r.mark)
	if r.level.n != (geometry.Point{}) {
		p.levels = append(p.levels, r.level)
	}
}

// price is what a mark costs beside what is on the paper now.
func (p *placer) price(r *placed) float64 {
	extra := r.base + p.own(r.form, &r.mark)
	return extra + p.cost(&r.mark, forbidden-extra)
}

// own is what a mark costs for where it stands in the part.
func (p *placer) own(f form, m *render.Mark) float64 {
	switch f {
	case leader, inline:
		return p.elbow(m.Lines[0].B)
	case welding:
		return p.insidePart(m)
	case linear, angular:
	}
	return 0
}

// settle makes what is on the paper now stay there.
func (p *placer) settle() { p.fixed = fixed{len(p.strokes), len(p.texts), p.box} }

// wipe takes everything off the paper that was put there since.
func (p *placer) wipe() {
	p.strokes, p.texts, p.box = p.strokes[:p.fixed.strokes], p.texts[:p.fixed.texts], p.fixed.box
	p.halos = p.halos[:p.fixed.texts]
	p.levels = p.levels[:0]
}

// fixed is how much of a scene stays.
type fixed struct {
	strokes, texts int
	box            geometry.Box
}

func (p *placer) list(t *task) {
	p.buf, p.chains, p.stacks = p.buf[:0], p.chains[:0], p.stacks[:0]
	p.rays.reset()
	p.shapes[0].known, p.shapes[1].known = false, false
	switch t.form {
	case linear:
		p.linear(t)
	case angular:
		p.angular(t)
	case inline:
		p.inline(t)
	case leader:
		p.leader(t)
	case welding:
		p.welding(t)
	}
}

// build draws a candidate into p.mark.
func (p *placer) build(t *task, k *candidate, c *chain) bool {
	side := -1.0
	if k.right {
		side = 1
	}
	switch t.form {
	case linear:
		st := &p.stacks[k.group]
		l := render.Linear{A: t.a, B: t.b, P: st.foot(t.a, k.x), Q: st.foot(t.b, k.x), Text: t.text, Role: t.role, Lead: k.lead,
			Place: render.TextPlace(k.angle)} //nolint:gosec // seven places
		l.NoExtension = c.bare
		return p.style.Linear(&p.mark, &l)
	case angular:
		from, to := t.sides()
		return p.style.Angular(&p.mark, &render.Angular{V: t.v, From: from, To: to, Radius: k.x, Reach: p.reach,
			Text: t.text, At: arcPlaces[k.angle], Role: t.role})
	case inline:
		d := render.Inline{A: t.a, B: t.b, Run: k.x, Side: side, One: t.radius, Text: t.text, Sub: t.sub, Role: t.role}
		if d.Bent = k.angle > 0; d.Bent {
			d.Out = geometry.Angle(leaderAngles[k.angle-1]) * geometry.Degree
		}
		p.style.Inline(&p.mark, &d)
	case welding:
		d := p.symbol(t, k)
		at := t.place(k.group)
		d.picture.MarkAt(&p.mark, p.style, &d.mark, at.Tip, at.Tip.Add(at.Knee))
	default:
		at := t.targets[k.group]
		p.style.Leader(&p.mark, &render.Leader{At: at, Elbow: at.Add(leaderDirections[k.angle].Scale(k.x)), Side: side, End: t.end,
			Text: t.text, Sub: t.sub, Height: t.height, Role: t.role})
	}
	return true
}
