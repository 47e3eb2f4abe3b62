package documents_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
)

func legs(t *testing.T, facts *check.Facts, ids ...string) []check.LegRange {
	t.Helper()
	chosen, err := documents.Select(ids)
	if err != nil {
		t.Fatal(err)
	}
	return check.Legs(facts, chosen)
}

func TestLegRanges(t *testing.T) {
	thin := lap(t, joints.Lap{Lower: plate(25), Upper: plate(3), Overlap: 50, Arrow: joints.EqualFillet(3)})
	thicker := lap(t, joints.Lap{Lower: plate(25), Upper: plate(4), Overlap: 50, Arrow: joints.EqualFillet(3.5)})
	even := lap(t, joints.Lap{Lower: plate(8), Upper: plate(8), Overlap: 50, Arrow: joints.EqualFillet(5)})
	stem := tee(t, joints.Tee{Base: plate(12), Stem: plate(8), Arrow: joints.EqualFillet(5), Other: joints.EqualFillet(5)})
	for name, tt := range map[string]struct {
		facts    check.Facts
		ids      []string
		sentence string
		ways     int
		memory   bool
	}{
		"both ends": {check.Facts{Section: even}, []string{"aisc-360-16"},
			"legs from 5 mm (aisc-360-16/J2.4) to 6 mm (aisc-360-16/J2.2b-edge)", 0, false},
		"in inches": {check.Facts{Section: even, Units: geometry.UnitInch}, []string{"aisc-360-16"},
			"legs from 3/16 in (aisc-360-16/J2.4) to 1/4 in (aisc-360-16/J2.2b-edge)", 0, false},
		"lower end only": {check.Facts{Section: stem}, []string{"aisc-360-16"}, "legs from 5 mm (aisc-360-16/J2.4)", 0, false},
		"geometry only":  {check.Facts{Section: even}, []string{"iso-5817-2014/C"}, "legs up to 8 mm (where the upper ends)", 0, false},
		"nothing":        {check.Facts{Section: stem}, []string{"iso-5817-2014/C"}, "no rule limits the legs", 0, false},
		"the thick member and the thin edge": {check.Facts{Section: thin}, []string{"superseded/minimum-leg", "aisc-360-16"},
			"no leg will do: the minimum of the thick member (lower, 25 mm), 8 mm (superseded/minimum-leg/thicker-part), " +
				"and the maximum of the thin edge (upper, 3 mm), 3 mm (aisc-360-16/J2.2b-edge), exclude each other", 5, false},
		"from memory alone": {check.Facts{Section: thicker, Units: geometry.UnitInch}, []string{"superseded/minimum-leg", "aisc-360-16"},
			"no leg will do: the minimum of the thick member (lower, 0.9843 in), 5/16 in (superseded/minimum-leg/thicker-part, from memory), " +
				"and the maximum of the thin edge (upper, 0.1575 in), 5/32 in (aisc-360-16/J2.2b-edge), exclude each other; values from memory are part of it", 5, true},
		"full strength and rigidity": {check.Facts{Section: stem}, []string{"blodgett/full-strength", "blodgett/rigidity"},
			"no leg will do: the minimum of the member (stem, 8 mm), 6 mm (blodgett/full-strength/leg), and the largest leg, 3 mm (blodgett/rigidity/leg), exclude each other", 3, false},
	} {
		t.Run(name, func(t *testing.T) {
			r := legs(t, &tt.facts, tt.ids...)[0]
			if d := cmp.Diff(tt.sentence, r.Sentence); d != "" {
				t.Error("-want +got", d)
			}
			if len(r.WaysOut) != tt.ways || r.Empty != (tt.ways > 0) || r.Remembered != tt.memory {
				t.Errorf("%+v", r)
			}
		})
	}
	r := legs(t, &check.Facts{Section: thin}, "superseded/minimum-leg", "aisc-360-16")[0]
	all := strings.Join(r.WaysOut, "; ")
	for _, way := range []string{"bevel", "off the edge", "a thicker upper: 5 mm more", "tests with this procedure prove", "another rule document"} {
		if !strings.Contains(all, way) {
			t.Errorf("no way out by %q in %s", way, all)
		}
	}
}

// Joints laid to both ends of a range meet every rule of the documents that sets
// limits to legs; a leg beyond an end breaks one.
func TestLegRangesHold(t *testing.T) {
	ids := []string{"aisc-360-16", "aws-d1.1-reported/cyclic", "blodgett/full-strength"}
	ends, beyond := 0, 0
	for _, upper := range []geometry.Length{3, 4, 5, 6, 8, 10, 12.7, 16, 20, 25} {
		for _, gap := range []geometry.Length{0, 0.8} {
			build := func(leg geometry.Length) (*check.Facts, bool) {
				s, err := joints.NewLap(joints.Lap{Lower: plate(12), Upper: plate(upper), Overlap: 150, Gap: gap, Arrow: joints.EqualFillet(leg)})
				return &check.Facts{Section: &s, SeamLength: joints.Some(500)}, err == nil
			}
			facts, ok := build(2)
			if !ok {
				t.Fatal("no joint")
			}
			r := legs(t, facts, ids...)[0]
			if r.Empty {
				continue
			}
			for _, at := range []struct {
				leg  float64
				want bool
			}{{r.Least.LegMM, true}, {r.Most.LegMM, true}, {r.Least.LegMM - 0.01, false}, {r.Most.LegMM + 0.01, false}} {
				facts, ok := build(geometry.Length(at.leg))
				if !ok {
					continue // past the edge: the geometry refuses it
				}
				findings, err := documents.Run(facts, ids)
				if err != nil {
					t.Fatal(err)
				}
				met := true
				for _, f := range findings {
					met = met && (len(f.Legs) == 0 || f.Verdict == check.Met)
				}
				if met != at.want {
					t.Errorf("upper %v, gap %v: leg %v in %q: met %v", upper, gap, at.leg, r.Sentence, met)
				}
				if at.want {
					ends++
				} else {
					beyond++
				}
			}
		}
	}
	if ends < 10 || beyond < 10 {
		t.Errorf("tried %d ends and %d beyond", ends, beyond)
	}
}

// The gap at which a throat rule fails: there the throat is what is required.
func TestGapAtWhichItFails(t *testing.T) {
	for _, legs := range [][2]geometry.Length{{6, 6}, {8, 5}, {5, 8}} {
		build := func(gap geometry.Length) check.Finding {
			s := tee(t, joints.Tee{Base: plate(10), Stem: plate(10), Gap: gap, Arrow: &joints.Fillet{Legs: legs}})
			return only(t, &check.Facts{Section: s}, "en-1993-1-8/recommended/throat")
		}
		f := build(0.2)
		if f.LargestGap == nil {
			t.Fatalf("no gap: %+v", f)
		}
		at := build(geometry.Length(*f.LargestGap))
		if math.Abs(*at.Provided-*at.Required) > 1e-9 {
			t.Errorf("legs %v: throat %v at a gap of %v", legs, *at.Provided, *f.LargestGap)
		}
		if g := build(geometry.Length(*f.LargestGap) + 0.01); g.Verdict != check.NotMet {
			t.Errorf("%+v", g)
		}
	}
	s := tee(t, joints.Tee{Base: plate(10), Stem: plate(10), Gap: 0.5, Arrow: joints.EqualFillet(6)})
	f := only(t, &check.Facts{Section: s}, "iso-5817-2014/B/617")
	if f.LargestGap == nil || *f.LargestGap != *f.Required {
		t.Errorf("the gap rule names its gap: %+v", f)
	}
}

// Remedies of butt joints, typed in again.
func TestButtRemedies(t *testing.T) {
	p := joints.Butt{Left: plate(12), Right: plate(8), HiLo: 1.5, RootOpening: 3, Arrow: &joints.Groove{Cap: 1.4, Root: 1.4}}
	wide := joints.Butt{Left: plate(30), Right: plate(30), RootOpening: 12, Arrow: &joints.Groove{Cap: 5, Root: 5}}
	for rule, tt := range map[string]struct {
		joint joints.Butt
		mend  string
		do    func(*joints.Butt)
	}{
		"iso-5817-2014/B/502":                 {p, "a cap of at most 1.3 mm", func(b *joints.Butt) { b.Arrow.Cap = 1.3 }},
		"iso-5817-2014/B/504":                 {wide, "a root of at most 3 mm", func(b *joints.Butt) { b.Arrow.Root = 3 }},
		"iso-5817-2014/C/504":                 {wide, "a root of at most 4 mm", func(b *joints.Butt) { b.Arrow.Root = 4 }},
		"aws-d1.1-reported/reinforcement":     {wide, "a cap of at most 3 mm", func(b *joints.Butt) { b.Arrow.Cap = 3 }},
		"jb-t-7949-1999/saw/cap":              {wide, "a cap of at most 3 mm", func(b *joints.Butt) { b.Arrow.Cap = 3 }},
		"iso-5817-2014/B/507":                 {p, "a hi-lo of at most 0.8 mm", func(b *joints.Butt) { b.HiLo = 0.8 }},
		"aws-d1.1-reported/offset":            {p, "a hi-lo of at most 0.8 mm", func(b *joints.Butt) { b.HiLo = 0.8 }},
		"aws-d1.1-reported/cyclic/transition": {p, "a transition of 2.5 on the face side, 6.3 mm long", func(b *joints.Butt) { b.Transition = 2.5 }},
		"europe-transition/1-in-4/slope":      {p, "a transition of 4 on the face side, 10 mm long", func(b *joints.Butt) { b.Transition = 4 }},
		"asme-viii/UW-9/taper":                {p, "a transition of 3 on the face side, 7.5 mm long", func(b *joints.Butt) { b.Transition = 3 }},
	} {
		joint := tt.joint
		arrow := *joint.Arrow
		joint.Arrow = &arrow
		if f := all(t, &check.Facts{Section: butt(t, joint)}, rule)[0]; f.Mend != tt.mend {
			t.Errorf("%s: want %q, got %q (%s)", rule, tt.mend, f.Mend, f.Verdict)
			continue
		}
		tt.do(&joint)
		if f := all(t, &check.Facts{Section: butt(t, joint)}, rule)[0]; f.Verdict != check.Met {
			t.Errorf("%s: after %q: %+v", rule, tt.mend, f)
		}
	}
}
