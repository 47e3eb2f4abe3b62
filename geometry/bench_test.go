package geometry_test

import (
	"testing"

	"fay/geometry"
)

var (
	sinkOutline geometry.Outline
	sinkFloat   float64
	sinkPoint   geometry.Point
	sinkAny     any
)

func BenchmarkNewOutline(b *testing.B) {
	for _, row := range []struct {
		name string
		o    geometry.Outline
	}{
		{"six lines", polygon(b, pt(0, 0), pt(6, 0), pt(6, 2), pt(2, 2), pt(2, 8), pt(0, 8))},
		{"tee of three kinds", teeOutline(b)},
		{"disc", disc(b, pt(0, 0), 3)},
	} {
		edges := row.o.Edges()
		b.Run(row.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sinkOutline, _ = geometry.NewOutline(edges...)
			}
		})
	}
}

func BenchmarkMeasures(b *testing.B) {
	o := teeOutline(b)
	h := geometry.HalfPlane{P: pt(0, 2), N: pt(0.2, 1)}
	for _, row := range []struct {
		name string
		f    func()
	}{
		{"area", func() { sinkFloat = o.Area() }},
		{"centroid", func() { sinkPoint = o.Centroid() }},
		{"perimeter", func() { sinkFloat = o.Perimeter() }},
		{"bounds", func() { sinkFloat = o.Bounds().Width() }},
		{"locate", func() { sinkFloat = float64(o.Locate(pt(1, 1))) }},
		{"distance", func() { sinkFloat = o.Distance(pt(1, 1)) }},
		{"cut", func() { sinkAny = o.Cut(h) }},
		{"chords", func() { sinkAny = o.Chords(pt(0, 1), pt(1, 0.5)) }},
		{"flatten", func() { sinkAny = o.Flatten(0.01) }},
	} {
		b.Run(row.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				row.f()
			}
		})
	}
}

func BenchmarkParseLength(b *testing.B) {
	for b.Loop() {
		l, _ := geometry.ParseLength(`1-1/4"`, geometry.LengthSyntax{})
		sinkFloat = float64(l)
	}
}

func TestNewOutlineAllocates(t *testing.T) {
	edges := teeOutline(t).Edges()
	if n := testing.AllocsPerRun(100, func() { sinkOutline, _ = geometry.NewOutline(edges...) }); n != 1 {
		t.Errorf("want one allocation, got %g", n)
	}
	if n := testing.AllocsPerRun(100, func() { sinkFloat = sinkOutline.Area(); sinkPoint = sinkOutline.Centroid() }); n != 0 {
		t.Errorf("want none to measure, got %g", n)
	}
}
