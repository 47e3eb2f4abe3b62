// Package awsd11 holds rules of AWS D1.1, the structural welding code for
// steel, as far as they are reported by others, seen on single pages or
// remembered; each clause says which. Editions are named where a page shows
// one, and not claimed otherwise.
package awsd11

import "fay/joints/check"

// Document is AWS D1.1 as reported.
var Document = check.Document{
	ID:    "aws-d1.1-reported",
	Title: "AWS D1.1 as reported",
	Scope: []string{"steel"},
	Rules: []check.Rule{
		gapMaximum, gapAllowance, minimumLeg, effectiveLength, intermittent, endLoaded,
		skewAngle, zLoss, singlePass, convexity, reinforcement, offset,
	},
}

// Cyclic is what AWS D1.1 asks for besides in cyclically loaded structures.
var Cyclic = check.Document{
	ID:    "aws-d1.1-reported/cyclic",
	Title: "AWS D1.1 as reported, cyclic loading",
	Scope: []string{"steel"},
	Rules: []check.Rule{cyclicLeg, cyclicTransition},
}

const (
	code      = "AWS D1.1"
	noEdition = "not named in the report"
	fromMind  = "from memory, unverified"
	page2010  = "page scan of AWS D1.1:2010, scribd.com/document/338173238"
)

func source(clause string) check.Source {
	return check.Source{Document: code, Edition: noEdition, Clause: clause}
}

func source2010(clause string) check.Source {
	return check.Source{Document: code, Edition: "2010", Clause: clause}
}
