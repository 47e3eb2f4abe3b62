package joints_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/peterstace/simplefeatures/geom"

	"fay/geometry"
	"fay/joints"
)

func deg(d float64) geometry.Angle { return geometry.Angle(d) * geometry.Degree }

func mustButt(t *testing.T, p joints.Butt) joints.Section {
	t.Helper()
	s, err := joints.NewButt(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// polygonArea takes the area of an outline by a general polygon library, on
// the flattened outline.
func polygonArea(t *testing.T, o geometry.Outline) float64 {
	t.Helper()
	var coords []float64
	pts := o.Flatten(1e-6)
	for _, p := range append(pts, pts[0]) {
		coords = append(coords, p.X, p.Y)
	}
	return geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(coords, geom.DimXY))}).Area()
}

// Every preparation's area three ways: the closed form written here, the edge
// integral of the model, and a polygon library on the flattened outline.
func TestGrooveAreasThreeWays(t *testing.T) {
	tan := func(d float64) float64 { return math.Tan(d * math.Pi / 180) }
	sin := func(d float64) float64 { return math.Sin(d * math.Pi / 180) }
	cos := func(d float64) float64 { return math.Cos(d * math.Pi / 180) }
	// One half of a U or J beyond the opening: the arc's share, the strip over
	// it, the triangle over that.
	half := func(r, b, depth float64) float64 {
		h2 := depth - r*(1-sin(b))
		return r*r/2*((math.Pi/2-b*math.Pi/180)-sin(b)*cos(b)) + r*cos(b)*h2 + h2*h2*tan(b)/2
	}
	w := &joints.Groove{}
	for name, tt := range map[string]struct {
		p    joints.Butt
		want float64
	}{
		"square":                {joints.Butt{RootOpening: 2}, 2 * 10},
		"square both sides":     {joints.Butt{RootOpening: 2, Other: w}, 2 * 10},
		"single-v":              {joints.Butt{Prep: joints.PrepSingleV, RootOpening: 2, RootFace: 1.5, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(35), deg(35)}}}, 2*10 + 8.5*8.5*tan(35)},
		"single-v unequal":      {joints.Butt{Prep: joints.PrepSingleV, RootOpening: 2, RootFace: 1.5, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(10), deg(45)}}}, 2*10 + 8.5*8.5*(tan(10)+tan(45))/2},
		"single-bevel":          {joints.Butt{Prep: joints.PrepSingleBevel, RootOpening: 3, RootFace: 1, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(50), deg(50)}}}, 3*10 + 81*tan(50)/2},
		"single-u":              {joints.Butt{Prep: joints.PrepSingleU, RootOpening: 1, RootFace: 2, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(12), deg(12)}, Radius: [2]geometry.Length{4, 4}}}, 1*10 + 2*half(4, 12, 8)},
		"single-u unequal":      {joints.Butt{Prep: joints.PrepSingleU, RootOpening: 1, RootFace: 2, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(12), deg(20)}, Radius: [2]geometry.Length{4, 3}}}, 1*10 + half(4, 12, 8) + half(3, 20, 8)},
		"single-j":              {joints.Butt{Prep: joints.PrepSingleJ, RootOpening: 1, RootFace: 2, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(20), deg(20)}, Radius: [2]geometry.Length{5, 5}}}, 1*10 + half(5, 20, 8)},
		"double-v":              {joints.Butt{Prep: joints.PrepDoubleV, RootOpening: 2, RootFace: 2, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(30), deg(30)}}, OtherFlank: joints.Flank{Bevel: [2]geometry.Angle{deg(30), deg(30)}}, Other: w}, 2*10 + 2*16*tan(30)},
		"double-v unsymmetric":  {joints.Butt{Prep: joints.PrepDoubleV, RootOpening: 2, RootFace: 1, Flank: joints.Flank{Depth: 6, Bevel: [2]geometry.Angle{deg(30), deg(30)}}, OtherFlank: joints.Flank{Bevel: [2]geometry.Angle{deg(40), deg(25)}}, Other: w}, 2*10 + 36*tan(30) + 9*(tan(40)+tan(25))/2},
		"double-bevel":          {joints.Butt{Prep: joints.PrepDoubleBevel, RootOpening: 2, Flank: joints.Flank{Bevel: [2]geometry.Angle{0, deg(45)}}, OtherFlank: joints.Flank{Bevel: [2]geometry.Angle{0, deg(45)}}, Other: w}, 2*10 + 2*25*tan(45)/2},
		"double-u":              {joints.Butt{Prep: joints.PrepDoubleU, RootOpening: 1, RootFace: 2, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(10), deg(10)}, Radius: [2]geometry.Length{2, 2}}, OtherFlank: joints.Flank{Bevel: [2]geometry.Angle{deg(10), deg(10)}, Radius: [2]geometry.Length{3, 3}}, Other: w}, 1*10 + 2*half(2, 10, 4) + 2*half(3, 10, 4)},
		"double-j":              {joints.Butt{Prep: joints.PrepDoubleJ, Prepared: "left", RootOpening: 1, RootFace: 2, Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(15), 0}, Radius: [2]geometry.Length{2, 0}}, OtherFlank: joints.Flank{Bevel: [2]geometry.Angle{deg(15), 0}, Radius: [2]geometry.Length{2, 0}}, Other: w}, 1*10 + 2*half(2, 15, 4)},
		"partial single-v":      {joints.Butt{Prep: joints.PrepSingleV, RootOpening: 1, Flank: joints.Flank{Depth: 4, Bevel: [2]geometry.Angle{deg(30), deg(30)}}}, 1*4 + 16*tan(30)},
		"partial single-v, b=0": {joints.Butt{Prep: joints.PrepSingleV, Flank: joints.Flank{Depth: 4, Bevel: [2]geometry.Angle{deg(30), deg(30)}}}, 16 * tan(30)},
	} {
		t.Run(name, func(t *testing.T) {
			p := tt.p
			p.Left, p.Right, p.Arrow = plate(10), plate(10), w
			s := mustButt(t, p)
			var groove, polygon float64
			for _, w := range s.Welds {
				groove += w.GrooveArea
				polygon += polygonArea(t, w.Profile)
			}
			if d := cmp.Diff(tt.want, groove, cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("groove area: %s", d)
			}
			if d := cmp.Diff(tt.want, s.DepositedArea(), cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("deposited area: %s", d)
			}
			if d := cmp.Diff(tt.want, polygon, cmpopts.EquateApprox(0, 1e-4)); d != "" {
				t.Errorf("polygon area: %s", d)
			}
		})
	}
}

// Caps: ⅔ of width times height for the parabola, the circular segment for the
// arc, the rectangle for the flat one; lap widens the cap.
func TestCaps(t *testing.T) {
	const b, h, lap = 4.0, 0.8, 1.0
	width := b + 2*lap
	r := (width*width/4 + h*h) / (2 * h)
	half := math.Asin(width / 2 / r)
	for shape, segment := range map[joints.CapShape]float64{
		joints.CapParabola: 2.0 / 3 * width * h,
		joints.CapArc:      r*r*half - width/2*(r-h),
		joints.CapFlat:     width * h,
	} {
		s := mustButt(t, joints.Butt{Left: plate(6), Right: plate(6), RootOpening: b,
			Arrow: &joints.Groove{Cap: h, CapLap: lap, CapShape: shape, Root: h, RootLap: lap}})
		w := s.Welds[0]
		if d := cmp.Diff(b*6+2*segment, w.DepositedArea, cmpopts.EquateApprox(0, 1e-9)); d != "" {
			t.Errorf("%s: %s", shape, d)
		}
		if d := cmp.Diff(joints.Some(geometry.Length(width)), w.CapWidth, exact); d != "" {
			t.Errorf("%s: %s", shape, d)
		}
		if d := cmp.Diff(geometry.Length(6), w.EffectiveThroat, exact); d != "" {
			t.Errorf("%s: reinforcement must not count in the throat: %s", shape, d)
		}
	}
}

// Unequal plates with a flush root: the groove is as deep as the thinner
// plate, the face climbs the proud edge, and a taper takes the step away.
func TestUnequalButt(t *testing.T) {
	base := joints.Butt{Left: plate(5), Right: plate(8), RootOpening: 2, Prep: joints.PrepSingleV,
		Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(30), deg(30)}}, Arrow: &joints.Groove{}}
	groove := 2*5 + 25*math.Tan(math.Pi/6)
	width := 2 + 2*5*math.Tan(math.Pi/6)
	plain := mustButt(t, base).Welds[0]
	if d := cmp.Diff(groove, plain.GrooveArea, exact); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(groove+width*3/2, plain.DepositedArea, cmpopts.EquateApprox(0, 1e-9)); d != "" {
		t.Errorf("the face runs from toe to toe up the proud edge: %s", d)
	}
	if d := cmp.Diff(geometry.Length(5), plain.EffectiveThroat, exact); d != "" {
		t.Error(d)
	}
	tapered := base
	tapered.Transition = 4
	if d := cmp.Diff(groove, mustButt(t, tapered).Welds[0].DepositedArea, cmpopts.EquateApprox(0, 1e-9)); d != "" {
		t.Errorf("tapered: %s", d)
	}
	// As the taper gets steeper the members become those without one.
	want := mustButt(t, base).Members[1].Outline.Area()
	for _, slope := range []float64{1e-2, 1e-4, 1e-6} {
		steep := base
		steep.Transition = slope
		got := mustButt(t, steep).Members[1].Outline.Area()
		// Both are drawn to different lengths; compare by the missing taper.
		if diff := math.Abs(got - want - slope*3*8 + slope*9/2); diff > 1e-9 {
			t.Errorf("slope %v: area differs by %v", slope, diff)
		}
	}
}

func TestHiLoCostsThroat(t *testing.T) {
	for _, hl := range []geometry.Length{-1, 0.5, 1} {
		s := mustButt(t, joints.Butt{Left: plate(6), Right: plate(6), RootOpening: 2, HiLo: hl, Arrow: &joints.Groove{}})
		if d := cmp.Diff(6-geometry.Length(math.Abs(float64(hl))), s.Welds[0].EffectiveThroat, exact); d != "" {
			t.Errorf("hi-lo %v: %s", hl, d)
		}
	}
}

// One side's depth going to nothing leaves the single preparation.
func TestDoubleBecomesSingle(t *testing.T) {
	bevel := [2]geometry.Angle{deg(30), deg(30)}
	alone := mustButt(t, joints.Butt{Left: plate(10), Right: plate(10), RootOpening: 2, Prep: joints.PrepSingleV,
		Flank: joints.Flank{Bevel: bevel}, Arrow: &joints.Groove{}})
	single := alone.DepositedArea()
	for _, d := range []float64{1e-2, 1e-4, 1e-6} {
		both := mustButt(t, joints.Butt{Left: plate(10), Right: plate(10), RootOpening: 2, Prep: joints.PrepDoubleV,
			Flank: joints.Flank{Bevel: bevel}, OtherFlank: joints.Flank{Bevel: bevel, Depth: geometry.Length(d)},
			Arrow: &joints.Groove{}, Other: &joints.Groove{}})
		double := both.DepositedArea()
		if math.Abs(double-single) > 20*d {
			t.Errorf("other depth %v: %v, want about %v", d, double, single)
		}
	}
}

func TestButtRefusals(t *testing.T) {
	ok := joints.Butt{Left: plate(10), Right: plate(10), RootOpening: 2, Prep: joints.PrepSingleV, Arrow: &joints.Groove{}}
	for name, tt := range map[string]struct {
		change func(*joints.Butt)
		code   joints.FaultCode
		field  string
	}{
		"depth exceeds thickness":   {func(p *joints.Butt) { p.Flank.Depth = 12 }, joints.FaultUnfit, "depth"},
		"root face leaves nothing":  {func(p *joints.Butt) { p.RootFace = 10 }, joints.FaultUnfit, "root-face"},
		"radius larger than groove": {func(p *joints.Butt) { p.Prep = joints.PrepSingleU; p.Flank.Radius = [2]geometry.Length{25, 25} }, joints.FaultUnfit, "root-radius"},
		"depths overlap": {func(p *joints.Butt) {
			p.Prep, p.Other = joints.PrepDoubleV, &joints.Groove{}
			p.Flank.Depth, p.OtherFlank.Depth = 6, 6
		}, joints.FaultUnfit, "depth"},
		"hi-lo past the plate": {func(p *joints.Butt) { p.HiLo = 11 }, joints.FaultUnfit, "hi-lo"},
		"transition too long":  {func(p *joints.Butt) { p.Transition = 40 }, joints.FaultRange, "transition"},
		"double from one side": {func(p *joints.Butt) { p.Prep = joints.PrepDoubleV }, joints.FaultMissing, "welds.other"},
		"root on a partial":    {func(p *joints.Butt) { p.Flank.Depth = 4; p.Arrow = &joints.Groove{Root: 1} }, joints.FaultConflict, "welds.arrow.root"},
		"no metal":             {func(p *joints.Butt) { p.Prep, p.RootOpening = joints.PrepSquare, 0 }, joints.FaultGeometry, "welds.arrow.cap"},
		"root without width":   {func(p *joints.Butt) { p.RootOpening = 0; p.Arrow = &joints.Groove{Root: 1} }, joints.FaultFace, "welds.arrow.root"},
		"backing and hi-lo":    {func(p *joints.Butt) { p.HiLo = 1; p.Backing.Kind = joints.BackingStrip }, joints.FaultConflict, "backing"},
		"root through strip":   {func(p *joints.Butt) { p.Backing.Kind = joints.BackingStrip; p.Arrow = &joints.Groove{Root: 1} }, joints.FaultUnfit, "welds.arrow.root"},
		"square with a bevel":  {func(p *joints.Butt) { p.Prep = joints.PrepSquare; p.Flank.Bevel[0] = deg(20) }, joints.FaultConflict, "bevel-angle"},
		"unknown preparation":  {func(p *joints.Butt) { p.Prep = "singel-v" }, joints.FaultUnknown, "prep"},
		"cap higher than wide": {func(p *joints.Butt) { p.Arrow = &joints.Groove{Cap: 20} }, joints.FaultFace, "welds.arrow.cap"},
		"angle out of range":   {func(p *joints.Butt) { p.Flank.Bevel = [2]geometry.Angle{deg(80), deg(30)} }, joints.FaultRange, "bevel-angle"},
	} {
		t.Run(name, func(t *testing.T) {
			p := ok
			tt.change(&p)
			_, err := joints.NewButt(p)
			if !joints.AsFaults(err).Has(tt.code, tt.field) {
				t.Fatalf("want %s at %s, got %v", tt.code, tt.field, err)
			}
		})
	}
}

// Closed square edges hold no metal without a cap that laps over them; the
// message says so in words of the trade and what to give.
func TestClosedSquareEdges(t *testing.T) {
	butt := func(g joints.Groove, opening, depth float64) (joints.Section, error) {
		return joints.NewButt(joints.Butt{Left: joints.Plate{Thickness: 3}, Right: joints.Plate{Thickness: 3}, RootOpening: geometry.Length(opening),
			Flank: joints.Flank{Depth: geometry.Length(depth)}, Arrow: &g})
	}
	for name, tt := range map[string]struct {
		weld           joints.Groove
		opening, depth float64
		code           joints.FaultCode // empty: it is made
		remedy         string
	}{
		"nothing given":        {joints.Groove{}, 0, 0, joints.FaultGeometry, "cap=0.75mm cap-lap=3mm"},
		"fusion alone":         {joints.Groove{Fusion: [2]geometry.Length{1, 1}}, 0, 0, joints.FaultGeometry, "cap-lap"},
		"partial":              {joints.Groove{Penetration: 0.5}, 0, 2, joints.FaultGeometry, "cap=0.5mm cap-lap=2mm"},
		"a cap without width":  {joints.Groove{Cap: 1}, 0, 0, joints.FaultFace, "cap-lap=3mm"},
		"a cap as usual":       {joints.Groove{Cap: 0.75, CapLap: 3}, 0, 0, "", ""},
		"with fusion and root": {joints.Groove{Cap: 0.75, CapLap: 3, Root: 0.5, Fusion: [2]geometry.Length{2, 2}}, 0, 0, "", ""},
		"half round":           {joints.Groove{Cap: 2, CapLap: 2}, 0, 0, "", ""},
		// The lap counts once: half the face is 2 mm and no more.
		"more than half round": {joints.Groove{Cap: 2.5, CapLap: 2}, 0, 0, joints.FaultFace, "highest cap taken here is 2 mm"},
		"open":                 {joints.Groove{}, 1, 0, "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := butt(tt.weld, tt.opening, tt.depth)
			if tt.code == "" {
				if err != nil || s.DepositedArea() <= 0 {
					t.Errorf("deposited %v, %v", s.DepositedArea(), err)
				}
				return
			}
			faults := joints.AsFaults(err)
			if !faults.Has(tt.code, "welds.arrow.cap") || !strings.Contains(faults[0].Remedy, tt.remedy) || strings.Contains(faults[0].Rule, "outline") {
				t.Errorf("want %s with %q, got %v", tt.code, tt.remedy, err)
			}
		})
	}
}
