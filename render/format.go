package render

import (
	"math"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Numbers says how numbers are lettered. Lengths come in millimetres and are
// printed in Unit without its name; the sheet states the unit once.
type Numbers struct {
	Unit geometry.Unit
	// Decimal is the decimal marker, a comma on ISO drawings.
	Decimal string
	// LeadingZero prints 0.5 rather than .5.
	LeadingZero bool
	// Decimals is the most decimals a length is given; trailing zeros go
	// unless Fixed keeps them, as inch drawings do.
	Decimals int
	Fixed    bool
	// Denominator prints inches as fractions where a fraction of that
	// denominator, or a 32nd or 64th, is exact; 0 prints decimals only.
	Denominator int
}

// exactFraction is how far in mm a fraction may lie from the length it is
// printed for: half a unit of the third decimal of an inch would show already,
// a hundredth of that is the noise of a conversion. One that is finer than the
// denominator asked for must be meant: a millionth of an inch.
const (
	exactFraction = 1e-4
	meantFraction = 25.4e-6
	// finest is the last fraction on a rule: three decimals do not hold a 32nd.
	finest = 64
)

// Length letters a length given in mm.
func (n Numbers) Length(mm float64) string {
	if n.Unit == geometry.UnitInch && n.Denominator > 0 {
		f := geometry.Length(mm).Fraction(n.Denominator)
		if f.Den != 0 && math.Abs(float64(f.Err)) < exactFraction {
			return f.String()
		}
		if f = geometry.Length(mm).Fraction(finest); f.Den != 0 && math.Abs(float64(f.Err)) < meantFraction {
			return f.String()
		}
	}
	return n.number(geometry.Length(mm).In(n.Unit), n.Decimals, n.Fixed && mm != 0)
}

// Area letters an area given in mm².
func (n Numbers) Area(mm2 float64) string {
	u := float64(n.Unit.Length())
	return n.number(mm2/(u*u), n.Decimals, n.Fixed)
}

// Angle letters an angle given in degrees, to a tenth.
func (n Numbers) Angle(degrees float64) string {
	m := n
	m.LeadingZero = true
	return m.number(degrees, 1, false) + "°"
}

// Number letters a plain number.
func (n Numbers) Number(v float64, decimals int) string {
	m := n
	m.LeadingZero = true
	return m.number(v, decimals, false)
}

func (n Numbers) number(v float64, decimals int, fixed bool) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	s := strconv.FormatFloat(geometry.Round(v, decimals), 'f', decimals, 64)
	if !fixed && strings.ContainsRune(s, '.') {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-") // no negative zero
	}
	if !n.LeadingZero {
		sign := strings.HasPrefix(s, "-")
		s = strings.TrimPrefix(s, "-")
		if strings.HasPrefix(s, "0.") {
			s = s[1:]
		}
		if sign {
			s = "-" + s
		}
	}
	s = strings.Replace(s, ".", n.Decimal, 1)
	return strings.Replace(s, "-", "\u2212", 1)
}

// Value letters a value in the unit of the model.
func (n Numbers) Value(v float64, unit joints.Unit) string {
	switch unit {
	case joints.UnitMM:
		return n.Length(v)
	case joints.UnitMM2:
		return n.Area(v)
	case joints.UnitDegree:
		return n.Angle(v)
	case joints.UnitPercent:
		return n.Number(v, 1) + " %"
	case joints.UnitMM3:
		u := float64(n.Unit.Length())
		return n.number(v/(u*u*u), n.Decimals, n.Fixed)
	case joints.UnitRatio:
	}
	return n.Number(v, 3)
}

// Toleranced letters a value with its tolerance on one line: 0.5 ±0.3, or
// 0.5 +1 −0.5.
func (n Numbers) Toleranced(v float64, unit joints.Unit, t *joints.Tolerance) string {
	s := n.Value(v, unit)
	if t == nil {
		return s
	}
	return s + " " + n.Tolerance(t, unit)
}

// Dimension letters what a dimension says: a value with its tolerance, and a
// length in the second unit too where the style has one. Brackets hold the unit
// that is for information (secondary, AWS A1.1:2016 excerpt).
func (s *Style) Dimension(v float64, unit joints.Unit, t *joints.Tolerance) string {
	text := s.Numbers.Toleranced(v, unit, t)
	if s.Second == nil || unit != joints.UnitMM || v == 0 && t == nil {
		return text
	}
	return text + " [" + s.Second.Toleranced(v, unit, t) + "]"
}

// UnitNames names the units of dimensions: mm, or mm [in].
func (s *Style) UnitNames() string {
	if s.Second == nil {
		return s.Numbers.Name()
	}
	return s.Numbers.Name() + " [" + s.Second.Name() + "]"
}

// Tolerance letters a tolerance alone.
func (n Numbers) Tolerance(t *joints.Tolerance, unit joints.Unit) string {
	if t.Plus == -t.Minus {
		return "±" + n.Value(t.Plus, unit)
	}
	minus := n.Value(t.Minus, unit)
	if t.Minus == 0 {
		minus = "\u2212" + n.Value(0, unit)
	}
	return "+" + n.Value(t.Plus, unit) + " " + minus
}

// Name is the name of the unit of lengths.
func (n Numbers) Name() string { return n.Unit.String() }

// ScaleText letters a scale: 5:1, 1:2.
func ScaleText(scale float64) string {
	if scale >= 1 {
		return strconv.FormatFloat(scale, 'g', 4, 64) + ":1"
	}
	return "1:" + strconv.FormatFloat(1/scale, 'g', 4, 64)
}

// Scales are the standard scales of ISO 5455 from the largest down, ended
// where a plate of the thickest kind still shows.
var Scales = []float64{50, 20, 10, 5, 2, 1, 1.0 / 2, 1.0 / 5, 1.0 / 10, 1.0 / 20, 1.0 / 50, 1.0 / 100}
