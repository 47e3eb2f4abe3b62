package cli

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
	"fay/joints/result"
	"fay/render"
	"fay/render/plot"
)

// Bounds of the rows of a sweep.
const (
	leastSteps = 2
	mostSteps  = 60
)

// sweep is a row of answers over one value.
type sweep struct {
	h      *heating
	name   string
	unit   string
	from   float64
	to     float64
	scale  float64 // what a value in unit is multiplied by to be used
	points []string
	rows   []sweepRow
}

// sweepRow is the answer at one value.
type sweepRow struct {
	x      float64
	answer *heat.Result // nil where the value does not change it
	window *heat.Window // nil in a sweep of power
	toes   [2]float64   // W
	peaks  []float64    // °C of the points, in a sweep of power
	melted float64      // mm² of base metal, in a sweep of power
}

// sweepResult is the JSON of a sweep.
type sweepResult struct {
	Schema   string        `json:"schema"`
	Weld     string        `json:"weld"`
	Of       string        `json:"of"`
	Unit     string        `json:"unit,omitempty"`
	Rows     []sweepRecord `json:"rows"`
	Notes    []string      `json:"notes"`
	Cautions []string      `json:"cautions"`
}

type sweepRecord struct {
	Value        float64      `json:"value"`
	DemandIndex  *float64     `json:"demand_index,omitempty"`
	AimShare     *[2]float64  `json:"aim_share,omitempty"`
	RootNetW     *float64     `json:"root_net_w,omitempty"`
	RootCurrentA *float64     `json:"root_current_a,omitempty"`
	FieldRootW   *float64     `json:"field_root_w,omitempty"`
	FieldToesW   *[2]float64  `json:"field_toes_w,omitempty"`
	FieldEdgeW   *float64     `json:"field_edge_w,omitempty"`
	Empty        *bool        `json:"window_empty,omitempty"`
	Peaks        []sweepPlace `json:"peaks,omitempty"`
	MeltedMM2    *float64     `json:"melted_base_mm2,omitempty"`
}

type sweepPlace struct {
	Name  string  `json:"name"`
	PeakC float64 `json:"peak_c"`
}

func (a *app) runSweep(h *heating, o *heatOptions, form format, to string) error {
	if o.steps < leastSteps || o.steps > mostSteps {
		return usage(fmt.Sprintf("--steps %d: must lie between %d and %d", o.steps, leastSteps, mostSteps), "9 shows the run of a curve")
	}
	s, err := h.newSweep(o.sweep)
	if err != nil {
		return err
	}
	if err := s.run(o.steps); err != nil {
		return err
	}
	if to != "" {
		d, err := s.diagram()
		if err != nil {
			return err
		}
		if err := a.writeHeat(d, h, o, to, "heat of a joint"); err != nil || o.output == "-" {
			return err
		}
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, s.result())
	case asCSV:
		t := s.table(func(v float64, _ int) string { return plain(&v) }, false)
		err = t.csv(&out)
	default:
		s.print(&out, form)
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

// newSweep reads name=from..to.
func (h *heating) newSweep(text string) (*sweep, error) {
	hint := "write --sweep speed=150..350, or power, aim, thickness, or a size of the joint"
	name, ends, ok := strings.Cut(text, "=")
	lo, hi, ranged := strings.Cut(ends, "..")
	if !ok || !ranged {
		return nil, usage(fmt.Sprintf("--sweep %q: is not name=from..to", text), hint)
	}
	s := &sweep{h: h, name: strings.TrimSpace(name), scale: 1}
	read := func(text string) (float64, error) { // lengths
		l, err := geometry.ParseLength(strings.TrimSpace(text), geometry.LengthSyntax{Bare: h.bare})
		return float64(l) / s.scale, err
	}
	switch s.name {
	case "power":
		s.unit = "W"
	case "speed":
		s.unit, s.scale = "mm/min", 1./60
		read = func(text string) (float64, error) {
			v, err := parseSpeed(text)
			return v * 60, err
		}
	case "aim":
		s.unit = "%"
	default:
		if s.name == "thickness" {
			s.name = h.feetNames()[0]
		}
		if _, err := h.changed(s.name, 1); err != nil {
			return nil, usage(fmt.Sprintf("--sweep %s: is not a value that can be swept", s.name), hint)
		}
		s.unit = "mm"
		if h.doc.Units == geometry.UnitInch {
			s.unit, s.scale = "in", float64(geometry.Inch)
		}
	}
	if s.name == "power" || s.name == "aim" {
		read = func(text string) (float64, error) {
			r := heatReader{h: h, values: heatValues{"v": strings.TrimSpace(text)}}
			v, ok := r.number("v", s.unit)
			if !ok {
				return 0, fmt.Errorf("is not a number")
			}
			return v, nil
		}
	}
	for _, end := range []struct {
		text string
		to   *float64
	}{{lo, &s.from}, {hi, &s.to}} {
		v, err := read(end.text)
		if err != nil {
			return nil, usage(fmt.Sprintf("--sweep %s: %s %s", text, strings.TrimSpace(end.text), sweepReason(err)), hint)
		}
		*end.to = v
	}
	switch {
	case !(s.from < s.to):
		return nil, usage(fmt.Sprintf("--sweep %s: must end above where it begins", text), hint)
	case s.name == "aim" && (s.from < 0 || s.to > 100):
		return nil, usage(fmt.Sprintf("--sweep %s: the aim lies between 0 and 100 %% of the face", text), hint)
	case s.name != "aim" && !(s.from > 0) || s.name == "power" && s.to > heat.PowerRange.Max:
		return nil, usage(fmt.Sprintf("--sweep %s: must begin above zero, and a power end below 1 MW", text), hint)
	}
	return s, nil
}

func sweepReason(err error) string {
	if _, ok := err.(*geometry.ParseError); ok { //nolint:errorlint // made just above, never wrapped
		return "is not a length"
	}
	return err.Error()
}

// changed is the joint with one size changed, a length in mm: the thickness of a
// member, a parameter of the joint, or one of the weld.
func (h *heating) changed(name string, mm float64) (joints.Input, error) {
	in := h.doc.Input
	value := joints.Value{Text: decimal(mm, 3), Number: mm, List: []float64{mm, mm}}
	kind, ok := joints.LookupKind(in.Kind)
	if !ok {
		return in, fmt.Errorf("%s is no kind of joint", in.Kind)
	}
	if p, ok := in.Plates[name]; ok {
		in.Plates = maps.Clone(in.Plates)
		p.Thickness = value
		in.Plates[name] = p
		return in, nil
	}
	if p, ok := kind.Param(name); ok && isLength(p) {
		in.Values = with(in.Values, name, value)
		return in, nil
	}
	id := h.weld().ID
	if slot, ok := kind.Slot(id); ok {
		if p, ok := slot.Param(name); ok && isLength(p) {
			in.Welds = maps.Clone(in.Welds)
			in.Welds[id] = with(in.Welds[id], name, value)
			return in, nil
		}
	}
	return in, fmt.Errorf("%s is no length of this joint", name)
}

func isLength(p *joints.Param) bool {
	return p.Type == joints.ParamLength || p.Type == joints.ParamLengths
}

func with(m map[string]joints.Value, name string, v joints.Value) map[string]joints.Value {
	out := map[string]joints.Value{name: v}
	for k, old := range m {
		if k != name {
			out[k] = old
		}
	}
	return out
}

// run computes every row.
func (s *sweep) run(steps int) error {
	if s.name == "power" {
		return s.powers(steps)
	}
	for i := range steps {
		x := s.from + (s.to-s.from)*float64(i)/float64(steps-1)
		in, params := s.h.in, s.h.params
		switch s.name {
		case "speed":
			in.Arc.Speed = x * s.scale
		case "aim":
			params.AimShift = x/100 - 0.5
		default:
			changed, err := s.h.changed(s.name, x*s.scale)
			if err != nil {
				return err
			}
			section, err := joints.Build(changed)
			if err != nil {
				return usage(fmt.Sprintf("--sweep: at %s %s %s: %s", s.name, decimal(x, 3), s.unit, reason(err)), "end the sweep where the joint can still be made")
			}
			in.Section = &section
		}
		row, err := s.row(x, in, params)
		if err != nil {
			return err
		}
		s.rows = append(s.rows, row)
	}
	return nil
}

func (s *sweep) row(x float64, in heat.Input, params heat.FieldParams) (sweepRow, error) {
	answer, err := heat.Answer(in)
	if err != nil {
		return sweepRow{}, s.h.refused(err)
	}
	field, err := s.field(in, params)
	if err != nil {
		return sweepRow{}, err
	}
	r := sweepRow{x: x, answer: &answer, window: &field.Window}
	k := 0
	for i := range field.Points {
		if field.Points[i].Kind == heat.ToePoint && k < 2 {
			r.toes[k] = field.Points[i].Power
			k++
		}
	}
	return r, nil
}

// field solves the section, with the balanced aim where that is asked for.
func (s *sweep) field(in heat.Input, params heat.FieldParams) (*heat.Field, error) {
	field, err := heat.NewField(in, params)
	if err == nil && s.h.balanced && s.name != "aim" {
		var aim heat.Aim
		if aim, err = field.Balance(); err == nil && aim.Found {
			params.AimShift = aim.Shift
			field, err = heat.NewField(in, params)
		}
	}
	if err != nil {
		return nil, s.h.refused(err)
	}
	return field, nil
}

// powers takes one field at many powers.
func (s *sweep) powers(steps int) error {
	h := s.h
	field, err := s.field(h.in, h.params)
	if err != nil {
		return err
	}
	for i := range field.Points {
		s.points = append(s.points, field.Points[i].Name)
	}
	for i := range steps {
		x := s.from + (s.to-s.from)*float64(i)/float64(steps-1)
		p, err := field.At(x, nil)
		if err != nil {
			return h.refused(err)
		}
		row := sweepRow{x: x}
		for k := range p.Points {
			row.peaks = append(row.peaks, p.Points[k].Peak)
		}
		for _, m := range p.Melted {
			if !strings.HasSuffix(m.Name, " weld") {
				row.melted += m.Area
			}
		}
		s.rows = append(s.rows, row)
	}
	return nil
}

// table lists the rows; show prints a number with so many decimals. On wish °F
// stand beside °C.
func (s *sweep) table(show func(v float64, decimals int) string, fahrenheit bool) table {
	t := table{heads: []string{s.name + ", " + s.unit}}
	if s.name == "power" {
		unit := ", °C"
		if fahrenheit {
			unit = ", °C (°F)"
		}
		for _, p := range s.points {
			t.heads = append(t.heads, p+unit)
		}
		t.heads = append(t.heads, "base metal melted, mm²")
		for i := range s.rows {
			r := &s.rows[i]
			cells := []string{show(r.x, 0)}
			for _, p := range r.peaks {
				text := show(p, 0)
				if fahrenheit {
					text += " (" + show(heat.ToFahrenheit(p), 0) + ")"
				}
				cells = append(cells, text)
			}
			t.add(append(cells, show(r.melted, 1))...)
		}
		return t
	}
	names := s.h.feetNames()
	t.heads = append(t.heads, "index", names[0]+" takes, %", "root, W", "root, A", "field: root, W", names[0]+" toe, W", names[1]+" toe, W", "edge lost, W", "window")
	for i := range s.rows {
		r := &s.rows[i]
		edge := ""
		if r.window.Edge > 0 {
			edge = show(r.window.Edge, 0)
		}
		t.add(show(r.x, 3), show(r.answer.Index.Value, 2), show(100*r.answer.Members[0].AimShare, 0), show(r.answer.Root.Net, 0), show(r.answer.Root.Amps.Nominal, 0),
			show(r.window.Root, 0), show(r.toes[0], 0), show(r.toes[1], 0), edge, windowWord(r.window))
	}
	return t
}

func windowWord(w *heat.Window) string {
	switch {
	case w.Empty:
		return "empty"
	case w.Cold:
		return "cold toe"
	}
	return "open"
}

func (s *sweep) print(w *bytes.Buffer, f format) {
	h := s.h
	heading := h.doc.Section.Title + ": heat of the " + h.weld().ID + " weld over " + s.name
	if f == asMD {
		printf(w, "# %s\n\n", heading)
	} else {
		printf(w, "%s\n", heading)
	}
	printf(w, "%s\n\n", strings.Join(h.given(h.quantities()), ", "))
	t := s.table(decimal, s.h.in.Fahrenheit)
	t.in(f, w)
	tail(w, f, append(h.allNotes(), unproven), s.cautions())
}

// cautions are those of the joint as it was given.
func (s *sweep) cautions() []string {
	out := result.Cautions(&s.h.doc.Section, nil)
	if answer, err := heat.Answer(s.h.in); err == nil {
		out = append(out, answer.Cautions...)
	}
	return out
}

func (s *sweep) result() sweepResult {
	res := sweepResult{Schema: "fay.heat-sweep/1", Weld: s.h.weld().ID, Of: s.name, Unit: s.unit, Rows: []sweepRecord{}, Notes: append(s.h.allNotes(), unproven), Cautions: s.cautions()}
	for i := range s.rows {
		r := &s.rows[i]
		rec := sweepRecord{Value: r.x}
		if r.answer != nil {
			a := r.answer
			rec.DemandIndex, rec.AimShare = &a.Index.Value, &[2]float64{a.Members[0].AimShare, a.Members[1].AimShare}
			rec.RootNetW, rec.RootCurrentA = &a.Root.Net, &a.Root.Amps.Nominal
		}
		if w := r.window; w != nil {
			rec.FieldRootW, rec.FieldToesW, rec.FieldEdgeW, rec.Empty = &w.Root, &r.toes, some(w.Edge), &w.Empty
		}
		for k, p := range r.peaks {
			rec.Peaks = append(rec.Peaks, sweepPlace{s.points[k], p})
		}
		if r.peaks != nil {
			rec.MeltedMM2 = &r.melted
		}
		res.Rows = append(res.Rows, rec)
	}
	return res
}

// diagram draws powers, or temperatures, over the value.
func (s *sweep) diagram() (*render.Drawing, error) {
	h := s.h
	style := h.plotStyle()
	marker := style.Numbers.Decimal
	l := plot.Lines{
		Sheet: plot.Sheet{
			Title:    h.title() + ", heat of the " + h.weld().ID + " weld",
			Subtitle: marked(strings.Join(h.given(h.quantities()), ", "), marker),
			Notes:    append(append(s.h.allNotes(), s.cautions()[1:]...), unproven), Foot: style.Word("field.digest") + " " + h.doc.Digest[:shortDigest],
		},
		X: plot.Axis{Label: s.name, Unit: s.unit},
		Y: plot.Axis{Label: "net power", Unit: "W", Zero: true},
	}
	add := func(label string, of func(*sweepRow) float64) {
		c := plot.Curve{Label: label}
		for i := range s.rows {
			y := of(&s.rows[i])
			if y <= 0 {
				y = math.NaN()
			}
			c.Points = append(c.Points, geometry.Point{X: s.rows[i].x, Y: y})
		}
		l.Curves = append(l.Curves, c)
	}
	if s.name == "power" {
		l.X.Label, l.Y = "net power", plot.Axis{Label: "peak temperature", Unit: "°C", Zero: true}
		last := s.rows[len(s.rows)-1].peaks
		curve := map[float64]int{} // faces that touch give both roots one place
		for k, name := range s.points {
			if c, same := curve[last[k]]; same {
				l.Curves[c].Label += ", " + name
				continue
			}
			curve[last[k]] = len(l.Curves)
			add(name, func(r *sweepRow) float64 { return r.peaks[k] })
		}
		liquidus := [2]float64{h.metal(0).Liquidus, h.metal(1).Liquidus}
		l.Limits = append(l.Limits, plot.Limit{Label: "liquidus " + h.celsius(liquidus[0]), At: liquidus[0], Level: true})
		if liquidus[1] != liquidus[0] {
			l.Limits = append(l.Limits, plot.Limit{Label: "liquidus " + h.celsius(liquidus[1]), At: liquidus[1], Level: true})
		}
	} else {
		names := h.feetNames()
		add("root melts", func(r *sweepRow) float64 { return r.window.Root })
		add(names[0]+" toe melts", func(r *sweepRow) float64 { return r.toes[0] })
		add(names[1]+" toe melts", func(r *sweepRow) float64 { return r.toes[1] })
		lost := ""
		for i := range s.rows {
			if s.rows[i].window.Lost != "" {
				lost = s.rows[i].window.Lost
			}
		}
		if lost != "" {
			add(lost+" lost", func(r *sweepRow) float64 { return r.window.Edge })
		}
	}
	d, err := l.Draw(&style, h.plotPage())
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return d, nil
}
