package documents_test

import (
	"math"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/jointstest"
)

func tee(tb testing.TB, p joints.Tee) *joints.Section {
	tb.Helper()
	s, err := joints.NewTee(p)
	if err != nil {
		tb.Fatal(err)
	}
	return &s
}

func lap(tb testing.TB, p joints.Lap) *joints.Section {
	tb.Helper()
	s, err := joints.NewLap(p)
	if err != nil {
		tb.Fatal(err)
	}
	return &s
}

func plate(t geometry.Length) joints.Plate { return joints.Plate{Thickness: t} }

// one runs the documents and returns the only finding of the rule.
func one(tb testing.TB, facts *check.Facts, document, rule string) check.Finding {
	tb.Helper()
	findings, err := documents.Run(facts, []string{document})
	if err != nil {
		tb.Fatal(err)
	}
	var found []check.Finding
	for _, f := range findings {
		if f.Rule == rule {
			found = append(found, f)
		}
	}
	if len(found) != 1 {
		tb.Fatalf("want one finding of %s, got %+v", rule, found)
	}
	return found[0]
}

// required returns what the finding requires, which must be there.
func required(tb testing.TB, f check.Finding) float64 {
	tb.Helper()
	if f.Required == nil {
		tb.Fatalf("nothing required: %+v", f)
	}
	return *f.Required
}

// column tells the unit that a printed column is in.
func column(inch bool) (units geometry.Unit, size float64) {
	if inch {
		return geometry.UnitInch, float64(geometry.Inch)
	}
	return geometry.UnitMM, 1
}

func TestAISCMinimumLeg(t *testing.T) {
	for _, c := range jointstest.Published(t, "aisc-360-16-j2-4.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(c.Column == "leg in")
			const hair = 1e-6
			var thicknesses []float64
			over := 0.0
			if v, ok := jointstest.Number(c.Field("over_mm")); ok {
				inches := c.Number(t, "over_in") * float64(geometry.Inch)
				over = math.Max(v, inches)
				thicknesses = append(thicknesses, over+hair)
			}
			if v, ok := jointstest.Number(c.Field("up_to_mm")); ok {
				inches := c.Number(t, "up_to_in") * float64(geometry.Inch)
				// Both printed ends of the step belong to it.
				thicknesses = append(thicknesses, v, inches, (over+v)/2)
			} else {
				thicknesses = append(thicknesses, 25, 50)
			}
			for _, thickness := range thicknesses {
				s := tee(t, joints.Tee{Base: plate(60), Stem: plate(geometry.Length(thickness)), Arrow: joints.EqualFillet(10)})
				f := one(t, &check.Facts{Section: s, Units: units}, "aisc-360-16", "aisc-360-16/J2.4")
				c.Compare(t, required(t, f)/size)
			}
		})
	}
}

func TestAISCEdgeLeg(t *testing.T) {
	for _, c := range jointstest.Published(t, "aisc-360-16-j2-2b-edge.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(inches(&c))
			upper := geometry.Length(c.Number(t, "thickness") * size)
			s := lap(t, joints.Lap{Lower: plate(30), Upper: plate(upper), Overlap: 100, Arrow: joints.EqualFillet(upper / 2)})
			f := one(t, &check.Facts{Section: s, Units: units}, "aisc-360-16", "aisc-360-16/J2.2b-edge")
			c.Compare(t, required(t, f)/size)
		})
	}
}

func TestAISCOverlap(t *testing.T) {
	for _, c := range jointstest.Published(t, "aisc-360-16-j2-2b-lap.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(inches(&c))
			thin := geometry.Length(c.Number(t, "thickness") * size)
			s := lap(t, joints.Lap{Lower: plate(thin), Upper: plate(2 * thin), Overlap: 100, Arrow: joints.EqualFillet(thin)})
			f := one(t, &check.Facts{Section: s, Units: units}, "aisc-360-16", "aisc-360-16/J2.2b-lap")
			c.Compare(t, required(t, f)/size)
		})
	}
}

func inches(c *jointstest.Cell) bool {
	for _, word := range []string{"largest leg in", "overlap in", "in"} {
		if len(c.Column) >= len(word) && c.Column[:len(word)] == word {
			return true
		}
	}
	return false
}

func TestAISCLength(t *testing.T) {
	for _, c := range jointstest.Published(t, "aisc-360-16-j2-2b-length.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Arrow: joints.EqualFillet(geometry.Length(c.Number(t, "leg_mm")))})
			f := one(t, &check.Facts{Section: s, SeamLength: joints.Some(100)}, "aisc-360-16", "aisc-360-16/J2.2b-length")
			c.Compare(t, required(t, f))
		})
	}
}

func TestD11Gaps(t *testing.T) {
	rules := map[string]string{"gap with no change of leg": "aws-d1.1-reported/gap", "largest gap": "aws-d1.1-reported/gap-maximum"}
	for _, c := range jointstest.Published(t, "aws-d1-1-gap.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(inches(&c))
			s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Gap: 1, Arrow: joints.EqualFillet(8)})
			f := one(t, &check.Facts{Section: s, Units: units}, "aws-d1.1-reported", rules[c.Row])
			c.Compare(t, required(t, f)/size)
		})
	}
}

// The formulas are taken apart by welds of two sizes.
func TestISO5817Fillets(t *testing.T) {
	limit := func(t *testing.T, level, number string, leg geometry.Length) (weld *joints.Weld, most float64) {
		t.Helper()
		s := tee(t, joints.Tee{Base: plate(100), Stem: plate(100), Arrow: joints.EqualFillet(leg)})
		return &s.Welds[0], required(t, one(t, &check.Facts{Section: s}, "iso-5817-2014/"+level, "iso-5817-2014/"+level+"/"+number))
	}
	for _, c := range jointstest.Published(t, "iso-5817-fillets.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			number := c.Table[len(c.Table)-3:]
			small, h1 := limit(t, c.Row, number, 3)
			large, h2 := limit(t, c.Row, number, 6)
			x1, x2 := float64(small.FaceWidth), float64(large.FaceWidth)
			if number == "512" {
				x1, x2 = float64(small.TheoreticalThroat), float64(large.TheoreticalThroat)
			}
			factor := (h2 - h1) / (x2 - x1)
			switch c.Column {
			case "base mm":
				c.Compare(t, h1-factor*x1)
			case "maximum mm":
				_, most := limit(t, c.Row, number, 100)
				c.Compare(t, most)
			default:
				c.Compare(t, factor)
			}
		})
	}
}
