package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"fay/joints/jobfile"
)

// until ends the input when the channel is closed.
type until struct{ seen chan struct{} }

func (u until) Read([]byte) (int, error) {
	select {
	case <-u.seen:
		return 0, io.EOF
	case <-time.After(time.Minute):
		return 0, errors.New("nothing came out")
	}
}

// first closes the channel when it is first written to.
type first struct {
	seen chan struct{}
	out  strings.Builder
}

func (f *first) Write(p []byte) (int, error) {
	if f.out.Len() == 0 {
		close(f.seen)
	}
	return f.out.Write(p)
}

// Lines come out while the input goes on.
func TestJobStreams(t *testing.T) {
	const rows = 1000
	out := &first{seen: make(chan struct{})}
	in := io.MultiReader(strings.NewReader(plainTee), strings.NewReader(strings.Repeat("tee,8,4,4,100,1\n", rows)), until{out.seen})
	var talk strings.Builder
	code := Main([]string{"job", "-", "--format", "jsonl"}, Env{Stdin: in, Stdout: out, Stderr: &talk, ConfigDir: t.TempDir()})
	if got := strings.Count(out.out.String(), "\n"); code != exitDone || got != rows+strings.Count(plainTee, "\n")-1 {
		t.Errorf("code %d, %d lines\n%s", code, got, talk.String())
	}
}

// What has come is not kept back for what has not.
func TestJobStreamsAtEveryPause(t *testing.T) {
	in, feed := io.Pipe()
	lines, out := io.Pipe()
	go func() {
		code := Main([]string{"job", "-", "--format", "jsonl"}, Env{Stdin: in, Stdout: out, Stderr: io.Discard, ConfigDir: t.TempDir()})
		_ = out.CloseWithError(fmt.Errorf("ended with %d", code))
	}()
	got := bufio.NewScanner(lines)
	if _, err := io.WriteString(feed, plainTee); err != nil {
		t.Fatal(err)
	}
	for i := range strings.Count(plainTee, "\n") - 1 {
		if !got.Scan() {
			t.Fatalf("line %d: %v", i, got.Err())
		}
	}
	for i := range 3 {
		if _, err := io.WriteString(feed, "tee,8,4,4,100,1\n"); err != nil {
			t.Fatal(err)
		}
		if !got.Scan() || !strings.HasPrefix(got.Text(), "{") {
			t.Fatalf("line after pause %d: %q, %v", i, got.Text(), got.Err())
		}
	}
	if err := feed.Close(); err != nil {
		t.Fatal(err)
	}
	if got.Scan() || got.Err() == nil || got.Err().Error() != "ended with 0" {
		t.Errorf("%q, %v", got.Text(), got.Err())
	}
}

// An input that cannot be read to its end is no shorter job.
func TestJobInputBreaksOff(t *testing.T) {
	in := io.MultiReader(strings.NewReader(plainTee+"tee,8,4,4,100,1\n"), iotest.ErrReader(errors.New("the line went dead")))
	got := runJobs(t, in, "-", "--format", "jsonl")
	if got.code != exitUnexpected || !strings.Contains(got.errors, "the line went dead") {
		t.Errorf("code %d\n%s", got.code, got.errors)
	}
}

// What holds the whole job takes so many joints at a time, wherever they stand.
func TestJobHeldAtOnce(t *testing.T) {
	for name, test := range map[string]struct {
		rows, most int
		span       span
		taken      int
		refused    bool
	}{
		"as many as it takes": {rows: 5, most: 5, span: span{1, math.MaxInt}, taken: 5},
		"one more":            {rows: 6, most: 5, span: span{1, math.MaxInt}, taken: 5, refused: true},
		"a part of many":      {rows: 90, most: 5, span: span{80, 84}, taken: 5},
	} {
		t.Run(name, func(t *testing.T) {
			at := 0
			in := &jobInput{ready: func() bool { return true }, next: func() (jobfile.Row, error) {
				if at++; at > test.rows {
					return jobfile.Row{}, io.EOF
				}
				return jobfile.Row{Kind: "tee"}, nil
			}}
			run := &jobRun{plan: &jobPlan{rows: test.span}, in: in, most: test.most}
			taken, refused := 0, false
			next := run.batches(2)
			for b, ok := next(); ok; b, ok = next() {
				taken += len(b.tasks)
				refused = refused || b.err != nil
			}
			if taken != test.taken || refused != test.refused {
				t.Errorf("%d taken, refused: %v", taken, refused)
			}
		})
	}
}

// A remedy names a column only where a joint of the kind has such a name.
func TestJobRemedyNamesAColumn(t *testing.T) {
	for text, want := range map[string]string{
		"joint,base,leg,stem\ntee,8,3,\n":             "fill in a column stem",
		"joint,base,upper,lower,leg\ncross,8,5,4,4\n": "give a size, such as leg=3",
	} {
		if got := runJobs(t, strings.NewReader(text), "-"); got.code != exitInput || !strings.Contains(got.errors, want) {
			t.Errorf("code %d\n%swant %q", got.code, got.errors, want)
		}
	}
}
