package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fay/joints/result"
	"fay/render"
	"fay/render/lettering"
	"fay/render/sketch"
)

// usualColumns is the width of a terminal that does not tell its own, and of a
// text file.
const usualColumns = 80

// sketches draws the joints in characters, one under the other. A file is
// always 80 columns wide; a terminal is drawn for as it says it is.
func (a *app) sketches(jobs []*job, terminal bool) ([]byte, error) {
	width, box := usualColumns, true
	if terminal {
		width, box = a.columns(), a.drawsBoxes()
	}
	var out bytes.Buffer
	for i, j := range jobs {
		if i > 0 {
			printf(&out, "\n")
		}
		findings, err := j.findings()
		if err != nil {
			return nil, err
		}
		options := j.sheetOptions()
		style := options.Style()
		if err := sketch.Write(&out, &j.doc.Section, width, sketch.Options{Box: box, Numbers: style.Numbers}); err != nil {
			return nil, fmt.Errorf("draw: %w", err)
		}
		tail(&out, asText, nil, result.Cautions(&j.doc.Section, findings))
	}
	return out.Bytes(), nil
}

// columns is the width of the terminal, within what a sketch can be drawn in.
func (a *app) columns() int {
	n, err := strconv.Atoi(a.variable("COLUMNS"))
	if err != nil || n <= 0 {
		return usualColumns
	}
	return min(max(n, sketch.LeastWidth), sketch.MostWidth)
}

// drawsBoxes reports whether the terminal shows more than ASCII.
func (a *app) drawsBoxes() bool {
	for _, name := range [...]string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := a.variable(name); v != "" {
			v = strings.ToLower(v)
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}

// variable is a variable of the environment, the last one of its name.
func (a *app) variable(name string) string {
	for _, v := range slices.Backward(a.env.Environ) {
		if text, ok := strings.CutPrefix(v, name+"="); ok {
			return text
		}
	}
	return ""
}

// undrawn lists the characters of drawings that the lettering lacks.
func undrawn(pages []*render.Drawing) []rune {
	var missing []rune
	for _, d := range pages {
		for i := range d.Items {
			if t := d.Items[i].Text; t != nil {
				missing = append(missing, lettering.Missing(t.Content)...)
			}
		}
	}
	return missing
}

// warnLettering names the characters that the lettering cannot draw and prints
// a mark in place of.
func (a *app) warnLettering(missing []rune) {
	slices.Sort(missing)
	missing = slices.Compact(missing)
	if len(missing) == 0 {
		return
	}
	const most = 12
	var list []string
	for _, r := range missing[:min(len(missing), most)] {
		list = append(list, fmt.Sprintf("%q (U+%04X)", r, r))
	}
	if n := len(missing) - most; n > 0 {
		list = append(list, fmt.Sprintf("%d more", n))
	}
	a.talkf("fay: the lettering lacks %s and prints \uFFFD instead\n  hint: write the text in Latin, Greek or Cyrillic letters\n", strings.Join(list, ", "))
}
