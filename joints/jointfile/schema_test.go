package jointfile_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"fay/joints"
	"fay/joints/jointfile"
	"fay/joints/jointstest"
)

// compiled is the schema as a validator of another make reads it. The one of
// the library that writes the schema would share its mistakes.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	data, err := json.Marshal(jointfile.Schema())
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("joint.json", doc); err != nil {
		t.Fatal(err)
	}
	// Compiling checks the schema against that of its draft.
	s, err := c.Compile("joint.json")
	if err != nil {
		t.Fatal(err)
	}
	if s.DraftVersion != 2020 {
		t.Fatalf("draft %d, want 2020-12", s.DraftVersion)
	}
	return s
}

// asJSON turns YAML into what a validator takes.
func asJSON(t *testing.T, text string) any {
	t.Helper()
	data, err := yaml.YAMLToJSON([]byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	return v
}

func TestSchemaTakesExamples(t *testing.T) {
	s := compiled(t)
	files, err := filepath.Glob("../../testdata/examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(asJSON(t, string(data))); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
}

func TestSchemaTakesStarters(t *testing.T) {
	s := compiled(t)
	for i := range joints.Kinds {
		text := jointfile.Starter(&joints.Kinds[i])
		if err := s.Validate(asJSON(t, text)); err != nil {
			t.Errorf("%s: %v", joints.Kinds[i].Name, err)
		}
		// Every commented value in turn, as an editor's user takes the # away.
		lines := strings.Split(text, "\n")
		for n, line := range lines {
			name, ok := strings.CutPrefix(strings.TrimSpace(line), "# ")
			word, _, isPair := strings.Cut(name, ": ")
			if !ok || !isPair || strings.Contains(word, " ") || strings.HasPrefix(line, "#   ") || word == "yes" {
				continue
			}
			edited := append([]string(nil), lines...)
			edited[n] = strings.Replace(line, "# ", "", 1)
			text := strings.Join(edited, "\n")
			_, err := jointfile.Read(jointfile.Source{Name: "s.yaml", Data: []byte(text)})
			if invalid := s.Validate(asJSON(t, text)); err == nil && invalid != nil {
				t.Errorf("%s: %s is read but not in the schema: %v", joints.Kinds[i].Name, name, invalid)
			}
		}
	}
}

// fileOf writes a random input as a joint file, in one of the ways there are.
func fileOf(k *joints.Kind, in joints.Input, r *rand.Rand) string {
	var b strings.Builder
	value := func(v joints.Value) string {
		switch {
		case v.Text == "true" || v.Text == "false":
			return map[string]string{"true": "yes", "false": "no"}[v.Text]
		case strings.Contains(v.Text, ",") && r.IntN(2) == 0:
			return "[" + v.Text + "]"
		case strings.Contains(v.Text, ","), r.IntN(4) == 0:
			return `"` + v.Text + `"`
		}
		return v.Text
	}
	fmt.Fprintf(&b, "joint: %s\nunits: mm\n", k.Name)
	for _, m := range k.Members {
		if r.IntN(2) == 0 {
			fmt.Fprintf(&b, "%s: %s\n", m.Name, value(in.Plates[m.Name].Thickness))
		} else {
			fmt.Fprintf(&b, "%s: {thickness: %s, material: 5083}\n", m.Name, value(in.Plates[m.Name].Thickness))
		}
	}
	for i := range k.Params {
		if v, ok := in.Values[k.Params[i].Name]; ok {
			fmt.Fprintf(&b, "%s: %s\n", k.Params[i].Name, value(v))
		}
	}
	b.WriteString("welds:\n")
	for i := range k.Welds {
		values, ok := in.Welds[k.Welds[i].ID]
		if !ok {
			continue
		}
		fmt.Fprintf(&b, "  %s:\n", k.Welds[i].ID)
		if len(values) == 0 {
			b.WriteString("    {}\n")
		}
		for j := range k.Welds[i].Params {
			if v, ok := values[k.Welds[i].Params[j].Name]; ok {
				fmt.Fprintf(&b, "    %s: %s\n", k.Welds[i].Params[j].Name, value(v))
			}
		}
	}
	return b.String()
}

// What Read takes, the schema takes; and a slip in it is refused by both.
func TestSchemaAgreesWithRead(t *testing.T) {
	s := compiled(t)
	slips := map[string]func(string) string{
		"unknown name":      func(text string) string { return text + "gapp: 1\n" },
		"unknown weld name": func(text string) string { return strings.Replace(text, "welds:\n", "welds:\n  oter: {leg: 3}\n", 1) },
		"unknown seam name": func(text string) string { return text + "seam: {lengtt: 5}\n" },
		"empty value":       func(text string) string { return text + "title:\n" },
		"list for a value":  func(text string) string { return text + "title: [a, b]\n" },
		"unknown kind":      func(text string) string { return strings.Replace(text, "joint: ", "joint: x", 1) },
		"unknown unit":      func(text string) string { return strings.Replace(text, "units: mm", "units: furlong", 1) },
		"seam of both":      func(text string) string { return text + "seams: [{length: 5, around: 60}]\n" },
		"seam of nothing":   func(text string) string { return text + "seams: [{count: 5}]\n" },
		"no seam":           func(text string) string { return text + "seams: []\n" },
		"segment alone":     func(text string) string { return text + "seam: {length: 50, segment: 5}\n" },
		"two seam forms":    func(text string) string { return text + "seam: {length: 50}\nseams: [{length: 50}]\n" },
		"far too thick":     func(text string) string { return strings.Replace(text, "thickness: ", "thickness: 9000", 1) },
		"not a length":      func(text string) string { return text + "seam: {length: far}\n" },
		"decimal comma":     func(text string) string { return text + "seam: {length: \"0,5\"}\n" },
	}
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(11, uint64(i)))
			took := 0
			for range 120 {
				in := jointstest.Random(k, r)
				text := fileOf(k, in, r)
				if _, err := jointfile.Read(jointfile.Source{Name: "r.yaml", Data: []byte(text)}); err != nil {
					continue
				}
				took++
				if err := s.Validate(asJSON(t, text)); err != nil {
					t.Fatalf("read but not in the schema: %v\n%s", err, text)
				}
				if took > 6 {
					continue
				}
				for _, p := range k.Params {
					if _, given := in.Values[p.Name]; given && p.Needed && p.Group == "" {
						without := regexp.MustCompile(`(?m)^`+p.Name+`:.*\n`).ReplaceAllString(text, "")
						if _, err := jointfile.Read(jointfile.Source{Name: "r.yaml", Data: []byte(without)}); err == nil {
							t.Fatalf("read without %s\n%s", p.Name, without)
						}
						if s.Validate(asJSON(t, without)) == nil {
							t.Fatalf("in the schema without %s\n%s", p.Name, without)
						}
					}
				}
				for name, slip := range slips {
					wrong := slip(text)
					if wrong == text {
						continue
					}
					if _, err := jointfile.Read(jointfile.Source{Name: "r.yaml", Data: []byte(wrong)}); err == nil {
						t.Fatalf("%s: read\n%s", name, wrong)
					}
					if s.Validate(asJSON(t, wrong)) == nil {
						t.Fatalf("%s: in the schema\n%s", name, wrong)
					}
				}
			}
			if took < 5 {
				t.Errorf("only %d random joints could be read", took)
			}
		})
	}
}

// The schema names every parameter with its default and its choices.
func TestSchemaIsComplete(t *testing.T) {
	s := jointfile.Schema()
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		def := s.Defs[k.Name]
		if def == nil {
			t.Fatalf("no schema of %s", k.Name)
		}
		for _, name := range jointfile.Names(k) {
			at := def
			for part := range strings.SplitSeq(name, ".") {
				if at.Properties == nil && len(at.AnyOf) == 2 {
					at = at.AnyOf[1] // a member with its material
				}
				for at.Ref != "" {
					at = s.Defs[strings.TrimPrefix(at.Ref, "#/$defs/")]
				}
				at = at.Properties[part]
				if at == nil {
					t.Errorf("%s: the schema does not know %s", k.Name, name)
					break
				}
			}
			if at != nil && at.Description == "" {
				t.Errorf("%s: %s is not explained", k.Name, name)
			}
		}
		for _, p := range k.Params {
			at := def.Properties[p.Name]
			if len(at.Enum) != len(p.Choices) && len(p.Choices) > 0 {
				t.Errorf("%s: %s has choices %v, want %v", k.Name, p.Name, at.Enum, p.Choices)
			}
			if (p.Default != "") != (len(at.Default) > 0) {
				t.Errorf("%s: %s has default %s, want %q", k.Name, p.Name, at.Default, p.Default)
			}
		}
	}
}

// Texts of lengths and angles that Read takes and refuses, the patterns take
// and refuse.
func TestSchemaTexts(t *testing.T) {
	s := compiled(t)
	const head = "joint: tee\nstem: 3\n"
	for _, row := range []struct {
		text string
		want bool
	}{
		{"base: 8mm\nleg: 3", true}, {"base: 8 MM\nleg: 1/8 in", true}, {`base: 1-1/4"` + "\nleg: 3", true}, {"base: 1 1/4 Inches\nleg: .5cm", true},
		{"base: ½in\nleg: 3", true}, {"base: 2 ½ in\nleg: 3", true}, {"base: {thickness: 16ga, material: 5083}\nleg: 1", true},
		{"base: 8\nleg: 3\ngap: 0.3 ±0.3", true}, {"base: 8\nleg: 3\ngap: 0.5 +1.0 -0.5", true}, {"base: 8\nleg: 3\ngap: 0.5+-0.3mm", true},
		{"base: 8\nleg: 3\nangle: 75deg ±2°", true}, {"base: 8\nleg: 3\nangle: 1.2 rad", true}, {"base: 8\nleg: 3,4", true}, {"base: 8\nleg: [1/8in, 4mm]", true},
		{"base: 8\nleg: 3\nseam: {length: 1e2}", true}, {"base: 8\nleg: 3\nseam: {length: 1m, count: \"2\"}", true},
		{"base: 8\nleg: 3\nseam.length: 40\nseams.2.length: 50", true}, {"base: 8\nleg: 3\nother.leg: 4\nwelds.arrow.rise: 0", true}, {"base.thickness: 8\nleg: 3", true},
		{"base: 8 furlong\nleg: 3", false}, {"base: 1/\nleg: 3", false}, {"base: ''\nleg: 3", false}, {"base: 8\nleg: 3,4,5", false}, {"base: 8\nleg: [3, 4, 5]", false},
		{"base: 8\nleg: 3\ngap: 0.3 ± ±0.3", false}, {"base: 8\nleg: 3\nangle: 75 gon", false}, {"base: 8\nleg: 3\nseams.2.lengtt: 50", false},
		{"base: 8\nleg: 3\nseam: {length: 50 ±1}", false}, {"base: 8\nleg: 3\nseam: {length: 50, count: 1.5}", false}, {"base: 8\nleg: 3\nthroat: 2", false},
		{"base: 8\nleg: 3\nseam: {length: 50, axis: level}", false}, {"leg: 3", false},
		{"base: 8\nwelds: {arrow: {leg: 3, throat: 2}}", false}, {"base: 8\nwelds: {arrow: {leg: 3}, other: {throat: 2}}", true},
	} {
		_, err := jointfile.Read(jointfile.Source{Name: "j.yaml", Data: []byte(head + row.text), FamilyOf: aluminium})
		if (err == nil) != row.want {
			t.Errorf("%q is read: %v, want %v: %v", row.text, err == nil, row.want, err)
		}
		if got := s.Validate(asJSON(t, head+row.text)); (got == nil) != row.want {
			t.Errorf("%q is in the schema: %v, want %v: %v", row.text, got == nil, row.want, got)
		}
	}
}
