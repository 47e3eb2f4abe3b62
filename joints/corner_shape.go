package joints

import (
	"math"

	"fay/geometry"
)

// cornerShape is where the upright stands at the end of the base.
type cornerShape struct {
	psi     geometry.Angle
	root    geometry.Point // intersection of the base's top and the upright's inner face
	up      geometry.Point // along the upright, away from the base
	across  geometry.Point // square to the upright, from its inner to its outer face
	end     geometry.Point // along the upright's end, from its inner to its outer edge
	inner   geometry.Point // ends of the upright's end
	outer   geometry.Point
	lip     geometry.Point // base's upper corner
	heel    geometry.Point // base's lower corner
	covered float64        // length of the upright's end over the base
	bare    float64        // length of it beyond the base
	outside geometry.Point // joint root of the outer groove
}

func cornerGeometry(p Corner) cornerShape {
	sin, cos := p.Angle.Sin(), p.Angle.Cos()
	tb, tu, gap := float64(p.Base.Thickness), float64(p.Upright.Thickness), float64(p.Gap)
	g := cornerShape{psi: p.Angle, up: geometry.Point{X: -cos, Y: sin}, across: geometry.Point{X: sin, Y: cos}}
	g.end = g.across
	length := tu
	if p.UprightEnd == StemFitted {
		g.end, length = geometry.Point{X: 1}, tu/sin
	}
	g.inner = geometry.Point{X: -cos * gap / sin, Y: gap}
	g.outer = g.inner.Add(g.end.Scale(length))
	g.covered, g.bare = p.Cover*length, (1-p.Cover)*length
	g.lip = geometry.Point{X: g.inner.X + g.covered}
	g.outside = geometry.Point{X: g.lip.X, Y: gap}
	if p.Cover == 1 {
		g.lip.X = g.outer.X
		g.outside = geometry.Point{X: g.outer.X, Y: gap / 2}
	}
	g.heel = geometry.Point{X: g.lip.X, Y: -tb}
	// The origin lies at the joint root of the arrow-side weld.
	if p.Outside != nil {
		origin := g.outside
		for _, q := range [...]*geometry.Point{&g.root, &g.inner, &g.outer, &g.lip, &g.heel, &g.outside} {
			*q = q.Sub(origin)
		}
	}
	return g
}

// nook is the inner corner.
func (g cornerShape) nook(p Corner) nook {
	return nook{
		apex: g.root, along: [2]geometry.Point{{X: -1}, g.up}, psi: g.psi,
		member: [2]int{0, 1}, name: [2]string{"base", "upright"},
		room:  [2]float64{math.Inf(1), math.Inf(1)},
		depth: [2]float64{float64(p.Base.Thickness), float64(p.Upright.Thickness)},
		gap:   float64(p.Gap), corner: float64(p.Gap) / g.psi.Sin(), gapField: "gap",
		faying: g.end, contact: g.covered,
		ends: true, start: g.root.X - g.lip.X,
	}
}

// groove is the nook between the upright's end and the base's end. The
// upright's end may run on over the base; the base's corner stands the gap
// below it.
func (g cornerShape) groove(p Corner) nook {
	psi := geometry.Angle(90 * geometry.Degree)
	if p.UprightEnd == StemSquare {
		psi = 180*geometry.Degree - p.Angle
	}
	gap := float64(p.Gap)
	return nook{
		apex: g.outside, along: [2]geometry.Point{g.end, {Y: -1}}, psi: psi,
		member: [2]int{1, 0}, name: [2]string{"upright", "base"},
		room:  [2]float64{g.bare, float64(p.Base.Thickness) + gap},
		depth: [2]float64{math.Inf(1), math.Inf(1)}, edge: [2]bool{true, true},
		gap: gap * psi.Sin(), corner: gap, gapField: "gap",
		faying: geometry.Point{X: -1}, contact: g.covered,
		brim: [2]geometry.Point{g.up, {X: -1}},
	}
}

// seam is the outer side of a closed corner: base below, upright above.
func (g cornerShape) seam(p Corner) bead {
	return bead{
		member: [2]int{0, 1}, name: [2]string{"base", "upright"}, gap: float64(p.Gap),
		room:    [2]float64{float64(p.Base.Thickness), math.Inf(1)},
		contact: g.covered, depth: [2]float64{math.Inf(1), float64(p.Upright.Thickness)},
		place: mirrorX.Then(geometry.Rotate(-90*geometry.Degree, geometry.Point{})).Then(geometry.Translate(g.outside)),
	}
}

// members draws base and upright far enough beyond the welds to be recognised.
func (g cornerShape) members(p Corner, s *Section) error {
	tb, tu := float64(p.Base.Thickness), float64(p.Upright.Thickness)
	left := math.Min(g.root.X, g.inner.X)
	top := math.Max(g.inner.Dot(g.up), g.outer.Dot(g.up))
	reach := math.Max(1.5*tu, 1.2*tb)
	for i := range s.Welds {
		w := &s.Welds[i]
		reach = math.Max(reach, 2*float64(w.Penetration))
		for _, f := range w.Feet {
			left, top = math.Min(left, f.Toe.X), math.Max(top, f.Toe.Dot(g.up))
			reach = math.Max(reach, math.Max(0.6*float64(f.Leg), 2*float64(f.Fusion)))
		}
	}
	left, top = left-reach, top+reach
	base, err := geometry.Polygon(geometry.Point{X: left, Y: g.heel.Y}, g.heel, g.lip, geometry.Point{X: left, Y: g.lip.Y})
	if err != nil {
		return err
	}
	crown := func(q geometry.Point) geometry.Point { return q.Add(g.up.Scale(top - q.Dot(g.up))) }
	upright, err := geometry.Polygon(g.inner, g.outer, crown(g.outer), crown(g.inner))
	if err != nil {
		return err
	}
	s.Members = []Member{
		{Name: "base", Plate: p.Base, Outline: base, Broken: []int{3}, Ways: 1},
		{Name: "upright", Plate: p.Upright, Outline: upright, Broken: []int{2}, Ways: 1},
	}
	return nil
}

func (g cornerShape) measures(p Corner, s *Section) {
	base, upright := &s.Members[0], &s.Members[1]
	box := base.Outline.Bounds()
	s.roomForMeasures(p.extent)
	s.measure(thickness(base, geometry.Point{X: box.Min.X, Y: box.Max.Y}, box.Min, geometry.Point{X: -1}))
	crown := upright.Outline.Edge(2)
	s.measure(thickness(upright, crown.End(), crown.Start(), g.up))

	angle := Measure{Name: "angle", Value: p.Angle.Degrees(), Unit: UnitDegree, Vertex: g.root,
		From: geometry.Point{X: box.Min.X, Y: g.root.Y}, To: g.root.Add(g.up.Scale(g.root.X - box.Min.X)),
		Outward: geometry.Point{X: -1}.Add(g.up).Unit(), Formula: "dihedral angle between base and upright on the inside"}
	if p.Angle != 90*geometry.Degree {
		angle.Draw = DrawAngular
	}
	s.measure(angle)
	if g.covered > 0 {
		s.measure(Measure{Name: "cover", Value: g.covered, Unit: UnitMM, Draw: DrawLinear,
			From: g.inner, To: geometry.Point{X: g.lip.X, Y: g.inner.Y}, Outward: geometry.Point{Y: -1},
			Formula: "length of the upright's end that stands on the base"})
	}
	if p.Gap > 0 {
		out := geometry.Point{X: -1}
		if _, filled := s.Weld(insideID); filled {
			out.X = 1
		}
		s.measure(Measure{Name: "gap", Value: float64(p.Gap), Unit: UnitMM, Draw: DrawLinear,
			From: geometry.Point{X: g.inner.X, Y: g.lip.Y}, To: g.inner, Outward: out,
			Formula: "from the plane of the base's top to the upright's inner edge"})
	}
	s.weldMeasures(p.extent)
}
