package geometry_test

import (
	"errors"
	"math"
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"

	"github.com/google/go-cmp/cmp"
)

func total(parts []geometry.Outline) (area, sx, sy float64) {
	for _, p := range parts {
		a, c := p.Area(), p.Centroid()
		area, sx, sy = area+a, sx+a*c.X, sy+a*c.Y
	}
	return area, sx, sy
}

func TestCutPartsSumToWhole(t *testing.T) {
	several := 0
	for rng := range geomtest.Seeds(t, 1500) {
		o := geomtest.Outline(rng)
		if rng.IntN(2) == 0 {
			o = o.Reverse()
		}
		h := geomtest.HalfPlane(rng, o)
		if rng.IntN(3) == 0 { // through a vertex, or along a chord
			e := o.Edge(rng.IntN(o.Len()))
			h.P = e.Start()
			if rng.IntN(2) == 0 {
				h.N = e.End().Sub(e.Start()).Perp()
			}
		}
		in, out := o.Cut(h), o.Cut(h.Complement())
		if len(in)+len(out) > 2 {
			several++
		}
		ai, xi, yi := total(in)
		ao, xo, yo := total(out)
		c := o.Centroid()
		want := []float64{o.Area(), o.Area() * c.X, o.Area() * c.Y}
		if d := cmp.Diff(want, []float64{ai + ao, xi + xo, yi + yo}, geomtest.ApproxRel(1e-7)); d != "" {
			t.Errorf("%v cut by %v: %s", o, h, d)
		}
		for _, p := range in {
			if (p.Area() > 0) != (o.Area() > 0) {
				t.Error("want the direction of travel kept")
			}
			for _, e := range p.All() {
				for _, u := range []float64{0, 0.3, 0.5, 1} {
					if d := e.At(u).Sub(h.P).Dot(h.N.Unit()); d < -2e-8 {
						t.Errorf("kept part goes %g beyond the line", -d)
					}
				}
			}
			if _, err := geometry.NewOutline(p.Edges()...); err != nil {
				t.Errorf("part is not a valid outline: %v", err)
			}
		}
		for range 20 {
			q := geomtest.Point(rng, 30)
			if o.Distance(q) < 1e-6 || math.Abs(q.Sub(h.P).Dot(h.N.Unit())) < 1e-6 {
				continue
			}
			want := o.Locate(q) == geometry.Inside && h.Contains(q)
			got := false
			for _, p := range in {
				got = got || p.Locate(q) == geometry.Inside
			}
			if want != got {
				t.Errorf("%v: want inside %v, got %v", q, want, got)
			}
		}
	}
	if several < 50 {
		t.Errorf("want cuts into several parts among the trials, got %d", several)
	}
}

func TestCutNamed(t *testing.T) {
	up := geometry.HalfPlane{N: pt(0, 1)}
	comb := polygon(t, pt(0, -2), pt(6, -2), pt(6, 2), pt(4, 2), pt(4, -1), pt(2, -1), pt(2, 2), pt(0, 2))
	cShape := polygon(t, pt(0, -2), pt(6, -2), pt(6, -1), pt(2, -1), pt(2, 1), pt(6, 1), pt(6, 2), pt(0, 2))
	for _, row := range []struct {
		name  string
		o     geometry.Outline
		h     geometry.HalfPlane
		areas []float64
	}{
		{"all above", polygon(t, pt(0, 1), pt(2, 1), pt(2, 3), pt(0, 3)), up, []float64{4}},
		{"all below", polygon(t, pt(0, -3), pt(2, -3), pt(2, -1), pt(0, -1)), up, nil},
		{"bottom edge on the line", polygon(t, pt(0, 0), pt(2, 0), pt(2, 3), pt(0, 3)), up, []float64{6}},
		{"top edge on the line", polygon(t, pt(0, -3), pt(2, -3), pt(2, 0), pt(0, 0)), up, nil},
		{"tip touches from above", polygon(t, pt(1, 0), pt(2, 3), pt(0, 3)), up, []float64{3}},
		{"tip touches from below", polygon(t, pt(1, 0), pt(0, -3), pt(2, -3)), up, nil},
		{"through two corners", polygon(t, pt(2, 0), pt(0, 2), pt(-2, 0), pt(0, -2)), up, []float64{4}},
		{"comb", comb, up, []float64{4, 4}},
		{"comb down", comb, up.Complement(), []float64{10}},
		{"c shape across", cShape, geometry.HalfPlane{P: pt(3, 0), N: pt(1, 0)}, []float64{3, 3}},
		{"notch touches the line", polygon(t, pt(0, -1), pt(4, -1), pt(4, 2), pt(2, 0), pt(0, 2)), up, []float64{2, 2}},
		{"notch touches, below", polygon(t, pt(0, -1), pt(4, -1), pt(4, 2), pt(2, 0), pt(0, 2)), up.Complement(), []float64{4}},
		{"flat notch on the line", polygon(t, pt(0, -1), pt(6, -1), pt(6, 2), pt(4, 0), pt(2, 0), pt(0, 2)), up, []float64{2, 2}},
		{"step on the line", polygon(t, pt(0, -1), pt(2, -1), pt(2, 0), pt(4, 0), pt(4, 2), pt(0, 2)), up, []float64{8}},
		{"step on the line, below", polygon(t, pt(0, -1), pt(2, -1), pt(2, 0), pt(4, 0), pt(4, 2), pt(0, 2)), up.Complement(), []float64{2}},
		{"disc", disc(t, pt(0, 0), 2), up, []float64{2 * math.Pi}},
		{"disc from its top", disc(t, pt(0, 0), 2), geometry.HalfPlane{P: pt(0, 1), N: pt(0, 3)}, []float64{4*math.Pi/3 - math.Sqrt(3)}},
		{"disc touches", disc(t, pt(0, 2), 2), up, []float64{4 * math.Pi}},
		{"disc touches from below", disc(t, pt(0, -2), 2), up, nil},
		{"concave arc touches the line", must(t, geometry.Line(pt(-3, -1), pt(3, -1)), geometry.Line(pt(3, -1), pt(3, 2)), geometry.Line(pt(3, 2), pt(2, 2)),
			geometry.Arc(pt(2, 2), pt(-2, 2), -2), geometry.Line(pt(-2, 2), pt(-3, 2)), geometry.Line(pt(-3, 2), pt(-3, -1))), up, []float64{6 - math.Pi, 6 - math.Pi}},
		{"parabola", must(t, geometry.Quad(pt(2, 0), pt(0, 8), pt(-2, 0)), geometry.Line(pt(-2, 0), pt(2, 0))), geometry.HalfPlane{P: pt(0, 3), N: pt(0, 1)}, []float64{2.0 / 3 * 2 * 1}},
		{"no direction", disc(t, pt(0, 0), 2), geometry.HalfPlane{}, []float64{4 * math.Pi}},
		{"not finite", disc(t, pt(0, 0), 2), geometry.HalfPlane{N: pt(math.NaN(), 0)}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, o := range []geometry.Outline{row.o, row.o.Reverse()} {
				var got []float64
				for _, p := range o.Cut(row.h) {
					got = append(got, math.Abs(p.Area()))
				}
				if d := cmp.Diff(row.areas, got, geomtest.Approx(1e-9)); d != "" {
					t.Error(d)
				}
			}
		})
	}
}

func TestCutKeepsKinds(t *testing.T) {
	parts := teeOutline(t).Cut(geometry.HalfPlane{P: pt(0, 2), N: pt(0.2, 1)})
	if len(parts) != 1 {
		t.Fatalf("want one part, got %d", len(parts))
	}
	arcs := 0
	for _, e := range parts[0].All() {
		if e.Kind() == geometry.ArcEdge {
			arcs++
			if want := teeOutline(t).Edge(1).Radius(); !geomtest.Close(want, e.Radius(), 1e-9) {
				t.Errorf("want radius %g, got %g", want, e.Radius())
			}
		}
	}
	if arcs != 1 {
		t.Errorf("want the arc kept, got %d arcs", arcs)
	}
}

func TestChords(t *testing.T) {
	comb := polygon(t, pt(0, -2), pt(6, -2), pt(6, 2), pt(4, 2), pt(4, -1), pt(2, -1), pt(2, 2), pt(0, 2))
	for _, row := range []struct {
		name   string
		o      geometry.Outline
		p, dir geometry.Point
		want   [][2]float64
	}{
		{"comb", comb, pt(0, 0), pt(1, 0), [][2]float64{{0, 2}, {4, 6}}},
		{"comb low", comb, pt(0, -1.5), pt(1, 0), [][2]float64{{0, 6}}},
		{"along the notch bottom", comb, pt(0, -1), pt(1, 0), [][2]float64{{0, 2}, {4, 6}}},
		{"along the bottom", comb, pt(0, -2), pt(1, 0), nil},
		{"backwards, half as long", comb, pt(6, 0), pt(-2, 0), [][2]float64{{0, 1}, {2, 3}}},
		{"misses", comb, pt(0, 5), pt(1, 0), nil},
		{"disc", disc(t, pt(0, 0), 5), pt(0, 3), pt(1, 0), [][2]float64{{-4, 4}}},
		{"through a notch's tip", polygon(t, pt(0, -1), pt(4, -1), pt(4, 2), pt(2, 0), pt(0, 2)), pt(0, 0), pt(1, 0), [][2]float64{{0, 4}}},
		{"touches a tip", polygon(t, pt(0, -1), pt(4, -1), pt(2, 0)), pt(0, 0), pt(1, 0), nil},
		{"no direction", comb, pt(0, 0), pt(0, 0), nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			if d := cmp.Diff(row.want, row.o.Chords(row.p, row.dir), geomtest.Approx(1e-9)); d != "" {
				t.Error(d)
			}
		})
	}
}

// TestChordsSumToArea adds up the chords of many parallel lines.
func TestChordsSumToArea(t *testing.T) {
	for rng := range geomtest.Seeds(t, 20) {
		o := geomtest.Outline(rng)
		a := geometry.Angle(geomtest.Between(rng, -math.Pi, math.Pi))
		dir := geometry.Polar(1, a)
		turned := o.Transform(geometry.Rotate(-a, pt(0, 0))).Bounds()
		const n = 2000
		step := turned.Height() / n
		sum := 0.0
		for i := range n {
			y := turned.Min.Y + (float64(i)+0.5)*step
			for _, c := range o.Chords(dir.Perp().Scale(y), dir) {
				sum += (c[1] - c[0]) * step
			}
		}
		if math.Abs(sum-o.Area()) > 1e-3*o.Area() {
			t.Errorf("want area %g, got %g", o.Area(), sum)
		}
	}
}

func TestOffsetEdge(t *testing.T) {
	square := polygon(t, pt(0, 0), pt(4, 0), pt(4, 4), pt(0, 4))
	trapeze := polygon(t, pt(0, 0), pt(6, 0), pt(4, 2), pt(2, 2))
	capped := must(t, geometry.Line(pt(2, -3), pt(2, 0)), geometry.Arc(pt(2, 0), pt(-2, 0), 2), geometry.Line(pt(-2, 0), pt(-2, -3)), geometry.Line(pt(-2, -3), pt(2, -3)))
	low := must(t, geometry.Line(pt(3, -3), pt(3, 0)), geometry.ArcCentre(pt(3, 0), pt(-3, 0), pt(0, -4), true), geometry.Line(pt(-3, 0), pt(-3, -3)), geometry.Line(pt(-3, -3), pt(3, -3)))
	for _, row := range []struct {
		name string
		o    geometry.Outline
		i    int
		d    float64
		want geometry.Outline
		code geometry.OutlineCode
	}{
		{name: "out", o: square, i: 1, d: 1, want: polygon(t, pt(0, 0), pt(5, 0), pt(5, 4), pt(0, 4))},
		{name: "in", o: square, i: 1, d: -1, want: polygon(t, pt(0, 0), pt(3, 0), pt(3, 4), pt(0, 4))},
		{name: "clockwise out", o: square.Reverse(), i: 2, d: 1, want: polygon(t, pt(0, 0), pt(5, 0), pt(5, 4), pt(0, 4)).Reverse()},
		{name: "counted round", o: square, i: -3, d: 1, want: polygon(t, pt(0, 0), pt(5, 0), pt(5, 4), pt(0, 4))},
		{name: "sloping neighbours", o: trapeze, i: 2, d: 0.5, want: polygon(t, pt(0, 0), pt(6, 0), pt(3.5, 2.5), pt(2.5, 2.5))},
		{name: "shrunk to a point", o: trapeze, i: 2, d: 1, code: geometry.OutlineNoMeet},
		{name: "nothing", o: square, i: 0, d: 0, want: square},
		{name: "arc out", o: low, i: 1, d: math.Sqrt(34) - 5, want: must(t, geometry.Line(pt(3, -3), pt(3, 1)), geometry.ArcCentre(pt(3, 1), pt(-3, 1), pt(0, -4), true), geometry.Line(pt(-3, 1), pt(-3, -3)), geometry.Line(pt(-3, -3), pt(3, -3)))},
		{name: "past the far side", o: square, i: 1, d: -5, code: geometry.OutlineNoMeet},
		{name: "tangent arc out", o: capped, i: 1, d: -0.5, code: geometry.OutlineNoMeet},
		{name: "neighbour round", o: capped, i: 0, d: 1, code: geometry.OutlineNeighbour},
		{name: "not finite", o: square, i: 0, d: math.Inf(1), code: geometry.OutlineNotFinite},
		{name: "quad", o: must(t, geometry.Quad(pt(2, 0), pt(0, 4), pt(-2, 0)), geometry.Line(pt(-2, 0), pt(0, -1)), geometry.Line(pt(0, -1), pt(2, 0))), i: 0, d: 1, code: geometry.OutlineBadEdge},
		{name: "arc shrunk to nothing", o: low, i: 1, d: -5, code: geometry.OutlineNoMeet},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := row.o.OffsetEdge(row.i, row.d)
			if row.code != "" {
				var oe *geometry.OutlineError
				if !errors.As(err, &oe) || oe.Code != row.code {
					t.Fatalf("want %s, got %v, %v", row.code, got, err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(row.want, got, geomtest.Approx(1e-9)); d != "" {
				t.Error(d)
			}
		})
	}
}
