package job_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints/filler"
	"fay/joints/job"
)

var tubes = []filler.Pack{{Label: "2.5 kg tube", Mass: 2.5}}

func params(r *rand.Rand) filler.Params {
	p := filler.Params{
		Efficiency: 0.9, Density: 2.66, Quantity: 1 + r.IntN(30), Packs: tubes,
		Welds: []filler.Weld{{ID: "arrow", Area: 2 + 30*r.Float64()}, {ID: "other", Area: 2 + 30*r.Float64()}},
		Rod:   &filler.Rod{Diameter: 2.4, CutLength: 1000, Stub: 50},
	}
	if r.IntN(3) == 0 {
		p.Rod, p.Wire = nil, &filler.Wire{Diameter: 1.2}
	}
	for seam := 1; seam <= 1+r.IntN(3); seam++ {
		for _, w := range p.Welds {
			l := 20 + 3000*r.Float64()
			p.Runs = append(p.Runs, filler.Run{Seam: seam, Weld: w.ID, Length: geometry.Length(l), Volume: w.Area * l})
		}
	}
	return p
}

// Volume, mass and rods of a job, added up seam by seam in exact arithmetic.
func TestMassBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	var buying job.Buying
	exact := map[job.Form]*big.Float{job.Rod: new(big.Float).SetPrec(200), job.Wire: new(big.Float).SetPrec(200)}
	rods := new(big.Float).SetPrec(200)
	for range 4000 {
		p := params(r)
		f, err := filler.New(p)
		if err != nil {
			t.Fatal(err)
		}
		u, ok := job.UseOf("5356", &f, p.Quantity, p.Packs)
		if !ok {
			t.Fatal("a joint with seams takes nothing")
		}
		buying.Add(&u)
		for i := range f.Seams {
			sum := big.NewFloat(*f.Seams[i].DepositedKg)
			exact[u.Metal.Form].Add(exact[u.Metal.Form], sum.Mul(sum, big.NewFloat(float64(p.Quantity))))
			if f.Seams[i].Rods != nil {
				n := big.NewFloat(*f.Seams[i].Rods)
				rods.Add(rods, n.Mul(n, big.NewFloat(float64(p.Quantity))))
			}
		}
	}
	for _, item := range buying.List() {
		want, _ := exact[item.Form].Float64()
		if got := *item.DepositedKg; math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: %.12f kg deposited, the seams come to %.12f", item.Form, got, want)
		}
		if need := *item.BoughtKg; float64(item.Packs.Count)*2.5 < need*(1-1e-11) || float64(item.Packs.Count-1)*2.5 >= need {
			t.Errorf("%s: %d packs of 2.5 kg for %g kg", item.Form, item.Packs.Count, need)
		}
		if item.Rods == nil {
			continue
		}
		// Whole rods for the job: never too few, never one too many.
		want, _ = rods.Float64()
		if got := float64(*item.Rods); got < want*(1-1e-11) || got >= want+1 {
			t.Errorf("%d rods, the seams come to %.6f", *item.Rods, want)
		}
	}
}

// A job of one joint buys what the joint alone does.
func TestOneJointIsItself(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for range 300 {
		p := params(r)
		if r.IntN(2) == 0 {
			p.Packs = []filler.Pack{{Label: "tube", Mass: 2.5, Price: 40 + 40*r.Float64()}, {Label: "box", Mass: 10, Price: 100 + 100*r.Float64()}}
			p.Rates.Currency = "EUR"
		}
		f, err := filler.New(p)
		if err != nil {
			t.Fatal(err)
		}
		u, _ := job.UseOf("5356", &f, p.Quantity, p.Packs)
		var buying job.Buying
		buying.Add(&u)
		item := buying.List()[0]
		if diff := cmp.Diff(f.Packs, item.Packs, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
			t.Fatalf("packs (-joint +job)\n%s", diff)
		}
		if diff := cmp.Diff(f.RodsTotal, item.Rods); diff != "" {
			t.Fatalf("rods (-joint +job)\n%s", diff)
		}
	}
}

// Rounding up once buys less than rounding up for each joint.
func TestRoundedUpOnce(t *testing.T) {
	var buying job.Buying
	for range 10 {
		buying.Add(&job.Use{Metal: job.Metal{Form: job.Rod, Diameter: 2.4, Length: 1000}, Weighed: true, Rods: 0.1, RodKg: 0.012, Packs: tubes})
	}
	item := buying.List()[0]
	if *item.Rods != 1 || item.Packs.Count != 1 || math.Abs(*item.BoughtKg-0.012) > 1e-12 {
		t.Errorf("ten tenths of a rod buy %d rods, %d packs, %g kg", *item.Rods, item.Packs.Count, *item.BoughtKg)
	}
}

func TestMetalsApart(t *testing.T) {
	metals := []job.Metal{
		{Name: "5356", Form: job.Rod, Diameter: 2.4, Length: 1000}, {Name: "5183", Form: job.Rod, Diameter: 2.4, Length: 1000},
		{Name: "5356", Form: job.Rod, Diameter: 3.2, Length: 1000}, {Name: "5356", Form: job.Wire, Diameter: 1.2}, {Form: job.Rod, Diameter: 2.4, Length: 1000},
	}
	var buying job.Buying
	for range 2 {
		for _, m := range metals {
			buying.Add(&job.Use{Metal: m, VolumeCm3: 1, Weighed: m.Name != "", Rods: 1.5, WireM: 2})
		}
	}
	var got []job.Metal
	for _, item := range buying.List() {
		m := job.Metal{Name: item.Filler, Form: item.Form, Diameter: item.DiameterMM}
		if item.LengthMM != nil {
			m.Length = *item.LengthMM
		}
		got = append(got, m)
		if (item.DepositedKg != nil) != (item.Filler != "") || item.Joints != 2 {
			t.Errorf("%v: %d joints, deposited %v", m, item.Joints, item.DepositedKg)
		}
	}
	if diff := cmp.Diff(metals, got); diff != "" {
		t.Errorf("metals (-want +got)\n%s", diff)
	}
}

func TestNoSeamTakesNothing(t *testing.T) {
	f, err := filler.New(filler.Params{Efficiency: 1, DepositedArea: 10})
	if err != nil {
		t.Fatal(err)
	}
	if u, ok := job.UseOf("", &f, 3, nil); ok {
		t.Errorf("a joint without a seam takes %+v", u)
	}
}

// Plain addition loses every one of these.
func TestSum(t *testing.T) {
	var s job.Sum
	for _, v := range []float64{1e16, 1, 1, 1, 1, -1e16} {
		s.Add(v)
	}
	if s.Value() != 4 {
		t.Errorf("sum %g, want 4", s.Value())
	}
}
