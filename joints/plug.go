package joints

import (
	"math"

	"fay/geometry"
)

// Plug are the parameters of a plug or slot weld in the upper member of a lap.
// The section is cut through the middle of the hole, across its width.
type Plug struct {
	Lower, Upper Plate
	// Diameter of the hole, or width of the slot, at the faying surface.
	Diameter geometry.Length
	// SlotLength over the round ends, at the faying surface; zero is a round
	// hole.
	SlotLength geometry.Length
	// Countersink is the total angle by which the hole widens from the faying
	// surface up; zero is a straight hole.
	Countersink geometry.Angle
	// Gap between the members. It is filled under the hole and no wider.
	Gap geometry.Length
	// Arrow is the weld; the zero value fills the hole flush.
	Arrow PlugFill

	extent extent
}

// PlugFill is how far a hole is filled.
type PlugFill struct {
	// Fill is the depth of filling from the faying surface of the upper
	// member; its whole thickness when absent.
	Fill Opt
	// Cap is the rise of the face, an arc when CapShape is empty. The cap of a
	// round hole is a body of revolution of its section.
	Cap      geometry.Length
	CapShape CapShape
	// Fusion is the greatest depth melted into the lower member under the hole
	// and into the wall of the hole in the upper one.
	Fusion [2]geometry.Length
}

// The ranges of plug welds.
var (
	plugRange        = Range{1, 200}
	slotRange        = Range{0, 2000}
	countersinkRange = Range{0, 120 * float64(geometry.Degree)}
)

var plugKind = Kind{
	Name: "plug", Title: "Plug weld",
	Doc:     "a plate welded to the one under it through a round hole or a slot, straight or countersunk",
	Members: []MemberSlot{{"lower", "plate underneath, which lies level"}, {"upper", "plate on top, with the hole"}},
	Params: []Param{
		{Name: "diameter", Type: ParamLength, Needed: true, Limits: plugRange, Usual: Range{6, 20},
			Doc: "diameter of the hole, or width of the slot, at the faying surface"},
		{Name: "slot-length", Type: ParamLength, Default: "0", Limits: slotRange, Usual: Range{20, 60},
			Doc: "length of a slot over its round ends at the faying surface; 0 is a round hole"},
		{Name: "countersink", Type: ParamAngle, Default: "0", Limits: countersinkRange,
			Usual: Range{20 * float64(geometry.Degree), 90 * float64(geometry.Degree)},
			Doc:   "total angle by which the hole widens from the faying surface up; 0 is a straight hole"},
		{Name: "gap", Type: ParamLength, Default: "0", Limits: GapRange, FitUp: true, Usual: Range{0, 1},
			Doc: "distance between the plates"},
	},
	Welds: []WeldSlot{{"arrow", "plug or slot weld, drawn on top", []Param{
		{Name: "fill", Type: ParamLength, Limits: ThicknessRange, Usual: Range{1, 4},
			Doc: "depth of filling from the faying surface of the upper plate; its whole thickness when left out"},
		{Name: "cap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 2},
			Doc: "rise of the face over its chord"},
		{Name: "cap-shape", Type: ParamChoice, Default: string(CapArc), Choices: roundCaps, Doc: "shape of the cap"},
		{Name: "fusion", Type: ParamLengths, Default: "0", Limits: FusionRange, Usual: Range{0, 0.5},
			Doc: "greatest depth melted into the lower plate and into the wall of the hole; 0 claims none"},
	}}},
	Example: "plug lower=6 upper=4 diameter=14 cap=0.5",
	build: func(r *reader) (Section, error) {
		p := Plug{
			Lower: r.plate("lower"), Upper: r.plate("upper"), Diameter: r.length("diameter"),
			SlotLength: r.length("slot-length"), Countersink: r.angle("countersink"), Gap: r.length("gap"), extent: r.extent,
		}
		if w, ok := r.weld("arrow"); ok {
			p.Arrow = PlugFill{Fill: w.optional("fill"), Cap: w.length("cap"),
				CapShape: CapShape(w.value("cap-shape").Choice), Fusion: w.lengths("fusion")}
		}
		return NewPlug(p)
	},
}

// plugShape is the hole as numbers.
type plugShape struct {
	gap, radius, fill, top float64 // top: thickness of the upper member
	straight               float64 // length of a slot between the centres of its ends
	half                   geometry.Angle
}

// wide is half the width of the hole at a height over the faying surface of
// the upper member.
func (g plugShape) wide(height float64) float64 { return g.radius + height*g.half.Tan() }

// wall is the point of the right wall at a height over that surface.
func (g plugShape) wall(height float64) geometry.Point {
	return geometry.Point{X: g.wide(height), Y: g.gap + height}
}

// NewPlug computes the section of a plug or slot weld. The error, if any, is of
// type [Faults].
func NewPlug(p Plug) (Section, error) {
	c := &checker{}
	c.plugValues(&p)
	if !c.ok() {
		return Section{}, c.err()
	}
	g := plugShape{gap: float64(p.Gap), radius: float64(p.Diameter) / 2, fill: float64(p.Upper.Thickness),
		top: float64(p.Upper.Thickness), half: p.Countersink / 2}
	if p.Arrow.Fill.Present {
		g.fill = math.Min(g.top, float64(p.Arrow.Fill.Value))
	}
	if p.SlotLength > 0 {
		g.straight = math.Max(0, float64(p.SlotLength-p.Diameter))
	}
	w, ok := c.plug(g, p)
	if !ok {
		return Section{}, c.err()
	}
	s := Section{Kind: "plug", Title: "Plug weld", Welds: []Weld{w}}
	if g.straight > 0 {
		s.Title = "Slot weld"
	}
	if err := g.members(p, &s); err != nil {
		return Section{}, err
	}
	g.measures(p, &s)
	return s, nil
}

// plugValues checks every value on its own, and those that bound each other.
func (c *checker) plugValues(p *Plug) {
	field := func(s string) string { return "welds.arrow." + s }
	lower, upper := c.plate("lower", p.Lower), c.plate("upper", p.Upper)
	if p.Diameter == 0 {
		c.add(Fault{Code: FaultMissing, Field: "diameter", Rule: "a plug weld needs a hole", Remedy: "give the diameter of the hole, or the width of the slot"})
	} else if c.length("diameter", p.Diameter, plugRange) && c.length("slot-length", p.SlotLength, slotRange) &&
		p.SlotLength > 0 && p.SlotLength < p.Diameter*(1-tiny) {
		c.add(Fault{Code: FaultUnfit, Field: "slot-length", Value: showLength(float64(p.SlotLength)),
			Rule: "is shorter than the slot is wide, " + showLength(float64(p.Diameter)), Remedy: "give the length over the round ends, or leave it out for a round hole"})
	}
	c.angle("countersink", p.Countersink, countersinkRange)
	c.length("gap", p.Gap, GapRange)
	c.roundCap(field, p.Arrow.Cap, &p.Arrow.CapShape)
	if f := p.Arrow.Fill; f.Present && c.lengthOf(field, "fill", f.Value, ThicknessRange) && upper && f.Value > p.Upper.Thickness*(1+tiny) {
		c.add(Fault{Code: FaultFace, Field: field("fill"), Value: showLength(float64(f.Value)),
			Rule: "is deeper than the upper plate is thick, " + showLength(float64(p.Upper.Thickness)), Remedy: "leave it out for flush, and give cap for more"})
	}
	for i := range p.Arrow.Fusion {
		if c.lengthOf(field, "fusion", p.Arrow.Fusion[i], FusionRange) && i == 0 && lower && p.Arrow.Fusion[0] >= p.Lower.Thickness*(1-tiny) {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(float64(p.Arrow.Fusion[0])),
				Rule: "melts through the lower plate, which is " + showLength(float64(p.Lower.Thickness)) + " thick", Remedy: "claim a shallower fusion there"})
		}
	}
}

// plug computes the weld. Its throat is the depth of filling: gap metal and cap
// carry nothing across the faying surface and count in the actual throat only.
func (c *checker) plug(g plugShape, p Plug) (Weld, bool) {
	field := func(s string) string { return "welds.arrow." + s }
	mouth := g.wall(g.fill)
	c.capFits(field("cap"), float64(p.Arrow.Cap), 2*mouth.X, p.Arrow.CapShape)
	corner := g.wall(0)
	into := geometry.Point{X: g.half.Cos(), Y: -g.half.Sin()}
	if deep := float64(p.Arrow.Fusion[1]); 2*deep*g.half.Sin() > g.fill/2*(1+tiny) {
		c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(deep), At: new(corner),
			Rule:   "runs out of the upper plate through its faying surface",
			Remedy: "the deepest fusion of the wall taken here is " + showLength(downTo(g.fill/4/g.half.Sin()))})
	}
	if !c.ok() {
		return Weld{}, false
	}

	foot := geometry.Point{X: g.radius}
	w := Weld{ID: string(ArrowSide), Side: ArrowSide, Kind: PlugWeld, Gap: p.Gap, RootCorner: corner,
		TheoreticalLine: Line{geometry.Point{Y: g.gap}, geometry.Point{Y: mouth.Y}}, TheoreticalThroat: geometry.Length(g.fill)}
	w.EffectiveLine, w.EffectiveThroat = w.TheoreticalLine, w.TheoreticalThroat
	w.capped(p.Arrow.Cap, p.Arrow.CapShape)
	wall := sunk(corner, mouth, into, p.Arrow.Fusion[1])
	side := plain(geometry.Line(foot, corner))
	flip := func(r rim) rim { return rim{r.bare.Transform(mirrorX), r.fused.Transform(mirrorX), r.melts} }
	// Capped on the right of the way: walked from the right toe to the left.
	face := reversed(capEdges(mouth, mirrorX.Apply(mouth), float64(p.Arrow.Cap), p.Arrow.CapShape))
	rims := []rim{wall.reverse(), side.reverse(), sunk(foot, mirrorX.Apply(foot), geometry.Point{Y: -1}, p.Arrow.Fusion[0]), flip(side), flip(wall)}
	if err := w.pour(face, rims, geometry.Translate(geometry.Point{})); err != nil {
		c.add(Fault{Code: FaultGeometry, Field: field("fusion"), Rule: "the weld outline does not close: " + err.Error(), Remedy: "claim less fusion"})
		return Weld{}, false
	}
	w.GrooveArea = (g.radius+mouth.X)*g.fill + 2*g.radius*g.gap
	w.RootWidth = Some(p.Diameter)
	w.ActualLine = shortestOf(w.WeldRoot, w.FaceEdges)
	w.ActualThroat = lengthOf(w.ActualLine)
	for i, toe := range [2]geometry.Point{mirrorX.Apply(mouth), mouth} {
		w.Feet[i] = Foot{Member: 1 + i, Toe: toe, Fusion: p.Arrow.Fusion[1]}
	}
	surface := geometry.Point{X: g.half.Sin(), Y: g.half.Cos()} // up the wall
	if g.fill >= g.top*(1-tiny) {
		surface = geometry.Point{X: 1}
	}
	w.Feet[0].ToeAngle = toeAngle(mirrorX.Apply(surface), face[0].Tangent(0))
	w.Feet[1].ToeAngle = toeAngle(surface, face[len(face)-1].Tangent(1).Scale(-1))
	return w, true
}

// volume is the filler metal of one plug or slot, mm³: the section runs along
// the straight part of a slot, and its two ends make one body of revolution of
// a cylinder in the gap, a cone frustum and the cap.
func (g plugShape) volume(w *Weld) float64 {
	r, mouth, h := g.radius, g.wide(g.fill), float64(w.Convexity)
	ends := math.Pi*r*r*g.gap + math.Pi/3*g.fill*(r*r+r*mouth+mouth*mouth)
	if w.CapShape == CapParabola {
		ends += math.Pi / 2 * mouth * mouth * h
	} else {
		ends += math.Pi / 6 * h * (3*mouth*mouth + h*h)
	}
	return ends + w.DepositedArea*g.straight
}

// faying is the area of the hole at the faying surface, mm².
func (g plugShape) faying() float64 {
	return math.Pi*g.radius*g.radius + 2*g.radius*g.straight
}

// members draws the lower plate and the two cut pieces of the upper one.
func (g plugShape) members(p Plug, s *Section) error {
	tl := float64(p.Lower.Thickness)
	rim := g.wall(g.top)
	far := rim.X + math.Max(1.5*math.Max(tl, g.top), 2*float64(p.Arrow.Fusion[1]))
	lower, err := geometry.Polygon(geometry.Point{X: -far, Y: -tl}, geometry.Point{X: far, Y: -tl}, geometry.Point{X: far}, geometry.Point{X: -far})
	if err != nil {
		return err
	}
	right, err := geometry.Polygon(g.wall(0), geometry.Point{X: far, Y: g.gap}, geometry.Point{X: far, Y: rim.Y}, rim)
	if err != nil {
		return err
	}
	left := right.Transform(mirrorX).CCW()
	s.Members = []Member{
		{Name: "lower", Plate: p.Lower, Outline: lower, Broken: []int{1, 3}, Ways: 2},
		{Name: "upper", Plate: p.Upper, Outline: left, Broken: edgesAt(left, -far), Ways: 1},
		{Name: "upper", Plate: p.Upper, Outline: right, Broken: edgesAt(right, far), Ways: 1},
	}
	return nil
}

func (g plugShape) measures(p Plug, s *Section) {
	w := &s.Welds[0]
	box := s.Members[0].Outline.Bounds()
	right, up := geometry.Point{X: 1}, geometry.Point{Y: 1}
	s.roomForMeasures(p.extent)
	s.measure(thickness(&s.Members[0], geometry.Point{X: box.Max.X}, box.Max.Add(geometry.Point{Y: box.Min.Y}), right))
	s.measure(thickness(&s.Members[2], geometry.Point{X: box.Max.X, Y: g.gap + g.top}, geometry.Point{X: box.Max.X, Y: g.gap}, right))
	mm := func(name, weld string, v float64, from, to, out geometry.Point, draw DrawAs, formula string) {
		s.measure(Measure{Name: name, Weld: weld, Value: v, Unit: UnitMM, From: from, To: to, Outward: out, Draw: draw, Formula: formula})
	}
	foot, corner, mouth := geometry.Point{X: g.radius}, g.wall(0), g.wall(g.fill)
	width := "diameter of the hole at the faying surface"
	if g.straight > 0 {
		width = "width of the slot at the faying surface"
	}
	mm("diameter", "", 2*g.radius, mirrorX.Apply(corner), corner, up, DrawLinear, width)
	if g.straight > 0 {
		mm("slot length", "", g.straight+2*g.radius, geometry.Point{}, geometry.Point{}, geometry.Point{}, NotDrawn, "over the round ends at the faying surface, along the weld axis")
	}
	if g.half > 0 {
		apex := geometry.Point{Y: g.gap - g.radius/g.half.Tan()}
		s.measure(Measure{Name: "countersink", Value: p.Countersink.Degrees(), Unit: UnitDegree, Draw: DrawAngular,
			Vertex: apex, From: g.wall(g.top), To: mirrorX.Apply(g.wall(g.top)), Outward: up, Formula: "total angle between the walls of the hole"})
		mm("mouth", "", 2*g.wide(g.top), mirrorX.Apply(g.wall(g.top)), g.wall(g.top), up, NotDrawn, "diameter of the hole at the upper surface")
	}
	if g.gap > 0 {
		mm("gap", "", g.gap, geometry.Point{X: box.Min.X}, geometry.Point{X: box.Min.X, Y: g.gap}, geometry.Point{X: -1}, DrawLinear, "separation of the members")
	}
	fill := NotDrawn
	if g.fill < g.top*(1-tiny) {
		fill = DrawLinear // a flush fill is the thickness, which is dimensioned
	}
	mm("fill", w.ID, g.fill, mirrorX.Apply(corner), geometry.Point{X: -corner.X, Y: mouth.Y}, geometry.Point{X: -1}, fill, "depth of filling from the faying surface of the upper member")
	line := func(name string, v geometry.Length, l Line, formula string) {
		mm(name, w.ID, float64(v), l.From, l.To, geometry.Point{}, NotDrawn, formula)
	}
	line("theoretical throat", w.TheoreticalThroat, w.TheoreticalLine, "depth of filling: gap and cap not counted")
	line("effective throat", w.EffectiveThroat, w.EffectiveLine, "depth of filling: gap and cap not counted")
	line("actual throat", w.ActualThroat, w.ActualLine, "shortest distance from the lower member's surface, in the middle of the hole, to the real face")
	line("cap width", w.CapWidth.Value, Line{w.Feet[0].Toe, w.Feet[1].Toe}, "toe to toe")
	if w.CapHeight.Present {
		crown := geometry.Point{Y: mouth.Y + float64(w.CapHeight.Value)}
		line("cap height", w.CapHeight.Value, Line{geometry.Point{Y: mouth.Y}, crown}, "rise of the face over the toe-to-toe chord, "+string(w.CapShape))
	}
	s.toeAngleMeasures(w)
	s.measure(Measure{Name: "faying area", Weld: w.ID, Value: g.faying(), Unit: UnitMM2, From: mirrorX.Apply(foot), To: foot,
		Formula: "area of the hole or slot at the faying surface, which the weld shears over"})
	s.measure(Measure{Name: "groove area", Weld: w.ID, Value: w.GrooveArea, Unit: UnitMM2, From: w.Centroid, To: w.Centroid, Formula: "section of the hole and the gap under it up to the depth of filling"})
	s.measure(Measure{Name: "plug volume", Weld: w.ID, Value: g.volume(w), Unit: UnitMM3, From: w.Centroid, To: w.Centroid,
		Formula: "filler metal of one plug or slot: gap, filled hole and cap, round ends as bodies of revolution"})
	s.areaMeasures(w)
	s.weldMeasures(p.extent)
}
