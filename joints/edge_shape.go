package joints

import (
	"math"

	"fay/geometry"
)

// members draws the plates going down from the weld, or the sheets going out
// from their bends.
func (p *Edge) members(s *Section) error {
	w := &s.Welds[0]
	thick := float64(max(p.Left.Thickness, p.Right.Thickness))
	reach := 2*thick + float64(p.Depth) + 1.5*float64(w.Penetration+max(w.Feet[0].Fusion, w.Feet[1].Fusion))
	s.Members = make([]Member, 0, 2)
	for i, m := range p.plates() {
		var edges []geometry.Edge
		var broken int
		switch p.Form {
		case EdgeFlanged:
			edges, broken = p.flange(i, reach)
		default:
			edges, broken = p.blade(i, reach)
		}
		if i == 0 {
			edges = mapEdges(edges, mirrorX)
		}
		o, err := geometry.NewOutline(edges...)
		if err != nil {
			return Faults{{Code: FaultGeometry, Field: edgeNames[i] + ".thickness", Value: showLength(float64(m.Thickness)),
				Rule: "the member does not close: " + err.Error(), Remedy: "change its sizes"}}
		}
		if i == 0 {
			// Turned counter-clockwise, the edges count from the other end.
			o, broken = o.CCW(), o.Len()-1-broken
		}
		s.Members = append(s.Members, Member{Name: edgeNames[i], Plate: m, Outline: o, Broken: []int{broken}, Ways: 1})
	}
	return nil
}

// blade is a plate at the right that goes straight down, and the number of the
// edge where the drawing breaks it off.
func (p *Edge) blade(i int, reach float64) ([]geometry.Edge, int) {
	x0 := float64(p.Gap) / 2
	x1 := x0 + float64(p.plates()[i].Thickness)
	top := float64(p.Depth)
	rim := geometry.Point{X: x0 + top*p.Bevel[i].Tan(), Y: top}
	if rim.X > x1-tiny*x1 {
		rim.X = x1 // a feather edge
	}
	edges := []geometry.Edge{
		geometry.Line(geometry.Point{X: x0, Y: top - reach}, geometry.Point{X: x1, Y: top - reach}),
		geometry.Line(geometry.Point{X: x1, Y: top - reach}, geometry.Point{X: x1, Y: top}),
	}
	edges = appendLine(edges, geometry.Point{X: x1, Y: top}, rim)
	edges = appendLine(edges, rim, geometry.Point{X: x0})
	return appendLine(edges, geometry.Point{X: x0}, geometry.Point{X: x0, Y: top - reach}), 0
}

// bendOf is the centre of the bend of a sheet at the right, and its inner and
// outer radius.
func (p *Edge) bendOf(i int) (centre geometry.Point, inner, outer float64) {
	inner = float64(p.BendRadius[i].Value)
	outer = inner + float64(p.plates()[i].Thickness)
	return geometry.Point{X: float64(p.Gap)/2 + outer, Y: outer - float64(p.FlangeHeight)}, inner, outer
}

// flange is a sheet at the right with its edge bent up, and the number of the
// edge where the drawing breaks it off.
func (p *Edge) flange(i int, reach float64) ([]geometry.Edge, int) {
	c, inner, outer := p.bendOf(i)
	x0 := float64(p.Gap) / 2
	x1, far := x0+outer-inner, c.X+reach
	down := func(r float64) geometry.Point { return geometry.Point{X: c.X, Y: c.Y - r} }
	edges := []geometry.Edge{
		geometry.Line(geometry.Point{X: x0}, geometry.Point{X: x0, Y: c.Y}),
		geometry.ArcCentre(geometry.Point{X: x0, Y: c.Y}, down(outer), c, true),
		geometry.Line(down(outer), geometry.Point{X: far, Y: c.Y - outer}),
		geometry.Line(geometry.Point{X: far, Y: c.Y - outer}, geometry.Point{X: far, Y: c.Y - inner}),
		geometry.Line(geometry.Point{X: far, Y: c.Y - inner}, down(inner)),
	}
	if inner > 0 {
		edges = append(edges, geometry.ArcCentre(down(inner), geometry.Point{X: x1, Y: c.Y}, c, false))
	}
	return append(edges,
		geometry.Line(geometry.Point{X: x1, Y: c.Y}, geometry.Point{X: x1}),
		geometry.Line(geometry.Point{X: x1}, geometry.Point{X: x0})), 3
}

func (p *Edge) measures(s *Section) {
	s.roomForMeasures(p.extent)
	for i := range s.Members {
		m := &s.Members[i]
		end := m.Outline.Edge(m.Broken[0])
		out := geometry.Point{Y: -1}
		if p.Form == EdgeFlanged {
			out = geometry.Point{X: float64(2*i - 1)}
		}
		s.measure(thickness(m, end.Start(), end.End(), out))
	}
	x0 := float64(p.Gap) / 2
	if x0 > 0 {
		// Where the members can still be seen apart: at the broken ends, or
		// above the bends.
		y := math.Max(s.Members[0].Outline.Bounds().Min.Y, s.Members[1].Outline.Bounds().Min.Y)
		if p.Form == EdgeFlanged {
			y = -math.Min(p.straight(0), p.straight(1))
		}
		s.measure(Measure{Name: "gap", Value: 2 * x0, Unit: UnitMM, Draw: DrawLinear,
			From: geometry.Point{X: -x0, Y: y}, To: geometry.Point{X: x0, Y: y}, Outward: geometry.Point{Y: -1},
			Formula: "distance between the faying surfaces"})
	}
	switch p.Form {
	case EdgeBevelled:
		s.flankMeasures(PrepSingleV, "", p.groove(), 1)
	case EdgeFlanged:
		p.bendMeasures(s)
	}
	s.weldMeasures(p.extent)
}

// bendMeasures dimensions the flanges: the height at each sheet, the radius of
// each bend.
func (p *Edge) bendMeasures(s *Section) {
	for i := range s.Members {
		sign := float64(2*i - 1)
		turn := func(q geometry.Point) geometry.Point { return geometry.Point{X: sign * q.X, Y: q.Y} }
		c, inner, outer := p.bendOf(i)
		if i == 1 {
			s.measure(Measure{Name: "flange height", Value: float64(p.FlangeHeight), Unit: UnitMM, Draw: DrawLinear,
				From: turn(geometry.Point{X: c.X, Y: c.Y - outer}), To: turn(geometry.Point{X: c.X - inner}), Outward: geometry.Point{X: sign},
				Formula: "from the underside of the sheet to the edge of the flange"})
		}
		on := c.Sub(geometry.Point{X: inner, Y: inner}.Scale(math.Sqrt2 / 2))
		s.measure(Measure{Name: "bend radius", Member: s.Members[i].Name, Value: inner, Unit: UnitMM, Draw: DrawRadius,
			Vertex: turn(c), From: turn(c), To: turn(on), Formula: "radius on the inside of the bend"})
	}
}
