package cli

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
	"fay/joints/macro"
	"fay/joints/result"
)

// Bounds and steps of the spots a calibration looks through, mm, as standard
// deviations: from a needle to a wide pool.
const (
	leastSpot   = 0.5
	mostSpot    = 5.
	spotSteps   = 7
	spotRounds  = 2
	powerSteps  = 24
	leastSpread = 0.05 // mm, differences of depth that a section is read to
	// fusedThrough is the part of a thickness from which a plate counts as
	// fused through.
	fusedThrough = 0.95
)

// fusion is what the cut-and-etch log says of the depth fused into each member.
type fusion struct {
	count int
	depth [2]float64 // mm, means
	each  [2]int     // how many measurements the means are of
	known [2]bool
	rms   float64 // mm, of the measurements about their means
	// scatter of one measurement, mm, and how many of them are left to tell it.
	scatter float64
	free    int
}

// calibration is the arc that fuses as deep as was measured.
type calibration struct {
	Schema     string  `json:"schema"`
	Weld       string  `json:"weld"`
	Sections   int     `json:"sections"`
	Process    string  `json:"process"`
	Efficiency float64 `json:"efficiency"`
	SpotMM     float64 `json:"spot_mm"`
	SpotFitted bool    `json:"spot_fitted"`
	// The ranges that hold the true value in 95 of 100 such fits; absent where
	// the sections are too few.
	EfficiencyRange *[2]float64 `json:"efficiency_range,omitempty"`
	SpotRange       *[2]float64 `json:"spot_range_mm,omitempty"`
	NetW            float64     `json:"net_w"`
	ArcW            float64     `json:"arc_w"`
	Depths          []depth     `json:"depths"`
	ResidualMM      float64     `json:"residual_mm"`
	ScatterMM       float64     `json:"scatter_mm"`
	Notes           []string    `json:"notes"`
	CautionList     []string    `json:"cautions"`
	Stored          *stored     `json:"stored,omitempty"` // absent where it was not asked for

	doubtful bool // no arc of the model fits: not worth keeping
}

type depth struct {
	Member     string  `json:"member"`
	MeasuredMM float64 `json:"measured_mm"`
	FittedMM   float64 `json:"fitted_mm"`
}

// runCalibrate fits efficiency and spot of the arc to the fusion depths of a
// log.
func (a *app) runCalibrate(h *heating, o *heatOptions, form format) error {
	w := h.weld()
	switch {
	case h.in.Arc.Amps == 0:
		return usage("--calibrate needs the current the sections were welded with", "add amps=…, volts=… and speed=…")
	case w.Kind != joints.FilletWeld:
		return usage("--calibrate works on fillet welds: the depth fused is counted from the members' surfaces", "leave it out for this joint")
	case h.calibration != nil:
		return usage("--calibrate with calibrated values: they would be fitted to themselves", "leave calibrated out")
	case h.balanced:
		return usage("--calibrate with aim=balanced: the aim is what the welder held", "give the aim in percent, or leave it out for 50")
	}
	machine, err := h.keeper(o.store)
	if err != nil {
		return err
	}
	measured, notes, err := h.readFusion(o.calibrate)
	if err != nil {
		return err
	}
	c, err := h.calibrate(measured)
	if err != nil {
		return err
	}
	c.Notes = append(notes, c.Notes...)
	var unkept error
	block := ""
	if o.store != "" {
		block, unkept = a.keep(&c, h, machine)
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, c)
	case asCSV:
		t := table{heads: []string{"name", "value", "unit"}}
		for _, l := range c.lines() {
			t.add(l.name, plain(&l.value), l.unit)
		}
		err = t.csv(&out)
	default:
		c.print(&out, form, h)
		if block != "" {
			heading(&out, form, "To paste into the settings file")
			printf(&out, "%s", fenced(form, block))
		}
	}
	if err != nil {
		return err
	}
	if err := a.print(out.Bytes()); err != nil {
		return err
	}
	return unkept
}

// readFusion takes the fusion depths of this joint's weld out of a log.
func (h *heating) readFusion(path string) (fusion, []string, error) {
	kind, ok := macro.LogFormatOf(path)
	if !ok {
		return fusion{}, nil, usage(path+": is not a log by its ending", "a log ends in .csv or .jsonl; `fay macro --log` writes one")
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return fusion{}, nil, usage(path+": cannot be read", "check the name and its permissions; `fay macro --log` writes a log")
	}
	log, err := macro.ReadLog(path, kind, data)
	if err != nil {
		return fusion{}, nil, err
	}
	var notes []string
	if len(log.Damaged) > 0 {
		notes = append(notes, fmt.Sprintf("%d lines of the log cannot be read and were left out", len(log.Damaged)))
	}
	var f fusion
	var all [2][]float64
	for i := range log.Entries {
		e := &log.Entries[i]
		if e.Digest != h.doc.Digest || e.Weld != h.weld().ID {
			continue
		}
		used := false
		for k, id := range [2]string{"fusion-a", "fusion-b"} {
			if it, ok := e.Item(id); ok {
				all[k] = append(all[k], it.Measured)
				used = true
			}
		}
		if used {
			f.count++
		}
	}
	if f.count == 0 {
		return f, nil, usage(fmt.Sprintf("%s: no entry of this joint's %s weld has a fusion depth", path, h.weld().ID),
			"entries belong to a joint by its digest, "+h.doc.Digest[:shortDigest]+"…; give the joint as it was when the records were made")
	}
	squares, n := 0., 0
	for k, list := range all {
		if len(list) == 0 {
			continue
		}
		for _, v := range list {
			f.depth[k] += v / float64(len(list))
		}
		// Depths that tell only "less than" or "more than" fix nothing.
		name := h.feetNames()[k]
		switch through := float64(h.doc.Section.Members[h.feet()[k]].Thickness); {
		case f.depth[k] <= 0:
			notes = append(notes, "the "+name+" is not fused: its depth was left out of the fit")
		case f.depth[k] >= fusedThrough*through:
			notes = append(notes, "the "+name+" is fused through: its depth was left out of the fit")
		default:
			f.known[k] = true
		}
		f.each[k] = len(list)
		for _, v := range list {
			squares += (v - f.depth[k]) * (v - f.depth[k])
			n++
		}
		f.free += len(list) - 1
	}
	if f.known == [2]bool{} {
		return f, nil, usage(path+": "+strings.Join(notes, "; "), "the fit needs a section that is fused part of the way")
	}
	f.rms = math.Sqrt(squares / float64(n))
	f.scatter = leastSpread
	if f.free > 0 {
		f.scatter = max(f.scatter, math.Sqrt(squares/float64(f.free)))
	}
	return f, notes, nil
}

// trial is the best efficiency for one spot.
type trial struct {
	spot, efficiency, miss float64
	depth                  [2]float64
}

// calibrate looks for the spot, and for each the efficiency, that fuse as deep
// as was measured. One depth alone fixes the efficiency, not the spot.
func (h *heating) calibrate(m fusion) (calibration, error) {
	lo, hi := leastSpot, mostSpot
	both := m.known[0] && m.known[1]
	steps, rounds := spotSteps, spotRounds
	if !both {
		lo, hi = float64(h.in.Arc.Spot), float64(h.in.Arc.Spot)
		steps, rounds = 1, 1
	}
	best := trial{miss: math.Inf(1)}
	for range rounds {
		ratio := 1.
		if steps > 1 {
			ratio = math.Pow(hi/lo, 1/float64(steps-1))
		}
		for i := range steps {
			t, err := h.try(m, lo*math.Pow(ratio, float64(i)))
			if err != nil {
				return calibration{}, err
			}
			if t.miss < best.miss {
				best = t
			}
		}
		lo, hi = max(leastSpot, best.spot/ratio), min(mostSpot, best.spot*ratio)
	}
	g, err := h.givenArc()
	if err != nil {
		return calibration{}, err
	}
	c := calibration{
		Schema: "fay.heat-calibration/1", Weld: h.weld().ID, Process: string(h.in.Arc.Process), Sections: m.count, Efficiency: best.efficiency, SpotMM: best.spot, SpotFitted: both,
		ArcW: g, NetW: g * best.efficiency, ResidualMM: best.miss, ScatterMM: m.rms, Notes: []string{},
	}
	for k, name := range h.feetNames() {
		if m.known[k] {
			c.Depths = append(c.Depths, depth{name, m.depth[k], best.depth[k]})
		}
	}
	if !both {
		c.Notes = append(c.Notes, "one member's depth alone fixes the efficiency; the spot was taken as "+decimal(best.spot, 2)+" mm")
	}
	if best.efficiency > 0.99 || best.efficiency < 0.06 || both && (best.spot < leastSpot*1.02 || best.spot > mostSpot/1.02) {
		c.Notes = append(c.Notes, "the fit ran to the end of its range: check amps, volts, speed and aim")
		c.doubtful = true
	}
	if best.miss > max(2*m.rms, 4*leastSpread) {
		c.Notes = append(c.Notes, "no arc of this model fuses as measured: the aim, a gap or a stirred pool differ from what was assumed")
		c.doubtful = true
	}
	if err := h.interval(&c, m, best); err != nil {
		return calibration{}, err
	}
	c.CautionList = append([]string{}, heatCalibrationCautions...)
	return c, nil
}

var heatCalibrationCautions = []string{
	"Every section is taken as welded with the current, voltage, speed and aim given here: the log does not hold them.",
	"The fit takes up whatever the model leaves out, a stirred pool above all: it holds for this joint, this arc and speeds near this one.",
	"Conduction estimate: run a test piece. The local code and a qualified procedure decide.",
}

// givenArc is the power of the arc as set, W.
func (h *heating) givenArc() (float64, error) {
	r, err := heat.Answer(h.in)
	if err != nil {
		return 0, h.refused(err)
	}
	return r.Given.Arc, nil
}

// try finds the efficiency for a spot: depths grow with power, so that the miss
// has one lowest place, found by dividing in thirds.
func (h *heating) try(m fusion, spot float64) (trial, error) {
	arc, err := h.givenArc()
	if err != nil {
		return trial{}, err
	}
	field, err := h.spotField(spot)
	if err != nil {
		return trial{}, err
	}
	at := func(efficiency float64) (trial, error) {
		t := trial{spot: spot, efficiency: efficiency}
		if t.depth, err = h.fused(field, arc*efficiency); err != nil {
			return t, err
		}
		squares, n := 0., 0.
		for k := range 2 {
			if m.known[k] {
				squares += (t.depth[k] - m.depth[k]) * (t.depth[k] - m.depth[k])
				n++
			}
		}
		t.miss = math.Sqrt(squares / n)
		return t, nil
	}
	lo, hi := heat.EfficiencyRange.Min, heat.EfficiencyRange.Max
	for range powerSteps {
		a, err := at(lo + (hi-lo)/3)
		if err != nil {
			return trial{}, err
		}
		b, err := at(hi - (hi-lo)/3)
		if err != nil {
			return trial{}, err
		}
		// Where nothing melts yet both miss alike: more power.
		if a.miss < b.miss {
			hi = b.efficiency
		} else {
			lo = a.efficiency
		}
	}
	return at((lo + hi) / 2)
}

// spotField is the field under a spot of that size, mm.
func (h *heating) spotField(spot float64) (*heat.Field, error) {
	in := h.in
	in.Arc.Spot = geometry.Length(spot)
	field, err := heat.NewField(in, h.params)
	if err != nil {
		return nil, h.refused(err)
	}
	return field, nil
}

// fused are the depths fused into both members at a net power, W.
func (h *heating) fused(field *heat.Field, power float64) (depth [2]float64, err error) {
	p, err := field.At(power, []float64{h.metal(0).Liquidus, h.metal(1).Liquidus})
	if err != nil {
		return depth, h.refused(err)
	}
	return [2]float64{h.fusedDepth(&p.Isotherms[0], 0), h.fusedDepth(&p.Isotherms[1], 1)}, nil
}

// fusedDepth is how deep the line of its liquidus reaches into a member, square
// to its surface, mm; 0 where the member stays solid.
func (h *heating) fusedDepth(liquidus *heat.Isotherm, foot int) float64 {
	w := h.weld()
	f := w.Feet[foot]
	into := f.Toe.Sub(w.JointRoot).Perp().Unit()
	if into.Dot(w.Centroid.Sub(w.JointRoot)) > 0 {
		into = into.Scale(-1)
	}
	member := &h.doc.Section.Members[f.Member]
	most := 0.
	for _, l := range liquidus.Lines {
		for _, q := range l {
			d := q.Sub(w.JointRoot).Dot(into)
			if d > most && (member.Outline.Locate(q) != geometry.Outside || member.Outline.Distance(q) < 0.02) {
				most = d
			}
		}
	}
	return most
}

func (c *calibration) lines() []heatLine {
	out := []heatLine{{"efficiency", c.Efficiency, ""}}
	if w := c.EfficiencyRange; w != nil {
		out = append(out, heatLine{"efficiency, 95 % interval from", w[0], ""}, heatLine{"efficiency, 95 % interval to", w[1], ""})
	}
	out = append(out, heatLine{"spot", c.SpotMM, "mm"})
	if w := c.SpotRange; w != nil {
		out = append(out, heatLine{"spot, 95 % interval from", w[0], "mm"}, heatLine{"spot, 95 % interval to", w[1], "mm"})
	}
	out = append(out, []heatLine{{"net power", c.NetW, "W"}, {"arc power", c.ArcW, "W"}}...)
	for _, d := range c.Depths {
		out = append(out, heatLine{"fusion in " + d.Member + ", measured", d.MeasuredMM, "mm"}, heatLine{"fusion in " + d.Member + ", fitted", d.FittedMM, "mm"})
	}
	return append(out, heatLine{"residual", c.ResidualMM, "mm"}, heatLine{"scatter of the sections", c.ScatterMM, "mm"}, heatLine{"sections", float64(c.Sections), ""})
}

func (c *calibration) print(w *bytes.Buffer, f format, h *heating) {
	title := "Arc fitted to the fusion depth of " + fmt.Sprint(c.Sections) + " sections"
	if c.Sections == 1 {
		title = "Arc fitted to the fusion depth of one section"
	}
	if f == asMD {
		printf(w, "# %s\n\n", title)
	} else {
		printf(w, "%s\n", title)
	}
	what := "efficiency and spot"
	if !c.SpotFitted {
		what = "efficiency"
	}
	printf(w, "The %s weld of %s fuses as measured with this %s of %s: efficiency=%s spot=%smm\n", c.Weld, h.doc.Section.Title, what, c.Process,
		decimal(c.Efficiency, 3), decimal(c.SpotMM, 2))
	if e := c.EfficiencyRange; e != nil {
		printf(w, "In 95 of 100 such fits the efficiency lies within %s and %s", decimal(e[0], 3), decimal(e[1], 3))
		if p := c.SpotRange; p != nil {
			printf(w, ", the spot within %s and %s mm", decimal(p[0], 2), decimal(p[1], 2))
		}
		printf(w, ".\n")
	}
	printf(w, "\n")
	t := table{heads: []string{"", ""}}
	if f == asMD {
		t.heads = []string{"what", "value"}
	}
	for _, l := range c.lines() {
		t.add(l.name, significant(l.value)+unitText(l.unit))
	}
	t.in(f, w)
	tail(w, f, c.Notes, c.CautionList)
}
