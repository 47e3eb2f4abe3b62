package svg

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"fay/geometry"
	"fay/render"
	"fay/render/rendertest"

	"github.com/google/go-cmp/cmp"
)

func write(tb testing.TB, d *render.Drawing) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

func TestSample(t *testing.T) {
	d := rendertest.Sample()
	out := write(t, d)
	rendertest.Golden(t, "sample.svg", out)

	got := rendertest.ReadSVG(t, out)
	want := rendertest.SVG{
		Width: "148mm", Height: "105mm", ViewBox: "0 0 148 105", Language: "en",
		Title: d.Title, Description: d.Description,
	}
	for layer, items := range d.ByLayer() {
		want.Groups = append(want.Groups, "layer-"+string(layer))
		for _, it := range items {
			if it.Text != nil {
				want.Texts = append(want.Texts, it.Text.Content)
			}
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want, got:\n%s", diff)
	}
}

func TestReproducible(t *testing.T) {
	rendertest.Reproducible(t, func(w io.Writer) error { return Write(w, rendertest.Sample()) })
}

// path writes a drawing of one path and gives its data.
func path(t *testing.T, p render.Path) string {
	t.Helper()
	d := &render.Drawing{Width: 100, Height: 50, Items: []render.Item{{Layer: render.LayerWeld, View: render.NoView, Path: &p}}}
	_, data, ok := strings.Cut(string(write(t, d)), `<path d="`)
	if !ok {
		t.Fatal("no path in the file")
	}
	data, _, _ = strings.Cut(data, `"`)
	return data
}

func rectangle(x0, y0, x1, y1 float64) []geometry.Edge {
	a, b, c, d := geometry.Point{X: x0, Y: y0}, geometry.Point{X: x1, Y: y0}, geometry.Point{X: x1, Y: y1}, geometry.Point{X: x0, Y: y1}
	return []geometry.Edge{geometry.Line(a, b), geometry.Line(b, c), geometry.Line(c, d), geometry.Line(d, a)}
}

func TestPathData(t *testing.T) {
	pt := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	pen := &render.Stroke{Width: 1}
	for _, test := range []struct {
		name string
		path render.Path
		want string
	}{
		{"line, y turned down", render.Path{Edges: []geometry.Edge{geometry.Line(pt(1, 2), pt(3.00049, 4))}}, "M1 48L3 46"},
		{"quarter turn to the left is one arc, counter-clockwise on paper", render.Path{Edges: []geometry.Edge{geometry.ArcCentre(pt(20, 10), pt(10, 20), pt(10, 10), true)}}, "M20 40A10 10 0 0 0 10 30"},
		{"quarter turn to the right", render.Path{Edges: []geometry.Edge{geometry.ArcCentre(pt(10, 20), pt(20, 10), pt(10, 10), false)}}, "M10 30A10 10 0 0 1 20 40"},
		{"half turn in two pieces", render.Path{Edges: []geometry.Edge{geometry.Arc(pt(10, 10), pt(20, 10), 5)}}, "M10 40A5 5 0 0 0 15 45A5 5 0 0 0 20 40"},
		{"curve", render.Path{Edges: []geometry.Edge{geometry.Quad(pt(0, 0), pt(5, 10), pt(10, 0))}}, "M0 50Q5 40 10 50"},
		{"triangle closes without a line back", render.Path{Closed: true, Edges: []geometry.Edge{geometry.Line(pt(0, 0), pt(5, 0)), geometry.Line(pt(5, 0), pt(0, 5)), geometry.Line(pt(0, 5), pt(0, 0))}}, "M0 50H5L0 45Z"},
		{"gap starts a new contour", render.Path{Edges: []geometry.Edge{geometry.Line(pt(0, 0), pt(1, 0)), geometry.Line(pt(2, 0), pt(3, 0))}}, "M0 50H1M2 50H3"},
		{"every contour closes without a line back", render.Path{Closed: true, Edges: slices.Concat(rectangle(0, 0, 2, 1), rectangle(4, 0, 6, 1))},
			"M0 50H2V49H0ZM4 50H6V49H4Z"},
		{"level and upright lines after a curve", render.Path{Edges: []geometry.Edge{geometry.Quad(pt(0, 0), pt(5, 10), pt(10, 0)), geometry.Line(pt(10, 0), pt(10, 4)), geometry.Line(pt(10, 4), pt(0, 4))}},
			"M0 50Q5 40 10 50V46H0"},
	} {
		t.Run(test.name, func(t *testing.T) {
			test.path.Stroke = pen
			if diff := cmp.Diff(test.want, path(t, test.path)); diff != "" {
				t.Errorf("want, got:\n%s", diff)
			}
		})
	}
}

func TestFaultsAreReportedBeforeWriting(t *testing.T) {
	var b bytes.Buffer
	err := Write(&b, &render.Drawing{Width: -1, Height: 10})
	var fault *render.Fault
	if !errors.As(err, &fault) || b.Len() != 0 {
		t.Errorf("want a fault and no bytes, got %v and %d bytes", err, b.Len())
	}
}

// FuzzText draws any text: no panic, well-formed XML, and the plain text comes
// back with only what XML cannot hold replaced.
func FuzzText(f *testing.F) {
	for _, s := range []string{
		"5.0 ±0.5", "<&>\"'", "a\x00b\x1b\x7f", "\xff\xfe", "line\nfeed\ttab", "שלום 12 עולם", "مرحبا", "焊接", "👩‍🔧🏽",
		"e\u0301\u0301\u0301", "\u202e\u2066abc", "\uFFFE\uFFFF\uFFFD", "]]>", "\U0010FFFF", "  ", "ﷺ", "क्षि", "\r\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, content string) {
		if len(content) > render.MaxText {
			t.Skip("longer than a drawing takes")
		}
		d := &render.Drawing{
			Width: 100, Height: 50, Title: content, Description: content, Language: content,
			Items: []render.Item{{Layer: render.LayerText, View: render.NoView, Text: &render.Text{Height: 2.5, Content: content, Halo: 1, Angle: 1}}},
		}
		out := write(t, d)
		if !utf8.Valid(out) {
			t.Error("not UTF-8")
		}
		got := rendertest.ReadSVG(t, out)
		want := strings.Map(func(r rune) rune {
			if !allowed(r) {
				return utf8.RuneError
			}
			return r
		}, strings.ToValidUTF8(content, "\x00"))
		if content != "" && utf8.ValidString(content) && !slices.Equal([]string{want}, got.Texts) {
			t.Errorf("want text %q, got %q", want, got.Texts)
		}
	})
}

func BenchmarkSheet(b *testing.B) {
	d := rendertest.Sheet(1)
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(len(write(b, d))))
}
