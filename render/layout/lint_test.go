package layout_test

import (
	"flag"
	"math/rand/v2"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
	"fay/render"
	"fay/render/layout"
	"fay/render/rendertest"
	"fay/render/symbol"
)

var many = flag.Int("many", 20, "number of random joints of each kind to draw")

// styles are both languages in both units.
func styles() []render.Style {
	iso, us := render.ISO(), render.US()
	isoInch, usMM := iso, us
	isoInch.Numbers, usMM.Numbers = us.Numbers, iso.Numbers
	isoInch.Numbers.Denominator = 32
	return []render.Style{iso, us, isoInch, usMM}
}

// systems are the welding symbols of each style; the empty one is the usual one
// of its language.
var systems = [...]symbol.System{"", "", symbol.ISOB, symbol.AWS, ""}

// TestRandomJointsAreClean draws random joints of every kind with their welding
// symbols on sheets of several sizes and finds nothing that the lint forbids.
func TestRandomJointsAreClean(t *testing.T) {
	t.Parallel()
	n := *many
	if testing.Short() {
		n = min(n, 5)
	}
	sizes := [][2]float64{{172, 90}, {172, 140}, {120, 150}, {250, 150}, {80, 70}}
	all := styles()
	for k := range joints.Kinds {
		kind := &joints.Kinds[k]
		t.Run(kind.Name, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(5, uint64(k)))
			homeless, unplaced, small, crossed := 0, 0, 0, 0
			for i := range n {
				sec, in, ok := jointstest.Section(kind, r)
				if !ok {
					t.Fatal("no joint could be built")
				}
				s, size := all[i%len(all)], sizes[i%len(sizes)]
				f := layout.Compose(&sec, &s, size[0], size[1], layout.Symbols(&sec, &s, nil, symbol.Options{System: systems[i%len(systems)]})...)
				d := sheetOf(f)
				if err := d.Check(); err != nil {
					t.Errorf("joint %d: %v", i, err)
				}
				for _, v := range rendertest.Lint(d) {
					t.Errorf("joint %d: %v\n%+v", i, v, in)
				}
				if size[0] > 100 {
					homeless += len(f.Homeless)
					unplaced += min(1, len(f.Unplaced))
				}
				for v := range f.Views {
					crossed += min(1, lineCrossings(f.Views[v].Marks()))
				}
				if f.LegScale() < 1 {
					small++
				}
			}
			t.Logf("%d joints: %d symbols without a place, %d with unplaced measures, %d under full size, %d views with crossing lines", n, homeless, unplaced, small, crossed)
		})
	}
}

// sheetOf draws a figure on a sheet of its own.
func sheetOf(f *layout.Figure) *render.Drawing {
	d := &render.Drawing{Width: f.Width + 10, Height: f.Height + 10, Title: "figure", Language: "en"}
	d.Views, d.Items = f.Draw(geometry.Point{X: 5, Y: 5})
	return d
}

func TestExamplesAreClean(t *testing.T) {
	for _, e := range append(examples(t), kindExamples(t)...) {
		f := layout.Compose(&e.sec, &e.style, 180, 145, layout.Symbols(&e.sec, &e.style, nil, symbol.Options{})...)
		for _, v := range rendertest.Lint(sheetOf(f)) {
			t.Errorf("%s: %v", e.name, v)
		}
		if len(f.Unplaced) > 1 || len(f.Homeless) > 0 {
			t.Errorf("%s: %d dimensions and %d symbols found no place", e.name, len(f.Unplaced), len(f.Homeless))
		}
	}
}
