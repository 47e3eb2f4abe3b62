package render

import (
	"math"

	"fay/geometry"
)

// Hatching is the section lining of one part.
type Hatching struct {
	Angle geometry.Angle
	Pitch float64
}

// HatchingFor gives the lining of the i-th part of a section: neighbours slope
// against each other, a third part differs by its spacing. The spacing fits
// the width of the part on paper: about four lines across a narrow strip,
// never closer than 1.2 mm.
func (s *Style) HatchingFor(i int, width float64) Hatching {
	h := Hatching{Angle: 45 * geometry.Degree, Pitch: s.HatchPitch}
	if i%2 == 1 {
		h.Angle = 135 * geometry.Degree
	}
	h.Pitch = math.Min(math.Max(width/4, 1.2), s.HatchPitch)
	if width > 60 {
		h.Pitch = s.HatchPitch * 1.2
	}
	if i >= 2 {
		h.Pitch *= 0.65 + 0.7*float64(i/2%2)
	}
	return h
}

// Hatch lines an outline with exact chords. Nothing is drawn inside the
// outlines of without, nor inside the boxes of texts.
func Hatch(o geometry.Outline, h Hatching, without []geometry.Outline, texts [][4]geometry.Point) []geometry.Edge {
	dir := geometry.Polar(1, h.Angle)
	n := dir.Perp()
	box := o.Bounds()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range [4]geometry.Point{box.Min, box.Max, {X: box.Min.X, Y: box.Max.Y}, {X: box.Max.X, Y: box.Min.Y}} {
		lo, hi = math.Min(lo, c.Dot(n)), math.Max(hi, c.Dot(n))
	}
	count := int((hi - lo) / h.Pitch)
	if count > maxHatchLines {
		return nil
	}
	lines := make([]geometry.Edge, 0, count)
	// Half a pitch in from the corner, so that no line is a mere dot there.
	for k := 0; ; k++ {
		d := lo + (float64(k)+0.5)*h.Pitch
		if d >= hi {
			return lines
		}
		p := n.Scale(d)
		parts := o.Chords(p, dir)
		for i := range without {
			if len(parts) == 0 {
				break
			}
			parts = subtract(parts, without[i].Chords(p, dir))
		}
		for i := range texts {
			if a, b, ok := throughBox(p, dir, texts[i]); ok {
				parts = subtract(parts, [][2]float64{{a, b}})
			}
		}
		for _, c := range parts {
			if c[1]-c[0] > minHatchLine {
				lines = append(lines, geometry.Line(p.Add(dir.Scale(c[0])), p.Add(dir.Scale(c[1]))))
			}
		}
	}
}

const (
	// maxHatchLines bounds the work on an absurdly large area.
	maxHatchLines = 4000
	// minHatchLine is the shortest section line that is more than a dot, mm.
	minHatchLine = 0.3
)

// subtract removes the intervals of b from those of a; both rise.
func subtract(a, b [][2]float64) [][2]float64 {
	for _, cut := range b {
		var out [][2]float64
		for _, c := range a {
			if cut[1] <= c[0] || cut[0] >= c[1] {
				out = append(out, c)
				continue
			}
			if cut[0] > c[0] {
				out = append(out, [2]float64{c[0], cut[0]})
			}
			if cut[1] < c[1] {
				out = append(out, [2]float64{cut[1], c[1]})
			}
		}
		a = out
	}
	return a
}

// throughBox is the stretch of the line p + s·dir inside a convex,
// counter-clockwise quadrilateral.
func throughBox(p, dir geometry.Point, box [4]geometry.Point) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for i, a := range box {
		b := box[(i+1)%4]
		inward := b.Sub(a).Perp()
		num, den := a.Sub(p).Dot(inward), dir.Dot(inward)
		switch {
		case den == 0:
			if num > 0 {
				return 0, 0, false
			}
		case den > 0:
			lo = math.Max(lo, num/den)
		default:
			hi = math.Min(hi, num/den)
		}
	}
	return lo, hi, lo < hi
}
