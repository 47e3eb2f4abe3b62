package awsd11

import (
	"slices"
	"strconv"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Clause 2.4.2.6 of the 2010 edition, read in a page scan, scribd 338173238
// (primary): 80° to 100° plain throat; 60° to 80° and over 100° the leg by
// geometry; 30° to 60° the Z loss besides. The upper end of 135° is of the
// effective fillet range, 60° to 135°, in a figure by D. K. Miller, studylib
// 18413335 (primary, first page).
const (
	leastAngle = 30 * geometry.Degree
	mostAngle  = 135 * geometry.Degree
	lossUnder  = 60 * geometry.Degree
	steepUnder = 45 * geometry.Degree
)

var skewAngle = check.Rule{
	ID:         "aws-d1.1-reported/skew",
	Title:      "Dihedral angle of a fillet",
	Source:     source2010("2.4.2.6; effective range by D. K. Miller, Designing Fillet Welds for Skewed T-joints, Part 1"),
	Provenance: check.Primary,
	Read:       page2010 + "; studylib.net/doc/18413335, first page",
	Doc: "The angle between the members on the weld's side, from 30° to 135°. From 80° to 100° the throat is that of the plain fillet, " +
		"from 60° and up to 135° it follows from geometry, under 60° the Z loss is taken off besides.",
	Values: check.Table{Columns: []string{"angle", "throat"}, Rows: [][]string{
		{"80° to 100°", "plain diagrammatic throat"}, {"60° to 80°, 100° to 135°", "by geometry"}, {"30° to 60°", "by geometry, less the Z loss"}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding {
			finding := check.Within(w.Dihedral.Degrees(), leastAngle.Degrees(), mostAngle.Degrees(), joints.UnitDegree)
			if !f.Brief {
				finding.Step("30° ≤ ψ ≤ 135°", "ψ = "+degrees(w.Dihedral), string(finding.Verdict))
			}
			switch {
			case finding.Verdict == check.NotMet:
				finding.Mend = "weld from the other side only, or prepare the joint and weld a groove"
			case w.Dihedral < lossUnder*(1-1e-9):
				finding.AddNote("under 60° the Z loss is taken off the throat")
			}
			return finding
		})
	},
}

func degrees(a geometry.Angle) string { return strconv.FormatFloat(a.Degrees(), 'g', 5, 64) + "°" }

// lossRow is a line of the Z loss table: by process group, for vertical and
// overhead, and for horizontal and flat.
type lossRow struct {
	group            string
	processes        []string
	upright, level   check.Printed
	uprightForbidden bool
}

// Z loss, table 2.2 of the 2010 and 2015 editions, from memory, unverified.
// That a loss is added between 30° and 60° is primary, see above.
var (
	lossOver45 = []lossRow{
		{group: "SMAW", processes: []string{"smaw"}, upright: check.Pair(3, 1.0/8), level: check.Pair(3, 1.0/8)},
		{group: "FCAW-S", processes: []string{"fcaw-s"}, upright: check.Pair(3, 1.0/8)},
		{group: "FCAW-G", processes: []string{"fcaw-g"}, upright: check.Pair(3, 1.0/8)},
		{group: "GMAW", processes: []string{"gmaw", "mcaw"}, uprightForbidden: true},
	}
	lossUnder45 = []lossRow{
		{group: "SMAW", processes: []string{"smaw"}, upright: check.Pair(6, 1.0/4), level: check.Pair(6, 1.0/4)},
		{group: "FCAW-S", processes: []string{"fcaw-s"}, upright: check.Pair(6, 1.0/4), level: check.Pair(3, 1.0/8)},
		{group: "FCAW-G", processes: []string{"fcaw-g"}, upright: check.Pair(10, 3.0/8), level: check.Pair(6, 1.0/4)},
		{group: "GMAW", processes: []string{"gmaw", "mcaw"}, level: check.Pair(6, 1.0/4), uprightForbidden: true},
	}
)

var zLoss = check.Rule{
	ID:         "aws-d1.1-reported/z-loss",
	Title:      "Throat left after the Z loss of an acute fillet",
	Source:     check.Source{Document: code, Edition: "2010, 2015", Clause: "Table 2.2"},
	Provenance: check.Memory,
	Read:       fromMind + "; the principle in the " + page2010,
	Doc: "Between 30° and 60° the root of a fillet is not reached: Z, by angle, process and position, is taken off the effective throat, " +
		"and what is left counts. The throat must be more than Z. Without process and position the largest Z is compared.",
	Values: lossValues(),
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return checkLoss(f, w) })
	},
}

func lossValues() check.Table {
	t := check.Table{Columns: []string{"angle", "process", "vertical, overhead", "horizontal, flat"}}
	for _, part := range []struct {
		angle string
		rows  []lossRow
	}{{"45° ≤ ψ < 60°", lossOver45}, {"30° ≤ ψ < 45°", lossUnder45}} {
		for _, r := range part.rows {
			upright := r.upright.String()
			if r.uprightForbidden {
				upright = "not used"
			}
			level := "0"
			if r.level.MM > 0 {
				level = r.level.String()
			}
			t.Rows = append(t.Rows, []string{part.angle, r.group, upright, level})
		}
	}
	return t
}

func checkLoss(f *check.Facts, w *joints.Weld) check.Finding {
	switch {
	case w.Dihedral >= lossUnder*(1-1e-9):
		return check.Inapplicable("no Z loss from 60° on")
	case w.Dihedral < leastAngle*(1-1e-9):
		return check.Inapplicable("fillets under 30° are outside the table")
	}
	rows := lossOver45
	if w.Dihedral < steepUnder*(1-1e-9) {
		rows = lossUnder45
	}
	var z geometry.Length
	known, forbidden := false, false
	for _, r := range rows {
		if f.Process != "" && !slices.Contains(r.processes, f.Process) {
			continue
		}
		known = true
		if f.Position != check.Flat && f.Position != check.Horizontal {
			z = max(z, r.upright.Of(f))
			forbidden = forbidden || r.uprightForbidden && f.Process != "" && f.Position != ""
		}
		if f.Position != check.Vertical && f.Position != check.Overhead {
			z = max(z, r.level.Of(f))
		}
	}
	switch {
	case !known:
		return check.Unknown("the table has no line for " + f.Process)
	case forbidden:
		return check.Unknown("the table has no Z loss for " + f.Process + " in this position")
	}
	finding := check.Compare(float64(w.EffectiveThroat), check.AtLeast, float64(z), joints.UnitMM)
	if !f.Brief {
		finding.Step("Z(ψ, process, position)", "ψ = "+degrees(w.Dihedral)+", "+or(f.Process, "any process")+", "+or(string(f.Position), "any position"), "Z = "+f.Show(z))
		finding.Step("a_counts = a − Z", f.Show(w.EffectiveThroat)+" − "+f.Show(z), "a_counts = "+f.Show(max(0, w.EffectiveThroat-z)))
		finding.Step("a ≥ Z", f.Show(w.EffectiveThroat)+" ≥ "+f.Show(z), string(finding.Verdict))
	}
	finding.AddNote("a throat of " + f.ShowAtMost(max(0, w.EffectiveThroat-z)) + " counts")
	return finding
}

func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
