// Package awsd11 holds rules of AWS D1.1, the structural welding code for
// steel, as far as they are reported by others. The code itself was not read
// for these clauses and the reports name no edition, so that none is claimed.
package awsd11

import "fay/joints/check"

// Document is AWS D1.1 as reported.
var Document = check.Document{
	ID:    "aws-d1.1-reported",
	Title: "AWS D1.1 as reported",
	Scope: []string{"steel"},
	Rules: []check.Rule{gapMaximum, gapAllowance},
}

func source(clause string) check.Source {
	return check.Source{Document: "AWS D1.1", Edition: "not named in the report", Clause: clause}
}
