package config

// Filler is a rod or wire that can be bought. Zero Density means that no
// density is on file: volumes can be given, masses cannot.
type Filler struct {
	Name    string   // the name fay prints: 5356, 308L, ER70S-6
	Aliases []string // other names it is found by
	Title   string   // class designations, for the reader
	Family  Family
	Density Density
	// Spread is the relative uncertainty of Density, 0 where none is stated.
	Spread float64
	// Printed is the density as the source prints it, before conversion.
	Printed string
	Source  Source
	Note    string
}

// poundSpread is the uncertainty of a density read with two significant
// digits in lb/in³: half of 0.001 in about 0.1.
const poundSpread = 0.005

const poundNote = "two-digit lb/in³ value, ±0.5 %: prefer g/cm³ from the alloy's own data sheet"

var (
	aluminiumTable = Source{
		Text:       "brazing.com aluminium alloy table, filler row by AWS class",
		Provenance: Secondary,
	}
	kobeSteel = Source{
		Text:       "Kobe Steel, Education Center, Welding References 1-1 (scribd.com/document/610994480; expydoc.com/doc/7886823)",
		Provenance: Primary,
	}
)

// aluminiumFiller makes a row of the aluminium table from the density
// as printed and the same number in lb/in³.
func aluminiumFiller(name, printed string, pounds float64) Filler {
	return Filler{
		Name:    name,
		Aliases: []string{"ER" + name, "R" + name, "AA " + name, "S Al " + name, "Al " + name},
		Title:   "AWS A5.10 ER" + name + "; ISO 18273 S Al " + name,
		Family:  Aluminium,
		Density: PoundsPerCubicInch(pounds),
		Spread:  poundSpread,
		Printed: printed,
		Source:  aluminiumTable,
		Note:    poundNote,
	}
}

// builtinFillers is the table of fillers, in print order. The class
// designations are from memory, unverified; the densities carry their source.
func builtinFillers() []Filler {
	rows := []Filler{
		aluminiumFiller("1100", "0.098 lb/in³", 0.098),
		{
			Name: "2319", Aliases: []string{"ER2319", "R2319", "AA 2319", "S Al 2319", "Al 2319"},
			Title:  "AWS A5.10 ER2319; ISO 18273 S Al 2319",
			Family: Aluminium, Source: aluminiumTable,
			Note: "the table's density was not recorded; enter your own under fillers in the settings",
		},
		aluminiumFiller("4043", "0.097 lb/in³", 0.097),
		aluminiumFiller("4047", "0.096 lb/in³", 0.096),
		aluminiumFiller("4643", "0.097 lb/in³", 0.097),
		aluminiumFiller("5183", "0.096 lb/in³", 0.096),
		aluminiumFiller("5356", "0.096 lb/in³", 0.096),
		aluminiumFiller("5554", "0.097 lb/in³", 0.097),
		aluminiumFiller("5556", "0.096 lb/in³", 0.096),
		aluminiumFiller("5654", "0.096 lb/in³", 0.096),
	}
	const mildSteel = "density of mild steel; 0.283 lb/in³ (7.833 g/cm³) in US handbooks is 0.22 % lighter"
	for _, n := range []string{"2", "3", "6"} {
		rows = append(rows, Filler{
			Name: "ER70S-" + n, Aliases: []string{"70S-" + n}, Title: "mild steel, AWS A5.18 ER70S-" + n,
			Family: Steel, Density: 7.85, Printed: "7.85 g/cm³", Source: kobeSteel, Note: mildSteel,
		})
	}
	return append(rows,
		Filler{
			Name: "308L", Aliases: []string{"ER308L", "308", "ER308", "308LSi", "ER308LSi", "19 9 L", "1.4316"},
			Title:  "18-8 stainless, AWS A5.9 ER308L; ISO 14343 19 9 L",
			Family: Stainless, Density: 8.02, Printed: "8.02 g/cm³ (18-8)", Source: kobeSteel,
		},
		Filler{
			Name: "316L", Aliases: []string{"ER316L", "316", "ER316", "316LSi", "ER316LSi", "19 12 3 L", "1.4430"},
			Title:  "18-12-Mo stainless, AWS A5.9 ER316L; ISO 14343 19 12 3 L",
			Family: Stainless, Density: 8.03, Printed: "8.03 g/cm³ (18-12-Mo)", Source: kobeSteel,
		},
		Filler{
			Name: "410", Aliases: []string{"ER410"}, Title: "13 % chromium stainless, AWS A5.9 ER410",
			Family: Stainless, Density: 7.75, Printed: "7.75 g/cm³ (13Cr)", Source: kobeSteel,
		},
		Filler{
			Name: "430", Aliases: []string{"ER430"}, Title: "18 % chromium stainless, AWS A5.9 ER430",
			Family: Stainless, Density: 7.75, Printed: "7.75 g/cm³ (18Cr)", Source: kobeSteel,
		},
		Filler{
			Name: "ERTi-2", Aliases: []string{"Ti-2", "titanium grade 2", "grade 2", "Ti grade 2", "Ti 0120"},
			Title:  "unalloyed titanium grade 2, AWS A5.16 ERTi-2",
			Family: Titanium, Density: 4.51, Printed: "4.51 g/cm³ (titanium)", Source: kobeSteel,
		},
		Filler{
			Name: "CuSi3", Aliases: []string{"silicon bronze", "ERCuSi-A", "CuSi3Mn1"},
			Title:  "silicon bronze, AWS A5.7 ERCuSi-A; ISO 24373 CuSi3Mn1",
			Family: Copper, Density: 8.53, Printed: "8.53 g/cm³ (0.308 lb/in³)", Source: fromMemory(),
		},
	)
}
