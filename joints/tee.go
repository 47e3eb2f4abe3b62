package joints

import (
	"math"
	"slices"

	"fay/geometry"
)

// StemEnd is how the stem of a skewed tee is cut.
type StemEnd string

// The stem ends. A square end leaves a wedge under a skewed stem, a fitted one
// lies parallel to the base.
const (
	StemSquare StemEnd = "square"
	StemFitted StemEnd = "fitted"
)

// Tee are the parameters of a tee joint: a stem abutting a continuous base.
type Tee struct {
	Base, Stem Plate
	// Angle is the dihedral angle between base and stem on the arrow side,
	// which lies to the right. Zero means 90°.
	Angle geometry.Angle
	// Gap is the smallest distance of the stem's end from the base.
	Gap geometry.Length
	// StemEnd is square when empty.
	StemEnd StemEnd
	// Prep of the stem's end; square (none) when empty. The single ones are
	// cut on the arrow side. ArrowBevel and OtherBevel are the two sides of it.
	Prep                   Prep
	RootFace               geometry.Length
	ArrowBevel, OtherBevel StemBevel
	// Arrow and Other are the welds; at least one is needed.
	Arrow, Other *Fillet

	extent extent
	room   []Measure // memory for the measures; nil takes new
}

var teeKind = Kind{
	Name: "tee", Title: "Tee joint",
	Doc:     "a stem abutting a continuous base, square or skewed, plain or prepared, welded on one or both sides",
	Members: []MemberSlot{{"base", "continuous member, which lies level"}, {"stem", "abutting member, which stands on the base"}},
	Params: append([]Param{
		{Name: "angle", Type: ParamAngle, Default: "90", Limits: SkewRange, FitUp: true,
			Usual: Range{60 * float64(geometry.Degree), 120 * float64(geometry.Degree)},
			Doc:   "dihedral angle between base and stem on the arrow side"},
		{Name: "gap", Type: ParamLength, Default: "0", Limits: GapRange, FitUp: true, Usual: Range{0, 1.5},
			Doc: "smallest distance of the stem's end from the base"},
		{Name: "stem-end", Type: ParamChoice, Default: string(StemSquare),
			Choices: []string{string(StemSquare), string(StemFitted)},
			Doc:     "cut of a skewed stem's end: square leaves a wedge, fitted lies parallel to the base"},
	}, stemParams...),
	Welds:   []WeldSlot{{"arrow", "fillet on the arrow side, drawn at the right", filletParams}, {"other", "fillet on the other side", filletParams}},
	Example: "tee base=8 stem=3 leg=3 gap=0.3",
	build: func(r *reader) (Section, error) {
		arrowBevel, otherBevel := r.stemBevels("")
		return NewTee(Tee{
			Base: r.plate("base"), Stem: r.plate("stem"),
			Angle: r.angle("angle"), Gap: r.length("gap"), StemEnd: StemEnd(r.choice("stem-end")),
			Prep: stemPreps[r.choice("prep")], RootFace: r.length("root-face"),
			ArrowBevel: arrowBevel, OtherBevel: otherBevel,
			Arrow: r.fillet("arrow"), Other: r.fillet("other"), extent: r.extent,
		})
	},
}

// NewTee computes the section of a tee joint. The error, if any, is of type
// [Faults].
func NewTee(p Tee) (Section, error) {
	c := &checker{}
	if p.Angle == 0 {
		p.Angle = 90 * geometry.Degree
	}
	if p.StemEnd == "" {
		p.StemEnd = StemSquare
	}
	c.plate("base", p.Base)
	c.plate("stem", p.Stem)
	c.angle("angle", p.Angle, SkewRange)
	c.length("gap", p.Gap, GapRange)
	if p.StemEnd != StemSquare && p.StemEnd != StemFitted {
		c.add(Fault{Code: FaultUnknown, Field: "stem-end", Value: string(p.StemEnd),
			Rule: "must be square or fitted", Remedy: "leave it out for square"})
	}
	if p.Arrow == nil && p.Other == nil {
		c.add(noWeld())
	}
	c.stemValues(&p)
	if !c.ok() {
		return Section{}, c.err()
	}
	cuts := c.stemCuts(p)
	if !c.ok() {
		return Section{}, c.err()
	}

	g := teeGeometry(p)
	s := Section{Kind: "tee", Title: "Tee joint", Welds: make([]Weld, 0, 2), NeutralLevel: Some(-p.Base.Thickness / 2)}
	for _, side := range [2]struct {
		id   Side
		weld *Fillet
		nook nook
		cut  stemCut
	}{{ArrowSide, p.Arrow, g.arrow, cuts[0]}, {OtherSide, p.Other, g.other, cuts[1]}} {
		if side.weld == nil {
			continue
		}
		if side.cut.depth > 0 {
			if w, ok := c.stemGroove(string(side.id), side.id, side.nook, side.cut, *side.weld); ok {
				s.Welds = append(s.Welds, w)
			}
			continue
		}
		if w, ok := c.fillet(string(side.id), side.id, side.nook, *side.weld); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	switch {
	case !cuts[0].full:
		c.apart(s.Welds, "stem")
	case cuts[1].depth == 0 && p.Other != nil && (p.Other.Penetration > 0 || p.Other.Fusion[1] > 0):
		c.add(Fault{Code: FaultOverlap, Field: "welds.other.fusion", At: new(g.other.apex),
			Rule: "the arrow-side weld has fused the stem's end already", Remedy: "claim fusion into the base only on this side"})
	}
	if !c.ok() {
		return Section{}, c.err()
	}
	if p.extent == weldsOnly && p.Prep == PrepSquare { // a plain stem's outline always closes
		return s, nil
	}
	if err := g.members(p, cuts, &s); err != nil {
		return Section{}, err
	}
	g.measures(p, cuts, &s)
	return s, nil
}

func noWeld() Fault {
	return Fault{Code: FaultMissing, Field: "welds", Rule: "a joint needs at least one weld",
		Remedy: "give a size, such as leg=3 for the arrow side or other.leg=3 for the other side"}
}

// teeShape is where the stem stands on the base.
type teeShape struct {
	arrow, other nook
	up           geometry.Point // along the stem, away from the base
	across       geometry.Point // square to the stem, from its arrow face to its other face
}

func teeGeometry(p Tee) teeShape {
	sin, cos := math.Sin(float64(p.Angle)), math.Cos(float64(p.Angle))
	if math.Abs(cos) < 1e-15 {
		cos = 0 // 90° typed in degrees is meant exactly
	}
	up := geometry.Point{X: cos, Y: sin}
	g := teeShape{up: up, across: geometry.Point{X: -sin, Y: cos}}
	tb, ts, gap := float64(p.Base.Thickness), float64(p.Stem.Thickness), float64(p.Gap)

	faying := geometry.Point{X: -1}
	contact := ts / sin
	lift := 0.0 // of the corner on the obtuse side
	if p.StemEnd == StemSquare {
		faying, contact = g.across, ts
		lift = ts * math.Abs(cos)
	}
	// A square end touches down on the acute side only.
	arrowGap, otherGap := gap, gap
	if cos < 0 {
		arrowGap += lift
	} else {
		otherGap += lift
	}
	side := nook{
		member: [2]int{0, 1}, name: [2]string{"base", "stem"},
		room: [2]float64{math.Inf(1), math.Inf(1)}, depth: [2]float64{tb, ts},
		contact: contact, gapField: "gap",
	}
	g.arrow, g.other = side, side
	g.arrow.along = [2]geometry.Point{{X: 1}, up}
	g.arrow.psi, g.arrow.gap, g.arrow.corner = p.Angle, arrowGap, arrowGap/sin
	g.arrow.faying = faying
	g.other.apex = geometry.Point{X: -ts / sin}
	g.other.along = [2]geometry.Point{{X: -1}, up}
	g.other.psi, g.other.gap, g.other.corner = geometry.Angle(math.Pi)-p.Angle, otherGap, otherGap/sin
	g.other.faying = faying.Scale(-1)
	return g
}

// apart refuses welds of the two sides that melt into each other. They may
// touch at the points of meet, where both begin.
func (c *checker) apart(welds []Weld, member string, meet ...geometry.Point) {
	if len(welds) != 2 || welds[0].Profile.IsZero() || welds[1].Profile.IsZero() {
		return
	}
	a, b := &welds[0], &welds[1]
	if len(a.FusionLine) == 0 && len(b.FusionLine) == 0 {
		return
	}
	for _, x := range a.Profile.Intersections(b.Profile) {
		if slices.ContainsFunc(meet, func(p geometry.Point) bool { return p.Dist(x.P) <= 1e-6 }) {
			continue
		}
		c.add(Fault{Code: FaultOverlap, Field: "welds", At: new(x.P),
			Rule:   "fusion of the two sides meets inside the " + member + ": that is a fully penetrated joint, not two fillets",
			Remedy: "claim less penetration or fusion"})
		return
	}
}

// members draws base and stem far enough beyond the welds to be recognised.
func (g teeShape) members(p Tee, cuts [2]stemCut, s *Section) error {
	tb, ts := float64(p.Base.Thickness), float64(p.Stem.Thickness)
	left, right := g.other.apex.X, 0.0
	top := math.Max(g.arrow.corner, g.other.corner)
	reach := math.Max(1.2*tb, 1.5*ts)
	for i := range s.Welds {
		w := &s.Welds[i]
		left = math.Min(left, w.Feet[0].Toe.X)
		right = math.Max(right, w.Feet[0].Toe.X)
		top = math.Max(top, math.Max(float64(w.Feet[1].Leg), w.Feet[1].Toe.Dist(w.JointRoot)))
		for _, f := range w.Feet {
			reach = math.Max(reach, 1.2*float64(f.Leg))
		}
	}
	left, right, top = left-reach, right+reach, top+reach
	base, err := geometry.Polygon(
		geometry.Point{X: left, Y: -tb}, geometry.Point{X: right, Y: -tb},
		geometry.Point{X: right}, geometry.Point{X: left})
	if err != nil {
		return err
	}
	crown := g.up.Scale(top)
	edge := cuts[0].edge(g.arrow)
	foot := reversed(cuts[1].edge(g.other))
	edges := make([]geometry.Edge, 0, 8)
	edges = append(edges, edge...)
	edges = appendLine(edges, end(edge, g.arrow), crown)
	edges = append(edges, geometry.Line(crown, crown.Add(g.across.Scale(ts))))
	edges = appendLine(edges, crown.Add(g.across.Scale(ts)), start(foot, g.other))
	edges = append(edges, foot...)
	edges = appendLine(edges, end(foot, g.other), start(edge, g.arrow))
	stem, err := geometry.NewOutline(edges...)
	if err != nil {
		return Faults{{Code: FaultUnfit, Field: "prep", Value: string(p.Prep),
			Rule: "the prepared end of the stem crosses itself (" + err.Error() + ")", Remedy: "make the bevels shallower or the root face higher"}}
	}
	broken := 0
	for i, e := range stem.All() {
		if e.Start() == crown {
			broken = i
		}
	}
	s.Members = []Member{
		{Name: "base", Plate: p.Base, Outline: base, Broken: []int{1, 3}, Ways: 2},
		{Name: "stem", Plate: p.Stem, Outline: stem, Broken: []int{broken}, Ways: 1},
	}
	return nil
}

func (g teeShape) measures(p Tee, cuts [2]stemCut, s *Section) {
	base, stem := &s.Members[0], &s.Members[1]
	box := base.Outline.Bounds()
	if s.Measures = p.room; p.room == nil {
		s.roomForMeasures(p.extent)
	}
	s.measure(thickness(base, geometry.Point{X: box.Max.X}, geometry.Point{X: box.Max.X, Y: box.Min.Y}, geometry.Point{X: 1}))
	crown := stem.Outline.Edges()[stem.Broken[0]]
	s.measure(thickness(stem, crown.Start(), crown.End(), g.up))
	if p.Angle != 90*geometry.Degree {
		s.measure(Measure{Name: "angle", Value: p.Angle.Degrees(), Unit: UnitDegree, Draw: DrawAngular,
			Vertex: g.arrow.apex, From: geometry.Point{X: 1}, To: g.up,
			Formula: "dihedral angle between base and stem on the arrow side"})
	}
	// The gap is dimensioned where it can be seen: on the side without a weld,
	// unless a square end stands further off there.
	at := g.other
	if _, both := s.Weld(string(OtherSide)); both || g.other.gap > g.arrow.gap {
		at = g.arrow
	}
	if g.arrow.gap > g.other.gap {
		at = g.other
	}
	s.gapMeasure("gap", at)
	cutMeasures(g, cuts, s)
	if p.StemEnd == StemSquare && g.arrow.gap != g.other.gap {
		wide := g.other
		if g.arrow.gap > g.other.gap {
			wide = g.arrow
		}
		s.wedgeMeasure(wide)
	}
	s.weldMeasures(p.extent)
}
