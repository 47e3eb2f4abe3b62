package macro

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/jointfile"
)

// DefaultReading is how finely sizes are read where the record does not say:
// ±0.1 mm, a tenth-millimetre graticule under a lens. Common practice, no source.
const DefaultReading = 0.1 * geometry.Millimetre

// Record is one cut-and-etch record. Records are made by [Read].
type Record struct {
	Joint     string // joint file as written; empty: named elsewhere
	Weld      string // id of the weld; empty: the joint's first
	Sample    string
	Position  joints.Opt // along the seam
	Date      string     // YYYY-MM-DD; empty: not given
	Inspector string
	Etchant   string // name on file or free text
	Level     string // quality level, such as C; empty: as the documents say
	Photo     string
	Note      string // hardness, heat-affected zone, whatever has no field
	// Reading is how finely the sizes were read, ±.
	Reading geometry.Length
	Sizes   Sizes
	// Points are those the sizes were recovered from; nil where sizes were
	// measured one by one. Profile is what they gave, present where the
	// joint was known when the record was read.
	Points  *Points
	Profile *Profile
	Units   geometry.Unit // the person wrote in

	places map[string]jointfile.Place
}

// Sizes are what was measured; absent was not measured.
type Sizes struct {
	Legs, Fusion [2]joints.Opt // on members a and b

	Throat, Penetration, Convexity joints.Opt
	Undercut, Gap, HiLo            joints.Opt

	CapHeight, RootHeight, Underfill, RootConcavity, RootUndercut joints.Opt
	RunOver, LackOfFusion, LackOfPenetration                      joints.Opt
}

// Points are points of a photograph or a projector, in units of Scale.
type Points struct {
	Scale                    geometry.Length // of one unit
	SurfaceA, SurfaceB, Face []geometry.Point
	Root                     []geometry.Point // of the weld root; empty: not given
}

// measured gives the sizes as rules read them.
func (s *Sizes) measured() check.Measured {
	m := check.Measured{
		Legs: s.Legs, Throat: s.Throat, Convexity: s.Convexity, Gap: s.Gap, HiLo: s.HiLo,
		CapHeight: s.CapHeight, RootHeight: s.RootHeight, Undercut: s.Undercut, RootUndercut: s.RootUndercut,
		Underfill: s.Underfill, RootConcavity: s.RootConcavity, RunOver: s.RunOver,
		LackOfFusion: s.LackOfFusion, LackOfPenetration: s.LackOfPenetration,
	}
	return m
}

// Refuse makes a fault of something found after reading and places it where
// the field was written.
func (r *Record) Refuse(f joints.Fault) jointfile.Fault {
	at, ok := r.places[f.Field]
	if !ok {
		at = r.places[""]
	}
	return jointfile.Fault{Fault: f, Place: at}
}
