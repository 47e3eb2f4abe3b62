package iso58172014

import "fay/joints/check"

// No. 4021, insufficient root penetration of a butt weld from one side: level D
// short, h ≤ 0.2·t up to 2 mm; C and B not permitted. Read in the items 1.1 to
// 1.6 of the 2014 edition, pdfcoffee …bs-en-iso-5817-2014 (primary), the same in
// EN ISO 5817:2007.
var rootPenetrationRow = imperfection{
	number: "4021", title: "Insufficient root penetration", quantity: &check.LackOfPenetration,
	read: read2014,
	doc:  "The root left unwelded in a butt weld made from one side, from a cut-and-etch record. A partial weld asked for on the drawing is no imperfection.",
	cells: []cell{
		{LevelD, allPlates, short, check.Limit{Factor: 0.2, Of: check.Thickness, Most: 2}, check.Primary},
		{LevelC, allPlates, notPermitted, check.Limit{}, check.Primary},
		{LevelB, allPlates, notPermitted, check.Limit{}, check.Primary},
	},
}

func rootPenetration(l Level) check.Rule { return rootPenetrationRow.rule(l) }
