package field

import (
	"math"

	"fay/geometry"
)

// grid maps the plane to the integer grid and back.
type grid struct {
	origin geometry.Point
	step   float64 // mm
}

func newGrid(box geometry.Box) grid {
	span := max(box.Width(), box.Height())
	return grid{origin: box.Min, step: span / (gridSpan - 4)}
}

func (g grid) to(p geometry.Point) gp {
	return gp{int64(math.Round((p.X - g.origin.X) / g.step)), int64(math.Round((p.Y - g.origin.Y) / g.step))}
}

func (g grid) from(p gp) geometry.Point {
	return geometry.Point{X: g.origin.X + float64(p.x)*g.step, Y: g.origin.Y + float64(p.y)*g.step}
}

// mergeDistance in mm: corners nearer than this are one, and a corner nearer
// to a side than this lies on it. Members that touch were computed on
// different routes; nobody fits plates to a tenth of a micrometre.
const mergeDistance = 1e-4

// arrangement is the outlines of all regions cut into pieces that meet at
// their ends only.
type arrangement struct {
	pts  []gp
	segs [][2]int32
	near float64 // mergeDistance in grid steps
}

// arrange cuts the outlines where they meet. It reports false when they do not
// come to rest, which takes sides in their thousands that nearly touch.
func arrange(g grid, regions []Region) (*arrangement, bool) {
	a := &arrangement{near: max(1.5, mergeDistance/g.step)}
	for i := range regions {
		out := regions[i].Outline
		first := a.point(g.to(out[0]))
		prev := first
		for _, q := range out[1:] {
			v := a.point(g.to(q))
			a.add(prev, v)
			prev = v
		}
		a.add(prev, first)
	}
	for range 12 {
		if !a.cutOnce() {
			return a, true
		}
		if len(a.segs) > 4*mostCorners {
			return nil, false
		}
	}
	return nil, false
}

func (a *arrangement) point(p gp) int32 {
	for i, q := range a.pts {
		if float64(dist2(p, q)) <= a.near*a.near {
			return number(i)
		}
	}
	a.pts = append(a.pts, p)
	return number(len(a.pts) - 1)
}

func (a *arrangement) add(u, v int32) {
	if u != v {
		a.segs = append(a.segs, [2]int32{min(u, v), max(u, v)})
	}
}

// cutOnce divides every side at the corners on it and at crossings, and drops
// doubles. It reports whether anything changed.
func (a *arrangement) cutOnce() bool {
	old := a.segs
	a.segs = nil
	seen := make(map[[2]int32]bool, len(old))
	boxes := make([][4]int64, len(old))
	pad := int64(a.near) + 1
	for i, s := range old {
		p, q := a.pts[s[0]], a.pts[s[1]]
		boxes[i] = [4]int64{min(p.x, q.x) - pad, min(p.y, q.y) - pad, max(p.x, q.x) + pad, max(p.y, q.y) + pad}
	}
	// Crossings first, so that their points are there to cut at.
	corners := len(a.pts)
	for i := range old {
		for j := i + 1; j < len(old); j++ {
			b, c := boxes[i], boxes[j]
			if b[0] > c[2] || c[0] > b[2] || b[1] > c[3] || c[1] > b[3] {
				continue
			}
			if x, ok := a.crossing(old[i], old[j]); ok {
				a.point(x)
			}
		}
	}
	changed := len(a.pts) != corners
	type stop struct {
		v int32
		t float64
	}
	var stops []stop
	for i, s := range old {
		p, q := a.pts[s[0]], a.pts[s[1]]
		dx, dy := float64(q.x-p.x), float64(q.y-p.y)
		l := math.Hypot(dx, dy)
		stops = stops[:0]
		for v, x := range a.pts {
			if x.x < boxes[i][0] || x.x > boxes[i][2] || x.y < boxes[i][1] || x.y > boxes[i][3] || number(v) == s[0] || number(v) == s[1] {
				continue
			}
			ex, ey := float64(x.x-p.x), float64(x.y-p.y)
			t := (ex*dx + ey*dy) / l
			if t > 0 && t < l && math.Abs(ex*dy-ey*dx)/l <= a.near {
				k := len(stops)
				stops = append(stops, stop{number(v), t})
				for k > 0 && stops[k-1].t > t {
					stops[k] = stops[k-1]
					k--
				}
				stops[k] = stop{number(v), t}
			}
		}
		prev := s[0]
		for _, st := range stops {
			a.unique(prev, st.v, seen)
			prev = st.v
			changed = true
		}
		a.unique(prev, s[1], seen)
	}
	return changed
}

func (a *arrangement) unique(u, v int32, seen map[[2]int32]bool) {
	if u == v {
		return
	}
	k := [2]int32{min(u, v), max(u, v)}
	if !seen[k] {
		seen[k] = true
		a.segs = append(a.segs, k)
	}
}

// crossing returns the point where two sides cross away from their ends.
func (a *arrangement) crossing(s, t [2]int32) (gp, bool) {
	p, q, u, v := a.pts[s[0]], a.pts[s[1]], a.pts[t[0]], a.pts[t[1]]
	o1, o2 := orient(p, q, u), orient(p, q, v)
	o3, o4 := orient(u, v, p), orient(u, v, q)
	if (o1 > 0) == (o2 > 0) || (o3 > 0) == (o4 > 0) || o1 == 0 || o2 == 0 || o3 == 0 || o4 == 0 {
		return gp{}, false
	}
	f := float64(o3) / (float64(o3) - float64(o4))
	return gp{p.x + int64(math.Round(f*float64(q.x-p.x))), p.y + int64(math.Round(f*float64(q.y-p.y)))}, true
}
