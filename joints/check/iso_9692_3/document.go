// Package iso96923 holds the preparations of ISO 9692-3 for aluminium, from
// memory alone and with low confidence.
package iso96923

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/preparation"
)

// Table is the table of preparations.
var Table = preparation.Table{
	ID:         "iso-9692-3/preparation",
	Source:     check.Source{Document: "ISO 9692-3", Edition: "not on file", Clause: "tables of preparations"},
	Provenance: check.Memory,
	Read:       "from memory, unverified, low confidence",
	Families:   []string{"aluminium"},
	Rows:       rows,
}

// Document compares a joint with the table.
var Document = Table.Document("ISO 9692-3 from memory, preparations in aluminium")

var rows = []preparation.Row{
	{Name: "V, TIG", Prep: joints.PrepSingleV, Processes: []string{"gtaw"}, From: 3, To: 5, Angle: preparation.AtLeast(50), Opening: preparation.Between(0, 3), RootFace: preparation.Between(0, 2)},
	{Name: "V, MIG", Prep: joints.PrepSingleV, Processes: []string{"gmaw"}, From: 3, To: 5, Angle: preparation.Between(60, 90), Opening: preparation.Between(0, 2), RootFace: preparation.Between(0, 2)},
	{Name: "square", Prep: joints.PrepSquare, To: 4, Opening: preparation.Between(0, 2)},
}
