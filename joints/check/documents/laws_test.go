package documents_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

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
		d.facts.Process = pick(r, "", "gtaw", "gmaw", "smaw", "fcaw-g", "saw")
		d.facts.Position = check.Position(pick(r, "", string(check.Flat), string(check.Horizontal), string(check.Vertical), string(check.Overhead)))
		d.facts.Passes, d.facts.EndLoaded, d.facts.Round = r.IntN(3), r.IntN(2) == 0, r.IntN(4) == 0
		if r.IntN(3) == 0 {
			d.facts.Measured = record(&s, r)
		}
		return d
	}
	t.Fatal("no random joint could be built")
	return drawn{}
}

func pick(r *rand.Rand, words ...string) string { return words[r.IntN(len(words))] }

// record measures some of a weld, in no relation to the plan.
func record(s *joints.Section, r *rand.Rand) map[string]check.Measured {
	some := func(most float64) joints.Opt {
		if r.IntN(3) == 0 {
			return joints.Opt{}
		}
		return joints.Some(geometry.Length(max(0, most*(r.Float64()*1.5-0.5))))
	}
	out := map[string]check.Measured{}
	for i := range s.Welds {
		if r.IntN(4) == 0 {
			continue
		}
		out[s.Welds[i].ID] = check.Measured{
			Legs: [2]joints.Opt{some(10), some(10)}, Throat: some(8), Convexity: some(4), Gap: some(3), HiLo: some(2), CapHeight: some(5), RootHeight: some(4),
			Undercut: some(1), RootUndercut: some(1), Underfill: some(1), RootConcavity: some(1), RunOver: some(1), LackOfFusion: some(1), LackOfPenetration: some(1),
		}
	}
	return out
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
			in.Welds[id] = maps.Clone(in.Welds[id])
			for _, name := range []string{"cap", "root"} {
				if _, given := in.Welds[id][name]; given {
					in.Welds[id][name] = value(6 * r.Float64())
				}
			}
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
	if _, ok := k.Param("hi-lo"); ok && r.IntN(2) == 0 {
		in.Values["hi-lo"] = value(6 * r.Float64())
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
		return 150
	}
	return 600
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
	rules := rulesOnFile()
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

// Brief findings are the full ones without their steps, and a brief section is
// enough for them.
func TestBrief(t *testing.T) {
	forRandom(t, func(t *testing.T, d *drawn) {
		t.Helper()
		want := run(t, d)
		for i := range want {
			want[i].Steps = []check.Step{}
		}
		brief, err := joints.BuildBrief(d.input)
		if err != nil {
			t.Fatal(err)
		}
		d.facts.Section, d.facts.Brief = &brief, true
		if diff := cmp.Diff(want, run(t, d)); diff != "" {
			t.Fatal("-want +got", diff)
		}
	})
}

// rulesOnFile are the rules of the documents with values.
func rulesOnFile() []string {
	var ids []string
	for _, d := range documents.All() {
		for i := range d.Rules {
			ids = append(ids, d.Rules[i].ID)
		}
	}
	return ids
}

func hasWeld(d *drawn, id string) bool {
	_, ok := d.facts.Section.Weld(id)
	return ok
}

var mendText = regexp.MustCompile(`^(an? [a-z-]+(?: [a-z]+)*|legs|a reinforcing fillet with legs) of at (least|most) ([0-9./-]+ (?:mm|in))` +
	`(?: on (?:the edge of )?(?:the )?([a-z]+)( members)?)?( with the end of the [a-z]+ cut to fit the [a-z]+)?` +
	`(?: and a leg of at most ([0-9./-]+ (?:mm|in)) on the edge of the [a-z]+)?(, with the legs to fit)?(?:, or .*)?$`)

// inWords are mends that no size can be read from; those of preparations are
// tested with their tables, those of transitions with theirs.
var inWords = regexp.MustCompile(`^(a flatter face|a longer leg on the member with the steeper toe|two passes or more|weld from the other side only, or .*|` +
	`repair until .*|grind off what lies on the member|an? (angle|opening|root face|radius) of .*|a transition of .*)$`)

// mendable are the rules that random joints break and mend.
var mendable = []string{
	"aisc-360-16/J2.4", "aisc-360-16/J2.2b-edge", "aisc-360-16/J2.2b-length", "aisc-360-16/J2.2b-intermittent", "aisc-360-16/J2.2b-lap",
	"aws-d1.1-reported/gap-maximum", "aws-d1.1-reported/gap", "aws-d1.1-reported/minimum-leg", "aws-d1.1-reported/length",
	"aws-d1.1-reported/intermittent", "aws-d1.1-reported/convexity", "aws-d1.1-reported/reinforcement", "aws-d1.1-reported/offset",
	"aws-d1.1-reported/cyclic/leg", "aws-d1.1-2015/prequalified/reinforcing-fillet", "aws-d1.2/minimum-leg/leg", "superseded/minimum-leg/thicker-part",
	"csa-w59/minimum-leg/leg", "en-1993-1-8/recommended/length", "en-1993-1-8/recommended/throat", "en-1993-1-8/DE/NA-throat",
	"en-1993-1-8/DE/NA-largest-throat", "en-1999-1-1/recommended/length", "blodgett/full-strength/leg", "blodgett/rigidity/leg",
	"iso-5817-2014/B/503", "iso-5817-2014/C/503", "iso-5817-2014/D/503",
	"iso-5817-2014/B/512", "iso-5817-2014/C/512", "iso-5817-2014/D/512", "iso-5817-2014/B/617", "iso-5817-2014/C/617", "iso-5817-2014/D/617",
	"iso-5817-2014/B/507", "asme-i-pw-33/longitudinal/offset",
}

// A joint rebuilt as a mend says meets the rule.
func TestMendsMend(t *testing.T) {
	mended := map[string]int{}
	refused := map[string]int{}
	forRandom(t, func(t *testing.T, d *drawn) {
		t.Helper()
		d.facts.Measured = nil // what is made cannot be planned again
		for _, f := range run(t, d) {
			if f.Mend == "" || inWords.MatchString(f.Mend) {
				continue
			}
			again, err := apply(t, d, &f)
			if err != nil {
				if refused[f.Rule]++; refused[f.Rule] < 4 {
					t.Logf("%s: %q: %v", f.Rule, f.Mend, err)
				}
				continue
			}
			for _, g := range all(t, &again.facts, f.Rule) {
				if g.Rule == f.Rule && g.Weld == f.Weld && limited(&g) == limited(&f) && g.Verdict != check.Met {
					t.Errorf("%s, %s: after %q still %s: %+v", f.Rule, f.Weld, f.Mend, g.Verdict, g.Steps)
				}
			}
			mended[f.Rule]++
		}
	})
	for _, id := range mendable {
		if mended[id] < 5 && !testing.Short() {
			t.Errorf("%s was mended %d times only", id, mended[id])
		}
	}
	for id, n := range refused {
		t.Errorf("%s: %d mends were refused by the joint", id, n)
	}
}

// limited is the member whose leg a finding is about.
func limited(f *check.Finding) string {
	if len(f.Legs) == 0 {
		return ""
	}
	return f.Legs[0].Member
}

// apply types the size of a mend into the joint.
func apply(t *testing.T, d *drawn, f *check.Finding) (*drawn, error) {
	t.Helper()
	m := mendText.FindStringSubmatch(f.Mend)
	if m == nil {
		t.Fatalf("%s: a mend of another form: %q", f.Rule, f.Mend)
	}
	size, err := geometry.ParseLength(m[3], geometry.LengthSyntax{})
	if err != nil {
		t.Fatal(err)
	}
	again := *d
	again.input.Values = maps.Clone(d.input.Values)
	again.input.Welds = maps.Clone(d.input.Welds)
	set := func(name string, v float64) {
		again.input.Welds[f.Weld] = maps.Clone(d.input.Welds[f.Weld])
		again.input.Welds[f.Weld][name] = value(v)
	}
	resized := false
	switch what := m[1]; what {
	case "a length":
		again.facts.SeamLength, again.facts.EffectiveLength = joints.Some(size), joints.Some(size)
	case "an overlap":
		again.input.Values["overlap"] = value(float64(size))
	case "a gap":
		again.closeGap(float64(size), m[6] != "")
		// A size given as a throat would bring other legs with another gap.
		w, _ := d.facts.Section.Weld(f.Weld)
		legs := []float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
		if m[7] != "" {
			edge, err := geometry.ParseLength(m[7], geometry.LengthSyntax{})
			if err != nil {
				t.Fatal(err)
			}
			legs[1] = float64(edge)
		}
		again.input.Welds[f.Weld] = legsOnly(legs...)
		if m[8] != "" {
			again.input.Welds[f.Weld] = map[string]joints.Value{}
		}
	case "a hi-lo":
		again.input.Values["hi-lo"] = value(float64(size))
	case "a convex rise":
		set("rise", float64(size))
	case "a cap":
		set("cap", float64(size))
	case "a root":
		set("root", float64(size))
	case "a leg", "legs", "a reinforcing fillet with legs":
		w, _ := d.facts.Section.Weld(f.Weld)
		legs := []float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
		for i := range legs {
			switch {
			case what == "legs":
				legs[i] = min(legs[i], float64(size))
			case m[4] == "both" || m[4] == "":
				legs[i] = max(legs[i], float64(size))
			case m[4] == d.facts.Section.Members[w.Feet[i].Member].Name:
				legs[i] = float64(size)
			}
		}
		weld := maps.Clone(d.input.Welds[f.Weld])
		for _, name := range []string{"throat", "gauge-leg", "face", "rise"} {
			if name == "throat" || name == "gauge-leg" || what == "a reinforcing fillet with legs" {
				delete(weld, name)
			}
		}
		maps.Copy(weld, legsOnly(legs...))
		again.input.Welds[f.Weld] = weld
		resized = true
	default:
		t.Fatalf("%s: nothing known of %q", f.Rule, f.Mend)
	}
	s, err := joints.Build(again.input)
	if err != nil && resized {
		// The face and the fusion claimed were made for the old size.
		again.input.Welds[f.Weld] = legsOnly(again.input.Welds[f.Weld]["leg"].List...)
		s, err = joints.Build(again.input)
	}
	if err != nil && m[1] == "a gap" {
		// What the other welds then need is for their own findings to say.
		again.input.Welds = map[string]map[string]joints.Value{f.Weld: again.input.Welds[f.Weld]}
		s, err = joints.Build(again.input)
	}
	if err != nil {
		return nil, err
	}
	again.facts.Section = &s
	return &again, nil
}

// closeGap brings every gap of the joint down to size.
func (d *drawn) closeGap(size float64, fit bool) {
	k, _ := joints.LookupKind(d.input.Kind)
	for i := range k.Params {
		name := k.Params[i].Name
		switch {
		case name == "gap" || strings.HasSuffix(name, "-gap"):
			if v, ok := d.input.Values[name]; ok {
				d.input.Values[name] = value(min(size, v.Number))
			}
		case fit && strings.HasSuffix(name, "-end"):
			d.input.Values[name] = joints.Value{Text: "fitted", Choice: "fitted"}
		}
	}
}

func legsOnly(legs ...float64) map[string]joints.Value {
	return map[string]joints.Value{"leg": {Text: "list", Number: legs[0], List: legs}}
}

// Steps and remedies printed in the other unit leave what was compared as it was.
func TestConvertedJudgesTheSame(t *testing.T) {
	text := cmpopts.IgnoreFields(check.Finding{}, "Steps", "Mend", "Note")
	forRandom(t, func(t *testing.T, d *drawn) {
		t.Helper()
		want := run(t, d)
		d.facts.Converted = true
		if diff := cmp.Diff(want, run(t, d), text); diff != "" {
			t.Errorf("converted (-as read +converted)\n%s", diff)
		}
	})
}

// A larger leg brings a least leg nearer and a largest leg or a least length
// further away.
func TestMonotoneInTheLeg(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	sign := map[string]float64{
		"aisc-360-16/J2.4": -1, "aisc-360-16/J2.2b-edge": 1, "aisc-360-16/J2.2b-length": 1, "aws-d1.1-reported/gap": -1,
		"aws-d1.1-reported/minimum-leg": -1, "aws-d1.1-reported/length": 1, "aws-d1.1-reported/cyclic/leg": -1,
		"superseded/minimum-leg/thicker-part": -1, "en-1993-1-8/DE/throat": -1, "en-1993-1-8/DE/NA-throat": -1,
		"en-1993-1-8/DE/NA-largest-throat": 1, "en-1999-1-1/recommended/length": 1,
	}
	tried := map[string]int{}
	for range count() {
		upper := 2 + 20*r.Float64()
		leg := upper * (0.3 + 0.6*r.Float64())
		gap := 0.2 * leg * r.Float64()
		ratios := map[string]float64{}
		for i, z := range []float64{leg, leg * 1.1} {
			s := lap(t, joints.Lap{Lower: plate(25), Upper: plate(geometry.Length(upper)), Overlap: 50, Gap: geometry.Length(gap),
				Arrow: joints.EqualFillet(geometry.Length(z))})
			findings, err := documents.Run(&check.Facts{Section: s, SeamLength: joints.Some(60), DrawingLeg: joints.Some(5), Process: "gtaw"}, documents.IDs())
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
		if tried[id] < 10 && !testing.Short() {
			t.Errorf("%s was tried %d times only", id, tried[id])
		}
	}
}
