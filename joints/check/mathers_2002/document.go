// Package mathers2002 holds the preparations for aluminium in G. Mathers, The
// Welding of Aluminium and its Alloys, 2002. The tables print single sizes; a row
// with several of them holds from the first to the last.
package mathers2002

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/preparation"
)

// Table is the table of preparations.
var Table = preparation.Table{
	ID:         "mathers-2002/preparation",
	Source:     check.Source{Document: "G. Mathers, The Welding of Aluminium and its Alloys", Edition: "2002", Clause: "Tables 6.1, 6.5, 7.2, 7.3, Fig. 5.10"},
	Provenance: check.Primary,
	Read:       "digilib.universitaspertamina.ac.id, pages 89, 113, 128, 154 and 155",
	Families:   []string{"aluminium"},
	Rows:       rows,
}

// Document compares a joint with the table.
var Document = Table.Document("Mathers 2002, preparations in aluminium")

var (
	tig      = []string{"gtaw"}
	mig      = []string{"gmaw"}
	tigOrMIG = []string{"gtaw", "gmaw"}
)

var rows = []preparation.Row{
	{Name: "DC-TIG (He), square butt", Clause: "Table 6.5, page 128", Prep: joints.PrepSquare, Processes: tig, From: 0.8, To: 6.3, Opening: preparation.Exactly(0)},
	{Name: "DC-TIG (He), V", Clause: "Table 6.5, page 128", Prep: joints.PrepSingleV, Processes: tig, From: 10, To: 12.5, Nominal: true, Angle: preparation.Exactly(90), Opening: preparation.Exactly(0), RootFace: preparation.Exactly(6), Note: "printed for 10 and 12.5 mm"},
	{Name: "DC-TIG (He), double V, 20 mm", Clause: "Table 6.5, page 128", Prep: joints.PrepDoubleV, Processes: tig, From: 20, To: 20, Nominal: true, Angle: preparation.Exactly(90), Opening: preparation.Exactly(0), RootFace: preparation.Exactly(5)},
	{Name: "DC-TIG (He), double V, 25.4 mm", Clause: "Table 6.5, page 128", Prep: joints.PrepDoubleV, Processes: tig, From: 25.4, To: 25.4, Nominal: true, Angle: preparation.Exactly(90), Opening: preparation.Exactly(0), RootFace: preparation.Exactly(0)},
	{Name: "TIG (BS 3019), V", Clause: "Table 6.1, page 113", Prep: joints.PrepSingleV, Processes: tig, From: 4.8, To: 6.4, Nominal: true, Angle: preparation.Between(70, 90), RootFace: preparation.Exactly(1.6), Note: "printed for 4.8 and 6.4 mm"},
	{Name: "MIG, double V, 12.5 mm", Clause: "Table 7.2, page 154", Prep: joints.PrepDoubleV, Backing: preparation.No, Processes: mig, From: 12.5, To: 12.5, Nominal: true, Angle: preparation.Exactly(90), Opening: preparation.Exactly(0.8), RootFace: preparation.Exactly(1.5)},
	{Name: "MIG, double V", Clause: "Table 7.2, page 154", Prep: joints.PrepDoubleV, Backing: preparation.No, Processes: mig, From: 16, To: 25, Nominal: true, Angle: preparation.Exactly(90), Opening: preparation.Exactly(1.5), RootFace: preparation.Exactly(1.5), Note: "printed for 16, 20 and 25 mm"},
	{Name: "MIG, V, temporary backing, 12.5 mm", Clause: "Table 7.2, page 154", Prep: joints.PrepSingleV, Backing: preparation.Yes, Processes: mig, From: 12.5, To: 12.5, Nominal: true, Angle: preparation.Exactly(60), Opening: preparation.Exactly(2.5), RootFace: preparation.Exactly(1.5)},
	{Name: "MIG, V, temporary backing, 20 mm", Clause: "Table 7.2, page 154", Prep: joints.PrepSingleV, Backing: preparation.Yes, Processes: mig, From: 20, To: 20, Nominal: true, Angle: preparation.Exactly(60), Opening: preparation.Exactly(3), RootFace: preparation.Exactly(2.5)},
	{Name: "MIG, V, temporary backing, 25 mm", Clause: "Table 7.2, page 154", Prep: joints.PrepSingleV, Backing: preparation.Yes, Processes: mig, From: 25, To: 25, Nominal: true, Angle: preparation.Exactly(60), Opening: preparation.Exactly(4), RootFace: preparation.Exactly(2.5)},
	{Name: "MIG, V, permanent backing, 12.5 and 16 mm", Clause: "Table 7.2, page 154", Prep: joints.PrepSingleV, Backing: preparation.Yes, Processes: mig, From: 12.5, To: 16, Nominal: true, Angle: preparation.Exactly(60), Opening: preparation.Exactly(4.5), RootFace: preparation.Exactly(0)},
	{Name: "MIG, V, permanent backing, 20 and 25 mm", Clause: "Table 7.2, page 154", Prep: joints.PrepSingleV, Backing: preparation.Yes, Processes: mig, From: 20, To: 25, Nominal: true, Angle: preparation.Exactly(60), Opening: preparation.Exactly(6), RootFace: preparation.Exactly(0)},
	{Name: "MIG, large wire, 50 mm", Clause: "Table 7.3, page 155", Prep: joints.PrepDoubleV, Processes: mig, From: 50, To: 50, Nominal: true, Angle: preparation.Exactly(70), Opening: preparation.Exactly(0), RootFace: preparation.Exactly(5)},
	{Name: "MIG, large wire, 75 mm", Clause: "Table 7.3, page 155", Prep: joints.PrepDoubleU, Processes: mig, From: 75, To: 75, Nominal: true, Angle: preparation.Exactly(30), Opening: preparation.Exactly(0), RootFace: preparation.Exactly(10), Radius: preparation.Exactly(6), Included: true, Note: "that this row is two-sided too is our reading"},
	{Name: "landed V, AC-TIG", Clause: "Fig. 5.10, page 89", Prep: joints.PrepSingleU, Processes: tig, Angle: preparation.Between(15, 20), Opening: preparation.Exactly(0), RootFace: preparation.AtLeast(4.5), Radius: preparation.Between(1.5, 2), Note: "a V with a rounded root: bevel 15° to 20° per side"},
	{Name: "landed V, DC-TIG or MIG", Clause: "Fig. 5.10, page 89", Prep: joints.PrepSingleU, Processes: tigOrMIG, Angle: preparation.Between(15, 20), Opening: preparation.Exactly(0), RootFace: preparation.AtLeast(2), Radius: preparation.Between(1.5, 2), Note: "a V with a rounded root: bevel 15° to 20° per side"},
}
