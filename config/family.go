package config

import (
	"fay/geometry"
)

// Family is the metal family of a filler or base material.
type Family string

// The metal families.
const (
	Aluminium Family = "aluminium"
	Steel     Family = "steel"
	Stainless Family = "stainless"
	Titanium  Family = "titanium"
	Copper    Family = "copper"
)

// Families lists every family in the order the tables print.
func Families() []Family { return []Family{Aluminium, Steel, Stainless, Titanium, Copper} }

// familyWords gives the spellings a person may use for a family.
var familyWords = map[string]Family{
	"aluminium": Aluminium, "aluminum": Aluminium, "al": Aluminium,
	"steel": Steel, "mildsteel": Steel, "carbonsteel": Steel,
	"stainless": Stainless, "stainlesssteel": Stainless,
	"titanium": Titanium, "ti": Titanium,
	"copper": Copper, "cu": Copper,
}

// ParseFamily reads a family name, whatever its case and spacing.
func ParseFamily(text string) (Family, error) {
	if f, ok := familyWords[fold(text)]; ok {
		return f, nil
	}
	return "", unknownName("metal family", text, familyNames())
}

func familyNames() []string {
	names := make([]string, 0, len(Families()))
	for _, f := range Families() {
		names = append(names, string(f))
	}
	return names
}

// Gauge returns the sheet gauge system of the family; titanium and copper
// have none here, so `16ga` is refused for them.
func (f Family) Gauge() geometry.GaugeFamily {
	switch f {
	case Aluminium:
		return geometry.GaugeAluminium
	case Steel:
		return geometry.GaugeSteel
	case Stainless:
		return geometry.GaugeStainless
	case Titanium, Copper:
		return geometry.NoGauge
	}
	return geometry.NoGauge
}
