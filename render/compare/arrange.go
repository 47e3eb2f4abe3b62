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
	notes         []string // under the columns
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
	goodBars  = 4    // that a larger scale does not take away
	// widestLeast bounds what one long word asks for.
	widestLeast = 60.0
	// leastShown is how long the smallest section is drawn where that can be.
	leastShown = 18.0
)

// fit finds the arrangement: of those whose sections can be read the one with
// the fewest sheets, then with a good many bars, then with the largest scale,
// then with the most bars.
func (s *sheet) fit() error {
	if s.least() == 0 || !(s.frame.Width() > 2*leastCol && s.frame.Height() > 2*leastCol) {
		return ErrNothing
	}
	found := false
	for rows := 1; rows <= mostRows; rows++ {
		for cols := 1; cols <= min(mostCols, len(s.c.Rows)); cols++ {
			for _, bars := range [2]int{goodBars, leastBars} {
				a, ok := s.arrange(cols, rows, bars)
				if ok && (!found || a.better(&s.arrangement)) {
					s.arrangement, found = a, true
				}
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
	return cmp.Or(cmp.Compare(b.sheets, a.sheets), cmp.Compare(min(len(a.metrics), goodBars), min(len(b.metrics), goodBars)), cmp.Compare(a.scale, b.scale), cmp.Compare(len(a.metrics), len(b.metrics)), cmp.Compare(b.rows, a.rows)) > 0
}

// arrange finds the largest standard scale at which every section fits its
// column beside the least count of bars; false where none does.
func (s *sheet) arrange(cols, rows, least int) (arrangement, bool) {
	n := len(s.c.Rows)
	a := arrangement{cols: cols, rows: rows}
	a.sheets = (n + cols*rows - 1) / (cols * rows)
	// As even as can be: 4 and 3, not 6 and 1.
	lines := a.sheets * rows
	a.cols = (n + lines - 1) / lines
	a.rows = min(rows, (n+a.cols-1)/a.cols)
	a.width = (s.frame.Width() - 2*inside - float64(a.cols-1)*gutter) / float64(a.cols)
	if a.width < s.narrowest() {
		return a, false
	}
	s.wrap(&a)
	legible := s.headed(a.width)
	most := min(mostBars, len(legible))
	for _, scale := range render.Scales {
		width, below, above := s.largest(scale)
		if width > a.width-2*air {
			continue
		}
		// As many bars as there is room for beside the notes that go with them.
		for bars := most; bars >= min(least, most); bars-- {
			a.notes = s.notesFor(legible[:bars])
			a.height = (s.top - s.frame.Min.Y - inside - a.noted(s) - float64(a.rows-1)*gutter) / float64(a.rows)
			room := a.height - a.head - 2 - below - above - 2*air
			if room < float64(bars)*rowHigh {
				continue
			}
			a.scale, a.metrics = scale, legible[:bars]
			a.pitch = math.Min(room/float64(max(bars, 1)), mostPitch)
			a.legible = s.least()*scale >= leastShown
			return a, true
		}
	}
	return a, false
}

// headed are the metrics whose heading fits a column, the first ones in any case.
func (s *sheet) headed(width float64) []compare.Metric {
	var out []compare.Metric
	for i, m := range s.known {
		if i < leastBars || lettering.Measure(s.o.Heading(m), render.FaceRegular, s.o.Style.SmallHeight) <= width-2*inside {
			out = append(out, m)
		}
	}
	return out
}

// noted is the height of the notes.
func (a *arrangement) noted(s *sheet) float64 {
	return float64(len(a.notes)) * s.o.Style.SmallHeight * leading
}

// low is where the columns end and the notes begin.
func (s *sheet) low() float64 { return s.frame.Min.Y + inside + s.noted(s) }

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

// largest is the greatest width of a section, and how far sections reach below
// and above the line that their first members stand on.
func (s *sheet) largest(scale float64) (width, below, above float64) {
	s.sketches(scale, func(k *render.Sketch) { width = math.Max(width, k.Box.Width()) })
	below, above = s.extent(scale)
	return width, below, above
}

// extent is how far sections reach below and above the line that their first
// members stand on.
func (s *sheet) extent(scale float64) (below, above float64) {
	s.sketches(scale, func(k *render.Sketch) {
		foot := footing(k)
		below, above = math.Max(below, foot-k.Box.Min.Y), math.Max(above, k.Box.Max.Y-foot)
	})
	return below, above
}

// footing is the underside of the first member.
func footing(k *render.Sketch) float64 {
	foot := math.Inf(1)
	for _, e := range k.Members[0].Plain {
		foot = math.Min(foot, e.Bounds().Min.Y)
	}
	return foot
}

// least is the longer side of the smallest section at full size; 0 where there
// is no section.
func (s *sheet) least() float64 {
	least := math.Inf(1)
	s.sketches(1, func(k *render.Sketch) { least = math.Min(least, math.Max(k.Box.Width(), k.Box.Height())) })
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

func (s *sheet) sketches(scale float64, each func(*render.Sketch)) {
	for _, sec := range s.sections {
		if sec != nil {
			k := s.o.Style.Sketch(sec, scale)
			each(&k)
		}
	}
}

// cell is the box of a column: rows count from the top.
func (s *sheet) cell(col, row int) geometry.Box {
	x := s.frame.Min.X + inside + float64(col)*(s.width+gutter)
	top := s.top - float64(row)*(s.height+gutter)
	return geometry.Box{Min: geometry.Point{X: x, Y: top - s.height}, Max: geometry.Point{X: x + s.width, Y: top}}
}
