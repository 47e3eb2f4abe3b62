package macro

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"fay/joints"
)

// patience is how long a writer waits for another one.
const patience = 20 * time.Second

// Append adds entries to a log, all in one write, and makes the log where there
// is none. Writers take turns by a lock of the system, which a killed one gives
// up. What a kill left of a last line is set aside in a file beside the log and
// told in the notes; earlier lines are never touched. The error is of type
// [joints.Faults] where the file is not a log of this version.
func Append(path string, entries []Entry) (notes []string, err error) {
	form, ok := LogFormatOf(path)
	if !ok {
		return nil, joints.Faults{{Code: FaultLog, Field: path, Rule: "has no ending that picks the form of a log", Remedy: "end the name in .csv or .jsonl"}}
	}
	var lines []byte
	for i := range entries {
		if err := entries[i].complete(); err != nil {
			return nil, fmt.Errorf("macro: entry %d lacks date, sample, weld, digest or verdict", i+1)
		}
		line, err := form.line(&entries[i])
		if err != nil {
			return nil, err
		}
		lines = append(lines, line...)
	}
	file, err := openLocked(path)
	if err != nil {
		return nil, err
	}
	defer func() {
		if closing := file.Close(); err == nil {
			err = closing
		}
	}()
	size, notes, err := form.mend(file, path)
	if err != nil {
		return notes, err
	}
	if size == 0 {
		lines = append(form.header(), lines...)
	}
	return notes, extend(file, size, lines)
}

// extend writes at the end, as a whole or not at all where the system lets it.
func extend(file *os.File, size int64, data []byte) error {
	_, err := file.WriteAt(data, size)
	if err == nil {
		err = file.Sync()
	}
	if err != nil {
		_ = file.Truncate(size) // the first error is the one to tell
		return fmt.Errorf("write the log: %w; nothing was added", err)
	}
	return nil
}

// mend checks the first line, sets a torn last line aside, and returns the
// size of what is sound.
func (f LogFormat) mend(file *os.File, path string) (size int64, notes []string, err error) {
	info, err := file.Stat()
	if err != nil {
		return 0, nil, fmt.Errorf("read the log: %w", err)
	}
	size = info.Size()
	if size == 0 {
		return 0, nil, nil
	}
	first, err := head(file)
	if err != nil {
		return 0, nil, err
	}
	if !bytes.HasSuffix(first, []byte("\n")) {
		if !bytes.HasPrefix(f.header(), first) {
			if err := f.refuse(path, first); err != nil {
				return 0, nil, err
			}
		}
		// Killed while the log was being made: only part of the first line is there.
		if err := file.Truncate(0); err != nil {
			return 0, nil, fmt.Errorf("mend the log: %w", err)
		}
		return 0, nil, nil
	}
	if err := f.refuse(path, bytes.TrimSuffix(first, []byte("\n"))); err != nil {
		return 0, nil, err
	}
	tail, start, err := lastLine(file, size)
	if err != nil || len(tail) == 0 {
		return size, nil, err
	}
	if _, err := f.parse(tail); err == nil {
		// Only its line feed is missing.
		if err := extend(file, size, []byte("\n")); err != nil {
			return 0, nil, err
		}
		return size + 1, []string{path + ": the last line lacked its end only; it was kept"}, nil
	}
	return f.setAside(file, path, start, size)
}

// setAside moves what follows start to a file beside the log.
func (f LogFormat) setAside(file *os.File, path string, start, size int64) (int64, []string, error) {
	torn := make([]byte, size-start)
	if _, err := file.ReadAt(torn, start); err != nil {
		return 0, nil, fmt.Errorf("read the log: %w", err)
	}
	aside := path + ".torn"
	out, err := os.OpenFile(aside, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o666) //nolint:gosec // the umask decides, as for the log
	if err != nil {
		return 0, nil, fmt.Errorf("set a torn line aside: %w; the log was left as it was", err)
	}
	_, err = out.Write(slices.Concat(torn, []byte("\n")))
	if err == nil {
		err = out.Sync()
	}
	if closing := out.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return 0, nil, fmt.Errorf("set a torn line aside: %w; the log was left as it was", err)
	}
	if err := file.Truncate(start); err != nil {
		return 0, nil, fmt.Errorf("mend the log: %w", err)
	}
	return start, []string{fmt.Sprintf("%s: its last line was cut short, %d bytes, by a writer that was stopped; they are kept in %s, record that sample again", path, len(torn), aside)}, nil
}

// longestLine bounds a line of a log.
const longestLine = 1 << 20

// head reads the first line with its line feed, or the whole file where there
// is none.
func head(file *os.File) ([]byte, error) {
	buf := make([]byte, 64<<10)
	n, err := file.ReadAt(buf, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("read the log: %w", err)
	}
	buf = buf[:n]
	if i := bytes.IndexByte(buf, '\n'); i >= 0 {
		return buf[:i+1], nil
	}
	return buf, nil
}

// lastLine reads what follows the last line feed, and where it starts.
func lastLine(file *os.File, size int64) (tail []byte, start int64, err error) {
	for block := int64(4096); ; block *= 4 {
		from := max(0, size-block)
		buf := make([]byte, size-from)
		if _, err := file.ReadAt(buf, from); err != nil && !errors.Is(err, io.EOF) {
			return nil, 0, fmt.Errorf("read the log: %w", err)
		}
		if i := bytes.LastIndexByte(buf, '\n'); i >= 0 {
			return buf[i+1:], from + int64(i) + 1, nil
		}
		if from == 0 {
			return buf, 0, nil
		}
	}
}

// openLocked opens the log for this writer alone. A log that was replaced
// while waiting is opened anew.
func openLocked(path string) (*os.File, error) {
	deadline := time.Now().Add(patience)
	for {
		file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666) //nolint:gosec // the umask decides, as for any document
		if err != nil {
			return nil, unusable(path, err)
		}
		locked, err := lock(file)
		if err != nil {
			_ = file.Close()
			return nil, fmt.Errorf("lock the log %s: %w", path, err)
		}
		if locked && same(file, path) {
			syncFolder(path)
			return file, nil
		}
		_ = file.Close() // nothing was written
		if time.Now().After(deadline) {
			return nil, joints.Faults{{Code: FaultLog, Field: path, Rule: "is held by another writer", Remedy: "try again when it has finished; nothing was written"}}
		}
		time.Sleep(5 * time.Millisecond)
	}
}

func unusable(path string, err error) error {
	if pathErr, ok := errors.AsType[*fs.PathError](err); ok {
		err = pathErr.Err
	}
	return joints.Faults{{Code: FaultLog, Field: path, Rule: "cannot be opened: " + err.Error(), Remedy: "check the name and its permissions"}}
}

func same(file *os.File, path string) bool {
	a, err := file.Stat()
	if err != nil {
		return false
	}
	b, err := os.Stat(path) //nolint:gosec // the log that the person named
	return err == nil && os.SameFile(a, b)
}

// syncFolder makes a new log's name last through a power cut, where the system
// can; where it cannot, the log is complete all the same.
func syncFolder(path string) {
	if dir, err := os.Open(filepath.Dir(path)); err == nil { //nolint:gosec // the log that the person named
		_ = dir.Sync()
		_ = dir.Close()
	}
}

// Log is a log as read.
type Log struct {
	Entries []Entry
	// Damaged are the numbers of lines that cannot be read, a torn last one
	// included; the file is left as it is.
	Damaged []int
}

// ReadLog reads a log in its form. The error is of type [joints.Faults] where
// the data is not a log of this version; name is for messages.
func ReadLog(name string, form LogFormat, data []byte) (Log, error) {
	log := Log{Entries: []Entry{}}
	if len(data) == 0 {
		return log, nil
	}
	number := 0
	for line := range bytes.SplitSeq(data, []byte("\n")) {
		number++
		line = bytes.TrimSuffix(line, []byte("\r"))
		switch {
		case number == 1:
			if err := form.refuse(name, line); err != nil {
				return Log{}, err
			}
		case len(line) == 0:
		case len(line) > longestLine:
			log.Damaged = append(log.Damaged, number)
		default:
			e, err := form.parse(line)
			if err != nil {
				log.Damaged = append(log.Damaged, number)
				continue
			}
			log.Entries = append(log.Entries, e)
		}
	}
	return log, nil
}
