package dxf

import (
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/render"
)

const (
	// continuous is the line type without gaps.
	continuous = "CONTINUOUS"
	styleName  = "STANDARD"
)

// cadLayer is a layer of the file: a name of capitals and hyphens, which is
// what the format allows, and a colour of its index of colours that reads on
// black and on white.
type cadLayer struct {
	name   string
	colour int
}

// The colours used: 1 red, 5 blue, 6 magenta, 7 black or white as the paper is
// not, 8 grey, 30 orange, 94 dark green.
func layerOf(l render.Layer) cadLayer {
	switch l {
	case render.LayerTint:
		return cadLayer{"WELD-METAL", 30}
	case render.LayerHatch:
		return cadLayer{"SECTION-LINING", 8}
	case render.LayerMember:
		return cadLayer{"MEMBER", 7}
	case render.LayerBreak:
		return cadLayer{"BREAK-LINE", 8}
	case render.LayerPreparation:
		return cadLayer{"BEFORE-WELDING", 94}
	case render.LayerWeld:
		return cadLayer{"WELD", 1}
	case render.LayerFusion:
		return cadLayer{"FUSION-LINE", 6}
	case render.LayerTriangle:
		return cadLayer{"ROOT-AND-TRIANGLE", 6}
	case render.LayerDimension:
		return cadLayer{"DIMENSION", 5}
	case render.LayerSymbol:
		return cadLayer{"WELDING-SYMBOL", 5}
	case render.LayerFrame:
		return cadLayer{"SHEET", 8}
	case render.LayerPlot:
		return cadLayer{"DIAGRAM", 94}
	case render.LayerText:
	}
	return cadLayer{"LETTERING", 7}
}

// lineType is a dash pattern in mm at full size, dashes positive, gaps
// negative.
type lineType struct {
	name    string
	pattern []float64
}

// mostDashes is the number of dashes and gaps a line type of release 12 holds.
const mostDashes = 12

// lineType names the line type of a dash pattern on paper at a scale, a new
// one where there is none yet. A pattern the format cannot hold, and one that
// leaves no gap, is continuous.
func (e *entities) lineType(dash []float64, scale float64) string {
	if len(dash) == 0 {
		return continuous
	}
	if len(dash)%2 == 1 {
		dash = slices.Concat(dash, dash)
	}
	if len(dash) > mostDashes {
		return continuous
	}
	pattern := make([]float64, len(dash))
	for i, v := range dash {
		pattern[i] = v / scale
		if i%2 == 1 {
			if v == 0 {
				return continuous
			}
			pattern[i] = -pattern[i]
		}
	}
	for i := range e.types {
		if slices.Equal(e.types[i].pattern, pattern) {
			return e.types[i].name
		}
	}
	word := "CHAIN"
	if len(pattern) == 2 {
		word = "DASHED"
	}
	name := word + "-" + strconv.Itoa(len(e.types)+1)
	e.types = append(e.types, lineType{name, pattern})
	return name
}

// picture shows a pattern in plain characters, as line types are described.
func (t *lineType) picture() string {
	longest := slices.Max(t.pattern)
	var b strings.Builder
	for range 3 {
		for _, v := range t.pattern {
			switch {
			case v < 0:
				b.WriteString(" ")
			case v < longest/3:
				b.WriteString(".")
			default:
				b.WriteString("__")
			}
		}
	}
	return strings.TrimRight(b.String(), " ")
}

func (f *file) tables(e *entities) {
	f.section("TABLES")
	f.table("VPORT", 1)
	f.viewport(e.box)
	f.endTable()
	f.table("LTYPE", len(e.types)+1)
	f.lineTypeEntry(&lineType{name: continuous}, "Solid line")
	for i := range e.types {
		f.lineTypeEntry(&e.types[i], e.types[i].picture())
	}
	f.endTable()
	f.table("LAYER", len(e.used)+1)
	f.layer(cadLayer{"0", 7})
	for _, l := range render.Layers() {
		if e.used[l] {
			f.layer(layerOf(l))
		}
	}
	f.endTable()
	f.table("STYLE", 1)
	f.style()
	f.endTable()
	for _, name := range [...]string{"VIEW", "UCS"} {
		f.table(name, 0)
		f.endTable()
	}
	f.table("APPID", 1)
	f.text(0, "APPID")
	f.text(2, "ACAD")
	f.integer(70, 0)
	f.endTable()
	f.table("DIMSTYLE", 0)
	f.endTable()
	f.text(0, "ENDSEC")
}

func (f *file) table(name string, entries int) {
	f.text(0, "TABLE")
	f.text(2, name)
	f.integer(70, entries)
}

func (f *file) endTable() { f.text(0, "ENDTAB") }

func (f *file) lineTypeEntry(t *lineType, description string) {
	f.text(0, "LTYPE")
	f.text(2, t.name)
	f.integer(70, 0)
	f.text(3, description)
	f.integer(72, 'A')
	f.integer(73, len(t.pattern))
	total := 0.0
	for _, v := range t.pattern {
		total += max(v, -v)
	}
	f.real(40, total)
	for _, v := range t.pattern {
		f.real(49, v)
	}
}

func (f *file) layer(l cadLayer) {
	f.text(0, "LAYER")
	f.text(2, l.name)
	f.integer(70, 0)
	f.integer(62, l.colour)
	f.text(6, continuous)
}

// style is the one lettering, with the font every reader has.
func (f *file) style() {
	f.text(0, "STYLE")
	f.text(2, styleName)
	f.integer(70, 0)
	f.real(40, 0) // height is with the text
	f.real(41, 1)
	f.real(50, 0)
	f.integer(71, 0)
	f.real(42, 2.5)
	f.text(3, "txt")
	f.text(4, "")
}

// viewport makes readers open the file with all of it in sight.
func (f *file) viewport(box geometry.Box) {
	const margin = 1.05
	f.text(0, "VPORT")
	f.text(2, "*ACTIVE")
	f.integer(70, 0)
	f.pair(10, geometry.Point{})
	f.pair(11, geometry.Point{X: 1, Y: 1})
	f.pair(12, box.Centre())
	f.pair(13, geometry.Point{})             // snap base
	f.pair(14, geometry.Point{X: 1, Y: 1})   // snap spacing
	f.pair(15, geometry.Point{X: 10, Y: 10}) // grid spacing
	f.real(16, 0)                            // looking down the z axis
	f.real(26, 0)
	f.real(36, 1)
	f.point(17, geometry.Point{})
	const aspect = 4.0 / 3
	f.real(40, margin*max(box.Height(), box.Width()/aspect))
	f.real(41, aspect)
	f.real(42, 50) // lens
	f.real(43, 0)
	f.real(44, 0)
	f.real(50, 0)
	f.real(51, 0)
	for i, v := range [...]int{0, 100, 1, 1, 0, 0, 0, 0} {
		f.integer(71+i, v)
	}
}
