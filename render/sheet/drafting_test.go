package sheet_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/render"
	"fay/render/sheet"
)

// TestDraftingApartFromWords takes the lines of one tradition with the words of
// the other: everything but the language is the style of the lines.
func TestDraftingApartFromWords(t *testing.T) {
	for _, lines := range []render.Language{render.LanguageISO, render.LanguageUS} {
		for _, words := range []render.Language{render.LanguageISO, render.LanguageUS} {
			want := sheet.Options{Language: lines}.Style()
			want.Language = words
			got := sheet.Options{Language: words, Drafting: lines}.Style()
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s words, %s lines (-want +got):\n%s", words, lines, diff)
			}
		}
	}
}
