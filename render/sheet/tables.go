package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/render"
	"fay/render/layout"
)

// blocks are all tables of the job in the order of their use at the bench,
// made for a column width. Texts already cut short elsewhere go to the notes.
func (c *composer) blocks(width float64, cut []string) []block {
	c.notes = slices.Clone(cut)
	list := append(make([]block, 0, 6),
		c.weldTable(width),
		c.fitUp(width),
		c.materials(width),
		c.filler(width),
		c.findings(width))
	// Notes come last, because cutting the others short adds to them.
	list = append(list, c.noteList(width))
	out := list[:0]
	for _, b := range list {
		if len(b.rows) > 0 {
			out = append(out, b)
		}
	}
	return out
}

// weldRows are the measures of a weld that the table lists, in order.
var weldRows = []string{
	"leg", "gauge leg", "theoretical throat", "effective throat", "actual throat", "convexity", "concavity",
	"penetration", "edge remaining", "root opening", "cap width", "cap height", "root width", "root height",
	"area", "deposited area",
}

// weldTable lists the numbers of every weld, a column each; two like welds
// share one.
func (c *composer) weldTable(width float64) block {
	sec := c.job.Section
	welds := make([]string, 0, len(sec.Welds))
	heads := []string{""}
	alike := layout.Alike(sec)
	for i := range sec.Welds {
		if alike && i > 0 {
			break
		}
		w := &sec.Welds[i]
		welds = append(welds, w.ID)
		switch {
		case alike:
			heads = append(heads, c.word("weld.both"))
		default:
			heads = append(heads, c.word("weld."+w.ID))
		}
	}
	b := block{title: c.word("table.welds") + ", " + c.style.Numbers.Name()}
	share := shares(0.46, len(welds))
	head := c.cells(width, share, render.FaceBold, heads...)
	b.head = &head
	all := allDeposited(sec)
	for _, name := range weldRows {
		if all && name == "deposited area" {
			continue
		}
		for _, member := range membersOf(sec, name, welds) {
			if row, ok := c.weldRow(name, member, welds); ok {
				b.rows = append(b.rows, c.cells(width, share, render.FaceRegular, row...))
			}
		}
	}
	for i := range sec.Measures {
		m := &sec.Measures[i]
		if all && m.Name == "deposited area" {
			continue
		}
		if m.Weld == "" && m.Member == "" && m.Unit == joints.UnitMM2 && len(welds) > 1 {
			texts := make([]string, len(welds)+1)
			texts[0], texts[len(welds)] = c.word("total")+" "+c.word("measure."+m.Name)+", "+c.areaUnit(), c.style.Numbers.Value(m.Value, m.Unit)
			b.rows = append(b.rows, c.cells(width, share, render.FaceRegular, texts...))
		}
	}
	return b
}

// allDeposited tells whether no weld melts any base metal, so that all of its
// area is filler.
func allDeposited(sec *joints.Section) bool {
	for i := range sec.Welds {
		if w := &sec.Welds[i]; math.Abs(w.Area-w.DepositedArea) > 1e-9*w.Area {
			return false
		}
	}
	return true
}

func (c *composer) areaUnit() string { return c.style.Numbers.Name() + "²" }

// shares gives the first column its part and the others the rest in equal
// parts.
func shares(first float64, others int) []float64 {
	s := make([]float64, others+1)
	s[0] = first
	for i := range others {
		s[i+1] = (1 - first) / float64(others)
	}
	return s
}

// membersOf lists the members a measure is taken on, in order of appearance;
// one empty name where it is not taken on members.
func membersOf(sec *joints.Section, name string, welds []string) []string {
	var names []string
	for i := range sec.Measures {
		m := &sec.Measures[i]
		if m.Name != name || !slices.Contains(welds, m.Weld) || slices.Contains(names, m.Member) {
			continue
		}
		names = append(names, m.Member)
	}
	return names
}

// weldRow is one measure over all welds; ok is false where it says nothing.
func (c *composer) weldRow(name, member string, welds []string) ([]string, bool) {
	sec := c.job.Section
	label := c.word("measure." + name)
	if member != "" {
		label += ", " + c.word("member."+member)
	}
	texts := make([]string, len(welds)+1)
	said := false
	for i, id := range welds {
		w, _ := sec.Weld(id)
		texts[i+1] = "–"
		for k := range sec.Measures {
			m := &sec.Measures[k]
			if m.Name != name || m.Weld != id || m.Member != member {
				continue
			}
			// A gauge reads the leg itself on a square joint.
			if name == "gauge leg" && w != nil && w.Dihedral == 90*geometry.Degree {
				continue
			}
			if m.Unit == joints.UnitMM2 {
				label = c.word("measure."+name) + ", " + c.areaUnit()
				if name == "area" && allDeposited(sec) {
					label = c.word("area.deposited") + ", " + c.areaUnit()
				}
			}
			texts[i+1] = c.style.Numbers.Toleranced(m.Value, m.Unit, m.Tolerance)
			said = true
		}
	}
	texts[0] = label
	return texts, said
}

// fitUp lists what the fitter sets: nominal, tolerance, and a place for what
// was measured.
func (c *composer) fitUp(width float64) block {
	b := block{title: c.word("table.fitup") + ", " + c.style.Numbers.Name()}
	share := []float64{0.34, 0.2, 0.22, 0.24}
	head := c.cells(width, share, render.FaceBold, "", c.word("nominal"), c.word("tolerance"), c.word("measured"))
	b.head = &head
	for i := range c.job.Section.Parameters {
		p := &c.job.Section.Parameters[i]
		if !p.FitUp || p.Unit == "" || p.Default && p.Tolerance == nil && p.Name != "gap" {
			continue // what nobody asked for needs no line
		}
		tolerance := "–"
		if p.Tolerance != nil {
			tolerance = c.style.Numbers.Tolerance(p.Tolerance, p.Unit)
		}
		r := c.cells(width, share, render.FaceRegular, c.word("measure."+p.Name), c.style.Numbers.Value(p.Value, p.Unit), tolerance, "")
		b.rows = append(b.rows, boxed(r, share))
	}
	return b
}

// boxed gives a row a box to write in at its last column.
func boxed(r row, share []float64) row {
	const height = 7.0
	inner := r.draw
	return row{height: height, draw: func(p *pen, x, top, width float64) {
		inner(p, x, top-(height-lineHeight)/2, width)
		w := share[len(share)-1]*width - 4
		p.rect(0.25, geometry.Box{Min: geometry.Point{X: x + width - w, Y: top - height + 0.7}, Max: geometry.Point{X: x + width, Y: top - 0.7}})
	}}
}

func (c *composer) materials(width float64) block {
	return c.pairs(c.word("table.materials"), c.job.Materials, width)
}

func (c *composer) filler(width float64) block {
	return c.pairs(c.word("table.filler"), c.job.Filler, width)
}

func (c *composer) pairs(title string, lines []Line, width float64) block {
	b := block{title: title}
	for _, l := range lines {
		b.rows = append(b.rows, c.pair(width, l))
	}
	return b
}

// findings tells what is not met in full and counts the rest.
func (c *composer) findings(width float64) block {
	b := block{title: c.word("table.findings")}
	if len(c.job.Findings) == 0 {
		return b
	}
	count := map[check.Verdict]int{}
	for i := range c.job.Findings {
		f := &c.job.Findings[i]
		count[f.Verdict]++
		if f.Verdict == check.NotMet {
			b.rows = append(b.rows, c.finding(width, f))
		}
	}
	var summary []string
	for _, v := range [...]check.Verdict{check.NotMet, check.Met, check.CannotTell, check.NotApplicable} {
		if n := count[v]; n > 0 {
			summary = append(summary, strconv.Itoa(n)+" "+c.word("verdict."+string(v)))
		}
	}
	return block{title: b.title, rows: append([]row{c.paragraph(width, "", strings.Join(summary, " · "))}, b.rows...)}
}

func (c *composer) finding(width float64, f *check.Finding) row {
	n := c.style.Numbers
	text := f.Title
	if f.Weld != "" {
		text += " (" + c.word("weld."+f.Weld) + ")"
	}
	if f.Provided != nil && f.Required != nil {
		text += ": " + n.Value(*f.Provided, f.Unit) + ", " + c.word("needs") + " " + string(f.Operator) + " " + n.Value(*f.Required, f.Unit) + c.unitOf(f.Unit)
	}
	if f.Mend != "" {
		text += "; " + f.Mend
	}
	source := strings.TrimSpace(f.Source.Document + " " + f.Source.Clause)
	if source != "" {
		text += " [" + source
		if f.Provenance == check.Memory {
			text += ", " + c.word("memory")
		}
		text += "]"
	}
	return c.paragraph(width, "✗", text)
}

func (c *composer) unitOf(u joints.Unit) string {
	if u == joints.UnitMM {
		return " " + c.style.Numbers.Name()
	}
	if u == joints.UnitMM2 {
		return " " + c.areaUnit()
	}
	return "" // angles and percentages carry theirs
}

// The heights of boxes to sign, mm: side by side, and under one another where
// room is scarce.
const (
	signBox    = 7.0
	lowSignBox = 6.2
)

func (c *composer) points() []Line {
	if len(c.job.HoldPoints) > 0 {
		return c.job.HoldPoints
	}
	var points []Line
	for _, key := range [...]string{"fitup", "root", "final", "etch"} {
		points = append(points, Line{c.word("hold." + key), c.word("hold." + key + ".what")})
	}
	return points
}

// holdStrip sets the hold points side by side over a wide space, four in a row.
func (c *composer) holdStrip(width float64) block {
	b := block{title: c.word("table.hold")}
	const across = 4
	points := c.points()
	cell := (width - (across-1)*blockGap) / across
	for len(points) > 0 {
		n := min(across, len(points))
		group := points[:n]
		points = points[n:]
		draws := make([]func(p *pen, x, top, width float64), n)
		for i, l := range group {
			draws[i] = c.holdCell(l, cell)
		}
		b.rows = append(b.rows, row{height: 3*lineHeight + signBox - 3.6, plain: true, draw: func(p *pen, x, top, _ float64) {
			for i, draw := range draws {
				draw(p, x+float64(i)*(cell+blockGap), top, cell)
			}
		}})
	}
	return b
}

// holdCell is one hold point: its name, what to look at, a box for who signs
// and one for the date.
func (c *composer) holdCell(l Line, width float64) func(p *pen, x, top, width float64) {
	h := c.style.SmallHeight
	label, cut := clip(l.Label, render.FaceBold, h, width)
	what, cutToo := clip(l.Value, render.FaceRegular, h, width)
	if cut || cutToo {
		c.overflow("", l.Label+": "+l.Value)
	}
	return func(p *pen, x, top, width float64) {
		p.text(x, top-lineHeight+baseUp, h, render.AlignLeft, render.FaceBold, label)
		p.text(x, top-lineHeight-pitch+baseUp, h, render.AlignLeft, render.FaceRegular, what)
		c.signBoxes(p, x, top-lineHeight-pitch-0.4, width, signBox)
	}
}

// signBoxes draws the boxes for name and date side by side, their names small
// in the corner.
func (c *composer) signBoxes(p *pen, x, top, width, high float64) {
	h := c.style.SmallHeight
	split := 0.56 * width
	for _, s := range [2]struct {
		from, to float64
		word     string
	}{{0, split, "by"}, {split, width, "date"}} {
		p.rect(0.25, geometry.Box{Min: geometry.Point{X: x + s.from, Y: top - high}, Max: geometry.Point{X: x + s.to, Y: top}})
		p.items = append(p.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: p.role, Text: &render.Text{
			At: geometry.Point{X: x + s.from + 1, Y: top - h - 0.9}, Height: h, Content: c.word(s.word), Ink: faint}})
	}
}

// holdColumn sets the hold points under one another in a narrow space.
func (c *composer) holdColumn(width float64) block {
	b := block{title: c.word("table.hold")}
	h := c.style.SmallHeight
	for _, l := range c.points() {
		room := 0.38*width - 1
		label, cut := clip(l.Label, render.FaceBold, h, room)
		if cut {
			c.overflow("", l.Label+": "+l.Value)
		}
		b.rows = append(b.rows, row{height: lowSignBox, plain: true, draw: func(p *pen, x, top, width float64) {
			top -= 0.6 // clear of the line under the title
			p.text(x, top-lowSignBox/2-h/2, h, render.AlignLeft, render.FaceBold, label)
			c.signBoxes(p, x+0.38*width, top, 0.62*width, lowSignBox)
		}})
	}
	return b
}

// cautions run on as one paragraph; the sentence that defers comes last.
func (c *composer) cautions(width float64) block {
	b := block{title: c.word("table.cautions")}
	var list []string
	for _, key := range [...]string{"arc", "fume", "shock", "hot"} {
		list = append(list, c.word("caution."+key))
	}
	list = append(list, c.job.Cautions...)
	defers := c.word("caution.defers")
	if !slices.Contains(list, defers) {
		list = append(list, defers)
	}
	b.rows = append(b.rows, c.paragraph(width, "!", strings.Join(list, " ")))
	return b
}

// noteList prints the job's notes, the section's, measures that found no place
// on the drawing, and texts that were cut short elsewhere.
func (c *composer) noteList(width float64) block {
	b := block{title: c.word("table.notes")}
	notes := append(append([]string{}, c.job.Section.Notes...), c.job.Notes...)
	for i := range c.unplaced {
		m := &c.unplaced[i]
		text := c.word("measure." + m.Name)
		if m.Member != "" {
			text += ", " + c.word("member."+m.Member)
		}
		if m.Weld != "" {
			text += ", " + c.word("weld."+m.Weld)
		}
		notes = append(notes, c.word("unplaced")+": "+text+" "+c.style.Numbers.Toleranced(m.Value, m.Unit, m.Tolerance))
	}
	notes = append(notes, c.notes...)
	for _, text := range notes {
		if strings.TrimSpace(text) != "" {
			b.rows = append(b.rows, c.paragraph(width, strconv.Itoa(len(b.rows)+1), text))
		}
	}
	return b
}

// overflow keeps a text that was cut short for the notes.
func (c *composer) overflow(label, text string) {
	if label != "" && label != text {
		text = label + ": " + text
	}
	if !slices.Contains(c.notes, text) {
		c.notes = append(c.notes, text)
	}
}
