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
		Sheet: A4, Orientation: Auto, Language: ISO, Style: ISO, Symbols: ISO2553A,
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

// The usual rod is that of the market the joint is for, and the shop's own word
// stands over it, no stub among it.
func TestUsualRod(t *testing.T) {
	const in = geometry.Inch
	for text, want := range map[string][2][3]geometry.Length{ // for a joint in mm, in inches
		"":                                  {{2.4, 1000, 50}, {3.0 / 32 * in, 36 * in, 2 * in}},
		"filler: {stub: 0}":                 {{2.4, 1000, 0}, {3.0 / 32 * in, 36 * in, 0}},
		"filler: {length: 500, stub: AUTO}": {{2.4, 500, 50}, {3.0 / 32 * in, 500, 2 * in}},
		"filler: {diameter: 1/8in}":         {{in / 8, 1000, 50}, {in / 8, 36 * in, 2 * in}},
	} {
		got, err := Load(Options{File: write(t, text+"\n"), Environ: noEnv})
		if err != nil {
			t.Fatal(err)
		}
		var have [2][3]geometry.Length
		for i, unit := range []geometry.Unit{geometry.UnitMM, geometry.UnitInch} {
			have[i][0], have[i][1], have[i][2] = got.Settings.Filler.Rod(unit)
		}
		if diff := cmp.Diff(want, have); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
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
printed: mm
tint: false
inches: decimals
denominator: 32
dual: true
sheet: Letter
orientation: landscape
language: us
style: iso
symbols: iso-2553-b
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
work: {edge: 4 min/m, turn: 0.1 h, gouge: 3 min/ft}
process: TIG
machine: Bench-TIG
checks: [aisc-360-16, ISO-5817-2014/C]
`
	want := Settings{
		Units: geometry.UnitInch, Printed: PrintMM, NoTint: true, Inches: Decimals, Denominator: 32, Dual: true,
		Sheet: Letter, Orientation: Landscape, Language: US, Style: ISO, Symbols: ISO2553B,
		Company: "Lock Street boat yard", Logo: "/yard/mark.svg",
		Filler: FillerDefaults{
			Type: "5183", Diameter: 3.0 / 32 * geometry.Inch, Length: 36 * geometry.Inch,
			Stub: new(2 * geometry.Inch), StubFused: true, Pack: 10 * 0.45359237,
		},
		Allowances: Allowances{Oversize: 0.21, Tack: 0.02, Waste: 0.05},
		Costs:      Costs{Currency: "USD", Labour: 46.5, Gas: 12.5, ArcShare: 0.3}, Work: Work{Edge: 4, Turn: 6, Gouge: 3 / 0.3048}, Cylinder: 250 * 0.028316846592,
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
		"FAY_UNITS=in", "FAY_PRINTED=mm", "FAY_TINT=false", "FAY_INCHES=decimals", "FAY_DENOMINATOR=32", "FAY_DUAL=true", "FAY_SHEET=Letter", "FAY_ORIENTATION=landscape",
		"FAY_LANGUAGE=us", "FAY_STYLE=iso", "FAY_SYMBOLS=iso-2553-b", "FAY_COMPANY=Lock Street boat yard", "FAY_LOGO=/yard/mark.svg", "FAY_FILLER_TYPE=ER5183",
		"FAY_FILLER_DIAMETER=3/32", "FAY_FILLER_LENGTH=36", "FAY_FILLER_STUB=2", "FAY_FILLER_STUB_FUSED=true",
		"FAY_FILLER_PACK=10 lb", "FAY_ALLOWANCES_OVERSIZE=21", "FAY_ALLOWANCES_TACK=2", "FAY_ALLOWANCES_WASTE=5 %",
		"FAY_GAS_CYLINDER=250 cf", "FAY_COST_CURRENCY=USD", "FAY_COST_LABOUR=46.5", "FAY_COST_GAS=12.5", "FAY_COST_ARC_SHARE=30",
		"FAY_WORK_EDGE=4 min/m", "FAY_WORK_TURN=0.1 h", "FAY_WORK_GOUGE=3 min/ft",
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

func TestStyleAndSymbolsFollowLanguage(t *testing.T) {
	for _, tt := range []struct {
		name    string
		text    string
		style   Convention
		symbols Symbols
	}{
		{"us words bring us lines and symbols", "language: us", US, AWSA24},
		{"auto follows too", "language: us\nstyle: auto\nsymbols: auto", US, AWSA24},
		{"unless the style is set apart", "language: us\nstyle: iso", ISO, ISO2553A},
		{"or the symbols are", "language: us\nsymbols: iso-2553-b", US, ISO2553B},
		{"either way", "symbols: aws-a2.4", ISO, AWSA24},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Load(Options{File: write(t, tt.text), Environ: noEnv})
			if err != nil {
				t.Fatal(err)
			}
			if got.Settings.Style != tt.style || got.Settings.Symbols != tt.symbols {
				t.Errorf("want style %q and symbols %q, got %q and %q", tt.style, tt.symbols, got.Settings.Style, got.Settings.Symbols)
			}
		})
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
		if diameter, length, stub := s.Filler.Rod(s.Units); !(diameter > 0 && length > stub && stub >= 0) {
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
