package filler

import (
	"math"
)

// Filler is what a joint takes. Fields that could not be computed from what
// was given are nil and left out of JSON. "Per m" is per metre of weld, "per
// seam" one part with all its seams, "total" the quantity of parts.
type Filler struct {
	DepositedAreaMM2 float64 `json:"deposited_area_mm2"`
	VolumeCm3PerM    float64 `json:"volume_cm3_per_m"`

	DensityGPerCm3   *float64 `json:"density_g_per_cm3,omitempty"`
	DensitySource    string   `json:"density_source,omitempty"`
	Efficiency       float64  `json:"efficiency"`
	EfficiencySource string   `json:"efficiency_source,omitempty"`

	// The allowances that are not zero, as fractions.
	OversizeAllowance *float64 `json:"oversize_allowance,omitempty"`
	TackAllowance     *float64 `json:"tack_allowance,omitempty"`
	WasteAllowance    *float64 `json:"waste_allowance,omitempty"`

	// Deposited is in the weld as planned; consumed is melted, allowances
	// included and stubs not; bought, in print "needed", counts stubs thrown away
	// and waste as well, and no rounding up to packs.
	DepositedKgPerM    *float64 `json:"deposited_kg_per_m,omitempty"`
	ConsumedKgPerM     *float64 `json:"consumed_kg_per_m,omitempty"`
	BoughtKgPerM       *float64 `json:"bought_kg_per_m,omitempty"`
	VolumeCm3PerSeam   *float64 `json:"volume_cm3_per_seam,omitempty"`
	VolumeCm3Total     *float64 `json:"volume_cm3_total,omitempty"`
	DepositedKgPerSeam *float64 `json:"deposited_kg_per_seam,omitempty"`
	ConsumedKgPerSeam  *float64 `json:"consumed_kg_per_seam,omitempty"`
	BoughtKgPerSeam    *float64 `json:"bought_kg_per_seam,omitempty"`
	DepositedKgTotal   *float64 `json:"deposited_kg_total,omitempty"`
	ConsumedKgTotal    *float64 `json:"consumed_kg_total,omitempty"`
	BoughtKgTotal      *float64 `json:"bought_kg_total,omitempty"`

	// OverallEfficiency is consumed ÷ bought times the deposition efficiency,
	// allowances left out: the efficiency less the share of stubs thrown away.
	OverallEfficiency float64 `json:"overall_efficiency"`

	RodDiameterMM *float64 `json:"rod_diameter_mm,omitempty"`
	RodLengthMM   *float64 `json:"rod_length_mm,omitempty"`
	RodStubMM     *float64 `json:"rod_stub_mm,omitempty"`
	RodStubFused  *bool    `json:"rod_stub_fused,omitempty"` // on to the next rod; absent where there is no stub
	RodUsableMM   *float64 `json:"rod_usable_mm,omitempty"`  // melted of each rod
	// RodFeedRatio is the length of rod fed along a length of one pass, the rhythm
	// of the hand: the mean of the welds' own over all passes laid. Where passes
	// cannot be counted, a weld counts as one.
	RodFeedRatio *float64 `json:"rod_feed_ratio,omitempty"`
	// Rods are those bought: waste is counted.
	RodsPerM    *float64 `json:"rods_per_m,omitempty"`
	RodsPerSeam *float64 `json:"rods_per_seam,omitempty"`
	RodsTotal   *int     `json:"rods_total,omitempty"` // whole rods for all parts

	WireDiameterMM *float64 `json:"wire_diameter_mm,omitempty"`
	WireMPerM      *float64 `json:"wire_m_per_m,omitempty"`
	WireMPerSeam   *float64 `json:"wire_m_per_seam,omitempty"`
	WireMTotal     *float64 `json:"wire_m_total,omitempty"`

	// Packs to buy for all parts, or for one where no quantity is given.
	Packs *Packs `json:"packs,omitempty"`

	// Passes over the section, those of all welds.
	Passes         *int     `json:"passes,omitempty"`
	PassAreaMM2    *float64 `json:"pass_area_mm2,omitempty"`
	PassAreaSource string   `json:"pass_area_source,omitempty"`

	DepositionRateKgPerH *float64 `json:"deposition_rate_kg_per_h,omitempty"`
	TravelSpeedMMPerMin  *float64 `json:"travel_speed_mm_per_min,omitempty"`
	PaceSource           string   `json:"pace_source,omitempty"` // of the one of them that is used
	ArcTimeMinPerM       *float64 `json:"arc_time_min_per_m,omitempty"`
	ArcTimeMin           *float64 `json:"arc_time_min,omitempty"` // of one part
	ArcTimeMinTotal      *float64 `json:"arc_time_min_total,omitempty"`

	// Work is what is done besides welding, at the shop's own times.
	Work []WorkLine `json:"work,omitzero"`
	// ArcShare is the share of paid time that the arc burns, as a fraction; absent
	// where the shop gave none, and arc time is then paid alone.
	ArcShare *float64 `json:"arc_share,omitempty"`
	// Paid time is arc time by its share in paid time, and the work besides;
	// absent where the shop gave neither.
	PaidMinPerM  *float64 `json:"paid_time_min_per_m,omitempty"`
	PaidMin      *float64 `json:"paid_time_min,omitempty"` // of one part
	PaidMinTotal *float64 `json:"paid_time_min_total,omitempty"`

	GasFlowLPerMin *float64 `json:"gas_flow_l_per_min,omitempty"`
	GasFlowSource  string   `json:"gas_flow_source,omitempty"`
	GasM3PerM      *float64 `json:"gas_m3_per_m,omitempty"`
	GasM3PerSeam   *float64 `json:"gas_m3_per_seam,omitempty"`
	GasM3Total     *float64 `json:"gas_m3_total,omitempty"`
	CylinderM3     *float64 `json:"cylinder_m3,omitempty"`
	Cylinders      *float64 `json:"cylinders,omitempty"` // for all parts, or for one; not rounded up

	// Cost from the user's own prices and rates alone.
	Cost *Cost `json:"cost,omitempty"`

	Welds []WeldShare `json:"welds,omitzero"`
	Seams []SeamShare `json:"seams,omitzero"`

	// OneOver is what one size over takes more.
	OneOver *OneOver `json:"one_over,omitempty"`
}

// WeldShare is the part of one weld in what the joint takes.
type WeldShare struct {
	ID               string   `json:"id"`
	DepositedAreaMM2 float64  `json:"deposited_area_mm2"`
	DepositedKgPerM  *float64 `json:"deposited_kg_per_m,omitempty"`
	ConsumedKgPerM   *float64 `json:"consumed_kg_per_m,omitempty"`
	RodsPerM         *float64 `json:"rods_per_m,omitempty"`
	WireMPerM        *float64 `json:"wire_m_per_m,omitempty"`
	Passes           *int     `json:"passes,omitempty"`
	// RodFeedRatio is the length of rod fed along a length of one pass: what is
	// laid, oversize included, by the passes and the section of the rod. It counts
	// no losses and no tacks. Of all passes at once where they are not counted.
	RodFeedRatio   *float64 `json:"rod_feed_ratio,omitempty"`
	ArcTimeMinPerM *float64 `json:"arc_time_min_per_m,omitempty"`
	Amounts                 // along all seams of one part
}

// SeamShare is the part of one seam, with all its welds.
type SeamShare struct {
	Seam int `json:"seam"` // counted from 1
	Amounts
}

// Amounts are what a length of weld takes.
type Amounts struct {
	LengthMM    *float64 `json:"length_mm,omitempty"`
	DepositedKg *float64 `json:"deposited_kg,omitempty"`
	ConsumedKg  *float64 `json:"consumed_kg,omitempty"`
	BoughtKg    *float64 `json:"bought_kg,omitempty"`
	Rods        *float64 `json:"rods,omitempty"`
	WireM       *float64 `json:"wire_m,omitempty"`
	ArcTimeMin  *float64 `json:"arc_time_min,omitempty"`
}

// gramsPerKilogram also turns mm into m, mm³ into cm³ and L into m³.
const gramsPerKilogram = 1000

// New computes the filler. The error, if any, is of type joints.Faults and
// names everything that is wrong.
func New(p Params) (Filler, error) {
	if faults := p.faults(); len(faults) > 0 {
		return Filler{}, faults
	}
	c := newChain(&p)
	f := c.filler(p.Welds, p.Runs)
	f.sources(c)
	f.buy(c)
	if o := p.Over; o != nil {
		f.OneOver = f.over(c, o)
	}
	return f, nil
}

// chain is what turns a volume of weld into what is bought for it. Factors are
// 0 where they cannot be told.
type chain struct {
	p       *Params
	usable  float64 // of each rod, mm
	rod     float64 // section of the rod or wire, mm²
	melt    float64 // melted volume per volume of weld
	overall float64 // deposition efficiency less stubs
	waste   float64 // bought per used, stubs counted as used
	laid    float64 // laid per planned: oversize, without tacks
	plan    []Weld  // of a joint one size over, that which it is over

	room []float64 // memory for the numbers of results
}

// num gives a number of the results a place in memory. They are many, and live
// and die together.
func (c *chain) num(v float64) *float64 {
	if len(c.room) == cap(c.room) {
		const many = 64 // as many as a joint with a weld or two has
		c.room = make([]float64, 0, many)
	}
	c.room = append(c.room, v)
	return &c.room[len(c.room)-1]
}

func newChain(p *Params) *chain {
	a := p.Allowances
	c := &chain{p: p, overall: p.Efficiency, waste: 1 + a.Waste, laid: 1 + a.Oversize, melt: (1 + a.Oversize + a.Tack) / p.Efficiency}
	switch {
	case p.Rod != nil:
		c.rod, c.usable = section(float64(p.Rod.Diameter)), float64(p.Rod.CutLength)
		if !p.Rod.StubFusedOn {
			c.usable -= float64(p.Rod.Stub)
		}
		c.overall *= c.usable / float64(p.Rod.CutLength)
	case p.Wire != nil:
		c.rod = section(float64(p.Wire.Diameter))
	}
	return c
}

// kg is the mass of a volume of weld in cm³; nil without a density.
func (c *chain) kg(cm3 float64) *float64 {
	if c.p.Density == 0 {
		return nil
	}
	return c.num(cm3 * c.p.Density / gramsPerKilogram)
}

func (c *chain) consumed(cm3 float64) *float64 { return c.kg(cm3 * c.melt) }

func (c *chain) bought(cm3 float64) *float64 {
	return c.kg(cm3 * c.melt * c.waste * c.p.Efficiency / c.overall)
}

func (c *chain) rods(cm3 float64) *float64 {
	if c.p.Rod == nil {
		return nil
	}
	return c.num(cm3 * gramsPerKilogram * c.melt * c.waste / c.rod / c.usable)
}

// wire in m.
func (c *chain) wire(cm3 float64) *float64 {
	if c.p.Wire == nil {
		return nil
	}
	return c.num(cm3 * c.melt * c.waste / c.rod)
}

// passes over one weld; nil without a limit.
func (c *chain) passes(area float64) *int {
	if c.p.PassArea == 0 {
		return nil
	}
	return new(max(whole(area*c.laid/c.p.PassArea), 1))
}

// byMass reports whether arc time comes from the deposition rate.
func (c *chain) byMass() bool { return c.p.DepositionRate > 0 && c.p.Density > 0 }

// minutes of arc for a volume of a weld over a length, in cm³ and mm.
func (c *chain) minutes(cm3, length float64, w *WeldShare) *float64 {
	switch {
	case c.byMass():
		return c.num(*c.kg(cm3) * (c.melt * c.p.Efficiency) / c.p.DepositionRate * 60)
	case c.p.TravelSpeed > 0 && w.Passes != nil:
		return c.num(length * c.travels(w) / c.p.TravelSpeed)
	}
	return nil
}

// travels is how often the arc goes along a weld at the travel speed: its
// passes. A weld one size over takes those of the plan and as much longer as it
// has more metal, for no hand feeds the rod faster than it was planned to.
func (c *chain) travels(w *WeldShare) float64 {
	for _, planned := range c.plan {
		if passes := c.passes(planned.Area); planned.ID == w.ID && planned.Area > 0 {
			return float64(*passes) * w.DepositedAreaMM2 / planned.Area
		}
	}
	return float64(*w.Passes)
}

// amounts of a volume of one weld over a length.
func (c *chain) amounts(cm3, length float64, w *WeldShare) Amounts {
	return Amounts{LengthMM: c.num(length), DepositedKg: c.kg(cm3), ConsumedKg: c.consumed(cm3), BoughtKg: c.bought(cm3),
		Rods: c.rods(cm3), WireM: c.wire(cm3), ArcTimeMin: c.minutes(cm3, length, w)}
}

// plus adds what is there of b to a.
func (c *chain) plus(a, b *Amounts) {
	c.add(&a.LengthMM, b.LengthMM)
	c.add(&a.DepositedKg, b.DepositedKg)
	c.add(&a.ConsumedKg, b.ConsumedKg)
	c.add(&a.BoughtKg, b.BoughtKg)
	c.add(&a.Rods, b.Rods)
	c.add(&a.WireM, b.WireM)
	c.add(&a.ArcTimeMin, b.ArcTimeMin)
}

func (c *chain) add(to **float64, v *float64) {
	if v == nil {
		return
	}
	if *to == nil {
		*to = c.num(0)
	}
	**to += *v
}

// filler computes everything that hangs on the metal alone.
func (c *chain) filler(welds []Weld, runs []Run) Filler {
	p := c.p
	f := Filler{Efficiency: p.Efficiency, OverallEfficiency: c.overall}
	whole := welds
	if len(welds) == 0 {
		whole = []Weld{{Area: p.DepositedArea}}
	}
	var fed mean
	for _, w := range whole {
		share := c.weld(w)
		fed.add(&share, 1)
		f.DepositedAreaMM2 += w.Area
		if share.Passes != nil {
			f.Passes = new(orZero(f.Passes) + *share.Passes)
		}
		c.add(&f.ArcTimeMinPerM, share.ArcTimeMinPerM)
		if len(welds) > 0 {
			f.Welds = append(f.Welds, share)
		}
	}
	perM := f.DepositedAreaMM2 // 1 mm² × 1 m = 1 cm³
	f.VolumeCm3PerM = perM
	f.DepositedKgPerM, f.ConsumedKgPerM, f.BoughtKgPerM = c.kg(perM), c.consumed(perM), c.bought(perM)
	f.RodsPerM, f.WireMPerM = c.rods(perM), c.wire(perM)
	switch {
	case p.Rod != nil:
		f.RodDiameterMM, f.RodLengthMM, f.RodUsableMM = c.num(float64(p.Rod.Diameter)), c.num(float64(p.Rod.CutLength)), c.num(c.usable)
		if p.Rod.Stub > 0 {
			f.RodStubMM, f.RodStubFused = c.num(float64(p.Rod.Stub)), &p.Rod.StubFusedOn
		}
		f.RodFeedRatio = c.num(fed.value())
	case p.Wire != nil:
		f.WireDiameterMM = c.num(float64(p.Wire.Diameter))
	}
	if volume, all, ok := c.part(&f, runs); ok {
		f.VolumeCm3PerSeam = c.num(volume)
		f.feedAlong(c)
		f.DepositedKgPerSeam, f.ConsumedKgPerSeam, f.BoughtKgPerSeam = all.DepositedKg, all.ConsumedKg, all.BoughtKg
		f.RodsPerSeam, f.WireMPerSeam, f.ArcTimeMin = all.Rods, all.WireM, all.ArcTimeMin
		f.batch(c, float64(p.Quantity))
	}
	return f
}

func (c *chain) weld(w Weld) WeldShare {
	share := WeldShare{ID: w.ID, DepositedAreaMM2: w.Area, DepositedKgPerM: c.kg(w.Area), ConsumedKgPerM: c.consumed(w.Area),
		RodsPerM: c.rods(w.Area), WireMPerM: c.wire(w.Area), Passes: c.passes(w.Area)}
	c.feed(&share)
	share.ArcTimeMinPerM = c.minutes(w.Area, gramsPerKilogram, &share)
	return share
}

// part adds up what one part takes, by weld and by seam; false where no length
// is given.
func (c *chain) part(f *Filler, runs []Run) (cm3 float64, all Amounts, ok bool) {
	if len(runs) == 0 {
		if c.p.SeamLength == 0 {
			return 0, Amounts{}, false
		}
		length := float64(c.p.SeamLength)
		cm3 = f.VolumeCm3PerM * length / gramsPerKilogram
		all = c.amounts(cm3, length, &WeldShare{})
		if f.ArcTimeMinPerM != nil {
			all.ArcTimeMin = c.num(*f.ArcTimeMinPerM * length / gramsPerKilogram)
		}
		return cm3, all, true
	}
	for _, r := range runs {
		volume := r.Volume / gramsPerKilogram
		cm3 += volume
		var share *WeldShare
		for i := range f.Welds {
			if f.Welds[i].ID == r.Weld {
				share = &f.Welds[i]
			}
		}
		a := c.amounts(volume, float64(r.Length), share)
		c.plus(&share.Amounts, &a)
		k := len(f.Seams) - 1
		for k >= 0 && f.Seams[k].Seam != r.Seam {
			k--
		}
		if k < 0 {
			k, f.Seams = len(f.Seams), append(f.Seams, SeamShare{Seam: r.Seam})
		}
		c.plus(&f.Seams[k].Amounts, &a)
		c.plus(&all, &a)
	}
	return cm3, all, true
}

// batch multiplies one part by their quantity.
func (f *Filler) batch(c *chain, parts float64) {
	if parts == 0 {
		return
	}
	times := func(v *float64) *float64 {
		if v == nil {
			return nil
		}
		return c.num(*v * parts)
	}
	f.DepositedKgTotal, f.ConsumedKgTotal, f.BoughtKgTotal = times(f.DepositedKgPerSeam), times(f.ConsumedKgPerSeam), times(f.BoughtKgPerSeam)
	f.VolumeCm3Total, f.WireMTotal, f.ArcTimeMinTotal = times(f.VolumeCm3PerSeam), times(f.WireMPerSeam), times(f.ArcTimeMin)
	if rods := times(f.RodsPerSeam); rods != nil {
		f.RodsTotal = new(whole(*rods))
	}
}

// sources copies what was taken and where it is from.
func (f *Filler) sources(c *chain) {
	p := c.p
	if p.Density != 0 {
		f.DensityGPerCm3, f.DensitySource = c.num(p.Density), p.DensitySource
	}
	f.EfficiencySource = p.EfficiencySource
	f.OversizeAllowance, f.TackAllowance, f.WasteAllowance = c.given(p.Allowances.Oversize), c.given(p.Allowances.Tack), c.given(p.Allowances.Waste)
	if f.PassAreaMM2 = c.given(p.PassArea); f.PassAreaMM2 != nil {
		f.PassAreaSource = p.PassAreaSource
	}
	if f.ArcTimeMinPerM == nil {
		return
	}
	if c.byMass() {
		f.DepositionRateKgPerH, f.PaceSource = &p.DepositionRate, p.DepositionRateSource
		return
	}
	f.TravelSpeedMMPerMin, f.PaceSource = &p.TravelSpeed, p.TravelSpeedSource
}

func (c *chain) given(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return c.num(v)
}

func orZero[T int | float64](v *T) T {
	if v == nil {
		return 0
	}
	return *v
}

// whole rounds up; what is a whole number but for rounding stays.
func whole(n float64) int { return int(math.Ceil(n * (1 - 1e-12))) }

// section is the area of a round of diameter d.
func section(d float64) float64 { return math.Pi / 4 * d * d }
