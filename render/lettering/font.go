package lettering

import (
	_ "embed"
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"github.com/tdewolff/canvas"
)

// Face picks the lettering.
type Face uint8

// The faces of the lettering.
const (
	Regular Face = iota
	Bold
)

var (
	//go:embed fonts/B612-Regular.otf
	b612Regular []byte
	//go:embed fonts/B612-Bold.otf
	b612Bold []byte
	//go:embed fonts/DejaVuSansCondensed.ttf
	dejaVuRegular []byte
	//go:embed fonts/DejaVuSansCondensed-Bold.ttf
	dejaVuBold []byte
)

// A Font is one embedded font program, shared by all goroutines.
type Font struct {
	// Index numbers the fonts, for maps and sorting that must not depend on
	// addresses.
	Index int
	// Name is the PostScript name.
	Name string
	// Units is the number of font units to the em; Cap is the height of a
	// capital in font units.
	Units, Cap float64

	face *canvas.FontFace
	// mu guards the shaper and the outline reader of the font library, which
	// keep scratch data.
	mu       sync.Mutex
	drawings []atomic.Pointer[drawing] // by glyph; nil until it is drawn
	pairs    pairs
}

// Glyph names the number of a glyph in its font.
type Glyph uint16

var fonts = [...]func() *Font{
	sync.OnceValue(func() *Font { return load(0, b612Regular) }),
	sync.OnceValue(func() *Font { return load(1, b612Bold) }),
	sync.OnceValue(func() *Font { return load(2, dejaVuRegular) }),
	sync.OnceValue(func() *Font { return load(3, dejaVuBold) }),
}

// mainFont and fallbackFont load the fonts of a face.
func mainFont(face Face) *Font {
	if face == Bold {
		return fonts[1]()
	}
	return fonts[0]()
}

func fallbackFont(face Face) *Font {
	if face == Bold {
		return fonts[3]()
	}
	return fonts[2]()
}

// load parses an embedded font. A failure is a damaged build, never a user's
// doing.
func load(index int, program []byte) *Font {
	f, err := canvas.LoadFont(program, 0, canvas.FontRegular)
	if err != nil {
		panic(fmt.Sprintf("lettering: embedded font %d: %v", index, err))
	}
	units := float64(f.Head.UnitsPerEm)
	return &Font{
		Index: index,
		Name:  f.Name(),
		Units: units,
		Cap:   float64(f.OS2.SCapHeight),
		// A size of one em in millimetres per em: positions come out in font units.
		face:     f.Face(units/mmPerPoint, canvas.Black),
		drawings: make([]atomic.Pointer[drawing], f.NumGlyphs()),
	}
}

// mmPerPoint turns points (1/72 in) into millimetres; 25.4/72 exactly.
const mmPerPoint = 25.4 / 72

// Glyphs is the number of glyphs of the font.
func (f *Font) Glyphs() int { return len(f.drawings) }

// has says whether the font can draw the character.
func (f *Font) has(r rune) bool {
	return f.face.Font.GlyphIndex(r) != 0
}

// Advance is the width of a glyph in font units, before kerning.
func (f *Font) Advance(g Glyph) float64 {
	return float64(f.face.Font.GlyphAdvance(uint16(g)))
}

// Scale gives millimetres per font unit at a capital height.
func (f *Font) Scale(height float64) float64 {
	return height / f.Cap
}

// vertical holds how far lettering reaches above and below the base line, as
// fractions of the capital height.
type vertical struct{ ascent, descent float64 }

var verticals = [...]func() vertical{
	sync.OnceValue(func() vertical { return reach(Regular) }),
	sync.OnceValue(func() vertical { return reach(Bold) }),
}

// reach measures the tallest and the deepest letters of a face, accented
// capitals and brackets included.
func reach(face Face) vertical {
	l := Set("ÅÊÑgjpqy()[]{}|/,;Ç", face, 1)
	low, high := l.Ink()
	return vertical{ascent: high, descent: -low}
}

// Ascent is how far accented capitals reach above the base line, as a fraction
// of the capital height (more than 1).
func Ascent(face Face) float64 {
	return verticals[min(face, Bold)]().ascent
}

// Descent is how far tails reach below the base line, as a positive fraction of
// the capital height.
func Descent(face Face) float64 {
	return verticals[min(face, Bold)]().descent
}

// usable says whether a height can be drawn at all; others draw nothing.
func usable(height float64) bool {
	return height > 0 && !math.IsInf(height, 1)
}

// String names the face.
func (f Face) String() string {
	if f == Bold {
		return "bold"
	}
	return "regular"
}
