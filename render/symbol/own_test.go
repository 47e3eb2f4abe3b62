package symbol_test

import (
	"math/rand/v2"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
	"fay/render"
	"fay/render/rendertest"
	"fay/render/symbol"
)

// TestNoSymbolStandsInItsOwnWay draws the symbols of random joints to all sides
// of their arrows: no text of one stands on another text or on a line. A broken
// arrow may cross a text to one side.
func TestNoSymbolStandsInItsOwnWay(t *testing.T) {
	t.Parallel()
	drawn := 0
	for k := range joints.Kinds {
		r := rand.New(rand.NewPCG(9, uint64(k)))
		for range 200 {
			sec, in, ok := jointstest.Section(&joints.Kinds[k], r)
			if !ok {
				t.Fatal("no joint could be built")
			}
			for _, sys := range symbol.Systems() {
				list, err := symbol.All(&sec, nil, symbol.Options{System: sys})
				if err != nil {
					continue
				}
				st := style(sys)
				for i := range list {
					drawn++
					var found []rendertest.Violation
					sides := 0
					for _, rise := range []float64{20, -20} {
						for _, left := range []bool{false, true} {
							p := list[i].Layout(&st, symbol.Place{Tip: geometry.Point{X: 150, Y: 100}, Knee: list[i].Knee(rise, left), Left: left})
							d := &render.Drawing{Width: 300, Height: 200, Title: "symbol", Language: "en", Items: p.Items(&st, render.NoView)}
							if v := rendertest.Lint(d); len(v) > 0 {
								sides, found = sides+1, append(found, v...)
							}
						}
					}
					if sides > 2 || sides > 0 && list[i].Arrow.Prepared == "" {
						t.Errorf("%s: %v\n%+v", sys, found, in)
					}
				}
			}
			if t.Failed() {
				return
			}
		}
	}
	if drawn < 3000 {
		t.Errorf("only %d symbols were drawn", drawn)
	}
}
