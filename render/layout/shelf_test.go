package layout_test

import (
	"bytes"
	"math/rand/v2"
	"sync"
	"testing"

	"fay/joints"
	"fay/joints/jointstest"
	"fay/render"
	"fay/render/layout"
	"fay/render/symbol"
)

// asked is what a sheet may ask of a composer.
var asked = []func(c *layout.Composer) *layout.Figure{
	func(c *layout.Composer) *layout.Figure { return c.Detailed(172, 60) },
	func(c *layout.Composer) *layout.Figure { return c.Compose(172, 60) },
	func(c *layout.Composer) *layout.Figure { return c.ComposeBare(172, 60) },
	func(c *layout.Composer) *layout.Figure { return c.Compose(172, 150) },
}

// drawn is what a figure looks like, nothing for none.
func drawn(f *layout.Figure) []byte {
	if f == nil {
		return nil
	}
	return render.EncodeJSON(sheetOf(f))
}

// shelvedJoint is a random joint with its welding symbols.
type shelvedJoint struct {
	sec     joints.Section
	symbols []symbol.Symbol
}

func shelvedJoints(t *testing.T, style *render.Style, n int) []shelvedJoint {
	t.Helper()
	var out []shelvedJoint
	for k := range joints.Kinds {
		r := rand.New(rand.NewPCG(8, uint64(k)))
		for range n {
			sec, _, ok := jointstest.Section(&joints.Kinds[k], r)
			if !ok {
				t.Fatal("no joint could be built")
			}
			out = append(out, shelvedJoint{sec, layout.Symbols(&sec, style, nil, symbol.Options{})})
		}
	}
	return out
}

// A figure off the shelf is the one that a new composer makes, whatever was
// asked before, by whom, and in which order.
func TestShelfGivesWhatAComposerWould(t *testing.T) {
	style := render.ISO()
	list := shelvedJoints(t, &style, 2)
	want := make([][][]byte, len(list))
	for i := range list {
		c := layout.NewComposer(&list[i].sec, &style, list[i].symbols...)
		for _, ask := range asked {
			want[i] = append(want[i], drawn(ask(c)))
		}
	}
	shelf := layout.NewShelf()
	var group sync.WaitGroup
	for worker := range 4 {
		group.Go(func() {
			for round := range 3 {
				for i := range list {
					sec := list[i].sec
					sec.Title = string(rune('a' + worker)) // no figure shows it
					own := style
					c := shelf.Composer(&sec, &own, list[i].symbols...)
					// Some ask for less than those before them.
					for k := range asked[:1+(i+round+worker)%len(asked)] {
						if got := drawn(asked[k](c)); !bytes.Equal(got, want[i][k]) {
							t.Errorf("%s, round %d, question %d: another figure than a composer makes", sec.Kind, round, k)
						}
					}
				}
			}
		})
	}
	group.Wait()
	if n := shelf.Figures(); n < len(list) {
		t.Errorf("%d figures are kept of %d sections that came several times", n, len(list))
	}
}

// What a figure shows tells sections apart.
func TestShelfTellsSectionsApart(t *testing.T) {
	style := render.ISO()
	base := shelvedJoints(t, &style, 1)[0]
	shelf := layout.NewShelf()
	show := func(sec *joints.Section, style *render.Style) []byte {
		t.Helper()
		var data []byte
		for range 3 {
			data = drawn(shelf.Composer(sec, style, base.symbols...).Compose(172, 100))
		}
		if fresh := drawn(layout.NewComposer(sec, style, base.symbols...).Compose(172, 100)); !bytes.Equal(data, fresh) {
			t.Error("another figure than a composer makes")
		}
		return data
	}
	first := show(&base.sec, &style)
	other := base.sec
	other.Members = append([]joints.Member(nil), base.sec.Members...)
	other.Members[0].Material = "EN AW-5754"
	if bytes.Equal(first, show(&other, &style)) {
		t.Error("another material is lettered alike")
	}
	// The same values, so the same place on the shelf.
	tolerant := base.sec
	tolerant.Measures = append([]joints.Measure(nil), base.sec.Measures...)
	for i := range tolerant.Measures {
		tolerant.Measures[i].Tolerance = &joints.Tolerance{Plus: 1, Minus: 1}
	}
	if bytes.Equal(first, show(&tolerant, &style)) {
		t.Error("a tolerance is left out")
	}
	inch := style
	inch.Numbers = render.US().Numbers
	if bytes.Equal(first, show(&base.sec, &inch)) {
		t.Error("inches are lettered as millimetres")
	}
	if !bytes.Equal(first, show(&base.sec, &style)) {
		t.Error("the first section is shown in another way now")
	}
}

func TestShelfIsBounded(t *testing.T) {
	style := render.ISO()
	base := shelvedJoints(t, &style, 1)[0]
	shelf := layout.NewShelf()
	for i := range 3 * layout.MostKept {
		sec := base.sec
		sec.Measures = append([]joints.Measure(nil), base.sec.Measures...)
		sec.Measures[0].Value += float64(i)
		for range 2 {
			shelf.Composer(&sec, &style)
		}
	}
	if n := shelf.Sections(); n != layout.MostKept {
		t.Errorf("%d sections are kept, want %d", n, layout.MostKept)
	}
}
