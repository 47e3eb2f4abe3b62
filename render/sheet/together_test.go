package sheet_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
	"fay/render/layout"
	"fay/render/rendertest"
	"fay/render/sheet"
	"fay/render/symbol"
)

var severalLost = regexp.MustCompile(`No room for (\d+) of the welding symbols`)

// TestTogetherSaysWhatASectionNeeds lays out a joint of every kind: symbols and
// throats are drawn or the caption speaks of them, filler and findings stand
// under it, and the sheets are filled alike and carry a title block.
func TestTogetherSaysWhatASectionNeeds(t *testing.T) {
	var jobs []sheet.Job
	symbols, throats := 0, 0
	for k := range joints.Kinds {
		r := rand.New(rand.NewPCG(2, uint64(k)))
		sec, _, ok := jointstest.Section(&joints.Kinds[k], r)
		if !ok {
			t.Fatal("no joint could be built")
		}
		job := fullJob(&sec)
		job.Joint, job.Filler = fmt.Sprintf("W%d", k+1), []sheet.Line{{Label: "filler", Value: "5183 ⌀ 2,4 mm"}}
		jobs = append(jobs, job)
		style := sheet.Options{}.Style()
		symbols += len(layout.Symbols(&sec, &style, nil, symbol.Options{}))
	}
	pages, err := sheet.Together(jobs, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	most := (len(jobs) + len(pages) - 1) / len(pages)
	for i, d := range pages {
		for _, v := range rendertest.Lint(d) {
			t.Errorf("sheet %d: %v", i+1, v)
		}
		all, here := "", 0
		roles := map[string]bool{}
		for n := range d.Items {
			it := &d.Items[n]
			if it.Text != nil {
				all += " " + it.Text.Content
			}
			if strings.HasPrefix(it.Role, "symbol") {
				roles[fmt.Sprint(it.View, it.Role)] = true
			}
		}
		for _, j := range jobs {
			if strings.Contains(all, j.Joint+": ") {
				here++
			}
		}
		symbols -= len(roles)
		symbols -= strings.Count(all, "for the welding symbol")
		for _, m := range severalLost.FindAllStringSubmatch(all, -1) {
			n, _ := strconv.Atoi(m[1])
			symbols -= n
		}
		throats += strings.Count(all, "effective throat")
		if here < most-1 || here > most {
			t.Errorf("sheet %d has %d of %d sections on %d sheets", i+1, here, len(jobs), len(pages))
		}
		if n := strings.Count(all, "filler 5183"); n != here {
			t.Errorf("sheet %d: %d fillers for %d sections", i+1, n, here)
		}
		for _, want := range []string{"Canal-boat yard", fmt.Sprintf("%d of %d", i+1, len(pages)), "1 check not met"} {
			if !strings.Contains(all, want) {
				t.Errorf("sheet %d does not say %q", i+1, want)
			}
		}
	}
	if symbols > 0 {
		t.Errorf("%d symbols are neither drawn nor said to be missing", symbols)
	}
	if throats == 0 {
		t.Error("no throat is on the sheets")
	}
}

// TestFirstSheetIsFilled lays out a cross that takes two sheets: the columns under
// its figure are filled with what goes there.
func TestFirstSheetIsFilled(t *testing.T) {
	stem := func(v geometry.Length) *joints.Fillet { return &joints.Fillet{Legs: [2]geometry.Length{v, v}} }
	sec, err := joints.NewCross(joints.Cross{Base: joints.Plate{Thickness: 20},
		Upper: joints.Stem{Plate: joints.Plate{Thickness: 12}, Prep: joints.PrepDoubleBevel, Arrow: stem(4), Other: stem(4)},
		Lower: joints.Stem{Plate: joints.Plate{Thickness: 10}, Prep: joints.PrepDoubleBevel, Arrow: stem(3), Other: stem(3)}})
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := sheet.Compose(fullJob(&sec), sheet.Options{Orientation: sheet.Portrait})
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) < 2 {
		t.Fatal("the joint fits one sheet: take another one")
	}
	tables := map[string]bool{}
	for i := range sheets[0].Items {
		if role := sheets[0].Items[i].Role; strings.HasPrefix(role, "table:") {
			tables[role] = true
		}
	}
	// Welds, fit-up and cautions stood there alone.
	if len(tables) < 5 {
		t.Errorf("the first of %d sheets has only %v", len(sheets), tables)
	}
}
