package pdf

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	stdpng "image/png"
	"io"
	"math"
	"strings"
	"sync"
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/png"
	"fay/render/rendertest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

var info = Info{Title: "Job 12", Author: "canal-boat yard", Subject: "Traveler (≤ 3 mm)"}

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

func write(tb testing.TB, info Info, pages ...*render.Drawing) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, pages, info); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

func TestPages(t *testing.T) {
	p := rendertest.ReadPDF(t, write(t, info, rendertest.Sample(), rendertest.Sheet(1)))
	want := [][4]float64{
		{0, 0, 148 / 25.4 * 72, 105 / 25.4 * 72},
		{0, 0, 210 / 25.4 * 72, 297 / 25.4 * 72},
	}
	if diff := cmp.Diff(want, p.Boxes, cmpopts.EquateApprox(0, 1e-4)); diff != "" {
		t.Errorf("page boxes, want, got:\n%s", diff)
	}
}

func TestDictionaries(t *testing.T) {
	one := rendertest.ReadPDF(t, write(t, info, rendertest.Sample()))
	two := rendertest.ReadPDF(t, write(t, Info{}, rendertest.Sample(), rendertest.Sheet(1)))
	for _, test := range []struct {
		name, where, part string
		want              bool
	}{
		{"no scaling when printing", one.Catalog(t), "/ViewerPreferences<</PrintScaling/None", true},
		{"language of the drawing", one.Catalog(t), "/Lang(en)", true},
		{"one page has no bookmarks", one.Catalog(t), "/Outlines", false},
		{"one page has no labels", one.Catalog(t), "/PageLabels", false},
		{"several pages have bookmarks", two.Catalog(t), "/Outlines", true},
		{"several pages have labels", two.Catalog(t), "/PageLabels<</Nums[0<</S/D>>]>>", true},
		{"bookmark carries the page's title", all(two), "/Title(Sheet 1)/Parent", true},
		{"fixed date", one.Info(t), "/CreationDate(D:20000101000000Z)", true},
		{"title", one.Info(t), "/Title(Job 12)", true},
		{"author", one.Info(t), "/Author(canal-boat yard)", true},
		{"subject beyond ASCII as UTF-16", one.Info(t), "/Subject<FEFF0054", true},
		{"title of the first page where none is given", two.Info(t), "/Title(Sample <tee> & friends)", true},
		{"absent author is absent", two.Info(t), "/Author", false},
		{"fonts are embedded", all(one), "/FontFile3", true},
		{"fallback font is embedded", all(one), "/FontFile2", true},
	} {
		t.Run(test.name, func(t *testing.T) {
			if strings.Contains(test.where, test.part) != test.want {
				t.Errorf("%q present: want %v", test.part, test.want)
			}
		})
	}
}

func all(p rendertest.PDF) string {
	var b strings.Builder
	for i := range len(p.Objects) {
		b.WriteString(p.Objects[i+1])
	}
	return b.String()
}

func TestStrings(t *testing.T) {
	for _, test := range []struct{ name, in, want string }{
		{"plain", "Tee 8/3", "(Tee 8/3)"},
		{"brackets and backslash", `a(b)\c`, `(a\(b\)\\c)`},
		{"line feed", "a\nb", "<FEFF0061000A0062>"},
		{"beyond the basic plane", "😀", "<FEFFD83DDE00>"},
		{"broken bytes", "\xff", "<FEFFFFFD>"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := text(test.in); got != test.want {
				t.Errorf("want %s, got %s", test.want, got)
			}
		})
	}
}

func TestReproducible(t *testing.T) {
	rendertest.Reproducible(t, func(w io.Writer) error {
		return Write(w, []*render.Drawing{rendertest.Sample(), rendertest.Sheet(1)}, info)
	})
}

func TestNoPages(t *testing.T) {
	if err := Write(io.Discard, nil, info); err == nil {
		t.Error("want an error for a file without pages")
	}
}

// TestTextIsFound reads every text back with a viewer's eyes.
func TestTextIsFound(t *testing.T) {
	d := &render.Drawing{Width: 200, Height: 280}
	contents := []string{
		"Leg 5.0 ±0.5 mm", "⌀12 ≤ 60° √2 × ψ", "fi ffl AVATo", `1-1/4" (B8) [0.3–0.8]`, "gap ≈ ½ mm → leg 3 − 1…", "Zażółć gęślą jaźń", "Привет", "²³·—αβ",
	}
	for i, s := range contents {
		d.Items = append(d.Items, render.Item{Layer: render.LayerText, View: render.NoView, Text: &render.Text{
			At: pt(10, 260-10*float64(i)), Height: 3.5, Face: render.Face(i % 2), Content: s,
		}})
	}
	got := rendertest.PDFText(t, write(t, info, d))
	for _, want := range contents {
		if !strings.Contains(got, want) {
			t.Errorf("%q not found in\n%s", want, got)
		}
	}
}

// TestLooksLikeThePicture draws the page with another program and compares it
// with our own picture of the same drawing: a second route to shapes, widths,
// colours and places of letters.
func TestLooksLikeThePicture(t *testing.T) {
	const dpi, perMm = 127, 5 // no part of a pixel at the edges
	for _, d := range []*render.Drawing{rendertest.Sample(), rendertest.Sheet(1)} {
		t.Run(d.Title, func(t *testing.T) {
			out := rendertest.Tool(t, write(t, info, d), "in.pdf", "pdftocairo", "-png", "-singlefile",
				"-scale-to-x", fmt.Sprint(perMm*d.Width), "-scale-to-y", fmt.Sprint(perMm*d.Height), "in.pdf", "-")
			got, err := stdpng.Decode(bytes.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := png.Write(&b, d, dpi); err != nil {
				t.Fatal(err)
			}
			want, err := stdpng.Decode(&b)
			if err != nil {
				t.Fatal(err)
			}
			// Programs smooth edges differently, so a mean is compared; and the
			// pictures must fit best where they are, to a pixel (0.2 mm).
			const most = 3.0
			mean := difference(want, got, image.Point{})
			if mean > most {
				t.Errorf("mean difference of a pixel: want at most %g of 255, got %.2f", most, mean)
			}
			for _, shift := range []image.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
				if moved := difference(want, got, shift); moved < 1.2*mean {
					t.Errorf("pictures differ by %.2f, but by only %.2f when moved by %v", mean, moved, shift)
				}
			}
		})
	}
}

// difference is the mean difference of grey values over the common area, b
// moved by a shift.
func difference(a, b image.Image, shift image.Point) float64 {
	r := a.Bounds().Intersect(b.Bounds().Add(shift))
	grey := func(m image.Image, x, y int) float64 {
		return float64(color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y)
	}
	sum := 0.0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			sum += math.Abs(grey(a, x, y) - grey(b, x-shift.X, y-shift.Y))
		}
	}
	return sum / float64(r.Dx()*r.Dy())
}

func TestConcurrentWrites(t *testing.T) {
	want := write(t, info, rendertest.Sheet(3))
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			var b bytes.Buffer
			if err := Write(&b, []*render.Drawing{rendertest.Sheet(3)}, info); err != nil {
				t.Error(err)
			}
			if !bytes.Equal(want, b.Bytes()) {
				t.Error("writers at the same time differ")
			}
		})
	}
	wg.Wait()
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"5.0 ±0.5", "a\x00b\x1b", "\xff", "שלום 12", "مرحبا", "焊接", "👩‍🔧", "e\u0301\u0301", "\u202eabc", "()\\", "ﷺ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, content string) {
		if len(content) > render.MaxText {
			t.Skip("longer than a drawing takes")
		}
		d := &render.Drawing{Width: 100, Height: 50, Title: content, Language: content, Items: []render.Item{
			{Layer: render.LayerText, View: render.NoView, Text: &render.Text{Height: 2.5, Content: content, Halo: 1, Angle: 1}},
		}}
		out := write(t, Info{Author: content, Subject: content}, d, d)
		if p := rendertest.ReadPDF(t, out); len(p.Boxes) != 2 {
			t.Errorf("want 2 pages, got %d", len(p.Boxes))
		}
	})
}

func BenchmarkSheet(b *testing.B) {
	d := []*render.Drawing{rendertest.Sheet(1)}
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d, info); err != nil {
			b.Fatal(err)
		}
	}
}
