package check

import (
	"slices"

	"fay/geometry"
	"fay/joints"
)

// Facts is all that rules may look at: the section and what the joint file
// adds to it. Lengths that are absent are not known; rules that need them
// cannot tell. Facts remember what they printed: they serve one goroutine.
type Facts struct {
	Section *joints.Section
	// Families names the metal family of each member (steel, stainless,
	// aluminium, titanium, nickel, copper), in the order of Section.Members.
	// Empty, or missing at the end, means not known.
	Families []string
	// SeamLength is the length of the seam.
	SeamLength joints.Opt
	// EffectiveLength is the length of one run without its ends: the segment
	// of an intermittent weld. Absent means the seam's length.
	EffectiveLength joints.Opt
	// Process is the arc process by its short name (gtaw, gmaw, mcaw, fcaw-g,
	// fcaw-s, smaw, saw). Empty means not known.
	Process string
	// Position is the position of welding. Empty means not known.
	Position Position
	// Passes is the number of passes of each weld. Zero means not known.
	Passes int
	// EndLoaded says that the welds are loaded at their ends, along themselves.
	EndLoaded bool
	// Round says that the seam runs round a tube.
	Round bool
	// Measured holds what a cut-and-etch record says, by the id of the weld.
	// Rules compare it in place of what is planned.
	Measured map[string]Measured
	// DrawingLeg is the leg that the drawing or the calculation asks for in a
	// joint without a gap. Absent means not stated.
	DrawingLeg joints.Opt
	// Units chooses the column of documents that print mm and inches: UnitInch,
	// or millimetres for all others. It is the unit of the joint as a whole,
	// whatever single sizes were written in.
	Units geometry.Unit
	// Converted prints steps and remedies in the other unit, inches for a joint
	// in mm and mm for one in inches. It changes no value and no verdict.
	Converted bool
	// Brief leaves out the steps of findings, which take most of the time, for
	// those who only want the verdicts and what would mend them.
	Brief bool

	shown *[1 << shownBits]shown // nil until something is shown
}

// Position is a position of welding.
type Position string

// The positions.
const (
	Flat       Position = "flat"
	Horizontal Position = "horizontal"
	Vertical   Position = "vertical"
	Overhead   Position = "overhead"
)

// Measured is what a cut-and-etch record says of one weld. Absent values were
// not measured; depths and heights are zero or positive.
type Measured struct {
	Legs      [2]joints.Opt // in the order of Weld.Feet
	Throat    joints.Opt    // shortest distance from the weld root to the face
	Convexity joints.Opt    // of a fillet; negative for a hollow face
	Gap       joints.Opt    // under a fillet
	HiLo      joints.Opt

	CapHeight     joints.Opt // over the toes of a groove
	RootHeight    joints.Opt // of the root reinforcement
	Undercut      joints.Opt // depth, at either toe
	RootUndercut  joints.Opt // depth beside the root: shrinkage groove
	Underfill     joints.Opt // depth of a groove's face under the surface
	RootConcavity joints.Opt // depth of a hollow root
	RunOver       joints.Opt // metal lying on a member beyond the toe without fusion
	// LackOfFusion is the depth without fusion at a face, LackOfPenetration
	// the depth of root left unwelded in a weld that was to penetrate.
	LackOfFusion, LackOfPenetration joints.Opt
}

// Inches reports whether the inch column of a document is to be read.
func (f *Facts) Inches() bool { return f.Units == geometry.UnitInch }

// printsInches reports whether steps and remedies are in inches.
func (f *Facts) printsInches() bool { return f.Inches() != f.Converted }

// Butts reports whether the members butt: many clauses are written for butt
// joints by name, and other grooves, in T joints, plugs or beside a round, are
// not meant.
func (f *Facts) Butts() bool { return f.Section.Kind == "butt" }

// RunLength is the length of one run of weld, where known.
func (f *Facts) RunLength() joints.Opt {
	if f.EffectiveLength.Present {
		return f.EffectiveLength
	}
	return f.SeamLength
}

// Thickness returns the thickness of a member.
func (f *Facts) Thickness(member int) geometry.Length { return f.Section.Members[member].Thickness }

// Thinner returns the thickness of the thinner of the two members w joins.
func (f *Facts) Thinner(w *joints.Weld) geometry.Length {
	return min(f.Thickness(w.Feet[0].Member), f.Thickness(w.Feet[1].Member))
}

// Thicker returns the thickness of the thicker of the two members w joins.
func (f *Facts) Thicker(w *joints.Weld) geometry.Length {
	return max(f.Thickness(w.Feet[0].Member), f.Thickness(w.Feet[1].Member))
}

// Name returns the name of the member foot i of w stands on.
func (f *Facts) Name(w *joints.Weld, i int) string { return f.Section.Members[w.Feet[i].Member].Name }

// Fillets applies rule to every fillet weld and appends its findings with the
// name of the weld; without a fillet the rule is not applicable.
func (f *Facts) Fillets(to []Finding, rule func(w *joints.Weld) Finding) []Finding {
	return f.Each(to, rule, joints.FilletWeld)
}

// Each applies rule to every weld of the kinds and appends its findings with
// the name of the weld; without one the rule is not applicable.
func (f *Facts) Each(to []Finding, rule func(w *joints.Weld) Finding, kinds ...joints.WeldKind) []Finding {
	first := len(to)
	for i := range f.Section.Welds {
		w := &f.Section.Welds[i]
		if !slices.Contains(kinds, w.Kind) {
			continue
		}
		to = append(to, rule(w))
		to[len(to)-1].Weld = w.ID
	}
	if len(to) == first {
		return append(to, Inapplicable(without[kinds[0]]))
	}
	return to
}

// without says that a joint has no weld of a kind.
var without = func() map[joints.WeldKind]string {
	notes := map[joints.WeldKind]string{}
	for _, kind := range []joints.WeldKind{joints.FilletWeld, joints.GrooveWeld, joints.EdgeWeld, joints.PlugWeld} {
		notes[kind] = "the joint has no " + string(kind) + " weld"
	}
	return notes
}()

// outside returns the known families of the joint that are not in scope.
func (f *Facts) outside(scope []string) []string {
	var out []string
	for _, family := range f.Families {
		if family != "" && !slices.Contains(scope, family) && !slices.Contains(out, family) {
			out = append(out, family)
		}
	}
	return out
}
