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
	cost     float64
	limit    geometry.Box
}

// At lays a section out at a scale. Nothing leaves limit unless it is empty.
func At(sec *joints.Section, s *render.Style, scale float64, limit geometry.Box) *View {
	j := job{sec: sec, pairs: pairsOf(sec), search: newSearch()}
	return j.at(s, scale, limit, attempts)
}

// job is what a view is to show.
type job struct {
	sec   *joints.Section
	pairs pairs // like welds share their dimensions
	twice bool  // the one weld shown stands for two
	// lining gives the hatching of each member; nil counts them.
	lining []int
	// circles mark the places of details, sizes in the section plane.
	circles []circle
	detail  bool
	symbols []symbol.Symbol
	search  *search
	// bearable is the cost over which a measure is left to the tables; 0 is
	// none.
	bearable float64
	// spare is the best view that fits but shows not everything well.
	spare *View
}

// draft is a view being laid out.
type draft struct {
	job   *job
	style *render.Style
	limit geometry.Box
	list  []task
	costs []float64 // of the last order tried
	best  *View
}

// at lays a view out, trying other orders of placing up to a number of times.
func (j *job) at(s *render.Style, scale float64, limit geometry.Box, tries int) *View {
	d := j.draft(s, scale, limit)
	d.improve(tries)
	return d.view()
}

// draft lays a view out in the first order of placing.
func (j *job) draft(s *render.Style, scale float64, limit geometry.Box) *draft {
	sketch := s.Sketch(j.sec, scale)
	for i, l := range j.lining {
		sketch.Members[i].Lining = l
	}
	d := &draft{job: j, style: s, limit: limit, list: j.tasks(&sketch, s)}
	d.best, d.costs = j.arrange(d.list, &sketch, s, limit, math.Inf(1))
	return d
}

// improve tries other orders: whatever found no good place goes earlier.
func (d *draft) improve(tries int) {
	stale, floor := 0, d.job.search.left-mostEach
	for i := range tries {
		// Something without a place is worth one more order whatever it takes.
		done := d.job.search.spent() || d.job.search.left < floor
		if done && (d.best.missing() == 0 || i > 0 || d.job.search.exhausted()) {
			break
		}
		if d.best.cost < goodEnough*float64(len(d.list)) || stale == patience || !promote(d.list, d.costs) {
			break
		}
		var v *View
		stale++
		if v, d.costs = d.job.arrange(d.list, &d.best.sketch, d.style, d.limit, d.best.cost); v.cost < d.best.cost-1 {
			d.best, stale = v, 0
		}
	}
}

// view is the best one found, with its scale bar.
func (d *draft) view() *View {
	if !d.job.detail && d.best.bar == nil {
		d.best.scaleBar()
	}
	return d.best
}

const (
	// goodEnough is the cost of a usual drawing without a blemish, for each
	// thing on it.
	goodEnough = 12
	attempts   = 4
	patience   = 2 // attempts without gain
)

// promote moves the tasks that were placed badly up in the order, and tells
// whether that changed anything.
func promote(list []task, costs []float64) bool {
	changed := false
	for i := range list {
		t := &list[i]
		t.rank = float64(i)
		switch {
		case costs[i] >= 1000:
			t.rank -= float64(len(list))
		case t.form == leader && costs[i] < 45:
			// A label has its price wherever it stands.
		case costs[i] > 50:
			t.rank -= 3.5
		case costs[i] > 26:
			t.rank -= 1.5
		}
		changed = changed || t.rank != float64(i) && i > 0
	}
	sortTasks(list)
	return changed
}

// arrange places the tasks in order, and gives up once the cost passes a bound.
func (j *job) arrange(list []task, k *render.Sketch, s *render.Style, limit geometry.Box, bound float64) (*View, []float64) {
	p := placer{scene: newScene(k), style: s, search: j.search, bearable: j.bearable, buf: make([]candidate, 0, 256)}
	p.limit = limit
	v := &View{Scale: k.Scale, sketch: *k, style: s, limit: limit, marks: make([]render.Mark, 0, len(list)+len(j.circles))}
	for i := range j.circles {
		m := j.circles[i].mark(k.Scale)
		p.add(&m)
		v.marks = append(v.marks, m)
	}
	costs := make([]float64, len(list))
	for i := range list {
		mark, cost, ok := p.place(&list[i])
		costs[i] = math.Min(cost, 1000)
		v.cost += costs[i]
		if v.cost > bound {
			return v, costs
		}
		switch {
		case ok && list[i].symbol != nil:
			mark.Lines, mark.Extension = append(mark.Lines, mark.Extension...), nil
			v.symbols = append(v.symbols, list[i].picture(s, p.chosen))
			v.marks = append(v.marks, mark)
		case ok:
			v.marks = append(v.marks, mark)
		case list[i].symbol != nil:
			v.homeless = append(v.homeless, *list[i].symbol)
		case list[i].measure >= 0:
			v.Unplaced = append(v.Unplaced, j.sec.Measures[list[i].measure])
		}
	}
	v.Box, v.texts, v.strokes, v.regions = p.box, p.texts, p.strokes, p.regions
	return v, costs
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
	t := textBox{box: b, corner: [4]geometry.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}}
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
			b := newTextBox(&v.marks[i].Texts[j], v.marks[i].Extents[j], 0.8)
			texts = append(texts, b.corner)
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
