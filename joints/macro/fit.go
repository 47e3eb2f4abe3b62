package macro

import (
	"math"

	"fay/geometry"
)

// straight is a line through points: a point on it and its direction.
type straight struct {
	at, dir geometry.Point
	rms     float64 // of the points' distances from it
}

// fitLine is the line with the least sum of squared distances. Points that
// all coincide give no direction.
func fitLine(points []geometry.Point) (straight, bool) {
	var c geometry.Point
	for _, p := range points {
		c = c.Add(p.Scale(1 / float64(len(points))))
	}
	var xx, yy, xy float64
	for _, p := range points {
		d := p.Sub(c)
		xx, yy, xy = xx+d.X*d.X, yy+d.Y*d.Y, xy+d.X*d.Y
	}
	if !(xx+yy > 0) {
		return straight{}, false
	}
	l := straight{at: c, dir: geometry.Polar(1, geometry.Angle(math.Atan2(2*xy, xx-yy)/2))}
	sum := 0.0
	for _, p := range points {
		d := l.dir.Cross(p.Sub(c))
		sum += d * d
	}
	l.rms = math.Sqrt(sum / float64(len(points)))
	return l, true
}

// meet intersects two lines; false where they are nearly parallel.
func meet(a, b straight) (geometry.Point, bool) {
	const least = 0.05 // sine of about 3°: flatter than any fillet
	den := a.dir.Cross(b.dir)
	if math.Abs(den) < least {
		return geometry.Point{}, false
	}
	return a.at.Add(a.dir.Scale(b.at.Sub(a.at).Cross(b.dir) / den)), true
}

// round is a circle or a straight line, kept without a centre so that a flat
// face is an ordinary number: curvature κ and, at mid-chord m with unit vectors
// e along and n square to the chord, the points (u, v) with
//
//	κ/2·(u² + v² − c²/4) + (1 − hκ)·v = 0,  κ = 8h/(c² + 4h²),
//
// where c is the chord and h the sagitta on the side of n.
type round struct {
	m, e, n geometry.Point
	c, h, k float64
	rms     float64
}

// throughEnds is the circle through a and b with sagitta h to the left of a→b.
func throughEnds(a, b geometry.Point, h float64) round {
	v := b.Sub(a)
	c := v.Norm()
	return round{m: a.Lerp(b, 0.5), e: v.Unit(), n: v.Unit().Perp(), c: c, h: h, k: 8 * h / (c*c + 4*h*h)}
}

// distance is the signed distance of p from the circle.
func (r *round) distance(p geometry.Point) float64 {
	d := p.Sub(r.m)
	u, v := d.Dot(r.e), d.Dot(r.n)
	f := r.k/2*(u*u+v*v-r.c*r.c/4) + (1-r.h*r.k)*v
	return 2 * f / (1 + math.Sqrt(math.Max(0, 1+2*r.k*f)))
}

// onLine returns the point of the circle on the line through p along the unit
// vector dir that is nearest to near; where the line passes by, the point of the
// line nearest to the circle and how far that is.
func (r *round) onLine(p, dir, near geometry.Point) (q geometry.Point, miss float64) {
	d := p.Sub(r.m)
	u, v := d.Dot(r.e), d.Dot(r.n)
	du, dv := dir.Dot(r.e), dir.Dot(r.n)
	// a·s² + 2b·s + c = 0
	a := r.k / 2
	b := r.k/2*(u*du+v*dv) + (1-r.h*r.k)*dv/2
	c := r.k/2*(u*u+v*v-r.c*r.c/4) + (1-r.h*r.k)*v
	want := near.Sub(p).Dot(dir)
	disc := b*b - a*c
	if disc < 0 {
		// Nearest approach: where the derivative along the line vanishes.
		q = p.Add(dir.Scale(-b / a))
		return q, math.Abs(r.distance(q))
	}
	t := -(b + math.Copysign(math.Sqrt(disc), b))
	best, found := 0.0, false
	if t != 0 {
		best, found = c/t, true
	}
	if a != 0 {
		if s := t / a; !found || math.Abs(s-want) < math.Abs(best-want) {
			best, found = s, true
		}
	}
	if !found || math.IsInf(best, 0) || math.IsNaN(best) {
		return near, math.Inf(1)
	}
	return p.Add(dir.Scale(best)), 0
}

// fitRound is the circle with the least sum of squared distances from three
// points or more in order along it, by damped Gauss–Newton steps on the
// heights of its two ends and its sagitta. False where the ends coincide.
func fitRound(points []geometry.Point) (round, bool) {
	first, last := points[0], points[len(points)-1]
	chord := last.Sub(first)
	c := chord.Norm()
	if !(c > 0) {
		return round{}, false
	}
	n := chord.Unit().Perp()
	at := func(x [3]float64) round {
		return throughEnds(first.Add(n.Scale(x[0]*c)), last.Add(n.Scale(x[1]*c)), x[2]*c)
	}
	cost := func(x [3]float64) float64 {
		r, sum := at(x), 0.0
		for _, p := range points {
			d := r.distance(p)
			sum += d * d
		}
		return sum
	}
	x := [3]float64{2: startRise(points, first, chord, n) / c}
	best := cost(x)
	damping := 1e-3
	for range 200 {
		step, ok := gaussNewton(points, at, x, c, damping)
		if !ok {
			break
		}
		next := [3]float64{x[0] + step[0], x[1] + step[1], x[2] + step[2]}
		if v := cost(next); v < best {
			x, best, damping = next, v, damping/10
		} else if damping *= 10; damping > 1e12 {
			break
		}
		if math.Abs(step[0])+math.Abs(step[1])+math.Abs(step[2]) < 1e-15 {
			break
		}
	}
	r := at(x)
	r.rms = math.Sqrt(best / float64(len(points)))
	return r, true
}

// startRise is the sagitta of the parabola that fits best over the chord.
func startRise(points []geometry.Point, first, chord, n geometry.Point) float64 {
	var num, den float64
	for _, p := range points {
		t := p.Sub(first).Dot(chord) / chord.Dot(chord)
		w := 4 * t * (1 - t)
		num, den = num+w*p.Sub(first).Dot(n), den+w*w
	}
	if den == 0 {
		return 0
	}
	limit := chord.Norm() / 2
	return math.Max(-limit, math.Min(limit, num/den))
}

// gaussNewton is one step of the three parameters, derivatives by central
// differences.
func gaussNewton(points []geometry.Point, at func([3]float64) round, x [3]float64, c, damping float64) (step [3]float64, ok bool) {
	const h = 1e-6
	var up, down [3]round
	for j := range x {
		a, b := x, x
		a[j], b[j] = a[j]+h, b[j]-h
		up[j], down[j] = at(a), at(b)
	}
	mid := at(x)
	var m [3][4]float64
	for _, p := range points {
		d := mid.distance(p) / c
		var g [3]float64
		for j := range g {
			g[j] = (up[j].distance(p) - down[j].distance(p)) / (2 * h * c)
		}
		for i := range g {
			for j := range g {
				m[i][j] += g[i] * g[j]
			}
			m[i][3] -= g[i] * d
		}
	}
	for i := range m {
		m[i][i] *= 1 + damping
	}
	return solve3(m)
}

// solve3 solves three equations by elimination with pivots.
func solve3(m [3][4]float64) (x [3]float64, ok bool) {
	for i := range m {
		p := i
		for j := i + 1; j < 3; j++ {
			if math.Abs(m[j][i]) > math.Abs(m[p][i]) {
				p = j
			}
		}
		m[i], m[p] = m[p], m[i]
		if !(math.Abs(m[i][i]) > 1e-300) {
			return x, false
		}
		for j := i + 1; j < 3; j++ {
			f := m[j][i] / m[i][i]
			for k := i; k < 4; k++ {
				m[j][k] -= f * m[i][k]
			}
		}
	}
	for i := 2; i >= 0; i-- {
		x[i] = m[i][3]
		for j := i + 1; j < 3; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
		if math.IsNaN(x[i]) || math.IsInf(x[i], 0) {
			return x, false
		}
	}
	return x, true
}
