package fitup_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/fitup"

	"github.com/google/go-cmp/cmp"
)

func TestParameters(t *testing.T) {
	for kind, want := range map[string][]string{
		"tee": {"gap"}, "cross": {"gap", "lower-gap"}, "lap": {"gap"}, "butt": {"root-opening"},
	} {
		k, _ := joints.LookupKind(kind)
		if diff := cmp.Diff(want, fitup.Parameters(k)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", kind, diff)
		}
	}
}

func TestBenchOpenings(t *testing.T) {
	const inch = geometry.Inch
	for name, tt := range map[string]struct {
		planned, widest geometry.Length
		units           geometry.Unit
		want            []geometry.Length
	}{
		"closed":             {0, 0, geometry.UnitMM, []geometry.Length{0, 0.5, 1, 1.5, 2, 2.5}},
		"tolerance":          {0.3, 0.6, geometry.UnitMM, []geometry.Length{0.3, 0.6, 1, 1.5, 2, 2.5}},
		"tolerance on steps": {0.5, 1, geometry.UnitMM, []geometry.Length{0.5, 1, 1.5, 2, 2.5, 3}},
		"wide tolerance":     {0, 2, geometry.UnitMM, []geometry.Length{0, 0.5, 1, 1.5, 2, 2.5}},
		"inches":             {0, inch / 16, geometry.UnitInch, []geometry.Length{0, inch / 32, inch / 16, inch * 3 / 32, inch / 8, inch * 5 / 32}},
	} {
		if diff := cmp.Diff(tt.want, fitup.BenchOpenings(tt.planned, tt.widest, tt.units)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", name, diff)
		}
	}
}

// Openings rise, hold the plan and its tolerance, and are few, whatever is asked.
func TestBenchOpeningsAreInOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 2000 {
		planned := geometry.Length(r.Float64() * 4)
		widest := planned + geometry.Length(r.Float64()*3)
		got := fitup.BenchOpenings(planned, widest, geometry.Unit(0))
		if len(got) != fitup.BenchMost || !slices.IsSorted(got) || got[0] != planned || !slices.Contains(got, widest) {
			t.Fatalf("%v to %v: %v", planned, widest, got)
		}
	}
}

// TestStemsOfACrossHaveATableEach opens the gap of one stem: the table holds the
// welds of that stem alone, and their legs grow.
func TestStemsOfACrossHaveATableEach(t *testing.T) {
	leg := func(v float64) map[string]joints.Value {
		return map[string]joints.Value{"leg": {Text: "given", Number: v}}
	}
	plate := func(v float64) joints.PlateInput {
		return joints.PlateInput{Thickness: joints.Value{Text: "given", Number: v}}
	}
	in := joints.Input{Kind: "cross",
		Plates: map[string]joints.PlateInput{"base": plate(8), "upper": plate(5), "lower": plate(4)}, Values: map[string]joints.Value{},
		Welds: map[string]map[string]joints.Value{"arrow": leg(4), "other": leg(4), "lower-arrow": leg(3), "lower-other": leg(3)}}
	for parameter, want := range map[string][]string{"gap": {"arrow", "other"}, "lower-gap": {"lower-arrow", "lower-other"}} {
		table, ok, err := fitup.NewTable(in, fitup.Spec{Parameter: parameter, Openings: []geometry.Length{2}})
		if !ok || err != nil {
			t.Fatal(ok, err)
		}
		var welds []string
		for _, w := range table.Throats {
			welds = append(welds, w.Weld)
		}
		if diff := cmp.Diff(want, welds); diff != "" {
			t.Errorf("%s (-want +got)\n%s", parameter, diff)
		}
		if len(table.Rows) != 2 {
			t.Fatalf("want the plan and one opening, got %+v", table.Rows)
		}
		for i, w := range table.Rows[1].Welds {
			// Flat equal legs grow by the gap.
			if got, want := w.Legs[0].Value-table.Rows[0].Welds[i].Legs[0].Value, geometry.Length(2); got < want-1e-6 || got > want+1e-6 {
				t.Errorf("%s: the legs of %s grow by %v, not by the gap of 2", parameter, w.Weld, got)
			}
		}
	}
}
