package compare

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
)

// margin is how far a plate that goes on is shown beyond the welds and the
// real edges, in thicknesses of the plate.
const margin = 0.5

// near is the distance, mm, below which a point lies on an edge.
const near = 1e-6

// crop shortens plates that go on: columns are narrow, and what that saves is
// given to the scale. What cannot be cut in one piece stays as it is.
func crop(sec *joints.Section) *joints.Section {
	out := *sec
	out.Members = slices.Clone(sec.Members)
	keep := kept(sec)
	for i := range out.Members {
		m := &out.Members[i]
		for _, k := range sec.Members[i].Broken {
			end := sec.Members[i].Outline.Edge(k)
			in := end.End().Sub(end.Start()).Unit().Perp() // the plate lies left of its edges
			room := math.Inf(1)
			for _, p := range keep {
				room = math.Min(room, p.Sub(end.Start()).Dot(in))
			}
			if by := room - margin*float64(m.Thickness); by > near && !math.IsInf(by, 0) {
				shorten(m, end, in.Scale(by))
			}
		}
	}
	return &out
}

// kept are the points that must stay: welds and corners off the broken ends.
func kept(sec *joints.Section) []geometry.Point {
	var pts []geometry.Point
	for i := range sec.Welds {
		for _, e := range sec.Welds[i].Profile.All() {
			pts = append(pts, e.Start(), e.At(0.5))
		}
	}
	for i := range sec.Members {
		m := &sec.Members[i]
		for _, e := range m.Outline.All() {
			on := func(k int) bool { return m.Outline.Edge(k).Distance(e.Start()) < near }
			if !slices.ContainsFunc(m.Broken, on) {
				pts = append(pts, e.Start())
			}
		}
	}
	return pts
}

// shorten moves one broken end along the plate.
func shorten(m *joints.Member, end geometry.Edge, by geometry.Point) {
	lines := make([]geometry.Edge, 0, 1+len(m.Broken))
	lines = append(lines, geometry.Line(end.Start().Add(by), end.End().Add(by)))
	for _, k := range m.Broken {
		lines = append(lines, m.Outline.Edge(k))
	}
	cut := m.Outline.Cut(geometry.HalfPlane{P: lines[0].Start(), N: by})
	if len(cut) != 1 {
		return
	}
	var broken []int
	for i, e := range cut[0].All() {
		on := func(l geometry.Edge) bool { return l.Distance(e.Start()) < near && l.Distance(e.End()) < near }
		if slices.ContainsFunc(lines, on) {
			broken = append(broken, i)
		}
	}
	if len(broken) == len(m.Broken) {
		m.Outline, m.Broken = cut[0], broken
	}
}
