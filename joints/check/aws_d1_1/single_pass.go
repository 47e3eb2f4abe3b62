package awsd11

import (
	"slices"

	"fay/joints"
	"fay/joints/check"
)

// passRow is a line of the prequalified single-pass sizes by process; zero is
// no limit, absent positions are not on file.
type passRow struct {
	processes []string
	most      map[check.Position]check.Printed
	unlimited check.Position
}

// Largest single-pass fillet of a prequalified procedure, from memory,
// unverified.
var passRows = []passRow{
	{processes: []string{"smaw"}, most: map[check.Position]check.Printed{
		check.Flat: check.Pair(10, 3.0/8), check.Horizontal: check.Pair(8, 5.0/16), check.Vertical: check.Pair(12, 1.0/2), check.Overhead: check.Pair(8, 5.0/16)}},
	{processes: []string{"gmaw", "mcaw", "fcaw-g", "fcaw-s"}, most: map[check.Position]check.Printed{
		check.Flat: check.Pair(12, 1.0/2), check.Horizontal: check.Pair(10, 3.0/8), check.Vertical: check.Pair(12, 1.0/2), check.Overhead: check.Pair(8, 5.0/16)}},
	{processes: []string{"saw"}, most: map[check.Position]check.Printed{check.Horizontal: check.Pair(8, 5.0/16)}, unlimited: check.Flat},
}

var singlePass = check.Rule{
	ID:         "aws-d1.1-reported/single-pass",
	Title:      "Largest fillet in a single pass, prequalified",
	Source:     source("prequalified procedures, largest single-pass fillet"),
	Provenance: check.Memory,
	Read:       fromMind + "; 5/16 in as the practical limit also at structuralpedia, Welding rules of thumb",
	Doc:        "The longer leg of a fillet said to be laid in one pass, against a limit by process and position.",
	Values: check.Table{Columns: []string{"process", "flat", "horizontal", "vertical", "overhead"}, Rows: [][]string{
		passValues("SMAW", 0), passValues("GMAW, FCAW", 1), passValues("SAW", 2)}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return checkPass(f, w) })
	},
}

func passValues(name string, row int) []string {
	out := []string{name}
	for _, p := range []check.Position{check.Flat, check.Horizontal, check.Vertical, check.Overhead} {
		switch v, ok := passRows[row].most[p]; {
		case ok:
			out = append(out, v.String())
		case passRows[row].unlimited == p:
			out = append(out, "no limit")
		default:
			out = append(out, "not used")
		}
	}
	return out
}

func checkPass(f *check.Facts, w *joints.Weld) check.Finding {
	switch {
	case f.Passes != 1:
		return check.Inapplicable("the weld is not said to be laid in one pass")
	case f.Process == "" || f.Position == "":
		return check.Unknown("process or position is not stated")
	}
	for i := range passRows {
		r := &passRows[i]
		if !slices.Contains(r.processes, f.Process) {
			continue
		}
		most, ok := r.most[f.Position]
		switch {
		case ok:
		case r.unlimited == f.Position:
			return check.Inapplicable("no limit in this position")
		default:
			return check.Unknown("the table has no size for " + f.Process + " in this position")
		}
		leg := max(w.Feet[0].Leg, w.Feet[1].Leg)
		finding := check.Compare(float64(leg), check.AtMost, float64(most.Of(f)), joints.UnitMM)
		if !f.Brief {
			finding.Step("z_max(process, position)", f.Process+", "+string(f.Position), "z_max = "+most.Show(f))
			finding.Step("z = max(z_"+f.Name(w, 0)+", z_"+f.Name(w, 1)+") ≤ z_max", f.Show(leg)+" ≤ "+most.Show(f), string(finding.Verdict))
		}
		if finding.Verdict == check.NotMet {
			finding.Mend = "two passes or more"
		}
		return finding
	}
	return check.Unknown("the table has no line for " + f.Process)
}
