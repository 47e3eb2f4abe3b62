package joints

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/geometry"
)

// Align says which surfaces of unequal plates are flush.
type Align string

// The alignments of a butt joint. Bottom gives a flush root.
const (
	AlignBottom Align = "bottom"
	AlignTop    Align = "top"
	AlignCentre Align = "centre"
)

// Prep names a preparation.
type Prep string

// The preparations of butt joints.
const (
	PrepSquare      Prep = "square"
	PrepSingleV     Prep = "single-v"
	PrepSingleBevel Prep = "single-bevel"
	PrepSingleU     Prep = "single-u"
	PrepSingleJ     Prep = "single-j"
	PrepDoubleV     Prep = "double-v"
	PrepDoubleBevel Prep = "double-bevel"
	PrepDoubleU     Prep = "double-u"
	PrepDoubleJ     Prep = "double-j"
	preparedDefault      = "right"
	degreesPerVHalf      = 30
	degreesPerBevel      = 45
	degreesPerUHalf      = 10
	degreesPerJ          = 20
	defaultURadius       = 6
	defaultJRadius       = 8
)

var buttPreps = []Prep{PrepSquare, PrepSingleV, PrepSingleBevel, PrepSingleU, PrepSingleJ,
	PrepDoubleV, PrepDoubleBevel, PrepDoubleU, PrepDoubleJ}

func (p Prep) double() bool { return strings.HasPrefix(string(p), "double-") }

// prepared edges are not square.
func (p Prep) prepared() bool { return p != PrepSquare }

// curved preparations have a root radius.
func (p Prep) curved() bool {
	return strings.HasSuffix(string(p), "-u") || strings.HasSuffix(string(p), "-j")
}

// lopsided preparations are cut on one member only.
func (p Prep) lopsided() bool {
	return strings.HasSuffix(string(p), "-bevel") || strings.HasSuffix(string(p), "-j")
}

// Flank is the preparation of one side of a butt joint, [0] left, [1] right.
// Zero angles and radii take the usual ones of the preparation.
type Flank struct {
	Bevel  [2]geometry.Angle  // per member, from the square-cut edge
	Radius [2]geometry.Length // root radius, U and J only
	usual  bool               // the radius was left out
	// Depth of the preparation from the common surface; zero leaves it to the
	// root face and the other side.
	Depth geometry.Length
}

// Butt are the parameters of a butt joint. Arrow is the upper side.
type Butt struct {
	Left, Right Plate
	Align       Align           // bottom when empty
	HiLo        geometry.Length // right member up: positive
	Prep        Prep            // square when empty
	Prepared    string          // "left" or "right" for bevel and J; right when empty
	RootOpening geometry.Length
	RootFace    geometry.Length
	Flank       Flank // arrow side
	OtherFlank  Flank // other side of double preparations
	Backing     Backing
	// Transition is the run per rise of a taper on the thicker member, on the
	// face side, the root side or both (when empty); zero makes none.
	Transition     float64
	TransitionSide string
	// Arrow and Other are the welds. Double preparations need both.
	Arrow, Other *Groove

	extent extent
}

// The ranges of butt joints.
var (
	bevelRange      = Range{0, 70 * float64(geometry.Degree)}
	radiusRange     = Range{0, 30}
	hiLoRange       = Range{-25, 25}
	transitionRange = Range{0, 10}
)

// buttLevels are the heights of a butt joint before the origin is moved to the
// joint root.
type buttLevels struct {
	top, bottom [2]float64
	lo, hi      float64 // of the thickness both members share
	arrow       float64 // root of the arrow-side preparation
	other       float64 // root of the other side's, lo where there is none
	full        bool
}

// NewButt computes the section of a butt joint. The error, if any, is of type
// [Faults].
func NewButt(p Butt) (Section, error) {
	c := &checker{}
	c.buttValues(&p)
	if !c.ok() {
		return Section{}, c.err()
	}
	l := c.buttLevels(p)
	if !c.ok() {
		return Section{}, c.err()
	}
	arrow, other := l.sides(p)
	c.grooveFits(arrow, "")
	if p.Prep.double() {
		c.grooveFits(other, "other-")
	}
	if !c.ok() {
		return Section{}, c.err()
	}

	s := Section{Kind: "butt", Title: "Butt joint", Welds: make([]Weld, 0, 2), NeutralLevel: Some(geometry.Length(l.lo+l.hi) / 2)}
	if p.Arrow != nil {
		if w, ok := c.groove(string(ArrowSide), ArrowSide, arrow, *p.Arrow); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	if p.Other != nil {
		if w, ok := c.groove(string(OtherSide), OtherSide, other, *p.Other); ok {
			s.Welds = append(s.Welds, w)
		}
	}
	c.rootsApart(p, arrow, other)
	c.apart(s.Welds, "joint")
	c.backing(p.Backing, &s, l.full && p.Other == nil, geometry.Length(l.bottom[0]-l.bottom[1]), l.lo, float64(min(p.Left.Thickness, p.Right.Thickness)))
	if !c.ok() {
		return Section{}, c.err()
	}
	if err := buttMembers(p, l, arrow, other, &s); err != nil {
		return Section{}, err
	}
	buttMeasures(p, l, arrow, other, &s)
	return s, nil
}

// rootsApart refuses penetration of one side into the metal of the other.
func (c *checker) rootsApart(p Butt, arrow, other grooveSide) {
	if p.Arrow == nil || p.Other == nil {
		return
	}
	// The other side hangs upside down: its levels count downwards.
	room := arrow.vr + other.vr
	if reach := float64(p.Arrow.Penetration + p.Other.Penetration); reach > room+tiny*(1+math.Abs(arrow.vr)) {
		c.add(Fault{Code: FaultOverlap, Field: "welds", Value: showLength(reach),
			Rule:   "the penetration of both sides is more than the " + showLength(math.Max(0, room)) + " between their roots",
			Remedy: "claim less penetration, or shallower preparations"})
	}
}

// buttValues checks every value on its own and fills in what was left out.
func (c *checker) buttValues(p *Butt) {
	if p.Align == "" {
		p.Align = AlignBottom
	}
	if p.Prep == "" {
		p.Prep = PrepSquare
	}
	if p.Prepared == "" {
		p.Prepared = preparedDefault
	}
	if p.TransitionSide == "" {
		p.TransitionSide = "both"
	}
	c.plate("left", p.Left)
	c.plate("right", p.Right)
	c.length("hi-lo", p.HiLo, hiLoRange)
	c.length("root-opening", p.RootOpening, OpeningRange)
	c.length("root-face", p.RootFace, ThicknessRange.fromZero())
	c.value("transition", p.Transition, transitionRange, trimFloat)
	c.oneOf("align", string(p.Align), "bottom", "top", "centre")
	c.oneOf("prepared", p.Prepared, "left", "right")
	c.oneOf("transition-side", p.TransitionSide, "face", "root", "both")
	names := make([]string, len(buttPreps))
	for i := range buttPreps {
		names[i] = string(buttPreps[i])
	}
	if c.oneOf("prep", string(p.Prep), names...) {
		c.flank("", p.Prep, p.Prepared, &p.Flank)
		c.flank("other-", p.Prep, p.Prepared, &p.OtherFlank)
	}
	switch {
	case p.Arrow == nil && p.Other == nil:
		c.add(Fault{Code: FaultMissing, Field: "welds", Rule: "a joint needs at least one weld",
			Remedy: "give welds.arrow, if only with cap: 0; closed square edges need cap and cap-lap"})
	case p.Arrow == nil:
		c.add(Fault{Code: FaultMissing, Field: "welds.arrow", Rule: "a butt joint is welded from the arrow side first",
			Remedy: "give welds.arrow, or turn the joint over"})
	case p.Prep.double() && p.Other == nil:
		c.add(Fault{Code: FaultMissing, Field: "welds.other", Rule: "a double preparation is welded from both sides",
			Remedy: "give welds.other, or prep: " + strings.Replace(string(p.Prep), "double", "single", 1)})
	case p.Other != nil && !p.Prep.double() && p.Prep != PrepSquare:
		c.add(Fault{Code: FaultConflict, Field: "welds.other", Rule: "a single preparation has no groove on the other side",
			Remedy: "give welds.arrow.root for the reinforcement of the root, or a double preparation"})
	}
}

// fromZero is the range with its lower end at zero.
func (r Range) fromZero() Range { return Range{0, r.Max} }

func (c *checker) oneOf(field, v string, names ...string) bool {
	if slices.Contains(names, v) {
		return true
	}
	remedy := "use one of " + strings.Join(names, ", ")
	if near := Nearest(v, names); near != "" {
		remedy = "did you mean " + near + "? The choices are " + strings.Join(names, ", ")
	}
	c.add(Fault{Code: FaultUnknown, Field: field, Value: v, Rule: "is not one of the choices", Remedy: remedy})
	return false
}

// flank checks one side's preparation and settles its angles and radii.
func (c *checker) flank(prefix string, prep Prep, prepared string, f *Flank) {
	field := func(name string) string { return prefix + name }
	c.lengthOf(field, "depth", f.Depth, ThicknessRange.fromZero())
	for i := range f.Bevel {
		c.angleOf(field, "bevel-angle", f.Bevel[i], bevelRange)
		c.lengthOf(field, "root-radius", f.Radius[i], radiusRange)
	}
	if prep == PrepSquare {
		if f.Bevel != [2]geometry.Angle{} {
			c.add(Fault{Code: FaultConflict, Field: prefix + "bevel-angle", Value: showAngle(float64(f.Bevel[0])),
				Rule: "a square preparation has no bevel", Remedy: "give prep=single-v or leave the angle out"})
		}
		return
	}
	if !prep.curved() && f.Radius != [2]geometry.Length{} {
		c.add(Fault{Code: FaultConflict, Field: prefix + "root-radius", Value: showLength(float64(f.Radius[0])),
			Rule: "only U and J preparations have a root radius", Remedy: "give prep=single-u or single-j, or leave the radius out"})
	}
	usual := map[bool]map[bool]geometry.Angle{
		false: {false: degreesPerVHalf, true: degreesPerBevel},
		true:  {false: degreesPerUHalf, true: degreesPerJ},
	}[prep.curved()][prep.lopsided()] * geometry.Degree
	radius := map[bool]geometry.Length{false: defaultURadius, true: defaultJRadius}[prep.lopsided()]
	if f.Bevel == [2]geometry.Angle{} {
		f.Bevel = [2]geometry.Angle{usual, usual}
	}
	if prep.curved() && f.Radius == [2]geometry.Length{} {
		f.usual = true
		f.Radius = [2]geometry.Length{radius, radius}
	}
	if prep.lopsided() {
		square := 0
		if prepared == "left" {
			square = 1
		}
		f.Bevel[square], f.Radius[square] = 0, 0
	}
}

// buttLevels settles where the surfaces lie and how deep each side goes. The
// origin is put at the joint root of the arrow side.
func (c *checker) buttLevels(p Butt) buttLevels {
	tl, tr := float64(p.Left.Thickness), float64(p.Right.Thickness)
	l := buttLevels{top: [2]float64{tl, tr}}
	shift := map[Align]float64{AlignBottom: 0, AlignTop: tl - tr, AlignCentre: (tl - tr) / 2}[p.Align] + float64(p.HiLo)
	l.bottom[1] += shift
	l.top[1] += shift
	l.lo, l.hi = math.Max(l.bottom[0], l.bottom[1]), math.Min(l.top[0], l.top[1])
	// Surfaces meant to be flush are flush to the last digit.
	for i := range l.top {
		if math.Abs(l.top[i]-l.hi) <= tiny*(tl+tr) {
			l.top[i] = l.hi
		}
		if math.Abs(l.bottom[i]-l.lo) <= tiny*(tl+tr) {
			l.bottom[i] = l.lo
		}
	}
	h := l.hi - l.lo
	if h <= tiny*(tl+tr) {
		c.add(Fault{Code: FaultUnfit, Field: "hi-lo", Value: showLength(float64(p.HiLo)),
			Rule: "moves the members past each other", Remedy: "keep it under the thinner member's thickness"})
		return l
	}
	f, da, do := float64(p.RootFace), float64(p.Flank.Depth), float64(p.OtherFlank.Depth)
	twoSided := p.Prep.double() || (p.Prep == PrepSquare && p.Other != nil)
	if !twoSided {
		c.singleDepth(p, &l, h, f, da, do)
	} else {
		c.doubleDepth(p, &l, h, f, da, do)
	}
	if !c.ok() {
		return l
	}
	// Origin at the joint root: where the arrow-side weld ends.
	root := l.arrow
	if l.full {
		root = l.other
	}
	for i := range l.top {
		l.top[i] -= root
		l.bottom[i] -= root
	}
	l.lo, l.hi, l.arrow, l.other = l.lo-root, l.hi-root, l.arrow-root, l.other-root
	return l
}

func (c *checker) singleDepth(p Butt, l *buttLevels, h, f, da, do float64) {
	l.other = l.lo
	switch {
	case do > 0:
		c.add(Fault{Code: FaultConflict, Field: "other-depth", Value: showLength(do),
			Rule: "this preparation has one side only", Remedy: "leave it out or give a double preparation"})
	case da > 0 && f > 0 && math.Abs(h-da-f) > tiny*h:
		c.add(Fault{Code: FaultConflict, Field: "root-face", Value: showLength(f),
			Rule:   fmt.Sprintf("does not agree with depth: %s of %s leaves %s", showLength(da), showLength(h), showLength(h-da)),
			Remedy: "give depth for a partial weld or root-face for a full one"})
	case da > h*(1+tiny):
		c.add(Fault{Code: FaultUnfit, Field: "depth", Value: showLength(da),
			Rule: "exceeds the thickness that the members share, " + showLength(h), Remedy: "the largest depth is " + showLength(downTo(h))})
	case da > 0:
		l.arrow = l.hi - da
		l.full = h-da <= tiny*h
	case f >= h*(1-tiny):
		c.add(Fault{Code: FaultUnfit, Field: "root-face", Value: showLength(f),
			Rule: "leaves no groove in a thickness of " + showLength(h), Remedy: "keep it under " + showLength(downTo(h)) + ", or prep=square"})
	case p.Prep == PrepSquare:
		l.arrow, l.full = l.lo, true
		if f > 0 {
			c.add(Fault{Code: FaultConflict, Field: "root-face", Value: showLength(f),
				Rule: "a square edge is all root face", Remedy: "leave it out, or give depth for a partial weld"})
		}
	default:
		l.arrow, l.full = l.lo+f, true
	}
}

func (c *checker) doubleDepth(p Butt, l *buttLevels, h, f, da, do float64) {
	switch {
	case da > 0 && do > 0:
		if f > 0 && math.Abs(h-da-do-f) > tiny*h {
			c.add(Fault{Code: FaultConflict, Field: "root-face", Value: showLength(f),
				Rule:   fmt.Sprintf("does not agree with the two depths, which leave %s of %s", showLength(h-da-do), showLength(h)),
				Remedy: "leave one of the three out"})
		}
		l.full = h-da-do <= tiny*h || f > 0
	case da > 0:
		do, l.full = h-f-da, true
	case do > 0:
		da, l.full = h-f-do, true
	default:
		da, do, l.full = (h-f)/2, (h-f)/2, true
	}
	if da <= 0 || do <= 0 || da+do > h*(1+tiny) {
		field, v := "depth", da
		if p.Flank.Depth == 0 {
			field, v = "root-face", f
		}
		if p.OtherFlank.Depth > 0 && p.Flank.Depth == 0 {
			field, v = "other-depth", float64(p.OtherFlank.Depth)
		}
		c.add(Fault{Code: FaultUnfit, Field: field, Value: showLength(v),
			Rule:   fmt.Sprintf("the two depths and the root face do not fit in the shared thickness of %s", showLength(h)),
			Remedy: "keep their sum under " + showLength(downTo(h))})
		return
	}
	l.arrow, l.other = l.hi-da, l.lo+do
}

// sides lays out both sides, each in its own frame.
func (l buttLevels) sides(p Butt) (arrow, other grooveSide) {
	x0 := float64(p.RootOpening) / 2
	thin := float64(min(p.Left.Thickness, p.Right.Thickness))
	side := func(f Flank, w *Groove, v0, hi float64, top [2]float64, where string, vr float64) grooveSide {
		g := grooveSide{vr: vr}
		for i := range g.halves {
			h := half{x0: x0, v0: v0, hi: hi, top: top[i], angle: f.Bevel[i], radius: float64(f.Radius[i])}
			if f.usual {
				h.radius = h.usualRadius(h.radius, hi-v0)
			}
			if p.TransitionSide == where || p.TransitionSide == "both" {
				h.slope = p.Transition
			}
			if w != nil && w.Cap > 0 {
				h.lap = float64(w.CapLap)
			}
			h.climb = math.Min(h.proud(), thin)
			if w != nil && w.Climb.Present {
				h.climb = math.Min(h.proud(), float64(w.Climb.Value))
			}
			g.halves[i] = h
		}
		return g
	}
	vr := l.arrow
	if l.full {
		vr = l.other
	}
	arrow = side(p.Flank, p.Arrow, l.arrow, l.hi, l.top, "face", vr)
	arrow.full = l.full && p.Other == nil
	for i := range arrow.sill {
		arrow.sill[i] = l.bottom[i] < l.lo
	}
	below := [2]float64{-l.bottom[0], -l.bottom[1]}
	flank := p.OtherFlank
	if !p.Prep.double() {
		flank = Flank{}
	}
	other = side(flank, p.Other, -l.other, -l.lo, below, "root", -l.other)
	return arrow, other
}

// grooveFits refuses radii that are larger than their groove.
func (c *checker) grooveFits(g grooveSide, prefix string) {
	for _, h := range g.halves {
		if _, dv := h.bend(); dv > (h.hi-h.v0)*(1+tiny) {
			c.add(Fault{Code: FaultUnfit, Field: prefix + "root-radius", Value: showLength(h.radius),
				Rule:   "is larger than the groove, which is " + showLength(h.hi-h.v0) + " deep",
				Remedy: "the largest radius here is " + showLength(downTo((h.hi-h.v0)/(1-h.angle.Sin())))})
			return
		}
	}
}

func buttMembers(p Butt, l buttLevels, arrow, other grooveSide, s *Section) error {
	names := [2]string{"left", "right"}
	plates := [2]Plate{p.Left, p.Right}
	reach := 1.6 * float64(max(p.Left.Thickness, p.Right.Thickness))
	reach = math.Max(reach, 0.8*(arrow.halves[0].edge()+arrow.halves[1].edge()))
	s.Members = make([]Member, 0, 2)
	for i := range names {
		far := math.Max(arrow.halves[i].run(), other.halves[i].run()) + reach
		// Down the edge of the other side, up that of the arrow side.
		const usual = 9 // edges, mostly
		edges := other.halves[i].appendOutline(make([]geometry.Edge, 0, usual), far)
		move(edges, geometry.MirrorY())
		edges = appendLine(edges, geometry.Point{X: far, Y: l.bottom[i]}, geometry.Point{X: far, Y: l.top[i]})
		n := len(edges)
		edges = arrow.halves[i].appendOutline(edges, far)
		reverse(edges[n:])
		edges = appendLine(edges, edges[len(edges)-1].End(), edges[0].Start())
		if i == 0 {
			move(edges, mirrorX)
		}
		o, err := geometry.NewOutline(edges...)
		if err != nil {
			return Faults{{Code: FaultUnfit, Field: "prep", Value: string(p.Prep),
				Rule: "the prepared edge of the " + names[i] + " member crosses itself (" + err.Error() + ")", Remedy: "make the bevels shallower or the root face higher"}}
		}
		o = o.CCW()
		if i == 0 {
			far = -far
		}
		s.Members = append(s.Members, Member{Name: names[i], Plate: plates[i], Outline: o, Broken: edgesAt(o, far), Ways: 1})
	}
	return nil
}

// edgesAt finds the edges of an outline that lie on the upright line at x.
func edgesAt(o geometry.Outline, x float64) []int {
	var out []int
	for i, e := range o.All() {
		if e.Start().X == x && e.End().X == x {
			out = append(out, i)
		}
	}
	return out
}
