package plot_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fay/geometry"
	"fay/render"
	"fay/render/plot"
	"fay/render/png"
	"fay/render/rendertest"
	"fay/render/svg"
)

var look = flag.String("look", "", "folder to write the diagrams to as PNG")

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

func curve(label string, from, to float64, f func(float64) float64) plot.Curve {
	c := plot.Curve{Label: label}
	for i := range 81 {
		x := from + (to-from)*float64(i)/80
		c.Points = append(c.Points, pt(x, f(x)))
	}
	return c
}

func inches() render.Style {
	s := render.US()
	s.Numbers.Denominator = 0
	return s
}

// sample is a diagram of the tests: one of everything.
type sample struct {
	name  string
	style render.Style
	page  plot.Page
	draw  func(*render.Style, plot.Page) ([]*render.Drawing, error)
}

func one(l plot.Lines) func(*render.Style, plot.Page) ([]*render.Drawing, error) {
	return func(s *render.Style, p plot.Page) ([]*render.Drawing, error) {
		d, err := l.Draw(s, p)
		return []*render.Drawing{d}, err
	}
}

func samples() []sample {
	throat := plot.Lines{
		Sheet: plot.Sheet{Title: "Davit foot on deck plate", Subtitle: "effective throat against gap, legs as planned",
			Notes: []string{"Values are drawn evenly over their tolerance: 100 000 joints, seed 1. 12,3 % fall short of the throat asked for, with 95 % confidence between 12,1 % and 12,5 %.", "The local code and licensed practice decide."},
			Foot:  "95fac6d02b31ce95"},
		X: plot.Axis{Label: "gap", Unit: "mm", Max: 5},
		Y: plot.Axis{Label: "effective throat", Unit: "mm", Zero: true},
		Curves: []plot.Curve{
			curve("arrow, legs 3 × 3", 0, 3, func(g float64) float64 { return (3 - g) / math.Sqrt2 }),
			curve("other, legs 4 × 4", 0, 4, func(g float64) float64 { return (4 - g) / math.Sqrt2 }),
		},
		Limits: []plot.Limit{{Label: "asked for: 1,9", At: 1.9, Level: true}, {Label: "AWS D1.1 as reported: 2", At: 2}, {Label: "ISO 5817 C 617: 0,5", At: 0.5}},
		Bands: []plot.Band{{Label: "tolerance", From: 0, To: 0.6}, {From: 2, To: math.Inf(1), Refused: true},
			{Label: "too thin", From: math.Inf(-1), To: 1.9, Level: true, Refused: true}},
		Marks: []plot.Mark{{Label: "plan 0,3", X: 0.3, Y: 2.7 / math.Sqrt2, XSpan: [2]float64{0, 0.6}, YSpan: [2]float64{1.7, 2.12}}},
	}
	sweep := plot.Lines{
		Sheet: plot.Sheet{Title: "Peak temperature along the stem"},
		X:     plot.Axis{Label: "distance from the toe", Unit: "in"}, Y: plot.Axis{Label: "temperature", Unit: "°F"},
	}
	for i := range 8 {
		sweep.Curves = append(sweep.Curves, curve(fmt.Sprintf("%d s after the arc", 2<<i), 0, 2, func(x float64) float64 {
			return 70 + 900/math.Sqrt(1+float64(i))*math.Exp(-x*x*8/float64(1+2*i))
		}))
	}
	var dates []time.Time
	history := plot.Lines{
		Sheet: plot.Sheet{Title: "Throats of macro sections", Subtitle: "W3, arrow side"},
		Y:     plot.Axis{Label: "actual throat", Unit: "mm"},
		Bands: []plot.Band{{Label: "plan and tolerance", From: 2, To: 2.6, Level: true}},
	}
	for i, v := range []float64{2.1, 2.35, 2.2, 1.9, 2.5, 2.45, 2.3} {
		d := time.Date(2026, 1, 12+19*i, 0, 0, 0, 0, time.UTC)
		dates = append(dates, d)
		m := plot.Mark{X: plot.Day(d), Y: v, Solid: true, YSpan: [2]float64{v - 0.1, v + 0.1}}
		if v < 2 {
			m.Label = "sample 4"
		}
		history.Marks = append(history.Marks, m)
	}
	history.X = plot.Dates("date of the cut", dates)
	bars := plot.Bars{
		Sheet:  plot.Sheet{Title: "Preparations compared", Subtitle: "deposited metal per metre", Notes: []string{"Lined: breaks a constraint."}},
		X:      plot.Axis{Label: "deposited", Unit: "kg/m"},
		Limits: []plot.Limit{{Label: "one rod per metre", At: 0.12}, {Label: "one pass", At: 0.3}},
		Bars: []plot.Bar{
			{Label: "square", Text: "0,05 kg/m", Value: 0.05},
			{Label: "single V 60°", Text: "0,21 kg/m", Value: 0.21, Reference: true, Span: [2]float64{0.18, 0.26}},
			{Label: "single V 90°, root face 1,5, opening 2, with a ceramic backing taken away afterwards", Text: "0,34 kg/m", Value: 0.34},
			{Label: "single U", Text: "0,27 kg/m", Value: 0.27},
			{Label: "double V 60°", Text: "0,11 kg/m, needs both sides", Value: 0.11, Refused: true},
			{Label: "nothing", Text: "0 kg/m"},
		},
	}
	long := plot.Bars{X: plot.Axis{Label: "difference", Unit: "mm²"}, Sheet: plot.Sheet{Title: "Many"}, Limits: []plot.Limit{
		{Label: "a limit with a very long label that cannot stand beside its line at all", At: -2}, {Label: "another one of these labels that are far too long to stand", At: 3}}}
	for i := range 40 {
		v := 9 * math.Sin(float64(i))
		long.Bars = append(long.Bars, plot.Bar{Label: fmt.Sprintf("option %d", i+1), Value: v, Text: fmt.Sprintf("%.1f", v)})
	}
	crowd := plot.Lines{Sheet: plot.Sheet{Title: "Crowded"}, X: plot.Axis{Label: "x", Max: 1}, Y: plot.Axis{Label: "y", Max: 1},
		Bands: []plot.Band{{Label: "a strip too narrow for its own label, whichever way it is turned, so that it moves to the key", From: 0.4, To: 0.401}, {Label: "lined", From: 0.6, To: 0.61, Refused: true}}}
	for i := range 9 {
		at := 0.1 + 0.02*float64(i)
		crowd.Limits = append(crowd.Limits, plot.Limit{Label: fmt.Sprintf("limit number %d", i+1), At: at}, plot.Limit{Label: fmt.Sprintf("level %d", i+1), At: at, Level: true})
		crowd.Marks = append(crowd.Marks, plot.Mark{Label: fmt.Sprintf("mark %d", i+1), X: 0.7 + 0.01*float64(i), Y: 0.5})
	}
	bare := plot.Lines{Sheet: plot.Sheet{Title: "One point"}, Marks: []plot.Mark{{Label: "alone", X: 3, Y: -2, Solid: true}}}
	return []sample{
		{"throat", render.ISO(), plot.A4, one(throat)},
		{"throat-half", render.ISO(), plot.HalfA4, one(throat)},
		{"throat-portrait", render.ISO(), plot.A4Portrait, one(throat)},
		{"sweep", inches(), plot.Letter, one(sweep)},
		{"sweep-half", inches(), plot.HalfLetter, one(sweep)},
		{"history", render.ISO(), plot.HalfA4, one(history)},
		{"bars", render.ISO(), plot.HalfA4, bars.Draw},
		{"bars-long", render.ISO(), plot.A4Portrait, long.Draw},
		{"crowd", render.ISO(), plot.A4, one(crowd)},
		{"one-point", inches(), plot.HalfLetter, one(bare)},
	}
}

func TestSamples(t *testing.T) {
	for _, s := range samples() {
		t.Run(s.name, func(t *testing.T) {
			sheets, err := s.draw(&s.style, s.page)
			if err != nil {
				t.Fatal(err)
			}
			for i, d := range sheets {
				name := s.name
				if i > 0 {
					name += fmt.Sprintf("-%d", i+1)
				}
				if err := d.Check(); err != nil {
					t.Error(err)
				}
				for _, v := range rendertest.Lint(d) {
					t.Error(v)
				}
				rendertest.Golden(t, name+".json", render.EncodeJSON(d))
				var out bytes.Buffer
				if err := svg.Write(&out, d); err != nil {
					t.Fatal(err)
				}
				rendertest.Golden(t, name+".svg", out.Bytes())
				if *look == "" {
					continue
				}
				out.Reset()
				if err := png.Write(&out, d, 110); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(filepath.Join(*look, name+".png"), out.Bytes(), 0o600); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}
