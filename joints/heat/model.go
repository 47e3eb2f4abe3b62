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

// The number of times in each decade. Near the arc the integrand is smooth on
// this scale and the sum over even steps is good to 1e-5; far behind it the
// kernel narrows, and is still three samples wide where steel has cooled to 500 °C.
const (
	perDecadeNear = 20
	perDecadeFar  = 70
)

// headShare is the part of the first time scale, that of the spot or of the
// way to the place asked for, from which times are sampled. Before it the
// integrand stands still and its integral is added in one piece.
const headShare = 1e-3

func newModel(ways []way, src source, back float64) *model {
	fast := 0.0
	for i := range ways {
		fast = max(fast, ways[i].diffusivity())
	}
	m := &model{src: src, length: max(fast/src.speed, src.radius, src.spot)}
	perDecade := perDecadeNear
	if near := 30 * m.length; back > near {
		perDecade = perDecadeFar
	} else {
		back = near
	}
	first := headShare * max(src.spot*src.spot, src.radius*src.radius/40) / fast
	last := 200*fast/(src.speed*src.speed) + 4*back/src.speed
	n := max(2, int(math.Ceil(float64(perDecade)*math.Log10(last/first))))
	h := math.Log(last/first) / float64(n)
	m.time, m.weight, m.spread = make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)
	for i := range n + 1 {
		t := first * math.Exp(h*float64(i))
		total, mean := 0.0, 0.0
		for j := range ways {
			s := 4*ways[j].diffusivity()*t + 2*src.spot*src.spot
			c := ways[j].capacity(s)
			if src.wedge > 0 {
				c *= 1 - src.wedge + src.wedge*math.Exp(-wedgeRate*src.leg*src.leg/s)
			}
			total += c
			mean += c * ways[j].diffusivity()
		}
		s := 4*mean/total*t + 2*src.spot*src.spot
		across := math.Exp(-src.radius * src.radius / s)
		if src.through > 0 {
			across = imageDepth(src.radius, src.through, s) / Theta(src.through, s)
		}
		step := h
		if i == 0 {
			step = h/2 + 1
		}
		m.time[i], m.spread[i], m.weight[i] = t, s, across/total/math.Sqrt(math.Pi*s)*t*step
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
		switch e := d * d / m.spread[i]; {
		case e < 45:
			t += w * math.Exp(-e)
		case d > 0:
			return t // pulses from here on are farther off still
		}
	}
	return t
}

// peak is the highest rise, K/W, and how far behind the arc it is met, m.
func (m *model) peak() (rise, behind float64) {
	const samples = 12
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
	// The curve has one top: a parabola through three places round it finds the
	// next, nearer ones.
	a, b, c := u-step, u, u+step
	fa, fb, fc := at(a), best, at(c)
	for range 12 {
		p, q := (b-a)*(fb-fc), (b-c)*(fb-fa)
		next := b - 0.5*((b-a)*p-(b-c)*q)/(p-q)
		if !(next > a && next < c) || math.Abs(next-b) < 1e-9*step {
			next = 0.5 * (b + c)
			if b-a > c-b {
				next = 0.5 * (a + b)
			}
		}
		f := at(next)
		switch {
		case f > fb && next > b:
			a, fa, b, fb = b, fb, next, f
		case f > fb:
			c, fc, b, fb = b, fb, next, f
		case next > b:
			c, fc = next, f
		default:
			a, fa = next, f
		}
		if c-a < topWidth {
			break
		}
	}
	return fb, math.Exp(b)
}

// topWidth is how near the top of a curve is looked for, as the logarithm of
// the distance; its height is then known to 1e-7.
const topWidth = 1e-3

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
		for range 26 {
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
