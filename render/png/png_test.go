package png

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	stdpng "image/png"
	"io"
	"math"
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/rendertest"
)

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

func write(tb testing.TB, d *render.Drawing, dpi float64) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, d, dpi); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

func decode(tb testing.TB, data []byte) image.Image {
	tb.Helper()
	m, err := stdpng.Decode(bytes.NewReader(data))
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

func TestSizeAndResolution(t *testing.T) {
	for _, test := range []struct {
		name          string
		width, height float64
		dpi           float64
		wantX, wantY  int
		perMetre      uint32
	}{
		{"A4 at 150 dpi", 210, 297, 150, 1240, 1754, 5906},
		{"A4 at 300 dpi", 210, 297, 300, 2480, 3508, 11811},
		{"an inch at 96 dpi", 25.4, 25.4, 96, 96, 96, 3780},
	} {
		t.Run(test.name, func(t *testing.T) {
			data := write(t, &render.Drawing{Width: test.width, Height: test.height}, test.dpi)
			if got := decode(t, data).Bounds().Size(); got != image.Pt(test.wantX, test.wantY) {
				t.Errorf("want %d × %d pixels, got %v", test.wantX, test.wantY, got)
			}
			_, chunk, ok := bytes.Cut(data, []byte("pHYs"))
			if !ok {
				t.Fatal("no pHYs chunk")
			}
			x, y, unit := binary.BigEndian.Uint32(chunk), binary.BigEndian.Uint32(chunk[4:]), chunk[8]
			if x != test.perMetre || y != test.perMetre || unit != 1 {
				t.Errorf("want %d dots per metre, got %d and %d, unit %d", test.perMetre, x, y, unit)
			}
		})
	}
}

func TestRefused(t *testing.T) {
	a4 := &render.Drawing{Width: 210, Height: 297}
	for _, test := range []struct {
		name    string
		drawing *render.Drawing
		dpi     float64
	}{
		{"not a number", a4, math.NaN()},
		{"infinite", a4, math.Inf(1)},
		{"zero", a4, 0},
		{"negative", a4, -150},
		{"too fine", a4, 1e6},
		{"too many pixels", &render.Drawing{Width: 5000, Height: 5000}, 1200},
		{"less than a pixel", &render.Drawing{Width: 0.1, Height: 0.1}, 10},
	} {
		t.Run(test.name, func(t *testing.T) {
			var b bytes.Buffer
			err := Write(&b, test.drawing, test.dpi)
			var resolution *ResolutionError
			if !errors.As(err, &resolution) || b.Len() > 0 {
				t.Errorf("want a resolution error and no bytes, got %v and %d bytes", err, b.Len())
			}
		})
	}
}

// ink measures the inked area of a path in mm²: the sum of darkness over all
// pixels.
func ink(t *testing.T, p render.Path) float64 {
	t.Helper()
	const perMm = 10
	d := &render.Drawing{Width: 60, Height: 60, Items: []render.Item{{Layer: render.LayerWeld, View: render.NoView, Path: &p}}}
	m := decode(t, write(t, d, 25.4*perMm))
	sum := 0.0
	for y := range m.Bounds().Dy() {
		for x := range m.Bounds().Dx() {
			sum += 1 - float64(color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y)/255
		}
	}
	return sum / (perMm * perMm)
}

// TestInk compares the inked area with the closed form: length times width, a
// disc for the two round ends.
func TestInk(t *testing.T) {
	const w = 1.0
	disc := math.Pi * w * w / 4
	pen := &render.Stroke{Width: w}
	dashed := &render.Stroke{Width: w, Dash: []float64{4, 2}}
	square := []geometry.Edge{
		geometry.Line(pt(10, 10), pt(30, 10)), geometry.Line(pt(30, 10), pt(30, 30)),
		geometry.Line(pt(30, 30), pt(10, 30)), geometry.Line(pt(10, 30), pt(10, 10)),
	}
	circle := []geometry.Edge{geometry.Arc(pt(20, 30), pt(40, 30), 10), geometry.Arc(pt(40, 30), pt(20, 30), 10)}
	quad := geometry.Quad(pt(10, 10), pt(30, 50), pt(50, 10))
	for _, test := range []struct {
		name string
		path render.Path
		want float64
	}{
		{"level line", render.Path{Edges: square[:1], Stroke: pen}, 20*w + disc},
		{"sloping line", render.Path{Edges: []geometry.Edge{geometry.Line(pt(10, 10), pt(40, 50))}, Stroke: pen}, 50*w + disc},
		{"closed square, outer corners round", render.Path{Edges: square, Closed: true, Stroke: pen}, 80*w - 4*w*w/4 + disc},
		{"circle", render.Path{Edges: circle, Closed: true, Stroke: pen}, 2 * math.Pi * 10 * w},
		{"filled circle", render.Path{Edges: circle, Closed: true, Fill: &render.Black}, math.Pi * 100},
		{"filled and stroked circle", render.Path{Edges: circle, Closed: true, Fill: &render.Black, Stroke: pen}, math.Pi * 10.5 * 10.5},
		{"curve", render.Path{Edges: []geometry.Edge{quad}, Stroke: pen}, quad.Length()*w + disc},
		{"dashes 4-2 on 20: 4+4+4+2", render.Path{Edges: square[:1], Stroke: dashed}, 14 * w},
		{"dashes run on round corners", render.Path{Edges: square, Closed: true, Stroke: dashed}, 54 * w},
		{"uneven pattern swaps dashes and gaps", render.Path{Edges: square[:1], Stroke: &render.Stroke{Width: w, Dash: []float64{5}}}, 10 * w},
		{"dashed circle", render.Path{Edges: circle, Closed: true, Stroke: &render.Stroke{Width: w, Dash: []float64{math.Pi}}}, 10 * math.Pi * w},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := ink(t, test.path); math.Abs(got-test.want) > 0.01*test.want {
				t.Errorf("want %.2f mm² of ink, got %.2f", test.want, got)
			}
		})
	}
}

func TestColoursAndPlaces(t *testing.T) {
	m := decode(t, write(t, rendertest.Sample(), 254)) // 10 pixels to the mm
	at := func(x, y float64) color.RGBA {
		return color.RGBAModel.Convert(m.At(int(10*x), int(10*(105-y)))).(color.RGBA)
	}
	white, black := color.RGBA{255, 255, 255, 255}, color.RGBA{0, 0, 0, 255}
	for _, test := range []struct {
		name string
		x, y float64
		want color.RGBA
	}{
		{"paper", 2, 2, white},
		{"frame", 5, 50, black},
		{"tint of the weld", 60.05, 44.05, color.RGBA{222, 214, 200, 255}},
		{"outline of the base", 30, 40, black},
		{"inside of the root mark", 54.7, 40.5, white},
		{"halo over a line of the lining", 50.4, 54.6, white},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := at(test.x, test.y); got != test.want {
				t.Errorf("want %v at %g, %g, got %v", test.want, test.x, test.y, got)
			}
		})
	}
}

func TestGreyIsStoredAsGrey(t *testing.T) {
	if m := decode(t, write(t, rendertest.Sheet(1), 72)); m.ColorModel() != color.GrayModel {
		t.Errorf("want a grey picture, got %T", m)
	}
	if m := decode(t, write(t, rendertest.Sample(), 72)); m.ColorModel() == color.GrayModel {
		t.Error("want a colour picture, got a grey one")
	}
}

func TestReproducible(t *testing.T) {
	rendertest.Reproducible(t, func(w io.Writer) error { return Write(w, rendertest.Sample(), 150) })
}

// FuzzStroke draws any line in any pen the drawing's check lets through.
func FuzzStroke(f *testing.F) {
	f.Add(1.0, 2.0, 30.0, 40.0, 3.0, 0.5, 2.0, 1.0)
	f.Add(10.0, 10.0, 10.0, 10.0, 0.0, 1.0, 0.0, 0.0)
	f.Add(10.0, 10.0, 10.0005, 10.0, 900.0, 200.0, 0.0, 0.1)
	f.Add(-1e5, 0.0, 1e5, 0.0, 1e-9, 1e-9, 5.0, 0.0)
	f.Fuzz(func(t *testing.T, ax, ay, bx, by, sagitta, width, dash, gap float64) {
		s := &render.Stroke{Width: width}
		if dash != 0 || gap != 0 {
			s.Dash = []float64{max(dash, 1), max(gap, 1)} // finer ones are slow, not wrong
		}
		d := &render.Drawing{Width: 40, Height: 40, Items: []render.Item{{Layer: render.LayerWeld, View: render.NoView, Path: &render.Path{
			Edges:  []geometry.Edge{geometry.Arc(pt(ax, ay), pt(bx, by), sagitta), geometry.Quad(pt(bx, by), pt(by, ax), pt(ax, ay))},
			Closed: true, Stroke: s, Fill: &render.Ink{R: 200, G: 200, B: 200},
		}}}}
		if d.Check() != nil {
			t.Skip("refused")
		}
		decode(t, write(t, d, 30))
	})
}

func BenchmarkSheet(b *testing.B) {
	d := rendertest.Sheet(1)
	for _, dpi := range []float64{150, 300} {
		b.Run(fmt.Sprintf("%.0fdpi", dpi), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := Write(io.Discard, d, dpi); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
