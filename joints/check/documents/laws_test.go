package documents_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/jointstest"
)

// drawn is a random joint with all that rules look at.
type drawn struct {
	input joints.Input
	facts check.Facts
}

func value(v float64) joints.Value { return joints.Value{Text: fmt.Sprint(v), Number: v} }

// draw makes a joint; half of them are heavy, with faces that stand proud.
func draw(t *testing.T, k *joints.Kind, r *rand.Rand) drawn {
	t.Helper()
	for range 2000 {
		in := jointstest.Random(k, r)
		if r.IntN(2) == 0 {
			heavy(&in, k, r)
		}
		s, err := joints.Build(in)
		if err != nil {
			continue
		}
		d := drawn{input: in, facts: check.Facts{Section: &s}}
		if r.IntN(4) > 0 {
			d.facts.SeamLength = joints.Some(geometry.Length(5 + 100*r.Float64()))
		}
		if r.IntN(4) == 0 {
			d.facts.EffectiveLength = joints.Some(geometry.Length(5 + 50*r.Float64()))
		}
		if r.IntN(2) == 0 {
			d.facts.DrawingLeg = joints.Some(geometry.Length(2 + 6*r.Float64()))
		}
		if r.IntN(2) == 0 {
			d.facts.Units = geometry.UnitInch
		}
		return d
	}
	t.Fatal("no random joint could be built")
	return drawn{}
}

func heavy(in *joints.Input, k *joints.Kind, r *rand.Rand) {
	// In order: map order must not reach the random sequence.
	for _, name := range slices.Sorted(maps.Keys(in.Plates)) {
		in.Plates[name] = joints.PlateInput{Thickness: value(5 + 40*r.Float64())}
	}
	for _, id := range slices.Sorted(maps.Keys(in.Welds)) {
		slot, ok := k.Slot(id)
		if !ok {
			continue
		}
		if _, ok := slot.Param("leg"); !ok {
			continue
		}
		legs := []float64{2 + 30*r.Float64(), 2 + 30*r.Float64()}
		if r.IntN(2) == 0 {
			legs[1] = legs[0]
		}
		in.Welds[id] = map[string]joints.Value{
			"leg":  {Text: "list", Number: legs[0], List: legs},
			"face": {Text: "convex", Choice: "convex"}, "rise": value(6 * r.Float64()),
		}
		if r.IntN(2) == 0 {
			in.Welds[id]["face"] = joints.Value{Text: "concave", Choice: "concave"}
		}
	}
	if _, ok := k.Param("gap"); ok && r.IntN(2) == 0 {
		in.Values["gap"] = value(5 * r.Float64())
	}
}

func run(t *testing.T, d *drawn) []check.Finding {
	t.Helper()
	findings, err := documents.Run(&d.facts, documents.IDs())
	if err != nil {
		t.Fatal(err)
	}
	return findings
}

func count() int {
	if testing.Short() {
		return 500
	}
	return 3000
}

// forRandom runs f on seeded random joints of every kind.
func forRandom(t *testing.T, f func(t *testing.T, d *drawn)) {
	t.Helper()
	for i := range joints.Kinds {
		t.Run(joints.Kinds[i].Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(11, uint64(i)))
			for range count() {
				d := draw(t, &joints.Kinds[i], r)
				f(t, &d)
				if t.Failed() {
					t.Fatalf("first broken by %+v", d.input)
				}
			}
		})
	}
}

func TestFindingsAreComplete(t *testing.T) {
	rules := documents.RuleIDs()
	forRandom(t, func(t *testing.T, d *drawn) {
		t.Helper()
		seen := map[string]bool{}
		for _, f := range run(t, d) {
			seen[f.Rule] = true
			compared := f.Verdict == check.Met || f.Verdict == check.NotMet
			switch {
			case f.Title == "" || f.Source.Document == "" || f.Source.Clause == "" || f.Provenance == "" || f.Steps == nil:
				t.Errorf("incomplete: %+v", f)
			case !slices.Contains([]check.Verdict{check.Met, check.NotMet, check.NotApplicable, check.CannotTell}, f.Verdict):
				t.Errorf("verdict %q", f.Verdict)
			case compared != (f.Provided != nil && f.Required != nil && f.Operator != "" && f.Unit != ""):
				t.Errorf("%s with a half comparison: %+v", f.Verdict, f)
			case !compared && f.Note == "":
				t.Errorf("%s without a reason: %+v", f.Verdict, f)
			case compared && (len(f.Steps) == 0 || f.Steps[len(f.Steps)-1].Result != string(f.Verdict)):
				t.Errorf("the last step does not end in the verdict: %+v", f)
			case f.Verdict == check.Met && f.Mend != "":
				t.Errorf("nothing to mend: %+v", f)
			case f.Verdict == check.NotMet && f.Mend == "" && f.Note == "":
				t.Errorf("neither mend nor reason: %+v", f)
			case f.Ratio != nil && (*f.Ratio <= 1) != (f.Verdict == check.Met):
				t.Errorf("ratio %v and %s", *f.Ratio, f.Verdict)
			case f.Weld != "" && !hasWeld(d, f.Weld):
				t.Errorf("no such weld: %+v", f)
			}
			if slices.ContainsFunc(f.Steps, func(s check.Step) bool { return s.Symbols == "" || s.Numbers == "" || s.Result == "" }) {
				t.Errorf("half a step: %+v", f.Steps)
			}
		}
		if len(seen) != len(rules) {
			t.Errorf("%d of %d rules spoke", len(seen), len(rules))
		}
	})
}

func hasWeld(d *drawn, id string) bool {
	_, ok := d.facts.Section.Weld(id)
	return ok
}

var mendText = regexp.MustCompile(`^an? (leg|gap|convex rise|overlap|length) of at (least|most) ([0-9./-]+ (?:mm|in))(?: on (?:the edge of )?(?:the )?([a-z]+)( members)?)?( with the end of the stem cut to fit the base)?(?: and a leg of at most ([0-9./-]+ (?:mm|in)) on the edge of the [a-z]+)?(?:, or .*)?$`)

// A joint rebuilt as a mend says meets the rule.
func TestMendsMend(t *testing.T) {
	mended := map[string]int{}
	refused := 0
	forRandom(t, func(t *testing.T, d *drawn) {
		t.Helper()
		for _, f := range run(t, d) {
			if f.Mend == "" {
				continue
			}
			again, err := apply(t, d, &f)
			if err != nil {
				refused++
				t.Logf("%s: %q: %v", f.Rule, f.Mend, err)
				continue
			}
			for _, g := range run(t, again) {
				if g.Rule == f.Rule && g.Weld == f.Weld && g.Verdict != check.Met {
					t.Errorf("%s, %s: after %q still %s: %+v", f.Rule, f.Weld, f.Mend, g.Verdict, g.Steps)
				}
			}
			mended[f.Rule]++
		}
	})
	for _, id := range documents.RuleIDs() {
		if mended[id] < 5 {
			t.Errorf("%s was mended %d times only", id, mended[id])
		}
	}
	if refused > 0 {
		t.Errorf("%d mends were refused by the joint", refused)
	}
}

// apply types the size of a mend into the joint.
func apply(t *testing.T, d *drawn, f *check.Finding) (*drawn, error) {
	t.Helper()
	m := mendText.FindStringSubmatch(f.Mend)
	if m == nil {
		t.Fatalf("a mend of another form: %q", f.Mend)
	}
	size, err := geometry.ParseLength(m[3], geometry.LengthSyntax{})
	if err != nil {
		t.Fatal(err)
	}
	again := *d
	again.input.Values = maps.Clone(d.input.Values)
	again.input.Welds = maps.Clone(d.input.Welds)
	switch m[1] {
	case "length":
		again.facts.SeamLength, again.facts.EffectiveLength = joints.Some(size), joints.Some(size)
	case "overlap", "gap":
		again.input.Values[m[1]] = value(float64(size))
		if m[6] != "" {
			again.input.Values["gap"] = value(min(float64(size), d.input.Values["gap"].Number))
			again.input.Values["stem-end"] = joints.Value{Text: "fitted", Choice: "fitted"}
		}
		if m[7] != "" {
			edge, err := geometry.ParseLength(m[7], geometry.LengthSyntax{})
			if err != nil {
				t.Fatal(err)
			}
			w, _ := d.facts.Section.Weld(f.Weld)
			again.input.Welds[f.Weld] = legsOnly(float64(w.Feet[0].Leg), float64(edge))
		}
	case "convex rise":
		again.input.Welds[f.Weld] = maps.Clone(d.input.Welds[f.Weld])
		again.input.Welds[f.Weld]["rise"] = value(float64(size))
	case "leg":
		w, _ := d.facts.Section.Weld(f.Weld)
		legs := []float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
		for i := range legs {
			switch m[4] {
			case "both":
				legs[i] = max(legs[i], float64(size))
			case d.facts.Section.Members[w.Feet[i].Member].Name:
				legs[i] = float64(size)
			}
		}
		weld := maps.Clone(d.input.Welds[f.Weld])
		delete(weld, "throat")
		delete(weld, "gauge-leg")
		maps.Copy(weld, legsOnly(legs...))
		again.input.Welds[f.Weld] = weld
	}
	s, err := joints.Build(again.input)
	if err != nil && m[1] == "leg" {
		// The face and the fusion claimed were made for the old size.
		again.input.Welds[f.Weld] = legsOnly(again.input.Welds[f.Weld]["leg"].List...)
		s, err = joints.Build(again.input)
	}
	if err != nil {
		return nil, err
	}
	again.facts.Section = &s
	return &again, nil
}

func legsOnly(legs ...float64) map[string]joints.Value {
	return map[string]joints.Value{"leg": {Text: "list", Number: legs[0], List: legs}}
}

// A larger leg brings a least leg nearer and a largest leg or a least length
// further away.
func TestMonotoneInTheLeg(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	sign := map[string]float64{"aisc-360-16/J2.4": -1, "aisc-360-16/J2.2b-edge": 1, "aisc-360-16/J2.2b-length": 1, "aws-d1.1-reported/gap": -1}
	tried := map[string]int{}
	for range count() {
		upper := 2 + 20*r.Float64()
		leg := upper * (0.3 + 0.6*r.Float64())
		gap := 0.2 * leg * r.Float64()
		ratios := map[string]float64{}
		for i, z := range []float64{leg, leg * 1.1} {
			s := lap(t, joints.Lap{Lower: plate(25), Upper: plate(geometry.Length(upper)), Overlap: 50, Gap: geometry.Length(gap),
				Arrow: joints.EqualFillet(geometry.Length(z))})
			findings, err := documents.Run(&check.Facts{Section: s, SeamLength: joints.Some(60), DrawingLeg: joints.Some(5)}, documents.IDs())
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range findings {
				way, ok := sign[f.Rule]
				if !ok || f.Ratio == nil || f.Unit != joints.UnitMM || gap <= 2 && strings.HasSuffix(f.Rule, "/gap") {
					continue
				}
				if i == 1 && way*(*f.Ratio-ratios[f.Rule]) <= 0 {
					t.Fatalf("%s: ratio %v at leg %v, %v at %v", f.Rule, ratios[f.Rule], leg, *f.Ratio, z)
				}
				ratios[f.Rule] = *f.Ratio
				tried[f.Rule] += i
			}
		}
	}
	for id := range sign {
		if tried[id] < 10 {
			t.Errorf("%s was tried %d times only", id, tried[id])
		}
	}
}
