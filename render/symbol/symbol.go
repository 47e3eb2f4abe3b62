package symbol

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

// System is the standard a symbol is drawn by.
type System string

// The systems of welding symbols.
const (
	ISOA System = "iso-2553-a"
	ISOB System = "iso-2553-b"
	AWS  System = "aws-a2.4"
)

// Systems lists the systems.
func Systems() []System { return []System{ISOA, ISOB, AWS} }

// Glyph is the elementary symbol of a weld. The empty one is none.
type Glyph string

// The glyphs. Back is drawn but not made from a section: no kind of joint has a
// back weld of its own.
const (
	Fillet     Glyph = "fillet"
	Square     Glyph = "square"
	V          Glyph = "v"
	Bevel      Glyph = "bevel"
	U          Glyph = "u"
	J          Glyph = "j"
	FlareV     Glyph = "flare-v"
	FlareBevel Glyph = "flare-bevel"
	Plug       Glyph = "plug"
	Edge       Glyph = "edge"
	Back       Glyph = "back"
)

// Glyphs lists the glyphs.
func Glyphs() []Glyph {
	return []Glyph{Fillet, Square, V, Bevel, U, J, FlareV, FlareBevel, Plug, Edge, Back}
}

// upright tells the glyphs that have an upright stroke at their left.
func (g Glyph) upright() bool {
	return g == Fillet || g == Bevel || g == J || g == FlareBevel
}

// Symbol is the neutral description of a welding symbol: one arrow, up to two
// sides. Lengths are mm, angles radians.
type Symbol struct {
	System System
	Arrow  Arrow
	// Sides are the arrow side and the other side.
	Sides [2]Side
	// RootFace of a preparation that is welded through; the tail says it.
	RootFace joints.Opt
	// Members names the members joined: the continuous or left one first.
	Members [2]string

	Staggered bool
	AllAround bool
	Field     bool
	// Places is how many seams alike there are; 0 and 1 say nothing.
	Places int
	// Skewed says that legs are measured along members that do not stand square.
	Skewed bool
	// Tabled says that the seams differ in length, so that the symbol gives
	// none and the sheet must.
	Tabled bool

	// Tail entries in the order they are written.
	Tail Tail
}

// Arrow is where the arrow points.
type Arrow struct {
	// Tip in the section plane, mm.
	Tip geometry.Point
	// Outward is the direction from the tip into the open, away from the
	// material.
	Outward geometry.Point
	// Prepared is the member that a bevel or J is cut on, empty where the
	// preparation is alike on both members or there is none. The arrow then
	// points at that member; AWS A2.4 draws it with a break.
	Prepared string
	// Toward points into that member; zero where there is none.
	Toward geometry.Point
}

// Side is what one side of the reference line carries.
type Side struct {
	// Weld is the id of the weld; empty where the side has none of its own.
	Weld string
	// Glyph is the one nearest to the line.
	Glyph Glyph
	// Full says that a groove is welded through the joint: complete joint
	// penetration, together with the other side of a double one.
	Full bool
	// Depth of the preparation: S, h in ISO 2553. On a full weld it is given
	// only where the two sides differ.
	Depth joints.Opt
	// Effective is the groove weld size of a partial weld, E, s in ISO 2553; of
	// a full square one where the two sides differ.
	Effective   joints.Opt
	RootOpening joints.Opt
	GrooveAngle geometry.Angle // total; zero for none
	RootRadius  [2]joints.Opt  // on the two members
	Legs        *Legs          // of a fillet, also one on a groove
	// Throat, the design throat of an equal fillet, stands in place of the legs
	// where ISO 2553 asks for it. Deep is the effective throat of a fillet with
	// proven penetration.
	Throat, Deep joints.Opt
	Contour      joints.FaceShape // empty for none
	// Backing opposite the groove's glyph, and MeltThrough, the height of the
	// root reinforcement there.
	Backing     joints.BackingKind
	MeltThrough joints.Opt
	// Size of an edge or back weld, or of the hole of a plug at the faying
	// surface; Fill, the depth of filling of a plug that is not full, and Slot,
	// the length of a slot over its ends.
	Size, Fill, Slot joints.Opt
	Run              *Run
}

// Legs are the legs of a fillet, on the continuous member first.
type Legs struct {
	Length [2]geometry.Length
	On     [2]int // indices into Symbol.Members
}

// Equal tells whether one number gives both legs.
func (l *Legs) Equal() bool { return same(float64(l.Length[0]), float64(l.Length[1])) }

// Run is the length of the weld.
type Run struct {
	// Segments of length Segment at Pitch centre to centre; Pitch is zero for a
	// continuous weld.
	Segments       int
	Segment, Pitch geometry.Length
}

// Gap is the clear space between two segments, e of ISO 2553.
func (r *Run) Gap() geometry.Length { return r.Pitch - r.Segment }

// Tail is what the fork holds. Entries are lettered as they are given.
type Tail struct {
	Process  string // GTAW, or 141 of ISO 4063
	Level    string // quality level with its document: ISO 5817-C
	Position string // 2F, or PB of ISO 6947
	Filler   string
	WPS      string
	Notes    []string
}

// Carries tells whether the side has anything to draw.
func (s *Side) Carries() bool {
	return s.Glyph != "" || s.Backing != "" || s.MeltThrough.Present
}

// Symmetric tells whether the two sides are alike, so that ISO 2553 system A
// leaves the dashed line out. The root opening is written once.
func (s *Symbol) Symmetric() bool {
	a, b := &s.Sides[0], &s.Sides[1]
	return a.Glyph != "" && a.Glyph == b.Glyph && a.Full == b.Full && a.Contour == b.Contour &&
		a.Backing == b.Backing && sameOpt(a.MeltThrough, b.MeltThrough) &&
		sameOpt(a.Depth, b.Depth) && sameOpt(a.Effective, b.Effective) && same(float64(a.GrooveAngle), float64(b.GrooveAngle)) &&
		sameOpt(a.RootRadius[0], b.RootRadius[0]) && sameOpt(a.RootRadius[1], b.RootRadius[1]) &&
		sameLegs(a.Legs, b.Legs) && sameOpt(a.Throat, b.Throat) && sameOpt(a.Deep, b.Deep) &&
		sameOpt(a.Size, b.Size) && sameOpt(a.Fill, b.Fill) && sameOpt(a.Slot, b.Slot) && sameRun(a.Run, b.Run)
}

// alike is the difference in mm or radians below which two sides are the same:
// the noise of computing both from one input.
const alike = 1e-9

func same(a, b float64) bool { return math.Abs(a-b) <= alike*(1+math.Abs(a)) }

func sameOpt(a, b joints.Opt) bool {
	return a.Present == b.Present && same(float64(a.Value), float64(b.Value))
}

func sameLegs(a, b *Legs) bool {
	if a == nil || b == nil {
		return a == b
	}
	return same(float64(a.Length[0]), float64(b.Length[0])) && same(float64(a.Length[1]), float64(b.Length[1])) &&
		(a.On == b.On || a.Equal())
}

func sameRun(a, b *Run) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Segments == b.Segments && same(float64(a.Segment), float64(b.Segment)) && same(float64(a.Pitch), float64(b.Pitch))
}
