package jointfile_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/joints"
	"fay/joints/jointfile"
)

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

func TestFileFaults(t *testing.T) {
	rows := []struct {
		name, text string
		want       []fault
	}{
		{"several at once", "joint: tee\nbase: {thickness: 8, material: 5083}\nstem: 0\ngap: NaN\nwelds:\n  arrow: {legg: 3, face: round}\ntraveler: {quantity: none}\n", []fault{
			{joints.FaultRange, "stem.thickness", "j.yaml:3:7"},
			{joints.FaultNotNumber, "gap", "j.yaml:4:6"},
			{joints.FaultUnknown, "welds.arrow.legg", "j.yaml:6:11"},
			{joints.FaultUnknown, "welds.arrow.face", "j.yaml:6:26"},
			{joints.FaultSyntax, "traveler.quantity", "j.yaml:7:22"},
		}},
		{"unknown kind", "joint: teee\nbase: 8\n", []fault{{joints.FaultUnknown, "joint", "j.yaml:1:8"}}},
		{"no kind", "base: 8\n", []fault{{joints.FaultMissing, "joint", "j.yaml:1:1"}}},
		{"empty", "# nothing\n", []fault{{joints.FaultMissing, "joint", "j.yaml:1:1"}}},
		{"not a mapping", "- tee\n", []fault{{jointfile.FaultShape, "", "j.yaml:1:1"}}},
		{"two documents", "joint: tee\n---\njoint: lap\n", []fault{{jointfile.FaultShape, "", "j.yaml:3:6"}}},
		{"broken YAML", "joint: tee\nbase: [8\n", []fault{{joints.FaultSyntax, "", "j.yaml:2:7"}}},
		{"duplicate key", "joint: tee\nbase: 8\nstem: 3\nleg: 3\nbase: 9\n", []fault{{joints.FaultDuplicate, "base", "j.yaml:5:1"}}},
		{"one weld twice", "joint: tee\nbase: 8\nstem: 3\nleg: 3\nwelds: {arrow: {leg: 4}}\n", []fault{{joints.FaultDuplicate, "leg", "j.yaml:4:6"}}},
		{"one weld under two names", "joint: tee\nbase: 8\nstem: 3\narrow: {leg: 3}\nwelds: {arrow: {rise: 0}}\n", []fault{{joints.FaultDuplicate, "welds.arrow", "j.yaml:5:9"}}},
		{"anchor", "joint: tee\nbase: &a 8\nstem: *a\nleg: 3\n", []fault{
			{jointfile.FaultShape, "base", "j.yaml:2:7"},
			{jointfile.FaultShape, "stem", "j.yaml:3:7"},
		}},
		{"merge key", "joint: tee\nbase: 8\nstem: 3\nleg: 3\n<<: {gap: 1}\n", []fault{{jointfile.FaultShape, "", "j.yaml:5:1"}}},
		{"leg past the edge", "joint: lap\nlower: 6\nupper: 4\noverlap: 30\nwelds:\n  arrow: {leg: 5}\n", []fault{{joints.FaultLeg, "welds.arrow.leg", "j.yaml:6:16"}}},
		{"no weld", "joint: tee\nbase: 8\nstem: 3\n", []fault{{joints.FaultMissing, "welds", "j.yaml:1:8"}}},
		{"weld without a size", "joint: tee\nbase: 8\nstem: 3\nwelds:\n  other: {}\n", []fault{{joints.FaultMissing, "welds.other.leg", "j.yaml:5:3"}}},
		{"no value", "joint: tee\nbase: 8\nstem:\nleg: 3\n", []fault{
			{joints.FaultMissing, "stem", "j.yaml:3:1"},
		}},
		{"comma in braces", "joint: tee\nbase: 8\nstem: 3\nwelds: {arrow: {leg: 3,4}}\n", []fault{{joints.FaultUnknown, "welds.arrow.4", "j.yaml:4:24"}}},
		{"value where a group belongs", "joint: tee\nbase: 8\nstem: 3\nleg: 3\nseam: 180\n", []fault{{jointfile.FaultShape, "seam", "j.yaml:5:7"}}},
		{"gauge without a material", "joint: tee\nbase: 16ga\nstem: 3\nleg: 3\n", []fault{{joints.FaultSyntax, "base.thickness", "j.yaml:2:7"}}},
		{"unknown unit", "joint: tee\nunits: furlong\nbase: 8 xx\nstem: 3\nleg: 3\n", []fault{
			{joints.FaultUnknown, "units", "j.yaml:2:8"},
			{joints.FaultSyntax, "base.thickness", "j.yaml:3:7"},
		}},
		{"bad date of a change", "joint: tee\nbase: 8\nstem: 3\nleg: 3\ntraveler: {changed: spring}\n", []fault{{joints.FaultSyntax, "traveler.changed", "j.yaml:5:21"}}},
		{"bad date", "joint: tee\nbase: 8\nstem: 3\nleg: 3\ntraveler: {date: 3/2/26}\n", []fault{{joints.FaultSyntax, "traveler.date", "j.yaml:5:18"}}},
		{"seam of no length", "joint: tee\nbase: 8\nstem: 3\nleg: 3\nseam: {length: 0, count: 0}\n", []fault{
			{joints.FaultRange, "seam.length", "j.yaml:5:16"}, {joints.FaultRange, "seam.count", "j.yaml:5:26"},
		}},
		{"not UTF-8", "joint: tee\nbase: \xff\n", []fault{{joints.FaultSyntax, "", "j.yaml:2:1"}}},
		{"too many brackets", "joint: " + strings.Repeat("[", 40), []fault{{jointfile.FaultTooLarge, "", "j.yaml:1:40"}}},
		{"too large", strings.Repeat("#\n", jointfile.MaxBytes), []fault{{jointfile.FaultTooLarge, "", "j.yaml"}}},
		{"too many lines", "joint: |\n" + strings.Repeat(" x\n", 5000), []fault{{jointfile.FaultTooLarge, "", "j.yaml:5001:1"}}},
		{"too many lines of an old machine", "joint: |\r" + strings.Repeat(" x\r", 5000), []fault{{jointfile.FaultTooLarge, "", "j.yaml:5001:1"}}},
		{"too many words", "joint: tee\n" + strings.Repeat("a: [1,2,3]\n", 4000), []fault{{jointfile.FaultTooLarge, "", "j.yaml:1:1"}}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, err := jointfile.Read(jointfile.Source{Name: "j.yaml", Data: []byte(row.text)})
			if d := cmp.Diff(row.want, faultsOf(t, err)); d != "" {
				t.Errorf("faults (-want +got):\n%s\n%v", d, err)
			}
		})
	}
}

func TestLineFaults(t *testing.T) {
	rows := []struct {
		name, line string
		want       []fault
	}{
		{"several at once", "tee base=-8 stem=3 leg=x gapp=1 nothing", []fault{
			{joints.FaultRange, "base.thickness", "argument 2"},
			{joints.FaultSyntax, "welds.arrow.leg", "argument 4"},
			{joints.FaultUnknown, "gapp", "argument 5"},
			{joints.FaultSyntax, "", "argument 6"},
		}},
		{"kind twice", "tee base=8 stem=3 leg=3 joint=lap", []fault{{joints.FaultDuplicate, "joint", "argument 5"}}},
		{"unknown kind", "tie base=8", []fault{{joints.FaultUnknown, "joint", "argument 1"}}},
		{"missing member", "tee base=8 leg=3", []fault{{joints.FaultMissing, "stem.thickness", "argument 1"}}},
		{"twice", "tee base=8 stem=3 leg=3 arrow.leg=4", []fault{{joints.FaultDuplicate, "leg", "argument 4"}}},
		{"both sides too long", "lap lower=3 upper=3 overlap=30 leg=4 sides=both", []fault{
			{joints.FaultLeg, "welds.arrow.leg", "argument 5"}, {joints.FaultLeg, "welds.other.leg", "argument 5"},
		}},
		{"unknown side", "tee base=8 stem=3 leg=3 sides=left", []fault{{joints.FaultUnknown, "sides", "argument 5"}}},
		{"nothing to take away", "tee base=8 stem=3 leg=3 gap=", []fault{{joints.FaultMissing, "gap", "argument 5"}}},
		{"group", "tee base=8 stem=3 leg=3 seam=3", []fault{{jointfile.FaultShape, "seam", "argument 5"}}},
		{"three legs", "tee base=8 stem=3 leg=3,4,5", []fault{{jointfile.FaultShape, "welds.arrow.leg", "argument 4"}}},
		{"infinite", "tee base=8 stem=3 leg=inf gap=1e999", []fault{
			{joints.FaultNotNumber, "welds.arrow.leg", "argument 4"}, {joints.FaultRange, "gap", "argument 5"},
		}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, err := readLine(t, row.line)
			if d := cmp.Diff(row.want, faultsOf(t, err)); d != "" {
				t.Errorf("faults (-want +got):\n%s\n%v", d, err)
			}
		})
	}
}

func TestMessages(t *testing.T) {
	rows := []struct{ name, text, want, excerpt string }{
		{
			"unknown key names the nearest", "joint: tee\nbase: 8\nstem: 3\nwelds:\n  arow: {leg: 3}\n",
			"j.yaml:5:3: welds.arow: is not a name that a tee joint has; did you mean welds.arrow?", "  arow: {leg: 3}\n  ^",
		},
		{
			"value as written", "joint: lap\nlower: 6\nupper: 4\noverlap: 30\nleg: 1/4in\n",
			"j.yaml:5:6: welds.arrow.leg = 1/4in (6.35 mm): runs past the edge of the upper, whose face ends 4 mm from the joint root; the largest leg there is 4 mm", "leg: 1/4in\n     ^",
		},
		{
			"inches beside millimetres", "joint: lap\nunits: in\nlower: 1/4\nupper: 1/8\noverlap: 1\nleg: 1/4\n",
			"j.yaml:6:6: welds.arrow.leg = 1/4 in (6.35 mm): runs past the edge of the upper, whose face ends 3.175 mm (0.125 in) from the joint root; the largest leg there is 3.17 mm (0.1248 in)", "leg: 1/4\n     ^",
		},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, err := jointfile.Read(jointfile.Source{Name: "j.yaml", Data: []byte(row.text)})
			fs := jointfile.AsFaults(err)
			if len(fs) == 0 {
				t.Fatal("no fault")
			}
			if d := cmp.Diff(row.want, fs[0].Error()); d != "" {
				t.Errorf("message (-want +got):\n%s", d)
			}
			if d := cmp.Diff(row.excerpt, fs[0].Excerpt()); d != "" {
				t.Errorf("excerpt (-want +got):\n%s", d)
			}
		})
	}
}

func TestRefuse(t *testing.T) {
	doc := read(t, davit)
	got := doc.Refuse(joints.Fault{Code: joints.FaultUnknown, Field: "filler.type", Rule: "r", Remedy: "m"})
	if want := "j.yaml:12:16"; got.Place.String() != want {
		t.Errorf("place %s, want %s", got.Place, want)
	}
}

func TestRefuseInList(t *testing.T) {
	doc := read(t, davit)
	got := doc.Refuse(joints.Fault{Code: joints.FaultUnknown, Field: "checks[1]", Rule: "r", Remedy: "m"})
	if want := "j.yaml:13:23"; got.Place.String() != want {
		t.Errorf("place %s, want %s", got.Place, want)
	}
}

// positioned checks that every fault says where it stands and what to do.
func positioned(t *testing.T, err error, whole bool) {
	t.Helper()
	fs := jointfile.AsFaults(err)
	if len(fs) == 0 {
		t.Fatalf("not a fault: %v", err)
	}
	for _, f := range fs {
		if !whole && f.Place.Argument == 0 && (f.Place.Line < 1 || f.Place.Column < 1) {
			t.Errorf("no place: %+v", f)
		}
		if f.Rule == "" || f.Remedy == "" || f.Code == "" {
			t.Errorf("no rule, remedy or code: %+v", f)
		}
		_ = f.Excerpt()
	}
}
