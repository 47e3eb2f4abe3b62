package joints

import (
	"math"

	"fay/geometry"
)

// Joggle says which plate of a lap is offset, so that the outer faces are flush
// beyond the overlap.
type Joggle string

// The joggles of a lap joint.
const (
	JoggleNone  Joggle = "none"
	JoggleUpper Joggle = "upper"
	JoggleLower Joggle = "lower"
)

// joggleRange bounds the length of a joggle's ramp; zero is a square step.
var joggleRange = Range{0, 500}

// Notch are the parameters of a weld that fills the notch between the edge of
// one plate and the joggle of the other, flush with both.
type Notch struct {
	// Cap is the rise of the face, an arc when CapShape is empty.
	Cap      geometry.Length
	CapShape CapShape
	// Fusion is the greatest depth melted into the joggle's ramp and into the
	// edge of the other plate.
	Fusion [2]geometry.Length
}

var notchParams = []Param{
	{Name: "cap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 1}, Doc: "rise of the face over its chord"},
	{Name: "cap-shape", Type: ParamChoice, Default: string(CapArc), Choices: roundCaps, Doc: "shape of the cap"},
	{Name: "fusion", Type: ParamLengths, Default: "0", Limits: FusionRange, Usual: Range{0, 0.8},
		Doc: "greatest depth melted into the joggle's ramp and into the other plate's edge; 0 claims none"},
}

// withJoggle makes a parameter depend on the joggle.
var withJoggle = &With{Choice: "joggle", Values: []string{string(JoggleUpper), string(JoggleLower)}}

// notch reads the notch weld, or nil where the input has none.
func (r *reader) notch(id string) *Notch {
	w, ok := r.weld(id)
	if !ok {
		return nil
	}
	return &Notch{Cap: w.length("cap"), CapShape: CapShape(w.value("cap-shape").Choice), Fusion: w.lengths("fusion")}
}

// joggleShape is a joggled plate in the frame of a joggled lower plate: the
// overlap to the left of the origin, the ramp going up at the right of it. The
// other plate's edge is the y axis.
type joggleShape struct {
	opening float64 // from the edge to the foot of the ramp
	length  float64 // run of the ramp
	offset  float64 // rise of the ramp: the other plate's thickness and the gap
	gap     float64
	place   geometry.Transform
	member  [2]int // joggled plate, other plate
	name    [2]string
	depth   [2]float64 // metal behind the ramp and behind the edge
}

func (j joggleShape) foot() geometry.Point { return geometry.Point{X: j.opening} }
func (j joggleShape) head() geometry.Point {
	return geometry.Point{X: j.opening + j.length, Y: j.offset}
}

// joggleOf lays out the joggle of a lap. A joggled upper plate is the same
// thing turned half round.
func joggleOf(p Lap) joggleShape {
	tl, tu, gap := float64(p.Lower.Thickness), float64(p.Upper.Thickness), float64(p.Gap)
	j := joggleShape{opening: float64(p.RootOpening), gap: gap, offset: tu + gap, place: geometry.Translate(geometry.Point{}),
		member: [2]int{0, 1}, name: [2]string{"lower", "upper"}, depth: [2]float64{tl, float64(p.Overlap)}}
	if p.Joggle == JoggleUpper {
		j.offset, j.member, j.name, j.depth[0] = tl+gap, [2]int{1, 0}, [2]string{"upper", "lower"}, tu
		j.place = geometry.Scale(-1).Then(geometry.Translate(geometry.Point{X: -float64(p.Overlap), Y: gap}))
	}
	j.length = j.offset
	if p.JoggleLength.Present {
		j.length = float64(p.JoggleLength.Value)
	}
	return j
}

// joggleValues checks what a joggled lap takes and which welds it has room for.
func (c *checker) joggleValues(p *Lap) {
	if p.Joggle == "" {
		p.Joggle = JoggleNone
	}
	if !c.oneOf("joggle", string(p.Joggle), string(JoggleNone), string(JoggleUpper), string(JoggleLower)) {
		return
	}
	c.length("root-opening", p.RootOpening, OpeningRange)
	if p.JoggleLength.Present {
		c.length("joggle-length", p.JoggleLength.Value, joggleRange)
	}
	conflict := func(field, rule, remedy string) {
		c.add(Fault{Code: FaultConflict, Field: field, Rule: rule, Remedy: remedy})
	}
	switch {
	case p.Joggle == JoggleNone:
		if p.Notch != nil {
			conflict("welds.notch", "a lap without a joggle has no notch to fill", "give joggle=lower or joggle=upper, or use welds.arrow")
		}
		if p.RootOpening != 0 {
			conflict("root-opening", "a lap without a joggle has no root opening", "give joggle=lower or joggle=upper, or leave it out")
		}
		if p.JoggleLength.Present {
			conflict("joggle-length", "a lap without a joggle has no ramp", "give joggle=lower or joggle=upper, or leave it out")
		}
	case p.Joggle == JoggleLower && p.Arrow != nil:
		conflict("welds.arrow", "the upper plate's edge stands in the joggle of the lower one, where a fillet has no room", "use welds.notch for it")
	case p.Joggle == JoggleUpper && p.Other != nil:
		conflict("welds.other", "the lower plate's edge stands in the joggle of the upper one, where a fillet has no room", "use welds.notch for it")
	}
}

// notch computes the weld that fills the notch at a joggle. Its throat is the
// height of the other plate's edge: metal in the gap under it counts in the
// theoretical throat only.
func (c *checker) notch(j joggleShape, side Side, p Notch) (Weld, bool) {
	before := len(c.faults)
	field := func(s string) string { return "welds.notch." + s }
	c.roundCap(field, p.Cap, &p.CapShape)
	for i := range p.Fusion {
		if c.lengthOf(field, "fusion", p.Fusion[i], FusionRange) && float64(p.Fusion[i]) >= j.depth[i]*(1-tiny) {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(float64(p.Fusion[i])),
				Rule: "melts through the " + j.name[i] + " plate, which is " + showLength(j.depth[i]) + " deep here", Remedy: "keep it under " + showLength(downTo(j.depth[i]))})
		}
	}
	foot, head := j.foot(), j.head()
	corner, top := geometry.Point{Y: j.gap}, geometry.Point{Y: j.offset}
	if head.X <= geometry.Coincident {
		c.add(Fault{Code: FaultGeometry, Field: "joggle-length", Value: showLength(j.length),
			Rule: "leaves no notch to fill: the step stands against the edge", Remedy: "give joggle-length or root-opening"})
	} else if len(c.faults) == before {
		c.capFits(field("cap"), float64(p.Cap), head.X, p.CapShape)
	}
	if len(c.faults) > before {
		return Weld{}, false
	}

	w := Weld{ID: "notch", Side: side, Kind: GrooveWeld, Gap: geometry.Length(j.opening)}
	w.capped(p.Cap, p.CapShape)
	face := capEdges(head, top, float64(p.Cap), p.CapShape)
	down := head.Sub(foot).Unit().Perp().Scale(-1)
	rims := []rim{
		sunk(top, corner, geometry.Point{X: -1}, p.Fusion[1]),
		plain(geometry.Line(corner, geometry.Point{})),
		plain(geometry.Line(geometry.Point{}, foot)),
		sunk(foot, head, down, p.Fusion[0]),
	}
	if err := w.pour(face, rims, j.place); err != nil {
		c.add(Fault{Code: FaultGeometry, Field: field("fusion"), Rule: "the weld outline does not close: " + err.Error(), Remedy: "claim less fusion"})
		return Weld{}, false
	}
	w.GrooveArea = j.offset * (j.opening + j.length/2)
	if j.opening > 0 {
		w.RootWidth = Some(geometry.Length(j.opening))
	}
	for i, toe := range [2]geometry.Point{head, top} {
		w.Feet[i] = Foot{Member: j.member[i], Toe: j.place.Apply(toe), Fusion: p.Fusion[i]}
	}
	w.Feet[0].ToeAngle = toeAngle(geometry.Point{X: 1}, face[0].Tangent(0))
	w.Feet[1].ToeAngle = toeAngle(geometry.Point{X: -1}, face[len(face)-1].Tangent(1).Scale(-1))
	w.JointRoot, w.RootCorner = j.place.Apply(geometry.Point{}), j.place.Apply(corner)
	w.WeldRoot = w.RootCorner
	w.TheoreticalLine = Line{w.JointRoot, w.Feet[1].Toe}
	w.EffectiveLine = Line{w.WeldRoot, w.Feet[1].Toe}
	w.TheoreticalThroat, w.EffectiveThroat = geometry.Length(j.offset), geometry.Length(j.offset-j.gap)
	w.ActualLine = shortestOf(w.WeldRoot, w.FaceEdges)
	w.ActualThroat = lengthOf(w.ActualLine)
	return w, true
}

// outline draws the joggled plate of the thickness from its end at the left to
// reach beyond the ramp; the edge that goes on has index 3. The ramp is as
// thick as the plate, so that its corners underneath are mitred.
func (j joggleShape) outline(end, thickness, reach float64) (geometry.Outline, error) {
	foot, head := j.foot(), j.head()
	rise := math.Atan2(j.offset, j.length)
	below := geometry.Point{X: thickness * math.Tan(rise/2), Y: -thickness}
	far := math.Max(head.X, head.X+below.X) + reach
	o, err := geometry.Polygon(
		geometry.Point{X: end, Y: -thickness}, foot.Add(below), head.Add(below),
		geometry.Point{X: far, Y: j.offset - thickness}, geometry.Point{X: far, Y: j.offset},
		head, foot, geometry.Point{X: end})
	return o.Transform(j.place), err
}

// joggleMeasures dimensions the joggle.
func (s *Section) joggleMeasures(j joggleShape) {
	out := j.place.Apply(geometry.Point{Y: 1}).Sub(j.place.Apply(geometry.Point{}))
	member := s.memberName(j.member[0])
	if j.opening > 0 {
		s.measure(Measure{Name: "root opening", Value: j.opening, Unit: UnitMM, Draw: DrawLinear, Outward: out,
			From: j.place.Apply(geometry.Point{}), To: j.place.Apply(j.foot()), Formula: "from the other plate's edge to the foot of the joggle"})
	}
	s.measure(Measure{Name: "joggle length", Value: j.length, Unit: UnitMM, Draw: DrawLinear, Outward: out,
		From: j.place.Apply(geometry.Point{X: j.opening, Y: j.offset}), To: j.place.Apply(j.head()), Formula: "run of the joggle's ramp along the plate"})
	s.measure(Measure{Name: "joggle offset", Member: member, Value: j.offset, Unit: UnitMM,
		From: j.place.Apply(geometry.Point{X: j.opening + j.length}), To: j.place.Apply(j.head()), Formula: "rise of the joggle: the other plate's thickness and the gap"})
}
