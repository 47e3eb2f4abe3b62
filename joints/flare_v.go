package joints

import (
	"math"

	"fay/geometry"
)

// FlareV are the parameters of a flare-V joint: two round members side by side,
// their centres level.
type FlareV struct {
	Left, Right Round
	RootOpening geometry.Length
	// Arrow and Other are the welds above and below the contact; below there
	// is a flare between two bars only. At least one is needed.
	Arrow, Other *Flare

	extent extent
}

var flareVKind = Kind{
	Name: "flare-v", Title: "Flare-V joint",
	Doc:     "two bars, two bent sheets back to back, or one of each, welded into the flare between them",
	Members: []MemberSlot{{"left", "bar (its thickness is the diameter) or bent sheet at the left"}, {"right", "bar or bent sheet at the right"}},
	Params: append(append(roundParams("left-", "left"), roundParams("right-", "right")...),
		Param{Name: "root-opening", Type: ParamLength, Default: "0", Limits: OpeningRange, FitUp: true, Usual: Range{0, 1},
			Doc: "distance between the members where they come nearest"}),
	Welds: []WeldSlot{
		{"arrow", "flare-V groove weld, drawn on top", flareParams},
		{"other", "flare-V groove weld underneath, between two bars", flareParams},
	},
	Example: "flare-v left=3 right=3 left-section=bent right-section=bent throat=4",
	build: func(r *reader) (Section, error) {
		return NewFlareV(FlareV{
			Left: r.round("left", "left-"), Right: r.round("right", "right-"), RootOpening: r.length("root-opening"),
			Arrow: r.flare("arrow"), Other: r.flare("other"), extent: r.extent,
		})
	},
}

// NewFlareV computes the section of a flare-V joint. The error, if any, is of
// type [Faults].
func NewFlareV(p FlareV) (Section, error) {
	c := &checker{}
	left, right := c.round("left", "left-", &p.Left), c.round("right", "right-", &p.Right)
	c.length("root-opening", p.RootOpening, OpeningRange)
	c.flareWelds(p.Arrow, p.Other, p.Left.Section, p.Right.Section)
	if !c.ok() {
		return Section{}, c.err()
	}
	left.off, right.off = float64(p.RootOpening)/2, float64(p.RootOpening)/2
	// u becomes y and v becomes x: a quarter turn and a mirroring.
	up := geometry.Rotate(90*geometry.Degree, geometry.Point{}).Then(mirrorX)
	f := flare{sides: [2]flareSide{left, right}, flush: math.Min(left.radius, right.radius),
		place: [2]geometry.Transform{up, up.Then(mirrorY)}}

	s := Section{Kind: "flare-v", Title: "Flare-V joint"}
	c.layFlares(&s, f, p.Arrow, p.Other)
	if !c.ok() {
		return Section{}, c.err()
	}
	reach := math.Max(1.2*float64(max(p.Left.Thickness, p.Right.Thickness)), f.flush)
	places := [2]geometry.Transform{mirrorY.Then(up), up}
	rounds, names := [2]Round{p.Left, p.Right}, [2]string{"left", "right"}
	s.Members = make([]Member, 2)
	for i := range s.Members {
		m, err := roundMember(names[i], rounds[i], f.sides[i], reach, places[i])
		if err != nil {
			return Section{}, err
		}
		s.Members[i] = m
	}
	for i := range s.Welds {
		s.overhangs(&s.Welds[i])
	}
	s.roomForMeasures(p.extent)
	for i := range s.Members {
		s.roundMeasures(&s.Members[i], rounds[i], f.sides[i], places[i])
	}
	s.flareMeasures(f, geometry.Point{X: 1})
	s.weldMeasures(p.extent)
	return s, nil
}
