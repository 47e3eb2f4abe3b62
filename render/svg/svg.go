// Package svg writes a drawing as an SVG file at true size: width and height in
// mm, user units of 1 mm, y down.
//
// Lettering is drawn as outlines, so that a sheet looks the same on every
// machine and gives the same bytes on every run. The outline of a glyph is
// written once, in font units, and used wherever it occurs; a full sheet stays
// below a tenth of the size it has with every letter written out. Each text
// stands in a group whose title is its plain text, which searching and screen
// readers find. Items stand in one group per layer with the layer's name as
// class.
//
// The file is written here and not by the SVG renderer of the canvas library:
// that renderer knows neither groups nor titles, languages or shared outlines,
// and takes each path through a matrix product that turns the round numbers of
// arcs into noise.
package svg

import (
	"io"
	"math/bits"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"fay/geometry"
	"fay/render"
	"fay/render/internal/number"
	"fay/render/internal/pen"
	"fay/render/lettering"
)

// Write writes the drawing. It fails before the first byte when the drawing has
// faults (see render.Drawing.Check), and with the writer's error.
func Write(w io.Writer, d *render.Drawing) error {
	if err := d.Check(); err != nil {
		return err
	}
	f, _ := files.Get().(*file)
	defer files.Put(f)
	f.height = number.Round(d.Height, pen.Decimals)
	// The layers are written first: they tell which glyphs are to stand before them.
	f.Reset()
	for i := range f.used {
		f.used[i].font = nil
		clear(f.used[i].bits)
	}
	for layer, items := range d.ByLayer() {
		f.layer(layer, items)
	}
	f.Buffer, f.layers = f.layers, f.Buffer
	f.Reset()
	f.head(d)
	f.glyphs()
	f.Raw(f.layers.Bytes())
	f.Text("</svg>\n")
	_, err := w.Write(f.Bytes())
	return err
}

type file struct {
	number.Buffer
	layers number.Buffer
	height float64
	at     geometry.Point           // where the path in hand has got to
	used   [len(letters)]usedGlyphs // by the index of the font
}

// usedGlyphs are those of a font that a drawing has.
type usedGlyphs struct {
	font *lettering.Font // nil where it has none
	bits []uint64
}

// files are used again: the next sheet is about as long.
var files = sync.Pool{New: func() any {
	const usual = 1 << 17 // bytes of an ordinary sheet
	return &file{Buffer: number.NewBuffer(usual), layers: number.NewBuffer(usual)}
}}

func (f *file) head(d *render.Drawing) {
	f.Text(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	f.Text(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="`)
	f.num(d.Width)
	f.Text(`mm" height="`)
	f.num(d.Height)
	f.Text(`mm" viewBox="0 0 `)
	f.num(d.Width)
	f.Byte(' ')
	f.num(d.Height)
	f.Byte('"')
	if d.Language != "" {
		f.Text(` xml:lang="` + escape(d.Language) + `"`)
	}
	f.Text(` role="img" fill="none" stroke-linecap="round" stroke-linejoin="round">` + "\n")
	f.element("title", d.Title)
	f.element("desc", d.Description)
	f.Text(`<rect class="paper" width="`)
	f.num(d.Width)
	f.Text(`" height="`)
	f.num(d.Height)
	f.Text(`" fill="#ffffff"/>` + "\n")
}

// element writes a text element, or nothing for an empty text.
func (f *file) element(name, content string) {
	if content != "" {
		f.Text("<" + name + ">" + escape(content) + "</" + name + ">\n")
	}
}

func (f *file) layer(layer render.Layer, items []*render.Item) {
	f.Text(`<g id="layer-` + string(layer) + `" class="layer ` + string(layer) + "\">\n")
	for _, it := range items {
		if it.Path != nil {
			f.path(it.Path)
		} else {
			f.text(it.Text)
		}
	}
	f.Text("</g>\n")
}

func (f *file) path(p *render.Path) {
	if p.Stroke == nil && p.Fill == nil {
		return
	}
	f.Text(`<path d="`)
	pen.Draw(p.Edges, p.Closed, f)
	f.Byte('"')
	if p.Fill != nil {
		f.ink("fill", *p.Fill)
	}
	if s := p.Stroke; s != nil {
		f.ink("stroke", s.Ink)
		f.Text(` stroke-width="`)
		f.num(s.Width)
		f.Byte('"')
		if len(s.Dash) > 0 {
			f.Text(` stroke-linecap="butt" stroke-dasharray="`)
			for i, v := range s.Dash {
				if i > 0 {
					f.Byte(' ')
				}
				f.num(v)
			}
			f.Byte('"')
		}
	}
	f.Text("/>\n")
}

func (f *file) ink(attribute string, i render.Ink) {
	f.Byte(' ')
	f.Text(attribute)
	f.Text(`="`)
	f.Byte('#')
	f.Hex(i.R)
	f.Hex(i.G)
	f.Hex(i.B)
	f.Byte('"')
}

func (f *file) text(t *render.Text) {
	if t.Content == "" {
		return
	}
	f.Text(`<g class="text"><title>`)
	f.Text(escape(t.Content))
	f.Text("</title>")
	if t.Halo > 0 {
		f.halo(t)
	}
	origin := t.Origin()
	runs := t.Line().Runs()
	for i := range runs {
		run := &runs[i]
		f.run(t, run, origin.Add(geometry.Polar(run.X*t.Height, t.Angle)))
	}
	f.Text("</g>\n")
}

// run places the glyphs of a run that starts at a point, in font units.
func (f *file) run(t *render.Text, run *lettering.Run, o geometry.Point) {
	f.Text(`<g transform="translate(`)
	f.point(o)
	f.Byte(')')
	if t.Angle != 0 {
		f.Text(` rotate(`)
		f.Number(-t.Angle.Degrees(), 4)
		f.Byte(')')
	}
	f.Text(` scale(`)
	f.Number(run.Font.Scale(t.Height), 9)
	f.Text(`)"`)
	f.ink("fill", t.Ink)
	f.Byte('>')
	used := f.usedOf(run.Font)
	use := `<use xlink:href="#glyph-` + letters[run.Font.Index:run.Font.Index+1]
	for i := range run.Glyphs {
		g := &run.Glyphs[i]
		used[g.Glyph/64] |= 1 << (g.Glyph % 64)
		if run.Font.SVG(g.Glyph) == "" {
			continue
		}
		f.Text(use)
		f.Int(int64(g.Glyph))
		if x := g.X + g.DX; x != 0 {
			f.Text(`" x="`)
			f.Number(x, 1)
		}
		if g.DY != 0 {
			f.Text(`" y="`)
			f.Number(-g.DY, 1)
		}
		f.Text(`"/>`)
	}
	f.Text("</g>")
}

// letters stand for the fonts in the ids of glyphs: a letter for the font and the
// glyph's number, the same in every file, so that drawings can stand together in
// one document.
const letters = "abcd"

// usedOf is where the glyphs of a font are noted.
func (f *file) usedOf(font *lettering.Font) []uint64 {
	u := &f.used[font.Index]
	if u.font = font; u.bits == nil {
		u.bits = make([]uint64, font.Glyphs()/64+1)
	}
	return u.bits
}

// glyphs writes the outline of every glyph of the drawing, by font and number.
func (f *file) glyphs() {
	if !slices.ContainsFunc(f.used[:], func(u usedGlyphs) bool { return u.font != nil }) {
		return
	}
	f.Text("<defs>\n")
	for i := range f.used {
		u := &f.used[i]
		for k, word := range u.bits {
			for ; word != 0; word &= word - 1 {
				g := lettering.Glyph(64*k + bits.TrailingZeros64(word)) //nolint:gosec // it was one
				if data := u.font.SVG(g); data != "" {
					f.Text(`<path id="glyph-`)
					f.Byte(letters[i])
					f.Int(int64(g))
					f.Text(`" d="`)
					f.Text(data)
					f.Text("\"/>\n")
				}
			}
		}
	}
	f.Text("</defs>\n")
}

// halo clears the paper behind a text.
func (f *file) halo(t *render.Text) {
	f.Text(`<path class="halo" d="`)
	for i, c := range t.Box(t.Halo) {
		f.Byte("MLLL"[i])
		f.point(c)
	}
	f.Text(`Z" fill="#ffffff"/>`)
}

// The path commands of pen.Sink.

func (f *file) MoveTo(p geometry.Point) {
	f.Byte('M')
	f.point(p)
	f.at = p
}

func (f *file) LineTo(p geometry.Point) {
	switch {
	case p.Y == f.at.Y:
		f.Byte('H')
		f.num(p.X)
	case p.X == f.at.X:
		f.Byte('V')
		f.num(f.height - p.Y)
	default:
		f.Byte('L')
		f.point(p)
	}
	f.at = p
}

func (f *file) ArcTo(p geometry.Point, radius float64, sweep geometry.Angle) {
	f.Byte('A')
	f.num(radius)
	f.Byte(' ')
	f.num(radius)
	// y points down, so a counter-clockwise arc on the sheet has sweep flag 0.
	if sweep > 0 {
		f.Text(" 0 0 0 ")
	} else {
		f.Text(" 0 0 1 ")
	}
	f.point(p)
	f.at = p
}

func (f *file) QuadTo(control, p geometry.Point) {
	f.Byte('Q')
	f.point(control)
	f.Byte(' ')
	f.point(p)
	f.at = p
}

func (f *file) Close() { f.Byte('Z') }

func (f *file) point(p geometry.Point) {
	f.num(p.X)
	f.Byte(' ')
	f.num(f.height - p.Y)
}

func (f *file) num(v float64) { f.Number(v, pen.Decimals) }

// escape makes a text fit for XML: markup characters escaped, characters XML
// does not allow replaced by U+FFFD.
func escape(s string) string {
	if !strings.ContainsFunc(s, special) {
		return s
	}
	out := make([]byte, 0, len(s)+16)
	for _, r := range s {
		switch {
		case !special(r):
			out = utf8.AppendRune(out, r)
		case r == utf8.RuneError || !allowed(r):
			out = utf8.AppendRune(out, utf8.RuneError)
		default:
			out = append(out, "&#"...)
			out = strconv.AppendInt(out, int64(r), 10)
			out = append(out, ';')
		}
	}
	return string(out)
}

// special says whether a character cannot stand in XML as it is; broken bytes
// arrive as U+FFFD and are copied as that.
func special(r rune) bool {
	switch r {
	case '<', '>', '&', '"', '\'', '\t', '\n', '\r', utf8.RuneError:
		return true
	}
	return !allowed(r)
}

// allowed is the production Char of XML 1.0.
func allowed(r rune) bool {
	switch {
	case r == '\t' || r == '\n' || r == '\r':
		return true
	case r < 0x20 || r >= 0xD800 && r <= 0xDFFF || r == 0xFFFE || r == 0xFFFF:
		return false
	}
	return true
}
