package job

import (
	"slices"

	"fay/joints/filler"
)

// CostLine is one kind of cost, in the currency of the user's own prices.
type CostLine struct {
	Name   string  `json:"name"`
	Amount float64 `json:"amount"`
}

// JointCost is what all parts of one joint cost: filler and gas by what is used,
// labour by the time that is paid.
type JointCost struct {
	Currency string     `json:"currency"`
	Total    float64    `json:"total"`
	Lines    []CostLine `json:"lines"`
	// NotPriced names what the total does not hold.
	NotPriced []string `json:"not_priced"`
}

// fillerLine is the line that packs replace in a bill.
const fillerLine = "filler"

// CostOf is the cost of all parts of a joint; nil without a currency or a seam.
func CostOf(currency string, f *filler.Filler, parts int) *JointCost {
	if currency == "" || f.VolumeCm3PerSeam == nil {
		return nil
	}
	out := &JointCost{Currency: currency, Lines: []CostLine{}, NotPriced: []string{fillerLine, "labour"}}
	if f.Cost == nil {
		if f.GasM3PerSeam != nil {
			out.NotPriced = append(out.NotPriced, "gas")
		}
		return out
	}
	out.NotPriced = append([]string{}, f.Cost.NotPriced...)
	n := float64(max(parts, 1))
	for i := range f.Cost.Lines {
		l := &f.Cost.Lines[i]
		if l.PerPart == nil {
			out.NotPriced = append(out.NotPriced, l.Name)
			continue
		}
		out.Lines = append(out.Lines, CostLine{l.Name, *l.PerPart * n})
		out.Total += *l.PerPart * n
	}
	return out
}

// Bill is the cost of a whole job: filler in packs, rounded up once, and the
// other lines of its joints added up.
type Bill struct {
	Currency string     `json:"currency"`
	Lines    []CostLine `json:"lines"`
	Total    float64    `json:"total"`
	// Joints is the sum of the joints' own costs, and Rounding what the packs
	// cost over the filler used: the two make the total.
	Joints   float64 `json:"joints"`
	Rounding float64 `json:"rounding_up_to_packs"`
	// Complete is false where the total lacks something, and Missing names it.
	Complete bool     `json:"complete"`
	Missing  []string `json:"missing"`
}

// Costs adds up what joints cost. The zero value has none.
type Costs struct {
	lines          map[string]*Sum
	order          []string
	joints, filler Sum
	missing        []string
}

// Add adds a joint.
func (c *Costs) Add(j *JointCost) {
	c.joints.Add(j.Total)
	for _, l := range j.Lines {
		if l.Name == fillerLine {
			c.filler.Add(l.Amount)
			continue
		}
		if c.lines[l.Name] == nil {
			if c.lines == nil {
				c.lines = map[string]*Sum{}
			}
			c.lines[l.Name], c.order = &Sum{}, append(c.order, l.Name)
		}
		c.lines[l.Name].Add(l.Amount)
	}
	for _, name := range j.NotPriced {
		if name != fillerLine { // the packs say which
			c.Lacks(name)
		}
	}
}

// Lacks names what the bill will not hold.
func (c *Costs) Lacks(what string) {
	if !slices.Contains(c.missing, what) {
		c.missing = append(c.missing, what)
	}
}

// Bill is that of the joints so far, with the packs to buy for them.
func (c *Costs) Bill(currency string, buying []Item) *Bill {
	b := &Bill{Currency: currency, Lines: []CostLine{}, Missing: []string{}}
	var packs, total Sum
	priced := false
	for i := range buying {
		k := &buying[i]
		if k.Packs == nil || k.Packs.Price == nil {
			name := k.Filler
			if name == "" {
				name = "not named"
			}
			b.Missing = append(b.Missing, fillerLine+" "+name)
			continue
		}
		priced = true
		packs.Add(*k.Packs.Price)
	}
	if priced {
		b.Lines = append(b.Lines, CostLine{"packs of filler", packs.Value()})
	}
	total.Add(packs.Value())
	for _, name := range c.order {
		b.Lines = append(b.Lines, CostLine{name, c.lines[name].Value()})
		total.Add(c.lines[name].Value())
	}
	b.Total, b.Joints, b.Rounding = total.Value(), c.joints.Value(), packs.Value()-c.filler.Value()
	b.Missing = append(b.Missing, c.missing...)
	b.Complete = len(b.Missing) == 0
	return b
}
