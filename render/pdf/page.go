package pdf

import (
	"bytes"

	"fay/render"
	"fay/render/internal/number"
	"fay/render/lettering"
)

// Page is a drawing made ready for a file: its content packed, and the glyphs
// it uses. It is a small part of the drawing, which it does not hold on to, so
// that a long job can keep its pages and let its drawings go. Pages may be made
// at the same time.
type Page struct {
	width, height   float64 // mm
	title, language string
	content         []byte // packed
	later           []byte // lettered after it, packed
	glyphs          []usage
}

// usage is what a page uses of one font.
type usage struct {
	font  *lettering.Font // nil for none
	runes map[lettering.Glyph]rune
}

// NewPage makes the page of a drawing. It fails with the faults of the drawing
// (see render.Drawing.Check).
func NewPage(d *render.Drawing) (*Page, error) {
	if err := d.Check(); err != nil {
		return nil, err
	}
	c := newContent()
	c.drawing(d)
	return &Page{
		width: d.Width, height: d.Height, title: d.Title, language: d.Language,
		content: bytes.Clone(pack(c.Bytes())), glyphs: usages(d),
	}, nil
}

// Letter adds a text that was not known when the page was made, over all that
// is on it; it serves once.
func (p *Page) Letter(t *render.Text) {
	// The stream goes on where the page's ends: scaled, in whatever ink.
	c := &content{Buffer: number.NewBuffer(200), fill: render.Ink{R: t.Ink.R ^ 1}}
	c.text(t)
	p.later = bytes.Clone(pack(c.Bytes()))
	more := usages(&render.Drawing{Items: []render.Item{{Text: t}}})
	for i, u := range more {
		for len(p.glyphs) <= i {
			p.glyphs = append(p.glyphs, usage{})
		}
		if p.glyphs[i].font == nil {
			p.glyphs[i] = u
			continue
		}
		for g, r := range u.runes {
			p.glyphs[i].add(g, r)
		}
	}
}

// usages finds the glyphs that a drawing uses, by the index of their font.
func usages(d *render.Drawing) []usage {
	var out []usage
	for i := range d.Items {
		t := d.Items[i].Text
		if t == nil {
			continue
		}
		for _, run := range t.Line().Runs() {
			for len(out) <= run.Font.Index {
				out = append(out, usage{})
			}
			u := &out[run.Font.Index]
			if u.font == nil {
				*u = usage{run.Font, make(map[lettering.Glyph]rune)}
			}
			for _, g := range run.Glyphs {
				u.add(g.Glyph, g.Rune)
			}
		}
	}
	return out
}

// add notes a glyph; the first character it stands for is the one found.
func (u *usage) add(g lettering.Glyph, r rune) {
	if _, ok := u.runes[g]; !ok {
		u.runes[g] = r
	}
}
