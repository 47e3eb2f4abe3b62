package heat

import (
	"math"
	"slices"
	"testing"

	"fay/geometry"
	"fay/joints/heat/field"
)

func mustField(tb testing.TB, in Input, p FieldParams) *Field {
	tb.Helper()
	f, err := NewField(in, p)
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

// TestFieldAgainstStudy compares root power, toes and fused areas of tees and
// laps with finite elements of another program on another mesh.
func TestFieldAgainstStudy(t *testing.T) {
	worst := map[string]float64{}
	n := 0
	for i, c := range readCSV(t, "study2.csv.gz") {
		if c["joint"] == "corner" || i%7 != 0 {
			continue
		}
		in := teeInput(t, c["metal"], c.num("t1"), c.num("t2"), c.num("leg"), c.num("v"))
		if c["joint"] == "lap" {
			in = lapInput(t, c["metal"], c.num("t1"), c.num("t2"), c.num("leg"), 600, c.num("v"))
		}
		p := FieldParams{Faces: FacesBonded}
		if c["slit"] == "1" {
			p.Faces = FacesOpen
		}
		if c["joint"] == "lap" && c["slit"] == "0" {
			continue // bonded over an endless overlap there
		}
		f := mustField(t, in, p)
		pic, err := f.At(c.num("q_fe"), nil)
		if err != nil {
			t.Fatal(err)
		}
		note := func(what string, want, got, scale float64) {
			worst[what] = max(worst[what], math.Abs(got-want)/scale)
		}
		n++
		rise := metal(c["metal"]).Liquidus - 20
		note("root", c.num("q_fe"), f.RootPower(), c.num("q_fe"))
		note("toe 1", c.num("toe1"), pic.Points[2].Peak, rise)
		note("toe 2", c.num("toe2"), pic.Points[3].Peak, rise)
		note("fused 1", c.num("A1"), pic.Melted[0].Area, c.num("A1")+c.num("A2")+c.num("A3"))
		note("fused 2", c.num("A2"), pic.Melted[1].Area, c.num("A1")+c.num("A2")+c.num("A3"))
		if x := f.RootPower() / c.num("q_fe"); math.Abs(x-1) > 0.02 {
			t.Errorf("%v: root power %v, %+.1f %%", c, f.RootPower(), 100*(x-1))
		}
	}
	t.Logf("%d joints, worst differences: %v", n, worst)
	if n < 15 || worst["toe 1"] > 0.02 || worst["toe 2"] > 0.02 {
		t.Errorf("%d joints, worst differences %v", n, worst)
	}
}

func TestBalance(t *testing.T) {
	for i, c := range readCSV(t, "aim.csv") {
		if i%7 != 0 {
			continue
		}
		in := teeInput(t, c["metal"], c.num("t1"), c.num("t2"), c.num("leg"), c.num("v"))
		if c["joint"] == "lap" {
			in = lapInput(t, c["metal"], c.num("t1"), c.num("t2"), c.num("leg"), 600, c.num("v"))
		}
		a, err := mustField(t, in, FieldParams{}).Balance()
		if err != nil {
			t.Fatal(err)
		}
		if !a.Found || math.Abs(a.Shift+0.5-c.num("aim_balanced")) > 0.015 {
			t.Errorf("%v: got aim %v", c, a.Shift+0.5)
		}
		within(t, "toes", a.Toes[0], a.Toes[1], 1e-4)
		within(t, "power", c.num("q_all_bal"), max(a.Root, a.Toes[0]), 0.02)
	}
}

// TestWindow: the upper corner of a lap is lost before the root melts, or, with
// the leg as high as the plate, before both toes are molten; a tee of equal
// plates has a window.
func TestWindow(t *testing.T) {
	lap := mustField(t, lapInput(t, "al6xxx", 18, 3, 2.7, 200, 4), FieldParams{})
	if !lap.Window.Empty || len(lap.Window.Advice) == 0 {
		t.Errorf("lap: want an empty window with advice, got %+v", lap.Window)
	}
	full := mustField(t, lapInput(t, "steel", 18, 3, 3, 200, 4), FieldParams{})
	if full.Window.Empty || !full.Window.Cold || len(full.Window.Advice) == 0 {
		t.Errorf("lap with a full leg: want a cold toe with advice, got %+v", full.Window)
	}
	tee := mustField(t, teeInput(t, "steel", 6, 6, 5, 4), FieldParams{})
	if tee.Window.Empty || tee.Window.Edge <= tee.Window.Root {
		t.Errorf("tee: want a window, got %+v", tee.Window)
	}
}

func TestPicture(t *testing.T) {
	f := mustField(t, teeInput(t, "al6xxx", 10, 5, 5, 4), FieldParams{})
	q := f.RootPower()
	small, err := f.At(q, f.Levels())
	if err != nil {
		t.Fatal(err)
	}
	if got := small.Points[0].Peak; math.Abs(got-652) > 1e-6 || small.Points[0].State != Molten {
		t.Errorf("root at its power: want 652 °C, molten, got %v, %v", got, small.Points[0].State)
	}
	big, err := f.At(2*q-0, f.Levels())
	if err != nil {
		t.Fatal(err)
	}
	for i := range small.Points {
		if want, got := 2*(small.Points[i].Peak-20), big.Points[i].Peak-20; math.Abs(want-got) > 1e-9*want {
			t.Errorf("%s: the rise is linear in power: want %v, got %v", small.Points[i].Name, want, got)
		}
	}
	if len(small.Isotherms) != 4 {
		t.Fatalf("want 4 isotherms, got %d", len(small.Isotherms))
	}
	for i, iso := range small.Isotherms {
		if len(iso.Lines) == 0 && !iso.Beyond {
			t.Errorf("isotherm %v has no line", iso.Level)
		}
		if big.Isotherms[i].Reach[0] < iso.Reach[0] || big.Isotherms[i].Reach[1] < iso.Reach[1] {
			t.Errorf("isotherm %v draws back with more power", iso.Level)
		}
		for _, l := range iso.Lines {
			for _, p := range l {
				if !p.IsFinite() {
					t.Fatalf("isotherm %v has a point %v", iso.Level, p)
				}
			}
		}
	}
	if small.Melted[0].Area >= big.Melted[0].Area {
		t.Errorf("fused area of the base: %v, with twice the power %v", small.Melted[0].Area, big.Melted[0].Area)
	}
}

// TestPreheatNeverCostsPower on both engines.
func TestPreheatNeverCostsPower(t *testing.T) {
	last, lastField := math.Inf(1), math.Inf(1)
	for _, t0 := range []float64{-20, 20, 60, 120, 300} {
		in := teeInput(t, "al5xxx", 12, 3, 3, 3)
		in.Members = slices.Clone(in.Members)
		in.Members[0].Preheat = t0
		p := answer(t, in).Root.Net
		q := mustField(t, in, FieldParams{Detail: 0.5}).RootPower()
		if p > last || q > lastField {
			t.Errorf("base at %v °C: %v and %v W after %v and %v", t0, p, q, last, lastField)
		}
		last, lastField = p, q
	}
}

func TestFieldFaults(t *testing.T) {
	in := teeInput(t, "al6xxx", 10, 5, 5, 4)
	for name, p := range map[string]FieldParams{
		"faces":       {Faces: "loose"},
		"conductance": {Faces: FacesContact},
		"aim":         {AimShift: math.NaN()},
		"detail":      {Detail: 100},
		"nodes":       {NodeLimit: 50},
	} {
		if _, err := NewField(in, p); err == nil {
			t.Errorf("%s: want a fault", name)
		}
	}
	in.Members = slices.Clone(in.Members)
	in.Members[0].FreeEdges = []geometry.Length{4}
	if _, err := NewField(in, FieldParams{}); err == nil {
		t.Error("free edge inside the weld: want a fault")
	}
}

// TestFreeEdgeHeats: a plate that ends nearby needs less power, on both
// engines and by about as much.
func TestFreeEdgeHeats(t *testing.T) {
	in := teeInput(t, "al6xxx", 6, 4, 4, 4)
	near := in
	near.Members = slices.Clone(in.Members)
	near.Members[0].FreeEdges = []geometry.Length{10}
	a, b := mustField(t, in, FieldParams{}).RootPower(), mustField(t, near, FieldParams{}).RootPower()
	c, d := answer(t, in).Root.Net, answer(t, near).Root.Net
	t.Logf("field %.0f W, with an edge at 10 mm %.0f W; closed form %.0f and %.0f W", a, b, c, d)
	if b >= a || d >= c || math.Abs(b/a-d/c) > 0.05 {
		t.Errorf("field %v to %v W, closed form %v to %v W", a, b, c, d)
	}
}

func longShare(t *testing.T, j *joint, l *layout) []float64 {
	t.Helper()
	m, err := field.NewMesh(l.params)
	if err != nil {
		t.Fatal(err)
	}
	share, err := m.LongRunShare(j.travel(l.aim))
	if err != nil {
		t.Fatal(err)
	}
	return share
}

// A watched place is a node of the mesh, and not the nearest one to it.
func TestWatchedPlacesAreNodes(t *testing.T) {
	for _, detail := range []float64{0.5, 0.8, 1, 1.4} {
		f := mustField(t, teeInput(t, "al6xxx", 10, 5, 5, 4), FieldParams{Detail: detail})
		for name, want := range map[string]geometry.Point{"base root": {}, "base back": {Y: -10}, "stem back": {X: -5}, "base toe": {X: 5}, "stem toe": {Y: 5}} {
			i := slices.IndexFunc(f.Points, func(p Point) bool { return p.Name == name })
			if i < 0 {
				t.Errorf("%s is not watched", name)
			} else if got := f.Points[i].At; got.Dist(want) > 1e-3 {
				t.Errorf("detail %v: %s: want %v, got %v", detail, name, want, got)
			}
		}
	}
}
