package fitup

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sort"
	"strconv"
	"sync"

	"fay/geometry"
	"fay/joints"
)

// Requirement is what a weld must reach.
type Requirement struct {
	Weld   string          // empty: the weakest weld of the joint
	Throat geometry.Length // effective throat asked for; zero asks for that of the plan at worst-case nominal
}

// Contribution is one toleranced value's part in the spread of the throat.
type Contribution struct {
	Name        string
	Plus, Minus float64 // in mm or degrees, Minus negative or zero
	Unit        joints.Unit
	// Slope is the change of throat per unit at the nominal value.
	Slope float64
	// Share of the variance of the throat, 0 to 1.
	Share float64
}

// Analysis says how the throat spreads when the toleranced values do.
type Analysis struct {
	Weld     string
	Nominal  geometry.Length // effective throat of the plan
	Required geometry.Length
	// WorstLow and WorstHigh are the extremes over all corners of the tolerances.
	WorstLow, WorstHigh geometry.Length
	// RSSLow and RSSHigh take the half-ranges together by root of sum of squares.
	RSSLow, RSSHigh geometry.Length
	// The same of the deposited area, mm².
	NominalArea                 float64
	WorstAreaLow, WorstAreaHigh float64
	RSSAreaLow, RSSAreaHigh     float64
	Samples                     int
	Seed                        uint64
	Short                       int     // samples under the requirement
	Unbuildable                 int     // samples that make no weld at all; they count as short
	ShareShort                  float64 // Short over Samples
	ShareLow                    float64 // 95 % interval of the share
	ShareHigh                   float64
	Contributions               []Contribution // largest share first
}

// Options of an analysis. Values are drawn evenly over their tolerance, which
// assumes nothing of the shop; Samples and Seed default to 100 000 and 1.
type Options struct {
	Require Requirement
	Samples int
	Seed    uint64
}

// maxCorners bounds the corners of the worst case: beyond it the extremes are
// taken one value at a time.
const maxCorners = 12

// spread is one toleranced value: where it is in the input and how far it goes.
type spread struct {
	name        string
	lo, hi      float64 // in mm or radians
	nominal     float64
	unit        joints.Unit
	weld        string // whose value it is; empty for the joint's
	apply       func(*bench, float64)
	plus, minus float64
}

// MostSamples bounds the work of an analysis.
const MostSamples = 10_000_000

// usual number of samples: the 95 % interval of a share is then within 0.3 %.
const usualSamples = 100_000

func (o *Options) check() error {
	var faults joints.Faults
	if o.Samples < 0 || o.Samples > MostSamples {
		faults = append(faults, joints.Fault{Code: joints.FaultRange, Field: "samples", Value: strconv.Itoa(o.Samples),
			Rule: "must lie between 1 and " + strconv.Itoa(MostSamples), Remedy: "leave it out for " + strconv.Itoa(usualSamples)})
	}
	least, most := length(joints.LegRange.Min), length(joints.LegRange.Max)
	if t := o.Require.Throat; t != 0 && !(t >= least && t <= most) {
		faults = append(faults, joints.Fault{Code: joints.FaultRange, Field: "throat", Value: show(t),
			Rule: "must lie between " + show(least) + " and " + show(most), Remedy: "leave it out for that of the plan"})
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

func show(l geometry.Length) string { return strconv.FormatFloat(float64(l), 'g', 6, 64) + " mm" }

// Analyse varies every toleranced value of a joint. The bool is false where
// nothing is toleranced. The error, if any, is of type [joints.Faults].
func Analyse(in joints.Input, o Options) (Analysis, bool, error) {
	plan, err := joints.Build(in)
	if err != nil {
		return Analysis{}, false, err
	}
	if err := o.check(); err != nil {
		return Analysis{}, false, err
	}
	if o.Samples == 0 {
		o.Samples = usualSamples
	}
	if o.Seed == 0 {
		o.Seed = 1
	}
	a := Analysis{Weld: o.Require.Weld, Samples: o.Samples, Seed: o.Seed, Required: o.Require.Throat}
	if a.Weld == "" {
		a.Weld = weakest(&plan)
	}
	w, ok := plan.Weld(a.Weld)
	if !ok {
		return Analysis{}, false, unknownWeld(a.Weld, plan.Welds)
	}
	model := benchFor(in, plan.Welds, w)
	spreads := toleranced(in)
	spreads = slices.DeleteFunc(spreads, func(s spread) bool {
		_, here := model.in.Welds[s.weld]
		return s.weld != "" && !here // what happens to a weld apart does nothing to this one
	})
	if len(spreads) == 0 {
		return Analysis{}, false, nil
	}
	a.Nominal, a.NominalArea = w.EffectiveThroat, w.DepositedArea
	if a.Required == 0 {
		a.Required = a.Nominal
	}
	// Each goroutine works at a bench of its own.
	worker := func() sizesOf {
		b := newBench(model.in)
		b.pin(plan.Welds)
		return func(values []float64) (sizes, bool) {
			for i := range spreads {
				spreads[i].apply(b, values[i])
			}
			got, err := b.weld(a.Weld)
			return sizes{float64(got.EffectiveThroat), got.DepositedArea}, err == nil
		}
	}
	a.corners(spreads, worker())
	a.squares(spreads, worker())
	a.sample(spreads, worker)
	return a, true, nil
}

// sizes are what tolerances spread: effective throat, and deposited area in mm².
type sizes struct{ throat, area float64 }

// sizesOf gives the sizes with the toleranced values as given; the bool is
// false where they make no weld.
type sizesOf func(values []float64) (sizes, bool)

func weakest(s *joints.Section) string {
	best := 0
	for i := range s.Welds {
		if s.Welds[i].EffectiveThroat < s.Welds[best].EffectiveThroat {
			best = i
		}
	}
	return s.Welds[best].ID
}

// toleranced lists the values with a tolerance, in a fixed order.
func toleranced(in joints.Input) []spread {
	kind, _ := joints.LookupKind(in.Kind)
	var out []spread
	add := func(s spread, p *joints.Param, v joints.Value) {
		if v.Tolerance == nil || (v.Tolerance.Plus == 0 && v.Tolerance.Minus == 0) || len(v.List) > 0 {
			return
		}
		scale := 1.0
		s.unit = joints.UnitMM
		if p.Type == joints.ParamAngle || p.Type == joints.ParamAngles {
			scale, s.unit = float64(geometry.Degree), joints.UnitDegree
		}
		s.nominal, s.plus, s.minus = v.Number, v.Tolerance.Plus, v.Tolerance.Minus
		// A gap of 0.2 ±0.5 does not become negative.
		s.lo = math.Max(v.Number+scale*s.minus, math.Min(p.Limits.Min, v.Number))
		s.hi = v.Number + scale*s.plus
		out = append(out, s)
	}
	thickness := joints.Param{Type: joints.ParamLength, Limits: joints.ThicknessRange}
	for _, m := range kind.Members {
		add(spread{name: m.Name + ".thickness", apply: func(b *bench, v float64) { b.setThickness(m.Name, v) }},
			&thickness, in.Plates[m.Name].Thickness)
	}
	for i := range kind.Params {
		p := &kind.Params[i]
		add(spread{name: p.Name, apply: func(b *bench, v float64) { b.set(p.Name, v) }}, p, in.Values[p.Name])
	}
	for _, slot := range kind.Welds {
		for i := range slot.Params {
			p := &slot.Params[i]
			v, given := in.Welds[slot.ID][p.Name]
			if !given || p.Name == "throat" || p.Name == "gauge-leg" {
				continue // a throat is the aim, not what the hand does
			}
			apply := func(b *bench, v float64) { b.setWeld(slot.ID, p.Name, v) }
			if p.Name == "leg" {
				apply = func(b *bench, v float64) { b.setLegs(slot.ID, v, v) }
			}
			add(spread{name: "welds." + slot.ID + "." + p.Name, weld: slot.ID, apply: apply}, p, v)
		}
	}
	return out
}

// corners finds the worst case over every corner of the tolerances.
func (a *Analysis) corners(spreads []spread, at sizesOf) {
	low, high := sizes{float64(a.Nominal), a.NominalArea}, sizes{float64(a.Nominal), a.NominalArea}
	see := func(values []float64) {
		got, ok := at(values)
		// A corner that makes no weld leaves no throat.
		low.throat, high.throat = math.Min(low.throat, got.throat), math.Max(high.throat, got.throat)
		if ok {
			low.area, high.area = math.Min(low.area, got.area), math.Max(high.area, got.area)
		}
	}
	n := len(spreads)
	values := make([]float64, n)
	if n <= maxCorners {
		for bits := range 1 << n {
			for i, s := range spreads {
				values[i] = s.lo
				if bits>>i&1 == 1 {
					values[i] = s.hi
				}
			}
			see(values)
		}
	} else {
		for i := range spreads {
			for j, s := range spreads {
				values[j] = s.nominal
			}
			for _, v := range [2]float64{spreads[i].lo, spreads[i].hi} {
				values[i] = v
				see(values)
			}
		}
	}
	a.WorstLow, a.WorstHigh = length(low.throat), length(high.throat)
	a.WorstAreaLow, a.WorstAreaHigh = low.area, high.area
}

// squares takes each value alone to both its ends and adds the half-ranges by
// root of sum of squares.
func (a *Analysis) squares(spreads []spread, at sizesOf) {
	values := make([]float64, len(spreads))
	for i, s := range spreads {
		values[i] = s.nominal
	}
	nominal := sizes{float64(a.Nominal), a.NominalArea}
	mid, sum := nominal, sizes{}
	parts := make([]float64, len(spreads))
	for i, s := range spreads {
		end := func(v float64) sizes {
			values[i] = v
			got, ok := at(values)
			values[i] = s.nominal
			if !ok {
				return nominal
			}
			return got
		}
		up, down := end(s.hi), end(s.lo)
		half := (up.throat - down.throat) / 2
		mid.throat += (up.throat+down.throat)/2 - nominal.throat
		mid.area += (up.area+down.area)/2 - nominal.area
		parts[i] = half * half
		sum.throat += parts[i]
		sum.area += (up.area - down.area) * (up.area - down.area) / 4
		slope := 0.0
		if s.hi > s.lo {
			slope = (up.throat - down.throat) / (s.hi - s.lo)
			if s.unit == joints.UnitDegree {
				slope *= float64(geometry.Degree)
			}
		}
		a.Contributions = append(a.Contributions, Contribution{Name: s.name, Plus: s.plus, Minus: s.minus, Unit: s.unit, Slope: slope})
	}
	for i := range a.Contributions {
		if sum.throat > 0 {
			a.Contributions[i].Share = parts[i] / sum.throat
		}
	}
	sort.SliceStable(a.Contributions, func(i, j int) bool { return a.Contributions[i].Share > a.Contributions[j].Share })
	a.RSSLow = length(math.Max(0, mid.throat-math.Sqrt(sum.throat)))
	a.RSSHigh = length(mid.throat + math.Sqrt(sum.throat))
	a.RSSAreaLow, a.RSSAreaHigh = math.Max(0, mid.area-math.Sqrt(sum.area)), mid.area+math.Sqrt(sum.area)
}

// blockSize is how many samples share one random stream: results do not depend
// on the number of workers.
const blockSize = 1000

// sample draws joints and counts those that fall short.
func (a *Analysis) sample(spreads []spread, worker func() sizesOf) {
	blocks := (a.Samples + blockSize - 1) / blockSize
	short := make([]int, blocks)
	unbuilt := make([]int, blocks)
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			at := worker()
			values := make([]float64, len(spreads))
			for b := range next {
				r := rand.New(rand.NewPCG(a.Seed, uint64(b))) //nolint:gosec // blocks count from zero, and this is no secret
				for i := b * blockSize; i < min((b+1)*blockSize, a.Samples); i++ {
					for j, s := range spreads {
						values[j] = s.lo + (s.hi-s.lo)*r.Float64()
					}
					got, ok := at(values)
					if !ok {
						unbuilt[b]++
					}
					// A joint exactly on the requirement meets it.
					if got.throat < float64(a.Required)-enough {
						short[b]++
					}
				}
			}
		})
	}
	for b := range blocks {
		next <- b
	}
	close(next)
	wg.Wait()
	for b := range blocks {
		a.Short += short[b]
		a.Unbuildable += unbuilt[b]
	}
	a.ShareShort = float64(a.Short) / float64(a.Samples)
	a.ShareLow, a.ShareHigh = wilson(a.Short, a.Samples)
}

// wilson is the 95 % score interval of a share (E. B. Wilson, Journal of the
// American Statistical Association 22, 1927, p. 209; from memory, unverified).
func wilson(k, n int) (low, high float64) {
	const z = 1.959963984540054
	p, m := float64(k)/float64(n), float64(n)
	mid := (p + z*z/(2*m)) / (1 + z*z/m)
	half := z / (1 + z*z/m) * math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	return math.Max(0, mid-half), math.Min(1, mid+half)
}
