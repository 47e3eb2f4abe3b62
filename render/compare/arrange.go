package compare

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"fay/geometry"
	"fay/joints/compare"
	"fay/render"
	"fay/render/lettering"
)

// arrangement is how the alternatives stand on their sheets: columns beside
// each other, in rows where they are low.
type arrangement struct {
	cols, rows    int
	width, height float64 // of a column
	head          float64 // of rank, name and reasons
	names, whys   [][]string
	metrics       []compare.Metric
	scale         float64
	pitch         float64 // of the bars
	sheets        int
	legible       bool
}

const (
	mostCols  = 8
	mostRows  = 3
	leastCol  = 34.0 // width
	leastBars = 2    // where as many are known
	// widestLeast bounds what one long word asks for.
	widestLeast = 60.0
	// leastShown is how long the smallest section is drawn where that can be.
	leastShown = 18.0
)

// fit finds the arrangement: of those whose sections can be read the one with
// the fewest sheets, then with the largest scale, then with the most bars.
func (s *sheet) fit() error {
	if s.least() == 0 || !(s.frame.Width() > 2*leastCol && s.frame.Height() > 2*leastCol) {
		return ErrNothing
	}
	found := false
	for rows := 1; rows <= mostRows; rows++ {
		for cols := 1; cols <= min(mostCols, len(s.c.Rows)); cols++ {
			a, ok := s.arrange(cols, rows)
			if ok && (!found || a.better(&s.arrangement)) {
				s.arrangement, found = a, true
			}
		}
	}
	if !found {
		return fmt.Errorf("%w: a section does not fit at %s", ErrNothing, render.ScaleText(render.Scales[len(render.Scales)-1]))
	}
	return nil
}

func (a *arrangement) better(b *arrangement) bool {
	if a.legible != b.legible {
		return a.legible
	}
	return cmp.Or(cmp.Compare(b.sheets, a.sheets), cmp.Compare(a.scale, b.scale), cmp.Compare(len(a.metrics), len(b.metrics)), cmp.Compare(b.rows, a.rows)) > 0
}

// arrange finds the largest standard scale at which every section fits its
// column beside enough bars; false where none does.
func (s *sheet) arrange(cols, rows int) (arrangement, bool) {
	n := len(s.c.Rows)
	a := arrangement{cols: cols, rows: rows}
	a.sheets = (n + cols*rows - 1) / (cols * rows)
	// As even as can be: 4 and 3, not 6 and 1.
	lines := a.sheets * rows
	a.cols = (n + lines - 1) / lines
	a.rows = min(rows, (n+a.cols-1)/a.cols)
	a.width = (s.frame.Width() - 2*inside - float64(a.cols-1)*gutter) / float64(a.cols)
	a.height = (s.top - s.low - float64(a.rows-1)*gutter) / float64(a.rows)
	if a.width < s.narrowest() {
		return a, false
	}
	s.wrap(&a)
	for _, scale := range render.Scales {
		size := s.largest(scale)
		room := a.height - a.head - 2 - size.Y - 2*air
		bars := int(room / rowHigh)
		if size.X > a.width-2*air || bars < min(leastBars, len(s.known)) {
			continue
		}
		a.scale, a.metrics = scale, s.known[:min(bars, mostBars, len(s.known))]
		a.pitch = math.Min(room/float64(max(len(a.metrics), 1)), mostPitch)
		a.legible = s.least()*scale >= leastShown
		return a, true
	}
	return a, false
}

// narrowest is the least width of a column: that of the widest word of a name
// and of the widest heading of a bar, within reason.
func (s *sheet) narrowest() float64 {
	style := &s.o.Style
	least := leastCol
	for i := range s.c.Rows {
		for word := range strings.FieldsSeq(s.c.Rows[i].Name) {
			least = math.Max(least, lettering.Measure(word, render.FaceBold, style.TextHeight)+2*inside)
		}
	}
	for _, m := range s.known[:min(leastBars, len(s.known))] {
		least = math.Max(least, lettering.Measure(s.o.Heading(m), render.FaceRegular, style.SmallHeight)+2*inside)
	}
	return math.Min(least, widestLeast)
}

// wrap breaks names and reasons to the width of a column.
func (s *sheet) wrap(a *arrangement) {
	style := &s.o.Style
	small := style.SmallHeight
	lines, why := 0, 0
	for i := range s.c.Rows {
		r := &s.c.Rows[i]
		name := wrap(style.Numbers.Marked(r.Name), render.FaceBold, style.TextHeight, a.width-2*inside, mostName)
		var reason []string
		if r.Name == s.c.Reference {
			reason = append(reason, "reference")
		}
		add := func(text string) {
			reason = append(reason, wrap(style.Numbers.Marked(text), render.FaceRegular, small, a.width-2*inside, mostWhy)...)
		}
		if s.o.Remark != nil {
			add(s.o.Remark(r))
		}
		if len(r.Excluded) > 0 {
			add(strings.Join(r.Excluded, "; "))
		}
		if len(r.NotMet) > 0 {
			add("not met: " + strings.Join(r.NotMet, ", "))
		}
		a.names, a.whys = append(a.names, name), append(a.whys, reason)
		lines, why = max(lines, len(name)), max(why, len(reason))
	}
	a.head = rankHigh + 2 + float64(lines)*style.TextHeight*leading + float64(why)*small*leading
}

// largest is the greatest width and the greatest height of a section.
func (s *sheet) largest(scale float64) geometry.Point {
	var size geometry.Point
	s.sizes(scale, func(p geometry.Point) {
		size.X, size.Y = math.Max(size.X, p.X), math.Max(size.Y, p.Y)
	})
	return size
}

// least is the longer side of the smallest section at full size; 0 where there
// is no section.
func (s *sheet) least() float64 {
	least := math.Inf(1)
	s.sizes(1, func(p geometry.Point) { least = math.Min(least, math.Max(p.X, p.Y)) })
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

func (s *sheet) sizes(scale float64, each func(geometry.Point)) {
	for _, sec := range s.sections {
		if sec != nil {
			k := s.o.Style.Sketch(sec, scale)
			each(geometry.Point{X: k.Box.Width(), Y: k.Box.Height()})
		}
	}
}

// cell is the box of a column: rows count from the top.
func (s *sheet) cell(col, row int) geometry.Box {
	x := s.frame.Min.X + inside + float64(col)*(s.width+gutter)
	top := s.top - float64(row)*(s.height+gutter)
	return geometry.Box{Min: geometry.Point{X: x, Y: top - s.height}, Max: geometry.Point{X: x + s.width, Y: top}}
}
