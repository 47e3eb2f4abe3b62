package dxf

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"
	"fay/joints"
	"fay/joints/jointfile"
	"fay/joints/jointstest"
	"fay/render"
	"fay/render/layout"
	"fay/render/rendertest"

	"github.com/google/go-cmp/cmp"
)

// audited is a file as ezdxf reads it.
type audited struct {
	Version  string               `json:"version"`
	Errors   []string             `json:"errors"`
	Fixes    []string             `json:"fixes"`
	Min      [2]float64           `json:"min"`
	Max      [2]float64           `json:"max"`
	Box      [4]float64           `json:"box"` // of everything but texts
	Layers   map[string]int       `json:"layers"`
	Types    map[string][]float64 `json:"types"`
	Entities []entity             `json:"entities"`
}

type entity struct {
	Kind   string       `json:"kind"`
	Layer  string       `json:"layer"`
	Type   string       `json:"type"`
	Text   string       `json:"text"`
	Points [][2]float64 `json:"points"`
	Length float64      `json:"length"`
	Radius float64      `json:"radius"`
	Area   float64      `json:"area"`
	Height float64      `json:"height"`
	Closed bool         `json:"closed"`
}

// python is Debian's, which has the package python3-ezdxf.
const python = "/usr/bin/python3"

// audit reads files with ezdxf, which must find nothing to complain of. It
// skips the test, saying so, where there is no ezdxf, unless FAY_REQUIRE_TOOLS
// asks for it.
func audit(t *testing.T, files ...[]byte) []audited {
	t.Helper()
	if out, err := exec.CommandContext(t.Context(), python, "-c", "import ezdxf").CombinedOutput(); err != nil {
		if os.Getenv("FAY_REQUIRE_TOOLS") != "" {
			t.Fatalf("ezdxf is not installed (python3-ezdxf): %v\n%s", err, out)
		}
		t.Skip("ezdxf is not installed (python3-ezdxf); this check needs it")
	}
	args := []string{filepath.Join("testdata", "audit.py")}
	dir := t.TempDir()
	for i, data := range files {
		path := filepath.Join(dir, strconv.Itoa(i)+".dxf")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	cmd := exec.CommandContext(t.Context(), python, args...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, stderr.Bytes())
	}
	var read []audited
	if err := json.Unmarshal(out, &read); err != nil {
		t.Fatal(err)
	}
	for i, a := range read {
		if a.Version != "AC1009" || len(a.Errors)+len(a.Fixes) > 0 {
			t.Errorf("file %d: version %s, errors %q, fixes %q", i, a.Version, a.Errors, a.Fixes)
		}
		// ezdxf takes arcs for curves that stand out by as much of their radius.
		hair := 1e-5 * max(1, a.Max[0]-a.Min[0], a.Max[1]-a.Min[1])
		if a.Box[0] < a.Min[0]-hair || a.Box[1] < a.Min[1]-hair || a.Box[2] > a.Max[0]+hair || a.Box[3] > a.Max[1]+hair {
			t.Errorf("file %d: extents %v to %v do not hold %v", i, a.Min, a.Max, a.Box)
		}
	}
	return read
}

func TestAuditSamples(t *testing.T) {
	files := [][]byte{
		write(t, rendertest.Sample(), Options{Sheet: true, Notes: []string{"a note"}}),
		write(t, rendertest.Sample(), Options{}),
		write(t, rendertest.Sheet(2), Options{Sheet: true}),
	}
	for i := range joints.Kinds {
		r := geomtest.Rand(3)
		for done := 0; done < 3; {
			if sec, _, ok := jointstest.Section(&joints.Kinds[i], r); ok {
				done++
				files = append(files, write(t, sectionAt(&sec, 0.5), Options{Notes: []string{"note"}}))
			}
		}
	}
	sample := audit(t, files...)[0]
	for _, it := range rendertest.Sample().Items {
		if want := layerOf(it.Layer); sample.Layers[want.name] != want.colour {
			t.Errorf("layer %s: want colour %d, got %d", want.name, want.colour, sample.Layers[want.name])
		}
	}
}

// sectionAt is a section in a view, drawn as the views of a sheet are.
func sectionAt(sec *joints.Section, scale float64) *render.Drawing {
	style := render.ISO()
	view, items := layout.At(sec, &style, scale, geometry.EmptyBox()).Draw("section", pt(100, 90), 0)
	return &render.Drawing{Width: 400, Height: 400, Title: sec.Title, Views: []render.View{view}, Items: items}
}

func tee(t *testing.T, p joints.Tee) joints.Section {
	t.Helper()
	s, err := joints.NewTee(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSectionIsTheModel reads the sections of several tees and of every kind's
// example back and holds what
// was drawn against the model: lengths, areas and arcs at full size, not at the
// scale of the paper.
func TestSectionIsTheModel(t *testing.T) {
	convex := &joints.Fillet{Legs: [2]geometry.Length{5, 4}, Face: joints.FaceConvex, Rise: 0.6}
	concave := &joints.Fillet{Legs: [2]geometry.Length{6, 6}, Face: joints.FaceConcave, Rise: 0.5}
	plates := joints.Tee{Base: joints.Plate{Thickness: 8}, Stem: joints.Plate{Thickness: 5}}
	var names []string
	var sections []*joints.Section
	var files [][]byte
	for _, test := range []struct {
		name string
		edit func(*joints.Tee)
	}{
		{"convex and concave", func(p *joints.Tee) { p.Arrow, p.Other = convex, concave }},
		{"mirrored", func(p *joints.Tee) { p.Arrow, p.Other = concave, convex }},
		{"gap", func(p *joints.Tee) { p.Gap, p.Arrow = 0.7, convex }},
		{"skewed", func(p *joints.Tee) { p.Angle, p.Arrow, p.Other = 67*geometry.Degree, concave, joints.EqualFillet(7) }},
	} {
		for _, scale := range []float64{5, 1, 0.5} {
			p := plates
			test.edit(&p)
			sec := tee(t, p)
			names = append(names, test.name+" "+render.ScaleText(scale))
			sections = append(sections, &sec)
			files = append(files, write(t, sectionAt(&sec, scale), Options{}))
		}
	}
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		args := strings.Fields(k.Example)
		doc, err := jointfile.Read(jointfile.Source{Kind: args[0], Assignments: args[1:]})
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, k.Name)
		sections = append(sections, &doc.Section)
		files = append(files, write(t, sectionAt(&doc.Section, 2), Options{}))
	}
	for i, got := range audit(t, files...) {
		t.Run(names[i], func(t *testing.T) { holdAgainst(t, sections[i], &got) })
	}
}

func holdAgainst(t *testing.T, sec *joints.Section, got *audited) {
	t.Helper()
	var areas, wantAreas []float64
	var faces, wantFaces [][2]float64 // radius and length
	var edges float64                 // of the members as drawn
	for _, e := range got.Entities {
		switch {
		case e.Layer == "WELD-METAL" && e.Kind == "POLYLINE" && e.Closed:
			areas = append(areas, math.Abs(e.Area))
		case e.Layer == "WELD" && e.Kind == "ARC":
			faces = append(faces, [2]float64{e.Radius, e.Length})
		case e.Layer == "MEMBER":
			edges += e.Length
		}
	}
	var wantEdges float64
	for i := range sec.Members {
		m := &sec.Members[i]
		wantEdges += m.Outline.Perimeter()
		for _, n := range m.Broken {
			wantEdges -= m.Outline.Edge(n).Length()
		}
	}
	for i := range sec.Welds {
		w := &sec.Welds[i]
		wantAreas = append(wantAreas, w.Area)
		for _, e := range w.FaceEdges {
			if e.Kind() == geometry.ArcEdge {
				wantFaces = append(wantFaces, [2]float64{e.Radius(), e.Length()})
			}
		}
	}
	near := geomtest.Approx(1e-6)
	melted := 0.0
	for i := range sec.Welds {
		melted += sec.Welds[i].MeltedBaseArea
	}
	if melted > 0 && len(areas) >= len(wantAreas) {
		// What is melted of the members is drawn over the weld, an area each,
		// and its edges are not those of the members any more.
		sum := 0.0
		for _, a := range areas[len(wantAreas):] {
			sum += a
		}
		if math.Abs(sum-melted) > 1e-6 {
			t.Errorf("melted base metal: want %.9g mm², got %.9g", melted, sum)
		}
		areas, edges = areas[:len(wantAreas)], wantEdges
	}
	if d := cmp.Diff(wantAreas, areas, near); d != "" {
		t.Errorf("areas of weld metal: %s", d)
	}
	if d := cmp.Diff(wantFaces, faces, near); d != "" {
		t.Errorf("radius and length of the faces: %s", d)
	}
	if math.Abs(wantEdges-edges) > 1e-6 {
		t.Errorf("edges of the members: want %.9g mm, got %.9g", wantEdges, edges)
	}
	for i := range sec.Welds {
		toe := sec.Welds[i].Feet[0].Toe
		best := math.Inf(1)
		for _, e := range got.Entities {
			if e.Layer == "WELD" {
				for _, p := range e.Points {
					best = math.Min(best, pt(p[0], p[1]).Dist(toe))
				}
			}
		}
		if best > 1e-6 {
			t.Errorf("no edge of the weld ends at the toe %v; the nearest is %g mm off", toe, best)
		}
	}
}

// TestLetteringFits reads the texts back: height and width at full size are
// those of the paper divided by the scale.
func TestLetteringFits(t *testing.T) {
	sec := tee(t, joints.Tee{Base: joints.Plate{Thickness: 8}, Stem: joints.Plate{Thickness: 3}, Arrow: joints.EqualFillet(3)})
	d := sectionAt(&sec, 5)
	got := audit(t, write(t, d, Options{}))[0]
	texts := 0
	for i := range d.Items {
		text := d.Items[i].Text
		if text == nil {
			continue
		}
		texts++
		found := false
		for _, e := range got.Entities {
			want := strings.ReplaceAll(text.Content, "⌀", "Ø")
			if e.Kind != "TEXT" || e.Text != want || len(e.Points) != 2 {
				continue
			}
			a, b := pt(e.Points[0][0], e.Points[0][1]), pt(e.Points[1][0], e.Points[1][1])
			start := text.Origin().Sub(pt(100, 90)).Scale(0.2)
			found = found || math.Abs(e.Height-text.Height/5) < 1e-6 && math.Abs(a.Dist(b)-text.Width()/5) < 1e-6 && a.Dist(start) < 1e-6
		}
		if !found {
			t.Errorf("text %q is not there at its size and place", text.Content)
		}
	}
	if texts == 0 {
		t.Error("no texts to look at")
	}
}
