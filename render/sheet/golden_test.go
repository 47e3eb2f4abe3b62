package sheet_test

import (
	"fmt"
	"testing"

	"fay/render"
	"fay/render/rendertest"
	"fay/render/sheet"
)

// TestGolden fixes the display lists of a few sheets: one that fits on a single
// page, a skewed joint with details, a lap with two welds, and inches on a
// letter sheet lying down.
func TestGolden(t *testing.T) {
	kept := map[string]bool{"davit-a4": true, "skew-a4": true, "lap-gap-a4": true, "inch-letter-landscape": true}
	for _, e := range examples(t) {
		if !kept[e.name] {
			continue
		}
		t.Run(e.name, func(t *testing.T) {
			sheets, err := sheet.Compose(e.job, e.o)
			if err != nil {
				t.Fatal(err)
			}
			for i, d := range sheets {
				rendertest.Golden(t, fmt.Sprintf("%s-%d.json", e.name, i+1), render.EncodeJSON(d))
			}
		})
	}
}
