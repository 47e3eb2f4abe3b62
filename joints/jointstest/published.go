package jointstest

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Cell is one published value: a line of a file in testdata/published.
//
// The columns table, row and column name it; printed is the value as printed
// and tolerance what its digits allow, both in the unit of the printed table.
// misprint, where not empty, says what is wrong with the printed value; it is
// kept as printed and geometry holds what geometry gives instead. source and
// provenance say where it was read. round-up, where there is one, is the step
// to which the table rounds up. Further columns are inputs of the row.
type Cell struct {
	Table, Row, Column string
	Printed, Tolerance float64
	Misprint           string
	Geometry           float64
	Source, Provenance string

	geometryHalf float64 // half a unit of the last digit of Geometry
	roundUp      float64
	fields       map[string]string
	place        string
}

// provenances are the words allowed in the column provenance; derived marks
// values that the reference itself computed.
var provenances = []string{"primary", "secondary", "memory", "derived", "common practice"}

// Published reads testdata/published/name of the repository. Every cell must
// have a name, a source and a provenance, and no two may share a name.
func Published(tb testing.TB, name string) []Cell {
	tb.Helper()
	seen := map[string]bool{}
	records := Records(tb, name)
	cells := make([]Cell, 0, len(records))
	for i, fields := range records {
		c := newCell(tb, name+":"+strconv.Itoa(i+2), fields)
		if seen[c.Name()] {
			tb.Fatalf("%s: %s is there twice", c.place, c.Name())
		}
		seen[c.Name()] = true
		cells = append(cells, c)
	}
	return cells
}

// Records reads a file of testdata/published in columns of its own, each line
// by the names of the columns. There is at least one line.
func Records(tb testing.TB, name string) []map[string]string {
	tb.Helper()
	file, err := os.Open(filepath.Join(root(tb), "testdata", "published", name))
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		tb.Fatalf("%s: %v", name, err)
	}
	if len(records) < 2 {
		tb.Fatalf("%s: no values", name)
	}
	lines := make([]map[string]string, 0, len(records)-1)
	for _, record := range records[1:] {
		fields := make(map[string]string, len(record))
		for j, key := range records[0] {
			fields[key] = record[j]
		}
		lines = append(lines, fields)
	}
	return lines
}

func newCell(tb testing.TB, place string, fields map[string]string) Cell {
	tb.Helper()
	c := Cell{Table: fields["table"], Row: fields["row"], Column: fields["column"], Misprint: fields["misprint"],
		Source: fields["source"], Provenance: fields["provenance"], fields: fields, place: place}
	if c.Table == "" || c.Row == "" || c.Column == "" || c.Source == "" || !slices.Contains(provenances, c.Provenance) {
		tb.Fatalf("%s: table, row, column, source and a known provenance are needed", place)
	}
	c.Printed, c.Tolerance = c.Number(tb, "printed"), c.Number(tb, "tolerance")
	if c.Misprint != "" {
		c.Geometry = c.Number(tb, "geometry")
		_, digits, _ := strings.Cut(fields["geometry"], ".")
		c.geometryHalf = 0.5 * math.Pow10(-len(digits))
	}
	if fields["round-up"] != "" {
		c.roundUp = c.Number(tb, "round-up")
	}
	return c
}

// Name is the table, row and column of the cell.
func (c *Cell) Name() string { return c.Table + "/" + c.Row + "/" + c.Column }

// Field returns an input column, which may be empty.
func (c *Cell) Field(key string) string { return c.fields[key] }

// Text returns an input column, which must not be empty.
func (c *Cell) Text(tb testing.TB, key string) string {
	tb.Helper()
	if c.fields[key] == "" {
		tb.Fatalf("%s: no %s", c.place, key)
	}
	return c.fields[key]
}

// Number returns an input column as a number: 0.25, 1/4 or 1 1/4.
func (c *Cell) Number(tb testing.TB, key string) float64 {
	tb.Helper()
	v, ok := Number(c.Text(tb, key))
	if !ok {
		tb.Fatalf("%s: %s is not a number: %q", c.place, key, c.fields[key])
	}
	return v
}

// Number reads 0.25, 1/4 or 1 1/4.
func Number(s string) (float64, bool) {
	sum := 0.0
	for part := range strings.FieldsSeq(s) {
		num, den, isFraction := strings.Cut(part, "/")
		v, err := strconv.ParseFloat(num, 64)
		if err != nil {
			return 0, false
		}
		if isFraction {
			d, err := strconv.ParseFloat(den, 64)
			if err != nil || d == 0 {
				return 0, false
			}
			v /= d
		}
		sum += v
	}
	return sum, strings.TrimSpace(s) != ""
}

// Compare fails the test unless got agrees with the printed value or, at a
// misprint, disagrees with it and agrees with what geometry gives.
func (c *Cell) Compare(tb testing.TB, got float64) {
	tb.Helper()
	shown := got
	if c.roundUp > 0 {
		shown = c.roundUp * math.Ceil(got/c.roundUp*(1-1e-12))
	}
	// The slack covers the binary form of decimal digits.
	off := math.Abs(shown - c.Printed)
	agrees := off <= c.Tolerance+1e-9
	if c.Misprint == "" {
		if !agrees {
			tb.Errorf("%s: want %v ± %v, got %v (%v)", c.place, c.Printed, c.Tolerance, shown, got)
		}
		return
	}
	if agrees {
		tb.Errorf("%s: is marked as a misprint but %v agrees with %v ± %v", c.place, shown, c.Printed, c.Tolerance)
	}
	if math.Abs(got-c.Geometry) > c.geometryHalf+1e-9 {
		tb.Errorf("%s: want %v by geometry instead of the misprint %v, got %v", c.place, c.Geometry, c.Printed, got)
	}
}

// root is the folder with go.mod above the package under test.
func root(tb testing.TB) string {
	tb.Helper()
	dir, err := os.Getwd()
	if err != nil {
		tb.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			tb.Fatal("no go.mod above the tests")
		}
		dir = up
	}
}
