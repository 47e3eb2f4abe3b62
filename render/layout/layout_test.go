package layout_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
	"fay/render"
	"fay/render/layout"
)

// random calls f with random joints of every kind and both styles.
func random(t *testing.T, n int, f func(t *testing.T, sec *joints.Section, s *render.Style)) {
	t.Helper()
	styles := []render.Style{render.ISO(), render.US()}
	if testing.Short() {
		n = (n + 2) / 3
	}
	for k := range joints.Kinds {
		kind := &joints.Kinds[k]
		t.Run(kind.Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(11, uint64(k)))
			for i := range n {
				sec, _, ok := jointstest.Section(kind, r)
				if !ok {
					t.Fatal("no joint could be built")
				}
				f(t, &sec, &styles[i%2])
			}
		})
	}
}

// TestEveryMeasureIsPrinted finds the model's number of every drawn measure on
// the figure, or among those handed back.
func TestEveryMeasureIsPrinted(t *testing.T) {
	random(t, 8, func(t *testing.T, sec *joints.Section, s *render.Style) {
		t.Helper()
		f := layout.Compose(sec, s, 172, 120)
		var printed []string
		for i := range f.Views {
			for _, m := range f.Views[i].Marks() {
				for _, x := range m.Texts {
					printed = append(printed, x.Content)
				}
			}
		}
		for i := range f.Unplaced {
			printed = append(printed, s.Numbers.Value(f.Unplaced[i].Value, f.Unplaced[i].Unit))
		}
		for i := range sec.Measures {
			m := &sec.Measures[i]
			if m.Draw == joints.NotDrawn {
				continue
			}
			number := s.Numbers.Value(m.Value, m.Unit)
			found := false
			for _, p := range printed {
				found = found || p == number || strings.HasSuffix(p, " "+number) || strings.HasSuffix(p, number)
			}
			if !found {
				t.Errorf("%s %s %s = %s is nowhere on the figure", m.Name, m.Member, m.Weld, number)
			}
		}
	})
}

// TestDimensionLinesRarelyCross measures the quality of the placing: on views
// laid out without walls dimension lines of different dimensions do not cross.
func TestDimensionLinesRarelyCross(t *testing.T) {
	views, crossed := 0, 0
	random(t, 14, func(_ *testing.T, sec *joints.Section, s *render.Style) {
		f := layout.Compose(sec, s, 172, 200)
		for i := range f.Views {
			views++
			if lineCrossings(f.Views[i].Marks()) > 0 {
				crossed++
			}
		}
	})
	t.Logf("%d views, %d with crossing dimension lines", views, crossed)
	if crossed*25 > views {
		t.Errorf("dimension lines cross on %d of %d views", crossed, views)
	}
}

func lineCrossings(marks []render.Mark) int {
	n := 0
	for i := range marks {
		for j := range marks[:i] {
			for _, a := range marks[i].Lines {
				for _, b := range marks[j].Lines {
					p, q := a.B.Sub(a.A), b.B.Sub(b.A)
					k := p.Cross(q)
					if k == 0 {
						continue
					}
					u, v := b.A.Sub(a.A).Cross(q)/k, b.A.Sub(a.A).Cross(p)/k
					if u > 0.01 && u < 0.99 && v > 0.01 && v < 0.99 {
						n++
					}
				}
			}
		}
	}
	return n
}

// TestTrimKeepsMeasures shortens plates and leaves every number and every
// witness distance as it was.
func TestTrimKeepsMeasures(t *testing.T) {
	shorter := false
	random(t, 25, func(t *testing.T, sec *joints.Section, _ *render.Style) {
		t.Helper()
		got := layout.Trim(sec)
		for i := range sec.Measures {
			a, b := &sec.Measures[i], &got.Measures[i]
			if a.Value != b.Value || math.Abs(a.From.Dist(a.To)-b.From.Dist(b.To)) > 1e-9 {
				t.Errorf("%s %s changed from %v to %v", a.Name, a.Member, a, b)
			}
		}
		for i := range sec.Members {
			a, b := &sec.Members[i], &got.Members[i]
			if len(a.Broken) != len(b.Broken) {
				t.Errorf("%s had %d broken ends, has %d", a.Name, len(a.Broken), len(b.Broken))
			}
			old := a.Outline
			for _, e := range b.Outline.All() {
				if old.Locate(e.At(0.5)) == geometry.Outside && old.Distance(e.At(0.5)) > 1e-9 {
					t.Errorf("%s grew to %v", a.Name, e.At(0.5))
				}
			}
			shorter = shorter || b.Outline.Area() < a.Outline.Area()*0.99
		}
		for i := range sec.Welds {
			box := sec.Welds[i].Profile.Bounds()
			for j := range sec.Members {
				near := box.Grow(1e-6)
				touched := sec.Members[j].Outline.Bounds().Overlaps(near)
				if touched && !got.Members[j].Outline.Bounds().Overlaps(near) {
					t.Errorf("%s was cut off its weld", got.Members[j].Name)
				}
			}
		}
	})
	if !shorter {
		t.Error("no plate was ever shortened")
	}
}

// TestFitStaysInside holds figures to the room they are given.
func TestFitStaysInside(t *testing.T) {
	random(t, 4, func(t *testing.T, sec *joints.Section, s *render.Style) {
		t.Helper()
		for _, size := range [][2]float64{{172, 90}, {120, 150}, {60, 60}} {
			f := layout.Compose(sec, s, size[0], size[1])
			if f.Width > size[0]+1e-6 || f.Height > size[1]+1e-6 {
				t.Errorf("figure of %.1f × %.1f mm in %v, scale %v", f.Width, f.Height, size, f.Views[0].Scale)
			}
		}
	})
}

// TestMarksStartAtTheirFeature ties the paper to the model: extension lines of
// a linear dimension begin at the scaled witness points.
func TestMarksStartAtTheirFeature(t *testing.T) {
	sec := tee(t, joints.Tee{Base: plate(8), Stem: plate(3), Gap: 0.3, Arrow: joints.EqualFillet(3)})
	s := render.ISO()
	v := layout.At(&sec, &s, 5, noLimit)
	want := map[string]geometry.Point{
		"dimension:leg base arrow": {X: 15},
		"dimension:leg stem arrow": {Y: 15},
	}
	for _, m := range v.Marks() {
		p, ok := want[m.Role]
		if !ok {
			continue
		}
		delete(want, m.Role)
		near := math.Inf(1)
		for _, e := range m.Extension {
			near = min(near, e.A.Dist(p))
		}
		if near > 1e-9 {
			t.Errorf("%s: the nearest extension line begins %.3f mm from %v", m.Role, near, p)
		}
	}
	if len(want) > 0 {
		t.Errorf("not drawn: %v", want)
	}
}

func TestAlikeWeldsShareDimensions(t *testing.T) {
	s := render.ISO()
	sec := tee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(3), Other: joints.EqualFillet(3)})
	if !layout.Alike(&sec) {
		t.Fatal("equal welds are alike")
	}
	texts := map[string]int{}
	for _, m := range layout.At(&sec, &s, 5, noLimit).Marks() {
		for _, x := range m.Texts {
			texts[x.Content]++
		}
	}
	if texts["2× 3"] != 2 || texts["2× effective throat 2,12"] != 1 {
		t.Errorf("legs twice and throat once, each marked 2×: %v", texts)
	}
	unlike := tee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(3), Other: joints.EqualFillet(4)})
	if layout.Alike(&unlike) {
		t.Error("a leg of 3 and one of 4 are not alike")
	}
}
