package joints

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fay/geometry"
)

// Range is a stated physical range, both ends included, in millimetres,
// radians or plain numbers according to what it limits.
type Range struct{ Min, Max float64 }

// The ranges below bound what the program takes at all. They are wide of shop
// practice on purpose: they catch a wrong unit or a slipped decimal point, and
// keep every computation well inside what floating point resolves.
var (
	// ThicknessRange: foil is not welded with filler, and 300 mm plate is
	// outside any small shop.
	ThicknessRange = Range{0.2, 300}
	// LegRange bounds legs, gauge legs and throats.
	LegRange = Range{0.3, 150}
	// GapRange bounds the gap under a fillet. Its end is the widest fillet gap
	// that a rule on file deals with at all: 5 mm (3/16 in), AWS D1.1 assembly
	// clause as reported (secondary source); wider gaps ask for another fit-up.
	GapRange = Range{0, 5}
	// OpeningRange bounds root openings of grooves.
	OpeningRange = Range{0, 25}
	// RiseRange bounds convexity and concavity at mid-face.
	RiseRange = Range{0, 25}
	// FusionRange bounds fusion depths and penetration.
	FusionRange = Range{0, 50}
	// OverlapRange bounds the overlap of lap joints.
	OverlapRange = Range{0.5, 2000}
	// SkewRange bounds the dihedral angle of tee joints on the arrow side.
	SkewRange = Range{30 * float64(geometry.Degree), 150 * float64(geometry.Degree)}
)

// tiny is the slack, relative to the sizes compared, inside which two lengths
// that were computed on different routes count as equal.
const tiny = 1e-9

// checker collects faults while a constructor reads its parameters.
type checker struct{ faults Faults }

// add notes a fault; what is wrong with both legs alike is told once.
func (c *checker) add(f Fault) {
	if !slices.Contains(c.faults, f) {
		c.faults = append(c.faults, f)
	}
}

func (c *checker) ok() bool { return len(c.faults) == 0 }

// err returns the faults as an error, or nil when there are none.
func (c *checker) err() error {
	if c.ok() {
		return nil
	}
	return c.faults
}

// length checks that v is finite and in r.
func (c *checker) length(field string, v geometry.Length, r Range) bool {
	return c.value(field, float64(v), r, showLength)
}

// lengthOf is length for a field that stands in something: its full name is
// put together where there is something to say.
func (c *checker) lengthOf(field func(string) string, name string, v geometry.Length, r Range) bool {
	return r.holds(float64(v)) || c.length(field(name), v, r)
}

// angleOf is lengthOf for an angle.
func (c *checker) angleOf(field func(string) string, name string, v geometry.Angle, r Range) {
	if !r.holds(float64(v)) {
		c.angle(field(name), v, r)
	}
}

// holds reports whether v is a number in the range. The slack lets a limit be
// stated in degrees or inches and still be met.
func (r Range) holds(v float64) bool {
	slack := tiny * math.Max(math.Abs(r.Min), math.Abs(r.Max))
	return v >= r.Min-slack && v <= r.Max+slack
}

// angle checks that v is finite and in r.
func (c *checker) angle(field string, v geometry.Angle, r Range) {
	c.value(field, float64(v), r, showAngle)
}

func (c *checker) value(field string, v float64, r Range, show func(float64) string) bool {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.add(Fault{Code: FaultNotNumber, Field: field, Value: strconv.FormatFloat(v, 'g', -1, 64),
			Rule: "must be a finite number", Remedy: "give a plain number such as 6 or 1/4in"})
		return false
	}
	if !r.holds(v) {
		nearest := r.Min
		if v > r.Max {
			nearest = r.Max
		}
		c.add(Fault{Code: FaultRange, Field: field, Value: show(v),
			Rule:   fmt.Sprintf("must lie between %s and %s", show(r.Min), show(r.Max)),
			Remedy: fmt.Sprintf("the nearest value that is taken is %s", show(nearest))})
		return false
	}
	return true
}

func (c *checker) plate(field string, p Plate) bool {
	return c.lengthOf(func(name string) string { return field + name }, ".thickness", p.Thickness, ThicknessRange)
}

func showLength(v float64) string { return trimFloat(v) + " mm" }

func showAngle(v float64) string { return trimFloat(geometry.Angle(v).Degrees()) + "°" }

// trimFloat prints v with at most four decimals and no trailing zeros: enough
// to tell two plates apart, short enough to read in a message.
func trimFloat(v float64) string {
	s := strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}

// upTo rounds v to hundredths of a millimetre towards a value that is taken,
// so that a remedy can be typed in as printed.
func upTo(v float64) float64   { return math.Ceil(v*100-1e-6) / 100 }
func downTo(v float64) float64 { return math.Floor(v*100+1e-6) / 100 }
