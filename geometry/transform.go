package geometry

import "math"

// Transform is a similarity: turning, scaling, shifting, mirroring. It keeps
// arcs arcs. The zero value changes nothing.
type Transform struct {
	set    bool // false: identity
	mirror bool // x → −x before the rest
	re, im float64
	t      Point
}

// Translate returns the shift by v.
func Translate(v Point) Transform { return Transform{set: true, re: 1, t: v} }

// Rotate returns the turn by a about a point.
func Rotate(a Angle, about Point) Transform {
	s, c := a.sincos()
	return Transform{set: true, re: c, im: s, t: about.Sub(about.Rotate(a))}
}

// Scale returns the scaling by s about the origin. A negative s is a half turn
// besides.
func Scale(s float64) Transform { return Transform{set: true, re: s} }

// MirrorX returns the mirroring x → −x.
func MirrorX() Transform { return Transform{set: true, mirror: true, re: 1} }

// MirrorY returns the mirroring y → −y.
func MirrorY() Transform { return Transform{set: true, mirror: true, re: -1} }

// Then returns the transform that does t first and u after it.
func (t Transform) Then(u Transform) Transform {
	if !t.set {
		return u
	}
	if !u.set {
		return t
	}
	re, im := t.re, t.im
	if u.mirror {
		// Mirroring turns the factor r·e^{iφ} in front of it into r·e^{−iφ}.
		im = -im
	}
	return Transform{
		set:    true,
		mirror: t.mirror != u.mirror,
		re:     u.re*re - u.im*im,
		im:     u.re*im + u.im*re,
		t:      u.Apply(t.t),
	}
}

// Apply returns the image of a point.
func (t Transform) Apply(p Point) Point {
	if !t.set {
		return p
	}
	v := t.vector(p)
	return v.Add(t.t)
}

func (t Transform) vector(p Point) Point {
	if t.mirror {
		p.X = -p.X
	}
	return Point{t.re*p.X - t.im*p.Y, t.im*p.X + t.re*p.Y}
}

// IsMirror reports whether the transform changes handedness.
func (t Transform) IsMirror() bool { return t.mirror }

// Factor returns the scale, never negative.
func (t Transform) Factor() float64 {
	if !t.set {
		return 1
	}
	return math.Hypot(t.re, t.im)
}
