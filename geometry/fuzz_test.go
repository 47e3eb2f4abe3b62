package geometry_test

import (
	"errors"
	"math"
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"
)

var lengthSeeds = []string{
	"6", "6mm", ".25\"", "1/4in", "1-1/4in", "1 1/4\"", "2cm", "16ga", "½", "1⅛″", "-0.5mm", "0,5", "1e999", "NaN", "0x1p3", "1/0", "", "\xff",
	"0.5 ±0.3", "0.5 +1.0 -0.5", "0.5 +-0.3", "1/16in +1/16in -0", "1-1/2 -1-1/4", "60 +10 -5", "60° ±5", "1rad", "±", "1e+1", "1e-1-1",
}

func checkFuzzError(t *testing.T, s string, err error) {
	t.Helper()
	var pe *geometry.ParseError
	if !errors.As(err, &pe) || pe == nil {
		t.Fatalf("%q: want a ParseError, got %#v", s, err)
	}
	if pe.At < 0 || pe.At > len(s) || pe.Input != s || pe.Code == "" || pe.Rule == "" || pe.Remedy == "" {
		t.Fatalf("%q: incomplete %#v", s, pe)
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range lengthSeeds {
		f.Add(s, uint8(1), uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, unit, family uint8) {
		l, err := geometry.ParseLength(s, geometry.LengthSyntax{Bare: geometry.Unit(unit), Family: geometry.GaugeFamily(family)})
		if err != nil {
			checkFuzzError(t, s, err)
			return
		}
		if !(l >= -geometry.MaxLength && l <= geometry.MaxLength) {
			t.Fatalf("%q: out of range: %v", s, l)
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	for _, s := range lengthSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := geometry.ParseAngle(s)
		if err != nil {
			checkFuzzError(t, s, err)
			return
		}
		if !(a >= -geometry.MaxAngle && a <= geometry.MaxAngle) {
			t.Fatalf("%q: out of range: %v", s, a)
		}
	})
}

func FuzzParseToleranced(f *testing.F) {
	for _, s := range lengthSeeds {
		f.Add(s, uint8(0), uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, unit, family uint8) {
		syn := geometry.LengthSyntax{Bare: geometry.Unit(unit), Family: geometry.GaugeFamily(family)}
		l, tol, err := geometry.ParseToleranced(s, syn)
		if err != nil {
			checkFuzzError(t, s, err)
		} else if !l.IsFinite() || !(tol.Plus >= 0 && tol.Plus <= geometry.MaxLength) || !(tol.Minus >= 0 && tol.Minus <= geometry.MaxLength) {
			t.Fatalf("%q: %v %v", s, l, tol)
		}
		// What is a length by itself is the same length without tolerance.
		if plain, plainErr := geometry.ParseLength(s, syn); plainErr == nil && (err != nil || plain != l || tol != geometry.Tolerance{}) {
			t.Fatalf("%q: plain %v, toleranced %v %v %v", s, plain, l, tol, err)
		}
		a, at, err := geometry.ParseTolerancedAngle(s)
		if err != nil {
			checkFuzzError(t, s, err)
		} else if !a.IsFinite() || !(at.Plus >= 0) || !(at.Minus >= 0) {
			t.Fatalf("%q: %v %v", s, a, at)
		}
	})
}

// fuzzEdges closes four points with edges of the kinds in the bits of kinds.
func fuzzEdges(kinds uint8, v [10]float64) []geometry.Edge {
	pts := []geometry.Point{pt(v[0], v[1]), pt(v[2], v[3]), pt(v[4], v[5]), pt(v[6], v[7])}
	n := 2 + int(kinds>>6)%3
	edges := make([]geometry.Edge, n)
	for i := range edges {
		a, b := pts[i], pts[(i+1)%n]
		switch kinds >> (2 * i) & 3 {
		case 1:
			edges[i] = geometry.Arc(a, b, v[8])
		case 2:
			edges[i] = geometry.Quad(a, pt(v[8], v[9]), b)
		case 3:
			edges[i] = geometry.Arc(a, b, v[9])
		default:
			edges[i] = geometry.Line(a, b)
		}
	}
	return edges
}

func addShapes(add func(kinds uint8, v [10]float64)) {
	add(0x80, [10]float64{0, 0, 4, 0, 4, 4, 0, 4, 1, 1})
	add(0x84, [10]float64{0, 0, 4, 0, 4, 4, 0, 4, 1, 1})
	add(0x88, [10]float64{0, 0, 4, 0, 4, 4, 0, 4, 6, 2})
	add(0x05, [10]float64{2, 0, -2, 0, 0, 0, 0, 0, 2, 2})
	add(0x47, [10]float64{0, 0, 4, 0, 1, 3, 0, 0, -0.3, 0.5})
	add(0x80, [10]float64{math.NaN(), 0, math.Inf(1), 0, 1e300, 4, 0, 5e-324, 1, 1})
}

// checkOutline holds an accepted outline to the invariants of any.
func checkOutline(t *testing.T, o geometry.Outline) {
	t.Helper()
	area, size := o.Area(), o.Perimeter()
	if !(math.Abs(area) <= size*size) || !(size > 0) || math.IsInf(size, 0) {
		t.Fatalf("area %g, perimeter %g", area, size)
	}
	// No closed curve holds more than the circle of its length.
	if math.Abs(area)*4*math.Pi > size*size*(1+1e-9) {
		t.Fatalf("area %g beyond that of a circle of perimeter %g", area, size)
	}
	if back := o.Reverse().Area(); math.Abs(back+area) > 1e-9*size*size {
		t.Fatalf("reversed area %g of %g", back, area)
	}
	box := o.Bounds().Grow(1e-6 * (1 + size))
	for i, e := range o.All() {
		if e.End() != o.Edge(i+1).Start() {
			t.Fatalf("edge %d does not join the next", i)
		}
		if !box.Contains(e.At(0.37)) {
			t.Fatalf("edge %d leaves the bounds", i)
		}
	}
}

func FuzzNewOutline(f *testing.F) {
	addShapes(func(k uint8, v [10]float64) { f.Add(k, v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9]) })
	f.Fuzz(func(t *testing.T, k uint8, a, b, c, d, e, g, h, i, j, l float64) {
		edges := fuzzEdges(k, [10]float64{a, b, c, d, e, g, h, i, j, l})
		for _, x := range edges { // raw edges must survive everything
			x.Length()
			x.Bounds()
			x.Nearest(pt(c, b))
			x.Split(a)
			x.Tangent(b)
			geometry.Intersect(x, edges[0])
			geometry.IntersectLine(x, pt(a, b), pt(c, d))
			x.Flatten(1e-2)
		}
		o, err := geometry.NewOutline(edges...)
		if err != nil {
			var oe *geometry.OutlineError
			if !errors.As(err, &oe) || oe.Code == "" || oe.Edge < 0 || oe.Edge >= max(1, len(edges)) {
				t.Fatalf("want a complete OutlineError, got %#v", err)
			}
			return
		}
		checkOutline(t, o)
	})
}

func FuzzCut(f *testing.F) {
	addShapes(func(k uint8, v [10]float64) {
		f.Add(k, v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], 1.0, 1.0, 1.0, 0.5)
		f.Add(k, v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], 0.0, 0.0, 0.0, 1.0)
	})
	f.Fuzz(func(t *testing.T, k uint8, a, b, c, d, e, g, h, i, j, l, px, py, nx, ny float64) {
		o, err := geometry.NewOutline(fuzzEdges(k, [10]float64{a, b, c, d, e, g, h, i, j, l})...)
		if err != nil {
			return
		}
		half := geometry.HalfPlane{P: pt(px, py), N: pt(nx, ny)}
		in, out := o.Cut(half), o.Cut(half.Complement())
		if half.N.Norm() == 0 || !half.N.IsFinite() || !half.P.IsFinite() || math.IsInf(half.N.Norm(), 0) {
			return
		}
		for _, p := range append(in, out...) {
			checkOutline(t, p)
		}
		// Within the sizes of a section nothing may be lost.
		size := o.Perimeter()
		if size > 1e4 || half.P.Norm() > 1e4 {
			return
		}
		ai, _, _ := total(in)
		ao, _, _ := total(out)
		if !geomtest.Close(o.Area(), ai+ao, 1e-6*max(1, size)) {
			t.Fatalf("parts of %g and %g of a whole of %g", ai, ao, o.Area())
		}
	})
}
