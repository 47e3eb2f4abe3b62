package joints_test

import (
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

// preparedButt builds the equal-plate butt joint that a table row describes.
func preparedButt(t *testing.T, c *jointstest.Cell) joints.Weld {
	t.Helper()
	length := func(name string) geometry.Length { return geometry.Length(c.Number(t, name)) }
	bevel, radius := deg(c.Number(t, "bevel_deg")), length("root_radius_mm")
	s := mustButt(t, joints.Butt{
		Left: joints.Plate{Thickness: length("thickness_mm")}, Right: joints.Plate{Thickness: length("thickness_mm")},
		Prep: joints.Prep(c.Text(t, "prep")), RootFace: length("root_face_mm"), RootOpening: length("gap_mm"),
		Flank: joints.Flank{Bevel: [2]geometry.Angle{bevel, bevel}, Radius: [2]geometry.Length{radius, radius}},
		Arrow: &joints.Groove{},
	})
	return s.Welds[0]
}

func TestPublishedExactUAndJ(t *testing.T) {
	for _, c := range jointstest.Published(t, "exact-u-j.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			w := preparedButt(t, &c)
			if c.Column == "area" {
				c.Compare(t, w.GrooveArea)
				c.Compare(t, w.DepositedArea)
			} else {
				c.Compare(t, float64(w.FaceWidth))
			}
		})
	}
}

func TestPublishedTopWidths(t *testing.T) {
	for _, c := range jointstest.Published(t, "groove-top-width.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			w := preparedButt(t, &c)
			c.Compare(t, float64(w.FaceWidth))
		})
	}
}

// Knife-edge V without cap: t·g + t²·tan(α/2).
func TestPublishedSingleV(t *testing.T) {
	for _, c := range jointstest.Published(t, "esab-single-v.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			th, half := c.Number(t, "thickness_mm"), deg(c.Number(t, "angle_deg"))/2
			s := mustButt(t, joints.Butt{Left: plate(th), Right: plate(th), Prep: joints.PrepSingleV,
				RootOpening: geometry.Length(c.Number(t, "gap_mm")), Flank: joints.Flank{Bevel: [2]geometry.Angle{half, half}},
				Arrow: &joints.Groove{}})
			c.Compare(t, s.DepositedArea())
		})
	}
}

// The mass step of the same table: its own volumes times 7.85 g/cm³. No
// formula is given for the volumes, so they are taken as printed.
func TestPublishedSingleVMass(t *testing.T) {
	for _, c := range jointstest.Published(t, "esab-single-v-mass.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			c.Compare(t, c.Number(t, "volume_cm3_per_m")*7.85e-3)
		})
	}
}

// Rectangle, triangle and parabolic cap in kg/m at 0.283 lb/in³.
func TestPublishedElementsPerMetre(t *testing.T) {
	const density = 0.283 * 0.45359237 / (0.0254 * 0.0254 * 0.0254) / 1e6 // kg per m per mm²
	for _, c := range jointstest.Published(t, "esab-elements-kg-m.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			th := c.Number(t, "thickness_mm")
			name, text, _ := strings.Cut(c.Column, " ")
			v, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			square := joints.Butt{Left: plate(th), Right: plate(th), Arrow: &joints.Groove{}}
			var area float64
			switch name {
			case "A":
				square.RootOpening = geometry.Length(v)
				s := mustButt(t, square)
				area = s.DepositedArea()
			case "B":
				s := mustButt(t, joints.Butt{Left: plate(th), Right: plate(th), Prep: joints.PrepSingleBevel,
					Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(v), deg(v)}}, Arrow: &joints.Groove{}})
				area = s.DepositedArea()
			case "C":
				square.RootOpening = geometry.Length(th)
				bare := mustButt(t, square)
				square.Arrow = &joints.Groove{Cap: geometry.Length(v), CapShape: joints.CapParabola}
				capped := mustButt(t, square)
				area = capped.DepositedArea() - bare.DepositedArea()
			default:
				t.Fatalf("column %s", c.Column)
			}
			c.Compare(t, area*density)
		})
	}
}

// Double V and the segments of a single U, g/mm at 7.833 g/cm³. The double V
// rows are a plausibility check only: their caps are fitted, not stated.
func TestPublishedGroovesB202(t *testing.T) {
	const density = 7.833e-3
	for _, c := range jointstest.Published(t, "grooves-b202-g-mm.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			th := c.Number(t, "thickness_mm")
			half := [2]geometry.Angle{deg(30), deg(30)}
			switch c.Column {
			case "g/mm":
				p := joints.Butt{Left: plate(th), Right: plate(th), Prep: joints.PrepDoubleV, RootOpening: 3.175,
					Flank: joints.Flank{Bevel: half}, OtherFlank: joints.Flank{Bevel: half}, Arrow: &joints.Groove{}, Other: &joints.Groove{}}
				s := mustButt(t, p)
				rise := 0.17 * s.Welds[0].FaceWidth
				p.Arrow = &joints.Groove{Cap: rise, CapShape: joints.CapParabola}
				p.Other = p.Arrow
				s = mustButt(t, p)
				c.Compare(t, s.DepositedArea()*density)
			case "A cap":
				p := joints.Butt{Left: plate(th), Right: plate(th), RootOpening: 25, Arrow: &joints.Groove{CapLap: (28.575 - 25) / 2, Cap: 3.175, CapShape: joints.CapParabola}}
				s := mustButt(t, p)
				c.Compare(t, (s.DepositedArea()-25*th)*density)
			case "B triangles":
				s := mustButt(t, joints.Butt{Left: plate(25.4), Right: plate(25.4), Prep: joints.PrepSingleV,
					Flank: joints.Flank{Bevel: [2]geometry.Angle{deg(7), deg(7)}}, Arrow: &joints.Groove{}})
				c.Compare(t, s.DepositedArea()*density)
			case "C rectangle":
				s := mustButt(t, joints.Butt{Left: plate(25.4), Right: plate(25.4), RootOpening: 12.7, Arrow: &joints.Groove{}})
				c.Compare(t, s.DepositedArea()*density)
			default:
				t.Fatalf("column %s", c.Column)
			}
		})
	}
}
