package joints

import (
	"math"

	"fay/geometry"
)

// rim is one stretch of a weld's boundary against a member: the surface as it
// was before welding and the fusion line under it, which are the same edge
// where no fusion is claimed.
type rim struct {
	bare, fused geometry.Edge
	melts       bool
}

// plain is a rim without fusion.
func plain(e geometry.Edge) rim { return rim{bare: e, fused: e} }

// sunk is a straight rim from a to b with a fusion line depth under it.
func sunk(a, b, inward geometry.Point, depth geometry.Length) rim {
	return rim{geometry.Line(a, b), bowl(a, b, inward, float64(depth), 0), depth > 0}
}

// pour closes a weld round its face, which runs from toe 0 to toe 1, and its
// rims, which lead from toe 1 back to toe 0, and puts it in place. Deposit,
// melted metal and the whole are each integrated along their own outline.
func (w *Weld) pour(face []geometry.Edge, rims []rim, place geometry.Transform) error {
	bare := append(make([]geometry.Edge, 0, len(face)+len(rims)), face...)
	fused := append(make([]geometry.Edge, 0, len(face)+len(rims)), face...)
	for _, r := range rims {
		if r.bare.Start().Dist(r.bare.End()) <= geometry.Coincident {
			continue
		}
		bare, fused = append(bare, r.bare), append(fused, r.fused)
		if r.melts {
			w.MeltedBaseArea += math.Abs(geometry.Area(r.fused, r.bare.Reverse()))
			w.FusionLine = append(w.FusionLine, r.fused.Transform(place))
		}
	}
	profile, err := geometry.NewOutline(fused...)
	if err != nil {
		return err
	}
	w.Profile = profile.Transform(place).CCW()
	w.Area, w.Centroid = w.Profile.Area(), w.Profile.Centroid()
	w.DepositedArea = math.Abs(geometry.Area(bare...))
	w.FaceEdges = mapEdges(face, place)
	w.FaceWidth = geometry.Length(w.FaceEdges[0].Start().Dist(w.FaceEdges[len(face)-1].End()))
	w.CapWidth = Some(w.FaceWidth)
	return nil
}

// capped records the cap of a weld.
func (w *Weld) capped(rise geometry.Length, shape CapShape) {
	w.Face, w.Convexity, w.CapShape = FaceFlat, rise, shape
	if rise > 0 {
		w.Face, w.CapHeight = FaceConvex, Some(rise)
	}
}

// roundCaps are the caps of welds that no handbook tabulates with a flat top.
var roundCaps = []string{string(CapArc), string(CapParabola)}

// roundCap checks the numbers of such a cap and settles its shape.
func (c *checker) roundCap(field func(string) string, rise geometry.Length, shape *CapShape) {
	c.lengthOf(field, "cap", rise, RiseRange)
	if *shape == "" {
		*shape = CapArc
	}
	c.oneOf(field("cap-shape"), string(*shape), roundCaps...)
}

// capFits refuses a cap over a chord of the width that is higher than a half
// round or that runs into a member at a toe, where open is the angle through
// the air between the chord and the member's surface.
func (c *checker) capFits(field string, rise, width float64, shape CapShape, open ...geometry.Angle) {
	limit := width / 2
	for _, a := range open {
		if a >= math.Pi/2 {
			continue
		}
		// An arc leaves its chord at 2·atan(2h/w), a parabola at atan(4h/w).
		reach := width / 2 * (a / 2).Tan()
		if shape == CapParabola {
			reach = width / 4 * a.Tan()
		}
		limit = math.Min(limit, reach)
	}
	if rise > limit*(1+tiny) {
		c.add(Fault{Code: FaultFace, Field: field, Value: showLength(rise),
			Rule:   "is too high for a weld face " + showLength(width) + " wide: it overhangs half round, or runs into a member at the toe",
			Remedy: "the highest cap taken here is " + showLength(downTo(limit))})
	}
}

// overhangs notes toes that a cap hangs over.
func (s *Section) overhangs(w *Weld) {
	for _, f := range w.Feet {
		if float64(f.ToeAngle) < math.Pi/2-tiny {
			s.Notes = append(s.Notes, "the cap of the "+w.ID+" weld overhangs its toe on the "+s.memberName(f.Member))
		}
	}
}

// edgesLike finds the edges of an outline that have the same middle as one of
// the edges given: where an edge went when the outline was put in place.
func edgesLike(o geometry.Outline, like ...geometry.Edge) []int {
	var out []int
	for i, e := range o.All() {
		for _, l := range like {
			if e.At(0.5).Dist(l.At(0.5)) <= geometry.Coincident {
				out = append(out, i)
			}
		}
	}
	return out
}
