package field

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

// Transfer answers how hot chosen nodes get for any aim on a line, without
// solving again. Heat put in at one place warms another exactly as it would the
// other way round, so one pulse from each node gives its rise for every aim.
type Transfer struct {
	mesh        *Mesh
	local       *system // numbers mesh nodes themselves
	spot, speed float64
	near        []int32       // mesh nodes that the spot can reach
	g           [][][]float64 // of each watched node, near node, place
	logs        int
	places      int
}

// NewTransfer prepares the nodes for aims on the line from one point to
// another.
func (m *Mesh) NewTransfer(nodes []int, from, to geometry.Point, spot, speed float64) (*Transfer, error) {
	src := Source{Aim: from, Spot: spot, Speed: speed}
	c := &checker{}
	c.point("aim", to)
	c.number("spot", spot, SpotRange)
	c.number("speed", speed, SpeedRange)
	for _, v := range nodes {
		if v < 0 || v >= len(m.nodes) {
			c.add(joints.FaultUnknown, "nodes", "", "is not a node of the mesh", "take nodes from the mesh")
			break
		}
	}
	if err := c.err(); err != nil {
		return nil, err
	}
	ahead, logs := m.behind(src)
	r, err := newRun(src, ahead, logs)
	if err != nil {
		return nil, err
	}
	if !m.hits(src) || !m.hits(Source{Aim: to, Spot: spot, Speed: speed}) {
		return nil, offFault()
	}
	r.sources, r.points = nil, nodes
	b := m.solve(r)
	t := &Transfer{mesh: m, spot: spot, speed: speed, logs: logs, places: len(ahead),
		local: &system{n: len(m.nodes), dof: identity(len(m.nodes))}}
	for v, p := range m.nodes {
		// One spot more than the spot reaches: corners of triangles it touches.
		if segmentDistance(p, from, to) <= (spotReach+3)*spot {
			t.near = append(t.near, int32(v))
		}
	}
	for l := range nodes {
		rows := make([][]float64, len(t.near))
		all := make([]float64, len(t.near)*len(ahead))
		for i := range rows {
			rows[i], all = all[:len(ahead)], all[len(ahead):]
		}
		for k, u := range b.u[l*b.per : (l+1)*b.per] {
			for i, v := range t.near {
				x := u[b.sys.dof[v]]
				row := rows[i][:len(b.w[k])]
				for j, w := range b.w[k] {
					row[j] += x * w
				}
			}
		}
		t.g = append(t.g, rows)
	}
	return t, nil
}

// Rise is the highest rise of each watched node for an aim on the line, K/W.
func (t *Transfer) Rise(aim geometry.Point) []float64 {
	f := t.mesh.spread(t.local, Source{Aim: aim, Spot: t.spot, Speed: t.speed})
	total := sum(f)
	out := make([]float64, len(t.g))
	if !(total > 0) || math.IsInf(total, 1) {
		return out
	}
	row := make([]float64, t.places)
	for l, g := range t.g {
		clear(row)
		for i, v := range t.near {
			if x := f[v] / total; x != 0 {
				for j, y := range g[i] {
					row[j] += x * y
				}
			}
		}
		out[l] = highest(row, t.logs)
	}
	return out
}
