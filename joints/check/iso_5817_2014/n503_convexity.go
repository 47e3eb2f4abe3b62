package iso58172014

import (
	"fmt"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// No. 503, excessive convexity of a fillet: h ≤ base + factor·b up to a
// maximum, b the width of the weld. Read in EN ISO 5817:2007 (= ISO 5817:2003),
// coursehero.com/file/p5h6l50, all levels; level B also scribd 99588384, level D
// also EN 25817:1992, scribd 445864602. One circulating sheet for level B
// (pdfcoffee …limits-for-imperfections-iso-5817) prints a maximum of 5; three
// others print 3.
var convexityLimits = []limit{
	{LevelB, 1, 0.1, 3},
	{LevelC, 1, 0.15, 4},
	{LevelD, 1, 0.25, 5},
}

func excessConvexity(l Level) check.Rule {
	row := at(convexityLimits, l)
	formula := fmt.Sprintf("h_max = min(%v mm + %v·b, %v mm)", row.base, row.factor, row.most)
	return check.Rule{
		ID:         ruleID(l, "503"),
		Title:      "Excessive convexity of a fillet, level " + string(l),
		Source:     source(l, "503"),
		Provenance: check.Secondary,
		Read:       "EN ISO 5817:2007 extract at coursehero.com/file/p5h6l50; the 2014 edition's row was not seen",
		Doc: "The height of the face over its chord against a limit that grows with the width of the weld, toe to toe. " +
			"A flat or concave face has no convexity.",
		Values: check.Table{
			Columns: []string{"level", "largest convexity h, mm", "at most, mm"},
			Rows:    [][]string{{string(l), fmt.Sprintf("%v + %v·b", row.base, row.factor), fmt.Sprint(row.most)}},
		},
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return fillets(f, to, func(w *joints.Weld) check.Finding { return checkConvexity(f, w, row, formula) })
		},
	}
}

func checkConvexity(f *check.Facts, w *joints.Weld, row limit, formula string) check.Finding {
	r := check.Convexity.Read(f, w)
	h := geometry.Length(r.Value)
	most := geometry.Length(row.of(float64(w.FaceWidth)))
	finding := check.Compare(float64(h), check.AtMost, float64(most), joints.UnitMM)
	if !f.Brief {
		finding.Step(formula, "b = "+f.Show(w.FaceWidth), "h_max = "+f.Show(most))
		finding.Step("h ≤ h_max", f.Show(h)+" ≤ "+f.Show(most), string(finding.Verdict))
	}
	if r.Measured {
		finding.AddNote("measured")
	}
	if finding.Verdict == check.NotMet {
		finding.Mend = "a convex rise of at most " + f.ShowAtMost(most)
	}
	return finding
}
