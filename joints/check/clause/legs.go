// Package clause holds the forms that clauses of several documents share:
// tables of smallest legs by thickness, lengths, throats. The documents give
// the values and say where they were read.
package clause

import (
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Basis is the part of a joint whose thickness a table is entered with.
type Basis uint8

// The bases. Where it is not known which part counts, a leg is met if it meets
// the table for both, not met if it meets it for neither, and cannot be told in
// between.
const (
	Thinner Basis = iota
	Thicker
	NotKnown
)

// Step is one line of a table: up to a thickness, a leg. UpTo is zero in a line
// for everything thicker.
type Step struct{ UpTo, Leg check.Printed }

// LegTable is a table of smallest legs.
type LegTable struct {
	Name  string // as steps print it
	Steps []Step
	// Basis of a joint and why, for the steps; the reason may be empty.
	Basis func(*check.Facts) (b Basis, why string)
	// Capped says that the leg need not exceed the thinner part.
	Capped bool
}

// By is a basis that is the same for every joint.
func By(b Basis) func(*check.Facts) (Basis, string) {
	return func(*check.Facts) (Basis, string) { return b, "" }
}

// Values prints the table.
func (t *LegTable) Values(part string) check.Table {
	v := check.Table{Columns: []string{part + ", up to", "smallest leg"}}
	for _, s := range t.Steps {
		upTo := "over"
		if s.UpTo != (check.Printed{}) {
			upTo = s.UpTo.String()
		}
		v.Rows = append(v.Rows, []string{upTo, s.Leg.String()})
	}
	return v
}

// at returns the line for a thickness. A line ends at the larger of the two
// printed values, so that 6.35 mm plate is not over 1/4 in.
func (t *LegTable) at(thickness geometry.Length) int {
	for i, s := range t.Steps {
		if thickness <= s.UpTo.Larger()*(1+1e-9) {
			return i
		}
	}
	return len(t.Steps) - 1
}

// leg is the smallest leg for a thickness in a joint whose thinner part is thin.
func (t *LegTable) leg(f *check.Facts, thickness, thin geometry.Length) geometry.Length {
	leg := t.Steps[t.at(thickness)].Leg.Of(f)
	if t.Capped {
		leg = min(leg, thin)
	}
	return leg
}

// Check compares the shorter leg of a fillet with the table.
func (t *LegTable) Check(f *check.Facts, w *joints.Weld) check.Finding {
	thin, thick := f.Thinner(w), f.Thicker(w)
	basis, why := t.Basis(f)
	entry, word := thin, "min"
	if basis == Thicker {
		entry, word = thick, "max"
	}
	least := t.leg(f, entry, thin)
	leg := min(w.Feet[0].Leg, w.Feet[1].Leg)
	mend := least
	if basis == NotKnown {
		if other := t.leg(f, thick, thin); other != least {
			mend = max(least, other) // sure to be enough
			if leg >= least*(1-1e-9) && leg < other*(1-1e-9) {
				finding := check.Unknown(why + ": " + f.ShowAtLeast(least) + " for the thinner part, " + f.ShowAtLeast(other) + " for the thicker")
				finding.LegAtLeast(least, f.Name(w, thinner(f, w)))
				return finding
			}
			if leg >= least {
				least, entry, word = other, thick, "max"
			}
		}
	}
	finding := check.Compare(float64(leg), check.AtLeast, float64(least), joints.UnitMM)
	if !f.Brief {
		finding.Step("t = "+word+"(t_"+f.Name(w, 0)+", t_"+f.Name(w, 1)+")",
			word+"("+f.Show(f.Thickness(w.Feet[0].Member))+", "+f.Show(f.Thickness(w.Feet[1].Member))+")", "t = "+f.Show(entry))
		table := "z_min(t), " + t.Name
		if t.Capped {
			table += ", not over t_min"
		}
		finding.Step(table, "t = "+f.Show(entry), "z_min = "+f.Show(least)+" for "+t.Range(t.at(entry)))
		finding.Step("z = min(z_"+f.Name(w, 0)+", z_"+f.Name(w, 1)+") ≥ z_min", f.Show(leg)+" ≥ "+f.Show(least), string(finding.Verdict))
	}
	if why != "" && basis != NotKnown {
		finding.AddNote(why)
	}
	asks := thinner(f, w)
	if entry == thick && thick != thin {
		asks = 1 - asks
	}
	finding.LegAtLeast(least, f.Name(w, asks))
	if w.Dihedral != 90*geometry.Degree {
		finding.AddNote("legs are measured along the members; a gauge reads less on a skewed joint")
	}
	if finding.Verdict == check.NotMet {
		Larger(f, w, mend, &finding)
	}
	return finding
}

// thinner returns the foot on the thinner member, the abutting one of equals.
func thinner(f *check.Facts, w *joints.Weld) int {
	if f.Thickness(w.Feet[0].Member) < f.Thickness(w.Feet[1].Member) {
		return 0
	}
	return 1
}

// Larger adds the remedy of legs under least, or why there is none.
func Larger(f *check.Facts, w *joints.Weld, least geometry.Length, finding *check.Finding) {
	mend, note := f.LargerLegs(w, least)
	finding.Mend = mend
	if note != "" {
		finding.AddNote(note)
	}
}

// Shorter adds the remedy of legs over most, or why there is none.
func Shorter(f *check.Facts, w *joints.Weld, most geometry.Length, finding *check.Finding) {
	mend, note := f.ShorterLegs(w, most)
	finding.Mend = mend
	if note != "" {
		finding.AddNote(note)
	}
}

// Range prints the thicknesses of a line: 6 mm (1/4 in) < t ≤ 13 mm (1/2 in).
func (t *LegTable) Range(i int) string {
	var b strings.Builder
	upTo := t.Steps[i].UpTo
	if i == 0 || upTo == (check.Printed{}) {
		if i == 0 {
			return "t ≤ " + upTo.String()
		}
		return "t > " + t.Steps[i-1].UpTo.String()
	}
	b.WriteString(t.Steps[i-1].UpTo.String())
	b.WriteString(" < t ≤ ")
	b.WriteString(upTo.String())
	return b.String()
}

// Throat compares the effective throat of a fillet with least, which the first
// step has shown.
func Throat(f *check.Facts, w *joints.Weld, least geometry.Length, member string, steps ...check.Step) check.Finding {
	finding := check.Compare(float64(w.EffectiveThroat), check.AtLeast, float64(least), joints.UnitMM)
	if !f.Brief {
		for _, s := range steps {
			finding.Step(s.Symbols, s.Numbers, s.Result)
		}
		finding.Step("a ≥ a_min", f.Show(w.EffectiveThroat)+" ≥ "+f.Show(least), string(finding.Verdict))
	}
	leg := check.LegForThroat(w, least, max(0, -w.Convexity))
	finding.LegAtLeast(leg, member)
	if gap := check.GapForThroat(w, least); gap.Present {
		finding.GapAtMost(gap.Value)
	}
	if finding.Verdict == check.NotMet {
		Larger(f, w, leg, &finding)
	}
	return finding
}
