package filler_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/joints/filler"
)

// The rod that the hand feeds, by hand: 2.4 mm rod has 4.5239 mm².
func TestRodFed(t *testing.T) {
	rod := math.Pi * 1.2 * 1.2
	for name, tt := range map[string]struct {
		welds []filler.Weld
		runs  []filler.Run
		want  []float64 // of each weld
		all   float64
	}{
		"a fillet of 4 mm on both sides": {[]filler.Weld{{"arrow", 8}, {"other", 8}}, nil, []float64{8 / rod, 8 / rod}, 8 / rod},
		"several passes":                 {[]filler.Weld{{"arrow", 36}, {"other", 34}}, nil, []float64{18 / rod, 17 / rod}, 17.5 / rod},
		// The other weld is laid on 120 of 600 mm.
		"intermittent on one side": {[]filler.Weld{{"arrow", 10}, {"other", 4}},
			[]filler.Run{{1, "arrow", 600, 6000}, {1, "other", 120, 480}}, []float64{10 / rod, 4 / rod}, (600*10 + 120*4) / rod / 720},
		"passes weigh":    {[]filler.Weld{{"arrow", 30}, {"other", 4}}, nil, []float64{15 / rod, 4 / rod}, 34 / rod / 3},
		"a weld not laid": {[]filler.Weld{{"arrow", 10}, {"other", 4}}, []filler.Run{{1, "arrow", 600, 6000}}, []float64{10 / rod, 4 / rod}, 10 / rod},
		"a round seam":    {[]filler.Weld{{"arrow", 10}}, []filler.Run{{1, "arrow", 188, 2000}}, []float64{10 / rod}, 10 / rod},
	} {
		t.Run(name, func(t *testing.T) {
			p := full()
			p.Allowances, p.Welds, p.Runs = filler.Allowances{}, tt.welds, tt.runs
			if p.Runs == nil {
				p.SeamLength = 500
			}
			f := mustNew(t, p)
			var got []float64
			for i := range f.Welds {
				got = append(got, *f.Welds[i].RodFeedRatio)
			}
			if d := cmp.Diff(tt.want, got, approx); d != "" {
				t.Error("by weld: -want +got", d)
			}
			if d := cmp.Diff(tt.all, *f.RodFeedRatio, approx); d != "" {
				t.Error("in all: -want +got", d)
			}
		})
	}
}

// What is fed along all passes of straight seams is the metal of the weld.
func TestRodFedIsTheMetal(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 500 {
		p := randomFull(r)
		p.Allowances = filler.Allowances{Oversize: p.Allowances.Oversize}
		metal, travelled := 0.0, 0.0
		for i := range p.Runs {
			run := &p.Runs[i]
			for _, w := range p.Welds {
				if w.ID == run.Weld {
					run.Volume = float64(run.Length) * w.Area
					metal += run.Volume * (1 + p.Allowances.Oversize)
					travelled += float64(run.Length) * math.Ceil(w.Area*(1+p.Allowances.Oversize)/p.PassArea)
				}
			}
		}
		d := float64(p.Rod.Diameter)
		if diff := cmp.Diff(metal, *mustNew(t, p).RodFeedRatio*travelled*math.Pi/4*d*d, cmpopts.EquateApprox(1e-9, 0)); diff != "" {
			t.Fatalf("%+v: -want +got %s", p, diff)
		}
	}
}
