package sheet

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// block is a titled piece of the sheet, a column wide. It may be parted
// between rows where a sheet ends.
type block struct {
	title string
	rows  []row
	// head is repeated where the block goes on.
	head    *row
	spacing spacing
}

// row is one line of a block, or a few that belong together. It is made for a
// width and can be set in any spacing.
type row struct {
	// The height is so many lines and pitches of the spacing, and mm besides.
	lines, pitches, besides float64
	draw                    func(p *pen, sp *spacing, x, top, width float64)
	// plain leaves out the hairline under the row.
	plain bool
}

func (r *row) height(sp *spacing) float64 {
	return r.lines*sp.line + r.pitches*sp.pitch + r.besides
}

// pen draws on a sheet.
type pen struct {
	style *render.Style
	items []render.Item
	role  string
}

func (p *pen) path(width float64, closed bool, edges []geometry.Edge) {
	// There are hundreds on a sheet: path and stroke share a piece of memory.
	one := &struct {
		path   render.Path
		stroke render.Stroke
	}{render.Path{Edges: edges, Closed: closed}, render.Stroke{Width: width}}
	one.path.Stroke = &one.stroke
	p.items = append(p.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: p.role, Path: &one.path})
}

func (p *pen) line(width, x0, y0, x1, y1 float64) {
	p.path(width, false, []geometry.Edge{geometry.Line(geometry.Point{X: x0, Y: y0}, geometry.Point{X: x1, Y: y1})})
}

func (p *pen) rect(width float64, b geometry.Box) {
	a, c := geometry.Point{X: b.Max.X, Y: b.Min.Y}, geometry.Point{X: b.Min.X, Y: b.Max.Y}
	p.path(width, true, []geometry.Edge{geometry.Line(b.Min, a), geometry.Line(a, b.Max), geometry.Line(b.Max, c), geometry.Line(c, b.Min)})
}

func (p *pen) text(x, y, height float64, align render.Align, face render.Face, content string) {
	if content == "" {
		return
	}
	p.items = append(p.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: p.role,
		Text: &render.Text{At: geometry.Point{X: x, Y: y}, Height: height, Align: align, Face: face, Content: content}})
}

// spacing is how tables are spread over the paper, mm. Lettering of 2.5 mm
// stands at least 1.5 times its height apart (ISO 3098 for letters without
// accents, secondary); rows of tables leave room for a hairline.
type spacing struct {
	line  float64 // height of a row of a table
	base  float64 // of the base line over the foot of its row
	pitch float64 // of the lines of one paragraph
	title float64 // height of a block's title
	sink  float64 // rows begin this much above the foot of the title
	gap   float64 // between blocks
	// legs is how many lines the table of legs by gap may have.
	legs int
	// columns that tables may stand in, side by side; 0 leaves it to the paper.
	columns int
}

// spacings are the ways to spread tables, the roomiest first.
var spacings = [...]spacing{
	{line: 4.6, base: 1.35, pitch: 4, title: 6, sink: 1.2, gap: 4.5, legs: 6},
	{line: 4.2, base: 1.15, pitch: 3.8, title: 5.9, sink: 1.2, gap: 3.2, legs: 5},
	{line: 4.2, base: 1.15, pitch: 3.8, title: 5.9, sink: 1.2, gap: 3.2, legs: 5, columns: 3},
}

const (
	hairline     = 0.18
	columnGutter = 6.0
)

// height is that of the block's first n rows.
func (b *block) height(n int) float64 {
	h := b.spacing.title
	if b.head != nil {
		h += b.head.height(&b.spacing)
	}
	for i := range n {
		h += b.rows[i].height(&b.spacing)
	}
	return h
}

// full is the height of the whole block.
func (b *block) full() float64 { return b.height(len(b.rows)) }

// part cuts a block after n rows.
func (b *block) part(n int, continued string) (block, block) {
	first, rest := *b, *b
	first.rows, rest.rows = b.rows[:n], b.rows[n:]
	if !strings.HasSuffix(rest.title, continued) {
		rest.title += continued
	}
	return first, rest
}

// draw draws the block with its top left corner at (x, top).
func (b *block) draw(p *pen, x, top, width float64) {
	p.role = "table:" + b.title
	h := p.style.SmallHeight
	p.text(x, top-h-0.6, h, render.AlignLeft, render.FaceBold, b.title)
	y := top - b.spacing.title + 1.6
	p.line(0.35, x, y, x+width, y)
	y = top - b.spacing.title + b.spacing.sink
	if b.head != nil {
		b.head.draw(p, &b.spacing, x, y, width)
		y -= b.head.height(&b.spacing)
		if !b.head.plain {
			p.line(hairline, x, y, x+width, y)
		}
	}
	for i := range b.rows {
		r := &b.rows[i]
		r.draw(p, &b.spacing, x, y, width)
		y -= r.height(&b.spacing)
		if !r.plain && i < len(b.rows)-1 {
			p.line(hairline, x, y, x+width, y)
		}
	}
}

// cells makes a row of a table, columns as parts of the width: the first one at
// the left, its text on as many lines as it takes; the others at the right, one
// line of text each.
func (c *composer) cells(width float64, share []float64, face render.Face, texts ...string) row {
	h := c.style.SmallHeight
	label := lettering.Wrap(texts[0], face, h, share[0]*width)
	cut := make([]string, len(texts))
	for i, t := range texts[1:] {
		var short bool
		if cut[i+1], short = lettering.Clip(t, face, h, share[i+1]*width-cellGap); short {
			c.overflow(texts[0], t)
		}
	}
	lines := max(1, len(label))
	return row{lines: 1, pitches: float64(lines - 1), draw: func(p *pen, sp *spacing, x, top, width float64) {
		base := top - sp.line + sp.base
		for i, line := range label {
			p.text(x, base-float64(i)*sp.pitch, h, render.AlignLeft, face, line)
		}
		at := x + share[0]*width
		for i, t := range cut[1:] {
			at += share[i+1] * width
			p.text(at, base, h, render.AlignRight, face, t)
		}
	}}
}

// cellGap is kept between the texts of neighbouring cells, mm.
const cellGap = 2.0

// grid makes the rows of a table, its columns as wide as their texts ask. The
// first line is the head. Columns that do not fit beside the first go into a
// table of their own underneath: a number is never cut.
func (c *composer) grid(width float64, lines [][]string) (head *row, rows []row) {
	wide, numbers := c.asked(lines)
	if n := len(wide) / 2; numbers > width-math.Min(leastLabel, wide[0]) && len(wide) > 2 {
		head, rows = c.grid(width, columnsOf(lines, 1, 1+n))
		next, more := c.grid(width, columnsOf(lines, 1+n, len(wide)))
		return head, append(append(rows, *next), more...)
	}
	return c.lined(width, lines, 0)
}

// leastLabel is the least width of the first column of a table, mm.
const leastLabel = 16.0

// asked is how wide the texts of each column ask it to be, and all columns but
// the first together.
func (c *composer) asked(lines [][]string) (wide []float64, numbers float64) {
	wide = make([]float64, len(lines[0]))
	for n, line := range lines {
		face := render.FaceRegular
		if n == 0 {
			face = render.FaceBold
		}
		for i, t := range line {
			wide[i] = math.Max(wide[i], lettering.Measure(t, face, c.style.SmallHeight)+cellGap+0.01)
		}
	}
	wide[0] -= cellGap // the gap stands before each of the others
	for _, w := range wide[1:] {
		numbers += w
	}
	return wide, numbers
}

// lined makes the rows of a table whose columns stay side by side. Where the
// texts ask for more than there is, the first column gives way, and only then
// the others. The last one has room for a box to write in.
func (c *composer) lined(width float64, lines [][]string, box float64) (head *row, rows []row) {
	wide, numbers := c.asked(lines)
	if last := &wide[len(wide)-1]; box > 0 && box+cellGap > *last {
		numbers += box + cellGap - *last
		*last = box + cellGap
	}
	switch spare := width - wide[0] - numbers; {
	case spare >= 0:
		// Columns of numbers are spread evenly.
		for i := range wide[1:] {
			wide[i+1] += spare / float64(len(wide)-1)
		}
	case width-numbers >= math.Min(leastLabel, wide[0]):
		wide[0] = width - numbers
	default:
		wide[0] = math.Min(leastLabel, wide[0])
		for i := range wide[1:] {
			wide[i+1] *= (width - wide[0]) / numbers
		}
	}
	for i := range wide {
		wide[i] /= width
	}
	first := c.cells(width, wide, render.FaceBold, lines[0]...)
	for _, line := range lines[1:] {
		rows = append(rows, c.cells(width, wide, render.FaceRegular, line...))
	}
	return &first, rows
}

// columnsOf takes the first column of a table and those from one to another.
func columnsOf(lines [][]string, from, to int) [][]string {
	out := make([][]string, len(lines))
	for i, line := range lines {
		out[i] = append([]string{line[0]}, line[from:to]...)
	}
	return out
}

// paragraph makes a row of wrapped text, with a mark in front.
func (c *composer) paragraph(width float64, mark, text string) row {
	h := c.style.SmallHeight
	indent := 0.0
	if mark != "" {
		indent = math.Max(4, lettering.Measure(mark, render.FaceBold, h)+1.6)
	}
	lines := lettering.Wrap(text, render.FaceRegular, h, width-indent)
	return row{pitches: float64(len(lines)), besides: 1, plain: true, draw: func(p *pen, sp *spacing, x, top, _ float64) {
		base := top - sp.line + sp.base
		p.text(x, base, h, render.AlignLeft, render.FaceBold, mark)
		for i, l := range lines {
			p.text(x+indent, base-float64(i)*sp.pitch, h, render.AlignLeft, render.FaceRegular, l)
		}
	}}
}

// pair makes a row of a label and a value, the value wrapped where it is long.
func (c *composer) pair(width float64, l Line) row {
	h := c.style.SmallHeight
	// A label gives way only to a value that could not be set on one line.
	room := math.Max(0.5*width, width-4-lettering.Measure(l.Value, render.FaceRegular, h))
	label, short := lettering.Clip(l.Label, render.FaceRegular, h, room)
	if short {
		c.overflow("", l.Label+": "+l.Value)
	}
	used := lettering.Measure(label, render.FaceRegular, h) + 4
	lines := lettering.Wrap(l.Value, render.FaceRegular, h, width-used)
	if len(lines) == 0 {
		lines = []string{""}
	}
	return row{lines: 1, pitches: float64(len(lines) - 1), draw: func(p *pen, sp *spacing, x, top, width float64) {
		base := top - sp.line + sp.base
		p.text(x, base, h, render.AlignLeft, render.FaceRegular, label)
		for i, v := range lines {
			p.text(x+width, base-float64(i)*sp.pitch, h, render.AlignRight, render.FaceRegular, v)
		}
	}}
}
