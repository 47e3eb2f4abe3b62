package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"sync"
	"syscall"

	"fay/joints/check"
	jobs "fay/joints/job"
	"fay/joints/jointfile"
)

// jobRun is one run of `fay job`.
type jobRun struct {
	app   *app
	plan  *jobPlan
	in    *jobInput
	works *jobWorks
	most  int // joints taken at a time

	buying jobs.Buying
	costs  jobs.Costs
	seen   int // joints of the choice
	wrong  int // of them
	failed int // joints with a check that is not met
	faults jointfile.Faults
	more   int // faults beyond those kept
}

// jobBatch is some joints in a row.
type jobBatch struct {
	tasks []jobTask
	done  []jobDone
	data  *bytes.Buffer // their lines of JSON
	bad   int           // index of the first wrong one, or -1, and where its line begins
	upTo  int
	err   error
}

// batches reads the chosen joints in batches of up to n. The last one holds the
// error that ended the reading, if any.
func (r *jobRun) batches(n int) func() (*jobBatch, bool) {
	number, chosen, over := 0, 0, false
	return func() (*jobBatch, bool) {
		b := &jobBatch{tasks: make([]jobTask, 0, n), bad: -1}
		for len(b.tasks) < n && !over && number < r.plan.rows.last {
			row, err := r.in.next()
			if errors.Is(err, io.EOF) {
				over = true
				break
			}
			number++
			faulty := jointfile.AsFaults(err) != nil
			if err != nil && !faulty {
				over = true
				b.err = err
				break
			}
			if !r.plan.rows.has(number) {
				continue
			}
			if chosen++; chosen > r.most {
				over = true
				b.err = usage(fmt.Sprintf("the job has more than %d joints, and they are held at once", r.most),
					"do a part at a time with --rows, or have lines with --format jsonl")
				break
			}
			b.tasks = append(b.tasks, jobTask{number, row, err})
		}
		return b, len(b.tasks) > 0 || b.err != nil
	}
}

// each works on all chosen joints and hands them over in order.
func (r *jobRun) each(size int, work func(*jobBatch), take func(*jobBatch) error) error {
	bar := r.app.newProgress(r.in, r.plan.rows)
	defer bar.end()
	ctx, done := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer done()
	rooms := sync.Pool{New: func() any { return new([]check.Finding) }} // memory for findings
	err := jobs.Ordered(ctx, r.plan.workers, r.batches(size), func(b *jobBatch) *jobBatch {
		b.done = make([]jobDone, len(b.tasks))
		room, _ := rooms.Get().(*[]check.Finding)
		defer rooms.Put(room)
		for i := range b.tasks {
			b.done[i] = r.works.joint(&b.tasks[i], room)
			if b.done[i].wrong() && b.bad < 0 {
				b.bad = i
			}
		}
		b.tasks = nil
		if work != nil {
			work(b)
		}
		return b
	}, func(b *jobBatch) error {
		for i := range b.done {
			if err := r.count(&b.done[i]); err != nil {
				return err
			}
		}
		bar.show(r.seen)
		return errors.Join(take(b), b.err)
	})
	if ctx.Err() != nil {
		return errInterrupted
	}
	if err == nil && r.seen == 0 {
		if r.plan.rows.all() {
			return usage("the job has no joint", "write one in a row")
		}
		return usage("--rows "+r.plan.rows.String()+": the job has no such joint", "joints are counted from 1")
	}
	return err
}

// count notes what a joint adds to the whole.
func (r *jobRun) count(d *jobDone) error {
	r.seen++
	if d.err != nil {
		return d.err
	}
	if d.wrong() {
		r.wrong++
		r.costs.Lacks("joints that are missing")
		keep := min(len(d.faults), mostFaults-len(r.faults))
		r.faults = append(r.faults, d.faults[:keep]...)
		r.more += len(d.faults) - keep
		return nil
	}
	if d.bought {
		r.buying.Add(&d.use)
	} else {
		r.costs.Lacks("joints without a seam")
	}
	if d.cost != nil {
		r.costs.Add(d.cost)
	}
	if d.line.Checks.Failed > 0 {
		r.failed++
	}
	return nil
}

// bill is what the job costs; nil without a currency.
func (r *jobRun) bill() *jobs.Bill {
	currency := r.works.settings.Costs.Currency
	if currency == "" {
		return nil
	}
	return r.costs.Bill(currency, r.buying.List())
}

// tell prints what is wrong with joints; the error is nil where the others are
// to be written.
func (r *jobRun) tell(written string) error {
	for _, f := range r.faults {
		remedy := f.Remedy
		f.Remedy = ""
		r.app.fault(f.Error(), f.Excerpt(), remedy)
	}
	if r.more > 0 {
		r.app.talkf("fay: and %d more\n", r.more)
	}
	if r.wrong == 0 || r.plan.keepGoing && r.wrong < r.seen {
		return nil
	}
	return usage(fmt.Sprintf("%d of %s wrong; %s", r.wrong, count(r.seen, "joint is", "joints are"), written), "mend them, or leave them out with --keep-going")
}

// batchSize is how many joints are handed to a worker at a time where each
// takes little.
const batchSize = 32

// usualLine is about as long as the line of a joint, in bytes.
const usualLine = 1200

// A stream holds little, so that garbage may be eight times as much before it is
// collected, and in all no more than a machine of a shop will not miss.
const (
	collecting   = 800 // percent
	streamMemory = 64 << 20
	// Sheets hold more, and leave much more garbage.
	drawing     = 400
	sheetMemory = 160 << 20
)

// stream writes a line for each joint.
func (r *jobRun) stream() error {
	defer debug.SetGCPercent(debug.SetGCPercent(collecting))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(streamMemory))
	out := r.app.env.Stdout
	var file *growing
	if r.plan.lines != "" {
		var err error
		if file, err = newGrowing(r.plan.lines); err != nil {
			return err
		}
		defer file.discard()
		out = file
	}
	buffers := sync.Pool{New: func() any { return new(bytes.Buffer) }}
	work := func(b *jobBatch) {
		b.data, _ = buffers.Get().(*bytes.Buffer)
		b.data.Grow(len(b.done) * usualLine)
		for i := range b.done {
			if i == b.bad {
				b.upTo = b.data.Len()
			}
			if err := b.done[i].jsonl(b.data); err != nil {
				b.err = err
				return
			}
		}
	}
	stopped := false
	err := r.each(batchSize, work, func(b *jobBatch) error {
		defer func() {
			b.data.Reset()
			buffers.Put(b.data)
		}()
		data := b.data.Bytes()
		if b.bad >= 0 && !r.plan.keepGoing {
			data = data[:b.upTo]
		}
		if stopped {
			return nil
		}
		stopped = b.bad >= 0 && !r.plan.keepGoing
		if _, err := out.Write(data); err != nil {
			return fmt.Errorf("write the lines: %w", err)
		}
		return nil
	})
	if err != nil {
		return err
	}
	written := "no line was written from the first of them on"
	if file != nil {
		written = "nothing was written"
	}
	if err := r.tell(written); err != nil {
		return err
	}
	if file != nil {
		if err := file.keep(); err != nil {
			return err
		}
		r.app.talkf("fay: wrote %s\n", r.plan.lines)
	}
	return r.writeBuying(nil)
}

// whole collects all joints, then writes.
func (r *jobRun) whole() error {
	size := batchSize
	if r.works.draw {
		size = 1
		defer debug.SetGCPercent(debug.SetGCPercent(drawing))
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(sheetMemory))
	}
	var single *stage
	if r.plan.each != "" {
		var err error
		if single, err = newStage(r.plan.each); err != nil {
			return err
		}
		defer single.discard()
	}
	var done []jobDone
	err := r.each(size, nil, func(b *jobBatch) error {
		if single != nil {
			for i := range b.done {
				if err := single.hold(&b.done[i]); err != nil {
					return err
				}
			}
		}
		done = append(done, b.done...)
		return nil
	})
	if err == nil {
		err = r.tell("nothing was written")
	}
	if err != nil {
		return err
	}
	res := r.result(done)
	if r.plan.pdf != "" {
		data, err := r.travelers(done, res)
		if err != nil {
			return err
		}
		if r.plan.pdf == "-" {
			return errors.Join(r.writeBuying(done), r.app.print(data))
		}
		if err := writeFile(r.plan.pdf, data); err != nil {
			return err
		}
		r.app.talkf("fay: wrote %s\n", r.plan.pdf)
	}
	if single != nil {
		if err := single.keep(); err != nil {
			return err
		}
		r.app.talkf("fay: wrote %s\n", single.summary())
	}
	if err := r.writeBuying(done); err != nil {
		return err
	}
	var out bytes.Buffer
	if err := r.print(&out, done, res); err != nil {
		return err
	}
	return r.app.print(out.Bytes())
}
