package config

// Material is a base material. Zero Density or an empty Class means not on
// file.
type Material struct {
	Name    string   // the name fay prints: 5083, S355, 304
	Aliases []string // other names it is found by
	Title   string   // designations, for the reader
	Family  Family
	Density Density
	Source  Source // of the density
	// Class picks the thermal constants; empty where none are on file.
	Class ThermalClass
	// ClassNote says where a class is borrowed from a neighbour.
	ClassNote string
	// OwnThermal are constants of the shop, over those of the class; nil where
	// it gave none.
	OwnThermal *Thermal
	// HeatTreatable: strength comes from heat treatment, so that welding and
	// preheat soften it.
	HeatTreatable bool
	// HighMagnesium: more than 3 % magnesium, so that long holding above
	// about 65 °C sensitises it.
	HighMagnesium bool
	FlagSource    Source // of the two flags; zero where the family has no such flags
}

// Thermal returns the thermal constants of the material: the shop's own, else
// those of its class; false where none are on file.
func (m Material) Thermal() (Thermal, bool) {
	if m.OwnThermal != nil {
		return *m.OwnThermal, true
	}
	return ThermalOf(m.Class)
}

var flagSource = Source{
	Text:       "alloy group and nominal composition, " + unverified,
	Provenance: Memory,
}

func wrought(name string, density Density, class ThermalClass) Material {
	return Material{
		Name:    name,
		Aliases: []string{"EN AW-" + name, "AW-" + name, "AA" + name, "Al " + name, "Aluminium " + name, "A" + name},
		Title:   "EN AW-" + name + " wrought aluminium",
		Family:  Aluminium, Density: density, Source: fromMemory(),
		Class: class, FlagSource: flagSource,
	}
}

// heatTreatable makes a row of the 6xxx group, all near 2.70 g/cm³.
func heatTreatable(name string) Material {
	m := wrought(name, 2.70, AluminiumSilicon)
	m.HeatTreatable = true
	return m
}

func highMagnesium(name string, density Density) Material {
	m := wrought(name, density, AluminiumMagnesium)
	m.HighMagnesium = true
	return m
}

func structural(name, number, title string, more ...string) Material {
	return Material{
		Name:    name,
		Aliases: append([]string{number}, more...),
		Title:   title, Family: Steel, Density: 7.85,
		Source: Source{Text: kobeSteel.Text + ", mild steel", Provenance: Primary},
		Class:  LowCarbonSteel,
	}
}

func austenitic(name, number, note string, more ...string) Material {
	return Material{
		Name:    name,
		Aliases: append([]string{number, "AISI " + name, "SS" + name, "Type " + name}, more...),
		Title:   "austenitic stainless, AISI " + name + " / " + number,
		Family:  Stainless, Density: 8.00, Source: fromMemory(),
		Class: Austenitic, ClassNote: note,
	}
}

// builtinMaterials is the table of base materials, in print order. Titles and
// aliases are from memory, unverified.
func builtinMaterials() []Material {
	manganese := wrought("3003", 2.73, AluminiumSilicon)
	manganese.ClassNote = "constants of Al 6xxx: EN 1999-1-2 puts 3xxx and 6xxx in one group, " + unverified
	straddling := highMagnesium("5754", 2.67)
	straddling.Title += " (2.6 to 3.6 % Mg, counted as above 3 %)"
	const borrowed = "constants of 304, " + unverified
	return []Material{
		wrought("1050", 2.71, AluminiumPure),
		wrought("1100", 2.71, AluminiumPure),
		manganese,
		wrought("5052", 2.68, AluminiumMagnesium),
		highMagnesium("5083", 2.66),
		highMagnesium("5086", 2.66),
		straddling,
		heatTreatable("6060"),
		heatTreatable("6061"),
		heatTreatable("6063"),
		heatTreatable("6082"),
		structural("S235", "1.0038", "structural steel, EN 10025-2 S235", "S235JR", "mild steel", "A36", "ASTM A36"),
		structural("S275", "1.0044", "structural steel, EN 10025-2 S275", "S275JR"),
		structural("S355", "1.0577", "structural steel, EN 10025-2 S355", "S355J2", "S355J2+N", "A572-50"),
		austenitic("304", "1.4301", "", "X5CrNi18-10"),
		austenitic("304L", "1.4307", borrowed, "X2CrNi18-9"),
		austenitic("316", "1.4401", borrowed, "X5CrNiMo17-12-2"),
		austenitic("316L", "1.4404", borrowed, "X2CrNiMo17-12-2"),
		{
			Name: "Ti-2", Aliases: []string{"titanium grade 2", "Ti grade 2", "CP titanium", "3.7035"},
			Title: "unalloyed titanium grade 2", Family: Titanium, Density: 4.51,
			Source: Source{Text: kobeSteel.Text + ", titanium", Provenance: Primary},
			Class:  TitaniumPure,
		},
		{
			Name: "Ti-6Al-4V", Aliases: []string{"titanium grade 5", "Ti grade 5", "TiAl6V4", "3.7165"},
			Title: "titanium alloy grade 5", Family: Titanium, Density: 4.43, Source: fromMemory(),
			ClassNote:     "no thermal constants on file: unalloyed titanium conducts far better",
			HeatTreatable: true, FlagSource: flagSource,
		},
		{
			Name: "Cu-ETP", Aliases: []string{"copper", "CW004A", "C11000"},
			Title: "electrolytic copper", Family: Copper, Density: 8.94, Source: fromMemory(),
			Class: CopperPure,
		},
	}
}
