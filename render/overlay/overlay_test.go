package overlay_test

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/jointfile"
	"fay/joints/jointstest"
	"fay/joints/macro"
	"fay/render"
	"fay/render/overlay"
	"fay/render/png"
	"fay/render/rendertest"
	"fay/render/svg"
)

var look = flag.String("look", "", "write the example overlays as PNG into this directory")

type example struct {
	name   string
	joint  []string
	record []string
	style  render.Style
	page   overlay.Page
}

func inches() render.Style {
	s := render.US()
	s.Numbers.Denominator = 0
	return s
}

func examples() []example {
	return []example{
		{"tee", []string{"tee", "base=8", "stem=3", "leg=3", "gap=0.3 ±0.3", "face=convex", "rise=0.4", "sides=both"},
			[]string{"legs=3.2,2.8", "throat=2.5", "convexity=0.3", "penetration=0.2", "fusion=0.4,0.5", "undercut=0", "gap=0.3", "etchant=tucker", "note=HV5 78 71 70"}, render.ISO(), overlay.A4},
		{"root", []string{"tee", "base=8", "stem=8", "leg=6", "sides=both"}, []string{"weld=other", "legs=5.2,6.9", "throat=2.9", "convexity=-0.4", "penetration=-0.8", "etchant=caustic"}, render.ISO(), overlay.A4},
		{"skew", []string{"tee", "base=5", "stem=4", "angle=60", "leg=5", "sides=both"}, []string{"legs=5.5,5.2", "throat=4.4"}, render.ISO(), overlay.Letter},
		{"obtuse", []string{"tee", "base=5", "stem=4", "angle=60", "leg=5", "sides=both"}, []string{"weld=other", "legs=5.5,6", "throat=2.4", "penetration=0"}, inches(), overlay.Letter},
		{"lap", []string{"lap", "lower=6", "upper=4", "overlap=30", "leg=3.5"}, []string{"legs=4.1,3.2", "throat=2.6", "penetration=0.3"}, inches(), overlay.Letter},
		{"corner", []string{"corner", "base=6", "upright=4", "inside.leg=3"}, []string{"weld=inside", "legs=3.1,3.2", "throat=2.6", "penetration=0.3"}, render.ISO(), overlay.A4},
		{"butt", []string{"butt", "left=6", "right=8", "prep=single-v", "groove-angle=60", "root-opening=2", "cap=1", "cap-lap=1", "root=0.5"},
			[]string{"cap-height=1.8", "root-height=1.1", "undercut=0.2", "hi-lo=0.4", "fusion=1,0.8"}, render.ISO(), overlay.A4},
		{"small", []string{"tee", "base=1", "stem=1", "leg=1"}, []string{"legs=1.2,1", "throat=0.8", "penetration=0.1"}, render.ISO(), overlay.A4},
		{"large", []string{"tee", "base=60", "stem=40", "leg=25"}, []string{"legs=27,24", "throat=18", "penetration=0.1"}, render.ISO(), overlay.A4},
	}
}

func sheetOf(tb testing.TB, e *example) *overlay.Sheet {
	tb.Helper()
	doc, err := jointfile.Read(jointfile.Source{Kind: e.joint[0], Assignments: e.joint[1:]})
	if err != nil {
		tb.Fatal(err)
	}
	s := &doc.Section
	rec, err := macro.Read(macro.Source{Assignments: append([]string{"sample=S1"}, e.record...), Section: s})
	if err != nil {
		tb.Fatal(err)
	}
	r, err := macro.Evaluate(&rec, check.Facts{Section: s}, []string{"iso-5817-2014/C"})
	if err != nil {
		tb.Fatal(err)
	}
	return &overlay.Sheet{Section: s, Report: &r, Title: s.Title, Cautions: r.Cautions([]string{"aluminium"}), Foot: "Input digest 0123456789abcdef",
		Heads: []overlay.Line{{"sample", "S1"}, {"weld", r.Weld.ID}, {"date", "2026-03-05"}, {"rules", strings.Join(r.Documents, ", ")}, {"note", rec.Note}}}
}

// TestExamples draws every example within the rules of drafting.
func TestExamples(t *testing.T) {
	for _, e := range examples() {
		t.Run(e.name, func(t *testing.T) {
			d, err := overlay.Draw(sheetOf(t, &e), &e.style, e.page)
			if err != nil {
				t.Fatal(err)
			}
			if err := d.Check(); err != nil {
				t.Error(err)
			}
			for _, v := range rendertest.Lint(d) {
				t.Error(v)
			}
			if *look == "" {
				return
			}
			file, err := os.Create(filepath.Join(*look, e.name+".png"))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Write(file, d, 110); err != nil {
				t.Error(err)
			}
			if err := file.Close(); err != nil {
				t.Error(err)
			}
		})
	}
}

// The measured lines lie where the sizes say, at the scale of the view.
func TestMeasuredLines(t *testing.T) {
	e := examples()[0]
	s := sheetOf(t, &e)
	d, err := overlay.Draw(s, &e.style, e.page)
	if err != nil {
		t.Fatal(err)
	}
	v := d.Views[0]
	at := func(p geometry.Point) geometry.Point { return p.Scale(v.Scale).Add(v.Origin) }
	w := s.Report.Weld
	want := []geometry.Point{at(w.JointRoot), at(w.JointRoot.Add(geometry.Point{X: 3.2})), at(w.JointRoot.Add(geometry.Point{Y: 2.8}))}
	for _, p := range want {
		found := false
		for i := range d.Items {
			it := &d.Items[i]
			if it.Role != "measured" || it.Layer != render.LayerWeld {
				continue
			}
			for _, edge := range it.Path.Edges {
				found = found || edge.Start().Dist(p) < 1e-9 || edge.End().Dist(p) < 1e-9
			}
		}
		if !found {
			t.Errorf("no measured line begins or ends at %v", p)
		}
	}
	// The planned face is there, dashed, at the same scale.
	face := w.FaceEdges[0]
	found := false
	for i := range d.Items {
		it := &d.Items[i]
		if it.Role == "planned:"+w.ID && len(it.Path.Stroke.Dash) == 6 {
			for _, edge := range it.Path.Edges {
				found = found || edge.Start().Dist(at(face.Start())) < 1e-9 && edge.End().Dist(at(face.End())) < 1e-9 && math.Abs(edge.Sagitta()-v.Scale*face.Sagitta()) < 1e-9
			}
		}
	}
	if !found {
		t.Error("the planned face is not there in long dashes with double dots")
	}
	for _, text := range []string{"3,2 (+0,2)", "planned 3", "2,8 (\u22120,2)"} {
		found := false
		for i := range d.Items {
			found = found || d.Items[i].Text != nil && d.Items[i].Text.Content == text
		}
		if !found {
			t.Errorf("no dimension %q", text)
		}
	}
}

// Same input, same bytes.
func TestSameBytes(t *testing.T) {
	e := examples()[0]
	var first string
	for range 3 {
		d, err := overlay.Draw(sheetOf(t, &e), &e.style, e.page)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		if err := svg.Write(&b, d); err != nil {
			t.Fatal(err)
		}
		if first == "" {
			first = b.String()
		}
		if b.String() != first {
			t.Fatal("two drawings of one record differ")
		}
	}
}

// Random joints with sizes somewhat off: every sheet is sound.
func TestRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 7))
	drawn, bad := 0, 0
	for k := range joints.Kinds {
		for range 12 {
			s, _, ok := jointstest.Section(&joints.Kinds[k], r)
			if !ok {
				continue
			}
			w := &s.Welds[r.IntN(len(s.Welds))]
			if w.Kind == joints.PlugWeld {
				continue
			}
			off := func(v geometry.Length) float64 { return math.Max(0.5, float64(v)*(0.85+0.4*r.Float64())) }
			args := []string{"sample=S1", "weld=" + w.ID, fmt.Sprintf("throat=%.2f", off(w.EffectiveThroat))}
			if w.Feet[0].Leg > 0 {
				args = append(args, fmt.Sprintf("legs=%.2f,%.2f", off(w.Feet[0].Leg), off(w.Feet[1].Leg)))
			}
			rec, err := macro.Read(macro.Source{Assignments: args, Section: &s})
			if err != nil {
				continue // a leg under the gap
			}
			report, err := macro.Evaluate(&rec, check.Facts{Section: &s}, []string{"iso-5817-2014/C"})
			if err != nil {
				t.Fatal(err)
			}
			style := render.ISO()
			d, err := overlay.Draw(&overlay.Sheet{Section: &s, Report: &report, Title: s.Title, Heads: []overlay.Line{{"sample", "S1"}}, Cautions: report.Cautions(nil)}, &style, overlay.A4)
			if err != nil {
				t.Fatal(err)
			}
			if err := d.Check(); err != nil {
				t.Error(s.Kind, err)
			}
			drawn++
			if list := rendertest.Lint(d); len(list) > 0 {
				bad++
				t.Logf("%s %s: %v", s.Kind, w.ID, list[0])
			}
		}
	}
	if drawn < 50 || bad*50 > drawn {
		t.Errorf("%d of %d sheets break a rule of drafting", bad, drawn)
	}
}

func TestNothing(t *testing.T) {
	style := render.ISO()
	if _, err := overlay.Draw(&overlay.Sheet{}, &style, overlay.A4); !errors.Is(err, overlay.ErrNothing) {
		t.Errorf("want ErrNothing, got %v", err)
	}
}
