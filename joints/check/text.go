package check

import (
	"math"
	"strconv"

	"fay/geometry"
)

// Steps of remedies: what a fabricator sets a gauge or a rule to.
const (
	mendMM       = 0.1 * geometry.Millimetre
	mendFraction = 32 // parts of an inch
	mendInch     = geometry.Inch / 1000
	// mendLoss is the most that rounding to a fraction may change a size;
	// thinner sheet gets decimals.
	mendLoss = 0.1
)

// Show prints a length in the unit of the facts' text: mm to three decimals,
// inches to four: finer than two sizes that compare differently in a shop.
func (f *Facts) Show(l geometry.Length) string {
	// Rules show the same few lengths again and again.
	if f.shown == nil {
		f.shown = new([1 << shownBits]shown)
	}
	bits := math.Float64bits(float64(l))
	place := &f.shown[(bits*0x9e3779b97f4a7c15)>>(64-shownBits)]
	if place.text == "" || place.length != l || place.inches != f.printsInches() {
		*place = shown{length: l, inches: f.printsInches(), text: f.length(l)}
	}
	return place.text
}

func (f *Facts) length(l geometry.Length) string {
	if f.printsInches() {
		return trim(l.Inches(), 4) + " in"
	}
	return trim(float64(l), 3) + " mm"
}

// shownBits is the size of the memory for printed lengths, as a power of two.
const shownBits = 5

// shown is a length that was printed.
type shown struct {
	length geometry.Length
	inches bool
	text   string
}

// RoundUp returns the smallest length not under l that can be set on the bench:
// a tenth of a millimetre, or 1/32 in (a thousandth where that would be coarse).
func (f *Facts) RoundUp(l geometry.Length) geometry.Length { return f.bench(l, math.Ceil, -slack) }

// RoundDown returns the largest length not over l that can be set on the bench.
func (f *Facts) RoundDown(l geometry.Length) geometry.Length { return f.bench(l, math.Floor, slack) }

// bench rounds with round, except where l is a bench size already.
func (f *Facts) bench(l geometry.Length, round func(float64) float64, slack float64) geometry.Length {
	to := func(step geometry.Length) geometry.Length {
		return geometry.Length(round(float64(l/step)*(1+slack))) * step
	}
	if !f.printsInches() {
		return to(mendMM)
	}
	if v := to(geometry.Inch / mendFraction); math.Abs(float64(v-l)) <= mendLoss*float64(l) {
		return v
	}
	return to(mendInch)
}

// ShowAtLeast prints l rounded up to a bench size.
func (f *Facts) ShowAtLeast(l geometry.Length) string { return f.showBench(f.RoundUp(l)) }

// ShowAtMost prints l rounded down to a bench size.
func (f *Facts) ShowAtMost(l geometry.Length) string { return f.showBench(f.RoundDown(l)) }

func (f *Facts) showBench(l geometry.Length) string {
	if !f.printsInches() {
		return trim(float64(l), 1) + " mm"
	}
	if fraction := l.Fraction(mendFraction); math.Abs(float64(fraction.Err)) <= slack*float64(l) {
		return fraction.String() + " in"
	}
	return trim(l.Inches(), 3) + " in"
}

// trim prints v with at most the given decimals and no trailing zeros.
func trim(v float64, decimals int) string {
	p := math.Pow10(decimals)
	if r := math.Round(v * p); math.Abs(r) < 1<<53 {
		v = r / p
	}
	if v == 0 {
		return "0" // also for −0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Printed is a length as a document prints it in its two columns. The columns
// are rounded apart: 1/4 in is printed beside 6 mm and is 6.35 mm.
type Printed struct {
	MM geometry.Length
	In geometry.Length
}

// Pair makes a Printed from millimetres and inches.
func Pair(mm, inches float64) Printed {
	return Printed{MM: geometry.Length(mm), In: geometry.Length(inches) * geometry.Inch}
}

// Of returns the value of the column that the facts are read in.
func (p Printed) Of(f *Facts) geometry.Length {
	if f.Inches() {
		return p.In
	}
	return p.MM
}

// Larger returns the larger value of the two columns.
func (p Printed) Larger() geometry.Length { return max(p.MM, p.In) }

// String prints both columns: 6 mm (1/4 in).
func (p Printed) String() string { return trim(float64(p.MM), 3) + " mm (" + p.Inch() + ")" }

// Inch prints the inch column: 1/4 in.
func (p Printed) Inch() string { return p.In.Fraction(64).String() + " in" }

// Show prints the column that the facts are read in, as the document does where
// that is the unit of the facts' text.
func (p Printed) Show(f *Facts) string {
	switch {
	case f.Converted:
		return f.Show(p.Of(f))
	case f.Inches():
		return p.Inch()
	}
	return trim(float64(p.MM), 3) + " mm"
}
