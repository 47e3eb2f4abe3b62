package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/fitup"
	"fay/joints/result"
)

// fitupResult is the JSON of `fay fitup`.
type fitupResult struct {
	Schema         string         `json:"schema"`
	Joint          fitupJoint     `json:"joint"`
	Cautions       []string       `json:"cautions"`
	Parameter      string         `json:"parameter"`
	PlannedMM      float64        `json:"planned_mm"`
	EndMM          float64        `json:"end_mm"`
	EndSource      string         `json:"end_source"`
	LegsRoundedMM  float64        `json:"legs_rounded_up_to_mm"`
	Welds          []fitupWeld    `json:"welds"`
	Rows           []fitupRow     `json:"rows"`
	Limits         []gapLimit     `json:"gap_limits"`
	Analysis       *fitupAnalysis `json:"analysis,omitempty"`
	Filler         string         `json:"filler,omitempty"`
	DensityGPerCm3 *float64       `json:"density_g_per_cm3,omitempty"`
	Notes          []string       `json:"notes,omitzero"`
}

type fitupJoint struct {
	Kind   string `json:"kind"`
	Title  string `json:"title"`
	Digest string `json:"digest"`
}

// fitupWeld is a weld of the table: its planned throat, and the one kept.
type fitupWeld struct {
	ID              string  `json:"id"`
	PlannedThroatMM float64 `json:"planned_throat_mm"`
	KeptThroatMM    float64 `json:"kept_throat_mm"`
}

type fitupRow struct {
	OpeningMM float64        `json:"opening_mm"`
	Planned   bool           `json:"planned"`
	Welds     []fitupRowWeld `json:"welds"`
	// Extra deposit over the plan, of all welds of the row: with the exact
	// legs, and with those to lay.
	ExtraAreaMM2   *float64 `json:"extra_area_mm2,omitempty"`
	ExtraLaidMM2   *float64 `json:"extra_area_laid_mm2,omitempty"`
	ExtraLaidGPerM *float64 `json:"extra_deposited_laid_g_per_m,omitempty"`
}

type fitupRowWeld struct {
	ID           string      `json:"id"`
	ThroatMM     *float64    `json:"throat_planned_size_mm,omitempty"`
	LegsMM       *[2]float64 `json:"legs_mm,omitempty"`
	LegsToLayMM  *[2]float64 `json:"legs_to_lay_mm,omitempty"`
	WholeEdge    *[2]bool    `json:"whole_edge,omitempty"`
	WhyNoLegKeep string      `json:"no_leg_because,omitempty"`
}

type fitupAnalysis struct {
	Weld          string              `json:"weld"`
	NominalMM     float64             `json:"nominal_throat_mm"`
	RequiredMM    float64             `json:"required_throat_mm"`
	WorstMM       [2]float64          `json:"worst_case_throat_mm"`
	RSSMM         [2]float64          `json:"root_sum_square_throat_mm"`
	NominalMM2    float64             `json:"nominal_deposited_area_mm2"`
	WorstMM2      [2]float64          `json:"worst_case_deposited_area_mm2"`
	RSSMM2        [2]float64          `json:"root_sum_square_deposited_area_mm2"`
	Distribution  string              `json:"distribution"`
	Samples       int                 `json:"samples"`
	Seed          uint64              `json:"seed"`
	Short         int                 `json:"short"`
	Unbuildable   int                 `json:"unbuildable"`
	ShareShort    float64             `json:"share_short"`
	Share95       [2]float64          `json:"share_short_95"`
	Contributions []fitupContribution `json:"contributions"`
}

type fitupContribution struct {
	Name  string      `json:"name"`
	Plus  float64     `json:"plus"`
	Minus float64     `json:"minus"`
	Unit  joints.Unit `json:"unit"`
	Slope float64     `json:"throat_mm_per_unit"`
	Share float64     `json:"share_of_variance"`
}

// result puts the fit-up together for programs.
func (f *fitted) result() fitupResult {
	t := f.table
	s := &f.doc.Section
	r := fitupResult{
		Schema: "fay.fitup/1", Joint: fitupJoint{Kind: s.Kind, Title: s.Title, Digest: f.doc.Digest},
		Cautions:  result.Cautions(s, f.findings),
		Parameter: t.Parameter, PlannedMM: float64(t.Planned), EndMM: float64(t.End), EndSource: t.EndSource,
		LegsRoundedMM: float64(t.Grid), Welds: make([]fitupWeld, 0, len(t.Throats)), Rows: make([]fitupRow, 0, len(t.Rows)),
		Limits: append([]gapLimit{}, f.limits...), Filler: f.filler, DensityGPerCm3: f.density, Notes: f.notesOf(),
	}
	for _, w := range t.Throats {
		r.Welds = append(r.Welds, fitupWeld{w.Weld, float64(w.Planned), float64(w.Kept)})
	}
	for i := range t.Rows {
		r.Rows = append(r.Rows, f.resultRow(&t.Rows[i]))
	}
	if a := f.analysis; a != nil {
		r.Analysis = &fitupAnalysis{
			Weld: a.Weld, NominalMM: float64(a.Nominal), RequiredMM: float64(a.Required),
			WorstMM: [2]float64{float64(a.WorstLow), float64(a.WorstHigh)}, RSSMM: [2]float64{float64(a.RSSLow), float64(a.RSSHigh)},
			NominalMM2: a.NominalArea, WorstMM2: [2]float64{a.WorstAreaLow, a.WorstAreaHigh}, RSSMM2: [2]float64{a.RSSAreaLow, a.RSSAreaHigh},
			Distribution: "even over the tolerance", Samples: a.Samples, Seed: a.Seed, Short: a.Short, Unbuildable: a.Unbuildable,
			ShareShort: a.ShareShort, Share95: [2]float64{a.ShareLow, a.ShareHigh}, Contributions: make([]fitupContribution, 0, len(a.Contributions)),
		}
		for _, c := range a.Contributions {
			r.Analysis.Contributions = append(r.Analysis.Contributions, fitupContribution{c.Name, c.Plus, c.Minus, c.Unit, c.Slope, c.Share})
		}
	}
	return r
}

func (f *fitted) resultRow(row *fitup.Row) fitupRow {
	out := fitupRow{OpeningMM: float64(row.Opening), Planned: row.Nominal, Welds: make([]fitupRowWeld, 0, len(row.Welds))}
	if row.Complete {
		out.ExtraAreaMM2, out.ExtraLaidMM2, out.ExtraLaidGPerM = new(row.ExtraArea), new(row.LaidArea), f.grams(row.LaidArea)
	}
	for _, w := range row.Welds {
		rw := fitupRowWeld{ID: w.Weld, WhyNoLegKeep: w.Impossible}
		if w.Throat.Present {
			rw.ThroatMM = new(float64(w.Throat.Value))
		}
		if w.Legs[0].Present {
			rw.LegsMM = &[2]float64{float64(w.Legs[0].Value), float64(w.Legs[1].Value)}
			rw.LegsToLayMM = &[2]float64{float64(w.Lay[0].Value), float64(w.Lay[1].Value)}
			rw.WholeEdge = new(w.WholeEdge)
		}
		out.Welds = append(out.Welds, rw)
	}
	return out
}

// notesOf are the remarks of the joint, without what a fit-up does not need.
func (f *fitted) notesOf() []string {
	return slices.DeleteFunc(append(append([]string{}, f.doc.Section.Notes...), f.allNotes()...), func(n string) bool {
		return strings.HasPrefix(n, "no filler named")
	})
}

// csv prints a line for each weld of each row, in mm.
func (f *fitted) csv(w *bytes.Buffer) error {
	t := table{heads: []string{
		f.table.Parameter + "_mm", "planned", "weld", "throat_planned_size_mm", "leg_first_mm", "leg_second_mm",
		"leg_to_lay_first_mm", "leg_to_lay_second_mm", "no_leg_because", "joint_extra_area_laid_mm2", "joint_extra_laid_g_per_m",
	}}
	res := f.result()
	for i := range res.Rows {
		r := &res.Rows[i]
		for _, rw := range r.Welds {
			cells := []string{plain(&r.OpeningMM), strconv.FormatBool(r.Planned), rw.ID, plain(rw.ThroatMM), "", "", "", "", rw.WhyNoLegKeep, plain(r.ExtraLaidMM2), plain(r.ExtraLaidGPerM)}
			if rw.LegsMM != nil {
				for k := range 2 {
					cells[4+k], cells[6+k] = plain(&rw.LegsMM[k]), plain(&rw.LegsToLayMM[k])
				}
			}
			t.add(cells...)
		}
	}
	return t.csv(w)
}

// print prints the fit-up for people.
func (f *fitted) print(w *bytes.Buffer, form format) {
	q := f.quantities()
	f.printJoint(w, form, q)
	f.printTable(w, form, q)
	if len(f.limits) > 0 {
		heading(w, form, "Largest gaps by rule, with the legs as they are")
		t := table{heads: []string{"rule", "weld", "largest gap", "values"}}
		for i := range f.limits {
			l := &f.limits[i]
			t.add(l.Rule, l.Weld, q.length(l.LargestGapMM), string(l.Provenance))
		}
		t.in(form, w)
	}
	if f.analysis != nil {
		f.printAnalysis(w, form, q)
	}
	notes := append([]string{"the table ends at " + q.length(float64(f.table.End)) + ": " + f.table.EndSource}, f.notesOf()...)
	if f.table.Throats[0].Legs {
		notes = append(notes, "legs to lay are rounded up to "+f.hand(q).length(float64(f.table.Grid))+" and never under the plan")
	}
	tail(w, form, notes, result.Cautions(&f.doc.Section, f.findings))
}

// hand is the way sizes for the fitter are printed: inch fractions fine enough
// for the steps of the table.
func (f *fitted) hand(q quantities) quantities {
	q.denominator = max(q.denominator, 32)
	return q
}

func (f *fitted) printTable(w *bytes.Buffer, form format, q quantities) {
	hand := f.hand(q)
	heading(w, form, "Fit-up by "+f.parameter())
	t := table{heads: []string{f.parameter(), ""}}
	for _, weld := range f.table.Throats {
		if weld.Legs {
			t.heads = append(t.heads, weld.Weld+": leg to lay for throat "+q.length(float64(weld.Kept)))
		}
		t.heads = append(t.heads, weld.Weld+": throat as planned")
	}
	t.heads = append(t.heads, "extra filler")
	if f.density != nil {
		t.heads = append(t.heads, "extra mass")
	}
	var told, why []string // the first reason of each weld stands for the others
	for i := range f.table.Rows {
		row := &f.table.Rows[i]
		cells := []string{hand.length(float64(row.Opening)), ""}
		if row.Nominal {
			cells[1] = "plan"
		}
		for k := range row.Welds {
			weld := &row.Welds[k]
			if f.table.Throats[k].Legs {
				cells = append(cells, legsText(hand, weld))
			}
			if weld.Impossible != "" && !slices.Contains(told, weld.Weld) {
				told = append(told, weld.Weld)
				why = append(why, weld.Weld+" weld at "+hand.length(float64(row.Opening))+": "+weld.Impossible)
			}
			throat := "none"
			if weld.Throat.Present {
				throat = q.length(float64(weld.Throat.Value))
			}
			cells = append(cells, throat)
		}
		area, mass := "", ""
		if row.Complete {
			area = q.area(row.LaidArea)
			if g := f.grams(row.LaidArea); g != nil {
				mass = f.massText(q, *g)
			}
		}
		cells = append(cells, area)
		if f.density != nil {
			cells = append(cells, mass)
		}
		t.add(cells...)
	}
	t.in(form, w)
	for i, reason := range why {
		if i == 0 {
			printf(w, "\n")
		}
		printf(w, "No leg for the %s\n", reason)
	}
}

// massText prints grams per metre, or pounds per foot.
func (f *fitted) massText(q quantities, grams float64) string {
	if q.unit == geometry.UnitInch {
		return q.fillerText(&line{"extra per metre", grams / 1000, "kg/m"})
	}
	return significant(grams) + " g/m"
}

// legsText prints the legs to lay: one number where both are the same.
func legsText(q quantities, w *fitup.WeldRow) string {
	if !w.Lay[0].Present {
		return "none"
	}
	text := q.length(float64(w.Lay[0].Value))
	if second := q.length(float64(w.Lay[1].Value)); second != text {
		text += " × " + second
	}
	if w.WholeEdge[0] || w.WholeEdge[1] {
		text += " (whole edge)"
	}
	return text
}

func (f *fitted) printAnalysis(w *bytes.Buffer, form format, q quantities) {
	a := f.analysis
	heading(w, form, "Tolerances: "+a.Weld+" weld")
	span := func(lo, hi geometry.Length) string { return q.length(float64(lo)) + " to " + q.length(float64(hi)) }
	areas := func(lo, hi float64) string { return q.area(lo) + " to " + q.area(hi) }
	required := q.length(float64(a.Required))
	if a.Required == a.Nominal {
		required += ", that of the plan"
	}
	t := table{heads: []string{"what", "effective throat", "deposited"}}
	t.add("plan", q.length(float64(a.Nominal)), q.area(a.NominalArea))
	t.add("worst case", span(a.WorstLow, a.WorstHigh), areas(a.WorstAreaLow, a.WorstAreaHigh))
	t.add("root sum of squares", span(a.RSSLow, a.RSSHigh), areas(a.RSSAreaLow, a.RSSAreaHigh))
	t.in(form, w)
	printf(w, "\n")
	t = table{heads: []string{"what", "value"}}
	t.add("throat required", required)
	t.add("joints drawn", fmt.Sprintf("%d, seed %d", a.Samples, a.Seed))
	t.add("short of the throat", percent(a.ShareShort)+", 95 % interval "+percent(a.ShareLow)+" to "+percent(a.ShareHigh))
	if a.Unbuildable > 0 {
		t.add("of them without any weld", strconv.Itoa(a.Unbuildable))
	}
	t.in(form, w)
	printf(w, "\n")
	t = table{heads: []string{"toleranced value", "tolerance", "throat changes by", "share of the spread"}}
	for _, c := range a.Contributions {
		slope := decimal(c.Slope, 3) + " per unit of length"
		if c.Unit == joints.UnitDegree {
			slope = q.length(c.Slope) + " per degree"
		}
		t.add(c.Name, q.tolerance(&joints.Tolerance{Plus: c.Plus, Minus: c.Minus}, c.Unit), slope, percent(c.Share))
	}
	t.in(form, w)
	printf(w, "\nAll %s.\n", evenly)
}

func percent(share float64) string { return decimal(100*share, 2) + " %" }
