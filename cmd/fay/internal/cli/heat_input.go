package cli

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
	"fay/joints/jointfile"
)

// heating reads the values of the arc and puts the joint's metals beside them.
// All faults are told at once.
func (j *job) heating(values heatValues) (*heating, error) {
	h := &heating{job: j}
	r := heatReader{h: h, values: values}
	h.in = heat.Input{Section: &j.doc.Section, Weld: values["weld"], Fahrenheit: j.doc.Units == geometry.UnitInch}
	if len(j.doc.Seams) > 0 {
		seam := &j.doc.Seams[0]
		h.in.Length = seam.Length
		if seam.Around > 0 {
			h.in.Length = math.Pi * seam.Around
		}
	}
	if text := values["done"]; text != "" {
		for id := range strings.SplitSeq(text, ",") {
			h.in.Done = append(h.in.Done, strings.TrimSpace(id))
		}
	}
	r.members()
	r.arc()
	r.fieldValues()
	if len(r.faults) > 0 {
		return nil, h.refused(r.faults)
	}
	return h, nil
}

// heatReader collects what is wrong with the values.
type heatReader struct {
	h      *heating
	values heatValues
	faults joints.Faults
}

func (r *heatReader) fault(code joints.FaultCode, field, value, rule, remedy string) {
	r.faults = append(r.faults, joints.Fault{Code: code, Field: field, Value: value, Rule: rule, Remedy: remedy})
}

func (r *heatReader) take(name, value, from string) {
	r.h.taken = append(r.h.taken, taken{name, value, from})
}

const (
	fromInput   = "given"
	fromDefault = "default"
)

// number reads a plain number with an optional unit.
func (r *heatReader) number(name, unit string) (v float64, given bool) {
	text, given := r.values[name]
	if !given {
		return 0, false
	}
	bare := strings.TrimSpace(strings.TrimSuffix(text, unit))
	v, err := strconv.ParseFloat(bare, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(bare, "xXpP_") {
		r.fault(joints.FaultNotNumber, name, text, "is not a number", "write "+name+"=…, a number"+in(unit))
		return 0, false
	}
	return v, true
}

func in(unit string) string {
	if unit == "" {
		return ""
	}
	return " in " + unit
}

// positive is number for what zero makes no sense for.
func (r *heatReader) positive(name, unit string, within joints.Range) (float64, bool) {
	v, given := r.number(name, unit)
	if given && !(v >= within.Min && v <= within.Max) {
		r.fault(joints.FaultRange, name, r.values[name],
			strings.TrimSpace(fmt.Sprintf("must lie between %s and %s %s", decimal(within.Min, 2), decimal(within.Max, 2), unit)), "check the unit and the decimal point")
		return 0, false
	}
	return v, given
}

func (r *heatReader) length(name string) (geometry.Length, bool) {
	text, given := r.values[name]
	if !given {
		return 0, false
	}
	l, err := r.parseLength(name, text)
	return l, err == nil
}

func (r *heatReader) parseLength(name, text string) (geometry.Length, error) {
	l, err := geometry.ParseLength(strings.TrimSpace(text), geometry.LengthSyntax{Bare: r.h.bare})
	if err == nil && !(l > 0) {
		err = fmt.Errorf("must be larger than zero")
	}
	if err != nil {
		r.fault(joints.FaultRange, name, text, "is not a length larger than zero", "write 1.5mm or 1/16in")
	}
	return l, err
}

// temperature reads °C, or °F where it says so.
func (r *heatReader) temperature(name, text string) (float64, bool) {
	bare := strings.ToUpper(strings.NewReplacer("°", "", " ", "").Replace(text))
	bare, f := strings.CutSuffix(bare, "F")
	if !f {
		bare = strings.TrimSuffix(bare, "C")
	}
	v, err := strconv.ParseFloat(bare, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		r.fault(joints.FaultNotNumber, name, text, "is not a temperature", "write 100, 100C or 212F")
		return 0, false
	}
	if f {
		v = heat.FromFahrenheit(v)
	}
	if !(v >= heat.PreheatRange.Min && v <= 4000) {
		r.fault(joints.FaultRange, name, text, fmt.Sprintf("must lie between %g and 4000 °C", heat.PreheatRange.Min), "check the unit")
		return 0, false
	}
	return v, true
}

// members settles metal, preheat, free edges and mass of every member.
func (r *heatReader) members() {
	s := &r.h.doc.Section
	known := map[string]bool{}
	all, given := heat.Room, false
	if text, ok := r.values["preheat"]; ok {
		if all, given = r.temperature("preheat", text); !given {
			all = heat.Room
		}
	}
	for i := range s.Members {
		m := &s.Members[i]
		known[m.Name] = true
		out := heat.Member{Preheat: all, Material: r.material(m)}
		from := fromDefault + ", a shop"
		if given {
			from = fromInput
		}
		if text, ok := r.values[m.Name+".preheat"]; ok {
			if v, ok := r.temperature(m.Name+".preheat", text); ok {
				out.Preheat, from = v, fromInput
			}
		}
		r.take(m.Name+" before the arc", r.h.celsius(out.Preheat), from)
		if text, ok := r.values[m.Name+".free-edge"]; ok {
			for part := range strings.SplitSeq(text, ",") {
				if l, err := r.parseLength(m.Name+".free-edge", part); err == nil {
					out.FreeEdges = append(out.FreeEdges, l)
				}
			}
			slices.Sort(out.FreeEdges)
			r.take(m.Name+" free edge", text, fromInput)
		}
		if v, ok := r.positive(m.Name+".mass", "kg", heat.MassRange); ok {
			out.Mass = v
			r.take(m.Name+" mass", decimal(v, 3)+" kg", fromInput)
		}
		r.h.in.Members = append(r.h.in.Members, out)
	}
	for name := range r.values {
		member, last, ok := strings.Cut(name, ".")
		if ok && slices.Contains(memberHeat, last) && !known[member] {
			r.fault(joints.FaultUnknown, name, r.values[name], member+" is not a member of this joint", "the members are "+memberNames(s))
		}
	}
}

func memberNames(s *joints.Section) string {
	var names []string
	for i := range s.Members {
		if !slices.Contains(names, s.Members[i].Name) {
			names = append(names, s.Members[i].Name)
		}
	}
	return strings.Join(names, ", ")
}

// material finds the thermal constants of a member.
func (r *heatReader) material(m *joints.Member) heat.Material {
	name, from := m.Material, "joint"
	if name == "" {
		name, from = r.values["material"], fromInput
	}
	s := &r.h.doc.Section
	if name == "" && m.Name == "backing" && len(s.Members) > 0 {
		name, from = s.Members[0].Material, fromDefault+", as the first member"
		if name == "" {
			name = r.values["material"]
		}
	}
	field := m.Name + ".material"
	if name == "" {
		r.fault(joints.FaultMissing, field, "", "the heat needs the metal of each member", "add "+field+"=6082, or material=6082 for all; `fay materials` lists the names")
		return heat.Material{}
	}
	found, err := r.h.catalogue.Material(name)
	if err != nil {
		r.fault(joints.FaultUnknown, field, name, "is not on file: its thermal constants are not known", "`fay materials` lists the names; the settings take your own, `like` another")
		return heat.Material{}
	}
	t, ok := found.Thermal()
	if !ok {
		why := "no thermal constants on file"
		if found.ClassNote != "" {
			why = found.ClassNote
		}
		r.fault(joints.FaultUnfit, field, found.Name, why, "name a metal with a thermal class; `fay materials` shows them")
		return heat.Material{}
	}
	text := "thermal constants of " + string(t.Class) + ": " + t.Source.Text
	switch {
	case found.OwnThermal != nil:
		text = "thermal constants: " + t.Source.Text
	case found.ClassNote != "":
		text += "; " + found.ClassNote
	}
	r.take(m.Name+" metal", found.Name, from)
	return heat.Material{
		Name: found.Name, Family: heat.Family(found.Family),
		Conductivity: t.Conductivity, Density: t.Density, HeatCapacity: t.HeatCapacity,
		Solidus: t.Solidus, Liquidus: t.Liquidus, LatentHeat: t.LatentHeat,
		HeatTreatable: found.HeatTreatable, HighMagnesium: found.HighMagnesium,
		Source: heat.Source{Text: text, Provenance: heat.Provenance(t.Source.Provenance)},
	}
}

// fieldValues settles what only the field needs.
func (r *heatReader) fieldValues() {
	h := r.h
	switch text := r.values["faces"]; text {
	case "", "open", "bonded", "contact":
		h.params.Faces = heat.Faces(text)
		from := fromInput
		if text == "" {
			text, from = "open", fromDefault+", dry plates conduct so little across a joint (own computation)"
		}
		r.take("faying faces", text, from)
	default:
		r.fault(joints.FaultUnknown, "faces", text, "must be open, contact or bonded", "leave it out for open")
	}
	if v, ok := r.positive("conductance", "W/(m²·K)", heat.ConductanceRange); ok {
		h.params.Conductance = v
	} else if h.params.Faces == heat.FacesContact && r.values["conductance"] == "" {
		h.params.Conductance = 5000
		r.take("conductance of the faces", "5000 W/(m²·K)", fromDefault+", dry plates, from memory, unverified")
	}
	if b := h.doc.Section.Backing; b != nil && b.Kind != joints.BackingStrip && h.params.Faces != "" && h.params.Faces != heat.FacesOpen {
		r.fault(joints.FaultConflict, "faces", string(h.params.Faces), "the backing of this joint is no metal", "leave it out for open")
	}
	switch text := r.values["aim"]; text {
	case "":
		r.take("aim", "50 % of the face", fromDefault)
	case "balanced":
		h.balanced = true
		r.take("aim", "balanced", fromInput)
	default:
		if v, ok := r.positive("aim", "%", joints.Range{Min: 0, Max: 100}); ok {
			h.params.AimShift = v/100 - 0.5
			r.take("aim", decimal(v, 1)+" % of the face", fromInput)
		}
	}
	if v, ok := r.positive("power", "W", joints.Range{Min: 1, Max: heat.PowerRange.Max}); ok {
		h.power = v
	}
	if v, ok := r.positive("detail", "", heat.DetailRange); ok {
		h.params.Detail = v
	}
	if text := r.values["levels"]; text != "" {
		for part := range strings.SplitSeq(text, ",") {
			if v, ok := r.temperature("levels", part); ok {
				h.levels = append(h.levels, v)
			}
		}
		if len(h.levels) > 12 {
			r.fault(joints.FaultRange, "levels", text, "at most 12 isotherms can be added", "give fewer")
		}
	}
}

// heatFields maps the fields of package heat to the names of the command.
var heatFields = map[string]string{
	"arc.amps": "amps", "arc.volts": "volts", "arc.machine": "machine", "arc.speed": "speed", "arc.spot": "spot",
	"arc.efficiency": "efficiency", "filler-area": "filler", "sizing": "detail",
	"faces.conductance": "conductance",
}

// refused puts the names of the command into faults of package heat. What the
// joint does not hold has no place in it.
func (h *heating) refused(err error) error {
	plain, ok := errors.AsType[joints.Faults](err)
	if !ok {
		return err
	}
	out := make(jointfile.Faults, 0, len(plain))
	for _, f := range plain {
		if name, ok := heatFields[f.Field]; ok {
			f.Field = name
		}
		if isHeatName(f.Field) {
			out = append(out, jointfile.Fault{Fault: f})
			continue
		}
		out = append(out, h.doc.Refuse(f))
	}
	return out
}
