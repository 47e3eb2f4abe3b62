package layout

import (
	"cmp"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
)

// tasks lists what a section's drawing says, in the order of placing.
func (j *job) tasks(k *render.Sketch, s *render.Style) []task {
	sec, alike := j.sec, j.alike
	out := make([]task, 0, len(sec.Measures)+4)
	for i := range sec.Measures {
		m := &sec.Measures[i]
		if m.Draw == joints.NotDrawn || !drawnOnce(sec, m, alike) {
			continue
		}
		out = append(out, measureTask(sec, m, i, k.Scale, s, alike || j.twice))
	}
	for i := range j.circles {
		out = append(out, j.circles[i].task(k.Scale, s))
	}
	for i := range sec.Members {
		if !j.detail {
			out = append(out, memberTask(&sec.Members[i], &k.Members[i], s))
		}
	}
	if len(sec.Welds) > 1 && !alike && len(j.circles) == 0 {
		for i := range sec.Welds {
			out = nameWeld(out, &sec.Welds[i], sec, k.Scale, s)
		}
	}
	sortTasks(out)
	return out
}

// nameWeld tells which weld is which: under the throat's text where the throat
// is dimensioned, else by a leader to the face.
func nameWeld(out []task, w *joints.Weld, sec *joints.Section, scale float64, s *render.Style) []task {
	name := s.Word("weld." + w.ID)
	for i := range out {
		if t := &out[i]; t.form == inline && t.measure >= 0 && sec.Measures[t.measure].Weld == w.ID {
			t.sub = s.Label(name)
			return out
		}
	}
	// A face of several edges is pointed at on its longest.
	longest := w.FaceEdges[0]
	for _, e := range w.FaceEdges[1:] {
		if e.Length() > longest.Length() {
			longest = e
		}
	}
	face := longest.Transform(geometry.Scale(scale))
	t := task{role: "label:" + w.ID, text: s.Label(name), form: leader, end: render.EndArrow, measure: -1, rank: 4000}
	for _, at := range [...]float64{0.3, 0.7, 0.2, 0.8} {
		t.targets = append(t.targets, face.At(at))
	}
	t.outward = face.Tangent(0.5).Perp()
	if t.outward.Dot(face.At(0.5).Sub(w.JointRoot.Scale(scale))) < 0 {
		t.outward = t.outward.Scale(-1)
	}
	return append(out, t)
}

func sortTasks(list []task) {
	slices.SortStableFunc(list, func(a, b task) int { return cmp.Compare(a.rank, b.rank) })
}

// Alike tells whether the two welds of a section are the same weld twice, so
// that one set of dimensions serves both.
func Alike(sec *joints.Section) bool {
	if len(sec.Welds) != 2 {
		return false
	}
	a, b := &sec.Welds[0], &sec.Welds[1]
	const same = 1e-6
	near := func(x, y geometry.Length) bool { return math.Abs(float64(x-y)) < same }
	return a.Kind == b.Kind && near(a.Feet[0].Leg, b.Feet[0].Leg) && near(a.Feet[1].Leg, b.Feet[1].Leg) &&
		near(a.Convexity, b.Convexity) && near(a.Gap, b.Gap) && near(a.Penetration, b.Penetration) &&
		near(a.EffectiveThroat, b.EffectiveThroat) && near(a.ActualThroat, b.ActualThroat) &&
		math.Abs(float64(a.Dihedral-b.Dihedral)) < same && math.Abs(a.Area-b.Area) < same
}

// drawnOnce spreads the dimensions of two like welds over both of them: what
// stands beside the joint at one weld, the throat at the other. The gap keeps
// company with the throat, because legs and gap would get in each other's way.
func drawnOnce(sec *joints.Section, m *joints.Measure, alike bool) bool {
	if !alike || m.Weld == "" {
		return true
	}
	legs := 0
	for i := range sec.Measures {
		g := &sec.Measures[i]
		if g.Weld == "" && g.Draw == joints.DrawLinear && g.From.Dist(sec.Welds[0].JointRoot) < 1e-9 {
			legs = 1
		}
	}
	return (m.Weld == sec.Welds[legs].ID) != (m.Outward == geometry.Point{})
}

func measureTask(sec *joints.Section, m *joints.Measure, index int, scale float64, s *render.Style, twice bool) task {
	t := task{
		role: "dimension:" + roleOf(m), text: s.Label(Label(m, s, twice && m.Weld != "")), measure: index,
		a: m.From.Scale(scale), b: m.To.Scale(scale), v: m.Vertex.Scale(scale), outward: m.Outward.Unit(),
		eitherSide: m.Weld == "" && m.Member == "",
	}
	t.named = t.text
	if s.Word("dimension."+m.Name) == "" {
		t.named = s.Label(s.Word("measure."+m.Name) + " " + t.text.Text)
	}
	switch m.Draw {
	case joints.DrawAngular:
		t.form, t.rank = angular, -1
		t.a, t.b = m.From.Sub(m.Vertex), m.To.Sub(m.Vertex)
	case joints.DrawRadius:
		t.form, t.rank, t.radius = inline, 3000, true
	default:
		t.form, t.rank = linear, t.a.Dist(t.b)
		if m.Outward == (geometry.Point{}) {
			t.form, t.rank = inline, 2500
		}
	}
	// Where a leg is measured, the other surface of the nook is the natural
	// way out for extension lines.
	if w, ok := sec.Weld(m.Weld); ok && t.form == linear {
		for i := range w.Feet {
			if w.Feet[i].Toe != m.To && w.Feet[i].Toe != m.From {
				t.along = w.Feet[i].Toe.Sub(w.JointRoot).Unit()
			}
		}
	}
	return t
}

func roleOf(m *joints.Measure) string {
	r := m.Name
	if m.Member != "" {
		r += " " + m.Member
	}
	if m.Weld != "" {
		r += " " + m.Weld
	}
	return r
}

// Label is the text of a dimension: the model's number, its tolerance, and
// the name where the number alone would not say what it is.
func Label(m *joints.Measure, s *render.Style, twice bool) string {
	text := s.Numbers.Toleranced(m.Value, m.Unit, m.Tolerance)
	if m.Draw == joints.DrawRadius {
		text = "R" + text
	}
	if name := s.Word("dimension." + m.Name); name != "" {
		text = name + " " + text
	}
	if twice {
		text = s.Word("twice") + " " + text
	}
	return text
}

// memberTask names a member by a leader that ends in it.
func memberTask(m *joints.Member, k *render.SketchMember, s *render.Style) task {
	name := s.Word("member." + m.Name)
	if m.Material != "" && len(m.Material) <= 24 {
		name += ", " + m.Material
	}
	t := task{role: "label:" + m.Name, text: s.Label(name), form: leader, end: render.EndDot, measure: -1, rank: 5000}
	// Points near the broken ends, which are furthest from the weld; a third
	// of the way in from the faces.
	c := k.Outline.Centroid()
	for _, i := range m.Broken {
		if i >= len(k.Plain) {
			continue
		}
		e := k.Plain[i]
		in := c.Sub(e.At(0.5)).Unit()
		for _, at := range [...]float64{0.3, 0.7} {
			t.targets = append(t.targets, e.At(at).Add(in.Scale(min(9, 0.5*c.Dist(e.At(0.5))))))
		}
	}
	t.targets = append(t.targets, c)
	return t
}
