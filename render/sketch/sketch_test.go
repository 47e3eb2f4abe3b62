package sketch

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"fay/geometry"
	"fay/geometry/geomtest"
	"fay/joints"
	"fay/joints/jointstest"
	"fay/render"
	"fay/render/rendertest"

	"github.com/google/go-cmp/cmp"
)

func write(tb testing.TB, s *joints.Section, width int, o Options) string {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, width, o); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}

func plate(mm geometry.Length) joints.Plate {
	return joints.Plate{Thickness: mm, Material: "EN AW-5083"}
}

// section takes the result of a constructor.
func section(tb testing.TB) func(joints.Section, error) *joints.Section {
	tb.Helper()
	return func(s joints.Section, err error) *joints.Section {
		tb.Helper()
		if err != nil {
			tb.Fatal(err)
		}
		return &s
	}
}

func davitFoot(tb testing.TB) *joints.Section {
	tb.Helper()
	return section(tb)(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(3), Gap: 0.3,
		Arrow: &joints.Fillet{Legs: [2]geometry.Length{3, 3}, Face: joints.FaceConvex, Rise: 0.4}, Other: joints.EqualFillet(3)}))
}

func TestGolden(t *testing.T) {
	inches := render.US().Numbers
	must := section(t)
	skew := must(joints.NewTee(joints.Tee{Base: plate(5), Stem: plate(4), Angle: 60 * geometry.Degree, Arrow: joints.EqualFillet(5), Other: joints.EqualFillet(5)}))
	lapGap := must(joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(5), Overlap: 25, Gap: 0.6,
		Arrow: joints.EqualFillet(4), Other: &joints.Fillet{Legs: [2]geometry.Length{5, 4}}}))
	for _, test := range []struct {
		name  string
		s     *joints.Section
		width int
		o     Options
	}{
		{"tee", davitFoot(t), 80, Options{}},
		{"tee-box", davitFoot(t), 80, Options{Box: true}},
		{"tee-narrow", davitFoot(t), 40, Options{}},
		{"tee-wide", davitFoot(t), 120, Options{Box: true, Numbers: render.ISO().Numbers}},
		{"tee-inch", davitFoot(t), 72, Options{Numbers: inches}},
		{"tee-skewed", skew, 80, Options{}},
		{"tee-skewed-box", skew, 80, Options{Box: true}},
		{"tee-thin", must(joints.NewTee(joints.Tee{Base: plate(20), Stem: plate(2), Arrow: joints.EqualFillet(2.5)})), 80, Options{}},
		{"tee-obtuse-fitted", must(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Angle: 120 * geometry.Degree, Gap: 0.5,
			StemEnd: joints.StemFitted, Arrow: joints.EqualFillet(4), Other: joints.EqualFillet(4)})), 80, Options{}},
		{"tee-melted", must(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(6),
			Arrow: &joints.Fillet{Legs: [2]geometry.Length{5, 5}, Penetration: 1, Fusion: [2]geometry.Length{1, 0.6}}})), 80, Options{}},
		{"lap", must(joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(4), Overlap: 30, Arrow: joints.EqualFillet(4)})), 80, Options{}},
		{"lap-gap", lapGap, 80, Options{}},
		{"lap-gap-box", lapGap, 100, Options{Box: true}},
	} {
		t.Run(test.name, func(t *testing.T) {
			rendertest.Golden(t, test.name+".txt", []byte(write(t, test.s, test.width, test.o)))
		})
	}
}

// picture cuts the rows of the section out of a sketch.
func picture(sketch string) string {
	return strings.Split(sketch, "\n\n")[1]
}

// TestTrueToScale measures the picture in cells and holds that against the
// model: the area of the welds, and the thickness of the plates.
func TestTrueToScale(t *testing.T) {
	for leg := 3.0; leg <= 8; leg++ {
		s := section(t)(joints.NewTee(joints.Tee{Base: plate(10), Stem: plate(6), Arrow: joints.EqualFillet(geometry.Length(leg))}))
		text := write(t, s, 160, Options{})
		unit, err := strconv.ParseFloat(strings.Fields(strings.Split(text, "\n")[1])[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		p := picture(text)
		// Light cells are under a quarter full, middle ones up to a half.
		cells := float64(strings.Count(p, "#")+strings.Count(p, "o")) + 0.375*float64(strings.Count(p, "+")) + 0.175*float64(strings.Count(p, "."))
		want := s.Welds[0].Area
		if got := cells * 2 * unit * unit; math.Abs(got-want) > 0.12*want {
			t.Errorf("leg %g: want about %.3g mm² of weld, got %.3g\n%s", leg, want, got, p)
		}
		rows, columns := 0, 0
		for line := range strings.Lines(p) {
			if strings.Contains(line, "/////") {
				rows++
			}
			if n := strings.Count(line, `\`); n > 0 && !strings.Contains(line, "~") {
				columns = n
			}
		}
		if math.Abs(float64(rows)*2*unit-10) > unit {
			t.Errorf("leg %g: base is %d rows of %g mm", leg, rows, 2*unit)
		}
		if math.Abs(float64(columns)*unit-6) > unit/2 {
			t.Errorf("leg %g: stem is %d columns of %g mm", leg, columns, unit)
		}
	}
}

// TestLegendHasTheModelsNumbers looks every measure that the model wants drawn
// up in the legend, and the letter of each in the picture.
func TestLegendHasTheModelsNumbers(t *testing.T) {
	s := davitFoot(t)
	text := write(t, s, 100, Options{})
	n := render.Numbers{Decimal: ".", LeadingZero: true, Decimals: 2}
	p := picture(text)
	lettered := 0
	for i := range s.Measures {
		m := &s.Measures[i]
		if m.Draw == joints.NotDrawn {
			continue
		}
		found := false
		for line := range strings.Lines(text) {
			rest := strings.TrimLeft(line[min(1, len(line)):], " ")
			if !strings.HasPrefix(rest, nameOf(m)+" ") || strings.TrimSpace(rest[len(nameOf(m)):]) != n.Length(m.Value)+" mm" {
				continue
			}
			found = true
			if letter := line[:1]; letter != " " {
				lettered++
				if strings.Count(p, letter) != 1 {
					t.Errorf("%s is lettered %s, which stands %d times in the picture", nameOf(m), letter, strings.Count(p, letter))
				}
			}
		}
		if !found {
			t.Errorf("no line for %s %g", nameOf(m), m.Value)
		}
	}
	if lettered != 7 {
		t.Errorf("want 7 measures with letters, got %d", lettered)
	}
}

// TestNarrowKeepsTheNumbers: where a line is too long for the width, the name
// is cut and not the number.
func TestNarrowKeepsTheNumbers(t *testing.T) {
	s := section(t)(joints.NewLap(joints.Lap{Lower: plate(6), Upper: plate(5), Overlap: 25, Arrow: joints.EqualFillet(4)}))
	for i := range s.Measures {
		s.Measures[i].Tolerance = &joints.Tolerance{Plus: 0.25, Minus: -0.15}
	}
	text := write(t, s, LeastWidth, Options{})
	for _, want := range []string{"25 +0.25 -0.15 mm", "1 +0.25 -0.15 mm"} {
		if !strings.Contains(text, want+"\n") {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// TestEveryKind draws random joints of every kind at every width: lines fit,
// characters are those promised, every weld and member shows.
func TestEveryKind(t *testing.T) {
	for i := range joints.Kinds {
		kind := &joints.Kinds[i]
		t.Run(kind.Name, func(t *testing.T) {
			r := geomtest.Rand(11)
			for done := 0; done < 60; {
				s, _, ok := jointstest.Section(kind, r)
				if !ok {
					continue
				}
				done++
				width := LeastWidth + r.IntN(MostWidth-LeastWidth+1)
				for _, box := range []bool{false, true} {
					fits(t, write(t, &s, width, Options{Box: box}), width, box)
				}
				if p := picture(write(t, &s, MostWidth, Options{})); !strings.Contains(p, "o") || !strings.Contains(p, "/") {
					t.Errorf("no weld root or no first member:\n%s", p)
				}
			}
		})
	}
}

func fits(t *testing.T, text string, width int, box bool) {
	t.Helper()
	for line := range strings.Lines(text) {
		body, ended := strings.CutSuffix(line, "\n")
		if n := utf8.RuneCountInString(body); n > width || !ended || strings.HasSuffix(body, " ") {
			t.Fatalf("width %d: line of %d, ended %v: %q", width, n, ended, line)
		}
		for _, r := range body {
			if r < ' ' || r == 0x7F || !box && r > 0x7E {
				t.Fatalf("character %q in %q", r, line)
			}
		}
	}
}

func TestErrors(t *testing.T) {
	s := davitFoot(t)
	for _, test := range []struct {
		name  string
		s     *joints.Section
		width int
		want  error
	}{
		{"too narrow", s, LeastWidth - 1, ErrWidth},
		{"too wide", s, MostWidth + 1, ErrWidth},
		{"nothing to draw", &joints.Section{}, 80, ErrSection},
		{"narrowest", s, LeastWidth, nil},
		{"widest", s, MostWidth, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			var b bytes.Buffer
			if err := Write(&b, test.s, test.width, Options{}); !errors.Is(err, test.want) || (err != nil) != (b.Len() == 0) {
				t.Errorf("want %v, got %v and %d bytes", test.want, err, b.Len())
			}
		})
	}
}

func TestHandy(t *testing.T) {
	got := []float64{handy(1, 1), handy(0.31, 1), handy(9.5, 1), handy(25.4*0.0121, 25.4) / 25.4, handy(0.1+1e-12, 1)}
	if d := cmp.Diff([]float64{1, 0.35, 10, 0.014, 0.1}, got, geomtest.Approx(1e-12)); d != "" {
		t.Error(d)
	}
}

func TestReproducible(t *testing.T) {
	rendertest.Reproducible(t, func(w io.Writer) error { return Write(w, davitFoot(t), 80, Options{}) })
}

// FuzzWrite draws joints of any size with any words: no panic, lines fit.
func FuzzWrite(f *testing.F) {
	f.Add(8.0, 3.0, 90.0, 3.0, 0.3, 80, "EN AW-5083")
	f.Add(200.0, 0.5, 45.0, 1.0, 0.0, 40, "a\nb\x00\xff∅ 焊接 \u202e")
	f.Add(0.5, 0.5, 150.0, 40.0, 5.0, 200, strings.Repeat("x", 500))
	f.Fuzz(func(t *testing.T, base, stem, degrees, leg, gap float64, width int, words string) {
		p := joints.Tee{Base: joints.Plate{Thickness: geometry.Length(base), Material: words}, Stem: plate(geometry.Length(stem)),
			Angle: geometry.Angle(degrees) * geometry.Degree, Gap: geometry.Length(gap), Arrow: joints.EqualFillet(geometry.Length(leg))}
		s, err := joints.NewTee(p)
		if err != nil {
			t.Skip("not a joint")
		}
		s.Title = words
		for _, box := range []bool{false, true} {
			var b bytes.Buffer
			err := Write(&b, &s, width, Options{Box: box})
			if width < LeastWidth || width > MostWidth {
				if !errors.Is(err, ErrWidth) {
					t.Errorf("width %d: %v", width, err)
				}
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			fits(t, b.String(), width, box)
		}
	})
}

func BenchmarkWrite(b *testing.B) {
	s := davitFoot(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, s, 80, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
