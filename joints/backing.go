package joints

import "fay/geometry"

// BackingKind says what lies under the root of a weld made from one side.
type BackingKind string

// The kinds of backing. A strip stays in the joint; a bar and a ceramic are
// taken away and carry a groove that shapes the root reinforcement.
const (
	BackingNone    BackingKind = "none"
	BackingStrip   BackingKind = "strip"
	BackingBar     BackingKind = "bar"
	BackingCeramic BackingKind = "ceramic"
)

// Backing is the backing of a root. Zero sizes take the usual ones.
type Backing struct {
	Kind             BackingKind // none when empty
	Thickness, Width geometry.Length
	// GrooveWidth and GrooveDepth shape the root under a bar or a ceramic.
	GrooveWidth, GrooveDepth geometry.Length
	// Outline is filled in by the constructor.
	Outline geometry.Outline
}

// backing lays the backing under the root at level lo.
func (c *checker) backing(b Backing, s *Section, oneSided bool, step geometry.Length, lo, thin float64) {
	if b.Kind == "" {
		b.Kind = BackingNone
	}
	if !c.oneOf("backing", string(b.Kind), "none", "strip", "bar", "ceramic") || b.Kind == BackingNone {
		return
	}
	c.length("backing-thickness", b.Thickness, ThicknessRange.fromZero())
	c.length("backing-width", b.Width, Range{0, 200})
	c.length("backing-groove-width", b.GrooveWidth, Range{0, 100})
	c.length("backing-groove-depth", b.GrooveDepth, Range{0, 25})
	if !oneSided {
		c.add(Fault{Code: FaultConflict, Field: "backing", Value: string(b.Kind),
			Rule: "backing lies under a full weld made from one side", Remedy: "leave backing out, or weld from one side without depth"})
	}
	if step > tiny || step < -tiny {
		c.add(Fault{Code: FaultConflict, Field: "backing", Value: string(b.Kind),
			Rule: "backing needs a flush root", Remedy: "use align=bottom without hi-lo"})
	}
	if !c.ok() {
		return
	}
	// Usual sizes: permanent strip as thick as the plate up to 10 mm, 30 mm
	// wide; temporary bar grooved 2t wide and t/4 deep (BS 3019 suggestions as
	// reported, secondary source).
	if b.Thickness == 0 {
		b.Thickness = geometry.Length(min(thin, 10))
	}
	if b.Width == 0 {
		b.Width = 30
	}
	root := 0.0
	if len(s.Welds) > 0 {
		if s.Welds[0].RootHeight.Present {
			root = float64(s.Welds[0].RootHeight.Value)
		}
		if rw := s.Welds[0].RootWidth; rw.Present && rw.Value > b.Width {
			c.add(Fault{Code: FaultUnfit, Field: "backing-width", Value: showLength(float64(b.Width)),
				Rule: "is narrower than the root, " + showLength(float64(rw.Value)), Remedy: "give at least " + showLength(upTo(float64(rw.Value)))})
			return
		}
	}
	w, t := float64(b.Width)/2, float64(b.Thickness)
	pts := []geometry.Point{{X: -w, Y: lo - t}, {X: w, Y: lo - t}, {X: w, Y: lo}}
	depth := 0.0
	if b.Kind != BackingStrip {
		if b.GrooveWidth == 0 {
			b.GrooveWidth = geometry.Length(2 * thin)
		}
		if b.GrooveDepth == 0 {
			b.GrooveDepth = geometry.Length(thin / 4)
		}
		g := float64(b.GrooveWidth) / 2
		depth = float64(b.GrooveDepth)
		if g >= w || depth >= t {
			c.add(Fault{Code: FaultUnfit, Field: "backing-groove-width", Value: showLength(2 * g),
				Rule: "the groove must be narrower and shallower than the backing", Remedy: "give a wider or thicker backing"})
			return
		}
		pts = append(pts, geometry.Point{X: g, Y: lo}, geometry.Point{X: g, Y: lo - depth},
			geometry.Point{X: -g, Y: lo - depth}, geometry.Point{X: -g, Y: lo})
	}
	if root > depth*(1+tiny) {
		c.add(Fault{Code: FaultUnfit, Field: "welds.arrow.root", Value: showLength(root),
			Rule: "does not fit in the backing's groove, " + showLength(depth) + " deep", Remedy: "the highest root here is " + showLength(downTo(depth))})
		return
	}
	pts = append(pts, geometry.Point{X: -w, Y: lo})
	o, err := geometry.Polygon(pts...)
	if err != nil {
		c.add(Fault{Code: FaultGeometry, Field: "backing", Rule: "the backing does not close: " + err.Error(), Remedy: "change its sizes"})
		return
	}
	b.Outline = o
	s.Backing = &b
}
