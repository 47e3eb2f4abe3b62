package render

import (
	"fay/geometry"
	"fay/render/lettering"
)

// Layer says what a thing on the sheet means. Writers map layers to CAD layers
// and to groups; the layout step uses them to tell text from lines.
type Layer string

// The layers in drawing order: later ones lie on top.
const (
	LayerTint        Layer = "tint"        // weld metal tint, fusion tint, thin-sheet fill
	LayerHatch       Layer = "hatch"       // section lining
	LayerMember      Layer = "member"      // cut outlines of members
	LayerBreak       Layer = "break"       // break lines where a plate goes on
	LayerPreparation Layer = "preparation" // edges before welding
	LayerWeld        Layer = "weld"        // weld outline
	LayerFusion      Layer = "fusion"      // fusion line
	LayerTriangle    Layer = "triangle"    // inscribed triangle, weld root mark
	LayerDimension   Layer = "dimension"   // dimension, extension and leader lines, arrowheads
	LayerSymbol      Layer = "symbol"      // welding symbol
	LayerFrame       Layer = "frame"       // sheet frame, title block, tables
	LayerPlot        Layer = "plot"        // curves and bars of diagrams
	LayerText        Layer = "text"        // lettering
)

// Ink is a colour as it leaves the printer. Drawings must read in black and
// white; a tint is never the only carrier of a meaning.
type Ink struct{ R, G, B uint8 }

// Black is the ink of every line and letter unless said otherwise.
var Black = Ink{}

// Stroke is a pen: width in mm, dash pattern in mm (empty is continuous).
type Stroke struct {
	Width float64
	Dash  []float64
	Ink   Ink
}

// Path is a chain of edges on the sheet, stroked, filled or both. A nil
// Stroke or Fill leaves that out. A filled path is closed.
type Path struct {
	Edges  []geometry.Edge
	Closed bool
	Stroke *Stroke
	Fill   *Ink
}

// Align places a text about its anchor.
type Align uint8

// Horizontal placements of a text about its anchor. Vertically the anchor is
// on the base line; helpers that centre text shift the anchor by the capital
// height.
const (
	AlignLeft Align = iota
	AlignCentre
	AlignRight
)

// Face picks the lettering.
type Face = lettering.Face

// The faces of the lettering.
const (
	FaceRegular = lettering.Regular
	FaceBold    = lettering.Bold
)

// Text is one line of lettering. Height is the height of a capital in mm, the
// nominal height of ISO 3098. Angle turns the text about its anchor.
type Text struct {
	At      geometry.Point
	Height  float64
	Align   Align
	Angle   geometry.Angle
	Face    Face
	Content string
	Ink     Ink
	// Halo clears a margin behind the text, in mm, so that hatching is
	// interrupted under it; zero clears nothing.
	Halo float64
}

// Item is one thing on the sheet: a path or a text, never both.
type Item struct {
	Layer Layer
	// View is the index of the view in Drawing.Views the item belongs to,
	// or NoView for things of the sheet itself.
	View int
	// Role tells what a thing is for inside its layer, e.g. "dimension:leg base"; the drawing lint
	// and the tests group items by it. Items of one dimension share one role.
	Role string
	Path *Path
	Text *Text
}

// NoView marks items that belong to the sheet, not to a view of the model.
const NoView = -1

// View maps the section plane to the sheet: sheet = Origin + Scale·model.
// Writers in model units (DXF) use it to bring items back to full size.
type View struct {
	Name   string
	Scale  float64 // 2 for 2:1
	Origin geometry.Point
}

// Drawing is one sheet: a display list in mm. Title and Description are what
// a screen reader or a search finds; Language is a BCP 47 tag.
type Drawing struct {
	Width, Height float64
	Title         string
	Description   string
	Language      string
	Views         []View
	Items         []Item
}
