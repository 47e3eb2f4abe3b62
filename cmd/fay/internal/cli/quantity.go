package cli

import (
	"math"
	"strconv"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
)

// quantities prints numbers for people: in the units of the joint, inches as
// fractions or decimals as the shop likes them.
type quantities struct {
	unit        geometry.Unit
	fractions   bool
	denominator int
}

func (j *job) quantities() quantities {
	return quantities{
		unit: j.doc.Units, fractions: j.settings.Inches == config.Fractions, denominator: j.settings.Denominator,
	}
}

// Decimals of printed numbers: finer than a shop can measure.
const (
	decimalsMM   = 2
	decimalsInch = 3
)

// fractionExact is how far a fraction may lie from the length it stands for
// without telling: half of the last printed decimal of an inch.
const fractionExact = geometry.Inch / 2000

// A 32nd or 64th is printed whatever the denominator where it is meant, to a
// millionth of an inch: three decimals do not hold it.
const (
	finestFraction = 64
	meantFraction  = geometry.Inch / 1_000_000
)

// fractionCoarse is the share of a length beyond which a fraction would mislead,
// so that decimals stand alone.
const fractionCoarse = 0.05

// length prints a length with its unit. A fraction that is not the length
// itself has the decimals behind it.
func (q quantities) length(mm float64) string {
	l := geometry.Length(mm)
	if q.unit != geometry.UnitInch {
		return decimal(mm, decimalsMM) + " mm"
	}
	exact := decimal(l.Inches(), decimalsInch)
	if !q.fractions {
		return exact + " in"
	}
	if f := l.Fraction(finestFraction); f.Den != 0 && math.Abs(float64(f.Err)) < float64(meantFraction) {
		return f.String() + " in"
	}
	f := l.Fraction(q.denominator)
	switch off := math.Abs(float64(f.Err)); {
	case f.Den == 0 || off > fractionCoarse*math.Abs(mm):
		return exact + " in"
	case off <= float64(fractionExact):
		return f.String() + " in"
	}
	return f.String() + " in (" + exact + ")"
}

// rod prints the diameter of a rod or wire: in inches, one of a metric size by
// that size, for 2.4 mm is not 3/32 in.
func (q quantities) rod(mm float64) string { return rodSize(mm, q.unit, q.length) }

// rodSize is the trade size of a metric rod among inches; other prints the rest.
func rodSize(mm float64, unit geometry.Unit, other func(mm float64) string) string {
	if unit == geometry.UnitInch {
		for _, s := range config.RodSizes() {
			if s.System == geometry.UnitMM && math.Abs(mm-s.Diameter.Millimetres()) < float64(meantFraction) {
				return s.Label
			}
		}
	}
	return other(mm)
}

// area prints an area with its unit.
func (q quantities) area(mm2 float64) string {
	if q.unit == geometry.UnitInch {
		return decimal(mm2/(25.4*25.4), 4) + " in²"
	}
	return decimal(mm2, decimalsMM) + " mm²"
}

// value prints a value of the model.
func (q quantities) value(v float64, unit joints.Unit) string {
	switch unit {
	case joints.UnitMM:
		return q.length(v)
	case joints.UnitMM2:
		return q.area(v)
	case joints.UnitDegree:
		return decimal(v, 1) + "°"
	case joints.UnitPercent:
		return decimal(v, 1) + " %"
	case joints.UnitRatio, "":
		return decimal(v, 3)
	}
	return decimal(v, 3) + " " + string(unit)
}

// tolerance prints ±0.3 mm or +1/−0.5 mm.
func (q quantities) tolerance(t *joints.Tolerance, unit joints.Unit) string {
	if t.Plus == -t.Minus {
		return "±" + q.value(t.Plus, unit)
	}
	return "+" + q.value(t.Plus, unit) + " −" + q.value(-t.Minus, unit)
}

// decimal prints v with at most n decimals and no trailing zeros.
func decimal(v float64, n int) string {
	s := strconv.FormatFloat(geometry.Round(v, n), 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// digits is how many significant digits of a weight or volume print: more than
// its sources are good for.
const digits = 4

// significant prints v with that many significant digits and no exponent.
func significant(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	places := digits - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	return decimal(v, min(max(places, 0), 12))
}
