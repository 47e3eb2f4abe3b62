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
func keep(b *bench, w *joints.Weld, throat, opened geometry.Length) kept {
	plan := [2]float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
	defer b.setLegs(w.ID, plan[0], plan[1])
	build := func(grow float64) (joints.Weld, error) {
		b.setLegs(w.ID, plan[0]+grow, plan[1]+grow)
		return b.weld(w.ID)
	}
	// The throat grows with the legs over one range that can be built. spare is
	// by how much a growth is more than enough; where none can be built it is
	// not a number.
	spare := func(grow float64) (float64, error) {
		got, err := build(grow)
		if err != nil {
			return math.NaN(), err
		}
		return float64(got.EffectiveThroat-throat) + enough, nil
	}
	// The root corner moves up the abutting member by this: for flat equal
	// legs that is the growth asked for.
	start, err := anywhere(build, float64(opened)/w.Dihedral.Sin())
	if err != nil {
		return kept{impossible: ruleOf(err)}
	}
	lo, hi := start, start
	var under, over float64 // the spare at lo and hi
	if at, _ := spare(start); at >= 0 {
		over = at
		// Mostly the guess is right, and the least bit less is too little.
		const bit = 1e-6
		lo = start - bit
		if under, _ = spare(lo); under >= 0 {
			hi, over = lo, under
			lo = math.Max(start-farthest, -math.Min(plan[0], plan[1]))
			under, _ = spare(lo)
		}
	} else {
		under = at
		for step := 0.5; ; step *= 2 {
			next := hi + step
			at, err := spare(next)
			if err != nil {
				// The range ends before: its very end is the last chance.
				last := edgeOf(build, hi, next)
				if over, _ = spare(last); !(over >= 0) {
					_, err = build(last + 2e-9*(1+math.Abs(last)))
					return kept{impossible: ruleOf(err)}
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
				return kept{impossible: noLeg}
			}
		}
	}
	hi = closeIn(spare, lo, hi, under, over)
	got, err := build(hi)
	if err != nil {
		return kept{impossible: ruleOf(err)}
	}
	return kept{legs: [2]geometry.Length{got.Feet[0].Leg, got.Feet[1].Leg}, weld: got}
}

// closeIn finds where what is spare comes down to nothing, between lo, where
// there is too little or nothing can be built, and hi, where there is enough: by
// false position, halving the weight of an end that stays (the Illinois rule).
func closeIn(spare func(float64) (float64, error), lo, hi, under, over float64) float64 {
	const none = 1e-12 // mm
	weight := [2]float64{1, 1}
	stayed := -1 // the end that stayed the last time
	for range 100 {
		if over <= none && !math.IsNaN(under) {
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

// anywhere finds a growth that can be built, as near to the guess as may be.
func anywhere(build func(float64) (joints.Weld, error), guess float64) (float64, error) {
	_, first := build(guess)
	if first == nil {
		return guess, nil
	}
	for d := nearby; d <= farthest; d *= 1.1 {
		for _, grow := range [2]float64{guess - d, guess + d} {
			if _, err := build(grow); err == nil {
				return grow, nil
			}
		}
	}
	return 0, first
}

// edgeOf closes in on the end of the range that can be built, between a growth
// that can and one that cannot.
func edgeOf(build func(float64) (joints.Weld, error), can, cannot float64) float64 {
	for range 60 {
		mid := (can + cannot) / 2
		if mid == can || mid == cannot {
			break
		}
		if _, err := build(mid); err == nil {
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

// lay rounds legs up to a grid for the hand that lays them: never under the
// plan, and not past the edge of a member. The second result tells which leg
// the edge has cut short.
func lay(k *kept, plan *joints.Weld, grid geometry.Length) (legs [2]geometry.Length, whole [2]bool) {
	for i := range legs {
		up := upTo(max(k.legs[i], plan.Feet[i].Leg), grid)
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
