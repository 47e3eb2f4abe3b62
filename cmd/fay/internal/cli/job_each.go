package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fay/render"
)

// eachDPI is that of a png among many.
const eachDPI = 150

// encode writes every sheet of a joint by itself. Sheets of tables have nothing
// to cut or trace and make no dxf.
func (d *jobDone) encode(j *job, sheets []*render.Drawing, format string) error {
	for i, s := range sheets {
		if format == "dxf" && len(s.Views) == 0 {
			continue
		}
		data, err := j.encode(sheets, format, eachDPI, i+1)
		if err != nil {
			return err
		}
		d.files = append(d.files, data)
	}
	return nil
}

// stage holds the files of single sheets, beside the place they are for, until
// all are there.
type stage struct {
	folder       string // its own
	stem, ending string // of the names: stem-0001.svg, stem-0001-2.svg
	names        []string
}

func newStage(path string) (*stage, error) {
	folder, err := os.MkdirTemp(filepath.Dir(path), ".fay-*.tmp")
	if err != nil {
		return nil, unwritable(path, err)
	}
	ending := filepath.Ext(path)
	return &stage{folder: folder, stem: strings.TrimSuffix(filepath.Base(path), ending), ending: ending}, nil
}

// hold writes the sheets of a joint and frees their memory.
func (s *stage) hold(d *jobDone) error {
	for k, data := range d.files {
		name := fmt.Sprintf("%s-%04d", s.stem, d.line.Number)
		if k > 0 {
			name += fmt.Sprintf("-%d", k+1)
		}
		name += s.ending
		file, err := os.OpenFile(filepath.Join(s.folder, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) //nolint:gosec // the umask decides, as for any document
		if err == nil {
			err = fill(file, data, 0)
		}
		if err != nil {
			return unwritable(name, err)
		}
		s.names = append(s.names, name)
	}
	d.files = nil
	return nil
}

// keep moves the files to their place.
func (s *stage) keep() error {
	folder := filepath.Dir(s.folder)
	for _, name := range s.names {
		path := filepath.Join(folder, name)
		if err := os.Rename(filepath.Join(s.folder, name), path); err != nil {
			return unwritable(path, err)
		}
	}
	return syncFolder(folder, folder)
}

// summary tells what was written.
func (s *stage) summary() string {
	if len(s.names) == 0 {
		return "no file"
	}
	return count(len(s.names), "file such as ", "files such as ") + filepath.Join(filepath.Dir(s.folder), s.names[0])
}

// discard removes what was not kept.
func (s *stage) discard() { _ = os.RemoveAll(s.folder) } // nothing of worth is in it
