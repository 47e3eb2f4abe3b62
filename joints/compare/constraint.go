package compare

import (
	"math"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/filler"
)

// broken says which constraints an alternative breaks.
func (c *Constraints) broken(row *Row) []string {
	var out []string
	s := row.Section
	if c.OneSide {
		for i := range s.Welds {
			if w := &s.Welds[i]; w.Side == joints.OtherSide {
				out = append(out, "needs access to the other side: weld "+w.ID)
				break
			}
		}
	}
	if c.NoBackGouging && filler.BackGouged(s) {
		out = append(out, "is welded through from both sides: the second is back-gouged (common practice, no source)")
	}
	if c.TorchAngle > 0 {
		if room, ok := torchRoom(s); ok && room < c.TorchAngle-tinyAngle {
			out = append(out, "leaves the torch "+trim(room.Degrees())+"°, less than "+trim(c.TorchAngle.Degrees())+"°")
		}
	}
	if c.EdgeAllowance > 0 {
		if left, ok := edgeLeft(s); ok && left < c.EdgeAllowance-tinyLength {
			out = append(out, "leaves "+trim(float64(left))+" mm of an edge, less than "+trim(float64(c.EdgeAllowance))+" mm")
		}
	}
	for _, why := range [2]string{c.tooThin(row), c.tooHigh(row)} {
		if why != "" {
			out = append(out, why)
		}
	}
	if c.MostKgPerM > 0 {
		switch m := row.Values.Mass; {
		case m == nil:
			out = append(out, "takes an unknown mass of filler: name a filler")
		case *m > c.MostKgPerM*(1+1e-9):
			out = append(out, "takes "+trim(*m)+" kg/m, more than "+trim(c.MostKgPerM)+" kg/m")
		}
	}
	if c.AllMet && len(row.NotMet) > 0 {
		out = append(out, "does not meet "+strings.Join(row.NotMet, ", "))
	}
	return out
}

// What lies closer than these to a limit lies on it: results print coarser.
const (
	tinyAngle  = geometry.Angle(1e-9)
	tinyLength = geometry.Length(1e-9)
)

// torchRoom is the least angle that the torch has at the root of a weld: that
// between the members of a fillet, that between the faces of a prepared
// groove. Square edges leave the face open and bound nothing.
func torchRoom(s *joints.Section) (room geometry.Angle, bounded bool) {
	room = geometry.Angle(math.Inf(1))
	lean := geometry.Angle(0) // of a member that stands on another one
	for i := range s.Welds {
		switch w := &s.Welds[i]; w.Kind {
		case joints.FilletWeld:
			room = min(room, w.Dihedral)
		case joints.GrooveWeld:
			if w.Dihedral > 0 {
				lean = w.Dihedral - geometry.Angle(math.Pi/2)
			}
		case joints.EdgeWeld, joints.PlugWeld:
		}
	}
	for i := range s.Measures {
		m := &s.Measures[i]
		switch strings.TrimPrefix(m.Name, "other ") {
		case "groove angle", "bevel angle":
			room = min(room, geometry.Angle(m.Value)*geometry.Degree+lean)
		}
	}
	return room, !math.IsInf(float64(room), 1)
}

// edgeLeft is the least that a weld leaves of a real edge.
func edgeLeft(s *joints.Section) (left geometry.Length, bounded bool) {
	for i := range s.Welds {
		for _, f := range s.Welds[i].Feet {
			if f.EdgeRemaining.Present && (!bounded || f.EdgeRemaining.Value < left) {
				left, bounded = f.EdgeRemaining.Value, true
			}
		}
	}
	return left, bounded
}

func trim(v float64) string { return strconv.FormatFloat(geometry.Round(v, 3), 'f', -1, 64) }
