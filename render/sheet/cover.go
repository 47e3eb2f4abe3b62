package sheet

import (
	"errors"
	"math"
	"slices"
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
	// Wide is the column that takes what room is left; its texts are the first
	// to be wrapped.
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

// coverPart is a block of the cover, or two side by side.
type coverPart struct {
	block
	beside block
	whole  bool // stays on one sheet, where it fits on one
}

const (
	coverTitle = 16.0 // height of the title over the first page's blocks
	// coverRest is what the last sheet must hold at least to be worth reading
	// by itself: with less, the block before it comes along.
	coverRest = 50.0
)

func (p *coverPages) inner() geometry.Box {
	b := p.frame
	b.Min.X, b.Max.X, b.Max.Y = b.Min.X+pad, b.Max.X-pad, b.Max.Y-pad
	b.Min.Y += titleHigh + pad
	return b
}

// lay lays the cover on as few sheets as it takes, spread as far as they allow.
func (p *coverPages) lay() {
	var best [][]placedBlock
	for _, p.spacing = range spacings[:2] {
		parts := p.parts()
		last := p.fill(parts, len(parts))
		if used := p.inner().Max.Y - p.top; len(p.pages) > 1 && used < coverRest && last > 1 {
			short := p.pages
			if p.fill(parts, last-1); len(p.pages) > len(short) {
				p.pages = short
			}
		}
		if best == nil || len(p.pages) < len(best) {
			best = p.pages
		}
	}
	p.pages = best
}

// parts are the blocks of the cover in their order.
func (p *coverPages) parts() []coverPart {
	width := p.inner().Width()
	half := (width - columnGutter) / 2
	out := []coverPart{
		{block: p.table(p.word("cover.joints"), &p.cover.Joints, width)},
		{block: p.table(p.word("cover.buying"), &p.cover.Buying, width), whole: true},
	}
	totals, beside := p.cover.Totals, p.cover.Cost
	title := p.word("cover.cost")
	if len(beside.Rows) == 0 {
		// The sums by themselves take half the height in two columns.
		n := (len(totals.Rows) + 1) / 2
		beside, title = totals, ""
		totals.Rows, beside.Rows = totals.Rows[:n], totals.Rows[n:]
	}
	out = append(out, coverPart{block: p.table(p.word("cover.totals"), &totals, half), beside: p.table(title, &beside, half), whole: true})
	list := func(key string, texts []string) {
		b := block{spacing: p.spacing, title: p.word(key)}
		for _, t := range texts {
			b.rows = append(b.rows, p.paragraph(width, "", t))
		}
		out = append(out, coverPart{block: b})
	}
	list("table.findings", p.cover.Findings)
	notes := p.cover.Notes
	if title := p.heading(); lettering.Measure(title, render.FaceBold, p.style.TextHeight) > width {
		notes = append([]string{title}, notes...) // cut short at the top
	}
	list("table.notes", notes)
	p.job.Cautions = p.cover.Cautions
	out = append(out, coverPart{block: p.cautions(width)})
	return slices.DeleteFunc(out, func(c coverPart) bool { return len(c.rows) == 0 })
}

// fill puts parts on sheets, that of index fresh at the head of one. It returns
// the index of the part that the last sheet begins with, or 0 where that is the
// rest of one.
func (p *coverPages) fill(parts []coverPart, fresh int) (last int) {
	p.pages, p.top = [][]placedBlock{nil}, p.inner().Max.Y-coverTitle
	for i := range parts {
		pages := len(p.pages)
		if i == fresh {
			p.turn()
		}
		p.put(&parts[i])
		switch page := p.pages[len(p.pages)-1]; {
		case len(p.pages) == pages:
		case page[0].title == parts[i].title:
			last = i
		default:
			last = 0
		}
	}
	return last
}

// turn begins a sheet.
func (p *coverPages) turn() {
	p.pages, p.top = append(p.pages, nil), p.inner().Max.Y
}

// put places a part of the cover, parted where a sheet ends.
func (p *coverPages) put(c *coverPart) {
	in := p.inner()
	b, width := c.block, in.Width()
	high := b.full()
	if len(c.beside.rows) > 0 {
		width = (width - columnGutter) / 2
		high = math.Max(high, c.beside.full())
	}
	if c.whole && high > p.top-in.Min.Y && high <= in.Height() && len(p.pages[len(p.pages)-1]) > 0 {
		p.turn()
	}
	if len(c.beside.rows) > 0 && high <= p.top-in.Min.Y {
		last := len(p.pages) - 1
		p.pages[last] = append(p.pages[last], placedBlock{b, in.Min.X, p.top, width}, placedBlock{c.beside, in.Max.X - width, p.top, width})
		p.top -= high + p.spacing.gap
		return
	}
	p.rows(b, width)
	p.rows(c.beside, width)
}

// rows places the rows of a block, as many on a sheet as there is room for.
func (p *coverPages) rows(b block, width float64) {
	if len(b.rows) == 0 {
		return
	}
	in := p.inner()
	continued := " (" + p.word("continued") + ")"
	// One lone row is worse than white paper.
	few := min(2, len(b.rows))
	for {
		room := p.top - in.Min.Y
		n := 0
		for n < len(b.rows) && b.height(n+1) <= room {
			n++
		}
		last := len(p.pages) - 1
		fresh := len(p.pages[last]) == 0
		if rest := len(b.rows) - n; rest > 0 && rest < few && n > few {
			n -= few - rest
		}
		if n == 0 && fresh {
			n = 1 // a row higher than a sheet: shown as far as it goes
		}
		if n < few && !fresh {
			n = 0
		}
		if n == len(b.rows) {
			p.pages[last] = append(p.pages[last], placedBlock{b, in.Min.X, p.top, width})
			p.top -= b.full() + p.spacing.gap
			return
		}
		if n > 0 {
			var first block
			first, b = b.part(n, continued)
			p.pages[last] = append(p.pages[last], placedBlock{first, in.Min.X, p.top, width})
		}
		p.turn()
	}
}

// table makes a block of a table: columns as wide as their texts ask, the wide
// one as wide as is left. Columns that are empty throughout are left out.
func (p *coverPages) table(title string, t *CoverTable, width float64) block {
	b := block{spacing: p.spacing, title: title}
	if len(t.Rows) == 0 {
		return b
	}
	t = t.used()
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

// used is the table without the columns that no row has a text in.
func (t *CoverTable) used() *CoverTable {
	out := &CoverTable{Rows: make([][]string, len(t.Rows))}
	for i, head := range t.Heads {
		if i != t.Wide && !slices.ContainsFunc(t.Rows, func(cells []string) bool { return cells[i] != "" }) {
			continue
		}
		if i == t.Wide {
			out.Wide = len(out.Heads)
		}
		out.Heads = append(out.Heads, head)
		out.Right = append(out.Right, i < len(t.Right) && t.Right[i])
		for k, cells := range t.Rows {
			out.Rows[k] = append(out.Rows[k], cells[i])
		}
	}
	return out
}

const (
	coverGap  = 2.6  // between columns, mm
	leastWide = 36.0 // of a wide column
)

// widths shares out a width between the columns. Heads are broken between words,
// and where the wide column would come out too narrow, the texts of the others
// as well, those of the widest first; a word is broken nowhere.
func (p *coverPages) widths(t *CoverTable, width float64) []float64 {
	h := p.style.SmallHeight
	const noise = 0.01
	ask, least := make([]float64, len(t.Heads)), make([]float64, len(t.Heads))
	for i, head := range t.Heads {
		word := func(text string, face render.Face) {
			for _, w := range lettering.Words(text) {
				least[i] = math.Max(least[i], lettering.Measure(w, face, h)+noise)
			}
		}
		word(head, render.FaceBold)
		for _, cells := range t.Rows {
			word(cells[i], render.FaceRegular)
			ask[i] = math.Max(ask[i], lettering.Measure(cells[i], render.FaceRegular, h)+noise)
		}
		ask[i] = math.Max(ask[i], least[i])
	}
	width -= coverGap * float64(len(ask)-1)
	at := func(limit float64, i int) float64 { return math.Max(math.Min(ask[i], limit), least[i]) }
	others := func(limit float64) float64 {
		sum := 0.0
		for i := range ask {
			if i != t.Wide {
				sum += at(limit, i)
			}
		}
		return sum
	}
	limit := width
	if room := width - math.Min(leastWide, ask[t.Wide]); others(width) > room {
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
	for i := range ask {
		wide[i] = at(limit, i)
	}
	wide[t.Wide] = math.Max(width-others(limit), 0)
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
		shown[i] = lettering.Wrap(text, face, h, widths[i])
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
		title += " " + lettering.Isolate(p.cover.Number)
	}
	if p.cover.Title != "" {
		title += ": " + lettering.Isolate(p.cover.Title)
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
