package heat

import (
	"fmt"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat/field"
)

// PointKind says why a place is watched.
type PointKind string

// The kinds of places: roots have to melt, toes should, edges must not.
const (
	RootPoint PointKind = "root"
	ToePoint  PointKind = "toe"
	EdgePoint PointKind = "edge"
)

// Point is a watched place of the section.
type Point struct {
	Name   string
	Kind   PointKind
	Member string
	At     geometry.Point
	// Rise per watt of net power as the arc passes, K/W, and the power that
	// brings the place to the liquidus of its member, W.
	Rise  float64
	Power float64
	start float64
	solid float64
	melt  float64
}

// Window is the range of net power in which the root is molten and no edge is
// lost yet, W.
type Window struct {
	Root float64 // from here the root is molten
	Toes float64 // from here both toes are molten too
	Edge float64 // from here an edge or a back melts; 0 when none is watched
	// Lost names what melts at Edge.
	Lost  string
	Empty bool // an edge is lost before the root melts
	// Cold is set where the root melts in time but an edge is lost before both
	// toes melt.
	Cold bool
	// Advice for a window that is empty or leaves a toe cold, in words.
	Advice []string
}

// Field is the conduction field of a joint under a travelling arc. Rises are
// per watt: any power is a matter of scale.
type Field struct {
	Points []Point
	Window Window
	Source Source

	j        *joint
	layout   *layout
	mesh     *field.Mesh
	response *field.Response
	start    []float64 // °C of each node before the arc
	nodes    []int     // of Points
}

// NewField solves the section of a joint. The error, if any, is of type
// [joints.Faults].
func NewField(in Input, p FieldParams) (*Field, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	j, err := in.read()
	if err != nil {
		return nil, err
	}
	l, err := j.lay(p)
	if err != nil {
		return nil, err
	}
	mesh, err := field.NewMesh(l.params)
	if err != nil {
		return nil, err
	}
	response, err := mesh.Solve(j.travel(l.aim))
	if err != nil {
		return nil, err
	}
	f := &Field{j: j, layout: l, mesh: mesh, response: response,
		Source: Source{"conduction in the section, linear, no latent heat; within 1 % of three-dimensional finite elements (own computation); no published aluminium fillet section was available to check against", Computed}}
	f.starts()
	for _, w := range j.watch(l) {
		node, _ := mesh.Nearest(w.at, w.region)
		if node < 0 {
			continue
		}
		m := l.regions[w.region].material
		pt := Point{Name: w.name, Kind: w.kind, Member: j.name(w.foot), At: mesh.Node(node),
			Rise: response.Peak(node), start: f.start[node], solid: m.Solidus, melt: m.Liquidus}
		pt.Power = powerFor(pt.melt-pt.start, pt.Rise)
		f.Points = append(f.Points, pt)
		f.nodes = append(f.nodes, node)
	}
	f.window()
	return f, nil
}

func (j *joint) travel(aim geometry.Point) field.Source {
	return field.Source{Aim: aim, Spot: float64(j.in.Arc.Spot), Speed: j.in.Arc.Speed}
}

// most is the power given where a place cannot be melted at all, W.
const most = 1e9

func powerFor(rise, perWatt float64) float64 {
	return min(most, max(0, finiteOr(rise/perWatt, most)))
}

// starts is the temperature of every node before the arc: where members of
// different preheat meet, their mean.
func (f *Field) starts() {
	f.start = make([]float64, f.mesh.Nodes())
	count := make([]float64, f.mesh.Nodes())
	for i := range f.mesh.Triangles() {
		corners, region := f.mesh.Triangle(i)
		for _, v := range corners {
			f.start[v] += f.layout.regions[region].start
			count[v]++
		}
	}
	for v := range f.start {
		f.start[v] /= max(1, count[v])
	}
}

func (f *Field) window() {
	w := Window{Edge: most}
	for _, p := range f.Points {
		switch p.Kind {
		case RootPoint:
			w.Root = max(w.Root, p.Power)
		case ToePoint:
			w.Toes = max(w.Toes, p.Power)
		case EdgePoint:
			if p.Power < w.Edge {
				w.Edge, w.Lost = p.Power, p.Name
			}
		}
	}
	w.Toes = max(w.Toes, w.Root)
	if w.Lost == "" {
		w.Edge = 0
		f.Window = w
		return
	}
	w.Empty = w.Edge <= w.Root
	w.Cold = !w.Empty && w.Edge <= w.Toes
	if w.Empty || w.Cold {
		heavy, light := f.j.name(0), f.j.name(1)
		for _, p := range f.Points {
			if p.Name == w.Lost && p.Member == heavy {
				heavy, light = light, heavy
			}
		}
		what := "both toes do: no power melts the whole leg"
		if w.Empty {
			what = "the root does: no power is right for this joint as it is"
		}
		w.Advice = []string{
			fmt.Sprintf("the %s melts before %s", w.Lost, what),
			fmt.Sprintf("aim more at the %s", heavy),
			fmt.Sprintf("lay a smaller leg on the %s, or let its edge stand over", light),
			fmt.Sprintf("clamp a chill bar to the %s", light),
			fmt.Sprintf("bevel or thin the %s at the joint, or preheat it within its ceiling", heavy),
		}
	}
	f.Window = w
}

// Nodes is the number of mesh nodes.
func (f *Field) Nodes() int { return f.mesh.Nodes() }

// Mesh is the mesh, for drawing.
func (f *Field) Mesh() *field.Mesh { return f.mesh }

// RootPower is the least net power that melts the root of both members, W.
func (f *Field) RootPower() float64 { return f.Window.Root }

// PointHeat is a watched place at a power.
type PointHeat struct {
	Name   string
	Kind   PointKind
	Member string
	At     geometry.Point
	Peak   float64 // °C
	State  State
}

// State says what a peak temperature does to the metal.
type State string

// The states.
const (
	Solid  State = "solid"
	Mushy  State = "between solidus and liquidus"
	Molten State = "molten"
)

// Melted is the area of a member or of weld metal that was liquid, mm². It is
// good to 20 % at best: the pool stirs and the constants are means.
type Melted struct {
	Name string
	Area float64
}

// Isotherm is the line up to which a peak temperature was reached.
type Isotherm struct {
	Level float64 // °C
	// Lines are polylines in the section plane, mm, hotter on the left; a
	// closed one repeats its first point.
	Lines [][]geometry.Point
	// Reach is how far the level goes in each of the two members, measured
	// along the member from its toe, away from the weld, mm; 0 where it stays
	// short of the toe.
	Reach [2]float64
	// Beyond is set where a level reaches the end of the meshed plate.
	Beyond bool
}

// Picture is the field at one power.
type Picture struct {
	Power     float64 // W net
	Points    []PointHeat
	Melted    []Melted
	Isotherms []Isotherm
	// Peak is the highest temperature of each node of [Field.Mesh], °C.
	Peak []float64
}

// Levels are the isotherms of interest for the joint's metals, °C: solidus and
// liquidus, for aluminium 120 and 200, for steel 500 and 800.
func (f *Field) Levels() []float64 {
	var out []float64
	add := func(v float64) {
		if !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	for k := range 2 {
		m := &f.j.member(k).Material
		switch m.Family {
		case Aluminium:
			add(120)
			add(200)
		case Steel:
			add(500)
			add(800)
		}
		add(m.Solidus)
		add(m.Liquidus)
	}
	return out
}

// PowerRange of a picture, W.
var PowerRange = joints.Range{Min: 0, Max: 1e6}

const mostLevels = 32

// At is the field at a net power, with isotherms at the levels.
func (f *Field) At(power float64, levels []float64) (Picture, error) {
	c := &checker{}
	c.number("power", power, PowerRange, "W")
	if len(levels) > mostLevels {
		c.add(joints.FaultRange, "levels", fmt.Sprint(len(levels)), fmt.Sprintf("at most %d isotherms", mostLevels), "give fewer")
	}
	for _, v := range levels {
		c.number("levels", v, joints.Range{Min: -273, Max: 6000}, "°C")
	}
	if err := c.err(); err != nil {
		return Picture{}, err
	}
	peak := make([]float64, f.mesh.Nodes())
	for v := range peak {
		peak[v] = f.start[v] + power*f.response.Peak(v)
	}
	p := Picture{Power: power, Peak: peak}
	for i := range f.Points {
		x := &f.Points[i]
		h := PointHeat{Name: x.Name, Kind: x.Kind, Member: x.Member, At: x.At, Peak: x.start + power*x.Rise, State: Solid}
		switch {
		case h.Peak >= x.melt*(1-1e-12):
			h.State = Molten
		case h.Peak >= x.solid:
			h.State = Mushy
		}
		p.Points = append(p.Points, h)
	}
	area := map[float64][]float64{}
	for i, r := range f.layout.regions {
		t := r.material.Liquidus
		if area[t] == nil {
			area[t] = f.mesh.AreaAbove(peak, t)
		}
		p.Melted = append(p.Melted, Melted{r.name, area[t][i]})
	}
	for _, level := range levels {
		p.Isotherms = append(p.Isotherms, f.isotherm(peak, level))
	}
	return p, nil
}

func (f *Field) isotherm(peak []float64, level float64) Isotherm {
	iso := Isotherm{Level: level, Lines: f.mesh.Contours(peak, level)}
	for k := range 2 {
		along, into := f.j.surface(k)
		if f.j.weld.Feet[k].OnEdge {
			along = into
		}
		region := -1
		for i, r := range f.layout.regions {
			if r.member == f.j.feet[k] {
				region = i
			}
		}
		if far, ok := f.mesh.Reach(peak, level, region, f.j.weld.Feet[k].Toe, along); ok {
			iso.Reach[k] = max(0, far)
		}
	}
	for _, cut := range f.layout.params.Cuts {
		v, _ := f.mesh.Nearest(cut.From.Lerp(cut.To, 0.5), cut.Region)
		if v >= 0 && peak[v] >= level {
			iso.Beyond = true
		}
	}
	return iso
}

// Aim is where the arc points and what that asks for.
type Aim struct {
	// Shift along the line from toe to toe, as in [FieldParams].
	Shift float64
	At    geometry.Point
	Root  float64    // W net that melts the root
	Toes  [2]float64 // W net that melts each toe
	Found bool       // false: no aim on the face balances the toes
}

// Balance finds the aim at which both toes melt at the same power.
func (f *Field) Balance() (Aim, error) {
	toe := [2]geometry.Point{f.j.weld.Feet[0].Toe, f.j.weld.Feet[1].Toe}
	// Touching faces give both roots one node: each node is solved once.
	var nodes []int
	var points []*Point
	var which []int
	for i := range f.Points {
		if f.Points[i].Kind == EdgePoint {
			continue
		}
		k := slices.Index(nodes, f.nodes[i])
		if k < 0 {
			k = len(nodes)
			nodes = append(nodes, f.nodes[i])
		}
		points, which = append(points, &f.Points[i]), append(which, k)
	}
	if len(points) != 4 {
		return Aim{}, nil
	}
	arc := &f.j.in.Arc
	tr, err := f.mesh.NewTransfer(nodes, toe[1], toe[0], float64(arc.Spot), arc.Speed)
	if err != nil {
		return Aim{}, err
	}
	at := func(shift float64) Aim {
		a := Aim{Shift: shift, At: toe[1].Lerp(toe[0], 0.5+shift)}
		rise := tr.Rise(a.At)
		var p [4]float64
		for k := range p {
			p[k] = powerFor(points[k].melt-points[k].start, rise[which[k]])
		}
		a.Root, a.Toes = max(p[0], p[1]), [2]float64{p[2], p[3]}
		return a
	}
	ahead := func(a Aim) float64 { return math.Log(a.Toes[0] / a.Toes[1]) }
	lo, hi := -0.5, 0.5
	if ahead(at(lo)) <= 0 || ahead(at(hi)) >= 0 {
		return at(0), nil
	}
	for range 24 {
		mid := 0.5 * (lo + hi)
		if ahead(at(mid)) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	a := at(0.5 * (lo + hi))
	a.Found = true
	return a, nil
}
