package geometry

import (
	"fmt"
	"math"
)

// OutlineCode says what is wrong with an outline.
type OutlineCode string

// The faults of an outline.
const (
	OutlineTooFew       OutlineCode = "too-few-edges"
	OutlineNotFinite    OutlineCode = "not-finite"
	OutlineTooLarge     OutlineCode = "too-large"
	OutlineZeroLength   OutlineCode = "zero-length"
	OutlineOpen         OutlineCode = "open"
	OutlineSelfCrossing OutlineCode = "self-crossing"
	OutlineBadEdge      OutlineCode = "bad-edge"  // OffsetEdge: no such edge, or a quad
	OutlineNoMeet       OutlineCode = "no-meet"   // OffsetEdge: the neighbours do not reach
	OutlineNeighbour    OutlineCode = "neighbour" // OffsetEdge: a neighbour is not straight
)

var outlineRules = map[OutlineCode]string{
	OutlineTooFew:       "an outline needs at least two edges",
	OutlineNotFinite:    "a coordinate is not a finite number",
	OutlineTooLarge:     "a coordinate lies beyond 100 m",
	OutlineZeroLength:   "the edge has no length",
	OutlineOpen:         "the edge does not begin where the one before it ends",
	OutlineSelfCrossing: "the edge touches or crosses another edge",
	OutlineBadEdge:      "only an existing straight edge or arc can be moved",
	OutlineNoMeet:       "the moved edge does not meet its neighbours",
	OutlineNeighbour:    "the neighbours of a moved edge must be straight",
}

// OutlineError is one fault of an outline, at an edge and a place, and the
// others found with it.
type OutlineError struct {
	Code  OutlineCode
	Edge  int   // index of the edge
	Other int   // index of the edge it crosses; the same as Edge otherwise
	At    Point // mm
	More  []*OutlineError
}

// Error describes the first fault and counts the others.
func (e *OutlineError) Error() string {
	s := fmt.Sprintf("outline edge %d at (%.6g, %.6g) mm: %s", e.Edge, e.At.X, e.At.Y, outlineRules[e.Code])
	if e.Other != e.Edge {
		s += fmt.Sprintf(" (edge %d)", e.Other)
	}
	if len(e.More) > 0 {
		s += fmt.Sprintf("; and %d more", len(e.More))
	}
	return s
}

// Unwrap returns the other faults.
func (e *OutlineError) Unwrap() []error {
	out := make([]error, len(e.More))
	for i, m := range e.More {
		out[i] = m
	}
	return out
}

type faults struct{ first *OutlineError }

func (f *faults) add(code OutlineCode, edge, other int, at Point) {
	e := &OutlineError{Code: code, Edge: edge, Other: other, At: at}
	if f.first == nil {
		f.first = e
	} else {
		f.first.More = append(f.first.More, e)
	}
}

// err avoids a typed nil.
func (f *faults) err() error {
	if f.first == nil {
		return nil
	}
	return f.first
}

// validate checks edges and joins their ends in place. Crossings are looked for
// only when each edge is sound by itself.
func validate(edges []Edge) error {
	var f faults
	n := len(edges)
	if n < 2 {
		f.add(OutlineTooFew, 0, 0, Point{})
	}
	for i := range edges {
		checkEdge(&f, i, &edges[i])
	}
	if f.first != nil {
		return f.err()
	}
	for i := range edges {
		e, next := &edges[i], &edges[(i+1)%n]
		if e.b == next.a {
			continue
		}
		if !(e.b.Dist(next.a) <= Coincident) {
			f.add(OutlineOpen, (i+1)%n, (i+1)%n, next.a)
			continue
		}
		next.a = e.b
	}
	if f.first != nil {
		return f.err()
	}
	for i := range edges { // joining may have closed an edge of a nanometre
		if edges[i].a == edges[i].b {
			f.add(OutlineZeroLength, i, i, edges[i].a)
		}
	}
	if f.first != nil {
		return f.err()
	}
	checkCrossings(&f, edges)
	return f.err()
}

func checkEdge(f *faults, i int, e *Edge) {
	if !e.isFinite() {
		f.add(OutlineNotFinite, i, i, e.a)
		return
	}
	m := max(math.Abs(e.a.X), math.Abs(e.a.Y), math.Abs(e.b.X), math.Abs(e.b.Y), math.Abs(e.s))
	if e.kind == QuadEdge {
		m = max(m, math.Abs(e.c.X), math.Abs(e.c.Y))
	}
	if m > MaxCoordinate {
		f.add(OutlineTooLarge, i, i, e.a)
		return
	}
	d := e.b.Sub(e.a)
	if d.Dot(d) <= Coincident*Coincident {
		f.add(OutlineZeroLength, i, i, e.a)
		return
	}
	if e.kind == QuadEdge {
		if _, folded := e.quadFlat(); folded {
			f.add(OutlineSelfCrossing, i, i, e.a)
		}
	}
}

// smallOutline is the number of edges whose boxes fit on the stack.
const smallOutline = 16

func checkCrossings(f *faults, edges []Edge) {
	var buf [smallOutline]Box
	boxes := buf[:0]
	if len(edges) > smallOutline {
		boxes = make([]Box, 0, len(edges))
	}
	for i := range edges {
		boxes = append(boxes, edges[i].looseBounds())
	}
	n := len(edges)
	for i := range edges {
		for j := i + 1; j < n; j++ {
			first, last := j == i+1, i == 0 && j == n-1
			if !first && !last && !boxes[i].near(boxes[j]) {
				continue
			}
			if p, crossed := pairCrosses(&edges[i], &edges[j], first, last); crossed {
				f.add(OutlineSelfCrossing, i, j, p)
			}
		}
	}
}

// pairCrosses reports whether two edges share a point other than the end they
// have in common: a's end and b's start (follows), a's start and b's end
// (closes).
func pairCrosses(a, b *Edge, follows, closes bool) (Point, bool) {
	switch {
	case follows && a.kind == LineEdge && b.kind == LineEdge:
		return a.b, foldsBack(a.a.Sub(a.b), b.b.Sub(b.a))
	case follows:
		return junctionCrosses(a.Reverse(), *b, closes)
	case closes:
		return junctionCrosses(*a, b.Reverse(), false)
	}
	hits := Intersect(*a, *b)
	if len(hits) == 0 {
		return Point{}, false
	}
	return hits[0].P, true
}
