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
	// Equal are the stretches in which both come to the same.
	Equal [][2]float64 `json:"equal"`
}

type crossingJSON struct {
	At float64 `json:"at"`
	// To ends the stretch from At in which both come to the same.
	To    *float64 `json:"to,omitempty"`
	Below string   `json:"cheaper_below"`
	Above string   `json:"cheaper_above"`
	Jump  bool     `json:"jump"` // the curves step over each other
}

type curveJSON struct {
	Name   string         `json:"name"`
	Points [][2]float64   `json:"points"`
	Taken  []filler.Taken `json:"taken,omitzero"` // numbers behind mass, time and gas
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
	// sample compares both where each could be made first: what their costs
	// hold.
	sample compare.Comparison
	// taken are the numbers behind all values of each, memory that the metric
	// hangs on one that is remembered.
	taken  [2][]filler.Taken
	memory bool
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

// settle finds where each can be made, and what to compare by. A joint that can
// be made nowhere is refused with its faults, and so is a metric that is not
// known.
func (b *breakEven) settle() error {
	var options [2]compare.Option
	for i := range b.set.list {
		j, err := b.first(i)
		if err != nil {
			return err
		}
		used, err := j.fillerPlain()
		if err != nil {
			return err
		}
		options[i] = compare.Option{Name: b.set.list[i].name, Section: &j.doc.Section, Filler: &used}
		if b.metric == compare.NotMet {
			if options[i].Findings, err = j.findings(); err != nil {
				return err
			}
		}
		if b.metric == compare.RootPower {
			b.set.rootArc(&options[i], j)
		}
		b.set.took(j)
	}
	if b.metric == "" {
		b.metric = b.set.by(options[:])
	}
	var err error
	if b.sample, err = compare.New(compare.Request{Options: options[:], By: b.metric}); err != nil {
		return err
	}
	if err := b.comparable(); err != nil {
		return err
	}
	b.currency = b.sample.Currency
	b.unit = metricUnit(b.metric, &b.sample)
	return nil
}

// first is an alternative at the first value at which it can be made.
func (b *breakEven) first(i int) (*job, error) {
	const probes = 24
	var first error
	for k := range probes + 1 {
		j, err := b.job(i, b.lo+(b.hi-b.lo)*float64(k)/probes)
		switch {
		case err == nil:
			return j, nil
		case !unfit(err):
			return nil, err
		case first == nil:
			first = err
		}
	}
	return nil, first
}

// comparable refuses a metric that one of the two does not have, and costs that
// do not hold the same.
func (b *breakEven) comparable() error {
	rows := b.sample.Rows
	for i := range rows {
		if rows[i].Values.Of(b.metric) == nil {
			return unknownMetric(b.metric, rows[i].NoHeat)
		}
	}
	if b.metric == compare.Cost && !slices.Equal(rows[0].NotPriced, rows[1].NotPriced) {
		var lacks []string
		for i := range rows {
			if len(rows[i].NotPriced) > 0 {
				lacks = append(lacks, rows[i].Name+" lacks "+strings.Join(rows[i].NotPriced, ", "))
			}
		}
		return usage("--by cost: the two are not priced alike: "+strings.Join(lacks, "; "), "give the same filler and the prices that are missing, or compare --by mass or time")
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
		b.set.rootArc(&option, j)
	}
	c, err := compare.New(compare.Request{Options: []compare.Option{option}, By: b.metric})
	if err != nil {
		return 0, err
	}
	row := &c.Rows[0]
	for _, t := range row.Taken {
		if !slices.Contains(b.taken[i], t) {
			b.taken[i] = append(b.taken[i], t)
		}
	}
	b.memory = b.memory || slices.Contains(row.FromMemory, b.metric)
	v := row.Values.Of(b.metric)
	if v == nil {
		return 0, unknownMetric(b.metric, row.NoHeat)
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
	out := breakEvenJSON{Parameter: b.name, Unit: unit, Metric: b.metric, From: b.lo, To: b.hi, Crossings: []crossingJSON{}, Equal: [][2]float64{}, Unmade: b.Unmade}
	for _, c := range b.Crossings {
		below, above := b.names(c.FirstBelow)
		crossing := crossingJSON{At: c.At, Below: below, Above: above, Jump: c.Jump}
		if c.To > c.At {
			crossing.To = &c.To
		}
		out.Crossings = append(out.Crossings, crossing)
	}
	for _, e := range b.Equal {
		out.Equal = append(out.Equal, [2]float64{e.From, e.To})
	}
	for i := range out.Curves {
		out.Curves[i] = curveJSON{b.set.list[i].name, [][2]float64{}, b.taken[i]}
		for _, p := range b.Points(i) {
			if !math.IsNaN(p[1]) {
				out.Curves[i].Points = append(out.Curves[i].Points, p)
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
