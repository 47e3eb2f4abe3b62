package layout

import (
	"math"

	"fay/geometry"
	"fay/joints"
	"fay/render"
)

// trim shortens plates that go on: they are drawn as far beyond the welds as it
// takes to recognise them, and what that saves is given to the scale. A plate
// is shortened along itself only, so that every measure keeps its value; the
// witness points of a thickness, which stand on the broken end, move with it.
func trim(sec *joints.Section) *joints.Section {
	return withBacking(shortened(sec))
}

// withBacking lists a backing with the members, as far as they are drawn.
func withBacking(sec *joints.Section) *joints.Section {
	if sec.Backing == nil {
		return sec
	}
	box := geometry.EmptyBox()
	for i := range sec.Members {
		box = box.Union(sec.Members[i].Outline.Bounds())
	}
	inset := 0.04 * box.Width()
	win := sec.Backing.Outline.Bounds()
	win.Min.X, win.Max.X = math.Max(win.Min.X, box.Min.X+inset), math.Min(win.Max.X, box.Max.X-inset)
	parts := clip(sec.Backing.Outline, win)
	if len(parts) != 1 {
		return sec
	}
	m := joints.Member{Name: render.BackingName, Plate: joints.Plate{Thickness: sec.Backing.Thickness}, Outline: parts[0]}
	whole := sec.Backing.Outline.Bounds()
	for k, e := range parts[0].All() {
		x := e.At(0.5).X
		if math.Abs(e.Start().X-e.End().X) < near && (math.Abs(x-win.Min.X) < near && win.Min.X > whole.Min.X || math.Abs(x-win.Max.X) < near && win.Max.X < whole.Max.X) {
			m.Broken = append(m.Broken, k)
		}
	}
	out := *sec
	out.Members = append(append([]joints.Member(nil), sec.Members...), m)
	return &out
}

func shortened(sec *joints.Section) *joints.Section {
	keep := kept(sec)
	if len(keep) == 0 {
		return sec
	}
	leg := 0.0
	for i := range sec.Welds {
		for _, f := range sec.Welds[i].Feet {
			leg = math.Max(leg, float64(f.Leg))
		}
		leg = math.Max(leg, float64(sec.Welds[i].CapWidth.Value)/2)
	}
	out := *sec
	out.Members = append([]joints.Member(nil), sec.Members...)
	out.Measures = append([]joints.Measure(nil), sec.Measures...)
	for i := range out.Members {
		trimMember(&out, i, keep, math.Max(leg, 0.7*float64(out.Members[i].Thickness)))
	}
	return &out
}

// kept are the points that must stay on the drawing: welds and all corners that
// do not belong to broken ends.
func kept(sec *joints.Section) []geometry.Point {
	var pts []geometry.Point
	for i := range sec.Welds {
		for _, e := range sec.Welds[i].Profile.All() {
			pts = append(pts, e.Start(), e.At(0.5))
		}
	}
	for _, e := range sec.Preparation {
		pts = append(pts, e.Start(), e.End())
	}
	for i := range sec.Members {
		m := &sec.Members[i]
		onBroken := func(p geometry.Point) bool {
			for _, k := range m.Broken {
				if k < m.Outline.Len() && m.Outline.Edge(k).Distance(p) < 1e-9 {
					return true
				}
			}
			return false
		}
		for _, e := range m.Outline.All() {
			if !onBroken(e.Start()) {
				pts = append(pts, e.Start())
			}
		}
	}
	return pts
}

func trimMember(sec *joints.Section, at int, keep []geometry.Point, margin float64) {
	old := sec.Members[at]
	for _, k := range old.Broken {
		if k >= old.Outline.Len() {
			continue
		}
		end := old.Outline.Edge(k)
		if end.Kind() != geometry.LineEdge {
			continue
		}
		// The plate's inside lies left of its edges.
		in := end.End().Sub(end.Start()).Unit().Perp()
		room := math.Inf(1)
		for _, p := range keep {
			room = math.Min(room, p.Sub(end.Start()).Dot(in))
		}
		if by := room - margin; by > 0 {
			shorten(sec, at, end, in.Scale(by))
		}
	}
}

// shorten moves a broken end by a vector along the plate.
func shorten(sec *joints.Section, at int, end geometry.Edge, by geometry.Point) {
	m := &sec.Members[at]
	cut := m.Outline.Cut(geometry.HalfPlane{P: end.Start().Add(by), N: by})
	if len(cut) != 1 {
		return
	}
	var broken []int
	moved := geometry.Line(end.Start().Add(by), end.End().Add(by))
	for i, e := range cut[0].All() {
		if lies(e, moved) || goesOn(e, m) {
			broken = append(broken, i)
		}
	}
	if len(broken) != len(m.Broken) {
		return // not a plain plate: leave it as it is
	}
	m.Outline, m.Broken = cut[0], broken
	for i := range sec.Measures {
		q := &sec.Measures[i]
		if q.Member == m.Name && q.Weld == "" && end.Distance(q.From) < near && end.Distance(q.To) < near {
			q.From, q.To = q.From.Add(by), q.To.Add(by)
		}
	}
}

// near is the distance in the section plane, mm, below which a point lies on
// an edge that was computed on another way.
const near = 1e-6

func lies(e, on geometry.Edge) bool {
	return on.Distance(e.Start()) < near && on.Distance(e.End()) < near
}
