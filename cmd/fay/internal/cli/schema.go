package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"
	"github.com/spf13/cobra"

	"fay/config"
	"fay/joints"
	"fay/joints/jobfile"
	"fay/joints/jointfile"
	"fay/joints/macro"
	"fay/joints/result"
)

// schemas are what `fay schema` can describe, the first one when it is not
// told.
var schemas = []struct {
	name string
	make func() (*jsonschema.Schema, error)
}{
	{"joint", func() (*jsonschema.Schema, error) { return jointfile.Schema(), nil }},
	{"job", func() (*jsonschema.Schema, error) { return jobfile.Schema(), nil }},
	{"settings", settingsSchema},
	{"record", func() (*jsonschema.Schema, error) { return macro.RecordSchema(), nil }},
	{"result", func() (*jsonschema.Schema, error) { return result.JSONSchema(), nil }},
	{"job-result", func() (*jsonschema.Schema, error) { return jobResultSchema(), nil }},
	{"job-line", func() (*jsonschema.Schema, error) { return jobLineSchema(), nil }},
	{"compare-result", func() (*jsonschema.Schema, error) { return compareSchema(), nil }},
}

func schemaNames() []string {
	names := make([]string, len(schemas))
	for i := range schemas {
		names[i] = schemas[i].name
	}
	return names
}

func (a *app) schema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema [" + strings.Join(schemaNames(), "|") + "]",
		Short: "Print the JSON Schema of a file or of results",
		Long: `schema prints a JSON Schema (draft 2020-12) of joint files, job files, the
settings file, cut-and-etch records, or of the results that --format json prints:
those of check, filler and heat (result), of job (job-result, and job-line for each
line of --format jsonl) and of compare (compare-result). Editors complete and
check files with it. It knows names, types and limits; whether a joint can be
made is for check to say.`,
		Example: "  fay schema\n  fay schema result",
		Args:    cobra.ArbitraryArgs,
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return schemaNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.runSchema(args) },
	}
}

func (a *app) runSchema(args []string) error {
	if len(args) > 1 {
		return usage("`fay schema` takes one name, but was given "+args[1]+" too", "run it once for each")
	}
	name := schemas[0].name
	if len(args) > 0 {
		name = args[0]
	}
	for _, s := range schemas {
		if s.name != name {
			continue
		}
		schema, err := s.make()
		if err != nil {
			return err
		}
		var out bytes.Buffer
		enc := json.NewEncoder(&out)
		enc.SetIndent("", "  ")
		enc.SetEscapeHTML(false)
		if err := enc.Encode(schema); err != nil {
			return fmt.Errorf("schema: %w", err)
		}
		return a.print(out.Bytes())
	}
	hint := "the schemas are " + strings.Join(schemaNames(), ", ")
	if near := joints.Nearest(name, schemaNames()); near != "" && len(name) < 20 {
		hint = "did you mean " + near + "? " + hint
	}
	return usage(fmt.Sprintf("%q: no schema of that name", name), hint)
}

// settingForms say how the values of settings are written where that is not
// plain text. Names, defaults and meanings come from package config.
var settingForms = map[string]func() *jsonschema.Schema{
	"units":       func() *jsonschema.Schema { return oneOf("mm", "in") },
	"printed":     func() *jsonschema.Schema { return oneOf(string(config.Auto), "mm", "in") },
	"inches":      func() *jsonschema.Schema { return oneOf(config.Fractions, config.Decimals) },
	"denominator": func() *jsonschema.Schema { return oneOf(2, 4, 8, 16, 32, 64) },
	"sheet":       func() *jsonschema.Schema { return oneOf(config.A4, config.A3, config.Letter) },
	"orientation": func() *jsonschema.Schema { return oneOf(config.Auto, config.Portrait, config.Landscape) },
	"language":    func() *jsonschema.Schema { return oneOf(config.ISO, config.US) },
	"style":       func() *jsonschema.Schema { return oneOf(string(config.Auto), string(config.ISO), string(config.US)) },
	"symbols": func() *jsonschema.Schema {
		return oneOf(string(config.Auto), string(config.ISO2553A), string(config.ISO2553B), string(config.AWSA24))
	},
	"filler.diameter":   autoLength,
	"filler.length":     autoLength,
	"filler.stub":       autoLength,
	"tint":              func() *jsonschema.Schema { return oneOf(true, false) },
	"dual":              func() *jsonschema.Schema { return oneOf(true, false) },
	"filler.stub-fused": func() *jsonschema.Schema { return oneOf(true, false) },
	"checks": func() *jsonschema.Schema {
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{
			{Type: "string"},
			{Type: "array", Items: &jsonschema.Schema{Type: "string", Pattern: `^[a-zA-Z0-9][a-zA-Z0-9.-]*(/[A-Za-z0-9.-]+)?$`}, UniqueItems: true},
		}}
	},
}

// settingRecords are the names in one entry of a setting that is a list of
// records, the needed one first.
var settingRecords = map[string][]string{
	"processes":    {"process", "travel-speed", "deposition-rate", "pass-area", "gas-flow", "efficiency", "source"},
	"machines":     {"name", "process", "current", "load-line", "source"},
	"calibrations": {"machine", "process", "sections", "efficiency", "efficiency-range", "spot", "spot-range", "source"},
	"prices":       {"filler", "diameter", "pack", "price", "source"},
	"limits":       {"of", "operator", "base", "factor", "size", "most", "note"},
	"fillers":      {"name", "density", "family", "aliases", "like", "source"},
	"materials": {"name", "density", "family", "aliases", "like", "source", "heat-treatable", "high-magnesium",
		"conductivity", "heat-capacity", "solidus", "liquidus", "latent-heat"},
}

func oneOf[T any](values ...T) *jsonschema.Schema {
	s := &jsonschema.Schema{}
	for _, v := range values {
		s.Enum = append(s.Enum, v)
	}
	return s
}

func settingLength() *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "number", Minimum: new(0.0)}, {Type: "string", Pattern: jointfile.LengthPattern}}}
}

func autoLength() *jsonschema.Schema {
	s := settingLength()
	s.AnyOf = append(s.AnyOf, oneOf(string(config.Auto)))
	return s
}

func settingText() *jsonschema.Schema {
	return &jsonschema.Schema{Types: []string{"string", "number", "boolean"}}
}

// records is a list of entries with these names.
func records(names []string) *jsonschema.Schema {
	if len(names) == 0 {
		return &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{Type: "object"}}
	}
	record := &jsonschema.Schema{
		Type: "object", Required: names[:1], AdditionalProperties: &jsonschema.Schema{Not: &jsonschema.Schema{}},
		PropertyOrder: names, Properties: map[string]*jsonschema.Schema{},
	}
	for _, name := range names {
		switch name {
		case "aliases":
			record.Properties[name] = &jsonschema.Schema{AnyOf: []*jsonschema.Schema{settingText(), {Type: "array", Items: settingText()}}}
		case "heat-treatable", "high-magnesium":
			record.Properties[name] = oneOf(true, false)
		default:
			record.Properties[name] = settingText()
		}
	}
	return &jsonschema.Schema{Type: "array", Items: record}
}

// settingsSchema describes the settings file: every setting there is, with its
// default.
func settingsSchema() (*jsonschema.Schema, error) {
	// No file, no variables: what is left are the defaults.
	loaded, err := config.Load(config.Options{Dir: "/nowhere", Environ: []string{}})
	if err != nil {
		return nil, err
	}
	nothing := func() *jsonschema.Schema { return &jsonschema.Schema{Not: &jsonschema.Schema{}} }
	root := &jsonschema.Schema{
		ID: "urn:fay:settings:1", Schema: jointfile.SchemaDraft,
		Title: "Settings file", Description: "What a shop decides once. `fay settings --template` prints a file to start from.",
		Type: "object", Properties: map[string]*jsonschema.Schema{}, AdditionalProperties: nothing(),
	}
	for _, e := range loaded.Entries {
		at, name := root, e.Key
		if group, rest, nested := strings.Cut(e.Key, "."); nested {
			if root.Properties[group] == nil {
				root.Properties[group] = &jsonschema.Schema{Type: "object", Properties: map[string]*jsonschema.Schema{}, AdditionalProperties: nothing()}
				root.PropertyOrder = append(root.PropertyOrder, group)
			}
			at, name = root.Properties[group], rest
		}
		s := settingText()
		if form, ok := settingForms[e.Key]; ok {
			s = form()
		}
		if e.Env == "" { // a list of records: no variable can hold one
			s = records(settingRecords[e.Key])
		}
		s.Description = e.Doc
		if e.Value != "" && e.Key != "style" { // which follows the language
			s.Default = json.RawMessage(strconv.Quote(e.Value))
		}
		for _, v := range s.Enum {
			if fmt.Sprint(v) != e.Value {
				continue
			}
			if s.Default, err = json.Marshal(v); err != nil {
				return nil, fmt.Errorf("schema: %w", err)
			}
		}
		at.Properties[name] = s
		at.PropertyOrder = append(at.PropertyOrder, name)
	}
	return root, nil
}
