package iso58172014

import "fay/joints/check"

// No. 401, lack of fusion at the surface: not permitted at any level. Read in the
// items 1.1 to 1.6 of the 2014 edition, pdfcoffee …bs-en-iso-5817-2014
// (primary), and in a sheet for level C, scribd 253871562.
var surfaceFusionRow = imperfection{
	number: "401", title: "Lack of fusion", quantity: &check.LackOfFusion,
	read: read2014,
	doc:  "Any depth without fusion at a face, from a cut-and-etch record.",
	cells: []cell{
		{LevelD, allPlates, notPermitted, check.Limit{}, check.Primary},
		{LevelC, allPlates, notPermitted, check.Limit{}, check.Primary},
		{LevelB, allPlates, notPermitted, check.Limit{}, check.Primary},
	},
}

func surfaceFusion(l Level) check.Rule { return surfaceFusionRow.rule(l) }
