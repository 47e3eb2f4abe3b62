package compare

import (
	"math"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/filler"
)

// Metric is something alternatives are ranked by; less is better, but of the
// throat.
type Metric string

// The metrics.
const (
	Area      Metric = "area"       // deposited, mm²
	Throat    Metric = "throat"     // effective, of all welds between the weakest pair of members, mm
	Mass      Metric = "mass"       // consumed, kg per metre of weld
	Rods      Metric = "rods"       // rods, or metres of wire, per metre of weld
	Passes    Metric = "passes"     // of all welds
	Time      Metric = "time"       // of the arc, min per metre of weld
	Labour    Metric = "labour"     // paid time, min per metre of weld
	Cost      Metric = "cost"       // per metre of weld, in the user's currency
	RootPower Metric = "root-power" // of the arc that melts the root of the weld that asks for most, W
	Shrinkage Metric = "shrinkage"  // transverse, mm
	Angle     Metric = "angle"      // angular distortion, degrees
	Moment    Metric = "moment"     // of the weld metal about the neutral level, mm³
	NotMet    Metric = "not-met"    // findings
)

// Metrics lists the metrics in print order.
func Metrics() []Metric {
	return []Metric{Area, Throat, Mass, Rods, Passes, Time, Labour, Cost, RootPower, Shrinkage, Angle, Moment, NotMet}
}

// Title says in words what a metric is.
func (m Metric) Title() string {
	switch m {
	case Area:
		return "deposited area"
	case Throat:
		return "effective throat"
	case Mass:
		return "filler consumed"
	case Rods:
		return "rods"
	case Passes:
		return "passes"
	case Time:
		return "arc time"
	case Labour:
		return "paid time"
	case Cost:
		return "cost"
	case RootPower:
		return "arc to melt the root"
	case Shrinkage:
		return "transverse shrinkage"
	case Angle:
		return "angular distortion"
	case Moment:
		return "weld metal moment"
	case NotMet:
		return "findings not met"
	}
	return string(m)
}

// Unit is the unit of a metric; the cost is in the currency of the values.
func (m Metric) Unit() string {
	switch m {
	case Area:
		return "mm²"
	case Mass:
		return "kg/m"
	case Rods:
		return "1/m"
	case Time, Labour:
		return "min/m"
	case Cost:
		return "/m"
	case RootPower:
		return "W"
	case Throat, Shrinkage:
		return "mm"
	case Angle:
		return "°"
	case Moment:
		return "mm³"
	case Passes, NotMet:
	}
	return ""
}

// Values are the metrics of an alternative; nil where they cannot be told. In
// a comparison with the reference they are fractions: 0.2 is a fifth more.
type Values struct {
	Area      *float64 `json:"deposited_area_mm2,omitempty"`
	Throat    *float64 `json:"effective_throat_mm,omitempty"`
	Deposited *float64 `json:"deposited_kg_per_m,omitempty"`
	Mass      *float64 `json:"consumed_kg_per_m,omitempty"`
	Rods      *float64 `json:"rods_per_m,omitempty"`
	Wire      *float64 `json:"wire_m_per_m,omitempty"`
	Passes    *float64 `json:"passes,omitempty"`
	Time      *float64 `json:"arc_time_min_per_m,omitempty"`
	// Labour is arc time by its share in paid time, and the shop's own minutes
	// for edges, turning and gouging.
	Labour *float64 `json:"paid_time_min_per_m,omitempty"`
	Cost   *float64 `json:"cost_per_m,omitempty"`
	// Root is at the nominal efficiency of the arc, RootLow and RootHigh at the
	// ends of its range.
	Root      *float64 `json:"root_arc_w,omitempty"`
	RootLow   *float64 `json:"root_arc_low_w,omitempty"`
	RootHigh  *float64 `json:"root_arc_high_w,omitempty"`
	Shrinkage *float64 `json:"transverse_shrinkage_mm,omitempty"`
	Angle     *float64 `json:"angular_distortion_deg,omitempty"`
	Moment    *float64 `json:"weld_moment_mm3,omitempty"`
	NotMet    *float64 `json:"not_met,omitempty"`
}

// Of returns a metric; nil where it cannot be told.
func (v *Values) Of(m Metric) *float64 {
	switch m {
	case Area:
		return v.Area
	case Throat:
		return v.Throat
	case Mass:
		return v.Mass
	case Rods:
		if v.Rods == nil {
			return v.Wire
		}
		return v.Rods
	case Passes:
		return v.Passes
	case Time:
		return v.Time
	case Labour:
		return v.Labour
	case Cost:
		return v.Cost
	case RootPower:
		return v.Root
	case Shrinkage:
		return v.Shrinkage
	case Angle:
		return v.Angle
	case Moment:
		return v.Moment
	case NotMet:
		return v.NotMet
	}
	return nil
}

// all lists the places of every number, in a fixed order.
func (v *Values) all() []**float64 {
	return []**float64{&v.Area, &v.Throat, &v.Deposited, &v.Mass, &v.Rods, &v.Wire, &v.Passes, &v.Time, &v.Labour, &v.Cost, &v.Root, &v.RootLow, &v.RootHigh, &v.Shrinkage, &v.Angle, &v.Moment, &v.NotMet}
}

// valuesOf measures an alternative that could be built.
func valuesOf(o *Option) Values {
	s := o.Section
	v := Values{Area: new(s.DepositedArea()), Throat: new(throatOf(s)), Shrinkage: shrinkage(s), Angle: angular(s), Moment: moment(s)}
	if f := o.Filler; f != nil {
		v.Deposited, v.Mass, v.Rods, v.Wire, v.Time = f.DepositedKgPerM, f.ConsumedKgPerM, f.RodsPerM, f.WireMPerM, f.ArcTimeMinPerM
		if f.Passes != nil {
			v.Passes = new(float64(*f.Passes))
		}
		v.Labour, v.Cost = f.PaidMinPerM, costOf(f)
	}
	if h := o.RootArc; h != nil {
		v.Root, v.RootLow, v.RootHigh = new(h.Nominal), new(h.Low), new(h.High)
	}
	if o.Findings != nil {
		n := 0.0
		for i := range o.Findings {
			if o.Findings[i].Verdict == check.NotMet {
				n++
			}
		}
		v.NotMet = &n
	}
	return v
}

func costOf(f *filler.Filler) *float64 {
	if f.Cost == nil {
		return nil
	}
	return &f.Cost.PerM
}

// relative compares values with those of the reference, as fractions over it;
// nothing is told of what the reference has none of.
func (v *Values) relative(reference *Values) Values {
	out := Values{}
	to, mine, its := out.all(), v.all(), reference.all()
	for i := range to {
		if a, b := *mine[i], *its[i]; a != nil && b != nil && *b != 0 {
			*to[i] = new(*a / *b - 1)
		}
	}
	return out
}

// Rule is a distortion estimate with its papers.
type Rule struct {
	ID         string           `json:"id"`
	Title      string           `json:"title"`
	Formula    string           `json:"formula"`
	Source     string           `json:"source"`
	Provenance check.Provenance `json:"provenance"`
	Metric     Metric           `json:"metric"` // that it estimates
	// Scope says what it was made for, and what is not known of that.
	Scope string `json:"scope,omitempty"`
}

// blodgett is where the estimates are remembered from.
const blodgett = "O. W. Blodgett, Design of Welded Structures, 1966, section 7.7; from memory, unverified"

// steelScope is all that is known of where they hold.
const steelScope = "written for steel; no range of sizes on file: of aluminium and of legs near the thickness of the plate it ranks and tells no angle or length"

// The distortion rules.
var (
	ShrinkageRule = Rule{ID: "blodgett/transverse-shrinkage", Title: "Transverse shrinkage of a groove weld",
		Formula: "0.10 · weld area ÷ thickness of the thinner member", Source: blodgett, Provenance: check.Memory, Metric: Shrinkage, Scope: steelScope}
	AngleRule = Rule{ID: "blodgett/angular-distortion", Title: "Angular distortion of a plate under fillet welds",
		Formula: "each side of the plate turns by 0.04 · leg^1.3 ÷ thickness² radians, leg and thickness in inches (from 0.02 · width · leg^1.3 ÷ thickness² at its edges)",
		Source:  blodgett, Provenance: check.Memory, Metric: Angle, Scope: steelScope}
	MomentRule = Rule{ID: "fay/weld-moment", Title: "Moment of the weld metal",
		Formula: "weld area × distance of its centroid from the neutral level: what pulls the joint out of plane", Source: "geometry of the section", Provenance: check.CommonPractice, Metric: Moment}
)

// Rules lists the distortion rules.
func Rules() []Rule { return []Rule{ShrinkageRule, AngleRule, MomentRule} }

// shrinkage is that across the groove welds of a section.
func shrinkage(s *joints.Section) *float64 {
	area := 0.0
	for i := range s.Welds {
		if w := &s.Welds[i]; w.Kind == joints.GrooveWeld && w.Dihedral == 0 {
			area += w.Area
		}
	}
	if area == 0 {
		return nil
	}
	const share = 0.10 // Blodgett, section 7.7; from memory, unverified
	return new(share * area / float64(s.Members[s.ThinnerMember()].Thickness))
}

// angular is the turn of a continuous member under its largest fillet.
func angular(s *joints.Section) *float64 {
	leg, t := 0.0, 0.0
	for i := range s.Welds {
		w := &s.Welds[i]
		if m := &s.Members[w.Feet[0].Member]; w.Kind == joints.FilletWeld && m.Ways > 1 {
			if l := float64(max(w.Feet[0].Leg, w.Feet[1].Leg)); l > leg {
				leg, t = l, float64(m.Thickness)
			}
		}
	}
	if leg == 0 {
		return nil
	}
	// Blodgett, section 7.7; from memory, unverified. The plate rises by
	// 0.02·W·ω^1.3/t² at its edges, half of W from the weld.
	const coefficient, power = 0.04, 1.3
	inch := float64(geometry.Inch)
	turn := coefficient * math.Pow(leg/inch, power) / (t / inch) / (t / inch)
	return new(geometry.Angle(turn).Degrees())
}

// moment is the weld area times its lever about the neutral level.
func moment(s *joints.Section) *float64 {
	if !s.NeutralLevel.Present {
		return nil
	}
	m := 0.0
	for i := range s.Welds {
		w := &s.Welds[i]
		m += w.Area * (w.Centroid.Y - float64(s.NeutralLevel.Value))
	}
	return new(math.Abs(m))
}
