package heat

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

// Process is a way of making the arc.
type Process string

// The processes with an efficiency on file.
const (
	TIGAC    Process = "gtaw-ac"   // alternating current, as on aluminium
	TIGDC    Process = "gtaw-dcen" // electrode negative
	MIG      Process = "gmaw"
	Stick    Process = "smaw"
	SubArc   Process = "saw"
	PlasmaDC Process = "paw"
)

// Processes lists the processes on file.
func Processes() []Process { return []Process{TIGAC, TIGDC, MIG, Stick, SubArc, PlasmaDC} }

// Efficiency is the part of the arc's power that the work receives.
type Efficiency struct {
	Low, Nominal, High float64
	Source             Source
}

const en1011 = "EN 1011-1 thermal efficiency, as given by a steel maker's how-to-weld page and a German teaching text"

// EfficiencyOf returns the efficiency of a process; false where none is on
// file. The range is what was published, not a tolerance.
func EfficiencyOf(p Process) (Efficiency, bool) {
	switch p {
	case TIGAC:
		return Efficiency{0.4, 0.6, 0.7, Source{
			"no figure found for alternating current on aluminium: 0.6 as EN 1011-1 has for TIG, range 0.4 to 0.7 chosen by fay", OwnChoice}}, true
	case TIGDC:
		return Efficiency{0.36, 0.67, 0.90, Source{
			"nominal 0.67: calorimeter on A36, DuPont and Marder, Welding Journal Dec. 1995 p. 406-s (abstract); " +
				"range 0.36 to 0.90: published values collected by Stenbacka et al. 2012/2013; EN 1011-1 has 0.6", Secondary}}, true
	case MIG:
		return Efficiency{0.8, 0.8, 0.85, Source{en1011 + ": 0.8; controlled dip transfer 0.85, Pepe et al., STWJ 16 (2011) 412", Secondary}}, true
	case Stick:
		return Efficiency{0.8, 0.8, 0.84, Source{en1011 + ": 0.8; consumable electrodes 0.84, DuPont and Marder 1995 (abstract)", Secondary}}, true
	case SubArc:
		return Efficiency{0.84, 1.0, 1.0, Source{en1011 + ": 1.0; consumable electrodes 0.84, DuPont and Marder 1995 (abstract)", Secondary}}, true
	case PlasmaDC:
		return Efficiency{0.47, 0.6, 0.6, Source{"0.47 calorimeter on A36, DuPont and Marder 1995 (abstract, secondary); 0.6 as EN 1011-1, from memory, unverified", Memory}}, true
	}
	return Efficiency{}, false
}

// LoadLine guesses the arc voltage from the current: U = Base + Slope·I.
type LoadLine struct {
	Base   float64 // V
	Slope  float64 // V/A
	Source Source
}

// LoadLineOf returns the conventional load line of a process; false where none
// is on file.
func LoadLineOf(p Process) (LoadLine, bool) {
	src := Source{"IEC 60974-1 conventional load voltage, from memory, unverified; TIG in argon on aluminium really runs lower", Memory}
	switch p {
	case TIGAC, TIGDC:
		return LoadLine{10, 0.04, src}, true
	case MIG:
		return LoadLine{14, 0.05, src}, true
	case Stick:
		return LoadLine{20, 0.04, src}, true
	}
	return LoadLine{}, false
}

// Arc is the arc as it is set or looked for.
type Arc struct {
	Process Process // names the cautions; efficiency and load line are given apart
	// Amps set; 0 asks only what is needed.
	Amps float64
	// Volts of the arc; 0 takes the load line.
	Volts    float64
	LoadLine LoadLine
	// Machine is the most current there is, A; 0 for not known.
	Machine    float64
	Efficiency Efficiency
	Speed      float64 // travel, mm/s
	// Spot is the standard deviation of the heat the arc lays down; TIG 1 to
	// 2 mm. 0 takes 1.5 mm.
	Spot geometry.Length
}

// The ranges of arc values that are taken.
var (
	AmpsRange       = joints.Range{Min: 1, Max: 2000}
	VoltsRange      = joints.Range{Min: 5, Max: 60}
	EfficiencyRange = joints.Range{Min: 0.05, Max: 1}
	SpeedRange      = joints.Range{Min: 0.05, Max: 100} // mm/s
	SpotRange       = joints.Range{Min: 0.1, Max: 20}   // mm
	slopeRange      = joints.Range{Min: 0, Max: 1}
)

const usualSpot = 1.5 * geometry.Millimetre

func (c *checker) arc(a *Arc) {
	c.optional("arc.amps", a.Amps, AmpsRange, "A")
	c.optional("arc.machine", a.Machine, AmpsRange, "A")
	if a.Volts == 0 && a.LoadLine == (LoadLine{}) {
		c.add(joints.FaultMissing, "arc.volts", "", "an arc needs a voltage", "give volts, or a load line for the process")
	}
	c.optional("arc.volts", a.Volts, VoltsRange, "V")
	if a.Volts == 0 && a.LoadLine != (LoadLine{}) {
		c.number("arc.load-line.base", a.LoadLine.Base, VoltsRange, "V")
		c.number("arc.load-line.slope", a.LoadLine.Slope, slopeRange, "V/A")
	}
	e := a.Efficiency
	ok := c.number("arc.efficiency", e.Nominal, EfficiencyRange, "")
	ok = c.number("arc.efficiency.low", e.Low, EfficiencyRange, "") && ok
	ok = c.number("arc.efficiency.high", e.High, EfficiencyRange, "") && ok
	if ok && !(e.Low <= e.Nominal && e.Nominal <= e.High) {
		c.add(joints.FaultConflict, "arc.efficiency", show(e.Nominal, ""), "must lie between its low and its high value", "order the three")
	}
	c.number("arc.speed", a.Speed, SpeedRange, "mm/s")
	c.number("arc.spot", float64(a.Spot), SpotRange, "mm")
}

// voltsAt is the arc voltage at a current.
func (a *Arc) voltsAt(amps float64) float64 {
	if a.Volts > 0 {
		return a.Volts
	}
	return a.LoadLine.Base + a.LoadLine.Slope*amps
}

// ampsFor is the current that makes the arc give watts.
func (a *Arc) ampsFor(watts float64) float64 {
	if a.Volts > 0 {
		return watts / a.Volts
	}
	b, s := a.LoadLine.Base, a.LoadLine.Slope
	// The stable root of s·I² + b·I = watts, good for s = 0 too.
	return 2 * watts / (b + math.Sqrt(b*b+4*s*watts))
}

// Spread is a number with its range over the efficiency of the arc: Low
// belongs to the best efficiency, High to the worst.
type Spread struct{ Low, Nominal, High float64 }

func (e Efficiency) arcPower(net float64) Spread {
	return Spread{net / e.High, net / e.Nominal, net / e.Low}
}
