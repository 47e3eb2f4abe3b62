package field

import (
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"fay/geometry"
)

const dataDir = "../../../testdata/heat"

// reference is a supplied mesh with its load and answers.
type reference struct {
	Props struct {
		Conductivity float64 `json:"k"`
		Density      float64 `json:"rho"`
		HeatCapacity float64 `json:"cp"`
		Liquidus     float64 `json:"Tl"`
	} `json:"props"`
	Speed  float64      `json:"v"`
	Spot   float64      `json:"sigma"`
	Power  float64      `json:"q"`
	Start  float64      `json:"T0"`
	Ahead  []float64    `json:"xi"`
	Nodes  [][2]float64 `json:"nodes"`
	Tris   [][3]int32   `json:"tris"`
	Region []int32      `json:"region"`
	Load   []float64    `json:"load"`
	PeakT  []float64    `json:"peak_T"`

	ProbeNodes map[string]int       `json:"probe_nodes"`
	ProbeTXi   map[string][]float64 `json:"probe_T_xi"`

	FusedArea map[string]float64   `json:"fused_area_mm2"`
	Times     []float64            `json:"pulse_times"`
	Heat      map[string][]float64 `json:"pulse_heat_by_region"`
}

func readReference(tb testing.TB, name string) *reference {
	tb.Helper()
	f, err := os.Open(filepath.Join(dataDir, name+".json.gz"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		tb.Fatal(err)
	}
	var r reference
	if err := json.NewDecoder(z).Decode(&r); err != nil {
		tb.Fatal(err)
	}
	return &r
}

func (r *reference) mesh() *Mesh {
	metal := Metal{r.Props.Conductivity, r.Props.Density * r.Props.HeatCapacity}
	m := &Mesh{metals: []Metal{metal, metal, metal}, tris: r.Tris}
	for _, p := range r.Nodes {
		m.nodes = append(m.nodes, geometry.Point{X: p[0] * 1e3, Y: p[1] * 1e3})
	}
	for _, g := range r.Region {
		m.region = append(m.region, g-1)
	}
	return m
}

var suppliedMeshes = []string{"T_al6xxx_10_5_bonded", "T_al6xxx_10_5_slit", "T_steel_10_5_slit"}

// TestSuppliedMeshes solves the meshes of an independent program with its own
// scheme in time and its own load: every node within 0.01 K.
func TestSuppliedMeshes(t *testing.T) {
	for _, name := range suppliedMeshes {
		t.Run(name, func(t *testing.T) {
			ref := readReference(t, name)
			m := ref.mesh()
			s := m.assemble(true, 0)
			load := make([]float64, s.n)
			for i, f := range ref.Load {
				load[s.dof[i]] = f
			}
			metal, _ := m.uniform()
			a := metal.Diffusivity()
			times, u := s.pulse([][]float64{load}, ref.Spot*ref.Spot/a/20, 60)
			b := &basis{sys: s, u: u, w: weights(times, ref.Ahead, a, ref.Speed, ref.Spot), per: len(times)}
			worst := 0.0
			peaks := b.peaks(0)
			for i, want := range ref.PeakT {
				worst = max(worst, math.Abs(ref.Start+ref.Power*peaks[s.dof[i]]-want))
			}
			t.Logf("worst difference of peaks %.2g K over %d nodes", worst, len(ref.PeakT))
			if worst > 0.01 {
				t.Errorf("peaks: want within 0.01 K, got %v K", worst)
			}
			r := &Response{mesh: m, b: b, Ahead: ref.Ahead, peak: peaks}
			for probe, node := range ref.ProbeNodes {
				got := r.Curve(node)
				for j, want := range ref.ProbeTXi[probe] {
					if d := math.Abs(ref.Start + ref.Power*got[j] - want); d > 0.01 {
						t.Errorf("%s at %g m: want %v, off by %v K", probe, ref.Ahead[j], want, d)
					}
				}
			}
			values := make([]float64, m.Nodes())
			for i := range values {
				values[i] = ref.Start + ref.Power*r.Peak(i)
			}
			area := m.AreaAbove(values, ref.Props.Liquidus)
			for g, name := range []string{"base", "stem", "fillet"} {
				// The other program sampled its triangles in 64 parts.
				if want := ref.FusedArea[name]; math.Abs(area[g]-want) > 0.01*want+0.02 {
					t.Errorf("fused area of the %s: want %v mm², got %v", name, want, area[g])
				}
			}
			index := []int{0, 20, 40, 60, len(times) - 1}
			for k, i := range index {
				if math.Abs(times[i]-ref.Times[k]) > 1e-9*ref.Times[k] {
					t.Errorf("time %d: want %v, got %v", i, ref.Times[k], times[i])
				}
				total := 0.0
				for g, h := range s.heat {
					got := 0.0
					for n, c := range h {
						got += c * u[i][n]
					}
					total += got
					if want := ref.Heat[string(rune('1'+g))][k]; math.Abs(got-want) > 1e-6 {
						t.Errorf("heat in region %d at %v s: want %v, got %v", g, times[i], want, got)
					}
				}
				if math.Abs(total-1) > 1e-8 {
					t.Errorf("heat of the pulse at %v s: want 1, got %v", times[i], total)
				}
			}
		})
	}
}

type probe struct {
	at    geometry.Point
	ahead []float64
	rise  []float64
}

// readProbes reads a table x, y, xi in metres and the rise in K.
func readProbes(tb testing.TB, name string) []probe {
	tb.Helper()
	f, err := os.Open(filepath.Join(dataDir, name+".csv.gz"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		tb.Fatal(err)
	}
	rows, err := csv.NewReader(z).ReadAll()
	if err != nil {
		tb.Fatal(err)
	}
	var out []probe
	for _, row := range rows[1:] {
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				tb.Fatal(err)
			}
		}
		p := geometry.Point{X: v[0] * 1e3, Y: v[1] * 1e3}
		if len(out) == 0 || out[len(out)-1].at != p {
			out = append(out, probe{at: p})
		}
		l := &out[len(out)-1]
		l.ahead, l.rise = append(l.ahead, v[2]*1e3), append(l.rise, v[3])
	}
	return out
}

// TestAgainstThreeDimensions compares own meshes with three-dimensional finite
// element solutions of the same tee by another program: 10 probes, 61 places.
func TestAgainstThreeDimensions(t *testing.T) {
	for _, row := range []struct {
		name  string
		file  string
		metal Metal
		size  float64
		grow  float64
		limit float64 // of the probe's peak
	}{
		{"aluminium, default mesh", "ff3d_200_160_k170", Metal{170, 2.7e6}, 0.25, 0.08, 0.015},
		{"steel, default mesh", "ff3d_200_180_k40", Metal{40, 5.0e6}, 0.25, 0.08, 0.015},
		{"aluminium, fine mesh", "ff3d_200_160_k170", Metal{170, 2.7e6}, 0.2, 0.06, 0.01},
		{"steel, fine mesh", "ff3d_200_180_k40", Metal{40, 5.0e6}, 0.2, 0.06, 0.01},
	} {
		t.Run(row.name, func(t *testing.T) {
			probes := readProbes(t, row.file)
			m, err := NewMesh(teeParams(10, 5, 5, 30, 30, [3]Metal{row.metal, row.metal, row.metal}, row.size, row.grow))
			if err != nil {
				t.Fatal(err)
			}
			r, err := m.solveAt(Source{Aim: pt(2.5, 2.5), Spot: 1.5, Speed: 4}, probes[0].ahead, 0)
			if err != nil {
				t.Fatal(err)
			}
			worst := 0.0
			for _, p := range probes {
				tri, w := m.Locate(p.at)
				got := make([]float64, len(p.ahead))
				for k, v := range m.tris[tri] {
					for j, x := range r.Curve(int(v)) {
						got[j] += 2500 * w[k] * x
					}
				}
				top, off := 0.0, 0.0
				for j, want := range p.rise {
					top = max(top, want)
					off = max(off, math.Abs(got[j]-want))
				}
				worst = max(worst, off/top)
				if off > row.limit*top {
					t.Errorf("probe %v: want within %g %% of the peak %.0f K, off by %.2f %%", p.at, 100*row.limit, top, 100*off/top)
				}
			}
			t.Logf("%d nodes, worst difference %.2f %% of the local peak", m.Nodes(), 100*worst)
		})
	}
}

// TestSlabPulse compares the pulse with images in a slab 6 mm thick, cut off
// with fins at six thicknesses.
func TestSlabPulse(t *testing.T) {
	const d, spot = 6.0, 1.5
	for name, metal := range map[string]Metal{"aluminium": alu, "steel": steel} {
		t.Run(name, func(t *testing.T) {
			m, err := NewMesh(Params{
				Regions: []Region{{Outline: []geometry.Point{pt(-36, -d), pt(36, -d), pt(36, 0), pt(-36, 0)}, Metal: metal, Cap: d / 4}},
				Cuts:    []Cut{{From: pt(36, -d), To: pt(36, 0)}, {From: pt(-36, -d), To: pt(-36, 0)}},
				Sizing:  Sizing{Min: 0.25, Grow: 0.08, Focus: [][2]geometry.Point{{pt(0, 0), pt(0, 0)}}},
			})
			if err != nil {
				t.Fatal(err)
			}
			a := metal.Diffusivity()
			s := m.assemble(true, 4*math.Sqrt(a*60))
			r, err := newRun(Source{Aim: pt(0, 0), Spot: spot, Speed: 4}, []float64{0}, 0)
			if err != nil {
				t.Fatal(err)
			}
			times, u := s.pulse(r.vectors(m, s), spot*spot*1e-6/a/20, 60)
			for _, p := range []geometry.Point{pt(0, 0), pt(0, -d), pt(5, 0), pt(10, -d)} {
				node, _ := m.Nearest(p, 0)
				p = m.Node(node)
				top, off := 0.0, 0.0
				for k := 1; k < len(times); k++ {
					v := 4*a*times[k] + 2*spot*spot*1e-6
					want := 0.0
					for j := -60; j <= 60; j++ {
						z := (p.Y - 2*float64(j)*d) * 1e-3
						want += math.Exp(-z * z / v)
					}
					x := p.X * 1e-3
					want *= 2 / (math.Pi * v) * math.Exp(-x*x/v) / metal.HeatCapacity
					got := u[k][s.dof[node]]
					top, off = max(top, want), max(off, math.Abs(got-want))
				}
				t.Logf("%d nodes, %v: %.2f %% of peak", m.Nodes(), p, 100*off/top)
				if off > 0.01*top {
					t.Errorf("at %v: want within 1 %% of the peak, off by %.2f %%", p, 100*off/top)
				}
			}
		})
	}
}
