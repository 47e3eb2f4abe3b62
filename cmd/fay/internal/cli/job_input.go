package cli

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"fay/joints"
	"fay/joints/jobfile"
	"fay/joints/jointfile"
)

// jobInput gives the joints of a job one by one.
type jobInput struct {
	path   string // as messages call it
	name   string // job number, of a job file
	title  string
	folder string // that joint files are named from
	// next returns the next joint or io.EOF; jointfile.Faults concern one
	// joint, other errors end the job.
	next func() (jobfile.Row, error)
	// ready tells whether next gives a joint without waiting for it.
	ready func() bool
	close func()
	// faults are those of a job file as a whole, which no joint is wrong by.
	faults jointfile.Faults
	// given is how much was handed out of all there is, in joints of a job file
	// or bytes of a table; all is 0 where that is not known.
	given, all int64
}

// done tells how much of the input is handed out, from 0 to 1; 0 where that is
// not known.
func (in *jobInput) done() float64 {
	if in.all == 0 {
		return 0
	}
	return min(float64(in.given)/float64(in.all), 1)
}

// openJob begins to read a job: a table by its ending .csv or by what it begins
// with, else a job file.
func (a *app) openJob(path string) (*jobInput, error) {
	in := &jobInput{path: "standard input", close: func() {}, ready: func() bool { return true }}
	raw := a.env.Stdin
	if path != "-" {
		file, err := os.Open(path)
		if err != nil {
			return nil, jobUnreadable(path, err)
		}
		in.close = func() { _ = file.Close() } // read only: nothing can be lost
		info, err := file.Stat()
		if err == nil && info.IsDir() {
			in.close()
			return nil, usage(path+": is a folder", "name a job file in it")
		}
		in.path, raw, in.folder = path, file, filepath.Dir(path)
		if err == nil && info.Mode().IsRegular() {
			in.all = info.Size()
		}
	}
	err := in.read(path, raw)
	if err != nil {
		in.close()
		return nil, err
	}
	return in, nil
}

// read settles which form the job has.
func (in *jobInput) read(path string, raw io.Reader) error {
	isTable := false
	switch strings.ToLower(filepath.Ext(path)) {
	case ".csv":
		isTable = true
	case ".yaml", ".yml":
	default:
		const enough = 4096
		buffered := bufio.NewReaderSize(raw, enough)
		head, _ := jobfile.Head(buffered, enough) // an error comes again with the reading
		isTable, raw = !beginsJobFile(head), buffered
	}
	if isTable {
		table, err := jobfile.NewTable(in.path, raw)
		if err != nil {
			return err //nolint:wrapcheck // faults of the input, told as they are
		}
		in.ready = table.Ready
		in.next = func() (jobfile.Row, error) {
			row, err := table.Next()
			in.given = table.Taken()
			return row, err //nolint:wrapcheck // faults of the input, told as they are
		}
		return nil
	}
	data, err := io.ReadAll(io.LimitReader(raw, jointfile.MaxBytes+1))
	if err != nil {
		return fmt.Errorf("read %s: %w", in.path, err)
	}
	job, err := jobfile.Read(in.path, data)
	if len(job.Rows) == 0 {
		return err //nolint:wrapcheck // faults of the input, told as they are
	}
	in.name, in.title, in.faults, in.all = job.Name, job.Title, job.Faults, int64(len(job.Rows))
	at := 0
	in.next = func() (jobfile.Row, error) {
		if at == len(job.Rows) {
			return jobfile.Row{}, io.EOF
		}
		at++
		in.given = int64(at)
		row := job.Rows[at-1]
		if len(row.Faults) > 0 {
			return row, row.Faults
		}
		return row, nil
	}
	return nil
}

var jobFileStart = regexp.MustCompile(`^(?:#|---|\{|"?(?:job|title|joints)"?\s*:)`)

// beginsJobFile tells a job file from a table by its first line with text.
func beginsJobFile(head []byte) bool {
	return jobFileStart.Match(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\ufeff")), " \t\r\n"))
}

func jobUnreadable(path string, err error) error {
	hint := "check the name and its permissions"
	if near := nearKind(path); near != "" {
		hint = near
	}
	if pathErr, ok := errors.AsType[*fs.PathError](err); ok {
		err = pathErr.Err
	}
	return usage(path+": cannot be read: "+err.Error(), hint)
}

// source is the row as a joint to read, the number of parts and of the job
// among its assignments.
func (in *jobInput) source(row *jobfile.Row) (src jointfile.Source, path string, err error) {
	src = row.Source()
	if row.Quantity > 0 {
		src.Assignments = append(src.Assignments, fmt.Sprintf("traveler.quantity=%d", row.Quantity))
	}
	if in.name != "" && !sets(row, "traveler.job") {
		src.Assignments = append(src.Assignments, "traveler.job="+in.name)
	}
	if row.File == "" {
		return src, "", nil
	}
	path = row.File
	if !filepath.IsAbs(path) && in.folder != "" {
		path = filepath.Join(in.folder, path)
	}
	src.Name = path
	src.Data, err = readJointFile(path)
	if use, ok := errors.AsType[*usageError](err); ok {
		err = jointfile.Faults{{Place: row.At, Fault: joints.Fault{Code: joints.FaultMissing, Field: "file",
			Value: row.File, Rule: strings.TrimPrefix(use.message, path+": "), Remedy: use.hint}}}
	}
	return src, path, err
}

func sets(row *jobfile.Row, name string) bool {
	for _, s := range row.Sets {
		if s.Name == name {
			return true
		}
	}
	return false
}
