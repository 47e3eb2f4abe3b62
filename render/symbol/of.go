package symbol

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Options are what the symbol says beyond the joint, and the choices a system
// leaves open.
type Options struct {
	System System // ISOA when empty
	// Throat writes equal fillets by their design throat, a, in place of the
	// leg, z. AWS A2.4 has the leg only.
	Throat bool
	// Flush draws the contour of flat faces too; convex and concave faces
	// always have theirs.
	Flush bool
	// Lengths writes the length of continuous straight welds too, which
	// otherwise run as long as the joint.
	Lengths bool
	Field   bool
	Tail    Tail
}

// Of makes the symbol of a section that needs one. The error, if any, is of
// type [joints.Faults].
func Of(s *joints.Section, seams []joints.Seam, opts Options) (Symbol, error) {
	all, err := All(s, seams, opts)
	if err != nil {
		return Symbol{}, err
	}
	if len(all) != 1 {
		return Symbol{}, joints.Faults{{Code: joints.FaultConflict, Field: "symbol", Value: fmt.Sprint(len(all)),
			Rule: "is the number of symbols that this joint needs: more than two members meet", Remedy: "draw all of them"}}
	}
	return all[0], nil
}

// All makes the symbols of a section: one for each pair of members that welds
// join, in the order of the welds. Seams may be empty, which leaves lengths
// out. The error, if any, is of type [joints.Faults].
func All(s *joints.Section, seams []joints.Seam, opts Options) ([]Symbol, error) {
	if opts.System == "" {
		opts.System = ISOA
	}
	m := maker{section: s, seams: seams, opts: opts}
	if !slices.Contains(Systems(), opts.System) {
		m.fault(joints.FaultUnknown, "symbol", string(opts.System), "is not a system of welding symbols on file",
			fmt.Sprintf("use one of %v", Systems()))
	}
	if len(s.Welds) == 0 {
		m.fault(joints.FaultMissing, "welds", "", "a joint without a weld has no symbol", "give a weld")
	}
	if len(m.faults) > 0 {
		return nil, m.faults
	}
	m.runs()
	var pairs [][2]int
	groups := map[[2]int][]*joints.Weld{}
	for i := range s.Welds {
		w := &s.Welds[i]
		pair := [2]int{min(w.Feet[0].Member, w.Feet[1].Member), max(w.Feet[0].Member, w.Feet[1].Member)}
		if groups[pair] == nil {
			pairs = append(pairs, pair)
		}
		groups[pair] = append(groups[pair], w)
	}
	out := make([]Symbol, 0, len(pairs))
	for _, pair := range pairs {
		out = append(out, m.symbol(pair, groups[pair]))
	}
	if len(m.faults) > 0 {
		return nil, m.faults
	}
	return out, nil
}

type maker struct {
	section *joints.Section
	seams   []joints.Seam
	opts    Options
	faults  joints.Faults
	// lengths are the runs of each weld, one for each seam that has it.
	lengths map[string][]seamRun
}

type seamRun struct {
	seam *joints.Seam
	run  joints.Run
}

func (m *maker) fault(code joints.FaultCode, field, value, rule, remedy string) {
	m.faults = append(m.faults, joints.Fault{Code: code, Field: field, Value: value, Rule: rule, Remedy: remedy})
}

func (m *maker) runs() {
	m.lengths = map[string][]seamRun{}
	for i := range m.seams {
		prefix := "seam."
		if len(m.seams) > 1 {
			prefix = fmt.Sprintf("seams.%d.", i+1)
		}
		runs, err := m.section.Runs(m.seams[i], prefix)
		m.faults = append(m.faults, joints.AsFaults(err)...)
		for _, r := range runs {
			m.lengths[r.Weld] = append(m.lengths[r.Weld], seamRun{&m.seams[i], r})
		}
	}
}

// prefix is what the ids, parameters and measures of a pair of members start
// with where a joint has several: the weld lower-arrow has lower-.
func prefix(w *joints.Weld) string {
	if p, ok := strings.CutSuffix(w.ID, string(w.Side)); ok {
		return p
	}
	return ""
}

func (m *maker) symbol(pair [2]int, welds []*joints.Weld) Symbol {
	names := func(i int) string { return m.section.Members[i].Name }
	s := Symbol{System: m.opts.System, Field: m.opts.Field, Tail: m.opts.Tail, Members: [2]string{names(pair[0]), names(pair[1])}}
	s.Tail.Notes = slices.Clone(m.opts.Tail.Notes)
	var at [2]*joints.Weld
	for _, w := range welds {
		i := 0
		if w.Side == joints.OtherSide {
			i = 1
		}
		if at[i] != nil {
			m.fault(joints.FaultConflict, "welds."+w.ID, "", "lies on the same side of the joint as "+at[i].ID, "draw it as a joint of its own")
			return s
		}
		at[i] = w
	}
	p := m.preparation(prefix(welds[0]), at)
	for i, w := range at {
		if w != nil {
			s.Sides[i] = m.side(w, i, at[1-i], p)
		}
	}
	s.RootFace = p.rootFace
	if p.any() {
		// Written once, on the side that is welded first.
		s.Sides[0].RootOpening = p.opening
	}
	m.opposite(&s, at)
	m.along(&s, at)
	for i, w := range at {
		if w != nil && s.Sides[i].Legs != nil && math.Abs(float64(w.Dihedral)-math.Pi/2) > alike {
			s.Skewed = true
		}
	}
	s.Arrow = m.arrow(at, p)
	return s
}

// side describes one weld.
func (m *maker) side(w *joints.Weld, i int, opposite *joints.Weld, p preparation) Side {
	s := Side{Weld: w.ID}
	switch w.Face {
	case joints.FaceConvex, joints.FaceConcave, joints.FaceFlush:
		s.Contour = w.Face
	default:
		if m.opts.Flush {
			s.Contour = joints.FaceFlat
		}
	}
	switch w.Kind {
	case joints.FilletWeld:
		s.Glyph = Fillet
		m.fillet(&s, w)
	case joints.GrooveWeld:
		m.groove(&s, w, i, opposite, p)
		if w.Feet[0].Leg > 0 && w.Feet[1].Leg > 0 {
			m.fillet(&s, w)
		}
	case joints.EdgeWeld:
		if p.flanks[i].prepared() {
			m.groove(&s, w, i, opposite, p)
			break
		}
		s.Glyph, s.Size = Edge, joints.Some(w.EffectiveThroat)
	case joints.PlugWeld:
		m.plug(&s, w)
	default:
		m.fault(joints.FaultUnknown, "welds."+w.ID, string(w.Kind), "has no symbol made from a section yet", "draw the symbol by hand")
	}
	return s
}

// fillet writes the size of a fillet: its legs or its throat.
func (m *maker) fillet(s *Side, w *joints.Weld) {
	legs := &Legs{Length: [2]geometry.Length{w.Feet[0].Leg, w.Feet[1].Leg}, On: [2]int{0, 1}}
	if w.Feet[0].Member > w.Feet[1].Member {
		legs.On = [2]int{1, 0}
	}
	deep := w.Kind == joints.FilletWeld && w.Proven && w.EffectiveThroat > w.TheoreticalThroat+alike
	if deep {
		s.Deep = joints.Some(w.EffectiveThroat)
	}
	if m.opts.System != AWS && w.Kind == joints.FilletWeld && (m.opts.Throat || deep) && legs.Equal() {
		s.Throat = joints.Some(w.TheoreticalThroat)
		return
	}
	s.Legs = legs
}

func (m *maker) groove(s *Side, w *joints.Weld, i int, opposite *joints.Weld, p preparation) {
	f := p.flanks[i]
	s.Full = p.full
	if f.glyph == "" {
		// Square faces leave a rectangle between them.
		if !same(w.GrooveArea, float64(w.Gap*w.TheoreticalThroat)) {
			m.fault(joints.FaultUnknown, "welds."+w.ID, "groove", "has no symbol on file: its faces are not a preparation", "draw the symbol by hand")
			return
		}
		s.Glyph = Square
		even := opposite == nil || same(float64(w.EffectiveThroat), float64(opposite.EffectiveThroat))
		if !p.full || !even {
			s.Effective = joints.Some(w.EffectiveThroat)
		}
		return
	}
	s.Glyph, s.GrooveAngle, s.RootRadius = f.glyph, f.angle, f.radius
	if f.flare() {
		s.Depth, s.Effective = joints.Some(w.TheoreticalThroat), joints.Some(w.EffectiveThroat)
		return
	}
	even := !p.flanks[1-i].prepared() || same(float64(f.depth), float64(p.flanks[1-i].depth))
	if !p.full || !even {
		s.Depth = joints.Some(f.depth)
	}
	if !p.full {
		// The fillet on a groove is a weld of its own in the symbol and does
		// not count in the groove's size.
		s.Effective = joints.Some(f.depth)
		if w.Proven {
			s.Effective.Value += w.Penetration
		}
	}
}

// plug writes a plug or slot by its hole at the faying surface; the depth of
// filling where it is not filled to the top.
func (m *maker) plug(s *Side, w *joints.Weld) {
	s.Glyph = Plug
	if d := m.measure("diameter"); d != nil {
		s.Size = joints.Some(geometry.Length(d.Value))
	}
	if l := m.measure("slot length"); l != nil {
		s.Slot = joints.Some(geometry.Length(l.Value))
	}
	if c := m.measure("countersink"); c != nil {
		s.GrooveAngle = degrees(c.Value)
	}
	if t := m.section.Members[w.Feet[0].Member].Thickness; w.EffectiveThroat < t*(1-alike) {
		s.Fill = joints.Some(w.EffectiveThroat)
	}
}

// opposite puts backing and melt-through on the far side of the groove.
func (m *maker) opposite(s *Symbol, at [2]*joints.Weld) {
	if b := m.section.Backing; b != nil && at[1] == nil {
		s.Sides[1].Backing = b.Kind
	}
	for i, w := range at {
		if w != nil && w.RootHeight.Present && at[1-i] == nil {
			s.Sides[1-i].MeltThrough = w.RootHeight
		}
	}
}

// along adds the lengths.
func (m *maker) along(s *Symbol, at [2]*joints.Weld) {
	round, straight := false, false
	for i, w := range at {
		if w == nil {
			continue
		}
		list := m.lengths[w.ID]
		if len(list) == 0 {
			continue
		}
		first := list[0]
		for _, l := range list {
			round = round || l.seam.Around > 0
			straight = straight || l.seam.Around == 0
			if l.seam.Segment != first.seam.Segment || l.seam.Pitch != first.seam.Pitch ||
				l.run.Segments != first.run.Segments || l.seam.Length != first.seam.Length || l.seam.Staggered != first.seam.Staggered {
				s.Tabled = true
			}
		}
		if len(list) == 1 {
			s.Places = max(s.Places, first.seam.Count)
		}
		switch {
		case s.Tabled:
		case first.seam.Segment > 0:
			s.Sides[i].Run = &Run{Segments: first.run.Segments, Segment: first.seam.Segment, Pitch: first.seam.Pitch}
			s.Staggered = s.Staggered || first.seam.Staggered
		case m.opts.Lengths && first.seam.Around == 0:
			s.Sides[i].Run = &Run{Segments: 1, Segment: first.seam.Length}
		}
	}
	s.AllAround = round && !straight
	s.Staggered = s.Staggered && at[0] != nil && at[1] != nil
	if s.Tabled {
		s.Sides[0].Run, s.Sides[1].Run, s.Staggered = nil, nil, false
	}
}

// arrow points at the weld of the arrow side, or at the joint root where that
// side has none; at the edge to be prepared where one member is.
func (m *maker) arrow(at [2]*joints.Weld, p preparation) Arrow {
	w := at[0]
	if w == nil {
		// The arrow-side root is the origin of the section plane, of a further
		// stem the far side of that stem; the open side lies away from the weld.
		w := at[1]
		far := w.FaceEdges[len(w.FaceEdges)/2].At(0.5).Sub(w.JointRoot)
		a := Arrow{Outward: geometry.Point{X: -far.X, Y: far.Y}.Unit()}
		if prefix(w) != "" {
			u := w.JointRoot.Sub(w.Feet[0].Toe).Unit()
			a.Tip = w.JointRoot.Add(u.Scale(float64(m.section.Members[w.Feet[1].Member].Thickness) / w.Dihedral.Sin()))
		}
		return a
	}
	face := w.FaceEdges[len(w.FaceEdges)/2]
	out := face.Tangent(0.5).Perp()
	if out.Dot(face.At(0.5).Sub(w.WeldRoot)) < 0 {
		out = out.Scale(-1)
	}
	a := Arrow{Tip: face.At(0.5), Outward: out.Unit()}
	if p.member < 0 {
		return a
	}
	a.Prepared = m.section.Members[p.member].Name
	for _, f := range w.Feet {
		if f.Member == p.member {
			a.Tip, a.Toward = f.Toe, p.into
		}
	}
	return a
}
