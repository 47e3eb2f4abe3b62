package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints/filler"
)

// printFiller prints the filler for people.
func (j *job) printFiller(w *bytes.Buffer, f format, used *filler.Filler) {
	q := j.quantities()
	j.printJoint(w, f, q)
	p := fillerPrinter{w, f, q, used, j.doc.Traveler.Quantity}
	heading(w, f, "Filler")
	p.amounts()
	if len(used.Welds) > 1 {
		heading(w, f, "By weld")
		p.welds()
	}
	if len(used.Seams) > 1 {
		heading(w, f, "By seam of one part")
		p.seams()
	}
	heading(w, f, "At the bench")
	p.bench()
	if used.ArcShare != nil || len(used.Work) > 0 {
		heading(w, f, "Paid time")
		p.paid()
	}
	if used.Cost != nil {
		heading(w, f, "Cost, at your own prices")
		p.cost()
	}
	heading(w, f, "One size over")
	p.over()
	heading(w, f, "Taken")
	p.taken()
}

type fillerPrinter struct {
	w    *bytes.Buffer
	f    format
	q    quantities
	used *filler.Filler
	lot  int // parts; 0 not given
}

// table prints rows under heads, and as text without heads where they are
// blank.
func (p *fillerPrinter) table(t *table) {
	if p.f == asMD && strings.Join(t.heads, "") == "" {
		t.heads = make([]string, len(t.heads))
	}
	t.in(p.f, p.w)
}

func (q quantities) inches() bool { return q.unit == geometry.UnitInch }

// amount prints an amount in the units of the shop; nothing where there is
// none.
func (q quantities) amount(v *float64, unit string) string {
	if v == nil {
		return ""
	}
	l := line{"", *v, unit}
	return q.fillerText(&l)
}

// perLength prints an amount per metre, or per foot where the shop has inches.
func (q quantities) perLength(v *float64, unit string) string {
	if v == nil || !q.inches() {
		return q.amount(v, unit)
	}
	return q.amount(new(*v*metresPerFoot), unit)
}

func (q quantities) perName() string {
	if q.inches() {
		return "per foot"
	}
	return "per metre"
}

// amounts is the table of what is used: per length, per part, in all.
func (p *fillerPrinter) amounts() {
	u := p.used
	t := p.perTable(u.VolumeCm3PerSeam != nil)
	row := func(name, unit string, perM, perPart, total *float64) {
		if perM != nil {
			p.row(&t, name, unit, perM, perPart, total)
		}
	}
	row("volume", "cm³", &u.VolumeCm3PerM, u.VolumeCm3PerSeam, u.VolumeCm3Total)
	row("deposited", "kg", u.DepositedKgPerM, u.DepositedKgPerSeam, u.DepositedKgTotal)
	row("needed", "kg", u.BoughtKgPerM, u.BoughtKgPerSeam, u.BoughtKgTotal)
	row("rods", "", u.RodsPerM, u.RodsPerSeam, whole(u.RodsTotal))
	row("wire", "m", u.WireMPerM, u.WireMPerSeam, u.WireMTotal)
	row("arc time", "min", u.ArcTimeMinPerM, u.ArcTimeMin, u.ArcTimeMinTotal)
	row("gas", "m³", u.GasM3PerM, u.GasM3PerSeam, u.GasM3Total)
	if c := u.Cost; c != nil {
		row("cost"+incomplete(c), c.Currency, &c.PerM, c.PerPart, c.Total)
	}
	p.table(&t)
}

// perTable is a table of amounts per length, per part and in all.
func (p *fillerPrinter) perTable(part bool) table {
	t := table{heads: []string{"", p.q.perName()}}
	if part {
		t.heads = append(t.heads, "per part")
	}
	if part && p.lot > 0 {
		t.heads = append(t.heads, strconv.Itoa(p.lot)+" parts")
	}
	return t
}

// row adds an amount to a perTable.
func (p *fillerPrinter) row(t *table, name, unit string, perM, perPart, total *float64) {
	cells := []string{name, p.q.perLength(perM, unit), p.q.amount(perPart, unit), p.q.amount(total, unit)}
	t.add(cells[:len(t.heads)]...)
}

// paid is the time that is paid: that of the arc by its share, and the work
// besides.
func (p *fillerPrinter) paid() {
	u := p.used
	part := u.ArcTimeMin != nil
	for i := range u.Work {
		part = part || u.Work[i].Min != nil
	}
	t := p.perTable(part)
	if u.ArcTimeMinPerM != nil {
		name := "welding, arc time alone"
		if u.ArcShare != nil {
			name = "welding, arc time over " + decimal(*hundredths(u.ArcShare), 1) + " %"
		}
		p.row(&t, name, "min", u.PaidArc(u.ArcTimeMinPerM), u.PaidArc(u.ArcTimeMin), u.PaidArc(u.ArcTimeMinTotal))
	}
	for i := range u.Work {
		w := &u.Work[i]
		p.row(&t, w.Name, "min", w.MinPerM, w.Min, w.MinTotal)
	}
	if u.PaidMinPerM != nil && len(t.rows) > 1 {
		p.row(&t, "paid time", "min", u.PaidMinPerM, u.PaidMin, u.PaidMinTotal)
	}
	p.table(&t)
}

// kept drops the columns of a table that hold nothing.
func (t *table) kept() *table {
	out := &table{rows: make([][]string, len(t.rows))}
	for i, head := range t.heads {
		if !slices.ContainsFunc(t.rows, func(row []string) bool { return row[i] != "" }) {
			continue
		}
		out.heads = append(out.heads, head)
		for k := range t.rows {
			out.rows[k] = append(out.rows[k], t.rows[k][i])
		}
	}
	return out
}

func (p *fillerPrinter) welds() {
	per := " " + p.q.perName()
	t := table{heads: []string{"weld", "area", "passes", rodPerPass, "deposited" + per, "rods" + per, "wire" + per, "arc time" + per,
		"length per part", "needed per part", "rods per part", "wire per part"}}
	for i := range p.used.Welds {
		d := &p.used.Welds[i]
		t.add(d.ID, p.q.area(d.DepositedAreaMM2), p.q.amount(whole(d.Passes), ""), p.q.amount(d.RodFeedRatio, "m/m"), p.q.perLength(d.DepositedKgPerM, "kg"),
			p.q.perLength(d.RodsPerM, ""), p.q.perLength(d.WireMPerM, "m"), p.q.perLength(d.ArcTimeMinPerM, "min"),
			p.q.amount(d.LengthMM, "mm"), p.q.amount(d.BoughtKg, "kg"), p.q.amount(d.Rods, ""), p.q.amount(d.WireM, "m"))
	}
	p.table(t.kept())
}

func (p *fillerPrinter) seams() {
	t := table{heads: []string{"seam", "weld length", "deposited", "needed", "rods", "wire", "arc time"}}
	for i := range p.used.Seams {
		s := &p.used.Seams[i]
		t.add(strconv.Itoa(s.Seam), p.q.amount(s.LengthMM, "mm"), p.q.amount(s.DepositedKg, "kg"), p.q.amount(s.BoughtKg, "kg"),
			p.q.amount(s.Rods, ""), p.q.amount(s.WireM, "m"), p.q.amount(s.ArcTimeMin, "min"))
	}
	p.table(t.kept())
}

// bench is what is fed, laid and bought.
func (p *fillerPrinter) bench() {
	u, q := p.used, p.q
	t := table{heads: []string{"", ""}}
	switch {
	case u.RodDiameterMM != nil:
		rod := "⌀ " + q.rod(*u.RodDiameterMM) + " × " + q.length(*u.RodLengthMM)
		if u.RodStubMM != nil {
			rod += ", stub of " + q.length(*u.RodStubMM)
			if *u.RodStubFused {
				rod += " fused on to the next rod"
			} else {
				rod += " thrown away"
			}
		}
		t.add("rod", rod)
		t.add("melted of each", q.length(*u.RodUsableMM))
		t.add(rodPerPass, strings.Join(rodFed(u, func(v float64) string { return q.amount(&v, "m/m") }), ", "))
	case u.WireDiameterMM != nil:
		t.add("wire", "⌀ "+q.rod(*u.WireDiameterMM))
	}
	if u.Passes != nil {
		t.add("passes", strconv.Itoa(*u.Passes)+", none over "+q.area(*u.PassAreaMM2))
	}
	if k := u.Packs; k != nil {
		text := fmt.Sprintf("%d × %s", k.Count, k.Pack)
		if k.Price != nil {
			text += ", " + significant(*k.Price) + " " + currency(u) + " by packs"
		}
		t.add("to buy", text)
	}
	if u.Cylinders != nil {
		t.add("cylinders", significant(*u.Cylinders)+" of "+q.amount(u.CylinderM3, "m³"))
	}
	p.table(&t)
}

// rodFed is the rod fed along a pass of each weld: one text where they print
// alike, else one for each number, with the welds that it is of before it.
func rodFed(u *filler.Filler, show func(float64) string) []string {
	if len(u.Welds) == 0 {
		return []string{show(*u.RodFeedRatio)}
	}
	var texts []string
	of := map[string][]string{}
	for i := range u.Welds {
		text := show(*u.Welds[i].RodFeedRatio)
		if of[text] == nil {
			texts = append(texts, text)
		}
		of[text] = append(of[text], u.Welds[i].ID)
	}
	if len(texts) > 1 {
		for i, text := range texts {
			texts[i] = strings.Join(of[text], ", ") + " " + text
		}
	}
	return texts
}

func (p *fillerPrinter) cost() {
	c := p.used.Cost
	t := table{heads: []string{"", "rate", "amount " + p.q.perName(), "cost " + p.q.perName(), "per part", "in all"}}
	for i := range c.Lines {
		l := &c.Lines[i]
		name, unit := l.Name, l.RateOf
		amount := l.AmountPerM
		switch unit {
		case "kg":
			name += ", by weight needed"
		case "h":
			amount, unit = amount*minutesPerHour, "min"
		case "m3":
			unit = "m³"
		}
		rateOf := unit
		if unit == "min" {
			rateOf = "h"
		}
		t.add(name, significant(l.Rate)+" "+c.Currency+"/"+rateOf, p.q.perLength(&amount, unit), p.q.perLength(&l.PerM, c.Currency),
			p.q.amount(l.PerPart, c.Currency), p.q.amount(l.Total, c.Currency))
	}
	p.table(t.kept())
	if len(c.NotPriced) > 0 {
		printf(p.w, "INCOMPLETE, not priced: %s\n", strings.Join(c.NotPriced, ", "))
	}
}

// over says what one size over costs.
func (p *fillerPrinter) over() {
	o := p.used.OneOver
	size := p.q.length(o.StepMM)
	if o.None != "" {
		printf(p.w, "%s over cannot be laid: %s\n", size, o.None)
		return
	}
	more := func(kg, rods, wire, minutes, cost *float64, amount func(*float64, string) string) string {
		var parts []string
		add := func(v *float64, unit, name string) {
			if v != nil {
				parts = append(parts, "+"+strings.TrimSpace(amount(v, unit)+" "+name))
			}
		}
		add(kg, "kg", "needed")
		add(rods, "", "rods")
		add(wire, "m", "of wire")
		if o.TimeEstimated {
			add(minutes, "min", "of arc (estimate)")
		} else {
			add(minutes, "min", "of arc")
		}
		if p.used.Cost != nil {
			add(cost, currency(p.used), strings.TrimSpace(incomplete(p.used.Cost)))
		}
		return strings.Join(parts, ", ")
	}
	printf(p.w, "%s over (%s): +%s %% metal\n", size, o.What, decimal(*o.MoreShare*100, 0))
	if o.Passes != nil && *o.Passes > 0 {
		printf(p.w, "passes: +%d\n", *o.Passes)
	}
	if line := more(o.BoughtKgPerM, o.RodsPerM, o.WireMPerM, o.ArcTimeMinPerM, o.CostPerM, p.q.perLength); line != "" {
		printf(p.w, "%s: %s\n", p.q.perName(), line)
	}
	lot := "one part"
	if p.lot > 0 {
		lot = strconv.Itoa(p.lot) + " parts"
	}
	if line := more(o.BoughtKgTotal, o.RodsTotal, o.WireMTotal, o.ArcTimeMinTotal, o.CostTotal, p.q.amount); line != "" {
		printf(p.w, "%s: %s\n", lot, line)
	}
	if o.TimeEstimated {
		printf(p.w, "the estimate lays the metal as fast as planned, gas and labour with it\n")
	}
}

// taken lists the numbers that do not come from the joint, with their papers.
func (p *fillerPrinter) taken() {
	u := p.used
	t := table{heads: []string{"", "", ""}}
	if p.f == asMD {
		t.heads = []string{"value", "", "source"}
	}
	for _, v := range u.Taken() {
		if v.Source != "" {
			t.add(v.Name, p.q.amount(&v.Value, v.Unit), v.Source)
		}
	}
	if u.Packs != nil {
		t.add("pack", u.Packs.Pack, u.Packs.Source)
	}
	share := func(name string, v *float64, of string) {
		if v != nil {
			t.add(name, decimal(*hundredths(v), 1)+" %", of)
		}
	}
	share("arc share", u.ArcShare, "of paid time, shop settings [shop]")
	share("oversize", u.OversizeAllowance, "added to the metal deposited")
	share("tack", u.TackAllowance, "added to the metal deposited")
	share("waste", u.WasteAllowance, "added to the filler used, stubs among it")
	p.table(&t)
	if u.OversizeAllowance == nil && u.TackAllowance == nil && u.WasteAllowance == nil {
		printf(p.w, "nothing added for oversize, tacks or waste\n")
	}
}
