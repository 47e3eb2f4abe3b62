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

// SketchMember is a member on paper.
type SketchMember struct {
	Name   string
	Real   []geometry.Edge // edges of the plate itself
	Breaks []geometry.Edge // break lines
	Plain  []geometry.Edge // outline with straight ends, for tests of nearness
	Width  float64         // of the plate
	Lining int             // which of the section linings it gets
	// Phantom members are not part of the finished joint: a thin outline and no
	// lining.
	Phantom bool

	// plain is the outline that does not follow the break lines; outline, which
	// does, is made when the member is drawn.
	plain   geometry.Outline
	outline geometry.Outline
	broken  []int // edges of plain
}

// BackingName is the name of a backing that a section lists with its members.
const BackingName = "backing"

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
		k.Members[i].Lining = lining(sec, i)
		k.Members[i].Phantom = sec.Members[i].Name == BackingName && sec.Backing != nil && sec.Backing.Kind != joints.BackingStrip
		for _, e := range k.Members[i].Plain {
			k.Box = k.Box.Union(e.Bounds())
		}
	}
	k.Welds = make([]SketchWeld, 0, len(sec.Welds))
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

// lining numbers the parts of a section: pieces of one member, cut apart by a
// hole, are lined alike.
func lining(sec *joints.Section, i int) int {
	n := 0
	for j := range i {
		if sec.Members[j].Name == sec.Members[i].Name {
			return lining(sec, j)
		}
		if !slices.ContainsFunc(sec.Members[:j], func(m joints.Member) bool { return m.Name == sec.Members[j].Name }) {
			n++
		}
	}
	return n
}

func (s *Style) sketchMember(m *joints.Member, t geometry.Transform) SketchMember {
	out := SketchMember{Name: m.Name, Width: float64(m.Thickness) * t.Factor(), broken: m.Broken}
	out.plain = m.Outline.Transform(t)
	out.Plain = make([]geometry.Edge, 0, m.Outline.Len())
	out.Real = make([]geometry.Edge, 0, m.Outline.Len())
	for i, e := range out.plain.All() {
		out.Plain = append(out.Plain, e)
		if out.breaks(i) {
			out.Breaks = appendBreakLine(out.Breaks, e.Start(), e.End())
			continue
		}
		out.Real = append(out.Real, e)
	}
	return out
}

// breaks tells whether an edge is a break line.
func (m *SketchMember) breaks(edge int) bool {
	return slices.Contains(m.broken, edge) && m.Plain[edge].Kind() == geometry.LineEdge
}

// close joins the outline. A view is laid out many times and drawn once, so
// this waits until then.
func (m *SketchMember) close() {
	chain := make([]geometry.Edge, 0, len(m.Real)+len(m.Breaks))
	for i, e := range m.Plain {
		if m.breaks(i) {
			chain = appendBreakLine(chain, e.Start(), e.End())
		} else {
			chain = append(chain, e)
		}
	}
	o, err := geometry.NewOutline(chain...)
	if err != nil {
		// A wave too large for its corner; the straight end is always sound.
		o = m.plain
	}
	m.outline = o
}

// appendBreakLine draws a freehand line from a to b: waves of uneven length, the
// same slope at every crossing so that it runs on smoothly.
func appendBreakLine(edges []geometry.Edge, a, b geometry.Point) []geometry.Edge {
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
	edges = slices.Grow(edges, n)
	at, done, side := a, 0.0, slope/2
	for i := range n {
		step := parts[i%len(parts)] / total
		done += step
		next := a.Add(u.Scale(done))
		if i == n-1 {
			next = b
		}
		ctrl := at.Lerp(next, 0.5).Add(normal.Scale(side * step))
		edges = append(edges, geometry.Quad(at, ctrl, next))
		at, side = next, -side
	}
	return edges
}

// Items draws the section. Nothing is hatched inside the boxes of texts.
func (k *Sketch) Items(view int, texts [][4]geometry.Point) []Item {
	drawn := *k // a sketch may be drawn several times at a time
	drawn.Members = slices.Clone(k.Members)
	k = &drawn
	d := drafter{k: k, s: k.style, view: view}
	for i := range k.Members {
		k.Members[i].close()
	}
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
	if m.Phantom {
		d.path(LayerPreparation, role, m.Real, d.s.FormerLine())
		d.path(LayerBreak, role, m.Breaks, d.s.NarrowLine())
		return
	}
	if m.Width < d.s.ThinSection {
		d.fill(LayerHatch, role, m.outline.Edges(), Black)
		// The light gap that keeps two thin plates apart comes off both, but
		// never more than half of a plate; the thinnest are lines side by side.
		switch gap := math.Min(d.s.ThinGap, m.Width/2); {
		case m.Width < d.s.Wide:
			d.path(LayerHatch, role, m.Real, d.s.NarrowLine())
		case m.Lining > 0:
			paper := Ink{R: 255, G: 255, B: 255}
			d.path(LayerHatch, role, m.Real, &Stroke{Width: gap, Ink: paper})
		}
		d.path(LayerBreak, role, m.Breaks, d.s.NarrowLine())
		return
	}
	d.path(LayerHatch, role, Hatch(m.outline, d.k.hatching(m), profiles, texts), d.s.NarrowLine())
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
	if len(profiles) == 0 {
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
	pools, ok := d.pools(&p.Profile)
	if !ok {
		d.fill(LayerTint, role, p.Profile.Edges(), d.s.Melted)
		return
	}
	d.fill(LayerTint, role, p.Profile.Edges(), d.s.Tint)
	for _, pool := range pools {
		d.fill(LayerTint, role, pool, d.s.Melted)
	}
}

// pools are the parts of the members inside a weld, each bounded by the fusion
// line and the edge that was there before. It is false where they do not close.
func (d *drafter) pools(profile *geometry.Outline) ([][]geometry.Edge, bool) {
	var pools [][]geometry.Edge
	for i := range d.k.Members {
		m := &d.k.Members[i]
		if m.Phantom {
			continue
		}
		var former, fused []geometry.Edge
		for _, e := range m.Plain {
			_, gone := divide(e, []geometry.Outline{*profile})
			former = append(former, gone...)
		}
		for _, e := range profile.All() {
			if mid := e.At(0.5); m.plain.Locate(mid) == geometry.Inside && m.plain.Distance(mid) > 1e-6 {
				fused = append(fused, e)
			}
		}
		if len(fused) == 0 {
			continue
		}
		a, b := chained(former), chained(fused)
		if a == nil || b == nil {
			return nil, false
		}
		// The fusion line may end on another face of the member, at the root.
		if far(a, b) > far(a, reversed(b)) {
			b = reversed(b)
		}
		pool := link(a, b, &m.plain)
		if pool == nil {
			return nil, false
		}
		pools = append(pools, pool)
	}
	return pools, true
}

// far is how far two chains are from closing.
func far(a, b []geometry.Edge) float64 {
	return a[len(a)-1].End().Dist(b[0].Start()) + b[len(b)-1].End().Dist(a[0].Start())
}

func reversed(edges []geometry.Edge) []geometry.Edge {
	out := make([]geometry.Edge, len(edges))
	for i, e := range edges {
		out[len(edges)-1-i] = e.Reverse()
	}
	return out
}

// link closes two chains, along the outline where their ends are apart; nil
// where they cannot be.
func link(a, b []geometry.Edge, outline *geometry.Outline) []geometry.Edge {
	var out []geometry.Edge
	for _, c := range [2][2][]geometry.Edge{{a, b}, {b, a}} {
		out = append(out, c[0]...)
		from, to := c[0][len(c[0])-1].End(), c[1][0].Start()
		if from.Dist(to) <= joined {
			continue
		}
		if outline.Distance(from.Lerp(to, 0.5)) > joined {
			return nil
		}
		out = append(out, geometry.Line(from, to))
	}
	return out
}

// joined is how near two ends on paper are to be one, mm.
const joined = 1e-4

// chained puts edges one after the other; nil where they are not one chain.
func chained(edges []geometry.Edge) []geometry.Edge {
	for first := range edges {
		if slices.ContainsFunc(edges, func(e geometry.Edge) bool { return e.End().Dist(edges[first].Start()) <= joined }) {
			continue
		}
		out := []geometry.Edge{edges[first]}
		for len(out) < len(edges) {
			end := out[len(out)-1].End()
			next := slices.IndexFunc(edges, func(e geometry.Edge) bool { return e.Start().Dist(end) <= joined })
			if next < 0 {
				return nil
			}
			out = append(out, edges[next])
		}
		return out
	}
	return nil
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
		o := &d.k.Members[i].outline
		if d.k.Members[i].Phantom {
			continue
		}
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
