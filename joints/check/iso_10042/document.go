// Package iso10042 names the imperfections of ISO 10042, quality levels for
// arc-welded joints in aluminium, without their limits: the document was not
// read. A shop that has it enters the limits as its own.
package iso10042

import "fay/joints/check"

// Level is a quality level; B is the strictest.
type Level string

// The quality levels.
const (
	LevelB Level = "B"
	LevelC Level = "C"
	LevelD Level = "D"
)

// Levels lists the quality levels from the strictest.
func Levels() []Level { return []Level{LevelB, LevelC, LevelD} }

// ID is the document's id without the level.
const ID = "iso-10042"

// numbers are the imperfections that a section can show.
var numbers = []struct {
	number, title string
	quantity      *check.Quantity
}{
	{"5011", "Undercut, continuous or intermittent (5012)", &check.Undercut},
	{"502", "Excess weld metal of a butt weld", &check.CapHeight},
	{"503", "Excessive convexity of a fillet", &check.Convexity},
	{"504", "Excess penetration", &check.RootHeight},
	{"507", "Linear misalignment", &check.HiLo},
	{"511", "Incompletely filled groove", &check.Underfill},
	{"512", "Excessive asymmetry of a fillet", &check.Asymmetry},
	{"5213", "Insufficient throat", &check.ThroatShortfall},
}

// Document returns ISO 10042 at a level.
func Document(l Level) check.Document {
	d := check.Document{ID: ID + "/" + string(l), Title: "ISO 10042 level " + string(l), Scope: []string{"aluminium"}}
	for _, n := range numbers {
		d.Rules = append(d.Rules, rule(l, n.number, n.title, n.quantity))
	}
	return d
}

const notOnFile = "values not on file"

func rule(l Level, number, title string, q *check.Quantity) check.Rule {
	id := ID + "/" + string(l) + "/" + number
	return check.Rule{
		ID: id, Title: title + ", level " + string(l),
		Source:     check.Source{Document: "ISO 10042", Edition: "not read", Clause: "no. " + number + ", level " + string(l)},
		Provenance: check.Memory,
		Read:       "not read; the copies reached show the rows of cracks and pores only",
		Doc:        "The " + q.Doc + ". The limits are not on file; a shop that has the document enters them as its own, under this id.",
		Values:     check.Table{Columns: []string{"limit"}, Rows: [][]string{{notOnFile}}},
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			first := len(to)
			for i := range f.Section.Welds {
				w := &f.Section.Welds[i]
				if r := q.Read(f, w); r.Verdict == check.NotApplicable {
					continue
				}
				finding := check.Unknown(notOnFile)
				finding.Weld = w.ID
				to = append(to, finding)
			}
			if len(to) == first {
				return append(to, check.Inapplicable("no weld here shows it"))
			}
			return to
		},
	}
}
