package heat

import (
	"math"
	"strconv"

	"fay/joints"
)

type checker struct{ faults joints.Faults }

func (c *checker) add(code joints.FaultCode, field, value, rule, remedy string) {
	c.faults = append(c.faults, joints.Fault{Code: code, Field: field, Value: value, Rule: rule, Remedy: remedy})
}

func (c *checker) err() error {
	if len(c.faults) == 0 {
		return nil
	}
	return c.faults
}

func (c *checker) number(field string, v float64, r joints.Range, unit string) bool {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.add(joints.FaultNotNumber, field, strconv.FormatFloat(v, 'g', -1, 64), "must be a finite number", "give a plain number")
		return false
	}
	if v < r.Min || v > r.Max {
		c.add(joints.FaultRange, field, show(v, unit),
			"must lie between "+show(r.Min, unit)+" and "+show(r.Max, unit), "check the unit and the decimal point")
		return false
	}
	return true
}

// optional checks a number whose zero means not given.
func (c *checker) optional(field string, v float64, r joints.Range, unit string) {
	if v != 0 {
		c.number(field, v, r, unit)
	}
}

func show(v float64, unit string) string {
	s := strconv.FormatFloat(v, 'g', 6, 64)
	if unit != "" {
		s += " " + unit
	}
	return s
}
