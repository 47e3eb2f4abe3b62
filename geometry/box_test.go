package geometry_test

import (
	"math"
	"testing"

	"fay/geometry"
)

func TestBox(t *testing.T) {
	b := geometry.BoxOf(pt(1, 4), pt(3, 2))
	if b != (geometry.Box{Min: pt(1, 2), Max: pt(3, 4)}) || b.Width() != 2 || b.Height() != 2 || b.Centre() != pt(2, 3) || b.Empty() {
		t.Errorf("box of two corners: %v", b)
	}
	for p, want := range map[geometry.Point]bool{
		pt(2, 3): true, pt(1, 2): true, pt(3, 4): true, pt(0.9, 3): false, pt(3.1, 3): false, pt(2, 1.9): false, pt(2, 4.1): false, pt(math.NaN(), 3): false,
	} {
		if got := b.Contains(p); got != want {
			t.Errorf("%v: want contained %v, got %v", p, want, got)
		}
	}
	e := geometry.EmptyBox()
	if !e.Empty() || e.Width() != 0 || e.Height() != 0 || e.Centre() != pt(0, 0) || e.Contains(pt(0, 0)) || e.Overlaps(b) || e.Union(b) != b || !geometry.BoxOf().Empty() {
		t.Error("the empty box is not empty everywhere")
	}
	for _, row := range []struct {
		name string
		c    geometry.Box
		want bool
	}{
		{"same", b, true},
		{"corner", geometry.BoxOf(pt(3, 4), pt(5, 5)), true},
		{"beside", geometry.BoxOf(pt(3.1, 2), pt(5, 5)), false},
		{"below", geometry.BoxOf(pt(1, 0), pt(3, 1.9)), false},
		{"around", b.Grow(1), true},
	} {
		if got := b.Overlaps(row.c); got != row.want || row.c.Overlaps(b) != row.want {
			t.Errorf("%s: want overlap %v, got %v", row.name, row.want, got)
		}
	}
	if !b.Grow(-1.5).Empty() {
		t.Error("want a box shrunk past its middle to be empty")
	}
}

func TestAngles(t *testing.T) {
	for deg, want := range map[float64][2]float64{0: {0, 1}, 90: {1, 0}, 180: {0, -1}, 270: {-1, 0}, 360: {0, 1}, -90: {-1, 0}} {
		a := geometry.Angle(deg) * geometry.Degree
		if got := [2]float64{a.Sin(), a.Cos()}; got != want {
			t.Errorf("%g°: want exactly %v, got %v", deg, want, got)
		}
		if math.Abs(a.Degrees()-deg) > 1e-12 {
			t.Errorf("want %g°, got %g", deg, a.Degrees())
		}
	}
	if a := geometry.Angle(1e-300); a.Sin() != 1e-300 {
		t.Errorf("want a tiny sine kept, got %g", a.Sin())
	}
	if got := (45 * geometry.Degree).Tan(); math.Abs(got-1) > 1e-15 {
		t.Errorf("want tan 45° of 1, got %g", got)
	}
	if got := geometry.Polar(2, 30*geometry.Degree); got.Dist(pt(math.Sqrt(3), 1)) > 1e-15 {
		t.Errorf("polar: %v", got)
	}
	if geometry.Angle(math.NaN()).IsFinite() || geometry.Length(math.Inf(1)).IsFinite() || pt(0, math.Inf(-1)).IsFinite() {
		t.Error("want NaN and infinities not finite")
	}
}
