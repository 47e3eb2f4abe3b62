package macro

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// tiny is the difference, mm or degrees, below which sizes computed on
// different routes count as equal: a nanometre, far below what is read.
const tiny = 1e-6

func length(mm float64) geometry.Length { return geometry.Length(mm) }

// Item is one size compared with the plan.
type Item struct {
	ID         string      `json:"id"` // leg-a, throat, …
	Name       string      `json:"name"`
	Member     string      `json:"member,omitempty"`
	Unit       joints.Unit `json:"unit"`
	Planned    *float64    `json:"planned,omitempty"`
	Measured   *float64    `json:"measured,omitempty"` // absent: not measured
	Difference *float64    `json:"difference,omitempty"`
	// Low and High are the ends of what is allowed; absent is open.
	Low  *float64 `json:"low,omitempty"`
	High *float64 `json:"high,omitempty"`
	// Basis says where Low and High come from.
	Basis string `json:"basis,omitempty"`
	// Rules are the ids of the findings that were counted in.
	Rules   []string      `json:"rules,omitzero"`
	Verdict check.Verdict `json:"verdict"`
	Note    string        `json:"note,omitempty"`
}

// Where limits come from that the joint file does not set.
const (
	basisTolerance = "tolerance of the joint file"
	basisLeg       = "default: not under the plan (AWS D1.1:2015 macro acceptance as reported, secondary: least leg not under the size specified)"
	basisThroat    = "default: not under the planned effective throat (common practice, no source)"
	basisRoot      = "default: fused to the root, not necessarily beyond (AWS D1.1:2015 macro acceptance as reported, secondary)"
	basisClaim     = "default: not under what the plan claims (common practice, no source)"
	basisFused     = "default: fused, to any depth (common practice, no source)"
	basisNone      = "default: none (common practice, no source)"
)

// ids of the items, in the order of a report; the log has a column for each.
var itemIDs = []string{
	"leg-a", "leg-b", "leg-difference", "throat", "penetration", "fusion-a", "fusion-b", "convexity", "area", "angle",
	"undercut", "gap", "hi-lo", "cap-height", "root-height", "underfill", "root-concavity", "root-undercut", "run-over",
	"lack-of-fusion", "lack-of-penetration",
}

// quantities are the quantities of package check that speak of an item.
var quantities = map[string][]string{
	"leg-a": {"leg-minimum", "leg-maximum"}, "leg-b": {"leg-minimum", "leg-maximum"}, "leg-difference": {"asymmetry"},
	"throat": {"throat", "throat-shortfall", "throat-excess"}, "convexity": {"convexity", "concavity"},
	"undercut": {"undercut"}, "gap": {"gap"}, "hi-lo": {"hi-lo"}, "cap-height": {"cap-height"}, "root-height": {"root-height"},
	"underfill": {"underfill"}, "root-concavity": {"root-concavity"}, "root-undercut": {"root-undercut"}, "run-over": {"run-over"},
	"lack-of-fusion": {"lack-of-fusion"}, "lack-of-penetration": {"lack-of-penetration"},
}

// lister makes the items of one record.
type lister struct {
	rec     *Record
	section *joints.Section
	weld    *joints.Weld
	items   []Item
}

func ptr(o joints.Opt) *float64 {
	if !o.Present {
		return nil
	}
	return new(float64(o.Value))
}

// add lists an item; limits of NaN are open.
func (l *lister) add(it Item, low, high float64) {
	if it.Unit == "" {
		it.Unit = joints.UnitMM
	}
	if !math.IsNaN(low) {
		it.Low = new(low)
	}
	if !math.IsNaN(high) {
		it.High = new(high)
	}
	if it.Measured != nil && it.Planned != nil {
		it.Difference = new(*it.Measured - *it.Planned)
	}
	l.items = append(l.items, it)
}

// tolerance finds the tolerance of a parameter of the joint or of the weld.
func (l *lister) tolerance(names ...string) *joints.Tolerance {
	for i := range l.section.Parameters {
		p := &l.section.Parameters[i]
		for _, name := range names {
			if p.Tolerance != nil && (p.Name == name || p.Name == "welds."+l.weld.ID+"."+name) {
				return p.Tolerance
			}
		}
	}
	return nil
}

// band is planned with a tolerance; open, and no basis, where there is none.
func band(planned float64, t *joints.Tolerance) (low, high float64, basis string) {
	if t == nil {
		return math.NaN(), math.NaN(), ""
	}
	return planned + t.Minus, planned + t.Plus, basisTolerance
}

func (l *lister) list() []Item {
	w, s := l.weld, &l.rec.Sizes
	if w.Feet[0].Leg > 0 {
		l.legs()
	}
	l.throat()
	l.penetration()
	for i := range s.Fusion {
		l.fusion(i)
	}
	if s.Convexity.Present {
		planned := float64(w.Convexity)
		t := l.tolerance("rise")
		if t != nil && planned < 0 {
			t = &joints.Tolerance{Plus: -t.Minus, Minus: -t.Plus}
		}
		low, high, basis := band(planned, t)
		l.add(Item{ID: "convexity", Name: "convexity", Planned: &planned, Measured: ptr(s.Convexity), Basis: basis}, low, high)
	}
	l.profile()
	none := func(id string, o joints.Opt) {
		if o.Present {
			l.add(Item{ID: id, Name: words(id), Measured: ptr(o)}, math.NaN(), math.NaN())
		}
	}
	l.planned("gap", s.Gap, float64(w.Gap), "gap", "root-opening")
	l.planned("hi-lo", s.HiLo, l.parameter("hi-lo"), "hi-lo")
	l.planned("cap-height", s.CapHeight, float64(w.CapHeight.Value), "cap")
	l.planned("root-height", s.RootHeight, float64(w.RootHeight.Value), "root")
	none("undercut", s.Undercut)
	none("underfill", s.Underfill)
	none("root-concavity", s.RootConcavity)
	none("root-undercut", s.RootUndercut)
	none("run-over", s.RunOver)
	none("lack-of-fusion", s.LackOfFusion)
	none("lack-of-penetration", s.LackOfPenetration)
	return l.items
}

func words(id string) string {
	if id == "hi-lo" {
		return id
	}
	return strings.ReplaceAll(id, "-", " ")
}

func (l *lister) parameter(name string) float64 {
	for i := range l.section.Parameters {
		if p := &l.section.Parameters[i]; p.Name == name {
			return p.Value
		}
	}
	return 0
}

func (l *lister) planned(id string, o joints.Opt, plan float64, names ...string) {
	if !o.Present {
		return
	}
	low, high, basis := band(plan, l.tolerance(names...))
	l.add(Item{ID: id, Name: words(id), Planned: &plan, Measured: ptr(o), Basis: basis}, low, high)
}

func (l *lister) member(i int) string { return l.section.Members[l.weld.Feet[i].Member].Name }

func (l *lister) legs() {
	s := &l.rec.Sizes
	t := l.tolerance("leg")
	for i := range s.Legs {
		plan := float64(l.weld.Feet[i].Leg)
		low, high, basis := plan, math.NaN(), basisLeg
		if t != nil {
			low, high, basis = band(plan, t)
		}
		l.add(Item{ID: [2]string{"leg-a", "leg-b"}[i], Name: "leg", Member: l.member(i), Planned: &plan, Measured: ptr(s.Legs[i]), Basis: basis}, low, high)
	}
	if s.Legs[0].Present {
		plan := math.Abs(float64(l.weld.Feet[0].Leg - l.weld.Feet[1].Leg))
		l.add(Item{ID: "leg-difference", Name: "leg difference", Planned: &plan,
			Measured: new(math.Abs(float64(s.Legs[0].Value - s.Legs[1].Value)))}, math.NaN(), math.NaN())
	}
}

func (l *lister) throat() {
	if l.weld.Kind != joints.FilletWeld && !l.rec.Sizes.Throat.Present {
		return
	}
	plan := float64(l.weld.EffectiveThroat)
	low, high, basis := plan, math.NaN(), basisThroat
	switch t := l.tolerance("throat"); {
	case t != nil:
		low, high, basis = band(plan, t)
	case l.weld.Kind == joints.FilletWeld && l.tolerance("leg") != nil:
		// The smallest legs allowed have the smallest throat allowed.
		f := newFrame(l.section, l.weld)
		full := f.planned()
		short := full
		for i := range short.Legs {
			short.Legs[i] = math.Max(short.Legs[i]+l.tolerance("leg").Minus, tiny)
		}
		low, basis = plan-full.throat()+short.throat(), "leg "+basisTolerance
	}
	l.add(Item{ID: "throat", Name: "throat", Planned: &plan, Measured: ptr(l.rec.Sizes.Throat), Basis: basis}, low, high)
}

func (l *lister) penetration() {
	s := &l.rec.Sizes
	if l.weld.Kind != joints.FilletWeld && !s.Penetration.Present {
		return
	}
	plan := float64(l.weld.Penetration)
	low, high, basis := plan, math.NaN(), basisClaim
	if plan == 0 {
		basis = basisRoot
	}
	if t := l.tolerance("penetration"); t != nil {
		low, high, basis = band(plan, t)
	}
	l.add(Item{ID: "penetration", Name: "penetration", Planned: &plan, Measured: ptr(s.Penetration), Basis: basis}, low, high)
}

func (l *lister) fusion(i int) {
	o := l.rec.Sizes.Fusion[i]
	if !o.Present {
		return
	}
	plan := float64(l.weld.Feet[i].Fusion)
	low, high, basis := math.NaN(), math.NaN(), ""
	if t := l.tolerance("fusion"); t != nil {
		low, high, basis = band(plan, t)
	} else if plan > 0 {
		low, basis = plan, basisClaim
	} else if o.Value > 0 {
		low, basis = 0, basisFused
	}
	it := Item{ID: [2]string{"fusion-a", "fusion-b"}[i], Name: "fusion", Member: l.member(i), Planned: &plan, Measured: ptr(o), Basis: basis}
	if o.Value == 0 {
		it.Note = "no depth was seen: lack-of-fusion says whether it fused"
	}
	l.add(it, low, high)
}

// profile lists what only points show.
func (l *lister) profile() {
	p := l.rec.Profile
	if p == nil {
		return
	}
	f := newFrame(l.section, l.weld)
	plan := f.planned()
	area, angle := plan.Area(), l.weld.Dihedral.Degrees()
	l.add(Item{ID: "area", Name: "area", Unit: joints.UnitMM2, Planned: &area, Measured: new(p.Area), Note: "between the member surfaces and the face"}, math.NaN(), math.NaN())
	low, high, basis := math.NaN(), math.NaN(), ""
	if t := l.tolerance("angle"); t != nil {
		low, high, basis = band(angle, t)
	}
	l.add(Item{ID: "angle", Name: "dihedral angle", Unit: joints.UnitDegree, Planned: &angle, Measured: new(p.Psi.Degrees()), Basis: basis}, low, high)
}
