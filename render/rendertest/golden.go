package rendertest

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

var update = flag.Bool("update", false, "write golden files instead of comparing with them")

// slack is how far a number of a golden file may lie from the one at hand:
// drawings are rounded to 1e-3 mm, and a last digit may fall either way where
// processors multiply and add in one step.
const slack = 1.5e-3

// Golden compares got with testdata/golden/name. Numbers may differ by the
// rounding of a drawing, everything else must be equal. Files are written by
// the flag -update only; look at the old and the new one before accepting.
func Golden(tb testing.TB, name string, got []byte) {
	tb.Helper()
	path := filepath.Join("testdata", "golden", filepath.FromSlash(name))
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil { //nolint:gosec // part of the sources
			tb.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil { //nolint:gosec // part of the sources
			tb.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		tb.Errorf("golden file: %v; run the test with -update to write it, then look at it", err)
		return
	}
	if difference := compare(want, got); difference != "" {
		tb.Errorf("%s is not what it was: %s\n%s", path, difference, keep(path, got))
	}
}

// keep writes the new output beside nothing of the project and says how to look
// at both.
func keep(path string, got []byte) string {
	dir, err := os.MkdirTemp("", "golden-")
	if err != nil {
		return "the new one could not be kept: " + err.Error()
	}
	fresh := filepath.Join(dir, filepath.Base(path))
	if err := os.WriteFile(fresh, got, 0o600); err != nil {
		return "the new one could not be kept: " + err.Error()
	}
	old, err := filepath.Abs(path)
	if err != nil {
		old = path
	}
	return fmt.Sprintf("old: %s\nnew: %s\nlook at both; accept with -update", old, fresh)
}

var numeral = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// compare names the first difference, or nothing.
func compare(want, got []byte) string {
	w, g := bytes.Split(want, []byte("\n")), bytes.Split(got, []byte("\n"))
	for i := range min(len(w), len(g)) {
		if !same(w[i], g[i]) {
			return fmt.Sprintf("line %d\n  want %s\n  got  %s", i+1, shorten(w[i]), shorten(g[i]))
		}
	}
	if len(w) != len(g) {
		return fmt.Sprintf("want %d lines, got %d", len(w), len(g))
	}
	return ""
}

func same(want, got []byte) bool {
	if bytes.Equal(want, got) {
		return true
	}
	if !bytes.Equal(numeral.ReplaceAll(want, []byte("#")), numeral.ReplaceAll(got, []byte("#"))) {
		return false
	}
	w, g := numeral.FindAll(want, -1), numeral.FindAll(got, -1)
	for i := range w {
		a, errA := strconv.ParseFloat(string(w[i]), 64)
		b, errB := strconv.ParseFloat(string(g[i]), 64)
		if errA != nil || errB != nil || math.Abs(a-b) > slack {
			return false
		}
	}
	return true
}

func shorten(line []byte) string {
	const most = 300
	if len(line) > most {
		return string(line[:most]) + " …"
	}
	return string(line)
}
