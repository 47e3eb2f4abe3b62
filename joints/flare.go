package joints

import (
	"math"

	"fay/geometry"
)

// RoundSection is how a member comes by its round surface.
type RoundSection string

// The round members: a solid bar, whose thickness is its diameter, and a sheet
// or a tube corner bent through a quarter turn.
const (
	RoundBar  RoundSection = "bar"
	RoundBent RoundSection = "bent"
)

// bentRadii is the outer radius of a bend in sheet thicknesses where none is
// given (common practice, no source).
const bentRadii = 2

// flareRadiusRange bounds the outer radius of a bend.
var flareRadiusRange = Range{0.2, 300}

// Round is a member with a round surface.
type Round struct {
	Plate
	Section RoundSection // bar when empty
	// Radius is the outer radius of a bent sheet; twice its thickness when
	// absent. A bar has half its thickness.
	Radius Opt
}

// Flare are the parameters of a flare-groove weld.
type Flare struct {
	// Fill is how far the weld face stands from the line of contact, measured
	// out of the flare; flush when absent: at the tangent point of the round,
	// or the lower crest of two.
	Fill Opt
	// RootWidth and Throat say, one or the other, that the weld does not reach
	// the contact: its root lies where the flare is RootWidth open, or Throat
	// under the face. Zero claims a weld down to the contact.
	RootWidth, Throat geometry.Length
	// Cap is the rise of the face over its chord, an arc when CapShape is empty.
	Cap      geometry.Length
	CapShape CapShape
	// CapLap is how far the toe on a flat member lies beyond the fill.
	CapLap geometry.Length
	// Fusion is the greatest depth melted into each member.
	Fusion [2]geometry.Length
}

// flareSide is the surface of one member in the frame of a flare: u out of the
// flare from the line of contact, v into the member.
type flareSide struct {
	name   string
	radius float64 // 0 flat
	off    float64 // distance of the surface from the middle of the root opening
	depth  float64 // metal behind the surface
}

// run is the v of the surface at u. The square root is kept out of the
// difference, which would lose digits near the contact.
func (f flareSide) run(u float64) float64 {
	if f.radius == 0 {
		return f.off
	}
	return f.off + u*u/(f.radius+math.Sqrt(math.Max(0, f.radius*f.radius-u*u)))
}

func (f flareSide) at(u float64) geometry.Point { return geometry.Point{X: u, Y: f.run(u)} }

// surface is the direction in which the member's surface leaves the flare at u.
func (f flareSide) surface(u float64) geometry.Point {
	if f.radius == 0 {
		return geometry.Point{X: 1}
	}
	return geometry.Point{X: math.Sqrt(math.Max(0, f.radius*f.radius-u*u)), Y: u}.Unit()
}

// rim is the surface from u0 to u1 with a fusion line depth under its middle. On
// a round that is an arc through the same ends, flatter or bent the other way.
func (f flareSide) rim(u0, u1 float64, depth geometry.Length) rim {
	a, b := f.at(u0), f.at(u1)
	if f.radius == 0 {
		return sunk(a, b, geometry.Point{Y: 1}, depth)
	}
	bare := geometry.ArcCentre(a, b, geometry.Point{Y: f.off + f.radius}, true)
	return rim{bare, geometry.Arc(a, b, bare.Sagitta()-float64(depth)), depth > 0}
}

// flare is the opening between two members of which one at least is round.
// Side 0 is mirrored about the u axis.
type flare struct {
	sides [2]flareSide
	flush float64               // fill that is flush
	place [2]geometry.Transform // of the arrow side and the other side into the section
}

var mirrorY = geometry.MirrorY()

// width is the opening at u.
func (f flare) width(u float64) float64 { return f.sides[0].run(u) + f.sides[1].run(u) }

// middle is the point half way between the members at u.
func (f flare) middle(u float64) geometry.Point {
	return geometry.Point{X: u, Y: (f.sides[1].run(u) - f.sides[0].run(u)) / 2}
}

// openAt is the u at which the flare is the given width open, 0 where it is
// wider than that at the contact already. With p and q the distances of the
// chords from the centres, p + q = R₁ + R₂ − c and p² − q² = R₁² − R₂².
func (f flare) openAt(width float64) float64 {
	c := width - f.sides[0].off - f.sides[1].off
	if c <= 0 {
		return 0
	}
	r, q := f.sides[1].radius, f.sides[0].radius
	if r == 0 {
		r, q = q, r
	}
	fall := c // of the round surface from the contact to that chord
	if q > 0 {
		fall = c * (2*q - c) / (2 * (r + q - c))
	}
	return math.Sqrt(math.Max(0, fall*(2*r-fall)))
}

// flareValues checks the numbers of a flare weld and finds where it ends at
// the face and at the root.
func (c *checker) flareValues(field func(string) string, f flare, p *Flare) (fill, root float64) {
	before := len(c.faults)
	c.roundCap(field, p.Cap, &p.CapShape)
	c.lengthOf(field, "cap-lap", p.CapLap, RiseRange)
	c.lengthOf(field, "root-width", p.RootWidth, OpeningRange)
	for i := range p.Fusion {
		c.lengthOf(field, "fusion", p.Fusion[i], FusionRange)
	}
	fill = f.flush
	if p.Fill.Present && c.lengthOf(field, "fill", p.Fill.Value, LegRange) {
		fill = float64(p.Fill.Value)
	}
	if p.Throat != 0 {
		c.lengthOf(field, "throat", p.Throat, LegRange)
	}
	if p.Throat != 0 && p.RootWidth != 0 {
		c.add(Fault{Code: FaultConflict, Field: field("root-width"), Value: showLength(float64(p.RootWidth)),
			Rule: "root-width and throat both say where the root lies", Remedy: "keep one of them"})
	}
	if len(c.faults) > before {
		return 0, 0
	}
	if fill > f.flush*(1+tiny) {
		c.add(Fault{Code: FaultFace, Field: field("fill"), Value: showLength(fill),
			Rule: "stands out of the flare, which is " + showLength(f.flush) + " deep", Remedy: "leave it out for flush, and give cap for more"})
		return 0, 0
	}
	fill = math.Min(fill, f.flush)
	root = f.openAt(float64(p.RootWidth))
	switch {
	case float64(p.RootWidth) >= f.width(fill)*(1-tiny):
		c.add(Fault{Code: FaultUnfit, Field: field("root-width"), Value: showLength(float64(p.RootWidth)),
			Rule: "is wider than the flare at the weld face, " + showLength(f.width(fill)), Remedy: "keep it under that, or fill the flare higher"})
	case float64(p.Throat) > fill*(1+tiny):
		c.add(Fault{Code: FaultUnfit, Field: field("throat"), Value: showLength(float64(p.Throat)),
			Rule: "is more than the flare is filled, " + showLength(fill), Remedy: "the largest throat here is " + showLength(downTo(fill))})
	case p.Throat != 0:
		root = math.Max(0, fill-float64(p.Throat))
	}
	return fill, root
}

// flare computes a flare-groove weld.
func (c *checker) flare(id string, side Side, f flare, p Flare) (Weld, bool) {
	before := len(c.faults)
	field := func(s string) string { return "welds." + id + "." + s }
	fill, root := c.flareValues(field, f, &p)
	if len(c.faults) > before {
		return Weld{}, false
	}
	for i, s := range f.sides {
		if float64(p.Fusion[i]) >= s.depth*(1-tiny) {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(float64(p.Fusion[i])),
				Rule: "melts through the " + s.name + ", which is " + showLength(s.depth) + " thick", Remedy: "keep it under " + showLength(downTo(s.depth))})
		}
	}

	ends := [2]float64{fill, fill}
	toes := [2]geometry.Point{}
	for i, s := range f.sides {
		if s.radius == 0 {
			ends[i] += float64(p.CapLap)
		}
		toes[i] = s.at(ends[i])
	}
	toes[0] = mirrorY.Apply(toes[0])
	chord := toes[1].Sub(toes[0])
	surface := [2]geometry.Point{mirrorY.Apply(f.sides[0].surface(ends[0])), f.sides[1].surface(ends[1])}
	c.capFits(field("cap"), float64(p.Cap), chord.Norm(), p.CapShape,
		toeAngle(surface[0], chord), toeAngle(surface[1], chord.Scale(-1)))
	if len(c.faults) > before {
		return Weld{}, false
	}

	place := f.place[0]
	if side == OtherSide {
		place = f.place[1]
	}
	face := capEdges(toes[0], toes[1], float64(p.Cap), p.CapShape)
	one, two := f.sides[0].rim(root, ends[0], p.Fusion[0]), f.sides[1].rim(root, ends[1], p.Fusion[1])
	w := Weld{ID: id, Side: side, Kind: GrooveWeld, Gap: geometry.Length(f.width(0))}
	w.capped(p.Cap, p.CapShape)
	rims := []rim{two.reverse(), plain(geometry.Line(two.bare.Start(), mirrorY.Apply(one.bare.Start()))), one.mirror()}
	if err := w.pour(face, rims, place); err != nil {
		c.add(Fault{Code: FaultGeometry, Field: field("fill"), Rule: "the weld outline does not close: " + err.Error(),
			Remedy: "fill the flare higher or claim less fusion"})
		return Weld{}, false
	}
	w.GrooveArea = f.area(fill)
	for i := range w.Feet {
		w.Feet[i] = Foot{Member: i, Toe: place.Apply(toes[i]), Fusion: p.Fusion[i]}
	}
	w.Feet[0].ToeAngle = toeAngle(surface[0], face[0].Tangent(0))
	w.Feet[1].ToeAngle = toeAngle(surface[1], face[len(face)-1].Tangent(1).Scale(-1))
	if open := f.width(root); open > geometry.Coincident {
		w.RootWidth = Some(geometry.Length(open))
	}
	w.flareThroats(f, fill, root, place)
	for i, r := range [2]rim{one, two} {
		if r.fused.Bounds().Min.X < root-geometry.Coincident {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(float64(p.Fusion[i])), At: new(w.WeldRoot),
				Rule: "melts the " + f.sides[i].name + " deeper than the weld root", Remedy: "claim a shallower fusion there"})
			return Weld{}, false
		}
	}
	return w, true
}

// reverse walks a rim the other way.
func (r rim) reverse() rim { return rim{r.bare.Reverse(), r.fused.Reverse(), r.melts} }

// mirror puts the rim of side 0 in the frame of the flare.
func (r rim) mirror() rim {
	return rim{r.bare.Transform(mirrorY), r.fused.Transform(mirrorY), r.melts}
}

// area is the opening from the contact to a fill.
func (f flare) area(fill float64) float64 {
	one, two := f.sides[0].rim(0, fill, 0).mirror().bare, f.sides[1].rim(0, fill, 0).bare
	return geometry.Area(one, geometry.Line(one.End(), two.End()), two.Reverse(), geometry.Line(two.Start(), one.Start()))
}

// flareThroats measures along the flare: from the contact, and from the root
// that is claimed, to the fill. Cap and cap lap add nothing to them.
func (w *Weld) flareThroats(f flare, fill, root float64, place geometry.Transform) {
	level := func(from geometry.Point) Line {
		return Line{place.Apply(from), place.Apply(geometry.Point{X: fill, Y: from.Y})}
	}
	w.TheoreticalLine, w.EffectiveLine = level(f.middle(0)), level(f.middle(root))
	w.JointRoot, w.WeldRoot = w.TheoreticalLine.From, w.EffectiveLine.From
	w.RootCorner = w.WeldRoot
	w.TheoreticalThroat, w.EffectiveThroat = geometry.Length(fill), geometry.Length(fill-root)
	w.ActualLine = shortestOf(w.WeldRoot, w.FaceEdges)
	w.ActualThroat = lengthOf(w.ActualLine)
}

// round checks a round member and settles its radius.
func (c *checker) round(name, prefix string, r *Round) flareSide {
	out := flareSide{name: name}
	if r.Section == "" {
		r.Section = RoundBar
	}
	ok := c.plate(name, r.Plate)
	if !c.oneOf(prefix+"section", string(r.Section), string(RoundBar), string(RoundBent)) || !ok {
		return out
	}
	t := r.Thickness
	out.depth, out.radius = float64(t), float64(t)/2
	if r.Section == RoundBar {
		if r.Radius.Present {
			c.add(Fault{Code: FaultConflict, Field: prefix + "radius", Value: showLength(float64(r.Radius.Value)),
				Rule: "the thickness of a bar is its diameter, which gives the radius", Remedy: "leave it out, or give " + prefix + "section=bent"})
		}
		return out
	}
	if !r.Radius.Present {
		r.Radius = Some(bentRadii * t)
	}
	if c.length(prefix+"radius", r.Radius.Value, flareRadiusRange) && r.Radius.Value < t*(1-tiny) {
		c.add(Fault{Code: FaultUnfit, Field: prefix + "radius", Value: showLength(float64(r.Radius.Value)),
			Rule: "the outer radius of a bend holds its thickness, " + showLength(float64(t)), Remedy: "give the outer radius: inner radius and thickness together"})
	}
	out.radius = float64(r.Radius.Value)
	return out
}

// roundMember draws a round member in the frame of its side. The legs of a
// bent sheet go on by reach: one along the line of contact, away from the
// flare, and one from the tangent point on.
func roundMember(name string, r Round, s flareSide, reach float64, place geometry.Transform) (Member, error) {
	m := Member{Name: name, Plate: r.Plate, Ways: 1}
	var edges, broken []geometry.Edge
	if r.Section == RoundBar {
		low, high := geometry.Point{Y: s.off}, geometry.Point{Y: s.off + 2*s.radius}
		edges = []geometry.Edge{geometry.Arc(low, high, s.radius), geometry.Arc(high, low, s.radius)}
	} else {
		m.Ways = 2
		t, inner := float64(r.Thickness), s.radius-float64(r.Thickness)
		far, top, centre := -reach, s.off+s.radius+reach, geometry.Point{Y: s.off + s.radius}
		p := func(u, v float64) geometry.Point { return geometry.Point{X: u, Y: v} }
		edges = append(edges, geometry.Line(p(far, s.off), p(0, s.off)),
			geometry.ArcCentre(p(0, s.off), p(s.radius, centre.Y), centre, true),
			geometry.Line(p(s.radius, centre.Y), p(s.radius, top)))
		broken = append(broken, geometry.Line(p(s.radius, top), p(s.radius-t, top)), geometry.Line(p(far, s.off+t), p(far, s.off)))
		edges = append(edges, broken[0])
		if inner > geometry.Coincident {
			edges = append(edges, geometry.Line(p(inner, top), p(inner, centre.Y)),
				geometry.ArcCentre(p(inner, centre.Y), p(0, s.off+t), centre, false),
				geometry.Line(p(0, s.off+t), p(far, s.off+t)))
		} else {
			edges = append(edges, geometry.Line(p(s.radius-t, top), p(0, s.off+t)), geometry.Line(p(0, s.off+t), p(far, s.off+t)))
		}
		edges = append(edges, broken[1])
	}
	o, err := geometry.NewOutline(edges...)
	if err != nil {
		return m, err
	}
	m.Outline = o.Transform(place).CCW()
	m.Broken = edgesLike(m.Outline, mapEdges(broken, place)...)
	return m, nil
}

// roundMeasures dimensions a round member: a bar by its diameter, a bent sheet
// by thickness and outer radius.
func (s *Section) roundMeasures(m *Member, r Round, f flareSide, place geometry.Transform) {
	centre := geometry.Point{Y: f.off + f.radius}
	turn := func(p geometry.Point) geometry.Point { return place.Apply(p).Sub(place.Apply(geometry.Point{})) }
	// Half way round the bend, where the weld does not hide it.
	on := centre.Add(geometry.Polar(f.radius, -45*geometry.Degree))
	radius := Measure{Name: "radius", Member: m.Name, Value: f.radius, Unit: UnitMM, Vertex: place.Apply(centre),
		From: place.Apply(centre), To: place.Apply(on), Formula: "radius of the round surface"}
	if r.Section == RoundBar {
		across := thickness(m, place.Apply(geometry.Point{Y: f.off + 2*f.radius}), place.Apply(geometry.Point{Y: f.off}), turn(geometry.Point{X: -1}))
		across.Formula = "diameter of the bar"
		s.measure(across)
		s.measure(radius)
		return
	}
	radius.Draw = DrawRadius
	end := m.Outline.Edge(m.Broken[0])
	for _, i := range m.Broken {
		if e := m.Outline.Edge(i); turn(geometry.Point{Y: 1}).Dot(e.At(0.5).Sub(end.At(0.5))) > 0 {
			end = e
		}
	}
	s.measure(thickness(m, end.Start(), end.End(), turn(geometry.Point{Y: 1})))
	s.measure(radius)
}

// flareMeasures dimensions the root opening and what each weld fills.
func (s *Section) flareMeasures(f flare, across geometry.Point) {
	if open := f.width(0); open > 0 {
		root := geometry.Line(mirrorY.Apply(f.sides[0].at(0)), f.sides[1].at(0)).Transform(f.place[0])
		out := geometry.Point{} // between two welds the drawing finds the place
		if len(s.Welds) == 1 {
			out = s.Welds[0].JointRoot.Sub(s.Welds[0].TheoreticalLine.To).Unit()
		}
		s.measure(Measure{Name: "root opening", Value: open, Unit: UnitMM, Draw: DrawLinear, From: root.Start(), To: root.End(),
			Outward: out, Formula: "separation of the members on the line of contact"})
	}
	for i := range s.Welds {
		w := &s.Welds[i]
		if unfilled := w.TheoreticalThroat - w.EffectiveThroat; unfilled > 0 {
			// Level with the joint root, so that both dimensions are parallel.
			foot := w.JointRoot.Lerp(w.TheoreticalLine.To, float64(unfilled/w.TheoreticalThroat))
			s.measure(Measure{Name: "unfilled", Weld: w.ID, Value: float64(unfilled), Unit: UnitMM, Draw: DrawLinear,
				From: w.JointRoot, To: foot, Outward: across, Formula: "from the line of contact to the weld root: not counted as filled"})
		}
		s.measure(Measure{Name: "fill", Weld: w.ID, Value: float64(w.TheoreticalThroat), Unit: UnitMM, Draw: DrawLinear,
			From: w.JointRoot, To: w.TheoreticalLine.To, Outward: across, Formula: "from the line of contact to the weld face, cap not counted"})
	}
}

// flareParams are the parameters of every flare weld.
var flareParams = []Param{
	{Name: "fill", Type: ParamLength, Limits: LegRange, Usual: Range{0.5, 3},
		Doc: "how far the face stands from the line of contact, out of the flare; flush when left out"},
	{Name: "root-width", Type: ParamLength, Group: "root", Limits: OpeningRange, Usual: Range{0, 0.5},
		Doc: "width of the flare at the weld root; the narrower part stays unfilled; 0 fills down to the contact"},
	{Name: "throat", Type: ParamLength, Group: "root", Limits: LegRange, Usual: Range{0.5, 2},
		Doc: "effective throat claimed, instead of root-width: the root lies that far under the face"},
	{Name: "cap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 0.6},
		Doc: "rise of the face over the toe-to-toe chord"},
	{Name: "cap-shape", Type: ParamChoice, Default: string(CapArc), Choices: roundCaps, Doc: "shape of the cap"},
	{Name: "fusion", Type: ParamLengths, Default: "0", Limits: FusionRange, Usual: Range{0, 0.5},
		Doc: "greatest depth melted into each member; 0 claims none"},
}

// flare reads the flare weld of a slot, or nil where the input has none.
func (r *reader) flare(id string) *Flare {
	w, ok := r.weld(id)
	if !ok {
		return nil
	}
	p := &Flare{
		Fill: w.optional("fill"), RootWidth: w.length("root-width"), Throat: w.length("throat"),
		Cap: w.length("cap"), CapShape: CapShape(w.value("cap-shape").Choice), Fusion: w.lengths("fusion"),
	}
	if v, given := w.values["throat"]; given && v.Number == 0 {
		r.faults = append(r.faults, Fault{Code: FaultRange, Field: "welds." + id + ".throat", Value: v.Text,
			Rule: "must be larger than zero", Remedy: "leave it out for a weld down to the contact"})
	}
	if _, has := w.slot.Param("cap-lap"); has {
		p.CapLap = w.length("cap-lap")
	}
	return p
}

// round reads a round member.
func (r *reader) round(name, prefix string) Round {
	return Round{Plate: r.plate(name), Section: RoundSection(r.choice(prefix + "section")), Radius: r.optional(prefix + "radius")}
}

// optional is a length that means something even when it is zero.
func (r *reader) optional(name string) Opt {
	if r.given(name) {
		return Some(r.length(name))
	}
	return Opt{}
}

// roundParams describe the round member that the prefix belongs to.
func roundParams(prefix, name string) []Param {
	return []Param{
		{Name: prefix + "section", Type: ParamChoice, Default: string(RoundBar), Choices: []string{string(RoundBar), string(RoundBent)},
			Doc: "the " + name + " member is a solid bar, its thickness the diameter, or a bent sheet"},
		{Name: prefix + "radius", Type: ParamLength, With: &With{prefix + "section", []string{string(RoundBent)}}, Limits: flareRadiusRange, Usual: Range{8, 25},
			Doc: "outer radius of the bent sheet; twice its thickness when left out"},
	}
}
