package filler

import (
	"math"
)

// Filler is what a joint takes. Fields that could not be computed from what
// was given are nil and left out of JSON. "Per m" is per metre of weld, "per
// seam" one part, "total" the quantity of parts.
type Filler struct {
	DepositedAreaMM2 float64 `json:"deposited_area_mm2"`
	VolumeCm3PerM    float64 `json:"volume_cm3_per_m"`

	DensityGPerCm3   *float64 `json:"density_g_per_cm3,omitempty"`
	DensitySource    string   `json:"density_source,omitempty"`
	Efficiency       float64  `json:"efficiency"`
	EfficiencySource string   `json:"efficiency_source,omitempty"`

	// Deposited is in the weld; consumed is melted, without stubs; bought
	// counts the stubs thrown away as well.
	DepositedKgPerM    *float64 `json:"deposited_kg_per_m,omitempty"`
	ConsumedKgPerM     *float64 `json:"consumed_kg_per_m,omitempty"`
	BoughtKgPerM       *float64 `json:"bought_kg_per_m,omitempty"`
	VolumeCm3PerSeam   *float64 `json:"volume_cm3_per_seam,omitempty"`
	DepositedKgPerSeam *float64 `json:"deposited_kg_per_seam,omitempty"`
	ConsumedKgPerSeam  *float64 `json:"consumed_kg_per_seam,omitempty"`
	BoughtKgPerSeam    *float64 `json:"bought_kg_per_seam,omitempty"`
	BoughtKgTotal      *float64 `json:"bought_kg_total,omitempty"`

	// OverallEfficiency is deposited ÷ bought: the deposition efficiency less
	// the share of stubs thrown away.
	OverallEfficiency float64 `json:"overall_efficiency"`

	RodDiameterMM *float64 `json:"rod_diameter_mm,omitempty"`
	RodLengthMM   *float64 `json:"rod_length_mm,omitempty"`
	RodUsableMM   *float64 `json:"rod_usable_mm,omitempty"` // melted of each rod
	// RodFeedRatio is the length of rod that fills a length of weld: deposited
	// area ÷ section of the rod. It is the rhythm of the hand and counts no
	// losses.
	RodFeedRatio *float64 `json:"rod_feed_ratio,omitempty"`
	RodsPerM     *float64 `json:"rods_per_m,omitempty"`
	RodsPerSeam  *float64 `json:"rods_per_seam,omitempty"`
	RodsTotal    *int     `json:"rods_total,omitempty"` // whole rods for all parts

	WireDiameterMM *float64 `json:"wire_diameter_mm,omitempty"`
	WireMPerM      *float64 `json:"wire_m_per_m,omitempty"`
	WireMPerSeam   *float64 `json:"wire_m_per_seam,omitempty"`
	WireMTotal     *float64 `json:"wire_m_total,omitempty"`
}

// gramsPerKilogram also turns mm into m.
const gramsPerKilogram = 1000

// New computes the filler. The error, if any, is of type joints.Faults and
// names everything that is wrong.
func New(p Params) (Filler, error) {
	if faults := p.faults(); len(faults) > 0 {
		return Filler{}, faults
	}
	f := Filler{
		DepositedAreaMM2:  p.DepositedArea,
		VolumeCm3PerM:     p.DepositedArea, // 1 mm² × 1 m = 1 cm³
		Efficiency:        p.Efficiency,
		EfficiencySource:  p.EfficiencySource,
		OverallEfficiency: p.Efficiency,
	}
	if p.Rod != nil {
		f.rods(&p)
	}
	if p.Wire != nil {
		f.WireDiameterMM = new(float64(p.Wire.Diameter))
		f.WireMPerM = new(p.DepositedArea / section(float64(p.Wire.Diameter)) / p.Efficiency)
	}
	if p.Density != 0 {
		f.DensityGPerCm3, f.DensitySource = new(p.Density), p.DensitySource
		deposited := f.VolumeCm3PerM * p.Density / gramsPerKilogram
		f.DepositedKgPerM = &deposited
		f.ConsumedKgPerM = new(deposited / p.Efficiency)
		f.BoughtKgPerM = new(deposited / f.OverallEfficiency)
	}
	if p.SeamLength != 0 {
		f.seam(&p)
	}
	return f, nil
}

// rods counts rods; a stub thrown away shortens every rod and lowers the
// overall efficiency.
func (f *Filler) rods(p *Params) {
	cut, usable := float64(p.Rod.CutLength), float64(p.Rod.CutLength)
	if !p.Rod.StubFusedOn {
		usable -= float64(p.Rod.Stub)
	}
	feed := p.DepositedArea / section(float64(p.Rod.Diameter))
	f.RodDiameterMM = new(float64(p.Rod.Diameter))
	f.RodLengthMM = &cut
	f.RodUsableMM = &usable
	f.RodFeedRatio = &feed
	f.RodsPerM = new(feed / p.Efficiency * gramsPerKilogram / usable)
	f.OverallEfficiency = p.Efficiency * usable / cut
}

func (f *Filler) seam(p *Params) {
	metres := p.SeamLength.Millimetres() / gramsPerKilogram
	perSeam := func(perM *float64) *float64 {
		if perM == nil {
			return nil
		}
		return new(*perM * metres)
	}
	f.VolumeCm3PerSeam = new(f.VolumeCm3PerM * metres)
	f.DepositedKgPerSeam = perSeam(f.DepositedKgPerM)
	f.ConsumedKgPerSeam = perSeam(f.ConsumedKgPerM)
	f.BoughtKgPerSeam = perSeam(f.BoughtKgPerM)
	f.RodsPerSeam = perSeam(f.RodsPerM)
	f.WireMPerSeam = perSeam(f.WireMPerM)
	if p.Quantity == 0 {
		return
	}
	parts := float64(p.Quantity)
	if f.BoughtKgPerSeam != nil {
		f.BoughtKgTotal = new(*f.BoughtKgPerSeam * parts)
	}
	if f.RodsPerSeam != nil {
		f.RodsTotal = new(wholeRods(*f.RodsPerSeam * parts))
	}
	if f.WireMPerSeam != nil {
		f.WireMTotal = new(*f.WireMPerSeam * parts)
	}
}

// wholeRods rounds up; what is a whole number but for rounding stays.
func wholeRods(n float64) int { return int(math.Ceil(n * (1 - 1e-12))) }

// section is the area of a round of diameter d.
func section(d float64) float64 { return math.Pi / 4 * d * d }
