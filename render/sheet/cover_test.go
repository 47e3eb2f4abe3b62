package sheet_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
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
