package joints_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
)

func mustEdge(t *testing.T, p joints.Edge) joints.Section {
	t.Helper()
	s, err := joints.NewEdge(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func capArea(shape joints.CapShape, width, rise float64) float64 {
	switch {
	case rise == 0:
		return 0
	case shape == joints.CapParabola:
		return 2.0 / 3 * width * rise
	case shape == joints.CapFlat:
		return width * rise
	}
	return segment(width, rise)
}

// Square and flanged edges: cap over both edges, the gap filled to the weld
// root, a melted triangle in each member.
func TestEdgeBead(t *testing.T) {
	for _, tt := range []struct {
		left, right, gap, pen, cap float64
		shape                      joints.CapShape
	}{
		{3, 3, 0, 2, 0, ""}, {3, 4, 0, 2, 0.8, joints.CapArc}, {3, 5, 0.4, 1.5, 0.8, joints.CapParabola}, {2, 6, 0.3, 1, 0.5, joints.CapFlat},
	} {
		for _, form := range []joints.EdgeForm{joints.EdgeSquare, joints.EdgeFlanged} {
			t.Run(fmt.Sprint(form, tt), func(t *testing.T) {
				p := joints.Edge{Left: plate(tt.left), Right: plate(tt.right), Form: form, Gap: geometry.Length(tt.gap),
					Outside: &joints.Bead{Penetration: geometry.Length(tt.pen), Cap: geometry.Length(tt.cap), CapShape: tt.shape}}
				if form == joints.EdgeFlanged {
					p.FlangeHeight = 20
				}
				s := mustEdge(t, p)
				w := s.Welds[0]
				width := tt.left + tt.right + tt.gap
				toe := 270.0
				switch {
				case tt.cap == 0:
				case tt.shape == joints.CapFlat:
					toe = 180
				case tt.shape == joints.CapParabola:
					toe -= math.Atan(4*tt.cap/width) * 180 / math.Pi
				default:
					toe -= 2 * math.Atan(2*tt.cap/width) * 180 / math.Pi
				}
				deposit := capArea(tt.shape, width, tt.cap) + tt.gap*tt.pen
				want := numbers{
					Legs: [2]float64{tt.left, tt.right}, Theory: tt.pen, Effect: tt.pen, Actual: float64(w.ActualThroat), Face: width,
					Deposit: deposit, Area: deposit + tt.pen*(tt.left+tt.right)/2, ToeAngles: [2]float64{toe, toe},
				}
				if d := cmp.Diff(want, numbersOf(w), within); d != "" {
					t.Error(d)
				}
				if w.Kind != joints.EdgeWeld || w.JointRoot != (geometry.Point{}) {
					t.Errorf("%s weld with its joint root at %v", w.Kind, w.JointRoot)
				}
				wantPolygonArea(t, w)
				nothingOverlaps(t, s)
			})
		}
	}
}

// Legs shorter than the edges leave the rest of them; fusion deepens the
// melted metal to a parabola.
func TestEdgeLegsAndFusion(t *testing.T) {
	s := mustEdge(t, joints.Edge{Left: plate(3), Right: plate(6),
		Outside: &joints.Bead{Legs: lengths(2, 3), Penetration: 2, Fusion: lengths(1.5, 1.8)}})
	w := s.Welds[0]
	if d := cmp.Diff(2.0/6*(4*1.5+2)+3.0/6*(4*1.8+2), w.MeltedBaseArea, within); d != "" {
		t.Error(d)
	}
	for i, want := range []float64{1, 3} {
		if d := cmp.Diff(joints.Some(geometry.Length(want)), w.Feet[i].EdgeRemaining, exact); d != "" {
			t.Error(d)
		}
	}
	nothingOverlaps(t, s)
}

// Bevelled edges: the groove's area, depth as throat, penetration where proven.
func TestEdgeGroove(t *testing.T) {
	tan := func(d float64) float64 { return math.Tan(d * math.Pi / 180) }
	for _, tt := range []struct{ gap, depth, left, right, cap, lap float64 }{
		{0, 3, 45, 45, 0, 0}, {0.5, 2, 30, 50, 0, 0}, {0, 3, 0, 45, 0, 0}, {0.4, 2.5, 40, 40, 1, 0.8},
	} {
		t.Run(fmt.Sprint(tt), func(t *testing.T) {
			s := mustEdge(t, joints.Edge{Left: plate(6), Right: plate(5), Form: joints.EdgeBevelled, Gap: geometry.Length(tt.gap),
				Depth: geometry.Length(tt.depth), Bevel: [2]geometry.Angle{deg(tt.left), deg(tt.right)},
				Outside: &joints.Bead{Cap: geometry.Length(tt.cap), CapLap: geometry.Length(tt.lap)}})
			w := s.Welds[0]
			groove := tt.gap*tt.depth + tt.depth*tt.depth*(tan(tt.left)+tan(tt.right))/2
			legs := [2]float64{tt.depth*tan(tt.left) + tt.lap, tt.depth*tan(tt.right) + tt.lap}
			width := legs[0] + legs[1] + tt.gap
			area := groove + capArea(joints.CapArc, width, tt.cap)
			if d := cmp.Diff([]float64{groove, area, area, width, tt.depth, tt.depth, 6 - legs[0], 5 - legs[1]},
				[]float64{w.GrooveArea, w.Area, w.DepositedArea, float64(w.FaceWidth), float64(w.TheoreticalThroat), float64(w.EffectiveThroat),
					float64(w.Feet[0].EdgeRemaining.Value), float64(w.Feet[1].EdgeRemaining.Value)}, within); d != "" {
				t.Error(d)
			}
			if w.Kind != joints.EdgeWeld {
				t.Errorf("want an edge weld, got %s", w.Kind)
			}
			wantPolygonArea(t, w)
			nothingOverlaps(t, s)
		})
	}
	for _, proven := range []bool{false, true} {
		s := mustEdge(t, joints.Edge{Left: plate(6), Right: plate(6), Form: joints.EdgeBevelled, Gap: 0.5, Depth: 3,
			Outside: &joints.Bead{Penetration: 1, Proven: proven, Fusion: lengths(0.6, 0.6)}})
		want := 3.0
		if proven {
			want = 4
		}
		if d := cmp.Diff(want, float64(s.Welds[0].EffectiveThroat), exact); d != "" {
			t.Errorf("proven %v: %s", proven, d)
		}
		nothingOverlaps(t, s)
	}
}

// A bent sheet is thickness · (flange + bend along its middle + level part).
func TestFlangedSheets(t *testing.T) {
	for _, r := range [][2]joints.Opt{{}, {joints.Some(0), joints.Some(4)}, {joints.Some(2.5), joints.Some(2.5)}} {
		p := joints.Edge{Left: plate(1.5), Right: plate(2), Form: joints.EdgeFlanged, FlangeHeight: 15, BendRadius: r, Gap: 0.2,
			Outside: &joints.Bead{Penetration: 1.5}}
		s := mustEdge(t, p)
		for i, m := range s.Members {
			tm := float64(m.Thickness)
			radius := tm
			if r[i].Present {
				radius = float64(r[i].Value)
			}
			box := m.Outline.Bounds()
			want := tm * ((15 - tm - radius) + math.Pi/2*(radius+tm/2) + (box.Max.X - box.Min.X - tm - radius))
			if d := cmp.Diff(want, m.Outline.Area(), within); d != "" {
				t.Errorf("%s, radius %v: %s", m.Name, radius, d)
			}
			if d := cmp.Diff([2]float64{-15, 0}, [2]float64{box.Min.Y, box.Max.Y}, within); d != "" {
				t.Errorf("%s: %s", m.Name, d)
			}
			end := m.Outline.Edge(m.Broken[0])
			if len(m.Broken) != 1 || end.Start().X != end.End().X || math.Abs(end.Start().X) < math.Max(box.Max.X, -box.Min.X)-1e-9 {
				t.Errorf("%s: broken off at %v", m.Name, end)
			}
		}
		radii := 0
		for _, m := range s.Measures {
			if m.Name == "bend radius" && m.Draw == joints.DrawRadius {
				radii++
				if d := cmp.Diff(m.Value, m.From.Dist(m.To), within); d != "" {
					t.Error(d)
				}
			}
		}
		if radii != 2 {
			t.Errorf("%d bend radii", radii)
		}
	}
}

// Equal members make a weld that is its own mirror image, and a closing gap
// changes nothing by a jump.
func TestEdgeLimits(t *testing.T) {
	for form, p := range map[joints.EdgeForm]joints.Edge{
		joints.EdgeSquare:   {},
		joints.EdgeBevelled: {Depth: 2},
		joints.EdgeFlanged:  {FlangeHeight: 20},
	} {
		p.Left, p.Right, p.Form, p.Outside = plate(3), plate(3), form, &joints.Bead{Penetration: 1, Cap: 0.6}
		shut := mustEdge(t, p).Welds[0]
		if math.Abs(shut.Centroid.X) > 1e-12 || !near(float64(shut.Feet[0].ToeAngle), float64(shut.Feet[1].ToeAngle), 1e-12) {
			t.Errorf("%s: centroid %v, toe angles %v and %v", form, shut.Centroid, shut.Feet[0].ToeAngle, shut.Feet[1].ToeAngle)
		}
		p.Gap = 1e-7
		if d := cmp.Diff(numbersOf(shut), numbersOf(mustEdge(t, p).Welds[0]), loosely); d != "" {
			t.Errorf("%s: %s", form, d)
		}
	}
}

// The fields of a fault name the parameter; conditions on choices hold for
// files as they do for the typed parameters.
func TestEdgeRefusals(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*joints.Edge)
		code   joints.FaultCode
		field  string
	}{
		"no weld":                 {func(p *joints.Edge) { p.Outside = nil }, joints.FaultMissing, "welds"},
		"unknown form":            {func(p *joints.Edge) { p.Form = "round" }, joints.FaultUnknown, "form"},
		"NaN gap":                 {func(p *joints.Edge) { p.Gap = geometry.Length(math.NaN()) }, joints.FaultNotNumber, "gap"},
		"no penetration":          {func(p *joints.Edge) { p.Outside.Penetration = 0 }, joints.FaultMissing, "welds.outside.penetration"},
		"hairline penetration":    {func(p *joints.Edge) { p.Outside.Penetration = 0.01 }, joints.FaultRange, "welds.outside.penetration"},
		"leg past the edge":       {func(p *joints.Edge) { p.Outside.Legs = lengths(4, 2) }, joints.FaultLeg, "welds.outside.leg"},
		"one leg":                 {func(p *joints.Edge) { p.Outside.Legs = lengths(2, 0) }, joints.FaultRange, "welds.outside.leg"},
		"cap too high":            {func(p *joints.Edge) { p.Outside.Cap = 4 }, joints.FaultFace, "welds.outside.cap"},
		"negative cap":            {func(p *joints.Edge) { p.Outside.Cap = -1 }, joints.FaultRange, "welds.outside.cap"},
		"unknown cap shape":       {func(p *joints.Edge) { p.Outside.CapShape = "cone" }, joints.FaultUnknown, "welds.outside.cap-shape"},
		"shallow fusion":          {func(p *joints.Edge) { p.Outside.Fusion = lengths(0.3, 1) }, joints.FaultFusion, "welds.outside.fusion"},
		"depth of a square edge":  {func(p *joints.Edge) { p.Depth = 2 }, joints.FaultConflict, "depth"},
		"bevel of a square edge":  {func(p *joints.Edge) { p.Bevel[0] = deg(30) }, joints.FaultConflict, "bevel-angle"},
		"bend of a square edge":   {func(p *joints.Edge) { p.BendRadius[0] = joints.Some(2) }, joints.FaultConflict, "bend-radius"},
		"flange of a square edge": {func(p *joints.Edge) { p.FlangeHeight = 20 }, joints.FaultConflict, "flange-height"},
		"lap of a square edge":    {func(p *joints.Edge) { p.Outside.CapLap = 1 }, joints.FaultConflict, "welds.outside.cap-lap"},
		"proven on a square edge": {func(p *joints.Edge) { p.Outside.Proven = true }, joints.FaultConflict, "welds.outside.proven"},
		"no depth":                {func(p *joints.Edge) { p.Form = joints.EdgeBevelled }, joints.FaultMissing, "depth"},
		"bevel past the edge":     {func(p *joints.Edge) { p.Form, p.Depth = joints.EdgeBevelled, 3.5 }, joints.FaultUnfit, "depth"},
		"bevel angle": {func(p *joints.Edge) {
			p.Form, p.Depth, p.Bevel = joints.EdgeBevelled, 1, [2]geometry.Angle{deg(80), deg(30)}
		}, joints.FaultRange, "bevel-angle"},
		"leg on a groove": {func(p *joints.Edge) { p.Form, p.Depth, p.Outside.Legs = joints.EdgeBevelled, 2, lengths(2, 2) }, joints.FaultConflict, "welds.outside.leg"},
		"lap past the edge": {func(p *joints.Edge) {
			p.Form, p.Depth, p.Outside.Cap, p.Outside.CapLap = joints.EdgeBevelled, 2, 0.5, 1.5
		}, joints.FaultLeg, "welds.outside.cap-lap"},
		"groove melted through":  {func(p *joints.Edge) { p.Form, p.Depth, p.Outside.Fusion = joints.EdgeBevelled, 1, lengths(3.5, 0) }, joints.FaultFusion, "welds.outside.fusion"},
		"no metal":               {func(p *joints.Edge) { p.Form, p.Depth, p.Bevel = joints.EdgeBevelled, 1, [2]geometry.Angle{1e-12, 0} }, joints.FaultGeometry, "welds.outside.cap"},
		"no flange height":       {func(p *joints.Edge) { p.Form = joints.EdgeFlanged }, joints.FaultMissing, "flange-height"},
		"flange below the bend":  {func(p *joints.Edge) { p.Form, p.FlangeHeight = joints.EdgeFlanged, 6 }, joints.FaultUnfit, "flange-height"},
		"melted past the flange": {func(p *joints.Edge) { p.Form, p.FlangeHeight = joints.EdgeFlanged, 9; p.Outside.Penetration = 2 }, joints.FaultFusion, "welds.outside.penetration"},
		"fused past the flange": {func(p *joints.Edge) {
			p.Form, p.FlangeHeight = joints.EdgeFlanged, 10
			p.Outside.Fusion = lengths(3, 3)
		}, joints.FaultFusion, "welds.outside.fusion"},
		"negative bend": {func(p *joints.Edge) {
			p.Form, p.FlangeHeight, p.BendRadius[1] = joints.EdgeFlanged, 20, joints.Some(-1)
		}, joints.FaultRange, "bend-radius"},
	} {
		t.Run(name, func(t *testing.T) {
			p := joints.Edge{Left: plate(3), Right: plate(4), Outside: &joints.Bead{Penetration: 1.5}}
			tt.change(&p)
			_, err := joints.NewEdge(p)
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
	thickness := joints.PlateInput{Thickness: joints.Value{Text: "3", Number: 3}}
	for _, lap := range []joints.Value{{Text: "0"}, {Text: "1", Number: 1}} {
		_, err := joints.Build(joints.Input{Kind: "edge", Plates: map[string]joints.PlateInput{"left": thickness, "right": thickness},
			Welds: map[string]map[string]joints.Value{"outside": {"penetration": {Text: "1", Number: 1}, "cap-lap": lap}}})
		if faults := joints.AsFaults(err); len(faults) != 1 || !faults.Has(joints.FaultConflict, "welds.outside.cap-lap") {
			t.Errorf("a weld's parameter that does not apply must be refused once, whatever its value, got %v", err)
		}
	}
}

func FuzzEdge(f *testing.F) {
	f.Add(3.0, 4.0, 0.2, 2.0, 0.5, 20.0, 2.0, 1.5, 0.8, 0.6, uint8(0))
	f.Add(6.0, 6.0, 0.0, 2.0, 0.5, 20.0, 2.0, 1.0, 0.8, 0.6, uint8(1))
	f.Add(2.0, 1.5, 0.2, 2.0, 0.5, 20.0, 0.0, 1.5, 0.0, 0.6, uint8(2))
	f.Fuzz(func(t *testing.T, left, right, gap, depth, bevel, height, radius, pen, rise, fusion float64, pick uint8) {
		forms := [...]joints.EdgeForm{joints.EdgeSquare, joints.EdgeBevelled, joints.EdgeFlanged}
		shapes := [...]joints.CapShape{joints.CapArc, joints.CapParabola, joints.CapFlat}
		p := joints.Edge{Left: plate(left), Right: plate(right), Form: forms[pick%3], Gap: geometry.Length(gap),
			Outside: &joints.Bead{Penetration: geometry.Length(pen), Cap: geometry.Length(rise), CapShape: shapes[pick/3%3], Fusion: lengths(fusion, fusion)}}
		switch p.Form {
		case joints.EdgeBevelled:
			p.Depth, p.Bevel, p.Outside.CapLap = geometry.Length(depth), [2]geometry.Angle{geometry.Angle(bevel), 0.5}, geometry.Length(radius)
		case joints.EdgeFlanged:
			p.FlangeHeight, p.BendRadius = geometry.Length(height), [2]joints.Opt{joints.Some(geometry.Length(radius))}
		}
		s, err := joints.NewEdge(p)
		soundOrRefused(t, s, err)
	})
}

func BenchmarkEdge(b *testing.B) {
	p := joints.Edge{Left: plate(1.5), Right: plate(2), Form: joints.EdgeFlanged, FlangeHeight: 15, Gap: 0.2,
		Outside: &joints.Bead{Penetration: 1.5, Cap: 0.8, Fusion: lengths(1, 1)}}
	for b.Loop() {
		if _, err := joints.NewEdge(p); err != nil {
			b.Fatal(err)
		}
	}
}
