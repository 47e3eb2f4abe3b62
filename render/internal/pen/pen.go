// Package pen walks the edges of a path for the writers: points rounded to
// 1e-3 mm, arcs in pieces of at most a quarter turn. A quarter turn keeps a
// rounded radius harmless: near a half turn a radius 0.5 µm too small would
// move the arc by tens of micrometres, up to a quarter turn by less than the
// rounding itself.
package pen

import (
	"math"

	"fay/geometry"
	"fay/render/internal/number"
)

// Decimals is the number of decimals of a millimetre on every drawing.
const Decimals = 3

// flat is the radius in mm from which an arc is a straight line on a sheet: a
// chord of 1 m bulges by 1/800 mm.
const flat = 1e8

// A Sink takes the pieces of a path, sheet millimetres, y up.
type Sink interface {
	MoveTo(p geometry.Point)
	LineTo(p geometry.Point)
	// ArcTo draws a circular arc of at most a quarter turn from the current
	// point; the sweep is positive counter-clockwise.
	ArcTo(p geometry.Point, radius float64, sweep geometry.Angle)
	QuadTo(control, p geometry.Point)
	Close()
}

// Draw walks a chain of edges. An edge that does not start where the one
// before ended starts a contour of its own; closed closes every contour.
func Draw(edges []geometry.Edge, closed bool, s Sink) {
	open := false
	var at, start geometry.Point
	finish := func() {
		if open && closed {
			s.Close()
		}
	}
	for i, e := range edges {
		from := Round(e.Start())
		if !open || from != at {
			finish()
			s.MoveTo(from)
			open, at, start = true, from, from
		}
		to := Round(e.End())
		// The closing stroke of a straight-sided contour is the writer's to draw.
		rest := edges[i+1:]
		if closed && to == start && e.Kind() == geometry.LineEdge && (len(rest) == 0 || Round(rest[0].Start()) != to) {
			at = to
			continue
		}
		at = edge(e, at, to, s)
	}
	finish()
}

// edge draws one edge from one rounded end to the other.
func edge(e geometry.Edge, from, to geometry.Point, s Sink) geometry.Point {
	switch e.Kind() {
	case geometry.ArcEdge:
		arc(e, from, to, s)
	case geometry.QuadEdge:
		s.QuadTo(Round(e.Control()), to)
	default:
		if from != to {
			s.LineTo(to)
		}
	}
	return to
}

func arc(e geometry.Edge, from, to geometry.Point, s Sink) {
	sweep := e.Sweep()
	n := max(1, int(math.Ceil(math.Abs(sweep.Radians())/(math.Pi/2)-1e-9)))
	piece := sweep / geometry.Angle(n)
	for i := 1; i <= n; i++ {
		p := to
		if i < n {
			p = Round(e.At(float64(i) / float64(n)))
		}
		chord := p.Dist(from)
		radius := chord / (2 * math.Abs((piece / 2).Sin()))
		switch {
		case chord == 0:
		case !(radius < flat):
			s.LineTo(p)
		default:
			s.ArcTo(p, radius, piece)
		}
		from = p
	}
}

// Round rounds a point to the grid of the drawing.
func Round(p geometry.Point) geometry.Point {
	return geometry.Point{X: number.Round(p.X, Decimals), Y: number.Round(p.Y, Decimals)}
}

// Cubic gives the control points of the Bézier curve nearest to an arc of at
// most a quarter turn; it leaves the arc by at most 2.8e-4 of the radius.
func Cubic(from, to geometry.Point, radius float64, sweep geometry.Angle) (a, b geometry.Point) {
	reach := 4.0 / 3 * math.Abs((sweep / 4).Tan()) * radius
	along := to.Sub(from).Unit()
	a = from.Add(along.Rotate(-sweep / 2).Scale(reach))
	b = to.Sub(along.Rotate(sweep / 2).Scale(reach))
	return a, b
}
