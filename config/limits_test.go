package config

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func loadText(t *testing.T, text string) (Loaded, error) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "settings.yaml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return Load(Options{File: file})
}

func TestShopLimits(t *testing.T) {
	loaded, err := loadText(t, "limits:\n  - {of: iso-10042/C/503, base: 1.5, factor: 0.15, size: width, most: 4, note: our own}\n  - {of: leg-minimum, operator: '>=', base: 3mm}\n")
	if err != nil {
		t.Fatal(err)
	}
	want := []Limit{{Of: "iso-10042/C/503", Base: 1.5, Factor: 0.15, Size: "width", Most: 4, Note: "our own"}, {Of: "leg-minimum", AtLeast: true, Base: 3}}
	if d := cmp.Diff(want, loaded.Settings.Limits); d != "" {
		t.Error(d)
	}
}

func TestShopLimitsRefused(t *testing.T) {
	_, err := loadText(t, "limits:\n  - {base: 1}\n  - {of: gap, operator: '<', base: NaN}\n")
	if err == nil {
		t.Fatal("wrong limits were taken")
	}
	for _, want := range []string{"limits[0]", "limits[1].operator", "limits[1].base"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("no word of %s in %v", want, err)
		}
	}
}
