package layout

import (
	"math"

	"fay/geometry"
	"fay/render"
)

// strokeKind tells how bad it is to touch a stroke.
type strokeKind uint8

const (
	outline   strokeKind = iota // edges of members and welds
	extension                   // extension lines
	line                        // dimension lines and leaders
	head                        // arrowheads
)

type stroke struct {
	a, b geometry.Point
	box  geometry.Box
	kind strokeKind
}

func newStroke(a, b geometry.Point, kind strokeKind) stroke {
	s := stroke{a: a, b: b, kind: kind, box: geometry.Box{Min: a, Max: b}}
	if a.X > b.X {
		s.box.Min.X, s.box.Max.X = b.X, a.X
	}
	if a.Y > b.Y {
		s.box.Min.Y, s.box.Max.Y = b.Y, a.Y
	}
	return s
}

// region is a closed area of the part, flattened.
type region struct {
	points []geometry.Point
	box    geometry.Box
	weld   bool
}

func (r *region) contains(p geometry.Point) bool {
	if !r.box.Contains(p) {
		return false
	}
	in := false
	for i, a := range r.points {
		b := r.points[(i+1)%len(r.points)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// scene is everything that is on the paper already.
type scene struct {
	strokes []stroke // those of the part first
	part    int      // how many those are
	texts   []textBox
	halos   []textBox // those with the room that lines leave them
	regions []region
	limit   geometry.Box // nothing may leave it; empty for no limit
	box     geometry.Box // of everything
	parts   []stroke     // of the mark in hand
	own     []textBox    // its texts with the room that its own lines leave them
	near    []int32      // the strokes about it
	cuts    []float64    // of the line in hand with a border
}

func newScene(k *render.Sketch) *scene {
	c := &scene{limit: geometry.EmptyBox(), box: k.Box}
	for i := range k.Members {
		m := &k.Members[i]
		pts := make([]geometry.Point, 0, len(m.Plain)+8)
		for _, e := range m.Plain {
			pts = c.addEdge(e, pts)
		}
		c.regions = append(c.regions, region{points: pts, box: geometry.BoxOf(pts...)})
		// A break line waves about the straight end.
		for _, e := range m.Breaks {
			c.strokes = append(c.strokes, newStroke(e.Start(), e.At(0.5), outline), newStroke(e.At(0.5), e.End(), outline))
		}
	}
	for i := range k.Welds {
		var pts []geometry.Point
		for _, e := range k.Welds[i].Profile.All() {
			pts = c.addEdge(e, pts)
		}
		c.regions = append(c.regions, region{points: pts, box: geometry.BoxOf(pts...), weld: true})
	}
	c.part = len(c.strokes)
	return c
}

// outlines counts through the strokes of the part.
func (c *scene) outlines() int { return c.part }

// addEdge adds an edge of the part in straight pieces, and its points to a
// region.
func (c *scene) addEdge(e geometry.Edge, pts []geometry.Point) []geometry.Point {
	n := 1
	if e.Kind() != geometry.LineEdge {
		// Chords within a tenth of a mm of an arc; flat curves need fewer.
		turn := math.Max(0.5, math.Abs(float64(e.Sweep())))
		n = int(math.Min(24, math.Max(3, math.Sqrt(e.Length()*turn/0.8))))
	}
	from := e.Start()
	for i := 1; i <= n; i++ {
		to := e.At(float64(i) / float64(n))
		c.strokes = append(c.strokes, newStroke(from, to, outline))
		pts = append(pts, from)
		from = to
	}
	return pts
}

// add puts a mark on the paper.
func (c *scene) add(m *render.Mark) {
	c.parts = appendStrokes(c.parts[:0], m)
	for i := range c.parts {
		c.box = c.box.Union(c.parts[i].box)
	}
	c.strokes = append(c.strokes, c.parts...)
	for i := range m.Texts {
		b := newTextBox(&m.Texts[i], m.Extents[i])
		c.texts, c.halos = append(c.texts, b), append(c.halos, b.grown(clearLine))
		c.box = c.box.Union(b.box)
	}
}

// boxOf holds a mark with the room about its texts.
func (c *scene) boxOf(m *render.Mark) geometry.Box {
	box := geometry.EmptyBox()
	c.parts = appendStrokes(c.parts[:0], m)
	for i := range c.parts {
		box = box.Union(c.parts[i].box)
	}
	for i := range m.Texts {
		b := newTextBox(&m.Texts[i], m.Extents[i])
		box = box.Union(b.grown(clearLine).box)
	}
	return box
}

// appendStrokes takes a mark apart into straight strokes.
func appendStrokes(out []stroke, m *render.Mark) []stroke {
	for _, s := range m.Extension {
		out = append(out, newStroke(s.A, s.B, extension))
	}
	for _, s := range m.Lines {
		out = append(out, newStroke(s.A, s.B, line))
	}
	for _, e := range m.Arcs {
		n := 2 + int(math.Sqrt(e.Length()*math.Abs(float64(e.Sweep()))/0.4))
		from := e.Start()
		for i := 1; i <= n; i++ {
			to := e.At(float64(i) / float64(n))
			out = append(out, newStroke(from, to, line))
			from = to
		}
	}
	for _, h := range m.Heads {
		out = append(out, newStroke(h[0], h[1].Lerp(h[2], 0.5), head), newStroke(h[1], h[2], head))
	}
	for _, p := range m.Dots {
		out = append(out, newStroke(p.Sub(geometry.Point{X: 0.6}), p.Add(geometry.Point{X: 0.6}), head))
	}
	return out
}

// inside is the length of a segment inside members and inside welds.
func (c *scene) inside(a, b geometry.Point) (member, weld float64) {
	box := geometry.BoxOf(a, b)
	for i := range c.regions {
		r := &c.regions[i]
		if !r.box.Overlaps(box) {
			continue
		}
		if l := c.within(r, a, b); r.weld {
			weld += l
		} else {
			member += l
		}
	}
	return member, weld
}

// within is the length of a segment inside one region: between the points where
// it crosses the border.
func (c *scene) within(r *region, a, b geometry.Point) float64 {
	in := c.crossings(r, a, b)
	total, start := 0.0, 0.0
	for _, t := range c.cuts {
		if in {
			total += t - start
		}
		in, start = !in, t
	}
	if in {
		total += 1 - start
	}
	return total * a.Dist(b)
}
