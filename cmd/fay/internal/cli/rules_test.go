package cli

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"fay/joints/check/documents"
)

// rulesRun runs `fay rules` and returns what it says.
func rulesRun(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, talk bytes.Buffer
	code = Main(append([]string{"rules"}, args...), Env{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &talk, ConfigDir: t.TempDir()})
	return code, out.String(), talk.String()
}

func TestRulesList(t *testing.T) {
	code, text, talk := rulesRun(t)
	if code != exitDone || talk != "" {
		t.Fatal(code, talk)
	}
	_, md, _ := rulesRun(t, "--format", "md")
	_, rows, _ := rulesRun(t, "--format", "csv")
	for _, id := range documents.RuleIDs() {
		if !strings.Contains(text, id+" ") || !strings.Contains(md, "| "+id+" |") || !strings.Contains(rows, ","+id+",") {
			t.Errorf("%s is not listed", id)
		}
	}
	if records, err := csv.NewReader(strings.NewReader(rows)).ReadAll(); err != nil || len(records) < len(documents.RuleIDs()) {
		t.Error(err, len(records))
	}
	_, data, _ := rulesRun(t, "--format", "json")
	var res rulesResult
	if err := json.Unmarshal([]byte(data), &res); err != nil || res.Schema != "fay.rules/1" || len(res.Documents) != len(documents.List()) {
		t.Error(err, res.Schema, len(res.Documents))
	}
	if strings.Contains(data, "null") {
		t.Error("absent is absent, never null")
	}
}

func TestRulesExplain(t *testing.T) {
	for _, form := range formats {
		for _, id := range append(documents.RuleIDs(), "aisc-360-16", "iso-10042/C") {
			if code, out, talk := rulesRun(t, id, "--format", form); code != exitDone || out == "" || talk != "" {
				t.Errorf("%s as %s: %d, %s", id, form, code, talk)
			}
		}
	}
	_, text, _ := rulesRun(t, "iso-5817-2014/C/617")
	for _, want := range []string{"g ≤ 0.5 + 0.2·a, at most 3", "secondary", "memory", "Read in:", "fay check tee", "checks=iso-5817-2014/C"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}

func TestRulesUnknown(t *testing.T) {
	for _, tt := range []struct{ id, hint string }{
		{"aisc-360-16/J2.44", "did you mean aisc-360-16/J2.4?"},
		{"aisc-360", "did you mean aisc-360-16?"},
		{"", "lists them"},
	} {
		if code, out, talk := rulesRun(t, tt.id); code != exitInput || out != "" || !strings.Contains(talk, tt.hint) && tt.id != "" {
			t.Errorf("%q: %d, %s", tt.id, code, talk)
		}
	}
	if code, _, talk := rulesRun(t, "aisc-360-16", "aws-d1.2"); code != exitInput || !strings.Contains(talk, "takes one id") {
		t.Errorf("two ids: %d, %s", code, talk)
	}
}
