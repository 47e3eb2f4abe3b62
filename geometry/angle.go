package geometry

import "math"

// Angle is an angle in radians, counter-clockwise positive. The zero value is
// no turn at all. Write 60 * Degree, never a bare float in degrees.
type Angle float64

// Units of angle.
const (
	Radian Angle = 1
	Degree       = Angle(math.Pi / 180)
)

// Radians returns the angle as a number of radians.
func (a Angle) Radians() float64 { return float64(a) }

// Degrees returns the angle as a number of degrees.
func (a Angle) Degrees() float64 { return float64(a) * (180 / math.Pi) }

// IsFinite reports whether the angle is neither NaN nor infinite.
func (a Angle) IsFinite() bool { return finite(float64(a)) }

// Sin returns the sine; exactly 0 at multiples of a half turn.
func (a Angle) Sin() float64 { s, _ := a.sincos(); return s }

// Cos returns the cosine; exactly 0 at odd multiples of a quarter turn.
func (a Angle) Cos() float64 { _, c := a.sincos(); return c }

// Tan returns the tangent. Near a quarter turn it is very large, not infinite.
func (a Angle) Tan() float64 { return math.Tan(float64(a)) }

// sincos snaps the rounding of π out of quarter turns, so that a square plate
// has square corners.
func (a Angle) sincos() (sin, cos float64) {
	sin, cos = math.Sincos(float64(a))
	if math.Abs(cos) < trigSnap {
		return math.Copysign(1, sin), 0
	}
	if math.Abs(sin) < trigSnap && math.Abs(float64(a)) > 1 {
		return 0, math.Copysign(1, cos)
	}
	return sin, cos
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
