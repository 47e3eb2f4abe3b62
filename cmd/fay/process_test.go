package main

import (
	"os/exec"
	"path/filepath"
	"testing"
)

// BenchmarkProcess times whole runs of the program, start included.
func BenchmarkProcess(b *testing.B) {
	fay := filepath.Join(b.TempDir(), "fay")
	if out, err := exec.Command("go", "build", "-o", fay, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	joint := []string{"tee", "base=8", "stem=3", "leg=3", "gap=0.3"}
	file := filepath.Join("..", "..", "testdata", "examples", "davit-foot.yaml")
	out := b.TempDir()
	for _, row := range []struct {
		name string
		args []string
	}{
		{"version", []string{"version"}},
		{"check", append([]string{"check"}, joint...)},
		{"check file", []string{"check", file}},
		{"filler", append([]string{"filler"}, joint...)},
		{"draw svg", append(append([]string{"draw"}, joint...), "-o", filepath.Join(out, "a.svg"))},
		{"draw pdf", append(append([]string{"draw"}, joint...), "-o", filepath.Join(out, "a.pdf"))},
		{"draw png", append(append([]string{"draw"}, joint...), "-o", filepath.Join(out, "a.png"))},
	} {
		b.Run(row.name, func(b *testing.B) {
			for b.Loop() {
				if text, err := exec.Command(fay, row.args...).CombinedOutput(); err != nil {
					b.Fatalf("%v\n%s", err, text)
				}
			}
		})
	}
}
