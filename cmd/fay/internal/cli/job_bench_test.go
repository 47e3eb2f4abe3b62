package cli

import (
	"io"
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// peakWriter notes the memory in use as it is written to.
type peakWriter struct{ most uint64 }

func (w *peakWriter) Write(p []byte) (int, error) {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	w.most = max(w.most, m.HeapInuse+m.StackInuse)
	return len(p), nil
}

// BenchmarkJobLines streams a table of mixed kinds, a line of JSON each.
func BenchmarkJobLines(b *testing.B) {
	const n = 20_000
	text := csvOf(b, jobRows(rand.New(rand.NewPCG(1, 1)), n))
	for b.Loop() {
		Main([]string{"job", "-", "--format", "jsonl"}, Env{Stdin: strings.NewReader(text), Stdout: io.Discard, Stderr: io.Discard, ConfigDir: b.TempDir()})
	}
	b.ReportMetric(n*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
}

// BenchmarkJobTravelers draws travelers to one file.
func BenchmarkJobTravelers(b *testing.B) {
	const n = 1000
	text := csvOf(b, jobRows(rand.New(rand.NewPCG(1, 1)), n))
	peak := &peakWriter{}
	for b.Loop() {
		Main([]string{"job", "-", "-o", filepath.Join(b.TempDir(), "job.pdf")}, Env{Stdin: strings.NewReader(text), Stdout: peak, Stderr: io.Discard, ConfigDir: b.TempDir()})
	}
	b.ReportMetric(n*float64(b.N)/b.Elapsed().Seconds(), "travelers/s")
	b.ReportMetric(float64(peak.most>>20), "MB")
}
