package cli

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
)

func staged(t *testing.T) (s *stage, folder string) {
	t.Helper()
	folder = t.TempDir()
	s, err := newStage(filepath.Join(folder, "deck.svg"))
	if err != nil {
		t.Fatal(err)
	}
	return s, folder
}

func text(content string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, content)
		return err
	}
}

func mustBeEmpty(t *testing.T, folder string) {
	t.Helper()
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 0 {
		t.Errorf("the folder holds %v, want nothing (%v)", entries, err)
	}
}

// Files that many workers wrote are all synced before the first takes its place.
func TestStageKeepsWhatManyWrote(t *testing.T) {
	s, folder := staged(t)
	const joints = 300
	var group sync.WaitGroup
	for worker := range 8 {
		group.Go(func() {
			for i := worker; i < joints; i += 8 {
				if err := s.write(s.name(i+1, 1), text(strconv.Itoa(i+1))); err != nil {
					t.Error(err)
				}
			}
		})
	}
	group.Wait()
	names := make([]string, joints)
	for i := range names {
		names[i] = s.name(i+1, 1)
	}
	var synced atomic.Int64
	s.sync = func(path string) error {
		synced.Add(1)
		if entries, err := os.ReadDir(folder); err != nil || len(entries) != 1 {
			t.Errorf("before all is synced the folder holds %v, want the stage alone (%v)", entries, err)
		}
		return syncFile(path)
	}
	if err := s.keep(t.Context(), names); err != nil || synced.Load() != joints {
		t.Errorf("%d files synced, error %v", synced.Load(), err)
	}
	s.discard()
	for i, name := range names {
		if data, err := os.ReadFile(filepath.Join(folder, name)); err != nil || string(data) != strconv.Itoa(i+1) {
			t.Errorf("%s holds %q (%v)", name, data, err)
		}
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != joints {
		t.Errorf("the folder holds %d files, want %d (%v)", len(entries), joints, err)
	}
}

func TestStageNames(t *testing.T) {
	s := &stage{stem: "deck", ending: ".svg"}
	for want, of := range map[string][2]int{"deck-0001.svg": {1, 1}, "deck-0012-3.svg": {12, 3}, "deck-12345-2.svg": {12345, 2}} {
		if got := s.name(of[0], of[1]); got != want {
			t.Errorf("%v: %s, want %s", of, got, want)
		}
	}
}

// Whatever fails, no file is left.
func TestStageFails(t *testing.T) {
	full := &fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}
	encoder := errors.New("nothing to draw")
	for _, test := range []struct {
		name  string
		write error // of the second file
		sync  error
		want  error
	}{
		{"to write", full, nil, nil},
		{"to draw", encoder, nil, encoder},
		{"to sync", nil, full, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			s, folder := staged(t)
			s.sync = func(string) error { return test.sync }
			err := s.write("a.svg", text("a"))
			if err != nil {
				t.Fatal(err)
			}
			if err = s.write("b.svg", func(io.Writer) error { return test.write }); err == nil {
				err = s.keep(t.Context(), []string{"a.svg", "b.svg"})
			}
			_, input := errors.AsType[*usageError](err)
			if test.want != nil && !errors.Is(err, test.want) || test.want == nil && !input {
				t.Errorf("error %v", err)
			}
			s.discard()
			mustBeEmpty(t, folder)
		})
	}
}

// An interrupt while files are synced keeps none.
func TestStageInterrupted(t *testing.T) {
	s, folder := staged(t)
	ctx, interrupt := context.WithCancel(t.Context())
	if err := s.write("a.svg", text("a")); err != nil {
		t.Fatal(err)
	}
	s.sync = func(string) error {
		interrupt()
		return nil
	}
	if err := s.keep(ctx, []string{"a.svg"}); !errors.Is(err, errInterrupted) {
		t.Errorf("error %v, want %v", err, errInterrupted)
	}
	s.discard()
	mustBeEmpty(t, folder)
}

// Workers that go on after an interrupt leave nothing behind.
func TestStageIsOver(t *testing.T) {
	for range 20 {
		s, folder := staged(t)
		var group sync.WaitGroup
		begun := make(chan struct{}, 4)
		for worker := range cap(begun) {
			group.Go(func() {
				for i := 1; ; i++ {
					if err := s.write(s.name(worker+1, i), text("a")); err != nil {
						if !errors.Is(err, errInterrupted) {
							t.Error(err)
						}
						return
					}
					if i == 1 {
						begun <- struct{}{}
					}
				}
			})
		}
		for range cap(begun) {
			<-begun
		}
		s.discard()
		mustBeEmpty(t, folder)
		group.Wait()
		mustBeEmpty(t, folder)
	}
}
