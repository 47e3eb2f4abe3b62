// Package awsd112020 holds prequalified joint details of AWS D1.1:2020 for
// complete penetration. Two pages were read; the other details are from memory
// and marked so. Values are as detailed, with the plus tolerances of a drawing:
// root opening and root face 1/16 in, angle 10°; none for the root openings of
// submerged arc and of B-U5 and TC-U5. Fit-up may depart further.
package awsd112020

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/preparation"
)

// Table is the table of preparations.
var Table = preparation.Table{
	ID:         "aws-d1.1-2020/prequalified",
	Source:     check.Source{Document: "AWS D1.1", Edition: "2020", Clause: "prequalified joint details"},
	Provenance: check.Primary,
	Read:       "pages 87 and 88, scribd 507780704 and 507780875; details without a page from memory, unverified",
	Families:   []string{"steel"},
	Rows:       rows,
}

// Document compares a joint with the table.
var Document = Table.Document("AWS D1.1:2020, prequalified preparations")

// Sizes in inches, as the details print them.
const (
	sixteenth       = 25.4 / 16
	eighth          = 25.4 / 8
	threeSixteenths = 25.4 * 3 / 16
	quarter         = 25.4 / 4
	threeEighths    = 25.4 * 3 / 8
	half            = 25.4 / 2
)

// Processes by the letters of a detail: none, GF and S.
var (
	smaw   = []string{"smaw"}
	gf     = []string{"gmaw", "mcaw", "fcaw-g", "fcaw-s"}
	smawGF = []string{"smaw", "gmaw", "mcaw", "fcaw-g", "fcaw-s"}
	saw    = []string{"saw"}
)

var rows = []preparation.Row{
	{Name: "TC-U4a, 45°", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, Butt: preparation.No, Processes: smaw, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(quarter, quarter, sixteenth)},
	{Name: "TC-U4a, 30°", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, Butt: preparation.No, Processes: smaw, Angle: preparation.Detail(30, 30, 10), Opening: preparation.Detail(threeEighths, threeEighths, sixteenth), Note: "flat, vertical and overhead"},
	{Name: "TC-U4a-GF, 30°, 3/16 in", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, Butt: preparation.No, Processes: gf, Angle: preparation.Detail(30, 30, 10), Opening: preparation.Detail(threeSixteenths, threeSixteenths, sixteenth)},
	{Name: "TC-U4a-GF, 30°, 3/8 in", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, Butt: preparation.No, Processes: gf, Angle: preparation.Detail(30, 30, 10), Opening: preparation.Detail(threeEighths, threeEighths, sixteenth), Note: "flat"},
	{Name: "TC-U4a-GF, 45°", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, Butt: preparation.No, Processes: gf, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(quarter, quarter, sixteenth)},
	{Name: "TC-U4a-S, 30°", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, Butt: preparation.No, Processes: saw, Angle: preparation.Detail(30, 30, 10), Opening: preparation.Exactly(threeEighths), Note: "flat"},
	{Name: "TC-U4a-S, 45°", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, Butt: preparation.No, Processes: saw, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Exactly(quarter), Note: "flat"},
	{Name: "B-U4b, B-U4b-GF", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.No, Butt: preparation.Yes, Processes: smawGF, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(0, eighth, sixteenth)},
	{Name: "B-U4b-S", Clause: "page 87", Prep: joints.PrepSingleBevel, Backing: preparation.No, Butt: preparation.Yes, Processes: saw, Angle: preparation.Detail(60, 60, 10), Opening: preparation.Exactly(0), RootFace: preparation.Between(0, quarter)},
	{Name: "TC-U4b, TC-U4b-GF", Clause: "page 88", Prep: joints.PrepSingleBevel, Backing: preparation.No, Butt: preparation.No, Processes: smawGF, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(0, eighth, sixteenth)},
	{Name: "TC-U4b-S", Clause: "page 88", Prep: joints.PrepSingleBevel, Backing: preparation.No, Butt: preparation.No, Processes: saw, Angle: preparation.Detail(60, 60, 10), Opening: preparation.Exactly(0), RootFace: preparation.Between(0, quarter)},
	{Name: "B-U5b", Clause: "page 88", Prep: joints.PrepDoubleBevel, Butt: preparation.Yes, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Exactly(quarter), RootFace: preparation.Detail(0, eighth, sixteenth), Note: "with a spacer of 1/8 in × R"},
	{Name: "TC-U5a, 45°", Clause: "page 88", Prep: joints.PrepDoubleBevel, Butt: preparation.No, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Exactly(quarter), RootFace: preparation.Detail(0, eighth, sixteenth), Note: "with a spacer of 1/4 in × R"},
	{Name: "TC-U5a, 30°", Clause: "page 88", Prep: joints.PrepDoubleBevel, Butt: preparation.No, Angle: preparation.Detail(30, 30, 10), Opening: preparation.Exactly(threeEighths), RootFace: preparation.Detail(0, eighth, sixteenth), Note: "flat and overhead, with a spacer of 1/4 in × R"},
	{Name: "B-L1a", Prep: joints.PrepSquare, Backing: preparation.Yes, Butt: preparation.Yes, To: quarter, Opening: preparation.OfThickness(1, sixteenth), Provenance: check.Memory},
	{Name: "B-L1b", Prep: joints.PrepSquare, Backing: preparation.No, Butt: preparation.Yes, To: quarter, Opening: preparation.OfThickness(0.5, sixteenth), Provenance: check.Memory, Note: "backgouged"},
	{Name: "B-U2a, 45°", Prep: joints.PrepSingleV, Backing: preparation.Yes, Butt: preparation.Yes, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(quarter, quarter, sixteenth), Provenance: check.Memory},
	{Name: "B-U2a, 30°", Prep: joints.PrepSingleV, Backing: preparation.Yes, Butt: preparation.Yes, Angle: preparation.Detail(30, 30, 10), Opening: preparation.Detail(threeEighths, threeEighths, sixteenth), Provenance: check.Memory},
	{Name: "B-U2a, 20°", Prep: joints.PrepSingleV, Backing: preparation.Yes, Butt: preparation.Yes, Angle: preparation.Detail(20, 20, 10), Opening: preparation.Detail(half, half, sixteenth), Provenance: check.Memory},
	{Name: "B-U2", Prep: joints.PrepSingleV, Backing: preparation.No, Butt: preparation.Yes, Angle: preparation.Detail(60, 60, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(0, eighth, sixteenth), Provenance: check.Memory, Note: "backgouged"},
	{Name: "B-U3b", Prep: joints.PrepDoubleV, Butt: preparation.Yes, Angle: preparation.Detail(60, 60, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(0, eighth, sixteenth), Provenance: check.Memory},
	{Name: "B-U6, 45°", Prep: joints.PrepSingleU, Butt: preparation.Yes, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(eighth, eighth, sixteenth), Radius: preparation.Exactly(quarter), Included: true, Provenance: check.Memory},
	{Name: "B-U6, 20°", Prep: joints.PrepSingleU, Butt: preparation.Yes, Angle: preparation.Detail(20, 20, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(eighth, eighth, sixteenth), Radius: preparation.Exactly(quarter), Included: true, Provenance: check.Memory},
	{Name: "B-U7, 45°", Prep: joints.PrepDoubleU, Butt: preparation.Yes, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(eighth, eighth, sixteenth), Radius: preparation.Exactly(quarter), Included: true, Provenance: check.Memory},
	{Name: "B-U7, 20°", Prep: joints.PrepDoubleU, Butt: preparation.Yes, Angle: preparation.Detail(20, 20, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(eighth, eighth, sixteenth), Radius: preparation.Exactly(quarter), Included: true, Provenance: check.Memory},
	{Name: "B-U8", Prep: joints.PrepSingleJ, Butt: preparation.Yes, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(eighth, eighth, sixteenth), Radius: preparation.Exactly(threeEighths), Provenance: check.Memory},
	{Name: "B-U9", Prep: joints.PrepDoubleJ, Butt: preparation.Yes, Angle: preparation.Detail(45, 45, 10), Opening: preparation.Detail(0, eighth, sixteenth), RootFace: preparation.Detail(eighth, eighth, sixteenth), Radius: preparation.Exactly(threeEighths), Provenance: check.Memory},
}
