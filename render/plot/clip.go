package plot

import (
	"math"

	"fay/geometry"
)

// clip cuts a curve to the axes and maps it to the sheet.
func clip(pts []geometry.Point, s *scale) [][]geometry.Point {
	var pieces [][]geometry.Point
	var piece []geometry.Point
	end := func() {
		if len(piece) > 1 {
			pieces = append(pieces, piece)
		}
		piece = nil
	}
	for i := 1; i < len(pts); i++ {
		if !pts[i-1].IsFinite() || !pts[i].IsFinite() {
			end()
			continue
		}
		a, b, ok := clipSegment(s.at(pts[i-1].X, pts[i-1].Y), s.at(pts[i].X, pts[i].Y), s.box)
		if !ok {
			end()
			continue
		}
		if len(piece) == 0 || piece[len(piece)-1].Dist(a) > 1e-6 {
			end()
			piece = []geometry.Point{a}
		}
		piece = append(piece, b)
	}
	end()
	return pieces
}

// clipSegment cuts a segment to a box.
func clipSegment(a, b geometry.Point, box geometry.Box) (geometry.Point, geometry.Point, bool) {
	lo, hi := 0.0, 1.0
	d := b.Sub(a)
	for _, side := range [4][2]float64{
		{-d.X, a.X - box.Min.X}, {d.X, box.Max.X - a.X}, {-d.Y, a.Y - box.Min.Y}, {d.Y, box.Max.Y - a.Y},
	} {
		switch {
		case side[0] == 0:
			if side[1] < 0 {
				return a, b, false
			}
		case side[0] < 0:
			lo = math.Max(lo, side[1]/side[0])
		default:
			hi = math.Min(hi, side[1]/side[0])
		}
	}
	if lo > hi {
		return a, b, false
	}
	return a.Lerp(b, lo), a.Lerp(b, hi), true
}

// spread gives the places on the pieces of a curve at the parts of its length
// in along.
func spread(pieces [][]geometry.Point) []geometry.Point {
	total := 0.0
	for _, p := range pieces {
		for i := 1; i < len(p); i++ {
			total += p[i].Dist(p[i-1])
		}
	}
	out := make([]geometry.Point, 0, len(along))
	for _, part := range along {
		left := part * total
	search:
		for _, p := range pieces {
			for i := 1; i < len(p); i++ {
				long := p[i].Dist(p[i-1])
				if left <= long && long > 0 {
					out = append(out, p[i-1].Lerp(p[i], left/long))
					break search
				}
				left -= long
			}
		}
	}
	return out
}
