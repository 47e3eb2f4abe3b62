package joints

import (
	"math"
	"slices"

	"fay/geometry"
)

// Cross are the parameters of a cruciform joint: two stems on the two faces of
// a continuous base, of the same or of different thickness.
type Cross struct {
	Base         Plate
	Upper, Lower Stem
	// Offset of the lower stem's arrow-side face to the right of the upper
	// one's; zero puts the arrow-side faces in line.
	Offset geometry.Length

	extent extent
}

// Stem is one stem of a cruciform joint with its fit-up, preparation and
// welds, each as in [Tee].
type Stem struct {
	Plate
	Angle                  geometry.Angle
	Gap                    geometry.Length
	StemEnd                StemEnd
	Prep                   Prep
	RootFace               geometry.Length
	ArrowBevel, OtherBevel StemBevel
	Arrow, Other           *Fillet
}

var offsetRange = Range{-100, 100}

func (s Stem) tee(base Plate, extent extent) Tee {
	return Tee{Base: base, Stem: s.Plate, Angle: s.Angle, Gap: s.Gap, StemEnd: s.StemEnd, Prep: s.Prep, RootFace: s.RootFace,
		ArrowBevel: s.ArrowBevel, OtherBevel: s.OtherBevel, Arrow: s.Arrow, Other: s.Other, extent: min(extent, unprinted)}
}

// NewCross computes the section of a cruciform joint: two tees on one base.
// The error, if any, is of type [Faults].
func NewCross(p Cross) (Section, error) {
	c := &checker{}
	c.length("offset", p.Offset, offsetRange)
	// The measures of both tees follow one another in one piece of memory, and
	// those of the joint take their places.
	one := p.Upper.tee(p.Base, p.extent)
	welds := 0
	for _, w := range [...]*Fillet{p.Upper.Arrow, p.Upper.Other, p.Lower.Arrow, p.Lower.Other} {
		if w != nil {
			welds++
		}
	}
	one.room = make([]Measure, 0, measuresOf(0, p.extent)+measuresOf(welds, p.extent))
	upper, err := NewTee(one)
	c.faults = append(c.faults, renamed(AsFaults(err), map[string]string{"stem.thickness": "upper.thickness"}, "")...)
	two := p.Lower.tee(p.Base, p.extent)
	two.room = upper.Measures[len(upper.Measures):]
	lower, err := NewTee(two)
	for _, f := range renamed(AsFaults(err), map[string]string{"stem.thickness": "lower.thickness"}, "lower-") {
		if f.Field != "base.thickness" {
			c.add(f)
		}
	}
	if !c.ok() {
		return Section{}, c.err()
	}

	s := Section{Kind: "cross", Title: "Cruciform joint", NeutralLevel: Some(-p.Base.Thickness / 2)}
	hang := geometry.MirrorY().Then(geometry.Translate(geometry.Point{X: float64(p.Offset), Y: -float64(p.Base.Thickness)}))
	if err := crossMembers(p, upper, lower, hang, &s); err != nil {
		return Section{}, err
	}
	s.Welds = slices.Concat(upper.Welds, lower.Welds)
	for i := len(upper.Welds); i < len(s.Welds); i++ {
		w := &s.Welds[i]
		w.ID = "lower-" + w.ID
		w.move(hang)
		if w.Feet[1].Member == 1 {
			w.Feet[1].Member = 2
		}
	}
	c.apartThrough(s.Welds)
	if !c.ok() {
		return Section{}, c.err()
	}
	s.Measures = upper.Measures[:0]
	for i := range upper.Measures {
		if m := &upper.Measures[i]; !m.isTotal() {
			s.measure(*m)
			s.Measures[len(s.Measures)-1].cross("upper", "")
		}
	}
	for i := range lower.Measures {
		m := &lower.Measures[i]
		if m.Member == "base" && m.Weld == "" || m.isTotal() {
			continue
		}
		s.measure(*m)
		m = &s.Measures[len(s.Measures)-1]
		m.From, m.To, m.Vertex, m.Outward = hang.Apply(m.From), hang.Apply(m.To), hang.Apply(m.Vertex), geometry.Point{X: m.Outward.X, Y: -m.Outward.Y}
		m.cross("lower", "lower ")
	}
	if p.extent == everything {
		s.totals()
	}
	return s, nil
}

// isTotal tells the measures of a whole joint, which a cruciform joint takes
// afresh.
func (m *Measure) isTotal() bool {
	return m.Weld == "" && (m.Name == "weld area" || m.Name == "deposited area" || m.Name == "lever")
}

// cross renames a tee's measure: the stem becomes the upper or lower one, and
// the lower one's welds and angles say so.
func (m *Measure) cross(stem, prefix string) {
	if m.Member == "stem" {
		m.Member = stem
	}
	if prefix != "" {
		if m.Weld != "" {
			m.Weld = "lower-" + m.Weld
		} else if m.Member == "" {
			m.Name = prefix + m.Name
		}
	}
}

// renamed maps the fields of faults of a part to those of the whole.
func renamed(fs Faults, names map[string]string, prefix string) Faults {
	for i := range fs {
		f := &fs[i]
		switch {
		case names[f.Field] != "":
			f.Field = names[f.Field]
		case f.Field == "base.thickness":
		case len(f.Field) > 6 && f.Field[:6] == "welds.":
			f.Field = "welds." + prefix + f.Field[6:]
		default:
			f.Field = prefix + f.Field
		}
	}
	return fs
}

func crossMembers(p Cross, upper, lower Section, hang geometry.Transform, s *Section) error {
	a := upper.Members[0].Outline.Bounds()
	b := lower.Members[0].Outline.Transform(hang).Bounds()
	left, right := math.Min(a.Min.X, b.Min.X), math.Max(a.Max.X, b.Max.X)
	t := float64(p.Base.Thickness)
	base, err := geometry.Polygon(geometry.Point{X: left, Y: -t}, geometry.Point{X: right, Y: -t}, geometry.Point{X: right}, geometry.Point{X: left})
	if err != nil {
		return err
	}
	up, down := upper.Members[1], lower.Members[1]
	up.Name, down.Name = "upper", "lower"
	crown := down.Outline.Edges()[down.Broken[0]].Transform(hang)
	down.Outline = down.Outline.Transform(hang).CCW()
	down.Broken = nil
	for i, e := range down.Outline.All() {
		if e.At(0.5).Dist(crown.At(0.5)) <= tiny*(1+t) {
			down.Broken = []int{i}
		}
	}
	s.Members = []Member{{Name: "base", Plate: p.Base, Outline: base, Broken: []int{1, 3}, Ways: 2}, up, down}
	return nil
}

// apartThrough refuses fusion that meets through the thickness of the base.
func (c *checker) apartThrough(welds []Weld) {
	for i := range welds {
		for j := i + 1; j < len(welds); j++ {
			a, b := &welds[i], &welds[j]
			if len(a.FusionLine) == 0 || len(b.FusionLine) == 0 || (a.Feet[1].Member == b.Feet[1].Member) {
				continue
			}
			if x := a.Profile.Intersections(b.Profile); len(x) > 0 {
				c.add(Fault{Code: FaultOverlap, Field: "welds." + b.ID + ".fusion", At: new(x[0].P),
					Rule: "fusion meets that of the " + a.ID + " weld inside the base", Remedy: "claim a shallower fusion"})
			}
		}
	}
}

// move carries a weld to another place in the section plane.
func (w *Weld) move(t geometry.Transform) {
	p := func(q *geometry.Point) { *q = t.Apply(*q) }
	l := func(q *Line) { p(&q.From); p(&q.To) }
	for i := range w.Feet {
		p(&w.Feet[i].Toe)
	}
	p(&w.JointRoot)
	p(&w.RootCorner)
	p(&w.WeldRoot)
	l(&w.TheoreticalLine)
	l(&w.EffectiveLine)
	l(&w.ActualLine)
	for i := range w.Triangle {
		p(&w.Triangle[i])
	}
	w.FaceEdges = mapEdges(w.FaceEdges, t)
	w.FusionLine = mapEdges(w.FusionLine, t)
	w.Profile = w.Profile.Transform(t).CCW()
	w.Centroid = w.Profile.Centroid()
}

var crossKind = Kind{
	Name: "cross", Title: "Cruciform joint",
	Doc:     "two stems on the two faces of a continuous base, with up to four welds",
	Members: []MemberSlot{{"base", "continuous member, which lies level"}, {"upper", "stem on top"}, {"lower", "stem underneath"}},
	Params:  append(append([]Param{{Name: "offset", Type: ParamLength, Default: "0", Limits: offsetRange, FitUp: true, Usual: Range{0, 2}, Doc: "lower stem's arrow-side face to the right of the upper one's"}}, crossStem("", "upper")...), crossStem("lower-", "lower")...),
	Welds: []WeldSlot{{"arrow", "upper stem, arrow side, drawn at the right", filletParams}, {"other", "upper stem, other side", filletParams},
		{"lower-arrow", "lower stem, arrow side", filletParams}, {"lower-other", "lower stem, other side", filletParams}},
	Example: "cross base=8 upper=5 lower=4 arrow.leg=4 other.leg=4 lower-arrow.leg=3 lower-other.leg=3",
	build: func(r *reader) (Section, error) {
		return NewCross(Cross{Base: r.plate("base"), Upper: r.crossStem("upper", ""), Lower: r.crossStem("lower", "lower-"), Offset: r.length("offset"), extent: r.extent})
	},
}

func crossStem(prefix, name string) []Param {
	out := make([]Param, 0, len(teeKind.Params))
	for _, p := range teeKind.Params {
		p.Name = prefix + p.Name
		p.Doc = name + " stem: " + p.Doc
		if p.With != nil {
			p.With = &With{prefix + p.With.Choice, p.With.Values}
		}
		out = append(out, p)
	}
	return out
}

func (r *reader) crossStem(member, prefix string) Stem {
	arrowBevel, otherBevel := r.stemBevels(prefix)
	return Stem{Plate: r.plate(member), Angle: r.angle(prefix + "angle"), Gap: r.length(prefix + "gap"), StemEnd: StemEnd(r.choice(prefix + "stem-end")),
		Prep: stemPreps[r.choice(prefix+"prep")], RootFace: r.length(prefix + "root-face"),
		ArrowBevel: arrowBevel, OtherBevel: otherBevel,
		Arrow: r.fillet(prefix + "arrow"), Other: r.fillet(prefix + "other")}
}
