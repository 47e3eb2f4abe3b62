package jointfile

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"

	"fay/geometry"
	"fay/joints"
)

// SchemaDraft names the draft that the schemas of this program follow.
const SchemaDraft = "https://json-schema.org/draft/2020-12/schema"

// Schema describes joint files to editors: every name of every kind with its
// type, limits, default and meaning. It is built from the kind table, so that a
// kind's schema follows from its description.
//
// It takes what [Read] takes, with two exceptions: words are in lower case, and
// a thing is described in one place, not half nested and half under dotted
// names. It cannot take the place of Read: what geometry refuses, it does not
// know. A bare number may be in millimetres or inches, so its bounds are those
// of both together; the description states them in millimetres.
func Schema() *jsonschema.Schema {
	s := &jsonschema.Schema{
		ID: "urn:fay:joint:1", Schema: SchemaDraft,
		Title: "Joint file", Description: "One welded joint. `fay new KIND` prints a file to start from.",
		Type: "object", Required: []string{jointField},
		Properties: map[string]*jsonschema.Schema{},
		Defs: map[string]*jsonschema.Schema{
			"text":       {Types: []string{"string", "number", "boolean"}, MaxLength: new(maxLine)},
			"length":     {Type: "string", Pattern: LengthPattern},
			"fit":        {Type: "string", Pattern: anchored(toleranced(lengthUnits))},
			"thickness":  {Type: "string", Pattern: anchored(toleranced(lengthUnits + "|" + foldAny("ga", "gauge", "gage")))},
			"pair":       {Type: "string", Pattern: anchored(lengthText + `\s*,\s*` + lengthText)},
			"angle":      {Type: "string", Pattern: anchored(toleranced(angleUnits))},
			"angle-pair": {Type: "string", Pattern: anchored(angleText + `\s*,\s*` + angleText)},
			"number":     {Type: "string", Pattern: anchored(`[+-]?` + decimalText)},
			"count":      {Type: "string", Pattern: anchored(`[0-9]+`)},
			"dotted":     {Description: "a value under its full name", Types: []string{"string", "number", "boolean", "array"}},
		},
	}
	commonDefs(s.Defs)
	names := make([]any, 0, len(joints.Kinds))
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		names = append(names, k.Name)
		s.Defs[k.Name] = kindSchema(s.Defs, k)
		s.AllOf = append(s.AllOf, &jsonschema.Schema{
			If: &jsonschema.Schema{
				Properties: map[string]*jsonschema.Schema{jointField: {Const: new(any(k.Name))}}, Required: []string{jointField},
			},
			Then: &jsonschema.Schema{Ref: "#/$defs/" + k.Name},
		})
	}
	s.Properties[jointField] = &jsonschema.Schema{Description: "kind of joint", Enum: names}
	return s
}

// The texts of numbers, as package geometry reads them.
const (
	decimalText = `(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?`
	numberText  = `(?:` + decimalText + `|(?:[0-9]+(?:-|\s+))?[0-9]+[/⁄][0-9]+|(?:[0-9]+\s*)?[½¼¾⅛⅜⅝⅞⅓⅔])`
	signText    = `(?:\+|-|−)`
	angleText   = signText + `?` + numberText + `\s*(?:` + angleUnits + `)?`
	angleUnits  = `°|º|[dD][eE][gG](?:[rR][eE][eE][sS]?)?|[rR][aA][dD](?:[iI][aA][nN][sS]?)?`
)

var (
	lengthUnits = foldAny("mm", "millimetre", "millimetres", "millimeter", "millimeters", "cm", "centimetre", "centimetres", "centimeter", "centimeters",
		"m", "metre", "metres", "meter", "meters", "in", "inch", "inches", `"`, "″", "”", "''", "′′", "ft", "foot", "feet", "'", "′", "’")
	lengthText = signText + `?` + numberText + `\s*(?:` + lengthUnits + `)?`
	// LengthPattern is the text of a length without a tolerance.
	LengthPattern = anchored(lengthText)
)

func anchored(pattern string) string { return `^\s*` + pattern + `\s*$` }

// toleranced is a number with a unit and up to two tolerances behind it.
func toleranced(units string) string {
	value := numberText + `\s*(?:` + units + `)?`
	return signText + `?` + value + `(?:\s*(?:±|\+/-|\+-|\+−|\+|-|−)\s*` + value + `){0,2}`
}

// foldAny matches one of the words whatever the case of their letters.
func foldAny(words ...string) string {
	out := make([]string, len(words))
	for i, w := range words {
		var b strings.Builder
		for _, r := range w {
			if lower, upper := strings.ToLower(string(r)), strings.ToUpper(string(r)); lower != upper {
				b.WriteString("[" + lower + upper + "]")
			} else {
				b.WriteString(regexp.QuoteMeta(string(r)))
			}
		}
		out[i] = b.String()
	}
	return strings.Join(out, "|")
}

// object is a schema of names that refuses others.
func object(description string) *jsonschema.Schema {
	return &jsonschema.Schema{
		Description: description, Type: "object",
		Properties: map[string]*jsonschema.Schema{}, AdditionalProperties: &jsonschema.Schema{Not: &jsonschema.Schema{}},
		PatternProperties: map[string]*jsonschema.Schema{},
	}
}

func put(s *jsonschema.Schema, name string, v *jsonschema.Schema) {
	s.Properties[name] = v
	s.PropertyOrder = append(s.PropertyOrder, name)
}

// dotted takes names below a group under their full name.
func dotted(s *jsonschema.Schema, prefix string, names []string) {
	s.PatternProperties[`^`+prefix+`\.(?:`+strings.Join(names, "|")+`)$`] = &jsonschema.Schema{Ref: "#/$defs/dotted"}
}

// kindSchema describes the files of a kind. What kinds share goes into defs.
func kindSchema(defs map[string]*jsonschema.Schema, k *joints.Kind) *jsonschema.Schema {
	b := bookOf(k)
	s := object(k.Doc)
	s.Title = k.Title
	put(s, jointField, &jsonschema.Schema{Const: new(any(k.Name))})
	for _, name := range []string{"title", unitsField} {
		put(s, name, fieldSchema(b.fields[name]))
	}
	for _, m := range k.Members {
		put(s, m.Name, memberSchema(m))
		s.AllOf = append(s.AllOf, &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Required: []string{m.Name}}, {Required: []string{m.Name + ".thickness"}}}})
		dotted(s, m.Name, []string{"thickness", "material"})
	}
	for i := range k.Params {
		put(s, k.Params[i].Name, fieldSchema(b.fields[k.Params[i].Name]))
	}
	demands(s, k)
	welds := object("the welds of the joint, at least one")
	ids := make([]string, 0, len(k.Welds))
	for i := range k.Welds {
		slot := &k.Welds[i]
		put(welds, slot.ID, weldSchema(defs, slot))
		ids = append(ids, slot.ID)
	}
	weldNames(welds, "", k)
	put(s, weldsGroup, welds)
	s.PatternProperties[`^`+weldsGroup+`\.(?:`+strings.Join(ids, "|")+`)$`] = &jsonschema.Schema{Type: "object"}
	weldNames(s, `(?:`+weldsGroup+`\.)?`, k)
	// Short forms: a weld without its group, a parameter of the first weld
	// without the weld.
	for i := range k.Welds {
		if id := k.Welds[i].ID; b.fields[id] == nil {
			put(s, id, weldSchema(defs, &k.Welds[i]))
		}
	}
	first := &k.Welds[0]
	for i := range first.Params {
		p := &first.Params[i]
		if n, _ := b.resolve(p.Name); n.bare {
			put(s, p.Name, &jsonschema.Schema{Description: first.ID + " weld: " + p.Doc, Ref: weldSchema(defs, first).Ref + "/properties/" + p.Name})
		}
	}
	exclude(s, first.Params)
	if f := b.fields[sidesField]; f != nil {
		f.doc = "the weld that parameters without a weld belong to, or both"
		put(s, sidesField, fieldSchema(f))
	}
	commonGroups(s)
	return s
}

// demands says which parameters a kind needs, which apply only with a choice
// of another one, and which exclude each other.
func demands(s *jsonschema.Schema, k *joints.Kind) {
	exclude(s, k.Params)
	for i := range k.Params {
		p := &k.Params[i]
		needed := p.Needed && p.Group == ""
		if p.With == nil {
			if needed {
				s.Required = append(s.Required, p.Name)
			}
			continue
		}
		values := make([]any, len(p.With.Values))
		for j, v := range p.With.Values {
			values[j] = v
		}
		then := &jsonschema.Schema{Properties: map[string]*jsonschema.Schema{p.With.Choice: {Enum: values}}}
		if choice, ok := k.Param(p.With.Choice); !ok || !p.With.Holds(choice.Default) {
			then.Required = []string{p.With.Choice}
		}
		s.AllOf = append(s.AllOf, &jsonschema.Schema{If: &jsonschema.Schema{Required: []string{p.Name}}, Then: then})
		if needed {
			s.AllOf = append(s.AllOf, &jsonschema.Schema{If: then.CloneSchemas(), Then: &jsonschema.Schema{Required: []string{p.Name}}})
		}
	}
}

// weldNames takes parameters of welds under their full names.
func weldNames(s *jsonschema.Schema, prefix string, k *joints.Kind) {
	for i := range k.Welds {
		names := make([]string, len(k.Welds[i].Params))
		for j := range names {
			names[j] = k.Welds[i].Params[j].Name
		}
		dotted(s, prefix+k.Welds[i].ID, names)
	}
}

// exclude refuses two parameters of one group.
func exclude(s *jsonschema.Schema, params []joints.Param) {
	for i := range params {
		for j := range i {
			if params[i].Group != "" && params[i].Group == params[j].Group {
				s.AllOf = append(s.AllOf, &jsonschema.Schema{Not: &jsonschema.Schema{Required: []string{params[j].Name, params[i].Name}}})
			}
		}
	}
}

func memberSchema(m joints.MemberSlot) *jsonschema.Schema {
	o := object(m.Doc)
	thickness := fieldSchema(&field{form: formLength, limits: joints.ThicknessRange, doc: "plate thickness"})
	thickness.AnyOf[1].Ref = "#/$defs/thickness"
	put(o, "thickness", thickness)
	put(o, "material", fieldSchema(&field{form: formText, doc: "name in the material table"}))
	o.Required = []string{"thickness"}
	return &jsonschema.Schema{Description: m.Doc + ": its thickness alone, or thickness and material",
		AnyOf: []*jsonschema.Schema{thickness, o}}
}

// weldSchema refers to the parameters of a weld; those that are the same as
// another weld's are described once.
func weldSchema(defs map[string]*jsonschema.Schema, slot *joints.WeldSlot) *jsonschema.Schema {
	o := object("")
	for i := range slot.Params {
		f := fieldOf(slot.Params[i].Name, &slot.Params[i])
		put(o, f.path, fieldSchema(&f))
	}
	exclude(o, slot.Params)
	for n := 1; ; n++ {
		name := "weld-" + strconv.Itoa(n)
		if defs[name] == nil {
			defs[name] = o
		}
		if reflect.DeepEqual(defs[name], o) {
			return &jsonschema.Schema{Description: slot.Doc, Ref: "#/$defs/" + name}
		}
	}
}

// commonDefs describes the groups that every kind has.
func commonDefs(defs map[string]*jsonschema.Schema) {
	for i := range common {
		f := &common[i]
		parent, name, nested := strings.Cut(f.path, ".")
		if !nested {
			continue
		}
		if defs[parent] == nil {
			defs[parent] = object("")
		}
		put(defs[parent], name, fieldSchema(f))
	}
	seam := defs[seamGroup]
	seam.OneOf = []*jsonschema.Schema{{Required: []string{"length"}}, {Required: []string{"around"}}}
	seam.DependentRequired = map[string][]string{"segment": {"pitch"}, "pitch": {"segment"}, "segments": {"segment"}, "axis": {"around"}}
}

// commonGroups adds what every kind has besides title and units.
func commonGroups(s *jsonschema.Schema) {
	docs := map[string]string{
		"traveler": "what the sheet says of the work", seamGroup: "the run of weld along the part",
		"filler": "the rod; what is left out comes from the settings",
	}
	const number = seamsGroup + `\.(?:[1-9][0-9]?|100)`
	below := map[string][]string{}
	for i := range common {
		f := &common[i]
		parent, name, nested := strings.Cut(f.path, ".")
		switch {
		case nested:
			if below[parent] == nil {
				put(s, parent, &jsonschema.Schema{Description: docs[parent], Ref: "#/$defs/" + parent})
			}
			below[parent] = append(below[parent], name)
		case s.Properties[f.path] == nil:
			put(s, f.path, fieldSchema(f))
		}
	}
	put(s, seamsGroup, &jsonschema.Schema{Description: "the runs of weld along the part, in place of seam",
		Type: "array", MinItems: new(1), MaxItems: new(maxSeams), Items: &jsonschema.Schema{Ref: "#/$defs/" + seamGroup}})
	s.AllOf = append(s.AllOf, &jsonschema.Schema{Not: &jsonschema.Schema{Required: []string{seamGroup, seamsGroup}}})
	s.PatternProperties[`^`+number+`$`] = &jsonschema.Schema{Type: "object"}
	for parent, names := range below {
		if parent == seamGroup {
			parent = `(?:` + seamGroup + `|` + number + `)`
		}
		dotted(s, parent, names)
	}
}

// fieldSchema describes one value.
func fieldSchema(f *field) *jsonschema.Schema {
	s := &jsonschema.Schema{Description: f.describe()}
	ref := func(name string) *jsonschema.Schema { return &jsonschema.Schema{Ref: "#/$defs/" + name} }
	either := func(texts ...string) {
		number := f.numbers()
		s.AnyOf = []*jsonschema.Schema{number}
		for _, t := range texts {
			s.AnyOf = append(s.AnyOf, ref(t))
		}
	}
	two := func(text string) {
		one := &jsonschema.Schema{AnyOf: []*jsonschema.Schema{f.numbers(), ref(text)}}
		s.AnyOf = append(s.AnyOf, &jsonschema.Schema{Type: "array", Items: one, MinItems: new(2), MaxItems: new(2)})
	}
	switch f.form {
	case formText:
		s.Ref = "#/$defs/text"
	case formLength:
		either("length")
		if f.param != nil || f.limits == joints.ThicknessRange {
			s.AnyOf[1] = ref("fit")
		}
	case formLengths:
		either("fit", "pair")
		two("length")
	case formAngle:
		either("angle")
	case formAngles:
		either("angle", "angle-pair")
		two("angle")
	case formNumber:
		either("number")
	case formCount:
		either("count")
		s.AnyOf[0].Type = "integer"
	case formChoice:
		for _, c := range f.choices {
			s.Enum = append(s.Enum, c)
		}
	case formFlag:
		s.Enum = []any{true, false, "yes", "no", "true", "false"}
	case formDate:
		s.Type, s.Pattern = "string", `^\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\s*$`
	case formList:
		s.AnyOf = []*jsonschema.Schema{ref("text"), {Type: "array", Items: ref("text"), MaxItems: new(maxItems)}}
	}
	if f.param != nil && f.param.Default != "" {
		s.Default = jsonText(f.param.Default)
	}
	return s
}

// jsonText writes a value as it would stand in a file.
func jsonText(text string) json.RawMessage {
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return json.RawMessage(text)
	}
	return json.RawMessage(strconv.Quote(text))
}

// bounds are the limits of a field in the unit a person writes: mm, degrees or
// a plain number. They are both zero where there are none.
func (f *field) bounds() joints.Range {
	limits := f.limits
	if f.param != nil {
		limits = f.param.Limits
	}
	if f.form == formAngle || f.form == formAngles {
		limits = joints.Range{Min: degrees(limits.Min), Max: degrees(limits.Max)}
	}
	return limits
}

// degrees rounds away what comes of counting in radians.
func degrees(radians float64) float64 {
	return math.Round(geometry.Angle(radians).Degrees()*1e6) / 1e6
}

// numbers is the schema of a bare number.
func (f *field) numbers() *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "number"}
	r := f.bounds()
	if r == (joints.Range{}) {
		return s
	}
	if f.form == formLength || f.form == formLengths {
		// Millimetres or inches: that is for the file to say.
		r = joints.Range{Min: min(r.Min, r.Min/25.4), Max: max(r.Max, r.Max/25.4)}
	}
	s.Minimum, s.Maximum = &r.Min, &r.Max
	return s
}

// describe is the meaning of a field with its limits.
func (f *field) describe() string {
	text := f.doc
	r := f.bounds()
	unit := map[form]string{formLength: " mm", formLengths: " mm", formAngle: "°", formAngles: "°"}[f.form]
	switch {
	case r != (joints.Range{}):
		text += fmt.Sprintf("; from %s%s to %s%s", plainText(r.Min), unit, plainText(r.Max), unit)
	case f.form == formDate:
		text = "date: " + text
	}
	if f.param != nil && f.param.With != nil {
		text += "; applies where " + f.param.With.Choice + " is " + strings.Join(f.param.With.Values, ", ")
	}
	return text
}

func plainText(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
