package symbol_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/render"
	"fay/render/symbol"

	"github.com/google/go-cmp/cmp"
)

// lettered are the texts of a symbol, from top to bottom and left to right.
func lettered(s *symbol.Symbol, place symbol.Place) []string {
	st := style(s.System)
	p := s.Layout(&st, place)
	slices.SortStableFunc(p.Texts, func(a, b render.Text) int {
		if math.Abs(a.At.Y-b.At.Y) > 0.1 {
			return int(math.Copysign(1, b.At.Y-a.At.Y))
		}
		return int(math.Copysign(1, a.At.X-b.At.X))
	})
	out := make([]string, 0, len(p.Texts))
	for _, t := range p.Texts {
		out = append(out, t.Content)
	}
	return out
}

// TestLettering pins what is written for joints whose numbers are plain.
func TestLettering(t *testing.T) {
	want := map[string]map[symbol.System][]string{
		"fillets alike on both sides": { // a = z/√2
			symbol.ISOA: {"a2,12", "a2,12"}, symbol.AWS: {"3/16", "3/16"}},
		"fillets of two sizes, arrow at the right": { // arrow 4, other 3
			symbol.ISOA: {"z4", "z3"}, symbol.ISOB: {"z3", "z4"}, symbol.AWS: {"3/16", "1/4"}},
		"unequal legs": {
			symbol.ISOA: {"z5×z3", "5 base × 3 stem"}, symbol.AWS: {"5/16 base × 3/16 stem", "5/16×3/16"}},
		"chain intermittent": { // segments 20 at 60 centre to centre on 160: three, 40 clear
			symbol.ISOA: {"z3", "3×20", "(40)", "z3", "3×20", "(40)"},
			symbol.AWS:  {"3/16", "1-1/4 – 3-3/4", "3/16", "1-1/4 – 3-3/4"}},
		"staggered intermittent": { // half a pitch on there is room for two
			symbol.ISOA: {"z3", "3×20", "(40)", "z3", "2×20", "(40)"}},
		"bevel with fillet, partial": {
			symbol.ISOB: {"z3", "h4 s4", "1", "z6", "45°"}, symbol.AWS: {"3/16", "1/4(1/4)", "1/16", "3/8", "45°"}},
		"bevel, flush, welded through": {
			symbol.AWS: {"CJP", "root face 1/16", "1/8", "45°"}},
		"single V, root face, melt-through": {
			symbol.ISOA: {"70°", "2", "root face 1", "0,5"}},
		"single U, partial": { // 1 of proven penetration
			symbol.ISOA: {"20°", "1", "h12 s13", "root radius 4"}, symbol.AWS: {"root radius 1/4", "3/4(13/16)", "1/16", "20°"}},
		"single V on a ceramic": {
			symbol.AWS: {"CJP", "R", "backing ceramic", "root reinforcement 1/32", "1/4", "60°"}},
		"proven penetration": {
			symbol.ISOA: {"s3,54 a2,83"}, symbol.AWS: {"effective throat .221 proven", "1/4"}},
		"double V of two depths": {
			symbol.ISOA: {"60°", "2", "h8", "h4", "90°"}},
		"lap, continuous length": {
			symbol.ISOA: {"z4", "96"}, symbol.AWS: {"1/4", "6"}},
	}
	for _, sys := range symbol.Systems() {
		for _, c := range cases(unit(sys)) {
			texts := want[c.name][sys]
			if texts == nil {
				continue
			}
			t.Run(string(sys)+"/"+c.name, func(t *testing.T) {
				c.opts.System = sys
				s, err := symbol.Of(c.section(t), c.seams, c.opts)
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(texts, lettered(&s, c.place)); diff != "" {
					t.Errorf("(-want +got)\n%s", diff)
				}
			})
		}
	}
}

// The clear gap of ISO 2553 and the pitch of AWS A2.4 say the same thing.
func TestGapAndPitch(t *testing.T) {
	r := symbol.Run{Segments: 3, Segment: 50, Pitch: 150}
	if got := r.Gap(); got != 100 {
		t.Errorf("want 100 clear, got %v", got)
	}
}

// TestSides puts the arrow side where each system has it.
func TestSides(t *testing.T) {
	tee := built(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Arrow: legs(4, 4)}))(t)
	for sys, below := range map[symbol.System]bool{symbol.ISOA: false, symbol.ISOB: true, symbol.AWS: true} {
		s, err := symbol.Of(tee, nil, symbol.Options{System: sys})
		if err != nil {
			t.Fatal(err)
		}
		for _, left := range []bool{false, true} {
			st := style(sys)
			p := s.Layout(&st, symbol.Place{Left: left})
			line := p.Carrier[0]
			if got := p.Texts[0].At.Y < line.A.Y; got != below {
				t.Errorf("%s: want the arrow side below the line %v, got %v", sys, below, got)
			}
			if (len(p.Dashed) > 0) != (sys == symbol.ISOA) {
				t.Errorf("%s: %d dashed lines", sys, len(p.Dashed))
			}
			// The upright leg of a fillet stands at the left whichever end the
			// arrow is at.
			upright, slope := p.Strokes[0], p.Strokes[1]
			if upright.Start().X != upright.End().X || upright.Start().X > slope.Bounds().Max.X-1 {
				t.Errorf("%s: the upright leg is not at the left: %v, %v", sys, upright, slope)
			}
			if p.Head[0] != (geometry.Point{}) {
				t.Errorf("%s: the arrow ends at %v, not at the joint", sys, p.Head[0])
			}
		}
	}
}

// The dashed line goes when both sides are alike, and only then.
func TestSymmetric(t *testing.T) {
	for name, tt := range map[string]struct {
		other *joints.Fillet
		want  bool
	}{
		"alike":         {legs(4, 4), true},
		"another leg":   {legs(4, 3), false},
		"another face":  {shaped(4, joints.FaceConvex, 0.3), false},
		"one side only": {nil, false},
	} {
		t.Run(name, func(t *testing.T) {
			tee := built(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Arrow: legs(4, 4), Other: tt.other}))(t)
			s, err := symbol.Of(tee, nil, symbol.Options{})
			if err != nil {
				t.Fatal(err)
			}
			st := render.ISO()
			if got := len(s.Layout(&st, symbol.Place{}).Dashed) == 0; got != tt.want {
				t.Errorf("want without a dashed line %v, got %v", tt.want, got)
			}
		})
	}
}

// The arrow of a joint with one prepared member stands on that member and its
// last piece goes at it, with a definite break in AWS A2.4.
func TestPreparedMember(t *testing.T) {
	butt := func(p joints.Butt, prepared string) func(testing.TB) *joints.Section {
		p.Left, p.Prepared, p.Arrow = plate(12), prepared, &joints.Groove{}
		if p.Right.Thickness == 0 {
			p.Right = plate(12)
		}
		return built(joints.NewButt(p))
	}
	pt := func(x, y float64) geometry.Point { return geometry.Point{X: x, Y: y} }
	bevel := joints.StemBevel{Angle: 45 * geometry.Degree}
	shallow := bevel
	shallow.Depth = 4
	for name, tt := range map[string]struct {
		section func(testing.TB) *joints.Section
		want    string
		tip     geometry.Point
	}{
		"butt, left":           {butt(joints.Butt{Prep: joints.PrepSingleBevel, RootOpening: 2}, "left"), "left", pt(-13, 12)},
		"butt, right":          {butt(joints.Butt{Prep: joints.PrepSingleBevel, RootOpening: 2}, "right"), "right", pt(13, 12)},
		"butt, closed":         {butt(joints.Butt{Prep: joints.PrepSingleBevel}, "right"), "right", pt(12, 12)},
		"butt, partial, left":  {butt(joints.Butt{Prep: joints.PrepSingleBevel, Flank: joints.Flank{Depth: 5}}, "left"), "left", pt(-5, 5)},
		"butt, partial, right": {butt(joints.Butt{Prep: joints.PrepSingleBevel, Flank: joints.Flank{Depth: 5}}, "right"), "right", pt(5, 5)},
		"tee":                  {built(joints.NewTee(joints.Tee{Base: plate(12), Stem: plate(8), Prep: joints.PrepSingleBevel, ArrowBevel: bevel, Arrow: legs(3, 3)})), "stem", pt(0, 8)},
		"tee, partial":         {built(joints.NewTee(joints.Tee{Base: plate(20), Stem: plate(10), Prep: joints.PrepSingleBevel, ArrowBevel: shallow, Arrow: legs(5, 5)})), "stem", pt(0, 5)},
	} {
		t.Run(name, func(t *testing.T) {
			sec := tt.section(t)
			sym, err := symbol.Of(sec, nil, symbol.Options{System: symbol.AWS})
			if err != nil {
				t.Fatal(err)
			}
			if sym.Arrow.Prepared != tt.want || sym.Arrow.Tip.Dist(tt.tip) > 1e-9 {
				t.Fatalf("want the arrow on the %s at %v, got %+v", tt.want, tt.tip, sym.Arrow)
			}
			i := slices.IndexFunc(sec.Members, func(m joints.Member) bool { return m.Name == tt.want })
			side := math.Copysign(1, sec.Members[i].Outline.Centroid().Sub(sec.Welds[0].Centroid).X)
			for _, left := range []bool{false, true} {
				st := render.US()
				p := sym.Layout(&st, symbol.Place{Left: left})
				last, first := p.Carrier[len(p.Carrier)-1], p.Carrier[len(p.Carrier)-2]
				u, v := last.B.Sub(last.A).Unit(), first.B.Sub(first.A).Unit()
				if u.X*side <= 0 {
					t.Errorf("the arrow goes %v, away from the %s", u, tt.want)
				}
				if turn := math.Acos(u.Dot(v)); turn < 25*math.Pi/180 {
					t.Errorf("a break of %.0f° is not definite", turn*180/math.Pi)
				}
			}
		})
	}
}

func TestFaults(t *testing.T) {
	tee := built(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Arrow: legs(4, 4)}))(t)
	empty := &joints.Section{}
	for name, tt := range map[string]struct {
		section *joints.Section
		seams   []joints.Seam
		opts    symbol.Options
		code    joints.FaultCode
		field   string
	}{
		"unknown system":  {tee, nil, symbol.Options{System: "din"}, joints.FaultUnknown, "symbol"},
		"no weld":         {empty, nil, symbol.Options{}, joints.FaultMissing, "welds"},
		"seam too short":  {tee, []joints.Seam{{Length: 100, Segment: 60, Pitch: 50}}, symbol.Options{}, joints.FaultUnfit, "seam.segment"},
		"seam not finite": {tee, []joints.Seam{{Length: geometry.Length(math.NaN())}}, symbol.Options{}, joints.FaultNotNumber, "seam.length"},
		"second of two":   {tee, []joints.Seam{{Length: 100}, {}}, symbol.Options{}, joints.FaultMissing, "seams.2.length"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := symbol.Of(tt.section, tt.seams, tt.opts)
			var faults joints.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("want faults, got %v", err)
			}
			if faults[0].Code != tt.code || faults[0].Field != tt.field {
				t.Errorf("want %s at %s, got %+v", tt.code, tt.field, faults[0])
			}
		})
	}
}

// Seams that differ leave the lengths to the sheet.
func TestTabled(t *testing.T) {
	tee := built(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Arrow: legs(4, 4)}))(t)
	s, err := symbol.Of(tee, []joints.Seam{{Length: 100}, {Length: 200}}, symbol.Options{Lengths: true})
	if err != nil {
		t.Fatal(err)
	}
	if !s.Tabled || s.Sides[0].Run != nil || !slices.Contains(lettered(&s, symbol.Place{}), "lengths as tabled") {
		t.Errorf("want no length and a note, got %+v", s)
	}
}

// A kind that has no such thing refuses the symbol.
func TestParseRefuses(t *testing.T) {
	k, ok := joints.LookupKind("lap")
	if !ok {
		t.Fatal("no laps")
	}
	s := symbol.Symbol{Sides: [2]symbol.Side{{Weld: "arrow", Glyph: symbol.V, GrooveAngle: 1}}}
	_, err := symbol.Parse(&s, k)
	if err == nil || !strings.Contains(err.Error(), "prep") {
		t.Errorf("want a refusal of the preparation, got %v", err)
	}
}

// FuzzLayout draws symbols with any numbers: nothing panics, and whatever is
// finite stays inside the box.
func FuzzLayout(f *testing.F) {
	f.Add(3.0, 4.0, 0.5, 1.0, 20.0, 60.0, uint8(0), uint8(0))
	f.Add(math.NaN(), -1.0, math.Inf(1), 1e300, 0.0, 0.0, uint8(4), uint8(7))
	f.Fuzz(func(t *testing.T, a, b, opening, angle, segment, pitch float64, glyph, flags uint8) {
		all := symbol.Glyphs()
		side := symbol.Side{Weld: "arrow", Glyph: all[int(glyph)%len(all)], Depth: joints.Some(geometry.Length(b)),
			RootOpening: joints.Some(geometry.Length(opening)), GrooveAngle: geometry.Angle(angle),
			Legs:    &symbol.Legs{Length: [2]geometry.Length{geometry.Length(a), geometry.Length(b)}, On: [2]int{0, 1}},
			Contour: joints.FaceConvex, Run: &symbol.Run{Segments: 3, Segment: geometry.Length(segment), Pitch: geometry.Length(pitch)}}
		s := symbol.Symbol{System: symbol.Systems()[int(flags)%3], Sides: [2]symbol.Side{side, side}, Members: [2]string{"base", "stem"},
			Staggered: flags&4 > 0, AllAround: flags&8 > 0, Field: flags&16 > 0}
		st := style(s.System)
		p := s.Layout(&st, symbol.Place{Left: flags&32 > 0, Stacked: flags&64 > 0})
		for i := range p.Texts {
			for _, c := range p.Texts[i].Box(0) {
				if !p.Box.Grow(1e-9).Contains(c) {
					t.Fatalf("%q lies outside the box", p.Texts[i].Content)
				}
			}
		}
	})
}

func BenchmarkLayout(b *testing.B) {
	tee := built(joints.NewTee(joints.Tee{Base: plate(8), Stem: plate(4), Arrow: legs(4, 4), Other: legs(3, 3)}))(b)
	s, err := symbol.Of(tee, []joints.Seam{{Length: 160, Segment: 20, Pitch: 60}}, symbol.Options{})
	if err != nil {
		b.Fatal(err)
	}
	st := render.ISO()
	for b.Loop() {
		s.Layout(&st, symbol.Place{})
	}
}
