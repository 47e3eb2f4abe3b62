package joints

import (
	"math"

	"fay/geometry"
)

// Layers parts the fused metal of a weld into n layers of equal area, from the
// root to the face and parallel to the chord of the face: a picture of its
// passes, not a procedure. Each layer has an outline, or several where the metal
// is hollow there. It is nil for fewer than two layers or a weld without a face.
func Layers(w *Weld, n int) [][]geometry.Outline {
	if n < 2 || len(w.FaceEdges) == 0 {
		return nil
	}
	chord := w.FaceEdges[len(w.FaceEdges)-1].End().Sub(w.FaceEdges[0].Start())
	if chord.Norm() == 0 {
		return nil
	}
	up := chord.Unit().Perp()
	if up.Dot(w.FaceEdges[0].Start().Sub(w.Centroid)) < 0 {
		up = up.Scale(-1)
	}
	at := func(level float64) geometry.HalfPlane { return geometry.HalfPlane{P: up.Scale(level), N: up} }
	area := func(list []geometry.Outline) float64 {
		sum := 0.0
		for _, o := range list {
			sum += o.Area()
		}
		return sum
	}
	low, high := reach(w.Profile, up)
	total := w.Profile.Area()
	rest := []geometry.Outline{w.Profile}
	layers := make([][]geometry.Outline, 0, n)
	for k := 1; k < n; k++ {
		// What lies above the level shrinks as it rises.
		lo, hi := low, high
		want := total * float64(n-k) / float64(n)
		for range 40 {
			if mid := (lo + hi) / 2; area(w.Profile.Cut(at(mid))) > want {
				lo = mid
			} else {
				hi = mid
			}
		}
		var under, over []geometry.Outline
		for _, o := range rest {
			under = append(under, o.Cut(at(hi).Complement())...)
			over = append(over, o.Cut(at(hi))...)
		}
		layers, rest, low = append(layers, under), over, hi
	}
	return append(layers, rest)
}

// reach is the least and the greatest distance along a direction, mm; that of
// arcs is taken a little further than they go.
func reach(o geometry.Outline, dir geometry.Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	b := o.Bounds()
	for _, p := range [4]geometry.Point{b.Min, b.Max, {X: b.Min.X, Y: b.Max.Y}, {X: b.Max.X, Y: b.Min.Y}} {
		low, high = math.Min(low, p.Dot(dir)), math.Max(high, p.Dot(dir))
	}
	return low, high
}
