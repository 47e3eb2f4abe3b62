package layout

import "fay/render"

// Cost is what the placing of a view cost.
func (v *View) Cost() float64 { return v.cost }

// Marks are the dimensions and labels of a view.
func (v *View) Marks() []render.Mark { return v.marks }

var Trim = trim
