package overlay

import (
	"math"

	"fay/geometry"
	"fay/joints"
	"fay/joints/macro"
	"fay/render"
)

// view draws the section in a window of the sheet.
type view struct {
	style   *render.Style
	section *joints.Section
	report  *macro.Report
	window  geometry.Box
	scale   float64
	paper   geometry.Transform // section to sheet
	items   []render.Item
	// texts and lines are what labels must keep clear of.
	texts  [][4]geometry.Point
	lines  []render.Segment
	dims   []render.Segment // dimension lines among them
	points []geometry.Point // toes and roots, which no leader may run through
}

// shares of the window that the weld may fill.
const (
	widthShare  = 0.40
	heightShare = 0.46
)

// newView picks the largest standard scale at which the weld leaves room for
// its dimensions.
func newView(sheet *Sheet, style *render.Style, window geometry.Box) *view {
	v := &view{style: style, section: sheet.Section, report: sheet.Report, window: window}
	w := v.report.Weld
	box := w.Profile.Bounds()
	air := w.Feet[0].Toe.Lerp(w.Feet[1].Toe, 0.5).Sub(w.Centroid)
	if o := v.report.Outline; o != nil {
		box = box.Union(o.Bounds())
		air = w.Feet[0].Toe.Sub(w.JointRoot).Unit().Add(w.Feet[1].Toe.Sub(w.JointRoot).Unit())
	}
	for _, s := range render.Scales {
		v.scale = s
		if box.Width()*s <= widthShare*window.Width() && box.Height()*s <= heightShare*window.Height() {
			break
		}
	}
	// The dimensions stand on the open side.
	const shift = 9.0
	centre := window.Centre().Sub(air.Unit().Scale(shift))
	v.paper = geometry.Scale(v.scale).Then(geometry.Translate(centre.Sub(box.Centre().Scale(v.scale))))
	return v
}

func (v *view) at(p geometry.Point) geometry.Point { return v.paper.Apply(p) }

func (v *view) path(layer render.Layer, role string, pen *render.Stroke, edges ...geometry.Edge) {
	kept := make([]geometry.Edge, 0, len(edges))
	for _, e := range edges {
		kept = append(kept, clip(e.Transform(v.paper), v.window)...)
	}
	if len(kept) == 0 {
		return
	}
	for _, e := range kept {
		n := 1
		if e.Kind() != geometry.LineEdge {
			n = 12
		}
		for i := range n {
			v.lines = append(v.lines, render.Segment{A: e.At(float64(i) / float64(n)), B: e.At(float64(i+1) / float64(n))})
		}
	}
	v.items = append(v.items, render.Item{Layer: layer, Role: role, Path: &render.Path{Edges: kept, Stroke: pen}})
}

// clip keeps the parts of an edge inside a box.
func clip(e geometry.Edge, box geometry.Box) (kept []geometry.Edge) {
	a, c := geometry.Point{X: box.Max.X, Y: box.Min.Y}, geometry.Point{X: box.Min.X, Y: box.Max.Y}
	parts := []geometry.Edge{e}
	for _, side := range [4]geometry.Edge{geometry.Line(box.Min, a), geometry.Line(a, box.Max), geometry.Line(box.Max, c), geometry.Line(c, box.Min)} {
		var next []geometry.Edge
		for _, p := range parts {
			rest, from := p, 0.0
			for _, x := range geometry.Intersect(p, side) {
				if t := (x.TA - from) / (1 - from); t > 1e-9 && t < 1-1e-9 {
					var head geometry.Edge
					head, rest = rest.Split(t)
					next, from = append(next, head), x.TA
				}
			}
			next = append(next, rest)
		}
		parts = next
	}
	for _, p := range parts {
		if box.Contains(p.At(0.5)) {
			kept = append(kept, p)
		}
	}
	return kept
}

// anyInside tells whether some of the edges lie well inside a box.
func anyInside(edges []geometry.Edge, t geometry.Transform, box geometry.Box) bool {
	for _, e := range edges {
		if len(clip(e.Transform(t), box)) > 0 {
			return true
		}
	}
	return false
}

// draw draws everything.
func (v *view) draw() {
	k := v.style.Sketch(v.section, v.scale)
	place := geometry.Scale(1 / v.scale)
	v.tint()
	for i := range k.Members {
		m := &k.Members[i]
		unscaled := func(edges []geometry.Edge) []geometry.Edge {
			out := make([]geometry.Edge, len(edges))
			for j, e := range edges {
				out[j] = e.Transform(place)
			}
			return out
		}
		v.path(render.LayerMember, "member:"+m.Name, v.style.NarrowLine(), unscaled(m.Real)...)
		// A wave that lies on the rim of the window would show in pieces.
		if inside := anyInside(unscaled(m.Breaks), v.paper, v.window.Grow(-1.5)); inside {
			v.path(render.LayerBreak, "member:"+m.Name, v.style.NarrowLine(), unscaled(m.Breaks)...)
		}
	}
	for i := range v.section.Welds {
		w := &v.section.Welds[i]
		planned := append(append([]geometry.Edge{}, w.FaceEdges...), w.FusionLine...)
		if w.Kind != joints.FilletWeld {
			planned = w.Profile.Edges()
		}
		v.path(render.LayerPreparation, "planned:"+w.ID, v.style.FormerLine(), planned...)
	}
	if v.report.Outline != nil {
		v.fillet(v.report.Outline)
		return
	}
	v.groove()
}

// tint fills what was measured.
func (v *view) tint() {
	o := v.report.Outline
	if o == nil {
		return
	}
	ink := v.style.Tint
	edges := []geometry.Edge{geometry.Line(o.Root, o.Toes[0]), o.Face, geometry.Line(o.Toes[1], o.Root)}
	for i := range edges {
		edges[i] = edges[i].Transform(v.paper)
	}
	v.items = append(v.items, render.Item{Layer: render.LayerTint, Role: "measured", Path: &render.Path{Edges: edges, Closed: true, Fill: &ink}})
}

// difference letters a measured number with how far it is off the plan.
func (v *view) difference(id string) (text, planned string) {
	for i := range v.report.Items {
		it := &v.report.Items[i]
		if it.ID != id || it.Measured == nil {
			continue
		}
		text = v.style.Numbers.Value(*it.Measured, it.Unit)
		if it.Difference != nil {
			text += " (" + signed(v.style, *it.Difference, it.Unit) + ")"
		}
		if it.Planned != nil {
			planned = "planned " + v.style.Numbers.Value(*it.Planned, it.Unit)
		}
		return text, planned
	}
	return "", ""
}

func signed(style *render.Style, d float64, unit joints.Unit) string {
	text := style.Numbers.Value(d, unit)
	if d > 0 && text != style.Numbers.Value(0, unit) {
		return "+" + text
	}
	return text
}

func (v *view) fillet(o *macro.Outline) {
	wide, w := v.style.WideLine(), v.report.Weld
	v.path(render.LayerWeld, "measured", wide, geometry.Line(o.Root, o.Toes[0]), o.Face, geometry.Line(o.Toes[1], o.Root))
	s := &v.report.Record.Sizes
	for i, f := range s.Fusion {
		if f.Present && f.Value > 0 {
			out := o.Toes[1-i].Sub(o.Root)
			u := o.Toes[i].Sub(o.Root).Unit()
			in := out.Sub(u.Scale(out.Dot(u))).Unit().Scale(-2 * float64(f.Value))
			v.path(render.LayerFusion, "measured", v.style.NarrowLine(), geometry.Quad(o.Toes[i], o.Toes[i].Lerp(o.Root, 0.5).Add(in), o.Root))
		}
	}
	if o.WeldRoot.Dist(o.Corner)*v.scale > v.style.Wide {
		v.path(render.LayerTriangle, "measured root", v.style.NarrowLine(), geometry.Line(o.Corner, o.WeldRoot))
	}
	paper := render.Ink{R: 255, G: 255, B: 255}
	v.items = append(v.items, render.Item{Layer: render.LayerTriangle, Role: "measured root", Path: &render.Path{
		Edges: render.Circle(v.at(o.WeldRoot), v.style.DotRadius), Closed: true, Stroke: v.style.NarrowLine(), Fill: &paper}})
	v.points = append(v.points, v.at(o.Toes[0]), v.at(o.Toes[1]), v.at(w.Feet[0].Toe), v.at(w.Feet[1].Toe))
	for i := range 2 {
		v.leg(o, i)
	}
	v.throat(o)
	if o.Reached {
		if text, planned := v.difference("penetration"); text != "" {
			v.leader(v.at(o.WeldRoot), "penetration "+text, planned, "penetration")
		}
	}
}

// leg dimensions a leg, measured and planned: on the open side of its surface
// where there is room, else in the member, which is not hatched here.
func (v *view) leg(o *macro.Outline, i int) {
	w := v.report.Weld
	u := o.Toes[i].Sub(o.Root).Unit()
	out := o.Toes[1-i].Sub(o.Root)
	out = out.Sub(u.Scale(out.Dot(u))).Unit()
	reach := math.Max(o.Toes[1-i].Sub(o.Root).Dot(out), w.Feet[1-i].Toe.Sub(w.JointRoot).Dot(out)) * v.scale
	text, planned := v.difference([2]string{"leg-a", "leg-b"}[i])
	root := v.at(o.Root)
	var inside bool
	for k, d := range []struct {
		toe  geometry.Point
		text string
	}{{o.Toes[i], text}, {w.Feet[i].Toe, planned}} {
		if d.text == "" {
			continue
		}
		toe := v.at(d.toe)
		dim := render.Linear{A: root, B: root.Add(u.Scale(toe.Sub(root).Dot(u))), Text: v.style.Label(d.text), Role: "dimension:leg " + [2]string{"a", "b"}[i]}
		var tries []try
		for step := range 7 {
			further := v.style.FirstOffset + float64(step)*v.style.NextOffset
			for _, offset := range []float64{reach + further, -further} {
				base := out.Scale(offset)
				dim.P, dim.Q = dim.A.Add(base), dim.B.Add(base)
				extra := 3 * float64(step)
				if offset < 0 {
					extra += 20
				}
				if k == 1 && inside != (offset < 0) {
					extra += 10
				}
				for place := range render.TextPlaces {
					dim.Place = render.TextPlace(place)
					var m render.Mark
					if v.style.Linear(&m, &dim) {
						tries = append(tries, try{m.Clone(), extra + 2*float64(place), offset < 0})
					}
				}
			}
		}
		inside = v.place(tries)
	}
}

// throat dimensions the measured throat along itself; its number stands where
// the line runs on to, or on a leader.
func (v *view) throat(o *macro.Outline) {
	text, planned := v.difference("throat")
	if text == "" {
		return
	}
	a, b := v.at(o.Throat.From), v.at(o.Throat.To)
	if a.Dist(b) < 1 {
		return
	}
	label, sub, role := v.style.Label("throat "+text), v.style.Label(planned), "dimension:throat"
	var m render.Mark
	var tries []try
	for run := 10.0; run < 100; run += 4 {
		for _, side := range []float64{1, -1} {
			v.style.Inline(&m, &render.Inline{A: a, B: b, Run: run, Side: side, Text: label, Sub: sub, Role: role})
			tries = append(tries, try{mark: m.Clone()})
		}
	}
	var bare render.Mark
	v.style.Linear(&bare, &render.Linear{A: a, B: b, P: a, Q: b, NoExtension: [2]bool{true, true}, Place: render.TextAfter, Role: role})
	for _, t := range v.leaders(a.Lerp(b, 0.6), label, sub, role) {
		t.mark.Lines = append(t.mark.Lines, render.Segment{A: a, B: b})
		t.mark.Heads = append(t.mark.Heads, bare.Heads...)
		t.extra += 12
		tries = append(tries, t)
	}
	v.place(tries)
}

// leader labels a point.
func (v *view) leader(p geometry.Point, text, sub, role string) {
	v.place(v.leaders(p, v.style.Label(text), v.style.Label(sub), "label:"+role))
}

// leaders are the ways to label a point.
func (v *view) leaders(p geometry.Point, text, sub render.Label, role string) (tries []try) {
	const steps = 24
	for _, length := range []float64{10, 14, 18, 23, 28, 34, 42, 50, 60, 70} {
		for step := range steps {
			dir := geometry.Polar(1, (geometry.Angle(step)+0.5)*360/steps*geometry.Degree)
			var m render.Mark
			v.style.Leader(&m, &render.Leader{At: p.Add(dir.Scale(v.style.DotRadius)), Elbow: p.Add(dir.Scale(length)), Side: math.Copysign(1, dir.X),
				End: render.EndNone, Text: text, Sub: sub, Role: role})
			tries = append(tries, try{mark: m})
		}
	}
	return tries
}

// groove draws the measured cap and root of a weld without legs, as far as heights
// show them.
func (v *view) groove() {
	w := v.report.Weld
	s := &v.report.Record.Sizes
	height, id := float64(s.CapHeight.Value), "cap-height"
	if s.Underfill.Present && s.Underfill.Value > 0 {
		height, id = -float64(s.Underfill.Value), "underfill"
	}
	if s.CapHeight.Present || s.Underfill.Present {
		a, b := w.Feet[0].Toe, w.Feet[1].Toe
		face := bulge(a, b, w.Centroid, height)
		v.path(render.LayerWeld, "measured", v.style.WideLine(), face)
		text, planned := v.difference(id)
		v.leader(v.at(face.At(0.5)), words(id)+" "+text, planned, id)
	}
	if !w.RootWidth.Present {
		return
	}
	root, id := float64(s.RootHeight.Value), "root-height"
	if s.RootConcavity.Present && s.RootConcavity.Value > 0 {
		root, id = -float64(s.RootConcavity.Value), "root-concavity"
	}
	if s.RootHeight.Present || s.RootConcavity.Present {
		half := geometry.Point{X: float64(w.RootWidth.Value) / 2}
		face := bulge(w.WeldRoot.Sub(half), w.WeldRoot.Add(half), w.Centroid, root)
		v.path(render.LayerWeld, "measured", v.style.WideLine(), face)
		text, planned := v.difference(id)
		v.leader(v.at(face.At(0.5)), words(id)+" "+text, planned, id)
	}
}

// bulge is the arc from a to b that stands height away from the inside point.
func bulge(a, b, inside geometry.Point, height float64) geometry.Edge {
	if b.Sub(a).Cross(inside.Sub(a)) < 0 {
		height = -height
	}
	return geometry.Arc(a, b, height)
}

// try is a way to draw a mark, with what speaks against it from the start.
type try struct {
	mark   render.Mark
	extra  float64
	inside bool // in the member
}

// place draws the try that runs into the least, and tells whether it stands in
// a member.
func (v *view) place(tries []try) (inside bool) {
	best, least := -1, math.Inf(1)
	for i := range tries {
		if c := v.cost(&tries[i].mark) + tries[i].extra; c < least {
			best, least = i, c
		}
	}
	if best < 0 {
		return false
	}
	m := &tries[best].mark
	v.items = append(v.items, m.Items(v.style, 0)...)
	for i := range m.Texts {
		v.texts = append(v.texts, m.Texts[i].Box(0.6))
	}
	v.lines = append(append(v.lines, m.Lines...), m.Extension...)
	v.dims = append(v.dims, m.Lines...)
	return tries[best].inside
}

// cost counts what a mark runs into: text on text and off the window worst,
// then text on lines, then lines through texts.
func (v *view) cost(m *render.Mark) float64 {
	cost := 0.0
	for i := range m.Texts {
		box := m.Texts[i].Box(0.6)
		for _, p := range box {
			if !v.window.Grow(-1).Contains(p) {
				cost += 1000
			}
		}
		for _, other := range v.texts {
			if apart := separated(box, other); !apart {
				cost += 1000
			}
		}
		for _, l := range v.lines {
			if crosses(l, box) {
				cost += 100
			}
		}
		for _, l := range append(append([]render.Segment{}, m.Lines...), m.Extension...) {
			if crosses(l, m.Texts[i].Box(0.2)) {
				cost += 100
			}
		}
	}
	for _, l := range append(append([]render.Segment{}, m.Lines...), m.Extension...) {
		for _, other := range v.texts {
			if crosses(l, other) {
				cost += 50
			}
		}
		for _, other := range v.lines {
			if meets(l, other) {
				cost++
			}
		}
		cost += 0.01 * l.A.Dist(l.B)
	}
	for _, l := range m.Lines {
		for _, other := range v.dims {
			if alongside(l, other) {
				cost += 60
			}
		}
		for _, p := range v.points {
			if geometry.Line(l.A, l.B).Distance(p) < 1 {
				cost += 15
			}
		}
	}
	return cost
}

// alongside tells whether two dimension lines run beside each other too closely
// to be told apart.
func alongside(a, b render.Segment) bool {
	const least = 5.0
	u := a.B.Sub(a.A).Unit()
	if math.Abs(u.Cross(b.B.Sub(b.A).Unit())) > 0.02 || math.Abs(u.Cross(b.A.Sub(a.A))) > least {
		return false
	}
	lo, hi := span([]geometry.Point{a.A, a.B}, u)
	from, to := span([]geometry.Point{b.A, b.B}, u)
	return math.Min(hi, to)-math.Max(lo, from) > 1
}

// separated tells whether two convex boxes lie apart: one of their sides parts them.
func separated(a, b [4]geometry.Point) bool {
	for _, pair := range [2][2][4]geometry.Point{{a, b}, {b, a}} {
		for i := range 4 {
			n := pair[0][(i+1)%4].Sub(pair[0][i]).Perp()
			if n.Norm() == 0 {
				continue // a stroke as a box has sides of no length
			}
			lo, hi := span(pair[0][:], n)
			from, to := span(pair[1][:], n)
			if to <= lo || from >= hi {
				return true
			}
		}
	}
	return false
}

func span(points []geometry.Point, n geometry.Point) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		d := p.Dot(n)
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	return lo, hi
}

// crosses tells whether a stroke runs into a box.
func crosses(l render.Segment, box [4]geometry.Point) bool {
	return !separated(box, [4]geometry.Point{l.A, l.B, l.B, l.A})
}

func meets(a, b render.Segment) bool {
	side := func(s render.Segment, p geometry.Point) float64 { return s.B.Sub(s.A).Cross(p.Sub(s.A)) }
	return side(a, b.A)*side(a, b.B) < 0 && side(b, a.A)*side(b, a.B) < 0
}
