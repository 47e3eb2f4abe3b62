package sheet

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/layout"
	"fay/render/lettering"
)

const (
	passHigh   = 22.0 // of a weld in the sketch of its passes, mm
	passNumber = 4.2  // from number to number
	passMost   = 8    // runs that a sketch can tell apart
)

// passes sketches the runs of each weld that takes more than one: layers of
// equal area, numbered from the root, in no scale. Of two like welds one is shown.
func (c *composer) passes(width float64) block {
	b := block{spacing: c.spacing, title: c.word("table.passes")}
	var shown []sketched
	for _, p := range c.job.Passes {
		w, ok := c.job.Section.Weld(p.Weld)
		if !ok || p.Count < 2 || layout.Alike(c.job.Section) && len(shown) > 0 {
			continue
		}
		k := sketched{name: c.side(p.Weld), count: p.Count, weld: w}
		if layout.Alike(c.job.Section) {
			k.name = c.word("weld.both")
		}
		shown = append(shown, k)
	}
	for len(shown) > 0 {
		n := min(2, len(shown))
		row := shown[:n]
		high := 0.0
		for i := range row {
			high = math.Max(high, row[i].height())
		}
		b.rows = append(b.rows, sketchRow(row, high, c.style.SmallHeight, c.word("passes"), width))
		shown = shown[n:]
	}
	return b
}

// sketched is a weld and its runs.
type sketched struct {
	name  string
	count int
	weld  *joints.Weld
}

// height is that of the picture; none where there are too many runs to tell
// apart.
func (k *sketched) height() float64 {
	if k.count > passMost {
		return 0
	}
	return math.Max(passHigh, float64(k.count)*passNumber)
}

// sketchRow draws one or two welds side by side with their names over them.
func sketchRow(welds []sketched, high, text float64, word string, width float64) row {
	r := row{plain: true, lines: 1}
	if high > 0 {
		r.besides = high + 2
	}
	r.draw = func(p *pen, sp *spacing, x, top, _ float64) {
		each := width / float64(len(welds))
		for i := range welds {
			k := &welds[i]
			left := x + float64(i)*each
			name, _ := lettering.Clip(k.name+": "+strconv.Itoa(k.count)+" "+word, render.FaceRegular, text, each-2)
			p.text(left, top-sp.line+sp.base, text, render.AlignLeft, render.FaceRegular, name)
			k.draw(p, geometry.Box{Min: geometry.Point{X: left, Y: top - r.height(sp)}, Max: geometry.Point{X: left + each, Y: top - sp.line - 1}}, text)
		}
	}
	return r
}

// draw sets the layers in a box, their numbers in a column at the right. They are
// parted only here: a block is set many times before its place is settled.
func (k *sketched) draw(p *pen, in geometry.Box, text float64) {
	if k.count > passMost {
		return
	}
	layers := joints.Layers(k.weld, k.count)
	numbers := lettering.Measure(strconv.Itoa(k.count), render.FaceRegular, text) + 6
	part := k.weld.Profile.Bounds()
	scale := math.Min((in.Width()-numbers-4)/part.Width(), in.Height()/part.Height())
	middle := geometry.Point{X: (in.Min.X + in.Max.X - numbers) / 2, Y: in.Centre().Y}
	t := geometry.Scale(scale).Then(geometry.Translate(middle.Sub(part.Centre().Scale(scale))))
	right := middle.X + scale*part.Width()/2 + 5
	// Numbers stand in the order of their layers from below, whatever way the
	// weld faces.
	order := make([]int, len(layers))
	for i := range order {
		order[i] = i
	}
	at := make([]geometry.Point, len(layers))
	for i, layer := range layers {
		most := 0.0
		for _, o := range layer {
			drawn := o.Transform(t)
			p.items = append(p.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: p.role,
				Path: &render.Path{Edges: drawn.Edges(), Closed: true, Stroke: p.style.NarrowLine()}})
			if a := o.Area(); a > most {
				most, at[i] = a, within(drawn)
			}
		}
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(at[i].Y, at[j].Y) })
	low := in.Centre().Y - passNumber*float64(len(order)-1)/2
	for place, i := range order {
		y := low + passNumber*float64(place)
		p.line(hairline, at[i].X, at[i].Y, right-1, y)
		p.text(right, y-text/2, text, render.AlignLeft, render.FaceRegular, strconv.Itoa(i+1))
	}
}

// within is a point inside an outline, level with its centroid and rather at the
// right.
func within(o geometry.Outline) geometry.Point {
	c := o.Centroid()
	chords := o.Chords(c, geometry.Point{X: 1})
	if len(chords) == 0 {
		return c
	}
	last := chords[len(chords)-1]
	return geometry.Point{X: c.X + last[0] + 0.7*(last[1]-last[0]), Y: c.Y}
}
