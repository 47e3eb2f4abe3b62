package compare

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
)

// Sweep is a parameter with the values it takes.
type Sweep struct {
	Name string
	// Texts are the values as a joint file takes them.
	Texts []string
}

// SweepSyntax says how the values of a sweep are written.
type SweepSyntax struct {
	Form jointfile.Form
	Bare geometry.Unit // of a length without a unit
	// Step between values where the range itself names none; empty takes 1 mm
	// or 1/16 in, 5°, 1.
	Step string
}

// ParseSweep reads name=4..10, name=4..10/0.5, name=4,5,6 or name=v,bevel.
// Both ends of a range are taken; the last step may stop short of the upper
// one. A slash before a proper fraction belongs to it: 1/8..1/4 has the step
// of the syntax. The error is of type joints.Faults.
func ParseSweep(text string, syn SweepSyntax) (Sweep, error) {
	name, values, ok := strings.Cut(text, "=")
	if !ok || name == "" || strings.TrimSpace(values) == "" {
		return Sweep{}, sweepFault("sweep", text, joints.FaultSyntax, "is not a range or a list", "write leg=4..10, leg=4..10/0.5 or leg=4,5,6")
	}
	s := Sweep{Name: name}
	lo, rest, ranged := strings.Cut(values, "..")
	var err error
	if ranged {
		s.Texts, err = rangeOf(name, lo, rest, syn)
	} else {
		if syn.Step != "" {
			return Sweep{}, sweepFault(name, syn.Step, joints.FaultConflict, "a list has no step", "leave step out, or write a range: 4..10")
		}
		s.Texts, err = listOf(name, values, syn)
	}
	if err != nil {
		return Sweep{}, err
	}
	return s, nil
}

func sweepFault(field, value string, code joints.FaultCode, rule, remedy string) error {
	return joints.Faults{{Code: code, Field: field, Value: value, Rule: rule, Remedy: remedy}}
}

// listOf reads 4,5,6: each value is left as written.
func listOf(name, values string, syn SweepSyntax) ([]string, error) {
	var out []string
	seen := map[string]bool{}
	for item := range strings.SplitSeq(values, ",") {
		item = strings.TrimSpace(item)
		if item == "" {
			return nil, sweepFault(name, values, joints.FaultSyntax, "has an empty place in the list", "take the comma away")
		}
		if seen[item] {
			return nil, sweepFault(name, item, joints.FaultDuplicate, "is in the list twice", "keep one of the two")
		}
		seen[item] = true
		if syn.Form != jointfile.TextForm {
			if _, err := ParseValue(name, item, syn); err != nil {
				return nil, err
			}
		}
		out = append(out, item)
	}
	if len(out) > MostOptions {
		return nil, tooMany(name, len(out))
	}
	return out, nil
}

func tooMany(name string, n int) error {
	return sweepFault(name, strconv.Itoa(n), joints.FaultRange, fmt.Sprintf("values are more than %d", MostOptions), "take a larger step")
}

// rangeOf writes out lo..hi/step.
func rangeOf(name, lo, rest string, syn SweepSyntax) ([]string, error) {
	if syn.Form == jointfile.TextForm {
		return nil, sweepFault(name, lo+".."+rest, joints.FaultSyntax, "takes words, which have no range", "write a list: one,two")
	}
	hi, step := splitStep(rest)
	switch {
	case step != "" && syn.Step != "":
		return nil, sweepFault(name, step, joints.FaultConflict, "the step is given twice", "keep one of them")
	case step == "" && syn.Step != "":
		step = syn.Step
	case step == "":
		step = defaultStep(syn)
	}
	var v [3]float64
	for i, text := range [3]string{lo, hi, step} {
		var err error
		if v[i], err = ParseValue(name, text, syn); err != nil {
			return nil, err
		}
	}
	switch {
	case v[2] <= 0:
		return nil, sweepFault(name, step, joints.FaultRange, "a step must be larger than zero", "write the smaller value first and a step above zero")
	case v[1] < v[0]:
		return nil, sweepFault(name, lo+".."+hi, joints.FaultRange, "ends before it begins",
			"write the smaller value first; a step that is a fraction is written step="+step)
	}
	// A step that does not end on hi for rounding alone still takes hi.
	n := math.Floor((v[1]-v[0])/v[2]*(1+1e-12) + 1e-9)
	if n+1 > MostOptions {
		return nil, tooMany(name, int(math.Min(n+1, math.MaxInt32)))
	}
	out := make([]string, 0, int(n)+1)
	for i := range int(n) + 1 {
		out = append(out, Show(v[0]+float64(i)*v[2], syn))
	}
	return out, nil
}

// fraction matches 1/4, 5/16 in and 1-1/4" and captures the two numbers.
var fraction = regexp.MustCompile(`^(?:\d+(?:-| +))?(\d+)/(\d+) *(?:in|")?$`)

// splitStep divides hi/step. The slash of a proper fraction belongs to hi.
func splitStep(text string) (hi, step string) {
	text = strings.TrimSpace(text)
	if proper(text) {
		return text, ""
	}
	i := strings.IndexByte(text, '/')
	if i < 0 {
		return text, ""
	}
	// 1/4/1/16: the first slash that leaves a whole value on its left.
	if j := strings.IndexByte(text[i+1:], '/'); j >= 0 && proper(text[:i+1+j]) {
		i += 1 + j
	}
	return strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:])
}

func proper(text string) bool {
	m := fraction.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	a, errA := strconv.Atoi(m[1])
	b, errB := strconv.Atoi(m[2])
	return errA == nil && errB == nil && a < b
}

func defaultStep(syn SweepSyntax) string {
	switch {
	case syn.Form == jointfile.AngleForm:
		return "5"
	case syn.Form == jointfile.LengthForm && syn.Bare == geometry.UnitInch:
		return "1/16"
	}
	return "1"
}

// ParseValue reads a value in mm, degrees or as a plain number.
func ParseValue(name, text string, syn SweepSyntax) (float64, error) {
	text = strings.TrimSpace(text)
	var v float64
	var err error
	switch syn.Form {
	case jointfile.LengthForm:
		var l geometry.Length
		l, err = geometry.ParseLength(text, geometry.LengthSyntax{Bare: syn.Bare})
		v = float64(l)
	case jointfile.AngleForm:
		var a geometry.Angle
		a, err = geometry.ParseAngle(text)
		v = a.Degrees()
	default:
		v, err = strconv.ParseFloat(text, 64)
	}
	if err != nil || math.IsNaN(v) || math.Abs(v) > 1e6 {
		return 0, sweepFault(name, text, joints.FaultSyntax, "is not a value of "+name, "write numbers, such as 4..10, 4..10/0.5 or 4,5,6")
	}
	return v, nil
}

// Show writes a value as a joint file takes it: lengths with their unit.
func Show(v float64, syn SweepSyntax) string {
	number := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64) }
	if syn.Form != jointfile.LengthForm {
		return number(v)
	}
	if syn.Bare == geometry.UnitInch {
		return number(geometry.Length(v).Inches()) + "in"
	}
	return number(v) + "mm"
}

// Variable is the letter that stands for the swept value in assignments.
const Variable = "t"

// term matches t, 0.75t, 0.75*t, t/2.
var term = regexp.MustCompile(`^(\d*\.?\d*)\*?` + Variable + `(?:/(\d*\.?\d+))?$`)

// Uses reports whether an assignment depends on the variable.
func Uses(assignment string) bool {
	_, value, ok := strings.Cut(assignment, "=")
	return ok && term.MatchString(strings.TrimSpace(value))
}

// Substitute puts a length in for the variable: leg=0.75t becomes leg=6mm for
// 8 mm. Other assignments are returned as they are.
func Substitute(assignment string, t geometry.Length) string {
	name, value, ok := strings.Cut(assignment, "=")
	if !ok {
		return assignment
	}
	m := term.FindStringSubmatch(strings.TrimSpace(value))
	if m == nil {
		return assignment
	}
	v := float64(t)
	if m[1] != "" {
		factor, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return assignment // a lone point
		}
		v *= factor
	}
	if m[2] != "" {
		divisor, err := strconv.ParseFloat(m[2], 64)
		if err != nil || divisor == 0 {
			return assignment
		}
		v /= divisor
	}
	return name + "=" + strconv.FormatFloat(v, 'f', 9, 64) + "mm"
}
