package cli

import (
	"fmt"
	"slices"
	"strings"

	"fay/joints/compare"
	"fay/joints/filler"
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
	known := columns(c)
	for _, m := range drawnFirst {
		if m != c.By && slices.Contains(known, m) {
			metrics = append(metrics, m)
		}
	}
	style := options.Style()
	pages, err := drawn.Draw(c, drawn.Options{
		Style: style, Page: s.page(), Title: title, Metrics: metrics,
		Heading: func(m compare.Metric) string { return metricHead(m, c, drawnMark) },
		Number: func(m compare.Metric, v float64) string {
			return strings.ReplaceAll(metricText(m, v), ".", style.Numbers.Decimal)
		},
		Remark: s.remark,
		Notes:  func(shown []compare.Metric) []string { return s.drawnNotes(c, shown) },
	})
	if err != nil {
		return nil, 0, fmt.Errorf("draw: %w", err)
	}
	return writeDrawings(pages, format, dpi, page, title, s.settings.Company)
}

// drawnFirst orders the bars: what is paid and waited for, what the joint is
// worth and how it pulls, then what goes with these.
var drawnFirst = []compare.Metric{compare.Cost, compare.Area, compare.Labour, compare.Time, compare.Throat, compare.Shrinkage, compare.Angle,
	compare.RootPower, compare.Passes, compare.Mass, compare.Rods, compare.Moment, compare.NotMet}

// remark is what stands under the name of an alternative.
func (s *set) remark(r *compare.Row) string {
	var parts []string
	if r.Penetration != "" {
		text := "penetration: " + penetrationText(r, s.length)
		switch {
		case r.NotOnFile && r.MostRootFaceMM > 0:
			text += ", over the " + s.length(r.MostRootFaceMM) + " on file: to be proven"
		case r.NotOnFile:
			text += ", not on file: to be proven"
		}
		parts = append(parts, text)
	}
	if len(r.NotPriced) > 0 {
		parts = append(parts, "cost "+costLacks(r))
	}
	return strings.Join(parts, "; ")
}

// drawnNotes go under a drawing: short, and of what it shows alone.
func (s *set) drawnNotes(c *compare.Comparison, shown []compare.Metric) []string {
	has := func(list ...compare.Metric) bool {
		return slices.ContainsFunc(list, func(m compare.Metric) bool { return slices.Contains(shown, m) })
	}
	notes := jointCautions(c)
	if has(compare.Shrinkage, compare.Angle) {
		notes = append(notes, "Shrinkage and distortion: rules of thumb for steel, from memory; they rank and tell no number to work to.")
	}
	if has(compare.RootPower) {
		notes = append(notes, "Arc to melt the root: conduction estimate; the arc's efficiency alone moves it by about ±25 %. Run a test piece.")
	}
	if has(compare.Cost) {
		notes = append(notes, "Cost "+strings.Join(s.costLines(c), "; ")+".")
	}
	if taken := s.drawnTaken(c, has); len(taken) > 0 {
		notes = append(notes, "Taken: "+strings.Join(taken, "; ")+".")
	}
	if slices.ContainsFunc(shown, func(m compare.Metric) bool { return remembered(c, m) }) {
		notes = append(notes, drawnMark+": "+memoryNote+".")
	}
	return notes
}

// drawnTaken names the numbers behind times, passes and rods that are drawn.
func (s *set) drawnTaken(c *compare.Comparison, has func(...compare.Metric) bool) []string {
	paced := has(compare.Time, compare.Labour, compare.Cost)
	wanted := map[string]bool{
		filler.TakenSpeed: paced, filler.TakenRate: paced, filler.TakenPass: paced || has(compare.Passes),
		filler.TakenRod: has(compare.Rods), filler.TakenWire: has(compare.Rods),
	}
	var of sayings
	for i := range c.Rows {
		for k := range c.Rows[i].Taken {
			if t := c.Rows[i].Taken[k]; wanted[t.Name] {
				if !t.FromMemory() {
					t.Source = "" // the text has it
				}
				of.add(c.Rows[i].Name, takenText(s.quantities(), &t))
			}
		}
	}
	return of.lines(made(c))
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
