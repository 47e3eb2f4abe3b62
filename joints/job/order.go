package job

import (
	"context"
	"sync"
)

// Ordered works on inputs side by side and takes the results in the order of
// the inputs, whatever the number of workers. next is called from one goroutine
// and reports false after the last input, do from several, and take from the
// caller's. No more than a few inputs a worker are held at a time.
//
// The first error of take ends the work and is returned, and so does the end of
// the context with its cause; a next that is still waiting for its input is then
// not waited for. A panic of next or do comes out of Ordered.
func Ordered[In, Out any](ctx context.Context, workers int, next func() (In, bool), do func(In) Out, take func(Out) error) error {
	workers = max(workers, 1)
	type task struct {
		in   In
		done chan Out // holds the one result
	}
	const ahead = 2 // tasks a worker that wait for it or for their turn
	var (
		todo   = make(chan *task)
		line   = make(chan *task, ahead*workers)
		stop   = make(chan struct{})
		failed = make(chan any, workers+1)
		group  sync.WaitGroup
	)
	defer close(stop)
	guard := func() {
		if r := recover(); r != nil {
			failed <- r
		}
	}
	go func() {
		defer close(line)
		defer close(todo)
		defer guard()
		for {
			in, ok := next()
			if !ok {
				return
			}
			t := &task{in, make(chan Out, 1)}
			for _, to := range [...]chan *task{line, todo} {
				select {
				case to <- t:
				case <-stop:
					return
				}
			}
		}
	}()
	for range workers {
		group.Go(func() {
			defer guard()
			for t := range todo {
				t.done <- do(t.in)
			}
		})
	}
	for {
		var t *task
		var more bool
		select {
		case t, more = <-line:
		case <-ctx.Done():
			return context.Cause(ctx)
		}
		if !more {
			break
		}
		select {
		case out := <-t.done:
			if err := take(out); err != nil {
				return err
			}
		case r := <-failed:
			panic(r)
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
	group.Wait()
	select {
	case r := <-failed:
		panic(r)
	default:
		return nil
	}
}
