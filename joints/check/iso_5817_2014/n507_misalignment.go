package iso58172014

import (
	"fay/joints"
	"fay/joints/check"
)

// No. 507, linear misalignment, of plates and longitudinal seams and of seams
// round a tube. From memory, not confirmed in any copy read.
var (
	plateOffset = imperfection{
		number: "507", title: "Linear misalignment", quantity: &check.HiLo,
		cells: []cell{
			{LevelD, thinPlates, plain, check.Limit{Base: 0.2, Factor: 0.25, Of: check.Thickness}, check.Memory},
			{LevelD, thickPlates, plain, check.Limit{Factor: 0.25, Of: check.Thickness, Most: 5}, check.Memory},
			{LevelC, thinPlates, plain, check.Limit{Base: 0.2, Factor: 0.15, Of: check.Thickness}, check.Memory},
			{LevelC, thickPlates, plain, check.Limit{Factor: 0.15, Of: check.Thickness, Most: 4}, check.Memory},
			{LevelB, thinPlates, plain, check.Limit{Base: 0.2, Factor: 0.1, Of: check.Thickness}, check.Memory},
			{LevelB, thickPlates, plain, check.Limit{Factor: 0.1, Of: check.Thickness, Most: 3}, check.Memory},
		},
		only: func(f *check.Facts, _ *joints.Weld) bool { return !f.Round },
	}
	roundOffset = imperfection{
		number: "507", title: "Linear misalignment", quantity: &check.HiLo,
		cells: []cell{
			{LevelD, allPlates, plain, check.Limit{Factor: 0.5, Of: check.Thickness, Most: 4}, check.Memory},
			{LevelC, allPlates, plain, check.Limit{Factor: 0.5, Of: check.Thickness, Most: 3}, check.Memory},
			{LevelB, allPlates, plain, check.Limit{Factor: 0.5, Of: check.Thickness, Most: 2}, check.Memory},
		},
		only: func(f *check.Facts, _ *joints.Weld) bool { return f.Round },
	}
)

// misalignment chooses between the rows by the seam.
func misalignment(l Level) check.Rule {
	plate, round := plateOffset.rule(l), roundOffset.rule(l)
	r := plate
	r.Read = readMind
	r.Doc = "The hi-lo, planned or measured, against a limit by the thinner plate; seams round a tube have a row of their own. " +
		"An offset that the drawing asks for, such as a flush root of unequal plates, is no misalignment."
	r.Values.Columns[0] = "plates, or round a tube"
	r.Values.Rows = append(r.Values.Rows, []string{"round a tube", round.Values.Rows[0][1], round.Values.Rows[0][2]})
	r.Check = func(f *check.Facts, to []check.Finding) []check.Finding {
		if f.Round {
			return round.Check(f, to)
		}
		return plate.Check(f, to)
	}
	return r
}
