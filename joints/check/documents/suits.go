package documents

import (
	"fay/geometry"
	awsd112020 "fay/joints/check/aws_d1_1_2020"
	bs3019 "fay/joints/check/bs_3019"
	gbt985 "fay/joints/check/gb_t_985_1988"
	iso96921 "fay/joints/check/iso_9692_1"
	iso96923 "fay/joints/check/iso_9692_3"
	mathers2002 "fay/joints/check/mathers_2002"
	"fay/joints/check/preparation"
)

// tables are the tables of preparations, the firmest first.
var tables = []*preparation.Table{
	&awsd112020.Table, &mathers2002.Table, &gbt985.Table, &bs3019.Table, &iso96921.Table, &iso96923.Table,
}

// Suits lists the preparations on file whose range covers a thickness, for a
// metal family (steel, aluminium, …) and a process by its short name (gtaw); an
// empty name of either is any. Ranges are those at the thickness, in mm and
// degrees, each with the value to start a plan from. The result may be empty and
// is never nil.
func Suits(thickness geometry.Length, family, process string) []preparation.Preparation {
	out := make([]preparation.Preparation, 0, 16) // as many as suit most plates
	for _, t := range tables {
		out = append(out, t.Suits(thickness, family, process)...)
	}
	return out
}
