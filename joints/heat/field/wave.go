package field

import (
	"math"
	"math/cmplx"
	"runtime"
	"sync"
)

// Samples of the wavenumber along the weld, evenly spaced in its logarithm.
const (
	waveSamples = 132
	waveLow     = 1e-3 // rad/m: waves 6 km long
	waveHigh    = 4.5  // of 1/σ, where the source has nothing left to say
)

// wavenumbers solves a section of several metals: one complex system for each
// wavenumber along the weld, with exact fins.
func (m *Mesh) wavenumbers(run *run) *basis {
	s := m.assemble(false, 0)
	loads := run.vectors(m, s)
	high := waveHigh / run.spot
	ws := make([]float64, waveSamples)
	ratio := math.Log(high / waveLow)
	for i := range ws {
		ws[i] = waveLow * math.Exp(ratio*float64(i)/(waveSamples-1))
	}
	n := 2*len(ws) + 1
	all := make([]float64, len(loads)*n*s.n)
	u := make([][]float64, len(loads)*n)
	for i := range u {
		u[i], all = all[:s.n:s.n], all[s.n:]
	}
	prof := newProfile(s)
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), 8) {
		wg.Go(func() {
			solver := newWaveSolver(s, prof)
			x := make([]complex128, s.n)
			for i := range next {
				solver.prepare(ws[i], run.speed)
				damp := math.Exp(-0.5 * ws[i] * ws[i] * run.spot * run.spot)
				for l, f := range loads {
					for k := range x {
						x[k] = complex(f[k]*damp, 0)
					}
					solver.sky.solve(x)
					re, im := u[l*n+2*i], u[l*n+2*i+1]
					for k, z := range x {
						re[k], im[k] = real(z), imag(z)
					}
				}
			}
		})
	}
	for i := range ws {
		next <- i
	}
	close(next)
	wg.Wait()

	b := &basis{sys: s, u: u, w: waveWeights(ws, run.ahead), logs: run.logs, per: n}
	// A section without end cools to nothing far behind the arc. One that ends
	// everywhere keeps its heat: the pole at wavenumber zero adds half the
	// final rise, and the waves add or take the other half.
	final := make([]float64, len(run.ahead))
	if c := s.finite(); c > 0 {
		for j := range final {
			final[j] = 0.5 / (run.speed * c)
		}
	}
	b.w = append(b.w, final)
	for l := range loads {
		for k := range s.n {
			u[l*n+n-1][k] = 1
		}
	}
	return b
}

// finite is the heat capacity of a section that ends everywhere, J/K per
// metre, and 0 for one that goes on.
func (s *system) finite() float64 {
	c := sum(s.cap)
	for _, f := range s.fins {
		if math.IsInf(f.length, 1) {
			return 0
		}
		c += f.metal.HeatCapacity * f.thickness * f.length
	}
	return c
}

type waveSolver struct {
	s    *system
	sky  *skyline[complex128]
	diag []complex128
}

func newWaveSolver(s *system, p *profile) *waveSolver {
	return &waveSolver{s: s, sky: newSkyline(p, csqrt), diag: make([]complex128, s.n)}
}

// prepare factorises K + w²·along − i·w·v·cap with the fins added.
func (ws *waveSolver) prepare(w, speed float64) {
	for i := range ws.diag {
		ws.diag[i] = complex(w*w*ws.s.along[i], -w*speed*ws.s.cap[i])
	}
	for _, f := range ws.s.fins {
		ws.diag[f.dof] += f.admittance(w, speed)
	}
	ws.sky.load(ws.s, 1, ws.diag, func(x float64) complex128 { return complex(x, 0) })
	ws.sky.factor()
}

// admittance is the heat a fin takes per kelvin at its root.
func (f *finEnd) admittance(w, speed float64) complex128 {
	root := sideRoot(w, speed, f.metal)
	y := complex(f.metal.Conductivity*f.thickness, 0) * root
	if !math.IsInf(f.length, 1) {
		y *= tanh(root * complex(f.length, 0))
	}
	return y
}

// tanh does not overflow for long fins.
func tanh(z complex128) complex128 {
	e := cmplx.Exp(-2 * z)
	return (1 - e) / (1 + e)
}

// waveWeights turns samples over wavenumber, taken as linear between them,
// into the response at each place: (1/π)·Re ∫ T(w)·exp(i·w·x) dw.
func waveWeights(ws, ahead []float64) [][]float64 {
	rows := make([][]float64, 2*len(ws))
	for i := range rows {
		rows[i] = make([]float64, len(ahead))
	}
	for j, x := range ahead {
		// Below the first sample T goes as w^-½, whose integral is 2·w·T(w).
		rows[0][j] += 2 * ws[0] / math.Pi
		for i := range len(ws) - 1 {
			h := ws[i+1] - ws[i]
			th := x * h
			var i0, i1 complex128 // ∫ e^{iθt} dt and ∫ t·e^{iθt} dt over 0…1
			if math.Abs(th) < 1e-3 {
				i0, i1 = complex(1, th/2), complex(0.5, th/3)
			} else {
				e := cmplx.Exp(complex(0, th))
				d := complex(0, th)
				i0 = (e - 1) / d
				i1 = e/d - (e-1)/(d*d)
			}
			e := cmplx.Exp(complex(0, x*ws[i])) * complex(h/math.Pi, 0)
			a, b := e*(i0-i1), e*i1
			rows[2*i][j] += real(a)
			rows[2*i+1][j] -= imag(a)
			rows[2*i+2][j] += real(b)
			rows[2*i+3][j] -= imag(b)
		}
	}
	return rows
}

// LongRunShare is the part of the heat that is finally found in each region
// with its fins, for a source that spreads spot mm around aim: the limit of
// long waves along the weld.
func (m *Mesh) LongRunShare(src Source) ([]float64, error) {
	r, err := newRun(src, []float64{0}, 0)
	if err != nil {
		return nil, err
	}
	s := m.assemble(false, 0)
	r.sources = []Source{src}
	loads := r.vectors(m, s)
	if loads == nil {
		return nil, offFault()
	}
	const w = 1e-9 // rad/m; the share departs from its limit as √w
	solver := newWaveSolver(s, newProfile(s))
	solver.prepare(w, r.speed)
	x := make([]complex128, s.n)
	for i, f := range loads[0] {
		x[i] = complex(f, 0)
	}
	solver.sky.solve(x)
	heat := make([]complex128, len(m.metals))
	for r := range heat {
		for i, c := range s.heat[r] {
			heat[r] += complex(c, 0) * x[i]
		}
	}
	for _, f := range s.fins {
		// All heat in the fin: its flow in is the flow carried off by travel and
		// conduction along the weld.
		y := f.admittance(w, r.speed)
		root := sideRoot(w, r.speed, f.metal)
		heat[f.region] += complex(f.metal.HeatCapacity/f.metal.Conductivity, 0) * y / (root * root) * x[f.dof]
	}
	total := 0.0
	share := make([]float64, len(heat))
	for r, h := range heat {
		share[r] = cmplx.Abs(h)
		total += share[r]
	}
	for r := range share {
		share[r] /= total
	}
	return share, nil
}
