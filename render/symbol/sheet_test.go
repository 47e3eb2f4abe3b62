package symbol_test

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/png"
	"fay/render/rendertest"
	"fay/render/symbol"
)

var look = flag.String("look", "", "write the contact sheets as PNG into this directory")

type cell struct {
	name   string
	symbol symbol.Symbol
	place  symbol.Place
}

func plate(mm geometry.Length) joints.Plate { return joints.Plate{Thickness: mm} }

func legs(a, b geometry.Length) *joints.Fillet {
	return &joints.Fillet{Legs: [2]geometry.Length{a, b}}
}

func shaped(leg geometry.Length, face joints.FaceShape, rise geometry.Length) *joints.Fillet {
	return &joints.Fillet{Legs: [2]geometry.Length{leg, leg}, Face: face, Rise: rise}
}

func built(s joints.Section, err error) func(testing.TB) *joints.Section {
	return func(tb testing.TB) *joints.Section {
		tb.Helper()
		if err != nil {
			tb.Fatal(err)
		}
		return &s
	}
}

func both(deg float64) [2]geometry.Angle {
	a := geometry.Angle(deg) * geometry.Degree
	return [2]geometry.Angle{a, a}
}

func radii(r geometry.Length) [2]geometry.Length { return [2]geometry.Length{r, r} }

// cases are joints and what is asked of their symbols. Lengths are even in mm
// for the ISO systems and in sixteenths of an inch (unit) for AWS A2.4.
type symbolCase struct {
	name    string
	section func(testing.TB) *joints.Section
	seams   []joints.Seam
	opts    symbol.Options
	place   symbol.Place
}

func cases(u geometry.Length) []symbolCase {
	left := symbol.Place{Left: true}
	butt := func(p joints.Butt) func(testing.TB) *joints.Section { return built(joints.NewButt(p)) }
	tee := func(p joints.Tee) func(testing.TB) *joints.Section { return built(joints.NewTee(p)) }
	chain := joints.Seam{Length: 160 * u, Segment: 20 * u, Pitch: 60 * u}
	stagger := chain
	stagger.Staggered = true
	return []symbolCase{
		{"fillet, arrow side", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(3*u, 3*u)}), nil, symbol.Options{}, symbol.Place{}},
		{"fillet, other side", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Other: legs(3*u, 3*u)}), nil, symbol.Options{}, symbol.Place{}},
		{"fillets alike on both sides", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(3*u, 3*u), Other: legs(3*u, 3*u)}), nil, symbol.Options{Throat: true}, symbol.Place{}},
		{"fillets of two sizes, arrow at the right", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(4*u, 4*u), Other: legs(3*u, 3*u)}), nil, symbol.Options{}, left},
		{"unequal legs", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(5*u, 3*u)}), nil, symbol.Options{}, symbol.Place{}},
		{"convex and concave", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: shaped(4*u, joints.FaceConvex, u/4), Other: shaped(4*u, joints.FaceConcave, u/4)}), nil, symbol.Options{}, symbol.Place{}},
		{"flat contour, field weld", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(4*u, 4*u)}), nil, symbol.Options{Flush: true, Field: true}, symbol.Place{}},
		{"chain intermittent", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(3*u, 3*u), Other: legs(3*u, 3*u)}), []joints.Seam{chain}, symbol.Options{}, symbol.Place{}},
		{"staggered intermittent", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(3*u, 3*u), Other: legs(3*u, 3*u)}), []joints.Seam{stagger}, symbol.Options{}, symbol.Place{}},
		{"all around, in the field, tail", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(3*u, 3*u)}), []joints.Seam{{Around: 60 * u, Count: 4}}, symbol.Options{Field: true, Tail: symbol.Tail{Process: "GTAW", Level: "ISO 5817-C"}}, symbol.Place{}},
		{"all around, arrow at the right, tail", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Arrow: legs(3*u, 3*u)}), []joints.Seam{{Around: 60 * u}}, symbol.Options{Tail: symbol.Tail{Process: "141", Level: "ISO 5817-C", Position: "PB", Filler: "5183"}}, left},
		{"skewed tee, reference line below", tee(joints.Tee{Base: plate(8 * u), Stem: plate(4 * u), Angle: 60 * geometry.Degree, Arrow: legs(4*u, 4*u), Other: legs(5*u, 5*u)}), nil, symbol.Options{Field: true}, symbol.Place{Knee: geometry.Point{X: 6.9, Y: -12}}},
		{"proven penetration", tee(joints.Tee{Base: plate(8 * u), Stem: plate(6 * u), Arrow: &joints.Fillet{Legs: radii(4 * u), Penetration: u, Proven: true}}), nil, symbol.Options{}, symbol.Place{}},
		{"bevel, flush, welded through", tee(joints.Tee{Base: plate(10 * u), Stem: plate(8 * u), Gap: 2 * u, Prep: joints.PrepSingleBevel, RootFace: u, Arrow: &joints.Fillet{}}), nil, symbol.Options{}, symbol.Place{}},
		{"bevel with fillet, partial", tee(joints.Tee{Base: plate(10 * u), Stem: plate(8 * u), Gap: u, Prep: joints.PrepSingleBevel, ArrowBevel: joints.StemBevel{Depth: 4 * u}, Arrow: legs(6*u, 6*u), Other: legs(3*u, 3*u)}), nil, symbol.Options{}, left},
		{"double bevel with fillets", tee(joints.Tee{Base: plate(10 * u), Stem: plate(10 * u), Gap: 2 * u, Prep: joints.PrepDoubleBevel, Arrow: legs(7*u, 7*u), Other: legs(7*u, 7*u)}), nil, symbol.Options{Tail: symbol.Tail{Process: "GTAW"}}, symbol.Place{}},
		{"J on a stem", tee(joints.Tee{Base: plate(10 * u), Stem: plate(10 * u), Gap: u, Prep: joints.PrepSingleJ, RootFace: u, ArrowBevel: joints.StemBevel{Radius: 4 * u}, Arrow: &joints.Fillet{}}), nil, symbol.Options{}, symbol.Place{}},
		{"square butt, gap", butt(joints.Butt{Left: plate(4 * u), Right: plate(3 * u), RootOpening: u, Arrow: &joints.Groove{Cap: u / 4, CapLap: u}}), nil, symbol.Options{}, symbol.Place{}},
		{"square butt from both sides, partial", butt(joints.Butt{Left: plate(8 * u), Right: plate(8 * u), RootOpening: u, Flank: joints.Flank{Depth: 2 * u}, OtherFlank: joints.Flank{Depth: 3 * u}, Arrow: &joints.Groove{}, Other: &joints.Groove{}}), nil, symbol.Options{}, symbol.Place{}},
		{"single V, root face, melt-through", butt(joints.Butt{Left: plate(8 * u), Right: plate(6 * u), Prep: joints.PrepSingleV, RootOpening: 2 * u, RootFace: u, Flank: joints.Flank{Bevel: both(35)}, Arrow: &joints.Groove{Cap: u / 2, Root: u / 2}}), nil, symbol.Options{}, symbol.Place{}},
		{"single V on a strip", butt(joints.Butt{Left: plate(8 * u), Right: plate(8 * u), Prep: joints.PrepSingleV, RootOpening: 4 * u, Flank: joints.Flank{Bevel: both(22.5)}, Backing: joints.Backing{Kind: joints.BackingStrip, Width: 40 * u}, Arrow: &joints.Groove{}}), nil, symbol.Options{Flush: true}, left},
		{"single V on a ceramic", butt(joints.Butt{Left: plate(8 * u), Right: plate(8 * u), Prep: joints.PrepSingleV, RootOpening: 4 * u, Flank: joints.Flank{Bevel: both(30)}, Backing: joints.Backing{Kind: joints.BackingCeramic, Width: 40 * u, GrooveWidth: 10 * u, GrooveDepth: u}, Arrow: &joints.Groove{Cap: u / 2, Root: u / 2}}), nil, symbol.Options{}, symbol.Place{}},
		{"double V alike", butt(joints.Butt{Left: plate(12 * u), Right: plate(12 * u), Prep: joints.PrepDoubleV, RootOpening: 2 * u, Flank: joints.Flank{Bevel: both(30)}, OtherFlank: joints.Flank{Bevel: both(30)}, Arrow: &joints.Groove{}, Other: &joints.Groove{}}), nil, symbol.Options{}, symbol.Place{}},
		{"double V of two depths", butt(joints.Butt{Left: plate(12 * u), Right: plate(12 * u), Prep: joints.PrepDoubleV, RootOpening: 2 * u, Flank: joints.Flank{Bevel: both(30), Depth: 8 * u}, OtherFlank: joints.Flank{Bevel: both(45), Depth: 4 * u}, Arrow: &joints.Groove{Cap: u}, Other: &joints.Groove{Cap: u}}), nil, symbol.Options{}, symbol.Place{}},
		{"single U, partial", butt(joints.Butt{Left: plate(16 * u), Right: plate(16 * u), Prep: joints.PrepSingleU, RootOpening: u, Flank: joints.Flank{Bevel: both(10), Radius: radii(4 * u), Depth: 12 * u}, Arrow: &joints.Groove{Penetration: u, Proven: true}}), nil, symbol.Options{}, symbol.Place{}},
		{"single bevel on the left member", butt(joints.Butt{Left: plate(8 * u), Right: plate(8 * u), Prep: joints.PrepSingleBevel, Prepared: "left", RootOpening: 2 * u, Flank: joints.Flank{Bevel: both(45)}, Arrow: &joints.Groove{Cap: u / 2}}), nil, symbol.Options{}, symbol.Place{}},
		{"double J", butt(joints.Butt{Left: plate(24 * u), Right: plate(24 * u), Prep: joints.PrepDoubleJ, RootOpening: u, Flank: joints.Flank{Bevel: both(20), Radius: radii(5 * u)}, OtherFlank: joints.Flank{Bevel: both(20), Radius: radii(5 * u)}, Arrow: &joints.Groove{}, Other: &joints.Groove{}}), nil, symbol.Options{}, left},
		{"lap, continuous length", built(joints.NewLap(joints.Lap{Lower: plate(6 * u), Upper: plate(4 * u), Overlap: 30 * u, Arrow: legs(4*u, 4*u)})), []joints.Seam{{Length: 96 * u}}, symbol.Options{Lengths: true}, symbol.Place{}},
	}
}

// bare are symbols of welds that no joint on file has yet.
func bare(sys symbol.System) []cell {
	one := func(name string, side symbol.Side) cell {
		side.Weld = "arrow"
		return cell{name, symbol.Symbol{System: sys, Sides: [2]symbol.Side{side}}, symbol.Place{}}
	}
	return []cell{
		one("flare V", symbol.Side{Glyph: symbol.FlareV, Depth: joints.Some(6.35)}),
		one("flare bevel", symbol.Side{Glyph: symbol.FlareBevel, Depth: joints.Some(6.35), Contour: joints.FaceFlat}),
		one("plug", symbol.Side{Glyph: symbol.Plug, Size: joints.Some(12.7)}),
		one("edge", symbol.Side{Glyph: symbol.Edge, Size: joints.Some(3.175)}),
		{"V with back weld", symbol.Symbol{System: sys, Sides: [2]symbol.Side{
			{Weld: "arrow", Glyph: symbol.V, GrooveAngle: 60 * geometry.Degree, RootOpening: joints.Some(3.175)},
			{Weld: "other", Glyph: symbol.Back}}}, symbol.Place{}},
	}
}

func style(sys symbol.System) render.Style {
	if sys == symbol.AWS {
		return render.US()
	}
	return render.ISO()
}

func unit(sys symbol.System) geometry.Length {
	if sys == symbol.AWS {
		return geometry.Inch / 16
	}
	return 1
}

func cells(tb testing.TB, sys symbol.System) []cell {
	tb.Helper()
	var out []cell
	for _, c := range cases(unit(sys)) {
		c.opts.System = sys
		s, err := symbol.Of(c.section(tb), c.seams, c.opts)
		if err != nil {
			tb.Fatalf("%s: %v", c.name, err)
		}
		out = append(out, cell{c.name, s, c.place})
		if sys == symbol.AWS && c.name == "staggered intermittent" {
			c.place.Stacked = true
			out = append(out, cell{"the same, fractions stacked", s, c.place})
		}
		if sys == symbol.AWS && c.name == "bevel with fillet, partial" {
			c.place.Stacked = true
			out = append(out, cell{"the same, fractions stacked", s, c.place})
		}
	}
	return append(out, bare(sys)...)
}

const (
	cellWide, cellHigh = 98.0, 46.0
	columns            = 4
)

// contact draws all symbols of a system on one sheet.
func contact(tb testing.TB, sys symbol.System) *render.Drawing {
	tb.Helper()
	list := cells(tb, sys)
	rows := (len(list) + columns - 1) / columns
	st := style(sys)
	d := &render.Drawing{Width: columns*cellWide + 10, Height: float64(rows)*cellHigh + 10, Title: "Welding symbols, " + string(sys), Language: "en"}
	for i, c := range list {
		corner := geometry.Point{X: 5 + float64(i%columns)*cellWide, Y: d.Height - 5 - float64(i/columns+1)*cellHigh}
		d.Items = append(d.Items, render.Item{Layer: render.LayerText, View: render.NoView, Role: "caption",
			Text: &render.Text{At: corner.Add(geometry.Point{X: 2, Y: 2}), Height: 2.5, Content: c.name, Ink: render.Ink{R: 110, G: 110, B: 110}}})
		c.place.Tip = corner.Add(geometry.Point{X: 12, Y: 12})
		if c.place.Left {
			c.place.Tip.X = corner.X + cellWide - 12
		}
		if c.place.Knee.Y < 0 {
			c.place.Tip.Y = corner.Y + 36
		}
		p := c.symbol.Layout(&st, c.place)
		d.Items = append(d.Items, p.Items(&st, render.NoView)...)
	}
	return d
}

func TestContactSheet(t *testing.T) {
	for _, sys := range symbol.Systems() {
		t.Run(string(sys), func(t *testing.T) {
			d := contact(t, sys)
			if err := d.Check(); err != nil {
				t.Fatal(err)
			}
			for _, v := range rendertest.Lint(d) {
				t.Error(v)
			}
			rendertest.Golden(t, string(sys)+".json", render.EncodeJSON(d))
			if *look == "" {
				return
			}
			var b bytes.Buffer
			if err := png.Write(&b, d, 150); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(*look, string(sys)+".png"), b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
		})
	}
}

func TestReproducible(t *testing.T) {
	rendertest.Reproducible(t, func(w io.Writer) error {
		for _, sys := range symbol.Systems() {
			if _, err := w.Write(render.EncodeJSON(contact(t, sys))); err != nil {
				return err
			}
		}
		return nil
	})
}
