package config

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"fay/geometry"
)

// Allowances are what a shop adds to the metal, as fractions; zero adds nothing.
type Allowances struct {
	Oversize float64 // laid beyond the planned area, of the deposited metal
	Tack     float64 // tack welds, of the deposited metal
	Waste    float64 // rods dropped and ends cut off, of what is used, stubs among it
}

// Costs are the shop's own rates; zero is not given. Without a currency there
// are none.
type Costs struct {
	Currency string
	Labour   float64 // an hour of paid time
	Gas      float64 // a cubic metre of shielding gas
	// ArcShare is the share of paid time that the arc burns, as a fraction; 1
	// counts arc time alone.
	ArcShare float64
}

// Work is the shop's own time for what is done besides welding, in minutes; zero
// is none.
type Work struct {
	Edge  float64 // of a metre of one prepared face
	Turn  float64 // of turning a part once
	Gouge float64 // of a metre of gouged root
}

// Price is what the shop pays for a pack of filler.
type Price struct {
	Filler   string          // name in the catalogue
	Diameter geometry.Length // 0: any
	Pack     float64         // kg
	Amount   float64         // for the pack, in the currency of the settings
	Source   Source
}

// PerKilogram is the price of a kilogram.
func (p Price) PerKilogram() float64 { return p.Amount / p.Pack }

// PricesOf lists the prices of a filler, those of its diameter alone where
// there are any.
func (s Settings) PricesOf(filler string, d geometry.Length) []Price {
	var exact, loose []Price
	for _, p := range s.Prices {
		switch {
		case fold(p.Filler) != fold(filler):
		case p.Diameter == 0:
			loose = append(loose, p)
		case math.Abs(float64(p.Diameter-d)) < sameDiameter:
			exact = append(exact, p)
		}
	}
	if len(exact) > 0 {
		return exact
	}
	return loose
}

// sameDiameter is how far two diameters may lie apart and be one size, mm:
// 1/16 in is 1.5875 mm, and not 1.6.
const sameDiameter = 0.005

const maxCurrency = 8 // characters: EUR, kr., US$

func (j *judge) costs(r rawCost) Costs {
	c := Costs{
		Currency: strings.TrimSpace(r.Currency),
		Labour:   j.quantity("cost.labour", r.Labour, moneyQuantity),
		Gas:      j.quantity("cost.gas", r.Gas, moneyQuantity),
	}
	share := shareQuantity
	share.lo, share.hi = 1, 100
	c.ArcShare = j.quantity("cost.arc-share", r.ArcShare, share) / 100
	bad := func(r rune) bool { return !unicode.IsPrint(r) || unicode.IsDigit(r) || unicode.IsSpace(r) }
	if utf8.RuneCountInString(c.Currency) > maxCurrency || strings.ContainsFunc(c.Currency, bad) {
		j.fault(FaultValue, "cost.currency", c.Currency, fmt.Sprintf("a currency is up to %d letters or signs", maxCurrency), "write EUR, £ or the like")
		c.Currency = "?" // said already
	}
	for _, given := range []struct {
		path string
		text string
	}{{"cost.labour", r.Labour}, {"cost.gas", r.Gas}} {
		if strings.TrimSpace(given.text) != "" && c.Currency == "" {
			j.noCurrency(given.path, given.text)
		}
	}
	return c
}

func (j *judge) noCurrency(path, text string) {
	j.fault(FaultMissing, path, text, "a price needs a currency", "give cost.currency, such as EUR")
}

// prices judges the shop's price list.
func (j *judge) prices(list []rawPrice, s Settings) []Price {
	var out []Price
	type row struct {
		filler   string
		diameter geometry.Length
		pack     float64
	}
	seen := map[row]bool{}
	catalogue := s.Catalogue()
	for i, e := range list {
		path := fmt.Sprintf("prices[%d]", i)
		before := len(j.faults)
		for _, need := range []struct{ name, text string }{{"filler", e.Filler}, {"pack", e.Pack}, {"price", e.Price}} {
			if strings.TrimSpace(need.text) == "" {
				j.fault(FaultMissing, path, e.Filler, "a price needs `filler`, `pack` and `price`", "add `"+need.name+":`")
			}
		}
		if strings.TrimSpace(e.Price) != "" && s.Costs.Currency == "" {
			j.noCurrency(path+".price", e.Price)
		}
		p := Price{Pack: j.quantity(path+".pack", e.Pack, massQuantity), Amount: j.quantity(path+".price", e.Price, moneyQuantity),
			Source: Source{Text: orShop(e.Source), Provenance: Shop}}
		if strings.TrimSpace(e.Filler) != "" {
			found, err := catalogue.Filler(e.Filler)
			if err != nil {
				j.fault(FaultName, path+".filler", e.Filler, "no such filler", didYouMean(err, "see `fay fillers`, or add it under fillers with its density"))
			}
			p.Filler = found.Name
		}
		if strings.TrimSpace(e.Diameter) != "" {
			p.Diameter = j.length(path+".diameter", e.Diameter, s.Units, minRodDiameter, maxRodDiameter)
		}
		if len(j.faults) > before {
			continue
		}
		key := row{p.Filler, p.Diameter, p.Pack}
		if seen[key] {
			j.fault(FaultDuplicate, path, e.Filler, "the same pack has a price already", "keep one of the two")
			continue
		}
		seen[key] = true
		out = append(out, p)
	}
	return out
}

// practices judges the shop's own numbers of processes.
func (j *judge) practices(list []rawPractice) []Practice {
	var out []Practice
	seen := map[Process]bool{}
	for i, e := range list {
		path := fmt.Sprintf("processes[%d]", i)
		if strings.TrimSpace(e.Process) == "" {
			j.fault(FaultMissing, path, "", "an entry needs a process", "add `process:`")
			continue
		}
		p, err := ParseProcess(e.Process)
		if err != nil {
			j.fault(FaultName, path+".process", e.Process, "allowed: "+strings.Join(processNames(), ", "), didYouMean(err, "choose one of them"))
			continue
		}
		if seen[p] {
			j.fault(FaultDuplicate, path+".process", e.Process, "a process may stand once", "keep one of the two")
			continue
		}
		seen[p] = true
		own := Source{Text: orShop(e.Source), Provenance: Shop}
		percent := shareQuantity
		percent.lo, percent.hi = 5, 100
		out = append(out, Practice{
			Process: p, PassSource: own, FlowSource: own, RateSource: own, SpeedSource: own, EfficiencySource: own,
			PassArea: j.quantity(path+".pass-area", e.PassArea, areaQuantity), Flow: j.quantity(path+".gas-flow", e.Flow, flowQuantity),
			Rate: j.quantity(path+".deposition-rate", e.Rate, rateQuantity), Speed: j.quantity(path+".travel-speed", e.Speed, speedQuantity),
			OwnEfficiency: j.quantity(path+".efficiency", e.Efficiency, percent) / 100,
		})
	}
	return out
}

func orShop(text string) string {
	if text = strings.TrimSpace(text); text != "" {
		return text
	}
	return "shop settings"
}
