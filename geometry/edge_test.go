package geometry_test

import (
	"fmt"
	"math"
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"

	"github.com/google/go-cmp/cmp"
)

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

// richardson takes f at 64, 128, … chords per edge, whose error is a series in
// 1/n², and removes its leading terms: the second route for every integral.
func richardson(f func(n int) float64) float64 {
	var row [6]float64
	for i := range row {
		row[i] = f(64 << i)
	}
	for k := 1; k < len(row); k++ {
		w := math.Pow(4, float64(k))
		for i := 0; i+k < len(row); i++ {
			row[i] = (w*row[i+1] - row[i]) / (w - 1)
		}
	}
	return row[0]
}

// chordSum adds f over n chords of an edge.
func chordSum(e geometry.Edge, n int, f func(p, q geometry.Point) float64) float64 {
	sum := 0.0
	last := e.Start()
	for i := 1; i <= n; i++ {
		next := e.At(float64(i) / float64(n))
		sum += f(last, next)
		last = next
	}
	return sum
}

// sampleEdges are edges of every kind, with the awkward ones by name.
func sampleEdges() map[string]geometry.Edge {
	m := map[string]geometry.Edge{
		"line":            geometry.Line(pt(1, 2), pt(4, 6)),
		"half disc":       geometry.Arc(pt(1, 0), pt(-1, 0), 1),
		"half disc other": geometry.Arc(pt(1, 0), pt(-1, 0), -1),
		"quarter":         geometry.ArcCentre(pt(3, 0), pt(0, 3), pt(0, 0), true),
		"three quarters":  geometry.ArcCentre(pt(3, 0), pt(0, 3), pt(0, 0), false),
		"major":           geometry.Arc(pt(1, 1), pt(2, 3), 7),
		"flat arc":        geometry.Arc(pt(1, 1), pt(12, 3), 1e-5),
		"parabola":        geometry.Quad(pt(5, 0), pt(0, 4), pt(-5, 0)),
		"skew quad":       geometry.Quad(pt(5, 0), pt(9, 4), pt(-5, 1)),
		"flat quad":       geometry.Quad(pt(0, 0), pt(2, 1e-9), pt(5, 0)),
		"straight quad":   geometry.Quad(pt(0, 0), pt(2, 2), pt(5, 5)),
		"folded quad":     geometry.Quad(pt(0, 0), pt(8, 0), pt(5, 0)),
	}
	for seed := range uint64(60) {
		m[fmt.Sprintf("random %d", seed)] = geomtest.Edge(geomtest.Rand(seed), 10)
	}
	return m
}

func TestEdgeLengthAgainstChords(t *testing.T) {
	for name, e := range sampleEdges() {
		want := richardson(func(n int) float64 { return chordSum(e, n, geometry.Point.Dist) })
		tol := 1e-8
		if name == "folded quad" {
			// The speed has a corner, so the extrapolation does not hold:
			// out to 64/11 and back to 5.
			want = 64.0/11 + 64.0/11 - 5
			tol = 1e-12
		}
		if !geomtest.Close(want, e.Length(), tol) {
			t.Errorf("%s: want length %.12g, got %.12g", name, want, e.Length())
		}
	}
}

func TestAreaAgainstChords(t *testing.T) {
	for name, e := range sampleEdges() {
		want := richardson(func(n int) float64 {
			return chordSum(e, n, func(p, q geometry.Point) float64 { return p.Cross(q) / 2 })
		})
		if got := geometry.Area(e); !geomtest.Close(want, got, 1e-9) {
			t.Errorf("%s: want area %.12g, got %.12g", name, want, got)
		}
	}
}

// TestFlatArcArea pins the limit ⅔·c·h of a flat segment and the first terms by
// which it departs from the limit, in u = (2h/c)².
func TestFlatArcArea(t *testing.T) {
	for _, c := range []float64{1e-3, 1, 10, 1e4} {
		for e := -30; e <= -1; e++ {
			k := math.Pow(10, float64(e)/2)
			h := k * c / 2
			// Chord through the origin: the chain's area is the segment alone.
			got := geometry.Area(geometry.Arc(pt(c/2, 0), pt(-c/2, 0), h))
			u := k * k
			want := 2.0 / 3 * c * h * (1 + u/5 - u*u/35 + u*u*u/105 - u*u*u*u/231 + u*u*u*u*u/429)
			if rel := math.Abs(got/want - 1); rel > 3e-14+u*u*u*u*u*u/700 {
				t.Errorf("c %g h %g: want %.17g, got %.17g, off by %.2g", c, h, want, got, rel)
			}
			flipped := geometry.Area(geometry.Arc(pt(c/2, 0), pt(-c/2, 0), -h))
			if flipped != -got {
				t.Errorf("c %g h %g: want the other side to take away %g, got %g", c, h, got, flipped)
			}
		}
	}
}

// TestSegmentSeriesMeetClosedForms compares both sides of the bulges at which
// series and closed forms take over from each other.
func TestSegmentSeriesMeetClosedForms(t *testing.T) {
	for _, k := range []float64{0.25, 0.5} {
		var got [2][4]float64
		for i, b := range []float64{k * (1 - 1e-13), k * (1 + 1e-13)} {
			o, err := geometry.NewOutline(geometry.Arc(pt(1, 0), pt(-1, 0), b), geometry.Line(pt(-1, 0), pt(1, 0)))
			if err != nil {
				t.Fatal(err)
			}
			m := o.MomentsAbout(pt(0, 0))
			got[i] = [4]float64{o.Area(), o.Centroid().Y, m.Ixx, m.Iyy}
		}
		if d := cmp.Diff(got[0], got[1], geomtest.Approx(2e-13)); d != "" {
			t.Errorf("bulge %g: %s", k, d)
		}
	}
}

func TestArcParts(t *testing.T) {
	quarter := geometry.ArcCentre(pt(3, 0), pt(0, 3), pt(0, 0), true)
	c, ok := quarter.Centre()
	if d := cmp.Diff(pt(0, 0), c, geomtest.Approx(1e-15)); d != "" || !ok {
		t.Error(d, ok)
	}
	type parts struct {
		Radius, Sagitta float64
		Sweep           geometry.Angle
		Mid, T0, T1     geometry.Point
		Bounds          geometry.Box
	}
	r := math.Sqrt2 / 2
	for _, row := range []struct {
		name string
		e    geometry.Edge
		want parts
	}{
		{"quarter", quarter, parts{3, 3 - 3*r, 90 * geometry.Degree, pt(3*r, 3*r), pt(0, 1), pt(-1, 0), geometry.Box{Max: pt(3, 3)}}},
		{"quarter back", quarter.Reverse(), parts{3, 3*r - 3, -90 * geometry.Degree, pt(3*r, 3*r), pt(1, 0), pt(0, -1), geometry.Box{Max: pt(3, 3)}}},
		{"long way", geometry.ArcCentre(pt(3, 0), pt(0, 3), pt(0, 0), false),
			parts{3, -3 - 3*r, -270 * geometry.Degree, pt(-3*r, -3*r), pt(0, -1), pt(1, 0), geometry.Box{Min: pt(-3, -3), Max: pt(3, 3)}}},
		{"half disc", geometry.Arc(pt(1, 0), pt(-1, 0), 1), parts{1, 1, 180 * geometry.Degree, pt(0, 1), pt(0, 1), pt(0, -1), geometry.Box{Min: pt(-1, 0), Max: pt(1, 1)}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			e := row.e
			got := parts{e.Radius(), e.Sagitta(), e.Sweep(), e.At(0.5), e.Tangent(0), e.Tangent(1), e.Bounds()}
			if d := cmp.Diff(row.want, got, geomtest.Approx(1e-14)); d != "" {
				t.Error(d)
			}
		})
	}
	if l := geometry.Arc(pt(0, 0), pt(1, 0), 0); l.Kind() != geometry.LineEdge || !math.IsInf(l.Radius(), 1) || l.Sweep() != 0 {
		t.Errorf("want sagitta 0 to be a line, got %v", l)
	}
	if _, ok := geometry.Line(pt(0, 0), pt(1, 0)).Centre(); ok {
		t.Error("want no centre of a line")
	}
}

func TestArcPointsLieOnCircle(t *testing.T) {
	for rng := range geomtest.Seeds(t, 200) {
		a, b := geomtest.Point(rng, 10), geomtest.Point(rng, 10)
		e := geometry.Arc(a, b, a.Dist(b)*geomtest.Between(rng, 0.01, 3))
		c, _ := e.Centre()
		for range 10 {
			u := rng.Float64()
			if d := c.Dist(e.At(u)); !geomtest.Close(e.Radius(), d, 1e-11) {
				t.Errorf("t %g: want radius %g, got %g", u, e.Radius(), d)
			}
			if d := e.At(u).Sub(c).Dot(e.Tangent(u)); math.Abs(d) > 1e-10*e.Radius() {
				t.Errorf("t %g: tangent not square to the radius: %g", u, d)
			}
		}
		if d := cmp.Diff(e, geometry.ArcCentre(a, b, c, true), geomtest.ApproxRel(1e-9)); d != "" {
			t.Error(d)
		}
	}
}

func TestEdgeLaws(t *testing.T) {
	for name, e := range sampleEdges() {
		t.Run(name, func(t *testing.T) {
			rng := geomtest.Rand(7)
			near := geomtest.ApproxRel(1e-8)
			if e.At(0) != e.Start() || e.At(1) != e.End() {
				t.Error("want the exact ends at 0 and 1")
			}
			box := e.Bounds().Grow(1e-9)
			var tight geometry.Box
			for i := range 2001 {
				p := e.At(float64(i) / 2000)
				if !box.Contains(p) {
					t.Fatalf("bounds %v miss %v", box, p)
				}
				if i == 0 {
					tight = geometry.BoxOf(p)
				}
				tight = tight.Expand(p)
			}
			if d := cmp.Diff(tight, e.Bounds(), geomtest.Approx(1e-3)); d != "" {
				t.Errorf("bounds not tight: %s", d)
			}
			for range 20 {
				u := rng.Float64()
				p := e.At(u)
				if d := cmp.Diff(p, e.Reverse().At(1-u), near); d != "" {
					t.Error("reverse", d)
				}
				h := 1e-6
				diff := e.At(u + h).Sub(e.At(u - h)).Unit()
				if name != "folded quad" {
					if d := cmp.Diff(diff, e.Tangent(u), geomtest.Approx(1e-3)); d != "" {
						t.Error("tangent", d)
					}
				}
				q, v := e.Nearest(p)
				if q.Dist(p) > 1e-8 || e.At(v).Dist(p) > 1e-8 {
					t.Errorf("nearest of own point %v at %g: got %v at %g", p, u, q, v)
				}
				head, tail := e.Split(u)
				if head.Start() != e.Start() || tail.End() != e.End() || head.End() != tail.Start() {
					t.Error("split parts do not join")
				}
				if d := cmp.Diff([]float64{e.Length(), geometry.Area(e)}, []float64{head.Length() + tail.Length(), geometry.Area(head, tail)}, near); d != "" {
					t.Errorf("split at %g: %s", u, d)
				}
				w := rng.Float64()
				if d := cmp.Diff(e.At(u*w), head.At(w), near); d != "" {
					t.Error("split head", d)
				}
				tr := geomtest.Transform(rng)
				if d := cmp.Diff(tr.Apply(p), e.Transform(tr).At(u), near); d != "" {
					t.Error("transform", d)
				}
			}
		})
	}
}

func TestNearestAgainstSampling(t *testing.T) {
	const n = 4000
	for name, e := range sampleEdges() {
		rng := geomtest.Rand(3)
		for range 20 {
			p := geomtest.Point(rng, 25)
			best := math.Inf(1)
			for i := range n + 1 {
				best = min(best, p.Dist(e.At(float64(i)/n)))
			}
			got := e.Distance(p)
			if got > best+1e-9 || got < best-2*e.Length()/n {
				t.Errorf("%s: %v: want distance %.9g or a little less, got %.9g", name, p, best, got)
			}
			q, u := e.Nearest(p)
			if e.At(u).Dist(q) > 1e-9 {
				t.Errorf("%s: want the nearest point at its parameter: %v, %v", name, q, e.At(u))
			}
		}
	}
}

func TestQuadLengthLimits(t *testing.T) {
	a, b := pt(-5, 0), pt(5, 0)
	for e := -320; e <= 0; e += 4 {
		y := math.Pow(10, float64(e))
		got := geometry.Quad(a, pt(0, y), b).Length()
		// Half the parabola's height y/2 over the half width 5.
		s := y / 2
		x := 2 * s / 5
		want := 10 * (1 + x*x/6)
		if x > 1e-4 {
			want = 5*math.Sqrt(1+x*x) + 5*math.Asinh(x)/x
		}
		if !geomtest.Close(want, got, 1e-14) {
			t.Errorf("control height 1e%d: want %.16g, got %.16g", e, want, got)
		}
		// The same with the speed uneven along it.
		if got := geometry.Quad(a, pt(2, y), b).Length(); got < 10 || got > 10+2*y {
			t.Errorf("control at (2, 1e%d): want about 10, got %.16g", e, got)
		}
	}
}

func TestIntersectionsAgainstParameters(t *testing.T) {
	found := map[string]int{}
	for rng := range geomtest.Seeds(t, 1000) {
		a, b := geomtest.Edge(rng, 10), geomtest.Edge(rng, 10)
		hits := geometry.Intersect(a, b)
		for _, c := range hits {
			if a.At(c.TA).Dist(c.P) > 3*geometry.Coincident || b.At(c.TB).Dist(c.P) > 3*geometry.Coincident {
				t.Errorf("crossing %v off its edges: %v, %v", c, a.At(c.TA), b.At(c.TB))
			}
		}
		// Second route: sign changes of b's chords against a's.
		want := chordCrossings(a, b, 200)
		if len(want) > len(hits) {
			t.Errorf("%v %v: want at least %d crossings, got %v", a, b, len(want), hits)
		}
		for _, p := range want {
			near := math.Inf(1)
			for _, c := range hits {
				near = min(near, c.P.Dist(p))
			}
			if near > 0.3 {
				t.Errorf("%v %v: crossing near %v not found in %v", a, b, p, hits)
			}
		}
		found[a.Kind().String()+"-"+b.Kind().String()] += len(want)
		if d := cmp.Diff(len(hits), len(geometry.Intersect(b, a))); d != "" {
			t.Errorf("%v %v: not symmetric: %s", a, b, d)
		}
	}
	if len(found) != 9 {
		t.Errorf("want all nine pairs of kinds, got %v", found)
	}
	for pair, n := range found {
		if n < 10 {
			t.Errorf("%s: only %d crossings tried", pair, n)
		}
	}
}

// chordCrossings returns clear crossings of two densely flattened edges.
func chordCrossings(a, b geometry.Edge, n int) []geometry.Point {
	sample := func(e geometry.Edge) []geometry.Point {
		out := make([]geometry.Point, n+1)
		for i := range out {
			out[i] = e.At(float64(i) / float64(n))
		}
		return out
	}
	pa, pb := sample(a), sample(b)
	var out []geometry.Point
	for i := range n {
		box := geometry.BoxOf(pa[i], pa[i+1])
		for j := range n {
			if !box.Overlaps(geometry.BoxOf(pb[j], pb[j+1])) {
				continue
			}
			u, v, w := pa[i+1].Sub(pa[i]), pb[j+1].Sub(pb[j]), pb[j].Sub(pa[i])
			det := u.Cross(v)
			if math.Abs(det) < 0.05*u.Norm()*v.Norm() { // grazing: leave it
				continue
			}
			s, r := w.Cross(v)/det, w.Cross(u)/det
			// Ends of the whole edge are left out: there the chords may meet
			// and the curves just not.
			if s < 0 || s >= 1 || r < 0 || r >= 1 || i == 0 || j == 0 || i == n-1 || j == n-1 {
				continue
			}
			out = append(out, pa[i].Add(u.Scale(s)))
		}
	}
	return out
}

func TestIntersectNamed(t *testing.T) {
	unit := geometry.Arc(pt(1, 0), pt(-1, 0), 1)
	for _, row := range []struct {
		name string
		a, b geometry.Edge
		want []geometry.Point
	}{
		{"crossing lines", geometry.Line(pt(0, 0), pt(2, 2)), geometry.Line(pt(0, 2), pt(2, 0)), []geometry.Point{pt(1, 1)}},
		{"lines apart", geometry.Line(pt(0, 0), pt(1, 1)), geometry.Line(pt(2, 0), pt(3, -1)), nil},
		{"parallel", geometry.Line(pt(0, 0), pt(1, 0)), geometry.Line(pt(0, 1), pt(1, 1)), nil},
		{"overlap", geometry.Line(pt(0, 0), pt(3, 0)), geometry.Line(pt(5, 0), pt(2, 0)), []geometry.Point{pt(2, 0), pt(3, 0)}},
		{"end on middle", geometry.Line(pt(0, 0), pt(3, 0)), geometry.Line(pt(1, 0), pt(1, 5)), []geometry.Point{pt(1, 0)}},
		{"line through arc", unit, geometry.Line(pt(2, 0.6), pt(-2, 0.6)), []geometry.Point{pt(0.8, 0.6), pt(-0.8, 0.6)}},
		{"line touches arc", unit, geometry.Line(pt(2, 1), pt(-2, 1)), []geometry.Point{pt(0, 1)}},
		{"line just over arc", unit, geometry.Line(pt(2, 1+5e-10), pt(-2, 1+5e-10)), []geometry.Point{pt(0, 1)}},
		{"line just under the top of an arc", unit, geometry.Line(pt(2, 1-5e-10), pt(-2, 1-5e-10)), []geometry.Point{pt(0, 1)}},
		{"line just over parabola", geometry.Quad(pt(2, 0), pt(0, 4), pt(-2, 0)), geometry.Line(pt(-3, 2+5e-10), pt(3, 2+5e-10)), []geometry.Point{pt(0, 2)}},
		{"line over arc", unit, geometry.Line(pt(2, 1+1e-6), pt(-2, 1+1e-6)), nil},
		{"arcs touch", unit, geometry.Arc(pt(-1, 2), pt(1, 2), 1), []geometry.Point{pt(0, 1)}},
		{"arcs cross", unit, geometry.Arc(pt(-1, 1.5), pt(1, 1.5), 1), []geometry.Point{pt(math.Sqrt(1-0.5625), 0.75), pt(-math.Sqrt(1-0.5625), 0.75)}},
		{"same circle", unit, geometry.ArcCentre(pt(0, 1), pt(0, -1), pt(0, 0), true), []geometry.Point{pt(0, 1), pt(-1, 0)}},
		{"concentric", unit, geometry.Arc(pt(2, 0), pt(-2, 0), 2), nil},
		{"parabola and line", geometry.Quad(pt(2, 0), pt(0, 4), pt(-2, 0)), geometry.Line(pt(-3, 1.5), pt(3, 1.5)), []geometry.Point{pt(1, 1.5), pt(-1, 1.5)}},
		{"parabola touches line", geometry.Quad(pt(2, 0), pt(0, 4), pt(-2, 0)), geometry.Line(pt(-3, 2), pt(3, 2)), []geometry.Point{pt(0, 2)}},
		{"parabolas cross", geometry.Quad(pt(2, 0), pt(0, 4), pt(-2, 0)), geometry.Quad(pt(2, 2), pt(0, -2), pt(-2, 2)),
			[]geometry.Point{pt(math.Sqrt2, 1), pt(-math.Sqrt2, 1)}},
		{"parabola in disc touches top", geometry.Quad(pt(1, 0), pt(0, 2), pt(-1, 0)), unit, []geometry.Point{pt(1, 0), pt(0, 1), pt(-1, 0)}},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []geometry.Point
			for _, c := range geometry.Intersect(row.a, row.b) {
				got = append(got, c.P)
			}
			if d := cmp.Diff(row.want, got, geomtest.Approx(1e-9)); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestIntersectLine(t *testing.T) {
	for _, row := range []struct {
		name   string
		e      geometry.Edge
		p, dir geometry.Point
		want   []float64
	}{
		{"across", geometry.Line(pt(0, 0), pt(0, 4)), pt(-3, 1), pt(1, 0), []float64{3}},
		{"scaled direction", geometry.Line(pt(0, 0), pt(0, 4)), pt(-3, 1), pt(2, 0), []float64{1.5}},
		{"behind", geometry.Line(pt(0, 0), pt(0, 4)), pt(3, 1), pt(1, 0), []float64{-3}},
		{"beside", geometry.Line(pt(0, 0), pt(0, 4)), pt(3, 5), pt(1, 0), nil},
		{"along", geometry.Line(pt(4, 0), pt(1, 0)), pt(0, 0), pt(1, 0), []float64{1, 4}},
		{"disc", geometry.Arc(pt(0, -5), pt(0, 5), 5), pt(-9, 3), pt(1, 0), []float64{13}},
		{"both sides", geometry.ArcCentre(pt(5, 0), pt(0, -5), pt(0, 0), true), pt(-9, 3), pt(1, 0), []float64{5, 13}},
		{"touch", geometry.Arc(pt(0, -5), pt(0, 5), 5), pt(5, 0), pt(0, 1), []float64{0}},
		{"parabola", geometry.Quad(pt(2, 0), pt(0, 4), pt(-2, 0)), pt(0, 1.5), pt(1, 0), []float64{-1, 1}},
		{"no direction", geometry.Line(pt(0, 0), pt(0, 4)), pt(0, 1), pt(0, 0), nil},
		{"not finite", geometry.Line(pt(0, 0), pt(0, 4)), pt(math.NaN(), 1), pt(1, 0), nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			if d := cmp.Diff(row.want, geometry.IntersectLine(row.e, row.p, row.dir), geomtest.Approx(1e-9)); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestEdgeNumbers(t *testing.T) {
	for _, row := range []struct {
		e    geometry.Edge
		want []float64
	}{
		{geometry.Line(pt(1, 2), pt(3, 4)), []float64{1, 2, 3, 4}},
		{geometry.Arc(pt(1, 2), pt(3, 4), 5), []float64{1, 2, 3, 4, 5}},
		{geometry.Quad(pt(1, 2), pt(5, 6), pt(3, 4)), []float64{1, 2, 5, 6, 3, 4}},
	} {
		if d := cmp.Diff(row.want, row.e.Numbers()); d != "" {
			t.Error(row.e.Kind(), d)
		}
	}
	if c := geometry.Line(pt(0, 0), pt(2, 4)).Control(); c != pt(1, 2) {
		t.Errorf("want mid-chord as the control of a line, got %v", c)
	}
}
