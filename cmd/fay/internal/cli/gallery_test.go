package cli

import (
	"bytes"
	"flag"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	_ "fay/render/rendertest" // brings the flag -update
)

// TestGallery draws the pictures of the documents anew and compares them with
// those on file; -update draws them in place. Look at them before accepting.
func TestGallery(t *testing.T) {
	kept := filepath.Join("..", "..", "..", "..", "testdata", "gallery")
	example, err := filepath.Abs(filepath.Join("..", "..", "..", "..", "testdata", "examples", "davit-foot.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if flag.Lookup("update").Value.String() == "true" {
		folder = kept
	}
	if code, _, talk := run(t, "", "gallery", folder, example); code != exitDone {
		t.Fatalf("exit code %d\n%s", code, talk)
	}
	names := func(dir string) []string {
		entries, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, e := range entries {
			out = append(out, e.Name())
		}
		return out
	}
	if diff := cmp.Diff(names(kept), names(folder)); diff != "" {
		t.Errorf("pictures (-kept +drawn):\n%s", diff)
	}
	for _, name := range names(folder) {
		want, err := os.ReadFile(filepath.Join(kept, name))
		if err != nil {
			t.Error(err)
			continue
		}
		got, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Ext(name) != ".png" {
			if diff := cmp.Diff(string(want), string(got)); diff != "" {
				t.Errorf("%s (-kept +drawn):\n%s", name, diff)
			}
			continue
		}
		if off := apart(t, want, got); off > 0.2 {
			t.Errorf("%s is not what it was (%.2f grey steps apart); draw it anew with -update and look at it", name, off)
		}
	}
}

// apart is the mean difference of two pictures in steps of 256 greys; infinite
// where the sizes differ. Processors may round the edge of a line differently.
func apart(t *testing.T, a, b []byte) float64 {
	t.Helper()
	var pictures [2]image.Image
	for i, data := range [][]byte{a, b} {
		m, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		pictures[i] = m
	}
	size := pictures[0].Bounds()
	if size != pictures[1].Bounds() {
		return math.Inf(1)
	}
	sum := 0.0
	for y := size.Min.Y; y < size.Max.Y; y++ {
		for x := size.Min.X; x < size.Max.X; x++ {
			r0, g0, b0, _ := pictures[0].At(x, y).RGBA()
			r1, g1, b1, _ := pictures[1].At(x, y).RGBA()
			sum += math.Abs(float64(r0+g0+b0)-float64(r1+g1+b1)) / 3 / 257
		}
	}
	return sum / float64(size.Dx()*size.Dy())
}

func TestGalleryNeedsAFolder(t *testing.T) {
	for _, args := range [][]string{{"gallery"}, {"gallery", filepath.Join(t.TempDir(), "nowhere")}} {
		if code, _, talk := run(t, "", args...); code != exitInput || talk == "" {
			t.Errorf("%v: exit code %d, %q", args, code, talk)
		}
	}
}
