package fitup_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/fitup"
	"fay/joints/jointstest"

	"github.com/google/go-cmp/cmp"
)

// rebuilt builds the joint of a row again, by the front door: the opening, and
// the legs of one weld, given as a person would.
func rebuilt(t *testing.T, in joints.Input, parameter string, opening geometry.Length, weld string, legs [2]geometry.Length) *joints.Weld {
	t.Helper()
	values := map[string]joints.Value{}
	for k, v := range in.Welds[weld] {
		if k != "throat" && k != "gauge-leg" {
			values[k] = v
		}
	}
	values["leg"] = joints.Value{Text: "given", Number: float64(legs[0]), List: []float64{float64(legs[0]), float64(legs[1])}}
	own := map[string]joints.Value{}
	maps.Copy(own, in.Values)
	own[parameter] = num(float64(opening))
	all := in.Welds
	in.Values, in.Welds = own, map[string]map[string]joints.Value{weld: values}
	s, err := joints.Build(in)
	if err != nil && in.Kind == "cross" {
		// Each stem needs a weld of its own: any that bridges the gap.
		in.Welds = map[string]map[string]joints.Value{weld: values}
		for id := range all {
			if id != weld {
				in.Welds[id] = map[string]joints.Value{"leg": num(25)}
			}
		}
		s, err = joints.Build(in)
	}
	if err != nil {
		return nil
	}
	w, _ := s.Weld(weld)
	return w
}

// Over random joints of every kind: the legs of a row keep the throat and are
// the smallest that do; the legs to lay are on the grid or the plan's, not
// smaller, and fit. The plan is laid as it is drawn.
func TestLegsKeepTheThroat(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(5, uint64(i)))
			kept, impossible, fillets := 0, 0, 0
			for range 20 {
				s, in, ok := jointstest.Section(k, r)
				if !ok {
					t.Fatal("no random joint could be built")
				}
				table, ok, err := fitup.NewTable(in, fitup.Spec{Step: 1})
				if err != nil {
					t.Fatal(err)
				}
				if !ok {
					t.Skip("no opening")
				}
				for _, row := range table.Rows {
					for _, w := range row.Welds {
						plan, _ := s.Weld(w.Weld)
						if plan.Kind == joints.FilletWeld {
							fillets++
						}
						if !w.Legs[0].Present {
							if w.Impossible != "" {
								impossible++
							}
							continue
						}
						exact := [2]geometry.Length{w.Legs[0].Value, w.Legs[1].Value}
						got := rebuilt(t, in, table.Parameter, row.Opening, w.Weld, exact)
						if got == nil {
							continue // the weld needs the other one beside it
						}
						kept++
						if math.Abs(float64(got.EffectiveThroat-plan.EffectiveThroat)) > 1e-6 {
							// Only legs that cannot be any smaller may give more.
							less := [2]geometry.Length{exact[0] - 0.01, exact[1] - 0.01}
							if w := rebuilt(t, in, table.Parameter, row.Opening, w.Weld, less); got.EffectiveThroat < plan.EffectiveThroat || w != nil {
								t.Errorf("%+v at %v: legs %v give a throat of %v, want %v", in, row.Opening, exact, got.EffectiveThroat, plan.EffectiveThroat)
							}
						}
						laid := [2]geometry.Length{w.Lay[0].Value, w.Lay[1].Value}
						got = rebuilt(t, in, table.Parameter, row.Opening, w.Weld, laid)
						if got == nil || got.EffectiveThroat < plan.EffectiveThroat-1e-6 {
							t.Errorf("%+v at %v: the legs to lay, %v, cannot be laid or are short", in, row.Opening, laid)
						}
						for j := range laid {
							planned := plan.Feet[j].Leg
							if row.Nominal && laid[j] != planned {
								t.Errorf("%+v: leg to lay %v for the plan, which has %v", in, laid[j], planned)
							}
							steps := float64(laid[j] / table.Grid)
							if off := math.Abs(steps - math.Round(steps)); off > 1e-6 && !w.WholeEdge[j] && laid[j] != exact[j] && laid[j] != planned {
								t.Errorf("%+v at %v: leg to lay %v is not on the grid", in, row.Opening, laid[j])
							}
						}
					}
				}
			}
			if kept < min(50, fillets/3) {
				t.Errorf("only %d legs of %d fillets were kept (%d impossible)", kept, fillets, impossible)
			}
		})
	}
}

// A weld that cannot bridge the gap any more does not hide the other one.
func TestWeldsAreKeptApart(t *testing.T) {
	in := tee(num(0), num(3))
	in.Welds["other"] = map[string]joints.Value{"leg": num(6)}
	table, _, err := fitup.NewTable(in, fitup.Spec{Step: 1})
	if err != nil {
		t.Fatal(err)
	}
	last := table.Rows[len(table.Rows)-1]
	arrow, other := last.Welds[0], last.Welds[1]
	if arrow.Throat.Present || !other.Throat.Present {
		t.Errorf("gap 5: a leg of 3 leaves no throat, one of 6 does: %+v, %+v", arrow.Throat, other.Throat)
	}
	for i, want := range []geometry.Length{8, 11} {
		if got := last.Welds[i].Legs[0]; !got.Present || math.Abs(float64(got.Value-want)) > 1e-6 {
			t.Errorf("leg %v, want %v (%s)", got, want, last.Welds[i].Impossible)
		}
	}
	// 8²/2 + 11²/2 − 3²/2 − 6²/2
	if want := 70.0; !last.Complete || math.Abs(last.ExtraArea-want) > 1e-5 || math.Abs(last.LaidArea-want) > 1e-5 {
		t.Errorf("extra area %v, laid %v, want %v", last.ExtraArea, last.LaidArea, want)
	}
}

// A thin upper plate leaves a narrow range of legs, which must be found, and
// cuts the rounding short.
func TestThinEdge(t *testing.T) {
	in := joints.Input{Kind: "lap",
		Plates: map[string]joints.PlateInput{"lower": {Thickness: num(6)}, "upper": {Thickness: num(0.8)}},
		Values: map[string]joints.Value{"overlap": num(30)},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": num(0.8)}}}
	table, _, err := fitup.NewTable(in, fitup.Spec{Step: 0.7})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range table.Rows {
		w := row.Welds[0]
		want := 0.8 + float64(row.Opening)
		if w.Impossible != "" || math.Abs(float64(w.Legs[1].Value)-want) > 1e-6 {
			t.Errorf("gap %v: leg %v (%s), want %v", row.Opening, w.Legs[1], w.Impossible, want)
			continue
		}
		up := math.Ceil(want/0.5-1e-6) * 0.5
		if row.Nominal {
			up = want
		}
		if math.Abs(float64(w.Lay[0].Value)-up) > 1e-9 || w.WholeEdge[0] {
			t.Errorf("gap %v: leg to lay on the lower plate %v, want %v", row.Opening, w.Lay[0].Value, up)
		}
		if cut := up > want+1e-9; w.WholeEdge[1] != cut || math.Abs(float64(w.Lay[1].Value)-want) > 1e-6 {
			t.Errorf("gap %v: leg to lay on the edge %v (whole edge: %v), want %v", row.Opening, w.Lay[1].Value, w.WholeEdge[1], want)
		}
	}
}

func TestRequiredThroat(t *testing.T) {
	table, _, err := fitup.NewTable(tee(num(0.3), num(4)), fitup.Spec{Throat: 3, Weld: "arrow"})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range table.Rows {
		if want := 3*math.Sqrt2 + float64(row.Opening); math.Abs(float64(row.Welds[0].Legs[0].Value)-want) > 1e-6 {
			t.Errorf("gap %v: leg %v, want %v", row.Opening, row.Welds[0].Legs[0].Value, want)
		}
	}
	// Less than the plan: nobody is sent to lay less than the drawing says.
	table, _, err = fitup.NewTable(tee(num(0.3), num(4)), fitup.Spec{Throat: 1})
	if err != nil {
		t.Fatal(err)
	}
	if w := table.Rows[0].Welds[0]; w.Lay[0].Value != 4 || w.Legs[0].Value > 1.5 {
		t.Errorf("exact leg %v, to lay %v; want √2 and 4", w.Legs[0].Value, w.Lay[0].Value)
	}
}

func TestOpenings(t *testing.T) {
	const inch = geometry.Inch
	for _, row := range []struct {
		name    string
		planned float64
		spec    fitup.Spec
		want    []geometry.Length
	}{
		{"the plan on a step", 1, fitup.Spec{Step: 1}, []geometry.Length{0, 1, 2, 3, 4, 5}},
		{"the plan between steps", 0.3, fitup.Spec{Step: 2}, []geometry.Length{0, 0.3, 2, 4, 5}},
		{"the plan between the last step and the end", 4.9, fitup.Spec{Step: 2}, []geometry.Length{0, 2, 4, 4.9, 5}},
		{"the plan at the end", 5, fitup.Spec{Step: 2}, []geometry.Length{0, 2, 4, 5}},
		{"inches end at 3/16", 0, fitup.Spec{Step: inch / 16, Units: geometry.UnitInch}, []geometry.Length{0, inch / 16, inch / 8, inch * 3 / 16}},
		{"a plan past the inches' end", 5, fitup.Spec{Step: inch / 16, Units: geometry.UnitInch}, []geometry.Length{0, inch / 16, inch / 8, inch * 3 / 16, 5}},
	} {
		t.Run(row.name, func(t *testing.T) {
			table, _, err := fitup.NewTable(tee(num(row.planned), num(8)), row.spec)
			if err != nil {
				t.Fatal(err)
			}
			var got []geometry.Length
			nominal := 0
			for _, r := range table.Rows {
				got = append(got, r.Opening)
				if r.Nominal {
					nominal++
				}
			}
			near := cmp.Comparer(func(a, b geometry.Length) bool { return math.Abs(float64(a-b)) < 1e-9 })
			if d := cmp.Diff(row.want, got, near); d != "" || nominal != 1 {
				t.Errorf("openings (-want +got), %d of them the plan:\n%s", nominal, d)
			}
		})
	}
}

func TestFaults(t *testing.T) {
	in := tee(tol(0.5, 0.5, -0.5), num(4))
	nan := geometry.Length(math.NaN())
	for _, row := range []struct {
		name  string
		spec  fitup.Spec
		code  joints.FaultCode
		field string
	}{
		{"step negative", fitup.Spec{Step: -1}, joints.FaultRange, "step"},
		{"step too fine", fitup.Spec{Step: 0.001}, joints.FaultRange, "step"},
		{"step past the end", fitup.Spec{Step: 6}, joints.FaultRange, "step"},
		{"step not a number", fitup.Spec{Step: nan}, joints.FaultRange, "step"},
		{"grid negative", fitup.Spec{Grid: -1}, joints.FaultRange, "grid"},
		{"throat negative", fitup.Spec{Throat: -1}, joints.FaultRange, "throat"},
		{"throat too large", fitup.Spec{Throat: 151}, joints.FaultRange, "throat"},
		{"throat not a number", fitup.Spec{Throat: nan}, joints.FaultRange, "throat"},
		{"no such weld", fitup.Spec{Weld: "othr"}, joints.FaultUnknown, "weld"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, _, err := fitup.NewTable(in, row.spec)
			if fs := joints.AsFaults(err); len(fs) != 1 || !fs.Has(row.code, row.field) {
				t.Errorf("faults %v, want one of %s, %s", err, row.field, row.code)
			}
		})
	}
	_, _, err := fitup.Analyse(in, fitup.Options{Samples: -1, Require: fitup.Requirement{Throat: nan}})
	if fs := joints.AsFaults(err); len(fs) != 2 || !fs.Has(joints.FaultRange, "samples") || !fs.Has(joints.FaultRange, "throat") {
		t.Errorf("faults of an analysis: %v", err)
	}
	if _, _, err = fitup.Analyse(in, fitup.Options{Require: fitup.Requirement{Weld: "x"}}); !joints.AsFaults(err).Has(joints.FaultUnknown, "weld") {
		t.Errorf("no such weld: %v", err)
	}
}

// The compact table is safe: for any opening, the leg on its line is at least
// the one that the full table asks for, however many rows there are.
func TestCompactIsSafe(t *testing.T) {
	in := tee(num(0.3), num(4))
	in.Welds["other"] = map[string]joints.Value{"leg": num(3)}
	fine, _, err := fitup.NewTable(in, fitup.Spec{Step: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	for most := 1; most <= 14; most++ {
		c, ok := fitup.Compact(fine, most)
		if !ok || len(c.Rows) > most || c.Closed != 0 {
			t.Fatalf("%d rows: %+v", most, c)
		}
		if last := c.Rows[len(c.Rows)-1].UpTo; last != fine.End {
			t.Errorf("%d rows end at %v, want %v", most, last, fine.End)
		}
		nominal := 0
		for i, row := range c.Rows {
			if !row.Nominal {
				continue
			}
			nominal++
			if row.UpTo < 0.3 || i > 0 && c.Rows[i-1].UpTo >= 0.3 {
				t.Errorf("%d rows: the plan of 0.3 is not on the line up to %v", most, row.UpTo)
			}
		}
		if nominal != 1 {
			t.Errorf("%d rows: %d carry the plan", most, nominal)
		}
		for _, r := range fine.Rows {
			line := 0
			for c.Rows[line].UpTo < r.Opening {
				line++
			}
			for i, w := range r.Welds {
				if got := c.Rows[line].Legs[i][0]; got < w.Legs[0].Value {
					t.Errorf("%d rows, gap %v: leg %v, needed %v", most, r.Opening, got, w.Legs[0].Value)
				}
			}
		}
	}
}

// A table ends for the bench where no leg is possible.
func TestCompactEndsWhereNoLegIsPossible(t *testing.T) {
	in := joints.Input{Kind: "lap",
		Plates: map[string]joints.PlateInput{"lower": {Thickness: num(6)}, "upper": {Thickness: num(4)}},
		Values: map[string]joints.Value{"overlap": num(30)},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": num(4), "face": {Text: "concave", Choice: "concave"}, "rise": num(0.3)}}}
	table, _, err := fitup.NewTable(in, fitup.Spec{Throat: 3.2})
	if err != nil {
		t.Fatal(err)
	}
	if table.Rows[0].Welds[0].Impossible == "" || table.Rows[0].Complete {
		t.Fatalf("a 4 mm edge has no throat of 3.2: %+v", table.Rows[0].Welds[0])
	}
	if _, ok := fitup.Compact(table, 5); ok {
		t.Error("a table without a leg has nothing for the bench")
	}
}

// A gap of 0.2 ±0.5 does not become negative.
func TestSpreadStopsAtTheLimit(t *testing.T) {
	a, _, err := fitup.Analyse(tee(tol(0.2, 0.5, -0.5), num(4)), fitup.Options{Samples: 100})
	if err != nil {
		t.Fatal(err)
	}
	if want := 4 / math.Sqrt2; math.Abs(float64(a.WorstHigh)-want) > 1e-9 {
		t.Errorf("best throat %v, want %v", a.WorstHigh, want)
	}
}

// The tolerance of a weld apart is no part of this one's spread.
func TestOtherWeldsStayOut(t *testing.T) {
	in := tee(tol(0.5, 0.5, -0.5), num(3))
	in.Welds["other"] = map[string]joints.Value{"leg": tol(5, 1, -1)}
	a, ok, err := fitup.Analyse(in, fitup.Options{Samples: 100})
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	if a.Weld != "arrow" || len(a.Contributions) != 1 || a.Contributions[0].Name != "gap" {
		t.Errorf("weld %s, contributions %+v", a.Weld, a.Contributions)
	}
}

// From the opening where a leg is no longer possible the members must be
// brought together.
func TestCompactSaysWhereToClose(t *testing.T) {
	row := func(opening, leg geometry.Length) fitup.Row {
		w := fitup.WeldRow{Weld: "arrow", Impossible: "the leg runs past the edge"}
		if leg > 0 {
			w = fitup.WeldRow{Weld: "arrow", Lay: [2]joints.Opt{joints.Some(leg), joints.Some(leg)}}
		}
		return fitup.Row{Opening: opening, Nominal: opening == 0.5, Welds: []fitup.WeldRow{w}}
	}
	table := &fitup.Table{Parameter: "gap", Throats: []fitup.Throat{{Weld: "arrow", Legs: true}},
		Rows: []fitup.Row{row(0, 4), row(0.5, 4), row(0.7, 4), row(1, 4.5), row(1.5, 0), row(2, 0)}}
	got, ok := fitup.Compact(table, 6)
	want := fitup.CompactTable{Parameter: "gap", Welds: []string{"arrow"}, Closed: 1, Rows: []fitup.CompactRow{
		{UpTo: 0.7, Nominal: true, Legs: [][2]geometry.Length{{4, 4}}, WholeEdge: [][2]bool{{}}},
		{UpTo: 1, Legs: [][2]geometry.Length{{4.5, 4.5}}, WholeEdge: [][2]bool{{}}},
	}}
	if d := cmp.Diff(want, got); d != "" || !ok {
		t.Errorf("compact table (-want +got):\n%s", d)
	}
}

func BenchmarkNewTable(b *testing.B) {
	in := tee(num(0.3), num(4))
	in.Welds["other"] = map[string]joints.Value{"leg": num(3)}
	for b.Loop() {
		if _, _, err := fitup.NewTable(in, fitup.Spec{}); err != nil {
			b.Fatal(err)
		}
	}
}

// No numbers make a table or an analysis panic, and every leg to lay is a leg.
func FuzzNewTable(f *testing.F) {
	f.Add(0.3, 4.0, 3.0, 0.5, 0.0, 0.3)
	f.Add(5.0, 150.0, 0.2, 0.05, 150.0, 5.0)
	f.Fuzz(func(t *testing.T, gap, leg, stem, step, throat, spread float64) {
		in := tee(tol(gap, spread, -spread), num(leg))
		in.Plates["stem"] = joints.PlateInput{Thickness: num(stem)}
		table, ok, err := fitup.NewTable(in, fitup.Spec{Step: geometry.Length(step), Throat: geometry.Length(throat)})
		if err != nil || !ok {
			return
		}
		for _, row := range table.Rows {
			for _, w := range row.Welds {
				if w.Lay[0].Present && !(w.Lay[0].Value >= w.Legs[0].Value-1e-6 && w.Lay[0].Value >= geometry.Length(leg)-1e-6) {
					t.Fatalf("gap %v: leg to lay %v for %v, planned %v", row.Opening, w.Lay[0].Value, w.Legs[0].Value, leg)
				}
			}
		}
		a, ok, err := fitup.Analyse(in, fitup.Options{Samples: 50})
		if err == nil && ok && (a.WorstLow > a.Nominal || a.WorstHigh < a.Nominal || a.ShareShort < 0 || a.ShareShort > 1) {
			t.Fatalf("%+v", a)
		}
	})
}
