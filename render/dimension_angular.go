package render

import (
	"math"

	"fay/geometry"
)

// Angular describes an angular dimension: an arc about V from direction From
// counter-clockwise to direction To.
type Angular struct {
	V        geometry.Point
	From, To geometry.Angle // From < To
	Radius   float64
	// Reach is how far the sides of the angle are drawn already; where the arc
	// lies further out the sides are prolonged.
	Reach [2]float64
	Text  Label
	// At is where on the arc the text stands, 0…1; outside that range it
	// stands on a level shoulder beyond that end.
	At   float64
	Role string
}

// Angular builds the dimension in m; it is false where the text does not fit.
func (s *Style) Angular(m *Mark, d *Angular) bool {
	m.Reset(d.Role)
	for i, a := range [2]geometry.Angle{d.From, d.To} {
		if d.Reach[i] >= d.Radius {
			continue
		}
		dir := geometry.Polar(1, a)
		m.Extension = append(m.Extension, Segment{
			d.V.Add(dir.Scale(d.Reach[i] + s.ExtensionGap)), d.V.Add(dir.Scale(d.Radius + s.ExtensionOver))})
	}
	w := d.Text.Width
	t := Text{Height: s.TextHeight, Align: AlignCentre, Content: d.Text.Text}
	length := float64(d.To-d.From) * d.Radius
	inside := length >= 2*s.ArrowLength+4
	arc := func(a, b geometry.Angle) {
		p, q := d.V.Add(geometry.Polar(d.Radius, a)), d.V.Add(geometry.Polar(d.Radius, b))
		m.Arcs = append(m.Arcs, geometry.ArcCentre(p, q, d.V, true))
	}
	at := func(a geometry.Angle) geometry.Point { return d.V.Add(geometry.Polar(d.Radius, a)) }
	turn := func(mm float64) geometry.Angle { return geometry.Angle(mm / d.Radius) }
	beyond := turn(s.ArrowLength + 2)
	if d.At >= 0 && d.At <= 1 {
		mid := d.From + geometry.Angle(d.At)*(d.To-d.From)
		out := geometry.Polar(1, mid)
		if s.Aligned {
			if w+2 > length {
				return false
			}
			along, turned := Reading(out.Perp().Scale(-1))
			sink := d.Radius - math.Sqrt(math.Max(0, d.Radius*d.Radius-w*w/4))
			lift := s.lift(d.Text.Extent)
			t.Angle = along.Angle()
			if turned {
				lift += sink // the ends of the text, not its middle, come near the arc
			}
			t.At = at(mid).Add(along.Perp().Scale(lift))
			arc(d.From, d.To)
		} else {
			half := turn(s.halfAlong(out.Perp(), w))
			if mid-half < d.From+turn(s.ArrowLength) || mid+half > d.To-turn(s.ArrowLength) {
				return false
			}
			t.At = at(mid).Sub(geometry.Point{Y: t.Height / 2})
			arc(d.From, mid-half)
			arc(mid+half, d.To)
		}
		if !inside {
			return false
		}
		m.text(t, d.Text.Extent)
	} else {
		end, a := d.To, d.To+beyond
		if d.At < 0 {
			end, a = d.From, d.From-beyond
		}
		arc(d.From, d.To)
		arc(min(end, a), max(end, a))
		side := 1.0
		if geometry.Polar(1, a).X < 0 {
			side = -1
		}
		s.shoulder(m, at(a), side, &t, d.Text.Extent)
		m.text(t, d.Text.Extent)
		if !inside {
			other, b := d.From, d.From-beyond
			if d.At < 0 {
				other, b = d.To, d.To+beyond
			}
			arc(min(other, b), max(other, b))
		}
	}
	// A head lies on the chord of its own length, so that it hugs the arc.
	lean := turn(s.ArrowLength / 2)
	if inside {
		m.Heads = append(m.Heads,
			s.head(at(d.From), geometry.Polar(1, d.From+lean).Perp().Scale(-1)),
			s.head(at(d.To), geometry.Polar(1, d.To-lean).Perp()))
	} else {
		m.Heads = append(m.Heads,
			s.head(at(d.From), geometry.Polar(1, d.From-lean).Perp()),
			s.head(at(d.To), geometry.Polar(1, d.To+lean).Perp().Scale(-1)))
	}
	return true
}
