package layout

import (
	"cmp"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
)

// search bounds the work on one figure. It counts the places that were reckoned
// with and not the time, so that the same joint gives the same figure
// everywhere.
type search struct {
	left, looked int
	times        int
	scratch
}

const (
	// drawing is how many times the work it is to draw a place and price it.
	drawing = 4
	// mostPlaces is how many places are reckoned with before a figure makes do
	// with what it has: a few milliseconds.
	mostPlaces = 16000
	// mostEach bounds one view after its first order of placing, and is what
	// details are given beyond that.
	mostEach = 4400
	// mostAll is when a figure with details is done.
	mostAll = 30000
	// leastRoom is what the dimensions of any part take, mm.
	leastRoom = 14
	// fairLeg is a leg on paper, mm, that reads well enough not to leave
	// anything out for a larger one.
	fairLeg = 5
	// tight is how small a view can be squeezed, of the size it sprawls to.
	tight = 0.7
	// least is the room of a dimension line and its text, mm.
	least = 13
)

func newSearch() search { return search{left: mostPlaces} }

// again starts over for another size of paper, each time with fewer places: what
// was laid out with all the room it takes is there already.
func (s *search) again() {
	s.left, s.looked = mostPlaces>>min(s.times, 2), 0
	s.times++
}

// spent tells that views are placed once only from here on.
func (s *search) spent() bool { return s.left <= 0 }

// exhausted tells that what is there must do.
func (s *search) exhausted() bool { return s.left < -mostPlaces || s.looked > mostAll }

// look counts a place that is drawn, and reckon one that is not yet.
func (s *search) look()   { s.count(drawing) }
func (s *search) reckon() { s.count(1) }

func (s *search) count(n int) { s.left, s.looked = s.left-n, s.looked+n }

// more gives a part of the figure places of its own.
func (s *search) more() {
	if !s.exhausted() {
		s.left = max(s.left, mostEach)
	}
}

// largest is the largest standard scale at which a part has room with any
// dimensions.
func largest(one geometry.Box, width, height float64) float64 {
	for _, scale := range render.Scales {
		if one.Width()*scale <= width-leastRoom && one.Height()*scale <= height-leastRoom {
			return scale
		}
	}
	return render.Scales[len(render.Scales)-1]
}

// fit lays a section out at the largest standard scale at which it fits width
// by height mm with all its dimensions; where none does, with as many as find
// room.
func (j *job) fit(width, height float64) *View {
	one := j.style.Sketch(j.sec, 1).Box
	// Half the space is the part's where its dimensions do not all find room.
	half := render.Scales[len(render.Scales)-1]
	for _, k := range render.Scales {
		if one.Width()*k <= width/2 && one.Height()*k <= height/2 {
			half = k
			break
		}
	}
	// Mostly some scale does without a struggle, which begins with as many places
	// as if none had been tried.
	left := j.search.left
	for _, j.hasty = range [...]bool{true, false} {
		j.search.left = left
		if v := j.fitFrom(one, half, width, height); v != nil {
			return v
		}
	}
	// What finds no place goes to the tables.
	if j.spare != nil {
		return j.spare
	}
	middle, room := one.Centre().Scale(half), geometry.Point{X: width / 2, Y: height / 2}
	return j.at(half, geometry.Box{Min: middle.Sub(room), Max: middle.Add(room)})
}

// fitFrom tries one scale after another, the largest first; nil where none
// shows everything well.
func (j *job) fitFrom(one geometry.Box, half, width, height float64) *View {
	var best *View
	given := false // a larger scale was given up
	for _, scale := range render.Scales {
		if one.Width()*scale > width-leastRoom || one.Height()*scale > height-leastRoom {
			continue
		}
		if best != nil && !j.free(scale).clearer(best.draft) {
			return best
		}
		v := j.within(scale, width, height)
		if v == nil {
			given = true
			if j.search.exhausted() || scale < half && j.search.spent() {
				break
			}
			// A view that is crowded with all the room it takes is more so at a
			// smaller scale; what lacks something may be complete there.
			lacks := j.spare != nil && j.spare.missing() > 0 && smallestLeg(j.sec)*scale >= fairLeg
			if (j.spare != nil || j.hasty) && (scale < half && !lacks || j.free(scale).view().crowded()) {
				break
			}
			continue
		}
		if best == nil {
			// In haste only a clear view makes up for a larger one.
			if j.hasty && given && v.crowdedBy() > clearly {
				return nil
			}
			best = v
			// A view that is full is given up for a clear one at the next scale
			// if that still reads well.
			if v.cost > full*float64(len(v.marks)) && !j.search.spent() && v.plain(j.sec) {
				continue
			}
			return best
		}
		if v.draft.clearer(best.draft) {
			return v
		}
		return best
	}
	return best
}

// clearer tells whether a draft is worth a smaller scale than another one has.
func (d *draft) clearer(than *draft) bool {
	const much = 0.6
	return d.cost/float64(len(d.list)) < much*than.cost/float64(len(than.list))
}

// within lays a view out in width by height mm, or gives nil.
func (j *job) within(scale, width, height float64) *View {
	d := j.free(scale)
	v := d.view()
	// What is crowded as it is only gets more so in a squeeze.
	if v.fits(width, height) || v.crowded() && !j.part && !j.hasty {
		d.improve()
		if v = d.view(); v.fits(width, height) {
			return j.accept(v)
		}
	}
	return j.squeezed(v, width, height)
}

// squeezed lays a view that sprawls out again inside walls, width by height mm
// apart, or gives nil.
func (j *job) squeezed(v *View, width, height float64) *View {
	room := squeeze{v, width, height, j.hasty}
	if w, ok := j.squeezes[room]; ok {
		return w
	}
	w := j.squeeze(v, width, height)
	if j.squeezes == nil {
		j.squeezes = map[squeeze]*View{}
	}
	j.squeezes[room] = w
	return w
}

// squeeze is a view and the room it was to go into.
type squeeze struct {
	v             *View
	width, height float64
	hasty         bool
}

func (j *job) squeeze(v *View, width, height float64) *View {
	part := v.sketch.Box
	if width-part.Width() < least || height-part.Height() < least || width < tight*v.Box.Width() || height < tight*v.Box.Height() {
		return nil
	}
	const hopeless = 2500
	if v.cost > hopeless {
		return nil
	}
	walls := v.walls(width, height)
	if j.hasty {
		walls = walls[:min(2, len(walls))]
	}
	for i := range walls {
		if w := j.settle(v.draft.into(walls[i], j.patience()), width, height); w != nil {
			return w
		}
		if j.search.spent() || v.crowded() && (j.part || j.spare != nil) {
			return nil // no other place makes it clear
		}
	}
	if !j.part && !j.hasty && !v.crowded() {
		// It has room by itself: from the start inside the best walls, then.
		return j.settle(j.draft(v.Scale, walls[0], j.patience()), width, height)
	}
	return nil
}

// settle improves a draft and gives its view back if that does, else nil.
func (j *job) settle(d *draft, width, height float64) *View {
	if d == nil {
		return nil
	}
	d.improve()
	if w := d.view(); w.fits(width, height) {
		return j.accept(w)
	}
	return nil
}

// patience is how many times as crowded as one may be a view can get before it
// is given up.
func (j *job) patience() float64 {
	switch {
	case j.hasty:
		return 1.5
	case j.part || j.spare != nil:
		return 2 // beyond that no other order helps
	}
	return math.Inf(1)
}

// walls are the places of a room about a view, those first that the least stands
// out of.
func (v *View) walls(width, height float64) []geometry.Box {
	part := v.sketch.Box
	out := make([]geometry.Box, 0, 9)
	for _, x := range sides(part.Min.X, part.Max.X, v.Box.Min.X, v.Box.Max.X, width) {
		for _, y := range sides(part.Min.Y, part.Max.Y, v.Box.Min.Y, v.Box.Max.Y, height) {
			out = append(out, geometry.Box{Min: geometry.Point{X: x[0], Y: y[0]}, Max: geometry.Point{X: x[1], Y: y[1]}})
		}
	}
	slices.SortStableFunc(out, func(a, b geometry.Box) int { return cmp.Compare(v.draft.outside(a), v.draft.outside(b)) })
	return out[:min(3, len(out))]
}

// sides are the ways to lay a room about a stretch of the part that everything
// about it sprawls over more of: as it asks on both sides, or as far as it goes
// on one of them.
func sides(lo, hi, from, to, room float64) [][2]float64 {
	first, last := share(lo-from, to-hi, lo, hi, room)
	out := [][2]float64{{first, last}}
	if to-from <= room {
		return out
	}
	lo, hi = math.Min(from, lo-least), math.Max(to, hi+least)
	for _, x := range [...][2]float64{{lo, lo + room}, {hi - room, hi}} {
		if math.Abs(x[0]-first) > 2 {
			out = append(out, x)
		}
	}
	return out
}

// accept gives a view back that shows everything well, and keeps the best of
// the others.
func (j *job) accept(v *View) *View {
	if v.missing() == 0 && !v.crowded() {
		return v
	}
	if j.part {
		return nil
	}
	if j.spare == nil || v.missing() < j.spare.missing() || v.missing() == j.spare.missing() && v.crowdedBy() < 0.6*j.spare.crowdedBy() {
		j.spare = v
	}
	return nil
}

// full is the cost from which a view is worth a smaller scale, for each thing
// on it.
const full = 20

// clearly is how crowded a view may be, of what it may be at most, to be taken in
// haste for a larger one.
const clearly = 0.6

// plain tells whether a section reads well at half the scale of the view.
func (v *View) plain(sec *joints.Section) bool {
	const largeWeld, half = 15, 2.5
	least := math.Min(smallestLeg(sec)/smallLeg, smallestFeature(sec)/smallFeature)
	for i := range sec.Welds {
		b := sec.Welds[i].Profile.Bounds()
		least = math.Min(least, math.Min(b.Width(), b.Height())/largeWeld)
	}
	return least*v.Scale >= half
}

// crowded tells whether a view wants its welds moved to details.
func (v *View) crowded() bool { return v.crowdedBy() >= 1 }

// choked tells whether it is more than a reader can be asked to bear.
func (v *View) choked() bool { return v.missing() > 0 || v.crowdedBy() > 1.3 }

func (v *View) crowdedBy() float64 { return v.cost / mayCost(len(v.marks)) }

// mayCost is what so many things on a view may cost before it is crowded.
func mayCost(things int) float64 { return crowded + crowdedEach*float64(things) }

// missing counts what found no place.
func (v *View) missing() int { return len(v.Unplaced) + len(v.homeless) + v.nameless }

func (v *View) fits(width, height float64) bool {
	return v.Box.Width() <= width+1e-6 && v.Box.Height() <= height+1e-6
}

// share spreads room about a stretch as the two sides asked for it.
func share(before, after, lo, hi, room float64) (float64, float64) {
	if hi-lo+before+after <= room {
		spare := (room - (hi - lo + before + after)) / 2
		return lo - before - spare, hi + after + spare
	}
	slack := math.Max(0, room-(hi-lo))
	// Either side keeps enough for one dimension line if there is room at all.
	first := math.Min(math.Max(slack*before/(before+after), math.Min(13, slack/2)), slack-math.Min(13, slack/2))
	if before < 1 {
		first = 0
	}
	if after < 1 {
		first = slack
	}
	return lo - first, lo - first + room
}
