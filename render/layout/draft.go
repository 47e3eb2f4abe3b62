package layout

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/render"
)

// draft is a view being laid out: everything is placed once, in order, and then
// what came out badly makes others give way.
type draft struct {
	job      *job
	sketch   render.Sketch
	list     []task
	set      []placed // of each task
	cost     float64
	p        placer
	improved bool
	// changed tells that the view has to be made anew.
	changed bool
	made    *View
}

// at lays a view out. Nothing leaves limit unless it is empty.
func (j *job) at(scale float64, limit geometry.Box) *View {
	d := j.draft(scale, limit, math.Inf(1))
	d.improve()
	return d.view()
}

// free is the draft at a scale with as much room as it takes, kept for every
// size of paper it is tried on.
func (j *job) free(scale float64) *draft {
	d, ok := j.drafts[scale]
	if !ok {
		d = j.draft(scale, geometry.EmptyBox(), math.Inf(1))
		if j.drafts == nil {
			j.drafts = map[float64]*draft{}
		}
		j.drafts[scale] = d
	}
	return d
}

// draft places everything once. It is nil where the view gets that many times as
// crowded as one may be.
func (j *job) draft(scale float64, limit geometry.Box, times float64) *draft {
	s := j.style
	d := &draft{job: j, sketch: s.Sketch(j.sec, scale), changed: true}
	for i, l := range j.lining {
		d.sketch.Members[i].Lining = l
	}
	d.list = j.tasks(&d.sketch, s)
	d.p = placer{scene: newScene(&d.sketch), style: s, search: j.search, scratch: &j.search.scratch}
	d.p.limit = limit
	for i := range j.circles {
		m := j.circles[i].mark(scale)
		d.p.add(&m)
	}
	d.p.settle()
	d.set = make([]placed, len(d.list))
	for i := range d.list {
		d.set[i] = d.p.place(&d.list[i])
		d.p.put(&d.set[i])
		if d.cost += d.set[i].cost; d.cost > times*mayCost(len(d.list)) {
			return nil
		}
	}
	return d
}

// into is the draft inside walls: what stands outside of them is placed again,
// among the rest if that does, else in its turn, so that what it gets in the way
// of is placed again too. It is nil where that gets so many times as crowded as
// one may be.
func (d *draft) into(walls geometry.Box, times float64) *draft {
	scene := *d.p.scene
	scene.limit = walls
	moved := d.copied(&scene)
	var out []int
	for i := range moved.set {
		if r := &moved.set[i]; !r.ok || !inside(walls, r.box) {
			out = append(out, i)
			moved.cost -= r.cost
		}
	}
	moved.without(out)
	most := times * mayCost(len(d.list))
	for _, i := range out {
		moved.set[i] = moved.p.place(&moved.list[i])
		moved.p.put(&moved.set[i])
		if moved.cost += moved.set[i].cost; moved.cost > max(most, d.cost+fair) {
			break // no use, whatever the rest costs
		}
	}
	if moved.cost < d.cost+fair {
		return moved
	}
	turned := d.copied(&scene)
	turned.cost = 0
	turned.p.wipe()
	for i := range turned.set {
		if turned.cost > most && moved.cost > most {
			return nil
		}
		r := &turned.set[i]
		if stays := r.ok && inside(walls, r.box) && turned.p.price(r) < r.cost+gain; !stays {
			*r = turned.p.place(&turned.list[i])
		}
		turned.p.put(r)
		turned.cost += r.cost
	}
	if moved.cost < turned.cost {
		turned = moved
	}
	if turned.cost > most {
		return nil
	}
	return turned
}

// copied is a draft to be changed, on a scene.
func (d *draft) copied(on *scene) *draft {
	c := *d
	c.p.scene, c.set, c.improved, c.changed = on, slices.Clone(d.set), false, true
	return &c
}

// outside counts what stands outside of walls.
func (d *draft) outside(walls geometry.Box) int {
	n := 0
	for i := range d.set {
		if r := &d.set[i]; r.ok && !inside(walls, r.box) {
			n++
		}
	}
	return n
}

// inside tells whether a box stands inside walls.
func inside(walls, b geometry.Box) bool { return walls.Contains(b.Min) && walls.Contains(b.Max) }

const (
	// fair is what a thing may cost without asking others to give way, and gain
	// the least it must stand to gain by it.
	fair, gain = 45.0, 15.0
	// goodEnough is the cost of a usual drawing without a blemish, for each
	// thing on it, and bad that of a thing that is one.
	goodEnough, bad = 20, 70
	// mostBlockers is how many may be asked.
	mostBlockers = 6
)

// improve takes the worst placed thing, finds what stands where it would stand
// if it were alone, and places those again after it, for as long as that helps.
func (d *draft) improve() {
	if d.improved || d.cost < goodEnough*float64(len(d.list)) && !slices.ContainsFunc(d.set, func(r placed) bool { return r.cost > bad }) {
		return
	}
	d.improved = true
	settled := make([]bool, len(d.list))
	floor := d.job.search.left - mostEach
	for tried := 0; ; tried++ {
		// Something without a place is worth one more try whatever it takes.
		done := d.job.search.spent() || d.job.search.left < floor
		if done && (!d.lacks() || tried > 0 || d.job.search.exhausted()) {
			return
		}
		worst := -1
		for i := range d.set {
			if !settled[i] && d.set[i].cost > fair && (worst < 0 || d.set[i].cost > d.set[worst].cost) {
				worst = i
			}
		}
		if worst < 0 {
			return
		}
		settled[worst] = true
		if set := d.blockers(worst); len(set) > 0 && d.giveWay(worst, set) {
			for _, i := range set {
				settled[i] = false
			}
		}
	}
}

// lacks tells whether something has no place.
func (d *draft) lacks() bool {
	return slices.ContainsFunc(d.set, func(r placed) bool { return !r.ok })
}

// blockers are the things that stand in the way of one of them, the nearest in
// order first; none where it would gain nothing by their absence.
func (d *draft) blockers(of int) []int {
	t := &d.list[of]
	d.p.wipe()
	alone := d.p.place(t)
	if !alone.ok || d.set[of].cost < alone.cost+gain {
		return nil
	}
	var out []int
	for i := range d.set {
		if i == of || !d.set[i].ok {
			continue
		}
		d.p.wipe()
		d.p.put(&d.set[i])
		if d.p.price(&alone) > alone.cost+0.5 {
			out = append(out, i)
		}
	}
	if len(out) > mostBlockers {
		return nil
	}
	return out
}

// giveWay places a thing first and its blockers after it, if that is better.
func (d *draft) giveWay(first int, set []int) bool {
	moved := append([]int{first}, set...)
	d.without(moved)
	old := 0.0
	for i := range d.set {
		if r := &d.set[i]; slices.Contains(moved, i) {
			if r.ok {
				old += min(d.p.price(r), lacking)
			} else {
				old += lacking
			}
			d.p.put(r)
		}
	}
	d.without(moved)
	sum := 0.0
	next := make([]placed, len(moved))
	for k, i := range moved {
		next[k] = d.p.place(&d.list[i])
		d.p.put(&next[k])
		if sum += next[k].cost; sum > old-1 {
			return false
		}
	}
	for k, i := range moved {
		d.set[i] = next[k]
	}
	d.cost += sum - old
	d.changed = true
	return true
}

// without puts everything on the paper but some.
func (d *draft) without(moved []int) {
	d.p.wipe()
	for i := range d.set {
		if !slices.Contains(moved, i) {
			d.p.put(&d.set[i])
		}
	}
}

// bearable is what a measure may cost for crossing others and standing in the
// part.
const bearable = 125

// cleared is the view, in width by height mm, without the measures that others
// can bear least: they go to the tables.
func (d *draft) cleared(width, height float64) *View {
	c := *d
	c.set, c.changed = slices.Clone(d.set), true
	for {
		worst, most := -1, float64(bearable)
		for i := range c.set {
			r := &c.set[i]
			if !r.ok || c.list[i].measure < 0 {
				continue
			}
			c.without([]int{i})
			if cost := c.p.price(r) - r.base; cost > most {
				worst, most = i, cost
			}
		}
		if worst < 0 {
			break
		}
		c.cost += lacking - c.set[worst].cost
		c.set[worst] = placed{cost: lacking}
	}
	fewer := c.view()
	if !fewer.fits(width, height) {
		return d.view() // without something in that corner the scale bar moved out
	}
	// With others gone there may be room after all.
	c.set, c.changed = slices.Clone(c.set), true
	c.without(nil)
	for i := range c.set {
		if r := &c.set[i]; !r.ok {
			if again := c.p.place(&c.list[i]); again.ok && again.cost-again.base <= bearable {
				c.cost += again.cost - r.cost
				*r = again
				c.p.put(r)
			}
		}
	}
	if v := c.view(); v.fits(width, height) {
		return v
	}
	return fewer
}

// view is the draft as it stands, with its scale bar.
func (d *draft) view() *View {
	if !d.changed {
		return d.made
	}
	d.changed = false
	d.without(nil)
	p := &d.p
	v := &View{Scale: d.sketch.Scale, draft: d, sketch: d.sketch, style: p.style, limit: p.limit, cost: d.cost,
		marks: make([]render.Mark, 0, len(d.list)+len(d.job.circles))}
	for i := range d.job.circles {
		v.marks = append(v.marks, d.job.circles[i].mark(d.sketch.Scale))
	}
	for i := range d.set {
		t, r := &d.list[i], &d.set[i]
		switch {
		case r.ok && t.symbol != nil:
			m := r.mark
			m.Lines, m.Extension = slices.Concat(m.Lines, m.Extension), nil
			v.symbols = append(v.symbols, t.picture(p.style, r.chosen))
			v.marks = append(v.marks, m)
		case r.ok:
			v.marks = append(v.marks, r.mark)
			v.makeshift = v.makeshift || r.makeshift
		case t.symbol != nil:
			v.homeless = append(v.homeless, *t.symbol)
		case t.measure >= 0:
			v.Unplaced = append(v.Unplaced, d.job.sec.Measures[t.measure])
		default:
			v.nameless++
		}
	}
	v.Box, v.texts, v.regions = p.box, slices.Clone(p.texts), p.regions
	v.strokes = slices.Clone(p.strokes)
	if !d.job.detail {
		v.scaleBar()
	}
	d.made = v
	return v
}
