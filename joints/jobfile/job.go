// Package jobfile reads a job: the joints that are made together, with how many
// of each. A job is a strict YAML file that lists joint files, or a table of
// comma-separated values with one joint a row.
//
//	job: CB-121
//	title: hatch set
//	joints:
//	  - {file: hatch-coaming.yaml, quantity: 2}
//	  - {file: hatch-stiffener.yaml, quantity: 4, set: {leg: 4, seam.count: 3}}
//
// Neither form reads the joints themselves: a [Row] says which joint is meant
// and what to change in it, and package jointfile reads it. Faults it finds are
// brought back to the line or cell they come from by [Row.Place].
//
// A job file has the limits of a joint file, 1 MiB and 5000 lines; a table of
// any length is read row by row in memory that does not grow with it. What holds
// all joints of a job at once takes [MaxRows] of them.
package jobfile

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
)

// Limits of a job.
const (
	MaxRows     = 100_000
	maxQuantity = 1_000_000
	maxLine     = 120  // characters of a text, as in joint files
	maxPath     = 1024 // characters of a file name
)

// Job is a job file as read.
type Job struct {
	Name  string // number of the job; empty: not given
	Title string
	Rows  []Row // at least one
	// Faults are those of the file that no joint is wrong by.
	Faults jointfile.Faults
}

// Row is one joint of a job.
type Row struct {
	// File is a joint file, relative to the folder of the job; empty where
	// Kind is given, which is then a kind of joint described by Sets alone.
	File, Kind string
	Quantity   int // parts to make; 0: not given, the joint file's own holds
	// Sets are assignments over the file, in the order they were written.
	Sets []Set
	// Units of a joint given by Kind, where nothing in Sets says otherwise; nil:
	// not given.
	Units *geometry.Unit
	At    jointfile.Place // of the file or kind
	// Faults are what is wrong with the row of a job file.
	Faults jointfile.Faults
}

// Set is a value that a job gives a joint, as an assignment would.
type Set struct {
	Name, Text string
	At         jointfile.Place // of the value
}

// Source is the row as package jointfile reads it. Where the row names a file,
// its name and data are for the caller to add.
func (r *Row) Source() jointfile.Source {
	const room = 2 // for what the job itself sets
	src := jointfile.Source{Kind: r.Kind, First: 2, Assignments: make([]string, len(r.Sets), len(r.Sets)+room)}
	size := 0
	for i := range r.Sets {
		size += len(r.Sets[i].Name) + 1 + len(r.Sets[i].Text)
	}
	var all strings.Builder // one piece of memory for all
	all.Grow(size)
	for i := range r.Sets {
		from := all.Len()
		all.WriteString(r.Sets[i].Name)
		all.WriteByte('=')
		all.WriteString(r.Sets[i].Text)
		src.Assignments[i] = all.String()[from:]
	}
	return src
}

var argumentText = regexp.MustCompile(`\bargument [0-9]+`)

// Place brings faults of reading the row back to where they come from: those of
// assignments to the line or cell of the job. Faults of the joint file itself
// stay there. Other errors are returned as they are.
func (r *Row) Place(err error) error {
	faults := jointfile.AsFaults(err)
	if faults == nil {
		return err
	}
	out := make(jointfile.Faults, len(faults))
	for i, f := range faults {
		if f.Place.Argument > 0 {
			f.Place = r.place(f.Place.Argument)
			f.Rule = argumentText.ReplaceAllStringFunc(f.Rule, func(text string) string {
				n, _ := strconv.Atoi(strings.TrimPrefix(text, "argument "))
				return r.place(n).String()
			})
			if f.Place.Row > 0 && f.Code == joints.FaultMissing && f.Place == r.At && f.Field != "welds" {
				name := strings.TrimSuffix(strings.TrimPrefix(f.Field, "welds."), ".thickness")
				if kind, ok := joints.LookupKind(r.Kind); ok {
					if _, _, ok := jointfile.Lookup(kind, name); ok {
						f.Remedy = "fill in a column " + name
					}
				}
			}
		}
		out[i] = f
	}
	return out
}

// place is that of an argument of the row's [Source].
func (r *Row) place(argument int) jointfile.Place {
	if i := argument - 2; i >= 0 && i < len(r.Sets) {
		return r.Sets[i].At
	}
	return r.At
}

// reader collects what is wrong with a job.
type reader struct{ faults jointfile.Faults }

func (r *reader) fault(code joints.FaultCode, field, value string, at jointfile.Place, rule, remedy string) {
	r.faults = append(r.faults, jointfile.Fault{Place: at,
		Fault: joints.Fault{Code: code, Field: shorten(field), Value: shorten(value), Rule: rule, Remedy: remedy}})
}

// longestShown bounds the part of a wrong value repeated in a message.
const longestShown = 60

func shorten(s string) string {
	if !printable(s) {
		s = strconv.Quote(s)
	}
	if r := []rune(s); len(r) > longestShown {
		return string(r[:longestShown]) + "…"
	}
	return s
}

func printable(text string) bool {
	return utf8.ValidString(text) && strings.IndexFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}

// line checks one line of text.
func (r *reader) line(field, text string, at jointfile.Place, longest int) string {
	text = strings.TrimSpace(text)
	switch {
	case !utf8.ValidString(text):
		r.notUTF8(field, text, at)
		return ""
	case !printable(text):
		r.fault(joints.FaultSyntax, field, text, at, "must be one line of printable text", "remove line breaks and control characters")
		return ""
	case utf8.RuneCountInString(text) > longest:
		r.fault(joints.FaultRange, field, text, at, fmt.Sprintf("is longer than %d characters", longest), "shorten it")
		return ""
	}
	return text
}

// notUTF8 is told of text in another coding, such as Windows-1252, which some
// spreadsheets write where CSV is asked for.
func (r *reader) notUTF8(field, text string, at jointfile.Place) {
	r.fault(joints.FaultSyntax, field, text, at, "is not UTF-8 text", "save the table as CSV UTF-8 (comma delimited)")
}

func (r *reader) quantity(field, text string, at jointfile.Place) int {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n < 1 || n > maxQuantity {
		code := joints.FaultSyntax
		if err == nil || errors.Is(err, strconv.ErrRange) {
			code = joints.FaultRange
		}
		r.fault(code, field, text, at, fmt.Sprintf("must be a whole number from 1 to %d", maxQuantity), "write digits only")
		return 0
	}
	return n
}
