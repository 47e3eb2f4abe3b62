package joints

import (
	"slices"
	"strings"
)

// ParamType says how a parameter is written.
type ParamType uint8

// The types of parameters.
const (
	ParamLength  ParamType = iota // one length, may carry a tolerance
	ParamLengths                  // one length for both members, or a list of two
	ParamAngle                    // degrees, may carry a tolerance
	ParamAngles                   // one angle for both members, or a list of two, in degrees
	ParamNumber
	ParamChoice
	ParamFlag // yes or no
)

// Param describes one parameter of a kind or of a weld: what a joint file, a
// one-liner, the schema, the starter file and the manual know about it.
type Param struct {
	Name    string
	Type    ParamType
	Default string // as one would write it in mm and degrees; empty: none, or needed
	Needed  bool
	Limits  Range    // in mm, radians or plain numbers; zero for choices and flags
	Choices []string // for choices
	Doc     string   // one line, plain words
	FitUp   bool     // the fitter sets it and it may carry a tolerance
	// Group names parameters that exclude each other; one of a group is given.
	Group string
	// With says that the parameter applies only where a choice of the joint
	// has one of the values; nil applies always.
	With *With
	// Usual bounds what a shop meets from day to day, in the unit of Limits;
	// starter files and random joints stay inside it.
	Usual Range
}

// With is the condition of a parameter: the choice it depends on and the
// values that make it apply.
type With struct {
	Choice string
	Values []string
}

// Holds reports whether the condition is met when the choice has the value.
func (w *With) Holds(value string) bool { return w == nil || slices.Contains(w.Values, value) }

// WeldSlot is a place where a kind can carry a weld.
type WeldSlot struct {
	ID     string
	Doc    string
	Params []Param
}

// MemberSlot is a member of a kind.
type MemberSlot struct {
	Name string
	Doc  string
}

// Kind describes one kind of joint completely: everything outside this
// package that depends on kinds reads it from here.
type Kind struct {
	Name    string
	Title   string
	Doc     string
	Members []MemberSlot
	Params  []Param
	Welds   []WeldSlot
	// Example is a one-liner that works as pasted after a command.
	Example string
	// Axis is the axis of round seams; upright when empty.
	Axis  Axis
	build func(*reader) (Section, error)
}

// Kinds lists the kinds of joint in the order of the manual. Adding one means
// adding its line here and its file beside this one.
var Kinds = []Kind{
	teeKind,
	lapKind,
	crossKind,
	buttKind,
	cornerKind,
	edgeKind,
	flareBevelKind,
	flareVKind,
	plugKind,
}

// LookupKind finds a kind by name.
func LookupKind(name string) (*Kind, bool) {
	for i := range Kinds {
		if strings.EqualFold(Kinds[i].Name, name) {
			return &Kinds[i], true
		}
	}
	return nil, false
}

// Param finds a parameter of the joint itself.
func (k *Kind) Param(name string) (*Param, bool) { return findParam(k.Params, name) }

// Slot finds the slot of a weld.
func (k *Kind) Slot(id string) (*WeldSlot, bool) {
	for i := range k.Welds {
		if k.Welds[i].ID == id {
			return &k.Welds[i], true
		}
	}
	return nil, false
}

// Member finds the slot of a member.
func (k *Kind) Member(name string) (*MemberSlot, bool) {
	for i := range k.Members {
		if k.Members[i].Name == name {
			return &k.Members[i], true
		}
	}
	return nil, false
}

// Param finds a parameter of the weld.
func (w *WeldSlot) Param(name string) (*Param, bool) { return findParam(w.Params, name) }

func findParam(ps []Param, name string) (*Param, bool) {
	for i := range ps {
		if ps[i].Name == name {
			return &ps[i], true
		}
	}
	return nil, false
}

// Value is one parameter as read: the text the user wrote and what it means,
// in mm, radians or plain numbers. List holds the two numbers of a
// [ParamLengths] or [ParamAngles]; a single one stands for both.
type Value struct {
	Text      string
	Number    float64
	List      []float64
	Choice    string
	Flag      bool
	Tolerance *Tolerance // in mm or degrees
}

// Input is a joint as a file or one-liner describes it, units resolved.
type Input struct {
	Kind   string
	Title  string
	Plates map[string]PlateInput
	Values map[string]Value
	Welds  map[string]map[string]Value
}

// PlateInput is a member as read.
type PlateInput struct {
	Thickness Value
	Material  string
}

// Build makes the section of an input. Unknown names, missing values and
// everything the kind refuses are reported together as [Faults].
func Build(in Input) (Section, error) { return build(in, everything) }

func build(in Input, e extent) (Section, error) {
	k, ok := LookupKind(in.Kind)
	if !ok {
		names := make([]string, len(Kinds))
		for i := range Kinds {
			names[i] = Kinds[i].Name
		}
		return Section{}, Faults{{Code: FaultUnknown, Field: "joint", Value: in.Kind,
			Rule: "is not a kind of joint on file", Remedy: "use one of " + strings.Join(names, ", ")}}
	}
	r := &reader{kind: k, in: in, extent: e}
	r.names()
	r.conditions()
	s, err := k.build(r)
	// The constructor's faults come after those of reading.
	faults := r.faults
	for _, f := range AsFaults(err) {
		if r.faults.Has(f.Code, f.Field) {
			continue // said already, in the words of the file
		}
		if !r.partial || f.Code == FaultRange || f.Code == FaultNotNumber || f.Code == FaultUnknown {
			faults = append(faults, f)
		}
	}
	if len(faults) > 0 {
		return Section{}, faults
	}
	if err != nil {
		return Section{}, err
	}
	if in.Title != "" {
		s.Title = in.Title
	}
	if e == everything {
		s.Parameters = r.parameters()
		s.tolerances()
	}
	return s, nil
}

// tolerances copies the tolerance of a fit-up parameter to the measure of the
// same name, so that a dimension prints it.
func (s *Section) tolerances() {
	for i := range s.Parameters {
		p := &s.Parameters[i]
		if p.Tolerance == nil {
			continue
		}
		for j := range s.Measures {
			m := &s.Measures[j]
			name := strings.ReplaceAll(m.Name, " ", "-")
			of := "welds." + m.Weld + "." + name
			if m.Member != "" && m.Weld == "" {
				name = m.Member + "." + name
			}
			if name == p.Name && m.Weld == "" {
				m.Tolerance = p.Tolerance
			}
			if p.Name == of {
				m.Tolerance = p.Tolerance
			}
		}
	}
}

// plateValue is the limits of a member's thickness as a parameter.
var plateValue = Param{Name: "thickness", Type: ParamLength, Needed: true, Limits: ThicknessRange,
	Doc: "plate thickness", Usual: Range{1, 12}}

// filletParams are the parameters of every fillet weld.
var filletParams = []Param{
	{Name: "leg", Type: ParamLengths, Needed: true, Group: "size", Limits: LegRange, Usual: Range{2, 8},
		Doc: "leg along each member's surface; one value for both or a list: continuous member, abutting member"},
	{Name: "throat", Type: ParamLength, Needed: true, Group: "size", Limits: LegRange, Usual: Range{1.5, 6},
		Doc: "effective throat wanted, instead of leg: equal legs follow from angle and gap"},
	{Name: "gauge-leg", Type: ParamLengths, Needed: true, Group: "size", Limits: LegRange, Usual: Range{2, 8},
		Doc: "size a gauge reads, from each toe square to the other member, instead of leg"},
	{Name: "face", Type: ParamChoice, Default: string(FaceFlat),
		Choices: []string{string(FaceFlat), string(FaceConvex), string(FaceConcave)}, Doc: "shape of the weld face"},
	{Name: "rise", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 0.6},
		Doc: "mid-face departure of a convex or concave face from the toe-to-toe chord"},
	{Name: "penetration", Type: ParamLength, Default: "0", Limits: FusionRange, Usual: Range{0, 0.8},
		Doc: "beyond the joint root along the faying surface; 0 claims none"},
	{Name: "proven", Type: ParamFlag, Default: "no",
		Doc: "yes: tests prove the penetration, so that it counts in the effective throat"},
	{Name: "fusion", Type: ParamLengths, Default: "0", Limits: FusionRange, Usual: Range{0, 0.8},
		Doc: "greatest depth melted into each member; 0 claims none"},
}

// grooveParams are the parameters of every groove weld.
var grooveParams = []Param{
	{Name: "cap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 2},
		Doc: "rise of the face over the toe-to-toe chord"},
	{Name: "cap-lap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 1.5},
		Doc: "how far each toe lies beyond the edge of the groove, where there is a cap"},
	{Name: "cap-shape", Type: ParamChoice, Default: string(CapArc), Choices: []string{string(CapArc), string(CapParabola), string(CapFlat)},
		Doc: "shape of cap and root reinforcement; parabola is the handbook's ⅔ of width times height"},
	{Name: "root", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 1.5},
		Doc: "rise of the root reinforcement of a full weld made from one side"},
	{Name: "root-lap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 1},
		Doc: "how far the root reinforcement reaches beyond the root opening on each side"},
	{Name: "climb", Type: ParamLength, Limits: ThicknessRange.fromZero(), Usual: Range{0, 3},
		Doc: "how far the face climbs a proud edge of the thicker member; the whole step, at most the thinner plate, when left out"},
	{Name: "penetration", Type: ParamLength, Default: "0", Limits: FusionRange, Usual: Range{0, 0.8},
		Doc: "beyond the root of a partial preparation; 0 claims none"},
	{Name: "proven", Type: ParamFlag, Default: "no",
		Doc: "yes: tests prove the penetration, so that it counts in the effective throat"},
	{Name: "fusion", Type: ParamLengths, Default: "0", Limits: FusionRange, Usual: Range{0, 0.8},
		Doc: "greatest depth melted into each groove face; 0 claims none"},
}
