package lettering

import (
	"encoding/binary"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/tdewolff/canvas"
	"github.com/tdewolff/font"
)

var faces = []Face{Regular, Bold}

// Every character a sheet uses by itself must have a letter of its own.
const needed = "±≤≥°⌀√×ψαβ²³·–—µ≈½¼¾⅛→←−…\"'″′‑Øøäöüßéñ€%‰ΔΩθ△▷✓☐[](){}/\\|#&@*+=<>"

func TestNeededCharacters(t *testing.T) {
	for _, face := range faces {
		for _, r := range needed {
			t.Run(fmt.Sprintf("%s %c", face, r), func(t *testing.T) {
				l := Set(string(r), face, 3.5)
				if l.Width <= 0 || l.Path().Empty() {
					t.Errorf("%U is not drawn: width %g", r, l.Width)
				}
				if diff := cmp.Diff([]rune(nil), Missing(string(r))); diff != "" {
					t.Errorf("missing, want, got:\n%s", diff)
				}
			})
		}
	}
}

// A glyph the reader refuses would be drawn in part.
func TestEveryGlyphDraws(t *testing.T) {
	for i := range fonts {
		f := fonts[i]()
		for g := range f.face.Font.NumGlyphs() {
			if err := f.face.Font.GlyphPath(&canvas.Path{}, g, 0, 0, 0, 1, font.NoHinting); err != nil {
				t.Errorf("%s, glyph %d: %v", f.Name, g, err)
			}
		}
	}
}

func TestMissing(t *testing.T) {
	for _, test := range []struct {
		name, in string
		want     []rune
	}{
		{"plain", "Leg 5.0 ±0.5", nil},
		{"empty", "", nil},
		{"another script of the fallback", "Привет", nil},
		{"hanzi, sorted, each once", "接焊接", []rune("接焊")},
		{"tool of a welder", "a👩b", []rune("👩")},
		{"control character", "a\x07b", []rune{7}},
		{"white space is none", "a\tb\nc\u00a0d", nil},
		{"joiners draw nothing and miss nothing", "a\u200db\u202ec\ufe0f", nil},
		{"the substitute itself is there", "\uFFFD", nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, Missing(test.in)); diff != "" {
				t.Errorf("want, got:\n%s", diff)
			}
		})
	}
}

func TestMissingIsDrawnVisibly(t *testing.T) {
	want := Set("\uFFFD", Regular, 3.5)
	for _, s := range []string{"焊", "\x07", "\xff", "👩"} {
		got := Set(s, Regular, 3.5)
		if got.Width != want.Width || got.Path().Empty() {
			t.Errorf("%q: want the substitute of width %g, got width %g", s, want.Width, got.Width)
		}
	}
}

// TestCapitalHeight measures letters with flat tops in their outlines.
func TestCapitalHeight(t *testing.T) {
	for _, face := range faces {
		for _, s := range []string{"E", "T", "Z", "Ł", "П"} { // the last two come from the fallback
			top := Outline(s, face, 3.5).Bounds().Y1
			if math.Abs(top-3.5) > 0.06 {
				t.Errorf("%s %s: want a capital 3.5 mm high, got %.3f", face, s, top)
			}
		}
	}
}

// TestWidths takes a second route: figures are not kerned, so a number is as
// wide as the advances in the font's own table.
func TestWidths(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		s := fmt.Sprintf("%d.%d", rng.IntN(1000), rng.IntN(1000))
		for _, face := range faces {
			f, want := mainFont(face), 0.0
			for _, r := range s {
				want += f.Advance(Glyph(f.face.Font.GlyphIndex(r)))
			}
			want *= 2.5 / f.Cap
			if got := Measure(s, face, 2.5); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s %q: want %g, got %g", face, s, want, got)
			}
		}
	}
}

func TestLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	letters := []rune("ABCxyzgjpq0123456789 .,±≤°ŁżПшלום焊")
	for range 300 {
		runes := make([]rune, rng.IntN(12))
		for i := range runes {
			runes[i] = letters[rng.IntN(len(letters))]
		}
		s, face, h := string(runes), Face(rng.IntN(2)), 1+9*rng.Float64()
		line, twice := Set(s, face, h), Set(s, face, 2*h)
		if math.Abs(twice.Width-2*line.Width) > 1e-9 {
			t.Errorf("%q: twice the height, want twice the width %g, got %g", s, 2*line.Width, twice.Width)
		}
		low, high := line.Ink()
		if line.Path().Empty() {
			if low != 0 || high != 0 {
				t.Errorf("%q: blank line with ink from %g to %g", s, low, high)
			}
			continue
		}
		// Curves of the fallback may pass their end points by a little.
		bounds := line.Path().Bounds()
		if math.Abs(bounds.Y0-low) > 0.03*h || math.Abs(bounds.Y1-high) > 0.03*h {
			t.Errorf("%q: outline from %g to %g, ink from %g to %g", s, bounds.Y0, bounds.Y1, low, high)
		}
		if high > 1.3*Ascent(face)*h || -low > 1.3*Descent(face)*h {
			t.Errorf("%q: ink from %g to %g far beyond the face's %g to %g", s, low, high, -Descent(face)*h, Ascent(face)*h)
		}
	}
}

func TestReach(t *testing.T) {
	for _, face := range []Face{Regular, Bold, 7} { // an unknown face is Bold, the last one
		if a, d := Ascent(face), Descent(face); a < 1.1 || a > 1.6 || d < 0.2 || d > 0.6 {
			t.Errorf("%s: ascent %g, descent %g", face, a, d)
		}
	}
}

func TestSameText(t *testing.T) {
	for _, test := range []struct{ name, a, b string }{
		{"accent composed or not", "é Å", "e\u0301 A\u030a"},
		{"tabs and line feeds are spaces", "a b c", "a\tb\nc"},
		{"hyphen that does not break", "a-b", "a\u2011b"},
		{"zero-width characters", "ab", "a\u200bb\ufeff"},
	} {
		t.Run(test.name, func(t *testing.T) {
			a, b := Set(test.a, Regular, 2.5), Set(test.b, Regular, 2.5)
			if a.Width != b.Width || a.Path().String() != b.Path().String() {
				t.Errorf("%q and %q differ: widths %g and %g", test.a, test.b, a.Width, b.Width)
			}
		})
	}
}

func TestNoLigatures(t *testing.T) {
	for _, face := range faces {
		for _, s := range []string{"fi", "fl", "ffi", "ffl"} {
			if got := len(Set(s, face, 2.5).Runs()[0].Glyphs); got != len(s) {
				t.Errorf("%s %q: want %d glyphs, got %d", face, s, len(s), got)
			}
		}
	}
}

// onPaper gives the characters from left to right.
func onPaper(l *Line) string {
	var b strings.Builder
	for _, run := range l.Runs() {
		for _, g := range run.Glyphs {
			b.WriteRune(g.Rune)
		}
	}
	return b.String()
}

func TestOrderOnPaper(t *testing.T) {
	for _, test := range []struct{ name, in, want string }{
		{"left to right", "Tee 8/3", "Tee 8/3"},
		{"right to left", "אבג", "גבא"},
		{"word in a sentence", "a אב c", "a בא c"},
		{"number in a word", "אב 12", "12 בא"},
		{"isolated", Isolate("אב") + ", c 12 ≥ 5", "בא, c 12 ≥ 5"},
		{"isolated inside", "a " + Isolate("אב") + " 12 ≥ 5", "a בא 12 ≥ 5"},
		{"nothing to isolate", Isolate("⌀ 12 – Ł"), "⌀ 12 – Ł"},
		{"changing fonts", "aŁb", "aŁb"},
		{"diameter sign found as itself", "⌀12", "⌀12"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := onPaper(Set(test.in, Regular, 2.5)); got != test.want {
				t.Errorf("want %q, got %q", test.want, got)
			}
		})
	}
}

func TestHeightsThatDrawNothing(t *testing.T) {
	for _, h := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if l := Set("abc", Regular, h); l.Width != 0 || !l.Path().Empty() {
			t.Errorf("height %g: want an empty line, got width %g", h, l.Width)
		}
	}
}

func TestCacheIsBounded(t *testing.T) {
	var c cache[int, int]
	for i := range 10 * generation {
		c.put(i, 1, i)
		if v, ok := c.get(0); i < generation && (!ok || v != 0) {
			t.Fatalf("entry in use was dropped after %d", i)
		}
	}
	if got := c.len(); got > 2*generation {
		t.Errorf("want at most %d entries, got %d", 2*generation, got)
	}
	c.put(-1, longest+1, 1)
	if _, ok := c.get(-1); ok {
		t.Error("a text that is too long was kept")
	}
}

func TestManyAtOnce(t *testing.T) {
	var wg sync.WaitGroup
	for k := range 4 {
		wg.Go(func() {
			for i := range 200 {
				s := fmt.Sprintf("%d ⌀Ł %d", i, (i+k)%7)
				l := Set(s, Face(i%2), 2.5)
				if l.Width <= 0 || l.Path().Empty() {
					t.Errorf("%q: nothing drawn", s)
				}
			}
		})
	}
	wg.Wait()
}

// outlines reads the outline of a glyph from a font file.
func outlines(t *testing.T, program []byte, glyph int) string {
	t.Helper()
	f, err := font.ParseSFNT(program, 0)
	if err != nil {
		// A subset has no table from characters to glyphs.
		f, err = font.ParseEmbeddedSFNT(program, 0)
	}
	if err != nil {
		t.Fatal(err)
	}
	p := &canvas.Path{}
	if err := f.GlyphPath(p, uint16(glyph), 0, 0, 0, 1, font.NoHinting); err != nil {
		t.Fatal(err)
	}
	return p.String()
}

// TestSubset reads subsets back with the font library: what was asked for is
// as it was, and nothing else is left.
func TestSubset(t *testing.T) {
	for i := range fonts {
		f := fonts[i]()
		t.Run(f.Name, func(t *testing.T) {
			var glyphs []Glyph
			for _, r := range "0123456789±Åg" {
				glyphs = append(glyphs, Glyph(f.face.Font.GlyphIndex(r)))
			}
			p, err := f.Subset(glyphs)
			if err != nil {
				t.Fatal(err)
			}
			whole := f.face.Font.SFNT
			data := p.Data
			if p.CFF {
				// A bare table: put it back where it was.
				frame := *whole
				frame.Tables = maps.Clone(whole.Tables)
				frame.Tables["CFF "] = p.Data
				data = frame.Write()
			}
			full := whole.Write()
			for k, g := range glyphs {
				if want, got := outlines(t, full, int(g)), outlines(t, data, p.Codes[k]); want != got {
					t.Errorf("glyph %d: want %s, got %s", g, want, got)
				}
			}
			if p.CFF {
				if got := outlines(t, data, int(f.face.Font.GlyphIndex('Q'))); got != "" {
					t.Errorf("glyph not asked for is still there: %s", got)
				}
			} else if len(p.Data) > len(full)/20 {
				t.Errorf("subset of %d glyphs has %d of %d bytes", len(glyphs), len(p.Data), len(full))
			}
			again, err := f.Subset(slices.Clone(glyphs))
			if err != nil || !slices.Equal(p.Data, again.Data) {
				t.Errorf("same glyphs, other bytes (%v)", err)
			}
		})
	}
}

// TestPinnedDate checks what the OpenType specification says of the dates and
// sums of a font file.
func TestPinnedDate(t *testing.T) {
	f := fonts[2]()
	p, err := f.Subset([]Glyph{Glyph(f.face.Font.GlyphIndex('Ł'))})
	if err != nil {
		t.Fatal(err)
	}
	if got := checksum(p.Data); got != 0xB1B0AFBA {
		t.Errorf("want the file to sum up to b1b0afba, got %x", got)
	}
	back, err := font.ParseEmbeddedSFNT(p.Data, 0)
	if err != nil {
		t.Fatal(err)
	}
	if !back.Head.Modified.Equal(back.Head.Created) {
		t.Errorf("want the date of change to be the date made %v, got %v", back.Head.Created, back.Head.Modified)
	}
	if err := pinDate(make([]byte, 12)); err == nil {
		t.Error("want an error for a file without tables")
	}
}

func TestDamagedCFFIsRefused(t *testing.T) {
	table := mainFont(Regular).face.Font.Tables["CFF "]
	for _, n := range []int{0, 3, 20, 100, len(table) / 2} {
		if _, err := blankCFF(table[:n], nil); err == nil {
			t.Errorf("want an error for %d of %d bytes", n, len(table))
		}
	}
	rng := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		damaged := slices.Clone(table)
		for range 3 {
			damaged[rng.IntN(6000)] = byte(rng.IntN(256))
		}
		binary.BigEndian.PutUint16(damaged[rng.IntN(5000):], uint16(rng.IntN(65536)))
		_, _ = blankCFF(damaged, []Glyph{1, 2, 3}) // must not panic
	}
}

func FuzzSet(f *testing.F) {
	for _, s := range []string{"5.0 ±0.5", "\x00\xff", "שלום 12", "مرحبا بالعالم", "焊接", "👩‍🔧🏽", "e\u0301\u0301", "\u202e\u2067a", "क्षि", "ﷺ"} {
		f.Add(s, 2.5)
	}
	f.Fuzz(func(t *testing.T, s string, h float64) {
		l := Set(s, Regular, h)
		if !(l.Width >= 0) && usable(h) && h < 1e300 {
			t.Errorf("%q at %g: width %g", s, h, l.Width)
		}
		_ = l.Path()
		for _, r := range Missing(s) {
			if !strings.ContainsRune(string(normal(s)), r) {
				t.Errorf("%q misses %U, which it does not hold", s, r)
			}
		}
	})
}

func BenchmarkMeasure(b *testing.B) {
	b.Run("cached", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Measure("Leg 5.0 ±0.5 mm", Regular, 2.5)
		}
	})
	b.Run("new text", func(b *testing.B) {
		b.ReportAllocs()
		i := 0
		for b.Loop() {
			i++
			Measure(fmt.Sprintf("Leg %d ±0.5 mm", i), Regular, 2.5)
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	b.Run("main", func(b *testing.B) {
		for b.Loop() {
			load(0, b612Regular)
		}
	})
	b.Run("fallback", func(b *testing.B) {
		for b.Loop() {
			load(2, dejaVuRegular)
		}
	})
}
