package config

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A shop's own thermal constants stand over those on file, and say so.
func TestOwnThermal(t *testing.T) {
	loaded, err := loadText(t, `
materials:
  - {name: 5083, conductivity: 128 W/mK, liquidus: 638 C, source: mill sheet}
  - {name: hatch plate, like: 5083, solidus: 585}
  - {name: Ti-6Al-4V, conductivity: 12, heat-capacity: 700 J/kgK, solidus: 1605, liquidus: 1655, latent-heat: 290 kJ/kg}
`)
	if err != nil {
		t.Fatal(err)
	}
	thermal := func(name string) Thermal {
		m, err := loaded.Settings.Catalogue().Material(name)
		if err != nil {
			t.Fatal(err)
		}
		out, ok := m.Thermal()
		if !ok {
			t.Fatalf("%s has no thermal constants", name)
		}
		return out
	}
	filed, _ := ThermalOf(AluminiumMagnesium)
	want := filed
	want.Conductivity, want.Liquidus = 128, 638
	want.Source = Source{"conductivity, liquidus: mill sheet; the rest of Al 5xxx: " + thermalSource.Text, Memory}
	if d := cmp.Diff(want, thermal("EN AW-5083")); d != "" {
		t.Error(d)
	}
	// Like another takes what that one has, its own constants too.
	if got := thermal("hatch plate"); got.Conductivity != 128 || got.Solidus != 585 || got.Source.Provenance != Memory {
		t.Errorf("%+v", got)
	}
	whole := Thermal{Conductivity: 12, Density: 4430, HeatCapacity: 700, Solidus: 1605, Liquidus: 1655, LatentHeat: 290e3,
		Source: Source{"conductivity, heat-capacity, solidus, liquidus, latent-heat: shop settings", Shop}}
	if d := cmp.Diff(whole, thermal("Ti-6Al-4V")); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(filed, thermal("5086")); d != "" {
		t.Errorf("another metal changed: %s", d)
	}
	for text, want := range map[string][]FaultCode{
		"materials:\n  - {name: Ti-6Al-4V, conductivity: 12}\n":       {FaultMissing},
		"materials:\n  - {name: 5083, conductivity: 12800}\n":         {FaultRange},
		"materials:\n  - {name: 5083, solidus: 700}\n":                {FaultValue},
		"materials:\n  - {name: 5083, heat-capacity: warm}\n":         {FaultValue},
		"materials:\n  - {name: 5083, conductvity: 12, solidus: 1}\n": {FaultRange, FaultUnknownKey},
	} {
		_, err := loadText(t, text)
		if err == nil {
			t.Errorf("%s: taken", text)
			continue
		}
		got := codes(t, err)
		if len(got) != len(want) || len(got) == 1 && got[0] != want[0] {
			t.Errorf("%s: want %v, got %v", text, want, err)
		}
	}
}
