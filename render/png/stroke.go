package png

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/render"

	"github.com/tdewolff/canvas"
)

// contour is a flattened chain of edges. A closed one does not repeat its first
// point.
type contour struct {
	points []geometry.Point
	closed bool
}

// flattener turns a path into contours; it is a pen.Sink.
type flattener struct {
	tol      float64
	contours []contour
}

func (f *flattener) add(p geometry.Point) {
	c := &f.contours[len(f.contours)-1]
	if n := len(c.points); n == 0 || c.points[n-1] != p {
		c.points = append(c.points, p)
	}
}

func (f *flattener) at() geometry.Point {
	c := f.contours[len(f.contours)-1]
	return c.points[len(c.points)-1]
}

func (f *flattener) MoveTo(p geometry.Point) {
	f.contours = append(f.contours, contour{})
	f.add(p)
}

func (f *flattener) LineTo(p geometry.Point) { f.add(p) }

func (f *flattener) ArcTo(p geometry.Point, radius float64, sweep geometry.Angle) {
	from := f.at()
	half := from.Add(p).Scale(0.5)
	// The centre lies on the left of the chord for a counter-clockwise arc.
	reach := math.Copysign(radius*(sweep/2).Cos(), sweep.Radians())
	centre := half.Add(p.Sub(from).Unit().Perp().Scale(reach))
	n := pieces(radius, math.Abs(sweep.Radians()), f.tol)
	spoke := from.Sub(centre)
	for i := 1; i < n; i++ {
		f.add(centre.Add(spoke.Rotate(sweep * geometry.Angle(i) / geometry.Angle(n))))
	}
	f.add(p)
}

// pieces is how many chords follow an arc within a tolerance.
func pieces(radius, sweep, tol float64) int {
	if radius <= tol {
		return 1
	}
	const most = 1000 // far more than the pixels of any quarter turn need
	return min(most, int(math.Ceil(sweep/(2*math.Acos(1-tol/radius)))))
}

func (f *flattener) QuadTo(control, p geometry.Point) {
	from := f.at()
	// The chord of a piece of 1/n is off by |from − 2·control + p| / (4n²).
	bend := from.Sub(control.Scale(2)).Add(p).Norm()
	n := min(1000, int(math.Ceil(math.Sqrt(bend/(4*f.tol)))))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		f.add(from.Lerp(control, t).Lerp(control.Lerp(p, t), t))
	}
	f.add(p)
}

func (f *flattener) Close() {
	c := &f.contours[len(f.contours)-1]
	c.closed = true
	if n := len(c.points); n > 1 && c.points[n-1] == c.points[0] {
		c.points = c.points[:n-1]
	}
}

// stroke gives the shape a pen leaves along contours: round ends and corners
// for a continuous line, square ends for dashes.
func stroke(contours []contour, s *render.Stroke, tol float64) *canvas.Path {
	b := brush{out: &canvas.Path{}, half: s.Width / 2, tol: tol, round: len(s.Dash) == 0}
	for _, c := range contours {
		points := c.points
		if c.closed {
			points = append(slices.Clip(points), points[0])
		}
		if len(s.Dash) == 0 {
			b.chain(points)
			continue
		}
		for _, d := range dashes(points, s.Dash) {
			b.chain(d)
		}
	}
	return b.out
}

type brush struct {
	out       *canvas.Path
	half, tol float64
	round     bool
}

// corner is the cosine of the turn from which two pieces meet in a corner
// rather than in a curve.
const corner = 0.9

// chain cuts a chain at its corners and draws each smooth part; where two parts
// meet, their round ends make the round corner.
func (b *brush) chain(points []geometry.Point) {
	if len(points) == 1 {
		if b.round {
			b.sweep([]geometry.Point{points[0], points[0].Add(geometry.Point{X: b.tol / 100})}, true, true)
		}
		return
	}
	first := 0
	for i := 1; i < len(points); i++ {
		if i < len(points)-1 {
			in, out := points[i].Sub(points[i-1]).Unit(), points[i+1].Sub(points[i]).Unit()
			if in.Dot(out) > corner {
				continue
			}
		}
		b.sweep(points[first:i+1], b.round || first > 0, b.round || i < len(points)-1)
		first = i
	}
}

// sweep draws the outline of a smooth part: there on its right, back on its
// left, with round or square ends.
func (b *brush) sweep(points []geometry.Point, roundStart, roundEnd bool) {
	n := len(points)
	if n < 2 {
		return
	}
	offsets := make([]geometry.Point, n)
	for i := range points {
		before := points[max(i, 1)].Sub(points[max(i-1, 0)]).Unit()
		after := points[min(i+1, n-1)].Sub(points[min(i, n-2)]).Unit()
		mean := before.Add(after)
		// At a bend the offset point lies on the bisector, a little further out.
		offsets[i] = mean.Perp().Scale(2 * b.half / mean.Dot(mean))
	}
	outline := make([]geometry.Point, 0, 2*n+16)
	for i, p := range points {
		outline = append(outline, p.Sub(offsets[i]))
	}
	if roundEnd {
		outline = b.cap(outline, points[n-1], offsets[n-1].Scale(-1))
	}
	for i := n - 1; i >= 0; i-- {
		outline = append(outline, points[i].Add(offsets[i]))
	}
	if roundStart {
		outline = b.cap(outline, points[0], offsets[0])
	}
	polygon(b.out, outline)
}

// cap adds a half circle about p, counter-clockwise from p+from.
func (b *brush) cap(outline []geometry.Point, p, from geometry.Point) []geometry.Point {
	n := max(2, pieces(b.half, math.Pi, b.tol))
	for i := 1; i < n; i++ {
		outline = append(outline, p.Add(from.Rotate(geometry.Angle(math.Pi*float64(i)/float64(n)))))
	}
	return outline
}

// dashes cuts a chain into its dashes.
func dashes(points []geometry.Point, pattern []float64) [][]geometry.Point {
	var out [][]geometry.Point
	var dash []geometry.Point
	i, left, on := 0, pattern[0], true
	finish := func() {
		if len(dash) > 1 {
			out = append(out, dash)
		}
		dash = nil
	}
	for k := 1; k < len(points); k++ {
		a, z := points[k-1], points[k]
		length, done := a.Dist(z), 0.0
		if on && len(dash) == 0 {
			dash = append(dash, a)
		}
		for left < length-done {
			done += left
			p := a.Lerp(z, done/length)
			if on {
				dash = append(dash, p)
				finish()
			} else {
				dash = []geometry.Point{p}
			}
			// A pattern of uneven length swaps dashes and gaps each time round.
			i, on = (i+1)%len(pattern), !on
			left = pattern[i]
		}
		left -= length - done
		if on {
			dash = append(dash, z)
		}
	}
	finish()
	return out
}
