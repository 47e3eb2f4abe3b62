package field

import (
	"math"
	"runtime"
	"sync"

	"fay/geometry"
	"fay/joints"
)

// Source is an arc: a Gaussian spot of heat, cut off at the rim of the section,
// that travels along the weld.
type Source struct {
	Aim   geometry.Point // where the spot's middle points, mm
	Spot  float64        // standard deviation, mm
	Speed float64        // mm/s
}

// run is one solution: several sources of one spot and speed.
type run struct {
	sources []Source
	points  []int // unit loads at nodes, after the sources
	spot    float64
	speed   float64   // m/s
	ahead   []float64 // m
	logs    int
}

func newRun(src Source, ahead []float64, logs int) (*run, error) {
	c := &checker{}
	c.point("aim", src.Aim)
	c.number("spot", src.Spot, SpotRange)
	c.number("speed", src.Speed, SpeedRange)
	if err := c.err(); err != nil {
		return nil, err
	}
	r := &run{sources: []Source{src}, spot: src.Spot * mm, speed: src.Speed * mm, logs: logs}
	for _, x := range ahead {
		r.ahead = append(r.ahead, x*mm)
	}
	return r, nil
}

func offFault() error {
	return joints.Faults{{Code: joints.FaultGeometry, Field: "aim", Rule: "the arc misses the section",
		Remedy: "aim at the weld"}}
}

// end is the time after which a pulse no longer matters, s.
func (r *run) end(a float64) float64 {
	back := 0.0
	for _, x := range r.ahead {
		back = max(back, -x)
	}
	// exp(−v²t/4a) has fallen to e^-25, and so has the kernel at the place
	// farthest back.
	t := 100*a/(r.speed*r.speed) + 2*back/r.speed
	return max(60, min(t, 1e6))
}

// vectors turns the sources into loads that sum to one; nil when a source
// misses the section.
func (r *run) vectors(m *Mesh, s *system) [][]float64 {
	var loads [][]float64
	for _, src := range r.sources {
		f := m.spread(s, src)
		total := sum(f)
		if !(total > 0) {
			return nil
		}
		for i := range f {
			f[i] /= total
		}
		loads = append(loads, f)
	}
	for _, v := range r.points {
		f := make([]float64, s.n)
		f[s.dof[v]] = 1
		loads = append(loads, f)
	}
	return loads
}

// spotReach is where the spot ends, in standard deviations.
const spotReach = 7

// spotPoints are the centroids of nine equal parts of a triangle.
var spotPoints = func() (q [][3]float64) {
	const n = 3
	for i := range n {
		for j := range n - i {
			add := func(d float64) {
				x, y := (float64(i)+d)/n, (float64(j)+d)/n
				q = append(q, [3]float64{1 - x - y, x, y})
			}
			add(1. / 3)
			if i+j < n-1 {
				add(2. / 3)
			}
		}
	}
	return q
}()

// spread integrates the spot over the triangles.
func (m *Mesh) spread(s *system, src Source) []float64 {
	f := make([]float64, s.n)
	reach := spotReach * src.Spot
	for _, t := range m.tris {
		p := [3]geometry.Point{m.nodes[t[0]], m.nodes[t[1]], m.nodes[t[2]]}
		box := geometry.BoxOf(p[0], p[1], p[2]).Grow(reach)
		if !box.Contains(src.Aim) {
			continue
		}
		area := triangleArea(p[0], p[1], p[2]) / float64(len(spotPoints))
		for _, w := range spotPoints {
			x := w[0]*p[0].X + w[1]*p[1].X + w[2]*p[2].X - src.Aim.X
			y := w[0]*p[0].Y + w[1]*p[1].Y + w[2]*p[2].Y - src.Aim.Y
			g := area * math.Exp(-(x*x+y*y)/(2*src.Spot*src.Spot))
			for k := range 3 {
				f[s.dof[t[k]]] += w[k] * g
			}
		}
	}
	return f
}

// solve runs the route the metals call for.
func (m *Mesh) solve(r *run) *basis {
	if metal, ok := m.uniform(); ok {
		return m.productKernel(metal, r)
	}
	return m.wavenumbers(r)
}

func identity(n int) []int32 {
	x := make([]int32, n)
	for i := range x {
		x[i] = int32(i)
	}
	return x
}

// hits reports whether the spot touches the section.
func (m *Mesh) hits(src Source) bool {
	s := &system{n: len(m.nodes), dof: identity(len(m.nodes))}
	return sum(m.spread(s, src)) > 0
}

// behind are the places, mm along the weld, at which peaks are looked for:
// evenly spaced in the logarithm behind the arc, then some ahead.
func (m *Mesh) behind(src Source) (ahead []float64, logs int) {
	fast, slow := 0.0, math.Inf(1) // mm²/s
	for _, x := range m.metals {
		fast, slow = max(fast, x.Diffusivity()/(mm*mm)), min(slow, x.Diffusivity()/(mm*mm))
	}
	box := geometry.EmptyBox()
	for _, p := range m.nodes {
		box = box.Expand(p)
	}
	radius := 0.5 * max(box.Width(), box.Height())
	// Far enough back for heat to reach the rim of the mesh.
	near := 0.05 * src.Spot
	far := max(100, 20*fast/src.Speed, min(src.Speed*radius*radius/(2*slow), 3000))
	const logSamples = 60
	logs = logSamples
	for i := range logs {
		ahead = append(ahead, -near*math.Exp(math.Log(far/near)*float64(i)/float64(logs-1)))
	}
	return append(ahead, 0, src.Spot/3, src.Spot*2/3, src.Spot*4/3), logs
}

// Response is the rise of a section under a travelling arc, K/W. It scales with
// the net power.
type Response struct {
	mesh *Mesh
	b    *basis
	// Ahead are the places along the weld at which the response is known, mm.
	Ahead []float64
	peak  []float64 // of each unknown
}

// Solve computes the response of the section to an arc.
func (m *Mesh) Solve(src Source) (*Response, error) {
	ahead, logs := []float64(nil), 0
	if c := (&checker{}); c.number("spot", src.Spot, SpotRange) && c.number("speed", src.Speed, SpeedRange) {
		ahead, logs = m.behind(src)
	}
	return m.solveAt(src, ahead, logs)
}

func (m *Mesh) solveAt(src Source, ahead []float64, logs int) (*Response, error) {
	r, err := newRun(src, ahead, logs)
	if err != nil {
		return nil, err
	}
	if !m.hits(src) {
		return nil, offFault()
	}
	b := m.solve(r)
	return &Response{mesh: m, b: b, Ahead: ahead, peak: b.peaks(0)}, nil
}

// Mesh is the mesh of the response.
func (r *Response) Mesh() *Mesh { return r.mesh }

// Unknowns is the number of unknowns of the system solved.
func (r *Response) Unknowns() int { return r.b.sys.n }

// Peak is the highest rise a node sees as the arc passes, K/W.
func (r *Response) Peak(node int) float64 { return r.peak[r.b.sys.dof[node]] }

// PeakAt is the highest rise at a point, between nodes by linear interpolation.
func (r *Response) PeakAt(p geometry.Point) float64 {
	t, w := r.mesh.Locate(p)
	x := 0.0
	for k, v := range r.mesh.tris[t] {
		x += w[k] * r.Peak(int(v))
	}
	return x
}

// Curve is the rise of a node at each place of Ahead, K/W.
func (r *Response) Curve(node int) []float64 {
	out := make([]float64, len(r.Ahead))
	d := r.b.sys.dof[node]
	for k := range r.b.per {
		u := r.b.u[k][d]
		for j, w := range r.b.w[k] {
			out[j] += u * w
		}
	}
	return out
}

// HeatPerLength is the heat in each region and the plates beyond its cuts at
// each place of Ahead, J/m per watt; for one metal only, empty otherwise.
func (r *Response) HeatPerLength() [][]float64 {
	if len(r.b.sys.fins) > 0 {
		return nil
	}
	out := make([][]float64, len(r.b.sys.heat))
	for g, h := range r.b.sys.heat {
		out[g] = make([]float64, len(r.Ahead))
		for k := range r.b.per {
			x := 0.0
			for i, c := range h {
				x += c * r.b.u[k][i]
			}
			for j, w := range r.b.w[k] {
				out[g][j] += x * w
			}
		}
	}
	return out
}

// blockSize unknowns are summed together, so that their rows stay in cache.
const blockSize = 48

// peaks is the highest rise of every unknown for one load.
func (b *basis) peaks(load int) []float64 {
	n := b.sys.n
	peak := make([]float64, n)
	u := b.u[load*b.per : (load+1)*b.per]
	places := len(b.w[0])
	// Rows of weights are mostly zero: keep the part that is not.
	lo, hi := make([]int, len(b.w)), make([]int, len(b.w))
	for k, w := range b.w {
		for lo[k] < places && w[lo[k]] == 0 {
			lo[k]++
		}
		for hi[k] = places; hi[k] > lo[k] && w[hi[k]-1] == 0; hi[k]-- {
		}
	}
	var wg sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), 8)
	for p := range workers {
		wg.Go(func() {
			acc := make([]float64, blockSize*places)
			for from := p * blockSize; from < n; from += workers * blockSize {
				to := min(from+blockSize, n)
				clear(acc)
				for k := range u {
					w := b.w[k][lo[k]:hi[k]]
					if len(w) == 0 {
						continue
					}
					for i, x := range u[k][from:to] {
						row := acc[i*places+lo[k] : i*places+hi[k]]
						row = row[:len(w)]
						for j := range w {
							row[j] += x * w[j]
						}
					}
				}
				for i := from; i < to; i++ {
					peak[i] = highest(acc[(i-from)*places:(i-from+1)*places], b.logs)
				}
			}
		})
	}
	wg.Wait()
	return peak
}

// highest is the largest value of a row, never below zero. Inside the evenly
// spaced part a parabola through the neighbours finds the top between samples.
func highest(row []float64, logs int) float64 {
	best, at := 0.0, -1
	for j, x := range row {
		if x > best {
			best, at = x, j
		}
	}
	if at > 0 && at < logs-1 {
		l, r := row[at-1], row[at+1]
		if bend := l - 2*best + r; bend < 0 {
			best += (r - l) * (r - l) / (-8 * bend)
		}
	}
	return best
}
