package filler

import (
	"fmt"
	"math"
	"strconv"

	"fay/geometry"
	"fay/joints"
)

// Params says what is laid, of what, and over what length. The zero value of
// an optional field means not given, and the results that need it are absent.
type Params struct {
	// DepositedArea of all welds of the section, mm². Needed.
	DepositedArea float64
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
	// Quantity of parts, optional; needs SeamLength.
	Quantity int
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
)

const (
	// leastUsable is the least length of a rod that must be left to feed, mm.
	leastUsable = 10
	// mostParts bounds Quantity.
	mostParts = 1_000_000
)

// faults collects what is wrong with the parameters, in the order of fields.
func (p *Params) faults() joints.Faults {
	var c checker
	c.value("area", p.DepositedArea, AreaRange, "mm²")
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
	if p.Quantity > 0 && p.SeamLength == 0 {
		c.add(joints.Fault{Code: joints.FaultMissing, Field: "seam.length",
			Rule: "a quantity of parts needs the length of their seam", Remedy: "give the seam's length or leave out the quantity"})
	}
	return c.faults
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
