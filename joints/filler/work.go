package filler

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Work is the shop's own time for what is done besides welding, and how much of
// it a section asks for. Zero times add nothing: fay knows none of its own.
type Work struct {
	EdgeMinPerM  float64 // of one prepared face of an edge
	TurnMin      float64 // of turning the part once
	GougeMinPerM float64 // of gouging one root

	Faces  int // prepared faces of edges along the seam
	Turns  int // of the part
	Gouged int // roots that are gouged along the seam
}

// WorkLine is the time of one kind of work. The time per metre is absent where
// it hangs on the length of the seam and none is given.
type WorkLine struct {
	Name     string   `json:"name"` // edges, turning, gouging
	MinPerM  *float64 `json:"min_per_m,omitempty"`
	Min      *float64 `json:"min_per_part,omitempty"`
	MinTotal *float64 `json:"min_total,omitempty"`
}

// WorkOf counts what a section asks for besides welding: the faces that are
// bevelled, the turns to reach the other side, and the roots of welds that meet
// from both sides, which are gouged (common practice, no source).
func WorkOf(s *joints.Section) Work {
	w := Work{Faces: preparedFaces(s)}
	arrow, other := false, false
	for i := range s.Welds {
		arrow = arrow || s.Welds[i].Side != joints.OtherSide
		other = other || s.Welds[i].Side == joints.OtherSide
	}
	if arrow && other {
		w.Turns = 1
	}
	if BackGouged(s) {
		w.Gouged = 1
	}
	return w
}

// preparedFaces counts the faces that are cut on edges: two under a groove
// angle, one under a bevel angle, two of a radius without an angle.
func preparedFaces(s *joints.Section) int {
	const groove, bevel, radius = "groove angle", "bevel angle", "root radius"
	n := 0
	grooves, bevels, radii := map[string]bool{}, map[string]int{}, map[string]bool{}
	for i := range s.Measures {
		name := s.Measures[i].Name
		if side, ok := strings.CutSuffix(name, groove); ok {
			grooves[side] = true
		}
		if side, ok := strings.CutSuffix(name, bevel); ok {
			bevels[side]++
		}
		if side, ok := strings.CutSuffix(name, radius); ok {
			radii[side] = true
		}
	}
	for range grooves {
		n += 2
	}
	for side, count := range bevels {
		if !grooves[side] {
			n += count
		}
	}
	for side := range radii {
		if !grooves[side] && bevels[side] == 0 {
			n += 2
		}
	}
	return n
}

// BackGouged reports whether grooves from both sides meet in the plate, so that
// the second side is gouged to sound metal (common practice, no source).
func BackGouged(s *joints.Section) bool {
	var depth [2]float64
	for i := range s.Welds {
		w := &s.Welds[i]
		if w.Kind != joints.GrooveWeld {
			continue
		}
		side := 0
		if w.Side == joints.OtherSide {
			side = 1
		}
		depth[side] = math.Max(depth[side], GrooveDepth(s, w))
	}
	t := float64(s.Members[s.ThinnerMember()].Thickness)
	return depth[0] > 0 && depth[1] > 0 && depth[0]+depth[1] >= t*(1-1e-6)
}

// onFace is how near a toe lies to the face of its member, mm.
const onFace = 1e-6

// GrooveDepth is how deep the root of a groove weld lies under the face of the
// member that is prepared, mm, penetration left out: unlike the throat it counts
// no fillet on the groove.
func GrooveDepth(s *joints.Section, w *joints.Weld) float64 {
	if s.Kind == "butt" {
		return float64(w.TheoreticalThroat)
	}
	deep := 0.0
	for _, e := range s.Members[w.Feet[1].Member].Outline.All() {
		if e.Kind() != geometry.LineEdge || e.Distance(w.Feet[1].Toe) > onFace {
			continue
		}
		along := e.End().Sub(e.Start()).Unit()
		deep = math.Max(deep, math.Abs(along.Cross(w.RootCorner.Sub(e.Start()))))
	}
	return deep
}

// work adds the shop's own times and what is paid for in all.
func (f *Filler) work(c *chain) {
	w := &c.p.Work
	seam := c.seamLength() / gramsPerKilogram // m
	lot := float64(c.p.Quantity)
	add := func(name string, minutes float64, times int, once bool) {
		if minutes == 0 || times == 0 {
			return
		}
		n := minutes * float64(times)
		l := WorkLine{Name: name}
		switch {
		case !once:
			l.MinPerM = &n
			if seam > 0 {
				l.Min = new(n * seam)
			}
		default:
			if seam > 0 {
				l.MinPerM = new(n / seam)
			}
			l.Min = &n
		}
		if l.Min != nil && lot > 0 {
			l.MinTotal = new(*l.Min * lot)
		}
		f.Work = append(f.Work, l)
	}
	add("edges", w.EdgeMinPerM, w.Faces, false)
	add("turning", w.TurnMin, w.Turns, true)
	add("gouging", w.GougeMinPerM, w.Gouged, false)
	if s := &c.p.Rates.ArcShare; *s > 0 && *s < 1 {
		f.ArcShare = s
	}
	if f.ArcShare != nil || w.EdgeMinPerM+w.TurnMin+w.GougeMinPerM > 0 {
		f.PaidMinPerM = f.paid(f.ArcTimeMinPerM, func(l *WorkLine) *float64 { return l.MinPerM })
		f.PaidMin = f.paid(f.ArcTimeMin, func(l *WorkLine) *float64 { return l.Min })
		f.PaidMinTotal = f.paid(f.ArcTimeMinTotal, func(l *WorkLine) *float64 { return l.MinTotal })
	}
}

// PaidArc is the paid time of a time of arc, by the share that the arc burns of
// it; nil where that is.
func (f *Filler) PaidArc(minutes *float64) *float64 {
	if minutes == nil || f.ArcShare == nil {
		return minutes
	}
	return new(*minutes / *f.ArcShare)
}

// paid is arc time by its share in paid time and the work besides; nil where one
// of them is not known.
func (f *Filler) paid(arc *float64, of func(*WorkLine) *float64) *float64 {
	if arc == nil {
		return nil
	}
	sum := *f.PaidArc(arc)
	for i := range f.Work {
		v := of(&f.Work[i])
		if v == nil {
			return nil
		}
		sum += *v
	}
	return &sum
}

// seamLength is that of one part, mm: of its longest weld seam by seam, for
// edges are prepared once for all welds along them; 0 where none is given.
func (c *chain) seamLength() float64 {
	if len(c.p.Runs) == 0 {
		return float64(c.p.SeamLength)
	}
	sum, seam, longest := 0.0, 0, 0.0
	for _, r := range c.p.Runs { // by seam
		if r.Seam != seam {
			sum, seam, longest = sum+longest, r.Seam, 0
		}
		longest = math.Max(longest, float64(r.Length))
	}
	return sum + longest
}
