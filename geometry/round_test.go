package geometry_test

import (
	"math"
	"testing"

	"fay/geometry"
)

func TestRound(t *testing.T) {
	for name, tt := range map[string]struct {
		v        float64
		decimals int
		want     float64
	}{
		"an eighth of an inch":     {3.175, 2, 3.18},
		"as subtraction leaves it": {math.Nextafter(3.175, 0), 2, 3.18},
		"and from above":           {math.Nextafter(3.175, 4), 2, 3.18},
		"as two thirds leave it":   {12.7 - 9.525, 2, 3.18},
		"negative":                 {-3.175, 2, -3.18},
		"well under a half":        {3.1749, 2, 3.17},
		"no decimals":              {2.5, 0, 3},
		"no negative zero":         {-0.001, 2, 0},
		"whole numbers stay":       {12, 3, 12},
		"infinite":                 {math.Inf(1), 2, math.Inf(1)},
	} {
		t.Run(name, func(t *testing.T) {
			if got := geometry.Round(tt.v, tt.decimals); got != tt.want || math.Signbit(got) && got == 0 {
				t.Errorf("want %v, got %v", tt.want, got)
			}
		})
	}
}
