package filler_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/joints"
	"fay/joints/filler"
	"fay/joints/jointfile"
)

func built(tb testing.TB, line string) *joints.Section {
	tb.Helper()
	words := strings.Fields(line)
	doc, err := jointfile.Read(jointfile.Source{Kind: words[0], Assignments: words[1:]})
	if err != nil {
		tb.Fatal(err)
	}
	return &doc.Section
}

func TestWorkOf(t *testing.T) {
	for line, want := range map[string]filler.Work{
		"tee base=8 stem=6 leg=4":                                                                     {},
		"tee base=8 stem=6 leg=4 sides=both":                                                          {Turns: 1},
		"tee base=8 stem=6 leg=4 prep=bevel bevel-angle=45":                                           {Faces: 1},
		"tee base=8 stem=6 leg=4 sides=both prep=double-bevel bevel-angle=45":                         {Faces: 2, Turns: 1, Gouged: 1},
		"tee base=20 stem=10 leg=5 sides=both prep=double-bevel bevel-angle=45 depth=3 other-depth=3": {Faces: 2, Turns: 1},
		"butt left=6 right=6 root-opening=2 cap=0":                                                    {},
		"butt left=12 right=12 prep=single-v cap=0":                                                   {Faces: 2},
		"butt left=12 right=12 prep=single-bevel root-opening=2 cap=0":                                {Faces: 1},
		"butt left=12 right=12 prep=double-v sides=both cap=0":                                        {Faces: 4, Turns: 1, Gouged: 1},
		"butt left=20 right=20 prep=single-u root-radius=4 cap=0":                                     {Faces: 2},
		"lap lower=6 upper=4 overlap=30 leg=3 sides=both":                                             {Turns: 1},
	} {
		if d := cmp.Diff(want, filler.WorkOf(built(t, line))); d != "" {
			t.Errorf("%s: -want +got\n%s", line, d)
		}
	}
}

// Minutes by hand: two faces and a root along 1.5 m, one turn of each of 4
// parts, and arc time by its share.
func TestWork(t *testing.T) {
	p := filler.Params{DepositedArea: 20, Efficiency: 1, SeamLength: 1500, Quantity: 4, PassArea: 20, TravelSpeed: 100,
		Rates: filler.Rates{Currency: "EUR", Labour: 60, ArcShare: 0.5},
		Work:  filler.Work{EdgeMinPerM: 5, TurnMin: 6, GougeMinPerM: 9, Faces: 2, Turns: 1, Gouged: 1}}
	f, err := filler.New(p)
	if err != nil {
		t.Fatal(err)
	}
	approx := cmpopts.EquateApprox(1e-12, 0)
	want := []filler.WorkLine{
		{Name: "edges", MinPerM: new(10.0), Min: new(15.0), MinTotal: new(60.0)},
		{Name: "turning", MinPerM: new(4.0), Min: new(6.0), MinTotal: new(24.0)},
		{Name: "gouging", MinPerM: new(9.0), Min: new(13.5), MinTotal: new(54.0)},
	}
	if d := cmp.Diff(want, f.Work, approx); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	// 10 min/m of arc at half of the paid time, and 23 min/m besides: at 60 an
	// hour a minute costs 1.
	if d := cmp.Diff([]float64{43, 64.5, 258}, []float64{*f.PaidMinPerM, *f.PaidMin, *f.PaidMinTotal}, approx); d != "" {
		t.Errorf("paid time: -want +got\n%s", d)
	}
	if d := cmp.Diff([]float64{43, 64.5, 258}, []float64{f.Cost.PerM, *f.Cost.PerPart, *f.Cost.Total}, approx); d != "" {
		t.Errorf("cost: -want +got\n%s", d)
	}

	// Without a length a turn is in nothing per metre, and it is said.
	p.SeamLength, p.Quantity = 0, 0
	if f, err = filler.New(p); err != nil {
		t.Fatal(err)
	}
	if f.PaidMinPerM != nil || f.Cost == nil || !cmp.Equal([]string{"filler", "turning"}, f.Cost.NotPriced) {
		t.Errorf("without a length: paid %v, cost %+v", f.PaidMinPerM, f.Cost)
	}

	// What asks for none of it is paid for as well, to be compared.
	p.Work.Faces, p.Work.Turns, p.Work.Gouged = 0, 0, 0
	if f, err = filler.New(p); err != nil {
		t.Fatal(err)
	}
	if f.Work != nil || f.PaidMinPerM == nil || *f.PaidMinPerM != 20 {
		t.Errorf("nothing to prepare: %+v, paid %v", f.Work, f.PaidMinPerM)
	}

	// Nothing is added where the shop gave no times.
	p.Work, p.Rates.ArcShare = filler.Work{Faces: 4, Turns: 1, Gouged: 1}, 0
	if f, err = filler.New(p); err != nil {
		t.Fatal(err)
	}
	if f.Work != nil || f.PaidMinPerM != nil || f.Cost.PerM != 10 {
		t.Errorf("without times: %+v, paid %v, cost %v", f.Work, f.PaidMinPerM, f.Cost.PerM)
	}
}
