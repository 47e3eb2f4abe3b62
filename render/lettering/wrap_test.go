package lettering_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/render/lettering"
)

func TestWrap(t *testing.T) {
	t.Parallel()
	const height = 2.5
	width := lettering.Measure("a leg of 12 mm", lettering.Regular, height) + 0.1
	for _, tc := range []struct {
		text string
		want []string
	}{
		{"", nil},
		{"lay", []string{"lay"}},
		{"a leg of 12 mm", []string{"a leg of 12 mm"}},
		{"lay a leg of 12 mm, no more", []string{"lay a leg of", "12 mm, no", "more"}},
		{"  many   blanks\nand lines ", []string{"many blanks", "and lines"}},
		{"metal 5356 ⌀ 2.4", []string{"metal 5356", "⌀ 2.4"}},
		{"in the nook", []string{"in the nook"}},
		{"linear misalignmentedness", []string{"linear", "misalignmente-", "dness"}},
		{"iso-5817-2014/C/617/508", []string{"iso-5817-2014", "/C/617/508"}},
	} {
		if diff := cmp.Diff(tc.want, lettering.Wrap(tc.text, lettering.Regular, height, width)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", tc.text, diff)
		}
	}
}

func TestNoRoomToWrap(t *testing.T) {
	t.Parallel()
	for _, width := range []float64{0, -3, 0.5} {
		if got := lettering.Wrap("no room", lettering.Regular, 2.5, width); strings.Join(got, "") != "noroom" {
			t.Errorf("%g mm: %q", width, got)
		}
	}
}

// TestWrapKeepsEverything breaks texts to all widths: nothing is lost, and no
// line is wider than it may be.
func TestWrapKeepsEverything(t *testing.T) {
	t.Parallel()
	const height = 2.5
	text := "Smallest leg by the thinner part: 2,2, needs ≥ 5 mm; Donaudampfschiffahrtsgesellschaft 管路 ⌀ 2,4 mm"
	bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
	for width := 8.0; width < 160; width += 3.1 {
		lines := lettering.Wrap(text, lettering.Regular, height, width)
		for _, l := range lines {
			if lettering.Measure(l, lettering.Regular, height) > width {
				t.Errorf("%g mm: %q is wider", width, l)
			}
		}
		for i := range lines[:len(lines)-1] {
			lines[i] = strings.TrimSuffix(lines[i], "-") // of a broken word
		}
		if got := bare(strings.Join(lines, "")); got != bare(text) {
			t.Errorf("%g mm: %q", width, got)
		}
		short, cut := lettering.Clip(text, lettering.Regular, height, width)
		if w := lettering.Measure(short, lettering.Regular, height); w > width || !cut || !strings.HasSuffix(short, "…") {
			t.Errorf("%q is %g mm wide, may be %g", short, w, width)
		}
	}
}
