package joints_test

import (
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

// chordTolerance is how far the polygons below stay from the outlines; areas
// are then wrong by at most that times the length of the boundaries.
const chordTolerance = 1e-6

// polygon hands an outline to a general polygon library.
func polygon(o geometry.Outline) geom.Geometry {
	var coords []float64
	pts := o.Flatten(chordTolerance)
	for _, p := range append(pts, pts[0]) {
		coords = append(coords, p.X, p.Y)
	}
	return geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(coords, geom.DimXY))}).AsGeometry()
}

// sharedArea is the area that two outlines have in common.
func sharedArea(t *testing.T, a, b geometry.Outline) float64 {
	t.Helper()
	both, err := geom.Intersection(polygon(a), polygon(b))
	if err != nil {
		t.Fatal(err)
	}
	return both.Area()
}

// nothingOverlaps holds the members apart from each other, the welds apart
// from each other, and the part of every weld inside the members to what it
// has melted of them.
func nothingOverlaps(t *testing.T, s joints.Section) {
	t.Helper()
	slack := func(outlines ...geometry.Outline) float64 {
		long := 0.0
		for _, o := range outlines {
			long += o.Perimeter()
		}
		return chordTolerance * long
	}
	for i := range s.Members {
		for j := range i {
			a, b := s.Members[i].Outline, s.Members[j].Outline
			if got := sharedArea(t, a, b); got > slack(a, b) {
				t.Errorf("members %s and %s share %v mm²", s.Members[j].Name, s.Members[i].Name, got)
			}
		}
	}
	for i := range s.Welds {
		w := &s.Welds[i]
		for j := range i {
			if got := sharedArea(t, w.Profile, s.Welds[j].Profile); got > slack(w.Profile, s.Welds[j].Profile) {
				t.Errorf("welds %s and %s share %v mm²", s.Welds[j].ID, w.ID, got)
			}
		}
		inside, tol := 0.0, 0.0
		for _, m := range s.Members {
			inside += sharedArea(t, w.Profile, m.Outline)
			tol += slack(w.Profile, m.Outline)
		}
		if d := inside - w.MeltedBaseArea; d > tol || d < -tol {
			t.Errorf("weld %s lies %v mm² inside the members and melts %v", w.ID, inside, w.MeltedBaseArea)
		}
	}
}

// What is drawn does not overlap, by an independent polygon library.
func TestNothingOverlaps(t *testing.T) {
	count := 150
	if testing.Short() {
		count = 12
	}
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(11, uint64(i)))
			for n := range count {
				s, in, ok := jointstest.Section(k, r)
				if !ok {
					t.Fatalf("joint %d: 200 random inputs in a row were refused", n)
				}
				nothingOverlaps(t, s)
				if t.Failed() {
					t.Fatalf("first broken by joint %d: %+v", n, in)
				}
			}
		})
	}
}

func BenchmarkBuild(b *testing.B) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		b.Run(k.Name, func(b *testing.B) {
			_, in, _ := jointstest.Section(k, rand.New(rand.NewPCG(1, 1)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := joints.Build(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Random inputs of every kind are mostly joints, or the laws would be tried on
// the few shapes that get through.
func TestRandomInputsCanBeBuilt(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		r := rand.New(rand.NewPCG(3, uint64(i)))
		built := 0
		const tried = 2000
		codes := map[string]int{}
		for range tried {
			_, err := joints.Build(jointstest.Random(k, r))
			if err == nil {
				built++
				continue
			}
			for _, f := range joints.AsFaults(err) {
				codes[string(f.Code)+" "+f.Field]++
			}
		}
		if built < tried/20 {
			t.Errorf("%s: %d of %d were built; refusals: %v", k.Name, built, tried, codes)
		}
	}
}
