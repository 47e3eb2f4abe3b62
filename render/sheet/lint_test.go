package sheet_test

import (
	"bytes"
	"flag"
	"math/rand/v2"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
	"fay/render"
	"fay/render/rendertest"
	"fay/render/sheet"
)

var many = flag.Int("many", 5, "number of random joints to lay out per kind; a few hundred before a change of the layout is accepted")

// count is how many random joints this run lays out per kind.
func count() int {
	if testing.Short() {
		return min(*many, 2)
	}
	return *many
}

// options are the sheets, languages and units random joints are laid out on.
func options() []sheet.Options {
	return []sheet.Options{
		{},
		{Orientation: sheet.Landscape},
		{Size: sheet.Letter, Language: render.LanguageUS, Unit: geometry.UnitInch, Denominator: 16},
		{Size: sheet.Letter, Orientation: sheet.Landscape, Language: render.LanguageUS, Unit: geometry.UnitInch},
		{Size: sheet.Letter, Orientation: sheet.Portrait},
		{Size: sheet.A3, Orientation: sheet.Landscape},
		{Language: render.LanguageUS},
		{Orientation: sheet.Portrait, Unit: geometry.UnitInch, Denominator: 32},
	}
}

func TestEveryExampleIsClean(t *testing.T) {
	for _, e := range examples(t) {
		t.Run(e.name, func(t *testing.T) {
			sheets, err := sheet.Compose(e.job, e.o)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range sheets {
				if err := d.Check(); err != nil {
					t.Error(err)
				}
				for _, v := range rendertest.Lint(d) {
					t.Error(v)
				}
			}
		})
	}
}

// eachKind tries random joints of every kind, so many of each.
func eachKind(t *testing.T, seed uint64, many int, try func(t *testing.T, i int, sec *joints.Section, in joints.Input)) {
	t.Helper()
	t.Parallel()
	for k := range joints.Kinds {
		kind := &joints.Kinds[k]
		t.Run(kind.Name, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(seed, uint64(k)))
			for i := range many {
				sec, in, ok := jointstest.Section(kind, r)
				if !ok {
					t.Fatalf("no joint of kind %s could be built", kind.Name)
				}
				try(t, i, &sec, in)
			}
		})
	}
}

// TestRandomJointsAreClean lays out random joints of every kind and finds no
// text on another text or on a line.
func TestRandomJointsAreClean(t *testing.T) {
	opts := options()
	eachKind(t, 7, count(), func(t *testing.T, i int, sec *joints.Section, in joints.Input) {
		t.Helper()
		job := fullJob(sec)
		for w := range sec.Welds {
			job.Passes = append(job.Passes, sheet.Passes{Weld: sec.Welds[w].ID, Count: (i + w) % 10})
		}
		sheets, err := sheet.Compose(job, opts[i%len(opts)])
		if err != nil {
			t.Fatal(err)
		}
		for n, d := range sheets {
			if err := d.Check(); err != nil {
				t.Errorf("joint %d sheet %d: %v", i, n+1, err)
			}
			for _, v := range rendertest.Lint(d) {
				t.Errorf("joint %d sheet %d: %v\n%+v", i, n+1, v, in)
			}
		}
	})
}

func TestSameInputSameBytes(t *testing.T) {
	t.Parallel()
	for _, e := range examples(t) {
		var prints [2][]byte
		for i := range prints {
			sheets, err := sheet.Compose(e.job, e.o)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range sheets {
				prints[i] = append(prints[i], render.EncodeJSON(d)...)
			}
		}
		if !bytes.Equal(prints[0], prints[1]) {
			t.Errorf("%s: two layouts of the same job differ", e.name)
		}
	}
}
