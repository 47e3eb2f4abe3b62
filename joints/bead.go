package joints

import (
	"math"
	"slices"

	"fay/geometry"
)

// penetrationNeeded is the size an edge weld can have: under the lower end no
// macro section tells it from none.
var penetrationNeeded = Range{0.05, FusionRange.Max}

// bead is the seam between two members with flush surfaces, over which an edge
// weld is laid: in its frame member 0 lies at −x, member 1 at +x, the surfaces
// at y = 0, and the faying surfaces go straight down at ∓gap/2.
type bead struct {
	member  [2]int
	name    [2]string
	gap     float64
	room    [2]float64 // of each surface from the seam to the member's square outer edge; +Inf where it runs on
	contact float64    // of the faying surfaces
	depth   [2]float64 // of metal under each surface
	place   geometry.Transform
}

// beadSize says how large an edge weld is. Zero legs cover the whole surface.
type beadSize struct {
	legs        [2]geometry.Length
	cap         geometry.Length
	capShape    CapShape
	capField    string
	penetration geometry.Length
	fusion      [2]geometry.Length
}

// bead computes an edge weld without a groove. Its size is the penetration:
// the throat runs from the weld root to the level of the surfaces. The metal
// fused into each member reaches from the toe to the weld root, in a straight
// line or, where a fusion depth is claimed, in a parabola of that depth midway.
func (c *checker) bead(field func(string) string, k bead, p beadSize) (Weld, bool) {
	if !c.beadValues(field, k, &p) {
		return Weld{}, false
	}
	pen := float64(p.penetration)
	half := k.gap / 2
	var toe, corner, root [2]geometry.Point
	var melt [2]geometry.Edge
	for i, sign := range [2]float64{-1, 1} {
		corner[i] = geometry.Point{X: sign * half}
		toe[i] = geometry.Point{X: sign * (half + float64(p.legs[i]))}
		root[i] = geometry.Point{X: sign * half, Y: -pen}
		depth := float64(p.fusion[i])
		if depth == 0 {
			depth = pen / 2
		} else if depth < pen/4 {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(depth),
				Rule:   "is too shallow for the penetration, which alone melts deeper into the " + k.name[i],
				Remedy: "leave it out or give at least " + showLength(upTo(pen/4))})
			return Weld{}, false
		}
		melt[i] = bowl(toe[i], root[i], geometry.Point{Y: -1}, depth, pen)
		if low := -least(melt[i], geometry.Point{}, geometry.Point{Y: 1}); low > k.depth[i]*(1+tiny) {
			low = math.Max(depth, low)
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(depth), At: new(k.place.Apply(root[i])),
				Rule:   "melts " + showLength(low) + " deep, through the " + k.name[i] + ", which is " + showLength(k.depth[i]) + " deep here",
				Remedy: "claim a shallower fusion there"})
			return Weld{}, false
		}
	}

	w := Weld{Kind: EdgeWeld, Dihedral: geometry.Angle(math.Pi), Gap: geometry.Length(k.gap),
		Face: FaceFlat, Convexity: p.cap, Penetration: p.penetration, CapShape: p.capShape}
	face := capEdges(toe[1], toe[0], float64(p.cap), p.capShape)
	chain := append([]geometry.Edge{}, face...)
	chain = append(chain, melt[0])
	chain = appendLine(chain, root[0], root[1])
	chain = append(chain, melt[1].Reverse())
	profile, err := geometry.NewOutline(chain...)
	if err != nil {
		c.add(Fault{Code: FaultGeometry, Field: field("penetration"), Rule: "the weld outline does not close: " + err.Error(),
			Remedy: "change the sizes of the weld", At: new(k.place.Apply(root[0]))})
		return Weld{}, false
	}
	w.Profile = profile.Transform(k.place).CCW()
	w.Area, w.Centroid = w.Profile.Area(), w.Profile.Centroid()
	w.DepositedArea = geometry.Area(append(slices.Clip(face), geometry.Line(toe[0], toe[1]))...) + k.gap*pen
	for i := range melt {
		w.MeltedBaseArea += math.Abs(geometry.Area(melt[i], geometry.Line(root[i], corner[i]), geometry.Line(corner[i], toe[i])))
		w.FusionLine = append(w.FusionLine, melt[i].Transform(k.place))
	}
	w.FaceEdges = reversed(mapEdges(face, k.place))
	w.FaceWidth = geometry.Length(toe[0].Dist(toe[1]))
	w.CapWidth = Some(w.FaceWidth)
	if p.cap > 0 {
		w.Face, w.CapHeight = FaceConvex, Some(p.cap)
	}
	for i, leaving := range [2]geometry.Point{face[len(face)-1].Tangent(1).Scale(-1), face[0].Tangent(0)} {
		f := &w.Feet[i]
		*f = Foot{Member: k.member[i], Toe: k.place.Apply(toe[i]), Leg: p.legs[i], OnEdge: true, Fusion: p.fusion[i],
			ToeAngle: toeAngle(toe[i].Sub(corner[i]), leaving)}
		f.bounded(k.room[i])
	}
	w.JointRoot = k.place.Apply(geometry.Point{})
	w.RootCorner = w.JointRoot
	w.WeldRoot = k.place.Apply(geometry.Point{Y: -pen})
	w.EffectiveLine = Line{w.WeldRoot, w.JointRoot}
	w.TheoreticalLine = w.EffectiveLine
	w.EffectiveThroat, w.TheoreticalThroat = p.penetration, p.penetration
	w.ActualLine = shortestOf(w.WeldRoot, w.FaceEdges)
	w.ActualThroat = lengthOf(w.ActualLine)
	return w, true
}

// bounded settles what is left of a surface that ends in a square edge room
// from the seam. At a toe on that edge the member turns a quarter away.
func (f *Foot) bounded(room float64) {
	if math.IsInf(room, 1) {
		return
	}
	left := room - float64(f.Leg)
	if left <= tiny*room {
		left = 0
		f.ToeAngle += 90 * geometry.Degree
	}
	f.EdgeRemaining = Some(geometry.Length(left))
}

// beadValues checks the numbers of an edge weld and settles its legs and the
// cap shape.
func (c *checker) beadValues(field func(string) string, k bead, p *beadSize) bool {
	before := len(c.faults)
	whole := p.legs == [2]geometry.Length{}
	for i := range p.legs {
		if whole {
			p.legs[i] = geometry.Length(k.room[i])
		} else if c.lengthOf(field, "leg", p.legs[i], LegRange) && float64(p.legs[i]) > k.room[i]*(1+tiny) {
			c.add(Fault{Code: FaultLeg, Field: field("leg"), Value: showLength(float64(p.legs[i])),
				Rule:   "runs past the outer edge of the " + k.name[i] + ", " + showLength(k.room[i]) + " from the seam",
				Remedy: "the largest there is " + showLength(downTo(k.room[i]))})
		}
		c.lengthOf(field, "fusion", p.fusion[i], FusionRange)
	}
	c.lengthOf(field, p.capField, p.cap, RiseRange)
	if p.capShape == "" {
		p.capShape = CapArc
	}
	c.oneOf(field("cap-shape"), string(p.capShape), string(CapArc), string(CapParabola), string(CapFlat))
	if p.penetration == 0 {
		c.add(Fault{Code: FaultMissing, Field: field("penetration"),
			Rule: "is the size of an edge weld, from the surface down to the weld root", Remedy: "give the depth melted down between the members, such as penetration=1"})
	} else if c.lengthOf(field, "penetration", p.penetration, penetrationNeeded) && float64(p.penetration) > k.contact*(1+tiny) {
		c.add(Fault{Code: FaultFusion, Field: field("penetration"), Value: showLength(float64(p.penetration)),
			Rule:   "reaches past the end of the faying surface, " + showLength(k.contact) + " deep",
			Remedy: "the largest penetration here is " + showLength(downTo(k.contact))})
	}
	if len(c.faults) > before {
		return false
	}
	if width := k.gap + float64(p.legs[0]+p.legs[1]); float64(p.cap) > width/2 {
		c.add(Fault{Code: FaultFace, Field: field(p.capField), Value: showLength(float64(p.cap)),
			Rule:   "is higher than half the width of the weld face, " + showLength(width),
			Remedy: "the highest cap taken here is " + showLength(downTo(width/2))})
		return false
	}
	return true
}

func (s *Section) edgeMeasures(w *Weld) {
	mm := func(name string, v geometry.Length, l Line, out geometry.Point, draw DrawAs, formula string) {
		s.measure(Measure{Name: name, Weld: w.ID, Value: float64(v), Unit: UnitMM, From: l.From, To: l.To, Outward: out, Draw: draw, Formula: formula})
	}
	chord := w.Feet[1].Toe.Sub(w.Feet[0].Toe).Unit()
	up := chord.Perp()
	if up.Dot(w.EffectiveLine.To.Sub(w.EffectiveLine.From)) < 0 {
		up = up.Scale(-1)
	}
	for i := range w.Feet {
		f := &w.Feet[i]
		along := chord.Scale(float64(2*i - 1))
		s.measure(Measure{Name: "leg", Weld: w.ID, Member: s.memberName(f.Member), Value: float64(f.Leg), Unit: UnitMM,
			From: f.Toe.Sub(along.Scale(float64(f.Leg))), To: f.Toe, Outward: up, Draw: DrawLinear,
			Formula: "along the member's edge from the faying surface to the toe"})
		if f.EdgeRemaining.Present {
			draw := NotDrawn
			if f.EdgeRemaining.Value > 0 {
				draw = DrawLinear
			}
			s.measure(Measure{Name: "edge remaining", Weld: w.ID, Member: s.memberName(f.Member), Value: float64(f.EdgeRemaining.Value), Unit: UnitMM,
				From: f.Toe, To: f.Toe.Add(along.Scale(float64(f.EdgeRemaining.Value))), Outward: up, Draw: draw, Formula: "from the toe to the member's edge"})
		}
	}
	none := geometry.Point{}
	mm("theoretical throat", w.TheoreticalThroat, w.TheoreticalLine, none, NotDrawn, "from the root of the weld as asked for to the surface")
	mm("effective throat", w.EffectiveThroat, w.EffectiveLine, chord, DrawLinear, "from the weld root to the level of the surface: the cap is not counted")
	mm("actual throat", w.ActualThroat, w.ActualLine, none, NotDrawn, "shortest distance from the weld root to the real face")
	toes := Line{w.Feet[0].Toe, w.Feet[1].Toe}
	mm("face width", w.FaceWidth, toes, none, NotDrawn, "toe to toe")
	if w.CapHeight.Present {
		mid := toes.From.Lerp(toes.To, 0.5)
		mm("cap height", w.CapHeight.Value, Line{mid, mid.Add(up.Scale(float64(w.CapHeight.Value)))}, none, NotDrawn, "rise of the face over the toe-to-toe chord, "+string(w.CapShape))
	}
	s.toeAngleMeasures(w)
	if w.Penetration > 0 {
		mm("penetration", w.Penetration, Line{w.JointRoot, w.WeldRoot}, none, NotDrawn, "beyond the joint root between the members")
	}
	if w.GrooveArea > 0 {
		s.measure(Measure{Name: "groove area", Weld: w.ID, Value: w.GrooveArea, Unit: UnitMM2, From: w.Centroid, To: w.Centroid, Formula: "opening to be filled up to the common surface"})
	}
	s.areaMeasures(w)
}
