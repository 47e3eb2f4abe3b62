package field

import (
	"math"
	"testing"
	"time"

	"fay/geometry"
)

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

var (
	alu   = Metal{170, 2.7e6}
	steel = Metal{40, 7800 * 640}
)

// teeParams is a tee with its base level, corner of the fillet at the origin,
// stem to the left of the fillet; far ends at x = ±reach and y = height.
func teeParams(tb, ts, leg, reach, height float64, metal [3]Metal, minSize, grow float64) Params {
	return Params{
		Regions: []Region{
			{Outline: []geometry.Point{pt(-reach, -tb), pt(reach, -tb), pt(reach, 0), pt(-reach, 0)}, Metal: metal[0], Cap: tb / 3},
			{Outline: []geometry.Point{pt(-ts, 0), pt(0, 0), pt(0, height), pt(-ts, height)}, Metal: metal[1], Cap: ts / 3},
			{Outline: []geometry.Point{pt(0, 0), pt(leg, 0), pt(0, leg)}, Metal: metal[2]},
		},
		Sizing: Sizing{Min: minSize, Grow: grow, Focus: [][2]geometry.Point{
			{pt(leg, 0), pt(0, leg)}, {pt(0, 0), pt(0, 0)}}},
	}
}

func TestTeeMesh(t *testing.T) {
	p := teeParams(10, 5, 5, 60, 30, [3]Metal{alu, alu, alu}, 0.35, 0.12)
	start := time.Now()
	m, err := NewMesh(p)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d nodes, %d triangles, smallest angle %.1f°, %v", m.Nodes(), m.Triangles(), m.SmallestAngle().Degrees(), time.Since(start))
	for i, want := range []float64{1200, 150, 12.5} {
		if got := m.Area(i); math.Abs(got-want) > 1e-4*want {
			t.Errorf("area of region %d: want %v mm², got %v", i, want, got)
		}
	}
	p.Seams = []Seam{{A: 0, B: 1}}
	open, err := NewMesh(p)
	if err != nil {
		t.Fatal(err)
	}
	if open.Nodes() <= m.Nodes() {
		t.Errorf("an open seam doubles nodes: %d and %d", m.Nodes(), open.Nodes())
	}
}
