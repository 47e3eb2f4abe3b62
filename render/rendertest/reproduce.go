package rendertest

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
)

// childFile names, in the environment of a test run anew, the file its output
// goes to.
const childFile = "RENDERTEST_CHILD_FILE"

// Reproducible checks that write gives the same bytes twice in one process and
// once more in another process, where map orders, addresses and clocks differ.
// Call it from a test function of its own, not from a subtest: the test is run
// anew by its name.
func Reproducible(t *testing.T, write func(io.Writer) error) {
	t.Helper()
	once := func() []byte {
		t.Helper()
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	first := once()
	if path := os.Getenv(childFile); path != "" {
		if err := os.WriteFile(path, first, 0o600); err != nil { //nolint:gosec // path set by the parent run
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(first, once()) {
		t.Error("two runs in one process differ")
	}
	path := filepath.Join(t.TempDir(), "out")
	cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^"+regexp.QuoteMeta(t.Name())+"$", "-test.count=1") //nolint:gosec // this very test
	cmd.Env = append(os.Environ(), childFile+"="+path)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("running the test anew: %v\n%s", err, out)
	}
	second, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, second) {
		t.Errorf("two processes differ: %d and %d bytes", len(first), len(second))
	}
}
