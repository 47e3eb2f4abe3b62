package heat

import (
	"math"
	"strings"

	"fay/joints"
)

// Family is a metal family, in the words of material tables.
type Family string

// The families that rules tell apart. Others are taken and get no rules.
const (
	Aluminium Family = "aluminium"
	Steel     Family = "steel"
	Stainless Family = "stainless"
	Titanium  Family = "titanium"
	Copper    Family = "copper"
)

// Material holds effective thermal constants of a metal, means between room
// temperature and melting.
type Material struct {
	Name         string
	Family       Family
	Conductivity float64 // W/(m·K)
	Density      float64 // kg/m³
	HeatCapacity float64 // J/(kg·K)
	Solidus      float64 // °C
	Liquidus     float64 // °C
	LatentHeat   float64 // J/kg
	// HeatTreatable: strength comes from heat treatment.
	HeatTreatable bool
	// HighMagnesium: more than 3 % magnesium.
	HighMagnesium bool
	Source        Source // of the constants
}

func (m *Material) volumetric() float64 { return m.Density * m.HeatCapacity }
func (m *Material) effusivity() float64 { return math.Sqrt(m.Conductivity * m.volumetric()) }

// melting is the heat that takes a cubic metre from a temperature to liquid.
func (m *Material) melting(from float64) float64 {
	return m.Density * (m.HeatCapacity*(m.Liquidus-from) + m.LatentHeat)
}

// The ranges of material constants that are taken: any metal, and no unit slip.
var (
	ConductivityRange = joints.Range{Min: 1, Max: 1000}
	DensityRange      = joints.Range{Min: 1000, Max: 25000}
	CapacityRange     = joints.Range{Min: 100, Max: 3000}
	MeltingRange      = joints.Range{Min: 200, Max: 3500}
	LatentRange       = joints.Range{Min: 0, Max: 2e6}
)

func (c *checker) material(field string, m *Material) {
	c.number(field+".conductivity", m.Conductivity, ConductivityRange, "W/(m·K)")
	c.number(field+".density", m.Density, DensityRange, "kg/m³")
	c.number(field+".heat-capacity", m.HeatCapacity, CapacityRange, "J/(kg·K)")
	sol := c.number(field+".solidus", m.Solidus, MeltingRange, "°C")
	liq := c.number(field+".liquidus", m.Liquidus, MeltingRange, "°C")
	if sol && liq && m.Solidus > m.Liquidus {
		c.add(joints.FaultConflict, field+".solidus", show(m.Solidus, "°C"), "must not lie above the liquidus", "swap the two")
	}
	c.number(field+".latent-heat", m.LatentHeat, LatentRange, "J/kg")
}

// Ceiling is the most preheat a metal is allowed. It is a limit, never advice
// to heat that far.
type Ceiling struct {
	Preheat   float64 // °C
	Interpass float64 // °C, between runs
	Notes     []string
	Source    Source
}

// CeilingOf gives the preheat ceiling of a metal; false where none is on file.
func CeilingOf(m Material) (Ceiling, bool) {
	if m.Family != Aluminium {
		return Ceiling{}, false
	}
	guide := "welding wire maker's aluminium guide, preheat table, values as in EN 1011-4 (that attribution from memory)"
	c := Ceiling{Preheat: 120, Interpass: 120, Source: Source{guide, Secondary}}
	switch {
	case strings.HasPrefix(m.Name, "7"):
		c.Preheat, c.Interpass = 100, 80
	case m.HeatTreatable:
		c.Interpass = 100
		c.Notes = append(c.Notes, "hold no longer than 15 min (AWS D1.2 as reported, secondary)")
		c.Source.Text = "AWS D1.2 as reported in a summary sheet: 120 °C; " + guide + ": interpass 100 °C"
	case m.HighMagnesium:
		c.Notes = append(c.Notes, "hold no longer than 15 min (AWS D1.2 as reported, secondary)",
			"avoid lingering at 66 to 204 °C (150 to 400 °F): over 3 % magnesium sensitises there (NAVSEA S9074-AR-GIB-010/278 table V, page image)")
		c.Source.Text = "AWS D1.2 as reported in a summary sheet: 120 °C; " + guide
	}
	return c, true
}
