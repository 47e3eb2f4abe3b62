package layout

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
)

// circle marks the place of a detail on the main view.
type circle struct {
	centre geometry.Point // in the section plane
	radius float64
	letter string
}

func (c *circle) mark(scale float64) render.Mark {
	return render.Mark{Role: "detail:" + c.letter, Arcs: render.Circle(c.centre.Scale(scale), c.radius*scale)}
}

// letterHeight is the height of letters that name details: the next step of
// the lettering series above dimensions (ISO 3098).
const letterHeight = 5

func (c *circle) task(scale float64, s *render.Style) task {
	t := task{role: "detail:" + c.letter, text: s.Label(c.letter), form: leader, end: render.EndNone, height: letterHeight,
		measure: -1, rank: 1900, round: true, v: c.centre.Scale(scale)}
	for _, deg := range [...]float64{60, 120, 30, 150, -60, -120, 75, 105} {
		t.targets = append(t.targets, c.centre.Scale(scale).Add(geometry.Polar(c.radius*scale, geometry.Angle(deg)*geometry.Degree)))
	}
	return t
}

// detail is the part of a section about one weld.
type detail struct {
	job    job
	circle circle
	letter string
	index  []int // measures of the section it shows
}

// window is how far, in legs, a detail shows the joint around its weld.
const window = 0.9

// details cuts the surroundings of each weld out of a section; of two like
// welds only one, and welds that all but touch together.
func details(sec *joints.Section) []detail {
	all := pairsOf(sec)
	var out []detail
	for _, group := range groups(sec) {
		pair, twin := all[sec.Welds[group[0]].ID]
		twin = twin && len(group) == 1
		if twin && pair[1] == group[0] {
			continue // the first of the two is shown
		}
		d, ok := cutOut(sec, group)
		if !ok {
			return nil
		}
		d.letter = letters[len(out)%len(letters)]
		d.job.twice = twin
		d.job.pairs = pairsOf(d.job.sec)
		d.circle.letter = d.letter
		out = append(out, d)
	}
	return out
}

// letters name details.
var letters = [...]string{"A", "B", "C", "D", "E", "F", "G", "H"}

// groups parts the welds by nearness.
func groups(sec *joints.Section) [][]int {
	var out [][]int
	for i := range sec.Welds {
		box := sec.Welds[i].Profile.Bounds()
		reach := 0.15 * math.Max(box.Width(), box.Height())
		joined := false
		for g := range out {
			for _, k := range out[g] {
				if !joined && box.Grow(reach).Overlaps(sec.Welds[k].Profile.Bounds()) {
					out[g], joined = append(out[g], i), true
				}
			}
		}
		if !joined {
			out = append(out, []int{i})
		}
	}
	return out
}

func cutOut(sec *joints.Section, group []int) (detail, bool) {
	box := geometry.EmptyBox()
	part := joints.Section{Kind: sec.Kind, Title: sec.Title, Backing: sec.Backing}
	for _, i := range group {
		w := &sec.Welds[i]
		box = box.Union(w.Profile.Bounds()).Expand(w.JointRoot)
		part.Welds = append(part.Welds, *w)
	}
	size := math.Max(box.Width(), box.Height())
	win := box.Grow(window * size)
	for i := range sec.Welds {
		if !slices.Contains(group, i) {
			win = keepOff(win, box, sec.Welds[i].Profile.Bounds())
		}
	}
	d := detail{job: job{detail: true, part: true}, circle: circle{centre: box.Centre(), radius: 0.5*math.Hypot(box.Width(), box.Height()) + 0.3*size}}
	for i := range sec.Members {
		for _, o := range clip(sec.Members[i].Outline, win) {
			m := sec.Members[i]
			m.Outline, m.Broken = o, nil
			for k, e := range o.All() {
				if onRim(e, win) || goesOn(e, &sec.Members[i]) {
					m.Broken = append(m.Broken, k)
				}
			}
			part.Members = append(part.Members, m)
			d.job.lining = append(d.job.lining, i)
		}
	}
	if len(part.Members) == 0 {
		return d, false
	}
	for _, e := range sec.Preparation {
		if win.Contains(e.Start()) && win.Contains(e.End()) {
			part.Preparation = append(part.Preparation, e)
		}
	}
	inside := win.Grow(0.01 * size)
	for i := range sec.Measures {
		m := &sec.Measures[i]
		_, mine := part.Weld(m.Weld)
		if m.Weld == "" && m.Member == "" && m.Draw == joints.DrawLinear {
			mine = inside.Contains(m.From) && inside.Contains(m.To)
		}
		if mine && !slices.Contains(d.index, i) {
			part.Measures = append(part.Measures, *m)
			d.index = append(d.index, i)
		}
	}
	d.job.sec = &part
	return d, true
}

// keepOff draws a window back from another weld, to the middle between the two.
func keepOff(win, box, other geometry.Box) geometry.Box {
	if !win.Overlaps(other) {
		return win
	}
	switch {
	case other.Max.X <= box.Min.X:
		win.Min.X = math.Max(win.Min.X, (other.Max.X+box.Min.X)/2)
	case other.Min.X >= box.Max.X:
		win.Max.X = math.Min(win.Max.X, (other.Min.X+box.Max.X)/2)
	case other.Max.Y <= box.Min.Y:
		win.Min.Y = math.Max(win.Min.Y, (other.Max.Y+box.Min.Y)/2)
	case other.Min.Y >= box.Max.Y:
		win.Max.Y = math.Min(win.Max.Y, (other.Min.Y+box.Max.Y)/2)
	}
	return win
}

// clip cuts an outline with a window.
func clip(o geometry.Outline, win geometry.Box) []geometry.Outline {
	parts := []geometry.Outline{o}
	for _, h := range [4]geometry.HalfPlane{
		{P: win.Min, N: geometry.Point{X: 1}}, {P: win.Min, N: geometry.Point{Y: 1}},
		{P: win.Max, N: geometry.Point{X: -1}}, {P: win.Max, N: geometry.Point{Y: -1}},
	} {
		next := make([]geometry.Outline, 0, len(parts))
		for _, p := range parts {
			next = append(next, p.Cut(h)...)
		}
		parts = next
	}
	return parts
}

// goesOn tells whether an edge is what is left of an end that was broken off
// before.
func goesOn(e geometry.Edge, m *joints.Member) bool {
	for _, k := range m.Broken {
		if k >= m.Outline.Len() {
			continue
		}
		if lies(e, m.Outline.Edge(k)) {
			return true
		}
	}
	return false
}

// onRim tells whether an edge was made by the window.
func onRim(e geometry.Edge, win geometry.Box) bool {
	const rim = 1e-6
	if e.Kind() != geometry.LineEdge {
		return false
	}
	a, b := e.Start(), e.End()
	on := func(x, y, at float64) bool { return math.Abs(x-at) < rim && math.Abs(y-at) < rim }
	return on(a.X, b.X, win.Min.X) || on(a.X, b.X, win.Max.X) || on(a.Y, b.Y, win.Min.Y) || on(a.Y, b.Y, win.Max.Y)
}
