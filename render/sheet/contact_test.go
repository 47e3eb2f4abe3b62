package sheet_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fay/joints"
	"fay/joints/jointfile"
	"fay/render"
	"fay/render/pdf"
	"fay/render/rendertest"
	"fay/render/sheet"
)

// exampleOf builds the example of a kind, with assignments over it.
func exampleOf(tb testing.TB, k *joints.Kind, over ...string) *joints.Section {
	tb.Helper()
	args := strings.Fields(k.Example)
	doc, err := jointfile.Read(jointfile.Source{Kind: args[0], Assignments: append(args[1:], over...)})
	if err != nil {
		tb.Fatalf("%s %v: %v", k.Name, over, err)
	}
	return &doc.Section
}

// variantHelp is what some choices need besides.
var variantHelp = [][]string{
	nil, {"other.cap=1"}, {"prep=single-bevel"}, {"root-radius=1.5"}, {"root-radius=1.5", "other.leg=3"}, {"other.leg=3"},
	{"root-radius=1.2", "other-root-radius=1.2", "other.leg=3"}, {"root-radius=1", "other-root-radius=1", "other.cap=1"},
	{"lower-root-radius=1.2"}, {"lower-root-radius=1", "lower-other-root-radius=1"}, {"root-radius=1", "other-root-radius=1"},
	{"depth=2"}, {"flange-height=20"}, {"throat=1"}, {"notch.leg=3"},
}

// variants are the ways to draw a kind that its choices offer: each value of
// each choice that builds over the example, or over a butt joint for both sides.
func variants(tb testing.TB, k *joints.Kind) []sheet.Job {
	tb.Helper()
	args := strings.Fields(k.Example)
	jobs := []sheet.Job{{Section: exampleOf(tb, k), Joint: k.Name}}
	for i := range k.Params {
		p := &k.Params[i]
		if p.Type != joints.ParamChoice || p.Name == "units" {
			continue
		}
		for _, choice := range p.Choices {
			if choice == p.Default {
				continue // the example shows it
			}
			for _, more := range variantHelp {
				over := append([]string{p.Name + "=" + choice}, more...)
				rest := slices.DeleteFunc(slices.Clone(args[1:]), func(a string) bool {
					name, _, _ := strings.Cut(a, "=")
					return slices.ContainsFunc(over, func(o string) bool { return strings.HasPrefix(o, name+"=") }) ||
						choice == "square" && k.Name == "butt" && (name == "groove-angle" || name == "root-face")
				})
				doc, err := jointfile.Read(jointfile.Source{Kind: args[0], Assignments: append(rest, over...)})
				if err == nil {
					jobs = append(jobs, sheet.Job{Section: &doc.Section, Joint: k.Name + " " + strings.Join(over, " ")})
					break
				}
			}
		}
	}
	return jobs
}

// contactSheet is where the sheet of all kinds and preparations is kept.
const contactSheet = "../../testdata/golden/contact-sheet.pdf"

// TestContactSheet draws all kinds and preparations, several to a sheet, and
// compares the file with the one that was looked at. -update writes it.
func TestContactSheet(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("lays out every kind and preparation")
	}
	var jobs []sheet.Job
	for i := range joints.Kinds {
		jobs = append(jobs, variants(t, &joints.Kinds[i])...)
	}
	if len(jobs) < 2*len(joints.Kinds) {
		t.Errorf("%d pictures of %d kinds: preparations are missing", len(jobs), len(joints.Kinds))
	}
	pages, err := sheet.Together(jobs, sheet.Options{Size: sheet.A3, Orientation: sheet.Landscape})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(texts(pages), "\n")
	for _, want := range []string{"single-v", "double-v", "single-u", "single-j", "single-bevel", "edge", "plug"} {
		if !strings.Contains(all, want) {
			t.Errorf("%s is not on the contact sheet", want)
		}
	}
	for n, d := range pages {
		if err := d.Check(); err != nil {
			t.Error(err)
		}
		for _, v := range rendertest.Lint(d) {
			t.Errorf("sheet %d: %v", n+1, v)
		}
	}
	var out bytes.Buffer
	if err := pdf.Write(&out, pages, pdf.Info{Title: "All kinds of joint"}); err != nil {
		t.Fatal(err)
	}
	if flag.Lookup("update").Value.String() == "true" {
		if err := os.MkdirAll(filepath.Dir(contactSheet), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(contactSheet, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	kept, err := os.ReadFile(contactSheet)
	if err != nil {
		t.Fatalf("%v; write it with -update and look at it", err)
	}
	if difference := comparePDF(rendertest.ReadPDF(t, kept), rendertest.ReadPDF(t, out.Bytes())); difference != "" {
		t.Errorf("the contact sheet changed: %s; write it with -update and look at every page", difference)
	}
}

// drawingNumber is a number in the content of a page.
var drawingNumber = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// comparePDF compares what the pages draw; numbers may differ by their rounding.
func comparePDF(want, got rendertest.PDF) string {
	if len(want.Boxes) != len(got.Boxes) {
		return fmt.Sprintf("%d pages, want %d", len(got.Boxes), len(want.Boxes))
	}
	for id, w := range want.Objects {
		g := got.Objects[id]
		if !strings.Contains(w, " cm") {
			continue // fonts and tables follow from the pages
		}
		if drawingNumber.ReplaceAllString(w, "#") != drawingNumber.ReplaceAllString(g, "#") {
			return fmt.Sprintf("object %d draws other things", id)
		}
		a, b := drawingNumber.FindAllString(w, -1), drawingNumber.FindAllString(g, -1)
		for i := range a {
			if math.Abs(number(a[i])-number(b[i])) > 0.002 {
				return fmt.Sprintf("object %d: %s, want %s", id, b[i], a[i])
			}
		}
	}
	return ""
}

// TestTogetherTakesAnyNumber spreads jobs over sheets without losing one.
func TestTogetherTakesAnyNumber(t *testing.T) {
	t.Parallel()
	sec := davitFoot(t)
	for _, n := range []int{1, 2, 5, 9} {
		jobs := make([]sheet.Job, n)
		for i := range jobs {
			jobs[i] = sheet.Job{Section: sec, Joint: fmt.Sprintf("W%d", i+1)}
		}
		for _, o := range []sheet.Options{{}, {Size: sheet.Letter, Orientation: sheet.Landscape}} {
			pages, err := sheet.Together(jobs, o)
			if err != nil {
				t.Fatal(err)
			}
			all := strings.Join(texts(pages), "\n")
			for i := range jobs {
				if !strings.Contains(all, jobs[i].Joint+": ") {
					t.Errorf("%d joints: %s is missing", n, jobs[i].Joint)
				}
			}
			views := 0
			for _, d := range pages {
				views += len(d.Views)
				for i := range d.Items {
					if v := d.Items[i].View; v != render.NoView && v >= len(d.Views) {
						t.Errorf("an item of view %d on a sheet of %d", v, len(d.Views))
					}
				}
			}
			if views < n {
				t.Errorf("%d joints on %d views", n, views)
			}
		}
	}
	if _, err := sheet.Together(nil, sheet.Options{}); err == nil {
		t.Error("no job, no fault")
	}
}
