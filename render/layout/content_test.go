package layout_test

import (
	"math"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
	"fay/render"
	"fay/render/layout"
	"fay/render/symbol"
)

// TestMeltedEdgesAreFormerEdges holds every edge that a weld melted to the line
// of what was there before, and the darker tint to the model's melted area.
func TestMeltedEdgesAreFormerEdges(t *testing.T) {
	const scale = 5
	welds, whole := 0, 0
	random(t, 12, func(t *testing.T, sec *joints.Section, s *render.Style) {
		t.Helper()
		_, items := layout.At(sec, s, scale, noLimit).Draw("section", geometry.Point{}, 0)
		for i := range sec.Welds {
			w := &sec.Welds[i]
			if w.MeltedBaseArea == 0 {
				continue
			}
			welds++
			profile := w.Profile.Transform(geometry.Scale(scale))
			melted := 0.0
			for _, it := range items {
				if it.Path == nil {
					continue
				}
				if it.Layer == render.LayerTint && it.Role == "weld:"+w.ID && *it.Path.Fill == s.Melted {
					melted += math.Abs(geometry.Area(it.Path.Edges...))
				}
				if it.Layer != render.LayerMember {
					continue
				}
				for _, e := range it.Path.Edges {
					if mid := e.At(0.5); profile.Locate(mid) == geometry.Inside && profile.Distance(mid) > 1e-4 {
						t.Errorf("%s: %s is drawn solid at %v inside %s", sec.Kind, it.Role, mid, w.ID)
					}
				}
			}
			want := w.MeltedBaseArea * scale * scale
			if math.Abs(melted-want) < 1e-3*want {
				whole++
			} else if math.Abs(melted-w.Area*scale*scale) > 1e-3*want {
				t.Errorf("%s %s: %.3f mm² tinted as melted, want %.3f", sec.Kind, w.ID, melted, want)
			}
		}
	})
	t.Logf("%d welds with fusion, %d with the melted metal apart", welds, whole)
	if whole*10 < welds*9 {
		t.Errorf("the melted metal is told apart on %d of %d welds", whole, welds)
	}
}

func compose(t *testing.T, line string) (*render.Drawing, *layout.Figure) {
	t.Helper()
	words := strings.Fields(line)
	doc, err := jointfile.Read(jointfile.Source{Kind: words[0], Assignments: words[1:]})
	if err != nil {
		t.Fatal(err)
	}
	s := render.ISO()
	f := layout.Compose(&doc.Section, &s, 180, 145, layout.Symbols(&doc.Section, &s, nil, symbol.Options{})...)
	return sheetOf(f), f
}

// lining is the direction of a member's section lines, 0 where it has none.
func lining(d *render.Drawing, member string) []geometry.Angle {
	var out []geometry.Angle
	for _, it := range d.Items {
		if it.Layer == render.LayerHatch && it.Role == "member:"+member {
			out = append(out, it.Path.Edges[0].Tangent(0).Angle())
		}
	}
	return out
}

func TestBackingIsDrawn(t *testing.T) {
	for _, c := range []struct {
		name, line, label string
		lined             bool
	}{
		{"a strip stays and is lined", "butt left=6 right=6 prep=single-bevel root-opening=5 backing=strip arrow.cap=1", "backing strip", true},
		{"a ceramic goes and is outlined only", "butt left=6 right=6 prep=single-v root-opening=4 backing=ceramic arrow.cap=1 arrow.root=1", "ceramic backing, temporary", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, _ := compose(t, c.line)
			outlined, labelled := false, false
			for _, it := range d.Items {
				outlined = outlined || it.Role == "member:backing" && it.Path != nil
				labelled = labelled || it.Text != nil && it.Text.Content == c.label
			}
			if got := len(lining(d, "backing")) > 0; !outlined || !labelled || got != c.lined {
				t.Errorf("outlined %v, labelled %v, lined %v", outlined, labelled, got)
			}
		})
	}
}

func TestPiecesOfOneMemberAreLinedAlike(t *testing.T) {
	d, _ := compose(t, "plug lower=6 upper=4 diameter=14 cap=0.5")
	upper, lower := lining(d, "upper"), lining(d, "lower")
	if len(upper) != 2 || len(lower) != 1 || math.Abs(float64(upper[0]-upper[1])) > 1e-9 || math.Abs(float64(upper[0]-lower[0])) < 1 {
		t.Errorf("upper %v, lower %v", upper, lower)
	}
}

// TestLegsStandOnTheirOwnSide looks for the dimension of each leg of the stem
// on the side of its own weld.
func TestLegsStandOnTheirOwnSide(t *testing.T) {
	for _, line := range []string{
		"tee base=8 stem=5 arrow.leg=5 other.leg=3",
		"tee base=6 stem=4 gap=0.5 arrow.leg=4 other.leg=5",
		"tee base=10 stem=8 arrow.leg=6 other.leg=4",
	} {
		_, f := compose(t, line)
		seen := 0
		for i := range f.Views {
			for _, m := range f.Views[i].Marks() {
				side := strings.TrimPrefix(m.Role, "dimension:leg stem ")
				if side == m.Role || len(m.Lines) == 0 {
					continue
				}
				seen++
				if right := m.Lines[0].A.X > 0; right != (side == "arrow") {
					t.Errorf("%s: the leg of %s stands at x = %.1f", line, side, m.Lines[0].A.X)
				}
			}
		}
		if seen != 2 {
			t.Errorf("%s: %d legs on the stem", line, seen)
		}
	}
}

// TestSymbolPointsAtItsWeld finds the arrow of the symbol on the weld's face.
func TestSymbolPointsAtItsWeld(t *testing.T) {
	d, f := compose(t, "tee base=8 stem=5 arrow.leg=5")
	if len(f.Homeless) > 0 {
		t.Fatal("the symbol found no place")
	}
	face := geometry.Line(geometry.Point{X: 25}, geometry.Point{Y: 25}).Transform(geometry.Translate(f.Views[0].At.Add(geometry.Point{X: 5, Y: 5})))
	if f.Views[0].Scale != 5 {
		t.Fatalf("scale %v", f.Views[0].Scale)
	}
	near := math.Inf(1)
	for _, it := range d.Items {
		if it.Layer != render.LayerSymbol {
			continue
		}
		for _, e := range it.Path.Edges {
			near = min(near, face.Distance(e.End()))
		}
	}
	if near > 1e-6 {
		t.Errorf("the arrow ends %.3f mm from the weld face", near)
	}
}

// TestAWholeEdgeIsDimensionedOnce draws an edge joint whose weld takes the whole
// of both edges, and one whose weld takes a part.
func TestAWholeEdgeIsDimensionedOnce(t *testing.T) {
	for _, tc := range []struct {
		line  string
		legs  int
		thick int
	}{
		{"edge left=3 right=4 penetration=2 cap=0.8", 0, 2},
		{"edge left=3 right=4 penetration=1 outside.leg=2 cap=0.5", 2, 2},
	} {
		_, f := compose(t, tc.line)
		legs, thick := 0, 0
		for i := range f.Views {
			for _, m := range f.Views[i].Marks() {
				if strings.HasPrefix(m.Role, "dimension:leg") {
					legs++
				}
				if strings.HasPrefix(m.Role, "dimension:thickness") {
					thick++
				}
			}
		}
		if legs != tc.legs || thick != tc.thick {
			t.Errorf("%s: %d legs and %d thicknesses are dimensioned, want %d and %d", tc.line, legs, thick, tc.legs, tc.thick)
		}
	}
}
