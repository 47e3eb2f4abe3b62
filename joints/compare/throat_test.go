package compare_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/compare"
)

// butt of 12 mm plates; a depth of 0 is a full weld.
func butt(tb testing.TB, prep joints.Prep, face, depth float64) *joints.Section {
	tb.Helper()
	half := [2]geometry.Angle{30 * geometry.Degree, 30 * geometry.Degree}
	p := joints.Butt{Left: joints.Plate{Thickness: 12}, Right: joints.Plate{Thickness: 12}, Align: joints.AlignBottom, Prep: prep, Arrow: &joints.Groove{}}
	if prep == joints.PrepSquare {
		p.RootOpening = 2
	} else {
		p.Flank, p.RootFace = joints.Flank{Bevel: half, Depth: geometry.Length(depth)}, geometry.Length(face)
	}
	if prep == joints.PrepDoubleV {
		p.OtherFlank, p.Other = p.Flank, p.Arrow
	}
	s, err := joints.NewButt(p)
	return section(tb, s, err)
}

// stem is a tee of a stem of 10 mm with a bevel of 45°, and a double bevel where
// it has fillets.
func stem(tb testing.TB, face, depth, leg float64) *joints.Section {
	tb.Helper()
	bevel := joints.StemBevel{Angle: 45 * geometry.Degree, Depth: geometry.Length(depth)}
	p := joints.Tee{Base: joints.Plate{Thickness: 20}, Stem: joints.Plate{Thickness: 10}, Angle: 90 * geometry.Degree, StemEnd: joints.StemSquare,
		Gap: 2, Prep: joints.PrepSingleBevel, ArrowBevel: bevel, RootFace: geometry.Length(face), Arrow: &joints.Fillet{}}
	if leg > 0 {
		p.Prep, p.OtherBevel, p.Arrow, p.Other = joints.PrepDoubleBevel, bevel, fillet(leg), fillet(leg)
	}
	s, err := joints.NewTee(p)
	return section(tb, s, err)
}

func row(tb testing.TB, s *joints.Section, c compare.Constraints) compare.Row {
	tb.Helper()
	got, err := compare.New(compare.Request{Options: []compare.Option{{Name: "it", Section: s}}, By: compare.Throat, Constraints: c})
	if err != nil {
		tb.Fatal(err)
	}
	return got.Rows[0]
}

// Throats of both sides add up, those of grooves to no more than the plate, and
// a full weld says how much edge it melts through.
func TestThroats(t *testing.T) {
	for name, tt := range map[string]struct {
		section *joints.Section
		throat  float64
		reach   compare.Penetration
		land    float64
	}{
		"one fillet":            {tee(t, 12, 8, 6, 0), 6 / math.Sqrt2, "", 0},
		"fillets of both sides": {tee(t, 12, 8, 6, 4), 10 / math.Sqrt2, "", 0},
		"full V":                {butt(t, joints.PrepSingleV, 0, 0), 12, compare.Full, 0},
		"V over a root face":    {butt(t, joints.PrepSingleV, 6, 0), 12, compare.Full, 6},
		"shallow V":             {butt(t, joints.PrepSingleV, 0, 5), 5, compare.Partial, 0},
		"double V":              {butt(t, joints.PrepDoubleV, 2, 0), 12, compare.Full, 2},
		"shallow double V":      {butt(t, joints.PrepDoubleV, 0, 4), 8, compare.Partial, 0},
		"full bevel":            {stem(t, 0, 0, 0), 10, compare.Full, 0},
		"bevel over a face":     {stem(t, 2, 0, 0), 10, compare.Full, 2},
		"shallow bevel":         {stem(t, 0, 4, 0), 4, compare.Partial, 0},
		"shallow, with fillets": {stem(t, 0, 4, 6), -1, compare.Partial, 0},
		"square edges":          {butt(t, joints.PrepSquare, 0, 0), 12, compare.Full, 12},
	} {
		t.Run(name, func(t *testing.T) {
			r := row(t, tt.section, compare.Constraints{})
			sum := 0.0
			for _, w := range r.Throats {
				sum += w.MM
			}
			if tt.throat < 0 {
				tt.throat = sum
			}
			want := []any{tt.throat, tt.reach, tt.land}
			if d := cmp.Diff(want, []any{*r.Values.Throat, r.Penetration, r.RootFaceMM}, approx); d != "" || sum < tt.throat*(1-1e-9) {
				t.Errorf("throats of welds %v; -want +got\n%s", r.Throats, d)
			}
			for _, least := range []float64{tt.throat - 0.01, tt.throat, tt.throat + 0.01} {
				out := len(row(t, tt.section, compare.Constraints{LeastThroat: geometry.Length(least)}).Excluded) > 0
				if out != (least > tt.throat) {
					t.Errorf("a least throat of %v: out is %v", least, out)
				}
			}
			if tt.land > 0 {
				for _, most := range []float64{tt.land - 0.01, tt.land} {
					out := len(row(t, tt.section, compare.Constraints{MostRootFace: geometry.Length(most)}).Excluded) > 0
					if out != (most < tt.land) {
						t.Errorf("a root face of at most %v: out is %v", most, out)
					}
				}
			}
		})
	}
}

// The least metal does not meet a check: it stands last and nothing calls it
// best, not even where it is alone.
func TestNotMetIsNeverBest(t *testing.T) {
	open := []check.Finding{{Rule: "aisc-360-16/J2.4", Verdict: check.NotMet}}
	met := []check.Finding{{Rule: "aisc-360-16/J2.4", Verdict: check.Met}}
	options := []compare.Option{
		{Name: "small", Section: tee(t, 20, 10, 4, 0), Findings: open},
		{Name: "right", Section: tee(t, 20, 10, 6, 0), Findings: met},
		{Name: "large", Section: tee(t, 20, 10, 8, 0), Findings: met},
	}
	for name, tt := range map[string]struct {
		options []compare.Option
		want    []any // name, rank, best, meets
	}{
		"among others": {options, []any{"right", 1, true, true, "large", 2, false, true, "small", 3, false, false}},
		"alone":        {options[:1], []any{"small", 1, false, false}},
	} {
		t.Run(name, func(t *testing.T) {
			c, err := compare.New(compare.Request{Options: tt.options, By: compare.Area})
			if err != nil {
				t.Fatal(err)
			}
			var got []any
			for _, r := range c.Rows {
				got = append(got, r.Name, r.Rank, r.Best, *r.MeetsChecks)
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("-want +got\n%s", d)
			}
		})
	}
}
