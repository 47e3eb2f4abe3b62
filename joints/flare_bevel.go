package joints

import (
	"math"
	"slices"

	"fay/geometry"
)

// FlareBevel are the parameters of a flare-bevel joint: a round member on a
// flat one.
type FlareBevel struct {
	Base  Plate
	Round Round
	// RootOpening is the distance of the round from the base.
	RootOpening geometry.Length
	// Arrow and Other are the welds at the right and the left of the contact;
	// a bent sheet opens to the right only. At least one is needed.
	Arrow, Other *Flare

	extent extent
}

var flareBevelKind = Kind{
	Name: "flare-bevel", Title: "Flare-bevel joint",
	Doc:     "a round bar or the bend of a sheet on a flat plate, welded into the flare beside the contact",
	Members: []MemberSlot{{"base", "flat member, which lies level"}, {"round", "bar (its thickness is the diameter) or bent sheet on the base"}},
	Params: append(roundParams("", "round"),
		Param{Name: "root-opening", Type: ParamLength, Default: "0", Limits: OpeningRange, FitUp: true, Usual: Range{0, 1},
			Doc: "distance of the round member from the base"}),
	Welds: []WeldSlot{
		{"arrow", "flare-bevel groove weld at the right of the contact", flareBevelParams},
		{"other", "flare-bevel groove weld at the left of a bar", flareBevelParams},
	},
	Example: "flare-bevel base=6 round=12 cap=0.5 cap-lap=2.5",
	build: func(r *reader) (Section, error) {
		return NewFlareBevel(FlareBevel{
			Base: r.plate("base"), Round: r.round("round", ""), RootOpening: r.length("root-opening"),
			Arrow: r.flare("arrow"), Other: r.flare("other"), extent: r.extent,
		})
	},
}

var flareBevelParams = append(slices.Clone(flareParams),
	Param{Name: "cap-lap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 2},
		Doc: "how far the toe on the base lies beyond the fill"})

// NewFlareBevel computes the section of a flare-bevel joint. The error, if any,
// is of type [Faults].
func NewFlareBevel(p FlareBevel) (Section, error) {
	c := &checker{}
	c.plate("base", p.Base)
	round := c.round("round", "", &p.Round)
	c.length("root-opening", p.RootOpening, OpeningRange)
	c.flareWelds(p.Arrow, p.Other, p.Round.Section)
	if !c.ok() {
		return Section{}, c.err()
	}
	// The frame of the flare is that of the section, with the root opening
	// all above the base.
	round.off = float64(p.RootOpening)
	f := flare{flush: round.radius, place: [2]geometry.Transform{geometry.Translate(geometry.Point{}), mirrorX}}
	f.sides = [2]flareSide{{name: "base", depth: float64(p.Base.Thickness)}, round}

	s := Section{Kind: "flare-bevel", Title: "Flare-bevel joint"}
	c.layFlares(&s, f, p.Arrow, p.Other)
	if !c.ok() {
		return Section{}, c.err()
	}
	left, right := -round.radius, round.radius
	for i := range s.Welds {
		left, right = math.Min(left, s.Welds[i].Feet[0].Toe.X), math.Max(right, s.Welds[i].Feet[0].Toe.X)
	}
	t := float64(p.Base.Thickness)
	reach := math.Max(1.2*t, round.radius)
	base, err := geometry.Polygon(geometry.Point{X: left - reach, Y: -t}, geometry.Point{X: right + reach, Y: -t},
		geometry.Point{X: right + reach}, geometry.Point{X: left - reach})
	if err != nil {
		return Section{}, err
	}
	member, err := roundMember("round", p.Round, round, reach, f.place[0])
	if err != nil {
		return Section{}, err
	}
	s.Members = []Member{{Name: "base", Plate: p.Base, Outline: base, Broken: []int{1, 3}, Ways: 2}, member}
	for i := range s.Welds {
		s.overhangs(&s.Welds[i])
	}

	end := base.Edge(1)
	s.roomForMeasures(p.extent)
	s.measure(thickness(&s.Members[0], end.End(), end.Start(), geometry.Point{X: 1}))
	s.roundMeasures(&s.Members[1], p.Round, round, f.place[0])
	s.flareMeasures(f, geometry.Point{Y: -1})
	s.weldMeasures(p.extent)
	return s, nil
}

// flareWelds checks which welds a flare joint can have: the flare on the other
// side is there between bars and flat members only.
func (c *checker) flareWelds(arrow, other *Flare, sections ...RoundSection) {
	if arrow == nil && other == nil {
		c.add(Fault{Code: FaultMissing, Field: "welds", Rule: "a joint needs at least one weld",
			Remedy: "give cap=0 for a flush weld on the arrow side, or fill for a partial one"})
	}
	if other != nil && slices.Contains(sections, RoundBent) {
		c.add(Fault{Code: FaultConflict, Field: "welds.other", Rule: "a bent sheet has no flare on the other side, where its leg goes on",
			Remedy: "leave the weld out, or weld a bar"})
	}
}

// layFlares computes the welds that are given.
func (c *checker) layFlares(s *Section, f flare, arrow, other *Flare) {
	s.Welds = make([]Weld, 0, 2)
	if arrow != nil {
		if w, ok := c.flare(string(ArrowSide), ArrowSide, f, *arrow); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	if other != nil {
		if w, ok := c.flare(string(OtherSide), OtherSide, f, *other); ok {
			s.Welds = append(s.Welds, w)
		}
	}
}
