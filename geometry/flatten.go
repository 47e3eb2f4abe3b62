package geometry

import "math"

// Flatten returns the vertices of a polygon no point of which is farther than
// tol mm from the outline, the first vertex not repeated at the end. A tol that
// is not positive, or is finer than a tenth of a nanometre, counts as that.
// It serves writers that know no curves; no reported number uses it.
func (o Outline) Flatten(tol float64) []Point {
	out := make([]Point, 0, 4*len(o.edges))
	for i := range o.edges {
		out = o.edges[i].flatten(tol, out)
	}
	return out
}

// Flatten returns points along the edge from its start up to, not including,
// its end, such that the chords stay within tol mm of it.
func (e Edge) Flatten(tol float64) []Point { return e.flatten(tol, nil) }

func (e *Edge) flatten(tol float64, dst []Point) []Point {
	if !(tol > flattenFloor) {
		tol = flattenFloor
	}
	n := 1.0
	switch e.kind {
	case LineEdge:
	case ArcEdge:
		// A chord over the angle δ departs by r(1 − cos ½δ) = 2r·sin²(¼δ).
		if x := tol / (2 * e.Radius()); x < 1 {
			n = math.Abs(float64(e.Sweep())) / (4 * math.Asin(math.Sqrt(x)))
		} else {
			n = 2
		}
	case QuadEdge:
		// A chord over the parameter step 1/n departs by |A|/(4n²).
		_, av := e.quadBasis()
		n = math.Sqrt(av.Norm() / (4 * tol))
	}
	k := int(min(max(math.Ceil(n), 1), flattenMost))
	for i := range k {
		dst = append(dst, e.At(float64(i)/float64(k)))
	}
	return dst
}
