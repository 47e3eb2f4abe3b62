package field

import (
	"math"

	"fay/geometry"
)

// Contours returns the lines on which values, one for each node and linear
// between them, pass through level. Points are in mm; higher values lie on the
// left. A closed line repeats its first point at its end.
func (m *Mesh) Contours(values []float64, level float64) [][]geometry.Point {
	type piece struct{ from, to sideKey }
	place := make(map[sideKey]geometry.Point)
	cross := func(a, b int32) sideKey {
		k := keyOf(a, b)
		if _, ok := place[k]; !ok {
			f := (level - values[k[0]]) / (values[k[1]] - values[k[0]])
			place[k] = m.nodes[k[0]].Lerp(m.nodes[k[1]], f)
		}
		return k
	}
	pieces := make([]piece, 0, 64)
	starts := make(map[sideKey]int32)
	ends := make(map[sideKey]bool)
	for _, t := range m.tris {
		above := 0
		odd := -1 // the corner alone on its side of the level
		for k, v := range t {
			if values[v] >= level {
				above++
			} else {
				odd = k
			}
		}
		switch above {
		case 0, 3:
			continue
		case 1:
			for k, v := range t {
				if values[v] >= level {
					odd = k
				}
			}
		}
		a, b, c := t[odd], t[(odd+1)%3], t[(odd+2)%3]
		p := piece{cross(a, b), cross(a, c)}
		if above == 2 { // the odd corner is low: keep the high side on the left
			p = piece{p.to, p.from}
		}
		starts[p.from] = number(len(pieces))
		ends[p.to] = true
		pieces = append(pieces, p)
	}
	var lines [][]geometry.Point
	used := make([]bool, len(pieces))
	follow := func(i int32) {
		line := []geometry.Point{place[pieces[i].from]}
		for {
			used[i] = true
			line = append(line, place[pieces[i].to])
			next, ok := starts[pieces[i].to]
			if !ok || used[next] {
				break
			}
			i = next
		}
		lines = append(lines, line)
	}
	for i := range pieces { // open lines from their beginning
		if !used[i] && !ends[pieces[i].from] {
			follow(number(i))
		}
	}
	for i := range pieces {
		if !used[i] {
			follow(number(i))
		}
	}
	return lines
}

// AreaAbove is the area of each region, mm², where values are at least level.
func (m *Mesh) AreaAbove(values []float64, level float64) []float64 {
	out := make([]float64, len(m.metals))
	for i, t := range m.tris {
		a := triangleArea(m.nodes[t[0]], m.nodes[t[1]], m.nodes[t[2]])
		out[m.region[i]] += a * partAbove(values[t[0]]-level, values[t[1]]-level, values[t[2]]-level)
	}
	return out
}

// partAbove is the part of a triangle where a linear function with these
// corner values is not negative.
func partAbove(x, y, z float64) float64 {
	if x > y {
		x, y = y, x
	}
	if y > z {
		y, z = z, y
	}
	if x > y {
		x, y = y, x
	}
	switch {
	case x >= 0:
		return 1
	case z < 0:
		return 0
	case y < 0:
		return z / (z - x) * z / (z - y)
	default:
		return 1 - x/(x-y)*x/(x-z)
	}
}

// Reach is how far along dir, from origin, values in a region are at least
// level, mm; false where they are so nowhere in it.
func (m *Mesh) Reach(values []float64, level float64, region int, origin, dir geometry.Point) (float64, bool) {
	far := math.Inf(-1)
	for i, t := range m.tris {
		if int(m.region[i]) != region {
			continue
		}
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			va, vb := values[a], values[b]
			if va >= level {
				far = max(far, m.nodes[a].Sub(origin).Dot(dir))
			}
			if (va >= level) != (vb >= level) {
				p := m.nodes[a].Lerp(m.nodes[b], (level-va)/(vb-va))
				far = max(far, p.Sub(origin).Dot(dir))
			}
		}
	}
	return far, !math.IsInf(far, -1)
}
