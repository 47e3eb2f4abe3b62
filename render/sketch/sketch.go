// Package sketch draws a section in plain characters for a terminal: members
// shaded apart, welds, weld roots, dimension lines with letters, and the
// model's numbers beside the letters underneath.
//
// A cell of a terminal is taken to be twice as high as wide, so that the sketch
// is true to scale in both directions. Its only inexactness is the size of a
// cell, which the second line states. Plates that go on are broken off nearer to
// the weld than on a sheet, because cells are few.
package sketch

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/render"
)

// The widths of a sketch in columns.
const (
	LeastWidth = 40
	MostWidth  = 200
)

// Options are the choices of a sketch. The zero value draws in ASCII and
// letters millimetres with a decimal point.
type Options struct {
	// Box draws with the box-drawing and block characters of Unicode, with edges
	// to half a cell, and letters numbers as a sheet does.
	Box bool
	// Numbers letters the numbers of the legend; the zero value stands for
	// millimetres with a decimal point and two decimals.
	Numbers render.Numbers
}

// The faults of a call.
var (
	ErrWidth   = fmt.Errorf("sketch: the width must be from %d to %d columns", LeastWidth, MostWidth)
	ErrSection = errors.New("sketch: the section has no members or no welds")
)

// Write writes the sketch of a section at most width columns wide. It fails
// with ErrWidth or ErrSection before the first byte, later with the writer's
// error. Lines end in a line feed and have no blanks at their ends.
func Write(w io.Writer, s *joints.Section, width int, o Options) error {
	switch {
	case width < LeastWidth || width > MostWidth:
		return ErrWidth
	case len(s.Members) == 0 || len(s.Welds) == 0:
		return ErrSection
	}
	if o.Numbers == (render.Numbers{}) {
		o.Numbers = render.Numbers{Unit: geometry.UnitMM, Decimal: ".", LeadingZero: true, Decimals: 2}
	}
	k := &sketch{section: s, width: width, options: o, ink: asciiInk}
	if o.Box {
		k.ink = boxInk
	}
	k.dimensions()
	k.arrange()
	k.raster()
	k.roots()
	_, err := io.WriteString(w, k.text())
	return err
}

// sketch is one sketch in the making.
type sketch struct {
	section *joints.Section
	width   int
	options Options
	ink     ink

	frames
	cells  [][]rune // the section alone, by row
	lines  []*dimension
	others []*dimension // without a line, for the legend alone
}

// text puts the lines together.
func (k *sketch) text() string {
	var b strings.Builder
	add := func(s string) {
		r := []rune(strings.TrimRight(s, " "))
		if len(r) > k.width {
			r = r[:k.width]
		}
		b.WriteString(strings.TrimRight(string(r), " "))
		b.WriteByte('\n')
	}
	n := k.options.Numbers
	cell := fmt.Sprintf("one column %s %s, one row %s %s", n.Length(k.unit), n.Name(), n.Length(2*k.unit), n.Name())
	add(k.plain(k.section.Title))
	add(k.plain(cell))
	add("")
	rows := k.canvas()
	for len(rows) > 0 && blank(rows[0]) {
		rows = rows[1:]
	}
	for _, row := range rows {
		add(string(row))
	}
	add("")
	for _, line := range k.key() {
		add(line)
	}
	add("")
	for _, line := range k.legend() {
		add(line)
	}
	return b.String()
}

func blank(row []rune) bool {
	return !slices.ContainsFunc(row, func(r rune) bool { return r != ' ' })
}

// key names the shadings, as many to a line as fit.
func (k *sketch) key() []string {
	var entries []string
	for i := range k.section.Members {
		m := &k.section.Members[i]
		s := strings.Repeat(string(k.ink.members[i%len(k.ink.members)]), 3) + " " + m.Name
		if m.Material != "" {
			s += " " + m.Material
		}
		entries = append(entries, k.plain(s))
	}
	entries = append(entries, strings.Repeat(string(k.ink.weld), 3)+" weld", string(k.ink.root)+" weld root")
	if k.section.Backing != nil {
		entries = append(entries, strings.Repeat(string(k.ink.backing), 3)+" backing")
	}
	if k.broken {
		entries = append(entries, string(k.ink.broken)+" plate goes on")
	}
	const between = "   "
	var lines []string
	line := ""
	for _, e := range entries {
		switch {
		case line == "":
			line = e
		case len([]rune(line))+len(between)+len([]rune(e)) <= k.width:
			line += between + e
		default:
			lines, line = append(lines, line), e
		}
	}
	return append(lines, line)
}

// legend gives every dimension its line: letter, name, number.
func (k *sketch) legend() []string {
	names, values := 0, 0
	all := slices.Concat(k.lines, k.others)
	for _, d := range all {
		names, values = max(names, len([]rune(d.name))), max(values, len([]rune(d.value)))
	}
	// A narrow sketch keeps the number in sight rather than the name.
	const between = 5 // the letter and the blanks
	names = max(min(names, k.width-values-between), 0)
	lines := make([]string, 0, len(all))
	for _, d := range all {
		name := []rune(d.name)
		if len(name) > names {
			name = name[:names]
		}
		letter := " "
		if d.letter != 0 {
			letter = string(d.letter)
		}
		lines = append(lines, fmt.Sprintf("%s  %-*s  %s", letter, names, string(name), d.value))
	}
	return lines
}

// plain spells a text with the characters the sketch may use.
func (k *sketch) plain(s string) string {
	if k.options.Box {
		return strings.Map(func(r rune) rune {
			if r < ' ' || r == 0x7F {
				return ' '
			}
			return r
		}, s)
	}
	s = spellings.Replace(s)
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ' || r == 0x7F:
			return ' '
		case r > 0x7E:
			return '?'
		}
		return r
	}, s)
}

// spellings are the signs of drawings in ASCII.
var spellings = strings.NewReplacer(
	"\u2212", "-", "±", "+/-", "°", " deg", "⌀", "dia ", "ø", "dia ", "×", "x", "²", "2", "≤", "<=", "≥", ">=", "–", "-", "·", "-",
)
