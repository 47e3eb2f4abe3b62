package lettering

import "testing"

// TestSubsetLeavesTheFontAlone cuts fonts down before most of their glyphs are
// drawn: each still has all of them.
func TestSubsetLeavesTheFontAlone(t *testing.T) {
	for i, embedded := range [...][]byte{b612Regular, b612Bold, dejaVuRegular, dejaVuBold} {
		used, fresh := load(i, embedded), load(i, embedded)
		program, err := used.Subset([]Glyph{17, 36, 40})
		if err != nil || len(program.Data) == 0 {
			t.Fatalf("%s: %d bytes, %v", used.Name, len(program.Data), err)
		}
		if got, want := int(used.face.Font.NumGlyphs()), fresh.Glyphs(); got != want || used.Glyphs() != want {
			t.Errorf("%s has %d glyphs, says %d, had %d", used.Name, got, used.Glyphs(), want)
		}
		for r := 'A'; r <= 'z'; r++ {
			if g := Glyph(used.face.Font.GlyphIndex(r)); used.SVG(g) != fresh.SVG(g) || used.SVG(g) == "" && r < '[' {
				t.Errorf("%s: %c is drawn as %q", used.Name, r, used.SVG(g))
			}
		}
	}
}
