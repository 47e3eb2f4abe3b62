package macro

import (
	"github.com/google/jsonschema-go/jsonschema"

	"fay/joints/jointfile"
)

// RecordSchema describes record files to editors. Limits of lengths are told, not
// checked, for a length carries its unit with it.
func RecordSchema() *jsonschema.Schema {
	text := func() *jsonschema.Schema {
		return &jsonschema.Schema{Types: []string{"string", "number", "boolean"}, MaxLength: new(maxText)}
	}
	number := &jsonschema.Schema{Types: []string{"number", "string"}}
	point := &jsonschema.Schema{AnyOf: []*jsonschema.Schema{
		{Type: "array", Items: number, MinItems: new(2), MaxItems: new(2)}, {Type: "string"},
	}}
	forms := map[form]func() *jsonschema.Schema{
		formText: text,
		formDate: func() *jsonschema.Schema {
			return &jsonschema.Schema{Type: "string", Pattern: `^\s*\d{4}-\d{2}-\d{2}\s*$`}
		},
		formChoice: text,
		formLength: func() *jsonschema.Schema { return &jsonschema.Schema{Ref: "#/$defs/length"} },
		formScale:  func() *jsonschema.Schema { return &jsonschema.Schema{Ref: "#/$defs/length"} },
		formPair: func() *jsonschema.Schema {
			return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{
				{Types: []string{"number", "string"}},
				{Type: "array", Items: &jsonschema.Schema{Ref: "#/$defs/length"}, MinItems: new(1), MaxItems: new(2)},
			}}
		},
		formPoints: func() *jsonschema.Schema {
			return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "array", Items: point, MaxItems: new(maxPoints)}, {Type: "string"}}}
		},
	}
	s := &jsonschema.Schema{
		ID: "urn:fay:record:1", Schema: jointfile.SchemaDraft,
		Title: "Cut-and-etch record", Description: "What was measured on one cut sample of a weld.",
		Type: "object", Required: []string{"sample"}, AdditionalProperties: &jsonschema.Schema{Not: &jsonschema.Schema{}},
		PropertyOrder: Names(), Properties: map[string]*jsonschema.Schema{},
		Defs: map[string]*jsonschema.Schema{"length": {AnyOf: []*jsonschema.Schema{
			{Type: "number"}, {Type: "string", Pattern: jointfile.LengthPattern},
		}}},
	}
	for i := range fields {
		f := &fields[i]
		p := forms[f.form]()
		p.Description = f.doc
		s.Properties[f.name] = p
	}
	units := s.Properties["units"]
	units.Type, units.Types, units.Pattern = "string", nil, `^\s*([mM][mM]|[iI][nN])\s*$`
	return s
}
