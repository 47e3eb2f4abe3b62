package fitup

import (
	"math"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Parameters lists the openings of a kind that are set apart from each other,
// each of which makes a table: the two stems of a cross have a gap each. A kind
// without an opening has none.
func Parameters(k *joints.Kind) []string {
	var list []string
	for _, name := range openings {
		if _, ok := k.Param(name); !ok {
			continue
		}
		list = append(list, name)
		for i := range k.Params {
			if p := k.Params[i].Name; strings.HasSuffix(p, "-"+name) {
				list = append(list, p)
			}
		}
		break
	}
	return list
}

// at tells whether a weld lies at one of the openings of a kind: what stands
// before the name of the one, such as lower-, stands before that of the other.
func at(k *joints.Kind, parameter, weld string) bool {
	prefix := func(parameter string) string {
		for _, name := range openings {
			if p, ok := strings.CutSuffix(parameter, name); ok {
				return p
			}
		}
		return ""
	}
	own := ""
	for _, p := range Parameters(k) {
		if before := prefix(p); strings.HasPrefix(weld, before) && len(before) > len(own) {
			own = before
		}
	}
	return own == prefix(parameter)
}

// among puts the planned opening into a list, in its order and once.
func among(list []geometry.Length, planned geometry.Length) []geometry.Length {
	out := append(slices.Clone(list), planned)
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b geometry.Length) bool { return math.Abs(float64(b-a)) <= sameOpening })
}

// The steps of a table for the bench, and how many openings it lists.
const (
	benchStep     = geometry.Length(0.5)
	benchStepInch = geometry.Inch / 32
	BenchMost     = 6
)

// BenchOpenings are the openings that matter at the bench: the planned one, the
// widest that its tolerance lets through, and steps of half a millimetre, or
// 1/32 in, from the plan on, [BenchMost] in all. What lies beyond is not for the
// bench to settle: common practice, no source.
func BenchOpenings(planned, widest geometry.Length, units geometry.Unit) []geometry.Length {
	step := benchStep
	if units == geometry.UnitInch {
		step = benchStepInch
	}
	out := []geometry.Length{planned}
	widest = max(widest, planned)
	if widest > planned+sameOpening {
		out = append(out, widest)
	}
	// Openings closer than this are one to the hand that sets them.
	apart := step * 0.3
	for i := 1; len(out) < BenchMost; i++ {
		g := step * geometry.Length(i)
		if d := g - widest; g > planned+apart && (d > apart || d < -apart) {
			out = append(out, g)
		}
	}
	return among(out, planned)
}
