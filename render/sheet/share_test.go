package sheet

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// stacks are blocks of random heights, some of them alike; a title tells one
// from the other.
func stacks(rng *rand.Rand, n int) []block {
	list, sp := make([]block, n), spacings[rng.IntN(2)]
	for i := range list {
		list[i] = block{title: string(rune('a' + i)), spacing: sp, rows: []row{{lines: float64(1 + rng.IntN(6)), pitches: float64(rng.IntN(4))}}}
	}
	return list
}

func titles(list []block) string {
	text := ""
	for i := range list {
		text += list[i].title
	}
	return text
}

// everyWay deals blocks in every way there is, one after the other.
func everyWay(list []block, columns int) (best []string, height float64) {
	ways := 1
	for range min(len(list), mostWays) - 1 {
		ways *= columns
	}
	height = math.Inf(1)
	for way := range ways {
		dealt := make([][]block, columns)
		rest := way
		for i, b := range list {
			to := 0
			if i > 0 {
				to, rest = rest%columns, rest/columns
			}
			dealt[to] = append(dealt[to], b)
		}
		h := 0.0
		for _, part := range dealt {
			h = math.Max(h, columnHeight(part))
		}
		if h < height-1e-9 {
			height, best = h, nil
			for _, part := range dealt {
				best = append(best, titles(part))
			}
		}
	}
	return best, height
}

func TestShareIsTheBestWay(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 300 {
		list, columns := stacks(rng, rng.IntN(12)), 1+rng.IntN(3)
		dealt, height := share(list, columns)
		var got []string
		for _, part := range dealt {
			got = append(got, titles(part))
		}
		want, least := everyWay(list, columns)
		if diff := cmp.Diff(want, got); diff != "" || math.Abs(height-least) > 1e-9 {
			t.Fatalf("%d blocks in %d columns: height %v, want %v (-want +got)\n%s", len(list), columns, height, least, diff)
		}
	}
}

// everySet tries every set of blocks for a zone, the smaller ones first.
func everySet(list []block, across int, height float64, under int) string {
	n := min(len(list), mostWays)
	least, best := math.Inf(1), ""
	for set := 1; set < 1<<n; set += 2 {
		var in, out []block
		for i := range list {
			if i < n && set>>i&1 == 1 {
				in = append(in, list[i])
			} else {
				out = append(out, list[i])
			}
		}
		if _, high := share(in, across); high > height {
			continue
		}
		_, high := share(out, under)
		if high -= 1e-6 * float64(len(in)); high < least {
			least, best = high, titles(in)+"|"+titles(out)
		}
	}
	if best == "" {
		return "|" + titles(list)
	}
	return best
}

func TestTakesTheBestSet(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	for range 300 {
		list, across, under := stacks(rng, rng.IntN(11)), 1+rng.IntN(2), 1+rng.IntN(3)
		height := 150 * rng.Float64()
		in, out := takes(list, across, height, under)
		if got, want := titles(in)+"|"+titles(out), everySet(list, across, height, under); got != want {
			t.Fatalf("%d blocks, %d columns of %v, %d under: %s, want %s", len(list), across, height, under, got, want)
		}
	}
}
