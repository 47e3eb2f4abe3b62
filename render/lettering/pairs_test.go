package lettering

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/tdewolff/canvas/text"
)

// Texts put together from pairs are those that the shaper makes of them.
func TestPairsAreWhatTheShaperMakes(t *testing.T) {
	sameFont := cmp.Comparer(func(a, b *Font) bool { return a == b })
	letters := make([]byte, plainCount)
	for i := range letters {
		letters[i] = byte(firstPlain + i)
	}
	for _, face := range faces {
		f := mainFont(face)
		shaper := func(content string) Run {
			return f.shape(piece{font: f, script: text.Latin, runes: []rune(content)})
		}
		for _, a := range letters {
			if !f.has(rune(a)) {
				t.Errorf("%s lacks %q", face, a)
			}
			for _, b := range letters {
				content := string([]byte{a, b})
				run := shaper(content)
				f.learn(content, &run)
			}
		}
		try := func(content string) {
			t.Helper()
			got, ok := f.fromPairs(content)
			want := shaper(content)
			if diff := cmp.Diff(want, got, sameFont); !ok || diff != "" {
				t.Fatalf("%s %q (-shaper +pairs)\n%s", face, content, diff)
			}
			wide := 0.0
			for _, g := range want.Glyphs {
				wide += g.Advance / f.Cap
			}
			if got := Measure(content, face, 3.5); got != 3.5*wide {
				t.Fatalf("%s %q: %v mm wide, want %v", face, content, got, 3.5*wide)
			}
		}
		rng := rand.New(rand.NewPCG(1, uint64(face)))
		for range 3000 {
			content := make([]byte, 1+rng.IntN(40))
			for i := range content {
				content[i] = letters[rng.IntN(len(letters))]
			}
			try(string(content))
		}
		for _, content := range []string{"office affine fjord fflow", "AVATAR To Ty We 1/2 3/4", "--> <- != ... ''\"\"", "LTA fi fl ffi ffl", ""} {
			try(content)
		}
	}
}
