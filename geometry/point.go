package geometry

import "math"

// Point is a point, or a vector, in the section plane; coordinates in mm.
type Point struct{ X, Y float64 }

// Polar returns the point at distance r from the origin in direction a.
func Polar(r float64, a Angle) Point {
	s, c := a.sincos()
	return Point{r * c, r * s}
}

// Add returns p+q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p−q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns f·p.
func (p Point) Scale(f float64) Point { return Point{f * p.X, f * p.Y} }

// Dot returns the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z part of the vector product, positive when q lies
// counter-clockwise of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Norm returns the length of the vector, without overflow.
func (p Point) Norm() float64 { return math.Hypot(p.X, p.Y) }

// Dist returns the distance from p to q.
func (p Point) Dist(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Lerp returns the point a fraction t of the way from p to q.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)}
}

// Unit returns the vector of length 1 in the same direction; the zero vector
// stays zero.
func (p Point) Unit() Point {
	n := p.Norm()
	if n == 0 {
		return Point{}
	}
	return Point{p.X / n, p.Y / n}
}

// Perp returns the vector turned a quarter left, the left normal (−Y, X).
func (p Point) Perp() Point { return Point{-p.Y, p.X} }

// Rotate returns the vector turned by a about the origin.
func (p Point) Rotate(a Angle) Point {
	s, c := a.sincos()
	return Point{c*p.X - s*p.Y, s*p.X + c*p.Y}
}

// Angle returns the direction of the vector, in (−π, π]; 0 for the zero vector.
func (p Point) Angle() Angle { return Angle(math.Atan2(p.Y, p.X)) }

// IsFinite reports whether both coordinates are neither NaN nor infinite.
func (p Point) IsFinite() bool { return finite(p.X) && finite(p.Y) }
