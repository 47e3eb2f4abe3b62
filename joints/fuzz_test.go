package joints_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

// FuzzBuild throws any numbers at any kind: nothing panics, what is refused is
// refused with a rule and a remedy, what is built is finite and positive.
func FuzzBuild(f *testing.F) {
	f.Add(uint8(0), uint64(1), uint8(0), 3.0, uint8(1), 0.5)
	f.Add(uint8(1), uint64(2), uint8(2), math.NaN(), uint8(3), math.Inf(1))
	f.Add(uint8(2), uint64(3), uint8(4), -1.0, uint8(5), 1e300)
	f.Fuzz(func(t *testing.T, kind uint8, seed uint64, slotA uint8, a float64, slotB uint8, b float64) {
		k := &joints.Kinds[int(kind)%len(joints.Kinds)]
		in := jointstest.Random(k, rand.New(rand.NewPCG(seed, 1)))
		overwrite(k, in, slotA, a)
		overwrite(k, in, slotB, b)
		s, err := joints.Build(in)
		if err != nil {
			faults := joints.AsFaults(err)
			if len(faults) == 0 {
				t.Fatalf("an error without faults: %v", err)
			}
			for _, f := range faults {
				if f.Field == "" || f.Rule == "" || f.Remedy == "" {
					t.Errorf("incomplete fault %+v", f)
				}
			}
			return
		}
		for _, w := range s.Welds {
			for _, v := range []float64{w.Area, w.DepositedArea, w.MeltedBaseArea, float64(w.EffectiveThroat), float64(w.ActualThroat), float64(w.FaceWidth)} {
				if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
					t.Errorf("weld %s holds %v: %+v", w.ID, v, in)
				}
			}
			if w.Area <= 0 {
				t.Errorf("weld %s has no area: %+v", w.ID, in)
			}
		}
	})
}

// overwrite puts v into the n-th place of an input that takes a number.
func overwrite(k *joints.Kind, in joints.Input, n uint8, v float64) {
	i := int(n)
	for _, m := range k.Members {
		if i == 0 {
			in.Plates[m.Name] = joints.PlateInput{Thickness: joints.Value{Text: "x", Number: v}}
			return
		}
		i--
	}
	for _, p := range k.Params {
		if i == 0 && p.Type != joints.ParamChoice && p.Type != joints.ParamFlag {
			in.Values[p.Name] = joints.Value{Text: "x", Number: v, List: []float64{v, v}}
			return
		}
		i--
	}
	for _, slot := range k.Welds {
		for _, p := range slot.Params {
			if i == 0 && p.Type != joints.ParamChoice && p.Type != joints.ParamFlag && in.Welds[slot.ID] != nil {
				in.Welds[slot.ID][p.Name] = joints.Value{Text: "x", Number: v, List: []float64{v, v}}
				return
			}
			i--
		}
	}
}

func BenchmarkTee(b *testing.B) {
	p := joints.Tee{Base: plate(8), Stem: plate(3), Gap: 0.3, Arrow: joints.EqualFillet(3)}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := joints.NewTee(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTeeConcaveSkewBothSides(b *testing.B) {
	fillet := &joints.Fillet{Legs: [2]geometry.Length{5, 6}, Face: joints.FaceConcave, Rise: 0.4, Penetration: 0.4, Fusion: [2]geometry.Length{0.5, 0.5}}
	p := joints.Tee{Base: plate(8), Stem: plate(5), Angle: deg(75), Gap: 0.3, Arrow: fillet, Other: fillet}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := joints.NewTee(p); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkKinds builds random joints of every kind in the table.
func BenchmarkKinds(b *testing.B) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		b.Run(k.Name, func(b *testing.B) {
			r := rand.New(rand.NewPCG(7, uint64(i)))
			var inputs []joints.Input
			for range 100 {
				if _, in, ok := jointstest.Section(k, r); ok {
					inputs = append(inputs, in)
				}
			}
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				if _, err := joints.Build(inputs[n%len(inputs)]); err != nil {
					b.Fatal(err)
				}
				n++
			}
		})
	}
}

// BenchmarkRandomJoints builds random joints of all kinds on all processors.
func BenchmarkRandomJoints(b *testing.B) {
	r := rand.New(rand.NewPCG(7, 7))
	var inputs []joints.Input
	for range 200 {
		for i := range joints.Kinds {
			if _, in, ok := jointstest.Section(&joints.Kinds[i], r); ok {
				inputs = append(inputs, in)
			}
		}
	}
	b.ResetTimer()
	b.RunParallel(func(pb *testing.PB) {
		for n := 0; pb.Next(); n++ {
			if _, err := joints.Build(inputs[n%len(inputs)]); err != nil {
				b.Error(err)
				return
			}
		}
	})
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "joints/s")
}
