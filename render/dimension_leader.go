package render

import (
	"math"

	"fay/geometry"
)

// Inline describes a dimension whose line lies on the measured distance
// itself and runs on past its end to the text, as a throat is dimensioned.
type Inline struct {
	A, B geometry.Point // the line runs on past B
	// Run is how far past B the shoulder starts.
	Run  float64
	Side float64 // of the shoulder: +1 right, −1 left
	// Bent leads the text out from the middle of A–B along Out instead, where
	// the prolonged line has no room.
	Bent bool
	Out  geometry.Angle
	// One leaves out the arrow at A, as for a radius.
	One  bool
	Text Label
	Sub  Label // second line, under the shoulder
	Role string
}

// Inline builds the dimension in m.
func (s *Style) Inline(m *Mark, d *Inline) {
	m.Reset(d.Role)
	u := d.B.Sub(d.A).Unit()
	length := d.A.Dist(d.B)
	inside := length >= 2*s.ArrowLength+1
	elbow := d.B.Add(u.Scale(d.Run))
	if d.Bent {
		from := d.A.Lerp(d.B, 0.5)
		elbow = from.Add(geometry.Polar(d.Run, d.Out))
		m.Lines = append(m.Lines, Segment{from, elbow}, Segment{d.A, d.B})
	} else {
		m.Lines = append(m.Lines, Segment{d.A, elbow})
	}
	switch {
	case d.One:
		m.Heads = append(m.Heads, s.head(d.B, u.Scale(-1)))
	case inside:
		m.Heads = append(m.Heads, s.head(d.A, u.Scale(-1)), s.head(d.B, u))
	default:
		m.Heads = append(m.Heads, s.head(d.A, u), s.head(d.B, u.Scale(-1)))
		m.Lines = append(m.Lines, Segment{d.A.Sub(u.Scale(s.ArrowLength + 1.5)), d.A})
		if d.Bent {
			m.Lines = append(m.Lines, Segment{d.B, d.B.Add(u.Scale(s.ArrowLength + 1.5))})
		}
	}
	s.label(m, elbow, d.Side, s.TextHeight, d.Text, d.Sub)
}

// label sets one line of text on a shoulder, or two about it.
func (s *Style) label(m *Mark, elbow geometry.Point, side, height float64, first, second Label) {
	t := Text{Height: height, Content: first.Text}
	grow := height / s.TextHeight
	e := first.scale(grow)
	wide := e
	wide.Width = math.Max(e.Width, second.Width*grow)
	s.shoulder(m, elbow, side, &t, wide)
	m.text(t, e)
	if second.Text == "" {
		return
	}
	t.Content = second.Text
	if s.Aligned {
		t.At.Y = elbow.Y - s.TextClear - s.Narrow/2 - second.Above*grow
	} else {
		t.At.Y -= 1.7 * t.Height
	}
	m.text(t, second.scale(grow))
}

// LeaderEnd is the terminator of a leader.
type LeaderEnd uint8

// The ends of leaders: a dot inside an outline, an arrow on an edge, nothing
// on another line.
const (
	EndDot LeaderEnd = iota
	EndArrow
	EndNone
)

// Leader describes a label on an oblique leader.
type Leader struct {
	At    geometry.Point
	Elbow geometry.Point
	Side  float64
	End   LeaderEnd
	Text  Label
	Sub   Label // second line, under the shoulder
	// Height of the text, 0 for that of dimensions.
	Height float64
	Role   string
}

// Leader builds the label in m.
func (s *Style) Leader(m *Mark, d *Leader) {
	m.Reset(d.Role)
	m.Lines = append(m.Lines, Segment{d.At, d.Elbow})
	switch d.End {
	case EndDot:
		m.Dots = append(m.Dots, d.At)
	case EndArrow:
		m.Heads = append(m.Heads, s.head(d.At, d.At.Sub(d.Elbow).Unit()))
	case EndNone:
	}
	height := d.Height
	if height == 0 {
		height = s.TextHeight
	}
	s.label(m, d.Elbow, d.Side, height, d.Text, d.Sub)
}
