package heatmap

import (
	"math"

	"fay/geometry"
	"fay/joints/heat/field"
)

// lineKind says what a line of the section is.
type lineKind uint8

const (
	edgeLine  lineKind = iota // surface of a member or weld
	facesLine                 // two faces on each other
	innerLine                 // between parts that are one for the heat
)

// spot is a place of the mesh: nodes at one place on both sides of a seam are one.
type spot [2]int64

const perSpot = 1e-6 // mm

func spotOf(p geometry.Point) spot {
	return spot{int64(math.Round(p.X / perSpot)), int64(math.Round(p.Y / perSpot))}
}

// outlines takes the lines of the section from the mesh: where a region ends.
func outlines(m *field.Mesh) map[lineKind][][]geometry.Point {
	type edge struct{ a, b spot }
	type seen struct {
		sides   int
		regions [2]int
		shared  bool // both sides use the same nodes
		nodes   [2]int
	}
	all := map[edge]*seen{}
	var order []edge
	at := map[spot]geometry.Point{}
	for i := range m.Triangles() {
		corners, region := m.Triangle(i)
		for k := range 3 {
			na, nb := corners[k], corners[(k+1)%3]
			pa, pb := m.Node(na), m.Node(nb)
			a, b := spotOf(pa), spotOf(pb)
			at[a], at[b] = pa, pb
			if b[0] < a[0] || b[0] == a[0] && b[1] < a[1] {
				a, b, na, nb = b, a, nb, na
			}
			e := edge{a, b}
			s := all[e]
			if s == nil {
				all[e] = &seen{sides: 1, regions: [2]int{region, region}, nodes: [2]int{na, nb}}
				order = append(order, e)
				continue
			}
			s.sides++
			s.regions[1] = region
			s.shared = s.nodes == [2]int{na, nb}
		}
	}
	parts := map[lineKind][][2]spot{}
	for _, e := range order {
		s := all[e]
		switch {
		case s.sides == 1:
			parts[edgeLine] = append(parts[edgeLine], [2]spot{e.a, e.b})
		case !s.shared:
			parts[facesLine] = append(parts[facesLine], [2]spot{e.a, e.b})
		case s.regions[0] != s.regions[1]:
			parts[innerLine] = append(parts[innerLine], [2]spot{e.a, e.b})
		}
	}
	out := map[lineKind][][]geometry.Point{}
	for kind, p := range parts {
		out[kind] = chain(p, at)
	}
	return out
}

// chain joins segments to lines as long as they go and drops points on straight
// stretches.
func chain(parts [][2]spot, at map[spot]geometry.Point) [][]geometry.Point {
	next := map[spot][]int{}
	for i, p := range parts {
		next[p[0]] = append(next[p[0]], i)
		next[p[1]] = append(next[p[1]], i)
	}
	used := make([]bool, len(parts))
	walk := func(from spot, i int) []geometry.Point {
		line := []geometry.Point{at[from]}
		for {
			used[i] = true
			p := parts[i]
			to := p[0]
			if to == from {
				to = p[1]
			}
			line = append(line, at[to])
			if len(next[to]) != 2 {
				return straighten(line)
			}
			i = next[to][0]
			if used[i] {
				i = next[to][1]
			}
			if used[i] {
				return straighten(line)
			}
			from = to
		}
	}
	var out [][]geometry.Point
	for i, p := range parts {
		for _, end := range p {
			if !used[i] && len(next[end]) != 2 {
				out = append(out, walk(end, i))
			}
		}
	}
	for i, p := range parts {
		if !used[i] {
			out = append(out, walk(p[0], i))
		}
	}
	return out
}

// straighten drops points that lie on the line between their neighbours.
func straighten(line []geometry.Point) []geometry.Point {
	out := line[:1:1]
	for i := 1; i < len(line); i++ {
		if i < len(line)-1 {
			a, b := line[i].Sub(out[len(out)-1]), line[i+1].Sub(line[i])
			if math.Abs(a.Cross(b)) <= 1e-9*a.Norm()*b.Norm() && a.Dot(b) > 0 {
				continue
			}
		}
		out = append(out, line[i])
	}
	return out
}

// corner is a corner of a molten area: a node, or a place on a mesh side.
type corner struct {
	a, b  int
	level float64
}

// molten gives the areas where the peak reaches what melts the region, as
// closed lines, and the parts of their rim inside the metal.
func molten(m *field.Mesh, peak, liquidus []float64) (areas, rims [][]geometry.Point) {
	at := map[corner]geometry.Point{}
	type directed struct{ from, to corner }
	left := map[directed]bool{}
	var order []directed
	for i := range m.Triangles() {
		nodes, region := m.Triangle(i)
		level := liquidus[region]
		var ring []corner
		for k := range 3 {
			a, b := nodes[k], nodes[(k+1)%3]
			if peak[a] >= level {
				c := corner{a: a, b: a}
				at[c] = m.Node(a)
				ring = append(ring, c)
			}
			if (peak[a] >= level) != (peak[b] >= level) {
				lo, hi := min(a, b), max(a, b)
				c := corner{lo, hi, level}
				at[c] = m.Node(lo).Lerp(m.Node(hi), (level-peak[lo])/(peak[hi]-peak[lo]))
				ring = append(ring, c)
			}
		}
		for k := range ring {
			d := directed{ring[k], ring[(k+1)%len(ring)]}
			if back := (directed{d.to, d.from}); left[back] {
				left[back] = false
				continue
			}
			left[d] = true
			order = append(order, d)
		}
	}
	next := map[corner][]corner{}
	for _, d := range order {
		if left[d] {
			left[d] = false // an edge taken twice counts once
			next[d.from] = append(next[d.from], d.to)
		}
	}
	for _, d := range order {
		for len(next[d.from]) > 0 {
			var area, rim []geometry.Point
			cut := func() {
				if len(rim) > 1 {
					rims = append(rims, rim)
				}
				rim = nil
			}
			for c := d.from; len(next[c]) > 0; {
				to := next[c][len(next[c])-1]
				next[c] = next[c][:len(next[c])-1]
				area = append(area, at[c])
				if c.a != c.b && to.a != to.b {
					if rim == nil {
						rim = []geometry.Point{at[c]}
					}
					rim = append(rim, at[to])
				} else {
					cut()
				}
				c = to
			}
			cut()
			if len(area) > 2 {
				areas = append(areas, area)
			}
		}
	}
	return areas, rims
}

// clip keeps the parts of a line inside a box.
func clip(line []geometry.Point, box geometry.Box) [][]geometry.Point {
	var out [][]geometry.Point
	var cur []geometry.Point
	for i := 1; i < len(line); i++ {
		a, b, ok := clipSegment(line[i-1], line[i], box)
		if !ok {
			if len(cur) > 1 {
				out = append(out, cur)
			}
			cur = nil
			continue
		}
		if cur == nil || cur[len(cur)-1] != a {
			if len(cur) > 1 {
				out = append(out, cur)
			}
			cur = []geometry.Point{a}
		}
		cur = append(cur, b)
	}
	if len(cur) > 1 {
		out = append(out, cur)
	}
	return out
}

func clipSegment(a, b geometry.Point, box geometry.Box) (from, to geometry.Point, ok bool) {
	t0, t1 := 0., 1.
	d := b.Sub(a)
	for _, e := range [4][2]float64{
		{-d.X, a.X - box.Min.X}, {d.X, box.Max.X - a.X}, {-d.Y, a.Y - box.Min.Y}, {d.Y, box.Max.Y - a.Y},
	} {
		p, q := e[0], e[1]
		switch {
		case p == 0:
			if q < 0 {
				return a, b, false
			}
		case p < 0:
			t0 = math.Max(t0, q/p)
		default:
			t1 = math.Min(t1, q/p)
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	from, to = a, b
	if t0 > 0 {
		from = a.Lerp(b, t0)
	}
	if t1 < 1 {
		to = a.Lerp(b, t1)
	}
	return from, to, true
}

// clipArea cuts a closed line to a box, side by side.
func clipArea(area []geometry.Point, box geometry.Box) []geometry.Point {
	for side := range 4 {
		inside := func(p geometry.Point) float64 {
			switch side {
			case 0:
				return p.X - box.Min.X
			case 1:
				return box.Max.X - p.X
			case 2:
				return p.Y - box.Min.Y
			}
			return box.Max.Y - p.Y
		}
		var out []geometry.Point
		for i, p := range area {
			q := area[(i+1)%len(area)]
			a, b := inside(p), inside(q)
			if a >= 0 {
				out = append(out, p)
			}
			if (a >= 0) != (b >= 0) {
				out = append(out, p.Lerp(q, a/(a-b)))
			}
		}
		area = out
	}
	return area
}
