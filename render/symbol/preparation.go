package symbol

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// preparation is what the measures of a section say of its grooves.
type preparation struct {
	flanks   [2]flank // arrow side, other side
	opening  joints.Opt
	rootFace joints.Opt // of a full weld
	full     bool
	member   int            // the only member prepared on the arrow side, −1 for none or both
	into     geometry.Point // from its prepared edge into it
}

// flank is the preparation of one side.
type flank struct {
	glyph  Glyph
	angle  geometry.Angle
	radius [2]joints.Opt
	depth  geometry.Length
}

func (f *flank) prepared() bool { return f.glyph != "" }

func (f *flank) flare() bool { return f.glyph == FlareV || f.glyph == FlareBevel }

func (p *preparation) any() bool {
	return p.flanks[0].prepared() || p.flanks[1].prepared() || p.opening.Present
}

// measure finds a measure of the joint itself by name.
func (m *maker) measure(name string) *joints.Measure {
	for i := range m.section.Measures {
		if x := &m.section.Measures[i]; x.Weld == "" && x.Name == name {
			return x
		}
	}
	return nil
}

// preparation reads the grooves between two members. Measures of a pair start
// with its prefix, those of the other side with "other" after it.
func (m *maker) preparation(prefix string, at [2]*joints.Weld) preparation {
	prefix = strings.ReplaceAll(prefix, "-", " ")
	p := preparation{member: -1}
	grooves, through := 0, true
	sum := 0.0
	for i, w := range at {
		if w == nil || w.Kind != joints.GrooveWeld && w.Kind != joints.EdgeWeld {
			continue
		}
		p.flanks[i] = m.flank(prefix+[2]string{"", "other "}[i], w)
		if w.Kind == joints.EdgeWeld && !p.flanks[i].prepared() {
			continue
		}
		grooves++
		sum += float64(w.TheoreticalThroat)
		// A flare and the groove of an edge joint end inside the joint.
		through = through && w.Kind == joints.GrooveWeld && !p.flanks[i].flare()
	}
	if grooves == 0 {
		return p
	}
	for _, name := range [2]string{"root opening", "gap"} {
		if x := m.measure(prefix + name); x != nil {
			p.opening = joints.Some(geometry.Length(x.Value))
		}
	}
	if !p.flanks[0].prepared() && !p.flanks[1].prepared() {
		t := m.shared(at)
		p.full = sum >= t*(1-alike)
		return p
	}
	p.full = through
	if f := m.measure(prefix + "root face"); f != nil && at[0] != nil {
		// The root face runs from where a full weld ends to where the
		// preparation of the arrow side does.
		p.full = f.To.Sub(f.From).Dot(at[0].RootCorner.Sub(f.From)) <= f.Value*f.Value/2
		if p.full {
			p.rootFace = joints.Some(geometry.Length(f.Value))
		}
	}
	if g := p.flanks[0].glyph; g == Bevel || g == J {
		p.member, p.into = m.prepared(prefix, at[0])
	}
	return p
}

// shared is the thickness that two butting members have in common.
func (m *maker) shared(at [2]*joints.Weld) float64 {
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, w := range at {
		if w == nil {
			continue
		}
		for _, f := range w.Feet {
			b := m.section.Members[f.Member].Outline.Bounds()
			lo, hi = math.Max(lo, b.Min.Y), math.Min(hi, b.Max.Y)
		}
	}
	return hi - lo
}

func (m *maker) flank(prefix string, w *joints.Weld) flank {
	var f flank
	both, one := m.measure(prefix+"groove angle"), m.measure(prefix+"bevel angle")
	depth := m.measure(prefix + "depth")
	if depth == nil || both == nil && one == nil {
		return m.flare(w)
	}
	f.depth = geometry.Length(depth.Value)
	curved := false
	for i := range m.section.Measures {
		x := &m.section.Measures[i]
		if x.Weld != "" || x.Name != prefix+"root radius" {
			continue
		}
		curved = true
		r := joints.Some(geometry.Length(x.Value))
		for j := range f.radius {
			if x.Member == "" || x.Member == m.section.Members[w.Feet[j].Member].Name {
				f.radius[j] = r
			}
		}
	}
	switch {
	case both != nil:
		f.glyph, f.angle = V, degrees(both.Value)
		if curved {
			f.glyph = U
			// One measure stands for two equal radii.
			if !f.radius[1].Present {
				f.radius[1] = f.radius[0]
			}
		}
	default:
		f.glyph, f.angle = Bevel, degrees(one.Value)
		if curved {
			f.glyph = J
		}
		if m.curved(w.Feet[0].Member) && m.curved(w.Feet[1].Member) {
			f.glyph = U // one half of it without a bevel
		}
	}
	return f
}

// flare finds the round members of a weld that has no preparation.
func (m *maker) flare(w *joints.Weld) flank {
	round := 0
	for _, f := range w.Feet {
		for i := range m.section.Measures {
			if x := &m.section.Measures[i]; x.Name == "radius" && x.Member == m.section.Members[f.Member].Name {
				round++
				break
			}
		}
	}
	return flank{glyph: [3]Glyph{"", FlareBevel, FlareV}[round]}
}

// curved tells whether a member's edge has a root radius.
func (m *maker) curved(member int) bool {
	for _, e := range m.section.Members[member].Outline.All() {
		if e.Kind() == geometry.ArcEdge {
			return true
		}
	}
	return false
}

func degrees(v float64) geometry.Angle { return geometry.Angle(v) * geometry.Degree }

// prepared finds the member whose outline the bevel lies on, and the direction
// from the bevel into it.
func (m *maker) prepared(prefix string, w *joints.Weld) (member int, into geometry.Point) {
	angle := m.measure(prefix + "bevel angle")
	// The measure ends level on the bevel and on the square edge it is counted
	// from, which may lie on the other member: the bevel is the longer way.
	rim := angle.To
	if angle.From.Dist(angle.Vertex) > rim.Dist(angle.Vertex) {
		rim = angle.From
	}
	mid := angle.Vertex.Lerp(rim, 0.5)
	off := func(member int) float64 {
		o := &m.section.Members[member].Outline
		return o.Distance(angle.Vertex) + o.Distance(mid) + o.Distance(rim)
	}
	if member = w.Feet[0].Member; off(w.Feet[1].Member) < off(member) {
		member = w.Feet[1].Member
	}
	// The member lies on the far side of the bevel from the groove.
	const inside = 1e-3 // mm
	into = rim.Sub(angle.Vertex).Perp().Unit()
	if m.section.Members[member].Outline.Locate(mid.Add(into.Scale(inside))) != geometry.Inside {
		into = into.Scale(-1)
	}
	return member, into
}
