package check_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

func TestCompare(t *testing.T) {
	inf := math.Inf(1)
	for name, tt := range map[string]struct {
		provided, required float64
		op                 check.Operator
		verdict            check.Verdict
		ratio              float64 // −1: none
	}{
		"over a lower bound":               {6, 3, check.AtLeast, check.Met, 0.5},
		"at a lower bound":                 {3, 3, check.AtLeast, check.Met, 1},
		"rounding under a lower bound":     {0.3, 0.1 + 0.2, check.AtLeast, check.Met, 1},
		"under a lower bound":              {2, 3, check.AtLeast, check.NotMet, 1.5},
		"hardly under a lower bound":       {2.99999, 3, check.AtLeast, check.NotMet, 3 / 2.99999},
		"nothing against a lower bound":    {0, 3, check.AtLeast, check.NotMet, -1},
		"no lower bound":                   {2, 0, check.AtLeast, check.Met, 0},
		"nothing, no lower bound":          {0, 0, check.AtLeast, check.Met, 0},
		"under an upper bound":             {1, 4, check.AtMost, check.Met, 0.25},
		"at an upper bound":                {4, 4, check.AtMost, check.Met, 1},
		"rounding over an upper bound":     {0.1 + 0.2, 0.3, check.AtMost, check.Met, 1},
		"over an upper bound":              {5, 4, check.AtMost, check.NotMet, 1.25},
		"nothing against an upper bound":   {0, 4, check.AtMost, check.Met, 0},
		"nothing is allowed":               {1, 0, check.AtMost, check.NotMet, -1},
		"nothing is allowed, nothing done": {0, 0, check.AtMost, check.Met, 0},
		"too large to divide":              {1e-300, 1e300, check.AtLeast, check.NotMet, -1},
		"provided is not a number":         {math.NaN(), 1, check.AtMost, check.CannotTell, -1},
		"required is infinite":             {1, inf, check.AtMost, check.CannotTell, -1},
		"provided is negative":             {-1, 1, check.AtMost, check.CannotTell, -1},
	} {
		t.Run(name, func(t *testing.T) {
			f := check.Compare(tt.provided, tt.op, tt.required, joints.UnitMM)
			if f.Verdict != tt.verdict {
				t.Errorf("want %s, got %s", tt.verdict, f.Verdict)
			}
			got := -1.0
			if f.Ratio != nil {
				got = *f.Ratio
			}
			if d := cmp.Diff(tt.ratio, got, cmpopts.EquateApprox(1e-12, 0)); d != "" {
				t.Error("ratio -want +got", d)
			}
			if _, err := json.Marshal(f); err != nil {
				t.Error(err)
			}
		})
	}
}

// Ratio and verdict agree, also around the limit.
func TestRatioAgreesWithVerdict(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		required := math.Pow(10, 6*r.Float64()-3)
		provided := required * (1 + (r.Float64()-0.5)*math.Pow(10, -12*r.Float64()))
		for _, op := range []check.Operator{check.AtLeast, check.AtMost} {
			f := check.Compare(provided, op, required, joints.UnitMM)
			if met := *f.Ratio <= 1; met != (f.Verdict == check.Met) {
				t.Fatalf("%v %s %v: ratio %v and %s", provided, op, required, *f.Ratio, f.Verdict)
			}
		}
	}
}

func document(rules ...check.Rule) check.Document {
	return check.Document{ID: "d", Title: "Document", Rules: rules}
}

func rule(id string, p check.Provenance, findings ...check.Finding) check.Rule {
	return check.Rule{ID: id, Title: "Title of " + id, Source: check.Source{Document: "D"}, Provenance: p,
		Check: func(_ *check.Facts, to []check.Finding) []check.Finding { return append(to, findings...) }}
}

var (
	met  = check.Compare(1, check.AtMost, 2, joints.UnitMM)
	fail = check.Compare(3, check.AtMost, 2, joints.UnitMM)
)

func TestRunCompletesFindings(t *testing.T) {
	remembered := met
	remembered.Provenance = check.Memory
	d := document(rule("a", check.Primary, met, remembered, check.Inapplicable("why not")))
	d.Scope = []string{"steel"}
	facts := &check.Facts{Section: &joints.Section{}, Families: []string{"aluminium", "", "steel", "aluminium"}}
	const note = "Document is written for steel, not for aluminium"
	base := check.Finding{Rule: "a", Title: "Title of a", Source: check.Source{Document: "D"}, Steps: []check.Step{}}
	first, second, third := base, base, base
	for _, f := range []*check.Finding{&first, &second} {
		f.Provided, f.Required, f.Ratio = new(1.0), new(2.0), new(0.5)
		f.Unit, f.Operator, f.Verdict, f.Note = joints.UnitMM, check.AtMost, check.Met, note
	}
	first.Provenance, second.Provenance, third.Provenance = check.Primary, check.Memory, check.Primary
	third.Verdict, third.Note = check.NotApplicable, "why not"
	if d := cmp.Diff([]check.Finding{first, second, third}, check.Run(facts, []check.Document{d})); d != "" {
		t.Error("-want +got", d)
	}
}

func TestNoDocuments(t *testing.T) {
	got := check.Run(&check.Facts{Section: &joints.Section{}}, nil)
	if text, err := json.Marshal(got); err != nil || string(text) != "[]" {
		t.Errorf("want [], got %s, %v", text, err)
	}
}

func TestFailedAndSilence(t *testing.T) {
	documents := []check.Document{document(
		rule("met", check.Primary, met), rule("primary", check.Primary, fail), rule("memory", check.Memory, fail),
		rule("unknown", check.Primary, check.Unknown("no length")), rule("shop", check.Shop, fail),
		rule("practice", check.CommonPractice, fail), rule("other", check.Primary, check.Inapplicable("no")),
	)}
	facts := &check.Facts{Section: &joints.Section{}}
	all := check.Run(facts, documents)
	type result struct{ Failed, Kept bool }
	want := map[string]result{
		"met": {false, true}, "primary": {true, true}, "memory": {false, false}, "unknown": {false, false},
		"shop": {true, true}, "practice": {true, true}, "other": {false, true},
	}
	got := map[string]result{}
	for _, f := range all {
		one := []check.Finding{f}
		got[f.Rule] = result{check.Failed(one), len(check.Silence(one, []string{f.Rule})) == 1}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error("-want +got", d)
	}
	before := slices.Clone(all)
	silenced := check.Silence(all, []string{"primary", "memory"})
	if d := cmp.Diff(before, all); d != "" {
		t.Error("Silence changed its input", d)
	}
	if !check.Failed(silenced) {
		t.Error("silencing must not turn a failed joint into a sound one")
	}
	for _, f := range silenced {
		if noted := f.Note == "a failure cannot be silenced"; noted != (f.Rule == "primary") {
			t.Errorf("%s: note %q", f.Rule, f.Note)
		}
	}
	if check.Failed(nil) {
		t.Error("no findings are no failure")
	}
}

// Sizes to set on the bench lie on the safe side of the limit.
func TestBenchSizes(t *testing.T) {
	for name, tt := range map[string]struct {
		size    geometry.Length
		units   geometry.Unit
		atLeast string
		atMost  string
	}{
		"on a tenth":            {4.3, geometry.UnitMM, "4.3 mm", "4.3 mm"},
		"between tenths":        {4.31, geometry.UnitMM, "4.4 mm", "4.3 mm"},
		"whole":                 {5, geometry.UnitMM, "5 mm", "5 mm"},
		"sum of tenths":         {geometry.Length(0.1) + 0.2, geometry.UnitMM, "0.3 mm", "0.3 mm"},
		"on a fraction":         {3.0 / 16 * geometry.Inch, geometry.UnitInch, "3/16 in", "3/16 in"},
		"between fractions":     {0.4 * geometry.Inch, geometry.UnitInch, "13/32 in", "3/8 in"},
		"over an inch":          {1.25 * geometry.Inch, geometry.UnitInch, "1-1/4 in", "1-1/4 in"},
		"too thin for fraction": {0.05 * geometry.Inch, geometry.UnitInch, "0.05 in", "0.05 in"},
		"thin, to a thousandth": {0.0502 * geometry.Inch, geometry.UnitInch, "0.051 in", "0.05 in"},
		"feet count as mm":      {4.31, geometry.UnitFoot, "4.4 mm", "4.3 mm"},
	} {
		t.Run(name, func(t *testing.T) {
			f := &check.Facts{Units: tt.units}
			if d := cmp.Diff([2]string{tt.atLeast, tt.atMost}, [2]string{f.ShowAtLeast(tt.size), f.ShowAtMost(tt.size)}); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
}

// Printed in the other unit, a value stays that of its column.
func TestShowConverted(t *testing.T) {
	overlap := check.Pair(25, 1)
	for name, tt := range map[string]struct {
		facts                check.Facts
		column, size, atMost string
	}{
		"mm":           {check.Facts{}, "25 mm", "10 mm", "10 mm"},
		"mm in inches": {check.Facts{Converted: true}, "0.9843 in", "0.3937 in", "3/8 in"},
		"inches":       {check.Facts{Units: geometry.UnitInch}, "1 in", "0.3937 in", "3/8 in"},
		"inches in mm": {check.Facts{Units: geometry.UnitInch, Converted: true}, "25.4 mm", "10 mm", "10 mm"},
	} {
		t.Run(name, func(t *testing.T) {
			f := &tt.facts
			want, got := [3]string{tt.column, tt.size, tt.atMost}, [3]string{overlap.Show(f), f.Show(10), f.ShowAtMost(10)}
			if d := cmp.Diff(want, got); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
}

func FuzzCompare(f *testing.F) {
	f.Add(1.0, 2.0, true)
	f.Add(math.Inf(-1), math.NaN(), false)
	f.Add(math.MaxFloat64, math.SmallestNonzeroFloat64, false)
	f.Fuzz(func(t *testing.T, provided, required float64, lower bool) {
		op := check.AtMost
		if lower {
			op = check.AtLeast
		}
		got := check.Compare(provided, op, required, joints.UnitMM)
		if _, err := json.Marshal(got); err != nil {
			t.Fatal(err)
		}
		if got.Ratio != nil && (*got.Ratio <= 1) != (got.Verdict == check.Met) {
			t.Fatalf("ratio %v and %s", *got.Ratio, got.Verdict)
		}
		facts := &check.Facts{Units: geometry.UnitInch}
		facts.Show(geometry.Length(provided))
		facts.ShowAtLeast(geometry.Length(provided))
		facts.ShowAtMost(geometry.Length(required))
	})
}
