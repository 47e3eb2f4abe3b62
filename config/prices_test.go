package config

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
)

func TestPricesOf(t *testing.T) {
	text := `
cost: {currency: EUR}
prices:
  - {filler: ER5183, pack: 2.5kg, price: 49}
  - {filler: 5183, diameter: 1.6mm, pack: 2.5kg, price: 55, source: quote of March}
  - {filler: 5356, pack: 10 lb, price: 80}
`
	got, err := Load(Options{File: write(t, text), Environ: noEnv})
	if err != nil {
		t.Fatal(err)
	}
	s := got.Settings
	for name, tt := range map[string]struct {
		filler   string
		diameter geometry.Length
		want     []float64
	}{
		"any diameter":         {"5183", 2.4, []float64{49}},
		"its own diameter":     {"5183", 1.6, []float64{55}},
		"1/16 in is not 1.6":   {"5183", geometry.Inch / 16, []float64{49}},
		"other filler":         {"5356", 2.4, []float64{80}},
		"filler without price": {"4043", 2.4, nil},
	} {
		t.Run(name, func(t *testing.T) {
			var amounts []float64
			for _, p := range s.PricesOf(tt.filler, tt.diameter) {
				amounts = append(amounts, p.Amount)
			}
			if d := cmp.Diff(tt.want, amounts); d != "" {
				t.Error("-want +got", d)
			}
		})
	}
	if d := cmp.Diff(49/2.5, s.Prices[0].PerKilogram()); d != "" {
		t.Error("per kilogram: -want +got", d)
	}
	want := []Source{{"shop settings", Shop}, {"quote of March", Shop}, {"shop settings", Shop}}
	for i, p := range s.Prices {
		if d := cmp.Diff(want[i], p.Source); d != "" {
			t.Error("-want +got", d)
		}
	}
}

// What a shop does not say of a process stays as on file.
func TestOwnPractice(t *testing.T) {
	got, err := Load(Options{File: write(t, "processes:\n  - {process: TIG, travel-speed: 5 in/min, deposition-rate: 1 lb/h, source: trials}\n"), Environ: noEnv})
	if err != nil {
		t.Fatal(err)
	}
	own := Source{"trials", Shop}
	want := Practice{Process: GTAW, PassArea: 18, PassSource: practice(), Flow: 10, FlowSource: fromMemory(),
		Speed: 127, SpeedSource: own, Rate: 0.45359237, RateSource: own}
	if d := cmp.Diff(want, got.Settings.Practice(GTAW), cmpopts.EquateApprox(1e-12, 0)); d != "" {
		t.Error("-want +got", d)
	}
	if d := cmp.Diff(practices[1], got.Settings.Practice(GMAW)); d != "" {
		t.Error("another process: -want +got", d)
	}
}

func TestSpeedFor(t *testing.T) {
	for name, tt := range map[string]struct {
		process   Process
		family    Family
		thickness geometry.Length
		want      float64
	}{
		"printed thickness":         {GTAW, Aluminium, 3.2, 230},
		"nearest thickness":         {GTAW, Aluminium, 3, 230},
		"amps without a speed":      {GTAW, Aluminium, 6, 200},
		"thicker than printed":      {GTAW, Aluminium, 20, 150},
		"metal without a row":       {GTAW, Titanium, 3, 100},
		"no metal given":            {GTAW, "", 3, 100},
		"any thickness of a metal":  {GMAW, Aluminium, 3, 650},
		"any thickness, any metal":  {GMAW, Steel, 3, 400},
		"process without own metal": {SMAW, Aluminium, 3, 200},
	} {
		t.Run(name, func(t *testing.T) {
			row, ok := SpeedFor(tt.process, tt.family, tt.thickness)
			if !ok || row.Speed != tt.want || row.Source.Text == "" {
				t.Errorf("want %g mm/min, got %+v", tt.want, row)
			}
		})
	}
	for _, p := range Processes() {
		if _, ok := SpeedFor(p, Steel, 6); !ok {
			t.Errorf("%s has no travel speed", p)
		}
	}
}

// Every row of every table says where it comes from.
func TestTablesHaveSources(t *testing.T) {
	said := func(what string, s Source) {
		t.Helper()
		if s.Text == "" || s.Provenance == "" {
			t.Errorf("%s has no source", what)
		}
	}
	for _, p := range Packs() {
		said(p.Label, p.Source)
	}
	for _, c := range Cylinders() {
		said(c.Label, c.Source)
	}
	for _, row := range TravelSpeeds() {
		if row.Speed > 0 {
			said(string(row.Process), row.Source)
		}
		if row.Speed == 0 && row.Amps == [2]float64{} {
			t.Errorf("%+v says nothing", row)
		}
		if row.Amps != [2]float64{} {
			said("amps of "+string(row.Process), row.AmpsSource)
		}
	}
	for _, p := range practices {
		said(string(p.Process), p.PassSource)
		if p.Flow > 0 {
			said("gas of "+string(p.Process), p.FlowSource)
		}
	}
	if n := len(practices); n != len(Processes()) {
		t.Errorf("%d processes have a row, want %d", n, len(Processes()))
	}
}

func TestUsualPack(t *testing.T) {
	for name, tt := range map[string]struct {
		family Family
		spool  bool
		system geometry.Unit
		want   string
	}{
		"aluminium rods":        {Aluminium, false, geometry.UnitMM, "2.5 kg tube"},
		"steel rods":            {Steel, false, geometry.UnitMM, "5 kg tube"},
		"rods in the US":        {Aluminium, false, geometry.UnitInch, "10 lb tube"},
		"aluminium wire":        {Aluminium, true, geometry.UnitMM, "7 kg spool"},
		"steel wire":            {Steel, true, geometry.UnitMM, "15 kg spool"},
		"steel wire in the US":  {Steel, true, geometry.UnitInch, "33 lb spool"},
		"metal that is unknown": {"", false, geometry.UnitMM, "5 kg tube"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := UsualPack(tt.family, tt.spool, tt.system).Label; got != tt.want {
				t.Errorf("want %s, got %s", tt.want, got)
			}
		})
	}
}
