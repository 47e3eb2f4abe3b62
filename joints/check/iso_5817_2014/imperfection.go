package iso58172014

import (
	"strings"

	"fay/joints"
	"fay/joints/check"
)

// span says which plates a limit is for.
type span uint8

const (
	allPlates   span = iota // t ≥ 0.5 mm
	thinPlates              // 0.5 mm ≤ t ≤ 3 mm
	thickPlates             // t > 3 mm
)

var spanText = [...]string{"t ≥ 0.5 mm", "0.5 mm ≤ t ≤ 3 mm", "t > 3 mm"}

// manner says how a limit is meant.
type manner uint8

const (
	plain        manner = iota
	short               // allowed as a short imperfection only
	notPermitted        // nothing is allowed
	permitted           // nothing is limited
)

// cell is one cell of table 1: what a level allows on some plates.
type cell struct {
	level  Level
	plates span
	manner manner
	limit  check.Limit
	from   check.Provenance
}

// imperfection is one row of table 1, with the cells of all levels.
type imperfection struct {
	number, title string
	quantity      *check.Quantity
	op            check.Operator // AtMost when empty
	read, doc     string
	cells         []cell
	// only says for which welds the row is meant; nil means all that have the
	// quantity.
	only func(f *check.Facts, w *joints.Weld) bool

	nothing string // what is said where no weld shows it
}

// onlyButts is for rows that are meant for butt welds.
func onlyButts(f *check.Facts, _ *joints.Weld) bool { return f.Butts() }

// comparison is a cell ready to compare.
type comparison struct {
	cell
	check.Comparison
}

// rule makes the rule of a level.
func (i *imperfection) rule(l Level) check.Rule {
	row := *i // the levels share the table, not what is made of it
	i = &row
	if i.op == "" {
		i.op = check.AtMost
	}
	i.nothing = "no weld here has a " + strings.ReplaceAll(i.quantity.Name, "-", " ")
	comparisons := make([]comparison, 0, 2)
	values := check.Table{Columns: []string{"plates", "limit, " + unitWord(i.quantity.Unit), "values"}}
	weakest := check.Provenance("")
	for _, c := range i.cells {
		if c.level != l {
			continue
		}
		comparisons = append(comparisons, comparison{c, check.NewComparison(i.quantity, i.op, c.limit)})
		values.Rows = append(values.Rows, []string{spanText[c.plates], c.text(i.quantity, i.op), string(c.from)})
		if weakest == "" || c.from == check.Memory {
			weakest = c.from
		}
	}
	return check.Rule{
		ID: ruleID(l, i.number), Title: i.title + ", level " + string(l), Source: source(l, i.number), Provenance: weakest,
		Read: i.read, Doc: i.doc, Values: values,
		Check: func(f *check.Facts, to []check.Finding) []check.Finding { return i.check(f, comparisons, to) },
	}
}

func unitWord(u joints.Unit) string {
	if u == joints.UnitDegree {
		return "degrees"
	}
	return "mm"
}

func (c *cell) text(q *check.Quantity, op check.Operator) string {
	switch c.manner {
	case notPermitted:
		return "not permitted"
	case permitted:
		return "permitted"
	case short:
		return "short: " + q.Symbol + " " + string(op) + " " + c.limit.String()
	}
	return q.Symbol + " " + string(op) + " " + c.limit.String()
}

func (i *imperfection) check(f *check.Facts, comparisons []comparison, to []check.Finding) []check.Finding {
	if i.quantity.Record != "" && len(f.Measured) == 0 {
		return append(to, check.Inapplicable(i.quantity.Record))
	}
	first := len(to)
	for j := range f.Section.Welds {
		w := &f.Section.Welds[j]
		if i.only != nil && !i.only(f, w) {
			continue
		}
		finding := i.compare(f, w, comparisons)
		if finding.Verdict == check.NotApplicable && !speaksOf(f, w, &finding) {
			continue
		}
		finding.Weld = w.ID
		to = append(to, finding)
	}
	if len(to) == first {
		return append(to, i.silent(f))
	}
	return to
}

// speaksOf keeps findings that do not apply only where a record was made.
func speaksOf(f *check.Facts, w *joints.Weld, finding *check.Finding) bool {
	_, measured := f.Measured[w.ID]
	return measured && !strings.HasPrefix(finding.Note, "speaks of")
}

// silent is the one finding of a row that says nothing of any weld.
func (i *imperfection) silent(f *check.Facts) check.Finding {
	for j := range f.Section.Welds {
		w := &f.Section.Welds[j]
		if i.only != nil && !i.only(f, w) {
			continue
		}
		if f.Thinner(w) < leastThickness {
			return tooThin()
		}
		if r := i.quantity.Read(f, w); r.Verdict != "" && !strings.HasPrefix(r.Note, "speaks of") {
			return check.Inapplicable(r.Note)
		}
	}
	return check.Inapplicable(i.nothing)
}

func (i *imperfection) compare(f *check.Facts, w *joints.Weld, comparisons []comparison) check.Finding {
	t := f.Thinner(w)
	if t < leastThickness {
		return tooThin()
	}
	plates := thickPlates
	if t <= thinUpTo*(1+1e-9) {
		plates = thinPlates
	}
	for j := range comparisons {
		c := &comparisons[j]
		if c.plates != allPlates && c.plates != plates {
			continue
		}
		if c.manner == permitted {
			return check.Inapplicable("the level permits any")
		}
		finding := c.Check(f, w)
		finding.Provenance = c.from
		if finding.Provided != nil && c.manner == short && *finding.Provided > 0 && finding.Verdict == check.Met {
			finding.AddNote("allowed as a short imperfection only; a section does not show its length")
		}
		return finding
	}
	if r := i.quantity.Read(f, w); r.Verdict != "" {
		return check.Finding{Verdict: r.Verdict, Note: r.Note}
	}
	return check.Unknown("the values for plates of this thickness are not on file")
}
