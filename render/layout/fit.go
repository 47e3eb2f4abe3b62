package layout

import (
	"math"

	"fay/geometry"
	"fay/joints"
	"fay/render"
)

// search bounds the work on one figure. It counts the places looked at and not
// the time, so that the same joint gives the same figure everywhere.
type search struct {
	left, looked int
	scratch
}

const (
	// mostPlaces is how many places are looked at before a figure makes do with
	// what it has: a few milliseconds.
	mostPlaces = 4000
	// mostEach bounds one view after its first order of placing, and is what
	// details are given beyond that.
	mostEach = 1200
	// mostAll is when a figure with details is done.
	mostAll = 8000
	// leastRoom is what the dimensions of any part take, mm.
	leastRoom = 14
)

func newSearch() search { return search{left: mostPlaces} }

// again starts over for another size of paper.
func (s *search) again() { s.left, s.looked = mostPlaces, 0 }

// spent tells that views are placed once only from here on.
func (s *search) spent() bool { return s.left <= 0 }

// exhausted tells that what is there must do.
func (s *search) exhausted() bool { return s.left < -mostPlaces || s.looked > mostAll }

// look counts a place.
func (s *search) look() { s.left, s.looked = s.left-1, s.looked+1 }

// more gives a part of the figure places of its own.
func (s *search) more() {
	if !s.exhausted() {
		s.left = max(s.left, mostEach)
	}
}

// fit lays a section out at the largest standard scale at which it fits width
// by height mm with all its dimensions; where none does, with as many as find
// room.
func (j *job) fit(width, height float64) *View {
	one := j.style.Sketch(j.sec, 1).Box
	var best *View
	// Half the space is the part's where its dimensions do not all find room.
	half := render.Scales[len(render.Scales)-1]
	for _, k := range render.Scales {
		if one.Width()*k <= width/2 && one.Height()*k <= height/2 {
			half = k
			break
		}
	}
	for _, scale := range render.Scales {
		if one.Width()*scale > width-leastRoom || one.Height()*scale > height-leastRoom {
			continue
		}
		v := j.within(scale, width, height)
		if v == nil {
			if scale < half && (j.spare != nil || j.search.spent()) || j.search.exhausted() {
				break
			}
			continue
		}
		if best == nil {
			best = v
			// A view that is full is given up for a clear one at the next scale
			// if that still reads well.
			if v.cost > full*float64(len(v.marks)) && !j.search.spent() && v.plain(j.sec) {
				continue
			}
			return best
		}
		if v.cost/float64(len(v.marks)) < 0.6*best.cost/float64(len(best.marks)) {
			return v
		}
		return best
	}
	if best != nil {
		return best
	}
	// What finds no place goes to the tables.
	if j.spare != nil {
		return j.spare
	}
	middle, room := one.Centre().Scale(half), geometry.Point{X: width / 2, Y: height / 2}
	return j.at(half, geometry.Box{Min: middle.Sub(room), Max: middle.Add(room)})
}

// within lays a view out in width by height mm, or gives nil.
func (j *job) within(scale, width, height float64) *View {
	d := j.free(scale)
	v := d.view()
	if v.fits(width, height) {
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
	room := squeeze{v, width, height}
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
}

func (j *job) squeeze(v *View, width, height float64) *View {
	part := v.sketch.Box
	const (
		least = 13  // a dimension line and its text, on two sides at least
		tight = 0.7 // of the size it sprawls to
	)
	if width-part.Width() < least || height-part.Height() < least || width < tight*v.Box.Width() || height < tight*v.Box.Height() {
		return nil
	}
	const hopeless = 2500
	if v.cost > hopeless {
		return nil
	}
	// Walls as the sprawling layout asked for them, else more room at one side.
	left, right := part.Min.X-v.Box.Min.X, v.Box.Max.X-part.Max.X
	low, high := part.Min.Y-v.Box.Min.Y, v.Box.Max.Y-part.Max.Y
	for _, ask := range [...][2]float64{{left, right}, {1, 3}, {3, 1}} {
		if w := j.walled(v.Scale, width, height, part, ask, [2]float64{low, high}); w != nil {
			return w
		}
		if j.search.spent() {
			break
		}
	}
	return nil
}

// walled lays a view out inside walls that share the room as the sides ask.
func (j *job) walled(scale, width, height float64, part geometry.Box, x, y [2]float64) *View {
	var walls geometry.Box
	walls.Min.X, walls.Max.X = share(x[0], x[1], part.Min.X, part.Max.X, width)
	walls.Min.Y, walls.Max.Y = share(y[0], y[1], part.Min.Y, part.Max.Y, height)
	times := math.Inf(1)
	if j.part || j.spare != nil {
		times = 2 // beyond that no other order helps
	}
	d := j.draft(scale, walls, times)
	if d == nil {
		return nil
	}
	d.improve()
	v := d.view()
	if !v.fits(width, height) {
		return nil
	}
	return j.accept(v)
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
const full = 15

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
