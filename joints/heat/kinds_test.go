package heat

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

// sound fails on any number in v, however deep, that is not finite.
func sound(t *testing.T, where string, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s is %v", where, x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				sound(t, where+"."+v.Type().Field(i).Name, v.Field(i))
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			sound(t, where, v.Index(i))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			sound(t, where, v.Elem())
		}
	}
}

func inputOf(s *joints.Section, metals []string, rng *rand.Rand) Input {
	in := Input{Section: s, Arc: arcFor(1 + 9*rng.Float64())}
	for i := range s.Members {
		in.Members = append(in.Members, Member{Material: metal(metals[i%len(metals)]), Preheat: Room, Mass: 2})
	}
	in.Length, in.Arc.Amps, in.Arc.Machine = 300, 150, 200
	return in
}

// TestEveryKind: every kind of joint gets an answer and a field, with nothing
// in them that is not a number.
func TestEveryKind(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(7, uint64(i)))
			for n := range 12 {
				s, _, ok := jointstest.Section(k, rng)
				if !ok {
					t.Skip("no random joint of this kind can be built")
				}
				metals := []string{"al5xxx", "al5xxx"}
				if n%4 == 3 {
					metals = []string{"steel", "ss304"}
				}
				for w := range s.Welds {
					in := inputOf(&s, metals, rng)
					in.Weld = s.Welds[w].ID
					if s.Welds[w].Kind == joints.PlugWeld {
						if _, err := Answer(in); !joints.AsFaults(err).Has(joints.FaultUnfit, "weld") {
							t.Errorf("plug: want a fault, got %v", err)
						}
						continue
					}
					r, err := Answer(in)
					if err != nil {
						t.Fatalf("%s: %v", in.Weld, err)
					}
					sound(t, k.Name, reflect.ValueOf(r))
					shares, err := AimShares(in)
					if want := [2]AimShare{{r.Members[0].Name, r.Members[0].AimShare}, {r.Members[1].Name, r.Members[1].AimShare}}; err != nil || shares != want {
						t.Errorf("aim shares: want those of the answer, %v, got %v, %v", want, shares, err)
					}
					if r.Root.Net <= 0 || math.Abs(r.Members[0].AimShare+r.Members[1].AimShare-1) > 1e-12 {
						t.Errorf("%+v", r)
					}
					if n > 3 || w > 0 {
						continue
					}
					f, err := NewField(in, FieldParams{Detail: 0.6})
					if err != nil {
						t.Errorf("%s: %v", in.Weld, err)
						continue
					}
					p, err := f.At(f.RootPower(), f.Levels())
					if err != nil {
						t.Errorf("%s: %v", in.Weld, err)
					}
					sound(t, k.Name, reflect.ValueOf(p))
					sound(t, k.Name, reflect.ValueOf(f.Window))
					t.Logf("%s %s: %.1f/%.1f mm, root %.0f W by the field, %.0f W closed (%.2f), %d nodes", k.Name, s.Welds[w].Kind,
						r.Members[0].Thickness, r.Members[1].Thickness, f.RootPower(), r.Root.Net, r.Root.Net/f.RootPower(), f.Nodes())
				}
			}
		})
	}
}

func buttInput(tb testing.TB, left, right float64) Input {
	tb.Helper()
	s, err := joints.NewButt(joints.Butt{Left: plate(left), Right: plate(right), RootOpening: 1, Arrow: &joints.Groove{}})
	if err != nil {
		tb.Fatal(err)
	}
	m := Member{Material: metal("al6xxx"), Preheat: Room}
	return Input{Section: &s, Members: []Member{m, m}, Arc: arcFor(4)}
}

// TestEqualPlatesSplitEvenly: a butt of equal plates is even in every way, and
// turning the joint over turns the answer over.
func TestEqualPlatesSplitEvenly(t *testing.T) {
	r := answer(t, buttInput(t, 5, 5))
	for name, got := range map[string]float64{"index": r.Index.Value, "thin": r.Index.Thin, "thick": r.Index.Thick,
		"share": 2 * r.Members[0].AimShare, "long run": 2 * r.Members[0].LongRun} {
		within(t, name, 1, got, 1e-9)
	}
	if r.Index.Class != Even || r.Index.Favour != "" {
		t.Errorf("want even, got %s %s", r.Index.Class, r.Index.Favour)
	}
	a, b := answer(t, buttInput(t, 8, 4)), answer(t, buttInput(t, 4, 8))
	within(t, "index of the mirror image", 1/a.Index.Value, b.Index.Value, 1e-9)
	within(t, "root power of the mirror image", a.Root.Net, b.Root.Net, 1e-9)
	if a.Index.Favour != "left" || b.Index.Favour != "right" {
		t.Errorf("favour: want left and right, got %q and %q", a.Index.Favour, b.Index.Favour)
	}
}

// TestLaws: laws of the closed form over random tees.
func TestLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 60 {
		base, stem := 1.5+20*rng.Float64(), 1.5+8*rng.Float64()
		leg := 1.5 + rng.Float64()*min(base, stem)
		speed := 1 + 9*rng.Float64()
		in := teeInput(t, []string{"al6xxx", "steel", "ss304"}[rng.IntN(3)], base, stem, leg, speed)
		r := answer(t, in)
		thicker := answer(t, teeInput(t, in.Members[0].Material.Name, base*1.2, stem, leg, speed))
		if thicker.Index.Value < r.Index.Value*(1-1e-9) || thicker.Root.Net < r.Root.Net*(1-1e-9) {
			t.Errorf("a thicker base asks for more: %v and %v", r.Root, thicker.Root)
		}
		if lo, hi := min(r.Index.Thin, r.Index.Thick), max(r.Index.Thin, r.Index.Thick); r.Index.Value < lo*0.999 || r.Index.Value > hi*1.001 {
			t.Errorf("base %v, stem %v: index %v outside %v and %v", base, stem, r.Index.Value, lo, hi)
		}
		for _, s := range []Spread{r.Root.Arc, r.Root.Amps, r.Root.Model} {
			if !(s.Low <= s.Nominal && s.Nominal <= s.High) {
				t.Errorf("spread %+v", s)
			}
		}
		line := in.Arc.LoadLine
		within(t, "load line", r.Root.Arc.Nominal, r.Root.Amps.Nominal*(line.Base+line.Slope*r.Root.Amps.Nominal), 1e-9)
		hot := in
		hot.Members = []Member{in.Members[0], in.Members[1]}
		hot.Members[0].Preheat, hot.Members[1].Preheat = 100, 100
		if answer(t, hot).Root.Net > r.Root.Net {
			t.Error("preheat costs power")
		}
	}
}

// TestFieldOfTwoMetals compares the field of dissimilar tees and laps with
// finite elements, and its long-run share with the closed form.
func TestFieldOfTwoMetals(t *testing.T) {
	for i, c := range readCSV(t, "dissim.csv") {
		in := teeInput(t, c["base"], c.num("t1"), c.num("t2"), c.num("leg"), 4)
		if c["joint"] == "lap" {
			in = lapInput(t, c["base"], c.num("t1"), c.num("t2"), c.num("leg"), 600, 4)
		}
		in.Members[1].Material = metal(c["stem"])
		filler := metal(c["stem"])
		in.Filler = &filler
		j, err := in.read()
		if err != nil {
			t.Fatal(err)
		}
		p := FieldParams{}
		if err := p.check(); err != nil {
			t.Fatal(err)
		}
		if c["joint"] == "T" {
			l, err := j.lay(p)
			if err != nil {
				t.Fatal(err)
			}
			share := longShare(t, j, l)
			if got, want := share[0]/(share[0]+share[1]), c.num("split_inf_fe"); math.Abs(got-want) > 0.001 {
				t.Errorf("%s on %s: long-run share of the base: want %v, got %v", c["stem"], c["base"], want, got)
			}
			if got, want := share[0]/(share[0]+share[1]), j.longRun()[0]; math.Abs(got-want) > 0.001 {
				t.Errorf("%s on %s: long-run share: closed form %v, field %v", c["stem"], c["base"], want, got)
			}
		}
		if i%13 != 1 {
			continue
		}
		f := mustField(t, in, p)
		within(t, c["joint"]+" "+c["stem"]+" on "+c["base"]+", root K/W", c.num("K_per_W_fe"), f.Points[0].Rise, 0.015)
	}
}

func FuzzAnswer(f *testing.F) {
	f.Add(10.0, 5.0, 5.0, 4.0, 20.0, 1.5, 0.0, 170.0, 652.0)
	f.Add(0.2, 300.0, 0.3, 100.0, -60.0, 20.0, 0.5, 1.0, 3500.0)
	f.Add(math.NaN(), 1.0, 1.0, math.Inf(1), 1e300, -1.0, 1e-300, 40.0, 1520.0)
	f.Fuzz(func(t *testing.T, base, stem, leg, speed, preheat, spot, edge, k, liquidus float64) {
		s, err := joints.NewTee(joints.Tee{Base: plate(base), Stem: plate(stem), Arrow: joints.EqualFillet(geometry.Length(leg))})
		if err != nil {
			return
		}
		m := Member{Material: metal("al6xxx"), Preheat: preheat}
		m.Material.Conductivity, m.Material.Liquidus, m.Material.Solidus = k, liquidus, liquidus
		in := Input{Section: &s, Members: []Member{m, m}, Arc: arcFor(speed)}
		in.Arc.Spot = geometry.Length(spot)
		if edge != 0 {
			in.Members[0].FreeEdges = []geometry.Length{geometry.Length(edge)}
		}
		r, err := Answer(in)
		if err != nil {
			if joints.AsFaults(err) == nil {
				t.Fatalf("not faults: %v", err)
			}
			return
		}
		sound(t, "result", reflect.ValueOf(r))
		fd, err := NewField(in, FieldParams{Detail: 0.4, NodeLimit: 3000})
		if err != nil {
			if joints.AsFaults(err) == nil {
				t.Fatalf("not faults: %v", err)
			}
			return
		}
		sound(t, "window", reflect.ValueOf(fd.Window))
	})
}

func BenchmarkAnswer(b *testing.B) {
	for _, metal := range []string{"steel", "al6xxx"} { // steel has a cooling time too
		in := teeInput(b, metal, 10, 5, 5, 4)
		b.Run(metal, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Answer(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkAimShares(b *testing.B) {
	in := teeInput(b, "al6xxx", 10, 5, 5, 4)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := AimShares(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewField(b *testing.B) {
	in := teeInput(b, "al6xxx", 10, 5, 5, 4)
	b.ReportAllocs()
	for b.Loop() {
		f, err := NewField(in, FieldParams{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := f.At(f.RootPower(), f.Levels()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBalance(b *testing.B) {
	f := mustField(b, teeInput(b, "al6xxx", 10, 5, 5, 4), FieldParams{})
	for b.Loop() {
		if _, err := f.Balance(); err != nil {
			b.Fatal(err)
		}
	}
}
