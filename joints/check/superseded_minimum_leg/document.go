// Package superseded holds the table of smallest fillet legs by the thicker
// part, which AWS and AISC printed for decades and Blodgett repeats. Later
// editions take the thinner part instead; drawings made to it still live.
package superseded

import "fay/joints/check"

// Document is the superseded table under its own name.
var Document = check.Document{
	ID:    "superseded/minimum-leg",
	Title: "superseded table of smallest legs by the thicker part",
	Scope: []string{"steel"},
	Rules: []check.Rule{thickerPart},
}
