package iso58172014

import "fay/joints/check"

// No. 506, overlap: metal run over the toe. Levels C and B not permitted, scribd
// 253871562 (C), 99588384 and pdfcoffee …limits-for-imperfections-iso-5817 (B);
// level D, h ≤ 0.2·b, from memory.
var runOverRow = imperfection{
	number: "506", title: "Overlap", quantity: &check.RunOver,
	read: readSheet + "; level D " + readMind,
	doc:  "Weld metal lying on a member beyond the toe without fusion, from a cut-and-etch record.",
	cells: []cell{
		{LevelD, allPlates, plain, check.Limit{Factor: 0.2, Of: check.Width}, check.Memory},
		{LevelC, allPlates, notPermitted, check.Limit{}, check.Secondary},
		{LevelB, allPlates, notPermitted, check.Limit{}, check.Secondary},
	},
}

func runOver(l Level) check.Rule { return runOverRow.rule(l) }
