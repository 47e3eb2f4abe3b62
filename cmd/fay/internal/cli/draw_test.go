package cli

import (
	"testing"

	"fay/render/sketch"
)

func TestBenchDigits(t *testing.T) {
	for _, test := range []struct {
		name        string
		value, want float64
	}{
		{"mass", 0.083349, 0.0833},
		{"rods per part", 0.43333, 0.433},
		{"ratio", 2.2412, 2.24},
		{"a count keeps all its digits", 1234, 1234},
		{"a large length to the whole", 1234.56, 1235},
		{"nothing", 0, 0},
	} {
		if got := benchDigits(test.value); got != test.want {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

func TestTerminal(t *testing.T) {
	for _, test := range []struct {
		name    string
		environ []string
		columns int
		boxes   bool
	}{
		{"says nothing", nil, usualColumns, false},
		{"width of its own", []string{"COLUMNS=120", "LANG=en_GB.UTF-8"}, 120, true},
		{"narrower than a sketch", []string{"COLUMNS=12", "LANG=C"}, sketch.LeastWidth, false},
		{"wider than a sketch", []string{"COLUMNS=9999"}, sketch.MostWidth, false},
		{"nonsense", []string{"COLUMNS=wide"}, usualColumns, false},
		{"the later one counts", []string{"COLUMNS=50", "COLUMNS=60"}, 60, false},
		{"LC_ALL over LANG", []string{"LC_ALL=C", "LANG=de_DE.utf8"}, usualColumns, false},
		{"empty counts as not set", []string{"LC_ALL=", "LANG=de_DE.utf8"}, usualColumns, true},
	} {
		a := &app{env: Env{Environ: test.environ}}
		if got := a.columns(); got != test.columns {
			t.Errorf("%s: %d columns, want %d", test.name, got, test.columns)
		}
		if got := a.drawsBoxes(); got != test.boxes {
			t.Errorf("%s: boxes %v, want %v", test.name, got, test.boxes)
		}
	}
}
