package layout

import "fay/render"

// Cost is what the placing of a view cost.
func (v *View) Cost() float64 { return v.cost }

// Marks are the dimensions and labels of a view.
func (v *View) Marks() []render.Mark { return v.marks }

var Trim = trim

// MostKept is how many sections a shelf keeps.
const MostKept = mostKept

// Sections counts what a shelf keeps.
func (s *Shelf) Sections() int { return len(s.kept) }

// Figures counts the figures it keeps.
func (s *Shelf) Figures() int {
	n := 0
	for _, k := range s.kept {
		n += len(k.figures)
	}
	return n
}
