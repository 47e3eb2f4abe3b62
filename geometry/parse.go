package geometry

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseCode says what is wrong with the text of a length, angle or tolerance.
type ParseCode string

// The faults of such text.
const (
	ParseEmpty       ParseCode = "empty"
	ParseNumber      ParseCode = "number"       // no number where one is needed
	ParseComma       ParseCode = "comma"        // a comma, which separates lists
	ParseFraction    ParseCode = "fraction"     // a zero or missing denominator
	ParseUnknownUnit ParseCode = "unknown-unit" // or text after the value
	ParseRange       ParseCode = "range"        // beyond MaxLength or MaxAngle
	ParseGaugeFamily ParseCode = "gauge-family" // a gauge without a material family
	ParseGaugeRange  ParseCode = "gauge-range"  // a gauge the family does not have
	ParseTolerance   ParseCode = "tolerance"    // a malformed tolerance
)

// ParseError is a fault of input text: what was given, the byte offset of the
// fault in it, the rule it breaks and what to write instead.
type ParseError struct {
	Code   ParseCode
	Input  string
	At     int
	Rule   string
	Remedy string
}

// Error gives input, rule and remedy in one line.
func (e *ParseError) Error() string {
	return fmt.Sprintf("%q: %s; %s", e.Input, e.Rule, e.Remedy)
}

// field is the part from…to of an input, so that faults keep their offset.
type field struct {
	in       string
	from, to int
}

func wholeField(s string) field { return field{s, 0, len(s)}.trim() }

func (f field) text() string { return f.in[f.from:f.to] }

func (f field) trim() field {
	t := f.text()
	f.from += len(t) - len(strings.TrimLeftFunc(t, unicode.IsSpace))
	f.to = f.from + len(strings.TrimSpace(t))
	return f
}

func (f field) fail(code ParseCode, at int, rule, remedy string) *ParseError {
	return &ParseError{Code: code, Input: f.in, At: f.from + at, Rule: rule, Remedy: remedy}
}

// vulgar are the typographic fractions a keyboard or a copied drawing may give.
var vulgar = map[rune]float64{
	'½': 1.0 / 2, '¼': 1.0 / 4, '¾': 3.0 / 4,
	'⅛': 1.0 / 8, '⅜': 3.0 / 8, '⅝': 5.0 / 8, '⅞': 7.0 / 8,
	'⅓': 1.0 / 3, '⅔': 2.0 / 3,
}

// quantity is a number and the text after it.
type quantity struct {
	value   float64
	integer bool
	unit    field
}

func isDigit(s string, i int) bool { return i < len(s) && '0' <= s[i] && s[i] <= '9' }

func digits(s string, i int) int {
	for isDigit(s, i) {
		i++
	}
	return i
}

// sign skips a sign at i and reports whether it is negative.
func sign(s string, i int) (next int, negative bool) {
	switch {
	case strings.HasPrefix(s[i:], "+"):
		return i + 1, false
	case strings.HasPrefix(s[i:], "-"):
		return i + 1, true
	case strings.HasPrefix(s[i:], "−"):
		return i + len("−"), true
	}
	return i, false
}

// scan reads the number at the start of a field: decimal, fraction or mixed.
func (f field) scan() (quantity, *ParseError) {
	s := f.text()
	if s == "" {
		return quantity{}, f.fail(ParseEmpty, 0, "a value is needed", "write a number such as 6")
	}
	if i := strings.IndexByte(s, ','); i >= 0 {
		return quantity{}, f.fail(ParseComma, i, "a comma separates lists and is not a decimal sign", "write the decimals with a point, as in 0.5")
	}
	i, negative := sign(s, 0)
	q, end, err := f.scanUnsigned(i)
	if err != nil {
		return quantity{}, err
	}
	if negative {
		q.value = -q.value
	}
	q.unit = field{f.in, f.from + end, f.to}.trim()
	return q, nil
}

func (f field) scanUnsigned(i int) (quantity, int, *ParseError) {
	s := f.text()
	if v, end, ok := vulgarAt(s, i); ok {
		return quantity{value: v}, end, nil
	}
	whole := digits(s, i)
	if isFractionBar(s, whole) && whole > i {
		return f.scanFraction(0, i)
	}
	if whole > i {
		next := skipSpace(s, whole)
		if v, end, ok := vulgarAt(s, next); ok {
			return quantity{value: number(s[i:whole]) + v}, end, nil
		}
		if next == whole && next < len(s) && s[next] == '-' {
			next++
		}
		if d := digits(s, next); next > whole && d > next && isFractionBar(s, d) {
			return f.scanFraction(number(s[i:whole]), next)
		}
	}
	end := whole
	if end < len(s) && s[end] == '.' {
		end = digits(s, end+1)
	}
	if end == i || end == i+1 && s[i] == '.' {
		return quantity{}, 0, f.fail(ParseNumber, i, "no number here", "write a number such as 6, 0.25 or 1/4")
	}
	integer := end == whole
	if end < len(s) && (s[end] == 'e' || s[end] == 'E') {
		exp, _ := sign(s, end+1)
		if d := digits(s, exp); d > exp && s[exp-1] < utf8.RuneSelf {
			end, integer = d, false
		}
	}
	return quantity{value: number(s[i:end]), integer: integer}, end, nil
}

// scanFraction reads digits/digits at i and adds the whole number before it.
func (f field) scanFraction(whole float64, i int) (quantity, int, *ParseError) {
	s := f.text()
	bar := digits(s, i)
	_, w := utf8.DecodeRuneInString(s[bar:])
	den := bar + w
	end := digits(s, den)
	if end == den {
		return quantity{}, 0, f.fail(ParseFraction, den, "the fraction has no denominator", "write it as in 1/4")
	}
	n, d := number(s[i:bar]), number(s[den:end])
	switch {
	case d == 0:
		return quantity{}, 0, f.fail(ParseFraction, den, "the denominator is zero", "write a fraction such as 1/4")
	case whole != 0 && n >= d:
		return quantity{}, 0, f.fail(ParseFraction, i, "the fraction after a whole number is one or more", "write it as in 2-1/4")
	}
	return quantity{value: whole + n/d}, end, nil
}

// number converts digits already scanned; too many of them give +Inf, which the
// range check refuses.
func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil && v == 0 {
		return math.NaN()
	}
	return v
}

func vulgarAt(s string, i int) (float64, int, bool) {
	if i >= len(s) {
		return 0, 0, false
	}
	r, w := utf8.DecodeRuneInString(s[i:])
	v, ok := vulgar[r]
	return v, i + w, ok
}

func isFractionBar(s string, i int) bool {
	return strings.HasPrefix(s[min(i, len(s)):], "/") || strings.HasPrefix(s[min(i, len(s)):], "⁄")
}

func skipSpace(s string, i int) int {
	return len(s) - len(strings.TrimLeftFunc(s[i:], unicode.IsSpace))
}

// LengthSyntax says how to read a length that leaves something open. The zero
// value reads bare numbers as millimetres and refuses gauges.
type LengthSyntax struct {
	Bare   Unit        // unit of a number without one
	Family GaugeFamily // material family of a gauge
}

// ParseLength reads a length: 6, 6mm, 0.25in, 1/4", 1-1/4in, 1 1/4 in, 2cm, 1m,
// 3ft, 16ga, ½". A sign is allowed; whether the value makes sense is for the
// caller. Not a number, infinities, hexadecimal and sizes beyond MaxLength are
// refused. The error is a [*ParseError].
func ParseLength(s string, syn LengthSyntax) (Length, error) {
	l, _, err := wholeField(s).length(syn)
	if err != nil {
		return 0, err
	}
	return l, nil
}

// length also returns the unit a bare number beside this one should take.
func (f field) length(syn LengthSyntax) (Length, Unit, *ParseError) {
	q, err := f.scan()
	if err != nil {
		return 0, 0, err
	}
	unit, name := syn.Bare, q.unit.text()
	switch strings.ToLower(name) {
	case "":
	case "ga", "gauge", "gage":
		l, err := f.gauge(q, syn.Family)
		return l, syn.Bare, err
	default:
		u, ok := lookUnit(name)
		if !ok {
			return 0, 0, q.unit.fail(ParseUnknownUnit, 0, fmt.Sprintf("unknown unit %q", name), "write mm, cm, m, in, ft or ga after the number")
		}
		unit = u
	}
	l := Length(q.value) * unit.Length()
	if !(l >= -MaxLength && l <= MaxLength) {
		return 0, 0, f.fail(ParseRange, 0, "the length is beyond 10 km", "check the unit")
	}
	return l, unit, nil
}

func (f field) gauge(q quantity, fam GaugeFamily) (Length, *ParseError) {
	if fam == NoGauge {
		return 0, q.unit.fail(ParseGaugeFamily, 0, "a gauge means another thickness in steel, aluminium and stainless", "name the material, or write the thickness in mm or in")
	}
	lo, hi := gaugeRange(fam)
	if !q.integer || !(q.value >= float64(lo) && q.value <= float64(hi)) {
		return 0, f.fail(ParseGaugeRange, 0, fmt.Sprintf("%s gauges run from %d to %d in whole numbers", fam, lo, hi), "write the thickness in mm or in")
	}
	l, err := GaugeThickness(fam, int(q.value))
	if err != nil {
		return 0, f.fail(ParseGaugeRange, 0, err.Error(), "write the thickness in mm or in")
	}
	return l, nil
}

// ParseAngle reads an angle: 90, 90deg, 90°, 22.5 deg, 1.2rad. A bare number is
// degrees. A sign is allowed; angles beyond MaxAngle are refused. The error is
// a [*ParseError].
func ParseAngle(s string) (Angle, error) {
	a, _, err := wholeField(s).angle(Degree)
	if err != nil {
		return 0, err
	}
	return a, nil
}

func (f field) angle(bare Angle) (Angle, Angle, *ParseError) {
	q, err := f.scan()
	if err != nil {
		return 0, 0, err
	}
	unit := bare
	switch name := strings.ToLower(q.unit.text()); name {
	case "":
	case "°", "º", "deg", "degree", "degrees":
		unit = Degree
	case "rad", "radian", "radians":
		unit = Radian
	default:
		return 0, 0, q.unit.fail(ParseUnknownUnit, 0, fmt.Sprintf("unknown unit %q of an angle", name), "write the angle in degrees, as in 60 or 60deg, or in rad")
	}
	a := Angle(q.value) * unit
	if !(a >= -MaxAngle && a <= MaxAngle) {
		return 0, 0, f.fail(ParseRange, 0, "the angle is beyond a full turn", "write it in degrees, or add rad")
	}
	return a, unit, nil
}
