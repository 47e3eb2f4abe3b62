package check

import (
	"fay/geometry"
	"fay/joints"
)

// LegLimit is one end of a range of legs.
type LegLimit struct {
	LegMM  float64 `json:"leg_mm"`
	Member string  `json:"member,omitempty"` // whose leg is limited; empty means both
	For    string  `json:"for,omitempty"`    // whose thickness asks for it
	// Rule and Provenance say who asks; both are empty where the geometry of
	// the joint does: a leg cannot run past the edge of a member.
	Rule       string     `json:"rule,omitempty"`
	Provenance Provenance `json:"provenance,omitempty"`
}

// LegRange is the range of legs, both the same, that all rules chosen allow a
// fillet.
type LegRange struct {
	Weld  string    `json:"weld"`
	Least *LegLimit `json:"least,omitempty"` // nil where no rule asks for a smallest leg
	Most  *LegLimit `json:"most,omitempty"`  // nil where nothing limits the largest
	// Empty says that no leg satisfies them all. Remembered says that it takes
	// values from memory to make it so; such a range fails no joint.
	Empty      bool `json:"empty,omitempty"`
	Remembered bool `json:"remembered,omitempty"`
	// Sentence says the range in words.
	Sentence string `json:"sentence"`
	// WaysOut of an empty range; nil where there is a range.
	WaysOut []string `json:"ways_out,omitempty"`
}

// Legs returns, for every fillet of the joint, the range of equal legs that
// satisfies all rules of the documents. The result is never nil.
func Legs(f *Facts, documents []Document) []LegRange {
	findings := Run(f, documents)
	ranges := make([]LegRange, 0, len(f.Section.Welds))
	for i := range f.Section.Welds {
		if w := &f.Section.Welds[i]; w.Kind == joints.FilletWeld {
			ranges = append(ranges, legsOf(f, w, findings))
		}
	}
	return ranges
}

// legsOf settles the range of one fillet. Firm values decide first: a range
// that only remembered values make empty is said to be so.
func legsOf(f *Facts, w *joints.Weld, findings []Finding) LegRange {
	r := limits(f, w, findings, false)
	if !r.Empty {
		if all := limits(f, w, findings, true); all.Empty {
			all.Remembered = true
			r = all
		} else {
			r = all
		}
	}
	r.describe(f, w)
	return r
}

func limits(f *Facts, w *joints.Weld, findings []Finding, memory bool) LegRange {
	r := LegRange{Weld: w.ID}
	for i := range findings {
		d := &findings[i]
		if d.Weld != w.ID || d.Provenance == Memory && !memory {
			continue
		}
		for _, b := range d.Legs {
			r.take(b.Operator, LegLimit{LegMM: b.LegMM, Member: b.Member, For: b.For, Rule: d.Rule, Provenance: d.Provenance})
		}
	}
	// Last, so that a rule with the same limit is named before the geometry.
	for i := range w.Feet {
		if foot := &w.Feet[i]; foot.EdgeRemaining.Present {
			r.take(AtMost, LegLimit{LegMM: float64(foot.Leg + foot.EdgeRemaining.Value), Member: f.Name(w, i), For: f.Name(w, i)})
		}
	}
	r.Empty = r.Least != nil && r.Most != nil && r.Least.LegMM > r.Most.LegMM*(1+slack)
	return r
}

// take narrows the range; of equal limits the first one stays.
func (r *LegRange) take(op Operator, l LegLimit) {
	if op == AtLeast && (r.Least == nil || l.LegMM > r.Least.LegMM) {
		r.Least = &l
	}
	if op == AtMost && (r.Most == nil || l.LegMM < r.Most.LegMM) {
		r.Most = &l
	}
}

func (r *LegRange) describe(f *Facts, w *joints.Weld) {
	switch {
	case r.Empty:
		r.Sentence = r.conflict(f)
		r.WaysOut = r.waysOut(f, w)
	case r.Least == nil && r.Most == nil:
		r.Sentence = "no rule limits the legs"
	case r.Least == nil:
		r.Sentence = "legs up to " + f.ShowAtMost(lengthOf(r.Most.LegMM)) + r.Most.by()
	case r.Most == nil:
		r.Sentence = "legs from " + f.ShowAtLeast(lengthOf(r.Least.LegMM)) + r.Least.by()
	default:
		r.Sentence = "legs from " + f.ShowAtLeast(lengthOf(r.Least.LegMM)) + r.Least.by() +
			" to " + f.ShowAtMost(lengthOf(r.Most.LegMM)) + r.Most.by()
	}
}

// by names who asks for the limit.
func (l *LegLimit) by() string {
	switch {
	case l.Rule == "":
		return " (where the " + l.Member + " ends)"
	case l.Provenance == Memory:
		return " (" + l.Rule + ", from memory)"
	}
	return " (" + l.Rule + ")"
}

func (f *Facts) member(name string) (*joints.Member, bool) {
	for i := range f.Section.Members {
		if m := &f.Section.Members[i]; m.Name == name {
			return m, true
		}
	}
	return nil, false
}

// conflict says which two limits exclude each other.
func (r *LegRange) conflict(f *Facts) string {
	low, high := "the smallest leg", "the largest leg"
	asks, ok := f.member(r.Least.For)
	edge, limited := f.member(r.Most.Member)
	if ok {
		who := "the member"
		switch {
		case limited && asks.Thickness > edge.Thickness:
			who = "the thick member"
		case limited && asks.Name == edge.Name:
			who = "the thin member itself"
		}
		low = "the minimum of " + who + " (" + asks.Name + ", " + f.Show(asks.Thickness) + ")"
	}
	if limited {
		who := "the edge"
		if t := f.Section.Members[f.Section.ThickerMember()].Thickness; edge.Thickness < t {
			who = "the thin edge"
		}
		high = "the maximum of " + who + " (" + edge.Name + ", " + f.Show(edge.Thickness) + ")"
	}
	text := "no leg will do: " + low + ", " + f.ShowAtLeast(lengthOf(r.Least.LegMM)) + r.Least.by() + ", and " +
		high + ", " + f.ShowAtMost(lengthOf(r.Most.LegMM)) + r.Most.by() + ", exclude each other"
	if r.Remembered {
		text += "; values from memory are part of it"
	}
	return text
}

// waysOut lists what a planner may change. Each stands on its own.
func (r *LegRange) waysOut(f *Facts, w *joints.Weld) []string {
	ways := []string{"prepare the joint: a bevel or another groove carries the throat inside the plate"}
	if edge, ok := f.member(r.Most.Member); ok {
		for i := range w.Feet {
			if w.Feet[i].OnEdge && f.Name(w, i) == edge.Name {
				ways = append(ways, "move the weld off the edge of the "+edge.Name+", so that the leg stands on its face")
			}
		}
		ways = append(ways, "a thicker "+edge.Name+": "+f.Show(geometry.Length(r.Least.LegMM-r.Most.LegMM))+" more at its edge")
	}
	ways = append(ways, "reach the throat by penetration that tests with this procedure prove")
	if r.Least.Rule != "" || r.Most.Rule != "" {
		ways = append(ways, "another rule document, where the work allows one")
	}
	return ways
}
