package cli

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"fay/joints"
)

// format is the form of what a command prints.
type format string

// The forms.
const (
	asText format = "text"
	asJSON format = "json"
	asCSV  format = "csv"
	asMD   format = "md"
)

var formats = []string{string(asText), string(asJSON), string(asCSV), string(asMD)}

func formatFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVar(to, "format", string(asText), "form of the output: "+strings.Join(formats, ", ")+"; json and csv are in mm")
	// The flag was defined on the line above.
	_ = cmd.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(formats, cobra.ShellCompDirectiveNoFileComp))
}

func parseFormat(text string) (format, error) {
	for _, f := range formats {
		if f == text {
			return format(f), nil
		}
	}
	hint := "use one of " + strings.Join(formats, ", ")
	if near := joints.Nearest(text, formats); near != "" && len(text) < 20 {
		hint = "did you mean " + near + "? " + hint
	}
	return "", usage(fmt.Sprintf("--format %q: is not a form of output", text), hint)
}

// table is rows under headings; as text, it does without the headings where
// all are empty.
type table struct {
	heads []string
	rows  [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// text prints columns two blanks apart.
func (t *table) text(w io.Writer) {
	width := make([]int, len(t.heads))
	all := t.rows
	if strings.Join(t.heads, "") != "" {
		all = append([][]string{t.heads}, t.rows...)
	}
	for _, row := range all {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range all {
		var b strings.Builder
		for i, cell := range row {
			b.WriteString(cell)
			if i < len(row)-1 {
				b.WriteString(strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell)+2))
			}
		}
		_, _ = fmt.Fprintln(w, strings.TrimRight(b.String(), " ")) // w is a buffer
	}
}

// md prints a Markdown table.
func (t *table) md(w io.Writer) {
	line := func(cells []string) {
		escaped := make([]string, len(cells))
		for i, c := range cells {
			escaped[i] = strings.ReplaceAll(c, "|", `\|`)
		}
		_, _ = fmt.Fprintln(w, "| "+strings.Join(escaped, " | ")+" |") // w is a buffer
	}
	line(t.heads)
	_, _ = fmt.Fprintln(w, "|"+strings.Repeat(" --- |", len(t.heads)))
	for _, row := range t.rows {
		line(row)
	}
}

// csv prints comma-separated rows.
func (t *table) csv(w io.Writer) error {
	c := csv.NewWriter(w)
	if err := c.Write(t.heads); err != nil {
		return fmt.Errorf("write csv: %w", err)
	}
	cells := make([]string, len(t.heads))
	for _, row := range t.rows {
		for i, cell := range row {
			cells[i] = noFormula(cell)
		}
		if err := c.Write(cells[:len(row)]); err != nil {
			return fmt.Errorf("write csv: %w", err)
		}
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return fmt.Errorf("write csv: %w", err)
	}
	return nil
}

// noFormula puts an apostrophe before text that a spreadsheet would run as a
// formula.
func noFormula(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@", rune(cell[0])) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}

// in prints the table as text or Markdown.
func (t *table) in(f format, w io.Writer) {
	if f == asMD {
		t.md(w)
		return
	}
	t.text(w)
}
