package macro

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/jointfile"
)

const isoC = "iso-5817-2014/C"

func record(tb testing.TB, s *joints.Section, args ...string) Record {
	tb.Helper()
	rec, err := Read(Source{Assignments: append([]string{"sample=S1"}, args...), Section: s, Levels: []string{"B", "C", "D"}})
	if err != nil {
		tb.Fatal(err)
	}
	return rec
}

func evaluate(tb testing.TB, s *joints.Section, docs []string, args ...string) Report {
	tb.Helper()
	rec := record(tb, s, args...)
	r, err := Evaluate(&rec, check.Facts{Section: s}, docs)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func itemOf(tb testing.TB, r *Report, id string) Item {
	tb.Helper()
	for _, it := range r.Items {
		if it.ID == id {
			return it
		}
	}
	tb.Fatalf("no item %s", id)
	return Item{}
}

// joint builds a joint as a file would say it.
func joint(tb testing.TB, args ...string) *joints.Section {
	tb.Helper()
	doc, err := jointfile.Read(jointfile.Source{Kind: args[0], Assignments: args[1:]})
	if err != nil {
		tb.Fatal(err)
	}
	return &doc.Section
}

// Each verdict by hand: a tee of 8 on 8 mm with 5 mm legs, throat 3.54.
func TestVerdicts(t *testing.T) {
	plain := joint(t, "tee", "base=8", "stem=8", "leg=5")
	toleranced := joint(t, "tee", "base=8", "stem=8", "leg=5 +1 -0.5", "gap=0.2 +0.5 -0.2")
	claimed := joint(t, "tee", "base=8", "stem=8", "leg=5", "penetration=1", "fusion=0.8")
	butt := joint(t, "butt", "left=6", "right=6", "root-opening=2", "prep=single-v", "groove-angle=60", "cap=1")
	aligned := joint(t, "butt", "left=6", "right=6", "root-opening=2", "cap=1", "hi-lo=0 ±0.5")
	iso := []string{isoC}
	for _, tt := range []struct {
		name    string
		section *joints.Section
		docs    []string
		args    []string
		id      string
		want    check.Verdict
		overall check.Verdict
	}{
		{"leg on the plan", plain, nil, []string{"legs=5,5", "throat=3.54", "penetration=0"}, "leg-a", check.Met, check.CannotTell},
		{"leg a hair under", plain, nil, []string{"legs=4.99,5"}, "leg-a", check.NotMet, check.NotMet},
		{"leg over the plan", plain, nil, []string{"legs=7,5"}, "leg-a", check.Met, check.CannotTell},
		{"leg inside its tolerance", toleranced, nil, []string{"legs=4.5,6"}, "leg-a", check.Met, check.CannotTell},
		{"leg over its tolerance", toleranced, nil, []string{"legs=5,6.01"}, "leg-b", check.NotMet, check.NotMet},
		{"throat of the least legs", toleranced, nil, []string{"throat=3.05"}, "throat", check.Met, check.CannotTell},
		{"throat under the least legs'", toleranced, nil, []string{"throat=3.03"}, "throat", check.NotMet, check.NotMet},
		{"throat under the plan, no rule", plain, nil, []string{"throat=3.5"}, "throat", check.NotMet, check.NotMet},
		{"throat under the plan, level C lets it", plain, iso, []string{"throat=3.5"}, "throat", check.Met, check.CannotTell},
		{"throat far under the plan", plain, iso, []string{"throat=2.5"}, "throat", check.NotMet, check.NotMet},
		{"fused just to the root", plain, nil, []string{"penetration=0"}, "penetration", check.Met, check.CannotTell},
		{"root not reached", plain, nil, []string{"penetration=-0.3"}, "penetration", check.NotMet, check.NotMet},
		{"claimed penetration not reached", claimed, nil, []string{"penetration=0.9"}, "penetration", check.NotMet, check.NotMet},
		{"claimed fusion reached", claimed, nil, []string{"fusion=0.8,0.9"}, "fusion-a", check.Met, check.CannotTell},
		{"claimed fusion not reached", claimed, nil, []string{"fusion=0.8,0.5"}, "fusion-b", check.NotMet, check.NotMet},
		{"convexity without a rule", plain, nil, []string{"convexity=0.5"}, "convexity", check.CannotTell, check.CannotTell},
		{"convexity at level C", plain, iso, []string{"convexity=1.5"}, "convexity", check.Met, check.CannotTell},
		{"too convex for level C", plain, iso, []string{"convexity=2.5"}, "convexity", check.NotMet, check.NotMet},
		{"too convex for level B only", plain, iso, []string{"convexity=1.9", "level=B"}, "convexity", check.NotMet, check.NotMet},
		{"undercut at level C", plain, iso, []string{"undercut=0.5"}, "undercut", check.Met, check.CannotTell},
		{"undercut too deep", plain, iso, []string{"undercut=0.6"}, "undercut", check.NotMet, check.NotMet},
		{"no undercut, no rule", plain, nil, []string{"undercut=0"}, "undercut", check.Met, check.CannotTell},
		{"undercut without a rule", plain, nil, []string{"undercut=0.1"}, "undercut", check.CannotTell, check.CannotTell},
		{"lack of fusion", plain, iso, []string{"lack-of-fusion=0.1"}, "lack-of-fusion", check.NotMet, check.NotMet},
		{"gap inside its tolerance", toleranced, nil, []string{"gap=0.7"}, "gap", check.Met, check.CannotTell},
		{"gap over its tolerance", toleranced, nil, []string{"gap=0.71"}, "gap", check.NotMet, check.NotMet},
		{"not measured", plain, nil, []string{"undercut=0"}, "leg-a", check.CannotTell, check.CannotTell},
		{"cap at level C", butt, iso, []string{"cap-height=1.5"}, "cap-height", check.Met, check.Met},
		{"hi-lo inside its tolerance", aligned, nil, []string{"hi-lo=-0.5"}, "hi-lo", check.Met, check.Met},
		{"hi-lo the other way", aligned, nil, []string{"hi-lo=-0.6"}, "hi-lo", check.NotMet, check.NotMet},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := evaluate(t, tt.section, tt.docs, tt.args...)
			it := itemOf(t, &r, tt.id)
			if it.Verdict != tt.want {
				t.Errorf("want %s, got %+v", tt.want, it)
			}
			if r.Verdict != tt.overall {
				t.Errorf("overall: want %s, got %s: %+v", tt.overall, r.Verdict, r.Items)
			}
			if it.Measured != nil && it.Low == nil && it.High == nil && len(it.Rules) == 0 && it.Verdict == check.Met {
				t.Error("met by nothing")
			}
		})
	}
}

// Remembered values never fail an item, and set it no limit; others do both.
func TestDecide(t *testing.T) {
	finding := func(rule string, v check.Verdict, p check.Provenance, required float64) check.Finding {
		return check.Finding{Rule: rule, Verdict: v, Provenance: p, Provided: new(0.6), Required: &required, Operator: check.AtMost}
	}
	for _, tt := range []struct {
		name string
		f    check.Finding
		want Item
	}{
		{"met", finding("x/5011", check.Met, check.Secondary, 0.7), Item{Verdict: check.Met, High: new(0.7), Basis: "x/5011"}},
		{"not met", finding("x/5011", check.NotMet, check.Secondary, 0.5), Item{Verdict: check.NotMet, High: new(0.5), Basis: "x/5011"}},
		{"not met by memory", finding("x/5011", check.NotMet, check.Memory, 0.5), Item{Verdict: check.CannotTell, Note: "x/5011 is not met by values from memory, unverified"}},
		{"met by memory", finding("x/5011", check.Met, check.Memory, 0.7), Item{Verdict: check.CannotTell, Note: "no tolerance in the joint file and no rule with values on file"}},
		{"cannot tell", check.Finding{Rule: "x/5011", Verdict: check.CannotTell, Provenance: check.Memory}, Item{Verdict: check.CannotTell, Note: "no tolerance in the joint file and no rule with values on file"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := Item{ID: "undercut", Measured: new(0.6)}
			got.decide([]check.Finding{tt.f, finding("x/503", check.NotMet, check.Secondary, 0.1)})
			tt.want.ID, tt.want.Measured, tt.want.Rules = "undercut", new(0.6), []string{"x/5011"}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
	// One on how long it may be does not.
	got := Item{ID: "throat", Planned: new(3.5), Measured: new(3.1), Low: new(3.5), Basis: basisThroat}
	if got.decide([]check.Finding{finding("x/5214", check.Met, check.Secondary, 0.5)}); got.Low == nil || *got.Low != 3.5 || *got.High != 4 {
		t.Errorf("%+v", got)
	}
	// A rule on the throat takes the place of the default, not of a tolerance.
	for basis, low := range map[string]*float64{basisThroat: new(3.0), basisTolerance: new(3.5)} {
		got := Item{ID: "throat", Planned: new(3.5), Measured: new(3.1), Low: new(3.5), Basis: basis}
		f := finding("x/5213", check.Met, check.Secondary, 0.5)
		got.decide([]check.Finding{f})
		if *got.Low != *low {
			t.Errorf("%s: want at least %v, got %v", basis, *low, *got.Low)
		}
	}
}

// A whole record that came out as planned.
func TestAllMet(t *testing.T) {
	s := joint(t, "tee", "base=8", "stem=8", "leg=5")
	r := evaluate(t, s, []string{isoC}, "legs=5.1,5.2", "throat=3.9", "penetration=0.2", "convexity=0.1", "undercut=0")
	if r.Verdict != check.Met || len(r.Flags) > 0 {
		t.Errorf("%s %+v\n%+v", r.Verdict, r.Flags, r.Items)
	}
	if r.Outline == nil || math.Abs(r.Outline.Toes[0].Dist(r.Outline.Root)-5.1) > 1e-12 || math.Abs(r.Outline.Toes[1].Dist(r.Outline.Root)-5.2) > 1e-12 {
		t.Errorf("outline %+v", r.Outline)
	}
}

// Throats that the legs cannot have are told; those within the reading are not.
func TestConsistency(t *testing.T) {
	s := joint(t, "tee", "base=8", "stem=8", "leg=5")
	all := []string{"legs=5,5", "convexity=0", "penetration=0", "reading=0.1"}
	// a = 5/√2 = 3.536; allowance 0.1·(1 + √½ + 1 + √½): legs together z/√2,
	// convexity at mid-face 1, penetration along the base √½.
	allowance := 0.1 * (1 + math.Sqrt2/2 + 1 + math.Sqrt2/2)
	for _, tt := range []struct {
		name string
		args []string
		want check.Verdict // empty: no flag
		text string
	}{
		{"as the legs give", append(all, "throat=3.54"), "", ""},
		{"within the reading", append(all, "throat="+number(5/math.Sqrt2+allowance-0.002)), "", ""},
		{"longer", append(all, "throat="+number(5/math.Sqrt2+allowance+0.002)), check.NotMet, "measuring error: the throat is 0.343 mm longer"},
		{"shorter", append(all, "throat="+number(5/math.Sqrt2-allowance-0.002)), check.NotMet, "measuring error: the throat is 0.344 mm shorter"},
		{"penetration not recorded", []string{"legs=5,5", "convexity=0", "throat=4.5"}, check.CannotTell, "measuring error, or penetration not recorded"},
		{"nothing else recorded", []string{"legs=5,5", "throat=4.5"}, check.CannotTell, "measuring error, or convexity and penetration not recorded"},
		{"explained by penetration", []string{"legs=5,5", "throat=4.5", "penetration=1.35", "convexity=0"}, "", ""},
		{"explained by convexity", []string{"legs=5,5", "throat=4.5", "penetration=0", "convexity=0.95"}, "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := evaluate(t, s, nil, tt.args...)
			if tt.want == "" {
				if len(r.Flags) > 0 {
					t.Errorf("flagged: %+v", r.Flags)
				}
				return
			}
			if len(r.Flags) != 1 || r.Flags[0].Verdict != tt.want || !strings.HasPrefix(r.Flags[0].Text, tt.text) || len(r.Flags[0].Steps) < 3 {
				t.Errorf("want %s %q, got %+v", tt.want, tt.text, r.Flags)
			}
		})
	}
}

// Any planned fillet, written down to the last digit, is consistent and as
// planned.
func TestPlanIsMet(t *testing.T) {
	eachFillet(t, 25, func(t *testing.T, s *joints.Section, w *joints.Weld, _ *rand.Rand) {
		t.Helper()
		exact := func(v float64) string { return strconv.FormatFloat(v, 'g', 17, 64) }
		rec, err := Read(Source{Section: s, Assignments: []string{
			"sample=S", "weld=" + w.ID, "reading=0", "legs=" + exact(float64(w.Feet[0].Leg)) + "," + exact(float64(w.Feet[1].Leg)),
			"throat=" + exact(float64(w.ActualThroat)), "convexity=" + exact(float64(w.Convexity)), "penetration=" + exact(float64(w.Penetration)),
		}})
		if err != nil {
			t.Fatalf("%s %s: %v", s.Kind, w.ID, err)
		}
		r, err := Evaluate(&rec, check.Facts{Section: s}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Flags) > 0 {
			t.Errorf("%s %s: %+v", s.Kind, w.ID, r.Flags)
		}
		for _, it := range r.Items {
			if it.Verdict == check.NotMet && it.ID != "throat" { // a proven throat may be longer than the actual one to the face
				t.Errorf("%s %s: %+v", s.Kind, w.ID, it)
			}
		}
		if d := r.Outline.Toes[0].Dist(w.Feet[0].Toe) + r.Outline.Toes[1].Dist(w.Feet[1].Toe) + r.Outline.WeldRoot.Dist(w.WeldRoot); d > 1e-9 {
			t.Errorf("%s %s: outline off by %v", s.Kind, w.ID, d)
		}
		if d := r.Outline.Face.At(0.5).Dist(w.FaceEdges[0].At(0.5)); d > 1e-9 {
			t.Errorf("%s %s: face off by %v", s.Kind, w.ID, d)
		}
	})
}

func TestLevels(t *testing.T) {
	if d := cmp.Diff([]string{"B", "C", "D"}, Levels([]string{"aisc-360-16", "x/C", "x/B", "y/D", "y/C", "z/prequalified"})); d != "" {
		t.Error(d)
	}
	got, found := atLevel([]string{"aisc-360-16", "x/C", "z/C"}, "B", []string{"aisc-360-16", "x/B", "x/C", "z/C"})
	if d := cmp.Diff([]string{"aisc-360-16", "x/B", "z/C"}, got); d != "" || !found {
		t.Error(found, d)
	}
	s := joint(t, "tee", "base=8", "stem=8", "leg=5")
	rec := record(t, s, "legs=5", "level=B")
	_, err := Evaluate(&rec, check.Facts{Section: s}, []string{"aisc-360-16"})
	if !jointfile.AsFaults(err).Has(joints.FaultConflict, "level") {
		t.Errorf("want a conflict, got %v", err)
	}
}

func TestRecordFaults(t *testing.T) {
	fillet := joint(t, "tee", "base=8", "stem=8", "leg=5", "gap=0.5")
	butt := joint(t, "butt", "left=6", "right=6", "root-opening=2", "cap=1")
	type fault struct {
		Code  joints.FaultCode
		Field string
		Place string
	}
	for name, tt := range map[string]struct {
		section *joints.Section
		file    string
		args    []string
		want    []fault
	}{
		"all at once": {fillet, "sample: S1\nlegs: [5, x]\nthroat: 900\npenetratoin: 1\ndate: 5.3.2026\nlevel: E\nunits: cm\n", nil, []fault{
			{joints.FaultSyntax, "legs", "r.yaml:2:11"}, {joints.FaultRange, "throat", "r.yaml:3:9"}, {joints.FaultUnknown, "penetratoin", "r.yaml:4:1"},
			{joints.FaultSyntax, "date", "r.yaml:5:7"}, {joints.FaultUnknown, "level", "r.yaml:6:8"}, {joints.FaultUnknown, "units", "r.yaml:7:8"},
		}},
		"no sample":           {fillet, "legs: 5\n", nil, []fault{{joints.FaultMissing, "sample", "r.yaml:1:1"}}},
		"nothing measured":    {fillet, "sample: S1\n", nil, []fault{{joints.FaultMissing, "", "r.yaml:1:1"}}},
		"empty":               {fillet, "", nil, []fault{{joints.FaultMissing, "sample", "r.yaml:1:1"}}},
		"not names":           {fillet, "- 3\n", nil, []fault{{jointfile.FaultShape, "", "r.yaml:1:1"}}},
		"bad YAML":            {fillet, "sample: [S1\n", nil, []fault{{joints.FaultSyntax, "", "r.yaml:1:9"}}},
		"twice":               {fillet, "sample: S1\nlegs: 5\nlegs: 4\n", nil, []fault{{joints.FaultDuplicate, "legs", "r.yaml:3:7"}}},
		"a group":             {fillet, "sample: S1\nlegs: {a: 5}\n", nil, []fault{{jointfile.FaultShape, "legs", "r.yaml:2:7"}}},
		"three legs":          {fillet, "sample: S1\nlegs: [5, 4, 3]\n", nil, []fault{{jointfile.FaultShape, "legs", "r.yaml:2:7"}}},
		"a list of one value": {fillet, "sample: S1\nthroat: [3]\n", nil, []fault{{jointfile.FaultShape, "throat", "r.yaml:2:9"}}},
		"no such weld":        {fillet, "sample: S1\nweld: left\nlegs: 5\n", nil, []fault{{joints.FaultUnknown, "weld", "r.yaml:2:7"}}},
		"groove sizes on a fillet": {fillet, "sample: S1\nlegs: 5\ncap-height: 1\nhi-lo: 0.3\nroot-height: 1\n", nil, []fault{
			{joints.FaultConflict, "cap-height", "r.yaml:3:13"}, {joints.FaultConflict, "hi-lo", "r.yaml:4:8"}, {joints.FaultConflict, "root-height", "r.yaml:5:14"}}},
		"fillet sizes on a groove": {butt, "sample: S1\nlegs: 5\nconvexity: 1\n", nil, []fault{{joints.FaultConflict, "legs", "r.yaml:2:7"}, {joints.FaultConflict, "convexity", "r.yaml:3:12"}}},
		"cap and underfill":        {butt, "sample: S1\ncap-height: 1\nunderfill: 0.2\n", nil, []fault{{joints.FaultConflict, "underfill", "r.yaml:3:12"}}},
		"reached and not reached":  {butt, "sample: S1\npenetration: 1\nlack-of-penetration: 0.2\n", nil, []fault{{joints.FaultConflict, "lack-of-penetration", "r.yaml:3:22"}}},
		"gap beyond the toe":       {fillet, "sample: S1\nlegs: [5, 4]\ngap: 4.5\n", nil, []fault{{joints.FaultConflict, "gap", "r.yaml:3:6"}}},
		"convexity of half a face": {fillet, "sample: S1\nlegs: [5, 4]\nconvexity: 4\n", nil, []fault{{joints.FaultConflict, "convexity", "r.yaml:3:12"}}},
		"points without numbers": {fillet, "sample: S1\nscale: 1\nsurface-a: [[0, a], [1]]\nsurface-b: [[0, 0], [0, 1]]\nface: 3\n", nil, []fault{
			{joints.FaultSyntax, "surface-a", "r.yaml:3:17"}, {jointfile.FaultShape, "surface-a", "r.yaml:3:21"}, {jointfile.FaultShape, "face", "r.yaml:5:7"}}},
		"not finite": {fillet, "sample: S1\nthroat: nan\nlegs: .inf\n", nil, []fault{{joints.FaultNotNumber, "throat", "r.yaml:2:9"}, {joints.FaultNotNumber, "legs", "r.yaml:3:7"}}},
		"assignments": {fillet, "", []string{"sample=S1", "legs", "=3", "throat=", "thraot=2", "sample=S2"}, []fault{
			{joints.FaultSyntax, "", "argument 4"}, {joints.FaultSyntax, "", "argument 5"}, {joints.FaultMissing, "throat", "argument 6"}, {joints.FaultUnknown, "thraot", "argument 7"}, {joints.FaultDuplicate, "sample", "argument 8"}}},
		"assignments over a file": {fillet, "sample: S1\nlegs: x\n", []string{"legs=5", "throat=1000"}, []fault{{joints.FaultRange, "throat", "argument 4"}}},
	} {
		t.Run(name, func(t *testing.T) {
			src := Source{Assignments: tt.args, First: 3, Section: tt.section, Levels: []string{"B", "C", "D"}}
			if name != "assignments" {
				src.Name, src.Data = "r.yaml", []byte(tt.file)
			}
			_, err := Read(src)
			var got []fault
			for _, f := range jointfile.AsFaults(err) {
				got = append(got, fault{f.Code, f.Field, f.Place.String()})
				if f.Rule == "" || f.Remedy == "" {
					t.Errorf("%v: no rule or remedy", f)
				}
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("-want +got\n%s\n%v", d, err)
			}
		})
	}
}

// Units, a record's own before the caller's.
func TestUnits(t *testing.T) {
	rec, err := Read(Source{Assignments: []string{"sample=S", "units=in", "legs=1/8,0.2in", "throat=3mm"}, Units: geometry.UnitMM})
	if err != nil {
		t.Fatal(err)
	}
	want := Sizes{Legs: [2]joints.Opt{some(25.4 / 8), some(5.08)}, Throat: some(3)}
	if d := cmp.Diff(want, rec.Sizes, cmp.Comparer(func(a, b geometry.Length) bool { return math.Abs(float64(a-b)) < 1e-12 })); d != "" {
		t.Error(d)
	}
}

func TestIsRecord(t *testing.T) {
	if !IsRecord([]byte("joint: foot.yaml\nsample: S1\n")) || IsRecord([]byte("joint: tee\nbase: 8\n")) {
		t.Error("a record has a sample, a joint file has none")
	}
	if got := JointOf([]byte("joint: foot.yaml\nsample: S1\n")); got != "foot.yaml" {
		t.Error(got)
	}
}

// Every etchant carries its cautions and its papers, hydrofluoric acid the
// strongest one, under any name.
func TestEtchants(t *testing.T) {
	for _, e := range Etchants() {
		if e.Name == "" || e.What == "" || e.Use == "" || e.Source == "" || e.Hazard == "" || e.HazardSource == "" || len(e.Families) == 0 {
			t.Errorf("%q lacks papers: %+v", e.Name, e)
		}
		if e.Fluoride != strings.Contains(e.What, "hydrofluoric") {
			t.Errorf("%s: hydrofluoric acid is not marked", e.Name)
		}
		cautions := EtchingCautions(strings.ReplaceAll(e.Name, "-", " "), nil)
		if (cautions[0] == cautionFluoride) != e.Fluoride || !slices.Contains(cautions, cautionEtching) {
			t.Errorf("%s: %q", e.Name, cautions)
		}
	}
	for name, strong := range map[string]bool{
		"2 % HF in water": true, "Keller's reagent": true, "Kroll": true, "ammonium bifluoride": true, "hydrofluoric": true,
		"half strength nital": false, "citric acid": false,
	} {
		if got := EtchingCautions(name, nil)[0] == cautionFluoride; got != strong {
			t.Errorf("%s: strong caution %v", name, got)
		}
	}
	for _, c := range []string{cautionEtching, cautionFluoride} {
		for _, want := range []string{"safety data sheet", "local code", "licensed practice"} {
			if !strings.Contains(c, want) {
				t.Errorf("does not defer to %s: %s", want, c)
			}
		}
	}
	if EtchingCautions("None", nil) != nil {
		t.Error("cautions where nothing was etched")
	}
	if got := EtchingCautions("", nil); !slices.Equal(got, []string{cautionEtching}) {
		t.Errorf("an etchant that is not named: %q", got)
	}
	if caustic, _ := LookupEtchant("caustic"); !strings.Contains(Starter, "hydrogen") || !strings.Contains(caustic.Hazard, "hydrogen") {
		t.Error("the starter does not warn of the etchant it names")
	}
	if got := strings.Join(EtchingCautions("nital", []string{"aluminium", ""}), "\n"); !strings.Contains(got, "not for aluminium") {
		t.Error(got)
	}
}

func TestHistories(t *testing.T) {
	entry := func(joint, date, sample string, leg float64) Entry {
		e := sampleEntry(sample)
		e.Joint, e.Date = joint, date
		e.Items = []LogItem{{ID: "leg-a", Measured: leg, Planned: new(3.0), Low: new(3.0), Verdict: check.Met}}
		if leg < 3 {
			e.Items[0].Verdict = check.NotMet
		}
		return e
	}
	log := Log{Entries: []Entry{
		entry("W3", "2026-03-09", "S3", 3.3), entry("W4", "2026-03-01", "X1", 5), entry("W3", "2026-03-01", "S1", 3.1), entry("W3", "2026-03-05", "S2", 2.9),
		entry("W3", "2026-03-12", "S4", 3.5),
	}}
	got := Histories(&log, "W3")
	if len(got) != 1 || len(got[0].Entries) != 4 || got[0].Entries[0].Sample != "S1" || got[0].Entries[3].Sample != "S4" {
		t.Fatalf("%+v", got)
	}
	want := []Trend{{Item: "leg-a", Unit: joints.UnitMM, Count: 4, Mean: 3.2, Least: 2.9, Largest: 3.5, Change: new(0.4), Margin: new(-0.1), NotMet: 1}}
	if d := cmp.Diff(want, got[0].Trends, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-12 })); d != "" {
		t.Error(d)
	}
	if n := len(Histories(&log, "")); n != 2 {
		t.Errorf("want 2 joints, got %d", n)
	}
	if n := len(Histories(&log, "01234567")); n != 2 {
		t.Errorf("by digest: want 2 joints, got %d", n)
	}
}

func FuzzRead(f *testing.F) {
	f.Add("sample: S1\nlegs: [5, 4]\nthroat: 3.1\n", "convexity=0.2")
	f.Add("sample: S1\nscale: 0.05\nsurface-a: [[0,0],[100,0]]\nsurface-b: [[0,20],[0,100]]\nface: [[100,0],[60,50],[0,100]]\nroot: [[1,1]]\n", "gap=0.3")
	f.Add("sample: S1\npenetration: -0.2\nfusion: 1e300\n", "level=C")
	f.Add("", "face=0,0 1,1 nan,2")
	s := joint(f, "tee", "base=8", "stem=8", "leg=5")
	f.Fuzz(func(t *testing.T, file, assignment string) {
		rec, err := Read(Source{Name: "r.yaml", Data: []byte(file), Assignments: []string{assignment}, Section: s, Levels: []string{"B", "C", "D"}})
		if err != nil {
			if len(jointfile.AsFaults(err)) == 0 {
				t.Fatalf("no faults: %v", err)
			}
			return
		}
		r, err := Evaluate(&rec, check.Facts{Section: s}, []string{isoC})
		if err != nil {
			t.Fatal(err)
		}
		for _, it := range r.Items {
			if it.Measured != nil && (math.IsNaN(*it.Measured) || math.IsInf(*it.Measured, 0)) {
				t.Fatalf("%+v", it)
			}
		}
		e := r.Entry(Origin{Date: "2026-03-05", Digest: strings.Repeat("0", 64)})
		for _, form := range forms() {
			line, err := form.line(&e)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := form.parse([]byte(strings.TrimSuffix(string(line), "\n"))); err != nil {
				t.Fatalf("%q: %v", line, err)
			}
		}
	})
}

func BenchmarkProfile(b *testing.B) {
	s := joint(b, "tee", "base=8", "stem=8", "leg=5", "face=convex", "rise=0.5")
	w := &s.Welds[0]
	p := shoot(w, geometry.Scale(20), 10, 50, still)
	f := newFrame(s, w)
	for b.Loop() {
		if _, faults := recoverProfile(p, &f, &Sizes{}); len(faults) > 0 {
			b.Fatal(faults)
		}
	}
}
