package cli

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints/check"
	"fay/joints/filler"
	jobs "fay/joints/job"
	"fay/joints/jobfile"
	"fay/joints/jointfile"
	"fay/joints/result"
	"fay/render/layout"
	"fay/render/pdf"
	"fay/render/sheet"
)

// jobLine is one joint of a job as programs read it. Lengths are in mm.
type jobLine struct {
	Number  int         `json:"number"`        // counted from 1 in the job
	Row     int         `json:"row,omitempty"` // of the table, its heading counted
	File    string      `json:"file,omitempty"`
	Kind    string      `json:"kind,omitempty"`
	Title   string      `json:"title,omitempty"`
	Job     string      `json:"job,omitempty"`
	Part    string      `json:"part,omitempty"`
	Joint   string      `json:"joint,omitempty"`
	Parts   int         `json:"parts,omitempty"`
	Digest  string      `json:"digest,omitempty"`
	Members []jobMember `json:"members,omitzero"`
	Welds   []jobWeld   `json:"welds,omitzero"`
	// LengthMM of all welds of one part; absent without a seam.
	LengthMM *float64   `json:"weld_length_mm,omitempty"`
	Filler   *jobFiller `json:"filler,omitempty"`
	// Cost is there where the settings have a currency.
	Cost   *jobs.JointCost `json:"cost,omitempty"`
	Checks *jobChecks      `json:"checks,omitempty"`
	Notes  []string        `json:"notes,omitzero"`
	// Faults are there where the joint is wrong, and nothing is computed then.
	Faults []jobFault `json:"faults,omitzero"`
}

type jobMember struct {
	Name        string  `json:"name"`
	ThicknessMM float64 `json:"thickness_mm"`
	Material    string  `json:"material,omitempty"`
}

type jobWeld struct {
	ID               string      `json:"id"`
	LegsMM           *[2]float64 `json:"legs_mm,omitempty"`
	EffectiveThroat  float64     `json:"effective_throat_mm"`
	AreaMM2          float64     `json:"area_mm2"`
	DepositedAreaMM2 float64     `json:"deposited_area_mm2"`
}

// jobFiller is what all parts of a joint take. Rods and packs are rounded up
// for the job, not here.
type jobFiller struct {
	Name        string    `json:"name,omitempty"`
	Form        jobs.Form `json:"form,omitempty"`
	DiameterMM  float64   `json:"diameter_mm"`
	VolumeCm3   *float64  `json:"volume_cm3,omitempty"`
	DepositedKg *float64  `json:"deposited_kg,omitempty"`
	ConsumedKg  *float64  `json:"consumed_kg,omitempty"`
	BoughtKg    *float64  `json:"bought_kg,omitempty"`
	Rods        *float64  `json:"rods,omitempty"`
	WireM       *float64  `json:"wire_m,omitempty"`
	ArcTimeMin  *float64  `json:"arc_time_min,omitempty"`
	GasM3       *float64  `json:"gas_m3,omitempty"`
}

// jobChecks counts the findings and lists those that are not met.
type jobChecks struct {
	Met           int          `json:"met"`
	NotMet        int          `json:"not_met"`
	Failed        int          `json:"failed"` // not met by values that are not from memory
	CannotTell    int          `json:"cannot_tell"`
	NotApplicable int          `json:"not_applicable"`
	Open          []jobFinding `json:"findings_not_met"`
}

type jobFinding struct {
	Rule       string           `json:"rule"`
	Title      string           `json:"title"`
	Weld       string           `json:"weld,omitempty"`
	Provenance check.Provenance `json:"provenance"`
	Ratio      *float64         `json:"ratio,omitempty"`
	Mend       string           `json:"mend,omitempty"`
}

type jobFault struct {
	Code   string `json:"code"`
	Place  string `json:"place,omitempty"`
	Field  string `json:"field,omitempty"`
	Value  string `json:"value,omitempty"`
	Rule   string `json:"rule"`
	Remedy string `json:"remedy,omitempty"`
}

// jobTask is a joint to work out, or what is wrong with its row.
type jobTask struct {
	number int
	row    jobfile.Row
	err    error
}

// jobDone is a joint worked out.
type jobDone struct {
	line   jobLine
	use    jobs.Use
	bought bool // use holds something
	cost   *jobs.JointCost
	// remembered tells whether arc time and gas rest on values from memory.
	remembered [2]bool
	units      geometry.Unit
	faults     jointfile.Faults
	err        error // ends the job
	pages      []*pdf.Page
	places     []sheet.Number  // of the pages' numbers
	files      []string        // names of those of single sheets
	rules      []sheet.Checked // documents of a drawn joint
	lacks      []rune          // characters that the lettering cannot draw
}

func (d *jobDone) wrong() bool { return len(d.faults) > 0 }

// jobWorks works out joints. It is used from several goroutines at a time.
type jobWorks struct {
	settings  *config.Settings
	catalogue config.Catalogue
	in        *jobInput
	draw      bool
	each      string      // format of files of single sheets; empty: none
	stage     *stage      // of those files
	logo      *sheet.Logo // of the cover
	shelf     *layout.Shelf
}

func newJobWorks(settings *config.Settings, in *jobInput, p *jobPlan) *jobWorks {
	each := strings.TrimPrefix(strings.ToLower(filepath.Ext(p.each)), ".")
	return &jobWorks{settings: settings, catalogue: settings.Catalogue(), in: in, draw: p.pdf != "" || each != "", each: each, shelf: layout.NewShelf()}
}

// joint works out one joint. The memory for findings is for the next one, too.
func (w *jobWorks) joint(t *jobTask, room *[]check.Finding) jobDone {
	d := jobDone{line: jobLine{Number: t.number, Row: t.row.At.Row, File: t.row.File}}
	err := t.err
	if err == nil {
		err = t.row.Place(w.work(t, &d, room))
	} else if faults := jointfile.AsFaults(err); len(faults) > 0 {
		d.line.Row = faults[0].Place.Row
	}
	if err == nil {
		return d
	}
	d = jobDone{line: jobLine{Number: d.line.Number, Row: d.line.Row, File: d.line.File}}
	if d.faults = jointfile.AsFaults(err); d.faults == nil {
		d.err = err
		return d
	}
	for i := range d.faults {
		f := &d.faults[i]
		d.line.Faults = append(d.line.Faults, jobFault{Code: string(f.Code), Place: f.Place.String(), Field: f.Field, Value: f.Value, Rule: f.Rule, Remedy: f.Remedy})
	}
	return d
}

// work reads, builds, checks and, where asked for, draws the joint.
func (w *jobWorks) work(t *jobTask, d *jobDone, room *[]check.Finding) error {
	src, path, err := w.in.source(&t.row)
	if err != nil {
		return err
	}
	j := &job{settings: w.settings, catalogue: w.catalogue, path: path}
	if !w.draw { // sheets keep the findings, and show more of them
		j.brief, j.room = true, (*room)[:0]
	}
	src.Brief = j.brief
	src.Units, src.FamilyOf = w.settings.Units, j.gauges
	if t.row.Units != nil && t.row.Kind != "" {
		src.Units = *t.row.Units
	}
	if j.doc, err = jointfile.Read(src); err != nil {
		return err //nolint:wrapcheck // faults of the input, told as they are
	}
	j.printed()
	j.materials()
	findings, err := j.findings()
	if err != nil {
		return err
	}
	*room = findings
	params, err := j.fillerParams()
	if err != nil {
		return err
	}
	used, err := j.computed(&params)
	if err != nil {
		return err
	}
	d.units = j.doc.Units
	d.describe(j)
	d.filled(&used, j.metalName(), params.Packs)
	d.remembered = j.remembered(&used)
	d.cost = jobs.CostOf(w.settings.Costs.Currency, &used, d.line.Parts)
	d.line.Cost = rounder(d.cost)
	d.checked(findings)
	d.line.Notes = j.notes
	if w.draw {
		work, err := j.workOf(findings, &used)
		if err != nil {
			return err
		}
		work.Shelf = w.shelf
		sheets, err := sheet.Compose(work, j.sheetOptions())
		if err != nil {
			return fmt.Errorf("compose the sheet: %w", err)
		}
		d.rules = work.Checked
		d.lacks = undrawn(sheets)
		if w.each != "" {
			return w.single(j, sheets, d)
		}
		for _, s := range sheets {
			if place, ok := sheet.TakeNumber(s, j.sheetOptions()); ok {
				d.places = append(d.places, place)
			}
			s.Title = jobBookmark(d.line.Number, d.line.Joint, d.line.name(nil))
			page, err := pdf.NewPage(s)
			if err != nil {
				return fmt.Errorf("draw: %w", err)
			}
			d.pages = append(d.pages, page)
		}
	}
	return nil
}

// metalName is the filler as it is bought: its name on file, else as written.
func (j *job) metalName() string {
	name := j.fillerName()
	if metal, err := j.catalogue.Filler(name); err == nil {
		return metal.Name
	}
	return name
}

func (d *jobDone) describe(j *job) {
	s, t, l := &j.doc.Section, &j.doc.Traveler, &d.line
	l.Kind, l.Title, l.Digest = s.Kind, s.Title, j.doc.Digest
	l.Job, l.Part, l.Joint, l.Parts = t.Job, t.Part, t.Joint, max(t.Quantity, 1)
	l.Members = make([]jobMember, len(s.Members))
	for i := range s.Members {
		m := &s.Members[i]
		l.Members[i] = jobMember{m.Name, result.Round(m.Thickness.Millimetres()), m.Material}
	}
	l.Welds = make([]jobWeld, len(s.Welds))
	for i := range s.Welds {
		w := &s.Welds[i]
		l.Welds[i] = jobWeld{ID: w.ID, EffectiveThroat: result.Round(w.EffectiveThroat.Millimetres()), AreaMM2: result.Round(w.Area), DepositedAreaMM2: result.Round(w.DepositedArea)}
		if w.Feet[0].Leg > 0 && w.Feet[1].Leg > 0 {
			l.Welds[i].LegsMM = &[2]float64{result.Round(w.Feet[0].Leg.Millimetres()), result.Round(w.Feet[1].Leg.Millimetres())}
		}
	}
	if len(j.doc.Runs) > 0 {
		sum := 0.0
		for _, run := range j.doc.Runs {
			sum += run.Length.Millimetres()
		}
		l.LengthMM = new(result.Round(sum))
	}
}

func (d *jobDone) filled(used *filler.Filler, name string, packs []filler.Pack) {
	n := float64(d.line.Parts)
	room := make([]float64, 0, 8) // one piece of memory for all numbers
	times := func(v *float64) *float64 {
		if v == nil {
			return nil
		}
		room = append(room, result.Round(*v*n))
		return &room[len(room)-1]
	}
	d.use, d.bought = jobs.UseOf(name, used, d.line.Parts, packs)
	f := &jobFiller{
		Name: name, VolumeCm3: times(used.VolumeCm3PerSeam), DepositedKg: times(used.DepositedKgPerSeam), ConsumedKg: times(used.ConsumedKgPerSeam),
		BoughtKg: times(used.BoughtKgPerSeam), Rods: times(used.RodsPerSeam), WireM: times(used.WireMPerSeam),
		ArcTimeMin: times(used.ArcTimeMin), GasM3: times(used.GasM3PerSeam),
	}
	switch {
	case used.RodDiameterMM != nil:
		f.Form, f.DiameterMM = jobs.Rod, result.Round(*used.RodDiameterMM)
	case used.WireDiameterMM != nil:
		f.Form, f.DiameterMM = jobs.Wire, result.Round(*used.WireDiameterMM)
	}
	d.line.Filler = f
}

// rounder is a cost as it is printed.
func rounder(c *jobs.JointCost) *jobs.JointCost {
	if c == nil {
		return nil
	}
	out := *c
	out.Total, out.Lines = result.Round(c.Total), make([]jobs.CostLine, len(c.Lines))
	for i, l := range c.Lines {
		out.Lines[i] = jobs.CostLine{Name: l.Name, Amount: result.Round(l.Amount)}
	}
	return &out
}

func (d *jobDone) checked(findings []check.Finding) {
	c := &jobChecks{Open: []jobFinding{}}
	for i := range findings {
		f := &findings[i]
		switch f.Verdict {
		case check.Met:
			c.Met++
		case check.NotApplicable:
			c.NotApplicable++
		case check.CannotTell:
			c.CannotTell++
		case check.NotMet:
			c.NotMet++
			if f.Failure() {
				c.Failed++
			}
			open := jobFinding{Rule: f.Rule, Title: f.Title, Weld: f.Weld, Provenance: f.Provenance, Mend: f.Mend}
			if f.Ratio != nil {
				open.Ratio = new(result.Round(*f.Ratio))
			}
			c.Open = append(c.Open, open)
		}
	}
	d.line.Checks = c
}

// jsonl writes the line of JSON of the joint.
func (d *jobDone) jsonl(to *bytes.Buffer) error {
	line, err := d.line.appendJSON(to.AvailableBuffer())
	if err != nil {
		return fmt.Errorf("write json: %w", err)
	}
	to.Write(append(line, '\n'))
	return nil
}
