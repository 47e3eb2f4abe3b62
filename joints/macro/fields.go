package macro

import (
	"fay/joints"
)

// form is how a field is written.
type form uint8

const (
	formText form = iota
	formDate
	formChoice
	formLength
	formPair // one length for both members, or two
	formScale
	formPoints
)

// field is one name of a record.
type field struct {
	name   string
	form   form
	limits joints.Range // mm
	doc    string
	// one and pair find the size in a record.
	one  func(*Sizes) *joints.Opt
	pair func(*Sizes) *[2]joints.Opt
}

// The ranges are those of package joints; depths and heights that may be
// negative have both signs of them.
var (
	depth    = joints.RiseRange
	signed   = joints.Range{Min: -joints.RiseRange.Max, Max: joints.RiseRange.Max}
	reached  = joints.Range{Min: -joints.FusionRange.Max, Max: joints.FusionRange.Max}
	along    = joints.Range{Min: 0, Max: 100_000}
	fineness = joints.Range{Min: 0, Max: 1}
	// scales: from a hundredth of a micrometre a unit to a metre.
	scales = joints.Range{Min: 1e-5, Max: 1000}
)

// fields are the names of a record in the order of a printed one.
var fields = []field{
	{name: "joint", form: formText, doc: "joint file, from the folder of the record; left out where the command names it"},
	{name: "weld", form: formText, doc: "id of the weld: arrow, other, …; the first one when left out"},
	{name: "sample", form: formText, doc: "id of the cut sample; needed"},
	{name: "position", form: formLength, limits: along, doc: "place of the cut along the seam"},
	{name: "date", form: formDate, doc: "day of measuring, year-month-day"},
	{name: "inspector", form: formText, doc: "who measured"},
	{name: "etchant", form: formText, doc: "name on file, or what was used"},
	{name: "photo", form: formText, doc: "reference of the photograph"},
	{name: "level", form: formChoice, doc: "quality level to hold the section to, instead of the documents' own"},
	{name: "reading", form: formLength, limits: fineness, doc: "how finely the sizes were read, ±; 0.1 mm when left out"},
	{name: "units", form: formChoice, doc: "unit of a number without one: mm or in"},

	{name: "legs", form: formPair, limits: joints.LegRange, doc: "on members a and b, from the intersection of the surfaces to the toe",
		pair: func(s *Sizes) *[2]joints.Opt { return &s.Legs }},
	{name: "throat", form: formLength, limits: joints.LegRange, doc: "shortest distance from the weld root to the face",
		one: func(s *Sizes) *joints.Opt { return &s.Throat }},
	{name: "penetration", form: formLength, limits: reached, doc: "beyond the joint root; negative: root not reached",
		one: func(s *Sizes) *joints.Opt { return &s.Penetration }},
	{name: "fusion", form: formPair, limits: joints.FusionRange, doc: "greatest depth melted into members a and b",
		pair: func(s *Sizes) *[2]joints.Opt { return &s.Fusion }},
	{name: "convexity", form: formLength, limits: signed, doc: "mid-face over the toe-to-toe chord; negative: hollow",
		one: func(s *Sizes) *joints.Opt { return &s.Convexity }},
	{name: "undercut", form: formLength, limits: depth, doc: "deeper one of the two toes", one: func(s *Sizes) *joints.Opt { return &s.Undercut }},
	{name: "gap", form: formLength, limits: joints.OpeningRange, doc: "between the members at the root", one: func(s *Sizes) *joints.Opt { return &s.Gap }},
	{name: "hi-lo", form: formLength, limits: signed, doc: "offset of butting members", one: func(s *Sizes) *joints.Opt { return &s.HiLo }},
	{name: "cap-height", form: formLength, limits: depth, doc: "groove face over its toes", one: func(s *Sizes) *joints.Opt { return &s.CapHeight }},
	{name: "root-height", form: formLength, limits: depth, doc: "root over the underside", one: func(s *Sizes) *joints.Opt { return &s.RootHeight }},
	{name: "underfill", form: formLength, limits: depth, doc: "groove face under the surface", one: func(s *Sizes) *joints.Opt { return &s.Underfill }},
	{name: "root-concavity", form: formLength, limits: depth, doc: "depth of a hollow root", one: func(s *Sizes) *joints.Opt { return &s.RootConcavity }},
	{name: "root-undercut", form: formLength, limits: depth, doc: "shrinkage groove beside the root", one: func(s *Sizes) *joints.Opt { return &s.RootUndercut }},
	{name: "run-over", form: formLength, limits: depth, doc: "metal lying unfused beyond a toe", one: func(s *Sizes) *joints.Opt { return &s.RunOver }},
	{name: "lack-of-fusion", form: formLength, limits: depth, doc: "depth without fusion at a face", one: func(s *Sizes) *joints.Opt { return &s.LackOfFusion }},
	{name: "lack-of-penetration", form: formLength, limits: depth, doc: "root left unwelded in a weld that was to penetrate",
		one: func(s *Sizes) *joints.Opt { return &s.LackOfPenetration }},

	{name: "scale", form: formScale, doc: "millimetres in one unit of the points"},
	{name: "surface-a", form: formPoints, doc: "two points or more on the surface of member a"},
	{name: "surface-b", form: formPoints, doc: "two points or more on the surface of member b"},
	{name: "face", form: formPoints, doc: "three points or more on the face, from the toe on a to the toe on b"},
	{name: "root", form: formPoints, doc: "points of the weld root; the deepest counts"},
	{name: "note", form: formText, doc: "hardness, heat-affected zone, anything else"},
}

func lookup(name string) *field {
	for i := range fields {
		if fields[i].name == name {
			return &fields[i]
		}
	}
	return nil
}

// Names lists the names of a record.
func Names() []string {
	names := make([]string, len(fields))
	for i := range fields {
		names[i] = fields[i].name
	}
	return names
}

// Doc is one line on a name; empty for a name that a record does not have.
func Doc(name string) string {
	if f := lookup(name); f != nil {
		return f.doc
	}
	return ""
}
