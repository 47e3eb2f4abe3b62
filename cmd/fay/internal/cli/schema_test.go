package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"fay/config"
	"fay/joints"
)

// schemaOf compiles what the command prints, by a validator of another make
// than its writer's.
func schemaOf(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	code, out, talk := run(t, "", "schema", name)
	if code != exitDone || talk != "" {
		t.Fatalf("exit code %d, %s", code, talk)
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name+".json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	if s.DraftVersion != 2020 {
		t.Errorf("draft %d, want 2020-12", s.DraftVersion)
	}
	return s
}

func validateYAML(t *testing.T, s *jsonschema.Schema, text string) error {
	t.Helper()
	data, err := yaml.YAMLToJSON([]byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

// Everything that prints a result prints one that is in the schema.
func TestResultsAreInTheSchema(t *testing.T) {
	s := schemaOf(t, "result")
	files, err := filepath.Glob("../../../../testdata/examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for i := range joints.Kinds {
		files = append(files, joints.Kinds[i].Example)
	}
	for _, file := range files {
		for _, command := range []string{"check", "filler"} {
			code, out, talk := run(t, "", append([]string{command}, append(strings.Fields(file), "--format", "json")...)...)
			if code != exitDone && code != exitNotMet {
				t.Errorf("%s %s: exit code %d, %s", command, file, code, talk)
				continue
			}
			v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(v); err != nil {
				t.Errorf("%s %s: %v", command, file, err)
			}
		}
	}
}

// uncommented takes every # away that stands right before a setting.
func uncommented(text string) string {
	var out []string
	for line := range strings.SplitSeq(text, "\n") {
		bare := strings.TrimLeft(line, " ")
		if rest, ok := strings.CutPrefix(bare, "#"); ok && rest != "" && rest[0] != ' ' {
			line = line[:len(line)-len(bare)] + rest
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

func TestSettingsSchema(t *testing.T) {
	s := schemaOf(t, "settings")
	for name, text := range map[string]string{"template": config.Template() + "\nunits: mm\n", "template in force": uncommented(config.Template())} {
		if err := validateYAML(t, s, text); err != nil {
			t.Errorf("%s: %v\n%s", name, err, text)
		}
	}
	for text, want := range map[string]bool{
		"units: in\nsheet: Letter": true, "filler: {diameter: 3/32in, stub-fused: true}": true, "checks: aisc-360-16": true, "denominator: 32": true,
		"units: feet": false, "shete: A4": false, "filler: {diamter: 2}": false, "filler: {diameter: two}": false, "checks: [[a]]": false,
		"denominator: 5": false, "fillers: [{density: 2.7}]": false, "materials: [{name: x, densty: 2.7}]": false, "company:": false,
	} {
		path := filepath.Join(t.TempDir(), "s.yaml")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := config.Load(config.Options{File: path, Environ: []string{}})
		if (err == nil) != want {
			t.Errorf("%q is read: %v, want %v: %v", text, err == nil, want, err)
		}
		if err := validateYAML(t, s, text); (err == nil) != want {
			t.Errorf("%q is in the schema: %v, want %v: %v", text, err == nil, want, err)
		}
	}
}

// Every setting is in the schema; the words it allows are those that loading
// allows, which says them when it refuses one.
func TestSettingsSchemaFollowsTheKeys(t *testing.T) {
	schema, err := settingsSchema()
	if err != nil {
		t.Fatal(err)
	}
	loaded, err := config.Load(config.Options{Dir: t.TempDir(), Environ: []string{}})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, e := range loaded.Entries {
		seen[e.Key] = true
		at := schema
		for part := range strings.SplitSeq(e.Key, ".") {
			if at = at.Properties[part]; at == nil {
				t.Fatalf("%s is not in the schema", e.Key)
			}
		}
		if at.Description == "" {
			t.Errorf("%s is not explained", e.Key)
		}
		if e.Env == "" && len(settingRecords[e.Key]) == 0 {
			t.Errorf("%s: the names in its entries are not in the schema", e.Key)
		}
		if e.Env == "" || e.Key == "process" { // process takes trade names besides
			continue
		}
		_, err := config.Load(config.Options{Dir: t.TempDir(), Environ: []string{}, Overrides: []config.Override{{Key: e.Key, Value: "no such word", Name: "test"}}})
		_, allowed, ok := strings.Cut(errorText(err), "allowed: ")
		if !ok {
			continue
		}
		allowed, _, _ = strings.Cut(allowed, ";")
		words := make([]string, len(at.Enum))
		for i, v := range at.Enum {
			data, err := json.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			words[i] = strings.Trim(string(data), `"`)
		}
		if d := cmp.Diff(strings.Split(allowed, ", "), words); d != "" {
			t.Errorf("%s (-want +got):\n%s", e.Key, d)
		}
	}
	for _, m := range []map[string]bool{keysOf(settingForms), keysOf(settingRecords)} {
		for key := range m {
			if !seen[key] {
				t.Errorf("%s is in the schema, but no setting", key)
			}
		}
	}
	// Entries take the names that the schema gives them.
	for key, names := range settingRecords {
		for _, name := range names {
			path := filepath.Join(t.TempDir(), "s.yaml")
			if err := os.WriteFile(path, []byte(key+": [{"+name+": x}]\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			if _, err := config.Load(config.Options{File: path, Environ: []string{}}); strings.Contains(errorText(err), "no such key in an entry") {
				t.Errorf("%s has no %s: %v", key, name, err)
			}
		}
	}
}

func errorText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func keysOf[V any](m map[string]V) map[string]bool {
	keys := map[string]bool{}
	for k := range m {
		keys[k] = true
	}
	return keys
}

// A picture of every kind, in every format, and the same twice.
func TestKindPictures(t *testing.T) {
	for i := range joints.Kinds {
		name := joints.Kinds[i].Name
		t.Run(name, func(t *testing.T) {
			for format, begins := range map[string]string{"svg": "<", "pdf": "%PDF-", "png": "\x89PNG"} {
				code, out, talk := run(t, "", "kinds", name, "-o", "-", "--to", format)
				if code != exitDone || !strings.HasPrefix(out, begins) {
					t.Errorf("%s: exit code %d, %.20q, %s", format, code, out, talk)
				}
				if _, again, _ := run(t, "", "kinds", name, "-o", "-", "--to", format); again != out {
					t.Errorf("%s: another picture the second time", format)
				}
			}
		})
	}
}

// The list says of every parameter what the table of kinds says.
func TestKindsAreComplete(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		for _, format := range formats {
			code, out, talk := run(t, "", "kinds", k.Name, "--format", format)
			if code != exitDone {
				t.Fatalf("%s: exit code %d, %s", k.Name, code, talk)
			}
			params := k.Params
			for _, w := range k.Welds {
				params = append(slices.Clip(params), w.Params...)
			}
			for _, p := range params {
				if !strings.Contains(out, p.Name) || format != string(asJSON) && !strings.Contains(strings.ReplaceAll(out, `""`, `"`), p.Doc) {
					t.Errorf("%s as %s does not explain %s", k.Name, format, p.Name)
				}
			}
		}
	}
}
