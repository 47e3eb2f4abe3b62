// Package aisc36016 holds rules for fillet welds from the specification for
// structural steel buildings, AISC 360-16, section J2.
//
// The copies read are extracts of section J2 and do not show which edition they
// are from; that the 2016 edition prints the same values is from memory,
// unverified.
package aisc36016

import (
	"fay/joints"
	"fay/joints/check"
)

const (
	document = "ANSI/AISC 360"
	edition  = "2016"

	// Where the clauses were read.
	readJ2 = "extract at scribd.com/document/380231435, edition not shown"
)

// Document is AISC 360-16 as far as it is on file.
var Document = check.Document{
	ID:    "aisc-360-16",
	Title: "AISC 360-16",
	Scope: []string{"steel"},
	Rules: []check.Rule{minimumLeg, edgeLeg, effectiveLength, intermittent, endLoaded, lapOverlap},
}

func source(clause string) check.Source {
	return check.Source{Document: document, Edition: edition, Clause: clause}
}

// shorterLeg returns the foot with the shorter leg, the first of equals.
func shorterLeg(w *joints.Weld) *joints.Foot {
	if w.Feet[1].Leg < w.Feet[0].Leg {
		return &w.Feet[1]
	}
	return &w.Feet[0]
}
