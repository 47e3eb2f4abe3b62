package plot

import (
	"math"

	"fay/geometry"
	"fay/render"
)

// Curve is a line through points. A point that is not finite breaks it.
type Curve struct {
	Label  string
	Points []geometry.Point
}

// Limit is a line across the diagram: upright at a value of the level axis, or
// level at a value of the upright one where Level is set.
type Limit struct {
	Label string
	At    float64
	Level bool
}

// Band is a strip across the diagram, between two values of the level axis, or
// of the upright one where Level is set. Infinite ends go to the edge. A
// refused band is lined, any other is tinted.
type Band struct {
	Label    string
	From, To float64
	Level    bool
	Refused  bool
}

// Mark is a point with its label. Spans with two different ends draw bars
// through it, e.g. a tolerance.
type Mark struct {
	Label        string
	X, Y         float64
	XSpan, YSpan [2]float64
	Solid        bool // filled: a fact, such as a measurement; else a plan
}

// Lines is a diagram of curves and points over two axes.
type Lines struct {
	Sheet  Sheet
	X, Y   Axis
	Curves []Curve
	Limits []Limit
	Bands  []Band
	Marks  []Mark
}

// Draw draws the diagram on a sheet of its own.
func (l *Lines) Draw(style *render.Style, page Page) (*render.Drawing, error) {
	d, box, err := l.Sheet.begin(style, page)
	if err != nil {
		return nil, err
	}
	items, err := l.Items(style, box)
	if err != nil {
		return nil, err
	}
	d.Items = append(d.Items, items...)
	return d, nil
}

// Items draws the diagram into a box of a sheet.
func (l *Lines) Items(style *render.Style, box geometry.Box) ([]render.Item, error) {
	x, y, err := l.ranges()
	if err != nil {
		return nil, err
	}
	// Labels without a place go to the key, which takes room from the diagram,
	// so that more of them may have none.
	rows := 0
	for {
		f := &figure{Lines: l, placer: placer{canvas: &canvas{style: style}}, scale: scale{x: x, y: y}}
		if err := f.layOut(box, rows); err != nil {
			return nil, err
		}
		need := keyRows(f.key, box.Width(), style.TextHeight)
		if need <= rows {
			return f.items, nil
		}
		rows = need
	}
}

// ranges settles the axes.
func (l *Lines) ranges() (x, y Axis, err error) {
	x, y = l.X, l.Y
	var xs, ys []float64
	add := func(to *[]float64, vs ...float64) {
		for _, v := range vs {
			if !math.IsNaN(v) && !math.IsInf(v, 0) {
				*to = append(*to, v)
			}
		}
	}
	for i := range l.Curves {
		for _, p := range l.Curves[i].Points {
			if p.IsFinite() {
				add(&xs, p.X)
				add(&ys, p.Y)
			}
		}
	}
	for i := range l.Marks {
		m := &l.Marks[i]
		if err := finite(m.X, m.Y, m.XSpan[0], m.XSpan[1], m.YSpan[0], m.YSpan[1]); err != nil {
			return x, y, err
		}
		add(&xs, m.X)
		add(&ys, m.Y)
		if m.XSpan[0] != m.XSpan[1] {
			add(&xs, m.XSpan[:]...)
		}
		if m.YSpan[0] != m.YSpan[1] {
			add(&ys, m.YSpan[:]...)
		}
	}
	for i := range l.Limits {
		if err := finite(l.Limits[i].At); err != nil {
			return x, y, err
		}
		to := &xs
		if l.Limits[i].Level {
			to = &ys
		}
		add(to, l.Limits[i].At)
	}
	for i := range l.Bands {
		to := &xs
		if l.Bands[i].Level {
			to = &ys
		}
		add(to, l.Bands[i].From, l.Bands[i].To)
	}
	air := len(l.Curves) == 0 // points do not stand on the frame, curves may run into it
	if err := x.fit(xs, air); err != nil {
		return x, y, err
	}
	return x, y, y.fit(ys, air)
}

// figure is a diagram being laid out.
type figure struct {
	*Lines
	placer
	scale
	curves [][][]geometry.Point // of each curve, the pieces inside the axes, on the sheet
	key    []keyLine
	// letters of the key so far, and its width.
	letters int
	wide    float64
}

// dashes tell curves apart, mm.
var dashes = [...][]float64{nil, {5, 1.5}, {1.5, 1.2}, {8, 1.2, 0.8, 1.2}, {8, 1.2, 0.8, 1.2, 0.8, 1.2}, {3, 3}}

func (f *figure) curvePen(i int) *render.Stroke {
	pen := f.style.WideLine()
	pen.Dash = dashes[i%len(dashes)]
	if i/len(dashes)%2 == 1 {
		pen.Width = f.style.Lettering
	}
	return pen
}

// limitPen is the narrow long-dash-dot line.
func limitPen(style *render.Style) *render.Stroke {
	d := style.Lettering
	return &render.Stroke{Width: d, Dash: []float64{24 * d, 3 * d, 1.5 * d, 3 * d}}
}

func (f *figure) layOut(box geometry.Box, reserved int) error {
	height := f.style.TextHeight
	pitch := height * leading
	inner := box
	inner.Min.Y += float64(reserved)*pitch + 2*pitch + tickLong + beside
	inner.Max.Y -= pitch + height/2 + beside
	if inner.Max.Y-inner.Min.Y < 25 {
		return errTooSmall
	}
	f.box = inner
	upright := f.y.ticks(f.style, inner.Height(), height, false)
	widest := 0.0
	for _, t := range upright {
		widest = math.Max(widest, textWidth(t.Label, height))
	}
	f.box.Min.X += widest + tickLong + beside
	f.wide = box.Width()
	f.box.Max.X -= overhang(f.x.ticks(f.style, f.box.Width(), height, true), height)
	if f.box.Width() < 40 {
		return errTooSmall
	}
	f.area = box
	f.area.Min.Y += float64(reserved) * pitch
	f.axes(f.x.ticks(f.style, f.box.Width(), height, true), upright)
	f.shapes()
	f.area = f.box
	f.labels()
	f.tints()
	f.grid(upright)
	f.drawKey(f.key, box, reserved)
	return nil
}

// overhang is how far labels of a level axis may stand over its end.
func overhang(ticks []Tick, height float64) float64 {
	half := height
	for _, t := range ticks {
		half = math.Max(half, textWidth(t.Label, height)/2)
	}
	return half
}

// tickLong is the length of a tick, mm.
const tickLong = 1.5

// axes draws the frame of the diagram, ticks and their labels, and the titles
// of the axes at their ends.
func (f *figure) axes(level, upright []Tick) {
	height := f.style.TextHeight
	pen := f.style.NarrowLine()
	pen.Width = f.style.Lettering
	f.rect("axis", render.LayerPlot, f.box, pen, nil)
	c := corners(f.box)
	f.obstacle(ofNone, pen.Width, c[0], c[1], c[2], c[3], c[0])
	for _, t := range level {
		at := geometry.Point{X: f.atX(t.At), Y: f.box.Min.Y}
		f.line("axis", render.LayerPlot, pen, at, at.Sub(geometry.Point{Y: tickLong}))
		f.fixed("axis:x", render.Text{At: at.Sub(geometry.Point{Y: tickLong + beside + height}), Height: height, Align: render.AlignCentre, Content: t.Label})
	}
	for _, t := range upright {
		at := geometry.Point{X: f.box.Min.X, Y: f.atY(t.At)}
		f.line("axis", render.LayerPlot, pen, at, at.Sub(geometry.Point{X: tickLong}))
		f.fixed("axis:y", render.Text{At: at.Sub(geometry.Point{X: tickLong + beside, Y: height / 2}), Height: height, Align: render.AlignRight, Content: t.Label})
	}
	f.fixed("axis:x", render.Text{At: geometry.Point{X: f.box.Max.X, Y: f.box.Min.Y - tickLong - beside - height - height*leading},
		Height: height, Align: render.AlignRight, Content: f.x.title()})
	f.fixed("axis:y", render.Text{At: geometry.Point{X: f.area.Min.X, Y: f.box.Max.Y + height/2 + beside + 0.3*height}, Height: height, Content: f.y.title()})
}

// shapes draws curves, limits and marks, and makes obstacles of them.
func (f *figure) shapes() {
	for i := range f.Curves {
		pieces := clip(f.Curves[i].Points, &f.scale)
		f.curves = append(f.curves, pieces)
		for _, p := range pieces {
			f.line("curve", render.LayerPlot, f.curvePen(i), p...)
			f.obstacle(i, f.style.Wide, p...)
		}
	}
	for i := range f.Limits {
		if a, b, ok := f.across(f.Limits[i].At, f.Limits[i].Level); ok {
			f.line("limit", render.LayerPlot, limitPen(f.style), a, b)
			f.obstacle(ofLimit, f.style.Lettering, a, b)
		}
	}
	for i := range f.Marks {
		f.mark(&f.Marks[i])
	}
}

// across gives the ends of a line across the diagram.
func (f *figure) across(v float64, level bool) (a, b geometry.Point, ok bool) {
	if level {
		if v < f.y.Min || v > f.y.Max {
			return a, b, false
		}
		y := f.atY(v)
		return geometry.Point{X: f.box.Min.X, Y: y}, geometry.Point{X: f.box.Max.X, Y: y}, true
	}
	if v < f.x.Min || v > f.x.Max {
		return a, b, false
	}
	x := f.atX(v)
	return geometry.Point{X: x, Y: f.box.Min.Y}, geometry.Point{X: x, Y: f.box.Max.Y}, true
}

const (
	markRadius = 1.1
	capHalf    = 1.2 // half the stroke across the end of a span
)

func (f *figure) holds(m *Mark) bool {
	return m.X >= f.x.Min && m.X <= f.x.Max && m.Y >= f.y.Min && m.Y <= f.y.Max
}

func (f *figure) mark(m *Mark) {
	if !f.holds(m) {
		return
	}
	at := f.at(m.X, m.Y)
	pen := f.style.NarrowLine()
	bar := func(a, b geometry.Point, cross geometry.Point) {
		f.line("mark", render.LayerPlot, pen, a, b)
		f.obstacle(ofNone, pen.Width, a, b)
		for _, end := range [2]geometry.Point{a, b} {
			f.line("mark", render.LayerPlot, pen, end.Sub(cross.Scale(capHalf)), end.Add(cross.Scale(capHalf)))
			f.obstacle(ofNone, pen.Width, end.Sub(cross.Scale(capHalf)), end.Add(cross.Scale(capHalf)))
		}
	}
	inX := func(v float64) float64 { return math.Min(math.Max(v, f.x.Min), f.x.Max) }
	inY := func(v float64) float64 { return math.Min(math.Max(v, f.y.Min), f.y.Max) }
	if m.XSpan[0] != m.XSpan[1] {
		bar(f.at(inX(m.XSpan[0]), m.Y), f.at(inX(m.XSpan[1]), m.Y), geometry.Point{Y: 1})
	}
	if m.YSpan[0] != m.YSpan[1] {
		bar(f.at(m.X, inY(m.YSpan[0])), f.at(m.X, inY(m.YSpan[1])), geometry.Point{X: 1})
	}
	wide := f.style.NarrowLine()
	wide.Width = f.style.Lettering
	fill := white
	if m.Solid {
		fill = render.Black
	}
	f.circle("mark", at, markRadius, wide, &fill)
	r := markRadius + wide.Width/2
	f.obstacleBox(geometry.Box{Min: at.Sub(geometry.Point{X: r, Y: r}), Max: at.Add(geometry.Point{X: r, Y: r})})
}

// along are the places on a curve that its label is tried at.
var along = [...]float64{0.72, 0.6, 0.82, 0.5, 0.4, 0.9, 0.3, 0.2, 0.1, 0.97, 0.03, 0.66, 0.55, 0.77, 0.45, 0.35, 0.25, 0.15}

// labels places every label; those without a place go to the key.
func (f *figure) labels() {
	for i := range f.Curves {
		if len(f.curves[i]) == 0 {
			continue
		}
		anchors := spread(f.curves[i])
		f.named(f.Curves[i].Label,
			func(text string) bool { return f.label("curve", text, f.style.TextHeight, i, besideCurve, anchors) },
			func(b geometry.Box) { f.sampleLine(b, f.curvePen(i)) })
	}
	for i := range f.Marks {
		m := &f.Marks[i]
		if !f.holds(m) {
			continue
		}
		anchors := []geometry.Point{f.at(m.X, m.Y)}
		f.named(m.Label,
			func(text string) bool {
				return f.label("mark", text, f.style.TextHeight, -1, markRadius+beside, anchors)
			},
			func(b geometry.Box) {
				fill := white
				if m.Solid {
					fill = render.Black
				}
				f.circle("key", b.Centre(), markRadius, f.style.NarrowLine(), &fill)
			})
	}
	for i := range f.Limits {
		l := &f.Limits[i]
		a, _, ok := f.across(l.At, l.Level)
		if !ok {
			continue
		}
		f.named(l.Label,
			func(text string) bool { return f.limit(text, l.Level, a) },
			func(b geometry.Box) { f.sampleLine(b, limitPen(f.style)) })
	}
	for i := range f.Bands {
		d := &f.Bands[i]
		room, ok := f.strip(d)
		if !ok {
			continue
		}
		f.named(d.Label,
			func(text string) bool { return f.within("band", text, f.style.TextHeight, room) },
			func(b geometry.Box) {
				f.rect("key", render.LayerPlot, b, linePen(), nil)
				if d.Refused {
					f.line("key", render.LayerHatch, linePen(), b.Min, b.Max)
				} else {
					f.rect("key", render.LayerTint, b, nil, &f.style.Tint)
				}
			})
	}
}

func (f *figure) limit(text string, level bool, a geometry.Point) bool {
	height := f.style.TextHeight
	if level {
		return f.level("limit", text, height, a.Y, f.box.Min.X, f.box.Max.X)
	}
	return f.upright("limit", text, height, a.X, f.box.Min.Y, f.box.Max.Y) ||
		f.flag("limit", text, height, a.X, f.box.Min.Y, f.box.Max.Y)
}

// named gives a label its place, or moves it to the key and lets a letter stand
// for it.
func (f *figure) named(label string, place func(string) bool, sample func(geometry.Box)) {
	if label == "" || place(label) {
		return
	}
	if letter := letterOf(f.letters); place(letter) {
		label = letter + ": " + label
	}
	f.key = addKey(f.key, label, f.wide, f.style.TextHeight, sample)
	f.letters++
}

func (f *figure) sampleLine(b geometry.Box, pen *render.Stroke) {
	f.line("key", render.LayerPlot, pen, geometry.Point{X: b.Min.X, Y: b.Centre().Y}, geometry.Point{X: b.Max.X, Y: b.Centre().Y})
}

// strip is a band on the sheet.
func (f *figure) strip(d *Band) (geometry.Box, bool) {
	b := f.box
	axis := &f.x
	if d.Level {
		axis = &f.y
	}
	lo, hi := math.Max(math.Min(d.From, d.To), axis.Min), math.Min(math.Max(d.From, d.To), axis.Max)
	if !(lo < hi) {
		return b, false
	}
	if d.Level {
		b.Min.Y, b.Max.Y = f.atY(lo), f.atY(hi)
	} else {
		b.Min.X, b.Max.X = f.atX(lo), f.atX(hi)
	}
	return b, true
}

// linePen is the pen of the lining: lighter than that of a section.
func linePen() *render.Stroke {
	return &render.Stroke{Width: 0.13, Ink: render.Ink{R: 110, G: 110, B: 110}}
}

// linePitch is the spacing of the lining of refused bands, wide enough to be
// told from a section.
const linePitch = 4.5

// tints draws the bands. The lining spares the texts, and runs once where
// refused bands overlap.
func (f *figure) tints() {
	spared := make([][4]geometry.Point, len(f.texts))
	for i := range f.texts {
		spared[i] = corners(f.texts[i].Grow(2 * apart))
	}
	var lined []geometry.Outline
	for i := range f.Bands {
		b, ok := f.strip(&f.Bands[i])
		if !ok {
			continue
		}
		if !f.Bands[i].Refused {
			f.rect("band", render.LayerTint, b, nil, &f.style.Tint)
			continue
		}
		c := corners(b)
		o, err := geometry.Polygon(c[:]...)
		if err != nil {
			continue // thinner than a line
		}
		edges := render.Hatch(o, render.Hatching{Angle: 45 * geometry.Degree, Pitch: linePitch}, lined, spared)
		if len(edges) > 0 {
			f.path("band", render.LayerHatch, render.Path{Edges: edges, Stroke: linePen()})
		}
		lined = append(lined, o)
	}
}

// grid draws a pale line at each tick, not through texts.
func (f *figure) grid(upright []Tick) {
	pen := &render.Stroke{Width: 0.13, Ink: pale}
	draw := func(a, b geometry.Point) {
		for _, part := range f.cut(a, b) {
			f.line("grid", render.LayerHatch, pen, part[0], part[1])
		}
	}
	const edge = 0.1 // mm: a tick there lies on the frame
	for _, t := range f.x.ticks(f.style, f.box.Width(), f.style.TextHeight, true) {
		if x := f.atX(t.At); x > f.box.Min.X+edge && x < f.box.Max.X-edge {
			draw(geometry.Point{X: x, Y: f.box.Min.Y}, geometry.Point{X: x, Y: f.box.Max.Y})
		}
	}
	for _, t := range upright {
		if y := f.atY(t.At); y > f.box.Min.Y+edge && y < f.box.Max.Y-edge {
			draw(geometry.Point{X: f.box.Min.X, Y: y}, geometry.Point{X: f.box.Max.X, Y: y})
		}
	}
}
