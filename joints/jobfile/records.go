package jobfile

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

// maxRecord bounds one row of a table, in bytes: a quote that is never closed
// must not swallow a whole file.
const maxRecord = 64 << 10

// records reads a table record by record: a line each, unless a cell in quotes
// goes on in the next. A cell is in quotes where it begins with one, and a quote
// inside is doubled there; elsewhere a quote is a sign like any other, as in
// 1/4". A record that cannot be read costs its own first line and no more.
type records struct {
	in    *bufio.Reader // of maxRecord bytes
	comma byte
	again []byte // lines to be read once more, before in
	long  bool   // behind them stands a line that was too long
	line  int    // number of the last line read
	taken int64  // bytes of the lines read
	buf   []byte
	spans []span

	// Of the record at hand.
	text  string
	cells []string
	first int  // number of its first line
	wide  bool // text has characters of more than one byte
}

// span is where a cell stands in the text of its record: where it begins, and
// what is inside of its quotes.
type span struct {
	begin, from, to int
	doubled         bool // has doubled quotes
}

var errTooLong = errors.New("a row is too long")

// quoteError is a cell in quotes, told by its span, that does not end as it
// should.
type quoteError struct{ rule, remedy string }

func (e *quoteError) Error() string { return e.rule }

// next reads the next record. The error is [io.EOF] after the last, errTooLong
// or a *quoteError where this one cannot be read, or that of reading.
func (r *records) next() error {
	r.buf, r.spans, r.cells, r.text = r.buf[:0], r.spans[:0], r.cells[:0], ""
	err := r.more()
	r.first = r.line
	if err != nil {
		return err
	}
	err = r.split()
	r.text = string(r.buf)
	r.wide = utf8.RuneCountInString(r.text) < len(r.text)
	if err != nil {
		return err
	}
	for _, s := range r.spans {
		cell := r.text[s.from:s.to]
		if s.doubled {
			cell = strings.ReplaceAll(cell, `""`, `"`)
		}
		r.cells = append(r.cells, cell)
	}
	return nil
}

// more takes another line into the record, behind a line feed where it is not
// the first.
func (r *records) more() error {
	if len(r.again) > 0 {
		line, rest, _ := bytes.Cut(r.again, []byte("\n"))
		r.again = rest
		r.take(line)
		return nil
	}
	if r.long {
		r.long = false
		r.line++
		return errTooLong
	}
	line, err := r.in.ReadSlice('\n')
	r.taken += int64(len(line))
	if errors.Is(err, bufio.ErrBufferFull) {
		for errors.Is(err, bufio.ErrBufferFull) {
			line, err = r.in.ReadSlice('\n')
			r.taken += int64(len(line))
		}
		if err == nil || errors.Is(err, io.EOF) {
			r.line++
			return errTooLong
		}
	}
	if err != nil && (!errors.Is(err, io.EOF) || len(line) == 0) {
		return err //nolint:wrapcheck // told with the name of the table
	}
	r.take(bytes.TrimSuffix(bytes.TrimSuffix(line, []byte("\n")), []byte("\r")))
	return nil
}

// ready tells whether another line is at hand.
func (r *records) ready() bool {
	if len(r.again) > 0 || r.long {
		return true
	}
	head, err := r.in.Peek(r.in.Buffered())
	return err == nil && bytes.IndexByte(head, '\n') >= 0
}

func (r *records) take(line []byte) {
	if r.line++; len(r.buf) > 0 {
		r.buf = append(r.buf, '\n')
	}
	r.buf = append(r.buf, line...)
}

// split finds the cells of the record, and takes in more lines for a quote that
// is open.
func (r *records) split() error {
	for at := 0; ; at++ {
		for at < len(r.buf) && r.buf[at] != r.comma && (r.buf[at] == ' ' || r.buf[at] == '\t') {
			at++
		}
		r.spans = append(r.spans, span{begin: at, from: at})
		s := &r.spans[len(r.spans)-1]
		if at < len(r.buf) && r.buf[at] == '"' {
			s.from++
			if err := r.quoted(s); err != nil {
				return err
			}
			at = s.to + 1
			for at < len(r.buf) && r.buf[at] != r.comma && r.buf[at] == ' ' {
				at++
			}
			if at < len(r.buf) && r.buf[at] != r.comma {
				return &quoteError{"text stands behind the closing quote of a cell",
					`write "…" round a whole cell and double the quotes inside; inches may be written as 1/4in`}
			}
		} else {
			n := bytes.IndexByte(r.buf[at:], r.comma)
			if n < 0 {
				n = len(r.buf) - at
			}
			at += n
			s.to = at
		}
		if at == len(r.buf) {
			return nil
		}
	}
}

// quoted finds the end of a cell in quotes.
func (r *records) quoted(s *span) error {
	for at := s.from; ; {
		n := bytes.IndexByte(r.buf[at:], '"')
		switch {
		case n >= 0 && at+n+1 < len(r.buf) && r.buf[at+n+1] == '"':
			s.doubled = true
			at += n + 2
			continue
		case n >= 0:
			s.to = at + n
			return nil
		}
		at = len(r.buf)
		err := r.more()
		switch {
		case errors.Is(err, errTooLong):
			r.long = true
			r.line--
		case err != nil && !errors.Is(err, io.EOF):
			return err
		}
		if err != nil || len(r.buf) > maxRecord {
			return &quoteError{"a quote begins a cell and is not closed", `close it, or write inches as in 1/4in`}
		}
	}
}

// back gives up the record at hand but for its first line: those behind are read
// as records of their own.
func (r *records) back() {
	if _, rest, more := bytes.Cut(r.buf, []byte("\n")); more {
		r.again = append(append(bytes.Clone(rest), '\n'), r.again...)
	}
	r.line = r.first
}

// position is the line and the column, in characters, of a cell.
func (r *records) position(i int) (line, column int) {
	begin := 0
	if i < len(r.spans) {
		begin = r.spans[i].begin
	}
	if r.line == r.first && !r.wide {
		return r.first, begin + 1
	}
	before := r.text[:min(begin, len(r.text))]
	return r.first + strings.Count(before, "\n"), utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1
}
