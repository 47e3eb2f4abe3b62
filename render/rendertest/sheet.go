package rendertest

import (
	"fmt"

	"fay/geometry"
	"fay/render"
)

// Sheet is an A4 drawing about as full as a traveler: lining, outlines,
// dimensions, tables. Different numbers give different letterings.
func Sheet(number int) *render.Drawing {
	d := &render.Drawing{
		Width: 210, Height: 297,
		Title: fmt.Sprintf("Sheet %d", number), Description: "A sheet of measures.", Language: "en",
		Views: []render.View{{Name: "section", Scale: 5, Origin: pt(60, 200)}},
	}
	s := sampler{d: d}
	for i := range 120 {
		x := 20 + float64(i)
		s.line(render.LayerHatch, "hatch", 0.18, nil, pt(x, 180), pt(x+20, 200))
	}
	for i := range 20 {
		y := 205 + 3*float64(i)
		s.path(render.LayerWeld, "weld", render.Path{
			Edges:  []geometry.Edge{geometry.Line(pt(20, y), pt(60, y)), geometry.Arc(pt(60, y), pt(100, y), 6), geometry.Quad(pt(100, y), pt(130, y+20), pt(160, y))},
			Stroke: &render.Stroke{Width: 0.5, Dash: [][]float64{nil, {6, 1.5}}[i%2]},
		})
	}
	for row := range 30 {
		y := 170 - 5*float64(row)
		s.line(render.LayerFrame, "table", 0.25, nil, pt(20, y-1.2), pt(190, y-1.2))
		for column := range 5 {
			s.text("table", render.Text{
				At: pt(22+34*float64(column), y), Height: 2.5, Face: render.Face(row % 2),
				Content: fmt.Sprintf("%d.%d mm ±0.%d", number%50+row, column, row%10), Halo: float64(column%2) * 0.5,
			})
		}
	}
	return d
}
