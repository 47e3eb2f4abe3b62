package joints

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/geometry"
)

// Axis is the line a seam runs round.
type Axis string

// The axes of round seams: upright for a tube standing on a plate, level for
// tubes butted end to end.
const (
	AxisUpright Axis = "upright"
	AxisLevel   Axis = "level"
)

// Seam is a run of weld: straight by Length or round by Around, continuous or
// in segments. The zero value of a field means not given.
type Seam struct {
	Length geometry.Length // of a straight seam
	// Around is the diameter of a round seam: at the joint root of the first
	// weld when the axis is upright, at its toe on the outer surface when it is
	// level. Other welds have a circle of their own, through the same place.
	Around geometry.Length
	Axis   Axis // upright when empty
	Inside bool // the arrow side faces the axis
	// Count is how many seams alike a part has; 1 when zero.
	Count int
	// Segment and Pitch, centre to centre, make the seam intermittent;
	// Segments says how many, or as many as fit when zero. Staggered puts
	// the other side's segments half a pitch on.
	Segment, Pitch geometry.Length
	Segments       int
	Staggered      bool
	// Welds names the welds that the seam has; all of the section's when empty.
	Welds []string
}

// The ranges of seams.
var (
	seamRange   = Range{1, 1e6}
	aroundRange = Range{3, 1e5}
	countRange  = Range{0, 1e6}
)

// Run is what a seam needs of one weld.
type Run struct {
	Weld     string
	Segments int             // 1 for a continuous seam
	Segment  geometry.Length // length of each
	// Length is that of all segments of all seams alike: of a round seam along
	// the weld's own circle, at its joint root or, where the axis is level, at
	// its toe on the first member.
	Length geometry.Length
	Volume float64 // deposited metal, mm³, all seams alike
	Fused  float64 // fused metal, mm³
}

// Runs measures a seam against the welds of a section. A round seam takes the
// path of each deposit's centroid (Pappus), not the mean diameter. The error,
// if any, is of type [Faults]; field names start with prefix.
func (s *Section) Runs(seam Seam, prefix string) ([]Run, error) {
	c := &checker{}
	s.seamValues(c, &seam, prefix)
	if !c.ok() {
		return nil, c.err()
	}
	var runs []Run
	for i := range s.Welds {
		w := &s.Welds[i]
		if len(seam.Welds) > 0 && !contains(seam.Welds, w.ID) {
			continue
		}
		length := float64(seam.Length)
		grow := 1.0 // of the centroid's path over the weld's length
		if seam.Around > 0 {
			start, centroid, least := s.radii(seam, w)
			if least <= 0 {
				c.add(Fault{Code: FaultRange, Field: prefix + "around", Value: showLength(float64(seam.Around)),
					Rule:   "is so small that the " + w.ID + " weld reaches past the axis",
					Remedy: "give at least " + showLength(upTo(float64(seam.Around)-2*least+0.01))})
				continue
			}
			length, grow = 2*math.Pi*start, centroid/start
		}
		run := Run{Weld: w.ID, Segments: 1, Segment: geometry.Length(length)}
		if seam.Segment > 0 {
			run.Segments, run.Segment = s.segments(c, seam, length, w.Side == OtherSide, prefix), seam.Segment
		}
		total := float64(run.Segments) * float64(run.Segment) * float64(max(seam.Count, 1))
		run.Length = geometry.Length(total)
		run.Volume = total * grow * w.DepositedArea
		run.Fused = total * grow * w.Area
		runs = append(runs, run)
	}
	if !c.ok() {
		return nil, c.err()
	}
	return runs, nil
}

func contains(list []string, s string) bool {
	return slices.Contains(list, s)
}

// radii returns the distances from the axis of a round seam of a weld's start,
// which its length is measured at, and of its centroid, and the smallest that
// the start or any of its metal has.
func (s *Section) radii(seam Seam, w *Weld) (start, centroid, least float64) {
	box := w.Profile.Bounds()
	first := &s.Welds[0]
	d := float64(seam.Around) / 2
	switch {
	case seam.Axis == AxisLevel:
		axis := first.Feet[0].Toe.Y - d
		start, centroid, least = w.Feet[0].Toe.Y-axis, w.Centroid.Y-axis, box.Min.Y-axis
	case seam.Inside:
		axis := first.JointRoot.X + d
		start, centroid, least = axis-w.JointRoot.X, axis-w.Centroid.X, axis-box.Max.X
	default:
		axis := first.JointRoot.X - d
		start, centroid, least = w.JointRoot.X-axis, w.Centroid.X-axis, box.Min.X-axis
	}
	return start, centroid, math.Min(start, least)
}

// segments counts the segments of an intermittent seam.
func (s *Section) segments(c *checker, seam Seam, length float64, other bool, prefix string) int {
	free := length - float64(seam.Segment)
	if seam.Staggered && other {
		free -= float64(seam.Pitch) / 2
	}
	if seam.Around > 0 {
		free = length - float64(seam.Pitch) // the last pitch closes the circle
	}
	fit := 0
	if free >= -tiny*length {
		fit = int(math.Floor(free/float64(seam.Pitch)+tiny)) + 1
	}
	if seam.Segments == 0 {
		return fit
	}
	if seam.Segments > fit {
		c.add(Fault{Code: FaultUnfit, Field: prefix + "segments", Value: fmt.Sprint(seam.Segments),
			Rule:   "do not fit on a seam of " + showLength(length) + " at this pitch",
			Remedy: fmt.Sprintf("the most that fit are %d", fit)})
	}
	return seam.Segments
}

func (s *Section) seamValues(c *checker, seam *Seam, prefix string) {
	if seam.Axis == "" {
		seam.Axis = AxisUpright
		if k, ok := LookupKind(s.Kind); ok && k.Axis != "" {
			seam.Axis = k.Axis
		}
	}
	field := func(name string) string { return prefix + name }
	if seam.Axis != AxisUpright && seam.Axis != AxisLevel {
		c.oneOf(prefix+"axis", string(seam.Axis), string(AxisUpright), string(AxisLevel))
	}
	if !countRange.holds(float64(seam.Count)) {
		c.value(prefix+"count", float64(seam.Count), countRange, trimFloat)
	}
	if !countRange.holds(float64(seam.Segments)) {
		c.value(prefix+"segments", float64(seam.Segments), countRange, trimFloat)
	}
	switch {
	case seam.Length == 0 && seam.Around == 0:
		c.add(Fault{Code: FaultMissing, Field: prefix + "length", Rule: "a seam needs a length", Remedy: "give length, or around for a round seam"})
	case seam.Length != 0 && seam.Around != 0:
		c.add(Fault{Code: FaultConflict, Field: prefix + "around", Value: showLength(float64(seam.Around)),
			Rule: "length and around exclude each other", Remedy: "keep one of them"})
	case seam.Length != 0:
		c.lengthOf(field, "length", seam.Length, seamRange)
	default:
		c.lengthOf(field, "around", seam.Around, aroundRange)
	}
	if (seam.Segment != 0) != (seam.Pitch != 0) {
		c.add(Fault{Code: FaultMissing, Field: prefix + "pitch", Rule: "an intermittent seam needs segment and pitch", Remedy: "give both, or neither for a continuous seam"})
		return
	}
	if seam.Segment == 0 {
		if seam.Segments > 0 || seam.Staggered {
			c.add(Fault{Code: FaultConflict, Field: prefix + "segment", Rule: "a continuous seam has no segments", Remedy: "give segment and pitch"})
		}
	} else if c.lengthOf(field, "segment", seam.Segment, seamRange) && c.lengthOf(field, "pitch", seam.Pitch, seamRange) {
		whole := seam.Length
		if seam.Around > 0 {
			whole = geometry.Length(math.Pi * float64(seam.Around))
		}
		if seam.Segment >= seam.Pitch {
			c.add(Fault{Code: FaultUnfit, Field: prefix + "segment", Value: showLength(float64(seam.Segment)),
				Rule:   "is not shorter than the pitch, " + showLength(float64(seam.Pitch)) + " centre to centre",
				Remedy: "keep the segment under the pitch, or leave both out for a continuous seam"})
		} else if seam.Segment > whole {
			c.add(Fault{Code: FaultUnfit, Field: prefix + "segment", Value: showLength(float64(seam.Segment)),
				Rule: "is longer than the seam, " + showLength(float64(whole)), Remedy: "the longest segment is " + showLength(downTo(float64(whole)))})
		}
	}
	for _, id := range seam.Welds {
		if _, ok := s.Weld(id); !ok {
			ids := make([]string, len(s.Welds))
			for i := range s.Welds {
				ids[i] = s.Welds[i].ID
			}
			c.add(Fault{Code: FaultUnknown, Field: prefix + "welds", Value: id,
				Rule: "is not a weld of this joint", Remedy: "use one of " + strings.Join(ids, ", ")})
		}
	}
}

// Note says in a few words how a seam runs, as a drawing notes it.
func (seam Seam) Note(show func(geometry.Length) string) string {
	var b strings.Builder
	if seam.Around > 0 {
		b.WriteString("all round ⌀" + show(seam.Around))
	} else {
		b.WriteString("length " + show(seam.Length))
	}
	if seam.Segment > 0 {
		fmt.Fprintf(&b, ", %s at %s centres", show(seam.Segment), show(seam.Pitch))
		if seam.Staggered {
			b.WriteString(", staggered")
		} else {
			b.WriteString(", chain")
		}
	}
	if seam.Count > 1 {
		fmt.Fprintf(&b, ", %d off", seam.Count)
	}
	return b.String()
}
