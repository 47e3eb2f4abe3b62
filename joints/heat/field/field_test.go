package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"fay/geometry"
	"fay/joints"
)

// shopTee is a tee as the program meshes it: cut at six thicknesses with fins
// beyond, faying faces as stated (negative conductance: bonded).
func shopTee(tb, ts, leg float64, metal [3]Metal, faces float64) Params {
	p := teeParams(tb, ts, leg, 6*tb, leg+6*ts, metal, 0.25, 0.08)
	p.Regions[0].Cap, p.Regions[1].Cap = tb/4, ts/4
	if faces >= 0 {
		p.Seams = []Seam{{A: 0, B: 1, Conductance: faces}}
	}
	x, y := 6*tb, leg+6*ts
	p.Cuts = []Cut{
		{From: pt(x, -tb), To: pt(x, 0), Region: 0},
		{From: pt(-x, -tb), To: pt(-x, 0), Region: 0},
		{From: pt(0, y), To: pt(-ts, y), Region: 1},
	}
	return p
}

func mustMesh(tb testing.TB, p Params) *Mesh {
	tb.Helper()
	m, err := NewMesh(p)
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

func mustSolve(tb testing.TB, m *Mesh, src Source) *Response {
	tb.Helper()
	r, err := m.Solve(src)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

var midFace = Source{Aim: pt(2.5, 2.5), Spot: 1.5, Speed: 4}

func TestHeatIsConserved(t *testing.T) {
	m := mustMesh(t, shopTee(10, 5, 5, [3]Metal{alu, alu, alu}, 0))
	ahead := []float64{-400, -300}
	r, err := m.solveAt(midFace, ahead, 0)
	if err != nil {
		t.Fatal(err)
	}
	for j := range ahead {
		got := 0.0
		for _, h := range r.HeatPerLength() {
			got += h[j]
		}
		// Far behind the arc a watt leaves 1/v joules per metre.
		if want := 1 / 4e-3; math.Abs(got-want) > 1e-8*want {
			t.Errorf("heat at %v mm: want %v J/m, got %v (%g)", ahead[j], want, got, got/want-1)
		}
	}
}

// TestRoutesAgree solves one metal by wavenumbers as if it were several.
func TestRoutesAgree(t *testing.T) {
	for name, metal := range map[string]Metal{"aluminium": alu, "steel": steel} {
		m := mustMesh(t, shopTee(10, 5, 5, [3]Metal{metal, metal, metal}, 0))
		want := mustSolve(t, m, midFace)
		ahead, logs := m.behind(midFace)
		r, err := newRun(midFace, ahead, logs)
		if err != nil {
			t.Fatal(err)
		}
		b := m.wavenumbers(r)
		got := &Response{mesh: m, b: b, Ahead: ahead, peak: b.peaks(0)}
		worst, top := 0.0, 0.0
		for i := range m.Nodes() {
			top = max(top, want.Peak(i))
			worst = max(worst, math.Abs(got.Peak(i)-want.Peak(i)))
		}
		root, _ := m.Nearest(pt(0, 0), 0)
		t.Logf("%s: worst %.2f %% of the highest peak, root %.2f %%", name, 100*worst/top, 100*(got.Peak(root)/want.Peak(root)-1))
		if worst > 0.01*top {
			t.Errorf("%s: routes differ by %.2f %% of the peak", name, 100*worst/top)
		}
	}
}

// TestFinite: a section that ends everywhere keeps its heat, on both routes.
func TestFiniteSection(t *testing.T) {
	p := teeParams(10, 5, 5, 30, 30, [3]Metal{alu, alu, alu}, 0.4, 0.12)
	m := mustMesh(t, p)
	ahead := []float64{-1000, -800}
	r, err := newRun(midFace, ahead, 0)
	if err != nil {
		t.Fatal(err)
	}
	want := 1 / (4e-3 * 2.7e6 * (600 + 150 + 12.5) * 1e-6)
	for name, b := range map[string]*basis{"pulse": m.productKernel(alu, r), "waves": m.wavenumbers(r)} {
		res := &Response{mesh: m, b: b, Ahead: ahead}
		for j, got := range res.Curve(7) {
			if math.Abs(got-want) > 0.005*want {
				t.Errorf("%s, final rise at %v mm: want %v K/W, got %v", name, ahead[j], want, got)
			}
		}
	}
}

func TestMirrorSymmetry(t *testing.T) {
	p := shopTee(10, 5, 5, [3]Metal{alu, alu, alu}, 0)
	q := shopTee(10, 5, 5, [3]Metal{alu, alu, alu}, 0)
	flip := func(a geometry.Point) geometry.Point { return pt(-a.X, a.Y) }
	for i := range q.Regions {
		for j := range q.Regions[i].Outline {
			q.Regions[i].Outline[j] = flip(q.Regions[i].Outline[j])
		}
	}
	for i := range q.Cuts {
		q.Cuts[i].From, q.Cuts[i].To = flip(q.Cuts[i].From), flip(q.Cuts[i].To)
	}
	for i := range q.Sizing.Focus {
		q.Sizing.Focus[i] = [2]geometry.Point{flip(q.Sizing.Focus[i][0]), flip(q.Sizing.Focus[i][1])}
	}
	a := mustSolve(t, mustMesh(t, p), midFace)
	b := mustSolve(t, mustMesh(t, q), Source{Aim: flip(midFace.Aim), Spot: 1.5, Speed: 4})
	for _, at := range []geometry.Point{pt(0, 0), pt(5, 0), pt(0, 5), pt(1, -10), pt(12, -3)} {
		want, got := a.PeakAt(at), b.PeakAt(flip(at))
		if math.Abs(got-want) > 0.005*want {
			t.Errorf("mirror image of %v: want %v K/W, got %v", at, want, got)
		}
	}
}

// TestEqualButt: the heat of a butt of equal plates splits evenly, and its
// field is even about the joint.
func TestEqualButt(t *testing.T) {
	p := Params{
		Regions: []Region{
			{Outline: []geometry.Point{pt(-36, -6), pt(0, -6), pt(0, 0), pt(-36, 0)}, Metal: alu, Cap: 1.5},
			{Outline: []geometry.Point{pt(0, -6), pt(36, -6), pt(36, 0), pt(0, 0)}, Metal: alu, Cap: 1.5},
		},
		Cuts:   []Cut{{From: pt(-36, -6), To: pt(-36, 0), Region: 0}, {From: pt(36, -6), To: pt(36, 0), Region: 1}},
		Sizing: Sizing{Min: 0.25, Grow: 0.08, Focus: [][2]geometry.Point{{pt(0, 0), pt(0, 0)}}},
	}
	m := mustMesh(t, p)
	r := mustSolve(t, m, Source{Aim: pt(0, 0), Spot: 1.5, Speed: 4})
	heat := r.HeatPerLength()
	for j := range r.Ahead {
		// A node on the joint belongs to both plates, so the halves agree as
		// well as the mesh is even.
		if total := heat[0][j] + heat[1][j]; math.Abs(heat[0][j]-heat[1][j]) > 0.004*total {
			t.Errorf("at %v mm: %v and %v J/m", r.Ahead[j], heat[0][j], heat[1][j])
		}
	}
	for _, at := range []geometry.Point{pt(3, 0), pt(6, -6), pt(20, -3)} {
		if l, q := r.PeakAt(pt(-at.X, at.Y)), r.PeakAt(at); math.Abs(l-q) > 0.01*q {
			t.Errorf("peaks either side at %v: %v and %v", at, l, q)
		}
	}
}

// TestTransfer: the response by reciprocity is the response.
func TestTransfer(t *testing.T) {
	for name, metals := range map[string][3]Metal{"one metal": {alu, alu, alu}, "two metals": {steel, alu, alu}} {
		m := mustMesh(t, shopTee(8, 4, 4, metals, 0))
		var nodes []int
		for _, p := range []geometry.Point{pt(0, 0), pt(4, 0), pt(0, 4)} {
			v, _ := m.Nearest(p, -1)
			nodes = append(nodes, v)
		}
		tr, err := m.NewTransfer(nodes, pt(4, 0), pt(0, 4), 1.5, 4)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []float64{0, 0.3, 0.5, 1} {
			aim := pt(4, 0).Lerp(pt(0, 4), f)
			r := mustSolve(t, m, Source{Aim: aim, Spot: 1.5, Speed: 4})
			got := tr.Rise(aim)
			for k, v := range nodes {
				if want := r.Peak(v); math.Abs(got[k]-want) > 1e-6*want {
					t.Errorf("%s, aim %v, node %d: want %v, got %v", name, f, k, want, got[k])
				}
			}
		}
	}
}

// TestContact: faces that touch lie between open and bonded ones.
func TestContact(t *testing.T) {
	at := func(h float64) float64 {
		m := mustMesh(t, shopTee(10, 5, 5, [3]Metal{alu, alu, alu}, h))
		v, _ := m.Nearest(pt(-5, 0), 1) // the stem's far corner
		return mustSolve(t, m, midFace).Peak(v)
	}
	open, loose, tight, bonded := at(0), at(5e3), at(1e6), at(-1)
	t.Logf("stem corner, K/W: open %.4f, 5 kW/m²K %.4f, 1 MW/m²K %.4f, bonded %.4f", open, loose, tight, bonded)
	if !(open > loose && loose > tight && tight > bonded*0.99) {
		t.Errorf("want open > loose > tight > bonded, got %v %v %v %v", open, loose, tight, bonded)
	}
}

func TestContoursAndAreas(t *testing.T) {
	m := mustMesh(t, shopTee(10, 5, 5, [3]Metal{alu, alu, alu}, -1))
	values := make([]float64, m.Nodes())
	for i := range values {
		values[i] = 3 - m.Node(i).Dist(pt(20, -5))
	}
	lines := m.Contours(values, 0)
	if len(lines) != 1 {
		t.Fatalf("want one circle, got %d lines", len(lines))
	}
	l := lines[0]
	if l[0] != l[len(l)-1] {
		t.Errorf("want a closed line")
	}
	area := 0.0
	for i := range len(l) - 1 {
		area += l[i].Cross(l[i+1]) / 2
	}
	want := math.Pi * 9
	if math.Abs(area-want) > 0.05*want { // positive: the high side is on the left
		t.Errorf("area inside the contour: want %v, got %v", want, area)
	}
	if got := m.AreaAbove(values, 0)[0]; math.Abs(got-area) > 1e-9*want {
		t.Errorf("area above the level: want %v as the contour has it, got %v", area, got)
	}
	far, ok := m.Reach(values, 0, 0, pt(20, 0), pt(1, 0))
	if !ok || math.Abs(far-3) > 0.1 {
		t.Errorf("reach: want 3 mm, got %v", far)
	}
	if _, ok := m.Reach(values, 0, 1, pt(0, 0), pt(0, 1)); ok {
		t.Errorf("reach in the stem: want none")
	}
}

// TestAwkwardOutlines meshes outlines that touch, overlap, leave gaps and end
// in sharp corners.
func TestAwkwardOutlines(t *testing.T) {
	poly := func(v ...float64) []geometry.Point {
		var p []geometry.Point
		for i := 0; i < len(v); i += 2 {
			p = append(p, pt(v[i], v[i+1]))
		}
		return p
	}
	arc := poly(0, 0, 6, 0)
	for i := 1; i < 24; i++ {
		a := math.Pi / 2 * float64(i) / 24
		arc = append(arc, pt(6-6*math.Sin(a)*0.7, 6*(1-math.Cos(a))*0.7+0.3*math.Sin(a)))
	}
	arc = append(arc, pt(0, 6))
	base, stem := poly(-40, -8, 40, -8, 40, 0, -40, 0), poly(-3, 0, 0, 0, 0, 30, -3, 30)
	for name, row := range map[string]struct {
		regions [][]geometry.Point
		area    float64
	}{
		"gap under the stem":       {[][]geometry.Point{base, poly(-3, 0.3, 0, 0.3, 0, 30, -3, 30), poly(0, 0, 5, 0, 0, 5)}, 640 + 89.1 + 12.5},
		"hair gap":                 {[][]geometry.Point{base, poly(-3, 0.002, 0, 0.002, 0, 30, -3, 30), poly(0, 0, 5, 0, 0, 5)}, 640 + 89.994 + 12.5},
		"weld overlaps members":    {[][]geometry.Point{base, stem, poly(-1, -1, 5.5, -0.5, 5, 0, 0, 5, -0.5, 5.5)}, 640 + 90 + 12.5},
		"shallow toe":              {[][]geometry.Point{base, stem, poly(0, 0, 20, 0, 0, 3)}, 640 + 90 + 30},
		"skewed stem":              {[][]geometry.Point{base, poly(0, 0, 15, 26, 11, 28.3, -3.5, 3.2), poly(0, 0, 6, 0, 3, 5.2)}, 0},
		"concave face":             {[][]geometry.Point{base, stem, arc}, 0},
		"same outline twice":       {[][]geometry.Point{base, base}, 640},
		"clockwise":                {[][]geometry.Point{poly(-40, 0, 40, 0, 40, -8, -40, -8)}, 640},
		"needle":                   {[][]geometry.Point{poly(0, 0, 40, 0, 40, 0.5)}, 10},
		"plates that barely touch": {[][]geometry.Point{base, poly(40, -4, 80, -4, 80, 4, 40, 4)}, 640 + 320},
	} {
		t.Run(name, func(t *testing.T) {
			p := Params{Sizing: Sizing{Min: 0.3, Grow: 0.1, Focus: [][2]geometry.Point{{pt(0, 0), pt(0, 0)}}}}
			for _, r := range row.regions {
				p.Regions = append(p.Regions, Region{Outline: r, Metal: steel, Cap: 2})
			}
			m := mustMesh(t, p)
			total := 0.0
			for i := range p.Regions {
				total += m.Area(i)
			}
			if row.area > 0 && math.Abs(total-row.area) > 1e-3*row.area {
				t.Errorf("area: want %v, got %v", row.area, total)
			}
			t.Logf("%d nodes, smallest angle %.2f°", m.Nodes(), m.SmallestAngle().Degrees())
			r := mustSolve(t, m, Source{Aim: pt(1, 1), Spot: 2, Speed: 3})
			for i := range m.Nodes() {
				if x := r.Peak(i); math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
					t.Fatalf("peak of node %d at %v is %v", i, m.Node(i), x)
				}
			}
		})
	}
}

func TestRefusals(t *testing.T) {
	good := shopTee(10, 5, 5, [3]Metal{alu, alu, alu}, 0)
	with := func(f func(p *Params)) Params {
		p := shopTee(10, 5, 5, [3]Metal{alu, alu, alu}, 0)
		f(&p)
		return p
	}
	for name, row := range map[string]struct {
		p     Params
		code  joints.FaultCode
		field string
	}{
		"nothing":        {Params{Sizing: good.Sizing}, joints.FaultMissing, "regions"},
		"not a number":   {with(func(p *Params) { p.Regions[1].Outline[2].X = math.NaN() }), joints.FaultNotNumber, "regions[1].outline[2].x"},
		"infinite":       {with(func(p *Params) { p.Regions[0].Metal.Conductivity = math.Inf(1) }), joints.FaultNotNumber, "regions[0].conductivity"},
		"no size":        {with(func(p *Params) { p.Sizing.Min = 0 }), joints.FaultRange, "sizing.min"},
		"too many nodes": {with(func(p *Params) { p.NodeLimit = 300 }), joints.FaultRange, "sizing"},
		"no such region": {with(func(p *Params) { p.Cuts[0].Region = 9 }), joints.FaultUnknown, "cuts[0].region"},
		"cut in the air": {with(func(p *Params) { p.Cuts[0].From.X, p.Cuts[0].To.X = 99, 99 }), joints.FaultGeometry, "cuts[0]"},
		"seam with self": {with(func(p *Params) { p.Seams[0].B = 0 }), joints.FaultUnknown, "seams[0]"},
		"a point": {with(func(p *Params) {
			p.Regions = []Region{{Outline: make([]geometry.Point, 3), Metal: alu}}
			p.Seams = nil
			p.Cuts = nil
		}), joints.FaultGeometry, "regions"},
		"two corners":     {with(func(p *Params) { p.Regions[2].Outline = p.Regions[2].Outline[:2] }), joints.FaultGeometry, "regions[2].outline"},
		"cuts that touch": {with(func(p *Params) { p.Cuts[1] = p.Cuts[0] }), joints.FaultOverlap, "cuts[1]"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := NewMesh(row.p)
			if !joints.AsFaults(err).Has(row.code, row.field) {
				t.Errorf("want %s at %s, got %v", row.code, row.field, err)
			}
		})
	}
	m := mustMesh(t, good)
	for name, src := range map[string]Source{
		"far away": {Aim: pt(500, 500), Spot: 1.5, Speed: 4},
		"no speed": {Aim: pt(1, 1), Spot: 1.5},
		"no spot":  {Aim: pt(1, 1), Speed: 4, Spot: math.NaN()},
	} {
		if _, err := m.Solve(src); joints.AsFaults(err) == nil {
			t.Errorf("%s: want faults, got %v", name, err)
		}
	}
}

// TestRandomTees: no input in range makes a mesh that solves to nonsense.
func TestRandomTees(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 25 {
		tb, ts := 1+rng.Float64()*19, 1+rng.Float64()*9
		leg := 1 + rng.Float64()*min(tb, ts)
		m, err := NewMesh(shopTee(tb, ts, leg, [3]Metal{alu, alu, alu}, 0))
		if err != nil {
			t.Fatalf("tee %v on %v, leg %v: %v", ts, tb, leg, err)
		}
		if a := m.SmallestAngle().Degrees(); a < 8 {
			t.Errorf("tee %v on %v, leg %v: angle %v°", ts, tb, leg, a)
		}
		if got, want := m.Area(0)+m.Area(1)+m.Area(2), 12*tb*tb+ts*(leg+6*ts)+leg*leg/2; math.Abs(got-want) > 1e-4*want {
			t.Errorf("tee %v on %v, leg %v: area want %v, got %v", ts, tb, leg, want, got)
		}
	}
}
