package filler_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
	"fay/joints/filler"
	"fay/joints/jointfile"
)

// A gangway knee of two welds on two seams, everything asked for.
func full() filler.Params {
	return filler.Params{
		Welds:      []filler.Weld{{ID: "arrow", Area: 20}, {ID: "other", Area: 12}},
		Runs:       []filler.Run{{1, "arrow", 300, 6000}, {1, "other", 300, 3600}, {2, "arrow", 100, 2100}},
		Quantity:   10,
		Efficiency: 0.98, Density: 2.66, DensitySource: "sheet",
		Rod:        &filler.Rod{Diameter: 2.4, CutLength: 1000, Stub: 50},
		Allowances: filler.Allowances{Oversize: 0.21, Tack: 0.04, Waste: 0.1},
		PassArea:   18, PassAreaSource: "common practice, no source",
		TravelSpeed: 200, TravelSpeedSource: "trials", GasFlow: 10, GasFlowSource: "trials", Cylinder: 10,
		Packs: []filler.Pack{{Label: "2.5 kg tube", Mass: 2.5, Price: 49}, {Label: "0.4 kg tube", Mass: 0.4, Price: 14}},
		Rates: filler.Rates{Currency: "EUR", Labour: 40, Gas: 8, ArcShare: 0.4},
	}
}

// Worked by hand: the volume of a part is 11.7 cm³.
func TestWorkedByHand(t *testing.T) {
	f := mustNew(t, full())
	within := func(name string, want float64, got *float64) {
		t.Helper()
		if got == nil || math.Abs(*got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s: want %v, got %v", name, want, deref(got))
		}
	}
	within("volume", 11.7, f.VolumeCm3PerSeam)
	within("deposited", 11.7*2.66/1000, f.DepositedKgPerSeam)
	within("consumed", 11.7*2.66/1000*1.25/0.98, f.ConsumedKgPerSeam)
	within("bought", 11.7*2.66/1000*1.25/0.98/0.95*1.1, f.BoughtKgPerSeam)
	// 20 mm² and a fifth take two passes of 18, 12 mm² one.
	if *f.Passes != 3 || *f.Welds[0].Passes != 2 || *f.Welds[1].Passes != 1 {
		t.Errorf("passes %d: %d and %d, want 3: 2 and 1", *f.Passes, *f.Welds[0].Passes, *f.Welds[1].Passes)
	}
	within("arc time per metre", 15, f.ArcTimeMinPerM)
	within("arc time of a part", (400*2+300*1)/200.0, f.ArcTimeMin)
	within("arc time in all", 55, f.ArcTimeMinTotal)
	within("gas", 0.55, f.GasM3Total)
	within("cylinders", 0.055, f.Cylinders)
	rod := math.Pi * 1.2 * 1.2 * 1000 * 2.66 / 1e6 // kg
	rods := 10 * 11.7e3 * 1.25 / 0.98 * 1.1 / (math.Pi * 1.2 * 1.2 * 950)
	if want := int(math.Ceil(rods)); *f.RodsTotal != want {
		t.Errorf("want %d rods, got %d", want, *f.RodsTotal)
	}
	// 39 rods weigh 0.47 kg: one tube of 2.5 kg at 49 costs more than two of 0.4 kg at 14.
	want := &filler.Packs{Pack: "0.4 kg tube", PackKg: 0.4, Count: 2, BoughtKg: 0.8, PackPrice: new(14.0), Price: new(28.0)}
	if d := cmp.Diff(want, f.Packs, approx); d != "" {
		t.Errorf("packs for %v kg: -want +got %s", math.Ceil(rods)*rod, d)
	}
	within("filler cost", *f.BoughtKgTotal*14/0.4, f.Cost.Lines[0].Total)
	within("labour", 55.0/60/0.4*40, f.Cost.Lines[1].Total)
	within("gas cost", 0.55*8, f.Cost.Lines[2].Total)
	within("cost of a part", *f.Cost.Total/10, f.Cost.PerPart)
}

func deref(v *float64) any {
	if v == nil {
		return "nothing"
	}
	return *v
}

// Nothing is lost between welds, seams, the part and the batch.
func TestBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	near := cmpopts.EquateApprox(1e-9, 0)
	for range 2000 {
		p := randomFull(r)
		f := mustNew(t, p)
		var area, kg, rods, minutes, seamKg, seamMinutes, length, bought float64
		for _, w := range f.Welds {
			area += w.DepositedAreaMM2
			if w.DepositedKg == nil {
				continue // no run of it
			}
			kg, rods, minutes, bought = kg+*w.DepositedKg, rods+*w.Rods, minutes+*w.ArcTimeMin, bought+*w.BoughtKg
		}
		for _, s := range f.Seams {
			seamKg, seamMinutes, length = seamKg+*s.DepositedKg, seamMinutes+*s.ArcTimeMin, length+*s.LengthMM
		}
		var volume, runs float64
		for _, run := range p.Runs {
			volume, runs = volume+run.Volume, runs+float64(run.Length)
		}
		got := []float64{area, kg, seamKg, rods, bought, minutes, seamMinutes, length, *f.DepositedKgTotal, *f.DepositedKgPerSeam}
		want := []float64{f.DepositedAreaMM2, *f.DepositedKgPerSeam, *f.DepositedKgPerSeam, *f.RodsPerSeam, *f.BoughtKgPerSeam,
			*f.ArcTimeMin, *f.ArcTimeMin, runs, *f.DepositedKgPerSeam * float64(p.Quantity), volume * p.Density / 1e6}
		if d := cmp.Diff(want, got, near); d != "" {
			t.Fatalf("%+v: -want +got %s", p, d)
		}
	}
}

// The packs hold what is needed, and one fewer would not.
func TestPacksAreEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	for i := range 4000 {
		p := randomFull(r)
		if i%2 == 0 {
			p.Rod, p.Wire = nil, &filler.Wire{Diameter: 1.2}
		}
		f := mustNew(t, p)
		need := *f.BoughtKgTotal
		if f.RodsTotal != nil {
			// Whole rods, not parts of them, come out of a tube.
			need = float64(*f.RodsTotal) * math.Pi / 4 * math.Pow(float64(p.Rod.Diameter), 2) * float64(p.Rod.CutLength) * p.Density / 1e6
		}
		k := f.Packs
		if k.BoughtKg < need*(1-1e-9) || *f.BoughtKgTotal > need*(1+1e-9) {
			t.Fatalf("%d × %v kg for %v kg (%v)", k.Count, k.PackKg, need, *f.BoughtKgTotal)
		}
		if k.Count > 1 && float64(k.Count-1)*k.PackKg >= need {
			t.Fatalf("%d × %v kg for %v kg: one too many", k.Count, k.PackKg, need)
		}
		// Brute force: no other pack is cheaper.
		for _, other := range p.Packs {
			n := 1.0
			for n*other.Mass < need*(1-1e-9) {
				n++
			}
			if n*other.Price < *k.Price*(1-1e-9) {
				t.Fatalf("%v of %v kg at %v are cheaper than %+v", n, other.Mass, other.Price, k)
			}
		}
	}
}

func randomFull(r *rand.Rand) filler.Params {
	p := full()
	p.Density, p.Efficiency, p.Quantity = 1.5+7*r.Float64(), 0.5+0.5*r.Float64(), 1+r.IntN(500)
	for i := range p.Welds {
		p.Welds[i].Area = 1 + 100*r.Float64()
	}
	p.Runs = nil
	for seam := 1; seam <= 1+r.IntN(4); seam++ {
		for _, w := range p.Welds {
			if r.IntN(4) > 0 || seam == 1 && w.ID == "arrow" {
				l := 10 + 1000*r.Float64()
				p.Runs = append(p.Runs, filler.Run{Seam: seam, Weld: w.ID, Length: geometry.Length(l), Volume: l * w.Area * (0.9 + 0.2*r.Float64())})
			}
		}
	}
	p.Allowances = filler.Allowances{Oversize: r.Float64() / 2, Tack: r.Float64() / 10, Waste: r.Float64() / 5}
	p.Rod.Diameter, p.Rod.Stub = geometry.Length(1+4*r.Float64()), geometry.Length(100*r.Float64())
	return p
}

// An allowance that is zero adds nothing and is not mentioned.
func TestAllowances(t *testing.T) {
	p := full()
	p.Allowances = filler.Allowances{}
	plain := mustNew(t, p)
	if plain.OversizeAllowance != nil || plain.TackAllowance != nil || plain.WasteAllowance != nil {
		t.Error("allowances of zero are mentioned")
	}
	for name, tt := range map[string]struct {
		a                        filler.Allowances
		consumed, bought, passes float64 // times the plain ones
	}{
		"oversize":               {filler.Allowances{Oversize: 0.1}, 1.1, 1.1, 3.0 / 3},
		"tack":                   {filler.Allowances{Tack: 0.1}, 1.1, 1.1, 3.0 / 3},
		"waste":                  {filler.Allowances{Waste: 0.1}, 1, 1.1, 3.0 / 3},
		"oversize beyond a pass": {filler.Allowances{Oversize: 0.9}, 1.9, 1.9, 5.0 / 3}, // 38 and 22.8 mm²
	} {
		t.Run(name, func(t *testing.T) {
			p.Allowances = tt.a
			f := mustNew(t, p)
			want := []float64{*plain.DepositedKgPerM, tt.consumed * *plain.ConsumedKgPerM, tt.bought * *plain.BoughtKgPerM, tt.bought * *plain.RodsPerM,
				tt.passes * float64(*plain.Passes), tt.passes * *plain.ArcTimeMinPerM, *plain.RodFeedRatio}
			got := []float64{*f.DepositedKgPerM, *f.ConsumedKgPerM, *f.BoughtKgPerM, *f.RodsPerM, float64(*f.Passes), *f.ArcTimeMinPerM, *f.RodFeedRatio}
			switch name {
			case "oversize":
				want[6] *= 1.1 // the hand feeds what is laid
			case "oversize beyond a pass":
				want[5], got[5] = 0, 0 // not the same share in every weld
				want[6], got[6] = 0, 0
			}
			if d := cmp.Diff(want, got, approx); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
}

// A deposition rate takes the place of travel speed: time is then a matter of
// mass, and tacks count.
func TestDepositionRate(t *testing.T) {
	p := full()
	p.DepositionRate, p.DepositionRateSource = 0.6, "trials"
	f := mustNew(t, p)
	if d := cmp.Diff(32*2.66/1000*1.25/0.6*60, *f.ArcTimeMinPerM, approx); d != "" {
		t.Error("-want +got", d)
	}
	if f.TravelSpeedMMPerMin != nil || *f.DepositionRateKgPerH != 0.6 || f.PaceSource != "trials" {
		t.Errorf("pace %v, %v, %s", f.TravelSpeedMMPerMin, f.DepositionRateKgPerH, f.PaceSource)
	}
	p.Density = 0 // a rate of mass says nothing without a density
	if f := mustNew(t, p); f.DepositionRateKgPerH != nil || *f.TravelSpeedMMPerMin != 200 {
		t.Error("a deposition rate was used without a density")
	}
}

// Without prices there is no cost, and no line is made up.
func TestCostOnlyFromOwnPrices(t *testing.T) {
	p := full()
	p.Rates = filler.Rates{}
	for i := range p.Packs {
		p.Packs[i].Price = 0
	}
	if f := mustNew(t, p); f.Cost != nil || f.Packs.Price != nil || f.Packs.Pack != "2.5 kg tube" {
		t.Errorf("cost %+v, packs %+v", f.Cost, f.Packs)
	}
	p.Rates = filler.Rates{Currency: "EUR", Gas: 8}
	f := mustNew(t, p)
	if d := cmp.Diff([]string{"filler", "labour"}, f.Cost.NotPriced); d != "" {
		t.Error("not priced: -want +got", d)
	}
	if len(f.Cost.Lines) != 1 || f.Cost.PerM != f.Cost.Lines[0].PerM {
		t.Errorf("lines %+v", f.Cost.Lines)
	}
}

func TestOneOver(t *testing.T) {
	p := full()
	p.Allowances = filler.Allowances{}
	p.Over = &filler.Over{Step: 1, What: "legs", Welds: []filler.Weld{{"arrow", 26}, {"other", 17}},
		Runs: []filler.Run{{1, "arrow", 300, 7800}, {1, "other", 300, 5100}, {2, "arrow", 100, 2700}}}
	f := mustNew(t, p)
	o := f.OneOver
	larger := p
	larger.Welds, larger.Runs, larger.Over = p.Over.Welds, p.Over.Runs, nil
	g := mustNew(t, larger)
	// The rod is fed as fast as planned: the arrow weld takes 26/20 of its time,
	// two passes at 200 mm/min over 400 mm, the other one 17/12 of one over 300.
	minutes := 10 * (4*(26.0/20-1) + 1.5*(17.0/12-1))
	gas, kg := minutes*10/1000, 10*(*g.BoughtKgPerSeam-*f.BoughtKgPerSeam)
	want := []float64{43, 11.0 / 32, *g.ConsumedKgPerM - *f.ConsumedKgPerM, *g.RodsPerM - *f.RodsPerM, 10 * (*g.ConsumedKgPerSeam - *f.ConsumedKgPerSeam),
		minutes, kg*14/0.4 + minutes/60/0.4*40 + gas*8, kg}
	got := []float64{*o.DepositedAreaMM2, *o.MoreShare, *o.ConsumedKgPerM, *o.RodsPerM, *o.ConsumedKgTotal, *o.ArcTimeMinTotal, *o.CostTotal, *o.BoughtKgTotal}
	if d := cmp.Diff(want, got, cmpopts.EquateApprox(1e-9, 0)); d != "" || !o.TimeEstimated {
		t.Errorf("estimated %v: -want +got %s", o.TimeEstimated, d)
	}
	// A deposition rate tells the time of more metal by itself.
	p.DepositionRate = 0.6
	if o := mustNew(t, p).OneOver; o.TimeEstimated || math.Abs(*o.ArcTimeMinTotal-10*3.9*2.66/1000/0.6*60) > 1e-9 {
		t.Errorf("by deposition rate: %v min, estimated %v", *o.ArcTimeMinTotal, o.TimeEstimated)
	}
	p.Over = &filler.Over{Step: 1, None: "the edge is consumed"}
	if d := cmp.Diff(&filler.OneOver{StepMM: 1, None: "the edge is consumed"}, mustNew(t, p).OneOver); d != "" {
		t.Error("-want +got", d)
	}
}

func TestWorkFaults(t *testing.T) {
	type fault struct {
		Code  joints.FaultCode
		Field string
	}
	for name, tt := range map[string]struct {
		change func(p *filler.Params)
		want   []fault
	}{
		"price without a currency": {func(p *filler.Params) { p.Rates = filler.Rates{Labour: 40}; p.Packs = nil }, []fault{{joints.FaultMissing, "cost.currency"}}},
		"pack price without a currency": {func(p *filler.Params) { p.Rates = filler.Rates{}; p.Packs = p.Packs[:1] },
			[]fault{{joints.FaultMissing, "cost.currency"}}},
		"price not a number": {func(p *filler.Params) { p.Packs = p.Packs[:1]; p.Packs[0].Price = math.Inf(1) }, []fault{{joints.FaultNotNumber, "price"}}},
		"negative waste":     {func(p *filler.Params) { p.Allowances.Waste = -0.1 }, []fault{{joints.FaultRange, "allowances.waste"}}},
		"waste in per cent":  {func(p *filler.Params) { p.Allowances.Waste = 10 }, []fault{{joints.FaultRange, "allowances.waste"}}},
		"pass of a hair":     {func(p *filler.Params) { p.PassArea = 0.1 }, []fault{{joints.FaultRange, "pass-area"}}},
		"speed in m/min":     {func(p *filler.Params) { p.TravelSpeed = 0.2 }, []fault{{joints.FaultRange, "travel-speed"}}},
		"flow in L/h":        {func(p *filler.Params) { p.GasFlow = 600 }, []fault{{joints.FaultRange, "gas-flow"}}},
		"empty cylinder":     {func(p *filler.Params) { p.Cylinder = -1 }, []fault{{joints.FaultRange, "gas.cylinder"}}},
		"pack of nothing":    {func(p *filler.Params) { p.Packs[1].Mass = 0 }, []fault{{joints.FaultRange, "pack"}}},
		"arc share in %":     {func(p *filler.Params) { p.Rates.ArcShare = 40 }, []fault{{joints.FaultRange, "cost.arc-share"}}},
		"area twice":         {func(p *filler.Params) { p.DepositedArea = 32 }, []fault{{joints.FaultConflict, "area"}}},
		"length twice":       {func(p *filler.Params) { p.SeamLength = 300 }, []fault{{joints.FaultConflict, "seam.length"}}},
		"run of no weld":     {func(p *filler.Params) { p.Runs[0].Weld = "inside" }, []fault{{joints.FaultUnknown, "seams.1"}}},
		"runs without welds": {func(p *filler.Params) { p.Welds = nil }, []fault{{joints.FaultRange, "area"}, {joints.FaultMissing, "welds"}}},
		"weld not a number":  {func(p *filler.Params) { p.Welds[0].Area = math.NaN() }, []fault{{joints.FaultNotNumber, "welds.arrow"}}},
		"step of nothing":    {func(p *filler.Params) { p.Over = &filler.Over{Welds: p.Welds} }, []fault{{joints.FaultRange, "over.step"}}},
	} {
		t.Run(name, func(t *testing.T) {
			p := full()
			tt.change(&p)
			_, err := filler.New(p)
			var faults joints.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("want faults, got %v", err)
			}
			var got []fault
			for _, f := range faults {
				got = append(got, fault{f.Code, f.Field})
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
}

// tee builds a tee by the names of a joint file.
func tee(t *testing.T, base, stem float64, welds map[string]map[string]joints.Value) (joints.Input, joints.Section) {
	t.Helper()
	number := func(v float64) joints.Value { return joints.Value{Text: "given", Number: v} }
	in := joints.Input{Kind: "tee", Plates: map[string]joints.PlateInput{"base": {Thickness: number(base)}, "stem": {Thickness: number(stem)}}, Welds: welds}
	s, err := joints.Build(in)
	if err != nil {
		t.Fatal(err)
	}
	return in, s
}

func TestOneSizeOver(t *testing.T) {
	leg := func(v float64) map[string]joints.Value {
		return map[string]joints.Value{"leg": {Text: "given", Number: v}}
	}
	for name, tt := range map[string]struct {
		welds map[string]map[string]joints.Value
		want  float64 // deposited, mm²
		what  string
	}{
		"one weld":    {map[string]map[string]joints.Value{"arrow": leg(4)}, 12.5, "legs of the arrow weld larger"},
		"two welds":   {map[string]map[string]joints.Value{"arrow": leg(4), "other": leg(3)}, 12.5 + 8, "legs of the arrow and other welds larger"},
		"from throat": {map[string]map[string]joints.Value{"arrow": {"throat": {Text: "given", Number: 4 * math.Sqrt2 / 2}}}, 12.5, "legs of the arrow weld larger"},
	} {
		t.Run(name, func(t *testing.T) {
			in, s := tee(t, 8, 6, tt.welds)
			before := fmt.Sprintf("%+v", in)
			got, what, err := filler.OneSizeOver(in, &s, 1)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tt.want, got.DepositedArea(), approx); d != "" || what != tt.what {
				t.Errorf("%s: -want +got %s", what, d)
			}
			if fmt.Sprintf("%+v", in) != before {
				t.Error("the planned joint was changed")
			}
		})
	}
}

// A leg on the edge of a thin upper plate cannot grow: the other one does.
func TestOneSizeOverOnAnEdge(t *testing.T) {
	number := func(v float64) joints.Value { return joints.Value{Text: "given", Number: v} }
	in := joints.Input{Kind: "lap",
		Plates: map[string]joints.PlateInput{"lower": {Thickness: number(8)}, "upper": {Thickness: number(4)}},
		Values: map[string]joints.Value{"overlap": number(30)},
		Welds:  map[string]map[string]joints.Value{"arrow": {"leg": number(4)}}}
	s, err := joints.Build(in)
	if err != nil {
		t.Fatal(err)
	}
	got, what, err := filler.OneSizeOver(in, &s, 1)
	if err != nil {
		t.Fatal(err)
	}
	if legs := got.Welds[0].Feet; float64(legs[0].Leg)+float64(legs[1].Leg) <= 8 || what == "" {
		t.Errorf("%s: legs %v and %v", what, legs[0].Leg, legs[1].Leg)
	}
}

// Every kind has a joint one size over, or says why not.
func TestOneSizeOverEveryKind(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			words := strings.Fields(k.Example)
			doc, err := jointfile.Read(jointfile.Source{Kind: words[0], Assignments: words[1:]})
			if err != nil {
				t.Fatal(err)
			}
			s := &doc.Section
			larger, what, err := filler.OneSizeOver(doc.Input, s, 1)
			if err != nil {
				return
			}
			if what == "" || larger.DepositedArea() <= s.DepositedArea() {
				t.Errorf("%q: %v mm² after %v", what, larger.DepositedArea(), s.DepositedArea())
			}
		})
	}
}

func BenchmarkFull(b *testing.B) {
	p := full()
	p.Over = &filler.Over{Step: 1, What: "legs", Welds: p.Welds, Runs: p.Runs}
	for b.Loop() {
		if _, err := filler.New(p); err != nil {
			b.Fatal(err)
		}
	}
}
