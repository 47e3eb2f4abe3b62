package joints_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
)

func mustPlug(t *testing.T, p joints.Plug) joints.Section {
	t.Helper()
	s, err := joints.NewPlug(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// measured finds the value of a measure and its unit.
func measured(t *testing.T, s joints.Section, name string) (float64, joints.Unit) {
	t.Helper()
	for _, m := range s.Measures {
		if m.Name == name {
			return m.Value, m.Unit
		}
	}
	t.Fatalf("no measure %q", name)
	return 0, ""
}

// Section and volume of every shape of hole three ways. The section: closed
// form, edge integral, polygon library. The volume: closed form; the right half
// of the model's section turned about the axis by Pappus' theorem, run along the
// straight of a slot; the same of a polygon library's half.
func TestPlugVolumesThreeWays(t *testing.T) {
	const d, g, tu, h = 12.0, 0.5, 5.0, 0.8
	pi := math.Pi
	tan30 := math.Tan(pi / 6)
	frustum := func(r, big, height float64) float64 { return pi / 3 * height * (r*r + r*big + big*big) }
	segment := func(w, h float64) float64 {
		r := (w*w/4 + h*h) / (2 * h)
		half := math.Asin(w / 2 / r)
		return r*r*half - w/2*(r-h)
	}
	mouth, part := 6+tu*tan30, 6+3*tan30
	for name, tt := range map[string]struct {
		p             joints.Plug
		straight      float64
		section, ends float64
	}{
		"hole":            {joints.Plug{}, 0, d * tu, pi * 36 * tu},
		"hole over a gap": {joints.Plug{Gap: g}, 0, d * (tu + g), pi * 36 * (tu + g)},
		"hole, partial":   {joints.Plug{Arrow: joints.PlugFill{Fill: joints.Some(3)}}, 0, d * 3, pi * 36 * 3},
		"countersunk":     {joints.Plug{Countersink: deg(60)}, 0, (6 + mouth) * tu, frustum(6, mouth, tu)},
		"countersunk, partial, gap": {joints.Plug{Countersink: deg(60), Gap: g, Arrow: joints.PlugFill{Fill: joints.Some(3)}}, 0,
			(6+part)*3 + d*g, frustum(6, part, 3) + pi*36*g},
		"arc cap":              {joints.Plug{Arrow: joints.PlugFill{Cap: h}}, 0, d*tu + segment(d, h), pi*36*tu + pi*h/6*(3*36+h*h)},
		"parabola cap":         {joints.Plug{Arrow: joints.PlugFill{Cap: h, CapShape: joints.CapParabola}}, 0, d*tu + 2.0/3*d*h, pi*36*tu + pi*36*h/2},
		"slot":                 {joints.Plug{SlotLength: 40}, 28, d * tu, pi * 36 * tu},
		"slot as long as wide": {joints.Plug{SlotLength: d}, 0, d * tu, pi * 36 * tu},
		"countersunk slot, cap, gap": {joints.Plug{SlotLength: 40, Countersink: deg(60), Gap: g, Arrow: joints.PlugFill{Cap: h}}, 28,
			(6+mouth)*tu + d*g + segment(2*mouth, h), frustum(6, mouth, tu) + pi*36*g + pi*h/6*(3*mouth*mouth+h*h)},
	} {
		t.Run(name, func(t *testing.T) {
			p := tt.p
			p.Lower, p.Upper, p.Diameter = plate(6), plate(tu), d
			s := mustPlug(t, p)
			w := s.Welds[0]
			if d := cmp.Diff(tt.section, w.DepositedArea, cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("section: %s", d)
			}
			if d := cmp.Diff(tt.section, polygonArea(t, w.Profile), cmpopts.EquateApprox(0, 1e-4)); d != "" {
				t.Errorf("section by polygon: %s", d)
			}
			volume, unit := measured(t, s, "plug volume")
			want := tt.ends + tt.section*tt.straight
			if d := cmp.Diff(want, volume, cmpopts.EquateApprox(1e-12, 0)); d != "" || unit != joints.UnitMM3 {
				t.Errorf("volume in %s: %s", unit, d)
			}
			halves := w.Profile.Cut(geometry.HalfPlane{N: geometry.Point{X: 1}})
			if len(halves) != 1 {
				t.Fatalf("want one half of the section, got %d", len(halves))
			}
			half := halves[0]
			pappus := 2*pi*half.Centroid().X*half.Area() + w.Profile.Area()*tt.straight
			if d := cmp.Diff(want, pappus, cmpopts.EquateApprox(1e-12, 0)); d != "" {
				t.Errorf("volume by the centroid's path: %s", d)
			}
			poly := polygon(half)
			c, _ := poly.Centroid().XY()
			if d := cmp.Diff(want, 2*pi*c.X*poly.Area()+2*poly.Area()*tt.straight, cmpopts.EquateApprox(1e-5, 0)); d != "" {
				t.Errorf("volume by polygon: %s", d)
			}
			faying, unit := measured(t, s, "faying area")
			if d := cmp.Diff(pi*36+d*tt.straight, faying, exact); d != "" || unit != joints.UnitMM2 {
				t.Errorf("faying area in %s: %s", unit, d)
			}
		})
	}
}

// The throat of a plug is the depth of filling; gap and cap add none to it.
func TestPlugThroats(t *testing.T) {
	w := mustPlug(t, joints.Plug{Lower: plate(6), Upper: plate(5), Diameter: 12, Gap: 0.5, Arrow: joints.PlugFill{Fill: joints.Some(3), Cap: 0.4}}).Welds[0]
	got := [3]float64{float64(w.TheoreticalThroat), float64(w.EffectiveThroat), float64(w.ActualThroat)}
	if d := cmp.Diff([3]float64{3, 3, 3.9}, got, exact); d != "" {
		t.Error(d)
	}
	if w.Kind != joints.PlugWeld {
		t.Errorf("kind %s", w.Kind)
	}
}

// A fusion line is a parabola over floor and walls: ⅔ · width · depth.
func TestPlugFusion(t *testing.T) {
	w := mustPlug(t, joints.Plug{Lower: plate(6), Upper: plate(5), Diameter: 12, Countersink: deg(60),
		Arrow: joints.PlugFill{Fusion: [2]geometry.Length{0.8, 0.4}}}).Welds[0]
	want := 2.0/3*12*0.8 + 2*2.0/3*5/math.Cos(math.Pi/6)*0.4
	if d := cmp.Diff(want, w.MeltedBaseArea, cmpopts.EquateApprox(0, 1e-12)); d != "" {
		t.Error(d)
	}
}

func TestPlugRefusals(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*joints.Plug)
		code   joints.FaultCode
		field  string
	}{
		"no hole":             {func(p *joints.Plug) { p.Diameter = 0 }, joints.FaultMissing, "diameter"},
		"NaN hole":            {func(p *joints.Plug) { p.Diameter = geometry.Length(math.NaN()) }, joints.FaultNotNumber, "diameter"},
		"negative hole":       {func(p *joints.Plug) { p.Diameter = -12 }, joints.FaultRange, "diameter"},
		"short slot":          {func(p *joints.Plug) { p.SlotLength = 8 }, joints.FaultUnfit, "slot-length"},
		"negative slot":       {func(p *joints.Plug) { p.SlotLength = -8 }, joints.FaultRange, "slot-length"},
		"wide countersink":    {func(p *joints.Plug) { p.Countersink = deg(150) }, joints.FaultRange, "countersink"},
		"gap":                 {func(p *joints.Plug) { p.Gap = 6 }, joints.FaultRange, "gap"},
		"overfilled":          {func(p *joints.Plug) { p.Arrow.Fill = joints.Some(6) }, joints.FaultFace, "welds.arrow.fill"},
		"not filled":          {func(p *joints.Plug) { p.Arrow.Fill = joints.Some(0) }, joints.FaultRange, "welds.arrow.fill"},
		"cap over half round": {func(p *joints.Plug) { p.Arrow.Cap = 6.5 }, joints.FaultFace, "welds.arrow.cap"},
		"unknown cap":         {func(p *joints.Plug) { p.Arrow.CapShape = "dome" }, joints.FaultUnknown, "welds.arrow.cap-shape"},
		"melts through":       {func(p *joints.Plug) { p.Arrow.Fusion[0] = 6 }, joints.FaultFusion, "welds.arrow.fusion"},
		"wall melts out":      {func(p *joints.Plug) { p.Countersink, p.Arrow.Fusion[1] = deg(90), 2 }, joints.FaultFusion, "welds.arrow.fusion"},
	} {
		t.Run(name, func(t *testing.T) {
			p := joints.Plug{Lower: plate(6), Upper: plate(5), Diameter: 12}
			tt.change(&p)
			_, err := joints.NewPlug(p)
			refused(t, err, tt.code, tt.field)
		})
	}
	_, err := joints.NewPlug(joints.Plug{Upper: plate(-5), Gap: -1, SlotLength: -1, Countersink: 3})
	if got := len(joints.AsFaults(err)); got != 5 {
		t.Errorf("want 5 faults at once, got %d: %v", got, err)
	}
}

func FuzzPlug(f *testing.F) {
	f.Add(6.0, 5.0, 12.0, 40.0, 1.0, 0.5, 3.0, 0.5, 0.3, 0.3, false)
	f.Add(6.0, 5.0, 12.0, math.NaN(), 0.0, 0.0, math.Inf(1), 0.0, 0.0, 5.0, true)
	f.Fuzz(func(t *testing.T, lower, upper, d, slot, sink, gap, fill, rise, f0, f1 float64, parabola bool) {
		p := joints.Plug{Lower: plate(lower), Upper: plate(upper), Diameter: geometry.Length(d), SlotLength: geometry.Length(slot),
			Countersink: geometry.Angle(sink), Gap: geometry.Length(gap), Arrow: joints.PlugFill{Cap: geometry.Length(rise),
				Fusion: [2]geometry.Length{geometry.Length(f0), geometry.Length(f1)}}}
		if fill != 0 {
			p.Arrow.Fill = joints.Some(geometry.Length(fill))
		}
		if parabola {
			p.Arrow.CapShape = joints.CapParabola
		}
		if s, err := joints.NewPlug(p); err == nil {
			sound(t, s)
		}
	})
}
