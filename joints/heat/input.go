package heat

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Input is a joint, what it is made of, and the arc that is to weld it.
type Input struct {
	Section *joints.Section
	// Weld is the id of the weld that is made; empty for the first one.
	Weld string
	// Done are the ids of welds laid before this one: they carry heat.
	Done []string
	// Members in the order of the section's.
	Members []Member
	Arc     Arc
	// Wet is the leg to be wetted on each member; 0 takes the leg, at most the
	// thinner plate.
	Wet geometry.Length
	// Reach is the distance from the middle of the arc's spot to the root; 0
	// takes it from the middle of the finished face. For a root run in a deep
	// preparation give the thickness the arc has to melt through.
	Reach geometry.Length
	// FillerArea is the metal laid in one run, mm²; 0 takes the weld's.
	FillerArea float64
	// Filler is the metal laid; nil takes that of the thinner member.
	Filler *Material
	// Fahrenheit prints °F beside °C in the words of the answer.
	Fahrenheit bool
	// Length of the seam, mm, for the warming of the whole part; 0 for not known.
	Length geometry.Length
}

// Member is what heat needs to know of a member beside its geometry.
type Member struct {
	Material Material
	// Preheat is the temperature at which the member meets the arc, °C. Zero
	// is zero degrees; a shop is at [Room].
	Preheat float64
	// FreeEdges are the distances from the joint root to real edges of the
	// plate that the section draws as going on, nearest first; at most one for
	// each way that goes on.
	FreeEdges []geometry.Length
	// Mass of the whole member, kg; 0 for not known.
	Mass float64
}

// Room is the usual temperature of a shop, °C.
const Room = 20.

// The ranges of input values that are taken.
var (
	PreheatRange  = joints.Range{Min: -60, Max: 600} // °C
	FreeEdgeRange = joints.Range{Min: 0.5, Max: 1e5} // mm
	WetRange      = joints.Range{Min: 0.3, Max: 150} // mm
	ReachRange    = joints.Range{Min: 0.05, Max: 300}
	AreaRange     = joints.Range{Min: 1e-3, Max: 1e5} // mm²
	MassRange     = joints.Range{Min: 1e-4, Max: 1e6} // kg
	LengthRange   = joints.Range{Min: 1, Max: 1e6}    // mm
)

// joint is an input checked and read: everything the engines need.
type joint struct {
	in   *Input
	weld *joints.Weld
	feet [2]int
	// ways of every member of the section that carries heat, with its number.
	ways []memberWay
	// connected members, the feet first.
	members []int
	wet     float64 // m
	reach   float64 // m, from the arc to the root
	leg     float64 // m
	filler  *Material
	area    float64 // m² of filler
}

type memberWay struct {
	way
	member int
	open   bool // goes on without end
}

// read checks the input and takes it apart. The error is of type [joints.Faults].
func (in *Input) read() (*joint, error) {
	c := &checker{}
	if in.Arc.Spot == 0 {
		in.Arc.Spot = usualSpot
	}
	c.arc(&in.Arc)
	if in.Section == nil || len(in.Section.Welds) == 0 {
		c.add(joints.FaultMissing, "section", "", "heat needs a joint with a weld", "give a joint")
		return nil, c.err()
	}
	j := &joint{in: in, weld: &in.Section.Welds[0]}
	if in.Weld != "" {
		w, ok := in.Section.Weld(in.Weld)
		if !ok {
			c.add(joints.FaultUnknown, "weld", in.Weld, "is not a weld of this joint", "use one of "+weldNames(in.Section))
			return nil, c.err()
		}
		j.weld = w
	}
	for _, id := range in.Done {
		if _, ok := in.Section.Weld(id); !ok || id == j.weld.ID {
			c.add(joints.FaultUnknown, "done", id, "is not another weld of this joint", "use one of "+weldNames(in.Section))
		}
	}
	if j.weld.Kind == joints.PlugWeld {
		c.add(joints.FaultUnfit, "weld", j.weld.ID, "a plug or slot is no seam: the arc does not travel along it", "heat answers for seams only")
		return nil, c.err()
	}
	if len(in.Members) != len(in.Section.Members) {
		c.add(joints.FaultMissing, "members", fmt.Sprint(len(in.Members)),
			fmt.Sprintf("the joint has %d members", len(in.Section.Members)), "give the material of each")
		return nil, c.err()
	}
	for i := range in.Members {
		in.member(c, i)
	}
	c.optional("wet", float64(in.Wet), WetRange, "mm")
	c.optional("reach", float64(in.Reach), ReachRange, "mm")
	c.optional("filler-area", in.FillerArea, AreaRange, "mm²")
	c.optional("length", float64(in.Length), LengthRange, "mm")
	if in.Filler != nil {
		c.material("filler", in.Filler)
	}
	if c.err() != nil {
		return nil, c.err()
	}
	j.feet = [2]int{j.weld.Feet[0].Member, j.weld.Feet[1].Member}
	for _, f := range j.feet {
		if f < 0 || f >= len(in.Members) {
			c.add(joints.FaultGeometry, "weld", j.weld.ID, "does not stand on members of the section", "give a joint made by this program")
			return nil, c.err()
		}
	}
	j.connect()
	j.findWays(c)
	j.sizes()
	return j, c.err()
}

func weldNames(s *joints.Section) string {
	names := make([]string, len(s.Welds))
	for i := range s.Welds {
		names[i] = s.Welds[i].ID
	}
	return strings.Join(names, ", ")
}

func (in *Input) member(c *checker, i int) {
	m := &in.Members[i]
	name := in.Section.Members[i].Name
	if name == "" {
		name = fmt.Sprintf("members[%d]", i)
	}
	c.material(name, &m.Material)
	if c.number(name+".preheat", m.Preheat, PreheatRange, "°C") && m.Preheat >= m.Material.Solidus {
		c.add(joints.FaultConflict, name+".preheat", show(m.Preheat, "°C"), "must lie below the solidus", "check the preheat")
	}
	for _, e := range m.FreeEdges {
		c.number(name+".free-edge", float64(e), FreeEdgeRange, "mm")
	}
	c.optional(name+".mass", m.Mass, MassRange, "kg")
	c.number(name+".thickness", float64(in.Section.Members[i].Thickness), joints.ThicknessRange, "mm")
}

// connect lists the members that heat reaches through metal: the two the weld
// stands on, and what welds laid before join to them.
func (j *joint) connect() {
	j.members = []int{j.feet[0]}
	j.join(j.feet[1])
	for range j.in.Done {
		for _, id := range j.in.Done {
			w, _ := j.in.Section.Weld(id)
			if w.Kind == joints.PlugWeld {
				continue
			}
			a, b := w.Feet[0].Member, w.Feet[1].Member
			if j.has(a) {
				j.join(b)
			} else if j.has(b) {
				j.join(a)
			}
		}
	}
}

func (j *joint) has(m int) bool { return slices.Contains(j.members, m) }

func (j *joint) join(m int) {
	if m >= 0 && m < len(j.in.Members) && !j.has(m) {
		j.members = append(j.members, m)
	}
}

// findWays lists the ways out of the joint. A way ends at a free edge where
// the drawn member ends for real, or where the user says so.
func (j *joint) findWays(c *checker) {
	for _, i := range j.members {
		sm, m := &j.in.Section.Members[i], &j.in.Members[i]
		ends := wayEnds(sm, j.weld.JointRoot)
		free := m.FreeEdges
		open := 0
		for _, e := range ends {
			if math.IsInf(e, 1) {
				open++
			}
		}
		if len(free) > open {
			c.add(joints.FaultConflict, sm.Name+".free-edge", fmt.Sprint(len(free)),
				fmt.Sprintf("only %d ends of this member go on beyond the section", open), "give fewer")
			continue
		}
		for _, e := range ends {
			w := memberWay{member: i, way: way{k: m.Material.Conductivity, rc: m.Material.volumetric(),
				thickness: float64(sm.Thickness) * mm, edge: e * mm}}
			if math.IsInf(e, 1) && len(free) > 0 {
				w.edge = float64(free[0]) * mm
				free = free[1:]
			}
			w.open = math.IsInf(w.edge, 1)
			j.ways = append(j.ways, w)
		}
	}
}

const mm = 1e-3

// wayEnds lists, for each way out of the joint inside a member, the distance
// from the root to the member's real edge, mm, +Inf where the plate goes on.
func wayEnds(m *joints.Member, root geometry.Point) []float64 {
	n := max(1, min(m.Ways, 4))
	axis := plateAxis(m)
	var ends []float64
	openSide := [2]bool{}
	for _, b := range m.Broken {
		if b < 0 || b >= m.Outline.Len() || len(ends) == n {
			continue
		}
		ends = append(ends, math.Inf(1))
		e := m.Outline.Edge(b)
		mid := e.Start().Lerp(e.End(), 0.5).Sub(root)
		if mid.Dot(axis) >= 0 {
			openSide[0] = true
		} else {
			openSide[1] = true
		}
	}
	for len(ends) < n {
		// The side of the member that no break takes, or the longer one.
		far := [2]float64{}
		for _, e := range m.Outline.All() {
			d := e.Start().Sub(root).Dot(axis)
			far[0], far[1] = max(far[0], d), max(far[1], -d)
		}
		side := 0
		if openSide[0] || (!openSide[1] && far[1] > far[0]) {
			side = 1
		}
		openSide[side] = true
		ends = append(ends, max(far[side], float64(m.Thickness)/2))
	}
	return ends
}

// plateAxis is the direction in which a member runs: out through its break, or
// along its longest straight edge.
func plateAxis(m *joints.Member) geometry.Point {
	if len(m.Broken) > 0 && m.Broken[0] >= 0 && m.Broken[0] < m.Outline.Len() {
		e := m.Outline.Edge(m.Broken[0])
		return e.End().Sub(e.Start()).Perp().Scale(-1).Unit()
	}
	var best geometry.Point
	for _, e := range m.Outline.All() {
		if d := e.End().Sub(e.Start()); d.Norm() > best.Norm() {
			best = d
		}
	}
	return best.Unit()
}

// sizes settles the lengths the closed form works with.
func (j *joint) sizes() {
	w := j.weld
	mid := w.Feet[0].Toe.Lerp(w.Feet[1].Toe, 0.5)
	reach := float64(j.in.Reach)
	if reach == 0 {
		root := w.JointRoot
		if w.Kind != joints.FilletWeld {
			root = w.WeldRoot
		}
		reach = mid.Dist(root)
	}
	thin := min(float64(j.thickness(0)), float64(j.thickness(1)))
	leg := 0.5 * float64(w.Feet[0].Leg+w.Feet[1].Leg)
	wet := float64(j.in.Wet)
	if wet == 0 {
		wet = thin
		if w.Kind == joints.FilletWeld {
			wet = min(leg, thin)
		}
	}
	j.reach, j.wet, j.leg = max(reach, 0.01)*mm, wet*mm, max(leg, reach)*mm
	j.filler = j.in.Filler
	if j.filler == nil {
		j.filler = &j.in.Members[j.feet[j.thinner()]].Material
	}
	j.area = w.DepositedArea * mm * mm
	if j.in.FillerArea > 0 {
		j.area = j.in.FillerArea * mm * mm
	}
}

func (j *joint) thickness(foot int) geometry.Length {
	return j.in.Section.Members[j.feet[foot]].Thickness
}

// thinner is the foot on the thinner member, the second of equals: the one
// that ends at the joint.
func (j *joint) thinner() int {
	if j.thickness(0) < j.thickness(1) {
		return 0
	}
	return 1
}

func (j *joint) name(foot int) string { return j.in.Section.Members[j.feet[foot]].Name }

func (j *joint) member(foot int) *Member { return &j.in.Members[j.feet[foot]] }
