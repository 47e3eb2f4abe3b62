package sheet

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/layout"
)

// composer lays one job out on one kind of paper.
type composer struct {
	job   *Job
	o     Options
	style render.Style
	paper paper
	frame geometry.Box
	// notes are texts cut short elsewhere.
	notes    []string
	unplaced []joints.Measure
}

func newComposer(job *Job, o Options, p paper) *composer {
	c := &composer{job: job, o: o, style: o.Style(), paper: p, frame: p.frame()}
	return c
}

func (c *composer) word(key string) string { return c.style.Word(key) }

// placedBlock is a block on its place.
type placedBlock struct {
	block
	x, top, width float64
}

const (
	pad       = 4.0  // between the frame and what stands in it
	titleHigh = 30.6 // of the title block
	stripHigh = 7.0  // of the strip of the check bar over it
)

// plan settles the figure's scale and place and where every block goes. The
// figure gets what the tables leave, unless the weld would come out much
// smaller than it could: then tables go to a second sheet.
func (c *composer) plan() *plan {
	if c.paper.landscape {
		return c.planLandscape()
	}
	return c.planPortrait()
}

// inner is the drawing space above the title block.
func (c *composer) inner() geometry.Box {
	b := c.frame
	b.Min.X, b.Max.X, b.Max.Y = b.Min.X+pad, b.Max.X-pad, b.Max.Y-pad
	b.Min.Y += titleHigh + stripHigh + pad
	return b
}

const (
	// leastFigure is the height a figure is given at least.
	leastFigure = 60.0
	// plainLeg is the size of a leg on paper, mm, that reads well enough for
	// one sheet; a smaller one is worth a second sheet if that makes it
	// worthSheet times as large.
	plainLeg = 10.0
	// leastColumn is the least width of a column of tables.
	leastColumn = 79.0
	worthSheet  = 1.6
)

// planPortrait sets hold points and cautions across the foot of the sheet, the
// tables over them in two columns, the figure above. Where that leaves the
// figure too small, the first sheet keeps the weld's numbers, the fit-up and
// the cautions only.
func (c *composer) planPortrait() *plan {
	in := c.inner()
	cautions, hold := c.cautions(in.Width()), c.holdStrip(in.Width())
	cut := c.notes
	width := (in.Width() - columnGutter) / 2
	list := c.blocks(width, cut)
	foot := []block{cautions, hold}
	space := func(foot, tables []block) float64 {
		return in.Height() - columnHeight(foot) - balanced(tables) - 2*blockGap
	}
	room := space(foot, list)
	figure := c.compose(in.Width(), room)
	if figure.Leg() < plainLeg || figure.Height > room {
		first := list[:min(2, len(list))]
		large := c.compose(in.Width(), space(foot[:1], first))
		if figure.Height > room || large.Leg() > worthSheet*figure.Leg() {
			figure, foot = large, foot[:1]
		}
	}
	if len(figure.Unplaced) > 0 {
		c.unplaced = figure.Unplaced
		list = c.blocks(width, cut)
	}
	p := &plan{c: c, figure: figure}
	page := stack(nil, foot, in.Min.X, in.Min.Y+columnHeight(foot), in.Width())
	bottom := in.Min.Y + columnHeight(foot) + blockGap
	free := in.Max.Y - bottom - figure.Height - blockGap
	tables, rest := c.columns(list, in.Min.X, bottom, width, 2, free)
	// Tables stand on the foot; the figure floats in what is left.
	high := depth(tables, bottom+free)
	for i := range tables {
		tables[i].top -= free - high
	}
	p.pages = append(p.pages, append(page, tables...))
	left := in
	left.Min.Y = bottom + high + blockGap
	p.at = centre(left, figure)
	if len(foot) == 1 {
		c.further(p, rest, width, &hold)
	} else {
		c.further(p, rest, width, nil)
	}
	return p
}

// depth is how far a page's blocks reach down from top.
func depth(page []placedBlock, top float64) float64 {
	d := 0.0
	for i := range page {
		d = math.Max(d, top-page[i].top+page[i].full())
	}
	return d
}

func centre(free geometry.Box, f *layout.Figure) geometry.Point {
	return geometry.Point{X: free.Min.X + (free.Width()-f.Width)/2, Y: free.Min.Y + (free.Height()-f.Height)/2}
}

// planLandscape sets the tables in a column at the right, hold points in the
// corner beside the title block, cautions under the figure.
func (c *composer) planLandscape() *plan {
	in := c.inner()
	corner := c.titleLeft() - pad - in.Min.X
	width := math.Max(corner, leastColumn)
	wide := in.Width() - width - columnGutter
	foot := c.cautions(wide)
	hold := c.holdColumn(corner)
	cut := c.notes
	list := c.blocks(width, cut)
	low, high := c.frame.Min.Y+pad, in.Min.Y-pad
	var page []placedBlock
	if hold.full() <= high-low {
		page = append(page, placedBlock{hold, in.Min.X, low + hold.full(), corner})
	} else {
		list = append(list, c.holdColumn(width))
	}
	page = append(page, placedBlock{foot, in.Min.X, in.Min.Y + foot.full(), wide})
	figure := c.compose(wide, in.Height()-foot.full()-blockGap)
	if len(figure.Unplaced) > 0 {
		c.unplaced = figure.Unplaced
		list = c.blocks(width, cut)
	}
	p := &plan{c: c, figure: figure}
	tables, rest := c.columns(list, in.Max.X-width, in.Min.Y, width, 1, in.Height())
	free := in
	free.Max.X -= width + columnGutter
	free.Min.Y += foot.full() + blockGap
	// What the column does not take may fit under the figure.
	if high := balanced(rest); len(rest) > 0 && high+blockGap <= free.Height()-figure.Height && 2*width+columnGutter <= wide {
		set, _ := share(rest)
		first, second := deal(rest, set)
		page = stack(page, first, free.Min.X, free.Min.Y+high, width)
		page = stack(page, second, free.Min.X+(wide+columnGutter)/2, free.Min.Y+high, width)
		free.Min.Y += high + blockGap
		rest = nil
	}
	p.pages = append(p.pages, append(page, tables...))
	p.at = centre(free, figure)
	c.further(p, rest, width, nil)
	return p
}

// further puts the blocks that are left on sheets of their own, and under those
// of the first a block that runs across.
func (c *composer) further(p *plan, rest []block, width float64, across *block) {
	in := c.inner()
	columns := int((in.Width() + columnGutter + 0.1) / (width + columnGutter))
	for len(rest) > 0 || across != nil {
		var page []placedBlock
		bottom := in.Min.Y
		if across != nil {
			bottom += across.full() + blockGap
		}
		before := len(rest)
		var tables []placedBlock
		tables, rest = c.columns(rest, in.Min.X, bottom, width, columns, in.Max.Y-bottom)
		if len(tables) == 0 && before > 0 && across == nil {
			return // not even one row fits: cannot happen on the papers on file
		}
		if across != nil {
			top := in.Max.Y - depth(tables, in.Max.Y)
			if len(tables) > 0 {
				top -= blockGap
			}
			page = append(page, placedBlock{*across, in.Min.X, top, in.Width()})
			across = nil
		}
		p.pages = append(p.pages, append(page, tables...))
	}
}

func (c *composer) compose(width, height float64) *layout.Figure {
	return layout.Compose(c.job.Section, &c.style, width, math.Max(height, leastFigure))
}

// balanced is the height two columns need for the blocks.
func balanced(list []block) float64 {
	_, h := share(list)
	return h
}

// share deals the blocks out to two columns so that the longer one is as short
// as can be; the first block stays in the first column, and order is kept in
// each. It gives the blocks of the second column as bits.
func share(list []block) (second uint, height float64) {
	const most = 12 // blocks to try all ways with
	n := min(len(list), most)
	height = math.Inf(1)
	for set := uint(0); set < 1<<n; set += 2 {
		a, b := deal(list, set)
		if h := math.Max(columnHeight(a), columnHeight(b)); h < height-1e-9 {
			second, height = set, h
		}
	}
	return second, height
}

// deal parts blocks by the bits of a set.
func deal(list []block, set uint) (first, second []block) {
	for i := range list {
		if set>>i&1 == 1 {
			second = append(second, list[i])
		} else {
			first = append(first, list[i])
		}
	}
	return first, second
}

func columnHeight(list []block) float64 {
	h := 0.0
	for i := range list {
		h += list[i].full()
		if i > 0 {
			h += blockGap
		}
	}
	return h
}

// columns fills columns of a height with blocks in order, balanced where all
// fit, and gives back what is left.
func (c *composer) columns(list []block, x, bottom, width float64, count int, height float64) (page []placedBlock, rest []block) {
	if count == 2 {
		if set, h := share(list); h <= height {
			first, second := deal(list, set)
			page = stack(page, first, x, bottom+height, width)
			return stack(page, second, x+width+columnGutter, bottom+height, width), nil
		}
	}
	rest = slices.Clone(list)
	continued := " (" + c.word("continued") + ")"
	for col := range count {
		top := bottom + height
		at := x + float64(col)*(width+columnGutter)
		for len(rest) > 0 {
			b := &rest[0]
			room := top - bottom
			if b.full() <= room {
				page = append(page, placedBlock{*b, at, top, width})
				top -= b.full() + blockGap
				rest = rest[1:]
				continue
			}
			n := 0
			for n < len(b.rows) && b.height(n+1) <= room {
				n++
			}
			// A block that a column can hold whole waits for one.
			if n == 0 || b.full() <= c.inner().Height() {
				break
			}
			first, second := b.part(n, continued)
			page = append(page, placedBlock{first, at, top, width})
			rest[0] = second
			break
		}
	}
	return page, rest
}

func stack(page []placedBlock, list []block, x, top, width float64) []placedBlock {
	for i := range list {
		page = append(page, placedBlock{list[i], x, top, width})
		top -= list[i].full() + blockGap
	}
	return page
}
