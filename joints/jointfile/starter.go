package jointfile

import (
	"fmt"
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Starter returns a commented joint file of a kind. It reads and builds as it
// stands; every other name stands in a comment with its default.
func Starter(kind *joints.Kind) string {
	b := bookOf(kind)
	given := map[string]string{}
	for _, arg := range strings.Fields(kind.Example)[1:] {
		name, text, _ := strings.Cut(arg, "=")
		if n, ok := b.resolve(name); ok {
			given[n.field.path] = text
		}
	}
	s := starter{given: given}
	s.printf("# %s: %s.\n#\n", kind.Title, kind.Doc)
	s.printf("# A length takes the unit it carries (6mm, 0.25in, 1/4in, 16ga); a bare number\n")
	s.printf("# takes `units`. Angles are in degrees. What stands behind # is not in force:\n")
	s.printf("# take the # away to use it. Fit-up values take tolerances: 0.3 ±0.3, 60 +10 -5.\n\n")
	s.printf("joint: %s\n", kind.Name)
	s.field(0, b.fields["title"], "title")
	s.printf("units: mm\n")
	material := b.fields[materialField]
	s.printf("# %s\n%s: %s\n\n", material.doc, materialField, material.sample)
	for _, m := range kind.Members {
		s.printf("%s: # %s\n", m.Name, m.Doc)
		s.printf("  thickness: %s\n", given[m.Name+".thickness"])
		s.printf("  # material: EN AW-5083\n")
	}
	s.printf("\n")
	for i := range kind.Params {
		s.field(0, b.fields[kind.Params[i].Name], kind.Params[i].Name)
	}
	s.printf("\nwelds:\n")
	for _, slot := range kind.Welds {
		s.slot(b, slot)
	}
	group := ""
	for i := range common {
		f := &common[i]
		if f.path == "title" || f.path == unitsField || f.path == materialField {
			continue
		}
		parent, name, nested := strings.Cut(f.path, ".")
		if parent != group {
			s.printf("\n")
			group = parent
			if parent == seamGroup {
				s.printf("# Several seams are a list: seams: [{length: 180}, {length: 90, count: 2}]\n")
			}
			if nested {
				s.printf("# %s:\n", parent)
			}
		}
		if nested {
			sample := f.sample
			if f.path == seamWelds {
				sample = "[" + kind.Welds[0].ID + "]"
			}
			s.printf("#   %-11s %s # %s\n", name+":", sample, f.doc)
		} else {
			s.printf("# %s: %s # %s\n", f.path, f.sample, f.doc)
		}
	}
	return s.String()
}

type starter struct {
	strings.Builder
	given map[string]string
}

func (s *starter) printf(format string, args ...any) {
	_, _ = fmt.Fprintf(s, format, args...) // a Builder never fails
}

// slot prints a weld; one without a given value is commented out whole.
func (s *starter) slot(b *book, slot joints.WeldSlot) {
	prefix := weldsGroup + "." + slot.ID + "."
	off := "# "
	for path := range s.given {
		if strings.HasPrefix(path, prefix) {
			off = ""
		}
	}
	s.printf("  %s%s: # %s\n", off, slot.ID, slot.Doc)
	if off != "" {
		return
	}
	for _, p := range slot.Params {
		s.field(4, b.fields[prefix+p.Name], p.Name)
	}
}

// field prints a value, or a comment with its default or a usual one.
func (s *starter) field(indent int, f *field, name string) {
	pad := strings.Repeat(" ", indent)
	doc := f.doc
	if len(f.choices) > 0 {
		doc += ": " + strings.Join(f.choices, ", ")
	}
	if f.param != nil && f.param.With != nil {
		doc += " (where " + f.param.With.Choice + " is " + strings.Join(f.param.With.Values, ", ") + ")"
	}
	s.printf("%s# %s\n", pad, doc)
	if text, ok := s.given[f.path]; ok {
		s.printf("%s%s: %s\n", pad, name, text)
		return
	}
	s.printf("%s# %s: %s\n", pad, name, f.example())
}

// example is a value that shows how the field is written.
func (f *field) example() string {
	switch {
	case f.sample != "":
		return f.sample
	case f.param == nil:
		return ""
	case f.param.Default != "":
		return f.param.Default
	}
	v := f.param.Usual.Max
	if f.form == formAngle || f.form == formAngles {
		v = math.Round(geometry.Angle(v).Degrees())
	}
	return fmt.Sprintf("%g", v)
}
