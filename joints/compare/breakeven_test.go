package compare_test

import (
	"errors"
	"math"
	"testing"

	"fay/joints"
	"fay/joints/compare"
	"fay/joints/filler"
)

// secant finds a root another way than the package does.
func secant(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	for range 200 {
		if fb == fa || math.Abs(b-a) < 1e-12 {
			break
		}
		a, b, fa = b, b-fb*(b-a)/(fb-fa), fb
		fb = f(b)
	}
	return b
}

func sure(f func(float64) float64) compare.Curve {
	return func(x float64) (float64, error) { return f(x), nil }
}

func TestBreakEvenOfFormulas(t *testing.T) {
	for name, tt := range map[string]struct {
		a, b       func(float64) float64
		lo, hi     float64
		want       []float64
		firstBelow bool
	}{
		"parabola and constant": {func(x float64) float64 { return x * x }, func(float64) float64 { return 50 }, 1, 20, []float64{math.Sqrt(50)}, true},
		"the other way round":   {func(float64) float64 { return 50 }, func(x float64) float64 { return x * x }, 1, 20, []float64{math.Sqrt(50)}, false},
		"never":                 {func(x float64) float64 { return x }, func(x float64) float64 { return x + 1 }, 1, 20, nil, false},
		"the same":              {func(x float64) float64 { return x }, func(x float64) float64 { return x }, 1, 20, nil, false},
		"twice":                 {func(x float64) float64 { return (x - 5) * (x - 9) }, func(float64) float64 { return 0 }, 1, 20, []float64{5, 9}, false},
		"on a sample":           {func(x float64) float64 { return x - 7 }, func(float64) float64 { return 0 }, 1, 13, []float64{7}, true},
		"touching only":         {func(x float64) float64 { return (x - 7) * (x - 7) }, func(float64) float64 { return 0 }, 1, 13, nil, false},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := compare.NewBreakEven(sure(tt.a), sure(tt.b), tt.lo, tt.hi)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Crossings) != len(tt.want) {
				t.Fatalf("want %v, got %+v", tt.want, got.Crossings)
			}
			for i, c := range got.Crossings {
				if math.Abs(c.At-tt.want[i]) > 1e-9*tt.hi || c.Jump {
					t.Errorf("want %v, got %+v", tt.want[i], c)
				}
			}
			if len(tt.want) == 1 && got.Crossings[0].FirstBelow != tt.firstBelow {
				t.Errorf("first below: %v", got.Crossings[0].FirstBelow)
			}
		})
	}
}

// One fillet of ¾ t against two of 5 mm: (0.75 t)²/2 = 25.
func TestBreakEvenOfFillets(t *testing.T) {
	one := func(x float64) float64 { return tee(t, 20, x, 0.75*x, 0).DepositedArea() }
	two := func(x float64) float64 { return tee(t, 20, x, 5, 5).DepositedArea() }
	got, err := compare.NewBreakEven(sure(one), sure(two), 4, 30)
	if err != nil {
		t.Fatal(err)
	}
	closed, other := math.Sqrt(50)/0.75, secant(func(x float64) float64 { return one(x) - two(x) }, 5, 12)
	if len(got.Crossings) != 1 || math.Abs(got.Crossings[0].At-closed) > 1e-8 || math.Abs(other-closed) > 1e-8 || !got.Crossings[0].FirstBelow {
		t.Errorf("want %v (and %v), got %+v", closed, other, got.Crossings)
	}
}

// Single against double V of 60° with caps of h on every face (⅔ of width
// times height): t²·tan 30°/2 = ⅔·h·b for a root opening of b.
func TestBreakEvenOfVees(t *testing.T) {
	const opening, h = 3, 1.5
	single := func(x float64) float64 { return vee(t, x, opening, h, false).DepositedArea() }
	double := func(x float64) float64 { return vee(t, x, opening, h, true).DepositedArea() }
	got, err := compare.NewBreakEven(sure(single), sure(double), 2.5, 30)
	if err != nil {
		t.Fatal(err)
	}
	tan := math.Tan(math.Pi / 6)
	// ⅔·h·(b + 2t·tan) of one cap against twice ⅔·h·(b + t·tan).
	closed := math.Sqrt(4 * h * opening / 3 / tan)
	other := secant(func(x float64) float64 { return single(x) - double(x) }, 3, 8)
	if len(got.Crossings) != 1 || math.Abs(got.Crossings[0].At-closed) > 1e-8 || math.Abs(other-closed) > 1e-8 || !got.Crossings[0].FirstBelow {
		t.Errorf("want %v (and %v), got %+v", closed, other, got.Crossings)
	}
}

// Passes are whole: the curves step over each other and meet nowhere.
func TestBreakEvenOfPasses(t *testing.T) {
	passes := func(s *joints.Section) (float64, error) { return float64(*used(t, s, filler.Rates{}).Passes), nil }
	one := func(x float64) (float64, error) { return passes(tee(t, 20, x, 0.75*x, 0)) }
	two := func(float64) (float64, error) { return 2.5, nil }
	got, err := compare.NewBreakEven(one, two, 4, 20)
	if err != nil {
		t.Fatal(err)
	}
	// The third pass begins over 36 mm².
	want := math.Sqrt(72) / 0.75
	if len(got.Crossings) != 1 || !got.Crossings[0].Jump || math.Abs(got.Crossings[0].At-want) > 1e-6 {
		t.Errorf("want a jump at %v, got %+v", want, got.Crossings)
	}
}

var errTooThin = errors.New("too thin")

// A gap is no crossing, and is told.
func TestBreakEvenOverAGap(t *testing.T) {
	a := func(x float64) (float64, error) {
		if x < 8 && x > 6 {
			return 0, errTooThin
		}
		return x, nil
	}
	got, err := compare.NewBreakEven(a, sure(func(float64) float64 { return 7 }), 1, 13)
	if err != nil || len(got.Crossings) != 0 || got.Unmade == "" {
		t.Errorf("%+v, %v", got.Crossings, err)
	}
	never := func(float64) (float64, error) { return 0, errTooThin }
	if _, err := compare.NewBreakEven(never, never, 1, 13); len(joints.AsFaults(err)) == 0 {
		t.Errorf("want faults, got %v", err)
	}
	for _, ends := range [][2]float64{{5, 5}, {9, 4}, {math.NaN(), 4}, {1, math.Inf(1)}} {
		if _, err := compare.NewBreakEven(a, a, ends[0], ends[1]); len(joints.AsFaults(err)) == 0 {
			t.Errorf("%v: want faults, got %v", ends, err)
		}
	}
}
