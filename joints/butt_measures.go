package joints

import (
	"math"

	"fay/geometry"
)

func buttMeasures(p Butt, l buttLevels, arrow, other grooveSide, s *Section) {
	s.roomForMeasures(p.extent)
	boxes := [2]geometry.Box{s.Members[0].Outline.Bounds(), s.Members[1].Outline.Bounds()}
	s.measure(thickness(&s.Members[0], geometry.Point{X: boxes[0].Min.X, Y: l.top[0]}, geometry.Point{X: boxes[0].Min.X, Y: l.bottom[0]}, geometry.Point{X: -1}))
	s.measure(thickness(&s.Members[1], geometry.Point{X: boxes[1].Max.X, Y: l.top[1]}, geometry.Point{X: boxes[1].Max.X, Y: l.bottom[1]}, geometry.Point{X: 1}))
	x0 := float64(p.RootOpening) / 2
	mm := func(name string, v float64, from, to, out geometry.Point, draw DrawAs, formula string) {
		s.measure(Measure{Name: name, Value: v, Unit: UnitMM, From: from, To: to, Outward: out, Draw: draw, Formula: formula})
	}
	down := geometry.Point{Y: -1}
	if x0 > 0 {
		mm("root opening", 2*x0, geometry.Point{X: -x0, Y: l.other}, geometry.Point{X: x0, Y: l.other}, down, DrawLinear, "separation of the members at the joint root")
	}
	if f := l.arrow - l.other; f > 0 && p.Prep != PrepSquare {
		mm("root face", f, geometry.Point{X: -x0, Y: l.other}, geometry.Point{X: -x0, Y: l.arrow}, geometry.Point{X: -1}, DrawLinear, "unbevelled part of the edge at the root")
	}
	if p.HiLo != 0 {
		mm("hi-lo", math.Abs(float64(p.HiLo)), geometry.Point{X: -x0, Y: l.bottom[0]}, geometry.Point{X: x0, Y: l.bottom[0] + float64(p.HiLo)}, geometry.Point{X: 1}, NotDrawn, "offset of the members' surfaces from the alignment asked for")
	}
	s.flankMeasures(p.Prep, "", arrow, 1)
	if p.Prep.double() {
		s.flankMeasures(p.Prep, "other ", other, -1)
	}
	s.transitionMeasures(arrow, 1)
	s.transitionMeasures(other, -1)
	s.weldMeasures(p.extent)
}

// flankMeasures dimensions one side of a preparation. up is +1 for the arrow
// side and -1 for the other one, which hangs upside down.
func (s *Section) flankMeasures(prep Prep, prefix string, g grooveSide, up float64) {
	if prep == PrepSquare {
		return
	}
	turn := func(p geometry.Point) geometry.Point { return geometry.Point{X: p.X, Y: up * p.Y} }
	l, r := g.halves[0], g.halves[1]
	rimL, rimR := turn(mirrorX.Apply(g.rim(0))), turn(g.rim(1))
	// Where the bevels, prolonged, meet or leave the root.
	foot := func(h half, sign float64) geometry.Point {
		dx, dv := h.bend()
		return turn(geometry.Point{X: sign * (h.x0 + dx), Y: h.v0 + dv})
	}
	switch total := l.angle + r.angle; {
	case l.angle > 0 && r.angle > 0:
		// The vertex of both bevel lines.
		a, b := foot(l, -1), foot(r, 1)
		da, db := rimL.Sub(a), rimR.Sub(b)
		draw := DrawAngular
		if math.Abs(float64(l.angle-r.angle)) > tiny {
			// The total does not tell how to cut either edge.
			draw = NotDrawn
			s.edgeAngle(prefix, 0, l.angle, a, rimL)
			s.edgeAngle(prefix, 1, r.angle, b, rimR)
		}
		if den := da.Cross(db); math.Abs(den) > tiny {
			v := a.Add(da.Scale(b.Sub(a).Cross(db) / den))
			s.measure(Measure{Name: prefix + "groove angle", Value: total.Degrees(), Unit: UnitDegree, Draw: draw,
				Vertex: v, From: rimR, To: rimL, Formula: "total angle between the groove faces"})
		}
	case total > 0:
		h, rim, sign := r, rimR, 1.0
		if l.angle > 0 {
			h, rim, sign = l, rimL, -1
		}
		v := foot(h, sign)
		upright := geometry.Point{X: v.X, Y: rim.Y}
		s.measure(Measure{Name: prefix + "bevel angle", Value: total.Degrees(), Unit: UnitDegree, Draw: DrawAngular,
			Vertex: v, From: rim, To: upright, Formula: "prepared edge against a square edge"})
	}
	for i, h := range g.halves {
		if h.radius == 0 {
			continue
		}
		sign := float64(2*i - 1)
		centre := turn(geometry.Point{X: sign * h.x0, Y: h.v0 + h.radius})
		mid := geometry.Angle(math.Pi/2) - (geometry.Angle(math.Pi/2)-h.angle)/2
		on := centre.Add(geometry.Point{X: sign * h.radius * mid.Cos(), Y: -up * h.radius * mid.Sin()})
		s.measure(Measure{Name: prefix + "root radius", Member: s.Members[i].Name, Value: h.radius, Unit: UnitMM, Draw: DrawRadius,
			Vertex: centre, From: centre, To: on, Formula: "radius at the root of the groove"})
		if i == 0 && g.halves[1].radius == h.radius {
			break
		}
	}
	if depth := l.hi - l.v0; depth > 0 {
		side := rimL
		s.measure(Measure{Name: prefix + "depth", Value: depth, Unit: UnitMM, Draw: DrawLinear,
			From: turn(geometry.Point{X: -l.x0, Y: l.v0}), To: side, Outward: geometry.Point{X: -1}, Formula: "depth of the preparation from the common surface"})
	}
}

// transitionMeasures dimensions the step between unequal faces and the taper
// that takes it up.
func (s *Section) transitionMeasures(g grooveSide, up float64) {
	for i, h := range g.halves {
		step := h.top - h.hi
		if step <= tiny*h.hi {
			continue
		}
		sign := float64(2*i - 1)
		x := h.edge()
		s.measure(Measure{Name: "step", Member: s.Members[i].Name, Value: step, Unit: UnitMM,
			From: geometry.Point{X: sign * x, Y: up * h.hi}, To: geometry.Point{X: sign * x, Y: up * h.top},
			Outward: geometry.Point{X: sign}, Formula: "height by which the thicker member stands over the thinner"})
		if h.slope > 0 {
			from := geometry.Point{X: sign * (x + h.lap), Y: up * h.hi}
			s.measure(Measure{Name: "transition length", Member: s.Members[i].Name, Value: h.slope * step, Unit: UnitMM, Draw: DrawLinear,
				From: from, To: geometry.Point{X: sign * h.run(), Y: up * h.top}, Outward: geometry.Point{Y: up}, Formula: "run of the taper: slope · step"})
		}
	}
}

func (s *Section) grooveMeasures(w *Weld) {
	mm := func(name string, v geometry.Length, l Line, formula string) {
		s.measure(Measure{Name: name, Weld: w.ID, Value: float64(v), Unit: UnitMM, From: l.From, To: l.To, Formula: formula})
	}
	s.legMeasures(w)
	mm("theoretical throat", w.TheoreticalThroat, w.TheoreticalLine, "from the joint root to the common surface")
	mm("effective throat", w.EffectiveThroat, w.EffectiveLine, "from the weld root to the common surface: reinforcement not counted")
	mm("actual throat", w.ActualThroat, w.ActualLine, "shortest distance from the weld root to the real face")
	toes := Line{w.Feet[0].Toe, w.Feet[1].Toe}
	mm("face width", w.FaceWidth, toes, "toe to toe")
	if w.CapHeight.Present {
		chord := geometry.Line(toes.From, toes.To)
		mid := chord.At(0.5)
		n := chord.Tangent(0.5).Perp()
		if n.Dot(mid.Sub(w.JointRoot)) < 0 {
			n = n.Scale(-1)
		}
		mm("cap height", w.CapHeight.Value, Line{mid, mid.Add(n.Scale(float64(w.CapHeight.Value)))}, "rise of the face over the toe-to-toe chord, "+string(w.CapShape))
	}
	if w.RootWidth.Present {
		mm("root width", w.RootWidth.Value, Line{w.WeldRoot, w.WeldRoot}, "width of the weld at the root")
	}
	if w.RootHeight.Present {
		mm("root height", w.RootHeight.Value, Line{w.WeldRoot, w.WeldRoot.Add(geometry.Point{Y: -float64(w.RootHeight.Value)})}, "rise of the root reinforcement")
	}
	s.toeAngleMeasures(w)
	s.measure(Measure{Name: "groove area", Weld: w.ID, Value: w.GrooveArea, Unit: UnitMM2, From: w.Centroid, To: w.Centroid, Formula: "opening to be filled up to the common surface"})
	s.areaMeasures(w)
}

// edgeAngle dimensions one of two unlike bevels against a square edge.
func (s *Section) edgeAngle(prefix string, member int, angle geometry.Angle, foot, rim geometry.Point) {
	s.measure(Measure{Name: prefix + "edge angle", Member: s.Members[member].Name, Value: angle.Degrees(), Unit: UnitDegree, Draw: DrawAngular,
		Vertex: foot, From: rim, To: geometry.Point{X: foot.X, Y: rim.Y}, Formula: "prepared edge of this member against a square edge"})
}
