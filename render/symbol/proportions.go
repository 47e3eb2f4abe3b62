package symbol

import (
	"math"

	"fay/geometry"
	"fay/render"
)

// Proportions of a symbol in heights of the lettering, our own: 3.5 mm
// lettering gives glyphs of 4.9 mm and a circle of 3 mm.
const (
	glyphHeight   = 1.4
	squareApart   = 0.5  // the strokes of a square groove
	stemHeight    = 0.4  // of U and J, in glyph heights
	bowlRadius    = 0.5  // of U and J, in glyph heights
	discRadius    = 0.5  // of back weld and melt-through, in glyph heights
	rectangleLong = 1.3  // backing and plug, in glyph heights
	rectangleHigh = 0.8  // in glyph heights
	flareApart    = 0.25 // the strokes of flare glyphs
	edgeApart     = 0.35 // the strokes of an edge weld
	contourClear  = 0.3  // of a contour line from its glyph
	contourRise   = 0.22 // of a curved contour
	textRise      = 0.4  // base line of sizes over the reference line
	descent       = 0.42 // of brackets below the base line, with the space they want
	textGap       = 0.32 // between a text and the glyph beside it
	mouthClear    = 0.22 // of the root opening from the strokes about it
	commaHang     = 0.2  // of a comma below the base line, in heights of its lettering
	lead          = 1.1  // from the end of the reference line to the first text
	circleRadius  = 3.0 / 3.5 / 2
	flagHigh      = 2.4
	flagPennant   = 0.9 // height of the pennant
	flagLong      = 1.2
	forkLong      = 1.2 // of each arm, along the reference line
	tailClear     = 0.25
	smallText     = 2.5 / 3.5 // the next smaller height of ISO 3098
	linePitch     = 1.5       // of lines in the tail, in heights of their lettering
	staggerShift  = 0.6       // between offset glyphs, beyond the glyph's width
)

// Sizes on paper that do not grow with the lettering.
const (
	dashedBelow = 1.0 // mm, the dashed line of ISO 2553 system A (secondary, teaching book)
	leastLine   = 20  // mm, a reference line is about 20 mm long (secondary, teaching book)
	leastText   = 2.5 // mm, the least lettering
	kinkLong    = 7.5 // mm, the last piece of a broken arrow
	riseDefault = 12  // mm, the reference line over the tip of the arrow
)

// dashes of the dashed line: 3 mm and 1 mm.
var dashes = []float64{3, 1}

const (
	vHalf     = 30 * geometry.Degree // half the opening of the V glyph (AWS; from memory, unverified)
	bevelTurn = 45 * geometry.Degree
	arrowTurn = 60 * geometry.Degree // arrow against the reference line
	kinkTurn  = 25 * geometry.Degree // last piece of a broken arrow against the level
	flareTurn = 60 * geometry.Degree
)

// size is the paper size of everything in a symbol.
type size struct {
	h     float64 // lettering
	small float64
	g     float64 // glyph
	pen   float64 // glyph strokes
}

func sizes(st *render.Style) size {
	h := st.TextHeight
	return size{h: h, small: math.Min(h, math.Max(h*smallText, leastText)), g: h * glyphHeight, pen: math.Max(h/10, st.Narrow)}
}
