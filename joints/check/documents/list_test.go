package documents_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
)

func TestList(t *testing.T) {
	var defaults []string
	rules := 0
	for _, e := range documents.List() {
		if e.Default {
			defaults = append(defaults, e.ID)
		}
		if e.Scope == nil || len(e.Rules) == 0 {
			t.Errorf("%+v", e)
		}
		rules += len(e.Rules)
	}
	if d := cmp.Diff([]string{"aisc-360-16", "aws-d1.1-reported", "iso-5817-2014/C"}, defaults); d != "" {
		t.Error("-want +got", d)
	}
	if rules != len(documents.RuleIDs()) {
		t.Errorf("%d rules listed of %d", rules, len(documents.RuleIDs()))
	}
}

// Every rule is explained, and shown at work on a joint.
func TestExplain(t *testing.T) {
	for _, id := range documents.RuleIDs() {
		e, err := documents.Explain(strings.ToUpper(id))
		if err != nil {
			t.Fatal(err)
		}
		if e.ID != id || e.Document == "" || e.Formula == "" || e.Read == "" || len(e.Values) == 0 {
			t.Errorf("%+v", e)
		}
		switch {
		case e.Example == nil && id != "iso-5817-2014/D/5214": // which permits anything
			t.Errorf("%s has no example", id)
		case e.Example != nil && e.Example.Finding.Rule != id:
			t.Errorf("%s: an example of %s", id, e.Example.Finding.Rule)
		}
	}
}

func TestExplainUnknown(t *testing.T) {
	for id, remedy := range map[string]string{
		"aisc-360-16/J2.5":       "did you mean aisc-360-16/J2.4?",
		"aws-d1.1-reported/gaps": "did you mean aws-d1.1-reported/gap?",
		"blodgett/rigidity":      "name one of its rules: blodgett/rigidity/leg",
	} {
		_, err := documents.Explain(id)
		faults := joints.AsFaults(err)
		if len(faults) != 1 || faults[0].Code != joints.FaultUnknown || faults[0].Remedy != remedy {
			t.Errorf("%s: want %q, got %v", id, remedy, err)
		}
	}
}

// What memory alone says never decides; what was read does.
func TestMemoryNeverDecides(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(40), Stem: plate(8), Arrow: joints.EqualFillet(2.5)})
	for id, fails := range map[string]bool{"en-1993-1-8/DE": false, "aws-d1.2/minimum-leg": false, "csa-w59/minimum-leg": false, "aisc-360-16": true, "superseded/minimum-leg": true} {
		findings, err := documents.Run(&check.Facts{Section: s}, []string{id})
		if err != nil {
			t.Fatal(err)
		}
		missed := 0
		for _, f := range findings {
			if f.Verdict == check.NotMet {
				missed++
			}
		}
		if missed == 0 || check.Failed(findings) != fails {
			t.Errorf("%s: %d not met, failed %v", id, missed, check.Failed(findings))
		}
	}
	findings, err := documents.Run(&check.Facts{Section: s, Units: 1}, []string{"superseded/minimum-leg"})
	if err != nil || len(findings) != 1 {
		t.Fatal(err, findings)
	}
}
