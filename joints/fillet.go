package joints

import (
	"fmt"
	"math"

	"fay/geometry"
)

// Fillet are the parameters of a fillet weld. Exactly one of Legs, Throat and
// GaugeLegs says how big it is; the zero value of the others means not given.
type Fillet struct {
	// Legs along the member surfaces, [0] on the continuous member, [1] on
	// the abutting one.
	Legs [2]geometry.Length
	// Throat is the effective throat wanted of an equal-leg fillet; the legs
	// follow from the dihedral angle, the gap and a concave rise.
	Throat geometry.Length
	// GaugeLegs are the sizes a gauge reads: from each toe square to the other
	// member's surface.
	GaugeLegs [2]geometry.Length

	// Face is flat when empty. Rise is the mid-face departure from the chord,
	// a positive number for convex and for concave faces alike.
	Face FaceShape
	Rise geometry.Length

	// Penetration beyond the joint root, measured along the faying surface;
	// zero claims none. Proven says that tests prove it, so that it counts in
	// the effective throat too.
	Penetration geometry.Length
	Proven      bool
	// Fusion is the greatest depth melted into each member, normal to its
	// face; zero claims none.
	Fusion [2]geometry.Length
}

// EqualFillet is a flat fillet with two equal legs.
func EqualFillet(leg geometry.Length) *Fillet {
	return &Fillet{Legs: [2]geometry.Length{leg, leg}}
}

// nook is the corner between two member surfaces that a fillet fills.
type nook struct {
	apex     geometry.Point // intersection of the two surfaces
	along    [2]geometry.Point
	psi      geometry.Angle
	member   [2]int
	name     [2]string
	room     [2]float64 // length of each surface from the apex to the member's real edge; +Inf where it runs on
	depth    [2]float64 // metal behind each surface that fusion may reach
	edge     [2]bool    // surface is the cut edge of a plate
	gap      float64    // members' separation at this side, square to the continuous surface
	faying   geometry.Point
	contact  float64 // length of the faying surface that penetration may reach
	corner   float64 // distance from the apex, along surface 1, of the abutting member's corner
	gapField string
	// ends is set where surface 0 belongs to a member that ends at the joint:
	// its face begins start along the surface from the apex.
	ends  bool
	start float64
	// brim is the direction of the member's outer face at the edge that bounds
	// surface i; zero takes the surface as prolonged.
	brim [2]geometry.Point
	// flush fills the nook square out to the prolonged outer faces.
	flush bool
}

// fillet computes a fillet in the nook. It returns false when a fault was
// found; the weld is then not usable.
func (c *checker) fillet(id string, side Side, k nook, p Fillet) (Weld, bool) {
	before := len(c.faults)
	field := func(s string) string { return "welds." + id + "." + s }

	legs, ok := c.filletLegs(field, k, p)
	rise := c.filletRise(field, p)
	c.lengthOf(field, "penetration", p.Penetration, FusionRange)
	for i := range p.Fusion {
		c.lengthOf(field, "fusion", p.Fusion[i], FusionRange)
	}
	if !ok || len(c.faults) > before {
		return Weld{}, false
	}

	w := Weld{
		ID: id, Side: side, Kind: FilletWeld,
		Dihedral: k.psi, Gap: geometry.Length(k.gap),
		Face: faceOf(p), Convexity: geometry.Length(rise),
		Penetration: p.Penetration, Proven: p.Proven,
		JointRoot: k.apex,
	}
	if !c.filletFeet(field, k, p, legs, rise, &w) {
		return Weld{}, false
	}
	if k.flush && !c.flushFace(field, k, &w) {
		return Weld{}, false
	}
	if !c.filletThroats(field, k, p, &w) {
		return Weld{}, false
	}
	if !c.filletMetal(field, k, p, &w) {
		return Weld{}, false
	}
	return w, true
}

func faceOf(p Fillet) FaceShape {
	if p.Face == "" {
		return FaceFlat
	}
	return p.Face
}

// filletLegs settles the two legs from whichever size was given.
func (c *checker) filletLegs(field func(string) string, k nook, p Fillet) ([2]float64, bool) {
	given := 0
	for _, g := range []bool{p.Legs != [2]geometry.Length{}, p.Throat != 0, p.GaugeLegs != [2]geometry.Length{}} {
		if g {
			given++
		}
	}
	switch {
	case given == 0:
		c.add(Fault{Code: FaultMissing, Field: field("leg"),
			Rule: "a fillet needs a size", Remedy: "give leg, throat or gauge-leg"})
		return [2]float64{}, false
	case given > 1:
		c.add(Fault{Code: FaultConflict, Field: field("leg"),
			Rule: "leg, throat and gauge-leg exclude each other", Remedy: "keep one of them"})
		return [2]float64{}, false
	}
	sin := math.Sin(float64(k.psi))
	switch {
	case p.Throat != 0:
		if !c.lengthOf(field, "throat", p.Throat, LegRange) {
			return [2]float64{}, false
		}
		// Distance from the apex to the chord is leg·cos(ψ/2); the weld root
		// stands corner·cos(ψ/2) nearer to it, and a concave face lies rise
		// nearer still.
		a := float64(p.Throat)
		if p.Face == FaceConcave {
			a += float64(p.Rise)
		}
		if p.Proven {
			// Proven penetration moves the root back along the faying surface.
			a -= float64(p.Penetration) * -k.faying.Dot(bisector(k))
		}
		z := a/math.Cos(float64(k.psi)/2) + k.corner
		if z <= 0 {
			c.add(Fault{Code: FaultConflict, Field: field("throat"), Value: showLength(float64(p.Throat)),
				Rule: "is reached by the proven penetration alone", Remedy: "give the leg instead"})
			return [2]float64{}, false
		}
		return [2]float64{z, z}, true
	case p.GaugeLegs != [2]geometry.Length{}:
		ok := true
		for i := range p.GaugeLegs {
			ok = c.lengthOf(field, "gauge-leg", p.GaugeLegs[i], LegRange) && ok
		}
		return [2]float64{float64(p.GaugeLegs[0]) / sin, float64(p.GaugeLegs[1]) / sin}, ok
	}
	ok := true
	for i := range p.Legs {
		ok = c.lengthOf(field, "leg", p.Legs[i], LegRange) && ok
	}
	return [2]float64{float64(p.Legs[0]), float64(p.Legs[1])}, ok
}

// bisector points from the apex into the nook.
func bisector(k nook) geometry.Point { return k.along[0].Add(k.along[1]).Unit() }

// filletRise returns the signed rise: positive for a convex face.
func (c *checker) filletRise(field func(string) string, p Fillet) float64 {
	rise := float64(p.Rise)
	if !c.lengthOf(field, "rise", p.Rise, RiseRange) {
		return 0
	}
	switch p.Face {
	case "", FaceFlat:
		if rise != 0 {
			c.add(Fault{Code: FaultConflict, Field: field("rise"), Value: showLength(rise),
				Rule: "a flat face has no rise", Remedy: "give face=convex or face=concave with it"})
		}
		return 0
	case FaceConvex:
		return rise
	case FaceConcave:
		return -rise
	}
	c.add(Fault{Code: FaultUnknown, Field: field("face"), Value: string(p.Face),
		Rule: "must be flat, convex or concave", Remedy: "leave it out for flat"})
	return 0
}

// filletFeet places the toes, checks that legs and face stay inside the
// joint, and fills in legs, gauge legs, toe angles and the face.
func (c *checker) filletFeet(field func(string) string, k nook, p Fillet, legs [2]float64, rise float64, w *Weld) bool {
	ok := true
	sin, cos := math.Sin(float64(k.psi)), math.Cos(float64(k.psi))
	for i, z := range legs {
		if z > k.room[i]*(1+tiny) {
			c.add(Fault{Code: FaultLeg, Field: field("leg"), Value: showLength(z), At: new(k.apex.Add(k.along[i].Scale(k.room[i]))),
				Rule:   fmt.Sprintf("runs past the edge of the %s, whose face ends %s from the joint root", k.name[i], showLength(k.room[i])),
				Remedy: fmt.Sprintf("the largest leg there is %s", showLength(downTo(k.room[i])))})
			ok = false
		}
	}
	if legs[1] <= k.corner*(1+tiny) {
		c.add(Fault{Code: FaultLeg, Field: field("leg"), Value: showLength(legs[1]), At: new(k.apex.Add(k.along[1].Scale(k.corner))),
			Rule:   fmt.Sprintf("does not reach the %s, whose corner stands %s from the joint root across the gap", k.name[1], showLength(k.corner)),
			Remedy: fmt.Sprintf("close %s or give a leg over %s", k.gapField, showLength(upTo(k.corner)))})
		ok = false
	}
	if !ok {
		return false
	}

	width := math.Sqrt(legs[0]*legs[0] + legs[1]*legs[1] - 2*legs[0]*legs[1]*cos)
	// Interior angles of the flat triangle at the toes, and the angle by which
	// the arc turns the face away from its chord there.
	turn := 2 * math.Atan(2*rise/width)
	for i := range legs {
		flat := math.Atan2(legs[1-i]*sin, legs[i]-legs[1-i]*cos)
		inner := flat + turn
		air := k.air(i, legs[i])
		most := air - math.Pi/2 // beyond it the face overhangs its toe
		toe := k.apex.Add(k.along[i].Scale(legs[i]))
		switch {
		case flat > most+tiny:
			c.add(Fault{Code: FaultLeg, Field: field("leg"), Value: showLength(legs[i]), At: new(toe),
				Rule:   fmt.Sprintf("is so short against the other leg that the face overhangs its toe on the %s", k.name[i]),
				Remedy: fmt.Sprintf("at this angle the smallest leg beside %s is %s", showLength(legs[1-i]), showLength(upTo(legs[1-i]*cos)))})
			ok = false
		case inner > most+tiny:
			limit := width / 2 * math.Tan((most-flat)/2)
			c.add(Fault{Code: FaultFace, Field: field("rise"), Value: showLength(rise), At: new(toe),
				Rule:   fmt.Sprintf("makes the convex face overhang its toe on the %s", k.name[i]),
				Remedy: fmt.Sprintf("the largest convex rise here is %s", showLength(downTo(limit)))})
			ok = false
		case inner < tiny:
			limit := width / 2 * math.Tan(flat/2)
			c.add(Fault{Code: FaultFace, Field: field("rise"), Value: showLength(-rise), At: new(toe),
				Rule:   fmt.Sprintf("makes the concave face dip into the %s at its toe", k.name[i]),
				Remedy: fmt.Sprintf("keep the concave rise under %s", showLength(downTo(limit)))})
			ok = false
		}
		foot := Foot{
			Member: k.member[i], Toe: toe, OnEdge: k.edge[i],
			Leg: geometry.Length(legs[i]), GaugeLeg: geometry.Length(legs[i] * sin),
			ToeAngle: geometry.Angle(air - inner), Fusion: p.Fusion[i],
		}
		if !math.IsInf(k.room[i], 1) {
			foot.EdgeRemaining = Some(geometry.Length(math.Max(0, k.room[i]-legs[i])))
		}
		w.Feet[i] = foot
	}
	w.FaceWidth = geometry.Length(width)
	w.FaceEdges = []geometry.Edge{geometry.Arc(w.Feet[0].Toe, w.Feet[1].Toe, handed(k)*rise)}
	return ok
}

// air is the angle between surface i, back to the apex, and the surface beyond
// a toe at leg, measured outside the member: half a turn, or more where the toe
// stands on the outer edge and the member turns away there.
func (k nook) air(i int, leg float64) float64 {
	if k.brim[i] == (geometry.Point{}) || leg < k.room[i]*(1-tiny) {
		return math.Pi
	}
	return 2*math.Pi - float64(toeAngle(k.along[i].Scale(-1), k.brim[i]))
}

// handed is +1 where the weld, walked from toe 0 over the face to toe 1 and
// back by the joint root, is counter-clockwise.
func handed(k nook) float64 {
	if k.along[0].Cross(k.along[1]) < 0 {
		return -1
	}
	return 1
}

//go:fix inline
