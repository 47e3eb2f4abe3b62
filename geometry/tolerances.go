package geometry

// Tolerances and limits of the package. Everything that decides "the same" or
// "too large" is here and derives from two facts: a float64 carries 53 bits,
// and nothing in a weld section is measured finer than a micrometre.
const (
	// MaxCoordinate is the largest coordinate an outline may have, 100 m in
	// mm. Beyond it one unit in the last place (1.5e-11 mm at the limit) comes
	// too near to Coincident.
	MaxCoordinate = 1e5

	// Coincident is the distance in mm below which two points are one: about
	// 70 units in the last place at MaxCoordinate, and a thousandth of a
	// thousandth of the micrometre nobody can measure in a macro section.
	Coincident = 1e-9

	// MaxLength is the largest length text may state: 10 km, more weld than a
	// joint file can mean.
	MaxLength = 1e7 * Millimetre

	// MaxAngle is the largest angle text may state, one full turn.
	MaxAngle = 360 * Degree
)

const (
	// roundingNoise is how far from a half, in units of the last decimal kept, a
	// number still counts as the half: what sums and conversions leave in its
	// last places, and nothing that anybody measured.
	roundingNoise = 1e-9

	// trigSnap is the size below which a sine or cosine of a quarter turn is
	// rounding of π itself (cos of the float64 nearest 3π/2 is 1.8e-16).
	trigSnap = 2.5e-16

	// flatBulge is the bulge below which an arc is its chord to the last bit
	// of every position: the relative departure is of order bulge² < 1e-20
	// along the chord.
	flatBulge = 1e-10

	// seriesBulge2 is the squared bulge below which the segment integrals are
	// summed as series; above it their closed forms lose fewer than three
	// digits to cancellation.
	seriesBulge2 = 1.0 / 4

	// areaSeriesBulge2 is the same limit for the area alone, whose closed form
	// cancels one order less.
	areaSeriesBulge2 = 1.0 / 16

	// flattenFloor is the finest flattening in mm, a limit on memory.
	flattenFloor = 1e-7

	// flattenMost is the largest number of chords for one edge.
	flattenMost = 1 << 14
)
