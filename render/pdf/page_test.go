package pdf

import (
	"bytes"
	"sync"
	"testing"

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

func BenchmarkPage(b *testing.B) {
	d := rendertest.Sheet(1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewPage(d); err != nil {
			b.Fatal(err)
		}
	}
}
