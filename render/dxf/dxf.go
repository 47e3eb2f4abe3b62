// Package dxf writes the views of a drawing at full size, in millimetres, as an
// ASCII DXF file of release 12 (AC1009), the form that old and new CAD and
// cutting programs read alike.
//
// Every view is brought back from the paper to the size of the model: the first
// one with the origin of the section plane on the origin of the file, the
// others at its right, each with its own origin on the x axis. Nothing of the
// model is approximated except quadratic curves, which the format does not
// know: they become polylines within FlattenTolerance.
//
//   - A stroked edge is a LINE or an ARC, a full circle a CIRCLE, a chain of
//     quadratic curves one POLYLINE.
//   - A filled area is a closed POLYLINE whose arcs are arcs (bulges), so that
//     its area can be taken from the file; a filled black triangle, which is an
//     arrowhead, is a SOLID. What is white on paper only clears what lies under
//     it and is left out.
//   - A text is a TEXT fitted between the ends it has on paper, so that it keeps
//     its height and its width whatever lettering the reader has.
//   - Layers are named by meaning and coloured to read on black and on white.
//     The format knows no line widths; dash patterns are line types, in model
//     size like everything else.
//
// The format has no place for the unit either ($INSUNITS came with a later
// release): the file says millimetres in a comment, and a reader that asks must
// be told millimetres.
package dxf

import (
	"errors"
	"fmt"
	"io"
	"math"

	"fay/geometry"
	"fay/render"
)

// FlattenTolerance is how far in mm, at full size, a polyline may lie from the
// quadratic curve it stands for: a hundredth of what a cutting table holds
// (common practice, no source).
const FlattenTolerance = 1e-3

// MostScale bounds the scale of a view, so that its numbers at full size fit
// the digits of the file.
const MostScale = 1000.0

const (
	// gutter is the space between views, mm on paper at the smallest scale.
	gutter = 10.0
	// noteHeight is the lettering of notes, mm on paper at the first scale.
	noteHeight = 2.5
)

// Options are the choices of a file. The zero value writes the views alone.
type Options struct {
	// Sheet adds what belongs to the sheet and not to a view, frame and tables,
	// around the first view at that view's scale. Other views stand at full size
	// beside the sheet, not in it.
	Sheet bool
	// Notes are lines lettered under the first view, or under the sheet.
	Notes []string
}

// ErrEmpty is returned for a drawing without a view, or with empty views only,
// when the sheet is not asked for.
var ErrEmpty = errors.New("dxf: the drawing shows no view to bring to full size; ask for the whole sheet")

// Write writes the drawing. It fails before the first byte with the faults of
// the drawing (see render.Drawing.Check), with a fault of code FaultScale for a
// scale beyond MostScale either way, or with ErrEmpty; later with the writer's
// error. The same drawing gives the same bytes.
func Write(w io.Writer, d *render.Drawing, opts Options) error {
	if err := check(d); err != nil {
		return err
	}
	places, ok := layOut(d, opts)
	if !ok {
		return ErrEmpty
	}
	const usual = 1 << 16 // bytes of an ordinary drawing
	e := &entities{file: file{make([]byte, 0, usual)}, places: places, box: geometry.EmptyBox(), used: map[render.Layer]bool{}}
	// One block of entities per layer, in drawing order: readers draw in the
	// order of the file.
	for layer, items := range d.ByLayer() {
		e.on(layer, func() {
			for _, it := range items {
				e.item(d, it, opts.Sheet)
			}
		})
	}
	e.notes(opts.Notes)
	f := &file{}
	f.begin(d)
	f.header(e.box)
	f.tables(e)
	f.section("BLOCKS")
	f.text(0, "ENDSEC")
	f.section("ENTITIES")
	for _, part := range [2][]byte{f.data, e.data} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	var end file
	end.text(0, "ENDSEC")
	end.text(0, "EOF")
	_, err := w.Write(end.data)
	return err
}

func check(d *render.Drawing) error {
	faults := []error{d.Check()}
	for i, v := range d.Views {
		if v.Scale > MostScale || v.Scale < 1/MostScale {
			faults = append(faults, &render.Fault{
				Code: render.FaultScale, Field: fmt.Sprintf("views[%d].scale", i), Value: fmt.Sprint(v.Scale),
				Rule: fmt.Sprintf("a scale is at most %g:1 and at least 1:%g", MostScale, MostScale),
			})
		}
	}
	return errors.Join(faults...)
}

// place brings a view to full size: model = (sheet − origin)/scale + shift.
type place struct {
	scale  float64
	origin geometry.Point
	shift  geometry.Point
}

func (p *place) point(q geometry.Point) geometry.Point {
	return geometry.Point{X: (q.X-p.origin.X)/p.scale + p.shift.X, Y: (q.Y-p.origin.Y)/p.scale + p.shift.Y}
}

func (p *place) edge(e geometry.Edge) geometry.Edge {
	a, b := p.point(e.Start()), p.point(e.End())
	switch e.Kind() {
	case geometry.ArcEdge:
		return geometry.Arc(a, b, e.Sagitta()/p.scale)
	case geometry.QuadEdge:
		return geometry.Quad(a, p.point(e.Control()), b)
	case geometry.LineEdge:
	}
	return geometry.Line(a, b)
}

func (p *place) box(b geometry.Box) geometry.Box {
	return geometry.BoxOf(p.point(b.Min), p.point(b.Max))
}

// layOut places the views side by side. The last place is that of the sheet,
// which lies as the first view does. ok is false when there is nothing to show.
func layOut(d *render.Drawing, opts Options) (places []place, ok bool) {
	boxes := make([]geometry.Box, len(d.Views)+1)
	for i := range boxes {
		boxes[i] = geometry.EmptyBox()
	}
	for i := range d.Items {
		it := &d.Items[i]
		n := it.View
		if n == render.NoView {
			n = len(d.Views)
			if !opts.Sheet {
				continue
			}
		}
		boxes[n] = boxes[n].Union(bounds(it))
		ok = ok || !boxes[n].Empty()
	}
	smallest := 1.0
	for i, v := range d.Views {
		places = append(places, place{scale: v.Scale, origin: v.Origin})
		if i == 0 || v.Scale < smallest {
			smallest = v.Scale
		}
	}
	sheet := place{scale: 1}
	if len(places) > 0 {
		sheet = places[0]
	}
	places = append(places, sheet)
	at := geometry.EmptyBox()
	if !boxes[len(d.Views)].Empty() {
		at = sheet.box(boxes[len(d.Views)])
	}
	for i := range d.Views {
		if boxes[i].Empty() {
			continue
		}
		b := places[i].box(boxes[i])
		if i > 0 && !at.Empty() {
			// Whole millimetres keep the numbers of the file short.
			places[i].shift.X = math.Ceil(at.Max.X + gutter/smallest - b.Min.X)
		}
		at = at.Union(places[i].box(boxes[i]))
	}
	return places, ok
}

// bounds is the box of an item on paper; empty when the item shows nothing.
func bounds(it *render.Item) geometry.Box {
	if it.Text != nil {
		if blank(it.Text.Content) {
			return geometry.EmptyBox()
		}
		c := it.Text.Box(0)
		return geometry.BoxOf(c[:]...)
	}
	b := geometry.EmptyBox()
	if !visible(it.Path) {
		return b
	}
	for _, e := range it.Path.Edges {
		b = b.Union(e.Bounds())
	}
	return b
}
