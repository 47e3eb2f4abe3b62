package cli

import (
	"bufio"
	"crypto/rand"
	"io/fs"
	"os"
	"path/filepath"
)

// growing is a file that is written piece by piece under a temporary name in
// the folder of its path, and takes the path's place when it is complete. Where
// several files are, each is made ready before the first takes its place.
type growing struct {
	path, target string
	file         *os.File // nil when complete or discarded
	out          *bufio.Writer
	temporary    string      // empty: none, or moved to its place
	mode         fs.FileMode // of the file that is there; 0 for none
	device       bool        // written straight to, as a pipe is
}

func newGrowing(path string) (*growing, error) {
	g := &growing{path: path, target: path}
	if resolved, err := filepath.EvalSymlinks(path); err == nil {
		g.target = resolved // a link stays a link
	}
	if info, err := os.Stat(g.target); err == nil {
		if info.IsDir() {
			return nil, usage(path+": is a folder", "name a file in it")
		}
		g.mode, g.device = info.Mode().Perm(), !info.Mode().IsRegular()
	}
	var err error
	if g.device {
		g.file, err = os.OpenFile(path, os.O_WRONLY, 0)
	} else {
		g.temporary = filepath.Join(filepath.Dir(g.target), "."+filepath.Base(g.target)+"."+rand.Text()[:8]+".tmp")
		g.file, err = os.OpenFile(g.temporary, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) //nolint:gosec // the umask decides, as for any document
	}
	if err != nil {
		return nil, unwritable(path, err)
	}
	g.out = bufio.NewWriterSize(g.file, 1<<16)
	return g, nil
}

func (g *growing) Write(p []byte) (int, error) {
	n, err := g.out.Write(p)
	if err != nil {
		err = unwritable(g.path, err)
	}
	return n, err
}

// ready completes the file under its temporary name.
func (g *growing) ready() error {
	err := g.out.Flush()
	if err == nil && g.mode != 0 && !g.device {
		err = g.file.Chmod(g.mode)
	}
	if err == nil && !g.device {
		err = g.file.Sync()
	}
	if closing := g.file.Close(); err == nil {
		err = closing
	}
	g.file = nil
	if err != nil {
		return unwritable(g.path, err)
	}
	return nil
}

// keep gives a file that is ready its name.
func (g *growing) keep() error {
	if g.device {
		return nil
	}
	if err := os.Rename(g.temporary, g.target); err != nil {
		return unwritable(g.path, err)
	}
	g.temporary = ""
	return syncFolder(g.path, filepath.Dir(g.target))
}

// discard leaves things as they were; after keep it does nothing.
func (g *growing) discard() {
	if g.file != nil {
		_ = g.file.Close() // its content is not wanted
		g.file = nil
	}
	if g.temporary != "" {
		_ = os.Remove(g.temporary) // an error that came before is the one to tell
		g.temporary = ""
	}
}
