package sheet_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/pdf"
	"fay/render/rendertest"
	"fay/render/sheet"
)

// cover is one with n joints, long names among them.
func cover(n int) *sheet.Cover {
	c := &sheet.Cover{
		Company: "canal-boat yard", Number: "CB-150", Title: "deck set of a canal boat", Planner: "M",
		Joints: sheet.CoverTable{
			Heads: []string{"no.", "joint", "what", "members, mm", "parts", "filler", "checks", "sheet"},
			Right: []bool{true, false, false, false, true, false, false, true}, Wide: 2,
		},
		Buying:   sheet.CoverTable{Heads: []string{"filler", "size", "needed", "packs"}, Rows: [][]string{{"5356", "⌀ 2.4 mm × 1000 mm", "124 rods", "1 × 2.5 kg tube"}}},
		Totals:   sheet.CoverTable{Heads: []string{"", ""}, Rows: [][]string{{"joints", fmt.Sprint(n)}, {"weld length", "117.3 m"}}},
		Findings: []string{"260 checks compared, 1 not met on 1 joint", "not met on joint 3: " + strings.Repeat("a rule with a long title ", 12)},
		Notes:    []string{"no seam, so nothing to buy for joint 2"},
		Cautions: []string{"Rules marked memory are not verified against their document."},
	}
	for i := range n {
		what := "stiffener on hatch lid"
		if i%7 == 3 {
			what = strings.Repeat("a stiffener whose name goes on ", 4)
		}
		c.Joints.Rows = append(c.Joints.Rows, []string{fmt.Sprint(i + 1), fmt.Sprintf("W%d", i+1), what, "8 / 5 / 4", "16", "5356 ⌀ 2.4", "31 met", fmt.Sprint(i + 2)})
	}
	return c
}

func TestCoversAreClean(t *testing.T) {
	for _, n := range []int{1, 12, 60, 400} {
		for _, o := range []sheet.Options{{}, {Size: sheet.A3}, {Orientation: sheet.Landscape}, {Size: sheet.Letter, Language: render.LanguageUS, Unit: geometry.UnitInch}} {
			pages, err := sheet.ComposeCover(cover(n), o)
			if err != nil {
				t.Fatal(err)
			}
			for i, d := range pages {
				if err := d.Check(); err != nil {
					t.Errorf("%d joints, %+v, page %d: %v", n, o, i+1, err)
				}
				for _, v := range rendertest.Lint(d) {
					t.Errorf("%d joints, %+v, page %d: %s", n, o, i+1, v)
				}
			}
		}
	}
}

// Every joint stands on the cover once, in order, inside the frame, and the
// last page carries the cautions.
func TestCoverIsComplete(t *testing.T) {
	const n = 130
	pages, err := sheet.ComposeCover(cover(n), sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	next := 1
	var cautions int
	for i, d := range pages {
		for k := range d.Items {
			text := d.Items[k].Text
			if text == nil {
				continue
			}
			if text.At.Y < 10 || text.At.Y > d.Height-10 || text.At.X < 20 || text.At.X > d.Width-10 {
				t.Errorf("page %d: %q stands outside the frame at %v", i+1, text.Content, text.At)
			}
			if text.Content == fmt.Sprintf("W%d", next) {
				next++
			}
			if text.Content == "Cautions" {
				cautions = i + 1
			}
		}
	}
	if next != n+1 || cautions != len(pages) || len(pages) < 3 {
		t.Errorf("%d of %d joints in order on %d pages, cautions on page %d", next-1, n, len(pages), cautions)
	}
}

// byRole are the texts of a page by what they belong to.
func byRole(d *render.Drawing) map[string][]string {
	out := map[string][]string{}
	for i := range d.Items {
		if it := &d.Items[i]; it.Text != nil {
			out[it.Role] = append(out[it.Role], it.Text.Content)
		}
	}
	return out
}

// With all columns there are, what is bought by is read whole, and a column
// that says nothing takes no room.
func TestCoverCutsNothing(t *testing.T) {
	c := cover(30)
	c.Joints.Heads = append(c.Joints.Heads, "weld/part, mm", "cost, EUR", "nothing")
	for i := range c.Joints.Rows {
		c.Joints.Rows[i] = append(c.Joints.Rows[i], "1193,75", "1219,08 *", "")
	}
	for _, o := range []sheet.Options{{}, {Size: sheet.Letter}} {
		pages, err := sheet.ComposeCover(c, o)
		if err != nil {
			t.Fatal(err)
		}
		all := strings.Join(byRole(pages[0])["table:Joints"], "|")
		for _, want := range []string{"members,|mm", "weld/part,|mm", "5356 ⌀ 2.4", "1219,08 *"} {
			if !strings.Contains(all, want) {
				t.Errorf("no %q in %s", want, all)
			}
		}
		if strings.Contains(all, "…") || strings.Contains(all, "nothing") {
			t.Errorf("cut short, or an empty column: %s", all)
		}
	}
}

// No sheet is turned for the cautions alone, and none begins or ends with a
// lone row of a table.
func TestCoverFillsSheets(t *testing.T) {
	for n := 1; n <= 130; n++ {
		c := cover(n)
		for i := range c.Joints.Rows {
			c.Joints.Rows[i][2] = "stiffener on hatch lid"
		}
		for range n % 9 {
			c.Totals.Rows = append(c.Totals.Rows, []string{"a sum", "1 m"})
			c.Cost.Heads, c.Cost.Rows = []string{"", ""}, append(c.Cost.Rows, []string{"a cost", "1 EUR"})
		}
		pages, err := sheet.ComposeCover(c, sheet.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range pages {
			tables := 0
			for role, list := range byRole(d) {
				if !strings.HasPrefix(role, "table:") {
					continue
				}
				tables++
				marks := slices.DeleteFunc(slices.Clone(list), func(s string) bool { return !strings.HasPrefix(s, "W") })
				if strings.HasPrefix(role, "table:Joints") && len(marks) == 1 && n > 1 {
					t.Errorf("%d joints: one row alone on page %d", n, i+1)
				}
			}
			if tables < 2 && i == len(pages)-1 {
				t.Errorf("%d joints: one table alone on the last page, %v", n, byRole(d))
			}
		}
	}
}

// A title written from the right leaves the number of the job before it.
func TestCoverIsolatesTitles(t *testing.T) {
	c := cover(1)
	c.Title = "\u05e9\u05dc\u05d5\u05dd"
	pages, err := sheet.ComposeCover(c, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := byRole(pages[0])["title"][0], "Job CB-150: \u2068"+c.Title+"\u2069"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
}

func TestCoverRefused(t *testing.T) {
	_, err := sheet.ComposeCover(&sheet.Cover{}, sheet.Options{Size: "a0"})
	if _, bad := errors.AsType[*sheet.OptionError](err); !errors.Is(err, sheet.ErrNoJoints) || !bad {
		t.Errorf("error %v, want the missing joints and the size", err)
	}
}

// A row that no sheet can hold ends all the same.
func TestCoverOfAHugeRow(t *testing.T) {
	c := cover(3)
	c.Joints.Rows[1][2] = strings.Repeat("words without end ", 2000)
	pages, err := sheet.ComposeCover(c, sheet.Options{})
	if err != nil || len(pages) > 10 {
		t.Errorf("%d pages, error %v", len(pages), err)
	}
}

func TestCoverIsReproducible(t *testing.T) {
	rendertest.Reproducible(t, func(w io.Writer) error {
		pages, err := sheet.ComposeCover(cover(60), sheet.Options{})
		if err != nil {
			return err
		}
		return pdf.Write(w, pages, pdf.Info{})
	})
}

func BenchmarkCover(b *testing.B) {
	c := cover(1000)
	for b.Loop() {
		pages, err := sheet.ComposeCover(c, sheet.Options{})
		if err != nil || pdf.Write(new(bytes.Buffer), pages, pdf.Info{}) != nil {
			b.Fatal(err)
		}
	}
}
