package symbol_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
	"fay/render/symbol"

	"github.com/google/go-cmp/cmp"
)

// notCarried are the parameters that a welding symbol does not carry, with the
// reason. Every other parameter of every kind must come back from the symbol.
var notCarried = map[string]string{
	"angle":                "the dihedral angle is a dimension of the drawing; the tail names it where legs need it",
	"stem-end":             "the cut of a stem is a dimension of the part",
	"offset":               "where two stems stand to each other is a dimension of the part",
	"overlap":              "a dimension of the part",
	"align":                "a dimension of the part",
	"hi-lo":                "fit-up, not design",
	"transition":           "a dimension of the part",
	"transition-side":      "a dimension of the part",
	"backing-thickness":    "the symbol says that there is backing, the drawing how large",
	"backing-width":        "as its thickness",
	"backing-groove-width": "as its thickness",
	"backing-groove-depth": "as its thickness",
	"rise":                 "the contour says convex or concave, not by how much",
	"cap":                  "as rise",
	"cap-lap":              "as rise",
	"cap-shape":            "a convention of computing",
	"root-lap":             "melt-through gives a height only",
	"climb":                "between the toes a face lies as it falls",
	"cover":                "a dimension of the part",
	"upright-end":          "a dimension of the part",
	"joggle":               "a dimension of the part",
	"joggle-length":        "a dimension of the part",
	"form":                 "square and flanged edges have one symbol",
	"flange-height":        "a dimension of the part",
	"bend-radius":          "a dimension of the part",
	"section":              "a dimension of the part",
	"left-section":         "a dimension of the part",
	"right-section":        "a dimension of the part",
	"radius":               "a dimension of the part",
	"left-radius":          "a dimension of the part",
	"right-radius":         "a dimension of the part",
	"fusion":               "a claim about the weld, not an order",
}

// noSymbol are the welds that no glyph on file is drawn for.
var noSymbol = map[string]string{
	"notch": "one face is an edge, the other the ramp of a joggle: not a preparation",
}

// keep takes out of an input what its symbol should give back.
func keep(in joints.Input, syms []symbol.Symbol) joints.Input {
	// The gap of a fillet joint is fit-up; that of a prepared one is its root opening.
	openings := map[string]bool{}
	for i := range syms {
		side := &syms[i].Sides[0]
		if side.RootOpening.Present {
			openings[strings.TrimSuffix(strings.TrimSuffix(side.Weld, "arrow"), "outside")+"gap"] = true
		}
	}

	out := in
	out.Values, out.Welds = map[string]joints.Value{}, map[string]map[string]joints.Value{}
	for name, v := range in.Values {
		base := strings.TrimPrefix(name, "lower-")
		if notCarried[base] != "" || base == "gap" && !openings[name] {
			out.Values[name] = v
		}
	}
	for id, values := range in.Welds {
		kept := map[string]joints.Value{}
		for name, v := range values {
			// Only proven penetration of a partial groove shows, as E beyond S.
			unproven := (name == "penetration" || name == "proven") && !values["proven"].Flag
			if notCarried[name] != "" || unproven {
				kept[name] = v
			}
		}
		out.Welds[id] = kept
	}
	return out
}

// overlay puts what was read from a symbol into an input.
func overlay(in, read joints.Input) {
	maps.Copy(in.Values, read.Values)
	for id, values := range read.Welds {
		if in.Welds[id] == nil {
			in.Welds[id] = map[string]joints.Value{}
		}
		maps.Copy(in.Welds[id], values)
	}
}

// adjust puts back what single joints keep from their symbols, as Parse says.
func adjust(s *joints.Section, from joints.Input, to *joints.Input, sym *symbol.Symbol) {
	// How two bevels share the angle of a V or U.
	for _, name := range []string{"bevel-angle", "other-bevel-angle"} {
		v := from.Values[name]
		groove := strings.Replace(name, "bevel", "groove", 1)
		total, ok := to.Values[groove]
		if half, edge := to.Values[name]; edge && len(v.List) == 2 && s.Kind == "edge" {
			groove, total, ok = name, joints.Value{Number: 2 * half.Number}, true
		}
		if len(v.List) != 2 || !ok {
			continue
		}
		if math.Abs(v.List[0]+v.List[1]-total.Number) < 1e-9 {
			delete(to.Values, groove)
			to.Values[name] = v
		}
		if _, given := from.Values["other-"+name]; name == "bevel-angle" && !given {
			if _, given := from.Values["other-groove-angle"]; !given {
				if _, double := to.Values["other-groove-angle"]; double && sym.Sides[1].GrooveAngle == sym.Sides[0].GrooveAngle {
					delete(to.Values, "other-groove-angle")
				}
			}
		}
	}
	for i := range s.Welds {
		w := &s.Welds[i]
		values := from.Welds[w.ID]
		side := &sym.Sides[0]
		if w.Side == joints.OtherSide {
			side = &sym.Sides[1]
		}
		// A throat under the least that a joint file takes came from a root width.
		if root, ok := values["root-width"]; ok && to.Welds[w.ID]["throat"].Number < joints.LegRange.Min {
			delete(to.Welds[w.ID], "throat")
			to.Welds[w.ID]["root-width"] = root
		}
		// The size of an edge weld is its depth alone.
		if leg, ok := values["leg"]; ok && side.Glyph == symbol.Edge {
			to.Welds[w.ID]["leg"] = leg
		}
		partial := (w.Kind == joints.GrooveWeld || w.Kind == joints.EdgeWeld) && side.Depth.Present && side.Effective.Present
		if values["proven"].Flag && !partial {
			// A fillet's or a square groove's size does not divide into what was
			// laid and what was proven.
			to.Welds[w.ID]["proven"] = values["proven"]
			if p, ok := values["penetration"]; ok {
				to.Welds[w.ID]["penetration"] = p
				if name := map[joints.Side]string{joints.ArrowSide: "depth", joints.OtherSide: "other-depth"}[w.Side]; side.Glyph == symbol.Square && side.Effective.Present {
					v := to.Values[name]
					v.Number -= p.Number
					to.Values[name] = v
				}
			}
		}
	}
}

// outcome is what must agree between a joint and its symbol.
type outcome struct {
	ID                                   string
	Legs                                 [2]float64
	Theoretical, Effective, Area, Groove float64
	Root                                 geometry.Point
	Cap, RootHeight                      joints.Opt
}

func outcomes(s *joints.Section) []outcome {
	out := make([]outcome, 0, len(s.Welds))
	for i := range s.Welds {
		w := &s.Welds[i]
		out = append(out, outcome{w.ID, [2]float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}, float64(w.TheoreticalThroat),
			float64(w.EffectiveThroat), w.DepositedArea, w.GrooveArea, w.WeldRoot, w.CapHeight, w.RootHeight})
	}
	return out
}

var near = cmp.Comparer(func(a, b float64) bool {
	return math.Abs(a-b) <= 1e-7*(1+math.Abs(a)) || math.IsNaN(a) && math.IsNaN(b)
})

var nearLength = cmp.Comparer(func(a, b geometry.Length) bool { return math.Abs(float64(a-b)) <= 1e-7 })

// TestSymbolAgreesWithSection rebuilds random joints of every kind from their
// symbols: what the symbol carries is thrown away and read back from it.
func TestSymbolAgreesWithSection(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			glyphs := map[symbol.Glyph]int{}
			for _, sys := range symbol.Systems() {
				r := rand.New(rand.NewPCG(7, uint64(len(sys))))
				for range 150 {
					s, in, ok := jointstest.Section(k, r)
					if !ok {
						t.Fatal("no joint could be built")
					}
					syms, err := symbol.All(&s, nil, symbol.Options{System: sys})
					if slices.ContainsFunc(s.Welds, func(w joints.Weld) bool { return noSymbol[w.ID] != "" }) {
						if err == nil {
							t.Fatalf("a weld without a symbol got one: %+v", syms)
						}
						continue
					}
					if err != nil {
						t.Fatalf("%v: %v", in, err)
					}
					for _, sym := range syms {
						for j := range sym.Sides {
							glyphs[sym.Sides[j].Glyph]++
						}
					}
					for _, sym := range syms {
						if sym.Arrow.Prepared != "" {
							aims(t, &s, in, &sym)
						}
					}
					again(t, k, &s, in, syms)
					if t.Failed() {
						return
					}
				}
			}
			t.Log(glyphs)
		})
	}
}

// aims tells whether the arrow stands on the prepared member and goes into it.
func aims(t *testing.T, s *joints.Section, in joints.Input, sym *symbol.Symbol) {
	t.Helper()
	// A butt says which member is prepared; elsewhere the abutting one is.
	want := sym.Members[1]
	if k, _ := joints.LookupKind(in.Kind); k != nil {
		if p, ok := k.Param("prepared"); ok {
			if want = in.Values["prepared"].Choice; want == "" {
				want = p.Default
			}
		}
	}
	if sym.Arrow.Prepared != want {
		t.Errorf("want the arrow at the %s, got the %s: %+v", want, sym.Arrow.Prepared, in)
		return
	}
	i := slices.IndexFunc(s.Members, func(m joints.Member) bool { return m.Name == want })
	o := &s.Members[i].Outline
	if off := o.Distance(sym.Arrow.Tip); off > 1e-6 {
		t.Errorf("the tip lies %g mm off the %s: %+v", off, want, in)
	}
	w, _ := s.Weld(sym.Sides[0].Weld)
	// From the weld to the member the way is Toward.
	if o.Centroid().Sub(w.Centroid).Dot(sym.Arrow.Toward) <= 0 {
		t.Errorf("the arrow goes %v, away from the %s: %+v", sym.Arrow.Toward, want, in)
	}
}

func again(t *testing.T, k *joints.Kind, s *joints.Section, in joints.Input, syms []symbol.Symbol) {
	t.Helper()
	rest := keep(in, syms)
	for i := range syms {
		read, err := symbol.Parse(&syms[i], k)
		if err != nil {
			t.Fatalf("%+v: %v", syms[i], err)
		}
		overlay(rest, read)
		adjust(s, in, &rest, &syms[i])
	}
	// The throat of a joint file is that of the joint with its gap; here sizes
	// come as the throat of the profile where the penetration is proven.
	if slices.ContainsFunc(s.Welds, func(w joints.Weld) bool { return w.Proven && w.Kind == joints.FilletWeld }) && syms[0].System != symbol.AWS {
		throats(t, s, syms)
		return
	}
	back, err := joints.Build(rest)
	if err != nil {
		t.Fatalf("from its symbol: %v\n%+v\n%+v", err, in, rest)
	}
	if diff := cmp.Diff(outcomes(s), outcomes(&back), near, nearLength); diff != "" {
		t.Errorf("joint and symbol differ (-joint +symbol):\n%s\n%+v\n%+v\n%+v", diff, in, rest, syms)
	}
}

// throats compares a and s with the model where they stand in place of legs.
func throats(t *testing.T, s *joints.Section, syms []symbol.Symbol) {
	t.Helper()
	for i := range syms {
		for j := range syms[i].Sides {
			side := &syms[i].Sides[j]
			if !side.Throat.Present {
				continue
			}
			w, _ := s.Weld(side.Weld)
			if side.Throat.Value != w.TheoreticalThroat || side.Deep.Present && side.Deep.Value != w.EffectiveThroat {
				t.Errorf("%s: want a %v and s %v, got %+v", w.ID, w.TheoreticalThroat, w.EffectiveThroat, side)
			}
		}
	}
}
