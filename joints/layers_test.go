package joints_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"fay/joints"
	"fay/joints/jointstest"
)

// TestLayersShareTheMetal parts random welds of every kind: the layers are
// equal, add up to the weld, and each lies further from the root than the last.
func TestLayersShareTheMetal(t *testing.T) {
	t.Parallel()
	parted := 0
	for k := range joints.Kinds {
		kind := &joints.Kinds[k]
		r := rand.New(rand.NewPCG(11, uint64(k)))
		for range 20 {
			sec, in, ok := jointstest.Section(kind, r)
			if !ok {
				t.Fatalf("no joint of kind %s", kind.Name)
			}
			for i := range sec.Welds {
				w := &sec.Welds[i]
				n := 2 + r.IntN(6)
				layers := joints.Layers(w, n)
				if layers == nil {
					continue
				}
				parted++
				sum := 0.0
				for _, layer := range layers {
					area := 0.0
					for _, o := range layer {
						area += o.Area()
					}
					if want := w.Area / float64(n); math.Abs(area-want) > 1e-6*math.Max(1, w.Area) {
						t.Fatalf("%s weld %s: a layer of %d has %g mm², want %g\n%+v", kind.Name, w.ID, n, area, want, in)
					}
					sum += area
				}
				if len(layers) != n || math.Abs(sum-w.Area) > 1e-6*math.Max(1, w.Area) {
					t.Fatalf("%s weld %s: %d layers of %g mm² in all, want %d of %g", kind.Name, w.ID, len(layers), sum, n, w.Area)
				}
			}
		}
	}
	if parted < 100 {
		t.Errorf("only %d welds were parted", parted)
	}
}

// TestLayersOfAFillet follows from similar triangles: a flat fillet is parted at
// the square roots of the shares of its throat.
func TestLayersOfAFillet(t *testing.T) {
	t.Parallel()
	sec, err := joints.Build(joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": {Thickness: joints.Value{Text: "10", Number: 10}}, "stem": {Thickness: joints.Value{Text: "8", Number: 8}}},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": {Text: "6", Number: 6}}}})
	if err != nil {
		t.Fatal(err)
	}
	w := &sec.Welds[0]
	for k, layer := range joints.Layers(w, 3) {
		far := 0.0
		for _, o := range layer {
			for _, e := range o.All() {
				far = math.Max(far, e.Start().Sub(w.JointRoot).Dot(w.Centroid.Sub(w.JointRoot).Unit()))
			}
		}
		if want := 6 / math.Sqrt2 * math.Sqrt(float64(k+1)/3); math.Abs(far-want) > 1e-6 {
			t.Errorf("layer %d reaches %g mm from the root, want %g", k+1, far, want)
		}
	}
	if joints.Layers(w, 1) != nil {
		t.Error("one pass is no layers")
	}
}
