package compare

import (
	"fmt"
	"math"
	"slices"

	"fay/joints"
)

// Curve gives the metric of an alternative at a value; an error where it
// cannot be made or told there.
type Curve func(at float64) (float64, error)

// Crossing is a value at which one alternative becomes cheaper than another.
type Crossing struct {
	At float64
	// To ends the stretch from At in which both come to the same; At itself
	// where they meet in a point or step over each other.
	To float64
	// FirstBelow: the first alternative is the cheaper one below the value.
	FirstBelow bool
	// Jump: the curves step over each other and meet at no value, as passes do.
	Jump bool
}

// Stretch is a range in which both alternatives come to the same.
type Stretch struct{ From, To float64 }

// Sample is both curves at a value; NaN where one cannot be told.
type Sample struct {
	At   float64
	A, B float64
}

// BreakEven is where two alternatives change places.
type BreakEven struct {
	Crossings []Crossing
	Samples   []Sample
	// Equal are the stretches in which both come to the same, those of
	// crossings among them.
	Equal []Stretch
	// Jumps are, of each curve, the points before and behind every step of it.
	Jumps [2][][2]float64
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
// step in which their difference changes sign, becomes nothing or is nothing no
// more, and every step of a curve. The error is of type
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
	for i := range steps + 1 {
		out.Samples = append(out.Samples, both(lo+(hi-lo)*float64(i)/steps))
	}
	out.compare(both)
	for i := range out.Jumps {
		of := func(s Sample) float64 { return [2]float64{s.A, s.B}[i] }
		for k := 1; k < len(out.Samples); k++ {
			l, r := out.Samples[k-1], out.Samples[k]
			out.Jumps[i] = append(out.Jumps[i], jump(both, of, l, r)...)
		}
	}
	told := slices.ContainsFunc(out.Samples, func(s Sample) bool { return !math.IsNaN(s.A - s.B) })
	if !told && out.Unmade != "" {
		return BreakEven{}, joints.Faults{{Code: joints.FaultUnfit, Field: "break-even", Rule: "the alternatives cannot be compared anywhere: " + out.Unmade,
			Remedy: "choose another range"}}
	}
	return out, nil
}

// sign tells which alternative takes less: negative the first, 0 none; they are
// alike within rounding.
func (s Sample) sign() float64 {
	const rounding = 1e-9
	d := s.A - s.B
	if math.Abs(d) <= rounding*math.Max(math.Abs(s.A), math.Abs(s.B)) {
		return 0
	}
	return math.Copysign(1, d)
}

func (s Sample) known() bool { return !math.IsNaN(s.A - s.B) }

// compare walks over the samples and finds where the sign of the difference
// changes, and the stretches without one. Nothing is known across a gap.
func (b *BreakEven) compare(both func(float64) Sample) {
	var before Sample // the last one with a sign
	from, signed, level := 0.0, false, false
	end := func(to float64) {
		if to-from > b.grain() {
			b.Equal = append(b.Equal, Stretch{from, to})
		}
		level = false
	}
	for i, s := range b.Samples {
		if !s.known() {
			if level {
				end(b.Samples[i-1].At)
			}
			signed = false
			continue
		}
		last := i > 0 && b.Samples[i-1].known()
		switch sign := s.sign(); {
		case sign == 0 && !level:
			from, level = s.At, true
			if last {
				from = edge(both, s, b.Samples[i-1])
			}
		case sign == 0:
		case level:
			to := edge(both, b.Samples[i-1], s)
			if signed && before.sign()*sign < 0 {
				b.cross(from, to, before.sign() < 0)
			}
			end(to)
		case signed && before.sign()*sign < 0:
			c, equal := bisect(both, before, s)
			b.Crossings = append(b.Crossings, c)
			if equal.To-equal.From > b.grain() {
				b.Equal = append(b.Equal, equal)
			}
		}
		if s.sign() != 0 {
			before, signed = s, true
		}
	}
	if level {
		end(b.Samples[len(b.Samples)-1].At)
	}
}

// grain is the length below which a stretch is a point.
func (b *BreakEven) grain() float64 {
	return 1e-6 * (b.Samples[len(b.Samples)-1].At - b.Samples[0].At)
}

func (b *BreakEven) cross(from, to float64, firstBelow bool) {
	if to-from <= b.grain() {
		to = from
	}
	b.Crossings = append(b.Crossings, Crossing{At: from, To: to, FirstBelow: firstBelow})
}

// edge closes in from a sample at which both are alike on the end of the
// stretch that it lies in, on the way to one at which they are not.
func edge(both func(float64) Sample, level, other Sample) float64 {
	in, out := level.At, other.At
	for range halvings {
		m := both((in + out) / 2)
		if m.known() && m.sign() == 0 {
			in = m.At
		} else {
			out = m.At
		}
	}
	return in
}

// bisect closes in on the change of sign between two samples; equal is the
// stretch between them in which both are alike, if there is one.
func bisect(both func(float64) Sample, l, r Sample) (c Crossing, equal Stretch) {
	firstBelow := l.A < l.B
	for range halvings {
		m := both((l.At + r.At) / 2)
		switch {
		case !m.known():
			return Crossing{At: m.At, To: m.At, FirstBelow: firstBelow, Jump: true}, equal
		case m.sign() == 0:
			equal = Stretch{edge(both, m, l), edge(both, m, r)}
			if least := 1e-6 * math.Abs(m.At); equal.To-equal.From <= least {
				return Crossing{At: m.At, To: m.At, FirstBelow: firstBelow}, Stretch{}
			}
			return Crossing{At: equal.From, To: equal.To, FirstBelow: firstBelow}, equal
		case (m.sign() < 0) == firstBelow:
			l = m
		default:
			r = m
		}
	}
	size := math.Max(math.Abs(l.A), math.Abs(l.B))
	at := (l.At + r.At) / 2
	return Crossing{At: at, To: at, FirstBelow: firstBelow, Jump: math.Abs(l.A-l.B) > meeting*size || math.Abs(r.A-r.B) > meeting*size}, equal
}

// jump finds the step of a curve between two samples: halving by halving nearly
// all of the change stays in one half, which a curve without steps does not do.
// It returns the points before and behind, none where there is no step.
func jump(both func(float64) Sample, of func(Sample) float64, l, r Sample) [][2]float64 {
	const most = 0.75
	if math.IsNaN(of(l)) || math.IsNaN(of(r)) {
		return nil
	}
	for range halvings {
		whole := math.Abs(of(r) - of(l))
		m := both((l.At + r.At) / 2)
		left, right := math.Abs(of(m)-of(l)), math.Abs(of(r)-of(m))
		switch {
		case !(whole > meeting*math.Max(math.Abs(of(l)), math.Abs(of(r)))):
			return nil
		case left >= most*whole:
			r = m
		case right >= most*whole:
			l = m
		default:
			return nil
		}
	}
	return [][2]float64{{l.At, of(l)}, {r.At, of(r)}}
}

// Points are those of a curve, 0 or 1, with its steps, by rising value; NaN
// where it cannot be told.
func (b *BreakEven) Points(curve int) [][2]float64 {
	out := make([][2]float64, 0, len(b.Samples)+len(b.Jumps[curve]))
	jumps := b.Jumps[curve]
	for _, s := range b.Samples {
		for len(jumps) > 0 && jumps[0][0] <= s.At {
			out, jumps = append(out, jumps[0]), jumps[1:]
		}
		out = append(out, [2]float64{s.At, [2]float64{s.A, s.B}[curve]})
	}
	return append(out, jumps...)
}
