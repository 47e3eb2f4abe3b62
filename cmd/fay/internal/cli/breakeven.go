package cli

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/compare"
	"fay/joints/filler"
	"fay/joints/jointfile"
	"fay/joints/result"
	"fay/render"
	"fay/render/plot"
)

// breakEvenJSON is the break-even in JSON. Values are in mm, degrees or plain
// numbers, as the form of the parameter is.
type breakEvenJSON struct {
	Parameter string         `json:"parameter"`
	Unit      string         `json:"unit,omitempty"`
	Metric    compare.Metric `json:"metric"`
	From      float64        `json:"from"`
	To        float64        `json:"to"`
	Crossings []crossingJSON `json:"crossings"`
	Curves    [2]curveJSON   `json:"curves"`
	Unmade    string         `json:"unmade,omitempty"` // why curves have gaps
}

type crossingJSON struct {
	At    float64 `json:"at"`
	Below string  `json:"cheaper_below"`
	Above string  `json:"cheaper_above"`
	Jump  bool    `json:"jump"` // the curves step over each other
}

type curveJSON struct {
	Name   string       `json:"name"`
	Points [][2]float64 `json:"points"`
}

// breakEven is one search with what it takes to print it.
type breakEven struct {
	compare.BreakEven
	set      *set
	name     string
	syn      compare.SweepSyntax
	lo, hi   float64
	metric   compare.Metric
	unit     string // of the metric
	currency string
}

func (a *app) runBreakEven(o *compareOptions, form format, drawing string, s *set, r *compare.Request) error {
	b, err := s.breakEven(o.breakEven, r)
	if err != nil {
		return err
	}
	if drawing != "" {
		d, err := b.draw()
		if err != nil {
			return err
		}
		data, sheets, err := writeDrawings([]*render.Drawing{d}, drawing, o.dpi, o.page, d.Title, s.settings.Company)
		if err != nil {
			return err
		}
		if err := a.deliver(o, data, sheets, drawing); err != nil || o.output == "-" {
			return err
		}
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, b.result())
	case asCSV:
		err = b.csv(&out)
	default:
		b.print(&out, form)
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

// breakEven reads name=lo..hi and searches.
func (s *set) breakEven(text string, r *compare.Request) (*breakEven, error) {
	if len(s.list) != 2 || s.sweep != nil {
		return nil, usage(fmt.Sprintf("--break-even takes two alternatives, not %d", len(s.list)), "write two, with vs between them")
	}
	b := &breakEven{set: s, syn: compare.SweepSyntax{Form: jointfile.LengthForm, Bare: s.bare(s.list[0].head, s.list[0].assignments)}, metric: r.By}
	if err := b.read(text); err != nil {
		return nil, err
	}
	if err := b.settle(); err != nil {
		return nil, err
	}
	curve := func(i int) compare.Curve { return func(at float64) (float64, error) { return b.at(i, at) } }
	var err error
	b.BreakEven, err = compare.NewBreakEven(curve(0), curve(1), b.lo, b.hi)
	return b, err
}

// read reads the parameter and its range.
func (b *breakEven) read(text string) error {
	name, span, _ := strings.Cut(text, "=")
	lo, hi, ok := strings.Cut(span, "..")
	if !ok || name == "" {
		return usage(fmt.Sprintf("--break-even %q: is not a name with a range", text), "write stem=4..30, or t=4..30 with t in the assignments")
	}
	b.name = name
	if name != compare.Variable {
		for i := range b.set.list {
			k := b.set.kind(b.set.list[i].head)
			if k == nil {
				continue // its faults come with its first value
			}
			_, form, ok := jointfile.Lookup(k, name)
			if !ok || form == jointfile.TextForm {
				return usage(fmt.Sprintf("--break-even %s: is not a number of a %s joint", name, k.Name), "use a name that both joints have, or t in their assignments")
			}
			b.syn.Form = form
		}
	} else if !b.uses() {
		return usage("--break-even t: no assignment depends on t", "write stem=t, leg=0.75t or the like")
	}
	ends := [2]*float64{&b.lo, &b.hi}
	for i, end := range [2]string{lo, hi} {
		v, err := compare.ParseValue(name, end, b.syn)
		if err != nil {
			return err
		}
		*ends[i] = v
	}
	return nil
}

func (b *breakEven) uses() bool {
	for i := range b.set.list {
		if slices.ContainsFunc(b.set.list[i].assignments, compare.Uses) {
			return true
		}
	}
	return false
}

// settle finds a value at which both can be made, and what to compare by. A
// joint that can be made nowhere is refused with its faults.
func (b *breakEven) settle() error {
	const probes = 24
	used := [2]*filler.Filler{}
	for i := range b.set.list {
		var first error
		for k := range probes + 1 {
			j, err := b.job(i, b.lo+(b.hi-b.lo)*float64(k)/probes)
			if err == nil {
				f, wrong := j.fillerPlain()
				if wrong != nil {
					return wrong
				}
				used[i] = &f
				b.set.took(j)
				break
			}
			if first == nil {
				first = err
			}
			if !unfit(err) {
				return err
			}
		}
		if used[i] == nil {
			return first
		}
	}
	if b.metric == "" {
		b.metric = b.set.by([]compare.Option{{Filler: used[0]}, {Filler: used[1]}})
	}
	if c := used[0].Cost; c != nil {
		b.currency = c.Currency
	}
	b.unit = b.metric.Unit()
	if b.metric == compare.Cost {
		b.unit = b.currency + b.unit
	}
	return nil
}

// job is an alternative at a value.
func (b *breakEven) job(i int, at float64) (*job, error) {
	alt := b.set.list[i]
	if b.name == compare.Variable {
		return b.set.job(&alt, at)
	}
	alt.assignments = b.set.replace(alt.head, alt.assignments, []string{b.name + "=" + fmt.Sprintf("%.12g", at) + b.suffix()})
	return b.set.job(&alt, math.NaN())
}

// suffix is the unit that values are given in.
func (b *breakEven) suffix() string {
	if b.syn.Form == jointfile.LengthForm {
		return "mm"
	}
	return ""
}

// at is the metric of an alternative at a value.
func (b *breakEven) at(i int, at float64) (float64, error) {
	j, err := b.job(i, at)
	if err != nil {
		return 0, fmt.Errorf("%s: %s", b.set.list[i].name, unfitReason(err))
	}
	used, err := j.fillerPlain()
	if err != nil {
		return 0, err
	}
	option := compare.Option{Name: b.set.list[i].name, Section: &j.doc.Section, Filler: &used}
	if b.metric == compare.NotMet {
		if option.Findings, err = j.findings(); err != nil {
			return 0, err
		}
	}
	if b.metric == compare.RootPower {
		option.RootArc, option.NoRootArc = b.set.rootArc(j)
	}
	c, err := compare.New(compare.Request{Options: []compare.Option{option}, By: b.metric})
	if err != nil {
		return 0, err
	}
	v := c.Rows[0].Values.Of(b.metric)
	if v == nil {
		return 0, errNoCurve
	}
	return *v, nil
}

// show prints a value of the parameter.
func (b *breakEven) show(v float64) string {
	switch {
	case b.syn.Form == jointfile.LengthForm && b.syn.Bare == geometry.UnitInch:
		return decimal(geometry.Length(v).Inches(), decimalsInch) + " in"
	case b.syn.Form == jointfile.LengthForm:
		return decimal(v, decimalsMM) + " mm"
	case b.syn.Form == jointfile.AngleForm:
		return decimal(v, 1) + "°"
	}
	return decimal(v, 3)
}

func (b *breakEven) names(firstBelow bool) (below, above string) {
	below, above = b.set.list[1].name, b.set.list[0].name
	if firstBelow {
		below, above = above, below
	}
	return below, above
}

func (b *breakEven) result() any {
	unit := ""
	switch b.syn.Form {
	case jointfile.LengthForm:
		unit = string(joints.UnitMM)
	case jointfile.AngleForm:
		unit = string(joints.UnitDegree)
	case jointfile.NumberForm, jointfile.TextForm:
	}
	out := breakEvenJSON{Parameter: b.name, Unit: unit, Metric: b.metric, From: b.lo, To: b.hi, Crossings: []crossingJSON{}, Unmade: b.Unmade}
	for _, c := range b.Crossings {
		below, above := b.names(c.FirstBelow)
		out.Crossings = append(out.Crossings, crossingJSON{c.At, below, above, c.Jump})
	}
	for i := range out.Curves {
		out.Curves[i] = curveJSON{b.set.list[i].name, [][2]float64{}}
		for _, s := range b.Samples {
			if v := [2]float64{s.A, s.B}[i]; !math.IsNaN(v) {
				out.Curves[i].Points = append(out.Curves[i].Points, [2]float64{s.At, v})
			}
		}
	}
	return struct {
		Schema       string         `json:"schema"`
		Alternatives []named        `json:"alternatives"`
		Currency     string         `json:"currency,omitempty"`
		BreakEven    *breakEvenJSON `json:"break_even"`
		Notes        []string       `json:"notes,omitzero"`
		Cautions     []string       `json:"cautions"`
	}{compareForm, b.set.named(), b.currency, &out, b.set.notes, []string{breakEvenCaution}}
}

const breakEvenCaution = "A comparison of filler, time and money: it says nothing of strength. The local code and licensed practice decide which joint may be used."

// verdict is the result in sentences.
func (b *breakEven) verdict() []string {
	out := make([]string, 0, len(b.Crossings))
	for _, c := range b.Crossings {
		below, above := b.names(c.FirstBelow)
		line := fmt.Sprintf("%s = %s: below it %s takes less, above it %s", b.name, b.show(c.At), below, above)
		if c.Jump {
			line += " (a step: the two never come to the same)"
		}
		out = append(out, line)
	}
	if len(out) > 0 {
		return out
	}
	for _, s := range b.Samples {
		if d := s.A - s.B; d != 0 && !math.IsNaN(d) {
			below, _ := b.names(d < 0)
			return []string{fmt.Sprintf("no break-even from %s to %s: %s takes less wherever both can be made", b.show(b.lo), b.show(b.hi), below)}
		}
	}
	return []string{"both come to the same everywhere"}
}

func (b *breakEven) print(w *bytes.Buffer, f format) {
	title := "Break-even by " + b.metric.Title()
	bullet := ""
	if f == asMD {
		printf(w, "# %s\n\n", title)
		bullet = "- "
	} else {
		printf(w, "%s\n\n", title)
	}
	for _, line := range b.verdict() {
		printf(w, "%s%s\n", bullet, line)
	}
	printf(w, "\n")
	t := table{heads: []string{b.name, b.set.list[0].name, b.set.list[1].name, "second over first"}}
	const every = 8
	for i := 0; i < len(b.Samples); i += every {
		s := b.Samples[i]
		cell := func(v float64) string {
			if math.IsNaN(v) {
				return "–"
			}
			return strings.TrimSpace(significant(v) + " " + b.unit)
		}
		over := ""
		if s.A != 0 && !math.IsNaN(s.A+s.B) {
			over = fmt.Sprintf("%+.0f %%", (s.B/s.A-1)*100)
		}
		t.add(b.show(s.At), cell(s.A), cell(s.B), over)
	}
	t.in(f, w)
	notes := b.set.notes
	if b.Unmade != "" {
		notes = append([]string{"–: " + b.Unmade}, notes...)
	}
	tail(w, f, notes, []string{breakEvenCaution})
}

func (b *breakEven) csv(w *bytes.Buffer) error {
	t := table{heads: []string{b.name, b.set.list[0].name, b.set.list[1].name}}
	for _, s := range b.Samples {
		cell := func(v float64) string {
			if math.IsNaN(v) {
				return ""
			}
			return plain(&v)
		}
		t.add(plain(&s.At), cell(s.A), cell(s.B))
	}
	return t.csv(w)
}

// draw plots both curves with their crossings.
func (b *breakEven) draw() (*render.Drawing, error) {
	options := b.set.sheetOptions()
	style := options.Style()
	l := plot.Lines{
		Sheet: plot.Sheet{Title: "Break-even by " + b.metric.Title(), Subtitle: b.set.list[0].name + " against " + b.set.list[1].name,
			Notes: append(b.verdict(), breakEvenCaution)},
		X: plot.Axis{Label: b.name}, Y: plot.Axis{Label: b.metric.Title(), Unit: b.unit, Zero: true},
	}
	scale := 1.0
	switch {
	case b.syn.Form == jointfile.LengthForm && b.syn.Bare == geometry.UnitInch:
		l.X.Unit, scale = "in", 1/float64(geometry.Inch)
	case b.syn.Form == jointfile.LengthForm:
		l.X.Unit = "mm"
	case b.syn.Form == jointfile.AngleForm:
		l.X.Unit = "°"
	}
	for i := range 2 {
		c := plot.Curve{Label: style.Numbers.Marked(b.set.list[i].name)}
		for _, s := range b.Samples {
			c.Points = append(c.Points, geometry.Point{X: s.At * scale, Y: [2]float64{s.A, s.B}[i]})
		}
		l.Curves = append(l.Curves, c)
	}
	for _, c := range b.Crossings {
		l.Limits = append(l.Limits, plot.Limit{Label: style.Numbers.Marked(b.show(c.At)), At: c.At * scale})
	}
	d, err := l.Draw(&style, b.set.page())
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return d, nil
}
