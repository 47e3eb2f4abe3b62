package sheet_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"rsc.io/qr"

	"fay/geometry"
	"fay/joints"
	"fay/joints/fitup"
	"fay/render"
	"fay/render/rendertest"
	"fay/render/sheet"
)

// benchJob is the davit foot as a shop would run it: unlike welds, a fit-up
// table, heat lines and a rule that is not met.
func benchJob(tb testing.TB) sheet.Job {
	tb.Helper()
	in := joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(8, "EN AW-5083"), "stem": plateOf(3, "EN AW-6082")},
		Values: map[string]joints.Value{"gap": toleranced(0.3, 0.3, -0.3)},
		Welds:  map[string]map[string]joints.Value{"arrow": weld("leg", 3.0, "face", "convex", "rise", 0.4), "other": weld("leg", 3.0)}}
	job := fullJob(build(tb, in))
	table, ok, err := fitup.NewTable(in, fitup.Spec{})
	if !ok || err != nil {
		tb.Fatal(ok, err)
	}
	job.FitUp = []sheet.GapTable{{Table: table}}
	job.Filler = job.Filler[:4]
	job.Changed = "2025-03-21"
	job.Reason, job.RevisedBy = "gap opened after the trial piece", "R. Poole"
	return job
}

// TestAnOrdinaryJointFitsOneSheet is the promise of the traveler: one sheet on
// both papers, both ways, the weld readable, and the tables of the bench on it.
func TestAnOrdinaryJointFitsOneSheet(t *testing.T) {
	job := benchJob(t)
	for _, size := range []sheet.Size{sheet.A4, sheet.Letter, sheet.A3} {
		for _, turn := range []sheet.Orientation{sheet.Auto, sheet.Portrait, sheet.Landscape} {
			for _, language := range []render.Language{render.LanguageISO, render.LanguageUS} {
				t.Run(string(size)+" "+string(turn)+" "+string(language), func(t *testing.T) {
					sheets, err := sheet.Compose(job, sheet.Options{Size: size, Orientation: turn, Language: language})
					if err != nil {
						t.Fatal(err)
					}
					if len(sheets) != 1 {
						t.Fatalf("%d sheets, want 1", len(sheets))
					}
					if leg := 3 * sheets[0].Views[len(sheets[0].Views)-1].Scale; leg < 6 {
						t.Errorf("the leg is %g mm on paper", leg)
					}
					for _, v := range rendertest.Lint(sheets[0]) {
						t.Error(v)
					}
					all := strings.Join(texts(sheets), "\n")
					for _, want := range []string{"Legs to lay by gap, mm", "(plan)", "Hold points", "Cautions", "Fit-up, mm", "gap opened after the trial piece", "2025-03-21", "1 of 1"} {
						if !strings.Contains(all, want) {
							t.Errorf("%q is missing", want)
						}
					}
				})
			}
		}
	}
}

// TestNothingLeavesTheFrame looks at everything a sheet carries inside its
// frame: no block runs into the title block or off the paper.
func TestNothingLeavesTheFrame(t *testing.T) {
	t.Parallel()
	for _, e := range examples(t) {
		sheets, err := sheet.Compose(e.job, e.o)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range sheets {
			frame := geometry.Box{Min: geometry.Point{X: 20, Y: 10}, Max: geometry.Point{X: d.Width - 10, Y: d.Height - 10}}.Grow(1e-6)
			for i := range d.Items {
				it := &d.Items[i]
				if it.Role == "check bar" || it.Role == "frame" {
					continue
				}
				if it.Text != nil {
					for _, p := range it.Text.Box(0) {
						if !frame.Contains(p) {
							t.Errorf("%s: %q of %s leaves the frame", e.name, it.Text.Content, it.Role)
							break
						}
					}
					continue
				}
				for _, edge := range it.Path.Edges {
					if b := edge.Bounds(); !frame.Contains(b.Min) || !frame.Contains(b.Max) {
						t.Errorf("%s: %s on layer %s leaves the frame at %v", e.name, it.Role, it.Layer, b)
						break
					}
				}
			}
		}
	}
}

// TestAnyWritingStaysOnTheSheet puts writing of all kinds into every field.
func TestAnyWritingStaysOnTheSheet(t *testing.T) {
	for _, test := range []struct{ name, text, shown string }{
		{"500 characters", strings.Repeat("long title ", 50), "long title long title"},
		{"one word of 500 letters", strings.Repeat("w", 500), "wwwwwwwwww"},
		{"right to left", "עגן סיפון של סירת תעלה", "עגן"},
		{"arabic", "لحام قاعدة", "لحام"},
		{"both ways at once", "davit קטן 3 mm", "davit"},
		{"no glyphs", "船の吊り柱", "船の吊り柱"},
		{"control characters", "a\x00b\x07c\x1bd\u202ee\nf\tg", "a"},
		{"accents", "ÅÄÖÉŰ ỗ", "ÅÄÖÉŰ"},
		{"not UTF-8", "a\xff\xfeb", "a"},
		{"only blanks", " \t\n ", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			sec := *davitFoot(t)
			sec.Title = test.text
			for i := range sec.Members {
				sec.Members[i].Material = test.text[:min(len(test.text), 40)]
			}
			job := fullJob(&sec)
			job.Company, job.Part, job.Joint, job.Number, job.Planner, job.Reason = test.text, test.text, test.text, test.text, test.text, test.text
			job.Notes = []string{test.text}
			for _, o := range []sheet.Options{{}, {Size: sheet.Letter, Orientation: sheet.Landscape, Language: render.LanguageUS}} {
				sheets, err := sheet.Compose(job, o)
				if err != nil {
					t.Fatal(err)
				}
				for n, d := range sheets {
					if err := d.Check(); err != nil {
						t.Error(err)
					}
					for _, v := range rendertest.Lint(d) {
						t.Errorf("%+v sheet %d: %v", o, n+1, v)
					}
				}
				if !strings.Contains(strings.Join(texts(sheets), "\n"), test.shown) {
					t.Errorf("%q is not on the sheets", test.shown)
				}
			}
			for _, more := range []func() error{
				func() error { _, err := sheet.Gauge(job, sheet.Options{}); return err },
				func() error { _, err := sheet.Together([]sheet.Job{job}, sheet.Options{}); return err },
				func() error { _, _, err := sheet.Figure(&sec, sheet.Options{}, 190, 250); return err },
			} {
				if err := more(); err != nil {
					t.Error(err)
				}
			}
		})
	}
}

// TestALongTitleIsKept finds a title that was cut short in the notes, whole.
func TestALongTitleIsKept(t *testing.T) {
	sec := *davitFoot(t)
	sec.Title = strings.Repeat("foot of the davit ", 27) + "at last"
	sheets, err := sheet.Compose(fullJob(&sec), sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(texts(sheets), " "); !strings.Contains(all, "Title: foot of the davit") || !strings.Contains(all, "at last") {
		t.Error("the end of the title is nowhere")
	}
}

// TestTheCodeHoldsTheDigest compares the squares on the sheet with the code of
// the text, module by module.
func TestTheCodeHoldsTheDigest(t *testing.T) {
	for _, test := range []struct{ name, joint, revision, want string }{
		{"as usual", "W3", "B", "joint W3 rev B sha256:9f2c4e1b"},
		{"without names", "", "", "sha256:9f2c4e1b"},
		{"long names", strings.Repeat("ä", 300), strings.Repeat("b", 300), "joint " + strings.Repeat("ä", 23) + "… rev " + strings.Repeat("b", 23) + "… sha256:9f2c4e1b"},
	} {
		t.Run(test.name, func(t *testing.T) {
			job := sheet.Job{Section: davitFoot(t), Joint: test.joint, Revision: test.revision, Digest: "sha256:9f2c4e1b77aa03d5"}
			test.want += "7" // sixteen characters of the digest
			test.want = strings.TrimSuffix(test.want, "7") + "7"
			sheets, err := sheet.Compose(job, sheet.Options{})
			if err != nil {
				t.Fatal(err)
			}
			want, err := qr.Encode(test.want, qr.M)
			if err != nil {
				t.Fatal(err)
			}
			var code *render.Path
			box := geometry.EmptyBox()
			for i := range sheets[0].Items {
				if it := &sheets[0].Items[i]; it.Role == "code" {
					code = it.Path
					for _, e := range code.Edges {
						box = box.Union(e.Bounds())
					}
				}
			}
			if code == nil {
				t.Fatal("no code on the sheet")
			}
			module := box.Width() / float64(want.Size)
			if module < 0.4 {
				t.Errorf("modules of %.2f mm", module)
			}
			for y := range want.Size {
				for x := range want.Size {
					p := geometry.Point{X: box.Min.X + (float64(x)+0.5)*module, Y: box.Max.Y - (float64(y)+0.5)*module}
					dark := false
					for k := 0; k+3 < len(code.Edges); k += 4 {
						b := code.Edges[k].Bounds().Union(code.Edges[k+1].Bounds())
						dark = dark || b.Contains(p)
					}
					if dark != want.Black(x, y) {
						t.Fatalf("module %d, %d: dark is %v", x, y, dark)
					}
				}
			}
		})
	}
}

// TestGaugeFitsTheWeld finds the face of the weld on the card at full size, the
// members' surfaces beside it, and no card that does not fit the sheet.
func TestGaugeFitsTheWeld(t *testing.T) {
	sec := davitFoot(t)
	d, err := sheet.Gauge(sheet.Job{Section: sec}, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	v := d.Views[0]
	if v.Scale != 1 {
		t.Fatalf("scale %v", v.Scale)
	}
	var card *render.Path
	for i := range d.Items {
		if it := &d.Items[i]; it.Layer == render.LayerMember {
			card = it.Path
		}
	}
	for _, foot := range sec.Welds[0].Feet {
		near := math.Inf(1)
		for _, e := range card.Edges {
			near = math.Min(near, e.Start().Sub(v.Origin).Dist(foot.Toe))
		}
		if near > 1e-9 {
			t.Errorf("the card misses the toe by %g mm", near)
		}
	}
	big := build(t, joints.Input{Kind: "tee",
		Plates: map[string]joints.PlateInput{"base": plateOf(200, ""), "stem": plateOf(200, "")},
		Values: map[string]joints.Value{}, Welds: map[string]map[string]joints.Value{"arrow": weld("leg", 150.0), "other": weld("leg", 140.0)}})
	if _, err := sheet.Gauge(sheet.Job{Section: big}, sheet.Options{}); err == nil {
		t.Error("gauges of 150 and 140 mm fit an A4 sheet")
	} else if _, ok := errors.AsType[*sheet.TooLargeError](err); !ok {
		t.Error(err)
	}
}

// TestGaugesLieOnTheMembers draws the gauges of all kinds and preparations: the
// cards are closed, run over the face as planned, and cut into no member.
func TestGaugesLieOnTheMembers(t *testing.T) {
	t.Parallel()
	for k := range joints.Kinds {
		for _, job := range variants(t, &joints.Kinds[k]) {
			d, err := sheet.Gauge(job, sheet.Options{Size: sheet.A3})
			if err != nil {
				t.Fatalf("%s: %v", job.Joint, err)
			}
			for _, v := range rendertest.Lint(d) {
				t.Errorf("%s: %v", job.Joint, v)
			}
			for i := range d.Items {
				it := &d.Items[i]
				if it.Layer != render.LayerMember {
					continue
				}
				var ring []geometry.Point
				for n, e := range it.Path.Edges {
					if next := it.Path.Edges[(n+1)%len(it.Path.Edges)]; e.End().Dist(next.Start()) > 1e-6 {
						t.Errorf("%s: the outline of the card is open at edge %d", job.Joint, n)
					}
					for _, p := range e.Flatten(0.01) {
						ring = append(ring, p.Sub(d.Views[it.View].Origin))
					}
				}
				if n := cutInto(job.Section, ring); n > 0 {
					t.Errorf("%s, %s: the card cuts into a member at %d of 3600 points", job.Joint, it.Role, n)
				}
			}
		}
	}
}

// cutInto counts the points of a grid that lie in the ring and in a member.
func cutInto(sec *joints.Section, ring []geometry.Point) int {
	box := geometry.EmptyBox()
	for _, p := range ring {
		box = box.Expand(p)
	}
	const n = 60
	count := 0
	for i := range n {
		for k := range n {
			p := geometry.Point{X: box.Min.X + (float64(i)+0.5)/n*box.Width(), Y: box.Min.Y + (float64(k)+0.5)/n*box.Height()}
			if !within(ring, p) {
				continue
			}
			for m := range sec.Members {
				// A hair's breadth is the roundness of the face.
				if o := sec.Members[m].Outline; o.Locate(p) == geometry.Inside && o.Distance(p) > 0.05 {
					count++
				}
			}
		}
	}
	return count
}

// within reports whether a point lies in a ring.
func within(ring []geometry.Point, p geometry.Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}
