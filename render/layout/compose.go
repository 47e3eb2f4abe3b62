package layout

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/symbol"
)

// Figure is a section as it stands on a sheet: one view, or a main view and
// details of its welds.
type Figure struct {
	Views []Placed
	// Width and Height are those of the whole, mm.
	Width, Height float64
	Unplaced      []joints.Measure
	// Homeless are symbols that found no place.
	Homeless []symbol.Symbol

	leg float64 // the smallest, in the section plane
}

// LegScale is the scale the figure shows its welds at, the smallest of them.
func (f *Figure) LegScale() float64 {
	views := f.Views
	if len(views) > 1 {
		views = views[1:] // the main view only tells where the details are
	}
	s := math.Inf(1)
	for i := range views {
		s = math.Min(s, views[i].Scale)
	}
	return s
}

// Leg is how large the smallest leg of the section comes out on paper, mm.
func (f *Figure) Leg() float64 { return f.LegScale() * f.leg }

// Overfull tells that so much found no place, or only one among other things,
// that the figure is worth a sheet with more room.
func (f *Figure) Overfull() bool {
	const lost, crossed = 2, 5
	return slices.ContainsFunc(f.Views, func(p Placed) bool { return p.missing() > lost || p.crowdedBy() > crossed })
}

// Placed is a view of a figure.
type Placed struct {
	*View
	Title string
	// At is the origin of the section plane, counted from the lower left
	// corner of the figure.
	At geometry.Point
}

const (
	// smallLeg is the leg on paper, in mm, under which a weld wants a detail.
	smallLeg = 8
	// crowded is the cost from which a view wants its welds moved to details,
	// with something more for each thing on it.
	crowded, crowdedEach = 140, 20
	// smallFeature is the dimensioned distance on paper, mm, under which a
	// detail shows what the main view cannot.
	smallFeature = 1.5
	gutter       = 6.0 // between views
	heading      = 8.0 // over a view with a title
)

// Compose lays a section out in width by height mm: alone where it can be
// dimensioned well at the largest standard scale that fits, else with a detail
// of each weld.
// The symbols, if any, stand in the main view.
func Compose(sec *joints.Section, s *render.Style, width, height float64, symbols ...symbol.Symbol) *Figure {
	return NewComposer(sec, s, symbols...).Compose(width, height)
}

// Composer lays one section out again and again, on several sizes of paper. It
// keeps what does not depend on the size. It is not safe for concurrent use.
type Composer struct {
	search search
	marked plane // with welding symbols
	bare   plane // without
	leg    float64
	// kept holds figures of the section made before, nil for none; past is what
	// has been asked for and owed what of it was not made here.
	kept *shelved
	past []byte
	owed []question
}

// plane is one way to fill the main view.
type plane struct {
	job
	main *job // with the details taken out
	// details are those of both planes; nil where they are not known yet.
	details *[]detail
}

// NewComposer is Compose in two steps, for several sizes.
func NewComposer(sec *joints.Section, s *render.Style, symbols ...symbol.Symbol) *Composer {
	c := &Composer{leg: smallestLeg(sec)}
	c.bare.job = job{sec: trim(sec), style: s, pairs: pairsOf(sec), search: &c.search}
	c.bare.details = new([]detail)
	c.marked = c.bare
	c.marked.symbols = symbols
	return c
}

// Compose is the function of that name.
func (c *Composer) Compose(width, height float64) *Figure {
	return c.ask(question{whole, width, height})
}

// ComposeBare settles everything but the symbols, which then get what white is
// left.
func (c *Composer) ComposeBare(width, height float64) *Figure {
	if len(c.marked.symbols) == 0 {
		return c.Compose(width, height)
	}
	return c.ask(question{bare, width, height})
}

// LargestLeg is how large the smallest leg can come out without details, mm on
// paper.
func (c *Composer) LargestLeg(width, height float64) float64 {
	return c.leg * c.bare.largest(width, height)
}

// Detailed is the section with details and symbols, or without symbols where
// those leave no room; nil where not everything finds a good place.
func (c *Composer) Detailed(width, height float64) *Figure {
	return c.ask(question{detailed, width, height})
}

func (c *Composer) detailed(width, height float64) *Figure {
	for _, p := range [...]*plane{&c.marked, &c.bare} {
		c.search.again()
		if f := p.detailed(width, height); f != nil {
			return c.finish(p, f, width, height)
		}
		if len(c.marked.symbols) == 0 {
			break
		}
	}
	return nil
}

func (c *Composer) compose(p *plane, width, height float64) *Figure {
	c.search.again()
	p.spare = nil
	return c.finish(p, p.compose(width, height), width, height)
}

// finish finds places for symbols that have none yet.
func (c *Composer) finish(p *plane, f *Figure, width, height float64) *Figure {
	if p == &c.bare {
		f.Homeless = c.marked.symbols
	}
	if len(f.Homeless) > 0 {
		f = p.house(f, width, height)
	}
	f.leg = c.leg
	return f
}

// Symbols are the welding symbols of a section in the system of the style's
// language, unless the options name another one. A joint that has none on file
// gives none.
func Symbols(sec *joints.Section, s *render.Style, seams []joints.Seam, o symbol.Options) []symbol.Symbol {
	if o.System == "" && s.Language == render.LanguageUS {
		o.System = symbol.AWS
	}
	list, err := symbol.All(sec, seams, o)
	if err != nil {
		return nil
	}
	return list
}

func (p *plane) compose(width, height float64) *Figure {
	// Where one view would show too little at any scale, details come first.
	if !p.shows(p.largest(width, height)) {
		if f := p.detailed(width, height); f != nil {
			return f
		}
	}
	one := p.fit(width, height)
	if !one.crowded() && !one.makeshift && p.shows(one.Scale) && len(one.Unplaced) == 0 {
		return single(one)
	}
	if f := p.withDetails(width, height, one.Scale, one.better); f != nil && len(f.Unplaced) <= len(one.Unplaced) {
		return f
	}
	if one.choked() {
		one = one.draft.cleared(width, height)
	}
	return single(one)
}

// largest is the largest standard scale at which the section has room with any
// dimensions.
func (p *plane) largest(width, height float64) float64 {
	return largest(p.style.Sketch(p.sec, 1).Box, width, height)
}

// detailed is the section with details that show more than one view could; nil
// where not everything finds a good place.
func (p *plane) detailed(width, height float64) *Figure {
	most := p.largest(width, height)
	if f := p.withDetails(width, height, most, func(scale float64) bool { return scale > most }); f != nil && f.clear() {
		return f
	}
	return nil
}

// shows tells whether everything comes out large enough at a scale.
func (p *plane) shows(scale float64) bool {
	return smallestLeg(p.sec)*scale >= smallLeg && p.smallestShown()*scale >= smallFeature
}

// clear tells that everything found a good place.
func (f *Figure) clear() bool {
	return !slices.ContainsFunc(f.Views, func(p Placed) bool { return p.missing() > 0 || p.crowded() })
}

// better tells whether details at a scale are worth their room beside what one
// view shows: those that show the weld no larger are where that is choked.
func (v *View) better(details float64) bool {
	return details > v.Scale || v.choked() && smallestLeg(v.draft.job.sec)*details >= smallLeg
}

// single is a figure of one view.
func single(v *View) *Figure {
	return &Figure{Views: []Placed{{View: v, Title: "", At: geometry.Point{X: -v.Box.Min.X, Y: -v.Box.Min.Y}}},
		Width: v.Box.Width(), Height: v.Box.Height(), Unplaced: v.Unplaced, Homeless: v.homeless}
}

func smallestLeg(sec *joints.Section) float64 {
	least := math.Inf(1)
	for i := range sec.Welds {
		for _, f := range sec.Welds[i].Feet {
			if f.Leg > 0 {
				least = math.Min(least, float64(f.Leg))
			}
		}
	}
	return least
}

// smallestFeature is the shortest distance that is dimensioned.
func smallestFeature(sec *joints.Section) float64 {
	least := math.Inf(1)
	for i := range sec.Measures {
		if m := &sec.Measures[i]; m.Draw == joints.DrawLinear {
			least = math.Min(least, m.Value)
		}
	}
	return least
}

// Draw gives the views and items of the figure, its lower left corner at a
// point of the sheet.
func (f *Figure) Draw(at geometry.Point) ([]render.View, []render.Item) {
	views := make([]render.View, 0, len(f.Views))
	var items []render.Item
	for i := range f.Views {
		p := &f.Views[i]
		name := "section"
		if p.Title != "" {
			name = "detail " + p.Title[:1]
		}
		view, list := p.Draw(name, at.Add(p.At), i)
		views, items = append(views, view), append(items, list...)
		if p.Title != "" {
			items = append(items, render.Item{Layer: render.LayerText, View: i, Role: "title", Text: &render.Text{
				At:     at.Add(p.At).Add(geometry.Point{X: p.Box.Centre().X, Y: p.Box.Max.Y + 3}),
				Height: letterHeight, Align: render.AlignCentre, Face: render.FaceBold, Content: p.Title}})
		}
	}
	return views, items
}
