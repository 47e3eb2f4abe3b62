package render

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/render/lettering"
)

// Label is a text with its size at the height of dimensions.
type Label struct {
	Text string
	Extent
}

// Extent is how much room a text takes: its width, and how far its letters
// reach below the base line and above it. All are mm.
type Extent struct{ Width, Below, Above float64 }

// Label measures a text for dimensions.
func (s *Style) Label(text string) Label {
	return Label{text, Extent{
		Width: lettering.Measure(text, FaceRegular, s.TextHeight),
		Below: tail(text) * s.TextHeight,
		Above: reach(text) * s.TextHeight,
	}}
}

func (e Extent) scale(f float64) Extent {
	return Extent{e.Width * f, e.Below * f, e.Above * f}
}

// tail is how far the letters of a text reach below the base line, as a part
// of the capital height. It errs on the safe side by a hair.
func tail(content string) float64 {
	tail := 0.02
	for _, r := range content {
		switch {
		case r >= '0' && r <= '9' || r == '.' || r == ' ':
		case r == ',':
			tail = math.Max(tail, 0.21)
		case r == '(' || r == ')' || r == '[' || r == ']':
			tail = math.Max(tail, 0.29)
		case r == 'g' || r == 'j' || r == 'p' || r == 'q' || r == 'y' || r == 'Q' || r == ';' || r > 127 && !low(r):
			return 0.36
		}
	}
	return tail
}

// low tells the signs of dimensions that are no higher or deeper than figures.
func low(r rune) bool { return r == '±' || r == '×' || r == '°' || r == '\u2212' }

// reach is how far letters reach over the base line, as a part of the capital
// height: brackets and b, d, f, with a hair to spare. Accented capitals reach
// further, and are given that.
func reach(content string) float64 {
	const usual, accented = 1.1, 1.3
	for _, r := range content {
		if r > 127 && !low(r) {
			return accented
		}
	}
	return usual
}

// Segment is a straight stroke on the sheet.
type Segment struct{ A, B geometry.Point }

// lift is how far the base line of a text lies above a line under it.
func (s *Style) lift(e Extent) float64 {
	const tails = 0.4 // mm between a tail and the line
	return math.Max(s.TextClear, e.Below+tails) + s.Narrow/2
}

// Mark is one dimension, leader or label on the sheet, taken apart so that a
// layout can test each part against everything else before it is drawn.
type Mark struct {
	Role      string
	Extension []Segment // extension lines
	Lines     []Segment // dimension lines, leaders, shoulders
	Arcs      []geometry.Edge
	Heads     [][3]geometry.Point // filled arrowheads, tip first
	Dots      []geometry.Point    // filled ends of leaders inside an outline
	Texts     []Text
	// Extents are those of the texts, so that a layout that tries many places
	// measures each text once.
	Extents []Extent
}

// Reset empties the mark and keeps its memory.
func (m *Mark) Reset(role string) {
	*m = Mark{Role: role, Extension: m.Extension[:0], Lines: m.Lines[:0], Arcs: m.Arcs[:0],
		Heads: m.Heads[:0], Dots: m.Dots[:0], Texts: m.Texts[:0], Extents: m.Extents[:0]}
}

// Clone copies the mark.
func (m *Mark) Clone() Mark {
	return Mark{Role: m.Role, Extension: slices.Clone(m.Extension), Lines: slices.Clone(m.Lines), Arcs: slices.Clone(m.Arcs),
		Heads: slices.Clone(m.Heads), Dots: slices.Clone(m.Dots), Texts: slices.Clone(m.Texts), Extents: slices.Clone(m.Extents)}
}

func (m *Mark) text(t Text, e Extent) {
	m.Texts = append(m.Texts, t)
	m.Extents = append(m.Extents, e)
}

// Items draws the mark in a view.
func (m *Mark) Items(s *Style, view int) []Item {
	items := make([]Item, 0, 3+len(m.Texts))
	edges := make([]geometry.Edge, 0, len(m.Extension)+len(m.Lines)+len(m.Arcs))
	for _, list := range [2][]Segment{m.Extension, m.Lines} {
		for _, l := range list {
			edges = append(edges, geometry.Line(l.A, l.B))
		}
	}
	edges = append(edges, m.Arcs...)
	if len(edges) > 0 {
		items = append(items, Item{Layer: LayerDimension, View: view, Role: m.Role,
			Path: &Path{Edges: edges, Stroke: s.NarrowLine()}})
	}
	if len(m.Heads) > 0 {
		ink := Black
		edges := make([]geometry.Edge, 0, 3*len(m.Heads))
		for _, h := range m.Heads {
			edges = append(edges, geometry.Line(h[0], h[1]), geometry.Line(h[1], h[2]), geometry.Line(h[2], h[0]))
		}
		items = append(items, Item{Layer: LayerDimension, View: view, Role: m.Role,
			Path: &Path{Edges: edges, Closed: true, Fill: &ink}})
	}
	for _, c := range m.Dots {
		ink := Black
		items = append(items, Item{Layer: LayerDimension, View: view, Role: m.Role,
			Path: &Path{Edges: Circle(c, s.DotRadius), Closed: true, Fill: &ink}})
	}
	for i := range m.Texts {
		items = append(items, Item{Layer: LayerText, View: view, Role: m.Role, Text: &m.Texts[i]})
	}
	return items
}

// Circle is a full circle in two arcs.
func Circle(c geometry.Point, r float64) []geometry.Edge {
	a, b := geometry.Point{X: c.X - r, Y: c.Y}, geometry.Point{X: c.X + r, Y: c.Y}
	return []geometry.Edge{geometry.Arc(a, b, r), geometry.Arc(b, a, r)}
}

// head is an arrowhead with its tip at p, pointing along dir.
func (s *Style) head(p, dir geometry.Point) [3]geometry.Point {
	tail := p.Sub(dir.Scale(s.ArrowLength))
	side := dir.Perp().Scale(s.ArrowWidth / 2)
	return [3]geometry.Point{p, tail.Add(side), tail.Sub(side)}
}

// Reading turns a direction so that text along it reads from the bottom or
// from the right, and says whether it was turned round.
func Reading(u geometry.Point) (geometry.Point, bool) {
	const level = 1e-9
	if u.X < -level || math.Abs(u.X) <= level && u.Y < 0 {
		return u.Scale(-1), true
	}
	return u, false
}

// TextPlace is where the text of a dimension stands.
type TextPlace uint8

// The places of dimension texts, the preferred first.
const (
	TextInside      TextPlace = iota // between the extension lines
	TextAfter                        // beyond the second arrow, along the line
	TextBefore                       // beyond the first arrow, along the line
	TextAfterRight                   // on a level shoulder beyond the second arrow
	TextAfterLeft                    //
	TextBeforeRight                  // on a level shoulder beyond the first arrow
	TextBeforeLeft                   //
	textPlaces
)

// TextPlaces is the number of places.
const TextPlaces = int(textPlaces)

// Linear describes a linear dimension on the sheet.
type Linear struct {
	A, B geometry.Point // the features
	P, Q geometry.Point // the ends of the dimension line
	// NoExtension leaves out the extension line at an end that already lies
	// on a line of the part.
	NoExtension [2]bool
	Text        Label
	Place       TextPlace
	// Lead moves a text outside further out along the line.
	Lead float64
	Role string
}

// Linear builds the dimension in m; it is false where the place cannot take
// the text.
func (s *Style) Linear(m *Mark, d *Linear) bool {
	p, q := d.P, d.Q
	u, turned := Reading(q.Sub(p).Unit())
	if turned {
		p, q = q, p
	}
	m.Reset(d.Role)
	for i, f := range [2][2]geometry.Point{{d.A, d.P}, {d.B, d.Q}} {
		if d.NoExtension[i] {
			continue
		}
		v := f[1].Sub(f[0])
		if v.Norm() <= s.ExtensionGap {
			continue
		}
		e := v.Unit()
		m.Extension = append(m.Extension, Segment{f[0].Add(e.Scale(s.ExtensionGap)), f[1].Add(e.Scale(s.ExtensionOver))})
	}
	t := Text{Height: s.TextHeight, Align: AlignCentre, Content: d.Text.Text}
	w := d.Text.Width
	length := p.Dist(q)
	mid := p.Lerp(q, 0.5)
	inside := length >= 2*s.ArrowLength+s.TextClear
	if d.Place == TextInside {
		if s.Aligned {
			if w+2*s.TextClear > length {
				return false
			}
			t.Angle = u.Angle()
			t.At = mid.Add(u.Perp().Scale(s.lift(d.Text.Extent)))
			m.Lines = append(m.Lines, Segment{p, q})
		} else {
			half := s.halfAlong(u, w)
			if 2*half > length {
				return false
			}
			inside = length/2-half >= s.ArrowLength+0.5
			t.At = mid.Sub(geometry.Point{Y: t.Height / 2})
			if inside || length/2-half > 0.5 {
				m.Lines = append(m.Lines, Segment{p, mid.Sub(u.Scale(half))}, Segment{mid.Add(u.Scale(half)), q})
			}
		}
		s.arrows(m, p, q, u, inside, 0, 0)
		m.text(t, d.Text.Extent)
		return true
	}
	if length > 0 {
		m.Lines = append(m.Lines, Segment{p, q})
	}
	stub := s.ArrowLength + 1.5
	end, dir := q, u
	if d.Place == TextBefore || d.Place == TextBeforeLeft || d.Place == TextBeforeRight {
		end, dir = p, u.Scale(-1)
	}
	if inside {
		stub = 2
	}
	stub += d.Lead
	var run float64 // how far the line goes on past the end
	switch d.Place {
	case TextAfter, TextBefore:
		if s.Aligned {
			run = stub + s.TextClear + w
			t.Angle = u.Angle()
			t.At = end.Add(dir.Scale(stub + s.TextClear + w/2)).Add(u.Perp().Scale(s.lift(d.Text.Extent)))
		} else {
			run = stub
			t.At = end.Add(dir.Scale(stub + s.halfAlong(u, w))).Sub(geometry.Point{Y: t.Height / 2})
		}
	default:
		side := 1.0
		if d.Place == TextAfterLeft || d.Place == TextBeforeLeft {
			side = -1
		}
		if math.Abs(u.X) > 0.94 {
			return false // the shoulder would go on along the line
		}
		run = stub + s.TextHeight*0.7
		s.shoulder(m, end.Add(dir.Scale(run)), side, &t, d.Text.Extent)
	}
	after, before := 0.0, 0.0
	if end == q {
		after = run
	} else {
		before = run
	}
	s.arrows(m, p, q, u, inside, before, after)
	m.text(t, d.Text.Extent)
	return true
}

// halfAlong is half the length a level text of width w takes up along u,
// clear space included.
func (s *Style) halfAlong(u geometry.Point, w float64) float64 {
	c, h := math.Abs(u.X), math.Abs(u.Y)
	half := math.Inf(1)
	if c > 1e-9 {
		half = w / 2 / c
	}
	if h > 1e-9 {
		half = math.Min(half, s.TextHeight/2/h)
	}
	return half + s.TextClear
}

// shoulder sets a text on a level shoulder that starts at p.
func (s *Style) shoulder(m *Mark, p geometry.Point, side float64, t *Text, e Extent) {
	w := e.Width
	t.Angle = 0
	if s.Aligned {
		m.Lines = append(m.Lines, Segment{p, p.Add(geometry.Point{X: side * (w + 1)})})
		// From the elbow on, whichever way the shoulder points.
		t.Align = AlignLeft
		if side < 0 {
			t.Align = AlignRight
		}
		t.At = p.Add(geometry.Point{X: side, Y: s.lift(e)})
		return
	}
	const length = 3
	m.Lines = append(m.Lines, Segment{p, p.Add(geometry.Point{X: side * length})})
	t.Align = AlignLeft
	if side < 0 {
		t.Align = AlignRight
	}
	t.At = p.Add(geometry.Point{X: side * (length + s.TextClear), Y: -t.Height / 2})
}

// arrows puts the heads on a dimension line from p to q along u, and the
// pieces of line outside it.
func (s *Style) arrows(m *Mark, p, q, u geometry.Point, inside bool, before, after float64) {
	if inside {
		m.Heads = append(m.Heads, s.head(p, u.Scale(-1)), s.head(q, u))
	} else {
		m.Heads = append(m.Heads, s.head(p, u), s.head(q, u.Scale(-1)))
		before = math.Max(before, s.ArrowLength+1.5)
		after = math.Max(after, s.ArrowLength+1.5)
	}
	if before > 0 {
		m.Lines = append(m.Lines, Segment{p.Sub(u.Scale(before)), p})
	}
	if after > 0 {
		m.Lines = append(m.Lines, Segment{q, q.Add(u.Scale(after))})
	}
}
