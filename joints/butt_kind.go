package joints

import "fay/geometry"

var buttKind = Kind{
	Name: "butt", Title: "Butt joint",
	Doc:     "two plates edge to edge, square or prepared, equal or unequal, welded from one or both sides",
	Members: []MemberSlot{{"left", "plate at the left"}, {"right", "plate at the right"}},
	Params: []Param{
		{Name: "align", Type: ParamChoice, Default: string(AlignBottom), Choices: []string{string(AlignBottom), string(AlignTop), string(AlignCentre)},
			Doc: "which surfaces of unequal plates are flush; bottom gives a flush root"},
		{Name: "hi-lo", Type: ParamLength, Default: "0", Limits: hiLoRange, FitUp: true, Usual: Range{0, 0.4},
			Doc: "offset of the members at fit-up, right member up"},
		{Name: "prep", Type: ParamChoice, Default: string(PrepSquare), Choices: prepNames(buttPreps), Doc: "preparation of the edges"},
		{Name: "prepared", Type: ParamChoice, With: withPrep(Prep.lopsided), Default: preparedDefault, Choices: []string{"left", "right"},
			Doc: "the member that a bevel or J is cut on"},
		{Name: "groove-angle", Type: ParamAngle, With: withPrep(Prep.prepared), Group: "angle", Limits: Range{0, 2 * bevelRange.Max}, FitUp: true,
			Usual: Range{50 * float64(geometry.Degree), 90 * float64(geometry.Degree)},
			Doc:   "total angle of the groove; 60 for V, 45 for bevel, 20 for U and J when neither angle is given"},
		{Name: "bevel-angle", Type: ParamAngles, With: withPrep(Prep.prepared), Group: "angle", Limits: bevelRange, Usual: Range{15 * float64(geometry.Degree), 45 * float64(geometry.Degree)},
			Doc: "angle of each prepared edge from square: one value or a list left, right"},
		{Name: "root-opening", Type: ParamLength, Default: "0", Limits: OpeningRange, FitUp: true, Usual: Range{0.5, 3},
			Doc: "separation of the members at the root"},
		{Name: "root-face", Type: ParamLength, With: withPrep(Prep.prepared), Default: "0", Limits: ThicknessRange.fromZero(), FitUp: true, Usual: Range{0, 1.5},
			Doc: "unbevelled height of the edge at the root of a full weld"},
		{Name: "root-radius", Type: ParamLengths, With: withPrep(Prep.curved), Limits: radiusRange, Usual: Range{1, 3}, Doc: "radius of a U or J, one value or a list left, right; 6 of a U and 8 of a J, or what a shallow groove has room for, when left out"},
		{Name: "depth", Type: ParamLength, Limits: ThicknessRange.fromZero(), Usual: Range{1, 4},
			Doc: "depth of the preparation from the arrow side; given for a single preparation, the weld is partial"},
		{Name: "other-groove-angle", Type: ParamAngle, With: withPrep(Prep.double), Group: "other-angle", Limits: Range{0, 2 * bevelRange.Max},
			Usual: Range{50 * float64(geometry.Degree), 90 * float64(geometry.Degree)}, Doc: "groove angle of the other side; as the arrow side when left out"},
		{Name: "other-bevel-angle", Type: ParamAngles, With: withPrep(Prep.double), Group: "other-angle", Limits: bevelRange, Usual: Range{15 * float64(geometry.Degree), 45 * float64(geometry.Degree)},
			Doc: "bevel angles of the other side"},
		{Name: "other-root-radius", Type: ParamLengths, With: withPrep(func(p Prep) bool { return p.double() && p.curved() }), Limits: radiusRange, Usual: Range{1, 3}, Doc: "root radius of the other side"},
		{Name: "other-depth", Type: ParamLength, With: withPrep(func(p Prep) bool { return p.double() || p == PrepSquare }), Limits: ThicknessRange.fromZero(), Usual: Range{1, 4},
			Doc: "depth of the preparation from the other side"},
		{Name: "transition", Type: ParamNumber, Default: "0", Limits: transitionRange, Usual: Range{2, 4},
			Doc: "taper of the thicker member down to the thinner, run per rise; 0 for none"},
		{Name: "transition-side", Type: ParamChoice, Default: "both", Choices: []string{"face", "root", "both"}, Doc: "faces of the thicker member that are tapered"},
		{Name: "backing", Type: ParamChoice, Default: string(BackingNone), Choices: []string{"none", "strip", "bar", "ceramic"},
			Doc: "what lies under the root: a strip that stays, or a grooved bar or ceramic that is taken away"},
		{Name: "backing-thickness", Type: ParamLength, With: &With{"backing", []string{"strip", "bar", "ceramic"}}, Limits: ThicknessRange.fromZero(), Usual: Range{3, 6}, Doc: "thickness of the backing; the thinner plate's, at most 10, when left out"},
		{Name: "backing-width", Type: ParamLength, With: &With{"backing", []string{"strip", "bar", "ceramic"}}, Limits: Range{0, 200}, Usual: Range{25, 40}, Doc: "width of the backing; 30 when left out"},
		{Name: "backing-groove-width", Type: ParamLength, With: &With{"backing", []string{"bar", "ceramic"}}, Limits: Range{0, 100}, Usual: Range{4, 12}, Doc: "width of the groove in a bar or ceramic; twice the thinner plate when left out"},
		{Name: "backing-groove-depth", Type: ParamLength, With: &With{"backing", []string{"bar", "ceramic"}}, Limits: Range{0, 25}, Usual: Range{0.5, 2}, Doc: "depth of that groove; a quarter of the thinner plate when left out"},
	},
	Welds:   []WeldSlot{{"arrow", "groove weld from the arrow side, drawn on top", grooveParams}, {"other", "groove weld from the other side", grooveParams}},
	Example: "butt left=8 right=5 prep=single-v groove-angle=70 root-face=1.5 root-opening=2 cap=1 transition=4",
	Axis:    AxisLevel,
	build:   buildButt,
}

// withPrep makes a parameter depend on the preparation.
func withPrep(applies func(Prep) bool) *With {
	w := &With{Choice: "prep"}
	for _, p := range buttPreps {
		if applies(p) {
			w.Values = append(w.Values, string(p))
		}
	}
	return w
}

func prepNames(ps []Prep) []string {
	names := make([]string, len(ps))
	for i := range ps {
		names[i] = string(ps[i])
	}
	return names
}

func buildButt(r *reader) (Section, error) {
	prep := Prep(r.choice("prep"))
	flank := func(prefix string) Flank {
		f := Flank{Bevel: r.angles(prefix + "bevel-angle"), Radius: r.lengths(prefix + "root-radius"), Depth: r.length(prefix + "depth")}
		if a := r.angle(prefix + "groove-angle"); a != 0 {
			if r.given(prefix + "bevel-angle") {
				r.faults = append(r.faults, Fault{Code: FaultConflict, Field: prefix + "groove-angle",
					Rule: "groove-angle and bevel-angle exclude each other", Remedy: "keep one of them"})
			}
			f.Bevel = [2]geometry.Angle{a / 2, a / 2}
			if prep.lopsided() {
				f.Bevel = [2]geometry.Angle{a, a}
			}
		}
		return f
	}
	arrow, other := flank(""), flank("other-")
	if other.Bevel == [2]geometry.Angle{} {
		other.Bevel = arrow.Bevel
	}
	if other.Radius == [2]geometry.Length{} {
		other.Radius = arrow.Radius
	}
	return NewButt(Butt{
		Left: r.plate("left"), Right: r.plate("right"), Align: Align(r.choice("align")), HiLo: r.length("hi-lo"),
		Prep: prep, Prepared: r.choice("prepared"), RootOpening: r.length("root-opening"), RootFace: r.length("root-face"),
		Flank: arrow, OtherFlank: other,
		Backing: Backing{Kind: BackingKind(r.choice("backing")), Thickness: r.length("backing-thickness"), Width: r.length("backing-width"),
			GrooveWidth: r.length("backing-groove-width"), GrooveDepth: r.length("backing-groove-depth")},
		Transition: r.number("transition"), TransitionSide: r.choice("transition-side"),
		Arrow: r.groove("arrow"), Other: r.groove("other"), extent: r.extent,
	})
}
