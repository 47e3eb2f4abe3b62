package joints

import (
	"math"

	"fay/geometry"
)

// EdgeForm says how the members of an edge joint are shaped.
type EdgeForm string

// The forms of edge joints: square edges flush on top, edges bevelled to a
// groove, sheet edges bent up against each other.
const (
	EdgeSquare   EdgeForm = "square"
	EdgeBevelled EdgeForm = "bevelled"
	EdgeFlanged  EdgeForm = "flanged"
)

const degreesPerEdgeBevel = 45

// Edge are the parameters of an edge joint: two members face to face, their
// edges flush on top.
type Edge struct {
	Left, Right Plate
	Form        EdgeForm // square when empty
	Gap         geometry.Length
	// Depth and Bevel shape the groove of bevelled edges, Bevel from the
	// faying surface, [0] left, [1] right; 45° each when both are zero.
	Depth geometry.Length
	Bevel [2]geometry.Angle
	// FlangeHeight of flanged edges, from the underside of the sheets;
	// BendRadius on the inside of each bend, the sheet's thickness when absent.
	FlangeHeight geometry.Length
	BendRadius   [2]Opt
	Outside      *Bead

	extent extent
}

// Bead are the parameters of an edge weld.
type Bead struct {
	// Legs reach over each edge from the faying surface; zero covers the whole
	// edge. Square and flanged edges only.
	Legs [2]geometry.Length
	// Cap is the rise of the face over the edges, an arc when CapShape is
	// empty; CapLap how far it reaches beyond a groove, bevelled edges only.
	Cap, CapLap geometry.Length
	CapShape    CapShape
	// Penetration between the members: the size of the weld on square and
	// flanged edges, metal beyond the groove on bevelled ones, where Proven
	// says that it counts in the effective throat.
	Penetration geometry.Length
	Proven      bool
	// Fusion is the greatest depth melted into each member, normal to its edge
	// or groove face. Without it the edges are melted in a straight line from
	// toe to weld root, and groove faces not at all.
	Fusion [2]geometry.Length
}

// The ranges of edge joints.
var (
	edgeDepthRange  = Range{0.3, 100}
	bendRadiusRange = Range{0, 100}
	flangeRange     = Range{1, 300}
)

func withForm(forms ...EdgeForm) *With {
	w := &With{Choice: "form"}
	for _, f := range forms {
		w.Values = append(w.Values, string(f))
	}
	return w
}

var edgeKind = Kind{
	Name: "edge", Title: "Edge joint",
	Doc:     "two members face to face, or with flanged edges, welded along their flush edges",
	Members: []MemberSlot{{"left", "member at the left, face to face with the right one"}, {"right", "member at the right"}},
	Params: []Param{
		{Name: "form", Type: ParamChoice, Default: string(EdgeSquare), Choices: []string{string(EdgeSquare), string(EdgeBevelled), string(EdgeFlanged)},
			Doc: "shape of the edges: square, bevelled to a groove, or sheet edges bent up as flanges"},
		{Name: "gap", Type: ParamLength, Default: "0", Limits: GapRange, FitUp: true, Usual: Range{0, 1}, Doc: "distance between the members"},
		{Name: "depth", Type: ParamLength, Needed: true, With: withForm(EdgeBevelled), Limits: edgeDepthRange, Usual: Range{1, 3}, Doc: "depth of the groove"},
		{Name: "bevel-angle", Type: ParamAngles, With: withForm(EdgeBevelled), Limits: bevelRange,
			Usual: Range{20 * float64(geometry.Degree), 50 * float64(geometry.Degree)}, Doc: "bevel of each edge from the faying surface; 45 each when left out"},
		{Name: "flange-height", Type: ParamLength, Needed: true, With: withForm(EdgeFlanged), Limits: flangeRange, FitUp: true, Usual: Range{22, 40}, Doc: "height of the flanges from the underside of the sheets"},
		{Name: "bend-radius", Type: ParamLengths, With: withForm(EdgeFlanged), Limits: bendRadiusRange, Usual: Range{1, 5}, Doc: "inner radius of each bend; the sheet's thickness when left out"},
	},
	Welds: []WeldSlot{{outsideID, "edge weld on top", []Param{
		{Name: "penetration", Type: ParamLength, Needed: true, Limits: FusionRange, Usual: Range{0.5, 3},
			Doc: "depth melted down between the members: the size of the weld; beyond the groove of bevelled edges, which may do without"},
		{Name: "proven", Type: ParamFlag, Default: "no", With: withForm(EdgeBevelled),
			Doc: "yes: tests prove the penetration beyond the groove, so that it counts in the effective throat"},
		{Name: "leg", Type: ParamLengths, With: withForm(EdgeSquare, EdgeFlanged), Limits: LegRange, Usual: Range{0.5, 4},
			Doc: "how far the weld reaches over each edge from the faying surface; the whole edge when left out"},
		{Name: "cap", Type: ParamLength, Default: "0", Limits: RiseRange, Usual: Range{0, 1}, Doc: "rise of the face over the edges; 0 melts the edges without filler"},
		{Name: "cap-shape", Type: ParamChoice, Default: string(CapArc), Choices: []string{string(CapArc), string(CapParabola), string(CapFlat)},
			Doc: "shape of the cap; parabola is the handbook's ⅔ of width times height"},
		{Name: "cap-lap", Type: ParamLength, Default: "0", With: withForm(EdgeBevelled), Limits: RiseRange, Usual: Range{0, 1},
			Doc: "how far each toe lies beyond the groove, where there is a cap"},
		{Name: "fusion", Type: ParamLengths, Default: "0", Limits: FusionRange, Usual: Range{0.75, 1.5},
			Doc: "greatest depth melted into each member, normal to its edge or groove face; 0 claims none beyond the penetration"},
	}}},
	Example: "edge left=3 right=4 penetration=2 cap=0.8",
	build:   buildEdge,
}

func buildEdge(r *reader) (Section, error) {
	p := Edge{
		Left: r.plate("left"), Right: r.plate("right"), Form: EdgeForm(r.choice("form")), Gap: r.length("gap"),
		Depth: r.length("depth"), Bevel: r.angles("bevel-angle"), FlangeHeight: r.length("flange-height"), extent: r.extent,
	}
	if r.given("bend-radius") {
		radii := r.lengths("bend-radius")
		p.BendRadius = [2]Opt{Some(radii[0]), Some(radii[1])}
	}
	if w, ok := r.weld(outsideID); ok {
		p.Outside = &Bead{
			Legs: w.lengths("leg"), Cap: w.length("cap"), CapLap: w.length("cap-lap"), CapShape: CapShape(w.value("cap-shape").Choice),
			Penetration: w.length("penetration"), Proven: w.value("proven").Flag, Fusion: w.lengths("fusion"),
		}
	}
	// What does not apply to the form the reader has refused by name already.
	if p.Form != EdgeBevelled {
		p.Depth, p.Bevel = 0, [2]geometry.Angle{}
	}
	if p.Form != EdgeFlanged {
		p.FlangeHeight, p.BendRadius = 0, [2]Opt{}
	}
	if w := p.Outside; w != nil && p.Form == EdgeBevelled {
		w.Legs = [2]geometry.Length{}
	} else if w != nil {
		w.CapLap, w.Proven = 0, false
	}
	return NewEdge(p)
}

// NewEdge computes the section of an edge joint. The error, if any, is of type
// [Faults].
func NewEdge(p Edge) (Section, error) {
	c := &checker{}
	c.edgeValues(&p)
	if !c.ok() {
		return Section{}, c.err()
	}
	field := func(s string) string { return "welds.outside." + s }
	s := Section{Kind: "edge", Title: "Edge joint", Welds: make([]Weld, 0, 1)}
	var w Weld
	var ok bool
	if p.Form == EdgeBevelled {
		w, ok = c.edgeGroove(field, p)
	} else {
		w, ok = c.bead(field, p.seam(), beadSize{
			legs: p.Outside.Legs, cap: p.Outside.Cap, capShape: p.Outside.CapShape, capField: "cap",
			penetration: p.Outside.Penetration, fusion: p.Outside.Fusion,
		})
		w.ID, w.Side = outsideID, ArrowSide
	}
	if !ok {
		return Section{}, c.err()
	}
	s.Welds = append(s.Welds, w)
	if err := p.members(&s); err != nil {
		return Section{}, err
	}
	p.measures(&s)
	return s, nil
}

// edgeValues checks every value on its own, fills in what was left out and
// refuses what does not go with the form.
func (c *checker) edgeValues(p *Edge) {
	if p.Form == "" {
		p.Form = EdgeSquare
	}
	c.plate("left", p.Left)
	c.plate("right", p.Right)
	c.length("gap", p.Gap, GapRange)
	formed := c.oneOf("form", string(p.Form), string(EdgeSquare), string(EdgeBevelled), string(EdgeFlanged))
	if p.Outside == nil {
		c.add(Fault{Code: FaultMissing, Field: "welds", Rule: "a joint needs at least one weld",
			Remedy: "give welds.outside, such as penetration=2"})
	}
	if !formed {
		return
	}
	only := func(field string, given bool, forms ...EdgeForm) bool {
		w := withForm(forms...)
		if given && !w.Holds(string(p.Form)) {
			c.add(w.fault(field, Value{}, string(p.Form)))
		}
		return w.Holds(string(p.Form))
	}
	needed := func(field string, v geometry.Length, r Range, what string) {
		if v == 0 {
			c.add(Fault{Code: FaultMissing, Field: field, Rule: "form=" + string(p.Form) + " needs it", Remedy: "give " + what})
			return
		}
		c.length(field, v, r)
	}
	if only("depth", p.Depth != 0, EdgeBevelled) {
		needed("depth", p.Depth, edgeDepthRange, "the depth of the groove, such as depth=2")
	}
	if only("bevel-angle", p.Bevel != [2]geometry.Angle{}, EdgeBevelled) {
		if p.Bevel == [2]geometry.Angle{} {
			p.Bevel = [2]geometry.Angle{degreesPerEdgeBevel * geometry.Degree, degreesPerEdgeBevel * geometry.Degree}
		}
		c.angle("bevel-angle", p.Bevel[0], bevelRange)
		c.angle("bevel-angle", p.Bevel[1], bevelRange)
	}
	if only("flange-height", p.FlangeHeight != 0, EdgeFlanged) {
		needed("flange-height", p.FlangeHeight, flangeRange, "the height of the flanges from the underside of the sheets, such as flange-height=20")
	}
	if only("bend-radius", p.BendRadius[0].Present || p.BendRadius[1].Present, EdgeFlanged) {
		for i, t := range [2]geometry.Length{p.Left.Thickness, p.Right.Thickness} {
			if !p.BendRadius[i].Present {
				p.BendRadius[i] = Some(t)
			} else {
				c.length("bend-radius", p.BendRadius[i].Value, bendRadiusRange)
			}
		}
	}
	if w := p.Outside; w != nil {
		only("welds.outside.leg", w.Legs != [2]geometry.Length{}, EdgeSquare, EdgeFlanged)
		only("welds.outside.cap-lap", w.CapLap != 0, EdgeBevelled)
		only("welds.outside.proven", w.Proven, EdgeBevelled)
	}
	if c.ok() {
		c.edgeFits(p)
	}
}

// edgeFits refuses grooves wider than the edges and bends higher than the
// flanges.
func (c *checker) edgeFits(p *Edge) {
	for i, m := range p.plates() {
		t := float64(m.Thickness)
		switch p.Form {
		case EdgeBevelled:
			if cut := float64(p.Depth) * p.Bevel[i].Tan(); cut > t*(1+tiny) {
				c.add(Fault{Code: FaultUnfit, Field: "depth", Value: showLength(float64(p.Depth)),
					Rule:   "cuts " + showLength(cut) + " off the " + edgeNames[i] + " member's edge, which is " + showLength(t) + " wide",
					Remedy: "the largest depth at this bevel is " + showLength(downTo(t/p.Bevel[i].Tan()))})
			}
		case EdgeFlanged:
			if straight := p.straight(i); straight <= tiny*t {
				c.add(Fault{Code: FaultUnfit, Field: "flange-height", Value: showLength(float64(p.FlangeHeight)),
					Rule:   "leaves no straight flange over the bend of the " + edgeNames[i] + " sheet, which takes up " + showLength(float64(p.FlangeHeight)-straight),
					Remedy: "give more than " + showLength(upTo(float64(p.FlangeHeight)-straight)) + " or a smaller bend-radius"})
			}
		}
	}
}

var edgeNames = [2]string{"left", "right"}

func (p *Edge) plates() [2]Plate { return [2]Plate{p.Left, p.Right} }

// straight is the height of a flange above its bend.
func (p *Edge) straight(i int) float64 {
	return float64(p.FlangeHeight - p.plates()[i].Thickness - p.BendRadius[i].Value)
}

// seam is the top of square or flanged edges.
func (p *Edge) seam() bead {
	k := bead{member: [2]int{0, 1}, name: edgeNames, gap: float64(p.Gap), contact: math.Inf(1),
		depth: [2]float64{math.Inf(1), math.Inf(1)}, place: geometry.Translate(geometry.Point{})}
	for i, m := range p.plates() {
		k.room[i] = float64(m.Thickness)
		if p.Form == EdgeFlanged {
			k.depth[i] = p.straight(i)
			k.contact = math.Min(k.contact, k.depth[i])
		}
	}
	return k
}

// groove is the groove of bevelled edges; the joint root lies at its bottom.
func (p *Edge) groove() grooveSide {
	var g grooveSide
	for i := range g.halves {
		h := half{x0: float64(p.Gap) / 2, hi: float64(p.Depth), top: float64(p.Depth), angle: p.Bevel[i]}
		if p.Outside.Cap > 0 {
			h.lap = float64(p.Outside.CapLap)
		}
		g.halves[i] = h
	}
	return g
}

// edgeGroove lays the weld in the groove of bevelled edges.
func (c *checker) edgeGroove(field func(string) string, p Edge) (Weld, bool) {
	g := p.groove()
	q := p.Outside
	w, ok := c.groove(outsideID, ArrowSide, g, Groove{Cap: q.Cap, CapLap: q.CapLap, CapShape: q.CapShape,
		Penetration: q.Penetration, Proven: q.Proven, Fusion: q.Fusion})
	if !ok {
		return Weld{}, false
	}
	w.Kind, w.Dihedral = EdgeWeld, p.Bevel[0]+p.Bevel[1]
	for i, m := range p.plates() {
		f, t := &w.Feet[i], float64(m.Thickness)
		reach := math.Abs(f.Toe.X) - g.halves[i].x0
		if reach > t*(1+tiny) {
			c.add(Fault{Code: FaultLeg, Field: field("cap-lap"), Value: showLength(float64(q.CapLap)), At: new(f.Toe),
				Rule:   "reaches past the outer edge of the " + edgeNames[i] + " member",
				Remedy: "the largest there is " + showLength(downTo(t-reach+g.halves[i].lap))})
			continue
		}
		f.Leg, f.OnEdge = geometry.Length(reach), true
		f.bounded(t)
		deepest := 0.0
		if q.Fusion[i] > 0 {
			for _, e := range g.halves[i].fused(-float64(q.Penetration), float64(q.Fusion[i])) {
				deepest = math.Max(deepest, math.Max(e.Start().X, e.End().X)-g.halves[i].x0)
			}
		}
		if deepest > t*(1+tiny) {
			c.add(Fault{Code: FaultFusion, Field: field("fusion"), Value: showLength(float64(q.Fusion[i])),
				Rule:   "melts " + showLength(deepest) + " deep, through the " + edgeNames[i] + " member, which is " + showLength(t) + " thick",
				Remedy: "claim a shallower fusion there"})
		}
	}
	return w, c.ok()
}
