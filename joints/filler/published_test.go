package filler_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints/filler"
	"fay/joints/jointstest"
)

// The tables below are in inches and pounds; fay works in mm and kg. Both
// factors are exact (international yard and pound agreement, 1959).
const (
	inch  = 25.4
	pound = 0.45359237 // kg
	// poundPerIn3 is 1 lb/in³ in g/cm³.
	poundPerIn3 = 1000 * pound / 16.387064
	// poundPerFoot is 1 lb/ft in kg/m.
	poundPerFoot = pound / 0.3048
)

// each runs f as one named test per published value.
func each(t *testing.T, file string, f func(t *testing.T, c *jointstest.Cell)) {
	t.Helper()
	for _, c := range jointstest.Published(t, file) {
		t.Run(c.Name(), func(t *testing.T) { f(t, &c) })
	}
}

func mustNew(tb testing.TB, p filler.Params) filler.Filler {
	tb.Helper()
	f, err := filler.New(p)
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

// area is the area of an outline made of the edges, in mm².
func area(tb testing.TB, edges ...geometry.Edge) float64 {
	tb.Helper()
	o, err := geometry.NewOutline(edges...)
	if err != nil {
		tb.Fatal(err)
	}
	return o.Area()
}

func polygon(tb testing.TB, points ...geometry.Point) float64 {
	tb.Helper()
	o, err := geometry.Polygon(points...)
	if err != nil {
		tb.Fatal(err)
	}
	return o.Area()
}

// rightTriangle has its right angle at the origin, as a flat fillet has.
func rightTriangle(tb testing.TB, width, height float64) float64 {
	tb.Helper()
	return polygon(tb, geometry.Point{}, geometry.Point{X: width}, geometry.Point{Y: height})
}

// A: rectangle of thickness by root opening; B: right triangle of thickness
// and angle; C: parabolic cap of width and height, the shape this table uses.
func TestESABElements(t *testing.T) {
	each(t, "esab-elements-lb-ft.csv", func(t *testing.T, c *jointstest.Cell) {
		t.Helper()
		thickness := inch * fraction(t, c.Row)
		kind, text, _ := strings.Cut(c.Column, " ")
		var a float64
		switch size := fraction(t, strings.TrimSuffix(text, "°")); kind {
		case "A":
			gap := inch * size
			a = polygon(t, geometry.Point{}, geometry.Point{X: gap}, geometry.Point{X: gap, Y: thickness}, geometry.Point{Y: thickness})
		case "B":
			a = rightTriangle(t, thickness*(geometry.Angle(size)*geometry.Degree).Tan(), thickness)
		case "C":
			left, right := geometry.Point{X: -thickness / 2}, geometry.Point{X: thickness / 2}
			a = area(t, geometry.Line(left, right), geometry.Quad(right, geometry.Point{Y: 2 * inch * size}, left))
		default:
			t.Fatalf("column %s", c.Column)
		}
		f := mustNew(t, filler.Params{DepositedArea: a, Efficiency: 1, Density: 0.283 * poundPerIn3})
		c.Compare(t, *f.DepositedKgPerM/poundPerFoot)
	})
}

// The table's own allowance of 1.2 on the area and its efficiencies; what is
// printed is rounded up to 0.01 kg/m.
func TestKobeFillets(t *testing.T) {
	const reinforcement = 1.2
	each(t, "kobe-fillets-kg-m.csv", func(t *testing.T, c *jointstest.Cell) {
		t.Helper()
		leg := c.Number(t, "leg_mm")
		f := mustNew(t, filler.Params{DepositedArea: reinforcement * rightTriangle(t, leg, leg),
			Efficiency: c.Number(t, "efficiency"), Density: c.Number(t, "density")})
		c.Compare(t, *f.ConsumedKgPerM)
	})
}

// Flat equal-leg fillets at 0.283 lb/in³; the electrode columns divide by the
// share that is deposited.
func TestElectrodeQuantity(t *testing.T) {
	each(t, "electrode-quantity-lb-ft.csv", func(t *testing.T, c *jointstest.Cell) {
		t.Helper()
		leg := inch * fraction(t, c.Row)
		f := mustNew(t, filler.Params{DepositedArea: rightTriangle(t, leg, leg),
			Efficiency: c.Number(t, "efficiency"), Density: 0.283 * poundPerIn3})
		c.Compare(t, *f.ConsumedKgPerM/poundPerFoot)
	})
}

// These tables are for legs laid 10 % oversize at 7.833 g/cm³. Their convex
// and concave columns are a steady factor on the flat one.
func TestB202Fillets(t *testing.T) {
	const oversize, density = 1.10, 7.833
	each(t, "fillets-b202-g-mm.csv", func(t *testing.T, c *jointstest.Cell) {
		t.Helper()
		leg := oversize * inch * fraction(t, c.Row)
		f := mustNew(t, filler.Params{DepositedArea: c.Number(t, "factor_on_flat") * rightTriangle(t, leg, leg),
			Efficiency: 1, Density: density})
		c.Compare(t, *f.DepositedKgPerM) // 1 kg/m is 1 g/mm
	})
}

func TestWorkedExamples(t *testing.T) {
	each(t, "worked-examples.csv", func(t *testing.T, c *jointstest.Cell) {
		t.Helper()
		f := mustNew(t, filler.Params{
			DepositedArea: rightTriangle(t, inch*c.Number(t, "leg0_in"), inch*c.Number(t, "leg1_in")),
			Efficiency:    1, Density: c.Number(t, "density_lb_in3") * poundPerIn3,
			SeamLength: geometry.Length(c.Number(t, "length_in")) * geometry.Inch,
		})
		switch c.Column {
		case "area in2":
			c.Compare(t, f.DepositedAreaMM2/inch/inch)
		case "volume in3":
			c.Compare(t, *f.VolumeCm3PerSeam/16.387064)
		case "lb":
			c.Compare(t, *f.DepositedKgPerSeam/pound)
		default:
			t.Fatalf("column %s", c.Column)
		}
	})
}

// E = E_lab·(L − stub)/L for electrodes whose stubs are thrown away.
func TestStubLoss(t *testing.T) {
	each(t, "stub-loss.csv", func(t *testing.T, c *jointstest.Cell) {
		t.Helper()
		f := mustNew(t, filler.Params{DepositedArea: 20, Efficiency: c.Number(t, "lab_percent") / 100,
			Rod: &filler.Rod{Diameter: 4, CutLength: geometry.Length(c.Number(t, "length_in")) * geometry.Inch,
				Stub: geometry.Length(c.Number(t, "stub_in")) * geometry.Inch}})
		c.Compare(t, 100*f.OverallEfficiency)
	})
}

// Rods to lay a foot of flat fillet, and what it weighs in two metals.
func TestRodsPerFoot(t *testing.T) {
	densities := map[string]float64{"steel lb/ft": 0.283, "4043 lb/ft": 0.097}
	each(t, "rods-per-foot.csv", func(t *testing.T, c *jointstest.Cell) {
		t.Helper()
		leg := inch * fraction(t, c.Row)
		p := filler.Params{DepositedArea: rightTriangle(t, leg, leg), Efficiency: 1}
		switch head, diameter, _ := strings.Cut(c.Column, " "); head {
		case "area":
			c.Compare(t, p.DepositedArea/inch/inch)
		case "rods":
			p.Rod = &filler.Rod{Diameter: geometry.Length(inch * fraction(t, diameter)), CutLength: 36 * geometry.Inch}
			f := mustNew(t, p)
			c.Compare(t, *f.RodsPerM*0.3048)
		default:
			p.Density = densities[c.Column] * poundPerIn3
			f := mustNew(t, p)
			c.Compare(t, *f.DepositedKgPerM/poundPerFoot)
		}
	})
}

// Rods in a kilogram or a pound, by what a metre of some weld takes of both.
func TestRodsPerMass(t *testing.T) {
	for file, mass := range map[string]float64{"rods-per-pound.csv": pound, "rods-per-pound-short.csv": pound, "rods-per-kilogram.csv": 1} {
		for _, r := range jointstest.Records(t, file) {
			t.Run(file+"/"+r["diameter"]+"/"+r["material"], func(t *testing.T) {
				density := fraction(t, r["density"])
				if r["density_unit"] == "lb/in3" {
					density *= poundPerIn3
				}
				f := mustNew(t, filler.Params{DepositedArea: 12.5, Efficiency: 0.9, Density: density,
					Rod: &filler.Rod{Diameter: length(t, r["diameter"]), CutLength: length(t, r["length"])}})
				agrees(t, r["rods"], mass**f.RodsPerM / *f.ConsumedKgPerM)
			})
		}
	}
}

func TestWireInchesPerPound(t *testing.T) {
	for _, r := range jointstest.Records(t, "wire-inches-per-pound.csv") {
		t.Run(r["metal"]+"/"+r["diameter_in"], func(t *testing.T) {
			f := mustNew(t, filler.Params{DepositedArea: 12.5, Efficiency: 0.9, Density: fraction(t, r["density_lb_in3"]) * poundPerIn3,
				Wire: &filler.Wire{Diameter: geometry.Length(inch * fraction(t, r["diameter_in"]))}})
			agrees(t, r["computed"], pound**f.WireMPerM / *f.ConsumedKgPerM * 1000 / inch)
		})
	}
}

// agrees compares with printed to half a unit of its last digit.
func agrees(t *testing.T, printed string, got float64) {
	t.Helper()
	want := fraction(t, printed)
	_, digits, _ := strings.Cut(printed, ".")
	if tolerance := 0.5 * math.Pow10(-len(digits)); math.Abs(got-want) > tolerance+1e-9 {
		t.Errorf("want %s ± %v, got %v", printed, tolerance, got)
	}
}

func fraction(t *testing.T, text string) float64 {
	t.Helper()
	v, ok := jointstest.Number(text)
	if !ok {
		t.Fatal("not a number: " + strconv.Quote(text))
	}
	return v
}

func length(t *testing.T, text string) geometry.Length {
	t.Helper()
	l, err := geometry.ParseLength(text, geometry.LengthSyntax{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}
