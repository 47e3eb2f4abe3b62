package layout

import (
	"slices"

	"fay/geometry"
	"fay/render/symbol"
)

// house gives those symbols of a figure that found no place the white about its
// main view, in width by height mm.
func (p *plane) house(f *Figure, width, height float64) *Figure {
	main := f.Views[0].View
	best := f
	for i, room := range rooms(main.Box, width-f.Width, height-f.Height) {
		if i > 0 && p.search.looked > mostAll {
			break
		}
		v := main.draft.with(f.Homeless, room).view()
		if len(v.homeless) >= len(best.Homeless) || len(v.Unplaced) > len(main.Unplaced) || v.nameless > main.nameless || v.choked() && !main.choked() {
			continue
		}
		if g := p.figure(v, f, width, height); g != nil {
			if best = g; len(v.homeless) == 0 {
				break
			}
		}
	}
	return best
}

// figure is a figure with another main view; nil where that has no room.
func (p *plane) figure(main *View, f *Figure, width, height float64) *Figure {
	if len(f.Views) == 1 {
		if !main.fits(width, height) {
			return nil
		}
		return single(main)
	}
	views := []*View{main}
	for i := range f.Views[1:] {
		views = append(views, f.Views[i+1].View)
	}
	return compound(views, p.parts(), width, height)
}

// rooms are the ways for a view to grow by so much altogether. The first is too
// large, and may do all the same.
func rooms(b geometry.Box, x, y float64) []geometry.Box {
	x, y = max(0, x), max(0, y)
	grown := func(left, right, down, up float64) geometry.Box {
		return geometry.Box{Min: b.Min.Sub(geometry.Point{X: left * x, Y: down * y}), Max: b.Max.Add(geometry.Point{X: right * x, Y: up * y})}
	}
	ways := [...][2]float64{{0.5, 0.5}, {0, 1}, {1, 0}, {0.5, 1}, {0.5, 0}, {1, 0.5}, {0, 0.5}, {0, 0}}
	out := append(make([]geometry.Box, 0, 1+len(ways)), grown(1, 1, 1, 1))
	for _, at := range ways {
		out = append(out, grown(at[0], 1-at[0], at[1], 1-at[1]))
	}
	return slices.Compact(out)
}

// with is the draft with symbols placed last, inside walls.
func (d *draft) with(symbols []symbol.Symbol, walls geometry.Box) *draft {
	scene := *d.p.scene
	scene.limit = walls
	c := d.copied(&scene)
	c.list, c.set = nil, nil
	for i := range d.set {
		if d.set[i].ok || d.list[i].symbol == nil {
			c.list, c.set = append(c.list, d.list[i]), append(c.set, d.set[i])
		} else {
			c.cost -= d.set[i].cost
		}
	}
	c.without(nil)
	for i := range symbols {
		t := symbolTask(c.job.sec, &symbols[i], c.sketch.Scale)
		r := c.p.place(&t)
		c.p.put(&r)
		c.list, c.set, c.cost = append(c.list, t), append(c.set, r), c.cost+r.cost
	}
	c.improve()
	return c
}
