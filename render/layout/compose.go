package layout

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/lettering"
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
	smallLeg = 10
	// crowded is the cost from which a view wants its welds moved to details,
	// with something more for each thing on it.
	crowded, crowdedEach = 140, 20
	// clumsy is the cost from which a detail is better given more room.
	clumsy = 90
	// largestDetail is the size of a detail without its dimensions, mm.
	largestDetail = 90
	// readable is a leg on paper, in mm, that needs no larger scale.
	readable = 15
	// smallFeature is the dimensioned distance on paper, mm, under which a
	// detail shows what the main view cannot.
	smallFeature = 1.5
	gutter       = 8.0 // between views
	heading      = 9.0 // over a view with a title
)

// Compose lays a section out in width by height mm: alone where it can be
// dimensioned well at the largest standard scale that fits, else with a detail
// of each weld.
// The symbols, if any, stand in the main view.
func Compose(sec *joints.Section, s *render.Style, width, height float64, symbols ...symbol.Symbol) *Figure {
	j := job{sec: trim(sec), pairs: pairsOf(sec), symbols: symbols, search: newSearch()}
	f := j.compose(s, width, height)
	f.leg = smallestLeg(sec)
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

func (j *job) compose(s *render.Style, width, height float64) *Figure {
	sec := j.sec
	one := j.fit(s, width, height)
	if !one.crowded() && smallestLeg(sec)*one.Scale >= smallLeg && smallestFeature(sec)*one.Scale >= smallFeature && len(one.Unplaced) == 0 {
		return single(one)
	}
	// A detail that shows the weld no larger is worth its room only where one
	// view would be choked.
	if f := j.withDetails(s, width, height, one.Scale); f != nil && len(f.Unplaced) <= len(one.Unplaced) &&
		(f.LegScale() > one.Scale || one.crowded() && f.LegScale() >= one.Scale || one.choked() && smallestLeg(sec)*f.LegScale() >= smallLeg) {
		return f
	}
	return single(j.clear(s, one, width, height))
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

// withDetails tries a main view and details, one under the other and side by
// side, at the largest scales that fit. It returns nil where nothing does, or
// where no detail would be larger than the main view.
func (j *job) withDetails(s *render.Style, width, height, above float64) *Figure {
	sec := j.sec
	parts := details(sec)
	if len(parts) == 0 {
		return nil
	}
	// Details are worth a search of their own.
	j.search.left = max(j.search.left, mostEach)
	for i := range parts {
		parts[i].job.search = j.search
	}
	main := j.mainJob(parts)
	size := s.Sketch(sec, 1).Box
	var mains []*View
	for _, scale := range render.Scales {
		if scale > 2*above || size.Width()*scale > width || size.Height()*scale > height || len(mains) == 3 {
			continue
		}
		if scale < above/6 || j.search.exhausted() {
			break
		}
		if v := main.within(s, scale, width, height); v != nil {
			mains = append(mains, v)
		}
	}
	var best *Figure
	most := math.Inf(-1)
	leg := math.Min(smallestLeg(sec), readable/smallFeature*smallestFeature(sec))
	for _, views := range detailViews(parts, s, mains, width, height) {
		for _, m := range mains {
			if slices.ContainsFunc(views, func(v *View) bool { return v.Scale <= m.Scale }) {
				continue
			}
			f := stackViews(m, parts, views, width, height)
			if f == nil {
				continue
			}
			// Details are worth most until their legs are easily read.
			worth := math.Log(m.Scale)
			for _, v := range views {
				worth += 2/float64(len(views))*math.Log(math.Min(leg*v.Scale, readable)) - v.cost/450 - 2*float64(len(v.Unplaced))
			}
			if worth > most {
				best, most = f, worth
			}
		}
	}
	return best
}

// detailViews lays the details out at the scales worth trying and gives every
// choice of one view for each.
func detailViews(parts []detail, s *render.Style, mains []*View, width, height float64) [][]*View {
	if len(mains) == 0 {
		return nil
	}
	smallest := mains[len(mains)-1].Scale
	choices := [][]*View{nil}
	most := 3
	if len(parts) > 2 {
		most = 2 // every choice multiplies
	}
	for i := range parts {
		part := &parts[i]
		part.job.search.left = max(part.job.search.left, mostEach)
		var views []*View
		tried := 0
		for _, scale := range render.Scales {
			b := s.Sketch(part.job.sec, scale).Box
			if scale <= smallest || tried == most || math.Max(b.Width(), b.Height()) > largestDetail {
				continue
			}
			// Side by side under the main view if they can.
			room := (width - gutter*float64(len(parts)-1)) / float64(len(parts))
			v := part.job.within(s, scale, room, 0.6*height)
			if v != nil {
				views = append(views, v)
			}
			if v == nil || v.cost > clumsy && len(parts) < 3 {
				views = append(views, part.job.at(s, scale, geometry.EmptyBox(), attempts))
			}
			tried++
		}
		var next [][]*View
		for _, chosen := range choices {
			for _, v := range views {
				next = append(next, append(slices.Clone(chosen), v))
			}
		}
		choices = next
	}
	return choices
}

// stackViews sets details under the main view, or else at its right.
func stackViews(m *View, parts []detail, views []*View, width, height float64) *Figure {
	unplaced := slices.Clone(m.Unplaced)
	titles := make([]string, len(views))
	least := make([]float64, len(views))
	for i, v := range views {
		unplaced = append(unplaced, v.Unplaced...)
		titles[i] = parts[i].letter + " (" + render.ScaleText(v.Scale) + ")"
		least[i] = math.Max(v.Box.Width(), lettering.Measure(titles[i], render.FaceBold, letterHeight))
	}
	row, rowHigh, column, columnWide := -gutter, 0.0, -gutter, 0.0
	for i, v := range views {
		row += least[i] + gutter
		rowHigh = math.Max(rowHigh, v.Box.Height()+heading)
		column += v.Box.Height() + heading + gutter
		columnWide = math.Max(columnWide, least[i])
	}
	place := func(v *View, title string, x, y, w float64) Placed {
		// Centred on the width given to it.
		x += (w - v.Box.Width()) / 2
		return Placed{View: v, Title: title, At: geometry.Point{X: x - v.Box.Min.X, Y: y - v.Box.Min.Y}}
	}
	if wide, high := math.Max(row, m.Box.Width()), m.Box.Height()+gutter+rowHigh; wide <= width && high <= height {
		f := &Figure{Width: wide, Height: high, Unplaced: unplaced, Homeless: m.homeless}
		f.Views = append(f.Views, place(m, "", 0, rowHigh+gutter, wide))
		spare := (wide - row) / float64(len(views)+1)
		x := spare
		for i, v := range views {
			f.Views = append(f.Views, place(v, titles[i], x, rowHigh-heading-v.Box.Height(), least[i]))
			x += least[i] + gutter + spare
		}
		return f
	}
	if wide, high := m.Box.Width()+gutter+columnWide, math.Max(column, m.Box.Height()); wide <= width && high <= height {
		f := &Figure{Width: wide, Height: high, Unplaced: unplaced, Homeless: m.homeless}
		f.Views = append(f.Views, place(m, "", 0, (high-m.Box.Height())/2, m.Box.Width()))
		y := high - (high-column)/2
		for i, v := range views {
			y -= heading + v.Box.Height()
			f.Views = append(f.Views, place(v, titles[i], m.Box.Width()+gutter, y, columnWide))
			y -= gutter
		}
		return f
	}
	return nil
}

// mainJob is the section without what its details show.
func (j *job) mainJob(parts []detail) job {
	sec := j.sec
	whole := *sec
	whole.Measures = nil
	shown := make([]bool, len(sec.Measures))
	for i := range parts {
		for _, k := range parts[i].index {
			shown[k] = true
		}
	}
	for i := range sec.Measures {
		if !shown[i] && sec.Measures[i].Weld == "" {
			whole.Measures = append(whole.Measures, sec.Measures[i])
		}
	}
	main := job{sec: &whole, symbols: j.symbols, search: j.search}
	for i := range parts {
		main.circles = append(main.circles, parts[i].circle)
	}
	return main
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
