package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/filler"
	"fay/joints/heat"
	"fay/joints/result"
	"fay/render"
	"fay/render/dxf"
	"fay/render/pdf"
	"fay/render/sheet"
)

// drafting are the words, lines and unit of any drawing; inches print as
// decimals.
func drafting(s *config.Settings, unit geometry.Unit) sheet.Options {
	return sheet.Options{Language: render.Language(s.Language), Drafting: render.Language(s.Style), Unit: unit, NoTint: s.NoTint}
}

// draftingSizes is drafting where inches print as the settings say.
func draftingSizes(s *config.Settings, unit geometry.Unit) sheet.Options {
	o := drafting(s, unit)
	if unit == geometry.UnitInch && s.Inches == config.Fractions {
		o.Denominator = s.Denominator
	}
	return o
}

// sheetOptions are the sheet, words and units of the joint's drawings.
func (j *job) sheetOptions() sheet.Options {
	o := draftingSizes(j.settings, j.doc.Units)
	o.Dual = j.settings.Dual
	o.Size = sheet.Size(strings.ToLower(string(j.settings.Sheet)))
	o.Orientation = sheet.Orientation(j.settings.Orientation)
	return o
}

// work is what the traveler of the joint says.
func (j *job) work() (sheet.Job, error) {
	findings, err := j.findings()
	if err != nil {
		return sheet.Job{}, err
	}
	used, err := j.fillerPlain()
	if err != nil {
		return sheet.Job{}, err
	}
	return j.workOf(findings, &used)
}

// workOf is work with what is worked out already.
func (j *job) workOf(findings []check.Finding, used *filler.Filler) (sheet.Job, error) {
	options := j.sheetOptions()
	style := options.Style()
	work := j.heading()
	work.Materials, work.Findings = j.materialLines(), findings
	work.Checked = j.checked(findings)
	// The first caution is on every sheet already.
	work.Cautions = append(j.gasCaution(&style), result.Cautions(&j.doc.Section, findings)[1:]...)
	work.Notes = j.allNotes()
	work.Filler = j.fillerLines(used, style.Numbers)
	for i := range used.Welds {
		if w := &used.Welds[i]; w.Passes != nil {
			work.Passes = append(work.Passes, sheet.Passes{Weld: w.ID, Count: *w.Passes})
		}
	}
	work.Heat = j.heatLines()
	for i := range j.doc.Seams {
		work.Seams = append(work.Seams, j.doc.Seams[i].Seam)
	}
	work.Symbol = j.symbol()
	work.FitUp = j.gapTables(findings)
	var err error
	work.Logo, err = readLogo(j.settings.Logo)
	return work, err
}

// gasCaution is the caution that goes with shielding gas; none without gas.
func (j *job) gasCaution(style *render.Style) []string {
	process, err := j.process()
	if err != nil || j.settings.Practice(process).Flow == 0 {
		return nil
	}
	return []string{style.Word("caution.gas")}
}

// heatLines say in two lines which member takes the heat, where the metals of
// the joint are known; the heat command says the rest.
func (j *job) heatLines() []sheet.Line {
	h, err := j.heating(nil)
	if err != nil {
		return nil
	}
	shares, err := heat.AimShares(h.in)
	if err != nil {
		return nil
	}
	var lines []sheet.Line
	for _, s := range shares {
		lines = append(lines, sheet.Line{Label: "arc's share, " + s.Member, Value: decimal(100*s.Share, 0) + " %"})
	}
	return lines
}

// heading is what any sheet of the joint says of itself.
func (j *job) heading() sheet.Job {
	t := &j.doc.Traveler
	work := sheet.Job{
		Section: &j.doc.Section, Company: j.settings.Company,
		Number: t.Job, Part: t.Part, Joint: t.Joint, Revision: t.Revision, Date: t.Date, Planner: t.Planner,
		Changed: t.Changed, Reason: t.Reason, RevisedBy: t.RevisedBy,
		Digest: j.doc.Digest,
	}
	if t.Quantity > 0 {
		work.Quantity = strconv.Itoa(t.Quantity)
	}
	return work
}

// readLogo reads the shop's mark; none where no file is named.
func readLogo(path string) (*sheet.Logo, error) {
	if path == "" {
		return nil, nil //nolint:nilnil // a shop without a mark is no fault
	}
	hint := "the setting logo names it; empty prints none"
	file, err := os.Open(path)
	if err != nil {
		return nil, unreadableLogo(path, err, hint)
	}
	defer func() { _ = file.Close() }() // read only: nothing can be lost
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return nil, usage("logo "+path+": is a folder", hint)
	}
	data, err := io.ReadAll(io.LimitReader(file, sheet.MaxLogoBytes+1))
	if err != nil {
		return nil, unreadableLogo(path, err, hint)
	}
	logo, err := sheet.ReadLogo(data)
	if fault, ok := errors.AsType[*sheet.LogoError](err); ok {
		return nil, usage("logo "+path+": "+fault.Rule, fault.Remedy)
	}
	return logo, err
}

func unreadableLogo(path string, err error, hint string) error {
	if pathErr, ok := errors.AsType[*fs.PathError](err); ok {
		err = pathErr.Err
	}
	return usage("logo "+path+": cannot be read: "+err.Error(), hint)
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
	rodPerPass, "rods per part", "rods in all", "wire per metre", "wire per part", "wire in all", neededAll,
}

// fillerLines prints them with the numbers of the sheet.
func (j *job) fillerLines(used *filler.Filler, numbers render.Numbers) []sheet.Line {
	q := j.quantities()
	comma := func(text string) string { return strings.ReplaceAll(text, ".", numbers.Decimal) }
	show := func(l geometry.Length) string { return numbers.Length(l.Millimetres()) + " " + numbers.Name() }
	rod := used.RodDiameterMM
	if rod == nil {
		rod = used.WireDiameterMM
	}
	var lines []sheet.Line
	for i := range j.doc.Seams {
		seam := &j.doc.Seams[i]
		label, note := "seam", seam.Note(show)
		if len(j.doc.Seams) > 1 {
			label += " " + strconv.Itoa(i+1)
		}
		if len(seam.Welds) > 0 {
			note += ", " + strings.Join(seam.Welds, " and ")
		}
		lines = append(lines, sheet.Line{Label: label, Value: note})
	}
	if rod != nil {
		lines = append(lines, sheet.Line{Label: "filler", Value: strings.TrimSpace(j.fillerName() + " ⌀ " + rodSize(*rod, numbers.Unit, func(mm float64) string { return show(geometry.Length(mm)) }))})
	}
	for _, l := range fillerLines(used) {
		if slices.Contains(benchLines, l.name) {
			texts := []string{""}
			show := func(v float64) string {
				l.value = benchDigits(v)
				return q.fillerText(&l) // renames the line to the unit of the shop
			}
			if l.name == rodPerPass {
				texts = rodFed(used, show)
			} else {
				texts[0] = show(l.value)
			}
			for i, text := range texts {
				label := l.name
				if i > 0 {
					label = "" // goes on
				}
				lines = append(lines, sheet.Line{Label: label, Value: comma(text)})
			}
		}
	}
	return lines
}

// benchDigits keeps three digits of a number, which is more than a bench can
// tell, and all of a count.
func benchDigits(v float64) float64 {
	if math.Abs(v) >= 100 {
		return math.Round(v)
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	if err != nil {
		return v
	}
	return short
}

// fillerName is the filler the joint names, else that of the settings.
func (j *job) fillerName() string {
	if j.doc.Filler.Type != "" {
		return j.doc.Filler.Type
	}
	return j.settings.Filler.Type
}

// picked is the one sheet that was asked for, or the first.
func picked(pages []*render.Drawing, page int) (*render.Drawing, error) {
	if page > len(pages) {
		return nil, usage(fmt.Sprintf("--page %d: the traveler has %d", page, len(pages)), "leave --page out for the first")
	}
	return pages[max(page, 1)-1], nil
}

// encode writes drawings in a format: all sheets to a PDF or as JSON unless
// one is asked for, else one.
func (j *job) encode(w io.Writer, pages []*render.Drawing, format string, dpi float64, page int) error {
	one, err := picked(pages, page)
	if err != nil {
		return err
	}
	if page > 0 {
		pages = []*render.Drawing{one}
	}
	switch format {
	case "dxf":
		findings, failed := j.findings()
		if failed != nil {
			return failed
		}
		err = dxf.Write(w, one, dxf.Options{Notes: result.Cautions(&j.doc.Section, findings)})
	case "json":
		var out bytes.Buffer
		out.WriteString("[\n")
		for i, d := range pages {
			if i > 0 {
				out.WriteString(",\n")
			}
			out.Write(bytes.TrimRight(render.EncodeJSON(d), "\n"))
		}
		out.WriteString("\n]\n")
		_, err = w.Write(out.Bytes())
	default:
		return writePages(w, pages, format, dpi, pdf.Info{Title: j.title(), Author: j.settings.Company, Subject: "welding traveler"})
	}
	switch {
	case errors.Is(err, dxf.ErrEmpty):
		return usage(fmt.Sprintf("--page %d: a sheet of tables has nothing to cut or trace", page), "leave --page out for the section")
	case err != nil:
		return fmt.Errorf("draw: %w", err)
	}
	return nil
}

func (j *job) title() string {
	title := j.doc.Section.Title
	if k, ok := joints.LookupKind(j.doc.Section.Kind); ok && j.doc.Section.Title != k.Title {
		title += " (" + strings.ToLower(k.Title) + ")"
	}
	return title
}
