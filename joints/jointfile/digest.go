package jointfile

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"slices"
	"strconv"

	"fay/joints"
)

// digestForm is hashed first, so that a later change of what is hashed shows.
const digestForm = "fay.joint/1"

// digest hashes the meaning of the document: every value that was given,
// lengths in millimetres and angles in radians, in the order of the kind's
// description. Values equal to their default count as not given, so that a
// parameter added to a kind later leaves old digests alone.
func digest(d *Document) string {
	h := canonicalText{text: make([]byte, 0, 1024)}
	h.line("form", digestForm)
	h.line("joint", d.Input.Kind)
	h.line("title", d.Input.Title)
	kind, _ := joints.LookupKind(d.Input.Kind)
	for _, m := range kind.Members {
		p := d.Input.Plates[m.Name]
		h.prefix = m.Name
		h.value(".thickness", &p.Thickness)
		h.line(".material", p.Material)
	}
	h.prefix = ""
	h.params(kind.Params, d.Input.Values)
	for _, slot := range kind.Welds {
		if values, ok := d.Input.Welds[slot.ID]; ok {
			h.prefix = ""
			h.line(weldsGroup, slot.ID)
			h.prefix = slot.ID + "."
			h.params(slot.Params, values)
		}
	}
	h.prefix = "traveler."
	t := &d.Traveler
	for _, f := range [][2]string{{"job", t.Job}, {"part", t.Part}, {"joint", t.Joint}, {"revision", t.Revision}, {"planner", t.Planner}, {"date", t.Date},
		{"changed", t.Changed}, {"reason", t.Reason}, {"revised-by", t.RevisedBy}} {
		h.line(f[0], f[1])
	}
	h.number("quantity", float64(t.Quantity))
	seams := d.Seams
	if len(seams) == 0 {
		seams = []Seam{{}}
	}
	for i := range seams {
		h.prefix = seamPath(i+1) + "."
		h.seam(&seams[i].Seam, &d.Section)
	}
	h.prefix = ""
	h.line("filler.type", d.Filler.Type)
	h.line("filler.process", d.Filler.Process)
	h.opt("filler.diameter", d.Filler.Diameter)
	h.opt("filler.length", d.Filler.Length)
	h.opt("filler.stub", d.Filler.Stub)
	if d.Filler.StubFused != nil {
		h.line("filler.stub-fused", strconv.FormatBool(*d.Filler.StubFused))
	}
	for _, c := range d.Checks {
		h.line("checks", c)
	}
	for _, n := range d.Notes {
		h.line("notes", n)
	}
	sum := sha256.Sum256(h.text)
	return hex.EncodeToString(sum[:])
}

// seam hashes what is given of a seam. The axis that the kind has anyway and
// welds that are all of the section's say nothing.
func (h *canonicalText) seam(s *joints.Seam, section *joints.Section) {
	for _, f := range []struct {
		name string
		v    float64
	}{
		{"length", s.Length.Millimetres()}, {"around", s.Around.Millimetres()}, {"segment", s.Segment.Millimetres()},
		{"pitch", s.Pitch.Millimetres()}, {"segments", float64(s.Segments)},
	} {
		if f.v != 0 {
			h.number(f.name, f.v)
		}
	}
	h.number("count", float64(max(s.Count, 1)))
	if s.Inside {
		h.line("inside", "yes")
	}
	if s.Staggered {
		h.line("staggered", "yes")
	}
	if s.Axis != SeamAxis(section.Kind, "") && s.Axis != "" {
		h.line("axis", string(s.Axis))
	}
	if len(s.Welds) > 0 && len(s.Welds) < len(section.Welds) {
		for i := range section.Welds {
			if slices.Contains(s.Welds, section.Welds[i].ID) {
				h.line("welds", section.Welds[i].ID)
			}
		}
	}
}

// canonicalText collects name and value lines; quoting keeps them apart.
type canonicalText struct {
	text   []byte
	prefix string // of names
}

func (h *canonicalText) line(name, value string) {
	if value == "" {
		return
	}
	h.name(name)
	h.text = append(appendQuote(h.text, value), '\n')
}

func (h *canonicalText) name(name string) {
	h.text = append(append(append(h.text, h.prefix...), name...), ' ')
}

// appendQuote is strconv.AppendQuote, which looks longer at what needs no more
// than quotes round it.
func appendQuote(to []byte, s string) []byte {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return strconv.AppendQuote(to, s)
		}
	}
	return append(append(append(to, '"'), s...), '"')
}

// number is the line of numbers that make one value.
func (h *canonicalText) number(name string, values ...float64) {
	h.name(name)
	h.text = append(h.text, '"')
	for i, v := range values {
		if i > 0 {
			h.text = append(h.text, ' ')
		}
		h.text = appendNumber(h.text, digestNumber(v))
	}
	h.text = append(h.text, "\"\n"...)
}

// appendNumber writes all digits of a number; most are whole.
func appendNumber(to []byte, v float64) []byte {
	if n := int64(v); float64(n) == v && math.Abs(v) < 1e15 {
		return strconv.AppendInt(to, n, 10)
	}
	return strconv.AppendFloat(to, v, 'f', -1, 64)
}

func (h *canonicalText) opt(name string, v joints.Opt) {
	if v.Present {
		h.number(name, v.Value.Millimetres())
	}
}

// params hashes the values given of so many parameters, in their order.
func (h *canonicalText) params(params []joints.Param, values map[string]joints.Value) {
	left := len(values)
	for i := 0; i < len(params) && left > 0; i++ {
		p := &params[i]
		v, ok := values[p.Name]
		if !ok {
			continue
		}
		left--
		if !isDefault(p, &v) {
			h.value(p.Name, &v)
		}
	}
}

func (h *canonicalText) value(name string, v *joints.Value) {
	switch {
	case v.Choice != "":
		h.line(name, v.Choice)
	case len(v.List) == 2 && digestNumber(v.List[0]) != digestNumber(v.List[1]):
		h.number(name, v.List...)
	case v.Flag:
		h.line(name, "yes")
	default:
		h.number(name, v.Number)
	}
	if t := v.Tolerance; t != nil {
		h.number(name+" tolerance", t.Plus, t.Minus)
	}
}

// isDefault compares with the default as one would write it.
func isDefault(p *joints.Param, v *joints.Value) bool {
	if p.Default == "" || v.Tolerance != nil {
		return false
	}
	if p.Type == joints.ParamChoice {
		return v.Choice == p.Default
	}
	if p.Type == joints.ParamFlag {
		return v.Flag == (p.Default == "yes")
	}
	want, err := strconv.ParseFloat(p.Default, 64)
	if err != nil {
		return false
	}
	if p.Type == joints.ParamAngle || p.Type == joints.ParamAngles {
		want *= math.Pi / 180
	}
	for _, n := range v.List {
		if digestNumber(n) != digestNumber(want) {
			return false
		}
	}
	return digestNumber(v.Number) == digestNumber(want)
}

// digestNumber rounds away what depends on the unit a value was typed in:
// 1/4in and 6.35 are one size.
func digestNumber(v float64) float64 {
	v = math.Round(v*1e9) / 1e9
	if v == 0 {
		return 0 // not −0
	}
	return v
}
