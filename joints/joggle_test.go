package joints_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

func mustLap(t *testing.T, p joints.Lap) joints.Section {
	t.Helper()
	s, err := joints.NewLap(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The notch three ways: a rectangle and a triangle, the edge integral of the
// model, and a polygon library on the outline.
func TestNotchAreasThreeWays(t *testing.T) {
	const tu, gap = 2.0, 0.4
	segment := func(w, h float64) float64 {
		r := (w*w/4 + h*h) / (2 * h)
		half := math.Asin(w / 2 / r)
		return r*r*half - w/2*(r-h)
	}
	for name, tt := range map[string]struct {
		p    joints.Lap
		want float64
	}{
		"usual ramp":   {joints.Lap{Notch: &joints.Notch{}}, tu * tu / 2},
		"gap":          {joints.Lap{Gap: gap, Notch: &joints.Notch{}}, (tu + gap) * (tu + gap) / 2},
		"long ramp":    {joints.Lap{JoggleLength: joints.Some(9), RootOpening: 1.5, Notch: &joints.Notch{}}, tu * (1.5 + 4.5)},
		"square step":  {joints.Lap{JoggleLength: joints.Some(0), RootOpening: 1.5, Gap: gap, Notch: &joints.Notch{}}, (tu + gap) * 1.5},
		"arc cap":      {joints.Lap{RootOpening: 1, Notch: &joints.Notch{Cap: 0.5}}, tu + tu*tu/2 + segment(3, 0.5)},
		"parabola cap": {joints.Lap{RootOpening: 1, Notch: &joints.Notch{Cap: 0.5, CapShape: joints.CapParabola}}, tu + tu*tu/2 + 2.0/3*3*0.5},
	} {
		t.Run(name, func(t *testing.T) {
			p := tt.p
			p.Lower, p.Upper, p.Overlap, p.Joggle = plate(3), plate(tu), 20, joints.JoggleLower
			s := mustLap(t, p)
			w := s.Welds[0]
			if d := cmp.Diff(tt.want, w.DepositedArea, cmpopts.EquateApprox(0, 1e-12)); d != "" {
				t.Errorf("deposited area: %s", d)
			}
			if d := cmp.Diff(tt.want, polygonArea(t, w.Profile), cmpopts.EquateApprox(0, 1e-4)); d != "" {
				t.Errorf("polygon area: %s", d)
			}
			got := [3]float64{float64(w.TheoreticalThroat), float64(w.EffectiveThroat), float64(w.ActualThroat)}
			if d := cmp.Diff([3]float64{tu + float64(p.Gap), tu, tu}, got, exact); d != "" {
				t.Errorf("throats: %s", d)
			}
		})
	}
}

// Outer faces are flush beyond the overlap, and the ramp is as thick as the
// plate.
func TestJoggledPlate(t *testing.T) {
	p := joints.Lap{Lower: plate(3), Upper: plate(2), Overlap: 20, Gap: 0.3, Joggle: joints.JoggleLower, JoggleLength: joints.Some(5), Notch: &joints.Notch{}}
	s := mustLap(t, p)
	lower, upper := s.Members[0].Outline, s.Members[1].Outline
	if d := lower.Bounds().Max.Y - upper.Bounds().Max.Y; math.Abs(d) > 1e-12 {
		t.Errorf("upper faces are %v mm apart", d)
	}
	// The parallelogram of the ramp against the level stretches: all of it is
	// as long as its middle line says.
	ramp := math.Hypot(5, 2.3)
	flat := lower.Bounds().Width() - 5
	if d := cmp.Diff(3*(ramp+flat), lower.Area(), cmpopts.EquateApprox(0, 1e-9)); d != "" {
		t.Error(d)
	}
	p.Joggle, p.Notch, p.Arrow = joints.JoggleUpper, nil, joints.EqualFillet(2)
	s = mustLap(t, p)
	if d := s.Members[0].Outline.Bounds().Min.Y - s.Members[1].Outline.Bounds().Min.Y; math.Abs(d) > 1e-12 {
		t.Errorf("lower faces are %v mm apart", d)
	}
}

// A joggled upper plate is a joggled lower one turned half round; what the
// joint does on its other side is the same without a joggle.
func TestJoggleTurnedHalfRound(t *testing.T) {
	k, _ := joints.LookupKind("lap")
	r := rand.New(rand.NewPCG(5, 5))
	count := 0
	for count < 300 {
		in := jointstest.Random(k, r)
		if in.Values["joggle"].Choice != string(joints.JoggleUpper) || in.Welds["notch"] == nil || in.Welds["other"] != nil {
			continue
		}
		up, err := joints.Build(in)
		if err != nil {
			continue
		}
		count++
		plain := up.Welds[0]
		turned := in
		turned.Values = map[string]joints.Value{}
		maps.Copy(turned.Values, in.Values)
		turned.Values["joggle"] = joints.Value{Text: "lower", Choice: "lower"}
		turned.Plates = map[string]joints.PlateInput{"lower": in.Plates["upper"], "upper": in.Plates["lower"]}
		turned.Welds = map[string]map[string]joints.Value{"notch": in.Welds["notch"], "other": in.Welds["arrow"]}
		down, err := joints.Build(turned)
		if err != nil {
			t.Fatal(err)
		}
		overlap, gap := in.Values["overlap"].Number, in.Values["gap"].Number
		half := geometry.Scale(-1).Then(geometry.Translate(geometry.Point{X: -overlap, Y: gap}))
		for id, other := range map[string]string{"notch": "notch", "arrow": "other"} {
			a, _ := up.Weld(id)
			b, _ := down.Weld(other)
			if d := half.Apply(a.Centroid).Dist(b.Centroid); d > 1e-9 || !near(a.Area, b.Area, 1e-9) || !near(float64(a.ActualThroat), float64(b.ActualThroat), 1e-9) {
				t.Fatalf("%s: %v mm and %v mm² off its turned self: %+v", id, d, a.Area-b.Area, in)
			}
		}
		nothingOverlaps(t, down)
		for _, f := range down.Welds[1].Feet {
			if d := down.Members[f.Member].Outline.Distance(f.Toe); d > 1e-9 {
				t.Errorf("toe %v is %v mm off the %s", f.Toe, d, down.Members[f.Member].Name)
			}
		}
		// Without the joggle the fillet is the same.
		for _, name := range []string{"joggle", "joggle-length", "root-opening"} {
			delete(turned.Values, name)
		}
		turned.Plates, turned.Welds = in.Plates, map[string]map[string]joints.Value{"arrow": in.Welds["arrow"]}
		bare, err := joints.Build(turned)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(numbersOf(bare.Welds[0]), numbersOf(plain), exact); d != "" {
			t.Fatal(d)
		}
		if t.Failed() {
			t.Fatalf("first broken by %+v", in)
		}
	}
}

func TestJoggleRefusals(t *testing.T) {
	for name, tt := range map[string]struct {
		p     joints.Lap
		code  joints.FaultCode
		field string
	}{
		"notch without joggle":   {joints.Lap{Notch: &joints.Notch{}}, joints.FaultConflict, "welds.notch"},
		"opening without joggle": {joints.Lap{RootOpening: 1, Arrow: joints.EqualFillet(2)}, joints.FaultConflict, "root-opening"},
		"ramp without joggle":    {joints.Lap{JoggleLength: joints.Some(4), Arrow: joints.EqualFillet(2)}, joints.FaultConflict, "joggle-length"},
		"fillet in the joggle":   {joints.Lap{Joggle: joints.JoggleLower, Arrow: joints.EqualFillet(2)}, joints.FaultConflict, "welds.arrow"},
		"fillet underneath":      {joints.Lap{Joggle: joints.JoggleUpper, Other: joints.EqualFillet(2)}, joints.FaultConflict, "welds.other"},
		"no weld":                {joints.Lap{Joggle: joints.JoggleLower}, joints.FaultMissing, "welds"},
		"unknown joggle":         {joints.Lap{Joggle: "both", Notch: &joints.Notch{}}, joints.FaultUnknown, "joggle"},
		"nothing to fill":        {joints.Lap{Joggle: joints.JoggleLower, JoggleLength: joints.Some(0), Notch: &joints.Notch{}}, joints.FaultGeometry, "joggle-length"},
		"NaN ramp":               {joints.Lap{Joggle: joints.JoggleLower, JoggleLength: joints.Some(geometry.Length(math.NaN())), Notch: &joints.Notch{}}, joints.FaultNotNumber, "joggle-length"},
		"cap too high":           {joints.Lap{Joggle: joints.JoggleLower, Notch: &joints.Notch{Cap: 1.5}}, joints.FaultFace, "welds.notch.cap"},
		"melts through":          {joints.Lap{Joggle: joints.JoggleLower, Notch: &joints.Notch{Fusion: [2]geometry.Length{3, 0}}}, joints.FaultFusion, "welds.notch.fusion"},
	} {
		t.Run(name, func(t *testing.T) {
			p := tt.p
			p.Lower, p.Upper, p.Overlap = plate(3), plate(2), 20
			_, err := joints.NewLap(p)
			refused(t, err, tt.code, tt.field)
		})
	}
	// A parameter that does not apply is refused once, not by reading and by
	// building both.
	_, err := joints.Build(joints.Input{Kind: "lap",
		Plates: map[string]joints.PlateInput{"lower": {Thickness: joints.Value{Text: "3", Number: 3}}, "upper": {Thickness: joints.Value{Text: "2", Number: 2}}},
		Values: map[string]joints.Value{"overlap": {Text: "20", Number: 20}, "root-opening": {Text: "1", Number: 1}},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": {Text: "2", Number: 2}}}})
	if got := len(joints.AsFaults(err)); got != 1 {
		t.Errorf("want one fault, got %d: %v", got, err)
	}
}

// A tolerance of a fit-up value is printed with its dimension.
func TestRootOpeningTolerance(t *testing.T) {
	want := &joints.Tolerance{Plus: 0.5, Minus: -0.2}
	plates := map[string]joints.PlateInput{}
	for _, name := range []string{"lower", "upper", "base", "round", "left", "right"} {
		plates[name] = joints.PlateInput{Thickness: joints.Value{Text: "6", Number: 6}}
	}
	for kind, choice := range map[string]string{"lap": "notch", "flare-bevel": "arrow", "flare-v": "arrow"} {
		in := joints.Input{Kind: kind, Plates: map[string]joints.PlateInput{}, Values: map[string]joints.Value{
			"root-opening": {Text: "1 +0.5 -0.2", Number: 1, Tolerance: want}},
			Welds: map[string]map[string]joints.Value{choice: {"cap": {Text: "0"}}}}
		k, _ := joints.LookupKind(kind)
		for _, m := range k.Members {
			in.Plates[m.Name] = plates[m.Name]
		}
		if kind == "lap" {
			in.Values["overlap"] = joints.Value{Text: "30", Number: 30}
			in.Values["joggle"] = joints.Value{Text: "lower", Choice: "lower"}
		}
		s, err := joints.Build(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range s.Measures {
			if m.Name == "root opening" {
				if d := cmp.Diff(want, m.Tolerance); d != "" {
					t.Errorf("%s: %s", kind, d)
				}
			}
		}
		if v, _ := measured(t, s, "root opening"); v != 1 {
			t.Errorf("%s: root opening %v", kind, v)
		}
	}
}

func FuzzJoggle(f *testing.F) {
	f.Add(3.0, 2.0, 20.0, 0.3, 5.0, 1.0, 0.3, 0.2, 0.2, true)
	f.Add(3.0, 2.0, 20.0, 0.0, 0.0, 0.0, math.NaN(), math.Inf(1), 0.2, false)
	f.Fuzz(func(t *testing.T, lower, upper, overlap, gap, length, opening, rise, f0, f1 float64, up bool) {
		p := joints.Lap{Lower: plate(lower), Upper: plate(upper), Overlap: geometry.Length(overlap), Gap: geometry.Length(gap),
			Joggle: joints.JoggleLower, JoggleLength: joints.Some(geometry.Length(length)), RootOpening: geometry.Length(opening),
			Notch: &joints.Notch{Cap: geometry.Length(rise), Fusion: [2]geometry.Length{geometry.Length(f0), geometry.Length(f1)}}}
		if up {
			p.Joggle = joints.JoggleUpper
		}
		if s, err := joints.NewLap(p); err == nil {
			sound(t, s)
		}
	})
}
