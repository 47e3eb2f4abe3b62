package sheet

import (
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/fitup"
	"fay/render"
	"fay/render/lettering"
)

// fitUp lists what the fitter sets, with its tolerance, and a place for what
// was measured.
// The second unit, which is for information, is left out where the column is too
// narrow for it.
func (c *composer) fitUp(width float64) block {
	b := block{spacing: c.spacing, title: c.word("table.fitup") + ", " + c.style.UnitNames()}
	lines := c.fitUpLines(&c.style)
	if h := c.style.SmallHeight; c.style.Second != nil && slices.ContainsFunc(lines, func(line []string) bool {
		return lettering.Measure(line[0]+line[1], render.FaceRegular, h)+2*cellGap+measuredBox > width
	}) {
		first := c.style
		first.Second = nil
		b.title = c.word("table.fitup") + ", " + first.UnitNames()
		lines = c.fitUpLines(&first)
	}
	head, rows := c.lined(width, lines, measuredBox)
	b.head = head
	for _, r := range rows {
		b.rows = append(b.rows, c.boxed(r, measuredBox))
	}
	return b
}

// fitUpLines are the openings and whatever else the fitter sets, then the
// edges as they are prepared, then how the members stand to each other.
func (c *composer) fitUpLines(s *render.Style) [][]string {
	sec := c.job.Section
	var openings, edges, last [][]string
	for i := range sec.Parameters {
		p := &sec.Parameters[i]
		if !p.FitUp || p.Unit == "" {
			continue
		}
		line := []string{c.named(p.Name), s.Dimension(p.Value, p.Unit, p.Tolerance), ""}
		switch name := strings.TrimPrefix(p.Name, lowerStem); name {
		case "gap":
			openings = append(openings, line)
		case "root-opening":
			// Of a lap it belongs to a joggle.
			gap := func(p joints.Parameter) bool { return p.Name == "gap" }
			if !p.Default || !slices.ContainsFunc(sec.Parameters, gap) {
				openings = append(openings, line)
			}
		case "root-face", "groove-angle", "bevel-angle":
			// The measures of the edges have it.
			cut := name == "root-face" && c.prepared(strings.TrimSuffix(p.Name, name)) || p.Tolerance != nil
			if c.joined(strings.ReplaceAll(p.Name, "-", " ")) == nil && cut {
				edges = append(edges, line)
			}
		case "hi-lo":
			last = append(last, line)
		default:
			if p.Default && p.Tolerance == nil {
				continue // what nobody asked for needs no line
			}
			openings = append(openings, line)
		}
	}
	for i := range sec.Measures {
		if line := c.edgeLine(s, &sec.Measures[i]); line != nil {
			edges = append(edges, line)
		}
	}
	return slices.Concat([][]string{{"", c.word("set"), c.word("measured")}}, openings, edges, last)
}

// lowerStem is before the names of what belongs to the lower stem of a cross.
const lowerStem = "lower-"

// named is the name of a parameter or of a measure of the joint. Where both
// stems of a cross have it, that of the upper one says so too.
func (c *composer) named(name string) string {
	name = strings.ReplaceAll(name, " ", "-")
	if own, ok := strings.CutPrefix(name, lowerStem); ok {
		return c.word("member.lower") + " " + c.word("measure."+own)
	}
	twin := func(p joints.Parameter) bool { return p.Name == lowerStem+name }
	if slices.ContainsFunc(c.job.Section.Parameters, twin) || c.joined("lower "+strings.ReplaceAll(name, "-", " ")) != nil {
		return c.word("member.upper") + " " + c.word("measure."+name)
	}
	return c.word("measure." + name)
}

// joined finds a measure of the joint itself.
func (c *composer) joined(name string) *joints.Measure {
	for i := range c.job.Section.Measures {
		if m := &c.job.Section.Measures[i]; m.Weld == "" && m.Name == name {
			return m
		}
	}
	return nil
}

// prepared tells whether the edges of the joint, or of one stem of a cross, are
// cut for a groove.
func (c *composer) prepared(stem string) bool {
	stem = strings.ReplaceAll(stem, "-", " ")
	return c.joined(stem+"groove angle") != nil || c.joined(stem+"bevel angle") != nil
}

// edgeLine is a line of the fit-up for a measure of a preparation; nil for
// others, and for the second of two sides alike.
func (c *composer) edgeLine(s *render.Style, m *joints.Measure) []string {
	if m.Weld != "" {
		return nil
	}
	rest, lower := strings.CutPrefix(m.Name, "lower ")
	kind, other := strings.CutPrefix(rest, "other ")
	switch kind {
	case "root face":
	case "groove angle":
		if m.Draw == joints.NotDrawn {
			return nil // each edge has an angle of its own
		}
	case "bevel angle", "edge angle":
	case "depth":
		// A preparation that goes through is as deep as the plate.
		given := func(p joints.Parameter) bool { return p.Name == strings.ReplaceAll(m.Name, " ", "-") && !p.Default }
		if !slices.ContainsFunc(c.job.Section.Parameters, given) {
			return nil
		}
	default:
		return nil
	}
	stem := ""
	if lower {
		stem = "lower "
	}
	name := c.named(stem + kind)
	twin := c.joined(stem + "other " + kind)
	if other {
		twin = c.joined(stem + kind)
	}
	if m.Member != "" {
		name += ", " + c.word("member."+m.Member)
		twin = nil // its members have one each
	}
	switch alike := twin != nil && math.Abs(twin.Value-m.Value) < 1e-6 && twin.Tolerance == m.Tolerance; {
	case alike && other:
		return nil
	case alike:
		name += ", " + c.word("weld.both")
	case other:
		name += ", " + c.word("weld.other")
	case twin != nil:
		name += ", " + c.word("weld.arrow")
	}
	return []string{name, s.Dimension(m.Value, m.Unit, m.Tolerance), ""}
}

// boxed gives a row a box to write in at its end.
func (c *composer) boxed(r row, wide float64) row {
	inner := r
	r.besides += 2
	r.draw = func(p *pen, sp *spacing, x, top, width float64) {
		high := r.height(sp)
		inner.draw(p, sp, x, top-(high-inner.height(sp))/2, width)
		p.rect(0.25, geometry.Box{Min: geometry.Point{X: x + width - wide, Y: top - high + 0.6}, Max: geometry.Point{X: x + width, Y: top - 0.6}})
	}
	return r
}

// The widths of boxes to write in, mm, no wider than the heads over them.
const (
	measuredBox = 15.0
	lotBox      = 22.0
)

// legsByGap tells the fitter what legs to lay once an opening is measured.
func (c *composer) legsByGap(width float64, g *GapTable) block {
	t, ok := fitup.Compact(g.Table, fitup.BenchMost)
	if !ok {
		return block{}
	}
	if n := c.spacing.legs; len(t.Rows) > n {
		// The rows next to the plan are those the bench needs.
		t.Rows = t.Rows[:n]
		t.Closed = 0
	}
	if t.Closed == 0 {
		t.Closed = t.Rows[len(t.Rows)-1].UpTo
	}
	n := c.style.Numbers
	b := block{spacing: c.spacing, title: c.word("table.legs") + " " + c.named(t.Parameter) + ", " + n.Name()}
	// Gaps are finer than legs.
	fine := n
	if n.Denominator > 0 {
		fine.Denominator = max(n.Denominator, 32)
	}
	stem := ""
	if strings.HasPrefix(t.Parameter, lowerStem) {
		stem = lowerStem
	}
	heads := []string{c.word("upto")}
	for _, id := range t.Welds {
		heads = append(heads, c.side(strings.TrimPrefix(id, stem)))
	}
	lines := [][]string{heads}
	whole := false
	for i := range t.Rows {
		r := &t.Rows[i]
		line := []string{fine.Length(float64(r.UpTo))}
		switch planned := float64(g.Planned); {
		case r.Nominal && planned == float64(r.UpTo):
			line[0] += " (" + c.word("plan") + ")"
		case r.Nominal:
			line[0] += " (" + c.word("plan") + " " + fine.Length(planned) + ")"
		}
		for k, legs := range r.Legs {
			text := n.Length(float64(legs[0]))
			if legs[0] != legs[1] {
				text += " × " + n.Length(float64(legs[1]))
			}
			if r.WholeEdge[k][0] || r.WholeEdge[k][1] {
				text, whole = text+"*", true
			}
			line = append(line, text)
		}
		lines = append(lines, line)
	}
	b.head, b.rows = c.grid(width, lines)
	var end string
	switch over := c.word("over") + " "; {
	case g.Limit.Present && g.Limit.Value <= t.Closed:
		end = over + fine.Length(float64(g.Limit.Value)) + " " + c.word("not.met") + ": " + g.Rule
	default:
		end = over + fine.Length(float64(t.Closed)) + ": " + c.word("closed")
	}
	b.rows = append(b.rows, c.paragraph(width, "", end))
	if whole {
		b.rows = append(b.rows, c.paragraph(width, "", c.word("whole.edge")))
	}
	return b
}
