package filler

// Packs is the pack to buy and how many of them.
type Packs struct {
	Pack      string   `json:"pack"`
	PackKg    float64  `json:"pack_kg"`
	Count     int      `json:"count"` // never too few
	BoughtKg  float64  `json:"bought_kg"`
	Source    string   `json:"source,omitempty"`
	PackPrice *float64 `json:"pack_price,omitempty"`
	Price     *float64 `json:"price,omitempty"` // of all
}

// Cost is what the user's own prices come to: filler and gas by what is used,
// labour by the time that is paid. Lines that were not priced are missing, and
// the sums say nothing of them.
type Cost struct {
	Currency string     `json:"currency"`
	Lines    []CostLine `json:"lines"`
	PerM     float64    `json:"per_m"`
	PerPart  *float64   `json:"per_part,omitempty"`
	Total    *float64   `json:"total,omitempty"` // of all parts
	// NotPriced names what has no price: filler, labour, edges, turning,
	// gouging, gas.
	NotPriced []string `json:"not_priced"`
}

// CostLine is one kind of cost.
type CostLine struct {
	Name    string   `json:"name"` // filler, labour, edges, turning, gouging, gas
	PerM    float64  `json:"per_m"`
	PerPart *float64 `json:"per_part,omitempty"`
	Total   *float64 `json:"total,omitempty"`
	Rate    float64  `json:"rate"`
	RateOf  string   `json:"rate_of"` // kg, h, m3
	// AmountPerM is what the rate is paid for along a metre.
	AmountPerM float64 `json:"amount_per_m"`
}

// buy adds work, gas, packs and costs.
func (f *Filler) buy(c *chain) {
	f.work(c)
	f.gas(c)
	f.packs(c)
	f.cost(c)
}

// gas burns as long as the arc.
func (f *Filler) gas(c *chain) {
	p := c.p
	if p.GasFlow == 0 || f.ArcTimeMinPerM == nil {
		return
	}
	volume := func(minutes *float64) *float64 {
		if minutes == nil {
			return nil
		}
		return c.num(*minutes * p.GasFlow / gramsPerKilogram)
	}
	f.GasFlowLPerMin, f.GasFlowSource = &p.GasFlow, p.GasFlowSource
	f.GasM3PerM, f.GasM3PerSeam, f.GasM3Total = volume(f.ArcTimeMinPerM), volume(f.ArcTimeMin), volume(f.ArcTimeMinTotal)
	all := f.GasM3Total
	if all == nil {
		all = f.GasM3PerSeam
	}
	if p.Cylinder > 0 && all != nil {
		f.CylinderM3, f.Cylinders = &p.Cylinder, c.num(*all/p.Cylinder)
	}
}

// needed is the mass to buy for all parts, or for one where no quantity is
// given; nil without a seam or a density. Rods are bought whole.
func (f *Filler) needed(c *chain) *float64 {
	if f.RodsTotal != nil && c.p.Density > 0 {
		return c.num(float64(*f.RodsTotal) * c.rodMass())
	}
	if f.BoughtKgTotal != nil {
		return f.BoughtKgTotal
	}
	if f.RodsPerSeam != nil && c.p.Density > 0 {
		return c.num(float64(whole(*f.RodsPerSeam)) * c.rodMass())
	}
	return f.BoughtKgPerSeam
}

// rodMass is that of a whole rod, kg.
func (c *chain) rodMass() float64 {
	return c.rod * float64(c.p.Rod.CutLength) * c.p.Density / (gramsPerKilogram * gramsPerKilogram)
}

// packs picks the pack: the cheapest way to the mass needed where all packs
// have a price, else the first.
func (f *Filler) packs(c *chain) {
	need := f.needed(c)
	if need == nil {
		return
	}
	for i := range c.p.Packs {
		k := &c.p.Packs[i]
		n := max(whole(*need/k.Mass), 1)
		b := Packs{Pack: k.Label, PackKg: k.Mass, Count: n, BoughtKg: float64(n) * k.Mass, Source: k.Source}
		if k.Price > 0 {
			b.PackPrice, b.Price = &k.Price, c.num(float64(n)*k.Price)
		}
		switch {
		case f.Packs == nil, f.Packs.Price == nil && b.Price != nil, f.Packs.Price != nil && b.Price != nil && *b.Price < *f.Packs.Price:
			f.Packs = &b
		}
	}
}

// cost adds up what the user's rates price.
func (f *Filler) cost(c *chain) {
	r := &c.p.Rates
	if r.Currency == "" {
		return
	}
	out := &Cost{Currency: r.Currency, Lines: []CostLine{}, NotPriced: []string{}}
	line := func(name, of string, rate float64, perM, part, total *float64) {
		if rate == 0 || perM == nil {
			out.NotPriced = append(out.NotPriced, name)
			return
		}
		times := func(v *float64) *float64 {
			if v == nil {
				return nil
			}
			return c.num(*v * rate)
		}
		l := CostLine{Name: name, Rate: rate, RateOf: of, AmountPerM: *perM, PerM: *perM * rate, PerPart: times(part), Total: times(total)}
		out.Lines = append(out.Lines, l)
		out.PerM += l.PerM
		c.add(&out.PerPart, l.PerPart)
		c.add(&out.Total, l.Total)
	}
	line("filler", "kg", c.filledAt(f.Packs), f.BoughtKgPerM, f.BoughtKgPerSeam, f.BoughtKgTotal)
	const minutesPerHour = 60
	hours := func(minutes *float64) *float64 {
		if minutes == nil {
			return nil
		}
		return c.num(*minutes / minutesPerHour)
	}
	line("labour", "h", r.Labour, hours(f.PaidArc(f.ArcTimeMinPerM)), hours(f.PaidArc(f.ArcTimeMin)), hours(f.PaidArc(f.ArcTimeMinTotal)))
	for i := range f.Work {
		w := &f.Work[i]
		line(w.Name, "h", r.Labour, hours(w.MinPerM), hours(w.Min), hours(w.MinTotal))
	}
	if c.p.GasFlow > 0 {
		line("gas", "m3", r.Gas, f.GasM3PerM, f.GasM3PerSeam, f.GasM3Total)
	}
	if len(out.Lines) > 0 {
		f.Cost = out
	}
}

// filledAt is the price of a kilogram: of the pack that is bought, else of the
// cheapest there is; 0 where none is priced.
func (c *chain) filledAt(bought *Packs) float64 {
	if bought != nil {
		if bought.PackPrice == nil {
			return 0
		}
		return *bought.PackPrice / bought.PackKg
	}
	best := 0.0
	for i := range c.p.Packs {
		if k := &c.p.Packs[i]; k.Price > 0 && (best == 0 || k.Price/k.Mass < best) {
			best = k.Price / k.Mass
		}
	}
	return best
}
