package config

import "regexp"

// Catalogue is what names are looked up in: the built-in tables with the
// shop's own entries before them.
type Catalogue struct {
	fillers   []Filler
	materials []Material
	fillerAt  map[string]int // folded name or alias → index
	matAt     map[string]int
}

// BuiltinCatalogue holds the built-in tables alone.
func BuiltinCatalogue() Catalogue { return newCatalogue(nil, nil) }

// newCatalogue puts shop entries over the built-in tables. A shop entry whose
// name or alias is already on file replaces that entry in its place; any other
// is added at the end.
func newCatalogue(fillers []Filler, materials []Material) Catalogue {
	c := Catalogue{fillers: builtinFillers(), materials: builtinMaterials()}
	c = c.index()
	for _, f := range fillers {
		if i, ok := c.fillerAt[fold(f.Name)]; ok {
			c.fillers[i] = f
		} else {
			c.fillers = append(c.fillers, f)
		}
		c = c.index()
	}
	for _, m := range materials {
		if i, ok := c.matAt[fold(m.Name)]; ok {
			c.materials[i] = m
		} else {
			c.materials = append(c.materials, m)
		}
		c = c.index()
	}
	return c
}

// index returns the catalogue with its look-up maps rebuilt: names first, then aliases, so that an
// alias never hides another entry's name.
func (c Catalogue) index() Catalogue {
	c.fillerAt, c.matAt = map[string]int{}, map[string]int{}
	for i, f := range c.fillers {
		c.fillerAt[fold(f.Name)] = i
	}
	for i, f := range c.fillers {
		addAliases(c.fillerAt, f.Aliases, i)
	}
	for i, m := range c.materials {
		c.matAt[fold(m.Name)] = i
	}
	for i, m := range c.materials {
		addAliases(c.matAt, m.Aliases, i)
	}
	return c
}

func addAliases(at map[string]int, aliases []string, i int) {
	for _, a := range aliases {
		if _, taken := at[fold(a)]; !taken {
			at[fold(a)] = i
		}
	}
}

// Fillers lists every filler in print order.
func (c Catalogue) Fillers() []Filler { return append([]Filler(nil), c.fillers...) }

// Materials lists every base material in print order.
func (c Catalogue) Materials() []Material { return append([]Material(nil), c.materials...) }

// Filler finds a filler by name or alias, whatever case and spacing. The error
// is an *UnknownNameError with the nearest name.
func (c Catalogue) Filler(name string) (Filler, error) {
	if i, ok := c.fillerAt[fold(name)]; ok {
		return c.fillers[i], nil
	}
	var known []string
	for _, f := range c.fillers {
		known = append(append(known, f.Name), f.Aliases...)
	}
	return Filler{}, unknownName("filler", name, known)
}

// temper matches an aluminium temper at the end of a folded name: 6082t6,
// 5083h111, 5083o. The four digits before it keep steel names away.
var temper = regexp.MustCompile(`^(.*\d{4}a?)(f|o|h\d{1,4}|t\d{1,4})$`)

// Material finds a base material by name or alias, whatever case and spacing;
// an aluminium temper after the name (6082-T6) is allowed and dropped. The
// error is an *UnknownNameError with the nearest name.
func (c Catalogue) Material(name string) (Material, error) {
	folded := fold(name)
	if i, ok := c.matAt[folded]; ok {
		return c.materials[i], nil
	}
	if m := temper.FindStringSubmatch(folded); m != nil {
		if i, ok := c.matAt[m[1]]; ok && c.materials[i].Family == Aluminium {
			return c.materials[i], nil
		}
	}
	var known []string
	for _, m := range c.materials {
		known = append(append(known, m.Name), m.Aliases...)
	}
	return Material{}, unknownName("material", name, known)
}
