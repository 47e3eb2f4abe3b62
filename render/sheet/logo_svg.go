package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/tdewolff/canvas"

	"fay/geometry"
	"fay/render"
)

const simplePaths = "in the drawing program turn everything into filled paths in plain colours, and save as plain SVG"

// svgState is what an element inherits.
type svgState struct {
	fill   *render.Ink // nil: none
	odd    bool        // fill rule evenodd
	matrix canvas.Matrix
}

type svgReader struct {
	logo   *Logo
	states []svgState
	box    [4]float64 // viewBox: x, y, width, height
	seen   bool       // the svg element
	points int
}

// readSVG takes the filled shapes of an SVG file.
func readSVG(data []byte) (*Logo, error) {
	black := render.Black
	r := &svgReader{logo: &Logo{}, states: []svgState{{fill: &black, matrix: canvas.Identity}}}
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, logoFault(simplePaths, "the SVG is damaged: %v", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			skip, err := r.element(t)
			if err != nil {
				return nil, err
			}
			if skip {
				if err := d.Skip(); err != nil {
					return nil, logoFault(simplePaths, "the SVG is damaged: %v", err)
				}
				r.states = r.states[:len(r.states)-1]
			}
		case xml.EndElement:
			r.states = r.states[:len(r.states)-1]
		}
	}
	if !r.seen {
		return nil, logoFault("name an SVG or PNG file", "the file is neither SVG nor PNG")
	}
	return r.logo, nil
}

// element takes one element; skip says that its content says nothing.
func (r *svgReader) element(t xml.StartElement) (skip bool, err error) {
	name := t.Name.Local
	attr := map[string]string{}
	for _, a := range t.Attr {
		attr[a.Name.Local] = strings.TrimSpace(a.Value)
	}
	for part := range strings.SplitSeq(attr["style"], ";") {
		if key, value, ok := strings.Cut(part, ":"); ok {
			attr[strings.TrimSpace(key)] = strings.TrimSpace(value)
		}
	}
	state := r.states[len(r.states)-1]
	if !r.seen && name != "svg" {
		return false, logoFault("name an SVG or PNG file", "the file is neither SVG nor PNG")
	}
	r.states = append(r.states, state)
	switch name {
	case "title", "desc", "metadata", "namedview":
		return true, nil
	case "defs":
		return true, nil // what uses them is refused
	case "svg":
		if r.seen {
			return false, logoFault(simplePaths, "the SVG holds another one")
		}
		r.seen = true
		return false, r.open(attr)
	}
	if err := state.take(attr); err != nil {
		return false, err
	}
	r.states[len(r.states)-1] = state
	if name == "g" || name == "a" {
		return false, nil
	}
	path, err := svgShape(name, attr)
	if err != nil {
		return false, err
	}
	return false, r.add(path, &state)
}

// open takes the size of the picture.
func (r *svgReader) open(attr map[string]string) error {
	box := svgNumbers(attr["viewBox"])
	if len(box) != 4 {
		box = []float64{0, 0, svgLength(attr["width"]), svgLength(attr["height"])}
	}
	copy(r.box[:], box)
	if !(r.box[2] > 0 && r.box[3] > 0) || math.IsInf(r.box[2]*r.box[3], 0) {
		return logoFault("save it with a viewBox", "the SVG does not say how large it is")
	}
	r.logo.Width, r.logo.Height = r.box[2], r.box[3]
	state := &r.states[len(r.states)-1]
	return state.take(attr)
}

// take reads the attributes that elements hand down.
func (s *svgState) take(attr map[string]string) error {
	if v := attr["stroke"]; v != "" && v != "none" && v != "transparent" {
		return logoFault(simplePaths, "the SVG draws a line (stroke=%q); only filled shapes are taken", v)
	}
	for _, name := range [...]string{"clip-path", "mask", "filter"} {
		if v := attr[name]; v != "" && v != "none" {
			return logoFault(simplePaths, "the SVG uses a %s", name)
		}
	}
	switch attr["fill-rule"] {
	case "evenodd":
		s.odd = true
	case "nonzero":
		s.odd = false
	}
	if v, given := attr["fill"]; given && v != "inherit" {
		ink, err := svgInk(v)
		if err != nil {
			return err
		}
		s.fill = ink
	}
	m, err := svgTransform(attr["transform"])
	if err != nil {
		return err
	}
	s.matrix = s.matrix.Mul(m)
	return nil
}

// svgInk reads a plain colour.
func svgInk(v string) (*render.Ink, error) {
	v = strings.ToLower(v)
	named := map[string]render.Ink{
		"black": {}, "white": {R: 255, G: 255, B: 255}, "red": {R: 255}, "green": {G: 128}, "blue": {B: 255}, "navy": {B: 128},
		"gray": {R: 128, G: 128, B: 128}, "grey": {R: 128, G: 128, B: 128}, "currentcolor": {},
	}
	if v == "none" || v == "transparent" {
		return nil, nil //nolint:nilnil // no ink is an answer
	}
	if ink, ok := named[v]; ok {
		return &ink, nil
	}
	hex, ok := strings.CutPrefix(v, "#")
	if ok && len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	if n, err := strconv.ParseUint(hex, 16, 32); ok && err == nil && len(hex) == 6 {
		return &render.Ink{R: uint8(n >> 16), G: uint8(n >> 8), B: uint8(n)}, nil //nolint:gosec // the parts of a colour
	}
	return nil, logoFault(simplePaths, "the SVG fills with %q; colours are written #rrggbb", v)
}

// svgShape turns an element into a path.
func svgShape(name string, attr map[string]string) (*canvas.Path, error) {
	n := func(key string) float64 { return svgLength(attr[key]) }
	var data string
	switch name {
	case "path":
		data = attr["d"]
	case "rect":
		data = fmt.Sprintf("M%g %gh%gv%gh%gz", n("x"), n("y"), n("width"), n("height"), -n("width"))
	case "circle", "ellipse":
		rx, ry := n("rx"), n("ry")
		if name == "circle" {
			rx, ry = n("r"), n("r")
		}
		data = fmt.Sprintf("M%g %gA%g %g 0 1 0 %g %gA%g %g 0 1 0 %g %gz", n("cx")-rx, n("cy"), rx, ry, n("cx")+rx, n("cy"), rx, ry, n("cx")-rx, n("cy"))
	case "polygon", "polyline":
		if attr["points"] == "" {
			return &canvas.Path{}, nil
		}
		data = "M" + attr["points"] + "z"
	default:
		return nil, logoFault(simplePaths, "the SVG holds <%s>; only filled paths and simple shapes are taken", name)
	}
	return parsePath(data)
}

// parsePath guards against input that the path parser trips over.
func parsePath(data string) (p *canvas.Path, err error) {
	defer func() {
		if recover() != nil {
			p, err = nil, logoFault(simplePaths, "the SVG holds a path that cannot be read")
		}
	}()
	if p, err = canvas.ParseSVGPath(data); err != nil {
		return nil, logoFault(simplePaths, "the SVG holds a path that cannot be read: %v", err)
	}
	return p, nil
}

// add flattens a shape into contours of the logo.
func (r *svgReader) add(path *canvas.Path, state *svgState) (err error) {
	if state.fill == nil {
		return nil
	}
	defer func() {
		if recover() != nil {
			err = logoFault(simplePaths, "the SVG holds a path that cannot be read")
		}
	}()
	// A thousandth of the picture is 0.02 mm on paper.
	flat := path.Transform(state.matrix).Flatten(math.Min(r.box[2], r.box[3]) / 1000)
	area := Area{Ink: *state.fill}
	for _, part := range flat.Split() {
		var contour []geometry.Point
		for _, c := range part.Coords() {
			p := geometry.Point{X: c.X - r.box[0], Y: r.box[1] + r.box[3] - c.Y}
			if !(math.Abs(p.X) <= 10*r.box[2] && math.Abs(p.Y) <= 10*r.box[3]) {
				return logoFault("crop it", "the SVG reaches far beyond its own edges")
			}
			p.X, p.Y = math.Min(math.Max(p.X, 0), r.box[2]), math.Min(math.Max(p.Y, 0), r.box[3])
			if len(contour) == 0 || contour[len(contour)-1] != p {
				contour = append(contour, p)
			}
		}
		if len(contour) > 1 && contour[0] == contour[len(contour)-1] {
			contour = contour[:len(contour)-1]
		}
		if len(contour) < 3 {
			continue
		}
		r.points += len(contour)
		area.Contours = append(area.Contours, contour)
	}
	if r.points > maxLogoPoints {
		return logoFault("simplify it: it is printed 24 mm wide", "the SVG has more than %d points", maxLogoPoints)
	}
	if state.odd {
		wind(area.Contours)
	}
	if len(area.Contours) > 0 {
		r.logo.Areas = append(r.logo.Areas, area)
	}
	return nil
}

// wind turns contours so that each runs against the one around it: what the
// rule evenodd means where contours do not cross.
func wind(contours [][]geometry.Point) {
	for i, c := range contours {
		depth := 0
		for k, other := range contours {
			if k != i && inside(other, c[0]) {
				depth++
			}
		}
		if (signedArea(c) < 0) == (depth%2 == 0) {
			for a, b := 0, len(c)-1; a < b; a, b = a+1, b-1 {
				c[a], c[b] = c[b], c[a]
			}
		}
	}
}

func signedArea(c []geometry.Point) float64 {
	sum := 0.0
	for i, p := range c {
		q := c[(i+1)%len(c)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

func inside(c []geometry.Point, p geometry.Point) bool {
	in := false
	for i, a := range c {
		b := c[(i+1)%len(c)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// svgTransform reads translate, scale, rotate and matrix, applied in order.
func svgTransform(text string) (canvas.Matrix, error) {
	m := canvas.Identity
	for rest := strings.Trim(text, " ,\t\n"); rest != ""; rest = strings.TrimLeft(rest, " ,\t\n") {
		name, after, open := strings.Cut(rest, "(")
		args, next, closed := strings.Cut(after, ")")
		v := svgNumbers(args)
		rest = next
		switch name = strings.TrimSpace(name); {
		case !open || !closed:
			return m, logoFault(simplePaths, "the SVG holds a transform that cannot be read: %q", text)
		case name == "translate" && len(v) == 1:
			m = m.Translate(v[0], 0)
		case name == "translate" && len(v) == 2:
			m = m.Translate(v[0], v[1])
		case name == "scale" && len(v) == 1:
			m = m.Scale(v[0], v[0])
		case name == "scale" && len(v) == 2:
			m = m.Scale(v[0], v[1])
		case name == "rotate" && len(v) == 1:
			m = m.Rotate(v[0])
		case name == "rotate" && len(v) == 3:
			m = m.RotateAbout(v[0], v[1], v[2])
		case name == "matrix" && len(v) == 6:
			m = m.Mul(canvas.Matrix{{v[0], v[2], v[4]}, {v[1], v[3], v[5]}})
		default:
			return m, logoFault(simplePaths, "the SVG holds a transform that cannot be read: %q", text)
		}
	}
	return m, nil
}

func svgNumbers(text string) []float64 {
	var out []float64
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '\t' || r == '\n' }) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
		out = append(out, v)
	}
	return out
}

// svgLength reads a length whatever its unit: only proportions count.
func svgLength(text string) float64 {
	v, err := strconv.ParseFloat(strings.TrimRight(text, "pxmcintq% "), 64)
	if err != nil {
		return 0
	}
	return v
}
