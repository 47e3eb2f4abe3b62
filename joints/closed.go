package joints

import (
	"math"

	"fay/geometry"
)

// UsualCap is the cap that closed square edges of a thickness get where nobody
// says how the weld is laid: a bead twice as wide as the plate is thick and a
// quarter as high (common practice, no source). Without it they hold no metal.
func UsualCap(t geometry.Length) (rise, lap geometry.Length) { return t / 4, t }

// closed reports whether a side has no groove at all: square edges that touch.
func (g grooveSide) closed() bool {
	width := g.halves[0].edge() + g.halves[1].edge()
	return width <= tiny*(1+math.Abs(g.halves[0].hi))
}

// depth is how deep the weld of a side reaches under the common surface.
func (g grooveSide) depth() geometry.Length { return geometry.Length(g.halves[0].hi - g.vr) }

// noMetal is the fault of a weld in closed edges that has neither a cap nor
// anything else to be made of. Fusion alone has no face.
func noMetal(field func(string) string, g grooveSide) Fault {
	rise, lap := UsualCap(g.depth())
	return Fault{Code: FaultGeometry, Field: field("cap"),
		Rule: "the weld has no metal: the square edges are closed and no cap is given",
		Remedy: "give cap and cap-lap, such as cap=" + trimFloat(float64(rise)) + "mm cap-lap=" + trimFloat(float64(lap)) +
			"mm, to which fusion, root and penetration add what is melted, or a root-opening"}
}

// noFace is the fault of a cap on closed edges that no lap widens.
func noFace(field func(string) string, g grooveSide, rise geometry.Length) Fault {
	_, lap := UsualCap(g.depth())
	return Fault{Code: FaultFace, Field: field("cap"), Value: showLength(float64(rise)),
		Rule:   "has no width to stand on: the square edges are closed",
		Remedy: "give cap-lap, such as cap-lap=" + trimFloat(float64(max(lap, 2*rise))) + "mm, or a root-opening"}
}
