package cli

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
	"fay/joints/result"
	"fay/render/rendertest"
)

// heatOf reads a command line of heat without running it.
func heatOf(tb testing.TB, args ...string) *heating {
	tb.Helper()
	a := &app{env: Env{Stderr: tb.Output(), Environ: []string{}, ConfigDir: tb.TempDir()}}
	rest, values, err := splitHeat(a.heat().Flags(), args)
	if err != nil {
		tb.Fatal(err)
	}
	j, err := a.joint(rest)
	if err != nil {
		tb.Fatal(err)
	}
	h, err := j.heating(values)
	if err != nil {
		tb.Fatal(err)
	}
	return h
}

func TestParseSpeed(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64 // mm/s; 0 where refused
	}{
		{"240", 4}, {"240mm/min", 4}, {"240 mm/min", 4}, {"4mm/s", 4}, {"24 cm/min", 4}, {"0.24m/min", 4}, {"0.4cm/s", 4},
		{"10in/min", 254. / 60}, {"10ipm", 254. / 60}, {"0.1in/s", 2.54},
		{"", 0}, {"fast", 0}, {"NaN", 0}, {"Inf", 0}, {"-240", 0}, {"0", 0}, {"1mm/min", 0}, {"7 m/min", 0}, {"240 furlong", 0},
	} {
		got, err := parseSpeed(c.text)
		if (err == nil) != (c.want > 0) || math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%q: want %v mm/s, got %v, %v", c.text, c.want, got, err)
		}
	}
}

// Heat of every kind, and of a file, is a result of the schema; no value is
// null, and every kind of number is finite.
func TestHeatIsInTheSchema(t *testing.T) {
	s := schemaOf(t, "result")
	lines := []string{"../../../../testdata/examples/davit-foot.yaml", "tee base=10 stem=5 leg=5 amps=200 machine=180 base.preheat=100 base.mass=2 stem.mass=1 seam.length=200"}
	for i := range joints.Kinds {
		if joints.Kinds[i].Name != "plug" { // which is no seam
			lines = append(lines, joints.Kinds[i].Example)
		}
	}
	for _, line := range lines {
		for _, metal := range []string{"6082", "S355"} {
			code, out, talk := run(t, "", append(append([]string{"heat"}, strings.Fields(line)...), "material="+metal, "--format", "json")...)
			if code != exitDone || talk != "" {
				t.Errorf("%s: exit code %d, %s", line, code, talk)
				continue
			}
			v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(v); err != nil {
				t.Errorf("%s: %v", line, err)
			}
			var res result.Result
			if err := json.Unmarshal([]byte(out), &res); err != nil {
				t.Fatal(err)
			}
			if res.Heat == nil || res.Heat.Field == nil || strings.Contains(out, "null") || res.Heat.Root.NetW <= 0 {
				t.Errorf("%s: the heat is not there: %.200s", line, out)
			}
		}
	}
}

// A flag and an assignment mean the same, and a value is given once.
func TestHeatFlagsAreAssignments(t *testing.T) {
	joint := []string{"heat", "tee", "base=10", "stem=5", "leg=5"}
	code, want, talk := run(t, "", append(joint, "material=6082", "amps=200", "speed=4mm/s", "aim=60", "--format", "csv")...)
	if code != exitDone {
		t.Fatal(talk)
	}
	_, got, _ := run(t, "", append(joint, "--material", "6082", "--amps=200", "--speed", "240", "--aim", "60%", "--format", "csv")...)
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if code, _, talk := run(t, "", append(joint, "material=6082", "--material", "S355")...); code != exitInput || !strings.Contains(talk, "twice") {
		t.Errorf("exit code %d, %s", code, talk)
	}
}

// The sheet of every kind keeps the rules of drawings.
func TestHeatSheets(t *testing.T) {
	for _, line := range []string{
		"tee base=10 stem=5 leg=5", "lap lower=6 upper=3 overlap=25 leg=3 --units in", "corner base=6 upright=4 cover=1 inside.leg=4",
		"butt left=8 right=5 prep=single-v groove-angle=60 root-face=1 root-opening=1 cap=1", "edge left=3 right=4 penetration=2 cap=0.8",
	} {
		for _, metal := range []string{"6082", "S355"} {
			line, inches := strings.CutSuffix(line, " --units in")
			h := heatOf(t, append(strings.Fields(line), "material="+metal)...)
			if inches {
				h.doc.Units = geometry.UnitInch
			}
			if err := h.compute(&heatOptions{field: true}); err != nil {
				t.Fatal(err)
			}
			d, err := h.sheet()
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range rendertest.Lint(d) {
				t.Errorf("%s %s: %v", line, metal, v)
			}
		}
	}
}

// A row of a sweep is the answer of the joint with that value.
func TestSweepRows(t *testing.T) {
	for _, c := range []struct{ sweep, assign string }{{"speed=150..350", "speed=350"}, {"thickness=6..12", "base=12"}, {"leg=3..4.5", "leg=4.5"}, {"gap=0.1..0.5", "gap=0.5"}} {
		name, _, _ := strings.Cut(c.assign, "=")
		args := []string{"tee", "material=6082"}
		for _, a := range []string{"base=10", "stem=5", "leg=5", "speed=240"} {
			if !strings.HasPrefix(a, name+"=") {
				args = append(args, a)
			}
		}
		planned := map[string]string{"base": "base=10", "leg": "leg=5", "speed": "speed=240"}[name]
		h := heatOf(t, append(args, planned)[:len(args)+min(1, len(planned))]...)
		s, err := h.newSweep(c.sweep)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.run(2); err != nil {
			t.Fatal(err)
		}
		direct := heatOf(t, append(args, c.assign)...)
		if err := direct.compute(&heatOptions{field: true}); err != nil {
			t.Fatal(err)
		}
		got := s.rows[1]
		if d := cmp.Diff([]float64{direct.answer.Root.Net, direct.field.Window.Root, direct.field.Window.Toes}, []float64{got.answer.Root.Net, got.window.Root, got.window.Toes}); d != "" {
			t.Errorf("%s: %s", c.sweep, d)
		}
	}
}

// FuzzHeatValues: whatever is written, the values are taken inside their ranges
// or refused in words; nothing panics.
func FuzzHeatValues(f *testing.F) {
	for _, s := range []string{"4mm/s", "0.5..0.7", "60%", "250F", "balanced", "contact", "1e400", "..", "-", "NaN", "40,60"} {
		f.Add("speed", s)
		f.Add("efficiency", s)
		f.Add("preheat", s)
		f.Add("base.free-edge", s)
		f.Add("levels", s)
	}
	a := &app{env: Env{Stderr: f.Output(), Environ: []string{}, ConfigDir: f.TempDir()}}
	j, err := a.joint([]string{"tee", "base=10", "stem=5", "leg=5"})
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, name, value string) {
		if !isHeatName(name) || value == "" {
			t.Skip()
		}
		values := heatValues{"material": "6082"}
		values[name] = value
		h, err := j.heating(values)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Error("refused without a word")
			}
			return
		}
		arc := &h.in.Arc
		for _, v := range []float64{arc.Speed, arc.Efficiency.Low, arc.Efficiency.High, float64(arc.Spot), h.params.AimShift} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s=%q: took %v", name, value, v)
			}
		}
		if r, err := heat.Answer(h.in); err == nil && !(r.Root.Net > 0) {
			t.Errorf("%s=%q: root power %v", name, value, r.Root.Net)
		}
	})
}
