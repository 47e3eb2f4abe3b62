package cli

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
)

// process settles the process; TIG runs on alternating current where a member
// is aluminium.
func (r *heatReader) process() config.ArcProcess {
	text, from := r.values["process"], fromInput
	if text == "" {
		text, from = r.h.doc.Filler.Process, "joint"
	}
	if text == "" {
		text, from = string(r.h.settings.Process), "settings"
	}
	out, err := config.ParseArcProcess(text)
	if err != nil {
		r.fault(joints.FaultUnknown, "process", text, "is not a process on file", "use tig, tig-ac, tig-dc, mig, mma, saw or plasma")
		return ""
	}
	if out == config.ArcProcess(config.GTAW) {
		out = config.ArcTIGDC
		for i := range r.h.in.Members {
			if r.h.in.Members[i].Material.Family == heat.Aluminium {
				out = config.ArcTIGAC
			}
		}
	}
	r.take("process", string(out), from)
	return out
}

// arc settles everything of the arc.
func (r *heatReader) arc() {
	a := &r.h.in.Arc
	process := r.process()
	a.Process = heat.Process(process)
	if v, ok := r.positive("amps", "A", heat.AmpsRange); ok {
		a.Amps = v
		r.take("current", decimal(v, 1)+" A", fromInput)
	}
	r.voltage(process, r.machine(process))
	if !r.calibrated(process) {
		r.efficiency(a.Process)
		r.spot()
	}
	if process != "" {
		r.speed(process.Process())
	}
	if l, ok := r.length("wet"); ok {
		r.h.in.Wet = l
		r.take("leg to be wetted", decimal(float64(l), 2)+" mm", fromInput)
	}
}

// efficiency reads one number, or a range whose middle is taken as nominal.
func (r *heatReader) efficiency(process heat.Process) {
	text, given := r.values["efficiency"]
	if !given {
		e, ok := heat.EfficiencyOf(process)
		if ok {
			r.h.in.Arc.Efficiency = e
			r.take("arc efficiency", fmt.Sprintf("%g (%g to %g)", e.Nominal, e.Low, e.High), fromDefault+", "+e.Source.String())
		} else if process != "" {
			r.fault(joints.FaultMissing, "efficiency", "", "no arc efficiency of "+string(process)+" is on file", "give efficiency=0.8, or a range 0.75..0.85")
		}
		return
	}
	lo, hi, ranged := strings.Cut(text, "..")
	if !ranged {
		hi = lo
	}
	e := heat.Efficiency{Source: heat.Source{Text: "given", Provenance: heat.Shop}}
	for _, p := range []struct {
		text string
		to   *float64
	}{{lo, &e.Low}, {hi, &e.High}} {
		bare, percent := strings.CutSuffix(strings.TrimSpace(p.text), "%")
		v, err := strconv.ParseFloat(strings.TrimSpace(bare), 64)
		if percent {
			v /= 100
		}
		if err != nil || !(v >= heat.EfficiencyRange.Min && v <= heat.EfficiencyRange.Max) {
			r.fault(joints.FaultRange, "efficiency", text, fmt.Sprintf("must lie between %g and %g", heat.EfficiencyRange.Min, heat.EfficiencyRange.Max),
				"write the part that reaches the work: 0.6, 60% or 0.5..0.7")
			return
		}
		*p.to = v
	}
	if e.Low > e.High {
		e.Low, e.High = e.High, e.Low
	}
	e.Nominal = (e.Low + e.High) / 2
	r.h.in.Arc.Efficiency = e
	r.take("arc efficiency", text, fromInput)
}

// speedUnits turn travel speeds into mm/s.
var speedUnits = []struct {
	suffix string
	factor float64
}{
	{"mm/min", 1. / 60}, {"cm/min", 10. / 60}, {"m/min", 1000. / 60}, {"mm/s", 1}, {"cm/s", 10},
	{"in/min", 25.4 / 60}, {"ipm", 25.4 / 60}, {"in/s", 25.4},
}

// parseSpeed reads a travel speed in mm/s.
func parseSpeed(text string) (float64, error) {
	text = strings.TrimSpace(text)
	factor := 1. / 60
	for _, u := range speedUnits {
		if bare, ok := strings.CutSuffix(text, u.suffix); ok {
			text, factor = strings.TrimSpace(bare), u.factor
			break
		}
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("is not a travel speed")
	}
	v *= factor
	if !(v >= heat.SpeedRange.Min && v <= heat.SpeedRange.Max) {
		return 0, fmt.Errorf("must lie between %g and %g mm/min", heat.SpeedRange.Min*60, heat.SpeedRange.Max*60)
	}
	return v, nil
}

// speedText prints a travel speed, in inches beside where the joint is in them.
func (h *heating) speedText(v float64) string {
	if h.doc.Units == geometry.UnitInch {
		return decimal(v*60, 1) + " mm/min (" + decimal(v*60/float64(geometry.Inch), 1) + " in/min)"
	}
	return decimal(v*60, 1) + " mm/min (" + decimal(v, 2) + " mm/s)"
}

// speed takes that of the input, of the shop, or of the table.
func (r *heatReader) speed(p config.Process) {
	a := &r.h.in.Arc
	if text, ok := r.values["speed"]; ok {
		v, err := parseSpeed(text)
		if err != nil {
			r.fault(joints.FaultRange, "speed", text, err.Error(), "write 240mm/min, 4mm/s or 9in/min")
			return
		}
		a.Speed = v
		r.take("travel speed", r.h.speedText(v), fromInput)
		return
	}
	if own := r.h.settings.Practice(p); own.Speed > 0 {
		a.Speed = own.Speed / 60
		r.take("travel speed", r.h.speedText(a.Speed), "settings, "+own.SpeedSource.String())
		return
	}
	s := &r.h.doc.Section
	thin := s.ThinnerMember()
	family := config.Family(r.h.in.Members[thin].Material.Family)
	row, ok := config.SpeedFor(p, family, s.Members[thin].Thickness)
	if !ok {
		r.fault(joints.FaultMissing, "speed", "", "no travel speed of "+string(p)+" is on file", "give speed=240mm/min")
		return
	}
	a.Speed = row.Speed / 60
	r.take("travel speed", r.h.speedText(a.Speed), fromDefault+", "+row.Description+", "+row.Source.String())
}
