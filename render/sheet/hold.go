package sheet

import (
	"slices"
	"strings"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// The heights of boxes to sign, mm: side by side, and under one another where
// room is scarce.
const (
	signBox    = 7.0
	lowSignBox = 6.2
)

func (c *composer) points() []Line {
	if len(c.job.HoldPoints) > 0 {
		return c.job.HoldPoints
	}
	var points []Line
	for _, key := range [...]string{"fitup", "root", "final", "etch"} {
		points = append(points, Line{c.word("hold." + key), c.word("hold." + key + ".what")})
	}
	return points
}

// holdStrip sets the hold points side by side over a wide space, four in a row.
func (c *composer) holdStrip(width float64) block {
	b := block{spacing: c.spacing, title: c.word("table.hold")}
	const across = 4
	points := c.points()
	const between = 4.0
	cell := (width - (across-1)*between) / across
	for len(points) > 0 {
		n := min(across, len(points))
		group := points[:n]
		points = points[n:]
		draws := make([]func(p *pen, sp *spacing, x, top, width float64), n)
		for i, l := range group {
			draws[i] = c.holdCell(l, cell)
		}
		b.rows = append(b.rows, row{lines: 1, pitches: 1, besides: signBox + 0.6, plain: true, draw: func(p *pen, sp *spacing, x, top, _ float64) {
			for i, draw := range draws {
				draw(p, sp, x+float64(i)*(cell+between), top, cell)
			}
		}})
	}
	return b
}

// holdCell is one hold point: its name, what to look at, a box for who signs
// and one for the date.
func (c *composer) holdCell(l Line, width float64) func(p *pen, sp *spacing, x, top, width float64) {
	h := c.style.SmallHeight
	label, cut := lettering.Clip(l.Label, render.FaceBold, h, width)
	what, cutToo := lettering.Clip(l.Value, render.FaceRegular, h, width)
	if cut || cutToo {
		c.overflow("", l.Label+": "+l.Value)
	}
	return func(p *pen, sp *spacing, x, top, width float64) {
		p.text(x, top-sp.line+sp.base, h, render.AlignLeft, render.FaceBold, label)
		p.text(x, top-sp.line-sp.pitch+sp.base, h, render.AlignLeft, render.FaceRegular, what)
		c.signBoxes(p, x, top-sp.line-sp.pitch-0.4, width, signBox)
	}
}

// signBoxes draws the boxes for name and date side by side, their names small
// in the corner.
func (c *composer) signBoxes(p *pen, x, top, width, high float64) {
	h := c.style.SmallHeight
	split := 0.56 * width
	for _, s := range [2]struct {
		from, to float64
		word     string
	}{{0, split, "by"}, {split, width, "date"}} {
		p.rect(0.25, geometry.Box{Min: geometry.Point{X: x + s.from, Y: top - high}, Max: geometry.Point{X: x + s.to, Y: top}})
		p.items = append(p.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: p.role, Text: &render.Text{
			At: geometry.Point{X: x + s.from + 1, Y: top - h - 0.9}, Height: h, Content: c.word(s.word), Ink: faint}})
	}
}

// holdColumn sets the hold points under one another in a narrow space.
func (c *composer) holdColumn(width float64) block {
	b := block{spacing: c.spacing, title: c.word("table.hold")}
	h := c.style.SmallHeight
	for _, l := range c.points() {
		room := 0.38*width - 1
		label, cut := lettering.Clip(l.Label, render.FaceBold, h, room)
		if cut {
			c.overflow("", l.Label+": "+l.Value)
		}
		b.rows = append(b.rows, row{besides: lowSignBox, plain: true, draw: func(p *pen, _ *spacing, x, top, width float64) {
			top -= 0.6 // clear of the line under the title
			p.text(x, top-lowSignBox/2-h/2, h, render.AlignLeft, render.FaceBold, label)
			c.signBoxes(p, x+0.38*width, top, 0.62*width, lowSignBox)
		}})
	}
	return b
}

// hold is the strip of hold points across a sheet.
func (c *composer) hold(width float64) block {
	return c.once(setting{what: "hold strip", width: width}, c.holdStrip)
}

// cautions run on as one paragraph; the sentence that defers comes last.
func (c *composer) cautions(width float64) block {
	about := ""
	if c.closing {
		about = c.aboutSymbols()
	}
	return c.once(setting{what: "cautions", width: width, text: about}, func(width float64) block {
		b := block{title: c.word("table.cautions")}
		var list []string
		for _, key := range [...]string{"arc", "fume", "solvent", "shock", "hot"} {
			list = append(list, c.word("caution."+key))
		}
		list = append(list, c.job.Cautions...)
		defers := c.word("caution.defers")
		if !slices.Contains(list, defers) {
			list = append(list, defers)
		}
		text := strings.Join(list, " ")
		if about != "" {
			text += " " + about + "."
		}
		b.rows = append(b.rows, c.paragraph(width, "!", text))
		return b
	})
}
