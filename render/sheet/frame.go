package sheet

import (
	"iter"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// titleLeft is where the title block begins: it stands at the right and is
// 180 mm wide (ISO 7200:2004, secondary). A frame hardly wider than that, as a
// letter sheet has, is filled.
func (c *composer) titleLeft() float64 {
	if c.frame.Width() < titleWidth+20 {
		return c.frame.Min.X
	}
	return c.frame.Max.X - titleWidth
}

// draw makes the drawings of a plan.
func (p *plan) draw() []*render.Drawing {
	out := make([]*render.Drawing, len(p.pages))
	for i, page := range p.pages {
		out[i] = p.c.sheet(p, page, i, len(p.pages))
	}
	return out
}

func (c *composer) sheet(p *plan, page []placedBlock, index, count int) *render.Drawing {
	d := &render.Drawing{Width: c.paper.width, Height: c.paper.height, Language: c.o.Language.Tag()}
	d.Title = c.documentTitle()
	q := &pen{style: &c.style}
	if index == 0 {
		d.Views, q.items = p.figure.Draw(p.at)
		d.Description = c.description(p)
	} else {
		d.Description = d.Title + ", " + c.word("sheet") + " " + strconv.Itoa(index+1)
	}
	const usual = 300 // items of frame and tables
	q.items = slices.Grow(q.items, usual)
	c.drawFrame(q)
	scale := ""
	if index == 0 && len(p.figure.Views) > 0 {
		scale = render.ScaleText(p.figure.Views[0].Scale)
	}
	c.titleBlock(q, scale, index, count)
	c.revision(q)
	c.checkBars(q, c.titleLeft(), c.frame.Min.Y+titleHigh)
	for i := range page {
		page[i].draw(q, page[i].x, page[i].top, page[i].width)
	}
	d.Items = q.items
	return d
}

func (c *composer) documentTitle() string {
	title := c.job.Section.Title
	if c.job.Part != "" {
		title += ", " + c.job.Part
	}
	if c.job.Joint != "" {
		title += ", " + c.word("joint") + " " + c.job.Joint
	}
	return title
}

// description is what a screen reader says of the sheet.
func (c *composer) description(p *plan) string {
	var b strings.Builder
	b.WriteString(c.documentTitle())
	b.WriteString(". " + c.word("view.section"))
	if len(p.figure.Views) > 0 {
		b.WriteString(", " + c.word("scale") + " " + render.ScaleText(p.figure.Views[0].Scale))
	}
	b.WriteString(".")
	for i := range c.job.Section.Members {
		m := &c.job.Section.Members[i]
		b.WriteString(" " + c.word("member."+m.Name) + " " + c.style.Numbers.Length(float64(m.Thickness)) + " " + c.style.Numbers.Name() + ".")
	}
	return b.String()
}

// drawFrame draws the drawing space and the centring marks.
func (c *composer) drawFrame(q *pen) {
	q.role = "frame"
	q.rect(0.7, c.frame)
	const mark = 5 // how far the marks run out of the frame
	mid := c.frame.Centre()
	q.line(0.7, c.frame.Min.X-mark, mid.Y, c.frame.Min.X, mid.Y)
	q.line(0.7, c.frame.Max.X, mid.Y, c.frame.Max.X+mark, mid.Y)
	q.line(0.7, mid.X, c.frame.Max.Y, mid.X, c.frame.Max.Y+mark)
	q.line(0.7, mid.X, c.frame.Min.Y-mark, mid.X, c.frame.Min.Y)
}

// field is a box of the title block.
type field struct {
	label, value string
	width        float64
	bold         bool
}

// titleRows are the fields of ISO 7200 that a traveler has, scale and units in
// boxes of their own beside them. Widths are those of a block 180 mm wide; the
// lower two rows leave qrWidth for the code.
func (c *composer) titleRows(scale, sheet string) [3][]field {
	j := c.job
	return [3][]field{
		{{"owner", j.Company, 58, false}, {"title", c.joinTitle(), 82, true}, {"document", c.document, 40, false}},
		{{"job", j.Number, 34, true}, {"part", j.Part, 43, false}, {"joint", j.Joint, 22, true}, {"revision", j.Revision, 17, true}, {"quantity", j.Quantity, 18, false}, {"date", j.Date, 24, false}},
		{{"planner", j.Planner, 30, false}, {"approved", "", 30, false}, {"scale", scale, 18, true}, {"units", c.style.UnitNames(), 17, false}, {"digest", shorten(j.Digest), 39, false}, {"sheet", sheet, 24, false}},
	}
}

const (
	titleWidth = 180.0 // of a title block (ISO 7200:2004, secondary)
	qrWidth    = 22.0
	fieldInset = 1.4
)

// ownerHigh is the height of the first row of a title block, where the owner may
// take two lines, lowerHigh that of the others, mm.
const (
	ownerHigh = 11.6
	lowerHigh = (titleHigh - ownerHigh) / 2
)

func rowHigh(row int) float64 {
	if row == 0 {
		return ownerHigh
	}
	return lowerHigh
}

// stretch is how much wider than planned the fields of a row are.
func (c *composer) stretch(row int) float64 {
	wide := (c.frame.Max.X - c.titleLeft()) / titleWidth
	if row > 0 && c.job.Digest == "" {
		wide *= titleWidth / (titleWidth - qrWidth)
	}
	return wide
}

// titleBlock draws the fields and the code.
func (c *composer) titleBlock(q *pen, scale string, index, count int) {
	q.role = "title block"
	rows := c.titleRows(scale, countOf(index+1, c.word("of"), count))
	left, right, bottom := c.titleLeft(), c.frame.Max.X, c.frame.Min.Y
	q.rect(0.5, geometry.Box{Min: geometry.Point{X: left, Y: bottom}, Max: geometry.Point{X: right, Y: bottom + titleHigh}})
	top := bottom + titleHigh
	for i, r := range rows {
		x, wide, high := left, c.stretch(i), rowHigh(i)
		if i > 0 && c.job.Digest != "" {
			x += qrWidth * wide
			q.line(0.25, x, top-high, x, top)
		}
		if i > 0 {
			from := x
			if i == 1 {
				from = left
			}
			q.line(0.25, from, top, right, top)
		}
		for k, f := range r {
			f.width *= wide
			if k > 0 {
				q.line(0.25, x, top-high, x, top)
			}
			c.field(q, f, x, top, high)
			x += f.width
		}
		top -= high
	}
	if c.job.Digest != "" {
		c.code(q, geometry.Box{Min: geometry.Point{X: left, Y: bottom}, Max: geometry.Point{X: left + qrWidth*c.stretch(1), Y: bottom + 2*lowerHigh}})
	}
}

// revision is a strip that tells what the revision is about; what is not known
// is written by hand.
func (c *composer) revision(q *pen) {
	q.role = "title block"
	left, right := c.titleLeft(), c.frame.Max.X
	bottom := c.frame.Min.Y + titleHigh + stripHigh
	q.line(0.25, left, bottom+revisionHigh, right, bottom+revisionHigh)
	x := left
	wide := (right - left) / titleWidth
	for i, f := range c.revisionFields() {
		f.width *= wide
		if i > 0 {
			q.line(0.25, x, bottom, x, bottom+revisionHigh)
		}
		h := c.style.SmallHeight
		label := c.word("field." + f.label)
		base := bottom + (revisionHigh-h)/2
		q.items = append(q.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: q.role, Text: &render.Text{
			At: geometry.Point{X: x + fieldInset, Y: base}, Height: h, Content: label, Ink: faint}})
		used := lettering.Measure(label, render.FaceRegular, h) + 2.5*fieldInset
		value, _ := lettering.Clip(f.value, render.FaceRegular, h, f.width-used-fieldInset)
		q.text(x+used, base, h, render.AlignLeft, render.FaceRegular, value)
		x += f.width
	}
}

func (c *composer) revisionFields() []field {
	j := c.job
	return []field{{"revision", j.Revision, 24, false}, {"changed", j.Changed, 46, false}, {"reason", j.Reason, 76, false}, {"by", j.RevisedBy, 34, false}}
}

// beginNotes leaves of the notes what the title block cuts short.
func (c *composer) beginNotes() {
	c.notes = nil
	c.once(setting{what: "title block"}, func(float64) block {
		c.cutFields()
		return block{}
	})
}

// cutFields notes every text that the title block cannot hold.
func (c *composer) cutFields() {
	note := func(f field, cut bool) {
		if cut {
			c.overflow(c.word("field."+f.label), f.value)
		}
	}
	for i, r := range c.titleRows("", "") {
		for _, f := range r {
			note(f, c.fieldValue(f, f.width*c.stretch(i)-2*fieldInset-c.logoRoom(f.label), rowHigh(i)).cut)
		}
	}
	for _, f := range c.revisionFields() {
		label := lettering.Measure(c.word("field."+f.label), render.FaceRegular, c.style.SmallHeight)
		_, cut := lettering.Clip(f.value, render.FaceRegular, c.style.SmallHeight, f.width*c.stretch(0)-label-3.5*fieldInset)
		note(f, cut)
	}
}

func (c *composer) face(f field) render.Face {
	if f.bold {
		return render.FaceBold
	}
	return render.FaceRegular
}

func (c *composer) joinTitle() string {
	title := c.job.Section.Title
	if c.job.Part == "" || strings.Contains(strings.ToLower(title), strings.ToLower(c.job.Part)) {
		return title
	}
	return title + ", " + c.job.Part
}

func shorten(digest string) string {
	const most = 16
	if len(digest) > most {
		return digest[:most]
	}
	return digest
}

func (c *composer) field(q *pen, f field, x, top, high float64) {
	small := c.style.SmallHeight
	if room := c.logoRoom(f.label); room > 0 {
		c.job.Logo.draw(q, geometry.Box{Min: geometry.Point{X: x + logoInset, Y: top - high + logoInset}, Max: geometry.Point{X: x + room, Y: top - logoInset}})
		x, f.width = x+room, f.width-room
	}
	label, _ := lettering.Clip(c.word("field."+f.label), render.FaceRegular, small, f.width-2*fieldInset)
	v := c.fieldValue(f, f.width-2*fieldInset, high)
	q.items = append(q.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: q.role, Text: &render.Text{
		At: geometry.Point{X: x + fieldInset, Y: top - small - v.over}, Height: small, Content: label, Ink: faint}})
	role := q.role
	if f.label == "sheet" {
		q.role = numberRole
	}
	for i, line := range v.lines {
		q.text(x+fieldInset, top-high+v.base[i], v.height, render.AlignLeft, c.face(f), line)
	}
	q.role = role
}

// fieldValue is how the value of a field is set.
type fieldValue struct {
	lines  []string
	base   [2]float64 // of the lines over the foot of the field
	over   float64    // of the label under the top
	height float64
	cut    bool // the field does not hold it
}

// fieldValue sets a value large where that fits a width, else small, then small
// on two lines where their letters do not meet in a field of this height.
func (c *composer) fieldValue(f field, width, high float64) fieldValue {
	face, small := c.face(f), c.style.SmallHeight
	v := fieldValue{lines: []string{f.value}, base: [2]float64{1.75}, over: 0.7, height: c.style.TextHeight}
	if lettering.Measure(f.value, face, v.height) <= width {
		return v
	}
	if v.height = small; lettering.Measure(f.value, face, small) <= width {
		return v
	}
	const foot, between, over = 0.45, 0.15, 0.35
	if lines := lettering.Wrap(f.value, face, small, width); len(lines) == 2 {
		low0, high0 := lettering.Set(lines[0], face, small).Ink()
		low1, high1 := lettering.Set(lines[1], face, small).Ink()
		under, _ := lettering.Set(c.word("field."+f.label), render.FaceRegular, small).Ink()
		second := foot - low1
		first := second + high1 + between - low0
		if first+high0+between <= high-over-small+under {
			v.lines, v.base, v.over = lines, [2]float64{first, second}, over
			return v
		}
	}
	one, cut := lettering.Clip(f.value, face, small, width)
	v.lines, v.cut = []string{one}, cut
	return v
}

// faint is the ink of field names: still black enough for a copier.
var faint = render.Ink{R: 80, G: 80, B: 80}

// checkLength is the length of the check bars, mm on paper whatever the unit.
const checkLength = 50.0

// checkBars draws a bar along both axes, because printers stretch the two
// differently, and says what they are for: a strip with its lower left corner
// at (left, bottom).
func (c *composer) checkBars(q *pen, left, bottom float64) {
	q.role = "check bar"
	h := c.style.SmallHeight
	right := c.frame.Max.X
	if left > c.frame.Min.X {
		q.line(0.25, left, bottom, left, bottom+stripHigh+revisionHigh)
	}
	q.line(0.25, left, bottom+stripHigh, right, bottom+stripHigh)
	x, y := right-checkLength-4, bottom+stripHigh/2
	q.line(0.5, x, y, x+checkLength, y)
	for at, tick := range ticks() {
		q.line(0.5, x+at, y-tick, x+at, y+tick)
	}
	text, _ := lettering.Clip(c.word("check.bar"), render.FaceRegular, h, x-left-6)
	q.text(left+2, y-h/2, h, render.AlignLeft, render.FaceRegular, text)
	// The other axis, in the filing margin clear of the punched holes.
	vx, vy := filing-5.0, c.frame.Min.Y+2
	q.line(0.5, vx, vy, vx, vy+checkLength)
	for at, tick := range ticks() {
		q.line(0.5, vx-tick, vy+at, vx+tick, vy+at)
	}
	q.items = append(q.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: q.role, Text: &render.Text{
		At: geometry.Point{X: vx - 3, Y: vy + checkLength/2}, Height: h, Align: render.AlignCentre, Angle: 90 * geometry.Degree,
		Content: "50 mm"}})
}

// ticks are the marks of a check bar every 10 mm: where, and how far they reach
// to either side; the ends reach further.
func ticks() iter.Seq2[float64, float64] {
	return func(yield func(at, tick float64) bool) {
		for i := range 6 {
			tick := 1.0
			if i == 0 || i == 5 {
				tick = 2
			}
			if !yield(float64(i)*checkLength/5, tick) {
				return
			}
		}
	}
}
