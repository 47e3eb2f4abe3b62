package cli

import (
	"bytes"
	"fmt"

	"fay/config"
	"fay/render"
	"fay/render/pdf"
	"fay/render/plot"
	"fay/render/png"
	"fay/render/svg"
)

// encodePages writes drawings as svg, png or pdf: all of them to a pdf, the
// first to the others.
func encodePages(pages []*render.Drawing, format string, dpi float64, info pdf.Info) ([]byte, error) {
	var out bytes.Buffer
	var err error
	switch format {
	case "svg":
		err = svg.Write(&out, pages[0])
	case "png":
		err = png.Write(&out, pages[0], dpi)
	default:
		err = pdf.Write(&out, pages, info)
	}
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return out.Bytes(), nil
}

// plotPageOf is the sheet of diagrams and comparisons; they are wider than high
// unless the settings say otherwise.
func plotPageOf(s *config.Settings) plot.Page {
	portrait := s.Orientation == config.Portrait
	switch {
	case s.Sheet == config.Letter && portrait:
		return plot.LetterPortrait
	case s.Sheet == config.Letter:
		return plot.Letter
	case portrait:
		return plot.A4Portrait
	}
	return plot.A4
}
