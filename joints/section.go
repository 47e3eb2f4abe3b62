package joints

import (
	"fay/geometry"
)

// Plate is what is known of a member before it meets another one.
type Plate struct {
	Thickness geometry.Length
	Material  string // as the user wrote it; looked up elsewhere
}

// Member is one plate in the section.
type Member struct {
	Name string // "base", "stem", "upper", …
	Plate
	// Outline is the drawn part of the member, counter-clockwise.
	Outline geometry.Outline
	// Broken lists the edges of Outline that are not real ends: there the
	// plate goes on and the drawing breaks it off.
	Broken []int
	// Ways is the number of ways heat can leave the weld inside the member:
	// two for a continuous member, one for one that ends at the joint.
	Ways int
}

// WeldKind tells fillets from grooves and edge welds.
type WeldKind string

// The kinds of weld.
const (
	FilletWeld WeldKind = "fillet"
	GrooveWeld WeldKind = "groove"
	EdgeWeld   WeldKind = "edge"
	PlugWeld   WeldKind = "plug" // plugs and slots: pieces of their own, not metal per length of seam
)

// Side is the side of the joint a weld lies on, as a welding symbol tells it.
type Side string

// The sides of a joint.
const (
	ArrowSide Side = "arrow"
	OtherSide Side = "other"
)

// FaceShape is the shape of a weld face.
type FaceShape string

// The face shapes.
const (
	FaceFlat    FaceShape = "flat"
	FaceConvex  FaceShape = "convex"
	FaceConcave FaceShape = "concave"
)

// Opt is a length that may be absent. Absent is absent: it is neither zero
// nor printed.
type Opt struct {
	Value   geometry.Length
	Present bool
}

// Some makes a present Opt.
func Some(v geometry.Length) Opt { return Opt{Value: v, Present: true} }

// Foot is where a weld meets one member: the toe and what belongs to it.
type Foot struct {
	Member   int // index into Section.Members
	Toe      geometry.Point
	Leg      geometry.Length // along the member surface from the intersection of the two surfaces to the toe
	GaugeLeg geometry.Length // perpendicular from this toe to the other member's surface
	ToeAngle geometry.Angle  // between the member surface beyond the toe and the face, measured outside the weld
	Fusion   geometry.Length // greatest depth melted into the member, normal to its face; 0 none claimed
	// EdgeRemaining is what is left of the member's face between the toe and
	// the member's real edge; absent where the face runs on.
	EdgeRemaining Opt
	// OnEdge is set where the leg stands on the cut edge of the member (the upper plate of a lap),
	// so that the plate thickness itself bounds the leg.
	OnEdge bool
}

// Line is a straight measure between two points of the section plane.
type Line struct{ From, To geometry.Point }

// Weld is one weld of the section, complete with everything computed from it.
// Areas are in mm².
type Weld struct {
	ID   string // "arrow", "other", "outside", …
	Side Side
	Kind WeldKind

	Dihedral geometry.Angle  // between the member surfaces on the weld's side
	Gap      geometry.Length // between the members at the weld, measured square to the continuous surface
	Feet     [2]Foot         // [0] on the continuous or left member, [1] on the abutting or right one

	Face      FaceShape
	Convexity geometry.Length // mid-face departure from the toe-to-toe chord: positive convex, negative concave
	FaceWidth geometry.Length // toe to toe
	FaceEdges []geometry.Edge // the real face, from Feet[0].Toe to Feet[1].Toe

	Penetration geometry.Length // beyond the joint root along the faying surface; 0 none claimed
	Proven      bool            // penetration is claimed as proven and feeds the effective throat

	JointRoot geometry.Point // intersection of the member surfaces
	// RootCorner is the corner of the abutting member nearest the weld: the
	// weld root where no penetration is claimed.
	RootCorner geometry.Point
	WeldRoot   geometry.Point // deepest point the weld is claimed to reach

	TheoreticalThroat geometry.Length
	EffectiveThroat   geometry.Length
	ActualThroat      geometry.Length
	TheoreticalLine   Line // root to foot, as measured
	EffectiveLine     Line
	ActualLine        Line
	Triangle          [3]geometry.Point // the inscribed triangle: joint root, then the two ends of its hypotenuse; zero for grooves

	Profile        geometry.Outline // fused metal: deposit and melted base metal, counter-clockwise
	FusionLine     []geometry.Edge  // boundary of fused metal inside the members; empty where none is claimed
	Area           float64          // of Profile
	DepositedArea  float64          // filler metal to lay
	MeltedBaseArea float64
	Centroid       geometry.Point // of Profile

	// Groove welds only.
	GrooveArea float64
	CapWidth   Opt
	CapHeight  Opt
	CapShape   CapShape
	RootWidth  Opt
	RootHeight Opt
}

// Unit names the unit of a measure as results print it.
type Unit string

// The units of measures.
const (
	UnitMM      Unit = "mm"
	UnitMM2     Unit = "mm2"
	UnitMM3     Unit = "mm3"
	UnitDegree  Unit = "deg"
	UnitRatio   Unit = "1"
	UnitPercent Unit = "%"
)

// DrawAs tells the drawing how a measure is dimensioned.
type DrawAs uint8

// The forms of dimensions. NotDrawn measures appear in tables only.
const (
	NotDrawn DrawAs = iota
	DrawLinear
	DrawAngular
	DrawRadius
)

// Measure is one number of the section with the points it is taken between.
type Measure struct {
	Name   string // "leg", "effective throat", "gap", …
	Weld   string // weld id, empty for a measure of the joint
	Member string // member name, empty where none
	// Value is in mm, mm², or degrees as Unit says: measures are printed, not computed with.
	Value    float64
	Unit     Unit
	From, To geometry.Point
	Formula  string // in words
	Draw     DrawAs
	// Vertex is the apex of an angular measure; From and To then lie on its sides.
	Vertex geometry.Point
	// Outward is the direction in which a dimension line is best placed, away
	// from the material; zero leaves it to the drawing.
	Outward geometry.Point
	// Tolerance as the file gave it, printed with the number; nil where none.
	Tolerance *Tolerance
}

// Tolerance is a two-sided tolerance in the unit of its measure (mm or
// degrees); both numbers are kept as the user gave them, Minus negative or 0.
type Tolerance struct{ Plus, Minus float64 }

// Parameter is one input of the joint as taken, defaults included.
type Parameter struct {
	Name      string // as in a joint file: "gap", "base.thickness", "welds.arrow.leg"
	Text      string // as given, or the default
	Value     float64
	Unit      Unit   // empty for choices
	Choice    string // for choices
	Default   bool
	FitUp     bool // the fitter sets it: it belongs in the fit-up table
	Tolerance *Tolerance
}

// Section is a joint cut square across its weld axis. Values of this type are
// made by the constructors of this package only and are complete, but for what
// [BuildBrief] leaves out.
type Section struct {
	Kind       string
	Title      string
	Parameters []Parameter
	Members    []Member
	Welds      []Weld
	Measures   []Measure
	// Preparation holds the edges of the members before welding where they
	// differ from the outlines left after it.
	Preparation []geometry.Edge
	// Backing under the root; nil where there is none.
	Backing *Backing
	// Overlap of the members along the faying surface, for laps.
	Overlap Opt
	// NeutralLevel is the height of the level axis that weld shrinkage bends
	// the joint about: mid-thickness of the continuous member, of the plates
	// lying on each other, or of the thickness that butting members share.
	NeutralLevel Opt
	// Notes are things the geometry brought up that are not faults, e.g. an
	// edge that the weld consumes.
	Notes []string
}

// Weld returns the weld with the id.
func (s *Section) Weld(id string) (*Weld, bool) {
	for i := range s.Welds {
		if s.Welds[i].ID == id {
			return &s.Welds[i], true
		}
	}
	return nil, false
}

// WeldArea is the fused area of all welds, mm².
func (s *Section) WeldArea() float64 {
	var a float64
	for i := range s.Welds {
		a += s.Welds[i].Area
	}
	return a
}

// DepositedArea is the filler area of all welds, mm².
func (s *Section) DepositedArea() float64 {
	var a float64
	for i := range s.Welds {
		a += s.Welds[i].DepositedArea
	}
	return a
}

// ThinnerMember returns the index of the thinnest member, the first of equals.
func (s *Section) ThinnerMember() int { return s.extreme(-1) }

// ThickerMember returns the index of the thickest member, the first of equals.
func (s *Section) ThickerMember() int { return s.extreme(1) }

func (s *Section) extreme(sign geometry.Length) int {
	best := 0
	for i := range s.Members {
		if sign*(s.Members[i].Thickness-s.Members[best].Thickness) > 0 {
			best = i
		}
	}
	return best
}
