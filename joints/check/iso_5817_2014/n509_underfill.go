package iso58172014

import "fay/joints/check"

// No. 509 and 511, sagging and incompletely filled groove. Levels C and B in
// sheets, scribd 253871562 (C) and 99588384 (B); level D from memory.
var underfillRow = imperfection{
	number: "511", title: "Incompletely filled groove, sagging (509)", quantity: &check.Underfill,
	read: readSheet + "; level D " + readMind,
	doc:  "How far a groove's face lies under the surface of the plate, from a cut-and-etch record, against a limit by the thickness.",
	cells: []cell{
		{LevelD, thinPlates, short, check.Limit{Factor: 0.25, Of: check.Thickness}, check.Memory},
		{LevelD, thickPlates, short, check.Limit{Factor: 0.25, Of: check.Thickness, Most: 2}, check.Memory},
		{LevelC, thinPlates, short, check.Limit{Factor: 0.1, Of: check.Thickness}, check.Secondary},
		{LevelC, thickPlates, short, check.Limit{Factor: 0.1, Of: check.Thickness, Most: 1}, check.Secondary},
		{LevelB, thinPlates, notPermitted, check.Limit{}, check.Secondary},
		{LevelB, thickPlates, short, check.Limit{Factor: 0.05, Of: check.Thickness, Most: 0.5}, check.Secondary},
	},
}

func underfill(l Level) check.Rule { return underfillRow.rule(l) }
