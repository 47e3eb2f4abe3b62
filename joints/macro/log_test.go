package macro

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fay/joints"
	"fay/joints/check"
)

// TestMain lets the test binary stand in for a writer of its own.
func TestMain(m *testing.M) {
	if path := os.Getenv("MACRO_TEST_LOG"); path != "" {
		os.Exit(write(path, os.Getenv("MACRO_TEST_WRITER"), os.Getenv("MACRO_TEST_LINES")))
	}
	os.Exit(m.Run())
}

// write appends numbered entries one at a time and tells each that is done.
func write(path, writer, lines string) int {
	n, _ := strconv.Atoi(lines)
	for i := range n {
		e := sampleEntry(fmt.Sprintf("%s-%d", writer, i))
		if _, err := Append(path, []Entry{e}); err != nil {
			fmt.Println("failed:", err)
			return 1
		}
		fmt.Println(e.Sample)
	}
	return 0
}

func sampleEntry(sample string) Entry {
	return Entry{
		Date: "2026-03-05", Joint: "W3", Part: "davit foot", Job: "CB-117", File: "davit-foot.yaml", Weld: "arrow", Sample: sample, Position: "45.5",
		Inspector: `Q. "Q", etc.`, Etchant: "caustic", Documents: "iso-5817-2014/C", Verdict: check.NotMet,
		Items: []LogItem{
			{ID: "leg-a", Measured: 3.1, Planned: new(3.0), Low: new(3.0), Verdict: check.Met},
			{ID: "penetration", Measured: -0.2, Planned: new(0.0), Low: new(0.0), Verdict: check.NotMet},
			{ID: "undercut", Measured: 0, Verdict: check.Met},
		},
		Flags: "measuring error; again", Note: "HV10 82 [82 85]; ok = yes", Digest: strings.Repeat("0123456789abcdef", 4),
	}
}

func forms() []LogFormat { return []LogFormat{LogCSV, LogJSONL} }

func samples(tb testing.TB, path string) (out []string) {
	tb.Helper()
	form, _ := LogFormatOf(path)
	data, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	log, err := ReadLog(path, form, data)
	if err != nil {
		tb.Fatal(err)
	}
	if len(log.Damaged) > 0 {
		tb.Fatalf("damaged lines %v\n%s", log.Damaged, data)
	}
	for i := range log.Entries {
		out = append(out, log.Entries[i].Sample)
	}
	return out
}

func TestLogRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for _, form := range forms() {
		path := filepath.Join(t.TempDir(), "log."+string(form))
		var want []Entry
		for i := range 40 {
			e := sampleEntry("S" + strconv.Itoa(i))
			e.Items = []LogItem{}
			for _, id := range itemIDs {
				if r.IntN(2) == 0 {
					continue
				}
				it := LogItem{ID: id, Measured: rounded(20 * (r.Float64() - 0.3)), Verdict: check.CannotTell}
				for _, to := range []**float64{&it.Planned, &it.Low, &it.High} {
					if r.IntN(2) == 0 {
						*to = new(rounded(9 * (r.Float64() - 0.1)))
					}
				}
				e.Items = append(e.Items, it)
			}
			e.Note = []string{"", "a, b", `"`, "ümlaut; =|", " lead"}[i%5]
			want = append(want, e)
			if notes, err := Append(path, want[len(want)-1:]); err != nil || len(notes) > 0 {
				t.Fatal(notes, err)
			}
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		log, err := ReadLog(path, form, data)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(Log{Entries: want}, log); d != "" {
			t.Errorf("%s: -want +got\n%s", form, d)
		}
		if n := bytes.Count(data, []byte("\n")); n != len(want)+1 {
			t.Errorf("%s: want one line each and the first, got %d", form, n)
		}
	}
}

// A log cut off anywhere keeps every whole line, and the next writer mends it.
func TestTornAnywhere(t *testing.T) {
	for _, form := range forms() {
		var whole []byte
		path := filepath.Join(t.TempDir(), "whole."+string(form))
		for i := range 3 {
			if _, err := Append(path, []Entry{sampleEntry("S" + strconv.Itoa(i))}); err != nil {
				t.Fatal(err)
			}
		}
		whole, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		for cut := range len(whole) + 1 {
			// Every place about the line ends, every ninth between.
			if near := whole[max(cut-3, 0):min(cut+3, len(whole))]; cut%9 > 0 && bytes.IndexByte(near, '\n') < 0 {
				continue
			}
			torn := filepath.Join(dir, strconv.Itoa(cut)+"."+string(form))
			if err := os.WriteFile(torn, whole[:cut], 0o600); err != nil {
				t.Fatal(err)
			}
			notes, err := Append(torn, []Entry{sampleEntry("next")})
			if err != nil {
				t.Fatalf("%s cut at %d: %v", form, cut, err)
			}
			lines := max(bytes.Count(whole[:cut], []byte("\n"))-1, 0)
			rest := whole[bytes.LastIndexByte(whole[:cut], '\n')+1 : cut]
			if n := len(samples(t, path)); n != 3 {
				t.Fatal("the source changed")
			}
			complete := cut > 0 && cut < len(whole) && whole[cut] == '\n' && lines+1 <= 3 && bytes.Contains(whole[:cut], []byte("\n"))
			want := make([]string, 0, 4)
			for i := range lines {
				want = append(want, "S"+strconv.Itoa(i))
			}
			aside, _ := os.ReadFile(torn + ".torn")
			switch {
			case complete:
				want = append(want, "S"+strconv.Itoa(lines))
				if len(aside) > 0 || len(notes) != 1 {
					t.Errorf("%s cut at %d: want the line kept with a note, got %q and %q aside", form, cut, notes, aside)
				}
			case len(rest) > 0 && bytes.Contains(whole[:cut], []byte("\n")):
				if string(aside) != string(rest)+"\n" || len(notes) != 1 {
					t.Errorf("%s cut at %d: want %q aside and a note, got %q and %q", form, cut, rest, aside, notes)
				}
			}
			if d := cmp.Diff(append(want, "next"), samples(t, torn)); d != "" {
				t.Errorf("%s cut at %d: -want +got\n%s", form, cut, d)
			}
		}
	}
}

func writer(path, name string, lines int) *exec.Cmd {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), "MACRO_TEST_LOG="+path, "MACRO_TEST_WRITER="+name, "MACRO_TEST_LINES="+strconv.Itoa(lines))
	return cmd
}

// Writers in processes of their own lose nothing, and keep their own order.
func TestWritersAtOnce(t *testing.T) {
	const writers, lines = 4, 25
	for _, form := range forms() {
		path := filepath.Join(t.TempDir(), "log."+string(form))
		done := make(chan error, writers)
		for i := range writers {
			go func() {
				out, err := writer(path, string(rune('a'+i)), lines).CombinedOutput()
				if err != nil {
					err = fmt.Errorf("%w: %s", err, out)
				}
				done <- err
			}()
		}
		for range writers {
			if err := <-done; err != nil {
				t.Fatal(err)
			}
		}
		got := samples(t, path)
		if len(got) != writers*lines {
			t.Errorf("%s: want %d lines, got %d", form, writers*lines, len(got))
		}
		next := map[string]int{}
		for _, s := range got {
			name, number, _ := strings.Cut(s, "-")
			if strconv.Itoa(next[name]) != number {
				t.Errorf("%s: %s came when %s-%d was due", form, s, name, next[name])
			}
			next[name]++
		}
	}
}

// A writer that is killed at any moment loses none of the lines it told of, and
// leaves no lock.
func TestKilledWriter(t *testing.T) {
	for _, form := range forms() {
		path := filepath.Join(t.TempDir(), "log."+string(form))
		var told []string
		for round := range 6 {
			cmd := writer(path, strconv.Itoa(round), 100_000)
			var out bytes.Buffer
			cmd.Stdout = &out
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Duration(40+23*round) * time.Millisecond)
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
			_ = cmd.Wait() // killed: the error is the signal
			lines := strings.Split(out.String(), "\n")
			told = append(told, lines[:len(lines)-1]...)
			if _, err := Append(path, []Entry{sampleEntry("after-" + strconv.Itoa(round))}); err != nil {
				t.Fatal(err)
			}
			told = append(told, "after-"+strconv.Itoa(round))
		}
		got := samples(t, path)
		if len(told) < 20 {
			t.Fatalf("%s: too few lines to tell: %d", form, len(told))
		}
		at := 0
		for _, s := range told {
			i := slices.Index(got[at:], s)
			if i < 0 {
				t.Fatalf("%s: %s was told as written and is lost", form, s)
			}
			at += i + 1
		}
	}
}

func TestForeignLogs(t *testing.T) {
	header := string(LogCSV.header())
	for name, tt := range map[string]struct {
		file, data, rule string
	}{
		"a later version":     {"log.csv", strings.Replace(header, "log/1", "log/2", 1) + "x,y\n", "is a log of version 2; this program reads and writes version 1"},
		"a later version too": {"log.jsonl", `{"schema":"fay.macro-log/12","by":"x"}` + "\n{}\n", "is a log of version 12; this program reads and writes version 1"},
		"another table":       {"log.csv", "date,weld\n2026-01-01,arrow\n", "is not a log of cut-and-etch records"},
		"no line feed at all": {"log.csv", "notes of the day", "is not a log of cut-and-etch records"},
		"columns changed":     {"log.csv", strings.Replace(header, ",digest", "", 1), "has other columns than a log of version 1"},
		"the other form":      {"log.jsonl", header, "does not hold what its ending .jsonl says"},
		"no ending":           {"log", "", "has no ending that picks the form of a log"},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), tt.file)
			if err := os.WriteFile(path, []byte(tt.data), 0o600); err != nil {
				t.Fatal(err)
			}
			_, err := Append(path, []Entry{sampleEntry("S")})
			faults := joints.AsFaults(err)
			if len(faults) != 1 || faults[0].Rule != tt.rule || faults[0].Remedy == "" {
				t.Fatalf("want %q, got %v", tt.rule, err)
			}
			if data, err := os.ReadFile(path); err != nil || string(data) != tt.data {
				t.Errorf("the file was touched: %q, %v", data, err)
			}
			if form, ok := LogFormatOf(path); ok {
				if _, err := ReadLog(path, form, []byte(tt.data)); joints.AsFaults(err)[0].Rule != tt.rule {
					t.Errorf("reading: want %q, got %v", tt.rule, err)
				}
			}
		})
	}
}

func TestDamagedLines(t *testing.T) {
	for _, form := range forms() {
		good, err := form.line(new(sampleEntry("S1")))
		if err != nil {
			t.Fatal(err)
		}
		data := slices.Concat(form.header(), good, []byte("rubbish\n"), good[:20], []byte("\n\n"), good, good[:30])
		log, err := ReadLog("log", form, data)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff([]int{3, 4, 7}, log.Damaged); d != "" || len(log.Entries) != 2 {
			t.Errorf("%s: %d entries, damaged -want +got\n%s", form, len(log.Entries), d)
		}
	}
}

func FuzzReadLog(f *testing.F) {
	for _, form := range forms() {
		line, err := form.line(new(sampleEntry("S1")))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(form == LogCSV, slices.Concat(form.header(), line, line[:40]))
	}
	f.Fuzz(func(t *testing.T, csv bool, data []byte) {
		form := LogJSONL
		if csv {
			form = LogCSV
		}
		log, err := ReadLog("log", form, data)
		if err != nil {
			return
		}
		// What was read can be written, and reads the same.
		for i := range log.Entries {
			line, err := form.line(&log.Entries[i])
			if err != nil {
				t.Fatal(err)
			}
			again, err := form.parse(bytes.TrimSuffix(line, []byte("\n")))
			if err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			second, err := form.line(&again)
			if err != nil || !bytes.Equal(line, second) {
				t.Fatalf("%q became %q, %v", line, second, err)
			}
		}
	})
}
