package symbol

import (
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Parse reads the parameters of a joint of the kind back from its symbol, as a
// joint file would give them: sizes of the welds, preparation, root opening or
// gap of a prepared joint, backing. The input has neither kind nor plates nor
// what a symbol does not carry: thicknesses and materials, the dihedral angle,
// the gap of a fillet joint, alignment, hi-lo, overlap, cover, joggle, flanges,
// rounds, transitions, the rise of faces and caps, penetration that is not
// proven, fusion, the sizes of a backing, the legs of an edge weld, and how the
// two edges of a V or U share its angle. The error, if
// any, is of type [joints.Faults].
func Parse(s *Symbol, k *joints.Kind) (joints.Input, error) {
	p := parser{symbol: s, kind: k, in: joints.Input{Values: map[string]joints.Value{}, Welds: map[string]map[string]joints.Value{}}}
	for i := range s.Sides {
		if id := s.Sides[i].Weld; id != "" {
			p.prefix = strings.TrimSuffix(id, string([2]joints.Side{joints.ArrowSide, joints.OtherSide}[i]))
			if p.prefix == id {
				p.prefix = ""
			}
		}
	}
	for i := range s.Sides {
		p.weld(i)
	}
	p.preparation()
	if b := s.Sides[1].Backing; b != "" {
		p.set("backing", joints.Value{Text: string(b), Choice: string(b)})
	}
	if h := s.Sides[1].MeltThrough; h.Present {
		p.setWeld(0, "root", length(h.Value))
	}
	if len(p.faults) > 0 {
		return joints.Input{}, p.faults
	}
	return p.in, nil
}

type parser struct {
	symbol *Symbol
	kind   *joints.Kind
	prefix string // of the parameters, where a kind has several pairs of members
	in     joints.Input
	faults joints.Faults
}

func length(l geometry.Length) joints.Value {
	return joints.Value{Text: strconv.FormatFloat(float64(l), 'g', -1, 64), Number: float64(l)}
}

func angle(a geometry.Angle) joints.Value {
	return joints.Value{Text: strconv.FormatFloat(a.Degrees(), 'g', -1, 64), Number: float64(a)}
}

func lengths(a, b geometry.Length) joints.Value {
	v := length(a)
	v.List = []float64{float64(a), float64(b)}
	return v
}

func (p *parser) refuse(field, value string) {
	p.faults = append(p.faults, joints.Fault{Code: joints.FaultUnknown, Field: field, Value: value,
		Rule: "is not something that a " + p.kind.Name + " joint has", Remedy: "read the symbol as another kind of joint"})
}

// has tells whether the kind has a parameter.
func (p *parser) has(name string) bool {
	_, ok := p.kind.Param(p.prefix + name)
	return ok
}

func (p *parser) set(name string, v joints.Value) {
	if !p.has(name) {
		p.refuse(p.prefix+name, v.Text)
		return
	}
	p.in.Values[p.prefix+name] = v
}

func (p *parser) setWeld(i int, name string, v joints.Value) {
	id := p.symbol.Sides[i].Weld
	slot, ok := p.kind.Slot(id)
	if ok {
		_, ok = slot.Param(name)
	}
	if !ok {
		p.refuse("welds."+id+"."+name, v.Text)
		return
	}
	p.in.Welds[id][name] = v
}

func (p *parser) weld(i int) {
	s := &p.symbol.Sides[i]
	if s.Weld == "" {
		return
	}
	p.in.Welds[s.Weld] = map[string]joints.Value{}
	switch {
	case s.Legs != nil:
		p.setWeld(i, "leg", lengths(s.Legs.Length[0], s.Legs.Length[1]))
	case s.Throat.Present:
		p.setWeld(i, "throat", length(s.Throat.Value))
	}
	switch s.Glyph {
	case Edge:
		p.setWeld(i, "penetration", length(s.Size.Value))
	case FlareV, FlareBevel:
		p.setWeld(i, "fill", length(s.Depth.Value))
		p.setWeld(i, "throat", length(s.Effective.Value))
		return
	case Plug:
		p.plug(i, s)
		return
	case Fillet, Square, V, Bevel, U, J, Back:
	}
	slot, _ := p.kind.Slot(s.Weld)
	if slot == nil {
		return
	}
	// A groove's face is a cap, whose shape follows from its rise.
	if _, has := slot.Param("face"); has && s.Contour != "" {
		p.setWeld(i, "face", joints.Value{Text: string(s.Contour), Choice: string(s.Contour)})
	}
	if s.Depth.Present && s.Effective.Present && s.Effective.Value > s.Depth.Value {
		p.setWeld(i, "penetration", length(s.Effective.Value-s.Depth.Value))
		p.setWeld(i, "proven", joints.Value{Text: "yes", Flag: true})
	}
}

func (p *parser) plug(i int, s *Side) {
	p.set("diameter", length(s.Size.Value))
	if s.Slot.Present {
		p.set("slot-length", length(s.Slot.Value))
	}
	if s.GrooveAngle != 0 {
		p.set("countersink", angle(s.GrooveAngle))
	}
	if s.Fill.Present {
		p.setWeld(i, "fill", length(s.Fill.Value))
	}
}

func (p *parser) preparation() {
	a, b := &p.symbol.Sides[0], &p.symbol.Sides[1]
	if a.RootOpening.Present {
		name := "root-opening"
		if !p.has(name) {
			name = "gap"
		}
		p.set(name, length(a.RootOpening.Value))
	}
	switch a.Glyph {
	case Square:
		if a.Effective.Present {
			p.set("depth", length(a.Effective.Value))
		}
		if b.Effective.Present {
			p.set("other-depth", length(b.Effective.Value))
		}
		return
	case V, U, Bevel, J:
	default:
		return
	}
	double := b.Glyph == a.Glyph
	p.choose(string(a.Glyph), double)
	if a.Glyph == Bevel || a.Glyph == J {
		if p.has("prepared") {
			p.set("prepared", joints.Value{Text: p.symbol.Arrow.Prepared, Choice: p.symbol.Arrow.Prepared})
		}
	}
	p.flank("", a)
	if double {
		p.flank("other-", b)
	}
	if p.symbol.RootFace.Present {
		p.set("root-face", length(p.symbol.RootFace.Value))
	}
}

// choose sets the preparation by the word that the kind has for it.
func (p *parser) choose(glyph string, double bool) {
	words := []string{"single-" + glyph, glyph}
	if double {
		words = []string{"double-" + glyph}
	}
	param, ok := p.kind.Param(p.prefix + "prep")
	if !ok && p.has("form") { // an edge joint
		p.set("form", joints.Value{Text: string(joints.EdgeBevelled), Choice: string(joints.EdgeBevelled)})
		return
	}
	if ok {
		for _, w := range words {
			if slices.Contains(param.Choices, w) {
				p.set("prep", joints.Value{Text: w, Choice: w})
				return
			}
		}
	}
	p.refuse(p.prefix+"prep", glyph)
}

func (p *parser) flank(side string, s *Side) {
	switch both := s.Glyph == V || s.Glyph == U; {
	case both && p.has(side+"groove-angle"):
		p.set(side+"groove-angle", angle(s.GrooveAngle))
	case both:
		p.set(side+"bevel-angle", angle(s.GrooveAngle/2))
	default:
		p.set(side+"bevel-angle", angle(s.GrooveAngle))
	}
	if r := s.RootRadius; r[0].Present || r[1].Present {
		param, _ := p.kind.Param(p.prefix + side + "root-radius")
		switch {
		case !r[0].Present:
			p.set(side+"root-radius", length(r[1].Value))
		case !r[1].Present || param != nil && param.Type == joints.ParamLength:
			p.set(side+"root-radius", length(r[0].Value))
		default:
			p.set(side+"root-radius", lengths(r[0].Value, r[1].Value))
		}
	}
	if s.Depth.Present {
		p.set(side+"depth", length(s.Depth.Value))
	}
}
