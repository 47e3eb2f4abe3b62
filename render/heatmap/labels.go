package heatmap

import (
	"math"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// The rings that labels are looked for on around what they name, mm.
const (
	labelHalo  = 0.7
	leaderGap  = 0.6 // between a label and its leader
	ringStep   = 1.5
	mostRing   = 40
	ringPlaces = 24
)

// site is a place for a label.
type site struct {
	centre geometry.Point
	ring   float64
	// end is where its leader leaves it, and crossed how many lines that crosses.
	end     geometry.Point
	crossed int
}

// leads reports whether a label at the site needs its leader: it stands off, or
// another line lies between.
func (s *site) leads() bool { return s.ring > 3 || s.crossed > 0 }

// near finds places for a label on rings round a place, nearest first, and
// stops where take says so.
func (v *view) near(at geometry.Point, width, height float64, leader bool, take func(site) bool) {
	for r := ringStep; r < mostRing; r += ringStep {
		for k := range ringPlaces {
			u := geometry.Polar(1, geometry.Angle(float64(k)*360/ringPlaces+45)*geometry.Degree)
			s := site{centre: at.Add(geometry.Point{X: u.X * (r + width/2), Y: u.Y * (r + height/2)}), ring: r}
			if !v.clear(s.centre, width, height) {
				continue
			}
			if leader {
				d := at.Sub(s.centre)
				s.end = s.centre.Add(d.Scale(math.Min((width/2+leaderGap)/math.Abs(d.X), (height/2+leaderGap)/math.Abs(d.Y))))
				s.crossed = v.crossings(at, s.end)
				if s.leads() && v.crossesLabel(at, s.end) {
					continue
				}
			}
			if take(s) {
				return
			}
		}
	}
}

// label letters a text near a place, on the nearest ring where it is clear of
// everything, with a leader where it stands off.
func (v *view) label(role, content string, height float64, at geometry.Point, leader bool) {
	width := lettering.Measure(content, render.FaceRegular, height)
	v.near(at, width, height, leader, func(s site) bool {
		v.put(role, content, height, at, &s, leader)
		return true
	})
}

func (v *view) put(role, content string, height float64, at geometry.Point, s *site, leader bool) {
	if leader && s.leads() {
		v.stroke(render.LayerDimension, "leader:"+role, []geometry.Point{at, s.end}, &render.Stroke{Width: 0.18})
	}
	v.letter(role, content, height, s.centre, lettering.Measure(content, render.FaceRegular, height))
}

// What a leader costs besides its length, mm: to cross a line, and to end
// where another one does.
const (
	crossCost = 6.
	sameEnd   = 5.
)

// standOff labels lines that have no room for a label on them: from the place
// on them whose leader is short, crosses little, and ends apart from others.
func (v *view) standOff(content string, lines [][]geometry.Point) {
	height := v.style.SmallHeight
	width := lettering.Measure(content, render.FaceRegular, height)
	best, from, least := site{}, geometry.Point{}, math.Inf(1)
	for _, l := range lines {
		for _, at := range along(l, length(l)/8) {
			extra := 0.
			for _, p := range v.taken {
				extra = math.Max(extra, 2*(sameEnd-p.Dist(at)))
			}
			v.near(at, width, height, true, func(s site) bool {
				if cost := s.ring + crossCost*float64(s.crossed) + extra; cost < least {
					best, from, least = s, at, cost
				}
				return s.ring+extra > least
			})
		}
	}
	if !math.IsInf(least, 1) {
		v.taken = append(v.taken, from)
		v.put("isotherm", content, height, from, &best, true)
	}
}

// names letters the members' names into them, where there is most room.
func (v *view) names() {
	height := v.style.SmallHeight
	for _, f := range v.job.Weld.Feet {
		m := &v.job.Section.Members[f.Member]
		width := lettering.Measure(m.Name, render.FaceRegular, height)
		inside := func(c geometry.Point, more float64) bool {
			half := geometry.Point{X: width/2 + more, Y: height/2 + more}
			for _, corner := range [4]geometry.Point{{X: half.X, Y: half.Y}, {X: half.X, Y: -half.Y}, {X: -half.X, Y: half.Y}, {X: -half.X, Y: -half.Y}} {
				if m.Outline.Locate(c.Add(corner).Sub(v.origin).Scale(1/v.scale)) != geometry.Inside {
					return false
				}
			}
			return true
		}
		var best geometry.Point
		most := 0.
		const step = 3.
		for x := v.window.Min.X + step; x < v.window.Max.X; x += step {
			for y := v.window.Min.Y + step; y < v.window.Max.Y; y += step {
				c := geometry.Point{X: x, Y: y}
				room := 0.
				for more := 1.; more <= 8 && inside(c, more) && v.clear(c, width+2*more, height+2*more); more++ {
					room = more
				}
				if room > most {
					best, most = c, room
				}
			}
		}
		if most > 0 {
			v.letter("member", m.Name, height, best, width)
		}
	}
}

func (v *view) letter(role, content string, height float64, centre geometry.Point, width float64) {
	v.boxes = append(v.boxes, boxAround(centre, width, height))
	v.items = append(v.items, render.Item{Layer: render.LayerText, View: viewIndex, Role: role, Text: &render.Text{
		At: centre.Sub(geometry.Point{Y: height / 2}), Height: height, Align: render.AlignCentre, Content: content, Halo: 0.3,
	}})
}

func boxAround(c geometry.Point, width, height float64) geometry.Box {
	half := geometry.Point{X: width/2 + labelHalo, Y: height/2 + labelHalo}
	// Tails reach below the base line.
	return geometry.Box{Min: c.Sub(half).Sub(geometry.Point{Y: 0.25 * height}), Max: c.Add(half)}
}

// clear tells whether a label is clear of lines, labels and the frame.
func (v *view) clear(c geometry.Point, width, height float64) bool {
	box := boxAround(c, width, height)
	if !v.window.Contains(box.Min) || !v.window.Contains(box.Max) {
		return false
	}
	for _, b := range v.boxes {
		if b.Overlaps(box) {
			return false
		}
	}
	for _, l := range v.lines {
		if _, _, hit := clipSegment(l.A, l.B, box); hit {
			return false
		}
	}
	return true
}

func (v *view) crossesLabel(a, b geometry.Point) bool {
	for _, box := range v.boxes {
		if _, _, hit := clipSegment(a, b, box); hit {
			return true
		}
	}
	return false
}

// crossings counts the lines that a leader crosses between its ends.
func (v *view) crossings(a, b geometry.Point) int {
	// A letter's leader begins on the line that its place is on.
	const clearance = 0.05
	d := b.Sub(a)
	if d.Norm() < 2*clearance {
		return 0
	}
	a = a.Add(d.Unit().Scale(clearance))
	n := 0
	for _, l := range v.lines {
		side := func(p, q, r geometry.Point) bool { return q.Sub(p).Cross(r.Sub(p)) > 0 }
		if side(a, b, l.A) != side(a, b, l.B) && side(l.A, l.B, a) != side(l.A, l.B, b) {
			n++
		}
	}
	return n
}
