package sketch

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
)

// frames is the part of the section plane that is shown and its grid of cells:
// a column is unit mm wide, a row 2·unit high, and the origin of the section
// plane lies on a corner of cells, so that the surface of the continuous member
// falls between two rows.
type frames struct {
	unit       float64
	left, top  int // cells from the origin to the upper left corner, top upwards
	cols, rows int
	limits     [][]limit // by member
	broken     bool
	margin     [2]int // lanes for upright dimension lines at the left and at the right
}

// limit ends a member that goes on: shown are points p with p·normal ≤ reach.
type limit struct {
	normal geometry.Point
	reach  float64
}

// The proportions of a sketch.
const (
	// tallest is the height of a section in columns of its width: about a
	// terminal window.
	tallest = 0.35
	// nearest is how far a plate goes on beyond its welds, in sizes of the
	// largest weld, where cells are few.
	nearest = 1.0
	// farthest is the same where there are cells enough.
	farthest = 6.0
)

// frame settles what is shown at which scale: the largest at which the welds
// and the real edges fit, plates as far beyond them as there is room.
func (k *sketch) frame() {
	cols := float64(k.width - 2*(k.margin[0]+k.margin[1]))
	rows := math.Floor(float64(k.width) * tallest)
	size := 0.0
	for i := range k.section.Welds {
		b := k.section.Welds[i].Profile.Bounds()
		size = math.Max(size, math.Max(b.Width(), b.Height()))
	}
	reach := geometry.Point{X: nearest * size, Y: nearest * size}
	box, limits := k.window(reach)
	// One cell is kept back: ends fall inside cells.
	k.unit = handy(math.Max(box.Width()/(cols-1), box.Height()/(2*(rows-1))), float64(k.options.Numbers.Unit.Length()))
	for _, further := range [2]geometry.Point{{X: 1}, {Y: 1}} {
		for more := farthest - nearest; more > 0; more -= 0.1 {
			r := reach.Add(further.Scale(more * size))
			b, l := k.window(r)
			if b.Width() <= k.unit*(cols-1) && b.Height() <= 2*k.unit*(rows-1) {
				box, limits, reach = b, l, r
				break
			}
		}
	}
	k.limits = limits
	const slack = 1e-9 // an edge on the grid is on the grid
	k.left = int(math.Floor(box.Min.X/k.unit + slack))
	k.top = int(math.Ceil(box.Max.Y/(2*k.unit) - slack))
	k.cols = int(math.Ceil(box.Max.X/k.unit-slack)) - k.left
	k.rows = k.top - int(math.Floor(box.Min.Y/(2*k.unit)+slack))
}

// handy rounds a size of a cell in mm up to a number that is easily said in the
// unit of the legend.
func handy(mm, unit float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(mm/unit)))
	for _, n := range [...]float64{1, 1.1, 1.2, 1.4, 1.5, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.5, 7, 7.5, 8, 9} {
		if n*decade*unit >= mm*(1-1e-9) {
			return n * decade * unit
		}
	}
	return 10 * decade * unit
}

// window is the box of what is shown when plates go on by reach mm beyond the
// welds and the real edges, and where that ends each member. Plates that lie
// rather level go on by the x of reach, others by the y.
func (k *sketch) window(reach geometry.Point) (geometry.Box, [][]limit) {
	s := k.section
	must := geometry.EmptyBox()
	for i := range s.Welds {
		must = must.Union(s.Welds[i].Profile.Bounds())
	}
	if s.Backing != nil {
		must = must.Union(s.Backing.Outline.Bounds())
	}
	for i := range s.Members {
		must = must.Union(realEdges(&s.Members[i]))
	}
	box := must
	limits := make([][]limit, len(s.Members))
	for i := range s.Members {
		m := &s.Members[i]
		for _, n := range m.Broken {
			e := m.Outline.Edge(n)
			out := e.End().Sub(e.Start()).Perp().Scale(-1).Unit()
			end := e.Start().Dot(out)
			by := reach.X
			if math.Abs(out.Y) > math.Abs(out.X) {
				by = reach.Y
			}
			l := limit{out, math.Min(end, support(must, out)+by)}
			limits[i] = append(limits[i], l)
			back := out.Scale(l.reach - end)
			box = box.Expand(e.Start().Add(back)).Expand(e.End().Add(back))
		}
	}
	return box, limits
}

// realEdges is the box around the edges of a member that do not run on to a
// broken end.
func realEdges(m *joints.Member) geometry.Box {
	b := geometry.EmptyBox()
	n := m.Outline.Len()
	for i, e := range m.Outline.All() {
		if !slices.Contains(m.Broken, i) && !slices.Contains(m.Broken, (i+1)%n) && !slices.Contains(m.Broken, (i+n-1)%n) {
			b = b.Union(e.Bounds())
		}
	}
	return b
}

// support is how far a box reaches in a direction.
func support(b geometry.Box, dir geometry.Point) float64 {
	x, y := b.Min.X, b.Min.Y
	if dir.X > 0 {
		x = b.Max.X
	}
	if dir.Y > 0 {
		y = b.Max.Y
	}
	return x*dir.X + y*dir.Y
}
