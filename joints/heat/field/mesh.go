package field

import (
	"fmt"
	"math"
	"strconv"

	"fay/geometry"
	"fay/joints"
)

// Mesh is a triangle mesh of a section, with the plates that go on beyond its
// cuts. Nodes on an open seam exist once for each side of it.
type Mesh struct {
	nodes  []geometry.Point // mm
	tris   [][3]int32
	region []int32 // of each triangle
	metals []Metal // of each region
	links  []link
	ties   []tie
}

// link is a conductance between two nodes, W/K per metre of weld.
type link struct {
	a, b int32
	g    float64
}

// tie makes nodes one and hangs a fin on them.
type tie struct {
	nodes     []int32
	thickness float64 // m
	metal     Metal
	region    int32
	length    float64 // m, +Inf without end
}

// Nodes is the number of mesh nodes.
func (m *Mesh) Nodes() int { return len(m.nodes) }

// Triangles is the number of triangles.
func (m *Mesh) Triangles() int { return len(m.tris) }

// Node returns the place of a node.
func (m *Mesh) Node(i int) geometry.Point { return m.nodes[i] }

// Triangle returns the corners of a triangle, counter-clockwise, and its region.
func (m *Mesh) Triangle(i int) (corners [3]int, region int) {
	t := m.tris[i]
	return [3]int{int(t[0]), int(t[1]), int(t[2])}, int(m.region[i])
}

// Area is the meshed area of a region in mm².
func (m *Mesh) Area(region int) float64 {
	a := 0.0
	for i, t := range m.tris {
		if int(m.region[i]) == region {
			a += triangleArea(m.nodes[t[0]], m.nodes[t[1]], m.nodes[t[2]])
		}
	}
	return a
}

func triangleArea(a, b, c geometry.Point) float64 { return b.Sub(a).Cross(c.Sub(a)) / 2 }

// Nearest returns the node of a region nearest to p, of any region when region
// is negative, and its distance in mm; -1 when the region has no node.
func (m *Mesh) Nearest(p geometry.Point, region int) (node int, distance float64) {
	node, distance = -1, math.Inf(1)
	for i, t := range m.tris {
		if region >= 0 && int(m.region[i]) != region {
			continue
		}
		for _, v := range t {
			if d := m.nodes[v].Dist(p); d < distance {
				node, distance = int(v), d
			}
		}
	}
	return node, distance
}

// Locate returns the triangle holding p and the weights of its corners. Points
// outside every triangle get the nearest one, with weights moved to its rim.
func (m *Mesh) Locate(p geometry.Point) (triangle int, w [3]float64) {
	best := math.Inf(-1)
	for i, t := range m.tris {
		a, b, c := m.nodes[t[0]], m.nodes[t[1]], m.nodes[t[2]]
		s := 2 * triangleArea(a, b, c)
		x := [3]float64{b.Sub(p).Cross(c.Sub(p)) / s, c.Sub(p).Cross(a.Sub(p)) / s, 0}
		x[2] = 1 - x[0] - x[1]
		if l := min(x[0], x[1], x[2]); l > best {
			best, triangle, w = l, i, x
			if l >= 0 {
				return triangle, w
			}
		}
	}
	sum := 0.0
	for i := range w {
		w[i] = max(0, w[i])
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return triangle, w
}

// SmallestAngle is the smallest corner of any triangle.
func (m *Mesh) SmallestAngle() geometry.Angle {
	least := math.Pi
	for _, t := range m.tris {
		for i := range 3 {
			a, b, c := m.nodes[t[i]], m.nodes[t[(i+1)%3]], m.nodes[t[(i+2)%3]]
			u, v := b.Sub(a), c.Sub(a)
			least = min(least, math.Atan2(u.Cross(v), u.Dot(v)))
		}
	}
	return geometry.Angle(least)
}

// uniform reports whether all regions and fins are of one metal.
func (m *Mesh) uniform() (Metal, bool) {
	first := m.metals[0]
	for _, x := range m.metals {
		if math.Abs(x.Conductivity/first.Conductivity-1) > equalMetal ||
			math.Abs(x.HeatCapacity/first.HeatCapacity-1) > equalMetal {
			return first, false
		}
	}
	return first, true
}

// NewMesh meshes a section. The error, if any, is of type [joints.Faults].
func NewMesh(p Params) (*Mesh, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	limit := p.NodeLimit
	if limit <= 0 {
		limit = NodeLimit
	}
	box := geometry.EmptyBox()
	for i := range p.Regions {
		for _, q := range p.Regions[i].Outline {
			box = box.Expand(q)
		}
	}
	if max(box.Width(), box.Height()) < 1e-3 {
		return nil, geometryFault("the outlines are points", "give outlines with an area")
	}
	g := newGrid(box)
	arr, ok := arrange(g, p.Regions)
	if !ok {
		return nil, geometryFault("the outlines cross each other over and over", "simplify the section")
	}
	r := &refiner{triangulation: newTriangulation(), g: g, regions: p.Regions, size: p.Sizing, limit: limit + outer}
	num := make([]int32, len(arr.pts))
	for i, q := range arr.pts {
		num[i] = r.insert(q)
	}
	segs := arr.segs
	for i, s := range segs {
		segs[i] = [2]int32{num[s[0]], num[s[1]]}
		if !r.constrain(segs[i][0], segs[i][1]) {
			return nil, geometryFault("the outlines cannot be joined into one section", "simplify the section")
		}
	}
	r.label()
	if !r.divideSides(segs) || !r.refine() {
		return nil, joints.Faults{{Code: joints.FaultRange, Field: "sizing", Value: strconv.Itoa(limit) + " nodes",
			Rule: "the section needs more nodes than are allowed", Remedy: "use a coarser mesh or a smaller section"}}
	}
	m := r.mesh()
	if len(m.tris) == 0 {
		return nil, geometryFault("the outlines enclose nothing", "give outlines with an area")
	}
	m.part(p.Seams)
	if err := m.hang(p.Cuts, p.Regions); err != nil {
		return nil, err
	}
	return m, nil
}

func geometryFault(rule, remedy string) error {
	return joints.Faults{{Code: joints.FaultGeometry, Field: "regions", Rule: rule, Remedy: remedy}}
}

// mesh takes the triangles that lie in a region.
func (r *refiner) mesh() *Mesh {
	m := &Mesh{}
	for _, reg := range r.regions {
		m.metals = append(m.metals, reg.Metal)
	}
	num := make([]int32, len(r.p))
	for i := range num {
		num[i] = none
	}
	for i := range r.t {
		c := &r.t[i]
		if c.reg < 0 {
			continue
		}
		var t [3]int32
		for k, v := range c.v {
			if num[v] == none {
				num[v] = number(len(m.nodes))
				m.nodes = append(m.nodes, r.g.from(r.p[v]))
			}
			t[k] = num[v]
		}
		m.tris = append(m.tris, t)
		m.region = append(m.region, c.reg)
	}
	return m
}

type sideKey [2]int32

func keyOf(a, b int32) sideKey { return sideKey{min(a, b), max(a, b)} }

// part opens the seams: nodes on them are doubled wherever the triangles
// around them do not hang together past the end of the seam.
func (m *Mesh) part(seams []Seam) {
	if len(seams) == 0 {
		return
	}
	conductance := make(map[[2]int32]float64, len(seams))
	for _, s := range seams {
		conductance[[2]int32{number(min(s.A, s.B)), number(max(s.A, s.B))}] = s.Conductance
	}
	type open struct {
		tri  [2]int32
		side sideKey
		h    float64
	}
	first := make(map[sideKey]int32, 3*len(m.tris)/2)
	cut := make(map[sideKey]bool)
	var sides []open
	onSeam := make(map[int32]bool)
	for i, t := range m.tris {
		for k := range 3 {
			key := keyOf(t[k], t[(k+1)%3])
			j, seen := first[key]
			if !seen {
				first[key] = number(i)
				continue
			}
			a, b := m.region[i], m.region[j]
			h, ok := conductance[[2]int32{min(a, b), max(a, b)}]
			if a == b || !ok {
				continue
			}
			cut[key] = true
			sides = append(sides, open{[2]int32{j, number(i)}, key, h})
			onSeam[key[0]], onSeam[key[1]] = true, true
		}
	}
	if len(sides) == 0 {
		return
	}
	around := make(map[int32][]int32, len(onSeam))
	for i, t := range m.tris {
		for _, v := range t {
			if onSeam[v] {
				around[v] = append(around[v], number(i))
			}
		}
	}
	// Doubling changes the triangles, so groups are found on the old ones.
	old := append([][3]int32(nil), m.tris...)
	for v := range number(len(m.nodes)) {
		fan := around[v]
		group := make([]int, len(fan))
		groups := 0
		for s := range fan {
			if group[s] != 0 {
				continue
			}
			groups++
			group[s] = groups
			todo := []int{s}
			for len(todo) > 0 {
				x := todo[len(todo)-1]
				todo = todo[:len(todo)-1]
				for y := range fan {
					if group[y] == 0 && joined(old[fan[x]], old[fan[y]], v, cut) {
						group[y] = groups
						todo = append(todo, y)
					}
				}
			}
		}
		for n := 2; n <= groups; n++ {
			copyOf := number(len(m.nodes))
			m.nodes = append(m.nodes, m.nodes[v])
			for s, t := range fan {
				if group[s] != n {
					continue
				}
				for k := range 3 {
					if m.tris[t][k] == v {
						m.tris[t][k] = copyOf
					}
				}
			}
		}
	}
	for _, s := range sides {
		if s.h == 0 {
			continue
		}
		for _, end := range s.side {
			a, b := m.numberIn(old, s.tri[0], end), m.numberIn(old, s.tri[1], end)
			if a != b {
				half := m.nodes[s.side[0]].Dist(m.nodes[s.side[1]]) / 2 * mm
				m.links = append(m.links, link{a, b, s.h * half})
			}
		}
	}
}

// numberIn is the present number of the node a triangle had as old number v.
func (m *Mesh) numberIn(old [][3]int32, t, v int32) int32 {
	for k := range 3 {
		if old[t][k] == v {
			return m.tris[t][k]
		}
	}
	return v
}

// joined reports whether two triangles at v share a side at v that no seam cuts.
func joined(a, b [3]int32, v int32, cut map[sideKey]bool) bool {
	for _, x := range a {
		if x == v {
			continue
		}
		for _, y := range b {
			if x == y && !cut[keyOf(v, x)] {
				return true
			}
		}
	}
	return false
}

// hang ties the nodes of each cut and hangs its fin on them.
func (m *Mesh) hang(cuts []Cut, regions []Region) error {
	var faults joints.Faults
	taken := make(map[int32]int)
	for i, c := range cuts {
		t := tie{region: number(c.Region), metal: regions[c.Region].Metal,
			thickness: c.From.Dist(c.To) * mm, length: c.Length * mm}
		if c.Length == 0 {
			t.length = math.Inf(1)
		}
		seen := make(map[int32]bool)
		for k, tr := range m.tris {
			if int(m.region[k]) != c.Region {
				continue
			}
			for _, v := range tr {
				if !seen[v] && segmentDistance(m.nodes[v], c.From, c.To) <= 3*mergeDistance {
					seen[v] = true
					t.nodes = append(t.nodes, v)
				}
			}
		}
		name := fmt.Sprintf("cuts[%d]", i)
		if len(t.nodes) < 2 {
			faults = append(faults, joints.Fault{Code: joints.FaultGeometry, Field: name,
				Rule: "a cut lies on the outline of its region", Remedy: "check the ends of the cut"})
			continue
		}
		for _, v := range t.nodes {
			if j, ok := taken[v]; ok && j != i {
				faults = append(faults, joints.Fault{Code: joints.FaultOverlap, Field: name,
					Rule: "cuts must not touch each other", Remedy: "cut the plates apart from each other"})
				break
			}
			taken[v] = i
		}
		m.ties = append(m.ties, t)
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}
