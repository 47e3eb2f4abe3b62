package heat

import (
	"fmt"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat/field"
)

// Faces says how the faying faces of the members touch.
type Faces string

// The ways faces touch. Empty means open: a dry joint conducts so little that
// the root is within 0.1 % of that of open faces (own computation).
const (
	FacesOpen    Faces = "open"
	FacesContact Faces = "contact" // coupled by a conductance
	FacesBonded  Faces = "bonded"  // as one piece
)

// FieldParams says how the field is computed.
type FieldParams struct {
	Faces Faces
	// Conductance of the faces, W/(m²·K), with FacesContact. Dry plates lie
	// near 5000.
	Conductance float64
	// AimShift moves the aim along the line from toe to toe: 0 is its middle,
	// +0.5 the toe on the first member, −0.5 the toe on the second.
	AimShift float64
	// Detail refines the mesh; 0 is 1, about 1500 nodes for a usual tee.
	Detail float64
	// NodeLimit refuses larger meshes; 0 takes [field.NodeLimit].
	NodeLimit int
}

var (
	// ConductanceRange in W/(m²·K).
	ConductanceRange = joints.Range{Min: 1, Max: 1e7}
	// AimRange of the shift.
	AimRange = joints.Range{Min: -0.5, Max: 0.5}
	// DetailRange of the mesh.
	DetailRange = joints.Range{Min: 0.3, Max: 4}
)

const (
	// plateReach is how far beyond the toe plates are meshed before they are
	// cut and carried on as fins, in thicknesses: as in the checked cases.
	plateReach = 6
	// acrossPlate is how many triangle sides a plate's thickness holds.
	acrossPlate = 4
	flatTo      = 0.01 // mm, flattening of curved outlines
)

// layout is the section as regions of a mesh.
type layout struct {
	params  field.Params
	regions []regionOf
	aim     geometry.Point
}

// regionOf tells what a region is.
type regionOf struct {
	name     string
	member   int // -1 for weld metal
	material *Material
	start    float64 // °C
}

func (p *FieldParams) check() error {
	c := &checker{}
	switch p.Faces {
	case "", FacesOpen, FacesBonded:
		if p.Conductance != 0 {
			c.add(joints.FaultConflict, "faces.conductance", show(p.Conductance, ""), "goes with faces in contact only", "give faces=contact")
		}
	case FacesContact:
		c.number("faces.conductance", p.Conductance, ConductanceRange, "W/(m²·K)")
	default:
		c.add(joints.FaultUnknown, "faces", string(p.Faces), "must be open, contact or bonded", "leave it out for open")
	}
	c.number("aim", p.AimShift, AimRange, "")
	if p.Detail == 0 {
		p.Detail = 1
	}
	c.number("detail", p.Detail, DetailRange, "")
	return c.err()
}

// lay turns the joint into regions, seams and cuts.
func (j *joint) lay(p FieldParams) (*layout, error) {
	l := &layout{}
	s := j.in.Section
	c := &checker{}
	members := j.members
	if p.Faces == FacesContact || p.Faces == FacesBonded {
		members = nil
		for i := range s.Members {
			members = append(members, i)
		}
	}
	start := j.startAtRoot()
	for _, i := range members {
		region := len(l.regions)
		sm, m := &s.Members[i], &j.in.Members[i]
		points, cuts := j.extend(c, i, region)
		l.regions = append(l.regions, regionOf{sm.Name, i, &m.Material, m.Preheat})
		l.params.Regions = append(l.params.Regions, field.Region{Outline: points, Metal: conductor(&m.Material),
			Cap: float64(sm.Thickness) / acrossPlate})
		l.params.Cuts = append(l.params.Cuts, cuts...)
	}
	if p.Faces != FacesBonded {
		for a := range members {
			for b := a + 1; b < len(members); b++ {
				l.params.Seams = append(l.params.Seams, field.Seam{A: a, B: b, Conductance: p.Conductance})
			}
		}
	}
	weld := func(w *joints.Weld) {
		l.regions = append(l.regions, regionOf{w.ID + " weld", -1, j.filler, start})
		l.params.Regions = append(l.params.Regions, field.Region{Outline: w.Profile.Flatten(flatTo), Metal: conductor(j.filler)})
	}
	weld(j.weld)
	for _, id := range j.in.Done {
		if w, ok := s.Weld(id); ok && w.Kind != joints.PlugWeld {
			weld(w)
		}
	}
	toe := [2]geometry.Point{j.weld.Feet[0].Toe, j.weld.Feet[1].Toe}
	l.aim = toe[1].Lerp(toe[0], 0.5+p.AimShift)
	face := toe[0].Dist(toe[1])
	spot := float64(j.in.Arc.Spot)
	size := max(spot/6, face/45)
	size = max(0.02, min(size, max(face, spot)/8)) / p.Detail
	root := j.rootPoint()
	l.params.Sizing = field.Sizing{Min: size, Grow: 0.08 / p.Detail,
		Focus: [][2]geometry.Point{toe, {root, root}, {l.aim, l.aim}}}
	l.params.NodeLimit = p.NodeLimit
	// Places that are watched are nodes: the nearest one may lie half a side off.
	for _, w := range j.watch(l) {
		r := &l.params.Regions[w.region]
		r.Outline = withCorner(r.Outline, w.at)
	}
	return l, c.err()
}

// onOutline is how near to an outline a place counts as lying on it, mm.
const onOutline = 1e-4

// withCorner is an outline with a corner more at a place on one of its sides;
// the outline itself where the place is on none, or a corner already.
func withCorner(outline []geometry.Point, at geometry.Point) []geometry.Point {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		side := b.Sub(a)
		t := at.Sub(a).Dot(side) / side.Dot(side)
		if !(t > 0 && t < 1) {
			continue
		}
		p := a.Lerp(b, t)
		if p.Dist(at) < onOutline && p.Dist(a) > onOutline && p.Dist(b) > onOutline {
			return slices.Insert(slices.Clone(outline), i+1, p)
		}
	}
	return outline
}

func conductor(m *Material) field.Metal {
	return field.Metal{Conductivity: m.Conductivity, HeatCapacity: m.volumetric()}
}

// rootPoint is the place that has to melt.
func (j *joint) rootPoint() geometry.Point {
	if j.weld.Kind == joints.FilletWeld {
		return j.weld.JointRoot
	}
	return j.weld.WeldRoot
}

// extend flattens a member's outline and moves its breaks out: to the free
// edge where one is stated, else to where a fin takes over.
func (j *joint) extend(c *checker, member, region int) ([]geometry.Point, []field.Cut) {
	sm := &j.in.Section.Members[member]
	free := j.in.Members[member].FreeEdges
	var points []geometry.Point
	first := make([]int, sm.Outline.Len())
	for i, e := range sm.Outline.All() {
		first[i] = len(points)
		points = append(points, e.Flatten(flatTo)...)
	}
	old := slices.Clone(points)
	n := len(points)
	var cuts []field.Cut
	for k, b := range sm.Broken {
		if b < 0 || b >= sm.Outline.Len() || sm.Outline.Edge(b).Kind() != geometry.LineEdge {
			continue
		}
		from, to := first[b], (first[b]+1)%n
		e := old[to].Sub(old[from])
		out := e.Perp().Scale(-1).Unit()
		root := j.weld.JointRoot
		here := old[from].Lerp(old[to], 0.5).Sub(root).Dot(out)
		need := 0.0
		for i := range j.in.Section.Welds {
			for _, f := range j.in.Section.Welds[i].Feet {
				need = max(need, f.Toe.Sub(root).Dot(out))
			}
		}
		want := max(need+plateReach*float64(sm.Thickness), here)
		isFree := k < len(free)
		if isFree {
			want = float64(free[k])
			if want <= need*(1+1e-6) {
				c.add(joints.FaultGeometry, sm.Name+".free-edge", show(want, "mm"),
					fmt.Sprintf("lies inside a weld, whose toe is %s from the joint root", show(need, "mm")), "give the distance from the joint root to the plate's edge")
				continue
			}
		}
		shift := want - here
		points[from] = slide(old[from], old[(from+n-1)%n], out, shift)
		points[to] = slide(old[to], old[(to+1)%n], out, shift)
		if isFree && (points[from].Sub(old[(from+n-1)%n]).Dot(out) <= 0 || points[to].Sub(old[(to+1)%n]).Dot(out) <= 0) {
			c.add(joints.FaultGeometry, sm.Name+".free-edge", show(want, "mm"), "cuts away more than the straight end of the plate", "give a larger distance")
			continue
		}
		if !isFree {
			cuts = append(cuts, field.Cut{From: points[from], To: points[to], Region: region})
		}
	}
	return points, cuts
}

// slide moves the end of a plate's side along that side, by shift in the
// direction out.
func slide(p, before, out geometry.Point, shift float64) geometry.Point {
	u := p.Sub(before).Unit()
	along := u.Dot(out)
	if along < 0.3 { // no side to follow
		return p.Add(out.Scale(shift))
	}
	return p.Add(u.Scale(shift / along))
}

// surface is the direction of a member's surface away from the weld, and the
// direction into the member.
func (j *joint) surface(foot int) (along, into geometry.Point) {
	f, other := j.weld.Feet[foot], j.weld.Feet[1-foot]
	along = f.Toe.Sub(j.weld.JointRoot).Unit()
	if j.weld.Kind != joints.FilletWeld || along == (geometry.Point{}) {
		along = f.Toe.Sub(other.Toe).Unit()
	}
	into = along.Perp()
	if into.Dot(other.Toe.Sub(f.Toe)) > 0 || (into.Dot(other.Toe.Sub(f.Toe)) == 0 && into.Dot(j.weld.Centroid.Sub(f.Toe)) < 0) {
		into = into.Scale(-1)
	}
	return along, into
}

// watched is a place whose temperature is told.
type watched struct {
	name   string
	kind   PointKind
	foot   int
	at     geometry.Point
	region int
}

// watch lists the places of the joint that decide: roots, toes, edges and
// backs of the two members.
func (j *joint) watch(l *layout) []watched {
	var out []watched
	region := func(foot int) int {
		return slices.IndexFunc(l.regions, func(r regionOf) bool { return r.member == j.feet[foot] })
	}
	root := j.rootPoint()
	for f := range 2 {
		out = append(out, watched{j.name(f) + " root", RootPoint, f, root, region(f)})
	}
	for f := range 2 {
		out = append(out, watched{j.name(f) + " toe", ToePoint, f, j.weld.Feet[f].Toe, region(f)})
	}
	for f := range 2 {
		foot, r := j.weld.Feet[f], region(f)
		t := float64(j.thickness(f))
		along, into := j.surface(f)
		if foot.OnEdge {
			if foot.EdgeRemaining.Present && float64(foot.EdgeRemaining.Value) <= 0.05*t {
				// The toe is the corner: it must melt, but not far back.
				out = append(out, watched{j.name(f) + " edge, half a thickness back", EdgePoint, f, foot.Toe.Add(into.Scale(t / 2)), r})
			}
		} else if j.weld.Kind == joints.FilletWeld {
			out = append(out, watched{j.name(f) + " back", EdgePoint, f, root.Add(into.Scale(t)).Add(along.Scale(1e-9)), r})
		}
		for _, e := range j.in.Section.Members[j.feet[f]].Outline.All() {
			p := e.Start()
			if p.Dist(root) > 4*t || j.onBreak(f, p) ||
				j.weld.Profile.Locate(p) != geometry.Outside || j.weld.Profile.Distance(p) < 0.05*t || p.Dist(root.Add(into.Scale(t))) < 0.1*t {
				continue
			}
			out = append(out, watched{j.name(f) + " corner", EdgePoint, f, p, r})
		}
	}
	return out
}

func (j *joint) onBreak(foot int, p geometry.Point) bool {
	m := &j.in.Section.Members[j.feet[foot]]
	for _, b := range m.Broken {
		if b >= 0 && b < m.Outline.Len() && m.Outline.Edge(b).Distance(p) < 1e-6 {
			return true
		}
	}
	return false
}

// finiteOr replaces what is not finite.
func finiteOr(x, other float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return other
	}
	return x
}
