package geometry_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"fay/geometry"
	"fay/geometry/geomtest"

	"github.com/google/go-cmp/cmp"
)

var (
	mm    = geometry.LengthSyntax{}
	inch  = geometry.LengthSyntax{Bare: geometry.UnitInch}
	steel = geometry.LengthSyntax{Family: geometry.GaugeSteel}
)

func TestParseLength(t *testing.T) {
	for _, row := range []struct {
		in   string
		syn  geometry.LengthSyntax
		want geometry.Length
	}{
		{"6", mm, 6},
		{"6", inch, 152.4},
		{"6mm", inch, 6},
		{"6 mm", mm, 6},
		{"6 MM", mm, 6},
		{"  6  ", mm, 6},
		{"+6", mm, 6},
		{"-0.5mm", mm, -0.5},
		{"−0.5mm", mm, -0.5},
		{"0", mm, 0},
		{"6.", mm, 6},
		{".5", mm, 0.5},
		{"1e-1", mm, 0.1},
		{"1.5E2mm", mm, 150},
		{"0.25in", mm, 6.35},
		{`.25"`, mm, 6.35},
		{"1/4in", mm, 6.35},
		{"1/4 in", mm, 6.35},
		{`1/4"`, mm, 6.35},
		{"1⁄4in", mm, 6.35},
		{"5/4in", mm, 31.75},
		{"1-1/4in", mm, 31.75},
		{`1-1/4"`, mm, 31.75},
		{"1 1/4 in", mm, 31.75},
		{`1 1/4"`, mm, 31.75},
		{`-1-1/4"`, mm, -31.75},
		{"85-1/2in", mm, 2171.7},
		{"1 1/4", inch, 31.75},
		{"½in", mm, 12.7},
		{"¼″", mm, 6.35},
		{"1⅛″", mm, 28.575},
		{"1 ⅛ inches", mm, 28.575},
		{"1½", mm, 1.5},
		{"3''", mm, 76.2},
		{"2cm", mm, 20},
		{"1m", mm, 1000},
		{"3ft", mm, 914.4},
		{"3'", mm, 914.4},
		{"3′", mm, 914.4},
		{"10000m", mm, 1e7},
		{"16ga", steel, 2.5 / 41.82 * 25.4},
		{"16 gauge", geometry.LengthSyntax{Family: geometry.GaugeStainless}, 1.5875},
		{"36 gage", geometry.LengthSyntax{Family: geometry.GaugeAluminium}, 0.127},
	} {
		t.Run(row.in, func(t *testing.T) {
			got, err := geometry.ParseLength(row.in, row.syn)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(row.want, got, geomtest.Approx(1e-12)); d != "" {
				t.Error(d)
			}
		})
	}
}

type badRow struct {
	name, in string
	code     geometry.ParseCode
	at       int
}

func checkParseError(t *testing.T, row badRow, err error) {
	t.Helper()
	var pe *geometry.ParseError
	if !errors.As(err, &pe) {
		t.Fatalf("want a ParseError, got %v", err)
	}
	if pe.Code != row.code || pe.At != row.at || pe.Input != row.in {
		t.Errorf("want %s at %d of %q, got %s at %d of %q (%v)", row.code, row.at, row.in, pe.Code, pe.At, pe.Input, err)
	}
	if pe.Rule == "" || pe.Remedy == "" || !strings.Contains(err.Error(), pe.Remedy) {
		t.Errorf("want rule and remedy in %q", err)
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, row := range []badRow{
		{"nothing", "", geometry.ParseEmpty, 0},
		{"only space", "  ", geometry.ParseEmpty, 2},
		{"decimal comma", "0,5", geometry.ParseComma, 1},
		{"list", "3, 4mm", geometry.ParseComma, 1},
		{"no number", "mm", geometry.ParseNumber, 0},
		{"only sign", " -", geometry.ParseNumber, 1 + 1},
		{"two signs", "--1", geometry.ParseNumber, 1},
		{"lone point", ".", geometry.ParseNumber, 0},
		{"not a number", "NaN", geometry.ParseNumber, 0},
		{"infinite", "Inf", geometry.ParseNumber, 0},
		{"minus infinite", "-inf", geometry.ParseNumber, 1},
		{"hexadecimal", "0x10", geometry.ParseUnknownUnit, 1},
		{"underscore", "1_000", geometry.ParseUnknownUnit, 1},
		{"overflow", "1e999", geometry.ParseRange, 0},
		{"too long", "10001m", geometry.ParseRange, 0},
		{"too many digits", strings.Repeat("9", 400), geometry.ParseRange, 0},
		{"infinite over infinite", strings.Repeat("9", 400) + "/" + strings.Repeat("9", 400), geometry.ParseRange, 0},
		{"unknown unit", "6 furlong", geometry.ParseUnknownUnit, 2},
		{"bare exponent", "6e", geometry.ParseUnknownUnit, 1},
		{"text after unit", "6mm x", geometry.ParseUnknownUnit, 1},
		{"feet and inches", "3ft 2in", geometry.ParseUnknownUnit, 1},
		{"zero denominator", "1/0", geometry.ParseFraction, 2},
		{"no denominator", "1/in", geometry.ParseFraction, 2},
		{"decimal over number", "1.5/2in", geometry.ParseUnknownUnit, 3},
		{"improper mixed", "1-5/4in", geometry.ParseFraction, 2},
		{"mixed zero denominator", "1 1/0in", geometry.ParseFraction, 4},
		{"gauge without family", "16ga", geometry.ParseGaugeFamily, 2},
		{"bad UTF-8", "6\xff", geometry.ParseUnknownUnit, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := geometry.ParseLength(row.in, mm)
			checkParseError(t, row, err)
		})
	}
	for _, row := range []badRow{
		{"gauge too small", "2ga", geometry.ParseGaugeRange, 0},
		{"gauge too large", "31ga", geometry.ParseGaugeRange, 0},
		{"gauge negative", "-16ga", geometry.ParseGaugeRange, 0},
		{"gauge in part", "16.5ga", geometry.ParseGaugeRange, 0},
		{"gauge fraction", "1/2ga", geometry.ParseGaugeRange, 0},
		{"gauge overflow", "1e999ga", geometry.ParseGaugeRange, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := geometry.ParseLength(row.in, steel)
			checkParseError(t, row, err)
		})
	}
}

func TestParseAngle(t *testing.T) {
	for _, row := range []struct {
		in   string
		want geometry.Angle
	}{
		{"90", math.Pi / 2},
		{"90deg", math.Pi / 2},
		{" 90 Degrees", math.Pi / 2},
		{"90°", math.Pi / 2},
		{"-30 °", -math.Pi / 6},
		{"22.5", math.Pi / 8},
		{"22 1/2", math.Pi / 8},
		{"22½°", math.Pi / 8},
		{"1.2rad", 1.2},
		{"1.2 radians", 1.2},
		{"0", 0},
		{"360", 2 * math.Pi},
	} {
		t.Run(row.in, func(t *testing.T) {
			got, err := geometry.ParseAngle(row.in)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(row.want, got, geomtest.Approx(1e-15)); d != "" {
				t.Error(d)
			}
		})
	}
	if got, _ := geometry.ParseAngle("60"); got != 60*geometry.Degree {
		t.Errorf("want exactly 60*Degree, got %v", got)
	}
	for _, row := range []badRow{
		{"nothing", "", geometry.ParseEmpty, 0},
		{"comma", "22,5", geometry.ParseComma, 2},
		{"word", "square", geometry.ParseNumber, 0},
		{"not a number", "nan", geometry.ParseNumber, 0},
		{"length unit", "6mm", geometry.ParseUnknownUnit, 1},
		{"too large", "361", geometry.ParseRange, 0},
		{"degrees meant as radians", "90rad", geometry.ParseRange, 0},
		{"overflow", "1e999", geometry.ParseRange, 0},
		{"tolerance", "60 ±5", geometry.ParseUnknownUnit, 3},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := geometry.ParseAngle(row.in)
			checkParseError(t, row, err)
		})
	}
}

func TestParseToleranced(t *testing.T) {
	type tol = geometry.Tolerance
	for _, row := range []struct {
		in   string
		syn  geometry.LengthSyntax
		want geometry.Length
		tol  tol
	}{
		{"0.5", mm, 0.5, tol{}},
		{"0.5 ±0.3", mm, 0.5, tol{0.3, 0.3}},
		{"0.5±0.3", mm, 0.5, tol{0.3, 0.3}},
		{"0.5 ± 0.3", mm, 0.5, tol{0.3, 0.3}},
		{"0.5 +-0.3", mm, 0.5, tol{0.3, 0.3}},
		{"0.5 +/-0.3", mm, 0.5, tol{0.3, 0.3}},
		{"0.5 +1.0 -0.5", mm, 0.5, tol{1, 0.5}},
		{"0.5 -0.5 +1.0", mm, 0.5, tol{1, 0.5}},
		{"0.5 +1.0 −0.5", mm, 0.5, tol{1, 0.5}},
		{"0.5+1.0-0.5", mm, 0.5, tol{1, 0.5}},
		{"0.5 +1", mm, 0.5, tol{1, 0}},
		{"0.5 -0.2", mm, 0.5, tol{0, 0.2}},
		{"-0.5 ±0.2", mm, -0.5, tol{0.2, 0.2}},
		{"1/16in +1/16in -0", mm, 1.5875, tol{1.5875, 0}},
		{"1-1/4in ±1/16in", mm, 31.75, tol{1.5875, 1.5875}},
		{"1-1/4in +1-1/2in -1/4in", mm, 31.75, tol{38.1, 6.35}},
		{`1 1/4" -1/8`, mm, 31.75, tol{0, 3.175}},
		{"1/4in ±0.02", mm, 6.35, tol{0.508, 0.508}},
		{"0.25 ±0.5mm", inch, 6.35, tol{0.5, 0.5}},
		{"1e-1 +1e+0 -1e-2", mm, 0.1, tol{1, 0.01}},
		{"16ga ±0.1", steel, 2.5 / 41.82 * 25.4, tol{0.1, 0.1}},
	} {
		t.Run(row.in, func(t *testing.T) {
			got, gotTol, err := geometry.ParseToleranced(row.in, row.syn)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(row.want, got, geomtest.Approx(1e-12)); d != "" {
				t.Error(d)
			}
			if d := cmp.Diff(row.tol, gotTol, geomtest.Approx(1e-12)); d != "" {
				t.Error(d)
			}
		})
	}
	for _, row := range []badRow{
		{"nothing", "", geometry.ParseEmpty, 0},
		{"no nominal", "±0.3", geometry.ParseEmpty, 0},
		{"no value", "0.5 ±", geometry.ParseTolerance, 6},
		{"no value between", "0.5 + 1 - ", geometry.ParseTolerance, 9},
		{"one side twice", "0.5 +1 +2", geometry.ParseTolerance, 7},
		{"both and one", "0.5 ±1 -2", geometry.ParseTolerance, 8},
		{"negative", "0.5 ±-1", geometry.ParseTolerance, 6},
		{"negative after plus", "0.5 -+1", geometry.ParseTolerance, 5},
		{"word", "0.5 ±little", geometry.ParseNumber, 6},
		{"comma", "0.5 ±0,3", geometry.ParseComma, 7},
		{"gauge", "1 ±16ga", geometry.ParseGaugeFamily, 6},
		{"bad nominal", "x ±1", geometry.ParseNumber, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, _, err := geometry.ParseToleranced(row.in, mm)
			checkParseError(t, row, err)
		})
	}
}

func TestParseTolerancedAngle(t *testing.T) {
	const deg = geometry.Degree
	type tol = geometry.AngleTolerance
	for _, row := range []struct {
		in   string
		want geometry.Angle
		tol  tol
	}{
		{"60", 60 * deg, tol{}},
		{"60 ±5", 60 * deg, tol{5 * deg, 5 * deg}},
		{"60° ±5°", 60 * deg, tol{5 * deg, 5 * deg}},
		{"60 +10 -5", 60 * deg, tol{10 * deg, 5 * deg}},
		{"60deg +0 -5deg", 60 * deg, tol{0, 5 * deg}},
		{"1rad ±0.1", 1, tol{0.1, 0.1}},
	} {
		t.Run(row.in, func(t *testing.T) {
			got, gotTol, err := geometry.ParseTolerancedAngle(row.in)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(row.want, got, geomtest.Approx(1e-15)); d != "" {
				t.Error(d)
			}
			if d := cmp.Diff(row.tol, gotTol, geomtest.Approx(1e-15)); d != "" {
				t.Error(d)
			}
		})
	}
	for _, row := range []badRow{
		{"length", "60mm ±5", geometry.ParseUnknownUnit, 2},
		{"length in tolerance", "60 ±5mm", geometry.ParseUnknownUnit, 6},
		{"twice", "60 -5 -5", geometry.ParseTolerance, 6},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, _, err := geometry.ParseTolerancedAngle(row.in)
			checkParseError(t, row, err)
		})
	}
}

func TestParseUnit(t *testing.T) {
	for _, u := range []geometry.Unit{geometry.UnitMM, geometry.UnitInch, geometry.UnitCM, geometry.UnitM, geometry.UnitFoot} {
		got, err := geometry.ParseUnit(" " + strings.ToUpper(u.String()) + " ")
		if err != nil || got != u {
			t.Errorf("want %v, got %v, %v", u, got, err)
		}
	}
	for _, s := range []string{"", "ga", "furlong"} {
		if _, err := geometry.ParseUnit(s); err == nil {
			t.Errorf("%q: want an error", s)
		}
	}
}

func TestLengthUnits(t *testing.T) {
	l := 2 * geometry.Foot
	for u, want := range map[geometry.Unit]float64{
		geometry.UnitMM: 609.6, geometry.UnitInch: 24, geometry.UnitCM: 60.96, geometry.UnitM: 0.6096, geometry.UnitFoot: 2,
	} {
		if d := cmp.Diff(want, l.In(u), geomtest.Approx(1e-12)); d != "" {
			t.Error(u, d)
		}
	}
	if got := (1 * geometry.Inch).Millimetres(); got != 25.4 {
		t.Errorf("want 25.4, got %v", got)
	}
}

func TestFraction(t *testing.T) {
	for _, row := range []struct {
		l    geometry.Length
		den  int
		want string
		err  geometry.Length
	}{
		{0, 16, "0", 0},
		{6.35, 16, "1/4", 0},
		{31.75, 16, "1-1/4", 0},
		{-31.75, 16, "-1-1/4", 0},
		{25.4, 16, "1", 0},
		{25.3, 16, "1", 0.1},
		{3, 16, "1/8", 0.175},
		{3, 64, "1/8", 0.175},
		{8, 16, "5/16", -0.0625},
		{-8, 16, "-5/16", 0.0625},
		{0.1, 16, "0", -0.1},
		{-0.1, 16, "0", 0.1},
		{7, 0, "0", -7},
	} {
		f := row.l.Fraction(row.den)
		if f.String() != row.want {
			t.Errorf("%v mm to 1/%d: want %s, got %s", row.l, row.den, row.want, f)
		}
		if d := cmp.Diff(row.err, f.Err, geomtest.Approx(1e-12)); d != "" {
			t.Error(row.l, d)
		}
		if d := cmp.Diff(row.l+row.err, f.Length(), geomtest.Approx(1e-12)); d != "" {
			t.Error(row.l, d)
		}
	}
	for _, bad := range []geometry.Length{geometry.Length(math.NaN()), geometry.Length(math.Inf(1)), 1e12} {
		if f := bad.Fraction(16); f.String() != "?" || !math.IsNaN(float64(f.Length())) {
			t.Errorf("%v: want ?, got %v", bad, f)
		}
	}
}

func TestGaugeRange(t *testing.T) {
	for _, row := range []struct {
		f geometry.GaugeFamily
		n int
	}{
		{geometry.NoGauge, 16}, {geometry.GaugeSteel, 2}, {geometry.GaugeSteel, 31},
		{geometry.GaugeAluminium, 0}, {geometry.GaugeAluminium, 37}, {geometry.GaugeStainless, -1}, {99, 16},
	} {
		_, err := geometry.GaugeThickness(row.f, row.n)
		var ge *geometry.GaugeError
		if !errors.As(err, &ge) || ge.Gauge != row.n || ge.Family != row.f {
			t.Errorf("%v %d: want a GaugeError, got %v", row.f, row.n, err)
		}
	}
	for _, f := range []geometry.GaugeFamily{geometry.GaugeSteel, geometry.GaugeAluminium, geometry.GaugeStainless} {
		last := 10 * geometry.Inch
		for n := 3; n <= 30; n++ {
			l, err := geometry.GaugeThickness(f, n)
			if err != nil || !(l < last) {
				t.Errorf("%v %d: want thinner than %v, got %v, %v", f, n, last, l, err)
			}
			last = l
		}
	}
}
