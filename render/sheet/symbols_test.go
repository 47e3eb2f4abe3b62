package sheet_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fay/joints"
	"fay/joints/jointstest"
	"fay/render/rendertest"
	"fay/render/sheet"
	"fay/render/symbol"
)

// TestNoSymbolGoesSilently lays out random joints in every system: each symbol
// of the joint stands on the sheets, or they say that and why one is missing.
func TestNoSymbolGoesSilently(t *testing.T) {
	opts := options()
	eachKind(t, 11, 3*count(), func(t *testing.T, i int, sec *joints.Section, in joints.Input) {
		t.Helper()
		job := fullJob(sec)
		job.Symbol = symbol.Options{System: symbol.Systems()[i%3], Tail: symbol.Tail{Process: "141", Level: "ISO 5817-C"}}
		job.Seams = []joints.Seam{{Length: 800, Segment: 50, Pitch: 120, Staggered: i%2 == 0}}
		want, err := symbol.All(sec, job.Seams, job.Symbol)
		if err != nil && joints.AsFaults(err)[0].Code != joints.FaultUnknown {
			t.Fatal(err)
		}
		sheets, err := sheet.Compose(job, opts[i%len(opts)])
		if err != nil {
			t.Fatal(err)
		}
		drawn := 0
		for _, d := range sheets {
			var roles []string
			for n := range d.Items {
				if role := d.Items[n].Role; strings.HasPrefix(role, "symbol") && !slices.Contains(roles, role) {
					roles = append(roles, role)
				}
			}
			drawn += len(roles)
			for _, v := range rendertest.Lint(d) {
				t.Errorf("joint %d: %v\n%+v", i, v, in)
			}
		}
		said := strings.Contains(strings.ToLower(strings.Join(texts(sheets), " ")), "welding symbol")
		if missing := len(want) == 0 || drawn < len(want); missing != said {
			t.Errorf("joint %d: %d of %d symbols are drawn, the sheets tell of a missing one: %v\n%+v", i, drawn, len(want), said, in)
		}
	})
}

// TestNoSymbolSaysWhy names the reason for a joint that has no symbol on file.
func TestNoSymbolSaysWhy(t *testing.T) {
	kind, _ := joints.LookupKind("lap")
	r := rand.New(rand.NewPCG(1, 1))
	for range 10_000 {
		sec, _, _ := jointstest.Section(kind, r)
		if _, ok := sec.Weld("notch"); !ok {
			continue
		}
		sheets, err := sheet.Compose(fullJob(&sec), sheet.Options{})
		if err != nil {
			t.Fatal(err)
		}
		all := strings.Join(texts(sheets), " ")
		for _, want := range []string{"No welding symbol", "not a preparation"} {
			if !strings.Contains(all, want) {
				t.Errorf("%q is missing in %s", want, all)
			}
		}
		return
	}
	t.Fatal("no lap with a notch was built")
}
