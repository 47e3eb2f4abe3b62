// Package bs3019 holds the suggestions of BS 3019 for TIG welding of aluminium as
// they are reported.
package bs3019

import (
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/preparation"
)

// Table is the table of preparations.
var Table = preparation.Table{
	ID:         "bs-3019/preparation",
	Source:     check.Source{Document: "BS 3019", Edition: "not named in the report", Clause: "suggested preparations"},
	Provenance: check.Secondary,
	Read:       "digilib.universitaspertamina.ac.id, pages 91, 92 and 113",
	Families:   []string{"aluminium"},
	Rows:       rows,
}

// Document compares a joint with the table.
var Document = Table.Document("BS 3019 as reported, TIG in aluminium")

var tig = []string{"gtaw"}

var rows = []preparation.Row{
	{Name: "square, backing or both sides", Prep: joints.PrepSquare, Processes: tig, To: 3.8},
	{Name: "V", Prep: joints.PrepSingleV, Processes: tig, From: 4.8, Angle: preparation.Between(70, 90), RootFace: preparation.Exactly(1.6)},
}
