package heatmap

import (
	"fmt"
	"math"
	"slices"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// viewIndex is the one view of the drawing.
const viewIndex = 0

// view is the section inside its window on the sheet.
type view struct {
	job    *Job
	style  *render.Style
	scale  float64
	window geometry.Box // of the sheet
	origin geometry.Point
	items  []render.Item
	lines  []render.Segment // everything stroked, for labels to keep clear of
	boxes  []geometry.Box   // labels placed
	taken  []geometry.Point // where leaders of isotherms end
}

// newView picks scale and place: the weld with the metal around it that decides.
func newView(job *Job, style *render.Style, window geometry.Box) *view {
	w := job.Weld
	need := w.Profile.Bounds().Expand(w.JointRoot)
	thin := math.Inf(1)
	for _, f := range w.Feet {
		need = need.Expand(f.Toe)
		thin = math.Min(thin, float64(job.Section.Members[f.Member].Thickness))
	}
	near := need.Grow(2.5 * thin)
	for i := range job.Picture.Points {
		if p := job.Picture.Points[i].At; near.Contains(p) {
			need = need.Expand(p)
		}
	}
	need = need.Grow(math.Max(0.4*thin, 0.15*math.Max(need.Width(), need.Height())))
	v := &view{job: job, style: style, window: window, scale: render.Scales[len(render.Scales)-1]}
	for _, s := range render.Scales {
		if need.Width()*s <= window.Width() && need.Height()*s <= window.Height() {
			v.scale = s
			break
		}
	}
	v.origin = window.Centre().Sub(need.Centre().Scale(v.scale))
	return v
}

func (v *view) paper(p geometry.Point) geometry.Point { return v.origin.Add(p.Scale(v.scale)) }

func (v *view) onPaper(line []geometry.Point) []geometry.Point {
	out := make([]geometry.Point, len(line))
	for i, p := range line {
		out[i] = v.paper(p)
	}
	return out
}

// stroke draws the part of a line on paper inside the window.
func (v *view) stroke(layer render.Layer, role string, line []geometry.Point, pen *render.Stroke) {
	for _, part := range clip(line, v.window) {
		edges := make([]geometry.Edge, 0, len(part)-1)
		for i := 1; i < len(part); i++ {
			if part[i].Dist(part[i-1]) < 1e-6 {
				continue
			}
			edges = append(edges, geometry.Line(part[i-1], part[i]))
			v.lines = append(v.lines, render.Segment{A: part[i-1], B: part[i]})
		}
		if len(edges) > 0 {
			v.items = append(v.items, render.Item{Layer: layer, View: viewIndex, Role: role, Path: &render.Path{Edges: edges, Stroke: pen}})
		}
	}
}

// draw draws the section: frame, molten areas, outlines, isotherms, aim, places.
func (v *view) draw() {
	v.frame()
	mesh := v.job.Field.Mesh()
	areas, rims := molten(mesh, v.job.Picture.Peak, v.job.Liquidus)
	for _, a := range areas {
		v.fill(a)
	}
	lines := outlines(mesh)
	for _, l := range lines[innerLine] {
		v.stroke(render.LayerPreparation, "section", v.onPaper(l), v.style.FormerLine())
	}
	for _, l := range lines[facesLine] {
		v.stroke(render.LayerMember, "section", v.onPaper(l), v.style.WideLine())
	}
	for _, l := range lines[edgeLine] {
		v.stroke(render.LayerMember, "section", v.onPaper(l), v.style.WideLine())
	}
	v.aim()
	var drawn []isoline
	for i := range v.job.Picture.Isotherms {
		iso := &v.job.Picture.Isotherms[i]
		if slices.Contains(v.job.Liquidus, iso.Level) {
			continue // the fused outline stands for it
		}
		d := isoline{level: iso.Level, text: fmt.Sprint(iso.Level), layer: render.LayerPlot, pen: v.job.pen(v.style, iso.Level)}
		for _, l := range iso.Lines {
			d.lines = append(d.lines, clip(v.onPaper(l), v.window)...)
		}
		drawn = append(drawn, d)
	}
	fused := isoline{text: v.job.fusedText(), layer: render.LayerFusion, pen: &render.Stroke{Width: fusedWidth}}
	for _, l := range rims {
		fused.lines = append(fused.lines, clip(v.onPaper(l), v.window)...)
	}
	drawn = append(drawn, fused)
	v.isotherms(drawn)
	v.places()
	v.names()
}

// fusedWidth is the pen of the fused outline, between those of edges and of a
// frame.
const fusedWidth = 0.6

func (v *view) fill(area []geometry.Point) {
	line := clipArea(v.onPaper(area), v.window)
	var edges []geometry.Edge
	for i, p := range line {
		if q := line[(i+1)%len(line)]; p.Dist(q) > 1e-6 {
			edges = append(edges, geometry.Line(p, q))
		}
	}
	if len(edges) > 2 {
		ink := v.style.Melted
		v.items = append(v.items, render.Item{Layer: render.LayerTint, View: viewIndex, Role: "fused",
			Path: &render.Path{Edges: edges, Closed: true, Fill: &ink}})
	}
}

// frame draws the window with ticks, which are the scale in both axes.
func (v *view) frame() {
	b := v.window
	corners := []geometry.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}, b.Min}
	v.stroke(render.LayerFrame, "window", corners, v.style.NarrowLine())
	step := v.tick() * v.scale
	for x := b.Min.X + step; x < b.Max.X-0.1; x += step {
		v.stroke(render.LayerFrame, "window", []geometry.Point{{X: x, Y: b.Min.Y}, {X: x, Y: b.Min.Y + 2}}, v.style.NarrowLine())
	}
	for y := b.Min.Y + step; y < b.Max.Y-0.1; y += step {
		v.stroke(render.LayerFrame, "window", []geometry.Point{{X: b.Min.X, Y: y}, {X: b.Min.X + 2, Y: y}}, v.style.NarrowLine())
	}
}

// tick is the distance of the frame's ticks in mm of the section.
func (v *view) tick() float64 {
	steps := []float64{0.5, 1, 2, 5, 10, 20, 50, 100, 200}
	if v.style.Numbers.Unit == geometry.UnitInch {
		steps = []float64{25.4 / 16, 25.4 / 8, 25.4 / 4, 25.4 / 2, 25.4, 2 * 25.4, 5 * 25.4, 10 * 25.4}
	}
	for _, t := range steps {
		if t*v.scale >= 8 {
			return t
		}
	}
	return steps[len(steps)-1]
}

// aim draws the arrow of the arc onto the face.
func (v *view) aim() {
	w := v.job.Weld
	a, b := w.Feet[0].Toe, w.Feet[1].Toe
	out := b.Sub(a).Perp().Unit()
	if out.Dot(w.Centroid.Sub(a.Lerp(b, 0.5))) > 0 {
		out = out.Scale(-1)
	}
	tip := v.paper(v.job.Aim)
	if w.Convexity > 0 {
		tip = tip.Add(out.Scale(float64(w.Convexity) * v.scale))
	}
	tip = tip.Add(out.Scale(0.6))
	length := v.style.ArrowLength
	neck := tip.Add(out.Scale(length))
	side := out.Perp().Scale(v.style.ArrowWidth / 2)
	head := [3]geometry.Point{tip, neck.Add(side), neck.Sub(side)}
	v.items = append(v.items, render.Item{Layer: render.LayerDimension, View: viewIndex, Role: "dimension:aim", Path: &render.Path{
		Closed: true, Fill: &render.Ink{},
		Edges: []geometry.Edge{geometry.Line(head[0], head[1]), geometry.Line(head[1], head[2]), geometry.Line(head[2], head[0])},
	}})
	for i := range 3 {
		v.lines = append(v.lines, render.Segment{A: head[i], B: head[(i+1)%3]})
	}
	tail := tip.Add(out.Scale(16))
	v.stroke(render.LayerDimension, "dimension:aim", []geometry.Point{neck, tail}, &render.Stroke{Width: v.style.Lettering})
	v.label("aim", v.job.AimText, v.style.SmallHeight, tail, false)
}

// places marks the watched places with letters.
func (v *view) places() {
	for _, p := range v.job.places() {
		at := v.paper(p.at)
		if !v.window.Grow(-1).Contains(at) {
			continue
		}
		v.items = append(v.items, render.Item{Layer: render.LayerSymbol, View: viewIndex, Role: "place",
			Path: &render.Path{Edges: render.Circle(at, 0.7), Closed: true, Fill: &render.Ink{}}})
		for i := range 8 {
			a, b := geometry.Polar(0.7, geometry.Angle(i)*45*geometry.Degree), geometry.Polar(0.7, geometry.Angle(i+1)*45*geometry.Degree)
			v.lines = append(v.lines, render.Segment{A: at.Add(a), B: at.Add(b)})
		}
		v.label("place", p.letter, v.style.SmallHeight, at, true)
	}
}

// isoline is a line of one temperature on paper.
type isoline struct {
	level float64
	text  string
	layer render.Layer
	pen   *render.Stroke
	lines [][]geometry.Point
}

// isotherms draws the lines, each broken where its own label stands on it.
func (v *view) isotherms(all []isoline) {
	// All lines stand before the first label looks for its place.
	type owner struct{ from, to int }
	owners := make([]owner, len(all))
	for i := range all {
		owners[i].from = len(v.lines)
		for _, l := range all[i].lines {
			for k := 1; k < len(l); k++ {
				v.lines = append(v.lines, render.Segment{A: l[k-1], B: l[k]})
			}
		}
		owners[i].to = len(v.lines)
	}
	solid := slices.Clone(v.lines)
	gaps := make([][]geometry.Box, len(all))
	// The last is the fused outline, which has the first choice.
	for i := range slices.Backward(all) {
		// Its own lines are out of the way while the label looks for a place on one.
		v.lines = slices.Concat(solid[:owners[i].from], solid[owners[i].to:], v.lines[len(solid):])
		boxes := v.onLines(&all[i])
		extra := slices.Clone(v.lines[len(solid)-(owners[i].to-owners[i].from):])
		v.lines = slices.Concat(solid, extra)
		gaps[i] = boxes
		if len(boxes) == 0 {
			v.standOff(all[i].text, all[i].lines)
		}
	}
	for i := range all {
		role := "isotherm:" + all[i].text
		for _, l := range all[i].lines {
			for _, part := range without(l, gaps[i]) {
				edges := make([]geometry.Edge, 0, len(part))
				for k := 1; k < len(part); k++ {
					if part[k].Dist(part[k-1]) > 1e-6 {
						edges = append(edges, geometry.Line(part[k-1], part[k]))
					}
				}
				if len(edges) > 0 {
					v.items = append(v.items, render.Item{Layer: all[i].layer, View: viewIndex, Role: role, Path: &render.Path{Edges: edges, Stroke: all[i].pen}})
				}
			}
		}
	}
}

// onLines puts the label on each line where it has most room, and gives the
// boxes.
func (v *view) onLines(iso *isoline) []geometry.Box {
	h := v.style.SmallHeight
	width := lettering.Measure(iso.text, render.FaceRegular, h)
	var boxes []geometry.Box
	for _, l := range iso.lines {
		if length(l) < 2*width {
			continue
		}
		var best geometry.Point
		most := 0.
		for _, p := range along(l, 1.2) {
			room := 0.
			for _, more := range []float64{0, 1, 2, 4, 6} {
				if !v.clear(p, width+2*more, h+2*more) {
					break
				}
				room = more + 1
			}
			if room > most {
				best, most = p, room
			}
		}
		if most > 0 {
			v.letter("isotherm", iso.text, h, best, width)
			boxes = append(boxes, v.boxes[len(v.boxes)-1])
		}
	}
	return boxes
}

func length(l []geometry.Point) float64 {
	sum := 0.
	for i := 1; i < len(l); i++ {
		sum += l[i].Dist(l[i-1])
	}
	return sum
}

// along gives places on a line a step apart, its ends left out; none where the
// step is not above zero.
func along(l []geometry.Point, step float64) []geometry.Point {
	if !(step > 0) {
		return nil
	}
	var out []geometry.Point
	left := step
	for i := 1; i < len(l); i++ {
		d := l[i].Dist(l[i-1])
		for left <= d {
			out = append(out, l[i-1].Lerp(l[i], left/d))
			left += step
		}
		left -= d
	}
	return out
}

// without cuts the parts inside boxes out of a line.
func without(l []geometry.Point, boxes []geometry.Box) [][]geometry.Point {
	lines := [][]geometry.Point{l}
	for _, box := range boxes {
		out := make([][]geometry.Point, 0, len(lines)+1)
		for _, l := range lines {
			out = append(out, outside(l, box)...)
		}
		lines = out
	}
	return lines
}

func outside(l []geometry.Point, box geometry.Box) [][]geometry.Point {
	var out [][]geometry.Point
	cur := []geometry.Point{l[0]}
	for i := 1; i < len(l); i++ {
		a, b, hit := clipSegment(l[i-1], l[i], box)
		if !hit {
			cur = append(cur, l[i])
			continue
		}
		if a != l[i-1] {
			cur = append(cur, a)
		}
		if len(cur) > 1 {
			out = append(out, cur)
		}
		cur = []geometry.Point{b}
		if b != l[i] {
			cur = append(cur, l[i])
		}
	}
	if len(cur) > 1 {
		out = append(out, cur)
	}
	return out
}
