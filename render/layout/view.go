package layout

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/lettering"
	"fay/render/symbol"
)

// View is a section with all its dimensions placed, the origin of the section
// plane on the origin of the paper.
type View struct {
	Scale float64
	// Box holds everything the view draws.
	Box geometry.Box
	// Unplaced are measures that found no place; they belong in a table.
	Unplaced []joints.Measure

	draft   *draft
	sketch  render.Sketch
	style   *render.Style
	marks   []render.Mark
	texts   []textBox
	strokes []stroke
	bar     []render.Item
	regions []region
	symbols []symbol.Picture
	// homeless are symbols that found no place.
	homeless []symbol.Symbol
	nameless int // members and welds whose name found no place
	// makeshift tells that a dimension had to become a label.
	makeshift bool
	cost      float64
	limit     geometry.Box
}

// At lays a section out at a scale. Nothing leaves limit unless it is empty.
func At(sec *joints.Section, s *render.Style, scale float64, limit geometry.Box) *View {
	search := newSearch()
	j := job{sec: sec, style: s, pairs: pairsOf(sec), search: &search}
	return j.at(scale, limit)
}

// job is what a view is to show.
type job struct {
	sec   *joints.Section
	style *render.Style
	pairs pairs // like welds share their dimensions
	twice bool  // the one weld shown stands for two
	// lining gives the hatching of each member; nil counts them.
	lining []int
	// circles mark the places of details, sizes in the section plane.
	circles []circle
	detail  bool
	// part tells that the view is one of several, and wanted well or not at all.
	part    bool
	symbols []symbol.Symbol
	search  *search
	// hasty gives a view up that does not come out well at once.
	hasty bool
	// spare is the best view that fits but shows not everything well.
	spare *View
	// drafts are those with all the room they take, by scale.
	drafts map[float64]*draft
	// squeezes are views inside walls, nil where that did not do.
	squeezes map[squeeze]*View
}

// scaleBar draws a bar of a round model length along both axes where the view
// is empty, or else under its lower left corner.
func (v *View) scaleBar() {
	s := v.style
	unit := float64(s.Numbers.Unit.Length())
	length := unit
	for _, f := range [...]float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		length = f * unit
		if length*v.Scale >= 10 {
			break
		}
	}
	paper := length * v.Scale
	text := s.Numbers.Length(length) + " " + s.Numbers.Name()
	h := s.SmallHeight
	width := math.Max(paper, lettering.Measure(text, render.FaceRegular, h)+4) + 3
	size := geometry.Point{X: width, Y: paper + 3}
	at, ok := v.corner(size, v.Box)
	if !ok && !v.limit.Empty() {
		at, ok = v.corner(size, v.limit)
	}
	switch {
	case ok:
	case v.limit.Empty():
		at = geometry.Point{X: v.Box.Min.X, Y: v.Box.Min.Y - size.Y - 4}
	default:
		return // no room for a bar; the scale is in the title block
	}
	v.Box = v.Box.Union(geometry.Box{Min: at, Max: at.Add(size)})
	o := at.Add(geometry.Point{X: 1.5, Y: 1.5})
	tick := 1.2
	line := func(x0, y0, x1, y1 float64) geometry.Edge {
		return geometry.Line(o.Add(geometry.Point{X: x0, Y: y0}), o.Add(geometry.Point{X: x1, Y: y1}))
	}
	edges := []geometry.Edge{
		line(0, paper, 0, 0), line(0, 0, paper, 0),
		line(paper, -tick, paper, tick), line(-tick, paper, tick, paper),
	}
	v.bar = append(v.bar,
		render.Item{Layer: render.LayerDimension, Role: "scale bar", Path: &render.Path{Edges: edges, Stroke: &render.Stroke{Width: s.Lettering}}},
		render.Item{Layer: render.LayerText, Role: "scale bar", Text: &render.Text{
			At: o.Add(geometry.Point{X: 2, Y: 2}), Height: h, Content: text}})
}

// corner looks for an empty place of a size inside a box, the further out the
// better and rather below than above.
func (v *View) corner(size geometry.Point, b geometry.Box) (geometry.Point, bool) {
	const step = 5
	nx, ny := int((b.Width()-size.X)/step), int((b.Height()-size.Y)/step)
	var best geometry.Point
	most, found := math.Inf(-1), false
	for row := range ny + 1 {
		for col := range nx + 1 {
			at := geometry.Point{X: b.Min.X + float64(col)*step, Y: b.Min.Y + float64(row)*step}
			mid := at.Add(size.Scale(0.5)).Sub(b.Centre())
			far := math.Abs(mid.X) + math.Abs(mid.Y) - 0.3*mid.Y
			if far > most && v.free(geometry.Box{Min: at, Max: at.Add(size)}.Grow(3)) {
				best, most, found = at, far, true
			}
		}
	}
	return best, found
}

func (v *View) free(b geometry.Box) bool {
	t := upright(b)
	for i := range v.texts {
		if t.touches(&v.texts[i]) {
			return false
		}
	}
	free := true
	for i := range v.strokes {
		if t.crossed(&v.strokes[i]) {
			return false
		}
	}
	for i := range v.regions {
		free = free && !v.regions[i].contains(b.Centre())
	}
	for i := range v.sketch.Welds {
		free = free && !v.sketch.Welds[i].Profile.Bounds().Overlaps(b)
	}
	return free
}

// Draw gives the view's items with the origin of the section plane at a point
// of the sheet; index is the view's place in the drawing.
func (v *View) Draw(name string, origin geometry.Point, index int) (render.View, []render.Item) {
	texts := make([][4]geometry.Point, 0, len(v.texts))
	for i := range v.marks {
		for j := range v.marks[i].Texts {
			b := newTextBox(&v.marks[i].Texts[j], v.marks[i].Extents[j])
			b = b.grown(clearLine)
			texts = append(texts, b.corners())
		}
	}
	items := v.sketch.Items(index, texts)
	for i := range v.marks {
		if !slices.ContainsFunc(v.symbols, func(p symbol.Picture) bool { return p.Role == v.marks[i].Role }) {
			items = append(items, v.marks[i].Items(v.style, index)...)
		}
	}
	for i := range v.symbols {
		items = append(items, v.symbols[i].Items(v.style, index)...)
	}
	for _, it := range v.bar {
		it.View = index
		items = append(items, it)
	}
	return render.View{Name: name, Scale: v.Scale, Origin: origin}, Move(items, origin)
}

// Move shifts items on the sheet. The items are copied.
func Move(items []render.Item, by geometry.Point) []render.Item {
	t := geometry.Translate(by)
	out := make([]render.Item, len(items))
	for i, it := range items {
		if it.Path != nil {
			p := *it.Path
			p.Edges = make([]geometry.Edge, len(it.Path.Edges))
			for j, e := range it.Path.Edges {
				p.Edges[j] = e.Transform(t)
			}
			it.Path = &p
		}
		if it.Text != nil {
			x := *it.Text
			x.At = x.At.Add(by)
			it.Text = &x
		}
		out[i] = it
	}
	return out
}
