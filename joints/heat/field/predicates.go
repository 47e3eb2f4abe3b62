package field

import (
	"math"
	"math/bits"
)

// The mesher works on an integer grid, so that the two questions it asks of
// points (which side of a line, inside a circle or not) have exact answers and
// no outline, however awkward, can make it contradict itself.
const (
	// gridSpan is the number of grid steps across the section. With the outer
	// triangle the largest coordinate difference is 16 times that, 2^29, for
	// which the products below stay inside 64 and 128 bits. On a section
	// 500 mm across one step is 15 nm.
	gridSpan = 1 << 25
)

// gp is a point of the integer grid.
type gp struct{ x, y int64 }

// orient is twice the signed area of the triangle, positive counter-clockwise.
func orient(a, b, c gp) int64 {
	return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
}

// dist2 is the squared distance.
func dist2(a, b gp) int64 {
	dx, dy := b.x-a.x, b.y-a.y
	return dx*dx + dy*dy
}

// inCircle reports whether d lies strictly inside the circle through the
// counter-clockwise triangle abc.
func inCircle(a, b, c, d gp) bool {
	ax, ay := a.x-d.x, a.y-d.y
	bx, by := b.x-d.x, b.y-d.y
	cx, cy := c.x-d.x, c.y-d.y
	al, bl, cl := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
	am, bm, cm := bx*cy-cx*by, cx*ay-ax*cy, ax*by-bx*ay

	fa, fb, fc := float64(al)*float64(am), float64(bl)*float64(bm), float64(cl)*float64(cm)
	det := fa + fb + fc
	// Six roundings of 2^-53 each on the terms; 1e-14 leaves room.
	if bound := 1e-14 * (math.Abs(fa) + math.Abs(fb) + math.Abs(fc)); math.Abs(det) > bound {
		return det > 0
	}
	var s int128
	s.addProduct(al, am)
	s.addProduct(bl, bm)
	s.addProduct(cl, cm)
	return s.positive()
}

// int128 is a two's complement sum of products.
type int128 struct{ hi, lo uint64 }

func (s *int128) addProduct(a, b int64) {
	neg := (a < 0) != (b < 0)
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	if neg {
		var borrow uint64
		lo, borrow = bits.Sub64(0, lo, 0)
		hi, _ = bits.Sub64(0, hi, borrow)
	}
	var carry uint64
	s.lo, carry = bits.Add64(s.lo, lo, 0)
	s.hi, _ = bits.Add64(s.hi, hi, carry)
}

func (s *int128) positive() bool {
	return s.hi>>63 == 0 && (s.hi != 0 || s.lo != 0)
}

func magnitude(a int64) uint64 {
	if a < 0 {
		return uint64(-a)
	}
	return uint64(a)
}
