package rendertest

import (
	"fmt"
	"math"

	"fay/geometry"
	"fay/render"
)

// LeastHeight is the smallest lettering a sheet may carry, mm (ISO 3098 has
// smaller ones, but not for a bench).
const LeastHeight = 2.5

// Violation is a place where a drawing breaks a drafting rule.
type Violation struct {
	Rule  string // one of the Rule constants
	Role  string // of the text
	Text  string
	Other string // role or content of what it meets
	At    geometry.Point
}

// The rules a drawing is held to. None of them has an exception: a text may
// not stand on its own dimension line either.
const (
	RuleTextOnText  = "text on text"
	RuleTextOnLine  = "text on a line"
	RuleTextOnHatch = "text on section lining"
	RuleLineThrough = "dimension line through a text"
	RuleOffSheet    = "text off the sheet"
	RuleSmallText   = "text under 2.5 mm"
)

func (v Violation) String() string {
	return fmt.Sprintf("%s: %q (%s) meets %q at (%.1f, %.1f)", v.Rule, v.Text, v.Role, v.Other, v.At.X, v.At.Y)
}

// Lint finds every violation of a drawing by brute force: each text against
// each other text and each stroke. It shares no code with the layout.
func Lint(d *render.Drawing) []Violation {
	l := linter{d: d}
	for i := range d.Items {
		it := &d.Items[i]
		if it.Text != nil && it.Text.Content != "" {
			l.texts = append(l.texts, lintText{it, it.Text.Box(0)})
		}
		if it.Path != nil {
			l.strokes(it)
		}
	}
	for i := range l.texts {
		l.text(i)
	}
	return l.found
}

type linter struct {
	d     *render.Drawing
	texts []lintText
	lines []lintLine
	found []Violation
}

type lintText struct {
	item *render.Item
	box  [4]geometry.Point
}

type lintLine struct {
	item *render.Item
	a, b geometry.Point
	half float64 // half the width of the stroke
}

// strokes takes a path apart: strokes of every layer, and the filled heads and
// dots of dimensions.
func (l *linter) strokes(it *render.Item) {
	half := 0.0
	switch {
	case it.Path.Stroke != nil:
		half = it.Path.Stroke.Width / 2
	case it.Layer != render.LayerDimension:
		return // a tint
	}
	for _, e := range it.Path.Edges {
		n := 1
		if e.Kind() != geometry.LineEdge {
			n = 16
		}
		from := e.Start()
		for i := 1; i <= n; i++ {
			to := e.At(float64(i) / float64(n))
			l.lines = append(l.lines, lintLine{it, from, to, half})
			from = to
		}
	}
}

func (l *linter) add(rule string, t *lintText, other string) {
	l.found = append(l.found, Violation{rule, t.item.Role, t.item.Text.Content, other, t.box[0]})
}

func (l *linter) text(i int) {
	t := &l.texts[i]
	if t.item.Text.Height < LeastHeight-1e-9 {
		l.add(RuleSmallText, t, fmt.Sprintf("%.2f mm", t.item.Text.Height))
	}
	for _, p := range t.box {
		if !(p.X >= 0 && p.Y >= 0 && p.X <= l.d.Width && p.Y <= l.d.Height) {
			l.add(RuleOffSheet, t, "the edge of the sheet")
			break
		}
	}
	for j := i + 1; j < len(l.texts); j++ {
		if o := &l.texts[j]; !separate(t.box, o.box) && !separate(o.box, t.box) {
			l.add(RuleTextOnText, t, o.item.Text.Content)
		}
	}
	low, high := bounds(t.box)
	for j := range l.lines {
		s := &l.lines[j]
		if math.Max(s.a.X, s.b.X)+s.half < low.X || math.Min(s.a.X, s.b.X)-s.half > high.X ||
			math.Max(s.a.Y, s.b.Y)+s.half < low.Y || math.Min(s.a.Y, s.b.Y)-s.half > high.Y {
			continue
		}
		if hits(t.box, s) {
			l.add(ruleFor(s.item), t, s.item.Role)
		}
	}
}

func ruleFor(it *render.Item) string {
	if it.Layer == render.LayerDimension {
		return RuleLineThrough
	}
	if it.Layer == render.LayerHatch {
		return RuleTextOnHatch
	}
	return RuleTextOnLine
}

func bounds(box [4]geometry.Point) (low, high geometry.Point) {
	b := geometry.BoxOf(box[:]...)
	return b.Min, b.Max
}

// separate tells whether an edge of a has all of b beyond it.
func separate(a, b [4]geometry.Point) bool {
	for i, p := range a {
		d := a[(i+1)%4].Sub(p)
		beyond := true
		for _, q := range b {
			beyond = beyond && d.Cross(q.Sub(p)) <= 0
		}
		if beyond {
			return true
		}
	}
	return false
}

// hits tells whether a stroke, its width counted, reaches into a box: an end
// inside, or nearer to a side than half its width.
func hits(box [4]geometry.Point, s *lintLine) bool {
	inside := func(p geometry.Point) bool {
		for i, q := range box {
			if box[(i+1)%4].Sub(q).Cross(p.Sub(q)) <= 0 {
				return false
			}
		}
		return true
	}
	if inside(s.a) || inside(s.b) {
		return true
	}
	for i, p := range box {
		if apart(p, box[(i+1)%4], s.a, s.b) < s.half {
			return true
		}
	}
	return false
}

// apart is the distance of two segments.
func apart(a, b, c, d geometry.Point) float64 {
	p, q := b.Sub(a), d.Sub(c)
	if k := p.Cross(q); k != 0 {
		t, u := c.Sub(a).Cross(q)/k, c.Sub(a).Cross(p)/k
		if t >= 0 && t <= 1 && u >= 0 && u <= 1 {
			return -1
		}
	}
	ab, cd := geometry.Line(a, b), geometry.Line(c, d)
	return math.Min(math.Min(ab.Distance(c), ab.Distance(d)), math.Min(cd.Distance(a), cd.Distance(b)))
}
