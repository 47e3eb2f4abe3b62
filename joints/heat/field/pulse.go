package field

import (
	"math"
)

// basis is a set of section vectors and, for each, its weight at every place
// along the weld: the response is Σ u·w. Both routes end in one.
type basis struct {
	sys *system
	u   [][]float64 // one vector of unknowns each
	w   [][]float64 // one weight for each place each
	// logs is the number of leading places that are evenly spaced in the
	// logarithm of the distance behind the arc.
	logs int
	per  int // u and w hold the vectors of this many samples; u of load l start at l*per
}

// The scheme in time. TR-BDF2 is second order and damps what it does not
// resolve; the step doubles after every block.
const (
	stepsPerBlock = 8
	mostSteps     = 4000
	firstStep     = 1. / 20 // of σ²/a
)

// pulse follows unit pulses, given as loads that sum to one, from t = 0 to end.
// It returns the times and for each load the vectors at those times.
func (s *system) pulse(loads [][]float64, first, end float64) (times []float64, u [][]float64) {
	n := 1
	for t, dt := 0.0, first; t < end && n < mostSteps; dt *= 2 {
		for k := 0; k < stepsPerBlock && t < end; k++ {
			t += dt
			n++
		}
	}
	all := make([]float64, len(loads)*n*s.n)
	for range len(loads) * n {
		u = append(u, all[:s.n:s.n])
		all = all[s.n:]
	}
	for l, f := range loads {
		for i := range s.n {
			u[l*n][i] = f[i] / s.cap[i]
		}
	}
	times = append(times, 0)
	fac := newSkyline[float64](newProfile(s), math.Sqrt)
	const g = 2 - math.Sqrt2
	const c1, c2 = 1 / (g * (2 - g)), (1 - g) * (1 - g) / (g * (2 - g))
	kx := make([]float64, s.n)
	mid := make([]float64, s.n)
	same := func(x float64) float64 { return x }
	t, dt := 0.0, first
	for len(times) < n {
		half := dt * g / 2
		fac.load(s, half, s.cap, same)
		fac.factor()
		for k := 0; k < stepsPerBlock && len(times) < n; k++ {
			j := len(times)
			for l := range loads {
				old, now := u[l*n+j-1], u[l*n+j]
				s.mul(old, kx)
				for i := range mid {
					mid[i] = s.cap[i]*old[i] - half*kx[i]
				}
				fac.solve(mid)
				for i := range now {
					now[i] = s.cap[i] * (c1*mid[i] - c2*old[i])
				}
				fac.solve(now)
			}
			t += dt
			times = append(times, t)
		}
		dt *= 2
	}
	return times, u
}

// Six-point Gauss–Legendre on [0, 1].
var (
	gaussX = [6]float64{0.033765242898423989, 0.169395306766867743, 0.380690406958401546,
		0.619309593041598454, 0.830604693233132257, 0.966234757101576011}
	gaussW = [6]float64{0.085662246189585173, 0.180380786524069304, 0.233956967286345524,
		0.233956967286345524, 0.180380786524069304, 0.085662246189585173}
)

// panel is how many standard deviations of the kernel one quadrature panel may
// span.
const panel = 3

// weights integrates the kernel of an arc moving at speed (m/s) over time: row
// k holds the weight of the vector at times[k] for each place of ahead (m).
// Between times the vectors are taken as linear.
func weights(times, ahead []float64, a, speed, spot float64) [][]float64 {
	w := make([][]float64, len(times))
	all := make([]float64, len(times)*len(ahead))
	for i := range w {
		w[i], all = all[:len(ahead):len(ahead)], all[len(ahead):]
	}
	for i := range len(times) - 1 {
		h := times[i+1] - times[i]
		n := int(math.Ceil(speed * h / (panel * math.Sqrt(2*a*times[i]+spot*spot))))
		n = max(1, min(n, 400))
		for b := range n {
			for q, x0 := range gaussX {
				x := (float64(b) + x0) / float64(n)
				t := times[i] + x*h
				variance := 4*a*t + 2*spot*spot
				c := h * gaussW[q] / float64(n) / math.Sqrt(math.Pi*variance)
				for j, z := range ahead {
					d := z + speed*t
					if e := d * d / variance; e < 45 {
						e = c * math.Exp(-e)
						w[i][j] += (1 - x) * e
						w[i+1][j] += x * e
					}
				}
			}
		}
	}
	return w
}

// productKernel solves a section of one metal.
func (m *Mesh) productKernel(metal Metal, run *run) *basis {
	a := metal.Diffusivity()
	end := run.end(a)
	s := m.assemble(true, 4*math.Sqrt(a*end))
	loads := run.vectors(m, s)
	times, u := s.pulse(loads, firstStep*run.spot*run.spot/a, end)
	return &basis{sys: s, u: u, w: weights(times, run.ahead, a, run.speed, run.spot), logs: run.logs, per: len(times)}
}
