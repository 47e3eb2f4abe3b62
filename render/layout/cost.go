package layout

import (
	"math"

	"fay/geometry"
	"fay/render"
)

// forbidden marks a place that breaks a rule which is never broken.
const forbidden = 1e6

// The weights of what a good drafter avoids. Only their order matters much;
// one unit is about a step of one stacked dimension line.
const (
	costLineLine       = 100.0 // dimension lines or leaders crossing
	costLineExtension  = 9.0
	costLineOutline    = 4.0
	costTouch          = 5.0 // a line that ends on a strange extension line
	costExtExt         = 1.0
	costExtOutline     = 0.4
	costHead           = 40.0  // a line through an arrowhead
	costAlong          = 80.0  // a line on top of another one
	costExtMaterial    = 0.35  // per mm of extension line inside the part
	costExtLength      = 0.12  // per mm of extension line
	costLineMaterial   = 0.9   // per mm of dimension line inside the part
	costFallback       = 160.0 // a dimension that had to become a label
	costElbowInside    = 12.0  // a leader that bends inside the part
	costElbowNear      = 6.0   // or hardly outside it
	costSymbolMaterial = 5.0   // per mm of a welding symbol inside the part
	costStrange        = 14.0  // the leader of a name through another member
	costTextMaterial   = 70.0
	costGrowth         = 0.1 // per mm that everything together grows
	costTextWeld       = 120.0
)

// Clear space around a text, mm: to lines, to its own ones, to other texts over
// and under it, and to those before and after it, which must not read as one
// with it.
const (
	clearLine = 0.8
	clearOwn  = 0.25
	clearText = 1.2
	clearWord = 2.5
)

// cost is what a mark would cost on this paper, forbidden or more where it
// breaks a rule. The search gives up at limit.
func (c *scene) cost(m *render.Mark, limit float64) float64 {
	total := 0.0
	c.own = c.own[:0]
	box := geometry.EmptyBox()
	for i := range m.Texts {
		text := newTextBox(&m.Texts[i], m.Extents[i])
		b := text.grown(clearLine)
		if !c.holds(b.box) {
			return forbidden
		}
		for j := range c.strokes {
			if s := &c.strokes[j]; b.box.Overlaps(s.box) && b.crossed(s) {
				return forbidden
			}
		}
		wide := text.spaced(clearWord, clearText)
		for j := range c.texts {
			if wide.touches(&c.texts[j]) {
				return forbidden
			}
		}
		total += c.textMaterial(&b)
		c.own = append(c.own, text.grown(clearOwn))
		box = box.Union(b.box)
	}
	if total >= limit {
		return total
	}
	c.parts = appendStrokes(c.parts[:0], m)
	strokes := geometry.EmptyBox()
	for i := range c.parts {
		strokes = strokes.Union(c.parts[i].box)
	}
	total += costGrowth * c.growth(box.Union(strokes))
	c.about(strokes)
	for i := range c.parts {
		if total >= limit {
			break
		}
		total += c.strokeCost(&c.parts[i], c.own, m.Dots)
	}
	return total
}

// about lists the strokes near a box.
func (c *scene) about(box geometry.Box) {
	box = box.Grow(sideBySide)
	c.near = c.near[:0]
	for i := range c.strokes {
		if c.strokes[i].box.Overlaps(box) {
			c.near = append(c.near, int32(i))
		}
	}
}

// growth is how much wider and higher a mark makes what is on the paper, mm.
func (c *scene) growth(by geometry.Box) float64 {
	box := c.box.Union(by)
	return box.Width() - c.box.Width() + box.Height() - c.box.Height()
}

// holds tells whether the paper has room for a box.
func (c *scene) holds(b geometry.Box) bool {
	return c.limit.Empty() || inside(c.limit, b)
}

// insidePart is the cost of a welding symbol for what of it, or of its arrow,
// lies in the part.
func (c *scene) insidePart(m *render.Mark) float64 {
	total := 0.0
	for _, l := range m.Extension {
		member, weld := c.inside(l.A, l.B)
		total += costSymbolMaterial * (member + weld)
	}
	for _, l := range m.Lines {
		member, weld := c.inside(l.A, l.B)
		total += costSymbolMaterial * (member + weld)
	}
	return total
}

// elbow is the cost of a leader bending at a point.
func (c *scene) elbow(p geometry.Point) float64 {
	for i := range c.regions {
		if c.regions[i].contains(p) {
			return costElbowInside
		}
	}
	const hardly = 2.5
	for i := range c.outlines() {
		s := &c.strokes[i]
		if s.box.Grow(hardly).Contains(p) && geometry.Line(s.a, s.b).Distance(p) < hardly {
			return costElbowNear
		}
	}
	return 0
}

func (c *scene) textMaterial(b *textBox) float64 {
	at := b.corners()
	points := [5]geometry.Point{at[0], at[1], at[2], at[3], at[0].Lerp(at[2], 0.5)}
	worst := 0.0
	for i := range c.regions {
		r := &c.regions[i]
		if !r.box.Overlaps(b.box) {
			continue
		}
		for _, p := range points {
			if r.contains(p) {
				if r.weld {
					return costTextWeld
				}
				worst = costTextMaterial
			}
		}
	}
	return worst
}

// strokeCost is what one stroke of a mark costs. The leader of a mark that ends
// in a dot starts inside a member and must leave it.
func (c *scene) strokeCost(s *stroke, own []textBox, dots []geometry.Point) float64 {
	inner := len(dots) > 0
	for i := range own {
		if own[i].crossed(s) {
			return forbidden
		}
	}
	if !c.holds(s.box) {
		return forbidden
	}
	for i := range c.halos {
		if c.halos[i].crossed(s) {
			return forbidden
		}
	}
	total, near := 0.0, s.box.Grow(sideBySide)
	for _, i := range c.near {
		o := &c.strokes[i]
		if !o.box.Overlaps(near) {
			continue
		}
		if inner && o.kind == outline && s.kind == line {
			total += costExtOutline
			continue
		}
		total += pair(s, o)
	}
	if s.kind == head {
		return total
	}
	if inner && s.kind == line {
		return total + c.strange(s, dots[0])
	}
	member, weld := c.inside(s.a, s.b)
	switch s.kind {
	case extension:
		total += costExtMaterial*(member+0.3*weld) + costExtLength*s.a.Dist(s.b)
	case line:
		total += costLineMaterial * (member + 0.15*weld)
	case outline, head:
	}
	return total
}

// strange is what the leader of a name costs for running through the part:
// little in the member it names, much in another one.
func (c *scene) strange(s *stroke, dot geometry.Point) float64 {
	total := 0.0
	for i := range c.regions {
		r := &c.regions[i]
		if !r.box.Overlaps(s.box) {
			continue
		}
		length := c.within(r, s.a, s.b)
		switch {
		case length == 0:
		case r.contains(dot):
			total += 0.15 * costLineMaterial * length
		default:
			total += costStrange + costLineMaterial*length
		}
	}
	return total
}

// sideBySide is how near parallel lines may come before they read as one, mm.
const sideBySide = 2.0

// pair is the cost of two strokes of different marks meeting.
func pair(s, o *stroke) float64 {
	d, e := s.b.Sub(s.a), o.b.Sub(o.a)
	n, k := math.Sqrt(d.Dot(d)), math.Sqrt(e.Dot(e))
	if n < 1e-9 || k < 1e-9 {
		return 0
	}
	cross := d.Cross(e)
	if math.Abs(cross) < 1e-3*n*k {
		return along(s, o, d, n)
	}
	w := o.a.Sub(s.a)
	t, r := w.Cross(e)/cross, w.Cross(d)/cross
	// Lines that merely end on one another do not cross.
	const end = 0.15 // mm
	if t*n < end || (1-t)*n < end || r*k < end || (1-r)*k < end {
		if s.kind == head || o.kind == head {
			if t >= 0 && t <= 1 && r >= 0 && r <= 1 && s.kind != outline && o.kind != outline {
				return costHead / 4
			}
		}
		if s.kind == line && o.kind == extension && t*n > -end && (t-1)*n < end && r*k > -end && (r-1)*k < end {
			return costTouch
		}
		return 0
	}
	return crossing(s.kind, o.kind)
}

func crossing(a, b strokeKind) float64 {
	if a > b {
		a, b = b, a
	}
	switch {
	case b == head:
		if a == outline {
			return 1
		}
		return costHead
	case a == line:
		return costLineLine
	case b == line && a == extension:
		return costLineExtension
	case b == line:
		return costLineOutline
	case a == extension:
		return costExtExt
	}
	return costExtOutline
}

// along is the cost of two parallel strokes: dear where they lie on each
// other or run side by side within a hair.
func along(s, o *stroke, d geometry.Point, n float64) float64 {
	u := d.Scale(1 / n)
	off := math.Abs(o.a.Sub(s.a).Cross(u))
	if off > sideBySide {
		return 0
	}
	p, q := o.a.Sub(s.a).Dot(u), o.b.Sub(s.a).Dot(u)
	lap := math.Min(math.Max(p, q), n) - math.Max(math.Min(p, q), 0)
	if lap < 0.3 {
		return 0
	}
	if s.kind == extension && o.kind != line || o.kind == extension && s.kind != line {
		return 0 // an extension line may go on along an edge or another one
	}
	if s.kind == head || o.kind == head {
		if off < 0.3 && s.kind != outline && o.kind != outline {
			return costHead
		}
		return 0
	}
	return costAlong
}
