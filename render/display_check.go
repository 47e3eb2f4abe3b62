package render

import (
	"errors"
	"fmt"
	"iter"
	"math"
	"slices"

	"fay/geometry"
)

// layers are in drawing order.
var layers = [...]Layer{
	LayerTint, LayerHatch, LayerMember, LayerBreak, LayerPreparation, LayerWeld, LayerFusion,
	LayerTriangle, LayerDimension, LayerSymbol, LayerFrame, LayerPlot, LayerText,
}

// Layers lists the layers in drawing order.
func Layers() []Layer { return slices.Clone(layers[:]) }

// index is the place of a layer in the drawing order; -1 for one that is not listed.
func (l Layer) index() int { return slices.Index(layers[:], l) }

// ByLayer gives the items of each layer that has any, in drawing order; inside
// a layer the order of the list.
func (d *Drawing) ByLayer() iter.Seq2[Layer, []*Item] {
	return func(yield func(Layer, []*Item) bool) {
		var counts, ends [len(layers)]int
		for i := range d.Items {
			if k := d.Items[i].Layer.index(); k >= 0 {
				counts[k]++
			}
		}
		sum := 0
		for k, n := range counts {
			ends[k] = sum
			sum += n
		}
		sorted := make([]*Item, sum)
		for i := range d.Items {
			if k := d.Items[i].Layer.index(); k >= 0 {
				sorted[ends[k]] = &d.Items[i]
				ends[k]++
			}
		}
		for k, n := range counts {
			if n > 0 && !yield(layers[k], sorted[ends[k]-n:ends[k]:ends[k]]) {
				return
			}
		}
	}
}

// Limits of a drawing. They keep a writer's work bounded.
const (
	// MaxSide is the longest side of a sheet in mm: a PDF page is at most 14400
	// points (5080 mm) long.
	MaxSide = 5000.0
	// MaxCoordinate bounds coordinates in mm, on the sheet or off it.
	MaxCoordinate = 1e5
	// MinDash is the shortest dash pattern in mm; finer ones are a grey line.
	MinDash = 0.05
	// MaxText is the longest text in bytes.
	MaxText = 4096
)

// FaultCode says what is wrong with a drawing.
type FaultCode string

// The faults of a drawing. All of them are mistakes of the layout, not of the
// user; they keep a writer from making a damaged file.
const (
	FaultSize       FaultCode = "size"       // sheet not positive, not finite or longer than MaxSide
	FaultLayer      FaultCode = "layer"      // unknown layer
	FaultView       FaultCode = "view"       // view that is not listed
	FaultItem       FaultCode = "item"       // neither a path nor a text, or both
	FaultCoordinate FaultCode = "coordinate" // not finite or beyond MaxCoordinate
	FaultStroke     FaultCode = "stroke"     // pen without a width, or a dash pattern that cannot be drawn
	FaultText       FaultCode = "text"       // height, halo or length of a text out of range
	FaultScale      FaultCode = "scale"      // view without a positive scale
)

// Fault is one fault of a drawing: where it is, the value, the rule it breaks.
type Fault struct {
	Code  FaultCode
	Field string
	Value string
	Rule  string
}

func (f *Fault) Error() string {
	return fmt.Sprintf("drawing: %s is %s: %s", f.Field, f.Value, f.Rule)
}

// Check reports every fault of the drawing, joined; each is a *Fault. Writers
// call it before they write the first byte.
func (d *Drawing) Check() error {
	c := checker{views: len(d.Views)}
	c.side("width", d.Width)
	c.side("height", d.Height)
	for i, v := range d.Views {
		field := fmt.Sprintf("views[%d]", i)
		if !(v.Scale > 0) || math.IsInf(v.Scale, 0) {
			c.add(FaultScale, field+".scale", v.Scale, "a scale is positive and finite")
		}
		c.point(field+".origin", v.Origin)
	}
	for i := range d.Items {
		before := len(c.faults)
		c.item(&d.Items[i])
		// Places are named only where something is wrong: nearly never.
		for _, f := range c.faults[before:] {
			f.Field = fmt.Sprintf("items[%d]%s", i, f.Field)
		}
	}
	all := make([]error, len(c.faults))
	for i, f := range c.faults {
		all[i] = f
	}
	return errors.Join(all...)
}

type checker struct {
	views  int
	faults []*Fault
}

func (c *checker) add(code FaultCode, field string, value any, rule string) {
	c.faults = append(c.faults, &Fault{Code: code, Field: field, Value: fmt.Sprint(value), Rule: rule})
}

func (c *checker) side(field string, v float64) {
	if !(v > 0 && v <= MaxSide) {
		c.add(FaultSize, field, v, fmt.Sprintf("a sheet is more than 0 and at most %g mm long", MaxSide))
	}
}

func (c *checker) point(field string, p geometry.Point) {
	if !(math.Abs(p.X) <= MaxCoordinate && math.Abs(p.Y) <= MaxCoordinate) {
		c.add(FaultCoordinate, field, p, fmt.Sprintf("coordinates are finite and within ±%g mm", MaxCoordinate))
	}
}

func (c *checker) item(it *Item) {
	if it.Layer.index() < 0 {
		c.add(FaultLayer, ".layer", it.Layer, "a layer is one of Layers()")
	}
	if it.View != NoView && (it.View < 0 || it.View >= c.views) {
		c.add(FaultView, ".view", it.View, "a view is listed in the drawing or NoView")
	}
	switch {
	case it.Path == nil && it.Text == nil:
		c.add(FaultItem, "", "empty", "an item is either a path or a text")
	case it.Path != nil && it.Text != nil:
		c.add(FaultItem, "", "a path and a text", "an item is either a path or a text")
	case it.Path != nil:
		c.path(it.Path)
	default:
		c.text(it.Text)
	}
}

func (c *checker) path(p *Path) {
	for i, e := range p.Edges {
		before := len(c.faults)
		c.point("", e.Start())
		c.point("", e.End())
		switch e.Kind() {
		case geometry.QuadEdge:
			c.point("", e.Control())
		case geometry.ArcEdge:
			c.point("", e.At(0.5))
		case geometry.LineEdge:
		}
		for _, f := range c.faults[before:] {
			f.Field = fmt.Sprintf(".path.edges[%d]", i)
		}
	}
	s := p.Stroke
	if s == nil {
		return
	}
	if !(s.Width > 0 && s.Width <= MaxSide) {
		c.add(FaultStroke, ".path.stroke.width", s.Width, "a pen has a positive, finite width")
	}
	if len(s.Dash) == 0 {
		return
	}
	sum := 0.0
	for _, v := range s.Dash {
		sum += v
		if !(v >= 0) {
			sum = math.NaN()
		}
	}
	if !(sum >= MinDash && sum <= MaxCoordinate) {
		c.add(FaultStroke, ".path.stroke.dash", s.Dash, fmt.Sprintf("dashes and gaps are not negative and repeat after at least %g mm", MinDash))
	}
}

func (c *checker) text(t *Text) {
	c.point(".text.at", t.At)
	if !(t.Height > 0 && t.Height <= MaxSide) {
		c.add(FaultText, ".text.height", t.Height, "lettering has a positive, finite height")
	}
	if !(t.Halo >= 0 && t.Halo <= MaxSide) {
		c.add(FaultText, ".text.halo", t.Halo, "a halo is not negative and finite")
	}
	if !t.Angle.IsFinite() {
		c.add(FaultText, ".text.angle", t.Angle.Degrees(), "an angle is finite")
	}
	if len(t.Content) > MaxText {
		c.add(FaultText, ".text.content", fmt.Sprintf("%d bytes", len(t.Content)), fmt.Sprintf("a text has at most %d bytes", MaxText))
	}
}
