package render

import (
	"fay/geometry"
	"fay/render/lettering"
)

// Line sets the text: its glyphs, outlines and width as every writer draws it.
func (t Text) Line() *lettering.Line {
	return lettering.Set(t.Content, t.Face, t.Height)
}

// Width is the width of the text along its base line, in mm.
func (t Text) Width() float64 { return lettering.Measure(t.Content, t.Face, t.Height) }

// Origin is where the base line of the text starts, its alignment applied.
func (t Text) Origin() geometry.Point {
	return t.At.Add(geometry.Polar(t.shift(), t.Angle))
}

// shift is how far the start lies from the anchor along the base line.
func (t Text) shift() float64 {
	switch t.Align {
	case AlignCentre:
		return -t.Width() / 2
	case AlignRight:
		return -t.Width()
	case AlignLeft:
	}
	return 0
}

// Box gives the corners of the rectangle around the ink of the text, grown by
// a margin in mm and turned with the text, counter-clockwise from the corner
// before and below the first letter. The width is the pen's, so that text in a
// column keeps its column. A blank text has the height of a capital.
func (t Text) Box(margin float64) [4]geometry.Point {
	line := t.Line()
	low, high := line.Ink()
	if low == high {
		low, high = 0, t.Height
	}
	origin, along := t.Origin(), geometry.Polar(1, t.Angle)
	up := along.Perp()
	corner := func(x, y float64) geometry.Point {
		return origin.Add(along.Scale(x)).Add(up.Scale(y))
	}
	return [4]geometry.Point{
		corner(-margin, low-margin),
		corner(line.Width+margin, low-margin),
		corner(line.Width+margin, high+margin),
		corner(-margin, high+margin),
	}
}
