package config

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// seenFault is what the tests of faults compare.
type seenFault struct {
	Code FaultCode
	Key  string
	Line int
}

func seen(t *testing.T, err error) []seenFault {
	t.Helper()
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatalf("error %v is not Faults", err)
	}
	out := make([]seenFault, 0, len(faults))
	for _, f := range faults {
		if f.Rule == "" || f.Remedy == "" {
			t.Errorf("fault without rule or remedy: %+v", f)
		}
		out = append(out, seenFault{f.Code, f.Key, f.Origin.Line})
	}
	return out
}

func TestFaults(t *testing.T) {
	tests := []struct {
		name string
		text string
		want []seenFault
	}{
		{"unknown key", "units: mm\nshete: A4\n", []seenFault{{FaultUnknownKey, "shete", 2}}},
		{"keys are lower case", "Sheet: A4\n", []seenFault{{FaultUnknownKey, "Sheet", 1}}},
		{"unknown key in a section", "filler:\n  diamter: 2.4\n", []seenFault{{FaultUnknownKey, "filler.diamter", 2}}},
		{"a dotted key is not a section", "filler.type: 5356\n", []seenFault{{FaultUnknownKey, "filler.type", 1}}},
		{"key given twice", "sheet: A4\nsheet: Letter\n", []seenFault{{FaultDuplicate, "sheet", 2}}},
		{"word not allowed", "sheet: A5\n", []seenFault{{FaultValue, "sheet", 1}}},
		{"denominator not a power of two", "denominator: 12\n", []seenFault{{FaultValue, "denominator", 1}}},
		{"denominator of one", "denominator: 1\n", []seenFault{{FaultValue, "denominator", 1}}},
		{"denominator too fine", "denominator: 128\n", []seenFault{{FaultValue, "denominator", 1}}},
		{"not a length", "filler: {diameter: thick}\n", []seenFault{{FaultValue, "filler.diameter", 1}}},
		{"not a number", "filler: {diameter: .nan}\n", []seenFault{{FaultValue, "filler.diameter", 1}}},
		{"millimetres taken for inches", "units: in\nfiller: {diameter: 2.4}\n", []seenFault{{FaultRange, "filler.diameter", 2}}},
		{"stub as long as the rod", "filler: {length: 300mm, stub: 300mm}\n", []seenFault{{FaultRange, "filler.stub", 1}}},
		{"filler not on file", "filler: {type: 5365x}\n", []seenFault{{FaultName, "filler.type", 1}}},
		{"list where a word belongs", "sheet: [A4]\n", []seenFault{{FaultShape, "sheet", 1}}},
		{"word where a section belongs", "filler: 5356\n", []seenFault{{FaultShape, "filler", 1}}},
		{"value missing", "sheet:\nunits: mm\n", []seenFault{{FaultMissing, "sheet", 1}}},
		{"whole file a list", "- a\n- b\n", []seenFault{{FaultShape, "", 1}}},
		{"not YAML", "sheet: [A4\n", []seenFault{{FaultSyntax, "", 1}}},
		{"anchors are refused", "sheet: &x A4\n", []seenFault{{FaultShape, "sheet", 1}}},
		{"two documents", "sheet: A4\n---\nsheet: Letter\n", []seenFault{{FaultSyntax, "", 3}}},
		{"process not on file", "process: gtwa\n", []seenFault{{FaultValue, "process", 1}}},
		{"document misnamed", "checks:\n  - aisc-360-16\n  - AISC 360\n", []seenFault{{FaultValue, "checks[1]", 3}}},
		{"document twice", "checks: [a-1, a-1]\n", []seenFault{{FaultDuplicate, "checks[1]", 1}}},
		{"company line too long", "company: " + strings.Repeat("m", 61) + "\n", []seenFault{{FaultRange, "company", 1}}},
		{"company on two lines", "company: \"a\\nb\"\n", []seenFault{{FaultValue, "company", 1}}},
		{"own filler without anything", "fillers:\n  - {}\n", []seenFault{{FaultMissing, "fillers[0]", 2}}},
		{
			"new filler without density and family", "fillers:\n  - name: house rod\n",
			[]seenFault{{FaultMissing, "fillers[0]", 2}, {FaultMissing, "fillers[0]", 2}},
		},
		{"density in the wrong unit", "fillers:\n  - name: 5356\n    density: 2660\n", []seenFault{{FaultRange, "fillers[0].density", 3}}},
		{"filler twice", "fillers:\n  - {name: 5356, density: 2.6}\n  - {name: ER5356, density: 2.7}\n", []seenFault{{FaultDuplicate, "fillers[1].name", 3}}},
		{"alias of another", "fillers:\n  - {name: 5356, aliases: [4043]}\n", []seenFault{{FaultDuplicate, "fillers[0].aliases[0]", 2}}},
		{"like nothing on file", "materials:\n  - {name: hatch, like: 5038x1}\n", []seenFault{{FaultName, "materials[0].like", 2}}},
		{"like beside a name on file", "materials:\n  - {name: 5083, like: 6082}\n", []seenFault{{FaultValue, "materials[0].like", 2}}},
		{"entry key misspelt", "materials:\n  - name: 5083\n    densty: 2.66\n", []seenFault{{FaultUnknownKey, "materials[0].densty", 3}}},
		{"flag neither true nor false", "materials:\n  - {name: 5083, heat-treatable: maybe}\n", []seenFault{{FaultValue, "materials[0].heat-treatable", 2}}},
		{"price without a currency", "prices:\n  - {filler: 5183, pack: 5kg, price: 90}\n", []seenFault{{FaultMissing, "prices[0].price", 2}}},
		{"rates without a currency", "cost:\n  labour: 40\n  gas: 9\n", []seenFault{{FaultMissing, "cost.labour", 2}, {FaultMissing, "cost.gas", 3}}},
		{"price with its currency in the number", "cost: {currency: EUR}\nprices:\n  - {filler: 5183, pack: 5kg, price: 90 EUR}\n", []seenFault{{FaultValue, "prices[0].price", 3}}},
		{"price of nothing", "cost: {currency: EUR}\nprices:\n  - {filler: 5183, pack: 5kg, price: 0}\n", []seenFault{{FaultRange, "prices[0].price", 3}}},
		{"price not a number", "cost: {currency: EUR}\nprices:\n  - {filler: 5183, pack: 5kg, price: .nan}\n", []seenFault{{FaultValue, "prices[0].price", 3}}},
		{"price of a filler not on file", "cost: {currency: EUR}\nprices:\n  - {filler: 5l83x9, pack: 5kg, price: 9}\n", []seenFault{{FaultName, "prices[0].filler", 3}}},
		{"price without a pack", "cost: {currency: EUR}\nprices:\n  - {filler: 5183, price: 9}\n", []seenFault{{FaultMissing, "prices[0]", 3}}},
		{"pack in the wrong unit", "filler: {pack: 5000}\n", []seenFault{{FaultRange, "filler.pack", 1}}},
		{"the same price twice", "cost: {currency: EUR}\nprices:\n  - {filler: 5183, pack: 5kg, price: 9}\n  - {filler: ER5183, pack: 5000 g, price: 8}\n", []seenFault{{FaultDuplicate, "prices[1]", 4}}},
		{"currency with a number", "cost: {currency: 5 EUR}\n", []seenFault{{FaultValue, "cost.currency", 1}}},
		{"arc all the time and more", "cost: {arc-share: 120}\n", []seenFault{{FaultRange, "cost.arc-share", 1}}},
		{"negative allowance", "allowances: {waste: -3}\n", []seenFault{{FaultRange, "allowances.waste", 1}}},
		{"tacks larger than the weld", "allowances: {tack: 101}\n", []seenFault{{FaultRange, "allowances.tack", 1}}},
		{"more waste than work", "allowances: {oversize: 150, waste: 150}\n", []seenFault{{FaultRange, "allowances.waste", 1}}},
		{"rod shorter than its usual stub", "filler: {length: 50}\n", []seenFault{{FaultRange, "filler.length", 1}}},
		{"density of another family", "fillers:\n  - {name: 5356, density: 7.85}\n", []seenFault{{FaultRange, "fillers[0].density", 2}}},
		{"density of no steel", "materials:\n  - {name: deck plate, family: steel, density: 2.7}\n", []seenFault{{FaultRange, "materials[0].density", 2}}},
		{"process twice", "processes:\n  - {process: tig, gas-flow: 8}\n  - {process: gtaw}\n", []seenFault{{FaultDuplicate, "processes[1].process", 3}}},
		{"speed in the wrong unit", "processes:\n  - {process: tig, travel-speed: 2}\n", []seenFault{{FaultRange, "processes[0].travel-speed", 2}}},
		{"flow that is no flow", "processes:\n  - {process: tig, gas-flow: 8 m/s}\n", []seenFault{{FaultValue, "processes[0].gas-flow", 2}}},
		{
			"all faults at once, in reading order", "units: furlong\nfiller:\n  stub: -1\nshete: A4\nlanguage: fr\n",
			[]seenFault{
				{FaultValue, "units", 1},
				{FaultRange, "filler.stub", 3},
				{FaultUnknownKey, "shete", 4},
				{FaultValue, "language", 5},
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Load(Options{File: write(t, tt.text), Environ: noEnv})
			if err == nil {
				t.Fatal("no error")
			}
			if diff := cmp.Diff(tt.want, seen(t, err)); diff != "" {
				t.Errorf("faults (-want +got):\n%s\n%v", diff, err)
			}
			if diff := cmp.Diff(Loaded{}, got); diff != "" {
				t.Errorf("something was loaded beside an error:\n%s", diff)
			}
		})
	}
}

func TestMessages(t *testing.T) {
	tests := []struct {
		name string
		text string
		want string // after the path
	}{
		{"unknown key", "shete: A4\n", `:1:1: shete: no such setting; did you mean "sheet"?`},
		{"unknown key, right section missing", "stub-fused: true\n", `:1:1: stub-fused: no such setting; write it indented under "filler"`},
		{"wrong word", "sheet: leter\n", `:1:8: sheet: "leter": allowed: A4, A3, Letter; did you mean "Letter"?`},
		{"filler", "filler:\n  type: 5336\n", `:2:9: filler.type: "5336": no such filler; did you mean "5356"?`},
		{
			"length", "filler:\n  diameter: thick\n",
			`:2:13: filler.diameter: "thick": a length from 0.3 mm to 12 mm; no number here; write a number such as 6, 0.25 or 1/4`,
		},
		{"dotted key", "filler.type: 5356\n", `:1:1: filler.type: no such setting; write "type" indented under "filler"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := write(t, tt.text)
			_, err := Load(Options{File: path, Environ: noEnv})
			if err == nil {
				t.Fatal("no error")
			}
			if diff := cmp.Diff(path+tt.want, err.Error()); diff != "" {
				t.Errorf("message (-want +got):\n%s", diff)
			}
		})
	}
}

func TestFileLimits(t *testing.T) {
	dir := t.TempDir()
	tests := []struct {
		name string
		path string
		want FaultCode
	}{
		{"missing file", filepath.Join(dir, "none.yaml"), FaultFile},
		{"a folder", dir, FaultFile},
		{"ten megabytes", write(t, strings.Repeat("# filler rods\n", 10<<20/14)), FaultTooLarge},
		{"one byte beyond 1 MiB", write(t, strings.Repeat("#", MaxFileBytes+1)), FaultTooLarge},
		{"a million brackets", write(t, strings.Repeat("[", MaxFileBytes)), FaultTooLarge},
		{"a few brackets too deep", write(t, "checks: "+strings.Repeat("[", 33)+strings.Repeat("]", 33)), FaultTooLarge},
		{"very many keys", write(t, strings.Repeat("a: 1\n", 150_000)), FaultTooLarge},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Load(Options{File: tt.path, Environ: noEnv})
			if diff := cmp.Diff([]FaultCode{tt.want}, codes(t, err)); diff != "" {
				t.Errorf("codes (-want +got):\n%s", diff)
			}
		})
	}
	if _, err := Load(Options{File: write(t, strings.Repeat("#", MaxFileBytes)), Environ: noEnv}); err != nil {
		t.Errorf("a file of exactly 1 MiB: %v", err)
	}
}

func codes(t *testing.T, err error) []FaultCode {
	t.Helper()
	var out []FaultCode
	for _, f := range seen(t, err) {
		out = append(out, f.Code)
	}
	return out
}

func TestEnvironment(t *testing.T) {
	got, err := Load(Options{Dir: t.TempDir(), Environ: []string{
		"FAY_SHETE=A4", "FAY_REQUIRE_TOOLS=1", "FAYETTE=x", "FAY_UNITS=in",
	}})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Warnings) != 1 || got.Warnings[0].Origin.Name != "FAY_SHETE" || !strings.Contains(got.Warnings[0].Remedy, "FAY_SHEET") {
		t.Errorf("warnings = %v, want one that leads from FAY_SHETE to FAY_SHEET", got.Warnings)
	}
	_, err = Load(Options{Dir: t.TempDir(), Environ: []string{"FAY_SHEET=A5"}})
	if want := `environment FAY_SHEET: sheet: "A5": allowed: A4, A3, Letter; `; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("error = %v, want it to begin %q", err, want)
	}
}

func TestOverrideFaults(t *testing.T) {
	_, err := Load(Options{Dir: t.TempDir(), Environ: noEnv, Overrides: []Override{
		{Key: "shet", Value: "A4"}, {Key: "fillers", Value: "x"}, {Key: "units", Value: "ell", Name: "--units"},
	}})
	want := []seenFault{{FaultUnknownKey, "shet", 0}, {FaultShape, "fillers", 0}, {FaultValue, "units", 0}}
	if diff := cmp.Diff(want, seen(t, err)); diff != "" {
		t.Errorf("faults (-want +got):\n%s", diff)
	}
}

func TestDocumentsOnFile(t *testing.T) {
	opts := Options{File: write(t, "checks: [aisc-360-16, iso-5817-2015/C]\n"), Environ: noEnv, Documents: []string{"aisc-360-16", "iso-5817-2014"}}
	_, err := Load(opts)
	if err == nil || !strings.Contains(err.Error(), `did you mean "iso-5817-2014"?`) {
		t.Errorf("error = %v, want the nearest document", err)
	}
	opts.Documents[1] = "iso-5817-2015"
	if _, err := Load(opts); err != nil {
		t.Errorf("documents on file: %v", err)
	}
}
