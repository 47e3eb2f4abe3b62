package symbol

import (
	"math"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// Place says where a symbol stands on paper, mm.
type Place struct {
	// Tip of the arrow on paper.
	Tip geometry.Point
	// Knee is where the arrow line meets the reference line, seen from the tip.
	// Zero puts it where [Symbol.Knee] does for a line 12 mm up.
	Knee geometry.Point
	// Left puts the reference line to the left of the knee: the arrow is at its
	// right end, the tail at its left. Texts read from left to right all the same.
	Left bool
	// Stacked sets fractions of an inch one number over the other, otherwise
	// 3/16 in one line.
	Stacked bool
}

// arrowSlope is how much an arrow rises along the level.
var arrowSlope = arrowTurn.Tan()

// Knee is the place of the knee from the tip for an arrow at 60°: rise is the
// height of the reference line over the tip, negative below it; left as in
// [Place]. A broken arrow is at 60° up to its break.
func (s *Symbol) Knee(rise float64, left bool) geometry.Point {
	var from geometry.Point
	if s.Broken() {
		from = s.kink(rise)
	}
	run := math.Abs(rise-from.Y) / arrowSlope
	if left {
		run = -run
	}
	return geometry.Point{X: from.X + run, Y: rise}
}

// Picture is a symbol on paper, mm: strokes by the pen they are drawn with,
// and lettering.
type Picture struct {
	Role    string
	Carrier []render.Segment // reference line, arrow line, tail, staff of the flag: narrow
	Dashed  []render.Segment // dashed line of ISO 2553 system A: narrow
	Bars    []render.Segment // of stacked fractions: narrow
	Circle  []geometry.Edge  // weld all around: narrow
	Strokes []geometry.Edge  // glyphs and contours: pen of the lettering
	Filled  [][]geometry.Edge
	Head    [3]geometry.Point
	Texts   []render.Text
	// Box holds everything but the arrow line.
	Box geometry.Box

	symbol *Symbol
	knee   geometry.Point
	arrow  int // segments at the end of Carrier
}

// Layout draws the symbol in a style. It never fails: what the style cannot
// letter it letters as the style does.
func (s *Symbol) Layout(st *render.Style, at Place) Picture {
	usual := at.Knee == (geometry.Point{})
	if usual {
		at.Knee = s.Knee(riseDefault, at.Left)
	}
	d := &drafter{s: s, st: st, size: sizes(st), words: writer{s, st}, place: at, usual: usual}
	d.out.Role, d.out.symbol = "symbol", s
	for i := range s.Sides {
		if id := s.Sides[i].Weld; id != "" {
			d.out.Role += ":" + id
		}
	}
	d.out.Box = geometry.EmptyBox()
	d.arrange()
	d.finish()
	return d.out
}

// drafter draws in a frame of its own, x along the reference line from its
// left end, y up, and moves everything to the knee at the end.
type drafter struct {
	s     *Symbol
	st    *render.Style
	size  size
	words writer
	place Place
	usual bool // no place was given for the knee
	knee  geometry.Point
	out   Picture
}

// arrange draws the reference line with everything on it.
func (d *drafter) arrange() {
	h := d.size.h
	blocks := [2]block{d.block(0), d.block(1)}
	d.stagger(&blocks)
	left, right := 0.0, 0.0
	// The glyphs of both sides stand over each other.
	axis := func(b *block) float64 {
		upright := true
		for i := range d.s.Sides {
			if d.s.Sides[i].Carries() && !d.s.Sides[i].Glyph.upright() {
				upright = false
			}
		}
		if upright {
			return 0
		}
		return b.axis
	}
	for i := range blocks {
		if b := &blocks[i]; len(b.rows) > 0 {
			a := axis(b)
			left = math.Max(left, b.left+a-b.shift)
			right = math.Max(right, b.right-a+b.shift)
		}
	}
	start := lead * h
	if !d.place.Left {
		start = d.kneeRoom()
	}
	glyph := start + left
	texts := glyph + right + textGap*h
	end := glyph + right
	var run, gap float64
	for i := range blocks {
		run, gap = math.Max(run, blocks[i].run.width), math.Max(gap, blocks[i].gap.width)
	}
	z := 0.0
	if run > 0 {
		end = texts + run
	}
	if gap > 0 {
		z = end + textGap*h
		if d.s.Staggered {
			z += 0.9*h + textGap*h
		}
		end = z + gap
	}
	if d.place.Left {
		end += d.kneeRoom()
	} else {
		end += lead * h
	}
	length := math.Max(end, leastLine)
	for i := range blocks {
		b := &blocks[i]
		if len(b.rows) == 0 {
			continue
		}
		d.draw(b, glyph-axis(b)+b.shift)
		d.label(b.run, texts, b.y0+b.up*textRise*h, b.up)
		d.label(b.gap, z, b.y0+b.up*textRise*h, b.up)
	}
	if gap > 0 && d.s.Staggered {
		d.zed(z-textGap*h-0.9*h, blocks)
	}
	d.carrier(length)
}

// kneeRoom is kept free beside the knee.
func (d *drafter) kneeRoom() float64 {
	room := lead * d.size.h
	if d.s.AllAround {
		room = math.Max(room, (circleRadius+0.6)*d.size.h)
	}
	if d.s.Field {
		room = math.Max(room, (flagLong+0.4)*d.size.h)
	}
	return room
}

// stagger offsets the glyphs of a staggered weld in AWS A2.4.
func (d *drafter) stagger(blocks *[2]block) {
	if d.s.Staggered && d.s.System == AWS {
		blocks[1].shift = blocks[0].right + staggerShift*d.size.h
	}
}

// zed draws the Z of a staggered weld in ISO 2553 across the line.
func (d *drafter) zed(x float64, blocks [2]block) {
	w, y := 0.9*d.size.h, d.size.g
	lo := math.Min(blocks[0].y0, blocks[1].y0) - y
	d.out.Strokes = append(d.out.Strokes, line(x, y, x+w, y), line(x+w, y, x, lo), line(x, lo, x+w, lo))
}

// draw puts a block's strokes and sizes at x.
func (d *drafter) draw(b *block, x float64) {
	for i := range b.rows {
		r := &b.rows[i]
		t := geometry.Translate(pt(x, r.y))
		if b.up < 0 {
			t = t.Then(geometry.MirrorY())
		}
		t = t.Then(geometry.Translate(pt(0, b.y0)))
		for _, e := range d.strokes(b, r) {
			d.out.Strokes = append(d.out.Strokes, e.Transform(t))
		}
		if len(r.shape.filled) > 0 {
			filled := make([]geometry.Edge, len(r.shape.filled))
			for j, e := range r.shape.filled {
				filled[j] = e.Transform(t)
			}
			d.out.Filled = append(d.out.Filled, filled)
		}
		d.label(r.size, x-textGap*d.size.h-r.out-r.size.width, b.y0+b.up*(r.y+textRise*d.size.h), b.up)
		d.label(r.inner, x+r.innerX-r.inner.width/2, b.y0+b.up*(r.y+r.innerY), b.up)
	}
	d.label(b.angle, x+b.angleMid-b.angle.width/2, b.y0+b.up*b.angleOver, b.up)
}

// label letters at x, its edge nearest to the line at y.
func (d *drafter) label(l label, x, y, up float64) {
	if up < 0 {
		y -= l.height
	}
	o := pt(x, y)
	for _, p := range l.pieces {
		d.out.Texts = append(d.out.Texts, render.Text{At: p.at.Add(o), Height: p.height, Content: p.text})
	}
	for _, s := range l.bars {
		d.out.Bars = append(d.out.Bars, render.Segment{A: s.A.Add(o), B: s.B.Add(o)})
	}
}

// carrier draws the reference lines, the tail and what stands at the knee.
func (d *drafter) carrier(length float64) {
	h := d.size.h
	seg := func(x0, y0, x1, y1 float64) render.Segment { return render.Segment{A: pt(x0, y0), B: pt(x1, y1)} }
	d.out.Carrier = append(d.out.Carrier, seg(0, 0, length, 0))
	knee, tail, away := 0.0, length, 1.0
	if d.place.Left {
		knee, tail, away = length, 0, -1
	}
	if d.dashed() {
		from := knee
		if d.s.AllAround {
			from += away * (circleRadius*h + 0.5)
		}
		d.out.Dashed = append(d.out.Dashed, seg(from, -dashedBelow, tail, -dashedBelow))
	}
	if d.s.AllAround {
		d.out.Circle = render.Circle(pt(knee, 0), circleRadius*h)
	}
	if d.s.Field {
		// The flag stands clear of the arrow and points to the tail.
		up := 1.0
		if d.place.Knee.Y < 0 {
			up = -1
		}
		top, low := up*flagHigh*h, up*(flagHigh-flagPennant)*h
		d.out.Carrier = append(d.out.Carrier, seg(knee, 0, knee, top))
		d.out.Filled = append(d.out.Filled, []geometry.Edge{line(knee, top, knee+away*flagLong*h, (top+low)/2),
			line(knee+away*flagLong*h, (top+low)/2, knee, low), line(knee, low, knee, top)})
	}
	d.tail(tail, away)
	// A break on the side of the reference line brings the arrow under what
	// hangs from it.
	if kink := d.s.kink(1); d.usual && d.s.Broken() && (kink.X < 0) != d.place.Left {
		d.place.Knee = d.s.Knee(math.Max(riseDefault, kink.Y+1-d.out.bounds().Min.Y), d.place.Left)
	}
	// Everything moves so that the knee lies where it is wanted.
	d.knee = d.place.Tip.Add(d.place.Knee)
	d.move(d.knee.Sub(pt(knee, 0)))
}

// tail draws the fork and what it holds.
func (d *drafter) tail(x, away float64) {
	first, rest := d.words.tail()
	if first == "" && len(rest) == 0 {
		return
	}
	h := d.size.h
	arm := forkLong * h
	d.out.Carrier = append(d.out.Carrier, render.Segment{A: pt(x, 0), B: pt(x+away*arm, arm)}, render.Segment{A: pt(x, 0), B: pt(x+away*arm, -arm)})
	type entry struct {
		text   string
		height float64
		width  float64
	}
	var lines []entry
	add := func(text string, height float64) {
		lines = append(lines, entry{text, height, lettering.Measure(text, render.FaceRegular, height)})
	}
	if first != "" {
		add(first, h)
	}
	for _, r := range rest {
		add(r, d.size.small)
	}
	total, width := 0.0, 0.0
	for i, l := range lines {
		if i > 0 {
			total += (linePitch - 1) * l.height
		}
		total += l.height
		width = math.Max(width, l.width)
	}
	// One line reaches into the fork, more stand beyond its arms.
	from := total/2 + tailClear*h*math.Sqrt2 + 0.15*h
	if from > arm || len(lines) > 1 {
		from = arm + tailClear*h
	}
	left := x + from
	if away < 0 {
		left = x - from - width
	}
	y := total / 2
	for i, l := range lines {
		if i > 0 {
			y -= (linePitch - 1) * l.height
		}
		y -= l.height
		d.out.Texts = append(d.out.Texts, render.Text{At: pt(left, y), Height: l.height, Content: l.text})
	}
}
