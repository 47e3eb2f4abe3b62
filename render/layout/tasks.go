package layout

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/symbol"
)

// tasks lists what a section's drawing says, in the order of placing.
func (j *job) tasks(k *render.Sketch, s *render.Style) []task {
	sec := j.sec
	out := make([]task, 0, len(sec.Measures)+4)
	for i := range sec.Measures {
		m := &sec.Measures[i]
		if m.Draw == joints.NotDrawn || !drawnOnce(sec, m, j.pairs) || saidByThickness(sec, m) {
			continue
		}
		first, second := twins(sec, i)
		if second {
			continue
		}
		out = append(out, measureTask(sec, m, i, k.Scale, s, j.twice && m.Weld != "" || j.pairs.has(m.Weld) || first))
	}
	for i := range j.circles {
		out = append(out, j.circles[i].task(k.Scale, s))
	}
	for i := range sec.Members {
		// Of pieces of one member one is named.
		if again := slices.ContainsFunc(sec.Members[:i], func(m joints.Member) bool { return m.Name == sec.Members[i].Name }); !j.detail && !again {
			out = append(out, memberTask(&sec.Members[i], &k.Members[i], sec.Backing, k.Scale, s))
		}
	}
	if len(sec.Welds) > 1 && len(j.circles) == 0 {
		for i := range sec.Welds {
			if j.pairs.has(sec.Welds[i].ID) {
				continue
			}
			out = nameWeld(out, &sec.Welds[i], sec, k.Scale, s)
		}
	}
	for i := range j.symbols {
		out = append(out, symbolTask(sec, &j.symbols[i], k.Scale))
	}
	sortTasks(out)
	return out
}

func symbolTask(sec *joints.Section, y *symbol.Symbol, scale float64) task {
	return task{role: "symbol", form: welding, symbol: y, tips: tipsOf(sec, y, scale), outward: y.Arrow.Outward.Unit(),
		measure: -1, rank: symbolRank, drawn: new([4]drawnSymbol)}
}

// tipsOf are the points that the arrow of a symbol may point at: its own, or
// others on the face of the weld on the arrow side; where one member is prepared,
// on its bare surface beside the weld, for the arrow must stand on that member.
func tipsOf(sec *joints.Section, y *symbol.Symbol, scale float64) []geometry.Point {
	tips := []geometry.Point{y.Arrow.Tip.Scale(scale)}
	w, ok := sec.Weld(y.Sides[0].Weld)
	if !ok {
		return tips
	}
	if y.Arrow.Prepared != "" {
		for _, off := range [...]float64{1.5, 3} { // mm on paper
			tips = append(tips, beside(sec, w, y, off/scale, scale)...)
		}
		return tips
	}
	longest := w.FaceEdges[0]
	for _, e := range w.FaceEdges[1:] {
		if e.Length() > longest.Length() {
			longest = e
		}
	}
	for _, at := range [...]float64{0.25, 0.75, 0.1, 0.9} {
		tips = append(tips, longest.At(at).Scale(scale))
	}
	return tips
}

// beside is the point, on paper, of the prepared member's surface so far from its
// toe, clear of the weld; none where the surface ends before.
func beside(sec *joints.Section, w *joints.Weld, y *symbol.Symbol, off, scale float64) []geometry.Point {
	const near = 1e-6
	toe := y.Arrow.Tip
	for i := range sec.Members {
		if sec.Members[i].Name != y.Arrow.Prepared {
			continue
		}
		for _, e := range sec.Members[i].Outline.All() {
			q, t := e.Nearest(toe)
			if q.Dist(toe) > near {
				continue
			}
			along := e.Tangent(t).Unit().Scale(off)
			for _, p := range [...]geometry.Point{toe.Add(along), toe.Sub(along)} {
				if e.Distance(p) < near && w.Profile.Locate(p) == geometry.Outside {
					return []geometry.Point{p.Scale(scale)}
				}
			}
		}
	}
	return nil
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
	return len(sec.Welds) == 2 && len(pairsOf(sec)) > 0
}

// pairs are the welds of a section that are the same weld twice, one on either
// side of a member: the first one's index and the second one's by their ids.
type pairs map[string][2]int

func (p pairs) has(weld string) bool {
	_, ok := p[weld]
	return ok
}

func pairsOf(sec *joints.Section) pairs {
	p := pairs{}
	for i := range sec.Welds {
		for j := range i {
			a, b := &sec.Welds[j], &sec.Welds[i]
			between := func(w *joints.Weld, x, y int) bool { return w.Feet[0].Member == x && w.Feet[1].Member == y }
			x, y := a.Feet[0].Member, a.Feet[1].Member
			if !p.has(a.ID) && !p.has(b.ID) && (between(b, x, y) || between(b, y, x)) && alike(a, b) {
				p[a.ID], p[b.ID] = [2]int{j, i}, [2]int{j, i}
			}
		}
	}
	return p
}

func alike(a, b *joints.Weld) bool {
	const same = 1e-6
	near := func(x, y geometry.Length) bool { return math.Abs(float64(x-y)) < same }
	return a.Kind == b.Kind && near(a.Feet[0].Leg, b.Feet[0].Leg) && near(a.Feet[1].Leg, b.Feet[1].Leg) &&
		near(a.Convexity, b.Convexity) && near(a.Gap, b.Gap) && near(a.Penetration, b.Penetration) &&
		near(a.EffectiveThroat, b.EffectiveThroat) && near(a.ActualThroat, b.ActualThroat) &&
		math.Abs(float64(a.Dihedral-b.Dihedral)) < same && math.Abs(a.Area-b.Area) < same
}

// throatRank places throats after short dimensions and before long ones, which
// have room elsewhere.
const throatRank = 31

// symbolRank places welding symbols, which need much room but have many places.
const symbolRank = 33

// drawnOnce spreads the dimensions of two like welds over both of them: what
// stands beside the joint at one weld, the throat at the other. The gap keeps
// company with the throat, because legs and gap would get in each other's way.
func drawnOnce(sec *joints.Section, m *joints.Measure, p pairs) bool {
	pair, ok := p[m.Weld]
	if !ok {
		return true
	}
	legs := 0
	for i := range sec.Measures {
		g := &sec.Measures[i]
		if g.Weld == "" && g.Draw == joints.DrawLinear && g.From.Dist(sec.Welds[pair[0]].JointRoot) < 1e-9 {
			legs = 1
		}
	}
	return (m.Weld == sec.Welds[pair[legs]].ID) != (m.Outward == geometry.Point{})
}

// ownSide tells whether a dimension of one weld would stand among those of
// another one if it were led out to the back.
func ownSide(sec *joints.Section, m *joints.Measure) bool {
	for i := range sec.Welds {
		w := &sec.Welds[i]
		if m.Weld != "" && w.ID != m.Weld && w.Centroid.Sub(m.From).Dot(m.Outward) < 0 {
			return true
		}
	}
	return false
}

// twins tells whether a measure of the preparation is one of two alike, and
// which of them: a radius on either member, or what the arrow side and the
// other side have in common. The first one then speaks for both.
func twins(sec *joints.Section, i int) (first, second bool) {
	m := &sec.Measures[i]
	for j := range sec.Measures {
		o := &sec.Measures[j]
		if j == i || o.Draw != m.Draw || math.Abs(o.Value-m.Value) > 1e-6 || m.Weld != "" || o.Weld != "" {
			continue
		}
		switch {
		case m.Draw == joints.DrawRadius && m.Name == o.Name:
			return i < j, j < i
		case strings.Replace(o.Name, other, "", 1) == m.Name && o.Name != m.Name:
			first = true
		case strings.Replace(m.Name, other, "", 1) == o.Name && o.Name != m.Name:
			second = true
		}
	}
	return first, second
}

// other is in the names of what belongs to the other side.
const other = "other "

// saidByThickness tells whether a measure is the depth of a preparation that
// goes through its plate, or the leg of a weld along the whole edge of one, so
// that the thickness beside it says the same.
func saidByThickness(sec *joints.Section, m *joints.Measure) bool {
	if m.Draw != joints.DrawLinear || m.Tolerance != nil {
		return false
	}
	w, _ := sec.Weld(m.Weld)
	depth, leg := strings.HasSuffix(m.Name, "depth"), w != nil && w.Kind == joints.EdgeWeld && strings.HasPrefix(m.Name, "leg")
	if !depth && !leg {
		return false
	}
	for i := range sec.Measures {
		t := &sec.Measures[i]
		if t.Name == "thickness" && math.Abs(t.Value-m.Value) < 1e-6 && (depth || t.Member == m.Member) {
			u := t.To.Sub(t.From).Unit()
			return math.Abs(u.Cross(m.Outward.Unit())) > 0.99
		}
	}
	return false
}

func measureTask(sec *joints.Section, m *joints.Measure, index int, scale float64, s *render.Style, twice bool) task {
	t := task{
		role: "dimension:" + roleOf(m), text: s.Label(Label(m, s, twice)), measure: index,
		a: m.From.Scale(scale), b: m.To.Scale(scale), v: m.Vertex.Scale(scale), outward: m.Outward.Unit(),
		eitherSide: m.Weld == "" && m.Member == "", own: ownSide(sec, m),
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
		if m.Weld != "" {
			t.rank = min(t.rank, throatRank-1)
		}
		if m.Outward == (geometry.Point{}) {
			t.form, t.rank = inline, throatRank
		}
	}
	// Where a leg is measured, the other surface of the nook is the natural
	// way out for extension lines.
	if w, ok := sec.Weld(m.Weld); ok && t.form == linear && w.Kind == joints.FilletWeld {
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

// diameter is the sign that stands before a diameter without a space.
const diameter = "⌀"

// Label is the text of a dimension: the model's number, its tolerance, and
// the name where the number alone would not say what it is.
func Label(m *joints.Measure, s *render.Style, twice bool) string {
	text := s.Dimension(m.Value, m.Unit, m.Tolerance)
	if m.Draw == joints.DrawRadius {
		text = "R" + text
	}
	name := m.Name
	for _, of := range [...]string{"lower ", other} {
		name = strings.TrimPrefix(name, of)
	}
	switch name = s.Word("dimension." + name); name {
	case "":
	case diameter:
		text = name + text
	default:
		text = name + " " + text
	}
	if twice {
		text = s.Word("twice") + " " + text
	}
	return text
}

// memberTask names a member by a leader that ends in it.
func memberTask(m *joints.Member, k *render.SketchMember, backing *joints.Backing, scale float64, s *render.Style) task {
	name := s.Word("member." + m.Name)
	if m.Name == render.BackingName && backing != nil {
		name = s.Word("backing." + string(backing.Kind))
	}
	if m.Material != "" && len(m.Material) <= 24 {
		name += ", " + m.Material
	}
	t := task{role: "label:" + m.Name, text: s.Label(name), form: leader, end: render.EndDot, measure: -1, rank: 5000}
	// Points near the broken ends, which are furthest from the weld; a third
	// of the way in from the faces.
	c := m.Outline.Centroid().Scale(scale)
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
