package sheet_test

import (
	"bytes"
	"image"
	stdpng "image/png"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"fay/render"
	"fay/render/png"
	"fay/render/rendertest"
	"fay/render/sheet"
	"fay/render/svg"
)

// leastAlike is the mean structural similarity that two renderers of the same
// sheet reach at least: smoothing of edges differs between them. They reach
// 0.998; a sheet that lacks one table stays below 0.99, as the test shows.
const leastAlike = 0.99

// TestAnotherRendererAgrees compares our picture with that of the SVG file by
// librsvg.
func TestAnotherRendererAgrees(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("rsvg-convert"); err != nil {
		if os.Getenv("FAY_REQUIRE_TOOLS") == "1" {
			t.Fatal("rsvg-convert is not installed")
		}
		t.Skip("rsvg-convert is not installed")
	}
	if testing.Short() {
		t.Skip("renders whole sheets")
	}
	job := benchJob(t)
	logo, err := sheet.ReadLogo(svgFile(`<path fill-rule="evenodd" d="M5 2h16v16h-16z M9 6h8v8h-8z"/>`))
	if err != nil {
		t.Fatal(err)
	}
	job.Logo = logo
	sheets, err := sheet.Compose(job, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var file, ours bytes.Buffer
	if err := svg.Write(&file, sheets[0]); err != nil {
		t.Fatal(err)
	}
	if err := png.Write(&ours, sheets[0], 150); err != nil {
		t.Fatal(err)
	}
	theirs := rendertest.Tool(t, file.Bytes(), "sheet.svg", "rsvg-convert", "--dpi-x", "150", "--dpi-y", "150", "sheet.svg")
	a, b := decode(t, ours.Bytes()), decode(t, theirs)
	if d := a.Bounds().Size().Sub(b.Bounds().Size()); d.X < -1 || d.X > 1 || d.Y < -1 || d.Y > 1 {
		t.Fatalf("sizes %v and %v", a.Bounds().Size(), b.Bounds().Size())
	}
	got := alike(a, b)
	t.Logf("similarity %.4f", got)
	if got < leastAlike {
		t.Errorf("the pictures are %.4f alike, want %v", got, leastAlike)
	}
	// The measure must be able to fail.
	less := *sheets[0]
	less.Items = slices.DeleteFunc(slices.Clone(less.Items), func(it render.Item) bool { return strings.HasPrefix(it.Role, "table:Filler") })
	ours.Reset()
	if err := png.Write(&ours, &less, 150); err != nil {
		t.Fatal(err)
	}
	if got := alike(decode(t, ours.Bytes()), b); got >= leastAlike {
		t.Errorf("a sheet without its filler table is %.4f alike: the bound tells nothing", got)
	}
}

func decode(t *testing.T, data []byte) image.Image {
	t.Helper()
	m, err := stdpng.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// alike is the mean structural similarity over windows of 8 by 8 pixels that
// are not plain white in both (Wang and others 2004, constants 0.01 and 0.03).
func alike(a, b image.Image) float64 {
	const n = 8
	const c1, c2 = 0.01 * 0.01, 0.03 * 0.03
	size := a.Bounds().Intersect(b.Bounds())
	grey := func(m image.Image, x, y int) float64 {
		r, g, bl, alpha := m.At(x, y).RGBA()
		return (float64(r+g+bl)/3 + float64(0xffff-alpha)) / 0xffff
	}
	sum, count := 0.0, 0.0
	for y0 := 0; y0+n <= size.Dy(); y0 += n {
		for x0 := 0; x0+n <= size.Dx(); x0 += n {
			var ma, mb, va, vb, cov float64
			for y := y0; y < y0+n; y++ {
				for x := x0; x < x0+n; x++ {
					// A box of 3 by 3 evens out where the two put a line in its pixel.
					p, q := 0.0, 0.0
					for dy := -1; dy <= 1; dy++ {
						for dx := -1; dx <= 1; dx++ {
							p += grey(a, clampTo(x+dx, size.Dx()), clampTo(y+dy, size.Dy())) / 9
							q += grey(b, clampTo(x+dx, size.Dx()), clampTo(y+dy, size.Dy())) / 9
						}
					}
					ma, mb, va, vb, cov = ma+p, mb+q, va+p*p, vb+q*q, cov+p*q
				}
			}
			const w = n * n
			ma, mb = ma/w, mb/w
			va, vb, cov = va/w-ma*ma, vb/w-mb*mb, cov/w-ma*mb
			if va < 1e-9 && vb < 1e-9 && ma > 0.999 && mb > 0.999 {
				continue
			}
			sum += (2*ma*mb + c1) * (2*cov + c2) / ((ma*ma + mb*mb + c1) * (va + vb + c2))
			count++
		}
	}
	return sum / count
}

func clampTo(v, n int) int { return min(max(v, 0), n-1) }
