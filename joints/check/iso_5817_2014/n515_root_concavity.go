package iso58172014

import "fay/joints/check"

// No. 515, root concavity, over 3 mm. Levels C and B in sheets, scribd 253871562
// (C) and 99588384 (B); level D from memory. The row for thin plate is not on
// file.
var rootConcavityRow = imperfection{
	number: "515", title: "Root concavity", quantity: &check.RootConcavity,
	read: readSheet + "; level D " + readMind,
	doc:  "The depth of a hollow root, from a cut-and-etch record, against a limit by the thickness.",
	cells: []cell{
		{LevelD, thickPlates, short, check.Limit{Factor: 0.2, Of: check.Thickness, Most: 2}, check.Memory},
		{LevelC, thickPlates, short, check.Limit{Factor: 0.1, Of: check.Thickness, Most: 1}, check.Secondary},
		{LevelB, thickPlates, short, check.Limit{Factor: 0.05, Of: check.Thickness, Most: 0.5}, check.Secondary},
	},
}

func rootConcavity(l Level) check.Rule { return rootConcavityRow.rule(l) }
