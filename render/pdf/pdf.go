package pdf

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"fay/render"
)

// Info is what the file says about itself. An empty field is left out; an
// empty Title takes the title of the first page.
type Info struct {
	Title, Author, Subject string
}

// date is the date of every file: the same drawing gives the same bytes. The
// date of a sheet is lettered on it.
const date = "D:20000101000000Z"

// pointsPerMm turns mm into PDF units of 1/72 in; 72/25.4 exactly.
const pointsPerMm = 72 / 25.4

// Write writes the drawings as pages. It fails before the first byte when there
// is no page or a drawing has faults (see render.Drawing.Check), and with the
// writer's error.
func Write(w io.Writer, drawings []*render.Drawing, info Info) error {
	pages := make([]*Page, len(drawings))
	for i, d := range drawings {
		var err error
		if pages[i], err = NewPage(d); err != nil {
			return fmt.Errorf("pdf: page %d: %w", i+1, err)
		}
	}
	return WritePages(w, pages, info)
}

// WritePages writes pages that were made before. It fails when there is none,
// and with the writer's error.
func WritePages(w io.Writer, pages []*Page, info Info) error {
	if len(pages) == 0 {
		return errors.New("pdf: a file needs at least one page")
	}
	doc := &document{file: newFile(), fonts: collect(pages)}
	if err := doc.write(pages, info); err != nil {
		return err
	}
	_, err := w.Write(doc.bytes())
	return err
}

type document struct {
	*file
	fonts []*font // by their index in the lettering; nil for unused ones
}

// The objects that others point to before they are written.
const (
	refCatalog ref = iota + 1
	refInfo
	refPages
	reserved = int(refPages)
)

func (d *document) write(pages []*Page, info Info) error {
	for _, f := range d.fonts {
		if f != nil {
			if err := d.embed(f); err != nil {
				return err
			}
		}
	}
	resources := d.resources()
	refs := make([]ref, len(pages))
	for i, p := range pages {
		refs[i] = d.page(p, resources)
	}
	d.begin(refPages)
	d.printf("<</Type/Pages/Count %d/Kids[", len(refs))
	for _, r := range refs {
		d.printf("%d 0 R ", r)
	}
	d.printf("]>>")
	d.end()

	outlines := d.outlines(pages, refs)
	d.catalog(pages[0], len(pages), outlines)
	if info.Title == "" {
		info.Title = pages[0].title
	}
	d.info(info)
	d.finish()
	return nil
}

// resources lists the fonts, the same for every page.
func (d *document) resources() string {
	var b strings.Builder
	b.WriteString("<</Font<<")
	for _, f := range d.fonts {
		if f != nil {
			fmt.Fprintf(&b, "/%s %d 0 R", nameOf(f.font), f.ref)
		}
	}
	b.WriteString(">>>>")
	return b.String()
}

func (d *document) page(p *Page, resources string) ref {
	stream := fmt.Sprintf("%d 0 R", d.packed("", p.content))
	if p.later != nil {
		stream = fmt.Sprintf("[%s %d 0 R]", stream, d.packed("", p.later))
	}
	r := d.next()
	d.begin(r)
	d.printf("<</Type/Page/Parent %d 0 R/MediaBox[0 0 ", refPages)
	d.number(p.width*pointsPerMm, 4)
	d.printf(" ")
	d.number(p.height*pointsPerMm, 4)
	d.printf("]/Resources%s/Contents %s>>", resources, stream)
	d.end()
	return r
}

// outlines writes one bookmark per page; a single page needs none.
func (d *document) outlines(pages []*Page, refs []ref) ref {
	if len(pages) < 2 {
		return 0
	}
	root := d.next()
	first := root + 1
	last := root + ref(len(pages))
	d.begin(root)
	d.printf("<</Type/Outlines/Count %d/First %d 0 R/Last %d 0 R>>", len(pages), first, last)
	d.end()
	for i, p := range pages {
		r := d.next()
		d.begin(r)
		title := p.title
		if title == "" {
			title = fmt.Sprintf("%d", i+1)
		}
		d.printf("<</Title%s/Parent %d 0 R/Dest[%d 0 R/Fit]", text(title), root, refs[i])
		if r > first {
			d.printf("/Prev %d 0 R", r-1)
		}
		if r < last {
			d.printf("/Next %d 0 R", r+1)
		}
		d.printf(">>")
		d.end()
	}
	return root
}

func (d *document) catalog(first *Page, pages int, outlines ref) {
	d.begin(refCatalog)
	d.printf("<</Type/Catalog/Pages %d 0 R", refPages)
	d.printf("/ViewerPreferences<</PrintScaling/None/DisplayDocTitle true>>")
	if first.language != "" {
		d.printf("/Lang%s", text(first.language))
	}
	if pages > 1 {
		d.printf("/PageLabels<</Nums[0<</S/D>>]>>/PageMode/UseOutlines/Outlines %d 0 R", outlines)
	}
	d.printf(">>")
	d.end()
}

func (d *document) info(info Info) {
	d.begin(refInfo)
	d.printf("<<")
	for _, e := range [...]struct{ key, value string }{
		{"Title", info.Title}, {"Author", info.Author}, {"Subject", info.Subject},
	} {
		if e.value != "" {
			d.printf("/%s%s", e.key, text(e.value))
		}
	}
	d.printf("/Creator(fay)/Producer(fay)/CreationDate(%s)>>", date)
	d.end()
}

// collect joins what the pages use of each font.
func collect(pages []*Page) []*font {
	var fonts []*font
	for _, p := range pages {
		for n := range p.glyphs {
			used := &p.glyphs[n]
			if used.font == nil {
				continue
			}
			for len(fonts) <= n {
				fonts = append(fonts, nil)
			}
			if fonts[n] == nil {
				fonts[n] = newFont(used.font)
			}
			for g, r := range used.runes {
				fonts[n].add(g, r)
			}
		}
	}
	return fonts
}
