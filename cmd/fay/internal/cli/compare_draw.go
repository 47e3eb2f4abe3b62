package cli

import (
	"fmt"
	"strings"

	"fay/joints/compare"
	"fay/render"
	drawn "fay/render/compare"
	"fay/render/pdf"
	"fay/render/plot"
	"fay/render/sheet"
)

// sheetOptions are the words and units of the drawing.
func (s *set) sheetOptions() sheet.Options {
	return drafting(s.settings, s.units)
}

// page is the sheet of comparisons.
func (s *set) page() plot.Page { return plotPageOf(s.settings) }

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
		Remark: func(r *compare.Row) string {
			if r.Penetration == "" {
				return ""
			}
			return "penetration: " + penetrationText(r, s.length)
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
	sheets = len(pages)
	if page > 0 {
		pages = pages[page-1 : page]
	}
	data, err = encodePages(pages, format, dpi, pdf.Info{Title: title, Author: author, Subject: "comparison"})
	return data, sheets, err
}
