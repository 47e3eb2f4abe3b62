package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/filler"
	"fay/joints/result"
	"fay/render"
	"fay/render/pdf"
	"fay/render/png"
	"fay/render/sheet"
	"fay/render/svg"
)

// sheets composes the traveler of the joint.
func (j *job) sheets() ([]*render.Drawing, error) {
	findings, err := j.findings()
	if err != nil {
		return nil, err
	}
	used, err := j.filler()
	if err != nil {
		return nil, err
	}
	t := &j.doc.Traveler
	work := sheet.Job{
		Section: &j.doc.Section, Company: j.settings.Company,
		Number: t.Job, Part: t.Part, Joint: t.Joint, Revision: t.Revision, Date: t.Date, Planner: t.Planner,
		Materials: j.materialLines(), Findings: findings,
		// The first caution is on every sheet already.
		Cautions: result.Cautions(&j.doc.Section, findings)[1:],
		Notes:    j.allNotes(), Digest: j.doc.Digest,
	}
	if t.Quantity > 0 {
		work.Quantity = strconv.Itoa(t.Quantity)
	}
	s := &j.settings
	options := sheet.Options{
		Size:        sheet.Size(strings.ToLower(string(s.Sheet))),
		Orientation: sheet.Orientation(s.Orientation), Language: render.Language(s.Language),
	}
	if j.doc.Units == geometry.UnitInch {
		options.Unit = geometry.UnitInch
		if s.Inches == config.Fractions {
			options.Denominator = s.Denominator
		}
	}
	style := options.Style()
	work.Filler = j.fillerLines(&used, style.Numbers.Decimal)
	pages, err := sheet.Compose(work, options)
	if err != nil {
		return nil, fmt.Errorf("compose the sheet: %w", err)
	}
	return pages, nil
}

func (j *job) materialLines() []sheet.Line {
	var lines []sheet.Line
	for i := range j.doc.Section.Members {
		if m := &j.doc.Section.Members[i]; m.Material != "" {
			lines = append(lines, sheet.Line{Label: m.Name, Value: m.Material})
		}
	}
	return lines
}

// benchLines are the numbers of the filler that the bench needs; the rest is
// for the desk.
var benchLines = []string{
	"consumed per metre", "rod per weld length", "rods per metre", "rods per part", "rods in all",
	"wire per metre", "wire per part", "wire in all", "bought in all",
}

// fillerLines prints them with the decimal sign of the sheet.
func (j *job) fillerLines(used *filler.Filler, point string) []sheet.Line {
	q := j.quantities()
	comma := func(text string) string { return strings.ReplaceAll(text, ".", point) }
	rod := used.RodDiameterMM
	if rod == nil {
		rod = used.WireDiameterMM
	}
	var lines []sheet.Line
	if len(j.doc.Runs) > 0 {
		show := func(l geometry.Length) string { return comma(q.length(l.Millimetres())) }
		lines = append(lines, sheet.Line{Label: "seam", Value: j.doc.Seam.Note(show)})
	}
	if rod != nil {
		lines = append(lines, sheet.Line{Label: "filler", Value: strings.TrimSpace(j.fillerName() + " ⌀ " + comma(q.length(*rod)))})
	}
	for _, l := range fillerLines(used) {
		if slices.Contains(benchLines, l.name) {
			value := q.fillerText(&l) // renames the line to the unit of the shop
			lines = append(lines, sheet.Line{Label: l.name, Value: comma(value)})
		}
	}
	return lines
}

// fillerName is the filler the joint names, else that of the settings.
func (j *job) fillerName() string {
	if j.doc.Filler.Type != "" {
		return j.doc.Filler.Type
	}
	return j.settings.Filler.Type
}

// drawing composes the sheets and writes them, or one of them, in a format. It
// returns the number of sheets there are.
func (j *job) drawing(format string, dpi float64, page int) (data []byte, sheets int, err error) {
	pages, err := j.sheets()
	if err != nil {
		return nil, 0, err
	}
	if page > len(pages) {
		return nil, 0, usage(fmt.Sprintf("--page %d: the traveler has %d", page, len(pages)), "leave --page out for the first")
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
		err = pdf.Write(&out, pages, pdf.Info{Title: j.title(), Author: j.settings.Company, Subject: "welding traveler"})
	}
	if err != nil {
		return nil, 0, fmt.Errorf("draw: %w", err)
	}
	return out.Bytes(), len(pages), nil
}

func (j *job) title() string {
	title := j.doc.Section.Title
	if k, ok := joints.LookupKind(j.doc.Section.Kind); ok && j.doc.Section.Title != k.Title {
		title += " (" + strings.ToLower(k.Title) + ")"
	}
	return title
}
