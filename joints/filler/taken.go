package filler

import "strings"

// Taken is a number that does not come from the joint, with its papers; the
// sizes of rod and wire are chosen and have none.
type Taken struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit,omitempty"`
	Source string  `json:"source,omitempty"`
}

// fromMemory ends a source whose number is remembered: sources close with the
// way they were come by, in brackets.
const fromMemory = "[memory]"

// FromMemory reports whether the number is remembered and unverified.
func (t *Taken) FromMemory() bool { return strings.HasSuffix(t.Source, fromMemory) }

// Taken lists what was taken, in print order: first what the metal is reckoned
// from, then pace and gas.
func (f *Filler) Taken() []Taken {
	var out []Taken
	add := func(name string, v *float64, unit, source string) {
		if v != nil {
			out = append(out, Taken{name, *v, unit, source})
		}
	}
	add(TakenDensity, f.DensityGPerCm3, "g/cm³", f.DensitySource)
	add(TakenEfficiency, &f.Efficiency, "", f.EfficiencySource)
	if f.OverallEfficiency != f.Efficiency {
		add("overall efficiency", &f.OverallEfficiency, "", "less the stubs")
	}
	add(TakenPass, f.PassAreaMM2, "mm²", f.PassAreaSource)
	add(TakenSpeed, f.TravelSpeedMMPerMin, "mm/min", f.PaceSource)
	add(TakenRate, f.DepositionRateKgPerH, "kg/h", f.PaceSource)
	add(TakenGas, f.GasFlowLPerMin, "L/min", f.GasFlowSource)
	add(TakenRod, f.RodDiameterMM, "mm", "")
	add("rod length", f.RodLengthMM, "mm", "")
	add(TakenWire, f.WireDiameterMM, "mm", "")
	return out
}

// The names of numbers taken.
const (
	TakenDensity    = "density"
	TakenEfficiency = "deposition efficiency"
	TakenPass       = "largest pass"
	TakenSpeed      = "travel speed"
	TakenRate       = "deposition rate"
	TakenGas        = "gas flow"
	TakenRod        = "rod diameter"
	TakenWire       = "wire diameter"
)
