package geometry

import "math"

// poly is a polynomial of degree 4 at most, coefficients in rising order.
type poly [5]float64

func (c *poly) at(n int, t float64) float64 {
	v := c[n]
	for i := n - 1; i >= 0; i-- {
		v = v*t + c[i]
	}
	return v
}

// roots appends to dst every root of the polynomial of degree n in 0…1 at
// which it changes sign, and also its stationary points, which are the
// candidates for roots at which it only touches zero. Callers judge candidates
// by a distance. Rising order is not promised.
//
// The stationary points part the range into pieces that rise or fall steadily,
// so each piece holds one root at most and bracketing cannot miss it.
func (c *poly) roots(n int, dst []float64) []float64 {
	for n > 0 && c[n] == 0 {
		n--
	}
	// d[i] is the derivative of degree i.
	var d [5]poly
	d[n] = *c
	for i := n; i > 1; i-- {
		for k := 1; k <= i; k++ {
			d[i-1][k-1] = float64(k) * d[i][k]
		}
	}
	// Each derivative's roots part the range for the next.
	var buf [2]knots
	at, next := &buf[0], &buf[1]
	at.add(0)
	for i := 1; i <= n; i++ {
		next.n = 0
		next.add(0)
		for k := range at.n {
			end := 1.0
			if k+1 < at.n {
				end = at.t[k+1]
				if i == n {
					dst = append(dst, end)
				}
			}
			if r, ok := d[i].bracket(i, &d[i-1], at.t[k], end); ok {
				if i == n {
					dst = append(dst, r)
				} else {
					next.add(r)
				}
			}
		}
		at, next = next, at
	}
	return dst
}

// knots are 0 and points of 0…1 in rising order.
type knots struct {
	t [6]float64
	n int
}

func (k *knots) add(t float64) {
	if k.n < len(k.t) {
		k.t[k.n] = t
		k.n++
	}
}

// bracket returns the root between l and r if the signs differ there: Newton
// steps with the derivative d kept inside a shrinking bracket.
func (c *poly) bracket(n int, d *poly, l, r float64) (float64, bool) {
	fl, fr := c.at(n, l), c.at(n, r)
	switch {
	case fl == 0:
		return l, true
	case fr == 0:
		return r, true
	case !(fl < 0 && fr > 0 || fl > 0 && fr < 0):
		return 0, false
	}
	t := (l + r) / 2
	for range 200 {
		f := c.at(n, t)
		if f == 0 {
			break
		}
		if (f < 0) == (fl < 0) {
			l = t
		} else {
			r = t
		}
		next := t - f/d.at(n-1, t)
		if !(next > l && next < r) {
			next = l + (r-l)/2
		}
		if next == t || !(r-l > 0) {
			break
		}
		if math.Abs(next-t) <= 1e-17 {
			t = next
			break
		}
		t = next
	}
	return t, true
}

// sortSmall sorts a handful of numbers in place.
func sortSmall(v []float64) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j] < v[j-1]; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

// quadratic returns the real roots of a·x² + b·x + c in rising order, without
// cancellation, and the stationary point. n is the number of roots.
func quadratic(a, b, c float64) (x0, x1 float64, n int) {
	if a == 0 {
		if b == 0 {
			return 0, 0, 0
		}
		return -c / b, 0, 1
	}
	disc := b*b - 4*a*c
	if !(disc >= 0) {
		return 0, 0, 0
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
	if q == 0 {
		return 0, 0, 1
	}
	x0, x1 = q/a, c/q
	if !finite(x0) {
		return x1, 0, 1
	}
	if x0 > x1 {
		x0, x1 = x1, x0
	}
	return x0, x1, 2
}
