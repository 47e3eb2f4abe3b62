package sketch

import (
	"math"
	"slices"

	"fay/geometry"
)

// ink is a set of characters.
type ink struct {
	members       []rune
	weld, root    rune
	backing       rune
	broken        rune
	across        [3]rune // left end, line, right end of a level dimension
	upright       [3]rune // upper end, line, lower end of an upright one
	sub           bool    // edges of welds to a quarter of a cell
	light, middle rune    // a cell the weld fills in part, without sub
}

var (
	asciiInk = ink{
		members: []rune{'/', '\\', ':', '='}, weld: '#', root: 'o', backing: '%', broken: '~',
		across: [3]rune{'|', '-', '|'}, upright: [3]rune{'-', '|', '-'}, light: '.', middle: '+',
	}
	boxInk = ink{
		members: []rune{'╱', '╲', '╳', '┼'}, weld: '█', root: '○', backing: '▒', broken: '┊',
		across: [3]rune{'├', '─', '┤'}, upright: [3]rune{'┬', '│', '┴'}, sub: true,
	}
)

// Samples of a cell: enough to weigh its parts, and even, so that quarters of
// a cell are whole samples.
const (
	samplesX = 4
	samplesY = 8
)

// part says what a sample lies in: 0 nothing, 1 weld, 2 broken end, 3 backing,
// from 4 on a member.
type part = uint8

const (
	inNothing part = iota
	inWeld
	inBroken
	inBacking
	inMember
)

// raster shades the cells by what fills most of them.
func (k *sketch) raster() {
	width := k.cols * samplesX
	samples := make([][]part, k.rows*samplesY)
	for i := range samples {
		samples[i] = make([]part, width)
		y := (float64(k.top) - (float64(i)+0.5)/samplesY) * 2 * k.unit
		k.scan(samples[i], y)
	}
	k.cells = make([][]rune, k.rows)
	for r := range k.cells {
		k.cells[r] = make([]rune, k.cols)
		for c := range k.cells[r] {
			k.cells[r][c] = k.cell(samples, r, c)
		}
	}
}

// scan fills one line of samples; the last to write wins, which is the weld.
func (k *sketch) scan(row []part, y float64) {
	s := k.section
	for i := range s.Members {
		for _, x := range k.inside(&s.Members[i].Outline, y, len(row)) {
			p := k.sampleAt(x, y)
			row[x] = inMember + part(i)
			for _, l := range k.limits[i] {
				switch d := l.reach - p.Dot(l.normal); {
				case d < 0:
					row[x] = inNothing
				case d < k.unit*(1+math.Abs(l.normal.Y)) && row[x] != inNothing:
					// The last column, or row, before the end.
					row[x] = inBroken
					k.broken = true
				}
			}
		}
	}
	if s.Backing != nil {
		for _, x := range k.inside(&s.Backing.Outline, y, len(row)) {
			row[x] = inBacking
		}
	}
	for i := range s.Welds {
		for _, x := range k.inside(&s.Welds[i].Profile, y, len(row)) {
			row[x] = inWeld
		}
	}
}

// inside lists the samples of a line that lie in an outline.
func (k *sketch) inside(o *geometry.Outline, y float64, n int) []int {
	var out []int
	for _, c := range o.Chords(geometry.Point{Y: y}, geometry.Point{X: 1}) {
		for x := range n {
			if at := k.sampleAt(x, y).X; at > c[0] && at < c[1] {
				out = append(out, x)
			}
		}
	}
	return out
}

func (k *sketch) sampleAt(x int, y float64) geometry.Point {
	return geometry.Point{X: (float64(k.left) + (float64(x)+0.5)/samplesX) * k.unit, Y: y}
}

// cell picks the character of a cell.
func (k *sketch) cell(samples [][]part, r, c int) rune {
	const all = samplesX * samplesY
	var count [256]int
	var quarters [4]int // of the weld: upper left, upper right, lower left, lower right
	for y := range samplesY {
		for x := range samplesX {
			p := samples[r*samplesY+y][c*samplesX+x]
			count[p]++
			if p == inWeld {
				quarters[2*(2*y/samplesY)+2*x/samplesX]++
			}
		}
	}
	weld, nothing := count[inWeld], count[inNothing]
	if k.ink.sub && weld > 0 && weld+nothing > all*3/4 {
		return quadrant(quarters, all/4/2)
	}
	if weld > 0 && weld < all/2 && weld+nothing > all*3/4 {
		switch {
		case weld > all/4:
			return k.ink.middle
		case weld > all/10:
			return k.ink.light
		}
		return ' '
	}
	if nothing >= all/2 {
		return ' '
	}
	best := inWeld
	for p := inWeld; int(p) < len(count)-1; p++ {
		if count[p] > count[best] {
			best = p
		}
	}
	switch best {
	case inWeld:
		return k.ink.weld
	case inBroken:
		return k.ink.broken
	case inBacking:
		return k.ink.backing
	}
	return k.ink.members[int(best-inMember)%len(k.ink.members)]
}

// quadrant picks the block character for quarters that are at least half full.
func quadrant(quarters [4]int, half int) rune {
	const blocks = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
	n := 0
	for i, q := range quarters {
		if q >= half {
			n |= 1 << i
		}
	}
	return []rune(blocks)[n]
}

// roots marks the weld roots in the cells next to them on the weld's side.
func (k *sketch) roots() {
	for i := range k.section.Welds {
		w := &k.section.Welds[i]
		towards := w.Centroid.Sub(w.WeldRoot).Unit().Scale(k.unit * 0.5)
		p := w.WeldRoot.Add(towards)
		c, r := k.column(p.X), k.row(p.Y)
		if r >= 0 && r < k.rows && c >= 0 && c < k.cols {
			k.cells[r][c] = k.ink.root
		}
	}
}

func (k *sketch) column(x float64) int { return floor(x/k.unit) - k.left }
func (k *sketch) row(y float64) int    { return k.top - 1 - floor(y/(2*k.unit)) }

// canvas is the section with its dimension lines, level ones right under it.
func (k *sketch) canvas() [][]rune {
	under, deepest := 0, 0
	for _, d := range k.lines {
		if d.upright {
			deepest = max(deepest, d.to)
		} else {
			under = max(under, d.lane+1)
		}
	}
	for k.rows > deepest && blank(k.cells[k.rows-1]) {
		k.rows--
	}
	out := make([][]rune, k.rows+under)
	for r := range out {
		out[r] = slices.Repeat([]rune{' '}, 2*k.margin[0]+k.cols+2*k.margin[1])
		if r < k.rows {
			copy(out[r][2*k.margin[0]:], k.cells[r])
		}
	}
	for _, d := range k.lines {
		k.draw(out, d)
	}
	return out
}
