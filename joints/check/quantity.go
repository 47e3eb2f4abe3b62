package check

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
)

// Quantity is something that rules and the limits of a shop compare: one number
// of a weld, planned or measured.
type Quantity struct {
	Name   string
	Symbol string
	Unit   joints.Unit
	Doc    string
	// Numbers are those of ISO 6520-1 that imperfections of this quantity have.
	Numbers []string
	Read    func(*Facts, *joints.Weld) Reading
	// Record says why a plan does not have the quantity, which only a
	// cut-and-etch record does; empty for all others.
	Record string
	// mend says what to change for the bound; nil where a section shows nothing
	// that could be set.
	mend func(f *Facts, w *joints.Weld, op Operator, bound float64) string
	// hopeless says why mend may find nothing to change.
	hopeless string
	// bound adds to a finding what follows for legs and gap; may be nil.
	bound func(f *Facts, w *joints.Weld, op Operator, bound float64, finding *Finding)
}

// Wedge says why a gap cannot be closed: see [Facts.CloserGap].
const Wedge = "the gap is the wedge under a prepared member; weld it as a part of the groove"

// Reading is the value of a quantity, or the verdict of not having one.
type Reading struct {
	Value    float64
	Measured bool
	Verdict  Verdict // empty where there is a value
	Note     string
}

func lengthOf(v float64) geometry.Length { return geometry.Length(v) }

func planned(v geometry.Length) Reading { return Reading{Value: float64(v)} }

func measured(v geometry.Length) Reading { return Reading{Value: float64(v), Measured: true} }

func inapplicable(why string) Reading { return Reading{Verdict: NotApplicable, Note: why} }

// onlyMeasured reads a quantity that a plan does not have.
func onlyMeasured(what string, get func(*Measured) joints.Opt) func(*Facts, *joints.Weld) Reading {
	return func(f *Facts, w *joints.Weld) Reading {
		m, ok := f.Measured[w.ID]
		if !ok {
			return inapplicable("a plan has no " + what)
		}
		if v := get(&m); v.Present {
			return measured(v.Value)
		}
		return Reading{Verdict: CannotTell, Note: what + " was not measured"}
	}
}

// planMeasured reads what was measured, else what is planned.
func planMeasured(get func(*Measured) joints.Opt, plan func(*Facts, *joints.Weld) Reading) func(*Facts, *joints.Weld) Reading {
	return func(f *Facts, w *joints.Weld) Reading {
		if m, ok := f.Measured[w.ID]; ok {
			if v := get(&m); v.Present {
				return measured(max(0, v.Value))
			}
		}
		return plan(f, w)
	}
}

func onFillets(read func(*Facts, *joints.Weld) Reading) func(*Facts, *joints.Weld) Reading {
	return func(f *Facts, w *joints.Weld) Reading {
		if w.Kind != joints.FilletWeld {
			return inapplicable("speaks of fillets")
		}
		return read(f, w)
	}
}

func onGrooves(read func(*Facts, *joints.Weld) Reading) func(*Facts, *joints.Weld) Reading {
	return func(f *Facts, w *joints.Weld) Reading {
		if w.Kind != joints.GrooveWeld {
			return inapplicable("speaks of grooves")
		}
		return read(f, w)
	}
}

// atMost is a mend of one number.
func atMost(what string) func(*Facts, *joints.Weld, Operator, float64) string {
	return func(f *Facts, _ *joints.Weld, op Operator, bound float64) string {
		if op == AtLeast {
			return what + " of at least " + f.ShowAtLeast(lengthOf(bound))
		}
		return what + " of at most " + f.ShowAtMost(lengthOf(bound))
	}
}

// repaired is the mend of a defect that is there already.
func repaired(what string) func(*Facts, *joints.Weld, Operator, float64) string {
	return func(f *Facts, _ *joints.Weld, _ Operator, bound float64) string {
		if bound == 0 {
			return "repair until no " + what + " is left"
		}
		return "repair until the " + what + " is at most " + f.ShowAtMost(lengthOf(bound)) + " deep"
	}
}

// The quantities.
var (
	Convexity = Quantity{Name: "convexity", Symbol: "h", Unit: joints.UnitMM, Numbers: []string{"503"},
		Doc: "height of a fillet's face over its chord",
		Read: onFillets(planMeasured(func(m *Measured) joints.Opt { return m.Convexity },
			func(_ *Facts, w *joints.Weld) Reading { return planned(max(0, w.Convexity)) })),
		mend: atMost("a convex rise")}
	Concavity = Quantity{Name: "concavity", Symbol: "h", Unit: joints.UnitMM,
		Doc: "depth of a hollow fillet's face under its chord",
		Read: onFillets(func(f *Facts, w *joints.Weld) Reading {
			if m, ok := f.Measured[w.ID]; ok && m.Convexity.Present {
				return measured(max(0, -m.Convexity.Value))
			}
			return planned(max(0, -w.Convexity))
		}),
		mend: atMost("a hollow")}
	CapHeight = Quantity{Name: "cap-height", Symbol: "h", Unit: joints.UnitMM, Numbers: []string{"502"},
		Doc: "reinforcement: height of a groove's face over its toes",
		Read: onGrooves(planMeasured(func(m *Measured) joints.Opt { return m.CapHeight },
			func(_ *Facts, w *joints.Weld) Reading {
				if !w.CapWidth.Present {
					return inapplicable("the groove has no cap")
				}
				return planned(w.CapHeight.Value)
			})),
		mend: atMost("a cap")}
	RootHeight = Quantity{Name: "root-height", Symbol: "h", Unit: joints.UnitMM, Numbers: []string{"504"},
		Doc: "root reinforcement: height under the root of a weld that penetrates from one side",
		Read: onGrooves(planMeasured(func(m *Measured) joints.Opt { return m.RootHeight },
			func(_ *Facts, w *joints.Weld) Reading {
				if !w.RootWidth.Present {
					return inapplicable("the weld shows no root")
				}
				return planned(w.RootHeight.Value)
			})),
		mend: atMost("a root")}
	ToeAngle = Quantity{Name: "toe-angle", Symbol: "α", Unit: joints.UnitDegree, Numbers: []string{"505"},
		Doc:  "smaller angle between the member's surface beyond a toe and the face",
		Read: readToeAngle, mend: flatterFace}
	HiLo = Quantity{Name: "hi-lo", Symbol: "h", Unit: joints.UnitMM, Numbers: []string{"507"},
		Doc: "offset of butting members' surfaces from the alignment asked for",
		Read: onGrooves(planMeasured(func(m *Measured) joints.Opt { return m.HiLo },
			func(f *Facts, _ *joints.Weld) Reading {
				if !f.Butts() {
					return inapplicable("speaks of members that butt")
				}
				return Reading{Value: math.Abs(f.MeasureOr("hi-lo", 0))}
			})),
		mend: atMost("a hi-lo")}
	Asymmetry = Quantity{Name: "asymmetry", Symbol: "h", Unit: joints.UnitMM, Numbers: []string{"512"},
		Doc: "difference of a fillet's legs",
		Read: onFillets(func(f *Facts, w *joints.Weld) Reading {
			return readLegs(f, w, func(a, b float64) float64 { return math.Abs(a - b) })
		})}
	Gap = Quantity{Name: "gap", Symbol: "g", Unit: joints.UnitMM, Numbers: []string{"617"},
		Doc: "gap between the members under a fillet",
		Read: onFillets(planMeasured(func(m *Measured) joints.Opt { return m.Gap },
			func(_ *Facts, w *joints.Weld) Reading { return planned(w.Gap) })),
		mend:  func(f *Facts, w *joints.Weld, _ Operator, bound float64) string { return f.closer(w, lengthOf(bound)) },
		bound: gapBound, hopeless: Wedge}
	RootOpening = Quantity{Name: "root-opening", Symbol: "b", Unit: joints.UnitMM,
		Doc:  "separation of the members at the root of a groove",
		Read: onGrooves(func(_ *Facts, w *joints.Weld) Reading { return planned(w.Gap) }),
		mend: atMost("a root opening")}
	LegMinimum = Quantity{Name: "leg-minimum", Symbol: "z", Unit: joints.UnitMM,
		Doc:  "shorter leg of a fillet",
		Read: onFillets(func(f *Facts, w *joints.Weld) Reading { return readLegs(f, w, math.Min) }),
		mend: func(f *Facts, w *joints.Weld, op Operator, bound float64) string {
			if op == AtMost {
				return ""
			}
			mend, _ := f.LargerLegs(w, lengthOf(bound))
			return mend
		},
		bound: func(_ *Facts, _ *joints.Weld, op Operator, bound float64, finding *Finding) {
			if op == AtLeast {
				finding.LegAtLeast(lengthOf(bound), "")
			}
		}}
	LegMaximum = Quantity{Name: "leg-maximum", Symbol: "z", Unit: joints.UnitMM,
		Doc:  "longer leg of a fillet",
		Read: onFillets(func(f *Facts, w *joints.Weld) Reading { return readLegs(f, w, math.Max) }),
		mend: func(f *Facts, w *joints.Weld, op Operator, bound float64) string {
			if op == AtLeast {
				return ""
			}
			mend, _ := f.ShorterLegs(w, lengthOf(bound))
			return mend
		},
		bound: func(_ *Facts, _ *joints.Weld, op Operator, bound float64, finding *Finding) {
			if op == AtMost {
				finding.LegAtMost(lengthOf(bound), "")
			}
		}}
	EffectiveThroat = Quantity{Name: "throat", Symbol: "a", Unit: joints.UnitMM,
		Doc: "effective throat planned, or throat measured",
		Read: planMeasured(func(m *Measured) joints.Opt { return m.Throat },
			func(_ *Facts, w *joints.Weld) Reading { return planned(w.EffectiveThroat) })}
	EdgeRemaining = Quantity{Name: "edge-remaining", Symbol: "e", Unit: joints.UnitMM,
		Doc: "what is left of a plate's cut edge beyond the toe",
		Read: onFillets(func(_ *Facts, w *joints.Weld) Reading {
			least, found := math.Inf(1), false
			for i := range w.Feet {
				if foot := &w.Feet[i]; foot.OnEdge && foot.EdgeRemaining.Present {
					least, found = math.Min(least, float64(foot.EdgeRemaining.Value)), true
				}
			}
			if !found {
				return inapplicable("no leg stands on the edge of a plate")
			}
			return Reading{Value: least}
		})}

	Undercut = Quantity{Name: "undercut", Symbol: "h", Record: "a plan has no undercut", Unit: joints.UnitMM, Numbers: []string{"5011", "5012"},
		Doc: "depth of an undercut", Read: onlyMeasured("undercut", func(m *Measured) joints.Opt { return m.Undercut }), mend: repaired("undercut")}
	RootUndercut = Quantity{Name: "root-undercut", Symbol: "h", Record: "a plan has no root undercut", Unit: joints.UnitMM, Numbers: []string{"5013"},
		Doc:  "depth of a shrinkage groove beside the root of a butt weld",
		Read: onGrooves(onlyMeasured("root undercut", func(m *Measured) joints.Opt { return m.RootUndercut })), mend: repaired("root undercut")}
	Underfill = Quantity{Name: "underfill", Symbol: "h", Record: "a plan has no underfill", Unit: joints.UnitMM, Numbers: []string{"509", "511"},
		Doc:  "depth of a groove's face under the surface",
		Read: onGrooves(onlyMeasured("underfill", func(m *Measured) joints.Opt { return m.Underfill })), mend: repaired("underfill")}
	RootConcavity = Quantity{Name: "root-concavity", Symbol: "h", Record: "a plan has no root concavity", Unit: joints.UnitMM, Numbers: []string{"515"},
		Doc:  "depth of a hollow root",
		Read: onGrooves(onlyMeasured("root concavity", func(m *Measured) joints.Opt { return m.RootConcavity })), mend: repaired("root concavity")}
	RunOver = Quantity{Name: "run-over", Symbol: "h", Record: "a plan has no metal run over the toe", Unit: joints.UnitMM, Numbers: []string{"506"},
		Doc: "weld metal lying on a member beyond the toe without fusion", Read: onlyMeasured("metal run over the toe", func(m *Measured) joints.Opt { return m.RunOver }),
		mend: func(*Facts, *joints.Weld, Operator, float64) string { return "grind off what lies on the member" }}
	LackOfFusion = Quantity{Name: "lack-of-fusion", Symbol: "h", Record: "a plan has no lack of fusion", Unit: joints.UnitMM, Numbers: []string{"401"},
		Doc: "depth without fusion at a face", Read: onlyMeasured("lack of fusion", func(m *Measured) joints.Opt { return m.LackOfFusion }), mend: repaired("lack of fusion")}
	LackOfPenetration = Quantity{Name: "lack-of-penetration", Symbol: "h", Record: "a plan has no lack of penetration", Unit: joints.UnitMM, Numbers: []string{"4021"},
		Doc: "root left unwelded in a butt weld made from one side",
		Read: onGrooves(func(f *Facts, w *joints.Weld) Reading {
			if !f.Butts() || len(f.Section.Welds) > 1 {
				return inapplicable("speaks of butt welds made from one side")
			}
			return onlyMeasured("lack of penetration", func(m *Measured) joints.Opt { return m.LackOfPenetration })(f, w)
		}), mend: repaired("lack of penetration")}
	ThroatShortfall = Quantity{Name: "throat-shortfall", Symbol: "h", Record: ownThroat, Unit: joints.UnitMM, Numbers: []string{"5213"},
		Doc:  "by how much the throat of a fillet came out under the planned effective throat",
		Read: throatDeparture(1), mend: repaired("shortfall of the throat")}
	ThroatExcess = Quantity{Name: "throat-excess", Symbol: "h", Record: ownThroat, Unit: joints.UnitMM, Numbers: []string{"5214"},
		Doc:  "by how much the throat of a fillet came out over the planned effective throat",
		Read: throatDeparture(-1)}
)

var quantities = []*Quantity{&Convexity, &Concavity, &CapHeight, &RootHeight, &ToeAngle, &HiLo, &Asymmetry, &Gap, &RootOpening,
	&LegMinimum, &LegMaximum, &EffectiveThroat, &EdgeRemaining, &Undercut, &RootUndercut, &Underfill, &RootConcavity, &RunOver,
	&LackOfFusion, &LackOfPenetration, &ThroatShortfall, &ThroatExcess}

// Quantities lists every quantity.
func Quantities() []*Quantity { return slices.Clone(quantities) }

// LookupQuantity finds a quantity by its name, or by the number of its
// imperfection, alone or at the end of a rule's id.
func LookupQuantity(name string) (*Quantity, bool) {
	number := name
	for i := len(name) - 1; i >= 0; i-- {
		if name[i] == '/' {
			number = name[i+1:]
			break
		}
	}
	for _, q := range quantities {
		if q.Name == name || slices.Contains(q.Numbers, number) {
			return q, true
		}
	}
	return nil, false
}

func readLegs(f *Facts, w *joints.Weld, of func(a, b float64) float64) Reading {
	m, ok := f.Measured[w.ID]
	legs := [2]float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
	found := false
	for i := range legs {
		if ok && m.Legs[i].Present {
			legs[i], found = float64(m.Legs[i].Value), true
		}
	}
	return Reading{Value: of(legs[0], legs[1]), Measured: found}
}

// readToeAngle leaves out a groove's end without a toe: where a flush face
// meets the continuous member in its corner.
func readToeAngle(f *Facts, w *joints.Weld) Reading {
	if w.Kind == joints.EdgeWeld {
		return inapplicable("an edge weld has no toes on a surface")
	}
	least, found := math.Inf(1), false
	for i := range w.Feet {
		foot := &w.Feet[i]
		if w.Kind == joints.GrooveWeld && !f.Butts() && foot.Leg == 0 {
			continue
		}
		least, found = math.Min(least, foot.ToeAngle.Degrees()), true
	}
	if !found {
		return inapplicable("the weld has no toe on a plate")
	}
	return Reading{Value: least}
}

func flatterFace(_ *Facts, w *joints.Weld, _ Operator, _ float64) string {
	if w.Convexity > 0 {
		return "a flatter face"
	}
	return "a longer leg on the member with the steeper toe"
}

const ownThroat = "a plan has the throat it plans"

func throatDeparture(sign geometry.Length) func(*Facts, *joints.Weld) Reading {
	read := onlyMeasured("throat", func(m *Measured) joints.Opt { return m.Throat })
	return onFillets(func(f *Facts, w *joints.Weld) Reading {
		r := read(f, w)
		switch r.Verdict {
		case "":
			r.Value = math.Max(0, float64(sign)*(float64(w.EffectiveThroat)-r.Value))
		case NotApplicable:
			r.Note = ownThroat
		}
		return r
	})
}

func gapBound(_ *Facts, _ *joints.Weld, op Operator, bound float64, finding *Finding) {
	if op == AtMost {
		finding.GapAtMost(lengthOf(bound))
	}
}

// MeasureOr returns the first measure of the joint with the name, or another
// value where there is none.
func (f *Facts) MeasureOr(name string, other float64) float64 {
	for i := range f.Section.Measures {
		if m := &f.Section.Measures[i]; m.Name == name && m.Weld == "" {
			return m.Value
		}
	}
	return other
}
