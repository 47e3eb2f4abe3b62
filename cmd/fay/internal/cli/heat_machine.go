package cli

import (
	"fmt"
	"strconv"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
)

// machine settles the machine: by the name that settings know it by, or by the
// most it gives alone.
func (r *heatReader) machine(process config.ArcProcess) config.Machine {
	text, given := r.values["machine"]
	_, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "A")), 64)
	nameless := given && err == nil
	if nameless {
		if v, ok := r.positive("machine", "A", heat.AmpsRange); ok {
			r.h.in.Arc.Machine = v
			r.take("machine gives at most", decimal(v, 1)+" A", fromInput)
		}
	}
	name, from := "", fromInput
	if text, ok := r.values["calibrated"]; ok {
		name, _ = r.machineNamed("calibrated", text)
	}
	switch {
	case given && !nameless:
		named, ok := r.machineNamed("machine", text)
		if ok && name != "" && named != name {
			r.fault(joints.FaultConflict, "machine", text, "is another machine than "+name+", whose calibration is asked for", "name one machine")
		}
		name = named
	case !given && name == "":
		name, from = r.h.settings.DefaultMachine, "settings"
	}
	if name == "" {
		return config.Machine{}
	}
	r.take("machine", name, from)
	m, _ := r.h.settings.Machine(name, process)
	if m.Current > 0 && !nameless {
		r.h.in.Arc.Machine = m.Current
		r.take("machine gives at most", decimal(m.Current, 1)+" A", m.Source.String())
	}
	return m
}

// machineNamed finds a machine that settings know of.
func (r *heatReader) machineNamed(field, text string) (string, bool) {
	name, err := r.h.settings.MachineNamed(text)
	if err == nil {
		return name, true
	}
	remedy := "list it under machines in the settings, or give the most current it gives, in A"
	if names := r.h.settings.MachineNames(); len(names) > 0 {
		remedy = "the machines are " + strings.Join(names, ", ")
		if near, ok := config.Nearest(text, names); ok {
			remedy = "did you mean " + near + "? " + remedy
		}
	}
	r.fault(joints.FaultUnknown, field, text, "is not a machine in the settings", remedy)
	return "", false
}

// calibrated takes efficiency and spot from the calibration of the machine
// that was named for it. It reports whether one was asked for.
func (r *heatReader) calibrated(process config.ArcProcess) bool {
	text, asked := r.values["calibrated"]
	if !asked {
		return false
	}
	for _, name := range []string{"efficiency", "spot"} {
		if v, ok := r.values[name]; ok {
			r.fault(joints.FaultConflict, name, v, "comes from the calibration that is asked for", "leave out "+name+" or calibrated")
		}
	}
	name, err := r.h.settings.MachineNamed(text)
	if err != nil || process == "" {
		return true // said already
	}
	c, ok := r.h.settings.Calibration(name, process)
	if !ok {
		r.fault(joints.FaultMissing, "calibrated", text, "nothing is on file of this machine with "+string(process),
			"`fay heat … --calibrate LOG --store "+strconv.Quote(name)+"` puts it there; without calibrated the values on file for any machine are used")
		return true
	}
	e, spread := calibratedEfficiency(&c)
	a := &r.h.in.Arc
	a.Efficiency, a.Spot = e, c.Spot
	from := fmt.Sprintf("calibration of %s, n = %d", c.Machine, c.Sections)
	r.take("arc efficiency", fmt.Sprintf("%g (%g to %g)", e.Nominal, e.Low, e.High), from+spread)
	spot := decimal(float64(c.Spot), 2) + " mm"
	if w := c.SpotRange; w != nil {
		spot += " (" + decimal(w[0], 2) + " to " + decimal(w[1], 2) + ")"
	}
	r.take("spot", spot, from)
	r.h.calibration = &c
	r.h.note(calibrationNote(&c))
	return true
}

// calibratedEfficiency is the efficiency of a calibration. Where its sections
// were too few for an interval, the range published for the process stays.
func calibratedEfficiency(c *config.Calibration) (e heat.Efficiency, spread string) {
	e = heat.Efficiency{Low: c.Efficiency, Nominal: c.Efficiency, High: c.Efficiency}
	if w := c.EfficiencyRange; w != nil {
		e.Low, e.High, spread = w[0], w[1], ", 95 % interval"
	} else if published, ok := heat.EfficiencyOf(heat.Process(c.Process)); ok {
		e.Low, e.High, spread = min(e.Low, published.Low), max(e.High, published.High), ", too few for an interval: the range of any machine"
	}
	e.Source = heat.Source{Text: fmt.Sprintf("calibrated on %s with %s: n = %d%s; %s", c.Machine, c.Process, c.Sections, spread, c.Source.Text), Provenance: heat.Shop}
	return e, spread
}

// calibrationNote says that calibrated values are used.
func calibrationNote(c *config.Calibration) string {
	between := func(w *[2]float64, unit string) string {
		if w == nil {
			return "no interval"
		}
		return "95 % interval " + decimal(w[0], 2) + " to " + decimal(w[1], 2) + unit
	}
	sections := "sections"
	if c.Sections == 1 {
		sections = "section"
	}
	return fmt.Sprintf("calibrated values of %s with %s are used, from n = %d %s (%s): efficiency %s, %s; spot %s mm, %s",
		c.Machine, c.Process, c.Sections, sections, c.Source.Text, decimal(c.Efficiency, 3), between(c.EfficiencyRange, ""),
		decimal(float64(c.Spot), 2), between(c.SpotRange, " mm"))
}

// voltage settles the voltage of the arc: as given, as the machine was
// measured, or as the usual load line has it.
func (r *heatReader) voltage(process config.ArcProcess, m config.Machine) {
	a := &r.h.in.Arc
	if v, ok := r.positive("volts", "V", heat.VoltsRange); ok {
		a.Volts = v
		r.take("arc voltage", decimal(v, 1)+" V", fromInput)
		return
	}
	text := func(l heat.LoadLine) string { return fmt.Sprintf("%g + %g·I V", l.Base, l.Slope) }
	line, onFile := heat.LoadLineOf(heat.Process(process))
	switch {
	case m.Line != nil:
		a.LoadLine = heat.LoadLine{Base: m.Line.Base, Slope: m.Line.Slope, Source: heat.Source{Text: m.Name + ": " + m.Source.Text, Provenance: heat.Shop}}
		r.take("arc voltage", text(a.LoadLine), m.Source.String())
	case onFile:
		a.LoadLine = line
		r.take("arc voltage", text(line), fromDefault+", "+line.Source.String())
	case process != "" && r.values["volts"] == "":
		r.fault(joints.FaultMissing, "volts", "", "no usual load line of "+string(process)+" is on file", "give volts=…, or a load-line of the machine in the settings")
	}
}

// spot settles the width of the arc.
func (r *heatReader) spot() {
	a := &r.h.in.Arc
	if l, ok := r.length("spot"); ok {
		if v := float64(l); !(v >= heat.SpotRange.Min && v <= heat.SpotRange.Max) {
			r.fault(joints.FaultRange, "spot", r.values["spot"], fmt.Sprintf("must lie between %g and %g mm", heat.SpotRange.Min, heat.SpotRange.Max), "TIG lies near 1 to 2 mm")
		}
		a.Spot = l
		r.take("spot", decimal(float64(l), 2)+" mm", fromInput)
	} else if r.values["spot"] == "" {
		a.Spot = 1.5 * geometry.Millimetre
		r.take("spot", "1.5 mm", fromDefault+", TIG lies near 1 to 2 mm (common practice, no source)")
	}
}
