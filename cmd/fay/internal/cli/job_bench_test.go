package cli

import (
	"io"
	"math/rand/v2"
	"os"
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

// BenchmarkJobTravelers draws travelers to one file and to a file each: of
// random rows, and of a yard's list, in which the same sections come again.
func BenchmarkJobTravelers(b *testing.B) {
	const n = 1000
	random := csvOf(b, jobRows(rand.New(rand.NewPCG(1, 1)), n))
	for _, list := range [...][2]string{{"random", random}, {"yard", yardList(b, n)}} {
		name, text := list[0], list[1]
		for _, ending := range [...]string{"pdf", "svg"} {
			b.Run(name+"/"+ending, func(b *testing.B) {
				peak := &peakWriter{}
				for b.Loop() {
					var talk strings.Builder
					code := Main([]string{"job", "-", "-o", filepath.Join(b.TempDir(), "job."+ending)}, Env{Stdin: strings.NewReader(text), Stdout: peak, Stderr: &talk, ConfigDir: b.TempDir()})
					if code != exitDone && code != exitNotMet {
						b.Fatal(talk.String())
					}
				}
				b.ReportMetric(n*float64(b.N)/b.Elapsed().Seconds(), "travelers/s")
				b.ReportMetric(float64(peak.most>>20), "MB")
			})
		}
	}
}

// yardList is the example of a gangway again and again, n rows long.
func yardList(b *testing.B, n int) string {
	b.Helper()
	text, err := os.ReadFile(filepath.FromSlash("../../../../testdata/examples/jobs/gangways.csv"))
	if err != nil {
		b.Fatal(err)
	}
	head, rows, _ := strings.Cut(strings.TrimSpace(string(text)), "\n")
	list := strings.Split(rows, "\n")
	out := []string{head}
	for i := range n {
		out = append(out, list[i%len(list)])
	}
	return strings.Join(out, "\n") + "\n"
}
