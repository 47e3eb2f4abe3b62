package documents_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	awsd112020 "fay/joints/check/aws_d1_1_2020"
	bs3019 "fay/joints/check/bs_3019"
	"fay/joints/check/documents"
	gbt985 "fay/joints/check/gb_t_985_1988"
	iso96921 "fay/joints/check/iso_9692_1"
	iso96923 "fay/joints/check/iso_9692_3"
	mathers2002 "fay/joints/check/mathers_2002"
	"fay/joints/check/preparation"
	"fay/joints/jointstest"
)

var prepTables = []*preparation.Table{&awsd112020.Table, &bs3019.Table, &gbt985.Table, &iso96921.Table, &iso96923.Table, &mathers2002.Table}

// Every cell of every table, as printed.
func TestPreparationRows(t *testing.T) {
	read := map[string]bool{}
	for _, c := range jointstest.Published(t, "preparations.csv") {
		t.Run(c.Name(), func(t *testing.T) {
			r := row(t, c.Table, c.Row)
			read[c.Table+"/"+c.Row] = true
			size := 1.0
			if c.Field("unit") == "in" {
				size = float64(geometry.Inch)
			}
			plus := c.Number(t, "plus") // the drawing tolerance beside the printed value
			low := c.Text(t, "end") == "low"
			end := func(s preparation.Span) float64 {
				if !s.Given() {
					t.Fatal("the row has no such value")
				}
				if low {
					return s.Low
				}
				return s.High
			}
			switch c.Text(t, "part") {
			case "thickness":
				got := float64(r.To)
				if low {
					got = float64(r.From)
				}
				c.Compare(t, got/size)
			case "times":
				c.Compare(t, r.Opening.PerThickness)
			case "angle":
				c.Compare(t, end(r.Angle)-plus)
			case "opening":
				c.Compare(t, end(r.Opening)/size-plus)
			case "root-face":
				c.Compare(t, end(r.RootFace)/size-plus)
			case "radius":
				c.Compare(t, end(r.Radius)/size-plus)
			}
			table, _ := tableOf(c.Table)
			if want := provenance(table, r); string(want) != c.Provenance {
				t.Errorf("read as %s, on file as %s", c.Provenance, want)
			}
		})
	}
	for _, table := range prepTables {
		for i := range table.Rows {
			if id := table.ID + "/" + table.Rows[i].Name; !read[id] {
				t.Errorf("%s has no row in the published values", id)
			}
		}
	}
}

func provenance(t *preparation.Table, r *preparation.Row) check.Provenance {
	if r.Provenance != "" {
		return r.Provenance
	}
	return t.Provenance
}

func tableOf(id string) (*preparation.Table, bool) {
	for _, t := range prepTables {
		if t.ID == id {
			return t, true
		}
	}
	return nil, false
}

func row(t *testing.T, table, name string) *preparation.Row {
	t.Helper()
	p, ok := tableOf(table)
	if ok {
		for i := range p.Rows {
			if p.Rows[i].Name == name {
				return &p.Rows[i]
			}
		}
	}
	t.Fatalf("no row %s in %s", name, table)
	return nil
}

// prepared is a butt joint with a full preparation.
func prepared(t *testing.T, prep joints.Prep, thickness geometry.Length, bevel geometry.Angle, opening, face, radius geometry.Length) *joints.Section {
	t.Helper()
	p := joints.Butt{Left: plate(thickness), Right: plate(thickness + 4), Prep: prep, RootOpening: opening, RootFace: face, Arrow: &joints.Groove{}}
	p.Flank = joints.Flank{Bevel: [2]geometry.Angle{bevel, bevel}, Radius: [2]geometry.Length{radius, radius}}
	if strings.HasPrefix(string(prep), "double") {
		p.Other, p.OtherFlank = &joints.Groove{}, p.Flank
	}
	if prep == joints.PrepSquare {
		p.Flank = joints.Flank{}
	}
	return butt(t, p)
}

const deg = geometry.Degree

func TestPreparationChecks(t *testing.T) {
	steel, aluminium := []string{"steel", "steel"}, []string{"aluminium", "aluminium"}
	backed := func(s *joints.Section) *joints.Section {
		s.Backing = &joints.Backing{Kind: joints.BackingStrip}
		return s
	}
	type want map[string]check.Verdict
	for name, tt := range map[string]struct {
		section  *joints.Section
		families []string
		process  string
		document string
		want     want
	}{
		"a V in aluminium by TIG": {prepared(t, joints.PrepSingleV, 6.4, 40*deg, 2, 1.6, 0), aluminium, "gtaw", "mathers-2002/preparation",
			want{"angle": check.Met, "opening": check.NotApplicable, "root-face": check.Met, "radius": check.NotApplicable}},
		"too narrow for aluminium": {prepared(t, joints.PrepSingleV, 6.35, 30*deg, 2, 1, 0), aluminium, "gtaw", "mathers-2002/preparation",
			want{"angle": check.NotMet, "root-face": check.NotMet}},
		"the same in steel": {prepared(t, joints.PrepSingleV, 6.35, 30*deg, 2, 1, 0), steel, "gtaw", "gb-t-985-1988/preparation",
			want{"angle": check.Met, "opening": check.Met, "root-face": check.Met, "radius": check.NotApplicable}},
		"a wide one is not steel's": {prepared(t, joints.PrepSingleV, 6.4, 40*deg, 2, 1.6, 0), steel, "gtaw", "gb-t-985-1988/preparation",
			want{"angle": check.NotMet, "opening": check.Met, "root-face": check.Met}},
		"thickness without a row": {prepared(t, joints.PrepSingleV, 8, 40*deg, 2, 1.6, 0), aluminium, "gtaw", "mathers-2002/preparation",
			want{"angle": check.NotApplicable, "root-face": check.NotApplicable}},
		"another process": {prepared(t, joints.PrepSingleV, 6.4, 40*deg, 2, 1.6, 0), aluminium, "saw", "mathers-2002/preparation",
			want{"angle": check.NotApplicable}},
		"MIG on permanent backing": {backed(prepared(t, joints.PrepSingleV, 16, 30*deg, 4.5, 0, 0)), aluminium, "gmaw", "mathers-2002/preparation",
			want{"angle": check.Met, "opening": check.Met, "root-face": check.Met}},
		"MIG without it": {prepared(t, joints.PrepSingleV, 16, 30*deg, 4.5, 0, 0), aluminium, "gmaw", "mathers-2002/preparation",
			want{"angle": check.NotApplicable}},
		"landed V": {prepared(t, joints.PrepSingleU, 12, 18*deg, 0, 5, 2), aluminium, "gtaw", "mathers-2002/preparation",
			want{"angle": check.Met, "opening": check.Met, "root-face": check.Met, "radius": check.Met}},
		"landed V with a gap": {prepared(t, joints.PrepSingleU, 12, 18*deg, 1, 5, 2), aluminium, "gtaw", "mathers-2002/preparation",
			want{"angle": check.Met, "opening": check.NotMet}},
		"square": {prepared(t, joints.PrepSquare, 3, 0, 1, 0, 0), steel, "", "gb-t-985-1988/preparation",
			want{"angle": check.NotApplicable, "opening": check.Met, "root-face": check.NotApplicable}},
		"square, too thick": {prepared(t, joints.PrepSquare, 8, 0, 1, 0, 0), steel, "", "gb-t-985-1988/preparation",
			want{"opening": check.NotApplicable}},
		"U": {prepared(t, joints.PrepSingleU, 25, 8*deg, 2, 3, 6), steel, "smaw", "gb-t-985-1988/preparation",
			want{"angle": check.Met, "opening": check.Met, "root-face": check.Met, "radius": check.Met}},
		"U by the included angle": {prepared(t, joints.PrepSingleU, 25, 10*deg, 2, 3.5, 6.35), steel, "smaw", "aws-d1.1-2020/prequalified",
			want{"angle": check.Met, "opening": check.Met, "root-face": check.Met, "radius": check.Met}},
		"double V": {prepared(t, joints.PrepDoubleV, 20, 30*deg, 2, 2, 0), steel, "smaw", "gb-t-985-1988/preparation",
			want{"angle": check.Met, "opening": check.Met, "root-face": check.Met}},
		"single V with backing, steep": {backed(prepared(t, joints.PrepSingleV, 20, 10*deg, 8, 0, 0)), steel, "smaw", "gb-t-985-1988/preparation",
			want{"angle": check.Met, "opening": check.Met}},
		"bevel on a T": {tee(t, joints.Tee{Base: plate(12), Stem: plate(10), Gap: 2, Prep: joints.PrepSingleBevel, RootFace: 2, Arrow: &joints.Fillet{Legs: [2]geometry.Length{5, 14}}}), steel, "smaw", "aws-d1.1-2020/prequalified",
			want{"angle": check.Met, "opening": check.Met, "root-face": check.Met}},
		"partial": {tee(t, joints.Tee{Base: plate(12), Stem: plate(10), Prep: joints.PrepSingleBevel, ArrowBevel: joints.StemBevel{Depth: 4}, Arrow: &joints.Fillet{}}), steel, "smaw", "aws-d1.1-2020/prequalified",
			want{"angle": check.NotApplicable, "opening": check.NotApplicable}},
		"fillet gap": {tee(t, joints.Tee{Base: plate(12), Stem: plate(6), Gap: 2.5, Arrow: joints.EqualFillet(6)}), steel, "smaw", "gb-t-985-1988/preparation",
			want{"opening": check.NotMet, "angle": check.NotApplicable}},
		"no range in the table": {prepared(t, joints.PrepSquare, 4, 0, 2, 0, 0), steel, "gtaw", "iso-9692-1/preparation",
			want{"opening": check.CannotTell}},
		"up to half the thickness": {prepared(t, joints.PrepSquare, 6, 0, 3, 0, 0), steel, "gmaw", "iso-9692-1/preparation",
			want{"opening": check.Met}},
		"over half the thickness": {prepared(t, joints.PrepSquare, 6, 0, 3.1, 0, 0), steel, "gmaw", "iso-9692-1/preparation",
			want{"opening": check.NotMet}},
	} {
		t.Run(name, func(t *testing.T) {
			for part, verdict := range tt.want {
				found := all(t, &check.Facts{Section: tt.section, Families: tt.families, Process: tt.process}, tt.document+"/"+part)
				for _, f := range found {
					if f.Verdict != verdict {
						t.Errorf("%s: want %s, got %+v", part, verdict, f)
					}
					if f.Verdict == check.NotMet && f.Mend == "" {
						t.Errorf("%s: no mend: %+v", part, f)
					}
				}
			}
		})
	}
}

// A remembered row fails no joint, though another row of the table would.
func TestRememberedRows(t *testing.T) {
	s := prepared(t, joints.PrepSingleV, 10, 20*deg, 2, 0, 0)
	f := only(t, &check.Facts{Section: s}, "aws-d1.1-2020/prequalified/angle")
	if f.Verdict != check.NotMet || f.Provenance != check.Memory || f.Failure() {
		t.Errorf("B-U2 is from memory: %+v", f)
	}
	s = prepared(t, joints.PrepSingleBevel, 10, 30*deg, 2, 0, 0)
	f = only(t, &check.Facts{Section: s}, "aws-d1.1-2020/prequalified/angle")
	if f.Verdict != check.NotMet || f.Provenance != check.Primary || !f.Failure() {
		t.Errorf("B-U4b was read: %+v", f)
	}
}

// Every row fits itself: a joint made from what Suits says meets the table.
func TestSuitsIsMet(t *testing.T) {
	tried := map[joints.Prep]int{}
	for _, thickness := range []geometry.Length{1.5, 3, 5, 8, 12.5, 16, 20, 25, 40} {
		for _, p := range documents.Suits(thickness, "", "") {
			if p.Butt == preparation.No || p.Prep == preparation.Flanged || p.Prep == preparation.Compound || p.Prep == preparation.Fillet || p.Backing == preparation.Yes {
				continue
			}
			bevel := geometry.Angle(p.Angle.Nominal) * deg
			if strings.HasSuffix(string(p.Prep), "-v") {
				bevel /= 2
			}
			if p.Opening.About || p.Angle.About || p.RootFace.About || p.RootFace.Nominal >= float64(thickness)/2 {
				continue
			}
			opening := geometry.Length(p.Opening.Nominal)
			if p.Prep == joints.PrepSquare && opening == 0 {
				continue // a closed square groove holds no metal
			}
			joint := joints.Butt{Left: plate(thickness), Right: plate(thickness), Prep: p.Prep, RootOpening: opening,
				RootFace: geometry.Length(p.RootFace.Nominal), Arrow: &joints.Groove{}, Flank: joints.Flank{Bevel: [2]geometry.Angle{bevel, bevel}}}
			if p.Radius.Given() {
				joint.Flank.Radius = [2]geometry.Length{geometry.Length(p.Radius.Nominal), geometry.Length(p.Radius.Nominal)}
			}
			if strings.HasPrefix(string(p.Prep), "double") {
				joint.Other, joint.OtherFlank = &joints.Groove{}, joint.Flank
			}
			s, err := joints.NewButt(joint)
			if err != nil {
				t.Errorf("%s, %s, %v mm: %v", p.Document, p.Row, thickness, err)
				continue
			}
			process := ""
			if len(p.Processes) > 0 {
				process = p.Processes[0]
			}
			for _, f := range check.Run(&check.Facts{Section: &s, Process: process}, document(t, p.Document)) {
				if f.Verdict == check.NotMet {
					t.Errorf("%s, %s, %v mm: %+v", p.Document, p.Row, thickness, f)
				}
			}
			tried[p.Prep]++
		}
	}
	for _, p := range []joints.Prep{joints.PrepSquare, joints.PrepSingleV, joints.PrepSingleBevel, joints.PrepSingleU, joints.PrepSingleJ, joints.PrepDoubleV, joints.PrepDoubleBevel} {
		if tried[p] == 0 {
			t.Errorf("no %s was tried", p)
		}
	}
}

func document(t *testing.T, id string) []check.Document {
	t.Helper()
	d, err := documents.Select([]string{id})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestSuits(t *testing.T) {
	var names []string
	for _, p := range documents.Suits(4.8, "aluminium", "gtaw") {
		names = append(names, p.Document+": "+p.Row)
		if p.Provenance == "" || p.Source.Document == "" {
			t.Errorf("no papers: %+v", p)
		}
	}
	want := []string{"mathers-2002/preparation: DC-TIG (He), square butt", "mathers-2002/preparation: TIG (BS 3019), V",
		// A land of 4.5 mm and its radius find no room: no landed V for AC-TIG.
		"mathers-2002/preparation: landed V, DC-TIG or MIG",
		"bs-3019/preparation: V", "iso-9692-3/preparation: V, TIG"}
	if !slices.Equal(want, names) {
		t.Errorf("want %q, got %q", want, names)
	}
	if got := documents.Suits(4.8, "copper", ""); got == nil || len(got) != 0 {
		t.Errorf("nothing suits copper: %+v", got)
	}
	half := documents.Suits(6, "steel", "gmaw")
	i := slices.IndexFunc(half, func(p preparation.Preparation) bool { return p.Row == "square, two sides, 13" })
	if i < 0 || math.Abs(half[i].Opening.High-3) > 1e-12 || half[i].Opening.Nominal != 1.5 {
		t.Errorf("up to half of 6 mm: %+v", half)
	}
}
