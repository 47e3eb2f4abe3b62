package cli

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/go-cmp/cmp"
)

// ran is what a run of the program left.
type ran struct {
	code        int
	out, errors string
}

func runJobs(tb testing.TB, stdin io.Reader, args ...string) ran {
	tb.Helper()
	var out, talk bytes.Buffer
	code := Main(append([]string{"job"}, args...), Env{Stdin: stdin, Stdout: &out, Stderr: &talk, ConfigDir: tb.TempDir()})
	return ran{code, out.String(), talk.String()}
}

var jobHeads = []string{
	"joint", "title", "quantity", "base", "base.material", "stem", "stem.material", "lower", "upper", "overlap", "left", "right", "prep", "bevel-angle",
	"root-opening", "root-face", "gap", "leg", "cap", "sides", "seam.length", "seam.count", "filler.type", "filler.diameter (mm)",
}

// jobRows makes rows of mixed kinds.
func jobRows(r *rand.Rand, n int) [][]string {
	pick := func(of ...string) string { return of[r.IntN(len(of))] }
	number := func(low, high float64) string { return decimal(low+math.Round((high-low)*r.Float64()*10)/10, 1) }
	rows := [][]string{jobHeads}
	for i := range n {
		row := map[string]string{
			"title": "joint " + strconv.Itoa(i+1), "quantity": strconv.Itoa(1 + r.IntN(30)), "seam.length": number(40, 2500), "seam.count": pick("1", "2", "4"),
			"filler.type": pick("5356", "5183", "4043"), "filler.diameter (mm)": pick("1.6", "2.4", "3.2"), "joint": pick("tee", "lap", "butt"),
		}
		switch row["joint"] {
		case "tee":
			row["base"], row["stem"], row["leg"], row["sides"] = number(4, 12), number(3, 8), number(2, 3), pick("", "both")
			row["base.material"], row["stem.material"], row["gap"] = "EN AW-5083", "EN AW-6082", pick("", "0.2")
		case "lap":
			row["lower"], row["upper"], row["overlap"], row["leg"] = number(3, 10), number(3, 8), number(40, 60), number(2, 2.9)
		case "butt":
			row["left"] = number(4, 10)
			row["right"], row["prep"], row["bevel-angle"], row["root-opening"], row["root-face"], row["cap"] = row["left"], "single-v", "35", "2", "1", "0.8"
		}
		cells := make([]string, len(jobHeads))
		for k, h := range jobHeads {
			cells[k] = row[h]
		}
		rows = append(rows, cells)
	}
	return rows
}

func csvOf(tb testing.TB, rows [][]string) string {
	tb.Helper()
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}

// Parts of a job put together are the whole, byte for byte, whatever the
// workers and wherever it is cut.
func TestJobSplitAndJoined(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 4))
	const n = 400
	rows := jobRows(r, n)
	rows[7][7], rows[200][2] = "x", "many" // wrong ones are lines too
	text := csvOf(t, rows)
	whole := runJobs(t, strings.NewReader(text), "-", "--format", "jsonl", "--keep-going", "--jobs", "1")
	if whole.code != exitInput || strings.Count(whole.out, "\n") != n || strings.Count(whole.out, `"faults"`) != 2 {
		t.Fatalf("whole: code %d, %d lines\n%s", whole.code, strings.Count(whole.out, "\n"), whole.errors)
	}
	for _, workers := range []string{"2", "7"} {
		if got := runJobs(t, iotest.OneByteReader(strings.NewReader(text)), "-", "--format", "jsonl", "--keep-going", "--jobs", workers); got != whole {
			t.Errorf("%s workers: another outcome than one", workers)
		}
	}
	for _, size := range []int{1 + r.IntN(40), 100, 399} {
		var joined strings.Builder
		for first := 1; first <= n; first += size {
			span := fmt.Sprintf("%d..%d", first, first+size-1)
			if first+size > n {
				span = fmt.Sprintf("%d..", first)
			}
			joined.WriteString(runJobs(t, strings.NewReader(text), "-", "--format", "jsonl", "--keep-going", "--rows", span).out)
		}
		if joined.String() != whole.out {
			t.Errorf("parts of %d joints put together are not the whole", size)
		}
	}
}

// The totals of a long table against sums made from its cells and the handbook
// formulas of the three shapes.
func TestJobOfTenThousand(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	rows := jobRows(rand.New(rand.NewPCG(2, 9)), 10_000)
	got := runJobs(t, strings.NewReader(csvOf(t, rows)), "-", "--format", "json")
	if got.code != exitDone && got.code != exitNotMet {
		t.Fatalf("code %d\n%s", got.code, got.errors)
	}
	var res jobResult
	if err := json.Unmarshal([]byte(got.out), &res); err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, h := range jobHeads {
		at[h] = i
	}
	volume, length, parts := 0.0, 0.0, 0
	rods := map[string]float64{} // mm³ of metal deposited, by filler and diameter
	for _, row := range rows[1:] {
		v := func(name string) float64 {
			x, err := strconv.ParseFloat(row[at[name]], 64)
			if err != nil {
				return 0
			}
			return x
		}
		area, welds := 0.0, 1.0
		switch row[at["joint"]] {
		case "tee", "lap":
			if row[at["sides"]] == "both" {
				welds = 2
			}
			area = welds * v("leg") * v("leg") / 2
		case "butt":
			// Opening, two bevels of 35° over a face of 1 mm, and a cap that is
			// a segment of a circle.
			t, o := v("left"), v("root-opening")
			w := o + 2*(t-1)*math.Tan(35*math.Pi/180)
			h := v("cap")
			radius := (w*w/4 + h*h) / (2 * h)
			half := math.Asin(w / 2 / radius)
			area = o*t + (t-1)*(t-1)*math.Tan(35*math.Pi/180) + radius*radius*(half-math.Sin(half)*math.Cos(half))
		}
		n := v("quantity") * v("seam.length") * v("seam.count")
		volume += n * area
		length += n * welds
		parts += int(v("quantity"))
		rods[row[at["filler.type"]]+" "+row[at["filler.diameter (mm)"]]] += n * area
	}
	near := func(name string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s %.9g, want %.9g", name, got, want)
		}
	}
	near("volume", res.Totals.VolumeCm3, volume/1000)
	near("weld length", res.Totals.WeldLengthMM, length)
	if res.Totals.Parts != parts || res.Totals.Joints != 10_000 || len(res.Buying) != len(rods) {
		t.Errorf("%d parts, %d joints, %d fillers; want %d, 10000, %d", res.Totals.Parts, res.Totals.Joints, len(res.Buying), parts, len(rods))
	}
	for _, b := range res.Buying {
		near(b.Filler+" volume", b.VolumeCm3, rods[b.Filler+" "+decimal(b.DiameterMM, 1)]/1000)
		if float64(b.Packs.Count)*b.Packs.PackKg < *b.BoughtKg {
			t.Errorf("%s: %d packs for %g kg", b.Filler, b.Packs.Count, *b.BoughtKg)
		}
	}
}

const plainTee = "joint,base,stem,leg,seam.length,quantity\n"

func TestJobBadInputs(t *testing.T) {
	tests := map[string]struct{ text, want string }{
		"two columns of one name": {"joint,base,stem,leg,leg\ntee,8,4,4,4\n", "column leg"},
		"two names of one column": {"joint,base,stem,leg,arrow.leg\ntee,8,4,4,4\n", "column arrow.leg"},
		"a column too little":     {"base,stem,leg\n8,4,4\n", "add a column joint"},
		"a value too little":      {"joint,base,stem\ntee,8,4\n", "row 2"},
		"a cell too little":       {plainTee + "tee,8,4,4\n", "the row has 4 cells, the first row 6"},
		"UTF-16":                  {"\xff\xfej\x00o\x00", "UTF-8"},
		"Latin-1":                 {"joint,title,base,stem,leg\ntee,T\xfcr,8,4,4\n", "row 2, column title"},
		"decimal commas":          {"joint;base;stem;leg\ntee;8;4;3,5\n", "write decimals with a point"},
		"a quote not closed":      {"joint,title,base,stem,leg\ntee,\"post,8,4,4\n", "quote"},
		"no rows":                 {plainTee, "no joint"},
		"nothing":                 {"", "the table is empty"},
		"a kind not on file":      {plainTee + "tea,8,4,4,100,1\n", "did you mean tee?"},
		"half a part":             {plainTee + "tee,8,4,4,100,0.5\n", "row 2, column quantity"},
		"no such filler":          {"joint,base,stem,leg,filler.type\ntee,8,4,4,5357x\n", "row 2, column filler.type"},
		"no such file":            {"file,quantity\nnowhere.yaml,3\n", "row 2, column file"},
		"a job without joints":    {"job: CB-1\njoints: []\n", "lists no joint"},
		"a job with a slip":       {"job: CB-1\njonts:\n  - {file: a.yaml}\n", "did you mean joints?"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			for _, form := range []string{"text", "jsonl"} {
				got := runJobs(t, strings.NewReader(test.text), "-", "--format", form)
				if got.code != exitInput || got.out != "" || !strings.Contains(got.errors, test.want) {
					t.Errorf("%s: code %d, output %q, want 2 and %q in\n%s", form, got.code, got.out, test.want, got.errors)
				}
			}
		})
	}
}

// What spreadsheets write reads as what was meant.
func TestJobTablesAsSpreadsheetsWriteThem(t *testing.T) {
	want := runJobs(t, strings.NewReader("joint,title,base,stem,leg,quantity\ntee,\"post, short\",8,4,3.5,2\n"), "-", "--format", "json")
	if want.code != exitDone && want.code != exitNotMet {
		t.Fatal(want.errors)
	}
	for name, text := range map[string]string{
		"byte order mark and CRLF": "\ufeffjoint,title,base,stem,leg,quantity\r\ntee,\"post, short\",8,4,3.5,2\r\n",
		"semicolons":               "joint;title;base;stem;leg;quantity\ntee;post, short;8;4;3.5;2\n",
		"sep line":                 "sep=;\r\njoint;title;base;stem;leg;quantity\r\ntee;post, short;8;4;3.5;2\r\n",
		"blank lines at the end":   "joint,title,base,stem,leg,quantity\ntee,\"post, short\",8,4,3.5,2\n\n,,,,,\n\n",
		"blanks round cells":       "joint , title, base, stem, leg, quantity\n tee, \"post, short\", 8 ,4, 3.5, 2\n",
		"every cell in quotes":     "\"joint\",\"title\",\"base\",\"stem\",\"leg\",\"quantity\"\n\"tee\",\"post, short\",\"8\",\"4\",\"3.5\",\"2\"\n",
	} {
		t.Run(name, func(t *testing.T) {
			if diff := cmp.Diff(want, runJobs(t, strings.NewReader(text), "-", "--format", "json"), cmp.AllowUnexported(ran{})); diff != "" {
				t.Errorf("outcome (-plain +this)\n%s", diff)
			}
		})
	}
}

// Every wrong row is named, and the good ones are written if asked for.
func TestJobKeepGoing(t *testing.T) {
	text := plainTee + "tee,8,4,4,100,2\ntee,8,four,4,100,1\n\ntee,8,4,4,100,3\nlap,8,4,4,100,1\n"
	stopped := runJobs(t, strings.NewReader(text), "-")
	if stopped.code != exitInput || stopped.out != "" {
		t.Errorf("code %d with output %q, want 2 and none", stopped.code, stopped.out)
	}
	for _, place := range []string{"row 3, column stem", "row 6, column base", "2 of 4 joints are wrong; nothing was written"} {
		if !strings.Contains(stopped.errors, place) {
			t.Errorf("%q is not told in\n%s", place, stopped.errors)
		}
	}
	on := runJobs(t, strings.NewReader(text), "-", "--keep-going", "--format", "json")
	var res jobResult
	if err := json.Unmarshal([]byte(on.out), &res); err != nil {
		t.Fatal(err)
	}
	if tot := res.Totals; on.code != exitInput || tot.Missing != 2 || tot.Parts != 5 || res.Joints[3].Row != 6 || len(res.Joints[3].Faults) == 0 {
		t.Errorf("code %d, totals %+v", on.code, tot)
	}
	lines := runJobs(t, strings.NewReader(text), "-", "--format", "jsonl")
	if lines.code != exitInput || strings.Count(lines.out, "\n") != 1 {
		t.Errorf("code %d and lines\n%swant 2 and those before the first wrong one", lines.code, lines.out)
	}
	none := runJobs(t, strings.NewReader(plainTee+"tee,8,four,4,100,1\n"), "-", "--keep-going")
	if none.code != exitInput || none.out != "" {
		t.Errorf("nothing good: code %d, output %q", none.code, none.out)
	}
}

func TestJobSpans(t *testing.T) {
	for text, want := range map[string]span{"": {1, math.MaxInt}, "3": {3, 3}, "2..5": {2, 5}, "7..": {7, math.MaxInt}, "..4": {1, 4}, "5..900000": {5, 900_000}} {
		if got, err := parseSpan(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"..", "0", "0..3", "5..2", "a", "1...3", "-2", "1..2..3", "1,2", "99999999999999999999.."} {
		if got, err := parseSpan(text); err == nil {
			t.Errorf("%q is taken as %v", text, got)
		}
	}
}

func FuzzSpan(f *testing.F) {
	for _, text := range []string{"", "3", "2..5", "7..", "..4", "..", "5..2", "999999", "9999999999999999999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := parseSpan(text)
		if err != nil {
			return
		}
		if s.first < 1 || s.first > s.last {
			t.Errorf("%q: %v", text, s)
		}
		if again, err := parseSpan(s.String()); err != nil || again != s {
			t.Errorf("%q: %v reads back as %v, %v", text, s, again, err)
		}
	})
}

func TestProgressText(t *testing.T) {
	for _, test := range []struct {
		joints int
		share  float64
		want   string
	}{{50, 0, "fay: 50 joints, 25/s"}, {50, 0.25, "fay: ))))))------------------ 25 %, 50 joints, 25/s, 6s left"}, {1, 1, "fay: )))))))))))))))))))))))) 100 %, 1 joint, 0.5/s, 0s left"}} {
		if got := progressText(test.joints, test.share, 2*time.Second); got != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
}

// A file that grows is there when it is kept, and never before.
func TestGrowing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lines.jsonl")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	content := func() string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	for _, keep := range []bool{false, true} {
		g, err := newGrowing(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(g, "new"); err != nil || content() != "old" {
			t.Fatalf("%q while it grows, error %v", content(), err)
		}
		if keep {
			err = errors.Join(g.ready(), g.keep())
		}
		g.discard()
		want := map[bool]string{false: "old", true: "new"}[keep]
		if err != nil || content() != want {
			t.Errorf("kept %v: %q, error %v", keep, content(), err)
		}
	}
	info, err := os.Stat(path)
	entries, err2 := os.ReadDir(filepath.Dir(path))
	if err := errors.Join(err, err2); err != nil || info.Mode().Perm() != 0o600 || len(entries) != 1 {
		t.Errorf("mode %v, %d files, error %v", info.Mode(), len(entries), err)
	}
}

// The memory of a stream does not grow with it.
func TestJobStreamsInBoundedMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	text := csvOf(t, jobRows(rand.New(rand.NewPCG(1, 1)), 20_000))
	runtime.GC() // what other tests left
	peak := &peakWriter{}
	code := Main([]string{"job", "-", "--format", "jsonl"}, Env{Stdin: strings.NewReader(text), Stdout: peak, Stderr: io.Discard, ConfigDir: t.TempDir()})
	if code != exitDone && code != exitNotMet {
		t.Fatalf("code %d", code)
	}
	if limit := uint64(100 << 20); peak.most > limit {
		t.Errorf("%d MB in use, want up to %d", peak.most>>20, limit>>20)
	}
}

// interrupting gives rows without end, long ones, so that few are read ahead.
// Behind the first it interrupts the process, and then waits where it is told
// to.
type interrupting struct {
	rows  int
	waits chan struct{}
	rest  *strings.Reader
}

func (r *interrupting) Read(p []byte) (int, error) {
	if r.rest.Len() == 0 {
		r.rest.Reset("tee,8,4,4,100,1" + strings.Repeat(" ", 8000) + "\n")
		if r.rows++; r.rows == 40 {
			if err := r.interrupt(); err != nil {
				return 0, err
			}
		}
	}
	return r.rest.Read(p)
}

func (r *interrupting) interrupt() error {
	self, err := os.FindProcess(os.Getpid())
	if err == nil {
		err = self.Signal(os.Interrupt)
	}
	if r.waits != nil {
		<-r.waits
	}
	return err
}

func TestJobInterrupted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot interrupt itself")
	}
	for _, test := range []struct {
		name, file string
		waits      bool
	}{{"lines", "old.jsonl", false}, {"travelers", "old.pdf", false}, {"single sheets", "old.svg", false}, {"input that does not come", "old.jsonl", true}} {
		t.Run(test.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), test.file)
			if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
				t.Fatal(err)
			}
			in := &interrupting{rest: strings.NewReader(plainTee)}
			if test.waits {
				in.waits = make(chan struct{})
				t.Cleanup(func() { close(in.waits) })
			}
			got := runJobs(t, in, "-", "-o", path)
			data, err := os.ReadFile(path)
			entries, err2 := os.ReadDir(filepath.Dir(path))
			if err := errors.Join(err, err2); err != nil || got.code != exitUnexpected || string(data) != "old" || len(entries) != 1 || !strings.Contains(got.errors, "interrupted") {
				t.Errorf("code %d, file %q, %d files, error %v\n%s", got.code, data, len(entries), err, got.errors)
			}
		})
	}
}
