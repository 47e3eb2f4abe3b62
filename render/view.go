package render

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
)

// Sketch is a section at a scale: its outlines in mm on paper, the origin of
// the section plane on the origin of the paper. It draws everything that is
// there before any dimension is.
type Sketch struct {
	Scale   float64
	Members []SketchMember
	Welds   []SketchWeld
	// Former are edges as they were before welding.
	Former []geometry.Edge
	Box    geometry.Box

	section *joints.Section
	style   *Style
}

// SketchMember is a member on paper. Where the plate goes on, its outline
// follows the break line.
type SketchMember struct {
	Name    string
	Outline geometry.Outline
	Real    []geometry.Edge // edges of the plate itself
	Breaks  []geometry.Edge // break lines
	Plain   []geometry.Edge // outline with straight ends, for tests of nearness
	Width   float64         // of the plate
	Lining  int             // which of the section linings it gets
}

// SketchWeld is a weld on paper.
type SketchWeld struct {
	Profile geometry.Outline
	Melted  bool // reaches into the members
}

// Sketch puts a section on paper at a scale.
func (s *Style) Sketch(sec *joints.Section, scale float64) Sketch {
	t := geometry.Scale(scale)
	k := Sketch{Scale: scale, Box: geometry.EmptyBox(), section: sec, style: s}
	k.Members = make([]SketchMember, len(sec.Members))
	for i := range sec.Members {
		k.Members[i] = s.sketchMember(&sec.Members[i], t)
		k.Members[i].Lining = i
		for _, e := range k.Members[i].Plain {
			k.Box = k.Box.Union(e.Bounds())
		}
	}
	for i := range sec.Welds {
		w := &sec.Welds[i]
		p := w.Profile.Transform(t)
		k.Welds = append(k.Welds, SketchWeld{Profile: p, Melted: w.MeltedBaseArea > 0})
		k.Box = k.Box.Union(p.Bounds())
	}
	for _, e := range sec.Preparation {
		k.Former = append(k.Former, e.Transform(t))
	}
	return k
}

func (s *Style) sketchMember(m *joints.Member, t geometry.Transform) SketchMember {
	out := SketchMember{Name: m.Name, Width: float64(m.Thickness) * t.Factor()}
	var chain []geometry.Edge
	for i, e := range m.Outline.All() {
		e = e.Transform(t)
		out.Plain = append(out.Plain, e)
		if slices.Contains(m.Broken, i) && e.Kind() == geometry.LineEdge {
			wave := breakLine(e.Start(), e.End())
			out.Breaks = append(out.Breaks, wave...)
			chain = append(chain, wave...)
			continue
		}
		out.Real = append(out.Real, e)
		chain = append(chain, e)
	}
	o, err := geometry.NewOutline(chain...)
	if err != nil {
		// A wave too large for its corner; the straight end is always sound.
		o = m.Outline.Transform(t)
	}
	out.Outline = o
	return out
}

// breakLine is a freehand line from a to b: waves of uneven length, the same
// slope at every crossing so that it runs on smoothly.
func breakLine(a, b geometry.Point) []geometry.Edge {
	const (
		wave  = 6.0  // mm, usual half wave
		slope = 0.30 // at the crossings
	)
	parts := [...]float64{1, 0.7, 1.25, 0.8, 1.1, 0.65, 1.3, 0.9}
	n := max(3, min(40, int(math.Round(a.Dist(b)/wave))))
	total := 0.0
	for i := range n {
		total += parts[i%len(parts)]
	}
	u := b.Sub(a)
	normal := u.Perp()
	edges := make([]geometry.Edge, n)
	at, done, side := a, 0.0, slope/2
	for i := range n {
		step := parts[i%len(parts)] / total
		done += step
		next := a.Add(u.Scale(done))
		if i == n-1 {
			next = b
		}
		ctrl := at.Lerp(next, 0.5).Add(normal.Scale(side * step))
		edges[i] = geometry.Quad(at, ctrl, next)
		at, side = next, -side
	}
	return edges
}

// Items draws the section. Nothing is hatched inside the boxes of texts.
func (k *Sketch) Items(view int, texts [][4]geometry.Point) []Item {
	d := drafter{k: k, s: k.style, view: view}
	profiles := make([]geometry.Outline, 0, len(k.Welds))
	for i := range k.Welds {
		d.tint(i)
		if k.Welds[i].Melted {
			profiles = append(profiles, k.Welds[i].Profile)
		}
	}
	for i := range k.Members {
		d.member(i, profiles, texts)
	}
	if len(k.Former) > 0 {
		d.path(LayerPreparation, "preparation", k.Former, k.style.FormerLine())
	}
	for i := range k.Welds {
		d.weld(i)
	}
	return d.items
}

type drafter struct {
	k     *Sketch
	s     *Style
	view  int
	items []Item
}

func (d *drafter) path(layer Layer, role string, edges []geometry.Edge, pen *Stroke) {
	if len(edges) > 0 {
		d.items = append(d.items, Item{Layer: layer, View: d.view, Role: role, Path: &Path{Edges: edges, Stroke: pen}})
	}
}

func (d *drafter) fill(layer Layer, role string, edges []geometry.Edge, ink Ink) {
	d.items = append(d.items, Item{Layer: layer, View: d.view, Role: role, Path: &Path{Edges: edges, Closed: true, Fill: &ink}})
}

func (d *drafter) member(i int, profiles []geometry.Outline, texts [][4]geometry.Point) {
	m := &d.k.Members[i]
	role := "member:" + m.Name
	if m.Width < d.s.ThinSection {
		d.fill(LayerHatch, role, m.Outline.Edges(), Black)
		// The light gap that keeps two thin plates apart comes off this one.
		if m.Lining > 0 {
			paper := Ink{R: 255, G: 255, B: 255}
			d.path(LayerHatch, role, m.Real, &Stroke{Width: d.s.ThinGap, Ink: paper})
		}
		d.path(LayerBreak, role, m.Breaks, d.s.NarrowLine())
		return
	}
	d.path(LayerHatch, role, Hatch(m.Outline, d.s.HatchingFor(m.Lining, m.Width), profiles, texts), d.s.NarrowLine())
	var seen, gone []geometry.Edge
	for _, e := range m.Real {
		a, b := divide(e, profiles)
		seen, gone = append(seen, a...), append(gone, b...)
	}
	d.path(LayerMember, role, seen, d.s.WideLine())
	d.path(LayerPreparation, role, gone, d.s.FormerLine())
	d.path(LayerBreak, role, m.Breaks, d.s.NarrowLine())
}

// divide parts an edge into what is still there and what was melted away.
func divide(e geometry.Edge, profiles []geometry.Outline) (seen, gone []geometry.Edge) {
	cuts := []float64{0, 1}
	for i := range profiles {
		for _, f := range profiles[i].All() {
			for _, x := range geometry.Intersect(e, f) {
				cuts = append(cuts, x.TA)
			}
		}
	}
	if len(cuts) == 2 {
		return []geometry.Edge{e}, nil
	}
	slices.Sort(cuts)
	length := e.Length()
	var was bool
	from := 0.0
	emit := func(to float64) {
		if (to-from)*length < 1e-6 {
			return
		}
		part := e
		if to < 1 {
			part, _ = part.Split(to)
		}
		if from > 0 {
			_, part = part.Split(from / to)
		}
		if was {
			gone = append(gone, part)
		} else {
			seen = append(seen, part)
		}
	}
	for j := 1; j < len(cuts); j++ {
		if (cuts[j]-cuts[j-1])*length < 1e-6 {
			continue
		}
		mid := e.At((cuts[j] + cuts[j-1]) / 2)
		inside := false
		for i := range profiles {
			inside = inside || profiles[i].Locate(mid) == geometry.Inside && profiles[i].Distance(mid) > 1e-6
		}
		if inside != was {
			emit(cuts[j-1])
			from, was = cuts[j-1], inside
		}
	}
	emit(1)
	return seen, gone
}

// tint fills the weld: melted base metal darker than what was added.
func (d *drafter) tint(i int) {
	w, p := &d.k.section.Welds[i], &d.k.Welds[i]
	role := "weld:" + w.ID
	if !p.Melted {
		d.fill(LayerTint, role, p.Profile.Edges(), d.s.Tint)
		return
	}
	d.fill(LayerTint, role, p.Profile.Edges(), d.s.Melted)
	if w.Kind != joints.FilletWeld {
		return
	}
	t := geometry.Scale(d.k.Scale)
	root := w.JointRoot.Scale(d.k.Scale)
	laid := []geometry.Edge{geometry.Line(root, t.Apply(w.Feet[0].Toe))}
	for _, e := range w.FaceEdges {
		laid = append(laid, e.Transform(t))
	}
	d.fill(LayerTint, role, append(laid, geometry.Line(t.Apply(w.Feet[1].Toe), root)), d.s.Tint)
}

func (d *drafter) weld(i int) {
	w, p := &d.k.section.Welds[i], &d.k.Welds[i]
	role := "weld:" + w.ID
	var outline, fusion []geometry.Edge
	for _, e := range p.Profile.All() {
		switch d.where(e.At(0.5)) {
		case geometry.Outside:
			outline = append(outline, e)
		case geometry.Inside:
			fusion = append(fusion, e)
		case geometry.OnBoundary: // drawn with the member
		}
	}
	d.path(LayerWeld, role, outline, d.s.WideLine())
	d.path(LayerFusion, role, fusion, d.s.NarrowLine())
	var triangle []geometry.Edge
	if w.Triangle[1] != w.Triangle[2] && w.Convexity != 0 {
		triangle = append(triangle, geometry.Line(w.Triangle[1].Scale(d.k.Scale), w.Triangle[2].Scale(d.k.Scale)))
	}
	if w.Kind == joints.FilletWeld {
		apex, corner := w.JointRoot.Scale(d.k.Scale), w.RootCorner.Scale(d.k.Scale)
		if apex.Dist(corner) > 2*d.s.Wide {
			triangle = append(triangle, geometry.Line(apex, corner))
		}
	}
	d.path(LayerTriangle, role, triangle, d.s.FormerLine())
	// On a very small weld the mark would hide what it marks.
	const least = 8
	if w.Kind == joints.FilletWeld && float64(w.FaceWidth)*d.k.Scale >= least {
		paper := Ink{R: 255, G: 255, B: 255}
		d.items = append(d.items, Item{Layer: LayerTriangle, View: d.view, Role: role + " root", Path: &Path{
			Edges: Circle(w.WeldRoot.Scale(d.k.Scale), d.s.DotRadius), Closed: true, Stroke: d.s.NarrowLine(), Fill: &paper}})
	}
}

// where says how a point lies to the members taken together.
func (d *drafter) where(p geometry.Point) geometry.Location {
	for i := range d.k.Members {
		o := &d.k.Members[i].Outline
		if !o.Bounds().Grow(1e-6).Contains(p) {
			continue
		}
		if o.Distance(p) < 1e-6 {
			return geometry.OnBoundary
		}
		if o.Locate(p) == geometry.Inside {
			return geometry.Inside
		}
	}
	return geometry.Outside
}
