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
	"sync/atomic"

	"fay/joints"
	"fay/joints/jobfile"
	"fay/joints/jointfile"
)

// jobInput gives the joints of a job one by one.
type jobInput struct {
	name   string // job number, of a job file
	title  string
	folder string // that joint files are named from
	// next returns the next joint or io.EOF; jointfile.Faults concern one
	// joint, other errors end the job.
	next  func() (jobfile.Row, error)
	close func()
	// done tells how much of the input is read, from 0 to 1; 0 where the size
	// is not known.
	done  func() float64
	given atomic.Int64 // joints of a job file handed out
}

// counted counts the bytes read.
type counted struct {
	in io.Reader
	n  atomic.Int64
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.in.Read(p)
	c.n.Add(int64(n))
	return n, err
}

// openJob begins to read a job: a table by its ending .csv or by what it begins
// with, else a job file.
func (a *app) openJob(path string) (*jobInput, error) {
	in := &jobInput{close: func() {}, done: func() float64 { return 0 }}
	name, raw := "standard input", a.env.Stdin
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
		name, raw, in.folder = path, file, filepath.Dir(path)
		if err == nil && info.Size() > 0 {
			size := float64(info.Size())
			seen := &counted{in: file}
			raw, in.done = seen, func() float64 { return min(float64(seen.n.Load())/size, 1) }
		}
	}
	err := in.read(name, path, raw)
	if err != nil {
		in.close()
		return nil, err
	}
	return in, nil
}

// read settles which form the job has.
func (in *jobInput) read(name, path string, raw io.Reader) error {
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
		table, err := jobfile.NewTable(name, raw)
		if err != nil {
			return err //nolint:wrapcheck // faults of the input, told as they are
		}
		in.next = table.Next
		return nil
	}
	data, err := io.ReadAll(io.LimitReader(raw, jointfile.MaxBytes+1))
	if err != nil {
		return fmt.Errorf("read %s: %w", name, err)
	}
	job, err := jobfile.Read(name, data)
	if err != nil {
		return err //nolint:wrapcheck // faults of the input, told as they are
	}
	in.name, in.title = job.Name, job.Title
	at := 0
	in.done = func() float64 { return float64(in.given.Load()) / float64(len(job.Rows)) }
	in.next = func() (jobfile.Row, error) {
		if at == len(job.Rows) {
			return jobfile.Row{}, io.EOF
		}
		at++
		in.given.Store(int64(at))
		return job.Rows[at-1], nil
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
