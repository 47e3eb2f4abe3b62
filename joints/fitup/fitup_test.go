package fitup_test

import (
	"fmt"
	"math"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/fitup"
)

func num(v float64) joints.Value { return joints.Value{Text: fmt.Sprint(v), Number: v} }

func tol(v, plus, minus float64) joints.Value {
	return joints.Value{Text: "given", Number: v, Tolerance: &joints.Tolerance{Plus: plus, Minus: minus}}
}

func tee(gap, leg joints.Value) joints.Input {
	return joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": {Thickness: num(8)}, "stem": {Thickness: num(3)}},
		Values: map[string]joints.Value{"gap": gap},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": leg}}}
}

// A flat fillet in a gap: the leg to lay is leg + gap − planned gap, and the
// throat of the planned leg is (leg − gap)/√2.
func TestTableAgainstTheClosedForm(t *testing.T) {
	table, ok, err := fitup.NewTable(tee(num(0.3), num(4)), fitup.Spec{})
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	if table.Parameter != "gap" || table.End != 5 || len(table.Rows) != 12 {
		t.Fatalf("table of %s to %v with %d rows", table.Parameter, table.End, len(table.Rows))
	}
	nominal := 0
	for _, row := range table.Rows {
		g := float64(row.Opening)
		w := row.Welds[0]
		if g < 4 {
			if want := (4 - g) / math.Sqrt2; !w.Throat.Present || math.Abs(float64(w.Throat.Value)-want) > 1e-9 {
				t.Errorf("gap %v: throat %v, want %v", g, w.Throat, want)
			}
		} else if w.Throat.Present {
			t.Errorf("gap %v: a leg of 4 leaves no throat, got %v", g, w.Throat)
		}
		want := 4 + g - 0.3
		for _, leg := range w.Legs {
			if !leg.Present || math.Abs(float64(leg.Value)-want) > 1e-6 {
				t.Errorf("gap %v: leg %v, want %v", g, leg, want)
			}
		}
		if extra := want*want/2 - 8; math.Abs(row.ExtraArea-extra) > 1e-5 {
			t.Errorf("gap %v: extra area %v, want %v", g, row.ExtraArea, extra)
		}
		if row.Nominal {
			nominal++
		}
	}
	if nominal != 1 {
		t.Errorf("%d rows are the plan", nominal)
	}
}

// On a lap the edge ends what a larger leg can make up for.
func TestTableSaysWhenTheEdgeEndsIt(t *testing.T) {
	in := joints.Input{Kind: "lap",
		Plates: map[string]joints.PlateInput{"lower": {Thickness: num(6)}, "upper": {Thickness: num(4)}},
		Values: map[string]joints.Value{"overlap": num(30)},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": num(4)}}}
	table, ok, err := fitup.NewTable(in, fitup.Spec{Step: 1})
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	// The edge rises with the gap, so that a leg of 4 + gap just fits.
	for _, row := range table.Rows {
		w := row.Welds[0]
		if w.Impossible != "" || math.Abs(float64(w.Legs[1].Value)-(4+float64(row.Opening))) > 1e-5 {
			t.Errorf("gap %v: %+v", row.Opening, w)
		}
	}
	in.Values["gap"] = num(0)
	in.Welds["arrow"] = map[string]joints.Value{"leg": {Text: "3,4", Number: 3, List: []float64{3, 4}}, "face": {Text: "concave", Choice: "concave"}, "rise": num(0.3)}
	if table, _, err = fitup.NewTable(in, fitup.Spec{Step: 1}); err != nil {
		t.Fatal(err)
	}
	if last := table.Rows[len(table.Rows)-1].Welds[0]; last.Impossible == "" && !last.Legs[0].Present {
		t.Errorf("neither legs nor a reason: %+v", last)
	}
}

// Worst case, by hand: leg 4 ±0.5 over gap 0.5 ±0.5.
func TestWorstCaseIsTheWorstCorner(t *testing.T) {
	a, ok, err := fitup.Analyse(tee(tol(0.5, 0.5, -0.5), tol(4, 0.5, -0.5)), fitup.Options{Samples: 1000})
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	for name, v := range map[string][2]float64{
		"nominal":       {3.5 / math.Sqrt2, float64(a.Nominal)},
		"low":           {2.5 / math.Sqrt2, float64(a.WorstLow)},
		"high":          {4.5 / math.Sqrt2, float64(a.WorstHigh)},
		"area":          {8, a.NominalArea},
		"least area":    {3.5 * 3.5 / 2, a.WorstAreaLow},
		"largest area":  {4.5 * 4.5 / 2, a.WorstAreaHigh},
		"rss area high": {8 + 0.125 + 2, a.RSSAreaHigh}, // half of (4.5²−3.5²)/2, about the middle of both
		"rss low":       {(3.5 - math.Sqrt(0.5)) / math.Sqrt2, float64(a.RSSLow)},
	} {
		if math.Abs(v[0]-v[1]) > 1e-9 {
			t.Errorf("%s: %v, want %v", name, v[1], v[0])
		}
	}
	if len(a.Contributions) != 2 || math.Abs(a.Contributions[0].Share-0.5) > 1e-9 {
		t.Errorf("two equal shares wanted: %+v", a.Contributions)
	}
}

// leg − gap is the difference of two even spreads: a triangle, whose share
// under any requirement is known.
func TestSamplingAgreesWithTheTriangle(t *testing.T) {
	in := tee(tol(0.5, 0.5, -0.5), tol(4, 0.5, -0.5))
	for _, short := range []float64{-0.6, -0.2, 0.3} {
		want := (1 + short) * (1 + short) / 2
		if short > 0 {
			want = 1 - (1-short)*(1-short)/2
		}
		o := fitup.Options{Samples: 20000, Seed: 3, Require: fitup.Requirement{Throat: geometry.Length((3.5 + short) / math.Sqrt2)}}
		a, _, err := fitup.Analyse(in, o)
		if err != nil {
			t.Fatal(err)
		}
		// Four standard errors: one run in sixteen thousand would fall outside.
		if tolerance := 4 * math.Sqrt(want*(1-want)/20000); math.Abs(a.ShareShort-want) > tolerance {
			t.Errorf("requirement %v: share %v, want %v ± %v", short, a.ShareShort, want, tolerance)
		}
		if a.ShareLow > a.ShareShort || a.ShareHigh < a.ShareShort {
			t.Errorf("interval %v to %v around %v", a.ShareLow, a.ShareHigh, a.ShareShort)
		}
		again, _, _ := fitup.Analyse(in, o)
		if again.Short != a.Short {
			t.Error("the same seed must count the same joints")
		}
	}
}

func TestNothingToleranced(t *testing.T) {
	if _, ok, err := fitup.Analyse(tee(num(0.5), num(4)), fitup.Options{}); ok || err != nil {
		t.Errorf("nothing is toleranced: %v, %v", ok, err)
	}
}

func BenchmarkAnalyse100000(b *testing.B) {
	in := tee(tol(0.5, 0.5, -0.5), tol(4, 0.5, -0.5))
	for b.Loop() {
		if _, _, err := fitup.Analyse(in, fitup.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
