package cli

import (
	"encoding/json"
	"strings"
	"testing"
)

// lettered gives the texts of a drawing in the order they are drawn, as one
// line: what is wrapped on paper is whole again.
func lettered(t *testing.T, environ []string, args ...string) string {
	t.Helper()
	var out, talk strings.Builder
	args = append([]string{"draw"}, append(args, "--to", "json")...)
	if code := Main(args, Env{Stdout: &out, Stderr: &talk, ConfigDir: t.TempDir(), Environ: environ}); code != 0 {
		t.Fatalf("%v: %s", args, talk.String())
	}
	var sheets []struct {
		Items []struct {
			Text string `json:"text"`
		} `json:"items"`
	}
	if err := json.Unmarshal([]byte(out.String()), &sheets); err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, s := range sheets {
		for _, it := range s.Items {
			if it.Text != "" {
				texts = append(texts, it.Text)
			}
		}
	}
	return strings.Join(texts, " ")
}

// TestTravelerSays draws travelers and looks for what the bench must read there.
func TestTravelerSays(t *testing.T) {
	const foot = "../../../../testdata/examples/davit-foot.yaml"
	for name, tt := range map[string]struct {
		args []string
		want []string
		no   []string

		landscape bool
	}{
		"documents behind the checks": {[]string{foot}, []string{"Checked, though not written for aluminium: ISO 5817:2014 level C."}, nil, false},
		"documents that say nothing": {[]string{"../../../../testdata/examples/butt-gunwale.yaml"},
			[]string{"Says nothing of this joint: AISC 360-16."}, []string{"Checked: AISC"}, false},
		"documents that suit the metal": {[]string{"tee", "base=8", "stem=6", "leg=5", "base.material=S355", "stem.material=S355"},
			[]string{"Checked: AISC 360-16; AWS D1.1 as reported; ISO 5817:2014 level C."}, []string{"written for"}, false},
		"unit of the rod fed": {[]string{foot}, []string{"rod per pass arrow 1,25 m/m other 0,995 m/m"}, []string{"bought"}, false},
		"rod of welds alike":  {[]string{"tee", "base=8", "stem=5", "leg=4", "sides=both", "seam.length=600"}, []string{"rod per pass 1,77 m/m rods per part"}, nil, false},
		"rod of each pass": {[]string{"butt", "left=12", "right=12", "prep=double-v", "root-opening=2", "arrow.cap=1", "other.cap=1"},
			[]string{"rod per pass 2,86 m/m"}, nil, false},
		"gas and solvents":       {[]string{foot}, []string{"Phosgene: no chlorinated solvents.", "Shielding gas chokes: air closed spaces."}, nil, false},
		"no gas":                 {[]string{foot, "filler.process=stick", "filler.length=350"}, []string{"Phosgene"}, []string{"Shielding gas"}, false},
		"inch rod":               {[]string{"tee", "base=1/2in", "stem=1/4in", "leg=3/16in", "--units", "in"}, []string{"⌀ 3/32 in"}, []string{"2.4 mm"}, false},
		"unit in inches":         {[]string{"tee", "base=1/2in", "stem=1/4in", "leg=3/16in", "--units", "in"}, []string{"rod per pass 2,55 ft/ft"}, nil, false},
		"standard of the level":  {[]string{foot}, []string{"141 / ISO 5817-C"}, nil, false},
		"standard for aluminium": {[]string{"tee", "base=8", "stem=6", "leg=5", "checks=iso-10042/B"}, []string{"141 / ISO 10042-B"}, nil, false},
		"legs up to the end of a rule": {[]string{foot}, []string{
			"Legs to lay by gap, mm up to arrow other 0,3 (plan) 3 3 0,51 3,5 3,5 over 0,51 not met: iso-5817-2014/C/617"}, nil, false},
		"legs by steps": {[]string{"tee", "base=8", "stem=6", "leg=5", "gap=0.5±0.5", "checks=aws-d1.1-reported"},
			[]string{"up to arrow 0,5 (plan) 5 1 5,5 1,5 6 2 6,5 2,5 7"}, []string{"not met"}, false},
		"two gaps of a cross": {[]string{"cross", "base=8", "upper=5", "lower=4", "arrow.leg=4", "other.leg=4", "lower-arrow.leg=3", "lower-other.leg=3"},
			[]string{"upper gap 0", "lower gap 0", "Legs to lay by upper gap, mm up to arrow other 0 (plan) 4 4 0,5 4,5 4,5", "Legs to lay by lower gap, mm up to arrow other 0 (plan) 3 3 0,5 3,5 3,5"}, nil, false},
		"many columns in inches": {[]string{"cross", "base=1/2in", "upper=5/16in", "lower=1/4in", "arrow.leg=1/4in", "other.leg=1/4in",
			"lower-arrow.leg=3/16in", "lower-other.leg=3/16in", "--units", "in", "--language", "us", "--sheet", "Letter"}, []string{"1/16 5/16 5/16"}, []string{"…"}, true},
		"a single bevel to be fitted": {[]string{"butt", "left=12", "right=12", "prep=single-bevel", "depth=5", "arrow.cap=1"},
			[]string{"root gap 0", "root face 7", "bevel angle 45°", "depth 5", "linear misalignment 0"}, nil, false},
		"a double V to be fitted": {[]string{"butt", "left=12", "right=12", "prep=double-v", "root-opening=2", "arrow.cap=1", "other.cap=1"},
			[]string{"root gap 2", "included angle, both sides 60°", "misalignment 0"}, []string{"depth"}, false},
		"a stem that is not prepared": {[]string{"tee", "base=8", "stem=6", "leg=5"}, nil, []string{"root face", "bevel"}, false},
	} {
		t.Run(name, func(t *testing.T) {
			var environ []string
			if tt.landscape {
				environ = []string{"FAY_ORIENTATION=landscape"}
			}
			got := lettered(t, environ, tt.args...)
			for _, want := range tt.want {
				if !strings.Contains(got, want) {
					t.Errorf("%q is missing in %s", want, got)
				}
			}
			for _, no := range tt.no {
				if strings.Contains(got, no) {
					t.Errorf("%q stands in %s", no, got)
				}
			}
		})
	}
}
