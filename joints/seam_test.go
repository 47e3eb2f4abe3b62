package joints_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
)

func runs(t *testing.T, s joints.Section, seam joints.Seam) []joints.Run {
	t.Helper()
	r, err := s.Runs(seam, "seam.")
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The volume of a ring of triangular section by Pappus against the same ring
// summed in thin washers.
func TestRoundSeamTakesTheCentroidsPath(t *testing.T) {
	const d, z = 60.0, 5.0
	s := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(z), Other: joints.EqualFillet(z)})
	for inside, sign := range map[bool]float64{false: 1, true: -1} {
		got := runs(t, s, joints.Seam{Around: d, Inside: inside})
		var washers float64
		const n = 200000
		for i := range n {
			x := (float64(i) + 0.5) * z / n
			washers += 2 * math.Pi * (d/2 + sign*x) * (z - x) * z / n
		}
		if math.Abs(got[0].Volume-washers) > 1e-4*washers {
			t.Errorf("inside %v: volume %v, want %v", inside, got[0].Volume, washers)
		}
		if d := cmp.Diff(math.Pi*d, float64(got[0].Length), exact); d != "" {
			t.Error(d)
		}
	}
	tube := mustButt(t, joints.Butt{Left: plate(4), Right: plate(4), RootOpening: 2, Arrow: &joints.Groove{}})
	got := runs(t, tube, joints.Seam{Around: d})
	want := 2 * math.Pi * (d/2 - 2) * 2 * 4
	if d := cmp.Diff(want, got[0].Volume, cmpopts.EquateApprox(0, 1e-6)); d != "" {
		t.Errorf("tubes end to end: %s", d)
	}
}

// The welds inside and outside of a tube are as long as the surfaces they start
// on, which follow from its diameter and its wall, and each ring is summed in
// thin washers.
func TestRoundSeamsHaveTheirOwnLengths(t *testing.T) {
	const d, wall, arrow, other = 60.0, 5.0, 5.0, 4.0
	tee := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(wall), Arrow: joints.EqualFillet(arrow), Other: joints.EqualFillet(other)})
	// A ring of triangular section on a surface of the radius r, outwards for
	// the sign 1.
	washers := func(r, sign, leg float64) float64 {
		const n = 20000
		sum := 0.0
		for i := range n {
			x := (float64(i) + 0.5) * leg / n
			sum += 2 * math.Pi * (r + sign*x) * (leg - x) * leg / n
		}
		return sum
	}
	near := cmpopts.EquateApprox(1e-7, 0)
	for inside, sign := range map[bool]float64{false: 1, true: -1} {
		got := runs(t, tee, joints.Seam{Around: d, Inside: inside})
		across := d - 2*sign*wall // of the wall's other surface
		want := [2][2]float64{{math.Pi * d, washers(d/2, sign, arrow)}, {math.Pi * across, washers(across/2, -sign, other)}}
		for i, run := range got {
			if d := cmp.Diff(want[i], [2]float64{float64(run.Length), run.Volume}, near); d != "" {
				t.Errorf("inside %v, %s weld: -want +got %s", inside, run.Weld, d)
			}
		}
	}

	// Tubes end to end: the outer surface and the bore.
	butt := mustButt(t, joints.Butt{Left: plate(10), Right: plate(10), RootOpening: 2, Prep: joints.PrepDoubleV, Arrow: &joints.Groove{}, Other: &joints.Groove{}})
	got := runs(t, butt, joints.Seam{Around: d})
	if d := cmp.Diff([]float64{math.Pi * d, math.Pi * (d - 2*10)}, []float64{float64(got[0].Length), float64(got[1].Length)}, near); d != "" {
		t.Errorf("tubes end to end: -want +got %s", d)
	}

	// As many segments as fit on the circle of each: 188 and 157 mm.
	got = runs(t, tee, joints.Seam{Around: d, Segment: 25, Pitch: 31})
	if d := cmp.Diff([]float64{6 * 25, 5 * 25}, []float64{float64(got[0].Length), float64(got[1].Length)}, near); d != "" {
		t.Errorf("segments: -want +got %s", d)
	}
}

func TestIntermittentSeams(t *testing.T) {
	s := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(3), Other: joints.EqualFillet(3)})
	for name, tt := range map[string]struct {
		seam         joints.Seam
		arrow, other int
	}{
		"chain":            {joints.Seam{Length: 500, Segment: 50, Pitch: 150}, 4, 4},
		"chain, exact fit": {joints.Seam{Length: 350, Segment: 50, Pitch: 150}, 3, 3},
		"staggered":        {joints.Seam{Length: 500, Segment: 50, Pitch: 150, Staggered: true}, 4, 3},
		"fewer than fit":   {joints.Seam{Length: 500, Segment: 50, Pitch: 150, Segments: 2}, 2, 2},
		"one segment":      {joints.Seam{Length: 50, Segment: 50, Pitch: 150}, 1, 1},
	} {
		got := runs(t, s, tt.seam)
		if d := cmp.Diff([]int{tt.arrow, tt.other}, []int{got[0].Segments, got[1].Segments}); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		if d := cmp.Diff(float64(tt.arrow)*50*4.5, got[0].Volume, exact); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

func TestSeamRefusals(t *testing.T) {
	s := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(3)})
	for name, tt := range map[string]struct {
		seam  joints.Seam
		code  joints.FaultCode
		field string
	}{
		"nothing":               {joints.Seam{}, joints.FaultMissing, "seam.length"},
		"both":                  {joints.Seam{Length: 100, Around: 50}, joints.FaultConflict, "seam.around"},
		"segment over pitch":    {joints.Seam{Length: 500, Segment: 60, Pitch: 50}, joints.FaultUnfit, "seam.segment"},
		"segment over seam":     {joints.Seam{Length: 50, Segment: 60, Pitch: 80}, joints.FaultUnfit, "seam.segment"},
		"too many segments":     {joints.Seam{Length: 500, Segment: 50, Pitch: 150, Segments: 5}, joints.FaultUnfit, "seam.segments"},
		"pitch missing":         {joints.Seam{Length: 500, Segment: 50}, joints.FaultMissing, "seam.pitch"},
		"weld past the axis":    {joints.Seam{Around: 5, Inside: true}, joints.FaultRange, "seam.around"},
		"weld not there":        {joints.Seam{Length: 100, Welds: []string{"other"}}, joints.FaultUnknown, "seam.welds"},
		"length not a number":   {joints.Seam{Length: geometry.Length(math.NaN())}, joints.FaultNotNumber, "seam.length"},
		"staggered, continuous": {joints.Seam{Length: 100, Staggered: true}, joints.FaultConflict, "seam.segment"},
	} {
		_, err := s.Runs(tt.seam, "seam.")
		if !joints.AsFaults(err).Has(tt.code, tt.field) {
			t.Errorf("%s: want %s at %s, got %v", name, tt.code, tt.field, err)
		}
	}
}

// A pair of equal fillets on a tee sits z/3 over the base; a symmetric double V
// sits on the neutral level.
func TestLever(t *testing.T) {
	lever := func(s joints.Section) float64 {
		for _, m := range s.Measures {
			if m.Name == "lever" {
				return m.Value
			}
		}
		t.Fatal("no lever")
		return 0
	}
	tee := mustTee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(3), Other: joints.EqualFillet(3)})
	if d := cmp.Diff(4.0+1, lever(tee), exact); d != "" {
		t.Error(d)
	}
	v := mustButt(t, joints.Butt{Left: plate(10), Right: plate(10), RootOpening: 2, Prep: joints.PrepDoubleV, Arrow: &joints.Groove{}, Other: &joints.Groove{}})
	if d := cmp.Diff(0.0, lever(v), cmpopts.EquateApprox(0, 1e-9)); d != "" {
		t.Error(d)
	}
}
