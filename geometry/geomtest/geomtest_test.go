package geomtest_test

import (
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"

	"github.com/google/go-cmp/cmp"
)

func TestApproxTellsApart(t *testing.T) {
	o := geomtest.Outline(geomtest.Rand(1))
	moved := func(d float64) geometry.Outline {
		return o.Transform(geometry.Translate(geometry.Point{X: d}))
	}
	if d := cmp.Diff(o, moved(1e-7), geomtest.Approx(1e-6)); d != "" {
		t.Errorf("want outlines within the tolerance equal: %s", d)
	}
	if cmp.Equal(o, moved(1e-5), geomtest.Approx(1e-6)) {
		t.Error("want outlines beyond the tolerance to differ")
	}
	a, b := geometry.Point{}, geometry.Point{X: 2}
	if cmp.Equal(geometry.Line(a, b), geometry.Arc(a, b, 1e-9), geomtest.Approx(1e-6)) {
		t.Error("want a line and an arc to differ")
	}
	if !cmp.Equal(geometry.Length(1e6), geometry.Length(1e6+0.1), geomtest.ApproxRel(1e-6)) || cmp.Equal(geometry.Angle(1), geometry.Angle(1.1), geomtest.ApproxRel(1e-6)) {
		t.Error("relative tolerance")
	}
}

func TestRandomShapes(t *testing.T) {
	kinds := map[geometry.EdgeKind]bool{}
	for rng := range geomtest.Seeds(t, 50) {
		o := geomtest.Outline(rng)
		for _, e := range o.All() {
			kinds[e.Kind()] = true
		}
		if _, err := geometry.NewOutline(o.Edges()...); err != nil || o.Area() <= 0 {
			t.Errorf("random outline: area %g, %v", o.Area(), err)
		}
		for _, e := range geomtest.Polygon(rng).All() {
			if e.Kind() != geometry.LineEdge {
				t.Errorf("want straight edges only, got %v", e.Kind())
			}
		}
		if h := geomtest.HalfPlane(rng, o); !o.Bounds().Contains(h.P) {
			t.Errorf("want the line through the bounds, got %v", h)
		}
	}
	if len(kinds) != 3 {
		t.Errorf("want every kind of edge, got %v", kinds)
	}
	if d := cmp.Diff(geomtest.Outline(geomtest.Rand(9)), geomtest.Outline(geomtest.Rand(9)), geomtest.Approx(0)); d != "" {
		t.Errorf("want the same shape from the same seed: %s", d)
	}
}
