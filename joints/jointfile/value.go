package jointfile

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"fay/geometry"
	"fay/joints"
)

// reading turns the items of a merged layer into typed values.
type reading struct {
	*layer
	familyOf func(material string) geometry.GaugeFamily
}

func (r *reading) refuse(it *item, code joints.FaultCode, rule, remedy string) {
	r.fault(code, it.path, it.text, it.at, rule, remedy)
}

// scalar returns the item where one was given that is one value.
func (r *reading) scalar(it *item) (*item, bool) {
	if it == nil {
		return nil, false
	}
	if it.isList {
		list := *it
		list.text = listText(it)
		r.refuse(&list, FaultShape, "is one value, not a list", "write one value")
		return nil, false
	}
	return it, true
}

func listText(it *item) string {
	words := make([]string, len(it.list))
	for i := range it.list {
		words[i] = it.list[i].text
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// text reads one line of printable text.
func (r *reading) text(it *item) string {
	it, ok := r.scalar(it)
	if !ok {
		return ""
	}
	return r.line(it)
}

func (r *reading) line(it *item) string {
	text := strings.TrimSpace(it.text)
	switch {
	case !printable(text):
		r.refuse(it, joints.FaultSyntax, "must be one line of printable text", "remove line breaks and control characters")
		return ""
	case utf8.RuneCountInString(text) > maxLine:
		r.refuse(it, joints.FaultRange, fmt.Sprintf("is longer than %d characters", maxLine), "shorten it")
		return ""
	}
	return text
}

func printable(text string) bool {
	return utf8.ValidString(text) && strings.IndexFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}

// lines reads a list of lines; a single value is a list of one.
func (r *reading) lines(it *item) []string {
	if it == nil {
		return []string{}
	}
	entries := it.list
	if !it.isList {
		entries = []item{*it}
	}
	if len(entries) > maxItems {
		long := *it
		long.text = fmt.Sprintf("%d entries", len(entries))
		r.refuse(&long, FaultTooLarge, fmt.Sprintf("holds more than %d entries", maxItems), "shorten the list")
		return []string{}
	}
	out := make([]string, 0, len(entries))
	for i := range entries {
		if line := r.line(&entries[i]); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// parse reports what a parser of package geometry refused.
func (r *reading) parse(it *item, err error) {
	code := joints.FaultSyntax
	var pe *geometry.ParseError
	if !errors.As(err, &pe) {
		r.refuse(it, code, err.Error(), "")
		return
	}
	if pe.Code == geometry.ParseRange {
		code = joints.FaultRange
	}
	if word := strings.ToLower(strings.Trim(it.text, "+-. ")); word == "nan" || word == "inf" || word == "infinity" {
		r.refuse(it, joints.FaultNotNumber, "must be a finite number", "give a plain number such as 6 or 1/4in")
		return
	}
	r.refuse(it, code, pe.Rule, pe.Remedy)
}

// length reads a length with or without a tolerance.
func (r *reading) length(it *item, family geometry.GaugeFamily) (joints.Value, bool) {
	l, tol, err := geometry.ParseToleranced(it.text, geometry.LengthSyntax{Bare: it.units, Family: family})
	if err != nil {
		r.parse(it, err)
		return joints.Value{}, false
	}
	v := joints.Value{Text: written(it), Number: l.Millimetres()}
	if tol != (geometry.Tolerance{}) {
		v.Tolerance = &joints.Tolerance{Plus: tol.Plus.Millimetres(), Minus: -tol.Minus.Millimetres()}
	}
	return v, true
}

// written is the text of a length with the unit that a bare number took, so
// that it means the same wherever it is printed.
func written(it *item) string {
	text := strings.TrimSpace(it.text)
	if it.units != geometry.UnitMM && strings.IndexFunc(text, func(r rune) bool { return unicode.IsLetter(r) || strings.ContainsRune(`"'″′”’`, r) }) < 0 {
		return text + " " + it.units.String()
	}
	return text
}

// param reads a parameter of the kind or of a weld.
func (r *reading) param(p *joints.Param, it *item) (joints.Value, bool) {
	if p.Type == joints.ParamLengths || p.Type == joints.ParamAngles {
		return r.pair(it, p.Type)
	}
	it, ok := r.scalar(it)
	if !ok {
		return joints.Value{}, false
	}
	text := strings.TrimSpace(it.text)
	switch p.Type {
	case joints.ParamLength, joints.ParamLengths:
		return r.length(it, geometry.NoGauge)
	case joints.ParamAngle, joints.ParamAngles:
		return r.angle(it)
	case joints.ParamNumber:
		n, ok := plainNumber(text)
		if !ok {
			r.refuse(it, joints.FaultSyntax, "is not a plain number", "write a number such as 0.5")
		}
		return joints.Value{Text: text, Number: n}, ok
	case joints.ParamChoice:
		word, ok := r.choice(it, p.Choices)
		return joints.Value{Text: text, Choice: word}, ok
	case joints.ParamFlag:
		yes, ok := r.flag(it)
		return joints.Value{Text: text, Flag: yes}, ok
	}
	return joints.Value{}, false
}

// angle reads an angle with or without a tolerance.
func (r *reading) angle(it *item) (joints.Value, bool) {
	a, tol, err := geometry.ParseTolerancedAngle(it.text)
	if err != nil {
		r.parse(it, err)
		return joints.Value{}, false
	}
	v := joints.Value{Text: strings.TrimSpace(it.text), Number: a.Radians()}
	if tol != (geometry.AngleTolerance{}) {
		v.Tolerance = &joints.Tolerance{Plus: tol.Plus.Degrees(), Minus: -tol.Minus.Degrees()}
	}
	return v, true
}

// pair reads one value for both members, or two as [3, 4] or 3,4.
func (r *reading) pair(it *item, of joints.ParamType) (joints.Value, bool) {
	read := func(it *item) (joints.Value, bool) { return r.length(it, geometry.NoGauge) }
	if of == joints.ParamAngles {
		read = r.angle
	}
	if !it.isList && strings.Contains(it.text, ",") {
		list := *it
		list.splitList(it.text)
		it = &list
	}
	if !it.isList {
		return read(it)
	}
	text := listText(it)
	if len(it.list) != 2 {
		list := *it
		list.text = text
		r.refuse(&list, FaultShape, "is one value for both members or a list of two", "write 3 or [3, 4]")
		return joints.Value{}, false
	}
	v := joints.Value{Text: text, List: make([]float64, 0, 2)}
	for _, entry := range it.list {
		entry.units = it.units
		one, ok := read(&entry)
		if !ok {
			return joints.Value{}, false
		}
		if one.Tolerance != nil {
			r.refuse(&entry, joints.FaultSyntax, "carries a tolerance inside a list", "give tolerances to single values only")
			return joints.Value{}, false
		}
		v.List = append(v.List, one.Number)
	}
	v.Number = v.List[0]
	return v, true
}

// plainNumber reads a decimal number: no hexadecimal, no underscores, no
// infinities, which strconv alone would let through.
func plainNumber(text string) (float64, bool) {
	if text == "" || strings.Trim(text, "0123456789.eE+-") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

func (r *reading) choice(it *item, choices []string) (string, bool) {
	text := strings.TrimSpace(it.text)
	for _, c := range choices {
		if strings.EqualFold(c, text) {
			return c, true
		}
	}
	remedy := "write one of them"
	if len(text) <= longestShown {
		if near := joints.Nearest(text, choices); near != "" {
			remedy = "did you mean " + near + "?"
		}
	}
	r.refuse(it, joints.FaultUnknown, "must be one of "+strings.Join(choices, ", "), remedy)
	return "", false
}

func (r *reading) flag(it *item) (yes, ok bool) {
	switch strings.ToLower(strings.TrimSpace(it.text)) {
	case "yes", "true":
		return true, true
	case "no", "false":
		return false, true
	}
	r.refuse(it, joints.FaultUnknown, "must be yes or no", "write yes or no")
	return false, false
}

// yes reads a flag of a common field; no where none was given.
func (r *reading) yes(it *item) bool {
	it, ok := r.scalar(it)
	if !ok {
		return false
	}
	yes, _ := r.flag(it)
	return yes
}

// within reads a length of a common field and checks its range.
func (r *reading) within(it *item) joints.Opt {
	it, ok := r.scalar(it)
	if !ok {
		return joints.Opt{}
	}
	v, ok := r.length(it, geometry.NoGauge)
	if !ok {
		return joints.Opt{}
	}
	limits := it.field.limits
	if v.Number < limits.Min || v.Number > limits.Max {
		r.refuse(it, joints.FaultRange, fmt.Sprintf("must lie between %g mm and %g mm", limits.Min, limits.Max),
			"check the unit: a bare number is in "+it.units.String())
		return joints.Opt{}
	}
	if v.Tolerance != nil {
		r.refuse(it, joints.FaultSyntax, "takes no tolerance", "write the length alone")
		return joints.Opt{}
	}
	return joints.Some(geometry.Length(v.Number))
}

// count reads a whole number from 1; 0 where none was given.
func (r *reading) count(it *item) int {
	it, ok := r.scalar(it)
	if !ok {
		return 0
	}
	limits := it.field.limits
	n, err := strconv.Atoi(strings.TrimSpace(it.text))
	if err != nil || n < int(limits.Min) || n > int(limits.Max) {
		code := joints.FaultSyntax
		if err == nil || errors.Is(err, strconv.ErrRange) {
			code = joints.FaultRange
		}
		r.refuse(it, code, fmt.Sprintf("must be a whole number from %d to %d", int(limits.Min), int(limits.Max)), "write digits only")
		return 0
	}
	return n
}

// date reads YYYY-MM-DD, the form that sorts and that nobody misreads.
func (r *reading) date(it *item) string {
	it, ok := r.scalar(it)
	if !ok {
		return ""
	}
	text := strings.TrimSpace(it.text)
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		r.refuse(it, joints.FaultSyntax, "is not a day of the calendar written year-month-day", "write a date such as 2026-03-02")
		return ""
	}
	return text
}
