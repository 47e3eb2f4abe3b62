package cli

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"fay/render"
	"fay/render/lettering"
	"fay/render/pdf"
	"fay/render/sheet"
)

// travelers writes the cover and all travelers to one file.
func (r *jobRun) travelers(done []jobDone, res *jobResult) ([]byte, error) {
	// The cover says on which sheet each joint stands, which hangs on how many
	// sheets the cover takes. All sheets are counted through.
	sheets := make([]int, len(done))
	cover := make([]*render.Drawing, 1)
	next := 0
	const often = 4 // wider numbers seldom take another sheet, and then that is all
	for range often {
		takes := len(cover)
		next = takes + 1
		for i := range done {
			sheets[i] = next
			next += len(done[i].pages)
		}
		var err error
		if cover, err = r.cover(done, res, sheets, next-1); err != nil {
			return nil, err
		}
		if len(cover) == takes {
			break
		}
	}
	pages := make([]*pdf.Page, 0, next-1)
	for _, d := range cover {
		page, err := pdf.NewPage(d)
		if err != nil {
			return nil, fmt.Errorf("draw: %w", err)
		}
		pages = append(pages, page)
	}
	for i := range done {
		for k, place := range done[i].places {
			number := place.Letter(sheets[i]+k, next-1)
			done[i].pages[k].Letter(&number)
		}
		pages = append(pages, done[i].pages...)
	}
	lacks := undrawn(cover)
	for i := range done {
		lacks = append(lacks, done[i].lacks...)
	}
	r.app.warnLettering(lacks)
	var out bytes.Buffer
	if err := pdf.WritePages(&out, pages, pdf.Info{Title: cover[0].Title, Author: r.works.settings.Company, Subject: "welding travelers of a job"}); err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return out.Bytes(), nil
}

// cover is the cover of a file of so many sheets.
func (r *jobRun) cover(done []jobDone, res *jobResult, sheets []int, count int) ([]*render.Drawing, error) {
	j := r.common(done)
	options := j.sheetOptions()
	numbers := options.Style().Numbers
	point := numbers.Decimal
	comma := func(text string) string { return text }
	if point != "." {
		comma = func(text string) string { return strings.ReplaceAll(text, ".", point) }
	}
	p := jobPrinter{res: res, q: j.quantities(), size: numbers.Length, unit: ", " + numbers.Name(), isolate: lettering.Isolate}
	c := &sheet.Cover{Company: j.settings.Company, Number: res.Job, Title: r.title(res), Logo: r.works.logo,
		Findings: coverRules(done, p.findings()), Notes: p.notes(), Cautions: res.Cautions[1:], Sheets: count}
	c.Joints = p.coverList(sheets)
	for i := range c.Joints.Rows {
		if len(done[i].pages) == 0 {
			c.Joints.Rows[i][len(c.Joints.Heads)-1] = "–"
		}
	}
	heads, rows := p.buying()
	for i := range rows {
		for k := 1; k < len(rows[i]); k++ {
			rows[i][k] = comma(rows[i][k])
		}
	}
	c.Buying = sheet.CoverTable{Heads: heads, Rows: rows}
	c.Totals = sheet.CoverTable{Heads: []string{"", ""}, Rows: p.totals()}
	for _, row := range c.Totals.Rows {
		row[1] = comma(row[1])
	}
	c.Totals.Wide = 1
	c.Cost = sheet.CoverTable{Heads: []string{"", ""}, Wide: 1, Rows: p.bill()}
	for _, row := range c.Cost.Rows {
		row[1] = numbers.Marked(row[1])
	}
	if res.Currency != "" {
		lacks := false
		for _, row := range c.Joints.Rows {
			sum, what, cut := strings.Cut(row[len(row)-2], without)
			if cut && what != "" {
				sum += " *"
				lacks = true
			}
			row[len(row)-2] = numbers.Marked(sum)
		}
		if lacks {
			c.Notes = append(c.Notes, "*: cost without what is not priced, see the total")
		}
	}
	pages, err := sheet.ComposeCover(c, options)
	if err != nil {
		return nil, fmt.Errorf("compose the cover: %w", err)
	}
	return pages, nil
}

// title is that of the job, or the name of its file.
func (r *jobRun) title(res *jobResult) string {
	if res.Title != "" || r.in.folder == "" {
		return res.Title
	}
	name := filepath.Base(r.in.path)
	return strings.TrimSuffix(name, filepath.Ext(name))
}

// coverList is the list of joints with the columns that a sheet has room for:
// the others are on the travelers.
func (p *jobPrinter) coverList(sheets []int) sheet.CoverTable {
	heads, rows := p.joints(sheets)
	var t sheet.CoverTable
	t.Rows = make([][]string, len(rows))
	for k, head := range heads {
		if k < len(jobColumns) && jobColumns[k].screen {
			continue
		}
		if k == whatColumn {
			t.Wide = len(t.Heads)
		}
		t.Heads = append(t.Heads, head)
		t.Right = append(t.Right, k >= len(jobColumns) || jobColumns[k].right)
		for i := range rows {
			t.Rows[i] = append(t.Rows[i], rows[i][k])
		}
	}
	return t
}

// jobBookmark names a joint among the pages.
func jobBookmark(number int, joint, name string) string {
	text := strconv.Itoa(number)
	if joint != "" {
		text += " " + joint
	}
	return text + ": " + name
}
