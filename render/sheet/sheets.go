package sheet

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/render/layout"
)

// firstRoom is the height a figure can have on the first of several sheets:
// beside it stand the weld's numbers and the fit-up, under it the cautions.
func (c *composer) firstRoom(z *zones) float64 {
	f := c.firstFill(z, 0)
	return f.figureRoom(z)
}

// firstFill is what the first of several sheets carries. spare is height that
// the figure leaves to the tables.
func (c *composer) firstFill(z *zones, spare float64) *fill {
	f := c.fill(z, spacings[0])
	f.foot, f.under = f.foot[:1], nil
	if len(f.column) == 0 {
		c.beginNotes()
		list := c.blocks(f.width)
		first := list[:min(2, len(list))]
		// Long tables go on the next sheets whole.
		for len(first) > 0 && columnHeight(first) > z.figure.Height()/3 {
			first = first[:len(first)-1]
		}
		if len(first) > 0 {
			columns := max(1, int((z.figure.Width()+columnGutter)/(leastColumn+columnGutter)))
			_, high := share(first, columns)
			first = fillUp(first, list[len(first):], columns, high+spare)
			f.under, _ = share(first, columns)
		}
	}
	return f
}

// fillUp adds to blocks as many others, in order, as their columns hold without
// growing over a height.
func fillUp(first, others []block, columns int, high float64) []block {
	for _, b := range others {
		more := append(slices.Clone(first), b)
		if _, h := share(more, columns); h <= high+1e-9 {
			first = more
		}
	}
	return first
}

// planSheets puts the figure on the first sheet with what stands beside it,
// and the other tables on further sheets. lost tells that the figure lacks a
// symbol.
func (c *composer) planSheets(z *zones, figure *layout.Figure, lost bool) *plan {
	c.unplaced, c.homeless = figure.Unplaced, lost
	f := c.firstFill(z, 0)
	if spare := f.figureRoom(z) - figure.Height; spare > 0 {
		f = c.firstFill(z, spare)
	} else if spare < 0 {
		f.under = nil
	}
	p := c.planOne(z, f, figure)
	onFirst := map[string]bool{}
	for i := range p.pages[0] {
		onFirst[p.pages[0][i].title] = true
	}
	c.spacing = spacings[0]
	sheet := c.furtherZone()
	columns := max(1, int((sheet.Width()+columnGutter)/(leastColumn+columnGutter)))
	width := (sheet.Width() - float64(columns-1)*columnGutter) / float64(columns)
	c.beginNotes()
	hold := c.hold(sheet.Width())
	rest := slices.DeleteFunc(c.blocks(width), func(b block) bool { return onFirst[b.title] })
	if onFirst[hold.title] {
		c.further(p, rest, sheet, width, columns, nil)
	} else {
		c.further(p, rest, sheet, width, columns, &hold)
	}
	return p
}

// furtherZone is the place for tables on sheets without a figure.
func (c *composer) furtherZone() geometry.Box {
	b := c.frame
	b.Min.X, b.Max.X, b.Max.Y = b.Min.X+pad, b.Max.X-pad, b.Max.Y-pad
	b.Min.Y += headHigh + pad
	return b
}

// further puts the blocks that are left on sheets of their own, and under those
// of the first a block that runs across.
func (c *composer) further(p *plan, rest []block, in geometry.Box, width float64, columns int, across *block) {
	for len(rest) > 0 || across != nil {
		var page []placedBlock
		bottom := in.Min.Y
		if across != nil {
			bottom += across.full() + c.spacing.gap
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
				top -= c.spacing.gap
			}
			page = append(page, placedBlock{*across, in.Min.X, top, in.Width()})
			across = nil
		}
		p.pages = append(p.pages, append(page, tables...))
	}
}

// depth is how far a page's blocks reach down from top.
func depth(page []placedBlock, top float64) float64 {
	d := 0.0
	for i := range page {
		d = math.Max(d, top-page[i].top+page[i].full())
	}
	return d
}

// columns fills columns of a height with blocks in order, balanced where all
// fit, and gives back what is left.
func (c *composer) columns(list []block, x, bottom, width float64, count int, height float64) (page []placedBlock, rest []block) {
	if len(list) == 0 {
		return nil, nil
	}
	if dealt, h := share(list, count); h <= height {
		for i, part := range dealt {
			page = stack(page, part, x+float64(i)*(width+columnGutter), bottom+height, width)
		}
		return page, nil
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
				top -= b.full() + c.spacing.gap
				rest = rest[1:]
				continue
			}
			n := 0
			for n < len(b.rows) && b.height(n+1) <= room {
				n++
			}
			// A block that a column can hold whole waits for one.
			if n == 0 || b.full() <= c.furtherZone().Height() {
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
		top -= list[i].full() + list[i].spacing.gap
	}
	return page
}
