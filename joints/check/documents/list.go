package documents

import (
	"strings"

	"fay/joints"
	"fay/joints/check"
)

// Entry is a rule document as the manual lists it.
type Entry struct {
	ID      string      `json:"id"`
	Title   string      `json:"title"`
	Scope   []string    `json:"scope"`   // metal families; empty means any
	Default bool        `json:"default"` // runs where no document is chosen
	Rules   []RuleEntry `json:"rules"`
}

// RuleEntry is a rule as the manual lists it.
type RuleEntry struct {
	ID         string           `json:"id"`
	Title      string           `json:"title"`
	Source     check.Source     `json:"source"`
	Provenance check.Provenance `json:"provenance"`
	Columns    []string         `json:"columns"`
	Values     [][]string       `json:"values"`
}

// List lists every document that can be chosen, with its rules and their values.
func List() []Entry {
	byDefault := map[string]bool{}
	for _, id := range Default() {
		byDefault[id] = true
	}
	known := Known()
	entries := make([]Entry, 0, len(known))
	for i := range known {
		d := &known[i]
		e := Entry{ID: d.ID, Title: d.Title, Scope: append([]string{}, d.Scope...), Default: byDefault[d.ID], Rules: make([]RuleEntry, 0, len(d.Rules))}
		for j := range d.Rules {
			e.Rules = append(e.Rules, entry(&d.Rules[j]))
		}
		entries = append(entries, e)
	}
	return entries
}

func entry(r *check.Rule) RuleEntry {
	return RuleEntry{ID: r.ID, Title: r.Title, Source: r.Source, Provenance: r.Provenance, Columns: r.Values.Columns, Values: r.Values.Rows}
}

// Explanation tells one rule.
type Explanation struct {
	RuleEntry

	Document string   `json:"document"` // id
	Scope    []string `json:"scope"`    // metal families; empty means any
	Formula  string   `json:"formula"`  // in words
	Read     string   `json:"read"`     // where the values were read
	// Example is the rule at work; nil where no joint on file shows it.
	Example *Example `json:"example,omitempty"`
}

// Example is a finding of the rule on a joint.
type Example struct {
	Joint   string        `json:"joint"` // as a one-liner
	With    string        `json:"with,omitempty"`
	Finding check.Finding `json:"finding"`
}

// Explain tells a rule by its id; case does not count. The error is of type
// [joints.Faults] and names the nearest id.
func Explain(id string) (Explanation, error) {
	known := Known()
	for i := range known {
		d := &known[i]
		for j := range d.Rules {
			if r := &d.Rules[j]; strings.EqualFold(r.ID, strings.TrimSpace(id)) {
				return Explanation{
					RuleEntry: entry(r), Document: d.ID, Scope: append([]string{}, d.Scope...), Formula: r.Doc, Read: r.Read,
					Example: example(d, r),
				}, nil
			}
		}
	}
	return Explanation{}, joints.Faults{unknownRule(id)}
}

func unknownRule(id string) joints.Fault {
	f := joints.Fault{Code: joints.FaultUnknown, Field: "rule", Value: id, Rule: "is not the id of a rule on file",
		Remedy: "list the ids without naming one"}
	if d := find(id); d != nil {
		ids := make([]string, len(d.Rules))
		for i := range d.Rules {
			ids[i] = d.Rules[i].ID
		}
		f.Rule = "is a document"
		f.Remedy = "name one of its rules: " + strings.Join(ids, ", ")
		return f
	}
	if near := joints.Nearest(strings.TrimSpace(id), RuleIDs()); near != "" {
		f.Remedy = "did you mean " + near + "?"
	}
	return f
}
