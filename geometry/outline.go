package geometry

import (
	"iter"
	"slices"
)

// Outline is a simple closed curve: each edge begins exactly where the one
// before it ends, the first where the last does. The zero value has no edges,
// no area and nothing inside it.
type Outline struct{ edges []Edge }

// NewOutline returns the outline made of the edges in order. Ends that lie
// within Coincident of each other are joined. It refuses fewer than two edges,
// coordinates that are not finite or beyond MaxCoordinate, edges of no length,
// open chains, and curves that touch, cross or overlap themselves. The error is
// an [*OutlineError] that carries every fault found.
func NewOutline(edges ...Edge) (Outline, error) {
	own := make([]Edge, len(edges))
	copy(own, edges)
	return adopt(own)
}

// adopt validates edges that belong to the outline already.
func adopt(own []Edge) (Outline, error) {
	if err := validate(own); err != nil {
		return Outline{}, err
	}
	return Outline{own}, nil
}

// Polygon returns the outline of straight edges through the points, closed from
// the last to the first.
func Polygon(pts ...Point) (Outline, error) {
	own := make([]Edge, len(pts))
	for i, p := range pts {
		own[i] = Line(p, pts[(i+1)%len(pts)])
	}
	return adopt(own)
}

// Edges returns a copy of the edges.
func (o Outline) Edges() []Edge { return slices.Clone(o.edges) }

// Edge returns edge i, counted round: −1 is the last, Len() the first again.
// The zero Outline gives the zero Edge.
func (o Outline) Edge(i int) Edge {
	n := len(o.edges)
	if n == 0 {
		return Edge{}
	}
	return o.edges[((i%n)+n)%n]
}

// All ranges over the edges with their index.
func (o Outline) All() iter.Seq2[int, Edge] { return slices.All(o.edges) }

// Len returns the number of edges.
func (o Outline) Len() int { return len(o.edges) }

// IsZero reports whether the outline is the zero Outline.
func (o Outline) IsZero() bool { return len(o.edges) == 0 }

// Perimeter returns the length of the boundary in mm.
func (o Outline) Perimeter() float64 {
	l := 0.0
	for i := range o.edges {
		l += o.edges[i].Length()
	}
	return l
}

// Bounds returns the smallest box around the outline; the empty box for the
// zero Outline.
func (o Outline) Bounds() Box {
	box := EmptyBox()
	for i := range o.edges {
		e := &o.edges[i]
		box = box.Expand(e.a)
		if e.kind != LineEdge {
			box = box.Union(e.Bounds())
		}
	}
	return box
}

// Reverse returns the outline travelled the other way, from the same point.
func (o Outline) Reverse() Outline {
	n := len(o.edges)
	out := make([]Edge, n)
	for i := range o.edges {
		out[n-1-i] = o.edges[i].Reverse()
	}
	return Outline{out}
}

// CCW returns the outline counter-clockwise: itself, or reversed if its area is
// negative.
func (o Outline) CCW() Outline {
	if o.Area() < 0 {
		return o.Reverse()
	}
	return o
}

// Transform returns the image of the outline. A mirroring turns its direction
// and so the sign of its area.
func (o Outline) Transform(t Transform) Outline {
	if !t.set {
		return o
	}
	out := make([]Edge, len(o.edges))
	for i := range o.edges {
		out[i] = o.edges[i].Transform(t)
	}
	return Outline{out}
}
