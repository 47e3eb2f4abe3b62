package geometry

import "strings"

// Length is a length in millimetres. The zero value is no length.
type Length float64

// Units of length. The inch is 25.4 mm exactly (international yard and pound
// agreement, 1959).
const (
	Millimetre Length = 1
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25.4 * Millimetre
	Foot              = 12 * Inch
)

// Millimetres returns the length as a number of millimetres.
func (l Length) Millimetres() float64 { return float64(l) }

// Inches returns the length as a number of inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// In returns the length as a number of the unit u.
func (l Length) In(u Unit) float64 { return float64(l / u.Length()) }

// IsFinite reports whether the length is neither NaN nor infinite.
func (l Length) IsFinite() bool { return finite(float64(l)) }

// Unit is a unit of length that text may carry. The zero value is the
// millimetre.
type Unit uint8

// The units of length.
const (
	UnitMM Unit = iota
	UnitInch
	UnitCM
	UnitM
	UnitFoot
)

var units = [...]struct {
	name  string
	size  Length
	names []string
}{
	UnitMM:   {"mm", Millimetre, []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}},
	UnitInch: {"in", Inch, []string{"in", "inch", "inches", `"`, "″", "”", "''", "′′"}},
	UnitCM:   {"cm", Centimetre, []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}},
	UnitM:    {"m", Metre, []string{"m", "metre", "metres", "meter", "meters"}},
	UnitFoot: {"ft", Foot, []string{"ft", "foot", "feet", "'", "′", "’"}},
}

// String returns the short name: mm, in, cm, m, ft.
func (u Unit) String() string {
	if int(u) >= len(units) {
		return "unit?"
	}
	return units[u].name
}

// Length returns the size of one unit. An unknown unit counts as millimetres.
func (u Unit) Length() Length {
	if int(u) >= len(units) {
		return Millimetre
	}
	return units[u].size
}

// ParseUnit reads the name of a unit in any letter case, such as mm, in, inch
// or ft. The error is a [*ParseError].
func ParseUnit(s string) (Unit, error) {
	t := strings.TrimSpace(s)
	if t == "" {
		return 0, &ParseError{Code: ParseEmpty, Input: s, Rule: "a unit is needed", Remedy: "write mm, cm, m, in or ft"}
	}
	if u, ok := lookUnit(t); ok {
		return u, nil
	}
	return 0, &ParseError{Code: ParseUnknownUnit, Input: s, At: strings.Index(s, t), Rule: "unknown unit of length", Remedy: "write mm, cm, m, in or ft"}
}

func lookUnit(s string) (Unit, bool) {
	for u, row := range units {
		for _, n := range row.names {
			if strings.EqualFold(s, n) {
				return Unit(u), true
			}
		}
	}
	return 0, false
}
