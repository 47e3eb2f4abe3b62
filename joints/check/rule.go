package check

import (
	"slices"
	"strings"
)

// Rule is one comparison of a document.
type Rule struct {
	ID         string // document id and clause, such as aisc-360-16/J2.4
	Title      string
	Source     Source
	Provenance Provenance
	// Read says where the values were read, for those who want to look.
	Read string
	// Doc says in plain words what is compared and how doubts were settled.
	Doc string
	// Values are the values of the rule as a table.
	Values Table
	// Check compares and appends its findings, one at least. It leaves their
	// Rule, Title and Source empty, and Provenance too where it is the rule's own.
	Check func(f *Facts, to []Finding) []Finding
}

// Table is the values of a rule as they are printed.
type Table struct {
	Columns []string
	Rows    [][]string
}

// Document is one edition of a standard, at one level where it has several.
type Document struct {
	ID    string // as joint files and settings name it
	Title string
	// Scope lists the metal families the document is written for; findings on
	// other metals are made all the same and say so. Empty means any.
	Scope []string
	Rules []Rule
}

// Outside returns the metal families of a joint that the document is not written
// for.
func (d *Document) Outside(f *Facts) []string {
	if len(d.Scope) == 0 {
		return nil
	}
	return f.outside(d.Scope)
}

// Run applies the rules of the documents in order. Every finding is complete
// with rule, source and provenance; the result is never nil.
func Run(facts *Facts, documents []Document) []Finding {
	return Append([]Finding{}, facts, documents)
}

// Append is [Run] for those who have memory for the findings.
func Append(findings []Finding, facts *Facts, documents []Document) []Finding {
	rules := 0
	for i := range documents {
		rules += len(documents[i].Rules)
	}
	// Some rules speak of each weld, some of each toe, some of none.
	room := rules * (1 + len(facts.Section.Welds)) / 2
	findings = slices.Grow(findings, room+room/4)
	for i := range documents {
		d := &documents[i]
		note := ""
		if out := d.Outside(facts); len(out) > 0 {
			note = d.Title + " is written for " + strings.Join(d.Scope, ", ") + ", not for " + strings.Join(out, ", ")
		}
		for j := range d.Rules {
			r := &d.Rules[j]
			first := len(findings)
			findings = r.Check(facts, findings)
			for k := first; k < len(findings); k++ {
				f := &findings[k]
				f.Rule, f.Title, f.Source = r.ID, r.Title, r.Source
				if f.Provenance == "" {
					f.Provenance = r.Provenance
				}
				if f.Steps == nil {
					f.Steps = []Step{}
				}
				if note != "" && f.Verdict != NotApplicable {
					f.AddNote(note)
				}
			}
		}
	}
	return findings
}

// Failed reports whether one of the findings fails the joint.
func Failed(findings []Finding) bool {
	return slices.ContainsFunc(findings, func(f Finding) bool { return f.Failure() })
}

// Silence leaves out the warnings of the rules with the given ids. A failure
// stays, with a note that it cannot be silenced. The findings given are not
// changed.
func Silence(findings []Finding, rules []string) []Finding {
	kept := make([]Finding, 0, len(findings))
	for _, f := range findings {
		if slices.Contains(rules, f.Rule) {
			if f.Warning() {
				continue
			}
			if f.Failure() {
				f.AddNote("a failure cannot be silenced")
			}
		}
		kept = append(kept, f)
	}
	return kept
}
