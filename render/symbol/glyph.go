package symbol

import (
	"math"

	"fay/geometry"
)

// shape is a glyph standing on its reference line: x from its left edge, y out
// from the line.
type shape struct {
	strokes []geometry.Edge
	base    *geometry.Edge // what lies on the line; drawn where the line is dashed
	filled  []geometry.Edge
	w, top  float64
	// mouth says how high over the line a text of a width has to start so that
	// it clears the strokes on both sides, and the middle it then has. ok is
	// false where it only fits beyond the strokes.
	mouth func(w, free float64) (x, y float64, ok bool)
	// open is the edge a contour lies along, from its outer left end.
	open geometry.Edge
}

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

func line(x0, y0, x1, y1 float64) geometry.Edge { return geometry.Line(pt(x0, y0), pt(x1, y1)) }

// glyph makes the strokes of an elementary symbol of height g in lettering of
// height h.
func (g Glyph) shape(height, h float64) shape {
	switch g {
	case Fillet:
		base := line(0, 0, height, 0)
		return shape{strokes: []geometry.Edge{line(0, 0, 0, height), line(0, height, height, 0)}, base: &base,
			w: height, top: height, open: line(0, height, height, 0)}
	case Square:
		w := squareApart * h
		return shape{strokes: []geometry.Edge{line(0, 0, 0, height), line(w, 0, w, height)}, w: w, top: height,
			open: line(-0.4*h, height, w+0.4*h, height)}
	case V:
		return vShape(height)
	case Bevel:
		w := height * bevelTurn.Tan()
		return shape{strokes: []geometry.Edge{line(0, 0, 0, height), line(0, 0, w, height)}, w: w, top: height,
			open: line(0, height, w, height),
			mouth: func(t, free float64) (float64, float64, bool) {
				return free + t/2, (free + t + free/bevelTurn.Cos()) / bevelTurn.Tan(), true
			}}
	case U:
		return uShape(height)
	case J:
		return jShape(height)
	case FlareV, FlareBevel:
		return flareShape(g, height, h)
	case Plug:
		w, y := rectangleLong*height, rectangleHigh*height
		return rectangle(w, y)
	case Edge:
		d := edgeApart * h
		return shape{strokes: []geometry.Edge{line(0, 0, 0, height), line(d, 0, d, height), line(2*d, 0, 2*d, height)}, w: 2 * d, top: height,
			open: line(-0.3*h, height, 2*d+0.3*h, height)}
	case Back:
		return disc(height, false)
	}
	return shape{}
}

func vShape(height float64) shape {
	half := height * vHalf.Tan()
	return shape{strokes: []geometry.Edge{line(half, 0, 0, height), line(half, 0, 2*half, height)}, w: 2 * half, top: height,
		open: line(0, height, 2*half, height),
		mouth: func(t, free float64) (float64, float64, bool) {
			return half, (t/2 + free/vHalf.Cos()) / vHalf.Tan(), true
		}}
}

func uShape(height float64) shape {
	r, stem := bowlRadius*height, stemHeight*height
	return shape{strokes: []geometry.Edge{line(r, 0, r, stem), geometry.Arc(pt(0, stem+r), pt(r, stem), r*(1-math.Sqrt2/2)),
		geometry.Arc(pt(r, stem), pt(2*r, stem+r), r*(1-math.Sqrt2/2))},
		w: 2 * r, top: stem + r, open: line(0, stem+r, 2*r, stem+r),
		mouth: func(t, free float64) (float64, float64, bool) {
			x, inner := t/2, r-free
			if x >= inner {
				return 0, 0, false
			}
			return r, stem + r - math.Sqrt(inner*inner-x*x), true
		}}
}

func jShape(height float64) shape {
	r, stem := bowlRadius*height, stemHeight*height
	return shape{strokes: []geometry.Edge{line(0, 0, 0, stem+r), geometry.Arc(pt(0, stem), pt(r, stem+r), r*(1-math.Sqrt2/2))},
		w: r, top: stem + r, open: line(0, stem+r, r, stem+r)}
}

func flareShape(g Glyph, height, h float64) shape {
	r := height / flareTurn.Sin()
	out := r * (1 - flareTurn.Cos())
	sagitta := r * (1 - math.Cos(float64(flareTurn)/2))
	d := flareApart * h
	if g == FlareBevel {
		return shape{strokes: []geometry.Edge{line(0, 0, 0, height), geometry.Arc(pt(d, 0), pt(d+out, height), -sagitta)},
			w: d + out, top: height, open: line(0, height, d+out, height)}
	}
	return shape{strokes: []geometry.Edge{geometry.Arc(pt(out, 0), pt(0, height), sagitta), geometry.Arc(pt(out+d, 0), pt(2*out+d, height), -sagitta)},
		w: 2*out + d, top: height, open: line(0, height, 2*out+d, height)}
}

func rectangle(w, y float64) shape {
	base := line(0, 0, w, 0)
	return shape{strokes: []geometry.Edge{line(0, 0, 0, y), line(0, y, w, y), line(w, y, w, 0)}, base: &base,
		w: w, top: y, open: line(0, y, w, y)}
}

// disc is half a disc on the line: an outline for a back weld, filled for
// melt-through.
func disc(height float64, filled bool) shape {
	r := discRadius * height
	arc := geometry.ArcCentre(pt(2*r, 0), pt(0, 0), pt(r, 0), true)
	s := shape{w: 2 * r, top: r, open: line(0, r, 2*r, r)}
	if filled {
		s.filled = []geometry.Edge{line(0, 0, 2*r, 0), arc}
		return s
	}
	base := line(0, 0, 2*r, 0)
	s.strokes, s.base = []geometry.Edge{arc}, &base
	return s
}
