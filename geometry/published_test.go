package geometry_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fay/geometry"
)

// published reads a table of published values as one map per row.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, key := range rows[0] {
			m[key] = r[i]
		}
		if m["source"] == "" {
			t.Fatalf("%s: a row without source: %v", name, r)
		}
		out = append(out, m)
	}
	return out
}

// printed returns a printed number and half a unit of its last digit.
func printed(t *testing.T, s string) (v, tol float64) {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	places := 0
	if i := strings.IndexByte(s, '.'); i >= 0 {
		places = len(s) - i - 1
	}
	return v, 0.5*math.Pow(10, -float64(places)) + 1e-12
}

func TestPublishedSheetGauges(t *testing.T) {
	families := map[string]geometry.GaugeFamily{
		"steel": geometry.GaugeSteel, "aluminium": geometry.GaugeAluminium, "stainless": geometry.GaugeStainless,
	}
	rows := published(t, "sheet-gauges.csv")
	if len(rows) != 47 {
		t.Errorf("want 47 rows, got %d", len(rows))
	}
	for _, row := range rows {
		t.Run(fmt.Sprintf("%s %s ga %s in", row["family"], row["gauge"], row["provenance"]), func(t *testing.T) {
			n, err := strconv.Atoi(row["gauge"])
			if err != nil {
				t.Fatal(err)
			}
			got, err := geometry.GaugeThickness(families[row["family"]], n)
			if err != nil {
				t.Fatal(err)
			}
			if want, tol := printed(t, row["inches"]); math.Abs(got.Inches()-want) > tol {
				t.Errorf("want %s in, got %.6f", row["inches"], got.Inches())
			}
			if row["mm"] == "" {
				return
			}
			if want, tol := printed(t, row["mm"]); math.Abs(got.Millimetres()-want) > tol {
				t.Errorf("want %s mm, got %.5f", row["mm"], got.Millimetres())
			}
		})
	}
}

// capOutline builds the cap of a shape over a level chord.
func capOutline(shape string, w, h float64) (geometry.Outline, error) {
	a, b := geometry.Point{X: w / 2}, geometry.Point{X: -w / 2}
	top := geometry.Point{Y: h}
	switch shape {
	case "triangle":
		return geometry.Polygon(a, top, b)
	case "rectangle":
		return geometry.Polygon(a, geometry.Point{X: w / 2, Y: h}, geometry.Point{X: -w / 2, Y: h}, b)
	case "parabola":
		return geometry.NewOutline(geometry.Quad(a, geometry.Point{Y: 2 * h}, b), geometry.Line(b, a))
	case "segment":
		return geometry.NewOutline(geometry.Arc(a, b, h), geometry.Line(b, a))
	}
	return geometry.Outline{}, fmt.Errorf("no outline of shape %q", shape)
}

func TestPublishedCapSegments(t *testing.T) {
	for _, row := range published(t, "cap-segments.csv") {
		t.Run(fmt.Sprintf("%s %s %sx%s", row["quantity"], row["shape"], row["width_mm"], row["height_mm"]), func(t *testing.T) {
			w, _ := printed(t, row["width_mm"])
			h, _ := printed(t, row["height_mm"])
			want, tol := printed(t, row["value"])
			var area float64
			if row["shape"] == "ellipse" {
				// No edge kind is an ellipse: the half disc of radius h,
				// stretched, keeps its fraction of the box.
				o, err := capOutline("segment", 2*h, h)
				if err != nil {
					t.Fatal(err)
				}
				area = o.Area() * w / (2 * h)
			} else {
				o, err := capOutline(row["shape"], w, h)
				if err != nil {
					t.Fatal(err)
				}
				area = o.Area()
			}
			got := area
			switch row["quantity"] {
			case "fraction":
				got = area / (w * h)
			case "parabola_less_percent":
				got = (2*w*h/3 - area) / area * 100
			}
			if math.Abs(got-want) > tol {
				t.Errorf("want %s, got %.6f", row["value"], got)
			}
		})
	}
}
