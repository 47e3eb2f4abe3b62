package xlsx_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fay/joints/job/xlsx"
)

func workbook() []xlsx.Sheet {
	return []xlsx.Sheet{
		{Name: "To buy", Heads: []string{"filler", "kg"}, Rows: [][]xlsx.Cell{
			{xlsx.Text("ER <5356> & \"co\""), xlsx.Number(new(2.5))}, {xlsx.Text("=1+1"), xlsx.Number(nil)}, {xlsx.Text("  ⌀ 2.4 "), xlsx.Count(new(12))},
		}},
		{Name: "Joints"},
	}
}

// sheetXML is what a reader of the format looks for.
type sheetXML struct {
	Rows []struct {
		R     int `xml:"r,attr"`
		Cells []struct {
			R    string `xml:"r,attr"`
			Type string `xml:"t,attr"`
			V    string `xml:"v"`
			Text string `xml:"is>t"`
		} `xml:"c"`
	} `xml:"sheetData>row"`
}

func parts(t *testing.T, data []byte) map[string][]byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if out[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

func TestReadBack(t *testing.T) {
	var out, again bytes.Buffer
	if err := errors.Join(xlsx.Write(&out, workbook()), xlsx.Write(&again, workbook())); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Error("two writings differ")
	}
	files := parts(t, out.Bytes())
	for name, data := range files {
		d := xml.NewDecoder(bytes.NewReader(data))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
	}
	var sheet sheetXML
	if err := xml.Unmarshal(files["xl/worksheets/sheet1.xml"], &sheet); err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, row := range sheet.Rows {
		for _, c := range row.Cells {
			if !strings.HasSuffix(c.R, strconv.Itoa(row.R)) {
				t.Errorf("cell %s stands in row %d", c.R, row.R)
			}
			got[c.R] = c.Type + "|" + c.V + c.Text
		}
	}
	want := map[string]string{
		"A1": "inlineStr|filler", "B1": "inlineStr|kg", "A2": `inlineStr|ER <5356> & "co"`, "B2": "|2.5",
		"A3": "inlineStr|=1+1", "A4": "inlineStr|  ⌀ 2.4 ", "B4": "|12",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("cells (-want +got)\n%s", diff)
	}
	for _, name := range []string{"[Content_Types].xml", "_rels/.rels", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml", "xl/worksheets/sheet2.xml"} {
		if files[name] == nil {
			t.Errorf("%s is missing", name)
		}
	}
}

func TestRefused(t *testing.T) {
	for name, sheets := range map[string][]xlsx.Sheet{
		"no sheet":  nil,
		"no name":   {{}},
		"long name": {{Name: strings.Repeat("a", 32)}},
		"bad sign":  {{Name: "a/b"}},
		"same name": {{Name: "A"}, {Name: "a"}},
		"no number": {{Name: "a", Rows: [][]xlsx.Cell{{xlsx.Number(new(math.NaN()))}}}},
		"no end":    {{Name: "a", Rows: [][]xlsx.Cell{{xlsx.Number(new(math.Inf(1)))}}}},
		"many rows": {{Name: "a", Rows: make([][]xlsx.Cell, 1_048_576)}},
	} {
		var out bytes.Buffer
		if err := xlsx.Write(&out, sheets); err == nil || out.Len() > 0 {
			t.Errorf("%s: error %v, %d bytes written", name, err, out.Len())
		}
	}
}

func TestColumnsBeyondZ(t *testing.T) {
	row := make([]xlsx.Cell, 703)
	for i := range row {
		row[i] = xlsx.Count(&i)
	}
	var out bytes.Buffer
	if err := xlsx.Write(&out, []xlsx.Sheet{{Name: "wide", Rows: [][]xlsx.Cell{row}}}); err != nil {
		t.Fatal(err)
	}
	text := string(parts(t, out.Bytes())["xl/worksheets/sheet1.xml"])
	for cell, v := range map[string]string{"Z2": "25", "AA2": "26", "AZ2": "51", "ZZ2": "701", "AAA2": "702"} {
		if !strings.Contains(text, `<c r="`+cell+`"><v>`+v+`</v>`) {
			t.Errorf("%s does not hold %s", cell, v)
		}
	}
}
