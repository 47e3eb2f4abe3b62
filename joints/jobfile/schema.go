package jobfile

import (
	"github.com/google/jsonschema-go/jsonschema"

	"fay/joints/jointfile"
)

// Schema describes job files to editors. It cannot know the joint files that a
// job names: what is set there is judged when the job is read.
func Schema() *jsonschema.Schema {
	text := func(doc string, longest int) *jsonschema.Schema {
		return &jsonschema.Schema{Description: doc, Types: []string{"string", "number", "boolean"}, MaxLength: &longest}
	}
	nothing := func() *jsonschema.Schema { return &jsonschema.Schema{Not: &jsonschema.Schema{}} }
	value := &jsonschema.Schema{Ref: "#/$defs/value"}
	return &jsonschema.Schema{
		ID: "urn:fay:job:1", Schema: jointfile.SchemaDraft,
		Title: "Job file", Description: "The joints that are made together.",
		Type: "object", Required: []string{"joints"}, AdditionalProperties: nothing(),
		PropertyOrder: []string{"job", "title", "joints"},
		Properties: map[string]*jsonschema.Schema{
			"job":   text("job number", maxLine),
			"title": text("name of the job on its sheets", maxLine),
			"joints": {
				Description: "joint files with how many parts of each", Type: "array", MinItems: new(1), MaxItems: new(MaxRows),
				Items: &jsonschema.Schema{
					Type: "object", Required: []string{"file"}, AdditionalProperties: nothing(),
					PropertyOrder: []string{"file", "quantity", "set"},
					Properties: map[string]*jsonschema.Schema{
						"file": {Description: "joint file, from the folder of the job", Types: []string{"string", "number"}, MinLength: new(1), MaxLength: new(maxPath)},
						"quantity": {Description: "parts to make; the joint file's own when left out", AnyOf: []*jsonschema.Schema{
							{Type: "integer", Minimum: new(1.0), Maximum: new(float64(maxQuantity))}, {Type: "string", Pattern: `^\s*[0-9]+\s*$`},
						}},
						"set": {Description: "values in place of the joint file's, named as on the command line", Ref: "#/$defs/values"},
					},
				},
			},
		},
		Defs: map[string]*jsonschema.Schema{
			"values": {Type: "object", AdditionalProperties: value, PropertyNames: &jsonschema.Schema{Pattern: `^[a-z0-9][a-z0-9.-]*$`}},
			"value": {AnyOf: []*jsonschema.Schema{
				{Types: []string{"string", "number", "boolean"}},
				{Type: "array", Items: &jsonschema.Schema{Types: []string{"string", "number", "boolean"}}},
				{Type: "array", Items: &jsonschema.Schema{Ref: "#/$defs/values"}},
				{Ref: "#/$defs/values"},
			}},
		},
	}
}
