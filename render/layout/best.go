package layout

// best builds candidates from the one that may come out cheapest on until none
// left can beat the best one found.
func (p *placer) best(t *task) placed {
	// A thing that finds a good place at all finds it soon.
	const (
		most  = 500 * drawing
		few   = 60 * drawing  // where the figure has had its time
		worth = 0.5 / drawing // gained at least by each place
	)
	began := p.search.looked
	r := placed{cost: forbidden, form: t.form}
	for queue := p.enqueue(); len(queue) > 0; {
		first := queue[0]
		if first.cost >= r.cost {
			break
		}
		if work := p.search.looked - began; r.cost < first.cost+worth*float64(work) || work > most || work > few && p.search.exhausted() {
			break
		}
		k := p.of(&p.chains[first.chain], int(first.step))
		if !first.reckoned {
			p.search.reckon()
			least, hopeless := p.atLeast(t, &k, &p.chains[first.chain])
			next, more := p.next(first)
			more = more && !hopeless
			switch {
			case least < forbidden:
				queue[0].cost, queue[0].reckoned = k.cost+least, true
				sink(queue, 0)
				if more {
					queue = push(queue, next)
				}
			case more:
				queue[0] = next
				sink(queue, 0)
			default:
				queue = pop(queue)
			}
			continue
		}
		queue = pop(queue)
		p.search.look()
		if s, at := p.shapeOf(t, &k); s != nil && p.bars(s, at) || !p.build(t, &k, &p.chains[first.chain]) {
			continue
		}
		extra := k.cost + p.own(t.form, &p.mark)
		if cost := p.cost(&p.mark, r.cost-extra); cost < forbidden && extra+cost < r.cost {
			r.cost, r.base, r.chosen, r.ok = extra+cost, k.cost, k, true
			r.mark, p.mark = p.mark, r.mark
		}
	}
	if !r.ok {
		return r
	}
	if t.form == linear {
		r.level = level{p.stacks[r.chosen.group].n, r.chosen.x}
	}
	r.mark = r.mark.Clone()
	r.box = p.boxOf(&r.mark)
	return r
}
