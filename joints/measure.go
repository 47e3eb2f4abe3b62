package joints

import (
	"fay/geometry"
)

// measuresOf is about how many measures a joint with so many welds has.
func measuresOf(welds int, e extent) int {
	if e != everything {
		return 8
	}
	return 8 + 16*welds
}

func (s *Section) roomForMeasures(e extent) {
	s.Measures = make([]Measure, 0, measuresOf(len(s.Welds), e))
}

func (s *Section) measure(m Measure) { s.Measures = append(s.Measures, m) }

// thickness measures a plate between two points of its faces.
func thickness(m *Member, from, to, outward geometry.Point) Measure {
	return Measure{Name: "thickness", Member: m.Name, Value: float64(m.Thickness), Unit: UnitMM, Draw: DrawLinear,
		From: from, To: to, Outward: outward, Formula: "plate thickness as given"}
}

// gapMeasure measures the gap at a nook, square to its continuous surface.
// The value is the smallest separation, which a square end of a skewed stem
// has on the acute side only.
func (s *Section) gapMeasure(name string, k nook) {
	if k.gap == 0 {
		return
	}
	corner := k.apex.Add(k.along[1].Scale(k.corner))
	foot := corner.Add(k.inward(0).Scale(k.gap))
	s.measure(Measure{Name: name, Value: k.gap, Unit: UnitMM, Draw: DrawLinear,
		From: foot, To: corner, Outward: k.along[0],
		Formula: "separation of the members at the joint root, square to the continuous surface"})
}

// wedgeMeasure measures how far the corner of a square-cut stem stands off the
// base on the obtuse side.
func (s *Section) wedgeMeasure(k nook) {
	corner := k.apex.Add(k.along[1].Scale(k.corner))
	foot := corner.Add(k.inward(0).Scale(k.gap))
	s.measure(Measure{Name: "wedge gap", Value: k.gap, Unit: UnitMM, Draw: DrawLinear,
		From: foot, To: corner, Outward: k.along[0],
		Formula: "gap + stem thickness · |cos ψ|: the corner on the obtuse side stands off the base"})
}

// weldMeasures lists everything measured on the welds.
func (s *Section) weldMeasures(e extent) {
	if e != everything {
		return
	}
	for i := range s.Welds {
		w := &s.Welds[i]
		switch w.Kind {
		case FilletWeld:
			s.filletMeasures(w)
		case GrooveWeld:
			s.grooveMeasures(w)
		case EdgeWeld:
			s.edgeMeasures(w)
		}
	}
	s.totals()
}

// totals lists the areas of the whole joint.
func (s *Section) totals() {
	s.measure(Measure{Name: "weld area", Value: s.WeldArea(), Unit: UnitMM2, Formula: "fused area of all welds"})
	s.measure(Measure{Name: "deposited area", Value: s.DepositedArea(), Unit: UnitMM2, Formula: "filler area of all welds"})
	if !s.NeutralLevel.Present || s.WeldArea() == 0 {
		return
	}
	var c geometry.Point
	for i := range s.Welds {
		c = c.Add(s.Welds[i].Centroid.Scale(s.Welds[i].Area / s.WeldArea()))
	}
	level := float64(s.NeutralLevel.Value)
	s.measure(Measure{Name: "lever", Value: c.Y - level, Unit: UnitMM, From: geometry.Point{X: c.X, Y: level}, To: c,
		Formula: "weld-metal centroid above the neutral level, mid-thickness of the members at the joint"})
}

func (s *Section) filletMeasures(w *Weld) {
	mm := func(name string, v geometry.Length, l Line, draw DrawAs, formula string) {
		s.measure(Measure{Name: name, Weld: w.ID, Value: float64(v), Unit: UnitMM,
			From: l.From, To: l.To, Draw: draw, Formula: formula})
	}
	s.legMeasures(w)
	mm("theoretical throat", w.TheoreticalThroat, w.TheoreticalLine, NotDrawn, "height from the joint root of the largest triangle that fits in the weld")
	mm("effective throat", w.EffectiveThroat, w.EffectiveLine, DrawLinear, "shortest distance from the weld root to the diagrammatic face: gap counted, convexity not")
	mm("actual throat", w.ActualThroat, w.ActualLine, NotDrawn, "shortest distance from the weld root, penetration included, to the real face")
	mm("face width", w.FaceWidth, Line{w.Feet[0].Toe, w.Feet[1].Toe}, NotDrawn, "toe to toe")
	s.toeAngleMeasures(w)
	if w.Convexity != 0 {
		name, v := "convexity", w.Convexity
		if v < 0 {
			name, v = "concavity", -v
		}
		chord := geometry.Line(w.Feet[0].Toe, w.Feet[1].Toe)
		mm(name, v, Line{chord.At(0.5), w.FaceEdges[0].At(0.5)}, NotDrawn, "mid-face departure from the toe-to-toe chord")
	}
	if w.Penetration > 0 {
		mm("penetration", w.Penetration, Line{w.RootCorner, w.WeldRoot}, NotDrawn, "beyond the joint root along the faying surface")
	}
	for i := range w.Feet {
		f := &w.Feet[i]
		if !f.EdgeRemaining.Present {
			continue
		}
		along := f.Toe.Sub(w.JointRoot).Unit()
		draw := NotDrawn
		if f.EdgeRemaining.Value > 0 {
			draw = DrawLinear
		}
		// Stacked beside the leg on the same edge.
		out := w.Feet[1-i].Toe.Sub(w.JointRoot).Unit()
		s.measure(Measure{Name: "edge remaining", Weld: w.ID, Member: s.memberName(f.Member), Value: float64(f.EdgeRemaining.Value), Unit: UnitMM,
			From: f.Toe, To: f.Toe.Add(along.Scale(float64(f.EdgeRemaining.Value))), Outward: out, Draw: draw,
			Formula: "from the toe to the member's edge"})
	}
	s.areaMeasures(w)
}

// legMeasures lists legs and gauge legs; a weld without legs has none.
func (s *Section) legMeasures(w *Weld) {
	if w.Feet[0].Leg == 0 {
		return
	}
	for i := range w.Feet {
		f := &w.Feet[i]
		// The dimension line of a leg lies on the weld's side of its surface.
		out := w.Feet[1-i].Toe.Sub(w.JointRoot)
		surface := f.Toe.Sub(w.JointRoot).Unit()
		out = out.Sub(surface.Scale(out.Dot(surface))).Unit()
		s.measure(Measure{Name: "leg", Weld: w.ID, Member: s.memberName(f.Member), Value: float64(f.Leg), Unit: UnitMM,
			From: w.JointRoot, To: w.JointRoot.Add(surface.Scale(float64(f.Leg))), Outward: out, Draw: DrawLinear,
			Formula: "along the member surface from the intersection of the two surfaces to the toe"})
	}
	for i := range w.Feet {
		f := &w.Feet[i]
		surface := w.Feet[1-i].Toe.Sub(w.JointRoot).Unit()
		foot := w.JointRoot.Add(surface.Scale(f.Toe.Sub(w.JointRoot).Dot(surface)))
		s.measure(Measure{Name: "gauge leg", Weld: w.ID, Member: s.memberName(f.Member), Value: float64(f.GaugeLeg), Unit: UnitMM,
			From: foot, To: f.Toe, Formula: "from the toe square to the other member's surface: leg · sin ψ"})
	}
}

func (s *Section) toeAngleMeasures(w *Weld) {
	for i := range w.Feet {
		f := &w.Feet[i]
		s.measure(Measure{Name: "toe angle", Weld: w.ID, Member: s.memberName(f.Member), Value: f.ToeAngle.Degrees(), Unit: UnitDegree,
			From: f.Toe, To: f.Toe, Vertex: f.Toe, Formula: "between the member surface beyond the toe and the weld face"})
	}
}

func (s *Section) areaMeasures(w *Weld) {
	s.measure(Measure{Name: "area", Weld: w.ID, Value: w.Area, Unit: UnitMM2, From: w.Centroid, To: w.Centroid, Formula: "fused metal: deposited and melted base metal"})
	s.measure(Measure{Name: "deposited area", Weld: w.ID, Value: w.DepositedArea, Unit: UnitMM2, From: w.Centroid, To: w.Centroid, Formula: "filler metal"})
	if w.MeltedBaseArea > 0 {
		s.measure(Measure{Name: "melted base area", Weld: w.ID, Value: w.MeltedBaseArea, Unit: UnitMM2, From: w.Centroid, To: w.Centroid, Formula: "base metal inside the fusion line"})
	}
}

// memberName serves the measures, which are taken after the members stand.
func (s *Section) memberName(i int) string { return s.Members[i].Name }
