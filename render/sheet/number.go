package sheet

import (
	"slices"
	"strconv"

	"fay/render"
	"fay/render/lettering"
)

// numberRole is the role of the number of a sheet in its title block.
const numberRole = "sheet number"

// numberRoom is the least room for it in any title block, mm.
const numberRoom = 24 - 2*fieldInset

func countOf(n int, of string, count int) string {
	return strconv.Itoa(n) + " " + of + " " + strconv.Itoa(count)
}

// Number is the place of a sheet's number, taken off a drawing.
type Number struct {
	text  render.Text
	of    string
	small float64
}

// TakeNumber takes the number off a sheet of [Compose], for a file whose sheets
// are counted when all of them are there. The bool is false for a drawing
// without a number.
func TakeNumber(d *render.Drawing, o Options) (Number, bool) {
	for i := range d.Items {
		it := &d.Items[i]
		if it.Role != numberRole || it.Text == nil {
			continue
		}
		style := o.Style()
		n := Number{text: *it.Text, of: word(&style, "of"), small: style.SmallHeight}
		d.Items = slices.Delete(d.Items, i, i+1)
		return n, true
	}
	return Number{}, false
}

// Letter gives the number back as text: the sheet's own of so many.
func (n *Number) Letter(sheet, count int) render.Text {
	t := n.text
	t.Content = countOf(sheet, n.of, count)
	if lettering.Measure(t.Content, t.Face, t.Height) > numberRoom {
		t.Height = n.small
	}
	return t
}
