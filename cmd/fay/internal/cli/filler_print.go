package cli

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints/filler"
)

// line is one number of the filler with its unit.
type line struct {
	name  string
	value float64
	unit  string
}

// fillerLines lists the numbers there are.
func fillerLines(f *filler.Filler) []line {
	var out []line
	add := func(name string, v *float64, unit string) {
		if v != nil {
			out = append(out, line{name, *v, unit})
		}
	}
	add("deposited area", &f.DepositedAreaMM2, "mm²")
	add("volume per metre", &f.VolumeCm3PerM, "cm³/m")
	add("density", f.DensityGPerCm3, "g/cm³")
	add("deposition efficiency", &f.Efficiency, "")
	add("overall efficiency", &f.OverallEfficiency, "")
	add("deposited per metre", f.DepositedKgPerM, "kg/m")
	add("consumed per metre", f.ConsumedKgPerM, "kg/m")
	add("bought per metre", f.BoughtKgPerM, "kg/m")
	add("rod diameter", f.RodDiameterMM, "mm")
	add("rod length", f.RodLengthMM, "mm")
	add("rod melted of each", f.RodUsableMM, "mm")
	add("rod per weld length", f.RodFeedRatio, "m/m")
	add("rods per metre", f.RodsPerM, "")
	if f.Passes != nil {
		out = append(out, line{"passes", float64(*f.Passes), ""})
	}
	add("largest pass", f.PassAreaMM2, "mm²")
	add("travel speed", f.TravelSpeedMMPerMin, "mm/min")
	add("deposition rate", f.DepositionRateKgPerH, "kg/h")
	add("arc time per metre", f.ArcTimeMinPerM, "min/m")
	add("gas flow", f.GasFlowLPerMin, "L/min")
	add("gas per metre", f.GasM3PerM, "m³/m")
	add("wire diameter", f.WireDiameterMM, "mm")
	add("wire per metre", f.WireMPerM, "m/m")
	add("volume per part", f.VolumeCm3PerSeam, "cm³")
	add("deposited per part", f.DepositedKgPerSeam, "kg")
	add("consumed per part", f.ConsumedKgPerSeam, "kg")
	add("bought per part", f.BoughtKgPerSeam, "kg")
	add("rods per part", f.RodsPerSeam, "")
	add("wire per part", f.WireMPerSeam, "m")
	add("arc time per part", f.ArcTimeMin, "min")
	add("gas per part", f.GasM3PerSeam, "m³")
	add("deposited in all", f.DepositedKgTotal, "kg")
	add("consumed in all", f.ConsumedKgTotal, "kg")
	add("bought in all", f.BoughtKgTotal, "kg")
	if f.RodsTotal != nil {
		out = append(out, line{"rods in all", float64(*f.RodsTotal), ""})
	}
	add("wire in all", f.WireMTotal, "m")
	add("arc time in all", f.ArcTimeMinTotal, "min")
	add("gas in all", f.GasM3Total, "m³")
	add("cylinders", f.Cylinders, "")
	if k := f.Packs; k != nil {
		out = append(out, line{"packs", float64(k.Count), k.Pack})
		add("price of packs", k.Price, currency(f))
	}
	if c := f.Cost; c != nil {
		add("cost per metre", &c.PerM, c.Currency+"/m")
		add("cost per part", c.PerPart, c.Currency)
		add("cost in all", c.Total, c.Currency)
	}
	if o := f.OneOver; o != nil && o.None == "" {
		const over = " one size over"
		add("more metal"+over, new(*o.MoreShare*100), "%")
		add("consumed per metre more"+over, o.ConsumedKgPerM, "kg/m")
		add("rods per metre more"+over, o.RodsPerM, "")
		add("arc time per metre more"+over, o.ArcTimeMinPerM, "min/m")
		add("consumed more"+over, o.ConsumedKgTotal, "kg")
		add("rods more"+over, o.RodsTotal, "")
		add("arc time more"+over, o.ArcTimeMinTotal, "min")
		add("cost more"+over, o.CostTotal, currency(f))
	}
	return out
}

func currency(f *filler.Filler) string {
	if f.Cost == nil {
		return ""
	}
	return f.Cost.Currency
}

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
	t := table{heads: []string{"", p.q.perName()}}
	part, all := u.VolumeCm3PerSeam != nil, u.VolumeCm3PerSeam != nil && p.lot > 0
	if part {
		t.heads = append(t.heads, "per part")
	}
	if all {
		t.heads = append(t.heads, strconv.Itoa(p.lot)+" parts")
	}
	row := func(name, unit string, perM, perPart, total *float64) {
		if perM == nil {
			return
		}
		cells := []string{name, p.q.perLength(perM, unit), p.q.amount(perPart, unit), p.q.amount(total, unit)}
		t.add(cells[:len(t.heads)]...)
	}
	row("volume", "cm³", &u.VolumeCm3PerM, u.VolumeCm3PerSeam, nil)
	row("deposited", "kg", u.DepositedKgPerM, u.DepositedKgPerSeam, u.DepositedKgTotal)
	row("consumed", "kg", u.ConsumedKgPerM, u.ConsumedKgPerSeam, u.ConsumedKgTotal)
	row("bought", "kg", u.BoughtKgPerM, u.BoughtKgPerSeam, u.BoughtKgTotal)
	var rods *float64
	if u.RodsTotal != nil {
		rods = new(float64(*u.RodsTotal))
	}
	row("rods", "", u.RodsPerM, u.RodsPerSeam, rods)
	row("wire", "m", u.WireMPerM, u.WireMPerSeam, u.WireMTotal)
	row("arc time", "min", u.ArcTimeMinPerM, u.ArcTimeMin, u.ArcTimeMinTotal)
	row("gas", "m³", u.GasM3PerM, u.GasM3PerSeam, u.GasM3Total)
	if c := u.Cost; c != nil {
		row("cost", c.Currency, &c.PerM, c.PerPart, c.Total)
	}
	p.table(&t)
}

func (p *fillerPrinter) welds() {
	t := table{heads: []string{"weld", "area", "passes", "deposited " + p.q.perName(), "rods " + p.q.perName(), "arc time " + p.q.perName(), "consumed per part", "rods per part"}}
	for i := range p.used.Welds {
		d := &p.used.Welds[i]
		passes := ""
		if d.Passes != nil {
			passes = strconv.Itoa(*d.Passes)
		}
		t.add(d.ID, p.q.area(d.DepositedAreaMM2), passes, p.q.perLength(d.DepositedKgPerM, "kg"), p.q.perLength(d.RodsPerM, ""),
			p.q.perLength(d.ArcTimeMinPerM, "min"), p.q.amount(d.ConsumedKg, "kg"), p.q.amount(d.Rods, ""))
	}
	p.table(&t)
}

func (p *fillerPrinter) seams() {
	t := table{heads: []string{"seam", "weld length", "deposited", "consumed", "bought", "rods", "arc time"}}
	for i := range p.used.Seams {
		s := &p.used.Seams[i]
		length := ""
		if s.LengthMM != nil {
			length = p.q.length(*s.LengthMM)
		}
		t.add(strconv.Itoa(s.Seam), length, p.q.amount(s.DepositedKg, "kg"), p.q.amount(s.ConsumedKg, "kg"), p.q.amount(s.BoughtKg, "kg"),
			p.q.amount(s.Rods, ""), p.q.amount(s.ArcTimeMin, "min"))
	}
	p.table(&t)
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
		t.add("rod fed", significant(*u.RodFeedRatio)+" of rod to 1 of weld")
	case u.WireDiameterMM != nil:
		t.add("wire", "⌀ "+q.rod(*u.WireDiameterMM))
	}
	if u.Passes != nil {
		t.add("passes", strconv.Itoa(*u.Passes)+", none over "+q.area(*u.PassAreaMM2))
	}
	if k := u.Packs; k != nil {
		text := fmt.Sprintf("%d × %s", k.Count, k.Pack)
		if k.Price != nil {
			text += ", " + significant(*k.Price) + " " + currency(u)
		}
		t.add("to buy", text)
	}
	if u.Cylinders != nil {
		t.add("cylinders", significant(*u.Cylinders)+" of "+q.amount(u.CylinderM3, "m³"))
	}
	p.table(&t)
}

func (p *fillerPrinter) cost() {
	c := p.used.Cost
	t := table{heads: []string{"", "rate", p.q.perName(), "per part", "in all"}}
	of := map[string]string{"m3": "m³"}
	for i := range c.Lines {
		l := &c.Lines[i]
		unit := l.RateOf
		if name, ok := of[unit]; ok {
			unit = name
		}
		t.add(l.Name, significant(l.Rate)+" "+c.Currency+"/"+unit, p.q.perLength(&l.PerM, c.Currency), p.q.amount(l.PerPart, c.Currency), p.q.amount(l.Total, c.Currency))
	}
	p.table(&t)
	if len(c.NotPriced) > 0 {
		printf(p.w, "not priced: %s\n", strings.Join(c.NotPriced, ", "))
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
		add(kg, "kg", "consumed")
		add(rods, "", "rods")
		add(wire, "m", "of wire")
		if minutes != nil && *minutes == 0 {
			parts = append(parts, "no more passes and no more arc time at the same speed")
		} else {
			add(minutes, "min", "of arc")
		}
		add(cost, currency(p.used), "")
		return strings.Join(parts, ", ")
	}
	printf(p.w, "%s over (%s): +%s %% metal\n", size, o.What, decimal(*o.MoreShare*100, 0))
	if line := more(o.ConsumedKgPerM, o.RodsPerM, o.WireMPerM, o.ArcTimeMinPerM, o.CostPerM, p.q.perLength); line != "" {
		printf(p.w, "%s: %s\n", p.q.perName(), line)
	}
	lot := "one part"
	if p.lot > 0 {
		lot = strconv.Itoa(p.lot) + " parts"
	}
	if line := more(o.ConsumedKgTotal, o.RodsTotal, o.WireMTotal, o.ArcTimeMinTotal, o.CostTotal, p.q.amount); line != "" {
		printf(p.w, "%s: %s\n", lot, line)
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
	percent := func(name string, v *float64) {
		if v != nil {
			t.add(name, decimal(*v*100, 1)+" %", "allowance")
		}
	}
	percent("oversize", u.OversizeAllowance)
	percent("tack", u.TackAllowance)
	percent("waste", u.WasteAllowance)
	p.table(&t)
	if u.OversizeAllowance == nil && u.TackAllowance == nil && u.WasteAllowance == nil {
		printf(p.w, "nothing added for oversize, tacks or waste\n")
	}
}

// Exact by definition: the pound (international agreement, 1959) and the inch.
const (
	kgPerPound     = 0.45359237
	metresPerFoot  = 0.3048
	cubicFoot      = metresPerFoot * metresPerFoot * metresPerFoot // m³
	litresPerM3    = 1000
	minutesPerHour = 60
	cm3PerCubicIn  = 2.54 * 2.54 * 2.54
	perMetreSuffix = " per metre"
)

// fillerText prints the value of a line in the units of the shop; where those
// are inches, weights are pounds and the length they are counted on is a foot.
func (q quantities) fillerText(l *line) string {
	switch l.unit {
	case "mm":
		return q.length(l.value)
	case "mm²":
		return q.area(l.value)
	}
	v, unit := l.value, l.unit
	if q.unit == geometry.UnitInch {
		if name, ok := strings.CutSuffix(l.name, perMetreSuffix); ok && name != "wire" {
			l.name, v = name+" per foot", v*metresPerFoot
		}
		switch unit {
		case "cm³/m":
			v, unit = v/cm3PerCubicIn, "in³/ft"
		case "kg/m":
			v, unit = v/kgPerPound, "lb/ft"
		case "cm³":
			v, unit = v/cm3PerCubicIn, "in³"
		case "kg":
			v, unit = v/kgPerPound, "lb"
		case "m/m":
			if unit = "ft/ft"; l.name == "wire per metre" {
				l.name = "wire per foot"
			}
		case "m":
			v, unit = v/metresPerFoot, "ft"
		case "mm/min":
			v, unit = v/(10*2.54), "in/min"
		case "kg/h":
			v, unit = v/kgPerPound, "lb/h"
		case "m³":
			v, unit = v/cubicFoot, "ft³"
		case "L/min":
			v, unit = v*minutesPerHour/(cubicFoot*litresPerM3), "ft³/h"
		}
	}
	if unit == "" {
		return significant(v)
	}
	return significant(v) + " " + unit
}
