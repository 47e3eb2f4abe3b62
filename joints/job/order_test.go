package job_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fay/joints/job"
)

func numbers(n int) func() (int, bool) {
	i := -1
	return func() (int, bool) { i++; return i, i < n }
}

func TestOrderedKeepsTheOrder(t *testing.T) {
	for _, workers := range []int{0, 1, 2, 7, 40} {
		r := rand.New(rand.NewPCG(1, uint64(workers)))
		pause := make([]time.Duration, 300)
		for i := range pause {
			pause[i] = time.Duration(r.IntN(300)) * time.Microsecond
		}
		var got, want []int
		err := job.Ordered(t.Context(), workers, numbers(len(pause)), func(i int) int {
			time.Sleep(pause[i])
			return i * i
		}, func(v int) error {
			got = append(got, v)
			return nil
		})
		for i := range pause {
			want = append(want, i*i)
		}
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%d workers: %v (-want +got)\n%s", workers, err, diff)
		}
	}
}

// However slowly results are taken, few inputs are read ahead.
func TestOrderedHoldsFew(t *testing.T) {
	const workers = 3
	var read, taken, most atomic.Int64
	next := numbers(400)
	err := job.Ordered(t.Context(), workers, func() (int, bool) {
		held := read.Add(1) - taken.Load()
		for m := most.Load(); held > m && !most.CompareAndSwap(m, held); m = most.Load() {
		}
		return next()
	}, func(i int) int { return i }, func(int) error {
		time.Sleep(50 * time.Microsecond)
		taken.Add(1)
		return nil
	})
	if limit := int64(4 * workers); err != nil || most.Load() > limit {
		t.Errorf("held %d inputs at a time (error %v), want up to %d", most.Load(), err, limit)
	}
}

func TestOrderedStops(t *testing.T) {
	stop := errors.New("enough")
	n := 0
	endless := 0
	err := job.Ordered(t.Context(), 2, func() (int, bool) { endless++; return endless, true }, func(i int) int { return i }, func(int) error {
		if n++; n == 5 {
			return stop
		}
		return nil
	})
	if !errors.Is(err, stop) || n != 5 {
		t.Errorf("ended after %d with %v, want 5 and the error of take", n, err)
	}
}

func TestOrderedPassesPanicsOn(t *testing.T) {
	for name, f := range map[string]func(){
		"of do": func() {
			_ = job.Ordered(t.Context(), 2, numbers(9), func(i int) int {
				if i == 4 {
					panic("here")
				}
				return i
			}, func(int) error { return nil })
		},
		"of next": func() {
			_ = job.Ordered(t.Context(), 2, func() (int, bool) { panic("here") }, func(i int) int { return i }, func(int) error { return nil })
		},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if r := recover(); r != "here" {
					t.Errorf("recovered %v, want the panic of the worker", r)
				}
			}()
			f()
			t.Error("no panic came out")
		})
	}
}

// The end of the context is not kept waiting by an input that does not come.
func TestOrderedEndsWithTheContext(t *testing.T) {
	ctx, cancel := context.WithCancelCause(t.Context())
	stop := errors.New("stop")
	never := make(chan struct{})
	t.Cleanup(func() { close(never) })
	first := true
	err := job.Ordered(ctx, 2, func() (int, bool) {
		if !first {
			<-never
		}
		first = false
		return 1, true
	}, func(i int) int { return i }, func(int) error {
		cancel(stop)
		return nil
	})
	if !errors.Is(err, stop) {
		t.Errorf("ended with %v, want the cause of the context", err)
	}
}
