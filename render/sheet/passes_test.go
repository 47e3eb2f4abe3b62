package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/joints"
	"fay/render"
	"fay/render/sheet"
)

// TestPassesAreSketched counts the layers and numbers of a sketch: those of one
// of two like welds, none for a single pass, and a count alone where there are
// too many.
func TestPassesAreSketched(t *testing.T) {
	t.Parallel()
	in := joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(20, ""), "stem": plateOf(16, "")},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 12.0), "other": weld("leg", 9.0)}}
	sec := build(t, in)
	for _, tc := range []struct {
		name         string
		arrow, other int
		layers       int
		want         []string
	}{
		{"one pass", 1, 1, 0, nil},
		{"one weld of three", 3, 1, 3, []string{"1", "2", "3", "arrow: 3 passes"}},
		{"both", 2, 4, 6, []string{"1", "1", "2", "2", "3", "4", "arrow: 2 passes", "other: 4 passes"}},
		{"too many to draw", 20, 1, 0, []string{"arrow: 20 passes"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			job := sheet.Job{Section: sec, Passes: []sheet.Passes{{"arrow", tc.arrow}, {"other", tc.other}}}
			sheets, err := sheet.Compose(job, sheet.Options{})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			layers := 0
			for _, d := range sheets {
				for _, it := range d.Items {
					switch {
					case it.Role != "table:Passes, a sketch":
					case it.Text != nil && it.Text.Face == render.FaceRegular:
						// A wide column has room for the whole name of a weld.
						got = append(got, strings.Replace(it.Text.Content, " side: ", ": ", 1))
					case it.Path != nil && it.Path.Closed:
						layers++
					}
				}
			}
			slices.Sort(got)
			if diff := cmp.Diff(tc.want, got); diff != "" {
				t.Errorf("texts (-want +got):\n%s", diff)
			}
			if layers != tc.layers {
				t.Errorf("%d layers are drawn, want %d", layers, tc.layers)
			}
		})
	}
}
