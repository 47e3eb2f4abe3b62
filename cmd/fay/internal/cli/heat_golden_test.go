package cli

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fay/render"
	"fay/render/png"
	"fay/render/rendertest"
)

// heatPictures are the sheets on file: the common joints in the common metals.
var heatPictures = []struct{ name, joint string }{
	{"tee", "tee base=10 stem=5 leg=5"},
	{"lap", "lap lower=6 upper=3 overlap=25 leg=3"},
	{"corner", "corner base=6 upright=4 cover=1 inside.leg=4"},
	{"butt", "butt left=8 right=5 prep=single-v groove-angle=60 root-face=1 root-opening=1 cap=1"},
}

// heatFolder holds the pictures to look at.
var heatFolder = filepath.Join("..", "..", "..", "..", "testdata", "golden", "heat")

// TestHeatGoldens compares the isotherm sheets with those on file: the display
// list in words and the picture in greys. -update writes them; look at them
// before accepting.
func TestHeatGoldens(t *testing.T) {
	for _, c := range heatPictures {
		for _, metal := range []string{"6082", "S355"} {
			name := c.name + "-" + strings.ToLower(metal)
			t.Run(name, func(t *testing.T) {
				h := heatOf(t, append(strings.Fields(c.joint), "material="+metal)...)
				if err := h.compute(&heatOptions{field: true}); err != nil {
					t.Fatal(err)
				}
				d, err := h.sheet()
				if err != nil {
					t.Fatal(err)
				}
				rendertest.Golden(t, "heat-"+name+".json", render.EncodeJSON(d))
				goldenPicture(t, filepath.Join(heatFolder, name+".png"), d)
			})
		}
	}
}

// goldenPicture compares a drawing with the picture on file.
func goldenPicture(t *testing.T, path string, d *render.Drawing) {
	t.Helper()
	var got bytes.Buffer
	if err := png.Write(&got, d, 75); err != nil {
		t.Fatal(err)
	}
	if flag.Lookup("update").Value.String() == "true" {
		if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if off := apart(t, want, got.Bytes()); off > 0.2 {
		t.Errorf("%s is not what it was (%.2f grey steps apart); draw it anew with -update and look at it", path, off)
	}
}
