package heat

import (
	"math"
	"testing"

	"fay/geometry"
	"fay/joints"
)

// TestRootRun holds the closed form with the root face as its reach to the field
// of a root run: a bead at the bottom of the open groove, which melts through
// the root face. The finished face as reach would ask for up to eighteen times
// as much.
func TestRootRun(t *testing.T) {
	for _, c := range []struct {
		metal                        string
		thickness, face, bevel, pace float64
	}{
		{"al6xxx", 12, 6, 45, 4}, {"al6xxx", 12, 4.5, 20, 4}, {"al6xxx", 12, 2, 20, 4}, {"al6xxx", 12, 1.6, 40, 4},
		{"al6xxx", 8, 4.5, 20, 4}, {"al6xxx", 20, 5, 45, 2},
		{"steel", 8, 2, 30, 4}, {"steel", 12, 3, 30, 2}, {"steel", 20, 2, 30, 4}, {"ss304", 6, 1.5, 30, 2},
	} {
		bevel := geometry.Angle(c.bevel) * geometry.Degree
		s, err := joints.NewButt(joints.Butt{Left: plate(c.thickness), Right: plate(c.thickness), Prep: joints.PrepSingleV,
			RootFace: geometry.Length(c.face), Flank: joints.Flank{Bevel: [2]geometry.Angle{bevel, bevel}}, Arrow: &joints.Groove{}})
		if err != nil {
			t.Fatal(err)
		}
		m := Member{Material: metal(c.metal), Preheat: Room}
		in := Input{Section: &s, Members: []Member{m, m}, Arc: arcFor(c.pace), Reach: geometry.Length(c.face)}
		closed := answer(t, in).Root.Net

		w := &s.Welds[0]
		high := math.Min(1, c.face/2)
		half := high * bevel.Tan()
		if w.Profile, err = geometry.Polygon(geometry.Point{Y: c.face}, geometry.Point{X: half, Y: c.face + high}, geometry.Point{X: -half, Y: c.face + high}); err != nil {
			t.Fatal(err)
		}
		w.Feet[0].Toe, w.Feet[1].Toe = geometry.Point{X: -half, Y: c.face + high}, geometry.Point{X: half, Y: c.face + high}
		field := mustField(t, in, FieldParams{Faces: FacesBonded}).RootPower()
		if ratio := closed / field; ratio < 0.85 || ratio > 1.25 {
			t.Errorf("%v: %.0f W closed, %.0f W by the field: %.2f", c, closed, field, ratio)
		}
	}
}
