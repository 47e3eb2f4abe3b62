package plot

import (
	"cmp"
	"math"
	"slices"

	"fay/geometry"
	"fay/render"
)

// stroke is a straight piece of a line that texts keep clear of.
type stroke struct {
	a, b geometry.Point
	half float64
	of   int // curve it belongs to, or one of the below
}

// Strokes of no curve. Leaders may cross limits where there is no other way.
const (
	ofNone  = -1
	ofLimit = -2
)

// placer finds places for labels.
type placer struct {
	*canvas
	area    geometry.Box // that labels stay inside
	strokes []stroke
	texts   []geometry.Box
}

const (
	// apart is the least distance in mm of a text from lines and other texts.
	apart = 0.7
	// beside is the distance at which a label stands from what it names.
	beside = 1.3
	// clearOfOwn is the least distance of a label from its own curve: it stands beside
	// it, and never looks struck out by it.
	clearOfOwn = 1.2
	// besideCurve is the distance at which it stands from the middle of it.
	besideCurve = 1.6
	// own is how much nearer a label must be to its own curve than to others.
	own = 2.5
)

func (p *placer) obstacle(of int, width float64, pts ...geometry.Point) {
	for i := 1; i < len(pts); i++ {
		p.strokes = append(p.strokes, stroke{pts[i-1], pts[i], width / 2, of})
	}
}

func (p *placer) obstacleBox(b geometry.Box) {
	c := corners(b)
	p.obstacle(ofNone, 0, c[0], c[1], c[2], c[3], c[0])
	p.obstacle(ofNone, 0, c[0], c[2])
}

// fixed takes a text whose place is settled.
func (p *placer) fixed(role string, t render.Text) {
	p.text(role, t)
	p.texts = append(p.texts, boxOf(&t))
}

// boxOf is the level box of a text; texts here lie level or stand upright.
func boxOf(t *render.Text) geometry.Box {
	c := t.Box(0)
	return geometry.BoxOf(c[:]...)
}

// free tells whether a text may stand in the box; a label of a curve stays
// away from the others.
func (p *placer) free(b geometry.Box, of int, away float64) bool {
	if b.Min.X < p.area.Min.X || b.Min.Y < p.area.Min.Y || b.Max.X > p.area.Max.X || b.Max.Y > p.area.Max.Y {
		return false
	}
	near := b.Grow(apart)
	for _, t := range p.texts {
		if near.Min.X < t.Max.X && t.Min.X < near.Max.X && near.Min.Y < t.Max.Y && t.Min.Y < near.Max.Y {
			return false
		}
	}
	for i := range p.strokes {
		s := &p.strokes[i]
		margin := apart + s.half
		switch {
		case of >= 0 && s.of == of:
			margin = clearOfOwn + s.half
		case of >= 0 && s.of >= 0:
			margin += away
		}
		if crosses(b.Grow(margin), s.a, s.b) {
			return false
		}
	}
	return true
}

// open tells whether a leader may run: it crosses no text and no line, limits
// perhaps excepted.
func (p *placer) open(from, to geometry.Point, overLimits bool) bool {
	for _, t := range p.texts {
		if crosses(t.Grow(apart), from, to) {
			return false
		}
	}
	for i := range p.strokes {
		if s := &p.strokes[i]; (s.of != ofLimit || !overLimits) && meet(from, to, s.a, s.b) {
			return false
		}
	}
	return true
}

// crosses tells whether a segment reaches into a box.
func crosses(b geometry.Box, from, to geometry.Point) bool {
	lo, hi := 0.0, 1.0
	d := to.Sub(from)
	for _, side := range [4][2]float64{
		{-d.X, from.X - b.Min.X}, {d.X, b.Max.X - from.X}, {-d.Y, from.Y - b.Min.Y}, {d.Y, b.Max.Y - from.Y},
	} {
		switch {
		case side[0] == 0:
			if side[1] <= 0 {
				return false
			}
		case side[0] < 0:
			lo = math.Max(lo, side[1]/side[0])
		default:
			hi = math.Min(hi, side[1]/side[0])
		}
	}
	return lo < hi
}

// meet tells whether two segments cross.
func meet(a, b, c, d geometry.Point) bool {
	side := func(p, q, r geometry.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// compass are the sides of a point at which a text may stand, the favoured
// ones first: right above, left above, right below, left below, then square.
var compass = [8]geometry.Point{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: -1}, {Y: 1}, {Y: -1}, {X: 1}, {X: -1}}

// beside sets a level text beside a point, on a side of it.
func (c *canvas) besidePoint(content string, height float64, at, side geometry.Point, gap float64) render.Text {
	t := render.Text{Height: height, Content: content}
	b := boxOf(&t)
	shift := func(side, lo, hi, at float64) float64 {
		switch {
		case side > 0:
			return at + gap - lo
		case side < 0:
			return at - gap - hi
		}
		return at - (lo+hi)/2
	}
	t.At = geometry.Point{X: shift(side.X, b.Min.X, b.Max.X, at.X), Y: shift(side.Y, b.Min.Y, b.Max.Y, at.Y)}
	return t
}

// label places a text beside one of the anchors, else at the end of an oblique
// leader from one of them. The bool is false where neither finds room.
func (p *placer) label(role, content string, height float64, of int, gap float64, anchors []geometry.Point) bool {
	tries := []float64{own, 0}
	if of >= 0 {
		tries = tries[:1] // nearer to other curves, a leader tells better whose it is
	}
	for _, away := range tries {
		for _, at := range anchors {
			for _, side := range compass {
				g := gap
				if of < 0 && side.X != 0 && side.Y != 0 {
					g *= 0.7 // corner to corner the way is longer
				}
				t := p.besidePoint(content, height, at, side, g)
				if p.free(boxOf(&t), of, away) {
					p.fixed(role, t)
					return true
				}
			}
		}
	}
	if of >= 0 {
		anchors = p.lonely(of, anchors)
	}
	for _, overLimits := range [2]bool{false, true} {
		for _, far := range [5]float64{6, 10, 15, 22, 30} {
			for _, at := range anchors {
				for _, side := range compass[:4] {
					if p.withLeader(role, content, height, of, gap, leader{at, side, far, overLimits}) {
						return true
					}
				}
			}
		}
	}
	return false
}

// lonely orders places on a curve by their distance from all other lines, the
// most distant first, and leaves out those that a leader could not tell apart.
func (p *placer) lonely(of int, anchors []geometry.Point) []geometry.Point {
	type place struct {
		at   geometry.Point
		away float64
	}
	places := make([]place, 0, len(anchors))
	for _, at := range anchors {
		away := math.Inf(1)
		for i := range p.strokes {
			if s := &p.strokes[i]; s.of != of && s.a != s.b {
				away = math.Min(away, geometry.Line(s.a, s.b).Distance(at))
			}
		}
		if away > apart {
			places = append(places, place{at, away})
		}
	}
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(b.away, a.away) })
	out := make([]geometry.Point, len(places))
	for i := range places {
		out[i] = places[i].at
	}
	return out
}

// leader is a try: from a point to a side, so far.
type leader struct {
	at, side   geometry.Point
	far        float64
	overLimits bool
}

// withLeader places a text at the end of a leader, which ends in a dot on a
// curve and at the rim of a mark.
func (p *placer) withLeader(role, content string, height float64, of int, gap float64, l leader) bool {
	at, side, far := l.at, l.side, l.far
	end := at.Add(geometry.Point{X: side.X * far * 0.7, Y: side.Y * far})
	across := geometry.Point{X: 1}
	if side.X < 0 {
		across.X = -1
	}
	t := p.besidePoint(content, height, end, across, beside)
	b := boxOf(&t)
	rim := at.Add(end.Sub(at).Unit().Scale(p.style.DotRadius))
	if of < 0 {
		rim = at.Add(end.Sub(at).Unit().Scale(math.Sqrt2 * gap))
	}
	if !p.free(b, -1, 0) || crosses(b.Grow(apart), rim, end) || !p.open(end, rim, l.overLimits) {
		return false
	}
	pen := p.style.NarrowLine()
	p.fixed(role, t)
	p.line(role, render.LayerDimension, pen, rim, end)
	if of >= 0 {
		p.circle(role, at, p.style.DotRadius, nil, &render.Black)
	}
	p.obstacle(ofNone, pen.Width, at, end)
	return true
}

// upright places a text that reads from the right along an upright line.
func (p *placer) upright(role, content string, height, x, lo, hi float64) bool {
	for _, side := range [2]float64{-1, 1} {
		for _, part := range [7]float64{1, 0.8, 0.6, 0, 0.2, 0.4, 0.5} {
			t := render.Text{Height: height, Angle: 90 * geometry.Degree, Content: content}
			b := boxOf(&t)
			room := hi - lo - b.Height() - 2*beside
			if room < 0 {
				break
			}
			t.At.Y = lo + beside + part*room - b.Min.Y
			if side < 0 {
				t.At.X = x - beside - b.Max.X
			} else {
				t.At.X = x + beside - b.Min.X
			}
			if p.free(boxOf(&t), -1, 0) {
				p.fixed(role, t)
				return true
			}
		}
	}
	return false
}

// flag places a level text beside an upright line.
func (p *placer) flag(role, content string, height, x, lo, hi float64) bool {
	const steps = 24
	for j := range steps + 1 {
		y := hi - height - (hi-lo-2*height)*float64(j)/steps
		for _, side := range [2]float64{1, -1} {
			t := p.besidePoint(content, height, geometry.Point{X: x, Y: y}, geometry.Point{X: side}, beside)
			if p.free(boxOf(&t), -1, 0) {
				p.fixed(role, t)
				return true
			}
		}
	}
	return false
}

// level places a text along a level line.
func (p *placer) level(role, content string, height, y, lo, hi float64) bool {
	for _, side := range [2]float64{1, -1} {
		for _, part := range [7]float64{1, 0.85, 0.7, 0, 0.15, 0.3, 0.5} {
			t := render.Text{Height: height, Content: content}
			b := boxOf(&t)
			room := hi - lo - b.Width() - 2*beside
			if room < 0 {
				break
			}
			t.At.X = lo + beside + part*room - b.Min.X
			if side > 0 {
				t.At.Y = y + beside - b.Min.Y
			} else {
				t.At.Y = y - beside - b.Max.Y
			}
			if p.free(boxOf(&t), -1, 0) {
				p.fixed(role, t)
				return true
			}
		}
	}
	return false
}

// within places a text somewhere in a box, level or else upright, the top
// first.
func (p *placer) within(role, content string, height float64, room geometry.Box) bool {
	for _, turned := range [2]bool{false, true} {
		t := render.Text{Height: height, Content: content}
		if turned {
			t.Angle = 90 * geometry.Degree
		}
		b := boxOf(&t)
		free := geometry.Point{X: room.Width() - b.Width() - 2*apart, Y: room.Height() - b.Height() - 2*apart}
		if free.X < 0 || free.Y < 0 {
			continue
		}
		const steps = 8
		for j := range steps + 1 {
			for _, i := range [9]int{4, 2, 6, 0, 8, 3, 5, 1, 7} {
				t.At = geometry.Point{
					X: room.Min.X + apart + free.X*float64(i)/steps - b.Min.X,
					Y: room.Max.Y - apart - b.Height() - free.Y*float64(j)/steps - b.Min.Y,
				}
				if p.free(boxOf(&t), -1, 0) {
					p.fixed(role, t)
					return true
				}
			}
		}
	}
	return false
}

// cut leaves out the parts of a level or upright line that texts stand on.
func (p *placer) cut(a, b geometry.Point) [][2]geometry.Point {
	spans := [][2]float64{{0, 1}}
	d := b.Sub(a)
	long := math.Hypot(d.X, d.Y)
	for _, t := range p.texts {
		g := t.Grow(apart)
		if !crosses(g, a, b) {
			continue
		}
		lo, hi := (g.Min.X-a.X)/long, (g.Max.X-a.X)/long
		if d.X == 0 {
			lo, hi = (g.Min.Y-a.Y)/long, (g.Max.Y-a.Y)/long
		}
		var next [][2]float64
		for _, s := range spans {
			if lo > s[0] {
				next = append(next, [2]float64{s[0], math.Min(lo, s[1])})
			}
			if hi < s[1] {
				next = append(next, [2]float64{math.Max(hi, s[0]), s[1]})
			}
		}
		spans = next
	}
	out := make([][2]geometry.Point, 0, len(spans))
	for _, s := range spans {
		if s[1]-s[0] > 1e-6 {
			out = append(out, [2]geometry.Point{a.Lerp(b, s[0]), a.Lerp(b, s[1])})
		}
	}
	return out
}
