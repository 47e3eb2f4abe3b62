package lettering

import (
	"math"

	"fay/render/internal/number"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/font"
)

// drawing is what a glyph looks like, in font units.
type drawing struct {
	svg       string
	low, high float64 // of the end points of its curves
}

// draw traces a glyph once; the number of glyphs of a font bounds what is kept.
func (f *Font) draw(g Glyph) *drawing {
	kept := &f.drawings[g]
	if d := kept.Load(); d != nil {
		return d
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	t := tracer{low: math.Inf(1), high: math.Inf(-1)}
	// A glyph the font reader refuses would leave what was drawn of it; a test
	// draws every glyph of the embedded fonts.
	_ = f.face.Font.GlyphPath(&t, uint16(g), 0, 0, 0, 1, font.NoHinting)
	d := &drawing{svg: string(t.svg), low: t.low / tenth, high: t.high / tenth}
	kept.Store(d)
	return d
}

// SVG gives the outline of a glyph as SVG path data in font units, y down as
// SVG counts; nothing for a blank.
func (f *Font) SVG(g Glyph) string { return f.draw(g).svg }

// add draws a glyph of a run into a path.
func (f *Font) add(p *canvas.Path, g Placed, x, scale float64) {
	f.mu.Lock()
	defer f.mu.Unlock()
	_ = f.face.Font.GlyphPath(p, uint16(g.Glyph), 0, x+scale*(g.X+g.DX), scale*g.DY, scale, font.NoHinting)
}

// tenth: outlines are counted in tenths of a font unit, because TrueType curves
// meet half way between whole units.
const tenth = 10

// tracer writes an outline as SVG path data with relative coordinates; whole
// tenths keep them exact.
type tracer struct {
	svg          []byte
	last         byte // command that a further series of numbers would repeat
	x, y, x0, y0 int64
	low, high    float64
	open         bool
}

func tenths(v float64) int64 { return int64(math.Round(v * tenth)) }

// write writes a command with its numbers; a repeated command needs no letter.
func (t *tracer) write(c byte, values ...int64) {
	if c != t.last || c == 'M' {
		t.svg = append(t.svg, c)
	}
	t.last = c
	for _, v := range values {
		t.svg = number.AppendSeparated(t.svg, v, 1)
	}
}

func (t *tracer) to(x, y int64) {
	t.x, t.y = x, y
	t.low, t.high = math.Min(t.low, float64(y)), math.Max(t.high, float64(y))
}

// MoveTo, LineTo, QuadTo, CubeTo and Close take the outline of the font reader.

func (t *tracer) MoveTo(x, y float64) {
	t.Close()
	t.open = true
	t.to(tenths(x), tenths(y))
	t.x0, t.y0 = t.x, t.y
	t.write('M', t.x, -t.y)
}

func (t *tracer) LineTo(x, y float64) {
	nx, ny := tenths(x), tenths(y)
	switch {
	case nx == t.x && ny == t.y:
		return
	case ny == t.y:
		t.write('h', nx-t.x)
	case nx == t.x:
		t.write('v', t.y-ny)
	default:
		t.write('l', nx-t.x, t.y-ny)
	}
	t.to(nx, ny)
}

func (t *tracer) QuadTo(cx, cy, x, y float64) {
	nx, ny := tenths(x), tenths(y)
	t.write('q', tenths(cx)-t.x, t.y-tenths(cy), nx-t.x, t.y-ny)
	t.to(nx, ny)
}

func (t *tracer) CubeTo(ax, ay, bx, by, x, y float64) {
	nx, ny := tenths(x), tenths(y)
	t.write('c', tenths(ax)-t.x, t.y-tenths(ay), tenths(bx)-t.x, t.y-tenths(by), nx-t.x, t.y-ny)
	t.to(nx, ny)
}

func (t *tracer) Close() {
	if !t.open {
		return
	}
	t.open = false
	t.write('z')
	t.x, t.y = t.x0, t.y0
}
