package iso58172014

import "fay/joints/check"

// No. 5214, excessive throat of a fillet. Levels C and B: EN 25817:1992, scribd
// 445864602, level B also in sheets; level D permits any, from memory. EN
// 25817:1992 limited level D to 1 + 0.3·a, at most 5.
var excessiveThroatRow = imperfection{
	number: "5214", title: "Excessive throat", quantity: &check.ThroatExcess,
	read: "EN 25817:1992, scribd 445864602; " + readSheet + "; level D " + readMind,
	doc:  "How far the measured throat exceeds the planned effective throat, against a limit that grows with the theoretical throat.",
	cells: []cell{
		{LevelD, allPlates, permitted, check.Limit{}, check.Memory},
		{LevelC, allPlates, plain, check.Limit{Base: 1, Factor: 0.2, Of: check.Throat, Most: 4}, check.Secondary},
		{LevelB, allPlates, plain, check.Limit{Base: 1, Factor: 0.15, Of: check.Throat, Most: 3}, check.Secondary},
	},
}

func excessiveThroat(l Level) check.Rule { return excessiveThroatRow.rule(l) }
