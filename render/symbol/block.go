package symbol

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

// block is one side of the reference line, its glyph's left edge at x = 0.
type block struct {
	side      *Side
	up        float64 // +1 above the line, −1 below it
	y0        float64 // of the line it stands on
	rows      []row
	left      float64
	right     float64 // of the strokes
	run, gap  label
	shift     float64 // of a staggered glyph
	axis      float64 // what is put over the glyph of the other side
	plain     bool    // stands on the dashed line, which must not show through
	angle     label
	angleMid  float64
	angleOver float64
}

// row is one glyph with the size at its left.
type row struct {
	shape shape
	size  label
	y     float64 // over the line
	based bool    // draw the base
	// contour along the open edge, out of it by over.
	contour bool
	over    float64
	// text inside the glyph or in its mouth.
	inner  label
	innerX float64 // middle
	innerY float64
	out    float64 // of the size from the glyph, beyond the usual gap
}

// block prepares a side.
func (d *drafter) block(i int) block {
	s := &d.s.Sides[i]
	b := block{side: s, up: -1}
	if i == 1 {
		b.up = 1
	}
	if d.s.System == ISOA {
		b.up = -b.up
		if i == 1 && d.dashed() {
			b.y0, b.plain = -dashedBelow, true
		}
	}
	if s.Glyph != "" {
		b.rows = d.rows(s, b.plain)
		if s.GrooveAngle != 0 {
			b.angle = letter(d.st.Numbers.Angle(s.GrooveAngle.Degrees()), d.size.h, false)
		}
	} else if s.Backing != "" || s.MeltThrough.Present {
		b.rows = []row{d.far(s, b.plain)}
	}
	first, second := d.words.run(s.Run)
	b.run, b.gap = letter(first, d.size.h, d.place.Stacked), letter(second, d.size.h, d.place.Stacked)
	d.measure(&b)
	return b
}

// dashed tells whether system A needs its dashed line.
func (d *drafter) dashed() bool { return d.s.System == ISOA && !d.s.Symmetric() }

// rows are the glyphs of a side from the line outwards: the groove, the fillet
// on it.
func (d *drafter) rows(s *Side, based bool) []row {
	stacked := d.place.Stacked
	first := row{shape: s.Glyph.shape(d.size.g, d.size.h), based: based, contour: s.Contour != "", over: contourClear * d.size.h}
	if s.Glyph == Fillet {
		first.size = letter(d.words.fillet(s), d.size.h, stacked)
		return []row{first}
	}
	first.size = letter(d.words.groove(s), d.size.h, stacked)
	first.inner = letter(d.words.opt("", s.RootOpening), d.size.small, false)
	if s.Glyph == Plug && s.Fill.Present {
		first.inner = letter(d.words.length(s.Fill.Value), d.size.small, false)
		// A comma hangs below the line of the figures.
		hang, free := commaHang*d.size.small, mouthClear*d.size.h
		first.shape = rectangle(math.Max(first.shape.w, first.inner.width+2*free), math.Max(first.shape.top, first.inner.height+hang+2*free))
		first.innerX, first.innerY = first.shape.w/2, (first.shape.top-first.inner.height+hang)/2
		return []row{first}
	}
	fillet := s.Legs != nil || s.Throat.Present
	glyphTop := first.shape.top
	top := d.opening(&first, fillet && s.Glyph.upright())
	if !fillet {
		first.over += top - glyphTop
		return []row{first}
	}
	if first.size.width > 0 {
		top = math.Max(top, (1+descent)*d.size.h) // the sizes stand one over the other
	}
	second := row{shape: Fillet.shape(d.size.g, d.size.h), based: true, contour: first.contour, over: first.over,
		size: letter(d.words.fillet(s), d.size.h, stacked), y: top}
	if top > glyphTop {
		second.y += mouthClear * d.size.h
		if s.Glyph.upright() {
			// One upright carries both glyphs.
			first.shape.strokes = append(first.shape.strokes, line(0, glyphTop, 0, second.y))
		}
	}
	first.contour = false
	return []row{first, second}
}

// opening places the root opening in the mouth of a glyph, or beyond it where
// the strokes leave no room, and says how high the glyph then is. Beside an
// upright that goes on, it stands at its right.
func (d *drafter) opening(r *row, upright bool) float64 {
	if r.inner.width == 0 {
		return r.shape.top
	}
	free := mouthClear * d.size.h
	x, y, ok := 0.0, 0.0, false
	if r.shape.mouth != nil {
		x, y, ok = r.shape.mouth(r.inner.width, free)
	}
	if beyond := r.shape.top + textGap*d.size.h; !ok || y > beyond {
		x, y = r.shape.w/2, beyond
		if overhangs := x < r.inner.width/2 && r.size.width > 0; overhangs && r.size.height <= d.size.h {
			y = math.Max(y, (textRise+1+descent)*d.size.h)
		}
		if upright {
			x = free + r.inner.width/2
		}
	}
	r.innerX, r.innerY = x, y
	return math.Max(r.shape.top, y+r.inner.height)
}

// far is the glyph opposite a groove: backing, or the root reinforcement with
// its height.
func (d *drafter) far(s *Side, based bool) row {
	if s.Backing == "" {
		return row{shape: disc(d.size.g, true), size: letter(d.words.length(s.MeltThrough.Value), d.size.h, d.place.Stacked)}
	}
	r := row{shape: rectangle(rectangleLong*d.size.g, rectangleHigh*d.size.g), based: based}
	if text := d.words.backing(s.Backing); text != "" {
		r.inner = letter(text, d.size.small, false)
		r.innerX, r.innerY = r.shape.w/2, (r.shape.top-r.inner.height)/2
	}
	return r
}

// measure settles how far a block reaches left and right of its glyph.
func (d *drafter) measure(b *block) {
	if len(b.rows) == 0 {
		return
	}
	over := 0.0
	for i := range b.rows {
		r := &b.rows[i]
		// A tall size and a wide root opening do not reach over each other.
		if r.inner.width > 0 && r.innerY < textRise*d.size.h+r.size.height+descent*d.size.h {
			r.out = math.Max(0, r.inner.width/2-r.innerX)
		}
		// Nor does a contour wider than its glyph stand on a bracket.
		if r.contour && r.size.width > 0 {
			box := d.contour(b.side, r).Bounds()
			if box.Min.Y < (textRise+descent)*d.size.h+r.size.height {
				r.out = math.Max(r.out, -box.Min.X)
			}
		}
		if r.size.width > 0 {
			b.left = math.Max(b.left, r.size.width+textGap*d.size.h+r.out)
		}
		for _, e := range d.strokes(b, r) {
			box := e.Bounds()
			b.left, b.right = math.Max(b.left, -box.Min.X), math.Max(b.right, box.Max.X)
			over = math.Max(over, r.y+box.Max.Y)
		}
		b.right = math.Max(b.right, r.shape.w)
		if r.inner.width > 0 {
			b.left = math.Max(b.left, r.inner.width/2-r.innerX)
			// Only a text as low as the lengths pushes them aside.
			if r.innerY < (textRise+1+descent)*d.size.h {
				b.right = math.Max(b.right, r.innerX+r.inner.width/2)
			}
			over = math.Max(over, r.y+r.innerY+r.inner.height)
		}
		over = math.Max(over, r.y+r.shape.top)
	}
	first := &b.rows[0].shape
	b.axis = first.w / 2
	if b.angle.width > 0 {
		b.angleMid = first.w / 2
		if len(b.rows) > 1 {
			b.angleMid = math.Max(first.w, b.rows[1].shape.w) / 2
		}
		b.angleOver = over + textGap*d.size.h
		for i := range b.rows {
			r := &b.rows[i]
			if edge := -textGap*d.size.h - r.out; r.size.width > 0 && b.angleMid-b.angle.width/2 < edge+mouthClear*d.size.h {
				high := r.size.height + (mouthClear+commaHang)*d.size.h
				if b.up < 0 && len(b.rows) == 1 {
					high += descent * d.size.h // of brackets, which hang towards the angle
				}
				b.angleOver = math.Max(b.angleOver, r.y+textRise*d.size.h+high)
			}
		}
		b.left = math.Max(b.left, b.angle.width/2-b.angleMid)
		// An angle as low as the lengths pushes them aside, as such a text does.
		if b.run.width > 0 && b.angleOver < (textRise+1+descent)*d.size.h {
			b.right = math.Max(b.right, b.angleMid+b.angle.width/2)
		}
	}
}

// strokes are those of a row about its own origin, contour included, y out
// from the line.
func (d *drafter) strokes(b *block, r *row) []geometry.Edge {
	out := append([]geometry.Edge(nil), r.shape.strokes...)
	if r.based && r.shape.base != nil {
		out = append(out, *r.shape.base)
	}
	if r.contour {
		out = append(out, d.contour(b.side, r))
	}
	return out
}

// contour is the line of the face, along the open edge of the glyph.
func (d *drafter) contour(s *Side, r *row) geometry.Edge {
	e := r.shape.open
	u := e.End().Sub(e.Start()).Unit()
	n := u.Perp() // outwards: the edge runs left to right
	length := math.Max(e.Length()*0.84, 1.1*d.size.h)
	mid := e.At(0.5).Add(n.Scale(r.over))
	rise := 0.0
	switch s.Contour {
	case joints.FaceConvex:
		rise = contourRise * d.size.h
	case joints.FaceConcave:
		rise = -contourRise * d.size.h
		mid = mid.Add(n.Scale(-rise))
	case joints.FaceFlat, joints.FaceFlush:
	}
	a, z := mid.Sub(u.Scale(length/2)), mid.Add(u.Scale(length/2))
	// A positive sagitta bulges to the right of the way: inwards here.
	return geometry.Arc(a, z, -rise)
}
