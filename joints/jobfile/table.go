package jobfile

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
)

// Table reads the joints of a job from comma-separated values, one a row, in
// memory that does not grow with the table: it has any number of rows. The first row names the columns:
// joint (a kind) or file (a joint file), quantity, and names as in an
// assignment, with a unit for bare numbers where one is wanted: `leg (mm)`.
// An empty cell gives nothing; rows of empty cells are left out. A table with
// semicolons between its cells, as spreadsheets write it where the comma is the
// decimal sign, or with tabs, as they copy it, is recognised by its first row.
type Table struct {
	reader

	name    string
	rec     records
	columns []column
	units   *geometry.Unit // of all lengths, where their heads say; else nil
	done    bool
	// Of the record at hand.
	filled int // cells that are not empty
	row    int // its number in a spreadsheet
	folded int // lines of the records before it that were no rows of their own
	lines  int // of the file before the first record
}

// NewTable begins to read a table; name is the file's for messages. The error,
// if any, is [jointfile.Faults] for what is wrong with the first row, or that
// of reading.
func NewTable(name string, in io.Reader) (*Table, error) {
	t := &Table{name: name}
	t.rec.in = bufio.NewReaderSize(in, maxRecord)
	var err error
	if t.rec.comma, err = t.begin(t.rec.in); err != nil {
		return nil, err
	}
	if len(t.faults) > 0 {
		return nil, t.faults
	}
	switch err := t.record(); {
	case errors.Is(err, io.EOF):
		t.fault(joints.FaultMissing, jointColumn, "", jointfile.Place{File: name, Line: 1, Column: 1},
			"the table is empty", "begin with a row of names such as joint,base,stem,leg,quantity")
	case err != nil:
		return nil, err
	case len(t.faults) == 0:
		t.headings(t.rec.cells)
	}
	if len(t.faults) > 0 {
		return nil, t.faults
	}
	return t, nil
}

// Head returns the begin of an input without taking it: up to the end of the
// first line with text at least, where that is not longer than most bytes, and
// no more than has arrived. An input is read on from there as it comes. The
// error, [io.EOF] among others, says why there is less.
func Head(in *bufio.Reader, most int) ([]byte, error) {
	for n := 1; ; n = min(in.Buffered()+1, most) {
		head, err := in.Peek(n)
		if err == nil {
			head, err = in.Peek(min(in.Buffered(), most))
		}
		text := bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\ufeff")), " \t\r\n")
		if err != nil || len(head) >= most || bytes.IndexByte(text, '\n') >= 0 {
			return head, err
		}
	}
}

// begin looks at the first bytes and tells which sign stands between cells.
func (t *Table) begin(in *bufio.Reader) (byte, error) {
	head, err := Head(in, maxRecord)
	if err != nil && !errors.Is(err, io.EOF) {
		return 0, fmt.Errorf("%s: %w", t.name, err)
	}
	discard := func(n int) {
		_, _ = in.Discard(n) // of what was just seen
		head = head[n:]
	}
	if bytes.HasPrefix(head, []byte("\ufeff")) {
		discard(len("\ufeff"))
	}
	if bytes.HasPrefix(head, []byte("\xff\xfe")) || bytes.HasPrefix(head, []byte("\xfe\xff")) || bytes.IndexByte(head, 0) >= 0 {
		t.fault(joints.FaultSyntax, "", "", jointfile.Place{File: t.name, Line: 1, Column: 1}, "is not UTF-8 text",
			"save the table as CSV UTF-8 (comma delimited)")
		return ',', nil
	}
	// Some spreadsheets say in a line of its own what they put between cells.
	line, _, _ := bytes.Cut(head, []byte("\n"))
	if mark, ok := bytes.CutPrefix(bytes.Trim(line, "\r "), []byte("sep=")); ok && len(mark) == 1 && bytes.ContainsAny(mark, ",;\t") {
		comma := mark[0]
		discard(min(len(line)+1, len(head)))
		t.lines = 1
		return comma, nil
	}
	for len(head) > 0 {
		line, rest, more := bytes.Cut(head, []byte("\n"))
		if len(bytes.TrimSpace(line)) > 0 || !more {
			return between(line), nil
		}
		head = rest
	}
	return ',', nil
}

// between is the sign between the names of a first row.
func between(line []byte) byte {
	commas, semicolons := bytes.Count(line, []byte(",")), bytes.Count(line, []byte(";"))
	switch {
	case semicolons > commas:
		return ';'
	case commas == 0 && bytes.IndexByte(line, '\t') >= 0:
		return '\t'
	}
	return ','
}

// record reads the next record that is not empty.
func (t *Table) record() error {
	for {
		t.folded += t.rec.line - t.rec.first
		err := t.rec.next()
		t.row = t.rec.first - t.folded
		if err != nil {
			return t.unreadable(err)
		}
		t.filled = 0
		for _, cell := range t.rec.cells {
			if strings.TrimSpace(cell) != "" {
				t.filled++
			}
		}
		if t.filled > 0 {
			return nil
		}
	}
}

// unreadable turns an error of reading into a fault of one row, where it is one.
// Any other ends the table.
func (t *Table) unreadable(err error) error {
	quote, isQuote := errors.AsType[*quoteError](err)
	switch {
	case errors.Is(err, io.EOF):
		t.done = true
		return io.EOF
	case errors.Is(err, errTooLong):
		t.fault(jointfile.FaultTooLarge, "", "", t.place(0), fmt.Sprintf("a row is longer than %d bytes", maxRecord), "leave out what no joint needs")
	case isQuote:
		last := len(t.rec.spans) - 1
		cell := t.rec.text[t.rec.spans[last].begin:]
		cell, _, _ = strings.Cut(cell, "\n")
		at := t.place(last)
		t.fault(joints.FaultSyntax, at.Cell, cell, at, quote.rule, quote.remedy)
		t.rec.back()
	default:
		t.done = true
		return fmt.Errorf("%s: %w", t.name, err)
	}
	return t.take()
}

// take hands over the faults collected, or nil.
func (t *Table) take() error {
	if len(t.faults) == 0 {
		return nil
	}
	faults := t.faults
	t.faults = nil
	return faults
}

// place is that of a cell of the record at hand.
func (t *Table) place(i int) jointfile.Place {
	p := jointfile.Place{File: t.name, Row: t.row}
	p.Line, p.Column = t.rec.position(i)
	p.Line += t.lines
	if i < len(t.columns) {
		p.Cell = t.columns[i].heading
	}
	return p
}

// Next returns the next joint, or [io.EOF] after the last. An error of type
// [jointfile.Faults] concerns one row, and reading goes on behind it; after any
// other error, the next call returns io.EOF. A row with a quote that is not
// closed ends with its line.
func (t *Table) Next() (Row, error) {
	if t.done {
		return Row{}, io.EOF
	}
	if err := t.record(); err != nil {
		return Row{}, err
	}
	row := t.read()
	if err := t.take(); err != nil {
		return Row{}, err
	}
	return row, nil
}

// Ready reports whether the next row is at hand, so that Next need not wait for
// the input.
func (t *Table) Ready() bool { return t.rec.ready() }

// Taken is how many bytes of the table the rows so far have taken, about.
func (t *Table) Taken() int64 { return t.rec.taken }

func (t *Table) read() Row {
	switch {
	case len(t.rec.cells) == len(t.columns):
	case t.rec.line > t.rec.first: // by a quote that some later one closed
		t.fault(joints.FaultSyntax, "", "", t.place(0),
			fmt.Sprintf("a quote that goes on in the next line leaves the row %d cells, the first row has %d", len(t.rec.cells), len(t.columns)), "close the quote in its own line")
		t.rec.back()
		return Row{}
	default:
		remedy := "give every column of the first row a cell, empty or not"
		if len(t.rec.cells) > len(t.columns) {
			remedy = "write decimals with a point: a comma begins the next cell"
		}
		t.fault(jointfile.FaultShape, "", "", t.place(0), fmt.Sprintf("the row has %d cells, the first row %d", len(t.rec.cells), len(t.columns)), remedy)
		return Row{}
	}
	row := Row{At: t.place(0), Units: t.units, Sets: make([]Set, 0, t.filled)}
	for i, cell := range t.rec.cells {
		c := &t.columns[i]
		text := strings.TrimSpace(cell)
		if text == "" {
			continue
		}
		at := t.place(i)
		if c.name == "" {
			t.fault(joints.FaultUnknown, "", text, at, "stands in a column without a name", "name the column in the first row")
			continue
		}
		switch c.name {
		case jointColumn:
			row.Kind, row.At = t.line(c.heading, text, at, maxLine), at
		case fileColumn:
			row.File, row.At = t.line(c.heading, text, at, maxPath), at
		case quantityColumn:
			row.Quantity = t.quantity(c.heading, text, at)
		default:
			if value, ok := t.value(c, text, at); ok {
				row.Sets = append(row.Sets, Set{Name: c.name, Text: value, At: at})
			}
		}
	}
	switch {
	case row.File != "" && row.Kind != "":
		t.fault(joints.FaultConflict, fileColumn, row.File, row.At, "a row names a kind of joint or a joint file", "keep one of the two")
	case row.File == "" && row.Kind == "" && len(t.faults) == 0:
		t.fault(joints.FaultMissing, jointColumn, "", row.At, "the row does not say which joint is meant", "give a kind or a joint file")
	}
	return row
}

// value checks a cell as far as a table goes and gives bare numbers the unit
// of their column.
func (t *Table) value(c *column, text string, at jointfile.Place) (string, bool) {
	text = t.line(c.heading, text, at, maxPath)
	if text == "" || c.form == jointfile.TextForm {
		return text, text != ""
	}
	inner, isList := strings.CutPrefix(text, "[")
	if isList {
		inner, isList = strings.CutSuffix(inner, "]")
	}
	if !isList {
		// Two legs written 3,5 and three and a half written 3,5 look alike.
		if strings.Contains(text, ",") {
			t.fault(joints.FaultSyntax, c.heading, text, at, "holds a comma, which is not a decimal sign here",
				"write decimals with a point, as in 3.5, and two values as [3, 5]")
			return "", false
		}
		return withUnit(text, c), true
	}
	parts := strings.Split(inner, ",")
	for i := range parts {
		parts[i] = withUnit(strings.TrimSpace(parts[i]), c)
	}
	return "[" + strings.Join(parts, ", ") + "]", true
}

// withUnit writes the unit of the column behind a number without one. It finds
// where the unit belongs, before a tolerance, by trying: the text must come to
// what it means in that unit. A text that cannot be read, or that has its own
// unit, is left as it is.
func withUnit(text string, c *column) string {
	if c.unit == "" {
		return text
	}
	read := func(text string, bare geometry.Unit) (geometry.Length, geometry.Tolerance, bool) {
		l, tol, err := geometry.ParseToleranced(text, geometry.LengthSyntax{Bare: bare})
		return l, tol, err == nil
	}
	want, wantTol, ok := read(text, c.length)
	if ok && strings.Trim(text, "0123456789.") == "" {
		return text + " " + c.unit // a plain number, as most are
	}
	mm, mmTol, _ := read(text, geometry.UnitMM)
	foot, footTol, _ := read(text, geometry.UnitFoot)
	if !ok || mm == foot && mmTol == footTol {
		return text
	}
	for i := len(text); i > 0; i-- {
		if text[i-1] == ' ' {
			continue
		}
		with := text[:i] + " " + c.unit + text[i:]
		inMM, inMMTol, ok := read(with, geometry.UnitMM)
		if ok && inMM == want && inMMTol == wantTol {
			if inFoot, inFootTol, _ := read(with, geometry.UnitFoot); inFoot == want && inFootTol == wantTol {
				return with
			}
		}
	}
	return text
}
