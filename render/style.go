package render

import "fay/geometry"

// Language picks the terms and the drafting habits of a sheet: those of ISO or
// those of the US standards.
type Language string

// The languages of a drawing.
const (
	LanguageISO Language = "iso"
	LanguageUS  Language = "us"
)

// Tag is the language of a drawing as readers of its file want it (BCP 47).
func (l Language) Tag() string {
	if l == LanguageUS {
		return "en-US"
	}
	return "en"
}

// Style holds the drafting habits as data: everything two houses could differ
// in. All sizes are mm on paper.
type Style struct {
	Language Language
	// Wide and Narrow are the two line widths of a drawing, Lettering the
	// third one between them, kept for symbols.
	Wide, Narrow, Lettering float64
	// TextHeight is the capital height of dimensions, SmallHeight of tables
	// and notes, TitleHeight of headings and of what is read from afar.
	TextHeight, SmallHeight, TitleHeight float64
	// ArrowLength and ArrowWidth give the closed, filled arrowhead.
	ArrowLength, ArrowWidth float64
	// DotRadius is the end of a leader that stops inside an outline.
	DotRadius float64
	// ExtensionGap is left between the feature and its extension line,
	// ExtensionOver is how far the line runs past the dimension line.
	ExtensionGap, ExtensionOver float64
	// FirstOffset is the distance of the first dimension line from the part,
	// NextOffset that of stacked ones from each other.
	FirstOffset, NextOffset float64
	// TextClear is the space between lettering and the nearest line.
	TextClear float64
	// Aligned sets text along its dimension line and above it; otherwise text
	// is level and stands in a break of the line.
	Aligned bool
	// HatchPitch is the spacing of section lines on areas of usual size.
	HatchPitch float64
	// ThinSection is the thickness on paper under which a cut plate is filled
	// solid, ThinGap the light gap between two such plates.
	ThinSection, ThinGap float64
	Tint                 Ink // weld metal
	Melted               Ink // base metal inside the fusion line
	Numbers              Numbers
	// Second letters the lengths of dimensions once more, in brackets behind the
	// first; nil for none.
	Second *Numbers
}

// ISO is the style of ISO 128, 129-1 and 3098 for sheets up to A2: line group
// 0.5 (wide 0.5, narrow 0.25, lettering 0.35; secondary, teaching book on ISO
// 128-2), lettering 3.5 mm for dimensions and 2.5 mm for tables, closed filled
// arrowhead of 15° as long as the lettering is high, extension lines touching
// the feature and running 2 mm past the dimension line, dimension lines 10 mm
// from the part (secondary, teaching book on ISO 129-1). Stacked lines keep
// twice the lettering height.
func ISO() Style {
	return Style{
		Language: LanguageISO,
		Wide:     0.5, Narrow: 0.25, Lettering: 0.35,
		TextHeight: 3.5, SmallHeight: 2.5, TitleHeight: 5,
		ArrowLength: 3.5, ArrowWidth: 2 * 3.5 * 0.13165, // tan 7.5° = 0.13165
		DotRadius:    0.6,
		ExtensionGap: 0, ExtensionOver: 2,
		FirstOffset: 10, NextOffset: 7.5, TextClear: 1,
		Aligned:    true,
		HatchPitch: 2.5, ThinSection: 2, ThinGap: 0.7,
		Tint:   Ink{R: 219, G: 227, B: 238},
		Melted: Ink{R: 184, G: 200, B: 220},
		Numbers: Numbers{
			Unit: geometry.UnitMM, Decimal: ",", LeadingZero: true, Decimals: 2,
		},
	}
}

// US is the style of ASME Y14.2 and Y14.5: arrowheads 3:1, a visible gap of
// 1.5 mm before extension lines that run 3 mm past the dimension line, first
// dimension line 10 mm from the part, level text in a break of the line
// (secondary, drafting manuals). Line widths as in ISO: 0.6 and 0.3 mm of
// ASME Y14.2 are from memory, unverified, and heavier than an A size needs.
func US() Style {
	s := ISO()
	s.Language = LanguageUS
	s.ArrowWidth = s.ArrowLength / 3
	s.ExtensionGap, s.ExtensionOver = 1.5, 3
	s.FirstOffset, s.NextOffset = 10, 8
	s.Aligned = false
	s.Numbers = Numbers{
		Unit: geometry.UnitInch, Decimal: ".", LeadingZero: false, Decimals: 3, Fixed: true, Denominator: 16,
	}
	return s
}

// WideLine is the pen of visible and cut edges.
func (s *Style) WideLine() *Stroke { return &Stroke{Width: s.Wide} }

// NarrowLine is the pen of dimensions, leaders, hatching and break lines.
func (s *Style) NarrowLine() *Stroke { return &Stroke{Width: s.Narrow} }

// FormerLine is the narrow long-dash-double-dot pen of edges before welding
// and of the inscribed triangle. The pattern is that of ISO 128-2 at half
// length (24d-3d-0.5d-3d from memory, unverified), because weld sections are
// small.
func (s *Style) FormerLine() *Stroke {
	d := s.Narrow
	return &Stroke{Width: d, Dash: []float64{12 * d, 3 * d, 1.5 * d, 3 * d, 1.5 * d, 3 * d}}
}

// FrameLine is the pen of the sheet frame: 0.7 mm (ISO 5457, secondary).
func (s *Style) FrameLine() *Stroke { return &Stroke{Width: 0.7} }
