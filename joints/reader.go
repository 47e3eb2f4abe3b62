package joints

import (
	"sort"
	"strings"

	"fay/geometry"
)

// reader hands the values of an input to a constructor, fills in defaults and
// reports names that the kind does not have.
type reader struct {
	kind   *Kind
	in     Input
	faults Faults
	// partial is set where a member had no thickness and a stand-in was
	// handed to the constructor: what it then says of geometry means nothing.
	partial bool
	extent  extent
}

// names reports unknown members, parameters and welds, and members without a
// thickness.
func (r *reader) names() {
	if r.allKnown() {
		return // as almost always, and then no order is needed
	}
	for _, name := range sortedKeys(r.in.Plates) {
		if _, ok := r.kind.Member(name); !ok {
			r.unknown(name, r.known())
		}
	}
	for _, name := range sortedKeys(r.in.Values) {
		if _, ok := r.kind.Param(name); !ok {
			r.unknown(name, r.known())
		}
	}
	for _, id := range sortedKeys(r.in.Welds) {
		slot, ok := r.kind.Slot(id)
		if !ok {
			ids := make([]string, len(r.kind.Welds))
			for i := range r.kind.Welds {
				ids[i] = r.kind.Welds[i].ID
			}
			r.unknown("welds."+id, ids)
			continue
		}
		for _, name := range sortedKeys(r.in.Welds[id]) {
			if _, ok := slot.Param(name); !ok {
				r.unknown("welds."+id+"."+name, paramNames(slot.Params))
			}
		}
	}
}

// allKnown reports whether the kind has every name of the input.
func (r *reader) allKnown() bool {
	for name := range r.in.Plates {
		if _, ok := r.kind.Member(name); !ok {
			return false
		}
	}
	for name := range r.in.Values {
		if _, ok := r.kind.Param(name); !ok {
			return false
		}
	}
	for id, values := range r.in.Welds {
		slot, ok := r.kind.Slot(id)
		if !ok {
			return false
		}
		for name := range values {
			if _, ok := slot.Param(name); !ok {
				return false
			}
		}
	}
	return true
}

// conditions reports parameters that do not apply to the choices made.
func (r *reader) conditions() {
	for i := range r.kind.Params {
		p := &r.kind.Params[i]
		if p.With == nil || !r.given(p.Name) {
			continue
		}
		if made := r.choice(p.With.Choice); !p.With.Holds(made) {
			r.faults = append(r.faults, p.With.fault(p.Name, r.in.Values[p.Name], made))
		}
	}
	for i := range r.kind.Welds {
		slot := &r.kind.Welds[i]
		for j := range slot.Params {
			p := &slot.Params[j]
			if p.With == nil {
				continue
			}
			v, given := r.in.Welds[slot.ID][p.Name]
			if !given {
				continue
			}
			if made := r.choice(p.With.Choice); !p.With.Holds(made) {
				r.faults = append(r.faults, p.With.fault("welds."+slot.ID+"."+p.Name, v, made))
			}
		}
	}
}

// fault refuses a parameter that does not apply to the choice made.
func (w *With) fault(field string, v Value, made string) Fault {
	return Fault{Code: FaultConflict, Field: field, Value: v.Text,
		Rule:   "does not apply with " + w.Choice + "=" + made,
		Remedy: "leave it out, or use " + w.Choice + "=" + strings.Join(w.Values, ", ")}
}

func (r *reader) known() []string {
	var names []string
	for _, m := range r.kind.Members {
		names = append(names, m.Name)
	}
	return append(names, paramNames(r.kind.Params)...)
}

func paramNames(ps []Param) []string {
	names := make([]string, len(ps))
	for i := range ps {
		names[i] = ps[i].Name
	}
	return names
}

func (r *reader) unknown(field string, known []string) {
	last := field[strings.LastIndexByte(field, '.')+1:]
	remedy := "use one of " + strings.Join(known, ", ")
	if near := Nearest(last, known); near != "" {
		remedy = "did you mean " + near + "?"
	}
	r.faults = append(r.faults, Fault{Code: FaultUnknown, Field: field,
		Rule: "is not a name that a " + r.kind.Name + " joint has", Remedy: remedy})
}

// Nearest returns the candidate closest in spelling to name, or "" where none
// is close enough to be meant.
func Nearest(name string, candidates []string) string {
	best, bestDist := "", len(name)/2+2
	for _, c := range candidates {
		if d := editDistance(strings.ToLower(name), strings.ToLower(c)); d < bestDist {
			best, bestDist = c, d
		}
	}
	return best
}

// editDistance counts insertions, deletions and substitutions.
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			next := min(row[j]+1, row[j-1]+1, diagonal+cost)
			diagonal, row[j] = row[j], next
		}
	}
	return row[len(b)]
}

func (r *reader) value(name string) Value {
	if v, ok := r.in.Values[name]; ok {
		return v
	}
	p, ok := r.kind.Param(name)
	if !ok {
		panic("joints: kind " + r.kind.Name + " reads " + name + ", which it does not declare")
	}
	return p.fallback()
}

// fallback is the default of a parameter as a value; zero where it has none.
// Defaults are constants of the program, so that one which cannot be read is
// our own mistake.
func (p *Param) fallback() Value {
	v := Value{Text: p.Default}
	if p.Default == "" || p.Default == "0" {
		return v
	}
	switch p.Type {
	case ParamLength, ParamLengths:
		l, err := geometry.ParseLength(p.Default, geometry.LengthSyntax{})
		if err != nil {
			panic("joints: default of " + p.Name + ": " + err.Error())
		}
		v.Number = float64(l)
	case ParamAngle, ParamAngles:
		a, err := geometry.ParseAngle(p.Default)
		if err != nil {
			panic("joints: default of " + p.Name + ": " + err.Error())
		}
		v.Number = float64(a)
	case ParamNumber:
		l, err := geometry.ParseLength(p.Default, geometry.LengthSyntax{})
		if err != nil {
			panic("joints: default of " + p.Name + ": " + err.Error())
		}
		v.Number = float64(l)
	case ParamChoice:
		v.Choice = p.Default
	case ParamFlag:
		v.Flag = p.Default == "yes"
	}
	return v
}

func (r *reader) length(name string) geometry.Length {
	v := r.value(name)
	return geometry.Length(v.Number)
}

func (r *reader) angle(name string) geometry.Angle {
	v := r.value(name)
	return geometry.Angle(v.Number)
}

func (r *reader) choice(name string) string {
	v := r.value(name)
	return v.Choice
}

func (r *reader) number(name string) float64 {
	v := r.value(name)
	return v.Number
}

// pair reads a value for both members.
func (v Value) pair() [2]float64 {
	if len(v.List) == 2 {
		return [2]float64{v.List[0], v.List[1]}
	}
	return [2]float64{v.Number, v.Number}
}

func (r *reader) lengths(name string) [2]geometry.Length {
	v := r.value(name)
	p := v.pair()
	return [2]geometry.Length{geometry.Length(p[0]), geometry.Length(p[1])}
}

func (r *reader) angles(name string) [2]geometry.Angle {
	v := r.value(name)
	p := v.pair()
	return [2]geometry.Angle{geometry.Angle(p[0]), geometry.Angle(p[1])}
}

func (r *reader) given(name string) bool {
	_, ok := r.in.Values[name]
	return ok
}

func (r *reader) plate(name string) Plate {
	in, ok := r.in.Plates[name]
	if !ok || in.Thickness.Text == "" {
		r.faults = append(r.faults, Fault{Code: FaultMissing, Field: name + ".thickness",
			Rule: "every member needs a thickness", Remedy: "give " + name + "=6 or " + name + ".thickness: 6"})
		r.partial = true
		return Plate{Thickness: 6, Material: in.Material}
	}
	return Plate{Thickness: geometry.Length(in.Thickness.Number), Material: in.Material}
}

// weldReader hands out the values of one weld.
type weldReader struct {
	slot   *WeldSlot
	values map[string]Value
}

// weld finds the values of a slot; the bool is false where the input has no
// such weld.
func (r *reader) weld(id string) (weldReader, bool) {
	values, ok := r.in.Welds[id]
	if !ok {
		return weldReader{}, false
	}
	slot, _ := r.kind.Slot(id)
	return weldReader{slot, values}, true
}

func (w weldReader) value(name string) Value {
	if v, ok := w.values[name]; ok {
		return v
	}
	p, ok := w.slot.Param(name)
	if !ok {
		panic("joints: weld " + w.slot.ID + " reads " + name + ", which it does not declare")
	}
	return p.fallback()
}

func (w weldReader) length(name string) geometry.Length { return geometry.Length(w.value(name).Number) }

func (w weldReader) lengths(name string) [2]geometry.Length {
	p := w.value(name).pair()
	return [2]geometry.Length{geometry.Length(p[0]), geometry.Length(p[1])}
}

// optional is a length that means something even when it is zero.
func (w weldReader) optional(name string) Opt {
	if v, ok := w.values[name]; ok {
		return Some(geometry.Length(v.Number))
	}
	return Opt{}
}

// fillet reads the fillet of a slot, or nil where the input has none.
func (r *reader) fillet(id string) *Fillet {
	w, ok := r.weld(id)
	if !ok {
		return nil
	}
	// A size of zero must not pass for a size not given.
	for _, name := range [3]string{"leg", "throat", "gauge-leg"} {
		v, given := w.values[name]
		if given && v.Number == 0 && len(v.List) == 0 {
			r.faults = append(r.faults, Fault{Code: FaultRange, Field: "welds." + id + "." + name, Value: v.Text,
				Rule: "must be larger than zero", Remedy: "give a size, or leave the weld out"})
		}
	}
	return &Fillet{
		Legs: w.lengths("leg"), Throat: w.length("throat"), GaugeLegs: w.lengths("gauge-leg"),
		Face: FaceShape(w.value("face").Choice), Rise: w.length("rise"),
		Penetration: w.length("penetration"), Proven: w.value("proven").Flag,
		Fusion: w.lengths("fusion"),
	}
}

// groove reads the groove weld of a slot, or nil where the input has none.
func (r *reader) groove(id string) *Groove {
	w, ok := r.weld(id)
	if !ok {
		return nil
	}
	return &Groove{
		Cap: w.length("cap"), CapLap: w.length("cap-lap"), CapShape: CapShape(w.value("cap-shape").Choice),
		Root: w.length("root"), RootLap: w.length("root-lap"), Climb: w.optional("climb"),
		Penetration: w.length("penetration"), Proven: w.value("proven").Flag, Fusion: w.lengths("fusion"),
	}
}

// parameters lists the inputs as taken, defaults included, in the order of
// the kind's description.
func (r *reader) parameters() []Parameter {
	n := 2*len(r.kind.Members) + len(r.kind.Params)
	for _, values := range r.in.Welds {
		n += len(values)
	}
	out := make([]Parameter, 0, n)
	for _, m := range r.kind.Members {
		in := r.in.Plates[m.Name]
		out = append(out, parameter(m.Name+".thickness", &plateValue, in.Thickness, false))
		if in.Material != "" {
			out = append(out, Parameter{Name: m.Name + ".material", Text: in.Material, Choice: in.Material})
		}
	}
	for i := range r.kind.Params {
		p := &r.kind.Params[i]
		v, given := r.in.Values[p.Name]
		if !given {
			if p.Default == "" {
				continue
			}
			v = p.fallback()
		}
		out = append(out, parameter(p.Name, p, v, !given))
	}
	for i := range r.kind.Welds {
		slot := &r.kind.Welds[i]
		values, ok := r.in.Welds[slot.ID]
		if !ok {
			continue
		}
		for j := range slot.Params {
			p := &slot.Params[j]
			if v, given := values[p.Name]; given {
				out = append(out, parameter("welds."+slot.ID+"."+p.Name, p, v, false))
			}
		}
	}
	return out
}

func parameter(name string, p *Param, v Value, isDefault bool) Parameter {
	out := Parameter{Name: name, Text: v.Text, Default: isDefault, FitUp: p.FitUp, Tolerance: v.Tolerance}
	switch p.Type {
	case ParamLength, ParamLengths:
		out.Value, out.Unit = v.Number, UnitMM
	case ParamAngle, ParamAngles:
		out.Value, out.Unit = geometry.Angle(v.Number).Degrees(), UnitDegree
	case ParamNumber:
		out.Value, out.Unit = v.Number, UnitRatio
	case ParamChoice:
		out.Choice = v.Choice
	case ParamFlag:
		out.Choice = "no"
		if v.Flag {
			out.Choice = "yes"
		}
	}
	return out
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
