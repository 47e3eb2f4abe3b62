// Package gaspipe holds the internal taper of butting pipes of unequal wall from
// appendix 14-C of a state pipeline code.
package gaspipe

import (
	"math"
	"strconv"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/clause"
)

// Document is appendix 14-C.
var Document = check.Document{
	ID:    "gas-pipe/14-C",
	Title: "state pipeline code, appendix 14-C",
	Scope: []string{"steel"},
	Rules: []check.Rule{taper},
}

// Appendix 14-C, read at vlpmanuals.com (primary): internal taper of 14° to
// 30°; no treatment up to an offset of 3/32 in.
const leastTaper, mostTaper = 14, 30

var untreated = check.Pair(3.0/32*25.4, 3.0/32)

var taper = check.Rule{
	ID:         "gas-pipe/14-C/internal-taper",
	Title:      "Internal taper of butting pipes",
	Source:     check.Source{Document: "state pipeline code", Edition: "not shown", Clause: "appendix 14-C"},
	Provenance: check.Primary,
	Read:       "vlpmanuals.com",
	Doc:        "The angle of the taper that takes up the step on the root side, from 14° to 30°; a step up to 3/32 in needs none.",
	Values: check.Table{Columns: []string{"internal offset", "taper"}, Rows: [][]string{
		{"up to 3/32 in (2.381 mm)", "none needed"}, {"over", "14° to 30°"}}},
	Check: checkTaper,
}

func checkTaper(f *check.Facts, to []check.Finding) []check.Finding {
	first := len(to)
	for _, t := range clause.Tapers(f) {
		if t.Root {
			to = append(to, taperFinding(f, t))
		}
	}
	if len(to) == first {
		return append(to, check.Inapplicable("no step on the root side"))
	}
	return to
}

func taperFinding(f *check.Facts, t clause.Taper) check.Finding {
	if t.Step <= untreated.Of(f)*(1+1e-9) {
		return check.Inapplicable("an internal offset of " + f.Show(t.Step) + " needs no treatment")
	}
	angle := geometry.Angle(math.Atan2(float64(t.Step), float64(t.Run))).Degrees()
	text := strconv.FormatFloat(angle, 'f', 1, 64) + "°"
	finding := check.Within(angle, leastTaper, mostTaper, joints.UnitDegree)
	if !f.Brief {
		finding.Step("α = atan(h/l)", "h = "+f.Show(t.Step)+", l = "+f.Show(t.Run), "α = "+text)
		finding.Step("14° ≤ α ≤ 30°", text, string(finding.Verdict))
	}
	if finding.Verdict == check.NotMet {
		// 1.8 to 4 times the step is 29.1° to 14.04°.
		finding.Mend = "a transition of 1.8 to 4 on the root side"
	}
	return finding
}
