package config

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// maxName is the longest name or alias of an own entry, in characters.
const maxName = 40

func fillerNames(list []Filler) string {
	names := make([]string, 0, len(list))
	for _, f := range list {
		names = append(names, f.Name)
	}
	return strings.Join(names, ", ")
}

func materialNames(list []Material) string {
	names := make([]string, 0, len(list))
	for _, m := range list {
		names = append(names, m.Name)
	}
	return strings.Join(names, ", ")
}

func priceNames(list []Price) string {
	names := make([]string, 0, len(list))
	for _, p := range list {
		names = append(names, fmt.Sprintf("%s %g kg", p.Filler, p.Pack))
	}
	return strings.Join(names, ", ")
}

func practiceNames(list []Practice) string {
	names := make([]string, 0, len(list))
	for _, p := range list {
		names = append(names, string(p.Process))
	}
	return strings.Join(names, ", ")
}

// fillers judges the shop's own fillers. Later entries may be like earlier
// ones.
func (j *judge) fillers(list []rawEntry) []Filler {
	var out []Filler
	seen := map[string]bool{}
	for i, e := range list {
		path := fmt.Sprintf("fillers[%d]", i)
		known := newCatalogue(out, nil)
		var f Filler
		index, onFile := known.fillerAt[fold(e.Name)]
		if onFile {
			f = known.fillers[index]
		} else if e.Like != "" {
			like, err := known.Filler(e.Like)
			if err != nil {
				j.fault(FaultName, path+".like", e.Like, "no such filler", didYouMean(err, "name a filler on file"))
				continue
			}
			f = like
			f.Aliases, f.Title = nil, ""
			f.Note = "like " + like.Name
		}
		name, ok := j.ownName(path, e, onFile, f.Name, seen)
		if !ok {
			continue
		}
		f.Name = name
		f.Aliases = append(append([]string(nil), f.Aliases...), j.aliases(path, e, onFile, index, known.fillerAt)...)
		f.Family = j.family(path, e, f.Family)
		if d, given := j.density(path, e, f.Density.OnFile(), f.Family); given {
			f.Density, f.Spread, f.Printed, f.Source, f.Note = d, 0, strings.TrimSpace(e.Density), shopSource(e), ""
		}
		out = append(out, f)
	}
	return out
}

// materials judges the shop's own base materials.
func (j *judge) materials(list []rawEntry) []Material {
	var out []Material
	seen := map[string]bool{}
	for i, e := range list {
		path := fmt.Sprintf("materials[%d]", i)
		known := newCatalogue(nil, out)
		var m Material
		index, onFile := known.matAt[fold(e.Name)]
		if onFile {
			m = known.materials[index]
		} else if e.Like != "" {
			like, err := known.Material(e.Like)
			if err != nil {
				j.fault(FaultName, path+".like", e.Like, "no such material", didYouMean(err, "name a material on file"))
				continue
			}
			m = like
			m.Aliases, m.Title = nil, ""
			m.ClassNote = "like " + like.Name
		}
		name, ok := j.ownName(path, e, onFile, m.Name, seen)
		if !ok {
			continue
		}
		m.Name = name
		m.Aliases = append(append([]string(nil), m.Aliases...), j.aliases(path, e, onFile, index, known.matAt)...)
		m.Family = j.family(path, e, m.Family)
		if d, given := j.density(path, e, m.Density.OnFile(), m.Family); given {
			m.Density, m.Source = d, shopSource(e)
		}
		m.HeatTreatable = j.flag(path+".heat-treatable", e.HeatTreatable, m.HeatTreatable, e, &m)
		m.HighMagnesium = j.flag(path+".high-magnesium", e.HighMagnesium, m.HighMagnesium, e, &m)
		m.OwnThermal = j.thermal(path, e, &m)
		out = append(out, m)
	}
	return out
}

// ownName judges the name of an entry and returns the name it goes by: that of
// the entry on file where there is one.
func (j *judge) ownName(path string, e rawEntry, onFile bool, filed string, seen map[string]bool) (string, bool) {
	name := strings.TrimSpace(e.Name)
	at := path + ".name"
	switch {
	case fold(name) == "":
		j.fault(FaultMissing, path, e.Name, "an entry needs a name of letters or digits", "add `name:`")
		return "", false
	case utf8.RuneCountInString(name) > maxName || !printable(name):
		j.fault(FaultRange, at, name, fmt.Sprintf("a name is at most %d printable characters", maxName), "shorten it")
		return "", false
	case onFile && e.Like != "":
		j.fault(FaultValue, path+".like", e.Like, fmt.Sprintf("%q is on file already and keeps its own values", filed),
			"give the entry another name, or delete `like`")
		return "", false
	}
	if onFile {
		name = filed
	}
	if seen[fold(name)] {
		j.fault(FaultDuplicate, at, e.Name, "an entry may stand once", "keep one of the two")
		return "", false
	}
	seen[fold(name)] = true
	return name, true
}

// aliases judges the other names of an entry: none may belong to another one.
func (j *judge) aliases(path string, e rawEntry, onFile bool, self int, taken map[string]int) []string {
	var out []string
	for i, a := range e.Aliases {
		a = strings.TrimSpace(a)
		at := fmt.Sprintf("%s.aliases[%d]", path, i)
		owner, used := taken[fold(a)]
		switch {
		case fold(a) == "" || utf8.RuneCountInString(a) > maxName || !printable(a):
			j.fault(FaultValue, at, a, fmt.Sprintf("a name is 1 to %d printable characters", maxName), "change or delete it")
		case used && !(onFile && owner == self):
			j.fault(FaultDuplicate, at, a, "the name belongs to another entry", "delete it, or name that entry to change it")
		case !used:
			out = append(out, a)
		}
	}
	return out
}

func (j *judge) family(path string, e rawEntry, inherited Family) Family {
	if e.Family == "" {
		if inherited == "" {
			j.fault(FaultMissing, path, e.Name, "a new entry needs a family: "+strings.Join(familyNames(), ", "),
				"add `family:`, or `like:` with a name on file")
		}
		return inherited
	}
	f, err := ParseFamily(e.Family)
	if err != nil {
		j.fault(FaultValue, path+".family", e.Family, "allowed: "+strings.Join(familyNames(), ", "), didYouMean(err, "choose one of them"))
	}
	return f
}

// density reads the density of an entry of a family and whether it was given.
func (j *judge) density(path string, e rawEntry, inherited bool, family Family) (Density, bool) {
	if e.Density == "" {
		if !inherited {
			j.fault(FaultMissing, path, e.Name, "a new entry needs a density", "add `density:` in g/cm³ from the maker's data sheet")
		}
		return 0, false
	}
	d, err := ParseDensity(e.Density)
	if err != nil {
		j.fault(FaultRange, path+".density", e.Density, err.Error(), "aluminium is near 2.7 g/cm³, steel near 7.85")
		return 0, true
	}
	if r, known := densityRange[family]; known && (d < r[0] || d > r[1]) {
		j.fault(FaultRange, path+".density", e.Density,
			fmt.Sprintf("alloys of the family %s weigh %g to %g g/cm³ (physical plausibility, %s)", family, float64(r[0]), float64(r[1]), CommonPractice),
			"check number and unit, or give the entry its own name and family")
	}
	return d, true
}

// flag reads true or false; the shop's word then stands behind the flags.
func (j *judge) flag(path, text string, inherited bool, e rawEntry, m *Material) bool {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "":
		return inherited
	case "true", "false":
		m.FlagSource = shopSource(e)
		return strings.EqualFold(strings.TrimSpace(text), "true")
	default:
		j.fault(FaultValue, path, text, "allowed: true, false", "choose one of them")
		return inherited
	}
}

func shopSource(e rawEntry) Source {
	text := strings.TrimSpace(e.Source)
	if text == "" {
		text = "shop settings"
	}
	return Source{Text: text, Provenance: Shop}
}
