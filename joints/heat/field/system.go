package field

import (
	"math"
	"slices"
)

// system is the discrete section: conduction matrix, heat capacities, and what
// the fins add. Unknowns are numbered for a narrow profile.
type system struct {
	n   int
	row []int32
	col []int32
	k   []float64 // W/K per metre of weld
	cap []float64 // J/K per metre of weld
	// along is the conductance along the weld, W·m/K: conductivity times area.
	along []float64
	dof   []int32     // unknown of each mesh node
	heat  [][]float64 // of each region, its part of cap
	fins  []finEnd    // exact fins still to be added, for the wavenumber route
}

// finEnd is the unknown a fin hangs on.
type finEnd struct {
	dof       int32
	thickness float64
	metal     Metal
	length    float64
	region    int32
}

// finGrowth and finStart grade the elements of a fin: the first is half a
// plate thickness, each next a quarter longer.
const (
	finStart  = 0.5
	finGrowth = 1.25
)

// assemble builds the system. Fins are chains of elements out to at least far
// metres when explicit, and left to be added exactly otherwise.
func (m *Mesh) assemble(explicit bool, far float64) *system {
	s := &system{dof: make([]int32, len(m.nodes))}
	for i := range s.dof {
		s.dof[i] = none
	}
	for _, t := range m.ties {
		for _, v := range t.nodes {
			s.dof[v] = number(s.n)
		}
		s.n++
	}
	for i := range s.dof {
		if s.dof[i] == none {
			s.dof[i] = number(s.n)
			s.n++
		}
	}
	tri := make([]triplet, 0, 9*len(m.tris)+4*len(m.links)+256)
	regions := len(m.metals)
	capacity := make([][]float64, regions)
	grow := func(n int) {
		for r := range capacity {
			for len(capacity[r]) < n {
				capacity[r] = append(capacity[r], 0)
			}
		}
		for len(s.along) < n {
			s.along = append(s.along, 0)
		}
	}
	grow(s.n)
	for e, t := range m.tris {
		metal := m.metals[m.region[e]]
		p0, p1, p2 := m.nodes[t[0]], m.nodes[t[1]], m.nodes[t[2]]
		b := [3]float64{p1.Y - p2.Y, p2.Y - p0.Y, p0.Y - p1.Y}
		c := [3]float64{p2.X - p1.X, p0.X - p2.X, p1.X - p0.X}
		area := triangleArea(p0, p1, p2) // mm²; the matrix has no dimension in space
		f := metal.Conductivity / (4 * area)
		third := area * mm * mm / 3
		for i := range 3 {
			di := s.dof[t[i]]
			capacity[m.region[e]][di] += metal.HeatCapacity * third
			s.along[di] += metal.Conductivity * third
			for j := range 3 {
				tri = append(tri, triplet{di, s.dof[t[j]], f * (b[i]*b[j] + c[i]*c[j])})
			}
		}
	}
	pair := func(a, b int32, g float64) {
		tri = append(tri, triplet{a, a, g}, triplet{b, b, g}, triplet{a, b, -g}, triplet{b, a, -g})
	}
	for _, l := range m.links {
		pair(s.dof[l.a], s.dof[l.b], l.g)
	}
	for i, t := range m.ties {
		end := finEnd{number(i), t.thickness, t.metal, t.length, t.region}
		if !explicit {
			s.fins = append(s.fins, end)
			continue
		}
		reach := min(t.length, max(far, unboundedFn))
		at, x, h := number(i), 0.0, finStart*t.thickness
		for x < reach*(1-1e-12) {
			h = min(h*finGrowth, reach-x)
			if reach-x-h < 0.3*h {
				h = reach - x
			}
			next := number(s.n)
			s.n++
			grow(s.n)
			pair(at, next, t.metal.Conductivity*t.thickness/h)
			for _, d := range [2]int32{at, next} {
				capacity[t.region][d] += t.metal.HeatCapacity * t.thickness * h / 2
				s.along[d] += t.metal.Conductivity * t.thickness * h / 2
			}
			at, x = next, x+h
		}
	}
	s.compress(tri)
	s.number(capacity)
	return s
}

type triplet struct {
	i, j int32
	v    float64
}

// compress sorts the triplets into rows and sums doubles.
func (s *system) compress(tri []triplet) {
	start := make([]int32, s.n+1)
	for _, t := range tri {
		start[t.i+1]++
	}
	for i := range s.n {
		start[i+1] += start[i]
	}
	col, val := make([]int32, len(tri)), make([]float64, len(tri))
	fill := slices.Clone(start)
	for _, t := range tri {
		col[fill[t.i]], val[fill[t.i]] = t.j, t.v
		fill[t.i]++
	}
	s.row = make([]int32, s.n+1)
	s.col, s.k = col[:0], val[:0]
	where := make([]int32, s.n)
	for i := range where {
		where[i] = none
	}
	for i := range s.n {
		begin := number(len(s.col))
		for q := start[i]; q < start[i+1]; q++ {
			j, v := col[q], val[q]
			if w := where[j]; w >= begin {
				s.k[w] += v
				continue
			}
			where[j] = number(len(s.col))
			s.col, s.k = append(s.col, j), append(s.k, v)
		}
		s.row[i+1] = number(len(s.col))
	}
}

// number renumbers the unknowns by the reverse Cuthill–McKee order.
func (s *system) number(capacity [][]float64) {
	perm := s.cuthillMcKee()
	inv := make([]int32, s.n)
	for i, o := range perm {
		inv[o] = number(i)
	}
	row, col, k := make([]int32, s.n+1), make([]int32, len(s.col)), make([]float64, len(s.k))
	at := 0
	for i, o := range perm {
		for q := s.row[o]; q < s.row[o+1]; q++ {
			col[at], k[at] = inv[s.col[q]], s.k[q]
			at++
		}
		row[i+1] = number(at)
	}
	s.row, s.col, s.k = row, col, k
	shuffle := func(x []float64) []float64 {
		y := make([]float64, s.n)
		for i, o := range perm {
			y[i] = x[o]
		}
		return y
	}
	s.along = shuffle(s.along)
	s.cap = make([]float64, s.n)
	for _, c := range capacity {
		h := shuffle(c)
		s.heat = append(s.heat, h)
		for i, x := range h {
			s.cap[i] += x
		}
	}
	for i := range s.dof {
		s.dof[i] = inv[s.dof[i]]
	}
	for i := range s.fins {
		s.fins[i].dof = inv[s.fins[i].dof]
	}
}

// cuthillMcKee returns the old number of each new unknown.
func (s *system) cuthillMcKee() []int32 {
	degree := func(i int32) int32 { return s.row[i+1] - s.row[i] }
	level := make([]int32, s.n)
	done := make([]bool, s.n)
	var queue []int32
	// sweep orders the part that hangs on r and returns its depth.
	sweep := func(r int32) int32 {
		for _, v := range queue {
			level[v] = 0
		}
		queue = append(queue[:0], r)
		level[r] = 1
		for h := 0; h < len(queue); h++ {
			u := queue[h]
			from := len(queue)
			for _, w := range s.col[s.row[u]:s.row[u+1]] {
				if level[w] == 0 && !done[w] {
					level[w] = level[u] + 1
					queue = append(queue, w)
				}
			}
			slices.SortFunc(queue[from:], func(a, b int32) int {
				if d := degree(a) - degree(b); d != 0 {
					return int(d)
				}
				return int(a - b)
			})
		}
		return level[queue[len(queue)-1]]
	}
	order := make([]int32, 0, s.n)
	for i := range number(s.n) {
		if done[i] {
			continue
		}
		queue = queue[:0]
		root := i
		depth := sweep(root)
		for range 4 {
			far := queue[len(queue)-1]
			d := sweep(far)
			if d <= depth {
				break
			}
			depth = d
		}
		for _, v := range queue {
			done[v] = true
		}
		order = append(order, queue...)
	}
	slices.Reverse(order)
	return order
}

// mul sets y to K·x.
func (s *system) mul(x, y []float64) {
	for i := range s.n {
		t := 0.0
		for q := s.row[i]; q < s.row[i+1]; q++ {
			t += s.k[q] * x[s.col[q]]
		}
		y[i] = t
	}
}

func sum(x []float64) float64 {
	t := 0.0
	for _, v := range x {
		t += v
	}
	return t
}

// sideRoot is √(w² − i·w·v/a), the decay of wavenumber w into a plate.
func sideRoot(w, speed float64, m Metal) complex128 {
	return csqrt(complex(w*w, -w*speed/m.Diffusivity()))
}

func csqrt(z complex128) complex128 {
	r := math.Hypot(real(z), imag(z))
	re := math.Sqrt((r + real(z)) / 2)
	im := math.Sqrt(max(0, (r-real(z))/2))
	if imag(z) < 0 {
		im = -im
	}
	return complex(re, im)
}
