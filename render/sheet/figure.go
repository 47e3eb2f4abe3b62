package sheet

import (
	"errors"
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/layout"
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
	in.Min.Y += stripHigh + footHigh
	columns, rows := max(1, int(in.Width()/leastCell)), max(1, int(in.Height()/leastHigh))
	columns = min(columns, len(jobs))
	rows = min(rows, (len(jobs)+columns-1)/columns)
	each := columns * rows
	var out []*render.Drawing
	count := (len(jobs) + each - 1) / each
	for from := 0; from < len(jobs); from += each {
		group := jobs[from:min(from+each, len(jobs))]
		d := &render.Drawing{Width: c.paper.width, Height: c.paper.height, Title: c.word("several"), Language: o.Language.Tag()}
		q := &pen{style: &c.style}
		wide, high := in.Width()/float64(columns), in.Height()/float64(rows)
		for i := range group {
			x := in.Min.X + float64(i%columns)*wide
			top := in.Max.Y - float64(i/columns)*high
			c.cell(q, d, &group[i], geometry.Box{Min: geometry.Point{X: x, Y: top - high}, Max: geometry.Point{X: x + wide, Y: top}})
			if d.Description != "" {
				d.Description += "; "
			}
			d.Description += caption(&group[i])
		}
		c.drawFrame(q)
		c.checkBars(q, c.frame.Min.X, c.frame.Min.Y)
		q.role = "foot"
		h := c.style.SmallHeight
		number := number(c, len(out)+1, count)
		q.text(in.Max.X, c.frame.Min.Y+stripHigh+1.6, h, render.AlignRight, render.FaceRegular, number)
		foot := wrap(c.word("caution.look")+" "+c.word("caution.defers"), render.FaceRegular, h, in.Width()-25)
		for i, line := range foot {
			q.text(in.Min.X, c.frame.Min.Y+stripHigh+1.6+float64(len(foot)-1-i)*c.spacing.pitch, h, render.AlignLeft, render.FaceRegular, line)
		}
		d.Items = q.items
		out = append(out, d)
	}
	return out, nil
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

// small lays a section out in little room. Where the weld comes out too small
// to read, it shows the numbers it is made from and leaves out what they come to.
func (c *composer) small(sec *joints.Section, width, height float64) *layout.Figure {
	f := layout.Compose(sec, &c.style, width, height)
	if f.Leg() >= plainLeg {
		return f
	}
	fewer := *sec
	fewer.Measures = slices.DeleteFunc(slices.Clone(sec.Measures), func(m joints.Measure) bool { return strings.HasSuffix(m.Name, "throat") })
	if g := layout.Compose(&fewer, &c.style, width, height); g.LegScale() > f.LegScale() {
		return g
	}
	return f
}

// cell sets one section with its caption.
func (c *composer) cell(q *pen, d *render.Drawing, j *Job, b geometry.Box) {
	h := c.style.SmallHeight
	f := c.small(j.Section, b.Width()-2*cellMargin, b.Height()-captionHigh-2*cellMargin)
	scale := ""
	if len(f.Views) > 0 {
		scale = render.ScaleText(f.Views[0].Scale)
	}
	q.role = "caption"
	used := 8 + 2*cellMargin
	name, _ := clip(caption(j), render.FaceBold, h, b.Width()-used-cellMargin)
	q.text(b.Min.X+cellMargin, b.Max.Y-captionHigh+2, h, render.AlignLeft, render.FaceBold, name)
	q.text(b.Max.X-cellMargin, b.Max.Y-captionHigh+2, h, render.AlignRight, render.FaceRegular, scale)
	free := b
	free.Max.Y -= captionHigh
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
