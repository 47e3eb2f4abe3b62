package field

// scalar is what a system is solved in: real for the pulse, complex for a
// wavenumber.
type scalar interface{ float64 | complex128 }

// profile is the shape of a symmetric matrix stored by rows from the first
// non-zero column to the diagonal; factorising does not leave it.
type profile struct {
	n     int
	first []int32
	ptr   []int
}

func newProfile(s *system) *profile {
	p := &profile{n: s.n, first: make([]int32, s.n), ptr: make([]int, s.n+1)}
	for i := range s.n {
		f := int32(i)
		for _, j := range s.col[s.row[i]:s.row[i+1]] {
			f = min(f, j)
		}
		p.first[i] = f
		p.ptr[i+1] = p.ptr[i] + i - int(f) + 1
	}
	return p
}

// skyline is the factor L of a symmetric matrix L·Lᵀ (no conjugation), with
// the reciprocal of the diagonal in its place.
type skyline[T scalar] struct {
	*profile
	v    []T
	sqrt func(T) T
}

func newSkyline[T scalar](p *profile, sqrt func(T) T) *skyline[T] {
	return &skyline[T]{profile: p, v: make([]T, p.ptr[p.n]), sqrt: sqrt}
}

// load fills in scale·K + diag.
func (s *skyline[T]) load(k *system, scale T, diag []T, from func(float64) T) {
	clear(s.v)
	for i := range s.n {
		row := s.v[s.ptr[i]:s.ptr[i+1]]
		f := s.first[i]
		for q := k.row[i]; q < k.row[i+1]; q++ {
			if j := k.col[q]; int(j) <= i {
				row[j-f] += scale * from(k.k[q])
			}
		}
		row[len(row)-1] += diag[i]
	}
}

// factor replaces the matrix by its factor.
func (s *skyline[T]) factor() {
	for i := range s.n {
		fi := int(s.first[i])
		ri := s.v[s.ptr[i]:s.ptr[i+1]]
		for j := fi; j < i; j++ {
			fj := int(s.first[j])
			lo := max(fi, fj)
			a := ri[lo-fi : j-fi]
			b := s.v[s.ptr[j]+lo-fj : s.ptr[j]+j-fj]
			ri[j-fi] = (ri[j-fi] - dot(a, b)) * s.v[s.ptr[j+1]-1]
		}
		last := len(ri) - 1
		ri[last] = 1 / s.sqrt(ri[last]-dot(ri[:last], ri[:last]))
	}
}

// dot sums in four strands, which keeps the processor's adders busy.
func dot[T scalar](a, b []T) T {
	b = b[:len(a)]
	var t0, t1, t2, t3 T
	q := 0
	for ; q+4 <= len(a); q += 4 {
		t0 += a[q] * b[q]
		t1 += a[q+1] * b[q+1]
		t2 += a[q+2] * b[q+2]
		t3 += a[q+3] * b[q+3]
	}
	for ; q < len(a); q++ {
		t0 += a[q] * b[q]
	}
	return t0 + t1 + t2 + t3
}

// solve replaces x by the solution.
func (s *skyline[T]) solve(x []T) {
	for i := range s.n {
		r := s.v[s.ptr[i]:s.ptr[i+1]]
		last := len(r) - 1
		x[i] = (x[i] - dot(r[:last], x[s.first[i]:i])) * r[last]
	}
	for i := s.n - 1; i >= 0; i-- {
		r := s.v[s.ptr[i]:s.ptr[i+1]]
		last := len(r) - 1
		x[i] *= r[last]
		t := x[i]
		xx := x[s.first[i]:i]
		r = r[:len(xx)]
		for q := range xx {
			xx[q] -= r[q] * t
		}
	}
}
