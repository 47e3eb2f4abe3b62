package geometry

import "math"

// Round rounds to a count of decimals, 0 to 15, halves away from zero. A number
// that lies within a billionth of its last place at a half counts as the half:
// an eighth of an inch is 3.18 mm, whichever side of 3.175 the machine's number
// fell to on its way.
func Round(v float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	r := math.Round(v*scale+math.Copysign(roundingNoise, v)) / scale
	if r == 0 {
		return 0 // no negative zero
	}
	return r
}
