package layout

import (
	"cmp"
	"math"
	"slices"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

const (
	// clumsy is the cost from which a detail is better given more room.
	clumsy = 90
	// largestDetail is the size of a detail without its dimensions, mm.
	largestDetail = 90
	// readable is a leg on paper, in mm, that needs no larger scale.
	readable = 15
)

// slot is one view of a figure with details: what it shows, the scales worth
// trying, and the views laid out so far, one list for each scale.
type slot struct {
	job    *job
	scales []float64
	views  [][]*View
	done   []bool
}

func newSlot(j *job, scales []float64) slot {
	return slot{job: j, scales: scales, views: make([][]*View, len(scales)), done: make([]bool, len(scales))}
}

// pick is a scale for every view of a figure with details.
type pick struct {
	at    []int // the main view's scale, then those of the details
	worth float64
}

// withDetails tries a main view and details, one under the other and side by
// side, at the largest scales that fit, beside one view at a scale. It returns nil
// where nothing does that is better.
func (p *plane) withDetails(width, height, one float64, better func(scale float64) bool) *Figure {
	parts := p.parts()
	if len(parts) == 0 {
		return nil
	}
	if p.main == nil {
		p.main = p.mainJob(parts)
	}
	slots := []slot{newSlot(p.main, mainScales(p.style.Sketch(p.sec, 1).Box, width, height, one))}
	most := 3
	if len(parts) > 2 {
		most = 2 // every choice multiplies
	}
	for i := range parts {
		part := &parts[i].job
		slots = append(slots, newSlot(part, detailScales(p.style.Sketch(part.sec, 1).Box, most)))
	}
	// Side by side under the main view if they can.
	room := (width - gutter*float64(len(parts)-1)) / float64(len(parts))
	lay := func(i, scale int) []*View {
		k := &slots[i]
		if k.done[scale] {
			return k.views[scale]
		}
		k.done[scale] = true
		// Details are worth a search of their own.
		p.search.more()
		if i == 0 {
			if v := k.job.within(k.scales[scale], width, height); v != nil {
				k.views[scale] = []*View{v}
			}
			return k.views[scale]
		}
		v := k.job.within(k.scales[scale], room, 0.6*height)
		if v != nil {
			k.views[scale] = []*View{v}
		}
		if v == nil || v.cost > clumsy && len(parts) < 3 {
			d := k.job.free(k.scales[scale])
			d.improve()
			k.views[scale] = append(k.views[scale], d.view())
		}
		return k.views[scale]
	}
	var best *Figure
	worth := math.Inf(-1)
	for _, k := range picks(slots, p.legend(), better) {
		if k.worth <= worth || p.search.exhausted() {
			break // what is left can at best be as good, or there is no time for it
		}
		for _, views := range p.choices(slots, k, lay, width, height) {
			f := p.stack(views, parts, width, height)
			if f == nil {
				continue
			}
			if w := k.worth - blemish(views[1:]); w > worth {
				best, worth = f, w
			}
		}
	}
	return best
}

// choices lays out the views of a pick, and gives every choice of them; none
// where there is no room for all. Views are not laid out in vain: what is still
// to come is reckoned at the least it can take.
func (p *plane) choices(slots []slot, k pick, lay func(slot, scale int) []*View, width, height float64) [][]*View {
	sizes := make([]geometry.Point, len(slots))
	for i := range slots {
		sizes[i] = slots[i].least(k.at[i])
		if i > 0 {
			sizes[i].Y += heading
		}
	}
	choices := [][]*View{nil}
	for i := range slots {
		if _, _, ok := arrange(sizes, width, height); !ok {
			return nil
		}
		var next [][]*View
		views := lay(i, k.at[i])
		for _, chosen := range choices {
			for _, v := range views {
				next = append(next, append(slices.Clone(chosen), v))
			}
		}
		if i > 0 && len(views) > 0 {
			sizes[i] = smallest(views).Add(geometry.Point{Y: heading})
		}
		choices = next
	}
	return choices
}

// least is the least size of a view at one of its scales: that of a detail laid
// out already, else what its dimensions and names take elsewhere about the part,
// as far as a view can be squeezed.
func (k *slot) least(scale int) geometry.Point {
	if k.job.detail && k.done[scale] && len(k.views[scale]) > 0 {
		return smallest(k.views[scale])
	}
	part := extent(k.job.style.Sketch(k.job.sec, k.scales[scale]).Box)
	const line = 12 // a dimension line and its text
	size := part.Add(geometry.Point{X: line, Y: line})
	if len(k.job.drafts) == 0 {
		return size
	}
	by := geometry.Point{X: math.Inf(1), Y: math.Inf(1)}
	for _, d := range k.job.drafts {
		v := extent(d.view().Box).Sub(extent(d.sketch.Box))
		by = geometry.Point{X: math.Min(by.X, v.X), Y: math.Min(by.Y, v.Y)}
	}
	known := part.Add(by).Scale(tight)
	return geometry.Point{X: math.Max(size.X, known.X), Y: math.Max(size.Y, known.Y)}
}

// smallest is the least width and the least height of some views.
func smallest(views []*View) geometry.Point {
	least := extent(views[0].Box)
	for _, v := range views[1:] {
		z := extent(v.Box)
		least = geometry.Point{X: math.Min(least.X, z.X), Y: math.Min(least.Y, z.Y)}
	}
	return least
}

// stack sets details about the main view. A main view that leaves no room for
// them is laid out again in the room there is.
func (p *plane) stack(views []*View, parts []detail, width, height float64) *Figure {
	f := compound(views, parts, width, height)
	if f != nil || p.search.exhausted() {
		return f
	}
	column, row := geometry.Point{}, geometry.Point{X: -gutter}
	for _, z := range sizesOf(views, parts)[1:] {
		column = geometry.Point{X: math.Max(column.X, z.X), Y: column.Y + z.Y}
		row = geometry.Point{X: row.X + gutter + z.X, Y: math.Max(row.Y, z.Y)}
	}
	for _, room := range [...]geometry.Point{{X: width - gutter - column.X, Y: height}, {X: width, Y: height - gutter - row.Y}} {
		if w := p.main.squeezed(views[0], room.X, room.Y); w != nil {
			if f := compound(slices.Concat([]*View{w}, views[1:]), parts, width, height); f != nil {
				return f
			}
		}
	}
	return nil
}

// parts are the details of the section.
func (p *plane) parts() []detail {
	if *p.details == nil {
		*p.details = append([]detail{}, details(p.sec)...)
		for i := range *p.details {
			d := &(*p.details)[i].job
			d.style, d.search = p.style, p.search
		}
	}
	return *p.details
}

// legend is the size in the section plane, mm, that a detail is to make
// readable.
func (p *plane) legend() float64 {
	return math.Min(smallestLeg(p.sec), readable/smallFeature*p.smallestShown())
}

// smallestShown is the shortest distance that a detail would show.
func (p *plane) smallestShown() float64 {
	least := math.Inf(1)
	for i := range p.parts() {
		least = math.Min(least, smallestFeature((*p.details)[i].job.sec))
	}
	return least
}

// mainScales are the scales worth trying for a main view with details, where
// one view alone would stand at above to 1.
func mainScales(one geometry.Box, width, height, above float64) []float64 {
	var out []float64
	for _, scale := range render.Scales {
		if scale <= 2*above && scale >= above/6 && one.Width()*scale <= width && one.Height()*scale <= height {
			out = append(out, scale)
		}
	}
	return out
}

// detailScales are the largest scales for a detail.
func detailScales(one geometry.Box, most int) []float64 {
	var out []float64
	for _, scale := range render.Scales {
		if len(out) < most && scale*math.Max(one.Width(), one.Height()) <= largestDetail {
			out = append(out, scale)
		}
	}
	return out
}

// picks gives every choice of scales with all details larger than the main
// view, the smallest of them better, the most promising first. Details are worth
// most until what they show is easily read.
func picks(slots []slot, size float64, better func(scale float64) bool) []pick {
	var out []pick
	at := make([]int, len(slots))
	for {
		main := slots[0].scales
		ok, worth := len(main) > 0, 0.0
		for i := range slots {
			if ok = ok && at[i] < len(slots[i].scales); !ok {
				break
			}
			scale := slots[i].scales[at[i]]
			if i == 0 {
				worth += math.Log(scale)
				continue
			}
			ok = scale > main[at[0]] && better(scale)
			worth += 2 / float64(len(slots)-1) * math.Log(math.Min(size*scale, readable))
		}
		if ok {
			out = append(out, pick{slices.Clone(at), worth})
		}
		i := len(at) - 1
		for ; i >= 0; i-- {
			if at[i]++; at[i] < len(slots[i].scales) {
				break
			}
			at[i] = 0
		}
		if i < 0 {
			break
		}
	}
	slices.SortStableFunc(out, func(a, b pick) int { return cmp.Compare(b.worth, a.worth) })
	return out
}

// blemish is what details lose by how they came out.
func blemish(views []*View) float64 {
	loss := 0.0
	for _, v := range views {
		loss += v.cost/450 + 2*float64(len(v.Unplaced))
	}
	return loss
}

// title is that of a detail.
func (d *detail) title(v *View) string { return d.letter + " (" + render.ScaleText(v.Scale) + ")" }

func extent(b geometry.Box) geometry.Point { return geometry.Point{X: b.Width(), Y: b.Height()} }

// sizesOf are the sizes of a main view and of details with their titles.
func sizesOf(views []*View, parts []detail) []geometry.Point {
	out := make([]geometry.Point, len(views))
	for i, v := range views {
		out[i] = extent(v.Box)
		if i > 0 {
			title := lettering.Measure(parts[i-1].title(v), render.FaceBold, letterHeight)
			out[i] = geometry.Point{X: math.Max(out[i].X, title), Y: out[i].Y + heading}
		}
	}
	return out
}

// compound makes a figure of a main view and details; nil where they have no room.
func compound(views []*View, parts []detail, width, height float64) *Figure {
	sizes := sizesOf(views, parts)
	at, size, ok := arrange(sizes, width, height)
	if !ok {
		return nil
	}
	f := &Figure{Width: size.X, Height: size.Y, Homeless: views[0].homeless}
	for i, v := range views {
		f.Unplaced = append(f.Unplaced, v.Unplaced...)
		title := ""
		if i > 0 {
			title = parts[i-1].title(v)
		}
		corner := geometry.Point{X: at[i].X + (sizes[i].X-v.Box.Width())/2, Y: at[i].Y}
		f.Views = append(f.Views, Placed{View: v, Title: title, At: corner.Sub(v.Box.Min)})
	}
	return f
}

// arrange sets sizes, that of the main view first, in width by height: the others
// in a row under it, else in a column at its right, else all in rows. It gives
// the lower left corner of each and the size of all.
func arrange(sizes []geometry.Point, width, height float64) (at []geometry.Point, size geometry.Point, ok bool) {
	fits := func() bool { return size.X <= width && size.Y <= height }
	if at, size = setRows(sizes, underMain(len(sizes))); fits() {
		return at, size, true
	}
	if at, size = setColumn(sizes); fits() {
		return at, size, true
	}
	at, size = setRows(sizes, inRows(sizes, width))
	return at, size, fits()
}

func underMain(n int) [][]int {
	rows := [][]int{{0}, nil}
	for i := 1; i < n; i++ {
		rows[1] = append(rows[1], i)
	}
	return rows
}

// inRows fills rows no wider than width, in order.
func inRows(sizes []geometry.Point, width float64) [][]int {
	var rows [][]int
	x := math.Inf(1)
	for i, z := range sizes {
		if x+gutter+z.X > width {
			rows, x = append(rows, nil), -gutter
		}
		last := len(rows) - 1
		rows[last], x = append(rows[last], i), x+gutter+z.X
	}
	return rows
}

// setRows sets rows one under the other, each with its white spread evenly.
func setRows(sizes []geometry.Point, rows [][]int) (at []geometry.Point, size geometry.Point) {
	at = make([]geometry.Point, len(sizes))
	rowSize := make([]geometry.Point, len(rows))
	size.Y = -gutter
	for k, row := range rows {
		rowSize[k].X = -gutter
		for _, i := range row {
			rowSize[k] = geometry.Point{X: rowSize[k].X + gutter + sizes[i].X, Y: math.Max(rowSize[k].Y, sizes[i].Y)}
		}
		size = geometry.Point{X: math.Max(size.X, rowSize[k].X), Y: size.Y + gutter + rowSize[k].Y}
	}
	top := size.Y
	for k, row := range rows {
		spare := (size.X - rowSize[k].X) / float64(len(row)+1)
		x := spare
		for _, i := range row {
			at[i] = geometry.Point{X: x, Y: top - sizes[i].Y}
			x += sizes[i].X + gutter + spare
		}
		top -= rowSize[k].Y + gutter
	}
	return at, size
}

// setColumn sets the first size beside a column of the others.
func setColumn(sizes []geometry.Point) (at []geometry.Point, size geometry.Point) {
	at = make([]geometry.Point, len(sizes))
	column := geometry.Point{Y: -gutter}
	for _, z := range sizes[1:] {
		column = geometry.Point{X: math.Max(column.X, z.X), Y: column.Y + gutter + z.Y}
	}
	size = geometry.Point{X: sizes[0].X + gutter + column.X, Y: math.Max(sizes[0].Y, column.Y)}
	at[0].Y = (size.Y - sizes[0].Y) / 2
	y := size.Y - (size.Y-column.Y)/2
	for i, z := range sizes[1:] {
		y -= z.Y
		at[i+1] = geometry.Point{X: sizes[0].X + gutter + (column.X-z.X)/2, Y: y}
		y -= gutter
	}
	return at, size
}

// mainJob is the section without what its details show.
func (j *job) mainJob(parts []detail) *job {
	sec := j.sec
	whole := *sec
	whole.Measures = nil
	shown := make([]bool, len(sec.Measures))
	for i := range parts {
		for _, k := range parts[i].index {
			shown[k] = true
		}
	}
	for i := range sec.Measures {
		if !shown[i] && sec.Measures[i].Weld == "" {
			whole.Measures = append(whole.Measures, sec.Measures[i])
		}
	}
	main := &job{sec: &whole, part: true, style: j.style, symbols: j.symbols, search: j.search}
	for i := range parts {
		main.circles = append(main.circles, parts[i].circle)
	}
	return main
}
