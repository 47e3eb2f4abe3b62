package awsd11

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Fillet convexity by the width of the face, from memory, unverified: to
// 5/16 in (8 mm) 1/16 (2); under 1 in (25) 1/8 (3); from 1 in on 3/16 (5).
var convexitySteps = []struct{ upTo, most check.Printed }{
	{check.Pair(8, 5.0/16), check.Pair(2, 1.0/16)},
	{check.Pair(25, 1), check.Pair(3, 1.0/8)},
	{check.Printed{}, check.Pair(5, 3.0/16)},
}

var convexity = check.Rule{
	ID:         "aws-d1.1-reported/convexity",
	Title:      "Largest convexity of a fillet",
	Source:     source("weld profiles, convexity of fillets"),
	Provenance: check.Memory,
	Read:       fromMind,
	Doc:        "The height of the face over its chord, planned or measured, against a limit by the width of the face.",
	Values: check.Table{Columns: []string{"width of the face", "largest convexity"}, Rows: [][]string{
		{"to " + convexitySteps[0].upTo.String(), convexitySteps[0].most.String()},
		{"under " + convexitySteps[1].upTo.String(), convexitySteps[1].most.String()},
		{"from " + convexitySteps[1].upTo.String(), convexitySteps[2].most.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Fillets(to, func(w *joints.Weld) check.Finding { return checkConvexity(f, w) })
	},
}

func checkConvexity(f *check.Facts, w *joints.Weld) check.Finding {
	r := check.Convexity.Read(f, w)
	step := len(convexitySteps) - 1
	switch b := w.FaceWidth; {
	case b <= convexitySteps[0].upTo.Of(f)*(1+1e-9):
		step = 0
	case b < convexitySteps[1].upTo.Of(f)*(1-1e-9):
		step = 1
	}
	most := convexitySteps[step].most
	h := geometry.Length(r.Value)
	finding := check.Compare(r.Value, check.AtMost, float64(most.Of(f)), joints.UnitMM)
	if !f.Brief {
		finding.Step("h_max(b)", "b = "+f.Show(w.FaceWidth), "h_max = "+most.Show(f))
		finding.Step("h ≤ h_max", f.Show(h)+" ≤ "+most.Show(f), string(finding.Verdict))
	}
	if finding.Verdict == check.NotMet {
		finding.Mend = "a convex rise of at most " + f.ShowAtMost(most.Of(f))
	}
	return finding
}

// Groove reinforcement: 1/8 in (3 mm) at most, face and root, from memory,
// unverified.
var reinforcementMost = check.Pair(3, 1.0/8)

var reinforcement = check.Rule{
	ID:         "aws-d1.1-reported/reinforcement",
	Title:      "Largest reinforcement of a groove",
	Source:     source("weld profiles, reinforcement of grooves"),
	Provenance: check.Memory,
	Read:       fromMind,
	Doc:        "The height of the face over its toes, planned or measured, against one limit.",
	Values:     check.Table{Columns: []string{"largest reinforcement"}, Rows: [][]string{{reinforcementMost.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Each(to, func(w *joints.Weld) check.Finding {
			r := check.CapHeight.Read(f, w)
			if r.Verdict != "" {
				return check.Finding{Verdict: r.Verdict, Note: r.Note}
			}
			finding := check.Compare(r.Value, check.AtMost, float64(reinforcementMost.Of(f)), joints.UnitMM)
			if !f.Brief {
				finding.Step("h ≤ h_max", f.Show(geometry.Length(r.Value))+" ≤ "+reinforcementMost.Show(f), string(finding.Verdict))
			}
			if finding.Verdict == check.NotMet {
				finding.Mend = "a cap of at most " + f.ShowAtMost(reinforcementMost.Of(f))
			}
			return finding
		}, joints.GrooveWeld)
	},
}

// Offset of butting parts: a tenth of the thinner part, 1/8 in (3 mm) at most,
// from memory, unverified.
const offsetShare = 0.1

var offsetMost = check.Pair(3, 1.0/8)

var offset = check.Rule{
	ID:         "aws-d1.1-reported/offset",
	Title:      "Largest offset of butting parts",
	Source:     source("assembly, alignment of butt joints"),
	Provenance: check.Memory,
	Read:       fromMind,
	Doc:        "The hi-lo, planned or measured, against a tenth of the thinner part and the printed limit.",
	Values:     check.Table{Columns: []string{"largest offset"}, Rows: [][]string{{"0.1 × thinner part, at most " + offsetMost.String()}}},
	Check: func(f *check.Facts, to []check.Finding) []check.Finding {
		return f.Each(to, func(w *joints.Weld) check.Finding {
			r := check.HiLo.Read(f, w)
			if r.Verdict != "" {
				return check.Finding{Verdict: r.Verdict, Note: r.Note}
			}
			thin := f.Thinner(w)
			most := min(offsetShare*thin, offsetMost.Of(f))
			finding := check.Compare(r.Value, check.AtMost, float64(most), joints.UnitMM)
			if !f.Brief {
				finding.Step("h_max = min(0.1·t, "+offsetMost.Show(f)+")", "t = "+f.Show(thin), "h_max = "+f.Show(most))
				finding.Step("h ≤ h_max", f.Show(geometry.Length(r.Value))+" ≤ "+f.Show(most), string(finding.Verdict))
			}
			if finding.Verdict == check.NotMet {
				finding.Mend = "a hi-lo of at most " + f.ShowAtMost(most)
			}
			return finding
		}, joints.GrooveWeld)
	},
}
