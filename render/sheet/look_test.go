package sheet_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/render"
	"fay/render/png"
	"fay/render/sheet"
)

var look = flag.String("look", "", "write the example sheets as PNG into this directory")

type example struct {
	name string
	o    sheet.Options
	job  sheet.Job
}

// build makes a section through the kind's description, as a file would.
func build(tb testing.TB, in joints.Input) *joints.Section {
	tb.Helper()
	s, err := joints.Build(in)
	if err != nil {
		tb.Fatal(err)
	}
	return &s
}

func length(mm float64) joints.Value {
	return joints.Value{Text: fmt.Sprint(mm), Number: mm}
}

func pair(a, b float64) joints.Value {
	return joints.Value{Text: fmt.Sprintf("[%g, %g]", a, b), Number: a, List: []float64{a, b}}
}

func plateOf(mm float64, material string) joints.PlateInput {
	return joints.PlateInput{Thickness: length(mm), Material: material}
}

func weld(values ...any) map[string]joints.Value {
	m := map[string]joints.Value{}
	for i := 0; i < len(values); i += 2 {
		switch v := values[i+1].(type) {
		case float64:
			m[values[i].(string)] = length(v)
		case string:
			m[values[i].(string)] = joints.Value{Text: v, Choice: v}
		case joints.Value:
			m[values[i].(string)] = v
		}
	}
	return m
}

func toleranced(mm, plus, minus float64) joints.Value {
	return joints.Value{Text: fmt.Sprint(mm), Number: mm, Tolerance: &joints.Tolerance{Plus: plus, Minus: minus}}
}

func davitFoot(tb testing.TB) *joints.Section {
	tb.Helper()
	return build(tb, joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(8, "EN AW-5083"), "stem": plateOf(3, "EN AW-6082")},
		Values: map[string]joints.Value{"gap": toleranced(0.3, 0.3, -0.3)},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 3.0), "other": weld("leg", 3.0)}})
}

func fullJob(sec *joints.Section) sheet.Job {
	return sheet.Job{
		Section: sec, Company: "Canal-boat yard", Number: "CB-117", Part: "davit foot", Joint: "W3", Revision: "B",
		Quantity: "16", Date: "2025-03-14", Planner: "R. Poole",
		Materials: []sheet.Line{{"base", "8 mm EN AW-5083 H111, sawn"}, {"stem", "3 mm EN AW-6082 T6, sheared, deburred"}},
		Filler: []sheet.Line{{"filler", "5183, ø 2.4 mm, GTAW"}, {"deposited", "0.024 kg/m"}, {"rods, 1000 mm", "2.1 per m, 7 for the batch"},
			{"passes", "1"}, {"rod per 100 mm of weld", "199 mm"}, {"1 mm over on the leg", "+78 % filler"}},
		Findings: findings(),
		Notes:    []string{"Weld the far side within the hour, before the stem pulls over."},
		Digest:   "sha256:9f2c4e1b77aa03d5",
	}
}

func findings() []check.Finding {
	ten, three := 3.0, 5.0
	legs := check.Finding{Rule: "aisc-360-16/J2.4", Title: "Minimum leg by thickness", Source: check.Source{Document: "AISC 360", Edition: "2016", Clause: "Table J2.4"},
		Provenance: check.Primary, Weld: "arrow", Provided: &ten, Required: &three, Unit: joints.UnitMM, Operator: check.AtLeast, Verdict: check.NotMet, Mend: "lay a leg of 5 mm"}
	met := check.Finding{Title: "Convexity", Verdict: check.Met}
	out := []check.Finding{legs}
	for range 7 {
		out = append(out, met)
	}
	return append(out, check.Finding{Title: "x", Verdict: check.CannotTell}, check.Finding{Title: "y", Verdict: check.NotApplicable})
}

func examples(tb testing.TB) []example {
	tb.Helper()
	us := sheet.Options{Size: sheet.Letter, Language: render.LanguageUS, Unit: geometry.UnitInch, Denominator: 16}
	portrait, landscape := us, us
	portrait.Orientation, landscape.Orientation = sheet.Portrait, sheet.Landscape
	skew := build(tb, joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(10, "EN AW-5083"), "stem": plateOf(5, "EN AW-5083")},
		Values: map[string]joints.Value{"angle": {Text: "60", Number: 60 * float64(geometry.Degree), Tolerance: &joints.Tolerance{Plus: 2, Minus: -2}}},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 5.0), "other": weld("leg", 7.0)}})
	fitted := build(tb, joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(8, "S235"), "stem": plateOf(4, "S235")},
		Values: map[string]joints.Value{"angle": {Text: "120", Number: 120 * float64(geometry.Degree)}, "gap": length(0.5), "stem-end": {Text: "fitted", Choice: "fitted"}},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 4.0), "other": weld("leg", 4.0)}})
	thin := build(tb, joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(20, ""), "stem": plateOf(2, "")},
		Values: map[string]joints.Value{},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 2.5, "face", "convex", "rise", 0.4), "other": weld("leg", 2.5, "face", "convex", "rise", 0.4)}})
	lap := build(tb, joints.Input{Kind: "lap",
		Plates: map[string]joints.PlateInput{"lower": plateOf(6, "EN AW-5083"), "upper": plateOf(4, "EN AW-5754")},
		Values: map[string]joints.Value{"overlap": toleranced(30, 1, -1)},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 4.0)}})
	lapGap := build(tb, joints.Input{Kind: "lap",
		Plates: map[string]joints.PlateInput{"lower": plateOf(6, "EN AW-5083"), "upper": plateOf(5, "EN AW-5083")},
		Values: map[string]joints.Value{"overlap": length(25), "gap": toleranced(0.6, 0.4, -0.6)},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 4.0), "other": weld("leg", pair(5, 4))}})
	inch := build(tb, joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(12.7, "6061-T6"), "stem": plateOf(6.35, "6061-T6")},
		Values: map[string]joints.Value{"gap": toleranced(25.4/32, 25.4/32, -25.4/32)},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 25.4*3/16), "other": weld("leg", 25.4/4, "face", "concave", "rise", 0.4)}})
	melted := build(tb, joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(8, "S355"), "stem": plateOf(6, "S355")},
		Values: map[string]joints.Value{},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 5.0, "penetration", 1.0, "fusion", pair(1, 0.6), "face", "convex", "rise", 0.5)}})
	return []example{
		{"davit-a4", sheet.Options{}, fullJob(davitFoot(tb))},
		{"davit-a4-landscape", sheet.Options{Orientation: sheet.Landscape}, fullJob(davitFoot(tb))},
		{"skew-a4", sheet.Options{}, fullJob(skew)},
		{"fitted-a4", sheet.Options{Language: render.LanguageUS}, fullJob(fitted)},
		{"thin-a4", sheet.Options{}, fullJob(thin)},
		{"lap-a4", sheet.Options{}, fullJob(lap)},
		{"lap-gap-a4", sheet.Options{}, fullJob(lapGap)},
		{"melted-a4", sheet.Options{}, fullJob(melted)},
		{"inch-letter-portrait", portrait, fullJob(inch)},
		{"inch-letter-landscape", landscape, fullJob(inch)},
		{"bare", sheet.Options{}, sheet.Job{Section: davitFoot(tb)}},
	}
}

func TestLook(t *testing.T) {
	if *look == "" {
		t.Skip("writes pictures for looking at; run with -look dir")
	}
	for _, e := range examples(t) {
		sheets, err := sheet.Compose(e.job, e.o)
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range sheets {
			for _, v := range d.Views {
				t.Logf("%s %d: %s %g", e.name, i+1, v.Name, v.Scale)
			}
			f, err := os.Create(filepath.Join(*look, fmt.Sprintf("%s-%d.png", e.name, i+1)))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Write(f, d, 130); err != nil {
				t.Error(err)
			}
			f.Close()
		}
	}
}
