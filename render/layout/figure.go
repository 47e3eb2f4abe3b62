package layout

import (
	"cmp"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
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
// side, at the largest scales that fit. It returns nil where nothing does, or
// where no detail would be larger than the main view.
func (j *job) withDetails(s *render.Style, width, height, above float64) *Figure {
	parts := details(j.sec)
	if len(parts) == 0 {
		return nil
	}
	main := j.mainJob(parts)
	slots := []slot{newSlot(&main, mainScales(s.Sketch(j.sec, 1).Box, width, height, above))}
	most := 3
	if len(parts) > 2 {
		most = 2 // every choice multiplies
	}
	for i := range parts {
		part := &parts[i].job
		part.search = j.search
		slots = append(slots, newSlot(part, detailScales(s.Sketch(part.sec, 1).Box, most)))
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
		j.search.left = max(j.search.left, mostEach)
		if i == 0 {
			if v := k.job.within(s, k.scales[scale], width, height); v != nil {
				k.views[scale] = []*View{v}
			}
			return k.views[scale]
		}
		v := k.job.within(s, k.scales[scale], room, 0.6*height)
		if v != nil {
			k.views[scale] = []*View{v}
		}
		if v == nil || v.cost > clumsy && len(parts) < 3 {
			k.views[scale] = append(k.views[scale], k.job.at(s, k.scales[scale], geometry.EmptyBox(), attempts))
		}
		return k.views[scale]
	}
	var best *Figure
	worth := math.Inf(-1)
	for _, p := range picks(slots, legend(j.sec)) {
		if p.worth <= worth {
			break // what is left can at best be as good
		}
		choices := [][]*View{nil}
		for i := range slots {
			var next [][]*View
			for _, chosen := range choices {
				for _, v := range lay(i, p.at[i]) {
					next = append(next, append(slices.Clone(chosen), v))
				}
			}
			choices = next
		}
		for _, views := range choices {
			f := j.stack(&main, s, views, parts, width, height)
			if f == nil {
				continue
			}
			if w := p.worth - blemish(views[1:]); w > worth {
				best, worth = f, w
			}
		}
	}
	return best
}

// stack sets details under the main view or at its right. A main view that
// leaves no room for them is laid out again in the room there is.
func (j *job) stack(main *job, s *render.Style, views []*View, parts []detail, width, height float64) *Figure {
	m, views := views[0], views[1:]
	row := newRow(parts, views)
	if f := row.stack(m, width, height); f != nil || j.search.exhausted() {
		return f
	}
	for _, room := range [...]geometry.Point{{X: width - gutter - row.columnWide, Y: height}, {X: width, Y: height - gutter - row.high}} {
		if w := main.squeezed(s, m, room.X, room.Y); w != nil {
			if f := row.stack(w, width, height); f != nil {
				return f
			}
		}
	}
	return nil
}

// legend is the size in the section plane, mm, that a detail is to make
// readable.
func legend(sec *joints.Section) float64 {
	return math.Min(smallestLeg(sec), readable/smallFeature*smallestFeature(sec))
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
// view, the most promising first. Details are worth most until what they show is
// easily read.
func picks(slots []slot, size float64) []pick {
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
			ok = scale > main[at[0]]
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

// row is a set of details, side by side or one under the other, mm.
type row struct {
	views  []*View
	titles []string
	least  []float64 // widths with titles
	// wide and high are the size side by side, columnWide and columnHigh that
	// one under the other.
	wide, high, columnWide, columnHigh float64
}

func newRow(parts []detail, views []*View) row {
	r := row{views: views, titles: make([]string, len(views)), least: make([]float64, len(views)), wide: -gutter, columnHigh: -gutter}
	for i, v := range views {
		r.titles[i] = parts[i].letter + " (" + render.ScaleText(v.Scale) + ")"
		r.least[i] = math.Max(v.Box.Width(), lettering.Measure(r.titles[i], render.FaceBold, letterHeight))
		r.wide += r.least[i] + gutter
		r.high = math.Max(r.high, v.Box.Height()+heading)
		r.columnHigh += v.Box.Height() + heading + gutter
		r.columnWide = math.Max(r.columnWide, r.least[i])
	}
	return r
}

// stack sets details under the main view, or else at its right; nil where
// neither has room.
func (r *row) stack(m *View, width, height float64) *Figure {
	f := &Figure{Unplaced: slices.Clone(m.Unplaced), Homeless: m.homeless}
	for _, v := range r.views {
		f.Unplaced = append(f.Unplaced, v.Unplaced...)
	}
	place := func(v *View, title string, x, y, w float64) {
		// Centred on the width given to it.
		x += (w - v.Box.Width()) / 2
		f.Views = append(f.Views, Placed{View: v, Title: title, At: geometry.Point{X: x - v.Box.Min.X, Y: y - v.Box.Min.Y}})
	}
	if wide, high := math.Max(r.wide, m.Box.Width()), m.Box.Height()+gutter+r.high; wide <= width && high <= height {
		f.Width, f.Height = wide, high
		place(m, "", 0, r.high+gutter, wide)
		spare := (wide - r.wide) / float64(len(r.views)+1)
		x := spare
		for i, v := range r.views {
			place(v, r.titles[i], x, r.high-heading-v.Box.Height(), r.least[i])
			x += r.least[i] + gutter + spare
		}
		return f
	}
	if wide, high := m.Box.Width()+gutter+r.columnWide, math.Max(r.columnHigh, m.Box.Height()); wide <= width && high <= height {
		f.Width, f.Height = wide, high
		place(m, "", 0, (high-m.Box.Height())/2, m.Box.Width())
		y := high - (high-r.columnHigh)/2
		for i, v := range r.views {
			y -= heading + v.Box.Height()
			place(v, r.titles[i], m.Box.Width()+gutter, y, r.columnWide)
			y -= gutter
		}
		return f
	}
	return nil
}

// mainJob is the section without what its details show.
func (j *job) mainJob(parts []detail) job {
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
	main := job{sec: &whole, symbols: j.symbols, search: j.search}
	for i := range parts {
		main.circles = append(main.circles, parts[i].circle)
	}
	return main
}
