package field

import (
	"fmt"
	"testing"
)

// benchTee meshes the 10/5 tee with about the number of nodes named.
func benchTee(b *testing.B, metals [3]Metal, size, grow float64) Params {
	b.Helper()
	p := shopTee(10, 5, 5, metals, 0)
	p.Sizing.Min, p.Sizing.Grow = size, grow
	return p
}

// BenchmarkField is the whole of it: mesh, pulse, peaks, four isotherms. From
// its rows comes the growth of time with nodes.
func BenchmarkField(b *testing.B) {
	for _, row := range []struct{ size, grow float64 }{{0.5, 0.15}, {0.3, 0.1}, {0.25, 0.08}, {0.2, 0.048}, {0.165, 0.038}, {0.12, 0.026}} {
		p := benchTee(b, [3]Metal{alu, alu, alu}, row.size, row.grow)
		m := mustMesh(b, p)
		b.Run(fmt.Sprintf("%dnodes", m.Nodes()), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				fieldOnce(b, p)
			}
		})
	}
}

func fieldOnce(b *testing.B, p Params) {
	b.Helper()
	m := mustMesh(b, p)
	r := mustSolve(b, m, midFace)
	values := make([]float64, m.Nodes())
	for i := range values {
		values[i] = 20 + 2500*r.Peak(i)
	}
	for _, level := range []float64{120, 200, 582, 652} {
		m.Contours(values, level)
		m.AreaAbove(values, level)
	}
}

// BenchmarkTwoMetals is the same with a complex system for each wavenumber.
func BenchmarkTwoMetals(b *testing.B) {
	for _, row := range []struct{ size, grow float64 }{{0.3, 0.1}, {0.25, 0.08}} {
		p := benchTee(b, [3]Metal{steel, {25, 7800 * 600}, {25, 7800 * 600}}, row.size, row.grow)
		m := mustMesh(b, p)
		b.Run(fmt.Sprintf("%dnodes", m.Nodes()), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				fieldOnce(b, p)
			}
		})
	}
}

func BenchmarkMesh(b *testing.B) {
	p := benchTee(b, [3]Metal{alu, alu, alu}, 0.3, 0.1)
	for b.Loop() {
		mustMesh(b, p)
	}
}
