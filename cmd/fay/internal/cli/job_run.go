package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"sync"

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

	pdf, lines, sold *growing   // files to write; nil: none
	files            []*growing // all of them
}

// open begins the files that are to be written, so that one that cannot be stops
// the job before it starts.
func (r *jobRun) open() error {
	for _, f := range []struct {
		path string
		to   **growing
	}{{r.plan.pdf, &r.pdf}, {r.plan.lines, &r.lines}, {r.plan.buying, &r.sold}} {
		if f.path == "" || f.path == "-" {
			continue
		}
		g, err := newGrowing(f.path)
		if err != nil {
			return err
		}
		*f.to = g
		r.files = append(r.files, g)
	}
	return nil
}

// place gives the files their names, once every one of them is complete; done are
// the joints with files of single sheets.
func (r *jobRun) place(ctx context.Context, done []jobDone) error {
	for _, g := range r.files {
		if err := g.ready(); err != nil {
			return err
		}
	}
	if ctx.Err() != nil {
		return errInterrupted
	}
	if r.works.stage != nil {
		if err := r.keepSingle(ctx, done); err != nil {
			return err
		}
	}
	for _, g := range r.files {
		if err := g.keep(); err != nil {
			return err
		}
		r.app.talkf("fay: wrote %s\n", g.path)
	}
	return nil
}

func (r *jobRun) discard() {
	for _, g := range r.files {
		g.discard()
	}
}

// note keeps faults to be told, up to so many.
func (r *jobRun) note(faults jointfile.Faults) {
	keep := min(len(faults), mostFaults-len(r.faults))
	r.faults = append(r.faults, faults[:keep]...)
	r.more += len(faults) - keep
}

// jobBatch is some joints in a row.
type jobBatch struct {
	tasks []jobTask
	done  []jobDone
	data  *bytes.Buffer // their lines of JSON
	bad   int           // index of the first wrong one, or -1, and where its line begins
	upTo  int
	share float64 // of the input read with it, 0: not known
	err   error
}

// batches reads the chosen joints in batches of up to n. The last one holds the
// error that ended the reading, if any.
func (r *jobRun) batches(n int) func() (*jobBatch, bool) {
	number, chosen, over := 0, 0, false
	return func() (*jobBatch, bool) {
		b := &jobBatch{tasks: make([]jobTask, 0, n), bad: -1}
		for len(b.tasks) < n && !over && number < r.plan.rows.last {
			if len(b.tasks) > 0 && !r.in.ready() {
				break // what is there need not wait for what comes
			}
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
		b.share = r.in.done()
		return b, len(b.tasks) > 0 || b.err != nil
	}
}

// each works on all chosen joints and hands them over in order.
func (r *jobRun) each(ctx context.Context, size int, work func(*jobBatch), take func(*jobBatch) error) error {
	bar := r.app.newProgress(r.plan.rows)
	defer bar.end()
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
		bar.show(r.seen, b.share)
		return errors.Join(take(b), b.err)
	})
	if ctx.Err() != nil {
		return errInterrupted
	}
	if err == nil && r.seen == 0 {
		if r.plan.rows.all() {
			return usage(r.in.path+": the job has no joint", "write one in a row")
		}
		return usage("--rows "+r.plan.rows.String()+": "+r.in.path+": the job has no such joint", "joints are counted from 1")
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
		r.note(d.faults)
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
	switch {
	case r.wrong+len(r.in.faults) == 0 || r.plan.keepGoing && r.wrong < r.seen:
		return nil
	case r.wrong == 0:
		return usage("the job file is wrong; "+written, "mend it, or write its joints all the same with --keep-going")
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
func (r *jobRun) stream(ctx context.Context) error {
	defer debug.SetGCPercent(debug.SetGCPercent(collecting))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(streamMemory))
	out := r.app.env.Stdout
	if r.lines != nil {
		out = r.lines
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
	stopped := len(r.in.faults) > 0 && !r.plan.keepGoing
	err := r.each(ctx, batchSize, work, func(b *jobBatch) error {
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
	if r.lines != nil || len(r.in.faults) > 0 {
		written = "nothing was written"
	}
	if err := r.tell(written); err != nil {
		return err
	}
	if err := r.writeBuying(nil); err != nil {
		return err
	}
	return r.place(ctx, nil)
}

// whole collects all joints, then writes.
func (r *jobRun) whole(ctx context.Context) error {
	size := batchSize
	if r.works.draw {
		size = 1
		defer debug.SetGCPercent(debug.SetGCPercent(drawing))
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(sheetMemory))
	}
	if r.plan.each != "" {
		single, err := newStage(r.plan.each)
		if err != nil {
			return err
		}
		defer single.discard()
		r.works.stage = single
	}
	var done []jobDone
	err := r.each(ctx, size, nil, func(b *jobBatch) error {
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
	var out bytes.Buffer
	if r.plan.pdf != "" {
		data, err := r.travelers(done, res)
		if err != nil {
			return err
		}
		to := io.Writer(&out)
		if r.pdf != nil {
			to = r.pdf
		}
		if _, err := to.Write(data); err != nil {
			return fmt.Errorf("write the travelers: %w", err)
		}
	}
	if r.plan.pdf != "-" {
		if err := r.print(&out, done, res); err != nil {
			return err
		}
	}
	if err := r.writeBuying(done); err != nil {
		return err
	}
	if err := r.place(ctx, done); err != nil {
		return err
	}
	return r.app.print(out.Bytes())
}
