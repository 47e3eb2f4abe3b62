package heat

import (
	"math"
)

// way is one way out for the heat: half of a continuous member, or a member
// that ends at the joint. SI units.
type way struct {
	k, rc     float64
	thickness float64
	edge      float64 // distance to a free edge, +Inf without
}

func (w *way) diffusivity() float64 { return w.k / w.rc }

// Theta is the surface factor of a strip of thickness d with a source on its
// face, relative to a half space, after heat has spread over s = 4at + 2σ²:
// the sum of images Σ exp(−4j²d²/s).
func Theta(d, s float64) float64 {
	x := d * d / s
	// Poisson's dual of the sum; its next term is below 1e-13 here.
	if x < 0.08 {
		return math.Sqrt(math.Pi*s) / (2 * d)
	}
	t := 1.0
	for j := 1.0; ; j++ {
		e := 4 * j * j * x
		if e > 45 {
			return t
		}
		t += 2 * math.Exp(-e)
	}
}

// capacity is the heat the way has taken up per kelvin at the surface and per
// metre of weld, J/(m·K), once heat has spread over s.
func (w *way) capacity(s float64) float64 {
	c := w.rc * math.Pi * s / 4 / Theta(w.thickness, s)
	if !math.IsInf(w.edge, 1) {
		c /= Theta(w.edge, s)
	}
	return c
}

// source is what the one-integral model needs to know of arc and place.
type source struct {
	speed  float64 // m/s
	spot   float64 // m
	radius float64 // m from the arc to the place asked for
	leg    float64 // m, size of a fillet face; with wedge
	// wedge is the part of the ways that a fillet's face hides from the arc
	// at first: it sees half a space before it sees the whole corner.
	wedge float64
	// through places the point across the thickness: images of the point
	// instead of the spread along the face. m, 0 for off.
	through float64
}

// wedgeRate was picked with the wedge itself from a coarse grid on 96 finite
// element cases and then tested on 240 others (own computation).
const wedgeRate = 3.

// model is the one-integral sum-of-paths model: a pulse spreads into all ways
// at once, sharing one temperature at the joint, and along the weld as a
// Gaussian; the travelling arc is the integral over pulses.
type model struct {
	src source
	// One entry for each time, evenly spaced in its logarithm.
	time   []float64
	weight []float64
	spread []float64 // 4at + 2σ² along the weld
	length float64   // m, scale of the weld pool region
}

// perDecade is the number of times in each decade: the narrowest kernel met is
// three samples wide.
const perDecade = 40

func newModel(ways []way, src source, back float64) *model {
	fast := 0.0
	for i := range ways {
		fast = max(fast, ways[i].diffusivity())
	}
	m := &model{src: src, length: max(fast/src.speed, src.radius, src.spot)}
	back = max(back, 30*m.length)
	first := 1e-5 * max(src.spot*src.spot, src.radius*src.radius/40) / fast
	last := 200*fast/(src.speed*src.speed) + 4*back/src.speed
	n := max(2, int(math.Ceil(perDecade*math.Log10(last/first))))
	h := math.Log(last/first) / float64(n)
	caps := make([]float64, len(ways))
	for i := range n + 1 {
		t := first * math.Exp(h*float64(i))
		total, mean := 0.0, 0.0
		for j := range ways {
			s := 4*ways[j].diffusivity()*t + 2*src.spot*src.spot
			caps[j] = ways[j].capacity(s)
			if src.wedge > 0 {
				caps[j] *= 1 - src.wedge + src.wedge*math.Exp(-wedgeRate*src.leg*src.leg/s)
			}
			total += caps[j]
			mean += caps[j] * ways[j].diffusivity()
		}
		s := 4*mean/total*t + 2*src.spot*src.spot
		across := math.Exp(-src.radius * src.radius / s)
		if src.through > 0 {
			across = imageDepth(src.radius, src.through, s) / Theta(src.through, s)
		}
		m.time = append(m.time, t)
		m.spread = append(m.spread, s)
		m.weight = append(m.weight, across/total/math.Sqrt(math.Pi*s)*t*h)
	}
	return m
}

// imageDepth is the image sum at depth z below the face of a slab.
func imageDepth(z, d, s float64) float64 {
	if d*d/s < 0.08 {
		return math.Sqrt(math.Pi*s) / (2 * d)
	}
	t := math.Exp(-z * z / s)
	for j := 1.0; ; j++ {
		lo, hi := 2*j*d-z, 2*j*d+z
		e := lo * lo / s
		if e > 45 {
			return t
		}
		t += math.Exp(-e) + math.Exp(-hi*hi/s)
	}
}

// rise is the temperature rise per watt at x metres ahead of the arc.
func (m *model) rise(x float64) float64 {
	t := 0.0
	for i, w := range m.weight {
		d := x + m.src.speed*m.time[i]
		if e := d * d / m.spread[i]; e < 45 {
			t += w * math.Exp(-e)
		}
	}
	return t
}

// peak is the highest rise, K/W, and how far behind the arc it is met, m.
func (m *model) peak() (rise, behind float64) {
	const samples = 44
	low, high := math.Log(1e-3*m.length), math.Log(30*m.length)
	step := (high - low) / (samples - 1)
	at := func(u float64) float64 { return m.rise(-math.Exp(u)) }
	best, u := m.rise(0), math.Inf(-1)
	for i := range samples {
		if r := at(low + step*float64(i)); r > best {
			best, u = r, low+step*float64(i)
		}
	}
	if math.IsInf(u, -1) {
		return best, 0
	}
	// Golden section between the neighbours: the curve has one top.
	const golden = 0.6180339887498949
	a, b := u-step, u+step
	c, d := b-golden*(b-a), a+golden*(b-a)
	fc, fd := at(c), at(d)
	for range 14 {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - golden*(b-a)
			fc = at(c)
		} else {
			a, c, fc = c, d, fd
			d = a + golden*(b-a)
			fd = at(d)
		}
	}
	if r := max(fc, fd); r > best {
		return r, math.Exp((a + b) / 2)
	}
	return best, math.Exp(u)
}

// cooling is the time from one temperature rise to a lower one on the way
// down behind the arc of q watts, s; false when the higher is not reached.
func (m *model) cooling(q, from, to float64) (float64, bool) {
	top, behind := m.peak()
	if q*top < from || to <= 0 {
		return 0, false
	}
	cross := func(level float64) float64 {
		lo := max(behind, 1e-3*m.length)
		hi := 2 * lo
		for q*m.rise(-hi) > level {
			lo, hi = hi, 2*hi
			if hi > 1e4*m.length {
				break
			}
		}
		for range 36 {
			mid := 0.5 * (lo + hi)
			if q*m.rise(-mid) > level {
				lo = mid
			} else {
				hi = mid
			}
		}
		return 0.5 * (lo + hi)
	}
	return (cross(to) - cross(from)) / m.src.speed, true
}
