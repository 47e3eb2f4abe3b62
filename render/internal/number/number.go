// Package number writes the numbers of drawings: rounded to a fixed count of
// decimals, without exponents, negative zeros or needless digits, so that the
// same drawing gives the same bytes.
package number

import "math"

// limit keeps rounded values inside what an int64 of 1e-9 steps can hold.
const limit = 9e9

// Append writes v with at most the given decimals (0 to 9). Values that are not
// finite, which drawings refuse before they get here, become zero.
func Append(dst []byte, v float64, decimals int) []byte {
	if math.IsNaN(v) || math.Abs(v) > limit {
		return append(dst, '0')
	}
	return appendScaled(dst, int64(math.Round(v*float64(pow10(decimals)))), decimals)
}

// AppendSeparated writes v units of the last of the given decimals into SVG path
// data, after a space only where the number would run into its neighbour.
func AppendSeparated(dst []byte, v int64, decimals int) []byte {
	if n := len(dst); n > 0 && v >= 0 && (dst[n-1] >= '0' && dst[n-1] <= '9') {
		dst = append(dst, ' ')
	}
	return appendScaled(dst, v, decimals)
}

// Round gives the value the text of Append stands for.
func Round(v float64, decimals int) float64 {
	s := float64(pow10(decimals))
	r := math.Round(v*s) / s
	if r == 0 {
		return 0 // no negative zero
	}
	return r
}

var powers = [...]int64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

func pow10(n int) int64 { return powers[n] }

func appendScaled(dst []byte, v int64, decimals int) []byte {
	if v < 0 {
		dst = append(dst, '-')
		v = -v
	}
	u := uint64(v) //nolint:gosec // not negative here
	for decimals > 0 && u%10 == 0 {
		u /= 10
		decimals--
	}
	var digits [24]byte // written from the end
	i := len(digits)
	if decimals > 0 {
		for range decimals {
			i--
			digits[i] = byte('0' + u%10)
			u /= 10
		}
		i--
		digits[i] = '.'
	}
	for {
		i--
		digits[i] = byte('0' + u%10)
		if u /= 10; u == 0 {
			return append(dst, digits[i:]...)
		}
	}
}
