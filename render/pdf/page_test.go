package pdf

import (
	"bytes"
	"strings"
	"sync"
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/rendertest"
)

// TestPagesMadeApart makes pages at the same time: the file is the one written in
// one go.
func TestPagesMadeApart(t *testing.T) {
	drawings := []*render.Drawing{rendertest.Sample(), rendertest.Sheet(1), rendertest.Sheet(2)}
	pages := make([]*Page, len(drawings))
	var all sync.WaitGroup
	for i := range drawings {
		all.Go(func() {
			page, err := NewPage(drawings[i])
			if err != nil {
				t.Error(err)
			}
			pages[i] = page
		})
	}
	all.Wait()
	var got bytes.Buffer
	if err := WritePages(&got, pages, info); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(write(t, info, drawings...), got.Bytes()) {
		t.Error("pages made apart give another file than drawings in one go")
	}
}

// TestLetterAddsAText letters on a page that was made before, in letters that the
// page does not have.
func TestLetterAddsAText(t *testing.T) {
	page, err := NewPage(&render.Drawing{Width: 100, Height: 50})
	if err != nil {
		t.Fatal(err)
	}
	page.Letter(&render.Text{At: geometry.Point{X: 10, Y: 10}, Height: 3.5, Content: "7 of 12"})
	var got bytes.Buffer
	if err := WritePages(&got, []*Page{page}, Info{}); err != nil {
		t.Fatal(err)
	}
	rendertest.ReadPDF(t, got.Bytes())
	if text := rendertest.PDFText(t, got.Bytes()); !strings.Contains(text, "7 of 12") {
		t.Errorf("want the number on the page, got %q", text)
	}
}

func BenchmarkPage(b *testing.B) {
	d := rendertest.Sheet(1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewPage(d); err != nil {
			b.Fatal(err)
		}
	}
}
