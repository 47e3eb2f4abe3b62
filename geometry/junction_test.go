package geometry

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Quads that part at once do not meet by the general intersection either.
func TestPartingQuadsDoNotMeet(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	point := func() Point {
		return Polar(math.Pow(10, 4*rng.Float64()-3), Angle(2*math.Pi*rng.Float64()))
	}
	parted := 0
	for range 20000 {
		start := point()
		a, b := Quad(start, start.Add(point()), start.Add(point())), Quad(start, start.Add(point()), start.Add(point()))
		if !part(&a, &b) {
			continue
		}
		parted++
		if p, crossed := junctionQuads(a, b, false); crossed {
			t.Errorf("%v and %v meet at %v", a, b, p)
		}
	}
	if parted < 1000 {
		t.Errorf("only %d of the quads part", parted)
	}
	// Halves of a wave, and a quad that turns back to the other.
	left, right := Quad(Point{}, Point{X: -1, Y: -0.3}, Point{X: -2}), Quad(Point{}, Point{X: 1, Y: 0.3}, Point{X: 2})
	if !part(&left, &right) {
		t.Error("the halves of a wave do not part")
	}
	if back := Quad(Point{}, Point{X: 1, Y: 0.3}, Point{X: -3, Y: -1}); part(&left, &back) {
		t.Error("a quad that turns back parts")
	}
}
