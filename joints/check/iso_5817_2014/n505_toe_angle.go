package iso58172014

import (
	"fay/joints"
	"fay/joints/check"
)

// No. 505, incorrect weld toe: α not under a limit, for butt welds and for
// fillets. Level C in a sheet, scribd 253871562, level B in another, pdfcoffee
// …limits-for-imperfections-iso-5817 (secondary); level D from memory.
var (
	buttToes = imperfection{
		number: "505", title: "Incorrect weld toe", quantity: &check.ToeAngle, op: check.AtLeast,
		cells: []cell{
			{LevelD, allPlates, plain, check.Limit{Base: 90}, check.Memory},
			{LevelC, allPlates, plain, check.Limit{Base: 110}, check.Secondary},
			{LevelB, allPlates, plain, check.Limit{Base: 150}, check.Secondary},
		},
		only: func(f *check.Facts, _ *joints.Weld) bool { return f.Butts() },
	}
	filletToes = imperfection{
		number: "505", title: "Incorrect weld toe", quantity: &check.ToeAngle, op: check.AtLeast,
		cells: []cell{
			{LevelD, allPlates, plain, check.Limit{Base: 90}, check.Memory},
			{LevelC, allPlates, plain, check.Limit{Base: 100}, check.Secondary},
			{LevelB, allPlates, plain, check.Limit{Base: 110}, check.Secondary},
		},
		only: func(f *check.Facts, _ *joints.Weld) bool { return !f.Butts() },
	}
)

// toeAngle joins the rows of butt welds and of fillets, which have one number.
func toeAngle(l Level) check.Rule {
	butt, fillet := buttToes.rule(l), filletToes.rule(l)
	r := fillet
	r.Read = "sheets for level C, scribd 253871562, and level B, pdfcoffee …limits-for-imperfections-iso-5817; level D " + readMind
	r.Doc = "The smaller of the angles between the plate beyond a toe and the face of the weld, measured through the air."
	r.Values = check.Table{Columns: []string{"weld", "limit, degrees", "values"}, Rows: [][]string{
		{"butt", butt.Values.Rows[0][1], butt.Values.Rows[0][2]}, {"fillet", fillet.Values.Rows[0][1], fillet.Values.Rows[0][2]}}}
	r.Check = func(f *check.Facts, to []check.Finding) []check.Finding {
		row := fillet
		if f.Butts() {
			row = butt
		}
		first := len(to)
		to = row.Check(f, to)
		if to[first].Weld == "" {
			to[first] = check.Inapplicable("no weld here has a toe on a plate that the limits cover")
		}
		return to
	}
	return r
}
