package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"fay/render"
)

// eachDPI is that of a png among many.
const eachDPI = 150

// single writes every sheet of a joint to a file of its own. Sheets of tables
// have nothing to cut or trace and make no dxf.
func (w *jobWorks) single(j *job, sheets []*render.Drawing, d *jobDone) error {
	for i, s := range sheets {
		if w.each == "dxf" && len(s.Views) == 0 {
			continue
		}
		name := w.stage.name(d.line.Number, len(d.files)+1)
		if err := w.stage.write(name, func(to io.Writer) error { return j.encode(to, sheets, w.each, eachDPI, i+1) }); err != nil {
			return err
		}
		d.files = append(d.files, name)
	}
	return nil
}

// keepSingle keeps the files of all joints and tells of them.
func (r *jobRun) keepSingle(ctx context.Context, done []jobDone) error {
	var names []string
	for i := range done {
		names = append(names, done[i].files...)
	}
	if err := r.works.stage.keep(ctx, names); err != nil {
		return err
	}
	written := "no file"
	if len(names) > 0 {
		written = count(len(names), "file such as ", "files such as ") + filepath.Join(filepath.Dir(r.plan.each), names[0])
	}
	r.app.talkf("fay: wrote %s\n", written)
	return nil
}

// stage holds the files of single sheets, beside the place they are for, until
// all are there. Workers write to it side by side.
type stage struct {
	folder       string // its own
	stem, ending string // of the names: stem-0001.svg, stem-0001-2.svg
	sync         func(path string) error

	mu   sync.RWMutex // held for reading while a file is written
	over bool         // discarded: nothing is to be written any more
}

func newStage(path string) (*stage, error) {
	folder, err := os.MkdirTemp(filepath.Dir(path), ".fay-*.tmp")
	if err != nil {
		return nil, unwritable(path, err)
	}
	ending := filepath.Ext(path)
	return &stage{folder: folder, stem: strings.TrimSuffix(filepath.Base(path), ending), ending: ending, sync: syncFile}, nil
}

// name is that of a sheet of a joint, both counted from 1.
func (s *stage) name(joint, sheet int) string {
	name := fmt.Sprintf("%s-%04d", s.stem, joint)
	if sheet > 1 {
		name += fmt.Sprintf("-%d", sheet)
	}
	return name + s.ending
}

// write makes a file. It does not wait for the disk: that is for keep.
func (s *stage) write(name string, encode func(io.Writer) error) error {
	s.mu.RLock()
	defer s.mu.RUnlock()
	if s.over {
		return errInterrupted
	}
	file, err := os.OpenFile(filepath.Join(s.folder, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) //nolint:gosec // the umask decides, as for any document
	if err != nil {
		return unwritable(name, err)
	}
	err = encode(file)
	if closing := file.Close(); err == nil {
		err = closing
	}
	if _, ok := errors.AsType[*fs.PathError](err); ok {
		return unwritable(name, err)
	}
	return err
}

// syncing is how many files are synced at a time: a disk takes several in one go.
const syncing = 16

// keep waits until the files are on the disk, then moves them to their place.
func (s *stage) keep(interrupt context.Context, names []string) error {
	if err := s.syncAll(interrupt, names); err != nil {
		return err
	}
	folder := filepath.Dir(s.folder)
	for _, name := range names {
		path := filepath.Join(folder, name)
		if err := os.Rename(filepath.Join(s.folder, name), path); err != nil {
			return unwritable(path, err)
		}
	}
	return syncFolder(folder, folder)
}

func (s *stage) syncAll(interrupt context.Context, names []string) error {
	todo := make(chan string)
	failed := make([]error, syncing)
	var group sync.WaitGroup
	for i := range failed {
		group.Go(func() {
			for name := range todo {
				if failed[i] != nil {
					continue
				}
				if err := s.sync(filepath.Join(s.folder, name)); err != nil {
					failed[i] = unwritable(name, err)
				}
			}
		})
	}
	for _, name := range names {
		if interrupt.Err() != nil {
			break
		}
		todo <- name
	}
	close(todo)
	group.Wait()
	if interrupt.Err() != nil {
		return errInterrupted
	}
	for _, err := range failed {
		if err != nil {
			return err
		}
	}
	return nil
}

// syncFile waits until a file is on the disk.
func syncFile(path string) error {
	file, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err //nolint:wrapcheck // told with its name by the caller
	}
	return errors.Join(file.Sync(), file.Close())
}

// discard removes what was not kept.
func (s *stage) discard() {
	s.mu.Lock() // a worker may still be writing after an interrupt
	defer s.mu.Unlock()
	s.over = true
	_ = os.RemoveAll(s.folder) // nothing of worth is in it
}
