package sketch

import (
	"cmp"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
)

// dimension is a measure in the sketch.
type dimension struct {
	measure *joints.Measure
	name    string
	value   string
	letter  rune // 0 without a line

	upright  bool
	side     int // of upright ones: 0 at the left, 1 at the right
	from, to int // cells, to not included
	lane     int // counted away from the section
}

// letters of dimension lines: none that reads as a digit or as a mark of the
// sketch.
const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"

// mostLanes bounds the upright dimension lines side by side.
const mostLanes = 4

// square is how far a direction may lie from level or upright to be dimensioned
// by cells, as a sine.
const square = 1e-6

// dimensions lists what the model wants drawn. Level and upright lengths get
// dimension lines, others, and angles, stand in the legend alone.
func (k *sketch) dimensions() {
	centre := k.middle()
	for i := range k.section.Measures {
		m := &k.section.Measures[i]
		if m.Draw == joints.NotDrawn {
			continue
		}
		d := &dimension{measure: m, name: k.plain(nameOf(m)), value: k.plain(k.valueOf(m))}
		along := direction(m)
		level, upright := math.Abs(along.Y) <= square, math.Abs(along.X) <= square
		if m.Draw != joints.DrawLinear || level == upright {
			k.others = append(k.others, d)
			continue
		}
		d.upright = upright
		if upright && (m.From.X+m.To.X)/2 >= centre {
			d.side = 1
		}
		k.lines = append(k.lines, d)
	}
}

// direction is that of a dimension line: square to where it is moved out to,
// else from point to point.
func direction(m *joints.Measure) geometry.Point {
	if m.Outward != (geometry.Point{}) {
		return m.Outward.Perp().Unit()
	}
	return m.To.Sub(m.From).Unit()
}

// arrange finds the margins that hold the dimension lines; what finds no lane
// stands in the legend alone.
func (k *sketch) arrange() {
	for {
		k.frame()
		k.place()
		var need [2]int
		for _, d := range k.lines {
			if d.upright {
				need[d.side] = max(need[d.side], min(d.lane+1, mostLanes))
			}
		}
		if need[0] <= k.margin[0] && need[1] <= k.margin[1] {
			break
		}
		k.margin[0], k.margin[1] = max(k.margin[0], need[0]), max(k.margin[1], need[1])
	}
	var drawn, left []*dimension
	for _, d := range k.lines {
		if d.upright && d.lane >= mostLanes || len(drawn) == len(letters) {
			left = append(left, d)
			continue
		}
		d.letter = rune(letters[len(drawn)])
		drawn = append(drawn, d)
	}
	k.lines, k.others = drawn, append(left, k.others...)
}

// middle is the abscissa that parts left from right: that of the welds.
func (k *sketch) middle() float64 {
	b := geometry.EmptyBox()
	for i := range k.section.Welds {
		b = b.Union(k.section.Welds[i].Profile.Bounds())
	}
	return b.Centre().X
}

// place gives the dimension lines their cells: short ones nearest.
func (k *sketch) place() {
	for _, d := range k.lines {
		d.lane = 0
		a, b := d.measure.From, d.measure.To
		if d.upright {
			d.from = k.top - round(math.Max(a.Y, b.Y)/(2*k.unit))
			d.to = k.top - round(math.Min(a.Y, b.Y)/(2*k.unit))
			d.from, d.to = span(d.from, d.to, k.rows, k.row((a.Y+b.Y)/2))
			continue
		}
		d.from = round(math.Min(a.X, b.X)/k.unit) - k.left
		d.to = round(math.Max(a.X, b.X)/k.unit) - k.left
		d.from, d.to = span(d.from, d.to, k.cols, k.column((a.X+b.X)/2))
	}
	order := slices.Clone(k.lines)
	slices.SortStableFunc(order, func(a, b *dimension) int { return cmp.Compare(a.to-a.from, b.to-b.from) })
	for i, d := range order {
		for slices.ContainsFunc(order[:i], d.meets) {
			d.lane++
		}
	}
}

// span gives a dimension at least the cell of its middle and keeps it inside
// the sketch.
func span(from, to, cells, middle int) (int, int) {
	if to <= from {
		from, to = middle, middle+1
	}
	from = min(max(from, 0), cells-1)
	return from, max(min(to, cells), from+1)
}

// meets tells whether two dimension lines would touch in one lane.
func (d *dimension) meets(e *dimension) bool {
	return d.upright == e.upright && d.side == e.side && d.lane == e.lane && d.from < e.to+1 && e.from < d.to+1
}

// draw puts a dimension line on the canvas.
func (k *sketch) draw(out [][]rune, d *dimension) {
	n := d.to - d.from
	line := k.ink.across
	if d.upright {
		line = k.ink.upright
	}
	for i := range n {
		r := line[1]
		switch {
		case i == (n-1)/2:
			r = d.letter
		case n == 2:
			continue
		case i == 0:
			r = line[0]
		case i == n-1:
			r = line[2]
		}
		left := 2 * k.margin[0]
		switch {
		case !d.upright:
			out[k.rows+d.lane][left+d.from+i] = r
		case d.side == 0:
			out[d.from+i][left-2-2*d.lane] = r
		default:
			out[d.from+i][left+k.cols+1+2*d.lane] = r
		}
	}
}

func nameOf(m *joints.Measure) string {
	s := m.Name
	switch {
	case m.Weld != "" && m.Member != "":
		s += ", " + m.Weld + " on " + m.Member
	case m.Weld != "":
		s += ", " + m.Weld
	case m.Member != "":
		s += ", " + m.Member
	}
	return s
}

func (k *sketch) valueOf(m *joints.Measure) string {
	s := k.options.Numbers.Toleranced(m.Value, m.Unit, m.Tolerance)
	if m.Unit == joints.UnitMM {
		s += " " + k.options.Numbers.Name()
	}
	return s
}

func round(v float64) int { return int(math.Round(v)) }
func floor(v float64) int { return int(math.Floor(v)) }
