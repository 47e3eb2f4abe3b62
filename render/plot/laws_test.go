package plot_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/plot"
	"fay/render/rendertest"
)

// Random diagrams keep every rule of the lint, whatever their labels, and come
// out the same twice.
func TestRandomDiagramsAreClean(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	pages := []plot.Page{plot.A4, plot.A4Portrait, plot.Letter, plot.LetterPortrait, plot.HalfA4, plot.HalfLetter}
	words := []string{"gap", "effective throat, arrow side", "plan", "limit of a document with a long name: 2,5", "W"}
	word := func() string { return fmt.Sprintf("%s %d", words[r.IntN(len(words))], r.IntN(100)) }
	for i := range 60 {
		l := plot.Lines{Sheet: plot.Sheet{Title: word(), Foot: word()}, X: plot.Axis{Label: word(), Unit: "mm"}, Y: plot.Axis{Label: word()}}
		size := math.Pow(10, float64(r.IntN(9)-4))
		for range 1 + r.IntN(4) {
			a, b, c := r.NormFloat64(), r.NormFloat64(), r.NormFloat64()
			l.Curves = append(l.Curves, curve(word(), 0, size, func(x float64) float64 { return size * (a + b*x/size + c*math.Sin(6*x/size)) }))
		}
		for range r.IntN(4) {
			l.Limits = append(l.Limits, plot.Limit{Label: word(), At: size * r.Float64(), Level: r.IntN(2) == 0})
			from := size * r.Float64()
			l.Bands = append(l.Bands, plot.Band{Label: word(), From: from, To: from + size*r.Float64(), Level: r.IntN(2) == 0, Refused: r.IntN(2) == 0})
			x, y := size*r.Float64(), size*r.Float64()
			l.Marks = append(l.Marks, plot.Mark{Label: word(), X: x, Y: y, XSpan: [2]float64{x * 0.9, x * 1.1}, Solid: r.IntN(2) == 0})
		}
		style := render.ISO()
		if i%2 == 1 {
			style = inches()
		}
		d, err := l.Draw(&style, pages[i%len(pages)])
		if err != nil {
			t.Errorf("diagram %d: %v", i, err)
			continue
		}
		if err := d.Check(); err != nil {
			t.Errorf("diagram %d: %v", i, err)
		}
		for _, v := range rendertest.Lint(d) {
			t.Errorf("diagram %d: %s", i, v)
		}
		again, err := l.Draw(&style, pages[i%len(pages)])
		if err != nil || !bytes.Equal(render.EncodeJSON(d), render.EncodeJSON(again)) {
			t.Errorf("diagram %d is not the same twice (%v)", i, err)
		}
		for _, label := range labels(&l) {
			if !letters(d, label) {
				t.Errorf("diagram %d: %q is lettered nowhere", i, label)
			}
		}
	}
}

// A label stands clear of the curve it names, steps and slopes alike.
func TestLabelsAreClearOfTheirCurves(t *testing.T) {
	style := render.ISO()
	shapes := map[string]func(float64) float64{
		"level": func(float64) float64 { return 3 },
		"slope": func(x float64) float64 { return x },
		"steps": math.Floor,
		"arch":  func(x float64) float64 { return 10 * math.Sin(x/3) },
	}
	for name, f := range shapes {
		l := plot.Lines{X: plot.Axis{Label: "t"}, Y: plot.Axis{Label: "time", Zero: true}, Curves: []plot.Curve{curve(name, 0, 9.5, f)}}
		d, err := l.Draw(&style, plot.A4)
		if err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		for _, it := range d.Items {
			if it.Text == nil || it.Text.Content != name {
				continue
			}
			box := it.Text.Box(0)
			for _, line := range d.Items {
				if line.Role != "curve" || line.Path == nil || line.Layer != render.LayerPlot {
					continue
				}
				for _, e := range line.Path.Edges {
					for i, c := range box {
						least = min(least, e.Distance(c), geometry.Line(c, box[(i+1)%4]).Distance(e.Start()))
					}
				}
			}
		}
		if least < 1.4 || math.IsInf(least, 1) {
			t.Errorf("%s stands %v mm from its curve", name, least)
		}
	}
}

func labels(l *plot.Lines) []string {
	var out []string
	for _, c := range l.Curves {
		out = append(out, c.Label)
	}
	return out
}

func letters(d *render.Drawing, label string) bool {
	for _, it := range d.Items {
		if it.Text != nil && (it.Text.Content == label || len(it.Text.Content) == len(label)+3 && it.Text.Content[3:] == label) {
			return true
		}
	}
	return false
}

// A curve on the sheet is the curve of the data: the drawn points, mapped back
// by two ticks, lie on the line.
func TestCurveIsTrue(t *testing.T) {
	l := plot.Lines{X: plot.Axis{Max: 4}, Y: plot.Axis{Max: 8}, Curves: []plot.Curve{{Points: []geometry.Point{pt(-1, -2), pt(5, 10)}}}}
	style := render.ISO()
	box := geometry.Box{Min: pt(20, 20), Max: pt(180, 120)}
	items, err := l.Items(&style, box)
	if err != nil {
		t.Fatal(err)
	}
	var frame geometry.Box
	var drawn []geometry.Edge
	for _, it := range items {
		if it.Role == "axis" && it.Path != nil && it.Path.Closed {
			frame = geometry.BoxOf(it.Path.Edges[0].Start(), it.Path.Edges[1].End())
		}
		if it.Role == "curve" {
			drawn = append(drawn, it.Path.Edges...)
		}
	}
	// y = 2x from corner to corner of the frame 0..4, 0..8.
	if len(drawn) != 1 || drawn[0].Start().Dist(frame.Min) > 1e-9 || drawn[0].End().Dist(frame.Max) > 1e-9 {
		t.Errorf("curve %v in a frame of %v", drawn, frame)
	}
}

func TestNothingToDraw(t *testing.T) {
	style := render.ISO()
	nan := math.NaN()
	box := geometry.Box{Max: pt(150, 100)}
	for name, l := range map[string]plot.Lines{
		"nothing":         {},
		"not a number":    {Marks: []plot.Mark{{X: nan}}},
		"infinite limit":  {Limits: []plot.Limit{{At: math.Inf(1)}}},
		"only broken":     {Curves: []plot.Curve{{Points: []geometry.Point{pt(nan, 1), pt(1, nan)}}}},
		"axis upside":     {X: plot.Axis{Min: 2, Max: 1}},
		"axis not finite": {X: plot.Axis{Min: 2, Max: nan}},
	} {
		if _, err := l.Items(&style, box); err == nil {
			t.Errorf("%s: drawn", name)
		}
	}
	point := plot.Lines{Marks: []plot.Mark{{X: 1, Y: 1}}}
	for _, page := range []plot.Page{{}, {Width: nan, Height: nan}, {Width: 60, Height: 60}} {
		if _, err := point.Draw(&style, page); err == nil {
			t.Errorf("%v: drawn", page)
		}
	}
	if _, err := (&plot.Bars{}).Draw(&style, plot.A4); err == nil {
		t.Error("no bars: drawn")
	}
	if _, err := (&plot.Bars{Bars: []plot.Bar{{Value: nan}}}).Draw(&style, plot.A4); err == nil {
		t.Error("a bar of no length: drawn")
	}
}

func BenchmarkDraw(b *testing.B) {
	s := samples()[0]
	for b.Loop() {
		if _, err := s.draw(&s.style, s.page); err != nil {
			b.Fatal(err)
		}
	}
}

// No numbers make a diagram panic or break the rules of a drawing.
func FuzzLines(f *testing.F) {
	f.Add(0.0, 5.0, 1.0, 2.0, 0.3, "gap")
	f.Add(math.Inf(-1), math.NaN(), 1e300, -1e-300, math.MaxFloat64, "\x00 ∞")
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64, label string) {
		l := plot.Lines{
			X:      plot.Axis{Label: label, Min: a, Max: b},
			Curves: []plot.Curve{{Label: label, Points: []geometry.Point{pt(a, c), pt(b, d), pt(e, a)}}},
			Limits: []plot.Limit{{Label: label, At: c}, {At: d, Level: true}},
			Bands:  []plot.Band{{Label: label, From: a, To: e, Refused: true}, {From: d, To: c, Level: true}},
			Marks:  []plot.Mark{{Label: label, X: e, Y: d, XSpan: [2]float64{a, b}, YSpan: [2]float64{c, e}}},
		}
		style := render.ISO()
		drawing, err := l.Draw(&style, plot.HalfA4)
		if err != nil {
			return
		}
		if len(label) < 200 {
			if err := drawing.Check(); err != nil {
				t.Fatal(err)
			}
		}
		bars := plot.Bars{Bars: []plot.Bar{{Label: label, Value: a, Text: label}, {Value: b, Span: [2]float64{c, d}, Refused: true}}}
		sheets, err := bars.Draw(&style, plot.HalfA4)
		if err != nil {
			return
		}
		for _, s := range sheets {
			if err := s.Check(); err != nil && len(label) < 200 {
				t.Fatal(err)
			}
		}
	})
}
