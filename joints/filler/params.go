package filler

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fay/geometry"
	"fay/joints"
)

// Params says what is laid, of what, and over what length. The zero value of
// an optional field means not given, and the results that need it are absent.
type Params struct {
	// DepositedArea of all welds of the section, mm². Needed, here or as Welds.
	DepositedArea float64
	// Welds of the section instead of DepositedArea: numbers are then also
	// given by weld, and passes are counted weld by weld.
	Welds []Weld
	// Runs of the welds along one part, seam by seam, instead of SeamLength:
	// numbers are then also given by seam. They need Welds.
	Runs []Run
	// Efficiency is the deposition efficiency as a fraction; 1 for none lost.
	// Needed. It must not count stubs as well when a rod with a stub is given.
	Efficiency       float64
	EfficiencySource string
	// Density in g/cm³, optional: without it there are volumes and rods but no
	// masses.
	Density       float64
	DensitySource string
	// Rod or Wire, at most one of them, both optional.
	Rod  *Rod
	Wire *Wire
	// SeamLength of one part, optional. On a round seam it is the path of the
	// centroid of the deposited area.
	SeamLength geometry.Length
	// Quantity of parts, optional; needs SeamLength or Runs.
	Quantity int

	// Allowances are shares added to the plan; zero adds nothing.
	Allowances Allowances
	// PassArea is the most that one pass lays, mm²; 0 counts no passes.
	PassArea       float64
	PassAreaSource string
	// Arc time comes from the deposition rate, kg/h, where one is given, and
	// else from the travel speed, mm/min, times the passes.
	DepositionRate       float64
	DepositionRateSource string
	TravelSpeed          float64
	TravelSpeedSource    string
	// GasFlow in L/min while the arc burns; 0 is a process without gas.
	GasFlow       float64
	GasFlowSource string
	Cylinder      float64 // m³ of gas in one; 0 counts none
	// Packs that the filler is sold in. The cheapest where all have a price,
	// else the first.
	Packs []Pack
	Rates Rates
	// Work is what is done besides welding, at the shop's own times.
	Work Work
	// Over is the same joint one size over, optional.
	Over *Over
}

// Weld is the metal of one weld of the section.
type Weld struct {
	ID   string
	Area float64 // deposited, mm²
}

// Run is one weld along one seam of a part.
type Run struct {
	Seam   int // counted from 1
	Weld   string
	Length geometry.Length
	Volume float64 // deposited, mm³
}

// Allowances are fractions that are added on: Oversize and Tack to the deposited
// metal, Waste to the filler used, stubs among it. A waste of 0.05 buys 105 for
// 100 used.
type Allowances struct{ Oversize, Tack, Waste float64 }

// Pack is filler as sold.
type Pack struct {
	Label  string
	Mass   float64 // kg
	Price  float64 // 0: not known
	Source string
}

// Rates are the user's own; zero is not given. Prices need a currency.
type Rates struct {
	Currency string
	Labour   float64 // an hour of paid time
	Gas      float64 // a cubic metre
	ArcShare float64 // share of paid time that the arc burns; 0 counts as 1
}

// Over is the joint with every weld one size larger.
type Over struct {
	Step  geometry.Length
	What  string // what grew, in words
	Welds []Weld
	Runs  []Run
	// None says why there is no such joint; the rest is then empty.
	None string
}

// Rod is a cut rod fed by hand.
type Rod struct {
	Diameter  geometry.Length
	CutLength geometry.Length
	// Stub is what is left of each rod; 0 is none.
	Stub geometry.Length
	// StubFusedOn says that stubs are fused on to the next rod, so that none
	// is thrown away.
	StubFusedOn bool
}

// Wire is fed from a spool.
type Wire struct {
	Diameter geometry.Length
}

// The ranges that are taken. They catch a wrong unit or a slipped point and
// keep every count within an int.
var (
	// AreaRange in mm²: from a hair of metal to a groove 300 mm deep and as wide.
	AreaRange = joints.Range{Min: 1e-3, Max: 1e5}
	// DensityRange in g/cm³: lighter than magnesium (1.7) to heavier than any
	// metal (osmium, 22.6).
	DensityRange = joints.Range{Min: 1, Max: 25}
	// EfficiencyRange: the lowest published efficiency on file is 0.43, a
	// covered electrode with a long stub.
	EfficiencyRange = joints.Range{Min: 0.05, Max: 1}
	// DiameterRange in mm: the finest wire and the thickest rod on the market,
	// with room to spare.
	DiameterRange = joints.Range{Min: 0.4, Max: 12}
	// CutLengthRange in mm.
	CutLengthRange = joints.Range{Min: 50, Max: 3000}
	// SeamRange in mm: up to a kilometre.
	SeamRange = joints.Range{Min: 1, Max: 1e6}
	// PassRange in mm²: a root run on foil to a strip-clad layer.
	PassRange = joints.Range{Min: 1, Max: 1000}
	// RateRange in kg/h.
	RateRange = joints.Range{Min: 0.01, Max: 100}
	// SpeedRange in mm/min.
	SpeedRange = joints.Range{Min: 5, Max: 10_000}
	// FlowRange in L/min.
	FlowRange = joints.Range{Min: 1, Max: 100}
	// CylinderRange in m³.
	CylinderRange = joints.Range{Min: 0.05, Max: 1000}
	// PackRange in kg.
	PackRange = joints.Range{Min: 0.05, Max: 1000}
	// WorkRange in minutes, or minutes per metre.
	WorkRange = joints.Range{Min: 0.001, Max: 10_000}
	// OversizeRange as a fraction: a leg of 3 mm laid as 5 is 1.78.
	OversizeRange = joints.Range{Max: 2}
	// AllowanceRange of tacks and waste as a fraction: at 1, tacks are as large as
	// the welds and half of what is bought is thrown away.
	AllowanceRange = joints.Range{Max: 1}
	// MoneyRange in any currency.
	MoneyRange = joints.Range{Min: 0.001, Max: 1e6}
	// StepRange of one size over, mm.
	StepRange = joints.Range{Min: 0.1, Max: 10}
)

const (
	// leastUsable is the least length of a rod that must be left to feed, mm.
	leastUsable = 10
	// mostParts bounds Quantity.
	mostParts = 1_000_000
	mostSeams = 1000
	// longestRun bounds one weld along one seam, mm: many seams alike.
	longestRun = 1e9
)

// faults collects what is wrong with the parameters, in the order of fields.
func (p *Params) faults() joints.Faults {
	var c checker
	c.metal(p)
	c.value("efficiency", p.Efficiency, EfficiencyRange, "")
	if p.Density != 0 {
		c.value("density", p.Density, DensityRange, "g/cm³")
	}
	if p.Rod != nil && p.Wire != nil {
		c.add(joints.Fault{Code: joints.FaultConflict, Field: "wire", Rule: "a joint is filled from rods or from wire, not both",
			Remedy: "keep one of them"})
	}
	if p.Rod != nil {
		c.rod(p.Rod)
	}
	if p.Wire != nil {
		c.value("wire.diameter", float64(p.Wire.Diameter), DiameterRange, "mm")
	}
	if p.SeamLength != 0 {
		c.value("seam.length", float64(p.SeamLength), SeamRange, "mm")
	}
	if p.Quantity < 0 || p.Quantity > mostParts {
		c.add(joints.Fault{Code: joints.FaultRange, Field: "quantity", Value: strconv.Itoa(p.Quantity),
			Rule: fmt.Sprintf("must lie between 1 and %d parts", mostParts), Remedy: "split the job"})
	}
	if p.Quantity > 0 && p.SeamLength == 0 && len(p.Runs) == 0 {
		c.add(joints.Fault{Code: joints.FaultMissing, Field: "seam.length",
			Rule: "a quantity of parts needs the length of their seam", Remedy: "give the seam's length or leave out the quantity"})
	}
	c.work(p)
	c.money(p)
	return c.faults
}

// metal checks the areas and the runs.
func (c *checker) metal(p *Params) {
	if len(p.Welds) == 0 {
		c.value("area", p.DepositedArea, AreaRange, "mm²")
		if len(p.Runs) > 0 {
			c.add(joints.Fault{Code: joints.FaultMissing, Field: "welds", Rule: "runs need the welds that they are of", Remedy: "give the areas by weld"})
		}
		return
	}
	if p.DepositedArea != 0 {
		c.add(joints.Fault{Code: joints.FaultConflict, Field: "area", Value: show(p.DepositedArea, "mm²"),
			Rule: "the area follows from the welds", Remedy: "leave it out"})
	}
	if p.SeamLength != 0 && len(p.Runs) > 0 {
		c.add(joints.Fault{Code: joints.FaultConflict, Field: "seam.length", Value: show(float64(p.SeamLength), "mm"),
			Rule: "the length follows from the runs", Remedy: "leave it out"})
	}
	c.welds("", p.Welds, p.Runs)
	if o := p.Over; o != nil && o.None == "" {
		c.value("over.step", float64(o.Step), StepRange, "mm")
		c.welds("over.", o.Welds, o.Runs)
	}
}

// leastArea bounds the area of one weld of several: a fillet inside a groove
// may add nothing.
const leastArea = 0

func (c *checker) welds(prefix string, welds []Weld, runs []Run) {
	area := joints.Range{Min: leastArea, Max: AreaRange.Max}
	total := 0.0
	for _, w := range welds {
		total += w.Area
		if !within(w.Area, area) {
			c.value(prefix+"welds."+w.ID, w.Area, area, "mm²")
		}
	}
	if len(c.faults) == 0 {
		c.value(prefix+"area", total, AreaRange, "mm²")
	}
	length, volume := joints.Range{Max: longestRun}, joints.Range{Max: longestRun * AreaRange.Max}
	for _, r := range runs {
		known := slices.ContainsFunc(welds, func(w Weld) bool { return w.ID == r.Weld })
		if known && r.Seam >= 1 && r.Seam <= mostSeams && within(float64(r.Length), length) && within(r.Volume, volume) {
			continue // names are put together for faults alone
		}
		field := fmt.Sprintf("%sseams.%d", prefix, r.Seam)
		if !known {
			c.add(joints.Fault{Code: joints.FaultUnknown, Field: field, Value: r.Weld, Rule: "is not a weld of the section", Remedy: "use one of the welds given"})
		}
		if r.Seam < 1 || r.Seam > mostSeams {
			c.add(joints.Fault{Code: joints.FaultRange, Field: field, Value: strconv.Itoa(r.Seam),
				Rule: fmt.Sprintf("seams are counted from 1 to %d", mostSeams), Remedy: "split the part"})
		}
		// The run of a staggered weld may have no segment.
		c.value(field+".length", float64(r.Length), length, "mm")
		c.value(field+".volume", r.Volume, volume, "mm³")
	}
}

func within(v float64, r joints.Range) bool { return v >= r.Min && v <= r.Max }

// work checks passes, speeds, gas and packs.
func (c *checker) work(p *Params) {
	optional := func(field string, v float64, r joints.Range, unit string) {
		if v != 0 {
			c.value(field, v, r, unit)
		}
	}
	c.value("allowances.oversize", p.Allowances.Oversize, OversizeRange, "")
	c.value("allowances.tack", p.Allowances.Tack, AllowanceRange, "")
	c.value("allowances.waste", p.Allowances.Waste, AllowanceRange, "")
	optional("pass-area", p.PassArea, PassRange, "mm²")
	optional("deposition-rate", p.DepositionRate, RateRange, "kg/h")
	optional("travel-speed", p.TravelSpeed, SpeedRange, "mm/min")
	optional("gas-flow", p.GasFlow, FlowRange, "L/min")
	optional("gas.cylinder", p.Cylinder, CylinderRange, "m³")
	optional("work.edge", p.Work.EdgeMinPerM, WorkRange, "min/m")
	optional("work.turn", p.Work.TurnMin, WorkRange, "min")
	optional("work.gouge", p.Work.GougeMinPerM, WorkRange, "min/m")
	for i := range p.Packs {
		c.value("pack", p.Packs[i].Mass, PackRange, "kg")
	}
}

// money checks prices: each needs a currency.
func (c *checker) money(p *Params) {
	price := func(field string, v float64) {
		if v == 0 {
			return
		}
		c.value(field, v, MoneyRange, "")
		if p.Rates.Currency == "" {
			c.add(joints.Fault{Code: joints.FaultMissing, Field: "cost.currency", Rule: "a price needs a currency: " + field, Remedy: "give cost.currency, such as EUR"})
		}
	}
	price("cost.labour", p.Rates.Labour)
	price("cost.gas", p.Rates.Gas)
	for i := range p.Packs {
		price("price", p.Packs[i].Price)
	}
	if p.Rates.ArcShare != 0 {
		c.value("cost.arc-share", p.Rates.ArcShare, joints.Range{Min: 0.01, Max: 1}, "")
	}
}

type checker struct{ faults joints.Faults }

func (c *checker) add(f joints.Fault) { c.faults = append(c.faults, f) }

func (c *checker) rod(r *Rod) {
	c.value("rod.diameter", float64(r.Diameter), DiameterRange, "mm")
	cut := c.value("rod.length", float64(r.CutLength), CutLengthRange, "mm")
	stub := c.value("rod.stub", float64(r.Stub), joints.Range{Max: CutLengthRange.Max}, "mm")
	if !cut || !stub {
		return
	}
	if most := r.CutLength - leastUsable; r.Stub > most {
		c.add(joints.Fault{Code: joints.FaultConflict, Field: "rod.stub", Value: show(float64(r.Stub), "mm"),
			Rule:   fmt.Sprintf("leaves less than %d mm to feed of a rod of %s", leastUsable, show(float64(r.CutLength), "mm")),
			Remedy: "the longest stub of that rod is " + show(float64(most), "mm")})
	}
}

func (c *checker) value(field string, v float64, r joints.Range, unit string) bool {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.add(joints.Fault{Code: joints.FaultNotNumber, Field: field, Value: show(v, ""),
			Rule: "must be a finite number", Remedy: "give a plain number"})
		return false
	case v < r.Min || v > r.Max:
		c.add(joints.Fault{Code: joints.FaultRange, Field: field, Value: show(v, unit),
			Rule:   "must lie between " + show(r.Min, unit) + " and " + show(r.Max, unit),
			Remedy: "the nearest value that is taken is " + show(min(max(v, r.Min), r.Max), unit)})
		return false
	}
	return true
}

func show(v float64, unit string) string {
	s := strconv.FormatFloat(v, 'g', 6, 64)
	if unit != "" {
		s += " " + unit
	}
	return s
}
