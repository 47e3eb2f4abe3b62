package sheet_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/layout"
	"fay/render/rendertest"
	"fay/render/sheet"
)

func texts(sheets []*render.Drawing) []string {
	var out []string
	for _, d := range sheets {
		for i := range d.Items {
			if x := d.Items[i].Text; x != nil {
				out = append(out, x.Content)
			}
		}
	}
	return out
}

func TestOptionsAreChecked(t *testing.T) {
	_, err := sheet.Compose(sheet.Job{}, sheet.Options{Size: "a5", Orientation: "upright", Language: "fr", Drafting: "fr", Unit: geometry.UnitFoot})
	if !errors.Is(err, sheet.ErrNoSection) {
		t.Errorf("want ErrNoSection among %v", err)
	}
	for _, field := range []string{"size", "orientation", "language", "drafting", "unit"} {
		if !strings.Contains(err.Error(), field) {
			t.Errorf("%s is not named in %v", field, err)
		}
	}
	if _, ok := errors.AsType[*sheet.OptionError](err); !ok {
		t.Error("want an *OptionError")
	}
}

func TestEverythingIsOnTheSheets(t *testing.T) {
	job := fullJob(davitFoot(t))
	job.Cautions = []string{"Proven penetration counts only where tests show it."}
	for _, o := range options() {
		sheets, err := sheet.Compose(job, o)
		if err != nil {
			t.Fatal(err)
		}
		all := strings.Join(texts(sheets), " ")
		for _, want := range []string{"CB-117", "W3", "R. Poole", "Canal-boat yard", "2025-03-14", "16", "5183", "199 mm", "Cut and etch",
			"1 check not met, 7 met", "1 cannot be told", "1 does not apply", "licensed practice decide", "Proven penetration", "AISC 360", "stem pulls over.", "Do not scale"} {
			if !strings.Contains(all, want) {
				t.Errorf("%+v: %q is missing", o, want)
			}
		}
		for i, d := range sheets {
			if number := fmt.Sprintf("%d of %d", i+1, len(sheets)); !strings.Contains(strings.Join(texts([]*render.Drawing{d}), " "), number) {
				t.Errorf("%+v: sheet %d does not say %q", o, i+1, number)
			}
			if d.Title == "" || d.Description == "" || d.Language == "" {
				t.Errorf("%+v: sheet %d has no title, description or language", o, i+1)
			}
		}
	}
}

// TestScaleAndOriginAreTrue takes the base line of the drawn plate back to the
// section plane through the view and finds the model's own edge.
func TestScaleAndOriginAreTrue(t *testing.T) {
	sec := davitFoot(t)
	sheets, err := sheet.Compose(sheet.Job{Section: sec}, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d := sheets[0]
	v := d.Views[0]
	if v.Scale != 5 {
		t.Errorf("want 5:1, got %v", v.Scale)
	}
	toe := sec.Welds[0].Feet[0].Toe
	near := 1e9
	for i := range d.Items {
		it := &d.Items[i]
		if it.Layer != render.LayerWeld || it.Path == nil {
			continue
		}
		for _, e := range it.Path.Edges {
			for _, p := range []geometry.Point{e.Start(), e.End()} {
				near = min(near, p.Sub(v.Origin).Scale(1/v.Scale).Dist(toe))
			}
		}
	}
	if near > 1e-9 {
		t.Errorf("the toe of the weld is drawn %.4f mm off", near)
	}
}

// TestLongTextsAreCutAndKept puts texts of every length into every field: the
// sheet stays clean, and what was cut short stands in the notes in full.
func TestLongTextsAreCutAndKept(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("Wesentlich längerer Text als vorgesehen ", 6)
	word := strings.Repeat("x", 400)
	job := fullJob(davitFoot(t))
	job.Company, job.Part, job.Planner, job.Joint, job.Number = long, long, word, word, long
	job.Materials = append(job.Materials, sheet.Line{Label: long, Value: long}, sheet.Line{Label: word, Value: word})
	job.Filler = append(job.Filler, sheet.Line{Label: "blank"}, sheet.Line{Label: long + "end", Value: "7"})
	job.Notes = []string{long, word, "multi\nline\ttext", ""}
	job.HoldPoints = []sheet.Line{{Label: long, Value: word}, {Label: "b"}, {Label: "c"}, {Label: "d"}, {Label: "e"}}
	for range 40 {
		job.Notes = append(job.Notes, long)
	}
	for _, o := range options() {
		sheets, err := sheet.Compose(job, o)
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range sheets {
			if err := d.Check(); err != nil {
				t.Error(err)
			}
			for _, v := range rendertest.Lint(d) {
				t.Errorf("%+v sheet %d: %v", o, i+1, v)
			}
		}
		all := strings.Join(strings.Fields(strings.Join(texts(sheets), " ")), " ")
		if !strings.Contains(all, "vorgesehen end: 7") {
			t.Errorf("%+v: a label that was cut short is not in the notes", o)
		}
	}
}

// TestUnplacedMeasuresAreListed gives the figure no chance: what it cannot
// dimension is in the notes.
func TestUnplacedMeasuresAreListed(t *testing.T) {
	sec := davitFoot(t)
	o := sheet.Options{}
	s := o.Style()
	f := layout.Compose(sec, &s, 40, 30)
	if len(f.Unplaced) == 0 {
		t.Fatal("every measure found a place on 40 × 30 mm")
	}
	for _, m := range f.Unplaced {
		if m.Draw == joints.NotDrawn {
			t.Errorf("%s was never to be drawn", m.Name)
		}
	}
}

// TestCompanyTakesTwoLines sets a name of sixty letters in the title block, not
// in the notes.
func TestCompanyTakesTwoLines(t *testing.T) {
	const company = "Long Reach Canal Boat Works and Davit Builders of Lockbridge"
	job := fullJob(davitFoot(t))
	job.Company = company
	for _, o := range options() {
		sheets, err := sheet.Compose(job, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range sheets {
			block := ""
			for i := range d.Items {
				if it := &d.Items[i]; it.Text != nil && it.Role == "title block" {
					block += " " + it.Text.Content
				}
			}
			if !strings.Contains(block, company) {
				t.Errorf("%+v: the title block says %s", o, block)
			}
			if strings.Contains(strings.Join(texts(sheets), " "), "…") {
				t.Errorf("%+v: a text is cut short", o)
			}
			for _, v := range rendertest.Lint(d) {
				t.Errorf("%+v: %v", o, v)
			}
		}
	}
}
