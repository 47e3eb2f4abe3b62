package config

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Density is mass per volume in g/cm³. Zero means not on file.
type Density float64

// gramPerCm3PerPoundPerIn3 converts lb/in³ to g/cm³: 453.59237 g per pound
// over 16.387064 cm³ per cubic inch, both exact by definition
// (international yard and pound agreement, 1959).
const gramPerCm3PerPoundPerIn3 = 453.59237 / 16.387064

// Physical range accepted for a density: magnesium alloys lie at 1.7,
// osmium, the heaviest metal, at 22.6.
const (
	minDensity Density = 0.5
	maxDensity Density = 25
)

// densityRange is what alloys of a family weigh, wide enough for any that is
// welded and narrow enough to tell one family from another (physical
// plausibility, common practice, no source): Al-Mg castings to Al-Cu, steels and
// stainless steels down to high-chromium ferritic ones, aluminium bronze to copper.
var densityRange = map[Family][2]Density{
	Aluminium: {2.5, 2.95},
	Steel:     {7.5, 8.2},
	Stainless: {7.4, 8.2},
	Titanium:  {4.3, 4.9},
	Copper:    {7.4, 9},
}

// PoundsPerCubicInch makes a Density from lb/in³.
func PoundsPerCubicInch(v float64) Density { return Density(v * gramPerCm3PerPoundPerIn3) }

// GramsPerCubicCentimetre returns the density in g/cm³.
func (d Density) GramsPerCubicCentimetre() float64 { return float64(d) }

// KilogramsPerCubicMetre returns the density in kg/m³.
func (d Density) KilogramsPerCubicMetre() float64 { return float64(d) * 1000 }

// PoundsPerCubicInch returns the density in lb/in³.
func (d Density) PoundsPerCubicInch() float64 { return float64(d) / gramPerCm3PerPoundPerIn3 }

// OnFile reports whether there is a density at all.
func (d Density) OnFile() bool { return d > 0 }

// String prints g/cm³ with three decimals, or "not on file".
func (d Density) String() string {
	if !d.OnFile() {
		return "not on file"
	}
	return strconv.FormatFloat(float64(d), 'f', 3, 64) + " g/cm³"
}

var densityUnits = []struct {
	names []string
	one   Density // g/cm³ in one of this unit
}{
	{[]string{"g/cm³", "g/cm3", "g/cc"}, 1},
	{[]string{"kg/m³", "kg/m3"}, 1e-3},
	{[]string{"lb/in³", "lb/in3"}, gramPerCm3PerPoundPerIn3},
}

var errDensity = errors.New("not a density")

// ParseDensity reads "2.66", "2.66 g/cm3", "2660 kg/m3" or "0.096 lb/in3"; a
// bare number is g/cm³. It refuses what is not between 0.5 and 25 g/cm³.
func ParseDensity(text string) (Density, error) {
	number, one := strings.TrimSpace(text), Density(1)
	for _, u := range densityUnits {
		for _, name := range u.names {
			if head, ok := strings.CutSuffix(number, name); ok {
				number, one = strings.TrimSpace(head), u.one
			}
		}
	}
	v, err := parseNumber(number)
	if err != nil {
		return 0, fmt.Errorf("%w: %q, want a number in g/cm³, kg/m³ or lb/in³", errDensity, text)
	}
	d := Density(v) * one
	if math.IsNaN(float64(d)) || d < minDensity || d > maxDensity {
		return 0, fmt.Errorf("%w: %q is outside %g to %g g/cm³", errDensity, text, float64(minDensity), float64(maxDensity))
	}
	return d, nil
}

// parseNumber reads a plain decimal number: no hexadecimal, no underscores,
// no infinities, which strconv alone would let through.
func parseNumber(text string) (float64, error) {
	if text == "" || strings.Trim(text, "0123456789.eE+-") != "" {
		return 0, strconv.ErrSyntax
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, fmt.Errorf("number %q: %w", text, err)
	}
	return v, nil
}
