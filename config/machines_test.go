package config

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestMachines(t *testing.T) {
	loaded, err := loadText(t, `
machine: BENCH tig
machines:
  - {name: bench TIG, current: 250, source: plate}
  - {name: bench TIG, process: tig-dc, current: 200 A, load-line: 11.5 + 0.03 I}
calibrations:
  - {machine: bench tig, process: TIG AC, sections: 4, efficiency: 0.56, efficiency-range: 0.5..0.62, spot: 1.8 mm, spot-range: 1.5..2.2 mm, source: davit foot}
  - {machine: bench TIG, process: plasma, sections: 1, efficiency: 0.5, spot: 0.05in}
`)
	if err != nil {
		t.Fatal(err)
	}
	s := loaded.Settings
	shop := Source{"shop settings", Shop}
	want := []Machine{{Name: "bench TIG", Current: 250, Source: Source{"plate", Shop}},
		{Name: "bench TIG", Process: ArcTIGDC, Current: 200, Line: &LoadLine{11.5, 0.03}, Source: shop}}
	if d := cmp.Diff(want, s.Machines); d != "" {
		t.Error(d)
	}
	calibrated := []Calibration{{Machine: "bench TIG", Process: ArcTIGAC, Sections: 4, Efficiency: 0.56, Spot: 1.8,
		EfficiencyRange: &[2]float64{0.5, 0.62}, SpotRange: &[2]float64{1.5, 2.2}, Source: Source{"davit foot", Shop}},
		{Machine: "bench TIG", Process: ArcPlasma, Sections: 1, Efficiency: 0.5, Spot: 0.05 * 25.4, Source: shop}}
	if d := cmp.Diff(calibrated, s.Calibrations); d != "" {
		t.Error(d)
	}
	if s.DefaultMachine != "bench TIG" {
		t.Errorf("machine = %q", s.DefaultMachine)
	}
	for p, current := range map[ArcProcess]float64{ArcTIGDC: 200, ArcTIGAC: 250} {
		if m, ok := s.Machine("bench tig", p); !ok || m.Current != current {
			t.Errorf("%s: %+v, want %v A", p, m, current)
		}
	}
	if _, ok := s.Machine("other", ArcTIGAC); ok {
		t.Error("a machine that is not there was found")
	}
	if _, ok := s.Calibration("bench TIG", ArcTIGDC); ok {
		t.Error("a calibration of another process was found")
	}
	if e, _ := loaded.Origin("calibrations"); e.Layer != LayerFile {
		t.Errorf("calibrations come from %s", e)
	}
}

func TestMachinesRefused(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []FaultCode
	}{
		{"a name that reads as a current", "machines:\n  - {name: 250 A, current: 250}\n", []FaultCode{FaultValue}},
		{"nothing said of it", "machines:\n  - {name: bench}\n", []FaultCode{FaultMissing}},
		{"TIG of which current", "machines:\n  - {name: bench, process: tig, current: 200}\n", []FaultCode{FaultValue}},
		{"twice", "machines:\n  - {name: bench, current: 200}\n  - {name: Bench, current: 250}\n", []FaultCode{FaultDuplicate}},
		{"too much", "machines:\n  - {name: bench, current: 20000}\n", []FaultCode{FaultRange}},
		{"a load line in words", "machines:\n  - {name: bench, load-line: steep}\n", []FaultCode{FaultValue}},
		{"a load line of the mains", "machines:\n  - {name: bench, load-line: 400 + 0.04 I}\n", []FaultCode{FaultRange}},
		{"a key of another place", "machines:\n  - {name: bench, amps: 200}\n", []FaultCode{FaultMissing, FaultUnknownKey}},
		{"no such machine", "machine: bank\nmachines:\n  - {name: bench, current: 200}\n", []FaultCode{FaultName}},
		{"calibration of no machine on file", "machines:\n  - {name: bench, current: 200}\ncalibrations:\n  - {machine: bnech, process: tig-ac, sections: 3, efficiency: 0.5, spot: 1.5}\n", []FaultCode{FaultName}},
		{"calibration with most left out", "calibrations:\n  - {machine: bench}\n", []FaultCode{FaultMissing, FaultMissing, FaultMissing, FaultMissing}},
		{"half a section", "calibrations:\n  - {machine: bench, process: tig-ac, sections: 1.5, efficiency: 0.5, spot: 1.5}\n", []FaultCode{FaultValue}},
		{"a range beside the value", "calibrations:\n  - {machine: bench, process: tig-ac, sections: 3, efficiency: 0.5, efficiency-range: 0.6..0.7, spot: 1.5}\n", []FaultCode{FaultRange}},
		{"a range the wrong way", "calibrations:\n  - {machine: bench, process: tig-ac, sections: 3, efficiency: 0.5, efficiency-range: 0.7..0.4, spot: 1.5}\n", []FaultCode{FaultValue}},
		{"more than all", "calibrations:\n  - {machine: bench, process: tig-ac, sections: 3, efficiency: 1.2, spot: .nan}\n", []FaultCode{FaultRange, FaultValue}},
		{"the same twice", "calibrations:\n  - {machine: bench, process: tig-ac, sections: 3, efficiency: 0.5, spot: 1.5}\n  - {machine: bench, process: ac, sections: 3, efficiency: 0.6, spot: 1.5}\n", []FaultCode{FaultDuplicate}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := loadText(t, c.text)
			if d := cmp.Diff(c.want, codes(t, err)); d != "" {
				t.Errorf("%s\n%v", d, err)
			}
		})
	}
}

// A calibration is put into a file without touching anything else.
func TestStoreCalibration(t *testing.T) {
	c := Calibration{Machine: "bench's TIG", Process: ArcTIGAC, Sections: 3, Efficiency: 0.561234, Spot: 1.81234,
		EfficiencyRange: &[2]float64{0.51, 0.62}, SpotRange: &[2]float64{1.5, 2.2}, Source: Source{"davit foot: arrow # 1", Shop}}
	block := "calibrations:\n  - machine: 'bench''s TIG'\n    process: gtaw-ac\n    sections: 3\n    efficiency: 0.5612\n    efficiency-range: 0.51..0.62\n" +
		"    spot: 1.812 mm\n    spot-range: 1.5..2.2 mm\n    source: 'davit foot: arrow # 1'\n"
	if got := c.Block(); got != block {
		t.Errorf("%s", got)
	}
	entry := strings.TrimPrefix(block, "calibrations:\n")
	other := "  - machine: yard MIG # the blue one\n    process: gmaw\n    sections: 2\n    efficiency: 0.8 # with the old gun\n    spot: 2\n"
	for _, tt := range []struct{ name, text, want string }{
		{"an empty file", "", block},
		{"behind everything", "# ours\nunits: mm # metric\n", "# ours\nunits: mm # metric\n\n" + block},
		{"without a last line end", "units: mm", "units: mm\n\n" + block},
		{"the starter file", Template(), Template() + "\n" + block},
		{"Windows lines", "units: mm\r\nsheet: A4\r\n", "units: mm\r\nsheet: A4\r\n\r\n" + strings.ReplaceAll(block, "\n", "\r\n")},
		{"a list with another", "calibrations:\n" + other + "# below\nsheet: A4\n", "calibrations:\n" + other + entry + "# below\nsheet: A4\n"},
		{"a list with nothing in it", "calibrations: # none\nsheet: A4\n", "calibrations: # none\n" + entry + "sheet: A4\n"},
		{"over the old one", "calibrations:\n" + other + "  # cut in March\n  - machine: bench's tig # old\n    process: tig-ac\n    # three of them\n    sections: 2\n    spot: 2 # wide\n    efficiency: 0.7\nsheet: A4\n",
			"calibrations:\n" + other + "  # cut in March\n" + strings.NewReplacer("'bench''s TIG'", "'bench''s TIG'  # old", "1.812 mm", "1.812 mm  # wide").Replace(entry) + "    # three of them\nsheet: A4\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := StoreCalibration([]byte(tt.text), c)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tt.want, string(got)); d != "" {
				t.Error(d)
			}
			again, err := StoreCalibration(got, c)
			if err != nil || string(again) != string(got) {
				t.Errorf("stored again: %v\n%s", err, cmp.Diff(string(got), string(again)))
			}
		})
	}
}

func TestStoreCalibrationRefused(t *testing.T) {
	c := Calibration{Machine: "bench", Process: ArcTIGAC, Sections: 1, Efficiency: 0.5, Spot: 1.5, Source: Source{"hatch", Shop}}
	for _, text := range []string{"{units: mm}", "calibrations: [{machine: a, process: saw, sections: 1, efficiency: 0.9, spot: 2}]\n", "calibrations: []\n", "units: mm\n...\n"} {
		if out, err := StoreCalibration([]byte(text), c); !errors.Is(err, ErrNotEdited) || out != nil {
			t.Errorf("%s: %v\n%s", text, err, out)
		}
	}
	for _, text := range []string{"units: furlong\n", "machines:\n  - {name: bank, current: 90}\n"} {
		if _, err := StoreCalibration([]byte(text), c); len(codes(t, err)) == 0 {
			t.Errorf("%s: %v", text, err)
		}
	}
}
