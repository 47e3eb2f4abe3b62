package config

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"fay/geometry"
)

// ErrNotEdited is returned where a settings file is written in a way that
// cannot be added to without touching what else it holds.
var ErrNotEdited = errors.New("the settings file cannot be added to")

// calibrationField is a line of a calibration's entry.
type calibrationField struct{ name, value string }

// fields are the lines of an entry, those not known left out.
func (c *Calibration) fields() []calibrationField {
	n := func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
	out := []calibrationField{{"machine", quoted(c.Machine)}, {"process", string(c.Process)}, {"sections", strconv.Itoa(c.Sections)}, {"efficiency", n(c.Efficiency)}}
	if r := c.EfficiencyRange; r != nil {
		out = append(out, calibrationField{"efficiency-range", n(r[0]) + ".." + n(r[1])})
	}
	out = append(out, calibrationField{"spot", n(float64(c.Spot)) + " mm"})
	if r := c.SpotRange; r != nil {
		out = append(out, calibrationField{"spot-range", n(r[0]) + ".." + n(r[1]) + " mm"})
	}
	return append(out, calibrationField{"source", quoted(c.Source.Text)})
}

// quoted writes a text so that YAML reads it back as it is.
func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", "''") + "'" }

// item writes an entry of the list; each line has the indent before it.
func (c *Calibration) item(indent string) []string {
	fields := c.fields()
	lines := make([]string, 0, len(fields))
	for i, f := range fields {
		mark := "  "
		if i == 0 {
			mark = "- "
		}
		lines = append(lines, indent+mark+f.name+": "+f.value)
	}
	return lines
}

// rounded is the calibration as a settings file holds it.
func (c *Calibration) rounded() Calibration {
	r := func(v float64) float64 {
		v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64) // a number just written
		return v
	}
	pair := func(p *[2]float64) *[2]float64 {
		if p == nil {
			return nil
		}
		return &[2]float64{r(p[0]), r(p[1])}
	}
	out := *c
	out.Efficiency, out.Spot = r(c.Efficiency), geometry.Length(r(float64(c.Spot)))
	out.EfficiencyRange, out.SpotRange = pair(c.EfficiencyRange), pair(c.SpotRange)
	return out
}

// Block is the calibration as a piece of a settings file of its own.
func (c *Calibration) Block() string {
	return "calibrations:\n" + strings.Join(c.item("  "), "\n") + "\n"
}

// StoreCalibration puts a calibration into the text of a settings file, over
// the one of the same machine and process where there is one. Everything else
// stays as it is, comments too. The error is [Faults] where the text is no
// valid settings file, also once the calibration is in it, and [ErrNotEdited]
// where it is written so that nothing can be added.
func StoreCalibration(text []byte, c Calibration) ([]byte, error) {
	c = c.rounded()
	before, err := loadAlone(text)
	if err != nil {
		return nil, err
	}
	out, err := edited(string(text), &c)
	if err != nil {
		return nil, err
	}
	after, err := loadAlone(out)
	if err != nil {
		return nil, err
	}
	// What was written has to read back, and nothing else may differ.
	got, ok := after.Calibration(c.Machine, c.Process)
	got.Machine = c.Machine // as the list of machines spells it
	if !ok || !reflect.DeepEqual(got, c) {
		return nil, ErrNotEdited
	}
	others := func(list []Calibration) (out []Calibration) {
		for _, o := range list {
			if !sameMachine(o.Machine, c.Machine) || o.Process != c.Process {
				out = append(out, o)
			}
		}
		return out
	}
	before.Calibrations, after.Calibrations = others(before.Calibrations), others(after.Calibrations)
	if !reflect.DeepEqual(before, after) {
		return nil, ErrNotEdited
	}
	return out, nil
}

// loadAlone reads the text of a settings file without any other layer.
func loadAlone(text []byte) (Settings, error) {
	loaded, err := load("", text, Options{Environ: []string{}})
	return loaded.Settings, err
}

// edited is the text with the calibration in its list.
func edited(text string, c *Calibration) ([]byte, error) {
	eol := "\n"
	if strings.Contains(text, "\r\n") {
		eol = "\r\n"
	}
	lines := strings.Split(strings.TrimSuffix(strings.ReplaceAll(text, "\r\n", "\n"), "\n"), "\n")
	if text == "" {
		lines = nil
	}
	join := func(parts ...[]string) []byte {
		var all []string
		for _, p := range parts {
			all = append(all, p...)
		}
		return []byte(strings.Join(all, eol) + eol)
	}
	list, found, err := calibrationList(text)
	switch {
	case err != nil:
		return nil, err
	case !found:
		if len(lines) > 0 && strings.TrimSpace(lines[len(lines)-1]) != "" {
			lines = append(lines, "")
		}
		return join(lines, strings.Split(strings.TrimSuffix(c.Block(), "\n"), "\n")), nil
	}
	for _, at := range list.entries {
		if sameMachine(at.machine, c.Machine) && at.process == c.Process {
			return join(lines[:at.first-1], replaced(lines[at.first-1:at.last], list.indent, c), lines[at.last:]), nil
		}
	}
	end := list.key
	if n := len(list.entries); n > 0 {
		end = list.entries[n-1].last
	}
	return join(lines[:end], c.item(list.indent), lines[end:]), nil
}

// replaced writes an entry over an old one, whose lines keep their comments.
func replaced(old []string, indent string, c *Calibration) []string {
	out := c.item(indent)
	var kept []string
	for _, line := range old {
		if bare := strings.TrimSpace(line); strings.HasPrefix(bare, "#") {
			kept = append(kept, line)
			continue
		}
		at := strings.LastIndex(line, " #")
		key, _, ok := strings.Cut(strings.TrimLeft(line, " -"), ":")
		if at < 0 || !ok || strings.Count(line[at:], "'")%2 == 1 || strings.Count(line[at:], `"`)%2 == 1 {
			continue
		}
		for i := range out {
			if strings.HasPrefix(strings.TrimLeft(out[i], " -"), key+":") {
				out[i] += " " + line[at:]
			}
		}
	}
	// Comments on lines of their own stand behind the entry's values.
	return append(out, kept...)
}

// calibrationLines are the entries of the list in a file.
type calibrationLines struct {
	key     int    // line of the list's name, from 1
	indent  string // before the mark of an entry
	entries []calibrationEntry
}

type calibrationEntry struct {
	first, last int // lines, from 1
	machine     string
	process     ArcProcess
}

// calibrationList finds the entries; found is false where there is no list. The
// text is a valid settings file.
func calibrationList(text string) (list calibrationLines, found bool, err error) {
	file, err := parser.ParseBytes([]byte(text), 0)
	if err != nil {
		return list, false, fmt.Errorf("%w: %w", ErrNotEdited, err)
	}
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if doc.End != nil { // text behind the end would be another document
			return list, false, ErrNotEdited
		}
		top, ok := pairs(doc.Body)
		if m, isMap := doc.Body.(*ast.MappingNode); !ok || isMap && m.IsFlowStyle {
			return list, false, ErrNotEdited
		}
		for _, e := range top {
			if scalarOf(e.Key) != "calibrations" {
				continue
			}
			list.key, list.indent = e.Key.GetToken().Position.Line, "  "
			if isNull(e.Value) {
				return list, true, nil
			}
			seq, ok := e.Value.(*ast.SequenceNode)
			if !ok || seq.IsFlowStyle || len(seq.Values) == 0 {
				return list, false, ErrNotEdited
			}
			for _, item := range seq.Values {
				entry, err := entryLines(item)
				if err != nil {
					return list, false, err
				}
				list.entries = append(list.entries, entry)
			}
			list.indent = strings.Repeat(" ", seq.GetToken().Position.Column-1)
			return list, true, nil
		}
	}
	return list, false, nil
}

// entryLines are the lines from the first to the last value of an entry, each
// of which stands on a line of its own.
func entryLines(n ast.Node) (calibrationEntry, error) {
	fields, ok := pairs(n)
	if m, isMap := n.(*ast.MappingNode); !ok || isMap && m.IsFlowStyle || len(fields) == 0 {
		return calibrationEntry{}, ErrNotEdited
	}
	var e calibrationEntry
	for _, f := range fields {
		first, last := f.Key.GetToken().Position.Line, f.Value.GetToken().Position.Line
		if first != last || first <= e.last {
			return e, ErrNotEdited
		}
		if e.first == 0 {
			e.first = first
		}
		e.last = last
		switch scalarOf(f.Key) {
		case "machine":
			e.machine = strings.TrimSpace(scalarOf(f.Value))
		case "process":
			e.process, _ = ParseArcProcess(scalarOf(f.Value)) // judged before
		}
	}
	return e, nil
}
