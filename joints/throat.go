package joints

import (
	"math"

	"fay/geometry"
)

// filletThroats finds the inscribed triangle, the weld root and the three
// throats.
func (c *checker) filletThroats(field func(string) string, k nook, p Fillet, w *Weld) bool {
	corner := k.apex.Add(k.along[1].Scale(k.corner))
	w.RootCorner = corner
	w.WeldRoot = corner.Add(k.faying.Scale(float64(p.Penetration)))

	a, b := inscribed(k, w)
	w.Triangle = [3]geometry.Point{k.apex, a, b}
	hypotenuse := geometry.Line(a, b)
	w.TheoreticalLine = shortest(k.apex, hypotenuse)

	effectiveRoot := corner
	if p.Proven {
		effectiveRoot = w.WeldRoot
	}
	// The root must lie on the joint's side of the hypotenuse, or no sound
	// throat is left.
	if handed(k)*b.Sub(a).Cross(effectiveRoot.Sub(a)) <= 0 {
		c.add(Fault{Code: FaultFace, Field: field("rise"), Value: showLength(math.Abs(float64(w.Convexity))), At: new(corner),
			Rule:   "the concave face passes under the weld root, so that no throat is left",
			Remedy: "lay a larger leg, close the gap or keep the face flatter"})
		return false
	}
	// To the line of the hypotenuse: with a foot on the face that is the
	// shortest distance, and where a deep proven penetration throws the foot
	// past the toe it is the smaller, safe number.
	along := b.Sub(a).Unit()
	foot := a.Add(along.Scale(effectiveRoot.Sub(a).Dot(along)))
	// A toe on the member's outer edge ends the face for good: past it the
	// shortest distance is the one to the toe.
	if foot.Sub(a).Dot(along) < 0 && k.air(0, float64(w.Feet[0].Leg)) > math.Pi {
		foot = a
	}
	if b.Sub(foot).Dot(along) < 0 && k.air(1, float64(w.Feet[1].Leg)) > math.Pi {
		foot = b
	}
	w.EffectiveLine = Line{From: effectiveRoot, To: foot}
	w.ActualLine = shortestOf(w.WeldRoot, w.FaceEdges)
	w.TheoreticalThroat = lengthOf(w.TheoreticalLine)
	w.EffectiveThroat = lengthOf(w.EffectiveLine)
	w.ActualThroat = lengthOf(w.ActualLine)
	return true
}

func shortest(from geometry.Point, to geometry.Edge) Line {
	q, _ := to.Nearest(from)
	return Line{From: from, To: q}
}

func lengthOf(l Line) geometry.Length { return geometry.Length(l.From.Dist(l.To)) }

// inscribed returns the ends, on surface 0 and surface 1, of the hypotenuse
// of the largest triangle that has its apex in the joint root, its sides along
// the member surfaces, and fits under the face.
//
// Under a flat or convex face that is the chord. Under a concave arc the
// hypotenuse touches the arc; with k the distance of the tangent from the apex
// and m its unit normal, the triangle's area is k²·sinψ / (2 (m·e)(m·u)). The
// area is stationary where the touching point halves the hypotenuse, which
// equal legs meet at mid-face.
func inscribed(k nook, w *Weld) (a, b geometry.Point) {
	if w.Convexity >= 0 {
		return w.Feet[0].Toe, w.Feet[1].Toe
	}
	centre, _ := w.FaceEdges[0].Centre()
	r := w.FaceEdges[0].Radius()
	from := w.Feet[0].Toe.Sub(centre)
	to := w.Feet[1].Toe.Sub(centre)
	// The normal turns from toe 0 to toe 1 as t runs from 0 to 1; the
	// difference of the two parts of the tangent grows steadily from negative
	// to positive.
	lo, hi := 0.0, 1.0
	for {
		t := (lo + hi) / 2
		n := from.Lerp(to, t).Unit()
		a, b = tangentEnds(k, centre, r, n)
		if t == lo || t == hi {
			return a, b
		}
		touch := centre.Add(n.Scale(r))
		if touch.Dist(a) < touch.Dist(b) {
			lo = t
		} else {
			hi = t
		}
	}
}

// tangentEnds intersects the tangent at centre + r·n with both surfaces.
func tangentEnds(k nook, centre geometry.Point, r float64, n geometry.Point) (a, b geometry.Point) {
	// The tangent is the line n·x = n·centre + r; n points at the apex.
	d := n.Dot(centre.Sub(k.apex)) + r
	a = k.apex.Add(k.along[0].Scale(d / n.Dot(k.along[0])))
	b = k.apex.Add(k.along[1].Scale(d / n.Dot(k.along[1])))
	return a, b
}

// filletMetal closes the fused profile and finds its areas. Deposit, melted
// metal and the whole are each integrated along their own outline.
func (c *checker) filletMetal(field func(string) string, k nook, p Fillet, w *Weld) bool {
	before := len(c.faults)
	pen := float64(p.Penetration)
	if pen > k.contact*(1+tiny) {
		c.add(Fault{Code: FaultFusion, Field: field("penetration"), Value: showLength(pen),
			Rule:   "reaches past the end of the faying surface, " + showLength(k.contact) + " deep",
			Remedy: "the largest penetration here is " + showLength(downTo(k.contact))})
	}
	for i := range p.Fusion {
		if f := float64(p.Fusion[i]); f >= k.depth[i]*(1-tiny) {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(f),
				Rule:   "melts through the " + k.name[i] + ", which is " + showLength(k.depth[i]) + " deep here",
				Remedy: "keep it under " + showLength(downTo(k.depth[i]))})
		}
	}
	toe0, toe1 := w.Feet[0].Toe, w.Feet[1].Toe
	corner := k.apex.Add(k.along[1].Scale(k.corner))
	root := w.WeldRoot
	// foot is the weld root's shadow on the continuous surface, cast along the
	// abutting face: metal in the gap counts up to that line and no further.
	rest, foot := k.begin(k.apex), k.begin(shadow(k, root))
	if s := toe0.Sub(rest).Dot(k.along[0]); s <= tiny*float64(w.FaceWidth) {
		c.add(Fault{Code: FaultLeg, Field: field("leg"), Value: showLength(float64(w.Feet[0].Leg)), At: new(rest),
			Rule:   "does not reach the " + k.name[0] + ", whose face begins " + showLength(k.start) + " from the joint root",
			Remedy: "close " + k.gapField + " or give a leg over " + showLength(upTo(k.start))})
	}

	base := bowl(foot, toe0, k.inward(0), float64(p.Fusion[0]), 0)
	sunk := root.Sub(corner).Dot(k.inward(1)) // depth of the weld root behind surface 1
	fusion := float64(p.Fusion[1])
	if fusion > 0 && fusion < sunk/4 {
		c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(fusion),
			Rule:   "is too shallow for the penetration, which alone melts deeper into the " + k.name[1],
			Remedy: "leave it out or give at least " + showLength(upTo(sunk/4))})
	}
	if fusion == 0 {
		fusion = sunk / 2 // the straight line from toe to root
	}
	stem := bowl(toe1, root, k.inward(1), fusion, sunk)
	if end := k.faying.Perp(); fusion > 0 && pastEnd(stem, corner, end.Scale(math.Copysign(1, end.Dot(k.along[1])))) {
		c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(fusion), At: new(corner),
			Rule: "runs out of the " + k.name[1] + " through its end", Remedy: "claim a shallower fusion there"})
	}
	if len(c.faults) > before {
		return false
	}

	h := handed(k)
	laid := append([]geometry.Edge{geometry.Line(rest, toe0)}, w.FaceEdges...)
	laid = append(laid, geometry.Line(toe1, corner), geometry.Line(corner, rest))
	deposit := h * geometry.Area(laid...)
	if pen > 0 {
		deposit += h * geometry.Area(geometry.Line(rest, corner), geometry.Line(corner, root), geometry.Line(root, foot), geometry.Line(foot, rest))
	}
	melted := h * geometry.Area(base, geometry.Line(toe0, foot))
	melted += h * geometry.Area(stem, geometry.Line(root, corner), geometry.Line(corner, toe1))

	chain := make([]geometry.Edge, 0, 6)
	chain = append(chain, base)
	chain = append(chain, w.FaceEdges...)
	chain = append(chain, stem)
	if root.Dist(foot) > tiny*float64(w.FaceWidth) {
		chain = append(chain, geometry.Line(root, foot))
	} else {
		chain[0] = bowl(root, toe0, k.inward(0), float64(p.Fusion[0]), 0)
	}
	profile, err := geometry.NewOutline(chain...)
	if err != nil {
		c.add(Fault{Code: FaultGeometry, Field: field("leg"), Rule: "the weld outline does not close: " + err.Error(),
			Remedy: "lay a smaller penetration or a larger leg", At: new(root)})
		return false
	}
	w.Profile = profile.CCW()
	w.Area = w.Profile.Area()
	w.Centroid = w.Profile.Centroid()
	w.DepositedArea = deposit
	w.MeltedBaseArea = melted
	if p.Fusion[0] > 0 {
		w.FusionLine = append(w.FusionLine, chain[0])
	}
	if p.Fusion[1] > 0 || pen > 0 {
		w.FusionLine = append(w.FusionLine, stem)
	}
	return true
}

// inward is the unit normal of surface i that points into the member.
func (k nook) inward(i int) geometry.Point {
	n := k.along[i].Perp()
	if n.Dot(k.along[1-i]) > 0 {
		n = n.Scale(-1)
	}
	return n
}

// pastEnd reports whether a fusion line leaves the abutting member through its
// end, a line through corner whose normal n points into the member.
func pastEnd(e geometry.Edge, corner, n geometry.Point) bool {
	if e.Kind() != geometry.QuadEdge {
		return false
	}
	return e.Control().Sub(corner).Dot(n) < -tiny*e.Start().Dist(e.End())
}

// shadow casts p along surface 1 onto surface 0.
func shadow(k nook, p geometry.Point) geometry.Point {
	d := p.Sub(k.apex)
	// d = s·along0 + t·along1
	s := d.Cross(k.along[1]) / k.along[0].Cross(k.along[1])
	return k.apex.Add(k.along[0].Scale(s))
}

// begin moves a point of surface 0 up to where the surface begins.
func (k nook) begin(p geometry.Point) geometry.Point {
	if k.ends && p.Sub(k.apex).Dot(k.along[0]) < k.start {
		return k.apex.Add(k.along[0].Scale(k.start))
	}
	return p
}

// bowl is the fusion line from a to b: a parabola whose middle lies depth
// inside the member, counted from the surface at a (a lies on it; b lies end
// deep). Depth and end of zero give the surface itself.
func bowl(a, b, inward geometry.Point, depth, end float64) geometry.Edge {
	if depth == 0 && end == 0 {
		return geometry.Line(a, b)
	}
	// The surface point under the middle, then down by depth; the control
	// point of the quadratic through it at t = 1/2.
	middle := a.Lerp(b.Sub(inward.Scale(end)), 0.5).Add(inward.Scale(depth))
	ctrl := middle.Scale(2).Sub(a.Lerp(b, 0.5))
	if end != 0 && math.Abs(depth-end/2) <= tiny*math.Abs(end) {
		return geometry.Line(a, b)
	}
	return geometry.Quad(a, ctrl, b)
}
