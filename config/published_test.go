package config

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
)

// published reads the rows of a table of testdata/published.
func published(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	all, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	return all[1:]
}

// printed reads a printed number and half its last digit.
func printed(t *testing.T, text string) (value, half float64) {
	t.Helper()
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, decimals, _ := strings.Cut(text, ".")
	return value, 0.5*math.Pow(10, -float64(len(decimals))) + 1e-9
}

func near(t *testing.T, what, text string, got float64) {
	t.Helper()
	want, half := printed(t, text)
	if math.Abs(got-want) > half || math.IsNaN(got) {
		t.Errorf("%s = %.5g, printed %s", what, got, text)
	}
}

func TestPublishedFillerDensities(t *testing.T) {
	rows := published(t, "filler-densities.csv")
	listed := map[string]bool{}
	for _, row := range rows {
		t.Run(row[0], func(t *testing.T) {
			f, err := BuiltinCatalogue().Filler(row[0])
			if err != nil {
				t.Fatal(err)
			}
			listed[f.Name] = true
			if row[2] == "lb/in3" {
				near(t, "density in lb/in³", row[1], f.Density.PoundsPerCubicInch())
				if f.Spread != 0.005 {
					t.Errorf("spread %g, want 0.005 for a two-digit lb/in³ value", f.Spread)
				}
			}
			near(t, "density in g/cm³", row[3], f.Density.GramsPerCubicCentimetre())
			if !strings.HasPrefix(f.Printed, row[1]) {
				t.Errorf("printed as %q, want it to begin %q", f.Printed, row[1])
			}
			if string(f.Source.Provenance) != row[4] {
				t.Errorf("provenance %q, want %q", f.Source.Provenance, row[4])
			}
		})
	}
	for _, f := range BuiltinCatalogue().Fillers() {
		if f.Density.OnFile() && !listed[f.Name] && f.Family != Steel {
			t.Errorf("%s has a density that no published row backs", f.Name)
		}
	}
}

func TestPublishedDepositionEfficiency(t *testing.T) {
	rows := published(t, "deposition-efficiency.csv")
	if len(rows) != len(Efficiencies()) {
		t.Errorf("%d rows published, %d in the table", len(rows), len(Efficiencies()))
	}
	for _, row := range rows {
		t.Run(row[0]+" "+row[1]+" "+row[3], func(t *testing.T) {
			for _, e := range Efficiencies() {
				if string(e.Process) == row[0] && e.Variant == row[1] {
					near(t, "efficiency", row[2], e.Value*100)
					if string(e.Source.Provenance) != row[3] {
						t.Errorf("provenance %q, want %q", e.Source.Provenance, row[4])
					}
					return
				}
			}
			t.Error("no such row in the table")
		})
	}
	for _, p := range Processes() {
		if e, ok := DefaultEfficiency(p); !ok || e.Value <= 0 || e.Value > 1 || e.Source.Text == "" {
			t.Errorf("default efficiency of %s: %+v, %v", p, e, ok)
		}
	}
}

// rodTable compares a table of rods per mass.
func rodTable(t *testing.T, name string, massKg float64) {
	t.Helper()
	rows := published(t, name)
	for _, row := range rows {
		t.Run(row[0]+" "+row[2], func(t *testing.T) {
			near(t, "rods", row[5], massKg*RodsPerKilogram(length(t, row[0]), length(t, row[1]), density(t, row[3]+row[4])))
		})
	}
}

func length(t *testing.T, text string) geometry.Length {
	t.Helper()
	l, err := geometry.ParseLength(text, geometry.LengthSyntax{Bare: geometry.UnitInch})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func density(t *testing.T, text string) Density {
	t.Helper()
	d, err := ParseDensity(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestPublishedRodsPerPound(t *testing.T) {
	rodTable(t, "rods-per-pound.csv", kilogramPerPound)
}

func TestPublishedRodsPerPoundShort(t *testing.T) {
	rodTable(t, "rods-per-pound-short.csv", kilogramPerPound)
}

func TestPublishedRodsPerKilogram(t *testing.T) {
	rodTable(t, "rods-per-kilogram.csv", 1)
}

func TestPublishedWireInchesPerPound(t *testing.T) {
	rows := published(t, "wire-inches-per-pound.csv")
	for _, row := range rows {
		t.Run(row[0]+" "+row[2], func(t *testing.T) {
			// Rods one inch long, so their count is the length in inches.
			got := kilogramPerPound * RodsPerKilogram(length(t, row[2]), geometry.Inch, density(t, row[1]+"lb/in3"))
			near(t, "computed column", row[4], got)
			handbook, _ := printed(t, row[3])
			if math.Abs(got/handbook-1) > 0.02 {
				t.Errorf("%.0f in/lb is more than 2 %% from the handbook's %s", got, row[3])
			}
		})
	}
}
