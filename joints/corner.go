package joints

import (
	"fmt"
	"math"

	"fay/geometry"
)

// FaceFlush fills the groove of a corner square out to the prolonged outer
// faces of both members.
const FaceFlush FaceShape = "flush"

// Corner are the parameters of a corner joint: an upright standing at the end
// of a level base.
type Corner struct {
	Base, Upright Plate
	// Angle is the dihedral angle between the base's top and the upright's
	// inner face. Zero means 90°.
	Angle geometry.Angle
	// Cover is how much of the upright's end stands on the base: 0 open, inner
	// edges meeting; 1 closed, outer faces flush.
	Cover float64
	// Gap is the distance of the upright's inner edge from the plane of the
	// base's top.
	Gap geometry.Length
	// UprightEnd is square when empty.
	UprightEnd StemEnd
	// Outside fills the groove between the base's end and what the base leaves
	// uncovered of the upright's end; without a size its toes stand on the
	// outer edges. On a closed corner it is an edge weld along the seam: Legs
	// reach over each face, Penetration is its size and a convex Rise its cap.
	// Inside is a fillet. At least one is needed. Legs, GaugeLegs and Fusion
	// are [0] of the base, [1] of the upright.
	Outside, Inside *Fillet

	extent extent
}

// Names of the weld slots of corner and edge joints.
const (
	outsideID = "outside"
	insideID  = "inside"
)

var coverRange = Range{0, 1}

var cornerKind = Kind{
	Name: "corner", Title: "Corner joint",
	Doc:     "an upright at the end of a base, open, half open or closed, welded outside, inside or both",
	Members: []MemberSlot{{"base", "level member, its end at the right"}, {"upright", "member that stands at the end of the base"}},
	Params: []Param{
		{Name: "angle", Type: ParamAngle, Default: "90", Limits: SkewRange, FitUp: true,
			Usual: Range{60 * float64(geometry.Degree), 120 * float64(geometry.Degree)},
			Doc:   "dihedral angle between base and upright on the inside"},
		{Name: "cover", Type: ParamNumber, Default: "0", Limits: coverRange, FitUp: true, Usual: Range{0, 0.6},
			Doc: "how much of the upright's end stands on the base: 0 open, inner edges meeting; 1 closed, outer faces flush"},
		{Name: "gap", Type: ParamLength, Default: "0", Limits: GapRange, FitUp: true, Usual: Range{0, 1},
			Doc: "distance of the upright's inner edge from the plane of the base's top"},
		{Name: "upright-end", Type: ParamChoice, Default: string(StemSquare),
			Choices: []string{string(StemSquare), string(StemFitted)},
			Doc:     "cut of a skewed upright's end: square meets the base with its inner edge only, fitted lies parallel to the base"},
	},
	Welds: []WeldSlot{
		{outsideID, "weld in the outer groove; an edge weld along the seam of a closed corner", outsideParams()},
		{insideID, "fillet in the inner corner", filletParams},
	},
	Example: "corner base=6 upright=4 leg=4 face=convex rise=0.5",
	build: func(r *reader) (Section, error) {
		return NewCorner(Corner{
			Base: r.plate("base"), Upright: r.plate("upright"),
			Angle: r.angle("angle"), Cover: r.number("cover"), Gap: r.length("gap"), UprightEnd: StemEnd(r.choice("upright-end")),
			Outside: r.fillet(outsideID), Inside: r.fillet(insideID), extent: r.extent,
		})
	},
}

// outsideParams are those of a fillet whose size may be left out and whose
// face may be flush.
func outsideParams() []Param {
	ps := make([]Param, len(filletParams))
	copy(ps, filletParams)
	for i := range ps {
		p := &ps[i]
		p.Needed = false
		switch p.Name {
		case "leg":
			p.Usual = Range{1, 4}
			p.Doc = "leg along each member's cut edge, base first; the groove is filled to the outer edges when no size is given. On a closed corner: how far the weld reaches over each face from the seam"
		case "throat":
			p.Doc = "effective throat wanted, instead of leg: equal legs follow"
		case "face":
			p.Choices = append([]string{string(FaceFlush)}, p.Choices...)
			p.Doc = "shape of the weld face; flush fills the groove out to the prolonged outer faces"
		case "penetration":
			p.Doc = "beyond the joint root along the faying surface; 0 claims none. On a closed corner: the size of the weld, from the faces down to its root"
		}
	}
	return ps
}

// NewCorner computes the section of a corner joint. The error, if any, is of
// type [Faults].
func NewCorner(p Corner) (Section, error) {
	c := &checker{}
	c.cornerValues(&p)
	if !c.ok() {
		return Section{}, c.err()
	}
	g := cornerGeometry(p)
	s := Section{Kind: "corner", Title: "Corner joint", Welds: make([]Weld, 0, 2)}
	if p.Outside != nil {
		if w, ok := c.outside(p, g); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	if p.Inside != nil {
		side := OtherSide
		if p.Outside == nil {
			side = ArrowSide
		}
		if w, ok := c.inside(p, g, side); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	// The welds of an open corner begin at the same edges.
	var meet []geometry.Point
	if g.covered == 0 {
		meet = []geometry.Point{g.lip, g.inner}
	}
	c.apart(s.Welds, "corner", meet...)
	if !c.ok() {
		return Section{}, c.err()
	}
	if err := g.members(p, &s); err != nil {
		return Section{}, err
	}
	g.measures(p, &s)
	return s, nil
}

// cornerValues checks every value on its own, fills in what was left out and
// refuses combinations that cannot be put together.
func (c *checker) cornerValues(p *Corner) {
	if p.Angle == 0 || math.Abs(float64(p.Angle-90*geometry.Degree)) < tiny {
		p.Angle = 90 * geometry.Degree
	}
	if p.UprightEnd == "" {
		p.UprightEnd = StemSquare
	}
	c.plate("base", p.Base)
	c.plate("upright", p.Upright)
	c.angle("angle", p.Angle, SkewRange)
	if c.value("cover", p.Cover, coverRange, trimFloat) {
		p.Cover = math.Min(math.Max(p.Cover, 0), 1)
		if p.Cover > 1-tiny {
			p.Cover = 1
		}
	}
	c.length("gap", p.Gap, GapRange)
	c.oneOf("upright-end", string(p.UprightEnd), string(StemSquare), string(StemFitted))
	if p.Outside == nil && p.Inside == nil {
		c.add(Fault{Code: FaultMissing, Field: "welds", Rule: "a joint needs at least one weld",
			Remedy: "give welds.outside, such as outside.face=flat, or a size such as inside.leg=3"})
	}
	if !c.ok() {
		return
	}
	skewed := p.Angle != 90*geometry.Degree
	if skewed && p.UprightEnd == StemSquare && p.Cover > 0 {
		c.add(Fault{Code: FaultConflict, Field: "upright-end", Value: string(p.UprightEnd),
			Rule:   fmt.Sprintf("a square end at %s meets the base with one edge and cannot stand on it with cover %s", showAngle(float64(p.Angle)), trimFloat(p.Cover)),
			Remedy: "use upright-end=fitted, or cover=0"})
	}
	if p.Outside == nil {
		return
	}
	bare := (1 - p.Cover) * float64(p.Upright.Thickness)
	switch {
	case p.Cover == 1 && skewed:
		c.add(Fault{Code: FaultConflict, Field: "cover", Value: trimFloat(p.Cover),
			Rule:   "the outer faces of a closed corner are flush at 90° only, so that an outside weld has no seam face to lie on",
			Remedy: "use a cover below 1, angle=90, or weld the inside"})
	case p.Cover < 1 && bare < LegRange.Min:
		c.add(Fault{Code: FaultUnfit, Field: "cover", Value: trimFloat(p.Cover),
			Rule:   "leaves " + showLength(bare) + " of the upright's end, too little for an outside weld, which needs " + showLength(LegRange.Min),
			Remedy: "cover less, or give cover=1 for a closed corner"})
	case p.Cover == 0 && p.Outside.Penetration > 0:
		c.add(Fault{Code: FaultFusion, Field: "welds.outside.penetration", Value: showLength(float64(p.Outside.Penetration)),
			Rule: "an open corner has no faying surface to penetrate along", Remedy: "claim fusion of the faces instead, or give a cover"})
	}
	if p.Cover == 0 && p.Inside != nil && p.Inside.Penetration > 0 {
		c.add(Fault{Code: FaultFusion, Field: "welds.inside.penetration", Value: showLength(float64(p.Inside.Penetration)),
			Rule: "an open corner has no faying surface to penetrate along", Remedy: "claim fusion of the faces instead, or give a cover"})
	}
}

// outside lays the weld of the outer groove, or the bead along the seam of a
// closed corner.
func (c *checker) outside(p Corner, g cornerShape) (Weld, bool) {
	f := *p.Outside
	if p.Cover == 1 {
		return c.closedSeam(f, p, g)
	}
	k := g.groove(p)
	// The upright's end runs on over the base, so that it is the continuous
	// surface of this nook.
	swap(&f.Legs)
	swap(&f.GaugeLegs)
	swap(&f.Fusion)
	if f.Legs == [2]geometry.Length{} && f.Throat == 0 && f.GaugeLegs == [2]geometry.Length{} {
		f.Legs = [2]geometry.Length{geometry.Length(k.room[0]), geometry.Length(k.room[1])}
	}
	if f.Face == FaceFlush {
		f.Face, k.flush = FaceFlat, true
		if f.Rise != 0 {
			c.add(Fault{Code: FaultConflict, Field: "welds.outside.rise", Value: showLength(float64(f.Rise)),
				Rule: "a flush face has no rise", Remedy: "give face=convex or face=concave with it"})
			return Weld{}, false
		}
	}
	w, ok := c.fillet(outsideID, ArrowSide, k, f)
	if !ok {
		return Weld{}, false
	}
	if f.Fusion[0] > 0 {
		// Between the faces of a skewed upright a parabola may break out.
		melt := w.FusionLine[0]
		if reach := math.Min(least(melt, g.inner, g.across), least(melt, g.outer, g.across.Scale(-1))); reach < -tiny*float64(p.Upright.Thickness) {
			c.add(Fault{Code: FaultFusion, Field: "welds.outside.fusion", Value: showLength(float64(f.Fusion[0])), At: new(melt.At(0.5)),
				Rule: "runs out of the upright through its face", Remedy: "claim a shallower fusion there"})
			return Weld{}, false
		}
	}
	w.turn()
	return w, true
}

func swap(v *[2]geometry.Length) { v[0], v[1] = v[1], v[0] }

// turn exchanges the feet of a weld.
func (w *Weld) turn() {
	w.Feet[0], w.Feet[1] = w.Feet[1], w.Feet[0]
	w.FaceEdges = reversed(w.FaceEdges)
	w.Triangle[1], w.Triangle[2] = w.Triangle[2], w.Triangle[1]
}

// flushFace replaces the chord by the prolonged outer faces. They add metal
// and, like convexity, no effective throat.
func (c *checker) flushFace(field func(string) string, k nook, w *Weld) bool {
	from, to := w.Feet[0].Toe, w.Feet[1].Toe
	for i := range w.Feet {
		if w.Feet[i].EdgeRemaining.Value > tiny*w.FaceWidth {
			c.add(Fault{Code: FaultConflict, Field: field("face"), Value: string(FaceFlush), At: new(w.Feet[i].Toe),
				Rule:   "a flush face ends on the outer edges, and the leg leaves " + showLength(float64(w.Feet[i].EdgeRemaining.Value)) + " of the " + k.name[i] + "'s edge",
				Remedy: "leave the size out, or give face=flat"})
			return false
		}
	}
	// from − s·brim[0] = to − t·brim[1]
	d := from.Sub(to)
	det := k.brim[0].Cross(k.brim[1])
	s, t := d.Cross(k.brim[1])/det, d.Cross(k.brim[0])/det
	if slack := -tiny * float64(w.FaceWidth); s < slack || t < slack {
		c.add(Fault{Code: FaultFace, Field: field("face"), Value: string(FaceFlush), At: new(from),
			Rule:   "the outer faces, prolonged, do not meet outside the groove: one member's outer edge stands past the other's outer face",
			Remedy: "give face=flat or face=convex"})
		return false
	}
	tip := from.Sub(k.brim[0].Scale(s))
	w.Face, w.FaceEdges = FaceFlush, appendLine(appendLine(nil, from, tip), tip, to)
	for i, leaving := range [2]geometry.Point{w.FaceEdges[0].Tangent(0), w.FaceEdges[len(w.FaceEdges)-1].Tangent(1).Scale(-1)} {
		inner := toeAngle(k.along[i].Scale(-1), leaving)
		w.Feet[i].ToeAngle = geometry.Angle(k.air(i, float64(w.Feet[i].Leg))) - inner
	}
	return true
}

// inside lays the fillet of the inner corner.
func (c *checker) inside(p Corner, g cornerShape, side Side) (Weld, bool) {
	return c.fillet(insideID, side, g.nook(p), *p.Inside)
}

// closedSeam lays the edge weld over the flush outer faces of a closed corner.
func (c *checker) closedSeam(f Fillet, p Corner, g cornerShape) (Weld, bool) {
	field := func(s string) string { return "welds.outside." + s }
	before := len(c.faults)
	if f.Throat != 0 || f.GaugeLegs != [2]geometry.Length{} {
		name := "throat"
		if f.Throat == 0 {
			name = "gauge-leg"
		}
		c.add(Fault{Code: FaultConflict, Field: field(name),
			Rule: "a closed corner has no outer groove to size that way", Remedy: "give penetration for the size and leg for the reach over each face"})
	}
	if f.Legs == [2]geometry.Length{} {
		c.add(Fault{Code: FaultMissing, Field: field("leg"),
			Rule: "the faces of a closed corner are flush and do not bound the weld", Remedy: "give leg, how far it reaches over each face from the seam, or a cover below 1"})
	}
	rise := geometry.Length(0)
	switch f.Face {
	case "", FaceFlat, FaceFlush:
		if f.Rise != 0 {
			c.add(Fault{Code: FaultConflict, Field: field("rise"), Value: showLength(float64(f.Rise)),
				Rule: "a flat face has no rise", Remedy: "give face=convex with it"})
		}
	case FaceConvex:
		rise = f.Rise
	case FaceConcave:
		c.add(Fault{Code: FaultFace, Field: field("face"), Value: string(f.Face),
			Rule: "the weld on a closed corner lies on flush faces and cannot dip under them", Remedy: "give face=flat or face=convex"})
	default:
		c.oneOf(field("face"), string(f.Face), string(FaceFlush), string(FaceFlat), string(FaceConvex), string(FaceConcave))
	}
	if len(c.faults) > before {
		return Weld{}, false
	}
	w, ok := c.bead(field, g.seam(p), beadSize{
		legs: f.Legs, cap: rise, capField: "rise", penetration: f.Penetration, fusion: f.Fusion,
	})
	w.ID, w.Side, w.Proven = outsideID, ArrowSide, f.Proven
	return w, ok
}

// least is the smallest distance of a line or quadratic curve from the line
// through p, counted along its unit normal n; negative beyond it.
func least(e geometry.Edge, p, n geometry.Point) float64 {
	a, b, m := e.Start().Sub(p).Dot(n), e.End().Sub(p).Dot(n), e.Control().Sub(p).Dot(n)
	low := math.Min(a, b)
	if bend := a - 2*m + b; bend > 0 {
		if t := (a - m) / bend; t > 0 && t < 1 {
			low = math.Min(low, a*(1-t)*(1-t)+2*m*t*(1-t)+b*t*t)
		}
	}
	return low
}
