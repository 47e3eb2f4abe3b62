package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/jointfile"
	"fay/joints/macro"
	"fay/joints/result"
)

// macroOptions are what `fay macro` is told.
type macroOptions struct {
	args           []string
	dash           int // arguments before --, −1 where there is none
	format         string
	output, to     string
	dpi            float64
	log, history   string
	joint          string
	date, level    string
	today          func() string
	askedForFormat bool
}

func (a *app) macro() *cobra.Command {
	o := macroOptions{today: a.today}
	cmd := &cobra.Command{
		Use:   "macro [JOINT] RECORD… | JOINT -- name=value … | --history LOG",
		Short: "Hold a cut-and-etch record against the plan",
		Long: `macro takes what was measured on a section that was cut, polished and etched, and
compares it with the planned joint, its tolerances and its rule documents. A record
is a YAML file, or assignments behind --:

  ` + recordHelp() + `

In place of legs, throat and convexity a record may give points of a photograph
with a scale. What is not measured is left out.

--log adds the record to a log that is never rewritten; --history shows a log.
Exit code 3 when an item is not met.`,
		Example: `  fay macro tee base=8 stem=3 leg=3 gap=0.3 -- sample=S1 legs=3.2,3.1 throat=2 penetration=0.2
  fay macro -o lap-s2.svg lap lower=6 upper=4 overlap=30 leg=3 -- sample=S2 legs=3.1,3.1 throat=2.2 penetration=0`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.args, o.dash = args, cmd.ArgsLenAtDash()
			o.askedForFormat = cmd.Flags().Changed("format")
			return a.runMacro(&o)
		},
	}
	formatFlag(cmd, &o.format)
	flags := cmd.Flags()
	flags.StringVarP(&o.output, "output", "o", "", "`file` for the overlay of plan and section, its ending picks the format; - for the standard output")
	flags.StringVar(&o.to, "to", "", "format of the drawing where the output has no ending: "+strings.Join(drawings, ", "))
	flags.Float64Var(&o.dpi, "dpi", 150, "dots per inch of a png")
	flags.StringVar(&o.log, "log", "", "`file` .csv or .jsonl that the records are added to")
	flags.StringVar(&o.history, "history", "", "log `file` to show instead of evaluating a record")
	flags.StringVar(&o.joint, "joint", "", "mark, part, file or digest of the `joint` whose history is shown")
	flags.StringVar(&o.date, "date", "", "`day` of records that give none, year-month-day")
	flags.StringVar(&o.level, "level", "", "quality level to hold records to, such as C, instead of theirs and the documents' own")
	return cmd
}

// recordHelp lists the names of a record in lines of a terminal's width.
func recordHelp() string {
	var b strings.Builder
	line := 0
	for i, name := range macro.Names() {
		if i > 0 {
			if line += len(name) + 2; line > 70 {
				b.WriteString(",\n  ")
				line = len(name)
			} else {
				b.WriteString(", ")
			}
		} else {
			line = len(name)
		}
		b.WriteString(name)
	}
	return b.String()
}

// today is the day of the clock, or that of SOURCE_DATE_EPOCH for work that
// must come out the same again.
func (a *app) today() string {
	now := time.Now()
	for _, v := range a.env.Environ {
		if text, ok := strings.CutPrefix(v, "SOURCE_DATE_EPOCH="); ok {
			if s, err := strconv.ParseInt(text, 10, 64); err == nil {
				now = time.Unix(s, 0).UTC()
			}
		}
	}
	return now.Format(time.DateOnly)
}

// evaluated is a report with the joint it belongs to.
type evaluated struct {
	job    *job
	path   string // of the record; empty where assignments made it
	report macro.Report
	date   string
}

func (a *app) runMacro(o *macroOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	if err := o.check(); err != nil {
		return err
	}
	if o.history != "" {
		return a.runHistory(o, form)
	}
	if o.joint != "" {
		return usage("--joint picks from a log", "give --history with it, or name the joint first: fay macro foot.yaml "+strings.Join(o.args, " "))
	}
	format := ""
	if o.output != "" {
		if format, err = drawingFormat(o.output, o.to); err != nil {
			return err
		}
		if o.output == "-" && o.askedForFormat {
			return usage("the standard output takes either the drawing or the report", "name a file with -o, or leave --format out")
		}
	}
	all, err := a.reports(o)
	if err != nil {
		return err
	}
	for i := range all {
		if err := apartFrom(all[i].job.path, o.output); err != nil {
			return err
		}
		if all[i].path != "" && o.output != "-" && sameFile(all[i].path, o.output) {
			return usage(o.output+": is the record itself; nothing was written", "give the output another name")
		}
	}
	var picture []byte
	if format != "" {
		if picture, err = overlays(all, format, o.dpi); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	if err := printMacro(&out, form, all); err != nil {
		return err
	}
	if format != "" && o.output != "-" {
		if err := writeFile(o.output, picture); err != nil {
			return err
		}
		a.talkf("fay: wrote %s\n", o.output)
		if format != "pdf" && len(all) > 1 {
			a.talkf("  hint: it shows the first record; a pdf holds them all\n")
		}
	}
	if o.log != "" {
		if err := a.appendLog(o, all); err != nil {
			return err
		}
	}
	if o.output == "-" {
		out.Reset()
		out.Write(picture)
	}
	if err := a.print(out.Bytes()); err != nil {
		return err
	}
	for i := range all {
		if all[i].report.Verdict == check.NotMet {
			return errNotMet
		}
	}
	return nil
}

// check refuses flags that make no sense before anything is read.
func (o *macroOptions) check() error {
	if o.date != "" {
		if _, ok := macro.ParseDate(o.date); !ok {
			return usage(fmt.Sprintf("--date %q: is not a day of the calendar written year-month-day", o.date), "write a date such as 2026-03-02")
		}
	}
	if !(o.dpi >= leastDPI && o.dpi <= mostDPI) {
		return usage(fmt.Sprintf("--dpi %g: must lie between %d and %d", o.dpi, leastDPI, mostDPI), "150 reads well on a screen, 300 on paper")
	}
	o.level = strings.ToUpper(o.level)
	if levels := macro.Levels(documents.IDs()); o.level != "" && !slices.Contains(levels, o.level) {
		return usage(fmt.Sprintf("--level %q: is not a quality level on file", o.level), "use one of "+strings.Join(levels, ", "))
	}
	for _, log := range []string{o.log, o.history} {
		if _, ok := macro.LogFormatOf(log); log != "" && !ok {
			return usage(log+": has no ending that picks the form of a log", "end the name in .csv or .jsonl")
		}
	}
	if o.log != "" && o.history != "" {
		return usage("--log and --history exclude each other", "add the record first, then show the log")
	}
	return nil
}

// macroPlan is what the arguments are.
type macroPlan struct {
	joint       []string // as every command takes one; empty: the records name theirs
	files       []string
	assignments []string
	first       int // number of the first assignment on the command line
}

const macroHint = "write `fay macro foot.yaml section.yaml`, or `fay macro foot.yaml -- sample=S1 legs=3.1,3 throat=2.1`"

// plan tells joint, record files and assignments apart.
func (o *macroOptions) plan() (macroPlan, error) {
	if len(o.args) == 0 {
		return macroPlan{}, usage("no record given", macroHint)
	}
	var p macroPlan
	rest := 0
	switch _, kind := joints.LookupKind(o.args[0]); {
	case o.dash > 0:
		p.joint, rest = o.args[:o.dash], o.dash
	case o.dash == 0:
	case kind:
		return macroPlan{}, usage("a joint given in the command line needs -- between it and the record", "write `fay macro tee base=8 stem=3 leg=3 -- sample=S1 legs=3.1,3`")
	case strings.Contains(o.args[0], "="):
	default:
		record, err := isRecord(o.args[0])
		if err != nil {
			return macroPlan{}, err
		}
		if !record {
			p.joint, rest = o.args[:1], 1
		}
	}
	for i, arg := range o.args[rest:] {
		if strings.HasPrefix(arg, "-") {
			return macroPlan{}, usage(arg+": flags stand before --", "write `fay macro "+arg+" … foot.yaml -- sample=S1 legs=3.1,3`")
		}
		if !strings.Contains(arg, "=") {
			p.files = append(p.files, arg)
			continue
		}
		if p.assignments == nil {
			p.first = rest + i + 1
			if o.dash >= 0 {
				p.first++ // -- counts too
			}
		}
		p.assignments = append(p.assignments, arg)
	}
	switch {
	case len(p.files) == 0 && p.assignments == nil:
		return macroPlan{}, usage("no record given", macroHint)
	case len(p.files) > 1 && p.assignments != nil:
		return macroPlan{}, usage("assignments belong to one record, but there are "+strconv.Itoa(len(p.files)), "write them into the files")
	}
	return p, nil
}

func isRecord(path string) (bool, error) {
	if path == "-" {
		return false, nil // the standard input is the joint
	}
	data, err := readJointFile(path)
	if err != nil {
		return false, err
	}
	return macro.IsRecord(data), nil
}

// reports reads and evaluates all records.
func (a *app) reports(o *macroOptions) ([]evaluated, error) {
	p, err := o.plan()
	if err != nil {
		return nil, err
	}
	jobs := map[string]*job{}
	var named *job
	if len(p.joint) > 0 {
		if named, err = a.joint(p.joint); err != nil {
			return nil, err
		}
	}
	if len(p.files) == 0 {
		p.files = []string{""}
	}
	all := make([]evaluated, 0, len(p.files))
	var faults jointfile.Faults
	for _, path := range p.files {
		e, err := a.one(o, &p, path, named, jobs)
		if wrong := jointfile.AsFaults(err); wrong != nil {
			faults = append(faults, wrong...)
			continue
		}
		if err != nil {
			return nil, err
		}
		all = append(all, e)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return all, nil
}

// one reads and evaluates a record; path is empty where assignments make it.
func (a *app) one(o *macroOptions, p *macroPlan, path string, named *job, jobs map[string]*job) (evaluated, error) {
	src := macro.Source{Name: path, Assignments: p.assignments, First: p.first, Levels: macro.Levels(documents.IDs())}
	if path != "" {
		var err error
		if src.Data, err = readJointFile(path); err != nil {
			return evaluated{}, err
		}
		if src.Data == nil {
			src.Data = []byte{}
		}
	}
	j, err := a.jointOf(&src, path, named, jobs)
	if err != nil {
		return evaluated{}, err
	}
	src.Section, src.Units = &j.doc.Section, j.bare
	rec, err := macro.Read(src)
	if err != nil {
		return evaluated{}, err
	}
	if o.level != "" {
		rec.Level = o.level
	}
	report, err := macro.Evaluate(&rec, j.macroFacts(), j.documents())
	if err != nil {
		return evaluated{}, j.placed(err, nil)
	}
	e := evaluated{job: j, path: path, report: report, date: rec.Date}
	if e.date == "" {
		e.date = o.date
	}
	return e, nil
}

// jointOf finds the joint of a record: the one of the command line, or the file
// that the record names, from its own folder.
func (a *app) jointOf(src *macro.Source, path string, named *job, jobs map[string]*job) (*job, error) {
	file := macro.JointOf(src.Data)
	for _, arg := range src.Assignments {
		if text, ok := strings.CutPrefix(arg, "joint="); ok {
			file = strings.TrimSpace(text)
		}
	}
	if file != "" && path != "" && !filepath.IsAbs(file) {
		file = filepath.Join(filepath.Dir(path), file)
	}
	switch {
	case named == nil && file == "":
		return nil, usage(strings.TrimPrefix(path+": ", ": ")+"the record names no joint", "name the joint file first, or write joint: foot.yaml into the record")
	case named == nil:
		if j, ok := jobs[file]; ok {
			return j, nil
		}
		j, err := a.joint([]string{file})
		if err != nil {
			return nil, err
		}
		jobs[file] = j
		return j, nil
	case file != "" && named.path != "" && !sameFile(file, named.path):
		return nil, usage(fmt.Sprintf("%s: belongs to %s, not to %s", path, file, named.path), "leave one of the two joints out")
	}
	return named, nil
}

func sameFile(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// appendLog adds the records to the log.
func (a *app) appendLog(o *macroOptions, all []evaluated) error {
	entries := make([]macro.Entry, 0, len(all))
	for i := range all {
		e := &all[i]
		t := &e.job.doc.Traveler
		origin := macro.Origin{Date: e.date, Joint: t.Joint, Part: t.Part, Job: t.Job, File: e.job.path, Digest: e.job.doc.Digest}
		if origin.Date == "" {
			origin.Date = o.today()
		}
		if origin.Joint == "" {
			origin.Joint = e.job.doc.Section.Title
		}
		if origin.File != "" {
			origin.File = filepath.Base(origin.File)
		}
		entries = append(entries, e.report.Entry(origin))
	}
	notes, err := macro.Append(o.log, entries)
	for _, n := range notes {
		a.talkf("fay: %s\n", n)
	}
	if err != nil {
		return err
	}
	what := "1 record"
	if len(entries) > 1 {
		what = strconv.Itoa(len(entries)) + " records"
	}
	a.talkf("fay: added %s to %s\n", what, o.log)
	return nil
}

// maxLog bounds a log that is shown: more sections than a shop cuts.
const maxLog = 64 << 20

func readLog(path string) (macro.Log, error) {
	form, _ := macro.LogFormatOf(path)
	file, err := os.Open(path)
	if err != nil {
		if pathErr, ok := errors.AsType[*os.PathError](err); ok {
			err = pathErr.Err
		}
		return macro.Log{}, usage(path+": cannot be read: "+err.Error(), "check the name; --log makes a log")
	}
	defer func() { _ = file.Close() }() // read only: nothing can be lost
	data, err := io.ReadAll(io.LimitReader(file, maxLog+1))
	if err != nil {
		return macro.Log{}, fmt.Errorf("read %s: %w", path, err)
	}
	if len(data) > maxLog {
		return macro.Log{}, usage(path+": is larger than 64 MiB, the limit for a log that is shown", "begin a new log for each year")
	}
	return macro.ReadLog(path, form, data)
}

// macroResult makes the JSON of reports.
func macroResult(all []evaluated) macro.Result {
	res := macro.Result{Schema: macro.Schema, Cautions: macroCautions(all), Records: make([]macro.RecordResult, 0, len(all))}
	for i := range all {
		e := &all[i]
		s := &e.job.doc.Section
		joint := macro.JointRef{Kind: s.Kind, Title: s.Title, Mark: e.job.doc.Traveler.Joint, File: e.job.path, Digest: e.job.doc.Digest}
		res.Records = append(res.Records, e.report.Result(s, joint, e.date))
	}
	return res
}

// macroCautions are the cautions of all reports, each once.
func macroCautions(all []evaluated) []string {
	var out []string
	for i := range all {
		e := &all[i]
		list := append(e.report.Cautions(e.job.families()), result.Cautions(&e.job.doc.Section, e.report.Findings)...)
		for _, c := range list {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}
