package sheet_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/render"
	"fay/render/rendertest"
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

// TestBothUnits letters dimensions in both units: the sheets stay clean, and the
// number in brackets is the one before it in the other unit, to the last digit
// printed.
func TestBothUnits(t *testing.T) {
	pair := regexp.MustCompile(`([0-9]*[.,]?[0-9]+) \[([0-9]*[.,]?[0-9]+)\]`)
	value := func(text string) float64 {
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	compared := 0
	for _, e := range examples(t) {
		e.o.Dual, e.o.Denominator = true, 0
		inch := e.o.Unit == geometry.UnitInch
		sheets, err := sheet.Compose(e.job, e.o)
		if err != nil {
			t.Fatal(err)
		}
		for n, d := range sheets {
			for _, v := range rendertest.Lint(d) {
				t.Errorf("%s sheet %d: %v", e.name, n+1, v)
			}
		}
		all := texts(sheets)
		if want := map[bool]string{false: "mm [in]", true: "in [mm]"}[inch]; !strings.Contains(strings.Join(all, "\n"), want) {
			t.Errorf("%s: the sheet does not say that its units are %s", e.name, want)
		}
		for _, text := range all {
			for _, m := range pair.FindAllStringSubmatch(text, -1) {
				mm, in := value(m[1]), value(m[2])
				if inch {
					mm, in = in, mm
				}
				if math.Abs(mm-25.4*in) > 0.005+25.4*0.0005+1e-9 {
					t.Errorf("%s: %q: %g in are not %g mm", e.name, text, in, mm)
				}
				compared++
			}
		}
	}
	if compared < 50 {
		t.Errorf("only %d numbers were compared", compared)
	}
}
