// Package iso58172014 holds limits for imperfections from ISO 5817:2014,
// quality levels B, C and D, for fusion-welded joints in steel, nickel and
// titanium: every geometric imperfection that a section can show.
//
// Of the 2014 edition only the rows 1.1 to 1.6 of table 1 were read. The other
// rows were read in an extract of EN ISO 5817:2007 and in reports, or are from
// memory, as each clause says; what was read of another edition is secondary
// for this one.
package iso58172014

import (
	"fay/joints"
	"fay/joints/check"
)

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
const ID = "iso-5817-2014"

// Document returns ISO 5817:2014 at a level.
func Document(l Level) check.Document {
	return check.Document{
		ID:    ID + "/" + string(l),
		Title: "ISO 5817:2014 level " + string(l),
		Scope: []string{"steel", "stainless", "nickel", "titanium"},
		Rules: []check.Rule{
			surfaceFusion(l), rootPenetration(l), undercut(l), rootUndercut(l), excessWeldMetal(l), excessConvexity(l),
			excessPenetration(l), toeAngle(l), runOver(l), underfill(l), asymmetry(l), rootConcavity(l),
			insufficientThroat(l), excessiveThroat(l), misalignment(l), rootGap(l),
		},
	}
}

func ruleID(l Level, number string) string { return ID + "/" + string(l) + "/" + number }

func source(l Level, number string) check.Source {
	return check.Source{Document: "ISO 5817", Edition: "2014", Clause: "Table 1, no. " + number + ", level " + string(l)}
}

// leastThickness is where the rows of this package begin: t ≥ 0.5 mm.
// thinUpTo ends the rows for thin plate, which have limits of their own.
const (
	leastThickness = 0.5
	thinUpTo       = 3
)

// Where the rows were read.
const (
	read2007  = "EN ISO 5817:2007 extract at coursehero.com/file/p5h6l50; the 2014 edition's row was not seen"
	read2014  = "BS EN ISO 5817:2014, items 1.1 to 1.6, pdfcoffee …bs-en-iso-5817-2014"
	readSheet = "sheets for the levels, scribd 253871562 (C), 99588384 (B), pdfcoffee …limits-for-imperfections-iso-5817 (B)"
	readMind  = "from memory, unverified"
)

// fillets applies rule to the fillets on plate that the rows cover.
func fillets(f *check.Facts, to []check.Finding, rule func(w *joints.Weld) check.Finding) []check.Finding {
	return f.Fillets(to, func(w *joints.Weld) check.Finding {
		if f.Thinner(w) < leastThickness {
			return tooThin()
		}
		return rule(w)
	})
}

func tooThin() check.Finding { return check.Inapplicable("the limits begin at plates of 0.5 mm") }

// limit is base + factor × size, up to most; most of 0 is none.
type limit struct {
	level              Level
	base, factor, most float64
}

func (l limit) of(size float64) float64 {
	return check.Limit{Base: l.base, Factor: l.factor, Most: l.most}.At(size)
}

// at returns the row of a level; the tables of this package have all levels.
func at(rows []limit, l Level) limit {
	for _, r := range rows {
		if r.level == l {
			return r
		}
	}
	panic("iso58172014: no row for level " + string(l))
}
