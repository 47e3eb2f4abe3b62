package documents_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
)

var cmpApprox = cmpopts.EquateApprox(1e-12, 0)

func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range documents.Known() {
		if d.ID == "" || d.Title == "" || len(d.Rules) == 0 || seen[d.ID] {
			t.Errorf("document %q: no id or title, no rules, or there twice", d.ID)
		}
		seen[d.ID] = true
		for _, r := range d.Rules {
			if seen[r.ID] || !strings.HasPrefix(r.ID, d.ID+"/") {
				t.Errorf("rule %q: there twice, or not of %s", r.ID, d.ID)
			}
			seen[r.ID] = true
			if r.Title == "" || r.Source.Document == "" || r.Source.Clause == "" || r.Read == "" || r.Doc == "" || r.Provenance == "" {
				t.Errorf("rule %s lacks papers: %+v", r.ID, r)
			}
			if len(r.Values.Rows) == 0 {
				t.Errorf("rule %s shows no values", r.ID)
			}
			for _, row := range r.Values.Rows {
				if len(row) != len(r.Values.Columns) || slices.Contains(row, "") {
					t.Errorf("rule %s: row %q under %q", r.ID, row, r.Values.Columns)
				}
			}
		}
	}
}

func TestSelect(t *testing.T) {
	got, err := documents.Select([]string{"ISO-5817-2014/c", "aisc-360-16", " aisc-360-16 ", "iso-5817-2014/B"})
	if err != nil {
		t.Fatal(err)
	}
	ids := make([]string, 0, len(got))
	for _, d := range got {
		ids = append(ids, d.ID)
	}
	if d := cmp.Diff([]string{"iso-5817-2014/C", "aisc-360-16", "iso-5817-2014/B"}, ids); d != "" {
		t.Error("-want +got", d)
	}
}

func TestUnknownDocuments(t *testing.T) {
	const levels = "use one of iso-5817-2014/B, iso-5817-2014/C, iso-5817-2014/D"
	type fault struct{ Field, Value, Rule, Remedy string }
	want := []fault{
		{"checks[0]", "aisc-360-15", "is not a rule document on file", "did you mean aisc-360-16?"},
		{"checks[2]", "iso-5817-2014", "needs a level", levels},
		{"checks[3]", "iso-5817-2014/E", "has no such level", levels},
		{"checks[4]", "", "is not a rule document on file", "use one of aisc-360-16, aws-d1.1-reported, iso-5817-2014/C"},
		{"checks[5]", "aws-d1.1", "is not a rule document on file", "use one of aws-d1.1-reported, aws-d1.1-reported/cyclic, aws-d1.1-2015/prequalified, aws-d1.1-2020/prequalified"},
		{"checks[6]", "blodgett", "needs a choice", "use one of blodgett/full-strength, blodgett/rigidity"},
		{"checks[7]", "iso-10042", "needs a level", "use one of iso-10042/B, iso-10042/C, iso-10042/D"},
	}
	_, err := documents.Run(&check.Facts{}, []string{"aisc-360-15", "aisc-360-16", "iso-5817-2014", "iso-5817-2014/E", "", "aws-d1.1", "blodgett", "iso-10042"})
	var faults joints.Faults
	if !errors.As(err, &faults) {
		t.Fatalf("want faults, got %v", err)
	}
	got := make([]fault, 0, len(faults))
	for _, f := range faults {
		if f.Code != joints.FaultUnknown {
			t.Errorf("code %s", f.Code)
		}
		got = append(got, fault{f.Field, f.Value, f.Rule, f.Remedy})
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error("-want +got", d)
	}
}

func TestSeveralEditionsAtOnce(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(3), Other: joints.EqualFillet(4)})
	findings, err := documents.Run(&check.Facts{Section: s}, []string{"iso-5817-2014/D", "iso-5817-2014/B"})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range findings {
		if f.Weld != "" && strings.HasSuffix(f.Rule, "/503") {
			got = append(got, f.Rule+" "+f.Weld)
		}
	}
	want := []string{"iso-5817-2014/D/503 arrow", "iso-5817-2014/D/503 other", "iso-5817-2014/B/503 arrow", "iso-5817-2014/B/503 other"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error("-want +got", d)
	}
}

// Whole findings of joints that are easy to follow by hand.
func TestFindings(t *testing.T) {
	aisc := check.Source{Document: "ANSI/AISC 360", Edition: "2016", Clause: "Table J2.4"}
	thick := tee(t, joints.Tee{Base: plate(12), Stem: plate(8), Arrow: joints.EqualFillet(4)})
	thin := lap(t, joints.Lap{Lower: plate(8), Upper: plate(2), Overlap: 30, Gap: 0.5, Arrow: joints.EqualFillet(2.4)})
	for name, tt := range map[string]struct {
		facts          check.Facts
		document, rule string
		want           check.Finding
	}{
		"leg too small": {check.Facts{Section: thick}, "aisc-360-16", "aisc-360-16/J2.4", check.Finding{
			Title: "Smallest leg by the thinner part", Source: aisc, Provenance: check.Primary, Weld: "arrow",
			Provided: new(4.0), Required: new(5.0), Unit: joints.UnitMM, Operator: check.AtLeast, Ratio: new(1.25), Verdict: check.NotMet,
			Steps: []check.Step{
				{Symbols: "t = min(t_base, t_stem)", Numbers: "min(12 mm, 8 mm)", Result: "t = 8 mm"},
				{Symbols: "z_min(t), Table J2.4", Numbers: "t = 8 mm", Result: "z_min = 5 mm for 6 mm (1/4 in) < t ≤ 13 mm (1/2 in)"},
				{Symbols: "z = min(z_base, z_stem) ≥ z_min", Numbers: "4 mm ≥ 5 mm", Result: "not met"},
			},
			Mend: "a leg of at least 5 mm on both members",
			Legs: []check.Bound{{Operator: check.AtLeast, LegMM: 5, For: "stem"}},
		}},
		"leg too small in inches": {check.Facts{Section: thick, Units: geometry.UnitInch, Families: []string{"aluminium", "aluminium"}}, "aisc-360-16", "aisc-360-16/J2.4", check.Finding{
			Title: "Smallest leg by the thinner part", Source: aisc, Provenance: check.Primary, Weld: "arrow",
			Provided: new(4.0), Required: new(3.0 / 16 * 25.4), Unit: joints.UnitMM, Operator: check.AtLeast, Ratio: new(3.0 / 16 * 25.4 / 4), Verdict: check.NotMet,
			Steps: []check.Step{
				{Symbols: "t = min(t_base, t_stem)", Numbers: "min(0.4724 in, 0.315 in)", Result: "t = 0.315 in"},
				{Symbols: "z_min(t), Table J2.4", Numbers: "t = 0.315 in", Result: "z_min = 3/16 in for 6 mm (1/4 in) < t ≤ 13 mm (1/2 in)"},
				{Symbols: "z = min(z_base, z_stem) ≥ z_min", Numbers: "0.1575 in ≥ 3/16 in", Result: "not met"},
			},
			Mend: "a leg of at least 3/16 in on both members",
			Note: "AISC 360-16 is written for steel, not for aluminium",
			Legs: []check.Bound{{Operator: check.AtLeast, LegMM: 3.0 / 16 * 25.4, For: "stem"}},
		}},
		"an edge too thin for the table": {check.Facts{Section: thin}, "aisc-360-16", "aisc-360-16/J2.4", check.Finding{
			Title: "Smallest leg by the thinner part", Source: aisc, Provenance: check.Primary, Weld: "arrow",
			Provided: new(2.4), Required: new(3.0), Unit: joints.UnitMM, Operator: check.AtLeast, Ratio: new(1.25), Verdict: check.NotMet,
			Steps: []check.Step{
				{Symbols: "t = min(t_lower, t_upper)", Numbers: "min(8 mm, 2 mm)", Result: "t = 2 mm"},
				{Symbols: "z_min(t), Table J2.4", Numbers: "t = 2 mm", Result: "z_min = 3 mm for t ≤ 6 mm (1/4 in)"},
				{Symbols: "z = min(z_lower, z_upper) ≥ z_min", Numbers: "2.4 mm ≥ 3 mm", Result: "not met"},
			},
			Note: "no leg meets this and J2.2b: the edge of the upper carries 2.5 mm at most",
			Legs: []check.Bound{{Operator: check.AtLeast, LegMM: 3, For: "upper"}},
		}},
		"no length given": {check.Facts{Section: thick}, "aisc-360-16", "aisc-360-16/J2.2b-length", check.Finding{
			Title: "Smallest effective length", Source: check.Source{Document: "ANSI/AISC 360", Edition: "2016", Clause: "J2.2b, minimum length"},
			Provenance: check.Primary, Weld: "arrow", Verdict: check.CannotTell, Steps: []check.Step{}, Note: "the length of the weld is not given",
		}},
		"no lap": {check.Facts{Section: thick}, "aisc-360-16", "aisc-360-16/J2.2b-lap", check.Finding{
			Title: "Smallest overlap of a lap joint", Source: check.Source{Document: "ANSI/AISC 360", Edition: "2016", Clause: "J2.2b, lap joints"},
			Provenance: check.Primary, Verdict: check.NotApplicable, Steps: []check.Step{}, Note: "the members do not overlap",
		}},
	} {
		t.Run(name, func(t *testing.T) {
			tt.want.Rule = tt.rule
			got := one(t, &tt.facts, tt.document, tt.rule)
			if d := cmp.Diff(tt.want, got, cmpApprox); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
}

// What the gap allowance says from no gap to the widest.
func TestGapAllowance(t *testing.T) {
	for name, tt := range map[string]struct {
		gap, leg geometry.Length
		drawing  joints.Opt
		units    geometry.Unit
		want     check.Verdict
	}{
		"no gap":                       {0, 5, joints.Opt{}, geometry.UnitMM, check.Met},
		"free gap":                     {2, 5, joints.Some(5), geometry.UnitMM, check.Met},
		"free gap in the inch column":  {1.6, 5, joints.Opt{}, geometry.UnitInch, check.CannotTell},
		"leg increased":                {2.5, 7.5, joints.Some(5), geometry.UnitMM, check.Met},
		"leg not increased":            {2.5, 5, joints.Some(5), geometry.UnitMM, check.NotMet},
		"leg not increased by enough":  {2.5, 7.4, joints.Some(5), geometry.UnitMM, check.NotMet},
		"the drawing's leg is unknown": {2.5, 7.5, joints.Opt{}, geometry.UnitMM, check.CannotTell},
		"widest":                       {5, 10, joints.Some(5), geometry.UnitMM, check.Met},
	} {
		t.Run(name, func(t *testing.T) {
			s := tee(t, joints.Tee{Base: plate(12), Stem: plate(12), Gap: tt.gap, Arrow: joints.EqualFillet(tt.leg)})
			f := one(t, &check.Facts{Section: s, DrawingLeg: tt.drawing, Units: tt.units}, "aws-d1.1-reported", "aws-d1.1-reported/gap")
			if f.Verdict != tt.want {
				t.Errorf("want %s, got %s: %+v", tt.want, f.Verdict, f)
			}
		})
	}
}

// The margin at an edge is measured on the plate, above the gap.
func TestEdgeAboveAGap(t *testing.T) {
	for name, tt := range map[string]struct {
		leg, gap geometry.Length
		want     check.Verdict
	}{
		"to the margin":            {4, 0, check.Met},
		"past the margin":          {4.1, 0, check.NotMet},
		"to the margin over a gap": {5, 1, check.Met},
		"past it over a gap":       {5.1, 1, check.NotMet},
		"to the edge":              {6, 0, check.NotMet},
	} {
		t.Run(name, func(t *testing.T) {
			s := lap(t, joints.Lap{Lower: plate(8), Upper: plate(6), Overlap: 40, Gap: tt.gap, Arrow: joints.EqualFillet(tt.leg)})
			f := one(t, &check.Facts{Section: s}, "aisc-360-16", "aisc-360-16/J2.2b-edge")
			if f.Verdict != tt.want {
				t.Errorf("want %s, got %+v", tt.want, f)
			}
		})
	}
}

// The longer leg asks for the length, and one run counts before the seam.
func TestLengthOfUnequalLegs(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(12), Stem: plate(12), Arrow: &joints.Fillet{Legs: [2]geometry.Length{4, 6}}})
	for name, tt := range map[string]struct {
		facts check.Facts
		want  check.Verdict
	}{
		"four times the longer":  {check.Facts{SeamLength: joints.Some(24)}, check.Met},
		"four times the shorter": {check.Facts{SeamLength: joints.Some(16)}, check.NotMet},
		"short runs":             {check.Facts{SeamLength: joints.Some(500), EffectiveLength: joints.Some(20)}, check.NotMet},
	} {
		t.Run(name, func(t *testing.T) {
			tt.facts.Section = s
			if f := one(t, &tt.facts, "aisc-360-16", "aisc-360-16/J2.2b-length"); f.Verdict != tt.want {
				t.Errorf("want %s, got %+v", tt.want, f)
			}
		})
	}
}

// Remedies of a gap where the joint leaves no plain one.
func TestGapRemedies(t *testing.T) {
	full := lap(t, joints.Lap{Lower: plate(8), Upper: plate(6), Overlap: 40, Gap: 5, Arrow: joints.EqualFillet(11)})
	skewed := tee(t, joints.Tee{Base: plate(12), Stem: plate(20), Angle: 60 * geometry.Degree, Other: joints.EqualFillet(20)})
	for name, tt := range map[string]struct {
		facts      check.Facts
		rule, want string
	}{
		"the edge comes down with the gap": {check.Facts{Section: full, Units: geometry.UnitInch}, "gap-maximum",
			"a gap of at most 3/16 in and a leg of at most 13/32 in on the edge of the upper"},
		"no room for a larger leg": {check.Facts{Section: full, DrawingLeg: joints.Some(7)}, "gap",
			"a gap of at most 2 mm and a leg of at most 8 mm on the edge of the upper"},
		"a wedge": {check.Facts{Section: skewed}, "gap-maximum",
			"a gap of at most 5 mm with the end of the stem cut to fit the base"},
	} {
		t.Run(name, func(t *testing.T) {
			if f := one(t, &tt.facts, "aws-d1.1-reported", "aws-d1.1-reported/"+tt.rule); f.Mend != tt.want {
				t.Errorf("want %q, got %q (%s)", tt.want, f.Mend, f.Verdict)
			}
		})
	}
}

func TestSheetUnderTheScope(t *testing.T) {
	for thickness, want := range map[geometry.Length]check.Verdict{0.5: check.Met, 0.49: check.NotApplicable} {
		s := tee(t, joints.Tee{Base: plate(8), Stem: plate(thickness), Arrow: joints.EqualFillet(1)})
		if f := one(t, &check.Facts{Section: s}, "iso-5817-2014/B", "iso-5817-2014/B/503"); f.Verdict != want {
			t.Errorf("%v mm: want %s, got %+v", thickness, want, f)
		}
	}
}

func BenchmarkAllDocuments(b *testing.B) {
	s := lap(b, joints.Lap{Lower: plate(8), Upper: plate(6), Overlap: 20, Gap: 2.5,
		Arrow: &joints.Fillet{Legs: [2]geometry.Length{8, 4}}, Other: &joints.Fillet{Legs: [2]geometry.Length{4, 8}}})
	facts := &check.Facts{Section: s, SeamLength: joints.Some(10), DrawingLeg: joints.Some(4)}
	ids := documents.IDs()
	for b.Loop() {
		if _, err := documents.Run(facts, ids); err != nil {
			b.Fatal(err)
		}
	}
}
