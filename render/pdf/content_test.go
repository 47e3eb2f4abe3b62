package pdf

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/render"

	"github.com/google/go-cmp/cmp"
)

// stream gives the content stream of a drawing of some items, without the line
// that scales the page.
func stream(t *testing.T, items ...render.Item) string {
	t.Helper()
	d := &render.Drawing{Width: 100, Height: 50, Items: items}
	c := newContent()
	c.drawing(d)
	_, rest, _ := strings.Cut(string(c.Bytes()), "\n")
	return rest
}

func TestPathOperators(t *testing.T) {
	line := []geometry.Edge{geometry.Line(pt(0, 0), pt(10, 0))}
	square := []geometry.Edge{geometry.Line(pt(0, 0), pt(9, 0)), geometry.Line(pt(9, 0), pt(0, 9)), geometry.Line(pt(0, 9), pt(0, 0))}
	item := func(p render.Path) render.Item {
		return render.Item{Layer: render.LayerWeld, View: render.NoView, Path: &p}
	}
	for _, test := range []struct {
		name  string
		items []render.Item
		want  string
	}{
		{"stroke", []render.Item{item(render.Path{Edges: line, Stroke: &render.Stroke{Width: 0.5}})}, "0.5 w 0 0 m 10 0 l S\n"},
		{"fill in colour", []render.Item{item(render.Path{Edges: square, Closed: true, Fill: &render.Ink{R: 255, G: 51}})}, "1 0.2 0 rg 0 0 m 9 0 l 0 9 l h f\n"},
		{"both, grey", []render.Item{item(render.Path{Edges: square, Closed: true, Fill: &render.Ink{R: 51, G: 51, B: 51}, Stroke: &render.Stroke{Width: 1}})}, "0.2 g 1 w 0 0 m 9 0 l 0 9 l h B\n"},
		{"dashes have square ends, the line after them round ones", []render.Item{
			item(render.Path{Edges: line, Stroke: &render.Stroke{Width: 1, Dash: []float64{4, 1}}}),
			item(render.Path{Edges: line, Stroke: &render.Stroke{Width: 1}}),
		}, "1 w 0 J [4 1 ]0 d 0 0 m 10 0 l S\n1 J []0 d 0 0 m 10 0 l S\n"},
		{"curve with handles at two thirds", []render.Item{item(render.Path{Edges: []geometry.Edge{geometry.Quad(pt(0, 0), pt(3, 6), pt(6, 0))}, Stroke: &render.Stroke{Width: 1}})}, "1 w 0 0 m 2 4 4 4 6 0 c S\n"},
		{"halo of paper behind a blank text", []render.Item{{Layer: render.LayerText, View: render.NoView, Text: &render.Text{At: pt(10, 20), Height: 2, Halo: 1, Content: "\u200b"}}}, "1 g 9 19 m 11 19 l 11 23 l 9 23 l h f\n"},
		{"nothing to draw", []render.Item{item(render.Path{Edges: line}), item(render.Path{Stroke: &render.Stroke{Width: 1}})}, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, stream(t, test.items...)); diff != "" {
				t.Errorf("want, got:\n%s", diff)
			}
		})
	}
}

var token = regexp.MustCompile(`<([0-9A-F]+)>|(-?[0-9.]+)`)

// TestPenEndsWhereMeasured follows the pen through the operators: widths of the
// glyphs less the moves between them are the measured width.
func TestPenEndsWhereMeasured(t *testing.T) {
	kerned := 0
	for _, s := range []string{"AVATo", "Leg 5.0 ±0.5", "Ty. P, F.", "y\u0304q\u0331"} {
		for face := render.FaceRegular; face <= render.FaceBold; face++ {
			text := render.Text{Height: 3.5, Face: face, Content: s}
			out := stream(t, render.Item{Layer: render.LayerText, View: render.NoView, Text: &text})
			line := text.Line()
			for i, part := range strings.Split(out, "TJ")[:len(line.Runs())] {
				run := line.Runs()[i]
				advance := make(map[string]float64)
				want := 0.0
				for _, g := range run.Glyphs {
					advance[fmt.Sprintf("%04X", g.Glyph)] = run.Font.Advance(g.Glyph)
					want += g.Advance
				}
				got := 0.0
				for _, m := range token.FindAllStringSubmatch(part[strings.LastIndex(part, "["):], -1) {
					if m[2] != "" {
						move, err := strconv.ParseFloat(m[2], 64)
						if err != nil {
							t.Fatal(err)
						}
						got -= move * run.Font.Units / 1000
						kerned++
					}
					for k := 0; k < len(m[1]); k += 4 {
						got += advance[m[1][k:k+4]]
					}
				}
				last := run.Glyphs[len(run.Glyphs)-1]
				want += last.DX + run.Font.Advance(last.Glyph) - last.Advance // the pen is not moved after the last
				if math.Abs(want-got) > 0.1 {
					t.Errorf("%s %q: want the pen at %g font units, got %g", face, s, want, got)
				}
			}
		}
	}
	if kerned == 0 {
		t.Error("no text of this test is kerned; it proves nothing")
	}
}
