package filler_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
	"fay/joints/filler"
)

var approx = cmpopts.EquateApprox(1e-12, 0)

// A davit foot of 5183 rod, worked by hand: 18 mm² on 180 mm, 16 parts, 2.4 mm
// rod of 1000 mm with 50 mm stubs, 98 %, 2.66 g/cm³.
func TestWholeResult(t *testing.T) {
	f := mustNew(t, filler.Params{
		DepositedArea: 18, Efficiency: 0.98, EfficiencySource: "trade page", Density: 2.66, DensitySource: "data sheet",
		Rod: &filler.Rod{Diameter: 2.4, CutLength: 1000, Stub: 50}, SeamLength: 180, Quantity: 16,
	})
	rod := math.Pi * 1.2 * 1.2 // mm²
	want := filler.Filler{
		DepositedAreaMM2: 18, VolumeCm3PerM: 18,
		DensityGPerCm3: new(2.66), DensitySource: "data sheet", Efficiency: 0.98, EfficiencySource: "trade page",
		DepositedKgPerM: new(0.04788), ConsumedKgPerM: new(0.04788 / 0.98), BoughtKgPerM: new(0.04788 / 0.931),
		VolumeCm3PerSeam: new(3.24), VolumeCm3Total: new(51.84), DepositedKgPerSeam: new(0.0086184), ConsumedKgPerSeam: new(0.0086184 / 0.98),
		BoughtKgPerSeam: new(0.0086184 / 0.931), BoughtKgTotal: new(0.1378944 / 0.931),
		OverallEfficiency: 0.931,
		DepositedKgTotal:  new(0.1378944), ConsumedKgTotal: new(0.1378944 / 0.98),
		RodDiameterMM: new(2.4), RodLengthMM: new(1000.0), RodUsableMM: new(950.0), RodStubMM: new(50.0), RodStubFused: new(false),
		RodFeedRatio: new(18 / rod), RodsPerM: new(18000 / rod / 0.98 / 950), RodsPerSeam: new(3240 / rod / 0.98 / 950),
		RodsTotal: new(13), // 12.31
	}
	if d := cmp.Diff(want, f, approx); d != "" {
		t.Error("-want +got", d)
	}
}

func TestAbsentIsAbsent(t *testing.T) {
	rod := &filler.Rod{Diameter: 2.4, CutLength: 1000, Stub: 50}
	for name, tt := range map[string]struct {
		p    filler.Params
		want string
	}{
		"area only": {filler.Params{DepositedArea: 10, Efficiency: 1},
			"deposited_area_mm2 volume_cm3_per_m efficiency overall_efficiency"},
		"mass": {filler.Params{DepositedArea: 10, Efficiency: 1, Density: 2.66},
			"deposited_area_mm2 volume_cm3_per_m density_g_per_cm3 efficiency deposited_kg_per_m consumed_kg_per_m bought_kg_per_m overall_efficiency"},
		"rods without density": {filler.Params{DepositedArea: 10, Efficiency: 1, Rod: rod, SeamLength: 100, Quantity: 1},
			"deposited_area_mm2 volume_cm3_per_m efficiency volume_cm3_per_seam volume_cm3_total overall_efficiency rod_diameter_mm rod_length_mm rod_stub_mm rod_stub_fused rod_usable_mm rod_feed_ratio rods_per_m rods_per_seam rods_total"},
		"wire": {filler.Params{DepositedArea: 10, Efficiency: 1, Wire: &filler.Wire{Diameter: 1}, SeamLength: 100, Quantity: 2},
			"deposited_area_mm2 volume_cm3_per_m efficiency volume_cm3_per_seam volume_cm3_total overall_efficiency wire_diameter_mm wire_m_per_m wire_m_per_seam wire_m_total"},
	} {
		t.Run(name, func(t *testing.T) {
			text, err := json.Marshal(mustNew(t, tt.p))
			if err != nil {
				t.Fatal(err)
			}
			var fields map[string]any
			if err := json.Unmarshal(text, &fields); err != nil {
				t.Fatal(err)
			}
			want := map[string]bool{}
			for key := range strings.FieldsSeq(tt.want) {
				want[key] = true
			}
			got := map[string]bool{}
			for key, v := range fields {
				got[key] = v != nil
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
}

// A fused stub is melted like the rest of the rod.
func TestStubs(t *testing.T) {
	p := filler.Params{DepositedArea: 20, Efficiency: 0.98, Density: 2.66, Rod: &filler.Rod{Diameter: 3.2, CutLength: 1000, Stub: 80}}
	thrown := mustNew(t, p)
	p.Rod.StubFusedOn = true
	fused := mustNew(t, p)
	p.Rod = &filler.Rod{Diameter: 3.2, CutLength: 1000}
	none := mustNew(t, p)
	stub := cmpopts.IgnoreFields(filler.Filler{}, "RodStubMM", "RodStubFused")
	if d := cmp.Diff(none, fused, approx, stub); d != "" {
		t.Error("fused stubs count like none: -want +got", d)
	}
	if d := cmp.Diff(*none.RodsPerM/0.92, *thrown.RodsPerM, approx); d != "" {
		t.Error("-want +got", d)
	}
	if d := cmp.Diff(none.ConsumedKgPerM, thrown.ConsumedKgPerM, approx); d != "" {
		t.Error("stubs are not consumed: -want +got", d)
	}
}

func TestWholeRods(t *testing.T) {
	// A rod that is worth exactly 100 mm of weld: area ratio 10, 1000 mm.
	section := math.Pi / 4 * 2.4 * 2.4
	for name, tt := range map[string]struct {
		seam     geometry.Length
		quantity int
		want     int
	}{
		"exact":              {100, 3, 3},
		"a hair more":        {100.001, 3, 4},
		"a hair less":        {99.999, 3, 3},
		"thirds add up":      {100.0 / 3, 3, 1},
		"shared among parts": {30, 10, 3},
		"one short seam":     {1, 1, 1},
	} {
		t.Run(name, func(t *testing.T) {
			f := mustNew(t, filler.Params{DepositedArea: 10 * section, Efficiency: 1,
				Rod: &filler.Rod{Diameter: 2.4, CutLength: 1000}, SeamLength: tt.seam, Quantity: tt.quantity})
			if *f.RodsTotal != tt.want {
				t.Errorf("want %d rods, got %d (%v a seam)", tt.want, *f.RodsTotal, *f.RodsPerSeam)
			}
		})
	}
}

// Parts that share whole rods evenly take no rod more for rounding.
func TestSharedRods(t *testing.T) {
	section := math.Pi / 4 * 2.4 * 2.4
	for parts := 1; parts <= 300; parts++ {
		for rods := 1; rods <= 7; rods++ {
			f := mustNew(t, filler.Params{DepositedArea: section, Efficiency: 1, Rod: &filler.Rod{Diameter: 2.4, CutLength: 1000},
				SeamLength: geometry.Length(1000*rods) / geometry.Length(parts), Quantity: parts})
			if *f.RodsTotal != rods {
				t.Fatalf("%d parts: want %d rods, got %d", parts, rods, *f.RodsTotal)
			}
		}
	}
}

func TestFaults(t *testing.T) {
	good := filler.Params{DepositedArea: 20, Efficiency: 0.98}
	type fault struct {
		Code  joints.FaultCode
		Field string
	}
	for name, tt := range map[string]struct {
		change func(p *filler.Params)
		want   []fault
	}{
		"nothing to lay":    {func(p *filler.Params) { p.DepositedArea = 0 }, []fault{{joints.FaultRange, "area"}}},
		"area not a number": {func(p *filler.Params) { p.DepositedArea = math.NaN() }, []fault{{joints.FaultNotNumber, "area"}}},
		"no efficiency":     {func(p *filler.Params) { p.Efficiency = 0 }, []fault{{joints.FaultRange, "efficiency"}}},
		"efficiency in %":   {func(p *filler.Params) { p.Efficiency = 98 }, []fault{{joints.FaultRange, "efficiency"}}},
		"density of 0.283":  {func(p *filler.Params) { p.Density = 0.283 }, []fault{{joints.FaultRange, "density"}}},
		"density in kg/m³":  {func(p *filler.Params) { p.Density = 2660 }, []fault{{joints.FaultRange, "density"}}},
		"density infinite":  {func(p *filler.Params) { p.Density = math.Inf(1) }, []fault{{joints.FaultNotNumber, "density"}}},
		"rod shorter than stub": {func(p *filler.Params) { p.Rod = &filler.Rod{Diameter: 2, CutLength: 100, Stub: 120} },
			[]fault{{joints.FaultConflict, "rod.stub"}}},
		"nothing left to feed": {func(p *filler.Params) { p.Rod = &filler.Rod{Diameter: 2, CutLength: 100, Stub: 91} },
			[]fault{{joints.FaultConflict, "rod.stub"}}},
		"empty rod": {func(p *filler.Params) { p.Rod = &filler.Rod{} },
			[]fault{{joints.FaultRange, "rod.diameter"}, {joints.FaultRange, "rod.length"}}},
		"negative stub": {func(p *filler.Params) { p.Rod = &filler.Rod{Diameter: 2, CutLength: 100, Stub: -1} },
			[]fault{{joints.FaultRange, "rod.stub"}}},
		"rod and wire": {func(p *filler.Params) {
			p.Rod, p.Wire = &filler.Rod{Diameter: 2, CutLength: 100}, &filler.Wire{Diameter: 1}
		}, []fault{{joints.FaultConflict, "wire"}}},
		"wire as thick as a bar": {func(p *filler.Params) { p.Wire = &filler.Wire{Diameter: 20} }, []fault{{joints.FaultRange, "wire.diameter"}}},
		"quantity without seam":  {func(p *filler.Params) { p.Quantity = 3 }, []fault{{joints.FaultMissing, "seam.length"}}},
		"negative quantity":      {func(p *filler.Params) { p.Quantity, p.SeamLength = -1, 100 }, []fault{{joints.FaultRange, "quantity"}}},
		"negative seam":          {func(p *filler.Params) { p.SeamLength = -5 }, []fault{{joints.FaultRange, "seam.length"}}},
		"all at once": {func(p *filler.Params) {
			*p = filler.Params{DepositedArea: -1, Efficiency: 2, Density: 30, SeamLength: geometry.Length(math.NaN()), Quantity: 1}
		}, []fault{{joints.FaultRange, "area"}, {joints.FaultRange, "efficiency"}, {joints.FaultRange, "density"}, {joints.FaultNotNumber, "seam.length"}}},
	} {
		t.Run(name, func(t *testing.T) {
			p := good
			tt.change(&p)
			_, err := filler.New(p)
			var faults joints.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("want faults, got %v", err)
			}
			got := make([]fault, 0, len(faults))
			for _, f := range faults {
				got = append(got, fault{f.Code, f.Field})
				if f.Rule == "" || f.Remedy == "" {
					t.Errorf("%v: no rule or remedy", f)
				}
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
}

// The volume melted off all rods, times what is deposited of it, is the volume
// of the weld: the chain run backwards.
func TestVolumeIsKept(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for range 2000 {
		p := random(r)
		f := mustNew(t, p)
		melted := *f.RodsPerSeam * *f.RodUsableMM * math.Pi / 4 * math.Pow(float64(p.Rod.Diameter), 2)
		if d := cmp.Diff(p.DepositedArea*float64(p.SeamLength), melted*p.Efficiency, cmpopts.EquateApprox(1e-9, 0)); d != "" {
			t.Fatalf("%+v: -want +got %s", p, d)
		}
		// The mass bought is the mass of the rods, stubs included.
		mass := *f.RodsPerSeam * float64(p.Rod.CutLength) * math.Pi / 4 * math.Pow(float64(p.Rod.Diameter), 2) * p.Density / 1e6
		if d := cmp.Diff(mass, *f.BoughtKgPerSeam, cmpopts.EquateApprox(1e-9, 0)); d != "" {
			t.Fatalf("%+v: -want +got %s", p, d)
		}
		if rods := *f.RodsPerSeam * float64(p.Quantity); float64(*f.RodsTotal) < rods*(1-1e-9) || float64(*f.RodsTotal) >= rods+1 {
			t.Fatalf("%+v: %d whole rods for %v", p, *f.RodsTotal, rods)
		}
	}
}

// More of anything that costs filler never takes less of it.
func TestMoreTakesMore(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 9))
	for range 2000 {
		p := random(r)
		base := mustNew(t, p)
		for name, change := range map[string]func(p *filler.Params){
			"area":       func(p *filler.Params) { p.DepositedArea *= 1.01 },
			"efficiency": func(p *filler.Params) { p.Efficiency *= 0.99 },
			"stub":       func(p *filler.Params) { p.Rod.Stub++ },
			"seam":       func(p *filler.Params) { p.SeamLength++ },
			"parts":      func(p *filler.Params) { p.Quantity++ },
		} {
			more := p
			rod := *p.Rod
			more.Rod = &rod
			change(&more)
			f := mustNew(t, more)
			if *f.RodsTotal < *base.RodsTotal || *f.BoughtKgTotal < *base.BoughtKgTotal*(1-1e-12) {
				t.Fatalf("more %s: %d rods after %d, %v kg after %v: %+v", name, *f.RodsTotal, *base.RodsTotal, *f.BoughtKgTotal, *base.BoughtKgTotal, p)
			}
		}
	}
}

func random(r *rand.Rand) filler.Params {
	return filler.Params{
		DepositedArea: 1 + 200*r.Float64(), Efficiency: 0.5 + 0.5*r.Float64(), Density: 1.5 + 7*r.Float64(),
		Rod: &filler.Rod{Diameter: geometry.Length(1 + 4*r.Float64()), CutLength: geometry.Length(300 + 700*r.Float64()),
			Stub: geometry.Length(100 * r.Float64()), StubFusedOn: r.IntN(2) == 0},
		SeamLength: geometry.Length(5 + 2000*r.Float64()), Quantity: 1 + r.IntN(200),
	}
}

// No number may panic, give a result that is not finite, or count less than none.
func FuzzNew(f *testing.F) {
	f.Add(18.0, 0.98, 2.66, 2.4, 1000.0, 50.0, 180.0, 16, true)
	f.Add(1e5, 0.05, 25.0, 0.4, 50.0, 40.0, 1e6, 1000000, false)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, 0.0, 0.0, 0.0, -1, false)
	f.Fuzz(func(t *testing.T, area, efficiency, density, diameter, cut, stub, seam float64, quantity int, fused bool) {
		got, err := filler.New(filler.Params{DepositedArea: area, Efficiency: efficiency, Density: density,
			Rod:        &filler.Rod{Diameter: geometry.Length(diameter), CutLength: geometry.Length(cut), Stub: geometry.Length(stub), StubFusedOn: fused},
			SeamLength: geometry.Length(seam), Quantity: quantity})
		if err != nil {
			if len(joints.AsFaults(err)) == 0 {
				t.Fatalf("an error without faults: %v", err)
			}
			return
		}
		if _, err := json.Marshal(got); err != nil {
			t.Fatal(err)
		}
		if got.RodsTotal != nil && *got.RodsTotal < 1 {
			t.Fatalf("%d rods", *got.RodsTotal)
		}
	})
}

func BenchmarkNew(b *testing.B) {
	p := random(rand.New(rand.NewPCG(1, 1)))
	for b.Loop() {
		if _, err := filler.New(p); err != nil {
			b.Fatal(err)
		}
	}
}
