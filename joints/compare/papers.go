package compare

import (
	"slices"

	"fay/joints/check"
	"fay/joints/filler"
)

// hangsOn are the numbers taken that a metric is reckoned from.
var hangsOn = map[Metric][]string{
	Mass:   {filler.TakenDensity, filler.TakenEfficiency},
	Rods:   {filler.TakenEfficiency},
	Passes: {filler.TakenPass},
	Time:   {filler.TakenPass, filler.TakenSpeed, filler.TakenRate},
	Labour: {filler.TakenPass, filler.TakenSpeed, filler.TakenRate},
	Cost:   {filler.TakenDensity, filler.TakenEfficiency, filler.TakenPass, filler.TakenSpeed, filler.TakenRate},
}

// papers tells what a row is reckoned from.
func (r *Row) papers(o *Option) {
	memory := map[string]bool{}
	if f := o.Filler; f != nil {
		r.Taken = f.Taken()
		for i := range r.Taken {
			if t := &r.Taken[i]; t.FromMemory() {
				memory[t.Name] = true
			}
		}
		if c := f.Cost; c != nil {
			r.CostLines, r.NotPriced = c.Lines, c.NotPriced
		}
	}
	gas := slices.ContainsFunc(r.CostLines, func(l filler.CostLine) bool { return l.Name == "gas" })
	for _, m := range Metrics() {
		remembered := slices.ContainsFunc(hangsOn[m], func(name string) bool { return memory[name] }) ||
			m == Cost && gas && memory[filler.TakenGas] ||
			m == RootPower && o.RootArcFromMemory ||
			slices.ContainsFunc(Rules(), func(rule Rule) bool { return rule.Metric == m && rule.Provenance == check.Memory })
		if remembered && r.Values.Of(m) != nil {
			r.FromMemory = append(r.FromMemory, m)
		}
	}
}
