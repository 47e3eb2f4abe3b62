package macro

import (
	"slices"
	"strings"

	"fay/joints"
)

// Etchant is a solution that shows the weld on a polished section.
type Etchant struct {
	Name     string   // as records name it
	Families []string // of metal, as package check names them
	What     string   // composition
	Use      string
	Source   string // of composition and use
	Hazard   string
	// HazardSource is where the hazard was read.
	HazardSource string
	// Fluoride marks solutions with hydrofluoric acid.
	Fluoride bool
}

const (
	asmSheet  = "ASM table 3 as copied at scribd 489332482 (secondary)"
	slides    = "slideshare macro-etching (secondary)"
	inspector = "opportunitytowin.blogspot 2017/12 and app.aws.org tid=5972 (secondary)"
	mind      = "from memory, unverified"
)

// The cautions every etching and the worst of it carry.
const (
	cautionEtching = "Etching: every etchant that works attacks skin, eyes and lungs. Goggles, gloves, moving air, water at hand; acid into water, never water into acid. " +
		"The safety data sheet of the solution, the local code and licensed practice decide."
	cautionFluoride = "HYDROFLUORIC ACID: a splash that hardly hurts at first goes through to the bone and can stop the heart. Not for work alone or without training. " +
		"Calcium gluconate gel open beside the bath, suited gloves, apron and face shield, no glass. After any contact: rinse, gel, hospital, at once. " +
		"Choose another etchant where one will do. The safety data sheet, the local code and licensed practice decide whether it may be used at all."
	cautionUnknown = "This etchant is not on file: its own safety data sheet says what it does and what it must not meet."
)

// etchants are those on file. Amounts are as their source prints them.
var etchants = []Etchant{
	{
		Name: "ammonium-persulfate", Families: []string{"steel"}, What: "10 g ammonium persulfate in 100 mL water",
		Use: "swab about a minute: fusion line, heat-affected zone, reheated passes", Source: asmSheet,
		Hazard: "Oxidiser and irritant: keep it from oil, solvents and rags, mix it fresh, do not close the bottle on a spent one.", HazardSource: mind,
	},
	{
		Name: "nitric-water", Families: []string{"steel"}, What: "15 mL nitric acid, 85 mL water, 5 mL alcohol", Use: "swab, scrub off the residue", Source: asmSheet,
		Hazard: "Corrosive, and gives off fume. Never bottle nitric acid with alcohol: the mixture can burst its vessel.", HazardSource: mind,
	},
	{
		Name: "nital", Families: []string{"steel"}, What: "5 to 10 % nitric acid in alcohol", Use: "wipe, seconds to minutes", Source: inspector,
		Hazard: "Flammable and corrosive. Keep it weak and fresh: strong nitric acid in ethanol is not stable.", HazardSource: mind,
	},
	{
		Name: "iodine", Families: []string{"steel"}, What: "iodine and potassium iodide in water", Use: "swab", Source: slides + "; iodine " + mind,
		Hazard: "Stains and irritates; the vapour harms eyes.", HazardSource: mind,
	},
	{
		Name: "hydrochloric", Families: []string{"steel", "aluminium"}, What: "hydrochloric acid and water", Use: "swab", Source: slides + "; weldcor.ca etching (secondary)",
		Hazard: "Corrosive; its fume attacks lungs and every tool in the room.", HazardSource: mind,
	},
	{
		Name: "tucker", Families: []string{"aluminium"}, What: "45 mL hydrochloric, 15 mL nitric, 15 mL hydrofluoric acid (48 %), 25 mL water",
		Use: "all aluminium alloys: dip or swab, mix fresh", Source: asmSheet, Fluoride: true,
		Hazard: "Three acids at once, one of them hydrofluoric.", HazardSource: mind,
	},
	{
		Name: "poulton", Families: []string{"aluminium"}, What: "60 mL hydrochloric, 30 mL nitric, 5 mL hydrofluoric acid (48 %), 5 mL water",
		Use: "all aluminium alloys: dip or swab", Source: asmSheet, Fluoride: true,
		Hazard: "Three acids at once, one of them hydrofluoric.", HazardSource: mind,
	},
	{
		Name: "caustic", Families: []string{"aluminium"}, What: "5 to 10 % sodium hydroxide in water, hot, then a dip in 50 % nitric acid against the smut",
		Use: "1 to 10 minutes at 60 to 70 °C (numbers " + mind + ")", Source: "weldsmith.co.uk; " + slides,
		Hazard: "Hot lye blinds and burns; with aluminium it foams up and gives off hydrogen: no flame, an open vessel. Rinse well before the nitric dip.", HazardSource: mind,
	},
	{
		Name: "ferric-chloride", Families: []string{"stainless"}, What: "ferric chloride and hydrochloric acid in water", Use: "swab", Source: slides,
		Hazard: "Corrosive; stains and eats steel tools and drains.", HazardSource: mind,
	},
	{
		Name: "aqua-regia", Families: []string{"stainless"}, What: "hydrochloric and nitric acid", Use: "swab", Source: mind,
		Hazard: "Strongly corrosive; gives off chlorine and nitrous fume and must never be bottled.", HazardSource: mind,
	},
	{
		Name: "acetic-nitric", Families: []string{"nickel"}, What: "acetic and nitric acid", Use: "swab", Source: slides,
		Hazard: "Corrosive and a fire hazard: never store the two mixed.", HazardSource: slides,
	},
}

// Etchants lists those on file.
func Etchants() []Etchant { return slices.Clone(etchants) }

// LookupEtchant finds an etchant on file by its name.
func LookupEtchant(name string) (Etchant, bool) {
	name = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "-")
	for i := range etchants {
		if etchants[i].Name == name {
			return etchants[i], true
		}
	}
	return Etchant{}, false
}

// EtchingCautions are the cautions for an etchant as a record names it, the
// gravest first: those of any where it names none, and none at all where it says
// "none". Families are those of the members, empty where not known.
func EtchingCautions(name string, families []string) []string {
	switch {
	case strings.EqualFold(name, "none"):
		return nil
	case name == "":
		return []string{cautionEtching}
	}
	var out []string
	e, known := LookupEtchant(name)
	if known && e.Fluoride || !known && fluoride(name) {
		out = append(out, cautionFluoride)
	}
	if !known {
		note := cautionUnknown
		if near := joints.Nearest(strings.ToLower(name), etchantNames()); near != "" && len(name) <= longestShown {
			note += " Did you mean " + near + "?"
		}
		return append(out, note, cautionEtching)
	}
	out = append(out, e.Name+" ("+e.What+"): "+e.Hazard+" ["+e.HazardSource+"; composition: "+e.Source+"]")
	for _, f := range families {
		if f != "" && !slices.Contains(e.Families, f) {
			out = append(out, e.Name+" is on file for "+strings.Join(e.Families, " and ")+", not for "+f+": check that it is what was meant.")
			break
		}
	}
	return append(out, cautionEtching)
}

// fluoride tells whether a free text speaks of hydrofluoric acid.
func fluoride(text string) bool {
	text = strings.ToLower(text)
	if strings.Contains(text, "fluor") || strings.Contains(text, "tucker") || strings.Contains(text, "poulton") {
		return true
	}
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r < 'a' || r > 'z' }) {
		if word == "hf" || word == "keller" || word == "kellers" || word == "kroll" || word == "krolls" {
			return true
		}
	}
	return false
}

func etchantNames() []string {
	names := make([]string, len(etchants))
	for i := range etchants {
		names[i] = etchants[i].Name
	}
	return names
}
