package compare_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fay/geometry"
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

// Money with the shop's own time for edges, turning and gouging: what takes less
// metal everywhere is the dearer one where plates are thin. The crossing agrees
// with a closed form, the cost being linear in the area.
func TestBreakEvenOfMoney(t *testing.T) {
	// EUR a mm² of weld and metre: filler, paid time and gas.
	const density, efficiency, rate, labour, share, flow, gas, price = 2.66, 0.98, 0.35, 46.0, 0.35, 9.0, 11.5, 19.0
	hours := density / 1000 / rate
	perArea := density/1000/efficiency*price + hours*labour/share + hours*60*flow/1000*gas
	perMinute := labour / 60
	money := func(s *joints.Section) float64 {
		p := filler.Params{Efficiency: efficiency, Density: density, Wire: &filler.Wire{Diameter: 1.2}, SeamLength: 1000, DepositionRate: rate, GasFlow: flow,
			DepositedArea: s.DepositedArea(), Packs: []filler.Pack{{Label: "spool", Mass: 7, Price: 7 * price}}, Work: filler.WorkOf(s),
			Rates: filler.Rates{Currency: "EUR", Labour: labour, Gas: gas, ArcShare: share}}
		p.Work.EdgeMinPerM, p.Work.TurnMin, p.Work.GougeMinPerM = 5, 6, 9
		f, err := filler.New(p)
		if err != nil {
			t.Fatal(err)
		}
		return f.Cost.PerM
	}
	partial := func(x float64) *joints.Section {
		bevel := joints.StemBevel{Angle: 45 * geometry.Degree, Depth: geometry.Length(0.3 * x)}
		s, err := joints.NewTee(joints.Tee{Base: joints.Plate{Thickness: 20}, Stem: joints.Plate{Thickness: geometry.Length(x)}, Angle: 90 * geometry.Degree,
			StemEnd: joints.StemSquare, Prep: joints.PrepDoubleBevel, ArrowBevel: bevel, OtherBevel: bevel, Arrow: fillet(0.45 * x), Other: fillet(0.45 * x)})
		return section(t, s, err)
	}
	const opening, rise = 2, 1
	for name, tt := range map[string]struct {
		a, b   func(float64) *joints.Section
		closed float64
	}{
		// Both throats are 1.06 t: 0.5625 t² of fillets against 0.2925 t² of
		// groove and fillet, and two prepared faces.
		"fillet against partial groove": {func(x float64) *joints.Section { return tee(t, 20, x, 0.75*x, 0.75*x) }, partial,
			math.Sqrt(10 * perMinute / perArea / (0.5625 - 0.2925))},
		// t²·tan 30°/2 of metal less, but for ⅔·h·b of cap more; two faces more, a
		// turn and a gouged root.
		"single against double V": {func(x float64) *joints.Section { return vee(t, x, opening, rise, false) }, func(x float64) *joints.Section { return vee(t, x, opening, rise, true) },
			math.Sqrt((25*perMinute/perArea + 2.0/3*rise*opening) * 2 / math.Tan(math.Pi/6))},
	} {
		t.Run(name, func(t *testing.T) {
			a, b := func(x float64) float64 { return money(tt.a(x)) }, func(x float64) float64 { return money(tt.b(x)) }
			got, err := compare.NewBreakEven(sure(a), sure(b), 4, 30)
			if err != nil {
				t.Fatal(err)
			}
			lo, hi := 4.0, 30.0
			for range 60 {
				if m := (lo + hi) / 2; a(m) < b(m) {
					lo = m
				} else {
					hi = m
				}
			}
			if len(got.Crossings) != 1 || math.Abs(got.Crossings[0].At-lo) > 1e-8 || math.Abs(got.Crossings[0].At-tt.closed) > 1e-6 || !got.Crossings[0].FirstBelow {
				t.Errorf("want %v (halved down to %v), got %+v", tt.closed, lo, got.Crossings)
			}
			if metal, its := tt.a(15).DepositedArea(), tt.b(15).DepositedArea(); metal <= its {
				t.Errorf("the first takes %v mm² at 15 mm, the second %v: no break-even of money against metal", metal, its)
			}
		})
	}
}

// Curves of steps are alike over stretches, step over each other, and are drawn
// with their steps.
func TestBreakEvenOfSteps(t *testing.T) {
	floor := func(shift float64) func(float64) float64 {
		return func(x float64) float64 { return math.Floor(x + shift) }
	}
	stairs := func(at, low, high float64) func(float64) float64 {
		return func(x float64) float64 {
			if x < at {
				return low
			}
			return high
		}
	}
	for name, tt := range map[string]struct {
		a, b      func(float64) float64
		crossings []compare.Crossing
		equal     []compare.Stretch
	}{
		"never more": {floor(0), floor(-0.25), nil, []compare.Stretch{{From: 1.25, To: 2}, {From: 2.25, To: 3}, {From: 3.25, To: 3.9}}},
		"alike between": {stairs(2, 1, 5), func(x float64) float64 { return stairs(3, 3, 4)(x) - 2*stairs(1.5, 0, 1)(x) },
			[]compare.Crossing{{At: 1.5, To: 2, FirstBelow: true, Jump: false}}, []compare.Stretch{{From: 1.5, To: 2}}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := compare.NewBreakEven(sure(tt.a), sure(tt.b), 1.05, 3.9)
			if err != nil {
				t.Fatal(err)
			}
			near := cmpopts.EquateApprox(0, 1e-9)
			if name == "alike between" {
				// The first takes more behind 2 as it took less before 1.5.
				if d := cmp.Diff(tt.crossings, got.Crossings, near); d != "" {
					t.Error("crossings: -want +got", d)
				}
			} else if len(got.Crossings) > 0 {
				t.Errorf("crossings %+v", got.Crossings)
			}
			if d := cmp.Diff(tt.equal, got.Equal, near); d != "" {
				t.Error("equal: -want +got", d)
			}
			for i := range 2 {
				pts := got.Points(i)
				for k := 1; k < len(pts); k++ {
					if pts[k][1] != pts[k-1][1] && pts[k][0]-pts[k-1][0] > 1e-9 || pts[k][0] < pts[k-1][0] {
						t.Errorf("curve %d climbs from %v to %v", i, pts[k-1], pts[k])
					}
				}
			}
		})
	}
}
