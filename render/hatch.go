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

// turns are the angles of lining by which it gives way to an edge that runs
// along it, the usual one first (ISO 128-3: 45° to the main outlines; other
// angles are taken where these run so, secondary).
var turns = [...]geometry.Angle{45 * geometry.Degree, 30 * geometry.Degree, 60 * geometry.Degree}

const (
	// alongLining is the angle under which an edge and the lining beside it read
	// as one double line.
	alongLining = 10 * geometry.Degree
	// longEdge is the share of the thickness from which an edge is more than a
	// corner.
	longEdge = 0.25
)

// hatching is the lining of a member: that of its number, turned where a long
// edge of the part runs along it. It depends on the part's shape alone, so that
// every view of the part is lined alike, and keeps its slope to the left or
// right, so that neighbours differ.
func (k *Sketch) hatching(m *SketchMember) Hatching {
	h := k.style.HatchingFor(m.Lining, m.Width)
	for _, turn := range turns {
		if h.Angle > 90*geometry.Degree {
			turn = 180*geometry.Degree - turn
		}
		if !k.runsAlong(m, turn) {
			h.Angle = turn
			break
		}
	}
	return h
}

// runsAlong reports whether a long straight edge of a member, or of another
// piece of it, runs at the angle.
func (k *Sketch) runsAlong(m *SketchMember, angle geometry.Angle) bool {
	for i := range k.Members {
		piece := &k.Members[i]
		if piece.Name != m.Name {
			continue
		}
		for _, e := range piece.Real {
			if e.Kind() != geometry.LineEdge || e.Length() < longEdge*piece.Width {
				continue
			}
			off := math.Remainder(float64(e.Tangent(0).Angle()-angle), math.Pi)
			if geometry.Angle(math.Abs(off)) < alongLining {
				return true
			}
		}
	}
	return false
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
