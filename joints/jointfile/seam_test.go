package jointfile_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
)

// bothSides has 4.5 mm² of deposit on the arrow side and 8 mm² on the other.
const bothSides = "joint: tee\nbase: 8\nstem: 3\nwelds: {arrow: {leg: 3}, other: {leg: 4}}\n"

func readSeams(text string, args ...string) (jointfile.Document, error) {
	return jointfile.Read(jointfile.Source{Name: "j.yaml", Data: []byte(text), Assignments: args, First: 2})
}

func TestEveryFieldOfASeam(t *testing.T) {
	doc := read(t, bothSides+"seams:\n"+
		"  - {length: 500, count: 2, segment: 50, pitch: 150, segments: 3, staggered: yes, welds: [arrow, other]}\n"+
		"  - {around: 60, axis: upright, inside: no, welds: other}\n")
	want := []joints.Seam{
		{Length: 500, Count: 2, Segment: 50, Pitch: 150, Segments: 3, Staggered: true, Welds: []string{"arrow", "other"}},
		{Around: 60, Axis: joints.AxisUpright, Welds: []string{"other"}},
	}
	got := make([]joints.Seam, len(doc.Seams))
	for i := range doc.Seams {
		got[i] = doc.Seams[i].Seam
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("seams (-want +got):\n%s", d)
	}
	show := func(l geometry.Length) string { return strconv.FormatFloat(float64(l), 'g', -1, 64) }
	notes := []string{doc.Seams[0].Note(show), doc.Seams[1].Note(show)}
	if d := cmp.Diff([]string{"length 500, 50 at 150 centres, staggered, 2 off", "all round ⌀60"}, notes); d != "" {
		t.Errorf("notes (-want +got):\n%s", d)
	}
}

// Volumes by hand, and the centroid's path of the round seam by Pappus: the
// centroid of the other weld, a triangle of 4 by 4, lies 4/3 off its root.
func TestRunsOfSeveralSeams(t *testing.T) {
	doc := read(t, bothSides+"seams: [{length: 100}, {length: 100, segment: 20, pitch: 40, count: 3, welds: [arrow]}, {length: 50, welds: [other]}]\n")
	want := [][]joints.Run{
		{{Weld: "arrow", Segments: 1, Segment: 100, Length: 100, Volume: 450, Fused: 450}, {Weld: "other", Segments: 1, Segment: 100, Length: 100, Volume: 800, Fused: 800}},
		{{Weld: "arrow", Segments: 3, Segment: 20, Length: 180, Volume: 810, Fused: 810}},
		{{Weld: "other", Segments: 1, Segment: 50, Length: 50, Volume: 400, Fused: 400}},
	}
	near := cmpopts.EquateApprox(1e-12, 0)
	for i := range want {
		if d := cmp.Diff(want[i], doc.Seams[i].Runs, near); d != "" {
			t.Errorf("runs of seam %d (-want +got):\n%s", i+1, d)
		}
	}
	total := []jointfile.Total{{Weld: "arrow", Length: 280, Volume: 1260, Fused: 1260}, {Weld: "other", Length: 150, Volume: 1200, Fused: 1200}}
	if d := cmp.Diff(total, doc.Runs, near); d != "" {
		t.Errorf("totals (-want +got):\n%s", d)
	}
	round := read(t, "joint: tee\nbase: 8\nstem: 3\nleg: 4\nseam: {around: 60}\n")
	if d := cmp.Diff(2*math.Pi*(30+4.0/3)*8, round.Runs[0].Volume, near); d != "" {
		t.Errorf("round seam (-want +got):\n%s", d)
	}
}

// What one seam of n alike takes, n seams written out take.
func TestSeamsAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 50 {
		n, length := 1+r.IntN(8), 10+r.IntN(500)
		one := "{length: " + strconv.Itoa(length) + "}"
		alike := read(t, bothSides+"seam: {length: "+strconv.Itoa(length)+", count: "+strconv.Itoa(n)+"}\n")
		list := read(t, bothSides+"seams: ["+strings.TrimSuffix(strings.Repeat(one+", ", n), ", ")+"]\n")
		if d := cmp.Diff(alike.Runs, list.Runs, cmpopts.EquateApprox(1e-12, 0)); d != "" {
			t.Fatalf("%d seams of %d (-alike +list):\n%s", n, length, d)
		}
	}
}

// Several ways to write the same seams.
func TestSeamNames(t *testing.T) {
	want := read(t, bothSides+"seams: [{length: 180}, {length: 90, count: 2}]\n")
	rows := []struct {
		name, text string
		args       []string
	}{
		{"block", bothSides + "seams:\n  - length: 180\n  - length: 90\n    count: 2\n", nil},
		{"one and a further one", bothSides + "seam: {length: 180}\n", []string{"seams.2.length=90", "seams.2.count=2"}},
		{"the first by its number", bothSides + "seam: {length: 5}\n", []string{"seams.1.length=180", "seams.2.length=90", "seams.2.count=2"}},
		{"the first of a list as the only one", bothSides + "seams: [{length: 5}, {length: 90, count: 2}]\n", []string{"seam.length=180"}},
		{"a length in the place of a circle", bothSides + "seams: [{around: 60}, {length: 90, count: 2}]\n", []string{"seam.length=180"}},
		{"a circle further down", bothSides + "seams: [{length: 180}, {around: 60, count: 2}]\n", []string{"seams.2.length=90"}},
		{"one taken away", bothSides + "seams: [{length: 180}, {length: 7}, {length: 90, count: 2}]\n", []string{"seams.2="}},
		{"all taken away", bothSides + "seams: [{length: 1}, {length: 7}, {length: 9}]\n", []string{"seams=", "seam.length=180", "seams.2.length=90", "seams.2.count=2"}},
		{"dotted names", bothSides + "seam.length: 180\nseams.2: {length: 90}\nseams.2.count: 2\n", nil},
		{"axis and welds that go without saying", bothSides + "seams: [{length: 180, welds: [other, arrow]}, {length: 90, count: 2}]\n", nil},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			got := read(t, row.text, row.args...)
			if got.Digest != want.Digest {
				t.Errorf("another digest than written out: %+v", got.Seams)
			}
			if d := cmp.Diff(want.Runs, got.Runs); d != "" {
				t.Errorf("runs (-want +got):\n%s", d)
			}
		})
	}
	seen := map[string]string{want.Digest: "the first"}
	for _, text := range []string{
		"seam: {length: 180}", "seams: [{length: 90, count: 2}, {length: 180}]", "seams: [{length: 180}, {length: 90}]",
		"seams: [{length: 180, welds: arrow}, {length: 90, count: 2}]", "seams: [{around: 180}, {length: 90, count: 2}]",
		"seams: [{around: 180, axis: level}, {length: 90, count: 2}]",
	} {
		d := read(t, bothSides+text+"\n").Digest
		if other, twice := seen[d]; twice {
			t.Errorf("%s has the digest of %s", text, other)
		}
		seen[d] = text
	}
	if alone := read(t, bothSides+"seams: [{length: 180}]\n"); alone.Digest != read(t, bothSides+"seam: {length: 180}\n").Digest {
		t.Error("a list of one is another joint than one seam")
	}
}

func TestSeamFaults(t *testing.T) {
	rows := []struct {
		name, text string
		args       []string
		want       []fault
	}{
		{"segment over pitch", "seams: [{length: 500}, {length: 500, segment: 60, pitch: 50}]\n", nil, []fault{{joints.FaultUnfit, "seams.2.segment", "j.yaml:5:47"}}},
		{"the first of a list", "seams: [{length: 500, segment: 60, pitch: 50}]\n", nil, []fault{{joints.FaultUnfit, "seams.1.segment", "j.yaml:5:32"}}},
		{"unknown weld", "seams: [{length: 500}, {length: 5, welds: [arrow, oter]}]\n", nil, []fault{{joints.FaultUnknown, "seams.2.welds", "j.yaml:5:51"}}},
		{"weld twice", "seam: {length: 5, welds: [arrow, Arrow]}\n", nil, []fault{{joints.FaultDuplicate, "seam.welds", "j.yaml:5:34"}}},
		{"no weld", "seam: {length: 5, welds: []}\n", nil, []fault{{joints.FaultMissing, "seam.welds", "j.yaml:5:26"}}},
		{"nothing said of a seam", "seams:\n  - length: 5\n  - count: 2\n", nil, []fault{{joints.FaultMissing, "seams.2.length", "j.yaml:7:5"}}},
		{"unknown name", "seams: [{lengtt: 5}]\n", nil, []fault{{joints.FaultUnknown, "seams.1.lengtt", "j.yaml:5:10"}}},
		{"length and circle", "seams: [{length: 5}, {length: 5, around: 60}]\n", nil, []fault{{joints.FaultConflict, "seams.2.around", "j.yaml:5:42"}}},
		{"straight with an axis", "seam: {length: 5, axis: level, inside: yes}\n", nil, []fault{{joints.FaultConflict, "seam.axis", "j.yaml:5:25"}, {joints.FaultConflict, "seam.inside", "j.yaml:5:40"}}},
		{"past the axis", "seam: {around: 5, inside: yes}\n", nil, []fault{{joints.FaultRange, "seam.around", "j.yaml:5:16"}}},
		{"one for many", "seams: {length: 5}\n", nil, []fault{{jointfile.FaultShape, "seams", "j.yaml:5:8"}}},
		{"many for one", "seam: [{length: 5}]\n", nil, []fault{{jointfile.FaultShape, "seam", "j.yaml:5:7"}}},
		{"a number in the list", "seams: [{length: 5}, 90]\n", nil, []fault{{jointfile.FaultShape, "seams.2", "j.yaml:5:22"}}},
		{"empty list", "seams: []\n", nil, []fault{{joints.FaultMissing, "seams", "j.yaml:5:1"}}},
		{"too many", "seams: [" + strings.Repeat("{length: 5}, ", 101) + "]\n", nil, []fault{{jointfile.FaultTooLarge, "seams", "j.yaml:5:1"}}},
		{"both spellings", "seam: {length: 5}\nseams: [{length: 6}]\n", nil, []fault{{joints.FaultDuplicate, "seams.1", "j.yaml:6:9"}}},
		{"a break in the count", "seam: {length: 5}\n", []string{"seams.3.length=6"}, []fault{{joints.FaultMissing, "seams.2", "argument 2"}}},
		{"number out of range", "seam: {length: 5}\n", []string{"seams.0.length=6", "seams.02.length=6", "seams.101.length=6"}, []fault{
			{joints.FaultUnknown, "seams.0.length", "argument 2"}, {joints.FaultUnknown, "seams.02.length", "argument 3"}, {joints.FaultUnknown, "seams.101.length", "argument 4"},
		}},
		{"seam and section at once", "gap: 9\nseam: {length: 500, segment: 60, pitch: 50}\n", nil, []fault{
			{joints.FaultRange, "gap", "j.yaml:5:6"}, {joints.FaultUnfit, "seam.segment", "j.yaml:6:30"},
		}},
		{"welds of a section that cannot be built", "gap: 9\nseam: {length: 500, welds: [arrow]}\n", nil, []fault{{joints.FaultRange, "gap", "j.yaml:5:6"}}},
		{"only what is not a consequence", "seam: {length: x, segment: 60, pitch: 50}\n", nil, []fault{{joints.FaultSyntax, "seam.length", "j.yaml:5:16"}}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, err := readSeams(bothSides+row.text, row.args...)
			if d := cmp.Diff(row.want, faultsOf(t, err)); d != "" {
				t.Errorf("faults (-want +got):\n%s\n%v", d, err)
			}
		})
	}
	_, err := readSeams("joint: tee\nbase: 8\nstem: 3\nleg: 3\nseam: {length: 5, welds: [arrow, other]}\n")
	if d := cmp.Diff([]fault{{joints.FaultUnknown, "seam.welds", "j.yaml:5:34"}}, faultsOf(t, err)); d != "" {
		t.Errorf("a weld the joint does not have (-want +got):\n%s", d)
	}
	_, err = readSeams(bothSides + "seams: [{length: 5, welds: [oter]}]\n")
	if err == nil || !strings.Contains(err.Error(), "did you mean other?") {
		t.Errorf("an unknown weld does not name the nearest: %v", err)
	}
}
