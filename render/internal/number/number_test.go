package number

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

func TestAppend(t *testing.T) {
	for _, test := range []struct {
		name     string
		v        float64
		decimals int
		want     string
	}{
		{"whole", 12, 3, "12"},
		{"needless zeros go", 1.5, 3, "1.5"},
		{"rounded away from zero at the half", 0.0005, 3, "0.001"},
		{"rounded to nothing", 0.0004, 3, "0"},
		{"no negative zero", -0.0004, 3, "0"},
		{"negative fraction", -0.25, 3, "-0.25"},
		{"zeros after the point stay", 3.007, 3, "3.007"},
		{"no decimals", 2.5, 0, "3"},
		{"nine decimals", 0.002333333, 9, "0.002333333"},
		{"the largest", 9e9, 9, "9000000000"},
		{"not a number", math.NaN(), 3, "0"},
		{"infinite", math.Inf(-1), 3, "0"},
		{"too large", 1e300, 3, "0"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := string(Append(nil, test.v, test.decimals)); got != test.want {
				t.Errorf("want %s, got %s", test.want, got)
			}
		})
	}
}

// TestAgainstStrconv takes the standard library as a second route.
func TestAgainstStrconv(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		v, decimals := (rng.Float64()-0.5)*math.Pow(10, float64(rng.IntN(7))), rng.IntN(7)
		got := string(Append(nil, v, decimals))
		want := strconv.FormatFloat(v, 'f', decimals, 64)
		if strings.Contains(want, ".") {
			want = strings.TrimRight(strings.TrimRight(want, "0"), ".")
		}
		if want == "-0" {
			want = "0"
		}
		if got != want {
			t.Errorf("%v to %d decimals: want %s, got %s", v, decimals, want, got)
		}
		back, err := strconv.ParseFloat(got, 64)
		if err != nil || back != Round(v, decimals) {
			t.Errorf("%v: text %s, rounded value %v (%v)", v, got, Round(v, decimals), err)
		}
	}
}

func TestBuffer(t *testing.T) {
	var b Buffer
	b.Text("a")
	b.Byte(' ')
	b.Code(0x0A3F)
	b.Byte(' ')
	b.Number(1.25, 1)
	b.Raw([]byte(" #"))
	b.Hex(0xC5)
	b.Byte(' ')
	b.Int(-120)
	if want := "a 0A3F 1.3 #c5 -120"; string(b.Bytes()) != want {
		t.Errorf("want %s, got %s", want, b.Bytes())
	}
	if b.Reset(); len(b.Bytes()) != 0 {
		t.Errorf("after a reset it holds %s", b.Bytes())
	}
}

func TestSeparated(t *testing.T) {
	b := []byte("M")
	for _, v := range []int64{0, -15, 20, 7, -100} {
		b = AppendSeparated(b, v, 1)
	}
	if want := "M0-1.5 2 0.7-10"; string(b) != want {
		t.Errorf("want %s, got %s", want, b)
	}
}
