package sheet

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/render"
	"fay/render/layout"
	"fay/render/lettering"
	"fay/render/symbol"
)

const figureMargin = 5.0 // round a figure without a sheet, mm

// Figure lays a section out alone, dimensioned, on a page as large as it needs
// within width by height mm. Measures that find no place are given back. The
// error is ErrNoSection or joins *OptionErrors.
func Figure(sec *joints.Section, o Options, width, height float64) (*render.Drawing, []joints.Measure, error) {
	err := o.check()
	if sec == nil || len(sec.Members) == 0 {
		err = errors.Join(err, ErrNoSection)
	}
	if err != nil {
		return nil, nil, err
	}
	style := o.Style()
	var f *layout.Figure
	for _, part := range [...]float64{0.6, 0.8, 1} {
		// No more room than it takes to read the weld and every dimension.
		f = layout.Compose(sec, &style, part*width-2*figureMargin, part*height-2*figureMargin)
		if f.Leg() >= plainLeg && len(f.Unplaced) == 0 && f.Width+2*figureMargin <= part*width && f.Height+2*figureMargin <= part*height {
			break
		}
	}
	d := &render.Drawing{
		Width: math.Ceil(f.Width) + 2*figureMargin, Height: math.Ceil(f.Height) + 2*figureMargin,
		Title: sec.Title, Language: o.Language.Tag(),
	}
	d.Views, d.Items = f.Draw(geometry.Point{X: (d.Width - f.Width) / 2, Y: (d.Height - f.Height) / 2})
	d.Description = sec.Title
	if len(d.Views) > 0 {
		d.Description += ", " + word(&style, "scale") + " " + render.ScaleText(d.Views[0].Scale)
	}
	return d, f.Unplaced, nil
}

// Together lays the sections of several jobs out side by side, as many sheets
// as that takes, each with its joint, title and scale over it: a sheet for
// comparing, no traveler. The error is ErrNoSection or joins *OptionErrors.
func Together(jobs []Job, o Options) ([]*render.Drawing, error) {
	err := o.check()
	if len(jobs) == 0 {
		err = errors.Join(err, ErrNoSection)
	}
	for i := range jobs {
		if jobs[i].Section == nil || len(jobs[i].Section.Members) == 0 {
			err = errors.Join(err, ErrNoSection)
		}
	}
	if err != nil {
		return nil, err
	}
	c := newComposer(&jobs[0], o, o.papers()[0])
	in := c.frame
	in.Min.X, in.Max.X, in.Max.Y = in.Min.X+pad, in.Max.X-pad, in.Max.Y-pad
	in.Min.Y += lowerHigh + stripHigh + footHigh
	columns, rows := max(1, int(in.Width()/leastCell)), max(1, int(in.Height()/leastHigh))
	columns = min(columns, len(jobs))
	rows = min(rows, (len(jobs)+columns-1)/columns)
	// As many on each sheet, so that the last is not left with one.
	count := (len(jobs) + columns*rows - 1) / (columns * rows)
	var out []*render.Drawing
	for n := range count {
		group := jobs[n*len(jobs)/count : (n+1)*len(jobs)/count]
		d := &render.Drawing{Width: c.paper.width, Height: c.paper.height, Title: c.word("several"), Language: o.Language.Tag()}
		q := &pen{style: &c.style}
		lines := (len(group) + columns - 1) / columns
		high := in.Height() / float64(lines)
		for i := range group {
			line := i / columns
			across := min(columns, len(group)-line*columns) // a line of fewer has wider places
			wide := in.Width() / float64(across)
			x, top := in.Min.X+float64(i%columns)*wide, in.Max.Y-float64(line)*high
			c.cell(q, d, &group[i], geometry.Box{Min: geometry.Point{X: x, Y: top - high}, Max: geometry.Point{X: x + wide, Y: top}})
			if d.Description != "" {
				d.Description += "; "
			}
			d.Description += caption(&group[i])
		}
		c.drawFrame(q)
		c.foot(q, in, jobs, n+1, count)
		d.Items = q.items
		out = append(out, d)
	}
	return out, nil
}

// foot is what stands under several sections: what the sheet is, the check bars
// and the fields of a title block that all of them have in common.
func (c *composer) foot(q *pen, in geometry.Box, jobs []Job, n, count int) {
	bottom := c.frame.Min.Y + lowerHigh
	c.checkBars(q, c.frame.Min.X, bottom)
	q.role = "title block"
	number := jobs[0].Number
	if slices.ContainsFunc(jobs, func(j Job) bool { return j.Number != number }) {
		number = ""
	}
	x, wide := c.frame.Min.X, c.frame.Width()/titleWidth
	q.line(0.5, x, bottom, c.frame.Max.X, bottom)
	for k, f := range []field{
		{"owner", jobs[0].Company, 58, false}, {"title", c.word("several"), 58, true}, {"job", number, 34, true}, {"sheet", countOf(n, c.word("of"), count), 30, false},
	} {
		f.width *= wide
		if k > 0 {
			q.line(0.25, x, c.frame.Min.Y, x, bottom)
		}
		c.field(q, f, x, bottom, lowerHigh)
		x += f.width
	}
	q.role = "foot"
	h := c.style.SmallHeight
	text := lettering.Wrap(c.word("caution.look")+" "+c.word("caution.defers"), render.FaceRegular, h, in.Width())
	for i, line := range text {
		q.text(in.Min.X, bottom+stripHigh+1.6+float64(len(text)-1-i)*c.spacing.pitch, h, render.AlignLeft, render.FaceRegular, line)
	}
}

const (
	leastCell   = 84.0 // the width of a section among several, mm
	leastHigh   = 100.0
	footHigh    = 10.0
	cellMargin  = 2.5
	captionHigh = 6.5
)

func caption(j *Job) string {
	if j.Joint == "" {
		return j.Section.Title
	}
	return j.Joint + ": " + j.Section.Title
}

// small lays the section of a job out in little room, with its welding symbols
// where they find a place. Where the weld comes out too small to read, it shows
// the numbers it is made from and leaves out what they come to. The second result
// is what the figure then does not say.
func (c *composer) small(j *Job, width, height float64) (*layout.Figure, []string) {
	symbols := layout.Symbols(j.Section, &c.style, j.Seams, j.Symbol)
	f := c.withSymbols(j.Section, symbols, width, height)
	var unsaid []string
	if f.Leg() < plainLeg {
		fewer := *j.Section
		fewer.Measures = slices.DeleteFunc(slices.Clone(j.Section.Measures), func(m joints.Measure) bool { return strings.HasSuffix(m.Name, "throat") })
		if g := c.withSymbols(&fewer, symbols, width, height); g.LegScale() > f.LegScale() {
			f = g
			unsaid = append(unsaid, c.throats(j.Section))
		}
	}
	switch lost := len(f.Homeless); {
	case len(symbols) == 0:
		at := *c
		at.job, at.symbols = j, nil
		unsaid = append(unsaid, at.noSymbol())
	case lost > 1:
		unsaid = append(unsaid, strings.Replace(c.word("symbol.rooms"), "#", strconv.Itoa(lost), 1))
	case lost == 1:
		unsaid = append(unsaid, c.word("symbol.room"))
	}
	return f, unsaid
}

// withSymbols lays a section out with its symbols, or bare where they cost the
// weld its size or a dimension its place.
func (c *composer) withSymbols(sec *joints.Section, symbols []symbol.Symbol, width, height float64) *layout.Figure {
	figures := layout.NewComposer(sec, &c.style, symbols...)
	f := figures.Compose(width, height)
	if len(symbols) == 0 {
		return f
	}
	if g := figures.ComposeBare(width, height); len(f.Unplaced) > len(g.Unplaced) || f.Leg() < math.Min(plainLeg, g.Leg()) || f.Height > math.Max(height, g.Height) {
		return g
	}
	return f
}

// throats names the effective throat of every weld.
func (c *composer) throats(sec *joints.Section) string {
	var list []string
	for i := range sec.Welds {
		w := &sec.Welds[i]
		side := c.word("weld." + w.ID)
		if layout.Alike(sec) {
			side = c.word("weld.both")
		}
		if text := c.style.Numbers.Length(float64(w.EffectiveThroat)) + " " + side; !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return c.word("measure.effective throat") + " " + strings.Join(list, ", ")
}

// said is what a line under the caption of a section says: the filler, how the
// checks came out, and what its figure leaves out.
func (c *composer) said(j *Job, unsaid []string) string {
	var parts []string
	for _, l := range j.Filler {
		if l.Label == "filler" {
			parts = append(parts, l.Label+" "+l.Value)
		}
	}
	if len(j.Findings) > 0 {
		count := map[check.Verdict]int{}
		for i := range j.Findings {
			count[j.Findings[i].Verdict]++
		}
		delete(count, check.NotApplicable)
		parts = append(parts, strings.TrimSuffix(c.summary(count), "."))
	}
	return strings.Join(append(parts, unsaid...), ". ")
}

// cell sets one section with its caption.
func (c *composer) cell(q *pen, d *render.Drawing, j *Job, b geometry.Box) {
	h := c.style.SmallHeight
	room := b.Height() - captionHigh - 2*cellMargin
	width := b.Width() - 2*cellMargin
	// What is said under the caption takes the room it needs, which may change
	// what is to be said.
	var f *layout.Figure
	var said []string
	for range 3 {
		var unsaid []string
		kept := len(said)
		f, unsaid = c.small(j, width, room-float64(kept)*c.spacing.pitch)
		if said = lettering.Wrap(c.said(j, unsaid), render.FaceRegular, h, width); len(said) <= kept {
			break
		}
	}
	scale := ""
	if len(f.Views) > 0 {
		scale = render.ScaleText(f.Views[0].Scale)
	}
	q.role = "caption"
	used := 8 + 2*cellMargin
	name, _ := lettering.Clip(caption(j), render.FaceBold, h, b.Width()-used-cellMargin)
	base := b.Max.Y - captionHigh + 2
	q.text(b.Min.X+cellMargin, base, h, render.AlignLeft, render.FaceBold, name)
	q.text(b.Max.X-cellMargin, base, h, render.AlignRight, render.FaceRegular, scale)
	free := b
	free.Max.Y -= captionHigh
	for _, line := range said {
		base -= c.spacing.pitch
		free.Max.Y -= c.spacing.pitch
		q.text(b.Min.X+cellMargin, base, h, render.AlignLeft, render.FaceRegular, line)
	}
	views, items := f.Draw(centre(free, f))
	shift := len(d.Views)
	for i := range items {
		if items[i].View != render.NoView {
			items[i].View += shift
		}
	}
	d.Views = append(d.Views, views...)
	q.items = append(q.items, items...)
}
