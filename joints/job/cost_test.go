package job_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/joints/filler"
	"fay/joints/job"
)

// The total of a job added up by kind of cost, and again joint by joint with
// what the packs cost over the filler used.
func TestCostBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 9))
	for range 200 {
		var costs job.Costs
		var buying job.Buying
		byJoint, minutes, gas := 0.0, 0.0, 0.0
		metals := []string{"5356", "5183", "4043"}
		kg := map[string]float64{}
		for range 1 + r.IntN(40) {
			p := params(r)
			p.Rod, p.Wire = nil, &filler.Wire{Diameter: 1.2}
			p.TravelSpeed, p.PassArea, p.GasFlow = 200, 20, 10
			p.Rates = filler.Rates{Currency: "EUR", Labour: 46, Gas: 11, ArcShare: 0.4}
			metal := metals[r.IntN(len(metals))]
			p.Packs = []filler.Pack{{Label: "spool", Mass: 2.5}}
			if metal != "4043" {
				p.Packs[0].Price = 50
			}
			f, err := filler.New(p)
			if err != nil {
				t.Fatal(err)
			}
			u, _ := job.UseOf(metal, &f, p.Quantity, p.Packs)
			buying.Add(&u)
			c := job.CostOf("EUR", &f, p.Quantity)
			costs.Add(c)
			byJoint += c.Total
			minutes += *f.ArcTimeMin * float64(p.Quantity)
			gas += *f.GasM3PerSeam * float64(p.Quantity)
			kg[metal] += *f.BoughtKgPerSeam * float64(p.Quantity)
			lines := 0.0
			for _, l := range c.Lines {
				lines += l.Amount
			}
			if math.Abs(lines-c.Total) > 1e-9*c.Total {
				t.Fatalf("lines come to %v of %v", lines, c.Total)
			}
			if lacks := len(c.NotPriced) > 0; lacks != (metal == "4043") {
				t.Fatalf("%s: not priced %v", metal, c.NotPriced)
			}
		}
		b := costs.Bill("EUR", buying.List())
		want := minutes/60/0.4*46 + gas*11
		for _, metal := range metals[:2] {
			want += math.Ceil(kg[metal]/2.5*(1-1e-12)) * 50
		}
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), 1) }
		if !near(b.Total, want) || !near(b.Joints+b.Rounding, b.Total) || !near(b.Joints, byJoint) {
			t.Fatalf("total %v, want %v; joints %v (%v) and rounding %v", b.Total, want, b.Joints, byJoint, b.Rounding)
		}
		if b.Rounding < 0 {
			t.Fatalf("packs cost %v less than what is in them", -b.Rounding)
		}
		if open := kg["4043"] > 0; b.Complete == open || open != cmp.Equal([]string{"filler 4043"}, b.Missing) {
			t.Fatalf("complete is %v, missing %v", b.Complete, b.Missing)
		}
	}
}

func TestCostNeedsACurrencyAndASeam(t *testing.T) {
	f, err := filler.New(filler.Params{Efficiency: 1, DepositedArea: 10, SeamLength: 100})
	if err != nil {
		t.Fatal(err)
	}
	if c := job.CostOf("", &f, 1); c != nil {
		t.Errorf("without a currency: %+v", c)
	}
	want := &job.JointCost{Currency: "EUR", Lines: []job.CostLine{}, NotPriced: []string{"filler", "labour"}}
	if d := cmp.Diff(want, job.CostOf("EUR", &f, 1)); d != "" {
		t.Errorf("without prices: -want +got\n%s", d)
	}
	f.VolumeCm3PerSeam = nil
	if c := job.CostOf("EUR", &f, 1); c != nil {
		t.Errorf("without a seam: %+v", c)
	}
}
