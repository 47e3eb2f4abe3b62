package joints_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
)

func bar(diameter float64) joints.Round { return joints.Round{Plate: plate(diameter)} }

func bent(t, radius float64) joints.Round {
	return joints.Round{Plate: plate(t), Section: joints.RoundBent, Radius: joints.Some(geometry.Length(radius))}
}

func mustFlareBevel(t *testing.T, p joints.FlareBevel) joints.Section {
	t.Helper()
	s, err := joints.NewFlareBevel(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func mustFlareV(t *testing.T, p joints.FlareV) joints.Section {
	t.Helper()
	s, err := joints.NewFlareV(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// besideRound is the area between a circle and its tangent from the distance a
// to b along the tangent: the rectangle less what the circle takes of it.
func besideRound(r, a, b float64) float64 {
	under := func(u float64) float64 { return (u*math.Sqrt(r*r-u*u) + r*r*math.Asin(u/r)) / 2 }
	return r*(b-a) - (under(b) - under(a))
}

// fall is how far a circle stands off its tangent at u.
func fall(r, u float64) float64 { return r - math.Sqrt(r*r-u*u) }

// Every filled flare three ways: the closed form written here, the edge
// integral of the model, and a polygon library on the flattened outline.
func TestFlareAreasThreeWays(t *testing.T) {
	quarter := 1 - math.Pi/4
	full := &joints.Flare{}
	fill := func(d geometry.Length) *joints.Flare { return &joints.Flare{Fill: joints.Some(d)} }
	bevel := func(r joints.Round, opening geometry.Length, w *joints.Flare) joints.Section {
		return mustFlareBevel(t, joints.FlareBevel{Base: plate(8), Round: r, RootOpening: opening, Arrow: w})
	}
	vee := func(l, r joints.Round, opening geometry.Length, w *joints.Flare) joints.Section {
		return mustFlareV(t, joints.FlareV{Left: l, Right: r, RootOpening: opening, Arrow: w})
	}
	// Where a flare of one round of radius 6 is 1 mm open: 1 = 6 − √(36 − u²).
	open1 := math.Sqrt(36 - 25)
	chord := 6.0 // flush face of a flare-bevel
	capArc := func(w, h float64) float64 {
		r := (w*w/4 + h*h) / (2 * h)
		half := math.Asin(w / 2 / r)
		return r*r*half - w/2*(r-h)
	}
	for name, tt := range map[string]struct {
		s    joints.Section
		want float64
	}{
		"bevel, bar, flush":             {bevel(bar(12), 0, full), 36 * quarter},
		"bevel, bent, flush":            {bevel(bent(3, 8), 0, full), 64 * quarter},
		"bevel, bent, usual radius":     {bevel(joints.Round{Plate: plate(3), Section: joints.RoundBent}, 0, full), 36 * quarter},
		"bevel, partial":                {bevel(bar(12), 0, fill(4)), besideRound(6, 0, 4)},
		"bevel, root opening":           {bevel(bar(12), 0.8, fill(4)), besideRound(6, 0, 4) + 0.8*4},
		"bevel, root width":             {bevel(bar(12), 0, &joints.Flare{RootWidth: 1}), besideRound(6, open1, 6)},
		"bevel, root width and opening": {bevel(bar(12), 0.4, &joints.Flare{RootWidth: 1.4}), besideRound(6, open1, 6) + 0.4*(6-open1)},
		"bevel, opening is wider":       {bevel(bar(12), 0.4, &joints.Flare{RootWidth: 0.3}), 36*quarter + 0.4*6},
		"bevel, throat":                 {bevel(bar(12), 0, &joints.Flare{Throat: 3.75}), besideRound(6, 2.25, 6)},
		"bevel, arc cap":                {bevel(bar(12), 0, &joints.Flare{Cap: 0.7}), 36*quarter + capArc(chord, 0.7)},
		"bevel, parabola and lap":       {bevel(bar(12), 0, &joints.Flare{Cap: 0.7, CapLap: 2, CapShape: joints.CapParabola}), 36*quarter + 6 + 2.0/3*math.Sqrt(36+4)*0.7},
		"V, equal bars":                 {vee(bar(12), bar(12), 0, full), 2 * 36 * quarter},
		"V, equal bends":                {vee(bent(2, 6), bent(3, 6), 0, full), 2 * 36 * quarter},
		"V, unequal":                    {vee(bar(12), bar(20), 0, full), 36*quarter + besideRound(10, 0, 6)},
		"V, unequal, partial, opening":  {vee(bar(20), bent(3, 7), 1, fill(5)), besideRound(10, 0, 5) + besideRound(7, 0, 5) + 5},
		"V, throat":                     {vee(bar(20), bar(14), 1, &joints.Flare{Throat: 4}), besideRound(10, 3, 7) + besideRound(7, 3, 7) + 4},
		"V, cap":                        {vee(bar(12), bar(12), 0.5, &joints.Flare{Cap: 1}), 2*36*quarter + 0.5*6 + capArc(12.5, 1)},
	} {
		t.Run(name, func(t *testing.T) {
			w := tt.s.Welds[0]
			if d := cmp.Diff(tt.want, w.DepositedArea, cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("deposited area: %s", d)
			}
			if d := cmp.Diff(tt.want, w.Profile.Area(), cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("profile area: %s", d)
			}
			if d := cmp.Diff(tt.want, polygonArea(t, w.Profile), cmpopts.EquateApprox(0, 1e-4)); d != "" {
				t.Errorf("polygon area: %s", d)
			}
		})
	}
}

// The weld root lies where the flare is as wide as claimed, found here by
// bisection; the throats follow from it.
func TestFlareRoot(t *testing.T) {
	for _, tt := range []struct{ r1, r2, opening, width float64 }{
		{0, 6, 0, 0.5}, {0, 6, 0.2, 1.5}, {6, 6, 0, 1}, {6, 11, 0.3, 2}, {11, 6, 0.3, 2}, {5, 50, 0, 0.01},
	} {
		t.Run(fmt.Sprint(tt), func(t *testing.T) {
			flush := tt.r2
			width := func(u float64) float64 { return tt.opening + fall(tt.r2, u) }
			var w joints.Weld
			p := &joints.Flare{RootWidth: geometry.Length(tt.width), Cap: 0.1}
			if tt.r1 == 0 {
				w = mustFlareBevel(t, joints.FlareBevel{Base: plate(8), Round: bar(2 * tt.r2), RootOpening: geometry.Length(tt.opening), Arrow: p}).Welds[0]
			} else {
				flush = math.Min(tt.r1, tt.r2)
				width = func(u float64) float64 { return tt.opening + fall(tt.r1, u) + fall(tt.r2, u) }
				w = mustFlareV(t, joints.FlareV{Left: bar(2 * tt.r1), Right: bar(2 * tt.r2), RootOpening: geometry.Length(tt.opening), Arrow: p}).Welds[0]
			}
			lo, hi := 0.0, flush
			for range 200 {
				if m := (lo + hi) / 2; width(m) < tt.width {
					lo = m
				} else {
					hi = m
				}
			}
			got := [3]float64{float64(w.TheoreticalThroat), float64(w.EffectiveThroat), float64(w.RootWidth.Value)}
			if d := cmp.Diff([3]float64{flush, flush - lo, tt.width}, got, cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Error(d)
			}
			// The throat of that depth claimed gives the same weld.
			p.RootWidth, p.Throat = 0, w.EffectiveThroat
			var same joints.Weld
			if tt.r1 == 0 {
				same = mustFlareBevel(t, joints.FlareBevel{Base: plate(8), Round: bar(2 * tt.r2), RootOpening: geometry.Length(tt.opening), Arrow: p}).Welds[0]
			} else {
				same = mustFlareV(t, joints.FlareV{Left: bar(2 * tt.r1), Right: bar(2 * tt.r2), RootOpening: geometry.Length(tt.opening), Arrow: p}).Welds[0]
			}
			if d := cmp.Diff(w.DepositedArea, same.DepositedArea, cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Error(d)
			}
		})
	}
}

// Fusion on a round is the lune between two arcs on one chord, on the flat a
// parabola: ⅔ · width · depth.
func TestFlareFusion(t *testing.T) {
	const r, f0, f1 = 6.0, 0.7, 0.5
	w := mustFlareBevel(t, joints.FlareBevel{Base: plate(8), Round: bar(2 * r), Arrow: &joints.Flare{Fusion: [2]geometry.Length{f0, f1}}}).Welds[0]
	segment := func(chord, sagitta float64) float64 {
		if sagitta < 0 {
			t.Fatal("the closed form here wants a bulging arc")
		}
		radius := (chord*chord/4 + sagitta*sagitta) / (2 * sagitta)
		half := math.Asin(chord / 2 / radius)
		return radius*radius*half - chord/2*(radius-sagitta)
	}
	chord, sagitta := r*math.Sqrt2, r*(1-math.Sqrt2/2)
	want := 2.0/3*r*f0 + segment(chord, sagitta) - segment(chord, sagitta-f1)
	if d := cmp.Diff(want, w.MeltedBaseArea, cmpopts.EquateApprox(0, 1e-9)); d != "" {
		t.Error(d)
	}
	if len(w.FusionLine) != 2 {
		t.Errorf("want two fusion lines, got %d", len(w.FusionLine))
	}
}

// Both sides of a bar are mirror images; a V of equal rounds is two bevels.
func TestFlareSymmetry(t *testing.T) {
	p := &joints.Flare{Fill: joints.Some(4.5), RootWidth: 0.4, Cap: 0.3, Fusion: [2]geometry.Length{0.3, 0.3}}
	both := mustFlareBevel(t, joints.FlareBevel{Base: plate(8), Round: bar(12), RootOpening: 0.2, Arrow: p, Other: p}).Welds
	want := both[0].Profile.Transform(geometry.MirrorX()).CCW()
	if d := want.Centroid().Dist(both[1].Profile.Centroid()); d > 1e-12 || math.Abs(want.Area()-both[1].Area) > 1e-12 {
		t.Errorf("mirrored weld is off by %v mm and %v mm²", d, want.Area()-both[1].Area)
	}
	one := mustFlareBevel(t, joints.FlareBevel{Base: plate(8), Round: bar(12), Arrow: &joints.Flare{Throat: 4}}).Welds[0]
	two := mustFlareV(t, joints.FlareV{Left: bar(12), Right: bent(3, 6), Arrow: &joints.Flare{Throat: 4}}).Welds[0]
	if d := cmp.Diff(2*one.Area, two.Area, cmpopts.EquateApprox(0, 1e-12)); d != "" {
		t.Error(d)
	}
	// A round so large that it is flat by now leaves the bevel.
	flat := mustFlareV(t, joints.FlareV{Left: bent(3, 300), Right: bar(2), Arrow: &joints.Flare{}}).Welds[0]
	lone := mustFlareBevel(t, joints.FlareBevel{Base: plate(3), Round: bar(2), Arrow: &joints.Flare{}}).Welds[0]
	if d := flat.Area - lone.Area; math.Abs(d-besideRound(300, 0, 1)) > 1e-9 {
		t.Errorf("area beside the large round: %v", d)
	}
}

// A bent sheet keeps its thickness round the bend.
func TestBentSheetOutline(t *testing.T) {
	for _, tt := range []struct{ t, r float64 }{{3, 8}, {3, 3}, {2, 12}} {
		s := mustFlareBevel(t, joints.FlareBevel{Base: plate(6), Round: bent(tt.t, tt.r), Arrow: &joints.Flare{}})
		m := s.Members[1]
		b := m.Outline.Bounds()
		legs := (0 - b.Min.X) + (b.Max.Y - tt.r)
		mid := tt.r - tt.t/2
		if d := cmp.Diff(tt.t*(legs+math.Pi/2*mid), m.Outline.Area(), cmpopts.EquateApprox(0, 1e-9)); d != "" {
			t.Errorf("%v: %s", tt, d)
		}
		if len(m.Broken) != 2 || m.Ways != 2 {
			t.Errorf("%v: both legs go on, got %v and %d ways", tt, m.Broken, m.Ways)
		}
		for _, i := range m.Broken {
			if d := m.Outline.Edge(i).Length() - tt.t; math.Abs(d) > 1e-12 {
				t.Errorf("%v: broken edge %d is not the section of the leg", tt, i)
			}
		}
	}
}

func TestCapOverhangIsNoted(t *testing.T) {
	for lap, want := range map[geometry.Length]int{0: 1, 3: 0} {
		s := mustFlareBevel(t, joints.FlareBevel{Base: plate(6), Round: bar(12), Arrow: &joints.Flare{Cap: 0.5, CapLap: lap}})
		if len(s.Notes) != want {
			t.Errorf("cap lap %v: notes %q", lap, s.Notes)
		}
	}
}

func TestFlareRefusals(t *testing.T) {
	nan, inf := geometry.Length(math.NaN()), geometry.Length(math.Inf(1))
	for name, tt := range map[string]struct {
		change func(*joints.FlareBevel)
		code   joints.FaultCode
		field  string
	}{
		"no weld":              {func(p *joints.FlareBevel) { p.Arrow = nil }, joints.FaultMissing, "welds"},
		"zero base":            {func(p *joints.FlareBevel) { p.Base.Thickness = 0 }, joints.FaultRange, "base.thickness"},
		"NaN bar":              {func(p *joints.FlareBevel) { p.Round.Thickness = nan }, joints.FaultNotNumber, "round.thickness"},
		"infinite opening":     {func(p *joints.FlareBevel) { p.RootOpening = inf }, joints.FaultNotNumber, "root-opening"},
		"radius of a bar":      {func(p *joints.FlareBevel) { p.Round.Radius = joints.Some(5) }, joints.FaultConflict, "radius"},
		"bend too sharp":       {func(p *joints.FlareBevel) { p.Round = bent(4, 3) }, joints.FaultUnfit, "radius"},
		"zero radius":          {func(p *joints.FlareBevel) { p.Round = bent(4, 0) }, joints.FaultRange, "radius"},
		"unknown section":      {func(p *joints.FlareBevel) { p.Round.Section = "tube" }, joints.FaultUnknown, "section"},
		"other side of bend":   {func(p *joints.FlareBevel) { p.Round, p.Other = bent(3, 6), &joints.Flare{} }, joints.FaultConflict, "welds.other"},
		"overfilled":           {func(p *joints.FlareBevel) { p.Arrow.Fill = joints.Some(7) }, joints.FaultFace, "welds.arrow.fill"},
		"fill of zero":         {func(p *joints.FlareBevel) { p.Arrow.Fill = joints.Some(0) }, joints.FaultRange, "welds.arrow.fill"},
		"root wider than face": {func(p *joints.FlareBevel) { p.Arrow.Fill, p.Arrow.RootWidth = joints.Some(2), 1 }, joints.FaultUnfit, "welds.arrow.root-width"},
		"throat over fill":     {func(p *joints.FlareBevel) { p.Arrow.Fill, p.Arrow.Throat = joints.Some(2), 3 }, joints.FaultUnfit, "welds.arrow.throat"},
		"throat and width":     {func(p *joints.FlareBevel) { p.Arrow.RootWidth, p.Arrow.Throat = 0.5, 3 }, joints.FaultConflict, "welds.arrow.root-width"},
		"cap too high":         {func(p *joints.FlareBevel) { p.Arrow.Cap = 4 }, joints.FaultFace, "welds.arrow.cap"},
		"cap into the round":   {func(p *joints.FlareBevel) { p.Arrow.Fill, p.Arrow.Cap, p.Arrow.CapLap = joints.Some(1), 0.5, 2 }, joints.FaultFace, "welds.arrow.cap"},
		"flat cap":             {func(p *joints.FlareBevel) { p.Arrow.Cap, p.Arrow.CapShape = 1, joints.CapFlat }, joints.FaultUnknown, "welds.arrow.cap-shape"},
		"melts through":        {func(p *joints.FlareBevel) { p.Arrow.Fusion[0] = 6 }, joints.FaultFusion, "welds.arrow.fusion"},
		"melts past the root":  {func(p *joints.FlareBevel) { p.Arrow.Fusion[1] = 4 }, joints.FaultFusion, "welds.arrow.fusion"},
	} {
		t.Run(name, func(t *testing.T) {
			p := joints.FlareBevel{Base: plate(6), Round: bar(12), Arrow: &joints.Flare{}}
			tt.change(&p)
			_, err := joints.NewFlareBevel(p)
			refused(t, err, tt.code, tt.field)
		})
	}
	_, err := joints.NewFlareV(joints.FlareV{Left: bar(12), Right: bent(3, 2), Other: &joints.Flare{}})
	refused(t, err, joints.FaultUnfit, "right-radius")
	refused(t, err, joints.FaultConflict, "welds.other")
}

// refused wants a fault of the code at the field, and a rule and a remedy with
// every fault.
func refused(t *testing.T, err error, code joints.FaultCode, field string) {
	t.Helper()
	faults := joints.AsFaults(err)
	if !faults.Has(code, field) {
		t.Fatalf("want %s at %s, got %v", code, field, err)
	}
	for _, f := range faults {
		if f.Rule == "" || f.Remedy == "" {
			t.Errorf("fault without rule or remedy: %+v", f)
		}
	}
}

func FuzzFlare(f *testing.F) {
	f.Add(6.0, 12.0, 0.0, 0.0, 0.3, 0.0, 0.5, 1.0, 0.3, 0.3, true)
	f.Add(6.0, 3.0, 8.0, 0.5, 0.0, 4.0, 0.0, 0.0, math.NaN(), math.Inf(1), false)
	f.Fuzz(func(t *testing.T, base, round, radius, opening, width, throat, rise, lap, f0, f1 float64, solid bool) {
		w := &joints.Flare{RootWidth: geometry.Length(width), Throat: geometry.Length(throat), Cap: geometry.Length(rise),
			CapLap: geometry.Length(lap), Fusion: [2]geometry.Length{geometry.Length(f0), geometry.Length(f1)}}
		r := bent(round, radius)
		if solid {
			r = bar(round)
		}
		if s, err := joints.NewFlareBevel(joints.FlareBevel{Base: plate(base), Round: r, RootOpening: geometry.Length(opening), Arrow: w}); err == nil {
			sound(t, s)
		}
		w.CapLap = 0
		if s, err := joints.NewFlareV(joints.FlareV{Left: bar(base), Right: r, RootOpening: geometry.Length(opening), Arrow: w}); err == nil {
			sound(t, s)
		}
	})
}

// sound holds what every section promises.
func sound(t *testing.T, s joints.Section) {
	t.Helper()
	for _, w := range s.Welds {
		if !(w.Area > 0) || !near(w.Area, w.DepositedArea+w.MeltedBaseArea, 1e-7) || !(w.EffectiveThroat > 0) ||
			w.ActualThroat < w.EffectiveThroat*(1-1e-9) || w.EffectiveThroat > w.TheoreticalThroat*(1+1e-9) {
			t.Errorf("%s: area %v, deposited %v, melted %v, throats %v %v %v", w.ID, w.Area, w.DepositedArea, w.MeltedBaseArea,
				w.TheoreticalThroat, w.EffectiveThroat, w.ActualThroat)
		}
	}
	for _, m := range s.Measures {
		if math.IsNaN(m.Value) || !m.From.IsFinite() || !m.To.IsFinite() || !m.Vertex.IsFinite() || !m.Outward.IsFinite() {
			t.Errorf("measure %+v", m)
		}
	}
}
