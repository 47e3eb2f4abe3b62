package render

import (
	"math"
	"testing"

	"fay/geometry"
	"fay/joints"

	"github.com/google/go-cmp/cmp"
)

func TestNumbers(t *testing.T) {
	iso, us := ISO().Numbers, US().Numbers
	point := iso
	point.Decimal = "."
	decimal := us
	decimal.Denominator = 0
	tests := []struct {
		name string
		n    Numbers
		mm   float64
		want string
	}{
		{"whole millimetres have no decimals", iso, 3, "3"},
		{"decimal comma with leading zero", iso, 0.3, "0,3"},
		{"decimal point by style", point, 0.3, "0.3"},
		{"rounded to two decimals", iso, 2.12132, "2,12"},
		{"an eighth of an inch rounds up", iso, 3.175, "3,18"},
		{"trailing zeros go", iso, 2.5, "2,5"},
		{"no negative zero", iso, -0.001, "0"},
		{"minus sign, not hyphen", iso, -1.5, "\u22121,5"},
		{"exact sixteenths are fractions", us, 3.0 / 16 * 25.4, "3/16"},
		{"whole and fraction", us, 1.25 * 25.4, "1-1/4"},
		{"whole inches", us, 50.8, "2"},
		{"no fraction where it would round", us, 3, ".118"},
		{"inch decimals keep their zeros", decimal, 25.4 / 4, ".250"},
		{"negative inch decimals", decimal, -25.4 / 4, "\u2212.250"},
		{"zero inches", decimal, 0, "0"},
		{"above one inch", decimal, 38.1, "1.500"},
		{"not a number prints a question mark", iso, math.NaN(), "?"},
		{"infinite prints a question mark", iso, math.Inf(1), "?"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, tt.n.Length(tt.mm)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestToleranced(t *testing.T) {
	iso, us := ISO().Numbers, US().Numbers
	tests := []struct {
		name string
		n    Numbers
		v    float64
		unit joints.Unit
		tol  *joints.Tolerance
		want string
	}{
		{"none", iso, 3, joints.UnitMM, nil, "3"},
		{"symmetric", iso, 0.5, joints.UnitMM, &joints.Tolerance{Plus: 0.3, Minus: -0.3}, "0,5 ±0,3"},
		{"unequal", iso, 0.5, joints.UnitMM, &joints.Tolerance{Plus: 1, Minus: -0.5}, "0,5 +1 \u22120,5"},
		{"one-sided", iso, 0, joints.UnitMM, &joints.Tolerance{Plus: 1}, "0 +1 \u22120"},
		{"angle", iso, 60, joints.UnitDegree, &joints.Tolerance{Plus: 2, Minus: -2}, "60° ±2°"},
		{"angles keep the leading zero", us, 0.5, joints.UnitDegree, nil, "0.5°"},
		{"area in square inches", us, 645.16, joints.UnitMM2, nil, "1.000"},
		{"area in mm²", iso, 4.5, joints.UnitMM2, nil, "4,5"},
		{"a 32nd that is meant", us, 25.4 * 3 / 32, joints.UnitMM, nil, "3/32"},
		{"a 64th that is meant", us, 25.4 / 64, joints.UnitMM, nil, "1/64"},
		{"a millionth off a 32nd and a half", us, 25.4*3/32 + 1.5*25.4e-6, joints.UnitMM, nil, ".094"},
		{"no fraction", us, 2.4, joints.UnitMM, nil, ".094"},
		{"inch tolerance", us, 25.4 / 16, joints.UnitMM, &joints.Tolerance{Plus: 25.4 / 16, Minus: -25.4 / 16}, "1/16 ±1/16"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, tt.n.Toleranced(tt.v, tt.unit, tt.tol)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestScaleText(t *testing.T) {
	want := []string{"50:1", "20:1", "10:1", "5:1", "2:1", "1:1", "1:2", "1:5", "1:10", "1:20", "1:50", "1:100"}
	var got []string
	for _, s := range Scales {
		got = append(got, ScaleText(s))
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// TestWordsComeInPairs keeps the wording table complete in both languages.
func TestWordsComeInPairs(t *testing.T) {
	for key, w := range words {
		if (w[0] == "") != (w[1] == "") {
			t.Errorf("%s: one language has a word, the other has none: %q", key, w)
		}
	}
	iso, us := ISO(), US()
	if got := iso.Word("field.revision") + "/" + us.Word("field.revision"); got != "Revision/Rev" {
		t.Errorf("languages are mixed up: %s", got)
	}
	if got := iso.Word("measure.no such"); got != "no such" {
		t.Errorf("a missing term stands for itself, got %q", got)
	}
}

// TestHatchLiesInside draws section lining on a plate with a hole and checks it
// by sampling: every line inside the plate, none in the hole or under the text,
// evenly spaced.
func TestHatchLiesInside(t *testing.T) {
	plate, err := geometry.NewOutline(
		geometry.Line(geometry.Point{}, geometry.Point{X: 60}),
		geometry.Arc(geometry.Point{X: 60}, geometry.Point{X: 60, Y: 30}, 6),
		geometry.Line(geometry.Point{X: 60, Y: 30}, geometry.Point{Y: 30}),
		geometry.Line(geometry.Point{Y: 30}, geometry.Point{}))
	if err != nil {
		t.Fatal(err)
	}
	hole, err := geometry.Polygon(geometry.Point{X: 20, Y: 5}, geometry.Point{X: 30, Y: 5}, geometry.Point{X: 25, Y: 15})
	if err != nil {
		t.Fatal(err)
	}
	text := [4]geometry.Point{{X: 40, Y: 10}, {X: 50, Y: 10}, {X: 50, Y: 16}, {X: 40, Y: 16}}
	s := ISO()
	for part := range 3 {
		h := s.HatchingFor(part, 30)
		lines := Hatch(plate, h, []geometry.Outline{hole}, [][4]geometry.Point{text})
		if len(lines) < 10 {
			t.Fatalf("part %d: only %d lines", part, len(lines))
		}
		total := 0.0
		for _, e := range lines {
			total += e.Length()
			for i := range 21 {
				p := e.At(0.01 + 0.98*float64(i)/20)
				if plate.Locate(p) != geometry.Inside {
					t.Errorf("part %d: lining at %v is outside the plate", part, p)
				}
				if hole.Locate(p) == geometry.Inside {
					t.Errorf("part %d: lining at %v is in the hole", part, p)
				}
				if p.X > 40 && p.X < 50 && p.Y > 10 && p.Y < 16 {
					t.Errorf("part %d: lining at %v runs through the text", part, p)
				}
			}
			if a := e.Tangent(0).Angle(); math.Abs(math.Remainder(float64(a-h.Angle), math.Pi)) > 1e-9 {
				t.Errorf("part %d: a line at %v, want %v", part, a.Degrees(), h.Angle.Degrees())
			}
		}
		// Lines one pitch apart cover the area: length × pitch.
		area := plate.Area() - hole.Area() - 60
		if math.Abs(total*h.Pitch-area) > 0.04*area {
			t.Errorf("part %d: lining covers %.0f mm², the area is %.0f", part, total*h.Pitch, area)
		}
	}
}

func TestNeighboursAreLinedAgainstEachOther(t *testing.T) {
	s := ISO()
	a, b, c := s.HatchingFor(0, 30), s.HatchingFor(1, 30), s.HatchingFor(2, 30)
	if a.Angle == b.Angle {
		t.Error("the first two parts are lined alike")
	}
	if a.Pitch == c.Pitch {
		t.Error("the third part is spaced like the first")
	}
}

// Lining gives way to a long edge that runs along it, at every scale alike, and
// goes on to slope against its neighbour's.
func TestLiningRunsAlongNoEdge(t *testing.T) {
	s := ISO()
	for _, bevel := range []float64{30, 37.5, 45, 50, 60} {
		half := geometry.Angle(bevel) * geometry.Degree
		g := &joints.Groove{}
		sec, err := joints.NewButt(joints.Butt{Left: joints.Plate{Thickness: 12}, Right: joints.Plate{Thickness: 12}, Prep: joints.PrepDoubleV,
			Flank: joints.Flank{Bevel: [2]geometry.Angle{half, half}}, OtherFlank: joints.Flank{Bevel: [2]geometry.Angle{half, half}}, Arrow: g, Other: g})
		if err != nil {
			t.Fatal(err)
		}
		var before [2]geometry.Angle
		for n, scale := range []float64{1, 5} {
			k := s.Sketch(&sec, scale)
			a, b := k.hatching(&k.Members[0]), k.hatching(&k.Members[1])
			if a.Angle.Cos()*b.Angle.Cos() >= 0 {
				t.Errorf("bevel %v°: both slope alike", bevel)
			}
			if now := [2]geometry.Angle{a.Angle, b.Angle}; n > 0 && now != before {
				t.Errorf("bevel %v°: %v at one scale, %v at another", bevel, before, now)
			}
			before = [2]geometry.Angle{a.Angle, b.Angle}
			for i, h := range [2]Hatching{a, b} {
				for _, e := range k.Members[i].Real {
					off := math.Abs(math.Remainder(float64(e.Tangent(0).Angle()-h.Angle), math.Pi))
					if off < float64(9*geometry.Degree) {
						t.Errorf("bevel %v°: the lining of %s at %v° runs along an edge", bevel, k.Members[i].Name, h.Angle.Degrees())
					}
				}
			}
		}
	}
}
