package joints_test

import (
	"math/rand/v2"
	"testing"

	"fay/joints"
	"fay/joints/jointstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// BuildWelds and Build agree on every random joint of every kind: the same
// welds, or both refuse.
func TestBuildWeldsIsBuild(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(11, uint64(i)))
			built := 0
			for range 1500 {
				in := jointstest.Random(k, r)
				want, err := joints.Build(in)
				got, lean := joints.BuildWelds(in)
				if (err == nil) != (lean == nil) {
					t.Fatalf("%+v:\nBuild: %v\nBuildWelds: %v", in, err, lean)
				}
				if err != nil {
					continue
				}
				built++
				sizes := func(ws []joints.Weld) (out []float64) {
					for i := range ws {
						w := &ws[i]
						out = append(out, float64(w.EffectiveThroat), float64(w.ActualThroat), w.DepositedArea, w.Area,
							float64(w.Feet[0].Leg), float64(w.Feet[1].Leg), float64(w.Feet[1].EdgeRemaining.Value))
					}
					return out
				}
				if d := cmp.Diff(sizes(want.Welds), sizes(got), cmpopts.EquateEmpty()); d != "" {
					t.Fatalf("%+v (-want +got):\n%s", in, d)
				}
			}
			if built < 100 {
				t.Errorf("only %d of 1500 random joints could be built", built)
			}
		})
	}
	if _, err := joints.BuildWelds(joints.Input{Kind: "none"}); !joints.AsFaults(err).Has(joints.FaultUnknown, "joint") {
		t.Errorf("an unknown kind: %v", err)
	}
}

func BenchmarkBuildWelds(b *testing.B) {
	in := joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": {Thickness: joints.Value{Text: "8", Number: 8}}, "stem": {Thickness: joints.Value{Text: "3", Number: 3}}},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": {Text: "3", Number: 3}}}}
	for b.Loop() {
		if _, err := joints.BuildWelds(in); err != nil {
			b.Fatal(err)
		}
	}
}
