package documents_test

import (
	"math"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
	"fay/joints/jointstest"
)

// Tables of smallest legs: both ends of every step, in the column of the cell.
func TestLegTables(t *testing.T) {
	for file, tt := range map[string]struct {
		rule    string
		thicker bool
		process string
	}{
		"superseded-minimum-leg.csv": {"superseded/minimum-leg/thicker-part", true, ""},
		"aws-d1-1-minimum-leg.csv":   {"aws-d1.1-reported/minimum-leg", false, "gtaw"},
		"aws-d1-2-minimum-leg.csv":   {"aws-d1.2/minimum-leg/leg", false, ""},
		"csa-w59-minimum-leg.csv":    {"csa-w59/minimum-leg/leg", false, ""},
	} {
		for _, c := range jointstest.Published(t, file) {
			t.Run(file+"/"+c.Name(), func(t *testing.T) {
				units, size := column(c.Column == "leg in")
				for _, thickness := range ends(t, &c) {
					thin, thick := thickness, thickness
					if tt.thicker {
						thin = min(thin, 5)
					}
					s := tee(t, joints.Tee{Base: plate(thick), Stem: plate(thin), Arrow: joints.EqualFillet(30)})
					f := only(t, &check.Facts{Section: s, Units: units, Process: tt.process}, tt.rule)
					want := c
					if tt.rule == "aws-d1.1-reported/minimum-leg" && float64(thin) < required(t, f)*(1+1e-9) {
						continue // the cap on the thinner part has a test of its own
					}
					want.Compare(t, required(t, f)/size)
					wanted(t, &c, f)
				}
			})
		}
	}
}

// ends are thicknesses just inside both ends of a step, where both columns
// agree that it holds.
func ends(t *testing.T, c *jointstest.Cell) []geometry.Length {
	t.Helper()
	const hair = 1e-6
	var out []geometry.Length
	if _, ok := jointstest.Number(c.Field("over_mm")); ok {
		over := math.Max(c.Number(t, "over_mm"), inch(t, c.Field("over_in")))
		out = append(out, geometry.Length(over+hair))
	}
	if _, ok := jointstest.Number(c.Field("up_to_mm")); ok {
		out = append(out, geometry.Length(math.Max(c.Number(t, "up_to_mm"), inch(t, c.Field("up_to_in")))))
	} else {
		out = append(out, 200)
	}
	return out
}

func inch(t *testing.T, text string) float64 {
	t.Helper()
	v, ok := jointstest.Number(strings.ReplaceAll(text, "6/25.4", "0.23622047244094488"))
	if !ok {
		t.Fatalf("no number: %q", text)
	}
	return v * 25.4
}

// What D1.1 says besides its table.
func TestD11MinimumLeg(t *testing.T) {
	const rule = "aws-d1.1-reported/minimum-leg"
	for name, tt := range map[string]struct {
		base, stem, leg geometry.Length
		process         string
		want            check.Verdict
	}{
		"thinner part, low hydrogen":           {25, 8, 5, "gtaw", check.Met},
		"thinner part, too small":              {25, 8, 4, "gtaw", check.NotMet},
		"electrode not known, between":         {25, 8, 5, "smaw", check.CannotTell},
		"process not known, between":           {25, 8, 7, "", check.CannotTell},
		"process not known, meets both":        {25, 8, 8, "", check.Met},
		"process not known, meets neither":     {25, 8, 4, "", check.NotMet},
		"process not known, both say the same": {12, 8, 5, "", check.Met},
		"not over the thinner part":            {25, 2, 2, "gtaw", check.Met},
		"under the thinner part":               {25, 2, 1.9, "gtaw", check.NotMet},
	} {
		t.Run(name, func(t *testing.T) {
			s := tee(t, joints.Tee{Base: plate(tt.base), Stem: plate(tt.stem), Arrow: joints.EqualFillet(tt.leg)})
			if f := only(t, &check.Facts{Section: s, Process: tt.process}, rule); f.Verdict != tt.want {
				t.Errorf("want %s, got %+v", tt.want, f)
			}
		})
	}
}

func TestZLoss(t *testing.T) {
	const rule = "aws-d1.1-reported/z-loss"
	largest := map[string]float64{}
	for _, c := range jointstest.Published(t, "aws-d1-1-z-loss.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(c.Text(t, "units") == "in")
			s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Angle: geometry.Angle(c.Number(t, "angle")) * geometry.Degree, Arrow: joints.EqualFillet(12)})
			facts := &check.Facts{Section: s, Units: units, Process: c.Text(t, "process"), Position: check.Position(c.Text(t, "position"))}
			f := only(t, facts, rule)
			c.Compare(t, required(t, f)/size)
			wanted(t, &c, f)
			key := c.Field("angle") + c.Field("units")
			largest[key] = math.Max(largest[key], required(t, f))
		})
	}
	// Not knowing process and position takes the largest loss.
	for angle, key := range map[geometry.Angle]string{45: "45mm", 44: "44mm"} {
		s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Angle: angle * geometry.Degree, Arrow: joints.EqualFillet(12)})
		if got := required(t, only(t, &check.Facts{Section: s}, rule)); got != largest[key] {
			t.Errorf("%v: want %v, got %v", angle, largest[key], got)
		}
		f := only(t, &check.Facts{Section: s, Process: "gmaw", Position: check.Vertical}, rule)
		if f.Verdict != check.CannotTell {
			t.Errorf("gmaw upright has no loss on file: %+v", f)
		}
	}
	for angle, want := range map[geometry.Angle]check.Verdict{60: check.NotApplicable, 59.9: check.Met} {
		s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Angle: angle * geometry.Degree, Arrow: joints.EqualFillet(12)})
		if f := only(t, &check.Facts{Section: s}, rule); f.Verdict != want {
			t.Errorf("%v: want %s, got %+v", angle, want, f)
		}
	}
}

func TestEndLoaded(t *testing.T) {
	for _, c := range jointstest.Published(t, "end-loaded.csv") {
		t.Run(c.Name(), func(t *testing.T) { c.Compare(t, clause.Beta(c.Number(t, "ratio"))) })
	}
	s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Arrow: joints.EqualFillet(5)})
	for _, rule := range []string{"aisc-360-16/J2.2b-end-loaded", "aws-d1.1-reported/end-loaded"} {
		for name, tt := range map[string]struct {
			length geometry.Length
			loaded bool
			want   check.Verdict
			note   string
		}{
			"short":            {500, true, check.Met, ""},
			"long":             {1000, true, check.CannotTell, "only 800 mm of the length count; the calculation must be made with that"},
			"very long":        {3000, true, check.CannotTell, "only 900 mm of the length count; the calculation must be made with that"},
			"not said, long":   {1000, false, check.NotApplicable, "not said to be loaded at its ends; if it is, 800 mm of its length count"},
			"not said, short":  {400, false, check.Met, ""},
			"no length at all": {0, true, check.CannotTell, "the length of the weld is not given"},
			"nothing said":     {0, false, check.NotApplicable, "not said to be loaded at its ends"},
		} {
			facts := check.Facts{Section: s, EndLoaded: tt.loaded}
			if tt.length > 0 {
				facts.SeamLength = joints.Some(tt.length)
			}
			if f := only(t, &facts, rule); f.Verdict != tt.want || f.Note != tt.note {
				t.Errorf("%s, %s: want %s, got %+v", rule, name, tt.want, f)
			}
		}
	}
}

func TestIntermittent(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Arrow: joints.EqualFillet(5)})
	for _, c := range jointstest.Published(t, "intermittent.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(c.Column == "in")
			f := only(t, &check.Facts{Section: s, Units: units, EffectiveLength: joints.Some(30)}, c.Text(t, "rule"))
			c.Compare(t, required(t, f)/size)
			if f.Verdict != check.NotMet || f.Mend == "" {
				t.Errorf("a segment of 30 mm: %+v", f)
			}
			if f := only(t, &check.Facts{Section: s, SeamLength: joints.Some(30)}, c.Text(t, "rule")); f.Verdict != check.NotApplicable {
				t.Errorf("a continuous weld: %+v", f)
			}
		})
	}
}

func TestD11Profiles(t *testing.T) {
	for _, c := range jointstest.Published(t, "aws-d1-1-convexity.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(c.Column == "in")
			leg := geometry.Length(c.Number(t, "face") * size / math.Sqrt2)
			s := tee(t, joints.Tee{Base: plate(100), Stem: plate(100), Arrow: joints.EqualFillet(leg)})
			f := only(t, &check.Facts{Section: s, Units: units}, "aws-d1.1-reported/convexity")
			c.Compare(t, required(t, f)/size)
			wanted(t, &c, f)
		})
	}
	for _, c := range jointstest.Published(t, "aws-d1-1-grooves.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(strings.HasSuffix(c.Column, "in") && c.Column != "thin")
			p := geometry.Length(c.Number(t, "thickness"))
			s := butt(t, joints.Butt{Left: plate(p), Right: plate(2 * p), RootOpening: 4, Arrow: &joints.Groove{Cap: 1}})
			f := only(t, &check.Facts{Section: s, Units: units}, "aws-d1.1-reported/"+c.Text(t, "rule"))
			c.Compare(t, required(t, f)/size)
			wanted(t, &c, f)
		})
	}
}

func TestHeavyGap(t *testing.T) {
	for _, c := range jointstest.Published(t, "aws-d1-1-gap-heavy.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(c.Column == "in")
			for backed, thickness := range map[bool]geometry.Length{true: 80, false: 70} {
				s := tee(t, joints.Tee{Base: plate(thickness), Stem: plate(thickness), Gap: 4, Arrow: joints.EqualFillet(12)})
				s.Backing = &joints.Backing{Kind: joints.BackingStrip}
				got := required(t, only(t, &check.Facts{Section: s, Units: units}, "aws-d1.1-reported/gap-maximum")) / size
				if backed {
					c.Compare(t, got)
				} else if math.Abs(got-c.Printed) < 1 && units == geometry.UnitMM {
					t.Errorf("the wider limit is for heavy material: %v", got)
				}
			}
		})
	}
}

func TestSinglePass(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(20), Stem: plate(20), Arrow: joints.EqualFillet(6)})
	const rule = "aws-d1.1-reported/single-pass"
	for _, c := range jointstest.Published(t, "aws-d1-1-single-pass.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(c.Column == "in")
			facts := &check.Facts{Section: s, Units: units, Passes: 1, Process: c.Text(t, "process"), Position: check.Position(c.Text(t, "position"))}
			c.Compare(t, required(t, only(t, facts, rule))/size)
		})
	}
	for name, tt := range map[string]struct {
		facts check.Facts
		want  check.Verdict
	}{
		"two passes":        {check.Facts{Passes: 2, Process: "smaw", Position: check.Flat}, check.NotApplicable},
		"no process":        {check.Facts{Passes: 1, Position: check.Flat}, check.CannotTell},
		"no line":           {check.Facts{Passes: 1, Process: "gtaw", Position: check.Flat}, check.CannotTell},
		"SAW flat, any":     {check.Facts{Passes: 1, Process: "saw", Position: check.Flat}, check.NotApplicable},
		"SAW not in use up": {check.Facts{Passes: 1, Process: "saw", Position: check.Vertical}, check.CannotTell},
	} {
		tt.facts.Section = s
		if f := only(t, &tt.facts, rule); f.Verdict != tt.want {
			t.Errorf("%s: want %s, got %+v", name, tt.want, f)
		}
	}
}

func TestPW33(t *testing.T) {
	for _, c := range jointstest.Published(t, "asme-i-pw-33.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			p := geometry.Length(c.Number(t, "thickness"))
			s := butt(t, joints.Butt{Left: plate(p), Right: plate(p + 20), HiLo: 0.2, RootOpening: 2, Arrow: &joints.Groove{}})
			rule := "asme-i-pw-33/" + c.Text(t, "direction") + "/offset"
			f := only(t, &check.Facts{Section: s}, rule)
			c.Compare(t, required(t, f))
			if *f.Provided != 0.2 || f.Verdict != check.Met {
				t.Errorf("%+v", f)
			}
			// The hi-lo laid to the limit meets it, a hair more does not.
			for more, want := range map[geometry.Length]check.Verdict{0: check.Met, 0.001: check.NotMet} {
				record := map[string]check.Measured{"arrow": {HiLo: joints.Some(geometry.Length(c.Printed) + more)}}
				if f := only(t, &check.Facts{Section: s, Measured: record}, rule); f.Verdict != want {
					t.Errorf("%v over: %+v", more, f)
				}
			}
		})
	}
}

func TestThroatsAndLegs(t *testing.T) {
	for _, c := range jointstest.Published(t, "throats-and-legs.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			p := joints.Tee{Base: plate(geometry.Length(c.Number(t, "base"))), Stem: plate(geometry.Length(c.Number(t, "stem"))), Arrow: joints.EqualFillet(5)}
			if c.Field("other") != "" {
				p.Other = joints.EqualFillet(5)
			}
			f := all(t, &check.Facts{Section: tee(t, p)}, c.Text(t, "rule"))[0]
			c.Compare(t, required(t, f))
			wanted(t, &c, f)
		})
	}
}

// Both ends of the ranges: the value itself is inside, a hair beyond is not.
func TestRanges(t *testing.T) {
	for _, c := range jointstest.Published(t, "ranges.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			out := 1.0
			if c.Column == "low" {
				out = -1
			}
			for beyond, want := range map[float64]check.Verdict{0: check.Met, 1e-4: check.NotMet} {
				v := c.Printed * (1 + out*beyond)
				var s *joints.Section
				switch c.Text(t, "kind") {
				case "angle":
					if v < 30 {
						continue // steeper than a tee can be
					}
					s = tee(t, joints.Tee{Base: plate(20), Stem: plate(10), Angle: geometry.Angle(v) * geometry.Degree, StemEnd: joints.StemFitted, Arrow: joints.EqualFillet(5)})
				case "share":
					s = tee(t, joints.Tee{Base: plate(20), Stem: plate(12), Arrow: joints.EqualFillet(geometry.Length(12 * v))})
				case "taper":
					s = butt(t, joints.Butt{Left: plate(12), Right: plate(6), Align: joints.AlignTop, RootOpening: 2, Arrow: &joints.Groove{},
						Transition: 1 / (geometry.Angle(v) * geometry.Degree).Tan()})
				}
				f := only(t, &check.Facts{Section: s}, c.Text(t, "rule"))
				if f.Verdict != want {
					t.Errorf("%v: want %s, got %+v", v, want, f)
				}
				if beyond > 0 && math.Abs(*f.Required/unitOf(&c)-c.Printed) > 1e-9 {
					t.Errorf("required %v, printed %v", *f.Required, c.Printed)
				}
				wanted(t, &c, f)
			}
		})
	}
}

func unitOf(c *jointstest.Cell) float64 {
	if c.Field("kind") == "share" {
		return 12
	}
	return 1
}

func TestTransitions(t *testing.T) {
	for _, c := range jointstest.Published(t, "transitions.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			for slope, want := range map[float64]check.Verdict{0: check.NotMet, c.Printed: check.Met, c.Printed - 0.01: check.NotMet} {
				s := butt(t, joints.Butt{Left: plate(12), Right: plate(6), RootOpening: 2, Transition: slope, Arrow: &joints.Groove{}})
				f := only(t, &check.Facts{Section: s}, c.Text(t, "rule"))
				c.Compare(t, required(t, f))
				if f.Verdict != want {
					t.Errorf("1 in %v: want %s, got %+v", slope, want, f)
				}
				wanted(t, &c, f)
			}
			flush := butt(t, joints.Butt{Left: plate(6), Right: plate(6), RootOpening: 2, Arrow: &joints.Groove{}})
			if f := only(t, &check.Facts{Section: flush}, c.Text(t, "rule")); f.Verdict != check.NotApplicable {
				t.Errorf("equal plates: %+v", f)
			}
		})
	}
	// Small steps are left alone where the document says so.
	for rule, step := range map[string]geometry.Length{"asme-viii/UW-9/taper": 1.4, "gas-pipe/14-C/internal-taper": 2.3} {
		s := butt(t, joints.Butt{Left: plate(6 + step), Right: plate(6), Align: joints.AlignTop, RootOpening: 2, Arrow: &joints.Groove{}})
		if f := only(t, &check.Facts{Section: s}, rule); f.Verdict != check.NotApplicable {
			t.Errorf("%s: a step of %v: %+v", rule, step, f)
		}
	}
}

func TestJBT7949(t *testing.T) {
	for _, c := range jointstest.Published(t, "jb-t-7949.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			facts := check.Facts{Position: check.Position(c.Field("position"))}
			rule := "jb-t-7949-1999/" + c.Text(t, "group") + "/cap"
			if c.Field("leg") != "" {
				rule = "jb-t-7949-1999/" + c.Text(t, "group") + "/leg"
				leg := geometry.Length(c.Number(t, "leg"))
				facts.Section = tee(t, joints.Tee{Base: plate(40), Stem: plate(40), Arrow: joints.EqualFillet(leg)})
				facts.Measured = map[string]check.Measured{"arrow": {Legs: [2]joints.Opt{joints.Some(leg + 3.5), joints.Some(leg)}}}
			} else {
				facts.Section = butt(t, joints.Butt{Left: plate(20), Right: plate(20), RootOpening: 10, Arrow: &joints.Groove{Cap: 3.5}})
			}
			f := only(t, &facts, rule)
			c.Compare(t, required(t, f))
			if want := map[bool]check.Verdict{true: check.NotMet, false: check.Met}[c.Printed < 3.5]; f.Verdict != want {
				t.Errorf("want %s, got %+v", want, f)
			}
		})
	}
	s := butt(t, joints.Butt{Left: plate(20), Right: plate(20), RootOpening: 10, Arrow: &joints.Groove{Cap: 3.5}})
	if f := only(t, &check.Facts{Section: s}, "jb-t-7949-1999/arc/cap"); f.Verdict != check.CannotTell {
		t.Errorf("the position decides: %+v", f)
	}
}

func TestReinforcingFillet(t *testing.T) {
	const rule = "aws-d1.1-2015/prequalified/reinforcing-fillet"
	for _, c := range jointstest.Published(t, "aws-d1-1-2015-reinforcing-fillet.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			units, size := column(strings.HasSuffix(c.Column, "in"))
			p := geometry.Length(c.Number(t, "thickness"))
			flush := tee(t, joints.Tee{Base: plate(p), Stem: plate(p), Prep: joints.PrepSingleBevel, Arrow: &joints.Fillet{}})
			f := only(t, &check.Facts{Section: flush, Units: units}, rule)
			c.Compare(t, required(t, f)/size)
			if f.Verdict != check.NotMet || *f.Provided != 0 {
				t.Errorf("a flush groove has no fillet: %+v", f)
			}
		})
	}
}
