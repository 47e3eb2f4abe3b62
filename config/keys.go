package config

import "strings"

// EnvPrefix begins the name of every environment variable fay reads.
const EnvPrefix = "FAY_"

// shape is the form a key's value has in the file.
type shape uint8

const (
	scalar  shape = iota
	words         // list of scalars
	records       // list of mappings
)

// key describes one setting.
type key struct {
	name    string // with dots: filler.diameter
	shape   shape
	preset  string   // the default, as it would be written
	allowed []string // the words allowed; nil where not a closed choice
	doc     []string // lines for the starter file and `fay settings`
}

// env is the environment variable of the key; none for lists of records,
// which need a file.
func (k key) env() string {
	if k.shape == records {
		return ""
	}
	return EnvPrefix + strings.ToUpper(strings.NewReplacer(".", "_", "-", "_").Replace(k.name))
}

// keys is the table of all settings, in print order.
var keys = []key{
	{
		name: "units", preset: "mm", allowed: []string{"mm", "in"},
		doc: []string{"Unit of a number without one, and of printed sizes: mm or in."},
	},
	{
		name: "printed", preset: string(Auto), allowed: []string{string(Auto), "mm", "in"},
		doc: []string{
			"Unit of printed sizes alone: mm, in, or auto for that of the joint. It changes",
			"no number that is read: a joint in mm prints in inches with in.",
		},
	},
	{
		name: "inches", preset: string(Fractions), allowed: []string{string(Fractions), string(Decimals)},
		doc: []string{"How inches print: fractions or decimals."},
	},
	{
		name: "denominator", preset: "16", allowed: []string{"2", "4", "8", "16", "32", "64"},
		doc: []string{"Finest printed fraction of an inch: 2, 4, 8, 16, 32 or 64."},
	},
	{
		name: "dual", preset: "false", allowed: []string{"true", "false"},
		doc: []string{"true letters the dimensions of a section in the other unit too, in brackets: 3 [0.118]."},
	},
	{
		name: "sheet", preset: string(A4), allowed: []string{string(A4), string(A3), string(Letter)},
		doc: []string{"Sheet of a traveler: A4, A3 or Letter."},
	},
	{
		name: "orientation", preset: string(Auto), allowed: []string{string(Auto), string(Portrait), string(Landscape)},
		doc: []string{"How the sheet is held: auto, portrait or landscape."},
	},
	{
		name: "language", preset: string(ISO), allowed: []string{string(ISO), string(US)},
		doc: []string{"Words of the trade: iso (root gap, excess weld metal) or us (root opening, reinforcement)."},
	},
	{
		name: "style", preset: string(Auto), allowed: []string{string(Auto), string(ISO), string(US)},
		doc: []string{"Lines and dimensions: iso, us, or auto to follow the language."},
	},
	{
		name: "tint", preset: "true", allowed: []string{"true", "false"},
		doc: []string{"false leaves the tint out of welds on drawings, for copies in black and white."},
	},
	{
		name: "symbols", preset: string(Auto), allowed: []string{string(Auto), string(ISO2553A), string(ISO2553B), string(AWSA24)},
		doc: []string{
			"Welding symbols: iso-2553-a, iso-2553-b (systems A and B of ISO 2553), aws-a2.4,",
			"or auto to follow the style: iso-2553-a with iso, aws-a2.4 with us.",
		},
	},
	{
		name: "company",
		doc:  []string{"Line for the title block, up to 60 characters; empty prints none."},
	},
	{
		name: "logo",
		doc: []string{
			"File of the shop's mark for the title block: an SVG of filled paths or a PNG,",
			"up to 1 MiB. A name without a folder is looked for beside the settings file.",
		},
	},
	{
		name: "filler.type",
		doc: []string{
			"Filler taken where a joint names none: a name from the filler table, or your own below.",
			"Empty: none is assumed, and such a joint gets volumes without masses.",
		},
	},
	{
		name: "filler.diameter", preset: string(Auto),
		doc: []string{"Rod or wire diameter: 2.4mm, 3/32in. auto: 2.4 mm, or 3/32 in for a joint in inches."},
	},
	{
		name: "filler.length", preset: string(Auto),
		doc: []string{"Cut length of a rod: 1000mm, 36in. auto: 1000 mm, or 36 in for a joint in inches."},
	},
	{
		name: "filler.stub", preset: string(Auto),
		doc: []string{
			"What is left of each rod: 50mm, 2in. auto: 50 mm, or 2 in for a joint in inches",
			"(common practice, no source).",
		},
	},
	{
		name: "filler.stub-fused", preset: "false", allowed: []string{"true", "false"},
		doc: []string{"true when stubs are fused to the next rod and none is thrown away."},
	},
	{
		name: "filler.pack",
		doc: []string{
			"Pack or spool you buy: 5kg, 10lb. Empty: the cheapest of those with a price, else",
			"the usual one of the metal, see `fay fillers`.",
		},
	},
	{
		name: "process", preset: string(GTAW),
		doc: []string{"Welding process: " + strings.Join(processNames(), ", ") + "."},
	},
	{
		name: "processes", shape: records,
		doc: []string{
			"Your own numbers of a process; what is not given stays as on file.",
			"With a deposition rate, arc time comes from it and not from travel speed.",
		},
	},
	{
		name: "machine",
		doc:  []string{"Machine the heat is reckoned with where none is named, one of those below."},
	},
	{
		name: "machines", shape: records,
		doc: []string{
			"Your machines: the most current each gives, and the voltage of its arc over the",
			"current where you measured it. An entry without a process holds for any.",
		},
	},
	{
		name: "calibrations", shape: records,
		doc: []string{
			"What cut sections said of the arc of a machine and a process, written by",
			"`fay heat --calibrate LOG --store MACHINE`. Used only where a joint's heat is",
			"asked for with calibrated=MACHINE. Efficiency is the part that reaches the work.",
		},
	},
	{
		name: "gas.cylinder", preset: "10 m3",
		doc: []string{"Gas in a cylinder: 10 m3 (50 L at 200 bar, from memory, unverified), 250 cf."},
	},
	{
		name: "allowances.oversize", preset: "0",
		doc: []string{"Metal laid beyond the plan, % added to the deposited metal (a leg 10 % over is 21 %)."},
	},
	{
		name: "allowances.tack", preset: "0",
		doc: []string{"Metal in tack welds, % added to the deposited metal; at most 100."},
	},
	{
		name: "allowances.waste", preset: "0",
		doc: []string{
			"Filler dropped or cut off, % added to what is used, stubs among it: 5 buys 105",
			"for every 100 used; at most 100.",
		},
	},
	{
		name: "cost.currency",
		doc:  []string{"Currency of every price here, such as EUR; needed where there is a price."},
	},
	{
		name: "cost.labour",
		doc:  []string{"An hour of paid time. Empty: no such cost line."},
	},
	{
		name: "cost.arc-share", preset: "100",
		doc: []string{"Share of paid time that the arc burns, %; 100 counts arc time alone."},
	},
	{
		name: "cost.gas",
		doc:  []string{"A cubic metre of shielding gas. Empty: no such cost line."},
	},
	{
		name: "work.edge", preset: "0",
		doc: []string{"Your time to prepare a metre of one face of an edge: 4 min/m. A V has two faces, a double V four."},
	},
	{
		name: "work.turn", preset: "0",
		doc: []string{"Your time to turn a part once, for welds on its other side: 5 min."},
	},
	{
		name: "work.gouge", preset: "0",
		doc: []string{"Your time to gouge a metre of root to sound metal, where welds meet from both sides: 6 min/m."},
	},
	{
		name: "prices", shape: records,
		doc: []string{"What you pay for a pack of filler. fay knows no prices of its own."},
	},
	{
		name: "checks", shape: words,
		doc: []string{
			"Rule documents a joint is checked against where it names none,",
			"such as [aisc-360-16, iso-5817-2014/C]. Empty: none chosen here.",
		},
	},
	{
		name: "limits", shape: records,
		doc: []string{
			"Your own limits, checked beside the documents and shown as shop limits: of a",
			"quantity (convexity, undercut, gap, leg-minimum) or of a rule without values on",
			"file. The limit is base + factor x size, at most most; mm or degrees.",
		},
	},
	{
		name: "fillers", shape: records,
		doc: []string{
			"Your own fillers, or better densities for those on file. A name on file keeps",
			"everything not given here; a new one needs density and family.",
			"Density in g/cm3, kg/m3 or lb/in3; a bare number is g/cm3. It must be one that",
			"alloys of the family have.",
		},
	},
	{
		name: "materials", shape: records,
		doc: []string{
			"Your own base materials, on the same terms. `like` takes what is not given",
			"from another entry. For the heat: conductivity in W/mK, heat-capacity in J/kgK,",
			"solidus and liquidus in C, latent-heat in kJ/kg, means up to melting.",
		},
	},
}

// recordFields are the keys of one entry of a list of records.
var recordFields = map[string][]string{
	"processes":    {"process", "travel-speed", "deposition-rate", "pass-area", "gas-flow", "efficiency", "source"},
	"machines":     {"name", "process", "current", "load-line", "source"},
	"calibrations": {"machine", "process", "sections", "efficiency", "efficiency-range", "spot", "spot-range", "source"},
	"prices":       {"filler", "diameter", "pack", "price", "source"},
	"limits":       {"of", "operator", "base", "factor", "size", "most", "note"},
	"fillers":      {"name", "density", "family", "aliases", "like", "source"},
	"materials": {"name", "density", "family", "aliases", "like", "source", "heat-treatable", "high-magnesium",
		"conductivity", "heat-capacity", "solidus", "liquidus", "latent-heat"},
}

func keyNames() []string {
	names := make([]string, 0, len(keys))
	for _, k := range keys {
		names = append(names, k.name)
	}
	return names
}

func findKey(name string) (key, bool) {
	for _, k := range keys {
		if k.name == name {
			return k, true
		}
	}
	return key{}, false
}

// isSection reports whether name groups keys: filler groups filler.type.
func isSection(name string) bool {
	for _, k := range keys {
		if strings.HasPrefix(k.name, name+".") {
			return true
		}
	}
	return false
}

// sectionOf returns the section a bare word such as stub-fused is a key of.
func sectionOf(word string) string {
	for _, k := range keys {
		if section, rest, nested := strings.Cut(k.name, "."); nested && rest == word {
			return section
		}
	}
	return ""
}
