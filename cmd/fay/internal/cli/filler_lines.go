package cli

import (
	"math"
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

// listed is a list of the numbers there are.
type listed []line

func (l *listed) add(name string, v *float64, unit string) {
	if v != nil {
		*l = append(*l, line{name, *v, unit})
	}
}

// Names of lines that the traveler picks out.
const (
	rodPerPass = "rod per pass"
	neededAll  = "needed in all"
)

// fillerLines lists the numbers there are.
func fillerLines(f *filler.Filler) []line {
	var out listed
	out.add("deposited area", &f.DepositedAreaMM2, "mm²")
	out.add("volume per metre", &f.VolumeCm3PerM, "cm³/m")
	out.add("density", f.DensityGPerCm3, "g/cm³")
	out.add("deposition efficiency", &f.Efficiency, "")
	out.add("overall efficiency", &f.OverallEfficiency, "")
	out.add("deposited per metre", f.DepositedKgPerM, "kg/m")
	out.add("consumed per metre", f.ConsumedKgPerM, "kg/m")
	out.add("needed per metre", f.BoughtKgPerM, "kg/m")
	out.add("rod diameter", f.RodDiameterMM, "mm")
	out.add("rod length", f.RodLengthMM, "mm")
	out.add("rod melted of each", f.RodUsableMM, "mm")
	out.add(rodPerPass, f.RodFeedRatio, "m/m")
	out.add("rods per metre", f.RodsPerM, "")
	out.add("passes", whole(f.Passes), "")
	out.add("largest pass", f.PassAreaMM2, "mm²")
	out.add("travel speed", f.TravelSpeedMMPerMin, "mm/min")
	out.add("deposition rate", f.DepositionRateKgPerH, "kg/h")
	out.add("arc time per metre", f.ArcTimeMinPerM, "min/m")
	out.add("arc share of paid time", hundredths(f.ArcShare), "%")
	for i := range f.Work {
		out.add(f.Work[i].Name+" per metre", f.Work[i].MinPerM, "min/m")
	}
	out.add("paid time per metre", f.PaidMinPerM, "min/m")
	out.add("gas flow", f.GasFlowLPerMin, "L/min")
	out.add("gas per metre", f.GasM3PerM, "m³/m")
	out.add("wire diameter", f.WireDiameterMM, "mm")
	out.add("wire per metre", f.WireMPerM, "m/m")
	out.add("volume per part", f.VolumeCm3PerSeam, "cm³")
	out.add("deposited per part", f.DepositedKgPerSeam, "kg")
	out.add("consumed per part", f.ConsumedKgPerSeam, "kg")
	out.add("needed per part", f.BoughtKgPerSeam, "kg")
	out.add("rods per part", f.RodsPerSeam, "")
	out.add("wire per part", f.WireMPerSeam, "m")
	out.add("arc time per part", f.ArcTimeMin, "min")
	for i := range f.Work {
		out.add(f.Work[i].Name+" per part", f.Work[i].Min, "min")
	}
	out.add("paid time per part", f.PaidMin, "min")
	out.add("gas per part", f.GasM3PerSeam, "m³")
	out.add("volume in all", f.VolumeCm3Total, "cm³")
	out.add("deposited in all", f.DepositedKgTotal, "kg")
	out.add("consumed in all", f.ConsumedKgTotal, "kg")
	out.add(neededAll, f.BoughtKgTotal, "kg")
	out.add("rods in all", whole(f.RodsTotal), "")
	out.add("wire in all", f.WireMTotal, "m")
	out.add("arc time in all", f.ArcTimeMinTotal, "min")
	for i := range f.Work {
		out.add(f.Work[i].Name+" in all", f.Work[i].MinTotal, "min")
	}
	out.add("paid time in all", f.PaidMinTotal, "min")
	out.add("gas in all", f.GasM3Total, "m³")
	out.add("cylinders", f.Cylinders, "")
	if k := f.Packs; k != nil {
		out.add("packs to buy", new(float64(k.Count)), k.Pack)
		out.add("price of packs", k.Price, currency(f))
	}
	if c := f.Cost; c != nil {
		lacks := incomplete(c)
		out.add("cost per metre"+lacks, &c.PerM, c.Currency+"/m")
		out.add("cost per part"+lacks, c.PerPart, c.Currency)
		out.add("cost in all"+lacks, c.Total, c.Currency)
	}
	out.overLines(f)
	return out
}

// overLines are those of one size over.
func (l *listed) overLines(f *filler.Filler) {
	o := f.OneOver
	if o == nil || o.None != "" {
		return
	}
	const over = " one size over"
	time := "arc time"
	if o.TimeEstimated {
		time = "estimated arc time"
	}
	l.add("more metal"+over, hundredths(o.MoreShare), "%")
	l.add("consumed per metre more"+over, o.ConsumedKgPerM, "kg/m")
	l.add("needed per metre more"+over, o.BoughtKgPerM, "kg/m")
	l.add("rods per metre more"+over, o.RodsPerM, "")
	l.add("wire per metre more"+over, o.WireMPerM, "m/m")
	l.add("passes more"+over, whole(o.Passes), "")
	l.add(time+" per metre more"+over, o.ArcTimeMinPerM, "min/m")
	l.add("consumed more"+over, o.ConsumedKgTotal, "kg")
	l.add("needed more"+over, o.BoughtKgTotal, "kg")
	l.add("rods more"+over, o.RodsTotal, "")
	l.add("wire more"+over, o.WireMTotal, "m")
	l.add(time+" more"+over, o.ArcTimeMinTotal, "min")
	if f.Cost != nil {
		l.add("cost more"+over+incomplete(f.Cost), o.CostTotal, currency(f))
	}
}

// partLines list the numbers of every weld and every seam of one part.
func partLines(f *filler.Filler) []line {
	var out listed
	amounts := func(of string, a *filler.Amounts) {
		out.add(of+"weld length", a.LengthMM, "mm")
		out.add(of+"deposited", a.DepositedKg, "kg")
		out.add(of+"consumed", a.ConsumedKg, "kg")
		out.add(of+"needed", a.BoughtKg, "kg")
		out.add(of+"rods", a.Rods, "")
		out.add(of+"wire", a.WireM, "m")
		out.add(of+"arc time", a.ArcTimeMin, "min")
	}
	for i := range f.Welds {
		w := &f.Welds[i]
		of := w.ID + " weld: "
		out.add(of+"deposited area", &w.DepositedAreaMM2, "mm²")
		out.add(of+"passes", whole(w.Passes), "")
		out.add(of+rodPerPass, w.RodFeedRatio, "m/m")
		out.add(of+"deposited per metre", w.DepositedKgPerM, "kg/m")
		out.add(of+"rods per metre", w.RodsPerM, "")
		out.add(of+"wire per metre", w.WireMPerM, "m/m")
		out.add(of+"arc time per metre", w.ArcTimeMinPerM, "min/m")
		amounts(of, &w.Amounts)
	}
	for i := range f.Seams {
		amounts("seam "+strconv.Itoa(f.Seams[i].Seam)+": ", &f.Seams[i].Amounts)
	}
	return out
}

// whole is a count as a number of a line; nil where there is none.
func whole(n *int) *float64 {
	if n == nil {
		return nil
	}
	return new(float64(*n))
}

// hundredths is a share in per cent; nil where there is none.
func hundredths(share *float64) *float64 {
	if share == nil {
		return nil
	}
	return new(*share * 100)
}

func currency(f *filler.Filler) string {
	if f.Cost == nil {
		return ""
	}
	return f.Cost.Currency
}

// incomplete says behind a cost what it does not hold; empty where it holds all.
func incomplete(c *filler.Cost) string {
	if len(c.NotPriced) == 0 {
		return ""
	}
	return without + strings.Join(c.NotPriced, ", ")
}

// Exact by definition: the pound (international agreement, 1959) and the inch.
const (
	kgPerPound     = 0.45359237
	metresPerFoot  = 0.3048
	cubicFoot      = metresPerFoot * metresPerFoot * metresPerFoot // m³
	litresPerM3    = 1000
	minutesPerHour = 60
	cm3PerCubicIn  = 2.54 * 2.54 * 2.54
	gramsPerKg     = 1000
	perMetreSuffix = " per metre"
)

// leastKg is the least mass that prints in kilograms.
const leastKg = 0.1

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
	if kg, ok := strings.CutPrefix(unit, "kg"); ok && (kg == "" || kg == "/m") && q.unit != geometry.UnitInch && math.Abs(v) < leastKg {
		v, unit = v*gramsPerKg, "g"+kg
	}
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
