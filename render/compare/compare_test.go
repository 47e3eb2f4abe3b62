package compare_test

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/compare"
	"fay/joints/jointfile"
	"fay/render"
	drawn "fay/render/compare"
	"fay/render/plot"
	"fay/render/rendertest"
)

func tee(tb testing.TB, base, stem, leg float64, both bool) *joints.Section {
	tb.Helper()
	f := &joints.Fillet{Legs: [2]geometry.Length{geometry.Length(leg), geometry.Length(leg)}}
	p := joints.Tee{Base: joints.Plate{Thickness: geometry.Length(base)}, Stem: joints.Plate{Thickness: geometry.Length(stem)},
		Angle: 90 * geometry.Degree, StemEnd: joints.StemSquare, Arrow: f}
	if both {
		p.Other = f
	}
	s, err := joints.NewTee(p)
	if err != nil {
		tb.Fatal(err)
	}
	return &s
}

// davit is a comparison with a best one, others, one that breaks a constraint
// and one that cannot be made.
func davit(tb testing.TB, more int) *compare.Comparison {
	tb.Helper()
	options := []compare.Option{
		{Name: "leg=4", Section: tee(tb, 8, 6, 4, false)},
		{Name: "leg=6", Section: tee(tb, 8, 6, 6, false)},
		{Name: "both sides of a davit foot welded with legs of four", Section: tee(tb, 8, 6, 4, true)},
		{Name: "leg=30", Fault: "welds.arrow.leg: runs past the edge of the upper, whose face ends 4 mm from the joint root"},
	}
	for i := range more {
		options = append(options, compare.Option{Name: "more " + string(rune('a'+i)), Section: tee(tb, 10+float64(i), 6, 3+0.5*float64(i), i%2 == 0)})
	}
	c, err := compare.New(compare.Request{Options: options, Reference: "leg=6", By: compare.Area, Constraints: compare.Constraints{OneSide: true}})
	if err != nil {
		tb.Fatal(err)
	}
	return &c
}

const angleNote = "Distortion is a rule of thumb from memory: good for ranking, not for a number to work to."

func options(style render.Style, page plot.Page) drawn.Options {
	return drawn.Options{
		Style: style, Page: page, Title: "Comparison by deposited area", Metrics: compare.Metrics(),
		Heading: func(m compare.Metric) string { return m.Title() + ", " + m.Unit() },
		Number: func(_ compare.Metric, v float64) string {
			return style.Numbers.Number(v, 2)
		},
		Notes: func(shown []compare.Metric) []string {
			notes := []string{"Geometry and published rules only."}
			if slices.Contains(shown, compare.Angle) {
				notes = append(notes, angleNote)
			}
			return notes
		},
	}
}

var pages = map[string]plot.Page{"A4": plot.A4, "A4 portrait": plot.A4Portrait, "Letter": plot.Letter, "Letter portrait": plot.LetterPortrait}

// Every sheet is clean by the drafting rules, whatever the page and the style.
func TestSheetsAreClean(t *testing.T) {
	for name, page := range pages {
		for _, style := range []render.Style{render.ISO(), render.US()} {
			for _, more := range []int{0, 1, 2, 9} {
				t.Run(name, func(t *testing.T) {
					c := davit(t, more)
					sheets, err := drawn.Draw(c, options(style, page))
					if err != nil {
						t.Fatal(err)
					}
					shown := ""
					for _, d := range sheets {
						for _, v := range rendertest.Lint(d) {
							t.Error(v)
						}
						for _, v := range d.Views {
							if v.Scale != sheets[0].Views[0].Scale {
								t.Errorf("%s is drawn at %v, the first one at %v", v.Name, v.Scale, sheets[0].Views[0].Scale)
							}
						}
						shown += d.Description
					}
					for _, r := range c.Rows {
						if !strings.Contains(shown, r.Name) {
							t.Errorf("%s is not on the sheets", r.Name)
						}
					}
				})
			}
		}
	}
}

// Best and excluded are told by words, frames and lining, not by ink alone.
func TestMarks(t *testing.T) {
	sheets, err := drawn.Draw(davit(t, 0), options(render.ISO(), plot.A4))
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]int{}
	heavy, lined := 0, 0
	for _, it := range sheets[0].Items {
		switch {
		case it.Text != nil:
			texts[it.Text.Content]++
		case it.Layer == render.LayerFrame && it.Path.Stroke != nil && it.Path.Stroke.Width > 1:
			heavy++
		case it.Layer == render.LayerPlot && it.Path.Stroke != nil && len(it.Path.Edges) > 4 && strings.HasPrefix(it.Role, "column"):
			lined++
		}
	}
	if texts["1, best"] != 1 || texts["out"] != 2 || texts["reference"] != 1 || texts["no section"] != 1 || heavy != 1 || lined != 2 {
		t.Errorf("%d heavy frames, %d lined strips, texts %v", heavy, lined, texts)
	}
}

// Bars are as long as their values are large.
func TestBarsAreTrue(t *testing.T) {
	c := davit(t, 0)
	o := options(render.ISO(), plot.A4)
	o.Metrics = []compare.Metric{compare.Area}
	sheets, err := drawn.Draw(c, o)
	if err != nil {
		t.Fatal(err)
	}
	var lengths, areas []float64
	for _, it := range sheets[0].Items {
		if it.Role == "bar" && it.Path.Closed {
			b := geometry.EmptyBox()
			for _, e := range it.Path.Edges {
				b = b.Union(e.Bounds())
			}
			lengths = append(lengths, b.Width())
		}
	}
	for _, r := range c.Rows {
		if r.Values != nil {
			areas = append(areas, *r.Values.Area)
		}
	}
	if len(lengths) != 3 || len(areas) != 3 {
		t.Fatalf("%d bars of %d areas", len(lengths), len(areas))
	}
	for i := range lengths {
		if got, want := lengths[i]/lengths[0], areas[i]/areas[0]; got < want*(1-1e-9) || got > want*(1+1e-9) {
			t.Errorf("bar %d is %v times the first one, its value %v times", i, got, want)
		}
	}
}

// Sections that are low stand in rows, and few are drawn large.
func TestRoomIsUsed(t *testing.T) {
	for name, tt := range map[string]struct {
		count, sheets int
		scale         float64
	}{
		"two":         {2, 1, 2},
		"seven":       {7, 1, 1},
		"twenty-five": {25, 3, 1},
	} {
		t.Run(name, func(t *testing.T) {
			var list []compare.Option
			for i := range tt.count {
				list = append(list, compare.Option{Name: "leg " + strconv.Itoa(i), Section: tee(t, 12, 10, 4+0.2*float64(i), false)})
			}
			c, err := compare.New(compare.Request{Options: list, By: compare.Area})
			if err != nil {
				t.Fatal(err)
			}
			o := options(render.ISO(), plot.A4)
			o.Notes = nil
			sheets, err := drawn.Draw(&c, o)
			if err != nil {
				t.Fatal(err)
			}
			if len(sheets) > tt.sheets || sheets[0].Views[0].Scale < tt.scale {
				t.Errorf("%d sheets at %v, want %d at %v", len(sheets), sheets[0].Views[0].Scale, tt.sheets, tt.scale)
			}
		})
	}
}

// What does not meet a check says so in words, and its numbers have the marker
// of the sheet.
func TestNotMet(t *testing.T) {
	open := []check.Finding{{Rule: "aisc-360-16/J2.4", Verdict: check.NotMet}}
	list := []compare.Option{
		{Name: "leg=4.5mm", Section: tee(t, 20, 10, 4.5, false), Findings: open},
		{Name: "leg=6mm", Section: tee(t, 20, 10, 6, false), Findings: []check.Finding{}},
	}
	for name, tt := range map[string]struct {
		list []compare.Option
		want []string
	}{
		"among others": {list, []string{"1, best", "2, not met", "leg=4,5mm", "not met: aisc-360-16/J2.4"}},
		"alone":        {list[:1], []string{"1, not met", "leg=4,5mm", "not met: aisc-360-16/J2.4"}},
	} {
		t.Run(name, func(t *testing.T) {
			d, texts := sheetsOf(t, tt.list)
			for _, w := range tt.want {
				if !slices.Contains(texts, w) {
					t.Errorf("%q is not among %q", w, texts)
				}
			}
			if !strings.Contains(d.Description, "Does not meet aisc-360-16/J2.4") {
				t.Errorf("description %q", d.Description)
			}
		})
	}
}

// sheetsOf draws options and gives the texts of the first sheet.
func sheetsOf(t *testing.T, list []compare.Option) (*render.Drawing, []string) {
	t.Helper()
	c, err := compare.New(compare.Request{Options: list, By: compare.Area})
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := drawn.Draw(&c, options(render.ISO(), plot.A4))
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, it := range sheets[0].Items {
		if it.Text != nil {
			texts = append(texts, it.Text.Content)
		}
	}
	return sheets[0], texts
}

// Bars tell what differs, those that look alike last, and four stand beside four
// sections; what is the same in all is said once, and notes are of what is shown.
func TestBarsTellWhatDiffers(t *testing.T) {
	var list []compare.Option
	for i := range 4 {
		list = append(list, compare.Option{Name: "stem " + strconv.Itoa(8+2*i), Section: tee(t, 12, 8+2*float64(i), 5, i%2 == 0)})
	}
	_, texts := sheetsOf(t, list)
	headings := map[string]int{}
	for _, text := range texts {
		headings[text]++
	}
	bars := 0
	for _, m := range compare.Metrics() {
		if headings[m.Title()+", "+m.Unit()] == 4 {
			bars++
		}
	}
	if bars < 3 || headings["deposited area, mm²"] != 4 {
		t.Errorf("%d bars: %q", bars, texts)
	}
	if headings["angular distortion, °"] != 0 || headings["The same in all: angular distortion, °: 1,24."] != 1 {
		t.Errorf("the angle is the same in all: %q", texts)
	}
}

// Sections beside each other stand on one line, whatever lies under or over them.
func TestSectionsStandOnOneLine(t *testing.T) {
	var list []compare.Option
	for i, root := range []float64{0, 1.5, 0.5} {
		s, err := joints.NewButt(joints.Butt{Left: joints.Plate{Thickness: 10}, Right: joints.Plate{Thickness: 10}, Prep: joints.PrepSingleV, RootOpening: 4,
			Arrow: &joints.Groove{Cap: geometry.Length(2 * i), Root: geometry.Length(root)}})
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, compare.Option{Name: strconv.Itoa(i), Section: &s})
	}
	d, _ := sheetsOf(t, list)
	for _, v := range d.Views[1:] {
		if off := v.Origin.Y - d.Views[0].Origin.Y; off > 1e-9 || off < -1e-9 {
			t.Errorf("%s stands %v mm off the first", v.Name, off)
		}
	}
}

func TestNothingToDraw(t *testing.T) {
	for name, c := range map[string]*compare.Comparison{
		"no rows":     {},
		"no sections": {Rows: []compare.Row{{Name: "a", Excluded: []string{"cannot be made"}}}},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := drawn.Draw(c, options(render.ISO(), plot.A4)); !errors.Is(err, drawn.ErrNothing) {
				t.Errorf("want ErrNothing, got %v", err)
			}
		})
	}
	if _, err := drawn.Draw(davit(t, 0), options(render.ISO(), plot.Page{Width: 60, Height: 60})); !errors.Is(err, drawn.ErrNothing) {
		t.Errorf("want ErrNothing, got %v", err)
	}
}

// Every kind can be drawn beside another one.
func TestEveryKind(t *testing.T) {
	for i := range joints.Kinds {
		s := exampleOf(t, &joints.Kinds[i])
		t.Run(joints.Kinds[i].Name, func(t *testing.T) {
			c, err := compare.New(compare.Request{Options: []compare.Option{{Name: "tee", Section: tee(t, 8, 6, 4, false)}, {Name: "it", Section: s}}, By: compare.Area})
			if err != nil {
				t.Fatal(err)
			}
			sheets, err := drawn.Draw(&c, options(render.ISO(), plot.A4))
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range rendertest.Lint(sheets[0]) {
				t.Error(v)
			}
		})
	}
}

func exampleOf(t *testing.T, k *joints.Kind) *joints.Section {
	t.Helper()
	words := strings.Fields(k.Example)
	doc, err := jointfile.Read(jointfile.Source{Kind: words[0], Assignments: words[1:]})
	if err != nil {
		t.Fatal(err)
	}
	return &doc.Section
}

func BenchmarkDraw(b *testing.B) {
	c := davit(b, 2)
	o := options(render.ISO(), plot.A4)
	for b.Loop() {
		if _, err := drawn.Draw(c, o); err != nil {
			b.Fatal(err)
		}
	}
}
