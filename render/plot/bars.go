package plot

import (
	"math"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// Bar is one horizontal bar.
type Bar struct {
	Label string
	// Text is lettered at the end of the bar: the number with its unit.
	Text  string
	Value float64
	// Span with two different ends draws a whisker, e.g. a tolerance.
	Span    [2]float64
	Refused bool // lined: breaks a constraint
	// Reference marks the bar that others are compared with: solid.
	Reference bool
}

// Bars is a chart of horizontal bars from zero.
type Bars struct {
	Sheet  Sheet
	X      Axis
	Bars   []Bar
	Limits []Limit // upright
}

// Sizes of a row, mm.
const (
	barHeight = 4.5
	rowAir    = 3.0
)

// Draw draws the chart on as many sheets as it takes.
func (b *Bars) Draw(style *render.Style, page Page) ([]*render.Drawing, error) {
	x, err := b.fit()
	if err != nil {
		return nil, err
	}
	var out []*render.Drawing
	for first := 0; first < len(b.Bars); {
		d, box, err := b.Sheet.begin(style, page)
		if err != nil {
			return nil, err
		}
		items, n, err := b.draw(style, box, x, first)
		if err != nil {
			return nil, err
		}
		d.Items = append(d.Items, items...)
		out = append(out, d)
		first += n
	}
	return out, nil
}

// Items draws bars into a box, beginning with the given one, and tells how many
// it had room for.
func (b *Bars) Items(style *render.Style, box geometry.Box, first int) ([]render.Item, int, error) {
	x, err := b.fit()
	if err != nil {
		return nil, 0, err
	}
	if first < 0 || first >= len(b.Bars) {
		return nil, 0, errNothing
	}
	return b.draw(style, box, x, first)
}

func (b *Bars) fit() (Axis, error) {
	x := b.X
	x.Zero = true
	values := make([]float64, 0, 3*len(b.Bars)+len(b.Limits))
	for i := range b.Bars {
		v := &b.Bars[i]
		if err := finite(v.Value, v.Span[0], v.Span[1]); err != nil {
			return x, err
		}
		values = append(values, v.Value)
		if v.Span[0] != v.Span[1] {
			values = append(values, v.Span[:]...)
		}
	}
	if len(values) == 0 {
		return x, errNothing
	}
	for i := range b.Limits {
		if err := finite(b.Limits[i].At); err != nil {
			return x, err
		}
		values = append(values, b.Limits[i].At)
	}
	return x, x.fit(values, true)
}

// chart is a bar chart being laid out.
type chart struct {
	placer
	scale
	key []keyLine // labels of limits without a place
	// cramped is set where a number found no place behind its bar.
	cramped bool
	letters int
}

func textWidth(content string, height float64) float64 {
	return lettering.Measure(content, render.FaceRegular, height)
}

// draw lays the chart out; labels of limits that find no place go to a key under
// it, which takes room from the bars.
func (b *Bars) draw(style *render.Style, box geometry.Box, x Axis, first int) ([]render.Item, int, error) {
	numbers := 0.0
	for i := range b.Bars {
		numbers = math.Max(numbers, textWidth(b.Bars[i].Text, style.TextHeight))
	}
	// The axis is as long as it can be with every number beside its bar.
	const step = 4.0
	for rows, beyond := 0, 0.0; ; {
		c, n, err := b.layOut(style, box, x, first, rows, beyond)
		if err != nil {
			return nil, 0, err
		}
		if c.cramped && beyond < numbers+3*beside {
			beyond = math.Min(beyond+step, numbers+3*beside)
			continue
		}
		need := keyRows(c.key, box.Width(), style.TextHeight)
		if need <= rows {
			return c.items, n, nil
		}
		rows = need
	}
}

func (b *Bars) layOut(style *render.Style, box geometry.Box, x Axis, first, reserved int, beyond float64) (*chart, int, error) {
	height := style.TextHeight
	pitch := height * leading
	whole := box
	box.Min.Y += float64(reserved) * pitch
	c := &chart{placer: placer{canvas: &canvas{style: style}, area: box}, scale: scale{x: x, y: Axis{Max: 1}}}
	// Columns: labels, bars, room for the numbers beyond them.
	labels := 0.0
	for i := range b.Bars {
		labels = math.Max(labels, textWidth(b.Bars[i].Label, height))
	}
	labels = math.Min(labels, 0.38*box.Width())
	c.box = box
	c.box.Min.X += labels + 2*beside
	c.box.Max.X -= math.Max(beyond, overhang(x.ticks(style, c.box.Width(), height, true), height))
	c.box.Min.Y += 2*pitch + tickLong + beside
	if len(b.Limits) > 0 {
		c.box.Max.Y -= pitch + beside
	}
	if c.box.Width() < 30 || c.box.Height() < 10 {
		return c, 0, errTooSmall
	}
	// As many rows as fit, each as high as its label.
	type row struct {
		lines []string
		high  float64
	}
	var rows []row
	used := rowAir
	for i := first; i < len(b.Bars); i++ {
		r := row{lines: lettering.Wrap(b.Bars[i].Label, render.FaceRegular, height, labels+0.01)}
		r.high = math.Max(barHeight, float64(len(r.lines)-1)*pitch+height) + rowAir
		if used+r.high > c.box.Height() && len(rows) > 0 {
			break
		}
		rows = append(rows, r)
		used += r.high
	}
	c.box.Min.Y = math.Max(c.box.Min.Y, c.box.Max.Y-used)

	zero := c.atX(math.Min(math.Max(0, x.Min), x.Max))
	c.frame(b, zero, pitch)
	y := c.box.Max.Y - rowAir/2
	for i, r := range rows {
		mid := y - r.high/2
		base := mid + float64(len(r.lines)-1)*pitch/2 - height/2
		for _, line := range r.lines {
			c.fixed("bar", render.Text{At: geometry.Point{X: c.box.Min.X - 2*beside, Y: base}, Height: height, Align: render.AlignRight, Content: line})
			base -= pitch
		}
		c.bar(&b.Bars[first+i], zero, mid)
		y -= r.high
	}
	c.drawKey(c.key, whole, reserved)
	return c, len(rows), nil
}

// frame draws the zero line, the axis under the bars and the limits.
func (c *chart) frame(b *Bars, zero, pitch float64) {
	height := c.style.TextHeight
	pen := c.style.NarrowLine()
	pen.Width = c.style.Lettering
	bottom, top := c.box.Min.Y, c.box.Max.Y
	c.line("axis", render.LayerPlot, pen, geometry.Point{X: zero, Y: bottom}, geometry.Point{X: zero, Y: top})
	c.line("axis", render.LayerPlot, pen, c.box.Min, geometry.Point{X: c.box.Max.X, Y: bottom})
	c.obstacle(ofNone, pen.Width, geometry.Point{X: zero, Y: bottom}, geometry.Point{X: zero, Y: top})
	c.obstacle(ofNone, pen.Width, c.box.Min, geometry.Point{X: c.box.Max.X, Y: bottom})
	for _, t := range c.x.ticks(c.style, c.box.Width(), height, true) {
		at := geometry.Point{X: c.atX(t.At), Y: bottom}
		c.line("axis", render.LayerPlot, pen, at, at.Sub(geometry.Point{Y: tickLong}))
		c.fixed("axis:x", render.Text{At: at.Sub(geometry.Point{Y: tickLong + beside + height}), Height: height, Align: render.AlignCentre, Content: t.Label})
	}
	c.fixed("axis:x", render.Text{At: geometry.Point{X: c.box.Max.X, Y: bottom - tickLong - beside - height - pitch},
		Height: height, Align: render.AlignRight, Content: c.x.title()})
	for i := range b.Limits {
		l := &b.Limits[i]
		if l.At < c.x.Min || l.At > c.x.Max {
			continue
		}
		head := geometry.Point{X: c.atX(l.At), Y: top + pitch}
		c.line("limit", render.LayerPlot, limitPen(c.style), geometry.Point{X: head.X, Y: bottom}, head)
		c.obstacle(ofNone, c.style.Lettering, geometry.Point{X: head.X, Y: bottom}, head)
	}
	for i := range b.Limits {
		l := &b.Limits[i]
		if l.At < c.x.Min || l.At > c.x.Max {
			continue
		}
		at := geometry.Point{X: c.atX(l.At), Y: top + beside + height/2}
		beside := func(text string) bool {
			for _, side := range [2]float64{1, -1} {
				t := c.besidePoint(text, height, at, geometry.Point{X: side}, beside)
				if c.free(boxOf(&t), -1, 0) {
					c.fixed("limit", t)
					return true
				}
			}
			return false
		}
		if l.Label != "" && !beside(l.Label) {
			label := l.Label
			if letter := letterOf(c.letters); beside(letter) {
				label = letter + ": " + label
			}
			c.letters++
			c.key = addKey(c.key, label, c.area.Width(), height, func(b geometry.Box) {
				mid := b.Centre().Y
				c.line("key", render.LayerPlot, limitPen(c.style), geometry.Point{X: b.Min.X, Y: mid}, geometry.Point{X: b.Max.X, Y: mid})
			})
		}
	}
}

func (c *chart) bar(v *Bar, zero, mid float64) {
	height := c.style.TextHeight
	end := c.atX(math.Min(math.Max(v.Value, c.x.Min), c.x.Max))
	box := geometry.Box{
		Min: geometry.Point{X: math.Min(zero, end), Y: mid - barHeight/2},
		Max: geometry.Point{X: math.Max(zero, end), Y: mid + barHeight/2},
	}
	pen := c.style.NarrowLine()
	if box.Width() > 0.05 {
		c.rect("bar", render.LayerPlot, box, pen, nil)
		c.obstacleBox(box)
		fill := c.style.Tint
		if v.Reference {
			fill = c.style.Melted
		}
		p := corners(box)
		if o, err := geometry.Polygon(p[:]...); v.Refused && err == nil {
			if edges := render.Hatch(o, render.Hatching{Angle: 45 * geometry.Degree, Pitch: 1.8}, nil, nil); len(edges) > 0 {
				c.path("bar", render.LayerHatch, render.Path{Edges: edges, Stroke: linePen()})
			}
		} else {
			c.rect("bar", render.LayerTint, box, nil, &fill)
		}
	}
	if v.Span[0] != v.Span[1] {
		a, b := c.atX(math.Max(v.Span[0], c.x.Min)), c.atX(math.Min(v.Span[1], c.x.Max))
		c.line("bar", render.LayerPlot, pen, geometry.Point{X: a, Y: mid}, geometry.Point{X: b, Y: mid})
		for _, x := range [2]float64{a, b} {
			c.line("bar", render.LayerPlot, pen, geometry.Point{X: x, Y: mid - capHalf}, geometry.Point{X: x, Y: mid + capHalf})
		}
		c.obstacleBox(geometry.Box{Min: geometry.Point{X: a, Y: mid - capHalf}, Max: geometry.Point{X: b, Y: mid + capHalf}})
		end = math.Max(end, b)
	}
	if v.Text == "" {
		return
	}
	// Behind the bar, past any limit in the way.
	for x := math.Max(end, zero); x < c.area.Max.X; x++ {
		t := c.besidePoint(v.Text, height, geometry.Point{X: x, Y: mid}, geometry.Point{X: 1}, beside)
		if c.free(boxOf(&t), -1, 0) {
			c.fixed("bar", t)
			return
		}
	}
	c.cramped = true
	c.fixed("bar", c.besidePoint(v.Text, height, geometry.Point{X: c.box.Max.X + beside, Y: mid}, geometry.Point{X: 1}, beside))
}
