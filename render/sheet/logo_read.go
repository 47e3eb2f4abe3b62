package sheet

import (
	"bytes"
	"fmt"
	"image"
	_ "image/png" // the picture format of logos
	"math"

	"fay/geometry"
	"fay/render"
)

// Limits of a logo file.
const (
	MaxLogoBytes  = 1 << 20
	maxLogoPixels = 4000 // a side of a picture
	maxLogoPoints = 20000
	maxLogoRatio  = 12 // of the longer side to the shorter one
	// logoColumns is how many columns and rows a picture is brought down to:
	// ten to the millimetre, more than a bench print shows.
	logoColumns = 240
	logoRows    = 80
)

// LogoError says why a file cannot serve as a logo.
type LogoError struct{ Rule, Remedy string }

func (e *LogoError) Error() string { return "logo: " + e.Rule }

func logoFault(remedy, rule string, args ...any) error {
	return &LogoError{Rule: fmt.Sprintf(rule, args...), Remedy: remedy}
}

// ReadLogo turns the bytes of an SVG or PNG file into a logo. Of SVG it takes
// filled paths and simple shapes in plain colours; a PNG is laid on white,
// brought down to 240 by 80 dots at most and to 216 colours, and printed as
// runs of one colour. The error is a *LogoError.
func ReadLogo(data []byte) (*Logo, error) {
	switch {
	case len(data) > MaxLogoBytes:
		return nil, logoFault("make it smaller: it is printed 24 mm wide", "the file is larger than 1 MiB")
	case len(data) == 0:
		return nil, logoFault("name an SVG or PNG file", "the file is empty")
	}
	var l *Logo
	var err error
	switch head := bytes.TrimLeft(data, "\ufeff \t\r\n"); {
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		l, err = readPNG(data)
	case bytes.HasPrefix(head, []byte("<")):
		l, err = readSVG(data)
	default:
		err = logoFault("name an SVG or PNG file", "the file is neither SVG nor PNG")
	}
	if err != nil {
		return nil, err
	}
	if len(l.Areas) == 0 {
		return nil, logoFault("look at the file: it may be white or transparent", "nothing in the file would print")
	}
	if !(l.Width > 0 && l.Height > 0 && math.Max(l.Width/l.Height, l.Height/l.Width) <= maxLogoRatio) {
		return nil, logoFault("crop it", "one side is more than %d times as long as the other", maxLogoRatio)
	}
	return l, nil
}

func readPNG(data []byte) (*Logo, error) {
	const broken = "save it again as PNG"
	size, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, logoFault(broken, "the PNG is damaged: %v", err)
	}
	if size.Width > maxLogoPixels || size.Height > maxLogoPixels || size.Width < 1 || size.Height < 1 {
		return nil, logoFault("make it smaller: it is printed 24 mm wide", "the PNG is %d × %d dots, more than %d", size.Width, size.Height, maxLogoPixels)
	}
	m, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, logoFault(broken, "the PNG is damaged: %v", err)
	}
	shrink := math.Max(1, math.Max(float64(size.Width)/logoColumns, float64(size.Height)/logoRows))
	columns, rows := max(1, int(float64(size.Width)/shrink)), max(1, int(float64(size.Height)/shrink))
	l := &Logo{Width: float64(columns), Height: float64(rows)}
	at := map[render.Ink]int{}
	for y := range rows {
		for x := 0; x < columns; {
			ink, from := average(m, x, y, columns, rows), x
			for x++; x < columns && average(m, x, y, columns, rows) == ink; x++ {
			}
			if ink == (render.Ink{R: 255, G: 255, B: 255}) {
				continue
			}
			i, seen := at[ink]
			if !seen {
				i = len(l.Areas)
				at[ink], l.Areas = i, append(l.Areas, Area{Ink: ink})
			}
			// A little overlap, so that no white shows between runs.
			const lap = 0.03
			x0, x1, top := float64(from)-lap, float64(x)+lap, l.Height-float64(y)+lap
			low := top - 1 - 2*lap
			l.Areas[i].Contours = append(l.Areas[i].Contours, []geometry.Point{{X: x0, Y: low}, {X: x1, Y: low}, {X: x1, Y: top}, {X: x0, Y: top}})
		}
	}
	return l, nil
}

// average is the colour of a cell of a picture on white, in six steps of each
// part.
func average(m image.Image, x, y, columns, rows int) render.Ink {
	b := m.Bounds()
	x0, x1 := b.Min.X+x*b.Dx()/columns, b.Min.X+(x+1)*b.Dx()/columns
	y0, y1 := b.Min.Y+y*b.Dy()/rows, b.Min.Y+(y+1)*b.Dy()/rows
	var sum [3]uint64
	n := uint64(0)
	for v := y0; v < max(y1, y0+1); v++ {
		for u := x0; u < max(x1, x0+1); u++ {
			// Colours come multiplied by their cover; the rest is white.
			r, g, bl, a := m.At(u, v).RGBA()
			white := uint64(0xffff - a)
			sum[0], sum[1], sum[2] = sum[0]+uint64(r)+white, sum[1]+uint64(g)+white, sum[2]+uint64(bl)+white
			n++
		}
	}
	step := func(v uint64) uint8 {
		const steps = 5
		return uint8((v*steps/n + 0x7fff) / 0xffff * (255 / steps)) //nolint:gosec // at most 255
	}
	return render.Ink{R: step(sum[0]), G: step(sum[1]), B: step(sum[2])}
}
