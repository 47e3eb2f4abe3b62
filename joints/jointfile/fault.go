package jointfile

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"fay/joints"
)

// Ways an input can be wrong besides those of package joints.
const (
	FaultTooLarge joints.FaultCode = "too-large" // beyond the stated limits of a file
	FaultShape    joints.FaultCode = "shape"     // a list where one value belongs, or the like
)

// Place is where a value was written: a line and column of a file, or an
// argument of the command line with the column inside it. All count from 1;
// columns count characters.
type Place struct {
	File     string
	Line     int
	Column   int
	Argument int
	Text     string // the line, or the argument, as written
	// Row and Cell are the row of a table, its heading counted, and the
	// heading of the column; 0 and empty outside tables.
	Row  int
	Cell string
}

// String prints file:line:column, or the argument's number, and the row and
// column of a table.
func (p Place) String() string {
	switch {
	case p.Row > 0 && p.Cell != "":
		return fmt.Sprintf("%s:%d:%d (row %d, column %s)", p.File, p.Line, p.Column, p.Row, p.Cell)
	case p.Row > 0:
		return fmt.Sprintf("%s:%d:%d (row %d)", p.File, p.Line, p.Column, p.Row)
	case p.Argument > 0:
		return fmt.Sprintf("argument %d", p.Argument)
	case p.Line > 0:
		return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	}
	return p.File
}

// Fault is one thing wrong with an input and where it stands.
type Fault struct {
	joints.Fault
	Place Place
}

// Error prints place, field, value, rule and remedy on one line.
func (f Fault) Error() string {
	text := f.Fault.Error()
	if f.Field == "" { // the file or the argument as a whole
		text = strings.TrimPrefix(text, ": ")
	}
	if at := f.Place.String(); at != "" {
		return at + ": " + strings.TrimPrefix(text, " = ")
	}
	return text
}

// maxExcerpt bounds the part of a line shown, in characters.
const maxExcerpt = 100

// Excerpt returns the line the fault stands on with a caret under the place,
// or nothing where there is no such line or it would not fit.
func (f Fault) Excerpt() string {
	if f.Place.Text == "" || f.Place.Column < 1 || utf8.RuneCountInString(f.Place.Text) > maxExcerpt ||
		f.Place.Column > utf8.RuneCountInString(f.Place.Text)+1 || !printable(f.Place.Text) {
		return ""
	}
	return f.Place.Text + "\n" + strings.Repeat(" ", f.Place.Column-1) + "^"
}

// Faults are all the things wrong with an input, in reading order: the file
// first, then the arguments.
type Faults []Fault

// mostShown bounds the lines of a report; the count of the rest is still told.
const mostShown = 50

// Error prints one fault a line.
func (fs Faults) Error() string {
	lines := make([]string, 0, min(len(fs), mostShown)+1)
	for i, f := range fs {
		if i == mostShown {
			lines = append(lines, fmt.Sprintf("and %d more", len(fs)-i))
			break
		}
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}

// Has reports whether one of the faults has the code and the field.
func (fs Faults) Has(code joints.FaultCode, field string) bool {
	for _, f := range fs {
		if f.Code == code && f.Field == field {
			return true
		}
	}
	return false
}

// AsFaults returns the faults carried by err, or nil.
func AsFaults(err error) Faults {
	fs, _ := errors.AsType[Faults](err)
	return fs
}

func (fs Faults) sort() {
	slices.SortStableFunc(fs, func(a, b Fault) int { return comparePlaces(a.Place, b.Place) })
}

// comparePlaces puts the file before the arguments, each in reading order.
func comparePlaces(a, b Place) int {
	return cmp.Or(cmp.Compare(a.Argument, b.Argument), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
}

// longestShown bounds the part of a wrong value repeated in a message.
const longestShown = 60

func shorten(s string) string {
	if !printable(s) {
		s = fmt.Sprintf("%q", s)
	}
	r := []rune(s)
	if len(r) <= longestShown {
		return s
	}
	return string(r[:longestShown]) + "…"
}
