package sheet

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/layout"
	"fay/render/symbol"
)

// composer lays one job out on one kind of paper.
type composer struct {
	job     *Job
	o       Options
	style   render.Style
	paper   paper
	frame   geometry.Box
	spacing spacing
	// notes are texts cut short elsewhere.
	notes    []string
	made     map[setting]made
	document string // what kind of sheet it is
	unplaced []joints.Measure
	symbols  []symbol.Symbol
	figures  *layout.Composer
	homeless bool           // a symbol found no place on the figure
	lacks    string         // why the joint has no symbol; empty where it has one
	room     geometry.Point // for a figure among all the rest, mm
	closing  bool           // the line on symbols ends the cautions, for want of room in the notes
}

func newComposer(job *Job, o Options, p paper) *composer {
	c := &composer{job: job, o: o, style: o.Style(), paper: p, frame: p.frame(), spacing: spacings[0], made: map[setting]made{}}
	c.document = c.word("traveler")
	if job.Section != nil {
		c.symbols = layout.Symbols(job.Section, &c.style, job.Seams, job.Symbol)
		c.lacks = c.noSymbol()
	}
	return c
}

// noSymbol says why a joint without welding symbols has none.
func (c *composer) noSymbol() string {
	if len(c.symbols) > 0 {
		return ""
	}
	var reasons []string
	_, err := symbol.All(c.job.Section, c.job.Seams, c.job.Symbol)
	for _, f := range joints.AsFaults(err) {
		text := strings.TrimPrefix(f.Field, "welds.")
		if f.Value != "" {
			text += " " + f.Value
		}
		reasons = append(reasons, text+" "+f.Rule)
	}
	return c.word("symbol.none") + ": " + strings.Join(reasons, "; ")
}

// aboutSymbols tells that a welding symbol is missing, and why; empty where none is.
func (c *composer) aboutSymbols() string {
	switch {
	case c.lacks != "":
		return c.lacks
	case c.homeless:
		return c.word("homeless")
	}
	return ""
}

func (c *composer) word(key string) string { return word(&c.style, key) }

// placedBlock is a block on its place.
type placedBlock struct {
	block
	x, top, width float64
}

const (
	pad          = 4.0  // between the frame and what stands in it
	titleHigh    = 32.4 // of the title block
	stripHigh    = 7.0  // of the strip of the check bar over it
	revisionHigh = 6.0  // of the strip of the revision over that
	headHigh     = titleHigh + stripHigh + revisionHigh
)

const (
	// leastFigure is the height a figure is given at least.
	leastFigure = 40.0
	// plainLeg is the size of a leg on paper, mm, that reads well enough for
	// one sheet; a smaller one is worth a second sheet if that makes it
	// worthSheet times as large.
	plainLeg   = 5.0
	worthSheet = 1.6
	// moreRoom is how many times as wide or high a room must be to be worth
	// another try.
	moreRoom = 1.1
	// largeLeg is the size that needs no larger one.
	largeLeg = 8.0
	// leastColumn is the least width of a column of tables, narrowColumn that
	// of the narrowest spacing.
	leastColumn  = 76.0
	narrowColumn = 53.0
)

// zones are the places of a sheet: figure and foot one above the other, tables
// between them or in columns of their own.
type zones struct {
	figure geometry.Box // and the foot at its bottom
	tables geometry.Box // empty where tables stand between figure and foot
	// corner is the place beside the title block, empty where there is none.
	corner geometry.Box
}

// zones parts the paper. Papers lying down have the tables over the title
// block, the others between the figure and the foot.
func (c *composer) zones() zones {
	in := c.frame
	in.Min.X, in.Max.X, in.Max.Y = in.Min.X+pad, in.Max.X-pad, in.Max.Y-pad
	over := in
	over.Min.Y += headHigh + pad
	if !c.paper.landscape {
		return zones{figure: over}
	}
	left := c.titleLeft()
	z := zones{figure: over, tables: over}
	if wide := left - pad - in.Min.X; wide > 1.5*leastColumn {
		// Wide paper: the figure has all of the height beside the title block.
		z.figure = in
		z.figure.Min.Y += pad
		z.figure.Max.X, z.tables.Min.X = left-pad, left+pad
		return z
	}
	z.corner = geometry.Box{Min: geometry.Point{X: in.Min.X, Y: c.frame.Min.Y + pad}, Max: geometry.Point{X: left - pad, Y: c.frame.Min.Y + headHigh}}
	z.tables.Min.X = in.Max.X - math.Max(left-pad-in.Min.X, leastColumn)
	z.figure.Max.X = z.tables.Min.X - columnGutter
	return z
}

// fill is the sheet without its figure, set in one spacing.
type fill struct {
	spacing spacing
	foot    []block // across the bottom of the figure's zone
	corner  []block
	column  []block   // in the zone of the tables
	under   [][]block // columns between figure and foot
	width   float64   // of one of those
	cut     bool      // texts had to be cut short
	over    bool      // the zone of the tables holds them
}

// figureRoom is the height left for the figure.
func (f *fill) figureRoom(z *zones) float64 {
	room := z.figure.Height() - columnHeight(f.foot) - f.spacing.gap
	if high := f.underHigh(); high > 0 {
		room -= high + f.spacing.gap
	}
	return room
}

func (f *fill) underHigh() float64 {
	high := 0.0
	for _, list := range f.under {
		high = math.Max(high, columnHeight(list))
	}
	return high
}

// fill sets everything but the figure in a spacing.
func (c *composer) fill(z *zones, sp spacing) *fill {
	c.spacing = sp
	c.beginNotes()
	f := &fill{spacing: sp, over: true}
	wide := z.figure.Width()
	f.foot = append(f.foot, c.cautions(wide))
	if z.corner.Width() > 0 {
		hold := c.once(setting{what: "hold column", width: z.corner.Width()}, c.holdColumn)
		if hold.full() <= z.corner.Height() {
			f.corner = append(f.corner, hold)
		} else {
			f.foot = append(f.foot, c.hold(wide))
		}
	} else {
		f.foot = append(f.foot, c.hold(wide))
	}
	columns := sp.columns
	if columns == 0 {
		columns = max(1, int((wide+columnGutter)/(leastColumn+columnGutter)))
	}
	f.width = (wide - float64(columns-1)*columnGutter) / float64(columns)
	made, across := f.width, 0
	if z.tables.Width() > 0 {
		across = max(1, int((z.tables.Width()+columnGutter)/(leastColumn+columnGutter)))
		made = math.Min(made, (z.tables.Width()-float64(across-1)*columnGutter)/float64(across))
	}
	before := len(c.notes)
	list := c.blocks(made)
	f.cut = len(c.notes) > before
	if across > 0 {
		f.column, list = takes(list, across, z.tables.Height(), columns)
	}
	if len(list) > 0 {
		f.under, _ = share(list, columns)
	}
	return f
}

// fills sets everything but the figure in every spacing that reads well.
func (c *composer) fills(z *zones) []*fill {
	var out []*fill
	for _, sp := range spacings {
		// Where texts must be cut short for it, a spacing is too narrow.
		f := c.fill(z, sp)
		if sp.columns > 0 && (f.cut || f.width < narrowColumn) {
			continue
		}
		out = append(out, f)
	}
	return out
}

// plan settles the figure's scale and place and where every block goes. The
// figure gets what the tables leave; tables give way as far as they read well,
// then the figure takes a smaller scale, and only where the weld would come
// out too small do tables go to a second sheet.
//
// Where another paper has been planned for, the plan is nil if this one has no
// more room.
func (c *composer) plan(before *plan) *plan {
	z := c.zones()
	fills := c.fills(&z)
	roomiest := fills[0]
	for _, f := range fills {
		if f.figureRoom(&z) > roomiest.figureRoom(&z) {
			roomiest = f
		}
	}
	c.room = geometry.Point{X: z.figure.Width(), Y: roomiest.figureRoom(&z)}
	if before != nil && c.room.X < moreRoom*before.c.room.X && c.room.Y < moreRoom*before.c.room.Y {
		return nil
	}
	if roomiest.figureRoom(&z) < leastFigure {
		figure := c.compose(z.figure.Width(), c.firstRoom(&z))
		return c.planSheets(&z, figure, len(figure.Homeless) > 0)
	}
	figure, first := c.firstFigure(&z, roomiest.figureRoom(&z))
	if first {
		return c.planSheets(&z, figure, len(figure.Homeless) > 0)
	}
	lost := len(figure.Homeless) > 0
	if (figure.Height > roomiest.figureRoom(&z) || figure.Leg() < plainLeg || len(figure.Unplaced) > 0) && len(c.symbols) > 0 {
		// A symbol only says again what section and tables say: it gives way
		// before a dimension does, and before a second sheet.
		bare := c.figures.ComposeBare(z.figure.Width(), roomiest.figureRoom(&z))
		if bare.Height <= roomiest.figureRoom(&z) && bare.Leg() >= plainLeg && len(bare.Unplaced) < max(1, len(figure.Unplaced)) {
			figure, lost = bare, len(bare.Homeless) > 0
		}
	}
	if figure.Leg() < plainLeg || figure.Height > roomiest.figureRoom(&z) || figure.Overfull() {
		large := c.compose(z.figure.Width(), c.firstRoom(&z))
		if figure.Height > roomiest.figureRoom(&z) || large.Leg() > worthSheet*figure.Leg() || figure.Overfull() && !large.Overfull() {
			return c.planSheets(&z, large, len(large.Homeless) > 0)
		}
	}
	// What found no place on the figure asks for lines of its own, for which a
	// little less of a figure may make room.
	p, room := c.fitOne(&z, fills, figure, lost)
	if p == nil && room >= leastFigure {
		if less := c.compose(z.figure.Width(), room); less.Leg() >= plainLeg && !less.Overfull() {
			p, _ = c.fitOne(&z, fills, less, len(less.Homeless) > 0)
		}
	}
	if p != nil {
		return p
	}
	c.closing = false
	return c.planSheets(&z, figure, lost)
}

// firstFigure is the figure for a room of a height; first tells that it is so
// much larger on the first of several sheets that it stands there.
func (c *composer) firstFigure(z *zones, room float64) (figure *layout.Figure, first bool) {
	wide := z.figure.Width()
	if most := c.figures.LargestLeg(wide, room); most < plainLeg {
		// Only details can show the weld large enough.
		if figure = c.figures.Detailed(wide, room); figure != nil {
			return figure, false
		}
		if figure = c.compose(wide, c.firstRoom(z)); figure.Leg() > worthSheet*most {
			return figure, true
		}
	}
	return c.compose(wide, room), false
}

// fitOne puts everything on one sheet in the first spacing that has room for the
// figure; else it gives the room there is at most. The fills are those without
// lines for what the figure leaves out.
func (c *composer) fitOne(z *zones, fills []*fill, figure *layout.Figure, lost bool) (*plan, float64) {
	c.unplaced, c.homeless = figure.Unplaced, lost
	// The line that says a symbol is missing is not worth a second sheet: it
	// may end the cautions.
	ways := []bool{false}
	if c.aboutSymbols() != "" {
		ways = append(ways, true)
	}
	most := 0.0
	for _, c.closing = range ways {
		list := fills
		if len(c.unplaced) > 0 || c.homeless || c.closing {
			list = c.fills(z)
		}
		for _, f := range list {
			room := f.figureRoom(z)
			if room >= figure.Height {
				c.spacing = f.spacing
				return c.planOne(z, f, figure), room
			}
			most = math.Max(most, room)
		}
	}
	return nil, most
}

// planOne puts everything on one sheet. White space is shared out above and
// below the figure.
func (c *composer) planOne(z *zones, f *fill, figure *layout.Figure) *plan {
	p := &plan{c: c, figure: figure}
	bottom := z.figure.Min.Y + columnHeight(f.foot)
	page := stack(nil, f.foot, z.figure.Min.X, bottom, z.figure.Width())
	page = stack(page, f.corner, z.corner.Min.X, z.corner.Min.Y+columnHeight(f.corner), z.corner.Width())
	free := z.figure
	free.Min.Y = bottom + f.spacing.gap
	if high := f.underHigh(); high > 0 {
		// The white that is left goes between figure, tables and foot alike.
		spare := (free.Height() - high - f.spacing.gap - figure.Height) / 6
		top := free.Min.Y + spare + high
		for i, list := range f.under {
			page = stack(page, list, free.Min.X+float64(i)*(f.width+columnGutter), top, f.width)
		}
		free.Min.Y = top + f.spacing.gap
	}
	page = append(page, c.inColumns(f.column, z.tables)...)
	p.pages = append(p.pages, page)
	p.at = centre(free, figure)
	return p
}

// inColumns spreads blocks over the columns of a zone.
func (c *composer) inColumns(list []block, zone geometry.Box) []placedBlock {
	if len(list) == 0 {
		return nil
	}
	columns := max(1, int((zone.Width()+columnGutter)/(leastColumn+columnGutter)))
	width := (zone.Width() - float64(columns-1)*columnGutter) / float64(columns)
	var page []placedBlock
	shared, _ := share(list, columns)
	for i, part := range shared {
		page = stack(page, part, zone.Min.X+float64(i)*(width+columnGutter), zone.Max.Y, width)
	}
	return page
}

func centre(free geometry.Box, f *layout.Figure) geometry.Point {
	return geometry.Point{X: free.Min.X + (free.Width()-f.Width)/2, Y: free.Min.Y + (free.Height()-f.Height)/2}
}

func (c *composer) compose(width, height float64) *layout.Figure {
	return c.figures.Compose(width, math.Max(height, leastFigure))
}
