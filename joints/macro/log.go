package macro

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"fay/joints"
	"fay/joints/check"
)

// LogSchema names the form of a log; it stands in its first line.
const LogSchema = "fay.macro-log/1"

const logFamily = "fay.macro-log/"

// Entry is one line of a log: a record, what it was held against, and what
// came out. Lengths are mm.
type Entry struct {
	Date      string `json:"date"`
	Joint     string `json:"joint,omitempty"` // mark on the drawing, else the title
	Part      string `json:"part,omitempty"`
	Job       string `json:"job,omitempty"`
	File      string `json:"file,omitempty"` // of the joint
	Weld      string `json:"weld"`
	Sample    string `json:"sample"`
	Position  string `json:"position_mm,omitempty"`
	Inspector string `json:"inspector,omitempty"`
	Etchant   string `json:"etchant,omitempty"`
	Photo     string `json:"photo,omitempty"`
	// Documents are the rule documents, a blank apart.
	Documents string        `json:"documents,omitempty"`
	Verdict   check.Verdict `json:"verdict"`
	Items     []LogItem     `json:"items"`
	Flags     string        `json:"flags,omitempty"`
	Note      string        `json:"note,omitempty"`
	// Digest is that of the joint's meaning, see package jointfile.
	Digest string `json:"digest"`
}

// LogItem is one size of an entry.
type LogItem struct {
	ID       string        `json:"id"`
	Measured float64       `json:"measured"`
	Planned  *float64      `json:"planned,omitempty"`
	Low      *float64      `json:"low,omitempty"`
	High     *float64      `json:"high,omitempty"`
	Verdict  check.Verdict `json:"verdict"`
}

// Item finds a size of the entry.
func (e *Entry) Item(id string) (LogItem, bool) {
	for _, it := range e.Items {
		if it.ID == id {
			return it, true
		}
	}
	return LogItem{}, false
}

// Origin is what a log keeps of where a report comes from.
type Origin struct{ Date, Joint, Part, Job, File, Digest string }

// Entry makes the line that a log keeps of the report.
func (r *Report) Entry(o Origin) Entry {
	rec := r.Record
	e := Entry{
		Date: o.Date, Joint: o.Joint, Part: o.Part, Job: o.Job, File: o.File, Digest: o.Digest,
		Weld: r.Weld.ID, Sample: rec.Sample, Inspector: rec.Inspector, Etchant: rec.Etchant, Photo: rec.Photo, Note: rec.Note,
		Documents: strings.Join(r.Documents, " "), Verdict: r.Verdict, Items: []LogItem{},
	}
	if rec.Position.Present {
		e.Position = plain(float64(rec.Position.Value))
	}
	flags := make([]string, len(r.Flags))
	for i := range r.Flags {
		flags[i] = r.Flags[i].Text
	}
	e.Flags = strings.Join(flags, "; ")
	for i := range r.Items {
		it := &r.Items[i]
		if it.Measured == nil {
			continue
		}
		e.Items = append(e.Items, LogItem{ID: it.ID, Measured: rounded(*it.Measured), Planned: roundedPtr(it.Planned),
			Low: roundedPtr(it.Low), High: roundedPtr(it.High), Verdict: it.Verdict})
	}
	return e
}

// rounded is a number as logs keep it: to a nanometre, the same on every machine.
func rounded(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }

func roundedPtr(v *float64) *float64 {
	if v == nil {
		return nil
	}
	return new(rounded(*v))
}

func plain(v float64) string { return strconv.FormatFloat(rounded(v), 'f', -1, 64) }

// LogFormat is the form of a log.
type LogFormat string

// The forms, by the ending of the file.
const (
	LogCSV   LogFormat = "csv"
	LogJSONL LogFormat = "jsonl"
)

// LogFormatOf picks the form by the ending of a file's name.
func LogFormatOf(path string) (LogFormat, bool) {
	switch f := LogFormat(strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))); f {
	case LogCSV, LogJSONL:
		return f, true
	}
	return "", false
}

// columns of a CSV log. The first one is named after the schema and says which
// kind of line it is; the digest comes last, so that a line that was cut short shows.
var columns = func() []string {
	out := []string{LogSchema, "date", "joint", "part", "job", "file", "weld", "sample", "position_mm", "inspector", "etchant", "photo",
		"documents", "verdict"}
	for _, id := range itemIDs {
		name := strings.ReplaceAll(id, "-", "_")
		switch id {
		case "area":
			name += "_mm2"
		case "angle":
			name += "_deg"
		default:
			name += "_mm"
		}
		out = append(out, name)
	}
	return append(out, "limits", "flags", "note", "digest")
}()

const (
	firstItem = 14 // column of the first item
	lineMark  = "record"
)

// header is the first line of a log.
func (f LogFormat) header() []byte {
	if f == LogJSONL {
		return []byte(`{"schema":"` + LogSchema + `"}` + "\n")
	}
	return []byte(strings.Join(columns, ",") + "\n")
}

// line is the entry as one line.
func (f LogFormat) line(e *Entry) ([]byte, error) {
	var b bytes.Buffer
	if f == LogJSONL {
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(e); err != nil {
			return nil, fmt.Errorf("macro: log line: %w", err)
		}
		return b.Bytes(), nil
	}
	row := make([]string, 0, len(columns))
	row = append(row, lineMark, e.Date, e.Joint, e.Part, e.Job, e.File, e.Weld, e.Sample, e.Position, e.Inspector, e.Etchant, e.Photo,
		e.Documents, string(e.Verdict))
	limits := make([]string, 0, len(e.Items))
	for _, id := range itemIDs {
		it, ok := e.Item(id)
		if !ok {
			row = append(row, "")
			continue
		}
		row = append(row, plain(it.Measured))
		limits = append(limits, id+"="+optional(it.Planned)+"|"+optional(it.Low)+"|"+optional(it.High)+"|"+string(it.Verdict))
	}
	row = append(row, strings.Join(limits, "; "), e.Flags, e.Note, e.Digest)
	for i := range row {
		row[i] = strings.NewReplacer("\r", " ", "\n", " ").Replace(row[i]) // one record, one line
	}
	w := csv.NewWriter(&b)
	if err := w.Write(row); err != nil {
		return nil, fmt.Errorf("macro: log line: %w", err)
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

func optional(v *float64) string {
	if v == nil {
		return ""
	}
	return plain(*v)
}

var errLine = errors.New("is not a line of this log")

// parse reads one line, without its line feed.
func (f LogFormat) parse(line []byte) (Entry, error) {
	var e Entry
	if !utf8.Valid(line) || bytes.IndexByte(line, 0) >= 0 {
		return e, errLine
	}
	if f == LogJSONL {
		d := json.NewDecoder(bytes.NewReader(line))
		d.DisallowUnknownFields()
		if err := d.Decode(&e); err != nil {
			return Entry{}, fmt.Errorf("%w: %w", errLine, err)
		}
		if d.More() {
			return Entry{}, errLine
		}
		return e, e.complete()
	}
	r := csv.NewReader(bytes.NewReader(line))
	r.FieldsPerRecord = len(columns)
	row, err := r.Read()
	if err != nil || row[0] != lineMark {
		return Entry{}, errLine
	}
	e = Entry{Date: row[1], Joint: row[2], Part: row[3], Job: row[4], File: row[5], Weld: row[6], Sample: row[7], Position: row[8],
		Inspector: row[9], Etchant: row[10], Photo: row[11], Documents: row[12], Verdict: check.Verdict(row[13]), Items: []LogItem{}}
	at := firstItem + len(itemIDs)
	e.Flags, e.Note, e.Digest = row[at+1], row[at+2], row[at+3]
	limits := map[string]string{}
	for part := range strings.SplitSeq(row[at], "; ") {
		id, text, _ := strings.Cut(part, "=")
		limits[id] = text
	}
	for i, id := range itemIDs {
		text := row[firstItem+i]
		if text == "" {
			continue
		}
		it := LogItem{ID: id}
		parts := strings.Split(limits[id], "|")
		if len(parts) != 4 {
			return Entry{}, errLine
		}
		if it.Measured, err = logNumber(text); err != nil {
			return Entry{}, err
		}
		for k, to := range []**float64{&it.Planned, &it.Low, &it.High} {
			if parts[k] == "" {
				continue
			}
			v, err := logNumber(parts[k])
			if err != nil {
				return Entry{}, err
			}
			*to = &v
		}
		it.Verdict = check.Verdict(parts[3])
		e.Items = append(e.Items, it)
	}
	return e, e.complete()
}

func logNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, errLine
	}
	return v, nil
}

// complete refuses entries that lack what every line has.
func (e *Entry) complete() error {
	_, dated := ParseDate(e.Date)
	verdicts := []check.Verdict{check.Met, check.NotMet, check.CannotTell, check.NotApplicable}
	const digestLength = 64 // SHA-256 in hexadecimal
	if !dated || e.Sample == "" || e.Weld == "" || len(e.Digest) != digestLength || !slices.Contains(verdicts, e.Verdict) {
		return errLine
	}
	if e.Items == nil {
		e.Items = []LogItem{}
	}
	for _, it := range e.Items {
		if !slices.Contains(itemIDs, it.ID) || !slices.Contains(verdicts, it.Verdict) {
			return errLine
		}
	}
	return nil
}

// refuse says why a first line is not that of a log to be written here.
func (f LogFormat) refuse(path string, first []byte) error {
	first = bytes.TrimSuffix(first, []byte("\r"))
	want := bytes.TrimSuffix(f.header(), []byte("\n"))
	if bytes.Equal(first, want) {
		return nil
	}
	fault := joints.Fault{Code: FaultLog, Field: path}
	version := ""
	if i := bytes.Index(first, []byte(logFamily)); i >= 0 {
		rest := string(first[i+len(logFamily):])
		n := strings.IndexFunc(rest, func(r rune) bool { return r < '0' || r > '9' })
		if n < 0 {
			n = len(rest)
		}
		version = rest[:n]
	}
	mine := strings.TrimPrefix(LogSchema, logFamily)
	switch {
	case version != "" && version != mine:
		fault.Rule = "is a log of version " + version + "; this program reads and writes version " + mine
		fault.Remedy = "keep it as it is and name another file, or use the program that wrote it"
	case version != "" && bytes.HasPrefix(first, []byte(`{`)) != (f == LogJSONL):
		fault.Rule = "does not hold what its ending ." + string(f) + " says"
		fault.Remedy = "give the log its own ending again: .csv or .jsonl"
	case version != "":
		fault.Rule = "has other columns than a log of version " + version
		fault.Remedy = "undo what was changed in its first line, or name another file"
	default:
		fault.Rule = "is not a log of cut-and-etch records"
		fault.Remedy = "name a new file, or one that --log made"
	}
	return joints.Faults{fault}
}

// FaultLog is a file that is not a log to be read or written here.
const FaultLog joints.FaultCode = "log"
