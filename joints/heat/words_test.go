package heat

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
)

func TestWords(t *testing.T) {
	in := teeInput(t, "al6xxx", 10, 5, 5, 4)
	in.Arc.Machine = 160
	in.Arc.Amps = 220
	r := answer(t, in)
	want := []string{
		"the base takes 77 % of the arc: favour the base",
		"in the end 80 % of the heat lies in the base and 20 % in the stem",
		"the root melts at about 2270 W in the work: 3240 to 5670 W of arc, nominally 3780 W, which is 207 A at 18.3 V",
		"the machine is too small: at least 186 A are asked for",
		"220 A at 18.8 V may melt the root, as the arc's efficiency turns out",
		"heat input of the arc as set: 620 J/mm, 15800 J/in (without efficiency 1030 J/mm, 26300 J/in)",
		"the filler takes 137 W of that",
		"preheat cannot balance it: that would take 277 °C and the ceiling is 120 °C, which brings the index from 3.37 to 2.84; aim, a bevel, thinning or a chill do the rest",
		"base: hold no longer than 15 min (AWS D1.2 as reported, secondary)",
	}
	if d := cmp.Diff(want, r.Lines); d != "" {
		t.Errorf("lines (-want +got):\n%s", d)
	}
	wantCautions := []string{cautionEstimate, cautionStart, cautionOxide, cautionCeiling, cautionFaces, cautionProtect}
	if d := cmp.Diff(wantCautions, r.Cautions); d != "" {
		t.Errorf("cautions (-want +got):\n%s", d)
	}
}

func TestClasses(t *testing.T) {
	for _, c := range []struct {
		name       string
		metal      string
		base, stem float64
		want       Class
		favour     string
	}{
		{"equal plates", "al6xxx", 5, 5, Even, ""},
		{"twice as thick", "al6xxx", 10, 5, Favour, "base"},
		{"six times", "al6xxx", 18, 3, Strong, "base"},
		{"six times in steel", "steel", 18, 3, Favour, "base"},
		{"thick stem", "al6xxx", 3, 9, Strong, "stem"},
	} {
		if x := answer(t, teeInput(t, c.metal, c.base, c.stem, min(c.base, c.stem), 4)).Index; x.Class != c.want || x.Favour != c.favour {
			t.Errorf("%s: want %s %q, got %s %q (index %v)", c.name, c.want, c.favour, x.Class, x.Favour, x.Value)
		}
	}
}

func TestMachine(t *testing.T) {
	in := teeInput(t, "al6xxx", 10, 5, 5, 4) // 186, 207 and 273 A
	for amps, want := range map[float64]Enough{150: No, 220: Perhaps, 300: Yes} {
		in.Arc.Machine = amps
		if r := answer(t, in); r.Machine != want {
			t.Errorf("%v A: want %s, got %s (%+v)", amps, want, r.Machine, r.Root.Amps)
		}
	}
}

func TestLapWarnsOfItsEdge(t *testing.T) {
	warns := func(leg float64) bool {
		return slices.ContainsFunc(answer(t, lapInput(t, "steel", 6, 3, leg, 30, 4)).Cautions,
			func(s string) bool { return strings.Contains(s, "wash away") })
	}
	if !warns(2.4) || !warns(3) || warns(2.3) {
		t.Errorf("want a warning from 0.8 of the plate on: %v %v %v", warns(2.4), warns(3), warns(2.3))
	}
}

func TestWarmUpAndSteel(t *testing.T) {
	in := teeInput(t, "steel", 10, 5, 5, 4)
	in.Length = 500
	in.Members = slices.Clone(in.Members)
	in.Members[0].Mass, in.Members[1].Mass = 6, 2
	r := answer(t, in)
	within(t, "warm-up", r.Root.Net*500/4/(8*640), r.WarmUp.Rise, 1e-9)
	if r.T85 == nil || r.T85.Regime != "2-D" || r.T85.F3 != 0.67 || r.T85.Scaled <= 0 {
		t.Errorf("t8/5: %+v", r.T85)
	}
	within(t, "F2", 0.16, r.T85.F2, 1e-9)
	within(t, "combined thickness", 25, r.CombinedThickness, 1e-9)
	if answer(t, teeInput(t, "ss304", 10, 5, 5, 4)).T85 != nil {
		t.Error("stainless steel has no t8/5 by EN 1011-2")
	}
}

func TestCeilings(t *testing.T) {
	for _, c := range []struct {
		name               string
		m                  Material
		preheat, interpass float64
		ok                 bool
	}{
		{"heat-treatable", metal("al6xxx"), 120, 100, true},
		{"over 3 % Mg", metal("al5xxx"), 120, 120, true},
		{"non-hardening", metal("al1xxx"), 120, 120, true},
		{"7xxx", Material{Name: "7020", Family: Aluminium, HeatTreatable: true}, 100, 80, true},
		{"steel", metal("steel"), 0, 0, false},
	} {
		got, ok := CeilingOf(c.m)
		if ok != c.ok || got.Preheat != c.preheat || got.Interpass != c.interpass || (ok && got.Source.Text == "") {
			t.Errorf("%s: got %+v, %v", c.name, got, ok)
		}
	}
	in := teeInput(t, "al6xxx", 10, 5, 5, 4)
	in.Members = slices.Clone(in.Members)
	in.Members[0].Preheat = 150
	if r := answer(t, in); len(r.Preheat.Warnings) != 1 {
		t.Errorf("preheat over the ceiling: want a warning, got %v", r.Preheat.Warnings)
	}
}

// TestTables: every process and family on file has a sound entry with papers.
func TestTables(t *testing.T) {
	for _, p := range Processes() {
		e, ok := EfficiencyOf(p)
		if !ok || !(0 < e.Low && e.Low <= e.Nominal && e.Nominal <= e.High && e.High <= 1) || e.Source.Text == "" || e.Source.Provenance == "" {
			t.Errorf("%s: %+v", p, e)
		}
	}
	if _, ok := EfficiencyOf("laser"); ok {
		t.Error("want no efficiency for an unknown process")
	}
	if got := Weakest(Source{Provenance: Primary}, Source{Provenance: Secondary}); got != Secondary {
		t.Errorf("weakest: want secondary, got %s", got)
	}
	if got := Weakest(Source{Provenance: "hearsay"}); got != Memory {
		t.Errorf("weakest of an unknown one: want memory, got %s", got)
	}
}

func TestFaults(t *testing.T) {
	with := func(f func(*Input)) Input {
		in := teeInput(t, "al6xxx", 10, 5, 5, 4)
		in.Members = slices.Clone(in.Members)
		f(&in)
		return in
	}
	for _, c := range []struct {
		name  string
		in    Input
		code  joints.FaultCode
		field string
	}{
		{"no section", with(func(in *Input) { in.Section = nil }), joints.FaultMissing, "section"},
		{"one material", with(func(in *Input) { in.Members = in.Members[:1] }), joints.FaultMissing, "members"},
		{"no such weld", with(func(in *Input) { in.Weld = "inside" }), joints.FaultUnknown, "weld"},
		{"done is not there", with(func(in *Input) { in.Done = []string{"other"} }), joints.FaultUnknown, "done"},
		{"no voltage", with(func(in *Input) { in.Arc.LoadLine = LoadLine{} }), joints.FaultMissing, "arc.volts"},
		{"no speed", with(func(in *Input) { in.Arc.Speed = 0 }), joints.FaultRange, "arc.speed"},
		{"efficiency upside down", with(func(in *Input) { in.Arc.Efficiency.Low = 0.9 }), joints.FaultConflict, "arc.efficiency"},
		{"preheat that melts", with(func(in *Input) { in.Members[1].Preheat = 590 }), joints.FaultConflict, "stem.preheat"},
		{"solidus above liquidus", with(func(in *Input) { in.Members[0].Material.Solidus = 700 }), joints.FaultConflict, "base.solidus"},
		{"too many free edges", with(func(in *Input) { in.Members[1].FreeEdges = []geometry.Length{30, 30} }), joints.FaultConflict, "stem.free-edge"},
		{"filler without constants", with(func(in *Input) { in.Filler = &Material{} }), joints.FaultRange, "filler.conductivity"},
	} {
		if _, err := Answer(c.in); !joints.AsFaults(err).Has(c.code, c.field) {
			t.Errorf("%s: want %s at %s, got %v", c.name, c.code, c.field, err)
		}
	}
	_, err := Answer(with(func(in *Input) { in.Arc.Speed, in.Arc.Amps, in.Members[0].Preheat = -1, 1e9, 2000 }))
	if n := len(joints.AsFaults(err)); n != 3 {
		t.Errorf("all faults at once: want 3, got %d: %v", n, err)
	}
}

// Where the shop thinks in °F they stand beside °C, in words and cautions.
func TestFahrenheit(t *testing.T) {
	for c, want := range map[float64]string{120: "120 °C (248 °F)", 0: "0 °C (32 °F)", -40: "-40 °C (-40 °F)", -0.2: "0 °C (32 °F)"} {
		if got := Degrees(c, true); got != want {
			t.Errorf("want %s, got %s", want, got)
		}
		if got, _, _ := strings.Cut(want, " ("); got != Degrees(c, false) {
			t.Errorf("want %s, got %s", got, Degrees(c, false))
		}
		if back := FromFahrenheit(ToFahrenheit(c)); back-c > 1e-12 || c-back > 1e-12 {
			t.Errorf("%v comes back as %v", c, back)
		}
	}
	for _, metal := range []string{"al5xxx", "steel"} {
		in := teeInput(t, metal, 10, 5, 5, 4)
		in.Fahrenheit = true
		r := answer(t, in)
		for _, line := range append(r.Lines, r.Cautions...) {
			if strings.Contains(line, "°C") && !strings.Contains(line, "°F") && line != cautionT85 {
				t.Errorf("no °F in: %s", line)
			}
		}
	}
}
