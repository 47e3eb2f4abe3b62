package config

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"fay/geometry"
)

// LoadLine is the voltage of an arc at a current: Base + Slope · current.
type LoadLine struct {
	Base  float64 // V
	Slope float64 // V/A
}

// String prints the line as settings take it.
func (l LoadLine) String() string { return fmt.Sprintf("%g + %g I", l.Base, l.Slope) }

// Machine is a welding machine of the shop.
type Machine struct {
	Name    string
	Process ArcProcess // empty: any
	Current float64    // the most it gives, A; 0: not said
	Line    *LoadLine  // of its arc; nil: that on file for the process
	Source  Source
}

// Calibration is what cut sections said of the arc of a machine and a process.
type Calibration struct {
	Machine    string
	Process    ArcProcess
	Sections   int     // that were cut
	Efficiency float64 // part of the arc's power that reaches the work
	// Spot is the standard deviation of the heat the arc lays down, mm.
	Spot geometry.Length
	// The ranges that hold the true value in 95 of 100 such fits; nil where the
	// sections were too few, or the spot was taken and not fitted.
	EfficiencyRange, SpotRange *[2]float64
	Source                     Source // the joint and weld that were cut
}

type rawMachine struct {
	Name     string `mapstructure:"name"`
	Process  string `mapstructure:"process"`
	Current  string `mapstructure:"current"`
	LoadLine string `mapstructure:"load-line"`
	Source   string `mapstructure:"source"`
}

type rawCalibration struct {
	Machine         string `mapstructure:"machine"`
	Process         string `mapstructure:"process"`
	Sections        string `mapstructure:"sections"`
	Efficiency      string `mapstructure:"efficiency"`
	EfficiencyRange string `mapstructure:"efficiency-range"`
	Spot            string `mapstructure:"spot"`
	SpotRange       string `mapstructure:"spot-range"`
	Source          string `mapstructure:"source"`
}

// The quantities of an arc, as wide as the heat takes them.
var (
	currentQuantity    = quantity{"a current", []namedUnit{{"A", 1}}, 1, 2000}
	efficiencyQuantity = quantity{"a part of the arc's power", nil, 0.05, 1}
	spotQuantity       = quantity{"a spot", []namedUnit{{"mm", 1}, {"in", mmPerInch}}, 0.1, 20}
	sectionsQuantity   = quantity{"a whole number of sections", nil, 1, 10_000}
)

// sameMachine tells whether two names mean one machine.
func sameMachine(a, b string) bool { return fold(a) == fold(b) }

// MachineNames lists the machines that settings know of, each once.
func (s Settings) MachineNames() []string {
	var names []string
	add := func(name string) {
		for _, n := range names {
			if sameMachine(n, name) {
				return
			}
		}
		names = append(names, name)
	}
	for i := range s.Machines {
		add(s.Machines[i].Name)
	}
	for i := range s.Calibrations {
		add(s.Calibrations[i].Machine)
	}
	return names
}

// MachineNamed finds the name of a machine as settings have it. The error, if
// any, is an [UnknownNameError].
func (s Settings) MachineNamed(name string) (string, error) {
	names := s.MachineNames()
	for _, n := range names {
		if sameMachine(n, name) {
			return n, nil
		}
	}
	return "", unknownName("machine", name, names)
}

// Machine returns what a machine gives with a process: its entry for that
// process, else the one for any. False where there is none.
func (s Settings) Machine(name string, p ArcProcess) (Machine, bool) {
	var general *Machine
	for i := range s.Machines {
		m := &s.Machines[i]
		switch {
		case !sameMachine(m.Name, name):
		case m.Process == p:
			return *m, true
		case m.Process == "":
			general = m
		}
	}
	if general == nil {
		return Machine{}, false
	}
	return *general, true
}

// Calibration returns that of a machine and a process; false where there is
// none.
func (s Settings) Calibration(machine string, p ArcProcess) (Calibration, bool) {
	for _, c := range s.Calibrations {
		if sameMachine(c.Machine, machine) && c.Process == p {
			return c, true
		}
	}
	return Calibration{}, false
}

// machineName judges the name of a machine; a number would read as a current.
func (j *judge) machineName(path, field, text string) (string, bool) {
	name := strings.TrimSpace(text)
	switch _, err := currentQuantity.parse(name); {
	case fold(name) == "":
		j.fault(FaultMissing, path, text, "an entry needs a machine", "add `"+field+":`")
	case utf8.RuneCountInString(name) > maxName || !printable(name):
		j.fault(FaultRange, path+"."+field, name, fmt.Sprintf("a name is at most %d printable characters", maxName), "shorten it")
	case err == nil:
		j.fault(FaultValue, path+"."+field, name, "a number alone would read as a current", "put a word into the name")
	default:
		return name, true
	}
	return "", false
}

// arcProcess judges the process of an entry; TIG has to say its current.
func (j *judge) arcProcess(path, text string) ArcProcess {
	p, err := ParseArcProcess(text)
	switch {
	case err != nil:
		j.fault(FaultName, path, text, "allowed: "+strings.Join(arcNames(), ", "), didYouMean(err, "choose one of them"))
	case p == ArcProcess(GTAW):
		j.fault(FaultValue, path, text, "TIG on alternating and on direct current are two arcs", "write tig-ac or tig-dc")
	default:
		return p
	}
	return ""
}

// machines judges the shop's machines.
func (j *judge) machines(list []rawMachine) []Machine {
	var out []Machine
	for i, e := range list {
		path := fmt.Sprintf("machines[%d]", i)
		before := len(j.faults)
		m := Machine{Current: j.quantity(path+".current", e.Current, currentQuantity), Line: j.loadLine(path+".load-line", e.LoadLine),
			Source: Source{Text: orShop(e.Source), Provenance: Shop}}
		m.Name, _ = j.machineName(path, "name", e.Name)
		if strings.TrimSpace(e.Process) != "" {
			m.Process = j.arcProcess(path+".process", e.Process)
		}
		if strings.TrimSpace(e.Current+e.LoadLine) == "" {
			j.fault(FaultMissing, path, e.Name, "an entry says what the machine gives", "add `current:` or `load-line:`")
		}
		for _, other := range out {
			if len(j.faults) == before && sameMachine(other.Name, m.Name) && other.Process == m.Process {
				j.fault(FaultDuplicate, path, e.Name, "the machine stands there for this process already", "keep one of the two")
			}
		}
		if len(j.faults) == before {
			out = append(out, m)
		}
	}
	return out
}

// loadLine is written as 10 + 0.04 I.
var loadLine = regexp.MustCompile(`^([0-9.]+) *V? *\+ *([0-9.]+) *(?:V/A)? *[*·]? *I? *V?$`)

func (j *judge) loadLine(path, text string) *LoadLine {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil
	}
	m := loadLine.FindStringSubmatch(text)
	if m == nil {
		j.fault(FaultValue, path, text, "is not the voltage over the current", "write 10 + 0.04 I")
		return nil
	}
	base, err := parseNumber(m[1])
	slope, err2 := parseNumber(m[2])
	// The voltages an arc has, and steeper than any load line.
	if err != nil || err2 != nil || !(base >= 5 && base <= 60 && slope <= 1) {
		j.fault(FaultRange, path, text, "from 5 to 60 V, and at most 1 V more for each ampere", "write 10 + 0.04 I")
		return nil
	}
	return &LoadLine{base, slope}
}

// calibrations judges what was calibrated. Machines are judged before.
func (j *judge) calibrations(list []rawCalibration, machines []Machine) []Calibration {
	var out []Calibration
	known := Settings{Machines: machines}
	for i, e := range list {
		path := fmt.Sprintf("calibrations[%d]", i)
		before := len(j.faults)
		for _, need := range []struct{ name, text string }{{"process", e.Process}, {"sections", e.Sections}, {"efficiency", e.Efficiency}, {"spot", e.Spot}} {
			if strings.TrimSpace(need.text) == "" {
				j.fault(FaultMissing, path, e.Machine, "a calibration needs `machine`, `process`, `sections`, `efficiency` and `spot`", "add `"+need.name+":`")
			}
		}
		c := Calibration{Source: Source{Text: orShop(e.Source), Provenance: Shop},
			Efficiency: j.quantity(path+".efficiency", e.Efficiency, efficiencyQuantity), Spot: geometry.Length(j.quantity(path+".spot", e.Spot, spotQuantity)),
			Sections: j.count(path+".sections", e.Sections, sectionsQuantity)}
		c.EfficiencyRange = j.spread(path+".efficiency-range", e.EfficiencyRange, efficiencyQuantity, c.Efficiency)
		c.SpotRange = j.spread(path+".spot-range", e.SpotRange, spotQuantity, float64(c.Spot))
		if name, ok := j.machineName(path, "machine", e.Machine); ok {
			c.Machine = name
			// A shop that lists its machines means one of them.
			if len(machines) > 0 {
				filed, err := known.MachineNamed(name)
				if err != nil {
					j.fault(FaultName, path+".machine", name, "no such machine", didYouMean(err, "the machines are "+strings.Join(known.MachineNames(), ", ")))
				}
				c.Machine = filed
			}
		}
		if strings.TrimSpace(e.Process) != "" {
			c.Process = j.arcProcess(path+".process", e.Process)
		}
		if _, twice := (Settings{Calibrations: out}).Calibration(c.Machine, c.Process); twice && len(j.faults) == before {
			j.fault(FaultDuplicate, path, e.Machine, "the machine is calibrated for this process already", "keep one of the two")
		}
		if len(j.faults) == before {
			out = append(out, c)
		}
	}
	return out
}

// count reads a whole number.
func (j *judge) count(path, text string, q quantity) int {
	v := j.quantity(path, text, q)
	if v != math.Trunc(v) {
		j.fault(FaultValue, path, text, q.rule(), q.remedy())
	}
	return int(v)
}

// spread reads low..high round a value that was read before.
func (j *judge) spread(path, text string, q quantity, value float64) *[2]float64 {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil
	}
	low, high, ok := strings.Cut(text, "..")
	lo, err := q.parse(low)
	hi, err2 := q.parse(high)
	if !ok || err != nil || err2 != nil || lo > hi {
		j.fault(FaultValue, path, text, "is not low..high of "+q.rule(), "write 0.52..0.61")
		return nil
	}
	if value > 0 && !(lo <= value && value <= hi) {
		j.fault(FaultRange, path, text, "does not hold the value itself, "+strconv.FormatFloat(value, 'g', 4, 64), "check both")
		return nil
	}
	return &[2]float64{lo, hi}
}

// machine judges the machine taken where nothing is said.
func (j *judge) machine(text string, s Settings) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	name, err := s.MachineNamed(text)
	if err != nil {
		remedy := "list it under machines"
		if names := s.MachineNames(); len(names) > 0 {
			remedy = "the machines are " + strings.Join(names, ", ")
		}
		j.fault(FaultName, "machine", text, "no such machine", didYouMean(err, remedy))
	}
	return name
}

func machineNames(list []Machine) string {
	names := make([]string, 0, len(list))
	for i := range list {
		text := list[i].Name
		if list[i].Process != "" {
			text += " " + string(list[i].Process)
		}
		if list[i].Current > 0 {
			text += fmt.Sprintf(" %g A", list[i].Current)
		}
		if list[i].Line != nil {
			text += ", " + list[i].Line.String()
		}
		names = append(names, text)
	}
	return strings.Join(names, "; ")
}

func calibrationNames(list []Calibration) string {
	names := make([]string, 0, len(list))
	for i := range list {
		c := &list[i]
		names = append(names, fmt.Sprintf("%s %s: efficiency %g, spot %g mm, n = %d", c.Machine, c.Process, c.Efficiency, float64(c.Spot), c.Sections))
	}
	return strings.Join(names, "; ")
}
