package config

import "math"

// ThermalClass groups metals that share effective thermal constants.
type ThermalClass string

// The classes on file.
const (
	AluminiumPure      ThermalClass = "Al 1xxx"
	AluminiumSilicon   ThermalClass = "Al 6xxx"
	AluminiumMagnesium ThermalClass = "Al 5xxx"
	LowCarbonSteel     ThermalClass = "low-C steel"
	Austenitic         ThermalClass = "304"
	CopperPure         ThermalClass = "copper"
	TitaniumPure       ThermalClass = "titanium cp"
)

// Thermal holds effective constants: means from 20 °C to the melting range,
// meant for conduction formulas, not for a temperature-dependent solver.
type Thermal struct {
	Class        ThermalClass
	Conductivity float64 // W/(m·K)
	Density      float64 // kg/m³
	HeatCapacity float64 // J/(kg·K)
	Solidus      float64 // °C
	Liquidus     float64 // °C
	LatentHeat   float64 // J/kg
	Source       Source
}

// Diffusivity returns a = k/(ρ·c) in mm²/s.
func (t Thermal) Diffusivity() float64 {
	return t.Conductivity / (t.Density * t.HeatCapacity) * 1e6
}

// Effusivity returns e = √(k·ρ·c) in kW·s^½/(m²·K).
func (t Thermal) Effusivity() float64 {
	return math.Sqrt(t.Conductivity*t.Density*t.HeatCapacity) / 1e3
}

// thermalSource covers the whole table. The values were chosen from memory to
// agree with remembered tables in Kou (Welding Metallurgy, table 2.x, after
// Gray, Spence and North 1975) and Grong (Metallurgical Modelling of Welding,
// table 1.1); none of them was checked in the book.
var thermalSource = Source{
	Text:       "effective means from 20 °C to melting, " + unverified,
	Provenance: Memory,
}

// ThermalTable returns the constants of every class, in print order.
func ThermalTable() []Thermal {
	row := func(c ThermalClass, k, rho, cp, sol, liq, latent float64) Thermal {
		return Thermal{
			Class: c, Conductivity: k, Density: rho, HeatCapacity: cp,
			Solidus: sol, Liquidus: liq, LatentHeat: latent * 1e3, Source: thermalSource,
		}
	}
	return []Thermal{
		//  class             W/mK kg/m³ J/kgK  sol   liq  kJ/kg
		row(AluminiumPure, 225, 2700, 1000, 643, 657, 397),
		row(AluminiumSilicon, 170, 2700, 1000, 582, 652, 380),
		row(AluminiumMagnesium, 135, 2660, 1010, 590, 640, 385),
		row(LowCarbonSteel, 40, 7800, 640, 1480, 1520, 270),
		row(Austenitic, 25, 7800, 600, 1400, 1455, 265),
		row(CopperPure, 370, 8900, 430, 1083, 1083, 205),
		row(TitaniumPure, 20, 4500, 650, 1650, 1670, 320),
	}
}

// ThermalOf returns the constants of a class; false where none are on file.
func ThermalOf(c ThermalClass) (Thermal, bool) {
	for _, t := range ThermalTable() {
		if t.Class == c {
			return t, true
		}
	}
	return Thermal{}, false
}
