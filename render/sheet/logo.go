package sheet

import (
	"math"

	"fay/geometry"
	"fay/render"
)

// Logo is a shop's mark, taken from a file by ReadLogo: filled areas in a box
// of Width by Height, y up.
type Logo struct {
	Width, Height float64
	Areas         []Area
}

// Area is one colour of a logo: closed contours of straight lines.
type Area struct {
	Ink      render.Ink
	Contours [][]geometry.Point
}

const (
	logoInset = 1.2
	logoWide  = 24.0 // at most
	logoHigh  = ownerHigh - 2*logoInset
)

// logoRoom is the width that the logo takes of a field: only the owner's has
// one.
func (c *composer) logoRoom(label string) float64 {
	if c.job.Logo == nil || label != "owner" {
		return 0
	}
	return math.Min(logoWide, logoHigh*c.job.Logo.Width/c.job.Logo.Height) + 2*logoInset
}

// draw fits the logo into a box, its left edge on that of the box.
func (l *Logo) draw(q *pen, b geometry.Box) {
	scale := math.Min((b.Width()-logoInset)/l.Width, b.Height()/l.Height)
	origin := geometry.Point{X: b.Min.X, Y: b.Centre().Y - l.Height*scale/2}
	for i := range l.Areas {
		a := &l.Areas[i]
		var edges []geometry.Edge
		for _, contour := range a.Contours {
			for k, p := range contour {
				next := contour[(k+1)%len(contour)]
				if p != next {
					edges = append(edges, geometry.Line(origin.Add(p.Scale(scale)), origin.Add(next.Scale(scale))))
				}
			}
		}
		ink := a.Ink
		q.items = append(q.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: "logo", Path: &render.Path{Edges: edges, Closed: true, Fill: &ink}})
	}
}
