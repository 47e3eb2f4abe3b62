package check

import (
	"math"
	"strings"

	"fay/joints"
)

// Size is what a limit grows with.
type Size string

// The sizes, of a weld: the width of its face from toe to toe, the width of its
// root, its theoretical throat, and the thickness of the thinner member.
const (
	NoSize    Size = ""
	Width     Size = "width"
	RootWidth Size = "root width"
	Throat    Size = "throat"
	Thickness Size = "thickness"
)

// sizes are the sizes with their symbols.
var sizes = map[Size]string{Width: "b", RootWidth: "b", Throat: "a", Thickness: "t"}

// Limit is Base + Factor · Of, at most Most where that is not zero; in mm, or
// in degrees without a size.
type Limit struct {
	Base, Factor float64
	Of           Size
	Most         float64
}

// String prints the limit as tables do: 1 + 0.25·b, at most 5.
func (l Limit) String() string {
	s := ""
	if l.Base != 0 || l.Factor == 0 {
		s = trim(l.Base, 6)
	}
	if l.Factor != 0 {
		if s != "" {
			s += " + "
		}
		if l.Factor != 1 {
			s += trim(l.Factor, 6) + "·"
		}
		s += sizes[l.Of]
	}
	if l.Most > 0 {
		s += ", at most " + trim(l.Most, 6)
	}
	return s
}

// At is the limit for a size.
func (l Limit) At(size float64) float64 {
	h := l.Base + l.Factor*size
	if l.Most > 0 {
		h = math.Min(h, l.Most)
	}
	return h
}

// of returns the size that the limit grows with; false where the weld has none.
func (s Size) of(f *Facts, w *joints.Weld) (float64, bool) {
	switch s {
	case Width:
		return float64(w.FaceWidth), true
	case RootWidth:
		return float64(w.RootWidth.Value), w.RootWidth.Present
	case Throat:
		return float64(w.TheoreticalThroat), true
	case Thickness:
		return float64(f.Thinner(w)), true
	}
	return 0, true
}

// Comparison compares one quantity with one limit, for as many welds as there
// are; its texts are made once.
type Comparison struct {
	quantity *Quantity
	op       Operator
	limit    Limit
	formula  string // h_max = min(…)
	compare  string // h ≤ h_max
	symbol   string // h_max
}

// NewComparison makes the comparison of a quantity with a limit.
func NewComparison(q *Quantity, op Operator, l Limit) Comparison {
	end := "_max"
	if op == AtLeast {
		end = "_min"
	}
	c := Comparison{quantity: q, op: op, limit: l, symbol: q.Symbol + end, compare: q.Symbol + " " + string(op) + " " + q.Symbol + end}
	unit := unitText(q.Unit)
	base := trim(l.Base, 6) + unit
	if l.Factor != 0 {
		factor := trim(l.Factor, 6) + "·" + sizes[l.Of]
		if l.Base != 0 {
			base += " + " + factor
		} else {
			base = factor
		}
	}
	if l.Most > 0 {
		base = "min(" + base + ", " + trim(l.Most, 6) + unit + ")"
	}
	c.formula = c.symbol + " = " + base
	return c
}

func unitText(u joints.Unit) string {
	switch u {
	case joints.UnitDegree:
		return "°"
	case joints.UnitMM:
		return " mm"
	}
	return ""
}

// show prints a value of the quantity's unit.
func (f *Facts) show(v float64, u joints.Unit) string {
	if u == joints.UnitMM {
		return f.Show(lengthOf(v))
	}
	return trim(v, 2) + unitText(u)
}

// Check compares the weld's quantity with the limit.
func (c *Comparison) Check(f *Facts, w *joints.Weld) Finding {
	r := c.quantity.Read(f, w)
	if r.Verdict != "" {
		return Finding{Verdict: r.Verdict, Note: r.Note}
	}
	size, ok := c.limit.Of.of(f, w)
	if !ok {
		return Unknown("the " + string(c.limit.Of) + " is not known")
	}
	bound := c.limit.At(size)
	finding := Compare(r.Value, c.op, bound, c.quantity.Unit)
	if finding.Verdict == CannotTell {
		return finding
	}
	if !f.Brief {
		numbers, shown := "a fixed limit", f.show(bound, c.quantity.Unit)
		if c.limit.Factor != 0 {
			numbers = sizes[c.limit.Of] + " = " + f.Show(lengthOf(size))
		}
		finding.Step(c.formula, numbers, c.symbol+" = "+shown)
		finding.Step(c.compare, f.show(r.Value, c.quantity.Unit)+" "+string(c.op)+" "+shown, string(finding.Verdict))
	}
	if r.Measured {
		finding.AddNote("measured")
	}
	if c.quantity.bound != nil {
		c.quantity.bound(f, w, c.op, bound, &finding)
	}
	if finding.Verdict == NotMet && c.quantity.mend != nil {
		finding.Mend = c.quantity.mend(f, w, c.op, bound)
		if c.limit.Of == Throat && strings.Contains(finding.Mend, " leg") {
			finding.Mend = "" // the limit changes with the leg
			finding.AddNote("closing the gap brings the edge down, the legs with it, and with the throat the limit")
			return finding
		}
		if finding.Mend == "" && c.quantity.hopeless != "" {
			finding.AddNote(c.quantity.hopeless)
		}
	}
	return finding
}
