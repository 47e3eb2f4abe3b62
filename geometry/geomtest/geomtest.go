// Package geomtest helps tests that deal with package geometry: comparers with
// a stated tolerance and seeded random shapes.
package geomtest

import (
	"iter"
	"math"
	"math/rand/v2"
	"testing"

	"fay/geometry"

	"github.com/google/go-cmp/cmp"
)

// Approx compares every float64, Length and Angle, alone or inside points,
// boxes, edges, outlines and moments, to within tol absolutely (mm, mm², rad).
// NaN equals NaN. Use as cmp.Diff(want, got, geomtest.Approx(1e-9)).
func Approx(tol float64) cmp.Option {
	return compare(func(x, y float64) bool {
		return x == y || math.Abs(x-y) <= tol || math.IsNaN(x) && math.IsNaN(y)
	})
}

// ApproxRel compares like Approx to within tol times the larger of the two
// numbers and 1.
func ApproxRel(tol float64) cmp.Option {
	return compare(func(x, y float64) bool {
		return x == y || Close(x, y, tol) || math.IsNaN(x) && math.IsNaN(y)
	})
}

// Close reports whether two numbers agree to within tol times the larger of
// them and 1.
func Close(x, y, tol float64) bool {
	return math.Abs(x-y) <= tol*max(1, math.Abs(x), math.Abs(y))
}

// edge shows cmp what an Edge holds.
type edge struct {
	Kind    string
	Numbers []float64
}

func compare(same func(x, y float64) bool) cmp.Option {
	return cmp.Options{
		cmp.Comparer(same),
		cmp.Comparer(func(x, y geometry.Length) bool { return same(float64(x), float64(y)) }),
		cmp.Comparer(func(x, y geometry.Angle) bool { return same(float64(x), float64(y)) }),
		cmp.Transformer("Edge", func(e geometry.Edge) edge { return edge{e.Kind().String(), e.Numbers()} }),
		cmp.Transformer("Outline", func(o geometry.Outline) []geometry.Edge { return o.Edges() }),
	}
}

// Rand returns the random source of a seed, the same on every machine.
func Rand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15)) }

// Seeds ranges over n random sources, one per seed, and stops at the first seed
// under which the test fails, naming it.
func Seeds(t *testing.T, n int) iter.Seq[*rand.Rand] {
	t.Helper()
	return func(yield func(*rand.Rand) bool) {
		for seed := range n {
			failed := t.Failed()
			if !yield(Rand(uint64(seed))) {
				return
			}
			if !failed && t.Failed() {
				t.Fatalf("the failure above is of seed %d", seed)
			}
		}
	}
}

// Between returns a number between lo and hi.
func Between(rng *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }

// Point returns a point with coordinates of at most r.
func Point(rng *rand.Rand, r float64) geometry.Point {
	return geometry.Point{X: Between(rng, -r, r), Y: Between(rng, -r, r)}
}

// Edge returns an edge of a random kind between random points; arcs may be flat
// or major ones.
func Edge(rng *rand.Rand, r float64) geometry.Edge {
	a, b := Point(rng, r), Point(rng, r)
	switch rng.IntN(3) {
	case 0:
		return geometry.Line(a, b)
	case 1:
		s := a.Dist(b) * math.Pow(10, Between(rng, -6, 0.5))
		if rng.IntN(2) == 0 {
			s = -s
		}
		return geometry.Arc(a, b, s)
	}
	return geometry.Quad(a, Point(rng, r), b)
}

// Outline returns a simple counter-clockwise outline of 3 to 9 edges of mixed
// kinds, some 10 mm in size, somewhere near the origin.
func Outline(rng *rand.Rand) geometry.Outline {
	for {
		if o, err := geometry.NewOutline(star(rng)...); err == nil && o.Area() > 1 {
			return o
		}
	}
}

// star draws edges between points in rising directions from a centre, with
// bulges that mostly leave the outline simple.
func star(rng *rand.Rand) []geometry.Edge {
	n := 3 + rng.IntN(7)
	centre := Point(rng, 20)
	pts := make([]geometry.Point, n)
	for i := range pts {
		a := geometry.Angle((float64(i) + Between(rng, 0, 0.8)) * 2 * math.Pi / float64(n))
		pts[i] = centre.Add(geometry.Polar(Between(rng, 3, 12), a))
	}
	edges := make([]geometry.Edge, n)
	for i, a := range pts {
		b := pts[(i+1)%n]
		switch rng.IntN(3) {
		case 0:
			edges[i] = geometry.Line(a, b)
		case 1:
			edges[i] = geometry.Arc(a, b, a.Dist(b)*Between(rng, -0.3, 0.6))
		default:
			out := b.Sub(a).Perp().Scale(-Between(rng, -0.5, 0.8))
			edges[i] = geometry.Quad(a, a.Lerp(b, Between(rng, 0.2, 0.8)).Add(out), b)
		}
	}
	return edges
}

// Polygon returns a simple counter-clockwise outline of straight edges.
func Polygon(rng *rand.Rand) geometry.Outline {
	for {
		edges := star(rng)
		pts := make([]geometry.Point, len(edges))
		for i, e := range edges {
			pts[i] = e.Start()
		}
		if o, err := geometry.Polygon(pts...); err == nil && o.Area() > 1 {
			return o
		}
	}
}

// HalfPlane returns a half plane whose line passes through the bounds of o.
func HalfPlane(rng *rand.Rand, o geometry.Outline) geometry.HalfPlane {
	b := o.Bounds()
	p := geometry.Point{X: Between(rng, b.Min.X, b.Max.X), Y: Between(rng, b.Min.Y, b.Max.Y)}
	return geometry.HalfPlane{P: p, N: geometry.Polar(Between(rng, 0.5, 2), geometry.Angle(Between(rng, -math.Pi, math.Pi)))}
}

// Transform returns a similarity, mirrored half of the time.
func Transform(rng *rand.Rand) geometry.Transform {
	t := geometry.Scale(Between(rng, 0.2, 5)).
		Then(geometry.Rotate(geometry.Angle(Between(rng, -4, 4)), Point(rng, 10))).
		Then(geometry.Translate(Point(rng, 30)))
	if rng.IntN(2) == 0 {
		t = geometry.MirrorX().Then(t)
	}
	return t
}
