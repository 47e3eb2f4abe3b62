package pdf

import (
	"slices"

	"fay/geometry"
	"fay/render"
	"fay/render/internal/number"
	"fay/render/internal/pen"
)

// content is the content stream of a page. Everything is in mm: the first
// operator scales the page.
type content struct {
	number.Buffer
	at geometry.Point

	// The graphics state, so that only changes are written.
	fill, stroke render.Ink
	width        float64
	dash         []float64
}

func newContent() *content {
	const usual = 1 << 16 // bytes of an ordinary sheet
	return &content{Buffer: number.NewBuffer(usual)}
}

var paper = render.Ink{R: 255, G: 255, B: 255}

func (c *content) drawing(d *render.Drawing) {
	c.Number(pointsPerMm, 6)
	c.Text(" 0 0 ")
	c.Number(pointsPerMm, 6)
	c.Text(" 0 0 cm 1 J 1 j\n") // round ends and joins, as a pen draws
	for _, items := range d.ByLayer() {
		for _, it := range items {
			if it.Path != nil {
				c.path(it.Path)
			} else {
				c.text(it.Text)
			}
		}
	}
}

func (c *content) path(p *render.Path) {
	if p.Stroke == nil && p.Fill == nil || len(p.Edges) == 0 {
		return
	}
	if p.Fill != nil {
		c.setFill(*p.Fill)
	}
	if p.Stroke != nil {
		c.setPen(p.Stroke)
	}
	pen.Draw(p.Edges, p.Closed, c)
	switch {
	case p.Fill == nil:
		c.Text("S\n")
	case p.Stroke == nil:
		c.Text("f\n")
	default:
		c.Text("B\n")
	}
}

func (c *content) text(t *render.Text) {
	line := t.Line()
	if t.Halo > 0 && t.Content != "" {
		c.setFill(paper)
		for i, p := range t.Box(t.Halo) {
			c.point(p)
			c.Text([]string{"m ", "l ", "l ", "l "}[i])
		}
		c.Text("h f\n")
	}
	runs := line.Runs()
	if len(runs) == 0 {
		return
	}
	c.setFill(t.Ink)
	o := t.Origin()
	cos, sin := t.Angle.Cos(), t.Angle.Sin()
	c.Text("BT ")
	for _, run := range runs {
		c.Byte('/')
		c.Text(nameOf(run.Font))
		c.Byte(' ')
		c.Number(run.Font.Scale(t.Height)*run.Font.Units, 4)
		c.Text(" Tf ")
		for _, v := range [...]float64{cos, sin, -sin, cos} {
			c.Number(v, 6)
			c.Byte(' ')
		}
		c.point(o.Add(geometry.Polar(run.X*t.Height, t.Angle)))
		c.Text("Tm ")
		c.show(run, t.Height)
		c.Byte('\n')
	}
	c.Text("ET\n")
}

func (c *content) setFill(i render.Ink) {
	if i != c.fill {
		c.ink(i, "g", "rg")
		c.fill = i
	}
}

func (c *content) setPen(s *render.Stroke) {
	if s.Ink != c.stroke {
		c.ink(s.Ink, "G", "RG")
		c.stroke = s.Ink
	}
	if s.Width != c.width {
		c.Number(s.Width, 3)
		c.Text(" w ")
		c.width = s.Width
	}
	if slices.Equal(s.Dash, c.dash) {
		return
	}
	if (len(s.Dash) == 0) != (len(c.dash) == 0) {
		if len(s.Dash) == 0 {
			c.Text("1 J ")
		} else {
			c.Text("0 J ") // square ends keep the dashes' lengths
		}
	}
	c.Byte('[')
	for _, v := range s.Dash {
		c.Number(v, 3)
		c.Byte(' ')
	}
	c.Text("]0 d ")
	c.dash = s.Dash
}

func (c *content) ink(i render.Ink, grey, colour string) {
	values := []uint8{i.R, i.G, i.B}
	if i.R == i.G && i.G == i.B {
		values, colour = values[:1], grey
	}
	for _, v := range values {
		c.Number(float64(v)/255, 4)
		c.Byte(' ')
	}
	c.Text(colour + " ")
}

// The path commands of pen.Sink.

func (c *content) MoveTo(p geometry.Point) {
	c.point(p)
	c.Text("m ")
	c.at = p
}

func (c *content) LineTo(p geometry.Point) {
	c.point(p)
	c.Text("l ")
	c.at = p
}

func (c *content) ArcTo(p geometry.Point, radius float64, sweep geometry.Angle) {
	a, b := pen.Cubic(c.at, p, radius, sweep)
	c.curve(a, b, p)
}

func (c *content) QuadTo(control, p geometry.Point) {
	// A quadratic curve is the cubic one with its handles at two thirds.
	c.curve(c.at.Lerp(control, 2.0/3), p.Lerp(control, 2.0/3), p)
}

func (c *content) Close() { c.Text("h ") }

func (c *content) curve(a, b, p geometry.Point) {
	c.point(a)
	c.point(b)
	c.point(p)
	c.Text("c ")
	c.at = p
}

func (c *content) point(p geometry.Point) {
	c.Number(p.X, pen.Decimals)
	c.Byte(' ')
	c.Number(p.Y, pen.Decimals)
	c.Byte(' ')
}
