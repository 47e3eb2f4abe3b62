package render_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/rendertest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func at(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

func TestEncodeJSON(t *testing.T) {
	out := render.EncodeJSON(rendertest.Sample())
	if !json.Valid(out) {
		t.Error("not JSON")
	}
	rendertest.Golden(t, "sample.json", out)
	if !slices.Equal(out, render.EncodeJSON(rendertest.Sample())) {
		t.Error("two runs differ")
	}
	if empty := render.EncodeJSON(&render.Drawing{Title: "\x00\xff\"\\ \u2028<≤>"}); !json.Valid(empty) {
		t.Errorf("not JSON: %s", empty)
	}
}

func TestEncodedEdges(t *testing.T) {
	d := &render.Drawing{Width: 1, Height: 2, Items: []render.Item{{Layer: render.LayerWeld, View: render.NoView, Path: &render.Path{Edges: []geometry.Edge{
		geometry.Line(at(0, 0), at(1.00049, 0)), geometry.Arc(at(1, 0), at(0, 1), 0.2), geometry.Quad(at(0, 1), at(-1, 1), at(0, 0)),
	}}}}}
	want := `{
"size_mm": [1,2],
"title": "",
"description": "",
"language": "",
"views": [],
"items": [
  {"layer": "weld", "edges": [
    {"line": [0,0,1,0]},
    {"arc": [1,0,0,1,0.2]},
    {"quad": [0,1,-1,1,0,0]}]}]
}
`
	if diff := cmp.Diff(want, string(render.EncodeJSON(d))); diff != "" {
		t.Errorf("want, got:\n%s", diff)
	}
}

func TestCheckReportsEveryFault(t *testing.T) {
	nan := math.NaN()
	text := func(change func(*render.Text)) render.Item {
		x := render.Text{Height: 2.5, Content: "a"}
		change(&x)
		return render.Item{Layer: render.LayerText, View: render.NoView, Text: &x}
	}
	path := func(p render.Path) render.Item {
		return render.Item{Layer: render.LayerWeld, View: render.NoView, Path: &p}
	}
	line := []geometry.Edge{geometry.Line(at(0, 0), at(1, 1))}
	for _, test := range []struct {
		name string
		d    render.Drawing
		want []render.FaultCode
	}{
		{"nothing wrong", *rendertest.Sample(), nil},
		{"size", render.Drawing{Width: nan, Height: render.MaxSide + 1}, []render.FaultCode{render.FaultSize, render.FaultSize}},
		{"view", render.Drawing{Width: 1, Height: 1, Views: []render.View{{Scale: 0, Origin: at(nan, 0)}}}, []render.FaultCode{render.FaultScale, render.FaultCoordinate}},
		{"item", render.Drawing{Width: 1, Height: 1, Items: []render.Item{{Layer: "paint", View: 3}}}, []render.FaultCode{render.FaultLayer, render.FaultView, render.FaultItem}},
		{"path and text at once", render.Drawing{Width: 1, Height: 1, Items: []render.Item{{Layer: render.LayerWeld, View: render.NoView, Path: &render.Path{}, Text: &render.Text{}}}}, []render.FaultCode{render.FaultItem}},
		{"edge", render.Drawing{Width: 1, Height: 1, Items: []render.Item{path(render.Path{Edges: []geometry.Edge{geometry.Line(at(math.Inf(1), 0), at(0, 0))}})}}, []render.FaultCode{render.FaultCoordinate}},
		{"control point", render.Drawing{Width: 1, Height: 1, Items: []render.Item{path(render.Path{Edges: []geometry.Edge{geometry.Quad(at(0, 0), at(nan, 0), at(1, 0))}})}}, []render.FaultCode{render.FaultCoordinate}},
		{"arc beyond all bounds", render.Drawing{Width: 1, Height: 1, Items: []render.Item{path(render.Path{Edges: []geometry.Edge{geometry.Arc(at(0, 0), at(1, 0), 1e7)}})}}, []render.FaultCode{render.FaultCoordinate}},
		{"pen", render.Drawing{Width: 1, Height: 1, Items: []render.Item{path(render.Path{Edges: line, Stroke: &render.Stroke{Width: 0, Dash: []float64{1, -1}}})}}, []render.FaultCode{render.FaultStroke, render.FaultStroke}},
		{"dashes of nothing", render.Drawing{Width: 1, Height: 1, Items: []render.Item{path(render.Path{Edges: line, Stroke: &render.Stroke{Width: 1, Dash: []float64{0, 0}}})}}, []render.FaultCode{render.FaultStroke}},
		{"text", render.Drawing{Width: 1, Height: 1, Items: []render.Item{text(func(x *render.Text) {
			x.Height, x.Halo, x.Angle, x.At = 0, nan, geometry.Angle(nan), at(nan, 0)
		})}}, []render.FaultCode{render.FaultCoordinate, render.FaultText, render.FaultText, render.FaultText}},
		{"long text", render.Drawing{Width: 1, Height: 1, Items: []render.Item{text(func(x *render.Text) {
			x.Content = string(make([]byte, render.MaxText+1))
		})}}, []render.FaultCode{render.FaultText}},
	} {
		t.Run(test.name, func(t *testing.T) {
			var got []render.FaultCode
			for _, err := range split(test.d.Check()) {
				var fault *render.Fault
				if !errors.As(err, &fault) || fault.Field == "" || fault.Value == "" || fault.Rule == "" {
					t.Fatalf("not a full fault: %#v", err)
				}
				got = append(got, fault.Code)
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("want, got:\n%s", diff)
			}
		})
	}
}

func split(err error) []error {
	if err == nil {
		return nil
	}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	return []error{err}
}

func TestByLayerKeepsOrder(t *testing.T) {
	item := func(layer render.Layer, role string) render.Item { return render.Item{Layer: layer, Role: role} }
	d := render.Drawing{Items: []render.Item{
		item(render.LayerText, "1"), item(render.LayerTint, "2"), item(render.LayerText, "3"), item(render.LayerWeld, "4"),
	}}
	var got []string
	for _, items := range d.ByLayer() {
		for _, it := range items {
			got = append(got, it.Role)
		}
	}
	if diff := cmp.Diff([]string{"2", "4", "1", "3"}, got); diff != "" {
		t.Errorf("want, got:\n%s", diff)
	}
}

func TestTextBox(t *testing.T) {
	approx := cmpopts.EquateApprox(0, 1e-9)
	w := render.Text{Height: 2, Content: "HE"}.Width()
	_, top := render.Text{Height: 2, Content: "HE"}.Line().Ink()
	if math.Abs(top-2) > 0.05 {
		t.Errorf("want capitals 2 mm high, got %g", top)
	}
	for _, test := range []struct {
		name   string
		text   render.Text
		margin float64
		want   [4]geometry.Point
	}{
		{"left", render.Text{At: at(10, 20), Content: "HE"}, 0, [4]geometry.Point{at(10, 20), at(10+w, 20), at(10+w, 20+top), at(10, 20+top)}},
		{"right", render.Text{At: at(10, 20), Content: "HE", Align: render.AlignRight}, 0, [4]geometry.Point{at(10-w, 20), at(10, 20), at(10, 20+top), at(10-w, 20+top)}},
		{"centre, upright on its end, with a margin", render.Text{At: at(10, 20), Content: "HE", Align: render.AlignCentre, Angle: 90 * geometry.Degree}, 1, [4]geometry.Point{at(11, 19-w/2), at(11, 21+w/2), at(9-top, 21+w/2), at(9-top, 19-w/2)}},
		{"blank keeps the height of a capital", render.Text{At: at(10, 20)}, 0, [4]geometry.Point{at(10, 20), at(10, 20), at(10, 22), at(10, 22)}},
	} {
		t.Run(test.name, func(t *testing.T) {
			test.text.Height = 2
			if diff := cmp.Diff(test.want, test.text.Box(test.margin), approx); diff != "" {
				t.Errorf("want, got:\n%s", diff)
			}
		})
	}
}
