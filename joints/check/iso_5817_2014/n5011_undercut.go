package iso58172014

import "fay/joints/check"

// No. 5011 and 5012, continuous and intermittent undercut. Read in EN ISO
// 5817:2007, coursehero.com/file/p5h6l50, all levels; over 3 mm level C also
// scribd 253871562, level B also scribd 99588384 and pdfcoffee
// …limits-for-imperfections-iso-5817. EN 25817:1992 had flat limits of 1.5, 1.0
// and 0.5 mm (scribd 445864602).
var undercutRow = imperfection{
	number: "5011", title: "Undercut, continuous or intermittent (5012)", quantity: &check.Undercut,
	read: read2007,
	doc:  "The depth of an undercut, from a cut-and-etch record, against a limit by the thickness of the plate.",
	cells: []cell{
		{LevelD, thinPlates, short, check.Limit{Factor: 0.2, Of: check.Thickness}, check.Secondary},
		{LevelD, thickPlates, plain, check.Limit{Factor: 0.2, Of: check.Thickness, Most: 1}, check.Secondary},
		{LevelC, thinPlates, short, check.Limit{Factor: 0.1, Of: check.Thickness}, check.Secondary},
		{LevelC, thickPlates, plain, check.Limit{Factor: 0.1, Of: check.Thickness, Most: 0.5}, check.Secondary},
		{LevelB, thinPlates, notPermitted, check.Limit{}, check.Secondary},
		{LevelB, thickPlates, plain, check.Limit{Factor: 0.05, Of: check.Thickness, Most: 0.5}, check.Secondary},
	},
}

func undercut(l Level) check.Rule { return undercutRow.rule(l) }
