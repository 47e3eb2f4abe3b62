package compare

import (
	"fmt"
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/filler"
	"fay/joints/heat"
)

// WeldThroat is the effective throat of one weld.
type WeldThroat struct {
	Weld string  `json:"weld"`
	MM   float64 `json:"mm"`
}

// Penetration says how far groove welds reach through the member that is
// prepared.
type Penetration string

// The kinds of penetration; empty where there is no groove weld to tell it of.
const (
	Full    Penetration = "full"
	Partial Penetration = "partial"
)

// pair is two members that welds join.
type pair struct{ a, b string }

// throatOf is the effective throat that a joint has: the throats of all welds
// between the same two members added up, for they share the load; grooves add
// up to no more than the plate they fill. Where several pairs of members are
// joined it is that of the weakest.
func throatOf(s *joints.Section) float64 {
	sums, grooves := map[pair]float64{}, map[pair]float64{}
	for i := range s.Welds {
		w := &s.Welds[i]
		p := pairOf(s, w)
		if w.Kind == joints.GrooveWeld && s.Kind == "butt" {
			grooves[p] = math.Min(grooves[p]+float64(w.EffectiveThroat), filled(s, w))
			continue
		}
		sums[p] += float64(w.EffectiveThroat)
	}
	for p, g := range grooves {
		sums[p] += g
	}
	least := math.Inf(1)
	for _, v := range sums {
		least = math.Min(least, v)
	}
	return least
}

func pairOf(s *joints.Section, w *joints.Weld) pair {
	p := pair{s.Members[w.Feet[0].Member].Name, s.Members[w.Feet[1].Member].Name}
	if p.a > p.b {
		p.a, p.b = p.b, p.a
	}
	return p
}

// filled is the thickness that a groove weld may fill: that of the member that
// stands on another one, else that of the thinner.
func filled(s *joints.Section, w *joints.Weld) float64 {
	a, b := &s.Members[w.Feet[0].Member], &s.Members[w.Feet[1].Member]
	if w.Dihedral > 0 {
		return float64(b.Thickness)
	}
	return float64(min(a.Thickness, b.Thickness))
}

func throatsOf(s *joints.Section) []WeldThroat {
	out := make([]WeldThroat, len(s.Welds))
	for i := range s.Welds {
		out[i] = WeldThroat{s.Welds[i].ID, float64(s.Welds[i].EffectiveThroat)}
	}
	return out
}

// penetrationOf tells how far the groove welds of prepared or square edges
// reach, and of a full weld the height of edge that is left unprepared, which
// the arc must melt through: the root face, or all of a square edge.
func penetrationOf(s *joints.Section) (p Penetration, land float64) {
	square := true
	for i := range s.Measures {
		switch name := s.Measures[i].Name; {
		case strings.HasSuffix(name, "root face"):
			land = math.Max(land, s.Measures[i].Value)
		case strings.HasSuffix(name, "groove angle"), strings.HasSuffix(name, "bevel angle"), strings.HasSuffix(name, "root radius"):
			square = false
		}
	}
	reach, thick := map[pair]float64{}, map[pair]float64{}
	for i := range s.Welds {
		w := &s.Welds[i]
		if w.Kind != joints.GrooveWeld || square && s.Kind != "butt" {
			continue
		}
		q := pairOf(s, w)
		reach[q] += filler.GrooveDepth(s, w)
		thick[q] = filled(s, w)
	}
	for q := range reach {
		p = Full
		if square {
			land = math.Max(land, reach[q])
		}
	}
	for q, r := range reach {
		if r < thick[q]*(1-1e-6) {
			return Partial, 0
		}
	}
	return p, land
}

// tooThin says why a throat is not enough; empty where it is.
func (c *Constraints) tooThin(row *Row) string {
	if t := row.Values.Throat; c.LeastThroat > 0 && *t < float64(c.LeastThroat-tinyLength) {
		return fmt.Sprintf("has an effective throat of %s mm, less than %s mm", trim(*t), trim(float64(c.LeastThroat)))
	}
	return ""
}

// tooHigh says why a root face is too high to melt through; empty where it is
// not.
func (c *Constraints) tooHigh(row *Row) string {
	if land := geometry.Length(row.RootFaceMM); c.MostRootFace > 0 && land > c.MostRootFace+tinyLength {
		return fmt.Sprintf("leaves %s mm of edge unprepared at the root, more than %s mm", trim(float64(land)), trim(float64(c.MostRootFace)))
	}
	return ""
}

// RootReach is what the arc must melt through to the root of a weld, for
// heat.Input: at the bottom of a groove the root face, or the penetration
// claimed of a partial weld; 0, the finished face, for other welds.
func RootReach(s *joints.Section, w *joints.Weld) geometry.Length {
	if w.Kind != joints.GrooveWeld {
		return 0
	}
	least := geometry.Length(heat.ReachRange.Min)
	switch p, land := penetrationOf(s); p {
	case Full:
		return max(geometry.Length(land), least)
	case Partial:
		return max(w.Penetration, least)
	}
	return 0
}

// rootFaceOnFile holds the root face of a full weld from one side to the
// preparations on file for its plate: over is true where no range that has an
// end reaches it, and most is where they end, mm, 0 without any.
func (o *Option) rootFaceOnFile(row *Row) (over bool, most float64) {
	if o.Suitable == nil || row.Penetration != Full || row.RootFaceMM == 0 || filler.BackGouged(o.Section) {
		return false, 0
	}
	for i := range o.Suitable {
		p := &o.Suitable[i]
		switch {
		case p.Prep == joints.PrepSquare: // all of its edge
			return false, 0
		case p.RootFace.Given() && !math.IsInf(p.RootFace.High, 1):
			most = math.Max(most, p.RootFace.High)
		}
	}
	if row.RootFaceMM <= most+float64(tinyLength) {
		return false, 0
	}
	return true, most
}
