package iso58172014

import "fay/joints/check"

// No. 5213, insufficient throat of a fillet. Over 3 mm: EN 25817:1992, scribd
// 445864602, and sheets for level B, scribd 99588384 and pdfcoffee
// …limits-for-imperfections-iso-5817; thin plate, levels D and C, from memory.
var insufficientThroatRow = imperfection{
	number: "5213", title: "Insufficient throat", quantity: &check.ThroatShortfall,
	read: "EN 25817:1992, scribd 445864602; " + readSheet + "; thin plate, levels D and C, " + readMind,
	doc:  "How far the measured throat falls short of the planned effective throat, against a limit that grows with the theoretical throat. Not meant for processes with proven deeper penetration.",
	cells: []cell{
		{LevelD, thinPlates, short, check.Limit{Base: 0.2, Factor: 0.1, Of: check.Throat}, check.Memory},
		{LevelD, thickPlates, short, check.Limit{Base: 0.3, Factor: 0.1, Of: check.Throat, Most: 2}, check.Secondary},
		{LevelC, thinPlates, short, check.Limit{Base: 0.2}, check.Memory},
		{LevelC, thickPlates, short, check.Limit{Base: 0.3, Factor: 0.1, Of: check.Throat, Most: 1}, check.Secondary},
		{LevelB, thinPlates, notPermitted, check.Limit{}, check.Secondary},
		{LevelB, thickPlates, notPermitted, check.Limit{}, check.Secondary},
	},
}

func insufficientThroat(l Level) check.Rule { return insufficientThroatRow.rule(l) }
