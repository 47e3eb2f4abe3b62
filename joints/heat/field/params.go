package field

import (
	"fmt"
	"math"
	"strconv"

	"fay/geometry"
	"fay/joints"
)

// Metal is what conduction needs to know of a metal.
type Metal struct {
	Conductivity float64 // W/(m·K)
	HeatCapacity float64 // J/(m³·K)
}

// Diffusivity is k/(ρc) in m²/s.
func (m Metal) Diffusivity() float64 { return m.Conductivity / m.HeatCapacity }

// Region is a part of the section made of one metal.
type Region struct {
	// Outline is a simple polygon in mm, either way round; curves flattened.
	// Where regions overlap, the earlier one owns the common part.
	Outline []geometry.Point
	Metal   Metal
	// Cap is the largest triangle side wanted in the region, mm; 0 for none.
	// A third of the plate thickness resolves the heat flow across it.
	Cap float64
}

// Seam is the common boundary of two regions where heat does not simply pass.
type Seam struct {
	A, B int // indices of the regions
	// Conductance in W/(m²·K) couples the faces; 0 parts them.
	Conductance float64
}

// Cut ends a plate that goes on outside the mesh. The plate's temperature is
// taken as even across the cut; beyond it a graded one-dimensional fin carries
// the heat on.
type Cut struct {
	// From and To are the ends of the cut, mm, on the boundary of Region.
	From, To geometry.Point
	Region   int
	// Length of the plate beyond the cut, mm; 0 when it goes on without end.
	Length float64
}

// Sizing grades the mesh: sides are Min at the focus and grow by Grow for each
// millimetre away from it.
type Sizing struct {
	Min   float64 // mm
	Grow  float64
	Focus [][2]geometry.Point // segments; one end twice for a point
}

// Params describe a section.
type Params struct {
	Regions []Region
	Seams   []Seam
	Cuts    []Cut
	Sizing  Sizing
	// NodeLimit refuses sections that need more nodes; 0 means [NodeLimit].
	NodeLimit int
}

// NodeLimit is the number of mesh nodes taken where none is stated: about half
// a second of work.
const NodeLimit = 12000

// The ranges that are taken. They catch slipped units and keep every
// computation inside what floating point resolves.
var (
	// ConductivityRange in W/(m·K): worse than any metal to better than silver.
	ConductivityRange = joints.Range{Min: 1, Max: 1000}
	// HeatCapacityRange in J/(m³·K).
	HeatCapacityRange = joints.Range{Min: 2e5, Max: 2e7}
	// ConductanceRange in W/(m²·K): 0 is an open face.
	ConductanceRange = joints.Range{Min: 0, Max: 1e7}
	// CoordinateRange in mm.
	CoordinateRange = joints.Range{Min: -1e4, Max: 1e4}
	// SizeRange of triangle sides in mm.
	SizeRange = joints.Range{Min: 0.01, Max: 1e3}
	// GrowRange of the growth of triangle sides per mm.
	GrowRange = joints.Range{Min: 0, Max: 2}
	// SpeedRange in mm/s: from 3 mm to 6 m a minute.
	SpeedRange = joints.Range{Min: 0.05, Max: 100}
	// SpotRange in mm of the standard deviation of the source.
	SpotRange = joints.Range{Min: 0.1, Max: 20}
)

const (
	mostCorners = 4096   // of all regions together
	mostNodes   = 200000 // of a mesh, whatever is asked for
	mostBeyond  = 1e6    // mm of a fin
	mm          = 1e-3   // m
	unboundedFn = 3.0    // m, the shortest stand-in for a plate without end
	equalMetal  = 1e-12  // relative, below which two metals are one
)

type checker struct{ faults joints.Faults }

func (c *checker) add(code joints.FaultCode, field, value, rule, remedy string) {
	c.faults = append(c.faults, joints.Fault{Code: code, Field: field, Value: value, Rule: rule, Remedy: remedy})
}

func (c *checker) number(field string, v float64, r joints.Range) bool {
	show := strconv.FormatFloat(v, 'g', 6, 64)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.add(joints.FaultNotNumber, field, show, "must be a finite number", "give a plain number")
		return false
	}
	if v < r.Min || v > r.Max {
		c.add(joints.FaultRange, field, show, fmt.Sprintf("must lie between %g and %g", r.Min, r.Max),
			"check the unit and the decimal point")
		return false
	}
	return true
}

func (c *checker) point(field string, p geometry.Point) bool {
	return c.number(field+".x", p.X, CoordinateRange) && c.number(field+".y", p.Y, CoordinateRange)
}

func (c *checker) err() error {
	if len(c.faults) == 0 {
		return nil
	}
	return c.faults
}

func (p *Params) check() error {
	c := &checker{}
	if len(p.Regions) == 0 {
		c.add(joints.FaultMissing, "regions", "", "a section needs at least one region", "give an outline")
	}
	corners := 0
	for i, r := range p.Regions {
		name := fmt.Sprintf("regions[%d]", i)
		c.number(name+".conductivity", r.Metal.Conductivity, ConductivityRange)
		c.number(name+".heat-capacity", r.Metal.HeatCapacity, HeatCapacityRange)
		if r.Cap != 0 {
			c.number(name+".cap", r.Cap, SizeRange)
		}
		if len(r.Outline) < 3 {
			c.add(joints.FaultGeometry, name+".outline", strconv.Itoa(len(r.Outline))+" corners",
				"an outline has at least three corners", "give the whole outline")
		}
		corners += len(r.Outline)
		for j, q := range r.Outline {
			if !c.point(fmt.Sprintf("%s.outline[%d]", name, j), q) {
				break
			}
		}
	}
	if corners > mostCorners {
		c.add(joints.FaultRange, "regions", strconv.Itoa(corners)+" corners",
			fmt.Sprintf("the outlines together may have at most %d corners", mostCorners), "flatten curves more coarsely")
	}
	in := func(i int) bool { return i >= 0 && i < len(p.Regions) }
	for i, s := range p.Seams {
		name := fmt.Sprintf("seams[%d]", i)
		if !in(s.A) || !in(s.B) || s.A == s.B {
			c.add(joints.FaultUnknown, name, fmt.Sprintf("%d, %d", s.A, s.B), "a seam lies between two regions of the section", "check the numbers")
		}
		c.number(name+".conductance", s.Conductance, ConductanceRange)
	}
	for i, k := range p.Cuts {
		name := fmt.Sprintf("cuts[%d]", i)
		if !in(k.Region) {
			c.add(joints.FaultUnknown, name+".region", strconv.Itoa(k.Region), "is not a region of the section", "check the number")
		}
		c.point(name+".from", k.From)
		c.point(name+".to", k.To)
		c.number(name+".length", k.Length, joints.Range{Min: 0, Max: mostBeyond})
	}
	if p.NodeLimit > mostNodes {
		c.add(joints.FaultRange, "node-limit", strconv.Itoa(p.NodeLimit), fmt.Sprintf("at most %d nodes", mostNodes), "give a smaller limit")
	}
	c.number("sizing.min", p.Sizing.Min, SizeRange)
	c.number("sizing.grow", p.Sizing.Grow, GrowRange)
	for i, f := range p.Sizing.Focus {
		c.point(fmt.Sprintf("sizing.focus[%d]", i), f[0])
		c.point(fmt.Sprintf("sizing.focus[%d]", i), f[1])
	}
	return c.err()
}
