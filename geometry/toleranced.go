package geometry

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Tolerance is how far a length may lie above and below its nominal value, both
// counted positive. The zero value allows nothing, or means none was given.
type Tolerance struct{ Plus, Minus Length }

// AngleTolerance is the same for an angle.
type AngleTolerance struct{ Plus, Minus Angle }

// ParseToleranced reads a length with an optional tolerance: 0.5, 0.5 ±0.3,
// 0.5 +-0.3, 0.5 +1.0 -0.5, 1/16in +1/16in -0. A side not given is 0. A bare
// number in the tolerance takes the unit written with the nominal value, else
// the one of syn; so 1/4in ±0.02 is all inches. The error is a [*ParseError].
func ParseToleranced(s string, syn LengthSyntax) (Length, Tolerance, error) {
	nominal, parts, err := splitTolerance(s)
	if err != nil {
		return 0, Tolerance{}, err
	}
	l, unit, err := nominal.length(syn)
	if err != nil {
		return 0, Tolerance{}, err
	}
	var tol Tolerance
	for _, p := range parts {
		v, _, err := p.value.length(LengthSyntax{Bare: unit})
		if err != nil {
			return 0, Tolerance{}, err
		}
		if p.plus {
			tol.Plus = v
		}
		if p.minus {
			tol.Minus = v
		}
	}
	return l, tol, nil
}

// ParseTolerancedAngle reads an angle with an optional tolerance: 60, 60 ±5,
// 60 +10 -5, 60deg +0 -5deg. The error is a [*ParseError].
func ParseTolerancedAngle(s string) (Angle, AngleTolerance, error) {
	nominal, parts, err := splitTolerance(s)
	if err != nil {
		return 0, AngleTolerance{}, err
	}
	a, unit, err := nominal.angle(Degree)
	if err != nil {
		return 0, AngleTolerance{}, err
	}
	var tol AngleTolerance
	for _, p := range parts {
		v, _, err := p.value.angle(unit)
		if err != nil {
			return 0, AngleTolerance{}, err
		}
		if p.plus {
			tol.Plus = v
		}
		if p.minus {
			tol.Minus = v
		}
	}
	return a, tol, nil
}

// tolerancePart is the value behind +, − or ±.
type tolerancePart struct {
	plus, minus bool
	value       field
}

var toleranceSigns = []struct {
	text        string
	plus, minus bool
}{
	{"±", true, true}, {"+/-", true, true}, {"+-", true, true}, {"+−", true, true},
	{"+", true, false}, {"-", false, true}, {"−", false, true},
}

// splitTolerance parts the text before each sign that begins a tolerance.
func splitTolerance(s string) (nominal field, parts []tolerancePart, err *ParseError) {
	all := wholeField(s)
	nominal = all
	t := all.text()
	i, _ := sign(t, 0)
	for i < len(t) {
		sg := toleranceSignAt(t, i)
		if sg < 0 {
			_, w := utf8.DecodeRuneInString(t[i:])
			i += w
			continue
		}
		row := toleranceSigns[sg]
		closeField(&nominal, parts, all.from+i)
		for _, p := range parts {
			if p.plus && row.plus || p.minus && row.minus {
				return field{}, nil, all.fail(ParseTolerance, i, "the tolerance states one side twice", "write ±0.3, or +1.0 -0.5")
			}
		}
		i += len(row.text)
		parts = append(parts, tolerancePart{row.plus, row.minus, field{s, all.from + i, all.to}})
		// A sign right behind the sign would make the tolerance negative.
		if next := skipSpace(t, i); next < len(t) {
			if after, _ := sign(t, next); after > next {
				return field{}, nil, all.fail(ParseTolerance, next, "a tolerance is a size and has no sign of its own", "write ±0.3, or +1.0 -0.5")
			}
		}
	}
	nominal = nominal.trim()
	for k := range parts {
		parts[k].value = parts[k].value.trim()
		if v := parts[k].value; v.text() == "" {
			return field{}, nil, v.fail(ParseTolerance, 0, "the tolerance has no value", "write ±0.3, or +1.0 -0.5")
		}
	}
	return nominal, parts, nil
}

// closeField ends the part being read where the next sign stands.
func closeField(nominal *field, parts []tolerancePart, to int) {
	if n := len(parts); n > 0 {
		parts[n-1].value.to = to
	} else {
		nominal.to = to
	}
}

// toleranceSignAt returns the row of the sign at i, or −1 where there is none
// or it belongs to a number: the hyphen of 1-1/4, the sign of 1e-3.
func toleranceSignAt(t string, i int) int {
	for k, row := range toleranceSigns {
		if !strings.HasPrefix(t[i:], row.text) {
			continue
		}
		if inNumber(t, i, row.text) {
			return -1
		}
		return k
	}
	return -1
}

func inNumber(t string, i int, text string) bool {
	if i == 0 || len(text) != 1 || !isDigit(t, i+1) {
		return false
	}
	if (t[i-1] == 'e' || t[i-1] == 'E') && i > 1 && (isDigit(t, i-2) || t[i-2] == '.') {
		return true
	}
	if text != "-" || !isDigit(t, i-1) {
		return false
	}
	start := i
	for start > 0 && isDigit(t, start-1) {
		start--
	}
	if start > 0 {
		if r, _ := utf8.DecodeLastRuneInString(t[:start]); r == '.' || r == '/' || unicode.IsLetter(r) {
			return false
		}
	}
	return isFractionBar(t, digits(t, i+1))
}
