package compare

import (
	"fmt"
	"slices"
	"strings"

	"fay/joints"
	"fay/joints/check/preparation"
)

// Candidate is a preparation from a table as assignments of a joint.
type Candidate struct {
	Name        string
	Note        string // document and row, with how they were read
	Assignments []string
	// Square edges are as wide at the face as they are open; Closed ones touch
	// and hold no metal without a cap that laps over them.
	Square, Closed bool
}

// Preparations turns rows of preparation tables into assignments of a kind,
// each number at the value a plan starts from; length letters those in names, mm.
// Rows that come to the same are one candidate. What the kind cannot be prepared
// to is left out and named.
func Preparations(kind *joints.Kind, rows []preparation.Preparation, length func(mm float64) string) (out []Candidate, left []string) {
	prep, ok := kind.Param("prep")
	if !ok {
		return nil, []string{"a " + kind.Name + " joint takes no preparation"}
	}
	if len(kind.Members) != 2 {
		return nil, []string{"the tables speak of two members; a " + kind.Name + " joint has more"}
	}
	w := writer{kind: kind, butt: slices.Contains(prep.Choices, string(joints.PrepSquare)), choices: prep.Choices, length: length}
	at := map[string]int{}
	for i := range rows {
		row := &rows[i]
		note := fmt.Sprintf("%s, %s [%s]", row.Document, row.Row, row.Provenance)
		c, why := w.candidate(row)
		if why != "" {
			left = append(left, note+": "+why)
			continue
		}
		key := strings.Join(c.Assignments, " ")
		if k, ok := at[key]; ok {
			out[k].Note += "; " + note
			continue
		}
		c.Note = note
		at[key] = len(out)
		out = append(out, c)
	}
	// Two rows may differ in what a name does not tell.
	seen := map[string]int{}
	for i := range out {
		n := seen[out[i].Name]
		seen[out[i].Name]++
		if n > 0 {
			out[i].Name += fmt.Sprintf(" (%d)", n+1)
		}
	}
	return out, left
}

type writer struct {
	kind    *joints.Kind
	butt    bool
	choices []string
	length  func(mm float64) string
}

// candidate writes one row, or says why it cannot.
func (w *writer) candidate(row *preparation.Preparation) (Candidate, string) {
	word := w.word(row.Prep)
	switch {
	case !slices.Contains(w.choices, word):
		return Candidate{}, "a " + w.kind.Name + " joint cannot be prepared so"
	case w.butt && row.Butt == preparation.No:
		return Candidate{}, "not for butt joints"
	case !w.butt && row.Butt == preparation.Yes:
		return Candidate{}, "for butt joints alone"
	}
	c := Candidate{Name: word}
	set := func(name, value string) {
		if _, ok := w.kind.Param(name); ok {
			c.Assignments = append(c.Assignments, name+"="+value)
		}
	}
	set("prep", word)
	var parts []string
	add := func(name string, s preparation.Span, unit, label string) {
		if s.Given() {
			set(name, trim(s.Nominal)+unit)
			text := trim(s.Nominal) + "°"
			if unit != "" {
				text = w.length(s.Nominal)
			}
			parts = append(parts, label+" "+text)
		}
	}
	if row.Prep != joints.PrepSquare {
		angle := "bevel-angle"
		if row.Prep == joints.PrepSingleV || row.Prep == joints.PrepDoubleV {
			angle = "groove-angle"
		}
		add(angle, row.Angle, "", "")
		add("root-radius", row.Radius, "mm", "R")
		add("root-face", row.RootFace, "mm", "face")
	}
	opening := "root-opening"
	if _, ok := w.kind.Param(opening); !ok {
		opening = "gap"
	}
	add(opening, row.Opening, "mm", "opening")
	c.Square = w.butt && row.Prep == joints.PrepSquare
	c.Closed = c.Square && row.Opening.Nominal == 0
	if row.Backing == preparation.Yes {
		set("backing", "strip")
		parts = append(parts, "backing")
	}
	if strings.HasPrefix(word, "double") {
		c.Assignments = append(c.Assignments, "sides=both")
	}
	if text := strings.Join(parts, ", "); text != "" {
		c.Name += " " + strings.TrimSpace(text)
	}
	return c, ""
}

// word is how the kind calls a preparation: a member that stands on another
// one has no single bevel, but a bevel.
func (w *writer) word(p joints.Prep) string {
	word := string(p)
	if w.butt {
		return word
	}
	return strings.TrimPrefix(word, "single-")
}
