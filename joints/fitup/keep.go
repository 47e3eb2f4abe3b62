package fitup

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
)

const (
	// enough is how far in mm a throat may lie under the one asked for and
	// still be it: the noise of two routes to the same number.
	enough = 1e-9
	// nothing is what is left to spare, mm, where a search ends.
	nothing = 1e-12
	// nearby and farthest bound the search in mm for legs that can be laid at
	// all, nearby being the width of the narrowest range that must be found.
	nearby, farthest = 0.02, 20.0
	// growMost is the most that legs may grow, mm.
	growMost = 150.0
)

// kept is the answer of keep: legs and the weld built with them, or why there
// are none.
type kept struct {
	legs       [2]geometry.Length
	weld       joints.Weld
	impossible string
}

// keep finds the smallest legs that give a fillet the throat at the opening
// set on the bench: both legs of the plan grow, or shrink, by the same amount.
// at is the weld with the legs of the plan at that opening; nil where it cannot
// be built.
func keep(b *bench, w, at *joints.Weld, throat, opened geometry.Length) kept {
	plan := [2]float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
	defer b.setLegs(w.ID, plan[0], plan[1])
	// The throat grows with the legs over one range that can be built. spare is
	// by how much a growth is more than enough; where none can be built it is
	// not a number. The last weld that was enough is mostly the answer.
	var last struct {
		grow float64
		weld joints.Weld
	}
	build := func(grow float64) (joints.Weld, error) {
		b.setLegs(w.ID, plan[0]+grow, plan[1]+grow)
		return b.weld(w.ID)
	}
	spare := func(grow float64) (float64, error) {
		got, err := build(grow)
		if err != nil {
			return math.NaN(), err
		}
		over := float64(got.EffectiveThroat-throat) + enough
		if over >= 0 {
			last.grow, last.weld = grow, got
		}
		return over, nil
	}
	if at != nil && isDone(float64(at.EffectiveThroat-throat)+enough) {
		return kept{legs: [2]geometry.Length{at.Feet[0].Leg, at.Feet[1].Leg}, weld: *at}
	}
	start := growth(w, at, throat-enough+nothing/2, opened)
	over, err := spare(start)
	if err != nil {
		if start, over, err = anywhere(spare, float64(opened)/w.Dihedral.Sin()); err != nil {
			return kept{impossible: ruleOf(err)}
		}
	}
	hi := start
	if !isDone(over) {
		var why string
		if hi, why = search(spare, start, over, math.Min(plan[0], plan[1])); why != "" {
			return kept{impossible: why}
		}
	}
	if hi != last.grow {
		if last.weld, err = build(hi); err != nil {
			return kept{impossible: ruleOf(err)}
		}
	}
	got := &last.weld
	return kept{legs: [2]geometry.Length{got.Feet[0].Leg, got.Feet[1].Leg}, weld: *got}
}

// isDone reports whether legs with so much throat to spare are the smallest, as
// far as can be told.
func isDone(over float64) bool { return over >= 0 && over <= 2*enough }

// growth is what the legs must grow by for the throat, for a flat or convex face
// without proven penetration: the throat is then the distance of the root corner
// from the chord. For others it is where to begin to look.
func growth(w, at *joints.Weld, throat, opened geometry.Length) float64 {
	sin, cos := w.Dihedral.Sin(), w.Dihedral.Cos()
	z := [2]float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
	flat := func(grow, corner float64) float64 {
		z0, z1 := z[0]+grow, z[1]+grow
		return (z1 - corner) * z0 * sin / math.Sqrt(z0*z0+z1*z1-2*z0*z1*cos)
	}
	// The root corner moves up the abutting member.
	planned := w.RootCorner.Dist(w.JointRoot)
	corner := planned + float64(opened)/sin
	if at != nil {
		corner = at.RootCorner.Dist(at.JointRoot)
	}
	want := flat(0, planned) + float64(throat-w.EffectiveThroat)
	spare := func(grow float64) (float64, error) { return flat(grow, corner) - want, nil }
	lo := math.Max(corner-z[1], -math.Min(z[0], z[1]))
	under, _ := spare(lo)
	for step := float64(throat) + corner; step <= growMost; step *= 2 {
		if over, _ := spare(lo + step); over >= 0 {
			return closeIn(spare, lo, lo+step, under, over)
		}
	}
	return float64(opened) / sin
}

// search finds the growth from a start that can be built, has over to spare and
// is not the answer. most is by how much the legs can shrink. The words say why
// there is none.
func search(spare func(float64) (float64, error), start, over, most float64) (float64, string) {
	const bit = 1e-6 // the least step away from a start that is nearly right
	lo, hi, under := start, start, over
	if over >= 0 {
		for step := bit + 2*over; under >= 0 && lo > -most; step *= 4 {
			hi, over = lo, under
			lo = math.Max(start-step, -most)
			under, _ = spare(lo)
		}
		return closeIn(spare, lo, hi, under, over), ""
	}
	for step := bit - 2*over; ; step *= 2 {
		next := hi + step
		at, err := spare(next)
		if err != nil {
			// The range ends before: its very end is the last chance.
			last := edgeOf(spare, hi, next)
			if over, _ = spare(last); !(over >= 0) {
				_, err = spare(last + 2e-9*(1+math.Abs(last)))
				return 0, ruleOf(err)
			}
			hi = last
			break
		}
		if hi = next; at >= 0 {
			over = at
			break
		}
		lo, under = hi, at
		if hi > growMost {
			return 0, noLeg
		}
	}
	return closeIn(spare, lo, hi, under, over), ""
}

// closeIn finds where what is spare comes down to nothing, between lo, where
// there is too little or nothing can be built, and hi, where there is enough: by
// false position, halving the weight of an end that stays (the Illinois rule).
func closeIn(spare func(float64) (float64, error), lo, hi, under, over float64) float64 {
	weight := [2]float64{1, 1}
	stayed := -1 // the end that stayed the last time
	for range 100 {
		if over <= nothing && !math.IsNaN(under) {
			break
		}
		x := (lo + hi) / 2
		if u, o := under*weight[0], over*weight[1]; u < 0 {
			if y := (lo*o - hi*u) / (o - u); lo < y && y < hi {
				x = y
			}
		}
		if x == lo || x == hi {
			break
		}
		moved := 0
		if at, _ := spare(x); at >= 0 {
			moved, hi, over = 1, x, at
		} else {
			lo, under = x, at
		}
		weight[moved] = 1
		if stays := 1 - moved; stays == stayed {
			weight[stays] /= 2
		}
		stayed = 1 - moved
	}
	return hi
}

const noLeg = "no leg keeps the throat at this opening"

// anywhere finds a growth that can be built, as near to the guess as may be, and
// what it has to spare.
func anywhere(spare func(float64) (float64, error), guess float64) (grow, over float64, err error) {
	over, first := spare(guess)
	if first == nil {
		return guess, over, nil
	}
	for d := nearby; d <= farthest; d *= 1.1 {
		for _, grow := range [2]float64{guess - d, guess + d} {
			if over, err := spare(grow); err == nil {
				return grow, over, nil
			}
		}
	}
	return 0, 0, first
}

// edgeOf closes in on the end of the range that can be built, between a growth
// that can and one that cannot.
func edgeOf(spare func(float64) (float64, error), can, cannot float64) float64 {
	for range 60 {
		mid := (can + cannot) / 2
		if mid == can || mid == cannot {
			break
		}
		if _, err := spare(mid); err == nil {
			can = mid
		} else {
			cannot = mid
		}
	}
	return can
}

// ruleOf says which rule a joint breaks.
func ruleOf(err error) string {
	faults := joints.AsFaults(err)
	if len(faults) == 0 {
		return noLeg
	}
	f := &faults[0]
	name := f.Field[strings.LastIndexByte(f.Field, '.')+1:]
	return "the " + strings.ReplaceAll(name, "-", " ") + " " + f.Rule
}

// lay rounds legs up to a grid for the hand that lays them: not past the edge of
// a member, and where the planned leg does, that as the drawing has it. The
// second result tells which leg the edge has cut short.
func lay(k *kept, plan *joints.Weld, grid geometry.Length) (legs [2]geometry.Length, whole [2]bool) {
	for i := range legs {
		if planned := plan.Feet[i].Leg; k.legs[i] <= planned+enough {
			legs[i] = planned
			continue
		}
		up := upTo(k.legs[i], grid)
		if e := k.weld.Feet[i].EdgeRemaining; e.Present && up > k.legs[i]+e.Value+enough {
			up, whole[i] = k.legs[i]+e.Value, true
		}
		legs[i] = up
	}
	return legs, whole
}

// upTo rounds up to a multiple of the grid.
func upTo(l, grid geometry.Length) geometry.Length {
	const noise = 1e-6 // of a step: 4.5 computed as 4.5000001 is 4.5
	return length(math.Ceil(float64(l/grid)-noise)) * grid
}
