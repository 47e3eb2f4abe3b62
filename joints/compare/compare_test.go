package compare_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/compare"
	"fay/joints/filler"
	"fay/joints/heat"
)

var approx = cmpopts.EquateApprox(1e-9, 0)

func fillet(leg float64) *joints.Fillet {
	return &joints.Fillet{Legs: [2]geometry.Length{geometry.Length(leg), geometry.Length(leg)}}
}

func section(tb testing.TB, s joints.Section, err error) *joints.Section {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
	return &s
}

// tee of fillets; an other leg of 0 leaves that side open.
func tee(tb testing.TB, base, stem, arrow, other float64) *joints.Section {
	tb.Helper()
	p := joints.Tee{Base: joints.Plate{Thickness: geometry.Length(base)}, Stem: joints.Plate{Thickness: geometry.Length(stem)},
		Angle: 90 * geometry.Degree, StemEnd: joints.StemSquare, Arrow: fillet(arrow)}
	if other > 0 {
		p.Other = fillet(other)
	}
	s, err := joints.NewTee(p)
	return section(tb, s, err)
}

// vee is a butt of equal plates with a V of 60° from one side or from both.
func vee(tb testing.TB, t, opening, rise float64, double bool) *joints.Section {
	tb.Helper()
	half := [2]geometry.Angle{30 * geometry.Degree, 30 * geometry.Degree}
	groove := &joints.Groove{Cap: geometry.Length(rise), CapShape: joints.CapParabola}
	plate := joints.Plate{Thickness: geometry.Length(t)}
	p := joints.Butt{Left: plate, Right: plate, Align: joints.AlignBottom, Prep: joints.PrepSingleV, RootOpening: geometry.Length(opening),
		Flank: joints.Flank{Bevel: half}, Arrow: groove}
	if double {
		p.Prep, p.OtherFlank, p.Other = joints.PrepDoubleV, joints.Flank{Bevel: half}, groove
	}
	s, err := joints.NewButt(p)
	return section(tb, s, err)
}

func used(tb testing.TB, s *joints.Section, rates filler.Rates) *filler.Filler {
	tb.Helper()
	p := filler.Params{Efficiency: 0.98, Density: 2.66, Rod: &filler.Rod{Diameter: 2.4, CutLength: 1000, Stub: 50}, PassArea: 18, TravelSpeed: 200,
		GasFlow: 10, Rates: rates}
	for i := range s.Welds {
		p.Welds = append(p.Welds, filler.Weld{ID: s.Welds[i].ID, Area: s.Welds[i].DepositedArea})
	}
	f, err := filler.New(p)
	if err != nil {
		tb.Fatal(err)
	}
	return &f
}

// random makes options that differ in everything that is ranked.
func random(tb testing.TB, r *rand.Rand) []compare.Option {
	tb.Helper()
	out := make([]compare.Option, 2+r.IntN(6))
	for i := range out {
		o := &out[i]
		o.Name = fmt.Sprint(i)
		switch {
		case i > 0 && r.IntN(6) == 0:
			o.Fault = "the leg runs past the edge"
			continue
		case r.IntN(3) == 0:
			o.Section = vee(tb, 4+10*r.Float64(), 3*r.Float64(), r.Float64(), r.IntN(2) == 0)
		default:
			o.Section = tee(tb, 5+15*r.Float64(), 4+6*r.Float64(), 2+6*r.Float64(), float64(r.IntN(2))*(2+5*r.Float64()))
		}
		// Without a price of filler every cost lacks it; some lack gas as well.
		rates := filler.Rates{Currency: "EUR", Labour: 40, Gas: float64(r.IntN(2)) * 9}
		o.Filler = used(tb, o.Section, rates)
		if r.IntN(2) == 0 {
			o.Filler.Cost.NotPriced = nil
		}
		if p := 500 + 3000*r.Float64(); r.IntN(4) > 0 {
			o.RootArc = &heat.Spread{Low: 0.9 * p, Nominal: p, High: 1.5 * p}
		} else {
			o.NoRootArc = "the metal is not named"
		}
		for k := range r.IntN(4) {
			o.Findings = append(o.Findings, check.Finding{Rule: fmt.Sprintf("rule-%d", k), Verdict: []check.Verdict{check.Met, check.NotMet, check.CannotTell}[r.IntN(3)]})
		}
	}
	return out
}

// Ranking agrees with brute force: of all orders, the one given has every
// alternative behind those that take less, and only those in that keep to the
// constraints, which are looked at here in another way.
func TestRankingByBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	for range 3000 {
		metrics := compare.Metrics()
		q := compare.Request{Options: random(t, r), By: metrics[r.IntN(len(metrics))]}
		q.Constraints = compare.Constraints{OneSide: r.IntN(3) == 0, NoBackGouging: r.IntN(3) == 0, AllMet: r.IntN(4) == 0, MostKgPerM: float64(r.IntN(2)) * 0.15}
		c, err := compare.New(q)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Rows) != len(q.Options) {
			t.Fatalf("%d rows of %d options", len(c.Rows), len(q.Options))
		}
		seen := map[string]bool{}
		for i := range c.Rows {
			row := &c.Rows[i]
			seen[row.Name] = true
			o := &q.Options[slices.IndexFunc(q.Options, func(o compare.Option) bool { return o.Name == row.Name })]
			if row.Best != (row.Rank == 1 && len(row.NotMet) == 0 && row.Values.Of(q.By) != nil && !lacking(row, q.By)) {
				t.Fatalf("best is %v of %+v", row.Best, row)
			}
			if row.Values != nil && (row.NoHeat == "") != (row.Values.Of(compare.RootPower) != nil) {
				t.Fatalf("heat is neither there nor said to be missing: %+v", row)
			}
			if out := breaks(o, &q.Constraints); out != (row.Rank == 0) || out != (len(row.Excluded) > 0) {
				t.Fatalf("%+v: out is %v, row is %+v", q.Constraints, out, row)
			}
			for k := range i {
				before := &c.Rows[k]
				switch {
				case before.Rank == 0 && row.Rank > 0:
					t.Fatal("what is out stands before what is in")
				case row.Rank == 0:
				case row.Rank != i+1 && row.Rank != c.Rows[i-1].Rank, row.Rank < before.Rank:
					t.Fatalf("rank %d at place %d", row.Rank, i+1)
				case (row.Rank == before.Rank) != (len(before.NotMet) > 0 == (len(row.NotMet) > 0) && lacking(before, q.By) == lacking(row, q.By) && alike(value(before, q.By), value(row, q.By))):
					t.Fatalf("%v and %v share rank %d, or do not", value(before, q.By), value(row, q.By), row.Rank)
				case len(before.NotMet) > 0 && len(row.NotMet) == 0:
					t.Fatal("what does not meet a check stands before what meets all")
				case (len(before.NotMet) > 0) == (len(row.NotMet) > 0) && lacking(before, q.By) && !lacking(row, q.By):
					t.Fatal("a cost that lacks a price stands before one that is whole")
				case (len(before.NotMet) > 0) == (len(row.NotMet) > 0) && lacking(before, q.By) == lacking(row, q.By) && value(before, q.By) > value(row, q.By):
					t.Fatalf("%s: %v stands before %v", q.By, value(before, q.By), value(row, q.By))
				}
			}
		}
		if len(seen) != len(q.Options) {
			t.Fatal("an option is lost")
		}
	}
}

// lacking reports whether a row is ranked by a cost without all prices.
func lacking(r *compare.Row, m compare.Metric) bool { return m == compare.Cost && len(r.NotPriced) > 0 }

func alike(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-9*math.Abs(a) }

// value is a metric with the unknown at the end.
func value(r *compare.Row, m compare.Metric) float64 {
	v := r.Values.Of(m)
	switch {
	case v == nil:
		return math.Inf(1)
	case m == compare.Throat:
		return -*v // more is better
	}
	return *v
}

// breaks looks at the constraints through the welds alone.
func breaks(o *compare.Option, c *compare.Constraints) bool {
	if o.Section == nil {
		return true
	}
	_, both := o.Section.Weld("other")
	mass, notMet := 0.0, false
	for i := range o.Section.Welds {
		mass += o.Section.Welds[i].DepositedArea * 2.66 / 0.98 / 1000
	}
	for _, f := range o.Findings {
		notMet = notMet || f.Verdict == check.NotMet
	}
	groove := o.Section.Kind == "butt"
	return c.OneSide && both || c.NoBackGouging && both && groove || c.AllMet && notMet || c.MostKgPerM > 0 && mass > c.MostKgPerM
}

func TestRelative(t *testing.T) {
	options := []compare.Option{{Name: "small", Section: tee(t, 10, 6, 4, 0)}, {Name: "large", Section: tee(t, 10, 6, 6, 0)}}
	for i := range options {
		options[i].Filler = used(t, options[i].Section, filler.Rates{})
	}
	c, err := compare.New(compare.Request{Options: options, Reference: "large", By: compare.Mass})
	if err != nil {
		t.Fatal(err)
	}
	small := c.Rows[0]
	got := []float64{*small.Relative.Area, *small.Relative.Mass, *small.Relative.Rods, *small.Relative.Passes, *c.Rows[1].Relative.Area}
	if d := cmp.Diff([]float64{16.0/36 - 1, 16.0/36 - 1, 16.0/36 - 1, 0, 0}, got, approx); d != "" {
		t.Error("-want +got", d)
	}
	if small.Relative.Cost != nil || small.Relative.Shrinkage != nil {
		t.Error("something is told of what the reference has none of")
	}
}

func TestConstraints(t *testing.T) {
	lap, err := joints.NewLap(joints.Lap{Lower: joints.Plate{Thickness: 6}, Upper: joints.Plate{Thickness: 4}, Overlap: 30, Arrow: fillet(3)})
	if err != nil {
		t.Fatal(err)
	}
	skew, err := joints.NewTee(joints.Tee{Base: joints.Plate{Thickness: 8}, Stem: joints.Plate{Thickness: 4}, Angle: 60 * geometry.Degree, StemEnd: joints.StemFitted, Arrow: fillet(4)})
	if err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct {
		section *joints.Section
		c       compare.Constraints
		out     bool
	}{
		"one side, one weld":             {tee(t, 8, 6, 4, 0), compare.Constraints{OneSide: true}, false},
		"one side, two welds":            {tee(t, 8, 6, 4, 4), compare.Constraints{OneSide: true}, true},
		"gouging of a single V":          {vee(t, 10, 2, 0, false), compare.Constraints{NoBackGouging: true}, false},
		"gouging of a double V":          {vee(t, 10, 2, 0, true), compare.Constraints{NoBackGouging: true}, true},
		"gouging of fillets":             {tee(t, 8, 6, 4, 4), compare.Constraints{NoBackGouging: true}, false},
		"torch in a V of 60°":            {vee(t, 10, 2, 0, false), compare.Constraints{TorchAngle: 60 * geometry.Degree}, false},
		"torch wants more":               {vee(t, 10, 2, 0, false), compare.Constraints{TorchAngle: 61 * geometry.Degree}, true},
		"torch in a tee":                 {tee(t, 8, 6, 4, 0), compare.Constraints{TorchAngle: 90 * geometry.Degree}, false},
		"torch in a leaning tee":         {&skew, compare.Constraints{TorchAngle: 70 * geometry.Degree}, true},
		"edge of 1 mm kept":              {&lap, compare.Constraints{EdgeAllowance: 1}, false},
		"edge of 1.5 mm asked":           {&lap, compare.Constraints{EdgeAllowance: 1.5}, true},
		"no edge to keep":                {vee(t, 10, 2, 0, false), compare.Constraints{EdgeAllowance: 5}, false},
		"most filler, none of it known":  {tee(t, 8, 6, 4, 0), compare.Constraints{MostKgPerM: 1}, true},
		"nothing asked":                  {vee(t, 10, 2, 0, true), compare.Constraints{}, false},
		"all met, and nothing was asked": {tee(t, 8, 6, 4, 0), compare.Constraints{AllMet: true}, false},
	} {
		t.Run(name, func(t *testing.T) {
			c, err := compare.New(compare.Request{Options: []compare.Option{{Name: "it", Section: tt.section}}, By: compare.Area, Constraints: tt.c})
			if err != nil {
				t.Fatal(err)
			}
			if out := len(c.Rows[0].Excluded) > 0; out != tt.out {
				t.Errorf("excluded %q, want %v", c.Rows[0].Excluded, tt.out)
			}
		})
	}
}

// The distortion rules by hand. Their coefficients are from memory.
func TestDistortion(t *testing.T) {
	values := func(s *joints.Section) compare.Values {
		c, err := compare.New(compare.Request{Options: []compare.Option{{Name: "it", Section: s}}, By: compare.Area})
		if err != nil {
			t.Fatal(err)
		}
		return *c.Rows[0].Values
	}
	v := values(vee(t, 10, 2, 0, false))
	if d := cmp.Diff(0.1*(2*10+100*math.Tan(math.Pi/6))/10, *v.Shrinkage, approx); d != "" {
		t.Error("shrinkage: -want +got", d)
	}
	if v.Angle != nil {
		t.Error("a butt has an angular distortion of fillets")
	}
	// 1/4 in fillets on 1/2 in plate.
	v = values(tee(t, 12.7, 6.35, 6.35, 6.35))
	if d := cmp.Diff(0.04*math.Pow(0.25, 1.3)/0.25*180/math.Pi, *v.Angle, approx); d != "" {
		t.Error("angle: -want +got", d)
	}
	if v.Shrinkage != nil {
		t.Error("fillets have the shrinkage of grooves")
	}
	// Two triangles whose centroids lie a third of the leg over the base.
	if d := cmp.Diff(6.35*6.35*(6.35/3+6.35), *v.Moment, approx); d != "" {
		t.Error("moment: -want +got", d)
	}
	for _, r := range compare.Rules() {
		if r.Source == "" || r.Provenance == "" || r.Formula == "" {
			t.Errorf("%s has no papers", r.ID)
		}
	}
}

func TestRequestFaults(t *testing.T) {
	one := compare.Option{Name: "a", Section: tee(t, 8, 6, 4, 0)}
	for name, tt := range map[string]struct {
		r    compare.Request
		want joints.FaultCode
	}{
		"nothing":            {compare.Request{By: compare.Area}, joints.FaultMissing},
		"names alike":        {compare.Request{Options: []compare.Option{one, one}, By: compare.Area}, joints.FaultDuplicate},
		"no such metric":     {compare.Request{Options: []compare.Option{one}, By: "weight"}, joints.FaultUnknown},
		"no such reference":  {compare.Request{Options: []compare.Option{one}, By: compare.Area, Reference: "b"}, joints.FaultUnknown},
		"reference not made": {compare.Request{Options: []compare.Option{{Name: "b", Fault: "no"}, one}, By: compare.Area}, joints.FaultUnfit},
		"torch angle":        {compare.Request{Options: []compare.Option{one}, By: compare.Area, Constraints: compare.Constraints{TorchAngle: geometry.Angle(math.NaN())}}, joints.FaultRange},
		"too many":           {compare.Request{Options: make([]compare.Option, compare.MostOptions+1), By: compare.Area}, joints.FaultRange},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := compare.New(tt.r)
			var faults joints.Faults
			if !errors.As(err, &faults) || !slices.ContainsFunc(faults, func(f joints.Fault) bool { return f.Code == tt.want }) {
				t.Errorf("want %s, got %v", tt.want, err)
			}
		})
	}
}

// Alternatives that come to the same share their rank, and are both the best.
func TestTies(t *testing.T) {
	options := []compare.Option{{Name: "a", Section: tee(t, 8, 6, 4, 0)}, {Name: "b", Section: tee(t, 8, 6, 4, 0)}, {Name: "c", Section: tee(t, 8, 6, 5, 0)}}
	c, err := compare.New(compare.Request{Options: options, By: compare.Area})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		rank int
		best bool
	}{{1, true}, {1, true}, {3, false}} {
		if r := &c.Rows[i]; r.Rank != want.rank || r.Best != want.best {
			t.Errorf("%s: rank %d, best %v", r.Name, r.Rank, r.Best)
		}
	}
}

// A cost that lacks a price is behind one that is whole, never the best, and not
// set against what lacks something else.
func TestIncompleteCost(t *testing.T) {
	rates := filler.Rates{Currency: "EUR", Labour: 40, Gas: 9}
	whole, lacks := tee(t, 8, 6, 6, 0), tee(t, 8, 6, 4, 0)
	full := used(t, whole, rates)
	full.Cost.NotPriced = []string{}
	options := []compare.Option{{Name: "cheap", Section: lacks, Filler: used(t, lacks, rates)}, {Name: "whole", Section: whole, Filler: full}}
	c, err := compare.New(compare.Request{Options: options, By: compare.Cost})
	if err != nil {
		t.Fatal(err)
	}
	first, second := &c.Rows[0], &c.Rows[1]
	if first.Name != "whole" || !first.Best || second.Best || first.Relative.Cost != nil {
		t.Errorf("%s %v, %v; %v over the reference", first.Name, first.Best, second.Best, first.Relative.Cost)
	}
	if !slices.Equal(second.NotPriced, []string{"filler"}) || len(second.CostLines) != 2 || second.CostLines[0].Rate != 40 {
		t.Errorf("lacks %v, holds %v", second.NotPriced, second.CostLines)
	}
	if c, err = compare.New(compare.Request{Options: options[:1], By: compare.Cost}); err != nil || c.Rows[0].Best {
		t.Errorf("a cost without filler is the best, %v", err)
	}
}

// What hangs on a number from memory says so, and what it was reckoned from.
func TestFromMemory(t *testing.T) {
	s := tee(t, 8, 6, 4, 0)
	f := used(t, s, filler.Rates{})
	f.PaceSource = "from memory, unverified [memory]"
	c, err := compare.New(compare.Request{Options: []compare.Option{{Name: "a", Section: s, Filler: f}}, By: compare.Time})
	if err != nil {
		t.Fatal(err)
	}
	r := &c.Rows[0]
	if want := []compare.Metric{compare.Time, compare.Angle}; !slices.Equal(r.FromMemory, want) {
		t.Errorf("want %v, got %v", want, r.FromMemory)
	}
	for _, name := range []string{filler.TakenPass, filler.TakenSpeed, filler.TakenRod} {
		if !slices.ContainsFunc(r.Taken, func(v filler.Taken) bool { return v.Name == name && v.Value > 0 }) {
			t.Errorf("%s is not told: %v", name, r.Taken)
		}
	}
}

func BenchmarkCompare(b *testing.B) {
	q := compare.Request{Options: random(b, rand.New(rand.NewPCG(1, 1))), By: compare.Area}
	for b.Loop() {
		if _, err := compare.New(q); err != nil {
			b.Fatal(err)
		}
	}
}
