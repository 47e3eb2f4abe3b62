package cli

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"time"

	"fay/config"
	"fay/joints/macro"
	"fay/joints/result"
	"fay/render"
	"fay/render/overlay"
	"fay/render/pdf"
	"fay/render/plot"
)

// overlays draws the records over their plans: all in a pdf, else the first.
func overlays(all []evaluated, format string, dpi float64) ([]byte, error) {
	if format != "pdf" {
		all = all[:1]
	}
	pages := make([]*render.Drawing, 0, len(all))
	for i := range all {
		d, err := all[i].overlay()
		if err != nil {
			return nil, err
		}
		pages = append(pages, d)
	}
	return encodePages(pages, format, dpi, pdf.Info{Title: pages[0].Title, Author: all[0].job.settings.Company, Subject: "cut-and-etch record"})
}

// overlay draws one record.
func (e *evaluated) overlay() (*render.Drawing, error) {
	j, rec := e.job, e.report.Record
	s := j.settings
	style := draftingSizes(s, j.doc.Units).Style()
	page := overlay.A4
	if s.Sheet == config.Letter {
		page = overlay.Letter
	}
	t := &j.doc.Traveler
	position := ""
	if rec.Position.Present {
		position = style.Numbers.Length(float64(rec.Position.Value)) + " " + style.Numbers.Name() + " along the seam"
	}
	d, err := overlay.Draw(&overlay.Sheet{
		Section: &j.doc.Section, Report: &e.report, Title: j.doc.Section.Title,
		Heads: []overlay.Line{
			{Label: "sample", Value: rec.Sample}, {Label: "weld", Value: e.report.Weld.ID}, {Label: "cut at", Value: position}, {Label: "date", Value: e.date},
			{Label: "measured by", Value: rec.Inspector}, {Label: "etchant", Value: rec.Etchant}, {Label: "photo", Value: rec.Photo},
			{Label: "job", Value: t.Job}, {Label: "part", Value: t.Part}, {Label: "joint", Value: t.Joint}, {Label: "revision", Value: t.Revision},
			{Label: "rules", Value: strings.Join(e.report.Documents, ", ")}, {Label: "note", Value: rec.Note},
		},
		Cautions: append(e.report.Cautions(j.families()), result.Cautions(&j.doc.Section, e.report.Findings)...),
		Foot:     style.Word("field.digest") + " " + j.doc.Digest[:16],
	}, &style, page)
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return d, nil
}

// runHistory shows a log.
func (a *app) runHistory(o *macroOptions, form format) error {
	if len(o.args) > 0 {
		return usage("--history shows a log and takes no records, but was given "+o.args[0], "leave the records out, or --history")
	}
	loaded, err := a.load()
	if err != nil {
		return err
	}
	log, err := readLog(o.history)
	if err != nil {
		return err
	}
	for _, line := range log.Damaged {
		a.talkf("fay: %s:%d: cannot be read and is left out\n", o.history, line)
	}
	list := macro.Histories(&log, o.joint)
	if len(list) == 0 && o.joint != "" {
		return usage(fmt.Sprintf("--joint %q: is not in %s", o.joint, o.history), "leave --joint out to see them all; mark, part, file and the beginning of the digest pick one")
	}
	s := &loaded.Settings
	q := quantities{unit: s.PrintUnit(s.Units), fractions: s.Inches == config.Fractions, denominator: s.Denominator}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, historyResult{Schema: "fay.macro-history/1", Histories: list})
	case asCSV:
		err = historyCSV(&out, list)
	default:
		printHistory(&out, form, list, q)
	}
	if err != nil {
		return err
	}
	if o.output == "" {
		return a.print(out.Bytes())
	}
	data, err := historyPicture(list, o, s)
	if err != nil {
		return err
	}
	if o.output == "-" {
		return a.print(data)
	}
	if err := apartFrom(o.history, o.output); err != nil {
		return err
	}
	if err := writeFile(o.output, data); err != nil {
		return err
	}
	a.talkf("fay: wrote %s\n", o.output)
	return a.print(out.Bytes())
}

// historyResult is the JSON of a history.
type historyResult struct {
	Schema    string          `json:"schema"`
	Histories []macro.History `json:"histories"`
}

// historyCSV prints a line for each size of each record.
func historyCSV(w *bytes.Buffer, list []macro.History) error {
	t := table{heads: []string{"joint", "part", "weld", "date", "sample", "position_mm", "item", "measured", "planned", "low", "high", "verdict", "digest"}}
	for i := range list {
		for k := range list[i].Entries {
			e := &list[i].Entries[k]
			for _, it := range e.Items {
				t.add(e.Joint, e.Part, e.Weld, e.Date, e.Sample, e.Position, it.ID, plain(&it.Measured), plain(it.Planned), plain(it.Low), plain(it.High),
					string(it.Verdict), e.Digest)
			}
		}
	}
	return t.csv(w)
}

// historyPicture plots the sizes that have limits over the days, a sheet for each
// size of each weld.
func historyPicture(list []macro.History, o *macroOptions, s *config.Settings) ([]byte, error) {
	format, err := drawingFormat(o.output, o.to)
	if err != nil {
		return nil, err
	}
	style := drafting(s, s.PrintUnit(s.Units)).Style()
	page := plot.A4
	if s.Sheet == config.Letter {
		page = plot.Letter
	}
	var pages []*render.Drawing
	for i := range list {
		for k := range list[i].Trends {
			d, err := historyPlot(&list[i], &list[i].Trends[k], &style, page)
			if err != nil {
				return nil, err
			}
			pages = append(pages, d)
		}
	}
	if len(pages) == 0 {
		return nil, usage(o.history+": holds no sizes to plot", "add records with --log first")
	}
	return encodePages(pages, format, o.dpi, pdf.Info{Title: pages[0].Title, Author: s.Company, Subject: "history of cut-and-etch records"})
}

// historyPlot plots one size: dated points, the plan and the band allowed.
func historyPlot(h *macro.History, t *macro.Trend, style *render.Style, page plot.Page) (*render.Drawing, error) {
	unit, factor := style.Numbers.Name(), 1/float64(style.Numbers.Unit.Length())
	switch t.Unit {
	case "deg":
		unit, factor = "°", 1
	case "mm2":
		unit, factor = unit+"²", factor*factor
	}
	title := macroWords(t.Item)
	if h.Joint != "" {
		title += ", " + h.Joint
	}
	if h.Part != "" {
		title += ", " + h.Part
	}
	l := plot.Lines{
		Sheet: plot.Sheet{Title: title, Subtitle: h.Weld + " weld, cut and etched; filled points are measured, lines and band are those of the last record"},
		Y:     plot.Axis{Label: macroWords(t.Item), Unit: unit},
	}
	var dates []time.Time
	var last macro.LogItem
	for i := range h.Entries {
		e := &h.Entries[i]
		it, ok := e.Item(t.Item)
		if !ok {
			continue
		}
		day, err := time.Parse(time.DateOnly, e.Date)
		if err != nil {
			continue // the reader of logs takes whole days only
		}
		last = it
		dates = append(dates, day)
		l.Marks = append(l.Marks, plot.Mark{Label: e.Sample, X: plot.Day(day), Y: it.Measured * factor, Solid: true})
	}
	l.X = plot.Dates("date", dates)
	number := func(v float64) string { return style.Numbers.Number(v*factor, 3) }
	if last.Planned != nil {
		l.Limits = append(l.Limits, plot.Limit{Label: "planned " + number(*last.Planned), At: *last.Planned * factor, Level: true})
	}
	low, high := math.Inf(-1), math.Inf(1)
	if last.Low != nil {
		low = *last.Low * factor
		l.Bands = append(l.Bands, plot.Band{Label: "under " + number(*last.Low), From: math.Inf(-1), To: low, Level: true, Refused: true})
	}
	if last.High != nil {
		high = *last.High * factor
		l.Bands = append(l.Bands, plot.Band{Label: "over " + number(*last.High), From: high, To: math.Inf(1), Level: true, Refused: true})
	}
	if !math.IsInf(low, 0) && !math.IsInf(high, 0) {
		l.Bands = append(l.Bands, plot.Band{Label: "allowed", From: low, To: high, Level: true})
	}
	d, err := l.Draw(style, page)
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return d, nil
}
