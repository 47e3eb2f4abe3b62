package heat

import (
	"math"

	"fay/joints"
)

// Regime names how heat flows away: through plate thickness too, or only along
// the plates.
type Regime string

// The regimes.
const (
	Thin         Regime = "thin"
	Intermediate Regime = "between"
	Thick        Regime = "thick"
)

var adams = Source{"Adams 1958 cooling equations and relative thickness as in AWS Welding Handbook vol. 1, from memory, unverified", Memory}

// RelativeThickness is Adams' τ = t·√(ρc(Tc−T0)/H) of a plate t mm thick for a
// net heat input H in J/mm; rhoC in J/(m³·K), temperatures in °C.
func RelativeThickness(t, rhoC, tc, t0, h float64) float64 {
	return t * mm * math.Sqrt(rhoC*(tc-t0)/(h/mm))
}

// RegimeOf reads the relative thickness: above 0.9 thick, below 0.6 thin.
func RegimeOf(tau float64) Regime {
	switch {
	case tau > 0.9:
		return Thick
	case tau < 0.6:
		return Thin
	}
	return Intermediate
}

// CoolingRate is Adams' cooling rate on the centre line of a run on plate,
// K/s: k in W/(m·K), rhoC in J/(m³·K), t in mm, h the net heat input in J/mm at
// speed mm/s. Thin and thick are split at τ = 0.75.
func CoolingRate(k, rhoC, t, tc, t0, h float64) float64 {
	d := tc - t0
	if RelativeThickness(t, rhoC, tc, t0, h) < 0.75 {
		x := t * mm / (h / mm)
		return 2 * math.Pi * k * rhoC * x * x * d * d * d
	}
	return 2 * math.Pi * k * d * d / (h / mm)
}

// T85 is the cooling time from 800 to 500 °C by EN 1011-2.
type T85 struct {
	Seconds float64 // by the formula that governs
	TwoD    float64 // s, plate cooled along its plane only
	ThreeD  float64 // s, plate cooled as a thick one
	Regime  string  // "2-D" or "3-D"
	F2, F3  float64 // shape factors
	// Thickness is the reference thickness d, mm; Transition the thickness at
	// which both formulas agree.
	Thickness, Transition float64
	// HeatInput Q in kJ/mm, the efficiency counted.
	HeatInput float64
	// Scaled is the time of a run on plate by EN times the ratio joint to
	// plate of the one-integral model, s; it knows the range between thin and
	// thick, where the formulas are up to half too low when a thin stem meets
	// a thick base. Against finite elements the ratio was 0.6 to 1.33 times theirs, 0.9
	// on the median (own computation). Tees, laps and the like only; zero for
	// joints of two ways, where it is not good enough, and when the model does
	// not reach 800 °C.
	Scaled float64
	Source Source
}

var enSource = Source{"EN 1011-2 annex D.6 formulas as given in a steel maker's Welding Handbook ed. 2 p. 17 (3.1, 3.2); " +
	"shape factor F3 0.67 for fillets and 0.9 for butts from memory, unverified; F2 for unequal members from the sum of the ways (own derivation)", Memory}

// EN10112 is the cooling time by EN 1011-2 annex D.6 for unalloyed and
// low-alloy steel: q in kJ/mm with the efficiency counted, t0 in °C below 500,
// d in mm, shape factors f2 and f3. The longer of the two times governs: a
// plate thinner than the transition cools in two dimensions.
func EN10112(q, t0, d, f2, f3 float64) T85 {
	a, b := 1/(500-t0), 1/(800-t0)
	x := T85{F2: f2, F3: f3, Thickness: d, HeatInput: q, Source: enSource}
	x.ThreeD = (6700 - 5*t0) * q * (a - b) * f3
	x.TwoD = (4300 - 4.3*t0) * 1e5 * q * q / (d * d) * (a*a - b*b) * f2
	x.Transition = math.Sqrt((4300 - 4.3*t0) * 1e5 / (6700 - 5*t0) * q * (a + b) * f2 / f3)
	x.Seconds, x.Regime = x.ThreeD, "3-D"
	if d < x.Transition {
		x.Seconds, x.Regime = x.TwoD, "2-D"
	}
	return x
}

// shapeFactors extends the shape factors to unequal members: in two dimensions
// only the sum of the ways counts, F2 = (2d/Σt)², which is 1 for a run on
// plate and 0.44 for a tee of equal plates.
func (j *joint) shapeFactors(d float64) (f2, f3 float64) {
	total := 0.0
	for i := range j.ways {
		total += j.ways[i].thickness / mm
	}
	f2 = (2 * d / total) * (2 * d / total)
	if j.weld.Kind == joints.FilletWeld {
		return f2, 0.67
	}
	return f2, 0.9
}

// cooling85 is the t8/5 of the joint for net watts, nil where the formula does
// not hold.
func (j *joint) cooling85(net, t0 float64) *T85 {
	for f := range 2 {
		if j.member(f).Material.Family != Steel {
			return nil
		}
	}
	speed := j.in.Arc.Speed
	q := net / speed / 1000
	if !(t0 < 480) {
		return nil
	}
	d := float64(j.thickness(j.thinner()))
	f2, f3 := j.shapeFactors(d)
	x := EN10112(q, t0, d, f2, f3)
	if len(j.ways) < 3 {
		return &x
	}
	// Run on a plate of the reference thickness, and the joint, by the model.
	m := &j.member(j.thinner()).Material
	half := way{k: m.Conductivity, rc: m.volumetric(), thickness: d * mm, edge: math.Inf(1)}
	at := source{speed: speed * mm, spot: float64(j.in.Arc.Spot) * mm}
	plate := newModel([]way{half, half}, at, coolingBack)
	own := j.rootSource()
	own.radius = 0
	joint := newModel(j.plainWays(), own, coolingBack)
	tp, ok1 := plate.cooling(net, 800-t0, 500-t0)
	tj, ok2 := joint.cooling(net, 800-t0, 500-t0)
	if ok1 && ok2 && tp > 0 {
		x.Scaled = EN10112(q, t0, d, 1, 1).Seconds * tj / tp
	}
	return &x
}

// coolingBack is how far behind the arc the model follows the cooling, m.
const coolingBack = 30

// combinedThickness is the sum of the thicknesses of all ways, each as its mean
// within 75 mm of the weld line (EN 1011-2 C.2.4, from memory, unverified), mm.
// It serves the preheat against hydrogen cracking only.
func (j *joint) combinedThickness() float64 {
	total := 0.0
	for i := range j.ways {
		w := &j.ways[i]
		total += w.thickness / mm * min(1, w.edge/(75*mm))
	}
	return total
}
