package field

import (
	"encoding/binary"
	"math"
	"testing"

	"fay/geometry"
	"fay/joints"
)

// FuzzNewMesh: whatever outlines it is given, the mesher refuses them in words
// or makes a mesh of positive triangles that solves to finite numbers.
func FuzzNewMesh(f *testing.F) {
	f.Add([]byte{0, 0, 40, 0, 40, 8, 0, 8}, []byte{10, 8, 14, 8, 14, 40, 10, 40}, 0.5, 0.1)
	f.Add([]byte{0, 0, 40, 0, 0, 1}, []byte{40, 0, 0, 0, 0, 1, 90, 200}, 0.3, 0.0)
	f.Add([]byte{0, 0, 200, 200, 200, 0, 0, 200}, []byte{}, 5.0, 2.0)
	f.Fuzz(func(t *testing.T, a, b []byte, size, grow float64) {
		if len(a) > 64 || len(b) > 64 {
			return
		}
		p := Params{Sizing: Sizing{Min: size, Grow: grow}, NodeLimit: 2000}
		for i, raw := range [][]byte{a, b} {
			var out []geometry.Point
			for len(raw) >= 2 {
				out = append(out, geometry.Point{X: float64(raw[0]) / 4, Y: float64(raw[1]) / 4})
				raw = raw[2:]
			}
			if i > 0 && len(out) < 3 {
				break
			}
			p.Regions = append(p.Regions, Region{Outline: out, Metal: Metal{170 / float64(i+1), 2.7e6}})
		}
		if len(p.Regions) == 2 {
			p.Seams = []Seam{{A: 0, B: 1, Conductance: float64(len(a)) * 100}}
		}
		m, err := NewMesh(p)
		if err != nil {
			if joints.AsFaults(err) == nil {
				t.Fatalf("not faults: %v", err)
			}
			return
		}
		for i := range m.tris {
			v := m.tris[i]
			if !(triangleArea(m.nodes[v[0]], m.nodes[v[1]], m.nodes[v[2]]) > 0) {
				t.Fatalf("triangle %d is turned over", i)
			}
		}
		if m.Nodes() > 600 {
			return
		}
		r, err := m.Solve(Source{Aim: m.Node(0), Spot: 1, Speed: 5})
		if err != nil {
			return
		}
		for i := range m.Nodes() {
			if x := r.Peak(i); math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
				t.Fatalf("peak of node %d is %v", i, x)
			}
		}
	})
}

// FuzzSource: no arc that is taken makes a number that is not one.
func FuzzSource(f *testing.F) {
	p := teeParams(8, 4, 4, 25, 20, [3]Metal{alu, alu, alu}, 0.8, 0.3)
	m, err := NewMesh(p)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(2.0, 2.0, 1.5, 4.0)
	f.Add(-25.0, -8.0, 0.1, 100.0)
	f.Add(1e300, math.NaN(), 20.0, 0.05)
	f.Fuzz(func(t *testing.T, x, y, spot, speed float64) {
		r, err := m.Solve(Source{Aim: pt(x, y), Spot: spot, Speed: speed})
		if err != nil {
			if joints.AsFaults(err) == nil {
				t.Fatalf("not faults: %v", err)
			}
			return
		}
		for i := range m.Nodes() {
			if v := r.Peak(i); math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("peak of node %d is %v", i, v)
			}
		}
	})
}

// FuzzInCircle checks the exact predicate against its own mirror image.
func FuzzInCircle(f *testing.F) {
	f.Add([]byte("0123456789abcdef0123456789abcdef"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		if len(raw) < 32 {
			return
		}
		var p [4]gp
		for i := range p {
			p[i] = gp{int64(binary.LittleEndian.Uint32(raw[8*i:]) % gridSpan), int64(binary.LittleEndian.Uint32(raw[8*i+4:]) % gridSpan)}
		}
		switch s := orient(p[0], p[1], p[2]); {
		case s == 0:
			return
		case s < 0:
			p[0], p[1] = p[1], p[0]
		}
		in := inCircle(p[0], p[1], p[2], p[3])
		if in != inCircle(p[1], p[2], p[0], p[3]) {
			t.Fatal("turning the triangle changes the answer")
		}
		for i := range p {
			p[i].x = -p[i].x
		}
		if in != inCircle(p[1], p[0], p[2], p[3]) {
			t.Fatal("the mirror image has another answer")
		}
	})
}
