package joints_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
)

var (
	within  = cmpopts.EquateApprox(0, 1e-9)
	loosely = cmpopts.EquateApprox(0, 1e-5)
)

func mustCorner(t *testing.T, p joints.Corner) joints.Section {
	t.Helper()
	s, err := joints.NewCorner(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func lengths(a, b float64) [2]geometry.Length {
	return [2]geometry.Length{geometry.Length(a), geometry.Length(b)}
}

// segment is the area of a circular segment over a chord, by its central angle.
func segment(chord, rise float64) float64 {
	r := (chord*chord/4 + rise*rise) / (2 * rise)
	half := math.Asin(chord / 2 / r)
	return r*r*half - chord/2*(r-rise)
}

func wantPolygonArea(t *testing.T, w joints.Weld) {
	t.Helper()
	if d := cmp.Diff(w.Area, polygonArea(t, w.Profile), cmpopts.EquateApprox(1e-5, 1e-5)); d != "" {
		t.Error("as a polygon:", d)
	}
}

// Square outer grooves filled to the outer edges, open and half open: legs
// base + gap and the bare part of the upright's end.
func TestFilledSquareCorner(t *testing.T) {
	const rise = 0.8
	for _, tt := range []struct{ base, upright, cover, gap float64 }{
		{6, 4, 0, 0}, {6, 4, 0, 1}, {4, 6, 0, 0.5}, {5, 5, 0, 0}, {6, 4, 0.5, 0}, {6, 4, 0.5, 0.7}, {3, 8, 0.25, 0.3},
	} {
		a, b := tt.base+tt.gap, (1-tt.cover)*tt.upright
		chord := math.Hypot(a, b)
		turn := 2 * math.Atan(2*rise/chord)
		flat := [2]float64{math.Atan2(b, a), math.Atan2(a, b)}
		theory, effect := a*b/chord, tt.base*b/chord
		toes := func(turn float64) [2]float64 {
			return [2]float64{(3*math.Pi/2 - flat[0] - turn) * 180 / math.Pi, (3*math.Pi/2 - flat[1] - turn) * 180 / math.Pi}
		}
		for face, want := range map[joints.FaceShape]numbers{
			joints.FaceFlat:   {Theory: theory, Effect: effect, Actual: effect, Area: a * b / 2, ToeAngles: toes(0)},
			joints.FaceFlush:  {Theory: theory, Effect: effect, Actual: math.Min(tt.base, b), Area: a * b, ToeAngles: [2]float64{180, 180}},
			joints.FaceConvex: {Theory: theory, Effect: effect, Area: a*b/2 + segment(chord, rise), ToeAngles: toes(turn)},
		} {
			t.Run(fmt.Sprint(tt, face), func(t *testing.T) {
				f := &joints.Fillet{Face: face}
				if face == joints.FaceConvex {
					f.Rise = rise
				}
				s := mustCorner(t, joints.Corner{Base: plate(tt.base), Upright: plate(tt.upright), Cover: tt.cover, Gap: geometry.Length(tt.gap), Outside: f})
				w := s.Welds[0]
				if face == joints.FaceConvex {
					want.Actual = float64(w.ActualThroat) // held by the law on the order of throats
				}
				want.Legs, want.Gauge, want.Face, want.Deposit = [2]float64{a, b}, [2]float64{a, b}, chord, want.Area
				if d := cmp.Diff(want, numbersOf(w), within); d != "" {
					t.Error(d)
				}
				for i, f := range w.Feet {
					if f.Member != i || f.EdgeRemaining != joints.Some(0) {
						t.Errorf("foot %d: member %d, edge remaining %+v", i, f.Member, f.EdgeRemaining)
					}
				}
				wantPolygonArea(t, w)
				nothingOverlaps(t, s)
			})
		}
	}
}

// The outer groove of a skewed upright with a square end opens by 180° − ψ;
// that of a fitted one stays square and is 1/sin ψ longer on the upright.
func TestSkewedOuterGroove(t *testing.T) {
	const base, upright, gap = 6.0, 4.0, 0.5
	for _, psi := range []float64{45, 60, 75, 90, 105, 120, 135} {
		rad := psi * math.Pi / 180
		sin := math.Sin(rad)
		for end, g := range map[joints.StemEnd]struct{ b, phi float64 }{
			joints.StemSquare: {upright, math.Pi - rad},
			joints.StemFitted: {upright / sin, math.Pi / 2},
		} {
			t.Run(fmt.Sprint(end, psi), func(t *testing.T) {
				s := mustCorner(t, joints.Corner{Base: plate(base), Upright: plate(upright), Angle: deg(psi), UprightEnd: end, Gap: gap,
					Outside: &joints.Fillet{}, Inside: joints.EqualFillet(3)})
				w := s.Welds[0]
				a := base + gap
				chord := math.Sqrt(a*a + g.b*g.b - 2*a*g.b*math.Cos(g.phi))
				area := a * g.b * math.Sin(g.phi) / 2
				// From a point of the base's end, above its toe, to the chord or,
				// past the upright's edge, to that edge.
				throat := func(above float64) float64 {
					edge := math.Sqrt((a-above)*(a-above) + g.b*g.b - 2*(a-above)*g.b*math.Cos(g.phi))
					if above*above > edge*edge+chord*chord {
						return edge
					}
					return 2 * area / chord * above / a
				}
				want := numbers{
					Legs: [2]float64{a, g.b}, Gauge: [2]float64{a * math.Sin(g.phi), g.b * math.Sin(g.phi)},
					Theory: throat(a), Effect: throat(base), Actual: throat(base),
					Face: chord, Area: area, Deposit: area,
				}
				got := numbersOf(w)
				got.ToeAngles = [2]float64{}
				if d := cmp.Diff(want, got, within); d != "" {
					t.Error(d)
				}
				// Round the corner the angles of metal and air make whole turns:
				// the chord's two toe angles, the groove and the two plate corners.
				plateCorner := math.Pi / 2
				if end == joints.StemFitted {
					plateCorner = rad
				}
				sum := float64(w.Feet[0].ToeAngle+w.Feet[1].ToeAngle) + math.Pi/2 + plateCorner + (math.Pi - g.phi)
				if math.Abs(sum-4*math.Pi) > 1e-9 {
					t.Errorf("toe angles %v and %v", w.Feet[0].ToeAngle.Degrees(), w.Feet[1].ToeAngle.Degrees())
				}
				nothingOverlaps(t, s)
			})
		}
	}
}

// A flush face follows the prolonged outer faces; the quadrilateral by its two
// triangles.
func TestFlushSkewedCorner(t *testing.T) {
	const base, upright, gap = 6.0, 6.0, 0.4
	for _, psi := range []float64{60, 75, 105, 120} {
		k, sin := -math.Cos(psi*math.Pi/180), math.Sin(psi*math.Pi/180)
		a := base + gap
		bottom := (upright - k*a) / sin // along the base's outer face
		side := (a - k*upright) / sin   // along the upright's outer face
		s := mustCorner(t, joints.Corner{Base: plate(base), Upright: plate(upright), Angle: deg(psi), Gap: gap, Outside: &joints.Fillet{Face: joints.FaceFlush}})
		w := s.Welds[0]
		if d := cmp.Diff(a*bottom/2+upright*side/2, w.Area, within); d != "" {
			t.Errorf("%v°: %s", psi, d)
		}
		if d := cmp.Diff([2]float64{180, 180}, numbersOf(w).ToeAngles, within); d != "" {
			t.Errorf("%v°: %s", psi, d)
		}
		wantPolygonArea(t, w)
		nothingOverlaps(t, s)
	}
}

// The inside of a covered corner is the arrow side of a tee.
func TestInsideIsATee(t *testing.T) {
	f := joints.Fillet{Legs: lengths(5, 4), Face: joints.FaceConvex, Rise: 0.3, Penetration: 1, Fusion: lengths(0.6, 0.7)}
	for _, psi := range []float64{60, 90, 115} {
		tee := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(4), Angle: deg(psi), StemEnd: joints.StemFitted, Gap: 0.3, Arrow: &f})
		corner := mustCorner(t, joints.Corner{Base: plate(8), Upright: plate(4), Angle: deg(psi), UprightEnd: joints.StemFitted, Cover: 1, Gap: 0.3, Inside: &f})
		if d := cmp.Diff(numbersOf(tee.Welds[0]), numbersOf(corner.Welds[0]), within); d != "" {
			t.Errorf("%v°: %s", psi, d)
		}
		if d := cmp.Diff(tee.Welds[0].MeltedBaseArea, corner.Welds[0].MeltedBaseArea, within); d != "" {
			t.Errorf("%v°: %s", psi, d)
		}
		if corner.Welds[0].Side != joints.ArrowSide || corner.Welds[0].JointRoot != (geometry.Point{}) {
			t.Errorf("a lone inside weld is the arrow side, its joint root the origin: %v at %v", corner.Welds[0].Side, corner.Welds[0].JointRoot)
		}
		nothingOverlaps(t, corner)
	}
}

// Where the base ends short of the inner corner, across the gap under an
// upright that leans over it, the inside weld starts at the base's own edge.
func TestInsideStartsAtTheBasesEdge(t *testing.T) {
	const z, gap, psi = 5.0, 1.2, math.Pi / 3
	s := mustCorner(t, joints.Corner{Base: plate(6), Upright: plate(4), Angle: deg(60), UprightEnd: joints.StemFitted, Gap: gap,
		Outside: &joints.Fillet{}, Inside: joints.EqualFillet(z)})
	w, _ := s.Weld("inside")
	want := z*z*math.Sin(psi)/2 - gap*gap/math.Tan(psi)/2
	if d := cmp.Diff([2]float64{want, want}, [2]float64{w.Area, w.DepositedArea}, within); d != "" {
		t.Error(d)
	}
	nothingOverlaps(t, s)
}

// Penetration and fusion of the outside weld: the triangle from the base's
// toe to the weld root, the gap filled to there, parabolas over the cut edges.
func TestOutsidePenetrationAndFusion(t *testing.T) {
	const base, upright, cover, gap, pen, fusion = 6.0, 4.0, 0.5, 0.4, 1.0, 0.6
	a, b := base+gap, upright*(1-cover)
	build := func(f joints.Fillet) joints.Weld {
		f.Penetration = pen
		s := mustCorner(t, joints.Corner{Base: plate(base), Upright: plate(upright), Cover: cover, Gap: gap, Outside: &f})
		nothingOverlaps(t, s)
		return s.Welds[0]
	}
	w := build(joints.Fillet{})
	if d := cmp.Diff([2]float64{a*b/2 + gap*pen, base * pen / 2}, [2]float64{w.DepositedArea, w.MeltedBaseArea}, within); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(base*b/math.Hypot(a, b), float64(w.EffectiveThroat), within); d != "" {
		t.Error("unproven penetration:", d)
	}
	w = build(joints.Fillet{Proven: true})
	if d := cmp.Diff((base*b+pen*a)/math.Hypot(a, b), float64(w.EffectiveThroat), within); d != "" {
		t.Error("proven penetration:", d)
	}
	// Simpson's rule is exact for a parabola: depths 0, fusion and the end's.
	w = build(joints.Fillet{Fusion: lengths(fusion, fusion)})
	if d := cmp.Diff(base/6*(4*fusion+pen)+2.0/3*(b+pen)*fusion, w.MeltedBaseArea, within); d != "" {
		t.Error("fusion:", d)
	}
}

// A closed corner carries an edge weld over its seam.
func TestClosedCorner(t *testing.T) {
	const pen, rise = 2.0, 0.5
	for _, gap := range []float64{0, 0.3} {
		s := mustCorner(t, joints.Corner{Base: plate(6), Upright: plate(4), Cover: 1, Gap: geometry.Length(gap),
			Outside: &joints.Fillet{Legs: lengths(2, 1.5), Face: joints.FaceConvex, Rise: rise, Penetration: pen}, Inside: joints.EqualFillet(3)})
		w := s.Welds[0]
		width := 2 + 1.5 + gap
		toe := 180 - 2*math.Atan(2*rise/width)*180/math.Pi
		want := numbers{
			Legs: [2]float64{2, 1.5}, Theory: pen, Effect: pen, Actual: float64(w.ActualThroat), Face: width,
			Area: segment(width, rise) + gap*pen + pen*3.5/2, Deposit: segment(width, rise) + gap*pen, ToeAngles: [2]float64{toe, toe},
		}
		if d := cmp.Diff(want, numbersOf(w), within); d != "" {
			t.Errorf("gap %v: %s", gap, d)
		}
		if w.Kind != joints.EdgeWeld || w.Feet[0].Toe.X != 0 || w.Feet[0].Toe.Y > 0 || w.Feet[1].Toe.Y < 0 {
			t.Errorf("%s weld, toes %v and %v: an edge weld with the base below was wanted", w.Kind, w.Feet[0].Toe, w.Feet[1].Toe)
		}
		wantPolygonArea(t, w)
		nothingOverlaps(t, s)
	}
	// Melted without filler, fused right round the base's edge.
	s := mustCorner(t, joints.Corner{Base: plate(3), Upright: plate(3), Cover: 1,
		Outside: &joints.Fillet{Legs: lengths(3, 2), Penetration: 1.5, Fusion: lengths(1.5, 1)}})
	w := s.Welds[0]
	if d := cmp.Diff(3.0/6*(4*1.5+1.5)+2.0/6*(4*1+1.5), w.MeltedBaseArea, within); d != "" {
		t.Error(d)
	}
	if w.DepositedArea != 0 || w.Feet[0].EdgeRemaining != joints.Some(0) || w.Feet[1].EdgeRemaining.Present {
		t.Errorf("deposit %v, edges %+v and %+v", w.DepositedArea, w.Feet[0].EdgeRemaining, w.Feet[1].EdgeRemaining)
	}
	if d := cmp.Diff([2]float64{270, 180}, numbersOf(w).ToeAngles, within); d != "" {
		t.Error(d)
	}
	nothingOverlaps(t, s)
}

// Equal plates make an open corner that is its own mirror image, and a closing
// gap changes nothing by a jump.
func TestOpenCornerLimits(t *testing.T) {
	s := mustCorner(t, joints.Corner{Base: plate(5), Upright: plate(5), Outside: &joints.Fillet{}, Inside: joints.EqualFillet(3)})
	for i := range s.Welds {
		w := &s.Welds[i]
		a, b := w.Feet[0], w.Feet[1]
		if !near(float64(a.Leg), float64(b.Leg), 1e-12) || !near(float64(a.ToeAngle), float64(b.ToeAngle), 1e-12) {
			t.Errorf("%s: %+v and %+v", w.ID, a, b)
		}
		if math.Abs(w.Centroid.X+w.Centroid.Y) > 1e-12 {
			t.Errorf("%s: centroid %v off the bisector", w.ID, w.Centroid)
		}
	}
	if d := cmp.Diff(5/math.Sqrt2, float64(s.Welds[0].EffectiveThroat), exact); d != "" {
		t.Error(d)
	}
	for _, psi := range []float64{70, 90, 110} {
		p := joints.Corner{Base: plate(6), Upright: plate(4), Angle: deg(psi), Outside: &joints.Fillet{Face: joints.FaceFlush}, Inside: joints.EqualFillet(3)}
		shut := mustCorner(t, p)
		p.Gap = 1e-7
		ajar := mustCorner(t, p)
		for i := range shut.Welds {
			if d := cmp.Diff(numbersOf(shut.Welds[i]), numbersOf(ajar.Welds[i]), loosely); d != "" {
				t.Errorf("%v°: %s", psi, d)
			}
		}
	}
}

// Random closed corners, which whole covers drawn at random never are.
func TestClosedCornersCountMetalOnce(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	built := 0
	for n := range 600 {
		u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
		p := joints.Corner{Base: plate(u(2, 10)), Upright: plate(u(2, 10)), Cover: 1, Gap: geometry.Length(u(0, 0.5) * float64(r.IntN(2))),
			Outside: &joints.Fillet{Legs: lengths(u(1, 4), u(1, 4)), Penetration: geometry.Length(u(0.3, 2))}}
		if r.IntN(2) == 0 {
			p.Outside.Face, p.Outside.Rise = joints.FaceConvex, geometry.Length(u(0.1, 1))
		}
		if r.IntN(2) == 0 {
			p.Outside.Fusion = lengths(u(0.5, 2), u(0.5, 2))
		}
		if r.IntN(2) == 0 {
			p.Inside = joints.EqualFillet(geometry.Length(u(2, 5)))
		}
		s, err := joints.NewCorner(p)
		if err != nil {
			continue
		}
		built++
		w := s.Welds[0]
		if !near(w.Area, w.DepositedArea+w.MeltedBaseArea, 1e-9) || w.ActualThroat < w.EffectiveThroat*(1-1e-9) {
			t.Errorf("area %v of %v and %v; throats %v and %v", w.Area, w.DepositedArea, w.MeltedBaseArea, w.EffectiveThroat, w.ActualThroat)
		}
		nothingOverlaps(t, s)
		if t.Failed() {
			t.Fatalf("first broken by joint %d: %+v", n, p)
		}
	}
	if built < 300 {
		t.Errorf("only %d of 600 were built", built)
	}
}

func TestCornerMeasures(t *testing.T) {
	s := mustCorner(t, joints.Corner{Base: plate(6), Upright: plate(4), Angle: deg(75), UprightEnd: joints.StemFitted, Cover: 0.25, Gap: 0.5,
		Outside: &joints.Fillet{Legs: lengths(5, 2)}, Inside: joints.EqualFillet(3)})
	sin := math.Sin(75 * math.Pi / 180)
	want := map[string]float64{
		"thickness base": 6, "thickness upright": 4, "angle ": 75, "cover ": 1 / sin, "gap ": 0.5,
		"outside leg base": 5, "outside leg upright": 2, "outside gauge leg base": 5, "outside gauge leg upright": 2,
		"outside edge remaining base": 1.5, "outside edge remaining upright": 3/sin - 2,
		"inside leg base": 3, "inside gauge leg upright": 3 * sin,
	}
	got := map[string]float64{}
	for _, m := range s.Measures {
		key := m.Name + " " + m.Member
		if m.Weld != "" {
			key = m.Weld + " " + key
		}
		if _, asked := want[key]; asked {
			got[key] = m.Value
			if m.Weld == "" && (m.Draw == joints.NotDrawn || m.Outward == (geometry.Point{})) {
				t.Errorf("%s must be dimensioned, with a side to put it", key)
			}
		}
	}
	if d := cmp.Diff(want, got, within); d != "" {
		t.Error(d)
	}
}

func TestCornerRefusals(t *testing.T) {
	nan := math.NaN()
	fill := func() *joints.Fillet { return &joints.Fillet{} }
	for name, tt := range map[string]struct {
		change func(*joints.Corner)
		code   joints.FaultCode
		field  string
	}{
		"no weld":                    {func(p *joints.Corner) { p.Outside = nil }, joints.FaultMissing, "welds"},
		"cover below":                {func(p *joints.Corner) { p.Cover = -0.1 }, joints.FaultRange, "cover"},
		"cover above":                {func(p *joints.Corner) { p.Cover = 1.2 }, joints.FaultRange, "cover"},
		"cover NaN":                  {func(p *joints.Corner) { p.Cover = nan }, joints.FaultNotNumber, "cover"},
		"angle":                      {func(p *joints.Corner) { p.Angle = deg(20) }, joints.FaultRange, "angle"},
		"gap infinite":               {func(p *joints.Corner) { p.Gap = geometry.Length(math.Inf(1)) }, joints.FaultNotNumber, "gap"},
		"unknown end":                {func(p *joints.Corner) { p.UprightEnd = "round" }, joints.FaultUnknown, "upright-end"},
		"square skewed with cover":   {func(p *joints.Corner) { p.Angle, p.Cover = deg(100), 0.5 }, joints.FaultConflict, "upright-end"},
		"hardly bare":                {func(p *joints.Corner) { p.Cover = 0.95 }, joints.FaultUnfit, "cover"},
		"closed and skewed":          {func(p *joints.Corner) { p.Cover, p.Angle, p.UprightEnd = 1, deg(80), joints.StemFitted }, joints.FaultConflict, "cover"},
		"closed without leg":         {func(p *joints.Corner) { p.Cover, p.Outside.Penetration = 1, 1 }, joints.FaultMissing, "welds.outside.leg"},
		"closed without penetration": {func(p *joints.Corner) { p.Cover, p.Outside.Legs = 1, lengths(2, 2) }, joints.FaultMissing, "welds.outside.penetration"},
		"closed by throat":           {func(p *joints.Corner) { p.Cover, p.Outside.Throat = 1, 2 }, joints.FaultConflict, "welds.outside.throat"},
		"closed concave":             {func(p *joints.Corner) { p.Cover, p.Outside.Legs, p.Outside.Face = 1, lengths(2, 2), joints.FaceConcave }, joints.FaultFace, "welds.outside.face"},
		"closed past the edge":       {func(p *joints.Corner) { p.Cover, p.Outside.Legs, p.Outside.Penetration = 1, lengths(7, 2), 1 }, joints.FaultLeg, "welds.outside.leg"},
		"closed melted through":      {func(p *joints.Corner) { p.Cover, p.Outside.Legs, p.Outside.Penetration = 1, lengths(2, 2), 5 }, joints.FaultFusion, "welds.outside.penetration"},
		"open penetration":           {func(p *joints.Corner) { p.Outside.Penetration = 1 }, joints.FaultFusion, "welds.outside.penetration"},
		"open inside penetration":    {func(p *joints.Corner) { p.Outside, p.Inside = nil, &joints.Fillet{Legs: lengths(3, 3), Penetration: 1} }, joints.FaultFusion, "welds.inside.penetration"},
		"leg past the base":          {func(p *joints.Corner) { p.Outside.Legs = lengths(6.5, 4) }, joints.FaultLeg, "welds.outside.leg"},
		"leg past the upright":       {func(p *joints.Corner) { p.Outside.Legs, p.Cover = lengths(6, 3), 0.5 }, joints.FaultLeg, "welds.outside.leg"},
		"flush with rise":            {func(p *joints.Corner) { p.Outside.Face, p.Outside.Rise = joints.FaceFlush, 1 }, joints.FaultConflict, "welds.outside.rise"},
		"flush with small legs":      {func(p *joints.Corner) { p.Outside.Face, p.Outside.Legs = joints.FaceFlush, lengths(3, 3) }, joints.FaultConflict, "welds.outside.face"},
		"flush past the outer face":  {func(p *joints.Corner) { p.Outside.Face, p.Angle, p.Base = joints.FaceFlush, deg(135), plate(2) }, joints.FaultFace, "welds.outside.face"},
		"flush inside":               {func(p *joints.Corner) { p.Inside = &joints.Fillet{Legs: lengths(3, 3), Face: joints.FaceFlush} }, joints.FaultUnknown, "welds.inside.face"},
		"rise past the faces":        {func(p *joints.Corner) { p.Outside.Face, p.Outside.Rise = joints.FaceConvex, 12 }, joints.FaultFace, "welds.outside.rise"},
		"sides melt together": {func(p *joints.Corner) {
			p.Cover, p.Outside.Penetration = 0.5, 1.5
			p.Inside = &joints.Fillet{Legs: lengths(3, 3), Penetration: 1}
		}, joints.FaultOverlap, "welds"},
		"leg short of the base": {func(p *joints.Corner) {
			p.Angle, p.UprightEnd, p.Gap = deg(30), joints.StemFitted, 2
			p.Inside = joints.EqualFillet(3)
		}, joints.FaultLeg, "welds.inside.leg"},
		"fusion out of the face": {func(p *joints.Corner) {
			p.Angle, p.UprightEnd, p.Outside.Fusion = deg(40), joints.StemFitted, lengths(0, 3)
		}, joints.FaultFusion, "welds.outside.fusion"},
	} {
		t.Run(name, func(t *testing.T) {
			p := joints.Corner{Base: plate(6), Upright: plate(4), Outside: fill()}
			tt.change(&p)
			_, err := joints.NewCorner(p)
			faults := joints.AsFaults(err)
			if !faults.Has(tt.code, tt.field) {
				t.Fatalf("want %s at %s, got %v", tt.code, tt.field, err)
			}
			for _, f := range faults {
				if f.Rule == "" || f.Remedy == "" {
					t.Errorf("fault without rule or remedy: %+v", f)
				}
			}
		})
	}
	_, err := joints.NewCorner(joints.Corner{Base: plate(0), Upright: plate(900), Cover: 2, Gap: -1, Angle: deg(3)})
	if got := len(joints.AsFaults(err)); got != 6 {
		t.Errorf("want 6 faults at once, got %d: %v", got, err)
	}
}

func FuzzCorner(f *testing.F) {
	f.Add(6.0, 4.0, 1.5, 0.5, 0.3, 2.0, 3.0, 0.5, 0.5, uint8(0))
	f.Add(6.0, 4.0, math.Pi/2, 1.0, 0.0, 2.0, 2.0, 1.0, 0.0, uint8(7))
	f.Fuzz(func(t *testing.T, base, upright, angle, cover, gap, leg0, leg1, pen, fusion float64, pick uint8) {
		faces := [...]joints.FaceShape{joints.FaceFlat, joints.FaceConvex, joints.FaceConcave, joints.FaceFlush}
		w := &joints.Fillet{Legs: lengths(leg0, leg1), Face: faces[pick%4], Penetration: geometry.Length(pen), Fusion: lengths(fusion, fusion)}
		if w.Face != joints.FaceFlush && w.Face != joints.FaceFlat {
			w.Rise = geometry.Length(fusion)
		}
		p := joints.Corner{Base: plate(base), Upright: plate(upright), Angle: geometry.Angle(angle), Cover: cover, Gap: geometry.Length(gap), Outside: w}
		if pick&4 != 0 {
			p.UprightEnd = joints.StemFitted
		}
		if pick&8 != 0 {
			p.Inside = joints.EqualFillet(geometry.Length(leg0))
		}
		s, err := joints.NewCorner(p)
		soundOrRefused(t, s, err)
	})
}

// soundOrRefused holds what a constructor may return for any numbers at all.
func soundOrRefused(t *testing.T, s joints.Section, err error) {
	t.Helper()
	if err != nil {
		if len(joints.AsFaults(err)) == 0 {
			t.Errorf("an error that carries no faults: %v", err)
		}
		return
	}
	for _, w := range s.Welds {
		if !near(w.Area, w.DepositedArea+w.MeltedBaseArea, 1e-7) || !(w.EffectiveThroat > 0) || w.ActualThroat < w.EffectiveThroat*(1-1e-7) {
			t.Errorf("%s: area %v of %v and %v, throats %v and %v", w.ID, w.Area, w.DepositedArea, w.MeltedBaseArea, w.EffectiveThroat, w.ActualThroat)
		}
	}
}

func BenchmarkCorner(b *testing.B) {
	p := joints.Corner{Base: plate(6), Upright: plate(4), Cover: 0.5, Gap: 0.4,
		Outside: &joints.Fillet{Face: joints.FaceConvex, Rise: 0.6, Penetration: 1, Fusion: lengths(0.6, 0.6)}, Inside: joints.EqualFillet(3)}
	for b.Loop() {
		if _, err := joints.NewCorner(p); err != nil {
			b.Fatal(err)
		}
	}
}
