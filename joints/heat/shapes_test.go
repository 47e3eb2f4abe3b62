package heat

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"fay/geometry"
	"fay/joints"
)

// shape is a joint of a kind with the limits inside which the closed form has
// to agree with the field on root power.
type shape struct {
	name     string
	section  joints.Section
	err      error
	low, top float64
}

func shapes() []shape {
	at := func(name string, low, top float64, s joints.Section, err error) shape {
		return shape{name, s, err, low, top}
	}
	fillet := joints.EqualFillet
	var out []shape
	add := func(name string, low, top float64) func(joints.Section, error) {
		return func(s joints.Section, err error) { out = append(out, at(name, low, top, s, err)) }
	}
	add("tee", 0.85, 1.12)(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Arrow: fillet(4)}))
	add("tee with a gap", 0.8, 1.2)(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Gap: 0.5, Arrow: fillet(4)}))
	add("skewed tee", 0.6, 1.4)(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Angle: 60 * geometry.Degree, Arrow: fillet(4)}))
	add("lap", 0.85, 1.12)(joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(3), Overlap: 25, Arrow: fillet(3)}))
	add("closed inner corner", 0.85, 1.15)(joints.NewCorner(joints.Corner{Base: plate(6), Upright: plate(4), Cover: 1, Inside: fillet(4)}))
	add("open inner corner", 0.8, 1.3)(joints.NewCorner(joints.Corner{Base: plate(6), Upright: plate(4), Inside: fillet(4)}))
	add("outer corner", 0.4, 1.6)(joints.NewCorner(joints.Corner{Base: plate(5), Upright: plate(4), Outside: &joints.Fillet{}}))
	add("square butt", 0.85, 1.15)(joints.NewButt(joints.Butt{Left: plate(3), Right: plate(3), RootOpening: 1, Arrow: &joints.Groove{Cap: 0.3}}))
	add("unequal butt", 0.75, 1.4)(joints.NewButt(joints.Butt{Left: plate(6), Right: plate(3), RootOpening: 1, Arrow: &joints.Groove{Cap: 0.3}}))
	add("V butt", 0.4, 1.6)(joints.NewButt(joints.Butt{Left: plate(8), Right: plate(8), Prep: joints.PrepSingleV, RootFace: 1, RootOpening: 1, Arrow: &joints.Groove{Cap: 1, Root: 0.5}}))
	add("edge", 0.4, 1.6)(joints.NewEdge(joints.Edge{Left: plate(3), Right: plate(2), Outside: &joints.Bead{Penetration: 1, Cap: 0.5}}))
	add("cruciform", 0.6, 1.4)(joints.NewCross(joints.Cross{Base: plate(8),
		Upper: joints.Stem{Plate: plate(4), Arrow: fillet(4), Other: fillet(4)},
		Lower: joints.Stem{Plate: plate(4), Arrow: fillet(4), Other: fillet(4)}}))
	return out
}

// TestShapes gives every kind of joint an answer and a field, and holds one to
// the other: two engines that share nothing but the constants.
func TestShapes(t *testing.T) {
	for _, c := range shapes() {
		t.Run(c.name, func(t *testing.T) {
			if c.err != nil {
				t.Fatal(c.err)
			}
			for _, name := range []string{"al5xxx", "steel"} {
				in := inputOf(&c.section, []string{name}, rand.New(rand.NewPCG(1, 1)))
				in.Arc.Speed = 4
				r := answer(t, in)
				sound(t, "answer", reflect.ValueOf(r))
				f := mustField(t, in, FieldParams{})
				p, err := f.At(f.RootPower(), f.Levels())
				if err != nil {
					t.Fatal(err)
				}
				sound(t, "picture", reflect.ValueOf(p))
				x := r.Root.Net / f.RootPower()
				t.Logf("%s: index %.2f, root %.0f W closed, %.0f W field, ratio %.2f; window %.0f to %.0f W (%s), toes %.0f W; %d nodes",
					name, r.Index.Value, r.Root.Net, f.RootPower(), x, f.Window.Root, f.Window.Edge, f.Window.Lost, f.Window.Toes, f.Nodes())
				if x < c.low || x > c.top {
					t.Errorf("%s: closed form over field is %.3f, want %v to %v", name, x, c.low, c.top)
				}
			}
		})
	}
}
