package iso58172014

import "fay/joints/check"

// No. 617, incorrect root gap of fillets. Over 3 mm: EN ISO 5817:2007 in
// coursehero.com/file/p4qupvb and EN 25817:1992, scribd 445864602; thin plate from
// memory.
var rootGapRow = imperfection{
	number: "617", title: "Incorrect root gap of a fillet", quantity: &check.Gap,
	read: "EN ISO 5817:2007 extract at coursehero.com/file/p4qupvb; EN 25817:1992, scribd 445864602; thin plate " + readMind,
	doc:  "The gap under the fillet, planned or measured, against a limit that grows with the theoretical throat.",
	cells: []cell{
		{LevelD, thinPlates, plain, check.Limit{Base: 0.5, Factor: 0.1, Of: check.Throat}, check.Memory},
		{LevelD, thickPlates, plain, check.Limit{Base: 1, Factor: 0.3, Of: check.Throat, Most: 4}, check.Secondary},
		{LevelC, thinPlates, plain, check.Limit{Base: 0.3, Factor: 0.1, Of: check.Throat}, check.Memory},
		{LevelC, thickPlates, plain, check.Limit{Base: 0.5, Factor: 0.2, Of: check.Throat, Most: 3}, check.Secondary},
		{LevelB, thinPlates, plain, check.Limit{Base: 0.2, Factor: 0.1, Of: check.Throat}, check.Memory},
		{LevelB, thickPlates, plain, check.Limit{Base: 0.5, Factor: 0.1, Of: check.Throat, Most: 2}, check.Secondary},
	},
}

func rootGap(l Level) check.Rule { return rootGapRow.rule(l) }
