// Package xlsx writes plain tables as a workbook that spreadsheet programs
// open: numbers as numbers, texts as texts, a bold first row that stays in
// view. It writes the least that ECMA-376 asks of a file, and the same bytes
// for the same tables.
package xlsx

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// Cell is a text, or a number where it is not nil.
type Cell struct {
	Text   string
	Number *float64
}

// Text is a cell of text.
func Text(s string) Cell { return Cell{Text: s} }

// Number is a cell of a number, empty where v is nil.
func Number(v *float64) Cell { return Cell{Number: v} }

// Count is a cell of a whole number, empty where v is nil.
func Count(v *int) Cell {
	if v == nil {
		return Cell{}
	}
	return Cell{Number: new(float64(*v))}
}

// Sheet is one table.
type Sheet struct {
	Name  string // up to 31 characters without []:*?/\
	Heads []string
	Rows  [][]Cell
}

// Limits of the format.
const (
	maxName = 31
	maxRows = 1_048_576
	maxText = 32_767
)

// Write writes the sheets. It fails before the first byte where a sheet breaks
// a limit of the format, and with the writer's error.
func Write(w io.Writer, sheets []Sheet) error {
	if err := check(sheets); err != nil {
		return err
	}
	z := zip.NewWriter(w)
	for _, p := range parts(sheets) {
		// One date for every file, the first that the format knows.
		f, err := z.CreateHeader(&zip.FileHeader{Name: p.name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err == nil {
			_, err = io.WriteString(f, xml.Header+p.text)
		}
		if err != nil {
			return fmt.Errorf("xlsx: %w", err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("xlsx: %w", err)
	}
	return nil
}

func check(sheets []Sheet) error {
	if len(sheets) == 0 {
		return errors.New("xlsx: a workbook needs a sheet")
	}
	seen := map[string]bool{}
	for i := range sheets {
		s := &sheets[i]
		name := strings.ToLower(s.Name)
		switch {
		case s.Name == "" || utf8.RuneCountInString(s.Name) > maxName || strings.ContainsAny(s.Name, `[]:*?/\`) || seen[name]:
			return fmt.Errorf("xlsx: %q cannot name a sheet", s.Name)
		case len(s.Rows) >= maxRows:
			return fmt.Errorf("xlsx: sheet %s has more than %d rows", s.Name, maxRows)
		}
		seen[name] = true
		for _, row := range s.Rows {
			for _, c := range row {
				if c.Number != nil && (math.IsNaN(*c.Number) || math.IsInf(*c.Number, 0)) {
					return fmt.Errorf("xlsx: sheet %s: %v is not a number", s.Name, *c.Number)
				}
			}
		}
	}
	return nil
}

type part struct{ name, text string }

const (
	office    = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	mainSpace = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	packages  = "http://schemas.openxmlformats.org/package/2006/"
	mime      = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

func parts(sheets []Sheet) []part {
	var types, list, links strings.Builder
	out := make([]part, 0, len(sheets)+5)
	for i := range sheets {
		n := strconv.Itoa(i + 1)
		types.WriteString(`<Override PartName="/xl/worksheets/sheet` + n + `.xml" ContentType="` + mime + `worksheet+xml"/>`)
		list.WriteString(`<sheet name="` + escape(sheets[i].Name) + `" sheetId="` + n + `" r:id="rId` + n + `"/>`)
		links.WriteString(`<Relationship Id="rId` + n + `" Type="` + office + `/worksheet" Target="worksheets/sheet` + n + `.xml"/>`)
		out = append(out, part{"xl/worksheets/sheet" + n + ".xml", sheets[i].xml()})
	}
	n := strconv.Itoa(len(sheets) + 1)
	links.WriteString(`<Relationship Id="rId` + n + `" Type="` + office + `/styles" Target="styles.xml"/>`)
	return append([]part{
		{"[Content_Types].xml", `<Types xmlns="` + packages + `content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
			`<Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="` + mime + `sheet.main+xml"/>` +
			`<Override PartName="/xl/styles.xml" ContentType="` + mime + `styles+xml"/>` + types.String() + `</Types>`},
		{"_rels/.rels", `<Relationships xmlns="` + packages + `relationships"><Relationship Id="rId1" Type="` + office + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook xmlns="` + mainSpace + `" xmlns:r="` + office + `"><sheets>` + list.String() + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + packages + `relationships">` + links.String() + `</Relationships>`},
		{"xl/styles.xml", `<styleSheet xmlns="` + mainSpace + `"><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>` +
			`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border/></borders>` +
			`<cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="2"><xf/><xf fontId="1" applyFont="1"/></cellXfs></styleSheet>`},
	}, out...)
}

// xml is the sheet as the format wants it.
func (s *Sheet) xml() string {
	var b strings.Builder
	b.WriteString(`<worksheet xmlns="` + mainSpace + `"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>`)
	if len(s.Heads) > 0 {
		b.WriteString(`<cols>`)
		for i := range s.Heads {
			n := strconv.Itoa(i + 1)
			b.WriteString(`<col min="` + n + `" max="` + n + `" width="` + strconv.Itoa(s.width(i)) + `" customWidth="1"/>`)
		}
		b.WriteString(`</cols>`)
	}
	b.WriteString(`<sheetData>`)
	heads := make([]Cell, len(s.Heads))
	for i, h := range s.Heads {
		heads[i] = Text(h)
	}
	writeRow(&b, 1, heads, ` s="1"`)
	for i, row := range s.Rows {
		writeRow(&b, i+2, row, "")
	}
	b.WriteString(`</sheetData></worksheet>`)
	return b.String()
}

// width is that of a column in characters.
func (s *Sheet) width(column int) int {
	const least, most = 8, 50
	n := utf8.RuneCountInString(s.Heads[column])
	for _, row := range s.Rows {
		if column < len(row) {
			n = max(n, utf8.RuneCountInString(row[column].Text))
		}
	}
	return min(max(n+2, least), most)
}

func writeRow(b *strings.Builder, number int, cells []Cell, style string) {
	n := strconv.Itoa(number)
	b.WriteString(`<row r="` + n + `">`)
	for i, c := range cells {
		at := columnName(i) + n
		switch {
		case c.Number != nil:
			b.WriteString(`<c r="` + at + `"` + style + `><v>` + strconv.FormatFloat(*c.Number, 'g', -1, 64) + `</v></c>`)
		case c.Text != "":
			b.WriteString(`<c r="` + at + `"` + style + ` t="inlineStr"><is><t xml:space="preserve">` + escape(c.Text) + `</t></is></c>`)
		}
	}
	b.WriteString(`</row>`)
}

// columnName is A, B, … Z, AA, ….
func columnName(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

// escape makes a text fit to stand in XML; what XML has no place for is
// replaced, what is longer than a cell is cut.
func escape(s string) string {
	if r := []rune(s); len(r) > maxText {
		s = string(r[:maxText])
	}
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes everything
	return b.String()
}
