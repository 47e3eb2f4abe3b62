package layout_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/layout"
	"fay/render/png"
	"fay/render/symbol"
)

var look = flag.String("look", "", "write the example views as PNG into this directory")

type example struct {
	name  string
	style render.Style
	sec   joints.Section
}

func tee(tb testing.TB, p joints.Tee) joints.Section {
	tb.Helper()
	s, err := joints.NewTee(p)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func lap(tb testing.TB, p joints.Lap) joints.Section {
	tb.Helper()
	s, err := joints.NewLap(p)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func plate(mm geometry.Length) joints.Plate {
	return joints.Plate{Thickness: mm, Material: "EN AW-5083"}
}

func convex(leg, rise geometry.Length) *joints.Fillet {
	return &joints.Fillet{Legs: [2]geometry.Length{leg, leg}, Face: joints.FaceConvex, Rise: rise}
}

func examples(tb testing.TB) []example {
	tb.Helper()
	two := joints.EqualFillet
	withTolerance := func(s joints.Section) joints.Section {
		for i := range s.Measures {
			if s.Measures[i].Name == "gap" {
				s.Measures[i].Tolerance = &joints.Tolerance{Plus: 0.3, Minus: -0.3}
			}
		}
		return s
	}
	iso, us := render.ISO(), render.US()
	return []example{
		{"tee-8-3", iso, withTolerance(tee(tb, joints.Tee{Base: plate(8), Stem: plate(3), Gap: 0.3, Arrow: two(3), Other: two(3)}))},
		{"tee-8-3-us", us, withTolerance(tee(tb, joints.Tee{Base: plate(8), Stem: plate(3), Gap: 0.3, Arrow: two(3), Other: two(3)}))},
		{"tee-one-side", iso, tee(tb, joints.Tee{Base: plate(8), Stem: plate(3), Gap: 0.3, Arrow: two(3)})},
		{"tee-unlike", iso, tee(tb, joints.Tee{Base: plate(6), Stem: plate(4), Gap: 0.5, Arrow: &joints.Fillet{Legs: [2]geometry.Length{5, 4}}, Other: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Face: joints.FaceConcave, Rise: 0.3}})},
		{"tee-60", iso, tee(tb, joints.Tee{Base: plate(10), Stem: plate(5), Angle: 60 * geometry.Degree, Arrow: two(5), Other: two(7)})},
		{"tee-120", iso, tee(tb, joints.Tee{Base: plate(8), Stem: plate(4), Angle: 120 * geometry.Degree, StemEnd: joints.StemFitted, Gap: 0.5, Arrow: two(4), Other: two(4)})},
		{"tee-20-2", iso, tee(tb, joints.Tee{Base: plate(20), Stem: plate(2), Arrow: convex(2.5, 0.4), Other: convex(2.5, 0.4)})},
		{"tee-fusion", iso, tee(tb, joints.Tee{Base: plate(8), Stem: plate(6), Arrow: &joints.Fillet{Legs: [2]geometry.Length{5, 5}, Penetration: 1, Fusion: [2]geometry.Length{1, 0.6}, Face: joints.FaceConvex, Rise: 0.5}})},
		{"lap-6-4", iso, lap(tb, joints.Lap{Lower: plate(6), Upper: plate(4), Overlap: 30, Arrow: two(4)})},
		{"lap-gap", iso, lap(tb, joints.Lap{Lower: plate(6), Upper: plate(5), Overlap: 25, Gap: 0.6, Arrow: two(4), Other: two(5)})},
		{"lap-us", us, lap(tb, joints.Lap{Lower: plate(6.35), Upper: plate(4.7625), Overlap: 25.4, Arrow: two(3.96875)})},
		{"lap-thin", iso, lap(tb, joints.Lap{Lower: plate(1.2), Upper: plate(1), Overlap: 80, Arrow: two(1)})},
	}
}

// TestLook writes the example figures as PNG, six to a sheet.
func TestLook(t *testing.T) {
	if *look == "" {
		t.Skip("writes pictures for looking at; run with -look dir")
	}
	const columns, rows, wide, high = 2, 3, 190.0, 160.0
	list := append(examples(t), kindExamples(t)...)
	for first := 0; first < len(list); first += columns * rows {
		d := render.Drawing{Width: columns * wide, Height: rows * high, Title: "figures"}
		for i, e := range list[first:min(len(list), first+columns*rows)] {
			fig := layout.Compose(&e.sec, &e.style, 180, 145, layout.Symbols(&e.sec, &e.style, nil, symbol.Options{})...)
			at := geometry.Point{X: wide*float64(i%columns) + 5, Y: d.Height - high*float64(i/columns+1) + 5}
			d.Items = append(d.Items, render.Item{Layer: render.LayerText, View: render.NoView, Text: &render.Text{At: at.Add(geometry.Point{Y: 147}), Height: 3.5, Content: e.name}})
			views, items := fig.Draw(at)
			for k := range items {
				items[k].View = render.NoView
			}
			d.Items = append(d.Items, items...)
			for k, v := range fig.Views {
				t.Logf("%s scale %v box %.0f×%.0f cost %.1f unplaced %d %v", e.name, v.Scale, v.Box.Width(), v.Box.Height(), v.Cost(), len(v.Unplaced), views[k].Name)
			}
		}
		f, err := os.Create(filepath.Join(*look, fmt.Sprintf("figures-%d.png", first/(columns*rows)+1)))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Write(f, &d, 100); err != nil {
			t.Error(err)
		}
		f.Close()
	}
}

var noLimit = geometry.EmptyBox()
