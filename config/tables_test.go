package config

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
)

// TestRodsWeighTheirPack goes back from a count to a mass by another route:
// the volume as a stack of thin discs measured in metres.
func TestRodsWeighTheirPack(t *testing.T) {
	for _, size := range RodSizes() {
		t.Run(size.Label, func(t *testing.T) {
			n := RodsPerKilogram(size.Diameter, 36*geometry.Inch, 2.7)
			r := size.Diameter.Millimetres() / 2 / 1000
			area := 0.0
			const slices = 20000 // midpoint strips of the circle, error below 1e-6
			for i := range slices {
				x := r * (2*(float64(i)+0.5)/slices - 1)
				area += 2 * math.Sqrt(r*r-x*x) * 2 * r / slices
			}
			if kg := n * area * 36 * 0.0254 * 2700; math.Abs(kg-1) > 1e-5 {
				t.Errorf("%g rods weigh %g kg, want 1", n, kg)
			}
		})
	}
}

func TestRodsPerKilogramOfNothing(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, tt := range []struct {
		name string
		d, l float64
		rho  Density
	}{
		{"no density on file", 2.4, 1000, 0},
		{"no diameter", 0, 1000, 2.7},
		{"negative diameter", -2.4, 1000, 2.7},
		{"infinite length", 2.4, inf, 2.7},
		{"not a number", nan, 1000, 2.7},
	} {
		if got := RodsPerKilogram(geometry.Length(tt.d), geometry.Length(tt.l), tt.rho); got != 0 {
			t.Errorf("%s: %g rods, want 0", tt.name, got)
		}
	}
}

// TestThermalTable compares derived diffusivity and effusivity with the values
// tabulated beside the constants. They were rounded from constants with more
// digits, so one unit of the last digit is allowed.
func TestThermalTable(t *testing.T) {
	for _, tt := range []struct {
		class ThermalClass
		a, e  float64
	}{
		{AluminiumPure, 83.3, 24.7},
		{AluminiumSilicon, 63.0, 21.4},
		{AluminiumMagnesium, 50.3, 19.0},
		{LowCarbonSteel, 8.0, 14.1},
		{Austenitic, 5.3, 10.8},
		{CopperPure, 96.7, 37.6},
		{TitaniumPure, 6.8, 7.7},
	} {
		t.Run(string(tt.class), func(t *testing.T) {
			c, ok := ThermalOf(tt.class)
			if !ok {
				t.Fatal("not on file")
			}
			if math.Abs(c.Diffusivity()-tt.a) > 0.1 || math.Abs(c.Effusivity()-tt.e) > 0.1 {
				t.Errorf("a = %.2f, e = %.2f, want %.1f, %.1f", c.Diffusivity(), c.Effusivity(), tt.a, tt.e)
			}
			if c.Source.Provenance != Memory {
				t.Errorf("provenance %q, want memory", c.Source.Provenance)
			}
			if c.Solidus > c.Liquidus {
				t.Errorf("solidus %g above liquidus %g", c.Solidus, c.Liquidus)
			}
		})
	}
	if _, ok := ThermalOf(""); ok {
		t.Error("constants for no class")
	}
}

// Every density on file is one that the family can have.
func TestDensitiesSuitTheirFamily(t *testing.T) {
	suits := func(name string, family Family, d Density) {
		t.Helper()
		if r := densityRange[family]; d.OnFile() && (d < r[0] || d > r[1]) {
			t.Errorf("%s: %v in the family %s", name, d, family)
		}
	}
	for _, f := range builtinFillers() {
		suits(f.Name, f.Family, f.Density)
	}
	for _, m := range builtinMaterials() {
		suits(m.Name, m.Family, m.Density)
	}
	for _, f := range Families() {
		if _, ok := densityRange[f]; !ok {
			t.Errorf("no range of densities for %s", f)
		}
	}
}

// TestTablesAreWhole loops over every row of every table.
func TestTablesAreWhole(t *testing.T) {
	known := map[Provenance]bool{}
	for _, p := range Provenances() {
		known[p] = true
	}
	source := func(t *testing.T, s Source) {
		t.Helper()
		if s.Text == "" || !known[s.Provenance] {
			t.Errorf("source %+v is not whole", s)
		}
	}
	names := map[string]string{}
	unique := func(t *testing.T, kind, name, owner string) {
		t.Helper()
		if other, taken := names[kind+fold(name)]; taken {
			t.Errorf("%s %q belongs to both %s and %s", kind, name, other, owner)
		}
		names[kind+fold(name)] = owner
	}
	c := BuiltinCatalogue()
	for _, f := range c.Fillers() {
		t.Run("filler "+f.Name, func(t *testing.T) {
			source(t, f.Source)
			if f.Title == "" || (f.Density.OnFile() && (f.Density < minDensity || f.Density > maxDensity || f.Printed == "")) {
				t.Errorf("row is not whole: %+v", f)
			}
			for _, name := range append([]string{f.Name}, f.Aliases...) {
				unique(t, "filler", name, f.Name)
				got, err := c.Filler("  " + strings.ToUpper(strings.ReplaceAll(name, "-", " ")))
				if err != nil || got.Name != f.Name {
					t.Errorf("look-up of %q gives %q, %v", name, got.Name, err)
				}
			}
		})
	}
	for _, m := range c.Materials() {
		t.Run("material "+m.Name, func(t *testing.T) {
			source(t, m.Source)
			if m.Title == "" || m.Density < minDensity || m.Density > maxDensity {
				t.Errorf("row is not whole: %+v", m)
			}
			if m.HeatTreatable || m.HighMagnesium {
				source(t, m.FlagSource)
			}
			th, ok := m.Thermal()
			if ok != (m.Class != "") {
				t.Errorf("class %q has no constants", m.Class)
			}
			if ok && math.Abs(th.Density/m.Density.KilogramsPerCubicMetre()-1) > 0.03 {
				t.Errorf("thermal density %g differs from %s", th.Density, m.Density)
			}
			for _, name := range append([]string{m.Name}, m.Aliases...) {
				unique(t, "material", name, m.Name)
				got, err := c.Material(strings.ToLower(name) + " ")
				if err != nil || got.Name != m.Name {
					t.Errorf("look-up of %q gives %q, %v", name, got.Name, err)
				}
			}
		})
	}
	for _, e := range Efficiencies() {
		source(t, e.Source)
	}
	for _, r := range RodSizes() {
		source(t, r.Source)
		got, err := geometry.ParseLength(r.Label, geometry.LengthSyntax{})
		if err != nil || math.Abs(float64(got-r.Diameter)) > 1e-12 {
			t.Errorf("rod %q is %g mm, its label reads %g (%v)", r.Label, r.Diameter, got, err)
		}
	}
	for _, l := range RodLengths() {
		source(t, l.Source)
	}
	for _, p := range Packs() {
		source(t, p.Source)
	}
}

func TestMaterialLookUp(t *testing.T) {
	for _, tt := range []struct {
		name string
		ask  string
		want string
	}{
		{"designation", "EN AW-5083", "5083"},
		{"no spaces", "enaw5083", "5083"},
		{"temper with a hyphen", "6082-T6", "6082"},
		{"temper with a space", "EN AW-6082 T651", "6082"},
		{"strain-hardened temper", "AA5083-H111", "5083"},
		{"annealed", "5754-O", "5754"},
		{"number", "1.4301", "304"},
		{"trade name", "Mild Steel", "S235"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := BuiltinCatalogue().Material(tt.ask)
			if err != nil || got.Name != tt.want {
				t.Errorf("%q gives %q, %v, want %q", tt.ask, got.Name, err, tt.want)
			}
		})
	}
	for _, tt := range []struct {
		name, ask, nearest string
	}{
		{"swapped digits", "EN AW-5038", "EN AW-5083"},
		{"steel with a temper", "S355-T6", "S355"},
		{"stainless number with a temper", "1.4301-T6", "1.4301"},
		{"nothing near", "unobtainium", ""},
		{"nothing at all", "", ""},
		{"endless", strings.Repeat("5083", 10_000), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := BuiltinCatalogue().Material(tt.ask)
			var unknown *UnknownNameError
			if !errors.As(err, &unknown) || !errors.Is(err, ErrUnknownName) {
				t.Fatalf("%q gives %q, %v, want it unknown", tt.ask, got.Name, err)
			}
			if unknown.Nearest != tt.nearest {
				t.Errorf("nearest %q, want %q", unknown.Nearest, tt.nearest)
			}
		})
	}
}

// TestMaterialFlags lists the flagged materials; every other is plain.
func TestMaterialFlags(t *testing.T) {
	heatTreatable := map[string]bool{"6060": true, "6061": true, "6063": true, "6082": true, "Ti-6Al-4V": true}
	highMagnesium := map[string]bool{"5083": true, "5086": true, "5754": true}
	for _, m := range BuiltinCatalogue().Materials() {
		if m.HeatTreatable != heatTreatable[m.Name] || m.HighMagnesium != highMagnesium[m.Name] {
			t.Errorf("%s: heat-treatable %v, high magnesium %v", m.Name, m.HeatTreatable, m.HighMagnesium)
		}
	}
}

func TestGaugeFamilies(t *testing.T) {
	want := map[Family]geometry.GaugeFamily{
		Aluminium: geometry.GaugeAluminium, Steel: geometry.GaugeSteel, Stainless: geometry.GaugeStainless,
		Titanium: geometry.NoGauge, Copper: geometry.NoGauge,
	}
	for _, f := range Families() {
		if got := f.Gauge(); got != want[f] {
			t.Errorf("gauge of %s = %v, want %v", f, got, want[f])
		}
		if got, err := ParseFamily(" " + strings.ToUpper(string(f))); err != nil || got != f {
			t.Errorf("ParseFamily of %s = %q, %v", f, got, err)
		}
	}
}

func TestOwnEntries(t *testing.T) {
	text := `fillers:
  - {name: ER5356, density: 0.0955 lb/in3, source: maker's sheet}
  - {name: House Rod, like: 5356, aliases: [blue tip]}
  - {name: cast rod, family: aluminum, density: 2680 kg/m3}
materials:
  - {name: hatch plate, like: 5083, density: 2.65, heat-treatable: false}
  - {name: "1.4301", density: 7.93}
filler: {type: blue tip}
`
	got, err := Load(Options{File: write(t, text), Environ: noEnv})
	if err != nil {
		t.Fatal(err)
	}
	c := got.Settings.Catalogue()
	if n, built := len(c.Fillers()), len(BuiltinCatalogue().Fillers()); n != built+2 {
		t.Errorf("%d fillers, want %d: one better density and two new", n, built+2)
	}
	f, err := c.Filler("5356")
	want := Filler{
		Name: "5356", Aliases: f.Aliases, Title: f.Title, Family: Aluminium,
		Density: PoundsPerCubicInch(0.0955), Printed: "0.0955 lb/in3",
		Source: Source{Text: "maker's sheet", Provenance: Shop},
	}
	if diff := cmp.Diff(want, f); diff != "" || err != nil || len(f.Aliases) == 0 || f.Title == "" {
		t.Errorf("better density (-want +got):\n%s%v", diff, err)
	}
	if f, err = c.Filler("BLUE-TIP"); err != nil || f.Name != "House Rod" || f.Density != want.Density {
		t.Errorf("house rod = %+v, %v, want the density of the shop's own 5356", f, err)
	}
	if f, err = c.Filler("cast rod"); err != nil || math.Abs(float64(f.Density-2.68)) > 1e-12 || f.Source.Provenance != Shop {
		t.Errorf("cast rod = %+v, %v", f, err)
	}
	m, err := c.Material("hatch plate")
	if err != nil || m.Class != AluminiumMagnesium || !m.HighMagnesium || m.Density != 2.65 || m.FlagSource.Provenance != Shop {
		t.Errorf("hatch plate = %+v, %v", m, err)
	}
	if m, err = c.Material("AISI 304"); err != nil || m.Name != "304" || m.Density != 7.93 || m.Source.Provenance != Shop {
		t.Errorf("304 = %+v, %v", m, err)
	}
	if got.Settings.Filler.Type != "House Rod" {
		t.Errorf("default filler %q, want the shop's own", got.Settings.Filler.Type)
	}
	if b, err := BuiltinCatalogue().Filler("5356"); err != nil || b.Source.Provenance != Secondary {
		t.Errorf("the built-in table changed: %+v, %v", b, err)
	}
}

func TestParseDensity(t *testing.T) {
	for _, tt := range []struct {
		name string
		text string
		want float64
	}{
		{"bare is g/cm³", "2.66", 2.66},
		{"kg/m³", "2660 kg/m³", 2.66},
		{"lb/in³", "0.1lb/in3", 2.7679904710203125},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ParseDensity(tt.text)
			if err != nil || math.Abs(float64(got)-tt.want) > 1e-12 {
				t.Errorf("%q = %v, %v, want %g", tt.text, float64(got), err, tt.want)
			}
		})
	}
	for _, text := range []string{"", "heavy", "-2.7", "0", "0.49", "25.1", "1e999", "NaN", "Inf", "0x3", "2,7", "2.7 stone", "1_0"} {
		if got, err := ParseDensity(text); err == nil {
			t.Errorf("%q = %v, want it refused", text, got)
		}
	}
}

func FuzzParseDensity(f *testing.F) {
	for _, s := range []string{"2.66", "0.096 lb/in3", "2660 kg/m³", "nan", "1e400", "g/cm3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := ParseDensity(text)
		if err == nil && !(d >= minDensity && d <= maxDensity) {
			t.Errorf("%q = %v, outside the range", text, float64(d))
		}
	})
}

func FuzzLookUp(f *testing.F) {
	for _, s := range []string{"EN AW-6082 T6", "er5356", "", "\xff", "İ"} {
		f.Add(s)
	}
	c := BuiltinCatalogue()
	f.Fuzz(func(t *testing.T, name string) {
		if m, err := c.Material(name); err == nil && m.Name == "" {
			t.Errorf("%q found a material without a name", name)
		}
		if fl, err := c.Filler(name); err == nil && fl.Name == "" {
			t.Errorf("%q found a filler without a name", name)
		}
	})
}

func BenchmarkMaterialLookUp(b *testing.B) {
	c := BuiltinCatalogue()
	for b.Loop() {
		if _, err := c.Material("EN AW-6082 T6"); err != nil {
			b.Fatal(err)
		}
	}
}
