package geometry

import "math"

// Box is a rectangle along the axes. A box whose Min lies beyond its Max holds
// nothing; [EmptyBox] is the one to start a union with. The zero value is the
// single point at the origin.
type Box struct{ Min, Max Point }

// EmptyBox returns the box that holds nothing.
func EmptyBox() Box {
	return Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
}

// BoxOf returns the smallest box around the points.
func BoxOf(pts ...Point) Box {
	b := EmptyBox()
	for _, p := range pts {
		b = b.Expand(p)
	}
	return b
}

// Empty reports whether the box holds nothing.
func (b Box) Empty() bool { return !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y) }

// Width returns the extent in x, 0 for an empty box.
func (b Box) Width() float64 { return max(0, b.Max.X-b.Min.X) }

// Height returns the extent in y, 0 for an empty box.
func (b Box) Height() float64 { return max(0, b.Max.Y-b.Min.Y) }

// Centre returns the middle; the origin for an empty box.
func (b Box) Centre() Point {
	if b.Empty() {
		return Point{}
	}
	return b.Min.Lerp(b.Max, 0.5)
}

// Expand returns the smallest box that also holds p.
func (b Box) Expand(p Point) Box {
	return Box{
		Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Union returns the smallest box that holds both.
func (b Box) Union(c Box) Box {
	return Box{
		Point{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y)},
		Point{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y)},
	}
}

// Grow returns the box widened by d on every side; negative d shrinks it.
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Contains reports whether p lies in the box or on its rim.
func (b Box) Contains(p Point) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}

// Overlaps reports whether the boxes share a point.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// near is Overlaps with the boxes Coincident apart still counted.
func (b Box) near(c Box) bool {
	return b.Min.X <= c.Max.X+Coincident && c.Min.X <= b.Max.X+Coincident &&
		b.Min.Y <= c.Max.Y+Coincident && c.Min.Y <= b.Max.Y+Coincident
}
