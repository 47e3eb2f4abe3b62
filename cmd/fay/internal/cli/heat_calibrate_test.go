package cli

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints/heat"
	"fay/joints/macro"
)

// benchTee is the tee of the calibrations.
var benchTee = []string{"tee", "base=10", "stem=5", "leg=5", "material=6082", "amps=230", "volts=19", "speed=240"}

// depthsOf are the depths that an arc fuses into the tee of the calibrations.
func depthsOf(t *testing.T, h *heating, efficiency, spot float64, members int) [2]float64 {
	t.Helper()
	in := h.in
	in.Arc.Spot = geometry.Length(spot)
	field, err := heat.NewField(in, h.params)
	if err != nil {
		t.Fatal(err)
	}
	depth, err := h.fused(field, 230*19*efficiency)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range depth[:members] {
		if d < 0.2 || d > 4 {
			t.Fatalf("fused too little or too far: %v", depth)
		}
	}
	return depth
}

// logOf writes sections with these depths to a log.
func logOf(t *testing.T, h *heating, depths [][]float64) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "log.jsonl")
	var entries []macro.Entry
	for i, d := range depths {
		e := macro.Entry{Date: "2026-03-02", Weld: "arrow", Sample: fmt.Sprintf("S%d", i), Verdict: "met", Digest: h.doc.Digest}
		for k, v := range d {
			e.Items = append(e.Items, macro.LogItem{ID: [2]string{"fusion-a", "fusion-b"}[k], Measured: v, Verdict: "met"})
		}
		entries = append(entries, e)
	}
	// One of another joint, which has to be passed over.
	entries = append(entries, macro.Entry{Date: "2026-03-02", Weld: "arrow", Sample: "other", Verdict: "met",
		Items: []macro.LogItem{{ID: "fusion-a", Measured: 9, Verdict: "met"}}, Digest: strings.Repeat("0", 64)})
	if _, err := macro.Append(path, entries); err != nil {
		t.Fatal(err)
	}
	return path
}

func calibrated(t *testing.T, path string) calibration {
	t.Helper()
	code, out, talk := run(t, "", append(append([]string{"heat"}, benchTee...), "--calibrate", path, "--format", "json")...)
	if code != exitDone {
		t.Fatal(talk)
	}
	var got calibration
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// TestCalibrate takes depths from the model itself, with an arc that is known,
// by way of a log, and looks for that arc.
func TestCalibrate(t *testing.T) {
	for _, c := range []struct {
		name             string
		efficiency, spot float64
		members          int
	}{{"both members", 0.57, 2.1, 2}, {"one member, the spot known", 0.59, 1.5, 1}} {
		t.Run(c.name, func(t *testing.T) {
			h := heatOf(t, benchTee...)
			d := depthsOf(t, h, c.efficiency, c.spot, c.members)
			got := calibrated(t, logOf(t, h, [][]float64{d[:c.members]}))
			if got.Sections != 1 || got.SpotFitted != (c.members == 2) || math.Abs(got.Efficiency-c.efficiency) > 0.02 || math.Abs(got.SpotMM-c.spot) > 0.2 || got.ResidualMM > 0.05 {
				t.Errorf("want efficiency %v and spot %v mm, got %+v", c.efficiency, c.spot, got)
			}
			if got.EfficiencyRange != nil || got.SpotRange != nil || !strings.Contains(strings.Join(got.Notes, "; "), "no interval") {
				t.Errorf("one section cannot have an interval: %+v", got)
			}
		})
	}
}

// The interval is told by the scatter of the sections: it holds the arc that
// was put in, narrows with the number of sections as Student's distribution
// has it, and widens in proportion to the scatter.
func TestCalibrationInterval(t *testing.T) {
	const efficiency, spot = 0.57, 2.1
	h := heatOf(t, benchTee...)
	d := depthsOf(t, h, efficiency, spot, 2)
	rng := rand.New(rand.NewPCG(3, 1))
	noisy := func(n int, scatter float64) [][]float64 {
		var out [][]float64
		for range n {
			out = append(out, []float64{d[0] + scatter*rng.NormFloat64(), d[1] + scatter*rng.NormFloat64()})
		}
		return out
	}
	for _, n := range []int{2, 4, 8} {
		got := calibrated(t, logOf(t, h, noisy(n, 0.08)))
		e, s := got.EfficiencyRange, got.SpotRange
		if e == nil || s == nil {
			t.Fatalf("%d sections: no interval: %+v", n, got)
		}
		if !(e[0] <= efficiency && efficiency <= e[1] && s[0] <= spot && spot <= s[1] && e[0] < got.Efficiency && got.Efficiency < e[1]) {
			t.Errorf("%d sections: efficiency %v and spot %v outside %v and %v", n, efficiency, spot, *e, *s)
		}
	}
	// The same scatter, by pairs round the same mean.
	pairs := func(n int, off float64) fusion {
		m := fusion{count: 2 * n, depth: d, each: [2]int{2 * n, 2 * n}, known: [2]bool{true, true}, free: 4*n - 2}
		m.scatter = off * math.Sqrt(float64(4*n)/float64(m.free))
		return m
	}
	width := func(m fusion) float64 {
		c := calibration{Efficiency: efficiency, SpotMM: spot, SpotFitted: true}
		if err := h.interval(&c, m, trial{spot: spot, efficiency: efficiency}); err != nil {
			t.Fatal(err)
		}
		return c.EfficiencyRange[1] - c.EfficiencyRange[0]
	}
	few, many, wide := pairs(2, 0.02), pairs(8, 0.02), pairs(2, 0.04)
	want := student(many.free) * many.scatter / math.Sqrt(16) / (student(few.free) * few.scatter / math.Sqrt(4))
	if got := width(many) / width(few); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("sixteen sections against four: %v times as wide, want %v", got, want)
	}
	if got := width(wide) / width(few); math.Abs(got-2) > 1e-9 {
		t.Errorf("twice the scatter: %v times as wide", got)
	}
}

// Student's factors against their published values, and against the scatter of
// means drawn at random.
func TestStudent(t *testing.T) {
	// From memory, unverified; the sampling below checks one on its own.
	for free, want := range map[int]float64{1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 10: 2.228, 30: 2.042, 1000: 1.962} {
		if got := student(free); math.Abs(got-want) > 6e-4 {
			t.Errorf("%d: want %v, got %v", free, want, got)
		}
	}
	rng := rand.New(rand.NewPCG(5, 2))
	const rounds, n = 20000, 4
	var ts []float64
	for range rounds {
		var x [n]float64
		mean, squares := 0., 0.
		for i := range x {
			x[i] = rng.NormFloat64()
			mean += x[i] / n
		}
		for _, v := range x {
			squares += (v - mean) * (v - mean)
		}
		ts = append(ts, math.Abs(mean)/math.Sqrt(squares/(n-1)/n))
	}
	slices.Sort(ts)
	if got := ts[rounds*95/100]; math.Abs(got/student(n-1)-1) > 0.05 {
		t.Errorf("sampled %v, want %v", got, student(n-1))
	}
}
