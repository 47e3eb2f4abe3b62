package pen

import (
	"math"
	"math/rand/v2"
	"testing"

	"fay/geometry"
)

// trail follows a path: it samples what was drawn, so that it can be held
// against the edges.
type trail struct {
	t       *testing.T
	at      geometry.Point
	points  []geometry.Point
	moves   int
	closes  int
	biggest float64
}

func (s *trail) MoveTo(p geometry.Point) { s.at = p; s.moves++; s.points = append(s.points, p) }
func (s *trail) LineTo(p geometry.Point) { s.sample(geometry.Line(s.at, p)) }
func (s *trail) QuadTo(c, p geometry.Point) {
	s.sample(geometry.Quad(s.at, c, p))
}
func (s *trail) Close() { s.closes++ }

func (s *trail) ArcTo(p geometry.Point, radius float64, sweep geometry.Angle) {
	s.biggest = max(s.biggest, math.Abs(sweep.Radians()))
	// Draw the arc from the radius, as a reader of an SVG file would, rounded
	// as in the file.
	radius = math.Round(radius*1000) / 1000
	half := s.at.Dist(p) / 2
	radius = max(radius, half)
	sagitta := radius - math.Sqrt(radius*radius-half*half)
	if sweep < 0 {
		sagitta = -sagitta
	}
	s.sample(geometry.Arc(s.at, p, sagitta))
	a, b := Cubic(s.at, p, radius, sweep)
	for i := range 11 {
		k := float64(i) / 10
		q := s.at.Lerp(a, k).Lerp(a.Lerp(b, k), k).Lerp(a.Lerp(b, k).Lerp(b.Lerp(p, k), k), k)
		if d := geometry.Arc(s.at, p, sagitta).Distance(q); d > 3e-4*radius+1e-3 {
			s.t.Errorf("cubic curve leaves the arc of radius %g by %g", radius, d)
		}
	}
	s.at = p
}

func (s *trail) sample(e geometry.Edge) {
	for i := range 11 {
		s.points = append(s.points, e.At(float64(i)/10))
	}
	s.at = e.End()
}

// TestDrawnIsMeant draws random edges and holds every drawn point against the
// edge: nothing leaves it by more than the rounding.
func TestDrawnIsMeant(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	point := func() geometry.Point {
		return geometry.Point{X: 200 * rng.Float64(), Y: 200 * rng.Float64()}
	}
	for i := range 2000 {
		a, b := point(), point()
		var e geometry.Edge
		switch i % 4 {
		case 0:
			e = geometry.Line(a, b)
		case 1:
			e = geometry.Quad(a, point(), b)
		case 2: // half a turn and near it, where a rounded radius would do harm
			e = geometry.Arc(a, b, a.Dist(b)/2*(1+1e-3*rng.NormFloat64()))
		default:
			e = geometry.Arc(a, b, a.Dist(b)*(2*rng.Float64()-1))
		}
		s := &trail{t: t}
		Draw([]geometry.Edge{e}, false, s)
		for _, p := range s.points {
			if d := e.Distance(p); d > 2e-3 {
				t.Fatalf("%v: drawn point %v is off by %g mm", e, p, d)
			}
		}
		if s.at != Round(e.End()) {
			t.Errorf("%v: ends at %v", e, s.at)
		}
		if s.biggest > math.Pi/2*1.001 {
			t.Errorf("%v: piece of an arc of %g radians", e, s.biggest)
		}
	}
}

func TestContours(t *testing.T) {
	pt := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	edges := []geometry.Edge{
		geometry.Line(pt(0, 0), pt(1, 0)), geometry.Line(pt(1, 0.0001), pt(0, 1)), geometry.Line(pt(0, 1), pt(0, 0)),
		geometry.Line(pt(5, 5), pt(6, 5)), geometry.Line(pt(6, 5), pt(5, 5)),
	}
	for _, test := range []struct {
		name   string
		edges  []geometry.Edge
		closed bool
		moves  int
		closes int
	}{
		{"none", nil, true, 0, 0},
		{"ends that meet after rounding are one contour", edges[:3], false, 1, 0},
		{"closed", edges[:3], true, 1, 1},
		{"every contour is closed", edges, true, 2, 2},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := &trail{t: t}
			Draw(test.edges, test.closed, s)
			if s.moves != test.moves || s.closes != test.closes {
				t.Errorf("want %d contours, %d closed, got %d and %d", test.moves, test.closes, s.moves, s.closes)
			}
		})
	}
}
