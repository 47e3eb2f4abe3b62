package iso58172014

import "fay/joints/check"

// No. 5013, shrinkage groove beside the root. Read in EN ISO 5817:2007,
// coursehero.com/file/p5h6l50, all levels.
var rootUndercutRow = imperfection{
	number: "5013", title: "Shrinkage groove", quantity: &check.RootUndercut,
	read: read2007,
	doc:  "The depth of the groove beside the root of a butt weld, from a cut-and-etch record, against a limit by the thickness of the plate.",
	cells: []cell{
		{LevelD, thinPlates, plain, check.Limit{Base: 0.2, Factor: 0.1, Of: check.Thickness}, check.Secondary},
		{LevelD, thickPlates, short, check.Limit{Factor: 0.2, Of: check.Thickness, Most: 2}, check.Secondary},
		{LevelC, thinPlates, short, check.Limit{Factor: 0.1, Of: check.Thickness}, check.Secondary},
		{LevelC, thickPlates, short, check.Limit{Factor: 0.1, Of: check.Thickness, Most: 1}, check.Secondary},
		{LevelB, thinPlates, notPermitted, check.Limit{}, check.Secondary},
		{LevelB, thickPlates, short, check.Limit{Factor: 0.05, Of: check.Thickness, Most: 0.5}, check.Secondary},
	},
}

func rootUndercut(l Level) check.Rule { return rootUndercutRow.rule(l) }
