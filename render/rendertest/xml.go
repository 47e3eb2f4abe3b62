package rendertest

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"testing"
)

// SVG is what a test wants to know of an SVG file.
type SVG struct {
	Width, Height, ViewBox, Language string
	Title, Description               string
	Texts                            []string // plain texts of the lettering, in drawing order
	Groups                           []string // ids of the layer groups, in drawing order
}

// ReadSVG reads an SVG file strictly and fails the test when it is not
// well-formed XML with an svg root.
func ReadSVG(tb testing.TB, data []byte) SVG {
	tb.Helper()
	var out SVG
	dec := xml.NewDecoder(bytes.NewReader(data))
	var path []xml.StartElement
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			tb.Fatalf("not well-formed XML: %v", err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			path = append(path, x.Copy())
			out.start(len(path), x)
			if x.Name.Local == "title" && len(path) > 2 {
				out.Texts = append(out.Texts, "")
			}
		case xml.EndElement:
			path = path[:len(path)-1]
		case xml.CharData:
			if n := len(path); n > 0 {
				out.text(n, path[n-1].Name.Local, string(x))
			}
		}
	}
	if out.Width == "" || out.Height == "" || out.ViewBox == "" {
		tb.Fatalf("no svg root with width, height and viewBox: %+v", out)
	}
	return out
}

func (s *SVG) start(depth int, e xml.StartElement) {
	for _, a := range e.Attr {
		switch {
		case depth == 2 && e.Name.Local == "g" && a.Name.Local == "id":
			s.Groups = append(s.Groups, a.Value)
		case depth > 1 || e.Name.Local != "svg":
		case a.Name.Local == "width":
			s.Width = a.Value
		case a.Name.Local == "height":
			s.Height = a.Value
		case a.Name.Local == "viewBox":
			s.ViewBox = a.Value
		case a.Name.Local == "lang":
			s.Language = a.Value
		}
	}
}

func (s *SVG) text(depth int, element, content string) {
	switch {
	case depth == 2 && element == "title":
		s.Title += content
	case depth == 2 && element == "desc":
		s.Description += content
	case element == "title":
		s.Texts[len(s.Texts)-1] += content
	}
}
