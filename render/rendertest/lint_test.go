package rendertest_test

import (
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/rendertest"

	"github.com/google/go-cmp/cmp"
)

// TestLintFindsEachRule plants one violation at a time in a clean drawing.
func TestLintFindsEachRule(t *testing.T) {
	pt := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	text := func(x, y, h float64, role, content string) render.Item {
		return render.Item{Layer: render.LayerText, View: render.NoView, Role: role,
			Text: &render.Text{At: pt(x, y), Height: h, Content: content}}
	}
	turned := text(50, 20, 3.5, "dimension:leg", "12")
	turned.Text.Angle = 60 * geometry.Degree
	stroke := func(layer render.Layer, role string, a, b geometry.Point) render.Item {
		return render.Item{Layer: layer, View: render.NoView, Role: role,
			Path: &render.Path{Edges: []geometry.Edge{geometry.Line(a, b)}, Stroke: &render.Stroke{Width: 0.25}}}
	}
	tint := render.Item{Layer: render.LayerTint, View: render.NoView, Role: "weld", Path: &render.Path{Closed: true,
		Fill: &render.Ink{R: 200}, Edges: []geometry.Edge{geometry.Line(pt(0, 0), pt(100, 0)), geometry.Line(pt(100, 0), pt(0, 50)), geometry.Line(pt(0, 50), pt(0, 0))}}}
	base := text(20, 20, 3.5, "dimension:leg", "12")
	tests := []struct {
		name string
		item render.Item
		want []string
	}{
		{"clean", stroke(render.LayerDimension, "dimension:leg", pt(10, 18.5), pt(40, 18.5)), nil},
		{"a tint is no line", tint, nil},
		{"text on text", text(22, 21, 3.5, "label", "B"), []string{rendertest.RuleTextOnText}},
		{"line through", stroke(render.LayerDimension, "dimension:gap", pt(10, 21), pt(40, 21)), []string{rendertest.RuleLineThrough}},
		{"own line through", stroke(render.LayerDimension, "dimension:leg", pt(10, 21), pt(40, 21)), []string{rendertest.RuleLineThrough}},
		{"line beside within its width", stroke(render.LayerMember, "member", pt(10, 19.9), pt(40, 19.9)), []string{rendertest.RuleTextOnLine}},
		{"line inside", stroke(render.LayerFrame, "frame", pt(21, 21), pt(22, 22)), []string{rendertest.RuleTextOnLine}},
		{"hatch", stroke(render.LayerHatch, "member", pt(15, 15), pt(30, 30)), []string{rendertest.RuleTextOnHatch}},
		{"off the sheet", text(98, 20, 3.5, "label", "wide"), []string{rendertest.RuleOffSheet}},
		{"small", text(60, 40, 2.4, "label", "B"), []string{rendertest.RuleSmallText}},
		{"turned text beside a line", turned, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := &render.Drawing{Width: 100, Height: 50, Items: []render.Item{base, tt.item}}
			var got []string
			for _, v := range rendertest.Lint(d) {
				got = append(got, v.Rule)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
	t.Run("line through a turned text only", func(t *testing.T) {
		// Runs through the corner of the box around the text, not through the text.
		d := &render.Drawing{Width: 100, Height: 50, Items: []render.Item{turned, stroke(render.LayerDimension, "x", pt(47.2, 26), pt(47.8, 26.6))}}
		if got := rendertest.Lint(d); len(got) > 0 {
			t.Errorf("want none, got %v", got)
		}
	})
}
