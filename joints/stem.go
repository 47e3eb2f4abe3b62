package joints

import (
	"fmt"
	"math"

	"fay/geometry"
)

// StemBevel is the preparation of one side of a stem's end. Zero angle and
// radius take the usual ones; zero depth leaves it to the root face.
type StemBevel struct {
	Angle  geometry.Angle  // from the square-cut end
	Radius geometry.Length // root radius of a J
	Depth  geometry.Length // from the stem's face, square to it
}

// stemPreps maps the words of a joint file to preparations: on a stem the
// single ones need no adjective.
var stemPreps = map[string]Prep{
	"none": PrepSquare, "bevel": PrepSingleBevel, "double-bevel": PrepDoubleBevel, "j": PrepSingleJ, "double-j": PrepDoubleJ,
}

// stemCut is a settled preparation of one side of a stem.
type stemCut struct {
	half
	depth float64 // 0: not prepared on this side
	full  bool    // the weld penetrates the stem
	vr    float64 // level down to which the weld fills, from the root of the preparation
}

// stemValues checks the preparation's values on their own.
func (c *checker) stemValues(p *Tee) {
	if p.Prep == "" {
		p.Prep = PrepSquare
	}
	c.oneOf("prep", string(p.Prep), string(PrepSquare), string(PrepSingleBevel), string(PrepDoubleBevel), string(PrepSingleJ), string(PrepDoubleJ))
	c.length("root-face", p.RootFace, ThicknessRange.fromZero())
	for i, b := range [2]*StemBevel{&p.ArrowBevel, &p.OtherBevel} {
		field := func(name string) string { return [2]string{"", "other-"}[i] + name }
		c.angleOf(field, "bevel-angle", b.Angle, bevelRange)
		c.lengthOf(field, "root-radius", b.Radius, radiusRange)
		c.lengthOf(field, "depth", b.Depth, ThicknessRange.fromZero())
		if b.Angle == 0 {
			b.Angle = degreesPerBevel * geometry.Degree
			if p.Prep.curved() {
				b.Angle = degreesPerJ * geometry.Degree
			}
		}
	}
	if p.Prep == PrepSquare {
		return
	}
	if p.StemEnd == StemFitted && p.Angle != 90*geometry.Degree {
		c.add(Fault{Code: FaultConflict, Field: "stem-end", Value: string(p.StemEnd),
			Rule: "a preparation is measured from a square-cut end", Remedy: "give stem-end=square; the skew then shows in the bevel"})
	}
	if p.Arrow == nil {
		c.add(Fault{Code: FaultMissing, Field: "welds.arrow", Rule: "the arrow side of the stem is prepared",
			Remedy: "give welds.arrow, if only with penetration: 0"})
	}
	if p.Prep.double() && p.Other == nil {
		c.add(Fault{Code: FaultMissing, Field: "welds.other", Rule: "a double preparation is welded from both sides",
			Remedy: "give welds.other, or a single preparation"})
	}
}

// stemCuts settles the depths of both sides.
func (c *checker) stemCuts(p Tee) [2]stemCut {
	var cuts [2]stemCut
	if p.Prep == PrepSquare {
		return cuts
	}
	t, f := float64(p.Stem.Thickness), float64(p.RootFace)
	da, do := float64(p.ArrowBevel.Depth), float64(p.OtherBevel.Depth)
	full := true
	if !p.Prep.double() {
		switch {
		case da > 0 && f > 0 && math.Abs(t-da-f) > tiny*t:
			c.add(Fault{Code: FaultConflict, Field: "root-face", Value: showLength(f),
				Rule:   fmt.Sprintf("does not agree with depth: %s of %s leaves %s", showLength(da), showLength(t), showLength(t-da)),
				Remedy: "give depth for a partial weld or root-face for a full one"})
			return cuts
		case da > 0:
			full = t-da <= tiny*t
		default:
			da = t - f
		}
	} else {
		switch {
		case da > 0 && do > 0:
			full = t-da-do <= tiny*t || f > 0
		case da > 0:
			do = t - f - da
		case do > 0:
			da = t - f - do
		default:
			da, do = (t-f)/2, (t-f)/2
		}
		if do <= 0 {
			da = -1
		}
	}
	if da <= 0 || da+do > t*(1+tiny) {
		field, v := "depth", float64(p.ArrowBevel.Depth)
		if p.ArrowBevel.Depth == 0 {
			field, v = "root-face", f
		}
		c.add(Fault{Code: FaultUnfit, Field: field, Value: showLength(v),
			Rule: "leaves no room for the preparation in a stem of " + showLength(t), Remedy: "keep depths and root face together under " + showLength(downTo(t))})
		return cuts
	}
	radius := func(prefix string, b StemBevel, d float64) float64 {
		if !p.Prep.curved() {
			return 0
		}
		h := half{radius: float64(b.Radius), angle: b.Angle}
		if b.Radius == 0 {
			h.radius = h.usualRadius(defaultJRadius, d)
		}
		if _, dv := h.bend(); dv > d*(1+tiny) {
			c.add(Fault{Code: FaultUnfit, Field: prefix + "root-radius", Value: showLength(h.radius),
				Rule:   "is larger than the groove, which is " + showLength(d) + " deep",
				Remedy: "the largest radius here is " + showLength(downTo(d/(1-h.angle.Sin())))})
		}
		return h.radius
	}
	cuts[0] = stemCut{half: half{hi: da, top: da, angle: p.ArrowBevel.Angle, radius: radius("", p.ArrowBevel, da)}, depth: da, full: full}
	if full {
		cuts[0].vr = -(t - da - do)
	}
	if do > 0 {
		cuts[1] = stemCut{half: half{hi: do, top: do, angle: p.OtherBevel.Angle, radius: radius("other-", p.OtherBevel, do)}, depth: do, full: full}
	}
	return cuts
}

// onto maps the frame of a cut, x away from the stem's end and v from the root
// of the preparation out to the stem's face, into the section plane.
func (s stemCut) onto(k nook) geometry.Transform {
	corner := k.apex.Add(k.along[1].Scale(k.corner))
	root := corner.Add(k.faying.Scale(s.depth))
	// The frame's x axis goes along the stem; mirrored, its v axis then points
	// out through the face on whichever side the nook lies.
	t := geometry.Rotate(geometry.Angle(math.Atan2(k.along[1].Y, k.along[1].X)), geometry.Point{})
	if k.along[1].Perp().Dot(k.faying) > 0 {
		t = geometry.MirrorY().Then(t)
	}
	return t.Then(geometry.Translate(root))
}

// edge is the prepared edge from the root of the preparation to the face;
// empty where the side is not prepared.
func (s stemCut) edge(k nook) []geometry.Edge {
	if s.depth == 0 {
		return nil
	}
	return mapEdges(s.profile(), s.onto(k))
}

func start(edges []geometry.Edge, k nook) geometry.Point {
	if len(edges) == 0 {
		return k.apex.Add(k.along[1].Scale(k.corner))
	}
	return edges[0].Start()
}

func end(edges []geometry.Edge, k nook) geometry.Point {
	if len(edges) == 0 {
		return k.apex.Add(k.along[1].Scale(k.corner))
	}
	return edges[len(edges)-1].End()
}

// stemGroove computes a groove weld between a prepared stem and its base, with
// a reinforcing fillet where a size is given, flush with the stem's face where
// none is.
func (c *checker) stemGroove(id string, side Side, k nook, cut stemCut, p Fillet) (Weld, bool) {
	field := func(s string) string { return "welds." + id + "." + s }
	before := len(c.faults)
	flush := p.Legs == [2]geometry.Length{} && p.Throat == 0 && p.GaugeLegs == [2]geometry.Length{}
	if p.Throat != 0 {
		c.add(Fault{Code: FaultConflict, Field: field("throat"), Value: showLength(float64(p.Throat)),
			Rule: "the throat of a prepared tee follows from its preparation", Remedy: "give depth, and leg for the reinforcing fillet"})
	}
	c.lengthOf(field, "penetration", p.Penetration, FusionRange)
	for i := range p.Fusion {
		c.lengthOf(field, "fusion", p.Fusion[i], FusionRange)
		if f := float64(p.Fusion[i]); f >= k.depth[i]*(1-tiny) {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(f),
				Rule: "melts through the " + k.name[i], Remedy: "keep it under " + showLength(downTo(k.depth[i]))})
		}
	}
	if cut.full && p.Penetration > 0 {
		c.add(Fault{Code: FaultConflict, Field: field("penetration"), Value: showLength(float64(p.Penetration)),
			Rule: "the weld penetrates the stem already", Remedy: "leave it out, or give depth for a partial weld"})
	}
	if pen := float64(p.Penetration); pen >= (k.contact-cut.depth)*(1+tiny) && pen > 0 {
		c.add(Fault{Code: FaultFusion, Field: field("penetration"), Value: showLength(pen),
			Rule:   "reaches past the root face, " + showLength(k.contact-cut.depth) + " deep",
			Remedy: "the largest penetration here is " + showLength(downTo(k.contact-cut.depth))})
	}
	w := Weld{ID: id, Side: side, Kind: GrooveWeld, Dihedral: k.psi, Gap: geometry.Length(k.gap),
		Face: FaceFlat, Penetration: p.Penetration, Proven: p.Proven, JointRoot: k.apex}
	rim := k.corner + cut.half.edge() // where the bevel meets the stem's face, from the joint root
	if flush {
		if p.Rise != 0 || (p.Face != "" && p.Face != FaceFlat) {
			c.add(Fault{Code: FaultConflict, Field: field("face"), Value: string(p.Face),
				Rule: "a groove without a reinforcing fillet is flush with the stem", Remedy: "give leg for the fillet, or leave face and rise out"})
		}
		w.Feet[0] = Foot{Member: k.member[0], Toe: k.apex, ToeAngle: geometry.Angle(math.Pi) - k.psi, Fusion: p.Fusion[0]}
	} else {
		legs, ok := c.filletLegs(field, k, p)
		rise := c.filletRise(field, p)
		if !ok || len(c.faults) > before {
			return Weld{}, false
		}
		w.Face, w.Convexity = faceOf(p), geometry.Length(rise)
		free := k
		free.corner = 0 // the fillet stands on the filled groove, not on the corner
		if !c.filletFeet(field, free, p, legs, rise, &w) {
			return Weld{}, false
		}
	}
	if len(c.faults) > before {
		return Weld{}, false
	}
	w.stemFace(k, rim, flush, p.Fusion[1])
	if lap := float64(w.Feet[1].Leg) - rim; lap > 0 {
		cut.lap = lap
	}
	return w, c.stemMetal(field, k, cut, p, &w)
}

// stemFace completes the face of a prepared tee: over the flush face of the
// groove, the reinforcing fillet if there is one.
func (w *Weld) stemFace(k nook, rim float64, flush bool, fusion geometry.Length) {
	top := k.apex.Add(k.along[1].Scale(rim))
	if flush {
		w.FaceEdges = []geometry.Edge{geometry.Line(k.apex, top)}
		w.Feet[1] = Foot{Member: k.member[1], Toe: top, ToeAngle: geometry.Angle(math.Pi), Fusion: fusion}
		w.FaceWidth = geometry.Length(rim)
		return
	}
	if toe := w.Feet[1].Toe; float64(w.Feet[1].Leg) < rim*(1-tiny) {
		// The fillet ends on the filled groove, whose face shows above it.
		w.FaceEdges = append(w.FaceEdges, geometry.Line(toe, top))
		w.Feet[1].Toe, w.Feet[1].ToeAngle = top, geometry.Angle(math.Pi)
		w.FaceWidth = geometry.Length(w.Feet[0].Toe.Dist(top))
	}
}

// stemMetal closes the outline of a prepared tee's weld and measures it.
func (c *checker) stemMetal(field func(string) string, k nook, cut stemCut, p Fillet, w *Weld) bool {
	onto := cut.onto(k)
	vr := cut.vr - float64(p.Penetration)
	root := onto.Apply(geometry.Point{Y: vr})
	foot := shadow(k, root)
	toe0 := w.Feet[0].Toe
	base := bowl(foot, toe0, k.inward(0), float64(p.Fusion[0]), 0)
	sunk := mapEdges(cut.fused(vr, float64(p.Fusion[1])), onto)
	bare := mapEdges(cut.fused(vr, 0), onto)
	h := handed(k)

	loop := func(first geometry.Edge, stem []geometry.Edge) []geometry.Edge {
		out := make([]geometry.Edge, 0, len(stem)+len(w.FaceEdges)+4)
		if first.Start() != first.End() {
			out = append(out, first)
		}
		out = append(out, w.FaceEdges...)
		out = append(out, reversed(stem)...)
		out = appendLine(out, stem[0].Start(), root)
		return appendLine(out, root, foot)
	}
	deposit := h * geometry.Area(loop(geometry.Line(foot, toe0), bare)...)
	profile, err := geometry.NewOutline(loop(base, sunk)...)
	if err != nil {
		c.add(Fault{Code: FaultGeometry, Field: field("leg"), Rule: "the weld outline does not close: " + err.Error(),
			Remedy: "change leg, depth or fusion", At: new(root)})
		return false
	}
	w.Profile = profile.CCW()
	w.Area, w.Centroid = w.Profile.Area(), w.Profile.Centroid()
	w.DepositedArea = deposit
	w.MeltedBaseArea = math.Abs(geometry.Area(base, geometry.Line(toe0, foot)))
	between := append(append([]geometry.Edge{}, sunk...), reversed(bare)...)
	between = append(between, geometry.Line(bare[0].Start(), sunk[0].Start()))
	w.MeltedBaseArea += math.Abs(geometry.Area(between...))
	open := append([]geometry.Edge{geometry.Line(foot, k.apex), geometry.Line(k.apex, k.apex.Add(k.along[1].Scale(k.corner+cut.half.edge())))}, reversed(mapEdges(cut.profile(), onto))...)
	open = append(open, geometry.Line(open[len(open)-1].End(), root), geometry.Line(root, foot))
	w.GrooveArea = math.Abs(geometry.Area(open...))
	if p.Fusion[0] > 0 {
		w.FusionLine = append(w.FusionLine, base)
	}
	if p.Fusion[1] > 0 || p.Penetration > 0 {
		w.FusionLine = append(w.FusionLine, sunk...)
	}

	plain := onto.Apply(geometry.Point{Y: cut.vr})
	w.RootCorner, w.WeldRoot = plain, root
	effectiveRoot := plain
	if p.Proven {
		effectiveRoot = root
	}
	w.TheoreticalLine, w.EffectiveLine = w.overFace(plain), w.overFace(effectiveRoot)
	w.ActualLine = shortestOf(root, w.FaceEdges)
	if t := k.contact; cut.full && float64(lengthOf(w.EffectiveLine)) > t {
		// A fully penetrated stem is credited with its own thickness.
		across := k.faying.Scale(-t)
		w.EffectiveLine = Line{root, root.Add(across)}
		w.TheoreticalLine = w.EffectiveLine
	}
	w.TheoreticalThroat, w.EffectiveThroat, w.ActualThroat = lengthOf(w.TheoreticalLine), lengthOf(w.EffectiveLine), lengthOf(w.ActualLine)
	return true
}

// overFace is the shortest way from a root to the diagrammatic face: chords
// for convex arcs, the arc itself for a concave one.
func (w *Weld) overFace(root geometry.Point) Line {
	faces := append([]geometry.Edge{}, w.FaceEdges...)
	if w.Convexity > 0 {
		faces[0] = geometry.Line(faces[0].Start(), faces[0].End())
	}
	return shortestOf(root, faces)
}

// cutMeasures dimensions the preparation of a stem.
func cutMeasures(g teeShape, cuts [2]stemCut, s *Section) {
	for i, k := range [2]nook{g.arrow, g.other} {
		cut := cuts[i]
		if cut.depth == 0 {
			continue
		}
		prefix := [2]string{"", "other "}[i]
		onto := cut.onto(k)
		dx, dv := cut.bend()
		vertex := onto.Apply(geometry.Point{X: dx, Y: dv})
		rim := onto.Apply(geometry.Point{X: cut.half.edge(), Y: cut.hi})
		level := onto.Apply(geometry.Point{X: dx, Y: cut.hi})
		s.measure(Measure{Name: prefix + "bevel angle", Value: cut.angle.Degrees(), Unit: UnitDegree, Draw: DrawAngular,
			Vertex: vertex, From: level, To: rim, Formula: "prepared edge against a square-cut end"})
		root := onto.Apply(geometry.Point{})
		face := onto.Apply(geometry.Point{Y: cut.hi})
		s.measure(Measure{Name: prefix + "depth", Value: cut.depth, Unit: UnitMM, Draw: DrawLinear, From: root, To: face,
			Outward: g.up.Scale(-1), Formula: "depth of the preparation from the stem's face"})
		if cut.radius > 0 {
			centre := onto.Apply(geometry.Point{Y: cut.radius})
			mid := (geometry.Angle(math.Pi/2) + cut.angle) / 2
			on := onto.Apply(geometry.Point{X: cut.radius * mid.Cos(), Y: cut.radius - cut.radius*mid.Sin()})
			s.measure(Measure{Name: prefix + "root radius", Value: cut.radius, Unit: UnitMM, Draw: DrawRadius,
				Vertex: centre, From: centre, To: on, Formula: "radius at the root of the groove"})
		}
	}
	if f := g.arrow.contact - cuts[0].depth - cuts[1].depth; cuts[0].depth > 0 && f > tiny {
		onto := cuts[0].onto(g.arrow)
		s.measure(Measure{Name: "root face", Value: f, Unit: UnitMM, Draw: DrawLinear,
			From: onto.Apply(geometry.Point{Y: -f}), To: onto.Apply(geometry.Point{}), Outward: g.up.Scale(-1),
			Formula: "unprepared part of the stem's end"})
	}
}

// stemBevels reads both sides of a stem's preparation; the other side is as the
// arrow side where nothing is said of it.
func (r *reader) stemBevels(prefix string) (arrow, other StemBevel) {
	read := func(prefix string) StemBevel {
		return StemBevel{Angle: r.angle(prefix + "bevel-angle"), Radius: r.length(prefix + "root-radius"), Depth: r.length(prefix + "depth")}
	}
	arrow, other = read(prefix), read(prefix+"other-")
	if other.Angle == 0 {
		other.Angle = arrow.Angle
	}
	if other.Radius == 0 {
		other.Radius = arrow.Radius
	}
	return arrow, other
}

// stemParams describe the preparation of a stem.
var stemParams = []Param{
	{Name: "prep", Type: ParamChoice, Default: "none", Choices: []string{"none", "bevel", "double-bevel", "j", "double-j"},
		Doc: "preparation of the stem's end; the single ones are cut on the arrow side"},
	{Name: "bevel-angle", Type: ParamAngle, With: &With{"prep", []string{"bevel", "double-bevel", "j", "double-j"}}, Limits: bevelRange, FitUp: true,
		Usual: Range{35 * float64(geometry.Degree), 55 * float64(geometry.Degree)}, Doc: "from the square-cut end; 45 for a bevel, 20 for a J when left out"},
	{Name: "root-face", Type: ParamLength, Default: "0", With: &With{"prep", []string{"bevel", "double-bevel", "j", "double-j"}}, FitUp: true,
		Limits: ThicknessRange.fromZero(), Usual: Range{0, 1.2}, Doc: "unprepared part of the end of a full weld"},
	{Name: "root-radius", Type: ParamLength, With: &With{"prep", []string{"j", "double-j"}}, Limits: radiusRange, Usual: Range{1, 2}, Doc: "root radius of a J; 8, or what a shallow groove has room for, when left out"},
	{Name: "depth", Type: ParamLength, With: &With{"prep", []string{"bevel", "double-bevel", "j", "double-j"}}, Limits: ThicknessRange.fromZero(),
		Usual: Range{1, 3}, Doc: "depth of the preparation from the stem's face; given for a single preparation, the weld is partial"},
	{Name: "other-bevel-angle", Type: ParamAngle, With: &With{"prep", []string{"double-bevel", "double-j"}}, Limits: bevelRange,
		Usual: Range{35 * float64(geometry.Degree), 55 * float64(geometry.Degree)}, Doc: "bevel angle of the other side; as the arrow side when left out"},
	{Name: "other-root-radius", Type: ParamLength, With: &With{"prep", []string{"double-j"}}, Limits: radiusRange, Usual: Range{1, 2}, Doc: "root radius of the other side; as the arrow side when left out"},
	{Name: "other-depth", Type: ParamLength, With: &With{"prep", []string{"double-bevel", "double-j"}}, Limits: ThicknessRange.fromZero(),
		Usual: Range{1, 3}, Doc: "depth of the preparation from the other side"},
}
