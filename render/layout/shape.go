package layout

import (
	"fay/geometry"
	"fay/render"
)

// shape is what of a mark stays the same wherever it stands: a label about its
// elbow, a welding symbol about its knee. Most places fail for their texts, and
// a shape tells so without the mark being drawn.
type shape struct {
	known bool
	texts []shapeText
	box   geometry.Box // nothing of it may leave the limit
}

// shapeText is a text with the room that lines and other texts leave it.
type shapeText struct{ halo, wide textBox }

// take makes a mark the shape about a point.
func (s *shape) take(m *render.Mark, about geometry.Point) {
	s.known, s.texts, s.box = true, s.texts[:0], geometry.EmptyBox()
	for i := range m.Texts {
		b := newTextBox(&m.Texts[i], m.Extents[i])
		b = b.moved(about.Scale(-1))
		s.texts = append(s.texts, shapeText{b.grown(clearLine), b.spaced(clearWord, clearText)})
		s.box = s.box.Union(s.texts[i].halo.box)
	}
}

// shapeOf is the shape of a candidate and the point it stands about; nil where
// its form has none.
func (p *placer) shapeOf(t *task, k *candidate) (*shape, geometry.Point) {
	switch t.form {
	case leader:
		at := t.targets[k.group]
		return p.label(t, k.right), at.Add(leaderDirections[k.angle].Scale(k.x))
	case inline:
		if k.angle > 0 {
			return p.label(t, k.right), t.a.Lerp(t.b, 0.5).Add(leaderDirections[k.angle-1].Scale(k.x))
		}
		return p.label(t, k.right), t.b.Add(t.b.Sub(t.a).Unit().Scale(k.x))
	case welding:
		at := t.place(k.group)
		return &p.symbol(t, k).shape, at.Tip.Add(at.Knee)
	case linear, angular:
	}
	return nil, geometry.Point{}
}

// label is the shape of a task's text on its shoulder.
func (p *placer) label(t *task, right bool) *shape {
	side, s := -1.0, &p.shapes[0]
	if right {
		side, s = 1, &p.shapes[1]
	}
	if !s.known {
		p.style.Leader(&p.mark, &render.Leader{Side: side, End: render.EndNone, Text: t.text, Sub: t.sub, Height: t.height})
		s.take(&p.mark, geometry.Point{})
	}
	return s
}

// symbol is a welding symbol drawn to the side of a candidate.
func (p *placer) symbol(t *task, k *candidate) *drawnSymbol {
	d := &t.drawn[k.group%4]
	if !d.shape.known {
		d.picture = t.picture(p.style, *k)
		d.mark = d.picture.Mark()
		at := t.place(k.group)
		d.shape.take(&d.mark, at.Tip.Add(at.Knee))
	}
	return d
}

// bars tells whether a shape has no room about a point: its texts would stand on
// strange lines or texts. What leaves the limit is out already (atLeast).
func (c *scene) bars(s *shape, at geometry.Point) bool {
	for i := range s.texts {
		halo := s.texts[i].halo.moved(at)
		for j := range c.strokes {
			if o := &c.strokes[j]; halo.box.Overlaps(o.box) && halo.crossed(o) {
				return true
			}
		}
		wide := s.texts[i].wide.moved(at)
		for j := range c.texts {
			if wide.touches(&c.texts[j]) {
				return true
			}
		}
	}
	return false
}
