package sheet_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"fay/geometry"
	"fay/render"
	"fay/render/rendertest"
	"fay/render/sheet"
)

func svgFile(inner string) []byte {
	return []byte(`<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">` + inner + `</svg>`)
}

func pngFile(tb testing.TB, w, h int, paint func(x, y int) color.Color) []byte {
	tb.Helper()
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, paint(x, y))
		}
	}
	var out bytes.Buffer
	if err := png.Encode(&out, m); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// ink tells the colour of a logo at a point by the winding of its contours,
// which is how every writer fills; white where nothing lies.
func ink(l *sheet.Logo, p geometry.Point) render.Ink {
	found := render.Ink{R: 255, G: 255, B: 255}
	for _, a := range l.Areas {
		turns := 0
		for _, c := range a.Contours {
			for i, from := range c {
				to := c[(i+1)%len(c)]
				side := to.Sub(from).Cross(p.Sub(from))
				switch {
				case from.Y <= p.Y && to.Y > p.Y && side > 0:
					turns++
				case from.Y > p.Y && to.Y <= p.Y && side < 0:
					turns--
				}
			}
		}
		if turns != 0 {
			found = a.Ink
		}
	}
	return found
}

func TestReadLogo(t *testing.T) {
	at := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	red, black, white := render.Ink{R: 255}, render.Ink{}, render.Ink{R: 255, G: 255, B: 255}
	for _, test := range []struct {
		name string
		data []byte
		want map[geometry.Point]render.Ink
	}{
		{"rectangle, y up", svgFile(`<rect x="0" y="0" width="40" height="5" fill="#f00"/>`), map[geometry.Point]render.Ink{at(20, 18): red, at(20, 10): white}},
		{"path with curves in black", svgFile(`<path d="M10 10 C10 0 30 0 30 10 Z"/>`), map[geometry.Point]render.Ink{at(20, 12): black, at(20, 5): white}},
		{"ring by the rule evenodd", svgFile(`<path fill-rule="evenodd" d="M5 2h16v16h-16z M9 6h8v8h-8z"/>`), map[geometry.Point]render.Ink{at(6, 10): black, at(13, 10): white}},
		{"two squares the same way round are one", svgFile(`<path d="M5 2h16v16h-16z M9 6h8v8h-8z"/>`), map[geometry.Point]render.Ink{at(13, 10): black}},
		{"group with a transform", svgFile(`<g transform="translate(10 0) scale(2)" style="fill:red"><circle cx="5" cy="5" r="4"/></g>`), map[geometry.Point]render.Ink{at(20, 10): red, at(5, 10): white}},
		{"later over earlier", svgFile(`<rect width="40" height="20"/><polygon points="0,0 40,0 40,20" fill="white"/>`), map[geometry.Point]render.Ink{at(5, 2): black, at(35, 18): white}},
		{"words around it do no harm", svgFile(`<title>mark</title><metadata><x/></metadata><rect width="9" height="20"/>`), map[geometry.Point]render.Ink{at(5, 10): black}},
		{"picture", pngFile(t, 40, 20, func(x, _ int) color.Color {
			if x < 20 {
				return color.NRGBA{R: 255, A: 255}
			}
			return color.NRGBA{}
		}), map[geometry.Point]render.Ink{at(10, 10): red, at(30, 10): white}},
		{"large picture is brought down", pngFile(t, 1200, 300, func(_, y int) color.Color {
			if y < 150 {
				return color.Black
			}
			return color.White
		}), map[geometry.Point]render.Ink{at(100, 50): black, at(100, 10): white}},
	} {
		t.Run(test.name, func(t *testing.T) {
			l, err := sheet.ReadLogo(test.data)
			if err != nil {
				t.Fatal(err)
			}
			for p, want := range test.want {
				if got := ink(l, p); got != want {
					t.Errorf("at %v: %v, want %v", p, got, want)
				}
			}
			job := fullJob(davitFoot(t))
			job.Logo = l
			sheets, err := sheet.Compose(job, sheet.Options{})
			if err != nil {
				t.Fatal(err)
			}
			found := false
			for i := range sheets[0].Items {
				it := &sheets[0].Items[i]
				if it.Role != "logo" {
					continue
				}
				found = true
				for _, e := range it.Path.Edges {
					if b := e.Bounds(); b.Min.X < 20 || b.Max.X > 48 || b.Min.Y < 30 || b.Max.Y > 42.4 {
						t.Fatalf("the logo leaves its box: %v", b)
					}
				}
			}
			if !found {
				t.Error("the logo is not on the sheet")
			}
			for _, v := range rendertest.Lint(sheets[0]) {
				t.Error(v)
			}
		})
	}
}

// TestLogoFaults wants one clear fault for every file that cannot serve.
func TestLogoFaults(t *testing.T) {
	whole := pngFile(t, 30, 30, func(int, int) color.Color { return color.Black })
	for _, test := range []struct {
		name string
		data []byte
		rule string
	}{
		{"empty", nil, "empty"},
		{"too large", make([]byte, sheet.MaxLogoBytes+1), "1 MiB"},
		{"no picture", []byte("name: foot\n"), "neither SVG nor PNG"},
		{"a web page", []byte("<html><body/></html>"), "neither SVG nor PNG"},
		{"JPEG", []byte("\xff\xd8\xff\xe0aaaa"), "neither SVG nor PNG"},
		{"broken PNG", whole[:len(whole)/2], "damaged"},
		{"PNG of nothing", whole[:8], "damaged"},
		{"white picture", pngFile(t, 30, 30, func(int, int) color.Color { return color.White }), "nothing in the file"},
		{"a strip", pngFile(t, 300, 3, func(int, int) color.Color { return color.Black }), "12 times"},
		{"too many dots", pngFile(t, 4001, 1, func(int, int) color.Color { return color.Black }), "4000"},
		{"broken SVG", []byte("<svg viewBox='0 0 1 1'><path"), "damaged"},
		{"no size", []byte("<svg><rect width='3' height='3'/></svg>"), "how large"},
		{"lettering", svgFile(`<text>yard</text>`), "<text>"},
		{"picture inside", svgFile(`<image href="x.png"/>`), "<image>"},
		{"stroke", svgFile(`<path d="M0 0h9" stroke="black"/>`), "stroke"},
		{"gradient", svgFile(`<rect width="9" height="9" fill="url(#a)"/>`), "#rrggbb"},
		{"clip", svgFile(`<g clip-path="url(#a)"><rect width="9" height="9"/></g>`), "clip-path"},
		{"bad path", svgFile(`<path d="M0 0 L nonsense"/>`), "cannot be read"},
		{"bad transform", svgFile(`<g transform="skewX(3)"/>`), "transform"},
		{"far away", svgFile(`<rect x="900" width="9" height="9"/>`), "far beyond"},
		{"empty SVG", svgFile(``), "nothing in the file"},
		{"too many points", svgFile(`<path d="M0 0` + strings.Repeat("l3 1l-1 3l-3-1l1-3", 6000) + `"/>`), "points"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := sheet.ReadLogo(test.data)
			fault, ok := errors.AsType[*sheet.LogoError](err)
			if !ok {
				t.Fatalf("%v is no *LogoError", err)
			}
			if !strings.Contains(fault.Rule, test.rule) || fault.Remedy == "" {
				t.Errorf("%q with the remedy %q, want %q", fault.Rule, fault.Remedy, test.rule)
			}
		})
	}
}

func FuzzReadLogo(f *testing.F) {
	f.Add(svgFile(`<g transform="rotate(30 1 1)"><path d="M5 2h16v16h-16z M9 6a3 3 0 1 0 8 8z"/></g>`))
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := sheet.ReadLogo(data)
		if err != nil {
			return
		}
		for _, a := range l.Areas {
			for _, c := range a.Contours {
				for _, p := range c {
					if !p.IsFinite() {
						t.Fatal("a point is not finite")
					}
				}
			}
		}
	})
}
