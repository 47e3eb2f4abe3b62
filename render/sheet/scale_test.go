package sheet_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fay/render"
	"fay/render/pdf"
	"fay/render/rendertest"
	"fay/render/sheet"
	"fay/render/svg"
)

// span is the longest straight stroke along each axis that is 0.5 mm wide and
// within a tenth of 50 mm: the check bars.
type span struct{ wide, high float64 }

func (s *span) take(x0, y0, x1, y1 float64) {
	dx, dy := math.Abs(x1-x0), math.Abs(y1-y0)
	if dy < 1e-6 && math.Abs(dx-50) < 5 {
		s.wide = math.Max(s.wide, dx)
	}
	if dx < 1e-6 && math.Abs(dy-50) < 5 {
		s.high = math.Max(s.high, dy)
	}
}

func (s *span) check(t *testing.T, file string) {
	t.Helper()
	if math.Abs(s.wide-50) > 0.01 || math.Abs(s.high-50) > 0.01 {
		t.Errorf("%s: the check bars measure %.4f and %.4f mm, want 50", file, s.wide, s.high)
	}
}

// TestCheckBarsMeasureFifty measures the bars of both axes in the files that
// leave the printer, on every paper and on every kind of sheet.
func TestCheckBarsMeasureFifty(t *testing.T) {
	t.Parallel()
	job := sheet.Job{Section: davitFoot(t), Digest: "9f2c"}
	for _, o := range options() {
		pages, err := sheet.Compose(job, o)
		if err != nil {
			t.Fatal(err)
		}
		gauge, err := sheet.Gauge(job, o)
		if err != nil {
			t.Fatal(err)
		}
		together, err := sheet.Together([]sheet.Job{job}, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range append(append(pages, gauge), together...) {
			pdfBars(t, d)
			svgBars(t, d)
		}
	}
}

func pdfBars(t *testing.T, d *render.Drawing) {
	t.Helper()
	var out bytes.Buffer
	if err := pdf.Write(&out, []*render.Drawing{d}, pdf.Info{}); err != nil {
		t.Fatal(err)
	}
	file := rendertest.ReadPDF(t, out.Bytes())
	box := file.Boxes[0]
	if w := box[2] * 25.4 / 72; math.Abs(w-d.Width) > 0.01 {
		t.Errorf("the page is %.3f mm wide, want %.3f", w, d.Width)
	}
	var bars span
	line := regexp.MustCompile(`([-0-9.]+) ([-0-9.]+) m ([-0-9.]+) ([-0-9.]+) l`)
	scale := regexp.MustCompile(`([0-9.]+) 0 0 ([0-9.]+) 0 0 cm`)
	for _, o := range file.Objects {
		m := scale.FindStringSubmatch(o)
		if m == nil {
			continue
		}
		// Units of the page to millimetres.
		sx, sy := number(m[1])*25.4/72, number(m[2])*25.4/72
		for _, l := range line.FindAllStringSubmatch(o, -1) {
			bars.take(number(l[1])*sx, number(l[2])*sy, number(l[3])*sx, number(l[4])*sy)
		}
	}
	bars.check(t, "pdf")
}

func number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

var (
	svgLine = regexp.MustCompile(`M([-0-9.]+)[ ,]?(-?[0-9.]+)([HVhv])(-?[0-9.]+)`)
	svgRun  = regexp.MustCompile(`M([-0-9.]+)[ ,]?(-?[0-9.]+)[Ll](-?[0-9.]+)[ ,]?(-?[0-9.]+)`)
)

func svgBars(t *testing.T, d *render.Drawing) {
	t.Helper()
	var out bytes.Buffer
	if err := svg.Write(&out, d); err != nil {
		t.Fatal(err)
	}
	var bars span
	decoder := xml.NewDecoder(&out)
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		attr := map[string]string{}
		for _, a := range start.Attr {
			attr[a.Name.Local] = a.Value
		}
		if start.Name.Local == "svg" {
			view := strings.Fields(attr["viewBox"])
			if len(view) != 4 || view[2]+"mm" != attr["width"] || view[3]+"mm" != attr["height"] {
				t.Fatalf("a user unit is not 1 mm: %v", attr)
			}
		}
		for _, l := range svgLine.FindAllStringSubmatch(attr["d"], -1) {
			x, y, to := number(l[1]), number(l[2]), number(l[4])
			switch l[3] {
			case "H":
				bars.take(x, y, to, y)
			case "h":
				bars.take(0, 0, to, 0)
			case "V":
				bars.take(x, y, x, to)
			case "v":
				bars.take(0, 0, 0, to)
			}
		}
		for _, l := range svgRun.FindAllStringSubmatch(attr["d"], -1) {
			bars.take(number(l[1]), number(l[2]), number(l[3]), number(l[4]))
		}
	}
	bars.check(t, "svg")
}
