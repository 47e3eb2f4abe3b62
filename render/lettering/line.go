package lettering

import (
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/text"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// A Placed glyph of a run, in font units, y up.
type Placed struct {
	Glyph Glyph
	// Rune is the character the glyph stands for, for searching.
	Rune rune
	// X is the pen position from the start of the run; DX and DY move the glyph
	// from the pen (marks); Advance moves the pen on, kerning included.
	X, DX, DY, Advance float64
}

// A Run is the part of a line set in one font.
type Run struct {
	Font *Font
	// X is where the run starts on the base line, in capital heights.
	X      float64
	Glyphs []Placed
}

// shape is a text set in a face, free of size; sizes share it.
type shape struct {
	runs []Run
	// In capital heights: the way of the pen, and how far the ink reaches.
	width, low, high float64
}

// A Line is a text set in a face at a height. It is shared and not changed
// after it was made.
type Line struct {
	Height float64 // of a capital, mm
	Width  float64 // from the start to the end of the pen, mm
	shape  *shape
	path   func() *canvas.Path
}

// Runs gives the glyphs of the line from left to right.
func (l *Line) Runs() []Run { return l.shape.runs }

// Ink says how far the letters of this line reach below (negative) and above
// the base line, in mm; zeros for a blank line.
func (l *Line) Ink() (low, high float64) {
	return l.shape.low * l.Height, l.shape.high * l.Height
}

// Path gives the outlines in mm, y up. Shared: copy before changing.
func (l *Line) Path() *canvas.Path { return l.path() }

// Set sets a line of text. The height is that of a capital in mm; a height that
// is not positive and finite gives an empty line. Line feeds and tabs count as
// spaces.
func Set(content string, face Face, height float64) *Line {
	if !usable(height) {
		content, height = "", 1
	}
	key := lineKey{content, min(face, Bold), height}
	if l, ok := lines.get(key); ok {
		return l
	}
	s := shaped(content, key.face)
	l := &Line{Height: height, Width: s.width * height, shape: s}
	l.path = sync.OnceValue(func() *canvas.Path { return s.outline(height) })
	lines.put(key, len(content), l)
	return l
}

// Measure is the width of a text in mm at a capital height in mm.
func Measure(content string, face Face, height float64) float64 {
	if usable(height) {
		if width, ok := mainFont(min(face, Bold)).plainWidth(content); ok {
			return width * height
		}
	}
	return Set(content, face, height).Width
}

// Outline gives the outlines of a text in mm, start on the origin, y up.
// Shared: copy before changing.
func Outline(content string, face Face, height float64) *canvas.Path {
	return Set(content, face, height).Path()
}

// Missing lists the characters of a text that no face can draw, sorted, each
// once. They are drawn as U+FFFD; tell the user with a warning.
func Missing(content string) []rune {
	if plain(content) {
		return nil // no face lacks any of that
	}
	var missing []rune
	for _, r := range normal(content) {
		if f, drawn := choose(r, Regular); f != nil && drawn == unicode.ReplacementChar && r != drawn {
			missing = append(missing, r)
		}
	}
	slices.Sort(missing)
	return slices.Compact(missing)
}

// normal composes accents, turns white space into plain spaces and broken
// bytes into U+FFFD.
func normal(content string) []rune {
	if plain(content) {
		return []rune(content)
	}
	content = norm.NFC.String(strings.ToValidUTF8(content, "\uFFFD"))
	runes := []rune(content)
	for i, r := range runes {
		switch r {
		case '\t', '\n', '\v', '\f', '\r', '\u0085', '\u2028', '\u2029':
			runes[i] = ' '
		}
	}
	return runes
}

// plain says whether a text is printable ASCII, the usual case.
func plain(content string) bool {
	for i := range len(content) {
		if content[i] < ' ' || content[i] > '~' {
			return false
		}
	}
	return true
}

// Isolate keeps a text that is put into another from changing the order of what
// stands around it, and from being changed: one with letters written from the
// right gets the marks of Unicode for that, any other is returned as it is.
func Isolate(content string) string {
	fromRight := func(r rune) bool {
		properties, _ := bidi.LookupRune(r)
		return properties.Class() == bidi.R || properties.Class() == bidi.AL
	}
	if !strings.ContainsFunc(content, fromRight) {
		return content
	}
	return "\u2068" + content + "\u2069"
}

// invisible says whether a character has no mark of its own: joiners,
// direction marks, variation selectors.
func invisible(r rune) bool {
	return unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r)
}

// shaped sets a text in a face, free of size.
func shaped(content string, face Face) *shape {
	key := shapeKey{content, face}
	if s, ok := shapes.get(key); ok {
		return s
	}
	s := &shape{}
	s.runs = runs(content, face)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range s.runs {
		run := &s.runs[i]
		run.X = s.width
		for k := range run.Glyphs {
			g := &run.Glyphs[k]
			s.width += g.Advance / run.Font.Cap
			if d := run.Font.draw(g.Glyph); d.svg != "" {
				low, high = math.Min(low, (d.low+g.DY)/run.Font.Cap), math.Max(high, (d.high+g.DY)/run.Font.Cap)
			}
		}
	}
	if low <= high {
		s.low, s.high = low, high
	}
	shapes.put(key, len(content), s)
	return s
}

// runs shapes a text; where each run starts is left open.
func runs(content string, face Face) []Run {
	isPlain := content != "" && plain(content)
	if isPlain {
		if run, ok := mainFont(face).fromPairs(content); ok {
			return []Run{run}
		}
	}
	var list []Run
	for _, p := range pieces(normal(content), face) {
		list = append(list, p.font.shape(p))
	}
	if isPlain {
		mainFont(face).learn(content, &list[0])
	}
	return list
}

// A piece is a part of a text with one font, script and direction.
type piece struct {
	font   *Font
	script text.Script
	level  int
	runes  []rune
}

// pieces cuts a text where font, script or direction change, and puts the
// pieces in the order they stand on paper.
func pieces(runes []rune, face Face) []piece {
	if len(runes) == 0 {
		return nil
	}
	var out []piece
	for _, item := range items(runes) {
		first := len(out)
		for _, r := range item.Text {
			f, r := choose(r, face)
			if f == nil {
				continue
			}
			if n := len(out); n == first || out[n-1].font != f && !unicode.Is(unicode.M, r) {
				out = append(out, piece{font: f, script: item.Script, level: item.Level})
			}
			last := &out[len(out)-1]
			last.runes = append(last.runes, r)
		}
	}
	reorder(out)
	return out
}

// items cuts a text by script and direction. Text without right-to-left
// characters, nearly all of it, needs no analysis.
func items(runes []rune) []text.ScriptItem {
	const firstRTL = 0x0590 // Hebrew is the first right-to-left block of Unicode
	if slices.Max(runes) < firstRTL {
		return []text.ScriptItem{{Script: text.Latin, Text: string(runes)}}
	}
	return text.ScriptItemizer(runes, text.EmbeddingLevels(runes))
}

// standIns are characters the main faces lack but have the like of: their empty
// set is the diameter sign of a drawing, a circle with a stroke through it, and
// a hyphen that does not break looks like one that does. Texts found in a
// drawing keep the character that was meant.
var standIns = map[rune]rune{'\u2300': '\u2205', '\u2011': '-'}

// meant gives the character a reader should find for one that was drawn.
func meant(drawn rune) rune {
	if drawn == '\u2205' {
		return '\u2300'
	}
	return drawn
}

// choose gives the font for a character, and the character to draw. No font
// means nothing to draw.
func choose(r rune, face Face) (*Font, rune) {
	if invisible(r) {
		return nil, r
	}
	f := mainFont(face)
	if f.has(r) {
		return f, r
	}
	if like, ok := standIns[r]; ok {
		return f, like
	}
	f = fallbackFont(face)
	if f.has(r) {
		return f, r
	}
	return f, unicode.ReplacementChar
}

// reorder reverses the runs of right-to-left pieces, innermost level first
// (Unicode Bidirectional Algorithm, rule L2).
func reorder(p []piece) {
	top := 0
	for _, x := range p {
		top = max(top, x.level)
	}
	for level := top; level > 0; level-- {
		for i := 0; i < len(p); i++ {
			j := i
			for j < len(p) && p[j].level >= level {
				j++
			}
			slices.Reverse(p[i:j])
			i = max(i, j)
		}
	}
}

// shape places the glyphs of a piece.
func (f *Font) shape(p piece) Run {
	direction := text.LeftToRight
	if p.level%2 == 1 {
		direction = text.RightToLeft
	}
	f.mu.Lock()
	face := *f.face
	face.Direction, face.Script = direction, p.script
	glyphs := face.Glyphs(string(p.runes))
	f.mu.Unlock()

	run := Run{Font: f, Glyphs: make([]Placed, len(glyphs))}
	x := 0.0
	for i, g := range glyphs {
		run.Glyphs[i] = Placed{
			Glyph: Glyph(g.ID), Rune: meant(g.Text),
			X: x, DX: float64(g.XOffset), DY: float64(g.YOffset), Advance: float64(g.XAdvance),
		}
		x += float64(g.XAdvance)
	}
	return run
}

// outline draws the glyphs of a shape at a capital height.
func (s *shape) outline(height float64) *canvas.Path {
	p := &canvas.Path{}
	for _, run := range s.runs {
		for _, g := range run.Glyphs {
			run.Font.add(p, g, run.X*height, run.Font.Scale(height))
		}
	}
	return p
}
