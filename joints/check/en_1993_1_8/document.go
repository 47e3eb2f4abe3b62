// Package en199318 holds rules for fillet welds from EN 1993-1-8. The document
// was not read: one rule is from a report of it, all others are from memory.
package en199318

import "fay/joints/check"

// The document and, with the rules of its national annex, the German one.
var (
	Recommended = check.Document{
		ID:    "en-1993-1-8/recommended",
		Title: "EN 1993-1-8",
		Scope: []string{"steel", "stainless"},
		Rules: rules("en-1993-1-8/recommended/"),
	}
	German = check.Document{
		ID:    "en-1993-1-8/DE",
		Title: "EN 1993-1-8 with the German national annex",
		Scope: []string{"steel", "stainless"},
		Rules: append(rules("en-1993-1-8/DE/"), annexThroat, annexLargest),
	}
)

func rules(prefix string) []check.Rule {
	return []check.Rule{fusionAngle(prefix), leastLength(prefix), leastThroat(prefix)}
}

const (
	code     = "EN 1993-1-8"
	fromMind = "from memory, unverified"
)

func source(clause string) check.Source {
	return check.Source{Document: code, Edition: "not named in the report", Clause: clause}
}
