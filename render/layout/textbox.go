package layout

import (
	"math"

	"fay/geometry"
	"fay/render"
)

// textBox is the place of a text: a rectangle, possibly turned.
type textBox struct {
	at   geometry.Point // its lower left corner, as the text is read
	u    geometry.Point // along the text
	w, h float64
	box  geometry.Box
}

// newTextBox is the place of a text by its ink, mm.
func newTextBox(t *render.Text, e render.Extent) textBox {
	u := geometry.Point{X: 1}
	if t.Angle != 0 {
		u = geometry.Polar(1, t.Angle)
	}
	at := t.At
	switch t.Align {
	case render.AlignCentre:
		at = at.Sub(u.Scale(e.Width / 2))
	case render.AlignRight:
		at = at.Sub(u.Scale(e.Width))
	case render.AlignLeft:
	}
	b := textBox{at: at.Sub(u.Perp().Scale(e.Below)), u: u, w: e.Width, h: e.Above + e.Below}
	if t.Angle == 0 {
		b.box = geometry.Box{Min: b.at, Max: geometry.Point{X: b.at.X + b.w, Y: b.at.Y + b.h}}
		return b
	}
	b.box = geometry.BoxOf(b.at, b.corner(1, 0), b.corner(1, 1), b.corner(0, 1))
	return b
}

// moved is the rectangle elsewhere.
func (b *textBox) moved(by geometry.Point) textBox {
	m := *b
	m.at, m.box.Min, m.box.Max = b.at.Add(by), b.box.Min.Add(by), b.box.Max.Add(by)
	return m
}

// upright is the rectangle of a box.
func upright(b geometry.Box) textBox {
	return textBox{at: b.Min, u: geometry.Point{X: 1}, w: b.Width(), h: b.Height(), box: b}
}

// corner is one of the corners: x and y are 0 or 1.
func (b *textBox) corner(x, y float64) geometry.Point {
	return geometry.Point{X: b.at.X + x*b.w*b.u.X - y*b.h*b.u.Y, Y: b.at.Y + x*b.w*b.u.Y + y*b.h*b.u.X}
}

// corners are those of the rectangle, counterclockwise.
func (b *textBox) corners() [4]geometry.Point {
	return [4]geometry.Point{b.at, b.corner(1, 0), b.corner(1, 1), b.corner(0, 1)}
}

// grown is the rectangle with a margin about it.
func (b *textBox) grown(by float64) textBox { return b.spaced(by, by) }

// spaced is the rectangle with a margin before and after the text, and another
// one over and under it.
func (b *textBox) spaced(along, across float64) textBox {
	g := textBox{at: b.at, u: b.u, w: b.w + 2*along, h: b.h + 2*across}
	g.at.X -= along*b.u.X - across*b.u.Y
	g.at.Y -= along*b.u.Y + across*b.u.X
	x, y := math.Abs(b.u.X), math.Abs(b.u.Y)
	g.box = b.box
	g.box.Min = g.box.Min.Sub(geometry.Point{X: along*x + across*y, Y: along*y + across*x})
	g.box.Max = g.box.Max.Add(geometry.Point{X: along*x + across*y, Y: along*y + across*x})
	return g
}

// touches tells whether two rectangles share a point (separating axes).
func (b *textBox) touches(c *textBox) bool {
	return b.box.Overlaps(c.box) && !b.apart(c) && !c.apart(b)
}

// apart tells whether another rectangle lies beyond one of the sides.
func (b *textBox) apart(c *textBox) bool {
	if b.u.Y == 0 && c.u.Y == 0 {
		return false // their boxes tell
	}
	x, y := [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
	for _, p := range c.corners() {
		r := p.Sub(b.at)
		s, t := r.Dot(b.u), b.u.Cross(r)
		x, y = [2]float64{min(x[0], s), max(x[1], s)}, [2]float64{min(y[0], t), max(y[1], t)}
	}
	return x[1] < 0 || x[0] > b.w || y[1] < 0 || y[0] > b.h
}

// crossed tells whether a stroke passes through the rectangle.
func (b *textBox) crossed(s *stroke) bool {
	_, ok := b.entered(s)
	return ok
}

// entered is where a stroke enters the rectangle, as a part of its length.
func (b *textBox) entered(s *stroke) (at float64, ok bool) {
	if !b.box.Overlaps(s.box) {
		return 0, false
	}
	from, along := s.a.Sub(b.at), s.b.Sub(s.a)
	lo, hi := 0.0, 1.0
	ok = slab(from.Dot(b.u), along.Dot(b.u), b.w, &lo, &hi) && slab(b.u.Cross(from), b.u.Cross(along), b.h, &lo, &hi)
	return lo, ok
}

// slab cuts lo…hi down to where x + t·d lies in 0…width; it is false where
// nothing is left.
func slab(x, d, width float64, lo, hi *float64) bool {
	if d == 0 {
		return x >= 0 && x <= width
	}
	a, b := -x/d, (width-x)/d
	if a > b {
		a, b = b, a
	}
	*lo, *hi = max(*lo, a), min(*hi, b)
	return *lo <= *hi
}
