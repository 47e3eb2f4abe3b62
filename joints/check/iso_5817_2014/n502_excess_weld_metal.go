package iso58172014

import "fay/joints/check"

// No. 502, excess weld metal of a butt weld: h ≤ base + factor·b up to a maximum,
// b the width of the cap. Read in EN ISO 5817:2007, coursehero.com/file/p5h6l50,
// all levels.
var excessWeldMetalRow = imperfection{
	number: "502", title: "Excess weld metal of a butt weld", quantity: &check.CapHeight,
	read: read2007,
	doc:  "The height of the cap over its toes, planned or measured, against a limit that grows with its width.",
	only: onlyButts,
	cells: []cell{
		{LevelD, allPlates, plain, check.Limit{Base: 1, Factor: 0.25, Of: check.Width, Most: 10}, check.Secondary},
		{LevelC, allPlates, plain, check.Limit{Base: 1, Factor: 0.15, Of: check.Width, Most: 7}, check.Secondary},
		{LevelB, allPlates, plain, check.Limit{Base: 1, Factor: 0.1, Of: check.Width, Most: 5}, check.Secondary},
	},
}

func excessWeldMetal(l Level) check.Rule { return excessWeldMetalRow.rule(l) }
