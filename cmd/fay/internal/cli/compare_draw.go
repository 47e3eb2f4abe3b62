package cli

import (
	"bytes"
	"fmt"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints/compare"
	"fay/render"
	drawn "fay/render/compare"
	"fay/render/pdf"
	"fay/render/plot"
	"fay/render/png"
	"fay/render/sheet"
	"fay/render/svg"
)

// sheetOptions are the words and units of the drawing.
func (s *set) sheetOptions() sheet.Options {
	o := sheet.Options{Language: render.Language(s.settings.Language)}
	if s.units == geometry.UnitInch {
		o.Unit = geometry.UnitInch
	}
	return o
}

// page is the sheet of comparisons, wider than high unless the settings say
// otherwise.
func (s *set) page() plot.Page {
	portrait := s.settings.Orientation == config.Portrait
	switch {
	case s.settings.Sheet == config.Letter && portrait:
		return plot.LetterPortrait
	case s.settings.Sheet == config.Letter:
		return plot.Letter
	case portrait:
		return plot.A4Portrait
	}
	return plot.A4
}

// draw draws the comparison.
func (s *set) draw(c *compare.Comparison, format string, dpi float64, page int) (data []byte, sheets int, err error) {
	options := s.sheetOptions()
	title := "Comparison by " + metricTitle(c.By, c)
	metrics := []compare.Metric{c.By}
	for _, m := range columns(c) {
		if m != c.By {
			metrics = append(metrics, m)
		}
	}
	style := options.Style()
	pages, err := drawn.Draw(c, drawn.Options{
		Style: style, Page: s.page(), Title: title, Metrics: metrics,
		Heading: func(m compare.Metric) string {
			head := metricTitle(m, c)
			if unit := metricUnit(m, c); unit != "" {
				head += ", " + unit
			}
			return head
		},
		Number: func(m compare.Metric, v float64) string {
			return strings.ReplaceAll(metricText(m, v), ".", style.Numbers.Decimal)
		},
		Notes: s.cautions(c),
	})
	if err != nil {
		return nil, 0, fmt.Errorf("draw: %w", err)
	}
	return writeDrawings(pages, format, dpi, page, title, s.settings.Company)
}

// writeDrawings writes drawings, or one of them, in a format; it returns how
// many there are.
func writeDrawings(pages []*render.Drawing, format string, dpi float64, page int, title, author string) (data []byte, sheets int, err error) {
	if page > len(pages) {
		return nil, 0, usage(fmt.Sprintf("--page %d: the drawing has %d", page, len(pages)), "leave --page out for the first")
	}
	one := pages[max(page, 1)-1]
	var out bytes.Buffer
	switch format {
	case "svg":
		err = svg.Write(&out, one)
	case "png":
		err = png.Write(&out, one, dpi)
	default:
		if page > 0 {
			pages = []*render.Drawing{one}
		}
		err = pdf.Write(&out, pages, pdf.Info{Title: title, Author: author, Subject: "comparison"})
	}
	if err != nil {
		return nil, 0, fmt.Errorf("draw: %w", err)
	}
	return out.Bytes(), len(pages), nil
}
