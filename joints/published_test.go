package joints_test

import (
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

// fittedTee is a tee without gap whose stem is cut to the base's slope, so
// that legs alone decide the fillet.
func fittedTee(t *testing.T, psi geometry.Angle, fillet joints.Fillet) joints.Weld {
	t.Helper()
	return mustTee(t, joints.Tee{Base: plate(20), Stem: plate(20), Angle: psi, StemEnd: joints.StemFitted, Arrow: &fillet}).Welds[0]
}

func TestPublishedFilletGeometry(t *testing.T) {
	for _, c := range jointstest.Published(t, "fillet-geometry.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			w := fittedTee(t, geometry.Angle(c.Number(t, "psi_deg"))*geometry.Degree, joints.Fillet{
				Legs: [2]geometry.Length{geometry.Length(c.Number(t, "leg0_mm")), geometry.Length(c.Number(t, "leg1_mm"))}})
			switch c.Column {
			case "face":
				c.Compare(t, float64(w.FaceWidth))
			case "area":
				c.Compare(t, w.Area)
			case "throat":
				c.Compare(t, float64(w.TheoreticalThroat))
				c.Compare(t, float64(w.EffectiveThroat))
			default:
				t.Fatalf("column %s", c.Column)
			}
		})
	}
}

// The size that carries the same throat as a square fillet, on the two legs
// that the trade uses: what a gauge reads, and what lies along the members.
func TestPublishedSkewFactors(t *testing.T) {
	const throat = 5
	square := fittedTee(t, 90*geometry.Degree, joints.Fillet{Throat: throat}).Feet[0]
	for _, c := range jointstest.Published(t, "skew-factors.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			foot := fittedTee(t, geometry.Angle(c.Number(t, "psi_deg"))*geometry.Degree, joints.Fillet{Throat: throat}).Feet[0]
			switch c.Column {
			case "factor on gauge leg":
				c.Compare(t, float64(foot.GaugeLeg/square.GaugeLeg))
			case "factor on leg":
				c.Compare(t, float64(foot.Leg/square.Leg))
			default:
				t.Fatalf("column %s", c.Column)
			}
		})
	}
}
