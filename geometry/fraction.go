package geometry

import (
	"math"
	"strconv"
)

// Fraction is a length as a rounded fraction of an inch in lowest terms.
type Fraction struct {
	Whole, Num, Den int
	Negative        bool
	Err             Length // what rounding added: the fraction less the length
}

// fractionMost keeps whole inches within an int on every platform.
const fractionMost = 1e6

// Fraction returns the length in inches to the nearest 1/den, halves away from
// zero. A den below 1 counts as 1 and one beyond 4096 as 4096. A length that is
// not finite, or of a million inches and more, gives Den 0, which prints as "?".
func (l Length) Fraction(den int) Fraction {
	den = min(max(den, 1), 4096)
	in := l.Inches()
	if !(math.Abs(in) < fractionMost) {
		return Fraction{Err: Length(math.NaN())}
	}
	n := math.Round(math.Abs(in) * float64(den))
	f := Fraction{Negative: in < 0 && n > 0}
	got := Length(n/float64(den)) * Inch
	if f.Negative {
		got = -got
	}
	f.Err = got - l
	f.Whole, f.Num, f.Den = int(n)/den, int(n)%den, den
	if f.Num == 0 {
		f.Den = 1
		return f
	}
	for a, b := f.Den, f.Num; ; a, b = b, a%b {
		if b == 0 {
			f.Num, f.Den = f.Num/a, f.Den/a
			return f
		}
	}
}

// Length returns the length the fraction stands for.
func (f Fraction) Length() Length {
	if f.Den == 0 {
		return Length(math.NaN())
	}
	l := (Length(f.Whole) + Length(f.Num)/Length(f.Den)) * Inch
	if f.Negative {
		return -l
	}
	return l
}

// String writes the fraction without a unit: 1-1/4, 3/8, 2, -1/16, 0.
func (f Fraction) String() string {
	if f.Den == 0 {
		return "?"
	}
	s := ""
	if f.Negative {
		s = "-"
	}
	if f.Num == 0 {
		return s + strconv.Itoa(f.Whole)
	}
	if f.Whole != 0 {
		s += strconv.Itoa(f.Whole) + "-"
	}
	return s + strconv.Itoa(f.Num) + "/" + strconv.Itoa(f.Den)
}
