package layout

import (
	"cmp"
	"slices"
)

// chain is a run of candidates in rising order of cost, so that only the first
// of them has to wait in the queue: those listed, or those that a first one and
// its steps stand for.
type chain struct {
	from, count int // of those listed
	first       candidate
	steps       []float64 // x of each
	per         float64   // cost of a mm of x
	stride      int16     // from one group to the next
	// lines is what the lines of a listed dimension cost at least, bare where it
	// needs no extension line: alike for all of a chain. lines is negative where
	// they are not known yet.
	lines float64
	bare  [2]bool
}

// of is one candidate of a chain.
func (p *placer) of(c *chain, step int) candidate {
	if c.steps == nil {
		return p.buf[c.from+step]
	}
	k := c.first
	k.x = c.steps[step]
	k.cost += c.per * k.x
	k.group += c.stride * int16(step) //nolint:gosec // a few
	return k
}

// listed makes the candidates from one on a chain.
func (p *placer) listed(from int) {
	list := p.buf[from:]
	if len(list) == 0 {
		return
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(a.cost, b.cost) })
	p.chains = append(p.chains, chain{from: from, count: len(list), lines: -1})
}

// stepped is the chain of a candidate with steps to be taken, mm.
func (p *placer) stepped(first candidate, per float64, steps []float64) {
	p.chains = append(p.chains, chain{count: len(steps), first: first, steps: steps, per: per})
}

// queued is a candidate in the queue: a heap and not a sort, since of hundreds
// of candidates mostly a few are ever looked at.
type queued struct {
	cost     float64
	chain    int32
	step     int16
	reckoned bool // cost holds what it costs at least
}

// before orders candidates by cost, then as they were listed.
func (k *queued) before(o *queued) bool {
	return k.cost < o.cost || k.cost == o.cost && (k.chain < o.chain || k.chain == o.chain && k.step < o.step)
}

// enqueue makes the queue of the first candidates of all chains.
func (p *placer) enqueue() []queued {
	p.queue = p.queue[:0]
	for i := range p.chains {
		p.queue = append(p.queue, queued{cost: p.of(&p.chains[i], 0).cost, chain: int32(i)})
	}
	for i := len(p.queue)/2 - 1; i >= 0; i-- {
		sink(p.queue, i)
	}
	return p.queue
}

// next is the candidate after one in its chain, if there is one.
func (p *placer) next(k queued) (queued, bool) {
	c := &p.chains[k.chain]
	k.step++
	if int(k.step) >= c.count {
		return k, false
	}
	k.cost, k.reckoned = p.of(c, int(k.step)).cost, false
	return k, true
}

// push adds a candidate to the queue.
func push(h []queued, k queued) []queued {
	h = append(h, k)
	i := len(h) - 1
	for i > 0 && k.before(&h[(i-1)/2]) {
		h[i] = h[(i-1)/2]
		i = (i - 1) / 2
	}
	h[i] = k
	return h
}

func sink(h []queued, i int) {
	k := h[i]
	for {
		c := 2*i + 1
		if c >= len(h) {
			break
		}
		if c+1 < len(h) && h[c+1].before(&h[c]) {
			c++
		}
		if !h[c].before(&k) {
			break
		}
		h[i], i = h[c], c
	}
	h[i] = k
}

// pop drops the first of the queue.
func pop(h []queued) []queued {
	last := len(h) - 1
	h[0] = h[last]
	if h = h[:last]; last > 0 {
		sink(h, 0)
	}
	return h
}
