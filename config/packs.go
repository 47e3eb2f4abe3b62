package config

import (
	"slices"

	"fay/geometry"
)

// Pack is filler as sold: a tube of rods or a spool of wire.
type Pack struct {
	Label  string
	Mass   float64 // kg
	Spool  bool    // wire, not rods
	Family Family  // empty: any
	System geometry.Unit
	Source Source
}

// Packs returns the packs on file, the one taken where a shop names none first
// for each form, metal and market.
func Packs() []Pack { return slices.Clone(packs) }

var packs = func() []Pack {
	memory := fromMemory()
	const mm, in = geometry.UnitMM, geometry.UnitInch
	pound := func(v float64) float64 { return v * kilogramPerPound }
	return []Pack{
		{"2.5 kg tube", 2.5, false, Aluminium, mm, memory},
		{"5 kg tube", 5, false, "", mm, memory},
		{"10 lb tube", pound(10), false, "", in, inchRods},
		{"50 lb box", pound(50), false, "", in, inchRods},
		{"7 kg spool", 7, true, Aluminium, mm, memory},
		{"2 kg spool", 2, true, Aluminium, mm, memory},
		{"0.5 kg spool", 0.5, true, Aluminium, mm, memory},
		{"15 kg spool", 15, true, "", mm, memory},
		{"5 kg spool", 5, true, "", mm, memory},
		{"16 lb spool", pound(16), true, Aluminium, in, memory},
		{"1 lb spool", pound(1), true, Aluminium, in, memory},
		{"33 lb spool", pound(33), true, "", in, memory},
		{"10 lb spool", pound(10), true, "", in, memory},
	}
}()

// UsualPack returns the pack taken where a shop names none.
func UsualPack(f Family, spool bool, system geometry.Unit) Pack {
	for _, p := range packs {
		if p.Spool == spool && p.System == system && (p.Family == "" || p.Family == f) {
			return p
		}
	}
	return packs[0] // not met: every form and market has a row for any metal
}

// Cylinder is shielding gas as sold.
type Cylinder struct {
	Label  string
	Volume float64 // m³ of gas at 1 bar
	Source Source
}

// Cylinders returns the cylinders of argon on file.
func Cylinders() []Cylinder {
	memory := fromMemory()
	cf := func(v float64) float64 { return v * litrePerCubicFoot * metrePerMillimetre }
	return []Cylinder{
		{"50 L at 200 bar", 10, memory},
		{"20 L at 200 bar", 4, memory},
		{"10 L at 200 bar", 2, memory},
		{"80 cf", cf(80), memory},
		{"125 cf", cf(125), memory},
		{"250 cf", cf(250), memory},
		{"330 cf", cf(330), memory},
	}
}
