package sheet

import (
	"errors"
	"fmt"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/fitup"
	"fay/render"
	"fay/render/layout"
	"fay/render/symbol"
)

// Line is a label with its value, both printed as they are.
type Line struct{ Label, Value string }

// Job is what a traveler says.
type Job struct {
	Section *joints.Section

	Company  string // the owner of the sheet
	Number   string // of the job
	Part     string
	Joint    string
	Revision string
	Quantity string
	Date     string
	Planner  string

	// Changed is the date of the revision, Reason what it is for; what is empty
	// is left to be written by hand.
	Changed, Reason, RevisedBy string

	// Seams and Symbol decide what the welding symbols say beyond the section.
	Seams  []joints.Seam
	Symbol symbol.Options

	Materials []Line
	// FitUp are the tables of openings the sheet takes the legs to lay from, one
	// for each opening of the joint.
	FitUp []GapTable
	// Heat are lines on preheat and cooling; none leaves them out.
	Heat     []Line
	Findings []check.Finding
	// Checked are the documents behind the findings.
	Checked []Checked

	Filler []Line
	// Passes are how many runs each weld takes; those of more than one are
	// sketched.
	Passes []Passes
	// Cautions are printed after those every sheet carries.
	Cautions []string
	Notes    []string
	// HoldPoints replaces the usual ones where it is not empty.
	HoldPoints []Line
	// Digest identifies the joint's input, so that a print can be traced.
	Digest string
	// Logo stands in the box of the owner; nil leaves it out.
	Logo *Logo
	// Shelf keeps the figures of the jobs it is handed to; nil keeps none.
	Shelf *layout.Shelf
}

// Checked is a document that a joint was checked against. NotFor names the metals
// of the joint that it is not written for; empty where it is.
//
// Idle is a document none of whose rules apply to the joint.
type Checked struct {
	Title, NotFor string
	Idle          bool
}

// GapTable is a table of openings with the end that a rule sets to it.
type GapTable struct {
	*fitup.Table
	// Limit is the opening over which a rule is not met with the legs to lay,
	// Rule the id of that rule; absent where no rule ends within the table.
	Limit joints.Opt
	Rule  string
}

// Passes is how many runs a weld takes.
type Passes struct {
	Weld  string
	Count int
}

// Size is a sheet size.
type Size string

// The sheet sizes.
const (
	A4     Size = "a4"
	A3     Size = "a3"
	Letter Size = "letter"
)

// Orientation is how a sheet is turned.
type Orientation string

// The orientations. Auto is upright, unless the sheet lying down shows more of a
// section that does not stand there whole and large.
const (
	Auto      Orientation = "auto"
	Portrait  Orientation = "portrait"
	Landscape Orientation = "landscape"
)

// Options are the choices of a sheet. The zero value is an A4 sheet in ISO
// terms and millimetres, turned as it fits best.
type Options struct {
	Size        Size
	Orientation Orientation
	Language    render.Language
	// Drafting picks lines and dimensions apart from the words; empty follows
	// Language.
	Drafting render.Language
	// Unit is the unit of lengths, millimetres or inches.
	Unit geometry.Unit
	// Denominator of inch fractions; 0 prints decimals only.
	Denominator int
	// Dual letters the dimensions of the section in the other unit too, in
	// brackets.
	Dual bool
	// NoTint draws welds without their tint.
	NoTint bool
}

// OptionError is an option that is not on the list.
type OptionError struct{ Field, Value, Remedy string }

func (e *OptionError) Error() string {
	return fmt.Sprintf("sheet: %s %q is not known: use %s", e.Field, e.Value, e.Remedy)
}

func (o Options) check() error {
	var faults []error
	add := func(field, value, remedy string) {
		faults = append(faults, &OptionError{field, value, remedy})
	}
	switch o.Size {
	case "", A4, A3, Letter:
	default:
		add("size", string(o.Size), "a4, a3 or letter")
	}
	switch o.Orientation {
	case "", Auto, Portrait, Landscape:
	default:
		add("orientation", string(o.Orientation), "auto, portrait or landscape")
	}
	switch o.Language {
	case "", render.LanguageISO, render.LanguageUS:
	default:
		add("language", string(o.Language), "iso or us")
	}
	switch o.Drafting {
	case "", render.LanguageISO, render.LanguageUS:
	default:
		add("drafting", string(o.Drafting), "iso or us")
	}
	switch o.Unit {
	case geometry.UnitMM, geometry.UnitInch:
	default:
		add("unit", o.Unit.String(), "mm or in")
	}
	return errors.Join(faults...)
}

// Style is the drafting style the options ask for.
func (o Options) Style() render.Style {
	s := render.ISO()
	if o.Drafting == render.LanguageUS || o.Drafting == "" && o.Language == render.LanguageUS {
		s = render.US()
	}
	s.Language = render.LanguageISO
	if o.Language != "" {
		s.Language = o.Language
	}
	other := geometry.UnitInch
	if o.Unit == geometry.UnitInch {
		other = geometry.UnitMM
	}
	if o.Dual {
		// For information: decimals.
		second := numbers(s.Numbers, other, 0)
		s.Second = &second
	}
	if o.NoTint {
		white := render.Ink{R: 255, G: 255, B: 255}
		s.Tint, s.Melted = white, white
	}
	s.Numbers = numbers(s.Numbers, o.Unit, o.Denominator)
	return s
}

// numbers letters lengths in a unit: millimetres with a leading zero and none
// behind, inches with three decimals, in the US style without a leading zero
// (secondary, Y14.5 reports).
func numbers(n render.Numbers, unit geometry.Unit, denominator int) render.Numbers {
	n.Unit, n.Denominator = unit, denominator
	if unit == geometry.UnitMM {
		n.LeadingZero, n.Decimals, n.Fixed, n.Denominator = true, 2, false, 0
	} else {
		n.Decimals, n.Fixed = 3, true
	}
	return n
}

// ErrNoSection is returned for a job without a section.
var ErrNoSection = errors.New("sheet: a job needs a section")

// Compose lays the job out on one sheet, or on as many as it takes. The error
// is ErrNoSection or joins one *OptionError for each bad option.
func Compose(job Job, o Options) ([]*render.Drawing, error) {
	err := o.check()
	if job.Section == nil || len(job.Section.Members) == 0 {
		err = errors.Join(err, ErrNoSection)
	}
	if err != nil {
		return nil, err
	}
	var best *plan
	for _, p := range o.papers() {
		c := newComposer(&job, o, p)
		if best == nil {
			c.figures = job.Shelf.Composer(job.Section, &c.style, c.symbols...)
		} else {
			c.figures = best.c.figures // both papers have the same section
		}
		plan := c.plan(best)
		if best == nil || plan != nil && plan.better(best) {
			best = plan
		}
		if best.sound() {
			break
		}
	}
	return best.draw(), nil
}

// paper is a sheet with its margins, mm.
type paper struct {
	width, height float64
	landscape     bool
}

// The borders of a sheet: 20 mm at the filing edge, 10 mm elsewhere (ISO 5457,
// secondary). Letter keeps them, so that one folder takes both.
const (
	filing = 20.0
	border = 10.0
)

func (o Options) papers() []paper {
	w, h := 210.0, 297.0
	switch o.Size {
	case Letter:
		w, h = 8.5*25.4, 11*25.4
	case A3:
		w, h = 297, 420
	case A4:
	}
	switch o.Orientation {
	case Portrait:
		return []paper{{w, h, false}}
	case Landscape:
		return []paper{{h, w, true}}
	case Auto:
	}
	return []paper{{w, h, false}, {h, w, true}}
}

// frame is the drawing space.
func (p paper) frame() geometry.Box {
	return geometry.Box{Min: geometry.Point{X: filing, Y: border}, Max: geometry.Point{X: p.width - border, Y: p.height - border}}
}

// plan is a layout settled but not drawn.
type plan struct {
	c      *composer
	figure *layout.Figure
	at     geometry.Point // of the figure
	pages  [][]placedBlock
}

// sound tells whether the section stands on one sheet, with all there is to say
// of it and a weld that reads across a bench.
func (p *plan) sound() bool {
	f := p.figure
	return len(p.pages) == 1 && len(f.Unplaced) == 0 && !p.c.homeless && f.Leg() >= largeLeg
}

// better prefers a weld that reads well, then fewer sheets, then the larger
// weld on paper, then portrait, which comes first.
func (p *plan) better(q *plan) bool {
	a, b := p.figure.Leg(), q.figure.Leg()
	if plain := a >= plainLeg; plain != (b >= plainLeg) {
		return plain
	}
	if len(p.pages) != len(q.pages) {
		return len(p.pages) < len(q.pages)
	}
	return a > b*(1+1e-9)
}
