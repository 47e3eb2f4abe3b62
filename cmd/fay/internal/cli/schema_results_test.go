package cli

import (
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"fay/joints/jointfile"
	"fay/joints/macro"
)

func validateJSON(t *testing.T, s *jsonschema.Schema, text string) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return s.Validate(v)
}

// Results of jobs, good joints and wrong ones, with all that they may have.
func TestJobResultsAreInTheSchema(t *testing.T) {
	rows := jobRows(rand.New(rand.NewPCG(3, 3)), 60)
	rows[5][3], rows[9][2] = "x", "many"
	for name, args := range map[string][]string{
		"job file": {"../../../../testdata/examples/jobs/hatch-set.yaml"},
		"table":    {"../../../../testdata/examples/jobs/gangways.csv"},
		"prices":   {"../../../../testdata/examples/jobs/gangways.csv", "--config", "../../../../testdata/examples/compare/prices.yaml"},
		"mixed":    {"-", "--keep-going"},
	} {
		t.Run(name, func(t *testing.T) {
			whole := runJobs(t, strings.NewReader(csvOf(t, rows)), append(slices.Clone(args), "--format", "json")...)
			if err := validateJSON(t, schemaOf(t, "job-result"), whole.out); err != nil {
				t.Errorf("%v\n%s", err, whole.errors)
			}
			line := schemaOf(t, "job-line")
			lines := runJobs(t, strings.NewReader(csvOf(t, rows)), append(slices.Clone(args), "--format", "jsonl")...)
			if lines.out == "" {
				t.Errorf("no line\n%s", lines.errors)
			}
			for text := range strings.Lines(lines.out) {
				if err := validateJSON(t, line, text); err != nil {
					t.Errorf("%v\n%s", err, text)
				}
			}
		})
	}
}

func TestComparisonsAreInTheSchema(t *testing.T) {
	s := schemaOf(t, "compare-result")
	for name, args := range map[string]string{
		"a few":        "tee base=8 stem=4 leg=3 filler.type=5183 vs leg=4 vs leg=5 sides=both",
		"a sweep":      "lap lower=6 upper=4 overlap=30 sweep leg=3..6 --met",
		"preparations": "butt left=12 right=12 preparations",
		"prices":       "../../../../testdata/examples/compare/hatch-light.yaml vs leg=5 --config ../../../../testdata/examples/compare/prices.yaml",
		"break-even":   "tee base=20 stem=t leg=0.75t vs leg=0.5t prep=bevel depth=0.3t --break-even t=6..30",
	} {
		t.Run(name, func(t *testing.T) {
			code, out, talk := run(t, "", append([]string{"compare", "--format", "json"}, strings.Fields(args)...)...)
			if code != exitDone {
				t.Fatalf("exit code %d, %s", code, talk)
			}
			if err := validateJSON(t, s, out); err != nil {
				t.Errorf("%v\n%s", err, out)
			}
		})
	}
	if err := validateJSON(t, s, `{"schema": "fay.compare/1", "alternatives": [], "cautions": ["x"]}`); err == nil {
		t.Error("neither a table nor a search is taken")
	}
}

// What the reader takes is in the schema, and what is no name, no length or no
// list of points is in neither.
func TestRecordSchema(t *testing.T) {
	s := schemaOf(t, "record")
	texts := map[string]bool{
		"sample: S1\nlegs: 3": true, "sample: 7\nlegs: [3 mm, 1/8in]\nunits: MM": true, "sample: S1\nlegs: 3.1, 2.9\nposition: -0.0": true,
		"sample: S1\nscale: 0.02\nsurface-a: 0,0 10,0\nsurface-b: [[0, 0], [0, 10]]\nface: [[4, 0], [3, 3], [0, 4]]": true,
		"legs: 3": false, "sample: S1\nlegz: 3": false, "sample: S1\nthroat: two": false, "sample: S1\nlegs: [1, 2, 3]": false, "sample: S1\nthroat: 2\nunits: cm": false,
		"sample: S1\nthroat: 2\ndate: 9 March": false, "sample: S1\nscale: 1\nsurface-a: [[0, 0, 1], [1, 1]]": false, "sample: [S1]\nthroat: 2": false,
	}
	files, err := filepath.Glob("../../../../testdata/examples/records/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no records: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts[string(data)] = true
	}
	for _, text := range slices.Sorted(maps.Keys(texts)) {
		_, err := macro.Read(macro.Source{Name: "record.yaml", Data: []byte(text)})
		if want := texts[text]; (jointfile.AsFaults(err) == nil) != want {
			t.Errorf("%q is read: %v", text, err)
		}
		if err := validateYAML(t, s, text); (err == nil) != texts[text] {
			t.Errorf("%q is in the schema: %v", text, err)
		}
	}
}
