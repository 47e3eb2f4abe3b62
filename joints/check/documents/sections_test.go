package documents_test

import (
	"math"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/jointstest"
)

func butt(tb testing.TB, p joints.Butt) *joints.Section {
	tb.Helper()
	s, err := joints.NewButt(p)
	if err != nil {
		tb.Fatal(err)
	}
	return &s
}

// all are the findings of a rule.
func all(tb testing.TB, facts *check.Facts, rule string) []check.Finding {
	tb.Helper()
	for _, d := range documents.Known() {
		for i := range d.Rules {
			if d.Rules[i].ID == rule {
				d.Rules = d.Rules[i : i+1]
				return check.Run(facts, []check.Document{d})
			}
		}
	}
	tb.Fatalf("no rule %s", rule)
	return nil
}

// only is the one finding of a rule.
func only(tb testing.TB, facts *check.Facts, rule string) check.Finding {
	tb.Helper()
	found := all(tb, facts, rule)
	if len(found) != 1 {
		tb.Fatalf("want one finding of %s, got %+v", rule, found)
	}
	return found[0]
}

// wanted checks the provenance that the cell was read with against the finding:
// what was read of another edition is secondary for the one on file.
func wanted(t *testing.T, c *jointstest.Cell, f check.Finding) {
	t.Helper()
	if (c.Provenance == "memory") != (f.Provenance == check.Memory) {
		t.Errorf("read as %s, found as %s", c.Provenance, f.Provenance)
	}
}

// zeros is a record of a weld without any defect.
func zeros() check.Measured {
	z := joints.Some(0)
	return check.Measured{Undercut: z, RootUndercut: z, Underfill: z, RootConcavity: z, RunOver: z, LackOfFusion: z, LackOfPenetration: z,
		Throat: joints.Some(0.1), HiLo: z, CapHeight: z, RootHeight: z, Gap: z}
}

// sized makes a joint in which the size that the limit of a number grows with
// has a value, on plate that its cell is for.
func sized(t *testing.T, number, plates string, step int) (facts check.Facts, x float64) {
	t.Helper()
	thin := plates == "0.5 to 3"
	thickness := []geometry.Length{3.5, 4.5, 250}[step]
	if plates == "round" {
		thickness = []geometry.Length{1, 3, 250}[step]
	}
	if thin {
		thickness = []geometry.Length{1.5, 3, 3}[step]
	}
	record := map[string]check.Measured{"arrow": zeros()}
	switch number {
	case "4021", "5011", "5013", "511", "515", "507", "401":
		s := butt(t, joints.Butt{Left: plate(thickness), Right: plate(300), RootOpening: 1, Arrow: &joints.Groove{}})
		return check.Facts{Section: s, Measured: record, Round: plates == "round"}, float64(thickness)
	case "502":
		open := []geometry.Length{2, 6, 25}[step]
		prep := joints.PrepSquare
		if step == 2 {
			prep = joints.PrepSingleV
		}
		s := butt(t, joints.Butt{Left: plate(60), Right: plate(60), RootOpening: open, Prep: prep, Arrow: &joints.Groove{}})
		return check.Facts{Section: s, Measured: record}, float64(s.Welds[0].FaceWidth)
	case "504":
		p := geometry.Length(20)
		if thin {
			p = 3
		}
		open := []geometry.Length{1, 2, 25}[step]
		s := butt(t, joints.Butt{Left: plate(p), Right: plate(p), RootOpening: open, Arrow: &joints.Groove{}})
		return check.Facts{Section: s, Measured: record}, float64(open)
	}
	leg := []geometry.Length{2, 4, 120}[step]
	p := geometry.Length(200)
	if thin {
		p = 3
	}
	s := tee(t, joints.Tee{Base: plate(p), Stem: plate(p), Arrow: joints.EqualFillet(leg)})
	x = float64(s.Welds[0].TheoreticalThroat)
	if number == "506" {
		x = float64(s.Welds[0].FaceWidth)
	}
	return check.Facts{Section: s, Measured: record}, x
}

// Every cell of the table, its formula taken apart by joints of two sizes.
func TestISO5817Sections(t *testing.T) {
	for _, c := range jointstest.Published(t, "iso-5817-sections.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			number, plates := c.Text(t, "number"), c.Text(t, "plates")
			rule := "iso-5817-2014/" + c.Text(t, "level") + "/" + number
			limit := func(step int) (x, h float64, f check.Finding) {
				facts, x := sized(t, number, plates, step)
				f = only(t, &facts, rule)
				return x, required(t, f), f
			}
			x1, h1, f := limit(0)
			x2, h2, _ := limit(1)
			factor := (h2 - h1) / (x2 - x1)
			wanted(t, &c, f)
			switch c.Column {
			case "limit":
				c.Compare(t, h1)
				c.Compare(t, h2)
			case "base":
				c.Compare(t, h1-factor*x1)
			case "factor":
				c.Compare(t, factor)
			case "maximum":
				_, most, _ := limit(2)
				c.Compare(t, most)
			}
			// A defect inside the limit is allowed, as a short one where the
			// cell says so.
			facts, _ := sized(t, number, plates, 0)
			if h1 == 0 || number == "502" || number == "504" || number == "617" || number == "507" {
				return
			}
			facts.Measured["arrow"] = defect(&facts, h1*0.9)
			f = only(t, &facts, rule)
			if short := strings.Contains(f.Note, "short imperfection"); f.Verdict != check.Met || short != (c.Field("manner") == "short") {
				t.Errorf("a defect of %v under a limit of %v: %s, %q", h1*0.9, h1, f.Verdict, f.Note)
			}
		})
	}
}

// defect is a record with every depth h deep.
func defect(f *check.Facts, h float64) check.Measured {
	v := joints.Some(geometry.Length(h))
	w := &f.Section.Welds[0]
	m := zeros()
	m.Undercut, m.RootUndercut, m.Underfill, m.RootConcavity, m.RunOver, m.LackOfFusion, m.LackOfPenetration = v, v, v, v, v, v, v
	m.HiLo, m.CapHeight, m.RootHeight, m.Gap = v, v, v, v
	m.Throat = joints.Some(w.EffectiveThroat - geometry.Length(h))
	return m
}

func TestISO5817ExcessiveThroat(t *testing.T) {
	facts, _ := sized(t, "5214", "t >= 0.5", 1)
	w := &facts.Section.Welds[0]
	a := float64(w.EffectiveThroat)
	for level, most := range map[string]float64{"C": 1 + 0.2*a, "B": 1 + 0.15*a} {
		for over, want := range map[float64]check.Verdict{most - 0.01: check.Met, most + 0.01: check.NotMet} {
			facts.Measured["arrow"] = check.Measured{Throat: joints.Some(w.EffectiveThroat + geometry.Length(over))}
			if f := only(t, &facts, "iso-5817-2014/"+level+"/5214"); f.Verdict != want {
				t.Errorf("level %s, %v over: want %s, got %+v", level, over, want, f)
			}
		}
	}
	if f := only(t, &facts, "iso-5817-2014/D/5214"); f.Verdict != check.NotApplicable || f.Note != "the level permits any" {
		t.Errorf("level D permits any: %+v", f)
	}
}

func TestISO5817Toes(t *testing.T) {
	for _, c := range jointstest.Published(t, "iso-5817-toes.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			s := tee(t, joints.Tee{Base: plate(8), Stem: plate(8), Arrow: joints.EqualFillet(5)})
			if c.Text(t, "weld") == "butt" {
				s = butt(t, joints.Butt{Left: plate(8), Right: plate(8), RootOpening: 4, Arrow: &joints.Groove{Cap: 1}})
			}
			f := only(t, &check.Facts{Section: s}, "iso-5817-2014/"+c.Text(t, "level")+"/505")
			c.Compare(t, required(t, f))
			wanted(t, &c, f)
		})
	}
}

// The sharper of two toes counts, planned steeper than a limit it is not met.
func TestToeAngle(t *testing.T) {
	flat := tee(t, joints.Tee{Base: plate(10), Stem: plate(10), Arrow: &joints.Fillet{Legs: [2]geometry.Length{4, 6}}})
	steep := 180 - math.Atan2(6, 4)*180/math.Pi
	f := only(t, &check.Facts{Section: flat}, "iso-5817-2014/C/505")
	if math.Abs(*f.Provided-steep) > 1e-9 || f.Verdict != check.Met {
		t.Errorf("want %v, got %+v", steep, f)
	}
	round := tee(t, joints.Tee{Base: plate(10), Stem: plate(10), Arrow: &joints.Fillet{Legs: [2]geometry.Length{5, 5}, Face: joints.FaceConvex, Rise: 1.4}})
	if f := only(t, &check.Facts{Section: round}, "iso-5817-2014/B/505"); f.Verdict != check.NotMet || f.Mend != "a flatter face" {
		t.Errorf("a proud face: %+v", f)
	}
}

// A plan has no defects; a record may not have looked for all; thin plate is
// not on file for a hollow root.
func TestDefectsOfPlans(t *testing.T) {
	s := butt(t, joints.Butt{Left: plate(8), Right: plate(8), RootOpening: 2, Arrow: &joints.Groove{}})
	thin := butt(t, joints.Butt{Left: plate(2), Right: plate(8), RootOpening: 2, Arrow: &joints.Groove{}})
	sheet := butt(t, joints.Butt{Left: plate(0.4), Right: plate(8), RootOpening: 0.5, Arrow: &joints.Groove{}})
	record := map[string]check.Measured{"arrow": {RootConcavity: joints.Some(0.3)}}
	for name, tt := range map[string]struct {
		facts   check.Facts
		rule    string
		verdict check.Verdict
		note    string
	}{
		"a plan":             {check.Facts{Section: s}, "5011", check.NotApplicable, "a plan has no undercut"},
		"not measured":       {check.Facts{Section: s, Measured: record}, "5011", check.CannotTell, "undercut was not measured"},
		"measured":           {check.Facts{Section: s, Measured: record}, "515", check.Met, "measured; allowed as a short imperfection only; a section does not show its length"},
		"thin, not on file":  {check.Facts{Section: thin, Measured: record}, "515", check.CannotTell, "the values for plates of this thickness are not on file"},
		"under the scope":    {check.Facts{Section: sheet, Measured: record}, "515", check.NotApplicable, "the limits begin at plates of 0.5 mm"},
		"no fillet here":     {check.Facts{Section: s, Measured: record}, "617", check.NotApplicable, "no weld here has a gap"},
		"penetrates one way": {check.Facts{Section: s, Measured: record}, "4021", check.CannotTell, "lack of penetration was not measured"},
	} {
		t.Run(name, func(t *testing.T) {
			f := only(t, &tt.facts, "iso-5817-2014/C/"+tt.rule)
			if f.Verdict != tt.verdict || f.Note != tt.note {
				t.Errorf("want %s, %q; got %s, %q", tt.verdict, tt.note, f.Verdict, f.Note)
			}
		})
	}
}

// Measured values take the place of planned ones.
func TestMeasuredBeforePlanned(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(10), Stem: plate(10), Gap: 0.5, Arrow: joints.EqualFillet(5)})
	made := map[string]check.Measured{"arrow": {
		Legs: [2]joints.Opt{joints.Some(9), joints.Some(5)}, Convexity: joints.Some(4), Gap: joints.Some(3)}}
	for rule, want := range map[string]float64{"503": 4, "512": 4, "617": 3} {
		planned := only(t, &check.Facts{Section: s}, "iso-5817-2014/B/"+rule)
		f := only(t, &check.Facts{Section: s, Measured: made}, "iso-5817-2014/B/"+rule)
		if planned.Verdict != check.Met || f.Verdict != check.NotMet || *f.Provided != want || !strings.Contains(f.Note, "measured") {
			t.Errorf("%s: planned %s, measured %+v", rule, planned.Verdict, f)
		}
	}
}

func TestISO10042HasNoValues(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(8), Stem: plate(3), Arrow: joints.EqualFillet(3)})
	findings, err := documents.Run(&check.Facts{Section: s, Families: []string{"aluminium", "aluminium"}}, []string{"iso-10042/C"})
	if err != nil || len(findings) == 0 {
		t.Fatal(err, findings)
	}
	told := 0
	for _, f := range findings {
		switch {
		case f.Verdict == check.CannotTell && f.Note == "values not on file":
			told++
		case f.Verdict != check.NotApplicable:
			t.Errorf("%+v", f)
		}
	}
	if told != 2 { // convexity and asymmetry
		t.Errorf("want 2 rules that a fillet shows, got %d", told)
	}
	for _, id := range documents.IDs() {
		if strings.HasPrefix(id, "iso-10042") {
			t.Error("documents without values are not among those on file")
		}
	}
}
