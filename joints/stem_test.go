package joints_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
)

// Prepared stems three ways: closed forms, edge integrals, polygon library.
func TestStemGrooveAreas(t *testing.T) {
	tan := func(d float64) float64 { return math.Tan(d * math.Pi / 180) }
	flush := &joints.Fillet{}
	fillet := joints.EqualFillet
	bevel := joints.StemBevel{Angle: deg(50)}
	for name, tt := range map[string]struct {
		p               joints.Tee
		deposit, throat float64
	}{
		"bevel flush":      {joints.Tee{Prep: joints.PrepSingleBevel, Gap: 2, RootFace: 1, ArrowBevel: bevel, Arrow: flush}, 2*10 + 81*tan(50)/2, 10},
		"bevel and fillet": {joints.Tee{Prep: joints.PrepSingleBevel, Gap: 2, RootFace: 1, ArrowBevel: bevel, Arrow: fillet(3)}, 2*10 + 81*tan(50)/2 + 4.5, 10},
		"fillet over the groove": {joints.Tee{Prep: joints.PrepSingleBevel, ArrowBevel: joints.StemBevel{Angle: deg(20), Depth: 5}, Arrow: fillet(4)},
			25*tan(20)/2 + 8, math.Hypot(5, 4)},
		"partial bevel flush":  {joints.Tee{Prep: joints.PrepSingleBevel, ArrowBevel: joints.StemBevel{Angle: deg(45), Depth: 4}, Arrow: flush}, 8, 4},
		"partial bevel, a gap": {joints.Tee{Prep: joints.PrepSingleBevel, Gap: 1, ArrowBevel: joints.StemBevel{Angle: deg(45), Depth: 4}, Arrow: flush}, 8 + 4, 4},
		"double bevel": {joints.Tee{Prep: joints.PrepDoubleBevel, Gap: 2, RootFace: 2, ArrowBevel: bevel, OtherBevel: bevel, Arrow: flush, Other: flush},
			2*10 + 2*16*tan(50)/2, 10},
	} {
		t.Run(name, func(t *testing.T) {
			p := tt.p
			p.Base, p.Stem = plate(12), plate(10)
			s := mustTee(t, p)
			if d := cmp.Diff(tt.deposit, s.DepositedArea(), cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("deposited: %s", d)
			}
			var polygon float64
			for _, w := range s.Welds {
				polygon += polygonArea(t, w.Profile)
			}
			if d := cmp.Diff(tt.deposit, polygon, cmpopts.EquateApprox(0, 1e-4)); d != "" {
				t.Errorf("polygon: %s", d)
			}
			if len(s.Welds) == 1 {
				if d := cmp.Diff(geometry.Length(tt.throat), s.Welds[0].EffectiveThroat, cmpopts.EquateApprox(0, 1e-9)); d != "" {
					t.Errorf("throat: %s", d)
				}
			}
		})
	}
}

// A J on the stem has the half-profile of a butt joint's J.
func TestStemJ(t *testing.T) {
	const depth, r, beta = 8.0, 4.0, 20.0
	s := mustTee(t, joints.Tee{Base: plate(12), Stem: plate(10), Prep: joints.PrepSingleJ,
		ArrowBevel: joints.StemBevel{Angle: deg(beta), Radius: r, Depth: depth}, Arrow: &joints.Fillet{}})
	b := mustButt(t, joints.Butt{Left: plate(10), Right: plate(10), Prep: joints.PrepSingleJ,
		Flank: joints.Flank{Bevel: [2]geometry.Angle{0, deg(beta)}, Radius: [2]geometry.Length{0, r}, Depth: depth}, Arrow: &joints.Groove{}})
	if d := cmp.Diff(b.Welds[0].GrooveArea, s.Welds[0].GrooveArea, exact); d != "" {
		t.Error(d)
	}
}

func TestStemRefusals(t *testing.T) {
	ok := joints.Tee{Base: plate(12), Stem: plate(10), Prep: joints.PrepSingleBevel, Arrow: &joints.Fillet{}}
	for name, tt := range map[string]struct {
		change func(*joints.Tee)
		code   joints.FaultCode
		field  string
	}{
		"depth":             {func(p *joints.Tee) { p.ArrowBevel.Depth = 11 }, joints.FaultUnfit, "depth"},
		"root face":         {func(p *joints.Tee) { p.RootFace = 10 }, joints.FaultUnfit, "root-face"},
		"radius":            {func(p *joints.Tee) { p.Prep, p.ArrowBevel.Radius = joints.PrepSingleJ, 20 }, joints.FaultUnfit, "root-radius"},
		"fitted skew":       {func(p *joints.Tee) { p.StemEnd, p.Angle = joints.StemFitted, deg(70) }, joints.FaultConflict, "stem-end"},
		"double, one sided": {func(p *joints.Tee) { p.Prep = joints.PrepDoubleBevel }, joints.FaultMissing, "welds.other"},
		"throat":            {func(p *joints.Tee) { p.Arrow = &joints.Fillet{Throat: 3} }, joints.FaultConflict, "welds.arrow.throat"},
		"convex flush":      {func(p *joints.Tee) { p.Arrow = &joints.Fillet{Face: joints.FaceConvex, Rise: 1} }, joints.FaultConflict, "welds.arrow.face"},
	} {
		t.Run(name, func(t *testing.T) {
			p := ok
			tt.change(&p)
			_, err := joints.NewTee(p)
			if !joints.AsFaults(err).Has(tt.code, tt.field) {
				t.Fatalf("want %s at %s, got %v", tt.code, tt.field, err)
			}
		})
	}
}
