package sheet

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/layout"
)

// TooLargeError says that a gauge does not fit the sheet at full size.
type TooLargeError struct {
	Weld          string
	Width, Height float64 // of the gauge, mm
}

func (e *TooLargeError) Error() string {
	return fmt.Sprintf("sheet: the gauge of weld %s is %.0f × %.0f mm, more than the sheet holds at full size", e.Weld, e.Width, e.Height)
}

// Gauge draws a card for each weld at full size, to be cut out and held
// against the weld: its edge runs along one member, over the face of the weld
// as planned, and along the other member. Two like welds share one. The error
// is ErrNoSection, joins *OptionErrors, or is a *TooLargeError.
func Gauge(job Job, o Options) (*render.Drawing, error) {
	err := o.check()
	if job.Section == nil || len(job.Section.Welds) == 0 {
		err = errors.Join(err, ErrNoSection)
	}
	if err != nil {
		return nil, err
	}
	c := newComposer(&job, o, o.papers()[0])
	c.document = c.word("gauge")
	d := &render.Drawing{Width: c.paper.width, Height: c.paper.height, Language: o.Language.Tag(), Title: c.word("gauge") + ", " + c.documentTitle()}
	d.Description = d.Title + ", " + c.word("scale") + " 1:1."
	q := &pen{style: &c.style}
	in := c.furtherZone()
	c.spacing = spacings[0]
	how := c.paragraph(in.Width(), "!", c.word("gauge.how")+" "+c.word("caution.defers"))
	how.draw(q, &c.spacing, in.Min.X, in.Max.Y, in.Width())
	free := in
	free.Max.Y -= how.height(&c.spacing) + c.spacing.gap
	if err := c.cards(q, d, free); err != nil {
		return nil, err
	}
	c.drawFrame(q)
	c.titleBlock(q, render.ScaleText(1), 0, 1)
	c.revision(q)
	c.checkBars(q, c.titleLeft(), c.frame.Min.Y+titleHigh)
	d.Items = q.items
	return d, nil
}

const (
	cardEdge   = 25.0 // of a card along the members, mm
	cardDeep   = 22.0 // of a card over a weld between members in line
	cardGap    = 10.0
	cardLetter = 7.0 // room for the name over a card
)

// cards sets the cards side by side in rows from the top.
func (c *composer) cards(q *pen, d *render.Drawing, free geometry.Box) error {
	sec := c.job.Section
	alike := layout.Alike(sec)
	x, top, rowHigh := free.Min.X, free.Max.Y, 0.0
	for i := range sec.Welds {
		if alike && i > 0 {
			break
		}
		w := &sec.Welds[i]
		card := card(sec, w)
		b := geometry.EmptyBox()
		for _, e := range card {
			b = b.Union(e.Bounds())
		}
		b = b.Union(w.Profile.Bounds())
		if b.Width() > free.Width() || b.Height()+cardLetter > free.Height() {
			return &TooLargeError{w.ID, b.Width(), b.Height()}
		}
		if x+b.Width() > free.Max.X {
			x, top, rowHigh = free.Min.X, top-rowHigh-cardGap, 0
		}
		if top-b.Height()-cardLetter < free.Min.Y {
			return &TooLargeError{w.ID, b.Width(), b.Height()}
		}
		name := c.word("weld." + w.ID)
		if alike {
			name = c.word("weld.both")
		}
		q.role = "gauge:" + w.ID
		q.text(x, top-4, c.style.TextHeight, render.AlignLeft, render.FaceBold, name)
		c.draw(q, d, w, card, geometry.Point{X: x - b.Min.X, Y: top - cardLetter - b.Max.Y})
		x += math.Max(b.Width(), 40) + cardGap
		rowHigh = math.Max(rowHigh, b.Height()+cardLetter)
	}
	return nil
}

// draw puts a card and its weld on the sheet, the origin of the section plane
// at a point.
func (c *composer) draw(q *pen, d *render.Drawing, w *joints.Weld, card []geometry.Edge, origin geometry.Point) {
	view := len(d.Views)
	d.Views = append(d.Views, render.View{Name: "gauge " + w.ID, Scale: 1, Origin: origin})
	move := geometry.Translate(origin)
	add := func(layer render.Layer, p render.Path) {
		for i := range p.Edges {
			p.Edges[i] = p.Edges[i].Transform(move)
		}
		q.items = append(q.items, render.Item{Layer: layer, View: view, Role: q.role, Path: &p})
	}
	tint := c.style.Tint
	add(render.LayerTint, render.Path{Edges: w.Profile.Edges(), Closed: true, Fill: &tint})
	add(render.LayerMember, render.Path{Edges: card, Closed: true, Stroke: &render.Stroke{Width: c.style.Narrow}})
}

// card is the outline of a gauge in the section plane: out along the first
// member, round the back, in along the other, and back over the face.
func card(sec *joints.Section, w *joints.Weld) []geometry.Edge {
	toe, tip := w.Feet[0].Toe, w.Feet[1].Toe
	a, long := surface(sec, w, toe)
	b, longTip := surface(sec, w, tip)
	out, in := toe.Add(a.Scale(cardEdge)), tip.Add(b.Scale(cardEdge))
	middle := toe.Lerp(tip, 0.5)
	if n := len(w.FaceEdges); n > 0 {
		middle = w.FaceEdges[n/2].At(0.5)
	}
	outward := middle.Sub(w.WeldRoot).Unit()
	var back []geometry.Point
	switch lean := a.Add(b).Dot(outward); {
	case lean > 0.3:
		// Members that stand up beside the face: the fourth corner of the
		// parallelogram on their surfaces.
		reach := 0.0
		if turn := a.Cross(b); math.Abs(turn) > 1e-6 {
			reach = tip.Sub(toe).Cross(b) / turn
		}
		back = []geometry.Point{out.Add(in).Sub(toe.Add(a.Scale(reach)))}
	case lean < -0.3:
		// Members that fall away from the face: over both of them and round.
		out, in = toe.Add(a.Scale(math.Min(cardEdge, long))), tip.Add(b.Scale(math.Min(cardEdge, longTip)))
		back = []geometry.Point{
			out.Add(square(a, outward.Add(toe.Sub(tip).Unit())).Scale(cardDeep)),
			middle.Add(outward.Scale(1.5 * cardDeep)),
			in.Add(square(b, outward.Add(tip.Sub(toe).Unit())).Scale(cardDeep)),
		}
	default:
		up := square(a.Sub(b).Unit(), outward)
		level := math.Max(out.Dot(up), in.Dot(up)) + cardDeep
		back = []geometry.Point{out.Add(up.Scale(level - out.Dot(up))), in.Add(up.Scale(level - in.Dot(up)))}
	}
	corners := append([]geometry.Point{toe, out}, back...)
	corners = append(corners, in, tip)
	var edges []geometry.Edge
	for i := range len(corners) - 1 {
		edges = append(edges, geometry.Line(corners[i], corners[i+1]))
	}
	for _, e := range slices.Backward(w.FaceEdges) {
		edges = append(edges, e.Reverse())
	}
	return edges
}

// square is the direction at right angles to another, on the side of a third.
func square(d, side geometry.Point) geometry.Point {
	n := d.Perp()
	if n.Dot(side) < 0 {
		return n.Scale(-1)
	}
	return n
}

// surface is the direction in which the bare surface of a member leaves a toe:
// along an edge through the toe, off the weld. It goes on straight for the
// given length, without end where the member is broken off.
func surface(sec *joints.Section, w *joints.Weld, toe geometry.Point) (d geometry.Point, long float64) {
	const near, step = 1e-6, 1e-2
	for i := range sec.Members {
		m := &sec.Members[i]
		for k, e := range m.Outline.All() {
			q, t := e.Nearest(toe)
			if q.Dist(toe) > near {
				continue
			}
			for forward, d := range [...]geometry.Point{e.Tangent(t).Scale(-1).Unit(), e.Tangent(t).Unit()} {
				p := toe.Add(d.Scale(step))
				if e.Distance(p) > step/10 || w.Profile.Locate(p) != geometry.Outside || !bare(sec, i, p) {
					continue
				}
				end, next := e.Start(), (k+m.Outline.Len()-1)%m.Outline.Len()
				if forward == 1 {
					end, next = e.End(), (k+1)%m.Outline.Len()
				}
				if slices.Contains(m.Broken, next) {
					return d, math.Inf(1)
				}
				return d, end.Dist(toe)
			}
		}
	}
	// No edge of its own: away from the root.
	return toe.Sub(w.JointRoot).Unit(), math.Inf(1)
}

// bare reports whether a point on a member touches no other one.
func bare(sec *joints.Section, member int, p geometry.Point) bool {
	for i := range sec.Members {
		if i != member && sec.Members[i].Outline.Locate(p) != geometry.Outside {
			return false
		}
	}
	return true
}
