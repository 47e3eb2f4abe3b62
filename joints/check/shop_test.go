package check_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

func TestShopLimits(t *testing.T) {
	s, err := joints.NewTee(joints.Tee{Base: joints.Plate{Thickness: 8}, Stem: joints.Plate{Thickness: 3}, Gap: 0.4,
		Arrow: &joints.Fillet{Legs: [2]geometry.Length{4, 4}, Face: joints.FaceConvex, Rise: 0.9}})
	if err != nil {
		t.Fatal(err)
	}
	record := map[string]check.Measured{"arrow": {Undercut: joints.Some(0.4), Throat: joints.Some(2)}}
	for name, tt := range map[string]struct {
		limit    check.ShopLimit
		verdict  check.Verdict
		provided float64
		required float64
	}{
		"a fixed value":               {check.ShopLimit{Of: "convexity", Base: 1}, check.Met, 0.9, 1},
		"a formula of the width":      {check.ShopLimit{Of: "convexity", Base: 0.5, Factor: 0.05, Size: check.Width}, check.NotMet, 0.9, 0.5 + 0.05*4*math.Sqrt2},
		"a formula with a maximum":    {check.ShopLimit{Of: "convexity", Base: 0.5, Factor: 1, Size: check.Width, Most: 0.8}, check.NotMet, 0.9, 0.8},
		"a part of the thickness":     {check.ShopLimit{Of: "gap", Factor: 0.1, Size: check.Thickness}, check.NotMet, 0.4, 0.3},
		"a least leg":                 {check.ShopLimit{Of: "leg-minimum", Operator: check.AtLeast, Factor: 1, Size: check.Thickness}, check.Met, 4, 3},
		"a largest leg":               {check.ShopLimit{Of: "leg-maximum", Operator: check.AtMost, Base: 3.5}, check.NotMet, 4, 3.5},
		"a measured depth":            {check.ShopLimit{Of: "undercut", Factor: 0.1, Size: check.Thickness}, check.NotMet, 0.4, 0.3},
		"a throat":                    {check.ShopLimit{Of: "throat", Operator: check.AtLeast, Base: 2.1}, check.NotMet, 2, 2.1},
		"a number of an imperfection": {check.ShopLimit{Of: "503", Base: 2}, check.Met, 0.9, 2},
		"the id of an empty rule":     {check.ShopLimit{Of: "iso-10042/C/503", Base: 0.8}, check.NotMet, 0.9, 0.8},
		"an angle":                    {check.ShopLimit{Of: "toe-angle", Operator: check.AtLeast, Base: 90}, check.Met, 135 - 2*180/math.Pi*math.Atan(0.9/(2*math.Sqrt2)), 90},
		"nothing allowed":             {check.ShopLimit{Of: "undercut"}, check.NotMet, 0.4, 0},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := check.ShopDocument([]check.ShopLimit{tt.limit})
			if err != nil {
				t.Fatal(err)
			}
			f := check.Run(&check.Facts{Section: &s, Measured: record}, []check.Document{d})[0]
			if f.Verdict != tt.verdict || f.Provenance != check.Shop || f.Source.Document != "shop limit" || f.Weld != "arrow" {
				t.Fatalf("want %s, got %+v", tt.verdict, f)
			}
			if math.Abs(*f.Provided-tt.provided) > 1e-9 || math.Abs(*f.Required-tt.required) > 1e-9 {
				t.Errorf("want %v against %v, got %v against %v", tt.provided, tt.required, *f.Provided, *f.Required)
			}
			if f.Failure() != (tt.verdict == check.NotMet) {
				t.Error("a shop limit decides")
			}
		})
	}
}

func TestShopFaults(t *testing.T) {
	_, err := check.ShopDocument([]check.ShopLimit{
		{Of: "convexty", Base: 1},
		{Of: "gap", Operator: "<", Base: math.NaN(), Factor: 1, Size: "breadth"},
		{Of: "gap", Factor: 0.1},
		{Of: "gap", Base: -1, Most: math.Inf(1)},
	})
	type fault struct {
		Code  joints.FaultCode
		Field string
	}
	var got []fault
	for _, f := range joints.AsFaults(err) {
		if f.Remedy == "" {
			t.Errorf("no remedy: %+v", f)
		}
		got = append(got, fault{f.Code, f.Field})
	}
	want := []fault{
		{joints.FaultUnknown, "limits[0].of"}, {joints.FaultUnknown, "limits[1].operator"}, {joints.FaultUnknown, "limits[1].size"},
		{joints.FaultRange, "limits[1].base"}, {joints.FaultMissing, "limits[2].size"}, {joints.FaultRange, "limits[3].base"}, {joints.FaultRange, "limits[3].most"},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error("-want +got", d)
	}
}

// One quantity may have several limits; their ids differ.
func TestShopIDs(t *testing.T) {
	d, err := check.ShopDocument([]check.ShopLimit{{Of: "gap", Base: 1}, {Of: "gap", Factor: 0.1, Size: check.Thickness}, {Of: "iso-10042/C/512", Base: 2}})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range d.Rules {
		got = append(got, r.ID+" "+r.Values.Rows[0][1])
	}
	if d := cmp.Diff([]string{"shop/gap ≤ 1", "shop/gap-2 ≤ 0.1·t", "shop/iso-10042-C-512 ≤ 2"}, got); d != "" {
		t.Error("-want +got", d)
	}
}

// Every quantity can be looked up by its name and its numbers, and reads or
// says why not.
func TestQuantities(t *testing.T) {
	s, err := joints.NewTee(joints.Tee{Base: joints.Plate{Thickness: 8}, Stem: joints.Plate{Thickness: 3}, Arrow: joints.EqualFillet(4)})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range check.Quantities() {
		for _, name := range append([]string{q.Name}, q.Numbers...) {
			if got, ok := check.LookupQuantity(name); !ok || got != q {
				t.Errorf("%s is not found by %s", q.Name, name)
			}
		}
		if q.Doc == "" || q.Symbol == "" {
			t.Errorf("%+v", q)
		}
		if r := q.Read(&check.Facts{Section: &s}, &s.Welds[0]); r.Verdict != "" && r.Note == "" {
			t.Errorf("%s: no reason: %+v", q.Name, r)
		}
	}
	if _, ok := check.LookupQuantity("weight"); ok {
		t.Error("weight is no quantity")
	}
}

func TestWithin(t *testing.T) {
	inf := math.Inf(1)
	for name, tt := range map[string]struct {
		v, low, high float64
		op           check.Operator
		verdict      check.Verdict
	}{
		"under":           {1, 2, 4, check.AtLeast, check.NotMet},
		"over":            {5, 2, 4, check.AtMost, check.NotMet},
		"at the low end":  {2, 2, 4, check.AtLeast, check.Met},
		"at the high end": {4, 2, 4, check.AtMost, check.Met},
		"open above":      {100, 2, inf, check.AtLeast, check.Met},
		"open, under":     {1, 2, inf, check.AtLeast, check.NotMet},
		"one value":       {3, 3, 3, check.AtMost, check.Met},
		"from zero":       {0, 0, 2, check.AtMost, check.Met},
	} {
		if f := check.Within(tt.v, tt.low, tt.high, joints.UnitMM); f.Operator != tt.op || f.Verdict != tt.verdict {
			t.Errorf("%s: %+v", name, f)
		}
	}
}
