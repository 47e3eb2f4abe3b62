package cli

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"

	"fay/geometry"
)

// run runs a command line in a folder of its own and returns what came out.
func run(t *testing.T, stdin string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, talk bytes.Buffer
	code = Main(args, Env{
		Stdin: strings.NewReader(stdin), Stdout: &out, Stderr: &talk, Environ: []string{}, ConfigDir: t.TempDir(),
	})
	return code, out.String(), talk.String()
}

// walk visits every command.
func walk(c *cobra.Command, visit func(*cobra.Command)) {
	visit(c)
	for _, sub := range c.Commands() {
		walk(sub, visit)
	}
}

// Every command's help has an example, and every example works as pasted.
func TestExamples(t *testing.T) {
	root := (&app{}).root()
	t.Chdir(t.TempDir())
	walk(root, func(c *cobra.Command) {
		if !c.IsAvailableCommand() && c != root || c.Name() == "help" || c.HasParent() && c.Parent().Name() == "completion" {
			return
		}
		if c.Example == "" {
			t.Errorf("`%s --help` shows no example", c.CommandPath())
		}
		for line := range strings.SplitSeq(strings.TrimSpace(c.Example), "\n") {
			t.Run(line, func(t *testing.T) {
				args := strings.Fields(line)
				if args[0] != "fay" {
					t.Fatalf("not a command line: %q", line)
				}
				code, out, talk := run(t, "", args[1:]...)
				if code != exitDone {
					t.Errorf("exit code %d\n%s", code, talk)
				}
				if out == "" && !strings.Contains(line, " -o ") {
					t.Error("nothing printed")
				}
			})
		}
	})
}

// Faults say what to do and never print the usage over it.
func TestFaultsAreShort(t *testing.T) {
	for _, args := range [][]string{
		{"nothing"}, {"check"}, {"check", "tee"}, {"check", "tee", "--no-such-flag"}, {"draw", "tee", "-o", "x.doc"},
		{"check", "tee", "base=8", "stem=3", "leg=3", "--units", "parsec"}, {"new", "x"}, {"completion"}, {"completion", "tcsh"}, {"new", "tee", "leg=3"}, {"settings", "--config", "/no/such/file"},
	} {
		t.Run(strings.Join(args, " "), func(t *testing.T) {
			code, out, talk := run(t, "", args...)
			if code != exitInput {
				t.Errorf("exit code %d, want %d", code, exitInput)
			}
			if out != "" || strings.Contains(talk, "Usage:") || !strings.HasPrefix(talk, "fay: ") || !strings.Contains(talk, "  hint: ") {
				t.Errorf("stdout %q, stderr:\n%s", out, talk)
			}
		})
	}
}

// A panic becomes a message and exit code 1.
func TestPanic(t *testing.T) {
	var talk bytes.Buffer
	code := Main([]string{"check", "-"}, Env{Stdin: panicking{}, Stdout: &talk, Stderr: &talk, Environ: []string{}, ConfigDir: t.TempDir()})
	if code != exitUnexpected || !strings.Contains(talk.String(), "fay: unexpected: boom") {
		t.Errorf("exit code %d, said %q", code, talk.String())
	}
}

type panicking struct{}

func (panicking) Read([]byte) (int, error) { panic("boom") }

// A standard output that fails is an error of its own.
func TestStdoutFails(t *testing.T) {
	var talk bytes.Buffer
	code := Main([]string{"kinds"}, Env{Stdout: failing{}, Stderr: &talk, Environ: []string{}, ConfigDir: t.TempDir()})
	if code != exitUnexpected || !strings.Contains(talk.String(), "disk full") {
		t.Errorf("exit code %d, said %q", code, talk.String())
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestJSONIsComplete(t *testing.T) {
	for _, args := range [][]string{
		{"check", "tee", "base=8", "stem=3", "leg=3"}, {"filler", "lap", "lower=6", "upper=4", "overlap=30", "leg=4"},
		{"kinds"}, {"settings"},
	} {
		code, out, talk := run(t, "", append(args, "--format", "json")...)
		if code != exitDone || talk != "" {
			t.Fatalf("%v: exit code %d, %s", args, code, talk)
		}
		var v any
		if err := json.Unmarshal([]byte(out), &v); err != nil {
			t.Errorf("%v: %v", args, err)
		}
		noNull(t, args[0], v)
	}
}

func noNull(t *testing.T, at string, v any) {
	t.Helper()
	switch v := v.(type) {
	case nil:
		t.Errorf("%s is null", at)
	case map[string]any:
		for k, e := range v {
			noNull(t, at+"."+k, e)
		}
	case []any:
		for _, e := range v {
			noNull(t, at+"[]", e)
		}
	}
}

func TestQuantities(t *testing.T) {
	mm := quantities{}
	sixteenths := quantities{unit: geometry.UnitInch, fractions: true, denominator: 16}
	decimals := quantities{unit: geometry.UnitInch}
	rows := []struct {
		name string
		q    quantities
		mm   float64
		want string
	}{
		{"millimetres", mm, 3, "3 mm"},
		{"millimetres rounded", mm, 2.1213, "2.12 mm"},
		{"no minus zero", mm, -1e-9, "0 mm"},
		{"exact fraction", sixteenths, 25.4 * 3 / 16, "3/16 in"},
		{"whole and fraction", sixteenths, 25.4 * 1.25, "1-1/4 in"},
		{"fraction off by less than shows", sixteenths, 25.4*3/16 + 0.01, "3/16 in"},
		{"fraction with the truth behind it", sixteenths, 19, "3/4 in (0.748)"},
		{"fraction that would mislead", sixteenths, 2.4, "0.094 in"},
		{"a 32nd that is meant", sixteenths, 25.4 * 3 / 32, "3/32 in"},
		{"a 64th that is meant", sixteenths, 25.4 * 5 / 64, "5/64 in"},
		{"decimals", decimals, 25.4 * 3 / 16, "0.188 in"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			if d := cmp.Diff(row.want, row.q.length(row.mm)); d != "" {
				t.Errorf("length (-want +got):\n%s", d)
			}
		})
	}
	for mm, want := range map[float64]string{2.4: "2.4 mm", 25.4 * 3 / 32: "3/32 in", 2.5: "0.098 in"} {
		if got := sixteenths.rod(mm); got != want {
			t.Errorf("a rod of %v mm prints as %s, want %s", mm, got, want)
		}
	}
	if got, want := decimals.area(645.16), "1 in²"; got != want {
		t.Errorf("area %s, want %s", got, want)
	}
	if got, want := significant(0.0119564), "0.01196"; got != want {
		t.Errorf("significant %s, want %s", got, want)
	}
	if got := significant(math.Inf(1)); got != "+Inf" {
		t.Errorf("significant of infinity %s", got)
	}
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	for _, text := range []string{"first", "second"} {
		if err := writeFile(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(path)
		if err != nil || string(got) != text {
			t.Errorf("file holds %q, want %q (%v)", got, text, err)
		}
		if text == "first" {
			if err := os.Chmod(path, 0o640); err != nil {
				t.Fatal(err)
			}
		}
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := info.Mode().Perm(); got != 0o640 {
		t.Errorf("mode %o, want that of the file before, 640", got)
	}
	link := filepath.Join(dir, "link.txt")
	if err := os.Symlink(path, link); err != nil {
		t.Skip(err)
	}
	if err := writeFile(link, []byte("third")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 2 {
		t.Errorf("the folder holds %v, want the file and the link alone", entries)
	}
	if err := writeFile(os.DevNull, []byte("x")); err != nil {
		t.Errorf("a device: %v", err)
	}
}

// An interrupt while the file is written leaves the one before as it was.
func TestWriteInterrupted(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	if err := writeFile(path, []byte("before")); err != nil {
		t.Fatal(err)
	}
	interrupt := make(chan os.Signal, 1)
	interrupt <- os.Interrupt
	err := writeUnless(interrupt, path, []byte("after"))
	if !errors.Is(err, errInterrupted) {
		t.Errorf("error %v, want %v", err, errInterrupted)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != "before" {
		t.Errorf("file holds %q, want what it held before (%v)", got, err)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 1 {
		t.Errorf("the folder holds %v, want the file alone", entries)
	}
}

func FuzzMain(f *testing.F) {
	f.Add("check tee base=8 stem=3 leg=3", "")
	f.Add("filler lap lower=6 upper=4 overlap=30 leg=4 filler.type=5356 --format csv", "")
	f.Add("check - --units in --format md", "joint: tee\nbase: 1/4\nstem: 1/8\nleg: 1/8\n")
	f.Add("draw tee base=8 stem=3 leg=3 -o - --to svg", "")
	f.Add("settings --template", "")
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, line, stdin string) {
		args := strings.Fields(line)
		for i, a := range args {
			if strings.HasPrefix(a, "-o") && a != "-o" || strings.Contains(a, "output") || i > 0 && args[i-1] == "-o" && a != "-" {
				return // writes no files of any name
			}
		}
		var out, talk bytes.Buffer
		code := Main(args, Env{Stdin: strings.NewReader(stdin), Stdout: &out, Stderr: &talk, Environ: []string{}, ConfigDir: dir})
		if strings.Contains(talk.String(), "fay: unexpected:") {
			t.Fatalf("%q: %s", line, talk.String())
		}
		if code == exitInput && talk.Len() == 0 {
			t.Fatalf("%q: refused without a word", line)
		}
	})
}

func BenchmarkCheck(b *testing.B) {
	dir := b.TempDir()
	for b.Loop() {
		var out, talk bytes.Buffer
		if code := Main([]string{"check", "tee", "base=8", "stem=3", "leg=3"}, Env{Stdout: &out, Stderr: &talk, Environ: []string{}, ConfigDir: dir}); code != 0 {
			b.Fatal(talk.String())
		}
	}
}
