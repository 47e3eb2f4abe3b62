package joints

import (
	"math"
	"slices"

	"fay/geometry"
)

// CapShape is the shape of reinforcement over a groove. Handbook tables differ
// by 5 to 12 % with it, so it is printed wherever an area depends on it.
type CapShape string

// The cap shapes: a circular arc, the parabola of handbook tables (⅔·w·h) and
// a flat-topped cap of full height.
const (
	CapArc      CapShape = "arc"
	CapParabola CapShape = "parabola"
	CapFlat     CapShape = "flat"
)

// Groove are the parameters of a groove weld laid in a preparation.
type Groove struct {
	// Cap is the rise of the face over the toe-to-toe chord; CapLap how far
	// each toe lies beyond the groove's edge; CapShape is an arc when empty.
	Cap, CapLap geometry.Length
	CapShape    CapShape
	// Root is the rise of the root reinforcement of a fully penetrated weld
	// made from one side; RootLap widens it beyond the root opening.
	Root, RootLap geometry.Length
	// Climb is how far the face climbs a member's edge that stands proud of
	// the common surface; not given, it is the proud height, at most the
	// thinner member's thickness.
	Climb Opt
	// Penetration beyond the root of a partial preparation, and whether tests
	// prove it; zero claims none.
	Penetration geometry.Length
	Proven      bool
	// Fusion is the greatest depth melted into each groove face.
	Fusion [2]geometry.Length
}

// half is one member's part of one side of a groove, in the frame of that
// side: x away from the groove's centre line into the member, v out of the
// joint. The profile climbs from the root at (x0, v0) to the edge at hi.
type half struct {
	x0     float64 // half the root opening
	v0, hi float64 // root of the preparation, common surface
	top    float64 // the member's own surface, at or above hi
	angle  geometry.Angle
	radius float64
	slope  float64 // run per rise of a transition down to hi; 0 none
	lap    float64 // toe beyond the edge
	climb  float64 // how far the face climbs a proud edge
}

// bend is where the root radius passes into the bevel: offset from (x0, v0).
func (h half) bend() (dx, dv float64) {
	return h.radius * h.angle.Cos(), h.radius * (1 - h.angle.Sin())
}

// usualRadius is the radius taken where none was given: the usual one, or what
// leaves a quarter of a shallow groove to the bevel.
func (h half) usualRadius(usual, deep float64) float64 {
	const share = 0.75
	return math.Min(usual, share*deep/(1-h.angle.Sin()))
}

// edge is the x of the preparation at the common surface.
func (h half) edge() float64 {
	dx, dv := h.bend()
	return h.x0 + dx + (h.hi-h.v0-dv)*h.angle.Tan()
}

// proud is how far the member's edge stands over the common surface.
func (h half) proud() float64 {
	if h.slope > 0 {
		return 0
	}
	return h.top - h.hi
}

// toe is where the weld face ends on the member.
func (h half) toe() geometry.Point {
	if h.proud() > 0 && h.climb > 0 {
		return geometry.Point{X: h.edge(), Y: h.hi + h.climb}
	}
	return geometry.Point{X: h.edge() + h.lap, Y: h.hi}
}

// surface is the direction in which the member's surface goes on beyond the
// toe.
func (h half) surface() geometry.Point {
	if h.proud() > 0 {
		return geometry.Point{Y: 1}
	}
	if h.slope > 0 && h.top > h.hi {
		return geometry.Point{X: h.slope, Y: 1}.Unit()
	}
	return geometry.Point{X: 1}
}

// profile is the prepared edge from the root upwards, ending at the common
// surface.
func (h half) profile() []geometry.Edge {
	return h.appendProfile(make([]geometry.Edge, 0, 4)) // an outline goes on from here
}

func (h half) appendProfile(out []geometry.Edge) []geometry.Edge {
	at := geometry.Point{X: h.x0, Y: h.v0}
	if h.radius > 0 {
		dx, dv := h.bend()
		to := geometry.Point{X: h.x0 + dx, Y: h.v0 + dv}
		out = append(out, geometry.ArcCentre(at, to, geometry.Point{X: h.x0, Y: h.v0 + h.radius}, true))
		at = to
	}
	return appendLine(out, at, geometry.Point{X: h.edge(), Y: h.hi})
}

// fused is the fusion line from the root at level vr up to the toe: the
// profile sunk by depth, running out at the toe.
func (h half) fused(vr, depth float64) []geometry.Edge {
	return h.appendFused(make([]geometry.Edge, 0, 5), vr, depth)
}

func (h half) appendFused(out []geometry.Edge, vr, depth float64) []geometry.Edge {
	if depth == 0 {
		out = appendLine(out, geometry.Point{X: h.x0, Y: vr}, geometry.Point{X: h.x0, Y: h.v0})
		out = h.appendProfile(out)
		return appendLine(out, geometry.Point{X: h.edge(), Y: h.hi}, h.toe())
	}
	root := geometry.Point{X: h.x0 + depth, Y: vr}
	if h.radius > 0 {
		centre := geometry.Point{X: h.x0, Y: h.v0 + h.radius}
		r := h.radius + depth
		start := geometry.Point{X: h.x0 + depth, Y: centre.Y - math.Sqrt(r*r-depth*depth)}
		if start.Y < vr { // the sunk arc starts below the root
			dy := centre.Y - vr
			start = geometry.Point{X: h.x0 + math.Sqrt(math.Max(0, r*r-dy*dy)), Y: vr}
			root = start
		}
		end := centre.Add(geometry.Point{X: r * h.angle.Cos(), Y: -r * h.angle.Sin()})
		out = appendLine(out, root, start)
		if end.Y > start.Y {
			out = append(out, geometry.ArcCentre(start, end, centre, true))
		} else {
			end = start
		}
		return h.runOut(out, end, depth)
	}
	corner := geometry.Point{X: h.x0 + depth, Y: h.v0 - depth*math.Tan(float64(h.angle)/2)}
	if corner.Y < vr {
		// The root face is too low for a corner: the sunk bevel meets the root.
		corner = geometry.Point{X: h.x0 + depth/h.angle.Cos() + (vr-h.v0)*h.angle.Tan(), Y: vr}
		root = corner
	}
	out = appendLine(out, root, corner)
	return h.runOut(out, corner, depth)
}

// runOut lets a fusion line run out at the toe; on a proud edge it keeps its
// depth up to the common surface.
func (h half) runOut(out []geometry.Edge, from geometry.Point, depth float64) []geometry.Edge {
	if toe := h.toe(); toe.Y > h.hi {
		sunk := geometry.Point{X: h.edge() + depth/h.angle.Cos(), Y: h.hi}
		out = appendLine(out, from, sunk)
		from = sunk
	}
	return appendLine(out, from, h.toe())
}

// appendOutline draws the member's edge as prepared, from the root to its own surface
// and along it to x = far.
func (h half) appendOutline(out []geometry.Edge, far float64) []geometry.Edge {
	out = h.appendProfile(out)
	at := geometry.Point{X: h.edge(), Y: h.hi}
	if h.top > h.hi {
		if h.slope > 0 {
			start := geometry.Point{X: h.edge() + h.lap, Y: h.hi}
			out = appendLine(out, at, start)
			at = geometry.Point{X: start.X + h.slope*(h.top-h.hi), Y: h.top}
			out = appendLine(out, start, at)
		} else {
			to := geometry.Point{X: at.X, Y: h.top}
			out = appendLine(out, at, to)
			at = to
		}
	}
	return appendLine(out, at, geometry.Point{X: far, Y: h.top})
}

// run is how far the preparation and a transition reach into the member.
func (h half) run() float64 {
	x := h.edge() + h.lap
	if h.slope > 0 {
		x += h.slope * (h.top - h.hi)
	}
	return x
}

func appendLine(out []geometry.Edge, a, b geometry.Point) []geometry.Edge {
	if a.Dist(b) <= tiny*(1+math.Abs(a.X)+math.Abs(a.Y)) {
		return out
	}
	return append(out, geometry.Line(a, b))
}

// grooveSide is a groove weld before it is put in place: two halves in the
// frame of its side.
type grooveSide struct {
	halves [2]half // left, right; the left one mirrored
	vr     float64 // level down to which the weld fills
	full   bool    // penetrates to the other side, so that it has a root face to reinforce
	sill   [2]bool // the member goes on beyond the root, so that reinforcement ends at its edge
}

var mirrorX = geometry.MirrorX()

// place maps the frame of a half to the section: left is mirrored, and the
// other side of the joint hangs upside down.
func place(left bool, down bool) geometry.Transform {
	t := geometry.Translate(geometry.Point{})
	if left {
		t = t.Then(mirrorX)
	}
	if down {
		t = t.Then(geometry.MirrorY())
	}
	return t
}

func mapEdges(edges []geometry.Edge, t geometry.Transform) []geometry.Edge {
	out := make([]geometry.Edge, len(edges))
	for i, e := range edges {
		out[i] = e.Transform(t)
	}
	return out
}

// move is mapEdges in place.
func move(edges []geometry.Edge, t geometry.Transform) {
	for i, e := range edges {
		edges[i] = e.Transform(t)
	}
}

// reverse is reversed in place.
func reverse(edges []geometry.Edge) {
	slices.Reverse(edges)
	for i, e := range edges {
		edges[i] = e.Reverse()
	}
}

func reversed(edges []geometry.Edge) []geometry.Edge {
	out := make([]geometry.Edge, len(edges))
	for i, e := range edges {
		out[len(edges)-1-i] = e.Reverse()
	}
	return out
}

// capEdges draws a weld face from a to b with a rise to the right of the way:
// out of the joint when it is walked from the right toe to the left.
func capEdges(a, b geometry.Point, rise float64, shape CapShape) []geometry.Edge {
	if rise == 0 {
		return []geometry.Edge{geometry.Line(a, b)}
	}
	n := b.Sub(a).Unit().Perp().Scale(-rise)
	switch shape {
	case CapParabola:
		return []geometry.Edge{geometry.Quad(a, a.Lerp(b, 0.5).Add(n.Scale(2)), b)}
	case CapFlat:
		return []geometry.Edge{geometry.Line(a, a.Add(n)), geometry.Line(a.Add(n), b.Add(n)), geometry.Line(b.Add(n), b)}
	}
	return []geometry.Edge{geometry.Arc(a, b, rise)}
}

// toeAngle is the angle, through the air, between the member surface beyond a
// toe and the face leaving it.
func toeAngle(surface, face geometry.Point) geometry.Angle {
	return geometry.Angle(math.Atan2(math.Abs(surface.Cross(face)), surface.Dot(face)))
}

// boundary walks round the weld counter-clockwise in the frame of its side: up
// the right half, over the face to the left toe, down the left half and back
// along the root.
func (g grooveSide) boundary(vr float64, depth [2]float64, face, root []geometry.Edge) []geometry.Edge {
	const usual = 5 // edges of a half, mostly
	out := g.halves[1].appendFused(make([]geometry.Edge, 0, 2*usual+len(face)+len(root)+2), vr, depth[1])
	out = append(out, face...)
	n := len(out)
	out = g.halves[0].appendFused(out, vr, depth[0])
	move(out[n:], mirrorX)
	reverse(out[n:])
	from, to := out[len(out)-1].End(), out[0].Start()
	if len(root) > 0 {
		out = appendLine(out, from, root[0].Start())
		out = append(out, root...)
		from = root[len(root)-1].End()
	}
	out = appendLine(out, from, to)
	// A closed root without fusion leaves both halves running along the same
	// line, which holds no metal.
	for len(out) > 2 && out[0].End() == out[len(out)-1].Start() && out[0].Start() == out[len(out)-1].End() {
		out = out[1 : len(out)-1]
	}
	return out
}

// groove computes a groove weld. Member indices are 0 left, 1 right.
func (c *checker) groove(id string, side Side, g grooveSide, p Groove) (Weld, bool) {
	field := func(s string) string { return "welds." + id + "." + s }
	if !c.grooveValues(field, g, &p) {
		return Weld{}, false
	}
	vr := g.vr - float64(p.Penetration)
	depth := [2]float64{float64(p.Fusion[0]), float64(p.Fusion[1])}
	toeR, toeL := g.halves[1].toe(), mirrorX.Apply(g.halves[0].toe())
	face := capEdges(toeR, toeL, float64(p.Cap), p.CapShape)

	var root []geometry.Edge
	fullL, fullR := -g.rootReach(0, vr, depth[0], p), g.rootReach(1, vr, depth[1], p)
	if p.Root > 0 {
		if fullR-fullL <= tiny {
			c.add(Fault{Code: FaultFace, Field: field("root"), Value: showLength(float64(p.Root)),
				Rule:   "has no width to stand on: the root is closed and no fusion is claimed",
				Remedy: "give root-opening, fusion or root-lap"})
			return Weld{}, false
		}
		if half := (fullR - fullL) / 2; float64(p.Root) > half*(1+tiny) {
			c.add(Fault{Code: FaultFace, Field: field("root"), Value: showLength(float64(p.Root)),
				Rule:   "is higher than half the width of the root, " + showLength(2*half),
				Remedy: "the highest root taken here is " + showLength(downTo(half)) + "; root-lap or fusion widens it"})
			return Weld{}, false
		}
		root = capEdges(geometry.Point{X: fullL, Y: vr}, geometry.Point{X: fullR, Y: vr}, float64(p.Root), p.CapShape)
	}

	if g.closed() && p.Cap == 0 {
		c.add(noMetal(field, g))
		return Weld{}, false
	}
	profile, err := geometry.NewOutline(g.boundary(vr, depth, face, root)...)
	if err != nil {
		c.add(Fault{Code: FaultGeometry, Field: field("cap"), Rule: "the weld does not close (" + err.Error() + ")",
			Remedy: "give a root opening, a preparation or a cap, or less fusion"})
		return Weld{}, false
	}
	flip := place(false, side == OtherSide)
	w := Weld{ID: id, Side: side, Kind: GrooveWeld, Penetration: p.Penetration, Proven: p.Proven, CapShape: p.CapShape,
		Face: FaceFlat, Convexity: p.Cap, Gap: geometry.Length(2 * g.halves[1].x0)}
	if p.Cap > 0 {
		w.Face = FaceConvex
		w.CapHeight = Some(p.Cap)
	}
	w.Profile = profile.Transform(flip).CCW()
	w.Area, w.Centroid = w.Profile.Area(), w.Profile.Centroid()
	w.GrooveArea = g.openArea()
	w.DepositedArea = geometry.Area(g.boundary(vr, [2]float64{}, face, nil)...)
	if len(root) > 0 {
		w.DepositedArea += geometry.Area(append(slices.Clip(root), geometry.Line(root[len(root)-1].End(), root[0].Start()))...)
	}
	for i, h := range g.halves {
		if depth[i] == 0 {
			continue
		}
		line := h.fused(vr, depth[i])
		bare := reversed(h.fused(vr, 0))
		loop := append(slices.Clip(line), bare...)
		loop = append(loop, geometry.Line(bare[len(bare)-1].End(), line[0].Start()))
		w.MeltedBaseArea += math.Abs(geometry.Area(loop...))
		w.FusionLine = append(w.FusionLine, mapEdges(line, place(i == 0, side == OtherSide))...)
	}
	w.Feet[0] = Foot{Member: 0, Toe: flip.Apply(toeL), Fusion: p.Fusion[0],
		ToeAngle: toeAngle(mirrorX.Apply(g.halves[0].surface()), face[len(face)-1].Tangent(1).Scale(-1))}
	w.Feet[1] = Foot{Member: 1, Toe: flip.Apply(toeR), Fusion: p.Fusion[1],
		ToeAngle: toeAngle(g.halves[1].surface(), face[0].Tangent(0))}
	w.FaceWidth = geometry.Length(toeR.Dist(toeL))
	w.CapWidth = Some(w.FaceWidth)
	w.FaceEdges = reversed(mapEdges(face, flip))
	if g.full && fullR > fullL {
		w.RootWidth = Some(geometry.Length(fullR - fullL))
	}
	if p.Root > 0 {
		w.RootHeight = Some(p.Root)
	}
	w.grooveThroats(g, vr, flip)
	return w, true
}

// rootReach is how far root reinforcement reaches from the centre line.
func (g grooveSide) rootReach(i int, vr, depth float64, p Groove) float64 {
	if g.sill[i] {
		return g.halves[i].x0
	}
	if depth == 0 {
		return g.halves[i].x0 + float64(p.RootLap) // where the root begins
	}
	return g.halves[i].fused(vr, depth)[0].Start().X + float64(p.RootLap)
}

// openArea is the opening from the root up to the common surface.
func (g grooveSide) openArea() float64 {
	for i := range g.halves {
		g.halves[i].lap, g.halves[i].climb = 0, 0
	}
	face := geometry.Line(g.rim(1), mirrorX.Apply(g.rim(0)))
	return geometry.Area(g.boundary(g.vr, [2]float64{}, []geometry.Edge{face}, nil)...)
}

// rim is the edge of the preparation at the common surface.
func (g grooveSide) rim(i int) geometry.Point {
	return geometry.Point{X: g.halves[i].edge(), Y: g.halves[i].hi}
}

// grooveThroats measures the throats from the root up to the common surface:
// reinforcement and a face that climbs a proud edge add nothing to them.
func (w *Weld) grooveThroats(g grooveSide, vr float64, flip geometry.Transform) {
	hi := g.halves[0].hi
	w.JointRoot = flip.Apply(geometry.Point{Y: g.vr})
	w.RootCorner = w.JointRoot
	w.WeldRoot = flip.Apply(geometry.Point{Y: vr})
	w.TheoreticalLine = Line{w.JointRoot, flip.Apply(geometry.Point{Y: hi})}
	w.TheoreticalThroat = geometry.Length(hi - g.vr)
	w.EffectiveLine, w.EffectiveThroat = w.TheoreticalLine, w.TheoreticalThroat
	if w.Proven {
		w.EffectiveLine.From = w.WeldRoot
		w.EffectiveThroat = geometry.Length(hi - vr)
	}
	w.ActualLine = shortestOf(w.WeldRoot, w.FaceEdges)
	w.ActualThroat = lengthOf(w.ActualLine)
}

func shortestOf(from geometry.Point, edges []geometry.Edge) Line {
	best := shortest(from, edges[0])
	for _, e := range edges[1:] {
		if l := shortest(from, e); lengthOf(l) < lengthOf(best) {
			best = l
		}
	}
	return best
}

// grooveValues checks the numbers of a groove weld and settles the cap shape.
func (c *checker) grooveValues(field func(string) string, g grooveSide, p *Groove) bool {
	before := len(c.faults)
	for _, v := range []struct {
		name  string
		value geometry.Length
		r     Range
	}{
		{"cap", p.Cap, RiseRange}, {"cap-lap", p.CapLap, RiseRange},
		{"root", p.Root, RiseRange}, {"root-lap", p.RootLap, RiseRange},
		{"penetration", p.Penetration, FusionRange}, {"fusion", p.Fusion[0], FusionRange}, {"fusion", p.Fusion[1], FusionRange},
	} {
		c.lengthOf(field, v.name, v.value, v.r)
	}
	switch p.CapShape {
	case "":
		p.CapShape = CapArc
	case CapArc, CapParabola, CapFlat:
	default:
		c.add(Fault{Code: FaultUnknown, Field: field("cap-shape"), Value: string(p.CapShape),
			Rule: "must be arc, parabola or flat", Remedy: "leave it out for arc"})
	}
	if p.Root > 0 && !g.full {
		c.add(Fault{Code: FaultConflict, Field: field("root"), Value: showLength(float64(p.Root)),
			Rule:   "only a weld that penetrates the joint from this side has a root to reinforce",
			Remedy: "leave root out, or leave depth out for full penetration"})
	}
	if g.full && p.Penetration > 0 {
		c.add(Fault{Code: FaultConflict, Field: field("penetration"), Value: showLength(float64(p.Penetration)),
			Rule: "the weld penetrates the joint already", Remedy: "give root for the reinforcement underneath"})
	}
	if len(c.faults) > before {
		return false
	}
	width := g.halves[0].toe().X + g.halves[1].toe().X
	switch {
	case p.Cap > 0 && g.closed() && p.CapLap == 0:
		c.add(noFace(field, g, p.Cap))
	case float64(p.Cap) > width/2*(1+tiny):
		c.add(Fault{Code: FaultFace, Field: field("cap"), Value: showLength(float64(p.Cap)),
			Rule:   "is higher than half the width of the weld face, " + showLength(width),
			Remedy: "the highest cap taken here is " + showLength(downTo(width/2)) + "; cap-lap widens the face"})
	}
	return len(c.faults) == before
}
