package render

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"fay/geometry"
	"fay/render/internal/number"
)

// EncodeJSON writes the display list as JSON for people and golden tests: one
// item or edge to a line, coordinates rounded to 1e-3 mm, angles in degrees
// rounded to 1e-4. Edges are {"line":[x,y,x,y]},
// {"arc":[x,y,x,y,sagitta]} and {"quad":[x,y,control x,control y,x,y]}. What an
// item does not have is left out. The same drawing gives the same bytes.
func EncodeJSON(d *Drawing) []byte {
	e := &encoder{}
	e.printf("{\n\"size_mm\": ")
	e.numbers(d.Width, d.Height)
	e.printf(",\n\"title\": %s,\n\"description\": %s,\n\"language\": %s,\n\"views\": [", quote(d.Title), quote(d.Description), quote(d.Language))
	for i, v := range d.Views {
		e.comma(i)
		e.printf("\n  {\"name\": %s, \"scale\": ", quote(v.Name))
		e.Number(v.Scale, 6)
		e.printf(", \"origin\": ")
		e.numbers(v.Origin.X, v.Origin.Y)
		e.printf("}")
	}
	e.printf("],\n\"items\": [")
	for i := range d.Items {
		e.comma(i)
		e.item(&d.Items[i])
	}
	e.printf("]\n}\n")
	return e.Bytes()
}

type encoder struct{ number.Buffer }

// quote writes a JSON string, characters such as < and ≤ as they are.
func quote(s string) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		return `""` // a Go string always encodes
	}
	return string(bytes.TrimRight(b.Bytes(), "\n"))
}

func (e *encoder) printf(format string, args ...any) { e.Text(fmt.Sprintf(format, args...)) }

func (e *encoder) comma(i int) {
	if i > 0 {
		e.Byte(',')
	}
}

func (e *encoder) numbers(values ...float64) {
	e.Byte('[')
	for i, v := range values {
		e.comma(i)
		e.Number(v, 3)
	}
	e.Byte(']')
}

func (e *encoder) item(it *Item) {
	e.printf("\n  {\"layer\": %s", quote(string(it.Layer)))
	if it.View != NoView {
		e.printf(", \"view\": %d", it.View)
	}
	if it.Role != "" {
		e.printf(", \"role\": %s", quote(it.Role))
	}
	if it.Text != nil {
		e.text(it.Text)
	}
	if it.Path != nil {
		e.path(it.Path)
	}
	e.printf("}")
}

func (e *encoder) text(t *Text) {
	e.printf(", \"text\": %s, \"at\": ", quote(t.Content))
	e.numbers(t.At.X, t.At.Y)
	e.printf(", \"height\": ")
	e.Number(t.Height, 3)
	e.printf(", \"align\": %q", t.Align)
	if t.Angle != 0 {
		e.printf(", \"angle_deg\": ")
		e.Number(t.Angle.Degrees(), 4)
	}
	if t.Face != FaceRegular {
		e.printf(", \"face\": %q", t.Face)
	}
	if t.Ink != Black {
		e.printf(", \"ink\": %q", t.Ink)
	}
	if t.Halo != 0 {
		e.printf(", \"halo\": ")
		e.Number(t.Halo, 3)
	}
}

func (e *encoder) path(p *Path) {
	if p.Closed {
		e.printf(", \"closed\": true")
	}
	if s := p.Stroke; s != nil {
		e.printf(", \"stroke\": ")
		e.Number(s.Width, 3)
		if len(s.Dash) > 0 {
			e.printf(", \"dash\": ")
			e.numbers(s.Dash...)
		}
		if s.Ink != Black {
			e.printf(", \"ink\": %q", s.Ink)
		}
	}
	if p.Fill != nil {
		e.printf(", \"fill\": %q", *p.Fill)
	}
	e.printf(", \"edges\": [")
	for i, edge := range p.Edges {
		e.comma(i)
		if len(p.Edges) > 1 {
			e.printf("\n    ")
		}
		e.edge(edge)
	}
	e.printf("]")
}

func (e *encoder) edge(g geometry.Edge) {
	a, b := g.Start(), g.End()
	switch g.Kind() {
	case geometry.ArcEdge:
		e.printf(`{"arc": `)
		e.numbers(a.X, a.Y, b.X, b.Y, g.Sagitta())
	case geometry.QuadEdge:
		c := g.Control()
		e.printf(`{"quad": `)
		e.numbers(a.X, a.Y, c.X, c.Y, b.X, b.Y)
	default:
		e.printf(`{"line": `)
		e.numbers(a.X, a.Y, b.X, b.Y)
	}
	e.printf("}")
}

// String names the placement: left, centre or right.
func (a Align) String() string {
	switch a {
	case AlignCentre:
		return "centre"
	case AlignRight:
		return "right"
	case AlignLeft:
	}
	return "left"
}

// String writes the colour as #rrggbb.
func (i Ink) String() string {
	return "#" + hex.EncodeToString([]byte{i.R, i.G, i.B})
}
