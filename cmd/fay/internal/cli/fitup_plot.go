package cli

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/result"
	"fay/render"
	"fay/render/pdf"
	"fay/render/plot"
)

// drawFitup writes the diagram of throat against opening.
func (a *app) drawFitup(f *fitted, o *fitupOptions) error {
	format, err := drawingFormat(o.output, o.to)
	if err != nil {
		return err
	}
	if err := apartFrom(f.path, o.output); err != nil {
		return err
	}
	d, err := f.diagram()
	if err != nil {
		return err
	}
	data, err := encodePages([]*render.Drawing{d}, format, o.dpi, pdf.Info{Title: f.title(), Author: f.settings.Company, Subject: "fit-up"})
	if err != nil {
		return err
	}
	return a.hand(o.output, data)
}

// plotStyle is the drafting style of diagrams: that of the traveler.
func (j *job) plotStyle() render.Style {
	return drafting(j.settings, j.doc.Units).Style()
}

// plotPage is the sheet of diagrams.
func (j *job) plotPage() plot.Page { return plotPageOf(j.settings) }

// curvePoints is the number of points of a curve.
const curvePoints = 160

// diagram draws the effective throat with the planned size against the opening.
func (f *fitted) diagram() (*render.Drawing, error) {
	style := f.plotStyle()
	t := f.table
	in := func(mm geometry.Length) float64 { return mm.In(style.Numbers.Unit) }
	number := func(mm geometry.Length) string { return style.Numbers.Length(float64(mm)) }
	opening := f.parameter()
	if t.Parameter != "gap" {
		opening = style.Word("measure." + t.Parameter)
	}
	l := plot.Lines{
		Sheet: plot.Sheet{
			Title: f.title(),
			Subtitle: style.Word("measure.effective throat") + " against " + opening + ", planned size laid: " +
				marked(strings.Join(f.given(f.quantities()), ", "), style.Numbers.Decimal),
			Notes: f.plotNotes(style.Numbers.Decimal), Foot: style.Word("field.digest") + " " + f.doc.Digest[:shortDigest],
		},
		X: plot.Axis{Label: opening, Unit: style.Numbers.Name(), Max: in(t.End)},
		Y: plot.Axis{Label: style.Word("measure.effective throat"), Unit: style.Numbers.Name(), Zero: true},
	}
	most := 0.0
	for _, w := range t.Throats {
		c := plot.Curve{Label: f.weldText(w.Weld, number)}
		for i := range curvePoints + 1 {
			g := t.End * geometry.Length(i) / curvePoints
			y := math.NaN()
			if at := t.ThroatAt(w.Weld, g); at.Present {
				y = in(at.Value)
				most = math.Max(most, y)
			}
			c.Points = append(c.Points, geometry.Point{X: in(g), Y: y})
		}
		l.Curves = append(l.Curves, c)
	}
	f.plotLimits(&l, in, number)
	f.plotPlan(&l, in, number)
	d, err := l.Draw(&style, f.plotPage())
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return d, nil
}

// weldText names a weld with its planned legs.
func (f *fitted) weldText(id string, number func(geometry.Length) string) string {
	w, ok := f.doc.Section.Weld(id)
	if !ok || w.Kind != joints.FilletWeld || w.Feet[0].Leg == 0 {
		return id + " weld"
	}
	return id + ", legs " + number(w.Feet[0].Leg) + " × " + number(w.Feet[1].Leg)
}

// plotLimits draws the throats asked for and the gaps that rules end at. What is
// short of the throat, or beyond the first gap of a rule that is not merely
// remembered, is lined.
func (f *fitted) plotLimits(l *plot.Lines, in func(geometry.Length) float64, number func(geometry.Length) string) {
	required := map[geometry.Length]bool{}
	for _, w := range f.table.Throats {
		if !w.Legs || required[w.Kept] {
			continue
		}
		required[w.Kept] = true
		label := "throat required "
		if w.Kept == w.Planned {
			label = "throat of the plan "
		}
		l.Limits = append(l.Limits, plot.Limit{Label: label + number(w.Kept), At: in(w.Kept), Level: true})
	}
	if len(required) == 1 {
		l.Bands = append(l.Bands, plot.Band{Label: "short", From: math.Inf(-1), To: l.Limits[0].At, Level: true, Refused: true})
	}
	ends := map[float64]int{}
	first := math.Inf(1)
	for i := range f.limits {
		g := &f.limits[i]
		if g.Provenance != check.Memory {
			first = math.Min(first, g.LargestGapMM)
		}
		name := documents.TitleOf(g.Rule)
		if g.Provenance == check.Memory {
			name += " (memory)"
		}
		if at, seen := ends[g.LargestGapMM]; seen {
			if !strings.Contains(l.Limits[at].Label, name) {
				l.Limits[at].Label = name + ", " + l.Limits[at].Label
			}
			continue
		}
		ends[g.LargestGapMM] = len(l.Limits)
		l.Limits = append(l.Limits, plot.Limit{Label: name + ": " + number(geometry.Length(g.LargestGapMM)), At: in(geometry.Length(g.LargestGapMM))})
	}
	if first < float64(f.table.End) {
		l.Bands = append(l.Bands, plot.Band{From: in(geometry.Length(first)), To: math.Inf(1), Refused: true})
	}
}

// plotPlan marks the plan with its tolerance and the worst cases.
func (f *fitted) plotPlan(l *plot.Lines, in func(geometry.Length) float64, number func(geometry.Length) string) {
	t := f.table
	lo, hi := t.Planned, t.Planned
	if tol := f.doc.Input.Values[t.Parameter].Tolerance; tol != nil {
		lo, hi = max(0, t.Planned+geometry.Length(tol.Minus)), t.Planned+geometry.Length(tol.Plus)
		if hi > lo {
			l.Bands = append(l.Bands, plot.Band{Label: "tolerance", From: in(lo), To: in(hi)})
		}
	}
	for i, w := range t.Throats {
		m := plot.Mark{X: in(t.Planned), Y: in(w.Planned), XSpan: [2]float64{in(lo), in(hi)}}
		if i == 0 {
			m.Label = "plan " + number(t.Planned)
		}
		if a := f.analysis; a != nil && a.Weld == w.Weld {
			m.YSpan = [2]float64{in(a.WorstLow), in(a.WorstHigh)}
		}
		l.Marks = append(l.Marks, m)
	}
}

// shortDigest is how much of the digest tells two joints apart on paper.
const shortDigest = 16

// decimalPoint finds points in numbers with a unit; 1.4301 is a steel.
var decimalPoint = regexp.MustCompile(`(\d)\.(\d+(?: (?:mm|in|%)|°|\)))`)

// marked puts the decimal marker of the sheet into the numbers of a text.
func marked(text, marker string) string {
	return decimalPoint.ReplaceAllString(text, "${1}"+marker+"${2}")
}

// plotNotes says what the diagram rests on.
func (f *fitted) plotNotes(marker string) []string {
	q := f.quantities()
	notes := []string{"The " + f.parameter() + " ends at " + marked(q.length(float64(f.table.End)), marker) + ": " + f.table.EndSource + "."}
	if a := f.analysis; a != nil {
		notes = append(notes, fmt.Sprintf("The %s weld with all tolerances: worst case %s to %s; short of %s in %s of %d joints, 95 %% interval %s to %s. Here %s.",
			a.Weld, marked(q.length(float64(a.WorstLow)), marker), marked(q.length(float64(a.WorstHigh)), marker), marked(q.length(float64(a.Required)), marker),
			marked(percent(a.ShareShort), marker), a.Samples, marked(percent(a.ShareLow), marker), marked(percent(a.ShareHigh), marker), evenly))
	}
	return append(notes, result.Cautions(&f.doc.Section, f.findings)...)
}
