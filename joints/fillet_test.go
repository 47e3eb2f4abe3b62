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

var exact = cmpopts.EquateApprox(1e-12, 1e-12)

func plate(t float64) joints.Plate { return joints.Plate{Thickness: geometry.Length(t)} }

func mustTee(t *testing.T, p joints.Tee) joints.Section {
	t.Helper()
	s, err := joints.NewTee(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// numbers are the results of one weld that closed forms give directly.
type numbers struct {
	Legs, Gauge            [2]float64
	Theory, Effect, Actual float64
	Face, Area, Deposit    float64
	ToeAngles              [2]float64
}

func numbersOf(w joints.Weld) numbers {
	return numbers{
		Legs:   [2]float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)},
		Gauge:  [2]float64{float64(w.Feet[0].GaugeLeg), float64(w.Feet[1].GaugeLeg)},
		Theory: float64(w.TheoreticalThroat), Effect: float64(w.EffectiveThroat), Actual: float64(w.ActualThroat),
		Face: float64(w.FaceWidth), Area: w.Area, Deposit: w.DepositedArea,
		ToeAngles: [2]float64{w.Feet[0].ToeAngle.Degrees(), w.Feet[1].ToeAngle.Degrees()},
	}
}

func TestFlatSquareFillet(t *testing.T) {
	for _, g := range []float64{0, 0.3, 0.5, 1, 2} {
		t.Run(fmt.Sprintf("gap %v", g), func(t *testing.T) {
			const z = 3.0
			s := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(3), Gap: geometry.Length(g), Arrow: joints.EqualFillet(z)})
			want := numbers{
				Legs: [2]float64{z, z}, Gauge: [2]float64{z, z},
				Theory: z / math.Sqrt2, Effect: (z - g) / math.Sqrt2, Actual: (z - g) / math.Sqrt2,
				Face: z * math.Sqrt2, Area: z * z / 2, Deposit: z * z / 2,
				ToeAngles: [2]float64{135, 135},
			}
			if d := cmp.Diff(want, numbersOf(s.Welds[0]), exact); d != "" {
				t.Error(d)
			}
		})
	}
}

// A concave rise costs throat, a convex one adds metal and no throat.
func TestFaceShapes(t *testing.T) {
	const z, c = 5.0, 0.6
	w := math.Sqrt2 * z
	// Circular segment from chord and sagitta, by the central angle.
	r := (w*w/4 + c*c) / (2 * c)
	half := math.Asin(w / 2 / r)
	segment := r*r*half - w/2*(r-c)
	turn := half * 180 / math.Pi
	for _, tt := range []struct {
		face   joints.FaceShape
		effect float64
		actual float64
		area   float64
		toe    float64
	}{
		{joints.FaceConvex, z / math.Sqrt2, z/math.Sqrt2 + c, z*z/2 + segment, 135 - turn},
		{joints.FaceConcave, z/math.Sqrt2 - c, z/math.Sqrt2 - c, z*z/2 - segment, 135 + turn},
	} {
		t.Run(string(tt.face), func(t *testing.T) {
			f := joints.EqualFillet(z)
			f.Face, f.Rise = tt.face, c
			s := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(6), Arrow: f})
			want := numbers{
				Legs: [2]float64{z, z}, Gauge: [2]float64{z, z},
				Theory: tt.effect, Effect: tt.effect, Actual: tt.actual, Face: w,
				Area: tt.area, Deposit: tt.area, ToeAngles: [2]float64{tt.toe, tt.toe},
			}
			if d := cmp.Diff(want, numbersOf(s.Welds[0]), cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Error(d)
			}
		})
	}
}

// The largest triangle under a concave arc, found by trying every tangent.
func TestInscribedTriangleIsTheLargest(t *testing.T) {
	for _, tt := range []struct{ psi, a, b, rise float64 }{
		{90, 5, 5, 0.8}, {90, 4, 6, 0.7}, {70, 6, 5, 0.5}, {120, 5, 7, 0.6}, {90, 3, 6, 0.3},
	} {
		t.Run(fmt.Sprintf("%v", tt), func(t *testing.T) {
			f := &joints.Fillet{Legs: [2]geometry.Length{geometry.Length(tt.a), geometry.Length(tt.b)}, Face: joints.FaceConcave, Rise: geometry.Length(tt.rise)}
			s := mustTee(t, joints.Tee{Base: plate(20), Stem: plate(20), Angle: geometry.Angle(tt.psi) * geometry.Degree, StemEnd: joints.StemFitted, Arrow: f})
			w := s.Welds[0]
			psi := tt.psi * math.Pi / 180
			u := geometry.Point{X: math.Cos(psi), Y: math.Sin(psi)}
			best, height := 0.0, 0.0
			const n = 20000
			for i := 1; i < n; i++ {
				at := float64(i) / n
				p, dir := w.FaceEdges[0].At(at), w.FaceEdges[0].Tangent(at)
				// p + k·dir on the base, and on the stem.
				k0 := -p.Y / dir.Y
				a := p.Add(dir.Scale(k0)).X
				k1 := -p.Cross(u) / dir.Cross(u)
				b := p.Add(dir.Scale(k1)).Dot(u)
				if area := a * b * math.Sin(psi) / 2; area > best {
					best, height = area, math.Abs(p.Cross(dir))
				}
			}
			area := geometry.Area(geometry.Line(w.Triangle[0], w.Triangle[1]), geometry.Line(w.Triangle[1], w.Triangle[2]), geometry.Line(w.Triangle[2], w.Triangle[0]))
			if math.Abs(area-best) > 1e-6*best || area < best*(1-1e-12) {
				t.Errorf("area %v, want %v", area, best)
			}
			if math.Abs(float64(w.TheoreticalThroat)-height) > 1e-3 {
				t.Errorf("throat %v, want %v", w.TheoreticalThroat, height)
			}
		})
	}
}

// Skewed fillets: closed forms a = z·cos(ψ/2), gauge leg = z·sin ψ and
// area = ½z²·sin ψ, with a fitted stem end.
func TestSkewedFillet(t *testing.T) {
	for _, deg := range []float64{30, 45, 60, 75, 90, 105, 120, 150} {
		t.Run(fmt.Sprint(deg), func(t *testing.T) {
			const z, g = 6.0, 0.4
			psi := deg * math.Pi / 180
			s := mustTee(t, joints.Tee{Base: plate(10), Stem: plate(4), Angle: geometry.Angle(deg) * geometry.Degree, StemEnd: joints.StemFitted,
				Gap: g, Arrow: joints.EqualFillet(z), Other: joints.EqualFillet(z)})
			for i, p := range []float64{psi, math.Pi - psi} {
				toe := 180 - (180-p*180/math.Pi)/2
				root := g / math.Sin(p) // along the stem
				want := numbers{
					Legs: [2]float64{z, z}, Gauge: [2]float64{z * math.Sin(p), z * math.Sin(p)},
					Theory: z * math.Cos(p/2), Effect: (z - root) * math.Cos(p/2), Actual: (z - root) * math.Cos(p/2),
					Face: 2 * z * math.Sin(p/2), Area: z * z * math.Sin(p) / 2, Deposit: z * z * math.Sin(p) / 2,
					ToeAngles: [2]float64{toe, toe},
				}
				if d := cmp.Diff(want, numbersOf(s.Welds[i]), cmpopts.EquateApprox(0, 1e-9)); d != "" {
					t.Errorf("side %d: %s", i, d)
				}
			}
		})
	}
}

// A square stem end stands stem·|cos ψ| off the base on the obtuse side.
func TestSquareStemEndLeavesAWedge(t *testing.T) {
	for _, deg := range []float64{60, 120} {
		s := mustTee(t, joints.Tee{Base: plate(10), Stem: plate(4), Angle: geometry.Angle(deg) * geometry.Degree, Gap: 0.2,
			Arrow: joints.EqualFillet(6), Other: joints.EqualFillet(6)})
		acute, obtuse := s.Welds[0], s.Welds[1]
		if deg > 90 {
			acute, obtuse = obtuse, acute
		}
		if d := cmp.Diff(0.2, float64(acute.Gap), exact); d != "" {
			t.Error(d)
		}
		if d := cmp.Diff(0.2+4*0.5, float64(obtuse.Gap), cmpopts.EquateApprox(0, 1e-9)); d != "" {
			t.Error(d)
		}
	}
}

// A leg solved from a throat gives that throat back.
func TestThroatGivesTheLeg(t *testing.T) {
	for _, tt := range []joints.Fillet{
		{Throat: 3},
		{Throat: 3, Face: joints.FaceConcave, Rise: 0.4},
		{Throat: 3, Face: joints.FaceConvex, Rise: 0.4},
		{Throat: 3, Penetration: 1, Proven: true},
		{Throat: 3, Penetration: 1},
	} {
		for _, deg := range []float64{60, 90, 110} {
			f := tt
			s := mustTee(t, joints.Tee{Base: plate(10), Stem: plate(6), Angle: geometry.Angle(deg) * geometry.Degree, Gap: 0.5, Arrow: &f})
			if d := cmp.Diff(3.0, float64(s.Welds[0].EffectiveThroat), cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("%+v at %v°: %s", tt, deg, d)
			}
		}
	}
}

// Penetration moves the weld root along the faying surface; it feeds the
// actual throat always and the effective throat only where it is proven.
func TestPenetration(t *testing.T) {
	const z, p, g = 6.0, 1.5, 0.5
	for _, proven := range []bool{false, true} {
		f := joints.EqualFillet(z)
		f.Penetration, f.Proven = p, proven
		s := mustTee(t, joints.Tee{Base: plate(10), Stem: plate(6), Gap: g, Arrow: f})
		w := s.Welds[0]
		effect := (z - g) / math.Sqrt2
		if proven {
			effect = (z - g + p) / math.Sqrt2
		}
		want := numbers{
			Legs: [2]float64{z, z}, Gauge: [2]float64{z, z}, Theory: z / math.Sqrt2, Effect: effect, Actual: (z - g + p) / math.Sqrt2,
			Face: z * math.Sqrt2, Deposit: z*z/2 + p*g, Area: z*z/2 + p*g + (z-g)*p/2, ToeAngles: [2]float64{135, 135},
		}
		if d := cmp.Diff(want, numbersOf(w), cmpopts.EquateApprox(0, 1e-9)); d != "" {
			t.Errorf("proven %v: %s", proven, d)
		}
		if d := cmp.Diff((z-g)*p/2, w.MeltedBaseArea, exact); d != "" {
			t.Error(d)
		}
	}
}

// A fusion line is a parabola over the surface: ⅔ · width · depth.
func TestFusionDepth(t *testing.T) {
	f := joints.EqualFillet(6)
	f.Fusion = [2]geometry.Length{0.9, 0.6}
	s := mustTee(t, joints.Tee{Base: plate(10), Stem: plate(6), Gap: 0.5, Arrow: f})
	want := 2.0/3*6*0.9 + 2.0/3*5.5*0.6
	if d := cmp.Diff(want, s.Welds[0].MeltedBaseArea, exact); d != "" {
		t.Error(d)
	}
}

func TestLapEdgeRemaining(t *testing.T) {
	s, err := joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(4), Overlap: 30, Gap: 0.5,
		Arrow: joints.EqualFillet(3), Other: joints.EqualFillet(5)})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{4 + 0.5 - 3, 6 + 0.5 - 5} {
		got := s.Welds[i].Feet[1].EdgeRemaining
		if d := cmp.Diff(joints.Some(geometry.Length(want)), got, exact); d != "" {
			t.Error(d)
		}
	}
	if s.Welds[1].Feet[1].Member != 0 || s.Welds[0].Feet[1].Member != 1 {
		t.Error("the arrow weld stands on the upper plate's edge, the other on the lower plate's")
	}
	consumed, err := joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(4), Overlap: 30, Arrow: joints.EqualFillet(4)})
	if err != nil {
		t.Fatal(err)
	}
	if len(consumed.Notes) != 1 {
		t.Errorf("an edge consumed whole is noted, got %q", consumed.Notes)
	}
}

func TestRefusals(t *testing.T) {
	nan := geometry.Length(math.NaN())
	for name, tt := range map[string]struct {
		tee   joints.Tee
		code  joints.FaultCode
		field string
	}{
		"no weld":            {joints.Tee{Base: plate(8), Stem: plate(3)}, joints.FaultMissing, "welds"},
		"zero thickness":     {joints.Tee{Base: plate(0), Stem: plate(3), Arrow: joints.EqualFillet(3)}, joints.FaultRange, "base.thickness"},
		"negative thickness": {joints.Tee{Base: plate(8), Stem: plate(-3), Arrow: joints.EqualFillet(3)}, joints.FaultRange, "stem.thickness"},
		"NaN gap":            {joints.Tee{Base: plate(8), Stem: plate(3), Gap: nan, Arrow: joints.EqualFillet(3)}, joints.FaultNotNumber, "gap"},
		"NaN leg":            {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(nan)}, joints.FaultNotNumber, "welds.arrow.leg"},
		"gap past the end":   {joints.Tee{Base: plate(8), Stem: plate(3), Gap: 6, Arrow: joints.EqualFillet(9)}, joints.FaultRange, "gap"},
		"leg under the gap":  {joints.Tee{Base: plate(8), Stem: plate(3), Gap: 3, Arrow: joints.EqualFillet(3)}, joints.FaultLeg, "welds.arrow.leg"},
		"angle":              {joints.Tee{Base: plate(8), Stem: plate(3), Angle: 20 * geometry.Degree, Arrow: joints.EqualFillet(3)}, joints.FaultRange, "angle"},
		"flat with rise":     {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Rise: 0.5}}, joints.FaultConflict, "welds.arrow.rise"},
		"too convex":         {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Face: joints.FaceConvex, Rise: 2}}, joints.FaultFace, "welds.arrow.rise"},
		"too concave":        {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Face: joints.FaceConcave, Rise: 2}}, joints.FaultFace, "welds.arrow.rise"},
		"two sizes":          {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Throat: 3}}, joints.FaultConflict, "welds.arrow.leg"},
		"unknown face":       {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Face: "bumpy"}}, joints.FaultUnknown, "welds.arrow.face"},
		"melts through":      {joints.Tee{Base: plate(2), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Fusion: [2]geometry.Length{2.5, 0}}}, joints.FaultFusion, "welds.arrow.fusion"},
		"penetrates through": {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Penetration: 4}}, joints.FaultFusion, "welds.arrow.penetration"},
		"sides meet": {joints.Tee{Base: plate(8), Stem: plate(3), Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Penetration: 2},
			Other: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Penetration: 2}}, joints.FaultOverlap, "welds"},
		"overhanging toe": {joints.Tee{Base: plate(8), Stem: plate(3), Angle: 40 * geometry.Degree, Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 9}}}, joints.FaultLeg, "welds.arrow.leg"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := joints.NewTee(tt.tee)
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
	if _, err := joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(4), Overlap: 30, Arrow: joints.EqualFillet(5)}); !joints.AsFaults(err).Has(joints.FaultLeg, "welds.arrow.leg") {
		t.Errorf("a leg longer than the upper plate's edge must be refused, got %v", err)
	}
}

// All faults of an input come at once.
func TestAllFaultsAtOnce(t *testing.T) {
	_, err := joints.NewTee(joints.Tee{Base: plate(0), Stem: plate(900), Gap: -1, Angle: 3})
	if got := len(joints.AsFaults(err)); got != 5 {
		t.Errorf("want 5 faults, got %d: %v", got, err)
	}
}
