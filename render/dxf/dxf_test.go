package dxf

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"
	"fay/render"
	"fay/render/rendertest"

	"github.com/google/go-cmp/cmp"
)

func pt(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }

func write(tb testing.TB, d *render.Drawing, o Options) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, d, o); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// group is a code and its value as read back.
type group struct {
	code  int
	value string
}

// record is what stands between two groups of code 0.
type record struct {
	kind   string
	groups []group
}

func (r *record) text(code int) string {
	for _, g := range r.groups {
		if g.code == code {
			return g.value
		}
	}
	return ""
}

func (r *record) number(tb testing.TB, code int) float64 {
	tb.Helper()
	v, err := strconv.ParseFloat(r.text(code), 64)
	if err != nil {
		tb.Fatalf("%s: group %d: %v", r.kind, code, err)
	}
	return v
}

func (r *record) point(tb testing.TB, code int) geometry.Point {
	tb.Helper()
	return pt(r.number(tb, code), r.number(tb, code+10))
}

// read reads a file by its groups, strictly: codes right-justified in three
// places, values of the type their code asks for, lines ended alike, pure
// ASCII, sections and tables opened and closed, counts of entries as said.
func read(tb testing.TB, data []byte) map[string][]record {
	tb.Helper()
	for i, c := range data {
		if c > 0x7E || c < ' ' && c != '\r' && c != '\n' {
			tb.Fatalf("byte %d is %#x", i, c)
		}
	}
	lines := strings.Split(string(data), "\r\n")
	if lines[len(lines)-1] != "" || len(lines)%2 != 1 {
		tb.Fatalf("%d lines, the last one %q", len(lines), lines[len(lines)-1])
	}
	var groups []group
	for i := 0; i+1 < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimLeft(lines[i], " "))
		if err != nil || len(lines[i]) != 3 {
			tb.Fatalf("line %d: code %q", i+1, lines[i])
		}
		value := lines[i+1]
		switch {
		case code >= 10 && code < 60:
			if _, err := strconv.ParseFloat(value, 64); err != nil || !strings.Contains(value, ".") || value == "-0.0" {
				tb.Fatalf("line %d: %d wants a real number, got %q", i+2, code, value)
			}
		case code >= 60 && code < 80:
			if _, err := strconv.ParseInt(value, 10, 16); err != nil {
				tb.Fatalf("line %d: %d wants a whole number, got %q", i+2, code, value)
			}
		case len(value) > 255 || strings.ContainsAny(value, "\r\n"):
			tb.Fatalf("line %d: %d bytes of text", i+2, len(value))
		}
		if code != 999 {
			groups = append(groups, group{code, value})
		}
	}
	return sections(tb, groups)
}

func sections(tb testing.TB, groups []group) map[string][]record {
	tb.Helper()
	out := map[string][]record{}
	var records []record
	for _, g := range groups {
		if g.code == 0 {
			records = append(records, record{kind: g.value})
			continue
		}
		r := &records[len(records)-1]
		r.groups = append(r.groups, g)
	}
	section, table, want, have := "", "", 0, 0
	for i, r := range records {
		switch r.kind {
		case "SECTION":
			if section != "" {
				tb.Fatalf("section inside %s", section)
			}
			section = r.text(2)
			out[section] = []record{r}
		case "ENDSEC":
			section = ""
		case "TABLE":
			table, want, have = r.text(2), int(r.number(tb, 70)), 0
		case "ENDTAB":
			if have != want {
				tb.Errorf("table %s says %d, has %d", table, want, have)
			}
			table = ""
		case "EOF":
			if i != len(records)-1 || section != "" {
				tb.Error("the file goes on after its end, or a section does")
			}
		default:
			if section == "TABLES" {
				if r.kind != table {
					tb.Errorf("%s in table %s", r.kind, table)
				}
				have++
			}
			out[section] = append(out[section], r)
		}
	}
	if records[len(records)-1].kind != "EOF" {
		tb.Error("no end of the file")
	}
	return out
}

// names gives the entries of a table.
func names(file map[string][]record, table string) map[string]bool {
	out := map[string]bool{}
	for _, r := range file["TABLES"] {
		if r.kind == table {
			out[r.text(2)] = true
		}
	}
	return out
}

// sound checks what every file must hold to: layers, line types and styles are
// in the tables, polylines end.
func sound(tb testing.TB, data []byte) map[string][]record {
	tb.Helper()
	file := read(tb, data)
	layers, types := names(file, "LAYER"), names(file, "LTYPE")
	open := false
	for _, r := range file["ENTITIES"][1:] {
		if !layers[r.text(8)] {
			tb.Errorf("%s on layer %q, which is not listed", r.kind, r.text(8))
		}
		if name := r.text(6); name != "" && !types[name] {
			tb.Errorf("%s of line type %q, which is not listed", r.kind, name)
		}
		switch r.kind {
		case "POLYLINE":
			open = true
		case "SEQEND":
			open = false
		default:
			if open != (r.kind == "VERTEX") {
				tb.Errorf("%s, inside a polyline: %v", r.kind, open)
			}
		}
	}
	return file
}

func TestSample(t *testing.T) {
	for _, test := range []struct {
		name string
		o    Options
	}{
		{"sample.dxf", Options{}},
		{"sample-sheet.dxf", Options{Sheet: true, Notes: []string{"Geometry only: the local code decides.", "⌀ 6 ±0.5"}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			out := write(t, rendertest.Sample(), test.o)
			rendertest.Golden(t, test.name, out)
			sound(t, out)
		})
	}
}

func TestReproducible(t *testing.T) {
	rendertest.Reproducible(t, func(w io.Writer) error { return Write(w, rendertest.Sample(), Options{Sheet: true}) })
}

// pathAt is a drawing of one path in a view.
func pathAt(scale float64, origin geometry.Point, p render.Path) *render.Drawing {
	return &render.Drawing{
		Width: 100, Height: 50, Views: []render.View{{Name: "section", Scale: scale, Origin: origin}},
		Items: []render.Item{{Layer: render.LayerWeld, Path: &p}},
	}
}

// brief spells the entities of a file on one line.
func brief(tb testing.TB, data []byte) string {
	tb.Helper()
	var parts []string
	for _, r := range sound(tb, data)["ENTITIES"][1:] {
		s := r.kind
		for _, g := range r.groups {
			switch {
			case g.code == 8, g.code >= 30 && g.code < 40, g.code == 66:
			case g.code == 6, g.code >= 50 && g.code < 52, g.code == 70:
				s += " (" + g.value + ")"
			default:
				s += " " + g.value
			}
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ")
}

func TestEntities(t *testing.T) {
	pen := &render.Stroke{Width: 1}
	white := &render.Ink{R: 255, G: 255, B: 255}
	corner := []geometry.Edge{geometry.Line(pt(10, 10), pt(20, 10)), geometry.Line(pt(20, 10), pt(10, 20)), geometry.Line(pt(10, 20), pt(10, 10))}
	for _, test := range []struct {
		name string
		path render.Path
		want string
	}{
		{"line at 2:1 about the origin of the view", render.Path{Stroke: pen, Edges: corner[:1]}, "LINE 0.0 0.0 5.0 0.0"},
		{"arc to the left", render.Path{Stroke: pen, Edges: []geometry.Edge{geometry.ArcCentre(pt(20, 10), pt(10, 20), pt(10, 10), true)}}, "ARC 0.0 0.0 5.0 (0.0) (90.0)"},
		{"the same arc drawn to the right", render.Path{Stroke: pen, Edges: []geometry.Edge{geometry.ArcCentre(pt(10, 20), pt(20, 10), pt(10, 10), false)}}, "ARC 0.0 0.0 5.0 (0.0) (90.0)"},
		{"mirrored arc", render.Path{Stroke: pen, Edges: []geometry.Edge{geometry.ArcCentre(pt(0, 10), pt(10, 20), pt(10, 10), false)}}, "ARC 0.0 0.0 5.0 (90.0) (180.0)"},
		{"major arc", render.Path{Stroke: pen, Edges: []geometry.Edge{geometry.ArcCentre(pt(20, 10), pt(10, 20), pt(10, 10), false)}}, "ARC 0.0 0.0 5.0 (90.0) (0.0)"},
		{"two half turns are a circle", render.Path{Stroke: pen, Closed: true, Edges: render.Circle(pt(30, 10), 4)}, "CIRCLE 10.0 0.0 2.0"},
		{"filled circle", render.Path{Fill: &render.Ink{R: 9}, Closed: true, Edges: render.Circle(pt(30, 10), 4)}, "CIRCLE 10.0 0.0 2.0"},
		{"two half turns that are no circle", render.Path{Stroke: pen, Edges: []geometry.Edge{geometry.Arc(pt(10, 10), pt(20, 10), 5), geometry.Arc(pt(20, 10), pt(10, 10), -5)}}, "ARC 2.5 0.0 2.5 (180.0) (0.0); ARC 2.5 0.0 2.5 (180.0) (0.0)"},
		{"nearly flat arc is a bulge", render.Path{Stroke: pen, Edges: []geometry.Edge{geometry.Arc(pt(10, 10), pt(50, 10), 0.0001)}}, "POLYLINE 0.0 0.0 (0); VERTEX 0.0 0.0 0.000005; VERTEX 20.0 0.0; SEQEND"},
		{"closed path of a pen closes", render.Path{Stroke: pen, Closed: true, Edges: corner[:2]}, "LINE 0.0 0.0 5.0 0.0; LINE 5.0 0.0 0.0 5.0; LINE 0.0 5.0 0.0 0.0"},
		{"tint is one closed polyline, its arc a bulge", render.Path{Fill: &render.Ink{R: 200}, Closed: true, Edges: []geometry.Edge{corner[0], geometry.Arc(pt(20, 10), pt(10, 10), 5)}}, "POLYLINE 0.0 0.0 (1); VERTEX 0.0 0.0; VERTEX 5.0 0.0 1.0; SEQEND"},
		{"black triangle is an arrowhead", render.Path{Fill: &render.Black, Closed: true, Edges: corner}, "SOLID 0.0 0.0 5.0 0.0 0.0 5.0 0.0 5.0"},
		{"tinted triangle is an area", render.Path{Fill: &render.Ink{R: 200}, Closed: true, Edges: corner}, "POLYLINE 0.0 0.0 (1); VERTEX 0.0 0.0; VERTEX 5.0 0.0; VERTEX 0.0 5.0; SEQEND"},
		{"dashes in model size", render.Path{Stroke: &render.Stroke{Width: 1, Dash: []float64{3, 1}}, Edges: corner[:1]}, "LINE (DASHED-1) 0.0 0.0 5.0 0.0"},
		{"gapless dashes are a line", render.Path{Stroke: &render.Stroke{Width: 1, Dash: []float64{3, 0}}, Edges: corner[:1]}, "LINE 0.0 0.0 5.0 0.0"},
		{"white under the outline", render.Path{Stroke: pen, Fill: white, Edges: corner[:1]}, "LINE 0.0 0.0 5.0 0.0"},
		{"two contours", render.Path{Stroke: pen, Edges: []geometry.Edge{corner[0], geometry.Line(pt(30, 10), pt(40, 10))}}, "LINE 0.0 0.0 5.0 0.0; LINE 10.0 0.0 15.0 0.0"},
		{"edge of no length", render.Path{Stroke: pen, Edges: []geometry.Edge{geometry.Line(pt(10, 10), pt(10, 10)), corner[0]}}, "LINE 0.0 0.0 5.0 0.0"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if d := cmp.Diff(test.want, brief(t, write(t, pathAt(2, pt(10, 10), test.path), Options{}))); d != "" {
				t.Error(d)
			}
		})
	}
}

// TestCurvesKeepTheTolerance holds the vertices of flattened curves, and the
// middles between them, against the curve.
func TestCurvesKeepTheTolerance(t *testing.T) {
	rng := geomtest.Rand(7)
	for range 200 {
		p := func() geometry.Point { return pt(200*rng.Float64(), 200*rng.Float64()) }
		a, b := geometry.Quad(p(), p(), p()), p()
		q := geometry.Quad(a.End(), p(), b)
		d := pathAt(5, pt(3, 4), render.Path{Stroke: &render.Stroke{Width: 1}, Edges: []geometry.Edge{a, q}})
		file := sound(t, write(t, d, Options{}))
		var points []geometry.Point
		count := 0
		for _, r := range file["ENTITIES"][1:] {
			switch r.kind {
			case "POLYLINE":
				count++
			case "VERTEX":
				points = append(points, r.point(t, 10))
			}
		}
		if count != 1 {
			t.Fatalf("want the chain in one polyline, got %d", count)
		}
		at := place{scale: 5, origin: pt(3, 4)}
		m, n := at.edge(a), at.edge(q)
		for i := 1; i < len(points); i++ {
			mid := points[i].Lerp(points[i-1], 0.5)
			if off := math.Min(m.Distance(mid), n.Distance(mid)); off > FlattenTolerance*1.001 {
				t.Fatalf("%v: off by %g mm", m, off)
			}
		}
		if points[0].Dist(m.Start()) > 1e-8 || points[len(points)-1].Dist(n.End()) > 1e-8 {
			t.Errorf("ends %v and %v", points[0], points[len(points)-1])
		}
	}
}

func TestViewsStandSideBySide(t *testing.T) {
	d := &render.Drawing{Width: 200, Height: 200}
	for i, scale := range []float64{1, 5, 10} {
		d.Views = append(d.Views, render.View{Name: "view " + strconv.Itoa(i), Scale: scale, Origin: pt(50, 50+float64(i))})
		d.Items = append(d.Items,
			render.Item{Layer: render.LayerMember, View: i, Path: &render.Path{Stroke: &render.Stroke{Width: 1}, Edges: render.Circle(pt(50, 50+float64(i)), 20)}},
			render.Item{Layer: render.LayerText, View: i, Role: "title", Text: &render.Text{At: pt(50, 75), Height: 5, Align: render.AlignCentre, Content: "A (9:1)"}})
	}
	d.Items = append(d.Items, render.Item{Layer: render.LayerFrame, View: render.NoView, Path: &render.Path{Stroke: &render.Stroke{Width: 1}, Edges: []geometry.Edge{geometry.Line(pt(0, 0), pt(200, 0))}}})
	for _, sheet := range []bool{false, true} {
		right := math.Inf(-1)
		if sheet {
			right = 150 // the sheet, counted from the origin of the first view
		}
		var titles []string
		for i, r := range sound(t, write(t, d, Options{Sheet: sheet}))["ENTITIES"][1:] {
			switch r.kind {
			case "CIRCLE":
				c, radius := r.point(t, 10), r.number(t, 40)
				if want := 20 / d.Views[i].Scale; math.Abs(radius-want) > 1e-9 {
					t.Errorf("view %d: want radius %g, got %g", i, want, radius)
				}
				if c.Y != 0 || c.X != math.Trunc(c.X) || i == 0 && c.X != 0 {
					t.Errorf("view %d: origin at %v", i, c)
				}
				if i > 0 && c.X-radius < right+gutter-1e-9 {
					t.Errorf("view %d begins at %g, the one before ends at %g", i, c.X-radius, right)
				}
				right = math.Max(right, c.X+radius)
			case "TEXT":
				titles = append(titles, r.text(1))
			}
		}
		if diff := cmp.Diff([]string{"view 0", "view 1", "view 2"}, titles); diff != "" {
			t.Error(diff)
		}
	}
}

func TestLineTypes(t *testing.T) {
	d := pathAt(1, pt(0, 0), render.Path{})
	d.Views = append(d.Views, render.View{Scale: 2})
	d.Items = nil
	for i, dash := range [][]float64{{4, 1}, {6, 1, 0, 1}, {4, 1}, {3}} {
		for view := range 2 {
			d.Items = append(d.Items, render.Item{Layer: render.LayerFusion, View: view, Path: &render.Path{
				Stroke: &render.Stroke{Width: 1, Dash: dash}, Edges: []geometry.Edge{geometry.Line(pt(0, float64(i)), pt(9, float64(i)))}}})
		}
	}
	var got []string
	for _, r := range sound(t, write(t, d, Options{}))["TABLES"] {
		if r.kind == "LTYPE" {
			s := r.text(2)
			for _, g := range r.groups {
				if g.code == 3 || g.code == 40 || g.code == 49 {
					s += " | " + g.value
				}
			}
			got = append(got, s)
		}
	}
	want := []string{
		"CONTINUOUS | Solid line | 0.0",
		"DASHED-1 | __ __ __ | 5.0 | 4.0 | -1.0",
		"DASHED-2 | __ __ __ | 2.5 | 2.0 | -0.5",
		"CHAIN-3 | __ . __ . __ . | 8.0 | 6.0 | -1.0 | 0.0 | -1.0",
		"CHAIN-4 | __ . __ . __ . | 4.0 | 3.0 | -0.5 | 0.0 | -0.5",
		"DASHED-5 | __ __ __ | 6.0 | 3.0 | -3.0",
		"DASHED-6 | __ __ __ | 3.0 | 1.5 | -1.5",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestFaults(t *testing.T) {
	line := render.Path{Stroke: &render.Stroke{Width: 1}, Edges: []geometry.Edge{geometry.Line(pt(0, 0), pt(1, 0))}}
	sheetOnly := pathAt(1, pt(0, 0), line)
	sheetOnly.Items[0].View = render.NoView
	invisible := pathAt(1, pt(0, 0), render.Path{Edges: line.Edges})
	for _, test := range []struct {
		name string
		d    *render.Drawing
		want render.FaultCode // empty: ErrEmpty
	}{
		{"faulty sheet", &render.Drawing{Width: -1, Height: 10}, render.FaultSize},
		{"scale too small for the digits", pathAt(1e-4, pt(0, 0), line), render.FaultScale},
		{"scale too large", pathAt(1e4, pt(0, 0), line), render.FaultScale},
		{"nothing in a view", sheetOnly, ""},
		{"nothing to see", invisible, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			var b bytes.Buffer
			err := Write(&b, test.d, Options{})
			var code render.FaultCode
			if fault, ok := errors.AsType[*render.Fault](err); ok {
				code = fault.Code
			} else if !errors.Is(err, ErrEmpty) {
				t.Errorf("want ErrEmpty, got %v", err)
			}
			if code != test.want || b.Len() != 0 {
				t.Errorf("want %q and no bytes, got %v and %d bytes", test.want, err, b.Len())
			}
		})
	}
	if err := Write(io.Discard, sheetOnly, Options{Sheet: true}); err != nil {
		t.Error(err)
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestWriterError(t *testing.T) {
	if err := Write(broken{}, rendertest.Sample(), Options{}); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("got %v", err)
	}
}

func BenchmarkSheet(b *testing.B) {
	for _, bench := range []struct {
		name string
		o    Options
	}{{"views", Options{}}, {"whole sheet", Options{Sheet: true}}} {
		b.Run(bench.name, func(b *testing.B) {
			d := rendertest.Sheet(1)
			b.ReportAllocs()
			for b.Loop() {
				if err := Write(io.Discard, d, bench.o); err != nil {
					b.Fatal(err)
				}
			}
			b.SetBytes(int64(len(write(b, d, bench.o))))
		})
	}
}
