package lettering

import "sync/atomic"

// Printable ASCII, which nearly all lettering is, has neither ligatures nor
// marks in the faces: how far a letter moves the pen depends on the letter and
// on the next one alone. So texts are put together from pairs that were shaped
// before.
const (
	firstPlain = ' '
	plainCount = '~' - ' ' + 1
)

// pairs are how far in font units the pen moves over a letter before another
// one, in the last column before the end of a text; nil until it is known.
type pairs [plainCount][plainCount + 1]atomic.Pointer[Placed]

// of is the pair that begins at a place of a plain text.
func (p *pairs) of(content string, at int) *atomic.Pointer[Placed] {
	next := int(plainCount)
	if at+1 < len(content) {
		next = int(content[at+1] - firstPlain)
	}
	return &p[content[at]-firstPlain][next]
}

// fromPairs shapes a plain text from pairs; false where one is not known.
func (f *Font) fromPairs(content string) (Run, bool) {
	run := Run{Font: f, Glyphs: make([]Placed, len(content))}
	x := 0.0
	for i := range len(content) {
		known := f.pairs.of(content, i).Load()
		if known == nil {
			return Run{}, false
		}
		run.Glyphs[i] = *known
		run.Glyphs[i].X = x
		x += known.Advance
	}
	return run, true
}

// plainWidth is the way of the pen over a text, in capital heights; false where it
// is not plain or has a pair that is not known.
func (f *Font) plainWidth(content string) (float64, bool) {
	if !plain(content) {
		return 0, false
	}
	width := 0.0
	for i := range len(content) {
		known := f.pairs.of(content, i).Load()
		if known == nil {
			return 0, false
		}
		width += known.Advance / f.Cap
	}
	return width, true
}

// learn keeps the pairs of a plain text that was shaped.
func (f *Font) learn(content string, run *Run) {
	if len(run.Glyphs) != len(content) {
		return
	}
	for i := range run.Glyphs {
		if pair := f.pairs.of(content, i); pair.Load() == nil {
			g := run.Glyphs[i]
			pair.Store(&g)
		}
	}
}
