package dxf

import (
	"bytes"
	"math"
	"strconv"

	"fay/geometry"
	"fay/render"
	"fay/render/internal/number"
)

// file writes groups: a code on a line of its own, its value on the next.
type file struct{ data []byte }

const lineEnd = "\r\n"

// appendCode writes a code right-justified in three places, as the format
// describes it.
func appendCode(dst []byte, c int) []byte {
	const digits = "0123456789"
	switch {
	case c < 10:
		dst = append(dst, ' ', ' ', digits[c])
	case c < 100:
		dst = append(dst, ' ', digits[c/10], digits[c%10])
	default:
		dst = strconv.AppendInt(dst, int64(c), 10)
	}
	return append(dst, lineEnd...)
}

func (f *file) text(c int, s string) {
	b := appendCode(f.data, c)
	b = append(b, s...)
	b = append(b, lineEnd...)
	f.data = b
}

func (f *file) integer(c, v int) {
	b := strconv.AppendInt(appendCode(f.data, c), int64(v), 10)
	b = append(b, lineEnd...)
	f.data = b
}

func (f *file) real(c int, v float64) {
	b := appendReal(appendCode(f.data, c), v)
	b = append(b, lineEnd...)
	f.data = b
}

// appendReal writes a number with at most nine decimals: coordinates to a
// picometre, angles so that the ends of an arc of largestRadius hold 1e-7 mm.
// It has a decimal point, which some readers want, no needless zeros and no
// negative zero.
func appendReal(dst []byte, v float64) []byte {
	const (
		decimals = 9
		large    = 9e9 // from here on 64 bits do not hold the decimals
	)
	if !(math.Abs(v) < large) {
		return strconv.AppendFloat(dst, v, 'f', 1, 64)
	}
	at := len(dst)
	dst = number.Append(dst, v, decimals)
	if bytes.IndexByte(dst[at:], '.') < 0 {
		dst = append(dst, ".0"...)
	}
	return dst
}

// angle writes an angle in degrees from 0 up to 360.
func (f *file) angle(c int, a geometry.Angle) {
	d := math.Mod(a.Degrees(), 360)
	if d < 0 {
		d += 360
	}
	if d > 360-1e-9 {
		d = 0 // would be rounded to the full turn
	}
	f.real(c, d)
}

// point writes a point whose x has the code c.
func (f *file) point(c int, p geometry.Point) {
	f.pair(c, p)
	f.real(c+20, 0)
}

func (f *file) pair(c int, p geometry.Point) {
	f.real(c, p.X)
	f.real(c+10, p.Y)
}

func (f *file) section(name string) {
	f.text(0, "SECTION")
	f.text(2, name)
}

// begin says in comments what the file is.
func (f *file) begin(d *render.Drawing) {
	for _, s := range [...]string{d.Title, "full size, millimetres"} {
		if !blank(s) {
			f.text(999, pieces(s)[0].code)
		}
	}
}

func (f *file) header(box geometry.Box) {
	f.section("HEADER")
	f.variable("$ACADVER")
	f.text(1, "AC1009")
	f.variable("$DWGCODEPAGE")
	f.text(3, "ansi_1252")
	f.variable("$INSBASE")
	f.point(10, geometry.Point{})
	f.variable("$EXTMIN")
	f.point(10, box.Min)
	f.variable("$EXTMAX")
	f.point(10, box.Max)
	f.variable("$LIMMIN")
	f.pair(10, box.Min)
	f.variable("$LIMMAX")
	f.pair(10, box.Max)
	f.variable("$LTSCALE")
	f.real(40, 1)
	f.variable("$TEXTSTYLE")
	f.text(7, styleName)
	f.variable("$CLAYER")
	f.text(8, "0")
	f.variable("$LUNITS") // decimal lengths
	f.integer(70, 2)
	f.variable("$LUPREC")
	f.integer(70, 3)
	f.variable("$AUNITS") // decimal degrees
	f.integer(70, 0)
	f.variable("$FILLMODE")
	f.integer(70, 1)
	f.text(0, "ENDSEC")
}

func (f *file) variable(name string) { f.text(9, name) }
