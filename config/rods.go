package config

import (
	"math"

	"fay/geometry"
)

// RodSize is a diameter rods are sold in.
type RodSize struct {
	Label    string // as printed on the tube: 3/32 in, 2.4 mm
	Diameter geometry.Length
	System   geometry.Unit // the market that sells it
	Source   Source
}

// RodLength is a standard cut length.
type RodLength struct {
	Label  string
	Length geometry.Length
	Source Source
}

const kilogramPerPound = 0.45359237 // exact by definition

var inchRods = Source{Text: "englogs.com, TIG rods 1/16 to 1/4 in, 36 in long, 10 and 50 lb packs", Provenance: Secondary}

// RodSizes returns the diameters on the market, inch sizes first, each by
// rising diameter. 1/16 in is 1.5875 mm, not 1.6: 1.6 % in mass.
func RodSizes() []RodSize {
	inch := func(label string, inches float64, s Source) RodSize {
		return RodSize{Label: label, Diameter: geometry.Length(inches) * geometry.Inch, System: geometry.UnitInch, Source: s}
	}
	metric := func(label string, mm float64) RodSize {
		return RodSize{Label: label, Diameter: geometry.Length(mm), System: geometry.UnitMM, Source: fromMemory()}
	}
	return []RodSize{
		inch(".035 in", 0.035, fromMemory()),
		inch(".045 in", 0.045, fromMemory()),
		inch("1/16 in", 1.0/16, inchRods),
		inch("5/64 in", 5.0/64, inchRods),
		inch("3/32 in", 3.0/32, inchRods),
		inch("1/8 in", 1.0/8, inchRods),
		inch("5/32 in", 5.0/32, inchRods),
		inch("3/16 in", 3.0/16, inchRods),
		inch("1/4 in", 1.0/4, inchRods),
		metric("1.0 mm", 1.0),
		metric("1.2 mm", 1.2),
		metric("1.6 mm", 1.6),
		metric("2.0 mm", 2.0),
		metric("2.4 mm", 2.4),
		metric("3.2 mm", 3.2),
		metric("4.0 mm", 4.0),
		metric("4.8 mm", 4.8),
		metric("5.0 mm", 5.0),
	}
}

// RodLengths returns the standard cut lengths.
func RodLengths() []RodLength {
	return []RodLength{
		{Label: "36 in", Length: 36 * geometry.Inch, Source: inchRods},
		{Label: "1000 mm", Length: 1000, Source: fromMemory()},
	}
}

// usualRod is the rod taken where a shop names none: 2.4 mm and 1000 mm long, or
// 3/32 in and 36 in long (sizes of RodSizes and RodLengths), with a stub of 50 mm
// or 2 in (common practice, no source).
func usualRod(unit geometry.Unit) (diameter, length, stub geometry.Length) {
	if unit == geometry.UnitInch {
		return 3.0 / 32 * geometry.Inch, 36 * geometry.Inch, 2 * geometry.Inch
	}
	return 2.4, 1000, 50
}

// RodsPerKilogram returns how many full rods of diameter d and the given cut
// length weigh one kilogram: 1000 / (π/4·d²·L·ρ). It returns 0 where an input
// is not positive and finite, such as a density that is not on file.
func RodsPerKilogram(d, length geometry.Length, density Density) float64 {
	cm3 := math.Pi / 4 * math.Pow(d.Millimetres(), 2) * length.Millimetres() / 1000
	grams := cm3 * density.GramsPerCubicCentimetre()
	if !(d > 0 && length > 0 && density > 0) || math.IsInf(grams, 0) || grams == 0 {
		return 0
	}
	return 1000 / grams
}
