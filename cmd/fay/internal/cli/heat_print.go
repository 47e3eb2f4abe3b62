package cli

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/joints"
	"fay/joints/heat"
	"fay/joints/result"
)

// unproven is what every answer on heat ends with.
const unproven = "Checked against finite elements and closed solutions only: no measured section of an aluminium TIG fillet with amps, volts, speed and fusion line was at hand."

// softFrom is the peak temperature from which heat-treated aluminium is counted
// as softened.
const softFrom = 200.

// contract is the result in JSON.
func (h *heating) contract() result.Result {
	res := result.New(result.Parts{Section: &h.doc.Section, Seams: h.doc.Seams, Totals: h.doc.Runs, Digest: h.doc.Digest, Notes: append(h.allNotes(), unproven)})
	var f *result.HeatField
	if h.field != nil {
		f = result.NewHeatField(h.field, &h.picture, h.aim)
	}
	res.Heat = result.NewHeat(&h.in, &h.answer, f)
	res.Cautions = append(res.Cautions, h.answer.Cautions...)
	return res
}

// sources are those of the answer and of the field.
func (h *heating) sources() []heat.Basis {
	out := h.answer.Basis
	if h.field != nil {
		out = append(slices.Clone(out), heat.Basis{What: "field", Source: h.field.Source})
	}
	return out
}

// print prints the answer for people: the words first, then the numbers.
func (h *heating) print(w *bytes.Buffer, f format) {
	q := h.quantities()
	s := &h.doc.Section
	if f == asMD {
		printf(w, "# %s\n\n", s.Title)
	} else {
		printf(w, "%s\n", s.Title)
	}
	printf(w, "%s\n", strings.Join(h.given(q), ", "))
	heading(w, f, "Heat of the "+h.answer.Weld+" weld")
	bullets(w, f, h.words())
	if h.field != nil {
		heading(w, f, "In the section")
		bullets(w, f, h.fieldWords(q))
		bullets(w, f, h.remains(q))
	}
	heading(w, f, "Members")
	h.membersTable(q).in(f, w)
	heading(w, f, "Numbers")
	t := table{heads: []string{"", "value"}}
	for _, l := range h.lines() {
		text := significant(l.value) + unitText(l.unit)
		if l.unit == "°C" {
			text = h.celsius(l.value)
		}
		t.add(l.name, text)
	}
	if f == asText {
		t.heads[1] = ""
	}
	t.in(f, w)
	if h.field != nil {
		heading(w, f, "Peak temperatures at "+watts(h.picture.Power)+" in the work")
		h.pointsTable().in(f, w)
		printf(w, "\n")
		h.isothermTable(q).in(f, w)
	}
	heading(w, f, "Taken")
	taken := table{heads: []string{"what", "value", "from"}}
	for _, x := range h.taken {
		taken.add(x.name, x.value, x.from)
	}
	taken.in(f, w)
	heading(w, f, "Sources")
	sources := table{heads: []string{"of", "source", "values"}}
	for _, b := range h.sources() {
		sources.add(b.What, b.Source.Text, string(b.Source.Provenance))
	}
	sources.in(f, w)
	res := h.contract()
	tail(w, f, res.Notes, res.Cautions)
}

// words are those of the answer with the range of current, which stands before
// what is said of the machine.
func (h *heating) words() []string {
	at := slices.IndexFunc(h.answer.Lines, func(l string) bool { return strings.HasPrefix(l, "the root melts at ") })
	if at < 0 {
		return h.answer.Lines
	}
	a := h.answer.Root.Amps
	return slices.Insert(slices.Clone(h.answer.Lines), at+1,
		fmt.Sprintf("the root asks for %s to %s A, as the arc's efficiency turns out", decimal(a.Low, 0), decimal(a.High, 0)))
}

func bullets(w *bytes.Buffer, f format, lines []string) {
	mark := "  "
	if f == asMD {
		mark = "- "
	}
	for _, l := range lines {
		printf(w, "%s%s\n", mark, l)
	}
}

func unitText(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// toDigits is a number to so many digits, 0 for what is not above zero.
func toDigits(v float64, digits int) float64 {
	if v <= 0 {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(v))+1-float64(digits))
	return math.Round(v/step) * step
}

// watts prints a power to three digits: no more is known.
func watts(v float64) string { return decimal(toDigits(v, 3), 1) + " W" }

// tenth rounds a distance to what the field is good for, mm.
func tenth(mm float64) float64 { return math.Round(10*mm) / 10 }

func celsius(v float64) string { return heat.Degrees(v, false) }

// celsius prints a temperature for people: °F stands beside it where the joint
// is in inches.
func (h *heating) celsius(v float64) string { return heat.Degrees(v, h.in.Fahrenheit) }

// fieldWords is what the field says, the window first.
func (h *heating) fieldWords(q quantities) []string {
	var out []string
	w := &h.field.Window
	switch {
	case w.Empty:
		out = append(out, fmt.Sprintf("no power is right as it is: the window is empty. The root melts from %s in the work, the %s from %s", watts(w.Root), w.Lost, watts(w.Edge)))
	case w.Edge == 0:
		out = append(out, fmt.Sprintf("the root melts from %s in the work and both toes from %s; no edge is near enough to be lost", watts(w.Root), watts(w.Toes)))
	case w.Cold:
		out = append(out, fmt.Sprintf("the root melts from %s in the work and the %s is lost from %s, before both toes melt at %s", watts(w.Root), w.Lost, watts(w.Edge), watts(w.Toes)))
	default:
		out = append(out, fmt.Sprintf("between %s, where the root melts, and %s in the work, where the %s is lost, there is a window; both toes melt from %s",
			watts(w.Root), watts(w.Edge), w.Lost, watts(w.Toes)))
	}
	for _, a := range w.Advice {
		out = append(out, "advice: "+a)
	}
	names := h.feetNames()
	if a := h.aim; a.Found {
		out = append(out, fmt.Sprintf("balanced aim: %s %% of the face from the %s's toe to the %s's; there both toes melt from %s and the root from %s",
			decimal(100*(a.Shift+0.5), 0), names[1], names[0], watts(a.Toes[0]), watts(a.Root)))
	} else {
		out = append(out, "no aim on the face melts both toes at the same power")
	}
	melted := make([]string, 0, len(h.picture.Melted))
	for _, m := range h.picture.Melted {
		melted = append(melted, m.Name+" "+q.area(toDigits(m.Area, 2)))
	}
	out = append(out, fmt.Sprintf("at %s in the work is melted: %s (±20 %% at best)", watts(h.picture.Power), strings.Join(melted, ", ")))
	for foot := range 2 {
		if line := h.softened(q, foot); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// remains tells what stays solid behind the fused metal of a fillet, and what
// the leg leaves of an edge it stands on. On a sheet the picture shows it.
func (h *heating) remains(q quantities) []string {
	w := h.weld()
	if w.Kind != joints.FilletWeld {
		return nil
	}
	var parts []string
	for foot, name := range h.feetNames() {
		f := w.Feet[foot]
		if f.OnEdge {
			if e := f.EdgeRemaining; e.Present && e.Value <= 0 {
				parts = append(parts, "the leg takes the whole edge of the "+name)
			} else if e.Present {
				parts = append(parts, "the leg leaves "+q.length(float64(e.Value))+" of the "+name+"'s edge")
			}
			continue
		}
		solid := h.solidBehind(foot)
		if solid <= 0 {
			parts = append(parts, "the "+name+" is fused through")
			continue
		}
		parts = append(parts, q.length(solid)+" of the "+name+" stay solid behind the weld")
	}
	return []string{strings.Join(parts, ", ")}
}

// solidBehind is how much of a member's thickness stays solid, mm.
func (h *heating) solidBehind(foot int) float64 {
	thickness := float64(h.doc.Section.Members[h.feet()[foot]].Thickness)
	for i := range h.picture.Isotherms {
		if iso := &h.picture.Isotherms[i]; iso.Level == h.metal(foot).Liquidus {
			return max(0, tenth(thickness-h.fusedDepth(iso, foot)))
		}
	}
	return thickness
}

func (h *heating) feetNames() [2]string {
	f := h.feet()
	return [2]string{h.doc.Section.Members[f[0]].Name, h.doc.Section.Members[f[1]].Name}
}

// softened tells how wide a heat-treatable aluminium is softened; empty for
// others.
func (h *heating) softened(q quantities, foot int) string {
	m := h.metal(foot)
	if !m.HeatTreatable || m.Family != heat.Aluminium {
		return ""
	}
	for i := range h.picture.Isotherms {
		iso := &h.picture.Isotherms[i]
		if iso.Level != softFrom {
			continue
		}
		name := h.feetNames()[foot]
		if iso.Beyond && iso.Reach[foot] >= h.meshEnd(foot) {
			return fmt.Sprintf("the %s softens (over %s) to beyond %s from its toe", name, h.celsius(softFrom), q.length(tenth(iso.Reach[foot])))
		}
		return fmt.Sprintf("the %s softens (over %s, fay's own choice) to %s from its toe", name, h.celsius(softFrom), q.length(tenth(iso.Reach[foot])))
	}
	return ""
}

// meshEnd is a reach from the toe that counts as the end of the meshed plate.
func (h *heating) meshEnd(foot int) float64 {
	return 5 * float64(h.doc.Section.Members[h.feet()[foot]].Thickness)
}

func (h *heating) membersTable(q quantities) *table {
	t := &table{heads: []string{"member", "metal", "thickness", "ways", "start", "alone", "aim share", "in the end", "plate is"}}
	for i := range h.answer.Members {
		m := &h.answer.Members[i]
		ways := fmt.Sprint(m.Ways)
		if len(m.FreeEdges) > 0 {
			edges := make([]string, len(m.FreeEdges))
			for k, e := range m.FreeEdges {
				edges[k] = q.length(e)
			}
			ways += ", edge at " + strings.Join(edges, ", ")
		}
		t.add(m.Name, h.metal(i).Name, q.length(m.Thickness), ways, h.celsius(m.Start), watts(m.Power),
			decimal(100*m.AimShare, 0)+" %", decimal(100*m.LongRun, 0)+" %", string(m.Regime)+" (τ "+decimal(m.Tau, 2)+")")
	}
	return t
}

func (h *heating) pointsTable() *table {
	t := &table{heads: []string{"place", "peak", "state", "melts from"}}
	for i := range h.picture.Points {
		p := &h.picture.Points[i]
		t.add(p.Name, h.celsius(p.Peak), string(p.State), watts(h.field.Points[i].Power))
	}
	return t
}

func (h *heating) isothermTable(q quantities) *table {
	names := h.feetNames()
	t := &table{heads: []string{"isotherm", "from the toe on " + names[0], "on " + names[1], ""}}
	for i := range h.picture.Isotherms {
		iso := &h.picture.Isotherms[i]
		note := ""
		if iso.Beyond {
			note = "goes on beyond the mesh"
		}
		t.add(h.celsius(iso.Level), q.length(tenth(iso.Reach[0])), q.length(tenth(iso.Reach[1])), note)
	}
	return t
}

// heatLine is one number of the answer.
type heatLine struct {
	name  string
	value float64
	unit  string
}

// lines are the numbers of the answer, for tables and spreadsheets.
func (h *heating) lines() []heatLine {
	r := &h.answer
	var out []heatLine
	add := func(name string, v float64, unit string) { out = append(out, heatLine{name, v, unit}) }
	add("demand index", r.Index.Value, "")
	if r.Index.Thin > 0 {
		add("demand index, thin plates", r.Index.Thin, "")
	}
	add("demand index, thick plates", r.Index.Thick, "")
	add("demand index, equal plates", r.Index.Equal, "")
	add("root power, net", r.Root.Net, "W")
	if r.Root.Model != (heat.Spread{}) {
		add("root power, net, low", r.Root.Model.Low, "W")
		add("root power, net, high", r.Root.Model.High, "W")
	}
	add("root power, arc", r.Root.Arc.Nominal, "W")
	add("root power, arc, low", r.Root.Arc.Low, "W")
	add("root power, arc, high", r.Root.Arc.High, "W")
	add("current for the root", r.Root.Amps.Nominal, "A")
	add("current for the root, low", r.Root.Amps.Low, "A")
	add("current for the root, high", r.Root.Amps.High, "A")
	if g := r.Given; g != nil {
		add("arc power as set", g.Arc, "W")
		add("net power as set", g.Net.Nominal, "W")
	}
	add("heat input, net", r.Heat.NetJPerMM, "J/mm")
	add("heat input, arc", r.Heat.ArcJPerMM, "J/mm")
	add("filler takes", r.Filler.Power, "W")
	add("least power to lay the metal", r.Filler.Floor, "W")
	if p := &r.Preheat; p.Needed {
		add("preheat that would balance the "+p.Heavy, p.Balance, "°C")
	}
	if c := r.Preheat.Ceiling; c != nil {
		add("preheat ceiling of the "+r.Preheat.Heavy, c.Preheat, "°C")
		add("demand index at the ceiling", r.Preheat.IndexAtCeiling, "")
		add("root power at the ceiling, net", r.Preheat.PowerAtCeiling, "W")
	}
	if x := r.T85; x != nil {
		add("t8/5", x.Seconds, "s")
		add("t8/5, shape factor F2", x.F2, "")
		add("t8/5, shape factor F3", x.F3, "")
		if x.Scaled > 0 {
			add("t8/5, of unequal members by the model", x.Scaled, "s")
		}
	}
	add("combined thickness (hydrogen only)", r.CombinedThickness, "mm")
	if h.field == nil {
		return out
	}
	w := &h.field.Window
	add("field: root melts from", w.Root, "W")
	add("field: both toes melt from", w.Toes, "W")
	if w.Edge > 0 {
		add("field: "+w.Lost+" lost from", w.Edge, "W")
	}
	if h.aim.Found {
		add("field: balanced aim", 100*(h.aim.Shift+0.5), "%")
	}
	return out
}

// csv prints every number with its unit; lengths are mm.
func (h *heating) csv(w *bytes.Buffer) error {
	t := table{heads: []string{"name", "of", "value", "unit"}}
	for _, l := range h.lines() {
		t.add(l.name, "", plain(&l.value), l.unit)
	}
	for i := range h.answer.Members {
		m := &h.answer.Members[i]
		for _, l := range []heatLine{
			{"thickness", m.Thickness, "mm"}, {"ways", float64(m.Ways), ""}, {"start", m.Start, "°C"}, {"power alone", m.Power, "W"},
			{"aim share", m.AimShare, ""}, {"long-run share", m.LongRun, ""}, {"relative thickness", m.Tau, ""},
		} {
			t.add(l.name, m.Name, plain(&l.value), l.unit)
		}
	}
	if h.field != nil {
		for i := range h.picture.Points {
			p := &h.picture.Points[i]
			t.add("peak temperature", p.Name, plain(&p.Peak), "°C")
			t.add("melts from", p.Name, plain(&h.field.Points[i].Power), "W")
		}
		for i := range h.picture.Melted {
			m := &h.picture.Melted[i]
			t.add("melted area", m.Name, plain(&m.Area), "mm²")
		}
		names := h.feetNames()
		for i := range h.picture.Isotherms {
			iso := &h.picture.Isotherms[i]
			for k := range 2 {
				t.add("reach of "+celsius(iso.Level), names[k], plain(&iso.Reach[k]), "mm")
			}
		}
	}
	return t.csv(w)
}
