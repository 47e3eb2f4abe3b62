package sheet

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/lettering"
)

// Cover is what the first sheets of a job say: which joints there are, what to
// buy for all of them, and which checks are not met. All texts are printed as
// they are.
type Cover struct {
	Company, Number, Title string
	Planner                string
	Joints                 CoverTable
	Buying                 CoverTable
	Totals                 CoverTable
	Cost                   CoverTable
	// Findings are sentences, the summary first; none leaves them out.
	Findings []string
	Notes    []string
	Cautions []string
	Logo     *Logo
	// Sheets is how many sheets the file has, those of the cover among them;
	// zero counts those of the cover alone.
	Sheets int
}

// CoverTable is a table with a head, which is left out where it is blank. Every
// row has a cell for every head.
type CoverTable struct {
	Heads []string
	// Right sets a column to the right, as numbers are.
	Right []bool
	// Wide is the column that takes what room is left; its texts are wrapped.
	Wide int
	Rows [][]string
}

// ErrNoJoints is returned for a cover without a joint.
var ErrNoJoints = errors.New("sheet: the cover of a job needs a joint")

// ComposeCover lays out the cover of a job on as many sheets as it takes. The
// error is ErrNoJoints or joins one *OptionError for each bad option.
func ComposeCover(cover *Cover, o Options) ([]*render.Drawing, error) {
	err := o.check()
	if len(cover.Joints.Rows) == 0 {
		err = errors.Join(err, ErrNoJoints)
	}
	if err != nil {
		return nil, err
	}
	// Lists read best on paper that stands, whatever the travelers do.
	if o.Orientation != Landscape {
		o.Orientation = Portrait
	}
	job := &Job{Section: &joints.Section{}, Company: cover.Company, Number: cover.Number, Planner: cover.Planner, Logo: cover.Logo}
	p := &coverPages{cover: cover, composer: newComposer(job, o, o.papers()[0])}
	p.lay()
	return p.draw(), nil
}

// coverPages lays blocks one under the other, over as many sheets as it takes.
type coverPages struct {
	*composer
	cover *Cover
	pages [][]placedBlock
	top   float64 // where the next block begins
}

const coverTitle = 16.0 // height of the title over the first page's blocks

func (p *coverPages) inner() geometry.Box {
	b := p.frame
	b.Min.X, b.Max.X, b.Max.Y = b.Min.X+pad, b.Max.X-pad, b.Max.Y-pad
	b.Min.Y += titleHigh + pad
	return b
}

func (p *coverPages) lay() {
	in := p.inner()
	width := in.Width()
	p.pages, p.top = [][]placedBlock{nil}, in.Max.Y-coverTitle
	p.put(p.table(p.word("cover.joints"), &p.cover.Joints, width))
	p.put(p.table(p.word("cover.buying"), &p.cover.Buying, width))
	p.put(p.table(p.word("cover.totals"), &p.cover.Totals, width))
	p.put(p.table(p.word("cover.cost"), &p.cover.Cost, width))
	list := func(key string, texts []string) {
		b := block{spacing: p.spacing, title: p.word(key)}
		for _, t := range texts {
			b.rows = append(b.rows, p.paragraph(width, "", t))
		}
		p.put(b)
	}
	list("table.findings", p.cover.Findings)
	notes := p.cover.Notes
	if title := p.heading(); lettering.Measure(title, render.FaceBold, p.style.TextHeight) > width {
		notes = append([]string{title}, notes...) // cut short at the top
	}
	list("table.notes", notes)
	p.job.Cautions = p.cover.Cautions
	p.put(p.cautions(width))
}

// put places a block, parted where a sheet ends.
func (p *coverPages) put(b block) {
	if len(b.rows) == 0 {
		return
	}
	in := p.inner()
	continued := " (" + p.word("continued") + ")"
	for {
		room := p.top - in.Min.Y
		n := 0
		for n < len(b.rows) && b.height(n+1) <= room {
			n++
		}
		last := len(p.pages) - 1
		fresh := len(p.pages[last]) == 0
		if n == 0 && fresh {
			n = 1 // a row higher than a sheet: shown as far as it goes
		}
		// One lone row under its head is worse than white paper.
		if few := min(2, len(b.rows)); n < few && !fresh {
			n = 0
		}
		if n == len(b.rows) {
			p.pages[last] = append(p.pages[last], placedBlock{b, in.Min.X, p.top, in.Width()})
			p.top -= b.full() + p.spacing.gap
			return
		}
		if n > 0 {
			var first block
			first, b = b.part(n, continued)
			p.pages[last] = append(p.pages[last], placedBlock{first, in.Min.X, p.top, in.Width()})
		}
		p.pages, p.top = append(p.pages, nil), in.Max.Y
	}
}

// table makes a block of a table: columns as wide as their texts ask, the wide
// one as wide as is left.
func (p *coverPages) table(title string, t *CoverTable, width float64) block {
	b := block{spacing: p.spacing, title: title}
	if len(t.Rows) == 0 {
		return b
	}
	widths := p.widths(t, width)
	if strings.Join(t.Heads, "") != "" {
		head := p.tableRow(t, widths, render.FaceBold, t.Heads)
		b.head = &head
	}
	for _, cells := range t.Rows {
		b.rows = append(b.rows, p.tableRow(t, widths, render.FaceRegular, cells))
	}
	return b
}

const (
	coverGap  = 3.0  // between columns, mm
	leastWide = 30.0 // of a wide column
)

// widths shares out a width between the columns. Where the wide column would
// come out too narrow, the others are cut down to the widest that lets it be.
func (p *coverPages) widths(t *CoverTable, width float64) []float64 {
	h := p.style.SmallHeight
	ask := make([]float64, len(t.Heads))
	for i, head := range t.Heads {
		ask[i] = lettering.Measure(head, render.FaceBold, h)
		for _, cells := range t.Rows {
			ask[i] = math.Max(ask[i], lettering.Measure(cells[i], render.FaceRegular, h))
		}
		ask[i] += 0.01
	}
	width -= coverGap * float64(len(ask)-1)
	others := func(limit float64) float64 {
		sum := 0.0
		for i, w := range ask {
			if i != t.Wide {
				sum += math.Min(w, limit)
			}
		}
		return sum
	}
	limit := width
	if room := width - leastWide; others(width) > room {
		low := 0.0
		for range 50 {
			if mid := (low + limit) / 2; others(mid) > room {
				limit = mid
			} else {
				low = mid
			}
		}
		limit = low
	}
	wide := make([]float64, len(ask))
	for i, w := range ask {
		wide[i] = math.Min(w, limit)
	}
	wide[t.Wide] = width - others(limit)
	// A wide column with room to spare leaves the others farther apart.
	if spare := wide[t.Wide] - ask[t.Wide]; spare > 0 {
		for i := range wide {
			wide[i] += spare / float64(len(wide))
		}
		wide[t.Wide] -= spare
	}
	return wide
}

func (p *coverPages) tableRow(t *CoverTable, widths []float64, face render.Face, cells []string) row {
	h := p.style.SmallHeight
	shown := make([][]string, len(cells))
	high := 1
	for i, text := range cells {
		if i == t.Wide {
			shown[i] = lettering.Wrap(text, face, h, widths[i])
		} else {
			one, _ := lettering.Clip(text, face, h, widths[i])
			shown[i] = []string{one}
		}
		high = max(high, len(shown[i]))
	}
	return row{lines: 1, pitches: float64(high - 1), draw: func(q *pen, sp *spacing, x, top, _ float64) {
		for i, lines := range shown {
			y := top - sp.line + sp.base
			for _, text := range lines {
				if i < len(t.Right) && t.Right[i] {
					q.text(x+widths[i], y, h, render.AlignRight, face, text)
				} else {
					q.text(x, y, h, render.AlignLeft, face, text)
				}
				y -= sp.pitch
			}
			x += widths[i] + coverGap
		}
	}}
}

func (p *coverPages) draw() []*render.Drawing {
	out := make([]*render.Drawing, len(p.pages))
	title := p.heading()
	for i, page := range p.pages {
		d := &render.Drawing{Width: p.paper.width, Height: p.paper.height, Language: p.o.Language.Tag(), Title: title, Description: title}
		if i > 0 {
			d.Title += ", " + p.word("sheet") + " " + strconv.Itoa(i+1)
			d.Description = d.Title
		}
		q := &pen{style: &p.style}
		p.drawFrame(q)
		p.coverBlock(q, i, max(p.cover.Sheets, len(p.pages)))
		if i == 0 {
			p.drawTitle(q, title)
		}
		for k := range page {
			page[k].draw(q, page[k].x, page[k].top, page[k].width)
		}
		d.Items = q.items
		out[i] = d
	}
	return out
}

// heading names the job.
func (p *coverPages) heading() string {
	title := p.word("cover")
	if p.cover.Number != "" {
		title += " " + p.cover.Number
	}
	if p.cover.Title != "" {
		title += ": " + p.cover.Title
	}
	return title
}

func (p *coverPages) drawTitle(q *pen, title string) {
	q.role = "title"
	in := p.inner()
	size := p.style.TitleHeight
	if lettering.Measure(title, render.FaceBold, size) > in.Width() {
		size = p.style.TextHeight
	}
	text, _ := lettering.Clip(title, render.FaceBold, size, in.Width())
	q.text(in.Min.X, in.Max.Y-size-2, size, render.AlignLeft, render.FaceBold, text)
}

// coverBlock draws the title block, with the fields that a list of joints has.
func (p *coverPages) coverBlock(q *pen, index, count int) {
	q.role = "title block"
	rows := [2][]field{
		{{"owner", p.cover.Company, 58, false}, {"title", p.cover.Title, 82, true}, {"document", p.word("cover.document"), 40, false}},
		{
			{"job", p.cover.Number, 40, true}, {"planner", p.cover.Planner, 40, false}, {"approved", "", 40, false},
			{"date", "", 30, false}, {"sheet", countOf(index+1, p.word("of"), count), 30, false},
		},
	}
	left, right, bottom := p.titleLeft(), p.frame.Max.X, p.frame.Min.Y
	top := bottom + ownerHigh + lowerHigh
	q.rect(0.5, geometry.Box{Min: geometry.Point{X: left, Y: bottom}, Max: geometry.Point{X: right, Y: top}})
	for i, fields := range rows {
		high := rowHigh(i)
		if i > 0 {
			q.line(0.25, left, top, right, top)
		}
		x := left
		for k, f := range fields {
			f.width *= (right - left) / titleWidth
			if k > 0 {
				q.line(0.25, x, top-high, x, top)
			}
			p.field(q, f, x, top, high)
			x += f.width
		}
		top -= high
	}
}

// word gives a term of the cover, else that of the sheet; the terms are the
// same in both conventions.
func (p *coverPages) word(key string) string {
	if w, ok := coverWords[key]; ok {
		return w
	}
	return p.composer.word(key)
}

var coverWords = map[string]string{
	"cover":          "Job",
	"cover.document": "Job list",
	"cover.joints":   "Joints",
	"cover.buying":   "To buy for the whole job",
	"cover.totals":   "In all",
	"cover.cost":     "Cost, at the shop's own prices",
}
