package rendertest

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestEveryGoldenIsListed compares the goldens on file with the list of what was
// looked at on each.
func TestEveryGoldenIsListed(t *testing.T) {
	root := filepath.Join("..", "..")
	list := filepath.Join(root, "testdata", "golden", "README.md")
	text, err := os.ReadFile(list)
	if err != nil {
		t.Fatal(err)
	}
	var listed []string
	for _, m := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\| .{10}").FindAllStringSubmatch(string(text), -1) {
		listed = append(listed, m[1])
	}
	var kept []string
	err = filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		dir, name := filepath.Split(path)
		dir = filepath.ToSlash(dir)
		if e.IsDir() || !strings.HasSuffix(dir, "/testdata/golden/") || path == list {
			return nil
		}
		dir = strings.TrimPrefix(dir, filepath.ToSlash(root)+"/")
		if dir != "testdata/golden/" {
			dir = strings.TrimSuffix(dir, "testdata/golden/")
		}
		kept = append(kept, dir+strings.TrimSuffix(name, filepath.Ext(name)))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(listed)
	slices.Sort(kept)
	if diff := cmp.Diff(slices.Compact(kept), listed); diff != "" {
		t.Errorf("goldens (-on file +listed):\n%s", diff)
	}
}
