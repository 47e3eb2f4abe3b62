package layout

import (
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/lettering"
)

// Figure is a section as it stands on a sheet: one view, or a main view and
// details of its welds.
type Figure struct {
	Views []Placed
	// Width and Height are those of the whole, mm.
	Width, Height float64
	Unplaced      []joints.Measure

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
	// crowded is the cost from which a view wants its welds moved to details.
	crowded = 230
	// clumsy is the cost from which a detail is better given more room.
	clumsy = 90
	// largestDetail is the size of a detail without its dimensions, mm.
	largestDetail = 90
	// readable is a leg on paper, in mm, that needs no larger scale.
	readable = 15
	gutter   = 8.0 // between views
	heading  = 9.0 // over a view with a title
)

// Compose lays a section out in width by height mm: alone where it can be
// dimensioned well at the largest standard scale that fits, else with a detail
// of each weld.
func Compose(sec *joints.Section, s *render.Style, width, height float64) *Figure {
	f := compose(trim(sec), s, width, height)
	f.leg = smallestLeg(sec)
	return f
}

func compose(sec *joints.Section, s *render.Style, width, height float64) *Figure {
	one := Fit(sec, s, width, height)
	single := &Figure{Views: []Placed{{View: one, Title: "", At: geometry.Point{X: -one.Box.Min.X, Y: -one.Box.Min.Y}}},
		Width: one.Box.Width(), Height: one.Box.Height(), Unplaced: one.Unplaced}
	if one.cost < crowded && smallestLeg(sec)*one.Scale >= smallLeg && len(one.Unplaced) == 0 {
		return single
	}
	if f := withDetails(sec, s, width, height, one.Scale); f != nil && len(f.Unplaced) <= len(single.Unplaced) {
		return f
	}
	return single
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

// withDetails tries a main view and details, one under the other and side by
// side, at the largest scales that fit. It returns nil where nothing does, or
// where no detail would be larger than the main view.
func withDetails(sec *joints.Section, s *render.Style, width, height, above float64) *Figure {
	parts := details(sec)
	if len(parts) == 0 {
		return nil
	}
	main := mainJob(sec, parts)
	size := s.Sketch(sec, 1).Box
	var mains []*View
	for _, scale := range render.Scales {
		if scale > 2*above || size.Width()*scale > width || size.Height()*scale > height || len(mains) == 3 {
			continue
		}
		if v := main.within(s, scale, width, height); v != nil {
			mains = append(mains, v)
		}
	}
	var best *Figure
	most := math.Inf(-1)
	leg := smallestLeg(sec)
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
				worth += 2/float64(len(views))*math.Log(math.Min(leg*v.Scale, readable)) - v.cost/450
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
	for i := range parts {
		part := &parts[i]
		var views []*View
		tried := 0
		for _, scale := range render.Scales {
			b := s.Sketch(part.job.sec, scale).Box
			if scale <= smallest || tried == 3 || math.Max(b.Width(), b.Height()) > largestDetail {
				continue
			}
			// Side by side under the main view if they can.
			room := (width - gutter*float64(len(parts)-1)) / float64(len(parts))
			v := part.job.within(s, scale, room, 0.6*height)
			if v != nil {
				views = append(views, v)
			}
			if v == nil || v.cost > clumsy {
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
		f := &Figure{Width: wide, Height: high, Unplaced: unplaced}
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
		f := &Figure{Width: wide, Height: high, Unplaced: unplaced}
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
func mainJob(sec *joints.Section, parts []detail) job {
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
	j := job{sec: &whole}
	for i := range parts {
		j.circles = append(j.circles, parts[i].circle)
	}
	return j
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
