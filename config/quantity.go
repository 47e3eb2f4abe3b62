package config

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// quantity is how a number with a unit is written: the units taken, each with
// what one of it is in the first, and the range, in the first.
type quantity struct {
	name   string
	units  []namedUnit
	lo, hi float64
}

type namedUnit struct {
	name string
	one  float64
}

// Exact by definition (international yard and pound agreement, 1959), as is
// kilogramPerPound.
const (
	mmPerInch          = 25.4
	litrePerCubicFoot  = 28.316846592
	metrePerMillimetre = 1e-3
)

// The quantities that settings take. The ranges catch a wrong unit or a
// slipped point.
var (
	massQuantity = quantity{"a mass", []namedUnit{{"kg", 1}, {"g", 1e-3}, {"lb", kilogramPerPound}}, 0.05, 1000}
	// From a crawling mechanised root to a fast submerged arc.
	speedQuantity = quantity{"a travel speed", []namedUnit{{"mm/min", 1}, {"in/min", mmPerInch}, {"mm/s", 60}, {"m/min", 1 / metrePerMillimetre}}, 5, 10_000}
	rateQuantity  = quantity{"a deposition rate", []namedUnit{{"kg/h", 1}, {"g/min", 0.06}, {"lb/h", kilogramPerPound}}, 0.01, 100}
	areaQuantity  = quantity{"an area", []namedUnit{{"mm2", 1}, {"mm²", 1}, {"in2", mmPerInch * mmPerInch}, {"in²", mmPerInch * mmPerInch}}, 1, 1000}
	flowQuantity  = quantity{"a gas flow", []namedUnit{{"L/min", 1}, {"l/min", 1}, {"cfh", litrePerCubicFoot / 60}}, 1, 100}
	gasQuantity   = quantity{"a volume of gas", []namedUnit{{"m3", 1}, {"m³", 1}, {"L", metrePerMillimetre}, {"l", metrePerMillimetre}, {"cf", litrePerCubicFoot * metrePerMillimetre}}, 0.05, 1000}
	moneyQuantity = quantity{"an amount of money", nil, 0.001, 1_000_000}
	timeQuantity  = quantity{"a time", []namedUnit{{"min", 1}, {"h", 60}, {"s", 1.0 / 60}}, 0, 10_000}
	paceQuantity  = quantity{"a time per length", []namedUnit{{"min/m", 1}, {"min/ft", 1 / (12 * mmPerInch * metrePerMillimetre)}, {"h/m", 60}}, 0, 10_000}
	shareQuantity = quantity{"a share in per cent", []namedUnit{{"%", 1}}, 0, 200}
)

var errQuantity = errors.New("not a quantity")

// parse reads a number with a unit; a bare number is in the first one.
func (q quantity) parse(text string) (float64, error) {
	number, one := strings.TrimSpace(text), 1.0
	long := 0 // the longest unit that fits: kg ends in g
	for _, u := range q.units {
		if head, ok := strings.CutSuffix(strings.TrimSpace(text), u.name); ok && len(u.name) > long {
			number, one, long = strings.TrimSpace(head), u.one, len(u.name)
		}
	}
	v, err := parseNumber(number)
	if err != nil {
		return 0, fmt.Errorf("%w: %s", errQuantity, q.rule())
	}
	v *= one
	if math.IsNaN(v) || v < q.lo || v > q.hi {
		return 0, fmt.Errorf("%w: %s", errQuantity, q.rule())
	}
	return v, nil
}

// rule says what is taken.
func (q quantity) rule() string {
	unit := ""
	if len(q.units) > 0 {
		unit = " " + q.units[0].name
	}
	n := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	return q.name + " from " + n(q.lo) + " to " + n(q.hi) + unit
}

// remedy says how it is written.
func (q quantity) remedy() string {
	if len(q.units) == 0 {
		return "write a plain number with a decimal point; the currency stands under cost.currency"
	}
	var names []string
	for _, u := range q.units {
		names = append(names, u.name)
	}
	return "a number, and one of " + strings.Join(names, ", ")
}

// quantity judges a setting; empty text is not given.
func (j *judge) quantity(path, text string, q quantity) float64 {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0
	}
	v, err := q.parse(text)
	if err != nil {
		code := FaultRange
		if _, plain := parseNumber(text); plain != nil {
			code = FaultValue
		}
		j.fault(code, path, text, q.rule(), q.remedy())
		return 0
	}
	return v
}
