// Package gbt985 holds the preparations of GB/T 985-1988 for gas, manual and
// shielded arc welding of steel. The copy read is flattened: some cells have no
// label.
package gbt985

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/preparation"
)

// Table is the table of preparations.
var Table = preparation.Table{
	ID:         "gb-t-985-1988/preparation",
	Source:     check.Source{Document: "GB/T 985", Edition: "1988", Clause: "table of preparations"},
	Provenance: check.Secondary,
	Read:       "usbmi.com/quan/1713232004a1573210.html, a flattened copy",
	Families:   []string{"steel"},
	Rows:       rows,
}

// Document compares a joint with the table.
var Document = Table.Document("GB/T 985-1988, preparations")

// processes are gas, manual and shielded arc welding.
var processes = []string{"smaw", "gmaw", "mcaw", "gtaw", "fcaw-g"}

var rows = []preparation.Row{
	{Processes: processes, Name: "flanged edge", Prep: preparation.Flanged, From: 1, To: 2, Radius: preparation.Between(1, 2)},
	{Processes: processes, Name: "square, to 3 mm", Prep: joints.PrepSquare, Backing: preparation.No, From: 1, To: 3, Opening: preparation.Between(0, 1.5)},
	{Processes: processes, Name: "square, to 6 mm", Prep: joints.PrepSquare, Backing: preparation.No, From: 3, To: 6, Opening: preparation.Between(0, 2.5)},
	{Processes: processes, Name: "square with backing", Prep: joints.PrepSquare, Backing: preparation.Yes, From: 2, To: 4, Opening: preparation.Between(0, 3.5)},
	{Processes: processes, Name: "Y", Prep: joints.PrepSingleV, Backing: preparation.No, Butt: preparation.Yes, From: 3, To: 26, Angle: preparation.Between(40, 60), Opening: preparation.Between(0, 3), RootFace: preparation.Between(1, 4)},
	{Processes: processes, Name: "steep V with backing", Prep: joints.PrepSingleV, Backing: preparation.Yes, Butt: preparation.Yes, From: 16, Over: true, Angle: preparation.Between(5, 15), Opening: preparation.Between(6, 15), PerSide: true},
	{Processes: processes, Name: "Y with backing", Prep: joints.PrepSingleV, Backing: preparation.Yes, Butt: preparation.Yes, From: 6, To: 26, Angle: preparation.Between(45, 55), Opening: preparation.Between(3, 6), RootFace: preparation.Between(0, 2), Note: "the split of b and p in this row is less certain in the copy"},
	{Processes: processes, Name: "VY", Prep: preparation.Compound, Butt: preparation.Yes, From: 20, Over: true, Angle: preparation.Between(60, 70), Opening: preparation.Between(0, 3), RootFace: preparation.Between(1, 3), Note: "over a steep part of 8 to 10 mm at 8° to 10° per side"},
	{Processes: processes, Name: "U with land", Prep: joints.PrepSingleU, Butt: preparation.Yes, From: 20, To: 60, Angle: preparation.Between(1, 8), Opening: preparation.Between(0, 3), RootFace: preparation.Between(1, 3), Radius: preparation.Between(6, 8)},
	{Processes: processes, Name: "double Y", Prep: joints.PrepDoubleV, Butt: preparation.Yes, From: 12, To: 60, Angle: preparation.Between(40, 60), Opening: preparation.Between(0, 3), RootFace: preparation.Between(1, 3)},
	{Processes: processes, Name: "double V", Prep: joints.PrepDoubleV, Butt: preparation.Yes, From: 10, Over: true, Angle: preparation.Between(40, 60), Opening: preparation.Between(0, 3), Note: "each side half the thickness deep"},
	{Processes: processes, Name: "2/3 double V", Prep: joints.PrepDoubleV, Butt: preparation.Yes, From: 10, Over: true, Angle: preparation.Between(40, 60), Opening: preparation.Between(0, 3), Note: "one side a third of the thickness deep"},
	{Processes: processes, Name: "double U with land", Prep: joints.PrepDoubleU, Butt: preparation.Yes, From: 30, Over: true, Angle: preparation.Between(1, 8), Opening: preparation.Between(0, 3), RootFace: preparation.Between(2, 4), Radius: preparation.Between(6, 8)},
	{Processes: processes, Name: "single bevel", Prep: joints.PrepSingleBevel, Backing: preparation.No, From: 3, To: 40, Angle: preparation.Between(35, 50), Opening: preparation.Between(0, 4)},
	{Processes: processes, Name: "bevel with backing", Prep: joints.PrepSingleBevel, Backing: preparation.Yes, From: 16, Over: true, Angle: preparation.Between(12, 30), Opening: preparation.Between(6, 10)},
	{Processes: processes, Name: "J with land", Prep: joints.PrepSingleJ, From: 16, Over: true, Angle: preparation.Between(10, 20), Opening: preparation.Between(0, 3), RootFace: preparation.Between(2, 4), Radius: preparation.Between(6, 8)},
	{Processes: processes, Name: "double J", Prep: joints.PrepDoubleJ, From: 30, Over: true, Angle: preparation.Between(10, 20), Opening: preparation.Between(0, 3), RootFace: preparation.Between(2, 4), Radius: preparation.Between(6, 8)},
	{Processes: processes, Name: "double bevel", Prep: joints.PrepDoubleBevel, From: 10, Over: true, Angle: preparation.Between(35, 50), Opening: preparation.Between(0, 3), Note: "each side half the thickness deep"},
	{Processes: processes, Name: "T, square", Prep: preparation.Fillet, From: 2, To: 8, Opening: preparation.Between(0, 2)},
	{Processes: processes, Name: "T, square, offset", Prep: preparation.Fillet, From: 4, To: 30, Opening: preparation.Between(0, 2)},
	{Processes: processes, Name: "bevel Y", Prep: joints.PrepSingleBevel, From: 6, To: 30, Angle: preparation.Between(35, 50), Opening: preparation.Between(0, 3), RootFace: preparation.Between(1, 3)},
	{Processes: processes, Name: "lap, fillet", Prep: preparation.Fillet, From: 2, To: 30, Opening: preparation.Between(0, 2)},
}
