package compare

import (
	"fmt"
	"math"

	"fay/joints"
)

// Curve gives the metric of an alternative at a value; an error where it
// cannot be made or told there.
type Curve func(at float64) (float64, error)

// Crossing is a value at which one alternative becomes cheaper than another.
type Crossing struct {
	At float64
	// FirstBelow: the first alternative is the cheaper one below the value.
	FirstBelow bool
	// Jump: the curves step over each other and meet at no value, as passes do.
	Jump bool
}

// Sample is both curves at a value; NaN where one cannot be told.
type Sample struct {
	At   float64
	A, B float64
}

// BreakEven is where two alternatives change places.
type BreakEven struct {
	Crossings []Crossing
	Samples   []Sample
	// Unmade is why a curve has gaps; empty where it has none.
	Unmade string
}

// Steps of the search: sign changes closer together than a step are missed in
// pairs.
const (
	steps = 96
	// halvings bring a step down to the rounding of its ends.
	halvings = 60
	// meeting is how near the curves must come, relative to their size, for a
	// crossing to be no jump.
	meeting = 1e-6
)

// NewBreakEven searches from lo to hi: it samples both curves and bisects every
// step in which their difference changes sign. The error is of type
// joints.Faults.
func NewBreakEven(a, b Curve, lo, hi float64) (BreakEven, error) {
	if !(lo < hi) || math.IsInf(hi-lo, 0) {
		return BreakEven{}, joints.Faults{{Code: joints.FaultRange, Field: "break-even", Value: fmt.Sprintf("%g..%g", lo, hi),
			Rule: "must run from a smaller to a larger value", Remedy: "write 4..20"}}
	}
	out := BreakEven{Crossings: []Crossing{}}
	both := func(at float64) Sample {
		s := Sample{At: at, A: math.NaN(), B: math.NaN()}
		va, errA := a(at)
		vb, errB := b(at)
		for _, err := range [2]error{errA, errB} {
			if err != nil && out.Unmade == "" {
				out.Unmade = fmt.Sprintf("at %s: %s", trim(at), err)
			}
		}
		if errA == nil {
			s.A = va
		}
		if errB == nil {
			s.B = vb
		}
		return s
	}
	last := Sample{A: math.NaN(), B: math.NaN()} // with a difference that is not zero
	told := false
	for i := range steps + 1 {
		s := both(lo + (hi-lo)*float64(i)/steps)
		out.Samples = append(out.Samples, s)
		d := s.A - s.B
		switch {
		case math.IsNaN(d):
			last = s // nothing is known across a gap
			continue
		case d == 0:
			continue
		}
		told = true
		if before := last.A - last.B; before*d < 0 {
			out.Crossings = append(out.Crossings, bisect(both, last, s))
		}
		last = s
	}
	if !told && out.Unmade != "" {
		return BreakEven{}, joints.Faults{{Code: joints.FaultUnfit, Field: "break-even", Rule: "the alternatives cannot be compared anywhere: " + out.Unmade,
			Remedy: "choose another range"}}
	}
	return out, nil
}

// bisect closes in on the change of sign between two samples.
func bisect(both func(float64) Sample, l, r Sample) Crossing {
	firstBelow := l.A < l.B
	for range halvings {
		m := both((l.At + r.At) / 2)
		d := m.A - m.B
		switch {
		case d == 0:
			return Crossing{At: m.At, FirstBelow: firstBelow}
		case math.IsNaN(d):
			return Crossing{At: m.At, FirstBelow: firstBelow, Jump: true}
		case (d < 0) == firstBelow:
			l = m
		default:
			r = m
		}
	}
	size := math.Max(math.Abs(l.A), math.Abs(l.B))
	return Crossing{At: (l.At + r.At) / 2, FirstBelow: firstBelow, Jump: math.Abs(l.A-l.B) > meeting*size || math.Abs(r.A-r.B) > meeting*size}
}
