package heatmap

import (
	"errors"
	"flag"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
	"fay/render"
	"fay/render/plot"
	"fay/render/png"
	"fay/render/rendertest"
	"fay/render/svg"
)

var look = flag.String("look", "", "folder to write the sheets to as PNG")

var metals = map[string]heat.Material{
	"aluminium": {Name: "6082", Family: heat.Aluminium, Conductivity: 170, Density: 2700, HeatCapacity: 1000, Solidus: 582, Liquidus: 652, LatentHeat: 380e3, HeatTreatable: true},
	"steel":     {Name: "S355", Family: heat.Steel, Conductivity: 40, Density: 7800, HeatCapacity: 640, Solidus: 1480, Liquidus: 1520, LatentHeat: 270e3},
	"stainless": {Name: "304", Family: heat.Stainless, Conductivity: 25, Density: 7800, HeatCapacity: 600, Solidus: 1400, Liquidus: 1455, LatentHeat: 265e3},
}

func plate(mm float64) joints.Plate { return joints.Plate{Thickness: geometry.Length(mm)} }

// sections are the shapes that are looked at.
func sections(tb testing.TB) map[string]*joints.Section {
	tb.Helper()
	fillet := joints.EqualFillet
	out := map[string]*joints.Section{}
	add := func(name string) func(joints.Section, error) {
		return func(s joints.Section, err error) {
			if err != nil {
				tb.Fatalf("%s: %v", name, err)
			}
			out[name] = &s
		}
	}
	add("tee")(joints.NewTee(joints.Tee{Base: plate(10), Stem: plate(5), Arrow: fillet(5)}))
	add("tee with gap")(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(3), Gap: 0.5, Arrow: fillet(3), Other: fillet(3)}))
	add("skewed tee")(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Angle: 60 * geometry.Degree, Arrow: fillet(4)}))
	add("lap")(joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(3), Overlap: 25, Arrow: fillet(3)}))
	add("inner corner")(joints.NewCorner(joints.Corner{Base: plate(6), Upright: plate(4), Cover: 1, Inside: fillet(4)}))
	add("outer corner")(joints.NewCorner(joints.Corner{Base: plate(5), Upright: plate(4), Outside: &joints.Fillet{}}))
	add("butt")(joints.NewButt(joints.Butt{Left: plate(8), Right: plate(5), Prep: joints.PrepSingleV, RootFace: 1, RootOpening: 1, Arrow: &joints.Groove{Cap: 1}}))
	return out
}

// jobOf computes a joint of these metals at a part of the power that melts its
// root.
func jobOf(tb testing.TB, name string, s *joints.Section, first, second string, part float64) Job {
	tb.Helper()
	efficiency := heat.Efficiency{Low: 0.4, Nominal: 0.6, High: 0.7}
	in := heat.Input{Section: s, Arc: heat.Arc{Volts: 18, Efficiency: efficiency, Speed: 4, Spot: 1.5}}
	for i := range s.Members {
		m := metals[first]
		if i%2 == 1 {
			m = metals[second]
		}
		in.Members = append(in.Members, heat.Member{Material: m, Preheat: heat.Room})
	}
	answer, err := heat.Answer(in)
	if err != nil {
		tb.Fatal(err)
	}
	f, err := heat.NewField(in, heat.FieldParams{})
	if err != nil {
		tb.Fatal(err)
	}
	levels := append(f.Levels(), 300, 400)
	slices.Sort(levels)
	p, err := f.At(part*f.RootPower(), levels)
	if err != nil {
		tb.Fatal(err)
	}
	w := &s.Welds[0]
	job := Job{
		Title: "Joint of a canal-boat yard: " + name, Subtitle: first + " and " + second, Company: "canal-boat yard", Digest: "0123456789abcdef",
		Section: s, Weld: w, Field: f, Picture: p, Answer: &answer, Aim: w.Feet[1].Toe.Lerp(w.Feet[0].Toe, 0.5), AimText: "aim 50 %",
		Data:  []Line{{"process", "gtaw"}},
		Notes: append([]string{"the root melts from 2200 W in the work"}, answer.Cautions...),
	}
	for _, m := range p.Melted {
		metal := in.Members[s.ThinnerMember()].Material // the metal laid
		for i := range s.Members {
			if s.Members[i].Name == m.Name {
				metal = in.Members[i].Material
			}
		}
		job.Liquidus, job.Solidus = append(job.Liquidus, metal.Liquidus), append(job.Solidus, metal.Solidus)
	}
	return job
}

// TestSheets draws every shape in two metals and both drafting styles and holds
// the sheets to the rules of drawings.
func TestSheets(t *testing.T) {
	us := render.US()
	iso := render.ISO()
	for name, s := range sections(t) {
		for _, pair := range [][2]string{{"aluminium", "aluminium"}, {"steel", "steel"}, {"steel", "stainless"}} {
			for part, style := range map[float64]*render.Style{1: &iso, 1.3: &us} {
				page := plot.A4
				if style == &us {
					page = plot.LetterPortrait // turned
				}
				job := jobOf(t, name, s, pair[0], pair[1], part)
				d, err := Compose(job, style, page)
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				if err := d.Check(); err != nil {
					t.Errorf("%s %v: %v", name, pair, err)
				}
				for _, v := range rendertest.Lint(d) {
					t.Errorf("%s %v: %v", name, pair, v)
				}
				labels(t, name, &job, d)
				if *look != "" && style == &iso {
					file, err := os.Create(filepath.Join(*look, strings.ReplaceAll(name+" "+pair[0]+" "+pair[1], " ", "-")+".png"))
					if err != nil {
						t.Fatal(err)
					}
					if err := png.Write(file, d, 150); err != nil {
						t.Error(err)
					}
					file.Close()
				}
			}
		}
	}
}

// labels: every isotherm that is drawn carries its temperature, and the fused
// outline and the aim are there.
func labels(t *testing.T, name string, job *Job, d *render.Drawing) {
	t.Helper()
	drawn, lettered := map[string]bool{}, map[string]bool{}
	aim := false
	for i := range d.Items {
		it := &d.Items[i]
		if level, ok := strings.CutPrefix(it.Role, "isotherm:"); ok {
			drawn[level] = true
		}
		if it.Text != nil && it.Role == "isotherm" {
			lettered[it.Text.Content] = true
		}
		aim = aim || it.Text != nil && it.Text.Content == "aim 50 %"
	}
	for level := range drawn {
		if !lettered[level] {
			t.Errorf("%s: the line of %s carries no label", name, level)
		}
	}
	if !drawn[job.fusedText()] || !aim {
		t.Errorf("%s: drawn are %v, aim %v", name, drawn, aim)
	}
}

// TestMoltenArea compares the molten lines with the areas that package field
// sums triangle by triangle.
func TestMoltenArea(t *testing.T) {
	for name, s := range sections(t) {
		for _, pair := range [][2]string{{"aluminium", "aluminium"}, {"steel", "stainless"}} {
			job := jobOf(t, name, s, pair[0], pair[1], 1.15)
			areas, rims := molten(job.Field.Mesh(), job.Picture.Peak, job.Liquidus)
			want, got := 0., 0.
			for _, m := range job.Picture.Melted {
				want += m.Area
			}
			for _, a := range areas {
				got += area(a)
			}
			if want < 1 || math.Abs(got-want) > 1e-9*want {
				t.Errorf("%s %v: want %v mm², got %v", name, pair, want, got)
			}
			if pair[0] != pair[1] {
				continue
			}
			for _, r := range rims {
				for _, p := range r {
					if d := nearestLine(&job, job.Liquidus[0], p); d > 1e-6 {
						t.Fatalf("%s: the rim leaves the isotherm by %v mm", name, d)
					}
				}
			}
		}
	}
}

func area(ring []geometry.Point) float64 {
	sum := 0.
	for i, p := range ring {
		sum += p.Cross(ring[(i+1)%len(ring)]) / 2
	}
	return sum
}

func nearestLine(job *Job, level float64, p geometry.Point) float64 {
	best := math.Inf(1)
	for i := range job.Picture.Isotherms {
		if job.Picture.Isotherms[i].Level != level {
			continue
		}
		for _, l := range job.Picture.Isotherms[i].Lines {
			for k := 1; k < len(l); k++ {
				best = math.Min(best, geometry.Line(l[k-1], l[k]).Distance(p))
			}
		}
	}
	return best
}

// TestOutlines: the lines taken from the mesh lie on the section or on its
// straight continuation, and hold the weld's whole outline.
func TestOutlines(t *testing.T) {
	for name, s := range sections(t) {
		job := jobOf(t, name, s, "steel", "steel", 1)
		lines := outlines(job.Field.Mesh())
		for _, e := range job.Weld.Profile.All() {
			p := e.At(0.5)
			best := math.Inf(1)
			for _, kind := range lines {
				for _, l := range kind {
					for k := 1; k < len(l); k++ {
						best = math.Min(best, geometry.Line(l[k-1], l[k]).Distance(p))
					}
				}
			}
			if best > 0.05 {
				t.Errorf("%s: the side of the weld at %v is not drawn: %v mm", name, p, best)
			}
		}
		if len(lines[edgeLine]) == 0 {
			t.Errorf("%s: no surface is drawn", name)
		}
	}
}

// TestClip: what is kept lies inside, and what is cut away outside, by sampling.
func TestClip(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	box := geometry.Box{Min: geometry.Point{X: -1, Y: -2}, Max: geometry.Point{X: 3, Y: 1}}
	for range 2000 {
		a := geometry.Point{X: 8 * (rng.Float64() - 0.5), Y: 8 * (rng.Float64() - 0.5)}
		b := geometry.Point{X: 8 * (rng.Float64() - 0.5), Y: 8 * (rng.Float64() - 0.5)}
		want := 0
		for i := range 1000 {
			if box.Contains(a.Lerp(b, (float64(i)+0.5)/1000)) {
				want++
			}
		}
		kept, cut := 0., 0.
		for _, l := range clip([]geometry.Point{a, b}, box) {
			kept += length(l)
		}
		for _, l := range without([]geometry.Point{a, b}, []geometry.Box{box}) {
			cut += length(l)
		}
		full := a.Dist(b)
		if math.Abs(kept/full-float64(want)/1000) > 2e-3 || math.Abs(kept+cut-full) > 1e-9*full {
			t.Fatalf("%v to %v: want %v of it inside, got %v, and %v outside", a, b, float64(want)/1000, kept/full, cut/full)
		}
	}
	square := []geometry.Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 9}, {X: 0, Y: 9}}
	if got := area(clipArea(square, box)); math.Abs(got-3) > 1e-12 {
		t.Errorf("a square cut to 3 × 1: got %v", got)
	}
}

func TestIncomplete(t *testing.T) {
	style := render.ISO()
	if _, err := Compose(Job{}, &style, plot.A4); !errors.Is(err, ErrIncomplete) {
		t.Errorf("an empty job: got %v", err)
	}
	job := jobOf(t, "tee", sections(t)["tee"], "steel", "steel", 1)
	for name, page := range map[string]plot.Page{"small": {Width: 120, Height: 90}, "not a number": {Width: math.NaN(), Height: 200}} {
		if _, err := Compose(job, &style, page); !errors.Is(err, ErrTooSmall) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestReproducible(t *testing.T) {
	style := render.ISO()
	job := jobOf(t, "lap", sections(t)["lap"], "aluminium", "aluminium", 1.1)
	rendertest.Reproducible(t, func(w io.Writer) error {
		d, err := Compose(job, &style, plot.A4)
		if err != nil {
			return err
		}
		return svg.Write(w, d)
	})
}

func BenchmarkCompose(b *testing.B) {
	style := render.ISO()
	job := jobOf(b, "tee", sections(b)["tee"], "aluminium", "aluminium", 1)
	for b.Loop() {
		if _, err := Compose(job, &style, plot.A4); err != nil {
			b.Fatal(err)
		}
	}
}

// A contour may shrink to a point: there are no places along it.
func TestAlong(t *testing.T) {
	p := geometry.Point{X: 3, Y: 4}
	if got := along([]geometry.Point{p, p}, length([]geometry.Point{p, p})/8); len(got) != 0 {
		t.Errorf("places on a point: %v", got)
	}
	got := along([]geometry.Point{{}, {X: 1}, {X: 2}}, 0.5)
	want := []geometry.Point{{X: 0.5}, {X: 1}, {X: 1.5}, {X: 2}}
	if !slices.Equal(want, got) {
		t.Errorf("want %v, got %v", want, got)
	}
}
