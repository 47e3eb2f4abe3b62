package macro

import (
	"fmt"
	"math"

	"fay/geometry"
	"fay/joints"
)

// Profile is what points gave: straight lines through the member surfaces and
// an arc through the face, each with the least sum of squared distances.
type Profile struct {
	Shape
	Throat    float64 // from the weld root to the face
	Area      float64 // between the member surfaces and the face, mm²
	FaceWidth float64 // toe to toe
	Reached   joints.Opt
	// Residual is the root mean square of the points' distances from what was
	// fitted to them.
	Residual float64
}

// maxMiss is how far, as a share of the face, a face may end beside a surface
// or points may run back.
const (
	maxMiss = 0.2
	maxBack = 0.05
)

// recoverProfile finds the shape that the points show. The faults, if any,
// name fields of the record.
func recoverProfile(p *Points, f *frame, sizes *Sizes) (Profile, joints.Faults) {
	origin := p.Face[0]
	mm := func(points []geometry.Point) []geometry.Point {
		out := make([]geometry.Point, len(points))
		for i, q := range points {
			out[i] = q.Sub(origin).Scale(float64(p.Scale))
		}
		return out
	}
	var faults joints.Faults
	add := func(code joints.FaultCode, field, rule, remedy string) {
		faults = append(faults, joints.Fault{Code: code, Field: field, Rule: rule, Remedy: remedy})
	}
	face := mm(p.Face)
	a, okA := fitLine(mm(p.SurfaceA))
	b, okB := fitLine(mm(p.SurfaceB))
	arc, okFace := fitRound(face)
	for i, ok := range [...]bool{okA, okB, okFace} {
		if !ok {
			name := [...]string{"surface-a", "surface-b", "face"}[i]
			add(FaultTooFew, name, "its points lie on one spot", "give points well apart")
		}
	}
	if len(faults) > 0 {
		return Profile{}, faults
	}
	apex, ok := meet(a, b)
	if !ok {
		add(joints.FaultConflict, "surface-b", "is parallel to surface-a within 3°: they do not meet in a joint root", "check which points are on which member")
		return Profile{}, faults
	}
	if faults = orderly(face, a, b); len(faults) > 0 {
		return Profile{}, faults
	}
	toe := func(l straight, near geometry.Point, field string) geometry.Point {
		q, miss := arc.onLine(l.at, l.dir, near)
		if miss > maxMiss*arc.c || q.Dist(near) > 2*maxMiss*arc.c {
			add(joints.FaultConflict, "face", fmt.Sprintf("does not meet %s near its end: they pass %.3g mm apart", field, math.Max(miss, l.distance(near))),
				"give points of the face up to its toes, and of the surfaces beside them")
		}
		return q
	}
	t0, t1 := toe(a, face[0], "surface-a"), toe(b, face[len(face)-1], "surface-b")
	if len(faults) > 0 {
		return Profile{}, faults
	}
	e0, e1 := t0.Sub(apex).Unit(), t1.Sub(apex).Unit()
	across := e0.Perp()
	if across.Dot(e1) < 0 {
		across = across.Scale(-1)
	}
	in := func(q geometry.Point) geometry.Point {
		d := q.Sub(apex)
		return geometry.Point{X: d.Dot(e0), Y: d.Dot(across)}
	}
	out := Profile{Shape: Shape{Psi: in(t1).Angle(), Legs: [2]float64{apex.Dist(t0), apex.Dist(t1)}}, FaceWidth: t0.Dist(t1)}
	for i, leg := range out.Legs {
		if leg < joints.LegRange.Min || leg > joints.LegRange.Max {
			add(joints.FaultRange, "scale", fmt.Sprintf("gives leg %s = %.4g mm, which must lie between %g mm and %g mm",
				[...]string{"a", "b"}[i], leg, joints.LegRange.Min, joints.LegRange.Max), "check the millimetres in one unit of the points")
		}
	}
	if len(faults) > 0 {
		return Profile{}, faults
	}
	out.Rise = arc.rise(out.FaceWidth)
	if arc.n.Dot(t0.Lerp(t1, 0.5).Sub(apex)) < 0 {
		out.Rise = -out.Rise
	}
	out.Root = f.root(out.Psi, sizes.Gap, sizes.Penetration)
	if len(p.Root) > 0 {
		corner := f.cornerAt(out.Psi, sizes.Gap)
		deepest := math.Inf(-1)
		for _, q := range mm(p.Root) {
			if d := in(q).Sub(corner).Dot(f.faying); d > deepest {
				deepest, out.Root = d, in(q)
			}
		}
		out.Reached = some(deepest)
	}
	out.Throat, out.Area = out.throat(), out.Shape.Area()
	n, m, k := float64(len(p.SurfaceA)), float64(len(p.SurfaceB)), float64(len(face))
	out.Residual = math.Sqrt((n*a.rms*a.rms + m*b.rms*b.rms + k*arc.rms*arc.rms) / (n + m + k))
	return out, nil
}

func (l straight) distance(p geometry.Point) float64 { return math.Abs(l.dir.Cross(p.Sub(l.at))) }

// rise is the sagitta of the circle over a chord of the width.
func (r *round) rise(width float64) float64 {
	q := r.k * width / 2
	return r.k * width * width / 4 / (1 + math.Sqrt(math.Max(0, 1-q*q)))
}

// orderly checks that the face runs from surface a to surface b.
func orderly(face []geometry.Point, a, b straight) (faults joints.Faults) {
	first, last := face[0], face[len(face)-1]
	chord := last.Sub(first)
	if a.distance(first) > b.distance(first) && b.distance(last) > a.distance(last) {
		return joints.Faults{{Code: FaultOrder, Field: "face", Rule: "runs from the toe on surface-b to the toe on surface-a",
			Remedy: "give its points in the other order, or swap the surfaces"}}
	}
	if length := chord.Norm(); a.distance(first) > maxMiss*length || b.distance(last) > maxMiss*length {
		return joints.Faults{{Code: joints.FaultConflict, Field: "face", Rule: "does not begin on surface-a and end on surface-b",
			Remedy: "give its points from the toe on a to the toe on b"}}
	}
	done := 0.0
	for i, p := range face {
		at := p.Sub(first).Dot(chord) / chord.Dot(chord)
		if at < done-maxBack {
			return joints.Faults{{Code: FaultOrder, Field: "face", Value: fmt.Sprintf("point %d", i+1), Rule: "runs back along the face",
				Remedy: "give the points in the order in which they lie"}}
		}
		done = math.Max(done, at)
	}
	return nil
}
