package cli

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
)

// writeFile puts data under the path as a whole or not at all: it is written
// to a temporary name in the same folder, synced and renamed. An interrupt
// while it is being written leaves the folder as it was.
func writeFile(path string, data []byte) error {
	interrupt := make(chan os.Signal, 1)
	signal.Notify(interrupt, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(interrupt)
	return writeUnless(interrupt, path, data)
}

// writeUnless is writeFile with the interrupts to look out for.
func writeUnless(interrupt <-chan os.Signal, path string, data []byte) error {
	target := path
	if resolved, err := filepath.EvalSymlinks(path); err == nil {
		target = resolved // a link stays a link
	}
	mode := fs.FileMode(0)
	if info, err := os.Stat(target); err == nil {
		switch {
		case info.IsDir():
			return usage(path+": is a folder", "name a file in it")
		case !info.Mode().IsRegular():
			return writeDevice(path, data)
		}
		mode = info.Mode().Perm()
	}
	folder := filepath.Dir(target)
	temporary := filepath.Join(folder, "."+filepath.Base(target)+"."+rand.Text()[:8]+".tmp")
	file, err := os.OpenFile(temporary, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) //nolint:gosec // the umask decides, as for any document
	if err != nil {
		return unwritable(path, err)
	}
	err = fill(file, data, mode)
	if err == nil {
		select {
		case <-interrupt:
			err = errInterrupted
		default:
			err = os.Rename(temporary, target)
		}
	}
	if err != nil {
		_ = os.Remove(temporary) // the first error is the one to tell
		return unwritable(path, err)
	}
	return syncFolder(path, folder)
}

var errInterrupted = errors.New("interrupted")

// fill writes, syncs and closes; a mode of 0 keeps that of a new file.
func fill(file *os.File, data []byte, mode fs.FileMode) error {
	_, err := file.Write(data)
	if err == nil && mode != 0 {
		err = file.Chmod(mode)
	}
	if err == nil {
		err = file.Sync()
	}
	if closing := file.Close(); err == nil {
		err = closing
	}
	return err
}

// syncFolder makes the rename last through a power cut, where the system can.
func syncFolder(path, folder string) error {
	dir, err := os.Open(folder)
	if err != nil {
		return nil //nolint:nilerr // a folder that cannot be opened cannot be synced; the file is complete
	}
	err = dir.Sync()
	if closing := dir.Close(); err == nil {
		err = closing
	}
	if err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return unwritable(path, err)
	}
	return nil
}

// writeDevice writes to something that is no plain file, such as a pipe.
func writeDevice(path string, data []byte) error {
	file, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return unwritable(path, err)
	}
	_, err = file.Write(data)
	if closing := file.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return unwritable(path, err)
	}
	return nil
}

func unwritable(path string, err error) error {
	if pathErr, ok := errors.AsType[*fs.PathError](err); ok {
		err = pathErr.Err
	}
	if linkErr, ok := errors.AsType[*os.LinkError](err); ok {
		err = linkErr.Err
	}
	hint := "choose a folder that exists and that you may write to"
	if errors.Is(err, syscall.ENOSPC) {
		hint = "make room on the disk"
	}
	if errors.Is(err, errInterrupted) {
		return fmt.Errorf("%s: %w, nothing was written", path, err)
	}
	return usage(path+": cannot be written: "+err.Error()+"; nothing was written", hint)
}

// apartFrom refuses an output that is the input.
func apartFrom(input, output string) error {
	if input == "" || output == "" || output == "-" {
		return nil
	}
	in, err := os.Stat(input)
	if err != nil {
		return nil //nolint:nilerr // an input that is gone cannot be overwritten
	}
	if out, err := os.Stat(output); err == nil && os.SameFile(in, out) {
		return usage(output+": is the joint file itself; nothing was written", "give the output another name")
	}
	return nil
}
