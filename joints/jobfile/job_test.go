package jobfile_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"fay/joints"
	"fay/joints/jobfile"
	"fay/joints/jointfile"
)

const hatches = `# everything for the hatches
job: CB-121
title: hatch set
joints:
  - {file: hatch-coaming.yaml, quantity: 2}
  - file: hatch-stiffener.yaml
    quantity: 4
    set: {leg: 4, other.leg: [3, 3.5], base: {thickness: 6mm}, seams: [{length: 90}, {length: 1in, welds: [arrow]}], title: ""}
`

// A row that is wrong leaves the others as they are.
func TestReadWrongRows(t *testing.T) {
	job, err := jobfile.Read("job.yaml", []byte("titel: x\njoints:\n  - {file: a.yaml}\n  - {file: b.yaml, quantity: none}\n"))
	if err == nil || len(job.Rows) != 2 || job.Rows[0].File != "a.yaml" || job.Rows[0].Faults != nil {
		t.Fatalf("%+v, %v", job, err)
	}
	if d := cmp.Diff([]fault{{joints.FaultUnknown, "titel", "job.yaml:1:1"}}, faultsOf(t, job.Faults)); d != "" {
		t.Errorf("faults of the job (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]fault{{joints.FaultSyntax, "joints.2.quantity", "job.yaml:4:30"}}, faultsOf(t, job.Rows[1].Faults)); d != "" {
		t.Errorf("faults of the row (-want +got):\n%s", d)
	}
}

var placeless = cmpopts.IgnoreTypes(jointfile.Place{})

func TestRead(t *testing.T) {
	got, err := jobfile.Read("job.yaml", []byte(hatches))
	if err != nil {
		t.Fatal(err)
	}
	want := jobfile.Job{Name: "CB-121", Title: "hatch set", Rows: []jobfile.Row{
		{File: "hatch-coaming.yaml", Quantity: 2},
		{File: "hatch-stiffener.yaml", Quantity: 4, Sets: []jobfile.Set{
			{Name: "leg", Text: "4"}, {Name: "other.leg", Text: "[3, 3.5]"}, {Name: "base.thickness", Text: "6mm"},
			{Name: "seams.1.length", Text: "90"}, {Name: "seams.2.length", Text: "1in"}, {Name: "seams.2.welds", Text: "[arrow]"}, {Name: "title", Text: ""},
		}},
	}}
	if d := cmp.Diff(want, got, placeless); d != "" {
		t.Errorf("job (-want +got):\n%s", d)
	}
	src := got.Rows[1].Source()
	src.Name, src.Data = "hatch-stiffener.yaml", []byte("joint: tee\ntitle: x\nbase: 5\nstem: 4\nleg: 5\nsides: both\nseam: {length: 320}\n")
	doc, err := jointfile.Read(src)
	if err != nil {
		t.Fatal(err)
	}
	if doc.Section.Welds[0].Feet[0].Leg != 4 || doc.Section.Welds[1].Feet[1].Leg != 3.5 || len(doc.Seams) != 2 || doc.Input.Title != "" {
		t.Errorf("the joint was not changed: %+v", doc.Input)
	}
}

// fault is what a test states of one.
type fault struct {
	Code         joints.FaultCode
	Field, Place string
}

func faultsOf(t *testing.T, err error) []fault {
	t.Helper()
	var out []fault
	for _, f := range jointfile.AsFaults(err) {
		out = append(out, fault{f.Code, f.Field, f.Place.String()})
		if f.Rule == "" || f.Remedy == "" {
			t.Errorf("fault without rule or remedy: %+v", f)
		}
	}
	return out
}

func TestFaults(t *testing.T) {
	rows := []struct {
		name, text string
		want       []fault
	}{
		{"several at once", "jobb: 1\njoints:\n  - {file: a.yaml, quantity: none, sett: {leg: 4}}\n  - {quantity: 0}\n", []fault{
			{joints.FaultUnknown, "jobb", "job.yaml:1:1"}, {joints.FaultSyntax, "joints.1.quantity", "job.yaml:3:30"},
			{joints.FaultUnknown, "joints.1.sett", "job.yaml:3:36"}, {joints.FaultRange, "joints.2.quantity", "job.yaml:4:16"}, {joints.FaultMissing, "joints.2.file", "job.yaml:4:5"},
		}},
		{"empty", "# nothing\n", []fault{{joints.FaultMissing, "job", "job.yaml:1:1"}}},
		{"no joints", "job: 1\n", []fault{{joints.FaultMissing, "joints", "job.yaml:1:1"}}},
		{"empty list", "joints: []\n", []fault{{joints.FaultMissing, "joints", "job.yaml:1:1"}}},
		{"not a list", "joints: a.yaml\n", []fault{{jointfile.FaultShape, "joints", "job.yaml:1:9"}}},
		{"a name alone", "joints: [a.yaml]\n", []fault{{jointfile.FaultShape, "joints.1", "job.yaml:1:10"}}},
		{"duplicate", "joints: [{file: a, file: b}]\n", []fault{{joints.FaultDuplicate, "file", "job.yaml:1:20"}}},
		{"no value", "joints: [{file: a, set: {leg: }}]\njob:\n", []fault{{joints.FaultMissing, "job", "job.yaml:2:1"}, {joints.FaultMissing, "joints.1.set.leg", "job.yaml:1:26"}}},
		{"no name of a file", "joints: [{file: ' '}]\n", []fault{{joints.FaultMissing, "joints.1.file", "job.yaml:1:17"}}},
		{"set is a value", "joints: [{file: a, set: leg}]\n", []fault{{jointfile.FaultShape, "joints.1.set", "job.yaml:1:25"}}},
		{"a mixed list", "joints: [{file: a, set: {leg: [3, [4]]}}]\n", []fault{{jointfile.FaultShape, "joints.1.set.leg", "job.yaml:1:31"}}},
		{"an anchor", "joints: [{file: &a b}]\n", []fault{{jointfile.FaultShape, "file", "job.yaml:1:17"}}},
		{"broken YAML", "joints: [\n", []fault{{joints.FaultSyntax, "", "job.yaml:1:9"}}},
		{"too large", strings.Repeat("#\n", jointfile.MaxBytes), []fault{{jointfile.FaultTooLarge, "", "job.yaml"}}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, err := jobfile.Read("job.yaml", []byte(row.text))
			if d := cmp.Diff(row.want, faultsOf(t, err)); d != "" {
				t.Errorf("faults (-want +got):\n%s\n%v", d, err)
			}
		})
	}
}

// A fault of a joint comes back to the line of the job that brought it in; one
// of the joint file stays there.
func TestPlace(t *testing.T) {
	job, err := jobfile.Read("job.yaml", []byte("joints:\n  - file: a.yaml\n    set: {leg: 0.1, arrow.leg: 5, gapp: 1}\n"))
	if err != nil {
		t.Fatal(err)
	}
	row := &job.Rows[0]
	src := row.Source()
	src.Name, src.Data = "a.yaml", []byte("joint: tee\nbase: 8\nstem: 0\nleg: 3\n")
	_, err = jointfile.Read(src)
	want := []fault{{joints.FaultRange, "stem.thickness", "a.yaml:3:7"}, {joints.FaultDuplicate, "leg", "job.yaml:3:16"}, {joints.FaultUnknown, "gapp", "job.yaml:3:41"}}
	got := faultsOf(t, row.Place(err))
	if d := cmp.Diff(want, got, cmpopts.SortSlices(func(a, b fault) bool { return a.Place < b.Place })); d != "" {
		t.Errorf("faults (-want +got):\n%s\n%v", d, row.Place(err))
	}
	if text := row.Place(err).Error(); strings.Contains(text, "argument") || !strings.Contains(text, "is given at job.yaml:3:32 already") {
		t.Errorf("the report speaks of arguments:\n%s", text)
	}
	if plain := errors.New("x"); row.Place(plain) != plain { //nolint:errorlint // the same error is meant
		t.Error("another error does not come back as it is")
	}
}

func TestSchema(t *testing.T) {
	data, err := json.Marshal(jobfile.Schema())
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.json")
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]bool{
		hatches: true, "joints: [{file: a.yaml}]": true, "job: 7\njoints: [{file: a.yaml, quantity: \"3\"}]": true,
		"joints: []": false, "job: 7": false, "jobb: 7\njoints: [{file: a}]": false, "joints: [{quantity: 3}]": false, "joints: [a.yaml]": false,
		"joints: [{file: a, quantity: 0}]": false, "joints: [{file: a, set: {leg: }}]": false, "joints: [{file: a, set: 4}]": false, "joints: [{file: a, sett: {}}]": false,
		"joints: [{file: a, set: {leg: [3, [4]]}}]": false,
	} {
		_, err := jobfile.Read("job.yaml", []byte(text))
		if (err == nil) != want {
			t.Errorf("%q is read: %v, want %v", text, err == nil, want)
		}
		asJSON, err := yaml.YAMLToJSON([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(asJSON))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(v); (err == nil) != want {
			t.Errorf("%q is in the schema: %v, want %v: %v", text, err == nil, want, err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(hatches)
	f.Add("joints: [{file: a, set: {seams: [{length: 4}], leg: [1,2], base: {thickness: 4}}}]\n? x\n: y\n")
	f.Fuzz(func(t *testing.T, text string) {
		job, err := jobfile.Read("f.yaml", []byte(text))
		if err == nil && len(job.Rows) == 0 {
			t.Fatalf("accepted without a joint: %q", text)
		}
		positioned(t, err, len(text) > jointfile.MaxBytes)
	})
}

// positioned checks that every fault says where it stands and what to do.
func positioned(t *testing.T, err error, whole bool) {
	t.Helper()
	if err == nil {
		return
	}
	fs := jointfile.AsFaults(err)
	if len(fs) == 0 {
		t.Fatalf("not a fault: %v", err)
	}
	for _, f := range fs {
		if !whole && (f.Place.Line < 1 || f.Place.Column < 1 || f.Place.Argument > 0) {
			t.Errorf("no place: %+v", f)
		}
		if f.Rule == "" || f.Remedy == "" || f.Code == "" {
			t.Errorf("no rule, remedy or code: %+v", f)
		}
	}
}
