package sheet

import (
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
	const width = 180.0
	if c.frame.Width() < width+20 {
		return c.frame.Min.X
	}
	return c.frame.Max.X - width
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
	d := &render.Drawing{Width: c.paper.width, Height: c.paper.height, Language: "en"}
	if c.o.Language == render.LanguageUS {
		d.Language = "en-US"
	}
	d.Title = c.documentTitle()
	q := &pen{style: &c.style}
	if index == 0 {
		d.Views, q.items = p.figure.Draw(p.at)
		d.Description = c.description(p)
	} else {
		d.Description = d.Title + ", " + c.word("sheet") + " " + strconv.Itoa(index+1)
	}
	c.drawFrame(q)
	c.titleBlock(q, p, index, count)
	c.checkBars(q)
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

// titleBlock draws the fields of ISO 7200 that a traveler has, and scale and
// units in boxes of their own beside them.
func (c *composer) titleBlock(q *pen, p *plan, index, count int) {
	q.role = "title block"
	j := c.job
	scale := ""
	if index == 0 && len(p.figure.Views) > 0 {
		scale = render.ScaleText(p.figure.Views[0].Scale)
	}
	rows := [][]field{
		{{"owner", j.Company, 58, false}, {"title", c.joinTitle(), 82, true}, {"document", c.word("traveler"), 40, false}},
		{{"job", j.Number, 36, true}, {"part", j.Part, 54, false}, {"joint", j.Joint, 24, true}, {"revision", j.Revision, 20, true}, {"quantity", j.Quantity, 20, false}, {"date", j.Date, 26, false}},
		{{"planner", j.Planner, 40, false}, {"approved", "", 40, false}, {"scale", scale, 20, true}, {"units", c.style.Numbers.Name(), 16, false}, {"digest", shorten(j.Digest), 38, false}, {"sheet", strconv.Itoa(index+1) + " " + c.word("of") + " " + strconv.Itoa(count), 26, false}},
	}
	left, bottom := c.titleLeft(), c.frame.Min.Y
	titleWidth := c.frame.Max.X - left
	high := titleHigh / float64(len(rows))
	q.rect(0.5, geometry.Box{Min: geometry.Point{X: left, Y: bottom}, Max: geometry.Point{X: left + titleWidth, Y: bottom + titleHigh}})
	for i, r := range rows {
		top := bottom + titleHigh - float64(i)*high
		if i > 0 {
			q.line(0.25, left, top, left+titleWidth, top)
		}
		x := left
		for k, f := range r {
			f.width *= titleWidth / 180
			if k > 0 {
				q.line(0.25, x, top-high, x, top)
			}
			c.field(q, f, x, top, high)
			x += f.width
		}
	}
}

func (c *composer) joinTitle() string {
	if c.job.Part == "" {
		return c.job.Section.Title
	}
	return c.job.Section.Title + ", " + c.job.Part
}

func shorten(digest string) string {
	const most = 16
	if len(digest) > most {
		return digest[:most]
	}
	return digest
}

func (c *composer) field(q *pen, f field, x, top, high float64) {
	const inset = 1.4
	small := c.style.SmallHeight
	label, _ := clip(c.word("field."+f.label), render.FaceRegular, small, f.width-2*inset)
	q.items = append(q.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: q.role, Text: &render.Text{
		At: geometry.Point{X: x + inset, Y: top - small - 0.8}, Height: small, Content: label, Ink: faint}})
	face, height := render.FaceRegular, 3.5
	if f.bold {
		face = render.FaceBold
	}
	if lettering.Measure(f.value, face, height) > f.width-2*inset {
		height = small
	}
	value, _ := clip(f.value, face, height, f.width-2*inset)
	q.text(x+inset, top-high+1.7, height, render.AlignLeft, face, value)
}

// faint is the ink of field names: still black enough for a copier.
var faint = render.Ink{R: 80, G: 80, B: 80}

// checkLength is the length of the check bars, mm on paper whatever the unit.
const checkLength = 50.0

// checkBars draws a bar along both axes, because printers stretch the two
// differently, and says what they are for.
func (c *composer) checkBars(q *pen) {
	q.role = "check bar"
	h := c.style.SmallHeight
	top := c.frame.Min.Y + titleHigh + stripHigh
	left, right := c.titleLeft(), c.frame.Max.X
	q.line(0.25, left, top, right, top)
	if c.paper.landscape {
		q.line(0.25, left, top-stripHigh, left, top)
	}
	x, y := right-checkLength-4, top-stripHigh/2
	q.line(0.5, x, y, x+checkLength, y)
	for _, at := range [...]float64{0, 0.2, 0.4, 0.6, 0.8, 1} {
		tick := 1.0
		if at == 0 || at == 1 {
			tick = 2
		}
		q.line(0.5, x+at*checkLength, y-tick, x+at*checkLength, y+tick)
	}
	text, _ := clip(c.word("check.bar"), render.FaceRegular, h, x-left-6)
	q.text(left+2, y-h/2, h, render.AlignLeft, render.FaceRegular, text)
	// The other axis, in the filing margin clear of the punched holes.
	vx, vy := filing-5.0, c.frame.Min.Y+2
	q.line(0.5, vx, vy, vx, vy+checkLength)
	for _, at := range [...]float64{0, 0.2, 0.4, 0.6, 0.8, 1} {
		tick := 1.0
		if at == 0 || at == 1 {
			tick = 2
		}
		q.line(0.5, vx-tick, vy+at*checkLength, vx+tick, vy+at*checkLength)
	}
	q.items = append(q.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: q.role, Text: &render.Text{
		At: geometry.Point{X: vx - 3, Y: vy + checkLength/2}, Height: h, Align: render.AlignCentre, Angle: 90 * geometry.Degree,
		Content: "50 mm"}})
}
