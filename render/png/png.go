// Package png writes a drawing as a PNG picture: black and tints on white
// paper, smoothed edges, with the resolution in the file so that it prints at
// true size.
//
// The canvas library's rasteriser fills the shapes. Pen strokes are turned into
// shapes here, by offsetting the flattened line: the library's own stroker
// passes every line through its path booleans, which are slow and have failed
// on degenerate paths.
package png

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"io"
	"math"

	"fay/geometry"
	"fay/render"
	"fay/render/internal/pen"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/rasterizer"
)

// Limits of the resolution in dots per inch, and of the picture in pixels; an
// A0 sheet at 300 dpi has 140 million pixels.
const (
	MinDPI    = 10
	MaxDPI    = 2400
	MaxPixels = 200_000_000
)

// ResolutionError says that a picture cannot be made at a resolution.
type ResolutionError struct {
	DPI  float64
	Rule string
}

func (e *ResolutionError) Error() string {
	return fmt.Sprintf("png: resolution %g dpi: %s", e.DPI, e.Rule)
}

// Write writes the drawing at a resolution in dots per inch. It fails before
// the first byte with a *ResolutionError, with the faults of the drawing (see
// render.Drawing.Check), or with the writer's error.
func Write(w io.Writer, d *render.Drawing, dpi float64) error {
	if err := d.Check(); err != nil {
		return err
	}
	width, height, err := size(d, dpi)
	if err != nil {
		return err
	}
	p := newPicture(width, height, dpi/millimetresPerInch)
	for _, items := range d.ByLayer() {
		for _, it := range items {
			if it.Path != nil {
				p.path(it.Path)
			} else {
				p.text(it.Text)
			}
		}
	}
	return encode(w, p.image, dpi)
}

const millimetresPerInch = 25.4

// size gives the picture's size in pixels, to the nearest.
func size(d *render.Drawing, dpi float64) (width, height int, err error) {
	if !(dpi >= MinDPI && dpi <= MaxDPI) {
		return 0, 0, &ResolutionError{dpi, fmt.Sprintf("use %d to %d dots per inch", MinDPI, MaxDPI)}
	}
	w, h := math.Round(d.Width*dpi/millimetresPerInch), math.Round(d.Height*dpi/millimetresPerInch)
	if w < 1 || h < 1 {
		return 0, 0, &ResolutionError{dpi, "the sheet is smaller than a pixel; raise the resolution"}
	}
	if w*h > MaxPixels {
		return 0, 0, &ResolutionError{dpi, fmt.Sprintf("%.0f × %.0f pixels are more than %d million; lower the resolution", w, h, MaxPixels/1_000_000)}
	}
	return int(w), int(h), nil
}

type picture struct {
	image *image.RGBA
	out   *rasterizer.Rasterizer
	tol   float64 // largest distance in mm of a flattened curve from the true one
}

func newPicture(width, height int, dotsPerMm float64) *picture {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	return &picture{
		image: img,
		out:   rasterizer.FromImage(img, canvas.DPMM(dotsPerMm), canvas.LinearColorSpace{}),
		tol:   0.1 / dotsPerMm,
	}
}

// fill fills a shape (non-zero winding rule), moved by a matrix.
func (p *picture) fill(shape *canvas.Path, ink render.Ink, m canvas.Matrix) {
	if shape.Empty() {
		return
	}
	style := canvas.Style{Fill: canvas.Paint{Color: color.RGBA{R: ink.R, G: ink.G, B: ink.B, A: 255}}}
	p.out.RenderPath(shape, style, m)
}

func (p *picture) path(path *render.Path) {
	if path.Stroke == nil && path.Fill == nil {
		return
	}
	f := flattener{tol: p.tol}
	pen.Draw(path.Edges, path.Closed, &f)
	if path.Fill != nil {
		shape := &canvas.Path{}
		for _, c := range f.contours {
			polygon(shape, c.points)
		}
		p.fill(shape, *path.Fill, canvas.Identity)
	}
	if path.Stroke != nil {
		p.fill(stroke(f.contours, path.Stroke, p.tol), path.Stroke.Ink, canvas.Identity)
	}
}

func (p *picture) text(t *render.Text) {
	if t.Halo > 0 && t.Content != "" {
		box, shape := t.Box(t.Halo), &canvas.Path{}
		polygon(shape, box[:])
		p.fill(shape, render.Ink{R: 255, G: 255, B: 255}, canvas.Identity)
	}
	o := t.Origin()
	p.fill(t.Line().Path(), t.Ink, canvas.Identity.Translate(o.X, o.Y).Rotate(t.Angle.Degrees()))
}

func polygon(shape *canvas.Path, points []geometry.Point) {
	if len(points) < 2 {
		return
	}
	for i, q := range points {
		if i == 0 {
			shape.MoveTo(q.X, q.Y)
		} else {
			shape.LineTo(q.X, q.Y)
		}
	}
	shape.Close()
}
