package cli

import (
	"bytes"
	"fmt"
	"io"

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
	err := writePages(&out, pages, format, dpi, info)
	return out.Bytes(), err
}

// writePages is encodePages to a writer.
func writePages(w io.Writer, pages []*render.Drawing, format string, dpi float64, info pdf.Info) error {
	var err error
	switch format {
	case "svg":
		err = svg.Write(w, pages[0])
	case "png":
		err = png.Write(w, pages[0], dpi)
	default:
		err = pdf.Write(w, pages, info)
	}
	if err != nil {
		return fmt.Errorf("draw: %w", err)
	}
	return nil
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
