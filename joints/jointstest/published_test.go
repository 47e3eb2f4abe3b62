package jointstest

import (
	"maps"
	"testing"
)

// recorder notes failures instead of failing.
type recorder struct {
	testing.TB
	failed bool
}

func (r *recorder) Helper()               {}
func (r *recorder) Errorf(string, ...any) { r.failed = true }

func TestCompare(t *testing.T) {
	plain := map[string]string{"table": "t", "row": "r", "column": "c", "printed": "0.106", "tolerance": "0.0005",
		"source": "s", "provenance": "primary"}
	with := func(extra map[string]string) map[string]string {
		m := maps.Clone(plain)
		maps.Copy(m, extra)
		return m
	}
	slip := with(map[string]string{"printed": "0.884", "misprint": "decimal point", "geometry": "0.0884"})
	for name, tt := range map[string]struct {
		fields map[string]string
		got    float64
		passes bool
	}{
		"agrees":                         {plain, 0.1064, true},
		"at the tolerance":               {plain, 0.1065, true},
		"disagrees":                      {plain, 0.1067, false},
		"misprint, agrees with geometry": {slip, 0.08844, true},
		"misprint, not by geometry":      {slip, 0.09, false},
		"marked but not a misprint":      {with(map[string]string{"misprint": "none", "geometry": "0.106"}), 0.106, false},
		"rounded up":                     {with(map[string]string{"printed": "0.19", "tolerance": "0", "round-up": "0.01"}), 0.1801, true},
		"rounded up from a step":         {with(map[string]string{"printed": "0.07", "tolerance": "0", "round-up": "0.01"}), 0.07, true},
		"not rounded up":                 {with(map[string]string{"printed": "0.18", "tolerance": "0", "round-up": "0.01"}), 0.1801, false},
	} {
		t.Run(name, func(t *testing.T) {
			c := newCell(t, "here", tt.fields)
			r := &recorder{TB: t}
			c.Compare(r, tt.got)
			if r.failed == tt.passes {
				t.Errorf("failed: %v", r.failed)
			}
		})
	}
}

func TestNumber(t *testing.T) {
	for text, want := range map[string]float64{"0.25": 0.25, "1/4": 0.25, "1 1/4": 1.25, ".045": 0.045, "3": 3} {
		if got, ok := Number(text); !ok || got != want {
			t.Errorf("%q: want %v, got %v, %v", text, want, got, ok)
		}
	}
	for _, text := range []string{"", " ", "x", "1/0", "1/x", "1 x"} {
		if got, ok := Number(text); ok {
			t.Errorf("%q: got %v", text, got)
		}
	}
}
