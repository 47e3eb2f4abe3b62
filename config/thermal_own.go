package config

import "strings"

// The quantities of thermal constants: any metal, and no slip of a unit.
var (
	conductivityQuantity = quantity{"a conductivity", []namedUnit{{"W/(m·K)", 1}, {"W/mK", 1}, {"W/(m K)", 1}}, 1, 1000}
	capacityQuantity     = quantity{"a heat capacity", []namedUnit{{"J/(kg·K)", 1}, {"J/kgK", 1}, {"J/(kg K)", 1}}, 100, 3000}
	meltingQuantity      = quantity{"a temperature", []namedUnit{{"°C", 1}, {"C", 1}}, 200, 3500}
	latentQuantity       = quantity{"a latent heat", []namedUnit{{"kJ/kg", 1}}, 1, 2000}
)

const kilogramPerGramPerCm3 = 1000 // kg/m³ in 1 g/cm³

// thermal reads the shop's own thermal constants of a material: means between
// room temperature and melting. What is not given stays as on file; a metal
// without constants on file needs all of them. Nil where none is given.
func (j *judge) thermal(path string, e rawEntry, m *Material) *Thermal {
	filed, onFile := m.Thermal()
	out := filed
	var own, missing []string
	read := func(name, text string, q quantity, scale float64, to *float64) {
		if strings.TrimSpace(text) == "" {
			missing = append(missing, name)
			return
		}
		own = append(own, name)
		*to = j.quantity(path+"."+name, text, q) * scale
	}
	before := len(j.faults)
	read("conductivity", e.Conductivity, conductivityQuantity, 1, &out.Conductivity)
	read("heat-capacity", e.HeatCapacity, capacityQuantity, 1, &out.HeatCapacity)
	read("solidus", e.Solidus, meltingQuantity, 1, &out.Solidus)
	read("liquidus", e.Liquidus, meltingQuantity, 1, &out.Liquidus)
	read("latent-heat", e.LatentHeat, latentQuantity, 1e3, &out.LatentHeat)
	switch {
	case len(own) == 0:
		return m.OwnThermal
	case !onFile && len(missing) > 0:
		j.fault(FaultMissing, path, e.Name, "this metal has no thermal constants on file, so that all five are needed", "add "+strings.Join(missing, ", ")+", or `like:` a metal that has them")
		return nil
	case len(j.faults) > before:
		return nil
	case out.Solidus > out.Liquidus:
		j.fault(FaultValue, path, e.Name, "the solidus must not lie above the liquidus", "check solidus and liquidus")
		return nil
	}
	if !onFile {
		out.Density = m.Density.GramsPerCubicCentimetre() * kilogramPerGramPerCm3
	}
	out.Source = Source{Text: strings.Join(own, ", ") + ": " + shopSource(e).Text, Provenance: Shop}
	if len(missing) > 0 {
		out.Source.Text += "; the rest of " + string(filed.Class) + ": " + filed.Source.Text
		out.Source.Provenance = filed.Source.Provenance
	}
	return &out
}
