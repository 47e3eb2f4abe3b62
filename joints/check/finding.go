package check

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

// Verdict is the outcome of a comparison.
type Verdict string

// The verdicts.
const (
	Met           Verdict = "met"
	NotMet        Verdict = "not met"
	NotApplicable Verdict = "not applicable" // the rule does not speak of this joint
	CannotTell    Verdict = "cannot tell"    // something needed is not known
)

// Provenance says how far the values of a rule can be trusted.
type Provenance string

// The provenances, from the firmest.
const (
	Primary        Provenance = "primary"         // read in the document or an extract of it
	Secondary      Provenance = "secondary"       // read in a report of the document
	Memory         Provenance = "memory"          // from memory, unverified
	CommonPractice Provenance = "common practice" // what the trade does, no source
	Shop           Provenance = "shop"            // the shop's own limit
)

// Operator is the comparison of what is provided with what is required.
type Operator string

// The operators: provided ≥ required and provided ≤ required.
const (
	AtLeast Operator = "≥"
	AtMost  Operator = "≤"
)

// Source is the place a rule stands in.
type Source struct {
	Document string `json:"document"`
	Edition  string `json:"edition,omitempty"`
	Clause   string `json:"clause,omitempty"`
}

// Step is one line of the reasoning: symbols → numbers → result.
type Step struct {
	Symbols string `json:"symbols"`
	Numbers string `json:"numbers"`
	Result  string `json:"result"`
}

// Finding is what one rule says of one weld or of the joint. Provided,
// Required and Ratio are nil where there is nothing to compare.
type Finding struct {
	Rule       string      `json:"rule"`
	Title      string      `json:"title"`
	Source     Source      `json:"source"`
	Provenance Provenance  `json:"provenance"`
	Weld       string      `json:"weld,omitempty"` // empty for the joint
	Provided   *float64    `json:"provided,omitempty"`
	Required   *float64    `json:"required,omitempty"`
	Unit       joints.Unit `json:"unit,omitempty"`
	Operator   Operator    `json:"operator,omitempty"`
	// Ratio is provided ÷ required for an upper bound and required ÷ provided
	// for a lower one: up to 1 is met, above 1 is not. It is nil, too, where
	// the division has no finite value: nothing provided against a lower
	// bound, or something against an upper bound of zero. No demand at all
	// (a lower bound of zero, nothing against an upper bound) has ratio 0.
	Ratio   *float64 `json:"ratio,omitempty"`
	Verdict Verdict  `json:"verdict"`
	Steps   []Step   `json:"steps"`
	// Mend is the smallest change that makes the finding met, rounded towards
	// safety; empty where none is needed or none is known.
	Mend string `json:"mend,omitempty"`
	Note string `json:"note,omitempty"`
	// Legs are the limits that the rule sets to the legs of the weld, whatever
	// they are now; see [Legs].
	Legs []Bound `json:"leg_limits,omitempty"`
	// LargestGap is the gap, in mm, above which the rule is not met with the
	// legs as they are.
	LargestGap *float64 `json:"largest_gap_mm,omitempty"`
}

// Bound is a limit of a leg.
type Bound struct {
	Operator Operator `json:"operator"` // the leg is at least, or at most, LegMM
	LegMM    float64  `json:"leg_mm"`
	// Member is the member whose leg is limited; empty means both legs.
	Member string `json:"member,omitempty"`
	// For is the member whose thickness asks for the limit; empty where none does.
	For string `json:"for,omitempty"`
}

// LegAtLeast adds a lower limit of both legs, asked for by a member.
func (f *Finding) LegAtLeast(leg geometry.Length, member string) {
	f.Legs = append(f.Legs, Bound{Operator: AtLeast, LegMM: float64(leg), For: member})
}

// LegAtMost adds an upper limit of the leg on a member, both when empty.
func (f *Finding) LegAtMost(leg geometry.Length, member string) {
	f.Legs = append(f.Legs, Bound{Operator: AtMost, LegMM: float64(leg), Member: member, For: member})
}

// GapAtMost sets the gap above which the finding would not be met.
func (f *Finding) GapAtMost(gap geometry.Length) { f.LargestGap = new(max(0, float64(gap))) }

// Failure reports whether the finding fails the joint: it is not met, and its
// values are not merely remembered.
func (f *Finding) Failure() bool { return f.Verdict == NotMet && f.Provenance != Memory }

// Warning reports whether the finding asks for attention without failing the
// joint: not met by remembered values, or nothing could be told.
func (f *Finding) Warning() bool {
	return f.Verdict == CannotTell || f.Verdict == NotMet && !f.Failure()
}

// slack is the relative difference below which two numbers computed on
// different routes count as equal, so that a leg laid exactly to a limit meets
// it. It is far below anything that can be measured on a weld.
const slack = 1e-9

// Compare makes the finding of provided against required. Both are zero or
// positive; numbers that are negative or not finite cannot be told.
func Compare(provided float64, op Operator, required float64, unit joints.Unit) Finding {
	if !(provided >= 0) || !(required >= 0) || math.IsInf(provided, 1) || math.IsInf(required, 1) {
		return Unknown("the values compared are not sizes")
	}
	numbers := &[3]float64{provided, required} // one piece of memory: checks are many
	f := Finding{Provided: &numbers[0], Required: &numbers[1], Operator: op, Unit: unit, Verdict: NotMet}
	small, large := required, provided // met where small ≤ large
	if op == AtMost {
		small, large = provided, required
	}
	if small <= large*(1+slack) {
		f.Verdict = Met
	}
	ratio := &numbers[2]
	switch *ratio = small / large; {
	case small == 0:
		*ratio = 0
	case math.IsInf(*ratio, 1):
		return f
	case f.Verdict == Met:
		*ratio = min(*ratio, 1)
	}
	f.Ratio = ratio
	return f
}

// Within makes the finding of provided against the range from low to high: it
// is compared with the end it passes, else with the nearer one. An infinite end
// is open.
func Within(provided, low, high float64, unit joints.Unit) Finding {
	switch {
	case provided > high*(1+slack) && !math.IsInf(high, 1):
		return Compare(provided, AtMost, high, unit)
	case provided < low*(1-slack), math.IsInf(high, 1):
		return Compare(provided, AtLeast, low, unit)
	case low > 0 && provided-low < high-provided:
		return Compare(provided, AtLeast, low, unit)
	}
	return Compare(provided, AtMost, high, unit)
}

// Inapplicable makes the finding of a rule that does not speak of the joint.
func Inapplicable(why string) Finding { return Finding{Verdict: NotApplicable, Note: why} }

// Unknown makes the finding of a rule that lacks something it needs.
func Unknown(why string) Finding { return Finding{Verdict: CannotTell, Note: why} }

// Step adds a line of reasoning.
func (f *Finding) Step(symbols, numbers, result string) {
	if f.Steps == nil {
		f.Steps = make([]Step, 0, 3) // as many as most rules take
	}
	f.Steps = append(f.Steps, Step{Symbols: symbols, Numbers: numbers, Result: result})
}

// AddNote adds a remark to those already there.
func (f *Finding) AddNote(note string) {
	if f.Note != "" {
		note = f.Note + "; " + note
	}
	f.Note = note
}
