package iso58172014

import "fay/joints/check"

// No. 504, excess penetration of a butt weld from one side, b the width of the
// root. Read in EN ISO 5817:2007, coursehero.com/file/p5h6l50, all levels.
var excessPenetrationRow = imperfection{
	number: "504", title: "Excess penetration", quantity: &check.RootHeight,
	read: read2007,
	doc:  "The height of the root reinforcement, planned or measured, against a limit that grows with the width of the root.",
	only: onlyButts,
	cells: []cell{
		{LevelD, thinPlates, plain, check.Limit{Base: 1, Factor: 0.6, Of: check.RootWidth}, check.Secondary},
		{LevelD, thickPlates, plain, check.Limit{Base: 1, Factor: 1, Of: check.RootWidth, Most: 5}, check.Secondary},
		{LevelC, thinPlates, plain, check.Limit{Base: 1, Factor: 0.3, Of: check.RootWidth}, check.Secondary},
		{LevelC, thickPlates, plain, check.Limit{Base: 1, Factor: 0.6, Of: check.RootWidth, Most: 4}, check.Secondary},
		{LevelB, thinPlates, plain, check.Limit{Base: 1, Factor: 0.1, Of: check.RootWidth}, check.Secondary},
		{LevelB, thickPlates, plain, check.Limit{Base: 1, Factor: 0.2, Of: check.RootWidth, Most: 3}, check.Secondary},
	},
}

func excessPenetration(l Level) check.Rule { return excessPenetrationRow.rule(l) }
