package clause

import (
	"strconv"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// LegsPerLength is the least length of a weld in legs, and the part of its
// length that a shorter weld counts with as its leg.
const LegsPerLength = 4

// MinimumLength compares the length of one run with four times the longer leg.
func MinimumLength(f *check.Facts, w *joints.Weld) check.Finding {
	run := f.RunLength()
	if !run.Present {
		return check.Unknown("the length of the weld is not given")
	}
	leg := max(w.Feet[0].Leg, w.Feet[1].Leg)
	least := LegsPerLength * leg
	finding := check.Compare(float64(run.Value), check.AtLeast, float64(least), joints.UnitMM)
	if !f.Brief {
		finding.Step("L_min = 4·z", "4 · "+f.Show(leg), "L_min = "+f.Show(least))
		finding.Step("L ≥ L_min", f.Show(run.Value)+" ≥ "+f.Show(least), string(finding.Verdict))
	}
	if finding.Verdict == check.NotMet {
		finding.Mend = "a length of at least " + f.ShowAtLeast(least)
		finding.AddNote("as it is, the weld counts with a leg of " + f.ShowAtMost(run.Value/LegsPerLength))
	}
	return finding
}

// MinimumSegment compares the segments of an intermittent weld with a least
// length.
func MinimumSegment(f *check.Facts, to []check.Finding, least check.Printed) []check.Finding {
	return f.Fillets(to, func(*joints.Weld) check.Finding {
		if !f.EffectiveLength.Present {
			return check.Inapplicable("the weld is not said to be intermittent")
		}
		l := f.EffectiveLength.Value
		finding := check.Compare(float64(l), check.AtLeast, float64(least.Of(f)), joints.UnitMM)
		if !f.Brief {
			finding.Step("L_segment ≥ L_min", f.Show(l)+" ≥ "+least.Show(f), string(finding.Verdict))
		}
		if finding.Verdict == check.NotMet {
			finding.Mend = "a length of at least " + f.ShowAtLeast(least.Of(f))
		}
		return finding
	})
}

// The reduction of long welds loaded at their ends: up to 100 legs the whole
// length counts, up to 300 legs β = 1.2 − 0.002·L/w of it, beyond that 180 legs.
const (
	legsInFull   = 100
	legsReduced  = 300
	legsAtMost   = 180
	betaConstant = 1.2
	betaFactor   = 0.002
)

// Beta is the share of a weld's length that counts when it is loaded at its
// ends, for a length over leg of ratio.
func Beta(ratio float64) float64 {
	switch {
	case ratio <= legsInFull:
		return 1
	case ratio <= legsReduced:
		return betaConstant - betaFactor*ratio
	}
	return legsAtMost / ratio
}

// EndLoaded says how much of a weld's length counts when it is loaded at its
// ends. A long weld is no fault: what counts of it is for the calculation.
func EndLoaded(f *check.Facts, w *joints.Weld) check.Finding {
	run := f.RunLength()
	switch {
	case !run.Present && !f.EndLoaded:
		return check.Inapplicable("not said to be loaded at its ends")
	case !run.Present:
		return check.Unknown("the length of the weld is not given")
	}
	leg := min(w.Feet[0].Leg, w.Feet[1].Leg)
	full := legsInFull * leg
	beta := Beta(float64(run.Value / leg))
	if !f.EndLoaded && run.Value > full {
		return check.Inapplicable("not said to be loaded at its ends; if it is, " +
			f.ShowAtMost(geometry.Length(beta)*run.Value) + " of its length count")
	}
	var finding check.Finding
	if run.Value <= full*(1+1e-9) {
		finding = check.Compare(float64(run.Value), check.AtMost, float64(full), joints.UnitMM)
		if !f.Brief {
			finding.Step("L_full = 100·w", "100 · "+f.Show(leg), "L_full = "+f.Show(full))
			finding.Step("L ≤ L_full: the whole length counts", f.Show(run.Value)+" ≤ "+f.Show(full), string(finding.Verdict))
		}
		return finding
	}
	finding = check.Unknown("only " + f.ShowAtMost(geometry.Length(beta)*run.Value) + " of the length count; the calculation must be made with that")
	if run.Value <= legsReduced*leg {
		if !f.Brief {
			finding.Step("β = 1.2 − 0.002·L/w", "1.2 − 0.002 · "+f.Show(run.Value)+" / "+f.Show(leg), "β = "+number(beta, 3))
		}
	} else {
		if !f.Brief {
			finding.Step("β = 180·w/L for L > 300·w", "180 · "+f.Show(leg)+" / "+f.Show(run.Value), "β = "+number(beta, 3))
		}
	}
	if !f.Brief {
		finding.Step("L_e = β·L", number(beta, 3)+" · "+f.Show(run.Value), "L_e = "+f.Show(geometry.Length(beta)*run.Value))
	}
	return finding
}

// EndLoadedValues prints the reduction.
func EndLoadedValues() check.Table {
	return check.Table{Columns: []string{"length", "what counts"}, Rows: [][]string{
		{"up to 100·w", "the whole length"}, {"100·w to 300·w", "β = 1.2 − 0.002·L/w of it"}, {"over 300·w", "180·w"}}}
}

// number prints a plain number for a step.
func number(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
