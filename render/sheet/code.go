package sheet

import (
	"math"

	"rsc.io/qr"

	"fay/geometry"
	"fay/render"
)

const (
	// quiet is the white margin of a code in modules (ISO/IEC 18004, from
	// memory, unverified).
	quiet = 4
	// leastModule is the smallest module, mm, that a phone reads off a bench
	// print (common practice, no source).
	leastModule = 0.4
)

// codeText is what the code holds: joint, revision and digest, no address.
// Long names are cut short; the digest never is.
func codeText(j *Job) string {
	const most = 24
	short := func(s string) string {
		r := []rune(s)
		if len(r) > most {
			return string(r[:most-1]) + "…"
		}
		return s
	}
	text := ""
	if j.Joint != "" {
		text += "joint " + short(j.Joint) + " "
	}
	if j.Revision != "" {
		text += "rev " + short(j.Revision) + " "
	}
	return text + shorten(j.Digest)
}

// code draws the code as squares into a box, runs of dark modules as one
// rectangle. A code that would be too fine to read is left out; the digest
// stands in the title block anyway.
func (c *composer) code(q *pen, b geometry.Box) {
	m, err := qr.Encode(codeText(c.job), qr.M)
	if err != nil {
		return
	}
	module := math.Min(b.Width(), b.Height()) / float64(m.Size+2*quiet)
	if module < leastModule {
		return
	}
	side := module * float64(m.Size)
	left, top := b.Centre().X-side/2, b.Centre().Y+side/2
	runs := 0
	for y := range m.Size {
		for x := range m.Size {
			if m.Black(x, y) && !m.Black(x-1, y) {
				runs++
			}
		}
	}
	edges := make([]geometry.Edge, 0, 4*runs)
	for y := range m.Size {
		for x := 0; x < m.Size; x++ {
			from := x
			for x < m.Size && m.Black(x, y) {
				x++
			}
			if x > from {
				edges = append(edges, rectangle(left+float64(from)*module, top-float64(y+1)*module, left+float64(x)*module, top-float64(y)*module)...)
			}
		}
	}
	q.items = append(q.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: "code", Path: &render.Path{Edges: edges, Closed: true, Fill: &render.Black}})
}

// rectangle is a contour counter-clockwise.
func rectangle(x0, y0, x1, y1 float64) []geometry.Edge {
	a, b, c, d := geometry.Point{X: x0, Y: y0}, geometry.Point{X: x1, Y: y0}, geometry.Point{X: x1, Y: y1}, geometry.Point{X: x0, Y: y1}
	return []geometry.Edge{geometry.Line(a, b), geometry.Line(b, c), geometry.Line(c, d), geometry.Line(d, a)}
}
