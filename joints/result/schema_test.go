package result_test

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/filler"
	"fay/joints/jointfile"
	"fay/joints/jointstest"
	"fay/joints/result"
)

// compiled is the schema as a validator of another make than its writer's
// reads it.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	data, err := json.Marshal(result.JSONSchema())
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("result.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("result.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func validate(t *testing.T, s *jsonschema.Schema, text string) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

// Results of many random joints, with findings, filler and seams, are in the
// schema.
func TestSchemaTakesResults(t *testing.T) {
	s := compiled(t)
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(3, uint64(i)))
			for range 40 {
				section, _, ok := jointstest.Section(k, r)
				if !ok {
					t.Fatal("no random joint can be built")
				}
				parts := result.Parts{Section: &section, Digest: "d"}
				if r.IntN(4) > 0 {
					findings, err := documents.Run(&check.Facts{Section: &section}, documents.IDs())
					if err != nil {
						t.Fatal(err)
					}
					parts.Findings = findings
				}
				if section.DepositedArea() > 0.01 && r.IntN(2) == 0 {
					used, err := filler.New(filler.Params{DepositedArea: section.DepositedArea(), Efficiency: 0.95, Density: 2.66, SeamLength: 100, Quantity: 3})
					if err != nil {
						t.Fatal(err)
					}
					parts.Filler = &used
				}
				if r.IntN(2) == 0 {
					parts.Seams, parts.Totals = randomSeams(t, &section, r)
				}
				text := encode(t, result.New(parts))
				if err := validate(t, s, text); err != nil {
					t.Fatalf("%v\n%s", err, text)
				}
			}
		})
	}
}

// randomSeams measures seams of every form.
func randomSeams(t *testing.T, s *joints.Section, r *rand.Rand) ([]jointfile.Seam, []jointfile.Total) {
	t.Helper()
	var seams []jointfile.Seam
	for _, seam := range []joints.Seam{
		{Length: geometry.Length(50 + 500*r.Float64())}, {Around: geometry.Length(200 + 100*r.Float64()), Count: 2},
		{Length: 500, Segment: 20, Pitch: 60, Staggered: true, Welds: []string{s.Welds[0].ID}},
	} {
		runs, err := s.Runs(seam, "")
		if err != nil {
			t.Fatal(err)
		}
		seams = append(seams, jointfile.Seam{Seam: seam, Runs: runs})
	}
	return seams, []jointfile.Total{{Weld: s.Welds[0].ID, Length: 5, Volume: 2, Fused: 2}}
}

// Every word that a type declares is in the schema, so that a new one cannot be
// forgotten.
func TestSchemaKnowsEveryWord(t *testing.T) {
	data, err := json.Marshal(result.JSONSchema())
	if err != nil {
		t.Fatal(err)
	}
	types := map[string]bool{"Unit": true, "WeldKind": true, "Axis": true, "Verdict": true, "Provenance": true, "Operator": true}
	found := map[string]int{}
	for _, dir := range []string{"..", "../check"} {
		files, err := filepath.Glob(dir + "/*.go")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				spec, ok := n.(*ast.ValueSpec)
				if !ok {
					return true
				}
				of, ok := spec.Type.(*ast.Ident)
				if !ok || !types[of.Name] || len(spec.Values) != 1 {
					return true
				}
				word, ok := spec.Values[0].(*ast.BasicLit)
				if ok && !strings.Contains(string(data), word.Value) {
					t.Errorf("%s: %s %s is not in the schema", name, of.Name, word.Value)
				}
				found[of.Name]++
				return true
			})
		}
	}
	if len(found) != len(types) {
		t.Errorf("words were found of %v, want some of each of %v", found, types)
	}
}

// The schema is no open door: what no result says is refused.
func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	section := lap(t)
	good := encode(t, result.New(result.Parts{Section: &section, Findings: []check.Finding{check.Compare(3, check.AtLeast, 2, joints.UnitMM)}}))
	good = strings.Replace(good, `"provenance": ""`, `"provenance": "primary"`, 1)
	good = strings.Replace(good, `"steps": null`, `"steps": []`, 1)
	if err := validate(t, s, good); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string][2]string{
		"another form":        {`"fay.result/1"`, `"fay.result/2"`},
		"a null":              {`"weld_area_mm2": 4.5`, `"weld_area_mm2": null`},
		"a null of an option": {`"convexity_mm": 0`, `"convexity_mm": null`},
		"a null list":         {`"parameters": []`, `"parameters": null`},
		"a negative area":     {`"weld_area_mm2": 4.5`, `"weld_area_mm2": -4.5`},
		"a number as text":    {`"weld_area_mm2": 4.5`, `"weld_area_mm2": "4.5"`},
		"a missing key":       {`"weld_area_mm2": 4.5,`, ``},
		"an unknown key":      {`"weld_area_mm2": 4.5`, `"weld_area_mm2": 4.5, "weld_area_in2": 1`},
		"an unknown verdict":  {`"verdict": "met"`, `"verdict": "fine"`},
		"an unknown unit":     {`"unit": "mm"`, `"unit": "inch"`},
		"an unknown weld":     {`"kind": "fillet"`, `"kind": "seal"`},
		"a point in space":    {`"centroid_mm": [`, `"centroid_mm": [0, `},
		"no caution":          {`"cautions": [`, `"cautions": [], "notes": [`},
	} {
		wrong := strings.Replace(good, change[0], change[1], 1)
		if wrong == good {
			t.Errorf("%s: nothing to change", name)
			continue
		}
		if validate(t, s, wrong) == nil {
			t.Errorf("%s is in the schema", name)
		}
	}
}

// Seams in JSON: what was given, in millimetres, and what it comes to.
func TestSeams(t *testing.T) {
	doc, err := jointfile.Read(jointfile.Source{Name: "j.yaml", Data: []byte("joint: tee\nbase: 8\nstem: 3\nsides: both\nleg: 3\n" +
		"seams: [{length: 4in, count: 3}, {around: 60, welds: [other]}, {length: 100, segment: 20, pitch: 40, welds: [arrow]}]\n")})
	if err != nil {
		t.Fatal(err)
	}
	text := encode(t, result.New(result.Parts{Section: &doc.Section, Seams: doc.Seams, Totals: doc.Runs}))
	if err := validate(t, compiled(t), text); err != nil {
		t.Error(err)
	}
	var got struct {
		Seams []map[string]any `json:"seams"`
		Runs  []map[string]any `json:"runs"`
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	run := func(weld string, segments, segment, length, cm3 float64) map[string]any {
		return map[string]any{"weld": weld, "segments": segments, "segment_mm": segment, "length_mm": length, "deposited_cm3": cm3, "fused_cm3": cm3}
	}
	around, ring := 169.646003, 0.735133 // π·54 mm, the surface of the other side; × 4.5 mm² × 26/27: its centroid lies 1 mm nearer the axis
	want := []map[string]any{
		{"length_mm": 101.6, "count": 3.0, "runs": []any{run("arrow", 1, 101.6, 304.8, 1.3716), run("other", 1, 101.6, 304.8, 1.3716)}},
		{"around_mm": 60.0, "axis": "upright", "inside": false, "count": 1.0, "runs": []any{run("other", 1, around, around, ring)}},
		{"length_mm": 100.0, "count": 1.0, "segment_mm": 20.0, "pitch_mm": 40.0, "staggered": false, "runs": []any{run("arrow", 3, 20, 60, 0.27)}},
	}
	near := cmpopts.EquateApprox(0, 2e-6)
	if d := cmp.Diff(want, got.Seams, near); d != "" {
		t.Errorf("seams (-want +got):\n%s", d)
	}
	sums := []map[string]any{
		{"weld": "arrow", "length_mm": 364.8, "deposited_cm3": 1.6416, "fused_cm3": 1.6416},
		{"weld": "other", "length_mm": 304.8 + around, "deposited_cm3": 1.3716 + ring, "fused_cm3": 1.3716 + ring},
	}
	if d := cmp.Diff(sums, got.Runs, near); d != "" {
		t.Errorf("runs (-want +got):\n%s", d)
	}
}
