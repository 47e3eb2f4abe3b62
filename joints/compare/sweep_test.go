package compare_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/compare"
	"fay/joints/jointfile"
)

func TestParseSweep(t *testing.T) {
	length := compare.SweepSyntax{Form: jointfile.LengthForm, Bare: geometry.UnitMM}
	inch := compare.SweepSyntax{Form: jointfile.LengthForm, Bare: geometry.UnitInch}
	stepped := func(s compare.SweepSyntax, step string) compare.SweepSyntax { s.Step = step; return s }
	angle := compare.SweepSyntax{Form: jointfile.AngleForm}
	number := compare.SweepSyntax{Form: jointfile.NumberForm}
	word := compare.SweepSyntax{Form: jointfile.TextForm}
	for name, tt := range map[string]struct {
		text string
		syn  compare.SweepSyntax
		want string
	}{
		"both ends":                 {"leg=4..7", length, "4mm 5mm 6mm 7mm"},
		"step after a slash":        {"leg=4..6/0.5", length, "4mm 4.5mm 5mm 5.5mm 6mm"},
		"step apart":                {"leg=4..6", stepped(length, "1"), "4mm 5mm 6mm"},
		"last step falls short":     {"leg=4..6.9/1", length, "4mm 5mm 6mm"},
		"a tenth adds up":           {"leg=0.1..0.3/0.1", length, "0.1mm 0.2mm 0.3mm"},
		"one value":                 {"leg=4..4", length, "4mm"},
		"units of their own":        {"leg=1/8in..1/4in", stepped(length, "1/16in"), "3.175mm 4.7625mm 6.35mm"},
		"fractions":                 {"leg=1/8..1/4", inch, "0.125in 0.1875in 0.25in"},
		"fractions and a step":      {"leg=1/8..1/4/1/32", inch, "0.125in 0.15625in 0.1875in 0.21875in 0.25in"},
		"improper is a step":        {"leg=4..10/3", length, "4mm 7mm 10mm"},
		"list":                      {"leg=4,5,7.5", length, "4 5 7.5"},
		"list of fractions":         {"leg=1/8, 3/16", inch, "1/8 3/16"},
		"angles by five":            {"angle=80..90", angle, "80 85 90"},
		"numbers":                   {"transition=2..4", number, "2 3 4"},
		"words":                     {"prep=none,bevel", word, "none bevel"},
		"range that ends in inches": {`leg=1/8"..1-1/4"/1/2`, inch, "0.125in 0.625in 1.125in"},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := compare.ParseSweep(tt.text, tt.syn)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tt.want, strings.Join(got.Texts, " ")); d != "" || got.Name+"=" != tt.text[:len(got.Name)+1] {
				t.Error("-want +got", d)
			}
		})
	}
	for name, tt := range map[string]struct {
		text string
		syn  compare.SweepSyntax
		want joints.FaultCode
	}{
		"no value":           {"leg=", length, joints.FaultSyntax},
		"no name":            {"=4..5", length, joints.FaultSyntax},
		"no equals":          {"leg", length, joints.FaultSyntax},
		"ends first":         {"leg=6..4", length, joints.FaultRange},
		"step of nothing":    {"leg=4..6/0", length, joints.FaultRange},
		"step below nothing": {"leg=4..6/-1", length, joints.FaultRange},
		"too many":           {"leg=0..10/0.01", length, joints.FaultRange},
		"far too many":       {"leg=0..1e6/1e-300", length, joints.FaultRange},
		"step twice":         {"leg=4..6/1", stepped(length, "1"), joints.FaultConflict},
		"list with a step":   {"leg=4,5", stepped(length, "1"), joints.FaultConflict},
		"not numbers":        {"leg=a..b", length, joints.FaultSyntax},
		"not a number":       {"transition=1..NaN", number, joints.FaultSyntax},
		"hole in the list":   {"leg=4,,5", length, joints.FaultSyntax},
		"twice in the list":  {"leg=4,4", length, joints.FaultDuplicate},
		"range of words":     {"prep=none..bevel", word, joints.FaultSyntax},
		"open end":           {"leg=4..", length, joints.FaultSyntax},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := compare.ParseSweep(tt.text, tt.syn)
			var faults joints.Faults
			if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Code != tt.want || faults[0].Remedy == "" {
				t.Errorf("want %s, got %v", tt.want, err)
			}
		})
	}
}

func TestSubstitute(t *testing.T) {
	for text, want := range map[string]string{
		"stem=t": "stem=8.000000000mm", "leg=0.75t": "leg=6.000000000mm", "leg=0.75*t": "leg=6.000000000mm", "depth=t/2": "depth=4.000000000mm",
		"leg=3t/4": "leg=6.000000000mm", "leg=.5t": "leg=4.000000000mm",
		"leg=4": "leg=4", "align=top": "align=top", "t=4": "t=4", "leg=t+1": "leg=t+1", "leg=t/0": "leg=t/0", "leg=.t": "leg=.t", "t": "t", "leg=2tt": "leg=2tt",
	} {
		if got := compare.Substitute(text, 8); got != want {
			t.Errorf("%s: want %s, got %s", text, want, got)
		}
		if uses := compare.Uses(text); uses != (want != text) && text != "leg=t/0" && text != "leg=.t" {
			t.Errorf("%s: uses t: %v", text, uses)
		}
	}
}

// No text may panic, and what is read is finite, rising and within the range.
func FuzzParseSweep(f *testing.F) {
	for _, s := range []string{"leg=4..10", "leg=4..10/0.5", "leg=4,5,6", "leg=1/8..1/4/1/16", "a=1e9..2", "leg=0..1/1e-9", "=", "x=..", "x=../", "leg=4..6/1/2/3"} {
		f.Add(s, uint8(1), "")
		f.Add(s, uint8(2), "0.5")
	}
	f.Fuzz(func(t *testing.T, text string, form uint8, step string) {
		syn := compare.SweepSyntax{Form: jointfile.Form(form % 4), Bare: []geometry.Unit{geometry.UnitMM, geometry.UnitInch}[form>>2%2], Step: step}
		s, err := compare.ParseSweep(text, syn)
		if err != nil {
			if len(joints.AsFaults(err)) == 0 {
				t.Fatalf("an error without faults: %v", err)
			}
			return
		}
		if s.Name == "" || len(s.Texts) == 0 || len(s.Texts) > compare.MostOptions {
			t.Fatalf("%q: %+v", text, s)
		}
		if syn.Form == jointfile.TextForm || !strings.Contains(text, "..") {
			return
		}
		last := math.Inf(-1)
		for _, v := range s.Texts {
			x, err := compare.ParseValue(s.Name, v, syn)
			if err != nil || x < last-1e-6 {
				t.Fatalf("%q: %v after %v: %v", text, v, last, err)
			}
			last = x
		}
		_ = compare.Substitute(text, 5)
	})
}
