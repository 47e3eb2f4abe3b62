package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"fay/joints"
	"fay/joints/jobfile"
)

// jobOptions are what `fay job` is told.
type jobOptions struct {
	path      string
	output    string
	buying    string
	format    string
	rows      string
	workers   int
	keepGoing bool
	starter   bool
}

// asJSONL is the form that is written joint by joint.
const asJSONL format = "jsonl"

const mostWorkers = 256

func (a *app) job() *cobra.Command {
	var o jobOptions
	cmd := &cobra.Command{
		Use:   "job JOB.yaml|JOB.csv|- [-o JOB.pdf]",
		Short: "Work out a whole job: travelers, a buying list, findings",
		Long: fmt.Sprintf(`job reads a job file, or a table with one joint in a row, and computes every joint
with its filler and checks. -o job.pdf writes one file for the bench and the
office: a cover with the joints and what to buy, then a traveler for each joint.
-o job.svg, .png or .dxf writes each sheet to a file of its own, job-0001.svg for
the first joint, job-0001-2.svg for its second sheet.
Rods and packs are rounded up once, for the whole job.

--format jsonl writes a line of JSON for each joint while the job is still being
read, in its order and as soon as the input pauses, and takes a table of any length in the same memory; -o
lines.jsonl does the same to a file. With --rows a part of the job is done: the
lines of parts put together are those of the whole. All other forms hold the
whole, and take up to %d joints at a time.

Joints that are wrong are all named; nothing is written then, but with
--keep-going the others are. Exit code 3 when a check is not met.`, jobfile.MaxRows),
		Example: `  fay job --starter -o deck.csv
  fay job deck.csv -o deck.pdf --buying deck.xlsx
  fay job deck.csv --rows 2.. --format jsonl`,
		Args: func(_ *cobra.Command, args []string) error {
			switch len(args) {
			case 0:
				if o.starter {
					return nil
				}
				return usage("no job given", "name a job file, a table with the ending .csv, or - for the standard input")
			case 1:
				return nil
			}
			return usage("one job at a time, but was also given "+args[1], "put all joints into one job file")
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if o.starter {
				return a.jobStarter(&o, args)
			}
			o.path = args[0]
			return a.runJob(&o)
		},
	}
	flags := cmd.Flags()
	forms := append(slices.Clone(formats), string(asJSONL))
	flags.StringVar(&o.format, "format", string(asText), "form of the output: "+strings.Join(forms, ", ")+"; all but text and md are in mm")
	flags.StringVarP(&o.output, "output", "o", "", "`file` to write: .pdf travelers, .svg, .png or .dxf a file for each sheet, .jsonl results; - writes the pdf to the standard output")
	flags.StringVar(&o.buying, "buying", "", "`file` for the buying list as a workbook, .xlsx")
	flags.StringVar(&o.rows, "rows", "", "`joints` of the job to do, such as 1..500, 501.. or 7, counted from 1")
	flags.IntVar(&o.workers, "jobs", 0, "`number` of joints to work on at a time; 0 takes one for each processor")
	flags.BoolVar(&o.keepGoing, "keep-going", false, "leave out joints that are wrong and say which")
	flags.BoolVar(&o.starter, "starter", false, "print a table to begin with, or write it to the file of -o, which is never overwritten")
	// The flag was defined on the lines above.
	_ = cmd.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(forms, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// starterTable is a job to begin with.
const starterTable = `joint,title,quantity,base (mm),base.material,stem (mm),stem.material,lower (mm),upper (mm),overlap (mm),gap (mm),leg (mm),sides,seam.length (mm),filler.type,filler.diameter (mm)
tee,post on side rail,24,6,EN AW-6082,4,EN AW-6082,,,,0.2,4,both,120,5356,2.4
tee,hinge plate,4,10,EN AW-5083,6,EN AW-6082,,,,0.3,5,both,200,5183,3.2
lap,tread on angle,30,,,,,5,3,25,0,3,,640,5356,2.4
`

func (a *app) jobStarter(o *jobOptions, args []string) error {
	switch {
	case len(args) > 0:
		return usage("--starter takes no job, but was given "+args[0], "leave one of the two out")
	case o.output == "" || o.output == "-":
		return a.print([]byte(starterTable))
	case strings.ToLower(filepath.Ext(o.output)) != ".csv":
		return usage(o.output+": the starter is a table", "end the name in .csv")
	}
	return a.writeNew(o.output, []byte(starterTable))
}

// jobPlan is what the options come to.
type jobPlan struct {
	form      format
	pdf       string // file of the travelers; empty: none; - the standard output
	each      string // name that the files of single sheets are made from; empty: none
	lines     string // file of the lines of JSON; empty: the standard output
	buying    string
	rows      span
	workers   int
	keepGoing bool
}

func (o *jobOptions) plan() (*jobPlan, error) {
	p := &jobPlan{buying: o.buying, workers: o.workers, keepGoing: o.keepGoing, form: asJSONL}
	var err error
	if o.format != string(asJSONL) {
		if p.form, err = parseFormat(o.format); err != nil {
			if use, ok := errors.AsType[*usageError](err); ok {
				use.hint += ", " + string(asJSONL)
			}
			return nil, err
		}
	}
	switch ending := strings.ToLower(filepath.Ext(o.output)); {
	case o.output == "":
	case o.output == "-" && p.form != asText && p.form != asJSONL:
		return nil, usage("-o - writes the pdf to the standard output, --format "+o.format+" the results", "leave one of the two out")
	case o.output == "-" || ending == ".pdf":
		if p.pdf = o.output; p.form == asJSONL {
			return nil, usage("--format jsonl writes lines, -o "+o.output+" a drawing", "leave one of the two out")
		}
	case ending == ".svg" || ending == ".png" || ending == ".dxf":
		if p.each = o.output; p.form == asJSONL {
			return nil, usage("--format jsonl writes lines, -o "+o.output+" drawings", "leave one of the two out")
		}
	case ending == ".jsonl":
		if o.format != string(asText) && p.form != asJSONL {
			return nil, usage(o.output+": its ending says jsonl, --format says "+o.format, "leave --format out")
		}
		p.lines, p.form = o.output, asJSONL
	default:
		return nil, usage(o.output+": a job is written as .pdf, .svg, .png, .dxf or .jsonl", "end the name in one of these; --format json, csv or md prints the results")
	}
	if o.buying != "" && strings.ToLower(filepath.Ext(o.buying)) != ".xlsx" {
		return nil, usage(o.buying+": a buying list is written as .xlsx", "end the name in .xlsx; --format csv prints the joints")
	}
	if o.workers < 0 || o.workers > mostWorkers {
		return nil, usage(fmt.Sprintf("--jobs %d: must lie between 0 and %d", o.workers, mostWorkers), "leave --jobs out for one a processor")
	}
	if p.workers == 0 {
		p.workers = runtime.GOMAXPROCS(0)
	}
	p.rows, err = parseSpan(o.rows)
	return p, err
}

// span is a choice of joints of a job, both ends included.
type span struct{ first, last int }

func (s span) has(n int) bool { return n >= s.first && n <= s.last }

func (s span) all() bool { return s.first == 1 && s.last == math.MaxInt }

func (s span) String() string {
	if s.last == math.MaxInt {
		return strconv.Itoa(s.first) + ".."
	}
	return strconv.Itoa(s.first) + ".." + strconv.Itoa(s.last)
}

// parseSpan reads A..B, A.., ..B or N; empty means all.
func parseSpan(text string) (span, error) {
	s := span{1, math.MaxInt}
	if text == "" {
		return s, nil
	}
	from, to, isSpan := strings.Cut(text, "..")
	if !isSpan {
		to = from
	}
	ok := isSpan && from+to != "" || !isSpan
	for _, end := range []struct {
		text string
		to   *int
	}{{from, &s.first}, {to, &s.last}} {
		if end.text == "" {
			continue
		}
		n, err := strconv.Atoi(end.text)
		ok = ok && err == nil && n >= 1
		*end.to = n
	}
	if !ok || s.first > s.last {
		return span{}, usage(fmt.Sprintf("--rows %q: is not a choice of joints", text), "write 1..500, 501.., ..500 or 7; joints are counted from 1")
	}
	return s, nil
}

func (a *app) runJob(o *jobOptions) error {
	p, err := o.plan()
	if err != nil {
		return err
	}
	loaded, err := a.load()
	if err != nil {
		return err
	}
	for _, out := range []string{p.pdf, p.lines, p.buying} {
		if err := apartFrom(o.path, out); err != nil {
			return err
		}
	}
	in, err := a.openJob(o.path)
	if err != nil {
		return err
	}
	defer in.close()
	w := newJobWorks(&loaded.Settings, in, p)
	if p.pdf != "" {
		if w.logo, err = readLogo(w.settings.Logo); err != nil {
			return err
		}
	}
	// From here on there is something to clear away.
	ctx, done := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer done()
	run := &jobRun{app: a, plan: p, in: in, works: w, most: jobfile.MaxRows}
	defer run.discard()
	if err := run.open(); err != nil {
		return err
	}
	run.note(in.faults)
	if p.form == asJSONL {
		run.most = math.MaxInt
		err = run.stream(ctx)
	} else {
		err = run.whole(ctx)
	}
	if err != nil {
		return err
	}
	return run.verdict()
}

// verdict is the exit code in the form of an error.
func (r *jobRun) verdict() error {
	switch {
	case r.wrong == 0 && len(r.in.faults) > 0:
		return usage("the job file is wrong, though none of its joints is", "mend it and run again")
	case r.wrong > 0:
		return usage(fmt.Sprintf("%s wrong and missing from what was written", count(r.wrong, "joint is", "joints are")), "mend them and run again")
	case r.failed > 0:
		if r.plan.form == asJSONL { // nothing but the lines says so
			r.app.talkf("fay: a check is not met on %d of %s\n", r.failed, count(r.seen, "joint", "joints"))
		}
		return errNotMet
	}
	return nil
}

func count(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + several
}

// nearKind helps where somebody gives a joint in place of a job.
func nearKind(path string) string {
	if _, ok := joints.LookupKind(path); ok {
		return "`fay draw " + path + "` draws one joint; a job is a file"
	}
	return ""
}
