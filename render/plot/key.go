package plot

import (
	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// keyLine is a label that found no place beside what it names.
type keyLine struct {
	label  string
	sample func(b geometry.Box)
	more   bool // goes on with the label of the line before it
}

// addKey adds a label to a key so wide, on as many lines as it takes.
func addKey(key []keyLine, label string, width, height float64, sample func(geometry.Box)) []keyLine {
	for i, line := range lettering.Wrap(label, render.FaceRegular, height, width-keySample-keyAir) {
		if i > 0 {
			sample = func(geometry.Box) {}
		}
		key = append(key, keyLine{line, sample, i > 0})
	}
	return key
}

// Sizes of the key, mm: the sample, the air behind it, the air behind a label.
const (
	keySample = 15.0
	keyAir    = 2.0
	keyApart  = 7.0
)

// flow sets the lines of a key side by side, as many to a row as fit, and hands
// each its place. It returns the number of rows.
func flow(key []keyLine, width, height float64, place func(k *keyLine, x float64, row int)) int {
	x, row := 0.0, 0
	for i := range key {
		long := keySample + keyAir + textWidth(key[i].label, height)
		if x > 0 && (x+long > width || key[i].more) {
			x = 0
			row++
		}
		place(&key[i], x, row)
		x += long + keyApart
		if key[i].more {
			x = width // nothing stands beside the end of a label
		}
	}
	if len(key) == 0 {
		return 0
	}
	return row + 1
}

func keyRows(key []keyLine, width, height float64) int {
	return flow(key, width, height, func(*keyLine, float64, int) {})
}

// drawKey draws the key under the diagram.
func (p *placer) drawKey(key []keyLine, box geometry.Box, rows int) {
	height := p.style.TextHeight
	top := box.Min.Y + float64(rows)*height*leading
	flow(key, box.Width(), height, func(k *keyLine, x float64, row int) {
		at := geometry.Point{X: box.Min.X + x, Y: top - float64(row+1)*height*leading}
		k.sample(geometry.Box{Min: at, Max: at.Add(geometry.Point{X: keySample, Y: height})})
		p.fixed("key", render.Text{At: at.Add(geometry.Point{X: keySample + keyAir}), Height: height, Content: k.label})
	})
}

// letterOf is the letter that stands for a line of the key; I and O could be
// taken for figures.
func letterOf(i int) string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	return letters[i%len(letters) : i%len(letters)+1]
}
