package symbol

import (
	"regexp"
	"strings"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// label is a text set for a symbol: pieces beside each other, and bars between
// the parts of stacked fractions. Its lower left corner lies on the origin.
type label struct {
	pieces []piece
	bars   []render.Segment
	width  float64
	height float64
}

type piece struct {
	text   string
	at     geometry.Point // of the base line's start
	height float64
	width  float64
}

var fraction = regexp.MustCompile(`(?:(\d+)-)?(\d+)/(\d+)`)

// Parts of a stacked fraction in heights of the lettering around it.
const (
	fractionPart  = smallText
	fractionClear = 0.2  // between a part and the bar
	fractionSide  = 0.1  // of the bar beside its numbers
	fractionApart = 0.12 // beside the bar
)

// letter sets a text at a height; fractions are stacked where that is asked for.
func letter(text string, h float64, stacked bool) label {
	var l label
	if text == "" {
		return l
	}
	places := fraction.FindAllStringSubmatchIndex(text, -1)
	if !stacked || len(places) == 0 {
		l.add(text, h, 0)
		l.height = h
		return l
	}
	part := h * fractionPart
	bar := part + h*fractionClear
	l.height = 2 * bar
	base := bar - h/2
	from := 0
	for _, m := range places {
		before := text[from:m[0]]
		if m[2] >= 0 {
			before += text[m[2]:m[3]]
		}
		l.add(before, h, base)
		num, den := text[m[4]:m[5]], text[m[6]:m[7]]
		wn, wd := lettering.Measure(num, render.FaceRegular, part), lettering.Measure(den, render.FaceRegular, part)
		w := max(wn, wd)
		x := l.width + h*(fractionSide+fractionApart)
		l.pieces = append(l.pieces,
			piece{num, geometry.Point{X: x + (w-wn)/2, Y: bar + h*fractionClear}, part, wn},
			piece{den, geometry.Point{X: x + (w-wd)/2}, part, wd})
		l.bars = append(l.bars, render.Segment{A: geometry.Point{X: x - h*fractionSide, Y: bar}, B: geometry.Point{X: x + w + h*fractionSide, Y: bar}})
		l.width = x + w + h*(fractionSide+fractionApart)
		from = m[1]
	}
	l.add(text[from:], h, base)
	return l
}

func (l *label) add(text string, h, base float64) {
	if strings.TrimSpace(text) == "" {
		return
	}
	w := lettering.Measure(text, render.FaceRegular, h)
	l.pieces = append(l.pieces, piece{text, geometry.Point{X: l.width, Y: base}, h, w})
	l.width += w
}
