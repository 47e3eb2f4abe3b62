// Package preparation compares the preparation of a joint with tables of
// preparations by thickness and process, and lists the rows that suit a plate.
// The tables stand in packages of their own, by document.
//
// Lengths are in mm and angles in degrees, as the tables print them.
package preparation

import (
	"math"
	"slices"
	"strconv"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Forms of joints besides the preparations of joints.Prep.
const (
	Flanged  joints.Prep = "flanged"  // edges bent up and melted down
	Compound joints.Prep = "compound" // a steep bevel over a flat one
	Fillet   joints.Prep = "fillet"   // a square edge standing or lying on a plate
)

// Span is a range as a table prints it. The zero value is a cell without one.
type Span struct {
	Low, High float64 // High may be +Inf
	// PerThickness is added to both ends times the thickness: 1 for a gap of t.
	PerThickness float64
	// Nominal is the value to start a plan from, before PerThickness.
	Nominal float64
	// About says that the table prints a value without a range: it can be
	// shown but not compared.
	About    bool
	lowFixed bool // PerThickness moves the upper end only
	given    bool
}

// Between is a range; a plan starts from its middle.
func Between(low, high float64) Span {
	return Span{Low: low, High: high, Nominal: (low + high) / 2, given: true}
}

// Exactly is one printed value.
func Exactly(v float64) Span { return Span{Low: v, High: v, Nominal: v, given: true} }

// AtLeast is a range without an upper end.
func AtLeast(v float64) Span { return Span{Low: v, High: math.Inf(1), Nominal: v, given: true} }

// About is a value printed without a range, plus a multiple of the thickness.
func About(v, perThickness float64) Span {
	return Span{Low: v, High: v, Nominal: v, PerThickness: perThickness, About: true, given: true}
}

// Detail is a range with the plus tolerance of a drawing beyond its upper end;
// a plan starts from its lower end.
func Detail(low, high, plus float64) Span {
	return Span{Low: low, High: high + plus, Nominal: low, given: true}
}

// OfThickness is a multiple of the thickness with a plus tolerance.
func OfThickness(times, plus float64) Span {
	return Span{High: plus, PerThickness: times, given: true}
}

// UpToThickness is anything up to a multiple of the thickness.
func UpToThickness(times float64) Span { return Span{lowFixed: true, PerThickness: times, given: true} }

// Given reports whether the table has a value.
func (s Span) Given() bool { return s.given }

// For is the range at a thickness.
func (s Span) For(t geometry.Length) Span {
	add := s.PerThickness * float64(t)
	s.PerThickness = 0
	if s.lowFixed {
		s.High += add
		s.Nominal = (s.Low + s.High) / 2
		return s
	}
	s.Low, s.High, s.Nominal = s.Low+add, s.High+add, s.Nominal+add
	return s
}

// excess is how far v lies outside, relative to the size of the range.
func (s Span) excess(v float64) float64 {
	if !s.given || s.About {
		return 0
	}
	return math.Max(0, math.Max(s.Low-v, v-s.High)) / (1 + math.Abs(s.Low))
}

// String prints the range: 40 to 60, 0, at least 4.5, about t/2.
func (s Span) String() string {
	n := func(v float64) string {
		if s.PerThickness == 0 {
			return trim(v)
		}
		times := "t"
		if s.PerThickness != 1 {
			times = trim(s.PerThickness) + "·t"
		}
		if v == 0 {
			return times
		}
		return times + " + " + trim(v)
	}
	switch {
	case !s.given:
		return "-"
	case s.About:
		return "about " + n(s.Nominal)
	case math.IsInf(s.High, 1):
		return "at least " + n(s.Low)
	case s.lowFixed && s.PerThickness != 0:
		return trim(s.Low) + " to " + n(s.High)
	case s.Low == s.High:
		return n(s.Low)
	}
	return n(s.Low) + " to " + n(s.High)
}

func trim(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

// Want is what a row asks of something that a joint may have or not.
type Want uint8

// The wants.
const (
	Either Want = iota
	Yes
	No
)

func (w Want) holds(has bool) bool { return w == Either || (w == Yes) == has }

// Row is one row of a table.
type Row struct {
	Name      string // as printed, or what it is
	Clause    string // table or figure; the table's own when empty
	Prep      joints.Prep
	Backing   Want
	Butt      Want     // butt joints only, or T and corner joints only
	Processes []string // short names; empty means any
	// From and To bound the thickness; a To of 0 is everything thicker. Over
	// leaves From itself out. Nominal rows are printed for single sizes and
	// hold for plates that go by the same size, see sizeSlack.
	From, To geometry.Length
	Over     bool
	Nominal  bool
	// Angle is included for V preparations, of one side for the others, unless
	// PerSide says that a V is printed by the side, or Included the other way.
	Angle, Opening, RootFace, Radius Span
	PerSide                          bool
	Included                         bool             // a U is printed by the included angle
	Provenance                       check.Provenance // the table's own when empty
	Note                             string
}

// sizeSlack is how far a plate may be off a printed size and still go by it:
// 6.35 mm plate is 6.4 mm, 12.7 mm plate is 12.5 mm.
const sizeSlack = 0.02

// Covers reports whether the row holds for a thickness.
func (r *Row) Covers(t geometry.Length) bool {
	slack := geometry.Length(1e-9)
	if r.Nominal {
		slack = sizeSlack
	}
	if r.Over && t <= r.From*(1+1e-9) || t < r.From*(1-slack) {
		return false
	}
	return r.To == 0 || t <= r.To*(1+slack)
}

func (r *Row) serves(process string) bool {
	return process == "" || len(r.Processes) == 0 || slices.Contains(r.Processes, process)
}

// Thickness prints the thicknesses of the row.
func (r *Row) Thickness() string {
	from, to := trim(float64(r.From)), trim(float64(r.To))
	switch {
	case r.To == 0 && r.From == 0:
		return "any"
	case r.To == 0 && r.Over:
		return "over " + from
	case r.To == 0:
		return "from " + from
	case r.From == r.To:
		return from
	case r.From == 0:
		return "up to " + to
	}
	return from + " to " + to
}

// Table is a table of preparations from one document.
type Table struct {
	ID         string // of the document
	Source     check.Source
	Provenance check.Provenance
	Read       string
	Families   []string // metal families it is written for
	Rows       []Row
}

func (t *Table) source(r *Row) check.Source {
	s := t.Source
	if r.Clause != "" {
		s.Clause = r.Clause
	}
	return s
}

func (t *Table) provenance(r *Row) check.Provenance {
	if r.Provenance != "" {
		return r.Provenance
	}
	return t.Provenance
}

// Document makes the rule document of the table.
func (t *Table) Document(title string) check.Document {
	return check.Document{ID: t.ID, Title: title, Scope: t.Families, Rules: t.rules()}
}

// Preparation is a row that suits a plate.
type Preparation struct {
	Document   string
	Row        string
	Source     check.Source
	Provenance check.Provenance
	Prep       joints.Prep
	Backing    Want
	Butt       Want
	Processes  []string // empty means any
	// The ranges at the thickness asked for; not given where the row has none.
	// Angle is included for V preparations, of one side for the others.
	Angle, Opening, RootFace, Radius Span
	Note                             string
}

// Suits lists the rows whose thickness covers t, for a metal family and a
// process; an empty name of either is any.
func (t *Table) Suits(thickness geometry.Length, family, process string) []Preparation {
	if family != "" && len(t.Families) > 0 && !slices.Contains(t.Families, family) {
		return nil
	}
	var out []Preparation
	for i := range t.Rows {
		r := &t.Rows[i]
		if !r.Covers(thickness) || !r.serves(process) {
			continue
		}
		if r.RootFace.given && r.RootFace.For(thickness).Low >= float64(thickness) {
			continue // the row leaves the thickness open, but its root face does not fit
		}
		if !r.roundFits(thickness) {
			continue
		}
		angle, n := r.Angle, sides(r)
		angle.Low, angle.High, angle.Nominal = n*angle.Low, n*angle.High, n*angle.Nominal
		out = append(out, Preparation{
			Document: t.ID, Row: r.Name, Source: t.source(r), Provenance: t.provenance(r), Prep: r.Prep, Backing: r.Backing, Butt: r.Butt,
			Processes: r.Processes, Angle: angle, Opening: r.Opening.For(thickness), RootFace: r.RootFace.For(thickness), Radius: r.Radius.For(thickness), Note: r.Note,
		})
	}
	return out
}

// roundFits reports whether the root radius finds room in the groove of a plate
// where the row leaves the thickness open.
func (r *Row) roundFits(t geometry.Length) bool {
	if !r.Radius.given || r.Prep == Flanged {
		return true
	}
	depth := float64(t) - r.RootFace.For(t).Nominal
	if r.Prep == joints.PrepDoubleU || r.Prep == joints.PrepDoubleJ {
		depth /= 2
	}
	side := geometry.Angle(r.Angle.Nominal) * geometry.Degree
	if r.Included {
		side /= 2
	}
	return r.Radius.Nominal*(1-side.Sin()) <= depth
}
