package geometry

import (
	"fmt"
	"math"
)

// GaugeFamily is the material family that gives a sheet gauge its thickness:
// 16 ga is 1.52 mm in steel, 1.29 mm in aluminium, 1.59 mm in stainless. The
// zero value NoGauge means no family is known.
type GaugeFamily uint8

// The gauge families.
const (
	NoGauge GaugeFamily = iota
	GaugeSteel
	GaugeAluminium
	GaugeStainless
)

// String returns the name of the family.
func (f GaugeFamily) String() string {
	switch f {
	case NoGauge:
		return "no family"
	case GaugeSteel:
		return "steel"
	case GaugeAluminium:
		return "aluminium"
	case GaugeStainless:
		return "stainless"
	}
	return "family?"
}

// gaugeOunces is the weight in oz/ft² that defines a gauge number of the US
// Standard gauge (stainless) and of the Manufacturers' Standard gauge (steel,
// from number 3). Index is the gauge number. The numbers with a row in
// testdata/published/sheet-gauges.csv, and 3 and 4, agree with published
// thicknesses; the others are from memory, unverified.
var gaugeOunces = [...]float64{
	1: 180, 2: 170, 3: 160, 4: 150, 5: 140, 6: 130, 7: 120, 8: 110, 9: 100, 10: 90,
	11: 80, 12: 70, 13: 60, 14: 50, 15: 45, 16: 40, 17: 36, 18: 32, 19: 28, 20: 24,
	21: 22, 22: 20, 23: 18, 24: 16, 25: 14, 26: 12, 27: 11, 28: 10, 29: 9, 30: 8,
}

// gaugeRange returns the lowest and highest number a family has here.
func gaugeRange(f GaugeFamily) (lo, hi int) {
	switch f {
	case GaugeSteel:
		return 3, len(gaugeOunces) - 1
	case GaugeStainless:
		return 1, len(gaugeOunces) - 1
	case GaugeAluminium:
		return 1, 36
	case NoGauge:
	}
	return 0, -1
}

// GaugeError is a gauge number that a family does not have.
type GaugeError struct {
	Family GaugeFamily
	Gauge  int
}

// Error names the family, the number and the range.
func (e *GaugeError) Error() string {
	lo, hi := gaugeRange(e.Family)
	if hi < lo {
		return fmt.Sprintf("gauge %d: a gauge needs a material family", e.Gauge)
	}
	return fmt.Sprintf("gauge %d: %s gauges run from %d to %d", e.Gauge, e.Family, lo, hi)
}

// GaugeThickness returns the sheet thickness of a gauge number. Galvanised
// sheet has a table of its own and is not steel here. The formulas are the
// definitions of the gauges; the error is a [*GaugeError].
//
//   - Steel, Manufacturers' Standard: weight in lb/ft² over 41.82 gives inches.
//   - Aluminium, Brown & Sharpe (AWG): 0.005 in × 92^((36−n)/39).
//   - Stainless, US Standard: weight in oz/ft² over 640 gives inches.
func GaugeThickness(f GaugeFamily, gauge int) (Length, error) {
	if lo, hi := gaugeRange(f); gauge < lo || gauge > hi {
		return 0, &GaugeError{f, gauge}
	}
	switch f {
	case GaugeSteel:
		return Length(gaugeOunces[gauge]/16/41.82) * Inch, nil
	case GaugeStainless:
		return Length(gaugeOunces[gauge]/640) * Inch, nil
	default: // aluminium: no other family has a range
	}
	return Length(0.005*math.Pow(92, float64(36-gauge)/39)) * Inch, nil
}
