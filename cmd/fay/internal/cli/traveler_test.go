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
	}{
		"documents behind the checks": {[]string{foot}, []string{"Checked: ISO 5817:2014 level C.", "written for steel, stainless, nickel, titanium, not for aluminium"}, nil},
		"documents that suit the metal": {[]string{"tee", "base=8", "stem=6", "leg=5", "base.material=S355", "stem.material=S355"},
			[]string{"Checked: AISC 360-16; AWS D1.1 as reported; ISO 5817:2014 level C."}, []string{"written for"}},
		"unit of the rod fed":    {[]string{foot}, []string{"rod per weld length 2,24 m/m"}, nil},
		"unit in inches":         {[]string{"tee", "base=1/2in", "stem=1/4in", "leg=3/16in", "--units", "in"}, []string{"rod per weld length 2,51 ft/ft"}, nil},
		"standard of the level":  {[]string{foot}, []string{"141 / ISO 5817-C"}, nil},
		"standard for aluminium": {[]string{"tee", "base=8", "stem=6", "leg=5", "checks=iso-10042/B"}, []string{"141 / ISO 10042-B"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			got := lettered(t, nil, tt.args...)
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
