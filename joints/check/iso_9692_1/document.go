// Package iso96921 holds the preparations of ISO 9692-1 for steel, from memory
// alone.
package iso96921

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/preparation"
)

// Table is the table of preparations.
var Table = preparation.Table{
	ID:         "iso-9692-1/preparation",
	Source:     check.Source{Document: "ISO 9692-1", Edition: "2003, 2013", Clause: "tables of preparations"},
	Provenance: check.Memory,
	Read:       "from memory, unverified; the copies reached show the cover pages only",
	Families:   []string{"steel", "stainless"},
	Rows:       rows,
}

// Document compares a joint with the table.
var Document = Table.Document("ISO 9692-1 from memory, preparations in steel")

var rows = []preparation.Row{
	{Name: "square, one side", Prep: joints.PrepSquare, Backing: preparation.No, To: 4, Opening: preparation.About(0, 1)},
	{Name: "square, one side, backing", Prep: joints.PrepSquare, Backing: preparation.Yes, From: 3, To: 8, Opening: preparation.Between(3, 8)},
	{Name: "square, two sides, 111, 141", Prep: joints.PrepSquare, Backing: preparation.No, Processes: []string{"smaw", "gtaw"}, To: 8, Opening: preparation.About(0, 0.5)},
	{Name: "square, two sides, 13", Prep: joints.PrepSquare, Backing: preparation.No, Processes: []string{"gmaw", "mcaw"}, To: 8, Opening: preparation.UpToThickness(0.5)},
	{Name: "V, one side", Prep: joints.PrepSingleV, From: 3, To: 10, Angle: preparation.Between(40, 60), Opening: preparation.Between(0, 4), RootFace: preparation.Between(0, 2)},
	{Name: "steep V with backing", Prep: joints.PrepSingleV, Backing: preparation.Yes, From: 16, Over: true, Angle: preparation.Between(5, 20), Opening: preparation.Between(5, 15), PerSide: true},
	{Name: "Y", Prep: joints.PrepSingleV, From: 5, To: 40, Angle: preparation.About(60, 0), Opening: preparation.Between(1, 4), RootFace: preparation.Between(2, 4)},
	{Name: "U", Prep: joints.PrepSingleU, From: 12, Over: true, Angle: preparation.Between(8, 12), Opening: preparation.Between(0, 4), RootFace: preparation.Between(0, 3)},
	{Name: "bevel", Prep: joints.PrepSingleBevel, From: 3, To: 10, Angle: preparation.Between(35, 60), Opening: preparation.Between(2, 4), RootFace: preparation.Between(1, 2)},
	{Name: "J", Prep: joints.PrepSingleJ, From: 16, Over: true, Angle: preparation.Between(10, 20), Opening: preparation.Between(2, 4), RootFace: preparation.Between(1, 2)},
	{Name: "double V", Prep: joints.PrepDoubleV, From: 10, Over: true, Angle: preparation.Between(40, 60), Opening: preparation.Between(1, 3), RootFace: preparation.Between(0, 2), Note: "each side about t/2 or t/3 deep"},
	{Name: "double U", Prep: joints.PrepDoubleU, From: 30, Angle: preparation.Between(8, 12), Opening: preparation.Between(0, 3), RootFace: preparation.About(3, 0)},
	{Name: "double bevel", Prep: joints.PrepDoubleBevel, From: 10, Over: true, Angle: preparation.Between(35, 60), Opening: preparation.Between(1, 4), RootFace: preparation.Between(0, 2)},
	{Name: "fillet, T, one side", Prep: preparation.Fillet, From: 2, Over: true, Angle: preparation.Between(70, 100), Opening: preparation.Between(0, 2)},
	{Name: "fillet, T, two sides", Prep: preparation.Fillet, From: 3, Over: true, Angle: preparation.Between(70, 110), Opening: preparation.Between(0, 2)},
	{Name: "fillet, lap or corner", Prep: preparation.Fillet, From: 2, Over: true, Angle: preparation.Between(60, 120), Opening: preparation.Between(0, 2)},
}
