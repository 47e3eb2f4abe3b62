package cli

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"fay/joints/result"

	"github.com/google/go-cmp/cmp"
)

// fillRandom gives every field of a value, and every field below it, something
// to print or, now and then, nothing.
func fillRandom(t *testing.T, v reflect.Value, r *rand.Rand, empty bool) {
	t.Helper()
	words := []string{"plain", `say "6 mm"`, "a<b & c>d", `back\slash`, "tab\there", "Größe ≥ 3", "line\u2028break", "\xff", "~"}
	none := func() bool { return empty && r.IntN(3) == 0 }
	switch v.Kind() {
	case reflect.String:
		if !none() {
			v.SetString(words[r.IntN(len(words))])
		}
	case reflect.Int:
		if !none() {
			v.SetInt(1 + r.Int64N(1e6))
		}
	case reflect.Float64:
		x := (r.Float64() - 0.3) * math.Pow(10, float64(r.IntN(34)-10))
		if r.IntN(2) == 0 {
			x = result.Round(x)
		}
		v.SetFloat(x)
	case reflect.Pointer:
		if !none() {
			v.Set(reflect.New(v.Type().Elem()))
			fillRandom(t, v.Elem(), r, empty)
		}
	case reflect.Slice:
		if !none() {
			n := 2
			if empty {
				n = r.IntN(3)
			}
			v.Set(reflect.MakeSlice(v.Type(), n, n))
			for i := range n {
				fillRandom(t, v.Index(i), r, empty)
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			fillRandom(t, v.Index(i), r, empty)
		}
	case reflect.Struct:
		for _, field := range v.Fields() {
			fillRandom(t, field, r, empty)
		}
	default:
		t.Fatalf("a line has a %s now: print it and fill it", v.Type())
	}
}

// The line of a joint is what encoding/json writes, whatever its fields hold.
func TestJobLineIsJSON(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for i := range 3000 {
		var l jobLine
		fillRandom(t, reflect.ValueOf(&l).Elem(), r, i > 500)
		want, err := json.Marshal(&l)
		if err != nil {
			t.Fatal(err)
		}
		got, err := l.appendJSON(nil)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(want, got) {
			t.Fatal("-want +got", cmp.Diff(string(want), string(got)))
		}
	}
	for _, v := range []float64{0, math.Copysign(0, -1), 1e-6, -1e-6, 1e-7, 0.1, -2.5, 999999999.999999, 1e9, 123456789012, 1e15, 1e21, math.MaxFloat64} {
		want, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		w := lineWriter{}
		if w.bare(v); string(want) != string(w.to) || w.err != nil {
			t.Errorf("%g: want %s, got %s, %v", v, want, w.to, w.err)
		}
	}
	if _, err := (&jobLine{LengthMM: new(math.NaN())}).appendJSON(nil); err == nil {
		t.Error("a number that is none was written")
	}
}
