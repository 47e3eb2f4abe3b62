package joints

import (
	"math"

	"fay/geometry"
)

// Lap are the parameters of a lap joint: an upper plate lying on a lower one.
type Lap struct {
	Lower, Upper Plate
	Overlap, Gap geometry.Length
	// Joggle offsets one plate beyond the overlap, over a ramp JoggleLength
	// long (as long as it is high when absent) that begins RootOpening from
	// the other plate's edge. None when empty.
	Joggle       Joggle
	JoggleLength Opt
	RootOpening  geometry.Length
	// Arrow is the fillet at the upper plate's edge, Other the one at the
	// lower plate's edge underneath. Notch takes the place of the one whose
	// edge stands in a joggle. At least one is needed.
	Arrow, Other *Fillet
	Notch        *Notch

	extent extent
}

var lapKind = Kind{
	Name: "lap", Title: "Lap joint",
	Doc:     "an upper plate lying on a lower one, with fillets at one or both edges",
	Members: []MemberSlot{{"lower", "plate underneath, its edge to the left"}, {"upper", "plate on top, its edge to the right"}},
	Params: []Param{
		{Name: "overlap", Type: ParamLength, Needed: true, Limits: OverlapRange, FitUp: true, Usual: Range{25, 60},
			Doc: "length of the plates over each other"},
		{Name: "gap", Type: ParamLength, Default: "0", Limits: GapRange, FitUp: true, Usual: Range{0, 1},
			Doc: "distance between the plates"},
		{Name: "joggle", Type: ParamChoice, Default: string(JoggleNone), Choices: []string{string(JoggleNone), string(JoggleUpper), string(JoggleLower)},
			Doc: "the plate that is offset beyond the overlap, so that the outer faces are flush"},
		{Name: "joggle-length", Type: ParamLength, With: withJoggle, Limits: joggleRange, Usual: Range{3, 15},
			Doc: "run of the joggle's ramp along the plate; as long as the offset is high when left out"},
		{Name: "root-opening", Type: ParamLength, With: withJoggle, Default: "0", Limits: OpeningRange, FitUp: true, Usual: Range{0, 3},
			Doc: "distance from the other plate's edge to the foot of the joggle"},
	},
	Welds: []WeldSlot{
		{"arrow", "fillet at the upper plate's edge", filletParams},
		{"other", "fillet at the lower plate's edge, underneath", filletParams},
		{"notch", "weld filling the notch at a joggle flush, on the side of the joggled plate", notchParams},
	},
	Example: "lap lower=6 upper=4 overlap=30 leg=4",
	build: func(r *reader) (Section, error) {
		return NewLap(Lap{
			Lower: r.plate("lower"), Upper: r.plate("upper"),
			Overlap: r.length("overlap"), Gap: r.length("gap"),
			Joggle: Joggle(r.choice("joggle")), JoggleLength: r.optional("joggle-length"), RootOpening: r.length("root-opening"),
			Arrow: r.fillet("arrow"), Other: r.fillet("other"), Notch: r.notch("notch"), extent: r.extent,
		})
	},
}

// NewLap computes the section of a lap joint. The error, if any, is of type
// [Faults].
func NewLap(p Lap) (Section, error) {
	c := &checker{}
	c.plate("lower", p.Lower)
	c.plate("upper", p.Upper)
	if p.Overlap == 0 {
		c.add(Fault{Code: FaultMissing, Field: "overlap", Rule: "a lap joint needs an overlap",
			Remedy: "give overlap, for instance five times the thinner plate"})
	} else {
		c.length("overlap", p.Overlap, OverlapRange)
	}
	c.length("gap", p.Gap, GapRange)
	c.joggleValues(&p)
	if p.Arrow == nil && p.Other == nil && p.Notch == nil {
		c.add(noWeld())
	}
	if !c.ok() {
		return Section{}, c.err()
	}

	gap, overlap := float64(p.Gap), float64(p.Overlap)
	tl, tu := float64(p.Lower.Thickness), float64(p.Upper.Thickness)
	right := nook{
		along:  [2]geometry.Point{{X: 1}, {Y: 1}},
		psi:    90 * geometry.Degree,
		member: [2]int{0, 1}, name: [2]string{"lower", "upper"},
		room: [2]float64{math.Inf(1), tu + gap}, depth: [2]float64{tl, overlap},
		edge: [2]bool{false, true}, gap: gap, corner: gap,
		faying: geometry.Point{X: -1}, contact: overlap, gapField: "gap",
	}
	left := right
	left.apex = geometry.Point{X: -overlap, Y: gap}
	left.along = [2]geometry.Point{{X: -1}, {Y: -1}}
	left.member, left.name = [2]int{1, 0}, [2]string{"upper", "lower"}
	left.room, left.depth = [2]float64{math.Inf(1), tl + gap}, [2]float64{tu, overlap}
	left.faying = geometry.Point{X: 1}

	s := Section{Kind: "lap", Title: "Lap joint", Welds: make([]Weld, 0, 2), Overlap: Some(p.Overlap),
		NeutralLevel: Some((p.Gap + p.Upper.Thickness - p.Lower.Thickness) / 2)}
	if p.Arrow != nil {
		if w, ok := c.fillet(string(ArrowSide), ArrowSide, right, *p.Arrow); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	if p.Other != nil {
		if w, ok := c.fillet(string(OtherSide), OtherSide, left, *p.Other); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	joggle := joggleOf(p)
	if p.Notch != nil {
		side := map[Joggle]Side{JoggleLower: ArrowSide, JoggleUpper: OtherSide}[p.Joggle]
		if w, ok := c.notch(joggle, side, *p.Notch); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	c.apart(s.Welds, "overlap")
	if !c.ok() {
		return Section{}, c.err()
	}
	if p.extent == weldsOnly && p.Joggle == JoggleNone { // plain plates always close
		return s, nil
	}
	for i := range s.Welds {
		if f := s.Welds[i].Feet[1]; f.OnEdge && f.EdgeRemaining.Value <= tiny*geometry.Length(gap+tu+tl) {
			s.Notes = append(s.Notes, "edge consumed: the "+s.Welds[i].ID+" weld leaves nothing of the "+
				[2]string{"lower", "upper"}[f.Member]+" plate's edge")
		}
	}
	if err := lapMembers(p, joggle, &s); err != nil {
		return Section{}, err
	}
	lapMeasures(right, left, p.extent, &s)
	if p.Joggle != JoggleNone {
		s.joggleMeasures(joggle)
	}
	s.weldMeasures(p.extent)
	return s, nil
}

func lapMembers(p Lap, joggle joggleShape, s *Section) error {
	gap, overlap := float64(p.Gap), float64(p.Overlap)
	tl, tu := float64(p.Lower.Thickness), float64(p.Upper.Thickness)
	reach := 1.5 * math.Max(tl, tu)
	right, left := 0.0, -overlap
	for i := range s.Welds {
		x := s.Welds[i].Feet[0].Toe.X
		right, left = math.Max(right, x), math.Min(left, x)
		reach = math.Max(reach, 1.5*float64(s.Welds[i].Feet[0].Leg))
	}
	ends := [2]int{1, 3} // the edges that go on
	right, left = right+reach, left-reach
	lower, err := geometry.Polygon(
		geometry.Point{X: -overlap, Y: -tl}, geometry.Point{X: right, Y: -tl},
		geometry.Point{X: right}, geometry.Point{X: -overlap})
	if err != nil {
		return err
	}
	upper, err := geometry.Polygon(
		geometry.Point{X: left, Y: gap}, geometry.Point{Y: gap},
		geometry.Point{Y: gap + tu}, geometry.Point{X: left, Y: gap + tu})
	if err != nil {
		return err
	}
	if p.Joggle != JoggleNone {
		bent := [2]*geometry.Outline{&lower, &upper}[joggle.member[0]]
		ends[joggle.member[0]] = 3
		if *bent, err = joggle.outline(-overlap, joggle.depth[0], reach); err != nil {
			return err
		}
	}
	s.Members = []Member{
		{Name: "lower", Plate: p.Lower, Outline: lower, Broken: []int{ends[0]}, Ways: 2},
		{Name: "upper", Plate: p.Upper, Outline: upper, Broken: []int{ends[1]}, Ways: 1},
	}
	return nil
}

func lapMeasures(right, left nook, extent extent, s *Section) {
	lower, upper := &s.Members[0], &s.Members[1]
	lb, ub := lower.Outline.Bounds(), upper.Outline.Bounds()
	le, ue := lower.Outline.Edge(lower.Broken[0]), upper.Outline.Edge(upper.Broken[0])
	s.roomForMeasures(extent)
	s.measure(thickness(lower, le.End(), le.Start(), geometry.Point{X: 1}))
	s.measure(thickness(upper, ue.Start(), ue.End(), geometry.Point{X: -1}))
	s.measure(Measure{Name: "overlap", Value: float64(s.Overlap.Value), Unit: UnitMM, Draw: DrawLinear,
		From: geometry.Point{X: lb.Min.X, Y: lb.Min.Y}, To: geometry.Point{X: ub.Max.X, Y: right.gap},
		Outward: geometry.Point{Y: -1}, Formula: "length of the members over each other"})
	at := left
	for i := range s.Welds {
		if s.Welds[i].Side == OtherSide {
			at = right
		}
	}
	s.gapMeasure("gap", at)
}
