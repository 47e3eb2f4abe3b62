package result_test

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/filler"
	"fay/joints/result"
)

func lap(t *testing.T) joints.Section {
	t.Helper()
	s, err := joints.NewLap(joints.Lap{
		Lower: joints.Plate{Thickness: 6}, Upper: joints.Plate{Thickness: 4, Material: "5083"}, Overlap: 30,
		Arrow: joints.EqualFillet(3),
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func encode(t *testing.T, v any) string {
	t.Helper()
	var b bytes.Buffer
	if err := result.WriteJSON(&b, v); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The names of the contract, and values that follow from the definitions: a
// flat equal 3 mm fillet on a 4 mm edge.
func TestContract(t *testing.T) {
	s := lap(t)
	fill, err := filler.New(filler.Params{DepositedArea: s.DepositedArea(), Efficiency: 1})
	if err != nil {
		t.Fatal(err)
	}
	text := encode(t, result.New(result.Parts{Section: &s, Digest: "d", Findings: []check.Finding{}, Filler: &fill}))
	var got struct {
		Schema string `json:"schema"`
		Joint  struct {
			Kind       string `json:"kind"`
			Title      string `json:"title"`
			Digest     string `json:"digest"`
			Parameters []any  `json:"parameters"`
		} `json:"joint"`
		Cautions []string `json:"cautions"`
		Section  struct {
			WeldArea      float64          `json:"weld_area_mm2"`
			DepositedArea float64          `json:"deposited_area_mm2"`
			Welds         []map[string]any `json:"welds"`
			Measures      []map[string]any `json:"measures"`
		} `json:"section"`
		Findings []any          `json:"findings"`
		Filler   map[string]any `json:"filler"`
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	half := 4.5
	throat := math.Round(3/math.Sqrt2*1e6) / 1e6
	want := map[string]any{
		"id": "arrow", "kind": "fillet", "legs_mm": []any{3.0, 3.0}, "gauge_legs_mm": []any{3.0, 3.0},
		"theoretical_throat_mm": throat, "effective_throat_mm": throat, "actual_throat_mm": throat,
		"face_mm": math.Round(3*math.Sqrt2*1e6) / 1e6, "toe_angles_deg": []any{135.0, 135.0}, "convexity_mm": 0.0,
		"area_mm2": half, "deposited_area_mm2": half, "edge_remaining_mm": 1.0, "centroid_mm": []any{1.0, 1.0},
	}
	if d := cmp.Diff([]map[string]any{want}, got.Section.Welds); d != "" {
		t.Errorf("welds (-want +got):\n%s", d)
	}
	if got.Schema != "fay.result/1" || got.Joint.Kind != "lap" || got.Section.WeldArea != half || len(got.Cautions) == 0 {
		t.Errorf("head of the result is wrong:\n%s", text)
	}
	for _, m := range got.Section.Measures {
		for _, key := range []string{"name", "value", "unit", "from", "to"} {
			if _, ok := m[key]; !ok {
				t.Errorf("measure %v has no %s", m["name"], key)
			}
		}
	}
	if got.Findings == nil {
		t.Error("findings that were computed are an empty list, not absent")
	}
	if got.Filler["volume_cm3_per_m"] != half {
		t.Errorf("volume %v, want %v", got.Filler["volume_cm3_per_m"], half)
	}
}

func TestKeyOrder(t *testing.T) {
	s := lap(t)
	text := encode(t, result.New(result.Parts{Section: &s, Findings: []check.Finding{}, Notes: []string{"n"}}))
	last := -1
	for _, key := range []string{"schema", "joint", "cautions", "section", "findings", "notes"} {
		i := strings.Index(text, "\n  \""+key+"\"")
		if i <= last {
			t.Errorf("%s stands at %d, after what should follow it (%d)", key, i, last)
		}
		last = i
	}
}

func TestAbsentIsAbsent(t *testing.T) {
	s := lap(t)
	text := encode(t, result.New(result.Parts{Section: &s}))
	for _, key := range []string{"findings", "filler", "groove_area_mm2", "melted_base_area_mm2", "cap_width_mm", "notes", "digest", "null", "tolerance"} {
		if strings.Contains(text, key) {
			t.Errorf("result holds %s", key)
		}
	}
	for _, want := range []string{`"melted_base_area_mm2"`, `"edge_remaining_mm": 0`, "edge consumed"} {
		full, err := joints.NewLap(joints.Lap{
			Lower: joints.Plate{Thickness: 6}, Upper: joints.Plate{Thickness: 4}, Overlap: 30,
			Arrow: &joints.Fillet{Legs: [2]geometry.Length{4, 4}, Fusion: [2]geometry.Length{0.5, 0.5}},
		})
		if err != nil {
			t.Fatal(err)
		}
		if text := encode(t, result.New(result.Parts{Section: &full})); !strings.Contains(text, want) {
			t.Errorf("result lacks %s:\n%s", want, text)
		}
	}
}

func TestSmallerEdge(t *testing.T) {
	s := lap(t)
	s.Welds[0].Feet[0].EdgeRemaining = joints.Some(2)
	got := result.New(result.Parts{Section: &s}).Section.Welds[0].EdgeRemainingMM
	if got == nil || *got != 1 {
		t.Errorf("edge remaining %v, want 1, the smaller of 2 and 1", got)
	}
	s.Welds[0].Feet[0].EdgeRemaining = joints.Some(0.5)
	got = result.New(result.Parts{Section: &s}).Section.Welds[0].EdgeRemainingMM
	if got == nil || *got != 0.5 {
		t.Errorf("edge remaining %v, want 0.5, the smaller of 0.5 and 1", got)
	}
}

func TestCautions(t *testing.T) {
	s := lap(t)
	always := result.Cautions(&s, nil)
	if len(always) != 1 || !strings.Contains(always[0], "local code") {
		t.Errorf("cautions %q, want the one that goes with every result", always)
	}
	if got := result.Cautions(&s, []check.Finding{{Provenance: check.Memory}}); len(got) != 2 {
		t.Errorf("cautions %q, want one more for values from memory", got)
	}
	s.Welds[0].Proven = true
	if got := result.Cautions(&s, nil); len(got) != 2 {
		t.Errorf("cautions %q, want one more for proven penetration", got)
	}
}

// Noise in the last digits does not reach the bytes, and the value itself is
// left alone.
func TestWriteJSONRounds(t *testing.T) {
	type inner struct {
		P *float64       `json:"p"`
		M map[string]any `json:"m,omitempty"`
	}
	tenth, fifth := 0.1, 0.2
	v := tenth + fifth // 0.30000000000000004
	in := struct {
		A []float64  `json:"a"`
		B [2]float64 `json:"b"`
		C []inner    `json:"c"`
		D any        `json:"d"`
		E any        `json:"e,omitempty"`
	}{A: []float64{v, -1e-9}, B: [2]float64{1.0000004, 1.0000006}, C: []inner{{P: &v}}, D: v}
	want := `{
  "a": [
    0.3,
    0
  ],
  "b": [
    1,
    1.000001
  ],
  "c": [
    {
      "p": 0.3
    }
  ],
  "d": 0.3
}
`
	if d := cmp.Diff(want, encode(t, in)); d != "" {
		t.Errorf("json (-want +got):\n%s", d)
	}
	if v == 0.3 {
		t.Error("the value itself was rounded")
	}
}

func TestRound(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		v := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(9)))
		got := result.Round(v)
		if math.Abs(got-v) > result.Precision/2*(1+1e-6)+math.Abs(v)*1e-15 {
			t.Fatalf("Round(%v) = %v", v, got)
		}
		if again := result.Round(got); again != got {
			t.Fatalf("Round(Round(%v)) = %v, want %v", v, again, got)
		}
	}
	if got := result.Round(-1e-12); math.Signbit(got) {
		t.Errorf("Round(-1e-12) = %v, want 0", got)
	}
}

// Every kind's findings go into a result and come out the same after a turn
// through JSON, so that what is read back is what was said.
func TestEveryKind(t *testing.T) {
	for i := range joints.Kinds {
		t.Run(joints.Kinds[i].Name, func(t *testing.T) {
			s := lap(t)
			if joints.Kinds[i].Name == "tee" {
				var err error
				s, err = joints.NewTee(joints.Tee{Base: joints.Plate{Thickness: 8}, Stem: joints.Plate{Thickness: 3}, Arrow: joints.EqualFillet(3), Gap: 0.3})
				if err != nil {
					t.Fatal(err)
				}
			}
			findings, err := documents.Run(&check.Facts{Section: &s}, documents.IDs())
			if err != nil {
				t.Fatal(err)
			}
			text := encode(t, result.New(result.Parts{Section: &s, Findings: findings}))
			var back result.Result
			if err := json.Unmarshal([]byte(text), &back); err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(text, encode(t, back)); d != "" {
				t.Errorf("turned through JSON (-want +got):\n%s", d)
			}
		})
	}
}

func BenchmarkWriteJSON(b *testing.B) {
	s, err := joints.NewTee(joints.Tee{Base: joints.Plate{Thickness: 8}, Stem: joints.Plate{Thickness: 3}, Arrow: joints.EqualFillet(3)})
	if err != nil {
		b.Fatal(err)
	}
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := result.WriteJSON(&out, result.New(result.Parts{Section: &s})); err != nil {
			b.Fatal(err)
		}
	}
}
