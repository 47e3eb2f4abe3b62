package config

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
)

// noEnv is an empty environment; nil would be that of the process.
var noEnv = []string{}

func write(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.yaml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func defaults() Settings {
	return Settings{
		Units: geometry.UnitMM, Inches: Fractions, Denominator: 16,
		Sheet: A4, Orientation: Auto, Language: ISO, Style: ISO,
		Filler:  FillerDefaults{Diameter: 2.4, Length: 1000, Stub: 50},
		Process: GTAW, Checks: []string{},
		Costs: Costs{ArcShare: 1}, Cylinder: 10,
	}
}

func TestDefaults(t *testing.T) {
	got, err := Load(Options{Dir: t.TempDir(), Environ: noEnv})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(defaults(), got.Settings); diff != "" {
		t.Errorf("settings (-want +got):\n%s", diff)
	}
	if got.File != "" {
		t.Errorf("file read: %q, want none", got.File)
	}
	for _, e := range got.Entries {
		if e.Origin.Layer != LayerDefault {
			t.Errorf("%s comes from %s, want default", e.Key, e.Origin)
		}
	}
}

// TestLayers gives every layer the same key and takes the layers away one by
// one, strongest first.
func TestLayers(t *testing.T) {
	dir := t.TempDir()
	own := filepath.Join(dir, "fay", "settings.yaml")
	if err := os.MkdirAll(filepath.Dir(own), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(own, []byte("# shop\nfiller:\n  type: 4043\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	named := write(t, "filler: {type: 5183}\n")
	env := []string{"PATH=/bin", "FAY_FILLER_TYPE=5556"}
	flag := []Override{{Key: "filler.type", Value: "5554", Name: "--filler"}}
	tests := []struct {
		name   string
		opts   Options
		want   string
		origin string
	}{
		{"an override wins over all", Options{Dir: dir, File: named, Environ: env, Overrides: flag}, "5554", "--filler"},
		{"the environment wins over files", Options{Dir: dir, File: named, Environ: env}, "5556", "environment FAY_FILLER_TYPE"},
		{"a named file replaces the user's own", Options{Dir: dir, File: named, Environ: noEnv}, "5183", named + ":1"},
		{"the user's own file wins over defaults", Options{Dir: dir, Environ: noEnv}, "4043", own + ":3"},
		{"defaults serve last", Options{Dir: t.TempDir(), Environ: noEnv}, "", "default"},
		{
			"a later override wins",
			Options{Dir: dir, Environ: noEnv, Overrides: append(flag, Override{Key: "filler.type", Value: "1100"})},
			"1100", "command line",
		},
		{"an empty variable is not set", Options{Dir: dir, Environ: []string{"FAY_FILLER_TYPE="}}, "4043", own + ":3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Load(tt.opts)
			if err != nil {
				t.Fatal(err)
			}
			if got.Settings.Filler.Type != tt.want {
				t.Errorf("filler.type = %q, want %q", got.Settings.Filler.Type, tt.want)
			}
			origin, ok := got.Origin("filler.type")
			if !ok || origin.String() != tt.origin {
				t.Errorf("origin = %q, want %q", origin, tt.origin)
			}
		})
	}
}

func TestProcessEnvironmentIsReadByDefault(t *testing.T) {
	t.Setenv("FAY_SHEET", "letter")
	got, err := Load(Options{Dir: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	if got.Settings.Sheet != Letter {
		t.Errorf("sheet = %q, want %q", got.Settings.Sheet, Letter)
	}
}

// TestEveryKey sets every key in a file and again through the environment and
// wants the same settings, so that no key is forgotten in a layer.
func TestEveryKey(t *testing.T) {
	// Lists of entries need a file.
	const lists = "machines:\n  - {name: bench TIG, current: 250 A}\n"
	text := lists + `units: in
inches: decimals
denominator: 32
sheet: Letter
orientation: landscape
language: us
style: iso
company: Lock Street boat yard
logo: /yard/mark.svg
filler:
  type: ER5183
  diameter: 3/32
  length: 36
  stub: 2
  stub-fused: true
  pack: 10 lb
allowances: {oversize: 21, tack: 2, waste: 5 %}
gas: {cylinder: 250 cf}
cost: {currency: USD, labour: 46.5, gas: 12.5, arc-share: 30}
process: TIG
machine: Bench-TIG
checks: [aisc-360-16, ISO-5817-2014/C]
`
	want := Settings{
		Units: geometry.UnitInch, Inches: Decimals, Denominator: 32,
		Sheet: Letter, Orientation: Landscape, Language: US, Style: ISO,
		Company: "Lock Street boat yard", Logo: "/yard/mark.svg",
		Filler: FillerDefaults{
			Type: "5183", Diameter: 3.0 / 32 * geometry.Inch, Length: 36 * geometry.Inch,
			Stub: 2 * geometry.Inch, StubFused: true, Pack: 10 * 0.45359237,
		},
		Allowances: Allowances{Oversize: 0.21, Tack: 0.02, Waste: 0.05},
		Costs:      Costs{Currency: "USD", Labour: 46.5, Gas: 12.5, ArcShare: 0.3}, Cylinder: 250 * 0.028316846592,
		Process: GTAW, Checks: []string{"aisc-360-16", "iso-5817-2014/C"},
		Machines:       []Machine{{Name: "bench TIG", Current: 250, Source: Source{"shop settings", Shop}}},
		DefaultMachine: "bench TIG",
	}
	file, err := Load(Options{File: write(t, text), Environ: noEnv})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, file.Settings, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("from a file (-want +got):\n%s", diff)
	}
	environ := []string{
		"FAY_UNITS=in", "FAY_INCHES=decimals", "FAY_DENOMINATOR=32", "FAY_SHEET=Letter", "FAY_ORIENTATION=landscape",
		"FAY_LANGUAGE=us", "FAY_STYLE=iso", "FAY_COMPANY=Lock Street boat yard", "FAY_LOGO=/yard/mark.svg", "FAY_FILLER_TYPE=ER5183",
		"FAY_FILLER_DIAMETER=3/32", "FAY_FILLER_LENGTH=36", "FAY_FILLER_STUB=2", "FAY_FILLER_STUB_FUSED=true",
		"FAY_FILLER_PACK=10 lb", "FAY_ALLOWANCES_OVERSIZE=21", "FAY_ALLOWANCES_TACK=2", "FAY_ALLOWANCES_WASTE=5 %",
		"FAY_GAS_CYLINDER=250 cf", "FAY_COST_CURRENCY=USD", "FAY_COST_LABOUR=46.5", "FAY_COST_GAS=12.5", "FAY_COST_ARC_SHARE=30",
		"FAY_PROCESS=TIG", "FAY_MACHINE=bench tig", "FAY_CHECKS=aisc-360-16, ISO-5817-2014/C",
	}
	env, err := Load(Options{File: write(t, lists), Environ: environ})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, env.Settings, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("from the environment (-want +got):\n%s", diff)
	}
	var overrides []Override
	for _, e := range env.Entries {
		if e.Env == "" {
			continue
		}
		if e.Origin.Layer != LayerEnvironment {
			t.Errorf("%s comes from %s: the list above misses it", e.Key, e.Origin)
		}
		overrides = append(overrides, Override{Key: e.Key, Value: e.Value})
	}
	// What is printed can be given again.
	again, err := Load(Options{File: write(t, lists), Environ: noEnv, Overrides: overrides})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, again.Settings, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Errorf("printed values given again (-want +got):\n%s", diff)
	}
}

func TestStyleFollowsLanguage(t *testing.T) {
	for _, tt := range []struct {
		name string
		text string
		want Convention
	}{
		{"us words bring us lines", "language: us", US},
		{"auto follows too", "language: us\nstyle: auto", US},
		{"unless set apart", "language: us\nstyle: iso", ISO},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Load(Options{File: write(t, tt.text), Environ: noEnv})
			if err != nil {
				t.Fatal(err)
			}
			if got.Settings.Style != tt.want {
				t.Errorf("style = %q, want %q", got.Settings.Style, tt.want)
			}
		})
	}
}

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

// TestWholeListReplaced: a list from the environment replaces the file's list
// and its faults do not point into the file.
func TestWholeListReplaced(t *testing.T) {
	path := write(t, "checks: [a-1, b-2, c-3]\n")
	got, err := Load(Options{File: path, Environ: []string{"FAY_CHECKS=d-4"}})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"d-4"}, got.Settings.Checks); diff != "" {
		t.Errorf("checks (-want +got):\n%s", diff)
	}
	_, err = Load(Options{File: path, Environ: []string{"FAY_CHECKS=D 4"}})
	if err == nil || !strings.HasPrefix(err.Error(), "environment FAY_CHECKS: ") {
		t.Errorf("error = %v, want it to name the variable", err)
	}
}

func TestTemplate(t *testing.T) {
	text := Template()
	for _, k := range keys {
		if env := k.env(); env != "" && !strings.Contains(text, "("+env+")") {
			t.Errorf("the starter file does not name %s", env)
		}
	}
	asIs, err := Load(Options{File: write(t, text), Environ: noEnv})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(defaults(), asIs.Settings); diff != "" {
		t.Errorf("as it stands (-want +got):\n%s", diff)
	}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		bare := strings.TrimLeft(line, " ")
		indent := line[:len(line)-len(bare)]
		switch rest, comment := strings.CutPrefix(bare, "#"); {
		case !comment && line != "":
			t.Errorf("line %q is in force", line)
		case rest != "" && rest[0] != ' ':
			lines[i] = indent + rest
		}
	}
	open := strings.Join(lines, "\n")
	got, err := Load(Options{File: write(t, open), Environ: noEnv})
	if err != nil {
		t.Fatalf("%v\n%s", err, open)
	}
	if n := len(got.Settings.Fillers); n != 2 {
		t.Errorf("%d own fillers in the example, want 2", n)
	}
	for _, e := range got.Entries {
		if e.Origin.Layer != LayerFile {
			t.Errorf("%s comes from %s: the starter file misses it", e.Key, e.Origin)
		}
	}
}

func FuzzSettings(f *testing.F) {
	f.Add([]byte(Template()), "A4")
	f.Add([]byte("filler: {type: 5356, diameter: 3/32in}\nchecks: [a, b]\n"), "Letter")
	f.Add([]byte("fillers:\n  - name: x\n    like: 5356\n    density: 2.7\n"), "")
	f.Add([]byte("materials: [{name: a, like: b}, &x *x]\n<<: {a: b}\n"), "a,b")
	f.Add([]byte("? [a]\n: !!str |\n  b\n"), "\x00")
	f.Fuzz(func(t *testing.T, data []byte, sheet string) {
		environ := []string{"FAY_SHEET=" + sheet, "FAY_CHECKS=" + sheet, "FAY_FILLER_DIAMETER=" + sheet}
		got, err := load("fuzz.yaml", data, Options{Environ: environ})
		if err != nil {
			faults, _ := errors.AsType[Faults](err)
			for _, fault := range faults {
				if fault.Rule == "" || fault.Code == "" || fault.Remedy == "" {
					t.Errorf("fault lacks code, rule or remedy: %+v", fault)
				}
				if strings.Contains(fault.Rule, "could not be merged") {
					t.Errorf("the library refused what was parsed: %v", fault)
				}
			}
			return
		}
		s := got.Settings
		if !(s.Filler.Diameter > 0 && s.Filler.Length > s.Filler.Stub && s.Filler.Stub >= 0) {
			t.Errorf("filler out of range: %+v", s.Filler)
		}
		if s.Denominator&(s.Denominator-1) != 0 || s.Denominator < 2 || s.Denominator > 64 {
			t.Errorf("denominator %d", s.Denominator)
		}
		for _, own := range s.Fillers {
			if found, err := s.Catalogue().Filler(own.Name); err != nil || found.Name != own.Name || own.Family == "" {
				t.Errorf("own filler %+v is not found: %v", own, err)
			}
		}
		for _, own := range s.Materials {
			if found, err := s.Catalogue().Material(own.Name); err != nil || found.Name != own.Name || own.Density <= 0 {
				t.Errorf("own material %+v is not found: %v", own, err)
			}
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	data := []byte(Template())
	for b.Loop() {
		if _, err := load("bench.yaml", data, Options{Environ: noEnv}); err != nil {
			b.Fatal(err)
		}
	}
}
