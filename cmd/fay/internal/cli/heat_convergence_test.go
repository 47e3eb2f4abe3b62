package cli

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints/heat"
	"fay/render"
	"fay/render/plot"
	"fay/render/rendertest"
)

// fineDetail is the mesh that the others are held to, near the most nodes that
// are taken.
const fineDetail = 2.6

// leastShown is where the diagram ends, %: less than the finest mesh is good for.
const leastShown = 0.02

// meshError is how far the places of a mesh are off.
type meshError struct {
	nodes int
	rise  []float64 // of each place, as a part of that of the finest mesh
}

// convergence solves the tee of 10 and 5 mm on coarser and finer meshes.
func convergence(t *testing.T, metal string) (names []string, rows []meshError, finest int) {
	t.Helper()
	h := heatOf(t, "tee", "base=10", "stem=5", "leg=5", "speed=240", "material="+metal)
	solve := func(detail float64) *heat.Field {
		params := h.params
		params.Detail = detail
		f, err := heat.NewField(h.in, params)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	fine := solve(fineDetail)
	var places []int
	for i := range fine.Points {
		// Touching faces give both roots one place.
		if i > 0 && fine.Points[i].Rise == fine.Points[i-1].Rise {
			continue
		}
		places, names = append(places, i), append(names, strings.Replace(fine.Points[i].Name, "base root", "root", 1))
	}
	for _, detail := range []float64{0.3, 0.42, 0.6, 0.8, 1, 1.4, 1.9} {
		f := solve(detail)
		row := meshError{nodes: f.Nodes()}
		for _, i := range places {
			row.rise = append(row.rise, math.Abs(f.Points[i].Rise/fine.Points[i].Rise-1))
		}
		rows = append(rows, row)
	}
	return names, rows, fine.Nodes()
}

// TestMeshConvergence solves the same joint on finer and finer meshes: what is
// off falls as the nodes grow, and is small on the mesh that is used. The
// diagram of it stands in the documents; -update draws it anew.
func TestMeshConvergence(t *testing.T) {
	for _, metal := range []string{"6082", "S355"} {
		names, rows, finest := convergence(t, metal)
		worst := func(r meshError) float64 {
			most := 0.
			for _, v := range r.rise {
				most = math.Max(most, v)
			}
			return most
		}
		first, last := rows[0], rows[len(rows)-1]
		for _, r := range rows {
			t.Logf("%s: %5d nodes, worst place off by %.3f %%: %.3v", metal, r.nodes, 100*worst(r), r.rise)
		}
		// A mesh of sides h is off by h², and has 1/h² nodes.
		order := math.Log(worst(first)/worst(last)) / math.Log(float64(last.nodes)/float64(first.nodes))
		if order < 0.7 {
			t.Errorf("%s: the error falls with the power %.2f of the nodes only", metal, order)
		}
		const used = 4 // detail 1
		if off := worst(rows[used]); off > 0.006 {
			t.Errorf("%s: %.2f %% off on the mesh that is used", metal, 100*off)
		}
		d := convergenceDiagram(t, metal, names, rows, finest)
		for _, v := range rendertest.Lint(d) {
			t.Errorf("%s: %v", metal, v)
		}
		goldenPicture(t, filepath.Join(heatFolder, "convergence-"+strings.ToLower(metal)+".png"), d)
	}
}

// convergenceDiagram draws errors over nodes, both as powers of ten.
func convergenceDiagram(t *testing.T, metal string, names []string, rows []meshError, finest int) *render.Drawing {
	t.Helper()
	style := render.ISO()
	l := plot.Lines{
		Sheet: plot.Sheet{
			Title: "Mesh convergence, tee of 10 and 5 mm in " + metal,
			Subtitle: fmt.Sprintf("highest temperature as the arc passes, at 240 mm/min, against a mesh of %d nodes; %d nodes are used",
				finest, rows[4].nodes),
			Notes: []string{"Solved by the conduction in the section that fay heat uses; detail 0.3 to 1.9. The line of second order falls as 1/nodes."},
		},
		X: plot.Axis{Label: "nodes of the mesh", Min: math.Log10(450), Max: math.Log10(6000)},
		Y: plot.Axis{Label: "off", Unit: "%", Min: math.Log10(leastShown), Max: math.Log10(5)},
	}
	for _, n := range []float64{500, 700, 1000, 1500, 2000, 3000, 5000} {
		l.X.Ticks = append(l.X.Ticks, plot.Tick{At: math.Log10(n), Label: fmt.Sprint(n)})
	}
	for _, off := range []float64{0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5} {
		l.Y.Ticks = append(l.Y.Ticks, plot.Tick{At: math.Log10(off), Label: style.Numbers.Number(off, 2)})
	}
	for k, name := range names {
		c := plot.Curve{Label: name}
		for _, r := range rows {
			c.Points = append(c.Points, geometry.Point{X: math.Log10(float64(r.nodes)), Y: math.Log10(math.Max(100*r.rise[k], leastShown))})
		}
		l.Curves = append(l.Curves, c)
	}
	second := plot.Curve{Label: "second order"}
	for _, r := range []meshError{rows[0], rows[len(rows)-1]} {
		second.Points = append(second.Points, geometry.Point{X: math.Log10(float64(r.nodes)), Y: math.Log10(1000 / float64(r.nodes))})
	}
	l.Curves = append(l.Curves, second)
	d, err := l.Draw(&style, plot.A4)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
