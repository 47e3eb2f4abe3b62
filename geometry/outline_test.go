package geometry_test

import (
	"errors"
	"math"
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"

	"github.com/google/go-cmp/cmp"
	"github.com/peterstace/simplefeatures/geom"
)

func must(tb testing.TB, edges ...geometry.Edge) geometry.Outline {
	tb.Helper()
	o, err := geometry.NewOutline(edges...)
	if err != nil {
		tb.Fatal(err)
	}
	return o
}

func polygon(tb testing.TB, pts ...geometry.Point) geometry.Outline {
	tb.Helper()
	o, err := geometry.Polygon(pts...)
	if err != nil {
		tb.Fatal(err)
	}
	return o
}

// teeOutline has the three kinds of edge: a convex fillet face, plate sides and
// a parabolic root.
func teeOutline(tb testing.TB) geometry.Outline {
	tb.Helper()
	return must(tb,
		geometry.Line(pt(0, 0), pt(6, 0)),
		geometry.Arc(pt(6, 0), pt(0, 6), 0.8),
		geometry.Line(pt(0, 6), pt(-3, 6)),
		geometry.Line(pt(-3, 6), pt(-3, -4)),
		geometry.Quad(pt(-3, -4), pt(-1, -5), pt(0, -4)),
		geometry.Line(pt(0, -4), pt(0, 0)),
	)
}

func disc(tb testing.TB, c geometry.Point, r float64) geometry.Outline {
	tb.Helper()
	a, b := c.Add(pt(r, 0)), c.Sub(pt(r, 0))
	return must(tb, geometry.Arc(a, b, r), geometry.Arc(b, a, r))
}

func TestDisc(t *testing.T) {
	o := disc(t, pt(3, 4), 2)
	m := o.SecondMoments()
	got := []float64{o.Area(), o.Centroid().X, o.Centroid().Y, m.Ixx, m.Iyy, m.Ixy, o.Perimeter()}
	want := []float64{4 * math.Pi, 3, 4, 4 * math.Pi, 4 * math.Pi, 0, 4 * math.Pi}
	if d := cmp.Diff(want, got, geomtest.Approx(1e-12)); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(geometry.Box{Min: pt(1, 2), Max: pt(5, 6)}, o.Bounds(), geomtest.Approx(1e-14)); d != "" {
		t.Error(d)
	}
}

func TestRectangleMoments(t *testing.T) {
	o := polygon(t, pt(1, 1), pt(5, 1), pt(5, 4), pt(1, 4))
	if d := cmp.Diff(geometry.Moments{Ixx: 4 * 27 / 12.0, Iyy: 3 * 64 / 12.0}, o.SecondMoments(), geomtest.Approx(1e-12)); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(geometry.Moments{Ixx: 4 * (64 - 1) / 3.0, Iyy: 3 * (125 - 1) / 3.0, Ixy: 12 * 3 * 2.5}, o.MomentsAbout(pt(0, 0)), geomtest.Approx(1e-12)); d != "" {
		t.Error(d)
	}
}

// features hands the flattened outline to another library.
func features(t *testing.T, o geometry.Outline, tol float64) geom.Polygon {
	t.Helper()
	pts := o.Flatten(tol)
	var flat []float64
	for _, p := range append(pts, pts[0]) {
		flat = append(flat, p.X, p.Y)
	}
	p := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(flat, geom.DimXY))})
	if err := p.Validate(); err != nil {
		t.Fatalf("accepted outline is not simple: %v", err)
	}
	return p
}

func TestAgainstSimplefeatures(t *testing.T) {
	const tol = 1e-4
	for rng := range geomtest.Seeds(t, 30) {
		o := geomtest.Outline(rng)
		p := features(t, o, tol)
		slack := 2 * tol * o.Perimeter()
		if math.Abs(p.Area()-o.Area()) > slack {
			t.Errorf("want area %.9g, got %.9g", p.Area(), o.Area())
		}
		xy, ok := p.Centroid().XY()
		if !ok || o.Centroid().Dist(pt(xy.X, xy.Y)) > 20*slack/o.Area() {
			t.Errorf("want centroid %v, got %v", xy, o.Centroid())
		}
		if l := p.ForceCCW().ExteriorRing().Length(); math.Abs(l-o.Perimeter()) > 1e-2*o.Perimeter() {
			t.Errorf("want perimeter %g, got %g", l, o.Perimeter())
		}
		for range 40 {
			q := pt(geomtest.Between(rng, o.Bounds().Min.X-1, o.Bounds().Max.X+1), geomtest.Between(rng, o.Bounds().Min.Y-1, o.Bounds().Max.Y+1))
			if o.Distance(q) <= 2*tol {
				continue
			}
			in, err := geom.Contains(p.AsGeometry(), geom.XY{X: q.X, Y: q.Y}.AsPoint().AsGeometry())
			if err != nil {
				t.Fatal(err)
			}
			want := geometry.Outside
			if in {
				want = geometry.Inside
			}
			if got := o.Locate(q); got != want {
				t.Errorf("%v: want %v, got %v", q, want, got)
			}
		}
	}
}

func TestMomentsAgainstChords(t *testing.T) {
	for rng := range geomtest.Seeds(t, 100) {
		o := geomtest.Outline(rng)
		ref := geomtest.Point(rng, 30)
		integral := func(f func(p, q geometry.Point) float64) float64 {
			return richardson(func(n int) float64 {
				sum := 0.0
				for _, e := range o.All() {
					sum += chordSum(e, n, func(p, q geometry.Point) float64 { return f(p.Sub(ref), q.Sub(ref)) })
				}
				return sum
			})
		}
		// Green's theorem over straight chords, by the other of the two
		// forms: ∮ −y³/3 dx and ∮ x³/3 dy instead of triangles to a point.
		want := geometry.Moments{
			Ixx: integral(func(p, q geometry.Point) float64 {
				return -(q.X - p.X) * (p.Y*p.Y*p.Y + p.Y*p.Y*q.Y + p.Y*q.Y*q.Y + q.Y*q.Y*q.Y) / 12
			}),
			Iyy: integral(func(p, q geometry.Point) float64 {
				return (q.Y - p.Y) * (p.X*p.X*p.X + p.X*p.X*q.X + p.X*q.X*q.X + q.X*q.X*q.X) / 12
			}),
			Ixy: integral(func(p, q geometry.Point) float64 {
				return (q.Y - p.Y) * (p.X*p.X*(3*p.Y+q.Y) + 2*p.X*q.X*(p.Y+q.Y) + q.X*q.X*(p.Y+3*q.Y)) / 24
			}),
		}
		if d := cmp.Diff(want, o.MomentsAbout(ref), geomtest.ApproxRel(1e-9)); d != "" {
			t.Error(d)
		}
	}
}

func TestOutlineLaws(t *testing.T) {
	near := geomtest.ApproxRel(1e-9)
	for rng := range geomtest.Seeds(t, 200) {
		o := geomtest.Outline(rng)
		if got := o.Transform(geometry.MirrorX()).Area(); !geomtest.Close(-o.Area(), got, 1e-12) {
			t.Errorf("mirror: want %g, got %g", -o.Area(), got)
		}
		s := geomtest.Between(rng, 0.1, 10)
		if got := o.Transform(geometry.Scale(s)); !geomtest.Close(s*s*o.Area(), got.Area(), 1e-11) || !geomtest.Close(s*o.Perimeter(), got.Perimeter(), 1e-11) {
			t.Errorf("scale %g: area %g to %g", s, o.Area(), got.Area())
		}
		tr := geomtest.Transform(rng)
		moved := o.Transform(tr)
		if d := cmp.Diff(tr.Apply(o.Centroid()), moved.Centroid(), near); d != "" {
			t.Error("centroid moves along", d)
		}
		p := geomtest.Point(rng, 20)
		if o.Locate(p) != moved.Locate(tr.Apply(p)) {
			t.Errorf("%v: location changed by %v", p, tr)
		}
		if want := o.Distance(p) * tr.Factor(); !geomtest.Close(want, moved.Distance(tr.Apply(p)), 1e-9) {
			t.Errorf("%v: want distance %g, got %g", p, want, moved.Distance(tr.Apply(p)))
		}
		if tr.IsMirror() != (moved.Area() < 0) {
			t.Errorf("mirror %v and area %g disagree", tr.IsMirror(), moved.Area())
		}
		back := o.Reverse()
		neg := func(m geometry.Moments) geometry.Moments {
			return geometry.Moments{Ixx: -m.Ixx, Iyy: -m.Iyy, Ixy: -m.Ixy}
		}
		if d := cmp.Diff(neg(o.SecondMoments()), back.SecondMoments(), near); d != "" {
			t.Error("reverse", d)
		}
		if d := cmp.Diff([]any{-o.Area(), o.Centroid()}, []any{back.Area(), back.Centroid()}, near); d != "" {
			t.Error("reverse", d)
		}
		if d := cmp.Diff(o.Area(), back.CCW().Area(), near); d != "" {
			t.Error("ccw", d)
		}
		// Parallel axes.
		c, m, a := o.Centroid(), o.SecondMoments(), o.Area()
		v := c.Sub(p)
		want := geometry.Moments{Ixx: m.Ixx + a*v.Y*v.Y, Iyy: m.Iyy + a*v.X*v.X, Ixy: m.Ixy + a*v.X*v.Y}
		if d := cmp.Diff(want, o.MomentsAbout(p), near); d != "" {
			t.Error("parallel axes", d)
		}
		if m.Ixx <= 0 || m.Iyy <= 0 || m.Ixx*m.Iyy < m.Ixy*m.Ixy {
			t.Errorf("moments not positive: %v", m)
		}
		if got := geometry.Area(o.Edges()...); !geomtest.Close(a, got, 1e-10) {
			t.Errorf("want chain area %g, got %g", a, got)
		}
		if _, err := geometry.NewOutline(moved.Edges()...); err != nil {
			t.Errorf("moved outline refused: %v", err)
		}
	}
}

func TestFarFromOrigin(t *testing.T) {
	o := teeOutline(t)
	far := o.Transform(geometry.Translate(pt(90000, -90000)))
	if !geomtest.Close(o.Area(), far.Area(), 1e-9) {
		t.Errorf("want area %g, got %g", o.Area(), far.Area())
	}
	if d := cmp.Diff(o.SecondMoments(), far.SecondMoments(), geomtest.ApproxRel(1e-8)); d != "" {
		t.Error(d)
	}
}

func TestTransforms(t *testing.T) {
	p := pt(3, 1)
	for _, row := range []struct {
		name string
		t    geometry.Transform
		want geometry.Point
	}{
		{"zero value", geometry.Transform{}, pt(3, 1)},
		{"translate", geometry.Translate(pt(1, 2)), pt(4, 3)},
		{"rotate", geometry.Rotate(90*geometry.Degree, pt(0, 0)), pt(-1, 3)},
		{"rotate about", geometry.Rotate(90*geometry.Degree, pt(3, 0)), pt(2, 0)},
		{"scale", geometry.Scale(2), pt(6, 2)},
		{"mirror x", geometry.MirrorX(), pt(-3, 1)},
		{"mirror y", geometry.MirrorY(), pt(3, -1)},
		{"zero then", geometry.Transform{}.Then(geometry.MirrorY()), pt(3, -1)},
		{"then zero", geometry.MirrorY().Then(geometry.Transform{}), pt(3, -1)},
		{"rotate then mirror", geometry.Rotate(90*geometry.Degree, pt(0, 0)).Then(geometry.MirrorX()), pt(1, 3)},
		{"mirror then rotate", geometry.MirrorX().Then(geometry.Rotate(90*geometry.Degree, pt(0, 0))), pt(-1, -3)},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := row.t.Apply(p); got != row.want {
				t.Errorf("want exactly %v, got %v", row.want, got)
			}
		})
	}
	for rng := range geomtest.Seeds(t, 200) {
		a, b := geomtest.Transform(rng), geomtest.Transform(rng)
		p := geomtest.Point(rng, 10)
		if d := cmp.Diff(b.Apply(a.Apply(p)), a.Then(b).Apply(p), geomtest.ApproxRel(1e-12)); d != "" {
			t.Error(d)
		}
		if a.Then(b).IsMirror() != (a.IsMirror() != b.IsMirror()) || !geomtest.Close(a.Factor()*b.Factor(), a.Then(b).Factor(), 1e-12) {
			t.Error("mirror or factor of a composition")
		}
	}
}

func TestNewOutlineRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	line := geometry.Line
	for _, row := range []struct {
		name  string
		edges []geometry.Edge
		code  geometry.OutlineCode
		edge  int
	}{
		{"nothing", nil, geometry.OutlineTooFew, 0},
		{"one edge", []geometry.Edge{line(pt(0, 0), pt(1, 0))}, geometry.OutlineTooFew, 0},
		{"not a number", []geometry.Edge{line(pt(0, 0), pt(1, 0)), line(pt(1, 0), pt(nan, 1)), line(pt(nan, 1), pt(0, 0))}, geometry.OutlineNotFinite, 1},
		{"infinite", []geometry.Edge{line(pt(0, 0), pt(inf, 0)), line(pt(inf, 0), pt(0, 0))}, geometry.OutlineNotFinite, 0},
		{"sagitta not a number", []geometry.Edge{line(pt(0, 0), pt(1, 0)), geometry.Arc(pt(1, 0), pt(0, 0), nan)}, geometry.OutlineNotFinite, 1},
		{"control infinite", []geometry.Edge{line(pt(0, 0), pt(1, 0)), geometry.Quad(pt(1, 0), pt(0, inf), pt(0, 0))}, geometry.OutlineNotFinite, 1},
		{"too large", []geometry.Edge{line(pt(0, 0), pt(2e5, 0)), line(pt(2e5, 0), pt(0, 5)), line(pt(0, 5), pt(0, 0))}, geometry.OutlineTooLarge, 0},
		{"no length", []geometry.Edge{line(pt(0, 0), pt(1, 0)), line(pt(1, 0), pt(1, 0)), line(pt(1, 0), pt(0, 1)), line(pt(0, 1), pt(0, 0))}, geometry.OutlineZeroLength, 1},
		{"full circle in one arc", []geometry.Edge{geometry.Arc(pt(1, 0), pt(1, 0), 2), line(pt(1, 0), pt(0, 0))}, geometry.OutlineZeroLength, 0},
		{"open", []geometry.Edge{line(pt(0, 0), pt(1, 0)), line(pt(1, 0), pt(0, 1)), line(pt(0, 1.1), pt(0, 0))}, geometry.OutlineOpen, 2},
		{"open at the start", []geometry.Edge{line(pt(0, 0.1), pt(1, 0)), line(pt(1, 0), pt(0, 1)), line(pt(0, 1), pt(0, 0))}, geometry.OutlineOpen, 0},
		{"bow tie", []geometry.Edge{line(pt(0, 0), pt(2, 2)), line(pt(2, 2), pt(2, 0)), line(pt(2, 0), pt(0, 2)), line(pt(0, 2), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"there and back", []geometry.Edge{line(pt(0, 0), pt(2, 2)), line(pt(2, 2), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"spike", []geometry.Edge{line(pt(0, 0), pt(4, 0)), line(pt(4, 0), pt(2, 0)), line(pt(2, 0), pt(1, 3)), line(pt(1, 3), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"vertex on an edge", []geometry.Edge{line(pt(0, 0), pt(4, 0)), line(pt(4, 0), pt(4, 3)), line(pt(4, 3), pt(2, 0)), line(pt(2, 0), pt(0, 3)), line(pt(0, 3), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"arc through the far side", []geometry.Edge{line(pt(0, 0), pt(4, 0)), line(pt(4, 0), pt(4, 1)), geometry.Arc(pt(4, 1), pt(0, 1), -1.5), line(pt(0, 1), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"arc and its reverse", []geometry.Edge{geometry.Arc(pt(0, 0), pt(4, 0), 1), geometry.Arc(pt(4, 0), pt(0, 0), -1)}, geometry.OutlineSelfCrossing, 0},
		{"arc back over arc", []geometry.Edge{geometry.ArcCentre(pt(1, 0), pt(0, 1), pt(0, 0), true), geometry.ArcCentre(pt(0, 1), pt(math.Sqrt(0.5), math.Sqrt(0.5)), pt(0, 0), false), line(pt(math.Sqrt(0.5), math.Sqrt(0.5)), pt(0, 0)), line(pt(0, 0), pt(1, 0))}, geometry.OutlineSelfCrossing, 0},
		{"once round and on", []geometry.Edge{geometry.ArcCentre(pt(1, 0), pt(0, -1), pt(0, 0), true), geometry.ArcCentre(pt(0, -1), pt(0, 1), pt(0, 0), true), line(pt(0, 1), pt(1, 0))}, geometry.OutlineSelfCrossing, 0},
		{"next line cuts the arc", []geometry.Edge{geometry.Arc(pt(0, 0), pt(4, 0), 2), line(pt(4, 0), pt(0, -1)), line(pt(0, -1), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"quad folded on a line", []geometry.Edge{geometry.Quad(pt(0, 0), pt(9, 0), pt(4, 0)), line(pt(4, 0), pt(0, 3)), line(pt(0, 3), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"line cuts its quad", []geometry.Edge{geometry.Quad(pt(0, 0), pt(2, -4), pt(4, 0)), line(pt(4, 0), pt(0, -1)), line(pt(0, -1), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"quad and its reverse", []geometry.Edge{geometry.Quad(pt(0, 0), pt(2, -4), pt(4, 0)), geometry.Quad(pt(4, 0), pt(2, -4), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
		{"quad back over quad", []geometry.Edge{geometry.Quad(pt(0, 0), pt(2, -4), pt(4, 0)), geometry.Quad(pt(4, 0), pt(3, -2), pt(2, -2)), line(pt(2, -2), pt(2, 3)), line(pt(2, 3), pt(0, 0))}, geometry.OutlineSelfCrossing, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := geometry.NewOutline(row.edges...)
			var oe *geometry.OutlineError
			if !errors.As(err, &oe) {
				t.Fatalf("want an OutlineError, got %v", err)
			}
			if oe.Code != row.code || oe.Edge != row.edge {
				t.Errorf("want %s at edge %d, got %v", row.code, row.edge, err)
			}
		})
	}
}

func TestNewOutlineReportsAll(t *testing.T) {
	_, err := geometry.Polygon(pt(0, 0), pt(0, 0), pt(math.NaN(), 0), pt(1e9, 0), pt(0, 1))
	var oe *geometry.OutlineError
	if !errors.As(err, &oe) {
		t.Fatal(err)
	}
	got := []geometry.OutlineCode{oe.Code}
	for _, e := range oe.More {
		got = append(got, e.Code)
	}
	want := []geometry.OutlineCode{geometry.OutlineZeroLength, geometry.OutlineNotFinite, geometry.OutlineNotFinite, geometry.OutlineTooLarge}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if len(oe.Unwrap()) != len(oe.More) || err.Error() == "" {
		t.Error("want every fault to be unwrapped")
	}
}

func TestNewOutlineAccepts(t *testing.T) {
	line := geometry.Line
	r := math.Sqrt(0.5)
	for _, row := range []struct {
		name  string
		edges []geometry.Edge
	}{
		{"tee with three kinds", teeOutline(t).Edges()},
		{"gap within Coincident", []geometry.Edge{line(pt(0, 0), pt(1, 0)), line(pt(1, 5e-10), pt(0, 1)), line(pt(0, 1), pt(0, 0))}},
		{"circle in three arcs", []geometry.Edge{geometry.ArcCentre(pt(1, 0), pt(0, 1), pt(0, 0), true), geometry.ArcCentre(pt(0, 1), pt(-r, -r), pt(0, 0), true), geometry.ArcCentre(pt(-r, -r), pt(1, 0), pt(0, 0), true)}},
		{"lens", []geometry.Edge{geometry.Arc(pt(0, 0), pt(4, 0), 1), geometry.Arc(pt(4, 0), pt(0, 0), 0.5)}},
		{"crescent", []geometry.Edge{geometry.Arc(pt(4, 0), pt(0, 0), 1), geometry.Arc(pt(0, 0), pt(4, 0), -0.5)}},
		{"crescent with tangent tips", []geometry.Edge{geometry.ArcCentre(pt(4, 0), pt(0, 0), pt(2, 0), true), geometry.Arc(pt(0, 0), pt(2, 0), -1), geometry.Arc(pt(2, 0), pt(4, 0), 1)}},
		{"parabola cap", []geometry.Edge{geometry.Quad(pt(5, 0), pt(0, 2), pt(-5, 0)), line(pt(-5, 0), pt(5, 0))}},
		{"two parabolas", []geometry.Edge{geometry.Quad(pt(5, 0), pt(0, 2), pt(-5, 0)), geometry.Quad(pt(-5, 0), pt(0, -1), pt(5, 0))}},
		{"quad tangent to lines", []geometry.Edge{line(pt(0, 0), pt(3, 0)), geometry.Quad(pt(3, 0), pt(4, 0), pt(4, 1)), line(pt(4, 1), pt(4, 3)), line(pt(4, 3), pt(0, 0))}},
		{"quad split in two", []geometry.Edge{geometry.Quad(pt(5, 0), pt(2.5, 1), pt(0, 1)), geometry.Quad(pt(0, 1), pt(-2.5, 1), pt(-5, 0)), line(pt(-5, 0), pt(5, 0))}},
		{"nearly flat cap", []geometry.Edge{geometry.Arc(pt(5, 0), pt(-5, 0), 1e-7), line(pt(-5, 0), pt(-5, -1)), line(pt(-5, -1), pt(5, -1)), line(pt(5, -1), pt(5, 0))}},
		{"thin slot", []geometry.Edge{line(pt(0, 0), pt(9, 0)), line(pt(9, 0), pt(9, 1e-6)), line(pt(9, 1e-6), pt(0, 1e-6)), line(pt(0, 1e-6), pt(0, 0))}},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := must(t, row.edges...)
			for i := range o.Len() {
				if o.Edge(i).End() != o.Edge(i+1).Start() {
					t.Errorf("edge %d does not join the next exactly", i)
				}
			}
			must(t, o.Reverse().Edges()...)
		})
	}
}

// TestTangentRadius joins a radius to flanks it is tangent to, at every angle
// and size: rounding must not show up as a crossing.
func TestTangentRadius(t *testing.T) {
	for rng := range geomtest.Seeds(t, 500) {
		r := math.Pow(10, geomtest.Between(rng, -2, 3))
		half := geometry.Angle(geomtest.Between(rng, 0.1, 1.4)) // half angle between the flanks
		dir := geometry.Angle(geomtest.Between(rng, -math.Pi, math.Pi))
		tip := geomtest.Point(rng, 100)
		u, v := geometry.Polar(1, dir+half), geometry.Polar(1, dir-half)
		reach := r / half.Tan()
		a, b := tip.Add(u.Scale(reach)), tip.Add(v.Scale(reach))
		centre := tip.Add(geometry.Polar(r/half.Sin(), dir))
		far := reach + r
		_, err := geometry.NewOutline(
			geometry.Line(tip.Add(u.Scale(far)), a),
			geometry.ArcCentre(a, b, centre, true),
			geometry.Line(b, tip.Add(v.Scale(far))),
			geometry.Line(tip.Add(v.Scale(far)), tip.Add(u.Scale(far))),
		)
		if err != nil {
			t.Errorf("radius %g, half angle %g°: %v", r, half.Degrees(), err)
		}
	}
}

func TestZeroOutline(t *testing.T) {
	var o geometry.Outline
	if !o.IsZero() || o.Len() != 0 || o.Area() != 0 || o.Perimeter() != 0 || o.Centroid() != pt(0, 0) ||
		o.SecondMoments() != (geometry.Moments{}) || !o.Bounds().Empty() || o.Locate(pt(0, 0)) != geometry.Outside ||
		!math.IsInf(o.Distance(pt(0, 0)), 1) || o.Chords(pt(0, 0), pt(1, 0)) != nil || o.Cut(geometry.HalfPlane{N: pt(1, 0)}) != nil ||
		len(o.Flatten(1)) != 0 || !o.Reverse().IsZero() || !o.Transform(geometry.Scale(2)).IsZero() || o.Edge(3) != (geometry.Edge{}) {
		t.Error("the zero Outline is not empty everywhere")
	}
	if _, err := o.OffsetEdge(0, 1); err == nil {
		t.Error("want no edge to move")
	}
}

func TestLocate(t *testing.T) {
	o := teeOutline(t)
	for _, row := range []struct {
		name string
		p    geometry.Point
		want geometry.Location
	}{
		{"middle", pt(-1, 1), geometry.Inside},
		{"under the arc, over the chord", pt(3.2, 3.2), geometry.Inside},
		{"on the chord", pt(3, 3), geometry.Inside},
		{"over the arc", pt(3.7, 3.7), geometry.Outside},
		{"on the arc", o.Edge(1).At(0.3), geometry.OnBoundary},
		{"under the quad's chord", pt(-1.4, -4.3), geometry.Inside},
		{"below the quad", pt(-1.4, -4.7), geometry.Outside},
		{"vertex", pt(6, 0), geometry.OnBoundary},
		{"on an edge", pt(3, 0), geometry.OnBoundary},
		{"just inside", pt(3, 2e-9), geometry.Inside},
		{"just outside", pt(3, -2e-9), geometry.Outside},
		{"level with a vertex", pt(-9, 0), geometry.Outside},
		{"level inside", pt(-1, 0), geometry.Inside},
		{"far", pt(1e9, 0), geometry.Outside},
		{"not a number", pt(math.NaN(), 0), geometry.Outside},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, o := range []geometry.Outline{o, o.Reverse()} {
				if got := o.Locate(row.p); got != row.want {
					t.Errorf("want %v, got %v", row.want, got)
				}
			}
		})
	}
}

func TestMajorArcHolds(t *testing.T) {
	// A keyhole: nearly a full circle on a narrow chord.
	o := must(t, geometry.Arc(pt(0.1, 0), pt(-0.1, 0), 4), geometry.Line(pt(-0.1, 0), pt(0.1, 0)))
	for _, p := range []geometry.Point{pt(1.5, 2), pt(-1.5, 2), pt(0, 3.9), pt(0, 0.1)} {
		if got := o.Locate(p); got != geometry.Inside {
			t.Errorf("%v: want inside, got %v", p, got)
		}
	}
	if got := o.Locate(pt(1.9, 0.5)); got != geometry.Outside {
		t.Errorf("want outside, got %v", got)
	}
}

func TestIntersectionsOfOutlines(t *testing.T) {
	a, b := disc(t, pt(0, 0), 5), disc(t, pt(6, 0), 5)
	got := a.Intersections(b)
	var pts []geometry.Point
	for _, c := range got {
		pts = append(pts, c.P)
		if a.Edge(c.EdgeA).At(c.TA).Dist(c.P) > 1e-9 || b.Edge(c.EdgeB).At(c.TB).Dist(c.P) > 1e-9 {
			t.Errorf("%v not on its edges", c)
		}
	}
	if d := cmp.Diff([]geometry.Point{pt(3, 4), pt(3, -4)}, pts, geomtest.Approx(1e-9)); d != "" {
		t.Error(d)
	}
	if n := len(a.Intersections(disc(t, pt(20, 0), 5))); n != 0 {
		t.Errorf("want none, got %d", n)
	}
	square := polygon(t, pt(0, 0), pt(2, 0), pt(2, 2), pt(0, 2))
	through := polygon(t, pt(2, 2), pt(4, 0), pt(4, 4))
	if n := len(square.Intersections(through)); n != 1 {
		t.Errorf("want a shared vertex once, got %d", n)
	}
}

func TestFlatten(t *testing.T) {
	for rng := range geomtest.Seeds(t, 40) {
		o := geomtest.Outline(rng)
		for _, tol := range []float64{1, 0.1, 1e-3} {
			pts := o.Flatten(tol)
			for i, p := range pts {
				q := pts[(i+1)%len(pts)]
				for _, u := range []float64{0, 0.25, 0.5, 0.75} {
					if d := o.Distance(p.Lerp(q, u)); d > tol*(1+1e-9)+1e-9 {
						t.Errorf("tol %g: chord %d off by %g", tol, i, d)
					}
				}
			}
		}
	}
	if n := len(disc(t, pt(0, 0), 1000).Flatten(math.NaN())); n > 1<<16 {
		t.Errorf("want a bounded number of points, got %d", n)
	}
}
